-- The program's first step: finds the subcommand, runs it, turns every failure into one sentence
-- on stderr and an exit code. Subcommands are loaded only when asked for.

local exit = require "command.exit"

local main = {}

main.commands = require "command.list"

local function words()
  local list = {}
  for i, command in ipairs(main.commands) do
    list[i] = command[1]
  end
  return list
end

local function help()
  local text = require "command.text"
  local rows = {}
  for _, command in ipairs(main.commands) do
    rows[#rows + 1] = { command[1], command[2] }
  end
  local codes = {}
  for _, meaning in ipairs(exit.meanings) do
    codes[#codes + 1] = { tostring(meaning[1]), meaning[2] }
  end
  return table.concat({
    "hairfibre - property models of hair fibres, with a source for every number",
    "",
    "Usage: hairfibre COMMAND [OPTIONS]     (hairfibre COMMAND --help explains one)",
    "",
    "Commands:",
    text.columns(rows),
    "",
    "Example:",
    "  hairfibre value saturation_pressure --at temperature=200degC",
    "",
    "Exit codes:",
    text.columns(codes, { align = { "right" } }),
    "",
    "Options: --help, --version",
    "",
  }, "\n")
end

local function short_help()
  local text = require "command.text"
  local rows = {}
  for _, command in ipairs(main.commands) do
    rows[#rows + 1] = { command[1], command[2] }
  end
  return table.concat({
    "Usage: hairfibre COMMAND [OPTIONS]",
    "",
    text.columns(rows),
    "",
    "Try: hairfibre value regain --at humidity=65%",
    "     hairfibre --help",
    "",
  }, "\n")
end

local function unknown(word)
  local suggest = require "hairfibre.suggest"
  local near = suggest.nearest(word, words())
  if near then
    exit.fail("usage", 'there is no command "%s"; did you mean "%s"?', word, near)
  elseif word:find("%.lua$") then
    exit.fail("usage", "to run a script: hairfibre run %s", word)
  elseif word:sub(1, 1) == "-" then
    exit.fail("usage", 'there is no option "%s" here; hairfibre --help shows what there is', word)
  elseif require("command.catalogue").has(word) then
    exit.fail("usage", '"%s" is a quantity; ask for it with: hairfibre value %s', word, word)
  end
  exit.fail("usage", 'there is no command "%s"; the commands are %s', word,
    suggest.list(words(), "and"))
end

local function dispatch(arguments)
  local word = arguments[1]
  if word == nil then
    local system = require "command.system"
    if system.is_terminal(0) and system.is_terminal(1) then
      require("command.prompt").run()
    else
      io.stdout:write(short_help())
    end
    return exit.codes.ok
  elseif word == "--help" or word == "-h" or word == "help" then
    local asked = arguments[2]
    if word == "help" and asked then
      return dispatch({ asked, "--help" })
    end
    io.stdout:write(help())
    return exit.codes.ok
  elseif word == "--version" then
    io.stdout:write("hairfibre ", require("hairfibre.core").version, "\n")
    return exit.codes.ok
  end
  if word == "complete" then
    return require("command.complete").run(table.move(arguments, 2, #arguments, 1, {}))
  end
  for _, command in ipairs(main.commands) do
    if command[1] == word then
      return require("command." .. word).run(table.move(arguments, 2, #arguments, 1, {}))
    end
  end
  unknown(word)
end

return function(arguments)
  local done, result = xpcall(dispatch, function(problem)
    if exit.is_failure(problem) then
      return problem
    end
    return { trace = debug.traceback(tostring(problem), 2) }
  end, arguments)
  if done then
    return result
  elseif exit.is_failure(result) then
    if result.message ~= "" then
      io.stdout:flush()
      -- what a user typed may hold anything: one line, no control characters
      local message = result.message:gsub("%s*[\r\n]%s*", " "):gsub("[%c\127]", "?")
      io.stderr:write("hairfibre: ", message, "\n", result.trace or "")
    end
    return exit.codes[result.class]
  end
  error(result.trace, 0)
end
