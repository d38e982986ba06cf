-- hairfibre count plan PURPOSE and hairfibre count card PURPOSE: the same options, another output.

local exit = require "command.exit"
local options = require "command.count_options"

local plan = {}

local purposes = "share, groups, pairs, change or means"

local texts = {
  plan = { "Plans a strand experiment: how many strands, in which groups, a blinded sheet with its key, what to write "
    .. "down, and what the models expect of each group. The purpose is " .. purposes .. ".",
    'hairfibre count plan groups --expect 10%,60% --donors 3 --group "control=soak 10min" --group "hot=plates 200degC 1s"' },
  card = { "One page for the bench from the same options as count plan: settings, predictions, blanks for what is "
    .. "observed, a reminder of the scale. The purpose is " .. purposes .. ".",
    'hairfibre count card change --pixel 0.5um --group "wet=soak 10min; blot"' },
}

local function parser(word)
  local p, page = require("command.options").new("count " .. word, texts[word][1], texts[word][2])
  p:argument("purpose", "share: how large it is; groups: two shares; pairs: yes or no before and after; "
    .. "change: diameter before and after; means: change of diameter in two groups.")
  p:option("--group", "A group with the steps of its treatment, the control first; as often as needed.")
    :argname("NAME=STEPS"):count("*")
  p:option("--expect", "Expected share, or two: control,treated (groups); no to yes,yes to no (pairs).")
    :argname("SHARES")
  p:option("--at-least", "share: lower limit wanted if all strands show it."):argname("SHARE")
  p:option("--against", "share: another share it must be told from."):argname("SHARE")
  p:option("--width", "share: full width of the interval wanted. Default: 20%."):argname("SHARE")
  p:option("--effect", "Change of diameter to find. Default: what the models expect."):argname("LENGTH")
  p:option("--deviation", "Its standard deviation between strands."):argname("LENGTH")
  p:option("--pixel", "Size of a pixel at the strand."):argname("LENGTH")
  p:option("--resolution", "Optical resolution, where it is coarser."):argname("LENGTH")
  p:option("--diameter", "Mean diameter of the strands. Default: 70um."):argname("LENGTH")
  p:option("--spread", "Its standard deviation between strands."):argname("LENGTH")
  p:option("--from", "Take the diameters of an earlier strand sheet."):argname("FILE")
  p:option("--humidity", "At which the diameter is measured. Default: 65%."):argname("SHARE")
  p:option("--donors", "Number of donors, or their names with commas between. Default: 1."):argname("NUMBER|NAMES")
  p:option("--strands", "Strands in each group, instead of the number needed."):argname("NUMBER")
  p:option("--alpha", "Risk of a false alarm. Default: 5%."):argname("SHARE")
  p:option("--power", "Chance to find the effect. Default: 80%."):argname("SHARE")
  p:option("--level", "Confidence of intervals. Default: 95%."):argname("SHARE")
  p:option("--grades", "Grades from no change to the worst. Default: 0,1,2,3."):argname("LIST")
  p:option("--seed", "Of the assignment. Default: 1."):argname("NUMBER")
  p:option("--set", "Named set of parameters, or a file of one. Default: virgin."):argname("NAME")
  p:option("--change", "Another value for one parameter; as often as needed."):argname("NAME=VALUE")
    :count("*")
  if word == "plan" then
    p:option("--save", "Write STEM_sheet.csv and STEM_key.csv; never over existing ones."):argname("STEM")
  else
    p:option("--save", "Write the card: .svg, .png, .pdf or .txt."):argname("FILE")
  end
  p:flag("--json", "One JSON object, in SI units.")
  return page
end

local FRACTIONS = { "at_least", "against", "width", "humidity", "alpha", "power", "level" }
local LENGTHS = { "effect", "deviation", "pixel", "resolution", "diameter", "spread" }
local WHOLES = { "strands", "seed" }

local function expected(s)
  local list = {}
  for part in (s .. ","):gmatch("%s*([^,]-)%s*,") do
    list[#list + 1] = part
  end
  local unit = list[#list]:find("%%$") and "%" or ""
  for i, part in ipairs(list) do
    local bare = require("hairfibre.core").number(part)
    list[i] = options.fraction(bare and unit ~= "" and part .. unit or part, "--expect")
  end
  return list
end

-- "3", or "weft A,weft B"
local function donors(s)
  if require("hairfibre.core").number(s) then
    return options.whole(s, "--donors")
  end
  local list = {}
  for part in (s .. ","):gmatch("%s*([^,]-)%s*,") do
    list[#list + 1] = part
  end
  return list
end

local EXPECTED = { groups = "the shares in control and treated, such as --expect 10%,60%",
  pairs = "the shares that go from no to yes and from yes to no, such as --expect 50%,5%" }

local function check_expected(arguments)
  local purpose = arguments.purpose
  if purpose == "share" and not arguments.at_least and not arguments.expect then
    exit.fail("usage", "%s", "the purpose share needs --at-least 80% (if all show it), or --expect 90% with --width or --against")
  elseif EXPECTED[purpose] and not arguments.expect then
    exit.fail("usage", "the purpose %s needs %s", purpose, EXPECTED[purpose])
  end
end

local function read(arguments)
  local o = { purpose = arguments.purpose, grades = arguments.grades, from = arguments.from,
    set = require("command.catalogue").parameters(arguments.set, arguments.change) }
  for _, name in ipairs(FRACTIONS) do
    o[name] = arguments[name] and options.fraction(arguments[name], "--" .. name:gsub("_", "-"))
  end
  for _, name in ipairs(LENGTHS) do
    o[name] = arguments[name] and options.length(arguments[name], "--" .. name)
  end
  for _, name in ipairs(WHOLES) do
    o[name] = arguments[name] and options.whole(arguments[name], "--" .. name)
  end
  o.expect = arguments.expect and expected(arguments.expect)
  o.donors = arguments.donors and donors(arguments.donors)
  for _, s in ipairs(arguments.group) do
    o.groups = o.groups or {}
    local name, steps = options.group(s)
    table.insert(o.groups, { name = name, treatment = steps })
  end
  return o
end

-- ---- JSON -------------------------------------------------------------------------------------------

local function prediction_json(p)
  local json = require "command.json"
  return p and json.object { { "diameter", p.diameter }, { "change", p.change }, { "low", p.low }, { "high", p.high },
    { "relative", p.relative }, { "void_growth", p.growth }, { "void_growth_low", p.growth_low },
    { "void_growth_high", p.growth_high }, { "grade", p.grade }, { "grade_low", p.grade_low },
    { "grade_high", p.grade_high }, { "extrapolated", p.extrapolated }, { "draws", p.draws } } or nil
end
plan.prediction_json = prediction_json

-- One JSON object of fields and of where they come from.
local function write_with_origin(x, fields)
  local json = require "command.json"
  for _, pair in ipairs(require("hairfibre.provenance").fields(x:provenance(), json)) do
    fields[#fields + 1] = pair
  end
  json.write(json.object(fields))
end
plan.write_with_origin = write_with_origin

local function write_json(p)
  local json = require "command.json"
  local groups, assignment, alternatives = json.list {}, json.list {}, json.list {}
  for i, group in ipairs(p.groups) do
    groups[i] = json.object { { "name", group.name }, { "treatment", group.treatment }, { "strands", group.strands },
      { "prediction", prediction_json(group.prediction) }, { "no_prediction", group.no_prediction },
      { "can_be_seen", group.word } }
  end
  for i, one in ipairs(p.assignment) do
    assignment[i] = json.object { { "id", one.id }, { "donor", one.donor }, { "strand", one.strand },
      { "group", one.group } }
  end
  for i, one in ipairs(p.alternatives) do
    alternatives[i] = json.object { { "strands", one.strands }, { "power", one.power } }
  end
  write_with_origin(p, { { "purpose", p.purpose }, { "strands", p.strands }, { "needed", p.needed },
    { "total", p.total }, { "donors", p.donors }, { "method", p.method }, { "alpha", p.alpha },
    { "alpha_each", p.alpha_each }, { "level", p.level }, { "power", p.power_reached },
    { "formula", p.calculation and p.calculation.formula }, { "effect", p.effect }, { "deviation", p.deviation },
    { "pixel", p.pixel }, { "resolution", p.resolution }, { "diameter", p.diameter }, { "spread", p.spread },
    { "alternatives", alternatives }, { "groups", groups }, { "grades", json.list(p.grades) }, { "seed", p.seed },
    { "assignment", assignment }, { "plan", p:id() }, { "from", p.from }, { "caution", p.caution } })
end

-- ---- running ----------------------------------------------------------------------------------------

local function save_sheet(p, stem)
  if stem:find("%c") then
    exit.fail("usage", "a file name must not hold control characters")
  end
  local sheet, key, code = p:save(stem)
  options.check(sheet, key, code, "output")
  io.stdout:write("wrote ", sheet, "\nwrote ", key, "\n")
end

local function save_card(card, path)
  local suffix = (path:match("[^/]%.(%a+)$") or ""):lower()
  if suffix ~= "svg" and suffix ~= "png" and suffix ~= "pdf" and suffix ~= "txt" then
    exit.fail("usage", '--save needs a name that ends in .svg, .png, .pdf or .txt, not "%s"', path)
  elseif path:find("%c") then
    exit.fail("usage", "a file name must not hold control characters")
  end
  local done, message, code = card:save(path)
  options.check(done, message, code, "output")
  io.stdout:write("wrote ", path, "\n")
end

function plan.run(word, given)
  local arguments = require("command.options").parse(parser(word), given)
  if not arguments then
    return exit.codes.ok
  end
  check_expected(arguments)
  local p, message, code, faults = options.call(require("hairfibre.count.plan").new, read(arguments))
  if faults then
    io.stdout:write(require("hairfibre.count.report").faults(faults))
    exit.fail("data", "%s", message)
  end
  options.check(p, message, code, "data")
  if word == "plan" and arguments.json then
    write_json(p)
    if arguments.save then
      local sheet, why, failed = p:save(arguments.save)
      options.check(sheet, why, failed, "output")
    end
  elseif word == "plan" then
    io.stdout:write(p:text())
    if arguments.save then
      io.stdout:write("\n")
      save_sheet(p, arguments.save)
    end
  else
    local card
    card, message, code = options.call(require("hairfibre.count.card").new, p)
    options.check(card, message, code)
    if arguments.save then
      save_card(card, arguments.save)
    elseif arguments.json then
      write_json(p)
    else
      io.stdout:write(card:text())
    end
  end
  return exit.codes.ok
end

return plan
