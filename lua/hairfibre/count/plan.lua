-- hf.count_plan{...}: how many strands, in which groups, who gets what, and what the models expect.
--
--   local plan = hf.count_plan { purpose = "groups", expect = { "10 %", "60 %" }, donors = 3, pixel = "0.5 um",
--     groups = { { "control", "soak 10 min; blot; rest 1 h" }, { "hot", "soak 10 min; blot; plates 200 degC 1 s" } } }
--   print(plan:text()); plan:save("evening")       evening_sheet.csv (blinded) and evening_key.csv

local assign = require "hairfibre.count.assign"
local cautions = require "hairfibre.cautions"
local core = require "hairfibre.core"
local files = require "hairfibre.files"
local misuse = require "hairfibre.misuse"
local predict = require "hairfibre.count.predict"
local provenance = require "hairfibre.provenance"
local quantity = require "hairfibre.quantity"
local statistics = require "hairfibre.statistics"
local steps = require "hairfibre.count.steps"
local suggest = require "hairfibre.suggest"
local units = require "hairfibre.units"

local count_plan = {}

local Plan = { __name = "hairfibre.plan" }
Plan.__index = Plan

--- Purposes: word, meaning, whether it compares groups.
count_plan.purposes = {
  { "share", "how large the share of strands is that show it (one group)" },
  { "groups", "whether two groups show it in different shares" },
  { "pairs", "whether the same strands show it before and after (yes or no)" },
  { "change", "whether the diameter of the same strands changes" },
  { "means", "whether the diameter changes differently in two groups" },
}

local LENGTH = { unit = "m", kind = "number" }
local FRACTION = { unit = "1", kind = "fraction" }
local NUMBER = { unit = "1", kind = "number" }
local OPTIONS = { level = FRACTION, alpha = FRACTION, power = FRACTION, against = FRACTION, width = FRACTION,
  at_least = FRACTION, effect = LENGTH, deviation = LENGTH, pixel = LENGTH, resolution = LENGTH,
  diameter = LENGTH, spread = LENGTH, humidity = FRACTION, strands = NUMBER, seed = NUMBER }
local OTHERS = { purpose = true, groups = true, expect = true, donors = true, grades = true, set = true,
  from = true, diameters = true }

local function names_of()
  local names = {}
  for name in pairs(OPTIONS) do
    names[#names + 1] = name
  end
  for name in pairs(OTHERS) do
    names[#names + 1] = name
  end
  table.sort(names)
  return names
end

local function fail(...)
  error({ refused = string.format(...) }, 0)
end

local function fraction(x, what, open)
  FRACTION.name = what
  local value, message = units.value(x, FRACTION)
  if not value then
    misuse("%s", message)
  elseif value < 0 or value > 1 or open and (value <= 0 or value >= 1) then
    fail("%s = %s must lie between 0 and 1 (0 %% and 100 %%)", what, tostring(value))
  end
  return value
end

local function read_numbers(given)
  local o = { level = 0.95, alpha = 0.05, power = 0.8, humidity = 0.65, seed = 1 }
  for _, key in ipairs(suggest.sorted_keys(given)) do
    local what = OPTIONS[key]
    if what and what.kind == "fraction" then
      o[key] = fraction(given[key], key, key ~= "against" and key ~= "humidity")
    elseif what then
      what.name = key
      local x, message = units.value(given[key], what)
      o[key] = x or misuse("%s", message)
    elseif not OTHERS[key] then
      misuse("count_plan has no option \"%s\"%s", tostring(key), suggest.hint(key, names_of()))
    end
  end
  for _, key in ipairs { "strands", "seed" } do
    local whole = o[key] and math.tointeger(o[key])
    if o[key] and (not whole or whole < (key == "seed" and 0 or 1) or whole > (key == "seed" and 1 << 53 or 10000)) then
      fail("%s must be a whole number%s", key, key == "seed" and " of 0 or more" or " from 1 to 10000")
    end
    o[key] = whole
  end
  for _, key in ipairs { "pixel", "resolution", "effect", "deviation", "diameter" } do
    if o[key] and (o[key] <= 0 or o[key] > 1e-3) then
      fail("%s = %s um must lie above 0 and below 1000 um", key, tostring(1e6 * o[key]))
    end
  end
  return o
end

local function read_purpose(word)
  local words = {}
  for i, one in ipairs(count_plan.purposes) do
    words[i] = one[1]
    if one[1] == word then
      return word, one[2]
    end
  end
  misuse("purpose is \"%s\"; it may be %s%s", tostring(word), suggest.list(words),
    suggest.nearest(tostring(word), words) and suggest.hint(word, words) or "")
end

local function read_donors(donors)
  if donors == nil then
    return { "D1" }
  elseif type(donors) == "number" then
    local n = math.tointeger(donors)
    if not n or n < 1 or n > 200 then
      fail("donors must be a whole number from 1 to 200, or a list of names")
    end
    local list = {}
    for i = 1, n do
      list[i] = "D" .. i
    end
    return list
  elseif type(donors) ~= "table" or #donors == 0 then
    misuse("donors must be a number or a list of names")
  end
  local list, seen = {}, {}
  for i, name in ipairs(donors) do
    if type(name) ~= "string" or not name:find("%S") or seen[name] then
      misuse("donors[%d] must be a name that was not given before", i)
    end
    seen[name], list[i] = true, name
  end
  return list
end

local NEEDS_TWO = { groups = true, means = true }

local function read_groups(given, purpose)
  local list, seen = {}, {}
  given = given or (NEEDS_TWO[purpose] and { { "control" }, { "treated" } } or { { "treated" } })
  if type(given) ~= "table" or #given == 0 then
    misuse("groups must be a list of { name, steps }")
  end
  for i, one in ipairs(given) do
    local name = type(one) == "table" and (one.name or one[1]) or one
    local text = type(one) == "table" and (one.treatment or one[2]) or nil
    if type(name) ~= "string" or not name:find("%S") then
      misuse("groups[%d] needs a name", i)
    elseif seen[name:lower()] then
      misuse("two groups are called \"%s\"", name)
    end
    seen[name:lower()] = true
    list[i] = { name = name, treatment = text }
    if text then
      local parsed, message = steps.parse(text)
      if not parsed then
        misuse("group %s: %s", name, message)
      end
      list[i].steps = parsed
    end
  end
  if NEEDS_TWO[purpose] and #list < 2 then
    misuse("the purpose \"%s\" compares groups: give two or more, the control first", purpose)
  end
  return list
end

-- Diameters of her own strands from an earlier sheet.
local function read_from(plan, given)
  if given.diameters then
    if type(given.diameters) ~= "table" or #given.diameters == 0 then
      misuse("diameters must be a list of lengths")
    end
    plan.diameters = {}
    for i, d in ipairs(given.diameters) do
      local x, message = units.value(d, { name = "diameters", unit = "m", kind = "number" })
      plan.diameters[i] = x or misuse("%s", message)
    end
  elseif given.from then
    local earlier, message, code, faults = require("hairfibre.count.read").diameters(given.from, plan.grades)
    if not earlier then
      error({ refused = message, code = code, faults = faults }, 0)
    end
    plan.diameters, plan.ratios = earlier.diameters, earlier.ratios
    plan.from, plan.inputs = given.from, earlier.inputs
    if #plan.diameters == 0 then
      fail("%s holds no diameter before the treatment", tostring(given.from))
    end
  end
  if plan.diameters then
    for _, d in ipairs(plan.diameters) do
      if d < 30e-6 or d > 240e-6 then
        fail("a diameter of %.1f um lies outside the 30 to 240 um that the models take", 1e6 * d)
      end
    end
    plan.diameter, plan.spread = predict.mean_of(plan.diameters)
  end
  plan.assumed_spread = not plan.spread
  plan.assumed_diameter = not plan.diameter
  plan.diameter = plan.diameter or predict.usual
  plan.spread = plan.spread or predict.variation * plan.diameter
  if plan.diameter < 30e-6 or plan.diameter > 240e-6 then
    fail("diameter = %.1f um lies outside the 30 to 240 um that the models take", 1e6 * plan.diameter)
  end
end

local function predict_groups(plan)
  local marks = {}
  for _, group in ipairs(plan.groups) do
    if group.steps then
      steps.mark(group.steps, marks)
      local p, message = predict.strand { steps = group.steps, set = plan.set, humidity = plan.humidity,
        diameter = plan.diameter, spread = plan.spread, ratios = plan.ratios, seed = plan.seed }
      group.prediction, group.no_prediction = p, message
    else
      group.no_prediction = "no steps were given"
    end
  end
  plan.hot, plan.caution = marks.heat, cautions.line(marks)
end

-- ---- how many ---------------------------------------------------------------------------------------

local function need(r, message)
  return r or fail("%s", message)
end

local function two_of(x, purpose, what)
  if type(x) ~= "table" or #x ~= 2 then
    misuse("the purpose \"%s\" needs expect = { %s }", purpose, what)
  end
  return fraction(x[1], "expect[1]"), fraction(x[2], "expect[2]")
end

local size = {}

function size.share(plan, given)
  local o = plan
  if o.at_least then
    o.needed = need(statistics.limit_strands { share = o.at_least, level = o.level })
    o.method = "limit"
    return
  end
  if given.expect == nil then
    misuse("%s", 'the purpose "share" needs at_least = "80 %" (if all show it), or expect = "90 %" with width or against')
  end
  o.share = fraction(type(given.expect) == "table" and given.expect[1] or given.expect, "expect")
  if o.against then
    o.calculation = need(statistics.share_strands { share = o.share, against = o.against, alpha = o.alpha,
      power = o.power })
    o.needed, o.method = o.calculation.strands, "against"
    function o.power_at(n)
      return statistics.share_power { share = o.share, against = o.against, strands = n, alpha = o.alpha }
    end
  else
    o.width = o.width or 0.2
    o.needed, o.method = need(statistics.width_strands { share = o.share, width = o.width, level = o.level }), "width"
  end
end

function size.groups(plan, given)
  local o = plan
  o.first, o.second = two_of(given.expect, "groups", "share of the control, share of the treated")
  o.calculation = need(statistics.two_share_strands { first = o.first, second = o.second, alpha = o.alpha_each,
    power = o.power })
  o.needed, o.method = o.calculation.strands, "fisher"
  function o.power_at(n)
    return statistics.two_share_power { first = o.first, second = o.second, strands = n, alpha = o.alpha_each }
  end
end

function size.pairs(plan, given)
  local o = plan
  o.gained, o.lost = two_of(given.expect, "pairs", "share that goes no -> yes, share that goes yes -> no")
  o.calculation = need(statistics.paired_share_strands { gained = o.gained, lost = o.lost, alpha = o.alpha,
    power = o.power })
  o.needed, o.method = o.calculation.strands, "mcnemar"
  function o.power_at(n)
    return n <= 5000 and statistics.paired_share_power { gained = o.gained, lost = o.lost, pairs = n, alpha = o.alpha }
  end
end

-- The effect and its spread: given, or what the models expect.
local function effect_of(plan, paired)
  local o = plan
  local last = o.groups[#o.groups].prediction
  local first = not paired and o.groups[1].prediction
  if not o.effect then
    if not last or not paired and not first then
      misuse("the purpose \"%s\" needs effect = \"2 um\", or groups with steps that the models can compute", o.purpose)
    end
    o.effect, o.expected = math.abs(last.change - (first and first.change or 0)), true
    if o.effect < 1e-9 then
      fail("the models expect no change of diameter from these steps: no number of strands shows what is not there")
    end
  end
  if not o.deviation then
    o.deviation = predict.deviation(last and last.change or o.effect, o.spread / o.diameter, o.pixel, o.resolution)
    o.assumed_deviation = true
  end
end

function size.change(plan)
  local o = plan
  effect_of(o, true)
  o.calculation = need(statistics.mean_strands { difference = o.effect, deviation = o.deviation, paired = true,
    alpha = o.alpha, power = o.power })
  o.needed, o.method = o.calculation.strands, "paired t"
  function o.power_at(n)
    return n > 1 and statistics.mean_power { difference = o.effect, deviation = o.deviation, strands = n, paired = true,
      alpha = o.alpha }
  end
end

function size.means(plan)
  local o = plan
  effect_of(o, false)
  o.calculation = need(statistics.mean_strands { difference = o.effect, deviation = o.deviation, alpha = o.alpha_each,
    power = o.power })
  o.needed, o.method = o.calculation.strands, "t"
  function o.power_at(n)
    return n > 1 and statistics.mean_power { difference = o.effect, deviation = o.deviation, strands = n,
      alpha = o.alpha_each }
  end
end

-- ---- the plan ---------------------------------------------------------------------------------------

local function settle(plan)
  local donors = #plan.donor_names
  local wanted = plan.strands or plan.needed
  plan.each = math.max(1, (wanted + donors - 1) // donors)
  plan.strands_asked, plan.strands = plan.strands, plan.each * donors
  plan.total = plan.strands * #plan.groups
  if plan.total > 10000 then
    fail("%d strands in all are more than a bench can take: a larger effect, less power or fewer groups", plan.total)
  end
  plan.power_reached = plan.power_at and plan.power_at(plan.strands) or nil
  plan.alternatives = {}
  for _, n in ipairs { 3, 5, 8, 12, 20, 30, 50, 80, 120, 200 } do
    local p = plan.power_at and n < 2 * plan.strands + 5 and plan.power_at(n)
    if p then
      table.insert(plan.alternatives, { strands = n, power = p })
    end
  end
  for _, group in ipairs(plan.groups) do
    group.strands = plan.strands
    if group.prediction then
      group.word, group.verdict = predict.verdict(group.prediction, plan.pixel, plan.resolution, plan.strands)
    end
  end
  plan.assignment = assign.strands(plan.groups, plan.donor_names, plan.each, plan.seed)
end

local function make(given)
  local plan = read_numbers(given)
  plan.purpose, plan.question = read_purpose(given.purpose)
  plan.groups = read_groups(given.groups, plan.purpose)
  plan.donor_names = read_donors(given.donors)
  plan.donors = #plan.donor_names
  plan.grades = require("hairfibre.count.sheet").scale(given.grades)
  plan.set = quantity.parameters(given.set) or core.parameters()
  plan.alpha_each = plan.alpha / math.max(1, #plan.groups - 1)
  read_from(plan, given)
  predict_groups(plan)
  size[plan.purpose](plan, given)
  settle(plan)
  return setmetatable(plan, Plan)
end

--- New plan; or nil, sentence, code, and the faults of the sheet given as `from`.
function count_plan.new(given)
  if type(given) ~= "table" then
    misuse("count_plan takes a table of options, at least purpose")
  end
  local done, plan = pcall(make, given)
  if done then
    return plan
  elseif type(plan) == "table" and plan.refused then
    return nil, plan.refused, plan.code or "range", plan.faults
  end
  error(plan, 0)
end

--- Is it a plan?
function count_plan.is(x)
  return getmetatable(x) == Plan
end

--- The plan as text, 80 columns.
function Plan:text()
  return require("hairfibre.count.text").plan(self)
end

--- Where the numbers come from.
function Plan:provenance()
  local options = { { "purpose", self.purpose } }
  for _, name in ipairs { "alpha", "power", "level", "humidity", "seed" } do
    options[#options + 1] = { name, self[name] }
  end
  predict.add_optics(options, self)
  return provenance.of(self.set, options, self.inputs)
end

--- Names the plan on its sheet and its key: checksum of who gets what.
function Plan:id()
  return require "hairfibre.checksum"(self:key():csv())
end

--- The sheet to fill in, without groups; a result.
function Plan:sheet()
  return assign.sheet(self.assignment)
end

--- The key to it; a result.
function Plan:key()
  return assign.key(self.assignment)
end

--- A bench card of the plan.
function Plan:card()
  return require("hairfibre.count.card").new(self)
end

--- Writes STEM_sheet.csv and STEM_key.csv. A sheet that exists is never overwritten. The two names; or
--- nil, sentence, "file".
function Plan:save(stem)
  if type(stem) ~= "string" or stem == "" then
    misuse("save needs the beginning of a file name, such as \"evening\"")
  end
  local sheet, key = stem .. "_sheet.csv", stem .. "_key.csv"
  for _, path in ipairs { sheet, key } do
    local place, refusal, code = files.path("write", path)
    if not place then
      return nil, refusal, code
    elseif core.read(place) then
      return nil, path .. " exists: a sheet that may be filled in is not overwritten", "file"
    end
  end
  local id = self:id()
  local sheet_head = ("plan %s, hairfibre %s: one line a strand; who fills it in does not see the key"):format(id, core.version)
  local key_head = ("plan %s: key; %s"):format(id, provenance.sentence(self:provenance()))
  local texts = { { sheet, provenance.comment(sheet_head) .. self:sheet():csv() },
    { key, provenance.comment(key_head) .. self:key():csv() } }
  for _, pair in ipairs(texts) do
    local done, message, code = files.write(pair[1], pair[2])
    if not done then
      return nil, message, code
    end
  end
  return sheet, key
end

return count_plan
