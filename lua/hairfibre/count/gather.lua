-- Strands of several sheets with the groups from their keys, checked against one another. A sheet with a fault
-- is not used at all: every fault of every file is listed.

local misuse = require "hairfibre.misuse"
local sheet = require "hairfibre.count.sheet"
local suggest = require "hairfibre.suggest"

local MOST = 10000 -- strands in all sheets
local MORE = 5 -- empty lines that are told one by one

local quoted = sheet.quoted

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
        local elsewhere = before.file ~= strand.file
        faults:add(strand.line, "id", quoted(id), ("another name: line %d%s has it already%s"):format(before.line,
          elsewhere and " of " .. before.file or "", elsewhere and ", with the same donor" or ""))
      else
        first[name] = strand
      end
    end
  end
end

-- ---- keys -------------------------------------------------------------------------------------------

-- Rows of all keys: by_plan[plan or ""][donor \0 id or \0 id] -> row with group and treatment.
local function read_keys(paths, faults, o)
  local by_plan, inputs = {}, {}
  for _, path in ipairs(paths) do
    local own = sheet.faults()
    own.file = path
    local rows, seen, headers = sheet.read_file(path, own, o)
    if not rows then
      return nil, seen, headers
    end
    inputs[#inputs + 1] = own.input
    if next(seen) and not seen.group then
      own:add(1, "group", "no such column", "a column group: this is the key")
    end
    local plan = own.plan or ""
    by_plan[plan] = by_plan[plan] or {}
    local known = by_plan[plan]
    for _, row in ipairs(rows) do
      if row.id then
        local name = (row.donor or "") .. "\0" .. row.id
        if known[name] then
          own:add(row.line, "id", quoted(row.id), ("another name: line %d has it already"):format(known[name].line))
        end
        row.file = path
        known[name] = row
        known["\0" .. row.id] = known["\0" .. row.id] or row
      end
    end
    for _, fault in ipairs(own) do
      faults[#faults + 1] = fault
    end
  end
  return by_plan, inputs
end

local function row_of(known, strand)
  return known and (known[(strand.donor or "") .. "\0" .. strand.id] or known["\0" .. strand.id])
end

-- The row of a strand: from the key of its plan; where sheet or key names no plan, from any.
local function find_row(by_plan, strand)
  local plan = strand.plan or ""
  if by_plan[plan] then
    return row_of(by_plan[plan], strand)
  elseif plan == "" then
    for _, name in ipairs(suggest.sorted_keys(by_plan)) do
      local row = row_of(by_plan[name], strand)
      if row then
        return row
      end
    end
  end
  return row_of(by_plan[""], strand)
end

local function apply_keys(strands, by_plan, paths, faults)
  local told = {}
  for _, strand in ipairs(strands) do
    faults.file = strand.file
    if strand.plan and not by_plan[strand.plan] and not by_plan[""] then
      strand.keyless = true
      if not told[strand.file] then
        told[strand.file] = true
        faults:add(1, nil, ("a sheet of plan %s"):format(strand.plan),
          ("the key of the same plan; that of %s is %s"):format(table.concat(paths, ", "),
            table.concat(suggest.sorted_keys(by_plan), ", ")))
      end
    elseif strand.id then
      local found = find_row(by_plan, strand)
      if not found then
        strand.keyless = true
        faults:add(strand.line, "id", quoted(strand.id), "a strand of the key " .. table.concat(paths, ", "))
      else
        strand.group = strand.group or found.group
        strand.donor = strand.donor or found.donor
        strand.treatment = strand.treatment ~= "" and strand.treatment or found.treatment
      end
    end
  end
end

-- ---- strands among each other -----------------------------------------------------------------------

local function check_groups(strands, faults)
  local spelled, told = {}, {}
  for _, strand in ipairs(strands) do
    faults.file = strand.file
    if strand.keyless then
      told[strand.file] = true -- the key is at fault, not the sheet
    elseif not strand.group and (strand.group_column or not told[strand.file]) then
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
    strand.donor_named = strand.donor ~= nil
    strand.donor = strand.donor or strand.file
  end
end

-- A line in which nothing was observed is a strand that went missing, unless nothing at all was filled in.
local function check_filled(strands, faults)
  local empty, filled = {}, {}
  for _, strand in ipairs(strands) do
    local file = strand.file
    if strand.observed or strand.excluded ~= "" then
      filled[file] = true
    else
      empty[file] = empty[file] or {}
      table.insert(empty[file], strand)
    end
  end
  for file, list in pairs(empty) do
    faults.file = file
    if not filled[file] then
      faults:add(list[1].line, nil, "no line is filled in", "diameters, grades, voids, cuticle_lift or broken")
    else
      for i = 1, math.min(#list, MORE) do
        local more = i == MORE and #list > MORE and (" (so have %d lines more)"):format(#list - MORE) or ""
        faults:add(list[i].line, nil, "nothing observed" .. more, "values, or a reason in excluded")
      end
    end
  end
end

-- ---- all together -----------------------------------------------------------------------------------

local function in_order(faults, paths)
  local order = {}
  for i, path in ipairs(paths) do
    order[path] = i
  end
  table.sort(faults, function(a, b)
    local x, y = order[a.file] or #paths + 1, order[b.file] or #paths + 1
    if x ~= y then
      return x < y
    elseif a.line ~= b.line then
      return a.line < b.line
    elseif a.column ~= b.column then
      return (a.column or "") < (b.column or "")
    end
    return a.expected < b.expected
  end)
  faults.file, faults.unread, faults.plan, faults.input = nil, nil, nil, nil
  return setmetatable(faults, nil)
end

local function read_sheets(paths, faults, o)
  local all, used, unread, inputs, given = {}, {}, {}, {}, {}
  for i, path in ipairs(paths) do
    if given[path] then
      misuse("%s is given twice", path)
    end
    given[path] = true
    local strands, seen, headers = sheet.read_file(path, faults, o)
    if not strands then
      return nil, seen, headers
    end
    inputs[i] = faults.input
    table.move(faults.unread or {}, 1, #(faults.unread or {}), #unread + 1, unread)
    for name in pairs(seen) do
      used[name] = true
    end
    for _, strand in ipairs(strands) do
      strand.seen_id, strand.group_column, strand.donor_column, strand.plan = seen.id, seen.group, seen.donor, faults.plan
      all[#all + 1] = strand
    end
  end
  return { strands = all, columns = used, unread = unread, inputs = inputs }
end

--- { strands, columns, unread (headers that are not known), inputs (for the provenance) } of all files; or nil, sentence,
--- code, faults. options: keys (list of files), scale (list of grades), any_group (true: groups may be missing).
return function(paths, options)
  local faults = sheet.faults()
  local o = { scale = options.scale, place = {} }
  for i, grade in ipairs(options.scale) do
    o.place[grade] = i - 1
  end
  local found, message, code = read_sheets(paths, faults, o)
  if not found then
    return nil, message, code
  elseif #found.strands > MOST then
    return nil, ("%d strands: sheets with up to %d are read"):format(#found.strands, MOST), "data"
  end
  if #options.keys > 0 then
    local by_plan, keys, class = read_keys(options.keys, faults, o)
    if not by_plan then
      return nil, keys, class
    end
    table.move(keys, 1, #keys, #found.inputs + 1, found.inputs)
    apply_keys(found.strands, by_plan, options.keys, faults)
  end
  check_ids(found.strands, faults)
  if not options.any_group then
    check_groups(found.strands, faults)
  end
  check_donors(found.strands, faults)
  check_filled(found.strands, faults)
  if #faults > 0 then
    local words = #faults == 1 and "1 fault" or #faults .. " faults"
    return nil, ("%s in %s: nothing was computed"):format(words, table.concat(paths, ", ")), "data",
      in_order(faults, paths)
  end
  return found
end
