-- Plans and analyses as text for people: 80 columns, plain ASCII except for the user's own words.

local columns = require "hairfibre.count.columns"
local page = require("hairfibre.count.lines").page
local provenance = require "hairfibre.provenance"
local sentences = require "hairfibre.count.sentences"
local show = require "hairfibre.show"
local steps = require "hairfibre.count.steps"
local words = require "hairfibre.count.words"

local text = {}

local percent, um, change = sentences.percent, sentences.um, sentences.change

--- What a prediction rests on.
function text.basis(x)
  return ("From %d strands drawn with the spread of the parameters and of the diameters, measured at %s humidity; the "
    .. "percentage is of that diameter. The models know no lasting change of diameter."):format(
    require("hairfibre.count.predict").draws, percent(x.humidity))
end

-- No test is sure to find what it looks for: a power of 1 is rounding.
local function chance(power)
  return percent(math.min(power, 1 - 1e-9))
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
  return ("power %s by %s (textbook formula: %.1f)"):format(chance(p.power_reached), test, p.calculation.formula)
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
  return ("%s um %s, standard deviation %s%s um%s; %s"):format(um(p.effect),
    p.expected and "expected by the models" or "expected", p.assumed_deviation and "at least " or "", um(p.deviation),
    p.assumed_deviation and " (spread of the diameters and pixel alone)" or "", risk(p))
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
  local sign = p.change > 0 and "+" or ""
  out:wrap("    ", p.no_change and "diameter: no change; " .. group.verdict
    or ("diameter %s%s um, %s to %s um (%s%s %%): %s"):format(sign, change(p.change), change(p.low), change(p.high), sign,
      show.number(100 * p.relative, 2), group.verdict))
  local range = p.grade_low == p.grade_high and p.grade
    or ("%s (from \"%s\" to \"%s\")"):format(p.grade, p.grade_low, p.grade_high)
  out:wrap("    ", ("voids: %s%s"):format(range, p.extrapolated and "; above 150 degC extrapolated" or ""))
end

function text.predictions(out, plan)
  for _, group in ipairs(plan.groups) do
    out:wrap("  ", ("%s: %s"):format(group.name, group.steps and steps.words(group.steps, { ascii = true })
      or group.treatment ~= "" and group.treatment or "(what is done with it is not written down)"))
    say_prediction(out, group)
  end
end

local function pixel_sentence(p)
  local predict = require "hairfibre.count.predict"
  local one, mean = predict.smallest(p.pixel, p.resolution, p.strands)
  if one == 0 then
    return "not given: whether a change of diameter can be seen stays open"
  end
  return ("%s um: the smallest change that one strand shows is %s um, that the mean of %s shows %s um (assumed: edges "
    .. "read to the nearest pixel)"):format(um(math.max(p.pixel or 0, p.resolution or 0)), um(one, 2),
    sentences.strands(p.strands), um(mean, 2))
end

--- Text of a plan.
function text.plan(p)
  local out = page()
  out:wrap("Strand experiment: ", p.question)
  out:line()
  local single = #p.groups == 1
  out:labelled("Strands", single and ("%s%s"):format(sentences.strands(p.strands), p.donors > 1 and ("; %d donors, %d of each"):format(
    p.donors, p.each) or "; one donor") or ("%d in each group, %d in all%s"):format(p.strands, p.total,
    p.donors > 1 and ("; %d donors, %d of each in each group"):format(p.donors, p.each) or "; one donor"))
  out:labelled("Why", reason[p.method](p))
  if p.strands_asked then
    out:labelled("", ("%d were asked for; %d would be needed"):format(p.strands_asked, p.needed))
  end
  if #p.alternatives > 0 then
    local parts = {}
    for i, one in ipairs(p.alternatives) do
      parts[i] = ("%d: %s"):format(one.strands, chance(one.power))
    end
    out:labelled("Power with", table.concat(parts, "; ") .. (single and " (strands: power)" or " (strands in each group: power)"))
  end
  out:labelled("Pixel", pixel_sentence(p))
  out:labelled("Diameter", ("%s um, standard deviation between strands %s um%s"):format(um(p.diameter), um(p.spread),
    p.diameters and (", from %s%s"):format(sentences.strands(#p.diameters), p.from and " of " .. p.from or " of yours") or (p.assumed_diameter and " (assumed" or " (yours")
      .. (p.assumed_spread and ", spread as between 120 volunteers, bionumbers-106859, second-hand)" or ")")))
  out:head("Groups, and what the models expect of a strand (95 %)")
  text.predictions(out, p)
  if p.groups[1].prediction or p.groups[#p.groups].prediction then
    out:wrap("  ", text.basis(p))
  end
  out:head("Assignment")
  out:wrap("  ", ("Number the strands of each donor as they are cut. Who treats them works from the key, which says what each "
    .. "becomes; who grades works from the sheet, which names no group, and does not see the key. Shared out at random "
    .. "within each donor, seed %d. --save STEM writes both."):format(p.seed))
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
  out:line()
  out:labelled("Computed by", provenance.sentence(p:provenance()))
  return out:text()
end

--- Text of a bench card: the words to write on come from the card.
function text.card(p, settings, checks)
  local out = page()
  out:wrap("BENCH CARD: ", p.question)
  out:wrap("", ("%s, %d in all; %s; seed %d"):format(#p.groups == 1 and "one group" or p.strands .. " in each group", p.total,
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
  out:line()
  out:labelled("Computed by", provenance.sentence(p:provenance()))
  if p.caution then
    out:line()
    out:wrap("Caution: ", p.caution)
  end
  return out:text()
end

return text
