-- Damage channels of a treatment as a table and a picture, the state of the sulfur, the Arrhenius fan.
local hf = require "hairfibre"
local core = require "hairfibre.core"

local function bleached_and_pressed(set)
  return assert(hf.treat(hf.fibre { humidity = "50 %", set = set }, {
    hf.bleach { duration = "30 min", ph = 10, peroxide = "6 %", temperature = "30 degC" }, hf.rinse { duration = "1 min" },
    hf.blot {}, hf.air { duration = "20 min", temperature = "25 degC" },
    hf.plates { temperature = "190 degC", duration = "2 s" } }, { lumped = true, cells = 20 }))
end

local function data_of(path)
  local file = assert(io.open(path))
  local text = file:read "a"
  file:close()
  return text
end

return function(t)
  t.test("table of the channels", function()
    local r = bleached_and_pressed()
    local channels = r:channels()
    local rows = {}
    for _, row in channels:rows() do
      rows[row.channel] = row
    end
    for _, channel in ipairs(hf.channels()) do
      local row, left = rows[channel.name], r[(channel.name:gsub(" ", "_"))]
      t.equal(row.value, left[#left], channel.name)
      t.equal(row.supported_from, channel.low)
      t.equal(row.supported_to, channel.high)
      t.equal(row.is, "share left")
    end
    -- what calorimetry and irons of others gave, kJ/mol: wortmann2012 (abstract), mcmullen1998 (6.6 kcal/mol)
    t.close(rows.helix.energy, 263e3, 0)
    t.close(rows["helix dry"].energy, 416e3, 0)
    t.close(rows.tryptophan.energy, 6.6 * 4184, 1)
    t.says(rows.tryptophan.energy_from, { "mcmullen1998", "published" })
    t.equal(rows.disulfide.value, r.disulfide[#r])
    t.equal(rows["void growth"].value, r.void_growth[#r])
    t.equal(rows["swelling cycles"].value, r.swelling_cycles[#r])
    local text = channels:text()
    t.says((text:gsub("%s+", " ")), { "no sum, no share of strength", "fatigue used", "reagents" })
    for line in text:gmatch("[^\n]+") do
      assert(utf8.len(line) <= 80, line)
    end
    -- an energy of one's own moves its channel and says whose it is
    local set = hf.parameters("virgin", { ["rate.helix.wet.energy"] = "250 kJ/mol" })
    local other = bleached_and_pressed(set):channels()
    t.close(other.energy[1], 250e3, 0)
    t.says(other.energy_from[1], { "set by the user" })
    assert(other.value[1] ~= rows.helix.value)
  end)
  t.test("the sulfur adds up to what was there", function()
    local r = bleached_and_pressed()
    local sulfur, total = r:sulfur(), 0
    for _, name in ipairs { "cystine", "thiol", "cysteic", "lanthionine" } do
      assert(sulfur[name] >= 0, name)
      total = total + sulfur[name]
    end
    local set = core.parameters()
    -- half-cystine is counted once, however it is bound
    t.close(total, set:get "bond.disulfide.half_cystine", 1e-12)
    t.close(sulfur.cysteic, r.cysteic_acid[#r], 1e-15)
    assert(sulfur.cysteic > set:get "bond.disulfide.cysteic")
    -- untouched hair keeps all of it
    local rest = hf.treat(hf.fibre {}, { hf.rest { duration = "1 s" } }, { lumped = true, cells = 20 }):sulfur()
    t.close(rest.cysteic, set:get "bond.disulfide.cysteic", 1e-15)
    t.equal(rest.thiol, 0)
    -- a perm: some thiol before the neutraliser, less after it, the sum as before
    local wave = assert(hf.treat(hf.fibre {}, { hf.reduce { duration = "5 min", ph = 9.4, concentration = "1 mol/L",
      temperature = "23 degC" } }, { lumped = true, cells = 20 }))
    local fixed = assert(hf.treat(wave, { hf.rinse { duration = "1 min" }, hf.neutralise { duration = "5 min" } }))
    local open, shut = wave:sulfur(), fixed:sulfur()
    assert(open.thiol > shut.thiol and shut.thiol > 0 and shut.cystine > open.cystine)
    t.close(open.cystine + open.thiol + open.cysteic, shut.cystine + shut.thiol + shut.cysteic, 1e-12)
  end)
  t.test("picture of the channels", function()
    local r = bleached_and_pressed()
    local path = t.folder .. "/channels.svg"
    assert(r:channel_plot { title = "Wefts" }:save(path))
    local svg, numbers = data_of(path), data_of(t.folder .. "/channels.csv")
    for _, channel in ipairs(hf.channels()) do
      t.says(svg, { channel.name })
    end
    t.says(svg, { "(rival)", "disulfide", "Wefts", "Left (%)", "no share of strength" })
    t.says(numbers, { "tryptophan" })
    -- from a step on, the time starts there
    assert(r:channel_plot { step = 5, style = "print" }:save(path))
    t.says(data_of(path), { "step 5" })
    t.raises({ "takes no y" }, r.channel_plot, r, { y = "helix" })
    t.raises({ "number of a step" }, r.channel_plot, r, { step = 9 })
  end)
  t.test("Arrhenius fan", function()
    local path = t.folder .. "/fan.svg"
    for _, style in ipairs { "projector", "print", "paper" } do
      assert(hf.arrhenius_fan { style = style, regain = "8 %" }:save(path))
    end
    local svg, numbers = data_of(path), data_of(t.folder .. "/fan.csv")
    t.says(svg, { "helix, wet", "tryptophan", "56 to", "never added", "Bench samples", "160 °C" })
    t.says(numbers, { "tryptophan" })
    -- the slopes are energies: ln k against 1/T between two temperatures, 8.314462618 J/(mol K)
    local low, high = 410.0, 430.0
    for name, energy in pairs { helix_rate_wet = 263e3, helix_rate_dry = 416e3, tryptophan_rate = 6.6 * 4184 } do
      local slope = math.log(hf[name] { temperature = high } / hf[name] { temperature = low }) / (1 / low - 1 / high)
      t.close(8.314462618 * slope, energy, 1e-3 * energy, name)
    end
    -- tryptophan: McMullen and Jachowicz, 164 over 130 degC: 1.898 with 6.6 kcal/mol
    t.close(hf.tryptophan_rate "164 degC" / hf.tryptophan_rate "130 degC", 1.898, 0.002)
    t.raises({ "did you mean \"regain\"" }, hf.arrhenius_fan, { regan = 0.1 })
    t.raises({ "low below high" }, hf.arrhenius_fan, { low = "200 degC", high = "150 degC" })
    t.raises({ "no unit" }, hf.arrhenius_fan, { low = "200" })
    t.raises({ "points" }, hf.arrhenius_fan, { points = 1 })
    t.raises({ "nylon" }, hf.arrhenius_fan, { set = "nylon" })
  end)
  t.test("cautions follow the steps", function()
    local function caution(...)
      return hf.treat(hf.fibre {}, { ... }, { lumped = true, cells = 20 }).caution
    end
    local bath = hf.bath { duration = "1 s", ph = 5 }
    t.says(caution(bath), { "Reagents" })
    t.says(caution(hf.plates { temperature = "150 degC", duration = "0.1 s" }), { "Hot tools" })
    t.says(caution(bath, hf.plates { temperature = "150 degC", duration = "0.1 s" }), { "Hot tools, steam and reagents" })
    local after = hf.treat(hf.treat(hf.fibre {}, { bath }, { lumped = true, cells = 20 }), { hf.rest { duration = "1 s" } })
    t.says(after.caution, { "eagents" })
  end)
  t.test("pulls use fatigue life, more of it in a wet fibre, none where no life was read", function()
    local quick = { lumped = true, cells = 20, profiles = false }
    local pulls = hf.pull { duration = "10 min", cycles = 500, stress = "100 MPa" }
    local dry = assert(hf.treat(hf.fibre {}, { pulls }, quick))
    local wet = assert(hf.treat(hf.fibre {}, { hf.soak { duration = "10 min" }, hf.blot {}, pulls }, quick))
    -- evans-fatigue: lives fall with humidity, some thirty times from 60 to 90 %
    assert(wet.fatigue_used[#wet] > 3 * dry.fatigue_used[#dry])
    local known = hf.fatigue_used(500, "100 MPa", "65 %")
    assert(dry.fatigue_used[#dry] < known and dry.fatigue_used[#dry] > hf.fatigue_used(500, "100 MPa", "50 %"))
    local list = dry:channels()
    t.equal(list.channel[#list], "fatigue used")
    t.equal(list.value[#list], dry.fatigue_used[#dry])
    t.says(table.concat(wet.notes, " "), { "Pulls went beyond" })
    assert(not table.concat(dry.notes, " "):find("Pulls"))
    t.says(dry.settings[#dry.settings][2], { "pull: duration", "cycles 500", "stress 100 MPa" })
    t.raises({ "pull: cycles is missing" }, hf.pull, { duration = "1 s", stress = "100 MPa" })
    local none, message, code = hf.treat(hf.fibre { set = "bleached" }, { pulls }, quick)
    t.equal(none, nil)
    t.equal(code, "no-model")
    t.says(message, { "step 1, pull", "no validated model" })
  end)
  t.test("reagents out of order are allowed and explained; what cannot be is refused in a sentence", function()
    local quick = { lumped = true, cells = 20 }
    local reduce = hf.reduce { duration = "5 min", ph = 9.4, concentration = "1 mol/L" }
    local r = assert(hf.treat(hf.fibre {}, { hf.neutralise { duration = "1 min" }, reduce }, quick))
    t.equal(r.events[2].what, "nothing to do")
    t.says(table.concat(r.notes, "\n"), { "Step 1 found nothing to react with", "reduction" })
    local plain = assert(hf.treat(hf.fibre {}, { hf.rinse { duration = "1 min" }, reduce }, quick))
    t.close(r:sulfur().thiol, plain:sulfur().thiol, 1e-9)
    -- in the right order there is nothing to explain
    assert(not table.concat(plain.notes):find("nothing to react"))
    for _, case in ipairs {
      { hf.bath { duration = "1 min", ph = 15 }, "range", { "bath: ph = 15", "between 0 and 14" } },
      { hf.bath { duration = "1 min", ph = -1 }, "range", { "ph = -1" } },
      { hf.bath { duration = "1 min", ph = 0 / 0 }, "invalid", { "ph" } },
      { hf.bath { duration = "1 min", ph = 13 }, "no-model", { "no validated model at pH 13", "lanthionine" } },
      { hf.reduce { duration = "1 min", ph = 9, concentration = "-1 mol/L" }, "range", { "concentration = -1000 mol/m3" } },
      { hf.reduce { duration = "1 min", ph = 9, concentration = "50 mol/L" }, "range", { "between 0 and 3000" } },
      { hf.bleach { duration = "1 min", ph = 10, peroxide = "80 %" }, "range", { "peroxide = 0.8", "0.35" } },
      { hf.bath { duration = "1 min", ph = 7, ionic_strength = "9 mol/L" }, "range", { "ionic_strength = 9000" } },
      { hf.bath { duration = "1 min", ph = 7, temperature = "120 degC" }, "range", { "temperature" } },
    } do
      local none, message, code = hf.treat(hf.fibre {}, { case[1] }, quick)
      t.equal(none, nil)
      t.equal(code, case[2], message)
      t.says(message, case[3])
    end
  end)
end
