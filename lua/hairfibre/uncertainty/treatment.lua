-- How far the outcome of a treatment may be trusted: draws of all parameters (and of the strands of a population) through
-- it, and beside that the same treatment under rival laws and readings, listed and never averaged.

local cautions = require "hairfibre.cautions"
local core = require "hairfibre.core"
local ensemble = require "hairfibre.ensemble"
local misuse = require "hairfibre.misuse"
local quantity = require "hairfibre.quantity"
local result = require "hairfibre.result"
local show = require "hairfibre.show"
local suggest = require "hairfibre.suggest"
local uncertainty = require "hairfibre.uncertainty"

local treatments = {}

local LEVELS = { 0.025, 0.25, 0.5, 0.75, 0.975 }

-- The column of an ensemble that is asked for, with its place.
local function answer_of(name)
  local names = {}
  for place, column in ipairs(core.strand_columns()) do
    column.name, column.place = column.name:gsub(" ", "_"), place
    if place > 2 and column.name == name then
      return column
    end
    names[#names + 1] = place > 2 and column.name or nil
  end
  if name == nil then
    misuse("answer is missing: a column of an ensemble, such as \"void_growth\"")
  end
  misuse("there is no answer \"%s\"%s", tostring(name), suggest.hint(tostring(name), names))
end

--- Reads a plan with an answer: what hf.ensemble takes without strands, and `more`. Rows of the catalogue move unless
--- parameters = false. Plan, description of the answer.
function treatments.read(given, more)
  local copy = {}
  for key, x in pairs(given) do
    copy[key] = x
  end
  copy.strands = copy.strands or 1
  copy.parameters = given.parameters ~= false
  local answer = answer_of(given.answer)
  return ensemble.read(copy, more), answer
end

local function copied(t, changes)
  local copy = {}
  for key, x in pairs(t) do
    copy[key] = x
  end
  for key, x in pairs(changes) do
    copy[key] = x
  end
  return copy
end

-- The answer of one strand, nothing drawn, with other numbers in the catalogue or another law of the fibre.
local function once(plan, answer, fibre, changes)
  local set = plan.set
  if changes then
    set = (set or core.parameters()):copy()
    for name, x in pairs(changes) do
      local done, message, code = set:set(name, x)
      if not done then
        return nil, message, code
      end
    end
  end
  local one = copied(plan.plan, { strands = 1, part = 1, parts = 1, draw_parameters = false })
  one.population, one.within_head = nil, nil
  local object, message, code = core.ensemble(set, copied(plan.fibre, fibre or {}), plan.room, plan.options, plan.steps, one)
  if not object then
    return nil, message, code
  end
  local done
  done, message, code = object:run(1, 0, false)
  if not done then
    return nil, message, code
  end
  local x = object:column(answer.place)[1]
  if x ~= x then
    return nil, object:message() ~= "" and object:message() or "it does not happen"
  end
  return x
end

-- Rivals of what a treatment rests on: isotherm, diffusivity, melting of the helices.
local function rivals_of(plan, answer, middle)
  local list, seen = {}, {}
  local function add(rival, x, reason)
    if x ~= middle then
      list[#list + 1] = { text = rival.text, source = rival.source, value = x, reason = reason }
    end
  end
  local virgin = not plan.set or plan.set:name() == "virgin"
  for _, name in ipairs { "water_activity", "denaturation_temperature", "denaturation_peak" } do
    for _, rival in ipairs(core.rival_changes(quantity.find(name).index)) do
      -- Readings on virgin hair say nothing of another set.
      if rival.changes and virgin and not seen[rival.text] then
        seen[rival.text] = true
        add(rival, once(plan, answer, nil, rival.changes))
      end
    end
  end
  for _, rival in ipairs(core.rival_changes(quantity.find("diffusivity").index)) do
    if rival.quantity == "diffusivity_exponential" and not plan.fibre.law then
      add(rival, once(plan, answer, { law = 1 }))
    end
  end
  return list
end

local OWN = { "answer", "draws" }

--- Draws of a treatment: hf.uncertainty { treatment = { steps }, answer = "void_growth", draws = 256, ... } with the other
--- options of hf.ensemble. A result as of a quantity (columns percentile, answer, error; value, median, low, high, low_half,
--- high_half, mean, deviation, values, failures, rivals), and strands, the ensemble itself; or nil, sentence, code.
function treatments.propagate(given)
  local draws = uncertainty.whole("draws", given.draws or 256, 16, 1 << 22)
  local plan, answer = treatments.read(copied(given, { strands = draws }), OWN)
  local asked = copied(given, { strands = draws, parameters = given.parameters ~= false })
  asked.answer, asked.draws = nil, nil
  local strands, message, code = ensemble.run(asked)
  if not strands or message then
    return nil, message, code
  end
  local name, p = answer.name
  p, message, code = strands:percentiles(name)
  if not p then
    return nil, message, code
  end
  local middle, reason = once(plan, answer)
  local rivals = rivals_of(plan, answer, middle)
  local difference = uncertainty.difference_of(answer)
  local notes = { ("%d strands drawn, %d without an answer; with every parameter at its middle: %s."):format(draws, draws - p.n,
    middle and show.value(middle, answer) or reason) }
  notes[#notes + 1] = #rivals > 0 and uncertainty.rival_sentence(rivals, answer) or nil
  local r = result.new { title = ("%s: %s"):format(show.words(name), answer.text), columns = {
    { name = "percentile", unit = "1", kind = "fraction", values = table.move(LEVELS, 1, 5, 1, {}) },
    { name = "answer", unit = answer.unit, kind = answer.kind, values = p.value, text = answer.text },
    { name = "error", unit = difference.unit, kind = difference.kind, values = p.error, text = "standard error of drawing" },
  }, notes = notes, origin = strands:provenance(), caution = cautions.heat }
  r.value, r.median, r.low, r.high = middle, p.value[3], p.value[1], p.value[5]
  r.low_half, r.high_half, r.mean, r.deviation = p.value[2], p.value[4], p.mean, p.deviation
  r.values, r.rivals, r.failures, r.strands = strands[name], rivals, draws - p.n, strands
  return r
end

return treatments
