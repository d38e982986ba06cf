-- Fitted numbers as a parameter set: rows, covariance, files, draws.
local hf = require "hairfibre"
local core = require "hairfibre.core"

-- GAB points of both branches, without errors but for a pattern of 0.1 %.
local function points()
  local x, y, group = {}, {}, {}
  for branch, p in pairs { absorption = { 0.09, 11, 0.72 }, desorption = { 0.107, 10, 0.67 } } do
    for i = 1, 12 do
      local a = 0.08 * i - 0.03
      local k = p[3] * a
      x[#x + 1], group[#x + 1] = a, branch
      y[#y + 1] = p[1] * p[2] * k / ((1 - k) * (1 + (p[2] - 1) * k)) + 0.001 * (i * 7 % 5 - 2)
    end
  end
  return x, y, group
end

return function(t)
  local x, y, group = points()
  local f = assert(hf.fit { model = "gab", x = x, y = y, group = group })
  t.test("rows of both branches, with the covariance of the fit", function()
    local set = assert(f:parameter_set { name = "wefts" })
    t.equal(set:name(), "wefts")
    t.equal(set:base(), "virgin")
    t.equal(set:get "sorption.absorption.c", f:value "c[absorption]")
    t.equal(set:get "sorption.scale", 1)
    local row = set:row "sorption.desorption.k"
    t.close(row.spread, f.parameters["k[desorption]"].standard_error, 1e-12)
    t.equal(row.distribution, "normal")
    assert(row.fitted)
    local fitted = set:fitted()
    t.equal(#fitted.names, 6)
    t.says(fitted.label, { "fit of gab", "24 points" })
    t.equal(set:row("sorption.scale").distribution, "fixed")
  end)
  t.test("the uncertainty of an answer is that of the curve", function()
    local set = assert(f:parameter_set {})
    local u = assert(hf.uncertainty("regain", { humidity = 0.65, temperature = "25 degC", set = set, draws = 8192 }))
    local band = f:bands { x = { 0.65 }, group = "absorption" }
    local dof = core.statistics.t_quantile(0.975, f.degrees_of_freedom)
    local spread = (band.confidence_high[1] - band.confidence_low[1]) / 2 / dof
    t.close(u.median, band.regain[1], 4e-5)
    t.close((u.high - u.low) / 2, 1.959964 * spread, 0.05 * 1.96 * spread, "delta method against draws")
    -- without the correlations it would be several times as wide
    local loose = hf.parameters()
    local fitted, flat = set:fitted(), {}
    for i = 1, 6 do
      for j = 1, 6 do
        flat[#flat + 1] = i == j and fitted.covariance[(i - 1) * 6 + j] or 0
      end
    end
    loose:set_fitted(fitted.names, fitted.values, flat, "loose")
    loose:set("sorption.scale", 1)
    local wide = assert(hf.uncertainty("regain", { humidity = 0.65, temperature = "25 degC", set = loose, draws = 4096 }))
    assert(wide.high - wide.low > 2 * (u.high - u.low))
  end)
  t.test("the temperature of the measurement", function()
    local set = assert(f:parameter_set { temperature = "40 degC" })
    local direct = f:bands { x = { 0.5 }, group = "absorption" }.regain[1]
    t.close(hf.regain { humidity = 0.5, temperature = "40 degC", set = set }, direct, 1e-12)
    assert(math.abs(hf.regain { humidity = 0.5, temperature = "25 degC", set = set } - direct) > 1e-4)
  end)
  t.test("a file and back: the same digest, from every door", function()
    local path = t.folder .. "/wefts.json"
    assert(f:save_set(path, { name = "wefts" }))
    local set = assert(hf.parameters(path))
    t.equal(set:digest(), (f:parameter_set { name = "wefts" }):digest())
    t.equal(set:name(), "wefts")
    t.equal(hf.regain { humidity = 0.65, set = path }, hf.regain { humidity = 0.65, set = set })
    assert(hf.parameters("bleached", { ["diffusion.wet"] = 3e-12 }):save(path))
    set = assert(hf.parameters(path))
    t.equal(set:base(), "bleached")
    t.equal(set:get "diffusion.wet", 3e-12)
    t.equal(set:fitted(), nil)
  end)
  t.test("one branch, and the other form of the same curve", function()
    local xs, ys = {}, {}
    for i, branch in ipairs(group) do
      if branch == "absorption" then
        xs[#xs + 1], ys[#ys + 1] = x[i], y[i]
      end
    end
    local gab = assert(hf.fit { model = "gab", x = xs, y = ys })
    local hh = assert(hf.fit { model = "hailwood_horrobin", x = xs, y = ys })
    t.raises({ "which branch" }, gab.parameter_set, gab)
    local a, b = assert(gab:parameter_set { branch = "absorption" }), assert(hh:parameter_set { branch = "absorption" })
    local names = { "monolayer", "c", "k" }
    for _, name in ipairs(names) do
      local one, other = a:row("sorption.absorption." .. name), b:row("sorption.absorption." .. name)
      t.close(other.value, one.value, 1e-6 * one.value, name)
      t.close(other.spread, one.spread, 1e-4 * one.spread, "spread of " .. name)
    end
  end)
  t.test("named rows, and ln A to log10 A", function()
    local rates, temperatures = {}, {}
    for i = 1, 8 do
      temperatures[i] = 380 + 8 * i
      rates[i] = math.exp(71 - 2.63e5 / (8.314462618 * temperatures[i])) * (1 + 0.02 * (i * 3 % 5 - 2))
    end
    local k = assert(hf.fit { model = "arrhenius_log", x = temperatures, y = rates })
    local set = assert(k:parameter_set { as = { activation_energy = "rate.helix.wet.energy",
      log_prefactor = "rate.helix.wet.log10_frequency" } })
    t.close(set:get "rate.helix.wet.log10_frequency", k:value "log_prefactor" / math.log(10), 1e-12)
    t.close(set:row("rate.helix.wet.log10_frequency").spread, k.parameters.log_prefactor.standard_error / math.log(10), 1e-9)
    t.raises({ "which row" }, k.parameter_set, k)
    t.raises({ "no parameter of the catalogue", "rate.helix.wet.energy" }, k.parameter_set, k,
      { as = { activation_energy = "rate.helix.wet.enrgy" } })
    t.raises({ "is in J/mol" }, k.parameter_set, k, { as = { activation_energy = "diffusion.wet" } })
    -- the energy of the catalogue's tie is not moved twice: what the fit says of the rate at its middle stays
    local T = temperatures[4]
    local u = assert(hf.uncertainty("helix_rate_wet", { temperature = T, set = set, draws = 4096 }))
    local band = k:bands { x = { T } }
    local half = band.confidence_high[1] - band["ln_rate"][1]
    local t975 = core.statistics.t_quantile(0.975, k.degrees_of_freedom)
    t.close((math.log(u.high) - math.log(u.low)) / 2, 1.96 * half / t975, 0.06 * half)
  end)
  t.test("what is not determined goes into no set", function()
    local g = hf.fit { model = "gab", x = { 0.1, 0.2, 0.3, 0.4 }, y = { 0.03, 0.05, 0.06, 0.08 },
      bounds = { k = { 0, 0.2 } } }
    local none, message, code = g:parameter_set { branch = "absorption" }
    t.equal(none, nil)
    t.equal(code, "data")
    t.says(message, { "k has no standard error" })
  end)
  t.test("files that are no sets", function()
    local path = t.folder .. "/bad.json"
    for _, case in ipairs {
      { "[1, 2", "no JSON" }, { "{}", "a parameter set was expected" },
      { '{"format":"hairfibre parameters 1","base":"mud"}', "no set of parameters" },
      { '{"format":"hairfibre parameters 1","changed":[{"name":"diffusion.wet","value":1}]}', "outside the allowed range" },
      { '{"format":"hairfibre parameters 1","changed":[{"name":"diffusion.mud","value":1}]}', "diffusion.mud" },
      { '{"format":"hairfibre parameters 1","fitted":{"rows":[],"covariance":[]}}', "1 to 20 rows" },
      { '{"format":"hairfibre parameters 1","fitted":{"rows":[{"name":"diffusion.wet","value":3e-12}],"covariance":[[-1]]}}',
        "no covariance" },
      { '{"format":"hairfibre parameters 1","fitted":{"rows":[{"name":"diffusion.wet","value":3e-12}],"covariance":[["x"]]}}',
        "finite numbers" },
      { '{"format":"hairfibre parameters 1","name":7}', "\"name\"" },
    } do
      core.write(path, case[1])
      local none, message, code = hf.parameters(path)
      t.equal(none, nil, case[1])
      t.equal(code, "data")
      t.says(message, { case[2] })
    end
    t.equal(select(3, hf.parameters(t.folder .. "/none.json")), "file")
  end)
end
