-- Tables of a quantity over lists of conditions, and paths inside the hysteresis loop.

local cautions = require "hairfibre.cautions"
local core = require "hairfibre.core"
local misuse = require "hairfibre.misuse"
local quantity = require "hairfibre.quantity"
local result = require "hairfibre.result"
local show = require "hairfibre.show"
local suggest = require "hairfibre.suggest"
local units = require "hairfibre.units"

local tabulate = {}

local function set_text(set)
  if not set then
    return "set virgin"
  end
  local count = #set:changed()
  return ("set %s%s"):format(set:name(), count > 0 and (", %d changed"):format(count) or "")
end

--- Result of a quantity with at least one list among its named arguments: a column for each list, one
--- for the quantity, one `status` (ok, extrapolated, range, ...; a failing row holds no number).
--- named.range = true adds the columns low and high, an approximate 95 % range.
function tabulate.quantity(name, named)
  local descriptor = quantity.find(name)
  if type(named) ~= "table" then
    misuse("tabulate takes a name and a table of arguments, some of them lists")
  end
  local plain, wide = {}, named.range == true
  for key, value in next, named do
    if key ~= "range" then
      plain[key] = value
    end
  end
  local given, set, flags = quantity.arguments(descriptor, plain)
  local list, notes, settings = {}, {}, {}
  for i, argument in ipairs(descriptor.arguments) do
    local x = given[i]
    if type(x) == "table" then
      local values = {}
      for k = 1, #x do
        local value, message = units.value(x[k], argument)
        if not value then
          misuse("%s (element %d)", message, k)
        end
        values[k] = value
      end
      given[i] = values
      list[#list + 1] = { name = argument.name, unit = argument.unit, kind = argument.kind,
        choices = argument.choices, text = argument.text, values = values }
    else
      local value = x == nil and argument.usual or x
      notes[#notes + 1] = value and argument.name .. " = " .. show.value(value, argument)
      settings[#settings + 1] = value and { show.words(argument.name), show.value(value, argument) }
    end
  end
  if #list == 0 then
    misuse("tabulate needs a list among the arguments of %s", name)
  end
  local answers = { (wide and core.each_range or core.each)(descriptor.index, set, flags,
    table.unpack(given, 1, #descriptor.arguments)) }
  if answers[1] == false then
    misuse("%s", answers[2])
  end
  local names = wide and { name, "low", "high" } or { name }
  for i, column in ipairs(names) do
    list[#list + 1] = { name = column, unit = descriptor.unit, kind = descriptor.kind, text = descriptor.text,
      values = answers[i] }
  end
  list[#list + 1] = { name = "status", kind = "text", values = answers[#names + 1] }
  notes[#notes + 1] = set_text(set)
  local r = result.new { columns = list, set = set, notes = { table.concat(notes, ", ") },
    caution = cautions.line(descriptor), title = descriptor.text }
  r.settings = settings -- for a report page
  return r
end

local SCANNING = { "humidity", "start_regain", "temperature", "set", "extrapolate" }
local FRACTION = { unit = "1", kind = "fraction" }

local function scanning_value(given, key, kind, unit)
  if given[key] == nil then
    misuse("scanning: %s is missing", key)
  end
  local x, message = units.value(given[key], { name = key, unit = unit, kind = kind })
  return x or misuse("%s", message)
end

--- Regain along a slow path of humidities inside the hysteresis loop, at one temperature:
--- hf.scanning{ humidity = list, start_regain =, temperature = } -> result with both columns
--- [, "extrapolated"]; or nil, sentence, code.
function tabulate.scanning(given)
  if type(given) ~= "table" then
    misuse("scanning takes one table: humidity (a list), start_regain, temperature")
  end
  local allowed = {}
  for _, name in ipairs(SCANNING) do
    allowed[name] = true
  end
  for _, key in ipairs(suggest.sorted_keys(given)) do
    if not allowed[key] then
      misuse("scanning has no argument \"%s\"%s", tostring(key), suggest.hint(key, SCANNING))
    end
  end
  if type(given.humidity) ~= "table" or #given.humidity == 0 then
    misuse("scanning: humidity must be a list")
  end
  local humidity = {}
  for i = 1, #given.humidity do
    local x, message = units.value(given.humidity[i], FRACTION)
    humidity[i] = x or misuse("humidity: %s (element %d)", message, i)
  end
  local set = quantity.parameters(given.set)
  local flags = given.extrapolate == false and 0 or core.EXTRAPOLATE
  local temperature = scanning_value(given, "temperature", "temperature", "K")
  local values, word, code = core.scanning(set, flags, temperature,
    scanning_value(given, "start_regain", "fraction", "1"), humidity)
  if not values then
    return nil, word, code
  end
  local r = result.new { set = set, columns = {
    { name = "humidity", unit = "1", kind = "fraction", values = humidity },
    { name = "regain", unit = "1", kind = "fraction", values = values },
  }, notes = { ("temperature = %s, %s"):format(show.value(temperature, { kind = "temperature" }), set_text(set)) } }
  if word then
    return r, word
  end
  return r
end

-- SI units that hf.si and hf.sweep try in turn when nothing says what a text measures.
local DIMENSIONS = { "Pa", "m", "s", "kg", "mol/m3", "m/s", "K/s", "N", "J", "J/kg", "J/mol", "kg/m3", "m2", "m3",
  "m2/s", "W/(m K)", "W/(m2 K)", "J/(kg K)", "Pa s", "1/s", "mol/kg", "N/m", "W" }

--- SI value of a text whose unit alone says what it is: "200 degC", "65 %", "5 min", "2 bar".
function tabulate.si(text)
  if type(text) == "number" then
    return text
  elseif type(text) ~= "string" then
    misuse("si takes a text with a unit, not a %s", type(text))
  end
  local pure = core.number(text)
  if pure then
    return pure
  end
  local first
  for _, what in ipairs { { unit = "K", kind = "temperature" }, FRACTION,
    { unit = "K", kind = "temperature difference" } } do
    local x, message = units.parse(text, what)
    if x then
      return x
    end
    first = first or message
  end
  for _, unit in ipairs(DIMENSIONS) do
    local x = units.parse(text, { unit = unit, kind = "number" })
    if x then
      return x
    end
  end
  local _, rest = core.number(text, true)
  return rest and misuse("there is no unit \"%s\" here", (rest:gsub("^%s+", ""))) or misuse("%s", first)
end

--- List of `count` SI values from one text or number to another: hf.sweep("20 degC", "230 degC", 22).
function tabulate.sweep(from, to, count)
  if math.type(count) ~= "integer" or count < 2 or count > 1e6 then
    misuse("sweep needs the number of values, 2 or more")
  end
  return units.spread(tabulate.si(from), tabulate.si(to), count)
end

return tabulate
