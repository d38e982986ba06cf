-- The lines of one panel on a grid of character cells.

local series = require "hairfibre.plot.series"

local lines = {}

local signs = { "●", "■", "▲", "▼", "◆", "★", "○", "□" }
local plain_signs = { "o", "#", "^", "v", "*", "@", "%", "&" }
lines.colours = { 33, 214, nil, 36, 175, 166, 74, 244 } -- of the 256-colour set; nil: the usual one

function lines.sign(identity, ascii)
  return (ascii and plain_signs or signs)[identity]
end

-- Dots of a point; what lies far off the canvas stays near it, so that strokes stay short.
local function dots_of(panel, canvas)
  local function dot(share, dots)
    return math.floor(math.max(-2, math.min(3, share)) * (dots - 1) + 0.5)
  end
  return function(x, y)
    return dot(panel.x.at(x), canvas.dots_x), dot(1 - panel.y.at(y), canvas.dots_y)
  end
end

local function always()
  return true
end

-- Broken strokes: outside the evidence.
local function broken(canvas)
  local on, period = canvas.ascii and 2 or 4, canvas.ascii and 4 or 8
  return function(step)
    return step % period < on
  end
end

local kinds = {}

function kinds.line(canvas, panel, drawn, colour, sign)
  local at = dots_of(panel, canvas)
  local inside, outside = series.split(drawn.line, series.thin_runs(drawn.runs, 2000), panel.x, panel.y)
  local function map(point)
    return at(point.x, point.y)
  end
  for i, runs in ipairs { inside, outside } do
    local keep = i == 1 and always or broken(canvas)
    local step = 0
    for _, run in ipairs(runs) do
      local px, py = map(run[1])
      for k = 1, #run do
        local x, y = map(run[k])
        if k == 1 or x ~= px or y ~= py then
          step = canvas:stroke(px, py, x, y, colour, sign, keep, step)
        end
        px, py = x, y
      end
    end
    if not canvas.ascii then
      local shift = (drawn.line.identity - 1) / 8
      local places, alone = series.marker_places(runs, map, i == 1 and 4 or 2, shift)
      for _, point in ipairs(table.move(alone, 1, #alone, #places + 1, places)) do
        local x, y = map(point)
        canvas:mark(x, y, colour, sign)
      end
    end
  end
end

function kinds.points(canvas, panel, drawn, colour, sign)
  local at = dots_of(panel, canvas)
  for _, run in ipairs(drawn.runs) do
    for _, point in ipairs(run) do
      local x, y = at(point.x, point.y)
      canvas:mark(x, y, colour, sign)
    end
  end
end

function kinds.band(canvas, panel, drawn, colour)
  local at = dots_of(panel, canvas)
  for _, run in ipairs(drawn.runs) do
    for k = 1, #run - 1 do
      local x1, low1 = at(run[k].x, run[k].low)
      local x2, low2 = at(run[k + 1].x, run[k + 1].low)
      local _, high1 = at(run[k].x, run[k].high)
      local _, high2 = at(run[k + 1].x, run[k + 1].high)
      for x = math.min(x1, x2), math.max(x1, x2) do
        local share = x2 == x1 and 0 or (x - x1) / (x2 - x1)
        for y = math.floor(high1 + share * (high2 - high1)), math.floor(low1 + share * (low2 - low1)) do
          if (x + 2 * y) % 4 == 0 then
            canvas:dot(x, y, colour, ":")
          end
        end
      end
    end
  end
end

function kinds.bars(canvas, panel, drawn, colour, sign)
  local at = dots_of(panel, canvas)
  for _, run in ipairs(drawn.runs) do
    for _, point in ipairs(run) do
      local x1, x2, top, bottom
      if panel.sideways then
        -- whole rows of dots inside the bar, so that neighbours do not touch
        local function row(y)
          return (1 - panel.y.at(y)) * canvas.dots_y
        end
        x1, x2 = at(math.min(point.x, 0), point.y), at(math.max(point.x, 0), point.y)
        bottom = math.floor(row(point.y + drawn.shift + 0.4 * drawn.wide))
        top = math.min(math.ceil(row(point.y + drawn.shift - 0.4 * drawn.wide)), bottom)
      else
        x1, top = at(point.x + drawn.shift - 0.4 * drawn.wide, math.max(point.y, 0))
        x2, bottom = at(point.x + drawn.shift + 0.4 * drawn.wide, math.min(point.y, 0))
      end
      for x = x1, x2 do
        for y = top, bottom do
          if not point.outside or (x + y) % 2 == 0 then
            canvas:dot(x, y, colour, sign)
          end
        end
      end
      if panel.sideways then
        canvas:mark(x2, (top + bottom) // 2, colour, sign)
      else
        canvas:mark((x1 + x2) // 2, top, colour, sign)
      end
    end
  end
end

-- Lines, then the reference lines under them.
function lines.draw(panel, canvas)
  local at = dots_of(panel, canvas)
  local function sparse(step)
    return step % 2 == 0
  end
  for _, drawn in ipairs(panel.drawn) do
    local id = drawn.line.identity
    kinds[drawn.line.kind](canvas, panel, drawn, lines.colours[id], lines.sign(id, canvas.ascii))
  end
  for _, mark in ipairs(panel.marks) do
    if mark.y then
      local _, y = at(panel.x.low, mark.y)
      canvas:stroke(0, y, canvas.dots_x - 1, y, nil, "-", sparse, 0)
    else
      local x = at(mark.x, panel.y.low)
      canvas:stroke(x, 0, x, canvas.dots_y - 1, nil, "|", sparse, 0)
    end
  end
end

return lines
