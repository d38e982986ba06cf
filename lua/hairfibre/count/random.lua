-- A small generator of random numbers, the same on every machine: sequence of a seed, independent of
-- math.random. 64-bit mixing of a counter.

local random = {}
random.__index = random

--- New sequence; `stream` separates sequences of one seed.
function random.new(seed, stream)
  return setmetatable({ state = seed * 0x9E3779B97F4A7C15 + (stream or 0) * 0xD1342543DE82EF95 }, random)
end

function random:bits()
  self.state = self.state + 0x9E3779B97F4A7C15
  local z = self.state
  z = (z ~ (z >> 30)) * 0xBF58476D1CE4E5B9
  z = (z ~ (z >> 27)) * 0x94D049BB133111EB
  return z ~ (z >> 31)
end

--- Between 0 and 1, without the ends.
function random:uniform()
  return ((self:bits() >> 11) + 0.5) / 9007199254740992
end

--- A whole number from 1 to n, all equally likely.
function random:below(n)
  local rest = ((0x7FFFFFFFFFFFFFFF % n) + 1) % n -- values at the top that would favour small numbers
  while true do
    local x = self:bits() >> 1
    if x <= 0x7FFFFFFFFFFFFFFF - rest then
      return x % n + 1
    end
  end
end

--- Standard normal.
function random:normal()
  return math.sqrt(-2 * math.log(self:uniform())) * math.cos(2 * math.pi * self:uniform())
end

--- Shuffles a list in place.
function random:shuffle(list)
  for i = #list, 2, -1 do
    local k = self:below(i)
    list[i], list[k] = list[k], list[i]
  end
  return list
end

return random
