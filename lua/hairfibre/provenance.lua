-- Where an output comes from, in the same words everywhere: version, set and digest, changed parameters, options in
-- use, and the checksums of the files that went in.

local core = require "hairfibre.core"

local provenance = {}

local SHOWN = 16 -- digits of a checksum in a sentence; JSON has all 64

--- { program, version, set, digest, changed = { { name, unit, value }, ... }, options = { { name, value }, ... }, inputs = {
--- { name, sha256 }, ... } } of a set (nil: the shipped one), options and inputs as given (may be nil).
function provenance.of(set, options, inputs)
  set = set or core.parameters()
  local changed, is_changed = {}, {}
  for _, name in ipairs(set:changed()) do
    is_changed[name] = true
  end
  for _, row in ipairs(next(is_changed) and core.rows(set) or {}) do
    if is_changed[row.name] then
      changed[#changed + 1] = { name = row.name, unit = row.unit, value = row.value }
    end
  end
  return { program = "hairfibre", version = core.version, set = set:name(), digest = set:digest(), changed = changed,
    options = options or {}, inputs = inputs or {} }
end

--- What is told of a file: its name without folders, and its checksum.
function provenance.input(path, bytes)
  return { name = path:match("[^/]*$"), sha256 = core.sha256(bytes) }
end

local function value_text(x)
  if type(x) == "boolean" then
    return x and "yes" or "no"
  end
  return math.type(x) == "float" and core.text(x) or tostring(x)
end

--- One sentence without a full stop.
function provenance.sentence(p)
  local parts = { ("hairfibre %s, set %s, digest %s"):format(p.version, p.set, p.digest) }
  local list = {}
  for i, one in ipairs(p.changed) do
    list[i] = ("%s = %s%s"):format(one.name, core.text(one.value), one.unit ~= "1" and " " .. one.unit or "")
  end
  parts[2] = #list == 0 and "no parameter changed" or "changed: " .. table.concat(list, ", ")
  list = {}
  for i, pair in ipairs(p.options) do
    list[i] = pair[1]:gsub("_", " ") .. " " .. value_text(pair[2])
  end
  parts[#parts + 1] = #list > 0 and table.concat(list, ", ") or nil
  list = {}
  for i, one in ipairs(p.inputs) do
    list[i] = ("%s (SHA-256 %s...)"):format(one.name, one.sha256:sub(1, SHOWN))
  end
  parts[#parts + 1] = #list > 0 and "from " .. table.concat(list, ", ") or nil
  return table.concat(parts, "; ")
end

--- A sentence as a comment at the head of a CSV file. Nothing in it can be taken for a cell or a line of its own.
function provenance.comment(sentence)
  return "# " .. sentence:gsub("%c+", " "):gsub('"', "'") .. "\n"
end

--- The fields of a JSON object: a list of { key, value }, with `list` and `object` of the writer in use.
function provenance.fields(p, writer)
  local changed, inputs = {}, {}
  for i, one in ipairs(p.changed) do
    changed[i] = writer.object { { "name", one.name }, { "unit", one.unit }, { "value", one.value } }
  end
  for i, one in ipairs(p.inputs) do
    inputs[i] = writer.object { { "name", one.name }, { "sha256", one.sha256 } }
  end
  return { { "program", p.program }, { "version", p.version }, { "set", p.set }, { "digest", p.digest },
    { "changed", writer.list(changed) }, { "options", writer.object(p.options) }, { "inputs", writer.list(inputs) } }
end

return provenance
