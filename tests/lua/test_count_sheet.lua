-- Strand sheets: every fault is found, with file, line, column and what was expected; nothing is written.
local hf = require "hairfibre"

return function(t)
  local n = 0

  local function sheet(text)
    n = n + 1
    local path = ("%s/sheet_%d.csv"):format(t.folder, n)
    local file = assert(io.open(path, "wb"))
    file:write(text)
    file:close()
    return path
  end

  -- The one fault of a text.
  local function fault(text, options)
    local path = sheet(text)
    local o = options or {}
    o[1] = path
    local a, message, code, faults = hf.count_read(o)
    t.equal(a, nil, "analysis of " .. text)
    t.equal(code, "data")
    t.says(message, { "1 fault in " .. path, "nothing was computed" })
    t.equal(#faults, 1, "faults of " .. text)
    t.equal(faults[1].file, path)
    return faults[1]
  end

  local HEAD = "id,donor,group,diameter_before_um,diameter_after_um,grade_before,grade_after,voids,broken,excluded\n"
  local GOOD = "S01,A,hot,70,71,0,1,3,no,\nS02,A,control,68.2,68.1,0,0,no,no,\n"

  local CELLS = { -- one wrong line, its column, what is expected
    { "S03,A,hot,70,71,0,1,-1,no,", "voids", "negative" },
    { "S03,A,hot,70,71,0,1,2.5,no,", "voids", "no fraction" },
    { "S03,A,hot,70,71,0,1,many,no,", "voids", "yes, no or a whole number" },
    { "S03,A,hot,70,71,0,1,1e12,no,", "voids", "counted" },
    { "S03,A,hot,70,71,0,7,no,no,", "grade_after", "0, 1, 2, 3" },
    { "S03,A,hot,70,71,0,1,no,perhaps,", "broken", "yes or no" },
    { "S01,A,hot,70,71,0,1,no,no,", "id", "line 2 has it already" },
    { ",A,hot,70,71,0,1,no,no,", "id", "name of the strand" },
    { "S03,,hot,70,71,0,1,no,no,", "donor", "other strands have one" },
    { "S03,A,,70,71,0,1,no,no,", "group", "group of each strand" },
    { "S03,A,Hot,70,71,0,1,no,no,", "group", 'line 2 has "hot"' },
    { "S03,A,hot,70,,0,1,no,no,", "diameter_after_um", "diameter_before_um has one" },
    { "S03,A,hot,,71,0,1,no,no,", "diameter_before_um", "diameter_after_um has one" },
    { "S03,A,hot,70,71,0,,no,no,", "grade_after", "grade_before has one" },
    { "S03,A,hot,0.07,71,0,1,no,no,", "diameter_before_um", "is it in mm?" },
    { "S03,A,hot,70 um,71,0,1,no,no,", "diameter_before_um", "plain number" },
    { 'S03,A,hot,"70,5",71,0,1,no,no,', "diameter_before_um", "decimal point: 70.5" },
    { "S03,A,hot,nan,71,0,1,no,no,", "diameter_before_um", "diameter in um" },
    { "S03,A,hot,-70,71,0,1,no,no,", "diameter_before_um", "10 to 400 um" },
    { "S03,A,hot,\xB5,71,0,1,no,no,", "diameter_before_um", "UTF-8" },
    { "S03,A,hot,70,71,0,1,no", nil, "10 cells" },
    { "S03,A,hot,70,71,0,1,no,no,,,7", nil, "decimal point" },
    { "S03,A,hot,,,,,,,", nil, "a reason in excluded" },
  }

  t.test("each wrong cell is named", function()
    for _, row in ipairs(CELLS) do
      local f = fault(HEAD .. GOOD .. row[1] .. "\n")
      t.equal(f.line, 4, row[1])
      t.equal(f.column, row[2], row[1])
      t.says(f.expected, { row[3] })
    end
  end)

  t.test("all faults, in order of the lines", function()
    local text = HEAD
    for i, row in ipairs(CELLS) do
      text = text .. row[1]:gsub("^S0[13]", ("S%03d"):format(i)) .. "\n"
    end
    local _, message, _, faults = hf.count_read { sheet(text) }
    t.says(message, { "faults in" })
    t.equal(#faults >= #CELLS - 2, true, #faults .. " faults") -- two need the lines of the good sheet
    for i = 2, #faults do
      t.equal(faults[i].line >= faults[i - 1].line, true, "order")
    end
  end)

  t.test("two faults of one strand are both told", function()
    local _, _, _, faults = hf.count_read { sheet(HEAD .. "S01,A,hot,70,,0,9,no,no,\n") }
    t.equal(#faults, 2)
    t.equal(faults[1].column, "diameter_after_um")
    t.equal(faults[2].column, "grade_after")
  end)

  t.test("header", function()
    for _, row in ipairs {
      { "id,group,voids,brokn\nS1,a,1,no\n", "brokn", "broken?" },
      { "id,group,voids,voids\nS1,a,1,1\n", "voids", "each column once" },
      { "group,voids\na,1\n", "id", "a column id" },
      { "id,voids\nS1,1\n", "group", "--key" },
      { "id,group,diameter_before\nS1,a,70\n", "diameter_before", "diameter_before_um" },
      { "id,group,diameter_before_um,diameter_after_mm\nS1,a,70,0.071\n", "diameter_after_mm", "one unit for all" },
      { "id,group,diameter_before_inch\nS1,a,70\n", "diameter_before_inch", "unit in the name" },
      { "id,group,voids,,broken\nS1,a,1,,no\n", "4", "name of a column" },
    } do
      local f = fault(row[1])
      t.equal(f.line, 1, row[1])
      t.equal(f.column, row[2], row[1])
      t.says(f.expected, { row[3] })
    end
    local a = hf.count_read { sheet "id,group,voids,colour,date\nS1,a,1,red,x\n" }
    t.equal(table.concat(a.unread, " "), "colour date", "columns of one's own")
  end)

  t.test("files that are no sheets", function()
    for text, expected in pairs { [""] = "names the columns", ["\n\n# x\n"] = "names the columns",
      ["id,group,voids\n"] = "a line for each strand", ["id,group,voids\n,,\n"] = "a line for each strand",
      ["\xFF\xFEi\0d\0"] = "UTF-8", ["id\0,group"] = "CSV file", ['id,group\n"S1,a\n'] = "quotation marks" } do
      t.says(fault(text).expected, { expected })
    end
    local a, message, code, faults = hf.count_read { t.folder .. "/none.csv" }
    t.equal(a, nil)
    t.equal(code, "file")
    t.equal(faults, nil)
    t.says(message, { "none.csv" })
    t.says(fault("id,group,voids\nS1,a,\nS2,a,\n").found, { "no line is filled in" })
  end)

  t.test("dialects give the same strands", function()
    local plain = hf.count_read { sheet(HEAD .. GOOD) }
    for _, text in ipairs {
      "\xEF\xBB\xBF" .. HEAD .. GOOD, (HEAD .. GOOD):gsub("\n", "\r\n"), (HEAD .. GOOD):gsub(",", ";"),
      (HEAD .. GOOD):gsub(",", "\t"), "# a note, with a comma\n\n" .. HEAD .. GOOD .. "\n,,,,,,,,,\n",
      '"# a note, with ""quotes""",,,\n' .. HEAD .. GOOD, HEAD:gsub("\n", ",,\n") .. GOOD:gsub("\n", ",,\n"),
      (HEAD .. GOOD):gsub("_um", "_\u{B5}m"), HEAD:gsub("_um", " [um]") .. GOOD,
      HEAD:gsub("_um", "_mm") .. "S01,A,hot,0.070,0.071,0,1,3,N,\nS02,A,control,0.0682,0.0681,0,0,no,No,\n" } do
      local a, message = hf.count_read { sheet(text) }
      t.equal(a ~= nil, true, tostring(message))
      t.close(a.groups[2].change.mean, plain.groups[2].change.mean, 1e-15, "change")
      t.equal(a.groups[1].name, "control")
      t.equal(a.groups[2].shares.voids.events, 1)
    end
  end)

  t.test("two axes give the circle of equal area", function()
    local a = hf.count_read { sheet("id,group,major_before_um,minor_before_um,major_after_um,minor_after_um\n"
      .. "S1,a,80,45,90,50\nS2,a,90,40,90,40\n") }
    t.close(a.diameters[1], 60e-6, 1e-18, "sqrt(80 * 45) = 60")
    t.close(a.strands[1].change, math.sqrt(4500) * 1e-6 - 60e-6, 1e-18, "sqrt(90 * 50) - 60")
    t.close(a:population().ellipticity, (80 / 45 + 90 / 40) / 2, 1e-12, "long axis over short axis")
    t.says(fault("id,group,major_before_um,minor_before_um\nS1,a,45,80\n").expected, { "longer one in major_before_um" })
    t.says(fault("id,group,major_before_um,minor_before_um\nS1,a,80,\n").expected, { "both axes" })
  end)

  t.test("a sheet is never changed", function()
    local path = sheet(HEAD .. GOOD)
    local a = hf.count_read { path }
    local f = a:figure()
    for _, name in ipairs { path, (path:gsub("%.csv$", ".svg")), (path:gsub("/([^/]*)$", "/./%1")) } do
      local done, message, code = f:save(name)
      t.equal(done, nil, name)
      t.equal(code, "file")
      t.says(message, { "never written" })
    end
    local file = assert(io.open(path, "rb"))
    t.equal(file:read("a"), HEAD .. GOOD)
    file:close()
    t.equal(os.remove(path:gsub("%.csv$", ".svg")), nil, "no picture either")
  end)

  t.test("control characters do not reach the terminal", function()
    local a = hf.count_read { sheet "id,group,voids,excluded\nS1,a\27[2J,1,\nS2,a\27[2J,1,gone\27[2J\n" }
    t.equal(a:text():find("\27", 1, true), nil)
    local _, _, _, faults = hf.count_read { sheet "id,group,voids\nS1,a,\27[2J\n" }
    t.equal(faults[1].found:find("\27", 1, true), nil)
  end)

  t.test("broken sheets never raise", function()
    local file = assert(io.open("examples/data/strands_evening_invented.csv"))
    local text = file:read("a")
    file:close()
    local bits = { ",", ";", "\n", '"', "-", "1e9", "yes", "nan", "\0", "\xFF", "#", "S01", "hot", "\t", "inf", "", "" }
    local state = 5
    local function below(n)
      state = (state * 6364136223846793005 + 1442695040888963407)
      return (state >> 33) % n + 1
    end
    for _ = 1, 200 do
      local s = text
      for _ = 1, below(6) do
        local p = below(#s)
        s = s:sub(1, p - 1) .. bits[below(#bits)] .. s:sub(p + below(8) - 1)
      end
      local a, message, code, faults = hf.count_read { sheet(s) }
      if a then
        t.equal(type(a:text()), "string")
      else
        t.equal(code, "data", message)
        t.equal(not faults or #faults > 0, true)
        t.equal(not faults or utf8.len(require("hairfibre.count.report").faults(faults)) ~= nil, true, "letters")
      end
    end
  end)

  t.test("keys", function()
    local blind = sheet "id,donor,voids\nS1,A,1\nS2,A,no\n"
    local key = sheet "id,donor,group,treatment\nS1,A,hot,plates\nS2,A,control,\n"
    local a = hf.count_read { blind, key = key }
    t.equal(a.groups[2].name, "hot")
    t.equal(a.groups[2].treatment, "plates")
    t.says(fault("id,donor,voids\nS3,A,1\n", { key = key }).expected, { "a strand of the key" })
    local _, _, _, faults = hf.count_read { blind, key = sheet "id,donor\nS1,A\nS2,A\n" }
    t.equal(faults[#faults].column, "group")
    local _, _, _, twice = hf.count_read { blind, key = sheet "id,group\nS1,a\nS1,b\nS2,b\n" }
    t.says(twice[1].expected, { "line 2 has it already" })
    -- the plan that wrote sheet and key is named in both
    local mine = sheet "# plan 0123456789abcdef\nid,donor,voids\nS1,A,1\nS2,A,no\n"
    local other = sheet "# plan fedcba9876543210\nid,donor,group\nS1,A,b\nS2,A,a\n"
    local none, _, _, wrong = hf.count_read { mine, key = other }
    t.equal(none, nil)
    t.equal(#wrong, 1)
    t.says(wrong[1].expected, { "the key of the same plan", other, "fedcba9876543210" })
    local own = sheet "# plan 0123456789abcdef\nid,donor,group\nS1,A,c\nS2,A,d\n"
    t.equal(hf.count_read { mine, key = { other, own } }.groups[1].name, "c", "each sheet by its own key")
    t.equal(hf.count_read { mine, key = own }.planned, true)
    t.raises({ "key must be" }, hf.count_read, { mine, key = 7 })
  end)

  t.test("pooling", function()
    local first, second = sheet "id,group,voids\nS1,a,1\nS2,b,0\n", sheet "id,group,voids\nS1,a,1\nS2,b,0\n"
    local a = hf.count_read { first, second }
    t.equal(#a.donors, 2, "a sheet without donors is a stratum of its own")
    t.says(a:text(), { "donors not named" })
    local named = { sheet "id,donor,group,voids\nS1,A,a,1\n", sheet "id,donor,group,voids\nS1,A,b,0\n" }
    local _, _, _, faults = hf.count_read(named)
    t.equal(#faults, 1)
    t.says(faults[1].expected, { "with the same donor" })
    t.raises({ "given twice" }, hf.count_read, { first, first })
  end)

  t.test("options", function()
    local path = sheet(HEAD .. GOOD)
    t.raises({ "contrl", "control" }, hf.count_read, { path, contrl = "hot" })
    t.raises({ "at least one sheet" }, hf.count_read, {})
    t.raises({ "wilsn" }, hf.count_read, { path, method = "wilsn" })
    t.raises({ "grades" }, hf.count_read, { path, grades = "0" })
    t.raises({ "stands there twice" }, hf.count_read, { path, grades = "0,1,1" })
    t.equal(select(3, hf.count_read { path, control = "cold" }), "data")
    t.equal(select(3, hf.count_read { path, level = 1 }), "range")
    t.equal(select(3, hf.count_read { path, predict = { cold = "soak 1 min" } }), "data")
    local words = hf.count_read { sheet "id,group,grade_before,grade_after\nS1,a,none,much\n", grades = "none,some,much" }
    t.equal(words.strands[1].graded, 2)
  end)
end
