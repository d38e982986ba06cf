-- Axes: round limits, tick marks and the words beside them. No drawing here.

local text = require "hairfibre.plot.text"

local ticks = {}
local floor, ceil, log10 = math.floor, math.ceil, function(v)
  return math.log(v, 10)
end

-- Steps that people count in; times of 60 and of 24 for the clock units.
local clock = {
  s = { 1, 2, 5, 10, 15, 20, 30, 60, 120, 300, 600, 900, 1200, 1800, 3600, 7200, 14400 },
  min = { 1, 2, 5, 10, 15, 20, 30, 60, 120, 240, 480, 720, 1440 },
  h = { 1, 2, 3, 4, 6, 12, 24, 48, 96, 168 },
}

local function round_step(span, count, unit)
  local rough = span / count
  local steps = clock[unit]
  if steps and rough > 0.75 and rough <= steps[#steps] then
    for _, step in ipairs(steps) do
      if step >= rough * 0.999 then
        return step
      end
    end
  end
  local power = 10.0 ^ floor(log10(rough))
  -- Quarters where they need no decimals; else two serve as well, a little closer together.
  for _, factor in ipairs { 1, 2, 2.5, 5, 10 } do
    if factor * power >= rough * 0.999 then
      factor = factor == 2.5 and power < 10 and 2 or factor
      return factor * power
    end
  end
end

local function decimals_of(step)
  for decimals = 0, 12 do
    local scaled = step * 10.0 ^ decimals
    if math.abs(scaled - floor(scaled + 0.5)) <= 1e-6 * scaled then
      return decimals
    end
  end
  return 12
end

-- A number for people: true minus sign, thin spaces between thousands.
function ticks.number(value, decimals)
  local s = string.format("%." .. decimals .. "f", value)
  if tonumber(s) == 0 then
    s = s:gsub("^%-", "")
  end
  local sign, whole, rest = s:match("^(%-?)(%d+)(.*)$")
  if #whole > 4 then
    whole = whole:reverse():gsub("(%d%d%d)", "%1 "):reverse():gsub("^ ", ""):gsub(" ", "\u{202F}")
  end
  return (sign == "-" and "−" or "") .. whole .. rest
end

-- Large and tiny numbers are read better as a few digits and a power of 1000 beside the unit.
local function power_for(low, high, step)
  local largest = math.max(math.abs(low), math.abs(high))
  if largest >= 1e5 or (largest < 0.01 and step < 1e-3) then
    return 3 * floor(log10(largest) / 3 + 1e-9)
  end
  return 0
end

local function linear(axis, count, unit)
  local low, high = axis.low, axis.high
  local step = axis.step or round_step(high - low, count, unit)
  if axis.whole and step < 1 then
    step = 1
  end
  if not axis.fixed_low then
    local snapped = floor(low / step + 1e-9) * step
    if axis.snap or low - snapped < 0.015 * (high - low) then
      low = snapped
    end
  end
  if not axis.fixed_high then
    local snapped = ceil(high / step - 1e-9) * step
    if axis.snap or snapped - high < 0.015 * (high - low) then
      high = snapped
    end
  end
  high = axis.most and not axis.fixed_high and math.min(high, axis.most) or high
  local power = power_for(low, high, step)
  local decimals = decimals_of(step / 10.0 ^ power)
  local list = {}
  for i = ceil(low / step - 1e-6), floor(high / step + 1e-6) do
    list[#list + 1] = { i * step, ticks.number(i * step / 10.0 ^ power, decimals) }
  end
  return low, high, list, power
end

local function shown_log(value, exponents)
  local exponent = floor(log10(value) + 1e-9)
  if exponents then
    local factor = floor(value / 10.0 ^ exponent + 0.5)
    return (factor == 1 and "" or factor .. "×") .. "10" .. text.superscript(exponent)
  end
  return ticks.number(value, exponent < 0 and -exponent or 0)
end

local function logarithmic(axis, count)
  local low, high = axis.low, axis.high
  local function snap(value, upward)
    local power = 10.0 ^ floor(log10(value) + 1e-9)
    local best
    for _, factor in ipairs(upward and { 1, 2, 5, 10 } or { 5, 2, 1 }) do
      local candidate = factor * power
      if upward and candidate >= value * (1 - 1e-9) or not upward and candidate <= value * (1 + 1e-9) then
        best = best or candidate
      end
    end
    return best
  end
  low = axis.fixed_low and low or snap(low, false)
  high = axis.fixed_high and high or snap(high, true)
  local first, last = ceil(log10(low) - 1e-9), floor(log10(high) + 1e-9)
  local factors = last - first >= 2 and { 1 } or { 1, 2, 5 }
  local every = math.max(1, ceil((last - first + 1) / count))
  local exponents = first < -3 or last > 4
  local list, minor = {}, {}
  for exponent = floor(log10(low)), last do
    for factor = 1, 9 do
      local value = factor * 10.0 ^ exponent
      if value >= low * (1 - 1e-9) and value <= high * (1 + 1e-9) then
        local named = false
        for _, wanted in ipairs(factors) do
          named = named or wanted == factor
        end
        if named and exponent % every == 0 then
          list[#list + 1] = { value, shown_log(value, exponents) }
        elseif every == 1 or factor == 1 then
          minor[#minor + 1] = value
        end
      end
    end
  end
  return low, high, list, 0, minor
end

local function given(axis)
  local list, decimals = {}, 0
  for _, value in ipairs(axis.ticks) do
    decimals = math.max(decimals, decimals_of(math.abs(value)))
  end
  for _, value in ipairs(axis.ticks) do
    if value >= axis.low and value <= axis.high then
      list[#list + 1] = { value, ticks.number(value, decimals) }
    end
  end
  return list
end

-- axis: { low, high, log, unit, label, fixed_low, fixed_high, snap, ticks, categories, most = it ends there at the
-- latest, whole = no ticks between whole numbers }
-- Gives a new table with round limits, `ticks` = list of { value, words }, `minor`, `title`, and
-- at(value) = place along the axis, 0 to 1.
function ticks.axis(axis, count)
  local result = { log = axis.log, categories = axis.categories, minor = {} }
  local power = 0
  if axis.categories then
    result.low, result.high, result.ticks = 0.4, #axis.categories + 0.6, {}
    for i, name in ipairs(axis.categories) do
      result.ticks[i] = { i, name }
    end
  elseif axis.log then
    result.low, result.high, result.ticks, power, result.minor = logarithmic(axis, count)
  else
    result.low, result.high, result.ticks, power = linear(axis, count, axis.unit)
  end
  if axis.ticks and not axis.categories then
    result.ticks, power, result.minor = given(axis), 0, {}
  end
  local unit = text.unit(axis.unit)
  local factor = power ~= 0 and "10" .. text.superscript(power) or ""
  local both = factor ~= "" and unit ~= "" and factor .. " " .. unit or factor .. unit
  result.title = (axis.label or "") .. (both ~= "" and (axis.label and " (" or "(") .. both .. ")" or "")
  local low, high = result.low, result.high
  if axis.log then
    low, high = log10(low), log10(high)
  end
  function result.at(value)
    return ((axis.log and log10(value) or value) - low) / (high - low)
  end
  return result
end

return ticks
