-- The numbers of a figure as CSV: one header line, units in the names. Lines with the same x share
-- one x column; each other x list gets its own. All values are written, thinned or not in the picture;
-- an empty cell is a gap. A point beside the place of a category is a point of that category.

local header = require("hairfibre.columns").header

local csv = {}

-- Signs of units in letters and digits: a micro that got lost would be a factor of a million.
local PLAIN = { ["°"] = "deg", ["µ"] = "u", ["μ"] = "u", ["Ω"] = "ohm", ["²"] = "2", ["³"] = "3", ["⁻"] = "-",
  ["¹"] = "1", ["⁴"] = "4", ["·"] = " " }

-- Letters, digits and underscores only: safe as a name and never a formula in a spreadsheet.
local function slug(s)
  return (s:gsub("%%", " percent "):gsub("[^%w]+", "_"):gsub("^_+", ""):gsub("_+$", ""))
end

local function unit_slug(unit)
  unit = (unit or "1"):gsub("[\xC2-\xF4][\x80-\xBF]*", PLAIN)
  if unit == "%" then
    return "percent"
  end
  return slug(header { name = "", unit = unit })
end

local function joined(...)
  local parts = {}
  for _, part in ipairs { ... } do
    if part ~= "" then
      parts[#parts + 1] = part
    end
  end
  return table.concat(parts, "_")
end

local function same(a, b)
  if a == b then
    return true
  elseif #a ~= #b then
    return false
  end
  for i = 1, #a do
    if a[i] ~= b[i] and not (a[i] ~= a[i] and b[i] ~= b[i]) then
      return false
    end
  end
  return true
end

local function number(value)
  if value == nil or value ~= value then
    return ""
  elseif value == math.huge or value == -math.huge then
    return value > 0 and "inf" or "-inf"
  end
  local s = string.format("%.15g", value)
  if tonumber(s) ~= value then
    s = string.format("%.17g", value)
  end
  return (s:gsub(",", "."))
end

local function outside(line)
  local list = {}
  for i, x in ipairs(line.x) do
    local beyond = line.extrapolated and line.extrapolated[i] or line.dashed_from and x > line.dashed_from
      or line.dashed_below and x < line.dashed_below
    list[i] = beyond and "yes" or "no"
  end
  return list
end

local function places_of(list)
  local places = {}
  for i, x in ipairs(list) do
    places[i] = math.floor(x + 0.5)
  end
  return places
end

local function columns_of(figure)
  local columns, names, x_lists = {}, {}, {}
  local function add(name, values, words)
    name = name ~= "" and name or "value"
    local unique, n = name, 1
    while names[unique] do
      n = n + 1
      unique = name .. "_" .. n
    end
    names[unique] = true
    columns[#columns + 1] = { name = unique, values = values, words = words }
  end
  local x_unit = unit_slug(figure.x.unit)
  for _, panel in ipairs(figure.panels) do
    local panel_label, unit = slug((panel.y.label or ""):lower()), unit_slug(panel.y.unit)
    for _, line in ipairs(panel.lines) do
      local categories = figure.x.categories
      local known, xs = false, categories and places_of(line.x) or line.x
      for _, list in ipairs(x_lists) do
        known = known or same(list, xs)
      end
      local name = slug((line.name or line.like or ""):lower())
      if not known then
        x_lists[#x_lists + 1] = xs
        local x_name = slug((figure.x.label or (figure.x.categories and "category" or "x")):lower())
        local words = categories and {}
        for i, x in ipairs(categories and xs or {}) do
          words[i] = '"' .. (categories[x] or number(x)):gsub('"', '""'):gsub("^[=+@-]", "'%0") .. '"'
        end
        add(joined(#x_lists > 1 and name or "", x_name, x_unit), xs, words)
      end
      local label = panel_label ~= name and panel_label or ""
      if line.y then
        add(joined(name, label, unit), line.y)
      end
      if line.low then
        add(joined(name, label, "low", unit), line.low)
        add(joined(name, label, "high", unit), line.high)
      end
      if line.extrapolated or line.dashed_from or line.dashed_below then
        add(joined(name, label, "extrapolated"), outside(line), outside(line))
      end
    end
  end
  return columns
end

function csv.text(figure)
  local columns, rows, out = columns_of(figure), 0, {}
  local cells = {}
  for i, column in ipairs(columns) do
    cells[i] = column.name
    rows = math.max(rows, #column.values)
  end
  out[1] = table.concat(cells, ",")
  for row = 1, rows do
    for i, column in ipairs(columns) do
      cells[i] = column.words and (column.words[row] or "") or number(column.values[row])
    end
    out[#out + 1] = table.concat(cells, ",")
  end
  return table.concat(out, "\n") .. "\n"
end

return csv
