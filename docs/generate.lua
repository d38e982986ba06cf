-- Writes docs/parameters.md and docs/validation.md from what the program carries: the catalogue of
-- parameters, the named sets, and the literature rows of tests/data. Same input, same bytes.
--   make docs        (build/hairfibre run --trust docs/generate.lua)
-- Ends with a fault when a literature row is not met, after both files are written.

local catalogue = require "command.catalogue"
local core = require "hairfibre.core"
local files = require "hairfibre.files"
local reference = require "hairfibre.reference"

local folder = (arg and arg[0] or ""):match("^(.*/)") or ""

-- ---- Markdown -----------------------------------------------------------------------------------------

local escapes = { ["|"] = "\\|", ["*"] = "\\*", ["<"] = "&lt;", [">"] = "&gt;" }

local function plain(text)
  return (text:gsub("[|*<>]", escapes):gsub("[\r\n]+", " "))
end

local function code(text)
  return "`" .. text .. "`"
end

-- A page under construction: page:say(format, ...), page:row(cells), page:save(name).
local Page = {}
Page.__index = Page

local function new_page()
  return setmetatable({ lines = {} }, Page)
end

function Page:say(text, ...)
  self.lines[#self.lines + 1] = select("#", ...) > 0 and text:format(...) or text
end

function Page:row(cells)
  self:say("%s", "| " .. table.concat(cells, " | ") .. " |")
end

function Page:head(cells, marks)
  self:row(cells)
  local rule = {}
  for i = 1, #cells do
    rule[i] = marks and marks[i] or "---"
  end
  self:row(rule)
end

function Page:save(name)
  assert(files.write(folder .. name, table.concat(self.lines, "\n") .. "\n"))
end

local function grades_line()
  local parts = {}
  for _, grade in ipairs(core.known()) do
    parts[#parts + 1] = ("**%s**: %s"):format(grade.word, grade.text)
  end
  return table.concat(parts, "; ")
end

-- "authors (year), title, journal; seen as: abstract"
local function full_reference(key)
  local source = core.source(key)
  local text = plain(catalogue.reference(key)):gsub("%.$", "")
  if source and source.access ~= "" then
    text = text .. "; seen as: " .. plain(source.access)
  end
  return text
end

-- ---- parameters.md ------------------------------------------------------------------------------------

local topics = {
  sorption = "Water in the fibre", swelling = "Swelling and density", diffusion = "Diffusion of water",
  thermal = "Heat capacity and conductivity", transition = "Glass transition",
  denaturation = "Melting of the helices", bond = "Bonds", rate = "Rates", void = "Voids",
  calorimetry = "Calorimetry of bleached hair", treatment = "Steps of a treatment", strength = "Strength",
}

local function topic_of(row)
  return row.name:match("^[^.]+")
end

local function with_unit(x, unit)
  return unit == "1" and core.text(x) or core.text(x) .. " " .. unit
end

-- Rows in kelvin whose lower limit is above zero are temperatures; the others are differences.
local function is_temperature(row)
  return row.unit == "K" and row.low > 0
end

local function value_of(row)
  local text = with_unit(row.value, row.unit)
  if is_temperature(row) then
    text = ("%s (%s °C)"):format(text, core.text(row.value - 273.15, 6))
  end
  return text
end

local function spread_of(row)
  local s = core.text(row.spread)
  if row.distribution == "fixed" then
    return "exact"
  elseif row.distribution == "normal" then
    return "sd " .. s
  elseif row.distribution == "lognormal" then
    return ("sd of ln %s (95 %%: ×/÷ %s)"):format(s, core.text(math.exp(1.959964 * row.spread), 3))
  elseif row.distribution == "uniform" then
    return "±" .. s .. ", even"
  end
  return "±" .. s .. ", triangle"
end

local function range_of(row)
  if row.low == row.high then
    return "not to be changed"
  end
  return ("%s to %s"):format(core.text(row.low), core.text(row.high))
end

local function source_of(row)
  local text = code(row.source)
  if row.place ~= "" then
    text = text .. ", " .. plain(row.place)
  end
  return text .. (row.conditions ~= "" and "<br>on: " .. plain(row.conditions) or "")
end

local PARAMETER_HEAD = { "name, what it is", "value", "spread", "allowed", "how known", "source, place, conditions" }

local function parameter_cells(row)
  return { code(row.name) .. "<br>" .. plain(row.text), value_of(row), spread_of(row), range_of(row), row.known,
    source_of(row) }
end

local function same(a, b)
  for _, field in ipairs { "value", "distribution", "spread", "source", "place", "conditions", "known" } do
    if a[field] ~= b[field] then
      return false
    end
  end
  return true
end

local function count_grades(rows)
  local count = {}
  for _, row in ipairs(rows) do
    count[row.known] = (count[row.known] or 0) + 1
  end
  return count
end

local function write_parameters()
  local page, rows = new_page(), core.rows()
  local count, used = count_grades(rows), {}
  page:say "# Parameters"
  page:say ""
  page:say "Every number that the models read from the catalogue (`lib/base/catalogue/`), as the set *virgin* ships it; then the rows that each other set replaces. Generated by `make docs`; do not edit."
  page:say ""
  page:say("hairfibre %s; set virgin, digest `%s`; %d parameters.", core.version, core.parameters("virgin"):digest(),
    #rows)
  page:say ""
  page:say "**value** in SI units; regain is kg water per kg dry fibre; unit 1 (a pure number) is not written. **spread**: *sd* standard deviation in the unit of the value; *sd of ln* standard deviation of the natural logarithm, with the factor that spans 95 %; *even* half width of a uniform spread; *triangle* half width of the base, peak at the value; *exact* no spread. **allowed**: the library refuses a changed value outside. **source**: key of `docs/sources.bib`; the full references stand at the end."
  page:say ""
  page:say "How a number is known, from the strongest grade to the weakest:"
  page:say ""
  page:head({ "grade", "meaning", "rows" }, { "---", "---", "---:" })
  for _, grade in ipairs(core.known()) do
    page:row { grade.word, grade.text, tostring(count[grade.word] or 0) }
  end
  local topic
  for _, row in ipairs(rows) do
    if topic_of(row) ~= topic then
      topic = topic_of(row)
      page:say ""
      page:say("## %s (`%s`)", topics[topic] or topic, topic)
      page:say ""
      page:head(PARAMETER_HEAD)
    end
    page:row(parameter_cells(row))
    used[row.source] = true
  end
  for _, set in ipairs(core.sets()) do
    local own, replaced = core.rows(core.parameters(set.name)), {}
    for i, row in ipairs(own) do
      if not same(row, rows[i]) then
        replaced[#replaced + 1] = { row = row, before = rows[i] }
        used[row.source] = true
      end
    end
    if #replaced > 0 then
      page:say ""
      page:say("## Set %s: rows replaced", set.name)
      page:say ""
      page:say("%s. %d rows; all others as in virgin. Digest `%s`.", (set.text:gsub("^%l", string.upper)), #replaced,
        core.parameters(set.name):digest())
      page:say ""
      page:head { "name", "value", "in virgin", "spread", "how known", "source, place, conditions" }
      for _, one in ipairs(replaced) do
        page:row { code(one.row.name), value_of(one.row), value_of(one.before), spread_of(one.row), one.row.known,
          source_of(one.row) }
      end
    end
  end
  page:say ""
  page:say "## Sources of these rows"
  page:say ""
  page:head { "key", "reference" }
  for _, source in ipairs(core.sources()) do
    if used[source.key] then
      page:row { code(source.key), full_reference(source.key) }
    end
  end
  page:save "parameters.md"
end

-- ---- validation.md ------------------------------------------------------------------------------------

local data_titles = {
  air = "Air and heat transfer", bonds = "Bonds and their chemistry", diffusion = "Diffusion of water",
  disulfide = "Reduction, bleaching, calorimetry", history = "What is left after a time", ionic = "Ionic groups in a bath",
  rates = "Rates of loss by heat", sorption = "Water in the fibre", strength = "Strength",
  swelling = "Swelling and density", thermal = "Heat capacity and conductivity",
  transition = "Glass transition and melting", vapour = "Vapour pressure in the fibre",
  voids = "Voids", water = "Water on its saturation line",
}

local VERDICTS = { "met", "met, calibration", "known disagreement", "refused", "not met" }

local function verdict_of(one)
  if not one.passed then
    return "not met"
  elseif one.disagrees then
    return "known disagreement"
  elseif one.expected:find("^no answer") then
    return "refused"
  end
  return one.role == "calibration" and "met, calibration" or "met"
end

local function data_files()
  local list = {}
  for _, name in ipairs(core.embedded()) do
    list[#list + 1] = name:match("^data%.(.+)$")
  end
  table.sort(list)
  return list
end

-- Outcomes by source in the order of the file, each source with blocks of one place and one grade.
local function by_source(outcomes)
  local groups, known = {}, {}
  for _, one in ipairs(outcomes) do
    local group = known[one.source]
    if not group then
      group = { key = one.source, blocks = {}, places = {} }
      known[one.source], groups[#groups + 1] = group, group
    end
    local place = one.place .. "\n" .. one.known
    local block = group.places[place]
    if not block then
      block = { place = one.place, known = one.known, rows = {} }
      group.places[place], group.blocks[#group.blocks + 1] = block, block
    end
    block.rows[#block.rows + 1] = one
  end
  return groups
end

local function outcome_cells(one)
  local verdict = verdict_of(one)
  local remarks = {}
  if verdict == "not met" and one.disagrees then
    remarks[1] = "the mark of a known disagreement is stale: the row is met now"
  end
  remarks[#remarks + 1] = one.disagrees
  remarks[#remarks + 1] = one.note
  if one.extrapolated then
    remarks[#remarks + 1] = "extrapolated"
  end
  local expected = plain(one.expected)
  if one.why then
    expected = expected .. "<br>" .. plain(one.why)
  end
  local conditions = one.arguments == "" and "no conditions" or one.arguments
  if one.set ~= "virgin" then
    conditions = conditions .. "; set " .. one.set
  end
  local shown = (verdict == "met" or verdict == "refused") and verdict or ("**%s**"):format(verdict)
  return { code(one.quantity), plain(conditions), expected, plain(one.got),
    #remarks > 0 and shown .. ": " .. plain(table.concat(remarks, "; ")) or shown }
end

local function count_table(page, title, keys, list, key_of)
  local count = {}
  for _, one in ipairs(list) do
    local row = count[key_of(one)] or { sum = 0 }
    local verdict = verdict_of(one)
    row[verdict], row.sum = (row[verdict] or 0) + 1, row.sum + 1
    count[key_of(one)] = row
  end
  local sums = { sum = 0 }
  local function cells(name, row)
    local list_of = { name }
    for i, verdict in ipairs(VERDICTS) do
      list_of[1 + i] = tostring(row[verdict] or 0)
      if row ~= sums then
        sums[verdict] = (sums[verdict] or 0) + (row[verdict] or 0)
      end
    end
    sums.sum = row ~= sums and sums.sum + row.sum or sums.sum
    list_of[#list_of + 1] = tostring(row.sum)
    return list_of
  end
  local head, marks = table.move(VERDICTS, 1, #VERDICTS, 2, { title }), { "---" }
  head[#head + 1] = "rows"
  for i = 2, #head do
    marks[i] = "---:"
  end
  page:head(head, marks)
  for _, key in ipairs(keys) do
    if count[key[1]] then
      page:row(cells(key[2], count[key[1]]))
    end
  end
  page:row(cells("all", sums))
  return sums
end

local function write_validation()
  local page, all, by_file = new_page(), {}, {}
  for _, name in ipairs(data_files()) do
    by_file[name] = reference.run(reference.load(core.embedded("data." .. name), name .. ".lua"))
    table.move(by_file[name], 1, #by_file[name], #all + 1, all)
  end
  local failed = 0
  for _, one in ipairs(all) do
    failed = failed + (one.passed and 0 or 1)
  end
  page:say "# Validation"
  page:say ""
  page:say "Every published number that the program carries (`tests/data/*.lua`), beside what the models give. Generated by `make docs`; do not edit. `hairfibre selftest` recomputes the same rows."
  page:say ""
  page:say("hairfibre %s; %d rows.", core.version, #all)
  page:say ""
  page:say "A row is **met** when the answer lies within the tolerance printed in the source (half a unit of the last digit) or within the one stated beside it with its reason. **Met, calibration**: the number took part in finding a parameter, so meeting it proves nothing. **Known disagreement**: the models miss the number, and it is kept with the reason; should a change of the models make it fit, the row fails until the mark is taken away. **Refused**: the row stands for no number; it checks that the library gives no answer beyond what the source or the model covers."
  page:say ""
  page:say("How the expected number is known: %s.", grades_line())
  page:say ""
  local grade_keys, file_keys = {}, {}
  for i, grade in ipairs(core.known()) do
    grade_keys[i] = { grade.word, grade.word }
  end
  for i, name in ipairs(data_files()) do
    file_keys[i] = { name, ("[%s](#%s)"):format(data_titles[name] or name, name) }
  end
  count_table(page, "expected number", grade_keys, all, function(one)
    return one.known
  end)
  page:say ""
  count_table(page, "topic", file_keys, all, function(one)
    return one.file:match("^(.*)%.lua$")
  end)
  for _, name in ipairs(data_files()) do
    page:say ""
    page:say("<a id=\"%s\"></a>", name)
    page:say ""
    page:say("## %s (`tests/data/%s.lua`)", data_titles[name] or name, name)
    for _, group in ipairs(by_source(by_file[name])) do
      page:say ""
      page:say("### %s", code(group.key))
      page:say ""
      page:say("%s", full_reference(group.key) .. ".")
      for _, block in ipairs(group.blocks) do
        page:say ""
        page:say("*%s* (%s)", plain(block.place), block.known)
        page:say ""
        page:head { "quantity", "conditions", "expected", "got", "verdict" }
        for _, one in ipairs(block.rows) do
          page:row(outcome_cells(one))
        end
      end
    end
  end
  page:save "validation.md"
  return #all, failed
end

write_parameters()
local rows, failed = write_validation()
print(("%sparameters.md: %d parameters; %svalidation.md: %d rows, %d not met"):format(folder, #core.rows(), folder,
  rows, failed))
if failed > 0 then
  error(("%d literature rows are not met (see %svalidation.md)"):format(failed, folder), 0)
end
