-- The pages of `hairfibre value`: plain text at 80 columns, and one JSON object.

local at = require "command.at"
local catalogue = require "command.catalogue"
local core = require "hairfibre.core"
local provenance = require "hairfibre.provenance"
local show = require "hairfibre.show"
local text = require "command.text"

local answer = {}

local out = { ascii = true }

-- ---- plain text -----------------------------------------------------------------------------------

local function write(...)
  io.stdout:write(...)
end

local function title(a)
  local parts = {}
  for i, c in ipairs(a.conditions) do
    parts[i] = text.phrase(c.argument.name) .. " " .. at.short(c.value, c.argument)
  end
  local name = text.phrase(a.quantity.name)
  return #parts > 0 and name .. " at " .. table.concat(parts, ", ") or name
end

-- As many digits as tell the value from the ends of its range, 4 at least.
local function digits_for(a, display)
  for digits = 4, 7 do
    local function number(x)
      return show.number(show.apply(display, x), digits)
    end
    if number(a.low) ~= number(a.value) or number(a.high) ~= number(a.value) then
      return digits
    end
  end
  return 7
end

-- Value, and the range in the same unit.
local function headline(a)
  local what = a.quantity
  local both = what.kind == "temperature" or what.kind == "temperature difference"
  local main = both and at.shown(a.value, what) or show.value(a.value, what, out)
  if a.low == a.high then
    return main, (a.has_spread or #a.spread > 0) and "the stated spreads do not move it" or "no spread is stated"
  end
  local display = show.display(what, { a.value, a.low, a.high }, out)
  local digits = digits_for(a, display)
  local function number(x)
    return show.number(show.apply(display, x), digits)
  end
  local unit = display.unit == "" and "" or " " .. display.unit
  if not both then
    main = number(a.value) .. unit
  end
  return main, ("about 95 %%: %s to %s%s"):format(number(a.low), number(a.high), unit)
end

-- How the range was found; nil where there is none.
local function range_line(a)
  local r = a.range
  if a.low == a.high then
    return nil
  elseif r.by == "draws" then
    local failed = r.failures > 0 and ("; %d had no answer"):format(r.failures) or ""
    return ("%d draws of all parameters%s at once, seed %d%s"):format(r.draws,
      #a.spread > 0 and " and of what has a --spread" or "", r.seed, failed)
  end
  return "one parameter after the other, roughly" .. (r.why and "; " .. r.why or "")
end

local function rival_lines(a)
  local rows = {}
  for i, rival in ipairs(a.rivals) do
    rows[i] = text.wrap(("%s: %s (%s)"):format(rival.value and at.shown(rival.value, a.quantity) or "no answer here",
      rival.text, rival.source), "    ", "      ")
  end
  return table.concat(rows, "\n")
end

local function conditions(a)
  local rows = {}
  for i, c in ipairs(a.conditions) do
    rows[i] = { c.argument.name, at.shown(c.value, c.argument), c.given and "" or "usual value" }
  end
  return text.columns(rows, { indent = "    " })
end

local function validity(a)
  local rows = {}
  for _, c in ipairs(a.conditions) do
    if c.argument.kind ~= "choice" then
      rows[#rows + 1] = { c.argument.name, at.span(c.argument, "valid"), c.inside and "inside" or "OUTSIDE" }
    end
  end
  return text.columns(rows, { indent = "    " })
end

local function source_lines(a)
  local lines, equation = {}, {}
  for _, s in ipairs(a.sources) do
    if s.what == "equation" then
      equation[#equation + 1] = s.key
    else
      local what = s.count > 1 and text.count(s.count, "parameter") or s.what
      local place = s.place ~= "" and ": " .. s.place or ""
      lines[#lines + 1] = text.wrap(("%s%s (%s; %s)"):format(s.key ~= "" and s.key or
        "your own value", place, what, s.known), "    ", "      ")
    end
  end
  if #equation > 0 then
    table.insert(lines, 1, text.wrap(("%s (equation; %s)"):format(table.concat(equation, ", "),
      a.quantity.known), "    ", "      "))
  end
  return table.concat(lines, "\n")
end

local function origin(a)
  local r, options = a.range
  if r.by == "draws" then
    options = { { "range_by", "draws" }, { "draws", r.draws }, { "seed", r.seed }, { "method", r.method } }
  else
    options = { { "range_by", "single" } }
  end
  for _, word in ipairs(a.spread) do
    local name, size = at.split(word, "--spread")
    options[#options + 1] = { "spread_of_" .. name, size }
  end
  options[#options + 1] = a.strict and { "strict", true } or nil
  return provenance.of(a.set, options)
end

function answer.plain(a)
  local main, range = headline(a)
  write(text.wrap(title(a)), "\n\n")
  write(text.wrap(main .. "   (" .. range .. ")", "    "), "\n\n")
  if a.status == "extrapolated" then
    write(text.labelled("extrapolated", a.reason), "\n\n")
  end
  if #a.conditions > 0 then
    write("  conditions\n", conditions(a), "\n")
    local rows = validity(a)
    if rows ~= "" then
      write("  evidence supports\n", rows, "\n")
    end
  end
  local how = range_line(a)
  if how then
    write(text.labelled("range by", how), "\n")
  end
  if #a.rivals > 0 then
    write("  rival answers\n", rival_lines(a), "\n")
  end
  write(text.labelled("equation", a.quantity.equation), "\n")
  write(text.labelled("known", catalogue.grade(a.known)), "\n")
  write("  sources\n", source_lines(a), "\n")
  write(text.labelled("left out", a.quantity.leaves_out), "\n")
  write(text.labelled("computed by", provenance.sentence(origin(a))), "\n")
  local caution = catalogue.caution(a.quantity)
  if caution then
    write(text.labelled("caution", caution), "\n")
  end
end

function answer.no_model(quantity)
  write(text.wrap(text.phrase(quantity.name) .. ": no validated model"), "\n\n")
  write(text.labelled("meaning", quantity.text), "\n")
  write(text.labelled("known instead", quantity.leaves_out), "\n")
  local list = catalogue.sources(quantity, {})
  if #list > 0 then
    write("  sources\n")
    for _, s in ipairs(list) do
      write(text.wrap(s.key .. ": " .. s.reference, "    ", "      "), "\n")
    end
  end
  write(text.labelled("computed by", "hairfibre " .. core.version), "\n")
  local caution = catalogue.caution(quantity)
  if caution then
    write(text.labelled("caution", caution), "\n")
  end
end

-- ---- JSON -----------------------------------------------------------------------------------------

local function value_of(x, argument)
  return argument.kind == "choice" and argument.choices[math.tointeger(x + 1)] or x
end

local function json_conditions(json, a)
  local fields = {}
  for i, c in ipairs(a.conditions) do
    fields[i] = { c.argument.name, json.object {
      { "value", value_of(c.value, c.argument) },
      { "unit", c.argument.unit },
      { "given", c.given },
      { "evidence_low", c.argument.kind ~= "choice" and c.argument.valid_low or nil },
      { "evidence_high", c.argument.kind ~= "choice" and c.argument.valid_high or nil },
      { "inside", c.inside },
    } }
  end
  return json.object(fields)
end

local function json_rivals(json, list)
  local items = {}
  for i, rival in ipairs(list) do
    items[i] = json.object {
      { "value", rival.value },
      { "quantity", rival.quantity },
      { "text", rival.text },
      { "source", rival.source },
      { "status", rival.status },
    }
  end
  return json.list(items)
end

local function json_sources(json, list)
  local items = {}
  for i, s in ipairs(list) do
    items[i] = json.object {
      { "key", s.key },
      { "reference", s.reference },
      { "place", s.place },
      { "known", s.known },
    }
  end
  return json.list(items)
end

function answer.json(a)
  local json = require "command.json"
  local fields = {
    { "quantity", a.quantity.name },
    { "value", a.value },
    { "unit", a.quantity.unit },
    { "low", a.low },
    { "high", a.high },
    { "range_by", a.range_by },
    { "draws", a.range.draws },
    { "seed", a.range.seed },
    { "median", a.range.median },
    { "range_error", a.range.error },
    { "rivals", json_rivals(json, a.rivals) },
    { "status", a.status },
    { "reason", a.reason },
    { "conditions", json_conditions(json, a) },
    { "known", a.known },
    { "sources", json_sources(json, a.sources) },
    { "equation", a.quantity.equation },
    { "leaves_out", a.quantity.leaves_out },
    { "caution", catalogue.caution(a.quantity) },
  }
  for _, pair in ipairs(provenance.fields(origin(a), json)) do
    fields[#fields + 1] = pair
  end
  json.write(json.object(fields))
end

function answer.no_model_json(quantity)
  local json = require "command.json"
  json.write(json.object {
    { "quantity", quantity.name },
    { "value", nil },
    { "unit", quantity.unit },
    { "low", nil },
    { "high", nil },
    { "status", "no-model" },
    { "reason", quantity.leaves_out },
    { "sources", json_sources(json, (catalogue.sources(quantity, {}))) },
    { "version", core.version },
    { "caution", catalogue.caution(quantity) },
  })
end

return answer
