-- Text for people, 80 columns: paragraphs, labelled paragraphs, tables.

local lines = {}

local WIDTH, MARGIN = 80, 14

local Page = {}
Page.__index = Page

--- New empty page.
function lines.page()
  return setmetatable({ lines = {} }, Page)
end

function Page:line(s)
  self.lines[#self.lines + 1] = (s or ""):gsub("%s+$", "")
end

local UNITS = { ["%"] = true, um = true, degC = true, degF = true, s = true, min = true, h = true }

-- Columns on a terminal.
local function width_of(s)
  return utf8.len(s) or #s
end

-- Words of a text; a unit stays with its number.
local function words_of(s)
  local list = {}
  for word in s:gmatch("%S+") do
    local bare = word:gsub("[,.:;)]+$", "")
    if #list > 0 and list[#list]:find("%d$") and UNITS[bare] then
      list[#list] = list[#list] .. " " .. word
    else
      list[#list + 1] = word
    end
  end
  return list
end

-- Wraps a paragraph; the first line begins with `first`, the others with as many blanks.
function Page:wrap(first, s)
  local rest = (" "):rep(width_of(first))
  local line, empty = first, true
  for _, word in ipairs(words_of(s)) do
    if empty then
      line, empty = line .. word, false
    elseif width_of(line) + 1 + width_of(word) <= WIDTH then
      line = line .. " " .. word
    else
      self:line(line)
      line = rest .. word
    end
  end
  self:line(line)
end

function Page:labelled(label, s)
  self:wrap(label .. (" "):rep(math.max(1, MARGIN - (width_of(label)))), s)
end

function Page:head(s)
  if #self.lines > 0 then
    self:line()
  end
  self:line(s)
end

-- Rows of cells; the first column to the left, the others to the right unless `left` says so.
function Page:grid(rows, left)
  local widths = {}
  for _, row in ipairs(rows) do
    for i, cell in ipairs(row) do
      widths[i] = math.max(widths[i] or 0, width_of(cell))
    end
  end
  for _, row in ipairs(rows) do
    local parts = {}
    for i, cell in ipairs(row) do
      local space = (" "):rep(widths[i] - (width_of(cell)))
      parts[i] = (i == 1 or left and left[i]) and cell .. space or space .. cell
    end
    self:line("  " .. table.concat(parts, "  "))
  end
end

function Page:text()
  return table.concat(self.lines, "\n") .. "\n"
end

return lines
