-- hairfibre report: what the page holds, that nothing a user typed can become markup or code, that the same
-- input gives the same bytes. In a browser the page is tested by tests/report.
package.path = "tests/command/?.lua;" .. package.path
local h = require "harness"
local dkjson = require "dkjson"

local EVIL = [[</script><script>document.title="pwned"</script><img src=x onerror=alert(1)>"'&amp;]]

h.write("lesson.lua", [[
-- Does a damp strand take up more water?
--   hairfibre run lesson.lua
-- Everything here is invented.
local hf = require "hairfibre"
local r = hf.tabulate("regain", { humidity = hf.sweep("0 %", "90 %", 10), temperature = "25 degC" })
assert(hf.plot.result(r, { x = "humidity", y = "regain", title = "Water", source = "chamberlain1931, fitted" }):save "water.svg")
assert(r:save "water.csv")
local t = assert(hf.treat(hf.fibre { diameter = "70 um" }, { hf.plates { temperature = "180 degC", duration = "1 s" } },
  { cells = 20, samples = 20 }))
assert(t:save "pressed.json")
assert(hf.count_plan { purpose = "share", at_least = "70 %" }:card():save "card.svg")
print("said <b>aloud</b>")
]])
h.write("evil.lua", ([==[
-- EVIL
local hf = require "hairfibre"
local evil = [=[EVIL]=]
local f = hf.plot.figure { title = evil, source = evil, note = evil, caution = evil, x = { label = evil, unit = evil },
  y = { label = evil, unit = evil }, lines = { { name = evil, x = { 1, 2 }, y = { 1, 2 } }, { name = evil .. "2", x = { 1, 2 },
  y = { 3, 4 } } }, marks = { { x = 1.5, text = evil:sub(1, 78) } } }
assert(f:save(evil:gsub("/", "-") .. ".svg"))
local bars = hf.plot.figure { x = { categories = { evil, "b" } }, y = { label = "y" }, lines = { { kind = "bars", y = { 1, 2 } } } }
assert(bars:save "bars.svg")
local rings = hf.plot.rings { radii = { 1, 2 }, values = { 3, 4 }, title = evil, label = evil, unit = evil, captions = { evil } }
assert(rings:save "rings.svg")
local r = hf.result { title = evil, caution = evil, notes = { evil }, columns = { { name = "a", values = { evil, evil } },
  { name = "b&<", unit = evil, values = { 1, 2 } } } }
assert(r:save(evil:gsub("/", "-") .. ".csv"))
assert(hf.report { title = evil, question = evil, settings = { { evil, evil } }, parts = { evil, f }, notes = { evil },
  cautions = { evil } }:save "own.html")
print(evil)
]==]):gsub("EVIL", (EVIL:gsub("%%", "%%%%"))))
h.write("slow.lua", [[
local hf = require "hairfibre"
local r = hf.result { columns = { { name = "a", values = { 1, 2 } } } }
rawset(r, "csv", function() while true do end end)
assert(r:save "a.json")
]])
h.write("odd.lua", [[
local hf = require "hairfibre"
local odd = setmetatable({ columns = 5 }, { __name = "hairfibre.result" })
hf.report { parts = { odd } }:save "a.html"
]])
h.write("silent.lua", "local x = 1\n")
h.write("broken.lua", "local hf = require 'hairfibre'\nhf.regain('120')\n")
h.write("endless.lua", "while true do end\n")
h.write("plain.csv", "time_s,temperature_degC,note\n0,20,start\n1,180,\n2,,end\n")
h.write("semicolon.csv", "time_s;temperature_degC\n0;20\n1;180\n")
h.write("evil.csv", '"time_s","' .. EVIL:gsub('"', '""') .. '"\n1,2\n2,"' .. EVIL:gsub('"', '""') .. '"\n')
h.write("ragged.csv", "a,b\n1,2\n3\n")
h.write("empty.csv", "")
h.write("unit.csv", "temperature\n20\n")
h.write("broken.json", "{")
h.write("other.json", '{"columns":[{"name":5}]}')
h.write("deep.json", ("["):rep(100000))
h.write("binary.csv", "a\0b\n1\n")

local rows = {
  { "report", "lesson.lua", "--save", "lesson.html", out = { "wrote lesson.html" }, writes = true },
  { "report", "evil.lua", "--save", "evil.html", writes = true },
  { "report", "plain.csv", "--save", "plain.html", writes = true },
  { "report", "semicolon.csv", "--save", "semicolon.html", writes = true },
  { "report", "evil.csv", "--save", "evil_csv.html", "--title", EVIL, "--question", EVIL, writes = true },
  { "report", code = 2, err = { '"input"' } },
  { "report", "lesson.lua", code = 2, err = { "--save" } },
  { "report", "lesson.lua", "--save", "page.pdf", code = 2, err = { ".html" } },
  { "report", "lesson.lua", "--save", "a\nb.html", code = 2, err = { "control" } },
  { "report", "plain.csv", "word", "--save", "x.html", code = 2, err = { "scripts" } },
  { "report", "nowhere.lua", "--save", "x.html", code = 3, err = { "nowhere.lua" } },
  { "report", "nowhere.csv", "--save", "x.html", code = 3, err = { "nowhere.csv" } },
  { "report", "silent.lua", "--save", "x.html", code = 3, err = { "nothing to report" } },
  { "report", "broken.lua", "--save", "x.html", code = 1, err = { "broken.lua, line 2" } },
  { "report", "endless.lua", "--save", "x.html", "--seconds", "0.2", code = 6, err = { "0.2 s" } },
  { "report", "slow.lua", "--save", "x.html", "--seconds", "0.2", code = 6, err = { "0.2 s" } },
  { "report", "odd.lua", "--save", "x.html", code = 1, err = { "odd.lua" } },
  { "report", "ragged.csv", "--save", "x.html", code = 3, err = { "line 3" } },
  { "report", "empty.csv", "--save", "x.html", code = 3, err = { "empty.csv" } },
  { "report", "unit.csv", "--save", "x.html", code = 3, err = { "has no unit" } },
  { "report", "broken.json", "--save", "x.html", code = 3, err = { "broken.json" } },
  { "report", "other.json", "--save", "x.html", code = 3, err = { "column 1" } },
  { "report", "deep.json", "--save", "x.html", code = 3, err = { "deep.json" } },
  { "report", "binary.csv", "--save", "x.html", code = 3, err = { "binary.csv" } },
  { "report", "lesson.lua", "--save", "nowhere/x.html", code = 7, err = { "nowhere/x.html" } },
}
for _, row in ipairs(rows) do
  h.row(row)
end

-- ---- what the page holds
local page = h.read(h.work .. "/lesson.html") or ""
for _, fragment in ipairs { "<h2 id=\"question\">The question</h2>", "Does a damp strand take up more water?", "Everything here is invented.",
  "<h2 id=\"settings\">", "temperature 180 °C (356 °F)", "<td>25 °C (77 °F)</td>", "<h2 id=\"cautions\">", "never on a head",
  "<h2 id=\"part-picture\">Figures", "<h2 id=\"part-play\">", "<h2 id=\"part-table\">", "said &lt;b&gt;aloud&lt;/b&gt;", "chamberlain1931",
  "set virgin, digest ", "Script: lesson.lua.", "<div class=\"drawing\"><svg", "<caption>", 'scope="col"', 'lang="en"', "@media print", "prefers-color-scheme: dark",
  "default-src 'none'" } do
  h.check(page:find(fragment, 1, true), "the page holds " .. fragment)
end
h.check(not page:find("hairfibre run lesson", 1, true) or select(2, page:gsub("hairfibre run lesson", "")) == 1,
  "command lines of the comment are no part of the question")
h.check(h.listing():find("lesson.html", 1, true) and not h.listing():find("water.svg", 1, true)
  and not h.listing():find("card.svg", 1, true), "a report writes the page and nothing else", h.listing())
local plain = h.read(h.work .. "/plain.html") or ""
h.check(plain:find("The file does not say", 1, true) and not plain:find("set virgin", 1, true),
  "a bare table claims no parameters", plain:sub(-3000))

-- ---- nothing a user typed becomes markup; nothing is fetched
for _, name in ipairs { "lesson", "evil", "plain", "evil_csv" } do
  local text = h.read(h.work .. "/" .. name .. ".html") or ""
  local _, scripts = text:gsub("<script", "")
  local _, ends = text:gsub("</script", "")
  h.check(scripts == 2 and ends == 2, name .. ".html holds its own two scripts only", ("%d, %d"):format(scripts, ends))
  local markup = text:gsub("<script.-</script>", ""):gsub("<style.-</style>", ""):gsub("=\"[^\"d#][^\"]*\"", "=\"\"")
  h.check(not markup:find("<img", 1, true) and not markup:find("<[^>]-%son%a+%s*="), name .. ".html has no image, no handler")
  local fetched
  for tag in markup:gmatch("<[^>]+>") do
    local target = tag:match("%ssrc%s*=%s*\"([^\"]*)") or tag:match("%shref%s*=%s*\"([^\"]*)")
    if target and not target:find("^data:") and not target:find("^#") then
      fetched = tag
    end
  end
  h.check(not fetched and not text:find("@import", 1, true) and not markup:find("url(", 1, true), name .. ".html fetches nothing", fetched)
  local data = text:match('<script type="application/json" id="data">(.-)</script>')
  h.check(type(data) == "string" and type(dkjson.decode(data)) == "table", name .. ".html: its numbers are JSON", data and data:sub(1, 300))
  h.check(utf8.len(text) ~= nil and not text:find("%d%d:%d%d:%d%d") and not text:find(h.folder, 1, true),
    name .. ".html holds no clock time and no path of this machine")
end
h.check((h.read(h.work .. "/evil.html") or ""):find("&lt;/script&gt;&lt;script&gt;document.title=&quot;pwned", 1, true),
  "hostile words are shown as words")

-- ---- the same bytes again, from another folder, under another locale
h.shell("mkdir elsewhere && cp lesson.lua plain.csv elsewhere")
for _, pair in ipairs { { "lesson.lua", "lesson.html" }, { "plain.csv", "plain.html" } } do
  for _, before in ipairs { "", "cd elsewhere && ", "LC_ALL=de_DE.UTF-8 " } do
    local code, _, err = h.shell(before .. h.quote(h.program) .. " report " .. pair[1] .. " --save again.html")
    local text = h.read(h.work .. (before:find("^cd") and "/elsewhere" or "") .. "/again.html")
    h.check(code == 0 and text == h.read(h.work .. "/" .. pair[2]), ("%s%s gives the same bytes"):format(before, pair[1]), err)
  end
end

-- ---- a saved result keeps where it comes from
local code, _, err = h.shell(h.quote(h.program) .. " run - <<'END'\n"
  .. 'local hf = require "hairfibre"\nassert(hf.tabulate("regain", { humidity = { 0.2, 0.5, 0.8 }, set = hf.parameters("bleached", '
  .. '{ ["sorption.scale"] = 1.05 }) }):save "kept.json")\nEND\n')
h.check(code == 0, "a result is saved", err)
h.row { "report", "kept.json", "--save", "kept.html", writes = true }
page = h.read(h.work .. "/kept.html") or ""
h.check(page:find("As the file says: hairfibre [%d.]+, set bleached, digest %x+") and page:find("sorption.scale = 1.05", 1, true),
  "the page of a saved result names its parameters", page:sub(-4000))

-- ---- hf.report in a script that is run
h.write("own.lua", [[
local hf = require "hairfibre"
local r = hf.tabulate("regain", { humidity = { 0.2, 0.5, 0.8 } })
local page = hf.report { title = "Mine", parts = { hf.plot.result(r, { x = "humidity", y = "regain" }), r, "In words." } }
assert(page:save "mine.html")
print(page, pcall(function() page.title = "x" end), page.parts)
print(pcall(hf.report, { tittle = "x" }))
print(pcall(hf.report, { parts = { 7 } }))
print(pcall(hf.report, { sources = { "nobody1900" } }))
print(pcall(hf.report, { settings = { { "a", {} } } }))
print(pcall(page.save, page, "mine.txt"))
]])
h.row { "run", "own.lua", writes = true, out = { "report: Mine\tfalse\tnil", 'did you mean "title"?', "parts, entry 1 must be",
  'no source "nobody1900"', "settings, entry 1", "ends in .html" } }
h.check((h.read(h.work .. "/mine.html") or ""):find("<h1>Mine</h1>", 1, true), "hf.report writes a page")

h.finish()
