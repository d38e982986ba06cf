-- Writes the Lua module's functions as a file of comments, in one of two dialects:
--   editors   annotations from which editors with a Lua language server complete and explain
--   pages     comments from which ldoc makes pages (make reference)
-- Quantities come from the program's own table; the other functions from the Lua reference.
--   build/hairfibre run --trust docs/annotations.lua DIALECT FILE

local core = require "hairfibre.core"
local files = require "hairfibre.files"
local hf = require "hairfibre"
local lua_page = require "command.lua_page"

local dialect, target = arg[1], arg[2]
local for_editors = dialect == "editors"
assert(for_editors or dialect == "pages", "the dialects are editors and pages")
local lines = {}

local function say(text, ...)
  lines[#lines + 1] = select("#", ...) > 0 and text:format(...) or text
end

-- A comment: the first line marks its beginning, which ldoc asks for.
local function comment(text)
  local mark = "---"
  for line in (text .. "\n"):gmatch("(.-)\n") do
    say("%s", mark .. (for_editors and "" or " ") .. line)
    mark = for_editors and "---" or "--"
  end
end

local units = { temperature = "K or a text such as \"25 degC\"", fraction = "fraction or a text such as \"65 %\"",
  difference = "K or a text such as \"5 deltaC\"" }

local function type_of(argument)
  if argument.kind ~= "choice" then
    return for_editors and "number|string|(number|string)[]" or "number|string|{number,...}"
  end
  local words = {}
  for i, word in ipairs(argument.choices) do
    words[i] = ("%q"):format(word)
  end
  return for_editors and table.concat(words, "|") .. "|integer" or "string"
end

local function about(argument)
  local unit = units[argument.kind] or (argument.unit == "1" and "pure number" or argument.unit ~= "" and argument.unit)
  if argument.kind == "choice" then
    return argument.text .. ": " .. table.concat(argument.choices, " or ")
  end
  return argument.text .. (unit and " (" .. unit .. ")" or "")
end

local function description(descriptor)
  return descriptor.text:gsub("^%l", string.upper) .. "."
    .. (descriptor.has_model and "\nEquation: " .. descriptor.equation .. "." or "\nNo validated model.")
    .. "\n" .. descriptor.leaves_out
end

local function names_of(descriptor)
  local names = {}
  for i, argument in ipairs(descriptor.arguments) do
    names[i] = argument.name
  end
  return table.concat(names, ", ")
end

local function editors_quantity(descriptor)
  say("---@class hairfibre.conditions.%s", descriptor.name)
  for _, argument in ipairs(descriptor.arguments) do
    say("---@field %s%s %s %s", argument.name, argument.usual == nil and "" or "?", type_of(argument), about(argument))
  end
  say("---@field set? string|table named set or object of hf.parameters")
  say("---@field extrapolate? boolean false: no answer beyond the range that evidence supports")
  say("")
  comment(description(descriptor))
  say("---@overload fun(conditions: hairfibre.conditions.%s): number?, string?, string?", descriptor.name)
  for _, argument in ipairs(descriptor.arguments) do
    say("---@param %s%s %s", argument.name, argument.usual == nil and "" or "?", type_of(argument))
  end
  say("---@return number? answer %s", descriptor.unit == "1" and "pure number" or descriptor.unit)
  say("---@return string? message \"extrapolated\", or why there is no answer")
  say("---@return string? code")
end

local function pages_quantity(descriptor)
  comment(description(descriptor))
  for _, argument in ipairs(descriptor.arguments) do
    say("-- @tparam%s %s %s %s", argument.usual == nil and "" or "[opt]", type_of(argument), argument.name, about(argument))
  end
  say("-- @return[1] the answer, %s", descriptor.unit == "1" and "a pure number" or "in " .. descriptor.unit)
  say("-- @return[2] nil, a message and a code")
  say("-- @within Quantities: %s", descriptor.room)
end

-- What the Lua reference says of a function.
local function told(name)
  local call, text = lua_page.row(name)
  return call and ("`%s`\n%s."):format(call, (text:gsub("^%l", string.upper)))
end

if for_editors then
  say("---@meta hairfibre")
  say("")
  say("---Property models of hair fibres, version %s. A number is SI; a text carries its unit.", core.version)
  say("---@class hairfibre")
  say("local hf = {}")
else
  say("--- Property models of hair fibres, version %s.", core.version)
  say("-- A number is SI; a text carries its unit. Conditions in their order, or by name in one table.")
  say("-- @module hairfibre")
  say("local hf = {}")
end
local known = {}
for _, descriptor in ipairs(require("hairfibre.quantity").all()) do
  known[descriptor.name] = true
  say("")
  if for_editors then
    editors_quantity(descriptor)
  else
    pages_quantity(descriptor)
  end
  say("function hf.%s(%s) end", descriptor.name, names_of(descriptor))
end
local names = lua_page.names() -- modules are loaded when they are first used, so the table does not show them yet
for _, name in ipairs(require("hairfibre.suggest").sorted_keys(hf)) do
  names[#names + 1] = not lua_page.row(name) and name or nil
end
table.sort(names)
for _, name in ipairs(names) do
  if not known[name] and name:find("^%a") then
    local kind = type(hf[name])
    say("")
    comment(told(name) or error("docs/lua.md has no row on hf." .. name .. " under \"All functions\""))
    if for_editors then
      say("---%s", kind == "function" and "@return any" or "@type " .. kind)
    elseif kind == "function" then
      say("-- @within Other functions")
    else
      say("-- @table %s", name)
      say("-- @within Values and tables of functions")
    end
    say(kind == "function" and "function hf.%s(...) end" or "hf.%s = nil", name)
  end
end
say("")
say("return hf")
assert(files.write(target, table.concat(lines, "\n") .. "\n"))
