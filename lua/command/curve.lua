-- hairfibre curve NAME --over NAME=LOW..HIGH: a quantity along one condition, as a picture with its
-- numbers beside it, or as a sketch and a table in the terminal.

local at = require "command.at"
local catalogue = require "command.catalogue"
local core = require "hairfibre.core"
local exit = require "command.exit"
local provenance = require "hairfibre.provenance"
local show = require "hairfibre.show"
local sweep = require "command.sweep"
local text = require "command.text"
local units = require "hairfibre.units"

local curve = {}

local most_points = 20001
local most_marks = 40 -- closer together, points of a whole number are a line

local function parser()
  local p, page = require("command.options").new("curve",
    "Follows a quantity along one condition. With --save: a picture and a CSV file of the same name. "
      .. "Without: a sketch and a short table here. What evidence does not support is drawn broken.",
    "hairfibre curve regain --over humidity=0..100% --at branch=desorption")
  p:argument("name", "Quantity; hairfibre models lists them.")
  p:option("--over", "The condition to follow, with its range and unit."):argname("NAME=LOW..HIGH")
  p:option("--at", "Another condition; a list a,b,c gives a line for each."):argname("NAME=VALUE")
    :count("*")
  p:option("--save", "Picture to write: .svg, .png or .pdf; .csv for the numbers alone.")
    :argname("FILE")
  p:option("--script", "Also write the gnuplot script of the picture."):argname("FILE")
  p:option("--style", "projector, print or paper. Default: projector."):argname("STYLE")
  p:option("--points", "Points on each line. Default: 201."):argname("NUMBER")
  p:option("--set", "Named set of parameters, or a file of one. Default: virgin."):argname("NAME")
  p:option("--change", "Another value for one parameter; as often as needed."):argname("NAME=VALUE")
    :count("*")
  p:flag("--range", "Also draw the approximate 95 % range.")
  p:flag("--log", "Logarithmic scale for the quantity.")
  p:flag("--log-over", "Logarithmic scale for the condition that is followed.")
  p:flag("--strict", "Gaps where evidence does not support an answer.")
  p:flag("--ascii", "Sketch without signs beyond ASCII.")
  return page
end

-- ---- what was asked -------------------------------------------------------------------------------

local function ending(path)
  return path:match("[^/]%.(%a+)$")
end

local function check_files(arguments)
  local endings = { svg = true, png = true, pdf = true, csv = true }
  local save, script = arguments.save, arguments.script
  if save and not endings[(ending(save) or ""):lower()] then
    exit.fail("usage", '--save needs a name that ends in .svg, .png, .pdf or .csv, not "%s"', save)
  elseif save and save:find("%c") or script and script:find("%c") then
    exit.fail("usage", "a file name must not hold control characters")
  elseif script and (ending(script) or "") ~= "gp" then
    exit.fail("usage", '--script needs a name that ends in .gp, not "%s"', script)
  end
end

local function check_style(style)
  local names = require("hairfibre.styles").names
  for _, name in ipairs(names) do
    if name == style then
      return style
    end
  end
  exit.fail("usage", 'there is no style "%s"%s (the styles are %s)', style,
    catalogue.hint(style, names, ""), require("hairfibre.suggest").list(names, "and"))
end

local function check_points(points)
  local n = math.tointeger(core.number(points))
  if not n or n < 2 or n > most_points then
    exit.fail("usage", '--points needs a whole number from 2 to %d, not "%s"', most_points, points)
  end
  return n
end

-- ---- the figure -----------------------------------------------------------------------------------

-- Where the pressure around a fibre lies on the axis of a pressure (Pa), with its name.
local function ambient(run)
  local quantity = run.quantity
  if quantity.unit ~= "Pa" or not quantity.name:find("pressure", 1, true) then
    return nil
  elseif quantity.name:find("gauge", 1, true) then
    return 0, "ambient pressure"
  end
  for position, argument in ipairs(quantity.arguments) do
    if argument.name == "pressure" then
      local x = run.given[position] or argument.usual
      if type(x) == "number" then
        return x, "ambient pressure " .. at.short(x, argument)
      end
      return nil
    elseif argument.name == "altitude" then
      return nil
    end
  end
  return 101325, "101.325 kPa, ambient"
end

local function marks(run, x_display, y_display)
  local list = {}
  local p, words = ambient(run)
  if p and run.lowest <= p and p <= run.highest then
    list[1] = { y = show.apply(y_display, p), text = words }
  end
  local boiling = 373.15
  local dry_air = run.quantity.name:find("^air_")
  if run.over.kind == "temperature" and run.low < boiling and boiling < run.high and not dry_air then
    list[#list + 1] = { x = show.apply(x_display, boiling), text = "100 \u{B0}C" }
  end
  return list
end

local function fixed_conditions(run)
  local parts = {}
  for position, argument in ipairs(run.quantity.arguments) do
    local x = run.given[position]
    if position ~= run.position and type(x) ~= "table" then
      local shown = show.value(x or argument.usual, argument):gsub(" %(%-?%d.*", "")
      parts[#parts + 1] = text.phrase(argument.name) .. " " .. shown .. (x == nil and " (usual)" or "")
    end
  end
  return parts
end

local function note(run)
  local parts, sentences = fixed_conditions(run), {}
  sentences[1] = #parts > 0 and show.capital(table.concat(parts, "; ")) or nil
  if #run.lines > 1 and run.lines[1].lows then
    sentences[#sentences + 1] = "Shaded: 95 % range"
  end
  return #sentences > 0 and table.concat(sentences, ". ") or nil
end

local function source_line(run)
  local keys, seen = {}, {}
  local list, weakest = catalogue.sources(run.quantity, catalogue.used(run.quantity, run.set))
  for _, s in ipairs(list) do
    if s.key ~= "" and not seen[s.key] then
      seen[s.key], keys[#keys + 1] = true, catalogue.short_reference(s.key)
    end
  end
  return ("%s (%s at the weakest)"):format(table.concat(keys, "; "), weakest)
end

local function applied(display, values)
  local list = {}
  for i, x in ipairs(values) do
    list[i] = show.apply(display, x)
  end
  return list
end

local function description(run, arguments)
  local all = {}
  for _, line in ipairs(run.lines) do
    table.move(line.values, 1, #line.values, #all + 1, all)
  end
  local x_display = show.display(run.over, run.x)
  local y_display = show.display(run.quantity, all)
  local x, lines = applied(x_display, run.x), {}
  for i, value in ipairs(x) do
    x[i] = core.number(core.text(value, 12)) -- 21.05 degC went through kelvin
  end
  for _, line in ipairs(run.lines) do
    local name = line.name or line.lows and text.phrase(run.quantity.name)
    lines[#lines + 1] = {
      name = name,
      kind = units.WHOLE[run.over.name] and #x <= most_marks and "points" or nil,
      x = x,
      y = applied(y_display, line.values),
      extrapolated = line.any_extrapolated and line.extrapolated or nil,
    }
    if line.lows then
      lines[#lines + 1] = {
        name = #run.lines == 1 and "95 % range" or nil,
        kind = "band",
        like = name,
        x = x,
        low = applied(y_display, line.lows),
        high = applied(y_display, line.highs),
      }
    end
  end
  return {
    title = show.capital(run.quantity.text),
    x = { label = show.capital(text.phrase(run.over.name)), unit = x_display.unit,
      scale = arguments.log_over and "log" or "linear" },
    y = { label = show.capital(text.phrase(run.quantity.name)), unit = y_display.unit,
      scale = arguments.log and "log" or "linear" },
    lines = lines,
    marks = marks(run, x_display, y_display),
    note = note(run),
    source = source_line(run),
    caution = catalogue.caution(run.quantity),
    provenance = provenance.sentence(provenance.of(run.set)),
    style = arguments.style,
  }
end

-- ---- output ---------------------------------------------------------------------------------------

local function saved(done, message, code)
  if not done then
    exit.fail(code == "data" and "data" or "output", "%s", message)
  end
end

local function save(figure, arguments)
  local written = {}
  if arguments.save then
    saved(figure:save(arguments.save))
    local numbers = arguments.save:gsub("%.%w+$", ".csv")
    if numbers ~= arguments.save then
      written[1] = arguments.save
    end
    written[#written + 1] = numbers
  end
  if arguments.script then
    local picture = arguments.save and arguments.save:match("[^/]*$")
    if picture and ending(picture):lower() == "csv" then
      picture = nil
    end
    saved(figure:save_script(arguments.script, picture))
    written[#written + 1] = arguments.script
  end
  for _, path in ipairs(written) do
    io.stdout:write("wrote ", path, "\n")
  end
end

local function preview(figure, run, arguments)
  local plot = require "hairfibre.preview"
  local options = plot.terminal(require("command.system").is_terminal(1))
  options.ascii = options.ascii or arguments.ascii or false
  local sketch, message, code = figure:preview(options)
  saved(sketch, message, code)
  io.stdout:write(sketch, "\n\n", sweep.table(run, options.ascii), "\n")
end

-- Values over more than three powers of ten: on a linear axis most of them lie on the ground.
local function hint(run, arguments)
  local low, high = math.huge, 0
  for _, line in ipairs(run.lines) do
    for _, x in ipairs(line.values) do
      if x == x then
        low, high = math.min(low, x), math.max(high, x)
      end
    end
  end
  if not arguments.log and low > 0 and high < math.huge and high / low > 1000 then
    io.stdout:write(("The values span %d powers of ten: --log shows them all.\n"):format(math.floor(math.log(high / low, 10))))
  end
end

function curve.run(words)
  local arguments = require("command.options").parse(parser(), words)
  if not arguments then
    return exit.codes.ok
  end
  check_files(arguments)
  arguments.style = check_style(arguments.style or "projector")
  local points = check_points(arguments.points or "201")
  local quantity = catalogue.find(arguments.name)
  if not quantity.has_model then
    exit.fail("no-model", "no validated model answers %s; hairfibre models %s says what is known",
      quantity.name, quantity.name)
  end
  local run = sweep.run(quantity, arguments, points)
  local figure = require("hairfibre.plot").figure(description(run, arguments))
  if arguments.save or arguments.script then
    save(figure, arguments)
  else
    preview(figure, run, arguments)
  end
  hint(run, arguments)
  for _, sentence in ipairs(sweep.sentences(run)) do
    io.stdout:write(text.wrap(text.ascii(sentence), "", "  "), "\n")
  end
  local caution = catalogue.caution(quantity)
  if caution then
    io.stdout:write(text.wrap("Caution: " .. caution, "", "  "), "\n")
  end
  return exit.codes.ok
end

return curve
