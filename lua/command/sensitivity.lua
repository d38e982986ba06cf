-- hairfibre sensitivity NAME or SCHEDULE.lua: which inputs decide an answer, ranked, as a sketch and a table here or as a
-- picture.

local at = require "command.at"
local catalogue = require "command.catalogue"
local exit = require "command.exit"
local schedule = require "command.schedule"

local sensitivity = {}

local function parser()
  local p, page = require("command.options").new("sensitivity",
    "Ranks what decides an answer: every parameter with a stated spread, and the conditions you give one. Of a quantity, or "
      .. "of what becomes of a strand in a treatment (a Lua file as hairfibre ensemble takes it).",
    "hairfibre sensitivity regain --at humidity=65% --spread humidity=3%")
  p:argument("subject", "Quantity; or a schedule, a file that ends in .lua."):argname("NAME|SCHEDULE.lua")
  p:option("--at", "A condition with its unit; as often as needed."):argname("NAME=VALUE"):count("*")
  p:option("--spread", "Standard deviation of a condition, such as temperature=2K."):argname("NAME=SIZE"):count("*")
  p:option("--answer", "Column of the ensemble, such as void_growth (with a schedule)."):argname("COLUMN")
  p:option("--population", "Named population of strands (with a schedule)."):argname("NAME")
  p:flag("--lumped", "One temperature for the whole fibre (with a schedule).")
  p:option("--method", "sobol: shares of the variance (usual for quantities). random: the same from random points. morris: "
    .. "screening of many inputs (usual for treatments)."):argname("HOW"):choices({ "sobol", "random", "morris" })
    :show_default(false)
  p:option("--samples", "Rows of points; each costs as many answers as there are inputs, and two."):argname("NUMBER")
  p:option("--tours", "Tours of the screening; each costs as many answers as there are inputs, and one."):argname("NUMBER")
  p:option("--seed", "Seed of the draws. Default: 1."):argname("NUMBER")
  p:option("--set", "Named set of parameters. Default: virgin."):argname("NAME")
  p:option("--change", "Another value for one parameter; as often as needed."):argname("NAME=VALUE"):count("*")
  p:option("--save", "Picture to write: .svg, .png or .pdf, its numbers beside it; or the table: .csv or .json.")
    :argname("FILE")
  p:option("--style", "projector, print or paper. Default: projector."):argname("STYLE")
  p:option("--most", "Inputs in the picture. Default: 12."):argname("NUMBER")
  p:flag("--json", "The table as one JSON object, in SI units.")
  p:flag("--ascii", "Sketch without signs beyond ASCII.")
  return page
end

local TABLES = { csv = true, json = true }
local PICTURES = { svg = true, png = true, pdf = true }

local function ending_of(path)
  local ending = path and (path:match("[^/]%.(%a+)$") or ""):lower()
  if ending and not TABLES[ending] and not PICTURES[ending] then
    exit.fail("usage", '--save needs a name that ends in .svg, .png, .pdf, .csv or .json, not "%s"', path)
  end
  return ending
end

local function refuse(arguments, names, why)
  for _, name in ipairs(names) do
    local given = arguments[name]
    if given and (type(given) ~= "table" or #given > 0) then
      exit.fail("usage", "--%s %s", name, why)
    end
  end
end

-- Options of the analysis into `out`.
local function analysis(arguments, out)
  out.method = arguments.method or out.method
  for _, name in ipairs { "samples", "tours", "seed" } do
    out[name] = schedule.number(arguments[name], name) or out[name]
  end
  if arguments.set or #arguments.change > 0 then
    out.set = catalogue.parameters(arguments.set, arguments.change)
  end
  return out
end

local function of_quantity(arguments, library)
  refuse(arguments, { "answer", "population", "lumped" }, "goes with a schedule, a file that ends in .lua")
  local quantity = catalogue.find(arguments.subject)
  if not quantity.has_model then
    exit.fail("no-model", "no validated model answers %s; hairfibre models %s says what is known", quantity.name,
      quantity.name)
  end
  local given = analysis(arguments, {})
  local values = at.conditions(quantity, arguments.at)
  for position, argument in ipairs(quantity.arguments) do
    given[argument.name] = values[position]
  end
  for _, word in ipairs(arguments.spread) do
    local name, size = at.split(word, "--spread")
    local _, argument = catalogue.argument(quantity, name)
    given.spread = given.spread or {}
    given.spread[argument.name] = size
  end
  return schedule.call("output", library.sensitivity, quantity.name, given)
end

local function of_treatment(arguments, library)
  refuse(arguments, { "at", "spread" }, "goes with a quantity; conditions of a treatment stand in its file")
  local plan, input = schedule.read(arguments.subject, library)
  for _, key in ipairs { "strands", "part", "threads", "save", "every", "resume", "progress" } do
    plan[key] = nil
  end
  plan.answer = arguments.answer or plan.answer
  plan.population = arguments.population or plan.population
  plan.lumped = arguments.lumped or plan.lumped
  plan.input = input
  if plan.answer == nil then
    exit.fail("usage", "which outcome? give --answer, such as --answer void_growth")
  end
  return schedule.call("output", library.sensitivity, analysis(arguments, plan))
end

local function save(r, arguments, ending)
  local done, message
  if TABLES[ending] then
    done, message = schedule.protected(r.save, r, arguments.save)
  else
    local figure = schedule.protected(r.plot, r, { style = arguments.style, most = schedule.number(arguments.most, "most") })
    done, message = schedule.protected(figure.save, figure, arguments.save)
  end
  if not done then
    exit.fail("output", "%s", message)
  end
  io.stdout:write("wrote ", arguments.save, "\n")
  if PICTURES[ending] then
    io.stdout:write("wrote ", (arguments.save:gsub("%.%w+$", ".csv")), "\n")
  end
end

local function sketch(r, arguments)
  local options = require("hairfibre.preview").terminal(require("command.system").is_terminal(1))
  options.ascii = options.ascii or arguments.ascii or false
  local figure = schedule.protected(r.plot, r, { most = schedule.number(arguments.most, "most") })
  options.height = 24
  io.stdout:write(figure:preview(options), "\n\n", r:text { ascii = options.ascii })
end

function sensitivity.run(words)
  local arguments = require("command.options").parse(parser(), words)
  if not arguments then
    return exit.codes.ok
  end
  local ending = ending_of(arguments.save)
  local library = require "hairfibre"
  local r = (arguments.subject:find("%.lua$") and of_treatment or of_quantity)(arguments, library)
  if arguments.save then
    save(r, arguments, ending)
  end
  if arguments.json then
    io.stdout:write(r:json())
  elseif not arguments.save then
    sketch(r, arguments)
  end
  return exit.codes.ok
end

return sensitivity
