-- A soaked and a conditioned fibre under the same plates: why the workshop dries its wefts first.
-- Everything about the workshop is invented.
--   hairfibre run examples/plates_wet_and_conditioned.lua --out FOLDER

local hf = require "hairfibre"

local fibre = hf.fibre { diameter = "70 um", humidity = "50 %" }
local press = { hf.plates { temperature = "200 degC", duration = "1 s" }, hf.rest { duration = "10 s" } }

local soaked = assert(hf.treat(fibre, { hf.soak { duration = "10 min" }, hf.blot {} }))
local wet = assert(hf.treat(soaked, press))
local conditioned = assert(hf.treat(fibre, press))

print("                          soaked, blotted    conditioned at 50 %")
for _, row in ipairs { { "highest pressure inside", "pressure_peak", math.max, "internal_vapour_pressure" },
  { "water left after the pass", "regain", nil, "regain" }, { "helix left", "helix", nil, "helix_remaining" } } do
  local cells = {}
  for i, r in ipairs { wet:since(3, 3), conditioned:since(1, 1) } do
    local values = r[row[2]]
    cells[i] = hf.show(row[3] and row[3](table.unpack(values)) or values[#values], row[4])
  end
  print(("%-25s %-18s %s"):format(row[1], cells[1]:match("^[^(]+"), cells[2]:match("^[^(]+")))
end
print(("%-25s %-18s %s"):format("voids", wet.grade, conditioned.grade))
print()

local figure = hf.compare { { "soaked", wet:since(3, 3) }, { "conditioned", conditioned:since(1, 1) },
  y = "pressure_axis", title = "Steam pressure on the axis, plates at 200 °C",
  marks = { { y = 0.101325, text = "the air outside" } }, note = "Isotherm above 150 °C extrapolated." }
assert(figure:save("pressure_on_the_axis.svg"))
assert(figure:save("pressure_on_the_axis.png"))
print(figure:preview { height = 12 })

local growth = hf.compare { { "soaked", wet:since(3, 3) }, { "conditioned", conditioned:since(1, 1) },
  y = "void_growth", title = "Growth of steam voids in one pass at 200 °C",
  note = "Growth ln(r/r0) at weak interfaces, calibrated. Invented workshop." }
assert(growth:save("void_growth.svg"))
assert(growth:save("void_growth.png"))

local rings = wet:rings { step = 3, times = { "10 ms", "0.1 s", "0.3 s", "1 s" }, title = "Water in the soaked fibre" }
assert(rings:save("rings.svg"))
assert(wet:save("wet.csv"))
assert(conditioned:save("conditioned.csv"))
print "Written: pressure_on_the_axis, void_growth (SVG, PNG, CSV), rings (SVG, CSV), wet.csv, conditioned.csv."
print "Bench samples on a stand only, never on a head. Hot tools and steam burn."
