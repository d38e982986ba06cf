-- JSON text of a result, by dkjson; numbers are written here, so that they read back exactly.

local core = require "hairfibre.core"
local dkjson = require "dkjson"

local json = {}

local function ready(text)
  return setmetatable({}, { __tojson = function()
    return text
  end })
end

local function ordered(keys, t)
  return setmetatable(t, { __jsonorder = keys, __jsontype = "object" })
end

local function list(t)
  return setmetatable(t, { __jsontype = "array" })
end

--- A list of numbers in full; what is not finite becomes null.
function json.numbers(values)
  return ready("[" .. core.join(values, ",", "null") .. "]")
end
local numbers = json.numbers

--- A list, also when it is empty.
function json.list(items)
  return list(items)
end

--- An object whose keys keep the order of a list of { key, value }; a nil value is left out.
function json.object(pairs_in_order)
  local object, keys = {}, {}
  for _, pair in ipairs(pairs_in_order) do
    local value = pair[2]
    if value ~= nil then
      keys[#keys + 1] = pair[1]
      object[pair[1]] = math.type(value) == "float" and ready(math.abs(value) < math.huge and core.text(value) or "null") or value
    end
  end
  return ordered(keys, object)
end

--- Text of a list or an object made here.
function json.text(document)
  return dkjson.encode(document, { indent = true }) .. "\n"
end

--- JSON text of a result.
function json.result(r)
  local columns = list {}
  for i, column in ipairs(r.columns) do
    local values
    if column.kind == "text" then
      values = list(table.move(column.values, 1, #column.values, 1, {}))
    elseif column.kind == "choice" then
      values = list {}
      for k, x in ipairs(column.values) do
        values[k] = column.choices[math.tointeger(x + 1)]
      end
    else
      values = numbers(column.values)
    end
    columns[i] = ordered({ "name", "unit", "kind", "values" },
      { name = column.name, unit = column.unit, kind = column.kind, values = values })
  end
  local fields = require("hairfibre.provenance").fields(r:provenance(), json)
  for _, pair in ipairs { { "title", r.title }, { "columns", columns },
    { "notes", list(table.move(r.notes, 1, #r.notes, 1, {})) }, { "caution", r.caution } } do
    fields[#fields + 1] = pair
  end
  return json.text(json.object(fields))
end

return json
