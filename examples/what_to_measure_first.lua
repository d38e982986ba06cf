-- The wig workshop (invented) wants to say how far steam voids grow in its damp wefts, and asks what to measure first. Which
-- input makes the answer so wide: the wefts, the tool, or what nobody knows about hot wet hair?
--   hairfibre run examples/what_to_measure_first.lua --out FOLDER

local hf = require "hairfibre"

local question = { answer = "void_growth", population = "caucasian", lumped = true, fibre = hf.fibre { humidity = "55 %" },
  treatment = { hf.soak { duration = "10 min" }, hf.blot {}, hf.plates { temperature = "150 degC", duration = "1 s" },
    hf.rest { duration = "10 s" } } }

local function with(more)
  local copy = {}
  for key, x in pairs(question) do
    copy[key] = x
  end
  for key, x in pairs(more) do
    copy[key] = x
  end
  return copy
end

-- Wide, and wide beside the other models: parameters and strands are drawn, rivals are listed.
local all = assert(hf.uncertainty(with { draws = 256 }))
all:print()

-- Strands alone: what is left when the parameters are taken as exact.
local strands = assert(hf.uncertainty(with { draws = 256, parameters = false }))
print(("\n95 %% of the draws: %.2f to %.2f; of the strands alone: %.2f to %.2f\n"):format(all.low, all.high, strands.low, strands.high))

-- The ranking says where a measurement pays.
local ranked = assert(hf.sensitivity(with { tours = 12 }))
ranked:print { rows = 10 }
local figure = ranked:plot { title = "What decides how far voids grow", most = 8 }
assert(figure:save "what_to_measure_first.svg")
assert(figure:save "what_to_measure_first.png")
print(figure:preview { height = 14 })
