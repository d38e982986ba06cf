-- Damage along a history. At constant conditions every channel is a first-order loss, so n passes
-- leave the n-th power of one, and the channels agree with the closed forms.
local hf = require "hairfibre"
local core = require "hairfibre.core"

local function hold(T, w, passes)
  return hf.damage { time = { 0, "1 min", 120 }, temperature = T, regain = w, passes = passes }
end

return function(t)
  t.test("constant conditions", function()
    local r = assert(hold("150 degC", "0 %", { 1, 10 }))
    t.equal(#r, 2)
    t.equal(r.passes[2], 10)
    for _, channel in ipairs(hf.channels()) do
      local left = r[(channel.name:gsub(" ", "_"))]
      assert(left[1] > 0 and left[1] <= 1, channel.name)
      t.close(left[2], left[1] ^ 10, 1e-12, channel.name)
    end
    t.close(r.tryptophan[1], (hf.tryptophan_remaining("150 degC", "2 min")), 1e-12)
    t.close(r.helix_ironing[1], math.exp(-120 * hf.helix_rate_ironing("150 degC")), 1e-12)
  end)
  t.test("extrapolated channels are named", function()
    local r, word = hold("150 degC", 0, 1)
    t.equal(word, "extrapolated")
    t.says(r.extrapolated[1], { "helix_dry" })
    assert(not r.extrapolated[1]:find("tryptophan"))
    t.says(r.caution, { "Bench samples" })
    t.equal(#r.channels, #hf.channels())
  end)
  t.test("from a file", function()
    local path = t.folder .. "/log.csv"
    core.write(path, "time_s,temperature_degC,humidity_percent\n0,20,65\n10,200,65\n20,200,1\n")
    local r = assert(hf.damage { history = path, passes = 5, running = true })
    assert(r.helix[1] < 1)
    t.equal(#r.running, 3)
    t.equal(r.running.tryptophan_first[1], 1)
    t.close(r.running.tryptophan_last[3], r.tryptophan[1], 1e-12)
    core.write(path, "time_s,temperature_degC\n0,20\n10,200\n")
    t.says(select(2, hf.damage { history = path }), { "regain or humidity is missing" })
    assert(hf.damage { history = path, regain = "10 %" })
    core.write(path, "time_s,temperature_degC,regain_percent\n0,20,10\n0,200,10\n")
    local none, message, code = hf.damage { history = path }
    t.equal(none, nil)
    t.equal(code, "data")
    t.says(message, { "sample 2" })
    t.equal(select(3, hf.damage { history = t.folder .. "/none.csv" }), "file")
  end)
  t.test("mistakes", function()
    t.raises({ "did you mean \"temperature\"" }, hf.damage, { time = { 0, 1 }, temprature = 300 })
    t.raises({ "damage needs history" }, hf.damage, { temperature = 300 })
    t.raises({ "temperature is missing" }, hf.damage, { time = { 0, 1 } })
    t.raises({ "regain or humidity is missing" }, hf.damage, { time = { 0, 1 }, temperature = 300 })
    t.raises({ "not both" }, hf.damage, { time = { 0, 1 }, temperature = 300, regain = 0, humidity = 0 })
    t.raises({ "time has 2", "regain has 3" }, hf.damage, { time = { 0, 1 }, temperature = 300, regain = { 0, 0, 0 } })
    t.raises({ "whole numbers" }, hf.damage, { time = { 0, 1 }, temperature = 300, regain = 0, passes = 1.5 })
    t.raises({ "whole numbers" }, hf.damage, { time = { 0, 1 }, temperature = 300, regain = 0, passes = 0 })
    t.raises({ "element 2", "350" }, hf.damage, { time = { 0, 1 }, temperature = { 300, "350" }, regain = 0 })
    t.raises({ "one table" }, hf.damage)
    t.equal(select(3, hf.damage { time = { 0, 1 }, temperature = { 300, 1e4 }, regain = 0 }), "range")
  end)
end
