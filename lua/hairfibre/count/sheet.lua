-- Reads one strand sheet and checks every cell. All faults are found, each with file, line, column, what
-- stands there and what was expected. Nothing is written. Several sheets and their keys: count_gather.lua.

local columns = require "hairfibre.count.columns"
local core = require "hairfibre.core"
local files = require "hairfibre.files"
local misuse = require "hairfibre.misuse"
local provenance = require "hairfibre.provenance"
local suggest = require "hairfibre.suggest"

local sheet = {}

--- List of grades from none to worst as texts; nil gives the scale of this project.
function sheet.scale(given)
  if given == nil then
    return table.move(columns.scale, 1, #columns.scale, 1, {})
  elseif type(given) == "string" then
    local list = {}
    for part in (given .. ","):gmatch("%s*([^,]-)%s*,") do
      list[#list + 1] = part
    end
    given = list
  end
  if type(given) ~= "table" or #given < 2 or #given > 20 then
    misuse("grades must be 2 to 20 grades, from no change to the worst, such as \"0,1,2,3\"")
  end
  local list, seen = {}, {}
  for i, grade in ipairs(given) do
    list[i] = math.tointeger(grade) and tostring(math.tointeger(grade)) or tostring(grade)
    if seen[list[i]] or not list[i]:find("%S") then
      misuse("grades: \"%s\" stands there twice, or is empty", list[i])
    end
    seen[list[i]] = true
  end
  return list
end

-- ---- faults -----------------------------------------------------------------------------------------

local Faults = {}
Faults.__index = Faults

function Faults:add(line, column, found, expected)
  self[#self + 1] = { file = self.file, line = line, column = column, found = found, expected = expected }
end

--- New empty list of faults.
function sheet.faults()
  return setmetatable({}, Faults)
end

-- Neither control characters nor broken letters reach the terminal.
local function plain(cell)
  cell = cell:gsub("%c", " ")
  return utf8.len(cell) and cell or (cell:gsub("[\x80-\xFF]", "?"))
end

local function shortened(cell, most)
  local n = utf8.len(cell)
  return n > most and cell:sub(1, utf8.offset(cell, most - 2) - 1) .. "..." or cell
end

local function quoted(cell)
  cell = plain(cell)
  return cell == "" and "an empty cell" or ("\"%s\""):format(shortened(cell, 40))
end

sheet.quoted = quoted

-- ---- header -----------------------------------------------------------------------------------------

-- "diameter_before_um", "diameter_before [um]" -> column, unit; or nil
local function split(header)
  local name, unit = header:match("^(.-)%s*%[%s*(.-)%s*%]$")
  if name then
    return columns.by_name[name], unit
  elseif columns.by_name[header] then
    return columns.by_name[header], nil
  end
  name, unit = header:match("^(.+)_([^_]+)$")
  if name and columns.by_name[name] and columns.by_name[name].kind == "length" then
    return columns.by_name[name], unit
  end
end

-- The known column that a header was meant for. Columns of one's own are welcome, so it must be near.
local function meant(header)
  local bare = header:lower():gsub("_[^_]*$", "")
  for _, word in ipairs { header:lower(), bare } do
    local near = suggest.nearest(word, columns.names)
    if near and (suggest.distance(word, near) <= math.max(1, #word // 4)
      or #word >= 4 and (near:find(word, 1, true) or word:find(near, 1, true) == 1)) then
      return near
    end
  end
end

local function read_header(row, faults)
  local list, seen, units, unit, unit_header = {}, {}, {}, nil, nil
  faults.unread = {}
  for i, header in ipairs(row) do
    local column, found = split(header)
    if not column then
      local near = header ~= "" and meant(header)
      if header == "" then
        faults:add(row.line, tostring(i), "an empty cell", "the name of a column")
      elseif core.number(header) then
        faults:add(row.line, tostring(i), quoted(header), "the name of a column: the first line names the columns")
      elseif near then
        faults:add(row.line, plain(header), quoted(header), ("a column that is known: %s?"):format(near))
      else
        table.insert(faults.unread, plain(header))
      end
    elseif seen[column.name] then
      faults:add(row.line, header, quoted(header), "each column once")
    else
      seen[column.name] = true
      list[i], units[i] = column, columns.units[found or ""] and found or "um"
      if column.kind == "length" and not columns.units[found or ""] then
        faults:add(row.line, header, quoted(header), ("a unit in the name: %s_um (or nm, mm, m)"):format(column.name))
      elseif column.kind == "length" and unit and columns.units[unit] ~= columns.units[found] then
        faults:add(row.line, header, quoted(header), ("one unit for all diameters: %s is in %s"):format(unit_header, unit))
      elseif column.kind == "length" then
        unit, unit_header = unit or found, unit_header or header
      elseif found then
        faults:add(row.line, header, quoted(header), column.name .. ", without a unit")
      end
    end
  end
  if not seen.id then
    faults:add(row.line, "id", "no such column", "a column id, the name of each strand")
  end
  return list, seen, units
end

-- ---- cells ------------------------------------------------------------------------------------------

local WORDS = { yes = true, y = true, no = false, n = false }

-- value, or nil and what was expected
local function read_length(cell, unit)
  local x = core.number(cell)
  if not x then
    local number, rest = core.number(cell, true)
    if number and rest:find("^%s*%a") or cell:find("\u{B5}", 1, true) or cell:find("\u{3BC}", 1, true) then
      return nil, ("a plain number: the unit of the column is %s"):format(unit)
    elseif cell:find("^[+-]?%d+,%d+$") then
      return nil, ("a decimal point: %s"):format((cell:gsub(",", ".")))
    end
    return nil, ("a diameter in %s"):format(unit)
  end
  local d = x * columns.units[unit]
  if d < columns.least or d > columns.most then
    local factor = columns.units[unit]
    local range = ("%.6g to %.6g %s"):format(columns.least / factor, columns.most / factor, unit)
    for _, other in ipairs(columns.unit_names) do
      local as = x * columns.units[other]
      if other ~= unit and as >= columns.least and as <= columns.most then
        return nil, ("%s; is it in %s?"):format(range, other)
      end
    end
    return nil, range
  end
  return d
end

local read = {}

function read.text(cell)
  return plain(cell)
end

function read.length(cell, o, place)
  return read_length(cell, o.units[place])
end

function read.grade(cell, o)
  local place = o.place[cell]
  if not place then
    local near = #cell > 2 and suggest.nearest(cell, o.scale)
    return nil, ("one of the grades %s%s"):format(table.concat(o.scale, ", "), near and ("; %s?"):format(near) or "")
  end
  return place
end

function read.truth(cell)
  local word = WORDS[cell:lower()]
  if word == nil then
    return nil, columns.expected.truth
  end
  return word
end

function read.count(cell)
  local word = WORDS[cell:lower()]
  if word ~= nil then
    return word and 1 or 0
  end
  local x = core.number(cell)
  if not x then
    return nil, columns.expected.count
  elseif x < 0 then
    return nil, "no negative number: " .. columns.expected.count
  elseif not math.tointeger(x) then
    return nil, "no fraction: " .. columns.expected.count
  elseif x > 1e6 then
    return nil, "a number that can have been counted"
  end
  return x
end

local PAIRS = { { "diameter_before", "diameter_after" }, { "major_before", "major_after" },
  { "minor_before", "minor_after" }, { "grade_before", "grade_after" }, { "grade_before_2", "grade_after_2" },
  { "voids_before", "voids" }, { "cuticle_lift_before", "cuticle_lift" } }
local AXES = { { "major_before", "minor_before" }, { "major_after", "minor_after" } }

-- What must stand together in one line. filled: names of the columns in which something stands.
local function check_together(strand, filled, seen, faults, headers)
  local line = strand.line
  for _, pair in ipairs(PAIRS) do
    local before, after = pair[1], pair[2]
    if seen[before] and seen[after] then
      if not filled[before] and filled[after] then
        faults:add(line, headers[before], "an empty cell", ("a value: %s has one (or give a reason in excluded)"):format(
          headers[after]))
      elseif filled[before] and not filled[after] and not strand.broken and not filled.excluded then
        faults:add(line, headers[after], "an empty cell",
          ("a value: %s has one (or broken = yes, or a reason in excluded)"):format(headers[before]))
      end
    end
  end
  for _, pair in ipairs(AXES) do
    local major, minor = pair[1], pair[2]
    if seen[major] and seen[minor] and (filled[major] or false) ~= (filled[minor] or false) then
      faults:add(line, headers[filled[major] and minor or major], "an empty cell", "both axes, or none")
    elseif strand[major] and strand[minor] and strand[minor] > strand[major] * (1 + 1e-12) then
      faults:add(line, headers[minor], "a short axis above the long one", "the longer one in " .. headers[major])
    end
  end
end

local OBSERVED = { length = true, grade = true, count = true, truth = true }

-- One strand from the cells of a line.
local function read_row(row, list, seen, headers, faults, o)
  local strand = { file = faults.file, line = row.line, treatment = "", notes = "", excluded = "" }
  local filled = {}
  for i, column in pairs(list) do
    local cell = row[i]:match("^%s*(.-)%s*$")
    if not utf8.len(cell) then
      filled[column.name] = true
      faults:add(row.line, headers[column.name], "letters that are not UTF-8", "a file saved as \"CSV UTF-8\"")
    elseif cell ~= "" then
      filled[column.name] = true
      local x, expected = read[column.kind](cell, o, i)
      if x == nil then
        faults:add(row.line, headers[column.name], quoted(cell), expected)
      end
      strand[column.name] = x
      strand.observed = strand.observed or OBSERVED[column.kind] or nil
    end
  end
  check_together(strand, filled, seen, faults, headers)
  return strand
end

local function is_blank(row)
  for _, cell in ipairs(row) do
    if cell:find("%S") then
      return false
    end
  end
  return true
end

-- Spreadsheets pad their lines with empty cells.
local function trim(header)
  for i, cell in ipairs(header) do
    header[i] = cell:match("^%s*(.-)%s*$")
  end
  while #header > 1 and header[#header] == "" do
    header[#header] = nil
  end
end

-- One sheet: list of strands, columns seen.
local function read_rows(rows, faults, o)
  trim(rows[1])
  local list, seen, units = read_header(rows[1], faults)
  local headers, strands, before = {}, {}, #faults
  o.units = units
  for i, column in pairs(list) do
    headers[column.name] = rows[1][i]
  end
  for r = 2, #rows do
    local row = rows[r]
    local width = #row
    while width > #rows[1] and row[width] == "" do
      width = width - 1
    end
    if width ~= #rows[1] and not is_blank(row) then
      faults:add(row.line, nil, ("%d cells"):format(width),
        ("%d cells, as many as the first line names%s"):format(#rows[1],
          width > #rows[1] and o.delimiter == "," and " (numbers need a decimal point, not a comma)" or ""))
    elseif not is_blank(row) then
      local strand = read_row(row, list, seen, headers, faults, o)
      strand.header_line = rows[1].line
      strands[#strands + 1] = strand
    end
  end
  if #strands == 0 and #faults == before then
    faults:add(rows[1].line, nil, "a header without strands", "a line for each strand")
  end
  return strands, seen, headers
end

-- ---- one file ---------------------------------------------------------------------------------------

-- Where the comments in front end, how many lines they are, and the plan that they name. They need not be
-- proper CSV: a spreadsheet may have put quotation marks around them.
local function comments_of(text)
  local start, lines, plan = 1, 0, nil
  while text:find("^[ \t]*\"?#", start) or text:find("^[ \t]*\r?\n", start) do
    local stop = text:find("\n", start, true) or #text
    plan = plan or text:sub(start, stop):match("^[ \t]*\"?#%s*plan (%x+)")
    start, lines = stop + 1, lines + 1
  end
  return start, lines, plan
end

-- Rows of a CSV text without its comments, delimiter, plan; or nil, line, what is wrong, what was expected.
local function rows_of(text)
  if text:find("^\xFF\xFE") or text:find("^\xFE\xFF") then
    return nil, 1, "UTF-16", "a file saved as \"CSV UTF-8\""
  elseif text:find("\0", 1, true) then
    return nil, 1, "bytes that are no text", "a CSV file"
  end
  text = text:gsub("^\xEF\xBB\xBF", "")
  local start, skipped, plan = comments_of(text)
  text = text:sub(start)
  local first = text:match("^[^\r\n]*"):gsub('"[^"]*"', "")
  local best, most = ",", 0
  for _, sign in ipairs { ",", ";", "\t" } do
    local _, count = first:gsub(sign, "")
    if count > most then
      best, most = sign, count
    end
  end
  local rows, message = core.csv(text, best)
  if not rows then
    local line, words = message:match("^line (%d+): (.*)$")
    return nil, (tonumber(line) or 1) + skipped, words or message, "quotation marks in pairs around a whole cell"
  end
  for _, row in ipairs(rows) do
    row.line = row.line + skipped
  end
  return rows, best, plan
end

--- Strands, columns seen, headers of one file; its faults go to `faults`, and to faults.plan the plan that its
--- comment names. nil, sentence, code when it cannot be read at all. o: scale, place (grade -> 0 ..).
function sheet.read_file(path, faults, o)
  local text, message, code = files.read(path)
  if not text then
    return nil, message, code
  end
  faults.file, faults.plan, faults.input = path, nil, provenance.input(path, text)
  local rows, line, found, expected = rows_of(text)
  if not rows then
    faults:add(line, nil, found, expected)
    return {}, {}, {}
  end
  o.delimiter, faults.plan = line, found
  if #rows == 0 then
    faults:add(1, nil, "an empty file", "a line that names the columns, then a line for each strand")
    return {}, {}, {}
  end
  return read_rows(rows, faults, o)
end

return sheet
