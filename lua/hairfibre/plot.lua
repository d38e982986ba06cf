-- Figures for lessons, handouts and papers.
--
--   local f = plot.figure{ title =, x = { label =, unit =, scale = }, y = { ... }, lines = { ... } }
--   f:save("fig.svg")          picture (.svg, .png, .pdf) and fig.csv with its numbers
--   f:save_script("fig.gp")    the gnuplot script, to finish the figure by hand
--   print(f:preview())         a sketch for the terminal
--
-- Pictures need the program gnuplot; the CSV, the script and the preview do not.

local collect = require "hairfibre.collect"
local core = require "hairfibre.core"
local files = require "hairfibre.files"
local gnuplot = require "hairfibre.gnuplot"
local layout = require "hairfibre.plot.layout"
local misuse = require "hairfibre.misuse"
local provenance = require "hairfibre.provenance"
local plot_csv = require "hairfibre.plot.csv"
local preview = require "hairfibre.preview"
local rings = require "hairfibre.plot.rings"
local spec = require "hairfibre.plot.spec"
local from_result = require "hairfibre.plot.result"
local text = require "hairfibre.plot.text"
local xml = require("hairfibre.rings").escape

local plot = { rings = rings.new, terminal = preview.terminal }

local SECONDS = 30
local formats = { "svg", "png", "pdf" }

local Figure = { __name = "hairfibre.figure" }
Figure.__index = Figure

local function suffix_of(path, what)
  if type(path) ~= "string" then
    misuse("%s needs a file name, not a %s", what, type(path))
  end
  local stem, suffix = path:match("^(.*[^/])%.(%w+)$")
  return suffix and suffix:lower(), stem
end

local function laid_out(self)
  local message, code
  if not self.layout then
    self.layout, message, code = layout.build(self.checked)
  end
  return self.layout, message, code
end

-- A sentence that stands for the picture where it cannot be seen.
local function in_words(checked)
  local parts = {}
  for _, panel in ipairs(checked.panels) do
    local names = {}
    for _, line in ipairs(panel.lines) do
      names[#names + 1] = line.name
    end
    parts[#parts + 1] = string.format("%s against %s%s", panel.y.label or "values", checked.x.label or "x",
      #names > 0 and ": " .. table.concat(names, ", ") or "")
  end
  return table.concat(parts, "; ") .. "."
end

-- gnuplot leaves its own title in an SVG and cairo a clock time in a PDF: the same figure must give
-- the same bytes. The date is blanked in place, so that the offsets in the file stay right.
local function tidy(bytes, suffix, checked)
  local cleaned = bytes
  if suffix == "svg" then
    local title, words = xml(checked.title or "Figure"), xml(in_words(checked))
    cleaned = bytes:gsub("<title>[^<]*</title>", function()
      return "<title>" .. title .. "</title>"
    end, 1):gsub("<desc>[^<]*</desc>", function()
      return "<desc>" .. words .. "</desc>"
    end, 1)
  elseif suffix == "pdf" then
    cleaned = bytes:gsub("/CreationDate %(D:[^)]*%)", function(date)
      return (" "):rep(#date)
    end)
  end
  return cleaned
end

--- The exact gnuplot script for "svg" (usual), "png" or "pdf"; or nil, sentence, code.
function Figure:script(format)
  local place, message, code = laid_out(self)
  if not place then
    return nil, message, code
  end
  return gnuplot.script(place, spec.one_of(format or "svg", formats, "script: the format"))
end

--- Writes the script. It draws `picture`, a plain file name (that of the script, as .svg, when not
--- given), in the folder where gnuplot is started.
function Figure:save_script(path, picture)
  local _, stem = suffix_of(path, "save_script")
  picture = picture or (stem or path):match("[^/]*$") .. ".svg"
  if type(picture) ~= "string" or picture:find("/") then
    misuse("save_script: the picture must be a plain file name, without folders")
  end
  local suffix = spec.one_of(suffix_of(picture, "save_script") or "", formats, "the ending of the picture")
  local quoted, message = gnuplot.quote_path(picture)
  if not quoted then
    return nil, message, "file"
  end
  local place, reason, code = laid_out(self)
  if not place then
    return nil, reason, code
  end
  return files.write(path, gnuplot.script(place, suffix, quoted))
end

--- The numbers of the figure as CSV text.
function Figure:csv()
  return plot_csv.text(self.checked)
end

local function draw(self, path, suffix)
  local place, message, code = laid_out(self)
  if not place then
    return nil, message, code
  end
  local allowed
  allowed, message, code = files.path("write", path)
  if not allowed then
    return nil, message, code
  end
  local bytes
  bytes, message, code = core.spawn_gnuplot(gnuplot.script(place, suffix), allowed, SECONDS)
  if not bytes then
    return nil, message, code
  end
  return core.write(allowed, tidy(bytes, suffix, self.checked))
end

local function checked_suffix(path, what, list)
  local suffix, stem = suffix_of(path, what)
  for _, known in ipairs(list) do
    if suffix == known then
      return suffix, stem
    end
  end
  misuse("%s needs a name that ends in .%s, not \"%s\"", what, table.concat(list, ", ."), text.clean(path))
end

--- Writes the picture and, under the same name, the CSV. true; or nil, sentence, code.
function Figure:save(path)
  local suffix, stem = checked_suffix(path, "save", { "svg", "png", "pdf", "csv" })
  if collect.take("figure", self, path) then
    return true
  end
  local place, message, code = laid_out(self)
  if not place then
    return nil, message, code
  end
  local numbers = stem .. ".csv"
  local refusal = self.refuse and (self.refuse(path) or self.refuse(numbers))
  if refusal then
    return nil, refusal, "file"
  end
  local done
  done, message, code = files.write(numbers, provenance.comment(self.checked.provenance) .. self:csv())
  if not done or suffix == "csv" then
    return done, message, code
  end
  done, message, code = draw(self, path, suffix)
  if not done then
    return nil, string.format("%s; the numbers are in %s", message, numbers), code
  end
  return true
end

--- A sketch for the terminal. options: width, height (78, 22), ascii, colour. Nothing for a report page,
--- where the figure itself can be shown.
function Figure:preview(options)
  if collect.active() then
    return ""
  end
  return preview.text(self.checked, options)
end

--- The axes in print style without the lines and without what would tell the answer, for "predict
--- first" work. No CSV is written.
function Figure:worksheet(path, title)
  local suffix = checked_suffix(path, "worksheet", formats)
  if collect.take("file", self, path) then
    return true
  end
  local names, seen = {}, {}
  for _, panel in ipairs(self.checked.panels) do
    for _, line in ipairs(panel.lines) do
      if line.name and not seen[line.name] then
        names[#names + 1], seen[line.name] = line.name, true
      end
    end
  end
  local checked = self.checked
  local blank = { blank = true, style = "print", caution = checked.caution, provenance = checked.provenance, x = checked.x,
    panels = checked.panels, marks = checked.marks,
    title = title and text.clean(title) or "Draw your prediction first",
    note = #names > 0 and "Lines to draw: " .. table.concat(names, "; ") .. "." or nil }
  return draw(setmetatable({ checked = blank }, Figure), path, suffix)
end

function Figure:__tostring()
  return "figure: " .. (self.checked.title or in_words(self.checked))
end

--- A figure from its description (see docs/lua.md). refuse(path), where given, is a sentence for a file that must
--- not be written: data that the figure was made from.
function plot.figure(description, refuse)
  return collect.hand_out(setmetatable({ checked = spec.check(description), refuse = refuse }, Figure))
end

--- A figure of columns of a result: plot.result(r, { x = "temperature", y = { "pressure" } })
function plot.result(result, options)
  return plot.figure(from_result.figure(result, options))
end

return plot
