-- The data of a fit: lists of numbers or texts with units, or columns of an imported table, in SI.

local misuse = require "hairfibre.misuse"
local suggest = require "hairfibre.suggest"
local units = require "hairfibre.units"

local data = {}

local PLAIN = { unit = "1", kind = "number" }

local function list_of(given, name)
  if type(given) ~= "table" then
    misuse("%s must be a list of numbers, not a %s", name, type(given))
  end
  return given
end

-- A number, or a text with a unit.
local function number(x, what, name, i)
  if type(x) == "number" then
    return x + 0.0
  elseif type(x) ~= "string" then
    misuse("%s[%d] is a %s; it must be a number", name, i, type(x))
  end
  local value, message = units.value(x, what)
  if not value then
    misuse("%s[%d]: %s", name, i, message)
  end
  return value
end

--- List of SI numbers.
function data.numbers(given, what, name)
  local values = {}
  for i, x in ipairs(list_of(given, name)) do
    values[i] = number(x, what, name, i)
  end
  if #values ~= #given then
    misuse("%s[%d] is missing", name, #values + 1)
  end
  return values
end

--- Rows of x, flattened: a number a row, or a list of `columns` numbers.
function data.rows(given, what, columns)
  local flat = {}
  for i, row in ipairs(list_of(given, "x")) do
    if columns == 1 and type(row) ~= "table" then
      flat[i] = number(row, what[1] or PLAIN, "x", i)
    elseif type(row) ~= "table" or #row ~= columns then
      misuse("x[%d] must be a list of %d numbers", i, columns)
    else
      for k, x in ipairs(row) do
        flat[#flat + 1] = number(x, what[k] or PLAIN, ("x[%d]"):format(i), k)
      end
    end
  end
  return flat
end

-- ---- columns of a table ---------------------------------------------------------------------------------

local function column_of(t, name, role)
  local names = {}
  for i, column in ipairs(t.columns) do
    if column.name == name then
      return column
    end
    names[i] = column.name
  end
  misuse("%s: the data have no column \"%s\"%s", role, tostring(name), suggest.hint(tostring(name), names))
end

local function same_kind(column, what)
  if not what or what.unit == "" then
    return true
  end
  local pure = { ["1"] = true, ["kg/kg"] = true, [""] = true }
  return column.unit == what.unit or (pure[column.unit] and pure[what.unit])
end

-- A column whose unit is what the model takes.
local function checked_column(t, name, role, what)
  local column = column_of(t, name, role)
  if column.kind == "text" then
    misuse("%s: the column \"%s\" holds words, not numbers", role, name)
  elseif what and not same_kind(column, what) then
    misuse("%s: the column \"%s\" is in %s; the model takes %s in %s", role, name, column.unit, what.name, what.unit)
  end
  return column
end

-- Names of the columns that the data give a role, where the call names none.
local function named(call, t, role)
  local given = call[role]
  if given ~= nil or type(t[role]) ~= "table" then
    return given
  elseif role ~= "x" then
    return t[role].name
  end
  local names = {}
  for _, column in ipairs(t.columns) do
    if column.role == "x" then
      names[#names + 1] = column.name
    end
  end
  return names
end

local function from_table(call, model)
  local t, given = call.data, {}
  if type(t) ~= "table" or type(t.columns) ~= "table" then
    misuse("data must be a table with columns, as hf.import and hf.read give it")
  end
  local x = named(call, t, "x")
  if type(x) ~= "table" then
    x = { x }
  elseif model and #model.x == 0 then
    x = {}
  end
  if #x == 0 and not (model and #model.x == 0) then
    misuse("x: which column of the data?")
  elseif model and #x ~= #model.x then
    misuse("x: the model %s takes %d column%s, not %d", model.name, #model.x, #model.x == 1 and "" or "s", #x)
  end
  given.x_columns = {}
  for k, name in ipairs(x) do
    given.x_columns[k] = checked_column(t, name, "x", model and model.x[k])
  end
  local y = named(call, t, "y") or misuse("y: which column of the data?")
  given.y_column = checked_column(t, y, "y", model and model.y)
  local n = #given.y_column.values
  given.x = {}
  for i = 1, n do
    for _, column in ipairs(given.x_columns) do
      given.x[#given.x + 1] = column.values[i] + 0.0
    end
  end
  given.y = table.move(given.y_column.values, 1, n, 1, {})
  given.columns = #given.x_columns
  local sigma, group = named(call, t, "sigma"), named(call, t, "group")
  if type(sigma) == "string" then
    given.sigma = checked_column(t, sigma, "sigma", given.y_column).values
  end
  if type(group) == "string" then
    given.group = column_of(t, group, "group").values
  end
  if type(call.survived) == "string" then
    given.survived = column_of(t, call.survived, "survived").values
  end
  return given
end

--- x (flat), y, columns, and of an imported table x_columns, y_column, sigma, group, survived.
function data.read(call, model)
  if call.data ~= nil then
    return from_table(call, model)
  end
  if model and #model.x == 0 and call.x ~= nil then
    misuse("the model %s has no x: give the lives as y", model.name)
  end
  local given = { columns = model and #model.x or type(call.x) == "table" and type(call.x[1]) == "table" and #call.x[1]
    or 1 }
  if given.columns > 0 then
    if call.x == nil then
      misuse("x is missing: x = { numbers }")
    end
    given.x = data.rows(call.x, model and model.x or {}, given.columns)
  end
  if call.y == nil then
    misuse("y is missing: y = { numbers }")
  end
  given.y = data.numbers(call.y, model and model.y or PLAIN, "y")
  if given.x and #given.x ~= given.columns * #given.y then
    misuse("x has %d rows and y has %d", #given.x // given.columns, #given.y)
  end
  return given
end

-- ---- survivors ------------------------------------------------------------------------------------------

local YES = { yes = true, y = true, survived = true, survivor = true, ["true"] = true, ["1"] = true, whole = true,
  censored = true, ["run-out"] = true, runout = true }
local NO = { no = true, n = true, broke = true, broken = true, ["false"] = true, ["0"] = true, failed = true }

--- 1 where it broke, 0 where it survived. `given`: list of booleans, of 0 and 1 (1: survived), or of words; nil:
--- everything broke.
function data.observed(given, n)
  local observed = {}
  if given ~= nil and #list_of(given, "survived") ~= n then
    misuse("survived has %d entries and y has %d", #given, n)
  end
  for i = 1, n do
    local x = given and given[i] or false
    if given and type(given[i]) ~= "boolean" then
      local word = tostring(math.tointeger(given[i]) or given[i]):lower()
      if not YES[word] and not NO[word] then
        misuse("survived[%d] is \"%s\"; it may be true or false, 1 or 0, yes or no", i, word)
      end
      x = YES[word] or false
    end
    observed[i] = x and 0 or 1
  end
  return observed
end

return data
