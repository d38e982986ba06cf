-- First lesson of the wig workshop: what one pass of a hot plate does to a weft of human hair.
-- The workshop and its log are invented; the physics is not. Change a number, run it again, look.
--   hairfibre run examples/first_lesson.lua --out FOLDER

local hf = require "hairfibre"

local function show(figure, name)
  local done, why = figure:save(name .. ".svg")
  if done then
    done, why = figure:save(name .. ".png")
  end
  if not done then
    print(why) -- no gnuplot here: the numbers are saved all the same
  end
  print(figure:preview { height = 11 })
end

-- 1. Water: the same air leaves more water in a weft that dries than in one that is wetted.
local humidity = hf.sweep("0 %", "100 %", 101)
local loop = hf.result { columns = {
  { name = "humidity", unit = "1", kind = "fraction", values = humidity, text = "relative humidity" },
  { name = "wetting", unit = "1", kind = "fraction",
    values = hf.regain { humidity = humidity, temperature = "20 degC" } },
  { name = "drying", unit = "1", kind = "fraction",
    values = hf.regain { humidity = humidity, temperature = "20 degC", branch = "desorption" } },
} }
show(hf.plot.result(loop, { x = "humidity", y = { { column = "drying", label = "Regain" }, "wetting" }, title = "Water in hair at 20 °C",
  source = "chamberlain1931 (from memory), fitted" }), "isotherm")

-- 2. Swelling: thickness grows several times more than length.
local regain = hf.sweep("0 %", "31 %", 63)
local swelling = hf.result { columns = {
  { name = "regain", unit = "1", kind = "fraction", values = regain },
  { name = "diameter", unit = "1", kind = "fraction", values = hf.diameter_swelling { regain = regain } },
  { name = "length", unit = "1", kind = "fraction", values = hf.length_swelling { regain = regain } },
} }
show(hf.plot.result(swelling, { x = "regain", y = { { column = "diameter", label = "Growth" }, "length" },
  title = "Swelling from bone dry", source = "stam1952 (from memory), fitted" }), "swelling")

-- 3. Pressure: the wetter the fibre, the sooner its water pushes harder than the air outside.
local fibres = { { "conditioned", "35 % humidity", hf.regain("35 %", "20 degC") },
  { "damp", "15 % regain", 0.15 }, { "soaked", "31 % regain", 0.31 } }
local hot = hf.sweep("60 degC", "220 degC", 81)
local pressures = { { name = "temperature", unit = "K", kind = "temperature", values = hot } }
for _, fibre in ipairs(fibres) do
  pressures[#pressures + 1] = { name = fibre[1], unit = "Pa", kind = "number",
    values = hf.internal_vapour_pressure { temperature = hot, regain = fibre[3] } }
end
show(hf.plot.result(hf.result { columns = pressures }, { x = "temperature",
  y = { { column = "soaked", label = "Vapour pressure", scale = "log" }, "damp", "conditioned" }, dashed_from = 150,
  title = "Vapour pressure inside a sealed fibre", marks = { { y = 0.101325, text = "the air outside" },
    { x = 100, text = "100 °C" } }, source = "iapws-sr1-86; isotherm above 150 °C extrapolated" }),
  "pressure")

print("fibre        water  boils inside at   pressure inside at 180 °C")
for _, fibre in ipairs(fibres) do
  print(("%-12s %-5s  %-15s   %s"):format(fibre[1], hf.show(fibre[3], "regain"):match("^%S+ %%"),
    (hf.show(hf.internal_boiling_temperature { regain = fibre[3] }, "temperature"):match("^[^(]+")),
    (hf.show(hf.internal_vapour_pressure { temperature = "180 degC", regain = fibre[3] },
      "internal_vapour_pressure"))))
end

-- 4. Damage: every channel by itself, from the log of one pass, once, ten and fifty times.
local damage = hf.damage { history = "data/plate_log_invented.csv", passes = { 1, 10, 50 } }
print()
print "Left after the passes of the invented log, each channel by itself:"
damage:print()
assert(damage:save("damage.csv"))
show(hf.plot.result(damage, { x = "passes", y = { { column = "helix", label = "Left" }, "tryptophan" }, kind = "points",
  title = "What is left after 1, 10 and 50 passes" }), "damage")

print "Pictures (SVG, PNG) and numbers (CSV): isotherm, swelling, pressure, damage."
