-- The gnuplot script of a laid out figure. Quoting rules: gnuplot_words.lua.

local Writer = require "hairfibre.gnuplot.writer"
local words = require "hairfibre.gnuplot.words"

local gnuplot = { quote = words.quote, quote_path = words.path }

-- What one unit of a length means in each terminal (measured with gnuplot 5.4).
local terminals = {
  -- point: radius of a marker of size 1; in SVG it grows with the letters
  svg = { scale = 1, font = 1, width = 1, dash = 0.5, point_per_letter = 0.375 },
  png = { font = 0.75, width = 1, dash = 0.25, point = 3.25 },
  pdf = { scale = 1, font = 0.5625, width = 1.5, dash = 0.275, point = 4 },
}

local function terminal(writer, format)
  local layout, scale = writer.layout, writer.scale
  local font = writer:font(layout.style.letter)
  local common = "noenhanced font " .. font .. " background rgb '#FFFFFF'"
  local function pixels(length)
    return math.floor(length * scale + 0.5)
  end
  if format == "svg" then
    return string.format("svg size %d,%d %s", pixels(layout.width), pixels(layout.height), common)
  elseif format == "png" then
    return string.format("pngcairo size %d,%d fontscale 1 linewidth 1 pointscale 1 %s",
      pixels(layout.width), pixels(layout.height), common)
  end
  return string.format("pdfcairo size %scm,%scm fontscale 1 linewidth 1 %s",
    words.short(layout.width / 96 * 2.54), words.short(layout.height / 96 * 2.54), common)
end

-- Markers tell lines apart; a single line needs none.
local function several(layout)
  local first
  for _, panel in ipairs(layout.panels) do
    for _, drawn in ipairs(panel.drawn) do
      first = first or drawn.line.identity
      if drawn.line.identity ~= first then
        return true
      end
    end
  end
  return false
end

-- Identities that points of a figure have: a line of the same identity carries no markers, which would look like
-- further points.
local function of_points(layout)
  local set = {}
  for _, panel in ipairs(layout.panels) do
    for _, drawn in ipairs(panel.drawn) do
      if drawn.line.kind == "points" then
        set[drawn.line.identity] = true
      end
    end
  end
  return set
end

-- The script for one format ("svg", "png", "pdf"); with `output` (a quoted path) it writes a file,
-- without it the picture goes to standard output.
function gnuplot.script(layout, format, output)
  local t = terminals[format]
  local writer = Writer.new(layout, t, t.scale or layout.style.scale)
  writer.markers, writer.of_points = several(layout), of_points(layout)
  writer:add("# figure of hairfibre; the numbers are in the data blocks")
  writer:add("set encoding utf8")
  writer:add("set terminal %s", terminal(writer, format))
  if output then
    writer:add("set output %s", output)
  end
  local style = layout.style
  writer:add("unset key")
  writer:add("set border 3 lw %s lc rgb '%s'", writer:width(style.axis_line), style.axis)
  if style.grid then
    writer:add("set grid %s back lt 1 lw %s lc rgb '%s'", layout.panels[1].sideways and "xtics noytics" or "noxtics ytics",
      writer:width(style.thin * 0.8), style.grid)
  end
  if #layout.panels > 1 then
    writer:add("set multiplot")
  end
  for _, label in ipairs(layout.texts) do
    writer:label(label)
  end
  for _, sample in ipairs(layout.samples) do
    writer:sample(sample)
  end
  for _, panel in ipairs(layout.panels) do
    writer:panel(panel)
  end
  if #layout.panels > 1 then
    writer:add("unset multiplot")
  end
  if output then
    writer:add("unset output")
  end
  return table.concat(writer, "\n") .. "\n"
end

return gnuplot
