-- What is kept of an ensemble: one row a strand; and what became of the strands in a table.

local cautions = require "hairfibre.cautions"
local core = require "hairfibre.core"
local misuse = require "hairfibre.misuse"
local result = require "hairfibre.result"
local show = require "hairfibre.show"
local stamps = require "hairfibre.ensemble.stamp"
local suggest = require "hairfibre.suggest"

local kept = {}

local methods = {}
local meta

local descriptions

--- Descriptions of the columns, in the order of the library.
function kept.columns()
  descriptions = descriptions or core.strand_columns()
  return descriptions
end

function kept.column_name(name)
  return (name:gsub(" ", "_"))
end

local words

--- Words of the statuses by number, and numbers by word.
function kept.status_words()
  if not words then
    local list = {}
    for i, status in ipairs(core.statuses()) do
      list[i - 1], list[status.code] = status.code, i - 1
    end
    words = list
  end
  return words
end

local NOTE = "Every strand is a prediction from the same models; the spread is that of the sections (and of the "
  .. "parameters when they are drawn). Void growth is an expected growth, never a promise."

--- Result from `lists`: values by column, in the order of the library; status as numbers.
function kept.new(lists, stamp, set)
  local list, done, status = {}, #lists[1], kept.status_words()
  for c, description in ipairs(kept.columns()) do
    local values = lists[c]
    if description.name == "status" then
      values = {}
      for i = 1, done do
        values[i] = status[math.tointeger(lists[c][i])]
      end
    end
    list[c] = { name = kept.column_name(description.name), unit = description.unit, values = values,
      kind = description.name == "status" and "text" or description.kind, text = description.text }
  end
  local r = result.new { columns = list, set = set, notes = { NOTE }, caution = cautions.heat, origin = stamps.origin(stamp) }
  r.stamp, r.done = stamp, done
  local first, last = stamps.span(stamp)
  r.complete = done == last - first + 1
  if not r.complete then
    r.notes[2] = ("%d of %d strands are done."):format(done, last - first + 1)
  end
  meta = meta or result.extended(methods)
  return setmetatable(r, meta)
end

function kept.from_object(object, stamp, set)
  local lists = {}
  for c in ipairs(kept.columns()) do
    lists[c] = object:column(c)
  end
  return kept.new(lists, stamp, set)
end

-- ---- summaries ------------------------------------------------------------------------------------------

-- Numbers of a column over the strands that did not fail.
local function numbers_of(r, name)
  local column = r:column(name)
  if not column or column.kind == "text" then
    local names = {}
    for _, one in ipairs(r.columns) do
      names[#names + 1] = one.kind ~= "text" and one.name or nil
    end
    misuse("there is no column of numbers \"%s\"%s", tostring(name), suggest.hint(name, names))
  end
  local list, status = {}, r.status
  for i, x in ipairs(column.values) do
    if status[i] == "ok" then
      list[#list + 1] = x
    end
  end
  return list, column
end

--- Percentiles of a column: { n, missing, mean, deviation, mean_error, value = { 2.5, 25, 50, 75, 97.5 % }, error =
--- their sampling errors }; or nil, sentence, code.
function methods:percentiles(name)
  local list = numbers_of(self, name)
  if #list == 0 then
    return nil, "no strand is done", "data"
  end
  return core.percentiles(list)
end

--- Share of the strands in which a column of 0 and 1 is 1 ("voids", "boils", "breaks", "extrapolated"), and its 95 %
--- interval; or nil, sentence, code.
function methods:share(name)
  local events, n = 0, 0
  for _, x in ipairs(numbers_of(self, name)) do
    if x == 0 or x == 1 then
      events, n = events + x, n + 1
    elseif x == x then
      misuse("\"%s\" is no column of 0 and 1", name)
    end
  end
  if n == 0 then
    return nil, ("no strand has a number in \"%s\"%s"):format(name, name == "breaks" and ": no pull was asked for" or ""),
      "data"
  end
  return core.share(math.tointeger(events), n)
end

local FLAGS = { boils = true, voids = true, breaks = true, extrapolated = true }
local LEFT_OUT = { strand = true, status = true }

-- Numbers of a row of the summary in one unit, at most seven signs each so that a row fits a terminal. Times since the
-- start differ late in the number.
local function shown(values, column)
  local display = column.unit == "kg/kg" and { unit = "g/kg", factor = 1000, offset = 0 }
    or show.display(column, values, { ascii = true })
  local list = {}
  for i, x in ipairs(values) do
    local y = show.apply(display, x)
    list[i] = y == y and show.number(y, column.unit == "s" and 6 or math.abs(y) < 0.1 and 3 or 4) or "-"
  end
  return list, display
end

--- A table of what became of the strands: median with its sampling error, the 50 and the 95 % interval; shares with the 95 %
--- interval of their sampling.
function methods:summary()
  local names, lists = { "what", "unit", "2.5%", "25%", "median", "75%", "97.5%", "error" }, {}
  for i in ipairs(names) do
    lists[i] = {}
  end
  local function row(...)
    for i, text in ipairs { ... } do
      table.insert(lists[i], text)
    end
  end
  local shares = { unit = "1", kind = "fraction" }
  for _, column in ipairs(self.columns) do
    if FLAGS[column.name] then
      local share, low, high = self:share(column.name)
      if share then
        local list, display = shown({ low, share, high }, shares)
        row(column.name, display.unit, list[1], "", list[2], "", list[3], "")
      end
    elseif not LEFT_OUT[column.name] then
      local p = self:percentiles(column.name)
      if p then
        local list, display = shown(p.value, column)
        local error = show.number(p.error[3] * display.factor, 2)
        row(column.name, display.unit, list[1], list[2], list[3], list[4], list[5], error)
      end
    end
  end
  local failed = 0
  for _, word in ipairs(self.status) do
    failed = failed + (word ~= "ok" and 1 or 0)
  end
  local notes = { ("%d strands%s. error: sampling error of the median. boils, voids, breaks, extrapolated: share of the strands, between "
    .. "the ends of the 95 %% interval of its sampling."):format(self.done, failed > 0 and (", %d of them without an answer"):format(failed) or ""),
    table.unpack(self.notes) }
  local list = {}
  for i, name in ipairs(names) do
    list[i] = { name = name, kind = "text", values = lists[i], right = i > 2 }
  end
  return result.new { columns = list, origin = self.origin, notes = notes, caution = self.caution }
end

--- Writes the rows as .csv and where they come from beside it as .json. true; or nil, sentence, "file".
function methods:save(path)
  return require("hairfibre.ensemble.strands").save(self, path)
end

return kept
