-- Analyses of strand sheets as text for people: 80 columns, plain ASCII except for the user's own words.

local page = require("hairfibre.count.lines").page
local provenance = require "hairfibre.provenance"
local sentences = require "hairfibre.count.sentences"
local show = require "hairfibre.show"
local text = require "hairfibre.count.text"

local report = {}

local percent, um, change, strands = sentences.percent, sentences.um, sentences.change, sentences.strands

local function short(p)
  return (sentences.p(p):gsub("^below ", "<"))
end

-- A name that fits: the first letters of a long one.
local function cut(name, width)
  local n = utf8.len(name) or #name
  return n <= width and name or name:sub(1, (utf8.offset(name, width - 1) or width) - 1) .. ".."
end

local function say_sheets(out, a)
  out:labelled("Sheets", table.concat(a.files, ", ") .. (#a.keys > 0 and "; key " .. table.concat(a.keys, ", ") or ""))
  local donors = #a.strands == 0 and "" or not a.donors_named and ", donors not named"
    or #a.donors == 1 and " from one donor" or (" from %d donors"):format(#a.donors)
  out:labelled("Strands", ("%s%s%s"):format(strands(#a.strands), donors,
    a.control and (", compared with group %s%s"):format(a.control, a.control_named and "" or
      " (the first; --control names another)") or ""))
  if a.diameter and a.diameter.deviation then
    out:labelled("Diameter", ("%s um before, standard deviation between strands %s um (%d strands)"):format(
      um(a.diameter.mean), um(a.diameter.deviation), a.diameter.strands))
  end
  if #a.unread > 0 then
    out:labelled("Not read", "columns " .. table.concat(a.unread, ", "))
  end
  for _, strand in ipairs(a.excluded) do
    out:labelled("Left out", ("%s (group %s): %s"):format(strand.id, strand.group, strand.excluded))
  end
  if #a.excluded == 0 then
    out:labelled("Left out", "none")
  end
  if #a.lost > 0 then
    local ids = {}
    for i, strand in ipairs(a.lost) do
      ids[i] = strand.id
    end
    out:labelled("Broken", ("%s: counted as broken, without a value after"):format(table.concat(ids, ", ")))
  end
end

local function say_shares(out, a)
  local rows = {}
  for _, group in ipairs(a.groups) do
    for _, share in ipairs(group.shares) do
      rows[#rows + 1] = { cut(group.name, 12), share.words, sentences.interval(share, a.level),
        ("%.0f to %.0f %%"):format(100 * share.posterior.low, 100 * share.posterior.high) }
    end
  end
  if #rows == 0 then
    return
  end
  table.insert(rows, 1, { "group", "outcome", ("share (%s)"):format(a.method), "posterior" })
  out:head("Shares")
  out:grid(rows, { [2] = true, [3] = true, [4] = true })
  out:wrap("  ", "Posterior: the same under the prior Beta(1/2, 1/2) (Jeffreys).")
end

local function say_changes(out, a)
  local rows = {}
  for _, group in ipairs(a.groups) do
    local c = group.change
    if c then
      rows[#rows + 1] = { cut(group.name, 22), tostring(c.strands), change(c.mean), c.low and ("%s to %s"):format(change(c.low),
        change(c.high)) or "-", c.deviation and change(c.deviation) or "-", show.number(100 * c.relative, 2) .. " %" }
    end
  end
  if #rows > 0 then
    table.insert(rows, 1, { "group", "strands", "mean, um", percent(a.level), "s.d., um", "of before" })
    out:head("Change of diameter, the same strands before and after")
    out:grid(rows)
  end
  rows = {}
  for _, group in ipairs(a.groups) do
    local g = group.grades
    if g then
      rows[#rows + 1] = { cut(group.name, 22), tostring(g.strands), tostring(g.worse), tostring(g.same), tostring(g.better) }
    end
  end
  if #rows > 0 then
    table.insert(rows, 1, { "group", "strands", "worse", "same", "better" })
    out:head("Grades, the same strands before and after")
    out:grid(rows)
  end
end

local function say_tests(out, a)
  if #a.tests + #a.untested == 0 then
    return
  end
  out:head("Tests (two-sided; the corrected P is Holm's, over all of them)")
  local rows, besides = { { "what", "groups", "test", "P", "corrected" } }, {}
  for _, test in ipairs(a.tests) do
    local names = test.against and ("%s, %s"):format(cut(test.group, 8), cut(test.against, 8)) or cut(test.group, 18)
    rows[#rows + 1] = { test.what, names, test.test, short(test.p), short(test.p_holm) }
    if test.other then
      besides[#besides + 1] = ("%s in %s, %s: %s"):format(test.what, names, test.other, short(test.other_p))
    end
  end
  if #rows > 1 then
    out:grid(rows, { [2] = true, [3] = true })
  end
  if #besides > 0 then
    out:wrap("  ", "Besides, not corrected: " .. table.concat(besides, "; ") .. ".")
  end
  for _, test in ipairs(a.untested) do
    out:wrap("  ", ("%s, %s: no test, %s."):format(test.what,
      test.against and ("%s against %s"):format(test.group, test.against) or test.group, test.untested or "too few strands"))
  end
end

local function say_kappa(out, a)
  local k = a.kappa
  if not k then
    return
  end
  out:head("Two graders")
  for _, weights in ipairs { "linear", "quadratic" } do
    local one = k[weights]
    if one then
      out:wrap("  ", ("weighted kappa (%s) %.2f, standard error %.2f, %.2f to %.2f at %s (approximate)"):format(weights,
        one.kappa, one.standard_error, one.low, one.high, percent(a.level)))
    end
  end
  out:wrap("  ", k.linear and ("%d gradings by both%s."):format(k.gradings, k.gradings < 30 and "; below 30 the error is rough"
    or "") or ("%d gradings by both: %s."):format(k.gradings, k.message or "no kappa"))
end

--- Text of an analysis.
function report.analysis(a)
  local out = page()
  out:line("Strands counted")
  out:line()
  say_sheets(out, a)
  say_shares(out, a)
  say_changes(out, a)
  say_tests(out, a)
  say_kappa(out, a)
  if a.predicted then
    out:head("What the models expected of a strand (95 %)")
    text.predictions(out, a)
    local any = false
    for _, group in ipairs(a.groups) do
      any = any or group.prediction
    end
    if any then
      out:wrap("  ", text.basis(a))
    end
    for _, group in ipairs(a.groups) do
      if group.prediction and group.assumed then
        out:wrap("  ", ("Group %s: %sspread of the diameters assumed, as between 120 volunteers (bionumbers-106859, "
          .. "second-hand)."):format(group.name, group.assumed == "diameter" and "diameter of 70 um and " or ""))
      end
    end
  end
  out:head("What may be said")
  local safe = sentences.safe(a)
  for _, s in ipairs(#safe > 0 and safe or { "Nothing: no strand is left in the counts." }) do
    out:wrap("  - ", s)
  end
  out:head("What these strands cannot show")
  for _, s in ipairs(sentences.limits(a)) do
    out:wrap("  - ", s)
  end
  out:line()
  out:labelled("Computed by", provenance.sentence(a:provenance()))
  if a.caution then
    out:line()
    out:wrap("Caution: ", a.caution)
  end
  return out:text()
end

--- Lines for a list of faults.
function report.faults(faults)
  local out = page()
  for _, fault in ipairs(faults) do
    out:wrap("", ("%s, line %d%s: %s; expected %s"):format(fault.file, fault.line,
      fault.column and ", column " .. fault.column or "", fault.found, fault.expected))
  end
  return out:text()
end

return report
