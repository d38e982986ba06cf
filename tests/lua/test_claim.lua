-- Claims: the rules of the verdict on functions made here, slips, sentences, the claim book.
local hf = require "hairfibre"
local book = require "hairfibre.claim.book"
local claim = require "hairfibre.claim"
local core = require "hairfibre.core"
local interval = require "hairfibre.claim.interval"
local quantity = require "hairfibre.quantity"
local says = require "hairfibre.claim.says"
local show = require "hairfibre.show"
local subject = require "hairfibre.claim.subject"

local INF = math.huge

-- A subject that answers slope times x, plus or minus `spread`, with x open from 0 to 1.
local function line(slope, spread, extra)
  local entry = { name = "line", text = "a line", basis = "made up", leaves_out = "", sources = {}, known = "assumed",
    arguments = { { name = "x", unit = "1", kind = "number", valid_low = 0, valid_high = 1, domain_low = 0,
      domain_high = 1, text = "x" } },
    evaluate = function(given)
      local y = slope * given.x
      return { y, y - spread, y + spread }
    end }
  for key, value in pairs(extra or {}) do
    entry[key] = value
  end
  return subject.of_entry(entry)
end

local function rival(low, high)
  return { { key = "own-judgement", known = "assumed", text = "made up", low = low, high = high, rank = 6, role = "check",
    distance = 0, order = 1, place = "" } }
end

-- text, at, rivals, verdict: the line rises from 0 to 10, plus or minus 1
local verdicts = {
  { "5", { x = 0.5 }, nil, "supported" },
  { "5.9", { x = 0.5 }, nil, "supported" },
  { "6.2", { x = 0.5 }, nil, "refuted" }, -- 6.15 is beyond 6
  { "5", {}, nil, "conditional" },
  { "-1.0", { x = 0 }, nil, "supported" }, { "-1.2", { x = 0 }, nil, "refuted" },
  { "20", {}, nil, "refuted" },
  { "15", {}, rival(14, 16), "doubtful" },
  { "12.5", {}, rival(14, 16), "doubtful" }, -- between the model and a rival
  { "20", {}, rival(14, 16), "refuted" },
  { "-2", {}, rival(14, 16), "refuted" }, -- a rival on the other side does not help
  { "at least 3", { x = 0.5 }, nil, "supported" }, { "at least 3", {}, nil, "conditional" },
  { "at least 12", {}, nil, "refuted" }, { "at most 11", {}, nil, "supported" },
  { "at most 3", {}, nil, "conditional" }, { "at most -3", {}, nil, "refuted" },
  { "3..20", { x = 0.5 }, nil, "supported" }, { "3..20", {}, nil, "conditional" },
  { "up to 10", {}, nil, "supported" }, { "up to 15", {}, nil, "conditional" }, -- a ceiling that is not reached
  { "up to 30", {}, nil, "refuted" }, { "up to 5", {}, nil, "conditional" }, -- passed in some states
  { "up to 2", { x = 0.5 }, nil, "refuted" },
  { "rises with x", {}, nil, "supported" }, { "falls with x", {}, nil, "refuted" },
  { "does not change with x", {}, nil, "refuted" },
}

local function judge(self, text, at, rivals)
  local read, message = says.parse(text, self)
  assert(read, message)
  return assert(claim.judge(self, read, at, nil, rivals))
end

local function has(text, part)
  return text:find(part, 1, true) ~= nil
end

-- The sentence names basis, hair and every condition, whatever the quantity.
local function check_carries(t, r)
  for _, text in ipairs { r.sentence, r.caption } do
    local lower = text:lower()
    local wanted = text == r.caption and r.basis:match("^[^:]+") or r.basis
    if r.basis ~= r.subject.text then
      t.says(text, { wanted })
    else
      t.says(lower, { wanted:lower() })
    end
    -- which hair: by the set, by a condition, or as the entry says
    local named = r.verdict == "no model" or r.subject.room == "water" or has(text, r.subject.hair or "hair")
      or has(text, "wool") or has(text, "group")
    assert(named, text .. " names no hair")
    for _, c in ipairs(r.list) do
      local name = show.words(c.name)
      local words = { name }
      if c.name == "branch" then
        words = { "on absorption", "on desorption", "branch" }
      elseif c.name == "from_regain" then
        words = { "starting", "from regain" }
      elseif c.argument.kind == "choice" then
        words = table.move(c.argument.choices, 1, #c.argument.choices, 2, words)
      end
      local found = false
      for _, word in ipairs(words) do
        found = found or has(text, word)
      end
      assert(found, ("%q lacks the condition %s"):format(text, c.name))
      if c.state == "given" and c.argument.kind ~= "choice" and c.value ~= 0 then
        local shown = hf.show(c.value, c.argument):match("^-?[%d.]+")
        assert(c.argument.unit == "m2" or has(text, shown), ("%q lacks the value %s of %s"):format(text, shown, c.name))
      end
    end
  end
  assert(not has(r.sentence, "nan") and not has(r.sentence, "inf "), r.sentence)
end

return function(t)
  t.test("the rules of the verdict", function()
    for _, case in ipairs(verdicts) do
      t.equal(judge(line(10, 1), case[1], case[2], case[3]).verdict, case[4], case[1])
    end
  end)
  t.test("what is extrapolated decides nothing", function()
    local beyond = function(given)
      return { 10 * given.x, 10 * given.x - 1, 10 * given.x + 1 }, "extrapolated", "beyond"
    end
    for _, text in ipairs { "5", "50", "at least 0" } do
      local r = judge(line(10, 1, { evaluate = beyond }), text, { x = 0.5 })
      t.equal(r.verdict .. " " .. r.status, "doubtful extrapolated", text)
    end
    -- states within evidence count alone when there are any
    local half = function(given)
      local y = 10 * given.x
      return { y, y - 1, y + 1 }, given.x > 0.5 and "extrapolated" or nil, "beyond"
    end
    t.equal(judge(line(10, 1, { evaluate = half }), "9", {}).verdict, "refuted")
    t.equal(judge(line(10, 1, { evaluate = half }), "at most 6", {}).verdict, "supported")
  end)
  t.test("a comparison is about the change", function()
    -- pure water, steam tables: 101.418 kPa at 100 degC, 198.67 kPa at 120 degC
    local at, than = { temperature = "120 degC" }, { temperature = "100 degC" }
    for text, word in pairs { ["96 % higher"] = "supported", ["1.96 times"] = "supported", ["90 % higher"] = "refuted",
      ["3 times"] = "refuted" } do
      t.equal(hf.claim { quantity = "saturation_pressure", says = text, at = at, than = than }.verdict, word, text)
    end
    for text, word in pairs { ["49 % lower"] = "supported", ["1.96 times lower"] = "supported", ["49 % higher"] = "refuted" } do
      t.equal(hf.claim { quantity = "saturation_pressure", says = text, at = than, than = at }.verdict, word, text)
    end
  end)
  t.test("one range for all: by moving parameters here as in the C half", function()
    for name, at in pairs { regain = { 0.65, 293.15, 0 }, diameter_swelling = { 0.31, 0 }, tryptophan_remaining = { 420, 60 } } do
      local descriptor = quantity.find(name)
      local self = subject.of_quantity(descriptor)
      local value, low, high = interval.of(function(set)
        return self.value(at, set)
      end, nil, interval.moved(nil, descriptor.parameters))
      local v, l, h = core.range(descriptor.index, nil, core.EXTRAPOLATE, table.unpack(at))
      t.close(value, v, 0, name)
      t.close(low, l, 1e-9 * v, name)
      t.close(high, h, 1e-9 * v, name)
    end
  end)
  t.test("basis: a figure that does not tell it has two readings", function()
    local function ask(text)
      return hf.claim { quantity = "regain", says = text, set = "virgin",
        at = { humidity = "100 %", temperature = "25 degC", branch = "absorption" } }
    end
    t.equal(ask("31 %").verdict, "conditional") -- 31 % of the wet mass is 45 % of the dry mass
    t.equal(ask("31 %").basis_matters, "dry")
    t.equal(ask("31 % dry basis").verdict, "supported")
    t.equal(ask("31 % wet basis").verdict, "refuted")
    t.equal(ask("23.8 % wet basis").verdict, "supported") -- 0.238/(1 - 0.238) = 0.312
    t.says(ask("31 %").sentence, { "dry basis" })
  end)
  t.test("what a figure refers to is its own, not that of a name like it", function()
    local cases = { weibull_modulus = false, tensile_modulus_over_wet = false, disulfide_reduction_rate = false,
      strain_at_stress = "over the length", stress_at_strain = "over the cross-section", tensile_modulus = "per strain",
      fatigue_life = false }
    for name, part in pairs(cases) do
      local descriptor = quantity.find(name)
      local text = require("hairfibre.claim.basis").of(descriptor)
      assert(part and has(text, part) or not part and text == descriptor.text, name .. ": " .. text)
    end
  end)
  t.test("a pure number over many powers of ten is looked at by ratio", function()
    -- churchillbernstein1977: Nu is 0.3 at Re 0, 40.6 at Re 6071 and Pr 0.7 (incropera6, example 7.3)
    for _, text in ipairs { "1", "40" } do
      t.equal(hf.claim { quantity = "nusselt_cross_flow", says = text, at = { prandtl = 0.7 } }.verdict, "conditional", text)
    end
    t.equal(hf.claim { quantity = "nusselt_cross_flow", says = "1e6", at = { prandtl = 0.7 } }.verdict, "refuted")
  end)
  t.test("open conditions come ranked", function()
    local r = hf.claim { quantity = "regain", says = "15 %" }
    for i = 2, #r.missing do
      assert(r.missing[i - 1].span >= r.missing[i].span, "not in order")
    end
    t.equal(r.missing[1].condition.name, "humidity")
    local names = {}
    for _, one in ipairs(r.missing) do
      names[one.basis and "basis" or one.condition.name] = true
    end
    assert(names.humidity and names.temperature and names.branch and names.set and names.basis)
    t.equal(#hf.claim { quantity = "saturation_pressure", says = "1 bar", at = { temperature = "100 degC" } }.missing, 0)
    -- what is given as a span is open within it, and no further
    r = hf.claim { quantity = "regain", says = "15 % dry basis", at = { humidity = "60..70 %", temperature = "20 degC" } }
    t.close(r.missing[1].high, hf.regain { humidity = "70 %", temperature = "20 degC" }, 1e-12)
  end)
  t.test("published before second-hand before memory", function()
    local r = hf.claim { quantity = "regain", says = "31 % dry basis", set = "virgin",
      at = { humidity = "100 %", temperature = "25 degC" } }
    t.equal(r.source_for.known, "published") -- although the second-hand row lies nearer
    r = hf.claim { quantity = "diameter_swelling", says = "14 %", at = { regain = "31.28 %", from_regain = "0 %" } }
    t.equal(r.source_for.key, "evans-textbook")
    r = hf.claim { quantity = "diameter_swelling", says = "25 %", at = { regain = "31.28 %", from_regain = "0 %" } }
    t.equal(r.source_for, nil)
    t.equal(r.source_against.known, "published")
  end)
  t.test("slips of unit and basis, only where they explain the figure", function()
    -- quantity, says, at, than the words of the slip; nil: no slip
    for _, case in ipairs {
      { "denaturation_temperature", "450 degC", { regain = "0 %" }, "Fahrenheit", "232.2" }, -- 450 degF is 232.2 degC
      { "denaturation_temperature", "155 degF", { regain = "30 %" }, "Celsius", "155" },
      { "denaturation_temperature", "900 degC", { regain = "0 %" } }, -- 482 degC is no better
      { "wetting_heat", "113 J/kg", { regain = "0 %", temperature = "25 degC" }, "kilojoule", "113 kJ/kg" },
      { "break_stress", "0.02 MPa", { humidity = "65 %" }, "gram-force", "196.1 MPa" }, -- 0.02 x 9806.65
      { "break_stress", "200 gf/um2", { humidity = "65 %" }, "MPa", "200 MPa" },
      { "regain", "0.3 %", { humidity = "100 %" }, "fraction", "30 %" },
      { "regain", "24 % dry basis", { humidity = "100 %", temperature = "25 degC" }, "by wet mass", "31.58 %" },
      { "regain", "90 % dry basis", { humidity = "100 %", temperature = "25 degC" } },
      { "saturation_pressure", "101.4 kPa", { temperature = "212 degC" }, "Fahrenheit", "temperature 100" },
      { "saturation_pressure", "101.4 kPa", { temperature = "300 degC" } },
    } do
      local r = hf.claim { quantity = case[1], says = case[2], at = case[3], set = "virgin" }
      if case[4] then
        assert(r.slips[1], case[1] .. " " .. case[2] .. ": no slip found")
        t.says(r.slips[1].words, { case[4] })
        t.says(r.slips[1].meant, { case[5] })
      else
        t.equal(#r.slips, 0, case[2])
      end
    end
    -- a claim that holds is left in peace
    t.equal(#hf.claim { quantity = "wetting_heat", says = "113 kJ/kg", at = { regain = "0 %" } }.slips, 0)
  end)
  t.test("a printed sentence carries basis and conditions, whatever is claimed and stated", function()
    local seed = 1
    local function chance(n) -- whole numbers 0..n-1, the same every time
      seed = (seed * 1103515245 + 12345) % 2147483648
      return seed // 65536 % n
    end
    local function inside(argument)
      if argument.kind == "choice" then
        return argument.choices[chance(#argument.choices) + 1]
      end
      local low = argument.valid_low > -INF and argument.valid_low or 0
      local high = argument.valid_high < INF and argument.valid_high or 60.0
      local x = low + (high - low) * (chance(99) + 1) / 100
      return argument.unit == "1" and argument.kind == "number" and high > 20 and math.floor(x) + 0.0 or x
    end
    local judged, beyond = 0, 0
    for _, descriptor in ipairs(hf.quantities()) do
      local unit = descriptor.kind == "fraction" and " %" or descriptor.kind == "temperature" and " degC"
        or descriptor.unit == "1" and "" or " " .. descriptor.unit:gsub("^1/(.*)$", "%1-1")
      local first = descriptor.arguments[1]
      local forms = { "100" .. unit, "1..50" .. unit, "at least 3" .. unit, "at most 7" .. unit, "up to 40" .. unit,
        "about 0.5" .. unit, first and "rises with " .. first.name, descriptor.kind ~= "temperature" and
        "of the order of 10" .. unit }
      for k = 1, 8 do
        local at = {}
        for i, argument in ipairs(descriptor.arguments) do
          -- all open, then all stated, then as it comes; what has no end must be stated
          local stated = argument.valid_high == INF or k == 2 or k > 2 and chance(2) == 0
          if argument.valid_high == INF and k == 7 and i == 1 then
            at[argument.name] = { 1.0, 60.0 }
          elseif stated and not (k == 7 and i == 1) then
            at[argument.name] = inside(argument)
          end
        end
        if forms[k] and (k < 3 or chance(2) == 0) and (descriptor.has_model or k == 1) then
          local r, _, code = hf.claim { quantity = descriptor.name, says = forms[k], at = at,
            set = chance(3) == 0 and "bleached" or nil }
          if r then
            judged = judged + 1
            check_carries(t, r)
          else
            beyond = beyond + 1
            t.equal(code == "range" or code == "no-model", true, descriptor.name .. ": " .. tostring(code))
          end
        end
      end
    end
    assert(judged > 500 and beyond < judged / 10, judged .. " judged, " .. beyond .. " beyond every range")
  end)
  t.test("limits are found to their edges, one stretch after the other", function()
    -- 10 x is met by "5" (4.5 to 5.5) with a spread of 1 from x = 0.35 to 0.65
    local r = judge(line(10, 1), "5", {})
    t.equal(#r.holds, 1)
    t.close(r.holds[1].low, 0.35, 2e-4)
    t.close(r.holds[1].high, 0.65, 2e-4)
    -- a parabola is met on both sides of its foot
    r = judge(line(1, 0, { evaluate = function(given)
      local y = (2 * given.x - 1) ^ 2
      return { y, y, y }
    end }), "at least 0.25", {})
    t.equal(#r.holds, 2)
    t.close(r.holds[1].high, (1 - math.sqrt(0.245)) / 2, 2e-4)
    t.close(r.holds[2].low, (1 + math.sqrt(0.245)) / 2, 2e-4)
    t.says(r.sentence, { "holds only for x 0 to 0.25 or 0.75 to 1" })
  end)
  t.test("a figure at the end of the range is said to be there", function()
    -- 5 plus or minus 1, so a standard deviation of 0.51 and half of all cases from 4.66 to 5.34
    for text, words in pairs { ["5"] = false, ["5.3"] = false, ["5.9"] = "at the upper end of the range",
      ["4.1"] = "at the lower end of the range", ["at least 5.7"] = "at the upper end", ["at most 7"] = false } do
      local r = judge(line(10, 1), text, { x = 0.5 })
      t.equal(r.verdict, "supported", text)
      t.equal(has(r.sentence, words or "end of the range"), words and true or false, text)
    end
  end)
  t.test("figures are in the unit of the claim", function()
    -- 1 kgf = 9.80665 N, 1 gf/um2 = 9806.65 MPa; wet hair of wortmann2022 breaks at 191 +- 3 MPa
    local r = hf.claim { quantity = "break_stress", says = "0.02 gf/um2", at = { humidity = "100 %" }, set = "virgin" }
    t.says(r.sentence, { "is about 0.019 gf/um2 (95 % range 0.017" })
    r = hf.claim { quantity = "saturation_temperature", says = "212 degF", at = { pressure = "101325 Pa" } }
    t.says(r.sentence, { "is about 100 °C (212 °F)" })
    t.equal(r.verdict, "supported")
    r = hf.claim { quantity = "saturation_temperature", says = "100 degC", at = { pressure = "101325 Pa" } }
    assert(not has(r.sentence, "°F"))
  end)
  t.test("a size to start from reaches as far as the size that is come to", function()
    local r = hf.claim { quantity = "diameter_swelling", says = "14 %", at = { regain = "20 %" } }
    for _, c in ipairs(r.list) do
      t.equal(c.name ~= "from_regain" or c.high == 0.2, true)
    end
  end)
  t.test("where the middle is flat, a condition is ranked by what it does elsewhere", function()
    local two = line(1, 0, { evaluate = function(given)
      local y = math.max(0, given.x - 0.6) * given.z
      return { y, y, y }
    end })
    two.arguments = { two.arguments[1], { name = "z", unit = "1", kind = "number", valid_low = 0, valid_high = 1,
      domain_low = 0, domain_high = 1, text = "z" } }
    local r = judge(two, "0.1", {})
    for _, one in ipairs(r.missing) do
      -- both move the answer by 0.4 at most, z only where x is 1
      t.close(one.span, 0.4, 1e-12, one.condition.name)
      t.equal(one.values and one.values[1], one.condition.name == "z" and 1.0 or nil)
    end
  end)
  t.test("a source is listed once", function()
    for _, r in ipairs((hf.claim_book())) do
      local seen = {}
      for _, key in ipairs(r.sources) do
        assert(not seen[key], "claim " .. r.number .. " lists " .. key .. " twice")
        seen[key] = true
      end
    end
  end)
  t.test("no model", function()
    local r = hf.claim { quantity = "hygral_fatigue", says = "weakens hair" }
    t.equal(r.verdict, "no model")
    t.says(r.sentence, { "no validated model", "weakens hair" })
    assert(#r.sources > 0)
  end)
  t.test("mistakes of the caller", function()
    for _, case in ipairs {
      { { quantity = "regian", says = "20 %" }, 'did you mean "regain"?' },
      { { quantity = "regain", says = "20" }, "as a fraction it is 2000 %, as percent it is 20 %" },
      { { quantity = "hygral_fatigue", says = "it\27[2J" }, "one line" },
      { { quantity = "hygral_fatigue", says = "\255" }, "UTF-8" },
      { { quantity = "hygral_fatigue", says = ("x"):rep(300) }, "200 bytes" },
      { { quantity = "regain", says = 20 }, "says" }, { { quantity = "regain" }, "says" },
      { { quantity = "regain", says = "20 %", at = { humidty = "50 %" } }, 'did you mean "humidity"?' },
      { { quantity = "regain", says = "20 %", at = { humidity = "50" } }, "humidity" },
      { { quantity = "regain", says = "20 %", at = { humidity = 0 / 0 } }, "finite" },
      { { quantity = "regain", says = "20 %", at = { humidity = {} } }, "empty" },
      { { quantity = "regain", says = "20 %", at = "50 %" }, "table of conditions" },
      { { quantity = "regain", says = "20 %", set = "nylon" }, "nylon" },
      { { quantity = "regain", say = "20 %" }, 'did you mean "says"?' },
      { { quantity = "regain", says = "rises with pressure" }, "does not depend on" },
      { { quantity = "regain", says = "rises with humidity", at = { humidity = "50 %" } }, "leave it out" },
      { { quantity = "regain", says = "20 %", than = { humidity = "50 %" } }, "30 % lower" },
      { { quantity = "regain", says = "20 % lower", than = { humidity = "50..60 %" } }, "one value" },
      { "regain", "claim takes a table" },
    } do
      t.raises({ case[2] }, hf.claim, case[1])
    end
    local r, message, code = hf.claim { quantity = "regain", says = "20 %", at = { humidity = "50 %", temperature = "400 degC" } }
    t.equal(r, nil)
    t.equal(code, "range")
    t.says(message, { "temperature" })
  end)
  t.test("the claim book: every verdict", function()
    local list, count = hf.claim_book()
    t.equal(#list, count.agree + count.differ)
    local seen, words = {}, {}
    for _, word in ipairs(claim.words) do
      words[word] = true
    end
    for _, r in ipairs(list) do
      seen[math.tointeger(tonumber(r.number:match("^%d+")))] = true
      assert(words[r.verdict], r.verdict)
      t.equal(r.verdict, r.expected, "claim " .. r.number)
      check_carries(t, r)
      for _, key in ipairs(r.sources) do
        assert(core.source(key), key)
      end
      assert(r.note and #r.note > 10, "claim " .. r.number .. " has no note")
    end
    for i = 1, 28 do
      t.equal(seen[i] or false, i ~= 14, "claim " .. i)
    end
    t.equal(#hf.claim_book(4), 3)
    t.equal(hf.claim_book("4b")[1].number, "4b")
    t.raises({ "no number" }, hf.claim_book, 14)
    -- a wrong expectation shows
    local entry = setmetatable({ expected = "refuted" }, { __index = book.find("28")[1] })
    t.equal(book.judge(entry).agrees, false)
  end)
  t.test("a claim takes less than a second", function()
    for _, given in ipairs { { quantity = "internal_boiling_temperature", says = "100 degC" },
      { quantity = "regain", says = "rises with temperature" }, { quantity = "strip_curvature", says = "rises with mismatch" } } do
      local start = os.clock()
      assert(hf.claim(given))
      assert(os.clock() - start < 1, given.quantity)
    end
  end)
end
