-- What a claim is about: a quantity, a change of a quantity between two states, or a small evaluator of the
-- claim book. All three look alike:
--   name, text, unit, kind, basis, arguments, sources, known, leaves_out, parameters, cautions, sets
--   range(values, set) -> value, low, high, "extrapolated", sentence; or nil, sentence, code
-- where `values` are SI numbers in the order of the arguments (nil: the usual value).

local basis = require "hairfibre.claim.basis"
local core = require "hairfibre.core"
local interval = require "hairfibre.claim.interval"
local quantity = require "hairfibre.quantity"
local show = require "hairfibre.show"

local subject = {}

-- Lists of moved sets, by set; made once for each subject.
local function moved_of(self, set)
  self.moved = self.moved or {}
  local key = set or "virgin"
  self.moved[key] = self.moved[key] or interval.moved(set, self.parameters)
  return self.moved[key]
end

--- Subject of a quantity's descriptor.
function subject.of_quantity(descriptor)
  local self = { basis = basis.of(descriptor), quantity = descriptor, sets = { "virgin", "bleached" } }
  for _, key in ipairs { "name", "text", "unit", "kind", "choices", "arguments", "sources", "known", "leaves_out",
    "parameters", "cautions", "has_model", "equation", "room" } do
    self[key] = descriptor[key]
  end
  function self.range(values, set)
    return interval.of_quantity(descriptor, values, set, self.fine)
  end
  function self.value(values, set)
    return core.evaluate(descriptor.index, quantity.parameters(set), core.EXTRAPOLATE,
      table.unpack(values, 1, #descriptor.arguments))
  end
  return self
end

local MEASURES = {
  drop = function(y, other) return 1 - y / other end,
  rise = function(y, other) return y / other - 1 end,
  ratio = function(y, other) return y / other end,
  part = function(y, other) return other / y end,
}
local WORDS = { drop = "fall of the %s against %s", rise = "rise of the %s against %s",
  ratio = "ratio of the %s to that at %s", part = "factor by which the %s lies below that at %s" }

--- Change of `base` against a second state `than` (list by position; what it lacks is as in the first).
function subject.compared(base, than, measure)
  local self = setmetatable({ base = base, than = than, measure = measure, unit = "1" }, { __index = base })
  self.moved = {}
  self.kind = (measure == "drop" or measure == "rise") and "fraction" or "number"
  local parts = {}
  for i, argument in ipairs(base.arguments) do
    if than[i] then
      parts[#parts + 1] = argument.name .. " " .. (show.value(than[i], argument):gsub(" %(.*", ""))
    end
  end
  local state = table.concat(parts, ", ")
  self.text = WORDS[measure]:format(show.words(base.name), state)
  local f = MEASURES[measure]
  local function value(values, set)
    local second = {}
    for i = 1, #base.arguments do
      second[i] = than[i] or values[i]
    end
    local y, message, code = base.value(values, set)
    if y == nil then
      return nil, message, code
    end
    local other, word, why = base.value(second, set)
    if other == nil then
      return nil, word, why
    elseif other == 0 or measure == "part" and y == 0 then
      return nil, "a value of 0 cannot be compared", "range"
    end
    if message == "extrapolated" then
      word, why = message, code
    end
    return f(y, other), word, why
  end
  self.value = value
  function self.range(values, set)
    return interval.of(function(object)
      return value(values, object)
    end, set, moved_of(self, set))
  end
  return self
end

-- core.evaluate wants an object, so a name becomes one here.
local function object_of(set)
  return quantity.parameters(set)
end

--- Subject of an entry of the claim book: fields as above, and evaluate(values by name, hf, set) -> value
--- or { value, low, high }. Values carry their own range where the entry gives one.
function subject.of_entry(entry)
  local self = { has_model = true, parameters = {}, cautions = {}, sources = {}, sets = { "virgin" }, arguments = {} }
  for key, x in pairs(entry) do
    self[key] = x
  end
  self.kind, self.unit = self.kind or "number", self.unit or "1"
  local function call(values, set)
    local named = {}
    for i, argument in ipairs(self.arguments) do
      local x = values[i]
      if x == nil then
        x = argument.usual
      end
      named[argument.name] = argument.kind == "choice" and argument.choices[math.tointeger(x + 1)] or x
    end
    return entry.evaluate(named, require "hairfibre", object_of(set))
  end
  function self.value(values, set)
    local y, second, third = call(values, set)
    if type(y) == "table" then
      return y[1]
    end
    return y, second, third
  end
  function self.range(values, set)
    local y, second, third = call(values, set)
    if type(y) == "table" then
      return y[1], y[2], y[3], second, third
    end
    return interval.of(function(object)
      return self.value(values, object)
    end, set, moved_of(self, set))
  end
  return self
end

return subject
