-- Sentences that the strands support, and sentences about what they cannot show.

local predict = require "hairfibre.count.predict"
local show = require "hairfibre.show"
local statistics = require "hairfibre.statistics"

local sentences = {}

-- "48 %"; one decimal below 5 % and above 95 %, where whole percents would say too much.
local function percent(x)
  if x > 0 and x < 0.0005 then
    return "under 0.1 %"
  elseif x < 1 and x > 0.9995 then
    return "over 99.9 %"
  end
  local decimals = (x < 0.0495 or x > 0.9505) and 1 or 0
  return (("%." .. decimals .. "f"):format(100 * x):gsub("%.0$", "")) .. " %"
end
sentences.percent = percent

local function um(x, digits)
  return math.abs(x) < 5e-9 and "0" or show.number(1e6 * x, digits or 3)
end
sentences.um = um

--- A change of diameter in um: no photograph shows more than hundredths.
local function change(x)
  return (("%.2f"):format(1e6 * x):gsub("^%-0%.00$", "0.00"))
end
sentences.change = change

--- "0.004", "below 0.0001"
function sentences.p(p)
  return p < 1e-4 and "below 0.0001" or (p < 0.1 and "%.2g" or "%.2f"):format(p)
end

local function strands(n)
  return n == 1 and "1 strand" or n .. " strands"
end
sentences.strands = strands

-- "5 of 5: at least 48 % at 95 %"
function sentences.interval(share, level)
  local head = ("%d of %d"):format(share.events, share.strands)
  if share.strands == 0 then
    return "no strand: nothing is known"
  elseif share.events == share.strands then
    return ("%s: at least %s at %s"):format(head, percent(share.low), percent(level))
  elseif share.events == 0 then
    return ("%s: at most %s at %s"):format(head, percent(share.high), percent(level))
  end
  return ("%s: %s to %s at %s"):format(head, percent(share.low), percent(share.high), percent(level))
end

local SHOWED = { voids = "showed voids", cuticle_lift = "showed a lifted cuticle", broken = "broke",
  worse = "got a worse grade" }

local function say_share(a, group, share, out)
  local among = #a.groups > 1 and (" in group %s"):format(group.name) or ""
  local head = ("%d of %s%s %s"):format(share.events, strands(share.strands), among, SHOWED[share.name])
  if share.events == share.strands then
    out(("%s: of such strands at least %s do, at %s."):format(head, percent(share.low), percent(a.level)))
  elseif share.events == 0 then
    out(("%s: of such strands at most %s do, at %s."):format(head, percent(share.high), percent(a.level)))
  else
    out(("%s: of such strands %s to %s do, at %s."):format(head, percent(share.low), percent(share.high),
      percent(a.level)))
  end
end

local function corrected(a, test)
  return ("P %s after correction for %d tests"):format((sentences.p(test.p_holm):gsub("^%d", "= %0")), #a.tests)
end

local NO_PROOF = "; that does not prove that there is none"

local function say_change(a, group, out)
  local c = group.change
  if not c then
    return
  end
  local verb, sign = c.mean >= 0 and "grew" or "shrank", c.mean >= 0 and 1 or -1
  local test = group.change_test
  if not c.low then
    out(("The diameter of %s in group %s %s by %s um; no interval: %s."):format(strands(c.strands), group.name, verb,
      change(math.abs(c.mean)), c.no_interval or "too few strands"))
    return
  end
  local low, high = math.min(sign * c.low, sign * c.high), math.max(sign * c.low, sign * c.high)
  if test.p_holm and test.p_holm <= a.alpha then
    out(("In group %s the diameter %s by %s um on average (%s to %s um at %s, %s; %s)."):format(group.name, verb,
      change(math.abs(c.mean)), change(low), change(high), percent(a.level), strands(c.strands), corrected(a, test)))
  else
    out(("In group %s no change of the mean diameter is shown: %s um, %s to %s um at %s, %s (%s)%s."):format(group.name,
      change(c.mean), change(c.low), change(c.high), percent(a.level), strands(c.strands),
      test.p_holm and corrected(a, test) or "no test", NO_PROOF))
  end
end

local say = {}

function say.shares(_, test, seen, p)
  local t = test.table
  local counts = ("%s: %d of %d, %s: %d of %d"):format(test.group, t[1][1], t[1][1] + t[1][2], test.against, t[2][1],
    t[2][1] + t[2][2])
  if seen then
    local more = t[1][1] * (t[2][1] + t[2][2]) > t[2][1] * (t[1][1] + t[1][2])
    return ("The share with %s is %s in group %s than in %s (%s; %s)."):format(test.what, more and "larger" or "smaller",
      test.group, test.against, counts, p)
  end
  return ("No different share with %s is shown between the groups (%s; %s)%s."):format(test.what, counts, p, NO_PROOF)
end

function say.means(a, test, seen, p)
  local range = ("%s um, %s to %s um at %s"):format(change(test.difference), change(test.low), change(test.high),
    percent(a.level))
  if seen then
    return ("The mean change of diameter in group %s differs from that in %s by %s (%s)."):format(test.group, test.against,
      range, p)
  end
  return ("No different change of diameter is shown: %s less %s %s (%s)%s."):format(test.group, test.against, range, p,
    NO_PROOF)
end

function say.ranks(_, test, seen, p)
  if seen and test.what == "change of grade" then
    return ("The grades of group %s got %s than those of %s (%s)."):format(test.group,
      test.higher and "worse by more" or "worse by less", test.against, p)
  elseif seen then
    return ("After, the grades of group %s are %s than those of %s (%s)."):format(test.group,
      test.higher and "worse" or "better", test.against, p)
  end
  return ("No difference between the grades of %s and %s is shown (%s)%s."):format(test.group, test.against, p, NO_PROOF)
end

function say.grades(_, test, seen, p)
  if seen then
    return ("In group %s the grades changed: %d got worse, %d better (%s)."):format(test.group, test.worse, test.better, p)
  end
end

function say.pairs(_, test, seen, p)
  local counts = ("%d went from no to yes, %d from yes to no"):format(test.gained, test.lost)
  if seen then
    return ("In group %s %s changed: of %s %s (%s)."):format(test.group, test.what, strands(test.strands), counts, p)
  end
  return ("In group %s no change of %s is shown: of %s %s (%s)%s."):format(test.group, test.what, strands(test.strands),
    counts, p, NO_PROOF)
end

--- Prediction against observation: they are compatible when the interval of the mean observed meets the range
--- expected of a strand, widened by the reading of the mean.
function sentences.compared(a, group)
  local p, c = group.prediction, group.change
  local _, reading = predict.smallest(a.pixel, a.resolution, c.strands)
  local low, high = c.low or c.mean, c.high or c.mean
  local compatible = low <= p.high + reading and high >= p.low - reading
  local expected = p.no_change and "know no lasting change of diameter from these steps"
    or ("expect the diameter of a strand to change by %s to %s um"):format(change(p.low), change(p.high))
  return ("Group %s: the models %s; observed was a mean of %s um%s%s. The two are %scompatible."):format(group.name,
    expected, change(c.mean), c.low and (" (%s to %s)"):format(change(c.low), change(c.high)) or "",
    reading > 0 and (", read to %s um"):format(change(reading)) or "", compatible and "" or "not ")
end

local function say_voids(group, out)
  local p, share = group.prediction, group.shares.voids
  if p and share then
    local range = p.grade_low == p.grade_high and ("\"%s\""):format(p.grade)
      or ("something between \"%s\" and \"%s\""):format(p.grade_low, p.grade_high)
    out(("Group %s: of voids the models say %s for a strand; voids were seen in %d of %s."):format(group.name, range,
      share.events, strands(share.strands)))
  end
end

--- What may be said.
function sentences.safe(a)
  local list = {}
  local function out(s)
    list[#list + 1] = s
  end
  for _, group in ipairs(a.groups) do
    for _, share in ipairs(group.shares) do
      say_share(a, group, share, out)
    end
    say_change(a, group, out)
  end
  for _, test in ipairs(a.tests) do
    out(say[test.kind] and say[test.kind](a, test, test.p_holm <= a.alpha, corrected(a, test)))
  end
  for _, group in ipairs(a.groups) do
    if group.prediction and group.change then
      out(sentences.compared(a, group))
    end
    say_voids(group, out)
  end
  return list
end

-- ---- limits -----------------------------------------------------------------------------------------

local function smallest_p(a, out)
  local control = a.groups[1]
  for i = 2, #control.shares > 0 and #a.groups or 0 do
    local m, n = #a.groups[i].strands, #control.strands
    local extreme = statistics.fisher_exact { table = { { m, 0 }, { 0, n } }, level = a.level }
    if extreme.two_sided > a.alpha then
      out(("With %d and %d strands no outcome of yes or no can fall below P = %g: the smallest possible is %s."):format(m,
        n, a.alpha, sentences.p(extreme.two_sided)))
    else
      local power = statistics.two_share_power { first = 0.1, second = 0.5, strands = m, second_strands = n,
        alpha = a.alpha }
      if power and power < 0.8 then
        out(("Groups of %d and %d notice a difference of 10 %% against 50 %% in %s of such experiments, before any "
          .. "correction."):format(m, n, percent(power)))
      end
    end
  end
end

local function few_changes(a, out)
  local most = 0
  for _, group in ipairs(a.groups) do
    if group.grades then
      most = math.max(most, group.grades.strands)
    end
  end
  if most > 0 and most < 6 and a.alpha <= 0.05 then
    out("Before and after, fewer than 6 strands that all change one way cannot fall below P = 0.05.")
  end
end

local function donors_of(a, out)
  if not a.donors_named then
    out("The donors are not named: where all strands come from one head, nothing is known about others.")
    return
  elseif #a.donors < 2 then
    out("All strands come from one donor: nothing is known about other heads of hair.")
    return
  end
  local shared = 0
  for _, donor in ipairs(a.donors) do
    local groups = 0
    for _, group in ipairs(a.groups) do
      groups = groups + (group.donors[donor] and 1 or 0)
    end
    shared = shared + (groups > 1 and 1 or 0)
  end
  if #a.groups > 1 and shared == 0 then
    out("No donor has strands in two groups: donors and treatments cannot be told apart.")
  end
  out(("The intervals of a group take its strands as if from one head; for other heads the %d donors count, not the %d "
    .. "strands."):format(#a.donors, #a.strands))
  for _, test in ipairs(a.tests) do
    if test.kind == "means" then
      out("Between groups shares and grades are compared within donors; the mean changes of diameter are not.")
      return
    end
  end
end

local function too_small(a, out)
  local step = predict.smallest(a.pixel, a.resolution, 1)
  if step == 0 then
    for _, group in ipairs(a.groups) do
      if group.change then
        out("The size of a pixel was not given (--pixel): whether the changes of diameter can be read at all stays open.")
        return
      end
    end
    return
  end
  for _, group in ipairs(a.groups) do
    local c = group.change
    if c then
      local below = 0
      for _, x in ipairs(c.changes) do
        below = below + (math.abs(x) < step and 1 or 0)
      end
      if below > 0 then
        out(("In group %s %d of %d changes of diameter are below the %s um that one strand can show."):format(group.name,
          below, c.strands, um(step, 2)))
      end
      local _, mean = predict.smallest(a.pixel, a.resolution, c.strands)
      if math.abs(c.mean) < mean then
        out(("In group %s the mean change is below the %s um that the mean of %d can show."):format(group.name, um(mean, 2),
          c.strands))
      end
    end
  end
end

--- What these strands cannot show.
function sentences.limits(a)
  local list = {}
  local function out(s)
    list[#list + 1] = s
  end
  if #a.strands == 0 then
    out("No strand is left: nothing can be said.")
    return list
  elseif #a.strands == 1 then
    out("One strand shows that something can happen, not how often.")
  end
  if #a.groups < 2 then
    out("There is no control group: what the treatment did cannot be told from handling, water and time.")
  else
    smallest_p(a, out)
  end
  few_changes(a, out)
  donors_of(a, out)
  too_small(a, out)
  if #a.keys == 0 then
    out("The sheet names the groups: whoever graded from it knew them.")
  end
  if #a.groups > 1 and not a.planned then
    out("Whether the strands were shared out to the groups at random is not on record: where they were not, a difference "
      .. "between groups need not come from the treatment.")
  end
  for _, group in ipairs(a.groups) do
    if (group.treatment_count or 0) > 1 then
      out(("Group %s holds strands with %d different treatments."):format(group.name, group.treatment_count))
    end
  end
  local missing = #a.excluded + #a.lost
  if missing > 0 then
    out(("%s missing from some or all of the counts: if the treatment had to do with that, the shares above are off."):format(
      missing == 1 and "1 strand is" or missing .. " strands are"))
  end
  out("Grades and voids are what a microscope shows on the places looked at: no measure of strength.")
  return list
end

return sentences
