-- The numbers of a curve: one list along --over, one line for each combination of the lists in --at.

local at = require "command.at"
local catalogue = require "command.catalogue"
local core = require "hairfibre.core"
local exit = require "command.exit"
local show = require "hairfibre.show"
local text = require "command.text"
local units = require "hairfibre.units"

local sweep = {}

local most_lines = 8 -- more cannot be told apart in one picture
local shown_rows = 9

-- Every combination of the lists among the conditions: { { arguments by position }, name }.
local function combinations(quantity, given)
  local list = { { values = {}, words = {} } }
  for position, argument in ipairs(quantity.arguments) do
    local x = given[position]
    local next_list = {}
    for _, one in ipairs(list) do
      for _, value in ipairs(type(x) == "table" and x or { x == nil and "usual" or x }) do
        local values, words = {}, { table.unpack(one.words) }
        for k, v in pairs(one.values) do
          values[k] = v
        end
        if value ~= "usual" then
          values[position] = value
        end
        if type(x) == "table" then
          local shown = show.value(value, argument):gsub(" %(.*", "")
          words[#words + 1] = argument.kind == "choice" and shown
            or text.phrase(argument.name) .. " " .. shown
        end
        next_list[#next_list + 1] = { values = values, words = words }
      end
    end
    list = next_list
  end
  return list
end

local function compute(run, one, flags, wide)
  local quantity = run.quantity
  one.values[run.position] = run.x
  local results = table.pack((wide and core.each_range or core.each)(quantity.index, run.set, flags,
    table.unpack(one.values, 1, #quantity.arguments)))
  if results[1] == false then
    exit.fail("usage", "%s", results[2])
  end
  local line = { values = results[1], codes = results[wide and 4 or 2], extrapolated = {}, given = one.values }
  if wide then
    line.lows, line.highs = results[2], results[3]
  end
  line.name = #one.words > 0 and table.concat(one.words, ", ") or nil
  return line
end

-- The sentence of the library for one point.
local function reason(run, line, i)
  local values = { table.unpack(line.given, 1, #run.quantity.arguments) }
  values[run.position] = run.x[i]
  local first, second, third = core.evaluate(run.quantity.index, run.set, run.flags,
    table.unpack(values, 1, #run.quantity.arguments))
  return first == nil and second or third
end

local function inspect(run)
  run.lowest, run.highest = math.huge, -math.huge
  run.gaps, run.beyond, run.total = {}, {}, 0
  for _, line in ipairs(run.lines) do
    for i, code in ipairs(line.codes) do
      run.total = run.total + 1
      local value = line.values[i]
      line.extrapolated[i] = code == "extrapolated"
      line.any_extrapolated = line.any_extrapolated or line.extrapolated[i]
      if code == "ok" or code == "extrapolated" then
        run.lowest, run.highest = math.min(run.lowest, value), math.max(run.highest, value)
      end
      local list = code == "extrapolated" and run.beyond or code ~= "ok" and run.gaps or nil
      if list then
        list[#list + 1] = { line = line, i = i, code = code }
      end
    end
  end
  if #run.gaps == run.total then
    local first = run.gaps[1]
    exit.fail_with_status(first.code, "no point of the curve has an answer: "
      .. reason(run, first.line, first.i))
  end
end

-- Where the curve is asked: evenly spread, by equal ratios, or at whole numbers where nothing lies between them.
local function places(run, points, log)
  local over, low, high = run.over, run.low, run.high
  if log and (low <= 0 or over.kind == "temperature") then
    exit.fail("usage", "--log-over needs a range that begins above 0, of a condition that is no temperature")
  end
  local x = units.spread(low, high, points)
  for i = 2, log and points - 1 or 0 do
    x[i] = low * (high / low) ^ ((i - 1) / (points - 1))
  end
  if not units.WHOLE[over.name] then
    return x
  end
  local whole = {}
  for _, place in ipairs(x) do
    local n = math.floor(place + 0.5)
    if n >= low and n <= high and n ~= whole[#whole] then
      whole[#whole + 1] = n + 0.0
    end
  end
  if #whole < 2 then
    exit.fail("usage", "%s goes in whole numbers, and the range holds fewer than two", over.name)
  end
  return whole
end

--- All lines of a curve. `arguments`: those of the command.
function sweep.run(quantity, arguments, points)
  if not arguments.over then
    exit.fail("usage", "a curve needs --over NAME=LOW..HIGH, such as --over temperature=20..230degC")
  end
  local run = { quantity = quantity, lines = {} }
  run.position, run.over, run.low, run.high = at.range(quantity, arguments.over)
  run.given = at.conditions(quantity, arguments.at, { lists = true, except = run.position })
  run.set = catalogue.parameters(arguments.set, arguments.change)
  run.flags = arguments.strict and 0 or core.EXTRAPOLATE
  run.x = places(run, points, arguments.log_over)
  local list = combinations(quantity, run.given)
  if #list > most_lines then
    exit.fail("usage", "%d lines in one picture cannot be told apart; %d are the most", #list, most_lines)
  end
  for i, one in ipairs(list) do
    run.lines[i] = compute(run, one, run.flags, arguments.range)
  end
  inspect(run)
  return run
end

--- Sentences on gaps and on what is extrapolated, each said once.
function sweep.sentences(run)
  local list = {}
  local function add(points, what)
    if #points > 0 then
      local first = points[1]
      list[#list + 1] = ("%s: %d of %d points, the first at %s %s%s: %s."):format(what, #points, run.total,
        text.phrase(run.over.name), at.short(run.x[first.i], run.over),
        first.line.name and " (" .. first.line.name .. ")" or "", reason(run, first.line, first.i))
    end
  end
  add(run.beyond, "Extrapolated")
  add(run.gaps, "Left open")
  return list
end

--- A short table of the lines.
function sweep.table(run, ascii)
  local n, rows = #run.x, {}
  for k = 0, math.min(shown_rows, n) - 1 do
    rows[k + 1] = 1 + (n - 1) * k // (math.min(shown_rows, n) - 1)
  end
  local function picked(values)
    local list = {}
    for k, row in ipairs(rows) do
      list[k] = values[row]
    end
    return list
  end
  local over, quantity = run.over, run.quantity
  local columns = { { name = over.name, unit = over.unit, kind = over.kind, values = picked(run.x) } }
  for _, line in ipairs(run.lines) do
    local name = line.name or quantity.name
    columns[#columns + 1] = { name = name:gsub("[%s,]+", "_"), unit = quantity.unit, kind = quantity.kind,
      values = picked(line.values) }
  end
  return require("hairfibre.result").new({ columns = columns, set = run.set }):text({ ascii = ascii })
end

return sweep
