-- A sketch of a figure for the terminal. Lines are told apart by signs, with or without colour.

local Canvas = require "hairfibre.preview.canvas"
local lines = require "hairfibre.preview.lines"
local ranges = require "hairfibre.plot.ranges"
local spec = require "hairfibre.plot.spec"

local preview = {}

local quiet = 244

local function length(s)
  return utf8.len(s) or #s
end

local to_ascii = {
  ["°"] = "deg", ["µ"] = "u", ["−"] = "-", ["×"] = "x", ["\u{202F}"] = "", ["–"] = "-", ["…"] = "...",
  ["·"] = ".",
}
local raised = {
  ["⁰"] = "0", ["¹"] = "1", ["²"] = "2", ["³"] = "3", ["⁴"] = "4", ["⁵"] = "5", ["⁶"] = "6",
  ["⁷"] = "7", ["⁸"] = "8", ["⁹"] = "9", ["⁻"] = "-",
}

-- "10⁻⁶ m²/s" to "10^-6 m2/s"
local function ascii_only(s)
  local out, before = {}, ""
  for _, code in utf8.codes(s) do
    local letter = utf8.char(code)
    if code < 128 then
      out[#out + 1] = letter
    elseif raised[letter] then
      out[#out + 1] = (before:find("%d") and "^" or "") .. raised[letter]
    else
      out[#out + 1] = to_ascii[letter] or "?"
    end
    before = letter
  end
  return table.concat(out)
end

-- Cut to a width, with dots where something is missing.
local function fit(s, width)
  if length(s) <= width then
    return s
  end
  return s:sub(1, utf8.offset(s, math.max(1, width - 1)) - 1) .. (s:find("[\x80-\xFF]") and "…" or ".")
end

-- Names along the x axis, none touching the next.
local function x_names(panel, columns)
  local line, free = {}, 0
  for i = 1, columns do
    line[i] = " "
  end
  for _, tick in ipairs(panel.x.ticks) do
    local name = tick[2]
    local place = math.floor(panel.x.at(tick[1]) * (columns - 1) + 0.5)
    if panel.x.categories then
      name = fit(name, math.max(3, columns // #panel.x.categories - 1))
    end
    local first = math.max(0, math.min(columns - length(name), place - length(name) // 2))
    if first >= free then
      local k = first
      for _, code in utf8.codes(name) do
        k = k + 1
        line[k] = utf8.char(code)
      end
      free = k + 1
    end
  end
  return (table.concat(line):gsub("%s+$", ""))
end

-- Rows of a key, wrapped.
local function key_rows(panels, width, options, paint)
  local rows, row, used, seen = {}, {}, 0, {}
  local function put(sign, name, colour)
    name = sign .. fit(name, width - 2)
    local wide = length(name)
    if used > 0 and used + 3 + wide > width then
      rows[#rows + 1], row, used = table.concat(row, "   "), {}, 0
    end
    row[#row + 1] = paint(sign, colour) .. name:sub(#sign + 1)
    used = used + wide + (#row > 1 and 3 or 0)
  end
  local beyond
  for _, panel in ipairs(panels) do
    ranges.each_point(panel, function(point, drawn)
      local kind = drawn.line.kind
      if point.outside and (kind == "line" or kind == "bars") then
        beyond = beyond or (kind == "line" and "broken" or "pale")
      end
    end)
    for _, drawn in ipairs(panel.drawn) do
      local name, id = drawn.line.name, drawn.line.identity
      if name and not seen[name] then
        seen[name] = true
        put(lines.sign(id, options.ascii), " " .. options.words(name), lines.colours[id])
      end
    end
    for _, mark in ipairs(panel.marks) do
      if mark.text then
        local sign = mark.y and (options.ascii and "-" or "┄") or (options.ascii and "|" or "┆")
        put(sign, " " .. options.words(mark.text), quiet)
      end
    end
  end
  if beyond then
    put("", beyond .. ": outside the evidence", quiet)
  end
  rows[#rows + 1] = #row > 0 and table.concat(row, "   ") or nil
  return rows
end

local function panel_rows(panel, out, rows, width, options, paint, last)
  local margin = 0
  for _, tick in ipairs(panel.y.ticks) do
    margin = math.max(margin, length(options.words(tick[2])))
  end
  margin = math.max(margin, options.margin or 0)
  local columns = width - margin - 2
  local canvas = Canvas.new(columns, rows, options.ascii)
  lines.draw(panel, canvas)
  out[#out + 1] = fit(options.words(panel.y.title), width)
  local beside = {}
  for _, tick in ipairs(panel.y.ticks) do
    beside[math.floor((1 - panel.y.at(tick[1])) * (rows - 1) + 0.5)] = options.words(tick[2])
  end
  local side, corner, bar, tick_side = "│", "└", "─", "┤"
  if options.ascii then
    side, corner, bar, tick_side = "|", "+", "-", "+"
  end
  for row = 0, rows - 1 do
    local name = beside[row]
    out[#out + 1] = ((" "):rep(margin - length(name or "")) .. (name or "") .. " "
      .. (name and tick_side or side) .. canvas:row(row, paint)):gsub("%s+$", "")
  end
  out[#out + 1] = (" "):rep(margin + 1) .. corner .. bar:rep(columns)
  if last then
    out[#out + 1] = (" "):rep(margin + 2) .. options.words(x_names(panel, columns))
  end
end

--- Text of a checked figure. options: width, height (in characters, 78 x 22), ascii, colour.
function preview.text(figure, options)
  if type(figure) ~= "table" or type(figure.panels) ~= "table" then
    require "hairfibre.misuse"("preview.text takes a figure; a figure itself has figure:preview{...}")
  end
  options = options or {}
  spec.keys(options, "width:number height:number ascii:boolean colour:boolean", "preview")
  local width = math.max(30, math.min(400, math.floor(options.width or 78)))
  local height = math.max(10, math.min(200, math.floor(options.height or 22)))
  local o = { ascii = options.ascii, words = options.ascii and ascii_only or function(s) return s end }
  local function paint(s, colour)
    return options.colour and colour and s ~= "" and string.format("\27[38;5;%dm%s\27[0m", colour, s) or s
  end
  local lost, off, panels, any = { log = 0, empty = {} }, {}, {}, false
  for i, panel in ipairs(figure.panels) do
    panels[i] = ranges.gather(figure, panel, lost)
    any = any or #panels[i].drawn > 0
  end
  if not any then
    return nil, "there is no number to draw in this figure", "data"
  end
  -- lengths in cells: a name on the y axis every 3 rows, on the x axis every 9 columns
  ranges.settle(figure, panels, 4.3 * (width - 8) / 9, 2.7 * (height - 5) / #panels / 3, 1, off)
  local out = {}
  if figure.title then
    out[1] = fit(o.words(figure.title), width)
  end
  local names = key_rows(panels, width, o, paint)
  local x_title = o.words(panels[1].x.title)
  local used = #out + #names + 2 * #panels + 1 + (x_title ~= "" and 1 or 0)
  local rows = math.max(3, (height - used) // #panels)
  if panels[1].sideways then -- as many rows for each bar
    local count = #panels[1].y.categories
    rows = count * math.max(1, rows // count)
  end
  o.margin = 0
  for _, panel in ipairs(panels) do
    for _, tick in ipairs(panel.y.ticks) do
      o.margin = math.max(o.margin, length(o.words(tick[2])))
    end
  end
  for i, panel in ipairs(panels) do
    panel_rows(panel, out, rows, width, o, paint, i == #panels)
  end
  if x_title ~= "" then
    x_title = fit(x_title, width)
    out[#out + 1] = (" "):rep(width - length(x_title)) .. x_title
  end
  table.move(names, 1, #names, #out + 1, out)
  return table.concat(out, "\n")
end

--- Options that suit where the sketch goes: no colour unless it is a terminal, NO_COLOR is unset and
--- TERM is not dumb; ASCII when the locale is not UTF-8. getenv: for tests.
function preview.terminal(is_terminal, getenv)
  getenv = type(getenv) == "function" and getenv or os.getenv
  local function set(name)
    local value = getenv(name)
    return value and value ~= "" and value or nil
  end
  local locale = set("LC_ALL") or set("LC_CTYPE") or set("LANG") or ""
  return { colour = is_terminal and not set("NO_COLOR") and getenv("TERM") ~= "dumb" or false,
    ascii = not locale:lower():find("utf%-?8") }
end

return preview
