-- hairfibre fit from outside: reports, files, sets that other commands use, what is wrong with a call or a file.
package.path = "tests/command/?.lua;" .. package.path
local h = require "harness"

assert(h.shell("cp -r " .. h.quote(h.root .. "/examples/data") .. " data") == 0)
local DATA = "data/sorption_invented.csv"

-- ---- reports --------------------------------------------------------------------------------------------

local out = h.row { "fit", "gab", DATA, "--group", "branch", out = { "21 rows used, 0 left out", "shown by",
  "Fit of gab to regain against water_activity", "21 points, 6 parameters estimated, 15 degrees of freedom",
  "monolayer[absorption]", "Intervals: profile likelihood", "RSS", "AICc", "condition number", "Correlations",
  "runs of one sign", "leverage", "converged", "start: monolayer[absorption]", "No row of the file was left out",
  "SHA-256" } }
h.narrow(out, "report of fit")
h.row { "fit", "gab", DATA, "--x", "water_activity", "--y", "regain", "--group", "branch", "--shared", "k", "--level",
  "90%", out = { "5 parameters estimated", "90 % low" } }
h.row { "fit", "gab", DATA, "--group", "branch", "--compare", "darcy_watt", "--bootstrap", "100", out = {
  "Models of the same points", "darcy_watt", "weight", "Parametric bootstrap: 100 replicates, seed 1" } }
h.row { "fit", "gab", DATA, "--group", "branch", "--bounds", "k=0..0.7", "--fixed", "c=10", "--robust", out = {
  "fixed", "robust loss" } }
h.row { "fit", "--list", out = { "gab: layers on sites", "kissinger", "weibull_line", "must be given" } }
h.row { "fit", "--look", DATA, out = { "water_activity", "regain" } }
out = h.row { "fit", "gab", DATA, "--group", "branch", "--json", out = { '"model":"gab"', '"covariance"', '"sha256"',
  '"residuals"' } }
local one, two = out, h.row { "fit", "gab", DATA, "--group", "branch", "--json" }
h.check(one == two, "fit twice: the same bytes")

-- ---- a model of one's own -------------------------------------------------------------------------------

h.write("rise.lua", "return { model = function(x, b) return b.top * (1 - math.exp(-b.rate * x)) end, "
  .. "start = { top = 0.2, rate = 1 } }\n")
h.row { "fit", "rise.lua", DATA, "--x", "water_activity", "--y", "regain", out = { "Fit of a function to regain", "rate",
  "top" } }
h.write("number.lua", "return 7\n")
h.row { "fit", "number.lua", DATA, "--x", "water_activity", "--y", "regain", code = 3, err = { "must return a table" } }
h.write("fails.lua", "return { model = function() error('out of tea') end, start = { 1 } }\n")
h.row { "fit", "fails.lua", DATA, "--x", "water_activity", "--y", "regain", code = 1, err = { "the model failed",
  "out of tea" } }
h.write("reads.lua", "return { model = function(x, b) io.open('/etc/passwd') return b[1] end, start = { 1 } }\n")
h.row { "fit", "reads.lua", DATA, "--x", "water_activity", "--y", "regain", code = 1, err = { "the model failed", "io" } }

-- ---- lives ----------------------------------------------------------------------------------------------

h.write("lives.csv", "cycles,state\n1200,broke\n5300,broke\n8100,broke\n15500,broke\n21000,broke\n30000,survived\n"
  .. "30000,survived\n")
h.row { "fit", "weibull", "lives.csv", "--y", "cycles", "--survived", "state", out = { "5 broke, 2 survived", "scale",
  "shape" } }
h.row { "fit", "weibull", "lives.csv", "--y", "cycles", out = { "7 broke, 0 survived" } }

-- ---- the invented data of the examples ------------------------------------------------------------------

-- Numbers that a report gives for a parameter: value, standard error, low, high.
local function row_of(text, name)
  local list = {}
  local line = ("\n" .. text):match("\n%s+" .. name:gsub("%p", "%%%0") .. "%s+([^\n]+)") or ""
  for word in line:gmatch("%S+") do
    list[#list + 1] = tonumber(word)
  end
  return list
end

-- The value that the data were drawn with lies in the interval.
local function holds(text, name, value)
  local row = row_of(text, name)
  h.check(row[4] and row[3] <= value and value <= row[4], name .. " is found again", text)
end

out = h.row { "fit", "radial_uptake", "data/uptake_invented.csv", "--fixed", "radius=35um" }
holds(out, "diffusivity", 3.4e-12)
out = h.row { "fit", "kissinger", "data/denaturation_invented.csv", "--group", "state" }
holds(out, "activation_energy[wet]", 263) -- kJ/mol, wortmann2012
holds(out, "activation_energy[dry]", 416)
out = h.row { "fit", "weibull_line", "data/fatigue_invented.csv", "--survived", "survived", out = { "55 broke, 5 survived" } }
holds(out, "shape", 0.9)
out = h.row { "fit", "gab", DATA, "--group", "branch" }
holds(out, "monolayer[absorption]", 0.09)
holds(out, "c[absorption]", 11)
holds(out, "k[desorption]", 0.671)
h.row { "fit", "stress_strain", "data/tensile_invented.csv", "--group", "state", out = { "yield_strain[wet]", "GPa" } }
h.row { "fit", "first_order", "data/loss_invented.csv", "--group", "temperature", "--unit", "temperature=degC", out = {
  "groups: 135, 150, 160" } }
h.row { "fit", "swelling", "data/swelling_invented.csv", out = { "1 parameter estimated" } }

local code, said, err = h.run { "run", h.root .. "/examples/own_isotherm.lua", "--out", "isotherm" }
h.check(code == 0 and err == "" and said:find("shipped numbers", 1, true) and h.read(h.work .. "/isotherm/wefts.json"),
  "examples/own_isotherm.lua", said .. err)

-- ---- files and sets -------------------------------------------------------------------------------------

h.row { "fit", "gab", DATA, "--group", "branch", "--save", "fit.svg", "--save", "residuals=residuals.svg", "--save",
  "fit.json", "--save", "points=points.csv", "--save", "report.txt", "--save-set", "wefts.json", writes = true }
for _, name in ipairs { "fit.svg", "fit.csv", "residuals.svg", "fit.json", "points.csv", "report.txt", "wefts.json" } do
  h.check(h.read(h.work .. "/" .. name), "fit writes " .. name)
end
h.check((h.read(h.work .. "/fit.svg") or ""):find("<svg", 1, true), "fit.svg is a picture")
local with = h.row { "value", "regain", "--at", "humidity=65%", "--set", "wefts.json", "--range", "draws", out = {
  "set wefts", "fit of gab to sorption_invented.csv" } }
local low, high = with:match("about 95 %%: ([%d.]+) to ([%d.]+) %%")
h.check(low and tonumber(high) - tonumber(low) < 0.5, "the range is that of the fit, not of the laboratories", with)
h.row { "parameters", "sorption.absorption.c", "--set", "wefts.json", out = { "fitted by you", "set wefts" } }
h.row { "curve", "regain", "--over", "humidity=0..100%", "--set", "wefts.json" }
h.row { "claim", "regain", "--says", "15%", "--at", "humidity=65%", "--set", "wefts.json", out = { "set wefts" } }
h.write("use.lua", 'local hf = require "hairfibre"\nprint(hf.regain{ humidity = "65 %", set = hf.parameters "wefts.json" })\n')
h.row { "run", "use.lua", out = { "0.158" } }
h.row { "value", "regain", "--at", "humidity=65%", "--set", "none.json", code = 3, err = { "none.json" } }
h.write("other.json", "{}")
h.row { "value", "regain", "--at", "humidity=65%", "--set", "other.json", code = 3, err = { "a parameter set was expected" } }

-- The data are never written to, under whatever name of theirs.
h.row { "fit", "gab", DATA, "--group", "branch", "--save", "data/sorption_invented.svg", code = 7, err = { "holds the data" } }
h.row { "fit", "gab", "./" .. DATA, "--group", "branch", "--save", DATA, code = 7, err = { "holds the data" } }
h.check(h.read(h.work .. "/" .. DATA) == h.read(h.root .. "/examples/" .. DATA), "the data are as they were")

-- ---- calls that are wrong -------------------------------------------------------------------------------

local X = { "--x", "water_activity", "--y", "regain" }
local function wrong(words, code, err)
  local row = { "fit", "gab", DATA, X[1], X[2], X[3], X[4] }
  table.move(words, 1, #words, #row + 1, row)
  row.code, row.err = code, err
  h.row(row)
end
h.row { "fit", code = 2, err = { "which model" } }
h.row { "fit", "gab", code = 2, err = { "which data file" } }
h.row { "fit", "gap", DATA, code = 2, err = { 'did you mean "gab"' } }
h.row { "fit", "gab", "none.csv", code = 3, err = { "none.csv" } }
h.row { "fit", "gab", DATA, "--y", "regian", code = 3, err = { 'did you mean "regain"' } }
wrong({ "--sigma", "regain" }, 2, { "--sigma-is" })
wrong({ "--sigma-is", "absolute" }, 2, { "give both" })
wrong({ "--start", "q=1" }, 2, { 'no parameter "q"' })
wrong({ "--fixed", "c" }, 2, { "NAME=VALUE" })
wrong({ "--bounds", "k=5" }, 2, { "NAME=LOW..HIGH" })
wrong({ "--save", "a.doc" }, 2, { ".json, .csv" })
wrong({ "--save", "mud=a.svg" }, 2, { "cannot hold that" })
wrong({ "--save", "no/such/folder/a.json" }, 7, { "folder" })
wrong({ "--save-set", "a.txt" }, 2, { ".json" })
wrong({ "--save-set", "a.json" }, 2, { "which branch" })
wrong({ "--branch", "absorption" }, 2, { "--save-set" })
wrong({ "--cases" }, 2, { "--bootstrap" })
wrong({ "--bootstrap", "x" }, 2, { "whole number" })
wrong({ "--style", "mud" }, 2, { "projector" })
h.row { "fit", "radial_uptake", DATA, "--x", "water_activity", "--y", "regain", code = 3, err = { "measured in s" } }

-- ---- data that are bad ----------------------------------------------------------------------------------

local function bad(name, text, words, code, err)
  h.write(name, text)
  local row = { "fit", "gab", name }
  table.move(words or {}, 1, #(words or {}), #row + 1, row)
  row.code, row.err = code or 3, err
  h.row(row)
end
local HEAD = "water_activity,regain\n%,%\n"
bad("few.csv", HEAD .. "10,3\n20,5\n", nil, 3, { "2 points" })
bad("flat.csv", HEAD .. ("50,11\n"):rep(6), nil, 3, { "x" })
bad("nan.csv", HEAD .. "nan,3\nnan,5\nnan,5\n", nil, 3, { "no number that can be used in 3 rows" })
bad("double.csv", "regain,regain\n%,%\n10,3\n20,5\n30,6\n", nil, 3, { "regain" })
bad("empty.csv", "", nil, 3, { "empty" })
bad("groups.csv", "water_activity;regain\n%;%\n10;1,234\n20;1,345\n30;1,456\n40;1,567\n", nil, 3, { "1,234" })
h.write("cut.csv", HEAD .. "10,3.5\n20,5.4\n30,6.9\n40,8.1\n50,9.6\n60,11.5")
h.row { "fit", "gab", "cut.csv", out = { "no line end" } }
h.write("holes.csv", HEAD .. "10,3.5\n20,\n30,6.9\n40,8.1\nx,9.6\n60,11.5\n70,14\n")
h.row { "fit", "gab", "holes.csv", out = { "5 rows used, 2 left out", "2 rows of the file left out", "line 4", "line 7" } }

-- Many points: a picture has room for some of them, and says so.
local many = { "water_activity [%],regain [%]" }
for i = 1, 12000 do
  local a = 0.05 + 0.9 * (i * 7919 % 12000) / 12000
  local k = 0.72 * a
  many[i + 1] = ("%.4f,%.4f"):format(100 * a, 100 * 0.09 * 11 * k / ((1 - k) * (1 + 10 * k)) + 0.1 * (i * 31 % 11 - 5) / 5)
end
h.write("many.csv", table.concat(many, "\n") .. "\n")
h.row { "fit", "gab", "many.csv", "--save", "lots.svg", writes = true, out = { "12000 points" } }
h.check((h.read(h.work .. "/lots.svg") or ""):find("one in 3 of 12000", 1, true), "a picture of many points says what it shows")

h.finish()
