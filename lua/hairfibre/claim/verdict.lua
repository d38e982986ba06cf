-- The rules of the verdict (docs/claims.md states them for people):
--   supported    the claim meets the model's range in every state that the conditions leave open
--   conditional  in some of them
--   doubtful     in none, but it lies within the spread of rival sources; or the answer is extrapolated
--   refuted      in none, and beyond every rival
-- A claim meets a range when the two overlap.

local conditions = require "hairfibre.claim.conditions"
local states = require "hairfibre.claim.states"

local verdict = {}

-- A ceiling beyond this many times all that was found says nothing.
local CEILING = 1.5

local function meets(claim, low, high)
  return claim.low <= high and claim.high >= low
end
verdict.meets = meets

-- States within evidence where there are any; second result: all of them are extrapolated.
local function admissible(groups)
  local kept = {}
  for _, group in ipairs(groups) do
    local points, low, high = {}, math.huge, -math.huge
    for _, point in ipairs(group.points) do
      if not point.extrapolated then
        points[#points + 1] = point
        low, high = math.min(low, point.low), math.max(high, point.high)
      end
    end
    if #points > 0 then
      kept[#kept + 1] = { points = points, low = low, high = high }
    end
  end
  if #kept > 0 then
    return kept, false
  end
  return groups, true
end
verdict.admissible = admissible

--- Lowest and highest end of all ranges.
function verdict.hull(groups)
  local low, high = math.huge, -math.huge
  for _, group in ipairs(groups) do
    low, high = math.min(low, group.low), math.max(high, group.high)
  end
  return low, high
end

-- In how many states a reading is met: "all", "some" or "none".
local function count(claim, groups)
  local all, some = true, false
  for _, group in ipairs(groups) do
    for _, point in ipairs(group.points) do
      local met = meets(claim, point.low, point.high)
      all, some = all and met, some or met
    end
    -- Between two neighbouring states the answer passes through what lies between.
    some = some or #group.points > 1 and meets(claim, group.low, group.high)
  end
  return all and "all" or some and "some" or "none"
end

-- "Up to": the figure is reached somewhere and passed nowhere.
local function count_up_to(claim, groups)
  local reached, passed, everywhere = false, false, true
  local top = -math.huge
  for _, group in ipairs(groups) do
    for _, point in ipairs(group.points) do
      local over = point.low > claim.high
      passed, everywhere = passed or over, everywhere and over
      reached = reached or meets(claim, point.low, point.high)
      top = math.max(top, point.high)
    end
    reached = reached or #group.points > 1 and meets(claim, group.low, group.high)
  end
  if everywhere then
    return "none"
  elseif passed then
    return "some", "passed"
  elseif reached then
    return "all"
  elseif claim.low <= CEILING * top and claim.what.kind ~= "temperature" then
    return "some", "not reached"
  end
  return "none", "beyond"
end

local function rival_that_reaches(claim, groups, rivals)
  local low, high = verdict.hull(groups)
  if meets(claim, low, high) then
    return { text = "the answers for different hair or branches" }
  end
  -- The nearest rival on the side of the claim, if the claim is not beyond it.
  for _, rival in ipairs(rivals) do
    if rival.low and meets(claim, math.min(low, rival.low), math.max(high, rival.high)) then
      return rival
    end
  end
end

--- Verdict of the readings of a claim: word, why (a key), details { rival =, reading = }.
--- `readings`: list of claims of which any may be meant.
function verdict.of(readings, groups, rivals)
  local usable, extrapolated = admissible(groups)
  local all, some, note, met = true, false, nil, {}
  for _, claim in ipairs(readings) do
    local found, why
    if claim.form == "up to" then
      found, why = count_up_to(claim, usable)
    else
      found = count(claim, usable)
    end
    met[#met + 1] = found
    all, some, note = all and found == "all", some or found ~= "none", note or why
  end
  local word, why, rival
  if all then
    word, why = "supported", "inside"
  elseif some then
    word, why = "conditional", note or "partly"
  else
    for _, claim in ipairs(readings) do
      rival = rival or note ~= "beyond" and rival_that_reaches(claim, usable, rivals)
    end
    word, why = rival and "doubtful" or "refuted", rival and "rival" or "outside"
  end
  if extrapolated then
    return "doubtful", "extrapolated", { met = met, otherwise = word, rival = rival, groups = usable }
  end
  return word, why, { met = met, rival = rival, groups = usable }
end

-- ---- directions -----------------------------------------------------------------------------------

-- Sign of a change with its range: "rises", "falls", "stays" or "unsure".
local function sign(value, low, high)
  if low > 0 then
    return "rises"
  elseif high < 0 then
    return "falls"
  end
  return value == 0 and low == high and "stays" or "unsure"
end

-- Points along each of the other open numbers, by how many there are.
local OTHERS = { 5, 5, 4, 3, 2 }

--- Verdict of a direction: the answer is followed along `condition`, in steps, for every other open state.
--- Third result: list of { x1, x2, sign = } in the middle of the other conditions.
function verdict.direction(claim, subject, list, of_set, condition, moved)
  local others, open = {}, 1
  for i, c in ipairs(list) do
    open = open + (c ~= condition and c.low and 1 or 0)
    others[i] = c == condition and { state = "given", value = c.low or c.choices[1], argument = c.argument,
      name = c.name } or c
  end
  local xs = conditions.along(condition, 13)
  local middle, of = states.middle(list, of_set)
  local tally, steps, extrapolated = {}, {}, true
  -- Answers at all points along the condition, nil where there is none, and which are extrapolated.
  local function answers(values, object)
    local full, found, beyond = table.move(values, 1, #list, 1, {}), {}, {}
    for i, x in ipairs(xs) do
      full[condition.position] = x
      local y, word = subject.value(full, object)
      found[i], beyond[i] = y, word == "extrapolated"
    end
    return found, beyond
  end
  -- Signs along the condition, step by step, from the change and its range (every parameter moved alone,
  -- moves summed as squares). A step smaller than its own spread is judged together with its neighbour.
  local function follow(values, set)
    local base, beyond = answers(values, set)
    local others_moved = {}
    for _, pair in ipairs(moved(set)) do
      for side = 1, 2 do
        others_moved[#others_moved + 1] = pair[side] and (answers(values, pair[side]))
      end
    end
    local function step(i, j)
      if not base[i] or not base[j] then
        return nil
      end
      local value, up, down = base[j] - base[i], 0, 0
      for _, y in ipairs(others_moved) do
        local move = y[i] and y[j] and y[j] - y[i] - value or 0
        up, down = up + math.max(move, 0) ^ 2, down + math.min(move, 0) ^ 2
      end
      extrapolated = extrapolated and (beyond[i] or beyond[j])
      return sign(value, value - math.sqrt(down), value + math.sqrt(up))
    end
    local signs = {}
    for i = 1, #xs - 1 do
      local found = step(i, i + 1)
      if found == "unsure" then
        local after = i < #xs - 1 and step(i, i + 2)
        found = after and after ~= "unsure" and after or i > 1 and step(i - 1, i + 1) or found
      end
      signs[i] = found
    end
    return signs
  end
  local seen, fallback = 0, nil
  local groups = states.scan(setmetatable({ range = function(values, set)
    local signs = follow(values, set)
    fallback = fallback or next(signs) and signs
    for _, found in pairs(signs) do
      tally[found], seen = (tally[found] or 0) + 1, seen + 1
    end
    return 0, 0, 0
  end, points = OTHERS[math.min(open, #OTHERS)] }, { __index = subject }), others, of_set)
  if not groups or seen == 0 then
    return nil, "no state meets these conditions", "range"
  end
  local signs = follow(middle, of)
  signs = next(signs) and signs or fallback
  for i = 1, #xs - 1 do
    steps[i] = { xs[i], xs[i + 1], sign = signs[i] }
  end
  local word, why
  if (tally[claim.way] or 0) == seen then
    word, why = "supported", "inside"
  elseif tally[claim.way] then
    word, why = "conditional", "partly"
  elseif tally.unsure then
    word, why = "doubtful", "unsure"
  else
    word, why = "refuted", "outside"
  end
  if extrapolated then
    return "doubtful", "extrapolated", steps
  end
  return word, why, steps
end

-- ---- where it holds -------------------------------------------------------------------------------

local HALVINGS = 10

--- Where along each open condition the claim holds, the others in the middle: list of { condition =,
--- low =, high = } (one for each stretch) or { condition =, choices = }; conditions along which it holds
--- nowhere, or everywhere, are left out.
function verdict.holds(claim, subject, list, of_set)
  local found = {}
  for _, c in ipairs(states.open(list, of_set)) do
    local answer_at = states.on(subject, list, of_set, c)
    local function met(x)
      local one = answer_at(x)
      return one and meets(claim, one.low, one.high)
    end
    -- Between a state in which the claim is met and one in which it is not.
    local function edge(inside, outside)
      for _ = 1, c.whole and 0 or HALVINGS do
        local middle = (inside + outside) / 2
        if met(middle) then
          inside = middle
        else
          outside = middle
        end
      end
      return inside
    end
    local xs, inside, stretches = conditions.along(c, subject.points or 33), {}, {}
    for i, x in ipairs(xs) do
      inside[i] = met(x)
      if inside[i] and inside[i - 1] and not c.choices then
        stretches[#stretches].high = x
      elseif inside[i] then
        stretches[#stretches + 1] = { condition = c, low = not c.choices and i > 1 and edge(x, xs[i - 1]) or x, high = x }
      elseif inside[i - 1] and not c.choices then
        stretches[#stretches].high = edge(xs[i - 1], x)
      end
    end
    local everywhere = true
    for i = 1, #xs do
      everywhere = everywhere and inside[i] ~= false
    end
    if #stretches > 0 and not everywhere then
      if c.choices then
        local choices = {}
        for i, one in ipairs(stretches) do
          choices[i] = one.low
        end
        stretches = { { condition = c, choices = choices } }
      end
      table.move(stretches, 1, #stretches, #found + 1, found)
    end
  end
  return found
end

-- A figure beyond the middle half of a 95 % range is at its end: 0.6745 of 1.96 standard deviations.
local HALF = 0.344

--- "upper" or "lower" when a claim meets a range only near that end; nil otherwise.
function verdict.at_end(claim, value, low, high)
  if not meets(claim, low, high) then
    return nil
  end
  return claim.low > value + HALF * (high - value) and "upper" or claim.high < value - HALF * (value - low) and "lower" or nil
end

--- A state in which the claim is met: the one whose answer lies nearest; nil when there is none.
function verdict.witness(claim, groups)
  local best, least
  local target = claim.figure or (math.max(claim.low, -1e300) + math.min(claim.high, 1e300)) / 2
  for _, group in ipairs(groups) do
    for _, point in ipairs(group.points) do
      if meets(claim, point.low, point.high) and (not least or math.abs(point.value - target) < least) then
        best, least = point, math.abs(point.value - target)
      end
    end
  end
  return best
end

return verdict
