-- Parameters of a fit: names, starts, what is fixed, bounds; in a fit of groups, each parameter once for every group
-- unless they share it.

local core = require "hairfibre.core"
local misuse = require "hairfibre.misuse"
local models = require "hairfibre.fit.models"
local suggest = require "hairfibre.suggest"
local units = require "hairfibre.units"

local parameters = {}

local NAN = 0 / 0

local function is_list(t)
  return type(t) == "table" and t[1] ~= nil
end

--- Parameters of a function: names from `parameters`, from the keys of `start`, or b1, b2, ...
function parameters.of_function(call)
  local names = call.parameters
  if names ~= nil and not is_list(names) then
    misuse("parameters must be a list of names: parameters = { \"height\", \"rate\" }")
  elseif not names then
    if type(call.start) ~= "table" or next(call.start) == nil then
      misuse("a function needs start values: start = { 1, 2 } or start = { height = 1, rate = 2 }")
    end
    names = {}
    if is_list(call.start) then
      for i = 1, #call.start do
        names[i] = "b" .. i
      end
    else
      names = suggest.sorted_keys(call.start)
    end
  end
  local list = {}
  for i, name in ipairs(names) do
    if type(name) ~= "string" or name == "" or name:find("[%c%[%]\"]") or #name > 40 then
      misuse("parameter %d needs a name of 1 to 40 letters, without brackets", i)
    end
    list[i] = { name = name, unit = "1", low = NAN, high = NAN, usual = NAN }
  end
  return list
end

--- The expanded list of parameters (one for each group that has its own) and, for every group, which of them stand
-- for the parameters of the model.
function parameters.expand(base, groups, shared)
  local list, map, of = {}, {}, {}
  for k, p in ipairs(base) do
    of[p.name] = {}
    for g = 1, shared[p.name] and 1 or #groups do
      local name = shared[p.name] and p.name or ("%s[%s]"):format(p.name, groups[g])
      list[#list + 1] = { name = name, base = k, unit = p.unit, text = p.text, low = p.low, high = p.high,
        start = p.usual, fixed = p.given or p.usual == p.usual, group = not shared[p.name] and g or nil }
      of[p.name][#of[p.name] + 1] = #list
    end
  end
  for g = 1, #groups do
    for k, p in ipairs(base) do
      local own = of[p.name]
      map[(g - 1) * #base + k] = #own == 1 and own[1] or own[g]
    end
  end
  return list, map, of
end

-- Places among the parameters of a name: its own, or those of all groups.
local function places(spec, name, option)
  for i, p in ipairs(spec.parameters) do
    if p.name == name then
      return { i }
    end
  end
  if spec.of[name] then
    return spec.of[name]
  end
  local names = {}
  for i, p in ipairs(spec.base) do
    names[i] = p.name
  end
  misuse("%s: the model has no parameter \"%s\"%s", option, tostring(name), suggest.hint(tostring(name), names))
end

local function value_of(x, parameter, option)
  local what = models.what(parameter)
  what.name = option .. " of " .. parameter.name
  if type(x) == "string" and parameter.unit == "1" and core.number(x) then
    return core.number(x)
  end
  if type(x) ~= "number" and type(x) ~= "string" then
    misuse("%s must be a number, not a %s", what.name, type(x))
  end
  local value, message = units.value(x, what)
  if not value then
    misuse("%s", message)
  elseif value ~= value or math.abs(value) == math.huge then
    misuse("%s is not a finite number", what.name)
  end
  return value + 0.0
end

--- start = { 1, 2 } in the order of the model's parameters, or by name.
function parameters.start(spec, given)
  if given == nil then
    return
  elseif type(given) ~= "table" then
    misuse("start must be a table of numbers, not a %s", type(given))
  end
  if is_list(given) then
    local n = #given
    if n ~= #spec.base and n ~= #spec.parameters then
      misuse("start has %d numbers; the model has %d parameters", n, #spec.base)
    end
    for i, p in ipairs(spec.parameters) do
      p.start = value_of(given[n == #spec.parameters and i or p.base], p, "start")
      p.started = true
    end
    return
  end
  for _, name in ipairs(suggest.sorted_keys(given)) do
    for _, i in ipairs(places(spec, name, "start")) do
      spec.parameters[i].start = value_of(given[name], spec.parameters[i], "start")
      spec.parameters[i].started = true
    end
  end
end

--- fixed = { name = value } or { "name", ... } at the start; free = { "name", ... }.
function parameters.fixed(spec, fixed, free)
  for option, given in pairs { fixed = fixed or {}, free = free or {} } do
    if type(given) ~= "table" then
      misuse("%s must be a table of parameters, not a %s", option, type(given))
    end
  end
  for _, key in ipairs(suggest.sorted_keys(free or {})) do
    local name = free[key]
    if type(key) ~= "number" then
      misuse("free is a list of names: free = { \"offset\" }")
    end
    for _, i in ipairs(places(spec, name, "free")) do
      spec.parameters[i].fixed, spec.parameters[i].freed = false, true
    end
  end
  for _, key in ipairs(suggest.sorted_keys(fixed or {})) do
    local by_name = type(key) == "string"
    for _, i in ipairs(places(spec, by_name and key or fixed[key], "fixed")) do
      local p = spec.parameters[i]
      if p.freed then
        misuse("%s is named in fixed and in free", p.name)
      end
      p.fixed = true
      if by_name then
        p.start, p.started = value_of(fixed[key], p, "fixed"), true
      elseif not (p.started or p.start == p.start) then
        misuse("fixed: %s has no start value; write fixed = { %s = value }", p.name, p.name)
      end
    end
  end
end

--- bounds = { { low, high }, ... } in order, or { name = { low, high } }; either limit may be nil or infinite.
function parameters.bounds(spec, given)
  if given ~= nil and type(given) ~= "table" then
    misuse("bounds must be a table, not a %s", type(given))
  end
  for _, key in ipairs(suggest.sorted_keys(given or {})) do
    local name = type(key) == "number" and spec.base[key] and spec.base[key].name or key
    for _, i in ipairs(places(spec, name, "bounds")) do
      local p, pair = spec.parameters[i], given[key]
      if type(pair) ~= "table" then
        misuse("bounds of %s must be a pair: { low, high }", p.name)
      end
      for side, field in pairs { "low", "high" } do
        local x = pair[side] == nil and pair[field] or pair[side]
        if type(x) == "number" and math.abs(x) == math.huge then
          p[field] = NAN
        elseif x ~= nil then
          p[field] = value_of(x, p, field .. " bound")
        end
      end
      if p.low >= p.high then
        misuse("bounds of %s: low (%s) must be below high (%s)", p.name, core.text(p.low), core.text(p.high))
      end
    end
  end
end

return parameters
