-- Reads strand sheets and checks every cell. All faults are found, each with file, line, column, what
-- stands there and what was expected; a sheet with a fault is not used at all. Nothing is written.

local columns = require "hairfibre.count_columns"
local core = require "hairfibre.core"
local files = require "hairfibre.files"
local misuse = require "hairfibre.misuse"
local suggest = require "hairfibre.suggest"

local sheet = {}

local MOST = 10000 -- strands in all sheets

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

local function quoted(cell)
  return cell == "" and "an empty cell" or ("\"%s\""):format(#cell > 40 and cell:sub(1, 37) .. "..." or cell)
end

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

local function read_header(row, faults)
  local list, seen, unit, unit_header = {}, {}, nil, nil
  faults.unread = {}
  for i, header in ipairs(row) do
    local column, found = split(header)
    if not column then
      local near = header ~= "" and suggest.nearest((header:gsub("_[^_]*$", "")), columns.names)
      local whole = header ~= "" and suggest.nearest(header, columns.names)
      if header == "" then
        faults:add(row.line, "column " .. i, "an empty cell", "the name of a column")
      elseif core.number(header) then
        faults:add(row.line, "column " .. i, quoted(header), "the name of a column: the first line names the columns")
      elseif whole or near then
        faults:add(row.line, header, quoted(header), ("a column that is known: %s?"):format(whole or near))
      else
        table.insert(faults.unread, header)
      end
    elseif seen[column.name] then
      faults:add(row.line, header, quoted(header), "each column once")
    else
      seen[column.name] = true
      list[i] = column
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
  return list, seen, unit or "um"
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
  return cell
end

function read.length(cell, o)
  return read_length(cell, o.unit)
end

function read.grade(cell, o)
  local place = o.place[cell]
  if not place then
    local near = suggest.nearest(cell, o.scale)
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

-- What must stand together in one line.
local function check_together(strand, line, seen, faults, headers)
  for _, pair in ipairs(PAIRS) do
    local before, after = pair[1], pair[2]
    if seen[before] and seen[after] then
      if strand[before] == nil and strand[after] ~= nil then
        faults:add(line, headers[before], "an empty cell", ("a value: %s has one (or give a reason in excluded)"):format(
          headers[after]))
      elseif strand[before] ~= nil and strand[after] == nil and not strand.broken and strand.excluded == "" then
        faults:add(line, headers[after], "an empty cell",
          ("a value: %s has one (or broken = yes, or a reason in excluded)"):format(headers[before]))
      end
    end
  end
  for _, pair in ipairs(AXES) do
    local major, minor = strand[pair[1]], strand[pair[2]]
    if seen[pair[1]] and seen[pair[2]] and (major == nil) ~= (minor == nil) and not (strand.broken and not major) then
      local empty = major == nil and pair[1] or pair[2]
      faults:add(line, headers[empty], "an empty cell", "both axes, or none")
    elseif major and minor and minor > major * (1 + 1e-12) then
      faults:add(line, headers[pair[2]], ("a short axis above the long one"), "the longer one in " .. headers[pair[1]])
    end
  end
end

-- One sheet: list of strands, columns seen.
local function read_rows(rows, faults, o)
  local list, seen, unit = read_header(rows[1], faults)
  local headers, strands = {}, {}
  o.unit = unit
  for i, column in pairs(list) do
    headers[column.name] = rows[1][i]
  end
  for r = 2, #rows do
    local row = rows[r]
    local strand = { file = faults.file, line = row.line, header_line = rows[1].line, treatment = "", notes = "", excluded = "" }
    local width = #row
    while width > #rows[1] and row[width] == "" do
      width = width - 1
    end
    if width ~= #rows[1] then
      faults:add(row.line, "all", ("%d cells"):format(width),
        ("%d cells, as many as the first line names%s"):format(#rows[1],
          width > #rows[1] and o.delimiter == "," and " (numbers need a decimal point, not a comma)" or ""))
    else
      local wrong = false
      for i, column in pairs(list) do
        local cell = row[i]:match("^%s*(.-)%s*$")
        if not utf8.len(cell) then
          faults:add(row.line, headers[column.name], "letters that are not UTF-8", "a file saved as \"CSV UTF-8\"")
        elseif cell ~= "" then
          local x, expected = read[column.kind](cell, o)
          if x == nil then
            faults:add(row.line, headers[column.name], quoted(cell), expected)
            wrong = true
          end
          strand[column.name] = x
        end
      end
      if not wrong then
        check_together(strand, row.line, seen, faults, headers)
      end
      strands[#strands + 1] = strand
    end
  end
  return strands, seen, headers
end

-- ---- one file ---------------------------------------------------------------------------------------

-- Rows of a CSV text without its comments; or nil, line, sentence.
local function rows_of(text)
  if text:find("^\xFF\xFE") or text:find("^\xFE\xFF") then
    return nil, 1, "UTF-16", "a file saved as \"CSV UTF-8\""
  elseif text:find("\0", 1, true) then
    return nil, 1, "bytes that are no text", "a CSV file"
  end
  text = text:gsub("^\xEF\xBB\xBF", "")
  -- comments in front, line by line: they need not be proper CSV
  local skipped = 0
  while text:find("^[ \t]*\"?#") or text:find("^[ \t]*\r?\n") do
    local rest = text:match("^[^\n]*\n(.*)$")
    text, skipped = rest or "", skipped + 1
  end
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
  return rows, best
end

-- Fills strands and faults from one file; false when it cannot be read: sentence, code.
local function read_file(path, faults, o)
  local text, message, code = files.read(path)
  if not text then
    return nil, message, code
  end
  faults.file = path
  local rows, line, found, expected = rows_of(text)
  if not rows then
    faults:add(line, "all", found, expected)
    return {}, {}, {}
  end
  o.delimiter = line
  if #rows == 0 then
    faults:add(1, "all", "an empty file", "a line that names the columns, then a line for each strand")
    return {}, {}, {}
  elseif #rows == 1 then
    faults:add(rows[1].line, "all", "a header without strands", "a line for each strand")
  end
  return read_rows(rows, faults, o)
end

-- ---- all files --------------------------------------------------------------------------------------

local function check_ids(strands, faults)
  local first = {}
  for _, strand in ipairs(strands) do
    if strand.seen_id then
      local id = strand.id
      local name = id and (strand.donor or strand.file) .. "\0" .. id
      faults.file = strand.file
      if not id then
        faults:add(strand.line, "id", "an empty cell", "the name of the strand")
      elseif first[name] then
        local before = first[name]
        faults:add(strand.line, "id", quoted(id), ("another name: line %d%s has it already"):format(before.line,
          before.file ~= strand.file and " of " .. before.file or ""))
      else
        first[name] = strand
      end
    end
  end
end

-- Groups from the key: id (and donor, where both have it) -> group, treatment.
local function apply_key(strands, path, faults, o)
  local key_faults = setmetatable({ file = path }, Faults)
  local rows, seen, headers = read_file(path, key_faults, o)
  if not rows then
    return nil, seen, headers
  end
  if next(seen) and not seen.group then
    key_faults:add(1, "group", "no such column", "a column group: this is the key")
  end
  for _, fault in ipairs(key_faults) do
    faults[#faults + 1] = fault
  end
  local groups = {}
  for _, row in ipairs(rows) do
    if row.id then
      faults.file = path
      local name = (row.donor or "") .. "\0" .. row.id
      if groups[name] then
        faults:add(row.line, "id", quoted(row.id), ("another name: line %d has it already"):format(groups[name].line))
      end
      groups[name] = row
      groups["\0" .. row.id] = groups["\0" .. row.id] or row
    end
  end
  for _, strand in ipairs(strands) do
    local found = strand.id and (groups[(strand.donor or "") .. "\0" .. strand.id] or groups["\0" .. strand.id])
    faults.file = strand.file
    if strand.id and not found then
      faults:add(strand.line, "id", quoted(strand.id), "a strand of the key " .. path)
    elseif found then
      strand.group = strand.group or found.group
      strand.donor = strand.donor or found.donor
      strand.treatment = strand.treatment ~= "" and strand.treatment or found.treatment
    end
  end
  return true
end

local function check_groups(strands, faults)
  local spelled, told = {}, {}
  for _, strand in ipairs(strands) do
    faults.file = strand.file
    if not strand.group and (strand.group_column or not told[strand.file]) then
      told[strand.file] = true
      faults:add(strand.group_column and strand.line or strand.header_line, "group",
        strand.group_column and "an empty cell" or "no such column", "the group of each strand, here or in a key (--key)")
    elseif strand.group then
      local low = strand.group:lower()
      local known = spelled[low]
      if known and known.group ~= strand.group then
        faults:add(strand.line, "group", quoted(strand.group), ("one spelling: line %d has \"%s\""):format(known.line,
          known.group))
      end
      spelled[low] = known or strand
    end
  end
end

local function check_donors(strands, faults)
  local any = false
  for _, strand in ipairs(strands) do
    any = any or strand.donor ~= nil
  end
  for _, strand in ipairs(strands) do
    if any and not strand.donor and strand.donor_column then
      faults.file = strand.file
      faults:add(strand.line, "donor", "an empty cell", "the donor: other strands have one")
    end
    -- a sheet without donors is a stratum of its own
    strand.donor = strand.donor or strand.file
  end
end

--- Strands of all files, with what was not read; or nil, sentence, code, faults. options: key, scale.
function sheet.read(paths, options)
  local faults = setmetatable({}, Faults)
  local o = { scale = options.scale, place = {} }
  for i, grade in ipairs(options.scale) do
    o.place[grade] = i - 1
  end
  local all, used, unread, given = {}, {}, {}, {}
  for _, path in ipairs(paths) do
    faults.file = path
    if given[path] then
      misuse("%s is given twice", path)
    end
    given[path] = true
    local strands, seen, headers = read_file(path, faults, o)
    if not strands then
      return nil, seen, headers
    end
    for _, name in ipairs(faults.unread or {}) do
      unread[#unread + 1] = name
    end
    for name in pairs(seen) do
      used[name] = true
    end
    for _, strand in ipairs(strands) do
      strand.seen_id, strand.group_column, strand.donor_column = seen.id, seen.group, seen.donor
      all[#all + 1] = strand
    end
  end
  if #all > MOST then
    return nil, ("%d strands: sheets with up to %d are read"):format(#all, MOST), "data"
  end
  if options.key then
    local done, message, code = apply_key(all, options.key, faults, o)
    if not done then
      return nil, message, code
    end
  end
  check_ids(all, faults)
  check_groups(all, faults)
  check_donors(all, faults)
  if #faults > 0 then
    local order = {}
    for i, path in ipairs(paths) do
      order[path] = i
    end
    table.sort(faults, function(a, b)
      local x, y = order[a.file] or 0, order[b.file] or 0
      if x ~= y then
        return x < y
      elseif a.line ~= b.line then
        return a.line < b.line
      elseif a.column ~= b.column then
        return a.column < b.column
      end
      return a.expected < b.expected
    end)
    faults.file, faults.unread = nil, nil
    setmetatable(faults, nil)
    local words = #faults == 1 and "1 fault" or #faults .. " faults"
    return nil, ("%s in %s: nothing was computed"):format(words, table.concat(paths, ", ")), "data", faults
  end
  return { strands = all, columns = used, unread = unread }
end

return sheet
