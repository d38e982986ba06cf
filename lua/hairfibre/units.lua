-- Units at the edge: text with a unit to SI and back. UDUNITS-2 knows the units; this file knows how
-- people write temperatures, percent and differences.
--
-- `what` describes the number that is wanted: { name =, unit =, kind =, choices = }, as the
-- arguments of a quantity's descriptor do. kind: number, temperature, temperature difference,
-- fraction, choice. All parse functions return a value, or nil and a sentence.

local core = require "hairfibre.core"
local suggest = require "hairfibre.suggest"

local units = {}

-- Spellings that UDUNITS-2 lacks or reads as something else (C is its coulomb, F its farad).
local temperatures = {
  K = "K", kelvin = "K", C = "degC", degC = "degC", ["deg C"] = "degC", celsius = "degC", ["°C"] = "degC",
  ["ºC"] = "degC", ["° C"] = "degC", ["℃"] = "degC", F = "degF", degF = "degF", ["deg F"] = "degF",
  fahrenheit = "degF", ["°F"] = "degF", ["ºF"] = "degF", ["° F"] = "degF", ["℉"] = "degF",
}
-- Written out, since the difference of two large numbers would lose digits.
local scales = { K = { 1, 0 }, degC = { 1, 273.15 }, degF = { 5 / 9, 459.67 * 5 / 9 } }
local differences = { K = 1, kelvin = 1, deltaC = 1, deltaK = 1, deltaF = 5 / 9 }
local fractions = {
  ["%"] = 0.01, percent = 0.01, ["%RH"] = 0.01, ["% RH"] = 0.01, ["%rh"] = 0.01, ["% rh"] = 0.01,
}
-- What to write when a unit is missing or wrong.
local examples = {
  Pa = "kPa or bar", m = "um or mm", s = "s or min", kg = "mg or g", ["m/s"] = "m/s or km/h",
  ["K/s"] = "K/min or K/s", ["mol/m3"] = "mol/m3 or mol/L", ["J/kg"] = "J/g or kJ/kg", N = "mN or N",
}

local function named(what, ...)
  local message = string.format(...)
  return what.name and what.name .. ": " .. message or message
end

local function short(x)
  return core.text(x, 7)
end

-- ---- maps between units ---------------------------------------------------------------------------

local maps, known_maps = {}, 0

-- factor, offset with SI = factor * x + offset; or nil, word.
local function map(unit, target)
  local key = target .. "|" .. unit
  local found = maps[key]
  if not found then
    if unit:find("^%d") and not unit:find("^1/%a") or unit:find("%d%.%d") or unit:find("[@,;:%c\"]") or unit:find("^%s*$") then
      return nil, "unknown"
    end
    for word in unit:gmatch("%a+") do
      if word == "from" or word == "since" or word == "after" or word == "ref" or word == "re" then
        return nil, "unknown"
      end
    end
    local factor, offset = core.unit(unit, target)
    if not factor then
      return nil, offset
    end
    if known_maps >= 500 then
      maps, known_maps = {}, 0
    end
    found, known_maps = { factor, offset }, known_maps + 1
    maps[key] = found
  end
  return found[1], found[2]
end

--- Linear map of a unit for what is wanted: SI = factor * x + offset; or nil, sentence.
function units.map(unit, what)
  local kind, target = what.kind or "number", what.unit or "1"
  if kind == "temperature" then
    local scale = scales[temperatures[unit]]
    local factor, offset
    if scale then
      factor, offset = scale[1], scale[2]
    else
      factor, offset = map(unit, "K")
    end
    if not factor or (offset ~= 0 and not scale) then
      return nil, named(what, "\"%s\" is no unit of temperature: write degC, degF or K", unit)
    end
    return factor, offset
  elseif kind == "temperature difference" then
    local factor, offset = differences[unit], 0
    if not factor and temperatures[unit] then
      return nil, named(what, "this is a temperature difference, and %s is a temperature: write K, deltaC or deltaF",
        unit)
    elseif not factor then
      factor, offset = map(unit, "K")
    end
    if not factor or offset ~= 0 then
      return nil, named(what, "\"%s\" is no unit of a temperature difference: write K, deltaC or deltaF", unit)
    end
    return factor, 0
  elseif kind == "fraction" and fractions[unit] then
    return fractions[unit], 0
  end
  local factor, offset = map(target == "K/s" and unit:gsub("^([CF])/", "deg%1/") or unit, target)
  if factor and offset == 0 then
    return factor, 0
  elseif kind == "fraction" then
    return nil, named(what, "\"%s\" is no unit of a fraction: write %%", unit)
  elseif factor == nil and offset ~= "unknown" and offset ~= "mismatch" then
    return nil, offset
  end
  return nil, named(what, offset == "unknown" and "there is no unit \"%s\": this is measured in %s"
    or "%s is a unit of something else: this is measured in %s", unit, examples[target] or target)
end

--- True when a text is a unit of anything.
function units.known(unit)
  local factor, word = map(unit, "1")
  return factor ~= nil or word == "mismatch"
end

--- Conditions that are counted: there is nothing between their whole numbers.
units.WHOLE = { strands = true, broken = true, treatments = true }

-- ---- text with a unit -----------------------------------------------------------------------------

-- Signs that come with pasted text: minus, no-break and thin blanks.
local function plain(text)
  return (text:gsub("\u{2212}", "-"):gsub("\u{00A0}", " "):gsub("\u{202F}", " "):gsub("\u{2009}", " ")
    :match("^%s*(.-)%s*$"))
end

-- number, unit text ("" when there is none); or nil, sentence
local function split(text, what)
  local x, rest = core.number(text, true)
  if not x then
    return nil, named(what, "\"%s\" does not start with a number", text)
  elseif rest:find("^,%d") then
    return nil, named(what, "\"%s\" has a comma: write a point (%s.%s)", text, short(x), rest:match("^,(%d+)"))
  end
  local unit = rest:match("^%s*(.-)$")
  if unit:find("^[%d.,]") and not unit:find("^1/%a") then
    return nil, named(what, "\"%s\" is not one number: write its digits without blanks, commas or a second point",
      text)
  end
  return x, unit
end

-- The sentence for a number without its unit, with every reading of it.
local function no_unit(text, x, what)
  local kind = what.kind
  if kind == "temperature" then
    return named(what, "\"%s\" has no unit: %s degC is %s K, %s degF is %s K; write %sdegC or %sdegF", text, text,
      short(x + 273.15), text, short((x + 459.67) * 5 / 9), text, text)
  elseif kind == "temperature difference" then
    return named(what, "\"%s\" has no unit: %s deltaC is %s K, %s deltaF is %s K; write %sdeltaC or %sdeltaF",
      text, text, short(x), text, short(x * 5 / 9), text, text)
  elseif kind == "fraction" then
    return named(what, "\"%s\" has no unit: as a fraction it is %s %%, as percent it is %s %%; write %s%% or %s%%",
      text, short(100 * x), short(x), short(100 * x), short(x))
  end
  return named(what, "\"%s\" has no unit: write %s %s", text, text,
    (examples[what.unit] or what.unit):gsub(" or ", " or " .. text .. " "))
end

--- SI value of a text such as "200 degC", "65%RH", "70 um". A text without unit is refused unless the
--- quantity is a pure number.
function units.parse(text, what)
  text = plain(text)
  local x, unit = split(text, what)
  if not x then
    return nil, unit
  end
  local kind, target = what.kind or "number", what.unit or "1"
  if kind == "number" and target == "1" then
    if unit ~= "" then
      return nil, named(what, "this is a pure number: write %s, not \"%s\"", short(x), text)
    end
    return x
  elseif unit == "" then
    return nil, no_unit(text, x, what)
  end
  local factor, offset = units.map(unit, what)
  if not factor then
    return nil, offset
  end
  return factor * x + offset
end

--- Index of a word among the choices of an argument (the first is 0).
function units.choice(word, what)
  for i, choice in ipairs(what.choices) do
    if choice == word then
      return i - 1
    end
  end
  local near = suggest.nearest(word, what.choices)
  return nil, named(what, "\"%s\" is none of %s%s", word, suggest.list(what.choices, "and"),
    near and ("; did you mean \"%s\"?"):format(near) or "")
end

--- SI value of a number (SI already), a text with a unit, or a word of a choice.
function units.value(x, what)
  if type(x) == "number" then
    return x
  elseif type(x) ~= "string" then
    return nil, named(what, "must be a number or a text with a unit, not a %s", type(x))
  elseif what.kind == "choice" then
    return units.choice(x, what)
  end
  return units.parse(x, what)
end

-- ---- lists and ranges, for command lines ------------------------------------------------------------

-- "20" becomes "20degC" when the text after it carries the unit.
local function with_unit(text, unit)
  return core.number(text) and text .. " " .. unit or text
end

-- The unit at the end of a text, "" when there is none.
local function unit_of(text)
  local x, rest = core.number(text, true)
  return x and rest:match("^%s*(.-)%s*$") or ""
end

--- "10%,20%,30%" or "10,20,30 %" to a list of SI values; words for a choice.
function units.parse_list(text, what)
  text = plain(text)
  if text:find("^[+-]?%d+,%d+%s*[^%d%s,.]*$") and what.kind ~= "choice" then
    local unit = unit_of((text:gsub("^.*,", "")))
    return nil, named(what, "\"%s\" may be one number or two: write %s or %s", text, text:gsub(",", "."),
      (text:gsub(",", function()
      return unit .. ","
    end)))
  end
  local parts, values = {}, {}
  for part in (text .. ","):gmatch("([^,]*),") do
    parts[#parts + 1] = plain(part)
  end
  local unit = unit_of(parts[#parts])
  for i, part in ipairs(parts) do
    local x, message = units.value(what.kind ~= "choice" and with_unit(part, unit) or part, what)
    if not x then
      return nil, message
    end
    values[i] = x
  end
  return values
end

--- "20..230degC" to low, high, step; the step only when "by" gives it: "20..230degC by 10K".
function units.parse_range(text, what)
  text = plain(text)
  local first, last = text:match("^(.-)%.%.([^.].*)$")
  if not first or first:find("%.$") then
    return nil, named(what, "\"%s\" is no range: write it like 20..230degC", text)
  end
  local by
  if last:find("%s+by%s+") then
    last, by = last:match("^(.-)%s+by%s+(.+)$")
  end
  local low, wrong = units.value(with_unit(plain(first), unit_of(last)), what)
  if not low then
    return nil, wrong
  end
  local high, problem = units.value(last, what)
  if not high then
    return nil, problem
  elseif low >= high then
    return nil, named(what, "the range \"%s\" does not rise", text)
  elseif not by then
    return low, high
  end
  local difference = what.kind == "temperature" and "temperature difference" or what.kind
  local step, fault = units.value(by, { name = what.name, unit = what.unit, kind = difference })
  if not step then
    return nil, fault
  elseif step <= 0 or (high - low) / step > 1e6 then
    return nil, named(what, "the step \"%s\" does not fit the range", by)
  end
  return low, high, step
end

--- Values from low to high: `count` of them (at least 2), or in steps; the last is high itself when
--- the step meets it.
function units.spread(low, high, count, step)
  local values = {}
  if step then
    for i = 0, math.floor((high - low) / step + 1e-9) do
      values[i + 1] = low + i * step
    end
    return values
  end
  for i = 0, count - 1 do
    values[i + 1] = i == count - 1 and high or low + (high - low) * i / (count - 1)
  end
  return values
end

return units
