-- Reads a CSV file into a result: a header line with units in the names, or units in a row of their own. The file may be in
-- any dialect that hf.import knows; here every row must be good, and a faulty one is named.

local columns = require "hairfibre.columns"
local misuse = require "hairfibre.misuse"
local profile = require "hairfibre.import.profile"
local result = require "hairfibre.result"
local says = require "hairfibre.import.says"
local suggest = require "hairfibre.suggest"
local units = require "hairfibre.units"

local csv = {}

local OPTIONS = { columns = true, delimiter = true, name = true }
local MOST = 20000000 -- numbers

local function fail(name, ...)
  return nil, name .. string.format(...), "data"
end

--- The sign that stands most often in the first line that is no comment.
function csv.delimiter(text)
  local best, most = ",", 0
  for line in text:gmatch("[^\r\n]+") do
    if line:find("%S") and not line:find('^%s*"?#') then
      local unquoted = line:gsub('"[^"]*"', "")
      for _, sign in ipairs { ",", ";", "\t" } do
        local _, count = unquoted:gsub(sign, "")
        if count > most then
          best, most = sign, count
        end
      end
      break
    end
  end
  return best
end

-- ---- columns --------------------------------------------------------------------------------------------

local function read_header(found, wanted, name)
  local list, seen = {}, {}
  local line = math.tointeger(found.header.line)
  for at = 1, found.cells do
    local header, unit = says.printable(found.header[at]), found.units and found.units[at] or ""
    if header == "" then
      return nil, ("%s, line %d: column %d has no name"):format(name, line, at)
    elseif unit ~= "" and unit ~= "-" then
      header = ("%s [%s]"):format(header, says.printable(unit))
    end
    local column, message = columns.parse(header, wanted)
    if not column then
      return nil, ("%s, line %d: %s"):format(name, line, message)
    elseif seen[column.name] then
      return nil, ("%s, line %d: two columns are called %s"):format(name, line, column.name)
    end
    seen[column.name], column.header = true, header
    column.name = column.name:gsub("[%s,;\"%[%]]+", "_")
    column.words = column.kind == "text" or column.kind == "choice"
    column.at, column.blank, column.map = at, column.kind == "text", column
    list[at] = column
  end
  return list, seen
end

-- Words of a choice to their numbers; or nil, line, column, sentence.
local function choose(list, raw, reader)
  for i, column in ipairs(list) do
    column.values = raw.values[i]
    for row, word in ipairs(column.kind == "choice" and column.values or {}) do
      local index, message = units.choice(word, { choices = column.choices })
      if not index then
        return nil, reader:line(row), column.header, message
      end
      column.values[row] = index
    end
  end
  return true
end

-- ---- options --------------------------------------------------------------------------------------------

local function wanted_columns(options)
  local wanted, names = {}, {}
  for i, one in ipairs(options.columns or {}) do
    if type(one) ~= "table" or type(one.name) ~= "string" then
      misuse("columns[%d] must be { name =, unit =, kind =, optional = }", i)
    end
    wanted[one.name], names[i] = one, one.name
  end
  return wanted, names
end

local function check_options(options)
  for _, key in ipairs(suggest.sorted_keys(options)) do
    if not OPTIONS[key] then
      misuse("there is no option \"%s\"%s", tostring(key), suggest.hint(key, suggest.sorted_keys(OPTIONS)))
    end
  end
end

-- ---- reading --------------------------------------------------------------------------------------------

-- Profile of the file with a header; or nil, sentence, code.
local function look(reader, o, names, name)
  local found, message, code = profile.guess(reader, o, names)
  if not found then
    return nil, code == "data" and name .. ": " .. message or message, code
  elseif found.empty then
    return fail(name, " is empty: a header line such as time_s,temperature_degC was expected")
  elseif not found.header then
    local first = found.rows[1]
    return fail(name, ", line %d: \"%s\" stands where the name of a column was expected, such as temperature_degC",
      math.tointeger(first.line), says.printable(first[1] or ""))
  end
  return found
end

-- All rows of the columns in the list; or nil, sentence, code.
local function read_rows(reader, found, list, name)
  local used = {}
  for _, column in ipairs(list) do
    used[#used + 1] = not column.words and column.at or nil
  end
  local decimal, message = profile.decimal(found, used)
  if not decimal then
    return fail(name, ": %s: %s", message, says.how.file.decimal)
  end
  local raw, trouble, at = profile.read(reader, { skip = found.skip, cells = found.cells, delimiter = found.delimiter,
    decimal = decimal, most = MOST, most_shown = 1, columns = list })
  if not raw and type(at) == "string" then
    return nil, trouble, at
  elseif not raw then
    local code
    message, code = says.stopped({ says = "file", most = MOST }, trouble, at, list)
    return nil, name .. ", " .. message, code
  end
  found.guess.decimal = { value = raw.decimal.sign }
  if raw.all_excluded > 0 then
    local e = says.excluded(raw.excluded, list, found)[1]
    for _, column in ipairs(list) do
      e.column = e.column == column.name and column.header or e.column
    end
    return fail(name, ", %s: %s%s", says.place(e), e.column and ("\"%s\": "):format(says.short(e.text, 40)) or "", e.why)
  elseif raw.rows == 0 then
    return fail(name, " has a header but no rows")
  end
  return raw
end

--- Result of a CSV file; or nil, sentence, "file" or "data". options: name (for messages), delimiter, columns: a list of
--- { name =, unit =, kind =, optional = } that the file must have; others are read too.
function csv.read(path, options)
  if type(path) ~= "string" then
    misuse("the path of a file must be a text, not a %s", type(path))
  end
  options = options or {}
  check_options(options)
  local name = options.name or path
  local wanted, names = wanted_columns(options)
  local reader, found, code = profile.open { file = path, name = name }
  if not reader then
    return nil, found, code
  end
  local message
  found, message, code = look(reader, { delimiter = options.delimiter }, names, name)
  if not found then
    return nil, message, code
  end
  local list, seen = read_header(found, wanted, name)
  if not list then
    return nil, seen, "data"
  end
  for _, column in ipairs(names) do
    if not seen[column] and not wanted[column].optional then
      return fail(name, " has no column %s: its columns are %s", columns.header(wanted[column]),
        table.concat(found.header, ", "))
    end
  end
  local raw
  raw, message, code = read_rows(reader, found, list, name)
  if not raw then
    return nil, message, code
  end
  local done, line, header, fault = choose(list, raw, reader)
  if not done then
    return fail(name, ", line %d, column \"%s\": %s", line, header, fault)
  end
  local r = result.new { columns = list, files = { { name = path:match("[^/]*$"), sha256 = raw.checksum } } }
  r.delimiter = found.delimiter
  return r
end

return csv
