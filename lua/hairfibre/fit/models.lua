-- Models for fitting, by name: those of the C core, and the two likelihoods of lives. A model whose answer is a
-- logarithm takes the number itself as data; the logarithm is taken here.

local core = require "hairfibre.core"
local misuse = require "hairfibre.misuse"
local suggest = require "hairfibre.suggest"

local models = {}

-- What a column of data stands for, for units and for the axes of figures.
local function kind_of(name, unit)
  if unit == "K" then
    return "temperature"
  elseif unit == "kg/kg" or (unit == "1" and not name:find("^log_")) then
    return "fraction"
  end
  return "number"
end

local function column(name, unit)
  return { name = name, unit = unit, kind = kind_of(name, unit) }
end

-- Numbers whose logarithm is fitted.
local logarithms = { log_rate = { "rate", "1/s" }, log_cycles = { "cycles", "1" } }
-- Pure numbers that are no fractions.
local plain = { amount = true, cycles = true, life = true }

local lives = {
  { name = "weibull", text = "lives or strengths with Weibull scatter, survivors counted", likelihood = true,
    equation = "F(t) = 1 - exp(-(t/scale)^shape), by maximum likelihood", known = "common practice",
    sources = { "common-practice" }, x = {}, y = { name = "life", unit = "1", kind = "number" },
    parameters = { { name = "scale", unit = "1", text = "life that 63 % do not pass" },
      { name = "shape", unit = "1", text = "above 1: it wears out; below 1: weak ones go first" } } },
  { name = "weibull_line", text = "lives at several stresses, one Weibull shape, survivors counted", likelihood = true,
    equation = "ln scale = intercept - slope ln(stress/reference), one shape, by maximum likelihood",
    known = "from memory", sources = { "basquin", "evans-fatigue" }, x = { column("stress", "Pa") },
    y = { name = "cycles", unit = "1", kind = "number" },
    parameters = { { name = "intercept", unit = "1", text = "ln of the scale at the reference stress" },
      { name = "slope", unit = "1", text = "fall of ln scale with ln stress" },
      { name = "shape", unit = "1", text = "of the scatter, the same at every stress" } } },
}

local all
local function load_all()
  if all then
    return all
  end
  local list = {} -- kept only when complete: memory may run out on the way
  for _, m in ipairs(core.fit_models()) do
    m.x = {}
    for i, name in ipairs(m.x_names) do
      m.x[i] = column(name, m.x_units[i])
    end
    local raw = logarithms[m.y_name]
    m.logarithm = raw ~= nil
    m.y = raw and column(raw[1], raw[2]) or column(m.y_name, m.y_unit)
    if plain[m.y.name] then
      m.y.kind = "number"
    end
    list[#list + 1], list[m.name] = m, m
  end
  for _, m in ipairs(lives) do
    m.y_name, m.y_unit, m.columns, m.by_rows = m.y.name, m.y.unit, #m.x, true
    list[#list + 1], list[m.name] = m, m
  end
  all = list
  return all
end

--- List of all models.
function models.all()
  return load_all()
end

--- Names of all models, in the order of the list.
function models.names()
  local names = {}
  for i, m in ipairs(load_all()) do
    names[i] = m.name
  end
  return names
end

--- Model of a name; raises with the nearest name.
function models.find(name)
  local m = load_all()[name]
  if not m then
    misuse("there is no model \"%s\"%s", tostring(name), suggest.hint(tostring(name), models.names()))
  end
  return m
end

--- What a parameter is, for units.
function models.what(parameter)
  return { name = parameter.name, unit = parameter.unit, kind = kind_of(parameter.name, parameter.unit) }
end

--- Fresh list of descriptors for users: { name, text, equation, x, y, parameters, sources, known }.
function models.list()
  local list = {}
  for i, m in ipairs(load_all()) do
    local copy = { name = m.name, text = m.text, equation = m.equation, known = m.known, x = {}, parameters = {},
      y = { name = m.y.name, unit = m.y.unit }, sources = table.move(m.sources, 1, #m.sources, 1, {}) }
    for k, x in ipairs(m.x) do
      copy.x[k] = { name = x.name, unit = x.unit }
    end
    for k, p in ipairs(m.parameters) do
      copy.parameters[k] = { name = p.name, unit = p.unit, text = p.text, low = p.low, high = p.high,
        fixed_at = p.usual == p.usual and p.usual or nil, must_be_given = p.given or nil }
    end
    list[i] = copy
  end
  return list
end

return models
