-- Texts with units. Expected values are definitions: degC and degF (degF = 9/5 degC + 32), the bar, the
-- standard atmosphere, the inch.
local core = require "hairfibre.core"
local hf = require "hairfibre"
local units = require "hairfibre.units"

local T = { name = "temperature", unit = "K", kind = "temperature" }
local D = { name = "rise", unit = "K", kind = "temperature difference" }
local F = { name = "humidity", unit = "1", kind = "fraction" }
local W = { name = "regain", unit = "kg/kg", kind = "fraction" }
local P = { name = "pressure", unit = "Pa", kind = "number" }
local M = { name = "diameter", unit = "m", kind = "number" }
local S = { name = "duration", unit = "s", kind = "number" }
local R = { name = "heating_rate", unit = "K/s", kind = "number" }
local C = { name = "concentration", unit = "mol/m3", kind = "number" }
local N = { name = "ph", unit = "1", kind = "number" }
local B = { name = "branch", unit = "1", kind = "choice", choices = { "absorption", "desorption" } }

local right = {
  { "200 degC", T, 473.15 }, { "200degC", T, 473.15 }, { "200C", T, 473.15 }, { "200 °C", T, 473.15 },
  { "200°C", T, 473.15 }, { "200 ºC", T, 473.15 }, { "200℃", T, 473.15 }, { "200 celsius", T, 473.15 },
  { "392F", T, 473.15 }, { "392 degF", T, 473.15 }, { "392 °F", T, 473.15 }, { "32 degF", T, 273.15 },
  { "-40 degC", T, 233.15 }, { "-40 degF", T, 233.15 }, { "\u{2212}40 degF", T, 233.15 }, { "473.15 K", T, 473.15 },
  { "473K", T, 473 }, { "851.67 degR", T, 473.15 }, { "0.4 kK", T, 400 }, { "1e2 degC", T, 373.15 },
  { "  20 degC ", T, 293.15 }, { "20\u{00A0}degC", T, 293.15 }, { ".5 degC", T, 273.65 },
  { "20 K", D, 20 }, { "20 deltaC", D, 20 }, { "36 deltaF", D, 20 }, { "-9 deltaF", D, -5 },
  { "65 %", F, 0.65 }, { "65%", F, 0.65 }, { "65%RH", F, 0.65 }, { "65 % RH", F, 0.65 }, { "65 percent", F, 0.65 },
  { "30 %", W, 0.3 }, { "0.3 kg/kg", W, 0.3 }, { "300 g/kg", W, 0.3 }, { "300 mg/g", W, 0.3 },
  { "2 bar", P, 2e5 }, { "1 atm", P, 101325 }, { "101.325 kPa", P, 101325 }, { "1.5 MPa", P, 1.5e6 },
  { "70um", M, 70e-6 }, { "70 µm", M, 70e-6 }, { "70 μm", M, 70e-6 }, { "0.07 mm", M, 70e-6 }, { "1 inch", M, 0.0254 },
  { "5 min", S, 300 }, { "1 h", S, 3600 }, { "90s", S, 90 }, { "250 ms", S, 0.25 }, { "1 day", S, 86400 },
  { "6 K/min", R, 0.1 }, { "6 degC/min", R, 0.1 }, { "6 C/min", R, 0.1 }, { "9 degF/s", R, 5 },
  { "0.5 mol/L", C, 500 }, { "5.5", N, 5.5 }, { "-1e-3", N, -0.001 },
}

-- text, what, parts of the sentence
local wrong = {
  { "350", T, { "temperature", "350 degC is 623.15 K", "350 degF is 449.8167 K", "write 350degC or 350degF" } },
  { "0.65", F, { "humidity", "as a fraction it is 65 %", "as percent it is 0.65 %", "write 65% or 0.65%" } },
  { "20", D, { "20 deltaF is 11.11111 K" } }, { "20 degC", D, { "temperature difference", "deltaC" } },
  { "70", M, { "has no unit", "um" } }, { "70 s", M, { "s is a unit of something else" } },
  { "5 furlongz", M, { "there is no unit \"furlongz\"" } }, { "5 m", P, { "kPa" } },
  { "1,5 K", T, { "comma", "1.5" } }, { "1.5.2 K", T, { "not one number" } }, { "1 000 Pa", P, { "not one number" } },
  { "warm", T, { "does not start with a number" } }, { "", T, { "does not start with a number" } },
  { "nan K", T, { "number" } }, { "inf Pa", P, { "number" } }, { "1e999 Pa", P, { "number" } },
  { "0x10 Pa", P, { "there is no unit" } }, { "7 m", N, { "pure number" } }, { "50 %", N, { "pure number" } },
  { "20 c", T, { "degC, degF or K" } }, { "20 m", T, { "degC, degF or K" } }, { "5 K from 3", T, { "degC" } },
  { "5 K @ 3", T, { "degC" } }, { "3 lg(re 1 Pa)", P, { "no unit" } }, { "5 9.81 m", M, { "not one number" } },
  { "65 m", F, { "no unit of a fraction" } }, { "5 s since 2000-01-01", S, { "no unit" } },
  { "desorbtion", B, { "absorption and desorption", "did you mean \"desorption\"" } },
}

return function(t)
  t.test("texts that are right", function()
    for _, case in ipairs(right) do
      local x, message = units.parse(case[1], case[2])
      t.close(x, case[3], 1e-12 * math.abs(case[3]), case[1] .. " " .. tostring(message))
    end
  end)
  t.test("texts that are wrong say why", function()
    for _, case in ipairs(wrong) do
      local x, message = units.value(case[1], case[2])
      t.equal(x, nil, case[1])
      t.says(message, case[3])
    end
  end)
  t.test("numbers are SI, choices are words", function()
    t.equal(units.value(300, T), 300)
    t.equal(units.value("absorption", B), 0)
    t.equal(units.value("desorption", B), 1)
    t.equal(units.value(true, T), nil)
  end)
  t.test("lists", function()
    local list = units.parse_list("20,30,40 degC", T)
    t.close(list[1], 293.15, 1e-9)
    t.close(list[3], 313.15, 1e-9)
    t.equal(#list, 3)
    t.equal(units.parse_list("10%, 0.2 kg/kg", W)[2], 0.2)
    t.equal(#units.parse_list("absorption,desorption", B), 2)
    t.equal(units.parse_list("5.5", N)[1], 5.5)
    local none, message = units.parse_list("1,5 %", F)
    t.equal(none, nil)
    t.says(message, { "one number or two", "1.5 %", "1%,5 %" })
    t.says(select(2, units.parse_list("10,,20 %", F)), { "number" })
  end)
  t.test("ranges", function()
    local low, high, step = units.parse_range("20..230degC", T)
    t.close(low, 293.15, 1e-9)
    t.close(high, 503.15, 1e-9)
    t.equal(step, nil)
    low, high, step = units.parse_range("68 degF..30 degC by 5 K", T)
    t.close(low, 293.15, 1e-9)
    t.close(high, 303.15, 1e-9)
    t.equal(step, 5)
    local values = units.spread(low, high, nil, step)
    t.equal(#values, 3)
    values = units.spread(0, 1, 5)
    t.equal(values[5], 1)
    t.equal(values[2], 0.25)
    for text, part in pairs { ["20degC"] = "no range", ["30..20degC"] = "does not rise", ["20..30"] = "no unit",
      ["20..30degC by 0K"] = "step", ["20...30degC"] = "no range", ["..30degC"] = "number" } do
      local none, message = units.parse_range(text, T)
      t.equal(none, nil, text)
      t.says(message, { part })
    end
  end)
  t.test("si and sweep", function()
    t.close(hf.si "200 degC", 473.15, 1e-9)
    t.close(hf.si "65 %", 0.65, 1e-12)
    t.close(hf.si "2 bar", 2e5, 1e-6)
    t.close(hf.si "20 deltaC", 20, 0)
    t.close(hf.si "0.6 1/min", 0.01, 1e-15)
    t.equal(#hf.sweep("20 degC", "30 degC", 11), 11)
    t.raises({ "furlongz" }, hf.si, "3 furlongz")
    t.raises({ "sweep needs the number" }, hf.sweep, 1, 2, 1)
  end)
  t.test("show", function()
    for _, case in ipairs {
      { 453.15, T, "180 °C (356 °F)" }, { (350 + 459.67) * 5 / 9, T, "176.7 °C (350 °F)" }, { 20, D, "20 K (36 deltaF)" },
      { 0.65, F, "65 %" }, { 0.27061, W, "27.06 %" }, { 1554939, P, "1.555 MPa" }, { 101325, P, "101.3 kPa" },
      { 611.657, P, "611.7 Pa" }, { 70e-6, M, "70 µm" }, { 0.0012, M, "1.2 mm" }, { 90, S, "90 s" },
      { 300, S, "5 min" }, { 7200, S, "2 h" }, { 5.5, N, "5.5" }, { 0, P, "0 Pa" }, { 1, B, "desorption" },
      { -0.02, F, "-2 %" }, { 1.2345e-10, { unit = "m2/s" }, "1.234e-10 m²/s" }, { 0 / 0, P, "nan" },
      { 0.1, R, "6 K/min" }, { 123456.7, N, "123457" },
    } do
      t.equal((hf.show(case[1], case[2]):gsub("^%-nan", "nan")), case[3])
    end
    t.equal(hf.show(453.15, T, { ascii = true }), "180 degC (356 degF)")
    t.equal(hf.show(500, { unit = "mol/m3" }), "500 mol/m³")
    t.equal(hf.show(500, { unit = "mol/m3" }, { ascii = true }), "500 mol/m3")
    t.equal(hf.show({ 0.1, 0.2 }, F), "10 %, 20 %")
    t.equal(hf.show(453.15, "temperature"), "180 °C (356 °F)")
    t.equal(hf.show(1e5, "saturation_pressure"), "100 kPa")
    t.raises({ "did you mean \"saturation_pressure\"" }, hf.show, 1, "saturation_presure")
  end)
  t.test("one spelling for one unit, in quantities, conditions and parameters", function()
    local names = {}
    for _, descriptor in ipairs(hf.quantities()) do
      names[descriptor.unit] = descriptor.name
      for _, argument in ipairs(descriptor.arguments) do
        names[argument.unit] = argument.name
      end
    end
    for _, row in ipairs(core.rows()) do
      names[row.unit] = row.name
    end
    -- Equal in size and another thing all the same: water by dry mass, work by volume.
    local kin = { ["1 kg/kg"] = true, ["J/m3 Pa"] = true }
    for a, name in pairs(names) do
      for b, other in pairs(names) do
        if a < b and not kin[a .. " " .. b] then
          local factor, offset = core.unit(a, b)
          assert(factor ~= 1 or offset ~= 0, ("%s (%s) and %s (%s) are one unit"):format(a, name, b, other))
        end
      end
    end
  end)
end
