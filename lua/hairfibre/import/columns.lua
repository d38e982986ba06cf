-- Which column of a data file is what: names, units, basis of a moisture. A unit is never assumed.

local core = require "hairfibre.core"
local import_units = require "hairfibre.import.units"
local says = require "hairfibre.import.says"
local suggest = require "hairfibre.suggest"

local import_columns = {}

local ROLES = { "x", "y", "sigma", "group" }
import_columns.roles, import_columns.is_role = ROLES, { x = true, y = true, sigma = true, group = true }
local MOISTURE = { "moisture", "water content", "regain", "%f[%a]emc%f[%A]", "%f[%a]mc%f[%A]", "uptake", "sorption",
  "change in mass", "mass change", "change of mass", "weight gain", "dm/m", "dm %-" }
local HUMIDITY = { "^rh%f[%A]", "humidity", "activity", "^aw$", "^a_w$", "p/p0", "%f[%a]rh$" }

local function has(name, patterns)
  local low = name:lower():gsub("_", " ")
  for _, pattern in ipairs(patterns) do
    if low:find(pattern) then
      return true
    end
  end
  return false
end

local function quoted_list(list)
  local out = {}
  for i, name in ipairs(list) do
    out[i] = '"' .. name .. '"'
  end
  return table.concat(out, ", ")
end

--- The columns that the header names: { header, name, unit, at, sample }. Unit texts come from the header, else from
--- the units row.
function import_columns.named(found)
  local list = {}
  for at = 1, found.cells or 0 do
    local header = found.header and found.header[at] or ""
    local name, unit = import_units.split_header(header)
    local row = found.units and found.units[at]
    if row == "" or row == "-" then
      row = nil
    end
    unit = (row or unit) and says.printable(row or unit)
    unit = unit and (unit:match("^%((.+)%)$") or unit:match("^%[(.+)%]$") or unit)
    local first = found.rows[found.first]
    list[at] = { at = at, sample = first and first[at] or "", header = header, name = name ~= "" and says.printable(name) or "column " .. at, unit = unit,
      unit_from = row and "the units row" or unit and "the name of the column" }
  end
  return list
end

-- The column of a name or number; or nil, sentence.
local function find(list, key, o)
  if math.type(key) == "integer" then
    return list[key], ("there is no column %d: the file has %d%s"):format(key, #list,
      #list == 1 and ("; state what stands between the cells (%s)"):format(says.how[o.says].delimiter) or "")
  end
  for _, test in ipairs {
    function(c) return c.header == key end,
    function(c) return c.name == key end,
    function(c) return c.header:lower() == key:lower() or c.name:lower() == key:lower() end,
  } do
    local hits = {}
    for _, column in ipairs(list) do
      if test(column) then
        hits[#hits + 1] = column
      end
    end
    if #hits == 1 then
      return hits[1]
    elseif #hits > 1 then
      local places = {}
      for i, column in ipairs(hits) do
        places[i] = tostring(column.at)
      end
      return nil, ("%d columns are called \"%s\" (columns %s): name the one you mean by its number, such as %s"):format(
        #hits, key, suggest.list(places, "and"), says.how[o.says].at:format(hits[1].at))
    end
  end
  local names, headers = {}, {}
  for i, column in ipairs(list) do
    names[i], headers[i] = column.name, column.header ~= "" and says.printable(column.header) or column.name
  end
  if not o.has_header then
    return nil, ("there is no column \"%s\": the file has no line of names; give the number of the column (%s)"):format(key,
      says.how[o.says].at:format(1))
  end
  local near = suggest.nearest(key, names)
  return nil, ("there is no column \"%s\"%s: the columns are %s"):format(key,
    near and ("; did you mean \"%s\"?"):format(near) or "", quoted_list(headers))
end
import_columns.find = find

-- An example of a unit that a column might have.
local function example(column, want)
  if column.sample:find("^%d+:%d%d:%d%d") then
    return "hh:mm:ss"
  elseif column.sample:find("^%d+:%d%d") then
    return "mm:ss"
  elseif want and want.kind == "fraction" or has(column.name, MOISTURE) or has(column.name, HUMIDITY) then
    return "%"
  elseif want and want.kind == "temperature" or has(column.name, { "temp" }) then
    return "degC"
  elseif has(column.name, { "time" }) then
    return "min"
  elseif has(column.name, { "mass", "weight" }) then
    return "mg"
  elseif has(column.name, { "stress", "modulus", "strength" }) then
    return "MPa"
  end
  return want and want.unit ~= "1" and want.unit or "1"
end

-- Unit, kind and map of one column; or nil, sentence.
local function settle_unit(column, given, want, o)
  local text, from = given.unit, "stated"
  if not text then
    text, from = column.unit, column.unit_from
  end
  if not text and want and (want.unit or "1") == "1" and want.kind ~= "fraction" then
    text, from = "1", "a pure number" -- nothing else it could be
  end
  if not text then
    return nil, ("column \"%s\" has no unit: give it with %s%s"):format(column.name,
      says.how[o.says].unit:format(column.name, example(column, want)), want and want.unit ~= "1" and "" or
      ' ("1" for a pure number)')
  end
  local what = want and { name = ("column \"%s\""):format(column.name), unit = want.unit, kind = want.kind }
  local map, message
  if given.dry_mass then
    what = { name = ("column \"%s\""):format(column.name), unit = "kg", kind = "number" }
  end
  map, message = import_units.resolve(text, what)
  if not map then
    return nil, what and message or ("column \"%s\": %s (%s)"):format(column.name, message, from)
  end
  if not want and map.unit == "1" and (has(column.name, HUMIDITY) or has(column.name, MOISTURE)) then
    map.kind = "fraction"
  end
  column.map, column.unit_text, column.unit_from = map, text, from
  return true
end

-- Basis of a moisture: always dry in the end.
local function settle_basis(column, given, want, o)
  local map = column.map
  local basis, from = given.basis, "stated"
  if given.dry_mass then
    map.factor, map.offset, map.unit, map.kind = map.factor / given.dry_mass, -1, "1", "fraction"
    column.basis, column.basis_from = "dry", "the mass over the dry mass, less 1"
    return true
  end
  if basis and map.unit == "1" and map.kind == "number" and map.factor == 1 then
    map.kind = "fraction" -- a moisture, then
  end
  if map.kind ~= "fraction" then
    if basis then
      return nil, ("column \"%s\": a basis belongs to a moisture as a fraction or in %%, not to %s"):format(column.name,
        map.unit == "1" and "a pure number" or column.unit_text)
    end
    return true
  end
  if not basis then
    basis, from = map.basis, "the unit"
  end
  if not basis then
    basis, from = import_units.basis(column.header), "the name of the column"
  end
  if not basis and has(column.name, { "%f[%a]regain%f[%A]" }) then
    basis, from = "dry", "regain is on dry mass by definition"
  end
  if not basis and (want and (want.basis or want.unit == "kg/kg") or not want and has(column.name, MOISTURE) and not has(column.name, HUMIDITY)) then
    return nil, ("column \"%s\" is a moisture, per dry mass or per wet mass: say which with %s"):format(column.name,
      says.how[o.says].basis:format(column.name))
  end
  column.basis, column.basis_from = basis, basis and from
  if basis == "wet" then
    map.wet = true
    map.low, map.high = -1, 1 - 1e-9
  end
  return true
end

local function settle_range(column, given, want)
  local map = column.map
  local range = given.range or want and want.range
  if range and not map.wet then
    map.low, map.high = range[1], range[2]
  elseif map.kind == "fraction" and not column.basis and has(column.name, HUMIDITY) then
    map.low, map.high = 0, 1
  end
  if column.role == "sigma" then
    map.low = 5e-324
  end
end

-- The standard deviation has the unit of y unless it names its own; offsets do not count.
local function settle_sigma(column, y, given, o)
  if not given.unit and not column.unit and y then
    column.map = { unit = y.map.unit, kind = y.map.kind == "temperature" and "temperature difference" or y.map.kind,
      factor = y.map.factor, offset = 0 }
    column.unit_text, column.unit_from = y.unit_text, "the unit of " .. y.name
  else
    local kind = y and y.map.kind == "temperature" and "temperature difference" or y and y.map.kind
    local want = y and { unit = y.given.dry_mass and "kg" or y.map.unit, kind = y.given.dry_mass and "number" or kind }
    local done, message = settle_unit(column, given, want, o)
    if not done then
      return nil, message
    end
    if y and y.given.dry_mass then
      column.map.factor = column.map.factor / y.given.dry_mass
    end
    column.map.unit, column.map.kind, column.map.offset = y and y.map.unit or column.map.unit, kind or column.map.kind, 0
  end
  column.wet_with = y and y.map.wet and y
  return true
end

local function settle(column, o, y)
  local given, want = column.given, o.want and o.want[column.role]
  if column.kind == "text" then
    column.map = { unit = "", kind = "text" }
    return true
  elseif column.role == "sigma" then
    local done, message = settle_sigma(column, y, given, o)
    if not done then
      return nil, message
    end
  else
    local done, message = settle_unit(column, given, want, o)
    if done then
      done, message = settle_basis(column, given, want, o)
    end
    if not done then
      return nil, message
    end
  end
  settle_range(column, given, want)
  return true
end

-- True when the cells of the head are mostly words.
local function holds_words(found, at)
  local words, numbers = 0, 0
  for i = found.first, #found.rows do
    local cell = found.rows[i][at]
    if cell and cell ~= "" and not found.rows[i].fault then
      local number = core.number_form(cell) ~= "none"
      words, numbers = words + (number and 0 or 1), numbers + (number and 1 or 0)
    end
  end
  return words > numbers
end

--- The columns that are read, in the order x, y, sigma, group, others; each with role, unit, kind, map, basis. o: x, y,
--- sigma, group, columns, want, says. Or nil, sentence.
function import_columns.choose(found, o)
  local list = import_columns.named(found)
  o.has_header = found.header ~= nil
  local given = {}
  for _, key in ipairs(suggest.sorted_keys(o.columns or {})) do
    local column, message = find(list, key, o)
    if not column and import_columns.is_role[key] and o[key] and type(o[key]) ~= "table" then
      column = find(list, o[key], o) -- by what it is for, where no column has that name
    end
    if not column then
      return nil, message, list
    end
    given[column.at] = o.columns[key]
  end
  local chosen, taken = {}, {}
  local function take(key, role)
    local column, message = find(list, key, o)
    if not column then
      return nil, message
    elseif taken[column.at] then
      return nil, ("column \"%s\" cannot be two things: %s and %s"):format(column.name, taken[column.at], role)
    end
    taken[column.at] = role
    column.role, column.key = role, key
    chosen[#chosen + 1] = column
    return true
  end
  local mapped = false
  for _, role in ipairs(ROLES) do
    local keys = o[role]
    if keys ~= nil then
      mapped = true
      for _, key in ipairs(type(keys) == "table" and keys or { keys }) do
        local done, message = take(key, role)
        if not done then
          return nil, message, list
        end
      end
    end
  end
  for _, column in ipairs(list) do
    if not taken[column.at] and (given[column.at] or not mapped) then
      column.key, column.role = column.name, "other"
      chosen[#chosen + 1] = column
    end
  end
  local seen, y = {}, nil
  for _, column in ipairs(chosen) do
    column.given = given[column.at] or {}
    column.kind = column.given.kind or (column.role == "group" or (column.role == "other" and not column.given.unit
      and holds_words(found, column.at))) and "text" or nil
    column.name = type(column.key) == "string" and says.printable(column.key) or column.name
    if seen[column.name] then
      return nil, ("columns %d and %d are both called \"%s\""):format(seen[column.name], column.at, column.name), list
    end
    seen[column.name] = column.at
    local done, message = settle(column, o, y)
    if not done then
      return nil, message, list
    end
    y = y or column.role == "y" and column
  end
  if #chosen == 0 then
    return nil, "the file has no columns", list
  end
  return chosen, list
end

return import_columns
