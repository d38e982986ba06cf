-- Text for pictures: cleaning, an estimate of its width, and wrapping.
--
-- Widths are those of a wide sans-serif face, in units of the letter size. The face that a viewer
-- picks is seldom wider, so a text laid out with these numbers stays on the canvas.

local text = {}

local groups = {
  [0.30] = "IJijl",
  [0.35] = " ,./:;\\f|'",
  [0.40] = "!()-[]t",
  [0.45] = '"r',
  [0.50] = "*_`",
  [0.55] = "?Lcsz",
  [0.60] = "FPkvxy",
  [0.65] = "$0123456789EKSTYabdeghnopqu{}",
  [0.70] = "ABCRVXZ",
  [0.75] = "HNU",
  [0.80] = "&DGOQ",
  [0.85] = "#+<=>^w~",
  [0.90] = "M",
  [0.95] = "%",
  [1.00] = "@Wm",
}
local widths = {}
for width, letters in pairs(groups) do
  for letter in letters:gmatch(".") do
    widths[letter:byte()] = width
  end
end
widths[0xB0], widths[0xB2], widths[0xB3], widths[0x202F] = 0.5, 0.41, 0.41, 0.2

local function letter_width(code)
  if widths[code] then
    return widths[code]
  elseif code >= 0x2070 and code <= 0x208F then
    return 0.45
  elseif code >= 0x2190 and code <= 0x2E7F then
    return 0.85
  elseif code >= 0x2E80 then
    return 1.0
  end
  return 0.66
end

-- One line of clean UTF-8: control characters become nothing (line breaks a space), broken bytes
-- become "?".
function text.clean(value)
  local s = tostring(value):gsub("[\r\n\t]+", " ")
  local out, position = {}, 1
  while position <= #s do
    local good, bad = utf8.len(s, position)
    local stop = good and #s or bad - 1
    if stop >= position then
      out[#out + 1] = s:sub(position, stop)
    end
    if not good then
      out[#out + 1] = "?"
    end
    position = stop + (good and 1 or 2)
  end
  s = table.concat(out)
  s = s:gsub("[\0-\31\127]", "")
  -- C1 controls, the line and paragraph separators and the marks that turn the writing direction
  s = s:gsub("\xC2[\x80-\x9F]", ""):gsub("\xE2\x80[\xA8-\xAE]", "")
  return (s:gsub("\xEF\xBF[\xBE\xBF]", ""))
end

function text.width(s, size)
  local sum = 0
  for _, code in utf8.codes(s) do
    sum = sum + letter_width(code)
  end
  return sum * size
end

-- Break one word that alone is wider than the line: before a letter behind a dot, a dash or a slash where that
-- helps (never inside a number).
local function break_word(word, size, limit)
  local joints = {}
  for piece in word:gsub("([._/-])(%a)", "%1\0%2"):gmatch("%Z+") do
    local last = joints[#joints]
    if last and text.width(last .. piece, size) <= limit then
      joints[#joints] = last .. piece
    else
      joints[#joints + 1] = piece
    end
  end
  local fits = #joints > 1
  for _, piece in ipairs(joints) do
    fits = fits and text.width(piece, size) <= limit
  end
  if fits then
    return joints
  end
  local parts, part, width = {}, {}, 0
  for _, code in utf8.codes(word) do
    local w = letter_width(code) * size
    if #part > 0 and width + w > limit then
      parts[#parts + 1] = table.concat(part)
      part, width = {}, 0
    end
    part[#part + 1] = utf8.char(code)
    width = width + w
  end
  parts[#parts + 1] = table.concat(part)
  return parts
end

-- Words of a text; a number stays with a unit behind it ("3 %", "22 °C", "10 mol/m³").
local function words(s)
  local list = {}
  for word in s:gmatch("%S+") do
    local before = list[#list]
    if before and before:find("^[%d.,]+$") and (utf8.len(word) <= 4 or word:find("^%a+/%a+[\xC2\xB2\xB3]*[.,;]?$")) then
      list[#list] = before .. " " .. word
    else
      list[#list + 1] = word
    end
  end
  return list
end

-- Lines of `s`, none wider than `limit`. Second result: whether a word had to be broken.
function text.wrap(s, size, limit)
  local lines, line, broken = {}, nil, false
  for _, word in ipairs(words(s)) do
    local pieces = { word }
    if text.width(word, size) > limit then
      pieces, broken = break_word(word, size, limit), true
    end
    for _, piece in ipairs(pieces) do
      local longer = line and line .. " " .. piece
      if longer and text.width(longer, size) <= limit then
        line = longer
      else
        lines[#lines + 1] = line
        line = piece
      end
    end
  end
  lines[#lines + 1] = line
  return lines, broken
end

-- The same number of lines, of more equal length: better for titles.
function text.balance(s, size, limit)
  local lines = text.wrap(s, size, limit)
  local best = lines
  for share = 19, 10, -1 do
    local narrower, broken = text.wrap(s, size, limit * share / 20)
    if #narrower > #lines or broken then
      break
    end
    best = narrower
  end
  return best
end

local raised = {
  ["0"] = "⁰", ["1"] = "¹", ["2"] = "²", ["3"] = "³", ["4"] = "⁴", ["5"] = "⁵",
  ["6"] = "⁶", ["7"] = "⁷", ["8"] = "⁸", ["9"] = "⁹", ["-"] = "⁻",
}

function text.superscript(value)
  return (tostring(value):gsub("[-%d]", raised))
end

local spelled = {
  ["1"] = "", degC = "°C", degF = "°F", um = "µm", delta_degC = "°C", percent = "%",
  delta_degF = "°F", ohm = "Ω", degree = "°",
}

-- "degC" -> "°C", "m2/s" -> "m²/s", "kg m^-3" -> "kg m⁻³"
function text.unit(unit)
  if unit == nil then
    return ""
  end
  if spelled[unit] then
    return spelled[unit]
  end
  local s = text.clean(unit)
  s = s:gsub("%^(%-?%d+)", text.superscript)
  s = s:gsub("(%a)(%-?%d+)", function(letter, number)
    return letter .. text.superscript(number)
  end)
  s = s:gsub("%f[%w_]delta_(deg[CF])%f[^%w_]", "%1")
  s = s:gsub("%f[%w_]deg([CF])%f[^%w_]", "°%1"):gsub("%f[%w_]u(m[²³]?)%f[^%w_]", "µ%1")
  return s
end

return text
