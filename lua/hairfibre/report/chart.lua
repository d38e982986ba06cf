-- Charts of results for which nobody drew one: the first column of numbers along x, the columns after it
-- as lines, by unit.

local plot = require "hairfibre.plot"

local chart = {}

local MOST_LINES = 6
local NOTE = " " -- none: the page has the notes of the treatment in their own place

local function is_number(column)
  if column.kind == "text" or column.kind == "choice" then
    return false
  end
  for _, x in ipairs(column.values) do
    if x == x then
      return true
    end
  end
  return false
end

local function key_of(column)
  return (column.kind or "number") .. "|" .. (column.unit or "1")
end

-- Each value is above the one before: points may be joined.
local function rises(values)
  for i = 2, #values do
    if not (values[i] > values[i - 1]) then -- luacheck: ignore (NaN rises nowhere)
      return false
    end
  end
  return true
end

--- Figure of a plain result, or nil where there is nothing to draw.
function chart.of_result(r, title)
  local numbers = {}
  for _, column in ipairs(r.columns) do
    numbers[#numbers + 1] = is_number(column) and column or nil
  end
  local x = numbers[1]
  if #numbers < 2 or #x.values < 2 then
    return nil
  end
  local panels, order, count = {}, {}, 0
  for i = 2, #numbers do
    local key = key_of(numbers[i])
    if not panels[key] and #order < 2 then
      panels[key], order[#order + 1] = true, key
    end
  end
  local y = {}
  for _, key in ipairs(order) do
    for i = 2, #numbers do
      if key_of(numbers[i]) == key and count < MOST_LINES then
        y[#y + 1], count = numbers[i].name, count + 1
      end
    end
  end
  return plot.result(r, { x = x.name, y = y, kind = not rises(x.values) and "points" or nil,
    title = title, note = count < #numbers - 1 and "Not every column is drawn; the table has them all." or nil })
end

-- The record of the step in which the fibre got hottest, and its number; the whole where that is too short.
local function hottest(r)
  local best = 1
  for i, temperature in ipairs(r.temperature_axis) do
    best = temperature > r.temperature_axis[best] and i or best
  end
  local step = math.tointeger(r.step[best]) or 0
  local part = #r.events > 0 and step >= 1 and r:since(step, step) or r
  if #part < 3 then
    return r
  end
  return part, step
end

local function fall(r, name)
  local values = r:column(name) and r:column(name).values
  return values and values[1] - values[#values] or 0
end

--- Figures of a treatment: heat and water in the step in which it got hottest, and the damage channels that
--- moved, in that step where nearly all of it happened there.
function chart.of_treatment(r, name)
  local part, step = hottest(r)
  local title = step and ("%s: step %d, its hottest"):format(name, step) or name .. " in time"
  local time = { column = "time", label = "Time" }
  local figures = { plot.result(part, { x = time, title = title, y = { { column = "temperature_axis", label = "Temperature" },
    "temperature_surface", { column = "regain_axis", label = "Regain" }, "regain_surface" }, note = NOTE }) }
  local moved, here = {}, true
  for _, channel in ipairs { "helix", "tryptophan", "disulfide" } do
    local all = fall(r, channel)
    if all > 1e-4 then
      moved[#moved + 1] = { column = channel, label = "Left" }
      here = here and fall(part, channel) > 0.9 * all
    end
  end
  if #moved > 0 then
    figures[2] = plot.result(here and part or r, { x = time, y = moved, note = NOTE,
      title = name .. ": left in each damage channel" .. (here and step and (", step %d"):format(step) or "") })
  end
  return figures
end

return chart
