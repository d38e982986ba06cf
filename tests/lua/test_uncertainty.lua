-- Draws, rivals, sensitivity and ensembles through Lua.
local hf = require "hairfibre"
local core = require "hairfibre.core"

return function(t)
  t.test("a normal parameter gives a normal answer", function()
    -- At 25 degC the heat capacity is c0 + w cw over 1 + w, both normal: closed form.
    local u = assert(hf.uncertainty("heat_capacity", { temperature = "25 degC", regain = "20 %", draws = 8192, seed = 5 }))
    local set = hf.parameters()
    local c0, cw = set:row("thermal.capacity.dry"), set:row("thermal.capacity.water")
    local spread = math.sqrt(c0.spread ^ 2 + (0.2 * cw.spread) ^ 2) / 1.2
    local middle = (c0.value + 0.2 * cw.value) / 1.2
    for i, z in ipairs { -1.959963984540054, -0.6744897501960817, 0, 0.6744897501960817, 1.959963984540054 } do
      t.close(u.answer[i], middle + z * spread, 5 * u.error[i], "percentile " .. i)
      assert(u.error[i] < 0.05 * spread)
    end
    t.close(u.value, middle, 1e-9 * middle)
    t.equal(u.low, u.answer[1])
    t.equal(u.high, u.answer[5])
    t.equal(#u.values, 8192)
    t.equal(u.method, "sobol")
    t.equal(u.failures, 0)
  end)
  t.test("spreads of arguments carry units", function()
    local u = assert(hf.uncertainty("dew_point", { temperature = "25 degC", humidity = "50 %",
      spread = { temperature = "2 K" }, draws = 4096 }))
    -- d dew point / d temperature at constant humidity, by difference
    local slope = (hf.dew_point("25.5 degC", 0.5) - hf.dew_point("24.5 degC", 0.5))
    t.close(u.high - u.low, 2 * 1.959963984540054 * 2 * slope, 0.02 * 8 * slope, "nearly linear")
    t.equal(u:column("error").kind, "temperature difference")
    local wide = assert(hf.uncertainty("dew_point", { temperature = "25 degC", humidity = "50 %",
      spread = { humidity = { "10 %", distribution = "uniform" } }, draws = 4096 }))
    t.close(wide.answer[1], hf.dew_point("25 degC", 0.405), 0.05, "2.5 % point of 40 to 60 %")
    local cut = assert(hf.uncertainty("dew_point", { temperature = "25 degC", humidity = "50 %",
      spread = { humidity = { "10 %", low = "50 %" } }, draws = 4096 }))
    assert(cut.low >= hf.dew_point("25 degC", 0.5) - 1e-9)
    local one = assert(hf.uncertainty("regain", { humidity = "65 %", spread = { humidity = "5 %" }, parameters = false }))
    t.equal(one.inputs, 1)
  end)
  t.test("the same seed, the same draws", function()
    local a = hf.uncertainty("regain", { humidity = "65 %", seed = 4 })
    local b = hf.uncertainty("regain", { humidity = "65 %", seed = 4 })
    local c = hf.uncertainty("regain", { humidity = "65 %", seed = 5, method = "random" })
    for i = 1, 1024 do
      assert(a.values[i] == b.values[i])
    end
    assert(a.values[1] ~= c.values[1])
    t.equal(c.method, "random")
    t.close(a.median, c.median, 5 * c.error[3])
  end)
  t.test("where sources disagree, both stand there, each with its source", function()
    -- quantity, conditions, source, what that source prints, half a unit of its last digit
    for _, case in ipairs {
      { "tensile_modulus_in_air", { humidity = "65 %" }, "menkart1966", 5.39e9, 0.05e9 },
      { "tensile_modulus_in_air", { humidity = "100 %" }, "menkart1966", 2.06e9, 0.05e9 },
      { "tensile_modulus_in_air", { humidity = "100 %" }, "beard1983", 1.55e9, 0.005e9 },
      { "yield_stress", { humidity = "100 %" }, "beard1983", 43e6, 0.5e6 },
      { "break_stress", { humidity = "65 %" }, "menkart1966", 196e6, 5e6 },
      { "break_stress", { humidity = "100 %" }, "breakstress-rh2021", 180e6, 0.5e6 },
      { "break_strain", { humidity = "100 %" }, "menkart1966", 0.51, 0.005 },
      { "shear_modulus", { humidity = 0 }, "harper2007", 1.5e9, 0.05e9 },
      { "tryptophan_remaining", { temperature = "132 degC", duration = "10 min" }, "mcmullen1998-ii", 0.60, 0.005 },
      { "tryptophan_remaining", { temperature = "152 degC", duration = "10 min" }, "mcmullen1998-ii", 0.35, 0.005 },
      { "thiol_reduction_rate", { concentration = "0.6 mol/L", ph = 8.6 }, "reduction-rate2015", 0.13 / 60, 0.005 / 60 },
      -- the line printed with the points: 100 exp(-0.069 n) %
      { "helix_after_bleaching", { treatments = 3 }, "wortmann2002", math.exp(-3 * 0.069), 1e-9 },
      -- two laws of time: four times the time is twice or four times the loss
      { "half_cystine_bleached", { duration = "4 h", law = "steady" }, "suzuta", 2 * hf.half_cystine_bleached "1 h", 1e-9 },
      { "half_cystine_bleached", { duration = "4 h" }, "gillece2021",
        1 - (1 - hf.half_cystine_bleached { duration = "1 h", law = "steady" }) ^ 4, 0.01 },
      -- half-life by both: alike everywhere, and behind a front (wickett-ch5: 123 s)
      { "disulfide_reduced", { concentration = "1 mol/L", duration = "123 s" }, "reduction-front1994", 0.5, 0.005 },
    } do
      local found
      for _, rival in ipairs(hf.rivals(case[1], case[2])) do
        if rival.source == case[3] then
          found = rival
        end
      end
      assert(found, case[1] .. " does not tell of " .. case[3])
      t.close(found.value, case[4], case[5], case[1] .. " " .. case[3])
      assert(#found.text > 5 and core.source(found.source))
      -- and the answer itself is another one
      local own = hf[case[1]](case[2])
      assert(math.abs(own - found.value) > 1e-6 * own or case[3] == "reduction-front1994", case[1])
    end
    -- other laboratories had virgin hair: of bleached hair they say nothing
    for _, rival in ipairs(hf.rivals("break_stress", { humidity = "65 %", set = "bleached" })) do
      t.equal(rival.value, nil)
    end
    t.equal(#hf.rivals("helix_after_bleaching", { treatments = 0 }), 0)
  end)
  t.test("rivals are listed, not averaged", function()
    local list = hf.rivals("helix_rate", { temperature = "200 degC", regain = "2 %" })
    t.equal(#list, 4)
    for _, rival in ipairs(list) do
      if rival.quantity == "helix_rate_ironing" then
        t.close(rival.value, 5.13e-4, 1e-9, "thermochimica2018")
      end
    end
    local u = hf.uncertainty("helix_rate", { temperature = "200 degC", regain = "2 %" })
    t.says(u:text(), { "never averaged", "thermochimica2018" })
    t.equal(#hf.rivals("moisture_content", { regain = 0.1 }), 0)
    t.equal(hf.rivals("regain", { humidity = 0.65 })[1].text, "the desorption branch")
  end)
  t.test("sensitivity ranks", function()
    local s = assert(hf.sensitivity("regain", { humidity = "65 %", temperature = "60 degC", spread = { humidity = "3 %" } }))
    t.equal(s.input[1], "sorption.scale")
    for i = 2, #s do
      assert(s.total[i] <= s.total[i - 1])
    end
    assert(s.total_low[1] < s.total[1] and s.total[1] < s.total_high[1])
    local path = t.folder .. "/s.csv"
    assert(s:save(path))
    t.says(core.read(path), { "input,total_fraction", "sorption.scale" })
    assert(s:save(t.folder .. "/s.json"))
    t.says(core.read(t.folder .. "/s.json"), { '"options":{', '"seed":1' })
    t.says(s:plot { title = "Ranked" }:csv(), { "sorption.scale" })
    local m = assert(hf.sensitivity("regain", { humidity = "65 %", method = "morris", tours = 20 }))
    t.equal(m.input[1], "sorption.scale")
    t.says(m:plot():csv(), { "sorption.scale" })
    t.raises({ "plot has no option" }, m.plot, m, { titel = "x" })
  end)
  t.test("mistakes in calls", function()
    t.raises({ "did you mean \"humidity\"" }, hf.uncertainty, "regain", { humidty = 0.5 })
    t.raises({ "spread: regain has no argument", "did you mean \"humidity\"" }, hf.uncertainty, "regain",
      { humidity = 0.5, spread = { humidty = 0.1 } })
    t.raises({ "branch is a choice" }, hf.uncertainty, "regain", { humidity = 0.5, spread = { branch = 1 } })
    t.raises({ "distribution may be normal, lognormal, uniform or triangular" }, hf.uncertainty, "regain",
      { humidity = 0.5, spread = { humidity = { 0.1, distribution = "flat" } } })
    t.raises({ "draws must be a whole number" }, hf.uncertainty, "regain", { humidity = 0.5, draws = 3 })
    t.raises({ "method may be sobol or random" }, hf.uncertainty, "regain", { humidity = 0.5, method = "halton" })
    t.raises({ "one value here" }, hf.uncertainty, "regain", { humidity = { 0.5, 0.6 } })
    t.raises({ "give the conditions by name" }, hf.uncertainty, "regain", { 0.5 })
    t.raises({ "needs its size first" }, hf.uncertainty, "regain", { humidity = 0.5, spread = { humidity = {} } })
    t.equal(select(3, hf.uncertainty("saturation_pressure", { temperature = "100 K" })), "range")
    t.equal(select(3, hf.sensitivity("hygral_fatigue", {})), "no-model")
    t.equal(select(3, hf.sensitivity("moisture_content", { regain = 0.1 })), "data")
    t.equal(select(2, hf.uncertainty("internal_vapour_pressure", { temperature = "180 degC", regain = "10 %" })),
      "extrapolated")
  end)

  -- ---- ensembles ----------------------------------------------------------------------------------------

  local function plan(more)
    local p = { population = "asian", strands = 24, seed = 8, lumped = true, cells = 20, progress = false, treatment = {
      hf.soak { duration = "1 min" }, hf.blot {}, hf.plates { temperature = "150 degC", duration = "0.5 s" } } }
    for key, x in pairs(more or {}) do
      p[key] = x
    end
    return p
  end
  local function same_files(a, b)
    for _, ending in ipairs { ".csv", ".json" } do
      t.equal(core.read(t.folder .. "/" .. a .. ending), core.read(t.folder .. "/" .. b .. ending), a .. ending)
    end
  end

  t.test("draws of a treatment are those of an ensemble, rivals beside them", function()
    local steps = plan().treatment
    local u = assert(hf.uncertainty { treatment = steps, answer = "void_growth", draws = 40, lumped = true, cells = 20, seed = 8 })
    local e = assert(hf.ensemble { treatment = steps, strands = 40, parameters = true, lumped = true, cells = 20, seed = 8,
      progress = false })
    for i, x in ipairs(e.void_growth) do
      t.equal(u.values[i], x)
    end
    t.equal(u.median, e:percentiles("void_growth").value[3])
    assert(u.low < u.low_half and u.low_half < u.median and u.median < u.high_half and u.high_half < u.high)
    -- With nothing drawn: one treatment of the usual fibre.
    local one = assert(hf.treat(hf.fibre {}, steps, { lumped = true, cells = 20, tolerance = 1e-4, samples = 8 }))
    t.close(u.value, one.void_growth[#one], 1e-12)
    -- A rival is the same treatment with that law.
    local slow = assert(hf.treat(hf.fibre { law = "exponential" }, steps, { lumped = true, cells = 20, tolerance = 1e-4,
      samples = 8 }))
    local found
    for _, rival in ipairs(u.rivals) do
      assert(rival.source and rival.text and (rival.value or rival.reason))
      if rival.source == "king1944" then
        found = rival.value
      end
    end
    t.close(found, slow.void_growth[#slow], 1e-12)
    t.says((u:text():gsub("%s+", " ")), { "never averaged", "king1944", "draw parameters yes", "seed 8" })
    -- Nothing but the section moves when parameters are exact.
    local still = assert(hf.uncertainty { treatment = steps, answer = "void_growth", draws = 16, lumped = true, cells = 20,
      parameters = false })
    t.equal(still.low, still.high)
    t.raises({ "did you mean \"void_growth\"" }, hf.uncertainty, { treatment = steps, answer = "void_grow" })
    t.raises({ "answer is missing" }, hf.uncertainty, { treatment = steps })
    t.raises({ "treatment is missing" }, hf.uncertainty, { answer = "voids" })
    t.raises({ "did you mean \"draws\"" }, hf.uncertainty, { treatment = steps, answer = "voids", draw = 5 })
  end)
  t.test("what decides a treatment", function()
    local s = assert(hf.sensitivity { treatment = plan().treatment, answer = "break_force", population = "asian", lumped = true,
      cells = 20, method = "sobol", samples = 64, parameters = false })
    t.equal(#s, 4)
    t.equal(s.input[1], "area")
    t.equal(s.input[2], "strength of the strand")
    t.equal(s.total[3], 0)
    t.says(s:plot():csv(), { "area" })
    local m = assert(hf.sensitivity { treatment = plan().treatment, answer = "void_growth", lumped = true, cells = 20, tours = 3 })
    assert(#m > 60)
    for i = 2, #m do
      assert(m.size[i] <= m.size[i - 1])
    end
    t.says((m:text():gsub("%s+", " ")), { "inputs have no influence here", "method morris, seed 1, tours 3, levels 4" })
    t.equal(select(3, hf.sensitivity { treatment = plan().treatment, answer = "voids_at", lumped = true, cells = 20, tours = 2 }), "data")
  end)
  t.test("strands that break", function()
    local e = assert(hf.ensemble(plan { pull = "0.9 N", strands = 200 }))
    local share, low, high = e:share("breaks")
    local events = 0
    for i, x in ipairs(e.breaks) do
      t.equal(x, 0.9 > e.break_force[i] and 1 or 0)
      events = events + x
    end
    t.close(share, events / 200, 1e-15)
    assert(low < share and share < high)
    local none, message, code = hf.ensemble(plan()):share("breaks")
    t.equal(none, nil)
    t.equal(code, "data")
    t.says(message, { "no pull was asked for" })
    t.says(select(2, hf.ensemble(plan { pull = "-1 N" })), { "pull = -1" })
    t.raises({ "pull" }, hf.ensemble, plan { pull = "3 K" })
  end)
  t.test("threads and parts change nothing", function()
    assert(hf.ensemble(plan { threads = 1 }):save(t.folder .. "/one.csv"))
    assert(hf.ensemble(plan { threads = 3 }):save(t.folder .. "/three.csv"))
    same_files("one", "three")
    local names = {}
    for part = 1, 3 do
      names[part] = t.folder .. "/part" .. part .. ".csv"
      local e = assert(hf.ensemble(plan { part = part .. "/3", save = names[part] }))
      t.equal(#e, 8)
      t.equal(e.strand[1], 8 * part - 7)
      assert(e.complete)
    end
    names[1], names[3] = names[3], names[1]
    local joined = assert(hf.merge(names))
    assert(joined.complete)
    assert(joined:save(t.folder .. "/joined.csv"))
    same_files("one", "joined")
    t.equal(joined:provenance().digest, hf.parameters():digest())
    local partial = assert(hf.merge { names[1], names[2], names[1] })
    t.equal(#partial, 16)
    assert(not partial.complete)
    t.says(partial:text(), { "16 of 24 strands are done" })
  end)
  t.test("resume goes on from what is there", function()
    local path = t.folder .. "/resume.csv"
    assert(hf.ensemble(plan { resume = path, save = path }), "no file yet: from the start")
    -- Half of the rows, as an interrupted run leaves them.
    local lines = {}
    for line in core.read(path):gmatch("[^\n]+") do
      lines[#lines + 1] = line
    end
    local kept = {}
    for i, line in ipairs(lines) do
      kept[#kept + 1] = (i <= 2 or i % 2 == 0) and line or nil -- the comment and the names first
    end
    core.write(path, table.concat(kept, "\n") .. "\n")
    local e = assert(hf.ensemble(plan { resume = path, save = path }))
    assert(e.complete)
    same_files("one", "resume")
    local none, message, code = hf.ensemble(plan { resume = path, seed = 9 })
    t.equal(none, nil)
    t.equal(code, "data")
    t.says(message, { "belongs to another ensemble: their seeds differ" })
    t.says(select(2, hf.ensemble(plan { resume = path, lumped = false })), { "treatments, fibres or options differ" })
    t.says(select(2, hf.ensemble(plan { resume = path, set = "bleached" })), { "their sets differ" })
    core.write(path, lines[1] .. "\n" .. lines[2] .. "\n" .. lines[3]:gsub("ok", "oh") .. "\n")
    t.says(select(2, hf.ensemble(plan { resume = path })), { "line 3", "\"oh\" is no number" })
    core.write(path, lines[2] .. "\n1,ok,3\n")
    t.says(select(2, hf.ensemble(plan { resume = path })), { "line 2 has 3 cells" })
    -- Killed between the first two writings: rows, but nothing that says where they come from.
    assert(hf.ensemble(plan { save = path }))
    os.remove((path:gsub("csv$", "json")))
    assert(hf.ensemble(plan { resume = path, save = path }).complete)
    same_files("one", "resume")
    core.write(path, "strand,status\n")
    t.says(select(2, hf.ensemble(plan { resume = path })), { "strands of this version" })
  end)
  t.test("parts that do not belong together are refused", function()
    local a, b = t.folder .. "/a.csv", t.folder .. "/b.csv"
    assert(hf.ensemble(plan { part = "1/2", save = a }))
    assert(hf.ensemble(plan { part = "2/2", save = b, seed = 9 }))
    local none, message, code = hf.merge { a, b }
    t.equal(none, nil)
    t.equal(code, "data")
    t.says(message, { "does not belong to", "their seeds differ" })
    -- The same strand with other numbers.
    local text = core.read(a)
    core.write(b, (text:gsub("\n1,ok,(%d)", "\n1,ok,9%1")))
    core.write(t.folder .. "/b.json", core.read(t.folder .. "/a.json"))
    t.says(select(2, hf.merge { a, b }), { "strand 1 is in two files with different numbers" })
    t.equal(select(3, hf.merge { t.folder .. "/none.csv" }), "file")
    core.write(t.folder .. "/b.json", "{}")
    t.says(select(2, hf.merge { b }), { "does not tell where an ensemble comes from" })
    t.raises({ "list of files" }, hf.merge, {})
  end)
  t.test("summaries", function()
    local e = assert(hf.ensemble(plan()))
    local p = e:percentiles("diameter")
    t.equal(p.n, 24)
    local sorted = table.move(e.diameter, 1, 24, 1, {})
    table.sort(sorted)
    t.close(p.value[3], 0.5 * (sorted[12] + sorted[13]), 1e-18)
    local share, low, high = e:share("voids")
    local events = 0
    for _, x in ipairs(e.voids) do
      events = events + x
    end
    t.close(share, events / 24, 1e-15)
    assert(low <= share and share <= high)
    t.says(e:summary():text(), { "voids ", "void_growth", "24 strands" })
    t.raises({ "no column of 0 and 1" }, e.share, e, "diameter")
    t.raises({ "did you mean \"void_growth\"" }, e.percentiles, e, "void_grwth")
    t.says(core.read(t.folder .. "/one.json"), { '"schedule":"', '"seed":8', '"population":"asian"', '"cells":20' })
  end)
  t.test("plans", function()
    local e = assert(hf.ensemble(plan { population = { area = "4000 um2", ellipticity = 1.3 }, strands = 3 }))
    t.close(e.diameter[2], math.sqrt(4 * 4e-9 / math.pi), 1e-12, "no spread was given")
    t.close(e.ellipticity[2], 1.3, 0)
    local fixed = plan { strands = 3, fibre = hf.fibre { diameter = "80 um" } }
    fixed.population = nil
    e = assert(hf.ensemble(fixed))
    t.close(e.diameter[3], 80e-6, 1e-14)
    t.equal(e.void_growth[1], e.void_growth[3])
    fixed.parameters = true
    e = assert(hf.ensemble(fixed))
    assert(e.void_growth[1] ~= e.void_growth[3])
    t.raises({ "did you mean \"asian\"" }, hf.ensemble, plan { population = "asin" })
    t.raises({ "did you mean \"lumped\"" }, hf.ensemble, plan { lumpd = true })
    t.raises({ "part must look like" }, hf.ensemble, plan { part = "3/2" })
    t.raises({ "strands is missing" }, hf.ensemble, { treatment = {} })
    t.raises({ "treatment is missing" }, hf.ensemble, { strands = 3 })
    t.raises({ "step 1 is no step" }, hf.ensemble, { strands = 3, treatment = { 5 } })
    t.raises({ "hf.fibre" }, hf.ensemble, plan { fibre = {} })
    t.raises({ "area is missing" }, hf.ensemble, plan { population = {} })
    t.raises({ "ends in .csv" }, hf.ensemble, plan { save = "x.txt" })
    t.equal(select(3, hf.ensemble(plan { within_head = "90 %" })), "range")
    t.equal(select(3, hf.ensemble(plan { cells = 2 })), "range")
    assert(#require("hairfibre.ensemble").populations() == 3)
  end)
end
