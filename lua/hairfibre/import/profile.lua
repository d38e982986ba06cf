-- What a data file looks like: delimiter, preamble, header, units row, decimal sign. Every item can be stated;
-- what is not stated is guessed from the head of the file, and says how.

local core = require "hairfibre.core"
local files = require "hairfibre.files"
local import_units = require "hairfibre.import.units"

local profile = {}

local MOST = 400 -- rows of the head that are looked at
local CANDIDATES = { "\t", ";", ",", "|", " " }

profile.words = { [","] = "comma", [";"] = "semicolon", ["\t"] = "tab", [" "] = "blanks", ["|"] = "bar", ["."] = "point" }

-- Marks of a missing value: a row of them is no header.
local MISSING = { [""] = true, ["-"] = true, ["--"] = true, ["n/a"] = true, na = true, nan = true, null = true, none = true,
  ["*"] = true, ["?"] = true }

local function is_number(cell)
  return cell ~= "" and core.number_form(cell) ~= "none"
end

--- An open file, decoded, with the guess of its encoding; or nil, sentence, code. o: file, encoding as stated, name
--- (for messages).
function profile.open(o)
  local path, message, code = files.path("read", o.file)
  if not path then
    return nil, message, code
  end
  local reader
  reader, message, code = core.import(path)
  if not reader then
    return nil, message, code
  end
  local word, why = reader:guess()
  if word == "binary" and not (o.encoding and o.encoding:find("^utf%-16")) then
    return nil, ("%s: this is no table of text (%s): save the table as CSV"):format(o.name or o.file, why), "data"
  end
  local stated = o.encoding
  if stated == "utf-16" then
    stated = word == "utf-16be" and word or "utf-16le"
  end
  word = stated or word
  reader:decode(word)
  return reader, { value = word, how = stated and "stated" or why, text = word }
end

--- reader:read, where also the lists of Lua may find no memory: then nil, "memory", {}.
function profile.read(reader, spec)
  local done, raw, trouble, at = pcall(reader.read, reader, spec)
  if not done and tostring(raw):find("not enough memory", 1, true) then
    reader:close()
    collectgarbage()
    return nil, "memory", {}
  elseif not done then
    error(raw, 0)
  end
  return raw, trouble, at
end

-- Counts of a row: numbers, filled cells.
local function measure(row)
  local numbers, filled = 0, 0
  for _, cell in ipairs(row) do
    if cell ~= "" then
      filled = filled + 1
      numbers = numbers + (is_number(cell) and 1 or 0)
    end
  end
  row.numbers, row.filled = numbers, filled
end

-- Numbers of cells that rows with numbers have, the commonest first, with their weights.
local function usual_cells(rows)
  local weight, counts, sum = {}, {}, 0
  for _, row in ipairs(rows) do
    if not row.fault and row.numbers > 0 then
      local share = row.numbers / row.filled
      if not weight[#row] then
        counts[#counts + 1] = #row
      end
      weight[#row], sum = (weight[#row] or 0) + share, sum + share
    end
  end
  table.sort(counts, function(a, b)
    return weight[a] > weight[b] or (weight[a] == weight[b] and a > b)
  end)
  return counts, weight, sum
end

-- ---- header and units row -----------------------------------------------------------------------------

local function is_names(row, cells)
  if row.fault or row.numbers > 0 then
    return false
  end
  local count = #row
  while count > cells and row[count] == "" do
    count = count - 1
  end
  if count > cells then
    return false
  end
  local named = 0
  for i = 1, count do
    named = named + (MISSING[row[i]:lower()] and 0 or 1)
  end
  return named > 0 and named >= count / 2, count
end

-- True when the cells beyond `count` are empty in every data row.
local function empty_beyond(rows, from, count, cells)
  for i = from, #rows do
    if #rows[i] == cells and rows[i].numbers > 0 then
      for k = count + 1, cells do
        if rows[i][k] ~= "" then
          return false
        end
      end
    end
  end
  return true
end

-- Words that may be a name as well as a unit.
local EITHER = { [""] = true, ["-"] = true, ["1"] = true, cycle = true, cycles = true, count = true, counts = true, number = true,
  n = true, ratio = true, fraction = true }

local function is_units(row, count)
  if not row or row.fault then
    return false
  end
  local known, unknown = 0, 0
  for i, cell in ipairs(row) do
    if i > count and cell ~= "" then
      return false
    elseif not EITHER[cell:lower()] then
      local good = not is_number(cell) and import_units.is_unit(cell)
      known, unknown = known + (good and 1 or 0), unknown + (good and 0 or 1)
    end
  end
  return known > 0 and known >= unknown
end

-- True for the row of another cycle that repeats the header or the units.
local function is_same(row, other)
  for i, cell in ipairs(other or {}) do
    if row[i] ~= cell then
      return false
    end
  end
  return other and #row >= #other
end

local function data_rows(rows, from, cells, header, units)
  local good, bad = 0, 0
  for i = from, #rows do
    if rows[i].fault ~= "comment" and not is_same(rows[i], header) and not is_same(rows[i], units) then
      local fits = not rows[i].fault and #rows[i] == cells and rows[i].numbers > 0
      good, bad = good + (fits and 1 or 0), bad + (fits and 0 or 1)
    end
  end
  return good, bad
end

local function finds_names(row, wanted)
  local found = 0
  for _, name in ipairs(wanted) do
    for _, cell in ipairs(row) do
      if type(name) == "string" and (cell == name or import_units.split_header(cell) == name
        or cell:lower() == name:lower()) then
        found = found + 1
        break
      end
    end
  end
  return found
end

-- Index of the next row that is no comment.
local function next_row(rows, i)
  i = i + 1
  while rows[i] and rows[i].fault == "comment" do
    i = i + 1
  end
  return i
end

-- Index of the header; nil when there is none.
local function guess_header(rows, cells, wanted)
  local best, most
  local taken = {} -- rows that are the units of the row before
  for i, row in ipairs(rows) do
    local names, count = is_names(row, cells)
    local after = next_row(rows, i)
    local units = names and not taken[i] and is_units(rows[after], count) and finds_names(rows[after], wanted) == 0
    taken[after] = taken[after] or units
    if names and not taken[i] and not (best and is_same(row, rows[best])) then
      local good, bad = data_rows(rows, units and next_row(rows, after) or after, cells, row, units and rows[after])
      local score = good - 3 * bad + 1e4 * finds_names(row, wanted)
      if good > 0 and (not most or score > most) and (count == cells or empty_beyond(rows, after, count, cells)) then
        best, most = i, score
      end
    end
  end
  return best
end

local function row_of_line(rows, line)
  for i, row in ipairs(rows) do
    if row.line <= line and line < row.next then
      return i
    elseif row.line > line then
      return nil
    end
  end
end

-- A comment right before the numbers that names as many columns: "##Temp./degC;Time/min".
local function commented_header(rows, first, cells, delimiter)
  local comment = rows[first - 1]
  if not (comment and comment.fault == "comment") then
    return nil
  end
  local row = { line = comment.line, next = comment.next }
  local text = comment.text:gsub('^[%s"#]+', "") .. (delimiter == " " and "" or delimiter)
  for cell in text:gmatch(delimiter == " " and "%S+" or "([^" .. delimiter .. "]*)" .. delimiter) do
    row[#row + 1] = cell:match('^[%s"]*(.-)[%s"]*$')
  end
  measure(row)
  if #row == cells and is_names(row, cells) then
    rows[first - 1] = row
    return first - 1
  end
end

-- Header of a table without one row of numbers: the first row of words.
local function only_names(rows)
  for i, row in ipairs(rows) do
    if is_names(row, #row) then
      return i
    end
  end
end

-- Index of the header and the number of cells of a row.
local function guess_table(rows, wanted)
  local counts, weight, sum = usual_cells(rows)
  for _, cells in ipairs(counts) do
    local header = weight[cells] * 2 >= sum and guess_header(rows, cells, wanted)
    if header then
      return header, cells, weight[cells]
    end
  end
  if not counts[1] then
    local header = only_names(rows)
    return header, header and #rows[header], 0
  end
  return nil, counts[1], weight[counts[1]]
end

-- Structure of the rows under one delimiter: { cells, header, units, first } as indices; or nil, sentence.
local function structure(rows, o, wanted, delimiter)
  local header, cells, weight = guess_table(rows, wanted)
  local s = { rows = rows, weight = weight or 0 }
  if o.header then
    s.header = row_of_line(rows, o.header)
    if not s.header then
      return nil, ("line %d, where the header was said to be, is blank or lies beyond what is looked at"):format(o.header)
    end
  elseif o.preamble and o.header ~= false then
    for i, row in ipairs(rows) do
      if row.line > o.preamble and row.fault ~= "comment" then
        s.header = i
        break
      end
    end
  elseif o.header == nil then
    s.header = header
  end
  local after = 1
  if s.header then
    after = next_row(rows, s.header)
  elseif o.preamble then
    while rows[after] and rows[after].line <= o.preamble do
      after = after + 1
    end
  else
    while rows[after] and (rows[after].fault or #rows[after] ~= cells or rows[after].numbers == 0) do
      after = after + 1
    end
    s.header = o.header == nil and commented_header(rows, after, cells, delimiter) or nil
  end
  if s.header then
    cells = #rows[s.header]
    while cells > 1 and rows[s.header][cells] == "" do
      cells = cells - 1
    end
  end
  if o.units_row then
    s.units = row_of_line(rows, o.units_row)
    if not s.units then
      return nil, ("line %d, where the units were said to be, is blank or lies beyond what is looked at"):format(o.units_row)
    end
  elseif o.units_row == nil and is_units(rows[after], cells or 1) then
    s.units = after
  end
  if s.units and s.units >= after then
    after = next_row(rows, s.units)
  end
  s.first, s.cells = after, cells
  local before = rows[after - 1]
  if not s.header and o.header == nil and rows[after] and before and not before.fault and before.numbers == 0
    and before.filled > 1 and before.filled < cells then
    s.misfit = before
  end
  s.found = s.header and finds_names(rows[s.header], wanted) or 0
  return s
end

-- Number of rows before the header that look like those after it, and the line of the first.
local function rows_before(s, rows)
  local share, count, before, line = 0, 0, 0, nil
  for i = s.first, #rows do
    if not rows[i].fault and #rows[i] == s.cells and rows[i].numbers > 0 then
      share, count = share + rows[i].numbers / rows[i].filled, count + 1
    end
  end
  for i = 1, (s.header or 1) - 1 do
    local row = rows[i]
    if count > 0 and not row.fault and #row == s.cells and row.numbers > 0
      and row.numbers / row.filled > share / count - 0.01 then
      before, line = before + 1, line or math.tointeger(row.line)
    end
  end
  return before, line
end

-- ---- delimiter -----------------------------------------------------------------------------------------

local function rows_with(reader, delimiter)
  local rows, message, code = reader:rows(delimiter, MOST)
  if not rows then
    return nil, message, code
  end
  for _, row in ipairs(rows) do
    measure(row)
  end
  return rows
end

local function item(value, how, word)
  return { value = value, how = how, text = word }
end

-- The delimiter of a first line such as sep=; which spreadsheets write.
local function told(rows)
  local first = rows[1] and rows[1].line == 1 and table.concat(rows[1], "\t")
  return first and first:match("^[sS][eE][pP]=(.)$")
end

--- Profile of a decoded file. o: delimiter, header, units_row, preamble as stated; wanted: names of columns that
--- are looked for. Or nil, sentence, code.
function profile.guess(reader, o, wanted)
  local best, most, problem, says
  for _, delimiter in ipairs(o.delimiter and { o.delimiter } or CANDIDATES) do
    local rows, message, code = rows_with(reader, delimiter)
    if not rows then
      return nil, message, code
    end
    says = says or delimiter == "\t" and told(rows)
    local s, why = structure(rows, o, wanted, delimiter)
    problem = problem or why
    if s then
      local score = s.weight * (s.header and 1 or 0.3) * ((s.cells or 1) > 1 and 1 or 0.4) * (1 + s.found)
        + (s.header and s.weight == 0 and 1e-3 * s.cells or 0)
      s.delimiter = delimiter
      if not most or score > most * 1.001 or delimiter == says then
        best, most = s, delimiter == says and math.huge or score
      end
    end
  end
  if not best then
    return nil, problem, "data"
  elseif best.misfit then
    return nil, ("line %d names %d columns, and the rows after it have %d cells: a decimal comma cannot be told from a comma "
      .. "between cells"):format(best.misfit.line, #best.misfit, best.cells), "data"
  end
  local rows, g = best.rows, {}
  local header, units = rows[best.header], rows[best.units]
  local last = units or header
  local before, before_line = rows_before(best, rows)
  g.delimiter = item(best.delimiter, o.delimiter and "stated" or says == best.delimiter and "the file says so" or (best.cells or 1) > 1
    and "it parts the rows evenly" or "nothing parts the rows: one column",
    profile.words[best.delimiter] or best.delimiter)
  g.header = item(header and header.line or false, (o.header ~= nil or o.preamble) and "stated"
    or header and "the line of names before the numbers" or "no line of names was found",
    header and "line " .. math.tointeger(header.line) or "none")
  local preamble = math.tointeger((header or rows[best.first] or { line = 1 }).line) - 1
  g.preamble = item(preamble, o.preamble and "stated" or "what stands before the header",
    preamble == 0 and "none" or preamble == 1 and "line 1" or "lines 1 to " .. preamble)
  g.units_row = item(units and units.line or false, o.units_row ~= nil and "stated"
    or units and "its cells are units" or "the line after the header holds no units",
    units and "line " .. math.tointeger(units.line) or "none")
  return { guess = g, header = header, units = units, cells = best.cells, first = best.first, rows = rows,
    delimiter = best.delimiter, skip = math.tointeger(last and last.next or rows[best.first] and rows[best.first].line or 1) - 1,
    empty = #rows == 0, before = before, before_line = before_line }
end

-- ---- decimal sign ---------------------------------------------------------------------------------------

--- The decimal sign as an item of the guess, of what reading has shown: { sign, how, line, text }.
function profile.decimal_item(d)
  local text = profile.words[d.sign]
  if d.how == "stated" then
    return item(d.sign, "stated", text)
  elseif d.how == "shown" then
    return item(d.sign, ("shown by \"%s\" in line %d"):format(d.text, d.line), text)
  elseif d.how == "usual" then
    return item(d.sign, ("as usual; \"%s\" in line %d was read so"):format(d.text, d.line), text)
  end
  return item(nil, "all numbers are whole", "none")
end

-- The first number of the head that has two readings, in any column; with its line and sign.
local function first_ambiguous(found)
  for i = found.first, #found.rows do
    for at = 1, found.rows[i].fault and 0 or #found.rows[i] do
      local form, sign = core.number_form(found.rows[i][at])
      if form == "ambiguous" then
        return found.rows[i][at], math.tointeger(found.rows[i].line), sign
      end
    end
  end
end

--- The decimal sign that the head shows, for a look: an item of the guess, never a refusal.
function profile.look_at_decimal(found, stated)
  local all = {}
  for at = 1, found.cells or 0 do
    all[at] = at
  end
  local d, conflict = profile.decimal(found, all, stated)
  local cell, line, sign = first_ambiguous(found)
  if not d then
    return item(nil, conflict, "both")
  elseif d.how == "open" and sign == "," then
    return item(nil, ("to be stated: \"%s\" in line %d is %s or %s"):format(cell, line, (cell:gsub(",", ".")),
      (cell:gsub(",", ""))), "open")
  elseif d.how == "open" and sign then
    d = { how = "usual", sign = sign, line = line, text = cell }
  end
  return profile.decimal_item(d)
end

--- What the numbers of the head show, in the columns `used` (a list of places): { sign, how, line, text }, or nil
--- and a sentence when they contradict one another.
function profile.decimal(found, used, stated)
  if stated then
    return { sign = stated, how = "stated" }
  end
  local shown
  for i = found.first, #found.rows do
    local row = found.rows[i]
    if not row.fault and #row >= found.cells then
      for _, at in ipairs(used) do
        local form, sign = core.number_form(row[at])
        if form == "decimal" and not shown then
          shown = { sign = sign, how = "shown", line = math.tointeger(row.line), text = row[at] }
        elseif form == "decimal" and sign ~= shown.sign then
          return nil, ("\"%s\" in line %d has a decimal %s, \"%s\" in line %d a decimal %s"):format(shown.text, shown.line,
            profile.words[shown.sign], row[at], math.tointeger(row.line), profile.words[sign])
        end
      end
    end
  end
  return shown or { how = "open" }
end

return profile
