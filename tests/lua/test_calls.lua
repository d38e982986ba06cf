-- Calls of quantities. Check values: IAPWS SR1-86(1992), printed in the release.
local hf = require "hairfibre"
local core = require "hairfibre.core"

return function(t)
  t.test("the module is a table, no global appears", function()
    for name in pairs(_G) do
      assert(name ~= "hf" and name ~= "hairfibre", name)
    end
    t.equal(hf._VERSION, "hairfibre " .. hf.version)
    t.equal(require "hairfibre", hf)
    t.equal(getmetatable(hf.parameters()), "hairfibre.parameters")
  end)
  t.test("positional, named and with texts: one answer", function()
    -- SR1-86(1992): 273.16 K 611.657 Pa, 373.1243 K 0.101325 MPa, 647.096 K 22.064 MPa
    t.close(hf.saturation_pressure(273.16), 611.657, 0.0005)
    t.close(hf.saturation_pressure { temperature = 373.1243 }, 101325, 0.5)
    t.close(hf.saturation_pressure "647.096 K", 22.064e6, 500)
    t.equal(hf.saturation_pressure "200 degC", hf.saturation_pressure(473.15))
    t.equal(select("#", hf.saturation_pressure(300)), 1)
    t.equal(hf.regain { humidity = "65 %", branch = "desorption" }, hf.regain(0.65, nil, "desorption"))
    t.equal(hf.regain(0.65), hf.regain(0.65, 293.15, 0))
  end)
  t.test("lists", function()
    local T = { 300, "50 degC", 400 }
    local p = hf.saturation_pressure(T)
    t.equal(#p, 3)
    t.equal(T[2], "50 degC", "the caller's list")
    for i, x in ipairs { 300, 323.15, 400 } do
      t.equal(p[i], hf.saturation_pressure(x))
    end
    local w = hf.regain { humidity = { 0.2, 0.4 }, temperature = { "20 degC", 303.15 } }
    t.equal(w[2], (hf.regain(0.4, 303.15)))
    t.equal(#hf.regain { humidity = {} }, 0)
    t.equal(hf.regain({ 0.3 })[1], hf.regain(0.3))
  end)
  t.test("lists that are wrong", function()
    t.raises({ "unequal length", "humidity has 2", "temperature has 3" }, hf.regain, { 0.1, 0.2 }, { 300, 301, 302 })
    t.raises({ "temperature[2]", "boolean" }, hf.saturation_pressure, { 300, true })
    t.raises({ "350", "element 2" }, hf.saturation_pressure, { "20 degC", "350" })
    t.raises({ "name every argument, or none" }, hf.regain, { 0.65, temperature = "20 degC" })
    local none, message, code = hf.saturation_pressure { 300, 100, 300 }
    t.equal(none, nil)
    t.equal(code, "range")
    t.says(message, { "100 K", "element 2" })
    t.says(select(2, hf.saturation_pressure { 300, 0 / 0 }), { "finite", "element 2" })
  end)
  t.test("mistakes of the caller raise at the caller's line", function()
    local message = t.raises({ "test_calls.lua:", "did you mean \"temperature\"" }, function()
      return (hf.regain { humidity = 0.5, temprature = 300 })
    end)
    assert(not message:find("hairfibre%."), message)
    t.raises({ "temperature is missing" }, hf.saturation_pressure)
    t.raises({ "temperature is missing" }, hf.saturation_pressure, {})
    t.raises({ "takes 1 argument, not 2" }, hf.saturation_pressure, 300, 301)
    t.raises({ "boolean" }, hf.saturation_pressure, true)
    t.raises({ "did you mean \"desorption\"" }, hf.regain, 0.5, 300, "desorbtion")
    t.raises({ "did you mean \"bleached\"" }, hf.regain, { humidity = 0.5, set = "bleeched" })
    t.raises({ "set must be" }, hf.regain, { humidity = 0.5, set = 3 })
    t.raises({ "extrapolate must be" }, hf.regain, { humidity = 0.5, extrapolate = 1 })
    t.raises({ "must be a number, a text with a unit, or a list" }, hf.regain, { humidity = { a = 1 } })
    t.raises({ "did you mean \"saturation_pressure\"" }, function() return hf.saturation_presure(300) end)
    t.raises({ "did you mean \"wet_bulb\"" }, function() return hf.wet_bulb_temperature(300, 0.5) end)
    t.equal(hf.no_such_thing_at_all_here, nil)
    t.raises({ "there is no quantity" }, hf.quantity, "zzz")
  end)
  t.test("out of range: nil, message, code; strict raises", function()
    local none, message, code = hf.saturation_pressure(100)
    t.equal(none, nil)
    t.equal(code, "range")
    t.says(message, { "temperature = 100 K", "273.16 K" })
    t.equal(select(3, hf.saturation_pressure(0 / 0)), "invalid")
    t.equal(select(3, hf.saturation_pressure(math.huge)), "invalid")
    t.raises({ "test_calls.lua:", "saturation_pressure", "(range)" }, function()
      return (hf.strict.saturation_pressure(100))
    end)
    t.equal(hf.strict.saturation_pressure(300), hf.saturation_pressure(300))
    t.equal(select("#", hf.strict.saturation_pressure(300)), 1)
  end)
  t.test("beyond the evidence: the word, or a refusal", function()
    local w, word, sentence = hf.regain(0.65, "200 degC")
    assert(w > 0)
    t.equal(word, "extrapolated")
    t.says(sentence, { "temperature", "evidence" })
    t.equal(select(3, hf.regain { humidity = 0.65, temperature = "200 degC", extrapolate = false }), "range")
    local list, mark, where = hf.regain(0.65, { 300, 473.15 })
    t.equal(#list, 2)
    t.equal(mark, "extrapolated")
    t.says(where, { "element 2" })
  end)
  t.test("no validated model", function()
    local found
    for _, q in ipairs(hf.quantities()) do
      if not q.has_model then
        found = q
        local none, message, code = hf[q.name]()
        t.equal(none, nil)
        t.equal(code, "no-model")
        t.equal(message, q.leaves_out)
      end
    end
    assert(found, "none is listed")
  end)
  t.test("ranges hold the value", function()
    local value, low, high = hf.range("regain", { humidity = "65 %" })
    t.equal(value, hf.regain(0.65))
    assert(low < value and value < high)
    local v, l, h = hf.range("regain", { 0.2, 0.6 })
    assert(#v == 2 and l[2] < v[2] and v[2] < h[2])
    t.equal(select(3, hf.range("saturation_pressure", 100)), "range")
    t.raises({ "there is no quantity" }, hf.range, "regian_zzz")
  end)
  t.test("every quantity answers at its usual values or in the middle of its range", function()
    for _, q in ipairs(hf.quantities()) do
      local given = {}
      for i, a in ipairs(q.arguments) do
        local low, high = math.max(a.valid_low, -1e6), math.min(a.valid_high, 1e6)
        given[i] = a.usual or (a.kind == "choice" and 0) or low + 0.3 * (high - low)
        if a.unit == "1" and a.kind == "number" and high - low > 3 then
          given[i] = math.floor(given[i]) -- counts are whole numbers
        end
        assert(a.domain_low <= a.valid_low and a.valid_high <= a.domain_high, q.name .. " " .. a.name)
      end
      local value, second, code = hf[q.name](table.unpack(given, 1, #q.arguments))
      if q.has_model then
        assert(type(value) == "number" or code == "range", q.name .. ": " .. tostring(second))
        assert(q.equation ~= "" and q.text ~= "" and hf.sources(q.sources[1]), q.name)
      end
    end
  end)
  t.test("cautions", function()
    t.says(hf.caution "internal_vapour_pressure", { "Bench samples" })
    t.equal(hf.caution "saturation_pressure", nil)
  end)
  t.test("descriptors are copies", function()
    hf.quantities()[1].name = "changed"
    hf.quantity("regain").arguments[1].name = "changed"
    assert(hf.quantities()[1].name ~= "changed")
    t.equal(hf.regain { humidity = 0.5 }, hf.regain(0.5))
  end)
  t.test("sources", function()
    local list = hf.sources()
    assert(#list > 100)
    for i = 2, #list do
      assert(list[i - 1].key < list[i].key)
    end
    t.equal(hf.sources "no-such-key", nil)
    t.equal(hf.sources(list[1].key).title, list[1].title)
    t.equal(#core.known(), #hf.known())
  end)
end
