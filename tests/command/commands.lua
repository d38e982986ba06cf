-- Command lines with what they must say. Numbers come from outside: steam pressures from the IAPWS
-- steam tables, 212 degF = 100 degC and the like from definitions.
package.path = "tests/command/?.lua;" .. package.path
local h = require "harness"

local rows = {
  -- ---- the program itself
  { out = { "Usage: hairfibre COMMAND", "selftest" } },
  { "--help", out = { "Exit codes:", "Commands:", "130  interrupted" } },
  { "--version", out = { "hairfibre 0." } },
  { "help", "value", out = { "Usage: hairfibre value", "Example:" } },
  { "vaule", code = 2, err = { 'did you mean "value"?' } },
  { "regain", code = 2, err = { "hairfibre value regain" } },
  { "lesson.lua", code = 2, err = { "hairfibre run lesson.lua" } },
  { "--frob", code = 2, err = { '"--frob"' } },
  { "zz\nzz\27[2J", code = 2, err = { "zz zz?[2J" } },
  { "zzzzzzzz", code = 2, err = { "the commands are value" } },

  -- ---- value: steam at 200 degC is at 1.5549 MPa, water boils at 100 degC under 101.4 kPa
  { "value", "saturation_pressure", "--at", "temperature=200degC", out = { "1.5549 MPa", "about 95 %",
    "200 degC (392 degF, 473.15 K)", "iapws-sr1-86", "set virgin, digest", "left out" } },
  { "value", "saturation_pressure", "--at", "temperature=392degF", out = { "1.5549 MPa", "200 degC (392 degF" } },
  { "value", "saturation_pressure", "--at", "temperature=473.15 K", out = { "1.5549 MPa" } },
  { "value", "saturation pressure", "--at", "temperature = 200 degC", out = { "1.5549 MPa" } },
  { "value", "boiling_temperature", "--at", "pressure=1atm", out = { "100 degC (212 degF, 373.124" } },
  { "value", "regain", "--at", "humidity=65%", out = { "usual value", "humidity     65 % (0.65)", "inside" } },
  { "value", "internal_vapour_pressure", "--at", "temperature=200degC", "--at", "regain=30%",
    out = { "extrapolated", "OUTSIDE", "caution", "30 % (0.3 kg water per kg dry fibre)", "at the weakest" } },
  { "value", "regain", "--at", "humidity=65%", "--spread", "humidity=5%", "--spread", "temperature=3K", out = { "of what has a",
    "spread of humidity 5%", "draws 1024" } },
  { "value", "regain", "--at", "humidity=65%", "--spread", "humidity=5", code = 2, err = { "spread of humidity", "5%" } },
  { "value", "regain", "--at", "humidity=65%", "--spread", "humidty=5%", code = 2, err = { 'did you mean "humidity"?' } },
  { "value", "regain", "--at", "humidity=65%", "--spread", "humidity=5%", "--spread", "humidity=2%", code = 2, err = { "two spreads" } },
  { "value", "regain", "--at", "humidity=65%", "--spread", "humidity=5%", "--range", "single", code = 2, err = { "needs draws" } },
  { "value", "regain", "--at", "humidity=65%", "--set", "bleached", out = { "set bleached" } },
  { "value", "regain", "--at", "humidity=65%", "--change", "sorption.absorption.c=12",
    out = { "changed:", "sorption.absorption.c = 12", "your own value" } },
  { "value", "regain", "--at", "humidity=0.65", "--at", "branch=desorption", out = { "branch desorption" } },
  { "value", "regain", "--at", "humidity=65%RH", out = { "65 %" } },
  { "value", "hygral_fatigue", code = 5, out = { "no validated model", "known instead" }, err = { "hygral_fatigue" } },
  { "value", "hygral_fatigue", "--json", code = 5, out = { '"status":"no-model"', '"value":null' } },
  { "value", "hygral_fatigue", "--raw", code = 5 },

  -- ---- curve: 3.17 kPa at 25 degC, 16.5 MPa at 350 degC (IAPWS): 3.7 powers of ten; from 100 to 200 degC 1.2
  { "curve", "saturation_pressure", "--over", "temperature=25..350degC", out = { "span 3 powers of ten: --log" } },

  -- ---- value: what is refused
  { "value", code = 2, err = { '"name"' } },
  { "value", "regian", "--at", "humidity=65%", code = 2, err = { 'did you mean "regain"?' } },
  { "value", "regain", "--at", "humidty=65%", code = 2, err = { 'did you mean "humidity"?' } },
  { "value", "regain", "--at", "humidity", code = 2, err = { "NAME=VALUE" } },
  { "value", "regain", "--at", "humidity=", code = 2, err = { "NAME=VALUE" } },
  { "value", "regain", "--at", "=65%", code = 2, err = { "NAME=VALUE" } },
  { "value", "regain", "--at", "humidity=65%", "--at", "humidity=70%", code = 2, err = { "twice" } },
  { "value", "regain", code = 2, err = { "humidity", "--at humidity=65%" } },
  { "value", "saturation_pressure", "--at", "temperature=350", code = 2,
    err = { "350 degC is 623.15 K", "350 degF is 449.8", "350degC", "350degF" } },
  { "value", "regain", "--at", "humidity=65", code = 2, err = { "65%" } },
  { "value", "regain", "--at", "humidity=0,65", code = 2, err = { "0.65" } },
  { "value", "regain", "--at", "humidity=10,20,30%", code = 2, err = { "hairfibre curve" } },
  { "value", "regain", "--at", "humidity=10..20%", code = 2, err = { "hairfibre curve" } },
  { "value", "regain", "--at", "humidity=65degC", code = 2, err = { "degC" } },
  { "value", "regain", "--at", "humidity=120%", code = 4, err = { "humidity", "120 %", "100 %" } },
  { "value", "regain", "--at", "humidity=-1%", code = 4, err = { "humidity" } },
  { "value", "regain", "--at", "humidity=65%", "--at", "branch=up", code = 2, err = { "absorption and desorption" } },
  { "value", "regain", "--at", "humidity=NaN", code = 2, err = { "finite" } },
  { "value", "saturation_pressure", "--at", "temperature=nandegC", code = 2, err = { "finite" } },
  { "value", "saturation_pressure", "--at", "temperature=infdegC", code = 2, err = { "finite" } },
  { "value", "saturation_pressure", "--at", "temperature=-infinityK", code = 2, err = { "finite" } },
  { "value", "saturation_pressure", "--at", "temperature=1e999degC", code = 2, err = { "temperature" } },
  { "value", "saturation_pressure", "--at", "temperature=0x10degC", code = 2, err = { "temperature" } },
  { "value", "saturation_pressure", "--at", "temperature=-5K", code = 4, err = { "-5 K" } },
  { "value", "saturation_pressure", "--at", "temperature=-300degC", code = 4, err = { "-300 degC" } },
  { "value", "saturation_pressure", "--at", "temperature=1e300degC", code = 4, err = { "temperature" } },
  { "value", "saturation_pressure", "--at", "temperature=200furlongs", code = 2, err = { "furlongs", "degC" } },
  { "value", "saturation_pressure", "--at", "temperature=200kg", code = 2, err = { "kg" } },
  { "value", "internal_vapour_pressure", "--at", "temperature=150degC", "--at", "regain=80%", code = 4,
    err = { "80 %", "at most" } },
  { "value", "internal_vapour_pressure", "--at", "temperature=200degC", "--at", "regain=30%", "--strict", code = 4,
    err = { "evidence supports" } },
  { "value", "internal_vapour_pressure", "--at", "temperature=600degC", "--at", "regain=30%", code = 4,
    err = { "possible range" } },
  { "value", "regain", "--at", "humidity=65%", "--set", "bleech", code = 2, err = { 'did you mean "bleached"?' } },
  { "value", "regain", "--at", "humidity=65%", "--change", "sorption.absorption.cc=1", code = 2,
    err = { 'did you mean "sorption.absorption.c"?' } },
  { "value", "regain", "--at", "humidity=65%", "--change", "sorption.absorption.c=1e9", code = 4,
    err = { "sorption.absorption.c" } },
  { "value", "regain", "--at", "humidity=65%", "--change", "sorption.absorption.c=nan", code = 2, err = { "finite" } },
  { "value", "regain", "--at", "humidity=65%", "--change", "sorption.enthalpy.c=12000", code = 2, err = { "J/mol" } },
  { "value", "regain", "--at", "humidity=65%", "--frob", code = 2, err = { '"--frob"' } },
  { "value", "regain", "--at", "humidity=65%", "more", code = 2, err = { "too many" } },
  { "value", "regain", "--at", "humidity=65%", "--json", "--raw", code = 2, err = { "--raw" } },

  -- ---- curve
  { "curve", "saturation_pressure", "--over", "temperature=20..230degC", out = { "temperature", "100" } },
  { "curve", "internal_vapour_pressure", "--over", "temperature=20..230degC", "--at", "regain=0.1,0.2,0.3",
    "--ascii", out = { "regain 10 %", "regain 30 %", "Extrapolated:", "Caution:", "ambient" } },
  { "curve", "regain", "--over", "humidity=0..1", "--at", "branch=absorption,desorption", "--ascii",
    out = { "absorption", "desorption" } },
  { "curve", "regain", "--over", "temperature=0..300degC", "--at", "humidity=50%", "--ascii",
    out = { "Left open:" } },
  { "curve", "regain", "--over", "humidity=0..100%", "--save", "a.csv", writes = true, out = { "wrote a.csv" } },
  { "curve", "regain", "--over", "humidity=0..100%", "--range", "--save", "b.svg", "--script", "b.gp",
    writes = true, out = { "wrote b.svg", "wrote b.csv", "wrote b.gp" } },
  { "curve", "saturation_pressure", "--over", "temperature=20..230degC", "--log", "--style", "print", "--save",
    "name with blanks \u{E4}.svg", writes = true, out = { "wrote name with blanks" } },
  { "curve", "fatigue_survival", "--over", "cycles=1..1000", "--at", "stress=103MPa", "--at", "humidity=60%", "--log-over",
    "--points", "4", "--save", "d.csv", writes = true, out = { "wrote d.csv" } },
  { "curve", "broken_at_least", "--over", "broken=0..20", "--at", "strands=20", "--at", "probability=10%",
    out = { "broken", "20" } },
  { "curve", "broken_at_least", "--over", "broken=0.2..0.8", "--at", "strands=20", "--at", "probability=10%", code = 2,
    err = { "whole numbers" } },
  { "curve", "regain", "--over", "humidity=0..100%", "--log-over", code = 2, err = { "above 0" } },
  { "curve", "regain", "--over", "temperature=20..80degC", "--at", "humidity=50%", "--log-over", code = 2,
    err = { "no temperature" } },
  { "curve", code = 2, err = { '"name"' } },
  { "curve", "regain", code = 2, err = { "--over" } },
  { "curve", "regain", "--over", "humidity=50%", code = 2, err = { "20..230degC" } },
  { "curve", "regain", "--over", "humidity=0..100", code = 2, err = { "0..100%" } },
  { "curve", "saturation_pressure", "--over", "temperature=20..230", code = 2, err = { "20..230degC or 20..230degF" } },
  { "curve", "regain", "--over", "humidity=90..10%", code = 2, err = { "does not rise" } },
  { "curve", "regain", "--over", "humidity=nan..10%", code = 2, err = { "finite" } },
  { "curve", "regain", "--over", "humidity=0..inf%", code = 2, err = { "finite" } },
  { "curve", "regain", "--over", "branch=absorption..desorption", code = 2, err = { "choice" } },
  { "curve", "regain", "--over", "humidity=0..100%", "--at", "humidity=50%", code = 2, err = { "twice" } },
  { "curve", "regain", "--over", "humidity=0..100%", "--at", "temperature=20..30degC", code = 2, err = { "--over" } },
  { "curve", "regain", "--over", "humidity=0..100%", "--at", "temperature=20,30", code = 2, err = { "temperature" } },
  { "curve", "internal_vapour_pressure", "--over", "temperature=20..100degC", "--at", "regain=0,3", code = 2,
    err = { "one number or two" } },
  { "curve", "internal_vapour_pressure", "--over", "temperature=20..100degC", "--at", "regain=10,20%", code = 2,
    err = { "10%,20%" } },
  { "curve", "regain", "--over", "humidity=0..100%", "--at", "temperature=10,20,30,40,50,60,70,80,90degC", code = 2,
    err = { "8 are the most" } },
  { "curve", "saturation_pressure", "--over", "temperature=-200..-100degC", code = 4, err = { "no point" } },
  { "curve", "saturation_pressure", "--over", "temperature=300..400degC", "--strict", "--ascii", out = { "Left open" } },
  { "curve", "hygral_fatigue", "--over", "cycles=1..100", code = 5, err = { "hairfibre models hygral_fatigue" } },
  { "curve", "regain", "--over", "humidity=0..100%", "--points", "1", code = 2, err = { "--points" } },
  { "curve", "regain", "--over", "humidity=0..100%", "--points", "2.5", code = 2, err = { "--points" } },
  { "curve", "regain", "--over", "humidity=0..100%", "--points", "1e9", code = 2, err = { "--points" } },
  { "curve", "regain", "--over", "humidity=0..100%", "--style", "pprint", code = 2, err = { 'did you mean "print"?' } },
  { "curve", "regain", "--over", "humidity=0..100%", "--save", "x.gif", code = 2, err = { ".svg" } },
  { "curve", "regain", "--over", "humidity=0..100%", "--save", "x", code = 2, err = { ".svg" } },
  { "curve", "regain", "--over", "humidity=0..100%", "--save", ".svg", code = 2, err = { ".svg" } },
  { "curve", "regain", "--over", "humidity=0..100%", "--save", "x\n.svg", code = 2, err = { "control" } },
  { "curve", "regain", "--over", "humidity=0..100%", "--save", "no/such/x.svg", code = 7, err = { "no such file" } },
  { "curve", "regain", "--over", "humidity=0..100%", "--script", "x.txt", code = 2, err = { ".gp" } },

  -- ---- the lists
  { "parameters", "sorption", out = { "sorption.absorption.c", "chamberlain1931", "digest" } },
  { "parameters", "regain", out = { "sorption.absorption.c" } },
  { "parameters", "--csv", out = { "name,value,unit,distribution,spread,low,high,source" } },
  { "parameters", "sorption", "--json", "--set", "wool", out = { '"set":"wool"', '"source":' } },
  { "parameters", "zzzzz", code = 2, err = { "zzzzz" } },
  { "parameters", "sorptoin.scale", code = 2, err = { 'did you mean "sorption.scale"?' } },
  { "parameters", "--json", "--csv", code = 2, err = { "--csv" } },
  { "parameters", "--set", "nobody", code = 2, err = { "the sets are" } },
  { "sources", out = { "iapws-sr1-86", "sources\n" } },
  { "sources", "iapws-sr1-86", out = { "used by:", "equation of saturation_pressure" } },
  { "sources", "regain", "--bibtex", out = { "@article{chamberlain1931," } },
  { "sources", "1931", out = { "chamberlain1931" } },
  { "sources", "chamberlian1931", code = 2, err = { 'did you mean "chamberlain1931"?' } },
  { "models", out = { "saturation_pressure", "quantities;" } },
  { "models", "regain", out = { "must be given", "equation", "left out", "absorption or desorption" } },
  { "models", "pressure", out = { "internal_vapour_pressure" } },
  { "models", "hygral_fatigue", out = { "No validated model" } },
  { "models", "--json", out = { '"quantities":' } },
  { "models", "regian", code = 2, err = { 'did you mean "regain"?' } },
  { "selftest", "saturation_pressure", out = { "iapws-sr1-86", "expected", " passed, 0 failed" } },
  { "selftest", "saturation_pressure", "--json", out = { '"failed":0' } },
  { "selftest", "zzzzz", code = 2, err = { "no row" } },

  -- ---- run: files
  { "run", code = 2, err = { '"script"' } },
  { "run", "nothere.lua", code = 3, err = { "nothere.lua", "no such file" } },
  { "run", ".", code = 3, err = { "folder" } },
  { "run", "empty.lua", code = 3, err = { "empty.lua is empty" } },
  { "run", "compiled.lua", code = 3, err = { "compiled" } },
  { "run", "syntax.lua", code = 1, err = { "syntax.lua, line 2" } },
  { "run", "unclosed.lua", code = 1, err = { "unclosed.lua, line", "its own end" } },
  { "run", "misspelt.lua", code = 1, err = { "misspelt.lua, line 2", 'did you mean "saturation_pressure"?' } },
  { "run", "nounit.lua", code = 1, err = { "nounit.lua, line 2", "350degC" } },
  { "run", "nohf.lua", code = 1, err = { "nohf.lua, line 1", 'local hf = require "hairfibre"' } },
  { "run", "lines.lua", code = 1, err = { "one two" } },
  { "run", "odd.lua", code = 1, err = { "no text (a table)" } },
  { "run", "good.lua", out = { "1554939" } },
  { "run", "marked.lua", out = { "marked" } },
  { "run", "words.lua", "a", "--", "--b", out = { "a\t--b\t2" } },
  { "run", "save.lua", "--out", "made/deep", writes = true },
  { "run", "badrow.lua", code = 1, err = { "bad.csv, line 3" } },
  { "run", "emptycsv.lua", code = 1, err = { "empty.csv is empty" } },
  { "run", "good.lua", "--memory", "256", code = 2, err = { "256MB" } },
  { "run", "good.lua", "--memory", "1MB", code = 2, err = { "4MB" } },
  { "run", "good.lua", "--seconds", "0", code = 2, err = { "--seconds" } },
  { "run", "good.lua", "--seconds", "nan", code = 2, err = { "--seconds" } },
  { "run", "--trust", "trusted.lua", out = { "true" } },
}

h.write("empty.lua", "\n")
h.write("compiled.lua", string.dump(function() end))
h.write("syntax.lua", "local a = 1\nlocal b = = 2\n")
h.write("unclosed.lua", "for i = 1, 2 do\nprint(i)\n")
h.write("misspelt.lua", 'local hf = require "hairfibre"\nprint(hf.saturatoin_pressure("100 degC"))\n')
h.write("nounit.lua", 'local hf = require "hairfibre"\nprint(hf.saturation_pressure("350"))\n')
h.write("nohf.lua", 'print(hf.saturation_pressure("100 degC"))\n')
h.write("lines.lua", 'error("one\\ntwo")\n')
h.write("odd.lua", "error({})\n")
h.write("good.lua", 'local hf = require "hairfibre"\nprint(hf.saturation_pressure("200 degC"))\n')
h.write("marked.lua", '\xEF\xBB\xBF#!/usr/bin/env hairfibre\nprint("marked")\n')
h.write("words.lua", "print(arg[1], arg[2], select('#', ...))\n")
h.write("save.lua", [[
local hf = require "hairfibre"
local r = hf.tabulate("saturation_pressure", { temperature = { 300, 400 } })
assert(r:save("steam.csv"))
]])
h.write("bad.csv", "time_s,temperature_degC\n0,20\n1,warm\n")
h.write("badrow.lua", 'local hf = require "hairfibre"\nassert(hf.read("bad.csv"))\n')
h.write("empty.csv", "")
h.write("emptycsv.lua", 'local hf = require "hairfibre"\nassert(hf.read("empty.csv"))\n')
h.write("trusted.lua", "print(io ~= nil and os.time ~= nil and debug ~= nil)\n")

for _, row in ipairs(rows) do
  h.row(row)
end

-- ---- results in detail

local function number_of(words)
  local _, out = h.run(words)
  return tonumber(out), out
end

-- 212 degF and 100 degC are the same temperature; one digit of the last place may differ.
local c = number_of { "value", "saturation_pressure", "--at", "temperature=100degC", "--raw" }
local f = number_of { "value", "saturation_pressure", "--at", "temperature=212degF", "--raw" }
h.check(c and f and math.abs(c / f - 1) < 1e-12, "100 degC and 212 degF give the same answer")
h.check(c and math.abs(c - 101418) < 1, "water at 100 degC: 101.418 kPa (steam table)", tostring(c))

local dkjson = require "dkjson"
local code, out = h.run { "value", "internal_vapour_pressure", "--at", "temperature=120degC", "--at", "regain=10%",
  "--json", "--change", "sorption.absorption.c=12" }
local object = code == 0 and dkjson.decode(out) or {}
for _, key in ipairs { "quantity", "value", "unit", "low", "high", "status", "conditions", "sources", "equation",
  "set", "digest", "changed", "version", "caution", "known", "leaves_out" } do
  h.check(object[key] ~= nil, "value --json has the key " .. key, out)
end
h.check(object.low and object.low < object.value and object.value < object.high, "the range holds the value", out)
h.check(object.conditions and math.abs(object.conditions.temperature.value - 393.15) < 1e-9, "SI in JSON", out)
h.check(object.conditions and object.conditions.branch.given == false, "a usual value is named as such", out)
h.check(object.changed and object.changed[1] and object.changed[1].name == "sorption.absorption.c",
  "the changed parameter is named", out)
local first = object.sources and object.sources[1] or {}
h.check(first.key and first.reference and first.place and first.known, "a source has its four fields", out)

-- The calls that led to a fault, only when asked for.
local trace_code, _, err = h.run { "run", "misspelt.lua", "--trace" }
h.check(trace_code == 1 and err:find("stack traceback", 1, true), "run --trace", err)

-- A failed drawing leaves the file of before.
h.write("kept.svg", "old")
h.write("kept.csv", "old")
h.row { "curve", "saturation_pressure", "--over", "temperature=-200..-100degC", "--save", "kept.svg", code = 4 }
h.check(h.read(h.work .. "/kept.svg") == "old" and h.read(h.work .. "/kept.csv") == "old", "kept.svg is kept")

-- The CSV beside the picture: where it comes from, a header with units, the 201 points, no comma as decimal sign.
local csv = h.read(h.work .. "/b.csv") or ""
local _, lines = csv:gsub("\n", "")
h.check(lines == 203 and csv:find("^# hairfibre [^\n]+, set virgin, digest %x+; no parameter changed\nhumidity_percent,regain_percent"), "b.csv has a header and 201 rows",
  csv:sub(1, 200))
h.check((h.read(h.work .. "/d.csv") or ""):find("\n1,%S+\n10,%S+\n100,%S+\n1000,%S+\n$"), "d.csv goes by equal ratios",
  h.read(h.work .. "/d.csv"))
h.check((h.read(h.work .. "/b.svg") or ""):find("<svg", 1, true), "b.svg is a picture")
h.check((h.read(h.work .. "/made/deep/steam.csv") or ""):find("temperature_K,saturation_pressure_Pa", 1, true),
  "a script saves below --out")

-- Text for people keeps to 80 columns.
for _, words in ipairs {
  {}, { "--help" }, { "value", "--help" }, { "curve", "--help" }, { "run", "--help" }, { "parameters", "--help" },
  { "sources", "--help" }, { "models", "--help" }, { "selftest", "--help" }, { "selftest" }, { "parameters" }, { "sources" },
  { "models", "internal_vapour_pressure" }, { "value", "hygral_fatigue" },
  { "value", "internal_vapour_pressure", "--at", "temperature=200degC", "--at", "regain=30%" },
  { "curve", "internal_vapour_pressure", "--over", "temperature=20..230degC", "--at", "regain=0.1,0.2,0.3" },
} do
  local _, text = h.run(words)
  h.narrow(text, "hairfibre " .. table.concat(words, " "))
end

h.finish()
