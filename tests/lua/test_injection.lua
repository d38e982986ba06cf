-- Words that would be commands: in every text of a figure, for gnuplot; in every text of a report page, for a browser.
local hf = require "hairfibre"
local gnuplot_check = dofile "tests/fuzz/gnuplot_check.lua"

local EVIL = { "`touch x`", "'; system('touch x'); '", "\"; system(\"x\")", "a\nsystem 'x'\n", "EOD\nsystem 'x'", "@x", "x\\",
  "\\'`id`", "%s%d", "$D << EOD", "\r!id", "\u{2028}!id", "''`id`''", "| id" }

-- Figures that carry a word wherever a text can stand.
local function figures(w)
  local r = hf.result { title = w, notes = { w }, columns = { { name = "x", unit = "s", values = { 1, 2 }, text = w },
    { name = "y", unit = "m", values = { 3, 4 }, text = w } } }
  return {
    hf.plot.figure { title = w, note = w, caution = w, source = w, x = { label = w, unit = w, categories = { w, w .. "2" } },
      y = { label = w, unit = w }, marks = { { y = 1.5, text = w } },
      lines = { { name = w, kind = "bars", y = { 1, 2 } }, { name = w .. "b", kind = "bars", y = { 2, 1 } } } },
    hf.plot.figure { title = w, x = { label = w, unit = w }, panels = {
      { y = { label = w, unit = w }, lines = { { name = w, x = { 1, 2 }, y = { 1, 2 }, kind = "points" } },
        marks = { { x = 1.2, text = w } } },
      { y = { label = w }, lines = { { name = w .. "2", x = { 1, 2 }, low = { 1, 1 }, high = { 2, 3 }, kind = "band" } } } } },
    hf.plot.result(r, { x = "x", y = { column = "y", label = w, name = w }, title = w, note = w, source = w, caution = w }),
  }
end

return function(t)
  t.test("no text of a figure becomes a command of gnuplot", function()
    for _, w in ipairs(EVIL) do
      for i, f in ipairs(figures(w)) do
        for _, format in ipairs { "svg", "png", "pdf" } do
          local line = gnuplot_check(f:script(format))
          assert(not line, ("figure %d with %q: gnuplot would run %s"):format(i, w, tostring(line)))
        end
      end
    end
    -- the check itself sees a command
    assert(gnuplot_check "set title 'a'\nsystem 'x'\n" and gnuplot_check "set title \"`x`\"\n")
  end)

  t.test("no text of a report becomes a part of its page", function()
    local path = os.tmpname() .. ".html"
    local bad = "</script><script>alert(1)</script><img src=x onerror=alert(1)></title></table>"
    local words = hf.result { title = bad, notes = { bad }, columns = { { name = "word", kind = "text", unit = "",
      values = { bad }, text = bad } } }
    assert(hf.report { title = bad, question = bad, notes = { bad }, cautions = { bad }, settings = { { bad, bad } },
      parts = { words, bad, figures("x")[1] }, sources = {} }:save(path))
    local file = assert(io.open(path, "rb"))
    local page = file:read("a")
    file:close()
    os.remove(path)
    assert(not page:find("<script>alert", 1, true) and not page:find("<img src=x", 1, true), "the page runs the words")
    assert(page:find("&lt;img src=x onerror=alert(1)&gt;", 1, true), "the words are shown")
  end)
end
