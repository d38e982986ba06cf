-- Slips of unit or basis that would explain a figure: degC for degF, J for kJ, gf/um2 for MPa, wet for dry
-- mass, a fraction for percent. A slip is named only when the figure read that way is met where it was not.

local basis = require "hairfibre.claim.basis"
local core = require "hairfibre.core"
local says = require "hairfibre.claim.says"
local show = require "hairfibre.show"
local units = require "hairfibre.units"

local slip = {}

local FAHRENHEIT = { factor = 5 / 9, offset = 459.67 * 5 / 9 }
local GRAM_FORCE = 9806.65e6 -- Pa, exactly

-- Maps from the SI value as typed to the SI value as it may have been meant.
local TO_FAHRENHEIT = function(x) return (x - 273.15) * FAHRENHEIT.factor + FAHRENHEIT.offset end
local TO_CELSIUS = function(x) return (x - FAHRENHEIT.offset) / FAHRENHEIT.factor + 273.15 end

local function times(factor)
  return function(x) return x * factor end
end

-- Scale of a temperature text: "C" or "F", nil for kelvin.
local function scale(unit)
  return unit:find("[Ff]$") and "F" or unit:find("[CcK]") and not unit:find("^[Kk]") and "C" or unit:find("℉") and "F"
    or nil
end

-- Readings of a number typed with `unit`, for something measured like `what`: list of { words, map }.
local function readings(what, unit, number)
  local list = {}
  local function add(words, map)
    list[#list + 1] = { words = words, map = map }
  end
  if what.kind == "temperature" then
    if scale(unit) == "C" then
      add("degrees Fahrenheit, not Celsius", TO_FAHRENHEIT)
    elseif scale(unit) == "F" then
      add("degrees Celsius, not Fahrenheit", TO_CELSIUS)
    end
  elseif what.kind == "fraction" then
    if math.abs(number) <= 1 then
      add("a fraction written as percent", times(100))
    elseif math.abs(number) > 100 then
      add("percent taken for a fraction", times(0.01))
    end
  elseif unit:find("J", 1, true) then
    if unit:find("kJ", 1, true) then
      add("joule, not kilojoule", times(1e-3))
    else
      add("kilojoule, not joule", times(1e3))
    end
  elseif what.unit == "Pa" then
    local factor = units.map(unit, what)
    if unit:find("gf", 1, true) or unit:find("gram_force", 1, true) then
      add("MPa, not gram-force per square micrometre", times(1e6 / factor))
    elseif factor == 1e6 then
      add("gram-force per square micrometre (9806.65 MPa each), not MPa", times(GRAM_FORCE / 1e6))
    end
  end
  return list
end

-- The figure of a claim as it may have been meant, in words.
local function figure_text(claim, what)
  local function short(x)
    return (show.value(x, what):gsub(" %(.*", ""))
  end
  if claim.figure then
    return short(claim.figure)
  elseif claim.low > -math.huge and claim.high < math.huge then
    return short(claim.low) .. " to " .. short(claim.high)
  end
  return short(claim.low > -math.huge and claim.low or claim.high)
end

--- Slips of the figure: list of { words =, meant =, claim = }. `own_basis`: "dry", "wet" or nil, what the
--- quantity is by; `try(claim)` tells whether the reading is met.
function slip.of_figure(claim, own_basis, try)
  local found = {}
  if claim.form == "direction" or not claim.unit_text then
    return found
  end
  local list = readings(claim.what, claim.unit_text, claim.numbers[#claim.numbers])
  if own_basis and claim.basis then
    local meant = claim.basis == "dry" and "wet" or "dry"
    list[#list + 1] = { words = ("by %s mass, not by %s mass"):format(meant, claim.basis), basis = own_basis,
      map = meant == own_basis and times(1) or meant == "wet" and basis.dry_from_wet or basis.wet_from_dry }
  end
  for _, one in ipairs(list) do
    local other = says.mapped(claim, one.map)
    other.basis = one.basis or claim.basis
    if other.low == other.low and other.low < math.huge and try(other) then
      found[#found + 1] = { words = one.words, meant = figure_text(other, claim.what), claim = other }
    end
  end
  return found
end

--- Slips of a stated condition: `typed` maps names to the texts that were given; `try(name, value)` tells
--- whether the claim is met with another value of that condition.
function slip.of_conditions(list, typed, try)
  local found = {}
  for _, c in ipairs(list) do
    local text = typed[c.name]
    local number, unit
    if type(text) == "string" then
      number, unit = core.number(text, true)
      unit = unit and unit:match("^%s*(.-)%s*$")
    end
    if c.state == "given" and unit and unit ~= "" and (c.argument.kind == "temperature" or c.argument.kind == "fraction") then
      for _, one in ipairs(readings(c.argument, unit, number)) do
        local x = one.map(c.value)
        if x >= c.argument.domain_low and x <= c.argument.domain_high and try(c.name, x) then
          found[#found + 1] = { condition = c.name, words = one.words,
            meant = show.words(c.name) .. " " .. (show.value(x, c.argument):gsub(" %(.*", "")) }
        end
      end
    end
  end
  return found
end

return slip
