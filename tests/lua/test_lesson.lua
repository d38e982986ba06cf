-- Lessons: what they refuse, and that the sheet tells nothing of the key.
local hf = require "hairfibre"

return function(t)
  local questions = { { "How much?", 1.23456, "mm" }, { "Why, \"so\"?", "because, of it" } }
  t.test("a sheet has blanks, a key has answers", function()
    local lesson = hf.lesson { name = "x", questions = questions }
    local sheet, key = lesson:sheet(), lesson:key()
    t.equal(sheet.my_prediction[1], "")
    t.equal(sheet.question[2], 'Why, "so"?')
    t.equal(key.answer[1], "1.23")
    t.equal(key.answer[2], "because, of it")
    t.close(tonumber(key.in_full[1]), 1.23456, 0)
    t.equal(key.in_full[2], "")
    for _, hidden in ipairs { "1.23", "because" } do
      t.equal(sheet:csv():find(hidden, 1, true), nil, "the sheet")
    end
  end)
  t.test("the caution is never missing", function()
    for caution, words in pairs { bench = "on a stand", heat = "steam burn", chemical = "Reagents burn", Wear = "Wear" } do
      local sheet = hf.lesson { name = "x", questions = questions, caution = caution }:sheet()
      t.says(sheet.question[3], { words })
    end
    t.says(hf.lesson { name = "x", questions = questions }:sheet().question[3], { "on a stand" })
  end)
  t.test("what is missing is named", function()
    t.raises({ "needs a name" }, hf.lesson, { questions = questions })
    t.raises({ "needs a name" }, hf.lesson, { name = "../x", questions = questions })
    t.raises({ "needs questions" }, hf.lesson, { name = "x", questions = {} })
    t.raises({ "question 1 has no answer" }, hf.lesson, { name = "x", questions = { { "How?" } } })
    t.raises({ "question 2 is no finite number" }, hf.lesson, { name = "x", questions = { questions[1], { "How?", 0 / 0 } } })
    t.raises({ "unit of question 1" }, hf.lesson, { name = "x", questions = { { "How?", 1, 2 } } })
    t.raises({ "must be a figure" }, hf.lesson, { name = "x", questions = questions, figure = {} })
    t.raises({ 'did you mean "questions"?' }, hf.lesson, { name = "x", question = questions })
    t.raises({ 'the word "answer"' }, function()
      hf.lesson { name = "x", questions = questions }:hand_out "answers"
    end)
  end)
end
