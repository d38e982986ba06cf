-- Data files as instruments and spreadsheets write them: dialects, traps, refusals. Files are made byte by byte here.
local hf = require "hairfibre"
local core = require "hairfibre.core"

local UNITS = { RH = { unit = "%" }, moisture = { unit = "%", basis = "dry" } }
local BODY = "RH;moisture\n10;4,5\n20;6,25\n30;9,1\n"
local WANT = { RH = { 0.1, 0.2, 0.3 }, moisture = { 0.045, 0.0625, 0.091 } }

-- UTF-16 of an UTF-8 text, characters beyond U+FFFF as pairs.
local function utf16(text, order, mark)
  local out = { mark and string.pack(order .. "I2", 0xFEFF) or "" }
  for _, c in utf8.codes(text) do
    if c > 0xFFFF then
      out[#out + 1] = string.pack(order .. "I2", 0xD800 + ((c - 0x10000) >> 10))
      c = 0xDC00 + ((c - 0x10000) & 0x3FF)
    end
    out[#out + 1] = string.pack(order .. "I2", c)
  end
  return table.concat(out)
end

-- name, bytes, word of the encoding, word of the delimiter, line of the header
local dialects = {
  { "semicolons and decimal comma", BODY, "utf-8", "semicolon", 1 },
  { "CRLF", (BODY:gsub("\n", "\r\n")), "utf-8", "semicolon", 1 },
  { "CR alone", (BODY:gsub("\n", "\r")), "utf-8", "semicolon", 1 },
  { "no end of the last line", BODY:sub(1, -2), "utf-8", "semicolon", 1 },
  { "byte-order mark", "\xEF\xBB\xBF" .. BODY, "utf-8", "semicolon", 1 },
  { "UTF-16, little end first", utf16(BODY, "<", true), "utf-16le", "semicolon", 1 },
  { "UTF-16, big end first", utf16(BODY, ">", true), "utf-16be", "semicolon", 1 },
  { "UTF-16 without its mark", utf16(BODY, "<", false), "utf-16le", "semicolon", 1 },
  { "UTF-16 without its mark, big end first", utf16(BODY, ">", false), "utf-16be", "semicolon", 1 },
  { "Latin-1", "K\xFChler 23 \xB0C\n" .. BODY, "latin-1", "semicolon", 2 },
  { "tabs", (BODY:gsub(";", "\t"):gsub(",", ".")), "utf-8", "tab", 1 },
  { "commas", (BODY:gsub(",", "."):gsub(";", ",")), "utf-8", "comma", 1 },
  { "quoted decimal commas between commas", '"RH","moisture"\n"10","4,5"\n"20","6,25"\n"30","9,1"\n', "utf-8", "comma", 1 },
  { "runs of blanks", "   RH  moisture\n   10     4.5\n   20    6.25\n\t30\t 9.1  \n", "utf-8", "blanks", 1 },
  { "bars", (BODY:gsub(";", "|")), "utf-8", "bar", 1 },
  { "a delimiter that the file states", "sep=;\n" .. BODY, "utf-8", "semicolon", 2 },
  { "a preamble of names and values", "Name;A. N.\nTemperature;25\n\nWeight;10,5\n" .. BODY, "utf-8", "semicolon", 5 },
  { "comments and blank lines", "# made up; 5; 6\n\n" .. BODY:gsub("\n20", "\n\n  \n;;\n# a pause\n20"), "utf-8", "semicolon", 3 },
  { "columns left by a spreadsheet", "RH;moisture;;\n10;4,5;;\n20;6,25;;\n30;9,1;;\n", "utf-8", "semicolon", 1 },
  { "a header over two lines", 'RH;"moisture\nhere"\n10;4,5\n20;6,25\n30;9,1\n', "utf-8", "semicolon", 1 },
  { "blanks around cells", "RH ; moisture \n 10 ; 4,5 \n 20;6,25 \n 30;\t9,1\n", "utf-8", "semicolon", 1 },
}

-- bytes, options, parts of the sentence
local refused = {
  { "", {}, { "the file is empty" } },
  { "\xEF\xBB\xBF\n\n", {}, { "the file is empty" } },
  { "RH;moisture\n", {}, { "no rows of numbers after the header" } },
  { "RH;moisture\n10;nan\n20;nan\n", {}, { 'column "moisture" has no number that can be used in 2 rows', "line 2", '"nan"' } },
  { "RH;moisture\n10%;4%\n", {}, { "a plain number was expected, its unit in the header" } },
  { "10;4\n20;5\n", {}, { 'no column "RH"', "no line of names", "x = 1" } },
  { "RH;moistuer\n10;4\n", {}, { 'no column "moisture"; did you mean "moistuer"?' } },
  { "RH;moisture;RH\n10;4;11\n", {}, { '2 columns are called "RH" (columns 1 and 3)', "x = 1" } },
  { "RH;moisture\n10;4\n", { columns = {} }, { 'column "RH" has no unit', '{ ["RH"] = { unit = "%" } }' } },
  { "RH;moisture\n10;4\n", { columns = {}, says = "command" }, { '--unit "RH=%"' } },
  { "RH;moisture\n%;%\n10;4\n", { columns = {} }, { '"moisture" is a moisture, per dry mass or per wet mass', 'basis = "dry"' } },
  { "RH;moisture\n%;grumm\n10;4\n", { columns = {} }, { 'no unit "grumm"', "units row" } },
  { "RH;mass\n%;mg\n10;4\n", { y = "mass", columns = { mass = { basis = "wet" } } }, { "a basis belongs to a moisture" } },
  { "RH;moisture\n10;1,234\n20;2,345\n", {}, { 'line 2, column "moisture": "1,234" is 1.234 or 1234', 'decimal = "point" or "comma"' } },
  { "RH;moisture\n10.5;1,234\n", {}, { '"1,234" is 1.234 or 1234' } },
  { "RH;moisture\n10,5;1.234\n", {}, { '"1.234" is 1.234 or 1234' } },
  { "RH;moisture\n10.5;4,5\n", {}, { '"10.5" in line 2 has a decimal point', '"4,5" in line 2 a decimal comma' } },
  { "RH;moisture\n10;1.234\n" .. ("20;2.345\n"):rep(600) .. "30;4,5\n", {}, { "line 603", '"4,5" has a decimal comma', "line 2" } },
  { "RH,moisture\n10,4,5\n20,6,5\n", {}, { "line 1 names 2 columns", "have 3 cells", "decimal comma" } },
  { "RH,moisture\n10,4\n", { x = 3 }, { "no column 3: the file has 2" } },
  { "RH moisture\n10 4\n", { delimiter = "tab", x = 2, columns = {} }, { "no column 2: the file has 1; state what stands between" } },
  { "RH;moisture\n10;4\n", { y = "RH" }, { "cannot be two things: x and y" } },
  { "RH;moisture\n10;4\n", { columns = { RH = "mg", moisture = "%" }, want = { x = { unit = "1", kind = "fraction" } } },
    { '"RH"', '"mg" is no unit of a fraction' } },
  { "RH;moisture\n50;4\n60;5\n", { columns = { RH = "1", moisture = UNITS.moisture } }, { "at most 1 was expected; is it in %?" } },
  { "PK\3\4\20\0\0\0\8\0sheet", {}, { "no table of text", "workbook" } },
  { BODY .. "40;\0;5\n", {}, { "no table of text" } },
  { "\xFF\xFE\0\0R\0\0\0", {}, { "UTF-32" } },
  { BODY, { header = 9 }, { "line 9, where the header was said to be" } },
  { BODY, { most = 4 }, { "more than 2 rows of 2 columns", "4 numbers are the most" } },
}

return function(t)
  local made = 0
  local function file(bytes)
    made = made + 1
    local path = ("%s/import_%d.csv"):format(t.folder, made)
    assert(core.write(path, bytes))
    return path
  end
  local function import(bytes, options)
    local o = { x = "RH", y = "moisture", columns = UNITS }
    for key, value in pairs(options or {}) do
      o[key] = value
    end
    o.file = file(bytes)
    return hf.import(o)
  end
  local function values(d, name, want)
    t.equal(#d:get(name), #want, name)
    for i, x in ipairs(want) do
      t.close(d:get(name)[i], x, 1e-12, ("%s[%d]"):format(name, i))
    end
  end

  for _, case in ipairs(dialects) do
    t.test("dialect: " .. case[1], function()
      local y = case[2]:find('"moisture\nhere"') and "moisture\nhere" or "moisture"
      local d = assert(import(case[2], { y = y, columns = { RH = "%", [y] = UNITS.moisture } }))
      values(d, "x", WANT.RH)
      values(d, "y", WANT.moisture)
      t.equal(d.guess.encoding.value, case[3])
      t.equal(d.guess.delimiter.text, case[4])
      t.equal(d.guess.header.value, case[5])
      t.equal(d.rows_used, 3)
      t.equal(#d.excluded, 0)
      for line in d:text():gmatch("[^\n]+") do
        assert(utf8.len(line) <= 80 or line:find(t.folder, 1, true), line)
      end
    end)
  end
  t.test("every item of the guess can be stated", function()
    local bytes = "a;b\n1;2\nRH;moisture\nx;y\n10;4,5\n"
    local d = assert(import(bytes, { header = 3, units_row = 4, delimiter = "semicolon", decimal = "comma", encoding = "latin-1" }))
    values(d, "y", { 0.045 })
    for _, item in ipairs { "header", "units_row", "delimiter", "decimal", "encoding" } do
      t.equal(d.guess[item].how, "stated", item)
    end
    d = assert(import(bytes, { preamble = 2, units_row = false }))
    t.equal(d.guess.header.value, 3)
    t.equal(d.guess.preamble.how, "stated")
    t.equal(#d.excluded, 1)
    d = assert(import("10;4,5\n20;6\n", { header = false, x = 1, y = 2, columns = { [1] = "%", [2] = UNITS.moisture } }))
    values(d, "x", { 0.1, 0.2 })
    t.equal(d.x.name, "column 1")
    t.raises({ "comma cannot be decimal sign and delimiter" }, import, BODY, { delimiter = ",", decimal = "," })
    t.raises({ "header, line 2, cannot lie in the preamble" }, import, BODY, { header = 2, preamble = 3 })
    t.raises({ "units row, line 1, must come after" }, import, BODY, { header = 1, units_row = 1 })
    t.raises({ 'encoding is "utf-8"', "ebcdic" }, import, BODY, { encoding = "ebcdic" })
    t.raises({ 'did you mean "delimiter"' }, import, BODY, { delimitter = ";" })
    t.raises({ 'basis of "RH" is "dry" or "wet"' }, import, BODY, { columns = { RH = { basis = "damp" } } })
    t.raises({ "file = the name" }, hf.import, {})
  end)
  t.test("what cannot be used is refused in a sentence", function()
    for _, case in ipairs(refused) do
      local d, message, code = import(case[1], case[2])
      t.equal(d, nil, case[3][1])
      t.equal(code, "data", case[3][1])
      t.says(message, case[3])
      assert(not message:find("\n"))
    end
  end)
  t.test("numbers with two readings are read once the sign is stated", function()
    local bytes = "RH;moisture\n10;1,234\n20;2,345\n"
    values(assert(import(bytes, { decimal = "comma" })), "y", { 0.01234, 0.02345 })
    values(assert(import(bytes, { decimal = "point" })), "y", { 12.34, 23.45 })
    values(assert(import("RH;moisture\n10;1,234\n20;2,5\n")), "y", { 0.01234, 0.025 }) -- 2,5 shows the sign
    values(assert(import("RH;moisture\n10;1,234\n20;0,345\n")), "y", { 0.01234, 0.00345 }) -- no group begins with 0
    local d = assert(import("RH;moisture\n10.125;1.234\n"))
    values(d, "y", { 0.01234 })
    t.says(d.guess.decimal.how, { "as usual", '"10.125" in line 2' })
  end)
  t.test("groups of digits, minus signs and exponents of typesetting", function()
    local d = assert(import("RH;moisture;load\n1;1;1.234,5\n2;1;1.234.567\n3;1;1\u{202F}234,5\n4;1;1'234,5\n5;1;\u{2212}2,5E-03\n6;1;+,5\n7;1;5,\n",
      { y = "load", columns = { RH = "%", load = "N" } }))
    values(d, "load", { 1234.5, 1234567, 1234.5, 1234.5, -2.5e-3, 0.5, 5 })
  end)
  t.test("numbers are correctly rounded, as by the C library", function()
    local texts = { "0.1", "123456789012345678", "9007199254740993", "1e23", "8.41e21", "2.2250738585072014e-308", "1.7976931348623157e308",
      "0.000000000000000000000000000000000001", "5e-324", "179769313486231580793728971405301", "1e-22", "1e22", "72057594037927933" }
    local d = assert(hf.import { file = file("v\n" .. table.concat(texts, "\n") .. "\n"), x = 1, columns = { [1] = "1" }, decimal = "point" })
    for i, text in ipairs(texts) do
      t.equal(d.x.values[i], tonumber(text) + 0.0, text)
    end
  end)
  t.test("what is printed reads back, whatever the sign", function()
    local list, lines = {}, { "v" }
    math.randomseed(1, 2)
    for i = 1, 20000 do
      local x = string.unpack("d", string.pack("i8", math.random(0)))
      list[i] = math.abs(x) < 1e300 and x or math.random()
      lines[i + 1] = (i % 2 == 0 and "%.17g" or "%.20e"):format(list[i])
    end
    for _, sign in ipairs { "point", "comma" } do
      local text = table.concat(lines, "\n") .. "\n"
      local d = assert(hf.import { file = file(sign == "comma" and text:gsub("%.", ",") or text), x = 1, columns = { [1] = "1" },
        decimal = sign, delimiter = ";" })
      for i, x in ipairs(list) do
        t.equal(d.x.values[i], x)
      end
    end
  end)
  t.test("rows that cannot be used are listed", function()
    local d = assert(import('RH;moisture;note\n10;4,5;a\n20;n/a;b\n30;;c\n40;5;d;7\n50;6\n110;7;e\n60;1e999;f\n70;"x"y;g\nRH;moisture;note\n80;6.5;h\n90;8;i\n', { decimal = "comma" }))
    values(d, "x", { 0.1, 0.9 })
    t.equal(d:line(2), 12)
    local want = { { 3, "moisture", "n/a", "a number was expected" }, { 4, "moisture", "", "the cell is empty" },
      { 5, nil, "40;5;d;7", "4 cells; 3 were expected" }, { 6, nil, "50;6", "2 cells" }, { 7, "RH", "110", "at most 100 % was expected" },
      { 8, "moisture", "1e999", "too large" }, { 9, nil, '70;"x"y;g', "quotation mark" }, { 10, "RH", "RH", "the header again" },
      { 11, "moisture", "6.5", "a decimal point; a decimal comma was expected" } }
    t.equal(#d.excluded, #want)
    for i, e in ipairs(d.excluded) do
      t.equal(e.line, want[i][1])
      t.equal(e.column, want[i][2])
      t.equal(e.text, want[i][3])
      t.says(e.why, { want[i][4] })
    end
    t.says(d:text(), { "2 rows used, 9 left out", 'line 3, column "moisture": "n/a"', "line 9: " })
    t.says(d:text { excluded = 2 }, { "... and 7 more" })
  end)
  t.test("a unit that makes a number too large", function()
    local d = assert(import("RH;load\n1;1e306\n2;1\n", { y = "load", columns = { RH = "%", load = "MN" } }))
    t.says(d.excluded[1].why, { "too large" })
    values(d, "load", { 1e6 })
  end)
  t.test("files that are cut off", function()
    local d = assert(import("RH;moisture\n10;4,5\n20"))
    t.says(d.excluded[1].why, { "the file ends in this line, after 1 of 2 cells" })
    d = assert(import('RH;moisture;note\n10;4,5;a\n20;5,5;"b'))
    t.says(d.excluded[1].why, { "the file ends inside the quotation marks of this line" })
    d = assert(import("RH;moisture\n10;4,5\n20;5,5"))
    t.says(d:text(), { "The last line has no line end" })
    d = assert(import(utf16(BODY, "<", true):sub(1, -4)))
    t.says(d:text(), { "could not be decoded" })
  end)
  t.test("an open quotation mark costs one row", function()
    local rows = {}
    for i = 1, 5000 do
      rows[i] = ("%d;%d,5;%s\n"):format(i % 100, i % 20, i % 1000 == 0 and '"open' or "x")
    end
    local d = assert(import("RH;moisture;note\n" .. table.concat(rows)))
    t.equal(d.rows_used, 4995)
    t.equal(#d.excluded, 5)
  end)
  t.test("very long lines are left out, memory stays", function()
    local d = assert(import("RH;moisture\n10;4,5\n" .. ("x"):rep(5000000) .. "\n20;5,5\n"))
    values(d, "x", { 0.1, 0.2 })
    t.says(d.excluded[1].why, { "the line is too long" })
    d = assert(import("RH;moisture\n10;4,5\n" .. ("1;"):rep(20000) .. "\n20;5,5\n"))
    t.equal(d.rows_used, 2)
  end)
  t.test("pieces of a large file join without a seam", function()
    local rows, sum = {}, 0
    for i = 1, 60000 do
      rows[i] = ("%d;%d,%02d;caf\u{E9}\r\n"):format(i % 101, i, i % 100)
      sum = sum + (i + i % 100 / 100)
    end
    local text = "RH;load;word\r\n" .. table.concat(rows)
    for _, bytes in ipairs { text, utf16(text, "<", true), utf16(text, ">", true), (text:gsub("\u{E9}", "\xE9")), (text:gsub("\n", "")) } do
      local d = assert(import(bytes, { y = "load", group = "word", columns = { RH = "%", load = "N" } }))
      t.equal(d.rows_used, 60000)
      t.equal(#d.excluded, 0)
      local got = 0
      for _, x in ipairs(d.y.values) do
        got = got + x
      end
      t.close(got, sum, 1e-3)
      t.equal(d.group.values[60000], "caf\u{E9}")
    end
  end)
  t.test("units of the header, the units row and the caller", function()
    for _, case in ipairs { { "RH [%]", "moisture (% d.b.)" }, { "RH_percent", "moisture / % dry basis" }, { "RH in %", "moisture, % (dry)" } } do
      local d, message = hf.import { file = file(("%s;%s\n10;4,5\n"):format(case[1], case[2])), x = "RH", y = "moisture" }
      assert(d, message)
      values(d, "y", { 0.045 })
      t.equal(d.y.unit, "1")
      t.equal(d.y.kind, "fraction")
      t.equal(d.y.basis, "dry")
    end
    local d = assert(hf.import { file = file("T [\u{B0}C];E;d;t;n;s;r\n-;MPa;\u{3BC}m;min;cycles;cN/tex;K/min\n25;2,5;70;2;1000;1;10\n") })
    values(d, "T", { 298.15 })
    values(d, "E", { 2.5e6 })
    values(d, "d", { 70e-6 })
    values(d, "t", { 120 })
    values(d, "n", { 1000 })
    values(d, "s", { 1e4 })
    values(d, "r", { 1 / 6 })
    t.equal(d.columns[1].kind, "temperature")
    t.equal(d.columns[5].unit, "1")
  end)
  t.test("headers of instruments", function()
    local d = assert(hf.import { file = file("#RATE: 10 K/min\n##Temp./\u{B0}C;Time/min;Heat/(J/g)\n50,0;0,1;-1,5\n50,1;0,2;-2\n"),
      x = "Temp", y = "Heat" })
    values(d, "Temp", { 323.15, 323.25 })
    values(d, "Heat", { -1500, -2000 })
    d = assert(hf.import { file = file("Specimen 1\nLength,0.05\nStrain,Load\n(%),(N)\n1,0.5\n2,0.75\n\nSpecimen 2\nLength,0.06\nStrain,Load\n(%),(N)\n1,0.25\n"),
      x = "Strain", y = "Load" })
    values(d, "Load", { 0.5, 0.75, 0.25 })
    t.equal(d.guess.header.value, 3)
    t.equal(#d.excluded, 4)
    t.says(d:text(), { "the header again", "the units row again" })
    d = assert(hf.import { file = file('"Initial mass [mg]","12.345"\n\n"Time [minutes]","dm (%) - dry","Actual RH (%)"\n0,0.5,0.1\n1,4.5,9.8\n'),
      x = "Actual RH", y = "dm - dry" })
    values(d, "y", { 0.005, 0.045 })
    t.equal(d.y.basis, "dry")
  end)
  t.test("headers that read as units, and what stands before them", function()
    local d = assert(hf.import { file = file("Dry mass;12,345 mg\n\nCycle;Time;RH;Mass\n-;hh:mm:ss;%;mg\n1;00:01:00;10;13,5\n"), x = "RH", y = "Mass" })
    t.equal(d.guess.header.value, 3)
    t.equal(d.guess.units_row.value, 4)
    d = assert(hf.import { file = file("Operator;AB\nt;F\ns;N\n1;350\n"), x = "t", y = "F" })
    values(d, "F", { 350 })
    d = assert(hf.import { file = file("Operator;AB\nCycle;Load\n1;350\n"), x = "Cycle", y = "Load", columns = { Cycle = "1", Load = "mN" } })
    values(d, "Load", { 0.35 })
    t.equal(assert(hf.look(file("Operator;AB\nCycle;Load\n1;350\n2;360\n"))).guess.header.value, 2)
  end)
  t.test("basis: regain comes out, whatever went in", function()
    local wet = assert(import("RH;moisture\n10;20\n20;0\n", { columns = { RH = "%", moisture = { unit = "%", basis = "wet" } } }))
    values(wet, "y", { 0.25, 0 }) -- 20 g water in 100 g wet fibre: 20 g on 80 g dry
    t.equal(wet.y.given_basis, "wet")
    t.says(wet:text(), { "per wet mass (stated), becomes regain" })
    local full = assert(import("RH;moisture\n10;20\n20;100\n", { columns = { RH = "%", moisture = { unit = "%", basis = "wet" } } }))
    t.says(full.excluded[1].why, { "below 100 %" })
    local mass = assert(import("RH;mass\n%;mg\n10;11,5\n", { y = "mass", columns = { mass = { dry_mass = "10 mg" } } }))
    values(mass, "y", { 0.15 })
    t.equal(mass.y.basis, "dry")
    local ratio = assert(import("RH;moisture\n%;g/g\n10;0,15\n", { columns = { moisture = { basis = "dry" } } }))
    values(ratio, "y", { 0.15 })
    local named = assert(import("RH;regain\n%;%\n10;15\n", { y = "regain", columns = {} }))
    values(named, "y", { 0.15 })
    t.says(named:text(), { "regain is on dry mass" })
  end)
  t.test("standard deviations follow their column", function()
    local d = assert(import("RH;moisture;s\n10;20;0,8\n20;10;0\n", { sigma = "s", columns = { RH = "%", moisture = { unit = "%", basis = "wet" } } }))
    values(d, "sigma", { 0.008 * 1.25 ^ 2 }) -- dw/dm = 1 / (1 - m)^2
    t.says(d.excluded[1].why, { "above 0" })
    d = assert(import("RH;T;s\n10;20;2\n", { y = "T", sigma = "s", columns = { RH = "%", T = "degF" } }))
    values(d, "y", { (20 + 459.67) / 1.8 })
    values(d, "sigma", { 2 / 1.8 })
    t.equal(d.sigma.kind, "temperature difference")
  end)
  t.test("times of a clock", function()
    local d = assert(import("t;m\nhh:mm:ss;mg\n00:01:10;1\n25:00:00,5;2\n1:2:3;3\n", { x = "t", y = "m", columns = {} }))
    values(d, "t", { 70, 90000.5 })
    t.says(d.excluded[1].why, { "no time in the form hh:mm:ss" })
    d = assert(import("t;m\n02:30;1\n", { x = "t", y = "m", columns = { t = "mm:ss", m = "mg" } }))
    values(d, "t", { 150 })
    t.says(select(2, import("t;m\n00:01:10;1\n", { x = "t", y = "m", columns = { m = "mg" } })), { "hh:mm:ss" })
  end)
  t.test("words: groups and other columns", function()
    local d = assert(import("RH;moisture;branch;broke\n10;4,5;up;1\n20;5,5;down;0\n30;6,5;;1\n", { group = "branch", columns = { RH = "%", moisture = UNITS.moisture, broke = { kind = "text" } } }))
    t.equal(table.concat(d.group.values, " "), "up down")
    t.equal(table.concat(d:get "broke", " "), "1 0")
    t.says(d.excluded[1].why, { "the cell is empty; a word was expected" })
    local all = assert(hf.import { file = file("RH [%];T [degC];who\n10;25;a\n20;26;b\n") })
    t.equal(#all.columns, 3)
    t.equal(all:get "who"[2], "b")
  end)
  t.test("two columns along the axis", function()
    local d = assert(import("RH;T;moisture\n10;25;4\n", { x = { "RH", "T" }, columns = { RH = "%", T = "degC", moisture = UNITS.moisture } }))
    t.equal(#d.columns, 3)
    t.equal(d.columns[2].role, "x")
    values(d, "T", { 298.15 })
  end)
  t.test("remarks on what looks wrong", function()
    local d = assert(import("RH;moisture\n0,1;0,04\n0,2;0,05\n0,3;0,06\n"))
    t.says(d:text(), { 'Column "RH" is in %, and no value is above 1 %: are they fractions?' })
    d = assert(import("RH;moisture\n10;4\n20;5\n30;6\n", { columns = { RH = "%", moisture = { unit = "1", basis = "dry" } } }))
    t.says(d:text(), { 'reaches 600 % of the dry mass: is the unit right?' })
    d = assert(import("5;6\n7;8\nRH;moisture\n10;4,5\n"))
    t.says(d:text(), { "2 lines before the header look like rows of numbers, the first in line 1" })
    d = assert(import("Temperature;25\nRH;moisture\n10;4,5\n"))
    assert(not d:text():find("before the header look"))
    d = assert(import("RH;moisture;RH\n10;4,5;11\n", { x = 3, columns = { [3] = "%", moisture = UNITS.moisture } }))
    t.says(d:text(), { 'Columns 1 and 3 are both called "RH".' })
  end)
  t.test("the file is looked at, not touched", function()
    local path = file(BODY)
    local d = assert(hf.import { file = path, x = "RH", y = "moisture", columns = UNITS })
    t.equal(core.read(path), BODY)
    t.equal(d.bytes, #BODY)
    local sum = io.popen("sha256sum '" .. path .. "'"):read(64)
    t.equal(d.checksum, sum)
    local l = assert(hf.look(path))
    t.says(l:text(), { "semicolon", "line 1", "RH", "no unit", "10  20  30" })
    t.equal(l.columns[2].name, "moisture")
    for bytes, says in pairs { ["a;b\n1;4,5\n"] = 'shown by "4,5" in line 2', ["a;b\n1;1,234\n"] = 'to be stated: "1,234" in line 2 is 1.234 or 1234',
      ["a;b\n1;1.234\n"] = "as usual", ["a;b\n1;2\n"] = "all numbers are whole", ["a;b\n1.5;2,5\n"] = "decimal point" } do
      t.says(assert(hf.look(file(bytes))):text():gsub("%s+", " "), { says })
    end
  end)
  t.test("options of the command line", function()
    local options, exit = require "command.import_options", require "command.exit"
    local function parse(...)
      local parser = require "argparse" ("test")
      options.declare(parser)
      parser:argument("data")
      local done, parsed = parser:pparse { ... }
      assert(done, parsed)
      return options.gather(parsed, parsed.data)
    end
    local function fails(class, parts, f, ...)
      local done, problem = pcall(f, ...)
      assert(not done and exit.is_failure(problem), tostring(problem))
      t.equal(problem.class, class)
      t.says(problem.message, parts)
    end
    local path = file("a;b\n\nRH;T;moisture;s\n10;25;4,5;0,1\n20;26;5,5;0,1\n")
    local o = parse("--x", "RH", path, "--x", "2", "--y", "moisture", "--sigma", "s", "--unit", "RH=%", "--unit", "2=degC",
      "--unit", "moisture=%", "--basis", "moisture=wet", "--header", "3", "--units-row", "none", "--delimiter", "semicolon",
      "--decimal", "comma", "--encoding", "utf-8")
    t.equal(o.x[2], 2)
    t.equal(o.columns[2].unit, "degC")
    t.equal(o.units_row, false)
    local d = options.read(o)
    values(d, "T", { 298.15, 299.15 })
    values(d, "y", { 0.045 / 0.955, 0.055 / 0.945 })
    fails("data", { '--unit "RH=%"' }, options.read, parse("--x", "RH", "--y", "T", path))
    fails("data", { "--decimal point or comma" }, options.read, parse(file "x;y\n1;1,234\n", "--x", "x", "--y", "y", "--unit",
      "x=1", "--unit", "y=1"))
    fails("data", { "no such file" }, options.read, parse("nowhere.csv"))
    fails("data", { "it is a folder" }, options.read, parse(t.folder))
    fails("usage", { 'delimiter is "comma"' }, options.read, parse(path, "--delimiter", "xx"))
    fails("usage", { "--unit needs COLUMN=UNIT" }, parse, path, "--unit", "RH")
    fails("usage", { '--unit: "RH" is said twice' }, parse, path, "--unit", "RH=%", "--unit", "RH=1")
    fails("usage", { '--header needs a whole number, not "two"' }, parse, path, "--header", "two")
  end)
  t.test("files that are none", function()
    local d, message, code = hf.import { file = t.folder .. "/nowhere.csv" }
    t.equal(d, nil)
    t.equal(code, "file")
    t.says(message, { "nowhere.csv", "no such file" })
    d, message, code = hf.import { file = t.folder }
    t.equal(d, nil)
    t.equal(code, "file")
    t.says(message, { "it is a folder" })
  end)
  t.test("forms of numbers", function()
    for text, want in pairs { ["12"] = "whole", ["12,5"] = "decimal", ["1,234"] = "ambiguous", ["0,123"] = "decimal", ["1234,567"] = "decimal",
      ["1,234,567"] = "decimal", ["1,23,4"] = "none", ["1.2.3"] = "none", ["-1.234"] = "ambiguous", ["1.234e5"] = "decimal", ["e5"] = "none",
      [""] = "none", ["."] = "none", ["0x1"] = "none", ["inf"] = "none", ["1e"] = "none", ["1 2"] = "none", ["12.345.678,9"] = "decimal" } do
      t.equal(core.number_form(text), want, text)
    end
    t.equal(select(2, core.number_form("1,234,567")), ".")
    t.equal(select(2, core.number_form("1.234,5")), ",")
  end)
end
