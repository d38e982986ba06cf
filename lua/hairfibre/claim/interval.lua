-- The one place where an answer gets its approximate 95 % range. A quantity is asked through the C half, by
-- draws of all parameters for a state that is shown and by moving one after the other for many states; a
-- comparison of two states, or a small evaluator of the claim book, has every parameter moved alone to its
-- 2.5 % and 97.5 % points, then all at once, each a share of its way, as hf_quantity_range does.

local core = require "hairfibre.core"
local quantity = require "hairfibre.quantity"

local interval = {}

local NORMAL, TRIANGLE = 1.959963984540054, 0.776393202250021

-- Value of a row that goes the share z of its way to the 2.5 % (z < 0) or the 97.5 % point.
local function moved_to(row, z)
  local x = row.value
  if row.distribution == "lognormal" then
    x = x * math.exp(z * NORMAL * row.spread)
  elseif row.distribution == "normal" then
    x = x + z * NORMAL * row.spread
  elseif row.distribution == "uniform" then
    x = x + z * 0.95 * row.spread
  elseif row.distribution == "triangular" then
    x = x + z * TRIANGLE * row.spread
  end
  return math.min(math.max(x, row.low), row.high)
end

local function uses(prefixes, name)
  for _, prefix in ipairs(prefixes) do
    if name == prefix or name:sub(1, #prefix + 1) == prefix .. "." then
      return true
    end
  end
  return false
end

--- The parameters under `prefixes` that have a spread, each with the two sets in which it alone is moved, and the set
--- itself as `object`.
function interval.moved(set, prefixes)
  local object = quantity.parameters(set) or core.parameters()
  local list = { object = object }
  for _, row in ipairs(core.rows(object)) do
    if row.distribution ~= "fixed" and row.spread > 0 and uses(prefixes, row.name) then
      local one = { row = row }
      for side = -1, 1, 2 do
        local copy = object:copy()
        one[side] = copy:set(row.name, moved_to(row, side)) and copy or nil
      end
      list[#list + 1] = one
    end
  end
  return list
end

-- The answer with all moved at once that change it in a direction, each a share of its way that makes the changes add as
-- squares.
local function end_of(f, moved, changes, value, direction)
  local sum = 0
  for _, change in ipairs(changes) do
    local best = math.max(direction * change[-1], direction * change[1], 0)
    sum = sum + best * best
  end
  if sum == 0 then
    return value
  end
  local length, copy, inside = math.sqrt(sum), moved.object:copy(), true
  for i, one in ipairs(moved) do
    local low, high = direction * changes[i][-1], direction * changes[i][1]
    local best = math.max(low, high, 0)
    if best > 0 then
      inside = inside and copy:set(one.row.name, moved_to(one.row, (high >= low and 1 or -1) * best / length))
    end
  end
  local x = inside and f(copy) or value + direction * length
  return direction > 0 and math.max(x, value) or math.min(x, value)
end

--- Range of any function f(set) -> value, second, third: value, low, high, second, third.
function interval.of(f, set, moved)
  local value, second, third = f(set)
  if value == nil then
    return nil, second, third
  end
  local changes = {}
  for i, one in ipairs(moved) do
    changes[i] = {}
    for side = -1, 1, 2 do
      local x = one[side] and f(one[side])
      changes[i][side] = x and x - value or 0
    end
  end
  return value, end_of(f, moved, changes, value, -1), end_of(f, moved, changes, value, 1), second, third
end

-- Draws of all parameters at once; nil where that gives nothing.
interval.DRAWS = { draws = 1024, seed = 1, method = "sobol", spreads = {} }

--- Range of a quantity at numbers in the order of its arguments: value, low, high, "extrapolated",
--- sentence; or nil, sentence, code. `fine`: by draws, as hf.uncertainty has it, for the state that is shown;
--- otherwise one parameter at a time, which is fast enough for thousands of states.
function interval.of_quantity(descriptor, values, set, fine)
  local object = quantity.parameters(set)
  local value, low, high, word, reason = core.range(descriptor.index, object, core.EXTRAPOLATE,
    table.unpack(values, 1, #descriptor.arguments))
  if value == false then
    return nil, low, "invalid"
  elseif value ~= nil and fine and low < high then
    local answer = core.propagate(descriptor.index, object, core.EXTRAPOLATE, values,
      interval.DRAWS)
    if answer and answer.percentiles then
      low, high = math.min(answer.percentiles.value[1], value), math.max(answer.percentiles.value[5], value)
    end
  end
  return value, low, high, word, reason
end

return interval
