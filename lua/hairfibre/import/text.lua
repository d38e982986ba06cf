-- An import as text of 80 columns: the profile of the file, its columns, the rows that were left out.

local says = require "hairfibre.import.says"

local import_text = {}

local WIDTH, SHOWN = 80, 20
local ITEMS = { { "encoding", "encoding" }, { "delimiter", "between cells" }, { "decimal", "decimal sign" },
  { "preamble", "preamble" }, { "header", "header" }, { "units_row", "units row" } }

-- A line that is broken at blanks; what follows is set in by `indent`.
local function add(lines, text, indent)
  local line
  for blank, word in text:gmatch("(%s*)(%S+)") do
    if not line then
      line = blank .. word
    elseif (utf8.len(line) or #line) + #blank + (utf8.len(word) or #word) > WIDTH then
      lines[#lines + 1], line = line, (" "):rep(indent) .. word
    else
      line = line .. blank .. word
    end
  end
  lines[#lines + 1] = line
end

local function guess_lines(guess, lines)
  for _, item in ipairs(ITEMS) do
    local g = guess[item[1]]
    if g then
      add(lines, ("  %-14s %-14s %s"):format(item[2], g.text, g.how), 32)
    end
  end
end

local function column_line(c)
  local becomes = c.kind == "text" and "words" or c.kind == "fraction" and "becomes a fraction"
    or c.unit == "1" and "a number" or c.unit == c.given_unit and "kept" or "becomes " .. c.unit
  if c.dry_mass then
    becomes = "becomes regain: " .. c.basis_from
  elseif c.given_basis == "wet" then
    becomes = ("per wet mass (%s), becomes regain m / (1 - m)"):format(c.basis_from)
  elseif c.given_basis == "dry" then
    becomes = ("per dry mass (%s), becomes a fraction"):format(c.basis_from)
  end
  return ("  %-8s %-14s %s%s"):format(c.role == "other" and "" or c.role, says.short(c.name, 30),
    c.given_unit and ("%s (%s), "):format(c.given_unit, c.unit_from) or "", becomes)
end

--- The text of d:text().
function import_text.data(d, options)
  local most = options and options.excluded or SHOWN
  local lines = {}
  add(lines, ("%s: %s used, %d left out, %s"):format(d.file, says.counted(d.rows_used, "row"), d.rows_excluded,
    says.counted(d.bytes, "byte")), 2)
  lines[#lines + 1] = "SHA-256 " .. d.checksum
  guess_lines(d.guess, lines)
  lines[#lines + 1] = "Columns:"
  for _, column in ipairs(d.columns) do
    add(lines, column_line(column), 26)
  end
  for _, note in ipairs(d.notes) do
    add(lines, note, 2)
  end
  if d.rows_excluded > 0 then
    lines[#lines + 1] = "Left out:"
    for i = 1, math.min(most, #d.excluded) do
      local e = d.excluded[i]
      add(lines, ("  %s: \"%s\": %s"):format(says.place(e), says.short(e.text, 40), e.why), 4)
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

--- What a file looks like: { file, guess, columns = { { at, name, unit }, ... }, rows }.
function import_text.look(o, found, columns)
  local rows = {}
  for i = found.first, math.min(found.first + 4, #found.rows) do
    rows[#rows + 1] = found.rows[i]
  end
  return setmetatable({ file = o.file, guess = found.guess, columns = columns, rows = rows }, Look)
end

function Look:text()
  local lines = {}
  add(lines, self.file .. " looks like this:", 2)
  guess_lines(self.guess, lines)
  lines[#lines + 1] = "Columns, with their first cells:"
  for _, c in ipairs(self.columns) do
    local cells = {}
    for i, row in ipairs(self.rows) do
      cells[i] = says.printable(row[c.at] or "")
    end
    lines[#lines + 1] = (("  %-3d %-18s %-10s %s"):format(c.at, says.short(c.name, 30), c.unit and says.short(c.unit, 16)
      or "no unit", says.short(table.concat(cells, "  "), 42)):gsub("%s+$", ""))
  end
  return table.concat(lines, "\n") .. "\n"
end

return import_text
