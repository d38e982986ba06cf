-- Numbers of an analysis: shares with intervals in each group, the same strands before and after, each
-- group against the control, two graders, and Holm's correction over all P values that are shown.

local mean_of = require("hairfibre.count.predict").mean_of
local statistics = require "hairfibre.statistics"

local compare = {}

-- ---- what is yes or no ------------------------------------------------------------------------------

-- name, words, value of a strand (true, false, nil where not observed), value before
compare.outcomes = {
  { "voids", "voids", function(s)
    if s.voids then
      return s.voids > 0
    end
  end, function(s)
    if s.voids_before then
      return s.voids_before > 0
    end
  end },
  { "cuticle_lift", "lifted cuticle", function(s)
    return s.cuticle_lift
  end, function(s)
    return s.cuticle_lift_before
  end },
  { "broken", "breaks", function(s)
    return s.broken
  end },
  { "worse", "a worse grade", function(s)
    if s.graded then
      return s.graded > 0
    end
  end },
}

local function count(strands, value)
  local events, n = 0, 0
  for _, strand in ipairs(strands) do
    local x = value(strand)
    if x ~= nil then
      n, events = n + 1, events + (x and 1 or 0)
    end
  end
  return events, n
end

local function numbers(strands, field)
  local list = {}
  for _, strand in ipairs(strands) do
    if strand[field] then
      list[#list + 1] = strand[field]
    end
  end
  return list
end

local function mean(list)
  return #list > 0 and (mean_of(list)) or nil
end

local function deviation(list)
  return #list > 0 and select(2, mean_of(list)) or nil
end

-- A test belongs to the family of the correction unless it could not have come out in any other way.
local function add_test(a, test, why_not)
  if test.p and not why_not then
    a.tests[#a.tests + 1] = test
  else
    test.untested = why_not or test.untested
    a.untested[#a.untested + 1] = test
  end
  return test
end

-- ---- one group --------------------------------------------------------------------------------------

local function shares(a, group)
  group.shares = {}
  for _, outcome in ipairs(compare.outcomes) do
    local events, n = count(group.strands, outcome[3])
    if n > 0 then
      local share = statistics.binomial_interval { events = events, strands = n, method = a.method, level = a.level }
      share.name, share.words, share.events, share.strands = outcome[1], outcome[2], events, n
      share.posterior = statistics.posterior_share { events = events, strands = n, level = a.level }
      table.insert(group.shares, share)
      group.shares[share.name] = share
    end
  end
end

-- Pairs of strands that changed their answer.
local function changed(group, outcome)
  local gained, lost, n = 0, 0, 0
  for _, strand in ipairs(group.strands) do
    local before, after = outcome[4](strand), outcome[3](strand)
    if before ~= nil and after ~= nil then
      n = n + 1
      gained = gained + ((after and not before) and 1 or 0)
      lost = lost + ((before and not after) and 1 or 0)
    end
  end
  return gained, lost, n
end

local function pairs_of(a, group)
  group.pairs = {}
  for _, outcome in ipairs(compare.outcomes) do
    if outcome[4] then
      local gained, lost, n = changed(group, outcome)
      if n > 0 then
        local test = statistics.mcnemar { gained = gained, lost = lost }
        table.insert(group.pairs, add_test(a, { what = outcome[2], group = group.name, test = "McNemar, exact",
          gained = gained, lost = lost, strands = n, p = test.exact, mid_p = test.mid_p, kind = "pairs" },
          gained + lost == 0 and "no strand changed" or nil))
      end
    end
  end
end

local function diameter(a, group)
  local before, after, changes = {}, {}, {}
  for _, strand in ipairs(group.strands) do
    if strand.change then
      before[#before + 1], after[#after + 1] = strand.before, strand.after
      changes[#changes + 1] = strand.change
    end
  end
  group.measured = numbers(group.strands, "before")
  if #changes == 0 then
    return
  end
  local test, message = statistics.paired_t { before = before, after = after, level = a.level }
  local ranks = statistics.signed_rank { differences = changes }
  group.change = { strands = #changes, mean = mean(changes), deviation = deviation(changes),
    low = test and test.low, high = test and test.high, no_interval = message, relative = mean(changes) / mean(before),
    changes = changes, ranks = ranks }
  group.change_test = add_test(a, { what = "diameter", group = group.name, test = "paired t", p = test and test.two_sided, kind = "change",
    other = "signed rank", other_p = ranks.two_sided, strands = #changes, untested = message })
end

local function grades(a, group)
  local changes, worse, better = {}, 0, 0
  for _, strand in ipairs(group.strands) do
    if strand.graded then
      changes[#changes + 1] = strand.graded
      worse, better = worse + (strand.graded > 0 and 1 or 0), better + (strand.graded < 0 and 1 or 0)
    end
  end
  if #changes == 0 then
    return
  end
  local ranks = statistics.signed_rank { differences = changes }
  group.grades = { strands = #changes, worse = worse, better = better, same = #changes - worse - better, ranks = ranks,
    sign = statistics.mcnemar { gained = worse, lost = better } }
  add_test(a, { what = "grade", group = group.name, test = "signed rank", p = ranks.two_sided, kind = "grades",
    other = "sign test", other_p = group.grades.sign.exact, strands = #changes, worse = worse, better = better },
    ranks.used == 0 and "no grade changed" or nil)
end

-- ---- a group against the control --------------------------------------------------------------------

-- Tables of the donors that have strands in both groups, treated first.
local function tables_of(control, group, outcome)
  local by_donor, order = {}, {}
  for place, one in ipairs { group, control } do
    for _, strand in ipairs(one.strands) do
      local x = outcome[3](strand)
      if x ~= nil then
        local t = by_donor[strand.donor]
        if not t then
          t = { { 0, 0 }, { 0, 0 } }
          by_donor[strand.donor], order[#order + 1] = t, t
        end
        local cell = x and 1 or 2
        t[place][cell] = t[place][cell] + 1
      end
    end
  end
  return order
end

local function add_up(tables)
  local sum = { { 0, 0 }, { 0, 0 } }
  for _, t in ipairs(tables) do
    for i = 1, 2 do
      for k = 1, 2 do
        sum[i][k] = sum[i][k] + t[i][k]
      end
    end
  end
  return sum
end

local function compare_shares(a, control, group)
  for _, outcome in ipairs(compare.outcomes) do
    -- a worse grade is compared by the ranks of the grades
    local tables = outcome[1] ~= "worse" and tables_of(control, group, outcome) or {}
    local sum = add_up(tables)
    if sum[1][1] + sum[1][2] > 0 and sum[2][1] + sum[2][2] > 0 then
      local fisher = statistics.fisher_exact { table = sum, level = a.level }
      local test = { what = outcome[2], group = group.name, against = control.name, table = sum, kind = "shares",
        name = outcome[1], test = "Fisher, exact", p = fisher.two_sided, odds_ratio = fisher.odds_ratio,
        low = fisher.low, high = fisher.high }
      if #tables > 1 then
        local strata = statistics.mantel_haenszel { tables = tables, level = a.level }
        test.test, test.p, test.strata = "within donors, exact", strata.two_sided, #tables
        test.informative = strata.informative
        test.odds_ratio, test.low, test.high = strata.odds_ratio, strata.low, strata.high
        test.chi_squared_p = strata.p_corrected
        test.other, test.other_p = "Fisher, pooled", fisher.two_sided
      end
      add_test(a, test, not fisher.odds_ratio and "the same answer in every strand"
        or test.informative == 0 and "no donor tells the groups apart" or nil)
    end
  end
end

-- Numbers of both groups, donor by donor; number of donors with both.
local function strata_of(control, group, field)
  local by_donor, order, both = {}, {}, 0
  for place, one in ipairs { group, control } do
    for _, strand in ipairs(one.strands) do
      if strand[field] then
        local stratum = by_donor[strand.donor]
        if not stratum then
          stratum = { {}, {} }
          by_donor[strand.donor], order[#order + 1] = stratum, stratum
        end
        table.insert(stratum[place], strand[field])
      end
    end
  end
  for _, stratum in ipairs(order) do
    both = both + ((#stratum[1] > 0 and #stratum[2] > 0) and 1 or 0)
  end
  return order, both
end

-- Ranks within donors where there are several, else over all: the test, or nil and why there is none.
local function ranks_of(control, group, field)
  local strata, both = strata_of(control, group, field)
  if #strata > 1 and both == 0 then
    return nil, "no donor tells the groups apart"
  elseif #strata > 1 then
    local ranks = statistics.strata_rank_sum { strata = strata }
    ranks.words, ranks.middle = "ranks within donors", 0
    for _, stratum in ipairs(strata) do
      ranks.middle = ranks.middle + 0.5 * #stratum[1] * #stratum[2]
    end
    return ranks
  end
  local ranks = statistics.rank_sum { first = strata[1][1], second = strata[1][2] }
  ranks.words, ranks.middle = "rank sum", 0.5 * #strata[1][1] * #strata[1][2]
  return ranks
end

local function compare_numbers(a, control, group)
  local x, y = numbers(group.strands, "change"), numbers(control.strands, "change")
  if #x > 0 and #y > 0 then
    local t, message = statistics.welch_t { first = x, second = y, level = a.level }
    local ranks = ranks_of(control, group, "change")
    add_test(a, { what = "diameter", group = group.name, against = control.name, kind = "means", test = "Welch t",
      p = t and t.two_sided, other = ranks and ranks.words, other_p = ranks and ranks.two_sided,
      difference = mean(x) - mean(y), low = t and t.low, high = t and t.high, untested = message })
  end
  local field = "graded"
  x, y = numbers(group.strands, field), numbers(control.strands, field)
  if #x == 0 or #y == 0 then
    field = "grade_after"
    x, y = numbers(group.strands, field), numbers(control.strands, field)
  end
  if #x > 0 and #y > 0 then
    local ranks, why_not = ranks_of(control, group, field)
    add_test(a, { what = field == "graded" and "change of grade" or "grade after", group = group.name,
      against = control.name, kind = "ranks", test = ranks and ranks.words, p = ranks and ranks.two_sided,
      higher = ranks and ranks.statistic > ranks.middle }, why_not)
  end
end

-- ---- two graders ------------------------------------------------------------------------------------

local function kappa(a)
  local first, second = {}, {}
  for _, strand in ipairs(a.strands) do
    for _, when in ipairs { "grade_before", "grade_after" } do
      if strand[when] and strand[when .. "_2"] then
        first[#first + 1], second[#second + 1] = a.scale[strand[when] + 1], a.scale[strand[when .. "_2"] + 1]
      end
    end
  end
  if #first == 0 then
    return
  end
  a.kappa = { gradings = #first }
  for _, weights in ipairs { "linear", "quadratic" } do
    local k, message = statistics.weighted_kappa { first = first, second = second, grades = a.scale, weights = weights,
      level = a.level }
    a.kappa[weights], a.kappa.message = k, message
  end
end

--- Fills the analysis.
function compare.all(a)
  a.tests, a.untested = {}, {}
  for _, group in ipairs(a.groups) do
    shares(a, group)
    pairs_of(a, group)
    diameter(a, group)
    grades(a, group)
  end
  for i = 2, #a.groups do
    compare_shares(a, a.groups[1], a.groups[i])
    compare_numbers(a, a.groups[1], a.groups[i])
  end
  kappa(a)
  local p = {}
  for i, test in ipairs(a.tests) do
    p[i] = test.p
  end
  for i, x in ipairs(#p > 0 and statistics.holm(p) or {}) do
    a.tests[i].p_holm = x
  end
  local list = a.diameters
  a.diameter = #list > 0 and { mean = mean(list), deviation = deviation(list), strands = #list } or nil
end

return compare
