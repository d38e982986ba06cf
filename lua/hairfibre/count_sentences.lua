-- Sentences that the strands support, and sentences about what they cannot show.

local predict = require "hairfibre.count_predict"
local show = require "hairfibre.show"
local statistics = require "hairfibre.statistics"

local sentences = {}

-- "48 %"; one decimal below 1 % and above 99 %, where whole percents would say too much.
local function percent(x)
  if x <= 0 or x >= 1 then
    return ("%.0f %%"):format(100 * x)
  elseif x < 0.001 or x > 0.999 then
    return x < 0.5 and "under 0.1 %" or "over 99.9 %"
  end
  local decimals = (x < 0.00995 or x > 0.99005) and 1 or 0
  return ("%." .. decimals .. "f %%"):format(100 * x)
end
sentences.percent = percent

local function um(x, digits)
  return math.abs(x) < 5e-9 and "0" or show.number(1e6 * x, digits or 3)
end
sentences.um = um

--- "0.004", "below 0.0001"
function sentences.p(p)
  return p < 1e-4 and "below 0.0001" or (p < 0.1 and "%.2g" or "%.2f"):format(p)
end

local function strands(n)
  return n == 1 and "1 strand" or n .. " strands"
end

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

local function say_change(a, group, out)
  local c = group.change
  if not c then
    return
  end
  local verb = c.mean >= 0 and "grew" or "shrank"
  local sign = c.mean >= 0 and 1 or -1
  if not c.low then
    out(("The diameter of %s in group %s %s by %s um; %s."):format(strands(c.strands), group.name, verb,
      um(math.abs(c.mean)), c.no_interval or "no interval"))
    return
  end
  local low, high = sign * c.low, sign * c.high
  if low > high then
    low, high = high, low
  end
  if low > 0 then
    out(("In group %s the diameter %s by %s um on average (%s to %s um at %s, %s)."):format(group.name, verb,
      um(math.abs(c.mean)), um(low), um(high), percent(a.level), strands(c.strands)))
  else
    out(("In group %s no change of the mean diameter is shown: %s um, %s to %s um at %s, %s."):format(group.name,
      um(c.mean), um(c.low), um(c.high), percent(a.level), strands(c.strands)))
  end
end

local function say_test(a, test, out)
  local seen = test.p_holm <= a.alpha
  local p = ("P = %s after correction for %d tests"):format(sentences.p(test.p_holm), #a.tests):gsub("= below", "below")
  if test.kind == "shares" then
    local t = test.table
    local counts = ("%s: %d of %d, %s: %d of %d"):format(test.group, t[1][1], t[1][1] + t[1][2], test.against, t[2][1],
      t[2][1] + t[2][2])
    if seen then
      local more = t[1][1] * (t[2][1] + t[2][2]) > t[2][1] * (t[1][1] + t[1][2])
      out(("The share with %s differs between the groups: it is %s in %s (%s; %s)."):format(test.what,
        more and "larger" or "smaller", test.group, counts, p))
    else
      out(("No different share with %s is shown between the groups (%s; %s); that is not proof of none."):format(
        test.what, counts, p))
    end
  elseif test.kind == "means" then
    local range = ("%s um, %s to %s um at %s"):format(um(test.difference), um(test.low), um(test.high), percent(a.level))
    if seen then
      out(("The change of diameter differs: %s against %s %s (%s)."):format(test.group, test.against, range, p))
    else
      out(("No different change of diameter is shown: %s against %s %s (%s)."):format(test.group, test.against, range, p))
    end
  elseif seen and test.kind == "ranks" then
    out(("The grades of %s and %s differ (%s)."):format(test.group, test.against, p))
  elseif seen and test.kind == "grades" then
    out(("In group %s the grades changed (%s)."):format(test.group, p))
  elseif seen and test.kind == "pairs" then
    out(("In group %s %s changed: %d strands no to yes, %d yes to no (%s)."):format(test.group, test.what, test.gained,
      test.lost, p))
  end
end

--- Prediction against observation: they agree when the interval of the mean observed meets the range
--- expected of a strand, widened by the reading of the mean.
function sentences.compared(a, group)
  local p, c = group.prediction, group.change
  local _, reading = predict.smallest(a.pixel, a.resolution, c.strands)
  local low, high = c.low or c.mean, c.high or c.mean
  local none = math.max(math.abs(p.low), math.abs(p.high)) < 5e-9
  local agree = low <= p.high + reading and high >= p.low - reading
  return ("Group %s: the models expected %s of a strand, the mean observed was %s um%s: the two %s."):format(group.name,
    none and "no change of diameter" or ("a change of diameter from %s to %s um"):format(um(p.low), um(p.high)), um(c.mean),
    c.low and (" (%s to %s)"):format(um(c.low), um(c.high)) or "", agree and "agree" or "do not agree")
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
    say_test(a, test, out)
  end
  for _, group in ipairs(a.groups) do
    if group.prediction and group.change then
      out(sentences.compared(a, group))
    end
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
  if #a.donors < 2 then
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
  out(("%d donors: the intervals of each group treat its strands as alike; for other heads %d donors count, not %d "
    .. "strands."):format(#a.donors, #a.donors, #a.strands))
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
  if not a.key then
    out("The sheet names the groups: whoever graded from it knew them.")
  end
  for _, group in ipairs(a.groups) do
    if (group.treatment_count or 0) > 1 then
      out(("Group %s holds strands with %d different treatments."):format(group.name, group.treatment_count))
    end
  end
  if #a.excluded + #a.lost > 0 then
    out(("%s left out: if that happened because of the treatment, the shares above are too mild."):format(
      #a.excluded + #a.lost == 1 and "1 strand was" or #a.excluded + #a.lost .. " strands were"))
  end
  out("Grades and voids are what a microscope shows on the places looked at: no measure of strength.")
  return list
end

return sentences
