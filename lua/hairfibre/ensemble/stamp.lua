-- Where an ensemble comes from: everything that decides its numbers, as it goes into the JSON file beside the rows.

local result = require "hairfibre.result"

local stamp = {}

--- Everything that decides the numbers, as it goes into the JSON file.
function stamp.new(set, plan, schedule, options, input)
  local p = result.new({ columns = {}, set = set }):provenance()
  return { version = p.version, set = p.set, digest = p.digest, changed = p.changed,
    seed = plan.seed, strands = plan.strands, part = plan.part, parts = plan.parts, schedule = schedule, options = options, input = input }
end

local function same_changes(a, b)
  if #a ~= #b then
    return false
  end
  for i, one in ipairs(a) do
    if one.name ~= b[i].name or one.value ~= b[i].value then
      return false
    end
  end
  return true
end

--- Word for what keeps two stamps from being parts of one ensemble; nil when nothing does.
function stamp.difference(a, b)
  for _, pair in ipairs { { "version", "versions" }, { "set", "sets" }, { "digest", "parameters" },
    { "seed", "seeds" }, { "strands", "numbers of strands" }, { "schedule", "treatments, fibres or options" } } do
    if a[pair[1]] ~= b[pair[1]] then
      return ("their %s"):format(pair[2])
    end
  end
  return not same_changes(a.changed, b.changed) and "their changed parameters" or nil
end

--- First and last strand of a part.
function stamp.span(s)
  local size, left = s.strands // s.parts, s.strands % s.parts
  local function start(part)
    return (part - 1) * size + math.min(part - 1, left)
  end
  return start(s.part) + 1, start(s.part + 1)
end

--- The same as an origin of tables and figures.
function stamp.origin(s)
  return { program = "hairfibre", version = s.version, set = s.set, digest = s.digest, changed = s.changed, inputs = { s.input },
    options = { { "seed", s.seed }, { "strands", s.strands }, { "schedule", s.schedule }, table.unpack(s.options) } }
end

--- The JSON file beside the rows of a result.
function stamp.text(r)
  local s = r.stamp
  local document = require "hairfibre.json"
  local changed, options = document.list {}, {}
  for i, one in ipairs(s.changed) do
    changed[i] = document.object { { "name", one.name }, { "unit", one.unit }, { "value", one.value } }
  end
  for i, pair in ipairs(s.options) do
    options[i] = pair
  end
  local first, last = stamp.span(s)
  return document.text(document.object {
    { "program", "hairfibre" }, { "version", s.version }, { "set", s.set }, { "digest", s.digest },
    { "changed", changed }, { "seed", s.seed }, { "strands", s.strands },
    { "part", ("%d/%d"):format(s.part, s.parts) }, { "first", first }, { "last", last }, { "done", r.done },
    { "schedule", s.schedule }, { "input", s.input and document.object { { "name", s.input.name }, { "sha256", s.input.sha256 } } },
    { "options", document.object(options) },
    { "notes", document.list(table.move(r.notes, 1, #r.notes, 1, {})) }, { "caution", r.caution },
  })
end

--- True for { name =, sha256 = }: a file that went in.
function stamp.is_input(x)
  return type(x) == "table" and type(x.name) == "string" and type(x.sha256) == "string"
end

local MOST_OPTIONS = 100

-- Whether a document of any origin has the fields of a stamp, each of its kind.
local function is_sound(document)
  if type(document) ~= "table" or document.program ~= "hairfibre" then
    return false
  end
  for _, name in ipairs { "version", "set", "digest", "part", "schedule" } do
    if type(document[name]) ~= "string" then
      return false
    end
  end
  if type(document.changed) ~= "table" or type(document.options) ~= "table" or
    document.input ~= nil and not stamp.is_input(document.input) then
    return false
  end
  for _, one in ipairs(document.changed) do
    if type(one) ~= "table" or type(one.name) ~= "string" or type(one.unit) ~= "string" or type(one.value) ~= "number" then
      return false
    end
  end
  local count = 0
  for name, x in pairs(document.options) do
    count = count + 1
    if type(name) ~= "string" or type(x) == "table" or count > MOST_OPTIONS then
      return false
    end
  end
  return true
end

--- Reads such a text back; or nil, sentence.
function stamp.read(text, path)
  local document = require("dkjson").decode(text)
  if not is_sound(document) then
    return nil, path .. " does not tell where an ensemble comes from"
  end
  local part, parts = document.part:match("^(%d+)/(%d+)$")
  local s = { version = document.version, set = document.set, digest = document.digest, changed = document.changed,
    seed = math.tointeger(document.seed), strands = math.tointeger(document.strands),
    part = math.tointeger(tonumber(part)), parts = math.tointeger(tonumber(parts)), schedule = document.schedule,
    input = document.input, options = {} }
  if not (s.seed and s.strands and s.part and s.parts and s.part >= 1 and s.part <= s.parts and
    s.parts <= s.strands) then
    return nil, path .. " does not tell where an ensemble comes from"
  end
  -- The order of the options is the one written: text order of the file.
  local at = text:find('"options"', 1, true) or 1
  local names = {}
  for name in pairs(document.options) do
    names[#names + 1] = { name, text:find('"' .. name .. '":', at, true) or 0 }
  end
  table.sort(names, function(a, b)
    return a[2] < b[2]
  end)
  for i, pair in ipairs(names) do
    s.options[i] = { pair[1], document.options[pair[1]] }
  end
  return s
end

return stamp
