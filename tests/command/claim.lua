-- hairfibre claim: the five words, exit codes, the page, JSON, BibTeX, the claim book.
package.path = "tests/command/?.lua;" .. package.path
local h = require "harness"
local dkjson = require "dkjson"

local rows = {
  -- 31 % at saturation is read; the basis decides
  { "claim", "regain", "--says", "31 % dry basis", "--at", "humidity=100%", "--at", "temperature=25degC", "--set", "virgin",
    out = { "supported", "to print", "caption", "dry basis", "humidity 100 %", "temperature 25 degC", "neutron2014", "left out",
      "set virgin, digest" } },
  { "claim", "regain", "--says", "31 %", "--at", "humidity=100%", "--at", "temperature=25degC",
    out = { "conditional", "open conditions", "basis", "missing" } },
  { "claim", "regain", "--says", "100 %", "--at", "humidity=1", out = { "refuted", "neutron2014" } },
  { "claim", "regain", "--says", "17 %", out = { "holds  ", "for humidity", "between 0 and" } },
  { "claim", "regain", "--says", "15..20 %", "--at", "humidity=60..80%", out = { "verdict" } },
  { "claim", "regain", "--says", "rises with temperature", out = { "refuted", "falls over temperature" } },
  { "claim", "internal vapour pressure", "--says", "above 10 bar", "--at", "temperature=200degC", "--at", "regain=30%",
    out = { "doubtful", "no verdict rests on that", "caution" } },
  -- 450 degF is 232 degC, where dry hair melts
  { "claim", "denaturation_temperature", "--says", "450 degC", "--at", "regain=0%", out = { "refuted", "slip?",
    "degrees Fahrenheit, not Celsius: 232.2 degC may have been meant" } },
  { "claim", "break_stress", "--says", "0.02 MPa", "--at", "humidity=65%", out = { "slip?", "gram-force", "196.1 MPa" } },
  { "claim", "saturation_pressure", "--says", "96 % higher", "--at", "temperature=120degC", "--than", "temperature=100degC",
    out = { "supported", "against temperature 100 degC" } },
  { "claim", "regain", "--says", "15 % dry basis", "--at", "humidity=65%", "--at", "temperature=20degC", "--change",
    "sorption.absorption.c=12", out = { "changed:", "sorption.absorption.c = 12" } },
  { "claim", "regain", "--says", "30 %", "--at", "humidity=100%", "--bibtex", out = { "@article{chamberlain1931,",
    "@article{neutron2014," } },
  { "claim", "hygral_fatigue", "--says", "weakens", code = 5, out = { "no model", "no validated model" }, err = { "hygral_fatigue" } },
  { "claim", "--help", out = { "Usage: hairfibre claim", "Example:" } },

  -- ---- what is refused
  { "claim", code = 2, err = { "--book" } },
  { "claim", "regain", code = 2, err = { "--says" } },
  { "claim", "regian", "--says", "20 %", code = 2, err = { 'did you mean "regain"?' } },
  { "claim", "regain", "--says", "20", code = 2, err = { "as a fraction it is 2000 %", "as percent it is 20 %" } },
  { "claim", "denaturation_temperature", "--says", "150", code = 2, err = { "150 degC is 423.15 K", "150 degF is 338.7" } },
  { "claim", "regain", "--says", "20 degC", code = 2, err = { "degC" } },
  { "claim", "regain", "--says", "a lot", code = 2, err = { "not understood" } },
  { "claim", "regain", "--says", "20 %", "--at", "humidty=50%", code = 2, err = { 'did you mean "humidity"?' } },
  { "claim", "regain", "--says", "20 %", "--at", "humidity=50", code = 2, err = { "50%" } },
  { "claim", "regain", "--says", "20 %", "--at", "humidity=nan", code = 2, err = { "humidity" } },
  { "claim", "regain", "--says", "20 %", "--at", "humidity", code = 2, err = { "NAME=VALUE" } },
  { "claim", "regain", "--says", "20 %", "--at", "humidity=50%", "--at", "humidity=60%", code = 2, err = { "twice" } },
  { "claim", "regain", "--says", "20 %", "--set", "nylon", code = 2, err = { "the sets are" } },
  { "claim", "regain", "--says", "20 %", "--than", "humidity=50%", code = 2, err = { "30 % lower" } },
  { "claim", "regain", "--says", "20 %", "--at", "temperature=400degC", code = 4, err = { "temperature" } },
  { "claim", "regain", "--says", "20 %", "--json", "--bibtex", code = 2, err = { "--bibtex" } },
  { "claim", "regain", "--says", "20 %", "--book", code = 2, err = { "--book" } },

  -- ---- the book
  { "claim", "--book", out = { "verdict", "expected", " 0 different" } },
  { "claim", "--book", "12", out = { "12. Bubbles", "doubtful", "say instead", "lower bound" } },
  { "claim", "--book", "4", out = { "4a. ", "4b. ", "4c. " } },
  { "claim", "--book", "11", out = { "no model" } },
  { "claim", "--book", "--bibtex", out = { "@article{christian2011," } },
  { "claim", "--book", "14", code = 2, err = { "14" } },
}
for _, row in ipairs(rows) do
  h.row(row)
end

-- JSON: one of five words under the key verdict, and everything that belongs to it.
local WORDS = { supported = true, conditional = true, doubtful = true, refuted = true, ["no model"] = true }
local function object_of(words, wanted)
  local code, out = h.run(words)
  local object = dkjson.decode(out)
  h.check(code == wanted and type(object) == "table", "JSON of hairfibre " .. table.concat(words, " "), out)
  return object or {}, out
end

local object, out = object_of({ "claim", "regain", "--says", "30 %", "--at", "humidity=100%", "--json" }, 0)
for _, key in ipairs { "quantity", "says", "verdict", "why", "value", "low", "high", "span_low", "span_high", "unit", "status",
  "conditions", "missing", "holds", "source_for", "source_against", "slips", "sentence", "caption", "basis", "known",
  "sources", "set", "digest", "changed", "seed", "draws", "version", "leaves_out" } do
  h.check(object[key] ~= nil, "claim --json has the key " .. key, out)
end
h.check(object.verdict == "conditional", "verdict in JSON", out)
h.check(object.low < object.value and object.value < object.high, "the range holds the value", out)
h.check(object.conditions.humidity.state == "given" and object.conditions.temperature.state == "missing",
  "given and missing conditions", out)
h.check(#object.missing >= 3 and object.missing[1].condition == "temperature", "missing conditions are ranked", out)
h.check(object.sentence:find(object.basis, 1, true), "the sentence carries the basis", out)
object, out = object_of({ "claim", "hygral_fatigue", "--says", "weakens", "--json" }, 5)
h.check(object.verdict == "no model", "no model in JSON", out)
object, out = object_of({ "claim", "--book", "--json" }, 0)
h.check(object.different == 0 and #object.claims == object.as_expected, "the book in JSON", out:sub(1, 500))
for _, one in ipairs(object.claims) do
  h.check(WORDS[one.verdict] and one.verdict == one.expected, "claim " .. tostring(one.number), one.sentence)
end

for _, words in ipairs { { "claim", "--help" }, { "claim", "--book" }, { "claim", "--book", "13a" }, { "claim", "--book", "24" },
  { "claim", "regain", "--says", "30 %" }, { "claim", "hygral_fatigue", "--says", "weakens" },
  { "claim", "internal_boiling_temperature", "--says", "100 degC" } } do
  local _, text = h.run(words)
  h.narrow(text, "hairfibre " .. table.concat(words, " "))
end

h.finish()
