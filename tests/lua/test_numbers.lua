-- Numbers as text: exact round trip, the same in every locale.
local core = require "hairfibre.core"

return function(t)
  t.test("numbers read back exactly", function()
    math.randomseed(20)
    for _ = 1, 20000 do
      local x = (math.random() - 0.5) * 10.0 ^ math.random(-300, 300)
      t.equal(core.number(core.text(x)), x)
    end
    for _, x in ipairs { 0.1, 1 / 3, 5e-324, 1.7976931348623157e308, 2 ^ 53, -0.0, 1e22, 1e23 } do
      t.equal(core.number(core.text(x)), x)
    end
    t.equal(core.text(0.1), "0.1")
    t.equal(core.text(1 / 3), "0.3333333333333333")
    t.equal(core.text(1 / 3, 4), "0.3333")
    t.equal(core.text(math.huge), "inf")
    t.equal(core.fixed(2.345678, 2), "2.35")
    t.equal(core.join({ 1, 0.5, 0 / 0, 2 }, ",", "null"), "1,0.5,null,2")
  end)
  t.test("what is no number", function()
    for _, text in ipairs { "", " ", ".", "-", "e5", "1,5", "0x10", "nan", "inf", "1 2", "1e", "1e999", "1_0", "--1",
      ("1"):rep(200) } do
      t.equal(core.number(text), nil, text)
    end
    t.equal(core.number(" 12.5 "), 12.5)
    local x, rest = core.number("12 e K", true)
    t.equal(x, 12)
    t.equal(rest, " e K")
  end)
  t.test("misuse of the C half raises", function()
    for _, name in ipairs { "number", "text", "fixed", "join", "unit", "csv", "read", "write", "evaluate", "range",
      "each", "history", "scanning", "source", "spawn_gnuplot" } do
      t.raises({}, core[name])
      t.raises({}, core[name], {}, {}, {}, {})
    end
    t.raises({}, core.fixed, 1, 1000)
    t.raises({}, core.fixed, 1e200, 1)
    t.raises({}, core.csv, "a,b", "ab")
  end)
  t.test("a locale with a decimal comma changes nothing", function()
    local before = os.setlocale(nil)
    for _, name in ipairs { "de_DE.UTF-8", "fr_FR.UTF-8", "de_DE", "nl_NL.UTF-8" } do
      if os.setlocale(name) then
        local hf = require "hairfibre"
        local texts = { core.text(0.5), core.fixed(0.5, 2), core.join({ 0.5 }, ";", ""), hf.show(0.125, "humidity"),
          tostring(core.number("1.25") == 5 / 4), hf.tabulate("regain", { humidity = { "12.5 %" } }):csv():match(",(%d+%.%d+),"),
          hf.tabulate("regain", { humidity = { "12.5 %" } }):json() }
        os.setlocale(before)
        t.equal(table.concat(texts, " ", 1, 5), "0.5 0.50 0.5 12.5 % true")
        assert(texts[6], "no decimal point in the CSV text")
        t.equal(texts[7], hf.tabulate("regain", { humidity = { "12.5 %" } }):json())
        return
      end
    end
  end)
end
