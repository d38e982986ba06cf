-- What the models expect of one strand of a group: the change of its diameter and the growth of voids,
-- each as an interval.
--
-- 39 strands are drawn: every parameter of water, swelling, diffusion and voids from its spread, the
-- diameter from the spread of the strands. The next strand lies within the range of 39 with probability
-- 38/40, so the range is a 95 % interval without any further assumption.
--
-- Reading a photograph: an edge read to the nearest pixel p is off by p/sqrt(12); a change of diameter
-- has four edges, p/sqrt(3), and 1.96 times that, 1.13 p, is the smallest change that one strand shows
-- (assumed; a coarser optical resolution takes the place of the pixel).

local core = require "hairfibre.core"
local random = require "hairfibre.count_random"
local steps = require "hairfibre.count_steps"
local treatment = require "hairfibre.treatment"

local predict = {}

predict.draws = 39
predict.reading = 1.13 -- smallest change of one strand, in pixels
local EDGES = math.sqrt(1 / 3) -- standard deviation of a change by reading alone, in pixels

local PREFIXES = { "sorption.", "swelling.", "diffusion.", "void." }
local LEAST, MOST = 30e-6, 240e-6 -- diameters that the models take

local draw = {}
function draw.normal(r, row)
  return row.value + row.spread * r:normal()
end
function draw.lognormal(r, row)
  return row.value * math.exp(row.spread * r:normal())
end
function draw.uniform(r, row)
  return row.value + row.spread * (2 * r:uniform() - 1)
end
function draw.triangular(r, row)
  return row.value + row.spread * (r:uniform() - r:uniform())
end

local function uncertain_rows(set)
  local rows = {}
  for _, row in ipairs(core.rows(set)) do
    for _, prefix in ipairs(PREFIXES) do
      if row.name:sub(1, #prefix) == prefix and row.spread > 0 and draw[row.distribution] then
        rows[#rows + 1] = row
      end
    end
  end
  return rows
end

-- A value within the limits of the catalogue; the central one when none comes up.
local function drawn(r, row)
  for _ = 1, 50 do
    local x = draw[row.distribution](r, row)
    if x >= row.low and x <= row.high then
      return x
    end
  end
  return row.value
end

local function drawn_set(r, set, rows)
  local copy = core.parameters(set:name())
  for _, name in ipairs(set:changed()) do
    copy:set(name, set:get(name))
  end
  for _, row in ipairs(rows) do
    copy:set(row.name, drawn(r, row))
  end
  return copy
end

-- Diameter of one drawn strand: one of hers, or from the mean and spread.
local function strand(r, given)
  if given.diameters then
    return given.diameters[r:below(#given.diameters)]
  end
  for _ = 1, 50 do
    local d = given.diameter + given.spread * r:normal()
    if d >= LEAST and d <= MOST then
      return d
    end
  end
  return given.diameter
end

-- Change of diameter (m), growth of voids and grade; or nil, sentence.
local function run(diameter, set, list, given)
  local fibre = treatment.fibre { diameter = diameter, set = set, measured_humidity = given.humidity,
    humidity = given.humidity }
  local r, message, code = treatment.treat(fibre, list, { profiles = false, room = { humidity = given.humidity } })
  if not r or code then
    return nil, message
  end
  local last = #r
  return { change = r.diameter[last] - r.diameter[1], start = r.diameter[1], growth = r.void_growth[last],
    grade = r.grade, extrapolated = r.extrapolated }
end

-- given: steps (parsed), set, humidity, diameter and spread or diameters (m), seed, pixel, resolution.
-- Result, or nil and a sentence.
function predict.strand(given)
  local list = steps.made(given.steps)
  local centre = given.diameter
  if given.diameters then
    local sum = 0
    for _, d in ipairs(given.diameters) do
      sum = sum + d
    end
    centre = sum / #given.diameters
  end
  local middle, message = run(centre, given.set, list, given)
  if not middle then
    return nil, message
  end
  local rows = uncertain_rows(given.set)
  local changes, growths, grades = {}, {}, {}
  for i = 1, predict.draws do
    local r = random.new(given.seed, i)
    local one = run(strand(r, given), drawn_set(r, given.set, rows), list, given)
    if one then
      changes[#changes + 1], growths[#growths + 1] = one.change, one.growth
      grades[#grades + 1] = { one.growth, one.grade }
    end
  end
  if #changes < predict.draws then
    return nil, ("%d of %d drawn strands could not be computed"):format(predict.draws - #changes, predict.draws)
  end
  table.sort(changes)
  table.sort(growths)
  table.sort(grades, function(a, b)
    return a[1] < b[1]
  end)
  return { diameter = centre, change = middle.change, low = changes[1], high = changes[#changes],
    relative = middle.change / middle.start, growth = middle.growth, growth_low = growths[1],
    growth_high = growths[#growths], grade = middle.grade, grade_low = grades[1][2],
    grade_high = grades[#grades][2], extrapolated = middle.extrapolated, draws = predict.draws }
end

--- Smallest change of diameter (m) that one strand shows, and that the mean of n strands shows.
function predict.smallest(pixel, resolution, n)
  local step = math.max(pixel or 0, resolution or 0)
  return predict.reading * step, predict.reading * step / math.sqrt(math.max(1, n or 1))
end

--- Standard deviation of the change between strands: their diameters and the reading.
function predict.deviation(change, variation, pixel, resolution)
  local reading = EDGES * math.max(pixel or 0, resolution or 0)
  return math.sqrt((change * variation) ^ 2 + reading ^ 2)
end

--- Whether the change can be seen: word and sentence. p: a prediction; n: strands in the group.
function predict.verdict(p, pixel, resolution, n)
  local one, mean = predict.smallest(pixel, resolution, n)
  local size = math.abs(p.change)
  local least = p.low * p.high > 0 and math.min(math.abs(p.low), math.abs(p.high)) or 0
  local most = math.max(math.abs(p.low), math.abs(p.high))
  if one == 0 then
    return "unknown", "without the size of a pixel nobody can say whether it can be seen"
  elseif least > one then
    return "each", "can be seen on each strand"
  elseif size > one then
    return "most", "can be seen on most strands, not on each"
  elseif size > mean then
    return "mean", ("too small for one strand; only the mean of %d shows it"):format(n)
  elseif most > one then
    return "doubtful", "probably too small to be seen"
  end
  return "none", "too small to be seen with this pixel"
end

return predict
