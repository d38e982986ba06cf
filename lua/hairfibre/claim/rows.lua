-- Published rows as evidence for and against a claim: the literature rows that the library carries, for the
-- same quantity near the stated conditions. A row at slightly other conditions is carried over along the
-- model: by the ratio of the model's answers, for temperatures by their difference.

local core = require "hairfibre.core"
local figures = require "hairfibre.claim.figures"
local quantity = require "hairfibre.quantity"
local reference = require "hairfibre.reference"
local show = require "hairfibre.show"
local words = require "hairfibre.claim.words"

local rows = {}

-- A row counts as near within this part of the evidence range of a condition.
local NEAR = 0.1

local loaded

-- Rows of all data files, by quantity.
local function of_quantity(name)
  if not loaded then
    local all = {} -- kept only when complete: memory may run out on the way
    for _, module in ipairs(core.embedded()) do
      local file = module:match("^data%.(.+)$")
      for _, row in ipairs(file and reference.load(core.embedded(module), file .. ".lua") or {}) do
        all[row.quantity] = all[row.quantity] or {}
        table.insert(all[row.quantity], row)
      end
    end
    loaded = all
  end
  return loaded[name] or {}
end

local ranks

--- Place of a grade, 1 the strongest.
function rows.rank(word)
  if not ranks then
    local list = {}
    for i, grade in ipairs(core.known()) do
      list[grade.word] = i
    end
    ranks = list
  end
  return ranks[word] or #core.known() + 1
end

-- Distance of a row from the conditions in parts of the evidence ranges; nil when it is another state.
local function distance(row, list)
  local sum = 0
  for _, c in ipairs(list) do
    local x = row.named[c.name] or c.argument.usual
    if x == nil then
      return nil
    elseif c.argument.kind == "choice" then
      local fits = c.state == "given" and x == c.value
      for _, choice in ipairs(c.choices or {}) do
        fits = fits or choice == x
      end
      if not fits then
        return nil
      end
    else
      local low, high = c.value or c.low, c.value or c.high
      local off = math.max(low - x, x - high, 0)
      local width = c.argument.valid_high - c.argument.valid_low
      if width == math.huge or width ~= width then
        width = math.max(math.abs(low), math.abs(high))
      end
      if off > 0 and off > NEAR * width then
        return nil
      end
      sum = sum + (width > 0 and off / width or 0)
    end
  end
  return sum
end

-- Range of a row at the stated conditions, and true when it was carried over; nil when the model has no answer
-- to carry it with.
local function carried(row, subject, list)
  local own, here, moved = {}, {}, false
  for i, c in ipairs(list) do
    local x = row.named[c.name] or c.argument.usual
    own[i], here[i] = x, x
    if c.state == "given" and c.value ~= x then
      here[i], moved = c.value, true
    end
  end
  if not moved then
    return row.low, row.high
  end
  local first, second = subject.value(own, row.set), subject.value(here, row.set)
  if not first or not second then
    return nil
  elseif subject.kind == "temperature" then
    return row.low + second - first, row.high + second - first, true
  elseif first == 0 then
    return nil
  end
  local ratio = second / first
  return math.min(row.low * ratio, row.high * ratio), math.max(row.low * ratio, row.high * ratio), true
end

local function state_text(row, subject)
  local parts = {}
  for _, argument in ipairs(subject.arguments) do
    local x = row.named[argument.name]
    if x then
      parts[#parts + 1] = show.words(argument.name) .. " " .. words.short(x, argument)
    end
  end
  if row.set ~= "virgin" then
    parts[#parts + 1] = row.set
  end
  return table.concat(parts, ", ")
end

-- A printed ratio of two states as the change that a comparison is about.
local CHANGES = {
  drop = function(low, high) return 1 - high, 1 - low end,
  rise = function(low, high) return low - 1, high - 1 end,
  ratio = function(low, high) return low, high end,
  part = function(low, high) return 1 / high, 1 / low end,
}

-- A row that prints the ratio of two states, for a comparison of the same two states.
local function of_comparison(row, subject, list)
  if row.second_is ~= "ratio to" then
    return nil
  end
  local off = distance(row, list)
  for i, argument in ipairs(subject.arguments) do
    local x = subject.than[i]
    local second = row.second[argument.name]
    if x and (second == nil or math.abs(second - x) > NEAR / 2 * (argument.valid_high - argument.valid_low)) then
      return nil
    end
  end
  if off then
    local low, high = CHANGES[subject.measure](row.low, row.high)
    return low, high, off
  end
end

--- Rows near the conditions as rivals { key =, place =, known =, low =, high =, text =, rank =, distance = },
--- the strongest first: published before second-hand before memory, then checks before calibration, then
--- the nearest.
function rows.near(subject, list, of_set)
  local found = {}
  if not subject.quantity then
    return found
  end
  local sets = {}
  for _, set in ipairs(of_set.choices or { of_set.value }) do
    sets[type(set) == "string" and set or set:name()] = true
  end
  for _, row in ipairs(of_quantity(subject.quantity.name)) do
    if sets[row.set] and not row.fails and rows.rank(row.known) < rows.rank("assumed") then
      local low, high, off, moved
      if subject.measure then
        low, high, off = of_comparison(row, subject, list)
      elseif not row.second then
        off = distance(row, list)
        if off then
          low, high, moved = carried(row, subject, list)
        end
      end
      if low then
        local at = subject.measure and row.arguments or state_text(row, subject)
        local here = moved and (", which makes %s here"):format(figures.range(subject, low, high)) or ""
        found[#found + 1] = { key = row.source, place = row.place, known = row.known, low = low, high = high,
          text = ("%s%s%s%s"):format(row.expected, at ~= "" and " at " or "", at, here), rank = rows.rank(row.known),
          distance = off, role = row.role, order = #found }
      end
    end
  end
  rows.sort(found)
  return found
end

--- Rival models of a quantity in one state, in the same form: other laws, other laboratories, the other branch.
--- Each is given the spread of the model itself.
function rows.models(subject, values, set)
  local found = {}
  if not subject.quantity or subject.measure then
    return found
  end
  local value, low, high = subject.range(values, set)
  for _, one in ipairs(value and core.rivals(subject.quantity.index, quantity.parameters(set), core.EXTRAPOLATE, values) or {}) do
    local known = quantity.find(one.quantity).known
    if one.value then
      local lower, upper = one.value + low - value, one.value + high - value
      if subject.kind ~= "temperature" and value ~= 0 then
        local ratio = one.value / value
        lower, upper = math.min(low * ratio, high * ratio), math.max(low * ratio, high * ratio)
      end
      found[#found + 1] = { key = one.source, place = "", known = known, low = lower, high = upper, text = one.text,
        rank = rows.rank(known), distance = 1, role = "check", order = 500 + #found }
    end
  end
  return found
end

--- Puts sources in order of strength.
function rows.sort(list)
  table.sort(list, function(a, b)
    if a.rank ~= b.rank then
      return a.rank < b.rank
    elseif a.role ~= b.role then
      return a.role ~= "calibration"
    elseif a.distance ~= b.distance then
      return a.distance < b.distance
    end
    return a.order < b.order
  end)
end

return rows
