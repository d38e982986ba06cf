-- Sentences of an import: why a row cannot be used, why a file cannot, what a person should see.

local core = require "hairfibre.core"

local says = {}

--- How to give what is missing, in a script or on the command line.
says.how = {
  script = { unit = 'columns = { ["%s"] = { unit = "%s" } }', basis = 'columns = { ["%s"] = { basis = "dry" } }, or "wet"',
    at = "x = %d", decimal = 'state the decimal sign (decimal = "point" or "comma")', delimiter = 'delimiter = "semicolon"', header = "header = 3" },
  file = { decimal = "write one decimal sign in the whole file, and no groups of digits" },
  command = { unit = '--unit "%s=%s"', basis = '--basis "%s=dry", or wet', at = "--x %d",
    decimal = "state the decimal sign (--decimal point or comma)", delimiter = "--delimiter semicolon", header = "--header 3" },
}

function says.counted(n, word)
  return ("%d %s%s"):format(n, word, n == 1 and "" or "s")
end

local function short(text, most)
  return utf8.len(text) and utf8.len(text) > most and text:sub(1, utf8.offset(text, most - 2) - 1) .. "..." or text
end
says.short = short

local function printable(text)
  if not utf8.len(text) then
    text = text:gsub("[\128-\255]", "?")
  end
  return (text:gsub("[\r\n\t]+", " "):gsub("[%c\127]", "?"))
end
says.printable = printable

function says.place(e)
  return e.column and ("line %d, column \"%s\""):format(e.line, e.column) or ("line %d"):format(e.line)
end

-- ---- a row ----------------------------------------------------------------------------------------------

local function no_number(text, column)
  local _, rest = core.number(text, true)
  if column.map.clock then
    return ("no time in the form %s"):format(column.unit_text)
  elseif text:find("^%s*%d+:%d%d") then
    return "a time; give the column the unit \"hh:mm:ss\" or \"mm:ss\""
  elseif rest and rest:find("^%s*[%a%%\u{B0}\u{B5}]") and not rest:find("^%s*e[%d+-]") then
    return "a plain number was expected, its unit in the header"
  end
  return "no number; a number was expected"
end

local function bound(e, column)
  local map = column.map
  if column.role == "sigma" then
    return "a standard deviation must be above 0"
  elseif map.wet then
    return e.why == "high" and "a moisture per wet mass must lie below 100 %" or "a moisture cannot lie that far below 0"
  end
  local x = e.why == "low" and map.low or map.high
  local percent = e.why == "high" and map.kind == "fraction" and map.factor == 1 and e.value <= 100 * x
  return ("%s %s%s was expected%s"):format(e.why == "low" and "at least" or "at most",
    core.text((x - map.offset) / map.factor, 7),
    column.unit_text and column.unit_text ~= "1" and " " .. column.unit_text or "", percent and "; is it in %?" or "")
end

local reasons = {
  cells = function(e, _, found)
    return ("%s; %d were expected, as in the header"):format(says.counted(e.count, "cell"), found.cells)
  end,
  cut = function(e, _, found)
    return ("the file ends in this line, after %d of %d cells: it is cut off"):format(e.count, found.cells)
  end,
  empty = function(_, column)
    return ("the cell is empty; a %s was expected"):format(column.kind == "text" and "word" or "number")
  end,
  text = function(e, column) return no_number(e.text, column) end,
  infinite = function() return "the number is too large" end,
  other = function(_, _, found)
    local comma = found.guess.decimal.value == ","
    return ("a decimal %s; a decimal %s was expected"):format(comma and "point" or "comma", comma and "comma" or "point")
  end,
  low = bound,
  high = bound,
  bytes = function() return "bytes that are no text in this encoding" end,
  quote = function() return "a quotation mark is not closed, or stands inside a cell" end,
  open = function() return "the file ends inside the quotation marks of this line: it is cut off" end,
  long = function() return "the line is too long; rows below 1 MB and 16384 cells were expected" end,
}

--- What the rows that cannot be used are for people: { line, column, text, why, code }.
function says.excluded(raw, columns, found)
  for i, e in ipairs(raw) do
    local column = e.column and columns[e.column]
    local why = reasons[e.why](e, column, found)
    if e.why == "text" and column.header == e.text then
      why = "the header again"
    elseif e.why == "text" and found.units and found.units[column.at] == e.text then
      why = "the units row again"
    end
    raw[i] = { line = e.line, column = column and column.name or nil, text = printable(e.text), why = why, code = e.why }
  end
  return raw
end

-- ---- a file ---------------------------------------------------------------------------------------------

--- Why reading stopped: sentence, code.
function says.stopped(o, word, trouble, columns)
  local how = says.how[o.says]
  if word == "ambiguous" then
    return ("line %d, column \"%s\": \"%s\" is %s or %s: %s"):format(trouble.line,
      columns[trouble.column].name, trouble.text, (trouble.text:gsub(",", ".")), (trouble.text:gsub("[.,]", "")),
      how.decimal), "data"
  elseif word == "conflict" then
    return ("line %d, column \"%s\": \"%s\" has a decimal comma, and \"%s\" in line %d was read with a decimal point: "
      .. "%s"):format(trouble.line, columns[trouble.column].name, trouble.text,
      trouble.decimal.text, trouble.decimal.line, how.decimal), "data"
  elseif word == "many" then
    return ("there are more than %d rows of %s, and %d numbers are the most that are read: thin the file out, or read "
      .. "fewer columns"):format(o.most // #columns, says.counted(#columns, "column"), o.most), "data"
  elseif word == "words" then
    return "a column of words holds more than 100000 different ones: is it a column of numbers?", "data"
  elseif word == "memory" then
    return "there is not enough memory for its columns", "memory"
  end
  return "the reading was interrupted", "stopped"
end

--- Why a file without one good row is refused.
function says.no_rows(d)
  if d.rows_excluded == 0 then
    return "there are no rows of numbers after the header"
  end
  local e, same = d.excluded[1], true
  for _, one in ipairs(d.excluded) do
    same = same and one.column == e.column
  end
  return ("%s%s; the first, %s: \"%s\": %s"):format(
    same and e.column and ("column \"%s\" has no number that can be used in "):format(e.column) or "no row can be used of ",
    says.counted(d.rows_excluded, "row"), says.place(e), short(e.text, 40), e.why)
end

-- ---- remarks --------------------------------------------------------------------------------------------

local function twice(list, notes)
  local first = {}
  for _, column in ipairs(list) do
    local before = first[column.header]
    if before and column.header ~= "" then
      notes[#notes + 1] = ("Columns %d and %d are both called \"%s\"."):format(before, column.at, printable(column.header))
    end
    first[column.header] = before or column.at
  end
end

local function plausible(c, largest, notes)
  if c.kind ~= "fraction" or c.role == "sigma" or largest == 0 then
    return
  elseif c.given_unit and c.given_unit:find("%%") and largest <= 0.01 then
    notes[#notes + 1] = ("Column \"%s\" is in %%, and no value is above 1 %%: are they fractions?"):format(c.name)
  elseif c.basis and largest > 1 and not c.dry_mass then
    notes[#notes + 1] = ("Column \"%s\" reaches %s %% of the %s mass: is the unit right?"):format(c.name,
      core.text(100 * largest, 4), c.given_basis)
  end
end

--- Remarks on a file that was read: a list of sentences. `all`: the columns of the file.
function says.notes(d, raw, all, found)
  local notes = {}
  if found.before > 0 then
    notes[#notes + 1] = ("%s before the header look%s like rows of numbers, the first in line %d: they are not used."):format(
      says.counted(found.before, "line"), found.before == 1 and "s" or "", found.before_line)
  end
  local last = d.excluded[#d.excluded]
  if raw.unended and not (last and (last.code == "cut" or last.code == "open")) then
    notes[#notes + 1] = "The last line has no line end: if more was expected, the file is cut off."
  end
  if raw.broken > 0 then
    notes[#notes + 1] = says.counted(raw.broken, "character") .. " could not be decoded."
  end
  if raw.comments > 0 then
    notes[#notes + 1] = says.counted(raw.comments, "line") .. " after the header began with # and "
      .. (raw.comments == 1 and "was" or "were") .. " passed over."
  end
  twice(all, notes)
  if d.rows_used > 2 then
    for i, c in ipairs(d.columns) do
      plausible(c, raw.largest[i], notes)
    end
  end
  return notes
end

return says
