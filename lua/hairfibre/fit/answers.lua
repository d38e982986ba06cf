-- What a fit can be asked further: residuals, curve with bands, the joint region of two parameters, bootstrap,
-- comparison of models. Each answer is a result: print it, save it, read its columns.

local core = require "hairfibre.core"
local data = require "hairfibre.fit.data"
local misuse = require "hairfibre.misuse"
local read = require "hairfibre.fit.read"
local result = require "hairfibre.result"
local suggest = require "hairfibre.suggest"

local answers = {}

local function fit_of(f, what)
  return require("hairfibre.fit").inside(f, what)
end

local function origin_of(f, ...)
  return require("hairfibre.fit").origin(f, ...)
end

local function check_keys(options, known, what)
  if options ~= nil and type(options) ~= "table" then
    misuse("%s takes a table of options, not a %s", what, type(options))
  end
  for _, key in ipairs(suggest.sorted_keys(options or {})) do
    local found = false
    for _, name in ipairs(known) do
      found = found or name == key
    end
    if not found then
      misuse("%s has no option \"%s\"%s", what, tostring(key), suggest.hint(tostring(key), known))
    end
  end
  return options or {}
end

local function no_likelihood(spec, what)
  if spec.observed then
    misuse("%s is for least-squares fits; this one is by likelihood", what)
  end
end

-- A name that fits into the header of a file.
local function header(name)
  return (name:gsub("[%s,;\"%[%]]+", "_"):gsub("_+$", ""))
end

local function x_columns(spec, flat)
  local columns = {}
  for k = 1, spec.columns do
    local values, axis = {}, spec.x_axis[k]
    for i = 1, #flat // spec.columns do
      values[i] = flat[(i - 1) * spec.columns + k]
    end
    columns[k] = { name = header(axis.name), unit = axis.unit, kind = axis.kind, values = values }
  end
  return columns
end

-- y in the same units as the data, or of differences of it.
local function y_column(spec, name, values, difference)
  local kind = spec.y_axis.kind
  if difference and kind == "temperature" then
    kind = "temperature difference"
  end
  return { name = name, unit = spec.y_axis.unit, kind = kind, values = values }
end

local function groups_of(spec, group)
  local words = {}
  for i, g in ipairs(group) do
    words[i] = spec.groups[g]
  end
  return { name = "group", kind = "text", unit = "", values = words }
end

-- Two columns never have one name: an x called "fitted" becomes fitted_2.
local function unique(columns)
  local seen = {}
  for i = #columns, 1, -1 do
    local name, n = columns[i].name, 1
    while seen[columns[i].name] do
      n = n + 1
      columns[i].name = name .. "_" .. n
    end
    seen[columns[i].name] = true
  end
  return columns
end

-- ---- residuals ------------------------------------------------------------------------------------------

--- Standard normal quantiles that belong to the ranks of values (Blom's plotting positions).
function answers.normal_scores(values)
  local order, scores, n = {}, {}, 0
  for i, x in ipairs(values) do
    if x == x then
      n = n + 1
      order[n] = i
    end
    scores[i] = 0 / 0
  end
  table.sort(order, function(a, b)
    return values[a] < values[b] or (values[a] == values[b] and a < b)
  end)
  for rank, i in ipairs(order) do
    scores[i] = core.normal_quantile((rank - 0.375) / (n + 0.25))
  end
  return scores
end

--- Columns: x, measured, fitted, residual, standardised, leverage, quantile, and, where they exist, group and
--- weight (of the robust loss).
function answers.residuals(f)
  local handle, spec = fit_of(f, "residuals")
  no_likelihood(spec, "residuals")
  local fitted, residual, standardised, leverage, weight = handle:points()
  if not fitted then
    return nil, residual, standardised
  end
  local columns = x_columns(spec, spec.x)
  if spec.group then
    columns[#columns + 1] = groups_of(spec, spec.group)
  end
  columns[#columns + 1] = y_column(spec, "measured", table.move(spec.y, 1, #spec.y, 1, {}))
  columns[#columns + 1] = y_column(spec, "fitted", fitted)
  columns[#columns + 1] = y_column(spec, "residual", residual, true)
  columns[#columns + 1] = { name = "standardised", unit = "1", values = standardised }
  columns[#columns + 1] = { name = "leverage", unit = "1", values = leverage }
  columns[#columns + 1] = { name = "quantile", unit = "1", values = answers.normal_scores(standardised) }
  if spec.robust then
    columns[#columns + 1] = { name = "robust_weight", unit = "1", values = weight }
  end
  return result.new { title = "Residuals of " .. f.model, columns = unique(columns), origin = origin_of(f) }
end

-- ---- curve and bands --------------------------------------------------------------------------------------

-- Groups by number from words; all rows one group when a single word is given.
local function group_numbers(spec, given, rows)
  if #spec.groups == 0 then
    return nil
  end
  local number, list = {}, {}
  for g, word in ipairs(spec.groups) do
    number[word] = g
  end
  for i = 1, rows do
    local word = type(given) == "table" and given[i] or given
    list[i] = number[type(word) == "number" and core.text(word) or word]
    if not list[i] then
      misuse("group: which one? The groups are %s", suggest.list(spec.groups, "and"))
    end
  end
  return list
end

--- The fitted curve with confidence band (of the curve) and prediction band (of one more measurement) at new x.
--- options: x, group, sigma (of the new measurements), level. Columns: x, the model's answer, confidence_low, _high,
--- prediction_low, _high; without bands where the covariance is not known.
function answers.bands(f, options)
  local handle, spec = fit_of(f, "bands")
  no_likelihood(spec, "bands")
  options = check_keys(options, { "x", "group", "sigma", "level" }, "bands")
  if type(options.x) ~= "table" then
    misuse("bands needs x = { numbers }")
  end
  local flat = data.rows(options.x, spec.x_axis, spec.columns)
  local rows = #flat // spec.columns
  local sigma = options.sigma
  if type(sigma) == "number" then
    local one = sigma
    sigma = {}
    for i = 1, rows do
      sigma[i] = one
    end
  end
  local group = group_numbers(spec, options.group, rows)
  local value, confidence, prediction = handle:bands(flat, sigma, group, read.level(options.level or spec.level))
  if not value then
    return nil, confidence, prediction
  end
  local columns = x_columns(spec, flat)
  if group then
    columns[#columns + 1] = groups_of(spec, group)
  end
  columns[#columns + 1] = y_column(spec, header(spec.y_axis.name), value)
  for _, pair in ipairs { { "confidence", confidence }, { "prediction", prediction } } do
    if pair[2] then
      local low, high = {}, {}
      for i, x in ipairs(value) do
        low[i], high[i] = x - pair[2][i], x + pair[2][i]
      end
      columns[#columns + 1] = y_column(spec, pair[1] .. "_low", low)
      columns[#columns + 1] = y_column(spec, pair[1] .. "_high", high)
    end
  end
  return result.new { title = "Curve of " .. f.model, columns = unique(columns), origin = origin_of(f) }
end

--- The curve at `count` (101) evenly spaced x, from the lowest to the highest measured x or from `low` to `high`.
--- options: low, high, count, group (all groups when not given), sigma, level.
function answers.curve(f, options)
  local _, spec = fit_of(f, "curve")
  no_likelihood(spec, "curve")
  options = check_keys(options, { "low", "high", "count", "group", "sigma", "level" }, "curve")
  if spec.columns > 1 then
    misuse("curve needs a model of one x; ask bands{ x = rows } here")
  end
  local least, most = math.huge, -math.huge
  for _, x in ipairs(spec.x) do
    least, most = math.min(least, x), math.max(most, x)
  end
  local ends = data.rows({ options.low or least, options.high or most }, spec.x_axis, 1)
  local count = read.whole(options.count, "count", 2, 100000, 101)
  local x, group = {}, #spec.groups > 0 and {} or nil
  for _, word in ipairs(group and (options.group and { options.group } or spec.groups) or { "" }) do
    for i = 0, count - 1 do
      x[#x + 1] = i == count - 1 and ends[2] or ends[1] + (ends[2] - ends[1]) * i / (count - 1)
      if group then
        group[#group + 1] = word
      end
    end
  end
  return answers.bands(f, { x = x, group = group, sigma = options.sigma, level = options.level })
end

-- ---- two parameters together ------------------------------------------------------------------------------

local function place_of(f, name)
  local names = {}
  for i, p in ipairs(f.parameters) do
    if p.name == name then
      return i
    end
    names[i] = p.name
  end
  misuse("region: the fit has no parameter \"%s\"%s", tostring(name), suggest.hint(tostring(name), names))
end

local function parameter_column(p, values)
  return { name = header(p.name), unit = p.unit, kind = "number", values = values, text = p.text }
end

--- Edge of the joint region of two parameters (likelihood, the others re-fitted): f:region("activation_energy",
--- "log_prefactor", { level =, count = }). Directions in which it is open have no number; `open` counts them.
function answers.region(f, first, second, options)
  local handle, spec = fit_of(f, "region")
  no_likelihood(spec, "region")
  options = check_keys(options, { "level", "count" }, "region")
  if first == nil and second == nil and #f.parameters == 2 then
    first, second = f.parameters[1].name, f.parameters[2].name
  end
  local i, j = place_of(f, first), place_of(f, second)
  if i == j then
    misuse("region needs two different parameters")
  end
  local level = read.level(options.level or spec.level)
  local a, b, open = handle:region(i, j, level, read.whole(options.count, "count", 8, 10000, 72))
  if not a then
    return nil, b, open
  end
  local r = result.new { title = ("Joint region of %s and %s"):format(first, second),
    origin = origin_of(f, { "region", level }),
    columns = { parameter_column(f.parameters[i], a), parameter_column(f.parameters[j], b) },
    notes = { ("Joint likelihood region at %g %%%s."):format(100 * level,
      open > 0 and (", open in %d of %d directions"):format(open, #a) or "") } }
  r.open, r.level, r.first, r.second = open, level, f.parameters[i].value, f.parameters[j].value
  return r
end

-- ---- bootstrap ------------------------------------------------------------------------------------------

--- Re-fits to drawn data. options: kind ("parametric": curve plus normal errors; "cases": points drawn again),
--- replicates (1000), seed (1), level. A result with a row a parameter: value, mean of the replicates, standard
--- error, low, high (percentiles); fields count, failures, kind, seed, draws (a list of values for each parameter).
function answers.bootstrap(f, options)
  local handle, spec = fit_of(f, "bootstrap")
  no_likelihood(spec, "bootstrap")
  options = check_keys(options, { "kind", "replicates", "seed", "level" }, "bootstrap")
  local kind = options.kind or "parametric"
  if kind ~= "parametric" and kind ~= "cases" then
    misuse("bootstrap: kind may be parametric or cases, not \"%s\"", tostring(kind))
  end
  local replicates = read.whole(options.replicates, "replicates", 2, 1000000, 1000)
  local seed = read.whole(options.seed, "seed", 0, 2 ^ 53 // 1 | 0, 1)
  local level = read.level(options.level or spec.level)
  local drawn, message, code = handle:bootstrap(kind, replicates, seed, level)
  if not drawn then
    return nil, message, code
  end
  local columns = { parameter = {}, unit = {}, value = {}, mean = {}, standard_error = {}, low = {}, high = {} }
  for j, p in ipairs(f.parameters) do
    local sum, interval = 0, drawn.intervals[j] or {}
    for _, x in ipairs(drawn.values[j]) do
      sum = sum + x
    end
    local row = { parameter = p.name, unit = p.unit, value = p.value, mean = sum / drawn.count,
      standard_error = interval.standard_error or 0 / 0, low = interval.low or 0 / 0, high = interval.high or 0 / 0 }
    for name, list in pairs(columns) do
      list[j] = row[name]
    end
  end
  local list = {}
  for i, name in ipairs { "parameter", "value", "mean", "standard_error", "low", "high", "unit" } do
    list[i] = { name = name, kind = (name == "parameter" or name == "unit") and "text" or "number", unit = "1",
      values = columns[name] }
  end
  local notes = { ("%s bootstrap: %d replicates, seed %d, percentiles of %g %%."):format(
    kind == "cases" and "Case" or "Parametric", drawn.count, seed, 100 * level) }
  if drawn.failures > 0 then
    notes[2] = ("%d replicates could not be fitted and are left out."):format(drawn.failures)
  end
  local r = result.new { title = "Bootstrap of " .. f.model, columns = list, notes = notes,
    origin = origin_of(f, { "bootstrap", kind }, { "replicates", replicates }, { "bootstrap seed", seed }) }
  r.draws, r.count, r.failures, r.kind, r.seed = drawn.values, drawn.count, drawn.failures, kind, seed
  return r
end

-- ---- comparison -----------------------------------------------------------------------------------------

--- Fits of different models to the same points, the best first: AICc, its distance from the best, Akaike weight.
function answers.compare(list)
  if type(list) ~= "table" or rawlen(list) < 2 then
    misuse("compare_models takes a list of at least two fits")
  end
  local handles, rows = {}, {}
  for i, f in ipairs(list) do
    local handle, spec = fit_of(f, "compare_models")
    no_likelihood(spec, "compare_models")
    handles[i] = handle
  end
  local delta, weight, code = core.compare_fits(handles)
  if not delta then
    return nil, weight, code
  end
  for i, f in ipairs(list) do
    rows[i] = { model = f.title or f.model, parameters = f.free, rss = f.rss, aic = f.aic, aicc = f.aicc, bic = f.bic,
      delta = delta[i], weight = weight[i], place = i }
  end
  table.sort(rows, function(a, b)
    return a.delta < b.delta or (a.delta == b.delta and a.place < b.place)
  end)
  local columns = {}
  for i, name in ipairs { "model", "parameters", "rss", "aic", "aicc", "bic", "delta", "weight" } do
    columns[i] = { name = name, kind = name == "model" and "text" or "number", unit = "1", values = {} }
    for k, row in ipairs(rows) do
      columns[i].values[k] = row[name]
    end
  end
  local r = result.new { title = "Models of the same points", columns = columns,
    origin = origin_of(list[1], { "compared", #list }), notes = {
    "delta: AICc less the smallest; weight: exp(-delta/2) over the sum (Akaike weights).",
    "A weight says which of these models the points favour, not that one of them is true." } }
  return r
end

return answers
