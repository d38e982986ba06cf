-- Check a headline: what would have to be known before it may be printed?
-- Predict first, for each: supported, conditional, doubtful, refuted, or no model? Which condition is missing?
--   hairfibre run examples/lessons/9_check_a_headline.lua --out mine       (then: the same with the word answer)
local hf = require "hairfibre"

local questions = {}
for i, one in ipairs {
  { "Hair takes up 30 % of its weight in water.", "regain", "30 %", { humidity = "100 %" } },
  { "In a room at 65 % humidity, half of a strand is water.", "regain", "50 %", { humidity = "65 %" } },
  { "A dry strand boils inside at 100 °C, like a kettle.", "internal_boiling_temperature", "100 degC",
    { regain = "5 %", pressure = "1 atm" } },
  { "Getting wet and drying, over and over, wears hair out.", "hygral_fatigue", "weakens" },
} do
  local r = assert(hf.claim { quantity = one[2], says = one[3], at = one[4] })
  questions[i] = { one[1], r.verdict .. ". " .. r.caption }
end
local water = hf.tabulate("regain", { humidity = hf.sweep("0 %", "100 %", 101), temperature = "25 degC" })
local figure = hf.plot.result(water, { x = "humidity", y = { column = "regain", label = "Water, by dry mass" },
  title = "Water in hair at 25 °C", marks = { { y = 30, text = "the headline: 30 %" } },
  source = "chamberlain1931 (from memory), fitted" })
hf.lesson { name = "check_a_headline", figure = figure, questions = questions }:hand_out(arg[1])
