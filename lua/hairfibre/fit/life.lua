-- Lives and strengths by maximum likelihood: Weibull, and Weibull with a life line. Survivors count with the time
-- they lasted. The answer has the same face as a fit by least squares.

local core = require "hairfibre.core"
local units = require "hairfibre.units"

local life = {}

local NAN = 0 / 0

local function words_of(interval)
  local words = {}
  if interval.open_low then
    words[#words + 1] = "interval open below"
  end
  if interval.open_high then
    words[#words + 1] = "interval open above"
  end
  return table.concat(words, "; ")
end

local function correlation_of(covariance, n)
  local rows = {}
  for i = 1, n do
    rows[i] = {}
    for j = 1, n do
      local a, b = covariance[i][i], covariance[j][j]
      rows[i][j] = i == j and 1 or a * b > 0 and covariance[i][j] / math.sqrt(a * b) or NAN
    end
  end
  return rows
end

--- Fits; `spec` as fit_read gives it.
function life.run(spec)
  local model = spec.model
  local found, message, code, reference
  if model.name == "weibull" then
    found, message, code = core.life(spec.y, spec.observed, spec.fixed_shape, spec.level)
  else
    reference = spec.reference
    found, message, code = core.life_line(spec.x, spec.y, spec.observed, reference, spec.level)
  end
  if not found then
    return nil, message, code
  end
  local n, covariance = #found.parameters, {}
  for i = 1, n do
    covariance[i] = table.move(found.covariance, (i - 1) * n + 1, i * n, 1, {})
  end
  local f = { model = model.name, equation = model.equation, title = spec.title, level = spec.level, converged = true,
    points = found.broken + found.survivors, broken = found.broken, survivors = found.survivors,
    log_likelihood = found.log_likelihood, aic = found.aic, aicc = found.aicc, bic = found.bic, rss = NAN, s = NAN,
    iterations = found.iterations, covariance = covariance, correlation = correlation_of(covariance, n),
    version = core.version, parameters = {}, reference = reference,
    reason = ("converged: the likelihood is at its maximum, %d iterations"):format(found.iterations) }
  local free = 0
  for j, p in ipairs(found.parameters) do
    local fixed = spec.fixed_shape ~= nil and p.name == "shape"
    free = free + (fixed and 0 or 1)
    local interval = { low = p.low, high = p.high, open_low = p.open_low, open_high = p.open_high, kind = "profile" }
    if fixed then
      interval = { low = NAN, high = NAN, kind = "none" }
    end
    f.parameters[j] = { name = p.name, unit = p.name == "scale" and spec.y_axis.unit or "1", value = p.value,
      standard_error = fixed and NAN or p.standard_error, low = interval.low, high = interval.high, interval = interval,
      flag = fixed and "fixed" or words_of(interval), flags = {}, note = "", start = NAN, fixed = fixed,
      text = model.parameters[j] and model.parameters[j].text }
  end
  f.free, f.degrees_of_freedom = free, f.points - free
  if spec.data then
    f.excluded, f.checksum = spec.data.excluded, spec.data.checksum
  end
  return require("hairfibre.fit").adopt(f, spec)
end

--- Reference stress of the line from a call: the geometric middle of the stresses when not given.
function life.reference(spec, given)
  if given ~= nil then
    local x, message = units.value(given, spec.model.x[1])
    return x, message
  end
  local sum = 0
  for _, x in ipairs(spec.x) do
    sum = sum + (x > 0 and math.log(x) or NAN)
  end
  local middle = math.exp(sum / #spec.x)
  return middle == middle and middle or 1
end

--- Kaplan-Meier estimate of the share broken at each break, and the point that stands for it in a Weibull plot
--- (middle of the step): lists of life, share.
function life.broken_shares(y, observed)
  local order = {}
  for i = 1, #y do
    order[i] = i
  end
  table.sort(order, function(a, b)
    if y[a] ~= y[b] then
      return y[a] < y[b]
    end
    return observed[a] > observed[b] or (observed[a] == observed[b] and a < b)
  end)
  local whole, left, lives, shares = 1, #y, {}, {}
  for _, i in ipairs(order) do
    if observed[i] == 1 then
      local after = whole * (1 - 1 / left)
      lives[#lives + 1], shares[#shares + 1] = y[i], 1 - (whole + after) / 2
      whole = after
    end
    left = left - 1
  end
  return lives, shares
end

--- Lines of the report after the parameters.
function life.report(f, lines, wrap, number)
  local spec = f:inside()
  lines[#lines + 1] = "Likelihood"
  lines[#lines + 1] = ("  %d broke, %d survived; ln L %s"):format(f.broken, f.survivors, number(f.log_likelihood, 6))
  lines[#lines + 1] = ("  AIC %s   AICc %s   BIC %s"):format(number(f.aic, 6), number(f.aicc, 6), number(f.bic, 6))
  lines[#lines + 1] = wrap("AIC = -2 ln L + 2k, AICc = AIC + 2k(k + 1)/(n - k - 1), BIC = -2 ln L + k ln n; k = parameters "
    .. "estimated, n = broken and survivors", "  ", "    ")
  if f.reference then
    lines[#lines + 1] = ("  reference stress %s MPa"):format(number(f.reference / 1e6, 5))
  end
  lines[#lines + 1] = ("  %s"):format(f.reason)
  if f.survivors > 0 and spec.model.name == "weibull" and f.survivors / f.points > 0.5 then
    lines[#lines + 1] = wrap("More than half survived: the scale lies beyond what was tried.", "  ", "    ")
  end
end

return life
