-- Reads a table back from the .csv or .json file that a result was saved in; also tables of words and gaps.

local columns = require "hairfibre.columns"
local csv = require "hairfibre.csv"
local core = require "hairfibre.core"
local provenance = require "hairfibre.provenance"
local result = require "hairfibre.result"

local reader = {}

local NAN = 0 / 0
local KINDS = { number = true, temperature = true, fraction = true, choice = true, text = true,
  ["temperature difference"] = true }

local function fail(...)
  return nil, string.format(...), "data"
end

-- ---- CSV ----------------------------------------------------------------------------------------------

local function is_worded(rows, k)
  for i = 2, #rows do
    if rows[i][k] and rows[i][k] ~= "" and not core.number(rows[i][k]) then
      return true
    end
  end
  return false
end

local function from_csv(text, name)
  text = text:gsub("^\xEF\xBB\xBF", "")
  local rows, message = core.csv(text, csv.delimiter(text))
  if not rows then
    return fail("%s, %s", name, message)
  end
  local said
  while rows[1] and (rows[1][1] or ""):find("^#") do
    said = said or table.concat(rows[1], ", "):match("^# (hairfibre .*)$")
    table.remove(rows, 1)
  end
  if #rows < 2 then
    return fail("%s has no rows: a header line and numbers were expected", name)
  end
  local list, seen = {}, {}
  for k, header in ipairs(rows[1]) do
    local worded = is_worded(rows, k)
    local column, why = columns.parse(header)
    if not column and not worded then
      return fail("%s, line %d: %s", name, rows[1].line, why)
    end
    if worded then
      column = { name = header, kind = "text", unit = "" }
    end
    local label = column.name:gsub("[%s,;\"%[%]]+", "_")
    column.name = label == "" and "column_" .. k or label
    if seen[column.name] then
      return fail("%s, line %d: two columns are called %s", name, rows[1].line, column.name)
    end
    seen[column.name], column.values, list[k] = true, {}, column
    for i = 2, #rows do
      local cell = rows[i][k]
      if not cell or #rows[i] > #rows[1] then
        return fail("%s, line %d: %d cells where the header has %d", name, rows[i].line, #rows[i], #rows[1])
      end
      local x = core.number(cell)
      column.values[i - 1] = worded and cell or x and column.factor * x + column.offset or NAN
    end
  end
  return result.new { columns = list }, { said and "As the file says: " .. said
    or "The file does not say which parameters its numbers rest on." }
end

-- ---- JSON ---------------------------------------------------------------------------------------------

local function texts(list)
  local copy = {}
  for i, one in ipairs(type(list) == "table" and list or {}) do
    copy[i] = type(one) == "string" and one or nil
  end
  return copy
end

local function word(x)
  return type(x) == "string" and x or "unknown"
end

-- What the file says of its numbers, in the shape of hairfibre.provenance; words that are missing are "unknown".
local function origin_of(object)
  local p = { version = word(object.version), set = word(object.set), digest = word(object.digest), changed = {}, options = {},
    inputs = {} }
  for _, one in ipairs(type(object.changed) == "table" and object.changed or {}) do
    if type(one) == "table" and type(one.value) == "number" then
      p.changed[#p.changed + 1] = { name = word(one.name), unit = word(one.unit), value = one.value }
    end
  end
  local names = {}
  for name, value in pairs(type(object.options) == "table" and object.options or {}) do
    if type(name) == "string" and type(value) ~= "table" then
      names[#names + 1] = name
    end
  end
  table.sort(names)
  for i, name in ipairs(names) do
    p.options[i] = { name, object.options[name] }
  end
  for _, one in ipairs(type(object.inputs) == "table" and object.inputs or {}) do
    if type(one) == "table" then
      p.inputs[#p.inputs + 1] = { name = word(one.name), sha256 = word(one.sha256) }
    end
  end
  return p
end

local function json_column(one, k, name)
  if type(one) ~= "table" or type(one.name) ~= "string" or type(one.values) ~= "table" then
    return fail("%s: column %d has no name or no values", name, k)
  end
  local kind = KINDS[one.kind] and one.kind or "number"
  local count = 0
  for key in pairs(one.values) do
    count = math.max(count, math.type(key) == "integer" and key or 0)
  end
  local worded = kind == "text" or kind == "choice"
  local values = {}
  for i = 1, one.values.n or count do
    local x = one.values[i]
    if worded and type(x) ~= "string" or not worded and x ~= nil and type(x) ~= "number" then
      return fail("%s: column %s, row %d: a %s among the %s", name, one.name, i, type(x), worded and "texts" or "numbers")
    end
    values[i] = x or NAN
  end
  return { name = (one.name:gsub("[%s,;\"%[%]]+", "_")), unit = type(one.unit) == "string" and one.unit or nil,
    kind = worded and "text" or kind, values = values }
end

local function from_json(text, name)
  local null = {}
  local object, _, message = require("dkjson").decode(text, 1, null, nil, nil)
  if type(object) ~= "table" then
    return fail("%s is no JSON text%s", name, message and ": " .. message or "")
  elseif type(object.columns) ~= "table" or #object.columns == 0 then
    return fail("%s is no saved result: it has no columns", name)
  end
  local list = {}
  for k, one in ipairs(object.columns) do
    if type(one) == "table" and type(one.values) == "table" then
      one.values.n = #one.values
      for i = 1, #one.values do
        if one.values[i] == null then
          one.values[i] = nil
        end
      end
    end
    local column, why = json_column(one, k, name)
    if not column then
      return fail("%s", why)
    end
    list[k] = column
  end
  local r = result.new { columns = list, title = type(object.title) == "string" and object.title or nil,
    notes = texts(object.notes), caution = type(object.caution) == "string" and object.caution or nil }
  return r, { "As the file says: " .. provenance.sentence(origin_of(object)) }
end

--- A result and sentences about where it comes from; or nil, sentence.
function reader.read(path)
  local text, message = core.read(path)
  if not text then
    return fail("%s", message)
  elseif text:find("\0", 1, true) or not utf8.len(text) then
    return fail("%s is not UTF-8 text", path)
  end
  local done, r, more = pcall(path:lower():find("%.json$") and from_json or from_csv, text, path)
  if not done then
    return fail("%s: %s", path, tostring(r))
  end
  return r, more
end

return reader
