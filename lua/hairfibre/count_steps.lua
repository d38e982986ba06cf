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

local ORDER = { "temperature", "temperature_end", "duration", "humidity", "humidity_end", "passes", "sides",
  "interval", "speed", "contact", "heat_transfer", "air_share", "film" }
local SHOWN = { temperature = KINDS[1][2], temperature_end = KINDS[1][2], duration = KINDS[2][2],
  interval = KINDS[2][2], humidity = KINDS[3][2], humidity_end = KINDS[3][2], air_share = KINDS[3][2],
  film = KINDS[3][2], speed = { unit = "m/s", kind = "number" }, passes = { unit = "1", kind = "number" },
  sides = { unit = "1", kind = "number" }, contact = { unit = "W/(m2 K)", kind = "number" },
  heat_transfer = { unit = "W/(m2 K)", kind = "number" } }
local BARE = { temperature = true, duration = true }

--- The steps in words, with both temperatures: "plates 200 degC (392 degF) 1 s". options: ascii.
function steps.words(list, options)
  local parts = {}
  for i, one in ipairs(list) do
    local part = { one.word }
    for _, name in ipairs(ORDER) do
      if one.given[name] then
        local x = units.value(one.given[name], SHOWN[name])
        local shown = show.value(x, SHOWN[name], options)
        part[#part + 1] = BARE[name] and shown or show.words(name) .. " " .. shown
      end
    end
    parts[i] = table.concat(part, " ")
  end
  return table.concat(parts, "; ")
end

--- Whether the treatment is hot, for the line of caution.
function steps.hot(list)
  for _, one in ipairs(list) do
    if one.word == "plates" or one.word == "dryer" or one.word == "steam" then
      return true
    end
  end
  return false
end

return steps
