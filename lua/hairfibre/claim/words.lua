-- Conditions of a claim in words: "humidity 65 %", "on absorption", "regain 3 to 31 %", "virgin and bleached hair".

local show = require "hairfibre.show"
local suggest = require "hairfibre.suggest"

local words = {}

-- To `digits` significant digits, before the decimal point too: 107031 with 3 is 107000.
function words.rounded(x, digits)
  if x == 0 or x ~= x or math.abs(x) == math.huge then
    return x
  end
  local step = 10.0 ^ (math.floor(math.log(math.abs(x), 10)) + 1 - digits)
  return step > 1 and math.floor(x / step + 0.5) * step or x
end

--- Text of a value in one unit. options.digits: what was found by looking is as coarse as that.
function words.short(x, argument, options)
  local digits = options and options.digits
  if argument.unit == "m2" then
    return show.number(digits and words.rounded(x * 1e12, digits) or x * 1e12, digits) .. " µm²"
  elseif digits and argument.unit == "1" and argument.kind == "number" then
    x = words.rounded(x, digits)
  end
  return (show.value(x, argument, options):gsub(" %(.*", ""))
end

local COARSE = { digits = 2, decimals = 0 }
local NAMES = { from_regain = "starting regain" }

-- How a sentence takes the choices of a condition; an entry of the book may bring its own.
local PHRASES = { branch = "on *", direction = "on *", state = "* fibre", spray = "with a spray of *", type = "of * type", hair = "in * hair",
  group = "of group *", law = "by the law \"*\"" }
local HAIR = { virgin = "virgin hair", bleached = "bleached hair", wool = "wool" }

local function name_of(c)
  return NAMES[c.name] or show.words(c.name)
end

--- Text of a set as hair.
function words.hair(set)
  if type(set) ~= "string" then
    return ("hair of the set %s%s"):format(set:name(), #set:changed() > 0 and ", changed" or "")
  end
  return HAIR[set] or set
end

local function hairs(sets)
  local list = {}
  for i, set in ipairs(sets) do
    list[i] = #sets == 1 and words.hair(set) or tostring(set)
  end
  return suggest.list(list, "and") .. (#sets > 1 and " hair" or "")
end

-- Choices in the form that a sentence takes: "on absorption or desorption", or as the book has it.
local function chosen(c, choices)
  local list = {}
  for i, x in ipairs(choices) do
    list[i] = c.argument.choices[x + 1]
  end
  local text = suggest.list(list)
  local phrase = words.form(c)
  return phrase and (phrase:gsub("%*", (text:gsub("%%", "%%%%")))) or name_of(c) .. " " .. text
end

--- The phrase of a choice that has its own preposition; nil for "humidity 65 %".
function words.form(c)
  return c.argument and c.argument.kind == "choice" and (c.argument.phrase or PHRASES[c.name]) or nil
end

--- Text of a value of a condition: "humidity 65 %", "on absorption", "regain 31 % (dry basis)".
function words.phrase(c, x)
  if c.name == "set" then
    return words.hair(x)
  elseif c.argument.kind == "choice" then
    return chosen(c, { x })
  end
  local text = words.short(x, c.argument)
  if c.name == "from_regain" then
    return x == 0 and "starting bone dry" or ("starting from regain %s"):format(text)
  elseif c.name == "regain" then
    return ("regain %s (dry basis)"):format(text)
  end
  return name_of(c) .. " " .. text
end

--- Text of a span of a condition, or of some of its choices. `found`: the ends were found by looking.
function words.span(c, low, high, choices, found)
  if c.name == "set" then
    return hairs(choices or c.choices)
  elseif c.choices then
    return chosen(c, choices or c.choices)
  end
  -- An end that was found by looking is coarse; the end of what is open is not.
  local function text_of(x, limit)
    return words.short(x or limit, c.argument, found and x ~= limit and COARSE)
  end
  local from, to = text_of(low, c.low), text_of(high, c.high)
  if from == to then
    return name_of(c) .. " " .. to
  end
  local unit = to:match(" ([^%d ][^ ]*)$")
  if unit and from:sub(-#unit - 1) == " " .. unit then
    from = from:sub(1, -#unit - 2)
  end
  return ("%s %s to %s"):format(name_of(c), from, to)
end

--- Limits { condition =, low =, high =, choices = } of one condition as one text; with `preposition` it
--- follows "only": "for humidity 3 to 48 %", "on absorption".
function words.limits(list, preposition)
  local texts = {}
  for i, one in ipairs(list) do
    texts[i] = words.span(one.condition, one.low, one.high, one.choices, true)
    if i > 1 then
      texts[i] = texts[i]:sub(#name_of(one.condition) + 2)
    end
  end
  return (preposition and not words.form(list[1].condition) and "for " or "") .. suggest.list(texts)
end

--- Name of a condition for a table.
function words.name(c)
  return c.name == "set" and "hair" or c.name
end

return words
