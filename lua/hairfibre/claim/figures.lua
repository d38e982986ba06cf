-- Figures of an answer in words: as many digits as their range bears, in the unit that the claim was made in.

local show = require "hairfibre.show"
local units = require "hairfibre.units"
local words = require "hairfibre.claim.words"

local figures = {}

-- As many digits as show a fifth of the range, two at least.
local function digits_for(low, high)
  local size, width = math.max(math.abs(low), math.abs(high)), high - low
  if width <= 0 or size == 0 then
    return 3
  end
  return math.max(2, math.min(6, math.floor(math.log(size, 10)) + 1 - math.floor(math.log(width / 5, 10))))
end

-- A number too small to matter beside another of the same range is 0.
local NOTHING = 1e-4

local function text_of(display, list, digits)
  local largest = 0
  for _, x in ipairs(list) do
    largest = math.max(largest, math.abs(x))
  end
  local texts = {}
  for i, x in ipairs(list) do
    local shown = math.abs(x) < NOTHING * largest and 0 or show.apply(display, x)
    texts[i] = show.number(words.rounded(shown, digits), digits)
  end
  local joined = #list == 1 and texts[1] or texts[1] == texts[2] and texts[1] or texts[1] .. " to " .. texts[2]
  return display.unit == "" and joined or joined .. " " .. display.unit
end

local function degrees(list, scale)
  local texts = {}
  for i, x in ipairs(list) do
    texts[i] = ("%.0f"):format(scale == "F" and x * 1.8 - 459.67 or x - 273.15):gsub("^-0$", "0")
  end
  return (#list == 1 or texts[1] == texts[2]) and texts[1] .. " °" .. scale
    or ("%s to %s °%s"):format(texts[1], texts[2], scale)
end

local function joined(what, list, digits)
  if what.kind == "choice" then
    return show.value(list[1], what)
  elseif what.kind == "temperature" then
    return degrees(list, "C") .. (what.fahrenheit and (" (%s)"):format(degrees(list, "F")) or "")
  end
  return text_of(what.display or show.display(what, list), list, digits)
end

--- "31 % (27 to 37 %)"; the second text is "27 to 37 %" alone, nil where the value has no range.
function figures.answer(what, value, low, high, label)
  if low == high then
    return joined(what, { value }, 3)
  end
  local digits = digits_for(low, high)
  local one, two = joined(what, { value }, digits), joined(what, { low, high }, digits)
  return one == two and one or ("%s (%s%s)"):format(one, label or "", two)
end

--- "0 to 36 %".
function figures.range(what, low, high)
  if low == -math.huge or high == math.huge then
    return low > -math.huge and "at least " .. joined(what, { low }, 3) or "at most " .. joined(what, { high }, 3)
  end
  return joined(what, { low, high }, digits_for(low, high))
end

--- Lets a subject show its figures in the unit that a claim was made in.
function figures.speak_as(self, given)
  local unit = given.unit_text
  if given.measure or not unit or unit == "" or self.kind == "fraction" or self.kind == "choice" then
    return
  elseif self.kind == "temperature" then
    self.fahrenheit = unit:find("[Ff]$") ~= nil or unit:find("℉", 1, true) ~= nil
    return
  end
  local factor, offset = units.map(unit, self)
  if factor and factor > 0 and (offset or 0) == 0 and self.kind == "number" then
    self.display = { unit = unit, factor = 1 / factor, offset = 0, divide = factor }
  end
end

return figures
