-- Reads the random cases of statistics.R and writes what the library makes of them, one line a case:
--   hairfibre run --trust tests/reference/statistics.lua IN.csv OUT.csv
local hf = require "hairfibre"
local core = require("hairfibre.core").statistics

local input, output = arg[1], arg[2]

local function split(line, sign)
  local cells = {}
  for cell in (line .. sign):gmatch("([^" .. sign .. "]*)" .. sign) do
    cells[#cells + 1] = cell
  end
  return cells
end

local function numbers(cell)
  local list = {}
  for word in cell:gmatch("%S+") do
    list[#list + 1] = tonumber(word)
  end
  return list
end

local function whole(x)
  return math.tointeger(tonumber(x))
end

local names, out = nil, assert(io.open(output, "w"))
local columns

local function case(c)
  local r, order = {}, {}
  local function put(name, x)
    r[name], order[#order + 1] = x, name
  end
  local function fields(prefix, t, list)
    for name in list:gmatch("%S+") do
      put(prefix .. name, t and t[name] or nil)
    end
  end
  local x, n, p = whole(c.events), whole(c.strands), tonumber(c.against)
  for _, method in ipairs { "clopper-pearson", "mid-p", "wilson", "jeffreys" } do
    fields(method .. "_", assert(hf.binomial_interval { events = x, strands = n, method = method, level = tonumber(c.level) }),
      "low high")
  end
  fields("binomial_", assert(hf.binomial_test { events = x, strands = n, against = p }), "less greater two_sided")
  fields("posterior_", assert(hf.posterior_share { events = x, strands = n, level = tonumber(c.level) }), "low median high")
  local t = numbers(c.table)
  for i = 1, #t do
    t[i] = whole(t[i])
  end
  fields("fisher_", assert(hf.fisher_exact { table = { { t[1], t[2] }, { t[3], t[4] } } }),
    "less greater two_sided odds_ratio low high")
  fields("mcnemar_", assert(hf.mcnemar { gained = t[1], lost = t[3] }), "exact chi_squared p corrected p_corrected")
  local strata = {}
  for i = 0, 2 do
    local k = {}
    for j = 1, 4 do
      k[j] = whole(numbers(c.strata)[4 * i + j])
    end
    strata[i + 1] = { { k[1], k[2] }, { k[3], k[4] } }
  end
  fields("strata_", assert(hf.mantel_haenszel { tables = strata }),
    "chi_squared p corrected p_corrected odds_ratio low high less greater two_sided")
  local before, after, second = numbers(c.before), numbers(c.after), numbers(c.second)
  fields("signed_", assert(hf.signed_rank { before = before, after = after }), "statistic less greater two_sided")
  fields("sum_", assert(hf.rank_sum { first = after, second = second }), "statistic less greater two_sided")
  fields("strata_ranks_", assert(hf.strata_rank_sum { strata = { { after, second }, { second, before }, { {}, before } } }),
    "statistic less greater two_sided")
  fields("paired_", hf.paired_t { before = before, after = after }, "t low high less greater two_sided")
  fields("welch_", hf.welch_t { first = after, second = second }, "t freedom low high less greater two_sided")
  local m, share, other = whole(c.m), tonumber(c.share), tonumber(c.other)
  put("power_share", assert(hf.share_power { share = share, against = other, strands = m }))
  put("power_formula", assert(core.two_share_formula(share, other, m, 0.05)))
  put("power_fisher", m <= 8 and assert(hf.two_share_power { first = share, second = other, strands = m,
    second_strands = m + 1 }) or nil)
  put("power_pairs", assert(hf.paired_share_power { gained = share / 2, lost = other / 2, pairs = m }))
  put("power_t", assert(hf.mean_power { difference = tonumber(c.difference), deviation = 1, strands = m }))
  put("power_paired_t", assert(hf.mean_power { difference = tonumber(c.difference), deviation = 1, strands = m, paired = true }))
  put("quantile", assert(hf.t_quantile { p = p, freedom = tonumber(c.freedom) }))
  local strands = hf.two_share_strands { first = share, second = other }
  put("strands_formula", strands and strands.formula)
  local means = hf.mean_strands { difference = tonumber(c.difference), deviation = 1 }
  put("strands_t", means and means.formula)
  for i, q in ipairs(hf.holm { share, other, p, tonumber(c.level) }) do
    put("holm_" .. i, q)
  end
  return r, order
end

for line in io.lines(input) do
  local cells = split(line, ",")
  if not names then
    names = cells
  else
    local c = {}
    for i, name in ipairs(names) do
      c[name] = cells[i]
    end
    local r, order = case(c)
    if not columns then
      columns = order
      out:write(table.concat(columns, ","), "\n")
    end
    local parts = {}
    for i, name in ipairs(columns) do
      local x = r[name]
      parts[i] = not x and "NA" or x == math.huge and "Inf" or x == -math.huge and "-Inf" or ("%.17g"):format(x)
    end
    out:write(table.concat(parts, ","), "\n")
  end
end
out:close()
