-- The damage channels of a treatment as one table and one picture. Each stands by itself; nothing is added up.

local core = require "hairfibre.core"
local misuse = require "hairfibre.misuse"
local quantity = require "hairfibre.quantity"
local result = require "hairfibre.result"

local channels = {}

local NONE = 0 / 0
local NOTES = { "Each damage channel stands by itself: no sum, no share of strength. The laws of helices marked as rivals "
  .. "answer other questions than the first." }

-- Channels besides those of heat: column, what its value is, energy that its law takes, what it is.
local OTHERS = {
  { "disulfide", "share left", nil, "disulfide bonds left by baths; no law counts their loss by heat" },
  { "void_growth", "ln(radius over first)", "void.viscosity.energy", "growth of the void that grew most, never a promise" },
  { "swelling_cycles", "count", nil, "times the mean regain rose and fell again by 0.05 or more" },
  { "fatigue_used", "share of life used", nil, "characteristic life of virgin hair used up by pulls" },
}

function channels.column(name)
  return (name:gsub(" ", "_"))
end

-- Rows of the catalogue by name, for one set.
local function catalogue(set)
  local rows = {}
  for _, row in ipairs(core.rows(quantity.parameters(set))) do
    rows[row.name] = row
  end
  return rows
end

--- Table at the end of a treatment: value and what it is; where evidence supports the law; the activation
--- energy it takes (a parameter of the set, NaN without one), who measured that and how it is known.
function channels.table(r, set)
  local rows, list = catalogue(set), {}
  local function add(name, is, values, low, high, energy, text)
    local row = energy and rows[energy]
    list[#list + 1] = { name, values[#values], is, low, high, row and row.value or NONE,
      row and (row.changed and row.place or ("%s (%s)"):format(row.source, row.known)) or "", text }
  end
  for _, channel in ipairs(core.channels()) do
    add(channel.name, "share left", r[channels.column(channel.name)], channel.low, channel.high, channel.energy[1],
      channel.text)
  end
  for _, other in ipairs(OTHERS) do
    add(other[1]:gsub("_", " "), other[2], r[other[1]], NONE, NONE, other[3], other[4])
  end
  local columns = { { name = "channel", kind = "text" }, { name = "value", unit = "1" }, { name = "is", kind = "text" },
    { name = "supported_from", unit = "K", kind = "temperature" },
    { name = "supported_to", unit = "K", kind = "temperature" }, { name = "energy", unit = "J/mol" },
    { name = "energy_from", kind = "text" }, { name = "what", kind = "text" } }
  for c, column in ipairs(columns) do
    column.values = {}
    for i, one in ipairs(list) do
      column.values[i] = one[c]
    end
  end
  return result.new { columns = columns, set = set, notes = NOTES, caution = r.caution, options = r.options }
end

--- Figure of what is left in each channel of heat and of the disulfide bonds along the time; `step`: from the
--- beginning of that step on. Other options as of r:plot, without y.
function channels.figure(r, options)
  local given, names = {}, {}
  for key, x in pairs(options or {}) do
    given[key] = x
  end
  if given.y ~= nil then
    misuse("channel_plot draws every channel and takes no y; r:plot draws what you choose")
  end
  for i, channel in ipairs(core.channels()) do
    local rival = channel.text:find("^rival") and channel.name .. " (rival)"
    names[i] = { column = channels.column(channel.name), name = rival or channel.name }
  end
  names[1].label, names[#names + 1] = "Left", "disulfide"
  local step = given.step
  given.y, given.x, given.step, given.title = names, given.x or "time", nil,
    given.title or "What is left in each damage channel"
  return require("hairfibre.plot").result(step and r:since(step) or r, given)
end

return channels
