-- Every output says where it comes from: version, set and digest, changed parameters, seed and options, files read.
package.path = "tests/command/?.lua;" .. package.path
local h = require "harness"
local dkjson = require "dkjson"

assert(h.shell("ln -s " .. h.quote(h.root .. "/examples") .. " examples && cp examples/data/plate_log_invented.csv .") == 0)
h.write("short.lua", [[
local hf = require "hairfibre"
return { lumped = true, cells = 20, treatment = { hf.rest { duration = "1 s" } } }
]])
h.write("results.lua", [[
local hf = require "hairfibre"
local mine = assert(hf.parameters("bleached", { ["sorption.scale"] = 1.05 }))
local r = hf.tabulate("regain", { humidity = { 0.2, 0.5 }, set = mine })
r:print()
assert(r:save "table.csv"); assert(r:save "table.json")
assert(hf.plot.result(r, { x = "humidity", y = "regain" }):save "picture.svg")
local log = assert(hf.damage { history = "plate_log_invented.csv" })
assert(log:save "log.csv"); assert(log:save "log.json")
local t = assert(hf.treat(hf.fibre { set = mine }, { hf.rest { duration = "1 s" } }, { cells = 30 }))
assert(t:save "treatment.csv"); assert(t:save "treatment.json"); assert(t:rings {}:save "rings.svg")
assert(t:plot { y = "regain" }:save "treatment.svg")
]])

local _, version = h.run { "--version" }
version = version:match("%d[%d.]*%d")
local NAME = "hairfibre " .. version

-- Words of one line, however it was wrapped or marked up.
local function plain(text)
  return (text:gsub("<[^>]*>", " "):gsub("\n# ", " "):gsub("%s+", " "))
end

local checked = 0
local function says(what, text, parts)
  checked = checked + 1
  text = plain(text or "")
  for _, part in ipairs(parts) do
    h.check(text:find(part, 1, true), ("%s says %s"):format(what, part), text:sub(-600))
  end
end

local ORIGIN = { NAME, "set virgin", "digest ", "no parameter changed" }
local CHANGED = { NAME, "set bleached", "digest ", "changed: sorption.scale = 1.05" }
local change = { "--set", "bleached", "--change", "sorption.scale=1.05" }

local function join(...)
  local list = {}
  for _, part in ipairs { ... } do
    table.move(part, 1, #part, #list + 1, list)
  end
  return list
end

-- ---- printed pages
local REGAIN = { "regain", "--at", "humidity=65%" }
for _, row in ipairs {
  { { "value", REGAIN }, join(ORIGIN, { "draws 1024", "seed 1", "method sobol" }) },
  { { "value", REGAIN, change, { "--draws", "64", "--seed", "3" } }, join(CHANGED, { "draws 64", "seed 3" }) },
  { { "curve", { "regain", "--over", "humidity=0..100%" } }, ORIGIN },
  { { "curve", { "regain", "--over", "humidity=0..100%" }, change }, CHANGED },
  { { "sensitivity", REGAIN, change, { "--samples", "32" } }, join(CHANGED, { "samples 32", "seed 1", "bootstrap 400" }) },
  { { "sensitivity", { "short.lua", "--answer", "regain_end", "--tours", "2" } }, join(ORIGIN, { "tours 2", "cells 20",
    "from short.lua (SHA-256 " }) },
  { { "claim", { "regain", "--says", "15 % dry basis", "--at", "humidity=65%" } }, { NAME, "digest " } },
  { { "claim", { "--book" } }, { NAME, "digest " } },
  { { "ensemble", { "short.lua", "--strands", "16", "--seed", "4" }, change }, join(CHANGED, { "seed 4", "strands 16",
    "schedule ", "cells 20", "from short.lua (SHA-256 " }) },
  { { "fit", { "gab", "examples/data/sorption_invented.csv", "--group", "branch" } }, { NAME, "digest ", "seed 1",
    "from sorption_invented.csv (SHA-256 " } },
  { { "count", { "plan", "groups", "--expect", "10%,60%" } }, { NAME, "digest ", "seed 1" } },
  { { "count", { "read", "examples/data/strands_evening_invented.csv" } }, { NAME, "digest ",
    "strands_evening_invented.csv (SHA-256 " } },
  { { "parameters", { "void" } }, ORIGIN },
  { { "models", {} }, ORIGIN },
  { { "models", { "regain" } }, ORIGIN },
  { { "sources", { "regain" } }, { NAME } },
  { { "sources", { "regain", "--bibtex" } }, { NAME } },
  { { "selftest", { "regain" } }, ORIGIN },
} do
  local words = join({ row[1][1] }, table.unpack(row[1], 2))
  local code, out = h.run(words)
  h.check(code == 0, "hairfibre " .. table.concat(words, " "), out)
  says(table.concat(words, " "), out, row[2])
end

-- ---- JSON
for _, words in ipairs { join({ "value" }, REGAIN, change), join({ "sensitivity" }, REGAIN, { "--samples", "32", "--json" }),
  { "ensemble", "short.lua", "--strands", "16" }, { "claim", "regain", "--says", "15 %", "--at", "humidity=65%" },
  { "fit", "gab", "examples/data/sorption_invented.csv", "--group", "branch" }, { "parameters", "void" }, { "models", "regain" },
  { "count", "read", "examples/data/strands_evening_invented.csv" }, { "selftest", "regain" } } do
  if words[#words] ~= "--json" then
    words[#words + 1] = "--json"
  end
  local _, out = h.run(words)
  local object = dkjson.decode(out) or {}
  h.check(object.version == version and object.set and object.digest, table.concat(words, " "), out:sub(1, 300))
end

-- ---- files
h.shell(h.quote(h.program) .. " run results.lua --out .")
for _, words in ipairs { { "curve", "regain", "--over", "humidity=0..100%", "--save", "curve.svg" },
  join({ "sensitivity" }, REGAIN, { "--samples", "32", "--save", "bars.svg" }),
  { "ensemble", "short.lua", "--strands", "16", "--save", "strands.csv" },
  { "report", "results.lua", "--save", "page.html" } } do
  h.run(words)
end
for name, parts in pairs { ["table.csv"] = CHANGED, ["picture.svg"] = CHANGED, ["picture.csv"] = CHANGED,
  ["log.csv"] = join(ORIGIN, { "from plate_log_invented.csv (SHA-256 " }), ["treatment.csv"] = join(CHANGED, { "cells 30" }),
  ["treatment.svg"] = CHANGED, ["rings.svg"] = CHANGED, ["rings.csv"] = CHANGED, ["curve.svg"] = ORIGIN, ["curve.csv"] = ORIGIN,
  ["bars.svg"] = join(ORIGIN, { "samples 32" }), ["bars.csv"] = join(ORIGIN, { "samples 32" }),
  ["strands.csv"] = join(ORIGIN, { "seed 1", "from short.lua (SHA-256 " }), ["page.html"] = { NAME, "digest " } } do
  says(name, h.read(h.work .. "/" .. name), parts)
end
for _, name in ipairs { "table", "log", "treatment", "strands" } do
  local object = dkjson.decode(h.read(h.work .. "/" .. name .. ".json") or "") or {}
  h.check(object.version == version and object.digest and object.changed and object.options, name .. ".json")
end
-- The checksum is that of the file.
local _, sum = h.shell("sha256sum examples/data/plate_log_invented.csv")
local log = dkjson.decode(h.read(h.work .. "/log.json") or "") or { inputs = { {} } }
h.check(log.inputs[1].sha256 == sum:match("%x+"), "checksum of a history")

h.finish()
