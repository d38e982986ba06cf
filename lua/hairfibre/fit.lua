-- A model fitted to a researcher's own data.
--
--   local f = hf.fit{ model = "gab", x = activities, y = regains }
--   local f = hf.fit{ model = function(x, b) return b.height * math.exp(-b.rate * x) end, x =, y =,
--                     start = { height = 1, rate = 0.1 } }
--   f.parameters[1].value, .standard_error, .low, .high, .flag      f.rss, f.degrees_of_freedom, f.reason
--   print(f:report())     f:plot():save("fit.svg")     f:save("fit.json")
--
-- Every option: docs/lua.md. Intervals are profile-likelihood intervals, worked out when they are first read.

local cautions = require "hairfibre.cautions"
local core = require "hairfibre.core"
local misuse = require "hairfibre.misuse"
local models = require "hairfibre.fit.models"
local provenance = require "hairfibre.provenance"
local read = require "hairfibre.fit.read"
local suggest = require "hairfibre.suggest"

local fit = {}

local NAN = 0 / 0
local WEIGHTINGS = { [0] = "equal", "relative", "absolute" }

-- What a fit keeps for itself: { handle =, spec = }.
local inside = setmetatable({}, { __mode = "k" })

local Fit = { __name = "hairfibre.fit" }
local methods = {}
Fit.__index = methods

function fit.is(f)
  return inside[f] ~= nil
end

--- Handle of the core and spec of a fit; raises for anything else.
function fit.inside(f, what)
  local own = inside[f]
  if not own then
    misuse("%s takes fits, as hf.fit gives them", what or "this")
  end
  return own.handle, own.spec
end

-- ---- intervals, when they are read ------------------------------------------------------------------------

local LAZY = { low = true, high = true, flag = true, interval = true }

local function interval_of(own, j, p)
  local spec, handle = own.spec, own.handle
  if p.fixed then
    return { low = NAN, high = NAN, kind = "none" }
  elseif spec.robust then
    local t = own.summary.degrees_of_freedom > 0 and core.statistics.t_quantile(0.5 + spec.level / 2,
      own.summary.degrees_of_freedom) or NAN
    return { low = p.value - t * p.standard_error, high = p.value + t * p.standard_error, kind = "standard error" }
  end
  local interval, message
  if spec.model then -- all of them side by side
    own.profiles = own.profiles or handle:profiles(spec.level)
    interval = own.profiles and own.profiles[j]
    if interval and interval.problem then
      interval, message = nil, interval.problem
    end
  else
    interval, message = handle:profile(j, spec.level)
  end
  if not interval then
    return { low = NAN, high = NAN, kind = "none", problem = message or "interrupted" }
  end
  interval.kind = "profile"
  return interval
end

local function words_of(p, interval)
  local words = {}
  for _, word in ipairs(p.flags) do
    words[#words + 1] = word == "entangled" and "not identifiable: entangled" or word == "no effect"
      and "not identifiable: no effect" or word
  end
  if interval.open_low then
    words[#words + 1] = "interval open below"
  end
  if interval.open_high then
    words[#words + 1] = "interval open above"
  end
  if interval.better then
    words[#words + 1] = "a better minimum was met: fit again with more starts"
  end
  return table.concat(words, "; ")
end

local function with_interval(own, j, p)
  local function fill()
    local interval = interval_of(own, j, p)
    rawset(p, "interval", interval)
    rawset(p, "low", interval.low)
    rawset(p, "high", interval.high)
    rawset(p, "flag", words_of(p, interval))
  end
  return setmetatable(p, {
    __index = function(t, key)
      if LAZY[key] then
        fill()
        return rawget(t, key)
      end
    end,
    __pairs = function(t)
      if rawget(t, "flag") == nil then
        fill()
      end
      return next, t
    end,
    __metatable = "locked",
  })
end

-- The list is also found by name.
local function by_name(list)
  return setmetatable(list, {
    __index = function(t, key)
      if type(key) == "string" then
        for _, p in ipairs(t) do
          if p.name == key then
            return p
          end
        end
      end
    end,
    __metatable = "locked",
  })
end

-- ---- the answer -----------------------------------------------------------------------------------------

local function square(flat, n)
  if not flat then
    return nil
  end
  local rows = {}
  for i = 1, n do
    rows[i] = table.move(flat, (i - 1) * n + 1, i * n, 1, {})
  end
  return rows
end

local HOT = { arrhenius = true, arrhenius_log = true, kissinger = true, denaturation_peak = true }

-- Where a fit comes from; `spec` as fit_read gives it.
local function origin_of(spec)
  local options = { { "model", spec.model and spec.model.name or "a function" }, { "level", spec.level } }
  if not spec.observed then
    options[#options + 1] = { "weighting", WEIGHTINGS[spec.weighting] }
    options[#options + 1] = { "seed", spec.seed }
    options[#options + 1] = spec.starts > 0 and { "starts", spec.starts } or nil
    options[#options + 1] = spec.robust and { "robust", spec.huber } or nil
  end
  local files = spec.data and spec.data.files
  if spec.data and spec.data.checksum and spec.data.file then
    files = { { name = spec.data.file:match("[^/]*$"), sha256 = spec.data.checksum } }
  end
  return provenance.of(nil, options, files)
end

--- Where a fit comes from, with further options { name, value }.
function fit.origin(f, ...)
  local own = inside[f].origin
  local options = table.move(own.options, 1, #own.options, 1, {})
  for _, pair in ipairs { ... } do
    options[#options + 1] = pair
  end
  local copy = {}
  for key, value in pairs(own) do
    copy[key] = value
  end
  copy.options = options
  return copy
end

local function answer(handle, spec)
  local summary = handle:summary()
  local f, own = {}, { handle = handle, spec = spec, summary = summary }
  f.model, f.equation = spec.model and spec.model.name or "function", spec.model and spec.model.equation or nil
  f.title = spec.title
  for _, key in ipairs { "rss", "s", "degrees_of_freedom", "converged", "reason", "points", "log_likelihood", "aic",
    "aicc", "bic", "condition", "offset", "iterations", "evaluations", "starts", "starts_answered", "winner" } do
    f[key] = summary[key]
  end
  f.minima_found, f.minima = summary.minima, handle:minima()
  f.weighting, f.robust, f.level, f.seed = WEIGHTINGS[spec.weighting], spec.robust and spec.huber or nil, spec.level,
    spec.seed
  f.free = summary.free
  local list = handle:estimates()
  for j, p in ipairs(list) do
    p.fixed = spec.parameters[j].fixed or false
    p.text = spec.parameters[j].text
    with_interval(own, j, p)
  end
  f.parameters = by_name(list)
  local covariance, correlation = handle:covariance()
  f.covariance, f.correlation = square(covariance, #list), square(correlation, #list)
  f.groups = #spec.groups > 0 and table.move(spec.groups, 1, #spec.groups, 1, {}) or nil
  f.caution = HOT[f.model] and cautions.heat or nil
  f.version = core.version
  if spec.data then
    f.excluded, f.checksum = spec.data.excluded, spec.data.checksum
  end
  own.origin = origin_of(spec)
  inside[f] = own
  return setmetatable(f, Fit)
end

local function describe(spec)
  return { points = spec.points, columns = spec.columns, x = spec.x, y = spec.y, sigma = spec.sigma,
    weighting = spec.weighting, parameters = spec.parameters, model = spec.model and spec.model.index, call = spec.call,
    whole = spec.whole, robust = spec.robust, huber = spec.huber, starts = spec.starts, seed = spec.seed,
    iterations = spec.iterations, noise = spec.noise or (spec.model and spec.model.noise) }
end

local function names_of(list)
  local names = {}
  for i, p in ipairs(list) do
    names[i] = p.name
  end
  return names
end

--- Fits. A fit; where no minimum was reached the fit, "convergence", sentence; where there is nothing to show nil,
--- sentence, code.
function fit.run(call)
  local spec, message, code = read.call(call)
  if not spec then
    return nil, message, code
  elseif spec.observed then
    return require("hairfibre.fit.life").run(spec)
  end
  local description = describe(spec)
  description.names = names_of(spec.base)
  if #spec.groups > 0 then
    description.groups, description.group, description.map = #spec.groups, spec.group, spec.map
    description.model_parameters = #spec.base
  end
  local handle, reason, class = core.fit(description)
  if not handle then
    return nil, reason, class
  end
  local done, wrong, kind = handle:run()
  if done == nil then
    return nil, wrong, kind
  end
  local f = answer(handle, spec)
  if not done then
    return f, "convergence", wrong
  end
  return f
end

-- ---- methods --------------------------------------------------------------------------------------------

-- The spec of a fit, for the modules of the library.
function methods:inside()
  local _, spec = fit.inside(self, "a method of a fit")
  return spec
end

--- Text of the whole report, 80 columns.
function methods:report(options)
  return require("hairfibre.fit.report").text(self, options)
end
Fit.__tostring = methods.report

function methods:print(options)
  io.stdout:write(methods.report(self, options))
end

--- A figure: "fit" (usual), "residuals", "order", "quantiles", "leverage", "region".
function methods:plot(kind, options)
  if type(kind) == "table" then
    kind, options = nil, kind
  end
  return require("hairfibre.fit.figures").figure(self, kind, options)
end

--- Writes .json (everything), .csv (parameters; `what`: "points" or "curve"), .txt (the report), or a picture (.svg,
--- .png, .pdf; `what`: the kind of figure).
function methods:save(path, what)
  return require("hairfibre.fit.save").save(self, path, what)
end

--- JSON text of everything; `more`: { comparison = result, bootstrap = result } to go along.
function methods:json(more)
  return require("hairfibre.fit.save").json(self, more)
end

for method, module in pairs { residuals = "fit.answers", curve = "fit.answers", bands = "fit.answers",
  region = "fit.answers", bootstrap = "fit.answers" } do
  methods[method] = function(self, ...)
    return require("hairfibre." .. module)[method](self, ...)
  end
end

--- Compares with other fits of the same points: f:compare(g, h).
function methods:compare(...)
  return require("hairfibre.fit.answers").compare { self, ... }
end

--- The fitted numbers as a parameter set with covariance: f:parameter_set{ name =, base =, as =, branch =,
--- temperature = }; or nil, sentence, code.
function methods:parameter_set(options)
  return require("hairfibre.fit.set").make(self, options)
end

--- Writes that set as a .json file; true, or nil, sentence, code.
function methods:save_set(path, options)
  return require("hairfibre.fit.set").save(self, path, options)
end

--- What follows from the parameters: list of { name, unit, text, value, standard_error }; empty where a model has none.
function methods:derived()
  return require("hairfibre.fit.derived").of(self)
end

--- Value of a parameter by name.
function methods:value(name)
  local p = self.parameters[name]
  if not p then
    misuse("the fit has no parameter \"%s\"%s", tostring(name), suggest.hint(tostring(name), names_of(self.parameters)))
  end
  return p.value
end

--- Registers the answer of a fit by likelihood, which has the same methods.
function fit.adopt(f, spec)
  inside[f] = { spec = spec, origin = origin_of(spec) }
  f.parameters = by_name(f.parameters)
  return setmetatable(f, Fit)
end

--- List of the built-in models.
fit.models = models.list

--- Compares fits of the same points: hf.compare_models{ f, g }.
function fit.compare(list)
  return require("hairfibre.fit.answers").compare(list)
end

return fit
