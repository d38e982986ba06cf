-- Figures: safe scripts, the same bytes each time, honest numbers, errors as sentences.
local core = require "hairfibre.core"
local gnuplot = require "hairfibre.gnuplot"
local plot = require "hairfibre.plot"
local result = require "hairfibre.result"
local series = require "hairfibre.plot.series"

local has_gnuplot = os.execute("command -v gnuplot >/dev/null 2>&1")
local nan = 0 / 0

local function exists(path)
  local file = io.open(path)
  if file then
    file:close()
  end
  return file ~= nil
end

local function simple(changes)
  local d = { title = "A line", x = { label = "Time", unit = "s" }, y = { label = "Temperature", unit = "degC" },
    lines = { { name = "surface", x = { 0, 1, 2, 3 }, y = { 20, 40, 50, 55 } } } }
  for key, value in pairs(changes or {}) do
    d[key] = value
  end
  return d
end

-- Script without its quoted strings, and the lines of its data blocks.
local function taken_apart(script)
  local code, data, inside = {}, {}, false
  for line in script:gmatch("([^\n]*)\n") do
    if inside and line == "EOD" then
      inside = false
    elseif inside then
      data[#data + 1] = line
    else
      code[#code + 1] = line:gsub("'[^']*'", "")
      inside = line:find("<< EOD$") ~= nil
    end
  end
  return table.concat(code, "\n"), data
end

return function(t)
  local trap = t.folder .. "/trap"
  -- what each of these did in a careless script: run a command, end the string, end the data
  local hostile = {
    "`touch " .. trap .. "`", "$(touch " .. trap .. ")", "'; system('touch " .. trap .. "'); '",
    "\"; system(\"touch " .. trap .. "\"); \"", "x\nsystem('touch " .. trap .. "')",
    "x\r\nset output '|touch " .. trap .. "'", "EOD\nsystem('touch " .. trap .. "')", "EOD",
    "|touch " .. trap, "@macro $HOME %n \\n \\", "a\0b\27[31m", "''", "'", "'''' '' '''", "it's '' ''' x", "<b>&amp;", "a_b^c{d}", "\xFF\xFE broken",
  }

  t.test("quoted texts stay one string on one line", function()
    for _, s in ipairs(hostile) do
      local q = gnuplot.quote(s)
      assert(q:find("^'.*'$") and not q:sub(2, -2):find("'"), q)
      assert(not q:find("%c"), q)
      assert(utf8.len(q), q)
    end
    t.equal(gnuplot.quote("it's"), "'it’s'")
  end)

  t.test("hostile texts everywhere are shown and do nothing", function()
    for i, s in ipairs(hostile) do
      local d = simple { title = s, source = s, note = s, caution = s,
        x = { label = s, unit = s }, y = { label = s, unit = s },
        lines = { { name = s, x = { 0, 1 }, y = { 0, 1 } } }, marks = { { y = 0.5, text = s }, { x = 9, text = s } } }
      local code, data = taken_apart(plot.figure(d):script())
      assert(not code:find("[`\"]"), code)
      assert(not code:find("touch", 1, true), code)
      for _, line in ipairs(data) do
        assert(line == "" or not line:find("[^%d%.eE+%- ]"), line)
      end
      local path = t.folder .. "/hostile" .. i .. ".svg"
      if has_gnuplot then
        assert(plot.figure(d):save(path))
        t.says(core.read(path), { "</svg>", s == "a_b^c{d}" and ">a_b^c{d}<" or ">" }) -- no markup
      end
      assert(not exists(trap), "text " .. i .. " ran a command")
    end
    local bars = { x = { categories = hostile }, lines = { { kind = "bars", y = { 1, 2, 3, 4, 5, 6, 7, 8, 9, 1, 2, 3, 4, 5, 6, 7, 8, 9 } } } }
    assert(not taken_apart(plot.figure(bars):script()):find("[`\"]"))
    if has_gnuplot then
      assert(plot.figure(bars):save(t.folder .. "/hostile.png"))
    end
    assert(not exists(trap))
  end)

  t.test("names of files are no commands", function()
    t.equal(gnuplot.quote_path("|touch x.svg"), "'./|touch x.svg'")
    t.equal(gnuplot.quote_path("/a/it's.svg"), "'/a/it''s.svg'")
    t.equal(gnuplot.quote_path("a\nb.svg"), nil)
    t.equal(gnuplot.quote_path("a''b.svg"), nil) -- gnuplot 5.4 misreads four apostrophes in a row
    local f = plot.figure(simple())
    t.raises({ "plain file name" }, f.save_script, f, t.folder .. "/a.gp", "../../a.svg")
    t.raises({ "svg, png or pdf" }, f.save_script, f, t.folder .. "/a.gp", "a.exe")
    assert(f:save_script(t.folder .. "/a.gp", "|touch trap.svg"))
    t.says(core.read(t.folder .. "/a.gp"), { "set output './|touch trap.svg'" })
    assert(f:save_script(t.folder .. "/a.gp"))
    t.says(core.read(t.folder .. "/a.gp"), { "set output './a.svg'" })
    if has_gnuplot then
      assert(os.execute("cd '" .. t.folder .. "' && gnuplot -d a.gp"))
      t.says(core.read(t.folder .. "/a.svg"), { "</svg>" })
    end
  end)

  t.test("the same figure gives the same bytes", function()
    local d = simple { marks = { { y = 50, text = "half" } }, source = "made up" }
    t.equal(plot.figure(d):script("png"), plot.figure(d):script("png"))
    for _, suffix in ipairs(has_gnuplot and { "svg", "png", "pdf" } or {}) do
      local path = t.folder .. "/same." .. suffix
      assert(plot.figure(d):save(path))
      local first = core.read(path)
      os.execute("sleep 1.1") -- a clock time in the file would differ now
      assert(plot.figure(d):save(path))
      t.equal(core.read(path) == first, true, suffix)
      assert(not first:find("CreationDate", 1, true) and not first:find("Produced by", 1, true), suffix)
    end
    if has_gnuplot then
      t.says(core.read(t.folder .. "/same.svg"), { "<title>A line</title>", "Temperature against Time: surface." })
    end
  end)

  t.test("a later change of the caller's lists changes nothing", function()
    local d = simple()
    local f = plot.figure(d)
    local before = f:csv()
    d.lines[1].x[1], d.lines[1].y[4], d.title = -50, 900, "other"
    t.equal(f:csv(), before)
    assert(not f:script():find("900", 1, true))
  end)

  t.test("long records are thinned and keep their peaks", function()
    local x, y = {}, {}
    for i = 1, 100000 do
      x[i], y[i] = i, math.sin(i / 900)
    end
    y[77777], y[33333] = 41.5, -17.25 -- one point each
    local _, data = taken_apart(plot.figure(simple { lines = { { x = x, y = y } } }):script())
    local seen = table.concat(data, "\n")
    t.says(seen, { "77777 41.5", "33333 -17.25" })
    assert(#data <= 2100 and #data > 1000, #data)
    local points = {}
    for i = 1, 5000 do
      points[i] = { x = i, y = (i * 7919) % 1009 }
    end
    local thin = series.thin(points, 200)
    assert(#thin <= 200)
    t.equal(thin[1], points[1])
    t.equal(thin[#thin], points[5000])
    for i = 2, #thin do
      assert(thin[i].x > thin[i - 1].x)
    end
  end)

  t.test("gaps stay gaps", function()
    local y = { 1, 2, nan, 4, nan, 6, 7, math.huge }
    local _, data = taken_apart(plot.figure(simple { lines = { { x = { 1, 2, 3, 4, 5, 6, 7, 8 }, y = y } } }):script())
    t.says(table.concat(data, "\n") .. "\n", { "1 1\n2 2\n\n4 4\n\n6 6\n7 7\n" })
    local shown = plot.figure(simple { lines = { { x = { 1, 2, 3 }, y = { nan, 5, nan } } } }):script()
    t.says(shown, { "with points" }) -- a point between gaps is no stroke
    local none, message, code = plot.figure(simple { lines = { { x = { 1 }, y = { nan } } } }):save(t.folder .. "/n.svg")
    t.equal(none, nil)
    t.equal(code, "data")
    t.says(message, { "no number to draw" })
  end)

  t.test("a logarithmic axis leaves out what it cannot show and says so", function()
    local script = plot.figure(simple { y = { scale = "log" }, lines = { { x = { 1, 2, 3 }, y = { 0, 10, 100 } } } }):script()
    t.says(script, { "1 value at or below zero cannot be shown", "set logscale y", "2 10\n3 100\n" })
  end)

  t.test("what evidence does not support is dashed from its limit on", function()
    local d = simple { lines = { { name = "a", x = { 0, 10, 20 }, y = { 0, 10, 20 }, dashed_from = 15 } } }
    local script = plot.figure(d):script()
    t.says(script, { "0 0\n10 10\n15 15\nEOD", "15 15\n20 20\nEOD", "outside the evidence (extrapolated)",
      "set object rectangle from first 15, graph 0 to first 20, graph 1 behind" })
    d.lines[1].dashed_from, d.lines[1].extrapolated = nil, { true, false, false }
    t.says(plot.figure(d):script(), { "10 10\n20 20\nEOD", "0 0\n10 10\nEOD" })
    d.lines[2] = { name = "b", x = { 0, 20 }, y = { 5, 5 } } -- supported all along: no common ground to shade
    assert(not plot.figure(d):script():find("rectangle from first", 1, true))
    assert(not plot.figure(simple()):script():find("evidence", 1, true))
    local bars = { x = { categories = { "a", "b" } }, lines = { { kind = "bars", y = { 1, 2 }, extrapolated = { false, true } } } }
    t.says(plot.figure(bars):script(), { "Pale bars: outside" })
  end)

  t.test("a mark off the axis is named under the figure", function()
    local script = plot.figure(simple { y = { low = 0, high = 60 }, marks = { { y = 200, text = "far" } } }):script()
    t.says(script, { "Off the axis: far (at 200)." })
  end)

  t.test("unknown words are refused with the nearest", function()
    for _, case in ipairs {
      { { titel = "x" }, { "\"titel\"", "\"title\"" } },
      { { x = { lable = "x" } }, { "x has no \"lable\"", "\"label\"" } },
      { { y = { scale = "lg" } }, { "\"lg\"", "\"log\"" } },
      { { lines = { { x = { 1 }, y = { 1 }, knd = "line" } } }, { "line 1", "\"knd\"", "\"kind\"" } },
      { { lines = { { x = { 1 }, y = { 1 }, kind = "point" } } }, { "\"point\"", "\"points\"" } },
      { { marks = { { z = 1 } } }, { "mark 1", "\"z\"" } },
      { { style = "projektor" }, { "\"projektor\"", "\"projector\"" } },
      { { size = "colum" }, { "\"colum\"", "\"column\"" } },
      { { size = { widht = 90 } }, { "\"widht\"", "\"width\"" } },
      { { [1] = "x" }, { "a figure has no \"1\"" } },
    } do
      t.raises(case[2], plot.figure, simple(case[1]))
    end
    local f = plot.figure(simple())
    t.raises({ "\"colour\"" }, f.preview, f, { color = true })
    t.raises({ ".svg, .png, .pdf, .csv", "a.jpg" }, f.save, f, "a.jpg")
    t.raises({ "ends in" }, f.save, f, t.folder)
    t.raises({ "\"eps\"" }, f.script, f, "eps")
  end)

  t.test("misuse is named", function()
    local nine = {}
    for i = 1, 9 do
      nine[i] = { name = "l" .. i, x = { 1, 2 }, y = { i, i } }
    end
    for _, case in ipairs {
      { { lines = { { name = "dry", x = { 1, 2, 3 }, y = { 1, 2 } } } }, { "line \"dry\"", "3 values", "\"y\" has 2" } },
      { { lines = { { x = { 1, "2" }, y = { 1, 2 } } } }, { "\"x\"", "entry 2 is a string" } },
      { { lines = { { x = { 1 } } } }, { "\"y\" must be a list" } },
      { { lines = { { kind = "band", x = { 1 }, low = { 1 } } } }, { "\"high\" must be a list" } },
      { { lines = { { x = { 1 }, y = { 1 }, low = { 1 } } } }, { "come together" } },
      { { lines = {} }, { "at least one line" } },
      { { lines = nine }, { "9 different lines", "8 are the most" } },
      { { lines = { { x = { 1 }, y = { 1 }, like = "none" } } }, { "like = \"none\"" } },
      { { y = { scale = "log" }, lines = { { kind = "bars", x = { 1 }, y = { 1 } } } }, { "bars need linear axes" } },
      { { y = { scale = "log", low = 0 } }, { "limits above zero" } },
      { { y = { low = 3, high = 3 } }, { "low (3) must be below high (3)" } },
      { { x = { low = nan } }, { "not a finite number" } },
      { { title = 5 }, { "\"title\" must be a string, not a number" } },
      { { marks = { { x = 1, y = 1 } } }, { "either" } },
      { { marks = { { x = 1, text = ("x"):rep(81) } } }, { "more than 80 letters", "note" } },
      { { panels = {} }, { "either \"panels\"" } },
      { { size = { width = 5 } }, { "50 to 1000 mm" } },
    } do
      t.raises(case[2], plot.figure, simple(case[1]))
    end
  end)

  t.test("files that cannot be written", function()
    local none, message, code = plot.figure(simple()):save(t.folder .. "/none/a.svg")
    t.equal(none, nil)
    t.equal(code, "file")
    t.says(message, { "cannot write", "/none/a.csv", "no such file or folder" })
  end)

  t.test("without gnuplot the numbers are still written", function()
    local lua = io.popen("command -v lua5.4 || command -v lua"):read("l")
    local program = "local plot = require('hairfibre').plot print(plot.figure{lines = {{x = {1, 2}, y = {2, 3}}}}:save(arg[1]))"
    core.write(t.folder .. "/no.lua", program)
    local pipe = io.popen(("PATH=/nowhere '%s' '%s/no.lua' '%s/no.png'"):format(lua, t.folder, t.folder))
    t.says(pipe:read("a"), { "nil", "gnuplot-nox", "the numbers are in " .. t.folder .. "/no.csv", "tool" })
    pipe:close()
    t.equal(core.read(t.folder .. "/no.csv"), ("# hairfibre %s\nx,value\n1,2\n2,3\n"):format(core.version))
    assert(not exists(t.folder .. "/no.png"))
  end)

  t.test("the CSV holds every number, with units in the names", function()
    local f = plot.figure { x = { label = "Relative humidity", unit = "%" }, y = { label = "Regain", unit = "kg/kg" }, lines = {
      { name = "=absorption", x = { 10, 20, 30 }, y = { 0.1, nan, 1 / 3 }, dashed_from = 20 },
      { name = "desorption", x = { 10, 20, 30 }, y = { 0.2, 0.3, 0.4 } },
      { name = "measured", kind = "points", x = { 15 }, y = { 0.15 }, low = { 0.14 }, high = { 0.16 } },
    } }
    local want = table.concat({
      "relative_humidity_percent,absorption_regain_kg_per_kg,absorption_regain_extrapolated,desorption_regain_kg_per_kg,"
        .. "measured_relative_humidity_percent,measured_regain_kg_per_kg,measured_regain_low_kg_per_kg,measured_regain_high_kg_per_kg",
      "10,0.1,no,0.2,15,0.15,0.14,0.16", "20,,no,0.3,,,,", "30,0.33333333333333331,yes,0.4,,,,", "" }, "\n")
    t.equal(f:csv(), want)
    assert(f:save(t.folder .. "/only.csv"))
    t.equal(core.read(t.folder .. "/only.csv"), "# hairfibre " .. core.version .. "\n" .. want)
    for unit, header in pairs { ["µmol/g"] = "x_umol_per_g", ["µm²"] = "x_um2", ["mol/m³"] = "x_mol_per_m3", ["°F"] = "x_degF",
      ["m2/s"] = "x_m2_per_s", ["W/(m² K)"] = "x_W_per_m2_per_K", ["%"] = "x_percent", ["µN"] = "x_uN" } do
      t.equal(plot.figure { x = { label = "t" }, y = { label = "x", unit = unit }, lines = { { x = { 1 }, y = { 2 } } } }:csv(),
        "t," .. header .. "\n1,2\n")
    end
    local words = plot.figure { x = { categories = { "=1+1", "a \"b\"" } }, lines = { { kind = "bars", y = { 1, 2 } } } }
    t.equal(words:csv(), "category,value\n\"'=1+1\",1\n\"a \"\"b\"\"\",2\n")
  end)

  t.test("columns of a result", function()
    local r = result.new { title = "Drying", caution = "bench only", columns = {
      { name = "time", unit = "s", values = { 0, 60, 120, 0, 60, 120 } },
      { name = "temperature", unit = "K", kind = "temperature", values = { 293.15, 343.15, 353.15, 293.15, 333.15, 343.15 } },
      { name = "regain", unit = "1", kind = "fraction", values = { 0.3, 0.2, 0.1, 0.3, 0.25, 0.2 } },
      { name = "room", kind = "text", values = { "warm", "warm", "warm", "cool", "cool", "cool" } },
    } }
    local one = plot.result(r, { x = { column = "time", unit = "min" }, y = "temperature", by = "room" })
    t.equal(one:csv(), "time_min,warm_temperature_degC,cool_temperature_degC\n0,20,20\n1,70,60\n2,80,70\n")
    t.says(one:script(), { "Time (min)", "Temperature (°C)", "Drying", "Caution: bench only" })
    local two = plot.result(r, { x = "time", y = { "temperature", "regain" } }):script()
    t.says(two, { "set multiplot", "Regain (%)" })
    t.raises({ "\"temprature\"", "\"temperature\"" }, plot.result, r, { x = "time", y = "temprature" })
    t.raises({ "holds words" }, plot.result, r, { x = "room", y = "regain" })
    t.raises({ "unit" }, plot.result, r, { x = { column = "time", unit = "kg" }, y = "regain" })
  end)

  t.test("a worksheet keeps the answer back", function()
    if not has_gnuplot then
      return
    end
    local f = plot.figure(simple { title = "The answer" })
    assert(f:worksheet(t.folder .. "/sheet.svg"))
    local svg = core.read(t.folder .. "/sheet.svg")
    t.says(svg, { "Lines to draw: surface.", "Temperature (°C)" })
    assert(not svg:find("The answer", 1, true) and not exists(t.folder .. "/sheet.csv"))
  end)
end
