-- Swelling in time: a strand from a dry room falls into water. How fast does it thicken?
-- Predict first: draw how the diameter grows in the first two minutes, for a fine and for a thick strand.
--   hairfibre run examples/lessons/2_swelling_in_time.lua --out mine       (then: the same with the word answer)
local hf = require "hairfibre"

local function soaked(diameter) -- times in s, growth in %
  local r = assert(hf.treat(hf.fibre { diameter = diameter, humidity = "30 %" },
    { hf.soak { duration = "20 min" } }, { samples = 400, profiles = false }))
  local all, half = {}, nil
  for i, d in ipairs(r.diameter) do
    all[i] = 100 * (d / r.diameter[1] - 1)
    half = half or d >= 0.5 * (r.diameter[1] + r.diameter[#r]) and r.time[i]
  end
  return { time = r.time, all = all, half = half, growth = all[#all] }
end
local fine, thick = soaked "50 um", soaked "100 um"
local figure = hf.plot.figure { title = "Two strands in water", source = "diffusion: own fit; swelling: stam1952",
  x = { label = "Time", unit = "s", high = 120 }, y = { label = "Thicker than at the start by", unit = "%" },
  lines = { { name = "the fine one", x = fine.time, y = fine.all },
    { name = "the thick one", x = thick.time, y = thick.all } } }
hf.lesson { name = "swelling_in_time", figure = figure, questions = {
  { "By how much does the fine strand thicken, from 30 % humidity to water?", fine.growth, "%" },
  { "After how long has it grown by half of that?", fine.half, "s" },
  { "The thick strand is twice as wide: the same time, twice, or four times?", thick.half, "s" } } }:hand_out(arg[1])
