-- Arrhenius fan: the rates of the damage channels on one plot, ln k against 1/T, each a line by itself.
--   hf.arrhenius_fan { low = "100 degC", high = "240 degC", regain = "10 %" }:save "fan.svg"

local cautions = require "hairfibre.cautions"
local core = require "hairfibre.core"
local misuse = require "hairfibre.misuse"
local provenance = require "hairfibre.provenance"
local quantity = require "hairfibre.quantity"
local suggest = require "hairfibre.suggest"
local units = require "hairfibre.units"

local fan = {}

local LINES = {
  { "helix, wet", "helix_rate_wet" },
  { "helix, regain", "helix_rate", true },
  { "helix, iron", "helix_rate_ironing" },
  { "helix, dry", "helix_rate_dry" },
  { "tryptophan", "tryptophan_rate" },
}
local OPTIONS = { "low", "high", "regain", "set", "points", "title", "style" }
local KELVIN = { unit = "K", kind = "temperature" }

-- A loss in 100 years is no loss, and one in a millisecond is at once.
local SLOWEST, FASTEST = 1e-9, 1e3

-- The rate read in an iron at one temperature, with every activation energy that the evidence leaves open.
local function iron_fan(set, temperatures, n)
  local hf, limits = require "hairfibre", {}
  local x, low, high = {}, {}, {}
  for _, row in ipairs(core.rows(set)) do
    if row.name == "rate.helix.ironing.energy" then
      limits = { row.low, row.high }
    end
  end
  local ends = {}
  for side, energy in ipairs(limits) do
    ends[side] = set:copy()
    assert(ends[side]:set("rate.helix.ironing.energy", energy))
  end
  for i = 1, n do
    local T = temperatures(i)
    local a, b = hf.helix_rate_ironing { temperature = T, set = ends[1] },
      hf.helix_rate_ironing { temperature = T, set = ends[2] }
    x[i] = 1000 / T
    low[i], high[i] = math.max(math.min(a, b), SLOWEST), math.max(a, b, SLOWEST)
  end
  return { kind = "band", name = ("iron, %.0f to %.0f kJ/mol"):format(limits[1] / 1e3, limits[2] / 1e3), x = x, low = low,
    high = high }
end

local function value(given, key, what, usual)
  local descriptor = { name = key, unit = what.unit, kind = what.kind }
  local x, message = units.value(given[key] == nil and usual or given[key], descriptor)
  return x or misuse("%s", message)
end

function fan.figure(given)
  if given ~= nil and type(given) ~= "table" then
    misuse("arrhenius_fan takes a table of options, not a %s", type(given))
  end
  given = given or {}
  for _, key in ipairs(suggest.sorted_keys(given)) do
    local known = false
    for _, name in ipairs(OPTIONS) do
      known = known or name == key
    end
    if not known then
      misuse("arrhenius_fan has no option \"%s\"%s", tostring(key), suggest.hint(key, OPTIONS))
    end
  end
  local low, high = value(given, "low", KELVIN, "100 degC"), value(given, "high", KELVIN, "240 degC")
  local regain = value(given, "regain", { unit = "1", kind = "fraction" }, 0.1)
  local n = given.points or 141
  if low >= high or math.type(n) ~= "integer" or n < 2 then
    misuse("arrhenius_fan needs low below high, and points = a whole number from 2")
  end
  local set = quantity.parameters(given.set) or core.parameters()
  local function temperatures(i)
    return low + (high - low) * (i - 1) / (n - 1)
  end
  local lines = { iron_fan(set, temperatures, n) }
  local hf = require "hairfibre"
  for _, line in ipairs(LINES) do
    local x, y, beyond = {}, {}, {}
    for i = 1, n do
      local T = temperatures(i)
      local rate, mark = hf[line[2]] { temperature = T, regain = line[3] and regain or nil, set = set }
      x[i], y[i], beyond[i] = 1000 / T, rate or 0 / 0, mark == "extrapolated"
    end
    local name = line[3] and ("%s %.3g %%"):format(line[1], 100 * regain) or line[1]
    lines[#lines + 1] = { name = name, x = x, y = y, extrapolated = beyond }
  end
  local marks = {}
  for celsius = 120, 200, 40 do
    local T = celsius + 273.15
    if T > low and T < high then
      marks[#marks + 1] = { x = 1000 / T, text = ("%d \u{B0}C"):format(celsius) }
    end
  end
  return require("hairfibre.plot").figure { title = given.title or "Rates of the damage channels",
    x = { label = "1000 / temperature", unit = "1/K" },
    y = { label = "Rate", unit = "1/s", scale = "log", low = SLOWEST, high = FASTEST },
    lines = lines, marks = marks, style = given.style,
    source = "wortmann2012, gillece2021, thermochimica2018, mcmullen1998; the law moved by regain is this "
      .. "project's own",
    note = "Channels are never added up. One temperature was measured in an iron, so any energy between the limits will do.",
    provenance = provenance.sentence(provenance.of(set)), caution = cautions.heat }
end

return fan
