-- The lessons: short, quick, with a sheet that tells nothing, a key apart and a caution. Numbers of the keys are
-- computed once more here by another way: closed forms of statistics and diffusion, single values of the command.
package.path = "tests/command/?.lua;" .. package.path
local h = require "harness"
local MOST = (os.getenv("SANITISE") or "") == "" and "5" or "60" -- s for a lesson; sanitized builds are slow

local lessons = {
  { "1_hygrometer", "hygrometer" }, { "2_swelling_in_time", "swelling_in_time" }, { "3_pressure_cooker", "pressure_cooker" },
  { "4_internal_boiling", "internal_boiling" }, { "5_three_channels", "three_channels" },
  { "6_bonds_in_a_perm", "bonds_in_a_perm" }, { "7_wet_or_conditioned", "wet_or_conditioned" },
  { "8_how_many_strands", "how_many_strands" }, { "9_check_a_headline", "check_a_headline" },
}
local folder = h.root .. "/examples/lessons/"

-- Rows of a CSV file without line breaks in its cells.
local function rows_of(name)
  local rows = {}
  for line in (h.read(h.work .. "/out/" .. name) or ""):gsub("^#[^\n]*\n", ""):gmatch("[^\n]+") do
    local cells, rest = {}, line .. ","
    while rest ~= "" do
      local cell, after = rest:match('^"(.-)",(.*)$')
      while cell and select(2, cell:gsub('"', "")) % 2 == 1 do -- a doubled quotation mark inside
        local more, behind = after:match('^(.-"),(.*)$')
        cell, after = cell .. '",' .. more:sub(1, -2), behind
      end
      if not cell then
        cell, after = rest:match("^([^,]*),(.*)$")
      end
      cells[#cells + 1], rest = cell:gsub('""', '"'), after
    end
    rows[#rows + 1] = cells
  end
  return rows
end

local listed = io.popen("ls " .. h.quote(folder)):read("a")
local page = h.read(h.root .. "/docs/lessons.md") or ""
local _, count = listed:gsub("%.lua\n", "")
h.check(count == #lessons, "every lesson is tested", listed)

local keys = {}
for _, lesson in ipairs(lessons) do
  local file, name = lesson[1], lesson[2]
  local text = h.read(folder .. file .. ".lua") or ""
  local _, lines = text:gsub("\n", "")
  h.check(lines > 5 and lines < 25, file .. " has fewer than 25 lines", tostring(lines))
  h.check(text:find("Predict first", 1, true) and text:find("\n--   hairfibre run examples/lessons/" .. file .. ".lua", 1, true),
    file .. " asks for a prediction and says how it is run")
  h.check(page:find("lessons/" .. file .. ".lua", 1, true), "docs/lessons.md has notes on " .. file)

  local code, out, err = h.run { "run", "--seconds", MOST, folder .. file .. ".lua", "--out", "out" }
  h.check(code == 0 and err == "" and out:find("Bench samples on a stand", 1, true) and out:find("Write your predictions", 1, true),
    file .. " asks", out .. err)
  h.narrow(out, file)
  local sheet = rows_of(name .. "_sheet.csv")
  local blank = #sheet >= 4
  for i = 2, #sheet do
    blank = blank and sheet[i][4] == "" and sheet[i][5] == "" and sheet[i][6] == ""
  end
  h.check(blank and table.concat(sheet[1], " ") == "number question unit my_prediction the_model_says why_they_differ",
    file .. ": the sheet has blanks", table.concat(sheet[1] or {}, " "))
  h.check(#sheet > 0 and sheet[#sheet][2]:find("^Caution: "), file .. ": the sheet has the caution")
  local svg = h.read(h.work .. "/out/" .. name .. "_blank.svg") or ""
  h.check(svg:find("Draw your prediction first", 1, true), file .. ": blank axes to draw on", svg:sub(1, 200))
  h.check(not h.listing():find(name .. "_key.csv", 1, true) and not h.listing():find("/" .. name .. ".svg", 1, true),
    file .. ": no answer before it is asked for", h.listing())

  code, out, err = h.run { "run", "--seconds", MOST, folder .. file .. ".lua", "answer", "--out", "out" }
  h.check(code == 0 and err == "" and out:find("   -> ", 1, true) and out:find("Bench samples on a stand", 1, true),
    file .. " answers", out .. err)
  h.narrow(out, file .. " answer")
  local key = rows_of(name .. "_key.csv")
  h.check(#key == #sheet and key[1][3] == "answer", file .. ": the key fits the sheet", ("%d, %d"):format(#key, #sheet))
  for i = 2, #key - 1 do
    h.check(key[i][2] == sheet[i][2] and key[i][3] ~= "", ("%s: question %d has an answer"):format(file, i - 1))
  end
  svg = h.read(h.work .. "/out/" .. name .. ".svg") or ""
  h.check(svg:find("</svg>", 1, true) and (h.read(h.work .. "/out/" .. name .. ".csv") or "") ~= "", file .. ": figure and its numbers")
  keys[name] = key
  code, out, err = h.run { "report", folder .. file .. ".lua", "answer", "--save", "page.html" }
  local html = h.read(h.work .. "/page.html") or ""
  h.check(code == 0 and html:find('class="chart"', 1, true) and html:find("Bench samples on a stand", 1, true)
    and html:find("Predict first", 1, true), file .. " as a page for a browser", err)
end
h.row { "run", folder .. "1_hygrometer.lua", "answers", "--out", "out", code = 1, err = { 'takes the word "answer"' } }

-- ---- the numbers once more ----------------------------------------------------------------------------

local function full(name, question)
  local row = keys[name] and keys[name][question + 1]
  return row and tonumber(row[5]) or 0 / 0
end

local function value(quantity, ...)
  local words = { "value", quantity, "--raw" }
  for _, condition in ipairs { ... } do
    words[#words + 1], words[#words + 2] = "--at", condition
  end
  local code, out = h.run(words)
  return code == 0 and tonumber(out) or 0 / 0
end

local function near(what, got, wanted, share)
  h.check(math.abs(got - wanted) <= share * math.abs(wanted), what, ("%.10g, %.10g wanted"):format(got, wanted))
end

local function regain(humidity, branch)
  return value("regain", "humidity=" .. humidity .. "%", "temperature=20degC", "branch=" .. (branch or "absorption"))
end
local function length(humidity, branch)
  return 200 * value("length_swelling", ("regain=%.17g"):format(regain(humidity, branch)))
end
near("hygrometer: 30 to 90 %", full("hygrometer", 1), length(90) - length(30), 1e-9)
near("hygrometer: 70 to 90 %", full("hygrometer", 3), length(90) - length(70), 1e-9)
near("hygrometer: the loop", full("hygrometer", 5), length(65, "desorption") - length(65), 1e-9)
h.check(full("hygrometer", 2) > full("hygrometer", 3), "hygrometer: the scale narrows in damp air")

-- Diffusion into a cylinder goes with time over radius squared (Crank, The mathematics of diffusion, ch. 5).
near("swelling: twice as thick takes four times as long", full("swelling_in_time", 3) / full("swelling_in_time", 2), 4, 0.01)
local function wide(w)
  return 1 + value("diameter_swelling", ("regain=%.17g"):format(w))
end
near("swelling: growth", full("swelling_in_time", 1), 100 * (wide(value("saturation_regain", "temperature=20degC")) / wide(regain(30)) - 1), 0.002)

-- Steam tables (IAPWS): 101.42 kPa at 100 degC, 476.16 kPa at 150 degC, 361.54 kPa at 140 degC; hfg at 120 degC 2202 kJ/kg.
near("pressure cooker: 100 degC", full("pressure_cooker", 1), 1.0142, 1e-4)
near("pressure cooker: 150 degC", full("pressure_cooker", 2), 4.7616, 1e-4)
near("pressure cooker: nearly dry", full("pressure_cooker", 3), value("internal_vapour_pressure", "temperature=150degC", "regain=5%") / 1e5, 1e-9)
near("pressure cooker: the slope by the steam table", full("pressure_cooker", 4),
  8.314462618e-3 * math.log(361.54 / 101.42) / (1 / 373.15 - 1 / 413.15), 1e-4)
near("pressure cooker: the slope is the heat of vaporisation", full("pressure_cooker", 4), 2202 * 18.015e-3, 0.03)

local function boils(w, height)
  return value("internal_boiling_temperature", ("regain=%.17g"):format(w),
    ("pressure=%.17gPa"):format(value("standard_pressure", "altitude=" .. (height or "0m")))) - 273.15
end
near("internal boiling: kept at 30 %", full("internal_boiling", 1), boils(regain(30)), 1e-7)
near("internal boiling: kept at 65 %", full("internal_boiling", 2), boils(regain(65)), 1e-7)
near("internal boiling: soaked hair boils like water, 99.97 degC at 101.325 kPa", full("internal_boiling", 3), 99.974, 1e-4)
near("internal boiling: 2000 m", full("internal_boiling", 4), boils(regain(30), "2000m"), 1e-7)

local names = { "helix_rate_wet", "helix_rate_dry", "tryptophan_rate" }
for i, name in ipairs(names) do
  near("channels: " .. name, full("three_channels", i), value(name, "temperature=200degC") / value(name, "temperature=160degC"), 1e-9)
end
near("channels: 1 % of the tryptophan", full("three_channels", 4),
  math.log(1 / 0.99) / value("tryptophan_rate", "temperature=180degC"), 1e-9)

-- A law of first order: logarithms of what is left go as the rates.
local function thiol(ph)
  return value("thiol_reduction_rate", "temperature=25degC", "concentration=0.6mol/L", "ph=" .. ph)
end
near("perm: the two baths go as their rates", math.log(full("bonds_in_a_perm", 1) / 100) / math.log(full("bonds_in_a_perm", 2) / 100),
  thiol(9.2) / thiol(8.5), 0.03)
near("perm: salt bridges", full("bonds_in_a_perm", 4), 100 * value("salt_bridges", "ph=3") / value("salt_bridges", "ph=6"), 1e-9)
h.check(full("bonds_in_a_perm", 1) < full("bonds_in_a_perm", 3) and full("bonds_in_a_perm", 3) < 100, "perm: some close again, not all")

h.write("fine.lua", [[
local hf = require "hairfibre"
local press = hf.plates { temperature = "453.15 K", duration = "1000 ms" }
for _, steps in ipairs { { hf.soak { duration = "600 s" }, hf.blot {}, press }, { press } } do
  local r = assert(hf.treat(hf.fibre { diameter = 7e-5, humidity = 0.5 }, steps, { cells = 160, tolerance = 1e-6 }))
  print(r.void_growth[#r], r.helix[#r])
end
]])
local _, out = h.run { "run", "fine.lua" }
local numbers = {}
for x in out:gmatch("%S+") do
  numbers[#numbers + 1] = tonumber(x)
end
for i, pair in ipairs { { 1, 1, "growth, soaked" }, { 2, 3, "growth, kept" }, { 5, 2, "helices, soaked" }, { 6, 4, "helices, kept" } } do
  near("plates on a finer mesh: " .. pair[3], full("wet_or_conditioned", pair[1]), (numbers[pair[2]] or 0 / 0) * (i > 2 and 100 or 1), 0.01)
end

-- Exact limits: the share p at which so many or more (or so few or fewer) turn up in 2.5 % of all evenings.
near("strands: 5 of 5", full("how_many_strands", 1), 100 * 0.025 ^ (1 / 5), 1e-9)
near("strands: 20 of 20", full("how_many_strands", 2), 100 * 0.025 ^ (1 / 20), 1e-9)
local p = full("how_many_strands", 3) / 100
near("strands: 19 of 20", p ^ 20 + 20 * p ^ 19 * (1 - p), 0.025, 1e-9)
near("strands: 0 of 10", full("how_many_strands", 4), 100 * (1 - 0.025 ^ (1 / 10)), 1e-9)
h.check(full("how_many_strands", 5) == math.ceil(math.log(0.025) / math.log(0.95)), "strands: how many", tostring(full("how_many_strands", 5)))

local claims = { { "regain", "30 %", "humidity=100%" }, { "regain", "50 %", "humidity=65%" },
  { "internal_boiling_temperature", "100 degC", "regain=5%", "pressure=1atm" }, { "hygral_fatigue", "weakens" } }
for i, claim in ipairs(claims) do
  local words = { "claim", claim[1], "--says", claim[2] }
  for k = 3, #claim do
    words[#words + 1], words[#words + 2] = "--at", claim[k]
  end
  local _, said = h.run(words)
  local verdict = said:match("\n  verdict%s+([%a ]-):") or said:match("\n  verdict%s+([%a ]+)")
  local row = (keys.check_a_headline or {})[i + 1] or {}
  h.check(verdict and (row[3] or ""):find("^" .. verdict .. "%."), "headline " .. i .. ": the verdict of the command",
    tostring(verdict) .. " | " .. tostring(row[3]))
end

h.finish()
