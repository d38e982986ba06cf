-- Answers over all states that the stated conditions leave open.

local conditions = require "hairfibre.claim.conditions"

local states = {}

-- Points along each open number, by how many numbers are open.
local COUNTS = { 41, 15, 9, 5, 4, 3, 3, 3 }

-- The same where only values are asked for, without their ranges.
local OTHERS = { 17, 9, 7, 5, 4 }

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

--- Answer when one open condition has the value x and the others are in the middle: a function of x that gives
--- { x =, value =, low =, high = }, or nil where there is none.
function states.on(subject, list, of_set, condition)
  local values, set = states.middle(list, of_set)
  return function(x)
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
        return { x = x, value = value, low = low, high = high }
      end
    end
  end
end

-- A slice { low =, high =, at_low =, at_high = } that takes in the answer y at x.
local function widened(slice, y, x)
  slice = slice or { low = math.huge, high = -math.huge }
  if y < slice.low then
    slice.low, slice.at_low = y, x
  end
  if y > slice.high then
    slice.high, slice.at_high = y, x
  end
  return slice
end

-- Lowest and highest answer along a condition, the others in the middle.
local function slice_in_the_middle(subject, list, of_set, c)
  local answer_at = states.on(subject, list, of_set, c)
  local slice
  for _, x in ipairs(conditions.along(c, subject.points or 17)) do
    local one = answer_at(x)
    slice = one and widened(slice, one.value, x) or slice
  end
  if slice then
    slice.condition, slice.span = c, slice.high - slice.low
  end
  return slice
end

-- The same in whichever other states it moves the answer most: slices by condition.
local function widest_slices(subject, list, of_set, open)
  local numbers = 0
  for _, c in ipairs(open) do
    numbers = numbers + (c.low and 1 or 0)
  end
  local slices = {}
  for i in ipairs(open) do
    slices[i] = {}
  end
  each(list, of_set, subject.points or OTHERS[numbers] or 3, function(values, set)
    local y = sensible(list, values) and subject.value(values, set)
    if not y then
      return
    end
    for i, c in ipairs(open) do
      local key = {}
      for k = 1, #list do
        key[k] = k == c.position and "" or tostring(values[k])
      end
      key = table.concat(key, "|") .. (c.name == "set" and "" or tostring(set))
      local slice = widened(slices[i][key], y, c.name == "set" and set or values[c.position])
      slice.values, slice.set = slice.values or table.move(values, 1, #list, 1, {}), slice.set or set
      slices[i][key] = slice
    end
  end)
  local widest = {}
  for i, c in ipairs(open) do
    for _, slice in pairs(slices[i]) do
      local best = widest[c]
      if not best or slice.high - slice.low > best.span
        or slice.high - slice.low == best.span and slice.low < best.low then
        slice.span, slice.condition = slice.high - slice.low, c
        widest[c] = slice
      end
    end
  end
  return widest
end

-- A condition that moves the answer by less than this part of what it can do elsewhere is looked at there.
local FLAT = 0.05

--- Open conditions ranked by how far each can move the answer, whatever the others are: list of { condition =,
--- low =, high =, span = } with the largest span first. `low` and `high` are what it does with the others in
--- the middle; where the middle is flat, the state in which it moves the answer most stands there, and
--- `values`, `set` tell it.
function states.ranked(subject, list, of_set)
  local open = states.open(list, of_set)
  local widest = #open > 1 and widest_slices(subject, list, of_set, open) or {}
  local ranking = {}
  for place, c in ipairs(open) do
    local one = slice_in_the_middle(subject, list, of_set, c)
    local most = widest[c]
    if most and (not one or one.span < FLAT * most.span) then
      one = most
    elseif most then
      one.span = math.max(one.span, most.span)
    end
    if one then
      one.place = place
      ranking[#ranking + 1] = one
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
