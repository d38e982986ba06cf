-- Pieces of HTML for a report page. Every text is escaped here; numbers for the page's script go out as JSON
-- that holds no "<".

local core = require "hairfibre.core"
local quote = require("dkjson").quotestring
local text = require "hairfibre.plot.text"
local xml = require("hairfibre.rings").escape

local html = { xml = xml }

--- Text with its line breaks, escaped.
function html.verbatim(s)
  local out = {}
  for line in (s:gsub("^%s*\n", ""):gsub("%s+$", "") .. "\n"):gmatch("(.-)\r?\n") do
    out[#out + 1] = xml((line:gsub("\t", "  ")))
  end
  return table.concat(out, "\n")
end

--- Paragraphs of a text: an empty line ends one.
function html.paragraphs(s)
  local out = {}
  for block in (s .. "\n\n"):gmatch("(.-)\n%s*\n") do
    if block:find("%S") then
      out[#out + 1] = "<p>" .. xml((block:gsub("%s+", " "):gsub("^ ", ""))) .. "</p>"
    end
  end
  return table.concat(out, "\n")
end

--- List of pieces that are HTML already; "" for none.
function html.list(items)
  local out = {}
  for i, one in ipairs(items) do
    out[i] = "<li>" .. one .. "</li>"
  end
  return #out > 0 and "<ul>\n" .. table.concat(out, "\n") .. "\n</ul>" or ""
end

--- List of texts, each once.
function html.texts(items)
  local out, seen = {}, {}
  for _, one in ipairs(items) do
    if not seen[one] then
      out[#out + 1], seen[one] = xml(one), true
    end
  end
  return html.list(out)
end

-- ---- tables -----------------------------------------------------------------------------------------

local function framed(caption, body, headed)
  local words = xml(caption)
  return ('<div class="wide" tabindex="0" role="region" aria-label="%s">\n<table>\n<caption%s>%s</caption>\n%s</table></div>')
    :format(words, headed and ' class="unseen"' or "", words, body)
end

local LONG = 24 -- letters: such a column keeps some width on a small screen, where the table then scrolls

--- Table that scrolls by itself, also by keyboard. head: list of { name, unit, is_number }; rows: lists of texts;
--- headed: a heading above says what the caption would.
function html.table(caption, head, rows, headed)
  local out, long = { "<thead><tr>" }, {}
  for _, row in ipairs(rows) do
    for i, cell in ipairs(row) do
      long[i] = long[i] or #cell > LONG
    end
  end
  for _, column in ipairs(head) do
    local unit = column[2] and column[2] ~= "" and " <small>(" .. xml(column[2]) .. ")</small>" or ""
    out[#out + 1] = '<th scope="col"' .. (column[3] and ' class="n">' or ">") .. xml(column[1]) .. unit .. "</th>"
  end
  out[#out + 1] = "</tr></thead>\n<tbody>\n"
  for _, row in ipairs(rows) do
    out[#out + 1] = "<tr>"
    for i, cell in ipairs(row) do
      out[#out + 1] = (head[i][3] and '<td class="n">' or long[i] and '<td class="w">' or "<td>") .. xml(cell) .. "</td>"
    end
    out[#out + 1] = "</tr>\n"
  end
  out[#out + 1] = "</tbody>\n"
  return framed(caption, table.concat(out), headed)
end

--- Table of { name, text } pairs.
function html.pairs(caption, rows)
  local out = { "<tbody>\n" }
  for _, pair in ipairs(rows) do
    out[#out + 1] = ('<tr><th scope="row">%s</th><td>%s</td></tr>\n'):format(xml(pair[1]), xml(tostring(pair[2])))
  end
  out[#out + 1] = "</tbody>\n"
  return framed(caption, table.concat(out))
end

--- A link that saves a CSV text.
function html.csv(csv, name)
  local data = csv:gsub("[^%w%-_.,\n ]", function(c)
    return ("%%%02X"):format(c:byte())
  end):gsub("[\n ]", { ["\n"] = "%0A", [" "] = "%20" })
  return ('<p><a download="%s.csv" href="data:text/csv;charset=utf-8,%s">All numbers as CSV</a></p>'):format(name, data)
end

-- ---- numbers for the script ---------------------------------------------------------------------------

local function encoded(value, out)
  local kind = type(value)
  if kind == "table" and (value[1] ~= nil or next(value) == nil) then
    out[#out + 1] = "["
    for i = 1, #value do
      out[#out + 1] = i > 1 and "," or nil
      encoded(value[i], out)
    end
    out[#out + 1] = "]"
  elseif kind == "table" then
    local keys = {}
    for key in pairs(value) do
      keys[#keys + 1] = key
    end
    table.sort(keys)
    out[#out + 1] = "{"
    for i, key in ipairs(keys) do
      out[#out + 1] = (i > 1 and "," or "") .. quote(key) .. ":"
      encoded(value[key], out)
    end
    out[#out + 1] = "}"
  elseif kind == "number" then
    local finite = value == value and math.abs(value) < math.huge
    out[#out + 1] = finite and core.text(value, 6) or "null"
  elseif kind == "string" then
    out[#out + 1] = quote(text.clean(value)):gsub("[<>&]", { ["<"] = "\\u003c", [">"] = "\\u003e", ["&"] = "\\u0026" })
  else
    out[#out + 1] = tostring(value)
  end
  return out
end

--- JSON of lists, tables with text keys (sorted), numbers (6 digits), texts and truth values.
function html.json(value)
  return table.concat(encoded(value, {}))
end

return html
