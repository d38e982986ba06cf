-- What is kept of an ensemble: one row a strand, where it comes from, files, parts joined.
--
-- Two files belong together: strands.csv with the rows, strands.json with where they come from. Numbers are written
-- so that they read back exactly, so an ensemble joined from parts has the bytes of one run.

local cautions = require "hairfibre.cautions"
local core = require "hairfibre.core"
local files = require "hairfibre.files"
local misuse = require "hairfibre.misuse"
local provenance = require "hairfibre.provenance"
local result = require "hairfibre.result"
local show = require "hairfibre.show"
local suggest = require "hairfibre.suggest"

local kept = {}

local NAN = 0 / 0
local methods = {}
local meta

-- ---- where it comes from --------------------------------------------------------------------------------

--- Everything that decides the numbers, as it goes into the JSON file.
function kept.stamp(set, plan, schedule, options, input)
  local p = result.new({ columns = {}, set = set }):provenance()
  return { version = p.version, set = p.set, digest = p.digest, changed = p.changed,
    seed = plan.seed, strands = plan.strands, part = plan.part, parts = plan.parts, schedule = schedule, options = options, input = input }
end

local function same_changes(a, b)
  if #a ~= #b then
    return false
  end
  for i, one in ipairs(a) do
    if one.name ~= b[i].name or one.value ~= b[i].value then
      return false
    end
  end
  return true
end

--- Word for what keeps two stamps from being parts of one ensemble; nil when nothing does.
function kept.difference(a, b)
  for _, pair in ipairs { { "version", "versions" }, { "set", "sets" }, { "digest", "parameters" },
    { "seed", "seeds" }, { "strands", "numbers of strands" }, { "schedule", "treatments, fibres or options" } } do
    if a[pair[1]] ~= b[pair[1]] then
      return ("their %s"):format(pair[2])
    end
  end
  return not same_changes(a.changed, b.changed) and "their changed parameters" or nil
end

-- ---- the result -----------------------------------------------------------------------------------------

local descriptions
local function columns()
  descriptions = descriptions or core.strand_columns()
  return descriptions
end

local function column_name(name)
  return (name:gsub(" ", "_"))
end

local words
local function status_word(x)
  if not words then
    local list = {}
    for i, status in ipairs(core.statuses()) do
      list[i - 1], list[status.code] = status.code, i - 1
    end
    words = list
  end
  return words[math.tointeger(x)]
end

local NOTE = "Every strand is a prediction from the same models; the spread is that of the sections (and of the "
  .. "parameters when they are drawn). Void growth is an expected growth, never a promise."

local function origin_of(s)
  return { program = "hairfibre", version = s.version, set = s.set, digest = s.digest, changed = s.changed, inputs = { s.input },
    options = { { "seed", s.seed }, { "strands", s.strands }, { "schedule", s.schedule }, table.unpack(s.options) } }
end

-- `lists`: values by column, in the order of the library; status as numbers.
local function new(lists, stamp, set)
  local list, done = {}, #lists[1]
  for c, description in ipairs(columns()) do
    local values = lists[c]
    if description.name == "status" then
      values = {}
      for i = 1, done do
        values[i] = status_word(lists[c][i])
      end
    end
    list[c] = { name = column_name(description.name), unit = description.unit, values = values,
      kind = description.name == "status" and "text" or description.kind, text = description.text }
  end
  local r = result.new { columns = list, set = set, notes = { NOTE }, caution = cautions.heat, origin = origin_of(stamp) }
  r.stamp, r.done = stamp, done
  local first, last = kept.span(stamp)
  r.complete = done == last - first + 1
  if not r.complete then
    r.notes[2] = ("%d of %d strands are done."):format(done, last - first + 1)
  end
  meta = meta or result.extended(methods)
  return setmetatable(r, meta)
end

--- First and last strand of a part.
function kept.span(stamp)
  local size, left = stamp.strands // stamp.parts, stamp.strands % stamp.parts
  local function start(part)
    return (part - 1) * size + math.min(part - 1, left)
  end
  return start(stamp.part) + 1, start(stamp.part + 1)
end

function kept.from_object(object, stamp, set)
  local lists = {}
  for c in ipairs(columns()) do
    lists[c] = object:column(c)
  end
  return new(lists, stamp, set)
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

-- ---- files ----------------------------------------------------------------------------------------------

--- Strands live in files that end in .csv.
function kept.check_path(path)
  if type(path) ~= "string" or not path:find("[^/]%.csv$") then
    misuse("strands are kept in a file that ends in .csv, not \"%s\"", tostring(path))
  end
end

local function sidecar(path)
  return (path:gsub("%.%w+$", "")) .. ".json"
end

-- The JSON file beside the rows.
local function stamp_text(r)
  local s = r.stamp
  local document = require "hairfibre.json"
  local changed, options = document.list {}, {}
  for i, one in ipairs(s.changed) do
    changed[i] = document.object { { "name", one.name }, { "unit", one.unit }, { "value", one.value } }
  end
  for i, pair in ipairs(s.options) do
    options[i] = pair
  end
  local first, last = kept.span(s)
  return document.text(document.object {
    { "program", "hairfibre" }, { "version", s.version }, { "set", s.set }, { "digest", s.digest },
    { "changed", changed }, { "seed", s.seed }, { "strands", s.strands },
    { "part", ("%d/%d"):format(s.part, s.parts) }, { "first", first }, { "last", last }, { "done", r.done },
    { "schedule", s.schedule }, { "input", s.input and document.object { { "name", s.input.name }, { "sha256", s.input.sha256 } } },
    { "options", document.object(options) },
    { "notes", document.list(table.move(r.notes, 1, #r.notes, 1, {})) }, { "caution", r.caution },
  })
end

--- Writes the rows as .csv and where they come from beside it as .json. true; or nil, sentence, "file".
function methods:save(path)
  kept.check_path(path)
  -- The rows first: without them the stamp would promise too much.
  local done, message, code = result.save(self, path)
  if not done then
    return nil, message, code
  end
  return files.write(sidecar(path), stamp_text(self))
end

--- True for { name =, sha256 = }: a file that went in.
function kept.is_input(x)
  return type(x) == "table" and type(x.name) == "string" and type(x.sha256) == "string"
end

local MOST_OPTIONS = 100

-- Whether a document of any origin has the fields of a stamp, each of its kind.
local function is_sound(document)
  if type(document) ~= "table" or document.program ~= "hairfibre" then
    return false
  end
  for _, name in ipairs { "version", "set", "digest", "part", "schedule" } do
    if type(document[name]) ~= "string" then
      return false
    end
  end
  if type(document.changed) ~= "table" or type(document.options) ~= "table" or
    document.input ~= nil and not kept.is_input(document.input) then
    return false
  end
  for _, one in ipairs(document.changed) do
    if type(one) ~= "table" or type(one.name) ~= "string" or type(one.unit) ~= "string" or type(one.value) ~= "number" then
      return false
    end
  end
  local count = 0
  for name, x in pairs(document.options) do
    count = count + 1
    if type(name) ~= "string" or type(x) == "table" or count > MOST_OPTIONS then
      return false
    end
  end
  return true
end

local function read_stamp(text, path)
  local document = require("dkjson").decode(text)
  if not is_sound(document) then
    return nil, path .. " does not tell where an ensemble comes from"
  end
  local part, parts = document.part:match("^(%d+)/(%d+)$")
  local s = { version = document.version, set = document.set, digest = document.digest, changed = document.changed,
    seed = math.tointeger(document.seed), strands = math.tointeger(document.strands),
    part = math.tointeger(tonumber(part)), parts = math.tointeger(tonumber(parts)), schedule = document.schedule,
    input = document.input, options = {} }
  if not (s.seed and s.strands and s.part and s.parts and s.part >= 1 and s.part <= s.parts and
    s.parts <= s.strands) then
    return nil, path .. " does not tell where an ensemble comes from"
  end
  -- The order of the options is the one written: text order of the file.
  local at = text:find('"options"', 1, true) or 1
  local names = {}
  for name in pairs(document.options) do
    names[#names + 1] = { name, text:find('"' .. name .. '":', at, true) or 0 }
  end
  table.sort(names, function(a, b)
    return a[2] < b[2]
  end)
  for i, pair in ipairs(names) do
    s.options[i] = { pair[1], document.options[pair[1]] }
  end
  return s
end

-- True when the comment at the head of the rows tells of another ensemble than the stamp. Files that went in stand at its
-- end and do not count; somebody may have taken the comment away.
local function tells_another(text, stamp)
  local comment, origin = text:match("^#[^\n]*\n"), origin_of(stamp)
  origin.inputs = {}
  local wanted = provenance.comment(provenance.sentence(origin)):sub(1, -2)
  return comment and (comment:sub(1, #wanted) ~= wanted or not comment:find("^[;\n]", #wanted + 1))
end

local function read_rows(path, text)
  local header = result.new { columns = (function()
    local list = {}
    for c, description in ipairs(columns()) do
      list[c] = { name = column_name(description.name), unit = description.unit, values = {},
        kind = description.name == "status" and "text" or description.kind }
    end
    return list
  end)() }:csv():gsub("\n.*", "")
  local lines, skipped = text:gmatch("([^\n]*)\n"), 0
  local head = lines() or ""
  while head:find("^#") do
    head, skipped = lines() or "", skipped + 1
  end
  if head ~= header then
    return nil, path .. " does not hold the strands of this version"
  end
  local lists, status_at = {}, nil
  for c, description in ipairs(columns()) do
    lists[c] = {}
    status_at = description.name == "status" and c or status_at
  end
  local row = 0
  status_word(0)
  for line in lines do
    row = row + 1
    local c = 0
    for cell in (line .. ","):gmatch("([^,]*),") do
      c = c + 1
      if not lists[c] then
        break
      end
      local x
      if c == status_at then
        x = words[cell]
      else
        x = cell == "" and NAN or core.number(cell)
      end
      if not x then
        return nil, ("%s, line %d: \"%s\" is no number"):format(path, skipped + row + 1, cell)
      end
      lists[c][row] = x
    end
    if c ~= #lists then
      return nil, ("%s, line %d has %d cells where %d are needed"):format(path, skipped + row + 1, c, #lists)
    end
  end
  return lists
end

local NO_SUCH_FILE = 2 -- ENOENT

-- Bytes of a file; or nil, sentence, code, the code "none" when there is no such file. One that may not be read is
-- there: to begin anew would write over it.
local function read_file(path)
  local text, message, code = files.read(path)
  if not text then
    local place = files.path("read", path)
    local file, _, why
    if place then
      file, _, why = io.open(place, "rb")
    end
    if file then
      file:close()
    end
    return nil, message, why == NO_SUCH_FILE and "none" or code
  end
  return text
end

--- Reads what save wrote: { stamp, columns = lists, rows = list of strand numbers }; or nil, sentence, code, the code
--- "none" when one of the two files is not there (a run killed between its first two writings).
function kept.read(path)
  kept.check_path(path)
  local text, message, code = read_file(path)
  if not text then
    return nil, message, code
  end
  local document
  document, message, code = read_file(sidecar(path))
  if not document then
    return nil, message, code
  end
  local stamp, why = read_stamp(document, sidecar(path))
  if not stamp then
    return nil, why, "data"
  end
  -- A run that was killed between its two writings over older files, or two that wrote the same names.
  if tells_another(text, stamp) then
    return nil, ("%s and %s come from different ensembles"):format(path, sidecar(path)), "data"
  end
  local lists
  lists, why = read_rows(path, text)
  if not lists then
    return nil, why, "data"
  end
  return { stamp = stamp, columns = lists, rows = lists[1] }
end

-- ---- parts ----------------------------------------------------------------------------------------------

-- The same numbers, NaN in the same places.
local function same_row(a, i, b, k)
  for c = 1, #a do
    local x, y = a[c][i], b[c][k]
    if x ~= y and (x == x or y == y) then
      return false
    end
  end
  return true
end

--- Joins parts from files: hf.merge { "part1.csv", "part2.csv" }. A strand may be in several parts when its numbers
--- agree. The result is that of one run when no strand is missing; or nil, sentence, code.
function kept.merge(paths)
  if type(paths) ~= "table" or rawlen(paths) == 0 then
    misuse("merge takes a list of files")
  end
  local stamp, place, order = nil, {}, {}
  for _, path in ipairs(paths) do
    local part, message, code = kept.read(path)
    if not part then
      return nil, message, code == "none" and "file" or code
    end
    if stamp then
      local differs = kept.difference(stamp, part.stamp)
      if differs then
        return nil, ("%s does not belong to %s: %s differ"):format(path, paths[1], differs), "data"
      end
    else
      stamp = part.stamp
    end
    for i, strand in ipairs(part.rows) do
      local before = place[strand]
      if not before then
        place[strand] = { part.columns, i }
        order[#order + 1] = strand
      elseif not same_row(before[1], before[2], part.columns, i) then
        return nil, ("strand %d is in two files with different numbers; one of them is %s"):format(strand, path), "data"
      end
    end
  end
  table.sort(order)
  local lists = {}
  for c in ipairs(columns()) do
    lists[c] = {}
    for i, strand in ipairs(order) do
      lists[c][i] = place[strand][1][c][place[strand][2]]
    end
  end
  local whole = {}
  for key, x in pairs(stamp) do
    whole[key] = x
  end
  whole.part, whole.parts = 1, 1
  return new(lists, whole, nil)
end

return kept
