-- Seeds and dictionaries of the fuzzers, from what the project says of itself: snippets of the manual, examples, rows of
-- the sandbox tests, names and units.
--   LUA_CPATH="build/?.so;;" lua5.4 tests/fuzz/seeds.lua FOLDER

local hf = require "hairfibre"
local folder = assert(arg[1], "usage: seeds.lua FOLDER")

local count = {}
local function seed(name, bytes)
  count[name] = (count[name] or 0) + 1
  if count[name] == 1 then
    os.execute(("mkdir -p '%s/seeds/%s'"):format(folder, name))
  end
  local file = assert(io.open(("%s/seeds/%s/%03d"):format(folder, name, count[name]), "wb"))
  file:write(bytes)
  file:close()
end

local function read(path)
  local file = io.open(path, "rb")
  local text = file and file:read("a")
  if file then
    file:close()
  end
  return text
end

-- ---- words ------------------------------------------------------------------------------------------------

local words, order = {}, {}
local function word(text)
  if #text > 1 and #text < 40 and not words[text] then
    words[text] = true
    order[#order + 1] = text
  end
end

local snippets = {}
for snippet in read("docs/lua.md"):gmatch("```lua\n(.-)```") do
  snippets[#snippets + 1] = snippet
  for text in snippet:gmatch('"([^"\n]*)"') do
    word(text)
  end
  for text in snippet:gmatch("[%a_][%w_]+") do
    word(text)
  end
end
local units = { "degC", "degF", "K", "%", "%RH", "um", "mm", "m", "Pa", "kPa", "bar", "s", "min", "h", "K/min", "J/kg", "mol/L",
  "g", "\u{00B0}C", "\u{B5}m", "\u{2212}5", "deltaC", "1e-5", "inf", "nan", "0x1p3", "1,5", "1.000,5", "10..20", "10%,20%" }
for _, unit in ipairs(units) do
  word(unit)
end
for _, q in ipairs(hf.quantities()) do
  word(q.name)
  for _, a in ipairs(q.arguments) do
    word(a.name)
  end
end

local function escaped(text)
  return (text:gsub("[^%w _%-./%%]", function(c)
    return ("\\x%02X"):format(c:byte())
  end))
end

local function dictionary(name, list, counted)
  local file = assert(io.open(("%s/%s.dict"):format(folder, name), "w"))
  for _, text in ipairs(list) do
    file:write('"', counted and ("\\x%02X"):format(#text) or "", escaped(text), '"\n')
  end
  file:close()
end

-- ---- texts ------------------------------------------------------------------------------------------------

for i = 0, 9 do
  for _, text in ipairs { "200 degC", "65 %", "70 um", "10%,20%,30%", "20..80 degC", "temperature_degC", "7", "absorption",
    "heat (J/g)", "1.5e3 Pa" } do
    seed("units", string.char(i) .. text)
  end
end
dictionary("units", units)

local tables = { "time_s,temperature_degC,regain\n0,20,0.14\n2,180,0.08\n4,60,0.06\n",
  "time [min];humidity_percent\n0;65\n1;70\n", "# note\n\"time_s\",branch\n1,absorption\n\n2,desorption\n",
  "RH,moisture\n%,%\n10,3.1\n20,\"4,2\"\n", "\xEF\xBB\xBFRH\tmoisture\n10,5\t3,25\n",
  "time_s\ttemperature_K\thumidity\r\n0\t293\t0.5\r\n10\t450\t0.1\r\n", "x y\n1 2\n3 4\n5 6\n" }
for _, path in ipairs { "plate_log_invented", "strands_evening_invented", "strands_wet_invented",
  "strands_second_evening_invented" } do
  tables[#tables + 1] = read("examples/data/" .. path .. ".csv")
end
for _, text in ipairs(tables) do
  for _, name in ipairs { "csv", "history_file", "import_file", "sheet" } do
    seed(name, text)
  end
end
seed("sheet", read("examples/data/strands_blind_invented.csv") .. "\0" .. read("examples/data/strands_blind_key_invented.csv"))
local headers = { ",", ";", "\t", "\"", "\n", "\r\n", "#", "time_s", "time", "temperature_degC", "temperature_K", "humidity",
  "humidity_percent", "regain", "id", "group", "donor", "treatment", "diameter_before_um", "diameter_after_um", "voids",
  "voids_before", "cuticle_lift", "grade_before", "grade_after", "broken", "yes", "no", "excluded", "notes", "branch",
  "absorption", "RH", "moisture", "\xEF\xBB\xBF", "\xFF\xFE", "1e300", "-0", "NaN" }
for _, name in ipairs { "csv", "history_file", "import_file", "sheet" } do
  dictionary(name, headers)
end

local e = hf.ensemble { strands = 3, cells = 20, tolerance = 1e-2, population = "caucasian", treatment = {
  hf.soak { duration = 5 }, hf.plates { duration = 1, temperature = "180 degC" } }, save = folder .. "/part.csv" }
assert(e and e.complete)
seed("merge", read(folder .. "/part.csv") .. "\0" .. read(folder .. "/part.json"))
dictionary("merge", { "\"strands\":", "\"part\": \"1/1\"", "\"seed\":", "1e300", "null", "-1", "\"changed\":", "[{", "ok", "range" })

for _, text in ipairs { "30 %", "more than 30 %", "30 to 40 %", "about 200 degC", "twice as much", "falls by 10 %",
  "between 1 and 2", "never above 100 degC", "source{ key = \"stam1952\", place = \"p\", known = \"published\" }\n"
    .. "row{ \"regain\", humidity = \"60 %\", expect = \"14 %\", within = \"1 %\" }" } do
  for i = 0, 200, 40 do
    seed("claim", string.char(0, i) .. text)
  end
  seed("claim", "\1\7" .. text .. "\0" .. "50 %")
end
dictionary("claim", { "more than", "less than", "about", "between", "and", " to ", "twice", "half", "percent", "degC", "%", "times",
  "never", "always", "rises", "falls", "by", "row{", "source{", "expect =", "within =", "fails =", "minus =", "ratio_to =" })

-- ---- calls ------------------------------------------------------------------------------------------------

local function text_value(text)
  return "\4" .. string.char(#text) .. text
end
for name, value in pairs(hf) do
  if type(value) == "function" then
    seed("options", string.char(#name) .. name .. "\0")
    seed("options", string.char(#name) .. name .. "\0" .. "\9\1" .. "\4time" .. text_value "1 s")
  end
end
for _, q in ipairs(hf.quantities()) do
  local pairs_of = {}
  for i, a in ipairs(q.arguments) do
    pairs_of[i] = string.char(#a.name) .. a.name .. "\3\200\64\0"
  end
  seed("options", string.char(#q.name) .. q.name .. "\0\9" .. string.char(#pairs_of) .. table.concat(pairs_of))
end
for _, name in ipairs { "plot.figure", "plot.result", "plot.rings", "preview.figure", "reference.run", "reference.load" } do
  seed("options", string.char(#name) .. name .. "\0\9\0")
end
dictionary("options", order, true)

for _, snippet in ipairs(snippets) do
  seed("script", 'local hf = require "hairfibre"\n' .. snippet)
end
for _, path in ipairs { "first_lesson", "plates_wet_and_conditioned" } do
  seed("script", read("examples/" .. path .. ".lua"))
end
-- rows of the sandbox tests: { "name", "script" or [[script]], ...
local rows = read("tests/command/sandbox.lua")
for script in rows:gmatch('\n  { "[^"\n]*", "([^"\n]*)"') do
  if not script:find("while true", 1, true) then
    seed("script", (script:gsub("\\n", "\n"):gsub("\\'", "'")))
  end
end
for script in rows:gmatch("%[%[\n(.-)%]%]") do
  seed("script", script)
end
local lua = { "function", "end", "local", "return", "while true do", "repeat", "until", "for i = 1, 1e9 do", "pcall(", "setmetatable(",
  "getmetatable(", "rawset(", "rawget(", "coroutine.wrap(", "string.rep(", "load(", "require", "\"hairfibre\"", "hf.", ":save(",
  "__index", "__gc", "__tostring", "__len", "__close", "__call", "select('#',", "error(", "string.format('%s',", "..", "\\0",
  "\27Lua", "table.unpack(", "string.pack(", "utf8.char(", "('x'):rep(", "_G", "_ENV", "goto", "<close>", "hf.plot.figure{",
  "title = ", "`touch x`", "'\\n system ", "EOD", "../" }
for _, text in ipairs(order) do
  lua[#lua + 1] = text
end
dictionary("script", lua)
