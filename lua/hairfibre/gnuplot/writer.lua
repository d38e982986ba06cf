-- Writes the parts of a gnuplot script: texts, samples, data blocks and plot commands of a panel.
-- Lengths come in points of 1/96 inch and leave in the units of the terminal.

local styles = require "hairfibre.styles"
local words = require "hairfibre.gnuplot.words"

local number, short, quote = words.number, words.short, words.quote

local Writer = {}
Writer.__index = Writer

-- t: what one unit of a length means in the terminal; scale: pixels for a point of the layout
function Writer.new(layout, t, scale)
  return setmetatable({ layout = layout, t = t, scale = scale, blocks = 0 }, Writer)
end

function Writer:add(...)
  self[#self + 1] = string.format(...)
end

function Writer:font(size)
  return string.format("'sans-serif,%s'", short(size * self.t.font * self.scale):gsub("%.?0+$", ""))
end

function Writer:width(w)
  return short(w * self.t.width * self.scale)
end

function Writer:point(r)
  return short(r * self.scale / (self.t.point or self.t.point_per_letter * self.layout.style.letter))
end

function Writer:dash(pattern)
  if #pattern == 0 then
    return "1"
  end
  local parts = {}
  for i, part in ipairs(pattern) do
    parts[i] = short(part / self.t.dash)
  end
  return "(" .. table.concat(parts, ",") .. ")"
end

function Writer:at(x, y)
  return "screen " .. short(x / self.layout.width) .. ", screen " .. short(1 - y / self.layout.height)
end

function Writer:look(drawn)
  local style, id = self.layout.style, drawn.line.identity
  return { colour = style.colours[id], dash = style.dashes[id], marker = styles.markers[id] }
end

function Writer:stroke(drawn, beyond)
  local style, look = self.layout.style, self:look(drawn)
  return string.format("lw %s dt %s lc rgb '%s'", self:width(beyond and style.line * 0.8 or style.line),
    self:dash(beyond and style.beyond_dash or look.dash), look.colour)
end

function Writer:dots(drawn, hollow, radius)
  local look, style = self:look(drawn), self.layout.style
  local open = { [7] = 6, [5] = 4, [9] = 8, [11] = 10, [13] = 12, [15] = 14 }
  local shape = hollow and open[look.marker] or look.marker
  return string.format("pt %d ps %s lw %s lc rgb '%s'", shape, self:point(radius or style.marker),
    self:width(hollow and 1.6 * style.thin or style.thin), look.colour)
end

-- Whether a line carries markers.
function Writer:marked(drawn)
  return self.markers and not self.of_points[drawn.line.identity]
end

function Writer:label(t)
  self:add("set label %s at %s %s noenhanced front font %s textcolor rgb '%s'", quote(t.s),
    self:at(t.x, t.y), t.align, self:font(t.size), t.colour)
end

function Writer:sample(s)
  local style, drawn = self.layout.style, s.drawn
  local kind, look = drawn.line.kind, self:look(drawn)
  if kind == "band" or kind == "bars" then
    local half = 0.38 * style.letter
    self:add("set object rectangle from %s to %s front fs solid %s noborder fc rgb '%s'",
      self:at(s.x1, s.y + half), self:at(s.x2, s.y - half), short(kind == "band" and style.band or 1),
      look.colour)
    return
  end
  if kind == "line" then
    self:add("set arrow from %s to %s nohead front %s", self:at(s.x1, s.y), self:at(s.x2, s.y),
      self:stroke(drawn))
  end
  if kind == "points" or self:marked(drawn) then
    self:add("set label '' at %s point %s front", self:at((s.x1 + s.x2) / 2, s.y), self:dots(drawn))
  end
end

-- A data block; an empty line is a gap.
function Writer:block(runs, row)
  self.blocks = self.blocks + 1
  local name = "$d" .. self.blocks
  self:add("%s << EOD", name)
  for i, run in ipairs(runs) do
    if i > 1 then
      self[#self + 1] = ""
    end
    for _, point in ipairs(run) do
      local values = { row(point) }
      for k, value in ipairs(values) do
        values[k] = number(value)
      end
      self[#self + 1] = table.concat(values, " ")
    end
  end
  self:add("EOD")
  return name
end

local function xy(point)
  return point.x, point.y
end

-- Points inside and outside the evidence, each as one run.
local function apart(runs)
  local inside, outside = {}, {}
  for _, run in ipairs(runs) do
    for _, point in ipairs(run) do
      local list = point.outside and outside or inside
      list[#list + 1] = point
    end
  end
  return { inside, outside }
end

-- One function per kind of line: writes its data blocks and adds plot elements to `out`, which has
-- a list for the ground, the strokes and the dots.
local kinds = {}

function kinds.band(self, drawn, out)
  local name = self:block(drawn.runs, function(p)
    return p.x, p.low, p.high
  end)
  out.ground("%s using 1:2:3 with filledcurves fs transparent solid %s noborder fc rgb '%s'", name,
    short(self.layout.style.band), self:look(drawn).colour)
end

function kinds.line(self, drawn, out)
  for i, runs in ipairs { drawn.inside, drawn.outside } do
    if #runs > 0 then
      out.stroke("%s using 1:2 with lines %s", self:block(runs, xy), self:stroke(drawn, i == 2))
    end
  end
  for i, places in ipairs { drawn.places, drawn.places_outside } do
    -- a point without neighbours is no stroke, so it shows even where markers are not needed
    places = self:marked(drawn) and places or drawn.alone[i]
    if #places > 0 then
      out.dots("%s using 1:2 with points %s", self:block({ places }, xy), self:dots(drawn, i == 2))
    end
  end
end

function kinds.points(self, drawn, out)
  for i, points in ipairs(apart(drawn.runs)) do
    if #points > 0 then
      out.dots("%s using 1:2 with points %s", self:block({ points }, xy),
        self:dots(drawn, i == 2, 0.9 * self.layout.style.marker))
    end
  end
end

function kinds.bars(self, drawn, out, sideways)
  local colour = self:look(drawn).colour
  for i, points in ipairs(apart(drawn.runs)) do
    if #points > 0 then
      local half, how = 0.46 * drawn.wide, "1:2:3 with boxes"
      local name = self:block({ points }, function(p)
        if sideways then
          return 0.5 * p.x, p.y, math.min(0, p.x), math.max(0, p.x), p.y + drawn.shift - half, p.y + drawn.shift + half
        end
        return p.x + drawn.shift, p.y, 2 * half
      end)
      how = sideways and "1:2:3:4:5:6 with boxxyerror" or how
      out.ground("%s using " .. how .. " fs solid %s border lc rgb '%s' lw %s lc rgb '%s'", name,
        i == 2 and "0.25" or "1.0", colour, self:width(self.layout.style.thin), colour)
    end
  end
end

-- The bars of uncertainty of points and bars: one short run each.
function Writer:bounds(drawn, out, sideways)
  local runs, shift = {}, drawn.shift or 0
  for _, run in ipairs(drawn.runs) do
    for _, p in ipairs(run) do
      if p.low == p.low and p.high == p.high then
        runs[#runs + 1] = sideways and { { x = p.low, y = p.y + shift }, { x = p.high, y = p.y + shift } }
          or { { x = p.x + shift, y = p.low }, { x = p.x + shift, y = p.high } }
      end
    end
  end
  if #runs > 0 then
    local style, name = self.layout.style, self:block(runs, xy)
    if drawn.line.kind == "bars" then -- light around the stroke, which a dark bar would swallow
      out.stroke("%s using 1:2 with lines lw %s dt 1 lc rgb '#FFFFFF'", name, self:width(4 * style.thin))
    end
    out.stroke("%s using 1:2 with lines lw %s dt 1 lc rgb '%s'", name, self:width(1.5 * style.thin),
      drawn.line.kind == "bars" and style.ink or self:look(drawn).colour)
  end
end

function Writer:elements(panel)
  local lists, out = {}, {}
  for i, name in ipairs { "ground", "stroke", "dots" } do
    lists[i] = {}
    out[name] = function(...)
      lists[i][#lists[i] + 1] = string.format(...) .. " notitle"
    end
  end
  for _, drawn in ipairs(panel.drawn) do
    kinds[drawn.line.kind](self, drawn, out, panel.sideways)
    if drawn.line.low and drawn.line.kind ~= "band" then
      self:bounds(drawn, out, panel.sideways)
    end
  end
  table.move(lists[2], 1, #lists[2], #lists[1] + 1, lists[1])
  return table.move(lists[3], 1, #lists[3], #lists[1] + 1, lists[1])
end

function Writer:axis(letter, axis, named)
  local parts, style = {}, self.layout.style
  for _, tick in ipairs(axis.ticks) do
    parts[#parts + 1] = (named and quote(tick[2]) or "''") .. " " .. number(tick[1])
  end
  for _, value in ipairs(axis.minor) do
    parts[#parts + 1] = "'' " .. number(value) .. " 1"
  end
  self:add(axis.log and "set logscale %s" or "unset logscale %s", letter)
  self:add("set %srange [%s:%s] noextend", letter, number(axis.low), number(axis.high))
  self:add("set %stics border out nomirror norotate scale %s (%s) noenhanced offset %s font %s "
    .. "textcolor rgb '%s'", letter, axis.categories and "0,0" or "0.55,0.3", table.concat(parts, ", "),
    letter == "x" and "0,0.5" or axis.categories and "0.2,0" or "0.8,0", self:font(style.letter), style.ink)
end

function Writer:panel(panel)
  local layout, style = self.layout, self.layout.style
  local elements = self:elements(panel)
  local function margin(name, value)
    self:add("set %s at screen %s", name, short(value))
  end
  margin("lmargin", panel.left / layout.width)
  margin("rmargin", panel.right / layout.width)
  margin("tmargin", 1 - panel.top / layout.height)
  margin("bmargin", 1 - panel.bottom / layout.height)
  self:axis("x", panel.x, panel.named)
  self:axis("y", panel.y, true)
  for _, part in ipairs(panel.beyond or {}) do
    self:add("set object rectangle from first %s, graph 0 to first %s, graph 1 behind fs solid 1.0 "
      .. "noborder fc rgb '%s'", number(part[1]), number(part[2]), style.beyond)
  end
  for _, mark in ipairs(panel.marks) do
    local from, to = "graph 0, first " .. number(mark.y or 0), "graph 1, first " .. number(mark.y or 0)
    if mark.x then
      from, to = "first " .. number(mark.x) .. ", graph 0", "first " .. number(mark.x) .. ", graph 1"
    end
    self:add("set arrow from %s to %s nohead back lw %s dt 1 lc rgb '%s'", from, to,
      self:width(style.thin), style.mark)
  end
  self:add("plot %s", #elements > 0 and table.concat(elements, ", \\\n  ") or "NaN notitle")
  self:add("unset label; unset arrow; unset object")
end

return Writer
