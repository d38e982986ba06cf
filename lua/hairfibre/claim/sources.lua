-- Sources behind an answer: the strongest for and against a claim, and the keys of all of them.

local core = require "hairfibre.core"
local quantity = require "hairfibre.quantity"
local rows = require "hairfibre.claim.rows"
local verdict = require "hairfibre.claim.verdict"

local sources = {}

-- Rows of the catalogue that a subject uses.
local function rows_used(self, set)
  local list = {}
  for _, row in ipairs(core.rows(quantity.parameters(set))) do
    for _, prefix in ipairs(self.parameters) do
      if row.name == prefix or row.name:sub(1, #prefix + 1) == prefix .. "." then
        list[#list + 1] = row
        break
      end
    end
  end
  return list
end

local OWN = { ["own-judgement"] = true, ["own-fit"] = true, ["common-practice"] = true }

-- The best known source of the model itself, as a source for or against.
local function source_of_model(r, set)
  local best
  local function offer(key, place, known)
    local rank = rows.rank(known)
    if key ~= "" and not OWN[key] and (not best or rank < best.rank) then
      best = { key = key, place = place, known = known, rank = rank, text = "behind the model" }
    end
  end
  for _, key in ipairs(r.subject.sources) do
    offer(key, "", r.subject.known)
  end
  for _, row in ipairs(rows_used(r.subject, set)) do
    offer(row.source, row.place, row.known)
  end
  return best
end

--- Sets the strongest source for and against: a published row, or the model's own source where no row speaks.
function sources.strongest(r, readings, rivals, set)
  for _, one in ipairs(rivals) do
    local agrees = one.side == "for"
    for _, reading in ipairs(one.side and {} or readings) do
      agrees = agrees or verdict.meets(reading, one.low, one.high)
    end
    local key = agrees and "source_for" or "source_against"
    r[key] = r[key] or not OWN[one.key] and one or nil
  end
  local side = r.verdict == "supported" and "source_for" or r.verdict == "refuted" and "source_against"
  if side and not r[side] then
    r[side] = source_of_model(r, set)
  end
end

--- Keys of every source behind the answer, each once: equation, parameters, rows.
function sources.keys(r, set, extra)
  local list, seen = {}, {}
  local function add(key)
    if key and key ~= "" and not seen[key] then
      seen[key], list[#list + 1] = true, key
    end
  end
  for _, key in ipairs(r.subject.sources) do
    add(key)
  end
  for _, row in ipairs(rows_used(r.subject, set)) do
    add(row.source)
  end
  for _, one in ipairs { r.source_for or false, r.source_against or false, r.rival or false } do
    add(one and one.key)
  end
  for _, one in ipairs(extra or {}) do
    add(one.key)
  end
  return list
end

--- What speaks for or against without a figure.
function sources.sided(list)
  local found = {}
  for _, one in ipairs(list or {}) do
    if one.side then
      found[#found + 1] = one
    end
  end
  rows.sort(found)
  return found
end

--- Adds sources that speak for or against to a result without a model.
function sources.add(r, list)
  rows.sort(list)
  local copy, seen = table.move(r.sources, 1, #r.sources, 1, {}), {}
  for _, key in ipairs(copy) do
    seen[key] = true
  end
  for _, one in ipairs(list) do
    if one.side then
      local key = "source_" .. one.side
      r[key] = r[key] or one
    end
    copy[#copy + 1] = not seen[one.key] and one.key or nil
    seen[one.key] = true
  end
  r.sources = copy
end

return sources
