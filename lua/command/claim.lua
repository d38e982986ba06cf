-- hairfibre claim QUANTITY --says ...: what somebody says, against the model and the published numbers.

local catalogue = require "command.catalogue"
local core = require "hairfibre.core"
local exit = require "command.exit"

local claim = {}

local function parser()
  local p, page = require("command.options").new("claim",
    "Holds a claim against the model and the published numbers: supported, conditional, doubtful, refuted or no model, "
      .. "with the reasons, the conditions that are missing, and a sentence fit to print.",
    'hairfibre claim regain --says "30 % dry basis" --at humidity=100%')
  p:argument("quantity", "Quantity that the claim is about; hairfibre models lists them."):args("?")
  p:option("--says", 'The claim: "20 %", "15..20 %", "at least 20 %", "up to 20 %", "rises with humidity"; with --than '
    .. '"30 % lower" or "3 times".'):argname("TEXT")
  p:option("--at", "A condition with its unit, one value or a span a..b; as often as needed."):argname("NAME=VALUE"):count("*")
  p:option("--than", "Second state, for a claim about a change; as often as needed."):argname("NAME=VALUE"):count("*")
  p:option("--set", "Named set of parameters, or a file of one. Default: virgin and bleached are both possible."):argname("NAME")
  p:option("--change", "Another value for one parameter; as often as needed."):argname("NAME=VALUE"):count("*")
  p:option("--book", "The claim book: all of it, or the claims of one number."):argname("NUMBER"):args("?")
  p:mutex(p:flag("--json", "One JSON object, in SI units."),
    p:flag("--bibtex", "BibTeX entries of every source behind the answer."))
  return page
end

-- "NAME=VALUE" words to a table; a bare fraction from 0 to 1 is taken as it stands.
local function conditions(quantity, words, option)
  local given = {}
  for _, word in ipairs(words) do
    local name, value = word:match("^%s*([%w_.%-]+)%s*=%s*(.-)%s*$")
    if not name or value == "" then
      exit.fail("usage", '%s needs NAME=VALUE, such as humidity=65%%, not "%s"', option, word)
    end
    local _, argument = catalogue.argument(quantity, name)
    if given[argument.name] ~= nil then
      exit.fail("usage", "%s is given twice", argument.name)
    end
    local bare = argument.kind == "fraction" and core.number(value)
    given[argument.name] = bare and bare >= 0 and bare <= 1 and bare or value
  end
  return given
end

-- Runs a library function; a caller's mistake ends the command with its sentence.
local function guarded(f, ...)
  local done, result, message, code = pcall(f, ...)
  if not done then
    -- a mistake of the caller has no position in our own files before it
    if type(result) ~= "string" or result:find("^[%w_.]+:%d+:") then
      error(result, 0)
    end
    exit.fail("usage", "%s", result)
  elseif result == nil then
    exit.fail_with_status(code, message)
  end
  return result, message
end

local function bibtex(list)
  local seen, entries = {}, require "command.sources"
  io.stdout:write("% hairfibre ", core.version, "\n\n")
  for _, r in ipairs(list) do
    for _, key in ipairs(r.sources) do
      local source = core.source(key)
      if source and not seen[key] then
        seen[key] = true
        io.stdout:write(entries.bibtex(source), "\n")
      end
    end
  end
end

local function run_book(arguments)
  local page = require "command.claim_page"
  local book = require "hairfibre.claim.book"
  local list, count = guarded(book.run, arguments.book[1])
  if arguments.bibtex then
    bibtex(list)
  elseif arguments.json then
    require("command.claim_json").book(list, count)
  elseif arguments.book[1] then
    for i, r in ipairs(list) do
      io.stdout:write(i > 1 and "\n" or "")
      page.entry(r, book.find(r.number)[1])
    end
  else
    page.book(list, count)
  end
  if count.differ > 0 then
    exit.fail("failed", "%d of %d verdicts of the claim book differ from what is expected", count.differ, #list)
  end
  return exit.codes.ok
end

function claim.run(words)
  local arguments = require("command.options").parse(parser(), words)
  if not arguments then
    return exit.codes.ok
  elseif arguments.book then
    if arguments.quantity or arguments.says or #arguments.at > 0 or #arguments.than > 0 then
      exit.fail("usage", "--book runs the claims of the book and takes no claim besides")
    end
    return run_book(arguments)
  elseif not arguments.quantity then
    exit.fail("usage", "claim needs a quantity, or --book (see: hairfibre claim --help)")
  elseif not arguments.says then
    exit.fail("usage", 'claim needs what is claimed: --says "20 %%" (see: hairfibre claim --help)')
  end
  local quantity = catalogue.find(arguments.quantity)
  local set = arguments.set
  if set or #arguments.change > 0 then
    local object = catalogue.parameters(set, arguments.change)
    local shipped = set and #arguments.change == 0 and not require("hairfibre.parameter_file").is_path(set)
    set = shipped and set or object
  end
  local r = guarded(require("hairfibre.claim").check, { quantity = quantity.name, says = arguments.says,
    at = conditions(quantity, arguments.at, "--at"), than = conditions(quantity, arguments.than, "--than"), set = set })
  if arguments.bibtex then
    bibtex { r }
  elseif arguments.json then
    require("command.claim_json").one(r, set)
  else
    require("command.claim_page").plain(r, set)
  end
  if r.verdict == "no model" then
    exit.fail("no-model", "no validated model answers %s", quantity.name)
  end
  return exit.codes.ok
end

return claim
