-- hf.lesson{...}: predict first, then compare. Questions with the answers of the models; the sheet for the class
-- has blanks, the key is a file apart.
--
--   local lesson = hf.lesson { name = "hygrometer", caution = "heat", figure = f,
--     questions = { { "How much longer at 90 % than at 30 %?", 1.74, "mm" }, { "Is the scale even?", "no: ..." } } }
--   lesson:hand_out(arg[1])     nothing: sheet and blank axes; "answer": key, figure and answers

local cautions = require "hairfibre.cautions"
local collect = require "hairfibre.collect"
local core = require "hairfibre.core"
local misuse = require "hairfibre.misuse"
local result = require "hairfibre.result"
local show = require "hairfibre.show"
local spec = require "hairfibre.plot.spec"
local text = require "hairfibre.plot.text"

local lesson = {}

local Lesson = { __name = "hairfibre.lesson" }
Lesson.__index = Lesson

local function question_of(given, i)
  if type(given) ~= "table" or type(given[1]) ~= "string" then
    misuse("lesson: question %d must be { \"question\", answer, \"unit\" }", i)
  end
  local answer, unit = given[2], given[3] or ""
  if type(answer) ~= "string" and type(answer) ~= "number" then
    misuse("lesson: question %d has no answer: a number or a text was expected, not a %s", i, type(answer))
  elseif type(unit) ~= "string" then
    misuse("lesson: the unit of question %d must be a text, not a %s", i, type(unit))
  elseif type(answer) == "number" and (answer ~= answer or math.abs(answer) == math.huge) then
    misuse("lesson: the answer to question %d is no finite number", i)
  end
  return { ask = text.clean(given[1]), answer = answer, unit = text.unit(unit) }
end

--- A lesson: name (of its files), questions, figure, title, caution ("bench" if not given, "heat", "chemical",
--- "both", or a sentence of your own).
function lesson.new(given)
  spec.keys(given, "name:string questions:table figure:table title:string caution:string", "lesson")
  if not given.name or not given.name:find("^[%w_%-]+$") then
    misuse("lesson needs a name of letters, digits and _ for its files")
  elseif not given.questions or #given.questions == 0 then
    misuse("lesson needs questions = { { \"question\", answer, \"unit\" }, ... }")
  elseif given.figure and not given.figure.worksheet then
    misuse("lesson: figure must be a figure")
  end
  local questions = {}
  for i, one in ipairs(given.questions) do
    questions[i] = question_of(one, i)
  end
  local caution = given.caution or "bench"
  return setmetatable({ name = given.name, title = given.title, questions = questions, figure = given.figure,
    caution = type(cautions[caution]) == "string" and cautions[caution] or text.clean(caution) }, Lesson)
end

local function table_of(self, columns)
  local list = {}
  for c, column in ipairs(columns) do
    list[c] = { name = column[1], kind = "text", values = {} }
    for i, one in ipairs(self.questions) do
      list[c].values[i] = column[2](one, i)
    end
    list[c].values[#self.questions + 1] = c == 2 and "Caution: " .. self.caution or ""
  end
  return result.new { columns = list, title = self.title, caution = self.caution }
end

local function answer_of(one)
  return type(one.answer) == "number" and show.number(one.answer, 3) or text.clean(one.answer)
end

local function number_of(_, i)
  return tostring(i)
end

local function asked(one)
  return one.ask
end

local function unit_of(one)
  return one.unit
end

local function blank()
  return ""
end

--- The sheet for the class, a result: questions, units, blanks.
function Lesson:sheet()
  return table_of(self, { { "number", number_of }, { "question", asked }, { "unit", unit_of }, { "my_prediction", blank },
    { "the_model_says", blank }, { "why_they_differ", blank } })
end

--- The key to it, a result: questions, answers to three digits, and in full where they are numbers.
function Lesson:key()
  return table_of(self, { { "number", number_of }, { "question", asked }, { "answer", answer_of }, { "unit", unit_of },
    { "in_full", function(one)
      return type(one.answer) == "number" and core.text(one.answer) or ""
    end } })
end

local function wrapped(s, first, rest)
  local lines, line = {}, first
  for word in s:gmatch("%S+") do
    if #line > #rest and (utf8.len(line .. " " .. word) or 0) > 80 then
      lines[#lines + 1], line = line, rest
    end
    line = line .. (#line > #rest and line ~= first and " " or "") .. word
  end
  lines[#lines + 1] = line
  return table.concat(lines, "\n")
end

--- Prints the questions and writes NAME_sheet.csv and NAME_blank.svg; with the word "answer" prints the answers and
--- writes NAME_key.csv, NAME.svg and NAME.csv. Raises when a file cannot be written.
function Lesson:hand_out(word)
  if word ~= nil and word ~= "answer" then
    misuse("a lesson takes the word \"answer\" or none, not \"%s\"", tostring(word))
  end
  local out = {}
  for i, one in ipairs(self.questions) do
    out[#out + 1] = wrapped(one.ask .. (one.unit ~= "" and not word and " (" .. one.unit .. ")" or ""), ("%d. "):format(i), "   ")
    if word then
      out[#out + 1] = wrapped(answer_of(one) .. (one.unit ~= "" and " " .. one.unit or ""), "   -> ", "      ")
    end
  end
  if not word then
    out[#out + 1] = "Write your predictions down first, then run this again with the word answer."
  end
  out[#out + 1] = wrapped(self.caution, "", "")
  io.stdout:write(table.concat(out, "\n"), "\n")
  local function saved(done, message)
    if not done then
      error(message, 0)
    end
  end
  local figure = collect.real(self.figure)
  if word then
    saved(self:key():save(self.name .. "_key.csv"))
    if figure then
      saved(figure:save(self.name .. ".svg"))
    end
  else
    saved(self:sheet():save(self.name .. "_sheet.csv"))
    if figure then
      saved(figure:worksheet(self.name .. "_blank.svg"))
    end
  end
  return true
end

function Lesson:__tostring()
  return "lesson: " .. self.name
end

return lesson
