-- hf.import{ file =, x =, y = }: a researcher's data file to columns of SI numbers.
--
--   local d, message, code = hf.import { file = "balance.csv", x = "RH", y = "moisture",
--     columns = { RH = { unit = "%" }, moisture = { unit = "%", basis = "wet" } } }
--   print(d:text())           what the file was taken for, what was left out
--   d.x.values, d:get "RH"    lists, SI and fractions; moisture is regain, per dry mass
--
-- The file is never written to. What a file is, is guessed and can be stated (encoding, delimiter, decimal, preamble,
-- header, units_row); a unit, the basis of a moisture and the sign of "1,234" are never guessed.

local import_columns = require "hairfibre.import.columns"
local import_text = require "hairfibre.import.text"
local says = require "hairfibre.import.says"
local misuse = require "hairfibre.misuse"
local profile = require "hairfibre.import.profile"
local suggest = require "hairfibre.suggest"
local units = require "hairfibre.units"

local import = {}

local MOST_NUMBERS, MOST_SHOWN = 20000000, 10000

local Data = { __name = "hairfibre.data" }
Data.__index = Data

-- ---- options ------------------------------------------------------------------------------------------

local SIGNS = { comma = ",", semicolon = ";", tab = "\t", blank = " ", blanks = " ", space = " ", spaces = " ", point = ".",
  bar = "|" }
local ENCODINGS = { ["utf-8"] = "utf-8", utf8 = "utf-8", ["utf-16"] = "utf-16le", ["utf-16le"] = "utf-16le",
  ["utf-16be"] = "utf-16be", ["latin-1"] = "latin-1", latin1 = "latin-1", ["windows-1252"] = "latin-1",
  ["iso-8859-1"] = "latin-1" }
local COLUMN_KEYS = { unit = true, basis = true, kind = true, dry_mass = true, range = true }

local function whole(x, name, least)
  if math.type(x) ~= "integer" and not (math.type(x) == "float" and math.tointeger(x)) or x < least then
    misuse("import: %s must be a whole number from %d, not %s", name, least, tostring(x))
  end
  return math.tointeger(x)
end

local function line_number(x, name)
  return x and whole(x, name, 1) -- nil and false stay what they are
end

local function column_key(x, name)
  if type(x) == "number" then
    return whole(x, name, 1)
  elseif type(x) ~= "string" or x == "" then
    misuse("import: %s must be the name of a column, or its number", name)
  end
  return x
end

local function read_columns(given)
  local columns = {}
  if type(given) ~= "table" then
    misuse('import: columns must be a table such as { RH = { unit = "%%" } }')
  end
  for key, one in pairs(given) do
    if type(one) == "string" then
      one = { unit = one }
    elseif type(one) ~= "table" then
      misuse('import: columns["%s"] must be a table such as { unit = "%%" }', tostring(key))
    end
    local copy = {}
    for name, value in pairs(one) do
      if not COLUMN_KEYS[name] then
        misuse('import: columns["%s"] has no "%s"%s', tostring(key), tostring(name),
          suggest.hint(name, suggest.sorted_keys(COLUMN_KEYS)))
      end
      copy[name] = value
    end
    if copy.unit ~= nil and type(copy.unit) ~= "string" then
      misuse('import: the unit of "%s" must be a text', tostring(key))
    elseif copy.basis ~= nil and copy.basis ~= "dry" and copy.basis ~= "wet" then
      misuse('import: the basis of "%s" is "dry" or "wet", not "%s"', tostring(key), tostring(copy.basis))
    elseif copy.kind ~= nil and copy.kind ~= "text" and copy.kind ~= "number" then
      misuse('import: the kind of "%s" is "text" or "number"', tostring(key))
    elseif copy.dry_mass ~= nil then
      local mass, message = units.value(copy.dry_mass, { name = "dry_mass", unit = "kg", kind = "number" })
      copy.dry_mass = mass or misuse("import: %s", message)
      if not (mass > 0 and mass < math.huge) then
        misuse("import: dry_mass must be above 0")
      end
    end
    columns[column_key(key, "a key of columns")] = copy
  end
  return columns
end

local readers = {
  file = function(x)
    return type(x) == "string" and x or misuse("import: file must be the name of a file, not a %s", type(x))
  end,
  x = function(x)
    if type(x) ~= "table" then
      return column_key(x, "x")
    end
    local list = {}
    for i, one in ipairs(x) do
      list[i] = column_key(one, ("x[%d]"):format(i))
    end
    return #list > 0 and list or misuse("import: x is an empty list")
  end,
  y = function(x) return column_key(x, "y") end,
  sigma = function(x) return column_key(x, "sigma") end,
  group = function(x) return column_key(x, "group") end,
  columns = read_columns,
  delimiter = function(x)
    local sign = type(x) == "string" and (SIGNS[x] or x)
    if not sign or #sign ~= 1 or sign:find('[%w"\r\n.+%-]') or sign:byte() > 126 then
      misuse('import: delimiter is "comma", "semicolon", "tab", "blanks" or one sign, not "%s"', tostring(x))
    end
    return sign
  end,
  decimal = function(x)
    local sign = type(x) == "string" and (SIGNS[x] or x)
    return (sign == "." or sign == ",") and sign or misuse('import: decimal is "point" or "comma", not "%s"', tostring(x))
  end,
  encoding = function(x)
    return type(x) == "string" and ENCODINGS[x:lower()]
      or misuse('import: encoding is "utf-8", "utf-16le", "utf-16be" or "latin-1", not "%s"', tostring(x))
  end,
  header = function(x) return line_number(x, "header") end,
  units_row = function(x) return line_number(x, "units_row") end,
  preamble = function(x) return whole(x, "preamble", 0) end,
  most = function(x) return whole(x, "most", 1) end,
  want = function(x) return x end,
  says = function(x) return x end,
}

local function read_options(given)
  if type(given) == "string" then
    given = { file = given }
  elseif type(given) ~= "table" then
    misuse('import takes one table: hf.import{ file = "data.csv", x = "RH", y = "moisture" }')
  end
  local o = { says = "script", most = MOST_NUMBERS }
  for _, key in ipairs(suggest.sorted_keys(given)) do
    if not readers[key] then
      misuse("import has no option \"%s\"%s", tostring(key), suggest.hint(key, suggest.sorted_keys(readers)))
    end
    o[key] = readers[key](given[key])
  end
  if not o.file then
    misuse("import needs file = the name of a file")
  elseif o.header and o.preamble and o.header <= o.preamble then
    misuse("import: the header, line %d, cannot lie in the preamble of %d lines", o.header, o.preamble)
  elseif o.header and o.units_row and o.units_row <= o.header then
    misuse("import: the units row, line %d, must come after the header, line %d", o.units_row, o.header)
  elseif o.decimal == "," and o.delimiter == "," then
    misuse("import: the comma cannot be decimal sign and delimiter at once")
  end
  return o
end

-- ---- the file ------------------------------------------------------------------------------------------

local function fail(o, ...)
  return nil, o.file .. ": " .. string.format(...), "data"
end

-- File, profile and columns; or nil, sentence, code.
local function look(o)
  local reader, encoding, code = profile.open(o)
  if not reader then
    return nil, encoding, code
  end
  local wanted = {}
  for _, role in ipairs(import_columns.roles) do
    for _, name in ipairs(type(o[role]) == "table" and o[role] or { o[role] }) do
      wanted[#wanted + 1] = name
    end
  end
  local found, message
  found, message, code = profile.guess(reader, o, wanted)
  if not found then
    return nil, code == "data" and o.file .. ": " .. message or message, code
  end
  found.guess.encoding = encoding
  if found.empty then
    return fail(o, "the file is empty: a line that names the columns and rows of numbers were expected")
  end
  return reader, found
end

-- ---- reading -------------------------------------------------------------------------------------------

-- sigma of m per wet mass to sigma of w = m / (1 - m): times (1 + w)^2.
local function wet_sigma(columns)
  for _, column in ipairs(columns) do
    local y = column.wet_with
    if y then
      local w = y.values
      for i, s in ipairs(column.values) do
        column.values[i] = s * (1 + w[i]) ^ 2
      end
    end
  end
end

local function spec_of(columns)
  local list = {}
  for i, column in ipairs(columns) do
    local map = column.map
    list[i] = { at = column.at, words = column.kind == "text", factor = map.factor, offset = map.offset, low = map.low,
      high = map.high, wet = map.wet, clock = map.clock }
  end
  return list
end

local function public(columns)
  local list = {}
  for i, c in ipairs(columns) do
    list[i] = { name = c.name, unit = c.map.unit, kind = c.map.kind, values = c.values, role = c.role, header = c.header,
      place = c.at, basis = c.basis and "dry" or nil, given_basis = c.basis, basis_from = c.basis_from,
      given_unit = c.unit_text, unit_from = c.unit_from, dry_mass = c.given.dry_mass }
  end
  return list
end

local function work(o)
  local reader, found, code = look(o)
  if not reader then
    return nil, found, code
  end
  local columns, all = import_columns.choose(found, o)
  if not columns then
    return fail(o, "%s", all)
  end
  local used = {}
  for _, column in ipairs(columns) do
    used[#used + 1] = column.kind ~= "text" and column.at or nil
  end
  local decimal, message = profile.decimal(found, used, o.decimal)
  if not decimal then
    return fail(o, "%s: %s", message, says.how[o.says].decimal)
  end
  local raw, trouble, at
  raw, trouble, at = profile.read(reader, { skip = found.skip, cells = found.cells, delimiter = found.delimiter, decimal = decimal,
    most = o.most, most_shown = MOST_SHOWN, columns = spec_of(columns) })
  if not raw then
    if type(at) == "string" then
      return nil, trouble, at
    end
    message, code = says.stopped(o, trouble, at, columns)
    return nil, o.file .. ": " .. message, code
  end
  for i, column in ipairs(columns) do
    column.values = raw.values[i]
  end
  wet_sigma(columns)
  found.guess.decimal = profile.decimal_item(raw.decimal)
  local d = setmetatable({ file = o.file, columns = public(columns), rows_used = raw.rows,
    excluded = says.excluded(raw.excluded, columns, found), rows_excluded = raw.all_excluded,
    guess = found.guess, checksum = raw.checksum, bytes = raw.bytes, blank_lines = raw.blank, comment_lines = raw.comments,
    unended = raw.unended, notes = {} }, Data)
  function d.line(_, i)
    return reader:line(i)
  end
  if raw.rows == 0 then
    return fail(o, "%s", says.no_rows(d))
  end
  for _, column in ipairs(d.columns) do
    if column.role ~= "other" and not d[column.role] then
      d[column.role] = column
    end
  end
  d.notes = says.notes(d, raw, all, found)
  return d
end

--- Data of a file; or nil, sentence, "data", "file", "memory" or "stopped". Options: file; x (a name, a number or a
--- list of them), y, sigma, group; columns (name -> { unit, basis, kind, dry_mass, range }); encoding, delimiter,
--- decimal, preamble (lines), header (line, false: none), units_row (line, false: none); most (numbers, 2e7).
function import.read(given)
  return work(read_options(given))
end

--- What a file looks like, without a unit being needed: { guess, columns, text() }; or nil, sentence, code.
function import.look(given)
  local o = read_options(given)
  local reader, found, code = look(o)
  if not reader then
    return nil, found, code
  end
  found.guess.decimal = profile.look_at_decimal(found, o.decimal)
  return import_text.look(o, found, import_columns.named(found))
end

--- List of a column by its name, and the column; nil when there is none.
function Data:get(name)
  for _, column in ipairs(self.columns) do
    if column.name == name then
      return column.values, column
    end
  end
  local column = import_columns.is_role[name] and rawget(self, name)
  if column then
    return column.values, column
  end
end

--- What the file was taken for and what was left out, for people. options: excluded (20 are listed).
function Data:text(options)
  return import_text.data(self, options)
end

return import
