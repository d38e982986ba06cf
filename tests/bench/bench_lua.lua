-- Time of one element, table to table, and of one call with numbers. Rows: name,value,unit,target.
-- LUA_CPATH="build/?.so;;" lua5.4 tests/bench/bench_lua.lua
local started = os.clock()
local hf = require "hairfibre"
local loading = os.clock() - started

local N = 10000
local function sweep(low, high)
  local list = {}
  for i = 1, N do
    list[i] = low + (high - low) * (i - 1) / (N - 1)
  end
  return list
end

-- Best of several rounds, so that a busy machine disturbs little.
local function best(f, rounds)
  local least = math.huge
  for _ = 1, rounds do
    collectgarbage()
    local start = os.clock()
    f()
    least = math.min(least, os.clock() - start)
  end
  return least
end

local function element(name, target, ...)
  local f, arguments = hf[name], { ... }
  local time = best(function()
    f(table.unpack(arguments))
  end, 20)
  print(("%s table to table,%.1f,ns/element,%s"):format(name, time / N * 1e9, target))
end

local temperature, humidity = sweep(300, 500), sweep(0.05, 0.95)
print(("require hairfibre,%.2f,ms,"):format(loading * 1e3))
element("saturation_pressure", "<= 100", temperature)
element("regain", "", humidity, 293.15)
element("internal_vapour_pressure", "", temperature, 0.05)

local f = hf.saturation_pressure
local time = best(function()
  for i = 1, N do
    f(temperature[i])
  end
end, 10)
print(("saturation_pressure from Lua,%.1f,ns/call,"):format(time / N * 1e9))
time = best(function()
  for i = 1, N do
    f { temperature = temperature[i] }
  end
end, 10)
print(("saturation_pressure from Lua by name,%.1f,ns/call,"):format(time / N * 1e9))
time = best(function()
  for _ = 1, N do
    f "180 degC"
  end
end, 10)
print(("saturation_pressure from Lua with a text,%.1f,ns/call,"):format(time / N * 1e9))
