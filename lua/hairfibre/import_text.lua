-- What an import says to people: the profile of the file, its columns, the rows that were left out.

local import_text = {}

local ITEMS = { { "encoding", "encoding" }, { "delimiter", "between cells" }, { "decimal", "decimal sign" },
  { "preamble", "preamble" }, { "header", "header" }, { "units_row", "units row" } }
local SHOWN = 20

local function short(text, most)
  return utf8.len(text) and utf8.len(text) > most and text:sub(1, utf8.offset(text, most - 2) - 1) .. "..." or text
end

local function counted(n, word)
  return ("%d %s%s"):format(n, word, n == 1 and "" or "s")
end

local function guess_lines(guess, lines)
  for _, item in ipairs(ITEMS) do
    local g = guess[item[1]]
    if g then
      lines[#lines + 1] = ("  %-14s %-14s %s"):format(item[2], g.text, g.how)
    end
  end
end

local function place_of(e)
  return e.column and ("line %d, %s"):format(e.line, e.column) or ("line %d"):format(e.line)
end

-- First of the rows that were left out, as one sentence.
function import_text.no_rows(d)
  if d.rows_excluded == 0 then
    return "there are no rows of numbers after the header"
  end
  local e = d.excluded[1]
  return ("none of its %s can be used; the first, %s: \"%s\": %s"):format(counted(d.rows_excluded, "row"), place_of(e),
    short(e.text, 40), e.why)
end

--- Remarks that a person should see, into d.notes.
function import_text.notes(d, raw)
  local notes = d.notes
  if d.unended then
    local last = d.excluded[#d.excluded]
    if not (last and last.code == "cut") then
      notes[#notes + 1] = "The last line has no line end: if more was expected, the file is cut off."
    end
  end
  if raw.broken > 0 then
    notes[#notes + 1] = counted(raw.broken, "character") .. " could not be decoded."
  end
  for i, c in ipairs(d.columns) do
    local largest = raw.largest[i]
    if c.kind == "fraction" and c.given_unit and c.given_unit:find("%%") and c.role ~= "sigma" and d.rows_used > 2
      and largest > 0 and largest <= 0.01 then
      notes[#notes + 1] = ("%s is in %%, and no value is above 1 %%: are they fractions?"):format(c.name)
    end
  end
end

local function column_line(c)
  local from = c.given_unit and ("%s (%s)"):format(c.given_unit, c.unit_from) or ""
  local becomes = c.kind == "text" and "words" or c.kind == "fraction" and "becomes a fraction"
    or c.unit == "1" and "a number" or "becomes " .. c.unit
  if c.dry_mass then
    becomes = "becomes regain, " .. c.basis_from
  elseif c.given_basis == "wet" then
    becomes = ("per wet mass (%s), becomes regain m / (1 - m)"):format(c.basis_from)
  elseif c.given_basis == "dry" then
    becomes = ("per dry mass (%s), becomes a fraction"):format(c.basis_from)
  end
  return ("  %-6s %-16s %s%s"):format(c.role == "other" and "" or c.role, short(c.name, 30), from ~= "" and from .. ", " or "",
    becomes)
end

--- The text of d:text().
function import_text.data(d, options)
  local most = options and options.excluded or SHOWN
  local lines = { ("%s: %s used, %d left out"):format(d.file, counted(d.rows_used, "row"), d.rows_excluded) }
  guess_lines(d.guess, lines)
  lines[#lines + 1] = "Columns:"
  for _, column in ipairs(d.columns) do
    lines[#lines + 1] = column_line(column)
  end
  lines[#lines + 1] = ("SHA-256 %s, %s"):format(d.checksum, counted(d.bytes, "byte"))
  if d.comment_lines > 0 then
    lines[#lines + 1] = counted(d.comment_lines, "line") .. " that begin with # were passed over."
  end
  for _, note in ipairs(d.notes) do
    lines[#lines + 1] = note
  end
  if d.rows_excluded > 0 then
    lines[#lines + 1] = "Left out:"
    for i = 1, math.min(most, #d.excluded) do
      local e = d.excluded[i]
      lines[#lines + 1] = ("  %s: \"%s\": %s"):format(place_of(e), short(e.text, 40), e.why)
    end
    if d.rows_excluded > most then
      lines[#lines + 1] = ("  ... and %d more"):format(d.rows_excluded - most)
    end
  end
  return table.concat(lines, "\n") .. "\n"
end

-- ---- a look --------------------------------------------------------------------------------------------

local Look = { __name = "hairfibre.look" }
Look.__index = Look

function import_text.look(o, found, columns)
  local rows = {}
  for i = found.first, math.min(found.first + 4, #found.rows) do
    rows[#rows + 1] = found.rows[i]
  end
  return setmetatable({ file = o.file, guess = found.guess, columns = columns, rows = rows }, Look)
end

function Look:text()
  local lines = { self.file .. " looks like this:" }
  guess_lines(self.guess, lines)
  lines[#lines + 1] = "Columns:"
  for _, c in ipairs(self.columns) do
    local cells = {}
    for i, row in ipairs(self.rows) do
      cells[i] = row[c.at] or ""
    end
    lines[#lines + 1] = ("  %-3d %-20s %-12s %s"):format(c.at, short(c.name, 30), c.unit or "no unit",
      short(table.concat(cells, "  "), 36))
  end
  return table.concat(lines, "\n") .. "\n"
end

return import_text
