-- The pages of `hairfibre claim`: plain text at 80 columns, and the table of the claim book.

local catalogue = require "command.catalogue"
local claim = require "hairfibre.claim"
local core = require "hairfibre.core"
local quantity = require "hairfibre.quantity"
local sentence = require "hairfibre.claim.sentence"
local suggest = require "hairfibre.suggest"
local text = require "command.text"
local words = require "hairfibre.claim.words"

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

local function choices_of(c)
  local list = {}
  for i, x in ipairs(c.choices or {}) do
    list[i] = c.argument.choices[x + 1]
  end
  return list
end

local function model_line(r)
  if r.along then
    return r.course
  end
  local span = sentence.range(r.subject, r.span.low, r.span.high)
  if not r.value then
    return span .. " over all open conditions"
  end
  return sentence.answer(r.subject, r.value, r.low, r.high, "about 95 %: ")
    .. (#r.missing > 0 and "; " .. span .. " over all open conditions" or "")
end

local function condition_rows(r)
  local rows = {}
  local function state_of(c)
    return c.state == "given" and "" or c.state == "missing" and "missing" or "a span"
  end
  for _, c in ipairs(r.list) do
    local value = c.argument.kind == "choice" and (c.value and words.short(c.value, c.argument)
      or suggest.list(choices_of(c))) or c.value and words.short(c.value, c.argument)
      or words.span(c):gsub("^.- (%-?[%d.])", "%1")
    rows[#rows + 1] = { c.name, state_of(c), value }
  end
  if r.subject.room ~= "water" then
    local of = r.of_set
    rows[#rows + 1] = { "hair", state_of(of), of.alike and (r.subject.hair or "makes no difference here")
      or of.value and words.hair(of.value) or suggest.list(of.choices, "or") }
  end
  return rows
end

-- The condition that moves the answer most, of all but one.
local function first_other(r, c)
  for _, one in ipairs(r.missing) do
    if one.condition and one.condition ~= c then
      return one.condition
    end
  end
end

local function missing_rows(r)
  local rows, largest = {}, r.missing[1] and r.missing[1].span
  for i, one in ipairs(r.missing) do
    if one.basis then
      rows[i] = { tostring(i), "basis", sentence.range(r.subject, one.low, one.high) .. " by wet or by dry mass" }
    else
      local c, effect = one.condition
      if one.span <= 1e-3 * largest then
        effect = one.span == 0 and "does not move the answer" or "hardly moves the answer"
      else
        effect = sentence.range(r.subject, one.low, one.high)
          .. (c.choices and ": " .. suggest.list(c.name == "set" and c.choices or choices_of(c))
            or " over " .. words.span(c))
        local other = one.values and first_other(r, c)
        if other then
          local x = one.values[other.position]
          effect = ("%s (where %s)"):format(effect, other.name == "set" and words.hair(one.set)
            or other.choices and words.phrase(other, x) or words.span(other, x, x, nil, true))
        end
      end
      rows[i] = { tostring(i), words.name(c), effect }
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
    local parts, i = {}, 1
    while i <= #r.holds do
      local own = { r.holds[i] }
      while r.holds[i + 1] and r.holds[i + 1].condition == own[1].condition do
        i = i + 1
        own[#own + 1] = r.holds[i]
      end
      parts[#parts + 1], i = words.limits(own, true), i + 1
    end
    write(labelled("holds", table.concat(parts, "; ") .. (#r.missing > 1 and " (each with the others at their "
      .. "usual or middle value)" or "")), "\n")
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
  if r.basis ~= r.subject.text then
    write(labelled("basis", r.basis), "\n")
  end
  if r.subject.known and r.verdict ~= "no model" then
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

local function quoted(x)
  return x:find("[^%w_=.%%-]") and '"' .. x .. '"' or x
end

-- The entry as a command, when it is about a quantity.
local function as_command(entry)
  local words_of = { "hairfibre claim", entry.quantity, "--says", quoted(entry.says) }
  for _, part in ipairs { { "--at", entry.at }, { "--than", entry.than } } do
    for _, key in ipairs(suggest.sorted_keys(part[2] or {})) do
      local x = tostring(part[2][key])
      words_of[#words_of + 1] = part[1] .. " " .. quoted(key .. "=" .. x)
    end
  end
  words_of[#words_of + 1] = entry.set and "--set " .. entry.set
  return table.concat(words_of, " ")
end

--- The page of one entry of the claim book.
function page.entry(r, entry)
  write(wrap(("%s. %s"):format(r.number, r.words)), "\n")
  local put = entry.quantity and as_command(entry) or ('%s, "%s"'):format(text.phrase(r.quantity), r.says)
  write(wrap(("put as: %s; expected: %s"):format(put, r.expected), "    "), "\n\n")
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
    text.count(#list, "claim"), count.agree, count.differ), text.origin(), "\n")
end

return page
