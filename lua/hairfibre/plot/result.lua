-- From the columns of a result to the description of a figure.

local misuse = require "hairfibre.misuse"
local show = require "hairfibre.show"
local spec = require "hairfibre.plot.spec"
local suggest = require "hairfibre.suggest"
local units = require "hairfibre.units"

local from_result = {}

local function column_of(result, name, what)
  local names = {}
  for i, column in ipairs(result.columns) do
    if column.name == name then
      return column
    end
    names[i] = column.name
  end
  misuse("plot.result: %s: the result has no column \"%s\"%s", what, tostring(name),
    suggest.hint(name, names))
end

local function wanted(result, t, what)
  if type(t) == "string" then
    t = { column = t }
  end
  spec.keys(t, "column:string unit:string label:string name:string scale:string low:number "
    .. "high:number", what)
  local column = column_of(result, t.column, what)
  if column.kind == "text" or column.kind == "choice" then
    misuse("plot.result: %s: column \"%s\" holds words, not numbers", what, t.column)
  end
  return t, column
end

-- How SI values are shown: the wanted unit, or one of fitting size.
local function display_of(t, column, values)
  if t.unit then
    local factor, offset = units.map(t.unit, column)
    if not factor then
      misuse("plot.result: %s", offset)
    end
    return { unit = t.unit, factor = 1 / factor, offset = -offset / factor }
  end
  local kind = column.kind
  if kind == "number" and column.unit == "K" then
    kind = "temperature"
  end
  return show.display({ unit = column.unit, kind = kind }, values)
end

local function label_of(t, column)
  local s = t.label or column.text or show.words(column.name)
  return show.capital(s)
end

-- Words that begin every name: "temperature axis", "temperature surface" -> "Temperature".
local function common_words(wanted_columns)
  local common
  for _, one in ipairs(wanted_columns) do
    local words = {}
    for word in (one.t.name or show.words(one.column.name)):gmatch("%S+") do
      words[#words + 1] = word
    end
    if common then
      local same = 0
      while same < #common and common[same + 1] == words[same + 1] do
        same = same + 1
      end
      common = table.move(common, 1, same, 1, {})
    else
      common = words
    end
  end
  local s = table.concat(common, " ")
  return s ~= "" and show.capital(s) or nil
end

-- The note that is asked for, the notes of the columns shown, each once; without one asked for, those of the result.
local function notes_of(result, panels, given)
  local list, seen = {}, {}
  local function add(note)
    if note and note:find "%S" and not seen[note] then
      seen[note], list[#list + 1] = true, note:find("[.!?]$") and note or note .. "."
    end
  end
  add(given)
  for _, panel in ipairs(panels) do
    for _, one in ipairs(panel.wanted) do
      add(one.column.note)
    end
  end
  for _, note in ipairs(given and {} or result.figure_notes or result.notes or {}) do
    add(note)
  end
  return #list > 0 and table.concat(list, " ") or nil
end

local function shown(display, values, rows)
  local list = {}
  for i, row in ipairs(rows) do
    list[i] = show.apply(display, values[row])
  end
  return list
end

-- Rows of each value of the `by` column, in order of appearance; or all rows.
local function groups_of(result, by)
  if not by then
    local all = {}
    for row = 1, #result.columns[1].values do
      all[row] = row
    end
    return { { rows = all } }
  end
  local column, groups, known = column_of(result, by, "by"), {}, {}
  for row, value in ipairs(column.values) do
    if not known[value] then
      known[value] = { rows = {}, name = show.words(by) .. " " .. show.value(value, column) }
      if column.kind == "text" or column.kind == "choice" then
        known[value].name = show.value(value, column)
      end
      groups[#groups + 1] = known[value]
    end
    table.insert(known[value].rows, row)
  end
  return groups
end

local function group_key(column, t)
  return (column.kind or "number") .. "|" .. (column.unit or "1") .. "|" .. (t.unit or "")
end

local function provenance_of(result)
  return result.provenance and require("hairfibre.provenance").sentence(result:provenance()) or nil
end

--- options: x, y (a name, { column =, unit =, label =, scale = }, or for y a list of them), by = column
--- that tells lines apart, kind, dashed_from, dashed_below, and those of a figure.
function from_result.figure(result, options)
  if type(result) ~= "table" or type(result.columns) ~= "table" then
    misuse("plot.result: the first argument must be a result")
  end
  spec.keys(options, "x:any y:any by:string kind:string dashed_from:number dashed_below:number "
    .. "title:string marks:table source:string note:string caution:string provenance:string style:string size:any",
    "plot.result")
  local x, x_column = wanted(result, options.x, "x")
  local list = options.y
  if type(list) == "string" or type(list) == "table" and list.column then
    list = { list }
  elseif type(list) ~= "table" or #list == 0 then
    misuse("plot.result: y must be the name of a column, or a list of names")
  end
  local x_display = display_of(x, x_column, x_column.values)
  local groups, panels, order = groups_of(result, options.by), {}, {}
  for i, one in ipairs(list) do
    local t, column = wanted(result, one, "y, entry " .. i)
    local key = group_key(column, t)
    if not panels[key] then
      panels[key] = { wanted = {}, all = {}, first = t }
      order[#order + 1] = panels[key]
    end
    table.insert(panels[key].wanted, { t = t, column = column })
    table.move(column.values, 1, #column.values, #panels[key].all + 1, panels[key].all)
  end
  if #order > 2 then
    misuse("plot.result: these columns have %d different units; two panels are the most", #order)
  end
  local made = {}
  for i, panel in ipairs(order) do
    local first = panel.wanted[1]
    local display, lines = display_of(first.t, first.column, panel.all), {}
    for _, one in ipairs(panel.wanted) do
      for _, group in ipairs(groups) do
        local own = (#panel.wanted > 1 or not group.name) and (one.t.name or show.words(one.column.name))
        local name = own and group.name and own .. ", " .. group.name or own or group.name
        lines[#lines + 1] = { name = (#list > 1 or group.name or one.t.name) and name or nil,
          x = shown(x_display, x_column.values, group.rows),
          y = shown(display, one.column.values, group.rows), kind = options.kind,
          dashed_from = options.dashed_from, dashed_below = options.dashed_below }
      end
    end
    made[i] = { lines = lines, y = { unit = display.unit, scale = first.t.scale, low = first.t.low,
      high = first.t.high, label = #panel.wanted == 1 and label_of(first.t, first.column) or first.t.label
        or common_words(panel.wanted) } }
  end
  local figure = { title = options.title or result.title, marks = options.marks, source = options.source,
    note = notes_of(result, order, options.note),
    caution = options.caution or result.caution, provenance = options.provenance or provenance_of(result),
    style = options.style,
    size = options.size, x = { label = label_of(x, x_column), unit = x_display.unit, scale = x.scale,
      low = x.low, high = x.high } }
  if #made == 1 then
    figure.lines, figure.y = made[1].lines, made[1].y
  else
    figure.panels = made
  end
  return figure
end

return from_result
