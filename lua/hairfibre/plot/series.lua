-- From lists of numbers to what is drawn: gaps, parts outside the evidence, thinning.

local series = {}

local huge = math.huge

local function finite(v)
  return v == v and v ~= huge and v ~= -huge
end
series.finite = finite

-- Runs of drawable points. Gaps stay gaps: a value that is not a number, is infinite, or is not
-- above zero on a logarithmic axis ends a run. Second result: points lost to the log axis.
function series.runs(line, log_x, log_y)
  local runs, run, lost = {}, nil, 0
  local outside = series.outside(line)
  for i = 1, #line.x do
    local x, y = line.x[i], line.y and line.y[i]
    local low, high = line.low and line.low[i], line.high and line.high[i]
    local good = finite(x) and (not y or finite(y))
    if line.kind == "band" then
      good = good and finite(low) and finite(high)
    end
    if good and (log_x and x <= 0 or log_y and (y or low) <= 0) then
      good, lost = false, lost + 1
    end
    if good then
      run = run or {}
      run[#run + 1] = { x = x, y = y, low = low, high = high, outside = outside(i, x) }
    elseif run then
      runs[#runs + 1], run = run, nil
    end
  end
  runs[#runs + 1] = run
  return runs, lost
end

-- Which points lie outside the evidence: a list, or a limit below or above.
function series.outside(line)
  local list, from, below = line.extrapolated, line.dashed_from, line.dashed_below
  return function(i, x)
    return list and list[i] and true or from and x > from or below and x < below or false
  end
end

local function between(a, b, limit, axis_x, axis_y)
  local share = (axis_x.at(limit) - axis_x.at(a.x)) / (axis_x.at(b.x) - axis_x.at(a.x))
  local y
  if axis_y.log then
    y = math.exp(math.log(a.y) + share * (math.log(b.y) - math.log(a.y)))
  else
    y = a.y + share * (b.y - a.y)
  end
  return { x = limit, y = y }
end

-- Split the runs into the parts inside and outside the evidence. They meet at the limit.
function series.split(line, runs, axis_x, axis_y)
  local inside, outside = {}, {}
  for _, run in ipairs(runs) do
    local part = { run[1] }
    local beyond = run[1].outside
    for i = 2, #run do
      local a, b = run[i - 1], run[i]
      if b.outside ~= beyond then
        local limit = line.dashed_from
        if not (limit and (a.x - limit) * (b.x - limit) < 0) then
          limit = line.dashed_below
        end
        local joint = beyond and b or a
        if limit and (a.x - limit) * (b.x - limit) < 0 then
          joint = between(a, b, limit, axis_x, axis_y)
        end
        if joint ~= a then
          part[#part + 1] = joint
        end
        local list = beyond and outside or inside
        list[#list + 1] = part
        part, beyond = joint == b and {} or { joint }, b.outside
      end
      part[#part + 1] = b
    end
    local list = beyond and outside or inside
    list[#list + 1] = part
  end
  return inside, outside
end

-- At most about `most` points: the lowest and the highest of each bin, in their order, so that
-- peaks survive; the ends always stay.
function series.thin(points, most)
  local n = #points
  if n <= most then
    return points
  end
  local bins = most // 2 - 1
  local out = { points[1] }
  for bin = 0, bins - 1 do
    local first = 2 + (n - 2) * bin // bins
    local last = 1 + (n - 2) * (bin + 1) // bins
    local low, high = first, first
    for i = first + 1, last do
      if points[i].y < points[low].y then
        low = i
      end
      if points[i].y > points[high].y then
        high = i
      end
    end
    out[#out + 1] = points[math.min(low, high)]
    if low ~= high then
      out[#out + 1] = points[math.max(low, high)]
    end
  end
  out[#out + 1] = points[n]
  return out
end

-- Thin a list of runs to about `most` points together.
function series.thin_runs(runs, most)
  local total = 0
  for _, run in ipairs(runs) do
    total = total + #run
  end
  if total <= most then
    return runs
  end
  local out = {}
  for i, run in ipairs(runs) do
    out[i] = series.thin(run, math.max(4, most * #run // total))
  end
  return out
end

-- Where a line shows its marker: about `count` places, even along the drawn curve. `shift` (0 to 1)
-- staggers the lines against one another. Second result: the points that stand alone.
function series.marker_places(runs, map, count, shift)
  local places, alone = {}, {}
  local function walk(visit)
    local along = 0
    for _, run in ipairs(runs) do
      for i = 2, #run do
        local x1, y1 = map(run[i - 1])
        local x2, y2 = map(run[i])
        local length = math.sqrt((x2 - x1) ^ 2 + (y2 - y1) ^ 2)
        visit(along, length, run[i - 1], run[i])
        along = along + length
      end
    end
    return along
  end
  local total, k = walk(function() end), 0
  walk(function(along, length, a, b)
    while k < count and (k + 0.25 + 0.5 * shift) * total / count <= along + length do
      local wanted = (k + 0.25 + 0.5 * shift) * total / count
      places[#places + 1] = wanted - along < length / 2 and a or b
      k = k + 1
    end
  end)
  for _, run in ipairs(runs) do
    alone[#alone + 1] = #run == 1 and run[1] or nil
  end
  return places, alone
end

return series
