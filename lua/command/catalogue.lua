-- What the library knows, as the subcommands need it: quantities, parameter sets, sources.

local core = require "hairfibre.core"
local exit = require "command.exit"
local suggest = require "hairfibre.suggest"

local catalogue = {}

local by_name

local function index()
  if not by_name then
    by_name = {}
    for _, quantity in ipairs(core.quantities()) do
      by_name[quantity.name] = quantity
      by_name[#by_name + 1] = quantity.name
    end
  end
  return by_name
end

--- Names of all quantities, in the order of the library.
function catalogue.names()
  local names = index()
  return table.move(names, 1, #names, 1, {})
end

function catalogue.has(name)
  return index()[name] ~= nil
end

local function hint(typed, names, otherwise)
  local near = suggest.nearest(typed, names)
  return near and ('; did you mean "%s"?'):format(near) or otherwise
end

--- Descriptor of a quantity; an unknown name ends the command with the nearest one.
function catalogue.find(name)
  local quantity = index()[name] or index()[name:gsub("[ -]", "_")]
  if not quantity then
    exit.fail("usage", 'there is no quantity "%s"%s', name,
      hint(name, catalogue.names(), " (hairfibre models lists them)"))
  end
  return quantity
end

--- Position of an argument of a quantity, and its descriptor.
function catalogue.argument(quantity, name)
  local names = {}
  for i, argument in ipairs(quantity.arguments) do
    if argument.name == name or argument.name == name:lower() then
      return i, argument
    end
    names[i] = argument.name
  end
  if #names == 0 then
    exit.fail("usage", '%s takes no conditions, so "%s" says nothing', quantity.name, name)
  end
  exit.fail("usage", '%s does not depend on "%s"%s (it takes %s)', quantity.name, name,
    hint(name, names, ""), suggest.list(names, "and"))
end

-- ---- parameters -----------------------------------------------------------------------------------

--- A set of parameters, by name or from a file, with the changes asked for (`NAME=VALUE` texts).
function catalogue.parameters(set_name, changes)
  local file = require "hairfibre.parameter_file"
  local set, message
  if set_name and file.is_path(set_name) then
    set, message = file.read(set_name)
    if not set then
      exit.fail("data", "%s", message)
    end
  else
    set, message = core.parameters(set_name)
  end
  if not set then
    local names = {}
    for i, row in ipairs(core.sets()) do
      names[i] = row.name
    end
    exit.fail("usage", "%s%s (the sets are %s)", message, hint(set_name, names, ""),
      suggest.list(names, "and"))
  end
  if changes and #changes > 0 then
    require("command.at").change(set, changes)
  end
  return set
end

--- Rows of the catalogue that a quantity uses, as they hold in this set.
function catalogue.used(quantity, set)
  local rows = {}
  for _, row in ipairs(core.rows(set)) do
    for _, prefix in ipairs(quantity.parameters) do
      if row.name == prefix or row.name:sub(1, #prefix + 1) == prefix .. "." then
        rows[#rows + 1] = row
        break
      end
    end
  end
  return rows
end

-- ---- sources --------------------------------------------------------------------------------------

--- One line for a source: authors (year), title, journal volume, pages, doi.
function catalogue.reference(key)
  local source = core.source(key)
  if not source then
    return key
  end
  local authors = {}
  for author in (source.author .. " and "):gmatch("(.-) and ") do
    authors[#authors + 1] = author
  end
  local who = authors[1]
  if authors[2] == "others" and #authors == 2 then
    who = who .. " and others"
  elseif #authors > 1 then
    who = table.concat(authors, ", ", 1, #authors - 1) .. " and " .. authors[#authors]
  end
  local parts = {}
  local year = source.year ~= "" and (" (%s)"):format(source.year) or ""
  local title = source.title:match("^%[(.*)%]$") or source.title
  if who ~= "" then
    parts[1] = who .. year
    parts[2] = title
  else
    parts[1] = title .. year
  end
  if source.journal ~= "" then
    parts[#parts + 1] = source.journal .. (source.volume ~= "" and " " .. source.volume or "")
  end
  if source.pages ~= "" then
    parts[#parts + 1] = "p. " .. source.pages
  end
  if source.doi ~= "" then
    parts[#parts + 1] = "doi " .. source.doi
  end
  return table.concat(parts, ", ")
end

--- Shortest usual form of a reference: authors and year where both are known, otherwise the key.
function catalogue.short_reference(key)
  local source = core.source(key)
  if not source or source.author == "" or source.year == "" then
    return key
  end
  local first, rest = source.author:match("^(.-) and (.*)$")
  first = first or source.author
  if not rest then
    return first:gsub("^.*%. ?", "") .. " " .. source.year
  elseif rest:find(" and ") or rest == "others" then
    return first:gsub("^.*%. ?", "") .. " and others " .. source.year
  end
  return first:gsub("^.*%. ?", "") .. " and " .. rest:gsub("^.*%. ?", "") .. " " .. source.year
end

local rank

local function ranks()
  if not rank then
    rank = {}
    for i, grade in ipairs(core.known()) do
      rank[grade.word], rank[i] = i, grade
    end
  end
  return rank
end

--- The weakest grade among the sources of an answer, in words.
function catalogue.grade(word)
  local list = ranks()
  local rank_of = list[word]
  return ("%s%s (%s)"):format(word, rank_of > 1 and " at the weakest" or "", list[rank_of].text)
end

--- Sources of a quantity: { key, reference, place, known, what }, those of the equation first, then
--- those of the parameters; equal ones are named once. Second result: the weakest grade.
function catalogue.sources(quantity, rows)
  local list, seen = {}, {}
  local weakest = quantity.known
  local function add(key, place, known, what)
    if ranks()[known] > ranks()[weakest] then
      weakest = known
    end
    local id = key .. "\0" .. place .. "\0" .. known
    if seen[id] then
      if what ~= seen[id].what and seen[id].what ~= "equation" then
        seen[id].count = seen[id].count + 1
      end
      return
    end
    local entry = { key = key, place = place, known = known, what = what, count = 1 }
    entry.reference = key ~= "" and catalogue.reference(key) or "changed by you"
    seen[id], list[#list + 1] = entry, entry
  end
  for _, key in ipairs(quantity.sources) do
    add(key, "", quantity.known, "equation")
  end
  for _, row in ipairs(rows) do
    add(row.source, row.place, row.known, row.name)
  end
  return list, weakest
end

--- The line of caution that an answer about heat or chemicals ends with, or nil.
function catalogue.caution(quantity)
  return require("hairfibre.cautions").line(quantity)
end

catalogue.hint = hint

return catalogue
