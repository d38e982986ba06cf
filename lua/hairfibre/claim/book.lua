-- The claim book: claims that one meets in print, in our own words, each with the verdict that it should get.
-- The entries are data in the files claim_book_*.lua; this file reads and runs them. An entry:
--
--   number, words     its number (with a letter for parts) and the claim
--   quantity, says, at, than, set      as hf.claim takes them
--   about             instead of a quantity: a small evaluator (see claim_subject.of_entry)
--   rivals            answers of other sources { key, low =, high = or value =, known, text }, with units
--   sources           what speaks for or against without a figure { side = "for" or "against", key, known, text }
--   expected          verdict
--   note              what to say instead, or what to keep in mind

local claim = require "hairfibre.claim"
local core = require "hairfibre.core"
local misuse = require "hairfibre.misuse"
local quantity = require "hairfibre.quantity"
local rows = require "hairfibre.claim.rows"
local says = require "hairfibre.claim.says"
local sources = require "hairfibre.claim.sources"
local subject = require "hairfibre.claim.subject"
local units = require "hairfibre.units"

local book = {}

local PARTS = { "water", "strength", "heat", "chemistry" }

-- "4b" to 4, "b"
local function split(number)
  local digits, letter = number:match("^(%d+)(%a?)$")
  return math.tointeger(tonumber(digits)), letter
end

local entries

--- All entries in the order of their numbers.
function book.entries()
  if not entries then
    local list = {}
    for _, part in ipairs(PARTS) do
      for _, entry in ipairs(require("hairfibre.claim.book_" .. part)) do
        list[#list + 1] = entry
      end
    end
    table.sort(list, function(a, b)
      local na, la = split(a.number)
      local nb, lb = split(b.number)
      if na ~= nb then
        return na < nb
      end
      return la < lb
    end)
    entries = list
  end
  return entries
end

local function value(text, what)
  local x, message = units.value(text, what)
  return x or error(message, 0)
end

-- Rivals and sources of an entry in the form that claim_rows gives.
local function extra(entry, what)
  local list = {}
  local function add(one, low, high)
    if not core.source(one.key) then
      error(("claim %s: there is no source \"%s\""):format(entry.number, one.key), 0)
    end
    list[#list + 1] = { key = one.key, place = one.place or "", known = one.known, text = one.text, low = low,
      high = high, side = one.side, rank = rows.rank(one.known), role = "check", distance = 0, order = 1000 + #list }
  end
  for _, one in ipairs(entry.rivals or {}) do
    add(one, value(one.low or one.value, what), value(one.high or one.value, what))
  end
  for _, one in ipairs(entry.sources or {}) do
    add(one)
  end
  return list
end

--- Judges one entry: result of hf.claim with number, words, expected, agrees and note; nil, sentence, code
--- where no state has an answer.
function book.judge(entry)
  local r, message, code
  local descriptor = entry.quantity and quantity.find(entry.quantity)
  if descriptor and not descriptor.has_model then
    r = claim.check { quantity = entry.quantity, says = entry.says, at = entry.at }
    sources.add(r, extra(entry, descriptor))
  else
    local self = descriptor and subject.of_quantity(descriptor) or subject.of_entry(entry.about)
    local read, wrong = says.parse(entry.says, self, entry.than ~= nil)
    if not read then
      error(("claim %s: %s"):format(entry.number, wrong), 0)
    end
    if entry.than then
      self = claim.compared(self, entry.than, read.measure)
    end
    r, message, code = claim.judge(self, read, entry.at or {}, entry.set, extra(entry, self))
  end
  if not r then
    return nil, ("claim %s: %s"):format(entry.number, message), code
  end
  r.number, r.words, r.expected, r.note = entry.number, entry.words, entry.expected, entry.note
  r.agrees = r.verdict == r.expected
  return r
end

--- Entries of a number: 4 and "4" give every part, "4b" one; nil gives all.
function book.find(number)
  if number == nil then
    return book.entries()
  end
  local found = {}
  for _, entry in ipairs(book.entries()) do
    local digits = entry.number:match("^%d+")
    if entry.number == tostring(number) or digits == tostring(number) then
      found[#found + 1] = entry
    end
  end
  if #found == 0 then
    misuse("the claim book has no number \"%s\": they go from 1 to 28, without 14", tostring(number))
  end
  return found
end

--- Judges all entries, or those of a number: list of results, and a count { agree =, differ = }.
function book.run(number)
  local list, count = {}, { agree = 0, differ = 0 }
  for i, entry in ipairs(book.find(number)) do
    local r, message, code = book.judge(entry)
    if not r then
      return nil, message, code
    end
    list[i] = r
    local key = r.agrees and "agree" or "differ"
    count[key] = count[key] + 1
  end
  return list, count
end

return book
