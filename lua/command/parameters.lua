-- hairfibre parameters: the numbers behind the models.

local catalogue = require "command.catalogue"
local core = require "hairfibre.core"
local exit = require "command.exit"
local provenance = require "hairfibre.provenance"
local text = require "command.text"

local parameters = {}

local function parser()
  local p, page = require("command.options").new("parameters",
    "Lists the parameters of the models with value, unit, spread, source and how each is known.",
    "hairfibre parameters sorption")
  p:argument("pattern", "Part of a name, of a source key or of the description; or a quantity.")
    :args("?")
  p:option("--set", "Named set of parameters, or a file of one. Default: virgin."):argname("NAME")
  p:option("--change", "Another value for one parameter; as often as needed."):argname("NAME=VALUE")
    :count("*")
  p:mutex(p:flag("--json", "As one JSON object."), p:flag("--csv", "As comma-separated values."))
  return page
end

local function chosen(pattern, set)
  local rows = core.rows(set)
  if not pattern then
    return rows
  elseif catalogue.has(pattern) then
    return catalogue.used(catalogue.find(pattern), set)
  end
  local list, names, wanted = {}, {}, pattern:lower()
  for i, row in ipairs(rows) do
    names[i] = row.name
    local all = table.concat({ row.name, row.source, row.text, row.known }, "\n"):lower()
    if all:find(wanted, 1, true) then
      list[#list + 1] = row
    end
  end
  if #list == 0 then
    exit.fail("usage", "no parameter matches \"%s\"%s", pattern, catalogue.hint(pattern, names, ""))
  end
  return list
end

local function spread(row)
  local s = core.text(row.spread)
  if row.distribution == "fixed" then
    return "exact"
  elseif row.distribution == "normal" then
    return "sd " .. s
  elseif row.distribution == "lognormal" then
    return "sd of ln " .. s
  elseif row.distribution == "uniform" then
    return "within " .. s
  end
  return "peak within " .. s
end

local function with_unit(row)
  return row.unit == "1" and core.text(row.value) or core.text(row.value) .. " " .. row.unit
end

local function print_plain(rows, set)
  local blocks = {}
  for _, row in ipairs(rows) do
    local mark = row.fitted and "fitted by you" or row.changed and "changed by you" or row.known
    local source = row.source ~= "" and row.source .. (row.place ~= "" and ", " .. row.place or "")
      or row.fitted and row.place or "your value"
    local line = ("%s = %s"):format(row.name, with_unit(row))
    local grade = ("%s; %s"):format(spread(row), mark)
    if text.length(line) + 2 + text.length(grade) <= text.width then
      line = text.pad(line, text.width - text.length(grade)) .. grade
    else
      line = line .. "\n" .. text.pad(grade, text.width, "right")
    end
    local rest = row.text .. "; source: " .. source
    if row.conditions ~= "" then
      rest = rest .. "; on: " .. row.conditions
    end
    blocks[#blocks + 1] = line .. "\n" .. text.wrap(rest, "    ")
  end
  io.stdout:write(table.concat(blocks, "\n"), "\n\n")
  io.stdout:write(text.wrap(("%s of the set %s. sd: standard deviation; sd of ln: standard "
    .. "deviation of the natural logarithm; within: half width of an even spread; peak within: half "
    .. "width of a triangle."):format(text.count(#rows, "parameter"), set:name())), "\n", text.origin(set), "\n")
end

local columns = { "name", "value", "unit", "distribution", "spread", "low", "high", "source", "place",
  "conditions", "known", "changed", "text" }

local function cell(value)
  if type(value) == "number" then
    return core.text(value)
  end
  local s = tostring(value)
  return s:find('[,"\r\n]') and '"' .. s:gsub('"', '""') .. '"' or s
end

local function print_csv(rows, set)
  io.stdout:write(provenance.comment(provenance.sentence(provenance.of(set))), table.concat(columns, ","), "\n")
  for _, row in ipairs(rows) do
    local cells = {}
    for i, name in ipairs(columns) do
      cells[i] = cell(row[name])
    end
    io.stdout:write(table.concat(cells, ","), "\n")
  end
end

local function print_json(rows, set)
  local json = require "command.json"
  local list = {}
  for i, row in ipairs(rows) do
    local fields = {}
    for k, name in ipairs(columns) do
      fields[k] = { name, row[name] }
    end
    list[i] = json.object(fields)
  end
  local fields = provenance.fields(provenance.of(set), json)
  fields[#fields + 1] = { "parameters", json.list(list) }
  json.write(json.object(fields))
end

function parameters.run(words)
  local arguments = require("command.options").parse(parser(), words)
  if not arguments then
    return exit.codes.ok
  end
  local set = catalogue.parameters(arguments.set, arguments.change)
  local rows = chosen(arguments.pattern, set)
  if arguments.csv then
    print_csv(rows, set)
  elseif arguments.json then
    print_json(rows, set)
  else
    print_plain(rows, set)
  end
  return exit.codes.ok
end

return parameters
