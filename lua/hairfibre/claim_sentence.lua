-- A sentence fit to print and a caption-length one. Both always carry the basis of the figure and the
-- conditions, and which hair.

local conditions = require "hairfibre.claim_conditions"
local show = require "hairfibre.show"
local suggest = require "hairfibre.suggest"

local sentence = {}

-- A number with as few digits as keep it apart from the ends of its range, two at least.
local function digits_for(low, high)
  local size = math.max(math.abs(low), math.abs(high))
  local width = high - low
  if width <= 0 or size == 0 then
    return 4
  end
  return math.max(2, math.min(6, math.ceil(math.log(size / width, 10)) + 2))
end

-- Rounds before the decimal point too: 46362 with 3 digits is 46400.
local function rounded(x, digits)
  if x == 0 or x ~= x or math.abs(x) == math.huge then
    return x
  end
  local step = 10.0 ^ (math.floor(math.log(math.abs(x), 10)) + 1 - digits)
  return step > 1 and math.floor(x / step + 0.5) * step or x
end

-- Text of one figure or of a range in one unit.
local function figures(what, list, digits)
  local display = show.display(what, list)
  local texts = {}
  for i, x in ipairs(list) do
    local shown = show.apply(display, x)
    texts[i] = what.kind == "temperature" and ("%.0f"):format(shown) or show.number(rounded(shown, digits), digits)
  end
  local unit = display.unit == "" and "" or " " .. display.unit
  if what.kind == "choice" then
    return show.value(list[1], what)
  end
  return #list == 1 and texts[1] .. unit or texts[1] == texts[2] and texts[1] .. unit
    or ("%s to %s%s"):format(texts[1], texts[2], unit)
end

--- "31 % (27 to 37 %)".
function sentence.answer(what, value, low, high)
  if low == high then
    return figures(what, { value }, 4)
  end
  local digits = digits_for(low, high)
  local one, two = figures(what, { value }, digits), figures(what, { low, high }, digits)
  return one == two and one or ("%s (%s)"):format(one, two)
end

--- "0 to 36 %".
function sentence.range(what, low, high)
  if low == -math.huge or high == math.huge then
    return low > -math.huge and "at least " .. figures(what, { low }, 3) or "at most " .. figures(what, { high }, 3)
  end
  return figures(what, { low, high }, 3)
end

-- Water alone is the same in every hair.
local function hair_of(r, use_middle)
  if r.subject.room == "water" then
    return nil
  end
  local of_set = r.of_set
  if of_set.value or use_middle then
    return conditions.hair(of_set.value or of_set.middle)
  end
  local words = {}
  for i, set in ipairs(of_set.choices) do
    words[i] = tostring(set)
  end
  return suggest.list(words, "and") .. " hair"
end

-- "temperature 20 °C", "on absorption": what is stated; the spans and the names of what is open.
local function stated(r, use_middle)
  local parts, spans, names = {}, {}, {}
  for _, c in ipairs(r.list) do
    if c.state == "given" then
      parts[#parts + 1] = conditions.phrase(c, c.value)
    elseif use_middle then
      parts[#parts + 1] = conditions.phrase(c, c.middle)
    elseif c ~= r.along then
      spans[#spans + 1] = conditions.span(c)
      names[#names + 1] = show.words(c.name)
    end
  end
  return parts, spans, names
end

-- A state in words: what was open in it.
local function state_of(r, point)
  local parts = {}
  for _, c in ipairs(r.list) do
    if c.state ~= "given" then
      parts[#parts + 1] = conditions.phrase(c, point.values[c.position])
    end
  end
  if r.of_set.state ~= "given" then
    parts[#parts + 1] = conditions.hair(point.set)
  end
  return parts
end

-- Where a conditional claim holds: the strongest limit, or a state in which it is met.
local function where_it_holds(r)
  local first = r.holds[1]
  local parts = {}
  if first then
    parts[1] = conditions.span(first.condition, first.low, first.high, first.choices)
  elseif r.witness then
    parts = state_of(r, r.witness)
    if #parts > 0 then
      parts[1] = "states such as " .. parts[1]
    end
  end
  if r.basis_matters then
    parts[#parts + 1] = r.basis_matters .. " basis"
  end
  return suggest.list(parts, "and") .. (#r.holds > 1 and ", and other conditions limit it too" or "")
end
sentence.where_it_holds = where_it_holds

-- What the verdict says about the claim itself, as the end of the sentence.
local function judgement(r)
  local claim = ('"%s"'):format(r.says)
  if r.why == "extrapolated" then
    return ("%s cannot be checked there, beyond what evidence supports"):format(claim)
  elseif r.why == "not reached" then
    return ("%s holds as a ceiling that is not reached"):format(claim)
  elseif r.why == "passed" then
    return ("%s is passed in some of these states"):format(claim)
  elseif r.why == "unsure" then
    return ("the direction %s cannot be told from the spread of the model"):format(claim)
  elseif r.witness and r.verdict == "supported" and #state_of(r, r.witness) > 0 then
    return ("%s is reached in states such as %s"):format(claim, table.concat(state_of(r, r.witness), ", "))
  elseif r.verdict == "supported" then
    return ("%s agrees with this"):format(claim)
  elseif r.verdict == "conditional" then
    local where = where_it_holds(r)
    return ("%s holds only %s"):format(claim, where ~= "" and "for " .. where or "in some of these states")
  elseif r.verdict == "doubtful" then
    return ("%s lies outside this and inside the spread of other sources"):format(claim)
  end
  return ("%s does not agree with this"):format(claim)
end

-- pH keeps its small letter.
local function capital(text)
  return text:find("^%l%l") and (text:gsub("^%l", string.upper)) or text
end

-- Direction: what the answer does along the condition.
local function direction_text(r)
  local parts = {}
  for _, step in ipairs(r.steps) do
    local last = parts[#parts]
    if step.sign then
      if last and last.sign == step.sign then
        last.high = step[2]
      else
        parts[#parts + 1] = { sign = step.sign, low = step[1], high = step[2] }
      end
    end
  end
  local words = { rises = "rises", falls = "falls", stays = "stays the same", unsure = "changes less than its own spread" }
  local texts = {}
  for i, part in ipairs(parts) do
    texts[i] = words[part.sign] .. " over " .. conditions.span(r.along, part.low, part.high)
  end
  return suggest.list(texts, "and")
end

-- "at A, B; over C and D", never empty; with `names` for the open conditions when they are many.
local function state_text(parts, spans, names)
  local at = #parts > 0 and "at " .. table.concat(parts, ", ") or ""
  local over = #spans > 0 and "over " .. suggest.list(spans, "and") or ""
  if names and #spans > 1 then
    over = "whatever the " .. suggest.list(names, "and")
  end
  if at == "" and over == "" then
    return "at any condition"
  end
  return at .. (at ~= "" and over ~= "" and "; " or "") .. over
end

-- What the model answers: "about 31 % (27 to 37 %)", "between 0 and 36 %", "falls over ...".
local function answer_text(r)
  if r.along then
    return direction_text(r)
  elseif r.value then
    return "about " .. sentence.answer(r.subject, r.value, r.low, r.high)
  end
  return "between " .. (sentence.range(r.subject, r.span.low, r.span.high):gsub(" to ", " and "))
end

-- " (basis)", or nothing where the basis only repeats what was said.
local function bracket(s, short)
  return s.basis == s.text and "" or (" (%s)"):format(short and s.basis:match("^[^:]+") or s.basis)
end

--- Sets r.sentence and r.caption.
function sentence.write(r)
  local s = r.subject
  local parts, spans, names = stated(r, not r.along and r.value ~= nil)
  local answer = answer_text(r)
  local hair = hair_of(r, r.value ~= nil)
  local of = hair and " in " .. hair or ""
  local name = capital((s.measure or s.basis == s.text) and s.text or show.words(s.name))
  local long, short = state_text(parts, spans), state_text(parts, spans, names)
  local colon = r.along and "" or ":"
  if r.along and #parts + #spans == 0 then
    long, short = "", "" -- the span that the answer follows is all there is
  else
    long, short = ", " .. long, ", " .. short
  end
  r.sentence = ("%s%s%s %s%s%s; %s."):format(capital(s.text), bracket(s), colon, answer, of, long, judgement(r))
  r.caption = ("%s%s%s %s%s%s."):format(name, bracket(s, true), colon, answer, of, short)
end

--- The same where there is no model.
function sentence.no_model(r)
  local s = r.subject
  local known = s.leaves_out:match("^(.-[%a%d%)]%.)%s") or s.leaves_out
  local state = #r.stated > 0 and "at " .. table.concat(r.stated, ", ") or "at any condition"
  r.sentence = ('%s%s, %s: no validated model gives it, so "%s" can be neither supported nor refuted here. %s'):format(
    capital(s.text), bracket(s), state, r.says, known)
  r.caption = ("%s%s, %s: no validated model."):format(capital(s.text), bracket(s), state)
end

return sentence
