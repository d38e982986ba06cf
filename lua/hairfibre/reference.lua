-- Literature checks: rows of published numbers, kept as Lua data (tests/data/*.lua), run against the
-- library. A data file sees two functions only, source{...} and row{...}.

local core = require "hairfibre.core"
local misuse = require "hairfibre.misuse"
local quantity = require "hairfibre.quantity"
local show = require "hairfibre.show"
local suggest = require "hairfibre.suggest"
local units = require "hairfibre.units"

local reference = {}

-- Keys of a row besides the arguments of its quantity.
local KEYS = { "expect", "within", "low", "high", "fails", "why", "note", "disagrees", "role", "minus", "ratio_to",
  "set", "extrapolate" }
local TEXTS = { "why", "note", "disagrees", "role", "fails" }

local function lookup(list)
  local t = {}
  for _, key in ipairs(list) do
    t[key] = true
  end
  return t
end
local IS_KEY = lookup(KEYS)

local function fail(...)
  error(string.format(...), 0)
end

-- ---- one row ----------------------------------------------------------------------------------------

-- Arguments of a row or of its second state, as numbers; other keys are reported.
local function arguments_of(given, descriptor, allowed)
  local named = {}
  for _, key in ipairs(suggest.sorted_keys(given)) do
    local place = descriptor.places[key]
    if place then
      local x, message = units.value(given[key], descriptor.arguments[place])
      if not x then
        fail("%s", message)
      end
      named[key] = x
    elseif key ~= 1 and not (allowed and IS_KEY[key]) then
      local names = {}
      for i, argument in ipairs(descriptor.arguments) do
        names[i] = argument.name
      end
      fail("%s has no argument \"%s\"%s", descriptor.name, tostring(key), suggest.hint(key, names))
    end
  end
  return named
end

local function text_of(named, descriptor)
  local parts = {}
  for _, argument in ipairs(descriptor.arguments) do
    if named[argument.name] then
      parts[#parts + 1] = argument.name .. " = " .. show.value(named[argument.name], argument)
    end
  end
  return table.concat(parts, ", ")
end

-- What the expected number stands for: the quantity, a difference of two answers, or a ratio.
local function what_is_expected(given, descriptor)
  if given.ratio_to then
    return { name = descriptor.name, unit = "1", kind = "number" }
  end
  local kind = descriptor.kind
  if given.minus and kind == "temperature" then
    kind = "temperature difference"
  end
  return { name = descriptor.name, unit = descriptor.unit, kind = kind, choices = descriptor.choices }
end

local function number(text, what, key)
  local x, message = units.value(text, what)
  if not x then
    fail("%s: %s", key, message)
  end
  return x
end

local function tolerance(text, what, expect)
  local relative = type(text) == "string" and what.kind ~= "fraction" and text:match("^(.-)%s*%%$")
  if relative and core.number(relative) then
    return math.abs(expect) * core.number(relative) / 100
  end
  local kind = what.kind == "temperature" and "temperature difference" or what.kind
  return number(text, { name = what.name, unit = what.unit, kind = kind }, "within")
end

local function read_row(given, source, place)
  if type(given) ~= "table" or type(given[1]) ~= "string" then
    fail("a row starts with the name of a quantity: row{ \"saturation_pressure\", ... }")
  end
  for _, key in ipairs(TEXTS) do
    if given[key] ~= nil and type(given[key]) ~= "string" then
      fail("%s must be a text", key)
    end
  end
  local descriptor = quantity.find(given[1])
  local named = arguments_of(given, descriptor, true)
  quantity.parameters(given.set)
  local what = what_is_expected(given, descriptor)
  local row = { source = source.key, place = source.place, known = source.known, quantity = descriptor.name,
    named = named, what = what, role = given.role or "check", disagrees = given.disagrees, note = given.note,
    why = given.why, set = given.set or "virgin", extrapolate = given.extrapolate, file = place.file,
    line = place.line, arguments = text_of(named, descriptor), fails = given.fails }
  if row.role ~= "check" and row.role ~= "calibration" then
    fail("role is \"check\" or \"calibration\", not \"%s\"", row.role)
  end
  local kinds = (given.expect and 1 or 0) + ((given.low or given.high) and 1 or 0) + (given.fails and 1 or 0)
  if kinds ~= 1 then
    fail("a row needs one of: expect and within; low and high; fails")
  elseif given.expect then
    row.expect = number(given.expect, what, "expect")
    row.within = tolerance(given.within == nil and fail("within is missing") or given.within, what, row.expect)
    if row.within < 0 then
      fail("within must not be negative")
    end
    row.low, row.high = row.expect - row.within, row.expect + row.within
    row.expected = ("%s within %s"):format(tostring(given.expect), tostring(given.within))
  elseif given.fails then
    row.expected = "no answer: " .. given.fails
  else
    row.low = given.low and number(given.low, what, "low") or -math.huge
    row.high = given.high and number(given.high, what, "high") or math.huge
    if row.low >= row.high then
      fail("low must be below high")
    end
    row.expected = given.low and given.high and ("%s to %s"):format(tostring(given.low), tostring(given.high))
      or given.low and "at least " .. tostring(given.low) or "at most " .. tostring(given.high)
  end
  local second = given.minus or given.ratio_to
  if given.minus and given.ratio_to then
    fail("minus and ratio_to exclude each other")
  elseif second then
    if type(second) ~= "table" then
      fail("minus and ratio_to take a table of arguments")
    end
    row.second, row.second_is = arguments_of(second, descriptor, false), given.minus and "minus" or "ratio to"
    row.arguments = ("%s; %s %s"):format(row.arguments, row.second_is, text_of(row.second, descriptor))
  end
  return row
end

-- ---- files --------------------------------------------------------------------------------------------

--- Rows of a data file's text. A fault in the file is an error that names file and line.
function reference.load(text, name)
  name = name or "rows"
  if type(text) ~= "string" or type(name) ~= "string" then
    misuse("reference.load takes the text of a data file, and a name for messages")
  end
  local rows, current = {}, nil
  local grades = {}
  for i, grade in ipairs(core.known()) do
    grades[i], grades[grade.word] = grade.word, true
  end
  local function here()
    return { file = name, line = debug.getinfo(3, "l").currentline }
  end
  local function guarded(place, f, ...)
    local done, value = pcall(f, ...)
    if not done then
      local start = ("%s:%d: "):format(name, place.line)
      value = tostring(value)
      error(value:sub(1, #start) == start and value or start .. value, 0)
    end
    return value
  end
  local env = {}
  function env.source(given)
    local place = here()
    guarded(place, function()
      if type(given) ~= "table" or type(given.key) ~= "string" or type(given.place) ~= "string" then
        fail("source needs key = and place =")
      elseif not core.source(given.key) then
        fail("there is no source \"%s\" in docs/sources.bib", given.key)
      elseif not grades[given.known] then
        fail("known must be %s, not %s", suggest.list(grades), tostring(given.known))
      end
    end)
    current = given
  end
  function env.row(given)
    local place = here()
    if not current then
      error(("%s:%d: a source{...} must come before the first row"):format(name, place.line), 0)
    end
    rows[#rows + 1] = guarded(place, read_row, given, current, place)
  end
  local chunk, problem = load(text, "=" .. name, "t", env)
  if not chunk then
    error(problem, 0)
  end
  chunk()
  return rows
end

-- ---- running ------------------------------------------------------------------------------------------

-- value, or nil, sentence, code
local function answer(row, named)
  local call = { set = row.set ~= "virgin" and row.set or nil, extrapolate = row.extrapolate }
  for key, x in next, named do
    call[key] = x
  end
  return quantity.compute(core.evaluate, quantity.find(row.quantity), call)
end

local function value_of(row)
  local value, second, code = answer(row, row.named)
  if value and row.second then
    local other, word, fault = answer(row, row.second)
    if not other then
      return nil, word, fault
    end
    value = row.second_is == "minus" and value - other or value / other
    second = second or word
  end
  return value, second, code
end

local function outcome(row)
  local value, word, code = value_of(row)
  local meets
  if row.fails then
    meets = value == nil and code == row.fails
  else
    meets = value ~= nil and value >= row.low and value <= row.high
  end
  local got = value and show.value(value, row.what, { digits = 7, decimals = 3 }) or ("no answer: %s"):format(code)
  -- A known disagreement must go on to miss: when it no longer does, the mark is stale.
  local passed = meets
  if row.disagrees then
    passed = not meets
  end
  return { source = row.source, place = row.place, known = row.known, quantity = row.quantity,
    arguments = row.arguments, set = row.set, expected = row.expected, expect = row.expect, tolerance = row.within,
    low = row.low, high = row.high, value = value, got = got, message = value == nil and word or nil,
    extrapolated = value ~= nil and word == "extrapolated", meets = meets, passed = passed, role = row.role,
    disagrees = row.disagrees, note = row.note, why = row.why, file = row.file, line = row.line }
end

--- Outcomes of rows, in their order: source, place, known, quantity, arguments, set, expected, got,
--- passed, meets, role, disagrees, note, extrapolated, file, line and the numbers behind them.
function reference.run(rows)
  local list = {}
  if type(rows) ~= "table" then
    misuse("reference.run takes a list of rows, not a %s", type(rows))
  end
  for i, row in ipairs(rows) do
    if type(row) ~= "table" or type(row.quantity) ~= "string" or type(row.named) ~= "table" then
      misuse("reference.run: row %d was not made by reference.load", i)
    end
    list[i] = outcome(row)
  end
  return list
end

--- Outcomes of every data file that the library carries, and a count { passed =, failed = }.
function reference.all()
  local list, count = {}, { passed = 0, failed = 0 }
  for _, name in ipairs(core.embedded()) do
    local file = name:match("^data%.(.+)$")
    if file then
      for _, one in ipairs(reference.run(reference.load(core.embedded(name), file .. ".lua"))) do
        list[#list + 1] = one
        local key = one.passed and "passed" or "failed"
        count[key] = count[key] + 1
      end
    end
  end
  return list, count
end

return reference
