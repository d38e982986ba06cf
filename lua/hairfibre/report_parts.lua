-- Parts of a report page: what figures, rings, results and treatments turn into. Every text is escaped
-- here; numbers for the page's script go out as JSON that holds no "<".

local collect = require "hairfibre.collect"
local core = require "hairfibre.core"
local history = require "hairfibre.treatment_result"
local misuse = require "hairfibre.misuse"
local quote = require("dkjson").quotestring
local series = require "hairfibre.plot_series"
local show = require "hairfibre.show"
local text = require "hairfibre.plot_text"
local xml = require("hairfibre.rings").escape

local parts = {}

local MOST_POINTS, MOST_ROWS, MOST_FRAMES, MOST_RINGS = 400, 60, 80, 24

-- ---- texts ------------------------------------------------------------------------------------------

--- Text with its line breaks, escaped.
function parts.verbatim(s)
  local out = {}
  for line in (s:gsub("\n$", "") .. "\n"):gmatch("(.-)\r?\n") do
    out[#out + 1] = xml((line:gsub("\t", "  ")))
  end
  return table.concat(out, "\n")
end

local function encoded(value, out)
  local kind = type(value)
  if kind == "table" and (value[1] ~= nil or next(value) == nil) then
    out[#out + 1] = "["
    for i = 1, #value do
      out[#out + 1] = i > 1 and "," or nil
      encoded(value[i], out)
    end
    out[#out + 1] = "]"
  elseif kind == "table" then
    local keys = {}
    for key in pairs(value) do
      keys[#keys + 1] = key
    end
    table.sort(keys)
    out[#out + 1] = "{"
    for i, key in ipairs(keys) do
      out[#out + 1] = (i > 1 and "," or "") .. quote(key) .. ":"
      encoded(value[key], out)
    end
    out[#out + 1] = "}"
  elseif kind == "number" then
    local finite = value == value and math.abs(value) < math.huge
    out[#out + 1] = finite and core.text(value, 6) or "null"
  elseif kind == "string" then
    out[#out + 1] = quote(text.clean(value)):gsub("[<>&]", { ["<"] = "\\u003c", [">"] = "\\u003e", ["&"] = "\\u0026" })
  else
    out[#out + 1] = tostring(value)
  end
  return out
end

--- JSON of lists, tables with text keys (sorted), numbers (6 digits), texts and truth values.
function parts.json(value)
  return table.concat(encoded(value, {}))
end

local function csv_link(csv, name)
  local data = csv:gsub("[^%w%-_.,\n ]", function(c)
    return ("%%%02X"):format(c:byte())
  end):gsub("[\n ]", { ["\n"] = "%0A", [" "] = "%20" })
  return ('<p><a download="%s.csv" href="data:text/csv;charset=utf-8,%s">All numbers as CSV</a></p>'):format(name, data)
end

-- head: list of { name, unit }; rows: lists of texts. The frame scrolls by itself and by keyboard.
local function table_of(caption, head, rows)
  local out = { ('<div class="wide" tabindex="0" role="region" aria-label="%s">\n<table>\n<caption>%s</caption>\n<thead><tr>')
    :format(xml(caption), xml(caption)) }
  for _, column in ipairs(head) do
    local unit = column[2] and column[2] ~= "" and " <small>(" .. xml(column[2]) .. ")</small>" or ""
    out[#out + 1] = '<th scope="col">' .. xml(column[1]) .. unit .. "</th>"
  end
  out[#out + 1] = "</tr></thead>\n<tbody>\n"
  for _, row in ipairs(rows) do
    for i, cell in ipairs(row) do
      row[i] = "<td>" .. xml(cell) .. "</td>"
    end
    out[#out + 1] = "<tr>" .. table.concat(row) .. "</tr>\n"
  end
  out[#out + 1] = "</tbody>\n</table></div>"
  return table.concat(out)
end

-- At most `most` places from 1 to n, even, the ends included.
local function places(n, most)
  local list, count = {}, math.min(n, most)
  for i = 1, count do
    list[i] = count > 1 and 1 + (i - 1) * (n - 1) // (count - 1) or 1
  end
  return list
end

-- ---- figures ----------------------------------------------------------------------------------------

local function pick(list, order)
  local picked = {}
  for i, place in ipairs(order) do
    picked[i] = list[place]
  end
  return picked
end

local function line_data(line)
  local outside, points = series.outside(line), {}
  for i, x in ipairs(line.x) do
    points[i] = { x = x, y = line.y and line.y[i] or line.low[i], i = i }
  end
  local order = {}
  for i, point in ipairs(line.kind == "line" and series.thin(points, MOST_POINTS) or points) do
    order[i] = point.i
  end
  if #order > 2 * MOST_POINTS then
    order = places(#points, 2 * MOST_POINTS)
  end
  local beyond, any = {}, false
  for i, place in ipairs(order) do
    beyond[i] = outside(place, line.x[place]) and 1 or 0
    any = any or beyond[i] == 1
  end
  return { name = line.name or "", kind = line.kind, look = line.identity, x = pick(line.x, order),
    y = line.y and pick(line.y, order), low = line.low and pick(line.low, order),
    high = line.high and pick(line.high, order), out = any and beyond or nil }
end

local function axis_data(axis)
  return { label = axis.label or "", unit = axis.unit and text.unit(axis.unit) or "", log = axis.log or false,
    low = axis.low, high = axis.high, categories = axis.categories }
end

local function named(axis, otherwise)
  return axis.label or otherwise
end

local function numbers_of(checked, panel, caption)
  local rows = {}
  for _, line in ipairs(panel.lines) do
    for _, i in ipairs(places(#line.x, 30)) do
      local x = checked.x.categories and checked.x.categories[line.x[i]] or show.number(line.x[i], 5)
      local y = line.y and show.number(line.y[i], 5) or "-"
      local range = line.low and show.number(line.low[i], 5) .. " to " .. show.number(line.high[i], 5) or nil
      rows[#rows + 1] = { line.name or line.like or panel.y.label or "values", x, line.y and range and y .. " (" .. range .. ")"
        or line.y and y or range }
    end
  end
  return table_of(caption, { { "line" }, { named(checked.x, "x"), checked.x.unit and text.unit(checked.x.unit) },
    { named(panel.y, "value"), panel.y.unit and text.unit(panel.y.unit) } }, rows)
end

local function figure_html(figure, number, piece)
  local checked = figure.checked
  local title = checked.title or "Figure"
  local out = {}
  for p, panel in ipairs(checked.panels) do
    local id = ("chart-%d-%d"):format(number, p)
    local marks, lines = {}, {}
    for _, list in ipairs { panel.marks, checked.marks } do
      for _, mark in ipairs(list) do
        marks[#marks + 1] = { x = mark.x, y = mark.y, text = mark.text }
      end
    end
    for i, line in ipairs(panel.lines) do
      lines[i] = line_data(line)
    end
    piece.data[#piece.data + 1] = { type = "chart", id = id, title = title, x = axis_data(checked.x),
      y = axis_data(panel.y), lines = lines, marks = marks }
    local caption = ("%s: %s against %s"):format(title, named(panel.y, "values"), named(checked.x, "x"))
    out[#out + 1] = ('<div class="chart" id="%s"></div>\n<details><summary>Numbers</summary>\n%s%s</details>'):format(id,
      numbers_of(checked, panel, caption), p == 1 and csv_link(figure:csv(), "figure-" .. number) or "")
  end
  local foot = {}
  for _, pair in ipairs { { "", checked.note }, { "Source: ", checked.source } } do
    foot[#foot + 1] = pair[2] and xml(pair[1] .. pair[2]) or nil
  end
  piece.picture = ('<figure aria-labelledby="figure-%d">\n<h3 id="figure-%d">%s</h3>\n%s\n<figcaption>%s</figcaption>\n</figure>')
    :format(number, number, xml(title), table.concat(out, "\n"), table.concat(foot, " "))
  piece.caution = checked.caution
end

-- ---- cross-sections ---------------------------------------------------------------------------------

local function player_html(id, title, words)
  return ('<figure aria-labelledby="%s-h">\n<h3 id="%s-h">%s</h3>\n<div class="play" id="%s"></div>\n<figcaption>%s</figcaption>\n'
    .. "</figure>"):format(id, id, xml(title), id, xml(words))
end

local function rings_html(rings, number, piece)
  local d, id, frames = rings.drawing, "play-" .. number, {}
  for i, values in ipairs(d.values) do
    local radii = d.radii[i] or d.radii[1]
    local order = places(#values, MOST_RINGS)
    frames[i] = { caption = d.captions and d.captions[i] or ("disc " .. i), radii = pick(radii, order),
      values = { pick(values, order) } }
  end
  piece.data[1] = { type = "play", id = id, title = d.title or "Cross-section", frames = frames,
    scales = { { label = d.label or "Value", unit = d.unit and text.unit(d.unit) or "", low = d.low, high = d.high } } }
  piece.play = player_html(id, d.title or "Cross-section", table.concat(d.foot, " "))
end

local function frames_of(r)
  local simulation, frames = history.simulation(r), {}
  local low, high = { math.huge, math.huge }, { -math.huge, -math.huge }
  for f, sample in ipairs(places(#r, MOST_FRAMES)) do
    local radius, regain, temperature = simulation:profile(sample)
    if not radius then
      return nil
    end
    local order, edges = places(#radius, MOST_RINGS), {}
    for i, k in ipairs(order) do
      local edge = k < #radius and 0.5 * (radius[k] + radius[k + 1]) or 0.5 * r.diameter[sample]
      edges[i] = 1e6 * edge
    end
    local lists = { pick(regain, order), pick(temperature, order) }
    for i = 1, #order do
      lists[1][i], lists[2][i] = 100 * lists[1][i], lists[2][i] - 273.15
      for k = 1, 2 do
        low[k], high[k] = math.min(low[k], lists[k][i]), math.max(high[k], lists[k][i])
      end
    end
    frames[f] = { caption = ("%s s, step %d"):format(show.number(r.time[sample], 5), math.max(1, r.step[sample] // 1 | 0)),
      radii = edges, values = lists }
  end
  for k = 1, 2 do
    if high[k] - low[k] < 1e-6 then
      low[k], high[k] = low[k] - 1, high[k] + 1
    end
  end
  return frames, low, high
end

local function treatment_html(r, number, piece)
  local frames, low, high = frames_of(r)
  local id = "play-" .. number
  if frames then
    piece.data[#piece.data + 1] = { type = "play", id = id, title = "Cross-section of the fibre", frames = frames,
      scales = { { label = "Regain", unit = "%", low = low[1], high = high[1] },
        { label = "Temperature", unit = "°C", low = low[2], high = high[2] } } }
    piece.play = player_html(id, "Cross-section of the fibre", "Discs are to one scale. The frames follow the record, "
      .. "which is denser in short steps; the time stands beside the button.")
  end
  local events = {}
  for i, event in ipairs(r.events) do
    events[i] = { show.number(event.time, 5), tostring(event.step), event.what }
  end
  piece.words = table_of("Events of the treatment", { { "time", "s" }, { "step" }, { "what" } }, events)
    .. "\n<p>Voids at the end: " .. xml(r.grade) .. ".</p>"
end

-- Charts of a treatment: the step in which it got hottest.
local function treatment_chart(r)
  local best = 1
  for i, temperature in ipairs(r.temperature_axis) do
    best = temperature > r.temperature_axis[best] and i or best
  end
  local step = math.tointeger(r.step[best]) or 1
  local ok, part = pcall(r.since, r, math.max(1, step), math.max(1, step))
  if not ok or #part < 3 then
    part, step = r, nil
  end
  return require("hairfibre.plot").result(part, { x = "time", y = { "temperature_axis", "temperature_surface",
    "regain_axis", "regain_surface" }, note = table.concat(r.notes, " "),
    title = step and ("The fibre in step %d, its hottest"):format(step) or "The fibre in time" })
end

-- ---- results ----------------------------------------------------------------------------------------

local MAIN = { "time", "step", "regain", "temperature_axis", "pressure_peak", "void_growth", "helix", "tryptophan",
  "disulfide" }

local function result_html(r, number, piece)
  local columns, head = r.columns, {}
  if history.is(r) then
    columns = {}
    for i, name in ipairs(MAIN) do
      columns[i] = r:column(name)
    end
  end
  local order, rows = places(#r, MOST_ROWS), {}
  for c, column in ipairs(columns) do
    local worded = column.kind == "text" or column.kind == "choice"
    local display = show.display(column, column.kind == "text" and {} or column.values)
    head[c] = { show.words(column.name), display.unit }
    for i, place in ipairs(order) do
      local x = column.values[place]
      rows[i] = rows[i] or {}
      rows[i][c] = worded and show.value(x, column) or x == x and show.number(show.apply(display, x), 5) or "-"
    end
  end
  local title = r.title or history.is(r) and "Record of the treatment" or "Table " .. number
  local more = #order < #r and ("<p>%d of %d rows are shown, evenly.</p>"):format(#order, #r) or ""
  piece.table = "<h3>" .. xml(title) .. "</h3>\n" .. table_of(title, head, rows) .. more .. csv_link(r:csv(), "table-" .. number)
  piece.caution, piece.notes = r.caution, r.notes
end

-- ---- all ----------------------------------------------------------------------------------------------

--- The part as it is, or misuse.
function parts.check(part, what)
  local meta = getmetatable(part)
  local name = type(meta) == "table" and meta.__name
  if type(part) == "string" or name == "hairfibre.figure" or name == "hairfibre.rings"
    or type(part) == "table" and type(part.columns) == "table" and part.csv then
    return part
  end
  misuse("%s must be a figure, rings, a result, a treatment or a text", what)
end

--- { picture =, play =, table =, words =, data = list, caution =, notes = } of part number `number`.
function parts.html(part, number)
  local piece = { data = {} }
  part = collect.real(part)
  local meta = getmetatable(part)
  if type(part) == "string" then
    piece.words = "<p>" .. xml(part) .. "</p>"
  elseif meta.__name == "hairfibre.figure" then
    figure_html(part, number, piece)
  elseif meta.__name == "hairfibre.rings" then
    rings_html(part, number, piece)
  else
    if history.is(part) then
      figure_html(treatment_chart(part), number, piece)
      treatment_html(part, number, piece)
    end
    result_html(part, number, piece)
  end
  return piece
end

return parts
