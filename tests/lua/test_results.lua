-- Results: columns, text, CSV, JSON, files.
local hf = require "hairfibre"
local core = require "hairfibre.core"
local dkjson = require "dkjson"

local function sample()
  return hf.result { title = "sample", notes = { "a note" }, columns = {
    { name = "time", unit = "s", values = { 0, 0.1, 1 / 3 } },
    { name = "temperature", unit = "K", kind = "temperature", values = { 293.15, 373.15, 473.15 } },
    { name = "heat", unit = "W/(m2 K)", values = { 1e-9, 0 / 0, 12345.678 } },
    { name = "humidity", unit = "1", kind = "fraction", values = { 0.1, 0.2, 0.3 } },
    { name = "who", kind = "text", values = { "a,b", 'say "x"', "" } },
  } }
end

local function slurp(path)
  local file = assert(io.open(path, "rb"))
  local text = file:read("a")
  file:close()
  return text
end

return function(t)
  t.test("columns and rows", function()
    local r = sample()
    t.equal(r.temperature[2], 373.15)
    t.equal(#r, 3)
    t.equal(r.nothing, nil)
    t.equal(r:column("heat").unit, "W/(m2 K)")
    local count = 0
    for i, row in r:rows() do
      count = count + 1
      t.equal(row.time, r.time[i])
    end
    t.equal(count, 3)
  end)
  t.test("CSV: units in the names, quoted cells, nothing for NaN", function()
    t.equal(sample():csv(), 'time_s,temperature_K,heat_W_per_m2_per_K,humidity_fraction,who\n'
      .. '0,293.15,1e-09,0.1,"a,b"\n0.1,373.15,,0.2,"say ""x"""\n0.3333333333333333,473.15,12345.678,0.3,\n')
  end)
  t.test("JSON reads back, with provenance", function()
    local set = hf.parameters("bleached", { ["sorption.absorption.k"] = 0.7 })
    local r = sample()
    r.set = set
    local got = assert(dkjson.decode(r:json()))
    t.equal(got.version, hf.version)
    t.equal(got.set, "bleached")
    t.equal(got.digest, set:digest())
    t.equal(got.changed[1].name, "sorption.absorption.k")
    t.equal(got.changed[1].value, 0.7)
    t.equal(got.columns[1].values[3], 1 / 3)
    t.equal(got.columns[3].values[2], nil)
    t.equal(got.columns[5].values[2], 'say "x"')
    t.equal(got.columns[2].unit, "K")
    t.equal(sample():json(), sample():json())
  end)
  t.test("text fits 80 columns", function()
    local wide = {}
    for i = 1, 12 do
      wide[i] = { name = ("a_rather_long_name_%d"):format(i), unit = "Pa", values = { 1, 2e6 } }
    end
    local r = hf.result { columns = wide, notes = { ("word "):rep(40) } }
    for line in r:text():gmatch("[^\n]+") do
      assert(utf8.len(line) <= 80, line)
    end
    local long = {}
    for i = 1, 100 do
      long[i] = i
    end
    t.says(hf.result({ columns = { { name = "n", values = long } } }):text(), { "... and 60 more rows" })
    t.says(sample():text(), { "temperature", "°C", "100", "a note", "sample" })
  end)
  t.test("saving is whole or not at all", function()
    local path = t.folder .. "/out äö.csv"
    assert(sample():save(path))
    local comment, rows = slurp(path):match("^(#[^\n]*\n)(.*)$")
    t.equal(rows, sample():csv())
    t.says(comment, { "# hairfibre " .. hf.version .. ", set virgin, digest ", "no parameter changed" })
    local plain = hf.result { columns = { { name = "time", unit = "s", values = { 0, 0.1 } } } }
    assert(plain:save(t.folder .. "/plain.csv"))
    local back = assert(hf.read(t.folder .. "/plain.csv"))
    t.equal(back.time[2], 0.1)
    t.says(back:text():gsub("%s+", " "), { "from plain.csv (SHA-256 " .. core.sha256(slurp(t.folder .. "/plain.csv")):sub(1, 16) })
    assert(sample():save(t.folder .. "/out.json"))
    t.raises({ ".csv or .json" }, sample().save, sample(), "out.txt")
    t.raises({ ".csv or .json" }, sample().save, sample())
    local none, message, code = sample():save(t.folder .. "/none/out.csv")
    t.equal(none, nil)
    t.equal(code, "file")
    t.says(message, { "cannot write", "no such file or folder" })
    t.says(select(2, core.write(t.folder, "x")), { "it is a folder" })
    t.equal(select(3, sample():save("a\nb.csv")), "file")
    assert(os.execute("ln -s 'out.json' '" .. t.folder .. "/link.json'"))
    assert(core.write(t.folder .. "/link.json", "linked"))
    t.equal(slurp(t.folder .. "/out.json"), "linked")
    for file in io.popen("ls -A '" .. t.folder .. "'"):lines() do
      assert(not file:find("tmp$"), file)
    end
    assert(core.write("/dev/null", "x"))
  end)
  t.test("reading files", function()
    local none, message, code = core.read(t.folder .. "/none")
    t.equal(none, nil)
    t.equal(code, "file")
    t.says(message, { "cannot read", "no such file" })
    t.says(select(2, core.read(t.folder)), { "it is a folder" })
    local big = ("0123456789"):rep(30000)
    assert(core.write(t.folder .. "/big", big))
    t.equal(core.read(t.folder .. "/big"), big)
  end)
  t.test("misuse", function()
    t.raises({ "columns" }, hf.result, {})
    t.raises({ "columns" }, hf.result)
    t.raises({ "two columns" }, hf.result, { columns = { { name = "a", values = {} }, { name = "a", values = {} } } })
    t.raises({ "has 1 values", "has 2" }, hf.result,
      { columns = { { name = "a", values = { 1, 2 } }, { name = "b", values = { 1 } } } })
    t.raises({ "row 2", "string" }, hf.result, { columns = { { name = "a", values = { 1, "x" } } } })
    t.raises({ "needs a name" }, hf.result, { columns = { { name = "a b", values = {} } } })
    t.equal(#hf.result { columns = {} }, 0)
    t.says(hf.result({ columns = {} }):text(), { "hairfibre " .. hf.version })
  end)
  t.test("tables of a quantity", function()
    local r = hf.tabulate("regain", { humidity = { "20 %", 0.65, 2 }, temperature = "25 degC", range = true })
    t.equal(r.regain[2], hf.regain(0.65, 298.15))
    assert(r.low[2] < r.regain[2] and r.regain[2] < r.high[2])
    t.equal(table.concat(r.status, " "), "ok ok range")
    assert(r.regain[3] ~= r.regain[3])
    t.says(r.notes[1], { "temperature = 25 °C", "branch = absorption", "set virgin" })
    t.equal(hf.tabulate("internal_vapour_pressure", { regain = 0.1, temperature = { 473.15 } }).status[1], "extrapolated")
    t.raises({ "needs a list" }, hf.tabulate, "regain", { humidity = 0.5 })
    t.raises({ "table of arguments" }, hf.tabulate, "regain")
    t.raises({ "unequal" }, hf.tabulate, "regain", { humidity = { 0.5, 0.6 }, temperature = { 300 } })
  end)
  t.test("paths inside the loop stay between the branches", function()
    local r = assert(hf.scanning { humidity = { "80 %", "60 %", 0.4, 0.6 }, start_regain = "20 %", temperature = "25 degC" })
    t.equal(r.regain[1], 0.2)
    for i, a in ipairs(r.humidity) do
      assert(r.regain[i] >= hf.regain(a, 298.15) - 1e-9 and r.regain[i] <= hf.regain(a, 298.15, "desorption") + 1e-9)
    end
    local none, message, code = hf.scanning { humidity = { 0.5 }, start_regain = 0.3, temperature = 298.15 }
    t.equal(none, nil)
    t.equal(code, "range")
    t.says(message, { "start_regain = 0.3" })
    t.raises({ "did you mean \"start_regain\"" }, hf.scanning, { humidity = { 0.5 }, start = 0.1 })
    t.raises({ "humidity must be a list" }, hf.scanning, { humidity = 0.5 })
    t.raises({ "temperature is missing" }, hf.scanning, { humidity = { 0.5 }, start_regain = 0.1 })
  end)
end
