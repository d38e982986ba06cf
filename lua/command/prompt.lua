-- hairfibre on a terminal without a command: a Lua prompt with the library at hand.

local core = require "hairfibre.core"
local lua_page = require "command.lua_page"
local show = require "hairfibre.show"
local suggest = require "hairfibre.suggest"
local text_of = require "command.text"

local prompt = {}

local LINES_KEPT = 1000

-- ---- what an answer looks like ----------------------------------------------------------------------

local function plain(x)
  if type(x) == "string" then
    return ("%q"):format(x)
  elseif math.type(x) == "float" then
    return show.number(x, 8)
  end
  return tostring(x)
end

local function is_list(t)
  return #t > 0 and next(t, #t) == nil
end

-- A table on one line where it is short, else its first entries.
local function of_table(t)
  local meta = getmetatable(t)
  if type(meta) == "string" or type(meta) == "table" and meta.__tostring then
    return tostring(t)
  end
  local parts, count = {}, 0
  if is_list(t) then
    for i = 1, math.min(#t, 12) do
      parts[i] = type(t[i]) == "table" and "{...}" or plain(t[i])
    end
    count = #t
  else
    for _, key in ipairs(suggest.sorted_keys(t)) do
      count = count + 1
      if count <= 24 then
        parts[count] = ("%s = %s"):format(tostring(key), type(t[key]) == "table" and "{...}" or plain(t[key]))
      end
    end
  end
  local more = count > #parts and (", ... %d in all"):format(count) or ""
  return "{ " .. table.concat(parts, ", ") .. more .. " }"
end

local function print_all(count, values)
  local parts = {}
  for i = 1, count do
    parts[i] = type(values[i]) == "table" and of_table(values[i]) or plain(values[i])
  end
  if count > 0 then
    io.stdout:write(table.concat(parts, "   "):gsub("\n$", ""), "\n")
  end
end

-- ---- completion -------------------------------------------------------------------------------------

local function starts(name, word)
  return type(name) == "string" and name:sub(1, #word) == word
end

-- Names that may follow: fields of a table, or arguments inside the braces of a quantity's call.
local function completions(environment, word, line)
  local list = {}
  local path, last = word:match("^(.-)([^.:]*)$")
  local t = environment
  for name in path:gmatch("[^.:]+") do
    t = type(t) == "table" and rawget(t, name) or nil
  end
  for name in pairs(type(t) == "table" and t or {}) do
    if starts(name, last) then
      list[#list + 1] = path .. name
    end
  end
  local called = path == "" and line:match("hf%.([%w_]+)%s*{[^}]*$")
  if called then
    for _, quantity in ipairs(core.quantities()) do
      if quantity.name == called then
        for _, argument in ipairs(quantity.arguments) do
          if starts(argument.name, last) then
            list[#list + 1] = argument.name
          end
        end
      end
    end
  end
  table.sort(list)
  -- The first entry is what all have in common.
  local common = list[1] or word
  for _, name in ipairs(list) do
    while not starts(name, common) do
      common = common:sub(1, -2)
    end
  end
  if #list ~= 1 then
    table.insert(list, 1, common)
  end
  return list
end
prompt.completions = completions

-- ---- help -------------------------------------------------------------------------------------------

local BASICS = [[
hf.NAME{ argument = ... }    a quantity: hf.regain{ humidity = "65 %" }
help("regain")               what a quantity needs, where it holds, what it misses
help("treat")                what another function does, with an example
TAB                          completes names and arguments
Ctrl-D                       leaves]]

-- Call, sentence and an example, as the Lua reference has them.
local function from_reference(name)
  local call, text = lua_page.row(name)
  if not call then
    return nil
  end
  local lines = { call, text_of.wrap(text:gsub("`", ""):gsub("^%l", string.upper) .. ".", "  ") }
  for _, more in ipairs(lua_page.more(name)) do
    lines[#lines + 1] = text_of.wrap("Options: " .. more:gsub("`", "") .. ".", "  ")
  end
  local example, heading = lua_page.example(name, 78)
  if example then
    lines[#lines + 1] = "\n" .. example .. "\n\n" .. ("More in docs/lua.md under \"%s\"."):format(heading)
  end
  return table.concat(lines, "\n")
end

function prompt.help(name)
  if name == nil then
    io.stdout:write(BASICS, "\n")
    return
  end
  if type(name) ~= "string" then
    io.stdout:write("help takes a name in quotes: help(\"regain\")\n")
    return
  end
  name = name:gsub("^hf%.", "")
  local names = lua_page.names()
  for _, quantity in ipairs(core.quantities()) do
    if quantity.name == name then
      require("command.models").run { name }
      return
    end
    names[#names + 1] = quantity.name
  end
  local near = suggest.nearest(name, names)
  io.stdout:write(from_reference(name) or ("there is no \"%s\" here%s; help() shows what there is"):format(name,
    near and ("; did you mean \"%s\"?"):format(near) or ""), "\n")
end

-- ---- the loop ---------------------------------------------------------------------------------------

-- A chunk from the text, as an expression where it is one; nil and true when it is not finished yet.
local function compile(text, environment)
  local chunk = load("return " .. text, "=prompt", "t", environment)
  if chunk then
    return chunk
  end
  local message
  chunk, message = load(text, "=prompt", "t", environment)
  if chunk then
    return chunk
  end
  return nil, message:find("<eof>'?$") ~= nil, message
end

local function where_history_is()
  local home = os.getenv "XDG_STATE_HOME" or os.getenv "HOME"
  return home and home .. "/.hairfibre_history"
end

function prompt.run()
  local line = require "command.line"
  local environment = setmetatable({ hf = require "hairfibre", help = prompt.help }, { __index = _G })
  line.complete(function(word, whole)
    return completions(setmetatable(environment, nil), word, whole), setmetatable(environment, { __index = _G })
  end)
  local history = where_history_is()
  if history then
    line.load(history)
  end
  io.stdout:write("hairfibre ", core.version, "   hf is the library, help() tells more, Ctrl-D leaves\n")
  local text = ""
  while true do
    local typed = line.read(text == "" and "hf> " or "... ")
    if typed == nil then
      break
    end
    text = text == "" and typed or text .. "\n" .. typed
    if text:match "^%s*$" then
      text = ""
    else
      local chunk, unfinished, message = compile(text, environment)
      if chunk then
        local results = table.pack(pcall(chunk))
        if results[1] then
          print_all(results.n - 1, { table.unpack(results, 2, results.n) })
        else
          io.stdout:write((tostring(results[2]):gsub("^prompt:%d+: ", "")), "\n")
        end
        text = ""
      elseif not unfinished then
        io.stdout:write((message:gsub("^prompt:%d+: ", "")), "\n")
        text = ""
      end
    end
  end
  io.stdout:write "\n"
  if history then
    line.save(history, LINES_KEPT)
  end
end

return prompt
