-- Bonds in a perm: which open, which close again? A model for the desk; nobody mixes anything in this lesson.
-- Predict first: draw the disulfide bonds through reducing, rinsing and neutralising, at pH 9.2 and at pH 8.5.
--   hairfibre run examples/lessons/6_bonds_in_a_perm.lua --out mine        (then: the same with the word answer)
local hf = require "hairfibre"

local function waved(ph)
  return assert(hf.treat(hf.fibre { humidity = "50 %" }, { hf.reduce { duration = "10 min", ph = ph,
    concentration = "0.6 mol/L", temperature = "25 degC" }, hf.rinse { duration = "2 min" },
    hf.neutralise { duration = "5 min" } }, { profiles = false }))
end
local function lowest(r) return 100 * math.min(table.unpack(r.disulfide)) end
local high, low = waved(9.2), waved(8.5)
local figure = hf.compare { { "pH 9.2", high }, { "pH 8.5", low },
  y = { column = "disulfide", label = "Disulfide bonds" }, title = "Disulfide bonds through a perm",
  source = "wickett-ch5, reduction-rate2015", note = "A population of bonds is never a share of strength." }
hf.lesson { name = "bonds_in_a_perm", caution = "chemical", figure = figure, questions = {
  { "How many disulfide bonds are left after ten minutes at pH 9.2?", lowest(high), "%" },
  { "And at pH 8.5, everything else the same?", lowest(low), "%" },
  { "How many are there again after neutralising (pH 9.2)?", 100 * high.disulfide[#high], "%" },
  { "Salt bridges in a bath of pH 3, over those at pH 6?", 100 * hf.salt_bridges(3) / hf.salt_bridges(6), "%" },
  { "How much weaker is the strand at the lowest point?", "the model does not say: it counts bonds, not strength" },
} }:hand_out(arg[1])
