-- Writes the file from which editors with a Lua language server complete and explain the module.
-- Quantities come from the program's own table; the other functions from the sections of the Lua
-- reference that name them first.
--   build/hairfibre run --trust docs/annotations.lua FILE      (make install does it)

local core = require "hairfibre.core"
local files = require "hairfibre.files"
local hf = require "hairfibre"

local lines = {}

local function say(text, ...)
  lines[#lines + 1] = select("#", ...) > 0 and text:format(...) or text
end

local function comment(text)
  for line in (text .. "\n"):gmatch("(.-)\n") do
    say("%s", "---" .. line)
  end
end

local units = { temperature = "K or a text such as \"25 degC\"", fraction = "fraction or a text such as \"65 %\"",
  difference = "K or a text such as \"5 deltaC\"" }

local function type_of(argument)
  if argument.kind == "choice" then
    local words = {}
    for i, word in ipairs(argument.choices) do
      words[i] = ("%q"):format(word)
    end
    return table.concat(words, "|") .. "|integer"
  end
  return "number|string|(number|string)[]"
end

local function about(argument)
  local unit = units[argument.kind] or (argument.unit == "1" and "pure number" or argument.unit ~= "" and argument.unit)
  return argument.text .. (argument.kind ~= "choice" and unit and " (" .. unit .. ")" or "")
end

local function quantity(descriptor)
  say("")
  say("---@class hairfibre.conditions.%s", descriptor.name)
  for _, argument in ipairs(descriptor.arguments) do
    say("---@field %s%s %s %s", argument.name, argument.usual == nil and "" or "?", type_of(argument), about(argument))
  end
  say("---@field set? string|table named set or object of hf.parameters")
  say("---@field extrapolate? boolean false: no answer beyond the range that evidence supports")
  say("")
  comment(descriptor.text .. ".")
  if descriptor.has_model then
    comment("Equation: " .. descriptor.equation)
  end
  comment(descriptor.leaves_out)
  say("---@overload fun(conditions: hairfibre.conditions.%s): number?, string?, string?", descriptor.name)
  local names = {}
  for i, argument in ipairs(descriptor.arguments) do
    names[i] = argument.name
    say("---@param %s%s %s", argument.name, argument.usual == nil and "" or "?", type_of(argument))
  end
  say("---@return number? answer %s", descriptor.unit == "1" and "pure number" or descriptor.unit)
  say("---@return string? message \"extrapolated\", or why there is no answer")
  say("---@return string? code")
  say("function hf.%s(%s) end", descriptor.name, table.concat(names, ", "))
end

-- The first paragraph of the reference that names the function.
local function paragraph(page, name)
  local wanted = "`hf." .. name .. "[%(`%s{]"
  for block in (page .. "\n\n"):gmatch("(.-)\n\n") do
    if block:find(wanted) and not block:find("^|") and not block:find("^```") then
      return (block:gsub("\n", " "))
    end
  end
end

say("---@meta hairfibre")
say("")
say("---Property models of hair fibres, version %s. A number is SI; a text carries its unit.", core.version)
say("---@class hairfibre")
say("local hf = {}")
local known = {}
for _, descriptor in ipairs(require("hairfibre.quantity").all()) do
  known[descriptor.name] = true
  quantity(descriptor)
end
local page = assert(files.read("docs/lua.md"))
for _, name in ipairs(require("hairfibre.suggest").sorted_keys(hf)) do
  if not known[name] and type(hf[name]) == "function" then
    say("")
    comment(paragraph(page, name) or "See the Lua reference.")
    say("---@return any")
    say("function hf.%s(...) end", name)
  elseif not known[name] then
    say("")
    say("---@type %s", type(hf[name]))
    say("hf.%s = nil", name)
  end
end
say("")
say("return hf")
assert(files.write(arg[1], table.concat(lines, "\n") .. "\n"))
