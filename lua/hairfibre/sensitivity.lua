-- Which inputs decide an answer: Sobol indices with intervals, or Morris screening, of a quantity or of a treatment.
--
--   local s = hf.sensitivity("regain", { humidity = "65 %", temperature = "60 degC" })
--   s:print(); s:plot():save("inputs.svg")
--   local t = hf.sensitivity { treatment = { hf.soak { duration = "1 min" }, ... }, answer = "void_growth" }

local cautions = require "hairfibre.cautions"
local core = require "hairfibre.core"
local misuse = require "hairfibre.misuse"
local provenance = require "hairfibre.provenance"
local result = require "hairfibre.result"
local show = require "hairfibre.show"
local suggest = require "hairfibre.suggest"
local uncertainty = require "hairfibre.uncertainty"

local sensitivity = {}

local whole, difference_of = uncertainty.whole, uncertainty.difference_of
local methods = {}
local SHOWN, LISTED, LEVEL, Z975 = 12, 20, 0.95, 1.959963984540054

-- Inputs that have an influence, the strongest first, at most `most`; and a sentence about the others.
local function strongest(r, column, most)
  local n, still = 0, 0
  for i, x in ipairs(r[column]) do
    n = x ~= 0 and i <= most and i or n
    still = still + (x == 0 and 1 or 0)
  end
  local parts = { n < #r - still and ("%d weaker inputs are not shown"):format(#r - still - n) or nil }
  parts[#parts + 1] = still > 0 and ("%d inputs have no influence here"):format(still) or nil
  return math.max(n, 1), #parts > 0 and table.concat(parts, "; ") .. "." or nil
end

--- Ranked bars: the share of the variance that each input decides, or the size of its effect. options: title,
--- style, size, most (12).
function methods:plot(options)
  options = options or {}
  local known = { "title", "style", "size", "most" }
  for _, key in ipairs(suggest.sorted_keys(options)) do
    if key ~= "title" and key ~= "style" and key ~= "size" and key ~= "most" then
      misuse("plot has no option \"%s\"%s", tostring(key), suggest.hint(key, known))
    end
  end
  local morris = self.analysis == "morris"
  local n, note = strongest(self, morris and "size" or "total", whole("most", options.most or SHOWN, 1, 40))
  local display = show.display(self.columns[2], table.move(self.columns[2].values, 1, n, 1, {}))
  local lines = {}
  local function shown(column)
    local list = {}
    for i = 1, n do
      list[i] = show.apply(display, self[column][i])
    end
    return list
  end
  local function bars(label, column)
    local line = { name = label, kind = "bars", y = shown(column) }
    if self:column(column .. "_low") then
      line.low, line.high = shown(column .. "_low"), shown(column .. "_high")
    elseif self:column(column .. "_error") then
      line.low, line.high = {}, {}
      for i = 1, n do
        local reach = Z975 * self[column .. "_error"][i]
        line.low[i] = show.apply(display, self[column][i] - reach)
        line.high[i] = show.apply(display, self[column][i] + reach)
      end
    end
    lines[#lines + 1] = line
  end
  if morris then
    bars(nil, "size")
  else
    bars("with joint effects", "total")
    bars("alone", "first")
  end
  local y = { label = morris and "Mean size of the effect" or "Share of the variance", low = not morris and 0 or nil,
    unit = display.unit ~= "" and display.unit or nil }
  return require("hairfibre.plot").figure { title = options.title or self.title, style = options.style, size = options.size,
    x = { categories = table.move(self.input, 1, n, 1, {}) }, y = y, lines = lines, sideways = true,
    note = note and note .. " Strokes: 95 % intervals." or "Strokes: 95 % intervals.",
    provenance = provenance.sentence(self:provenance()), caution = self.caution }
end

local OPTIONS = { samples = true, seed = true, method = true, spread = true, bootstrap = true, level = true,
  tours = true, levels = true }

local function ranked(list, key)
  table.sort(list, function(a, b)
    if a[key] ~= b[key] then
      return a[key] > b[key]
    end
    return a.name < b.name
  end)
  return list
end

-- Columns from a list of rows: { { name in the result, key in the row, unit }, ... }
local function columns_of(list, wanted)
  local columns = {}
  for i, column in ipairs(wanted) do
    local values = {}
    for k, row in ipairs(list) do
      values[k] = row[column[2]]
    end
    columns[i] = { name = column[1], values = values, unit = column[3], kind = column[4] }
  end
  return columns
end

--- The table: inputs without any influence are counted, not listed. options as of a result, and most (20).
function methods:text(options)
  options = options or {}
  local n, note = strongest(self, self.analysis == "morris" and "size" or "total", options.most or LISTED)
  local columns = {}
  for i, column in ipairs(self.columns) do
    columns[i] = { name = column.name, unit = column.unit, kind = column.kind, digits = 3,
      values = table.move(column.values, 1, n, 1, {}) }
  end
  local notes = table.move(self.notes, 1, #self.notes, 1, {})
  notes[#notes + 1] = note
  return result.new({ title = self.title, columns = columns, notes = notes, caution = self.caution,
    origin = self:provenance() }):text(options)
end

function methods:print(options)
  io.stdout:write(methods.text(self, options))
end

-- Options of an analysis with their usual values. `usual`: those of its kind.
local function checked(options, usual)
  options.method = options.method or usual.method
  uncertainty.check_method(options.method, { "sobol", "random", "morris" })
  if options.method == "morris" then
    options.tours = whole("tours", options.tours or usual.tours, 2, 100000)
    options.levels = whole("levels", options.levels or 4, 2, 64)
  else
    options.samples = whole("samples", options.samples or usual.samples, 32, 1 << 20)
    options.bootstrap = whole("bootstrap", options.bootstrap or 400, 50, 10000)
    options.level = options.level or LEVEL
  end
  return options
end

local meta

-- about: { title, what = descriptor of the answer, set, options = what else is in use, caution, files }
local function result_of(list, summary, options, about)
  local morris = options.method == "morris"
  local difference = difference_of(about.what)
  local wanted, key = { { "input", "name", "", "text" } }, morris and "size" or "total"
  if morris then
    for _, column in ipairs { "size", "size_error", "mean", "deviation" } do
      wanted[#wanted + 1] = { column, column, difference.unit, difference.kind }
    end
  else
    for _, column in ipairs { "total", "total_low", "total_high", "first", "first_low", "first_high" } do
      wanted[#wanted + 1] = { column, column, "1", "fraction" }
    end
  end
  local notes = { ("Mean %s, standard deviation %s; %d evaluations."):format(show.value(summary.mean, about.what),
    show.value(summary.deviation, difference), summary.evaluations) }
  if summary.failures > 0 then
    notes[2] = ("%d rows of points had no answer and are left out."):format(summary.failures)
  end
  local used = { { "method", morris and "morris" or summary.method }, { "seed", options.seed } }
  for _, name in ipairs(morris and { "tours", "levels" } or { "samples", "bootstrap", "level" }) do
    used[#used + 1] = { name, options[name] }
  end
  table.move(about.options or {}, 1, #(about.options or {}), #used + 1, used)
  local r = result.new { title = about.title, columns = columns_of(ranked(list, key), wanted), set = about.set,
    notes = notes, caution = about.caution, options = used, files = about.files }
  r.analysis, r.unit, r.summary = morris and "morris" or "sobol", about.what.unit, summary
  meta = meta or result.extended(methods)
  return setmetatable(r, meta)
end

local QUANTITY = { method = "sobol", samples = 1024, tours = 40 }

--- Which inputs decide a quantity, the strongest first. method "sobol" (usual): shares of the variance, `first` alone
--- and `total` with joint effects, with intervals; options samples (1024), bootstrap (400), level (0.95). "morris":
--- size of the effect when an input moves over half of its probability; options tours (40), levels (4). Both: seed,
--- spread (of arguments). A result with plot(); or nil, sentence, code.
--- With a table as first argument: which inputs decide what becomes of a strand. The table is a plan as of hf.ensemble with
--- `answer` (a column of it); rows of the catalogue move unless parameters = false; method "morris" is usual, with 20
--- tours, for samples 128.
function sensitivity.run(name, given)
  if type(name) == "table" then
    return sensitivity.treatment(name)
  end
  local descriptor, arguments, set, _, options = uncertainty.read_call(name, given, OPTIONS)
  checked(options, QUANTITY)
  local list, summary, code
  if options.method == "morris" then
    list, summary, code = core.morris(descriptor.index, set, arguments, options)
  else
    list, summary, code = core.sobol(descriptor.index, set, arguments, options)
  end
  if not list then
    return nil, summary, code
  end
  return result_of(list, summary, options, { title = "What decides " .. show.words(name), what = descriptor, set = set,
    caution = cautions.line(descriptor) })
end

local TREATMENT = { method = "morris", samples = 128, tours = 20 }
local OWN = { "answer", "method", "samples", "bootstrap", "level", "tours", "levels" }

--- See sensitivity.run.
function sensitivity.treatment(given)
  local plan, answer = require("hairfibre.uncertainty.treatment").read(given, OWN)
  local options = { seed = plan.plan.seed }
  for _, key in ipairs { "method", "samples", "bootstrap", "level", "tours", "levels" } do
    options[key] = given[key]
  end
  checked(options, TREATMENT)
  local object, in_use, code = require("hairfibre.ensemble").object(plan)
  if not object then
    return nil, in_use, code
  end
  local schedule = object:digest()
  local list, summary
  list, summary, code = core.decide(plan.set, plan.fibre, plan.room, plan.options, plan.steps, plan.plan, answer.place, options)
  if not list then
    return nil, summary, code
  end
  return result_of(list, summary, options, { title = "What decides " .. show.words(answer.name), what = answer,
    set = plan.set, caution = cautions.heat, options = { { "schedule", schedule }, table.unpack(in_use) },
    files = { given.input } })
end

return sensitivity
