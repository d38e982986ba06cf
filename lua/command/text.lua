-- Plain text for people: wrapping, columns, numbers. Nothing here is wider than text.width.

local show = require "hairfibre.show"

local text = { width = 80 }

--- Width of a text on the terminal: characters, not bytes.
function text.length(s)
  return utf8.len(s) or #s
end

--- Pads to `width` characters; align "right" pads on the left.
function text.pad(s, width, align)
  local space = (" "):rep(math.max(0, width - text.length(s)))
  return align == "right" and space .. s or s .. space
end

--- Wraps one paragraph: the first line starts with `first`, the others with `rest`.
function text.wrap(s, first, rest, width)
  first = first or ""
  rest = rest or first
  width = width or text.width
  local lines, line, empty = {}, first, true
  for word in s:gmatch("%S+") do
    if empty then
      line, empty = line .. word, false
    elseif text.length(line) + 1 + text.length(word) <= width then
      line = line .. " " .. word
    else
      lines[#lines + 1] = line
      line = rest .. word
    end
  end
  lines[#lines + 1] = line:gsub("%s+$", "")
  return table.concat(lines, "\n")
end

--- A label in the margin with its text wrapped beside it.
function text.labelled(label, s, margin)
  margin = margin or 16
  return text.wrap(s, text.pad("  " .. label, margin), (" "):rep(margin))
end

--- Where a page comes from: version, set, digest, changed parameters.
function text.origin(set)
  local provenance = require "hairfibre.provenance"
  return text.wrap(provenance.sentence(provenance.of(set)))
end

--- Lines of a table. `rows` are lists of texts; `align` gives "right" by column; the last column is
--- wrapped so that no line passes text.width (unless the columns before it already do).
function text.columns(rows, options)
  options = options or {}
  local align, indent, gap = options.align or {}, options.indent or "  ", "  "
  local widths, count = {}, 0
  for _, row in ipairs(rows) do
    count = math.max(count, #row)
    for i, cell in ipairs(row) do
      widths[i] = math.max(widths[i] or 0, text.length(cell))
    end
  end
  local lines = {}
  for _, row in ipairs(rows) do
    local line = indent
    for i = 1, count - 1 do
      line = line .. text.pad(row[i] or "", widths[i], align[i]) .. gap
    end
    local last = row[count] or ""
    if align[count] == "right" then
      lines[#lines + 1] = line .. text.pad(last, widths[count], "right")
    else
      lines[#lines + 1] = text.wrap(last, line, (" "):rep(text.length(line)))
    end
  end
  return table.concat(lines, "\n")
end

--- "1 row", "2 rows".
function text.count(n, word, plural)
  return ("%d %s"):format(n, n == 1 and word or plural or word .. "s")
end

--- A name as a phrase: internal_vapour_pressure -> internal vapour pressure.
text.phrase = show.words

local plain = { ["\u{B0}"] = "deg", ["\u{B5}"] = "u", ["\u{B2}"] = "2", ["\u{B3}"] = "3", ["\u{B1}"] = "+-",
  ["\u{2212}"] = "-", ["\u{2009}"] = " ", ["\u{202F}"] = " ", ["\u{A0}"] = " " }

--- The same in ASCII where a plain spelling exists: degC for the degree sign and so on.
function text.ascii(s)
  return (s:gsub(utf8.charpattern, plain))
end

return text
