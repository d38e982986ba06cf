-- Fatigue over a mixed history, and how many of n strands break.
--   hf.fatigue_mixed { { cycles = 200, stress = "100 MPa", humidity = "60 %" }, { ... }, set = }
--   hf.miner_sum { cycles = { 5000, 1000 }, life = { 35800, 6030 } }
--   hf.broken_count { strands = 20, probability = 0.1 }

local core = require "hairfibre.core"
local misuse = require "hairfibre.misuse"
local quantity = require "hairfibre.quantity"
local result = require "hairfibre.result"
local suggest = require "hairfibre.suggest"
local units = require "hairfibre.units"

local fatigue = {}

local MOST = 10000

local NOTE = "Shares of the characteristic life, summed whatever their order; one Weibull shape, weighted by the shares, "
  .. "stands for the mixture. That was never tested on hair."

-- Only these keys, besides the list itself.
local function check_keys(what, given, allowed)
  if type(given) ~= "table" then
    misuse("%s takes a table, not a %s", what, type(given))
  end
  for _, key in ipairs(suggest.sorted_keys(given)) do
    local known = math.type(key) == "integer" and allowed.list
    for _, name in ipairs(allowed) do
      known = known or key == name
    end
    if not known then
      misuse("%s has no option \"%s\"%s", what, tostring(key), suggest.hint(key, { table.unpack(allowed) }))
    end
  end
end

local function number(x, argument, what)
  if x == nil then
    misuse("%s: %s is missing", what, argument.name)
  end
  local value, message = units.value(x, argument)
  return value or misuse("%s: %s", what, message)
end

--- Blocks of pulls one after the other: a result with one row a block. used: share of the life that the
--- block takes; used_so_far: their sum; survival: share of strands that survives this far. Second value
--- "extrapolated"; or nil, sentence, code.
function fatigue.mixed(given)
  check_keys("fatigue_mixed", given, { "set", "extrapolate", list = true })
  if #given > MOST then
    misuse("fatigue_mixed takes %d blocks at most, not %d: put equal pulls into one", MOST, #given)
  elseif #given == 0 then
    misuse("fatigue_mixed needs blocks: { { cycles = 200, stress = \"100 MPa\", humidity = \"60 %\" } }")
  end
  local descriptor = quantity.find "fatigue_used"
  local lists = {}
  for c, argument in ipairs(descriptor.arguments) do
    lists[c] = {}
    for i, block in ipairs(given) do
      local what = ("block %d"):format(i)
      check_keys(what, block, { "cycles", "stress", "humidity" })
      lists[c][i] = number(block[argument.name], argument, what)
    end
  end
  local cycles, stress, humidity = table.unpack(lists)
  local set = quantity.parameters(given.set)
  local flags = given.extrapolate == false and 0 or core.EXTRAPOLATE
  local hf = require "hairfibre"
  local function options(i)
    return { cycles = cycles[i], stress = stress[i], humidity = humidity[i], set = set,
      extrapolate = given.extrapolate }
  end
  local answer, word, code, bad = core.fatigue_mixed(set, flags, cycles, stress, humidity)
  if not answer then
    local _, sentence, class = hf.fatigue_used(options(bad))
    return nil, ("block %d: %s"):format(bad, sentence or word), class or code
  end
  local life, used = {}, {}
  for i = 1, #given do
    life[i] = hf.fatigue_life { stress = stress[i], humidity = humidity[i], set = set }
    used[i] = answer.used[i] - (answer.used[i - 1] or 0)
  end
  local r = result.new { set = set, notes = { NOTE }, columns = {
    { name = "cycles", unit = "1", text = "pulls in the block", values = cycles },
    { name = "stress", unit = "Pa", text = "stress of a pull", values = stress },
    { name = "humidity", unit = "1", kind = "fraction", text = "humidity", values = humidity },
    { name = "life", unit = "1", text = "characteristic life at that stress and humidity", values = life },
    { name = "used", unit = "1", kind = "fraction", text = "share of the life used by the block", values = used },
    { name = "used_so_far", unit = "1", kind = "fraction", text = "share of the life used so far", values = answer.used },
    { name = "survival", unit = "1", kind = "fraction", text = "share of strands that survive", values = answer.survival },
  } }
  if word then
    return r, word, "a block lies beyond what was measured: single strands in grooming are pulled less and less often"
  end
  return r
end

--- Linear damage sum of blocks of a life of their own; or nil, sentence, code.
function fatigue.miner(given)
  check_keys("miner_sum", given, { "cycles", "life" })
  local lists = {}
  for i, name in ipairs { "cycles", "life" } do
    if type(given[name]) ~= "table" then
      misuse("miner_sum: %s must be a list of numbers", name)
    end
    lists[i] = given[name]
  end
  if #lists[1] ~= #lists[2] then
    misuse("miner_sum: %d numbers of cycles and %d lives", #lists[1], #lists[2])
  end
  if #lists[1] == 0 then
    return 0.0
  end
  local sum, _, code, bad = core.miner_sum(lists[1], lists[2])
  if sum then
    return sum
  end
  return nil, ("block %d: cycles = %s and life = %s; cycles are 0 or more, a life is above 0"):format(bad,
    core.text(lists[1][bad]), core.text(lists[2][bad])), code
end

-- Smallest whole number up to n for which `enough` holds, which holds from some number on.
local function first(n, enough)
  local low, high = 0, n
  while low < high do
    local middle = (low + high) // 2
    if enough(middle) then
      high = middle
    else
      low = middle + 1
    end
  end
  return low
end

--- How many of n strands break when each breaks with a probability: { expected =, low =, high = }, where
--- 95 of 100 such bundles lie from low to high; or nil, sentence, code.
function fatigue.broken(given)
  check_keys("broken_count", given, { "strands", "probability" })
  local descriptor = quantity.find "broken_at_least"
  local n = number(given.strands, { name = "strands", unit = "1", kind = "number" }, "broken_count")
  local p = number(given.probability, { name = "probability", unit = "1", kind = "fraction" }, "broken_count")
  local hf = require "hairfibre"
  local some, sentence, code = hf.broken_at_least { broken = 0, strands = n, probability = p }
  if not some then
    return nil, sentence, code
  end
  local strands = math.tointeger(n)
  -- chance of at most k
  local function at_most(k)
    return k >= strands and 1
      or 1 - core.evaluate(descriptor.index, nil, core.EXTRAPOLATE, k + 1.0, n, p)
  end
  return { expected = n * p, low = first(strands, function(k) return at_most(k) > 0.025 end),
    high = first(strands, function(k) return at_most(k) >= 0.975 end) }
end

return fatigue
