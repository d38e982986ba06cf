-- Files of a fit: everything as JSON; tables as CSV; the report as text; pictures.

local answers = require "hairfibre.fit.answers"
local core = require "hairfibre.core"
local files = require "hairfibre.files"
local json = require "hairfibre.json"
local misuse = require "hairfibre.misuse"
local report = require "hairfibre.fit.report"
local result = require "hairfibre.result"
local suggest = require "hairfibre.suggest"

local save = {}

-- ---- tables ---------------------------------------------------------------------------------------------

--- The parameters as a result: parameter, value, standard_error, low, high, unit, flag, start, fixed.
function save.parameters(f)
  local names = { "parameter", "value", "standard_error", "low", "high", "unit", "flag", "start", "fixed" }
  local texts = { parameter = true, unit = true, flag = true, fixed = true }
  local columns = {}
  for i, name in ipairs(names) do
    columns[i] = { name = name, kind = texts[name] and "text" or "number", unit = "1", values = {} }
    for j, p in ipairs(f.parameters) do
      local x = name == "parameter" and p.name or p[name]
      if name == "fixed" then
        x = p.fixed and "yes" or "no"
      end
      columns[i].values[j] = x
    end
  end
  return result.new { title = "Parameters of " .. f.model, columns = columns,
    origin = require("hairfibre.fit").origin(f) }
end

-- ---- JSON -----------------------------------------------------------------------------------------------

local function table_of(r)
  local columns = json.list {}
  for i, column in ipairs(r and r.columns or {}) do
    columns[i] = json.object { { "name", column.name }, { "unit", column.unit },
      { "values", column.kind == "text" and json.list(table.move(column.values, 1, #column.values, 1, {}))
        or json.numbers(column.values) } }
  end
  return columns
end

local function parameters_of(f)
  local list = json.list {}
  for j, p in ipairs(f.parameters) do
    list[j] = json.object { { "name", p.name }, { "unit", p.unit }, { "value", p.value },
      { "standard_error", p.standard_error }, { "low", p.low }, { "high", p.high }, { "interval", p.interval.kind },
      { "flag", p.flag }, { "note", p.note ~= "" and p.note or nil }, { "start", p.start }, { "fixed", p.fixed } }
  end
  return list
end

local function derived_of(f)
  local list = json.list {}
  for i, one in ipairs(require("hairfibre.fit.derived").of(f)) do
    list[i] = json.object { { "name", one.name }, { "unit", one.unit }, { "value", one.value },
      { "standard_error", one.standard_error } }
  end
  return list
end

local function matrix(rows)
  if not rows then
    return nil
  end
  local list = json.list {}
  for i, row in ipairs(rows) do
    list[i] = json.numbers(row)
  end
  return list
end

local function excluded_of(f)
  local list = json.list {}
  for i, row in ipairs(f.excluded or {}) do
    list[i] = type(row) == "table" and json.object { { "line", row.line }, { "column", row.column },
      { "text", row.text }, { "why", row.why } } or tostring(row)
  end
  return list
end

local function minima_of(f)
  local list = json.list {}
  for i, m in ipairs(f.minima or {}) do
    list[i] = json.object { { "rss", m.rss }, { "starts", m.hits }, { "values", json.numbers(m.values) } }
  end
  return list
end

--- JSON text of everything, and of results that go along (comparison, bootstrap).
function save.json(f, more)
  local spec = f:inside()
  local fields = require("hairfibre.provenance").fields(require("hairfibre.fit").origin(f), json)
  local function add(...)
    for _, key in ipairs { ... } do
      fields[#fields + 1] = { key, f[key] }
    end
  end
  add("title", "model", "equation", "converged", "reason", "points", "free", "degrees_of_freedom", "broken", "survivors")
  fields[#fields + 1] = { "parameters", parameters_of(f) }
  fields[#fields + 1] = { "derived", derived_of(f) }
  fields[#fields + 1] = { "covariance", matrix(f.covariance) }
  fields[#fields + 1] = { "correlation", matrix(f.correlation) }
  add("level", "weighting", "robust", "rss", "s", "log_likelihood", "aic", "aicc", "bic")
  fields[#fields + 1] = { "criteria", not f.robust and report.criteria(f) or nil }
  add("condition", "offset", "iterations", "evaluations", "starts", "starts_answered", "winner", "seed")
  if not spec.observed then
    fields[#fields + 1] = { "minima", minima_of(f) }
    fields[#fields + 1] = { "residuals", table_of(answers.residuals(f)) }
    fields[#fields + 1] = { "curve", spec.columns == 1 and table_of(answers.curve(f, { count = 51 })) or nil }
  end
  fields[#fields + 1] = { "rows_excluded", spec.data and spec.data.rows_excluded }
  fields[#fields + 1] = { "excluded", spec.data and excluded_of(f) or nil }
  for _, name in ipairs { "comparison", "bootstrap" } do
    if more and more[name] then
      fields[#fields + 1] = { name, table_of(more[name]) }
    end
  end
  add("caution")
  return json.text(json.object(fields))
end

-- ---- files ----------------------------------------------------------------------------------------------

--- A sentence when a path is the data file of a fit, which is never written to.
function save.refuse(f, path)
  local data = f:inside().data
  local file, checksum = data and data.file, data and data.checksum
  if not (file and checksum) or path:match("[^/]*$") ~= file:match("[^/]*$") then
    return nil
  end
  local bytes = files.read(path)
  if path == file or bytes and core.sha256(bytes) == checksum then
    return ("%s holds the data of this fit and is not written to: choose another name"):format(path)
  end
end

local TABLES = { "parameters", "points", "curve" }

local function csv(f, what)
  what = what or "parameters"
  local makers = { parameters = save.parameters, points = answers.residuals, curve = answers.curve }
  if not makers[what] then
    misuse("save: a CSV file holds %s, not \"%s\"%s", suggest.list(TABLES), tostring(what),
      suggest.hint(tostring(what), TABLES))
  end
  local r, message, code = makers[what](f)
  if not r then
    return nil, message, code
  end
  return r:csv()
end

--- f:save(path, what): see fit.lua. true; or nil, sentence, code.
function save.save(f, path, what)
  local ending = type(path) == "string" and (path:match("%.(%a+)$") or ""):lower() or ""
  local text, message, code
  if ending == "json" then
    text = save.json(f)
  elseif ending == "csv" then
    text, message, code = csv(f, what)
  elseif ending == "txt" then
    text = f:report()
  elseif ending == "svg" or ending == "png" or ending == "pdf" then
    local figure
    figure, message, code = f:plot(what)
    if not figure then
      return nil, message, code
    end
    return figure:save(path)
  else
    misuse("save needs a name that ends in .json, .csv, .txt, .svg, .png or .pdf, not \"%s\"", tostring(path))
  end
  local refusal = text and save.refuse(f, path)
  if refusal then
    return nil, refusal, "file"
  elseif not text then
    return nil, message, code
  end
  return files.write(path, text)
end

return save
