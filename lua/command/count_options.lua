-- What `count plan`, `count card` and `count read` share: values with units from the command line, and
-- the library's refusals as exit codes.

local core = require "hairfibre.core"
local exit = require "command.exit"
local units = require "hairfibre.units"

local options = {}

local FRACTION = { unit = "1", kind = "fraction" }

local function refuse_what_is_no_number(s, name)
  local word = s:lower():gsub("^%s*[+-]?", "")
  if word:find("^nan") or word:find("^inf") then
    exit.fail("usage", '%s needs a finite number, not "%s"', name, s)
  end
end

--- "90%" or a bare fraction from 0 to 1.
function options.fraction(s, name)
  refuse_what_is_no_number(s, name)
  local bare = core.number(s)
  if bare and bare >= 0 and bare <= 1 then
    return bare
  end
  FRACTION.name = name
  local x, message = units.value(s, FRACTION)
  return x or exit.fail("usage", "%s", message)
end

--- "0.5um": a length, in m.
function options.length(s, name)
  refuse_what_is_no_number(s, name)
  local x, message = units.value(s, { name = name, unit = "m", kind = "number" })
  return x or exit.fail("usage", "%s", message)
end

--- A whole number.
function options.whole(s, name)
  local x = math.tointeger(core.number(s))
  return x or exit.fail("usage", '%s needs a whole number, not "%s"', name, s)
end

--- "NAME=STEPS" to name, steps.
function options.group(s)
  local name, steps = s:match("^%s*([^=]-)%s*=%s*(.-)%s*$")
  if not name or name == "" then
    if s:find("%S") and not s:find("=", 1, true) then
      return s:match("^%s*(.-)%s*$"), nil
    end
    exit.fail("usage", '--group needs NAME=STEPS, such as "hot=soak 10min; blot; plates 200degC 1s", not "%s"', s)
  end
  return name, steps ~= "" and steps or nil
end

--- Calls the library: its results, or the end of the command in its words.
function options.call(f, ...)
  local results = table.pack(pcall(f, ...))
  if results[1] then
    return table.unpack(results, 2, results.n)
  end
  local problem = results[2]
  if type(problem) == "string" and not problem:find("^[%w_.]+:%d+: ") then
    exit.fail("usage", "%s", problem)
  end
  error(problem, 0)
end

--- Ends the command for nil, sentence, code; `file` is the class of a file that fails.
function options.check(x, message, code, file)
  if x == nil or x == false then
    if code == "file" then
      exit.fail(file or "output", "%s", message)
    elseif code == "tool" then
      exit.fail("output", "%s", message)
    end
    exit.fail_with_status(code, message)
  end
  return x
end

return options
