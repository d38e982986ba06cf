-- hairfibre sensitivity: of a quantity and of a treatment, as a table, a picture, JSON.
package.path = "tests/command/?.lua;" .. package.path
local h = require "harness"
local dkjson = require "dkjson"

h.write("short.lua", [[
local hf = require "hairfibre"
return { lumped = true, cells = 20, strands = 500, treatment = {
  hf.soak { duration = "1 min" }, hf.blot {}, hf.plates { temperature = "150 degC", duration = "0.5 s" } } }
]])

local REGAIN = { "sensitivity", "regain", "--at", "humidity=65%", "--spread", "humidity=3%" }
local function with(row, more)
  local copy = table.move(row, 1, #row, 1, {})
  for key, x in pairs(more) do
    if math.type(key) then
      copy[#row + key] = x
    else
      copy[key] = x
    end
  end
  return copy
end

local rows = {
  with(REGAIN, { out = { "What decides regain", "sorption.scale", "humidity", "first_low", "3 inputs have no influence",
    "method sobol, seed 1, samples 1024" } }),
  with(REGAIN, { "--method", "random", "--samples", "64", "--seed", "4", out = { "method random, seed 4, samples 64" } }),
  with(REGAIN, { "--method", "morris", "--tours", "10", out = { "size_error", "method morris, seed 1, tours 10" } }),
  with(REGAIN, { "--save", "r.svg", writes = true, out = { "wrote r.svg", "wrote r.csv" } }),
  with(REGAIN, { "--save", "t.csv", writes = true, out = { "wrote t.csv" } }),
  with(REGAIN, { "--set", "bleached", "--change", "sorption.scale=1.1", out = { "set bleached", "changed:",
    "humidity" } }),
  { "sensitivity", "short.lua", "--answer", "void_growth", "--tours", "4", out = { "What decides void growth",
    "void.viscosity.reference", "treatment.plates.contact", "from short.lua (SHA-256", "Bench samples" } },
  { "sensitivity", "short.lua", "--answer", "break_force", "--population", "asian", "--method", "sobol", "--samples", "32",
    out = { "area", "strength of the", "population asian" } },
  { "sensitivity", code = 2, err = { "subject" } },
  { "sensitivity", "regian", code = 2, err = { 'did you mean "regain"?' } },
  { "sensitivity", "regain", "--at", "humidity=65%", "--spread", "humidty=3%", code = 2, err = { 'did you mean "humidity"?' } },
  { "sensitivity", "regain", "--at", "humidity=65%", "--spread", "humidity=3", code = 2, err = { "humidity", "3" } },
  { "sensitivity", "regain", "--at", "humidity=65%", "--answer", "voids", code = 2, err = { "goes with a schedule" } },
  { "sensitivity", "regain", "--at", "humidity=65%", "--samples", "7", code = 2, err = { "samples", "32" } },
  { "sensitivity", "regain", "--at", "humidity=65%", "--save", "r.txt", code = 2, err = { ".svg, .png, .pdf, .csv or .json" } },
  { "sensitivity", "hygral_fatigue", code = 5, err = { "no validated model" } },
  { "sensitivity", "moisture_content", "--at", "regain=10%", code = 3, err = { "no input" } },
  { "sensitivity", "short.lua", code = 2, err = { "--answer void_growth" } },
  { "sensitivity", "short.lua", "--answer", "void_grow", code = 2, err = { 'did you mean "void_growth"?' } },
  { "sensitivity", "short.lua", "--answer", "voids", "--at", "humidity=65%", code = 2, err = { "goes with a quantity" } },
  { "sensitivity", "nowhere.lua", "--answer", "voids", code = 3, err = { "nowhere.lua" } },
}
for _, row in ipairs(rows) do
  h.row(row)
end

-- The shares: between the ends of their intervals, in order, and together the whole of a nearly additive answer.
local _, out = h.run(with(REGAIN, { "--json" }))
local object = dkjson.decode(out) or {}
local column = {}
for _, one in ipairs(object.columns or {}) do
  column[one.name] = one.values
end
local sum = 0
for i, total in ipairs(column.total or {}) do
  sum = sum + column.first[i]
  h.check(column.total_low[i] <= total and total <= column.total_high[i] and (i == 1 or total <= column.total[i - 1]),
    "share " .. i, out)
end
h.check(math.abs(sum - 1) < 0.05, "the shares add up to one", tostring(sum))
h.check(object.options and object.options.samples == 1024 and object.digest, "options and digest in JSON", out:sub(1, 500))

-- The picture and its numbers say where they come from.
local svg, csv = h.read(h.work .. "/r.svg") or "", h.read(h.work .. "/r.csv") or ""
h.check(svg:find("set virgin, digest", 1, true) and csv:find("^# hairfibre [^\n]*method sobol, seed 1, samples 1024"),
  "origin in picture and numbers", csv:sub(1, 300))

for _, words in ipairs { REGAIN, { "sensitivity", "--help" }, { "sensitivity", "short.lua", "--answer", "helix", "--tours", "2" } } do
  local _, text = h.run(words)
  h.narrow(text, "hairfibre " .. table.concat(words, " "))
end

h.finish()
