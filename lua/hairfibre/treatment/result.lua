-- What a treatment gives: a result (columns, print, save) that also knows its events, its profiles across
-- the fibre, its voids, and how to plot itself.

local cautions = require "hairfibre.cautions"
local core = require "hairfibre.core"
local misuse = require "hairfibre.misuse"
local result = require "hairfibre.result"
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

local CHANNELS = "Each damage channel stands by itself: no sum, no share of strength."
local VOIDS = "Void growth is an expected growth, never a promise: no viscosity of hot wet keratin was ever "
  .. "measured."

local LIFE = "Pulls are counted with the life of virgin hair, in the humidity that the fibre is in balance with; that shares of a "
  .. "life add up was never tested on hair."
local POPULATION = "A population of bonds is never a share of strength."
local POPULATIONS = { disulfide = true, thiol = true, cysteic_acid = true }

-- What must be said wherever a column is shown.
local function note_of(name)
  return name:find("^void_") and VOIDS or name == "fatigue_used" and LIFE or POPULATIONS[name] and POPULATION or (name:find("^helix") or name == "tryptophan") and CHANNELS or nil
end

local function options_of(simulation)
  local options, list = simulation:options(), {}
  for i, name in ipairs { "cells", "tolerance", "lumped", "samples", "zones", "max_steps" } do
    list[i] = { name, options[name] }
  end
  return list
end

function history.new(simulation, set, stopped)
  local list = simulation:columns()
  for _, column in ipairs(list) do
    column.name = column_name(column.name)
    column.note = note_of(column.name)
  end
  local general = simulation:extrapolated()
  for _, event in ipairs(simulation:events()) do
    if event.what == "nothing to do" then
      general[#general + 1] = ("Step %d found nothing to react with: a neutraliser joins the thiol that a reduction "
        .. "opened before it, and a reduction needs disulfide."):format(event.step)
    end
  end
  if stopped then
    general[#general + 1] = stopped:sub(1, 1):upper() .. stopped:sub(2) .. "."
  end
  local notes = table.move(general, 1, #general, 3, { CHANNELS, VOIDS })
  local r = result.new { columns = list, set = set, notes = notes, figure_notes = general, caution = cautions.heat,
    options = options_of(simulation) }
  r.events, r.statistics = simulation:events(), simulation:statistics()
  r.extrapolated = #simulation:extrapolated() > 0
  local growth = r.void_growth
  r.grade = core.void_grade(growth[#growth], set)
  meta = meta or result.extended(methods)
  objects[r] = simulation
  return setmetatable(r, meta)
end

-- Rows first..last as a plain result, the time counted from `zero` (`since` says in words what that is).
local function part(r, first, last, zero, since)
  local list = {}
  for i, column in ipairs(r.columns) do
    local values = table.move(column.values, first, last, 1, {})
    if column.name == "time" then
      for k = 1, #values do
        values[k] = values[k] - zero
      end
    end
    list[i] = { name = column.name, unit = column.unit, kind = column.kind, note = column.note,
      text = column.name == "time" and since or column.text, values = values }
  end
  return result.new { columns = list, set = r.set, notes = r.notes, figure_notes = r.figure_notes,
    caution = r.caution, options = r.options }
end

-- Times at which the steps begin.
local function beginnings(r)
  local begins = {}
  for _, event in ipairs(r.events) do
    if event.what == "step begins" then
      begins[event.step] = event.time
    end
  end
  return begins
end

local function beginning_of(r, step, what)
  local begins = beginnings(r)
  if math.type(step) ~= "integer" or not begins[step] then
    misuse("%s needs the number of a step, 1 to %d", what, #begins)
  end
  return begins[step]
end

--- The record from the beginning of step number `step` on (to the end of `last`, if given), time counted
--- from there: a plain result.
function methods:since(step, last)
  local begins = beginning_of(self, step, "since")
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
  local r = part(self, first, math.max(stop or first, first), begins, ("time since step %d began"):format(step))
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

local figures = require "hairfibre.treatment.figures"

--- Profiles across the fibre at the recorded samples nearest to `times` (counted from the beginning of `step`,
--- if given): a result with time, radius, regain and temperature, one row a cell and time; or nil, sentence,
--- code.
function methods:profiles(times, step)
  local columns = { { name = "time", unit = "s", values = {} }, { name = "radius", unit = "m", values = {} },
    { name = "regain", unit = "1", kind = "fraction", values = {} },
    { name = "temperature", unit = "K", kind = "temperature", values = {} } }
  for _, moment in ipairs(figures.moments(self, times, step and beginning_of(self, step, "profiles"))) do
    local radius, regain, temperature = objects[self]:profile(moment.sample)
    if not radius then
      return nil, regain, temperature
    end
    for i = 1, #radius do
      for c, x in ipairs { moment.time, radius[i], regain[i], temperature[i] } do
        table.insert(columns[c].values, x)
      end
    end
  end
  return result.new { columns = columns, set = self.set, notes = self.figure_notes, caution = self.caution,
    options = self.options }
end

--- Profiles as a figure, one line a time. options: times, step (the times count from its beginning), value
--- ("regain" or "temperature") and those of a figure. Or nil, sentence, code.
function methods:profile_plot(options)
  local step = options and options.step
  return figures.profiles(self, objects[self], options, step and beginning_of(self, step, "profile_plot"))
end

--- Cross-sections as coloured rings. options: times, step, value, title, style. A figure that saves as SVG; or
--- nil, sentence, code.
function methods:rings(options)
  local step = options and options.step
  return figures.rings(self, objects[self], options or {}, step and beginning_of(self, step, "rings"))
end

--- A cross-section that moves through time, or through one step. options: step, value, title, style, note, frames
--- (60), seconds (6). Saves as .svg or .gif; or nil, sentence, code.
function methods:movie(options)
  options = options or {}
  local first = options.step and beginning_of(self, options.step, "movie")
  local last
  for _, event in ipairs(options.step and self.events or {}) do
    if event.what == "step begins" and event.step == options.step + 1 then
      last = event.time
    end
  end
  return figures.movie(self, objects[self], options, first, last)
end

--- Table of the damage channels at the end, each with its unit, the range its law is supported in, the
--- activation energy it takes, and what it is.
function methods:channels()
  return require("hairfibre.channels").table(self, self.set)
end

--- Figure of what is left in each damage channel, each a line by itself. options as of plot, without y; `step`
--- draws from the beginning of that step on.
function methods:channel_plot(options)
  return require("hairfibre.channels").figure(self, options)
end

--- State of the sulfur at the end, mol of half-cystine per kg dry fibre: cystine, thiol, cysteic,
--- lanthionine.
function methods:sulfur()
  return objects[self]:sulfur()
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
  return result.new { columns = columns, set = self.set, notes = self.notes, caution = self.caution,
    options = self.options }
end

history.compare = figures.compare

return history
