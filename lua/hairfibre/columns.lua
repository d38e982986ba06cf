-- Names of columns in files: "temperature_K", "heat_J_per_kg", "humidity_percent", "time [min]".

local units = require "hairfibre.units"
local quantity = require "hairfibre.quantity"

local columns = {}

-- Numerator and denominator factors of an SI unit text such as "W/(m2 K)".
local function factors(unit)
  local over, under, flat = {}, {}, unit:gsub("/%s*(%b())", function(group)
    return "/" .. group:sub(2, -2):gsub("[%s.*]+", "/")
  end)
  for mark, name, power in flat:gmatch("([/%s.*]*)([%a]*)([%d%-]*)") do
    local divided = mark:find("/") ~= nil
    if name ~= "" then
      local list = divided ~= (power:sub(1, 1) == "-") and under or over
      list[#list + 1] = name .. power:gsub("^%-", ""):gsub("^1$", "")
    end
  end
  return over, under
end

--- Header of a column in a file: its name with the unit, "temperature_K".
function columns.header(column)
  local kind, unit = column.kind or "number", column.unit or "1"
  if kind == "fraction" and unit == "1" then
    return column.name .. "_fraction"
  elseif kind == "choice" or kind == "text" or unit == "1" or unit == "" then
    return column.name
  end
  local over, under = factors(unit)
  local text = column.name
  if #over > 0 then
    text = text .. "_" .. table.concat(over, "_")
  end
  return #under > 0 and text .. "_per_" .. table.concat(under, "_per_") or text
end

-- "J_per_kg_per_K" to "J/kg/K", as UDUNITS-2 reads it.
local function unit_of_suffix(suffix)
  if suffix == "percent" or suffix == "pct" then
    return "%"
  end
  local text = ("_" .. suffix):gsub("_per_", "/"):gsub("^_", ""):gsub("_", ".")
  return text:sub(1, 1) == "/" and "1" .. text or text
end

-- What the names of the library stand for, wherever they appear as columns.
local known
local function known_names()
  if not known then
    local names = { time = { name = "time", unit = "s", kind = "number" } }
    for _, descriptor in ipairs(quantity.all()) do
      for _, argument in ipairs(descriptor.arguments) do
        names[argument.name] = names[argument.name] or argument
      end
    end
    for _, descriptor in ipairs(quantity.all()) do
      names[descriptor.name] = names[descriptor.name] or descriptor
    end
    known = names
  end
  return known
end

-- Units that end a name in a file of the user's own, with the SI unit they become.
local plain_suffixes = {
  K = "K", degC = "K", degF = "K", s = "s", min = "s", h = "s", d = "s", Pa = "Pa", kPa = "Pa", MPa = "Pa",
  bar = "Pa", nm = "m", um = "m", ["µm"] = "m", mm = "m", cm = "m", m = "m", ug = "kg", mg = "kg", g = "kg",
  kg = "kg", mN = "N", cN = "N", N = "N",
}

-- name, what, unit text; the unit is nil where the header gives none
local function split(header, wanted)
  local name, unit = header:match("^%s*(.-)%s*%[%s*(.-)%s*%]%s*$")
  if name then
    return name, wanted[name] or known_names()[name], unit
  end
  if wanted[header] or known_names()[header] then
    return header, wanted[header] or known_names()[header], nil
  end
  for _, names in ipairs({ wanted, known_names() }) do
    local start = #header
    while start > 1 do -- the longest name first: film_temperature_K is no film
      if header:sub(start, start) == "_" and names[header:sub(1, start - 1)] then
        name = header:sub(1, start - 1)
        return name, names[name], unit_of_suffix(header:sub(start + 1))
      end
      start = start - 1
    end
  end
  local stem, suffix = header:match("^(.+)_([^_]+)$")
  if suffix == "percent" or suffix == "pct" or suffix == "fraction" then
    return stem, { unit = "1", kind = "fraction" }, unit_of_suffix(suffix)
  elseif plain_suffixes[suffix] then
    local target = plain_suffixes[suffix]
    return stem, { unit = target, kind = target == "K" and "temperature" or "number" }, suffix
  end
  return header, nil, nil
end

--- Reads a header: a column { name, unit, kind, choices, factor, offset } whose SI values are
--- factor * cell + offset; or nil, sentence. `wanted`: table name -> what, for names that the
--- library does not know.
function columns.parse(header, wanted)
  local name, what, unit = split(header, wanted or {})
  if not what then
    if unit and plain_suffixes[unit] then
      what = { unit = plain_suffixes[unit], kind = plain_suffixes[unit] == "K" and "temperature" or "number" }
    elseif unit == "%" then
      what = { unit = "1", kind = "fraction" }
    else
      return { name = name, unit = unit or "1", kind = "number", factor = 1, offset = 0 }
    end
  end
  local kind, target = what.kind or "number", what.unit or "1"
  local column = { name = name, unit = target, kind = kind, choices = what.choices, factor = 1, offset = 0 }
  if kind == "text" or kind == "choice" or (kind == "number" and target == "1") or
    (kind == "fraction" and (unit == "fraction" or unit == "1")) then
    return column
  elseif not unit then
    if kind == "temperature" then
      return nil, ("column \"%s\" has no unit: call it %s_degC, %s_degF or %s_K"):format(header, name, name, name)
    elseif kind == "fraction" then
      return nil, ("column \"%s\" has no unit: call it %s_percent or %s_fraction"):format(header, name, name)
    end
    return nil, ("column \"%s\" has no unit: call it %s"):format(header, columns.header(column))
  end
  local factor, offset = units.map(unit, { name = "column \"" .. header .. "\"", unit = target, kind = kind })
  if not factor then
    return nil, offset
  end
  column.factor, column.offset = factor, offset
  return column
end

return columns
