-- Claims: what somebody says about hair, against the model and the published numbers.
--
--   local r = hf.claim { quantity = "regain", says = "30 %", at = { humidity = "100 %" } }
--   r.verdict       "supported", "conditional", "doubtful", "refuted" or "no model"
--   r.sentence, r.caption, r.missing, r.source_for, r.source_against, r.slips
--
-- What is not stated is open: it may be anything that evidence supports, and `missing` ranks it by how far it
-- moves the answer. `than` gives a second state: says = "30 % lower" is then about the change from it.

local basis = require "hairfibre.claim.basis"
local conditions = require "hairfibre.claim.conditions"
local figures = require "hairfibre.claim.figures"
local interval = require "hairfibre.claim.interval"
local misuse = require "hairfibre.misuse"
local quantity = require "hairfibre.quantity"
local rows = require "hairfibre.claim.rows"
local says = require "hairfibre.claim.says"
local show = require "hairfibre.show"
local sentence = require "hairfibre.claim.sentence"
local slip = require "hairfibre.claim.slip"
local sources = require "hairfibre.claim.sources"
local states = require "hairfibre.claim.states"
local subject = require "hairfibre.claim.subject"
local suggest = require "hairfibre.suggest"
local verdict = require "hairfibre.claim.verdict"

local claim = {}

claim.words = { "supported", "conditional", "doubtful", "refuted", "no model" }

--- Why the verdict is what it is, by rule.
claim.reasons = {
  inside = "the claim meets the model's range in every state that the conditions leave open",
  partly = "the claim meets the model's range in some of the states that the conditions leave open",
  ["not reached"] = "nothing passes the figure and nothing reaches it: it holds as a ceiling only",
  passed = "the figure is passed in some of the states that the conditions leave open",
  rival = "outside the model's range in every open state, but inside the spread of other sources",
  outside = "outside the model's range in every open state, and outside the spread of other sources",
  beyond = "the figure lies far above anything that was found",
  extrapolated = "the model answers there only beyond what evidence supports, and no verdict rests on that",
  unsure = "the change is smaller than its own spread",
  ["no model"] = "no validated model answers this",
}

local OPTIONS = { quantity = true, says = true, at = true, than = true, set = true }

-- ---- parts of an answer -----------------------------------------------------------------------------

-- Readings of a figure that does not tell its basis: by dry and by wet mass.
local function readings_of(what, given)
  local dry, wet = basis.is_by_dry_mass(what), basis.is_by_wet_mass(what)
  if not dry and not wet or given.form == "direction" or given.measure then
    return { given }, nil
  end
  local map = dry and basis.dry_from_wet or basis.wet_from_dry
  local own = dry and "dry" or "wet"
  local other = says.mapped(given, map)
  if given.basis == own then
    return { given }, own
  elseif given.basis then
    return { other }, own
  end
  return { given, other }, own
end

local function given_values(self, at, what)
  local list = conditions.build(self, at, "virgin")
  local values = {}
  for i, c in ipairs(list) do
    if at[c.name] ~= nil then
      if c.state ~= "given" then
        misuse("%s: %s takes one value", what, c.name)
      end
      values[i] = c.value
    end
  end
  return values
end

local function no_model(r, at)
  r.verdict, r.why, r.status = "no model", "no model", "no-model"
  r.basis, r.stated = r.subject.basis, {}
  local places = {}
  for _, argument in ipairs(r.subject.arguments) do
    places[argument.name] = true
  end
  for _, key in ipairs(suggest.sorted_keys(at)) do
    if not places[key] then
      misuse("%s does not depend on \"%s\"", r.subject.name, tostring(key))
    end
    r.stated[#r.stated + 1] = show.words(key) .. " " .. tostring(at[key])
  end
  r.missing, r.slips, r.holds, r.list = {}, {}, {}, {}
  r.sources = r.subject.sources
  sentence.no_model(r)
  return r
end

local function direction(r, given, set, extra)
  local along
  for _, c in ipairs(r.list) do
    along = c.name == given.argument and c or along
  end
  if not along then
    local names = {}
    for i, argument in ipairs(r.subject.arguments) do
      names[i] = argument.name
    end
    misuse("says: %s does not depend on \"%s\"%s", r.subject.name, given.argument, suggest.hint(given.argument, names))
  elseif along.state == "given" then
    misuse("says: %s is what the claim varies: leave it out, or give a span a..b", along.name)
  end
  local word, why, steps = verdict.direction(given, r.subject, r.list, r.of_set, along, function(of)
    return interval.moved(of, r.subject.parameters)
  end)
  if not word then
    return nil, why, steps
  end
  r.verdict, r.why, r.along, r.steps = word, why, along, steps
  r.missing = states.ranked(r.subject, r.list, r.of_set)
  r.holds, r.slips = {}, {}
  for _, step in ipairs(steps) do
    if step.sign == given.way and word == "conditional" then
      r.holds[#r.holds + 1] = { condition = along, low = step[1], high = step[2] }
    end
  end
  sources.strongest(r, {}, sources.sided(extra), set)
  r.sources = sources.keys(r, set, extra)
  sentence.write(r)
  return r
end

-- Neighbouring spans along one condition become one.
local function joined(holds)
  local list = {}
  for _, one in ipairs(holds) do
    local last = list[#list]
    if last and one.low and last.condition == one.condition and last.high == one.low then
      last.high = one.high
    else
      list[#list + 1] = { condition = one.condition, low = one.low, high = one.high, choices = one.choices }
    end
  end
  return list
end

-- Limits in the order in which their conditions move the answer.
local function in_order(holds, ranking)
  local list = {}
  for _, one in ipairs(ranking) do
    for _, limit in ipairs(holds) do
      if limit.condition == one.condition then
        list[#list + 1] = limit
      end
    end
  end
  return list
end

-- ---- slips --------------------------------------------------------------------------------------------

local function slips(r, given, own, groups, at, set)
  if r.verdict ~= "refuted" and r.verdict ~= "doubtful" or r.why == "extrapolated" then
    return {}
  end
  local function met(reading, answers)
    local word = verdict.of({ readings_of(r.subject, reading)[1] }, answers, {})
    return word == "supported" or word == "conditional"
  end
  local found = slip.of_figure(given, own, function(other)
    return met(other, groups)
  end)
  for _, one in ipairs(slip.of_conditions(r.list, at, function(name, x)
    local copy = { [name] = x }
    for key, value in pairs(at) do
      copy[key] = copy[key] or value
    end
    local list, of_set = conditions.build(r.subject, copy, set)
    local answers = states.scan(r.subject, list, of_set)
    return answers ~= nil and met(given, answers)
  end)) do
    found[#found + 1] = one
  end
  return found
end

-- In how many states a reading is met, for comparing two of them.
local MET = { none = 0, some = 1, all = 2 }

-- The basis among the open conditions: how far the answer moves between wet and dry mass.
local function rank_basis(ranking, value, highest, own)
  if not value then
    return
  end
  local function both(x)
    return own == "dry" and basis.wet_from_dry(x) or x, own == "dry" and x or basis.dry_from_wet(x)
  end
  local wet, dry = both(math.max(value, highest))
  local span = dry - wet
  wet, dry = both(value)
  local place = #ranking + 1
  for i = #ranking, 1, -1 do
    place = ranking[i].span < span and i or place
  end
  table.insert(ranking, place, { basis = true, low = wet, high = dry, span = span })
end

-- ---- the whole ------------------------------------------------------------------------------------------

--- Judges a claim about a subject of claim_subject. `extra`: rivals and sources of a book entry.
function claim.judge(self, given, at, set, extra)
  local r = { subject = self, quantity = self.name, says = given.text, claim = given, basis = self.basis, status = "ok" }
  r.list, r.of_set = conditions.build(self, at, set)
  if given.form == "direction" then
    local done, message, code = direction(r, given, set, extra)
    if done then
      r.holds = joined(r.holds)
      sentence.write(r)
    end
    return done, message, code
  end
  local open = states.open(r.list, r.of_set)
  self.fine = #open == 0
  local groups, message, code = states.scan(self, r.list, r.of_set)
  if not groups then
    return nil, message, code
  end
  figures.speak_as(self, given)
  local readings, own = readings_of(self, given)
  local values, of = states.middle(r.list, r.of_set)
  local rivals = rows.near(self, r.list, r.of_set)
  for _, one in ipairs(states.is_usual(open) and rows.models(self, values, of) or {}) do
    rivals[#rivals + 1] = one
  end
  for _, one in ipairs(extra or {}) do
    rivals[#rivals + 1] = one
  end
  rows.sort(rivals)
  local word, why, details = verdict.of(readings, groups, rivals)
  r.verdict, r.why, r.rival = word, why, details.rival
  r.span = {}
  r.span.low, r.span.high = verdict.hull(details.groups)
  if states.is_usual(open) then
    self.fine = true
    local value, low, high, second, reason = self.range(values, of)
    if value ~= nil then
      r.value, r.low, r.high = value, low, high
      r.status, r.reason = second or "ok", reason
      if self.quantity and not self.measure and low < high then
        r.draws, r.seed = interval.DRAWS.draws, interval.DRAWS.seed
      end
    end
  end
  self.fine = false
  if why == "extrapolated" then
    r.status = "extrapolated"
    r.reason = r.reason or groups[1].points[1].reason
  end
  r.missing = states.ranked(self, r.list, r.of_set)
  local best = 1
  if #readings == 2 then
    local highest = 0
    for _, group in ipairs(groups) do
      for _, point in ipairs(group.points) do
        highest = math.max(highest, point.value)
      end
    end
    rank_basis(r.missing, (self.value(values, of)), highest, own)
    local first, second = MET[details.met[1]], MET[details.met[2]]
    best = second > first and 2 or 1
    if first ~= second then
      r.basis_matters = best == 1 and own or own == "dry" and "wet" or "dry"
      r.basis_settles = math.max(first, second) == MET.all
    end
  end
  r.holds = {}
  if word == "conditional" then
    if not r.basis_settles then
      r.holds = in_order(verdict.holds(readings[best], self, r.list, r.of_set), r.missing)
    end
    r.witness = verdict.witness(readings[best], details.groups)
  elseif given.form == "up to" and word == "supported" then
    r.witness = verdict.witness(given, details.groups)
  end
  if word == "supported" or word == "conditional" then
    local state = (word == "conditional" or not r.value) and r.witness or r
    r.at_end = state.value and verdict.at_end(readings[best], state.value, state.low, state.high)
  end
  sources.strongest(r, readings, rivals, set)
  r.slips = slips(r, given, own, groups, at, set)
  r.sources = sources.keys(r, set, extra)
  sentence.write(r)
  return r
end

--- Subject of the change of another against a second state { name = value }.
function claim.compared(self, than, measure)
  return subject.compared(self, given_values(self, than, "than"), measure)
end

local function table_of(x, name)
  if x ~= nil and (type(x) ~= "table" or x[1] ~= nil) then
    misuse("claim: %s takes a table of conditions, such as { humidity = \"65 %%\" }", name)
  end
  return x or {}
end

-- A claim is a line, not a page.
local LONGEST = 200

--- Judges a claim: hf.claim { quantity =, says =, at = {}, than = {}, set = }. Result as above; nil, sentence,
--- code where the model answers in no state of these conditions.
function claim.check(given)
  if type(given) ~= "table" then
    misuse("claim takes a table: hf.claim{ quantity = \"regain\", says = \"30 %\" }")
  end
  for _, key in ipairs(suggest.sorted_keys(given)) do
    if not OPTIONS[key] then
      misuse("claim has no option \"%s\"%s", tostring(key), suggest.hint(key, suggest.sorted_keys(OPTIONS)))
    end
  end
  local descriptor = quantity.find(given.quantity)
  local at, than = table_of(given.at, "at"), table_of(given.than, "than")
  local self = subject.of_quantity(descriptor)
  local text = given.says
  if type(text) ~= "string" or text:match("^%s*$") then
    misuse("says: what is claimed, as a text, such as \"20 %\"")
  elseif #text > LONGEST or text:find("%c") or not utf8.len(text) then
    misuse("says: a text of one line in UTF-8, %d bytes at most", LONGEST)
  end
  if not self.has_model then
    return no_model({ subject = self, quantity = self.name, says = given.says }, at)
  end
  local compared = next(than) ~= nil
  local read, message = says.parse(given.says, descriptor, compared)
  if not read then
    misuse("%s", message)
  end
  if compared then
    self = claim.compared(self, than, read.measure)
  end
  return claim.judge(self, read, at, given.set)
end

return claim
