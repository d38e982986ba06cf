-- Where names go: beside the ends of the lines or in a key above, and words on reference lines.
-- All places are in points from the top left corner of the canvas.

local text = require "hairfibre.plot.text"

local labels = {}

-- Tops for boxes of these heights, in order, as near to the wanted tops as possible without
-- overlap, all between `first` and `last` (least squares: pool neighbours that collide).
function labels.spread(wanted, heights, first, last)
  local above, total, pools = {}, 0, {}
  for i = 1, #wanted do
    above[i], total = total, total + heights[i]
    pools[#pools + 1] = { sum = wanted[i] - above[i], count = 1 }
    while #pools > 1 do
      local a, b = pools[#pools - 1], pools[#pools]
      if a.sum / a.count <= b.sum / b.count then
        break
      end
      a.sum, a.count = a.sum + b.sum, a.count + b.count
      pools[#pools] = nil
    end
  end
  local tops, i = {}, 1
  for _, pool in ipairs(pools) do
    local level = math.max(first, math.min(pool.sum / pool.count, last - total))
    for _ = 1, pool.count do
      tops[i], i = level + above[i], i + 1
    end
  end
  return tops
end

-- Names wrapped for the column on the right, or nil if a key above serves better.
function labels.column(panel, style)
  local limit = 0.23 * style.width
  local column = { width = 0, entries = {}, height = 0 }
  for _, drawn in ipairs(panel.drawn) do
    local name = drawn.line.name
    if drawn.line.kind == "bars" then
      return nil
    end
    if name then
      local lines, broken = text.wrap(name, style.letter, limit)
      local entry = { drawn = drawn, lines = lines, height = (#lines * 1.18 + 0.22) * style.letter }
      for _, line in ipairs(lines) do
        column.width = math.max(column.width, text.width(line, style.letter))
      end
      if #lines > 3 or broken then
        return nil
      end
      column.height = column.height + entry.height
      column.entries[#column.entries + 1] = entry
    end
  end
  return column
end

-- Between the plots and the names beside them: wider where a sample could be taken for a point.
function labels.gap(columns, style)
  for _, column in ipairs(columns) do
    for _, entry in ipairs(column.entries) do
      if entry.drawn.line.kind == "points" then
        return 1.3 * style.letter
      end
    end
  end
  return 0.45 * style.letter
end

function labels.sample_width(style)
  return style.sample * style.letter
end

local function put_sample(layout, drawn, x, y)
  local width = labels.sample_width(layout.style)
  layout.samples[#layout.samples + 1] = { drawn = drawn, x1 = x, x2 = x + width, y = y }
end

-- Put the names of one panel beside the ends of its lines.
function labels.place_column(layout, panel, column)
  local style = layout.style
  local letter = style.letter
  table.sort(column.entries, function(a, b)
    if a.drawn.end_y ~= b.drawn.end_y then
      return a.drawn.end_y < b.drawn.end_y
    end
    return a.drawn.order < b.drawn.order
  end)
  local wanted, heights = {}, {}
  for i, entry in ipairs(column.entries) do
    heights[i] = entry.height
    wanted[i] = entry.drawn.end_y - entry.height / 2
  end
  local first, last = panel.top - 0.6 * letter, panel.bottom + 0.6 * letter
  local tops = labels.spread(wanted, heights, first, last)
  local x = panel.right + layout.gap
  for i, entry in ipairs(column.entries) do
    local middle = tops[i] + entry.height / 2
    put_sample(layout, entry.drawn, x, middle)
    for k, line in ipairs(entry.lines) do
      layout:text(line, x + labels.sample_width(style) + 0.4 * letter,
        middle + (k - (#entry.lines + 1) / 2) * 1.18 * letter, letter, "left", style.ink)
    end
  end
end

-- Rows of a key: every name once, flowing from the left. Gives the height used.
function labels.key(layout, panels, top)
  local style = layout.style
  local letter, pad = style.letter, layout.pad
  local x, y, seen, sample = pad, top, {}, labels.sample_width(style)
  local row = 1.4 * letter
  for _, panel in ipairs(panels) do
    for _, drawn in ipairs(panel.drawn) do
      local name = drawn.line.name
      local once = name and name .. "\0" .. drawn.line.identity .. drawn.line.kind
      if name and not seen[once] then
        seen[once] = true
        local room = style.width - 2 * pad - sample - 0.4 * letter
        local lines = text.wrap(name, letter, room)
        local width = 0
        for _, line in ipairs(lines) do
          width = math.max(width, text.width(line, letter))
        end
        if x > pad and x + sample + 0.4 * letter + width > style.width - pad then
          x, y = pad, y + row
        end
        put_sample(layout, drawn, x, y + row / 2)
        for k, line in ipairs(lines) do
          layout:text(line, x + sample + 0.4 * letter, y + row / 2 + (k - 1) * 1.2 * letter, letter,
            "left", style.ink)
        end
        y = y + (#lines - 1) * 1.2 * letter
        x = x + sample + width + 1.6 * letter
      end
    end
  end
  return x == pad and y == top and 0 or y + row - top
end

-- Points about every `gap` along the drawn curves, to see what a box would cover.
local function trace(panel, gap)
  local dots = {}
  for _, drawn in ipairs(panel.drawn) do
    for _, runs in ipairs { drawn.inside, drawn.outside } do
      for _, run in ipairs(runs) do
        local px, py
        for _, point in ipairs(run) do
          local x, y = panel.map(point)
          local length = px and math.max(math.abs(x - px), math.abs(y - py)) or 0
          local steps = math.max(1, math.min(400, math.ceil(length / gap)))
          for k = 1, steps do
            local share = k / steps
            dots[#dots + 1] = { px and px + share * (x - px) or x, px and py + share * (y - py) or y }
          end
          px, py = x, y
        end
      end
    end
  end
  return dots
end

local function score(box, dots, taken, panel)
  local sum = 0
  if box.x1 < panel.left or box.x2 > panel.right or box.y1 < panel.top - 1 or box.y2 > panel.bottom then
    sum = 1e5
  end
  for _, other in ipairs(taken) do
    if box.x1 < other.x2 and box.x2 > other.x1 and box.y1 < other.y2 and box.y2 > other.y1 then
      sum = sum + 1e4
    end
  end
  for _, dot in ipairs(dots) do
    if dot[1] > box.x1 and dot[1] < box.x2 and dot[2] > box.y1 and dot[2] < box.y2 then
      sum = sum + 1
    end
  end
  return sum
end

-- Words of the reference lines, each where it covers least.
function labels.marks(layout, panel)
  local style = layout.style
  local size, gap = style.small, 0.35 * style.small
  local dots, taken = trace(panel, 0.4 * size), {}
  for _, mark in ipairs(panel.marks) do
    if mark.y then
      local y = panel.y_at(mark.y)
      taken[#taken + 1] = { x1 = panel.left, x2 = panel.right, y1 = y - 1, y2 = y + 1 }
    else
      local x = panel.x_at(mark.x)
      taken[#taken + 1] = { x1 = x - 1, x2 = x + 1, y1 = panel.top, y2 = panel.bottom }
    end
  end
  for _, mark in ipairs(panel.marks) do
    if mark.text then
      local best, least
      local function try(x, y, lines, width, height)
        local box = { x1 = x, x2 = x + width, y1 = y, y2 = y + height, lines = lines }
        local s = score(box, dots, taken, panel) + #lines / 10
        if not least or s < least then
          best, least = box, s
        end
      end
      for _, share in ipairs { 0.6, 0.3 } do
        local lines = text.wrap(mark.text, size, share * (panel.right - panel.left))
        local width, height = 0, #lines * 1.2 * size
        for _, line in ipairs(lines) do
          width = math.max(width, text.width(line, size))
        end
        for step = 0, 12 do
          if mark.y then
            local x = panel.left + gap + step / 12 * (panel.right - panel.left - width - 2 * gap)
            try(x, panel.y_at(mark.y) - height - 0.1 * size, lines, width, height)
            try(x, panel.y_at(mark.y) + 0.15 * size, lines, width, height)
          else
            local y = panel.top + step / 12 * (panel.bottom - panel.top - height)
            try(panel.x_at(mark.x) + gap, y, lines, width, height)
            try(panel.x_at(mark.x) - gap - width, y, lines, width, height)
          end
        end
      end
      taken[#taken + 1] = best
      for k, line in ipairs(best.lines) do
        layout:text(line, best.x1, best.y1 + (k - 0.5) * 1.2 * size, size, "left", style.quiet)
      end
    end
  end
end

return labels
