-- The runner of literature rows, on rows made up here, and that the library's own data load.
local hf = require "hairfibre"
local reference = hf.reference

local SOURCE = 'source{ key = "iapws-sr1-86", place = "check values", known = "published" }\n'

local function run(text)
  return reference.run(reference.load(SOURCE .. text, "rows.lua"))
end

-- row, part of the error
local wrong = {
  { 'row{ "saturation_pressure", temperature = "300 K" }', "a row needs one of" },
  { 'row{ "saturation_pressure", temperature = "300 K", expect = "1 Pa" }', "within is missing" },
  { 'row{ "saturation_pressure", temperature = "300", expect = "1 Pa", within = "1 Pa" }', "has no unit" },
  { 'row{ "saturation_pressure", temprature = "300 K", expect = "1 Pa", within = "1 Pa" }', "did you mean \"temperature\"" },
  { 'row{ "saturation_presure", expect = "1 Pa", within = "1 Pa" }', "did you mean \"saturation_pressure\"" },
  { 'row{ "saturation_pressure", temperature = "300 K", expect = "1 m", within = "1 Pa" }', "expect:" },
  { 'row{ "saturation_pressure", temperature = "300 K", low = "2 Pa", high = "1 Pa" }', "below high" },
  { 'row{ "saturation_pressure", temperature = "300 K", fails = "range", role = "odd" }', "role is" },
  { 'row{ "saturation_pressure", temperature = "300 K", fails = "range", set = "nylon" }', "no set" },
  { 'row{ 5 }', "starts with the name" },
  { 'source{ key = "none", place = "x", known = "published" }', "no source" },
  { 'source{ key = "iapws-sr1-86", place = "x", known = "sure" }', "known must be" },
  { 'os.exit(1)', "os" },
  { 'row{', "rows.lua:" },
}

return function(t)
  t.test("rows that hold and rows that miss", function()
    local list = run [[
row{ "saturation_pressure", temperature = "273.16 K", expect = "611.657 Pa", within = "0.0005 Pa" }
row{ "saturation_pressure", temperature = "273.16 K", expect = "612 Pa", within = "0.1 Pa" }
row{ "saturation_pressure", temperature = "100 K", fails = "range" }
row{ "saturation_pressure", temperature = "300 K", fails = "range" }
row{ "saturation_pressure", temperature = "0.01 degC", low = "600 Pa", high = "620 Pa", why = "x" }
row{ "saturation_pressure", temperature = "273.16 K", expect = "700 Pa", within = "1 %", disagrees = "made up" }
row{ "saturation_pressure", temperature = "273.16 K", expect = "611.657 Pa", within = "1 %", disagrees = "stale" }
row{ "saturation_pressure", temperature = "373.1243 K", ratio_to = { temperature = "273.16 K" }, expect = 165.6565, within = 0.001 }
row{ "saturation_pressure", temperature = "373.1243 K", minus = { temperature = "273.16 K" }, expect = "100713.3 Pa", within = "1 Pa" }
row{ "saturation_pressure", temperature = "100 K", expect = "1 Pa", within = "1 Pa" }
row{ "regain", humidity = "65 %", low = "10 %", role = "calibration", note = "n", set = "wool" }
row{ "regain", humidity = "65 %", temperature = "200 degC", fails = "range", extrapolate = false }
]]
    local got = {}
    for i, one in ipairs(list) do
      got[i] = one.passed and "yes" or "no"
      t.equal(one.source, "iapws-sr1-86")
      t.equal(one.line, i + 1)
    end
    t.equal(table.concat(got, " "), "yes no yes no yes yes no yes yes no yes yes")
    t.equal(list[6].meets, false)
    t.equal(list[10].message:find("100 K", 1, true) ~= nil, true)
    t.equal(list[11].role, "calibration")
    t.says(list[1].arguments, { "temperature = 0" })
    t.says(list[1].expected, { "611.657 Pa within 0.0005 Pa" })
    t.says(list[8].arguments, { "ratio to" })
  end)
  t.test("faults of a file name its line", function()
    for _, case in ipairs(wrong) do
      local message = t.raises({ case[2] }, run, case[1])
      t.says(message, { "rows.lua:2" })
      assert(not message:find("rows.lua:2: rows.lua"), message)
    end
    t.raises({ "rows.lua:1", "before the first row" }, reference.load, 'row{ "regain" }', "rows.lua")
    t.raises({}, reference.load, "\27Lua", "rows.lua")
  end)
  t.test("the library's own rows load and pass", function()
    local list, count = reference.all()
    t.equal(#list, count.passed + count.failed)
    for _, one in ipairs(list) do
      assert(one.passed, ("%s:%d %s(%s): expected %s, got %s"):format(one.file, one.line, one.quantity, one.arguments,
        one.expected, one.got))
    end
  end)
end
