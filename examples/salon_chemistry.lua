-- Bleach, wave, plates: what each step of an evening does to a weft, with every channel by itself.
-- The repertory theatre's wig workshop, its wefts and its evening are invented. Simulated, not to be tried: the
-- reagents burn skin and eyes, and belong to licensed practice.
--   hairfibre run examples/salon_chemistry.lua --out FOLDER

local hf = require "hairfibre"

local weft = hf.fibre { diameter = "70 um", humidity = "50 %" }
local dry = { hf.blot {}, hf.air { duration = "30 min", temperature = "25 degC" } }
local bleach = { hf.bleach { duration = "30 min", ph = 9.5, peroxide = "6 %", temperature = "32 degC" },
  hf.rinse { duration = "2 min" } }
local lotion = { hf.reduce { duration = "5 min", ph = 9.4, concentration = "1 mol/L", temperature = "23 degC" },
  hf.rinse { duration = "2 min" } }
local neutraliser = { hf.neutralise { duration = "15 min" }, hf.rinse { duration = "2 min" } }
local press = { hf.plates { temperature = "180 degC", duration = "5 s" } }

-- Runs lists of steps one after the other.
local function through(...)
  local r = weft
  for _, steps in ipairs { ... } do
    r = assert(hf.treat(r, steps))
  end
  return r
end

local ways = {
  { "bleached, dried", through(bleach, dry) },
  { "waved, dried", through(lotion, neutraliser, dry) },
  { "waved without neutraliser", through(lotion, dry) },
  { "bleached, waved, dried", through(bleach, lotion, neutraliser, dry) },
}

print "Half-cystine of each weft, umol per g dry fibre: a population of bonds, no share of strength"
print "                            cystine  thiol  cysteic acid  disulfide left"
for _, way in ipairs(ways) do
  local sulfur, left = way[2]:sulfur(), way[2].disulfide
  print(("%-27s %7.0f %6.0f %13.0f %14.1f %%"):format(way[1], 1e3 * sulfur.cystine, 1e3 * sulfur.thiol,
    1e3 * sulfur.cysteic, 100 * left[#left]))
end
print()

-- A neutraliser before the lotion finds nothing to join; the run goes on and says so.
local early = through(neutraliser, lotion)
for _, note in ipairs(early.notes) do
  if note:find "nothing to react" then
    print("Neutraliser first: " .. note)
  end
end
print()

-- The bleached and waved weft under the plates.
local pressed = assert(hf.treat(ways[4][2], press))
pressed:channels():print()
assert(pressed:channels():save "channels.csv")

local picture = ways[4][2]:plot { y = { "disulfide", "internal_ph" }, title = "An evening of one weft",
  note = "Invented workshop." }
assert(picture:save "evening_of_one_weft.svg")
assert(picture:save "evening_of_one_weft.png")
local plates = pressed:channel_plot { step = math.tointeger(pressed.step[#pressed]), title = "Five seconds at 180 °C",
  note = "Invented workshop." }
assert(plates:save "channels_under_the_plates.svg")
assert(plates:save "channels_under_the_plates.png")
local fan = hf.arrhenius_fan { regain = "10 %" }
assert(fan:save "rates_against_temperature.svg")
