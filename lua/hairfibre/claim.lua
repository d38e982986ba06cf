-- Claims: what somebody says about hair, against the model and the published numbers.
--
--   local r = hf.claim { quantity = "regain", says = "30 %", at = { humidity = "100 %" } }
--   r.verdict       "supported", "conditional", "doubtful", "refuted" or "no model"
--   r.sentence, r.caption, r.missing, r.source_for, r.source_against, r.slips
--
-- What is not stated is open: it may be anything that evidence supports, and `missing` ranks it by how far it
-- moves the answer. `than` gives a second state: says = "30 % lower" is then about the change from it.

local basis = require "hairfibre.claim_basis"
local conditions = require "hairfibre.claim_conditions"
local core = require "hairfibre.core"
local interval = require "hairfibre.claim_interval"
local misuse = require "hairfibre.misuse"
local quantity = require "hairfibre.quantity"
local rows = require "hairfibre.claim_rows"
local says = require "hairfibre.claim_says"
local sentence = require "hairfibre.claim_sentence"
local slip = require "hairfibre.claim_slip"
local states = require "hairfibre.claim_states"
local subject = require "hairfibre.claim_subject"
local suggest = require "hairfibre.suggest"
local verdict = require "hairfibre.claim_verdict"

local claim = {}

claim.words = { "supported", "conditional", "doubtful", "refuted", "no model" }

local OPTIONS = { quantity = true, says = true, at = true, than = true, set = true }

-- ---- parts of an answer -----------------------------------------------------------------------------

-- Rows of the catalogue that a subject uses.
local function rows_used(self, set)
  local list = {}
  for _, row in ipairs(core.rows(quantity.parameters(set))) do
    for _, prefix in ipairs(self.parameters) do
      if row.name == prefix or row.name:sub(1, #prefix + 1) == prefix .. "." then
        list[#list + 1] = row
        break
      end
    end
  end
  return list
end

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

local OWN = { ["own-judgement"] = true, ["own-fit"] = true, ["common-practice"] = true }

-- The best known source of the model itself, as a source for or against.
local function source_of_model(r, set)
  local best
  local function offer(key, place, known)
    local rank = rows.rank(known)
    if key ~= "" and not OWN[key] and (not best or rank < best.rank) then
      best = { key = key, place = place, known = known, rank = rank, text = "behind the model" }
    end
  end
  for _, key in ipairs(r.subject.sources) do
    offer(key, "", r.subject.known)
  end
  for _, row in ipairs(rows_used(r.subject, set)) do
    offer(row.source, row.place, row.known)
  end
  return best
end

-- Strongest source for and against: a published row, or the model's own source where no row speaks.
local function strongest(r, readings, rivals, set)
  for _, one in ipairs(rivals) do
    local agrees = one.side == "for"
    for _, reading in ipairs(one.side and {} or readings) do
      agrees = agrees or verdict.meets(reading, one.low, one.high)
    end
    local key = agrees and "source_for" or "source_against"
    r[key] = r[key] or one
  end
  local side = r.verdict == "supported" and "source_for" or r.verdict == "refuted" and "source_against"
  if side and not r[side] then
    r[side] = source_of_model(r, set)
  end
end

-- Keys of every source behind the answer, each once: equation, parameters, rows.
local function sources_of(r, set, extra)
  local list, seen = {}, {}
  local function add(key)
    if key and key ~= "" and not seen[key] then
      seen[key], list[#list + 1] = true, key
    end
  end
  for _, key in ipairs(r.subject.sources) do
    add(key)
  end
  for _, row in ipairs(rows_used(r.subject, set)) do
    add(row.source)
  end
  for _, one in ipairs { r.source_for or false, r.source_against or false, r.rival or false } do
    add(one and one.key)
  end
  for _, one in ipairs(extra or {}) do
    add(one.key)
  end
  return list
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
    r.stated[#r.stated + 1] = key:gsub("_", " ") .. " " .. tostring(at[key])
  end
  r.missing, r.slips, r.holds, r.list = {}, {}, {}, {}
  r.sources = r.subject.sources
  sentence.no_model(r)
  return r
end

-- What speaks for or against without a figure.
local function sided(list)
  local found = {}
  for _, one in ipairs(list or {}) do
    if one.side then
      found[#found + 1] = one
    end
  end
  rows.sort(found)
  return found
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
  strongest(r, {}, sided(extra), set)
  r.sources = sources_of(r, set, extra)
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
    local word = verdict.of({ reading }, answers, {})
    return word == "supported" or word == "conditional"
  end
  local found = slip.of_figure(given, own, function(other)
    if own and given.basis then
      -- the figure itself is by the other mass; `other` is by that of the quantity already
      return met(other, groups)
    end
    return met(readings_of(r.subject, other)[1], groups)
  end)
  for _, one in ipairs(slip.of_conditions(r.list, at, function(name, x)
    local moved = setmetatable({ [name] = x }, { __index = at })
    local copy = {}
    for key, value in pairs(at) do
      copy[key] = value
    end
    copy[name] = moved[name]
    local list, of_set = conditions.build(r.subject, copy, set)
    local answers = states.scan(r.subject, list, of_set)
    return answers ~= nil and met(readings_of(r.subject, given)[1], answers)
  end)) do
    found[#found + 1] = one
  end
  return found
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
  local groups, message, code = states.scan(self, r.list, r.of_set)
  if not groups then
    return nil, message, code
  end
  local readings, own = readings_of(self, given)
  local rivals = rows.near(self, r.list, r.of_set)
  for _, one in ipairs(extra or {}) do
    rivals[#rivals + 1] = one
  end
  rows.sort(rivals)
  local word, why, details = verdict.of(readings, groups, rivals)
  r.verdict, r.why, r.rival = word, why, details.rival
  r.span = {}
  r.span.low, r.span.high = verdict.hull(details.groups)
  local open = states.open(r.list, r.of_set)
  local values, of = states.middle(r.list, r.of_set)
  if states.is_usual(open) then
    local value, low, high, second, reason = self.range(values, of)
    if value ~= nil then
      r.value, r.low, r.high = value, low, high
      r.status, r.reason = second or "ok", reason
    end
  end
  if why == "extrapolated" then
    r.status = "extrapolated"
    r.reason = r.reason or groups[1].points[1].reason
  end
  r.missing = states.ranked(self, r.list, r.of_set)
  if #readings == 2 then
    r.missing[#r.missing + 1] = { basis = true, factor = readings[2].high / readings[1].high }
    local _, low, high = self.range(values, of)
    local first = low and verdict.meets(readings[1], low, high)
    local second = low and verdict.meets(readings[2], low, high)
    if first ~= second then
      r.basis_matters = first and own or own == "dry" and "wet" or "dry"
    end
  end
  r.holds = {}
  if word == "conditional" then
    local reading = details.met[1] ~= "none" and readings[1] or readings[2] or readings[1]
    r.holds = in_order(verdict.holds(reading, self, r.list, r.of_set), r.missing)
    r.witness = verdict.witness(reading, details.groups)
  end
  strongest(r, readings, rivals, set)
  r.slips = slips(r, given, own, groups, at, set)
  r.sources = sources_of(r, set, extra)
  sentence.write(r)
  return r
end

--- Subject of the change of another against a second state { name = value }.
function claim.compared(self, than, measure)
  return subject.compared(self, given_values(self, than, "than"), measure)
end

--- Adds sources that speak for or against to a result without a model.
function claim.add_sources(r, list)
  rows.sort(list)
  local copy = table.move(r.sources, 1, #r.sources, 1, {})
  for _, one in ipairs(list) do
    if one.side then
      local key = "source_" .. one.side
      r[key] = r[key] or one
    end
    copy[#copy + 1] = one.key
  end
  r.sources = copy
end

local function table_of(x, name)
  if x ~= nil and (type(x) ~= "table" or x[1] ~= nil) then
    misuse("claim: %s takes a table of conditions, such as { humidity = \"65 %%\" }", name)
  end
  return x or {}
end

--- Judges a claim: hf.claim { quantity =, says =, at = {}, than = {}, set = }. Result as above; nil, sentence,
--- code where the model answers in no state of these conditions.
function claim.check(given)
  if type(given) ~= "table" then
    misuse("claim takes a table: hf.claim{ quantity = \"regain\", says = \"30 %%\" }")
  end
  for _, key in ipairs(suggest.sorted_keys(given)) do
    if not OPTIONS[key] then
      misuse("claim has no option \"%s\"%s", tostring(key), suggest.hint(key, suggest.sorted_keys(OPTIONS)))
    end
  end
  local descriptor = quantity.find(given.quantity)
  local at, than = table_of(given.at, "at"), table_of(given.than, "than")
  local self = subject.of_quantity(descriptor)
  if not self.has_model then
    if type(given.says) ~= "string" or given.says:match("^%s*$") then
      misuse("says: what is claimed, as a text")
    end
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
