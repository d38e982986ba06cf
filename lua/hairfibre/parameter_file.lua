-- Parameter sets as files: JSON with a name, the shipped set they start from, single changes, and rows that were fitted
-- together with their covariance.

local core = require "hairfibre.core"
local files = require "hairfibre.files"
local json = require "hairfibre.json"

local parameter_file = {}

local FORMAT = "hairfibre parameters 1"

--- True for what names a file and no set.
function parameter_file.is_path(name)
  return name:find("/", 1, true) ~= nil or name:lower():find("%.json$") ~= nil
end

-- ---- writing --------------------------------------------------------------------------------------------

local function fitted_part(set, rows)
  local fitted = set:fitted()
  if not fitted then
    return nil, {}
  end
  local n, list, matrix, is_fitted = #fitted.names, json.list {}, json.list {}, {}
  for i, name in ipairs(fitted.names) do
    is_fitted[name] = true
    list[i] = json.object { { "name", name }, { "unit", rows[name].unit }, { "value", fitted.values[i] },
      { "standard_error", rows[name].spread } }
    matrix[i] = json.numbers(table.move(fitted.covariance, (i - 1) * n + 1, i * n, 1, {}))
  end
  return json.object { { "to", fitted.label }, { "rows", list }, { "covariance", matrix } }, is_fitted
end

--- JSON text of a set; `origin`: list of { key, text or number } about the measurement.
function parameter_file.text(set, origin)
  local rows = {}
  for _, row in ipairs(core.rows(set)) do
    rows[row.name] = row
  end
  local fitted, is_fitted = fitted_part(set, rows)
  local changed = json.list {}
  for _, name in ipairs(set:changed()) do
    if not is_fitted[name] then
      changed[#changed + 1] = json.object { { "name", name }, { "unit", rows[name].unit }, { "value", rows[name].value } }
    end
  end
  return json.text(json.object { { "format", FORMAT }, { "version", core.version }, { "name", set:name() },
    { "base", set:base() }, { "digest", set:digest() }, { "changed", changed }, { "fitted", fitted },
    { "origin", origin and json.object(origin) } })
end

--- Writes a set; true, or nil, sentence, code.
function parameter_file.save(set, path, origin)
  return files.write(path, parameter_file.text(set, origin))
end

-- ---- reading --------------------------------------------------------------------------------------------

local function refuse(path, ...)
  return nil, path .. ": " .. string.format(...), "data"
end

local function number(x)
  return math.type(x) and x + 0.0 == x + 0.0 and math.abs(x) < math.huge and x + 0.0 or nil
end

-- Changes one by one; nil, sentence when one is wrong.
local function put_changes(set, list)
  if type(list) ~= "table" then
    return nil, "\"changed\" must be a list"
  end
  local known = {}
  for _, row in ipairs(core.rows()) do
    known[row.name] = true
  end
  for _, one in ipairs(list) do
    local value = type(one) == "table" and number(one.value)
    if not value or type(one.name) ~= "string" then
      return nil, "every entry of \"changed\" needs a name and a number"
    elseif not known[one.name] then
      return nil, ("no parameter is called \"%s\""):format(one.name)
    end
    local done, message = set:set(one.name, value)
    if not done then
      return nil, message
    end
  end
  return true
end

local function put_fitted(set, fitted)
  if type(fitted) ~= "table" or type(fitted.rows) ~= "table" or type(fitted.covariance) ~= "table" then
    return nil, "\"fitted\" needs \"rows\" and \"covariance\""
  end
  local names, values, flat, n = {}, {}, {}, #fitted.rows
  if n == 0 or n > 20 or #fitted.covariance ~= n then
    return nil, "\"fitted\" needs 1 to 20 rows and a covariance of as many"
  end
  for i, row in ipairs(fitted.rows) do
    local line = fitted.covariance[i]
    names[i], values[i] = type(row) == "table" and row.name, type(row) == "table" and number(row.value)
    if type(names[i]) ~= "string" or not values[i] or type(line) ~= "table" or #line ~= n then
      return nil, "every fitted row needs a name, a number and a line of the covariance"
    end
    for k = 1, n do
      flat[#flat + 1] = number(line[k])
    end
  end
  if #flat ~= n * n then
    return nil, "the covariance must hold finite numbers"
  end
  local label = type(fitted.to) == "string" and fitted.to or ""
  local done, message = set:set_fitted(names, values, flat, label:sub(1, 159))
  return done, message
end

--- The set of a file; or nil, sentence, code.
function parameter_file.read(path)
  local text, message, code = files.read(path)
  if not text then
    return nil, message, code
  end
  local document, _, wrong = require("dkjson").decode(text, 1, nil)
  if type(document) ~= "table" then
    return refuse(path, "this is no JSON text%s", wrong and " (" .. tostring(wrong) .. ")" or "")
  elseif document.format ~= FORMAT then
    return refuse(path, "a parameter set was expected (\"format\": \"%s\")", FORMAT)
  end
  local set
  set, message = core.parameters(type(document.base) == "string" and document.base or "virgin")
  if not set then
    return refuse(path, "%s", message)
  end
  local done
  done, message = put_changes(set, document.changed or {})
  if done and document.fitted ~= nil then
    done, message = put_fitted(set, document.fitted)
  end
  if not done then
    return refuse(path, "%s", message)
  end
  local name = document.name
  if name ~= nil and (type(name) ~= "string" or #name == 0 or #name > 63 or name:find("%c")) then
    return refuse(path, "\"name\" must be a text of 1 to 63 letters")
  elseif name and name ~= set:base() then
    set:set_name(name)
  end
  return set
end

return parameter_file
