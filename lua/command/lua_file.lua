-- A Lua file that returns a table: read and run in the sandbox.

local core = require "hairfibre.core"
local exit = require "command.exit"

local lua_file = {}

local SECONDS, MEGABYTES = 60, 256 -- for the file itself

--- The table, and where it came from (provenance.input); ends the command in words where there is none. `example` is what the file
--- might say.
function lua_file.read(path, library, example)
  local text, message = core.read(path)
  if not text then
    exit.fail("data", "%s", message)
  elseif text:sub(1, 1) == "\27" then
    exit.fail("data", "%s is compiled code; only the text of a Lua file can be read", path)
  end
  local input = require("hairfibre.provenance").input(path, text)
  text = text:gsub("^\xEF\xBB\xBF", ""):gsub("^#[^\n]*", "")
  local sandbox, system = require "command.sandbox", require "command.system"
  local name = path:match("[^/]*$")
  local chunk, wrong = load(text, "@" .. name, "t", sandbox.environment(library, {}))
  if not chunk then
    exit.fail("data", "%s", (wrong:gsub(":(%d+): ", ", line %1: ", 1)))
  end
  require("command.files").guard({ out = ".", home = require("command.files").folder_of(path) })
  local undo = sandbox.lock()
  local used = system.limit_memory(0)
  system.limit_memory(used + MEGABYTES * 1000000)
  system.limit_time(SECONDS)
  local done, plan = pcall(chunk)
  system.limit_time(0)
  system.limit_memory(0)
  undo()
  require("hairfibre.files").set_guard(nil)
  if not done and system.was_stopped() == "time" then
    exit.fail("limit", "%s was stopped after %d s", path, SECONDS)
  elseif not done and tostring(plan):find("not enough memory", 1, true) then
    exit.fail("limit", "%s needs more than %d MB of memory", path, MEGABYTES)
  elseif not done then
    exit.fail(system.was_stopped() == "interrupt" and "interrupted" or "data", "%s",
      (tostring(plan):gsub(":(%d+): ", ", line %1: ", 1)))
  elseif type(plan) ~= "table" then
    exit.fail("data", "%s must return a table: %s", path, example)
  end
  return plan, input
end

return lua_file
