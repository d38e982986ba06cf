-- The options of a command that reads a researcher's data file, and what they say to hf.import.

local core = require "hairfibre.core"
local exit = require "command.exit"

local options = {}

--- Declares the options on an argparse parser.
function options.declare(parser)
  parser:option("--x", "Column along the axis: its name, or its number. Again for a second one.")
    :argname("COLUMN"):count("*")
  parser:option("--y", "Column that is fitted: its name or number."):argname("COLUMN")
  parser:option("--sigma", "Column of standard deviations of y."):argname("COLUMN")
  parser:option("--group", "Column of words that parts the rows, such as the branch."):argname("COLUMN")
  parser:option("--unit", "Unit of a column; the file's own units need not be said.")
    :argname("COLUMN=UNIT"):count("*")
  parser:option("--basis", "Whether a moisture is per dry or per wet mass.")
    :argname("COLUMN=dry|wet"):count("*")
  parser:option("--dry-mass", "Dry mass, to make a regain of a column of masses.")
    :argname("COLUMN=MASS"):count("*")
  parser:option("--delimiter", "comma, semicolon, tab, blanks or one sign."):argname("SIGN")
  parser:option("--decimal", "point or comma."):argname("SIGN")
  parser:option("--encoding", "utf-8, utf-16le, utf-16be or latin-1."):argname("NAME")
  parser:option("--preamble", "Lines before the header."):argname("LINES")
  parser:option("--header", "Line of the names of the columns, or none."):argname("LINE")
  parser:option("--units-row", "Line of the units, or none."):argname("LINE")
  parser:flag("--look", "Show what the file looks like, and stop.")
end

local function whole(text, name)
  local x = math.tointeger(core.number(text))
  return x or exit.fail("usage", '%s needs a whole number, not "%s"', name, text)
end

local function line(text, name)
  if text == nil then
    return nil
  elseif text == "none" then
    return false
  end
  return whole(text, name)
end

local function column(text)
  return text and (math.tointeger(core.number(text)) or text)
end

-- "COLUMN=VALUE" into columns[COLUMN][field].
local function assign(columns, list, field, name, example)
  for _, text in ipairs(list or {}) do
    local key, value = text:match("^%s*(.-)%s*=%s*([^=]-)%s*$")
    if not key or key == "" or value == "" then
      exit.fail("usage", '%s needs COLUMN=%s, not "%s"', name, example, text)
    end
    key = column(key)
    columns[key] = columns[key] or {}
    if columns[key][field] then
      exit.fail("usage", '%s: "%s" is said twice', name, tostring(key))
    end
    columns[key][field] = value
  end
end

--- The table for hf.import from parsed arguments and the path of the file.
function options.gather(arguments, path)
  local x, columns = {}, {}
  for i, one in ipairs(arguments.x or {}) do
    x[i] = column(one)
  end
  assign(columns, arguments.unit, "unit", "--unit", "UNIT")
  assign(columns, arguments.basis, "basis", "--basis", "dry")
  assign(columns, arguments.dry_mass, "dry_mass", "--dry-mass", "MASS")
  return { file = path, x = #x > 1 and x or x[1], y = column(arguments.y), sigma = column(arguments.sigma),
    group = column(arguments.group), columns = columns, delimiter = arguments.delimiter, decimal = arguments.decimal,
    encoding = arguments.encoding, preamble = arguments.preamble and whole(arguments.preamble, "--preamble") or nil,
    header = line(arguments.header, "--header"), units_row = line(arguments.units_row, "--units-row"), says = "command" }
end

-- f(gathered): a caller's mistake is one of the command line here.
local function call(f, gathered)
  local done, data, message, code = pcall(f, gathered)
  if not done then
    local words = tostring(data):match("import: (.*)$") or tostring(data):match("import (.*)$")
    if tostring(data):find("not enough memory", 1, true) then
      exit.fail("limit", "there is not enough memory for %s", gathered.file)
    elseif not words then
      error(data, 0)
    end
    exit.fail("usage", "%s", words)
  elseif not data then
    if code == "file" then
      exit.fail("data", "%s", message)
    end
    exit.fail_with_status(code, message)
  end
  return data
end

--- The data of the file; ends the command in words when they cannot be had.
function options.read(gathered)
  return call(require("hairfibre.import").read, gathered)
end

--- Prints what the file looks like.
function options.look(gathered)
  io.stdout:write(call(require("hairfibre.import").look, gathered):text())
end

return options
