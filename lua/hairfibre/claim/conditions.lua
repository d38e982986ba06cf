-- Conditions of a claim: given, given as a span, or missing. What is missing is open: it may be anything that
-- evidence supports. The set of parameters (virgin or bleached hair) is a condition too.

local core = require "hairfibre.core"
local misuse = require "hairfibre.misuse"
local quantity = require "hairfibre.quantity"
local suggest = require "hairfibre.suggest"
local units = require "hairfibre.units"

local conditions = {}

-- Ends for evidence ranges that have none: water that a fibre keeps in water, and an hour.
local ENDS = { regain = 0.32, from_regain = 0.32, duration = 3600 }

local WHOLE = units.WHOLE

-- A text of one value or of a span "a..b", or a list; numbers are SI.
local function read(x, argument)
  if type(x) == "table" then
    local list = {}
    for i = 1, #x do
      local value, message = units.value(x[i], argument)
      if not value then
        misuse("%s", message)
      end
      list[i] = value
    end
    if #list == 0 then
      misuse("%s: the list is empty", argument.name)
    end
    table.sort(list)
    return list
  elseif type(x) == "string" and argument.kind ~= "choice" and x:find("..", 1, true) then
    local low, high = units.parse_range(x, argument)
    if not low then
      misuse("%s", high)
    end
    return { low, high }
  end
  local value, message = units.value(x, argument)
  if not value then
    misuse("%s", message)
  elseif value ~= value or math.abs(value) == math.huge then
    misuse("%s needs a finite number", argument.name)
  end
  return { value }
end

local function evidence(argument)
  local low, high = argument.valid_low, argument.valid_high
  if high == math.huge then
    high = ENDS[argument.name]
  end
  if low == -math.huge or not high then
    return nil
  end
  return low, high
end

local function choices_of(argument)
  local list = {}
  for i = 1, #argument.choices do
    list[i] = i - 1
  end
  return list
end

-- A value that stands for an open condition when the others are looked at.
local function middle(condition)
  local usual = condition.argument.usual
  if condition.choices then
    for _, x in ipairs(condition.choices) do
      if x == usual then
        return x
      end
    end
    return condition.choices[1]
  elseif usual and usual >= condition.low and usual <= condition.high then
    return usual
  end
  local x = condition.wide and math.sqrt(condition.wide * condition.high) or (condition.low + condition.high) / 2
  return WHOLE[condition.name] and math.floor(x + 0.5) or x
end

local function condition_of(argument, position, x)
  local c = { argument = argument, position = position, name = argument.name }
  if x ~= nil then
    local list = read(x, argument)
    if #list == 1 then
      c.state, c.value = "given", list[1]
      return c
    end
    c.state = "span"
    if argument.kind == "choice" then
      c.choices = list
    else
      c.low, c.high = list[1], list[#list]
    end
  else
    c.state = "missing"
    if argument.kind == "choice" then
      c.choices = choices_of(argument)
    else
      c.low, c.high = evidence(argument)
      if not c.low then
        misuse("%s must be given, as one value or a span a..b: the range of its evidence has no end", argument.name)
      elseif c.low == c.high then
        c.state, c.value = "given", c.low
        return c
      end
    end
  end
  c.whole = WHOLE[c.name]
  -- Over many powers of ten points are spread by ratio: from here, for a pure number that begins at 0.
  local from_zero = c.low == 0 and c.high >= 1e4 and argument.unit == "1" and c.high * 1e-8
  c.wide = c.low and (from_zero or c.low > 0 and c.high / c.low > 100 and c.low) or nil
  c.middle = middle(c)
  return c
end

-- A size to start from reaches as far as the size that is come to, no further.
local function capped(list)
  for _, c in ipairs(list) do
    local of = c.low and c.name:match("^from_(.*)$")
    for _, other in ipairs(of and list or {}) do
      local top = other.name == of and (other.value or other.high)
      if top and top < c.high and top > c.low then
        c.high, c.middle = top, math.min(c.middle, top)
      end
    end
  end
end

-- Do the sets differ in a parameter of this subject?
local function sets_differ(subject)
  local function values(name)
    local list = {}
    for _, row in ipairs(core.rows(quantity.parameters(name))) do
      for _, prefix in ipairs(subject.parameters) do
        if row.name == prefix or row.name:sub(1, #prefix + 1) == prefix .. "." then
          list[#list + 1] = row.value
          break
        end
      end
    end
    return list
  end
  local first = values(subject.sets[1])
  for i = 2, #subject.sets do
    for k, x in ipairs(values(subject.sets[i])) do
      if x ~= first[k] then
        return true
      end
    end
  end
  return false
end

--- Conditions of a subject: list by position of the arguments, and the condition of the set.
--- `at`: table name -> value; `set`: name, object, or nil.
function conditions.build(subject, at, set)
  local list, names, places = {}, {}, {}
  for i, argument in ipairs(subject.arguments) do
    names[i], places[argument.name] = argument.name, i
  end
  for _, key in ipairs(suggest.sorted_keys(at)) do
    if not places[key] then
      misuse("%s does not depend on \"%s\"%s", subject.name, tostring(key), suggest.hint(key, names))
    end
  end
  for i, argument in ipairs(subject.arguments) do
    list[i] = condition_of(argument, i, at[argument.name])
  end
  capped(list)
  local of_set = { name = "set", state = "given", value = set or "virgin", alike = set == nil }
  if set == nil and #subject.sets > 1 and sets_differ(subject) then
    of_set = { name = "set", state = "missing", choices = subject.sets, middle = subject.sets[1] }
  elseif set ~= nil then
    quantity.parameters(set)
  end
  return list, of_set
end

--- Values to look at along an open condition.
function conditions.along(condition, count)
  if condition.choices then
    return condition.choices
  end
  local values = units.spread(condition.low, condition.high, count)
  if condition.wide then
    local wide = condition.wide
    for i = 2, count - 1 do
      values[i] = wide * (condition.high / wide) ^ ((i - 1) / (count - 1))
    end
  end
  for i, x in ipairs(WHOLE[condition.name] and values or {}) do
    values[i] = math.floor(x + 0.5)
  end
  return values
end

return conditions
