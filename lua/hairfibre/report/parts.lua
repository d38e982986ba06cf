-- Parts of a report page: what figures, rings, drawings, results and treatments turn into.

local charts = require "hairfibre.report.chart"
local collect = require "hairfibre.collect"
local core = require "hairfibre.core"
local history = require "hairfibre.treatment.result"
local html = require "hairfibre.report.html"
local misuse = require "hairfibre.misuse"
local series = require "hairfibre.plot.series"
local show = require "hairfibre.show"
local text = require "hairfibre.plot.text"

local parts = {}

local xml = html.xml
local MOST_POINTS, MOST_ROWS, MOST_FRAMES, MOST_RINGS, MOST_NUMBERS = 400, 60, 80, 24, 30

-- At most `most` places from 1 to n, even, the ends included.
local function places(n, most)
  local list, count = {}, math.min(n, most)
  for i = 1, count do
    list[i] = count > 1 and 1 + (i - 1) * (n - 1) // (count - 1) or 1
  end
  return list
end

local function pick(list, order)
  local picked = {}
  for i, place in ipairs(order) do
    picked[i] = list[place]
  end
  return picked
end

-- ---- figures ----------------------------------------------------------------------------------------

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

-- All lines of a panel at the same places, and nothing but plain values: they fit one table side by side.
local function side_by_side(lines)
  for _, line in ipairs(lines) do
    if not line.y or line.low or #line.x ~= #lines[1].x then
      return false
    end
    for i, x in ipairs(line.x) do
      if x ~= lines[1].x[i] then
        return false
      end
    end
  end
  return #lines <= 6
end

local function cell(x)
  return x == x and show.number(x, 5) or "-"
end

local function numbers_of(checked, panel, caption)
  local x_head = { checked.x.label or checked.x.categories and "group" or "x", checked.x.unit and text.unit(checked.x.unit), not checked.x.categories }
  local unit, rows = panel.y.unit and text.unit(panel.y.unit), {}
  local function place(line, i)
    return checked.x.categories and checked.x.categories[line.x[i]] or cell(line.x[i])
  end
  if side_by_side(panel.lines) then
    local head, first = { x_head }, panel.lines[1]
    for k, line in ipairs(panel.lines) do
      head[k + 1] = { line.name or panel.y.label or "value", unit, true }
    end
    for r, i in ipairs(places(#first.x, MOST_NUMBERS)) do
      rows[r] = { place(first, i) }
      for k, line in ipairs(panel.lines) do
        rows[r][k + 1] = cell(line.y[i])
      end
    end
    return html.table(caption, head, rows)
  end
  for _, line in ipairs(panel.lines) do
    for _, i in ipairs(places(#line.x, MOST_NUMBERS)) do
      local y = line.y and cell(line.y[i])
      local range = line.low and cell(line.low[i]) .. " to " .. cell(line.high[i])
      rows[#rows + 1] = { line.name or line.like or panel.y.label or "values", place(line, i),
        y and range and y .. " (" .. range .. ")" or y or range }
    end
  end
  return html.table(caption, { { "line" }, x_head, { panel.y.label or "value", unit, true } }, rows)
end

local function figure_html(figure, number, piece)
  figure = collect.real(figure)
  local checked = figure.checked
  local title = checked.title or "Figure"
  local out = {}
  for p, panel in ipairs(checked.panels) do
    local id = ("chart-%s-%d"):format(number, p)
    local marks, lines = {}, {}
    for _, list in ipairs { panel.marks, checked.marks } do
      for _, mark in ipairs(list) do
        marks[#marks + 1] = { x = mark.x, y = mark.y, text = mark.text }
      end
    end
    for i, line in ipairs(panel.lines) do
      lines[i] = line_data(line)
    end
    piece.data[#piece.data + 1] = { type = "chart", id = id, title = title, lying = checked.sideways or nil, x = axis_data(checked.x),
      y = axis_data(panel.y), lines = lines, marks = marks }
    local caption = ("%s: %s against %s"):format(title, panel.y.label or "values", checked.x.label or "x")
    out[#out + 1] = ('<div class="chart" id="%s"></div>\n<details><summary>Numbers</summary>\n%s%s</details>'):format(id,
      numbers_of(checked, panel, caption), p == 1 and html.csv(figure:csv(), "figure-" .. number) or "")
  end
  local foot = {}
  foot[#foot + 1] = checked.note and (checked.note:gsub("[^.!?]$", "%0."))
  foot[#foot + 1] = checked.source and (checked.source:lower():find("^source") and "" or "Source: ") .. checked.source
  piece.picture[#piece.picture + 1] = ('<figure aria-labelledby="figure-%s">\n<h3 id="figure-%s">%s</h3>\n%s\n<figcaption>%s'
    .. "</figcaption>\n</figure>"):format(number, number, xml(title), table.concat(out, "\n"), xml(table.concat(foot, " ")))
  piece.cautions[#piece.cautions + 1] = checked.caution
  piece.origin[#piece.origin + 1] = checked.provenance
  for word in (checked.source or ""):gmatch("[%w][%w%-]*") do
    piece.sources[#piece.sources + 1] = core.source(word) and word or nil
  end
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
  local title = d.title or "Cross-section"
  piece.data[1] = { type = "play", id = id, title = title, frames = frames, scales = { { label = d.label or "Value",
    unit = d.unit and text.unit(d.unit) or "", low = d.low, high = d.high } } }
  local words = {}
  for _, line in ipairs(d.foot) do
    local caution = line:match "^Caution: (.*)"
    local into = caution and piece.cautions or line == text.clean(rings.origin) and piece.origin or words
    into[#into + 1] = caution or line
  end
  piece.play[1] = player_html(id, title, table.concat(words, " "))
end

local function step_words(r, step)
  local name = ("step %d"):format(step)
  for _, row in ipairs(r.settings or {}) do
    if row[1] == name then
      return name .. " (" .. row[2]:match("^[^:]+") .. ")"
    end
  end
  return name
end

-- To 4 digits: what colours and words show.
local function rounded(x)
  return core.number(core.text(x, 4)) or x
end

-- Frames of the record and the limits of regain (%) and temperature (degC); nil when no profiles were kept.
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
      edges[i] = rounded(1e6 * edge)
    end
    local lists = { pick(regain, order), pick(temperature, order) }
    for i = 1, #order do
      lists[1][i], lists[2][i] = rounded(100 * lists[1][i]), rounded(lists[2][i] - 273.15)
      for k = 1, 2 do
        low[k], high[k] = math.min(low[k], lists[k][i]), math.max(high[k], lists[k][i])
      end
    end
    local step = math.max(1, r.step[sample] // 1 | 0)
    frames[f] = { caption = ("%s s, %s"):format(show.number(r.time[sample], 5), step_words(r, step)),
      radii = edges, values = lists }
  end
  for k = 1, 2 do
    if high[k] - low[k] < 1e-6 then
      low[k], high[k] = low[k] - 1, high[k] + 1
    end
  end
  return frames, low, high
end

local function treatment_html(r, number, piece, name)
  for i, figure in ipairs(charts.of_treatment(r, name)) do
    figure_html(figure, number .. "-" .. i, piece)
  end
  local frames, low, high = frames_of(r)
  local id, title = "play-" .. number, name .. ": cross-section"
  if frames then
    piece.data[#piece.data + 1] = { type = "play", id = id, title = title, frames = frames,
      scales = { { label = "Regain", unit = "%", low = low[1], high = high[1] },
        { label = "Temperature", unit = "°C", low = low[2], high = high[2] } } }
    piece.play[1] = player_html(id, title, "Discs are to one scale. The frames follow the record, "
      .. "which is denser in short steps; the time stands beside the button.")
  end
  local events = {}
  for i, event in ipairs(r.events) do
    events[i] = { show.number(event.time, 5), tostring(event.step), event.what }
  end
  piece.words[1] = html.table(name .. ": events", { { "time", "s", true }, { "step", nil, true }, { "what" } }, events)
    .. "\n<p>Voids at the end: " .. xml(r.grade) .. ".</p>"
end

-- ---- results ----------------------------------------------------------------------------------------

local MAIN = { "time", "step", "regain", "temperature_axis", "pressure_peak", "void_growth", "helix", "tryptophan",
  "disulfide" }

local function result_html(r, number, piece, name)
  local columns, head = r.columns, {}
  if history.is(r) then
    columns = {}
    for _, wanted in ipairs(MAIN) do
      columns[#columns + 1] = r:column(wanted)
    end
  end
  local order, rows = places(#r, MOST_ROWS), {}
  for c, column in ipairs(columns) do
    local worded = column.kind == "text" or column.kind == "choice"
    local display = show.display(column, column.kind == "text" and {} or column.values)
    head[c] = { show.words(column.name), display.unit, not worded }
    for i, place in ipairs(order) do
      local x = column.values[place]
      rows[i] = rows[i] or {}
      rows[i][c] = worded and show.value(x, column) or cell(show.apply(display, x))
    end
  end
  local more = #order < #r and ("<p>%d of %d rows are shown, evenly.</p>"):format(#order, #r) or ""
  piece.table[1] = "<h3>" .. xml(name) .. "</h3>\n" .. html.table(name, head, rows, true) .. more
    .. html.csv(r:csv(), "table-" .. number)
  piece.cautions[#piece.cautions + 1] = r.caution
  for _, note in ipairs(r.notes or {}) do
    piece.notes[#piece.notes + 1] = note
  end
  local quantities = {}
  for _, quantity in ipairs(core.quantities()) do
    quantities[quantity.name] = quantity
  end
  for _, column in ipairs(columns) do
    for _, key in ipairs(quantities[column.name] and quantities[column.name].sources or {}) do
      piece.sources[#piece.sources + 1] = key
    end
  end
end

local function drawing_html(drawing, number, piece)
  local svg = drawing:svg():gsub("^<%?xml.-%?>%s*", "")
  piece.picture[1] = ('<figure aria-label="%s">\n<div class="drawing">%s</div>\n</figure>'):format("Drawing " .. number, svg)
end

-- ---- all ----------------------------------------------------------------------------------------------

local function kind_of(part)
  part = collect.real(part)
  local meta = type(part) == "table" and getmetatable(part)
  local name = type(meta) == "table" and meta.__name
  if type(part) == "string" then
    return "words"
  elseif name == "hairfibre.figure" or name == "hairfibre.rings" or name == "hairfibre.card" then
    return name
  elseif name == "hairfibre.result" then
    return "result"
  end
end

--- The part as it is, or misuse.
function parts.check(part, what)
  if not kind_of(part) then
    misuse("%s must be a figure, rings, a card, a result, a treatment or a text", what)
  end
  return part
end

local makers = { ["hairfibre.figure"] = figure_html, ["hairfibre.rings"] = rings_html, ["hairfibre.card"] = drawing_html }

--- What part number `number` becomes: lists of HTML picture, play, table, words; data for the script; cautions,
--- notes, source keys. name: what it is called, or nil; drawn: draw a chart of a plain result, too.
function parts.html(part, number, name, drawn)
  local piece = { data = {}, picture = {}, play = {}, table = {}, words = {}, cautions = {}, notes = {}, sources = {},
    origin = {} }
  part = collect.real(part)
  local kind = kind_of(part)
  if kind == "words" then
    piece.words[1] = html.paragraphs(part)
  elseif makers[kind] then
    makers[kind](part, tostring(number), piece)
  else
    local treated = history.is(part)
    name = part.title or name or (treated and "Treatment " or "Table ") .. number
    if treated then
      treatment_html(part, tostring(number), piece, name)
    elseif drawn then
      local figure = charts.of_result(part, name)
      if figure then
        figure_html(figure, tostring(number), piece)
      end
    end
    result_html(part, tostring(number), piece, name)
  end
  return piece
end

return parts
