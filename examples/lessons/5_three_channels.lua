-- Three channels and Arrhenius: what do 40 °C more do to the speed of damage?
-- Predict first: three lines, one for each channel, from 140 to 220 °C. Which is the steepest?
--   hairfibre run examples/lessons/5_three_channels.lua --out mine         (then: the same with the word answer)
local hf = require "hairfibre"

local hot, lines, faster = hf.sweep("140 degC", "220 degC", 81), {}, {}
for i, one in ipairs { { "helices, wet", hf.helix_rate_wet }, { "helices, dry", hf.helix_rate_dry },
  { "tryptophan", hf.tryptophan_rate } } do
  local x, y, beyond = {}, {}, {}
  for k, T in ipairs(hot) do
    local rate, word = one[2](T)
    x[k], y[k], beyond[k] = T - 273.15, rate, word == "extrapolated"
  end
  lines[i], faster[i] = { name = one[1], x = x, y = y, extrapolated = beyond }, one[2](473.15) / one[2](433.15)
end
local figure = hf.plot.figure { title = "Rates of three damage channels", lines = lines,
  x = { label = "Temperature", unit = "degC" }, y = { label = "Rate", unit = "1/s", scale = "log" },
  source = "wortmann2012, milczarek1992, mcmullen1998", note = "Channels never add up to one damage in percent." }
hf.lesson { name = "three_channels", caution = "heat", figure = figure, questions = {
  { "Helices, wet: how many times faster at 200 than at 160 °C?", faster[1] },
  { "Helices, dry?", faster[2] }, { "Tryptophan?", faster[3] },
  { "Time at 180 °C until 1 % of the tryptophan is gone?", -math.log(0.99) / hf.tryptophan_rate(453.15), "s" },
} }:hand_out(arg[1])
