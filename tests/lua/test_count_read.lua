-- What is made of strand sheets: the numbers against R 4.2.2 on the same sheets (computed for this purpose), the
-- sentences against what the numbers allow.
local hf = require "hairfibre"

local EVENING, SECOND = "examples/data/strands_evening_invented.csv", "examples/data/strands_second_evening_invented.csv"
local BLIND, KEY = "examples/data/strands_blind_invented.csv", "examples/data/strands_blind_key_invented.csv"
local WET = "examples/data/strands_wet_invented.csv"

return function(t)
  local n = 0

  local function sheet(text)
    n = n + 1
    local path = ("%s/counts_%d.csv"):format(t.folder, n)
    local file = assert(io.open(path, "wb"))
    file:write(text)
    file:close()
    return path
  end

  local function read(...)
    local a, message = hf.count_read(...)
    return a or error(message, 2)
  end

  local function test_of(a, what, group, against)
    for _, test in ipairs(a.tests) do
      if test.what == what and test.group == group and test.against == against then
        return test
      end
    end
    error(("no test of %s in %s"):format(what, group), 2)
  end

  local function has(list, part)
    for _, s in ipairs(list) do
      if s:find(part, 1, true) then
        return s
      end
    end
    error(("no sentence with %q in\n  %s"):format(part, table.concat(list, "\n  ")), 2)
  end

  local function lacks(list, part)
    for _, s in ipairs(list) do
      if s:find(part, 1, true) then
        error(("%q stands in %q"):format(part, s), 2)
      end
    end
  end

  t.test("two evenings against R", function()
    local a = read { EVENING, SECOND }
    t.equal(#a.strands, 35)
    t.equal(#a.donors, 3)
    t.equal(a.control, "control")
    t.close(a.diameter.mean, 65.96e-6, 1e-15, "R mean")
    t.close(a.diameter.deviation, 6.521421714e-6, 1e-15, "R sd")
    local control, hot = a.groups[1], a.groups[2]
    t.close(hot.change.mean, -0.37647058824e-6, 1e-16, "R mean")
    t.close(hot.change.low, -0.65426135018e-6, 1e-15, "R t.test, paired")
    t.close(hot.change.high, -0.09867982629e-6, 1e-15, "R t.test, paired")
    t.close(control.change.deviation, 0.54259723986e-6, 1e-15, "R sd")
    t.close(test_of(a, "diameter", "hot").p, 0.01104321078, 1e-10, "R t.test, paired")
    t.close(test_of(a, "diameter", "control").p, 0.86034225082, 1e-10, "R t.test, paired")
    local means = test_of(a, "diameter", "hot", "control")
    t.close(means.p, 0.03888816466, 1e-10, "R t.test")
    t.close(means.low, -0.77828692249e-6, 1e-15, "R t.test")
    t.close(means.high, -0.02171307751e-6, 1e-15, "R t.test")
    t.close(test_of(a, "voids", "hot", "control").p, 6.507041139e-08, 1e-16, "R mantelhaen.test, exact, donors as strata")
    t.close(test_of(a, "lifted cuticle", "hot", "control").p, 1.093182911e-05, 1e-14, "R mantelhaen.test, exact")
    t.equal(test_of(a, "lifted cuticle", "hot", "control").strata, 3)
    local grades = test_of(a, "change of grade", "hot", "control")
    t.equal(grades.test, "ranks within donors")
    t.close(hot.shares.voids.low, 0.7131106033, 1e-9, "R binom.test")
    t.close(hot.shares.voids.high, 0.9985118256, 1e-9, "R binom.test")
    t.close(hot.shares.broken.low, 0.001405556167, 1e-10, "R binom.test")
    t.close(hot.shares.broken.high, 0.272943599673, 1e-9, "R binom.test")
    -- Holm over all tests that are shown
    local p, q = {}, {}
    for i, test in ipairs(a.tests) do
      p[i], q[i] = test.p, test.p_holm
    end
    for i, x in ipairs(hf.holm(p)) do
      t.close(q[i], x, 0, "corrected")
    end
  end)

  t.test("exclusions and losses are stated", function()
    local a = read { EVENING }
    t.equal(#a.excluded, 1)
    t.equal(a.excluded[1].id, "S04")
    t.equal(#a.lost, 1)
    t.equal(a.groups[2].shares.broken.strands, 12, "a broken strand counts as broken")
    t.equal(a.groups[2].shares.voids.strands, 11, "and has no voids to count")
    t.says(a:text(), { "S04 (group control): fell off the stand", "S11: counted as broken" })
    has(a:limits(), "2 strands are missing")
  end)

  t.test("five of five", function()
    local a = read { sheet "id,donor,group,voids\n1,A,hot,1\n2,A,hot,2\n3,A,hot,yes\n4,A,hot,y\n5,A,hot,3\n" }
    t.equal(a:sentences()[1], "5 of 5 strands showed voids: of such strands at least 48 % do, at 95 %.")
    t.says(a:text(), { "5 of 5: at least 48 % at 95 %" })
    has(a:limits(), "no control group")
    has(a:limits(), "one donor: nothing is known about other heads")
    lacks(a:sentences(), "all strands")
  end)

  t.test("none, one, and no strand at all", function()
    local none = read { sheet "id,group,voids\n1,hot,no\n2,hot,0\n3,hot,n\n" }
    has(none:sentences(), "0 of 3 strands showed voids: of such strands at most 71 % do") -- 1 - 0.025^(1/3)
    local one = read { sheet "id,group,voids,diameter_before_um,diameter_after_um\n1,hot,2,70,71\n" }
    has(one:sentences(), "at least 2.5 %")
    has(one:sentences(), "no interval")
    has(one:limits(), "One strand shows that something can happen, not how often")
    t.equal(one.untested[1].what, "diameter")
    local left = read { sheet "id,group,voids,excluded\n1,hot,2,lost\n" }
    t.says(left:text(), { "no strand is left", "nothing can be said" })
    t.equal(#left:sentences(), 0)
    local _, message, code = left:figure()
    t.equal(code, "data")
    t.equal(type(message), "string")
  end)

  t.test("a sentence says no more than the corrected test", function()
    local a = read { EVENING, SECOND }
    local s = has(a:sentences(), "In group hot no change of the mean diameter is shown")
    t.says(s, { "-0.38 um, -0.65 to -0.10 um at 95 %", "P = 0.055 after correction for 9 tests", "does not prove" })
    has(a:sentences(), "The share with voids is larger in group hot than in control (hot: 16 of 17, control: 0 of 17; P below 0.0001")
    lacks(a:sentences(), "because")
    lacks(a:sentences(), "caused")
    lacks(a:sentences(), "damage")
    local swollen = read { WET, control = "air" }
    has(swollen:sentences(), "In group wet the diameter grew by 4.41 um on average (3.89 to 4.92 um at 95 %, 8 strands; P below")
    has(swollen:sentences(), "The mean change of diameter in group wet differs from that in air by 4.45 um, 3.93 to 4.98 um")
  end)

  t.test("limits of the sample", function()
    local a = read { EVENING, pixel = "0.5 um" }
    has(a:limits(), "Groups of 12 and 11 notice a difference of 10 % against 50 % in 51 %")
    has(a:limits(), "the 2 donors count, not the 23 strands")
    has(a:limits(), "7 of 11 changes of diameter are below the 0.56 um") -- 1.13 pixels
    has(a:limits(), "whoever graded from it knew them")
    has(a:limits(), "at random is not on record")
    has(a:limits(), "no measure of strength")
    has(read { EVENING }:limits(), "size of a pixel was not given")
    local few = read { sheet "id,donor,group,voids\n1,A,a,1\n2,A,a,1\n3,A,a,1\n4,A,b,no\n5,A,b,no\n6,A,b,no\n" }
    has(few:limits(), "the smallest possible is 0.1.") -- 2 of the 20 ways to split 3 and 3
    local apart = read { sheet "id,donor,group,voids\n1,A,a,1\n2,A,a,1\n3,B,b,no\n4,B,b,no\n" }
    has(apart:limits(), "donors and treatments cannot be told apart")
    t.equal(apart.untested[1].untested, "no donor tells the groups apart")
    local blind = read { BLIND, key = KEY }
    lacks(blind:limits(), "whoever graded")
  end)

  t.test("pairs of yes and no", function()
    local text = "id,group,voids_before,voids\n"
    for i = 1, 10 do
      text = text .. ("%d,hot,no,%s\n"):format(i, i <= 8 and "2" or "no")
    end
    local a = read { sheet(text) }
    t.close(test_of(a, "voids", "hot").p, 2 / 2 ^ 8, 1e-15, "8 of 8 changed one way")
    has(a:sentences(), "In group hot voids changed: of 10 strands 8 went from no to yes, 0 from yes to no")
  end)

  t.test("grades", function()
    local a = read { EVENING }
    t.close(test_of(a, "grade", "hot").p, 2 / 2 ^ 11, 1e-15, "11 of 11 got worse: both ends of 2^11 signs")
    has(a:sentences(), "The grades of group hot got worse by more than those of control")
    has(a:sentences(), "11 got worse, 0 better")
    t.equal(a.kappa.gradings, 22)
    t.says(a:text(), { "weighted kappa (linear)", "below 30 the error is rough" })
  end)

  t.test("prediction beside observation", function()
    local a = read { WET, control = "air", pixel = "0.5 um", predict = true }
    local wet = a.groups[2]
    t.equal(wet.prediction.low < wet.prediction.change and wet.prediction.change < wet.prediction.high, true, "order")
    has(a:sentences(), "The two are compatible")
    has(a:sentences(), "Group air: the models know no lasting change of diameter")
    -- twice the change cannot be what the models expect of a strand
    local text = "id,group,treatment,diameter_before_um,diameter_after_um\n"
    for i = 1, 8 do
      text = text .. ("%d,wet,soak 30 min; blot,70,%g\n"):format(i, 90 + 0.1 * i)
    end
    has(read { sheet(text), predict = true, pixel = "0.5 um" }:sentences(), "The two are not compatible")
    t.equal(read { WET, predict = { wet = "soak 30 min" } }.groups[2].no_prediction, "no steps were given")
    t.says(a:text(), { "set virgin, digest", "seed 1", "measured at 65 % humidity" })
    -- the same strands, the same numbers
    t.close(read { WET, control = "air", predict = true }.groups[2].prediction.high, wet.prediction.high, 0, "seed")
  end)

  t.test("her strands as a population", function()
    local a = read { WET }
    local p = a:population()
    local mean, square = 0, 0
    for _, d in ipairs(a.diameters) do
      mean, square = mean + d / #a.diameters, square + d * d / (#a.diameters - 1)
    end
    square = square - mean * mean * #a.diameters / (#a.diameters - 1)
    -- lognormal: E[d^2] = mean^2 + variance
    t.close(p.area, math.pi / 4 * (mean ^ 2 + square), 1e-18, "mean area")
    local e = hf.ensemble { strands = 2000, population = p, treatment = { hf.rest { duration = "1 s" } }, lumped = true,
      progress = false }
    local sum, squares = 0, 0
    for i = 1, #e do
      sum, squares = sum + e.diameter[i] / #e, squares + e.diameter[i] ^ 2 / #e
    end
    t.close(sum, mean, 4 * math.sqrt(square / #e), "mean of the drawn diameters, four standard errors")
    t.close(math.sqrt(squares - sum ^ 2), math.sqrt(square), 4 * math.sqrt(square / (2 * #e)), "their spread, the same")
    t.equal(select(3, read { sheet "id,group,voids\n1,a,1\n" }:population()), "data")
  end)

  t.test("caution where the treatment calls for one", function()
    t.says(read { EVENING }:text(), { "Caution: Bench samples on a stand only", "Hot tools" })
    t.equal(read { WET }.caution, nil)
    t.says(read { sheet "id,group,treatment,voids\n1,a,bleach 10 min ph=10 peroxide=6%,1\n" }.caution, { "Reagents burn" })
  end)

  t.test("no line is wider than 80 columns", function()
    for _, a in ipairs { read { EVENING, SECOND, pixel = "0.5 um", predict = true }, read { BLIND, key = KEY }, read { WET } } do
      for line in a:text():gmatch("[^\n]+") do
        t.equal(utf8.len(line) <= 80, true, line)
      end
    end
  end)

  t.test("table and figure", function()
    local a = read { EVENING, pixel = "0.5 um", predict = true }
    local r = a:table()
    t.equal(#r, 23)
    t.close(r.before[1], 69.5e-6, 1e-18, "S01")
    local f = a:figure { title = "x" }
    local lines = {}
    for line in f:csv():gmatch("[^\n]+") do
      lines[#lines + 1] = line
    end
    t.equal(#lines, 3, "a line for each group")
    t.says(lines[1], { "category", "predicted_one_strand_change_of_diameter_um", "voids_share_of_strands_low_percent" })
    t.says(lines[2], { '"control (11)",' })
    t.says(lines[3], { '"hot (12)",' })
    t.raises({ "styel", "style" }, a.figure, a, { styel = "print" })
  end)
end
