-- hairfibre selftest: recomputes the published values that the program carries.

local core = require "hairfibre.core"
local exit = require "command.exit"
local reference = require "hairfibre.reference"
local text = require "command.text"

local selftest = {}

local function parser()
  local p, page = require("command.options").new("selftest",
    "Recomputes published values and compares: source, expected, got, tolerance, how it is known. "
      .. "Ends with exit code 1 when one fails.",
    "hairfibre selftest saturation_pressure")
  p:argument("pattern", "Only rows whose quantity, source or data file contains this."):args("?")
  p:flag("--json", "As one JSON object.")
  return page
end

local function all_rows()
  local rows = {}
  for _, name in ipairs(core.embedded()) do
    local file = name:match("^data%.(.+)$")
    if file then
      local loaded = reference.load(core.embedded(name), file .. ".lua")
      table.move(loaded, 1, #loaded, #rows + 1, rows)
    end
  end
  return rows
end

local function chosen(pattern)
  local rows = all_rows()
  if not pattern then
    return rows
  end
  local list, names, seen = {}, {}, {}
  for _, row in ipairs(rows) do
    if table.concat({ row.quantity, row.source, row.file }, "\n"):find(pattern, 1, true) then
      list[#list + 1] = row
    end
    for _, name in ipairs { row.quantity, row.source } do
      if not seen[name] then
        seen[name], names[#names + 1] = true, name
      end
    end
  end
  if #list == 0 then
    exit.fail("usage", 'no row matches "%s"%s', pattern,
      require("command.catalogue").hint(pattern, names, ""))
  end
  return list
end

local function count(list)
  local passed, failed, apart = 0, 0, 0
  for _, one in ipairs(list) do
    if not one.passed then
      failed = failed + 1
    elseif one.disagrees then
      apart = apart + 1
    else
      passed = passed + 1
    end
  end
  return passed, failed, apart
end

local function with_set(one)
  return one.set ~= "virgin" and ", set " .. one.set or ""
end

local function comparison(one)
  local extra = (one.role == "calibration" and "; part of the calibration, no independent check" or "")
    .. (one.extrapolated and "; extrapolated" or "")
  return text.ascii(("%s at %s%s: expected %s, got %s%s"):format(one.quantity,
    one.arguments ~= "" and one.arguments or "no conditions", with_set(one), one.expected, one.got, extra))
end

local function print_group(list, wanted)
  local source
  for _, one in ipairs(list) do
    local mark = wanted(one)
    if mark then
      local head = ("%s, %s (%s)"):format(one.source, one.place, one.known)
      if head ~= source then
        io.stdout:write(text.wrap(head, "", "  "), "\n")
        source = head
      end
      io.stdout:write(text.wrap(comparison(one), text.pad("  " .. mark, 8), (" "):rep(8)), "\n")
      local reason = one.disagrees or not one.passed and (one.why or one.note)
      if reason then
        io.stdout:write(text.wrap(text.ascii(reason), (" "):rep(8)), "\n")
      end
    end
  end
end

local function print_plain(list)
  local passed, failed, apart = count(list)
  print_group(list, function(one)
    return not one.disagrees and (one.passed and "ok" or "FAIL")
  end)
  if apart > 0 then
    io.stdout:write("\nKnown disagreements, kept and named:\n")
    print_group(list, function(one)
      return one.disagrees and one.passed and "apart"
    end)
  end
  print_group(list, function(one)
    return one.disagrees and not one.passed and "STALE"
  end)
  io.stdout:write("\n", text.origin(), "\n", ("%d passed, %d failed"):format(passed, failed),
    apart > 0 and (" (%s listed apart)"):format(text.count(apart, "known disagreement")) or "", "\n")
end

local function print_json(list)
  local json = require "command.json"
  local items = {}
  for i, one in ipairs(list) do
    items[i] = json.object {
      { "quantity", one.quantity }, { "arguments", one.arguments }, { "set", one.set },
      { "source", one.source }, { "place", one.place }, { "known", one.known },
      { "expected", one.expected }, { "got", one.got }, { "value", one.value }, { "low", one.low },
      { "high", one.high }, { "unit", one.unit }, { "passed", one.passed }, { "role", one.role },
      { "disagrees", one.disagrees }, { "why", one.why }, { "extrapolated", one.extrapolated },
      { "file", one.file }, { "line", one.line },
    }
  end
  local passed, failed, apart = count(list)
  json.write(json.object {
    { "version", core.version }, { "set", core.parameters():name() }, { "digest", core.parameters():digest() },
    { "passed", passed }, { "failed", failed },
    { "known_disagreements", apart }, { "rows", json.list(items) },
  })
end

function selftest.run(words)
  local arguments = require("command.options").parse(parser(), words)
  if not arguments then
    return exit.codes.ok
  end
  local list = reference.run(chosen(arguments.pattern))
  if arguments.json then
    print_json(list)
  else
    print_plain(list)
  end
  local _, failed = count(list)
  return failed == 0 and exit.codes.ok or exit.codes.failed
end

return selftest
