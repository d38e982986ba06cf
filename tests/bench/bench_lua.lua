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
  print(("Lua: %s of a list,%.1f,ns/element,%s"):format(name, time / N * 1e9, target))
end

local temperature, humidity = sweep(300, 500), sweep(0.05, 0.95)
print(("Lua: require hairfibre,%.2f,ms,"):format(loading * 1e3))
element("saturation_pressure", "<= 100", temperature)
element("regain", "", humidity, 293.15)
element("internal_vapour_pressure", "", temperature, 0.05)

local f = hf.saturation_pressure
local time = best(function()
  for i = 1, N do
    f(temperature[i])
  end
end, 10)
print(("Lua: saturation_pressure of a number,%.1f,ns/call,"):format(time / N * 1e9))
time = best(function()
  for i = 1, N do
    f { temperature = temperature[i] }
  end
end, 10)
print(("Lua: saturation_pressure by name,%.1f,ns/call,"):format(time / N * 1e9))
time = best(function()
  for _ = 1, N do
    f "180 degC"
  end
end, 10)
print(("Lua: saturation_pressure of a text,%.1f,ns/call,"):format(time / N * 1e9))

-- Fits of certified sets with the model as a function of Lua: some that take long, from the start that takes longest.
local strd = assert(loadfile("tests/lua/strd.lua"))()
local start_of = { ENSO = 2, Hahn1 = 2, MGH10 = 1, MGH17 = 1 }
for _, set in ipairs(strd.sets()) do
  local start = set.starts[start_of[set.name]]
  if start then
    local fitted
    time = best(function()
      fitted = assert(hf.fit { model = set.model, x = set.x, y = set.y, start = start })
    end, 7)
    local model = best(function()
      for _ = 1, 20 do
        for i = 1, #set.x do
          set.model(set.x[i], set.b)
        end
      end
    end, 7) / 20
    local digits = 11
    for j, p in ipairs(fitted.parameters) do
      digits = math.min(digits, strd.digits(p.value, set.b[j]))
    end
    print(("fit: certified set %s by a function of Lua,%.3g,ms,"):format(set.name, time * 1e3))
    print(("fit: certified set %s by a function of Lua: share of the function,%.2f,1,"):format(set.name,
      model * fitted.evaluations / time))
    print(("fit: certified set %s by a function of Lua: digits,%.1f,digits,>= 9"):format(set.name, digits))
  end
end
