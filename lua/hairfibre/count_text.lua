-- Plans and analyses as text for people: 80 columns, plain ASCII except for the user's own words.

local columns = require "hairfibre.count_columns"
local sentences = require "hairfibre.count_sentences"
local show = require "hairfibre.show"
local steps = require "hairfibre.count_steps"
local words = require "hairfibre.count_words"

local text = {}

local WIDTH, MARGIN = 80, 14
local percent, um = sentences.percent, sentences.um

local Page = {}
Page.__index = Page

local function page()
  return setmetatable({ lines = {} }, Page)
end

function Page:line(s)
  self.lines[#self.lines + 1] = (s or ""):gsub("%s+$", "")
end

-- Words of a text; a unit stays with its number.
local function words_of(s)
  local list = {}
  for word in s:gmatch("%S+") do
    local bare = word:gsub("[,.:;)]+$", "")
    if #list > 0 and list[#list]:find("%d$") and (bare == "um" or bare == "%") then
      list[#list] = list[#list] .. " " .. word
    else
      list[#list + 1] = word
    end
  end
  return list
end

-- Wraps a paragraph; the first line begins with `first`, the others with as many blanks.
function Page:wrap(first, s)
  local rest = (" "):rep(utf8.len(first) or #first)
  local line, empty = first, true
  for _, word in ipairs(words_of(s)) do
    if empty then
      line, empty = line .. word, false
    elseif utf8.len(line) + 1 + utf8.len(word) <= WIDTH then
      line = line .. " " .. word
    else
      self:line(line)
      line = rest .. word
    end
  end
  self:line(line)
end

function Page:labelled(label, s)
  self:wrap(label .. (" "):rep(math.max(1, MARGIN - (utf8.len(label) or #label))), s)
end

function Page:head(s)
  if #self.lines > 0 then
    self:line()
  end
  self:line(s)
end

-- Rows of cells; the first column to the left, the others to the right unless `left` says so.
function Page:grid(rows, left)
  local widths = {}
  for _, row in ipairs(rows) do
    for i, cell in ipairs(row) do
      widths[i] = math.max(widths[i] or 0, utf8.len(cell) or #cell)
    end
  end
  for _, row in ipairs(rows) do
    local parts = {}
    for i, cell in ipairs(row) do
      local space = (" "):rep(widths[i] - (utf8.len(cell) or #cell))
      parts[i] = (i == 1 or left and left[i]) and cell .. space or space .. cell
    end
    self:line("  " .. table.concat(parts, "  "))
  end
end

function Page:text()
  return table.concat(self.lines, "\n") .. "\n"
end

local function strands(n)
  return n == 1 and "1 strand" or n .. " strands"
end

local function capital(s)
  return s:sub(1, 1):upper() .. s:sub(2)
end

-- ---- plan -------------------------------------------------------------------------------------------

local reason = {}

function reason.limit(p)
  local statistics = require "hairfibre.statistics"
  local all = statistics.binomial_interval { events = p.strands, strands = p.strands, level = p.level }
  local s = ("if all %d of %d show it, at least %s do at %s"):format(p.strands, p.strands, percent(all.low),
    percent(p.level))
  if p.strands > 1 then
    local less = statistics.binomial_interval { events = p.strands - 1, strands = p.strands, level = p.level }
    s = s .. ("; if one does not, at least %s"):format(percent(less.low))
  end
  return s .. " (Clopper-Pearson)"
end

function reason.width(p)
  local statistics = require "hairfibre.statistics"
  local events = math.floor(p.share * p.strands + 0.5)
  local s = statistics.binomial_interval { events = events, strands = p.strands, level = p.level }
  return ("%d of %d would give %s to %s at %s (Clopper-Pearson), wanted: no wider than %s"):format(events, p.strands,
    percent(s.low), percent(s.high), percent(p.level), percent(p.width))
end

local function risk(p)
  local each = p.alpha_each < p.alpha and (", shared by %d comparisons"):format(#p.groups - 1) or ""
  return ("risk of a false alarm %s%s"):format(percent(p.alpha), each)
end

local function power(p, test)
  return ("power %s by %s (textbook formula: %.1f)"):format(percent(p.power_reached), test, p.calculation.formula)
end

function reason.against(p)
  return ("%s expected, told from %s; %s; %s"):format(percent(p.share), percent(p.against), risk(p),
    power(p, "the exact binomial test"))
end

function reason.fisher(p)
  return ("%s expected in the control, %s in the treated; %s; %s"):format(percent(p.first), percent(p.second), risk(p),
    power(p, "Fisher's exact test"))
end

function reason.mcnemar(p)
  return ("%s of the strands expected to go from no to yes, %s from yes to no; %s; %s"):format(percent(p.gained),
    percent(p.lost), risk(p), power(p, "McNemar's exact test"))
end

local function effect(p)
  return ("%s um %s, standard deviation %s um%s; %s"):format(um(p.effect),
    p.expected and "expected by the models" or "expected", um(p.deviation),
    p.assumed_deviation and " (from the spread of the diameters and the pixel)" or "", risk(p))
end

reason["paired t"] = function(p)
  return effect(p) .. "; " .. power(p, "the paired t test")
end

function reason.t(p)
  return effect(p) .. "; " .. power(p, "the two-sample t test")
end

local function say_prediction(out, group)
  local p = group.prediction
  if not p then
    out:wrap("    ", ("no prediction: %s"):format(group.no_prediction or "unknown"))
    return
  end
  out:wrap("    ", ("diameter %s%s um, %s to %s (%s%s %%): %s"):format(p.change >= 0 and "+" or "", um(p.change), um(p.low),
    um(p.high), p.change >= 0 and "+" or "", show.number(math.abs(p.relative) < 5e-5 and 0 or 100 * p.relative, 2), group.verdict or "95 % of strands"))
  local range = p.grade_low == p.grade_high and p.grade
    or ("%s (from \"%s\" to \"%s\")"):format(p.grade, p.grade_low, p.grade_high)
  out:wrap("    ", ("voids: %s%s"):format(range, p.extrapolated and "; above 150 degC extrapolated" or ""))
end

function text.predictions(out, plan)
  for _, group in ipairs(plan.groups) do
    out:wrap("  ", ("%s: %s"):format(group.name, group.steps and steps.words(group.steps, { ascii = true })
      or group.treatment or "(what is done with it is yours to fill in)"))
    say_prediction(out, group)
  end
end

local function pixel_sentence(p)
  local predict = require "hairfibre.count_predict"
  local one, mean = predict.smallest(p.pixel, p.resolution, p.strands)
  if one == 0 then
    return "not given: whether a change of diameter can be seen stays open"
  end
  return ("%s um: the smallest change that one strand shows is %s um, the mean of %d %s um (assumed: edges read to the "
    .. "nearest pixel)"):format(um(math.max(p.pixel or 0, p.resolution or 0)), um(one, 2), p.strands, um(mean, 2))
end

--- Text of a plan.
function text.plan(p)
  local out = page()
  out:wrap("Strand experiment: ", p.question)
  out:line()
  out:labelled("Strands", ("%d in each group%s%s"):format(p.strands, #p.groups > 1 and (", %d in all"):format(p.total) or "",
    p.donors > 1 and ("; %d donors, %d of each in each group"):format(p.donors, p.each) or "; one donor"))
  out:labelled("Why", reason[p.method](p))
  if p.strands_asked then
    out:labelled("", ("%d were asked for; %d would be needed"):format(p.strands_asked, p.needed))
  end
  if #p.alternatives > 0 then
    local parts = {}
    for i, one in ipairs(p.alternatives) do
      parts[i] = ("%d: %s"):format(one.strands, percent(one.power))
    end
    out:labelled("Power with", table.concat(parts, "; ") .. " (strands in each group: power)")
  end
  out:labelled("Pixel", pixel_sentence(p))
  out:labelled("Diameter", ("%s um, standard deviation between strands %s um%s"):format(um(p.diameter), um(p.spread),
    p.diameters and (", from %d of your strands"):format(#p.diameters) or (p.assumed_diameter and " (assumed" or " (yours")
      .. (p.assumed_spread and ", spread as between 120 volunteers, bionumbers-106859, second-hand)" or ")")))
  out:head("Groups, and what the models expect of a strand (95 %)")
  text.predictions(out, p)
  if p.groups[1].prediction or p.groups[#p.groups].prediction then
    out:wrap("  ", ("Set %s, digest %s; %d drawn strands, diameter at %s humidity. The models know no lasting change of "
      .. "diameter."):format(p.set:name(), p.set:digest(), require("hairfibre.count_predict").draws, percent(p.humidity)))
  end
  out:head("Assignment")
  out:wrap("  ", ("Number the strands of each donor as they are cut. Who treats them works from the key, which says what each "
    .. "becomes; who grades works from the sheet, which names no group, and does not see the key. Shared out at random "
    .. "within each donor, seed %d."):format(p.seed))
  out:head("Grades, from no change to the worst")
  for _, grade in ipairs(p.grades) do
    out:wrap("  ", columns.scale_text[grade] and ("%s  %s"):format(grade, columns.scale_text[grade]) or grade)
  end
  out:head("Write down")
  for _, one in ipairs(words.record) do
    out:labelled("  " .. one[1], one[2])
  end
  out:head("Take care")
  for _, s in ipairs(words.care(p)) do
    out:wrap("  - ", s)
  end
  return out:text()
end

--- Text of a bench card: the words to write on come from the card.
function text.card(p, settings, checks)
  local out = page()
  out:wrap("BENCH CARD: ", p.question)
  out:wrap("", ("%d in each group, %d in all; %s; seed %d"):format(p.strands, p.total,
    p.donors > 1 and p.donors .. " donors" or "one donor", p.seed))
  out:head("Groups: expected (95 % for one strand) and observed")
  for _, group in ipairs(p.groups) do
    out:wrap("  ", ("%s, %d strands: %s"):format(group.name, group.strands, group.steps
      and steps.words(group.steps, { ascii = true }) or group.treatment or ("_"):rep(40)))
    say_prediction(out, group)
    out:line("    my guess ____________________   mean change ____________ um")
    out:line(("    voids in ______ of %d   worse ______   same ______   better ______"):format(group.strands))
  end
  out:head("Settings as they were")
  for i = 1, #settings, 2 do
    local cells = {}
    for k = 0, 1 do
      local words_of = (settings[i + k] or ""):gsub("\u{B0}", "deg")
      cells[#cells + 1] = words_of .. " " .. ("_"):rep(math.max(4, 36 - #words_of))
    end
    out:line("  " .. table.concat(cells, "  "))
  end
  out:head("Scale")
  out:wrap("  ", "Photograph the stage scale with the same objective and camera, in the same session:")
  out:line("  __________ um = __________ pixels, so 1 pixel = __________ um" .. (p.pixel
    and (" (planned: %s)"):format(um(p.pixel)) or ""))
  out:head("Grades, from no change to the worst")
  for _, grade in ipairs(p.grades) do
    out:wrap("  ", columns.scale_text[grade] and ("%s  %s"):format(grade, columns.scale_text[grade]) or grade)
  end
  out:head("Before you start")
  for _, s in ipairs(checks) do
    out:wrap("  [ ] ", s)
  end
  if p.hot then
    out:line()
    out:wrap("Caution: ", require("hairfibre.cautions").heat)
  end
  return out:text()
end

-- ---- analysis ---------------------------------------------------------------------------------------

local function short(p)
  return (sentences.p(p):gsub("^below ", "<"))
end

-- A name that fits: the first letters of a long one.
local function cut(name, width)
  local n = utf8.len(name) or #name
  return n <= width and name or name:sub(1, (utf8.offset(name, width - 1) or width) - 1) .. ".."
end

local function say_sheets(out, a)
  out:labelled("Sheets", table.concat(a.files, ", ") .. (a.key and "; key " .. a.key or ""))
  local donors = #a.donors == 1 and "one donor" or #a.donors .. " donors"
  out:labelled("Strands", ("%s from %s%s"):format(strands(#a.strands), donors,
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
      rows[#rows + 1] = { cut(group.name, 22), tostring(c.strands), um(c.mean), c.low and ("%s to %s"):format(um(c.low), um(c.high))
        or "-", c.deviation and um(c.deviation) or "-", show.number(100 * c.relative, 2) .. " %" }
    end
  end
  if #rows > 0 then
    table.insert(rows, 1, { "group", "strands", "mean, um", percent(a.level), "s.d., um", "relative" })
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
    local names = test.against and ("%s, %s"):format(cut(test.group, 10), cut(test.against, 10)) or cut(test.group, 22)
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
function text.analysis(a)
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
    out:wrap("  ", ("Set %s, digest %s; %d drawn strands with the diameters of the sheet. The models know "
      .. "no lasting change of diameter."):format(a.set:name(),
      a.set:digest(), require("hairfibre.count_predict").draws))
  end
  out:head("What may be said")
  for _, s in ipairs(sentences.safe(a)) do
    out:wrap("  - ", s)
  end
  out:head("What these strands cannot show")
  for _, s in ipairs(sentences.limits(a)) do
    out:wrap("  - ", s)
  end
  if a.hot then
    out:line()
    out:wrap("Caution: ", require("hairfibre.cautions").heat)
  end
  return out:text()
end

--- Lines for a list of faults.
function text.faults(faults)
  local out = page()
  for _, fault in ipairs(faults) do
    out:wrap("", ("%s, line %d, column %s: %s; expected %s"):format(fault.file, fault.line, fault.column, fault.found,
      fault.expected))
  end
  return out:text()
end

text.page, text.capital = page, capital

return text
