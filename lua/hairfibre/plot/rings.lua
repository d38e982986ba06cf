-- plot.rings: checks a ring picture, saves it as SVG with its numbers as CSV.

local collect = require "hairfibre.collect"
local core = require "hairfibre.core"
local files = require "hairfibre.files"
local misuse = require "hairfibre.misuse"
local plot_csv = require "hairfibre.plot.csv"
local provenance = require "hairfibre.provenance"
local rings = require "hairfibre.rings"
local spec = require "hairfibre.plot.spec"
local styles = require "hairfibre.styles"
local text = require "hairfibre.plot.text"

local Rings = { __name = "hairfibre.rings" }
Rings.__index = Rings

local function lists_of(t, what)
  local lists, copies = type(t[1]) == "table" and t or { t }, {}
  for i, list in ipairs(lists) do
    copies[i] = spec.numbers(list, "rings: \"" .. what .. "\"" .. (#lists > 1 and ", disc " .. i or ""))
  end
  return copies
end

local function clean(s)
  return s and text.clean(s)
end

local function captions_of(t, count)
  local list = t.captions or t.times
  if not list then
    return nil
  elseif #list ~= count then
    misuse("rings: %d captions for %d discs", #list, count)
  end
  local captions = {}
  for i, one in ipairs(list) do
    if type(one) == "number" then
      one = string.format("%.4g %s", one, text.unit(t.time_unit or "s"))
    end
    captions[i] = text.clean(one)
  end
  return captions
end

local function provenance_of(t)
  return t.provenance or "hairfibre " .. core.version
end

local function foot_of(t, radii, discs)
  local foot, largest = {}, 0
  for _, list in ipairs(radii) do
    largest = math.max(largest, list[#list])
  end
  local words = discs > 1 and "Largest radius %.3g %s; all discs to one scale." or "Radius %.3g %s."
  local scale = t.radius_unit and words:format(largest, text.unit(t.radius_unit))
  local note = t.note and clean(t.note):gsub("[^.]$", "%0.")
  foot[1] = note and scale and note .. " " .. scale or note or scale
  foot[#foot + 1] = t.source and "Source: " .. clean(t.source)
  foot[#foot + 1] = clean(provenance_of(t))
  foot[#foot + 1] = t.caution and "Caution: " .. clean(t.caution)
  return foot
end

local MOST = 24 -- discs in one picture

--- One disc, or one disc per time. radii: outer radius of each ring from the middle out; values: one
--- per ring. Both may be lists of lists, one per disc.
function Rings.new(t)
  return collect.hand_out(Rings.make(t, MOST))
end

--- The same for at most `most` discs, as the object itself.
function Rings.make(t, most)
  spec.keys(t, "radii:table values:table times:table captions:table time_unit:string "
    .. "radius_unit:string label:string unit:string low:number high:number title:string "
    .. "source:string note:string caution:string provenance:string style:string colours:string", "rings")
  if not t.radii or not t.values then
    misuse("rings needs \"radii\" and \"values\"")
  end
  local radii, values = lists_of(t.radii, "radii"), lists_of(t.values, "values")
  if #radii ~= 1 and #radii ~= #values then
    misuse("rings: %d lists of radii for %d discs", #radii, #values)
  elseif #values > most then
    misuse("rings: %d discs in one picture are too many; %d are the most", #values, most)
  end
  local low, high = t.low, t.high
  for i, list in ipairs(values) do
    local edges = radii[i] or radii[1]
    if #edges ~= #list then
      misuse("rings: disc %d has %d values and %d radii", i, #list, #edges)
    end
    for k, value in ipairs(list) do
      if not (edges[k] > (edges[k - 1] or 0) and edges[k] < math.huge) then
        misuse("rings: disc %d: the radii must grow outward from above zero", i)
      elseif math.abs(value) < math.huge then
        low, high = t.low or math.min(low or value, value), t.high or math.max(high or value, value)
      end
    end
  end
  if not low or not high then
    misuse("rings: there is no number among the values")
  elseif low >= high then
    local half = math.max(1e-9, 0.05 * math.abs(low))
    low, high = t.low or low - half, t.high or high + half
    if low >= high then
      misuse("rings: low (%g) must be below high (%g)", low, high)
    end
  end
  local style = t.style and spec.one_of(t.style, styles.names, "style") or "projector"
  local colours = t.colours and spec.one_of(t.colours, rings.colours, "colours") or rings.colours[1]
  local drawing = { colours = colours, radii = radii, values = values, low = low, high = high, label = clean(t.label),
    unit = t.unit, captions = captions_of(t, #values), title = clean(t.title),
    foot = foot_of(t, radii, #values), style = style }
  return setmetatable({ radius_unit = t.radius_unit, drawing = drawing, origin = provenance_of(t) }, Rings)
end

function Rings:svg()
  return rings.svg(self.drawing)
end

function Rings:csv()
  local d, lines = self.drawing, {}
  for i, values in ipairs(d.values) do
    lines[i] = { name = d.captions and d.captions[i] or (#d.values > 1 and "disc " .. i) or nil,
      x = d.radii[i] or d.radii[1], y = values }
  end
  return plot_csv.text { x = { label = "outer radius", unit = self.radius_unit },
    panels = { { y = { label = d.label or "value", unit = d.unit }, lines = lines } } }
end

--- Writes name.svg and name.csv; true, or nil, sentence, code.
function Rings:save(path)
  local stem = type(path) == "string" and path:match("^(.*[^/])%.[sS][vV][gG]$")
  if not stem then
    misuse("rings are saved as SVG: the name must end in .svg")
  end
  if collect.take("rings", self, path) then
    return true
  end
  local done, message, code = files.write(stem .. ".csv", provenance.comment(self.origin) .. self:csv())
  if not done then
    return nil, message, code
  end
  return files.write(path, self:svg())
end

return Rings
