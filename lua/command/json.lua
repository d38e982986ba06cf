-- JSON for programs: keys in the order given, numbers that read back exactly, no locale.

local dkjson = require "dkjson"
local core = require "hairfibre.core"

local json = { null = dkjson.null }

local function prepared(value)
  if type(value) == "number" then
    if value ~= value or value == math.huge or value == -math.huge then
      return dkjson.null
    end
    local s = math.type(value) == "integer" and tostring(value) or core.text(value)
    return setmetatable({}, { __tojson = function()
      return s
    end })
  elseif type(value) ~= "table" or value == dkjson.null then
    return value
  end
  local copy = {}
  for key, item in pairs(value) do
    copy[key] = prepared(item)
  end
  return setmetatable(copy, getmetatable(value))
end

--- An object whose keys keep the order of the list of { key, value }; a nil value becomes null.
function json.object(pairs_in_order)
  local object, order = {}, {}
  for i, pair in ipairs(pairs_in_order) do
    order[i], object[pair[1]] = pair[1], pair[2] == nil and dkjson.null or pair[2]
  end
  return setmetatable(object, { __jsonorder = order, __jsontype = "object" })
end

--- A list, also when it is empty.
function json.list(items)
  return setmetatable(items, { __jsontype = "array" })
end

--- Writes one value to standard output, with a line break at the end.
function json.write(value)
  io.stdout:write(dkjson.encode(prepared(value), { indent = true }), "\n")
end

return json
