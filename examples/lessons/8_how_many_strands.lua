-- How many strands are enough? All of mine showed it: may I write "every strand"?
-- Predict first: if all of n strands show it, how small may the share of all strands still be (95 %)?
--   hairfibre run examples/lessons/8_how_many_strands.lua --out mine       (then: the same with the word answer)
local hf = require "hairfibre"

local function limits(shown, strands) return hf.binomial_interval { events = shown, strands = strands } end
local n, all, but_one = {}, {}, {}
for strands = 2, 60 do
  n[#n + 1], all[#all + 1] = strands, 100 * limits(strands, strands).low
  but_one[#but_one + 1] = 100 * limits(strands - 1, strands).low
end
local figure = hf.plot.figure { title = "What n strands prove", source = "exact binomial limits, 95 %, two-sided",
  x = { label = "Strands looked at" }, y = { label = "At least this share shows it", unit = "%", low = 0, high = 100 },
  lines = { { name = "all of them did", x = n, y = all }, { name = "all but one did", x = n, y = but_one } } }
hf.lesson { name = "how_many_strands", figure = figure, questions = {
  { "5 of 5 show it. At least what share of all strands does?", 100 * limits(5, 5).low, "%" },
  { "20 of 20?", 100 * limits(20, 20).low, "%" }, { "19 of 20?", 100 * limits(19, 20).low, "%" },
  { "0 of 10 show it. Up to what share may still do?", 100 * limits(0, 10).high, "%" },
  { "How many, all showing it, before the lower limit passes 95 %?", hf.limit_strands { share = 0.95 } },
} }:hand_out(arg[1])
