-- Units as they stand in data files: in a row of their own, in the name of a column, stated by the user.
-- Each becomes the map to SI, the SI unit, the kind, and the basis (dry or wet) when the text names one.

local quantity = require "hairfibre.quantity"
local units = require "hairfibre.units"

local import_units = {}

-- Spellings that are no units of UDUNITS-2, or others than what is meant (its cycle is an angle).
local SPELLINGS = {
  fraction = "1", ["-"] = "1", ratio = "1", count = "1", counts = "1", cycle = "1", cycles = "1", number = "1", n = "1",
  percent = "%", pct = "%", ["%rh"] = "%", ["% rh"] = "%", ["%r.h."] = "%", ["rh%"] = "%", ["rh %"] = "%", ["wt%"] = "%",
  ["wt.%"] = "%", ["wt %"] = "%", ["w/w %"] = "%", ["% w/w"] = "%", ["m%"] = "%", ["g/100g"] = "%", ["g/100 g"] = "%",
  sec = "s", secs = "s", seconds = "s", mins = "min", minutes = "min", hr = "h", hrs = "h", hours = "h", days = "d",
  micron = "um", microns = "um", gf = "gravity.g", gmf = "gravity.g", ["g-f"] = "gravity.g", kgf = "gravity.kg",
  rpm = "1/min",
}

local PURE = { ["1"] = true, ["kg/kg"] = true }

-- Forms of times, as import_number.h reads them.
local CLOCKS = { ["hh:mm:ss"] = "hms", ["h:mm:ss"] = "hms", ["h:m:s"] = "hms", ["hh:mm"] = "hm", ["h:mm"] = "hm",
  ["mm:ss"] = "ms", ["m:ss"] = "ms", ["min:s"] = "ms" }

-- SI units that a column may have. The library's own come first.
local targets
local function all_targets()
  if targets then
    return targets
  end
  local seen = {}
  targets = {}
  local function add(unit, kind)
    if not seen[unit] and unit ~= "" and kind ~= "choice" and kind ~= "temperature" and kind ~= "text" then
      seen[unit] = true
      targets[#targets + 1] = unit
    end
  end
  for _, unit in ipairs { "1", "m", "s", "kg", "Pa", "N", "J/kg", "K/s", "1/s", "m2/s", "m/s", "mol/m3", "kg/m3", "W/kg",
    "J/mol", "J", "W", "N/m", "m2", "m3", "kg/s", "kg/m", "mol", "mol/kg" } do
    add(unit)
  end
  for _, d in ipairs(quantity.all()) do
    add(d.unit, d.kind)
    for _, argument in ipairs(d.arguments) do
      add(argument.unit, argument.kind)
    end
  end
  return targets
end

local DRY = { "dry basis", "dry mass", "dry weight", "dry fibre", "dry hair", "d%.b%.", "d%.w%.b%.", "%f[%a]dwb%f[%A]",
  "%f[%a]db%f[%A]", "%f[%a]dry%f[%A]" }
local WET = { "wet basis", "wet mass", "wet weight", "w%.b%.", "w%.w%.b%.", "%f[%a]wwb%f[%A]", "%f[%a]wb%f[%A]",
  "%f[%a]wet%f[%A]" }

--- "dry" or "wet" when the text names a basis, with the text without it.
function import_units.basis(text)
  local low = text:lower()
  for word, patterns in pairs { dry = DRY, wet = WET } do
    for _, pattern in ipairs(patterns) do
      local from, to = low:find(pattern)
      if from then
        local rest = (text:sub(1, from - 1) .. " " .. text:sub(to + 1)):gsub("[%s,;()]+$", ""):gsub("%(%s*%)", "")
        return word, rest:gsub("^[%s,;()]+", ""), from
      end
    end
  end
  return nil, text
end

-- Unit text in the spelling that units.lua reads.
local function plain(text)
  text = text:gsub("\u{00A0}", " "):gsub("\u{202F}", " "):gsub("\u{00B7}", "."):gsub("\u{22C5}", ".")
    :gsub("\u{03BC}", "\u{00B5}"):match("^%s*(.-)%s*$")
  local inner = text:match("^%[(.*)%]$") or text:match("^%((.*)%)$")
  text = (inner or text):match("^%s*(.-)%s*$")
  return SPELLINGS[text] or SPELLINGS[text:lower()] or text
end

--- Map of a unit text: { unit, kind, factor, offset, basis }; or nil, sentence. `what` (unit, kind) tells what is
--- wanted; nil takes whatever it measures.
function import_units.resolve(text, what)
  local basis, rest = import_units.basis(text)
  local unit = plain(rest)
  local clock = CLOCKS[unit:lower()]
  if clock and (not what or what.unit == "s") then
    return { unit = "s", kind = "number", factor = 1, offset = 0, clock = clock }
  end
  if unit == "1" and (not what or PURE[what.unit or "1"]) then
    local fraction = what and what.kind == "fraction" or not what and (basis or rest:lower() == "fraction")
    return { unit = what and what.unit or "1", kind = fraction and "fraction" or "number", factor = 1, offset = 0,
      basis = basis }
  elseif what then
    local factor, offset = units.map(unit, { name = what.name, unit = what.unit, kind = what.kind })
    if not factor then
      return nil, offset
    end
    return { unit = what.unit or "1", kind = what.kind or "number", factor = factor, offset = offset, basis = basis }
  end
  if unit == "%" then
    return { unit = "1", kind = "fraction", factor = 0.01, offset = 0, basis = basis }
  end
  local factor, offset = units.map(unit, { unit = "K", kind = "temperature" })
  if not factor and not units.known(unit) then
    return nil, ("there is no unit \"%s\""):format(text)
  elseif factor then
    return { unit = "K", kind = "temperature", factor = factor, offset = offset, basis = basis }
  end
  for _, target in ipairs(all_targets()) do
    factor = units.map(unit, { unit = target, kind = "number" })
    if factor then
      local fraction = target == "1" and (basis or unit:find("/", 1, true))
      return { unit = target, kind = fraction and "fraction" or "number", factor = factor, offset = 0, basis = basis }
    end
  end
  return nil, ("\"%s\" is a unit of nothing that is known here"):format(text)
end

local seen, seen_count = {}, 0

--- True when a text reads as a unit.
function import_units.is_unit(text)
  if #text > 40 or not utf8.len(text) then
    return false
  elseif seen[text] == nil then
    if seen_count >= 1000 then
      seen, seen_count = {}, 0
    end
    seen[text], seen_count = import_units.resolve(text) ~= nil, seen_count + 1
  end
  return seen[text]
end

--- Name and unit text of a header: "RH [%]", "RH (%)", "RH / %", "RH in %", "RH, %", "RH_percent". The unit is nil when
--- the header names none.
function import_units.split_header(header)
  local name, unit = header:match("^%s*(.-)%s*%[%s*(.-)%s*%]%s*$")
  if name and name ~= "" then
    return name, unit ~= "" and unit or nil
  end
  for _, pattern in ipairs { "^%s*(.-)%s*%(%s*([^()]*)%s*%)%s*$", "^%s*(.-)%s+/%s*(.-)%s*$", "^%s*(.-)%s*,%s*(.-)%s*$",
    "^%s*(.-)%s+in%s+(.-)%s*$" } do
    name, unit = header:match(pattern)
    if name and name ~= "" and unit ~= "" and import_units.is_unit(unit) then
      return (name:gsub("[%s/]+$", "")), unit -- "Heat/(J/g)"
    end
  end
  local before, inside, behind = header:match("^%s*(.-)%s*[%(%[]([^()%[%]]+)[%)%]]%s*(.-)%s*$")
  if before and before ~= "" and import_units.is_unit(inside) then -- "dm (%) - dry"
    return before .. (behind ~= "" and " " .. behind or ""), inside
  end
  name, unit = header:match("^%s*(.-)%s*/%s*%(?([^()]+)%)?%s*$") -- "Time/min"; but kg/kg is a unit itself
  if name and name ~= "" and import_units.is_unit(unit) and not import_units.is_unit(name) then
    return (name:gsub("%.$", "")), unit
  end
  name, unit = header:match("^(.+)_([^_]+)$")
  local over, under = header:match("^(.+)_([^_]+_per_.+)$")
  if over and import_units.is_unit((under:gsub("_per_", "/"))) then
    return over, (under:gsub("_per_", "/"))
  elseif name and #unit > 1 and import_units.is_unit(unit) or unit and (" s h d m g N K J "):find(" " .. unit .. " ", 1, true) then
    return name, unit
  end
  return header:match("^%s*(.-)%s*$"), nil
end

return import_units
