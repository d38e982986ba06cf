-- What the text of a claim says: forms, figures with half a unit of the last digit, faults.
local says = require "hairfibre.claim.says"

local FRACTION = { unit = "1", kind = "fraction" }
local KELVIN = { unit = "K", kind = "temperature" }
local PASCAL = { unit = "Pa", kind = "number" }
local INF = math.huge

-- text, descriptor, form, low, high: a figure reaches half a unit of its last digit to both sides
local texts = {
  { "20 %", FRACTION, "figure", 0.195, 0.205 },
  { "about 20 %", FRACTION, "figure", 0.195, 0.205 },
  { "20.0 %", FRACTION, "figure", 0.1995, 0.2005 },
  { "1.5e1 %", FRACTION, "figure", 0.145, 0.155 },
  { "15..20 %", FRACTION, "range", 0.145, 0.205 },
  { "15 to 20 %", FRACTION, "range", 0.145, 0.205 },
  { "at least 20 %", FRACTION, "at least", 0.195, INF },
  { "more than 20 %", FRACTION, "at least", 0.195, INF },
  { ">=20 %", FRACTION, "at least", 0.195, INF },
  { "no more than 20 %", FRACTION, "at most", -INF, 0.205 },
  { "below 20 %", FRACTION, "at most", -INF, 0.205 },
  { "up to 20 %", FRACTION, "up to", 0.195, 0.205 },
  { "of the order of 10 %", FRACTION, "order", 0.1 / math.sqrt(10), 0.1 * math.sqrt(10) },
  { "100 degC", KELVIN, "figure", 372.65, 373.65 },
  { "212 degF", KELVIN, "figure", 373.15 - 0.5 * 5 / 9, 373.15 + 0.5 * 5 / 9 },
  { "150..160 degC", KELVIN, "range", 422.65, 433.65 },
  { "0.02 gf/um2", PASCAL, "figure", 0.015 * 9806.65e6, 0.025 * 9806.65e6 },
}

-- text, descriptor, part of the sentence
local faults = {
  { "20", FRACTION, "as a fraction it is 2000 %, as percent it is 20 %" },
  { "150", KELVIN, "150 degC is 423.15 K, 150 degF is 338.7" },
  { "20 degC", FRACTION, "is no unit of a fraction" },
  { "", FRACTION, "a figure" }, { "much", FRACTION, "is not understood" },
  { "20..10 %", FRACTION, "does not rise" }, { "at least 10..20 %", FRACTION, "takes one figure" },
  { "of the order of 10 degC", KELVIN, "order of magnitude" },
  { "nan %", FRACTION, "not understood" },
}

return function(t)
  t.test("what a text says", function()
    for _, case in ipairs(texts) do
      local read, message = says.parse(case[1], case[2])
      assert(read, message)
      t.equal(read.form, case[3], case[1])
      for i, key in ipairs { "low", "high" } do
        if math.abs(case[3 + i]) == INF then
          t.equal(read[key], case[3 + i], case[1])
        else
          t.close(read[key], case[3 + i], 1e-9 * math.abs(case[3 + i]), case[1])
        end
      end
    end
    for _, case in ipairs(faults) do
      local read, message = says.parse(case[1], case[2])
      t.equal(read, nil, case[1])
      t.says(message, { "says", case[3] })
    end
    t.equal(says.parse("30 % dry basis", FRACTION).basis, "dry")
    t.equal(says.parse("30 % by wet mass", FRACTION).basis, "wet")
    t.equal(says.parse("30 %", FRACTION).basis, nil)
    local read = says.parse("falls with relative humidity", FRACTION)
    t.equal(read.form .. read.way .. read.argument, "directionfallsrelative_humidity")
    for text, measure in pairs { ["30 % lower"] = "drop", ["up to 30 % weaker"] = "drop", ["30 % higher"] = "rise",
      ["3 times"] = "ratio", ["33 times lower"] = "part" } do
      t.equal(says.parse(text, PASCAL, true).measure, measure, text)
    end
    t.equal(says.parse("200 MPa", PASCAL, true), nil)
  end)
end
