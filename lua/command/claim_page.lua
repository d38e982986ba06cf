-- The pages of `hairfibre claim`: plain text at 80 columns, and the table of the claim book.

local catalogue = require "command.catalogue"
local claim = require "hairfibre.claim"
local conditions = require "hairfibre.claim_conditions"
local core = require "hairfibre.core"
local quantity = require "hairfibre.quantity"
local sentence = require "hairfibre.claim_sentence"
local show = require "hairfibre.show"
local text = require "command.text"

local page = {}

-- Signs become ASCII before anything is measured.
local function wrap(s, ...)
  return text.wrap(text.ascii(s), ...)
end

local function labelled(label, s)
  return text.labelled(label, text.ascii(s))
end

local function columns(rows, options)
  for _, row in ipairs(rows) do
    for i, cell in ipairs(row) do
      row[i] = text.ascii(cell)
    end
  end
  return text.columns(rows, options)
end

local function write(...)
  io.stdout:write(...)
end

-- ---- plain text -----------------------------------------------------------------------------------

local function model_line(r)
  if r.along then
    return r.sentence:match("%) (.-) in ") or r.sentence
  end
  local span = sentence.range(r.subject, r.span.low, r.span.high)
  if not r.value then
    return span .. " over all open conditions"
  end
  local own = sentence.answer(r.subject, r.value, r.low, r.high)
  local open = #r.missing > 0
  return own .. ", about 95 %" .. (open and "; " .. span .. " over all open conditions" or "")
end

local function condition_rows(r)
  local rows = {}
  local function state_of(c)
    return c.state == "given" and "" or c.state == "missing" and "missing" or "a span"
  end
  for _, c in ipairs(r.list) do
    local value = c.value and conditions.short(c.value, c.argument)
      or (conditions.span(c):gsub("^" .. show.words(c.name) .. " ", ""):gsub("^starting regain ", ""))
    rows[#rows + 1] = { c.name, state_of(c), value }
  end
  if r.subject.room ~= "water" then
    rows[#rows + 1] = { "hair", state_of(r.of_set), r.of_set.value and conditions.hair(r.of_set.value)
      or require("hairfibre.suggest").list(r.of_set.choices, "or") }
  end
  return rows
end

local function missing_rows(r)
  local rows = {}
  for i, one in ipairs(r.missing) do
    if one.basis then
      rows[i] = { tostring(i), "basis", sentence.range(r.subject, one.low, one.high) .. " by wet or by dry mass" }
    else
      rows[i] = { tostring(i), one.condition.name, one.span == 0 and "does not move the answer"
        or sentence.range(r.subject, one.low, one.high) .. " over " .. conditions.span(one.condition) }
    end
  end
  return rows
end

local function source_line(label, one)
  if not one then
    return labelled(label, "none found")
  end
  local place = one.place and one.place ~= "" and ", " .. one.place or ""
  return labelled(label, ("%s%s (%s): %s"):format(one.key, place, one.known, one.text or ""))
end

local function provenance(r, set)
  local object = quantity.parameters(set) or core.parameters()
  local changed = {}
  for i, name in ipairs(object:changed()) do
    changed[i] = name .. " = " .. core.text(object:get(name))
  end
  return ("hairfibre %s, set %s, digest %s, %s%s"):format(core.version, object:name(), object:digest(),
    #changed == 0 and "no parameter changed" or "changed: " .. table.concat(changed, ", "),
    r.draws and (", range by %d draws with seed %d"):format(r.draws, r.seed) or "")
end

local function body(r, set)
  write(labelled("verdict", r.verdict .. ": " .. claim.reasons[r.why]), "\n")
  if r.reason then
    write(labelled("", r.reason), "\n")
  end
  write(labelled("to print", r.sentence), "\n", labelled("caption", r.caption), "\n")
  if r.verdict ~= "no model" then
    write(labelled("model", model_line(r)), "\n")
    write("  conditions\n", columns(condition_rows(r), { indent = "    " }), "\n")
  end
  if #r.holds > 0 then
    local parts = {}
    for i, one in ipairs(r.holds) do
      parts[i] = conditions.span(one.condition, one.low, one.high, one.choices)
    end
    write(labelled("holds for", table.concat(parts, "; ") .. " (each with the others at their usual or middle value)"),
      "\n")
  end
  if #r.missing > 0 then
    write("  open conditions, by how far each moves the answer\n", columns(missing_rows(r), { indent = "    " }), "\n")
  end
  write(source_line("for", r.source_for), "\n", source_line("against", r.source_against), "\n")
  for _, one in ipairs(r.slips) do
    write(labelled("slip?", ("%s: %s may have been meant"):format(one.words, one.meant)), "\n")
  end
  if r.note then
    write(labelled("say instead", r.note), "\n")
  end
  write(labelled("basis", r.basis), "\n")
  if r.subject.known then
    write(labelled("known", r.subject.known .. " (the equation)"), "\n")
  end
  write(labelled("left out", r.subject.leaves_out), "\n")
  write("  sources\n")
  for _, key in ipairs(r.sources) do
    write(wrap(key .. ": " .. catalogue.reference(key), "    ", "      "), "\n")
  end
  write(labelled("computed by", provenance(r, set)), "\n")
  local caution = catalogue.caution(r.subject)
  if caution then
    write(labelled("caution", caution), "\n")
  end
end

--- The page of one claim.
function page.plain(r, set)
  write(wrap(('%s: "%s"'):format(text.phrase(r.quantity), r.says)), "\n\n")
  body(r, set)
end

--- The page of one entry of the claim book.
function page.entry(r)
  write(wrap(("%s. %s"):format(r.number, r.words)), "\n")
  write(wrap(('put as: %s, "%s"; expected: %s'):format(text.phrase(r.quantity), r.says, r.expected), "    "), "\n\n")
  body(r, r.of_set and r.of_set.value)
end

--- The table of the claim book.
function page.book(list, count)
  local rows = { { "", "verdict", "expected", "claim" } }
  for i, r in ipairs(list) do
    rows[i + 1] = { r.number, r.verdict, r.agrees and "the same" or r.expected .. " <-", r.words }
  end
  write(columns(rows), "\n\n")
  write(("%s: %d as expected, %d different. hairfibre claim --book NUMBER shows one.\n"):format(
    text.count(#list, "claim"), count.agree, count.differ))
end

return page
