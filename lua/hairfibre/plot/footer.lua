-- The sentences under a figure: note, what is extrapolated or left out, source, where it comes from, caution.

local ranges = require "hairfibre.plot.ranges"
local text = require "hairfibre.plot.text"

local footer = {}

local word_for = { line = "dashed", band = "shaded", points = "hollow marks", bars = "pale bars" }

local function beyond(panels)
  local seen, words, shaded = {}, {}, false
  for _, panel in ipairs(panels) do
    ranges.each_point(panel, function(point, drawn)
      local kind = drawn.line.kind
      if point.outside and not seen[kind] and kind ~= "band" then
        seen[kind], words[#words + 1] = true, word_for[kind]
      end
    end)
    shaded = shaded or panel.beyond
  end
  if #words == 0 and not shaded then
    return nil
  end
  local s = table.concat(words, ", ") .. (shaded and (#words > 0 and ", on grey" or "grey ground") or "")
  return s:sub(1, 1):upper() .. s:sub(2) .. ": outside the evidence (extrapolated)."
end

local function sentence(s)
  return s:find("[.!?]$") and s or s .. "."
end

local function headed(head, s)
  return s:lower():find("^" .. head:lower()) and s or head .. ": " .. s
end

-- lost: { log = count of values not above zero, empty = names }; off: marks outside the axes
function footer.lines(figure, panels, lost, off, size, limit)
  local first = {}
  local function add(s)
    first[#first + 1] = s and sentence(s)
  end
  add(figure.note)
  add(beyond(panels))
  if lost.log > 0 then
    add(string.format("%d %s at or below zero cannot be shown on a logarithmic axis", lost.log,
      lost.log == 1 and "value" or "values"))
  end
  if #lost.empty > 0 then
    add("No number to draw for " .. table.concat(lost.empty, ", "))
  end
  if #off > 0 then
    add("Off the axis: " .. table.concat(off, ", "))
  end
  local paragraphs = { #first > 0 and table.concat(first, " ") or nil }
  paragraphs[#paragraphs + 1] = figure.source and headed("Source", figure.source)
  paragraphs[#paragraphs + 1] = figure.provenance
  paragraphs[#paragraphs + 1] = figure.caution and headed("Caution", figure.caution)
  local lines = {}
  for _, paragraph in ipairs(paragraphs) do
    for _, line in ipairs(text.wrap(paragraph, size, limit)) do
      lines[#lines + 1] = line
    end
  end
  return lines
end

return footer
