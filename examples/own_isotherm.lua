-- A workshop's own isotherm, from the balance to an answer that carries its uncertainty. All data are invented.
--   hairfibre run examples/own_isotherm.lua --out isotherm

local hf = require "hairfibre"

-- 1. The file: what it was taken for is printed, nothing is dropped in silence.
local data = assert(hf.import { file = "data/sorption_invented.csv", x = "water_activity", y = "regain", group = "branch" })
print(data:text())

-- 2. Two models, both branches at once; the parameters of each branch are its own.
local gab = assert(hf.fit { model = "gab", data = data, title = "GAB" })
local darcy = assert(hf.fit { model = "darcy_watt", data = data, title = "D'Arcy-Watt" })
print(gab:report())
hf.compare_models({ gab, darcy }):print()

-- 3. How sure are the intervals? Re-fits to points drawn anew.
gab:bootstrap({ replicates = 500, seed = 1 }):print()

-- 4. Pictures: the curve, then whether the residuals look like chance.
assert(gab:plot():save "isotherm.svg")
assert(gab:plot("quantiles", { style = "print" }):save "quantiles.svg")

-- 5. The numbers as a parameter set: what does a humid evening do to these wefts, and how well is that known?
local set = assert(gab:parameter_set { name = "workshop wefts", temperature = "25 degC" })
assert(set:save "wefts.json")
for _, humidity in ipairs { "50 %", "65 %", "80 %" } do
  local own = assert(hf.uncertainty("regain", { humidity = humidity, temperature = "25 degC", set = set }))
  local shipped = assert(hf.uncertainty("regain", { humidity = humidity, temperature = "25 degC" }))
  print(("%s: %s, 95 %% between %s and %s; shipped numbers: %s to %s"):format(humidity, hf.show(own.median, "regain"),
    hf.show(own.low, "regain"), hf.show(own.high, "regain"), hf.show(shipped.low, "regain"),
    hf.show(shipped.high, "regain")))
end
