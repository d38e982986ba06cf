-- Option parsing for a subcommand: a thin layer over argparse that keeps failures in our words, ends
-- every help page with one runnable example, and never leaves the program from inside.

local argparse = require "argparse"
local exit = require "command.exit"

local options = {}

--- A parser for "hairfibre WORD". `example` is one command line that runs as it stands.
function options.new(word, description, example)
  local parser = argparse("hairfibre " .. word, description, "Example:\n  " .. example)
  parser:add_help(false)
  parser:usage_max_width(78):help_max_width(78)
  parser:help_description_margin(26):usage_margin(4)
  local page = { parser = parser, word = word }
  parser:flag("-h --help", "Show this page."):action(function()
    page.asked_for_help = true
    error("help", 0) -- the only way out of argparse before it checks the rest
  end)
  return parser, page
end

-- "temperature=20degC" without --at before it.
local function condition_among(arguments)
  for i, word in ipairs(arguments) do
    if word:find "^%l[%w_]*=" and not (arguments[i - 1] or ""):find "^%-%-" then
      return ("; did you mean --at %s?"):format(word)
    end
  end
  return ""
end

local function in_our_words(message)
  message = message:gsub("\nDid you mean one of these: ", "; did you mean one of ")
  message = message:gsub("\nDid you mean ", "; did you mean "):gsub("\n", " ")
  return (message:gsub("'", '"'))
end

--- Parsed arguments, or nil when the help page was shown.
function options.parse(page, arguments)
  local done, parsed, result = pcall(page.parser.pparse, page.parser, arguments)
  if page.asked_for_help then
    io.stdout:write(page.parser:get_help(), "\n")
    return nil
  elseif not done then
    error(parsed, 0)
  elseif not parsed then
    local meant = result:find("too many arguments", 1, true) and condition_among(arguments) or ""
    exit.fail("usage", "%s%s (see: hairfibre %s --help)", in_our_words(result), meant, page.word)
  end
  return result
end

return options
