-- hf.count_read{...}: strand sheets to intervals, tests and sentences.
--
--   local a, message, code, faults = hf.count_read { "evening_1.csv", "evening_2.csv", key = "key.csv",
--     control = "control", pixel = "0.5 um", predict = true }
--   print(a:text()); a:figure():save("evening.svg"); a.diameters       her strands, for the next plan
--
-- Options: key, control (name of a group), level, alpha, grades, method (of the intervals), pixel,
-- resolution, humidity, predict (true: the column treatment holds steps; or a table group -> steps),
-- seed, set. A sheet with a fault gives nil, sentence, "data", list of faults.

local compare = require "hairfibre.count_compare"
local core = require "hairfibre.core"
local misuse = require "hairfibre.misuse"
local predict = require "hairfibre.count_predict"
local quantity = require "hairfibre.quantity"
local sheet = require "hairfibre.count_sheet"
local statistics = require "hairfibre.statistics"
local steps = require "hairfibre.count_steps"
local suggest = require "hairfibre.suggest"
local units = require "hairfibre.units"

local count_read = {}

local Analysis = { __name = "hairfibre.counts" }
Analysis.__index = Analysis

local FRACTION, LENGTH = { unit = "1", kind = "fraction" }, { unit = "m", kind = "number" }
local OPTIONS = { level = FRACTION, alpha = FRACTION, humidity = FRACTION, pixel = LENGTH, resolution = LENGTH }
local OTHERS = { key = "string", control = "string", grades = "any", method = "string", predict = "any", seed = "number",
  set = "any" }

local function fail(code, ...)
  error({ refused = string.format(...), code = code }, 0)
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
  o.seed = math.tointeger(o.seed) or misuse("count_read: seed must be a whole number")
  o.scale = sheet.scale(o.grades)
  statistics.binomial_interval { events = 0, strands = 0, method = o.method } -- refuses an unknown word
  return o, paths
end

-- ---- the strands ------------------------------------------------------------------------------------

local function equal_area(major, minor)
  return major and minor and math.sqrt(major * minor)
end

local function complete(strand)
  strand.before = strand.diameter_before or equal_area(strand.major_before, strand.minor_before)
    or strand.major_before or strand.minor_before
  strand.after = strand.diameter_after or equal_area(strand.major_after, strand.minor_after)
    or strand.major_after or strand.minor_after
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
  a.groups, a.donors, a.diameters = {}, {}, {}
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
      a.diameters[#a.diameters + 1] = strand.before
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
  local own = {}
  for _, strand in ipairs(group.strands) do
    if strand.before and strand.before >= 30e-6 and strand.before <= 240e-6 then
      own[#own + 1] = strand.before
    end
  end
  group.steps, a.hot = parsed, a.hot or steps.hot(parsed)
  group.prediction, group.no_prediction = predict.strand { steps = parsed, set = a.set, humidity = o.humidity,
    diameter = 70e-6, spread = 70e-6 * 0.186, diameters = #own > 0 and own or nil, seed = o.seed }
  group.own_diameters = #own
  if group.prediction then
    group.word, group.verdict = predict.verdict(group.prediction, o.pixel, o.resolution, #group.strands)
  end
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
  local found, message, code, faults = sheet.read(paths, { scale = o.scale, key = o.key })
  if not found then
    error({ refused = message, code = code, faults = faults }, 0)
  end
  local a = { files = paths, key = o.key, level = o.level, alpha = o.alpha, scale = o.scale, pixel = o.pixel,
    resolution = o.resolution, columns = found.columns, unread = found.unread, method = o.method,
    total = #found.strands, set = quantity.parameters(o.set) or core.parameters(), seed = o.seed }
  local group_of = sort_out(found.strands, a)
  put_control_first(a, group_of, o.control)
  if o.predict then
    check_predict(a, o)
    for _, group in ipairs(a.groups) do
      predict_group(a, group, o)
    end
    a.predicted = true
  end
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

--- The report as text, 80 columns.
function Analysis:text()
  return require("hairfibre.count_text").analysis(self)
end

--- Prediction against observation, and the shares with their intervals; a figure, or nil, sentence, code.
function Analysis:figure(options)
  return require("hairfibre.count_figure").of(self, options)
end

--- What may be said, a list of sentences.
function Analysis:sentences()
  return require("hairfibre.count_sentences").safe(self)
end

--- What these strands cannot show, a list of sentences.
function Analysis:limits()
  return require("hairfibre.count_sentences").limits(self)
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
  return require("hairfibre.result").new { columns = list, set = self.set }
end

return count_read
