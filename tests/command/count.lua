-- hairfibre count: plans, cards and sheets from outside; every fault of a sheet; nothing written that was not asked for.
package.path = "tests/command/?.lua;" .. package.path
local h = require "harness"
local dkjson = require "dkjson"

for _, name in ipairs { "evening", "second_evening", "blind", "blind_key", "wet" } do
  h.write(name .. ".csv", h.read(("examples/data/strands_%s_invented.csv"):format(name)))
end
h.write("five.csv", "id,donor,group,voids\n1,A,hot,1\n2,A,hot,2\n3,A,hot,yes\n4,A,hot,y\n5,A,hot,3\n")
h.write("bad.csv", "id,donor,group,diameter_before_um,diameter_after_um,grade_before,grade_after,voids\n"
  .. "S1,A,hot,70,71,0,1,-1\nS1,A,hot,70,,0,1,2.5\nS3,A,hot,0.07,71,0,9,no\n")
h.write("empty.csv", "")
h.write("mixed.csv", "id,group,diameter_before_um,diameter_after_mm\nS1,a,70,0.071\n")

local HOT = { "--group", "control=soak 10min", "--group", "hot=soak 10min; blot; plates 200degC 1s" }
local function with(words, more)
  local list = table.move(words, 1, #words, 1, {})
  for i, word in ipairs(more) do
    list[#words + i] = word
  end
  for key, value in pairs(more) do
    if type(key) == "string" then
      list[key] = value
    end
  end
  return list
end

local groups = { "count", "plan", "groups", "--expect", "10%,60%", "--pixel", "0.5um" }
local rows = {
  { "count", "--help", out = { "plan", "card", "read", "Example:" } },
  { "count", code = 2, err = { "plan, card or read" } },
  { "count", "plans", code = 2, err = { 'did you mean "plan"?' } },

  -- ---- plan
  with(with(groups, HOT), { out = { "17 in each group, 34 in all", "83 %", "Fisher's exact test", "0.56 um",
    "can be seen on each strand", "iso139", "Who grades must not see the key", "never on a head",
    "hairfibre", "digest" } }),
  { "count", "plan", "share", "--at-least", "80%", out = { "17 strands; one donor", "at least 80 % do at 95 %" } },
  { "count", "plan", "share", "--expect", "90%", "--against", "50%", out = { "exact binomial test" } },
  { "count", "plan", "pairs", "--expect", "50%,5%", out = { "McNemar's exact test" } },
  { "count", "plan", "change", "--effect", "2um", "--deviation", "3um", out = { "20 strands; one donor", "paired t test" } },
  { "count", "plan", "means", "--effect", "1um", "--deviation", "1um", "--power", "90%", out = { "23 in each group" } },
  { "count", "plan", "share", "--at-least", "80%", "--from", "wet.csv", out = { "from 16", "SHA-256" } },
  { "count", "plan", "share", "--at-least", "80%", "--donors", "weft A,weft B", out = { "2 donors" } },
  with(with(groups, HOT), { "--save", "evening_1", writes = true, out = { "wrote evening_1_sheet.csv", "wrote evening_1_key.csv" } }),
  with(groups, { "--save", "evening_1", code = 7, err = { "not overwritten" } }),
  with(groups, { "--save", "nowhere/x", code = 7, err = { "nowhere" } }),
  { "count", "plan", code = 2, err = { "purpose" } },
  { "count", "plan", "shares", code = 2, err = { 'did you mean "share"?' } },
  { "count", "plan", "share", code = 2, err = { "at-least" } },
  { "count", "plan", "groups", code = 2, err = { "expect" } },
  { "count", "plan", "share", "--at-least", "80", code = 2, err = { "80%" } },
  { "count", "plan", "share", "--at-least", "nan", code = 2, err = { "finite number" } },
  { "count", "plan", "share", "--at-least", "80%", "--pixel", "0.5", code = 2, err = { "--pixel" } },
  { "count", "plan", "share", "--at-least", "80%", "--pixel", "0um", code = 4, err = { "pixel" } },
  { "count", "plan", "share", "--at-least", "80%", "--strands", "2.5", code = 2, err = { "whole number" } },
  { "count", "plan", "share", "--at-least", "80%", "--group", "hot=plates 200 1s", code = 2, err = { "200 degC", "200 degF" } },
  { "count", "plan", "share", "--at-least", "80%", "--group", "hot=plats 200degC 1s", code = 2, err = { "plates" } },
  { "count", "plan", "share", "--at-least", "80%", "--group", "hot=bleach 10min", code = 2, err = { "ph is missing" } },
  { "count", "plan", "share", "--at-least", "80%", "--set", "nylon", code = 2, err = { "nylon" } },
  { "count", "plan", "share", "--at-least", "80%", "--from", "bad.csv", code = 3, out = { "bad.csv, line 2, column voids" },
    err = { "faults in bad.csv" } },
  { "count", "plan", "share", "--at-least", "80%", "--from", "none.csv", code = 3, err = { "none.csv" } },

  -- ---- card
  { "count", "card", "change", "--pixel", "0.5um", "--group", "wet=soak 10min; blot",
    out = { "BENCH CARD", "my guess", "planned: 0.5", "digest" } },
  { "count", "card", "change", "--pixel", "0.5um", "--group", "wet=soak 10min; blot", "--save", "card.svg", writes = true,
    out = { "wrote card.svg" } },
  { "count", "card", "share", "--at-least", "80%", "--save", "card.doc", code = 2, err = { ".svg, .png, .pdf or .txt" } },
  { "count", "card", "share", "--at-least", "80%", "--save", "nowhere/card.svg", code = 7, err = { "nowhere" } },

  -- ---- read
  { "count", "read", "five.csv", out = { "5 of 5: at least 48 % at 95 %", "5 of 5 strands showed voids: of such strands at least",
    "no control group", "SHA-256", "What these strands cannot show" } },
  { "count", "read", "evening.csv", "second_evening.csv", "--pixel", "0.5um", out = { "35 strands from 3 donors",
    "within donors, exact", "16 of 17: 71 % to 99.9 % at 95 %", "S04 (group control): fell off the stand", "0.055" } },
  { "count", "read", "evening.csv", "--predict", out = { "many and large voids", "The models know", "never on a head" } },
  { "count", "read", "wet.csv", "--group", "wet=soak 30min; blot", "--control", "air", out = { "compatible." } },
  { "count", "read", "blind.csv", "--key", "blind_key.csv", out = { "6 of 6: at least 54 % at 95 %", "key blind_key.csv" } },
  { "count", "read", "five.csv", "--method", "wilson", "--level", "90%", out = { "share (wilson)", "at 90 %" } },
  { "count", "read", "bad.csv", code = 3, out = { "bad.csv, line 2, column voids: \"-1\"; expected no negative number",
    "line 3, column id", "line 3, column diameter_after_um", "line 3, column voids", "no fraction",
    "line 4, column grade_after: \"9\"", "diameter_before_um: \"0.07\"" }, err = { "6 faults in bad.csv" } },
  { "count", "read", "empty.csv", code = 3, out = { "an empty file" }, err = { "1 fault" } },
  { "count", "read", "mixed.csv", code = 3, out = { "column diameter_after_mm", "unit for all diameters" }, err = { "1 fault" } },
  { "count", "read", "blind.csv", code = 3, out = { "here or in a key (--key)" } },
  { "count", "read", "none.csv", code = 3, err = { "none.csv" } },
  { "count", "read", ".", code = 3, err = { "folder" } },
  { "count", "read", code = 2, err = { "sheets" } },
  { "count", "read", "five.csv", "five.csv", code = 2, err = { "given twice" } },
  { "count", "read", "five.csv", "--method", "wilsn", code = 2, err = { 'did you mean "wilson"?' } },
  { "count", "read", "five.csv", "--control", "cold", code = 3, err = { "cold" } },
  { "count", "read", "five.csv", "--level", "100%", code = 4, err = { "level" } },
  { "count", "read", "five.csv", "--group", "cold=soak 1min", code = 3, err = { "cold" } },
  { "count", "read", "evening.csv", "--save", "evening.svg", code = 2, err = { "never changed" } },
  { "count", "read", "evening.csv", "--save", "evening.csv", code = 2, err = { "never changed" } },
  { "count", "read", "blind.csv", "--key", "blind_key.csv", "--save", "./blind_key.png", code = 2, err = { "never changed" } },
  { "count", "read", "five.csv", "--save", "five.jpg", code = 2, err = { ".svg, .png, .pdf or .csv" } },
  { "count", "read", "evening.csv", "--save", "counted.svg", "--pixel", "0.5um", writes = true,
    out = { "wrote counted.svg", "wrote counted.csv" } },
}
for _, row in ipairs(rows) do
  h.row(row)
end

for _, name in ipairs { "evening", "blind", "blind_key", "wet" } do
  h.check(h.read(h.work .. "/" .. name .. ".csv") == h.read(("examples/data/strands_%s_invented.csv"):format(name)),
    name .. " was not changed")
end
h.check((h.read(h.work .. "/counted.csv") or ""):find('"control (11)"', 1, true), "the numbers of the picture name the groups")
local function sha256(path)
  local pipe = assert(io.popen("sha256sum " .. h.quote(path)))
  return pipe:read("a"):match("^%x+")
end
local sum = sha256("examples/data/strands_evening_invented.csv")
h.check((h.read(h.work .. "/counted.svg") or ""):find(sum:sub(1, 16), 1, true), "the picture names its sheet")
h.check((h.read(h.work .. "/counted.csv") or ""):find(sum:sub(1, 16), 1, true), "its numbers do")

-- Sheet and key of a plan fit, those of two plans do not.
h.run { "count", "plan", "groups", "--expect", "10%,60%", "--seed", "2", "--save", "other" }
h.row { "count", "read", "evening_1_sheet.csv", "--key", "evening_1_key.csv", code = 3, out = { "no line is filled in" } }
h.row { "count", "read", "evening_1_sheet.csv", "--key", "other_key.csv", code = 3, out = { "of the same plan" } }

-- Completion
for _, row in ipairs { { "count", "", "plan\ncard\nread\n" }, { "count", "card", "g", "groups\n" },
  { "count", "read", "x.csv", "--method", "wil", "wilson\n" }, { "count", "plan", "share", "--at", "--at-least\n" } } do
  local words = table.move(row, 1, #row - 1, 2, { "complete" })
  local _, said = h.run(words)
  h.check(said == row[#row], table.concat(words, " "), said)
end
for word, page in pairs { plan = "plan", card = "card", read = "read" } do
  local _, help = h.run { "count", page, "--help" }
  local _, said = h.run { "complete", "count", word, "x", "--" }
  for option in help:gmatch("\n   [^\n]-(%-%-[%a-]+)") do
    h.check((said .. "\n"):find(option .. "\n", 1, true), "completion of count " .. word .. " knows " .. option)
  end
end

-- A link to a sheet is the sheet.
h.shell "ln -s evening.csv link.csv"
h.row { "count", "read", "evening.csv", "--save", "link.svg", code = 2, err = { "never changed" } }

-- JSON
local function object_of(words, wanted)
  local code, out = h.run(words)
  local object = dkjson.decode(out)
  h.check(code == wanted and type(object) == "table", "JSON of hairfibre " .. table.concat(words, " "), out)
  return object or {}, out
end
local plan, out = object_of({ "count", "plan", "groups", "--expect", "10%,60%", "--json" }, 0)
for _, key in ipairs { "purpose", "strands", "needed", "total", "power", "groups", "assignment", "seed", "plan", "version", "set",
  "digest", "alternatives", "level", "alpha" } do
  h.check(plan[key] ~= nil, "count plan --json has the key " .. key, out:sub(1, 300))
end
h.check(#plan.assignment == plan.total, "one place a strand")
local read
read, out = object_of({ "count", "read", "evening.csv", "--pixel", "0.5um", "--predict", "--json" }, 0)
for _, key in ipairs { "status", "files", "strands", "donors", "excluded", "lost", "groups", "tests", "kappa",
  "sentences", "cannot_show", "version", "set", "digest", "options", "inputs", "caution" } do
  h.check(read[key] ~= nil, "count read --json has the key " .. key, out:sub(1, 300))
end
h.check(read.groups[2].shares[1].events == 10 and read.groups[2].shares[1].strands == 11, "10 of 11 in JSON")
h.check(read.inputs[1].sha256 == sum, "checksum of the sheet")
local bad = object_of({ "count", "read", "bad.csv", "--json" }, 3)
h.check(bad.status == "data" and #bad.faults == 6 and bad.faults[1].line == 2 and bad.faults[1].column == "voids",
  "faults in JSON")

for _, words in ipairs { { "count", "--help" }, { "count", "plan", "--help" }, { "count", "card", "--help" },
  { "count", "read", "--help" }, with(groups, HOT), { "count", "card", "share", "--at-least", "80%" },
  { "count", "read", "evening.csv", "second_evening.csv", "--pixel", "0.5um", "--predict" }, { "count", "read", "bad.csv" } } do
  local _, text = h.run(words)
  h.narrow(text, "hairfibre " .. table.concat(words, " "))
end

h.finish()
