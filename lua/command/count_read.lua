-- hairfibre count read SHEET.csv...: strand sheets to intervals, tests and sentences. The sheets are read
-- only.

local exit = require "command.exit"
local options = require "command.count_options"

local read = {}

local function parser()
  local p, page = require("command.options").new("count read",
    "Reads filled strand sheets, one line a strand, checks every cell, and says what the counts allow: intervals, tests "
      .. "before and after and between groups (shares within donors), what may be said and what these strands cannot show. "
      .. "The sheets are never changed.",
    "hairfibre count read examples/data/strands_evening_invented.csv --pixel 0.5um --predict")
  p:argument("sheets", "CSV files; several are pooled, with the donors kept apart."):args("+")
  p:option("--key", "CSV file with id and group, for blinded sheets; as often as needed."):argname("FILE"):count("*")
  p:option("--control", "Group that the others are compared with. Default: control, or the first.")
    :argname("NAME")
  p:option("--pixel", "Size of a pixel at the strand."):argname("LENGTH")
  p:option("--resolution", "Optical resolution, where it is coarser."):argname("LENGTH")
  p:option("--level", "Confidence of intervals. Default: 95%."):argname("SHARE")
  p:option("--alpha", "Risk of a false alarm. Default: 5%."):argname("SHARE")
  p:option("--method", "Intervals of shares: clopper-pearson (the default), mid-p, wilson or jeffreys.")
    :argname("WORD")
  p:option("--grades", "Grades from no change to the worst. Default: 0,1,2,3."):argname("LIST")
  p:option("--group", "Steps of a group, to predict it; as often as needed."):argname("NAME=STEPS"):count("*")
  p:flag("--predict", "Predict each group from the steps in its column treatment.")
  p:option("--humidity", "At which the diameter is measured. Default: 65%."):argname("SHARE")
  p:option("--save", "Write the picture: .svg, .png or .pdf, with its numbers as .csv; .csv for these alone.")
    :argname("FILE")
  p:option("--style", "projector, print or paper. Default: projector."):argname("STYLE")
  p:option("--set", "Named set of parameters, or a file of one. Default: virgin."):argname("NAME")
  p:flag("--json", "One JSON object, in SI units.")
  return page
end

local function gather(arguments)
  local o = { key = arguments.key, control = arguments.control, grades = arguments.grades, method = arguments.method,
    set = require("command.catalogue").parameters(arguments.set) }
  for i, path in ipairs(arguments.sheets) do
    o[i] = path
  end
  for _, name in ipairs { "level", "alpha", "humidity" } do
    o[name] = arguments[name] and options.fraction(arguments[name], "--" .. name)
  end
  for _, name in ipairs { "pixel", "resolution" } do
    o[name] = arguments[name] and options.length(arguments[name], "--" .. name)
  end
  if #arguments.group > 0 then
    o.predict = {}
    for _, s in ipairs(arguments.group) do
      local name, steps = options.group(s)
      o.predict[name] = steps or exit.fail("usage", '--group needs NAME=STEPS here, not "%s"', s)
    end
  elseif arguments.predict then
    o.predict = true
  end
  return o
end

-- ---- JSON -------------------------------------------------------------------------------------------

local function faults_json(faults, message)
  local json = require "command.json"
  local list = json.list {}
  for i, fault in ipairs(faults) do
    list[i] = json.object { { "file", fault.file }, { "line", fault.line }, { "column", fault.column },
      { "found", fault.found }, { "expected", fault.expected } }
  end
  json.write(json.object { { "status", "data" }, { "reason", message }, { "faults", list } })
end

local function share_json(share)
  local json = require "command.json"
  return json.object { { "outcome", share.name }, { "events", share.events }, { "strands", share.strands },
    { "share", share.share }, { "low", share.low }, { "high", share.high }, { "posterior_mean", share.posterior.mean },
    { "posterior_low", share.posterior.low }, { "posterior_high", share.posterior.high } }
end

local function group_json(group)
  local json = require "command.json"
  local shares = json.list {}
  for i, share in ipairs(group.shares) do
    shares[i] = share_json(share)
  end
  local c, g = group.change, group.grades
  return json.object { { "name", group.name }, { "strands", #group.strands }, { "donors", group.donor_count },
    { "shares", shares },
    { "change", c and json.object { { "strands", c.strands }, { "mean", c.mean }, { "low", c.low }, { "high", c.high },
      { "deviation", c.deviation }, { "relative", c.relative } } },
    { "grades", g and json.object { { "strands", g.strands }, { "worse", g.worse }, { "same", g.same },
      { "better", g.better } } },
    { "prediction", require("command.count_plan").prediction_json(group.prediction) },
    { "no_prediction", group.no_prediction } }
end

local function test_json(test)
  local json = require "command.json"
  return json.object { { "what", test.what }, { "group", test.group }, { "against", test.against }, { "test", test.test },
    { "p", test.p }, { "p_holm", test.p_holm }, { "besides", test.other }, { "besides_p", test.other_p },
    { "odds_ratio", test.odds_ratio }, { "difference", test.difference }, { "low", test.low }, { "high", test.high },
    { "strata", test.strata }, { "not_tested", test.untested } }
end

local function strand_json(strand)
  local json = require "command.json"
  return json.object { { "id", strand.id }, { "group", strand.group }, { "donor", strand.donor },
    { "reason", strand.excluded ~= "" and strand.excluded or "broken" } }
end

local function listed(list, f)
  local out = require("command.json").list {}
  for i, one in ipairs(list) do
    out[i] = f(one)
  end
  return out
end

local function same(x)
  return x
end

local function write_json(a)
  local json = require "command.json"
  local k = a.kappa and a.kappa.linear
  require("command.count_plan").write_with_origin(a, { { "status", "ok" }, { "files", listed(a.files, same) },
    { "keys", listed(a.keys, same) }, { "planned", a.planned },
    { "strands", #a.strands }, { "donors", listed(a.donors, same) }, { "control", a.control }, { "level", a.level },
    { "alpha", a.alpha }, { "method", a.method }, { "excluded", listed(a.excluded, strand_json) },
    { "lost", listed(a.lost, strand_json) }, { "not_read", listed(a.unread, same) },
    { "diameter", a.diameter and json.object { { "mean", a.diameter.mean }, { "deviation", a.diameter.deviation },
      { "strands", a.diameter.strands } } },
    { "groups", listed(a.groups, group_json) }, { "tests", listed(a.tests, test_json) },
    { "not_tested", listed(a.untested, test_json) },
    { "kappa", k and json.object { { "linear", k.kappa }, { "standard_error", k.standard_error }, { "low", k.low },
      { "high", k.high }, { "quadratic", a.kappa.quadratic and a.kappa.quadratic.kappa },
      { "gradings", a.kappa.gradings } } },
    { "sentences", listed(a:sentences(), same) }, { "cannot_show", listed(a:limits(), same) },
    { "caution", a.caution } })
end

-- ---- the picture ------------------------------------------------------------------------------------

local function ending(path)
  return (path:match("[^/]%.(%a+)$") or ""):lower()
end

local function check_save(arguments)
  local path = arguments.save
  if not path then
    return
  end
  local endings = { svg = true, png = true, pdf = true, csv = true }
  if not endings[ending(path)] then
    exit.fail("usage", '--save needs a name that ends in .svg, .png, .pdf or .csv, not "%s"', path)
  elseif path:find("%c") then
    exit.fail("usage", "a file name must not hold control characters")
  end
  -- the numbers beside the picture must not fall on a sheet, by whatever name it goes
  local real = require("command.system").real_path
  local sheets = table.move(arguments.key, 1, #arguments.key, 1, {})
  table.move(arguments.sheets, 1, #arguments.sheets, #sheets + 1, sheets)
  for _, target in ipairs { path, (path:gsub("%.%w+$", ".csv")) } do
    for _, sheet in ipairs(sheets) do
      if target == sheet or real(target) and real(target) == real(sheet) then
        exit.fail("usage", "--save %s would write over %s: sheets are never changed, choose another name", path, sheet)
      end
    end
  end
end

local function save(a, arguments)
  local figure, message, code = options.call(a.figure, a, { style = arguments.style })
  options.check(figure, message, code)
  local done
  done, message, code = figure:save(arguments.save)
  options.check(done, message, code, "output")
  local numbers = arguments.save:gsub("%.%w+$", ".csv")
  if not arguments.json then
    io.stdout:write("\n", numbers ~= arguments.save and "wrote " .. arguments.save .. "\n" or "", "wrote ", numbers, "\n")
  end
end

function read.run(_, given)
  local arguments = require("command.options").parse(parser(), given)
  if not arguments then
    return exit.codes.ok
  end
  check_save(arguments)
  local a, message, code, faults = options.call(require("hairfibre.count.read").read, gather(arguments))
  if faults then
    if arguments.json then
      faults_json(faults, message)
    else
      io.stdout:write(require("hairfibre.count.report").faults(faults))
    end
    exit.fail("data", "%s", message)
  end
  options.check(a, message, code, "data")
  if arguments.json then
    write_json(a)
  else
    io.stdout:write(a:text())
  end
  if arguments.save then
    save(a, arguments)
  end
  return exit.codes.ok
end

return read
