-- Reads a plain CSV file into a result: one header line with units in the names, numbers with a
-- decimal point. Comma, semicolon or tab between the cells; the guess is in r.delimiter.

local columns = require "hairfibre.columns"
local core = require "hairfibre.core"
local files = require "hairfibre.files"
local misuse = require "hairfibre.misuse"
local result = require "hairfibre.result"
local suggest = require "hairfibre.suggest"
local units = require "hairfibre.units"

local csv = {}

local OPTIONS = { columns = true, delimiter = true, name = true }

local function fail(...)
  return nil, string.format(...), "data"
end

-- The text without its byte order mark; or nil, sentence.
local function plain_text(text, name)
  if text:find("^\xFF\xFE") or text:find("^\xFE\xFF") then
    return nil, name .. " is UTF-16: save it as \"CSV UTF-8\""
  elseif text:find("\0", 1, true) then
    return nil, name .. " is not a text file"
  end
  return (text:gsub("^\xEF\xBB\xBF", ""))
end

-- First line that holds a header: not empty, no comment.
local function first_line(text)
  for line in text:gmatch("[^\r\n]+") do
    if line:find("%S") and not line:find("^%s*\"?#") then
      return line
    end
  end
end

local function guess_delimiter(line)
  local unquoted = line:gsub('"[^"]*"', "")
  local best, most = ",", 0
  for _, sign in ipairs({ ",", ";", "\t" }) do
    local _, count = unquoted:gsub(sign, "")
    if count > most then
      best, most = sign, count
    end
  end
  return best
end

-- SI value of a cell; or nil, what was expected.
local function read_cell(cell, column)
  if column.kind == "text" then
    return cell
  elseif column.kind == "choice" then
    local index, message = units.choice(cell, { choices = column.choices })
    return index, message
  elseif cell == "" then
    return nil, "the cell is empty, a number was expected"
  end
  local x = core.number(cell)
  if x then
    return column.factor * x + column.offset
  elseif cell:find("^[+-]?%d[%d.]*,%d+$") then
    return nil, ("\"%s\" has a decimal comma: write %s"):format(cell, (cell:gsub(",", ".")))
  end
  return nil, ("\"%s\" is no number"):format(cell)
end

local function read_header(row, wanted, name)
  local list, seen = {}, {}
  while #row > 1 and row[#row] == "" do -- columns left empty by a spreadsheet
    row[#row] = nil
  end
  for i, header in ipairs(row) do
    if header == "" then
      return nil, ("%s, line %d: column %d has no name"):format(name, row.line, i)
    elseif not utf8.len(header) then
      return nil, ("%s, line %d: the names of the columns are not UTF-8: save it as \"CSV UTF-8\""):format(name,
        row.line)
    elseif core.number(header) then
      return nil, ("%s, line %d: \"%s\" stands where the name of a column was expected, such as temperature_degC")
        :format(name, row.line, header)
    end
    local column, message = columns.parse(header, wanted)
    if not column then
      return nil, ("%s, line %d: %s"):format(name, row.line, message)
    elseif seen[column.name] then
      return nil, ("%s, line %d: two columns are called %s"):format(name, row.line, column.name)
    end
    seen[column.name], column.header, column.values = true, header, {}
    column.name = column.name:gsub("[%s,;\"%[%]]+", "_")
    list[i] = column
  end
  return list, seen
end

csv.delimiter = guess_delimiter

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

--- Result of a CSV text. options: name (for messages), delimiter, columns: a list of
--- { name =, unit =, kind =, optional = } that the text must have; others are read too.
function csv.parse(text, options)
  options = options or {}
  check_options(options)
  local name = options.name or "the text"
  local body, problem = plain_text(text, name)
  local first = body and first_line(body)
  if not body then
    return fail("%s", problem)
  elseif not first then
    return fail("%s is empty: a header line such as time_s,temperature_degC was expected", name)
  end
  local delimiter = options.delimiter or guess_delimiter(first)
  local rows, message, code = core.csv(body, delimiter)
  if not rows then
    return nil, name .. ", " .. message, code
  end
  while rows[1] and rows[1][1]:find("^#") do
    table.remove(rows, 1)
  end
  local wanted, names = wanted_columns(options)
  local list, seen = read_header(rows[1], wanted, name)
  if not list then
    return fail("%s", seen)
  end
  for _, column in ipairs(names) do
    if not seen[column] and not wanted[column].optional then
      return fail("%s has no column %s: its columns are %s", name, columns.header(wanted[column]),
        table.concat(rows[1], ", "))
    end
  end
  for i = 2, #rows do
    local row = rows[i]
    while #row > #list and row[#row] == "" do
      row[#row] = nil
    end
    if #row ~= #list then
      return fail("%s, line %d: %d cell%s where the header has %d%s", name, row.line, #row, #row == 1 and "" or "s",
        #list, #row > #list and delimiter == "," and " (numbers need a decimal point, not a comma)" or "")
    end
    for k, column in ipairs(list) do
      local x, expected = read_cell(row[k], column)
      if x == nil then
        return fail("%s, line %d, column %s: %s", name, row.line, column.header, expected)
      end
      column.values[i - 1] = x
    end
  end
  if #rows == 1 then
    return fail("%s has a header but no rows", name)
  end
  local r = result.new { columns = list }
  r.delimiter = delimiter
  return r
end

--- Result of a CSV file; options as csv.parse. Or nil, sentence, "file" or "data".
function csv.read(path, options)
  if type(path) ~= "string" then
    misuse("the path of a file must be a text, not a %s", type(path))
  end
  local text, message, code = files.read(path)
  if not text then
    return nil, message, code
  end
  local copy = {}
  for key, value in pairs(options or {}) do
    copy[key] = value
  end
  copy.name = copy.name or path
  local r
  r, message, code = csv.parse(text, copy)
  if r then
    r.files = { require("hairfibre.provenance").input(path, text) }
  end
  return r, message, code
end

return csv
