-- Conditions from the command line: --at NAME=VALUE, --over NAME=LOW..HIGH, --change NAME=VALUE.
-- A unit is needed wherever the quantity has one. A bare fraction from 0 to 1 is taken as it stands and
-- echoed in percent.

local catalogue = require "command.catalogue"
local core = require "hairfibre.core"
local exit = require "command.exit"
local show = require "hairfibre.show"
local units = require "hairfibre.units"

local at = {}

-- What a value looks like, for messages.
local examples = { temperature = "200degC", surface_temperature = "80degC", air_temperature = "20degC",
  film_temperature = "60degC", humidity = "65%", regain = "30%", from_regain = "12%", pressure = "95kPa",
  altitude = "500m", diameter = "70um", duration = "30s", speed = "2m/s", ph = "5.5",
  heating_rate = "10K/min", concentration = "500mol/m3" }

local function example(argument)
  if argument.kind == "choice" then
    return argument.name .. "=" .. argument.choices[1]
  elseif examples[argument.name] then
    return argument.name .. "=" .. examples[argument.name]
  end
  local middle = (argument.valid_low + argument.valid_high) / 2
  local shown = math.abs(middle) < math.huge and at.short(middle, argument) or "1"
  return argument.name .. "=" .. shown:gsub(" ", "")
end

-- "NAME=VALUE" to name, value
local function split(word, option)
  local name, value = word:match("^%s*([%w_.%-]+)%s*=%s*(.-)%s*$")
  if not name or value == "" then
    exit.fail("usage", '%s needs NAME=VALUE, such as temperature=200degC, not "%s"', option, word)
  end
  return name, value
end

at.split = split

-- True for a list of plain numbers without any unit.
local function is_bare(value)
  for part in (value .. ","):gmatch("([^,]*),") do
    if not core.number(part) then
      return false
    end
  end
  return true
end

-- A bare fraction between 0 and 1; anything else goes to the units, which know what to say.
local function bare_fraction(value, argument)
  if argument.kind ~= "fraction" then
    return nil
  end
  local x = core.number(value)
  return x and x >= 0 and x <= 1 and x or nil
end

local function refuse_what_is_no_number(value, argument)
  local word = value:lower():gsub("^[+-]", "")
  if word:find("^nan") or word:find("^inf") then
    exit.fail("usage", '%s needs a finite number, not "%s"', argument.name, value)
  end
end

local function one(value, argument)
  if argument.kind ~= "choice" then
    refuse_what_is_no_number(value, argument)
    if value:find("..", 1, true) then
      exit.fail("usage", "%s takes one value here; a range goes with: hairfibre curve --over %s=%s",
        argument.name, argument.name, value)
    elseif value:find(",", 1, true) and (not is_bare(value) or value:find(",.*,")) then
      exit.fail("usage", "%s takes one value here, with a point before its decimals; a list goes with: "
        .. "hairfibre curve --at %s=%s", argument.name, argument.name, value)
    end
  end
  local x, message = bare_fraction(value, argument), nil
  if not x then
    x, message = units.value(value, argument)
  end
  if not x then
    exit.fail("usage", "%s", message)
  end
  return x
end

-- "0,3" may be a decimal comma or a list of two.
local function refuse_two_readings(value, argument)
  local first, second, unit = value:match("^([+-]?%d+),(%d+)%s*([^%d%s,.]*)$")
  if not first then
    return
  end
  local pure = argument.kind == "number" and argument.unit == "1"
  local ends = pure and ".0" or unit ~= "" and unit or argument.kind == "fraction" and "%" or ""
  exit.fail("usage", '%s: "%s" may be one number or two: write %s.%s%s or %s%s,%s%s', argument.name, value,
    first, second, pure and "" or ends, first, ends, second, ends)
end

local function many(value, argument)
  if argument.kind ~= "choice" then
    if value:find("..", 1, true) then
      exit.fail("usage", "%s: a range goes with --over %s=%s; --at takes one value or a list a,b,c",
        argument.name, argument.name, value)
    end
    refuse_two_readings(value, argument)
    for part in (value .. ","):gmatch("([^,]*),") do
      refuse_what_is_no_number(part:match("^%s*(.*)$"), argument)
    end
  end
  if argument.kind == "fraction" and is_bare(value) then
    local list = {}
    for part in (value .. ","):gmatch("([^,]*),") do
      list[#list + 1] = bare_fraction(part, argument)
    end
    local _, commas = value:gsub(",", "")
    if #list == commas + 1 then
      return list
    end
  end
  local list, message = units.parse_list(value, argument)
  if not list then
    exit.fail("usage", "%s", message)
  end
  return list
end

--- Reads the --at options of a quantity. `options.lists`: an argument may have several values;
--- `options.except`: position of the argument that --over gives.
--- Result: list by position of a number, a list of numbers (two or more), or nil (usual value).
function at.conditions(quantity, words, options)
  options = options or {}
  local values = {}
  for _, word in ipairs(words) do
    local name, value = split(word, "--at")
    local position, argument = catalogue.argument(quantity, name)
    if values[position] ~= nil or position == options.except then
      exit.fail("usage", "%s is given twice", argument.name)
    end
    if options.lists then
      local list = many(value, argument)
      values[position] = #list == 1 and list[1] or list
    else
      values[position] = one(value, argument)
    end
  end
  local missing = {}
  for position, argument in ipairs(quantity.arguments) do
    if values[position] == nil and argument.usual == nil and position ~= options.except then
      missing[#missing + 1] = argument
    end
  end
  if #missing > 0 then
    local named, tries = {}, {}
    for i, argument in ipairs(missing) do
      named[i] = ("%s (%s)"):format(argument.name, argument.text)
      tries[i] = "--at " .. example(argument)
    end
    exit.fail("usage", "%s needs %s; for example %s", quantity.name,
      require("hairfibre.suggest").list(named, "and"), table.concat(tries, " "))
  end
  return values
end

--- Reads --over NAME=LOW..HIGH: position, descriptor, low, high (SI).
function at.range(quantity, word)
  local name, value = split(word, "--over")
  local position, argument = catalogue.argument(quantity, name)
  if argument.kind == "choice" then
    exit.fail("usage", "%s is a choice of words; a curve runs over a number", name)
  end
  local first, last = value:match("^(.-)%.%.(.*)$")
  if first then
    refuse_what_is_no_number(first, argument)
    refuse_what_is_no_number(last, argument)
  end
  local low, high = first and bare_fraction(first, argument), last and bare_fraction(last, argument)
  if low and high and low < high then
    return position, argument, low, high
  end
  if first and core.number(first) and core.number(last) and (argument.unit ~= "1" or argument.kind ~= "number") then
    local write = argument.kind == "temperature" and ("%sdegC or %sdegF"):format(value, value)
      or value .. (argument.kind == "fraction" and "%" or " " .. argument.unit)
    exit.fail("usage", '%s: "%s" has no unit: write %s', argument.name, value, write)
  end
  local from, to = units.parse_range(value, argument)
  if not from then
    exit.fail("usage", "%s", to)
  end
  return position, argument, from, to
end

--- Applies --change NAME=VALUE to a set of parameters.
function at.change(set, words)
  local rows, names = {}, {}
  for i, row in ipairs(core.rows(set)) do
    rows[row.name], names[i] = row, row.name
  end
  for _, word in ipairs(words) do
    local name, value = split(word, "--change")
    local row = rows[name]
    if not row then
      exit.fail("usage", 'there is no parameter "%s"%s', name,
        catalogue.hint(name, names, " (hairfibre parameters lists them)"))
    end
    local pure = row.unit == "1" or row.unit == "kg/kg"
    local wanted = { name = name, unit = row.unit,
      kind = pure and "fraction" or row.unit == "K" and "temperature" or "number" }
    refuse_what_is_no_number(value, wanted)
    local x, message = pure and core.number(value), nil
    if not x then
      x, message = units.value(value, wanted)
    end
    if not x then
      exit.fail("usage", "%s", message)
    end
    local done, why, code = set:set(name, x)
    if not done then
      exit.fail_with_status(code, why)
    end
  end
end

--- Short text of a value: temperatures in degC alone.
function at.short(x, argument)
  return (show.value(x, argument, { ascii = true }):gsub(" %(.*", ""))
end

--- Text of a range of an argument; `which` is "valid" (evidence) or "domain".
function at.span(argument, which)
  local low, high = argument[which .. "_low"], argument[which .. "_high"]
  if low == -math.huge and high == math.huge then
    return "any value"
  elseif high == math.huge then
    return at.short(low, argument) .. " or more"
  elseif low == -math.huge then
    return at.short(high, argument) .. " or less"
  end
  return at.short(low, argument) .. " to " .. at.short(high, argument)
end

--- Text of a condition: temperatures in both degrees and kelvin, fractions in percent and plain.
function at.shown(x, argument)
  local s = show.value(x, argument, { ascii = true })
  if argument.kind == "temperature" then
    return s:gsub("%)$", ", " .. core.text(x, 7) .. " K)")
  elseif argument.kind == "fraction" then
    local basis = argument.name:find("regain") and " kg water per kg dry fibre" or ""
    return ("%s (%s%s)"):format(s, core.text(x, 7), basis)
  end
  return s
end

return at
