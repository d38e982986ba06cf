-- The pressure cooker in a strand: hot water that cannot get out pushes. How hard?
-- Predict first: draw the pressure inside a soaked and inside a nearly dry strand from 60 to 150 °C.
--   hairfibre run examples/lessons/3_pressure_cooker.lua --out mine        (then: the same with the word answer)
local hf = require "hairfibre"

local function bar(celsius, regain) return hf.internal_vapour_pressure(celsius + 273.15, regain) / 1e5 end
local hot, soaked, damp, dry = hf.sweep(60, 150, 91), {}, {}, {}
for i, t in ipairs(hot) do soaked[i], damp[i], dry[i] = bar(t, 0.3), bar(t, 0.1), bar(t, 0.05) end
-- ln p against 1/T, T in kelvin: the slope times R is a heat. In °C the same slope would be nonsense.
local heat = 8.314462618 * math.log(bar(140, 0.3) / bar(100, 0.3)) / (1 / 373.15 - 1 / 413.15)
local figure = hf.plot.figure { title = "Vapour pressure inside a sealed strand", source = "iapws-sr1-86, own fit",
  x = { label = "Temperature", unit = "degC" }, y = { label = "Pressure", unit = "bar", low = 0 },
  lines = { { name = "soaked, 30 % water", x = hot, y = soaked }, { name = "damp, 10 %", x = hot, y = damp },
    { name = "nearly dry, 5 %", x = hot, y = dry } }, marks = { { y = 1.01325, text = "the air outside" } } }
hf.lesson { name = "pressure_cooker", caution = "heat", figure = figure, questions = {
  { "What is the pressure inside a soaked strand (30 % water) at 100 °C?", bar(100, 0.3), "bar" },
  { "And at 150 °C: half as much again, or more?", bar(150, 0.3), "bar" },
  { "At 150 °C in a nearly dry strand (5 % water)?", bar(150, 0.05), "bar" },
  { "Soaked: slope of ln p against 1/T, 100 to 140 °C, times R. Which heat is it?", heat / 1e3, "kJ/mol" },
} }:hand_out(arg[1])
