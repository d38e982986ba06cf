-- What a few counted strands allow one to say. Every function takes one table of options and gives a
-- table of fields, or a number; or nil, sentence, code.
--
--   hf.binomial_interval { events = 5, strands = 5, method = "clopper-pearson", level = 0.95 }
--     -> { share = 1, low = 0.478, high = 1, ... }
--
-- Counts are whole numbers, shares and levels fractions or texts such as "90 %". `level` is 0.95,
-- `alpha` (risk of a false alarm, two-sided) 0.05 and `power` 0.8 unless given.

local core = require("hairfibre.core").statistics
local misuse = require "hairfibre.misuse"
local suggest = require "hairfibre.suggest"
local units = require "hairfibre.units"

local statistics = {}

-- ---- reading options --------------------------------------------------------------------------------

local function refuse(...)
  error({ refused = string.format(...) }, 0)
end

local FRACTION = { unit = "1", kind = "fraction" }
local readers = {}

function readers.count(x, what)
  if type(x) ~= "number" then
    misuse("%s must be a whole number, not a %s", what, type(x))
  end
  local whole = math.tointeger(x)
  if not whole then
    misuse("%s = %s: strands are counted in whole numbers", what, tostring(x))
  elseif whole < 0 then
    refuse("%s = %d: a count is 0 or more", what, whole)
  elseif whole > 100000 then
    refuse("%s = %d: counts up to 100000 are taken", what, whole)
  end
  return whole
end

function readers.share(x, what)
  FRACTION.name = what
  local value, message = units.value(x, FRACTION)
  if not value then
    misuse("%s", message)
  elseif not (value >= 0 and value <= 1) then
    refuse("%s = %s: a share lies between 0 and 1 (0 %% and 100 %%)", what, tostring(value))
  end
  return value
end

function readers.inside(x, what)
  local value = readers.share(x, what)
  if value <= 0 or value >= 1 then
    refuse("%s = %s must lie between 0 and 1, without the ends", what, tostring(value))
  end
  return value
end

function readers.number(x, what)
  if type(x) ~= "number" then
    misuse("%s must be a number, not a %s", what, type(x))
  elseif x ~= x or math.abs(x) == math.huge then
    misuse("%s is not a finite number", what)
  end
  return x
end

function readers.list(x, what)
  if type(x) ~= "table" then
    misuse("%s must be a list of numbers, not a %s", what, type(x))
  end
  local copy = {}
  for i = 1, #x do
    copy[i] = readers.number(x[i], ("%s[%d]"):format(what, i))
  end
  return copy
end

local function one_of(words, x, what)
  for i, word in ipairs(words) do
    if x == word then
      return i - 1
    end
  end
  misuse("%s is \"%s\"; it may be %s%s", what, tostring(x), suggest.list(words),
    suggest.nearest(tostring(x), words) and suggest.hint(x, words) or "")
end

function readers.method(x, what)
  return one_of(core.methods, x, what)
end

function readers.weights(x, what)
  return one_of(core.weights, x, what)
end

function readers.sides(x, what)
  if x ~= 1 and x ~= 2 then
    misuse("%s is 1 or 2, not %s", what, tostring(x))
  end
  return x
end

function readers.truth(x, what)
  if type(x) ~= "boolean" then
    misuse("%s must be true or false, not a %s", what, type(x))
  end
  return x
end

-- { { events, non-events }, { events, non-events } }, flat
function readers.table(x, what)
  local flat = {}
  if type(x) ~= "table" or #x ~= 2 then
    misuse("%s must be { { events, others }, { events, others } }, a row for each group", what)
  end
  for i = 1, 2 do
    if type(x[i]) ~= "table" or #x[i] ~= 2 then
      misuse("%s[%d] must be { events, others }", what, i)
    end
    for k = 1, 2 do
      flat[#flat + 1] = readers.count(x[i][k], ("%s[%d][%d]"):format(what, i, k))
    end
  end
  return flat
end

function readers.tables(x, what)
  local flat = {}
  if type(x) ~= "table" or #x == 0 then
    misuse("%s must be a list of tables, one a stratum", what)
  end
  for i = 1, #x do
    for _, count in ipairs(readers.table(x[i], ("%s[%d]"):format(what, i))) do
      flat[#flat + 1] = count
    end
  end
  return flat
end

-- { { first, second }, ... }, two lists of numbers a stratum
function readers.strata(x, what)
  if type(x) ~= "table" or #x == 0 then
    misuse("%s must be a list of { first group, second group }, one a stratum", what)
  end
  local copy = {}
  for i = 1, #x do
    if type(x[i]) ~= "table" or #x[i] ~= 2 then
      misuse("%s[%d] must be { first group, second group }, two lists of numbers", what, i)
    end
    copy[i] = { readers.list(x[i][1], ("%s[%d][1]"):format(what, i)), readers.list(x[i][2], ("%s[%d][2]"):format(what, i)) }
  end
  return copy
end

function readers.any(x)
  return x
end

local usual = { level = 0.95, alpha = 0.05, power = 0.8 }

-- "events:count strands:count method:method?" -> descriptors; ? marks what may be missing
local function describe(text)
  local list, names = {}, {}
  for name, kind, optional in text:gmatch("(%w[%w_]*):(%a+)(%??)") do
    list[#list + 1] = { name = name, read = readers[kind], optional = optional == "?" or usual[name] ~= nil }
    names[#names + 1] = name
  end
  return list, names
end

-- Makes statistics[name]: reads the options and hands them to f.
local function define(name, text, f)
  local list, names = describe(text)
  local function work(given)
    local o = {}
    if type(given) ~= "table" then
      misuse("%s takes one table of options: %s", name, table.concat(names, ", "))
    end
    for _, key in ipairs(suggest.sorted_keys(given)) do
      local known = false
      for _, one in ipairs(names) do
        known = known or one == key
      end
      if not known then
        misuse("%s has no option \"%s\"%s", name, tostring(key), suggest.hint(key, names))
      end
    end
    for _, one in ipairs(list) do
      local x = given[one.name]
      if x == nil then
        x = usual[one.name]
      end
      if x ~= nil then
        o[one.name] = one.read(x, ("%s: %s"):format(name, one.name))
      elseif not one.optional then
        misuse("%s: %s is missing", name, one.name)
      end
    end
    if o.events and o.strands and o.events > o.strands then
      refuse("%s: %d events among %d strands: there cannot be more events than strands", name, o.events,
        o.strands)
    end
    return f(o)
  end
  statistics[name] = function(given)
    local results = table.pack(pcall(work, given))
    if results[1] then
      return table.unpack(results, 2, results.n)
    elseif type(results[2]) == "table" and results[2].refused then
      return nil, results[2].refused, "range"
    end
    error(results[2], 0)
  end
  statistics.names[#statistics.names + 1] = name
end

statistics.names = {}

-- ---- a share ----------------------------------------------------------------------------------------

define("binomial_interval", "events:count strands:count method:method? level:inside", function(o)
  local method = o.method or 0
  local r, message, code = core.binomial_interval(o.events, o.strands, method, o.level)
  if r then
    r.method, r.level = core.methods[method + 1], o.level
  end
  return r, message, code
end)

define("binomial_test", "events:count strands:count against:share", function(o)
  return core.binomial_test(o.events, o.strands, o.against)
end)

define("rule_of_three", "strands:count", function(o)
  return core.rule_of_three(o.strands)
end)

local priors = { uniform = { 1, 1 }, jeffreys = { 0.5, 0.5 } }

-- prior = "uniform", "jeffreys" or { a, b }: numbers and a name that says which
local function prior_of(prior)
  prior = prior or "jeffreys"
  if type(prior) == "table" and #prior == 2 then
    for i = 1, 2 do
      if readers.number(prior[i], ("prior[%d]"):format(i)) <= 0 or prior[i] > 1e5 then
        refuse("prior[%d] = %s must lie above 0, up to 100000", i, tostring(prior[i]))
      end
    end
    return prior[1], prior[2], ("Beta(%g, %g)"):format(prior[1], prior[2])
  elseif not priors[prior] then
    misuse("prior is \"uniform\", \"jeffreys\" or { a, b }, not \"%s\"", tostring(prior))
  end
  local a, b = table.unpack(priors[prior])
  return a, b, ("%s, Beta(%g, %g)"):format(prior, a, b)
end

define("posterior_share", "events:count strands:count prior:any? level:inside above:share?", function(o)
  local a, b, words = prior_of(o.prior)
  local r, message, code = core.posterior_share(o.events, o.strands, a, b, o.level)
  if not r then
    return r, message, code
  end
  r.prior, r.level = words, o.level
  if o.above then
    r.above = core.posterior_above(o.events, o.strands, a, b, o.above)
  end
  return r
end)

define("posterior_next", "events:count strands:count hits:count next:count prior:any?", function(o)
  local a, b = prior_of(o.prior)
  if o.hits > o.next then
    refuse("posterior_next: %d hits among %d strands", o.hits, o.next)
  end
  return core.posterior_next(o.events, o.strands, a, b, o.hits, o.next)
end)

-- ---- tables -----------------------------------------------------------------------------------------

define("fisher_exact", "table:table level:inside", function(o)
  local t = o.table
  return core.fisher_exact(t[1], t[2], t[3], t[4], o.level)
end)

define("mcnemar", "gained:count lost:count", function(o)
  return core.mcnemar(o.gained, o.lost)
end)

define("mantel_haenszel", "tables:tables level:inside", function(o)
  return core.mantel_haenszel(o.tables, o.level)
end)

-- ---- ranks and means --------------------------------------------------------------------------------

-- after - before, without what is only rounding
local function differences(name, before, after)
  if #before ~= #after then
    misuse("%s: before has %d values, after has %d", name, #before, #after)
  end
  local list = {}
  for i = 1, #after do
    local d = after[i] - before[i]
    list[i] = math.abs(d) <= 1e-12 * math.max(math.abs(after[i]), math.abs(before[i])) and 0 or d
  end
  return list
end

define("signed_rank", "differences:list? before:list? after:list?", function(o)
  if o.differences and not o.before and not o.after then
    return core.signed_rank(o.differences)
  elseif not o.before or not o.after or o.differences then
    misuse("signed_rank: give differences, or before and after")
  end
  return core.signed_rank(differences("signed_rank", o.before, o.after))
end)

define("rank_sum", "first:list second:list", function(o)
  return core.rank_sum(o.first, o.second)
end)

define("strata_rank_sum", "strata:strata", function(o)
  local sizes, values = { {}, {} }, {}
  for i, stratum in ipairs(o.strata) do
    for group = 1, 2 do
      sizes[group][i] = #stratum[group]
      table.move(stratum[group], 1, #stratum[group], #values + 1, values)
    end
  end
  return core.strata_rank_sum(sizes[1], sizes[2], values)
end)

define("signed_rank_critical", "pairs:count alpha:inside sides:sides?", function(o)
  return core.signed_rank_critical(o.pairs, o.alpha, o.sides or 2)
end)

define("rank_sum_critical", "first:count second:count alpha:inside sides:sides?", function(o)
  return core.rank_sum_critical(o.first, o.second, o.alpha, o.sides or 2)
end)

define("paired_t", "before:list after:list level:inside", function(o)
  if #o.before ~= #o.after then
    misuse("paired_t: before has %d values, after has %d", #o.before, #o.after)
  end
  return core.paired_t(o.before, o.after, o.level)
end)

define("welch_t", "first:list second:list level:inside", function(o)
  return core.welch_t(o.first, o.second, o.level)
end)

define("t_quantile", "p:inside freedom:number", function(o)
  return core.t_quantile(o.p, o.freedom)
end)

-- ---- grades -----------------------------------------------------------------------------------------

-- Places of the grades on the scale, from 0; an unknown grade raises.
local function places(list, scale, what)
  local place, copy = {}, {}
  for i, grade in ipairs(scale) do
    place[tostring(grade)] = i - 1
  end
  if type(list) ~= "table" then
    misuse("weighted_kappa: %s must be a list of grades, not a %s", what, type(list))
  end
  for i = 1, #list do
    copy[i] = place[tostring(list[i])]
    if not copy[i] then
      misuse("weighted_kappa: %s[%d] is \"%s\", which is no grade of the scale (%s)", what, i,
        tostring(list[i]), table.concat(scale, ", "))
    end
  end
  return copy
end

define("weighted_kappa", "first:any second:any grades:any weights:weights? level:inside", function(o)
  local scale = o.grades
  if type(scale) ~= "table" or #scale < 2 or #scale > 20 then
    misuse("weighted_kappa: grades must be the list of the 2 to 20 grades of the scale, in order")
  end
  local first, second = places(o.first, scale, "first"), places(o.second, scale, "second")
  if #first ~= #second then
    misuse("weighted_kappa: first has %d grades, second has %d", #first, #second)
  end
  local weights = o.weights or 1
  local r, message, code = core.weighted_kappa(first, second, #scale, weights, o.level)
  if r then
    r.weights, r.level = core.weights[weights + 1], o.level
  end
  return r, message, code
end)

-- ---- how many strands -------------------------------------------------------------------------------

define("limit_strands", "share:inside level:inside", function(o)
  return core.limit_strands(o.share, o.level)
end)

define("width_strands", "share:share width:inside level:inside", function(o)
  return core.width_strands(o.share, o.width, o.level)
end)

define("share_power", "share:share against:share strands:count alpha:inside", function(o)
  return core.share_power(o.share, o.against, o.strands, o.alpha)
end)

define("share_strands", "share:share against:share alpha:inside power:inside", function(o)
  return core.share_strands(o.share, o.against, o.alpha, o.power)
end)

define("two_share_power", "first:share second:share strands:count second_strands:count? alpha:inside", function(o)
  local second = o.second_strands or o.strands
  if math.max(second, o.strands) <= 2000 then
    return core.two_share_power(o.first, o.second, o.strands, second, o.alpha)
  elseif second == o.strands then
    return core.two_share_formula(o.first, o.second, o.strands, o.alpha)
  end
  refuse("two_share_power: groups of different size are taken up to 2000 strands")
end)

define("two_share_strands", "first:share second:share alpha:inside power:inside", function(o)
  return core.two_share_strands(o.first, o.second, o.alpha, o.power)
end)

local function check_pairs(name, o)
  if o.gained + o.lost > 1 + 1e-12 then
    refuse("%s: gained and lost are shares of the same pairs and sum to at most 1", name)
  end
end

define("paired_share_power", "gained:share lost:share pairs:count alpha:inside", function(o)
  check_pairs("paired_share_power", o)
  return core.paired_share_power(o.gained, o.lost, o.pairs, o.alpha)
end)

define("paired_share_strands", "gained:share lost:share alpha:inside power:inside", function(o)
  check_pairs("paired_share_strands", o)
  return core.paired_share_strands(o.gained, o.lost, o.alpha, o.power)
end)

define("mean_power", "difference:number deviation:number strands:number paired:truth? alpha:inside", function(o)
  return core.mean_power(o.difference, o.deviation, o.strands, o.paired and 1 or 2, o.alpha)
end)

define("mean_strands", "difference:number deviation:number paired:truth? alpha:inside power:inside", function(o)
  return core.mean_strands(o.difference, o.deviation, o.paired and 1 or 2, o.alpha, o.power)
end)

-- ---- many tests -------------------------------------------------------------------------------------

--- Holm's correction of a list of P values.
function statistics.holm(p)
  local list = readers.list(p, "holm: p")
  for i, x in ipairs(list) do
    if x < 0 or x > 1 then
      return nil, ("holm: p[%d] = %s lies outside 0 to 1"):format(i, tostring(x)), "range"
    end
  end
  return core.holm(list)
end
table.insert(statistics.names, "holm")

return statistics
