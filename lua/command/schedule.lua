-- Schedules: Lua files that return a table of options as hf.ensemble takes them, read in the sandbox.

local exit = require "command.exit"

local schedule = {}

--- A copy of the table that a schedule returns, and what is told of the file.
function schedule.read(path, library)
  local plan, input = require("command.lua_file").read(path, library, "return { treatment = { hf.soak{...}, ... } }")
  local copy = {}
  for key, x in pairs(plan) do
    copy[key] = x
  end
  return copy, input
end

--- A whole number from the command line; nil for nil.
function schedule.number(word, option)
  if word == nil then
    return nil
  end
  local x = math.tointeger(tonumber(word:match("^%d+$")))
  if not x then
    exit.fail("usage", "--%s needs a whole number, not \"%s\"", option, word)
  end
  return x
end

--- Calls f; what the library refuses is a mistake of the one who typed it, or of the file.
function schedule.protected(f, ...)
  local results = table.pack(pcall(f, ...))
  if not results[1] then
    if exit.is_failure(results[2]) then
      error(results[2], 0)
    end
    exit.fail("usage", "%s", (tostring(results[2]):gsub("^[^:]+:%d+: ", "")))
  end
  return table.unpack(results, 2, results.n)
end

--- Calls a function of the library that gives a result; or nil, sentence, code, which ends the command. `on_file` is the
--- class of a file that fails.
function schedule.call(on_file, f, ...)
  local r, message, code = schedule.protected(f, ...)
  if r == nil then
    local class = ({ data = "data", file = on_file })[code]
    if class then
      exit.fail(class, "%s", message)
    end
    exit.fail_with_status(code, message)
  end
  return r, message, code
end

return schedule
