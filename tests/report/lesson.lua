-- How much water does a fibre take up, and what does one hot pass leave?
-- For the tests of the report page; the workshop is invented.
local hf = require "hairfibre"

local humidity = hf.sweep("0 %", "100 %", 101)
local loop = hf.result { title = "Sorption", columns = {
  { name = "humidity", unit = "1", kind = "fraction", values = humidity, text = "relative humidity" },
  { name = "wetting", unit = "1", kind = "fraction", values = hf.regain { humidity = humidity, temperature = "25 degC" } },
  { name = "drying", unit = "1", kind = "fraction",
    values = hf.regain { humidity = humidity, temperature = "25 degC", branch = "desorption" } },
} }
assert(hf.plot.result(loop, { x = "humidity", y = { { column = "wetting", label = "Regain" }, "drying" },
  title = "Water in hair at 25 °C", source = "chamberlain1931, fitted" }):save "sorption.svg")
assert(loop:save "sorption.csv")

local hot = hf.sweep("60 degC", "220 degC", 81)
local pressure = hf.tabulate("internal_vapour_pressure", { temperature = hot, regain = 0.3 })
assert(hf.plot.result(pressure, { x = "temperature", y = { column = "internal_vapour_pressure", scale = "log" },
  dashed_from = 150, title = "Pressure inside a sealed fibre", marks = { { y = 0.101325, text = "the air outside" } },
  source = "iapws-sr1-86" }):save "pressure.svg")

assert(hf.plot.figure { title = "Counted strands (invented)", x = { categories = { "air", "dryer", "plates" } },
  y = { label = "Strands with voids", unit = "%" },
  lines = { { name = "first evening", kind = "bars", y = { 0, 3, 41 } } } }:save "counted.svg")

local pressed = assert(hf.treat(hf.fibre { humidity = "50 %" }, { hf.soak { duration = "1 min" }, hf.blot {},
  hf.plates { temperature = "180 degC", duration = "1 s" } }, { cells = 24, samples = 40 }))
assert(pressed:save "pressed.csv")
assert(assert(hf.sensitivity("internal_vapour_pressure", { temperature = "150 degC", regain = "10 %", samples = 64 })):plot()
  :save "decides.svg")
