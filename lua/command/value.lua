-- hairfibre value NAME --at ...: one answer with everything that belongs to it.

local at = require "command.at"
local catalogue = require "command.catalogue"
local core = require "hairfibre.core"
local exit = require "command.exit"

local value = {}

local function parser()
  local p, page = require("command.options").new("value",
    "Answers with one quantity at stated conditions: its value, its 95 % range when all parameters vary at once, "
      .. "rival answers, where the answer is supported by evidence, the sources, and what the model leaves out.",
    "hairfibre value regain --at humidity=65% --at temperature=20degC")
  p:argument("name", "Quantity; hairfibre models lists them.")
  p:option("--at", "A condition with its unit; as often as needed."):argname("NAME=VALUE"):count("*")
  p:option("--spread", "Standard deviation of a condition, such as humidity=3%."):argname("NAME=SIZE"):count("*")
  p:option("--set", "Named set of parameters, or a file of one. Default: virgin."):argname("NAME")
  p:option("--change", "Another value for one parameter; as often as needed."):argname("NAME=VALUE")
    :count("*")
  p:option("--range", "How the range is found: draws (usual: all parameters at once), single (one after the "
    .. "other, roughly).", "draws"):argname("HOW"):choices({ "draws", "single" }):show_default(false)
  p:option("--draws", "Draws for the range. Default: 1024."):argname("NUMBER")
  p:option("--seed", "Seed of the draws. Default: 1."):argname("NUMBER")
  p:flag("--strict", "No answer beyond the range that evidence supports.")
  p:mutex(p:flag("--json", "One JSON object, in SI units."),
    p:flag("--raw", "The number alone, in SI units, for programs."))
  return page
end

-- Everything that is said about an answer.
local function gather(quantity, given, set, found)
  local answer = {
    quantity = quantity,
    value = found.value,
    low = found.low,
    high = found.high,
    range_by = found.by,
    range = found,
    status = found.status or "ok",
    reason = found.reason,
    rivals = core.rivals(quantity.index, set, core.EXTRAPOLATE, given),
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
  return answer
end

local function refuse(message, code)
  if message == false then
    exit.fail("usage", "%s", code)
  end
  exit.fail_with_status(code, message)
end

-- One parameter after the other: value, low, high.
local function one_by_one(quantity, given, set, flags)
  local r = table.pack(core.range(quantity.index, set, flags, table.unpack(given, 1, #quantity.arguments)))
  if not r[1] then
    refuse(r[1] == nil and r[2], r[1] == nil and r[3] or r[2])
  end
  return { value = r[1], low = r[2], high = r[3], status = r[4], reason = r[5], by = "single" }
end

-- More draws without an answer than this would make the range that of a part of the parameters.
local MOST_FAILURES = 0.05

-- All parameters at once.
local function by_draws(quantity, given, set, flags, options)
  local r, message, code = core.propagate(quantity.index, set, flags, given, options)
  if not r then
    refuse(message, code)
  end
  local p = r.percentiles
  if not p or r.failures > MOST_FAILURES * options.draws then
    local single = one_by_one(quantity, given, set, flags)
    single.why = ("%d of %d draws had no answer"):format(r.failures, options.draws)
    return single
  end
  -- Without a spread every draw is the value itself.
  local still = r.inputs == 0
  -- A misfit is least at the value itself, which no draw meets.
  return { value = r.value, low = still and r.value or math.min(p.value[1], r.value), high = still and r.value or math.max(p.value[5], r.value),
    median = p.value[3], error = math.max(p.error[1], p.error[5]), failures = r.failures, draws = options.draws,
    seed = options.seed, method = r.method, status = r.status, reason = r.reason, by = "draws" }
end

local function whole(word, usual, option, low, high)
  if word == nil then
    return usual
  end
  local x = math.tointeger(tonumber(word:match("^%d+$")))
  if not x or x < low or x > high then
    exit.fail("usage", "%s needs a whole number from %d to %d, not \"%s\"", option, low, high, word)
  end
  return x
end

-- Spreads of conditions, as the C half takes them.
local function spreads_of(quantity, words)
  local list, descriptor = {}, require("hairfibre.quantity").find(quantity.name)
  for i, word in ipairs(words) do
    local name, size = at.split(word, "--spread")
    local _, argument = catalogue.argument(quantity, name)
    list[i] = require("command.schedule").protected(require("hairfibre.uncertainty").read_spread, descriptor, argument.name,
      size)
    for k = 1, i - 1 do
      if list[k].argument == list[i].argument then
        exit.fail("usage", "%s has two spreads", argument.name)
      end
    end
  end
  return list
end

local function compute(quantity, given, set, arguments)
  local flags = arguments.strict and 0 or core.EXTRAPOLATE
  local options = { draws = whole(arguments.draws, 1024, "--draws", 64, 1 << 20),
    seed = whole(arguments.seed, 1, "--seed", 0, 1 << 53) }
  if #arguments.spread > 0 and arguments.range == "single" then
    exit.fail("usage", "--spread needs draws, not --range single")
  end
  options.spreads = spreads_of(quantity, arguments.spread)
  if arguments.range == "single" then
    return one_by_one(quantity, given, set, flags)
  end
  return by_draws(quantity, given, set, flags, options)
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
  if arguments.raw then
    arguments.range = "single" -- the value alone is asked for
  end
  local found = compute(quantity, given, set, arguments)
  if arguments.raw then
    io.stdout:write(core.text(found.value), "\n")
    return exit.codes.ok
  end
  local answer = gather(quantity, given, set, found)
  answer.strict, answer.spread = arguments.strict, arguments.spread
  require("command.answer")[arguments.json and "json" or "plain"](answer)
  return exit.codes.ok
end

return value
