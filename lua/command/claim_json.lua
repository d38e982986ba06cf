-- The JSON of `hairfibre claim`: one object for a claim, a list of them for the claim book.

local catalogue = require "command.catalogue"
local claim = require "hairfibre.claim"
local core = require "hairfibre.core"
local json = require "command.json"
local quantity = require "hairfibre.quantity"

local page = {}

local function of_value(c, x)
  if c.name == "set" then
    return type(x) == "string" and x or x:name()
  end
  return c.argument.kind == "choice" and c.argument.choices[math.tointeger(x + 1)] or x
end

local function json_conditions(r)
  local fields = {}
  local all = table.move(r.list, 1, #r.list, 1, {})
  all[#all + 1] = r.of_set
  for i, c in ipairs(all) do
    local choices
    if c.choices then
      choices = json.list {}
      for k, x in ipairs(c.choices) do
        choices[k] = of_value(c, x)
      end
    end
    fields[i] = { c.name, json.object {
      { "state", c.state },
      { "value", c.value ~= nil and of_value(c, c.value) or nil },
      { "low", c.low }, { "high", c.high }, { "choices", choices },
      { "unit", c.argument and c.argument.unit or nil },
    } }
  end
  return json.object(fields)
end

local function json_source(one)
  return one and json.object {
    { "key", one.key }, { "reference", catalogue.reference(one.key) }, { "place", one.place }, { "known", one.known },
    { "says", one.text }, { "low", one.low }, { "high", one.high },
  } or nil
end

local function json_holds(r)
  local list = json.list {}
  for i, one in ipairs(r.holds) do
    local choices
    if one.choices then
      choices = json.list {}
      for k, x in ipairs(one.choices) do
        choices[k] = of_value(one.condition, x)
      end
    end
    list[i] = json.object { { "condition", one.condition.name }, { "low", one.low }, { "high", one.high },
      { "choices", choices } }
  end
  return list
end

local function json_missing(r)
  local list = json.list {}
  for i, one in ipairs(r.missing) do
    if one.basis then
      list[i] = json.object { { "condition", "basis" }, { "low", one.low }, { "high", one.high },
        { "at_low", "wet" }, { "at_high", "dry" } }
    else
      list[i] = json.object { { "condition", one.condition.name }, { "low", one.low }, { "high", one.high },
        { "at_low", of_value(one.condition, one.at_low) }, { "at_high", of_value(one.condition, one.at_high) },
        { "elsewhere", one.values ~= nil } }
    end
  end
  return list
end

local function json_slips(r)
  local list = json.list {}
  for i, one in ipairs(r.slips) do
    list[i] = json.object { { "condition", one.condition }, { "slip", one.words }, { "meant", one.meant } }
  end
  return list
end

local function object_of(r, set)
  local object = quantity.parameters(set) or core.parameters()
  local sources, changed = json.list {}, json.list {}
  for i, key in ipairs(r.sources) do
    sources[i] = json.object { { "key", key }, { "reference", catalogue.reference(key) } }
  end
  for i, name in ipairs(object:changed()) do
    changed[i] = json.object { { "name", name }, { "value", object:get(name) } }
  end
  local known = r.verdict ~= "no model"
  return json.object {
    { "number", r.number }, { "claim", r.words },
    { "quantity", r.quantity }, { "says", r.says },
    { "verdict", r.verdict }, { "expected", r.expected }, { "why", claim.reasons[r.why] },
    { "unit", r.subject.unit },
    { "value", r.value }, { "low", r.low }, { "high", r.high },
    { "span_low", r.span and r.span.low or nil }, { "span_high", r.span and r.span.high or nil },
    { "status", r.status }, { "reason", r.reason },
    { "conditions", known and json_conditions(r) or json.object {} },
    { "missing", json_missing(r) },
    { "holds", json_holds(r) },
    { "source_for", json_source(r.source_for) },
    { "source_against", json_source(r.source_against) },
    { "slips", json_slips(r) },
    { "sentence", r.sentence }, { "caption", r.caption }, { "note", r.note },
    { "basis", r.basis }, { "known", r.subject.known },
    { "leaves_out", r.subject.leaves_out },
    { "sources", sources },
    { "set", object:name() }, { "digest", object:digest() }, { "changed", changed },
    { "draws", r.draws }, { "seed", r.seed },
    { "version", core.version },
    { "caution", catalogue.caution(r.subject) },
  }
end

--- One claim.
function page.one(r, set)
  json.write(object_of(r, set))
end

--- The claim book.
function page.book(list, count)
  local items = json.list {}
  for i, r in ipairs(list) do
    items[i] = object_of(r, r.of_set and r.of_set.value)
  end
  json.write(json.object { { "claims", items }, { "as_expected", count.agree }, { "different", count.differ },
    { "version", core.version } })
end

return page
