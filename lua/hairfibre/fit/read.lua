-- What hf.fit was asked: checks every option, reads data, parameters and groups, and gives the description that
-- the C core takes, with what the report needs to know beside it.

local core = require "hairfibre.core"
local data = require "hairfibre.fit.data"
local misuse = require "hairfibre.misuse"
local models = require "hairfibre.fit.models"
local parameters = require "hairfibre.fit.parameters"
local suggest = require "hairfibre.suggest"
local units = require "hairfibre.units"

local read = {}

local OPTIONS = { "model", "data", "x", "y", "start", "parameters", "sigma", "absolute", "bounds", "fixed", "free",
  "group", "shared", "robust", "starts", "seed", "level", "iterations", "noise", "whole", "survived", "reference",
  "title", "x_name", "y_name", "x_unit", "y_unit" }

-- ---- single options -------------------------------------------------------------------------------------

local function whole(x, name, low, high, usual)
  if x == nil then
    return usual
  end
  local n = math.type(x) == "float" and math.tointeger(x) or x
  if math.type(n) ~= "integer" or n < low or n > high then
    misuse("%s must be a whole number from %d to %d, not %s", name, low, high, tostring(x))
  end
  return n
end
read.whole = whole

--- Level of intervals: 0.95, "95 %".
function read.level(x)
  local value, message = units.value(x or 0.95, { name = "level", unit = "1", kind = "fraction" })
  if not value then
    misuse("%s", message)
  elseif not (value >= 0.5 and value <= 0.9999) then
    misuse("level = %s must lie between 0.5 and 0.9999", tostring(x))
  end
  return value
end

local function check_options(call)
  if type(call) ~= "table" then
    misuse("fit takes one table: hf.fit{ model =, x =, y = }")
  end
  local known = {}
  for _, name in ipairs(OPTIONS) do
    known[name] = true
  end
  for _, key in ipairs(suggest.sorted_keys(call)) do
    if not known[key] then
      misuse("fit has no option \"%s\"%s", tostring(key), suggest.hint(tostring(key), OPTIONS))
    end
  end
end

-- ---- groups ---------------------------------------------------------------------------------------------

local function read_groups(spec, given, call)
  local list = given.group
  if list == nil and type(call.group) == "table" then
    list = call.group
  end
  if not list and call.shared ~= nil then
    misuse("shared says which parameters the groups share; group is missing")
  end
  spec.groups, spec.group = {}, nil
  if list then
    if #list ~= #spec.y then
      misuse("group has %d entries and y has %d", #list, #spec.y)
    end
    local number = {}
    spec.group = {}
    for i, label in ipairs(list) do
      if type(label) == "number" then
        label = core.text(label)
      elseif type(label) ~= "string" then
        misuse("group[%d] must be a word or a number, not a %s", i, type(label))
      end
      label = label:gsub("[%c%[%]\"]", " ")
      if not number[label] then
        spec.groups[#spec.groups + 1] = label
        number[label] = #spec.groups
      end
      spec.group[i] = number[label]
    end
  end
end

local function read_shared(spec, shared)
  local set, names = {}, {}
  for i, p in ipairs(spec.base) do
    names[i] = p.name
    set[p.name] = #spec.groups == 0 or shared == "all" or p.given or nil
  end
  if type(shared) == "table" then
    for _, name in ipairs(shared) do
      local known = false
      for _, other in ipairs(names) do
        known = known or other == name
      end
      if not known then
        misuse("shared: the model has no parameter \"%s\"%s", tostring(name), suggest.hint(tostring(name), names))
      end
      set[name] = true
    end
  elseif shared ~= nil and shared ~= "all" then
    misuse("shared must be a list of parameters, or \"all\"")
  end
  return set
end

-- ---- weights --------------------------------------------------------------------------------------------

local function read_sigma(spec, given, call)
  if call.sigma == nil and not given.sigma then
    if call.absolute ~= nil then
      misuse("absolute says how sigma is meant, and sigma is missing")
    end
    spec.weighting = 0
    return
  elseif type(call.absolute) ~= "boolean" then
    misuse("sigma is given: say absolute = true when it is the standard deviation of each y itself, or absolute = "
      .. "false when it is known up to one factor, which the fit estimates")
  end
  spec.weighting = call.absolute and 2 or 1
  local what = { name = "sigma", unit = spec.y_what.unit, kind = spec.y_what.kind == "temperature"
    and "temperature difference" or spec.y_what.kind }
  if given.sigma then
    spec.sigma = table.move(given.sigma, 1, #given.sigma, 1, {})
  elseif type(call.sigma) == "table" then
    spec.sigma = data.numbers(call.sigma, what, "sigma")
  else
    local one, message = units.value(call.sigma, what)
    if not one then
      misuse("%s", message)
    end
    spec.sigma = {}
    for i = 1, #spec.y do
      spec.sigma[i] = one + 0.0
    end
  end
  if #spec.sigma ~= #spec.y then
    misuse("sigma has %d entries and y has %d", #spec.sigma, #spec.y)
  end
end

-- ---- all of it ------------------------------------------------------------------------------------------

local function read_robust(spec, robust)
  if robust == nil or robust == false then
    return
  elseif robust ~= true and not (type(robust) == "number" and robust > 0.1 and robust < 100) then
    misuse("robust may be true, or the number of standard deviations from which a residual counts less (1.345)")
  end
  spec.robust, spec.huber = true, robust ~= true and robust or 1.345
end

-- The logarithm that the model answers, taken of the data. Returns nil, sentence where there is none.
local function take_logarithm(spec)
  for i, y in ipairs(spec.y) do
    if y ~= y or y <= 0 then
      return nil, ("point %d: %s is %s; the model takes its logarithm, so it must be above 0"):format(i, spec.y_what.name,
        core.text(y))
    end
    spec.y[i] = math.log(y)
    if spec.sigma then
      spec.sigma[i] = spec.sigma[i] / y
    end
  end
  return true
end

local function axis(label, unit, column, what)
  local name = label or (column and column.name) or what.name
  return { name = name, unit = unit or (column and column.unit) or what.unit, kind = column and column.kind or what.kind }
end

local function named_axes(spec, call, given)
  spec.x_axis = {}
  for k = 1, spec.columns do
    local what = spec.model and spec.model.x[k] or { name = spec.columns > 1 and "x" .. k or "x", unit = "1",
      kind = "number" }
    spec.x_axis[k] = axis(k == 1 and call.x_name or nil, k == 1 and call.x_unit or nil,
      given.x_columns and given.x_columns[k], what)
  end
  spec.y_axis = axis(call.y_name, call.y_unit, given.y_column, spec.y_what)
end

local function text_options(call)
  for _, name in ipairs { "title", "x_name", "y_name", "x_unit", "y_unit" } do
    if call[name] ~= nil and type(call[name]) ~= "string" then
      misuse("%s must be a text, not a %s", name, type(call[name]))
    end
  end
end

local LIFE_OPTIONS = { model = true, data = true, x = true, y = true, fixed = true, level = true, survived = true,
  reference = true, title = true, x_name = true, y_name = true, x_unit = true, y_unit = true, seed = true }

local function read_life(spec, given, call)
  for _, key in ipairs(suggest.sorted_keys(call)) do
    if not LIFE_OPTIONS[key] then
      misuse("the model %s has no use for \"%s\"", spec.model.name, key)
    end
  end
  spec.observed = data.observed(given.survived or call.survived, #spec.y)
  for key, value in pairs(call.fixed or {}) do
    if spec.model.name ~= "weibull" or key ~= "shape" or type(value) ~= "number" then
      misuse("the model %s can fix nothing but the shape of weibull: fixed = { shape = 1 }", spec.model.name)
    end
    spec.fixed_shape = value
  end
  if spec.model.name == "weibull_line" then
    local reference, message = require("hairfibre.fit.life").reference(spec, call.reference)
    spec.reference = reference or misuse("%s", message)
  elseif call.reference ~= nil then
    misuse("reference is the stress of a life line; weibull has none")
  end
  return spec
end

--- The call as a spec; or nil, sentence, "data".
function read.call(call)
  check_options(call)
  text_options(call)
  local model, user = nil, nil
  if type(call.model) == "function" then
    user = call.model
  elseif type(call.model) == "string" then
    model = models.find(call.model)
  else
    misuse("model must be the name of a model or a function(x, b), not a %s", type(call.model))
  end
  local given = data.read(call, model)
  local spec = { model = model, call = user, whole = call.whole and true or nil, x = given.x, y = given.y,
    columns = given.columns, points = #given.y, title = call.title, data = call.data, x_columns = given.x_columns,
    y_what = model and model.y or { name = "y", unit = call.y_unit or "1", kind = "number" },
    level = read.level(call.level), starts = whole(call.starts, "starts", 0, 100000, 0),
    seed = whole(call.seed, "seed", 0, 2 ^ 53 // 1 | 0, 1), iterations = whole(call.iterations, "iterations", 0, 100000, 0),
    noise = call.noise }
  if spec.noise ~= nil and not (type(spec.noise) == "number" and spec.noise >= 0 and spec.noise < 0.1) then
    misuse("noise is the relative error of the model's own numbers, such as 1e-6")
  end
  named_axes(spec, call, given)
  if spec.points == 0 then
    return nil, "there are no points to fit", "data"
  end
  if model and model.likelihood then
    return read_life(spec, given, call)
  elseif call.survived ~= nil then
    misuse("survivors count in the models weibull and weibull_line only")
  end
  spec.base = model and model.parameters or parameters.of_function(call)
  read_groups(spec, given, call)
  read_sigma(spec, given, call)
  local shared = read_shared(spec, call.shared)
  spec.parameters, spec.map, spec.of = parameters.expand(spec.base, #spec.groups > 0 and spec.groups or { "" }, shared)
  if #spec.parameters > 20 then
    misuse("%d parameters are too many: a fit takes up to 20", #spec.parameters)
  end
  parameters.start(spec, call.start)
  parameters.fixed(spec, call.fixed, call.free)
  parameters.bounds(spec, call.bounds)
  read_robust(spec, call.robust)
  if user then
    for _, p in ipairs(spec.parameters) do
      if p.start ~= p.start then
        misuse("the parameter %s has no start value", p.name)
      end
    end
  end
  for _, p in ipairs(spec.parameters) do
    if spec.base[p.base].given and p.fixed and p.start ~= p.start then
      misuse("the model %s needs the %s: fixed = { %s = \"%s\" }", model.name, p.name, p.name,
        p.unit == "m" and "35 um" or p.unit)
    end
  end
  if model and model.logarithm then
    local done, message = take_logarithm(spec)
    if not done then
      return nil, message, "data"
    end
    spec.y_axis = { name = "ln " .. spec.y_axis.name, unit = "1", kind = "number", raw = spec.y_axis }
  end
  return spec
end

return read
