-- Internal boiling: does the water in hair boil at 100 °C?
-- Predict first: draw the temperature at which water boils inside a strand that was kept at each humidity.
--   hairfibre run examples/lessons/4_internal_boiling.lua --out mine       (then: the same with the word answer)
local hf = require "hairfibre"

local function boils(regain, place) -- degC
  local pressure = hf.standard_pressure(place or "0 m")
  return hf.internal_boiling_temperature { regain = regain, pressure = pressure } - 273.15
end
local function kept_at(humidity) return hf.regain(humidity, "20 degC") end
local humidity, sea, mountain = hf.sweep(0.1, 0.95, 86), {}, {}
for i, h in ipairs(humidity) do
  sea[i], mountain[i], humidity[i] = boils(kept_at(h)), boils(kept_at(h), "2000 m"), 100 * h
end
local figure = hf.plot.figure { title = "When water boils inside a strand", source = "iapws-sr1-86, own fit",
  x = { label = "Humidity the strand was kept at", unit = "%" }, y = { label = "Boils inside at", unit = "degC" },
  lines = { { name = "at the sea", x = humidity, y = sea }, { name = "at 2000 m", x = humidity, y = mountain } } }
hf.lesson { name = "internal_boiling", caution = "heat", figure = figure, questions = {
  { "A strand kept at 30 % humidity: when does its water boil inside?", boils(kept_at(0.3)), "degC" },
  { "Kept at 65 %?", boils(kept_at(0.65)), "degC" }, { "Soaked (30 % water)?", boils(0.3), "degC" },
  { "Kept at 30 %, on a mountain at 2000 m?", boils(kept_at(0.3), "2000 m"), "degC" } } }:hand_out(arg[1])
