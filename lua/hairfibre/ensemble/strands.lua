-- The files of an ensemble, and parts joined.
--
-- Two files belong together: strands.csv with the rows, strands.json with where they come from. Numbers are written
-- so that they read back exactly, so an ensemble joined from parts has the bytes of one run.

local core = require "hairfibre.core"
local files = require "hairfibre.files"
local kept = require "hairfibre.ensemble.result"
local misuse = require "hairfibre.misuse"
local provenance = require "hairfibre.provenance"
local result = require "hairfibre.result"
local stamps = require "hairfibre.ensemble.stamp"

local strands = {}

local NAN = 0 / 0

--- Strands live in files that end in .csv.
function strands.check_path(path)
  if type(path) ~= "string" or not path:find("[^/]%.csv$") then
    misuse("strands are kept in a file that ends in .csv, not \"%s\"", tostring(path))
  end
end

local function sidecar(path)
  return (path:gsub("%.%w+$", "")) .. ".json"
end

--- Writes the rows as .csv and where they come from beside it as .json. true; or nil, sentence, "file".
function strands.save(r, path)
  strands.check_path(path)
  -- The rows first: without them the stamp would promise too much.
  local done, message, code = result.save(r, path)
  if not done then
    return nil, message, code
  end
  return files.write(sidecar(path), stamps.text(r))
end

-- True when the comment at the head of the rows tells of another ensemble than the stamp. Files that went in stand at its
-- end and do not count; somebody may have taken the comment away.
local function tells_another(text, stamp)
  local comment, origin = text:match("^#[^\n]*\n"), stamps.origin(stamp)
  origin.inputs = {}
  local wanted = provenance.comment(provenance.sentence(origin)):sub(1, -2)
  return comment and (comment:sub(1, #wanted) ~= wanted or not comment:find("^[;\n]", #wanted + 1))
end

local function read_rows(path, text)
  local header = result.new { columns = (function()
    local list = {}
    for c, description in ipairs(kept.columns()) do
      list[c] = { name = kept.column_name(description.name), unit = description.unit, values = {},
        kind = description.name == "status" and "text" or description.kind }
    end
    return list
  end)() }:csv():gsub("\n.*", "")
  local lines, skipped = text:gmatch("([^\n]*)\n"), 0
  local head = lines() or ""
  while head:find("^#") do
    head, skipped = lines() or "", skipped + 1
  end
  if head ~= header then
    return nil, path .. " does not hold the strands of this version"
  end
  local lists, status_at = {}, nil
  for c, description in ipairs(kept.columns()) do
    lists[c] = {}
    status_at = description.name == "status" and c or status_at
  end
  local row = 0
  local words = kept.status_words()
  for line in lines do
    row = row + 1
    local c = 0
    for cell in (line .. ","):gmatch("([^,]*),") do
      c = c + 1
      if not lists[c] then
        break
      end
      local x
      if c == status_at then
        x = words[cell]
      else
        x = cell == "" and NAN or core.number(cell)
      end
      if not x then
        return nil, ("%s, line %d: \"%s\" is no number"):format(path, skipped + row + 1, cell)
      end
      lists[c][row] = x
    end
    if c ~= #lists then
      return nil, ("%s, line %d has %d cells where %d are needed"):format(path, skipped + row + 1, c, #lists)
    end
  end
  return lists
end

local NO_SUCH_FILE = 2 -- ENOENT

-- Bytes of a file; or nil, sentence, code, the code "none" when there is no such file. One that may not be read is
-- there: to begin anew would write over it.
local function read_file(path)
  local text, message, code = files.read(path)
  if not text then
    local place = files.path("read", path)
    local file, _, why
    if place then
      file, _, why = io.open(place, "rb")
    end
    if file then
      file:close()
    end
    return nil, message, why == NO_SUCH_FILE and "none" or code
  end
  return text
end

--- Reads what save wrote: { stamp, columns = lists, rows = list of strand numbers }; or nil, sentence, code, the code
--- "none" when one of the two files is not there (a run killed between its first two writings).
function strands.read(path)
  strands.check_path(path)
  local text, message, code = read_file(path)
  if not text then
    return nil, message, code
  end
  local document
  document, message, code = read_file(sidecar(path))
  if not document then
    return nil, message, code
  end
  local stamp, why = stamps.read(document, sidecar(path))
  if not stamp then
    return nil, why, "data"
  end
  -- A run that was killed between its two writings over older files, or two that wrote the same names.
  if tells_another(text, stamp) then
    return nil, ("%s and %s come from different ensembles"):format(path, sidecar(path)), "data"
  end
  local lists
  lists, why = read_rows(path, text)
  if not lists then
    return nil, why, "data"
  end
  return { stamp = stamp, columns = lists, rows = lists[1] }
end

-- ---- parts ----------------------------------------------------------------------------------------------

-- The same numbers, NaN in the same places.
local function same_row(a, i, b, k)
  for c = 1, #a do
    local x, y = a[c][i], b[c][k]
    if x ~= y and (x == x or y == y) then
      return false
    end
  end
  return true
end

--- Joins parts from files: hf.merge { "part1.csv", "part2.csv" }. A strand may be in several parts when its numbers
--- agree. The result is that of one run when no strand is missing; or nil, sentence, code.
function strands.merge(paths)
  if type(paths) ~= "table" or rawlen(paths) == 0 then
    misuse("merge takes a list of files")
  end
  local stamp, place, order = nil, {}, {}
  for _, path in ipairs(paths) do
    local part, message, code = strands.read(path)
    if not part then
      return nil, message, code == "none" and "file" or code
    end
    if stamp then
      local differs = stamps.difference(stamp, part.stamp)
      if differs then
        return nil, ("%s does not belong to %s: %s differ"):format(path, paths[1], differs), "data"
      end
    else
      stamp = part.stamp
    end
    for i, strand in ipairs(part.rows) do
      local before = place[strand]
      if not before then
        place[strand] = { part.columns, i }
        order[#order + 1] = strand
      elseif not same_row(before[1], before[2], part.columns, i) then
        return nil, ("strand %d is in two files with different numbers; one of them is %s"):format(strand, path), "data"
      end
    end
  end
  table.sort(order)
  local lists = {}
  for c in ipairs(kept.columns()) do
    lists[c] = {}
    for i, strand in ipairs(order) do
      lists[c][i] = place[strand][1][c][place[strand][2]]
    end
  end
  local whole = {}
  for key, x in pairs(stamp) do
    whole[key] = x
  end
  whole.part, whole.parts = 1, 1
  return kept.new(lists, whole, nil)
end

return strands
