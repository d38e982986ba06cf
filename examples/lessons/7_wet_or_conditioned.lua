-- Wet against conditioned at the plates: one second at 180 °C, on a stand. Which strand comes off worse?
-- Predict first: draw how far steam voids grow in a soaked strand and in one kept at 50 % humidity.
--   hairfibre run examples/lessons/7_wet_or_conditioned.lua --out mine     (then: the same with the word answer)
local hf = require "hairfibre"

local fibre = hf.fibre { diameter = "70 um", humidity = "50 %" }
local press = hf.plates { temperature = "180 degC", duration = "1 s" }
local wet = assert(hf.treat(fibre, { hf.soak { duration = "10 min" }, hf.blot {}, press }))
local kept = assert(hf.treat(fibre, { press }))
local function last(r, name) return r[name][#r] end
local figure = hf.compare { { "soaked", wet:since(3) }, { "kept at 50 %", kept:since(1) }, y = "void_growth",
  title = "Growth of steam voids between hot plates", x = { column = "time", label = "Time between the plates" },
  note = "Growth ln(r/r0) at weak interfaces, calibrated." }
hf.lesson { name = "wet_or_conditioned", caution = "heat", figure = figure, questions = {
  { "Growth ln(r/r0) of voids in the soaked strand after 1 s?", last(wet, "void_growth") },
  { "In the strand kept at 50 %?", last(kept, "void_growth") },
  { "In words: the soaked strand?", wet.grade }, { "In words: the strand kept at 50 %?", kept.grade },
  { "Helices left in the soaked strand?", 100 * last(wet, "helix"), "%" },
  { "Helices left in the strand kept at 50 %?", 100 * last(kept, "helix"), "%" } } }:hand_out(arg[1])
