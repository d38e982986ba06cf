-- Pictures of treatments: profiles and cross-sections at given times, several treatments in one figure.

local misuse = require "hairfibre.misuse"
local provenance = require "hairfibre.provenance"
local result = require "hairfibre.result"
local show = require "hairfibre.show"
local suggest = require "hairfibre.suggest"
local units = require "hairfibre.units"

local figures = {}

local function check(options, allowed, what)
  if type(options) ~= "table" then
    misuse("%s takes a table of options, not a %s", what, type(options))
  end
  for _, key in ipairs(suggest.sorted_keys(options)) do
    local known = false
    for _, name in ipairs(allowed) do
      known = known or key == name
    end
    if not known then
      misuse("%s has no option \"%s\"%s", what, tostring(key), suggest.hint(key, allowed))
    end
  end
  local value = options.value or "regain"
  if value ~= "regain" and value ~= "temperature" then
    misuse("%s shows \"regain\" or \"temperature\", not \"%s\"", what, tostring(value))
  end
  return value
end

local function read_times(times)
  if type(times) ~= "table" then
    times = { times }
  end
  local list = {}
  for i = 1, #times do
    local x, message = units.value(times[i], { name = "time", unit = "s", kind = "number" })
    list[i] = x or misuse("%s", message)
  end
  if #list == 0 then
    misuse("times is an empty list")
  end
  return list
end

local function nearest(times, wanted)
  local best = 1
  for i = 2, #times do
    if math.abs(times[i] - wanted) < math.abs(times[best] - wanted) then
      best = i
    end
  end
  return best
end

-- Words for the times: in a unit of fitting size, or in seconds with as many digits as tell them apart.
local function name_moments(moments)
  local times = {}
  for i, moment in ipairs(moments) do
    times[i] = moment.time
  end
  local display = show.display({ unit = "s", kind = "number" }, times)
  local more = 0
  for digits = 3, 12 do
    local seen, clash = {}, false
    for _, moment in ipairs(moments) do
      moment.words = show.number(show.apply(display, moment.time), digits + more) .. " " .. display.unit
      clash = clash or seen[moment.words]
      seen[moment.words] = true
    end
    if not clash then
      return
    elseif digits == 3 then -- 2.001 min says less than 120.05 s
      display, more = { unit = "s", factor = 1, offset = 0 }, 1
    end
  end
end

--- Samples nearest to times counted from `zero` (nil: the start): { sample, time, words }, each sample once.
function figures.moments(r, times, zero)
  zero = zero or 0
  local list, seen = {}, {}
  for _, time in ipairs(read_times(times)) do
    local sample = nearest(r.time, zero + time)
    if not seen[sample] then
      seen[sample] = true
      list[#list + 1] = { sample = sample, time = math.max(r.time[sample] - zero, 0) }
    end
  end
  name_moments(list)
  return list
end

local function usual_times(r, zero)
  local last = r.time[#r.time]
  return { 0, last - (zero or 0) }
end

function figures.profiles(r, simulation, options, zero)
  options = options or {}
  local value = check(options, { "times", "step", "value", "title", "style", "size", "note", "source" },
    "profile_plot")
  local columns = { { name = "moment", kind = "text", values = {} },
    { name = "radius", unit = "m", values = {} },
    { name = value, unit = value == "regain" and "1" or "K", values = {},
      kind = value == "regain" and "fraction" or "temperature" } }
  for _, moment in ipairs(figures.moments(r, options.times or usual_times(r, zero), zero)) do
    local radius, regain, temperature = simulation:profile(moment.sample)
    if not radius then
      return nil, regain, temperature
    end
    local list = value == "regain" and regain or temperature
    for i = 0, #radius do -- the middle of the innermost cell stands for the axis, where profiles are level
      for c, x in ipairs { moment.words, radius[i] or 0, list[math.max(i, 1)] } do
        table.insert(columns[c].values, x)
      end
    end
  end
  local profiles = result.new { columns = columns, set = r.set, notes = r.figure_notes, caution = r.caution,
    options = r.options }
  return require("hairfibre.plot").result(profiles, { x = { column = "radius", low = 0 },
    y = { column = value, low = value == "regain" and 0 or nil }, by = "moment", title = options.title,
    style = options.style, size = options.size, note = options.note, source = options.source })
end

-- Description of a ring picture with a disc for each moment { sample, words }, of every `stride`-th ring.
local function discs(r, simulation, options, value, moments, stride)
  local radii, values, captions = {}, {}, {}
  for i, moment in ipairs(moments) do
    local radius, regain, temperature = simulation:profile(moment.sample)
    if not radius then
      return nil, regain, temperature
    end
    radii[i], values[i] = {}, {}
    -- Outer edges half way between the centres; the last ends at the surface.
    for k = #radius % stride == 0 and stride or #radius % stride, #radius, stride do
      local edge = k < #radius and 0.5 * (radius[k] + radius[k + 1]) or 0.5 * r.diameter[moment.sample]
      table.insert(radii[i], 1e6 * edge)
      table.insert(values[i], value == "regain" and 100 * regain[k] or temperature[k] - 273.15)
    end
    captions[i] = moment.words
  end
  return { radii = radii, values = values, captions = captions, radius_unit = "um", label = value == "regain" and "Regain" or "Temperature",
    unit = value == "regain" and "%" or "degC", colours = value == "regain" and "water" or "heat",
    title = options.title, style = options.style,
    note = options.note or #r.figure_notes > 0 and table.concat(r.figure_notes, " ") or nil, caution = r.caution,
    provenance = provenance.sentence(r:provenance()) }
end

function figures.rings(r, simulation, options, zero)
  local value = check(options, { "times", "step", "value", "title", "style", "note" }, "rings")
  local moments = figures.moments(r, options.times or usual_times(r, zero), zero)
  local description, message, code = discs(r, simulation, options, value, moments, 1)
  if not description then
    return nil, message, code
  end
  return require("hairfibre.plot").rings(description)
end

local MOST_FRAMES, MOST_MOVING = 200, 24

local function whole(x, name, usual, low, high)
  x = x == nil and usual or x
  if math.type(x) ~= "integer" or x < low or x > high then
    misuse("movie: %s must be a whole number from %d to %d", name, low, high)
  end
  return x
end

--- A cross-section that moves. last: where the record of the step ends.
function figures.movie(r, simulation, options, zero, last)
  local value = check(options, { "step", "value", "title", "style", "note", "frames", "seconds" }, "movie")
  local frames = whole(options.frames, "frames", 60, 2, MOST_FRAMES)
  local seconds = options.seconds or 6
  if type(seconds) ~= "number" or not (seconds >= 0.5 and seconds <= 120) then
    misuse("movie: seconds must be a number from 0.5 to 120")
  end
  local samples = {}
  for i, time in ipairs(r.time) do
    if time >= (zero or 0) and time <= (last or math.huge) and time > (r.time[samples[#samples]] or -1) then
      samples[#samples + 1] = i
    end
  end
  local moments, times, count = {}, {}, math.min(frames, #samples)
  if count < 2 then
    return nil, "there are not enough samples for a moving picture", "range"
  end
  for i = 1, count do
    local sample = samples[1 + (i - 1) * (#samples - 1) // (count - 1)]
    times[i] = r.time[sample] - (zero or 0)
    moments[i] = { sample = sample, words = show.number(times[i], 3) .. " s" }
  end
  local cells = #(simulation:profile(1) or {})
  local description, message, code = discs(r, simulation, options, value, moments, math.max(1, math.ceil(cells / MOST_MOVING)))
  if not description then
    return nil, message, code
  end
  local picture = require("hairfibre.plot.rings").make(description, MOST_FRAMES)
  return require("hairfibre.rings.movie").new(picture, times, seconds)
end

local function is_record(x)
  return type(x) == "table" and type(x.columns) == "table" and x.time ~= nil
end

--- One figure from several treatments: hf.compare{ wet = a, conditioned = b, y = "pressure_axis" }, or a
--- list { { "wet", a }, { "conditioned", b } }; parts by r:since(step) serve too. Other options as of
--- plot.result.
function figures.compare(given)
  if type(given) ~= "table" then
    misuse("compare takes a table of results, not a %s", type(given))
  end
  local options, named = {}, {}
  for _, key in ipairs(suggest.sorted_keys(given)) do
    local x = given[key]
    if is_record(x) then
      named[#named + 1] = { key, x }
    elseif type(x) == "table" and type(key) == "number" and is_record(x[2]) then
      named[#named + 1] = x
    else
      options[key] = x
    end
  end
  local y = type(options.y) == "table" and options.y.column or options.y
  if #named < 2 or type(y) ~= "string" then
    misuse("compare needs two or more results by name, and y = the name of a column")
  end
  local first = named[1][2]
  local source = first:column(y)
  if not source then
    misuse("compare: there is no column \"%s\"", y)
  end
  local columns = { { name = "fibre", kind = "text", values = {} },
    { name = "time", unit = "s", values = {}, text = "time" },
    { name = y, unit = source.unit, kind = source.kind, values = {}, text = source.text, note = source.note } }
  local notes, origins, seen = {}, {}, {}
  for _, pair in ipairs(named) do
    local origin = provenance.sentence(pair[2]:provenance())
    if not seen[origin] then
      seen[origin], origins[#origins + 1] = true, origin
    end
    for _, note in ipairs(pair[2].figure_notes or {}) do
      if not seen[note] then
        seen[note], notes[#notes + 1] = true, note
      end
    end
    for i, time in ipairs(pair[2].time) do
      for c, x in ipairs { tostring(pair[1]), time, pair[2][y][i] } do
        table.insert(columns[c].values, x)
      end
    end
  end
  local r = result.new { columns = columns, set = first.set, caution = first.caution, notes = notes }
  options.x, options.by = options.x or "time", "fibre"
  options.provenance = options.provenance or table.concat(origins, "; ")
  return require("hairfibre.plot").result(r, options)
end

return figures
