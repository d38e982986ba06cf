-- One page of text, lines and boxes, as SVG (written here) or as a gnuplot script for PNG and PDF.
-- Lengths are millimetres from the top left corner; letters too.

local quote = require("hairfibre.gnuplot.words").quote
local text = require "hairfibre.plot.text"
local xml = require("hairfibre.rings").escape

local Page = {}
Page.__index = Page

--- New page, A4 upright unless sizes are given.
function Page.new(width, height)
  return setmetatable({ width = width or 210, height = height or 297, items = {} }, Page)
end

local function add(page, item)
  page.items[#page.items + 1] = item
end

--- Text with its middle line at y. align: "left" (usual), "center", "right".
function Page:text(s, x, y, size, options)
  options = options or {}
  add(self, { kind = "text", s = text.clean(s), x = x, y = y, size = size, align = options.align or "left",
    bold = options.bold, ink = options.ink or "#1A1A1A" })
end

--- Wraps a paragraph into `width`; gives y after it.
function Page:paragraph(s, x, y, size, width, options)
  local step = 1.32 * size
  local room = options and options.bold and 0.9 * width or width -- bold letters are wider
  for _, line in ipairs(text.wrap(text.clean(s), size, room)) do
    self:text(line, x, y + step / 2, size, options)
    y = y + step
  end
  return y
end

function Page:line(x1, y1, x2, y2, options)
  options = options or {}
  add(self, { kind = "line", x1 = x1, y1 = y1, x2 = x2, y2 = y2, width = options.width or 0.25,
    ink = options.ink or "#5A5A5A", dash = options.dash })
end

function Page:box(x, y, width, height, options)
  options = options or {}
  add(self, { kind = "box", x = x, y = y, w = width, h = height, fill = options.fill, ink = options.ink or "#5A5A5A",
    line = options.line or 0.25 })
end

--- A line to write on.
function Page:blank(x, y, width)
  self:line(x, y, x + width, y, { width = 0.2, ink = "#8A8A8A", dash = true })
end

local function number(value)
  local s = ("%.3f"):format(value):gsub(",", "."):gsub("0+$", ""):gsub("%.$", "")
  return s == "-0" and "0" or s
end

-- ---- SVG --------------------------------------------------------------------------------------------

local ANCHOR = { left = "start", center = "middle", right = "end" }

local svg = {}

function svg.text(item)
  return ('<text x="%s" y="%s" font-size="%s" text-anchor="%s" fill="%s"%s>%s</text>'):format(number(item.x),
    number(item.y + 0.36 * item.size), number(item.size), ANCHOR[item.align], item.ink,
    item.bold and ' font-weight="bold"' or "", xml(item.s))
end

function svg.line(item)
  return ('<path d="M%s %s L%s %s" stroke="%s" stroke-width="%s"%s/>'):format(number(item.x1), number(item.y1),
    number(item.x2), number(item.y2), item.ink, number(item.width), item.dash and ' stroke-dasharray="0.8 0.8"' or "")
end

function svg.box(item)
  return ('<rect x="%s" y="%s" width="%s" height="%s" fill="%s" stroke="%s" stroke-width="%s"/>'):format(number(item.x),
    number(item.y), number(item.w), number(item.h), item.fill or "none", item.line > 0 and item.ink or "none",
    number(item.line))
end

--- The page as SVG text.
function Page:svg(title)
  local parts = {}
  for i, item in ipairs(self.items) do
    parts[i] = svg[item.kind](item)
  end
  local w, h = number(self.width), number(self.height)
  return ([[
<?xml version="1.0" encoding="utf-8"?>
<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="0 0 %s %s" font-family="sans-serif">
<title>%s</title>
<rect width="100%%" height="100%%" fill="#FFFFFF"/>
%s
</svg>
]]):format(w, h, w, h, xml(title), table.concat(parts, "\n"))
end

-- ---- gnuplot ----------------------------------------------------------------------------------------

-- Pixels (PNG) or points (PDF) of a millimetre, and what a letter or a line of 1 mm needs there.
local FORMATS = {
  png = { terminal = "pngcairo size %s,%s", scale = 8, font = 6, width = 8 },
  pdf = { terminal = "pdfcairo size %scm,%scm", scale = 0.1, font = 2.126, width = 5.67 },
}

local draw = {}

function draw.text(page, item, f)
  return ("set label %s at %s %s noenhanced front font 'sans-serif%s,%s' textcolor rgb '%s'"):format(quote(item.s),
    page:at(item.x, item.y), item.align, item.bold and ":Bold" or "", number(item.size * f.font), item.ink)
end

function draw.line(page, item, f)
  return ("set arrow from %s to %s nohead front lw %s dt %s lc rgb '%s'"):format(page:at(item.x1, item.y1),
    page:at(item.x2, item.y2), number(item.width * f.width), item.dash and "2" or "1", item.ink)
end

function draw.box(page, item, f)
  local border = item.line > 0 and ("border lc rgb '%s' lw %s"):format(item.ink, number(item.line * f.width)) or "noborder"
  return ("set object rectangle from %s to %s back fc rgb '%s' fs %s %s"):format(page:at(item.x, item.y + item.h),
    page:at(item.x + item.w, item.y), item.fill or "#FFFFFF", item.fill and "solid 1" or "empty", border)
end

function Page:at(x, y)
  return ("screen %.6f, screen %.6f"):format(x / self.width, 1 - y / self.height):gsub("(%d),(%d)", "%1.%2")
end

--- The gnuplot script of the page for "png" or "pdf"; the picture goes to standard output.
function Page:script(format)
  local f = FORMATS[format]
  local lines = { "# bench card of hairfibre", "set encoding utf8",
    "set terminal " .. f.terminal:format(number(self.width * f.scale), number(self.height * f.scale)) .. " fontscale 1 linewidth 1 background rgb '#FFFFFF'",
    "unset key", "unset tics", "unset border", "set lmargin 0", "set rmargin 0", "set tmargin 0", "set bmargin 0",
    "set xrange [0:1]", "set yrange [0:1]" }
  for _, item in ipairs(self.items) do
    lines[#lines + 1] = draw[item.kind](self, item, f)
  end
  lines[#lines + 1] = "plot -1 notitle"
  return table.concat(lines, "\n") .. "\n"
end

return Page
