-- hairfibre value NAME --at ...: one answer with everything that belongs to it.

local at = require "command.at"
local catalogue = require "command.catalogue"
local core = require "hairfibre.core"
local exit = require "command.exit"

local value = {}

local function parser()
  local p, page = require("command.options").new("value",
    "Answers with one quantity at stated conditions: its value, an approximate 95 % range, where the "
      .. "answer is supported by evidence, the sources, and what the model leaves out.",
    "hairfibre value regain --at humidity=65% --at temperature=20degC")
  p:argument("name", "Quantity; hairfibre models lists them.")
  p:option("--at", "A condition with its unit; as often as needed."):argname("NAME=VALUE"):count("*")
  p:option("--set", "Named set of parameters. Default: virgin."):argname("NAME")
  p:option("--change", "Another value for one parameter; as often as needed."):argname("NAME=VALUE")
    :count("*")
  p:flag("--strict", "No answer beyond the range that evidence supports.")
  p:mutex(p:flag("--json", "One JSON object, in SI units."),
    p:flag("--raw", "The number alone, in SI units, for programs."))
  return page
end

-- Everything that is said about an answer.
local function gather(quantity, given, set, low_high)
  local answer = {
    quantity = quantity,
    value = low_high[1],
    low = low_high[2],
    high = low_high[3],
    status = low_high[4] or "ok",
    reason = low_high[5],
    conditions = {},
    set = set,
  }
  for i, argument in ipairs(quantity.arguments) do
    local x = given[i]
    local is_given = x ~= nil
    if not is_given then
      x = argument.usual
    end
    answer.conditions[i] = { argument = argument, value = x, given = is_given,
      inside = x >= argument.valid_low and x <= argument.valid_high }
  end
  local rows = catalogue.used(quantity, set)
  answer.sources, answer.known = catalogue.sources(quantity, rows)
  answer.has_spread = quantity.equation_spread > 0
  for _, row in ipairs(rows) do
    answer.has_spread = answer.has_spread or row.spread > 0
  end
  answer.changed = {}
  for i, name in ipairs(set:changed()) do
    answer.changed[i] = { name = name, value = set:get(name) }
  end
  return answer
end

local function compute(quantity, given, set, strict)
  local results = table.pack(core.range(quantity.index, set, strict and 0 or core.EXTRAPOLATE,
    table.unpack(given, 1, #quantity.arguments)))
  if results[1] == nil then
    exit.fail_with_status(results[3], results[2])
  elseif results[1] == false then
    exit.fail("usage", "%s", results[2])
  end
  return results
end

local function no_model(quantity, arguments)
  if arguments.json then
    require("command.answer").no_model_json(quantity)
  elseif not arguments.raw then
    require("command.answer").no_model(quantity)
  end
  exit.fail("no-model", "no validated model answers %s", quantity.name)
end

function value.run(words)
  local arguments = require("command.options").parse(parser(), words)
  if not arguments then
    return exit.codes.ok
  end
  local quantity = catalogue.find(arguments.name)
  if not quantity.has_model then
    no_model(quantity, arguments)
  end
  local given = at.conditions(quantity, arguments.at)
  local set = catalogue.parameters(arguments.set, arguments.change)
  local results = compute(quantity, given, set, arguments.strict)
  if arguments.raw then
    io.stdout:write(core.text(results[1]), "\n")
    return exit.codes.ok
  end
  local answer = gather(quantity, given, set, results)
  require("command.answer")[arguments.json and "json" or "plain"](answer)
  return exit.codes.ok
end

return value
