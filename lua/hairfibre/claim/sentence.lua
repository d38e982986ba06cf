-- A sentence fit to print and a caption-length one. Both always carry the basis of the figure, the
-- conditions, and which hair.

local figures = require "hairfibre.claim.figures"
local show = require "hairfibre.show"
local suggest = require "hairfibre.suggest"
local words = require "hairfibre.claim.words"

local sentence = {}

sentence.answer, sentence.range = figures.answer, figures.range

-- Which hair: nil for water, which is the same in every hair, and where a condition names the hair.
local OF_HAIR = { group = true, hair = true }

local function hair_of(r, use_middle)
  local s, of_set = r.subject, r.of_set
  if s.room == "water" then
    return nil
  elseif s.hair then
    return s.hair
  end
  for _, c in ipairs(r.list) do
    if OF_HAIR[c.name] then
      return nil
    end
  end
  if of_set.alike then
    return "hair"
  elseif of_set.value or use_middle then
    return words.hair(of_set.value or of_set.middle)
  end
  return words.span(of_set)
end

-- What is stated, what is open within limits, phrases with a preposition of their own (stated, open), and the
-- names of all that is open.
local function stated(r, use_middle)
  local t = { parts = {}, spans = {}, phrases = {}, choices = {}, names = {} }
  for _, c in ipairs(r.list) do
    if c.state == "given" or use_middle then
      local text = words.phrase(c, c.state == "given" and c.value or c.middle)
      table.insert((words.form(c) or text:find("^starting")) and t.phrases or t.parts, text)
    elseif c ~= r.along then
      table.insert(words.form(c) and t.choices or t.spans, words.span(c))
      t.names[#t.names + 1] = show.words(c.name)
    end
  end
  return t
end

-- A state in words: what was open in it.
local function state_of(r, point)
  local parts = {}
  for _, c in ipairs(r.list) do
    if c.state ~= "given" then
      local x = point.values[c.position]
      parts[#parts + 1] = (c.choices or x == 0) and words.phrase(c, x) or words.span(c, x, x, nil, true)
    end
  end
  if r.of_set.state ~= "given" then
    parts[#parts + 1] = words.hair(point.set)
  end
  return parts
end

-- Where a conditional claim holds: by which mass, and the strongest limit or a state in which it is met.
local function where_it_holds(r)
  local first = r.holds[1] and r.holds[1].condition
  local text, others = "", false
  if first then
    local own = {}
    for _, one in ipairs(r.holds) do
      own[#own + 1] = one.condition == first and one or nil
    end
    others = #own < #r.holds
    text = words.limits(own, true)
  elseif r.witness and not (r.basis_matters and r.basis_settles) then
    local parts = state_of(r, r.witness)
    text = #parts > 0 and "in states such as " .. table.concat(parts, ", ") or ""
  end
  if r.basis_matters then
    text = ("by %s mass%s"):format(r.basis_matters, text ~= "" and ", " .. text or "")
  end
  return text .. (others and "; other conditions shift that limit" or "")
end
sentence.where_it_holds = where_it_holds

local ENDS = { upper = ", at the upper end of the range", lower = ", at the lower end of the range" }

-- What the verdict says about the claim itself, as the end of the sentence.
local function judgement(r)
  local claim = ('"%s"'):format(r.says)
  local at_end = ENDS[r.at_end] or ""
  if r.why == "extrapolated" then
    return ("%s cannot be checked there, beyond what evidence supports"):format(claim)
  elseif r.why == "not reached" then
    return ("%s holds as a ceiling that is not reached"):format(claim)
  elseif r.why == "passed" then
    return ("%s is passed in some of these states"):format(claim)
  elseif r.why == "unsure" then
    return ("the direction %s cannot be told from the spread of the model"):format(claim)
  elseif r.witness and r.verdict == "supported" and #state_of(r, r.witness) > 0 then
    return ("%s is reached in states such as %s%s"):format(claim, table.concat(state_of(r, r.witness), ", "), at_end)
  elseif r.verdict == "supported" then
    return ("%s agrees with this%s"):format(claim, at_end)
  elseif r.verdict == "conditional" then
    local where = where_it_holds(r)
    return ("%s holds only %s%s"):format(claim, where ~= "" and where or "in some of these states", at_end)
  elseif r.verdict == "doubtful" then
    return ("%s lies outside this and inside the spread of other sources"):format(claim)
  end
  return ("%s does not agree with this"):format(claim)
end

local capital = show.capital

local MOVES = { rises = "rises", falls = "falls", stays = "stays the same", unsure = "changes less than its own spread" }

-- Direction: what the answer does along the condition.
local function direction_text(r)
  local parts = {}
  for _, step in ipairs(r.steps) do
    local last = parts[#parts]
    if step.sign and last and last.sign == step.sign then
      last.high = step[2]
    elseif step.sign then
      parts[#parts + 1] = { sign = step.sign, low = step[1], high = step[2] }
    end
  end
  local texts = {}
  for i, part in ipairs(parts) do
    texts[i] = MOVES[part.sign] .. " over " .. words.span(r.along, part.low, part.high, nil, true)
  end
  return suggest.list(texts, "and")
end

-- "at A, B, on absorption, for C and D", never empty; with `brief` "whatever the" where much is open.
local function state_text(t, brief)
  local texts = {}
  texts[1] = #t.parts > 0 and "at " .. table.concat(t.parts, ", ") or nil
  table.move(t.phrases, 1, #t.phrases, #texts + 1, texts)
  if brief and #t.names > 1 then
    texts[#texts + 1] = "whatever the " .. suggest.list(t.names, "and")
  else
    texts[#texts + 1] = #t.spans > 0 and "for " .. suggest.list(t.spans, "and") or nil
    table.move(t.choices, 1, #t.choices, #texts + 1, texts)
  end
  return #texts > 0 and table.concat(texts, ", ") or "at any condition"
end

-- " (basis)", or nothing where the basis only repeats what was said.
local function bracket(s, short)
  return s.basis == s.text and "" or (" (%s)"):format(short and s.basis:match("^[^:]+") or s.basis)
end

--- What the model answers as the middle of a sentence: "is about 31 % (95 % range 27 to 37 %)", "lies between
--- 0 and 36 %", "falls over ...".
local function answer_text(r)
  if r.along then
    return direction_text(r)
  elseif r.value then
    return "is about " .. figures.answer(r.subject, r.value, r.low, r.high, "95 % range ")
  end
  local range = figures.range(r.subject, r.span.low, r.span.high)
  return range:find(" to ") and "lies between " .. range:gsub(" to ", " and ") or "is about " .. range
end

--- Sets r.sentence and r.caption; for a direction also r.course, what the answer does.
function sentence.write(r)
  local s = r.subject
  local t = stated(r, not r.along and r.value ~= nil)
  local hair = hair_of(r, r.value ~= nil)
  local of = hair and " in " .. hair or ""
  local name = capital((s.measure or s.basis == s.text) and s.text or show.words(s.name))
  local long, short = " " .. state_text(t), " " .. state_text(t, true)
  if r.along and #t.parts + #t.phrases + #t.names == 0 then
    long, short = "", "" -- the span that the answer follows is all there is
  end
  local answer = answer_text(r)
  r.course = r.along and answer or nil
  local brief = answer:gsub("^is about ", ": about "):gsub("95 %% range ", ""):gsub("^lies between ", ": between ")
  brief = brief:sub(1, 1) == ":" and brief or " " .. brief
  r.sentence = ("%s%s %s%s%s; %s."):format(capital(s.text), bracket(s), answer, of, long, judgement(r))
  r.caption = ("%s%s%s%s%s."):format(name, bracket(s, true), brief, of, short)
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
