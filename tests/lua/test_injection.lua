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

-- What a script holds of results, fits, plans and analyses it may change as it likes before they are drawn. Each leaf
-- of an object becomes a word, or a list that is one, and all that it draws must stay plain.
local core = require "hairfibre.core"

local function leaves(object, found, seen)
  found, seen = found or {}, seen or {}
  for key, value in next, object do
    local kind = type(value)
    if kind == "table" and not seen[value] then
      seen[value] = true
      leaves(value, found, seen)
    elseif (kind == "string" or kind == "number") and (type(key) == "string" or key <= 2) then
      found[#found + 1] = { object, key, value }
    end
  end
  return found
end

-- draw is a list of functions; all scripts that reach gnuplot meanwhile go to see(script).
local function change_and_draw(object, draw, see)
  local real, count = core.spawn_gnuplot, 0
  function core.spawn_gnuplot(script)
    see(script)
    count = count + 1
    return nil, "drawn", "tool"
  end
  local shifty = setmetatable({}, { __tostring = function() return "1\nsystem 'x'\n" end, __len = function() return 2 end,
    __index = function() return "1\nsystem 'x'\n" end })
  local all = leaves(object)
  for i = 1, #all, math.max(1, #all // 60) do -- some sixty of a large one
    local leaf = all[i]
    for _, word in ipairs { "1\nsystem 'x'\n", "`x`'", shifty } do
      leaf[1][leaf[2]] = word
      for _, one in ipairs(draw) do
        pcall(one)
      end
    end
    leaf[1][leaf[2]] = leaf[3]
  end
  core.spawn_gnuplot = real
  return count
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

  t.test("what a script changes in an object before it is drawn stays text", function()
    local path = os.tmpname()
    os.remove(path)
    local fit = assert(hf.fit { model = "gab", x = { 0.1, 0.3, 0.5, 0.6, 0.7, 0.8 }, y = { 0.04, 0.07, 0.1, 0.12, 0.15, 0.2 } })
    local plan = assert(hf.count_plan { purpose = "groups", expect = { "10 %", "60 %" }, donors = 3, pixel = "0.5 um",
      groups = { { "control", "soak 10 min; blot; rest 2 h" }, { "hot", "soak 10 min; blot; plates 200 degC 1 s; rest 2 h" } } })
    local counted = assert(hf.count_read { "examples/data/strands_evening_invented.csv", pixel = "0.5 um" })
    local treated = assert(hf.treat(hf.fibre {}, { hf.plates { temperature = "180 degC", duration = "1 s" } },
      { cells = 20, samples = 3, tolerance = 1e-2 }))
    local ranked = assert(hf.sensitivity("regain", { humidity = 0.5, method = "morris", tours = 2 }))
    local table_of = hf.tabulate("regain", { humidity = { 0.1, 0.5 }, range = true })
    local picture = path .. ".png"
    local cases = {
      { "fit", fit, { function() fit:plot():save(picture) end, function() fit:plot("residuals"):save(picture) end } },
      { "plan", plan, { function() plan:card():save(picture) end } },
      { "analysis", counted, { function() counted:figure():save(picture) end } },
      { "treatment", treated, { function() treated:plot { y = "regain" }:save(picture) end,
        function() treated:profile_plot { times = { "1 s" } }:save(picture) end,
        function() treated:channel_plot {}:save(picture) end,
        function() treated:movie { frames = 2 }:save(path .. ".gif") end } },
      { "sensitivity", ranked, { function() ranked:plot {}:save(picture) end } },
      { "table", table_of, { function() hf.plot.result(table_of, { x = "humidity", y = "regain" }):save(picture) end } },
    }
    for _, case in ipairs(cases) do
      local line -- kept, as an error would be caught on the way
      local count = change_and_draw(case[2], case[3], function(script)
        line = line or gnuplot_check(script)
      end)
      assert(not line, ("%s: gnuplot would run %s"):format(case[1], tostring(line)))
      assert(count > 20, ("%s: drawn %d times only"):format(case[1], count))
    end
    os.remove(path .. ".csv")
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
