-- Statistics through the module: the numbers of the C tests arrive whole, options are checked by name. Sources:
-- gavazzonidias2014 (limits in print), r-docs-fisher, oeis-a226330; "R" is R 4.2.2, computed for this purpose.
local hf = require "hairfibre"

return function(t)
  t.test("five of five", function()
    local r = hf.binomial_interval { events = 5, strands = 5, method = "clopper-pearson", level = 0.95 }
    t.close(r.share, 1, 0, "share")
    t.close(r.low, 0.025 ^ (1 / 5), 1e-12, "closed form")
    t.close(r.high, 1, 0, "high")
    t.equal(r.method, "clopper-pearson")
    t.close(hf.binomial_interval { events = 5, strands = 5, level = "95 %" }.low, r.low, 1e-12, "level as text, usual method")
  end)

  t.test("published mid-P limits", function()
    for _, row in ipairs { { 47, 123, 29.9, 47.0 }, { 5, 26, 7.4, 37.6 }, { 8, 19, 21.8, 64.6 }, { 33, 96, 25.4, 44.3 } } do
      local r = hf.binomial_interval { events = row[1], strands = row[2], method = "mid-p" }
      t.close(100 * r.low, row[3], 0.0501, "gavazzonidias2014, 1 decimal")
      t.close(100 * r.high, row[4], 0.0501, "gavazzonidias2014, 1 decimal")
    end
  end)

  t.test("no strand and one strand", function()
    local r = hf.binomial_interval { events = 0, strands = 0 }
    t.equal(r.share, nil, "share of none")
    t.equal(r.low, 0.0)
    t.equal(r.high, 1.0)
    t.close(hf.binomial_interval { events = 1, strands = 1 }.low, 0.025, 1e-15, "P(1 of 1) = p")
    t.close(hf.rule_of_three { strands = 1 }.exact, 0.95, 1e-15, "1 - 0.05")
    t.equal(hf.rule_of_three { strands = 0 }.rule, math.huge)
  end)

  t.test("tables", function()
    local f = hf.fisher_exact { table = { { 3, 1 }, { 1, 3 } } }
    t.close(f.greater, 0.2429, 0.5e-4, "r-docs-fisher, 4 decimals")
    t.close(f.two_sided, 34 / 70, 1e-14, "counted")
    local m = hf.mcnemar { gained = 2, lost = 10 }
    t.close(m.exact, 158 / 4096, 1e-14, "counted")
    t.equal(hf.mcnemar { gained = 0, lost = 0 }.chi_squared, nil, "no pair changed")
    local s = hf.mantel_haenszel { tables = { { { 0, 6 }, { 0, 5 } }, { { 3, 3 }, { 0, 6 } }, { { 6, 0 }, { 2, 4 } },
      { { 5, 1 }, { 6, 0 } }, { { 2, 0 }, { 5, 0 } } } }
    t.close(s.two_sided, 0.0399449035812672, 1e-12, "R mantelhaen.test, exact")
    t.equal(s.informative, 3)
  end)

  t.test("ranks", function()
    local before = { 0.878, 0.647, 0.598, 2.05, 1.06, 1.29, 1.06, 3.14, 1.29 }
    local after = { 1.83, 0.50, 1.62, 2.48, 1.68, 1.88, 1.55, 3.06, 1.30 }
    local r = hf.signed_rank { before = before, after = after }
    t.equal(r.statistic, 40.0, "R wilcox.test")
    t.close(r.two_sided, 20 / 512, 1e-14, "R wilcox.test")
    -- within strata: 3 and 3 apart in both, 1 of 20 times 1 of 20 ways; a donor with one group only says nothing
    local apart = hf.strata_rank_sum { strata = { { { 4, 5, 6 }, { 1, 2, 3 } }, { { 40, 50, 60 }, { 10, 20, 30 } }, { {}, { 9 } } } }
    t.close(apart.two_sided, 2 / 400, 1e-15, "counted")
    t.equal(apart.used, 12)
    t.equal(select(3, hf.strata_rank_sum { strata = { { {}, { 1 } } } }), "data")
    t.raises({ "two lists of numbers" }, hf.strata_rank_sum, { strata = { { 1, 2 , 3 } } })
    local critical = {}
    for n = 6, 25 do
      critical[#critical + 1] = hf.signed_rank_critical { pairs = n }
    end
    t.equal(table.concat(critical, " "), "0 2 3 5 8 10 13 17 21 25 29 34 40 46 52 58 65 73 81 89", "oeis-a226330")
    local none, message, code = hf.signed_rank_critical { pairs = 5 }
    t.equal(none, nil, "five pairs never reach it")
    t.equal(code, "data")
    t.equal(type(message), "string")
    -- 0.1 + 0.2 - 0.3 is not 0 in binary
    t.equal(hf.signed_rank { before = { 0.3, 1 }, after = { 0.1 + 0.2, 2 } }.used, 1, "rounding is no difference")
  end)

  t.test("means and grades", function()
    local r = hf.paired_t { after = { 0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0 },
      before = { 1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4 } }
    t.close(r.t, -4.0621277, 0.5e-7, "R t.test")
    t.close(r.two_sided, 0.00283289, 0.5e-8, "R t.test")
    local k = hf.weighted_kappa { grades = { "none", "some", "much" }, first = { "none", "some", "much", "some" },
      second = { "none", "some", "much", "some" } }
    t.close(k.kappa, 1, 1e-15, "the same grades")
    t.equal(k.weights, "linear")
    local nothing, _, code = hf.paired_t { before = { 1 }, after = { 2 } }
    t.equal(nothing, nil)
    t.equal(code, "data")
  end)

  t.test("how many strands", function()
    t.equal(hf.limit_strands { share = 0.478 }, 5, "five of five")
    t.close(hf.two_share_strands { first = 0.10, second = 0.30 }.formula, 61.6, 0.0501, "R power.prop.test")
    t.close(hf.mean_power { difference = 1, deviation = 1, strands = 20 }, 0.86895, 0.5e-5, "R power.t.test")
    t.equal(hf.mean_strands { difference = 1, deviation = 1, power = "90 %" }.strands, 23, "R power.t.test: 22.02")
    -- more strands, more power; a larger effect, fewer strands
    local last = 0
    for n = 2, 60, 2 do
      local p = hf.mean_power { difference = 1, deviation = 1.5, strands = n }
      t.equal(p > last, true, "power rises")
      last = p
    end
    t.close(hf.paired_share_power { gained = 0.5, lost = 0.1, pairs = 20 },
      hf.paired_share_power { gained = 0.1, lost = 0.5, pairs = 20 }, 1e-12, "before and after exchanged")
    t.close(hf.two_share_power { first = 0.1, second = 0.6, strands = 12 },
      hf.two_share_power { first = 0.4, second = 0.9, strands = 12 }, 1e-12, "yes and no exchanged")
    local _, message, code = hf.two_share_strands { first = 0.5, second = 0.5 }
    t.equal(code, "data")
    t.equal(type(message), "string")
  end)

  t.test("posterior", function()
    local r = hf.posterior_share { events = 5, strands = 5, prior = "uniform", above = 0.5 }
    t.close(r.mean, 6 / 7, 1e-15, "rule of succession")
    t.close(r.above, 63 / 64, 1e-13, "1 - 0.5^6")
    t.says(r.prior, { "uniform", "Beta(1, 1)" })
    t.close(hf.posterior_next { events = 5, strands = 5, hits = 1, next = 1, prior = { 1, 1 } }, 6 / 7, 1e-12, "the next")
    local sum = 0
    for hits = 0, 7 do
      sum = sum + hf.posterior_next { events = 3, strands = 8, hits = hits, next = 7 }
    end
    t.close(sum, 1, 1e-12, "all outcomes")
  end)

  t.test("Holm", function()
    local q = hf.holm { 0.01, 0.04, 0.03, 0.005 }
    for i, want in ipairs { 0.03, 0.06, 0.06, 0.02 } do
      t.close(q[i], want, 1e-15, "R p.adjust")
    end
    t.equal(#hf.holm {}, 0)
    t.equal(select(3, hf.holm { 0.5, 1.5 }), "range")
  end)

  t.test("what counts refuse", function()
    for _, row in ipairs { { -1, 5, "0 or more" }, { 6, 5, "cannot be more events" }, { 1, 200000, "up to 100000" } } do
      local r, message, code = hf.binomial_interval { events = row[1], strands = row[2] }
      t.equal(r, nil)
      t.equal(code, "range")
      t.says(message, { row[3] })
    end
    t.raises({ "events", "whole numbers" }, hf.binomial_interval, { events = 1.5, strands = 5 })
    t.raises({ "events", "missing" }, hf.binomial_interval, { strands = 5 })
    t.raises({ "strnds", 'did you mean "strands"?' }, hf.binomial_interval, { events = 1, strnds = 5 })
    t.raises({ "wilsen", 'did you mean "wilson"?' }, hf.binomial_interval, { events = 1, strands = 5, method = "wilsen" })
    t.raises({ "events", "string" }, hf.binomial_interval, { events = "1", strands = 5 })
    t.raises({ "one table of options" }, hf.binomial_interval, 5)
    t.equal(select(3, hf.binomial_interval { events = 1, strands = 5, level = 1 }), "range")
    t.raises({ "before has 2", "after has 1" }, hf.signed_rank, { before = { 1, 2 }, after = { 1 } })
    t.raises({ "not a finite number" }, hf.rank_sum, { first = { 0 / 0 }, second = { 1 } })
    t.raises({ "no grade of the scale" }, hf.weighted_kappa, { grades = { 0, 1 }, first = { 0, 7 }, second = { 0, 1 } })
    t.raises({ "row for each group" }, hf.fisher_exact, { table = { 1, 2, 3, 4 } })
    t.equal(select(3, hf.paired_share_power { gained = 0.7, lost = 0.7, pairs = 5 }), "range")
  end)

  t.test("every statistic is a function of the module", function()
    for _, name in ipairs(require("hairfibre.statistics").names) do
      t.equal(type(hf[name]), "function", name)
    end
  end)
end
