-- A Lua script and what it may do: read, limits, sandbox, and a fault turned into one sentence. For the
-- commands that run scripts.

local exit = require "command.exit"

local script = {}

local defaults = { memory = "256MB", seconds = "60" }

--- The options of a command that runs a script.
function script.options(p)
  p:option("--memory", "Most memory that the script may take. Default: 256MB."):argname("SIZE")
  p:option("--seconds", "Longest time that the script may take. Default: 60."):argname("NUMBER")
  p:flag("--trust", "No sandbox: all of Lua, any file, no limits unless given.")
  p:flag("--trace", "After a fault, the calls that led there.")
end

-- ---- limits ---------------------------------------------------------------------------------------

local sizes = { [""] = 1, B = 1, kB = 1e3, KB = 1e3, MB = 1e6, GB = 1e9, KiB = 2 ^ 10, MiB = 2 ^ 20,
  GiB = 2 ^ 30 }

local function bytes_of(s)
  local number, unit = s:match("^(%d+%.?%d*) ?(%a*)$")
  local bytes = number and sizes[unit] and tonumber(number) * sizes[unit]
  if not bytes or unit == "" then
    exit.fail("usage", "--memory needs a size with its unit, such as 256MB, not \"%s\"", s)
  elseif bytes < 4e6 or bytes > 1e12 then
    exit.fail("usage", "--memory must lie between 4MB and 1000GB, not \"%s\"", s)
  end
  return math.tointeger(bytes // 1)
end

local function seconds_of(s)
  local seconds = tonumber(s:match("^(%d+%.?%d*) ?s?$"))
  if not seconds or seconds <= 0 or seconds > 1e6 then
    exit.fail("usage", "--seconds needs a number above 0 and up to 1000000, not \"%s\"", s)
  end
  return seconds
end

-- ---- the text -------------------------------------------------------------------------------------

local function read(path)
  if path == "-" then
    return io.stdin:read("a") or "", "standard input"
  end
  local text, message = require("hairfibre.core").read(path)
  if not text then
    exit.fail("data", "%s", message)
  end
  return text, path
end

local DATA = "hairfibre fit --look shows a file of data, and hf.read and hf.import read it in a script"
local PICTURE = "it is a picture or a page"
local NO_SCRIPT = { csv = DATA, tsv = DATA, txt = DATA, json = DATA, svg = PICTURE, png = PICTURE, pdf = PICTURE, html = PICTURE }

local function cleaned(text, name)
  if text:sub(1, 1) == "\27" then
    exit.fail("data", "%s is compiled code; only the text of a script can be run", name)
  end
  local ending = name:lower():match "%.(%a+)$"
  if ending and NO_SCRIPT[ending] then
    exit.fail("data", "%s is no Lua script; %s", name, NO_SCRIPT[ending])
  end
  text = text:gsub("^\xEF\xBB\xBF", ""):gsub("^#[^\n]*", "")
  if not text:find("%S") then
    exit.fail("data", "%s is empty", name)
  end
  return text
end

-- ---- faults ---------------------------------------------------------------------------------------

local kept_out = {
  io = "files are written with the save functions of the library",
  os = "the sandbox has no clock and no commands",
  debug = "the sandbox has no debug functions",
  dofile = "a sandboxed script is one file",
  loadfile = "a sandboxed script is one file",
  package = "a sandboxed script is one file",
  hf = 'begin the script with: local hf = require "hairfibre"',
  hairfibre = 'begin the script with: local hairfibre = require "hairfibre"',
}

-- "attempt to index a nil value (global 'io')" in words that help, or nil.
local function without_sandbox_names(message)
  local name = message:match("%(global '([^']+)'%)")
  if not name or not kept_out[name] then
    return nil
  elseif name == "hf" or name == "hairfibre" then
    return ('"%s" has no value; %s'):format(name, kept_out[name])
  end
  return ('there is no "%s" here: %s; --trust lifts the sandbox'):format(name, kept_out[name])
end

-- What stands behind a sign of equality, a brace or a comma without quotation marks: 65 %, 200 degC.
local function bare_unit(text, number)
  local at = 0
  for line in (text .. "\n"):gmatch "(.-)\n" do
    at = at + 1
    if at == number then
      line = line:gsub('"[^"]*"', '""'):gsub("'[^']*'", "''"):gsub("%-%-.*", "")
      local value, unit = line:match "[=,{(]%s*(%-?%d+%.?%d*)%s*(%%)%s*[,})]"
      if not value then
        value, unit = line:match "[=,{(]%s*(%-?%d+%.?%d*)%s*([\xC2\xB0]*%a[%a/]*)%s*[,})]"
      end
      return value and ("%s %s"):format(value, unit)
    end
  end
end

-- What a beginner may have meant, or "".
local function hint(message, library, text)
  local number = message:match ":(%d+): .* near "
  local bare = number and bare_unit(text, tonumber(number))
  if bare then
    return ('a value with its unit is a text in quotation marks: "%s"'):format(bare)
  end
  local where, name = message:match("%((%a+) '([^']+)'%)")
  if name and message:find("attempt to call a nil value", 1, true) then
    local names = {}
    for key, value in pairs(library or {}) do
      if type(key) == "string" and type(value) ~= "table" then
        names[#names + 1] = key
      end
    end
    for _, known in ipairs(require("command.catalogue").names()) do
      names[#names + 1] = known
    end
    table.sort(names)
    local near = require("hairfibre.suggest").nearest(name, names)
    return near and ('did you mean "%s"?'):format(near) or ('nothing is called "%s" here'):format(name)
  elseif name and where == "global" and message:find("nil value", 1, true) then
    return ('"%s" has no value at that line; is it spelled as above?'):format(name)
  elseif name and where == "local" and message:find("attempt to index a nil value", 1, true) then
    return ('"%s" is nil; if a call of the library gave it, assert(hf....) around that call says why'):format(name)
  elseif message:find("'end' expected", 1, true) then
    return "every function, if, for and while needs its own end"
  elseif message:find("'=' expected", 1, true) or message:find("syntax error near", 1, true) then
    return "a line is either name = value or a call such as print(value)"
  elseif message:find("unfinished string", 1, true) then
    return "a text needs a quotation mark at both ends, in one line"
  end
  return ""
end

-- The text of an error value. Runs while the limits hold: __tostring is the script's own.
local function text_of(problem)
  local kind = type(problem)
  local meta = getmetatable(problem)
  if kind == "string" or kind == "number" or type(meta) == "table" and meta.__tostring then
    return tostring(problem)
  end
  return ("stopped with an error that is no text (a %s)"):format(kind)
end

-- "lesson.lua:12: words" -> "lesson.lua, line 12: words"
local function sentence(message, name, library, text)
  local start = name .. ":"
  local line, words
  if message:sub(1, #start) == start then
    line, words = message:sub(#start + 1):match("^(%d+): (.*)$")
  end
  local plain = line and without_sandbox_names(words)
  if plain then
    return ("%s, line %s: %s"):format(name, line, plain)
  end
  local found = line and ("%s, line %s: %s"):format(name, line, words) or name .. ": " .. message
  local more = hint(message, library, text)
  return more == "" and found or found .. "; " .. more
end

-- ---- running --------------------------------------------------------------------------------------

local function trusted_environment(home)
  package.path = home .. "/?.lua;" .. home .. "/?/init.lua;" .. rawget(package, "outside_path")
  package.cpath = rawget(package, "outside_cpath")
  return _G
end

local function report_stop(system, problem, name, limits)
  local stopped = system.was_stopped()
  if stopped == "interrupt" then
    exit.fail("interrupted", "")
  elseif stopped == "time" then
    exit.fail("limit", "%s was stopped after %g s (--seconds allows more)", name, limits.seconds)
  elseif problem:find("not enough memory", 1, true) and limits.bytes > 0 then
    exit.fail("limit", "%s needs more than %s of memory (--memory allows more)", name, limits.memory)
  end
end

--- Text of a script and its name for messages; a failure ends the command.
function script.read(path)
  local text, name = read(path)
  text = cleaned(text, name)
  if #name > 50 then
    name = name:match("[^/]*$") -- Lua shortens longer names in its messages
  end
  return text, name
end

--- Runs the text. given: script (its path), arguments (its words), out (folder for what it saves), trust,
--- memory, seconds, trace; finish: a function that runs after the script under the same limits. A fault ends the
--- command.
function script.execute(text, name, given)
  local trusted = given.trust
  local limits = {
    memory = given.memory or not trusted and defaults.memory or nil,
    seconds = given.seconds or not trusted and defaults.seconds or nil,
  }
  limits.bytes = limits.memory and bytes_of(limits.memory) or 0
  limits.seconds = limits.seconds and seconds_of(limits.seconds) or 0
  local files = require "command.files"
  local home = given.script == "-" and "." or files.folder_of(given.script)
  files.guard({ out = given.out, home = home, trusted = trusted })
  local library = require "hairfibre"
  local script_arguments = table.move(given.arguments, 1, #given.arguments, 1,
    { [0] = given.script })
  local environment, undo
  if trusted then
    environment = trusted_environment(home)
    environment.arg = script_arguments
  else
    local sandbox = require "command.sandbox"
    environment = sandbox.environment(library, script_arguments)
    undo = sandbox.lock()
  end
  local chunk, wrong = load(text, "@" .. name, "t", environment)
  if not chunk then
    exit.fail("failed", "%s", sentence(wrong, name, library, text))
  end

  local system = require "command.system"
  io.stdout:setvbuf("line") -- nothing said is lost when the script has to be ended
  math.randomseed(1) -- the same numbers at every run
  local used = system.limit_memory(0)
  system.limit_memory(limits.bytes > 0 and used + limits.bytes or 0)
  system.limit_time(limits.seconds)
  local trace
  local function work(...)
    chunk(...)
    if given.finish then
      given.finish()
    end
  end
  local done, problem = xpcall(work, function(problem)
    if given.trace then
      trace = debug.traceback(nil, 2) .. "\n"
    end
    return text_of(problem)
  end, table.unpack(given.arguments))
  system.limit_time(0)
  system.limit_memory(0)
  if undo then
    undo()
  end
  if done then
    return
  end
  io.stdout:flush()
  report_stop(system, problem, name, limits)
  exit.fail_with_trace("failed", sentence(problem, name, library, text), trace)
end

return script
