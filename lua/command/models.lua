-- hairfibre models [NAME]: every quantity, or one with its arguments, limits and sources.

local at = require "command.at"
local catalogue = require "command.catalogue"
local core = require "hairfibre.core"
local exit = require "command.exit"
local text = require "command.text"

local models = {}

local function parser()
  local p, page = require("command.options").new("models",
    "Lists every quantity in one line, or one quantity with what it needs, where it holds, its "
      .. "equation, what it leaves out and its sources.",
    "hairfibre models regain")
  p:argument("name", "Quantity, or a part of its name or description."):args("?")
  p:option("--set", "Named set of parameters, or a file of one. Default: virgin."):argname("NAME")
  p:flag("--json", "As JSON.")
  return page
end

local function write(...)
  io.stdout:write(...)
end

-- Without a terminal each quantity stays in one line, for grep and the like.
local function print_list(list)
  local line_width = require("command.system").is_terminal(1) and text.width or math.huge
  local room
  local width = 0
  for _, quantity in ipairs(list) do
    width = math.max(width, #quantity.name)
  end
  for _, quantity in ipairs(list) do
    if quantity.room ~= room then
      write(room and "\n" or "", quantity.room, "\n")
      room = quantity.room
    end
    local said = quantity.has_model and quantity.text or "no validated model: " .. quantity.text
    write(text.wrap(said, "  " .. text.pad(quantity.name, width) .. "  ", (" "):rep(width + 4),
      line_width), "\n")
  end
  write("\n", text.count(#list, "quantity", "quantities"), "; hairfibre models NAME shows one.\n", text.origin(), "\n")
end

local function argument_row(argument)
  local usual = argument.usual == nil and "must be given" or "usual " .. at.short(argument.usual, argument)
  if argument.kind == "choice" then
    return { argument.name, table.concat(argument.choices, " or "), usual }
  end
  return { argument.name, at.span(argument, "valid"), usual }
end

local function answer_in(quantity)
  if quantity.kind == "temperature" then
    return "K, shown in degC and degF"
  elseif quantity.kind == "fraction" then
    return "a fraction, shown in %"
  end
  return quantity.unit == "1" and "a pure number" or quantity.unit
end

local function print_one(quantity, set)
  write(text.wrap(text.phrase(quantity.name) .. ": " .. quantity.text), "\n\n")
  if not quantity.has_model then
    write(text.labelled("no model", "No validated model answers this."), "\n")
    write(text.labelled("known instead", quantity.leaves_out), "\n")
  else
    write(text.labelled("answer in", answer_in(quantity)), "\n")
    local rows, domains = {}, {}
    for i, argument in ipairs(quantity.arguments) do
      rows[i] = argument_row(argument)
      if argument.kind ~= "choice" then
        domains[#domains + 1] = { argument.name, at.span(argument, "domain"), argument.text }
      end
    end
    if #rows > 0 then
      write("  conditions, and where evidence supports an answer\n", text.columns(rows,
        { indent = "    " }), "\n")
      write("  beyond that an answer is extrapolated, and possible at all only for\n",
        text.columns(domains, { indent = "    " }), "\n")
    end
    write(text.labelled("equation", quantity.equation), "\n")
    write(text.labelled("left out", quantity.leaves_out), "\n")
  end
  local rows = catalogue.used(quantity, set)
  local list, weakest = catalogue.sources(quantity, rows)
  write(text.labelled("known", catalogue.grade(weakest)), "\n")
  if #rows > 0 then
    write(text.labelled("parameters", table.concat(quantity.parameters, ", ") .. (" (%d; hairfibre "
      .. "parameters %s)"):format(#rows, quantity.name)), "\n")
  end
  local seen = {}
  write("  sources\n")
  for _, s in ipairs(list) do
    if not seen[s.key] then
      seen[s.key] = true
      write(text.wrap(s.key .. ": " .. s.reference, "    ", "      "), "\n")
    end
  end
  write(text.labelled("computed by", (text.origin(set):gsub("\n", " "))), "\n")
  local caution = catalogue.caution(quantity)
  if caution then
    write(text.labelled("caution", caution), "\n")
  end
end

local function as_object(json, quantity, set)
  local arguments = {}
  for i, a in ipairs(quantity.arguments) do
    arguments[i] = json.object {
      { "name", a.name }, { "text", a.text }, { "unit", a.unit }, { "kind", a.kind },
      { "usual", a.usual }, { "domain_low", a.domain_low }, { "domain_high", a.domain_high },
      { "evidence_low", a.valid_low }, { "evidence_high", a.valid_high },
      { "choices", a.choices and json.list(a.choices) or nil },
    }
  end
  local _, weakest = catalogue.sources(quantity, catalogue.used(quantity, set))
  return json.object {
    { "quantity", quantity.name }, { "text", quantity.text }, { "unit", quantity.unit },
    { "kind", quantity.kind }, { "room", quantity.room }, { "has_model", quantity.has_model },
    { "arguments", json.list(arguments) }, { "equation", quantity.equation },
    { "leaves_out", quantity.leaves_out }, { "known", weakest },
    { "sources", json.list(quantity.sources) }, { "parameters", json.list(quantity.parameters) },
    { "caution", catalogue.caution(quantity) }, { "version", core.version }, { "set", set:name() },
    { "digest", set:digest() },
  }
end

local function chosen(name)
  if not name then
    return core.quantities()
  elseif catalogue.has((name:gsub("[ -]", "_"))) then
    return { catalogue.find(name) }, true
  end
  local list, wanted = {}, name:lower():gsub("[ -]", "_")
  for _, quantity in ipairs(core.quantities()) do
    if quantity.name:find(wanted, 1, true) or quantity.room == wanted
      or quantity.text:lower():find(name:lower(), 1, true) then
      list[#list + 1] = quantity
    end
  end
  if #list == 0 then
    catalogue.find(name) -- ends here, with the nearest name
  end
  return list
end

function models.run(words)
  local arguments = require("command.options").parse(parser(), words)
  if not arguments then
    return exit.codes.ok
  end
  local set = catalogue.parameters(arguments.set)
  local list, exact = chosen(arguments.name)
  if arguments.json then
    local json = require "command.json"
    local objects = {}
    for i, quantity in ipairs(list) do
      objects[i] = as_object(json, quantity, set)
    end
    json.write(exact and objects[1] or json.object {
      { "version", core.version }, { "quantities", json.list(objects) },
    })
  elseif exact then
    print_one(list[1], set)
  else
    print_list(list)
  end
  return exit.codes.ok
end

return models
