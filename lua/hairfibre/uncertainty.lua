-- How far an answer may be trusted: draws of all parameters at once, rival models beside it.
--
--   local u = hf.uncertainty("regain", { humidity = "65 %", draws = 4096, spread = { temperature = "2 K" } })
--   u.median, u.low, u.high, u.rivals; u:print()
--   local t = hf.uncertainty { treatment = { hf.soak { duration = "1 min" }, ... }, answer = "void_growth" }

local cautions = require "hairfibre.cautions"
local core = require "hairfibre.core"
local misuse = require "hairfibre.misuse"
local quantity = require "hairfibre.quantity"
local result = require "hairfibre.result"
local show = require "hairfibre.show"
local suggest = require "hairfibre.suggest"
local units = require "hairfibre.units"

local uncertainty = {}

local LEVELS = { 0.025, 0.25, 0.5, 0.75, 0.975 }
local DISTRIBUTIONS = { "normal", "lognormal", "uniform", "triangular" }

-- ---- reading a call -----------------------------------------------------------------------------------

-- A difference of what the argument is a value of.
local function difference_of(argument, name)
  local kind = argument.kind == "temperature" and "temperature difference" or argument.kind
  return { name = name, unit = argument.unit, kind = kind }
end

local function read_number(x, what)
  local number, message = units.value(x, what)
  return number or misuse("%s", message)
end

-- "2 K", 2, or { "2 K", distribution = "uniform", low =, high = }
local function read_spread(descriptor, name, given)
  local place = descriptor.places[name]
  if not place then
    local names = {}
    for i, argument in ipairs(descriptor.arguments) do
      names[i] = argument.name
    end
    misuse("spread: %s has no argument \"%s\"%s", descriptor.name, tostring(name), suggest.hint(name, names))
  end
  local argument = descriptor.arguments[place]
  if argument.kind == "choice" then
    misuse("spread: %s is a choice and has no spread", name)
  end
  if type(given) ~= "table" then
    given = { given }
  end
  for _, key in ipairs(suggest.sorted_keys(given)) do
    if key ~= 1 and key ~= "distribution" and key ~= "low" and key ~= "high" then
      misuse("spread of %s has no \"%s\"; known here: distribution, low, high", name, tostring(key))
    end
  end
  local distribution = given.distribution or "normal"
  local known = false
  for _, word in ipairs(DISTRIBUTIONS) do
    known = known or word == distribution
  end
  if not known then
    misuse("spread of %s: distribution may be %s, not \"%s\"", name, suggest.list(DISTRIBUTIONS),
      tostring(distribution))
  elseif given[1] == nil then
    misuse("spread of %s needs its size first: { \"2 K\", distribution = \"uniform\" }", name)
  end
  local what = distribution == "lognormal" and { name = "spread of " .. name, unit = "1", kind = "number" }
    or difference_of(argument, "spread of " .. name)
  local spread = { argument = place, distribution = distribution, spread = read_number(given[1], what) }
  for _, limit in ipairs { "low", "high" } do
    if given[limit] ~= nil then
      spread[limit] = read_number(given[limit], { name = limit .. " of " .. name, unit = argument.unit,
        kind = argument.kind })
    end
  end
  return spread
end

local function whole(name, x, low, high)
  if math.type(x) == "float" and x == math.floor(x) then
    x = math.tointeger(x)
  end
  if math.type(x) ~= "integer" or x < low or x > high then
    misuse("%s must be a whole number from %d to %d", name, low, high)
  end
  return x
end

uncertainty.read_spread, uncertainty.difference_of, uncertainty.whole = read_spread, difference_of, whole

-- Splits a call into the quantity's own arguments and the options of this module.
local function read_call(name, given, option_names)
  local descriptor = quantity.find(name)
  if given ~= nil and (type(given) ~= "table" or given[1] ~= nil) then
    misuse("%s: give the conditions by name: { humidity = \"65 %%\" }", name)
  end
  local conditions, options = {}, {}
  for key, x in pairs(given or {}) do
    if option_names[key] then
      options[key] = x
    else
      conditions[key] = x
    end
  end
  local arguments, set, flags = quantity.arguments(descriptor, conditions)
  for i, argument in ipairs(descriptor.arguments) do
    if type(arguments[i]) == "table" then
      misuse("%s takes one value here, not a list", argument.name)
    end
  end
  local spreads = {}
  if options.spread ~= nil and type(options.spread) ~= "table" then
    misuse("spread needs a table: spread = { temperature = \"2 K\" }")
  end
  for _, key in ipairs(suggest.sorted_keys(options.spread or {})) do
    spreads[#spreads + 1] = read_spread(descriptor, key, options.spread[key])
  end
  options.spreads = spreads
  options.seed = whole("seed", options.seed or 1, 0, 2 ^ 53 // 1 | 0)
  return descriptor, arguments, set, flags, options
end

local function check_method(method, list)
  for _, word in ipairs(list) do
    if word == method then
      return
    end
  end
  misuse("method may be %s, not \"%s\"", suggest.list(list), tostring(method))
end

uncertainty.read_call, uncertainty.check_method = read_call, check_method

-- ---- propagation --------------------------------------------------------------------------------------

--- Rivals in words; descriptor: what they are values of.
function uncertainty.rival_sentence(rivals, descriptor)
  local parts = {}
  for i, rival in ipairs(rivals) do
    parts[i] = ("%s: %s (%s)"):format(rival.text,
      rival.value and show.value(rival.value, descriptor) or rival.reason, rival.source)
  end
  return "Rival answers, never averaged: " .. table.concat(parts, "; ") .. "."
end

local function notes_of(u, descriptor)
  local notes = {}
  if u.inputs == 0 then
    notes[1] = "No spread is stated, so nothing moves."
  else
    notes[1] = ("%d inputs moved at once in %d draws (%s)."):format(u.inputs, u.count, u.method)
  end
  if u.failures > 0 then
    notes[#notes + 1] = ("%d draws had no answer and are left out."):format(u.failures)
  end
  if u.extrapolated > 0 then
    notes[#notes + 1] = ("%d draws lie beyond what evidence supports."):format(u.extrapolated)
  end
  if #u.rivals > 0 then
    notes[#notes + 1] = uncertainty.rival_sentence(u.rivals, descriptor)
  end
  return notes
end

local PROPAGATION = { draws = true, seed = true, method = true, spread = true, parameters = true }

--- Draws of a quantity; or of a treatment, when the first argument is a table (see uncertainty/treatment.lua). Options beside the quantity's own arguments, set and extrapolate: draws (1024), seed (1),
--- method ("sobol" or "random"), spread (of arguments), parameters (false: only the arguments move). A result with
--- the columns percentile, answer and error, and the fields value, median, low and high (95 %), low_half and
--- high_half (50 %), values (the draws), inputs, failures, extrapolated, method, rivals; or nil, sentence, code.
function uncertainty.propagate(name, given)
  if type(name) == "table" then
    return require("hairfibre.uncertainty.treatment").propagate(name)
  end
  local descriptor, arguments, set, flags, options = read_call(name, given, PROPAGATION)
  options.method = options.method or "sobol"
  check_method(options.method, { "sobol", "random" })
  options.draws = whole("draws", options.draws or 1024, 16, 1 << 22)
  local answer, message, code = core.propagate(descriptor.index, set, flags, arguments, options)
  if not answer then
    return nil, message, code
  elseif not answer.percentiles then
    return nil, ("only %d of %d draws have an answer"):format(options.draws - answer.failures, options.draws), "data"
  end
  local p, difference = answer.percentiles, difference_of(descriptor)
  answer.count, answer.rivals = options.draws, core.rivals(descriptor.index, set, flags, arguments)
  local r = result.new {
    title = ("%s: %s"):format(name, descriptor.text),
    columns = {
      { name = "percentile", unit = "1", kind = "fraction", values = table.move(LEVELS, 1, 5, 1, {}) },
      { name = "answer", unit = descriptor.unit, kind = descriptor.kind, values = p.value, text = descriptor.text },
      { name = "error", unit = difference.unit, kind = difference.kind, values = p.error,
        text = "standard error of drawing" },
    },
    set = set, notes = notes_of(answer, descriptor), caution = cautions.line(descriptor),
  }
  r.value, r.median, r.low, r.high = answer.value, p.value[3], p.value[1], p.value[5]
  r.low_half, r.high_half, r.mean, r.deviation = p.value[2], p.value[4], p.mean, p.deviation
  r.values, r.inputs, r.rivals = answer.values, answer.inputs, answer.rivals
  r.failures, r.extrapolated, r.method = answer.failures, answer.extrapolated, answer.method
  r.options = { { "draws", options.draws }, { "seed", options.seed }, { "method", answer.method } }
  if answer.status ~= "ok" then
    return r, answer.status, answer.reason
  end
  return r
end

--- Rival answers at the same conditions: { { quantity, text, source, value or nil, reason }, ... }.
function uncertainty.rivals(name, given)
  local descriptor, arguments, set, flags = read_call(name, given, {})
  return core.rivals(descriptor.index, set, flags, arguments)
end

return uncertainty
