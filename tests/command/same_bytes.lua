-- The same work leaves the same bytes: twice, in a locale with a decimal comma, and in another folder.
-- Every kind of file that the program writes is compared: CSV, JSON, SVG, PNG, GIF, text, HTML.
package.path = "tests/command/?.lua;" .. package.path
local h = require "harness"
local program = h.quote(h.program)
local list = {}
for _, row in ipairs(dofile("lua/command/list.lua")) do
  list[row[1]] = true
end

local setting, comma = "", "de_DE.UTF-8"
if h.shell("locale -a | grep -qi '^de_DE.utf-\\?8$'") ~= 0 then
  setting = "LOCPATH=" .. h.quote(h.work) .. " "
  comma = h.shell("localedef -i de_DE -f UTF-8 ./de_DE.UTF-8 2>/dev/null") == 0 and comma
  h.check(comma, "a locale with a decimal comma can be made (package locales)")
end

h.write("treat.lua", [[
local hf = require "hairfibre"
local fibre = hf.fibre { diameter = "70 um" }
local r = assert(hf.treat(fibre, { hf.soak { duration = "1 min" }, hf.blot {},
  hf.plates { temperature = "190 degC", duration = "0.5 s" } }, { cells = 20 }))
assert(r:save "treat.csv")
assert(r:save "treat.json")
assert(r:plot { y = { "temperature_axis" } }:save "treat.svg")
assert(r:profiles { 60, "60.2 s" }:save "profiles.csv")
assert(r:profile_plot { times = { "0.1 s", "0.4 s" }, step = 3 }:save "profiles.svg")
assert(r:rings { times = { "0.1 s", "0.4 s" }, step = 3 }:save "rings.svg")
assert(r:movie { step = 3, frames = 5 }:save "movie.svg")
assert(r:movie { step = 3, frames = 5 }:save "movie.gif")
assert(r:channel_plot { step = 3 }:save "channels.svg")
assert(hf.arrhenius_fan { regain = "10 %" }:save "fan.svg")
assert(hf.sensitivity("regain", { humidity = "65 %", method = "morris", tours = 4 }):plot():save "sensitivity.svg")
assert(hf.uncertainty("regain", { humidity = "65 %" }):save "uncertainty.json")
]])

local works = {
  "run %s/examples/first_lesson.lua --out .",
  "run %s/treat.lua --out .",
  "curve regain --over humidity=0..100%% --range --save curve.svg --script curve.gp",
  "value internal_vapour_pressure --at temperature=180degC --at regain=10%% --json >value.json",
  "claim regain --says 20%% --json >claim.json",
  "fit gab %s/examples/data/sorption_invented.csv --group branch --save fit.svg --save fit.json --save-set wefts.json "
    .. ">/dev/null",
  "count plan groups --expect 10%%,60%% --seed 2 --save plan >plan.txt",
  "count card groups --expect 10%%,60%% --seed 2 --save card.svg >card.txt",
  "count read %s/examples/data/strands_evening_invented.csv --pixel 0.5um --predict --save evening.svg --json >evening.json",
  "sensitivity regain --at humidity=65%% --json >sensitivity.json",
  "sources --bibtex >sources.bib",
  "value regain --at humidity=65%% >value.txt",
  "curve regain --over humidity=0..100%% --ascii >curve.txt",
  "run %s/examples/lessons/1_hygrometer.lua --out . >questions.txt",
  "run %s/examples/lessons/1_hygrometer.lua answer --out . >answers.txt",
  "report %s/examples/lessons/2_swelling_in_time.lua answer --save lesson.html",
  "selftest --json >selftest.json",
}
if list.ensemble then
  works[#works + 1] = "ensemble %s/examples/schedule.lua --strands 20 --save ensemble.csv"
end
if list.report then
  works[#works + 1] = "report %s/treat.lua --save page.html"
end

-- All of it in one new folder; the list of sums of what is there.
local function sums(folder, locale)
  assert(h.shell("rm -rf " .. h.quote(folder) .. "; mkdir " .. h.quote(folder) .. "; ln -sfn " .. h.quote(h.root .. "/examples") .. " examples") == 0)
  for _, work in ipairs(works) do
    local line = work:format(h.quote(h.work))
    local code, out, err = h.shell(("cd %s && %sLC_ALL=%s %s %s"):format(h.quote(folder), setting, locale, program, line))
    h.check(code == 0, ("%s in %s"):format(line, locale), out:sub(1, 300) .. err:sub(1, 600))
  end
  local _, text = h.shell("cd " .. h.quote(folder) .. " && find . -type f | LC_ALL=C sort | xargs cksum")
  return text
end

local first = sums("one", "C.UTF-8")
local _, kinds = first:gsub("\n", "")
h.check(kinds >= 50 and first:find("%.svg") and first:find("%.csv") and first:find("%.json") and first:find("%.png") and first:find("%.html") and first:find("%.gif"),
  "files of every kind", first)
h.check(sums("one", "C.UTF-8") == first, "the same bytes from a second run")
h.check(sums("another place \u{E9}", "C.UTF-8") == first, "the same bytes in another folder")
h.check(sums("three", "C") == first, "the same bytes in the locale C")
if comma then
  local other = sums("four", comma)
  h.check(other == first, "the same bytes with a decimal comma", first .. other)
end
h.finish()
