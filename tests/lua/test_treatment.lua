-- Treatments through Lua: options, going on from a result, parts, profiles, pictures, files, stopping.
local hf = require "hairfibre"

return function(t)
  local fibre = hf.fibre { diameter = "70 um", humidity = "50 %" }
  local steps = { hf.soak { duration = "10 min" }, hf.blot {}, hf.plates { temperature = "200 degC", duration = "1 s" },
    hf.rest { duration = "20 s" } }
  local wet = assert(hf.treat(fibre, steps))

  t.test("a typo is named with its neighbour", function()
    t.raises({ "fibre", '"diametre"', "diameter" }, hf.fibre, { diametre = "70 um" })
    t.raises({ "plates", '"temprature"', "temperature" }, hf.plates, { temprature = "200 degC", duration = "1 s" })
    t.raises({ "plates: duration is missing" }, hf.plates, { temperature = "200 degC" })
    t.raises({ "treat", '"cell"', "cells" }, hf.treat, fibre, steps, { cell = 30 })
    t.raises({ "room", '"humidty"' }, hf.treat, fibre, steps, { room = { humidty = "50 %" } })
    t.raises({ "give humidity or regain" }, hf.fibre, { humidity = "50 %", regain = "10 %" })
    t.raises({ "give pressure or altitude" }, hf.treat, fibre, steps, { room = { pressure = "1 bar", altitude = "1 km" } })
    t.raises({ "step 1 is no step" }, hf.treat, fibre, { { duration = 1 } })
    t.raises({ "takes a list of steps" }, hf.treat, fibre, hf.rest { duration = 1 })
    t.raises({ "needs a fibre" }, hf.treat, {}, steps)
    t.raises({ "options belong to the first call" }, hf.treat, wet, steps, { cells = 30 })
  end)

  t.test("out of range comes back as nil, sentence, code", function()
    local r, message, code = hf.treat(hf.fibre { diameter = "5 um" }, steps)
    t.equal(r, nil)
    t.equal(code, "range")
    t.says(message, { "diameter = 5e-06 m" })
    r, message, code = hf.treat(fibre, { hf.plates { temperature = "300 degC", duration = "1 s" } })
    t.equal(r, nil)
    t.equal(code, "range")
    t.says(message, { "step 1, plates: temperature" })
  end)

  t.test("a result goes on where it ended, and the first stays", function()
    local first = assert(hf.treat(fibre, { steps[1], steps[2] }))
    local rows = #first
    local second = assert(hf.treat(first, { steps[3], steps[4] }))
    t.equal(#first, rows)
    t.equal(#second, #wet)
    for i = 1, #wet do
      assert(second.temperature[i] == wet.temperature[i] and second.void_growth[i] == wet.void_growth[i])
    end
    local other = assert(hf.treat(first, { hf.rest { duration = "1 h" } }))
    assert(other.void_growth[#other] == 0 and wet.void_growth[#wet] > 1)
  end)

  t.test("columns, events, statistics, grade", function()
    for _, name in ipairs { "time", "step", "regain", "regain_axis", "regain_surface", "temperature", "temperature_axis",
      "temperature_surface", "water_lost", "film", "pressure_axis", "diameter", "heat_flux", "water_flux", "void_growth",
      "void_radius", "glass_transition_axis", "denaturation_axis", "helix", "tryptophan" } do
      t.equal(#wet[name], #wet, name)
      assert(wet:column(name).unit and #wet:column(name).text > 2)
    end
    local seen = {}
    for _, event in ipairs(wet.events) do
      seen[event.what] = (seen[event.what] or 0) + 1
    end
    t.equal(seen["step begins"], 4)
    t.equal(seen["film gone"], 1)
    t.equal(seen["internal boiling"], 1)
    t.equal(seen["voids set in"], 1)
    assert(wet.statistics.water_error < 1e-10 and wet.statistics.energy_error < 1e-8)
    assert(wet.statistics.bytes < 1e6 and wet.statistics.steps > 50)
    t.equal(wet.grade, "many and large voids expected")
    t.equal(wet.extrapolated, true)
    t.says(wet:text(), { "Each damage channel stands by itself", "never a promise", "Above 150 °C", "never on a head" })
  end)

  t.test("parts count from the step", function()
    local pass = wet:since(3, 3)
    t.close(pass.time[1], 0, 0)
    t.close(pass.time[#pass], 1, 1e-9)
    t.equal(pass:column("time").text, "time since step 3 began")
    t.close(wet:since(4).time[#wet:since(4)], 20, 1e-9)
    t.raises({ "number of a step, 1 to 4" }, wet.since, wet, 5)
    local short = wet:between("600 s", "601 s")
    assert(short.time[1] >= 600 and short.time[#short] <= 601)
    t.raises({ "earlier first" }, wet.between, wet, "2 s", "1 s")
  end)

  t.test("profiles and cross-sections", function()
    local p = assert(wet:profiles({ "10 ms", "1 s" }, 3))
    t.equal(#p, 120)
    t.close(p.time[120], 1, 1e-9)
    for i = 2, 60 do
      assert(p.radius[i] > p.radius[i - 1])
    end
    assert(p.regain[61] > 0.2 and p.regain[120] < 0.05, "wet inside, dry outside")
    t.equal(#assert(wet:profiles { "601 s", "601 s" }), 60, "the same moment once")
    local figure = assert(wet:profile_plot { step = 3, times = { "10 ms", "0.1 s", "1 s" } })
    local csv = figure:csv()
    t.says(csv, { "radius_um,0_01_s_regain_percent", "0_1_s_regain", "1_s_regain" })
    assert(assert(wet:profile_plot { times = { "600.01 s", "600.1 s" }, value = "temperature" }):csv()
      :find("600_01_s", 1, true), "times are told apart")
    local rings = assert(wet:rings { step = 3, times = { "10 ms", "1 s" }, title = "A < B" })
    t.says(rings:svg(), { "A &lt; B", "0.01 s", "Regain (%)", "Above 150" })
    assert(wet:rings { value = "temperature" }:svg():find("Temperature (°C)", 1, true))
    t.raises({ "rings", '"tims"', "times" }, wet.rings, wet, { tims = 1 })
    t.raises({ 'not "water"' }, wet.rings, wet, { value = "water" })
    t.raises({ "empty list" }, wet.profile_plot, wet, { times = {} })
    t.raises({ "number of a step" }, wet.rings, wet, { step = 9 })
    local bare = assert(hf.treat(fibre, { hf.rest { duration = "1 s" } }, { profiles = false }))
    local none, message, code = bare:profiles "1 s"
    t.equal(none, nil)
    t.equal(code, "data")
    t.says(message, { "profiles were not kept" })
  end)

  t.test("a figure says what its columns need", function()
    local function note(...)
      return wet:plot { y = { ... } }:script()
    end
    local both = note("temperature_axis", "temperature_surface")
    t.says(both, { "Temperature" })
    assert(not both:find("never a promise", 1, true) and not both:find("share of strength", 1, true))
    t.says(note("void_growth"), { "never a promise" })
    t.says(note("helix"), { "share of strength" })
    t.raises({ "plot needs y" }, wet.plot, wet, {})
  end)

  t.test("several treatments in one figure", function()
    local dry = assert(hf.treat(fibre, { steps[3] }))
    local figure = hf.compare { wet = wet:since(3, 3), conditioned = dry, y = "void_growth" }
    t.says(figure:csv(), { "wet", "conditioned" })
    t.says(figure:script(), { "never a promise" })
    assert(dry.void_growth[#dry] < 0.5 * wet.void_growth[#wet])
    t.raises({ "two or more results" }, hf.compare, { wet = wet, y = "regain" })
    t.raises({ 'no column "regian"' }, hf.compare, { a = wet, b = dry, y = "regian" })
  end)

  t.test("files come back as they went", function()
    local path = t.folder .. "/wet.csv"
    assert(wet:save(path))
    local f = assert(io.open(path))
    local text = f:read "a"
    f:close()
    t.says(text, { "time_s", "temperature_axis_K", "helix" })
    assert(wet:save(t.folder .. "/wet.json"))
    f = assert(io.open(t.folder .. "/wet.json"))
    local document = require("dkjson").decode(f:read "a")
    f:close()
    t.equal(document.set, "virgin")
    t.equal(#document.columns, #wet.columns)
  end)

  t.test("a limit on the steps keeps what was computed", function()
    local r, message, code = hf.treat(fibre, steps, { max_steps = 60 })
    t.equal(code, "convergence")
    t.says(message, { "more integrator steps than allowed", " s in step 1" })
    assert(#r > 1 and r.regain[#r] > r.regain[1])
    t.says(r:text(), { "The computation stopped at", "so far is kept" })
  end)
end
