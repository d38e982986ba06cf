-- Writes docs/performance.md and docs/performance.svg from the last `make bench`: bench.csv, growth.csv and machine.txt of
-- the build folder.
--   make docs-performance        (BUILD=build build/hairfibre run --trust docs/performance.lua)

local hf = hf or require "hairfibre"
local files = require "hairfibre.files"
local build = os.getenv "BUILD" or "build"
local folder = (arg and arg[0] or ""):match("^(.*/)") or ""

local function lines_of(name)
  local file = assert(io.open(build .. "/" .. name))
  local text = file:read "a"
  file:close()
  return text:gmatch "[^\n]+"
end

-- ---- growth ------------------------------------------------------------------------------------------------

local curves, order = {}, {}
for line in lines_of "growth.csv" do
  local word, size, seconds = line:match "^(%a+),(%d+),([%d.e+-]+)$"
  if word then
    if not curves[word] then
      curves[word] = { x = {}, y = {} }
      order[#order + 1] = word
    end
    local c = curves[word]
    c.x[#c.x + 1], c.y[#c.y + 1] = tonumber(size), tonumber(seconds)
  end
end

-- Straight line through the logarithms: exponent and ln of the factor.
local function law(c)
  local n, sx, sy, sxx, sxy = #c.x, 0, 0, 0, 0
  for i = 1, n do
    local x, y = math.log(c.x[i]), math.log(c.y[i])
    sx, sy, sxx, sxy = sx + x, sy + y, sxx + x * x, sxy + x * y
  end
  local slope = (n * sxy - sx * sy) / (n * sxx - sx * sx)
  return slope, (sy - slope * sx) / n
end

local names = { cells = "cells of a treatment", strands = "strands of an ensemble", fit = "points of a fit",
  list = "numbers of a list", threads = "threads of 200 strands" }
local drawn = {}
for _, word in ipairs(order) do
  local c = curves[word]
  if #c.x > 1 then
    local slope, factor = law(c)
    local name = ("%s: %.2f"):format(names[word] or word, slope)
    local first, last = c.x[1], c.x[#c.x]
    drawn[#drawn + 1] = { name = name, x = { first, last },
      y = { math.exp(factor) * first ^ slope, math.exp(factor) * last ^ slope } }
    drawn[#drawn + 1] = { kind = "points", like = name, x = c.x, y = c.y }
  end
end
local figure = hf.plot.figure { title = "Time over size, with the exponent", style = "paper", size = "page",
  x = { label = "Size", scale = "log" }, y = { label = "Time", unit = "s", scale = "log" }, lines = drawn,
  source = "own measurement, docs/performance.md", note = "Points measured, lines through their logarithms" }
assert(figure:save(folder .. "performance.svg"))
os.remove(folder .. "performance.csv")

-- ---- the page --------------------------------------------------------------------------------------------------

local out = {}
local function say(text)
  out[#out + 1] = text
end

local function beyond(value, target)
  local sign, limit = target:match "^([<>]=) *([%d.e+-]+)$"
  limit = tonumber(limit)
  return sign == "<=" and value > limit or sign == ">=" and value < limit
end

local rows, groups, value_of = {}, {}, {}
for line in lines_of "bench.csv" do
  local name, value, unit, target = line:match "^([^,]+),([^,]+),([^,]*),([^,]*)$"
  if name and name ~= "name" then
    local group, what = name:match "^(%w+): (.*)$"
    if not rows[group] then
      rows[group] = {}
      groups[#groups + 1] = group
    end
    table.insert(rows[group], { what, value, unit, target, late = beyond(tonumber(value), target) })
    value_of[name] = value
  end
end

local function quoted(name)
  return value_of[name] or "?"
end

say "# Speed, accuracy, memory"
say ""
say "Written by `make docs-performance` from the last `make bench`; the numbers in its tables are measured, never typed."
say ""
say "## The machine"
say ""
say "| | |"
say "|---|---|"
for line in lines_of "machine.txt" do
  say("| " .. line:gsub("\t", " | ") .. " |")
end
say ""
say [[Times are the best of several rounds, of the processor where one thread works and of the wall where several do or a
whole program starts. Another day or another machine gives other times: compare the ratios of one run.

## How to run it again

    make bench                 the table, some minutes; exit code 2 and a list when a row is beyond its target
    make docs-performance      this page and its picture from what the last run wrote

`BENCH_THREADS=4 make bench` lets the growth over threads go to four. What is missing (python3-iapws, SciPy, R) is named, and
its rows are left out. A row of the CSV file is name, value, unit, target.

## What is compared with what

- **A treatment**: ten minutes in water, blotted, one second between plates at 200 °C, ten minutes of rest; 60 cells,
  heat and water, relative tolerance 1e-5. The error is the largest at any sample and cell against tolerance 1e-10 on the
  same cells: regain over 0.3, temperature over 200 K.
- **The equations alone**: the same without the film and the record, because GSL's `msbdf` loses its way while a film
  dries up. GSL and SciPy's `BDF` (banded Jacobian) get the same equations and as loose a tolerance as still gives
  errors below 5e-5. In SciPy the equations are NumPy in Python; in GSL they are the C of this library.
- **Fits**: SciPy's `curve_fit`, R's `nls` and `survreg` get the same points and starts. The sums of squares and
  likelihoods in the table show that they solved the same problem. On the certified sets (nist-strd, second start) the
  others are asked for their last digits; the table says how many they reach. Ours adds standard errors from derivatives good to
  some twelve digits, and for lives also the profile intervals.
- **Properties**: python3-iapws is written in Python.
]]
say "## Measured"
say ""
for _, group in ipairs(groups) do
  say(("### %s"):format(group))
  say ""
  say "| what | measured | unit | target |"
  say "|---|---:|---|---|"
  for _, row in ipairs(rows[group]) do
    local target = row[4]:gsub("<=", "≤"):gsub(">=", "≥")
    say(("| %s | %s | %s | %s%s |"):format(row[1], row.late and "**" .. row[2] .. "**" or row[2], row[3], target,
      row.late and " (missed)" or ""))
  end
  say ""
end
say "## Growth"
say ""
say "![Time against size on logarithmic axes, with the exponents](performance.svg)"
say ""
say [[The exponent is the slope of a straight line through the logarithms. More cells cost less than in proportion, because
part of a step does not depend on them. A fit of very many points no longer fits the processor's cache.

## Where the time goes, and why

- **A treatment**: of a run of 60 cells about a quarter is the properties of the cells, a tenth each the solves and the
  factors of the block tridiagonal matrix, the rest the integrator's sums, the surface, the record, and voids and damage. They
  are looked at on three points of a step at twelve radii, on none while all is cold, and their exponentials
  come from a grid; a test integrates them again from a thousand samples.
- **An ensemble** is as many treatments, and threads share nothing but the number of the next strand.]]
say(([[- **A fit** costs what its model costs, times %s to some thousands of calls. The C models of the certified sets take at
  most %s ms. A model that is a function of Lua costs more than all the rest: of the set ENSO (168 points,
  nine parameters, eight sines a point) nine tenths of the time are the function itself. MGH10 and MGH17 are there from their
  far starts, from which other minima must be ruled out.
- **The program** starts in the time that Lua needs to load what is embedded in it.]]):format("65",
  quoted "fit: slowest certified set and start"))
assert(files.write(folder .. "performance.md", table.concat(out, "\n") .. "\n"))
print "written: docs/performance.md, docs/performance.svg"
