-- What a claim says, from words to a set of values: "20 %", "15..20 %", "at least 150 degC", "up to 20 %",
-- "of the order of 3 %", "rises with humidity"; beside a second state also "30 % lower" and "3 times".
--
-- A printed figure stands for itself and half a unit of its last digit on both sides. `what` describes
-- the quantity as in units.lua.

local core = require "hairfibre.core"
local units = require "hairfibre.units"

local says = {}

-- Longer openings before shorter ones.
local OPENINGS = {
  { "of the order of ", "order" }, { "the order of ", "order" }, { "order of ", "order" },
  { "no more than ", "at most" }, { "not more than ", "at most" }, { "no less than ", "at least" },
  { "not less than ", "at least" }, { "more than ", "at least" }, { "less than ", "at most" },
  { "at least ", "at least" }, { "at most ", "at most" }, { "above ", "at least" }, { "over ", "at least" },
  { "below ", "at most" }, { "under ", "at most" }, { "up to ", "up to" }, { ">= ", "at least" }, { "<= ", "at most" },
  { ">=", "at least" }, { "<=", "at most" }, { ">", "at least" }, { "<", "at most" },
}
local FILLERS = { "about ", "around ", "roughly ", "some ", "nearly ", "~ ", "~", "= " }

local BASES = {
  { ",?%s*on%s+a?%s*dry%s+basis$", "dry" }, { ",?%s*on%s+a?%s*wet%s+basis$", "wet" },
  { ",?%s*dry%s+basis$", "dry" }, { ",?%s*wet%s+basis$", "wet" }, { ",?%s*by%s+dry%s+mass$", "dry" },
  { ",?%s*by%s+wet%s+mass$", "wet" }, { ",?%s*of%s+its%s+dry%s+mass$", "dry" }, { ",?%s*of%s+its%s+wet%s+mass$", "wet" },
}

local WAYS = {
  rises = "rises", grows = "rises", increases = "rises", falls = "falls", drops = "falls", shrinks = "falls",
  decreases = "falls",
}
local LOWER = { lower = true, less = true, weaker = true, smaller = true, shorter = true }
local HIGHER = { higher = true, more = true, stronger = true, larger = true, longer = true }

local EXAMPLES = 'write a figure ("20 %"), a range ("15..20 %"), a bound ("at least 20 %", "up to 20 %") or a '
  .. 'direction ("rises with humidity")'

local function trimmed(text)
  return text:match("^%s*(.-)%s*$")
end

-- Takes an opening off the text: rest, meaning.
local function opening(text)
  local lower = text:lower()
  for _, filler in ipairs(FILLERS) do
    if lower:sub(1, #filler) == filler then
      text = trimmed(text:sub(#filler + 1))
      lower = text:lower()
    end
  end
  for _, one in ipairs(OPENINGS) do
    if lower:sub(1, #one[1]) == one[1] then
      return trimmed(text:sub(#one[1] + 1)), one[2]
    end
  end
  return text, nil
end

-- Half a unit of the last printed digit, as a number in the unit that is written.
local function half_a_digit(text)
  local digits, exponent = text:match("^[+-]?([%d.]+)[eE]([+-]?%d+)")
  digits = digits or text:match("^[+-]?([%d.]+)") or ""
  local decimals = digits:match("%.(%d*)")
  return 0.5 * 10.0 ^ ((tonumber(exponent) or 0) - (decimals and #decimals or 0))
end

-- SI value and half a digit of a text; nil and a sentence otherwise.
local function figure(text, what)
  local x, message = units.value(text, what)
  if not x then
    return nil, message
  end
  if x ~= x or math.abs(x) == math.huge then
    return nil, "says: a finite number is needed"
  end
  local number, unit = core.number(text, true)
  unit = trimmed(unit or "")
  local factor = 1
  if number and unit ~= "" then
    factor = units.map(unit, what) or 1
  end
  return x, math.abs(factor) * half_a_digit(trimmed(text)), number, unit
end

-- "a..b", "a to b": the two texts, the unit of the second lent to the first.
local function ends(text)
  local first, last = text:match("^(.-)%s*%.%.%s*([^.].*)$")
  if not first then
    first, last = text:match("^(.-)%s+to%s+(.+)$")
  end
  if not first or first == "" then
    return nil
  end
  if core.number(first) then
    local _, unit = core.number(last, true)
    first = first .. " " .. trimmed(unit or "")
  end
  return trimmed(first), trimmed(last)
end

local function direction(text)
  local way, name = text:match("^(%a+)%s+with%s+([%w_ ]+)$")
  if way and WAYS[way:lower()] then
    return { form = "direction", way = WAYS[way:lower()], argument = trimmed(name):lower():gsub(" ", "_"), text = text }
  end
  name = text:match("^does not change with%s+([%w_ ]+)$") or text:match("^stays the same with%s+([%w_ ]+)$")
  return name and { form = "direction", way = "stays", argument = trimmed(name):lower():gsub(" ", "_"), text = text }
end

-- A change against a second state: the measure, what it is measured in, and the figure left.
local function change(text)
  local rest, word = text:match("^(.-)%s+(%a+)$")
  if word and LOWER[word] or HIGHER[word] then
    local times = rest:match("^(.-)%s+times$")
    if times then
      return LOWER[word] and "part" or "ratio", { name = "says", unit = "1", kind = "number" }, times
    end
    return LOWER[word] and "drop" or "rise", { name = "says", unit = "1", kind = "fraction" }, rest
  end
  local times = text:match("^(.-)%s+times$")
  if times then
    return "ratio", { name = "says", unit = "1", kind = "number" }, times
  end
end

local function bounds(claim, low, high)
  claim.low, claim.high = low, high
  return claim
end

local function read(claim, text, what)
  local first, last = ends(text)
  if first then
    local low, half = figure(first, what)
    if not low then
      return nil, half
    end
    local high, other, number, unit = figure(last, what)
    if not high then
      return nil, other
    elseif low >= high then
      return nil, ('says: "%s" does not rise'):format(text)
    elseif claim.form then
      return nil, ('says: "%s" is a range; a bound takes one figure'):format(claim.text)
    end
    claim.form, claim.numbers, claim.unit_text = "range", { core.number(first, true), number }, unit
    return bounds(claim, low - half, high + other)
  end
  local x, half, number, unit = figure(text, what)
  if not x then
    return nil, half
  end
  claim.figure, claim.half, claim.numbers, claim.unit_text = x, half, { number }, unit
  if claim.form == "at least" then
    return bounds(claim, x - half, math.huge)
  elseif claim.form == "at most" then
    return bounds(claim, -math.huge, x + half)
  elseif claim.form == "order" then
    if x <= 0 or what.kind == "temperature" then
      return nil, "says: an order of magnitude needs a figure above 0 that is no temperature"
    end
    return bounds(claim, x / math.sqrt(10), x * math.sqrt(10))
  end
  claim.form = claim.form or "figure"
  return bounds(claim, x - half, x + half)
end

--- Claim of a text: { form =, low =, high =, text = ... } in SI, or nil and a sentence. Forms: figure,
--- range, at least, at most, up to, order, direction. With `compared` the claim is about a change between
--- two states and carries `measure`: drop, rise, ratio or part (one over the ratio).
function says.parse(text, what, compared)
  if type(text) ~= "string" or trimmed(text) == "" then
    return nil, "says: " .. EXAMPLES
  end
  text = trimmed(text)
  local found = direction(text)
  if found then
    return not compared and found or nil, "says: a direction needs no second state"
  end
  local claim = { text = text }
  local rest = text
  for _, pattern in ipairs(BASES) do
    local start = rest:find(pattern[1])
    if start then
      rest, claim.basis = rest:sub(1, start - 1), pattern[2]
      break
    end
  end
  rest, claim.form = opening(rest)
  what = { name = "says", unit = what.unit, kind = what.kind, choices = what.choices }
  if compared then
    local measure, of, left = change(rest)
    if not measure then
      return nil, ('says: a comparison is written "30 %% lower", "30 %% higher" or "3 times", not "%s"'):format(text)
    end
    claim.measure, what, rest = measure, of, left
  end
  if not rest:find("^[+-]?%.?%d") and what.kind ~= "choice" then
    return nil, ('says: "%s" is not understood: %s'):format(text, EXAMPLES)
  end
  claim.what = what
  return read(claim, rest, what)
end

--- The same claim with its figures read in another way: `map` turns an SI value into another.
function says.mapped(claim, map)
  local other = {}
  for key, x in pairs(claim) do
    other[key] = x
  end
  for _, key in ipairs { "low", "high", "figure" } do
    local x = claim[key]
    if x and math.abs(x) < math.huge then
      other[key] = map(x)
    end
  end
  if other.figure then
    other.half = math.abs(other.high < math.huge and other.high - other.figure or other.figure - other.low)
  end
  return other
end

return says
