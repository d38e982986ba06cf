-- Arrhenius fan: the rates of the damage channels on one plot, ln k against 1/T, each a line by itself.
--   hf.arrhenius_fan { low = "100 degC", high = "240 degC", regain = "10 %" }:save "fan.svg"

local cautions = require "hairfibre.cautions"
local misuse = require "hairfibre.misuse"
local quantity = require "hairfibre.quantity"
local suggest = require "hairfibre.suggest"
local units = require "hairfibre.units"

local fan = {}

local LINES = {
  { "helix, wet", "helix_rate_wet" },
  { "helix, this regain", "helix_rate", true },
  { "helix, iron", "helix_rate_ironing" },
  { "helix, dry", "helix_rate_dry" },
  { "tryptophan", "tryptophan_rate" },
}
local OPTIONS = { "low", "high", "regain", "set", "points", "title", "style" }
local KELVIN = { unit = "K", kind = "temperature" }

local function value(given, key, what, usual)
  local descriptor = { name = key, unit = what.unit, kind = what.kind }
  local x, message = units.value(given[key] == nil and usual or given[key], descriptor)
  return x or misuse("%s", message)
end

function fan.figure(given)
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
  if not (low < high) or math.type(n) ~= "integer" or n < 2 then
    misuse("arrhenius_fan needs low below high, and points = a whole number from 2")
  end
  local set, hf = quantity.parameters(given.set), require "hairfibre"
  local lines = {}
  for k, line in ipairs(LINES) do
    local x, y, beyond = {}, {}, {}
    for i = 1, n do
      local T = low + (high - low) * (i - 1) / (n - 1)
      local rate, mark = hf[line[2]] { temperature = T, regain = line[3] and regain or nil, set = set }
      x[i], y[i], beyond[i] = 1000 / T, rate or 0 / 0, mark == "extrapolated"
    end
    lines[k] = { name = line[1], x = x, y = y, extrapolated = beyond }
  end
  local marks = {}
  for celsius = 120, 220, 20 do
    local T = celsius + 273.15
    if T > low and T < high then
      marks[#marks + 1] = { x = 1000 / T, text = ("%d \u{B0}C"):format(celsius) }
    end
  end
  return require("hairfibre.plot").figure { title = given.title or "Rates of the damage channels",
    x = { label = "1000 / temperature", unit = "1/K" }, y = { label = "Rate", unit = "1/s", scale = "log" },
    lines = lines, marks = marks, style = given.style,
    source = "wortmann2012, gillece2021, thermochimica2018, mcmullen1998; the law moved by regain is this "
      .. "project's own",
    note = ("Regain %.3g %% for the line so named. Channels are never added up."):format(100 * regain),
    caution = cautions.heat }
end

return fan
