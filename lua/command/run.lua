-- hairfibre run SCRIPT.lua: runs a script with the library at hand, in a sandbox unless --trust.

local exit = require "command.exit"
local script = require "command.script"

local run = {}

local function parser()
  local p, page = require("command.options").new("run",
    "Runs a Lua script that uses the library. Unless trusted, the script gets the library and the "
      .. "plain functions of Lua, writes only below the folder of --out and reads only below its own.",
    "hairfibre run examples/first_lesson.lua --out pictures")
  p:argument("script", "File of Lua text; '-' reads it from standard input.")
  p:argument("arguments", "Words for the script (arg[1], ...); put -- before those that begin with -.")
    :args("*")
  p:option("--out", "Folder for what the script saves; made when missing. Default: this one.")
    :argname("FOLDER"):default("."):show_default(false)
  script.options(p)
  return page
end

function run.run(words)
  local arguments = require("command.options").parse(parser(), words)
  if not arguments then
    return exit.codes.ok
  end
  local text, name = script.read(arguments.script)
  script.execute(text, name, arguments)
  return exit.codes.ok
end

return run
