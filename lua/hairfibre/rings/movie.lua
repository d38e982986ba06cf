-- A cross-section that moves through time, as one file: .svg (plays in a browser) or .gif (plays in slides,
-- drawn by gnuplot). Frame follows frame at an even pace; a dot on a line below shows the real time.
--
--   treated:movie { step = 3, value = "regain", title = "Between the plates" }:save "pressed.gif"

local collect = require "hairfibre.collect"
local core = require "hairfibre.core"
local files = require "hairfibre.files"
local misuse = require "hairfibre.misuse"
local provenance = require "hairfibre.provenance"
local rings = require "hairfibre.rings"
local styles = require "hairfibre.styles"
local text = require "hairfibre.plot.text"
local ticks = require "hairfibre.ticks"
local quote = require("hairfibre.gnuplot.words").quote

local Movie = { __name = "hairfibre.movie" }
Movie.__index = Movie

local HOLD = 0.15 -- share of the playing time for which the last frame stands still
local DRAW_SECONDS = 60

--- rings: a ring picture with one disc for each frame; times: of the frames; seconds: how long it plays.
function Movie.new(picture, times, seconds)
  return collect.hand_out(setmetatable({ picture = picture, drawing = picture.drawing, times = times, seconds = seconds },
    Movie))
end

local function number(value)
  return (string.format("%.2f", value):gsub(",", "."):gsub("%.?0+$", ""))
end

-- Where everything stands: texts, the scale, the disc, the line of time.
local function layout(d)
  local style = styles.get(d.style)
  local letter, pad = style.letter, 0.8 * style.letter
  local l = { style = style, width = style.width, texts = {}, axis = ticks.axis({ low = d.low, high = d.high, unit = d.unit,
    label = d.label, snap = true }, 4) }
  local y = pad
  local function put(s, x, size, align, ink, step)
    l.texts[#l.texts + 1] = { s = s, x = x, y = y + 0.5 * step * size, size = size, align = align, ink = ink }
    y = y + step * size
  end
  for _, line in ipairs(d.title and text.balance(d.title, style.title, style.width - 2 * pad) or {}) do
    put(line, pad, style.title, "left", style.ink, 1.25)
  end
  for _, line in ipairs(text.wrap(l.axis.title, letter, style.width - 2 * pad)) do
    put(line, style.width - pad, letter, "right", style.quiet, 1.3)
  end
  y = y + 0.4 * letter
  l.radius = math.min(0.36 * style.height, 0.28 * style.width)
  l.x, l.y, l.largest = 0.42 * style.width, y + l.radius, 0
  for _, radii in ipairs(d.radii) do
    l.largest = math.max(l.largest, radii[#radii])
  end
  l.key = { x = style.width - pad - 5 * letter, top = y, height = 2 * l.radius, wide = 1.1 * letter }
  for _, tick in ipairs(l.axis.ticks) do
    l.texts[#l.texts + 1] = { s = tick[2], x = l.key.x + l.key.wide + 0.4 * letter,
      y = y + l.key.height * (1 - l.axis.at(tick[1])), size = letter, align = "left", ink = style.ink }
  end
  y = y + 2 * l.radius + 0.4 * letter
  l.caption = y + 0.65 * letter
  y = y + 1.5 * letter
  l.line = { from = l.x - l.radius, to = l.x + l.radius, y = y + 0.3 * letter, dot = 0.3 * letter }
  y = y + 1.1 * letter
  for _, paragraph in ipairs(d.foot or {}) do
    for _, line in ipairs(text.wrap(paragraph, style.small, style.width - 2 * pad)) do
      put(line, pad, style.small, "left", style.quiet, 1.28)
    end
  end
  l.height = y + pad
  return l
end

local function colour_of(l, d, value)
  return rings.colour(l.axis.at(value), l.style.name == "print", d.colours)
end

local function dot_at(l, times, i)
  local first, last = times[1], times[#times]
  return l.line.from + (l.line.to - l.line.from) * (last > first and (times[i] - first) / (last - first) or 0)
end

-- ---- SVG ----------------------------------------------------------------------------------------------

local ANCHOR = { left = "start", right = "end", center = "middle" }

local function svg_text(t)
  return ('<text x="%s" y="%s" font-size="%s" text-anchor="%s" fill="%s">%s</text>'):format(number(t.x),
    number(t.y + 0.36 * t.size), number(t.size), ANCHOR[t.align], t.ink, rings.escape(t.s))
end

-- One attribute through all frames; the last one stands still for a while.
local function animated(self, attribute, list, how)
  local count, share = #list, 1 - HOLD
  local times = {}
  for i = 1, count do
    times[i] = number(100 * share * (i - 1) / math.max(1, count - 1)) / 100
    times[i] = ("%.4f"):format(times[i]):gsub(",", ".")
  end
  times[count + 1], list[count + 1] = "1", list[count]
  return ('<animate attributeName="%s" dur="%ss" repeatCount="indefinite"%s values="%s" keyTimes="%s"/>'):format(attribute,
    number(self.seconds / share), how or "", table.concat(list, ";"), table.concat(times, ";"))
end

--- The moving picture as SVG text.
function Movie:svg()
  local d, l = self.drawing, layout(self.drawing)
  local out = {}
  for i, t in ipairs(l.texts) do
    out[i] = svg_text(t)
  end
  for i = 0, 39 do
    out[#out + 1] = ('<rect x="%s" y="%s" width="%s" height="%s" fill="%s"/>'):format(number(l.key.x),
      number(l.key.top + l.key.height * (39 - i) / 40), number(l.key.wide), number(l.key.height / 40 + 0.5),
      rings.colour((i + 0.5) / 40, l.style.name == "print", d.colours))
  end
  local function circle(r, values, fill, fills, more)
    out[#out + 1] = ('<circle cx="%s" cy="%s" r="%s" fill="%s"%s>%s%s</circle>'):format(number(l.x), number(l.y), r, fill,
      more or "", animated(self, "r", values), fills and animated(self, "fill", fills) or "")
  end
  local function radii_of(k)
    local list = {}
    for i = 1, #d.values do
      local radii = d.radii[i] or d.radii[1]
      list[i] = number(l.radius * radii[k or #radii] / l.largest)
    end
    return list
  end
  for k = #d.values[1], 1, -1 do
    local fills = {}
    for i, values in ipairs(d.values) do
      fills[i] = colour_of(l, d, values[k])
    end
    local list = radii_of(k)
    circle(list[1], list, fills[1], fills)
  end
  local outline = radii_of()
  circle(outline[1], outline, "none", nil, (' stroke="%s" stroke-width="%s"'):format(l.style.axis, number(l.style.axis_line)))
  out[#out + 1] = ('<path d="M%s %sH%s" stroke="%s" stroke-width="%s"/>'):format(number(l.line.from), number(l.line.y),
    number(l.line.to), l.style.axis, number(l.style.axis_line))
  local dots = {}
  for i = 1, #self.times do
    dots[i] = number(dot_at(l, self.times, i))
  end
  out[#out + 1] = ('<circle cx="%s" cy="%s" r="%s" fill="%s">%s</circle>'):format(dots[1], number(l.line.y), number(l.line.dot),
    l.style.ink, animated(self, "cx", dots))
  for i, caption in ipairs(d.captions) do
    local seen = {}
    for k = 1, #d.captions do
      seen[k] = k == i and "visible" or "hidden"
    end
    out[#out + 1] = ('<g visibility="%s">%s%s</g>'):format(i == 1 and "visible" or "hidden",
      svg_text { s = caption, x = l.x, y = l.caption, size = l.style.letter, align = "center", ink = l.style.ink },
      animated(self, "visibility", seen, ' calcMode="discrete"'))
  end
  local w, h = number(l.width), number(l.height)
  return ([[
<?xml version="1.0" encoding="utf-8"?>
<svg xmlns="http://www.w3.org/2000/svg" width="%s" height="%s" viewBox="0 0 %s %s" font-family="sans-serif">
<title>%s</title>
<desc>%s</desc>
<rect width="100%%" height="100%%" fill="#FFFFFF"/>
%s
</svg>
]]):format(w, h, w, h, rings.escape(d.title or "Cross-section of a fibre"),
    rings.escape(("Moves from %s to %s."):format(d.captions[1], d.captions[#d.captions])), table.concat(out, "\n"))
end

-- ---- GIF ----------------------------------------------------------------------------------------------

local SCALE = 0.75 -- of the picture: a slide of 1280 points is 960 pixels wide

--- The gnuplot script of the GIF.
function Movie:script()
  local d, l = self.drawing, layout(self.drawing)
  local count = #d.values
  local delay = math.max(2, math.floor(100 * self.seconds / count + 0.5)) -- hundredths of a second
  local out = {}
  local function add(...)
    out[#out + 1] = string.format(...)
  end
  local function share(x)
    return (string.format("%.5f", x):gsub(",", "."))
  end
  local function at(x, y)
    return "screen " .. share(x / l.width) .. ", screen " .. share(1 - y / l.height)
  end
  local function label(t)
    add("set label %s at %s %s noenhanced front font 'sans-serif,%s' textcolor rgb '%s'", quote(t.s), at(t.x, t.y), t.align,
      share(0.75 * t.size * SCALE), t.ink)
  end
  add("# moving figure of hairfibre")
  add("set encoding utf8")
  add("set terminal gif animate delay %d loop 0 noenhanced size %d,%d background rgb '#FFFFFF'", delay,
    math.floor(l.width * SCALE + 0.5), math.floor(l.height * SCALE + 0.5))
  add("unset key; unset border; unset tics; set lmargin 0; set rmargin 0; set tmargin 0; set bmargin 0")
  add("set xrange [0:1]; set yrange [0:1]")
  local hold = math.floor(HOLD * count / (1 - HOLD) + 0.5)
  for frame = 1, count + hold do
    local i = math.min(frame, count)
    local radii, values = d.radii[i] or d.radii[1], d.values[i]
    add("unset label; unset object; unset arrow")
    for _, t in ipairs(l.texts) do
      label(t)
    end
    label { s = d.captions[i], x = l.x, y = l.caption, size = l.style.letter, align = "center", ink = l.style.ink }
    for k = 0, 39 do
      add("set object rectangle from %s to %s front fs solid 1.0 noborder fc rgb '%s'",
        at(l.key.x, l.key.top + l.key.height * (40 - k) / 40 + (k > 0 and 1 or 0)), at(l.key.x + l.key.wide, l.key.top + l.key.height * (39 - k) / 40),
        rings.colour((k + 0.5) / 40, l.style.name == "print", d.colours))
    end
    for k = #values, 1, -1 do
      add("set object circle at %s size screen %s front fs solid 1.0 noborder fc rgb '%s'", at(l.x, l.y),
        share(l.radius * radii[k] / l.largest / l.width), colour_of(l, d, values[k]))
    end
    add("set object circle at %s size screen %s front fs empty border lc rgb '%s' lw 1", at(l.x, l.y),
      share(l.radius * radii[#radii] / l.largest / l.width), l.style.axis)
    add("set arrow from %s to %s nohead front lw 1 lc rgb '%s'", at(l.line.from, l.line.y), at(l.line.to, l.line.y), l.style.axis)
    add("set object circle at %s size screen %s front fs solid 1.0 noborder fc rgb '%s'",
      at(dot_at(l, self.times, i), l.line.y), share(l.line.dot / l.width), l.style.ink)
    add("plot NaN notitle")
  end
  return table.concat(out, "\n") .. "\n"
end

-- ---- files ---------------------------------------------------------------------------------------------

--- Writes name.svg or name.gif, and the numbers of all frames as name.csv. true; or nil, sentence, code.
function Movie:save(path)
  local stem, suffix = nil, nil
  if type(path) == "string" then
    stem, suffix = path:match("^(.*[^/])%.(%a+)$")
  end
  suffix = suffix and suffix:lower()
  if suffix ~= "svg" and suffix ~= "gif" then
    misuse("a moving picture is saved as .svg or .gif, not \"%s\"", text.clean(path))
  elseif collect.take("rings", self.picture, path) then
    return true
  end
  local done, message, code = files.write(stem .. ".csv", provenance.comment(self.picture.origin) .. self.picture:csv())
  if not done then
    return nil, message, code
  elseif suffix == "svg" then
    return files.write(path, self:svg())
  end
  local place
  place, message, code = files.path("write", path)
  if not place then
    return nil, message, code
  end
  local bytes
  bytes, message, code = core.spawn_gnuplot(self:script(), place, DRAW_SECONDS)
  if not bytes then
    return nil, message, code
  end
  return core.write(place, bytes)
end

function Movie:__tostring()
  return ("moving figure: %d frames"):format(#self.times)
end

return Movie
