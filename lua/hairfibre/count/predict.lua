-- What the models expect of one strand of a group: the change of its diameter and the growth of voids,
-- each as an interval.
--
-- An ensemble of 39 strands is drawn: every parameter that a treatment uses from its spread, the section
-- from the spread of the strands. The next strand lies within the range of 39 with probability 38/40, so
-- the range is a 95 % interval without any further assumption. A strand whose drawn parameters do not fit
-- together is not computed; the first 39 that are count.
--
-- Reading a photograph: an edge read to the nearest pixel p is off by p/sqrt(12); a change of diameter
-- has four edges, p/sqrt(3), and 1.96 times that, 1.13 p, is the smallest change that one strand shows
-- (assumed; a coarser optical resolution takes the place of the pixel).

local core = require "hairfibre.core"
local ensemble = require "hairfibre.ensemble"
local show = require "hairfibre.show"
local steps = require "hairfibre.count.steps"
local treatment = require "hairfibre.treatment"

local predict = {}

predict.draws = 39
predict.reading = 1.13 -- smallest change of one strand, in pixels
predict.usual = 70e-6 -- m, diameter where none is known (assumed)
predict.variation = 10.6 / 57.1 -- spread of the diameters over their mean, 120 volunteers (bionumbers-106859)
predict.none = 1e-9 -- m; the integrator leaves smaller changes of none, and no microscope shows them
local EDGES = math.sqrt(1 / 3) -- standard deviation of a change by reading alone, in pixels
local SPARE = 6 -- strands beyond 39, for those that cannot be computed

local MEDULLA = 0.06 -- largest share of the section, as in the named populations (assumed)

local function mean_of(list)
  local sum, square = 0, 0
  for _, x in ipairs(list) do
    sum = sum + x
  end
  local mean = sum / #list
  for _, x in ipairs(list) do
    square = square + (x - mean) ^ 2
  end
  return mean, #list > 1 and math.sqrt(square / (#list - 1)) or nil
end
predict.mean_of = mean_of

--- Population for hf.ensemble: lognormal areas with the mean and the spread of the diameters (m); ratios: long
--- axis over short axis of the strands, where both were measured.
function predict.population(diameter, spread, ratios)
  local c2 = (spread / diameter) ^ 2
  local area = 0.25 * math.pi * diameter ^ 2 * (1 + c2)
  local ratio, ratio_spread = 1, 0
  if ratios and #ratios > 0 then
    ratio, ratio_spread = mean_of(ratios)
  end
  return { area = area, area_spread = area * math.sqrt((1 + c2) ^ 4 - 1), ellipticity = ratio,
    ellipticity_spread = ratio_spread or 0, medulla_low = 0, medulla_high = MEDULLA }
end

local function settled(change)
  return math.abs(change) < predict.none and 0 or change
end

-- The strand of mean diameter with the usual parameters.
local function central(given, list)
  local fibre = treatment.fibre { diameter = given.diameter, set = given.set, measured_humidity = given.humidity,
    humidity = given.humidity }
  local r, message, code = treatment.treat(fibre, list, { profiles = false, room = { humidity = given.humidity } })
  if not r or code then
    return nil, message
  end
  local last = #r
  return { change = settled(r.diameter[last] - r.diameter[1]), start = r.diameter[1], growth = r.void_growth[last],
    extrapolated = r.extrapolated }
end

local function drawn(given, list)
  local fibre = treatment.fibre { measured_humidity = given.humidity, humidity = given.humidity }
  local e, message, code = ensemble.run { strands = predict.draws + SPARE, seed = given.seed, parameters = true,
    population = predict.population(given.diameter, given.spread, given.ratios), fibre = fibre, set = given.set,
    room = { humidity = given.humidity }, treatment = list, progress = false }
  if not e or code then
    return nil, message
  end
  local changes, growths = {}, {}
  for i = 1, #e do
    if e.status[i] == "ok" and #changes < predict.draws then
      changes[#changes + 1] = settled(e.diameter_end[i] - e.diameter[i])
      growths[#growths + 1] = e.void_growth[i]
    end
  end
  if #changes < predict.draws then
    return nil, ("%d of %d drawn strands could not be computed"):format(#e - #changes, #e)
  end
  table.sort(changes)
  table.sort(growths)
  return changes, growths
end

--- given: steps (parsed), set, humidity, diameter and spread (m), ratios of the axes (may be nil), seed. Result, or
--- nil and a sentence.
function predict.strand(given)
  local list = steps.made(given.steps)
  local middle, message = central(given, list)
  if not middle then
    return nil, message
  end
  local changes, growths = drawn(given, list)
  if not changes then
    return nil, growths
  end
  local low, high = growths[1], growths[#growths]
  return { diameter = given.diameter, change = middle.change, low = changes[1], high = changes[#changes],
    relative = middle.change / middle.start, growth = middle.growth, growth_low = low, growth_high = high,
    grade = core.void_grade(middle.growth, given.set), grade_low = core.void_grade(low, given.set),
    grade_high = core.void_grade(high, given.set), extrapolated = middle.extrapolated, draws = predict.draws,
    no_change = middle.change == 0 and changes[1] == 0 and changes[#changes] == 0 }
end

--- Smallest change of diameter (m) that one strand shows, and that the mean of n strands shows.
function predict.smallest(pixel, resolution, n)
  local step = math.max(pixel or 0, resolution or 0)
  return predict.reading * step, predict.reading * step / math.sqrt(math.max(1, n or 1))
end

--- Adds pixel and resolution to the options of a provenance, with their unit.
function predict.add_optics(options, x)
  for _, name in ipairs { "pixel", "resolution" } do
    options[#options + 1] = x[name] and { name, show.number(1e6 * x[name], 6) .. " um" } or nil
  end
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
  if p.no_change then
    return "none", "nothing to be seen: the models know no lasting change"
  elseif one == 0 then
    return "unknown", "the pixel is not given, so whether it can be seen stays open"
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
