-- Where things go on the canvas: round axes, texts inside and apart, colours that differ in grey.
local labels = require "hairfibre.plot.labels"
local layout = require "hairfibre.plot.layout"
local plot = require "hairfibre.plot"
local rings = require "hairfibre.rings"
local spec = require "hairfibre.plot.spec"
local styles = require "hairfibre.styles"
local text = require "hairfibre.plot.text"
local ticks = require "hairfibre.ticks"

local function words(axis, count)
  local list = {}
  local made = ticks.axis(axis, count)
  for i, tick in ipairs(made.ticks) do
    list[i] = tick[2]
  end
  return table.concat(list, " "), made
end

-- Lightness L* (CIE 1976) of "#RRGGBB" in sRGB.
local function lightness(colour)
  local y = 0
  for i, weight in ipairs { 0.2126, 0.7152, 0.0722 } do
    local c = tonumber(colour:sub(2 * i, 2 * i + 1), 16) / 255
    y = y + weight * (c <= 0.04045 and c / 12.92 or ((c + 0.055) / 1.055) ^ 2.4)
  end
  return y > 0.008856 and 116 * y ^ (1 / 3) - 16 or 903.3 * y
end

local function box_of(label)
  local width = text.width(label.s, label.size)
  local x = label.x - (label.align == "right" and width or label.align == "center" and width / 2 or 0)
  return { x, label.y - 0.5 * label.size, x + width, label.y + 0.5 * label.size, label.s }
end

local function many_lines(count)
  local lines = {}
  for i = 1, count do
    lines[i] = { name = "line number " .. i, x = { 0, 1, 2 }, y = { 0, 1, 1 + i / 100 } }
  end
  return lines
end

local long = ("every answer needs its source and its limits, "):rep(9)
local figures = {
  { title = "Short", x = { label = "Time", unit = "s" }, y = { label = "Regain", unit = "%" }, lines = many_lines(3),
    marks = { { y = 0.5, text = "half" }, { y = 0.52, text = "just above" }, { x = 1, text = "a long name for a reference line" },
      { x = 1.02, text = "close by" } } },
  { title = long, x = { label = long }, y = { label = long, unit = "m2/s" }, lines = many_lines(8), source = long,
    note = long, caution = long, marks = { { y = 1, text = long:sub(1, 80) } } },
  { x = { categories = { "helix denatured", "tryptophan", "disulfide lost", "a" } }, y = { unit = "%" }, caution = long,
    lines = { { name = "1 pass", kind = "bars", y = { 1, 2, 3, 4 } }, { name = "50 passes", kind = "bars", y = { 44, 5, 6, 7 } } } },
  { sideways = true, x = { categories = { "sorption.absorption.monolayer", "sorption.enthalpy", "equation" } },
    y = { label = "Share of the variance" }, caution = long, lines = { { name = "alone", kind = "bars", y = { 0.7, 0.2, 0.01 },
      low = { 0.6, 0.1, 0 }, high = { 0.8, 0.3, 0.02 } }, { name = "with joint effects", kind = "bars", y = { 0.7, 0.2, -1e-7 } } } },
  { title = "Two", x = { label = "Time", unit = "s" }, marks = { { x = 1, text = "closes" } }, source = long, panels = {
    { y = { label = "Temperature", unit = "degC" }, lines = many_lines(4), marks = { { y = 0.7, text = "limit" } } },
    { y = { label = "Pressure", unit = "Pa", scale = "log" }, lines = { { name = "a name of several words that wraps",
      x = { 0, 2 }, y = { 1e3, 1e6 } } } } } },
}

return function(t)
  t.test("long words break behind a dot, numbers never", function()
    local lines = text.wrap("sorption.absorption.monolayer 101.325 kPa", 10, 80)
    t.equal(table.concat(lines, "|"), "sorption.|absorption.|monolayer|101.325 kPa")
    lines = text.wrap("101.32512345678", 10, 60)
    assert(lines[1]:find("%d$") and #lines > 1, lines[1])
  end)
  t.test("axes have round limits and plain words", function()
    for _, case in ipairs {
      { { low = 0, high = 0.327, snap = true }, 6, "0.0 0.1 0.2 0.3 0.4" },
      { { low = 0, high = 600, unit = "s" }, 6, "0 120 240 360 480 600" },
      { { low = 0, high = 90, unit = "min" }, 6, "0 15 30 45 60 75 90" },
      { { low = 20, high = 220, unit = "degC" }, 6, "50 100 150 200" },
      { { low = -35, high = 40, snap = true }, 6, "−40 −20 0 20 40" },
      { { low = 0, high = 25000, snap = true }, 5, "0 5000 10\u{202F}000 15\u{202F}000 20\u{202F}000 25\u{202F}000" },
      { { low = 2300, high = 2.3e6, log = true }, 6, "10⁴ 10⁵ 10⁶" },
      { { low = 0.02, high = 0.9, log = true }, 6, "0.02 0.05 0.1 0.2 0.5 1" },
      { { low = 1e-12, high = 3e-4, log = true }, 6, "10⁻¹² 10⁻¹⁰ 10⁻⁸ 10⁻⁶ 10⁻⁴" },
      { { low = 0, high = 1, ticks = { 0, 0.25, 0.5, 9 } }, 6, "0.00 0.25 0.50" },
    } do
      t.equal((words(case[1], case[2])), case[3])
    end
    local shown, axis = words({ low = 0, high = 2.3e6, snap = true, unit = "Pa", label = "Pressure" }, 6)
    t.equal(shown .. "; " .. axis.title, "0.0 0.5 1.0 1.5 2.0 2.5; Pressure (10⁶ Pa)")
    t.close(axis.at(1.25e6), 0.5, 1e-12)
    t.close(ticks.axis({ low = 1, high = 100, log = true }, 5).at(10), 0.5, 1e-12)
  end)

  t.test("shares end at 100 %, whole numbers have whole ticks, rounding is no curve", function()
    local function settled(given)
      given.x = given.x or { label = "Broken" }
      local made = layout.build(spec.check(given)).panels[1]
      local names = {}
      for i, tick in ipairs(made.x.ticks) do
        names[i] = tick[2]
      end
      return made, table.concat(names, " ")
    end
    local made, x = settled { y = { unit = "%" }, lines = { { kind = "points", x = { 0, 1, 2 }, y = { 100, 54, 0 } } } }
    t.equal(made.y.high, 100)
    t.equal(x, "0 1 2")
    made = settled { y = { unit = "%" }, lines = { { kind = "points", x = { 0, 1 }, y = { 90, 130 } } } }
    assert(made.y.high >= 130)
    made = settled { x = { categories = { "a", "b" } }, y = { unit = "%" }, lines = { { kind = "bars", y = { 100, 3 } } } }
    t.equal(made.y.high, 100)
    made = settled { y = {}, lines = { { x = { 0, 1, 2 }, y = { 5, 5 + 1e-9, 5 - 1e-9 } } } }
    assert(made.y.low < 4.9 and made.y.high > 5.1)
    made = settled { y = {}, lines = { { x = { 0, 1 }, y = { 0, 0 } } } }
    t.equal(made.y.low, 0)
  end)
  t.test("a lower panel may be lower", function()
    local line = { { x = { 0, 1 }, y = { 0, 1 } } }
    local made = layout.build(spec.check { x = {}, panels = { { y = {}, lines = line }, { y = {}, lines = line, share = 0.6 } } })
    local a, b = made.panels[1], made.panels[2]
    t.close((b.bottom - b.top) / (a.bottom - a.top), 0.6, 1e-9)
    t.raises({ "share" }, spec.check, { x = {}, panels = { { y = {}, lines = line, share = 3 } } })
  end)
  t.test("units as people write them", function()
    for unit, want in pairs { degC = "°C", um = "µm", ["m2/s"] = "m²/s", ["W/(m2 K)"] = "W/(m² K)", ["1"] = "",
      ["kg m^-3"] = "kg m⁻³", ["kg/kg"] = "kg/kg", ["%"] = "%", ["degC/s"] = "°C/s", ["1/s"] = "1/s" } do
      t.equal(text.unit(unit), want)
    end
  end)

  t.test("wrapped lines keep all words and stay within the limit", function()
    local s = "a number such as 22 °C stays whole, and averyveryverylongwordwithoutanyblank is broken"
    for limit = 60, 400, 17 do
      local lines = text.wrap(s, 10, limit)
      for _, line in ipairs(lines) do
        assert(text.width(line, 10) <= limit + 1e-9, line)
      end
      t.equal(table.concat(lines):gsub(" ", ""), (s:gsub(" ", "")))
      assert(limit < 100 or table.concat(lines, "|"):find("22 °C", 1, true))
    end
    t.equal(text.clean("a\nb\tc\0\27[1m\u{85}\u{2028}\xFFd"), "a b c[1m?d")
  end)

  t.test("names beside the lines never overlap and keep their order", function()
    local seed = 12345
    local function random()
      seed = (seed * 1103515245 + 12345) % 2147483648
      return seed / 2147483648
    end
    for _ = 1, 200 do
      local wanted, heights, sum = {}, {}, 0
      for i = 1, 2 + math.floor(random() * 7) do
        wanted[i], heights[i] = random() * 300, 10 + random() * 20
        sum = sum + heights[i]
      end
      table.sort(wanted)
      local tops = labels.spread(wanted, heights, 0, 300)
      for i = 1, #tops do
        assert(tops[i] >= -1e-9 and tops[i] + heights[i] <= 300 + 1e-9)
        assert(i == 1 or tops[i] >= tops[i - 1] + heights[i - 1] - 1e-9)
      end
    end
    local free = labels.spread({ 10, 100 }, { 20, 20 }, 0, 300)
    t.equal(free[1] .. " " .. free[2], "10.0 100.0")
  end)

  t.test("every text is on the canvas and clear of the others", function()
    for k, description in ipairs(figures) do
      for _, style in ipairs(styles.names) do
        description.style = style
        local l = layout.build(spec.check(description))
        local boxes = {}
        for i, label in ipairs(l.texts) do
          boxes[i] = box_of(label)
          local b = boxes[i]
          assert(b[1] >= 0 and b[3] <= l.width + 0.5 and b[2] >= 0 and b[4] <= l.height,
            ("figure %d, %s: off the canvas: %s"):format(k, style, b[5]))
          for j = 1, i - 1 do
            local o = boxes[j]
            local apart = b[1] >= o[3] or o[1] >= b[3] or b[2] >= o[4] - 0.5 or o[2] >= b[4] - 0.5
            assert(apart, ("figure %d, %s: \"%s\" lies on \"%s\""):format(k, style, b[5], o[5]))
          end
        end
        for _, panel in ipairs(l.panels) do
          assert(panel.bottom - panel.top >= 0.3 * panel.bottom / #l.panels * 0.5 and panel.right > panel.left)
        end
      end
    end
  end)

  t.test("projector letters are 18 points or more on a slide of 13.33 inches", function()
    for _, description in ipairs(figures) do
      description.style = "projector"
      local l = layout.build(spec.check(description))
      t.equal(l.width, 1280)
      for _, label in ipairs(l.texts) do
        assert(label.size * 13.333 * 72 / 1280 >= 17.99, label.s)
      end
    end
  end)

  t.test("sizes of paper figures are those of columns", function()
    local d = { style = "paper", lines = { { x = { 0, 1 }, y = { 0, 1 } } } }
    t.says(plot.figure(d):script("pdf"), { "pdfcairo size 8.50000cm," })
    d.size = "page"
    t.says(plot.figure(d):script("pdf"), { "pdfcairo size 17.00000cm,9.00000cm" })
    d.size = { width = 120, height = 80 }
    t.says(plot.figure(d):script("pdf"), { "pdfcairo size 12.00000cm,8.00000cm" })
  end)

  t.test("lines differ in grey and in shape", function()
    local colours = styles.get("projector").colours
    for i = 1, 3 do
      for j = 1, i - 1 do
        assert(math.abs(lightness(colours[i]) - lightness(colours[j])) >= 20, i .. " and " .. j)
      end
    end
    for _, style in ipairs(styles.names) do
      local list, seen = styles.get(style).colours, {}
      for i = 1, styles.most do
        assert(i == 1 or math.abs(lightness(list[i]) - lightness(list[i - 1])) >= 2, style .. i)
        assert(not seen[list[i]], list[i])
        seen[list[i]] = true
      end
    end
    for _, grey in ipairs(styles.get("print").colours) do
      t.equal(grey:sub(2, 3) == grey:sub(4, 5) and grey:sub(4, 5) == grey:sub(6, 7), true, grey)
    end
    local patterns = {}
    for i = 1, styles.most do
      local pattern = table.concat(styles.get("print").dashes[i], " ")
      assert(not patterns[pattern] and not patterns[styles.markers[i]], i)
      patterns[pattern], patterns[styles.markers[i]] = true, true
    end
  end)

  t.test("rings grow darker with the value", function()
    for _, grey in ipairs { false, true } do
      local before = 101
      for i = 0, 50 do
        local now = lightness(rings.colour(i / 50, grey))
        assert(now < before, i)
        before = now
      end
    end
  end)

  t.test("a ring picture and its numbers", function()
    local r = plot.rings { radii = { 10, 20, 30 }, values = { { 0.1, 0.2, 0.3 }, { 0.3, 0.2, 0 / 0 } }, times = { 0, 1.5 },
      radius_unit = "um", label = "Regain <w>", unit = "kg/kg", title = "<b> & 'q'", source = "made up" }
    local svg = r:svg()
    t.says(svg, { "&lt;b&gt; &amp; &#39;q&#39;", "1.5 s", "Largest radius 30 µm", "Regain &lt;w&gt; (kg/kg)", "</svg>" })
    local _, circles = svg:gsub("<circle", "")
    t.equal(circles, 8) -- three rings and an outline, twice
    t.equal(svg, r:svg())
    t.equal(r:csv(), "outer_radius_um,0_s_regain_w_kg_per_kg,1_5_s_regain_w_kg_per_kg\n10,0.1,0.3\n20,0.2,0.2\n30,0.3,\n")
    assert(r:save(t.folder .. "/rings.svg"))
    t.says(select(2, r:save(t.folder .. "/none/rings.svg")), { "cannot write" })
    t.raises({ ".svg" }, r.save, r, "rings.png")
    t.raises({ "grow outward" }, plot.rings, { radii = { 2, 1 }, values = { 1, 2 } })
    t.raises({ "2 values and 3 radii" }, plot.rings, { radii = { 1, 2, 3 }, values = { 1, 2 } })
    t.raises({ "\"value\"", "\"values\"" }, plot.rings, { radii = { 1 }, value = { 1 } })
    t.raises({ "1 captions for 2 discs" }, plot.rings, { radii = { 1 }, values = { { 1 }, { 2 } }, times = { 1 } })
    t.raises({ "no number" }, plot.rings, { radii = { 1 }, values = { 0 / 0 } })
  end)
end
