-- A result: columns of SI numbers (or words) with units, and where they come from.
--
--   r.temperature      the list of a column             r.columns   { { name, unit, kind, values }, ... }
--   #r                 number of rows                   for i, row in r:rows() do row.temperature ... end
--   r:print()          table for people, 80 columns     r:save("a.csv")  or  r:save("a.json")

local collect = require "hairfibre.collect"
local columns = require "hairfibre.columns"
local core = require "hairfibre.core"
local files = require "hairfibre.files"
local misuse = require "hairfibre.misuse"
local provenance = require "hairfibre.provenance"
local show = require "hairfibre.show"

local result = {}

local WIDTH, SHOWN_ROWS = 80, 40
local PIECE = 512 -- rows that are written at once
local methods = {}
local meta = { __name = "hairfibre.result" }

-- Fields of a result that may be missing: a column of the same name is found by r:column only.
local FIELDS = { title = true, caution = true, set = true, notes = true, options = true, settings = true,
  files = true, origin = true, figure_notes = true, dangers = true }

function meta.__index(r, key)
  if methods[key] then
    return methods[key]
  elseif FIELDS[key] then
    return nil
  end
  for _, column in ipairs(rawget(r, "columns")) do
    if column.name == key then
      return column.values
    end
  end
end

function meta.__len(r)
  local first = r.columns[1]
  return first and #first.values or 0
end

function meta.__tostring(r)
  return methods.text(r)
end

--- New result. fields.columns: { { name =, unit =, values =, kind =, choices = }, ... }; optional:
--- set (parameters object), notes (list of sentences), caution (sentence), title. In a figure stand the `note`
--- of each column shown and figure_notes (usual: all notes). Where it comes from: options (list of { name, value }), files
--- read (list of { name, sha256 }); or origin in place of set, options and files, a table as r:provenance() gives it.
function result.new(fields)
  if type(fields) ~= "table" or type(fields.columns) ~= "table" then
    misuse("a result needs columns = { { name =, unit =, values = }, ... }")
  end
  local r, seen = { columns = {}, notes = fields.notes or {}, caution = fields.caution, title = fields.title,
    set = fields.set, options = fields.options, files = fields.files,
    origin = fields.origin, figure_notes = fields.figure_notes }, {}
  for i, given in ipairs(fields.columns) do
    local name, values = given.name, given.values
    if type(name) ~= "string" or not name:find("^[^%s,;\"%[%]]+$") then
      misuse("column %d needs a name without blanks, commas and brackets", i)
    elseif seen[name] then
      misuse("two columns are called \"%s\"", name)
    elseif type(values) ~= "table" then
      misuse("column \"%s\" needs a list of values", name)
    elseif i > 1 and #values ~= #r.columns[1].values then
      misuse("column \"%s\" has %d values, \"%s\" has %d", name, #values, r.columns[1].name,
        #r.columns[1].values)
    end
    local kind = given.kind or (type(values[1]) == "string" and "text" or "number")
    for row, x in ipairs(values) do
      if type(x) ~= (kind == "text" and "string" or "number") then
        misuse("column \"%s\", row %d: a %s among the %s", name, row, type(x),
          kind == "text" and "texts" or "numbers")
      end
    end
    seen[name] = true
    r.columns[i] = { name = name, unit = given.unit or (kind == "text" and "" or "1"), kind = kind,
      choices = given.choices, values = values, text = given.text, right = given.right, digits = given.digits, note = given.note }
  end
  return setmetatable(r, meta)
end

--- Column of a name, with its unit; nil when there is none.
function methods:column(name)
  for _, column in ipairs(self.columns) do
    if column.name == name then
      return column
    end
  end
end

--- for i, row in r:rows() do ... end
function methods:rows()
  local i, n = 0, #self
  return function()
    i = i + 1
    if i <= n then
      local row = {}
      for _, column in ipairs(self.columns) do
        row[column.name] = column.values[i]
      end
      return i, row
    end
  end
end

-- ---- text for people --------------------------------------------------------------------------------

local function pad(text, width, left)
  local space = (" "):rep(width - (utf8.len(text) or #text))
  return left and text .. space or space .. text
end

-- Cells of a column as shown: name, unit, then one text a row.
local function cells_of(column, last, options)
  local display = show.display(column, column.kind == "text" and {} or column.values, options)
  local cells, width = { column.name, display.unit }, 0
  for i = 1, last do
    local x = column.values[i]
    if column.kind == "text" then
      cells[#cells + 1] = x
    elseif column.kind == "choice" then
      cells[#cells + 1] = show.value(x, column)
    else
      cells[#cells + 1] = x == x and show.number(show.apply(display, x), column.digits or 5) or "-"
    end
  end
  for _, cell in ipairs(cells) do
    width = math.max(width, utf8.len(cell) or #cell)
  end
  return { cells = cells, width = width, left = (column.kind == "text" or column.kind == "choice") and not column.right }
end

-- Groups of columns that fit the width; the first column starts every group.
local function groups_of(list, limit)
  local groups, group, used = {}, { list[1] }, list[1].width
  for i = 2, #list do
    if used + 2 + list[i].width > limit and #group > 1 then
      groups[#groups + 1], group, used = group, { list[1] }, list[1].width
    end
    group[#group + 1], used = list[i], used + 2 + list[i].width
  end
  groups[#groups + 1] = group
  return groups
end

local function wrapped(sentence)
  local lines, line = {}, ""
  for word in sentence:gmatch("%S+") do
    if line ~= "" and utf8.len(line .. " " .. word) > WIDTH then
      lines[#lines + 1], line = line, word
    else
      line = line == "" and word or line .. " " .. word
    end
  end
  lines[#lines + 1] = line
  return table.concat(lines, "\n")
end

--- The result as an aligned table. options: rows (40 at most are shown), ascii.
function methods:text(options)
  options = options or {}
  local n, list, lines = #self, {}, {}
  local last = math.min(n, options.rows or SHOWN_ROWS)
  if self.title then
    lines[1] = self.title
  end
  for i, column in ipairs(self.columns) do
    list[i] = cells_of(column, last, options)
  end
  for g, group in ipairs(#list > 0 and groups_of(list, WIDTH) or {}) do
    if g > 1 then
      lines[#lines + 1] = ""
    end
    for row = 1, last + 2 do
      local parts = {}
      for i, column in ipairs(group) do
        parts[i] = pad(column.cells[row], column.width, column.left)
      end
      local line = table.concat(parts, "  "):gsub("%s+$", "")
      lines[#lines + 1] = (row ~= 2 or line ~= "") and line or nil -- no units, no line for them
    end
  end
  if last < n then
    lines[#lines + 1] = ("... and %d more row%s"):format(n - last, n - last == 1 and "" or "s")
  end
  for _, note in ipairs(self.notes) do
    lines[#lines + 1] = wrapped(note)
  end
  lines[#lines + 1] = wrapped(provenance.sentence(self:provenance()))
  lines[#lines + 1] = self.caution and wrapped(self.caution)
  return table.concat(lines, "\n") .. "\n"
end

--- Writes the table to standard output.
function methods:print(options)
  io.stdout:write(methods.text(self, options))
end

-- ---- files --------------------------------------------------------------------------------------------

local function quoted(text)
  if text:find('[,"\r\n]') or text:find("^%s") or text:find("%s$") then
    return '"' .. text:gsub('"', '""') .. '"'
  end
  return text
end

-- Texts of a column: SI numbers in full, words of a choice, nothing for what is not a number.
local function words_of(column, i)
  local x = column.values[i]
  if column.kind == "text" then
    return x
  elseif column.kind == "choice" then
    return show.value(x, column)
  end
  return math.abs(x) < math.huge and core.text(x) or ""
end

-- The lines of a CSV file, some rows at a time, so that a long table needs little room beside itself.
local function pieces(r, comment)
  local at, n = 0, #r
  return function()
    if at > n then
      return nil
    end
    local lines, cells, head = {}, {}, ""
    if at == 0 then
      head = comment or ""
      for i, column in ipairs(r.columns) do
        cells[i] = quoted(columns.header(column))
      end
      lines[1] = table.concat(cells, ",")
    end
    for row = at + 1, math.min(at + PIECE, n) do
      for i, column in ipairs(r.columns) do
        cells[i] = quoted(words_of(column, row))
      end
      lines[#lines + 1] = table.concat(cells, ",")
    end
    at = at + PIECE < n and at + PIECE or n + 1
    return head .. table.concat(lines, "\n") .. "\n"
  end
end

--- Figure of columns: options as of plot.result; x is the time, or the first column, unless it is named.
function methods:plot(options)
  local given = {}
  for key, x in pairs(options or {}) do
    given[key] = x
  end
  if given.y == nil then
    misuse("plot needs y = the name of a column, or a list of names")
  end
  local first = self.columns[1]
  given.x = given.x or self:column "time" and "time" or first and first.name
  return require("hairfibre.plot").result(self, given)
end

--- CSV text: one header line with units in the names, SI numbers that read back exactly.
function methods:csv()
  local list = {}
  for piece in pieces(self) do
    list[#list + 1] = piece
  end
  return table.concat(list)
end

--- A metatable for results with more methods than these.
function result.extended(more)
  local copy = {}
  for key, value in pairs(meta) do
    copy[key] = value
  end
  function copy.__index(r, key)
    return more[key] or meta.__index(r, key)
  end
  return copy
end

--- Where the numbers come from: { program, version, set, digest, changed = { { name, unit, value } }, options, inputs }.
function methods:provenance()
  return rawget(self, "origin") or provenance.of(self.set, self.options, self.files)
end

--- JSON text: provenance, columns, notes and caution.
function methods:json()
  return require("hairfibre.json").result(self)
end

local writers = { json = methods.json }

--- A .csv file begins with a comment that says where the numbers come from.
function writers.csv(r)
  return pieces(r, provenance.comment(provenance.sentence(r:provenance())))
end

--- Writes a .csv or .json file; true, or nil, sentence, "file".
function methods:save(path)
  local ending = type(path) == "string" and path:match("%.(%a+)$")
  local writer = ending and writers[ending:lower()]
  if not writer then
    misuse("save needs a name that ends in .csv or .json, not \"%s\"", tostring(path))
  end
  if collect.take("result", self, path) then
    return true
  end
  return files.write(path, writer(self))
end

--- The same for what stands on a result and has a save of its own.
result.save = methods.save

return result
