-- Which public functions may ask for memory, by the calls in the compiled library (function pointers count as calls);
-- each must be starved in tests/unit/test_memory.c. And which functions Lua users have; each must be starved in
-- tests/unit/test_lua_memory.c, or be one of the quantities, which go one way.
-- LUA_CPATH="BUILD/?.so;;" lua5.4 tests/unit/allocating.lua BUILD
local build = assert(arg[1], "the build folder")
local passed, failed = 0, 0

local function check(what, list)
  table.sort(list)
  passed, failed = passed + (#list == 0 and 1 or 0), failed + (#list == 0 and 0 or 1)
  if #list > 0 then
    print(("%s (%d): %s"):format(what, #list, table.concat(list, ", ")))
  end
end

local function slurp(path)
  local file = assert(io.open(path))
  local text = file:read("a")
  file:close()
  return text
end

-- ---- C ----------------------------------------------------------------------------------------------------
local calls, where = {}, {} -- "object/function" -> what it refers to; function -> its object (of static ones: any)
local pipe = assert(io.popen("objdump -dr --no-show-raw-insn " .. build .. "/libhairfibre.a"))
local object, list
for line in pipe:lines() do
  object = line:match("^([%w_]+%.o):") or object
  local name = line:match("^%x+ <([%w_%.]+)>:$")
  if name then
    list = {}
    calls[object .. "/" .. name], where[name] = list, object
  elseif list then
    local to = line:match("%sR_[%w_]+%s+([%a_][%w_%.]*)") or line:match("%s%l+%s+%x+ <([%a_][%w_%.]*)>")
    if to then
      list[#list + 1] = to
    end
  end
end
pipe:close()
local known = { malloc = true, calloc = true, realloc = true }
local function may_ask(name, from, seen)
  local key = from .. "/" .. name
  if not calls[key] then
    key = (where[name] or "") .. "/" .. name
  end
  if known[name] or known[key] or name:find("^gsl_.*_alloc$") then
    return true
  elseif seen[key] or not calls[key] then
    return false
  end
  seen[key] = true
  for _, to in ipairs(calls[key]) do
    if may_ask(to, key:match("^[^/]*"), seen) then
      known[key] = true
      return true
    end
  end
  return false
end

local starved, missing, count = slurp "tests/unit/test_memory.c", {}, 0
for path in io.popen("ls include/hairfibre/*.h"):lines() do
  for declaration in slurp(path):gsub("/%*.-%*/", " "):gmatch("HF_API(.-);") do
    local name = declaration:match("(hf_[%w_]+)%s*%(")
    if name and may_ask(name, "", {}) then
      count = count + 1
      if not starved:find(name .. "%s*%(") then
        missing[#missing + 1] = name
      end
    end
  end
end
print(count .. " public functions may ask for memory")
check("no test with an allocator that fails calls", missing)
check("too few: the calls are not understood", count > 40 and {} or { tostring(count) })

-- ---- Lua --------------------------------------------------------------------------------------------------
local hf = require "hairfibre"
local quantities = {}
for _, q in ipairs(hf.quantities()) do
  quantities[q.name] = true
end
starved, missing, count = slurp "tests/unit/test_lua_memory.c" .. slurp "tests/unit/starved.lua", {}, 0
local function look(t, prefix)
  for name, value in pairs(t) do
    if type(value) == "function" and not (prefix == "hf." and quantities[name]) then
      count = count + 1
      if not starved:find(prefix .. name .. "%f[^%w_]") then
        missing[#missing + 1] = prefix .. name
      end
    elseif type(value) == "table" and name ~= "strict" and prefix == "hf." then
      look(value, prefix .. name .. ".")
    end
  end
end
look(hf, "hf.")
print(count .. " functions of Lua besides quantities")
check("no test with an allocator that fails calls", missing)

print(("%d passed, %d failed"):format(passed, failed))
os.exit(failed == 0)
