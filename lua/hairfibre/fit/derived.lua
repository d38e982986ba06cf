-- Numbers that follow from a fit: half lives, stresses at the corners, log10 A, median lives. Standard errors by the delta
-- method, from the covariance of the parameters. The break of a stretched strand is its last point.

local derived = {}

local NAN = 0 / 0
local LN2, LN10, GAS = math.log(2), math.log(10), 8.314462618

local function rounded(u, width)
  return 0.5 * (u + math.sqrt(u * u + width * width))
end

local function stress(b, e)
  local function corner(at)
    return rounded(e - at, b.corner) - rounded(-at, b.corner)
  end
  return b.modulus * e + (b.yield_slope - b.modulus) * corner(b.yield_strain)
    + (b.post_yield_slope - b.yield_slope) * corner(b.post_yield_strain)
end

local LOG10_A = { "log10_prefactor", "1", "log10 of the prefactor in 1/s", function(b)
  return b.log_prefactor / LN10
end }
local HALF = { "half_life", "s", "time to half of the loss", function(b)
  return LN2 / b.rate
end }

-- Model -> { name, unit, text, function of its parameters }.
local rules = {
  first_order = { HALF },
  arrhenius = { LOG10_A }, arrhenius_log = { LOG10_A }, kissinger = { LOG10_A },
  denaturation_trace = { { "log10_prefactor", "1", "log10 of the prefactor in 1/s", function(b)
    local x = b.activation_energy / (GAS * b.peak)
    return (math.log(b.heating_rate * x / b.peak) + x) / LN10
  end } },
  stress_strain = {
    { "yield_stress", "Pa", "where yielding begins", function(b) return stress(b, b.yield_strain) end },
    { "post_yield_stress", "Pa", "where the post-yield region begins", function(b)
      return stress(b, b.post_yield_strain)
    end },
  },
  weibull = { { "median", false, "half have broken", function(b) return b.scale * LN2 ^ (1 / b.shape) end } },
  weibull_line = { { "median", false, "half have broken, at the reference stress", function(b)
    return math.exp(b.intercept) * LN2 ^ (1 / b.shape)
  end } },
}

-- Standard error of g at the fitted values; `places`: name -> place among the parameters.
local function error_of(f, g, values, places)
  local gradient, order = {}, {}
  for name, place in pairs(places) do
    if not f.parameters[place].fixed then
      order[#order + 1] = name
    end
  end
  table.sort(order)
  for i, name in ipairs(order) do
    local step = 1e-5 * math.max(math.abs(values[name]), 1e-300)
    local moved = setmetatable({}, { __index = values })
    moved[name] = values[name] + step
    local up = g(moved)
    moved[name] = values[name] - step
    gradient[i] = (up - g(moved)) / (2 * step)
  end
  local sum = 0
  for i, a in ipairs(order) do
    for j, b in ipairs(order) do
      if gradient[i] ~= 0 and gradient[j] ~= 0 then
        sum = sum + gradient[i] * gradient[j] * f.covariance[places[a]][places[b]]
      end
    end
  end
  return sum > 0 and sum < math.huge and math.sqrt(sum) or NAN
end

local function add_rules(f, list, suffix, values, places, unit)
  for _, rule in ipairs(rules[f.model]) do
    local value = rule[4](values)
    list[#list + 1] = { name = rule[1] .. suffix, unit = rule[2] or unit, text = rule[3], value = value,
      standard_error = error_of(f, rule[4], values, places) }
  end
end

-- Strain and stress of the last point.
local function add_break(spec, list, suffix, group)
  local strain, last = -math.huge, nil
  for i, x in ipairs(spec.x) do
    if (not group or spec.group[i] == group) and x > strain then
      strain, last = x, i
    end
  end
  if last then
    list[#list + 1] = { name = "break_strain" .. suffix, unit = "1", text = "strain of the last point", value = strain,
      standard_error = NAN }
    list[#list + 1] = { name = "break_stress" .. suffix, unit = "Pa", text = "stress of the last point", value = spec.y[last],
      standard_error = NAN }
  end
end

--- List of { name, unit, text, value, standard_error }; empty where a model has none.
function derived.of(f)
  local spec, list = f:inside(), {}
  if not rules[f.model] then
    return list
  end
  local groups = spec.groups and #spec.groups > 0 and spec.groups or { false }
  for g, word in ipairs(groups) do
    local values, places = {}, {}
    for i, p in ipairs(f.parameters) do
      local base, own = p.name:match("^([^%[]*)%[?(.-)%]?$")
      if own == "" or own == word then
        values[base], places[base] = p.value, i
      end
    end
    local suffix = word and "[" .. word .. "]" or ""
    add_rules(f, list, suffix, values, places, spec.y_axis.unit)
    if f.model == "stress_strain" then
      add_break(spec, list, suffix, word and g)
    end
  end
  return list
end

return derived
