-- The Lua side of the fuzzers: one handler for each kind of text, and what every answer must obey.
-- A caller's mistake raises a sentence, what cannot be answered is nil, sentence, code; Lua's own complaints
-- ("attempt to index ...") are faults of the library.

local hf = require "hairfibre"
local core = require "hairfibre.core"

local kit = {}

local codes = { file = true, tool = true, time = true, usage = true }
for _, status in ipairs(core.statuses()) do
  codes[status.code] = true
end

local function fault(...)
  error("FAULT " .. string.format(...), 0)
end
kit.fault = fault

-- Complaints of Lua itself, and errors placed at a line of the library instead of the caller's.
local complaints = { "attempt to ", "bad argument", "stack overflow", "invalid value", "invalid option", "invalid order",
  "number has no integer", "string length overflow", "malformed pattern", "missing '", "too many captures", "table overflow",
  "'for' ", "invalid pattern", "invalid capture", "string slice too long", "too many results", "C stack",
  "nil index", "out of range", "^hairfibre%.[%w_]+:%d+:", "^command%.[%w_]+:%d+:", "^dkjson:%d+:" }
local harmless = { "must lie", "range%)", "lies outside", "attempt to load a binary chunk" }

local function check_sentence(what, message)
  if type(message) ~= "string" or message == "" then
    fault("%s: an error that is %s", what, type(message) == "string" and "empty" or type(message))
  elseif message:find("enough of this input$") or message:find("not enough memory", 1, true) then -- not one that quotes it
    error(message, 0)
  end
  for _, one in ipairs(complaints) do
    local at = not message:find("^mine:") and message:find(one)
    -- what a message quotes from the input does not count
    local quoted = at and message:sub(1, at):find("\"", 1, true)
    if at and not quoted then
      for _, fine in ipairs(harmless) do
        if message:find(fine) then
          return
        end
      end
      fault("%s: %s", what, message)
    end
  end
end

--- Checks what pcall gave; returns the answer, nil when there is none.
function kit.answer(what, done, first, second, third, ...)
  if not done then
    check_sentence(what, first)
    return nil
  elseif first == nil and second ~= nil then
    if type(second) ~= "string" or second == "" then
      fault("%s: nil with %s for a sentence", what, type(second))
    elseif not codes[third] then
      fault("%s: nil, \"%s\", with the code %s", what, second, tostring(third))
    end
    return nil
  end
  return first, second, third, ...
end

local function call(what, f, ...)
  return kit.answer(what, pcall(f, ...))
end
kit.call = call

--- Files for the library to read, in a folder of our own.
local folder = os.tmpname()
os.remove(folder)
assert(os.execute("mkdir " .. folder))
function kit.put(name, text)
  local path = folder .. "/" .. name
  if not text then
    os.remove(path)
    return path
  end
  local file = assert(io.open(path, "wb"))
  file:write(text)
  file:close()
  return path
end

--- Nothing is written and no program is called: what would be is kept to be looked at.
kit.written = {}
function core.write(path, text)
  kit.written[path] = text
  return true
end
function core.spawn_gnuplot(script)
  kit.drawn = script
  return ""
end

local function finite(x)
  return type(x) == "number" and x == x and x > -math.huge and x < math.huge
end

local function same(a, b)
  return a == b or (a ~= a and b ~= b)
end

-- ---- units --------------------------------------------------------------------------------------------

local wanted = {
  { name = "t", unit = "K", kind = "temperature" }, { name = "d", unit = "K", kind = "temperature difference" },
  { name = "f", unit = "1", kind = "fraction" }, { name = "n", unit = "1" }, { name = "p", unit = "Pa" },
  { name = "l", unit = "m" }, { name = "r", unit = "K/s" }, { name = "c", kind = "choice", unit = "1",
    choices = { "absorption", "desorption" } }, { unit = "mol/m3" }, { name = "q", unit = "J/kg" } }

function kit.units(text)
  local units, columns = require "hairfibre.units", require "hairfibre.columns"
  local import_units = require "hairfibre.import.units"
  local what = wanted[(text:byte(1) or 0) % #wanted + 1]
  text = text:sub(2)
  for _, name in ipairs { "value", "parse_list", "parse_range" } do
    local done, x, message = pcall(units[name], text, what)
    if not done then
      check_sentence(name, x)
    elseif x == nil then
      check_sentence(name, message)
    elseif name == "value" and not finite(x) then
      fault("\"%s\" is %s", text, tostring(x))
    elseif name == "parse_list" then
      for _, one in ipairs(x) do
        if not finite(one) then
          fault("\"%s\" holds %s", text, tostring(one))
        end
      end
    end
  end
  local x = call("si", hf.si, text)
  if x ~= nil and not finite(x) then
    fault("si of \"%s\" is %s", text, tostring(x))
  end
  local done, column, message = pcall(columns.parse, text)
  check_sentence("header", done and (column and "fine" or message) or column)
  for _, name in ipairs { "basis", "is_unit", "split_header" } do
    local fine, why = pcall(import_units[name], text)
    check_sentence(name, fine and "fine" or why)
  end
  local fine, why = pcall(import_units.resolve, text, what)
  check_sentence("resolve", fine and "fine" or why)
end

-- ---- tables -------------------------------------------------------------------------------------------

local function check_finite(r)
  for _, column in ipairs(r.columns) do
    for i, x in ipairs(column.values) do
      if type(x) == "number" and not finite(x) then
        fault("row %d, column %s is %s", i, column.name, tostring(x))
      end
    end
  end
end

function kit.csv(text)
  local csv = require "hairfibre.csv"
  local path = kit.put("data.csv", text)
  local r = call("csv", csv.read, path, { name = "data.csv", columns = {
    { name = "time", unit = "s", optional = true },
    { name = "branch", unit = "1", kind = "choice", choices = { "absorption", "desorption" }, optional = true } } })
  if r then
    check_finite(r)
    local plain = true
    for _, column in ipairs(r.columns) do
      -- what has a unit that no header can carry, or words, need not read back
      plain = plain and column.kind == "number" and column.name:find("^%a[%a_]*$") and column.unit:find("^%a*$")
    end
    local saved = call("text of the result", r.csv, r)
    local again = plain and saved and call("what was saved", csv.read, kit.put("again.csv", saved), { name = "again.csv" })
    if plain and saved and (not again or #again ~= #r) then
      fault("what was saved does not read back:\n%s", saved:sub(1, 300))
    end
    for c, column in ipairs(plain and again and r.columns or {}) do
      for i, x in ipairs(column.values) do
        if not same(x, again.columns[c].values[i]) then
          fault("row %d, column %s: %.17g reads back as %.17g", i, column.name, x, again.columns[c].values[i])
        end
      end
    end
    call("text", r.text, r, { ascii = true })
    call("json", r.json, r)
  end
  -- a table that was saved and comes back for a report
  local reader = require "command.report_read"
  for _, name in ipairs { path, kit.put("data.json", text) } do
    local done, x, message = pcall(reader.read, name)
    if not done or not x then
      check_sentence("saved table", not done and x or message)
    end
  end
end

function kit.history(text)
  local path = kit.put("history.csv", text)
  local r = call("damage", hf.damage, { history = path, passes = { 1, 10 } })
  if r then
    check_finite(r)
  end
  call("damage at a regain", hf.damage, { history = path, regain = 0.1, running = true })
end

function kit.sheet(text)
  local cut = text:find("\0", 1, true)
  local sheet = kit.put("sheet.csv", cut and text:sub(1, cut - 1) or text)
  local key = kit.put("key.csv", cut and text:sub(cut + 1) or nil)
  local analysis = call("count", hf.count_read, { sheet, key = cut and key or nil })
  if analysis then
    for _, name in ipairs { "text", "csv", "json" } do
      if type(analysis[name]) == "function" then
        call(name, analysis[name], analysis)
      end
    end
  end
end

function kit.import(text)
  local path = kit.put("data.csv", text)
  call("look", require("hairfibre.import").look, { file = path })
  local d = call("import", hf.import, { file = path, x = 1, y = 2,
    columns = { { unit = "%", basis = "wet" }, { unit = "s" } } })
  local e = call("import by names", hf.import, { file = path, x = "RH", y = "moisture",
    columns = { RH = { unit = "%" }, moisture = { unit = "%", basis = "dry" } } })
  for _, found in pairs { d, e } do
    for _, c in ipairs { found.x or {}, found.y or {} } do
      for i, x in ipairs(c.values or {}) do
        if type(x) == "number" and not finite(x) then
          fault("value %d is %s", i, tostring(x))
        end
      end
    end
    call("text", found.text, found)
  end
end

function kit.merge(text)
  local cut = text:find("\0", 1, true) or #text + 1
  local path = kit.put("part.csv", text:sub(1, cut - 1))
  kit.put("part.json", text:sub(cut + 1))
  local r = call("merge", hf.merge, { path })
  if r then
    call("summary", r.summary, r)
    call("share", r.share, r, "voids")
    call("percentiles", r.percentiles, r, "regain_end")
    call("csv", r.csv, r)
    call("save", r.save, r, "again.csv")
  end
end

-- ---- words --------------------------------------------------------------------------------------------

function kit.claim(text)
  local names = hf.quantities()
  local q = names[((text:byte(1) or 0) * 256 + (text:byte(2) or 0)) % #names + 1]
  local says, than = text:sub(3), nil
  local cut = says:find("\0", 1, true)
  if cut then
    than = says:sub(cut + 1)
    says = says:sub(1, cut - 1)
  end
  local a = q.arguments[1]
  local conditions = than and a and { [a.name] = than } or nil
  local done, result = pcall(hf.claim, { quantity = q.name, says = says, at = conditions })
  if not done then
    check_sentence("claim", result)
  end
  if conditions then
    call("claim compared", hf.claim, { quantity = q.name, says = says, than = conditions })
  end
  call("rows", function(t)
    local rows = hf.reference.load(t, "mine")
    return rows and hf.reference.run(rows)
  end, text:sub(1))
end

for name, handler in pairs(dofile("tests/fuzz/kit_calls.lua")(kit)) do
  kit[name] = handler
end
return kit
