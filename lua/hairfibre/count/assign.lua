-- Who gets what: strands of each donor are shared out to the groups at random, then all strands get
-- their numbers in random order. The sheet knows no groups; the key does.

local columns = require "hairfibre.count.columns"
local random = require "hairfibre.count.random"
local result = require "hairfibre.result"

local assign = {}

--- List of { id, donor, group, treatment } in the order of the sheet. each: strands per group and donor.
function assign.strands(groups, donors, each, seed)
  local list, r = {}, random.new(seed, 1000)
  for _, donor in ipairs(donors) do
    local places = {}
    for _, group in ipairs(groups) do
      for _ = 1, each do
        places[#places + 1] = group
      end
    end
    -- which strand of the donor, in the order they were cut, goes to which group
    r:shuffle(places)
    for i, group in ipairs(places) do
      list[#list + 1] = { donor = donor, strand = i, group = group.name, treatment = group.treatment or "" }
    end
  end
  r:shuffle(list)
  local digits = #tostring(#list)
  for i, one in ipairs(list) do
    one.id = ("S%0" .. math.max(2, digits) .. "d"):format(i)
  end
  return list
end

local function column(name, list, field)
  local values = {}
  for i, one in ipairs(list) do
    values[i] = field and tostring(one[field]) or ""
  end
  return { name = name, kind = "text", values = values }
end

--- The key: which strand belongs to which group. A result.
function assign.key(list)
  return result.new { columns = { column("id", list, "id"), column("donor", list, "donor"),
    column("strand", list, "strand"), column("group", list, "group"), column("treatment", list, "treatment") } }
end

--- CSV text of the sheet to fill in: no group, no treatment.
function assign.sheet(list)
  local names = { "id", "donor" }
  for _, one in ipairs(columns.list) do
    if one.name:find("^m[ai]") then
      names[#names + 1] = one.name .. "_um"
    elseif one.name == "grade_before" or one.name == "grade_after" or one.kind == "count" or one.kind == "truth"
      or one.name == "excluded" or one.name == "notes" then
      names[#names + 1] = one.name
    end
  end
  local parts = {}
  for i, name in ipairs(names) do
    parts[i] = column(name, list, (name == "id" or name == "donor") and name)
  end
  return result.new { columns = parts }
end

return assign
