-- Figures of a fit: the curve with its bands over the points, and what the residuals say.

local answers = require "hairfibre.fit.answers"
local misuse = require "hairfibre.misuse"
local show = require "hairfibre.show"
local suggest = require "hairfibre.suggest"

local figures = {}

local KINDS = { "fit", "residuals", "order", "quantiles", "leverage", "region", "survival" }
local OPTIONS = { "title", "style", "size", "first", "second", "level", "bands" }
local POINTS = 161

local function phrase(name)
  return show.capital(show.words(name))
end

-- A way to show SI values: axis { label, unit } and a function from a list to the shown list.
local function shown_as(axis, values, name)
  local kind = axis.kind
  if name and kind == "temperature" then
    kind = "number" -- a difference of temperatures, in kelvin
  end
  local display = show.display({ unit = axis.unit, kind = kind }, values)
  local function convert(list)
    local out = {}
    for i, x in ipairs(list) do
      out[i] = show.apply(display, x)
    end
    return out
  end
  return { label = phrase(name or axis.name), unit = display.unit ~= "" and display.unit or nil }, convert
end

local function select_rows(column, group, g)
  local list = {}
  for i, x in ipairs(column) do
    if not group or group[i] == g then
      list[#list + 1] = x
    end
  end
  return list
end

local MOST_POINTS = 5000

-- A picture has room for so many points: every k-th row of a longer table, and a sentence about it.
local function thinned(r)
  local n = #r
  if n <= MOST_POINTS then
    return r
  end
  local every, columns = math.ceil(n / MOST_POINTS), {}
  for c, column in ipairs(r.columns) do
    columns[c] = { name = column.name, unit = column.unit, kind = column.kind, values = {} }
    for i = 1, n, every do
      table.insert(columns[c].values, column.values[i])
    end
  end
  local short = require("hairfibre.result").new { columns = columns }
  short.every = every
  return short, (" Drawn: one in %d of %d points."):format(every, n)
end

local function percent(level)
  return ("%g %%"):format(100 * level)
end

-- ---- the fit ----------------------------------------------------------------------------------------------

-- Parameters as one sentence.
local function note_of(f)
  local parts = {}
  local report = require "hairfibre.fit.report"
  for _, p in ipairs(f.parameters) do
    local cells = report.cells(p)
    local unit = cells[5] ~= "" and " " .. cells[5] or ""
    parts[#parts + 1] = p.fixed and ("%s %s%s (fixed)"):format(p.name, cells[1], unit)
      or ("%s %s (%s to %s)%s"):format(p.name, cells[1], cells[3], cells[4], unit)
  end
  return table.concat(parts, "; ") .. "."
end

local function model_word(f)
  return show.words(f.model)
end

local function title_of(f)
  local spec = f:inside()
  local what = f.model == "function" and "a function" or model_word(f)
  return f.title or ("Fit to %s: %s"):format(show.words(spec.y_axis.name), what)
end

local function lines_of_group(f, r, curve, word, axes, bands)
  local name = word
  local rows = word and r:column("group").values
  local x = axes.x(select_rows(r.columns[1].values, rows, word))
  local lines = { { name = name or "measured", kind = "points", x = x,
    y = axes.y(select_rows(r:column("measured").values, rows, word)) } }
  local at = word and curve:column("group").values
  local cx = axes.x(select_rows(curve.columns[1].values, at, word))
  local cy = axes.y(select_rows(curve:column(axes.answer).values, at, word))
  for _, band in ipairs(bands) do
    local low, high = curve:column(band[1] .. "_low"), curve:column(band[1] .. "_high")
    if low then
      -- the band of new measurements has a colour of its own, or nobody could tell the two apart
      lines[#lines + 1] = { name = not word and band[2] or nil, kind = "band", x = cx,
        like = (word or band[1] == "confidence") and (word or "measured") or nil,
        low = axes.y(select_rows(low.values, at, word)), high = axes.y(select_rows(high.values, at, word)) }
    end
  end
  lines[#lines + 1] = { name = not word and (f.model == "function" and "fitted" or model_word(f)) or nil,
    like = word or "measured", x = cx, y = cy }
  return lines, x
end

local function fit_figure(f, options)
  local spec = f:inside()
  if spec.columns > 1 then
    misuse("plot: a model of several x has no curve; ask for \"residuals\"")
  end
  local r, message, code = answers.residuals(f)
  if not r then
    return nil, message, code
  end
  local left_out
  r, left_out = thinned(r)
  local curve
  curve, message, code = answers.curve(f, { count = POINTS, level = options.level })
  if not curve then
    return nil, message, code
  end
  local level = options.level or spec.level
  local wanted = options.bands == false and {} or { { "prediction", percent(level) .. " of new measurements" },
    { "confidence", percent(level) .. " of the curve" } }
  if #spec.groups > 1 then
    table.remove(wanted, 1)
  end
  local x_axis, to_x = shown_as(spec.x_axis[1], r.columns[1].values)
  local y_axis, to_y = shown_as(spec.y_axis, r:column("measured").values)
  local residual_axis, to_residual = shown_as(spec.y_axis, r:column("residual").values, "residual")
  local axes = { x = to_x, y = to_y, answer = curve.columns[#spec.groups > 0 and 3 or 2].name }
  local lines, residual_lines = {}, {}
  for _, word in ipairs(#spec.groups > 0 and spec.groups or { false }) do
    local own, x = lines_of_group(f, r, curve, word or nil, axes, wanted)
    table.move(own, 1, #own, #lines + 1, lines)
    residual_lines[#residual_lines + 1] = { like = word or "measured", kind = "points", x = x,
      y = to_residual(select_rows(r:column("residual").values, word and r:column("group").values, word)) }
  end
  return { title = options.title or title_of(f), x = x_axis,
    panels = { { y = y_axis, lines = lines }, { y = residual_axis, share = 0.6, lines = residual_lines, marks = { { y = 0 } } } },
    note = note_of(f) .. (left_out or "") }
end

-- ---- residuals --------------------------------------------------------------------------------------------

local function by_group(spec, r, x, y)
  local lines = {}
  for _, word in ipairs(#spec.groups > 0 and spec.groups or { false }) do
    local rows = word and r:column("group").values
    lines[#lines + 1] = { name = word or nil, kind = "points", x = select_rows(x, rows, word or nil),
      y = select_rows(y, rows, word or nil) }
  end
  return lines
end

local makers = {}

function makers.residuals(_, spec, r)
  local x_axis, to_x = shown_as({ name = "fitted " .. spec.y_axis.name, unit = spec.y_axis.unit, kind = spec.y_axis.kind },
    r:column("fitted").values)
  return { x = x_axis, y = { label = "Standardised residual" }, marks = { { y = 0 } },
    lines = by_group(spec, r, to_x(r:column("fitted").values), r:column("standardised").values) }, "residuals against the fit"
end

function makers.order(_, spec, r)
  local order = {}
  for i = 1, #r do
    order[i] = (i - 1) * (rawget(r, "every") or 1) + 1
  end
  return { x = { label = "Number of the point" }, y = { label = "Standardised residual" }, marks = { { y = 0 } },
    lines = by_group(spec, r, order, r:column("standardised").values) }, "residuals in the order of the points"
end

function makers.quantiles(_, spec, r)
  local q, s = r:column("quantile").values, r:column("standardised").values
  local low, high = math.huge, -math.huge
  for _, x in ipairs(q) do
    if x == x then
      low, high = math.min(low, x), math.max(high, x)
    end
  end
  local lines = by_group(spec, r, q, s)
  lines[1].name = lines[1].name or "points"
  if low < high then
    lines[#lines + 1] = { name = "normal errors", like = lines[1].name, x = { low, high }, y = { low, high } }
  end
  return { x = { label = "Quantile of the normal law" }, y = { label = "Standardised residual" }, lines = lines },
    "quantiles of the residuals"
end

function makers.leverage(f, spec, r)
  return { x = { label = "Leverage", low = 0 }, y = { label = "Standardised residual" },
    marks = { { y = 0 }, { x = 2 * f.free / f.points, text = "twice the mean" } },
    lines = by_group(spec, r, r:column("leverage").values, r:column("standardised").values) }, "leverage of the points"
end

-- ---- region -----------------------------------------------------------------------------------------------

local function region_figure(f, options)
  local first, second = options.first, options.second
  if not first then
    local free = {}
    for _, p in ipairs(f.parameters) do
      if not p.fixed then
        free[#free + 1] = p.name
      end
    end
    if #free < 2 then
      misuse("plot: a region needs two free parameters")
    end
    first, second = free[1], second or free[2]
  end
  local r, message, code = answers.region(f, first, second, { level = options.level, count = 180 })
  if not r then
    return nil, message, code
  end
  local a, b = r.columns[1], r.columns[2]
  local x_axis, to_x = shown_as({ name = first, unit = a.unit, kind = "number" }, a.values)
  local y_axis, to_y = shown_as({ name = second, unit = b.unit, kind = "number" }, b.values)
  local x, y = to_x(a.values), to_y(b.values)
  x[#x + 1], y[#y + 1] = x[1], y[1]
  return { title = options.title or title_of(f) .. ", joint region", x = x_axis, y = y_axis,
    lines = { { name = "best fit", kind = "points", x = to_x { r.first }, y = to_y { r.second } },
      { name = percent(r.level) .. " joint region", like = "best fit", x = x, y = y } },
    note = r.open > 0 and ("Open in %d of %d directions."):format(r.open, #a.values) or nil }
end

-- ---- lives ------------------------------------------------------------------------------------------------

-- ln(-ln(1 - F)) against life: a straight line for Weibull.
local function survival_figure(f, options)
  local spec = f:inside()
  local life = require "hairfibre.fit.life"
  local lines, panels = {}, nil
  if f.model == "weibull" then
    local scale, shape = f.parameters[1].value, f.parameters[2].value
    local y_axis, to_x = shown_as(spec.y_axis, spec.y)
    local lives, shares = life.broken_shares(spec.y, spec.observed)
    local x, y, cx, cy = to_x(lives), {}, {}, {}
    for i, share in ipairs(shares) do
      y[i] = math.log(-math.log(1 - share))
    end
    local low, high = math.huge, 0
    for _, t in ipairs(spec.y) do
      low, high = math.min(low, t), math.max(high, t)
    end
    for i = 0, 40 do
      local t = low * (high / low) ^ (i / 40)
      cx[i + 1], cy[i + 1] = t, shape * math.log(t / scale)
    end
    lines = { { name = "broken", kind = "points", x = x, y = y },
      { name = "Weibull", like = "broken", x = to_x(cx), y = cy } }
    y_axis.scale = low > 0 and high > 3 * low and "log" or nil
    return { title = options.title or f.title or "Weibull plot", x = y_axis, y = { label = "ln(-ln(share whole))" },
      lines = lines, marks = { { y = 0, text = "63 % broken" } }, note = note_of(f) .. (" %d broke, %d survived."):format(
        f.broken, f.survivors) }, panels
  end
  local x_axis, to_x = shown_as(spec.x_axis[1], spec.x)
  local broke, survived = { x = {}, y = {} }, { x = {}, y = {} }
  local low, high = math.huge, 0
  for i, y in ipairs(spec.y) do
    local to = spec.observed[i] == 1 and broke or survived
    to.x[#to.x + 1], to.y[#to.y + 1] = spec.x[i], y
    low, high = math.min(low, spec.x[i]), math.max(high, spec.x[i])
  end
  local p, cx, median = f.parameters, {}, {}
  for i = 0, 60 do
    local stress = low * (high / low) ^ (i / 60)
    cx[i + 1] = stress
    median[i + 1] = math.exp(p[1].value - p[2].value * math.log(stress / f.reference)) * math.log(2) ^ (1 / p[3].value)
  end
  lines[1] = { name = "broke", kind = "points", x = to_x(broke.x), y = broke.y }
  if #survived.x > 0 then
    lines[2] = { name = "survived", kind = "points", x = to_x(survived.x), y = survived.y }
  end
  lines[#lines + 1] = { name = "median life", like = "broke", x = to_x(cx), y = median }
  return { title = options.title or f.title or "Life line", x = x_axis, y = { label = phrase(spec.y_axis.name), scale = "log" },
    lines = lines, note = note_of(f) }
end

-- ---- all --------------------------------------------------------------------------------------------------

--- Description of a figure for plot.figure; or nil, sentence, code.
function figures.describe(f, kind, options)
  local spec = f:inside()
  kind = kind or (spec.observed and "survival" or "fit")
  local known = false
  for _, word in ipairs(KINDS) do
    known = known or word == kind
  end
  if not known then
    misuse("plot: there is no figure \"%s\"%s", tostring(kind), suggest.hint(tostring(kind), KINDS))
  elseif spec.observed and kind == "fit" then
    kind = "survival"
  elseif (spec.observed ~= nil) ~= (kind == "survival") then
    misuse("plot: the figure \"%s\" does not belong to the model %s", kind, f.model)
  end
  for _, key in ipairs(suggest.sorted_keys(options or {})) do
    local found = false
    for _, name in ipairs(OPTIONS) do
      found = found or name == key
    end
    if not found then
      misuse("plot has no option \"%s\"%s", tostring(key), suggest.hint(tostring(key), OPTIONS))
    end
  end
  options = options or {}
  local described, message, code
  if kind == "fit" then
    described, message, code = fit_figure(f, options)
  elseif kind == "region" then
    described, message, code = region_figure(f, options)
  elseif kind == "survival" then
    described, message, code = survival_figure(f, options)
  else
    local r
    r, message, code = answers.residuals(f)
    if r then
      local title, left_out
      r, left_out = thinned(r)
      described, title = makers[kind](f, spec, r)
      described.note = left_out and left_out:gsub("^ ", "") or nil
      described.title = options.title or title_of(f) .. ", " .. title
    end
  end
  if not described then
    return nil, message, code
  end
  described.style, described.size, described.caution = options.style, options.size, f.caution
  described.provenance = require("hairfibre.provenance").sentence(require("hairfibre.fit").origin(f))
  return described
end

--- The figure itself.
function figures.figure(f, kind, options)
  local described, message, code = figures.describe(f, kind, options)
  if not described then
    return nil, message, code
  end
  return require("hairfibre.plot").figure(described, function(path)
    return require("hairfibre.fit.save").refuse(f, path)
  end)
end

figures.kinds = KINDS

return figures
