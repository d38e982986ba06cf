-- hf.count_read{...}: strand sheets to intervals, tests and sentences.
--
--   local a, message, code, faults = hf.count_read { "evening_1.csv", "evening_2.csv", key = "key.csv",
--     control = "control", pixel = "0.5 um", predict = true }
--   print(a:text()); a:figure():save("evening.svg"); a.diameters       her strands, for the next plan
--
-- Options: key, control (name of a group), level, alpha, grades, method (of the intervals), pixel,
-- resolution, humidity, predict (true: the column treatment holds steps; or a table group -> steps),
-- seed, set. A sheet with a fault gives nil, sentence, "data", list of faults.

local cautions = require "hairfibre.cautions"
local compare = require "hairfibre.count.compare"
local core = require "hairfibre.core"
local gather = require "hairfibre.count.gather"
local misuse = require "hairfibre.misuse"
local predict = require "hairfibre.count.predict"
local provenance = require "hairfibre.provenance"
local quantity = require "hairfibre.quantity"
local scale_of = require("hairfibre.count.sheet").scale
local statistics = require "hairfibre.statistics"
local steps = require "hairfibre.count.steps"
local suggest = require "hairfibre.suggest"
local units = require "hairfibre.units"

local count_read = {}

local Analysis = { __name = "hairfibre.counts" }
Analysis.__index = Analysis

local LEAST, MOST = 30e-6, 240e-6 -- m, diameters that the models take

local FRACTION, LENGTH = { unit = "1", kind = "fraction" }, { unit = "m", kind = "number" }
local OPTIONS = { level = FRACTION, alpha = FRACTION, humidity = FRACTION, pixel = LENGTH, resolution = LENGTH }
local OTHERS = { key = "any", control = "string", grades = "any", method = "string", predict = "any", seed = "number",
  set = "any" }

local function fail(code, ...)
  error({ refused = string.format(...), code = code }, 0)
end

-- A file, or a list of them.
local function keys_of(given)
  local list = type(given) == "table" and given or { given }
  for i = 1, #list do
    if type(list[i]) ~= "string" then
      misuse("count_read: key must be the name of a file, or a list of them")
    end
  end
  return table.move(list, 1, #list, 1, {})
end

local function read_options(given)
  local o, paths = { level = 0.95, alpha = 0.05, humidity = 0.65, seed = 1, method = "clopper-pearson" }, {}
  local names = {}
  for name in pairs(OPTIONS) do
    names[#names + 1] = name
  end
  for name in pairs(OTHERS) do
    names[#names + 1] = name
  end
  table.sort(names)
  for _, key in ipairs(suggest.sorted_keys(given)) do
    local what = OPTIONS[key]
    if type(key) == "number" then
      if type(given[key]) ~= "string" then
        misuse("count_read: file %d must be the name of a file", key)
      end
      paths[#paths + 1] = given[key]
    elseif what then
      what.name = key
      local x, message = units.value(given[key], what)
      o[key] = x or misuse("%s", message)
    elseif OTHERS[key] then
      if OTHERS[key] ~= "any" and type(given[key]) ~= OTHERS[key] then
        misuse("count_read: %s must be a %s, not a %s", key, OTHERS[key] == "string" and "text" or OTHERS[key],
          type(given[key]))
      end
      o[key] = given[key]
    else
      misuse("count_read has no option \"%s\"%s", tostring(key), suggest.hint(key, names))
    end
  end
  for _, key in ipairs { "level", "alpha" } do
    if o[key] <= 0 or o[key] >= 1 then
      fail("range", "%s = %s must lie between 0 and 1, without the ends", key, tostring(o[key]))
    end
  end
  if #paths == 0 then
    misuse("count_read needs the name of at least one sheet")
  end
  o.keys = keys_of(o.key)
  o.seed = math.tointeger(o.seed) or misuse("count_read: seed must be a whole number")
  o.scale = scale_of(o.grades)
  statistics.binomial_interval { events = 0, strands = 0, method = o.method } -- refuses an unknown word
  return o, paths
end

-- ---- the strands ------------------------------------------------------------------------------------

local function equal_area(major, minor)
  return major and minor and math.sqrt(major * minor)
end

-- Diameter before and after by one and the same measure: as given, or the circle of equal area, or one axis.
local function diameters_of(s)
  local before = { s.diameter_before or false, equal_area(s.major_before, s.minor_before) or false,
    s.major_before or false, s.minor_before or false }
  local after = { s.diameter_after or false, equal_area(s.major_after, s.minor_after) or false, s.major_after or false,
    s.minor_after or false }
  local first
  for i = 1, 4 do
    if before[i] and after[i] then
      return before[i], after[i]
    end
    first = first or before[i]
  end
  return first or nil, nil
end

local function complete(strand)
  strand.ratio = strand.major_before and strand.minor_before and strand.major_before / strand.minor_before
  strand.before, strand.after = diameters_of(strand)
  if strand.before and strand.after then
    strand.change = strand.after - strand.before
    if math.abs(strand.change) <= 1e-12 * strand.before then
      strand.change = 0
    end
  end
  strand.graded = strand.grade_before and strand.grade_after and strand.grade_after - strand.grade_before
end

local function sort_out(all, a)
  a.strands, a.excluded, a.lost = {}, {}, {}
  for _, strand in ipairs(all) do
    complete(strand)
    if strand.excluded ~= "" then
      a.excluded[#a.excluded + 1] = strand
    else
      a.strands[#a.strands + 1] = strand
    end
    if strand.excluded == "" and strand.broken and (strand.before and not strand.after
      or strand.grade_before and not strand.grade_after) then
      a.lost[#a.lost + 1] = strand
    end
  end
  a.groups, a.donors, a.diameters, a.ratios = {}, {}, {}, {}
  local group_of, donor_seen = {}, {}
  for _, strand in ipairs(a.strands) do
    local group = group_of[strand.group]
    if not group then
      group = { name = strand.group, strands = {}, donors = {}, treatments = {} }
      group_of[strand.group], a.groups[#a.groups + 1] = group, group
    end
    table.insert(group.strands, strand)
    if not donor_seen[strand.donor] then
      donor_seen[strand.donor], a.donors[#a.donors + 1] = true, strand.donor
    end
    if not group.donors[strand.donor] then
      group.donors[strand.donor] = true
      group.donor_count = (group.donor_count or 0) + 1
    end
    if not group.treatments[strand.treatment] then
      group.treatments[strand.treatment] = true
      group.treatment_count = (group.treatment_count or 0) + 1
      group.treatment = group.treatment or strand.treatment
    end
    if strand.before then
      a.diameters[#a.diameters + 1], a.ratios[#a.ratios + 1] = strand.before, strand.ratio
    end
  end
  return group_of
end

-- The control comes first: the one named, one called control, or the first of the sheet.
local function put_control_first(a, group_of, named)
  if named and not group_of[named] then
    local names = {}
    for i, group in ipairs(a.groups) do
      names[i] = group.name
    end
    fail("data", "no strand belongs to the control \"%s\"%s", named, suggest.hint(named, names))
  end
  local control = named or group_of.control and "control" or nil
  for i, group in ipairs(a.groups) do
    if group.name == control then
      table.remove(a.groups, i)
      table.insert(a.groups, 1, group)
      break
    end
  end
  a.control = a.groups[1] and #a.groups > 1 and a.groups[1].name or nil
  a.control_named = control ~= nil
end

-- ---- predictions ------------------------------------------------------------------------------------

local function steps_of(group, o)
  if type(o.predict) == "table" then
    return o.predict[group.name]
  elseif group.treatment_count ~= 1 then
    return nil, "its strands had different treatments"
  elseif group.treatment == "" then
    return nil, "the sheet names no treatment"
  end
  return group.treatment
end

local function predict_group(a, group, o)
  local text, why = steps_of(group, o)
  if not text then
    group.no_prediction = why or "no steps were given"
    return
  end
  local parsed, message = steps.parse(text)
  if not parsed then
    group.no_prediction = message
    return
  end
  local own, ratios = {}, {}
  for _, strand in ipairs(group.strands) do
    if strand.before and strand.before >= LEAST and strand.before <= MOST then
      own[#own + 1], ratios[#ratios + 1] = strand.before, strand.ratio
    end
  end
  local mean, spread = predict.usual, nil
  if #own > 0 then
    mean, spread = predict.mean_of(own)
  end
  group.assumed = not spread and (#own == 0 and "diameter" or "spread") or nil
  group.steps = parsed
  group.prediction, group.no_prediction = predict.strand { steps = parsed, set = a.set, humidity = o.humidity,
    diameter = mean, spread = spread or predict.variation * mean, ratios = ratios, seed = o.seed }
  if group.prediction then
    group.word, group.verdict = predict.verdict(group.prediction, o.pixel, o.resolution, #group.strands)
  end
end

-- The line of caution that the treatments call for, predicted or not.
local function caution_of(a)
  local marks = {}
  for _, group in ipairs(a.groups) do
    for text in pairs(group.treatments) do
      local list = group.steps or text ~= "" and steps.parse(text)
      if list then
        steps.mark(list, marks)
      end
    end
  end
  return cautions.line(marks)
end

local function check_predict(a, o)
  if type(o.predict) == "table" then
    local names = {}
    for i, group in ipairs(a.groups) do
      names[i], names[group.name] = group.name, true
    end
    for _, name in ipairs(suggest.sorted_keys(o.predict)) do
      if not names[name] then
        fail("data", "no strand belongs to the group \"%s\"%s", tostring(name), suggest.hint(name, names))
      end
    end
  elseif o.predict ~= nil and type(o.predict) ~= "boolean" then
    misuse("count_read: predict is true, or a table that gives the steps of each group")
  end
end

-- ---- reading ----------------------------------------------------------------------------------------

local function work(given)
  local o, paths = read_options(given)
  local found, message, code, faults = gather(paths, { scale = o.scale, keys = o.keys })
  if not found then
    error({ refused = message, code = code, faults = faults }, 0)
  end
  local a = { files = paths, inputs = found.inputs, keys = o.keys, level = o.level, alpha = o.alpha, scale = o.scale, pixel = o.pixel,
    resolution = o.resolution, humidity = o.humidity, columns = found.columns, unread = found.unread, method = o.method,
    total = #found.strands, set = quantity.parameters(o.set) or core.parameters(), seed = o.seed }
  a.planned, a.donors_named = #found.strands > 0, true
  for _, strand in ipairs(found.strands) do
    a.planned, a.donors_named = a.planned and strand.plan ~= nil, a.donors_named and strand.donor_named
  end
  local group_of = sort_out(found.strands, a)
  put_control_first(a, group_of, o.control)
  if o.predict then
    check_predict(a, o)
    for _, group in ipairs(a.groups) do
      predict_group(a, group, o)
    end
    a.predicted = true
  end
  a.caution = caution_of(a)
  compare.all(a)
  return setmetatable(a, Analysis)
end

--- Analysis of one or more sheets; or nil, sentence, code, list of faults { file, line, column, found,
--- expected }.
function count_read.read(given)
  if type(given) == "string" then
    given = { given }
  elseif type(given) ~= "table" then
    misuse("count_read takes a table of options that begins with the names of the sheets")
  end
  local done, a = pcall(work, given)
  if done then
    return a
  elseif type(a) == "table" and a.refused then
    return nil, a.refused, a.code, a.faults
  end
  error(a, 0)
end

--- Diameters before of the strands of one sheet, whatever their groups: { diameters, ratios, inputs }; or as read.
function count_read.diameters(path, grades)
  local found, message, code, faults = gather({ path }, { scale = scale_of(grades), keys = {}, any_group = true })
  if not found then
    return nil, message, code, faults
  end
  local all = { diameters = {}, ratios = {}, inputs = found.inputs }
  for _, strand in ipairs(found.strands) do
    complete(strand)
    if strand.before and strand.excluded == "" then
      all.diameters[#all.diameters + 1], all.ratios[#all.ratios + 1] = strand.before, strand.ratio
    end
  end
  return all
end

--- The report as text, 80 columns.
function Analysis:text()
  return require("hairfibre.count.report").analysis(self)
end

--- Prediction against observation, and the shares with their intervals; a figure, or nil, sentence, code.
function Analysis:figure(options)
  return require("hairfibre.count.figure").of(self, options)
end

--- What may be said, a list of sentences.
function Analysis:sentences()
  return require("hairfibre.count.sentences").safe(self)
end

--- What these strands cannot show, a list of sentences.
function Analysis:limits()
  return require("hairfibre.count.sentences").limits(self)
end

--- Where the numbers come from.
function Analysis:provenance()
  local options = {}
  for _, name in ipairs { "method", "level", "alpha", "control" } do
    options[#options + 1] = self[name] and { name, self[name] } or nil
  end
  predict.add_optics(options, self)
  if self.predicted then
    table.move({ { "humidity", self.humidity }, { "seed", self.seed } }, 1, 2, #options + 1, options)
  end
  return provenance.of(self.set, options, self.inputs)
end

--- The strands as a population for hf.ensemble: areas with the mean and spread of their diameters, ellipticity where
--- both axes were measured. nil, sentence, "data" with fewer than 2 diameters.
function Analysis:population()
  if #self.diameters < 2 then
    return nil, ("the spread of diameters needs 2 strands, the sheet has %d"):format(#self.diameters), "data"
  end
  local mean, spread = predict.mean_of(self.diameters)
  return predict.population(mean, spread, self.ratios)
end

--- The strands as a result: id, donor, group, diameters (m) and change; numbers that are missing are NaN.
function Analysis:table()
  local list = { { name = "id", kind = "text", values = {} }, { name = "donor", kind = "text", values = {} },
    { name = "group", kind = "text", values = {} } }
  for _, name in ipairs { "before", "after", "change" } do
    list[#list + 1] = { name = name, unit = "m", kind = "number", values = {} }
  end
  for i, strand in ipairs(self.strands) do
    for _, column in ipairs(list) do
      column.values[i] = strand[column.name] or column.kind == "number" and 0 / 0 or ""
    end
  end
  return require("hairfibre.result").new { columns = list, set = self.set, files = self.inputs }
end

return count_read
