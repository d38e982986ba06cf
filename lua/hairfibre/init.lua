-- require "hairfibre": every quantity as a function, and the tools around them. No globals.

local core = require "hairfibre.core"
local cautions = require "hairfibre.cautions"
local misuse = require "hairfibre.misuse"
local parameters = require "hairfibre.parameters"
local quantity = require "hairfibre.quantity"
local show = require "hairfibre.show"

local hf = { version = core.version, _VERSION = "hairfibre " .. core.version }

-- ---- what there is ----------------------------------------------------------------------------------

--- List of descriptors of all quantities, a fresh copy.
function hf.quantities()
  return core.quantities()
end

--- Descriptor of one quantity.
function hf.quantity(name)
  return core.quantities()[quantity.find(name).index]
end

--- List of sources, or the one of a key (nil when there is none).
function hf.sources(key)
  if key == nil then
    return core.sources()
  elseif type(key) ~= "string" then
    misuse("the key of a source must be a text, not a %s", type(key))
  end
  return core.source(key)
end

--- List of named sets { name =, text = }.
hf.sets = core.sets

--- Grades of how a number is known { word =, text = }, from the strongest.
hf.known = core.known

--- Channels of damage { name =, unit =, low =, high =, text = }.
hf.channels = core.channels

--- Parameters object of a named set, with changes: hf.parameters("bleached", { [name] = value }).
hf.parameters = parameters.new

--- Line of caution that belongs to a quantity; nil when none is due.
function hf.caution(name)
  return cautions.line(quantity.find(name))
end

-- ---- tools ------------------------------------------------------------------------------------------

--- Value, low and high of an approximate 95 % range: hf.range("regain", { humidity = "65 %" }).
function hf.range(name, ...)
  return quantity.compute(core.range, quantity.find(name), ...)
end

--- Text of an SI value: hf.show(453.15, "temperature") or hf.show(p, "saturation_pressure").
--- The name is that of a quantity or of an argument.
function hf.show(x, name, options)
  for _, one in ipairs(type(x) == "table" and x or { x }) do
    if type(one) ~= "number" then
      misuse("show takes a number or a list of numbers, not a %s", type(one))
    end
  end
  if x == nil or (options ~= nil and type(options) ~= "table") then
    misuse("show takes a number or a list, a name, and a table of options (digits, ascii)")
  end
  if type(name) == "table" then
    return show.value(x, name, options)
  end
  for _, descriptor in ipairs(quantity.all()) do
    for _, argument in ipairs(descriptor.arguments) do
      if argument.name == name then
        return show.value(x, argument, options)
      end
    end
  end
  return show.value(x, quantity.find(name), options)
end

-- The rest is loaded when it is first used.
local function lazy(module, name)
  return function(...)
    return require("hairfibre." .. module)[name](...)
  end
end

hf.tabulate = lazy("tabulate", "quantity")
hf.scanning = lazy("tabulate", "scanning")
hf.si = lazy("tabulate", "si")
hf.sweep = lazy("tabulate", "sweep")
hf.damage = lazy("damage", "along")
hf.read = lazy("csv", "read")
hf.import = lazy("import", "read")
hf.look = lazy("import", "look")
hf.result = lazy("result", "new")
for _, name in ipairs { "fibre", "treat", "soak", "blot", "air", "dryer", "steam", "plates", "rest", "pull",
  "bath", "bleach", "reduce", "neutralise", "rinse" } do
  hf[name] = lazy("treatment", name)
end
hf.compare = lazy("treatment.result", "compare")
hf.arrhenius_fan = lazy("fan", "figure")
hf.fatigue_mixed = lazy("fatigue", "mixed")
hf.miner_sum = lazy("fatigue", "miner")
hf.broken_count = lazy("fatigue", "broken")
hf.uncertainty = lazy("uncertainty", "propagate")
hf.rivals = lazy("uncertainty", "rivals")
hf.sensitivity = lazy("sensitivity", "run")
hf.ensemble = lazy("ensemble", "run")
hf.merge = lazy("ensemble.strands", "merge")
hf.report = lazy("report", "new")
hf.lesson = lazy("lesson", "new")
hf.fit = lazy("fit", "run")
hf.fit_models = lazy("fit", "models")
hf.compare_models = lazy("fit", "compare")
hf.claim = lazy("claim", "check")
hf.claim_book = lazy("claim.book", "run")
for _, name in ipairs { "binomial_interval", "binomial_test", "rule_of_three", "posterior_share", "posterior_next",
  "fisher_exact", "mcnemar", "mantel_haenszel", "signed_rank", "rank_sum", "strata_rank_sum", "signed_rank_critical",
  "rank_sum_critical", "paired_t", "welch_t", "t_quantile", "weighted_kappa", "limit_strands", "width_strands",
  "share_power", "share_strands", "two_share_power", "two_share_strands", "paired_share_power",
  "paired_share_strands", "mean_power", "mean_strands", "holm" } do
  hf[name] = lazy("statistics", name)
end
hf.count_plan = lazy("count.plan", "new")
hf.count_card = lazy("count.card", "new")
hf.count_read = lazy("count.read", "read")

-- ---- quantities -------------------------------------------------------------------------------------

for _, descriptor in ipairs(quantity.all()) do
  if hf[descriptor.name] then
    error("the name " .. descriptor.name .. " is taken")
  end
  hf[descriptor.name] = quantity.build(descriptor)
end

-- ---- the strict twin --------------------------------------------------------------------------------

local function checked(name)
  local function check(value, message, code, ...)
    if value == nil and type(message) == "string" then
      misuse("%s: %s (%s)", name, message, tostring(code))
    end
    return value, message, code, ...
  end
  local function trim(value, second, ...)
    if second == nil then
      return value
    end
    return value, second, ...
  end
  local plain = hf[name]
  return function(...)
    return trim(check(plain(...)))
  end
end

--- The same functions; what would return nil, message, code raises instead.
hf.strict = {}
for name, value in pairs(hf) do
  if type(value) == "function" then
    hf.strict[name] = checked(name)
  end
end
hf.strict.version, hf.strict._VERSION = hf.version, hf._VERSION

-- Whole modules, loaded when they are first asked for.
local modules = { plot = "hairfibre.plot", preview = "hairfibre.preview", reference = "hairfibre.reference" }

local function missing(t, key)
  if modules[key] then
    local module = require(modules[key])
    rawset(t, key, module)
    return module
  end
  local names = {}
  for name in pairs(hf) do
    names[#names + 1] = name
  end
  table.sort(names)
  local near = type(key) == "string" and require("hairfibre.suggest").nearest(key, names)
  if near then
    misuse("hairfibre has no \"%s\"; did you mean \"%s\"?", key, near)
  end
end

setmetatable(hf, { __index = missing, __name = "hairfibre" })
setmetatable(hf.strict, { __index = missing, __name = "hairfibre.strict" })

return hf
