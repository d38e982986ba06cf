-- What the Lua reference (docs/lua.md) says of a function: its row under "All functions", and the first example
-- that uses it. The prompt's help and the file for editors take their words from here.

local core = require "hairfibre.core"

local lua_page = {}

local function rows()
  return core.embedded("page.lua"):match("\n## All functions\n(.*)"):gmatch "\n| `(hf%.[^`]+)` | ([^\n]-) |"
end

--- Names that have a row, in the order of the page.
function lua_page.names()
  local names = {}
  for call in rows() do
    names[#names + 1] = call:match "^hf%.([%w_]+)"
  end
  return names
end

--- Call and sentence of a function or module of hf; nil when the page does not describe it.
function lua_page.row(name)
  for call, text in rows() do
    if call:match "^hf%.([%w_]+)" == name then
      return call, text
    end
  end
end

--- Rows of other tables of the page that begin with the function: options of a step, for instance.
function lua_page.more(name)
  local list = {}
  local before = core.embedded("page.lua"):match "^(.-)\n## All functions\n"
  for first, rest in before:gmatch "\n| (`hf%.[^|]-) | ([^\n]-) |%f[\n]" do
    if first:find("`hf%." .. name .. "`") then
      list[#list + 1] = rest:gsub(" | ", ": ")
    end
  end
  return list
end

-- Places where a line of Lua may be broken: blanks outside texts; and where a remark begins.
local function break_places(line)
  local places, quote, i = {}, nil, 1
  while i <= #line do
    local c = line:sub(i, i)
    if quote then
      quote = c ~= quote and quote or nil
    elseif c == '"' or c == "'" then
      quote = c
    elseif line:find("^%-%-", i) then
      return places, i
    elseif c == " " and line:find("^[,{] ", i - 1) then
      places[#places + 1] = i
    end
    i = i + 1
  end
  return places
end

-- A line of Lua in lines of at most `width` letters, where that can be had; a remark too long for the line goes.
local function narrow(line, width, out)
  local places, remark = break_places(line)
  if #line > width and remark then
    line = line:sub(1, remark - 1):gsub("%s+$", "")
  end
  local indent, from = line:match "^%s*" .. "  ", 1
  while #line - from + 1 > width do
    local at
    for _, place in ipairs(places) do
      at = place > from + #indent and place - from < width and place or at
    end
    if not at then
      break
    end
    out[#out + 1] = (from > 1 and indent or "") .. line:sub(from, at - 1)
    from, width = at + 1, width - (from == 1 and #indent or 0)
  end
  out[#out + 1] = (from > 1 and indent or "") .. line:sub(from)
end

--- The shortest Lua block of the page that uses the function, in lines of at most `width` letters, and the heading it
--- stands under; or nil.
function lua_page.example(name, width)
  local heading, inside, best, where
  for line in core.embedded("page.lua"):gmatch "[^\n]*" do
    heading = line:match "^## (.*)" or heading
    if line == "```lua" then
      inside = { size = 0 }
    elseif line == "```" and inside then
      if inside.found and (not best or inside.size < best.size) then
        best, where = inside, heading
      end
      inside = nil
    elseif inside then
      inside[#inside + 1], inside.size = line, inside.size + #line
      inside.found = inside.found or line:find("hf%." .. name .. "%f[^%w_]") ~= nil
    end
  end
  local lines = {}
  for _, line in ipairs(best or {}) do
    narrow(line, width, lines)
  end
  return best and table.concat(lines, "\n"), where
end

return lua_page
