-- The one place where an answer gets its approximate 95 % range. A quantity is asked through the C half, by
-- draws of all parameters for a state that is shown and by moving one after the other for many states; a
-- comparison of two states, or a small evaluator of the claim book, has every parameter moved alone to its
-- 2.5 % and 97.5 % points and sums the moves as squares, as hf_quantity_range does.

local core = require "hairfibre.core"
local quantity = require "hairfibre.quantity"

local interval = {}

local NORMAL, TRIANGLE = 1.959963984540054, 0.776393202250021

local function points(row)
  local step = 0
  if row.distribution == "lognormal" then
    return row.value * math.exp(-NORMAL * row.spread), row.value * math.exp(NORMAL * row.spread)
  elseif row.distribution == "normal" then
    step = NORMAL * row.spread
  elseif row.distribution == "uniform" then
    step = 0.95 * row.spread
  elseif row.distribution == "triangular" then
    step = TRIANGLE * row.spread
  end
  return row.value - step, row.value + step
end

local function uses(prefixes, name)
  for _, prefix in ipairs(prefixes) do
    if name == prefix or name:sub(1, #prefix + 1) == prefix .. "." then
      return true
    end
  end
  return false
end

--- Sets with one parameter moved: list of { low, high }, for the parameters under `prefixes`.
function interval.moved(set, prefixes)
  local list = {}
  local object = quantity.parameters(set) or core.parameters()
  for _, row in ipairs(core.rows(object)) do
    if row.distribution ~= "fixed" and row.spread > 0 and uses(prefixes, row.name) then
      local low, high = points(row)
      local pair = {}
      for i, x in ipairs { math.max(low, row.low), math.min(high, row.high) } do
        local copy = object:copy()
        pair[i] = copy:set(row.name, x) and copy or nil
      end
      list[#list + 1] = pair
    end
  end
  return list
end

--- Range of any function f(set) -> value, second, third: value, low, high, second, third.
function interval.of(f, set, moved)
  local value, second, third = f(set)
  if value == nil then
    return nil, second, third
  end
  local up, down = 0, 0
  for _, pair in ipairs(moved) do
    for side = 1, 2 do
      local x = pair[side] and f(pair[side])
      if x then
        local step = x - value
        if step > 0 then
          up = up + step * step
        else
          down = down + step * step
        end
      end
    end
  end
  return value, value - math.sqrt(down), value + math.sqrt(up), second, third
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
      low, high = answer.percentiles.value[1], answer.percentiles.value[5]
    end
  end
  return value, low, high, word, reason
end

return interval
