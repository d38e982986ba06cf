-- The sketch for the terminal: it fits, it is safe, and it works without colour and without UTF-8.
local plot = require "hairfibre.plot"
local preview = require "hairfibre.preview"

local figures = {
  { title = "Pressure inside a heated fibre, in °C and Pa", x = { label = "Temperature", unit = "degC" },
    y = { label = "Pressure", unit = "Pa", scale = "log" }, marks = { { y = 101325, text = "ambient" }, { x = 100, text = "100 °C" } },
    lines = { { name = "soaked", x = { 20, 100, 150, 220 }, y = { 2.3e3, 1.01e5, 4.8e5, 2.3e6 }, dashed_from = 150 },
      { name = "dry", kind = "points", x = { 50, 150 }, y = { 1e3, 1e5 } } } },
  { x = { categories = { "helix", "tryptophan", "disulfide" } }, y = { unit = "%" },
    lines = { { name = "1 pass", kind = "bars", y = { 1, 2, 3 } }, { name = "50 passes", kind = "bars", y = { 40, 20, 5 } } } },
  { title = "Two", x = { label = "Time", unit = "s" }, panels = {
    { y = { label = "T", unit = "degC" }, lines = { { name = "T", x = { 0, 1, 2 }, y = { 20, 180, 60 } } } },
    { y = { label = "D", unit = "m2/s" }, lines = { { kind = "band", name = "range", x = { 0, 2 }, low = { 1e-12, 2e-12 },
      high = { 3e-12, 5e-12 } } } } } },
}

local function rows_of(s)
  local rows = {}
  for row in (s .. "\n"):gmatch("([^\n]*)\n") do
    rows[#rows + 1] = row
  end
  return rows
end

return function(t)
  t.test("a sketch fits the room it is given", function()
    for k, description in ipairs(figures) do
      for _, room in ipairs { { 78, 22 }, { 60, 18 }, { 120, 40 }, { 40, 16 } } do
        for _, ascii in ipairs { false, true } do
          local sketch = plot.figure(description):preview { width = room[1], height = room[2], ascii = ascii }
          local rows = rows_of(sketch)
          assert(#rows <= room[2] + 1, ("figure %d: %d rows in %d"):format(k, #rows, room[2]))
          for _, row in ipairs(rows) do
            assert(utf8.len(row) <= room[1], row)
          end
          assert(not ascii or not sketch:find("[\x80-\xFF]"), sketch)
          assert(not sketch:find("\27", 1, true))
        end
      end
    end
  end)

  t.test("a rising line rises", function()
    local sketch = plot.figure { lines = { { x = { 0, 1 }, y = { 0, 1 } } } }:preview { width = 40, height = 14, ascii = true }
    local last
    for _, row in ipairs(rows_of(sketch)) do
      local place = row:find("o", 1, true)
      if place then
        assert(not last or place < last, sketch)
        last = place
      end
    end
    assert(last, sketch)
  end)

  t.test("colour adds nothing but colour", function()
    for _, description in ipairs(figures) do
      local f = plot.figure(description)
      local coloured = f:preview { colour = true }
      assert(coloured:find("\27[38;5;", 1, true))
      t.equal(coloured:gsub("\27%[[%d;]*m", ""), (f:preview { colour = false }))
    end
  end)

  t.test("powers of ten stay powers without UTF-8", function()
    t.says(plot.figure(figures[1]):preview { ascii = true }, { "10^5", "degC" })
    t.says(plot.figure(figures[3]):preview { ascii = true }, { "10^-12 m2/s" })
  end)

  t.test("control signs in names do not reach the terminal", function()
    local sketch = plot.figure { title = "\27[2J\27]0;x\7", lines = { { name = "a\rb\27[0m\u{9B}1m", x = { 0, 1 }, y = { 0, 1 } } } }:preview()
    assert(not sketch:find("[\27\7\r]") and not sketch:find("\u{9B}", 1, true))
  end)

  t.test("wild numbers end in time", function()
    local start = os.clock()
    local f = plot.figure { y = { low = 0, high = 1 }, lines = { { x = { 0, 1, 2 }, y = { 0.5, 1e300, -1e300 } } } }
    assert(f:preview())
    assert(os.clock() - start < 2)
    local none, message = plot.figure { lines = { { x = { 1 }, y = { 0 / 0 } } } }:preview()
    t.equal(none, nil)
    t.says(message, { "no number" })
  end)

  t.test("what suits the terminal", function()
    local function options(is_terminal, environment)
      local o = preview.terminal(is_terminal, function(name) return environment[name] end)
      return tostring(o.colour) .. " " .. tostring(o.ascii)
    end
    t.equal(options(true, { LANG = "de_DE.UTF-8" }), "true false")
    t.equal(options(true, { LC_ALL = "C.utf8", LANG = "C", NO_COLOR = "1" }), "false false")
    t.equal(options(true, { LANG = "C.UTF-8", NO_COLOR = "" }), "true false")
    t.equal(options(true, { LANG = "C.UTF-8", TERM = "dumb" }), "false false")
    t.equal(options(false, { LANG = "C", LC_CTYPE = "" }), "false true")
    t.equal(options(true, {}), "true true")
  end)
end
