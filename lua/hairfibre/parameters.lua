-- Parameter sets: named sets, and a user's own changes with units and spelling help.

local core = require "hairfibre.core"
local misuse = require "hairfibre.misuse"
local suggest = require "hairfibre.suggest"
local units = require "hairfibre.units"

local parameters = {}

local methods = core.parameters_methods
local set_number, get_number = methods.set, methods.get

local catalogue
local function row_of(name)
  if not catalogue then
    local list = {}
    for i, row in ipairs(core.rows()) do
      list[i], list[row.name] = row.name, row
    end
    catalogue = list
  end
  local row = catalogue[name]
  if not row then
    misuse("no parameter is called \"%s\"%s", tostring(name),
      suggest.nearest(tostring(name), catalogue) and suggest.hint(name, catalogue) or " (set:rows() lists them)")
  end
  return row
end

-- Texts carry a unit; a pure number may also be given in percent.
local function read(value, row)
  if type(value) ~= "string" then
    return value
  end
  local pure = row.unit == "1"
  if pure and core.number(value) then
    return core.number(value)
  end
  local x, message = units.parse(value, { name = row.name, unit = row.unit,
    kind = pure and "fraction" or row.unit == "K" and "temperature" or "number" })
  if not x then
    misuse("%s", message)
  end
  return x
end

--- set:set(name, value) -> the object; or nil, sentence, code outside the allowed range. A number is
--- in the unit of the catalogue; a text carries its unit.
function methods.set(self, name, value)
  local number = read(value, row_of(name))
  if type(number) ~= "number" then
    misuse("%s must be a number or a text with a unit, not a %s", name, type(value))
  end
  return set_number(self, name, number)
end

--- set:get(name) -> value in the unit of the catalogue
function methods.get(self, name)
  return get_number(self, row_of(name).name)
end

--- set:row(name) -> the row of the catalogue as it holds in this set
function methods.row(self, name)
  row_of(name)
  for _, row in ipairs(core.rows(self)) do
    if row.name == name then
      return row
    end
  end
end

--- Writes the set, changes and fitted rows included, as a .json file that hf.parameters and --set read back.
--- true; or nil, sentence, code.
function methods.save(self, path)
  if type(path) ~= "string" or not path:lower():find("%.json$") then
    misuse("a parameter set is saved under a name that ends in .json, not \"%s\"", tostring(path))
  end
  return require("hairfibre.parameter_file").save(self, path)
end

--- New object of a named set ("virgin") or of a file of one ("wefts.json"), with changes { ["dotted.name"] = value };
--- or nil, sentence, code.
function parameters.new(name, changes)
  if name ~= nil and type(name) ~= "string" then
    misuse("the name of a set must be a text, not a %s", type(name))
  end
  local file = name and require("hairfibre.parameter_file")
  local set, message, code
  if file and file.is_path(name) then
    set, message, code = file.read(name)
  else
    set, message, code = core.parameters(name)
  end
  if not set and code == "name" then
    local names = {}
    for i, one in ipairs(core.sets()) do
      names[i] = one.name
    end
    misuse("%s%s", message, suggest.hint(name, names))
  elseif not set then
    return nil, message, code
  end
  for _, key in ipairs(changes and suggest.sorted_keys(changes) or {}) do
    local done, problem, class = set:set(key, changes[key])
    if not done then
      return nil, problem, class
    end
  end
  return set
end

return parameters
