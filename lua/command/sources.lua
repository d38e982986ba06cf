-- hairfibre sources: where the numbers come from.

local catalogue = require "command.catalogue"
local core = require "hairfibre.core"
local exit = require "command.exit"
local text = require "command.text"

local sources = {}

local function parser()
  local p, page = require("command.options").new("sources",
    "Lists the sources of all numbers, those of one quantity, or one source with all that rests on it.",
    "hairfibre sources internal_vapour_pressure --bibtex")
  p:argument("pattern", "Key of a source, name of a quantity, or a part of key, author, title or year.")
    :args("?")
  p:flag("--bibtex", "As BibTeX entries.")
  return page
end

-- What the whole library draws from each source.
local function uses()
  local of = {}
  local function add(key, what)
    of[key] = of[key] or {}
    table.insert(of[key], what)
  end
  for _, quantity in ipairs(core.quantities()) do
    for _, key in ipairs(quantity.sources) do
      add(key, "equation of " .. quantity.name)
    end
  end
  for _, row in ipairs(core.rows()) do
    add(row.source, row.name)
  end
  return of
end

local function chosen(pattern)
  if not pattern then
    return core.sources()
  end
  local one = core.source(pattern)
  if one then
    return { one }
  end
  local list, keys, seen = {}, {}, {}
  if catalogue.has(pattern) then
    local quantity = catalogue.find(pattern)
    for _, entry in ipairs((catalogue.sources(quantity, catalogue.used(quantity)))) do
      local source = core.source(entry.key)
      if source and not seen[entry.key] then
        seen[entry.key], list[#list + 1] = true, source
      end
    end
    return list
  end
  for _, source in ipairs(core.sources()) do
    keys[#keys + 1] = source.key
    local all = table.concat({ source.key, source.author, source.title, source.journal, source.year },
      "\n")
    if all:lower():find(pattern:lower(), 1, true) then
      list[#list + 1] = source
    end
  end
  if #list == 0 then
    exit.fail("usage", "no source matches \"%s\"%s", pattern, catalogue.hint(pattern, keys, ""))
  end
  return list
end

--- BibTeX entry of a source.
function sources.bibtex(source)
  local lines = { ("@%s{%s,"):format(source.type, source.key) }
  for _, field in ipairs { "author", "title", "journal", "volume", "pages", "year", "doi", "note" } do
    if source[field] ~= "" then
      lines[#lines + 1] = ("  %s = {%s},"):format(field, (source[field]:gsub("[&%%$#_]", "\\%0")))
    end
  end
  lines[#lines + 1] = "}\n"
  return table.concat(lines, "\n")
end

local function plain(source)
  local lines = { source.key, text.wrap(catalogue.reference(source.key), "    ") }
  local seen_as = source.access ~= "" and "seen as: " .. source.access or ""
  local note = source.note ~= "" and "; " .. source.note or ""
  lines[#lines + 1] = text.wrap(seen_as .. note, "    ")
  return table.concat(lines, "\n")
end

function sources.run(words)
  local arguments = require("command.options").parse(parser(), words)
  if not arguments then
    return exit.codes.ok
  end
  local list = chosen(arguments.pattern)
  if arguments.bibtex then
    io.stdout:write("% hairfibre ", core.version, "\n\n")
    for _, source in ipairs(list) do
      io.stdout:write(sources.bibtex(source), "\n")
    end
    return exit.codes.ok
  end
  for _, source in ipairs(list) do
    io.stdout:write(plain(source), "\n")
  end
  if #list == 1 then
    local used = uses()[list[1].key] or {}
    local said = #used > 0 and "used by: " .. table.concat(used, ", ")
      or "used by: no equation or parameter (comparison or literature row only)"
    io.stdout:write(text.wrap(said, "    "), "\n")
  else
    io.stdout:write("\n", text.count(#list, "source"), "\n")
  end
  io.stdout:write("hairfibre ", core.version, "\n")
  return exit.codes.ok
end

return sources
