-- How pictures look. Lengths are in points of 1/96 inch; dash patterns in line widths.
--
-- The order of the colours (a published set that colour-blind readers can tell apart) was chosen so
-- that neighbours also differ in grey. Markers differ too, so no line depends on colour alone.

local styles = {}

local millimetre = 96 / 25.4

-- circle, square, triangle up, triangle down, diamond, pentagon, open circle, open square
styles.markers = { 7, 5, 9, 11, 13, 15, 6, 4 }
styles.most = 8

local colours = {
  "#0072B2", "#E69F00", "#000000", "#009E73", "#CC79A7", "#D55E00", "#56B4E9", "#777777",
}
local greys = {
  "#000000", "#8C8C8C", "#4D4D4D", "#A6A6A6", "#262626", "#737373", "#B3B3B3", "#404040",
}
local solid = { {}, {}, {}, {}, {}, {}, {}, {} }
local dashes = {
  {}, { 6, 2 }, { 7, 2, 1, 2 }, { 11, 3 }, { 4, 1.5, 1, 1.5, 1, 1.5 }, { 9, 2, 3, 2 }, { 5, 4 },
  { 14, 2, 1, 2 },
}

local common = {
  ink = "#1A1A1A", -- words
  quiet = "#4A4A4A", -- words of the second rank
  axis = "#5A5A5A",
  mark = "#8A8A8A",
  beyond = "#F3F3F3", -- ground of the part outside the evidence
  beyond_dash = { 2.4, 1.7 },
  most_points = 2000,
}

local list = {
  projector = {
    width = 1280, height = 720, letter = 27, title = 36, small = 24,
    line = 4.5, axis_line = 2, thin = 1.6, marker = 8, grid = "#E9E9E9", scale = 1.5,
    colours = colours, dashes = solid, band = 0.22, sample = 1.7, least = 0.34,
  },
  print = {
    width = 160 * millimetre, height = 100 * millimetre, letter = 13.3, title = 16, small = 11,
    line = 1.9, axis_line = 0.9, thin = 0.8, marker = 3.6, grid = "#EDEDED", scale = 3.125,
    colours = greys, dashes = dashes, band = 0.16, sample = 3.0, least = 0.4,
  },
  paper = {
    width = 85 * millimetre, height = 64 * millimetre, letter = 10.4, title = 11.6, small = 9.2,
    line = 1.5, axis_line = 0.7, thin = 0.6, marker = 2.7, scale = 6.25,
    colours = colours, dashes = solid, band = 0.2, sample = 1.7, least = 0.44,
  },
}
for _, style in pairs(list) do
  for key, value in pairs(common) do
    style[key] = value
  end
end

styles.names = { "projector", "print", "paper" }

-- Named sizes, in mm. "column" and "page" are the usual widths of journal figures.
styles.sizes = {
  column = { 85, 64 },
  page = { 170, 90 },
  slide = { 1280 / millimetre, 720 / millimetre },
}

-- A copy of the style with its size in `width` and `height`.
function styles.get(name, size)
  local style = {}
  for key, value in pairs(list[name]) do
    style[key] = value
  end
  if size then
    style.width, style.height = size[1] * millimetre, size[2] * millimetre
  end
  style.name = name
  return style
end

return styles
