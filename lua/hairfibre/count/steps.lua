-- The steps of a treatment as one line of text: "soak 10 min; blot; plates 200 degC 1 s passes=3".
-- A value without a name is the temperature, the duration or the humidity, told apart by its unit.

local core = require "hairfibre.core"
local misuse = require "hairfibre.misuse"
local show = require "hairfibre.show"
local suggest = require "hairfibre.suggest"
local treatment = require "hairfibre.treatment"
local units = require "hairfibre.units"

local steps = {}

local KINDS = {
  { "temperature", { unit = "K", kind = "temperature" } },
  { "duration", { unit = "s", kind = "number" } },
  { "humidity", { unit = "1", kind = "fraction" } },
}

local function trim(s)
  return (s:match("^%s*(.-)%s*$"))
end

-- "200 degC 1 s passes = 3" -> "200degC", "1s", "passes=3"
local function tokens(text)
  local list = {}
  for word in text:gsub("%s*=%s*", "="):gmatch("%S+") do
    local last = list[#list]
    local wants_unit = last and last:find("[%d.]$") and not word:find("^[%d+-.]") and not word:find("=", 1, true)
    if wants_unit then
      list[#list] = last .. " " .. word
    else
      list[#list + 1] = word
    end
  end
  return list
end

local function name_of(value)
  for _, kind in ipairs(KINDS) do
    if units.parse(value, kind[2]) then
      return kind[1]
    end
  end
end

-- One step; or nil, sentence.
local function step(text)
  local word, rest = text:match("^(%a+)%s*(.*)$")
  local make = word and treatment[word]
  local known = false
  for _, name in ipairs(treatment.steps) do
    known = known or name == word
  end
  if not known then
    return nil, ("\"%s\" begins with no step%s"):format(text, suggest.hint(word or text, treatment.steps))
  end
  local given = {}
  for _, token in ipairs(tokens(rest)) do
    local name, value = token:match("^([%a_]+)=(.+)$")
    if not name then
      name, value = name_of(token), token
      if not name and core.number(token) then
        return nil, ("%s: %s"):format(word, select(2, units.parse(token, KINDS[1][2])))
      elseif not name then
        return nil, ("%s: \"%s\" is no temperature, duration or humidity with its unit, and no NAME=VALUE"):format(
          word, token)
      end
    end
    if given[name] then
      return nil, ("%s: %s is given twice"):format(word, name)
    end
    given[name] = value
  end
  local done, made = pcall(make, given)
  if not done then
    return nil, (tostring(made):gsub("^[^:]+:%d+: ", ""))
  end
  return { word = word, given = given, step = made }
end

--- List of { word, given, step } of a text; or nil, sentence.
function steps.parse(text)
  if type(text) ~= "string" then
    misuse("the treatment of a group must be a text such as \"soak 10 min; blot\", not a %s", type(text))
  end
  local list = {}
  for part in (text .. ";"):gmatch("([^;]*);") do
    part = trim(part)
    if part ~= "" then
      local one, message = step(part)
      if not one then
        return nil, message
      end
      list[#list + 1] = one
    end
  end
  if #list == 0 then
    return nil, ("\"%s\" holds no step (the steps are %s)"):format(trim(text), suggest.list(treatment.steps, "and"))
  end
  return list
end

--- The steps that hf.treat takes.
function steps.made(list)
  local made = {}
  for i, one in ipairs(list) do
    made[i] = one.step
  end
  return made
end

-- What can be shown with its unit; anything else is shown as it was typed.
local SHOWN = { temperature = KINDS[1][2], temperature_end = KINDS[1][2], duration = KINDS[2][2],
  interval = KINDS[2][2], humidity = KINDS[3][2], humidity_end = KINDS[3][2], air_share = KINDS[3][2],
  film = KINDS[3][2], peroxide = KINDS[3][2], speed = { unit = "m/s", kind = "number" },
  contact = { unit = "W/(m2 K)", kind = "number" }, heat_transfer = { unit = "W/(m2 K)", kind = "number" } }
local ORDER = { "temperature", "temperature_end", "duration", "passes", "humidity", "humidity_end" }
local BARE, WORDS = { temperature = true, duration = true }, { ph = "pH" }

local function in_order(given)
  local names, placed = {}, {}
  for _, name in ipairs(ORDER) do
    names[#names + 1], placed[name] = given[name] and name, true
  end
  for _, name in ipairs(suggest.sorted_keys(given)) do
    names[#names + 1] = not placed[name] and name or nil
  end
  return names
end

--- The steps in words, with both temperatures: "plates 200 degC (392 degF) 1 s". options: ascii.
function steps.words(list, options)
  local parts = {}
  for i, one in ipairs(list) do
    local part = { one.word }
    for _, name in ipairs(in_order(one.given)) do
      local x = SHOWN[name] and units.value(one.given[name], SHOWN[name])
      local shown = x and show.value(x, SHOWN[name], options) or tostring(one.given[name])
      part[#part + 1] = BARE[name] and shown or (WORDS[name] or name:gsub("_", " ")) .. " " .. shown
    end
    parts[i] = table.concat(part, " ")
  end
  return table.concat(parts, "; ")
end

local HEAT = { plates = true, dryer = true, steam = true }
local CHEMICAL = { bath = true, bleach = true, reduce = true, neutralise = true }
local SCALDS = 318.15 -- K; warmer than what skin bears for long

--- Marks for the line of caution, added to `marks`: { heat =, chemical = }.
function steps.mark(list, marks)
  for _, one in ipairs(list) do
    local t = one.given.temperature and units.value(one.given.temperature, KINDS[1][2]) or 0
    marks.heat = marks.heat or HEAT[one.word] or t > SCALDS
    marks.chemical = marks.chemical or CHEMICAL[one.word]
  end
  return marks
end

return steps
