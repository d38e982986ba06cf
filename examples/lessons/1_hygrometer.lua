-- A hair hygrometer: how much longer is a strand in damp air?
-- Predict first: draw the length of a 200 mm strand against humidity on the blank axes.
--   hairfibre run examples/lessons/1_hygrometer.lua --out mine        (then: the same with the word answer)
local hf = require "hairfibre"

local function growth(humidity, branch) -- mm, of a strand that is 200 mm long when bone dry
  return 200 * hf.length_swelling(hf.regain(humidity, "20 degC", branch))
end
local humidity, wetting, drying = hf.sweep(0, 1, 101), {}, {}
for i, h in ipairs(humidity) do
  wetting[i], drying[i], humidity[i] = growth(h), growth(h, "desorption"), 100 * h
end
local figure = hf.plot.figure { title = "A strand of 200 mm", source = "stam1952 (from memory), fitted",
  x = { label = "Relative humidity", unit = "%" }, y = { label = "Longer than bone dry by", unit = "mm" },
  lines = { { name = "getting damper", x = humidity, y = wetting }, { name = "drying", x = humidity, y = drying } } }
hf.lesson { name = "hygrometer", figure = figure, questions = {
  { "How much longer is the strand at 90 % than at 30 % humidity?", growth(0.9) - growth(0.3), "mm" },
  { "How much does it grow from 30 to 50 %?", growth(0.5) - growth(0.3), "mm" },
  { "And from 70 to 90 %: more, less, or the same?", growth(0.9) - growth(0.7), "mm" },
  { "A lever moves 10 mm for each mm. How far from 30 to 90 %?", 10 * (growth(0.9) - growth(0.3)), "mm" },
  { "At 65 %, how much longer if it got there by drying?", growth(0.65, "desorption") - growth(0.65), "mm" },
} }:hand_out(arg[1])
