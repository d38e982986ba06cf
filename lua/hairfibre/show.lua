-- SI numbers as people read them: 4 significant digits, a unit of fitting size, temperatures in both
-- degrees, fractions in percent. The same text in every locale.

local core = require "hairfibre.core"

local text_of_unit = require("hairfibre.plot.text").unit

local show = {}

-- SI unit -> sizes from small to large: { in SI, name, name in plain ASCII, shown from }
local sizes = {
  Pa = { { 1, "Pa" }, { 1e3, "kPa" }, { 1e6, "MPa" }, { 1e9, "GPa" } },
  m = { { 1e-9, "nm" }, { 1e-6, "µm", "um" }, { 1e-3, "mm" }, { 1, "m" } },
  m2 = { { 1e-12, "µm²", "um2" }, { 1e-6, "mm²", "mm2" }, { 1, "m²", "m2" } },
  s = { { 1e-3, "ms" }, { 1, "s" }, { 60, "min", nil, 120 }, { 3600, "h", nil, 7200 },
    { 86400, "days", nil, 172800 } },
  kg = { { 1e-9, "µg", "ug" }, { 1e-6, "mg" }, { 1e-3, "g" }, { 1, "kg" } },
  N = { { 1e-6, "µN", "uN" }, { 1e-3, "mN" }, { 1, "N" } },
  ["J/kg"] = { { 1, "J/kg" }, { 1e3, "kJ/kg" }, { 1e6, "MJ/kg" } },
  ["J/mol"] = { { 1, "J/mol" }, { 1e3, "kJ/mol" } },
  ["mol/kg"] = { { 1e-3, "µmol/g", "umol/g" } },
  ["K/s"] = { { 1 / 60, "K/min" }, { 1, "K/s" } },
  ["Pa s"] = { { 1e-6, "µPa s", "uPa s" }, { 1e-3, "mPa s" }, { 1, "Pa s" }, { 1e3, "kPa s" }, { 1e6, "MPa s" } },
  ["N/m"] = { { 1e-3, "mN/m" }, { 1, "N/m" } },
  ["J/m3"] = { { 1, "J/m³", "J/m3" }, { 1e3, "kJ/m³", "kJ/m3" }, { 1e6, "MJ/m³", "MJ/m3" } },
  V = { { 1e-3, "mV" }, { 1, "V" } },
}

local PROPER = { ph = "pH", prandtl = "Prandtl", reynolds = "Reynolds", rayleigh = "Rayleigh", nusselt = "Nusselt",
  donnan = "Donnan", weibull = "Weibull", kissinger = "Kissinger", arrhenius = "Arrhenius", bet = "BET", gab = "GAB", watt = "Watt", region4 = "region 4" }

--- A name as words: internal_ph -> internal pH, nusselt_fine_wire -> Nusselt fine wire.
function show.words(name)
  local words = name:gsub("_", " "):gsub("%f[%w]%w+", PROPER)
  return (words:gsub("darcy Watt", "D'Arcy-Watt"):gsub("regain 65", "regain at 65 %%"):gsub("hailwood horrobin", "Hailwood-Horrobin"))
end

--- A text with a capital at its beginning; pH and ln( keep their small letter.
function show.capital(text)
  return text:find("^%l%l") and not text:find("^ln%(") and text:sub(1, 1):upper() .. text:sub(2) or text
end

--- A number with `digits` significant digits (4), without exponent from 0.0001 to 10 million.
function show.number(x, digits)
  digits = digits or 4
  local size = math.abs(x)
  if x ~= x or size == math.huge then
    return core.text(x)
  elseif size == 0 then
    return "0"
  elseif size < 1e-4 or size >= 1e7 then
    return core.text(x, digits)
  end
  local before = math.floor(math.log(size, 10)) + 1
  local text = core.fixed(x, math.max(0, digits - before))
  if text:find(".", 1, true) then
    text = text:gsub("0+$", ""):gsub("%.$", "")
  end
  return text == "-0" and "0" or text
end

-- One decimal is enough for a temperature, and 350 degF must come back as 350.
local function degrees(x, decimals)
  local text = core.fixed(x, decimals or 1)
  if text:find(".", 1, true) then
    text = text:gsub("0+$", ""):gsub("%.$", "")
  end
  return text == "-0" and "0" or text
end

--- How a column of SI values is shown: { unit =, factor =, offset = } with shown = factor x + offset.
--- One size of unit for all values, chosen for the largest. options.ascii: no sign outside ASCII.
function show.display(what, values, options)
  local ascii = options and options.ascii
  local kind, unit = what.kind or "number", what.unit or "1"
  if kind == "temperature" then
    return { unit = ascii and "degC" or "°C", factor = 1, offset = -273.15 }
  elseif kind == "fraction" then
    return { unit = "%", factor = 100, offset = 0 }
  elseif kind == "choice" or kind == "text" or unit == "1" or unit == "" then
    return { unit = "", factor = 1, offset = 0 }
  end
  local steps = sizes[unit]
  if not steps then
    return { unit = ascii and unit or text_of_unit(unit), factor = 1, offset = 0 }
  end
  local largest = 0
  for _, x in ipairs(values) do
    local size = math.abs(x)
    if size > largest and size < math.huge then
      largest = size
    end
  end
  local chosen = steps[1]
  for _, step in ipairs(steps) do
    -- 0.9995 so that what rounds up to the next size is shown in it
    if largest >= 0.9995 * (step[4] or step[1]) then
      chosen = step
    end
  end
  if largest == 0 then
    chosen = { 1, text_of_unit(unit), unit }
  end
  return { unit = ascii and chosen[3] or chosen[2], factor = 1 / chosen[1], offset = 0, divide = chosen[1] }
end

--- SI value to the number that is shown.
function show.apply(display, x)
  return display.divide and x / display.divide or display.factor * x + display.offset
end

--- Text of a value, or of a list of values. `what` as in units.lua; options: digits, ascii.
function show.value(x, what, options)
  options = options or {}
  if type(x) == "table" then
    local texts = {}
    for i, one in ipairs(x) do
      texts[i] = show.value(one, what, options)
    end
    return table.concat(texts, ", ")
  elseif type(x) == "string" then
    return x
  end
  local kind = what.kind or "number"
  if x ~= x or math.abs(x) == math.huge then
    return core.text(x)
  elseif kind == "choice" then
    return what.choices and what.choices[math.tointeger(x + 1)] or core.text(x)
  elseif kind == "temperature" then
    local sign = options.ascii and "deg" or "°"
    return ("%s %sC (%s %sF)"):format(degrees(x - 273.15, options.decimals), sign,
      degrees(x * 1.8 - 459.67, options.decimals), sign)
  elseif kind == "temperature difference" then
    return ("%s K (%s deltaF)"):format(show.number(x, options.digits), show.number(1.8 * x, options.digits))
  end
  local display = show.display(what, { x }, options)
  local text = show.number(show.apply(display, x), options.digits)
  return display.unit == "" and text or text .. " " .. display.unit
end

return show
