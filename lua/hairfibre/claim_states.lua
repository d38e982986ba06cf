-- Answers over all states that the stated conditions leave open.

local conditions = require "hairfibre.claim_conditions"

local states = {}

-- Points along each open number, by how many numbers are open.
local COUNTS = { 41, 15, 9, 5, 4, 3, 3, 3 }

-- Calls f(values, set, key) for every state; key names the choices in it.
local function each(list, of_set, count, f)
  local values = {}
  local function step(i, key)
    local c = list[i]
    if not c then
      for _, set in ipairs(of_set.choices or { of_set.value }) do
        f(values, set, key .. "|" .. tostring(set))
      end
      return
    elseif c.state == "given" then
      values[i] = c.value
      return step(i + 1, key)
    end
    for _, x in ipairs(conditions.along(c, count)) do
      values[i] = x
      step(i + 1, c.choices and key .. "|" .. x or key)
    end
  end
  step(1, "")
end

-- A size to start from never lies beyond the size that is reached.
local function sensible(list, values)
  local by_name = {}
  for i, c in ipairs(list) do
    by_name[c.name] = values[i]
  end
  for name, x in pairs(by_name) do
    local of = name:match("^from_(.*)$")
    if of and by_name[of] and x > by_name[of] then
      return false
    end
  end
  return true
end

--- Open conditions among `list` and the set.
function states.open(list, of_set)
  local open = {}
  for _, c in ipairs(list) do
    if c.state ~= "given" then
      open[#open + 1] = c
    end
  end
  if of_set.state ~= "given" then
    open[#open + 1] = of_set
  end
  return open
end

--- Points { values =, set =, value =, low =, high =, extrapolated =, reason = } of all states, in groups of
--- equal choices { points =, low =, high = }; or nil, sentence, code when no state has an answer.
function states.scan(subject, list, of_set)
  local numbers = 0
  for _, c in ipairs(list) do
    numbers = numbers + (c.state ~= "given" and not c.choices and 1 or 0)
  end
  local groups, by_key, message, code = {}, {}, nil, nil
  each(list, of_set, subject.points or COUNTS[math.max(numbers, 1)], function(values, set, key)
    if not sensible(list, values) then
      return
    end
    local value, low, high, word, reason = subject.range(values, set)
    if value == nil then
      message, code = message or low, code or high
      return
    end
    local group = by_key[key]
    if not group then
      group = { points = {}, low = math.huge, high = -math.huge }
      by_key[key], groups[#groups + 1] = group, group
    end
    group.points[#group.points + 1] = { values = table.move(values, 1, #list, 1, {}), set = set, value = value,
      low = low, high = high, extrapolated = word == "extrapolated", reason = reason }
    group.low, group.high = math.min(group.low, low), math.max(group.high, high)
  end)
  if #groups == 0 then
    return nil, message or "no state meets these conditions", code or "range"
  end
  return groups
end

--- The state in which every open condition has its usual or middle value: values, set.
function states.middle(list, of_set)
  local values = {}
  for i, c in ipairs(list) do
    values[i] = c.state == "given" and c.value or c.middle
  end
  for i, c in ipairs(list) do
    local of = c.name:match("^from_(.*)$")
    for k, other in ipairs(list) do
      if of == other.name and values[i] > values[k] then
        values[i] = c.state == "given" and values[i] or 0
      end
    end
  end
  return values, of_set.value or of_set.middle
end

--- Does every open condition have a usual value (so that the middle state is one that people mean)?
function states.is_usual(open)
  for _, c in ipairs(open) do
    if c.argument and c.argument.usual == nil then
      return false
    end
  end
  return true
end

--- Answers along one open condition, the others in the middle: list of { x =, value =, low =, high = }.
function states.along(subject, list, of_set, condition, count)
  local values, set = states.middle(list, of_set)
  local answers = {}
  for _, x in ipairs(conditions.along(condition, count or 33)) do
    local at = table.move(values, 1, #list, 1, {})
    local of = set
    if condition.name == "set" then
      of = x
    else
      at[condition.position] = x
    end
    if sensible(list, at) then
      local value, low, high = subject.range(at, of)
      if value ~= nil then
        answers[#answers + 1] = { x = x, value = value, low = low, high = high }
      end
    end
  end
  return answers
end

--- Open conditions ranked by how far each moves the answer over its range, the others in the middle:
--- list of { condition =, low =, high =, span = } with the largest span first.
function states.ranked(subject, list, of_set)
  local ranking = {}
  for _, c in ipairs(states.open(list, of_set)) do
    local low, high, at_low, at_high = math.huge, -math.huge, nil, nil
    for _, one in ipairs(states.along(subject, list, of_set, c, subject.points or 17)) do
      if one.value < low then
        low, at_low = one.value, one.x
      end
      if one.value > high then
        high, at_high = one.value, one.x
      end
    end
    if at_low ~= nil then
      ranking[#ranking + 1] = { condition = c, low = low, high = high, at_low = at_low, at_high = at_high,
        span = high - low, place = #ranking }
    end
  end
  table.sort(ranking, function(a, b)
    if a.span ~= b.span then
      return a.span > b.span
    end
    return a.place < b.place
  end)
  return ranking
end

return states
