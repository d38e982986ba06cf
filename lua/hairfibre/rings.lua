-- Cross-sections of a fibre as coloured rings, written as SVG without any other program. One disc per
-- time; dark is a high value, so the picture also works in grey.

local text = require "hairfibre.plot.text"
local ticks = require "hairfibre.ticks"
local styles = require "hairfibre.styles"

local rings = {}

-- From pale to dark with steadily falling lightness (own scales).
local scales = {
  water = { { 247, 244, 230 }, { 199, 220, 214 }, { 122, 180, 199 }, { 58, 124, 170 }, { 31, 66, 120 }, { 16, 22, 56 } },
  heat = { { 249, 243, 222 }, { 247, 212, 150 }, { 233, 154, 80 }, { 200, 88, 42 }, { 138, 34, 36 }, { 62, 10, 30 } },
}
rings.colours = { "water", "heat" }

local function colour(share, grey, name)
  local scale = scales[name or "water"]
  if share ~= share then
    return "#FFFFFF"
  elseif grey then
    local level = math.floor(248 - 220 * math.max(0, math.min(1, share)) + 0.5)
    return string.format("#%02X%02X%02X", level, level, level)
  end
  local place = math.max(0, math.min(1, share)) * (#scale - 1)
  local i = math.min(#scale - 2, math.floor(place))
  local a, b, part = scale[i + 1], scale[i + 2], place - i
  local mixed = {}
  for k = 1, 3 do
    mixed[k] = math.floor(a[k] + part * (b[k] - a[k]) + 0.5)
  end
  return string.format("#%02X%02X%02X", mixed[1], mixed[2], mixed[3])
end
rings.colour = colour

local escapes = { ["&"] = "&amp;", ["<"] = "&lt;", [">"] = "&gt;", ['"'] = "&quot;", ["'"] = "&#39;" }
function rings.escape(s)
  return (text.clean(s):gsub("[&<>\"']", escapes))
end

local function number(value)
  return (string.format("%.2f", value):gsub(",", "."):gsub("%.?0+$", ""))
end

local Canvas = {}
Canvas.__index = Canvas

function Canvas:add(...)
  self[#self + 1] = string.format(...)
end

function Canvas:text(s, x, y, size, anchor, ink)
  self:add('<text x="%s" y="%s" font-size="%s" text-anchor="%s" fill="%s">%s</text>', number(x),
    number(y + 0.36 * size), number(size), anchor, ink, rings.escape(s))
end

-- The scale on the right: a column of 40 fields with its ticks.
local function key(canvas, axis, x, top, height, style, colours)
  local letter, wide = style.letter, 1.1 * style.letter
  for i = 0, 39 do
    canvas:add('<rect x="%s" y="%s" width="%s" height="%s" fill="%s"/>', number(x),
      number(top + height * (39 - i) / 40), number(wide), number(height / 40 + 0.5),
      colour((i + 0.5) / 40, style.name == "print", colours))
  end
  for _, tick in ipairs(axis.ticks) do
    local y = top + height * (1 - axis.at(tick[1]))
    canvas:add('<path d="M%s %s h%s" stroke="%s" stroke-width="%s"/>', number(x + wide), number(y),
      number(0.3 * letter), style.axis, number(style.axis_line))
    canvas:text(tick[2], x + wide + 0.5 * letter, y, letter, "start", style.ink)
  end
end

-- d: { radii = outer radius of each ring from the middle out (one list, or one per disc), values = one
--      list per disc (or one list), low =, high =, label =, unit =, captions = words under the discs,
--      radius_unit =, title =, foot = lines, style =, colours = "water" or "heat" }   All checked by the caller.
function rings.svg(d)
  local style = styles.get(d.style)
  local letter, pad, width = style.letter, 0.8 * style.letter, style.width
  local count = #d.values
  local axis = ticks.axis({ low = d.low, high = d.high, unit = d.unit, label = d.label, snap = true }, 4)
  local key_width = 0
  for _, tick in ipairs(axis.ticks) do
    key_width = math.max(key_width, 2 * letter + text.width(tick[2], letter))
  end
  local canvas = setmetatable({}, Canvas)
  local y = pad
  for _, line in ipairs(d.title and text.balance(d.title, style.title, width - 2 * pad) or {}) do
    canvas:text(line, pad, y + 0.6 * style.title, style.title, "start", style.ink)
    y = y + 1.25 * style.title
  end
  local largest = 0
  for _, radii in ipairs(d.radii) do
    largest = math.max(largest, radii[#radii])
  end
  for _, line in ipairs(text.wrap(axis.title, letter, width - 2 * pad)) do
    canvas:text(line, width - pad, y + 0.8 * letter, letter, "end", style.quiet)
    y = y + 1.3 * letter
  end
  y = y + 0.6 * letter
  local room = width - 2 * pad - key_width - 1.2 * letter
  local most = math.max(1, math.min(6, math.floor(room / (5 * letter))))
  local rows = math.ceil(count / most)
  local columns = math.ceil(count / rows)
  local slot = room / columns
  local radius = math.min(0.46 * slot, 0.34 * style.height)
  local top, step = y, 2 * radius + 2.1 * letter
  for i, values in ipairs(d.values) do
    local radii = d.radii[i] or d.radii[1]
    local x = pad + ((i - 1) % columns + 0.5) * slot
    local middle = y + ((i - 1) // columns) * step + radius
    for k = #values, 1, -1 do
      canvas:add('<circle cx="%s" cy="%s" r="%s" fill="%s"/>', number(x), number(middle),
        number(radius * radii[k] / largest), colour(axis.at(values[k]), style.name == "print", d.colours))
    end
    canvas:add('<circle cx="%s" cy="%s" r="%s" fill="none" stroke="%s" stroke-width="%s"/>', number(x),
      number(middle), number(radius * radii[#radii] / largest), style.axis, number(style.axis_line))
    canvas:text(d.captions and d.captions[i] or "", x, middle + radius + 0.9 * letter, letter, "middle",
      style.ink)
  end
  key(canvas, axis, width - pad - key_width + 0.3 * letter, top, math.min(2 * radius, rows * step), style, d.colours)
  y = y + rows * step + 0.2 * letter
  for _, paragraph in ipairs(d.foot or {}) do
    for _, line in ipairs(text.wrap(paragraph, style.small, width - 2 * pad)) do
      canvas:text(line, pad, y + 0.64 * style.small, style.small, "start", style.quiet)
      y = y + 1.28 * style.small
    end
  end
  local w, h = number(width), number(y + pad)
  return string.format([[
<?xml version="1.0" encoding="utf-8"?>
<svg xmlns="http://www.w3.org/2000/svg" width="%s" height="%s" viewBox="0 0 %s %s" font-family="sans-serif">
<title>%s</title>
<rect width="100%%" height="100%%" fill="#FFFFFF"/>
%s
</svg>
]], w, h, w, h, rings.escape(d.title or "Cross-section of a fibre"), table.concat(canvas, "\n"))
end

return rings
