-- CSV files as instruments and spreadsheets write them, right and wrong.
local hf = require "hairfibre"
local core = require "hairfibre.core"

-- text, parts of the sentence
local wrong = {
  { "", { "is empty", "header" } },
  { " \n\n", { "is empty" } },
  { "time_s\n", { "no rows" } },
  { "time_s,temperature_degC\n0,20\n1,x\n", { "line 3", "temperature_degC", "\"x\": no number" } },
  { "time_s,temperature_degC\n0,20\n\n1\n", { "line 4", "1 cell; 2 were expected" } },
  { "time_s,temperature_degC\n0,20,5\n", { "line 1 names 2 columns", "3 cells", "decimal comma" } },
  { "time_s;temperature_degC\n0;20,5\n1;20.5\n", { "line 2", "line 3", "one decimal sign in the whole file" } },
  { "time_s;temperature_degC\n0;20\n1;1,234\n", { "line 3", "1.234 or 1234", "one decimal sign in the whole file" } },
  { "time_s,temperature_degC\n0,\n", { "line 2", "empty" } },
  { "time_s,temperature_degC\n0,nan\n", { "no number" } },
  { "time_s,temperature_degC\n0,1e999\n", { "too large" } },
  { "time_s,temperature\n0,20\n", { "line 1", "temperature_degC", "temperature_K" } },
  { "time_s,temperature_m\n0,20\n", { "degC, degF or K" } },
  { "time_s,humidity\n0,20\n", { "humidity_percent" } },
  { "duration\n5\n", { "duration_s" } },
  { "time_s,time_min\n0,20\n", { "two columns are called time" } },
  { "time_s,,x\n0,1,2\n", { "column 2 has no name" } },
  { "0,20\n1,30\n", { "line 1", "name of a column" } },
  { "time_s,note\n0,\"open\n", { "quotation mark" } },
  { "time_s\n\"a\nb\"x\n", { "line 2", "quotation mark" } },
  { "\xFF\xFEt\0i\0", { "no rows" } },
  { "time_s\n\0\n", { "no table of text" } },
  { "time_s;temperature_degC;humidity_percent\n0;20;65\n1;;65\n2;x;65\n", { "line 3", "empty" } },
}

return function(t)
  local made = 0
  local function file(text)
    made = made + 1
    local path = ("%s/log_%d.csv"):format(t.folder, made)
    assert(core.write(path, text))
    return path
  end
  t.test("units become SI, whatever the dialect", function()
    local want = { time = { 0, 60 }, temperature = { 293.15, 473.15 }, humidity = { 0.65, 0.1 } }
    for _, text in ipairs {
      "time_s,temperature_degC,humidity_percent\n0,20,65\n60,200,10\n",
      "\xEF\xBB\xBFtime [min],temperature [°C],humidity [%]\r\n0,20,65\r\n1,200,10\r\n",
      "time_min;temperature_degF;humidity_fraction\n0;68;0.65\n1;392;0.1",
      "# a comment\n# another, with a comma\ntime_h\ttemperature_K\thumidity [%RH]\n0\t293.15\t65\n\n0.016666666666666666\t473.15\t10\n",
      "time;temperature;humidity\nmin;\xB0C;%\n0,0;20;65\n1,0;200;10\n",
      "\xFF\xFE" .. ("time_s,temperature_degC,humidity_percent\n0,20,65\n60,200,10\n"):gsub(".", "%0\0"),
      "\"time_s\",\"temperature_C\",\"humidity_percent\",,\r0,\"20\", 65 ,,\r60,200,10,,\r",
    } do
      local r, message = hf.read(file(text))
      assert(r, message)
      for name, values in pairs(want) do
        for i, x in ipairs(values) do
          t.close(r[name][i], x, 1e-9, name .. " of " .. text)
        end
      end
    end
  end)
  t.test("a saved result reads back", function()
    local r = hf.tabulate("regain", { humidity = hf.sweep(0.1, 0.9, 9), temperature = "30 degC" })
    local path = t.folder .. "/regain.csv"
    assert(r:save(path))
    local got = assert(hf.read(path, { columns = { { name = "status", kind = "text" } } }))
    for i = 1, 9 do
      t.equal(got.regain[i], r.regain[i])
      t.equal(got.humidity[i], r.humidity[i])
    end
    t.equal(got.status[1], "ok")
    t.equal(got:column("regain").kind, "fraction")
  end)
  t.test("names of one's own", function()
    local r = assert(hf.read(file "plate_degC,mass_mg,count,film_temperature_K,share_percent\n200,5,3,300,50\n"))
    t.close(r.plate[1], 473.15, 1e-9)
    t.close(r.mass[1], 5e-6, 1e-18)
    t.equal(r.count[1], 3)
    t.equal(r.film_temperature[1], 300)
    t.equal(r.share[1], 0.5)
    local named = assert(hf.read(file "load_cN\n5\n", { columns = { { name = "load", unit = "N" } } }))
    t.close(named.load[1], 0.05, 1e-15)
    t.equal(named:column("load").unit, "N")
  end)
  t.test("what cannot be used says where and why", function()
    for _, case in ipairs(wrong) do
      local r, message, code = hf.read(file(case[1]), { name = "log.csv" })
      t.equal(r, nil, case[1])
      t.equal(code, "data", case[1])
      t.says(message, { "log.csv" })
      t.says(message, case[2])
    end
  end)
  t.test("columns that are wanted", function()
    local wanted = { { name = "time", unit = "s" }, { name = "temperature", unit = "K", kind = "temperature" } }
    local r, message = hf.read(file "time_s\n1\n", { columns = wanted })
    t.equal(r, nil)
    t.says(message, { "no column temperature_K", "time_s" })
    wanted[2].optional = true
    assert(hf.read(file "time_s\n1\n", { columns = wanted }))
    t.raises({ "did you mean \"columns\"" }, hf.read, file "a\n1\n", { colums = {} })
    t.raises({ "columns[1]" }, hf.read, file "a\n1\n", { columns = { "time" } })
    t.raises({ "path" }, hf.read, nil)
  end)
  t.test("files", function()
    local none, message, code = hf.read(t.folder .. "/missing.csv")
    t.equal(none, nil)
    t.equal(code, "file")
    t.says(message, { "missing.csv", "no such file" })
    t.says(select(2, hf.read(t.folder)), { "folder" })
    core.write(t.folder .. "/empty.csv", "")
    t.says(select(2, hf.read(t.folder .. "/empty.csv")), { "is empty" })
  end)
  t.test("line numbers count lines, also inside quotation marks", function()
    local rows = assert(core.csv('a,b\r\n"x\r\ny",2\r\n\r\n  \r\n3,4'))
    t.equal(#rows, 3)
    t.equal(rows[1].line, 1)
    t.equal(rows[2].line, 2)
    t.equal(rows[3].line, 6)
    t.equal(rows[2][1], "x\r\ny")
  end)
end
