-- A treatment in words, for the settings on a report page: the fibre, the room, each step.

local show = require "hairfibre.show"

local words = {}

local ORDER = { "diameter", "measured_humidity", "ellipticity", "medulla", "duration", "temperature", "temperature_end",
  "humidity", "humidity_end", "regain", "film", "pressure", "ph", "ionic_strength", "concentration", "peroxide",
  "speed", "air_share", "sides", "passes", "interval", "cycles", "stress", "heat_transfer", "branch", "law" }
local CHOICES = { branch = { "absorption", "desorption" } }
local LAWS = { fibre = { "saturating", "exponential", "constant" }, bleach = { "root", "steady" },
  reduce = { "uniform", "front" } }

local function text_of(what, key, x, field)
  local choices = CHOICES[key] or key == "law" and LAWS[what]
  if choices then
    return choices[math.tointeger(x + 1)]
  end
  return show.value(x, field, { digits = 5 })
end

-- what: "fibre", "room" or the kind of a step; fields: descriptors by name
local function list(what, numbers, fields)
  local parts = {}
  for _, key in ipairs(ORDER) do
    if numbers[key] and (fields[key] or key == "law") then
      parts[#parts + 1] = show.words(key) .. " " .. text_of(what, key, numbers[key], fields[key] or {})
    end
  end
  return #parts > 0 and table.concat(parts, ", ") or "as usual"
end

--- Rows { name, text } of the fibre and its room.
function words.subject(fibre, set, room, fields)
  local rows = { { "fibre", list("fibre", fibre, fields) } }
  if next(room) then
    rows[2] = { "room", list("room", room, fields) }
  end
  if set then
    rows[#rows + 1] = { "parameters", "set " .. set:name() }
  end
  return rows
end

--- Adds one row for each step.
function words.add_steps(rows, steps, fields)
  local count = 0
  for _, row in ipairs(rows) do
    count = count + (row[1]:find("^step ") and 1 or 0)
  end
  for i, step in ipairs(steps) do
    local said = list(step.kind, step.numbers, fields)
    rows[#rows + 1] = { ("step %d"):format(count + i), step.name .. (said ~= "as usual" and ": " .. said or "") }
  end
  return rows
end

return words
