-- What a treatment gives: a result (columns, print, save) that also knows its events, its profiles across
-- the fibre, its voids, and how to plot itself.

local cautions = require "hairfibre.cautions"
local core = require "hairfibre.core"
local misuse = require "hairfibre.misuse"
local result = require "hairfibre.result"
local suggest = require "hairfibre.suggest"
local units = require "hairfibre.units"

local history = {}

local objects = setmetatable({}, { __mode = "k" }) -- result -> simulation
local methods = {}
local meta

function history.is(r)
  return type(r) == "table" and objects[r] ~= nil
end

function history.simulation(r)
  return objects[r]
end

local function column_name(name)
  return (name:gsub(" ", "_"))
end

function history.new(simulation, set, stopped)
  local list = simulation:columns()
  for _, column in ipairs(list) do
    column.name = column_name(column.name)
  end
  local notes = { "Each damage channel stands by itself: no sum, no share of strength. Void growth is an "
    .. "expected growth, never a promise: no viscosity of hot wet keratin was ever measured." }
  if simulation:extrapolated() then
    notes[#notes + 1] = "Above 150 degC the isotherm is extrapolated."
  end
  if stopped then
    notes[#notes + 1] = stopped:sub(1, 1):upper() .. stopped:sub(2) .. "."
  end
  local r = result.new { columns = list, set = set, notes = notes, caution = cautions.heat }
  r.events, r.statistics = simulation:events(), simulation:statistics()
  r.extrapolated = simulation:extrapolated()
  local growth = r.void_growth
  r.grade = core.void_grade(growth[#growth], set)
  if not meta then
    local base = getmetatable(r)
    meta = {}
    for key, value in pairs(base) do
      meta[key] = value
    end
    function meta.__index(t, key)
      if methods[key] then
        return methods[key]
      end
      return base.__index(t, key)
    end
  end
  objects[r] = simulation
  return setmetatable(r, meta)
end

-- Rows first..last as a plain result, the time counted from `zero`.
local function part(r, first, last, zero)
  local list = {}
  for i, column in ipairs(r.columns) do
    local values = table.move(column.values, first, last, 1, {})
    if column.name == "time" then
      for k = 1, #values do
        values[k] = values[k] - zero
      end
    end
    list[i] = { name = column.name, unit = column.unit, kind = column.kind, text = column.text,
      values = values }
  end
  return result.new { columns = list, set = r.set, notes = r.notes, caution = r.caution }
end

--- The record from the beginning of step number `step` on (to the end of `last`, if given), time counted
--- from there: a plain result.
function methods:since(step, last)
  local begins = {}
  for _, event in ipairs(self.events) do
    if event.what == "step begins" then
      begins[event.step] = event.time
    end
  end
  if math.type(step) ~= "integer" or not begins[step] then
    misuse("since needs the number of a step, 1 to %d", #begins)
  end
  local first, stop = nil, nil
  for i, number in ipairs(self.step) do
    if number >= step and not first then
      first = i
    end
    if number <= (last or math.huge) then
      stop = i
    end
  end
  -- The state in which the step begins is the last sample before it.
  first = math.max((first or #self) - 1, 1)
  local r = part(self, first, math.max(stop or first, first), begins[step])
  r.time[1] = math.max(r.time[1], 0)
  return r
end

--- The record between two times, time as it was: a plain result.
function methods:between(from, to)
  local low = units.value(from, { name = "from", unit = "s", kind = "number" })
  local high = units.value(to, { name = "to", unit = "s", kind = "number" })
  if not low or not high or low >= high then
    misuse("between needs two times, the earlier first")
  end
  local first, last
  for i, time in ipairs(self.time) do
    if time >= low and time <= high then
      first, last = first or i, i
    end
  end
  if not first then
    misuse("nothing was recorded between these times")
  end
  return part(self, first, last, 0)
end

-- Sample nearest to a time.
local function sample_at(r, time)
  local times = r.time
  local best = 1
  for i = 2, #times do
    if math.abs(times[i] - time) < math.abs(times[best] - time) then
      best = i
    end
  end
  return best
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

--- Profiles across the fibre at the recorded samples nearest to `times`: a result with time, radius,
--- regain and temperature, one row a cell and time; or nil, sentence, code.
function methods:profiles(times)
  local columns = { { name = "time", unit = "s", values = {} }, { name = "radius", unit = "m", values = {} },
    { name = "regain", unit = "1", kind = "fraction", values = {} },
    { name = "temperature", unit = "K", kind = "temperature", values = {} } }
  for _, time in ipairs(read_times(times)) do
    local sample = sample_at(self, time)
    local radius, regain, temperature = objects[self]:profile(sample)
    if not radius then
      return nil, regain, temperature
    end
    for i = 1, #radius do
      for c, x in ipairs { self.time[sample], radius[i], regain[i], temperature[i] } do
        table.insert(columns[c].values, x)
      end
    end
  end
  return result.new { columns = columns, set = self.set, notes = self.notes, caution = self.caution }
end

--- Cross-sections as coloured rings at given times. options: times, value ("regain" or "temperature"),
--- title, style. A figure that saves as SVG; or nil, sentence, code.
function methods:rings(options)
  options = options or {}
  for _, key in ipairs(suggest.sorted_keys(options)) do
    if key ~= "times" and key ~= "value" and key ~= "title" and key ~= "style" then
      misuse("rings has no option \"%s\"%s", tostring(key),
        suggest.hint(key, { "times", "value", "title", "style" }))
    end
  end
  local value = options.value or "regain"
  if value ~= "regain" and value ~= "temperature" then
    misuse("rings shows \"regain\" or \"temperature\", not \"%s\"", tostring(value))
  end
  local radii, values, captions = {}, {}, {}
  for i, time in ipairs(read_times(options.times or { 0, self.time[#self.time] })) do
    local sample = sample_at(self, time)
    local radius, regain, temperature = objects[self]:profile(sample)
    if not radius then
      return nil, regain, temperature
    end
    radii[i], values[i] = {}, {}
    -- Outer edges half way between the centres; the last ends at the surface.
    for k = 1, #radius do
      local edge = k < #radius and 0.5 * (radius[k] + radius[k + 1]) or 0.5 * self.diameter[sample]
      radii[i][k] = 1e6 * edge
      values[i][k] = value == "regain" and 100 * regain[k] or temperature[k] - 273.15
    end
    captions[i] = ("%.4g s"):format(self.time[sample])
  end
  return require("hairfibre.plot").rings { radii = radii, values = values, captions = captions,
    radius_unit = "um", label = value == "regain" and "Regain" or "Temperature",
    unit = value == "regain" and "%" or "degC", title = options.title, style = options.style,
    caution = self.caution }
end

--- Table of the damage channels at the end: share left, the range its law is supported in, what it is.
--- Channels are never added up, and none is a share of strength.
function methods:channels()
  local columns = { { name = "channel", kind = "text", values = {} },
    { name = "left", unit = "1", kind = "fraction", values = {} },
    { name = "supported_from", unit = "K", kind = "temperature", values = {} },
    { name = "supported_to", unit = "K", kind = "temperature", values = {} },
    { name = "what", kind = "text", values = {} } }
  for _, channel in ipairs(core.channels()) do
    local values = self[column_name(channel.name)]
    for c, x in ipairs { channel.name, values[#values], channel.low, channel.high, channel.text } do
      table.insert(columns[c].values, x)
    end
  end
  return result.new { columns = columns, set = self.set, notes = self.notes, caution = self.caution }
end

--- Figure of the damage channels over the treatment, each a line by itself. options as of plot, without y.
function methods:channel_plot(options)
  local given, names = {}, {}
  for key, x in pairs(options or {}) do
    given[key] = x
  end
  for i, channel in ipairs(core.channels()) do
    names[i] = column_name(channel.name)
  end
  names[1] = { column = names[1], label = "Left" }
  given.y, given.title = names, given.title or "What is left in each damage channel"
  return methods.plot(self, given)
end

--- State of the sulfur at the end, mol of half-cystine per kg dry fibre: cystine, thiol, cysteic,
--- lanthionine.
function methods:sulfur()
  return objects[self]:sulfur()
end

--- Figure of columns against time. options as of plot.result without x; y is needed.
function methods:plot(options)
  local given = {}
  for key, x in pairs(options or {}) do
    given[key] = x
  end
  given.x = given.x or "time"
  if given.y == nil then
    misuse("plot needs y = the name of a column, or a list of names")
  end
  return require("hairfibre.plot").result(self, given)
end

--- Voids by radius as they are at the end: a result with radius (share of the fibre's), growth and the
--- damage channels there.
function methods:zones()
  local channels = core.channels()
  local columns = { { name = "radius", unit = "1", kind = "fraction", values = {} },
    { name = "void_growth", unit = "1", values = {} } }
  for i, channel in ipairs(channels) do
    columns[i + 2] = { name = column_name(channel.name), unit = "1", kind = "fraction", values = {} }
  end
  for _, zone in ipairs(objects[self]:zones()) do
    table.insert(columns[1].values, zone.radius)
    table.insert(columns[2].values, zone.growth)
    for i in ipairs(channels) do
      table.insert(columns[i + 2].values, zone.channels[i])
    end
  end
  return result.new { columns = columns, set = self.set, notes = self.notes, caution = self.caution }
end

local function is_record(x)
  return type(x) == "table" and type(x.columns) == "table" and x.time ~= nil
end

--- One figure from several treatments: hf.compare{ wet = a, conditioned = b, y = "pressure_axis" }, or a
--- list { { "wet", a }, { "conditioned", b } }; parts by r:since(step) serve too. Other options as of
--- plot.result.
function history.compare(given)
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
  if #named < 2 or type(options.y) ~= "string" then
    misuse("compare needs two or more results by name, and y = the name of a column")
  end
  local y = options.y
  local first = named[1][2]
  local source = first:column(y)
  if not source then
    misuse("compare: there is no column \"%s\"", y)
  end
  local columns = { { name = "fibre", kind = "text", values = {} },
    { name = "time", unit = "s", values = {}, text = "time" },
    { name = y, unit = source.unit, kind = source.kind, values = {}, text = source.text } }
  for _, pair in ipairs(named) do
    for i, time in ipairs(pair[2].time) do
      for c, x in ipairs { tostring(pair[1]), time, pair[2][y][i] } do
        table.insert(columns[c].values, x)
      end
    end
  end
  local r = result.new { columns = columns, set = first.set, caution = first.caution, notes = {} }
  options.x, options.by = options.x or "time", "fibre"
  return require("hairfibre.plot").result(r, options)
end

return history
