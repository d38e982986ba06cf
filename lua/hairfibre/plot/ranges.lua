-- What a panel must show: the runs of its lines, the limits of its axes, its reference lines.

local ticks = require "hairfibre.ticks"
local series = require "hairfibre.plot.series"

local ranges = {}

local function smallest_gap(panel)
  local gap
  for _, drawn in ipairs(panel.drawn) do
    if drawn.line.kind == "bars" then
      local sorted = table.move(drawn.line.x, 1, #drawn.line.x, 1, {})
      table.sort(sorted)
      for i = 2, #sorted do
        local d = sorted[i] - sorted[i - 1]
        gap = d > 0 and math.min(gap or d, d) or gap
      end
    end
  end
  return gap or 1
end

-- Bars of several lines stand side by side in each slot.
local function place_bars(panel)
  local bars = {}
  for _, drawn in ipairs(panel.drawn) do
    bars[#bars + 1] = drawn.line.kind == "bars" and drawn or nil
  end
  panel.gap = smallest_gap(panel)
  for i, drawn in ipairs(bars) do
    drawn.wide = 0.78 * panel.gap / #bars
    drawn.shift = (i - (#bars + 1) / 2) * drawn.wide
  end
end

-- The runs of each line, and the extent of everything that must be seen.
function ranges.gather(figure, panel, lost)
  local result = { drawn = {}, marks = {}, source = panel }
  for i, line in ipairs(panel.lines) do
    local runs, gone = series.runs(line, figure.x.log, panel.y.log)
    lost.log = lost.log + gone
    if #runs == 0 then
      lost.empty[#lost.empty + 1] = line.name or "line " .. i
    else
      result.drawn[#result.drawn + 1] = { line = line, runs = runs, order = i }
    end
  end
  return result
end

local function include(range, value)
  if value and series.finite(value) then
    range[1] = math.min(range[1] or value, value)
    range[2] = math.max(range[2] or value, value)
  end
end

function ranges.each_point(panel, visit)
  for _, drawn in ipairs(panel.drawn) do
    for _, run in ipairs(drawn.runs) do
      for _, point in ipairs(run) do
        visit(point, drawn)
      end
    end
  end
end

-- Values that differ less than this share of their size are one value: what is left is rounding.
local SAME = 1e-5

-- Limits of some width: one value alone, or data beyond a limit that was asked for, still give an axis.
local function apart(axis, low, high, same)
  if high - low > same * math.max(math.abs(low), math.abs(high)) then
    return low, high
  elseif axis.log then
    if axis.low or axis.high then
      return axis.low or axis.high / 10, axis.high or axis.low * 10
    end
    return low / 2, high * 2
  end
  local size = math.max(math.abs(low), math.abs(high))
  if size == 0 and not axis.low and not axis.high then
    return 0, 1
  end
  local half = size > 0 and 0.05 * size or 1
  if axis.low or axis.high then
    return axis.low or axis.high - half, axis.high or axis.low + half
  end
  return low - half, high + half
end

local function axis_for(axis, range, count, how)
  local low = axis.low or range[1] or (axis.log and 1 or 0)
  local high = axis.high or range[2] or (axis.log and 10 * low or low + 1)
  low, high = apart(axis, low, high, how.snap and not axis.low and not axis.high and SAME or 0)
  if how.margin and not axis.log then
    local margin = how.margin * (high - low)
    local floor = how.zero and low >= 0 and 0 or -math.huge
    low, high = axis.low or math.max(low - margin, floor), axis.high or high + margin
  end
  if how.zero and not axis.log and not axis.low and low > 0 and low < 0.4 * high then
    low = 0
  end
  return ticks.axis({ low = low, high = high, log = axis.log, unit = axis.unit, label = axis.label,
    snap = how.snap, fixed_low = axis.low, fixed_high = axis.high, ticks = axis.ticks,
    categories = axis.categories, whole = how.whole,
    most = how.most }, count)
end

-- Bars that lie: what was along x goes along y, the first category on top.
local function lay_down(panel)
  local names, values = panel.x, panel.y
  local count = #names.categories
  panel.sideways, panel.x = true, values
  panel.y = { categories = names.categories, ticks = names.ticks, minor = {}, title = names.title, low = count + 0.5,
    high = 0.5, at = function(value)
      return 1 - (value - 0.5) / count
    end }
  ranges.each_point(panel, function(point)
    point.x, point.y = point.y, point.x
  end)
  for _, mark in ipairs(panel.marks) do
    mark.x, mark.y = mark.y, mark.x
  end
end

function ranges.settle(figure, panels, width, height, letter, off)
  local x_range, x_margin, whole = {}, nil, true
  for _, panel in ipairs(panels) do
    local y_range, bars, y_margin, most = {}, nil, nil, nil
    ranges.each_point(panel, function(point, drawn)
      include(x_range, point.x)
      include(y_range, point.y)
      include(y_range, (not panel.source.y.log or (point.low or 0) > 0) and point.low)
      include(y_range, point.high)
      bars = bars or drawn.line.kind == "bars"
      whole = whole and point.x % 1 == 0
      if drawn.line.kind == "points" then
        x_margin, y_margin = 0.03, 0.03
      end
    end)
    -- A share ends at 100 %, even where marks or bars want a margin.
    if panel.source.y.unit == "%" and not figure.sideways and (y_range[2] or 0) <= 100 then
      most = 100
    end
    if bars then
      include(y_range, 0)
      place_bars(panel)
      include(x_range, x_range[1] - 0.6 * panel.gap)
      include(x_range, x_range[2] + 0.6 * panel.gap)
      include(y_range, y_range[2] + (figure.sideways and 0.12 or 0.06) * (y_range[2] - y_range[1]))
    end
    for _, mark in ipairs(panel.source.marks) do
      include(y_range, (not panel.source.y.log or (mark.y or 0) > 0) and mark.y)
      include(x_range, (not figure.x.log or (mark.x or 0) > 0) and mark.x)
    end
    local room = figure.sideways and width / 5 or height * panel.source.share / 2.7
    panel.y = axis_for(panel.source.y, y_range, math.max(2, math.floor(room / letter)),
      { snap = true, zero = true, margin = y_margin, most = most })
  end
  for _, mark in ipairs(figure.marks) do
    include(x_range, (not figure.x.log or mark.x > 0) and mark.x)
  end
  local x_count = math.max(2, math.floor(width / (4.3 * letter)))
  local x = axis_for(figure.x, x_range, x_count, { margin = x_margin, whole = whole })
  for i, panel in ipairs(panels) do
    panel.x = x
    local function keep(mark, shown)
      local axis = mark.x and x or panel.y
      local place = axis.at(mark.x or mark.y)
      if place >= -1e-9 and place <= 1 + 1e-9 then
        panel.marks[#panel.marks + 1] = { x = mark.x, y = mark.y, text = shown and mark.text or nil }
      elseif shown then
        off[#off + 1] = string.format("%s (at %.4g)", mark.text or "reference line", mark.x or mark.y)
      end
    end
    for _, mark in ipairs(panel.source.marks) do
      keep(mark, true)
    end
    for _, mark in ipairs(figure.marks) do
      keep(mark, i == 1)
    end
    if figure.sideways then
      lay_down(panel)
    end
  end
  return x
end

return ranges
