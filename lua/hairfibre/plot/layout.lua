-- From a checked figure to places on a canvas: margins, texts, axes, labels. No drawing here.
-- Places are in points of 1/96 inch from the top left corner.

local show = require "hairfibre.show"
local styles = require "hairfibre.styles"
local ranges = require "hairfibre.plot.ranges"
local series = require "hairfibre.plot.series"
local labels = require "hairfibre.plot.labels"
local footer = require "hairfibre.plot.footer"
local text = require "hairfibre.plot.text"

local Layout = {}
Layout.__index = Layout

function Layout:text(s, x, y, size, align, colour)
  self.texts[#self.texts + 1] = { s = s, x = x, y = y, size = size, align = align, colour = colour }
end

-- Where a line leaves the evidence: the x below and above which all its points lie outside. Nil where
-- it does not, false when inside and outside are mixed.
local function limits_of(drawn)
  local line, low, high = drawn.line, math.huge, -math.huge
  for _, run in ipairs(drawn.runs) do
    for _, point in ipairs(run) do
      if not point.outside then
        low, high = math.min(low, point.x), math.max(high, point.x)
      end
    end
  end
  local below, from
  for _, run in ipairs(drawn.runs) do
    for _, point in ipairs(run) do
      if point.outside and point.x >= low and point.x <= high or low > high then
        return false, false
      elseif point.outside and point.x > high then
        from = line.dashed_from or high
      elseif point.outside then
        below = line.dashed_below or low
      end
    end
  end
  return below, from
end

-- When all lines of the panel leave the evidence at the same place, the ground is shaded there.
local function shade(panel)
  local below, from, lines = nil, nil, 0
  for _, drawn in ipairs(panel.drawn) do
    if drawn.line.kind == "line" then
      local b, f = limits_of(drawn)
      lines = lines + 1
      if lines == 1 then
        below, from = b, f
      end
      below, from = below == b and b, from == f and f
    end
  end
  if from and from < panel.x.high then
    panel.beyond = { { math.max(from, panel.x.low), panel.x.high } }
  end
  if below and below > panel.x.low then
    panel.beyond = panel.beyond or {}
    table.insert(panel.beyond, { panel.x.low, math.min(below, panel.x.high) })
  end
end

-- With the place of the panel known: the drawn runs, the marker places, the ends of the lines.
local function prepare(panel, style)
  function panel.x_at(value)
    return panel.left + panel.x.at(value) * (panel.right - panel.left)
  end
  function panel.y_at(value)
    return panel.bottom - panel.y.at(value) * (panel.bottom - panel.top)
  end
  function panel.map(point)
    return panel.x_at(point.x), panel.y_at(point.y or point.low)
  end
  for _, drawn in ipairs(panel.drawn) do
    local line, last = drawn.line, drawn.runs[#drawn.runs]
    last = last[#last]
    local y = panel.y_at(last.y or last.low)
    if line.kind == "band" then
      y = (y + panel.y_at(last.high)) / 2
    end
    drawn.end_y = math.max(panel.top, math.min(panel.bottom, y))
    drawn.inside, drawn.outside, drawn.places, drawn.places_outside = drawn.runs, {}, {}, {}
    if line.kind == "line" then
      local inside, outside = series.split(line, drawn.runs, panel.x, panel.y)
      drawn.inside = series.thin_runs(inside, style.most_points)
      drawn.outside = series.thin_runs(outside, style.most_points)
      local shift = (line.identity - 1) / styles.most
      drawn.alone = {}
      for i, runs in ipairs { drawn.inside, drawn.outside } do
        local places, alone = series.marker_places(runs, panel.map, i == 1 and 5 or 2, shift)
        drawn.alone[i] = alone
        drawn[i == 1 and "places" or "places_outside"] = table.move(alone, 1, #alone, #places + 1, places)
      end
    end
  end
end

-- The number behind the end of a bar that lies.
local function sideways_numbers(layout, panel, style)
  local size = style.small
  for _, drawn in ipairs(panel.drawn) do
    for _, run in ipairs(drawn.runs) do
      for _, point in ipairs(run) do
        local edge = math.max(0, point.x, point.high == point.high and point.high or point.x)
        local height = drawn.wide * math.abs(panel.y_at(1) - panel.y_at(0))
        if size < 1.1 * height then
          layout:text(show.number(point.x, 2), panel.x_at(edge) + 0.4 * size,
            panel.y_at(point.y + drawn.shift), size, "left", style.quiet)
        end
      end
    end
  end
end

-- The number on top of each bar, if there is room for all.
local function bar_numbers(layout, panel, style)
  if panel.sideways then
    return sideways_numbers(layout, panel, style)
  end
  local size, found = style.small, {}
  for _, drawn in ipairs(panel.drawn) do
    local wide = drawn.line.kind == "bars" and drawn.wide * (panel.x_at(1) - panel.x_at(0))
    for _, run in ipairs(wide and drawn.runs or {}) do
      for _, point in ipairs(run) do
        local s = string.format("%.2g", point.y)
        if text.width(s, size) > 1.1 * wide or s:find("e") then
          return
        end
        local top = math.max(point.y, point.high == point.high and point.high or point.y)
        found[#found + 1] = { s, panel.x_at(point.x + drawn.shift), panel.y_at(math.max(0, top)) - 0.62 * size }
      end
    end
  end
  for _, one in ipairs(found) do
    layout:text(one[1], one[2], one[3], size, "center", style.quiet)
  end
end

local function tick_names(layout, panel, style)
  local slot, lines = (panel.right - panel.left) / #panel.x.categories, {}
  local rows = 1
  for i, name in ipairs(panel.x.categories) do
    lines[i] = text.wrap(name, style.letter, 0.94 * slot)
    rows = math.max(rows, #lines[i])
  end
  return rows, function()
    for i, list in ipairs(lines) do
      for k, line in ipairs(list) do
        local y = panel.bottom + (1.15 * k - 0.2) * style.letter
        layout:text(line, panel.x_at(i), y, style.letter, "center", style.ink)
      end
    end
  end
end

local function put_title(layout, title)
  local style, pad, y = layout.style, layout.pad, layout.pad
  for _, line in ipairs(title and text.balance(title, style.title, style.width - 2 * pad) or {}) do
    layout:text(line, pad, y + 0.6 * style.title, style.title, "left", style.ink)
    y = y + 1.25 * style.title
  end
  return title and y + 0.35 * style.letter or y
end

-- Names beside the ends of the lines when they fit there; otherwise nil.
local function columns_for(panels, style, room)
  local columns, width = {}, 0
  for i, panel in ipairs(panels) do
    columns[i] = labels.column(panel, style)
    if not columns[i] or columns[i].height > room * panel.source.share then
      return nil, 0
    end
    width = math.max(width, columns[i].width)
  end
  return columns, width
end

local function sides(layout, panels, columns, column_width)
  local style, pad, widest = layout.style, layout.pad, 0
  for _, panel in ipairs(panels) do
    for _, tick in ipairs(panel.y.ticks) do
      widest = math.max(widest, text.width(tick[2], style.letter))
    end
  end
  local right = style.width - pad
  local x = panels[1].x
  layout.gap = labels.gap(columns or {}, style)
  if columns and column_width > 0 then
    right = right - column_width - labels.sample_width(style) - 0.4 * style.letter - layout.gap
  elseif not x.categories and #x.ticks > 0 then
    right = right - text.width(x.ticks[#x.ticks][2], style.letter) / 2
  end
  for _, panel in ipairs(panels) do
    panel.left, panel.right = pad + widest + 0.75 * style.letter, right
  end
end

-- Heights: heads of the panels, plots, the row under the lowest plot. A long footer or key makes the
-- picture taller, never the plot tiny.
local function stack(layout, panels, y, below, foot_height)
  local style, letter = layout.style, layout.style.letter
  local heads, total = {}, 0
  for i, panel in ipairs(panels) do
    heads[i] = text.wrap(panel.y.title, letter, style.width - 2 * layout.pad)
    total = total + (1.3 * #heads[i] + 0.6) * letter
  end
  local gap = 1.1 * letter
  local shares, smallest = 0, 1
  for _, panel in ipairs(panels) do
    shares, smallest = shares + panel.source.share, math.min(smallest, panel.source.share)
  end
  local plot = (style.height - layout.pad - foot_height - below - y - total - gap * (#panels - 1)) / shares
  local least = math.max(5 * letter / smallest, style.least * style.height / shares)
  if panels[1].sideways then
    least = math.max(least, (0.5 + 0.75 * #panels[1].drawn) * letter * #panels[1].y.categories)
  end
  if plot < least then
    style.height = style.height + (least - plot) * shares
    plot = least
  end
  for i, panel in ipairs(panels) do
    for k, line in ipairs(heads[i]) do
      layout:text(line, layout.pad, y + (1.3 * k - 0.65) * letter, letter, "left", style.quiet)
    end
    panel.top = y + (1.3 * #heads[i] + 0.6) * letter
    panel.bottom = panel.top + plot * panel.source.share
    y = panel.bottom + gap
    prepare(panel, style)
  end
end

local function build(figure)
  local style = styles.get(figure.style, figure.size)
  local letter, pad = style.letter, 0.8 * style.letter
  local layout = setmetatable({ style = style, pad = pad, texts = {}, samples = {}, panels = {} }, Layout)
  local lost, off, panels, any = { log = 0, empty = {} }, {}, layout.panels, false
  for i, panel in ipairs(figure.panels) do
    panels[i] = ranges.gather(figure, panel, lost)
    any = any or #panels[i].drawn > 0
  end
  if not any then
    return nil, "there is no number to draw in this figure", "data"
  end
  local shares = 0
  for _, panel in ipairs(panels) do
    shares = shares + panel.source.share
  end
  local guess = (style.height - 9 * letter) / shares -- height of a panel of the full share
  ranges.settle(figure, panels, style.width * 0.72, guess, letter, off)

  for _, panel in ipairs(figure.blank and panels or {}) do
    panel.drawn = {}
  end

  local y = put_title(layout, figure.title)
  local columns, column_width = columns_for(panels, style, guess)
  if not columns then
    y = y + labels.key(layout, panels, y) + 0.2 * letter
  end
  sides(layout, panels, columns, column_width)
  local last = panels[#panels]
  for _, panel in ipairs(panels) do
    shade(panel)
  end
  local foot = footer.lines(figure, panels, lost, off, style.small, style.width - 2 * pad)
  local line_height = 1.28 * style.small
  local x_title = text.wrap(last.x.title, letter, style.width - last.left - pad)
  local rows, put_tick_names = 1, nil
  if last.x.categories then
    rows, put_tick_names = tick_names(layout, last, style)
  end
  local under_ticks = (0.6 + 1.15 * rows) * letter
  local foot_height = #foot * line_height + (#foot > 0 and 0.5 * letter or 0)
  stack(layout, panels, y, under_ticks + 1.3 * #x_title * letter, foot_height)
  if put_tick_names then
    put_tick_names()
  end
  for k, line in ipairs(x_title) do
    local edge = math.max(last.right, last.left + text.width(line, letter))
    layout:text(line, edge, last.bottom + under_ticks + 1.3 * (k - 0.5) * letter, letter, "right",
      style.quiet)
  end
  for k, line in ipairs(foot) do
    layout:text(line, pad, style.height - pad - (#foot - k + 0.5) * line_height, style.small, "left",
      style.quiet)
  end
  for i, panel in ipairs(panels) do
    panel.named = i == #panels and not panel.x.categories -- numbers under the lowest panel only
    if columns then
      labels.place_column(layout, panel, columns[i])
    end
    labels.marks(layout, panel)
    bar_numbers(layout, panel, style)
  end
  layout.width, layout.height = style.width, style.height
  return layout
end

return { build = build }
