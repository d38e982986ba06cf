-- Calls of quantities: positional or named arguments, numbers, texts with units, lists.

local core = require "hairfibre.core"
local misuse = require "hairfibre.misuse"
local suggest = require "hairfibre.suggest"
local units = require "hairfibre.units"

local quantity = {}

local OPTIONS = { set = true, extrapolate = true }
local unpack, type, next = table.unpack, type, next

-- ---- sets -----------------------------------------------------------------------------------------

local shipped = {} -- objects of named sets; never handed out, so nobody changes them

--- Parameters object of `set`: nil, the name of a set, or an object of hf.parameters.
function quantity.parameters(set)
  if set == nil or core.is_parameters(set) then
    return set
  elseif type(set) ~= "string" then
    misuse("set must be the name of a set or an object of hf.parameters, not a %s", type(set))
  end
  local file = require "hairfibre.parameter_file"
  if file.is_path(set) then
    local object, message = file.read(set)
    return object or misuse("%s", message)
  elseif not shipped[set] then
    local object, message = core.parameters(set)
    if not object then
      local names = {}
      for i, one in ipairs(core.sets()) do
        names[i] = one.name
      end
      misuse("%s%s", message, suggest.hint(set, names))
    end
    shipped[set] = object
  end
  return shipped[set]
end

-- ---- arguments ------------------------------------------------------------------------------------

local function argument_names(descriptor)
  local names = {}
  for i, argument in ipairs(descriptor.arguments) do
    names[i] = argument.name
  end
  return names
end

-- A list has [1] or nothing at all, and no named fields (a slip between the two forms of a call).
local function check_list(list, argument)
  if list[1] == nil and next(list) ~= nil then
    misuse("%s must be a number, a text with a unit, or a list", argument.name)
  end
  local key = next(list, list[1] ~= nil and #list or nil)
  if key ~= nil and math.type(key) ~= "integer" then
    misuse("%s is a list with a field \"%s\": name every argument, or none", argument.name, tostring(key))
  end
end

-- Numbers of a list that holds texts with units; the caller's list stays as it is.
local function read_list(list, argument)
  local numbers = {}
  for i = 1, #list do
    local x, message = units.value(list[i], argument)
    if not x then
      misuse("%s (element %d)", message, i)
    end
    numbers[i] = x
  end
  return numbers
end

-- Turns texts into numbers, in place.
local function read_texts(descriptor, given)
  for i, argument in ipairs(descriptor.arguments) do
    local x = given[i]
    local kind = type(x)
    if kind == "table" then
      check_list(x, argument)
    elseif kind ~= "number" and x ~= nil then
      local value, message = units.value(x, argument)
      if not value then
        misuse("%s", message)
      end
      given[i] = value
    elseif x == nil and argument.usual == nil and descriptor.has_model then
      misuse("%s: %s is missing (%s)", descriptor.name, argument.name, argument.text)
    end
  end
end

local function from_names(descriptor, named)
  local given, set, flags, unknown = {}, nil, core.EXTRAPOLATE, false
  local places = descriptor.places
  for key, x in next, named do
    local place = places[key]
    if place then
      given[place] = x
    elseif key == "set" then
      set = quantity.parameters(x)
    elseif key == "extrapolate" then
      if type(x) ~= "boolean" then
        misuse("extrapolate must be true or false, not a %s", type(x))
      end
      flags = x and core.EXTRAPOLATE or 0
    else
      unknown = true
    end
  end
  for _, key in ipairs(unknown and suggest.sorted_keys(named) or {}) do
    if not places[key] and not OPTIONS[key] then
      local names = argument_names(descriptor)
      names[#names + 1], names[#names + 2] = "set", "extrapolate"
      misuse("%s has no argument \"%s\"%s", descriptor.name, tostring(key), suggest.hint(key, names))
    end
  end
  return given, set, flags
end

--- Arguments of a call: list of numbers and lists, parameters object or nil, flags.
function quantity.arguments(descriptor, ...)
  local count, first = select("#", ...), ...
  local given, set, flags
  if count == 1 and type(first) == "table" and first[1] == nil then
    given, set, flags = from_names(descriptor, first)
  else
    if count > #descriptor.arguments then
      misuse("%s takes %d argument%s, not %d", descriptor.name, #descriptor.arguments,
        #descriptor.arguments == 1 and "" or "s", count)
    end
    given, flags = { ... }, core.EXTRAPOLATE
  end
  read_texts(descriptor, given)
  return given, set, flags
end

-- ---- calls ----------------------------------------------------------------------------------------

local run

-- A bare number is a fraction: 65 was meant as 65 %.
local function with_percent(descriptor, given, message, code)
  for i, argument in ipairs(code == "range" and descriptor.arguments or {}) do
    local x = given[i]
    if argument.kind == "fraction" and type(x) == "number" and x > 1 and x <= 100 and message:find("^" .. argument.name .. " = ") then
      return ("%s; a bare number is a fraction, so %g %% is %g or \"%g %%\""):format(message, x, x / 100, x)
    end
  end
  return message
end

-- The C half answers false for a caller's mistake, or for a text in a list.
local function finish(compute, descriptor, given, set, flags, value, message, place, ...)
  if value == nil and message then
    return nil, with_percent(descriptor, given, message, place), place, ...
  elseif value ~= false then
    return value, message, place, ...
  elseif message then
    misuse("%s", message)
  end
  given[place] = read_list(given[place], descriptor.arguments[place])
  return run(compute, descriptor, given, set, flags)
end

-- Cuts the answer to its own length: one result when all is well.
local function trim(value, second, ...)
  if second == nil then
    return value
  end
  return value, second, ...
end

function run(compute, descriptor, given, set, flags)
  return trim(finish(compute, descriptor, given, set, flags,
    compute(descriptor.index, set, flags, unpack(given, 1, #descriptor.arguments))))
end

--- One computation of the C half (core.evaluate, core.range, core.each) with arguments as a script
--- gives them.
function quantity.compute(compute, descriptor, ...)
  return run(compute, descriptor, quantity.arguments(descriptor, ...))
end

--- Function of a descriptor: value [, "extrapolated", sentence], or nil, message, code.
function quantity.build(descriptor)
  local evaluate, arguments = core.evaluate, quantity.arguments
  return function(...)
    return run(evaluate, descriptor, arguments(descriptor, ...))
  end
end

-- ---- descriptors ----------------------------------------------------------------------------------

local all, by_name

--- Descriptors in the order of the library, each with `places` (argument name -> position); shared,
--- so for reading only.
function quantity.all()
  if not all then
    local list, names = core.quantities(), {}
    for _, descriptor in ipairs(list) do
      names[descriptor.name], descriptor.places = descriptor, {}
      for i, argument in ipairs(descriptor.arguments) do
        descriptor.places[argument.name] = i
      end
    end
    all, by_name = list, names -- only now, in case memory ran out on the way
  end
  return all
end

--- Descriptor of a name; an unknown name is a caller's mistake.
function quantity.find(name)
  quantity.all()
  local found = by_name[name]
  if not found then
    local names = {}
    for i, descriptor in ipairs(all) do
      names[i] = descriptor.name
    end
    local near = type(name) == "string" and suggest.nearest(name, names)
    misuse("there is no quantity \"%s\"%s", tostring(name),
      near and ("; did you mean \"%s\"?"):format(near) or " (hf.quantities() lists them)")
  end
  return found
end

return quantity
