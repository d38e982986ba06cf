-- Damage channels along a history: hf.damage{ history = "log.csv", passes = { 1, 10, 50 } }, or with
-- lists: hf.damage{ time =, temperature =, regain = or humidity =, passes = }.

local cautions = require "hairfibre.cautions"
local core = require "hairfibre.core"
local misuse = require "hairfibre.misuse"
local quantity = require "hairfibre.quantity"
local result = require "hairfibre.result"
local suggest = require "hairfibre.suggest"
local units = require "hairfibre.units"

local damage = {}

local OPTIONS = { "history", "time", "temperature", "regain", "humidity", "passes", "set", "running" }
local WHAT = {
  time = { name = "time", unit = "s", kind = "number" },
  temperature = { name = "temperature", unit = "K", kind = "temperature" },
  regain = { name = "regain", unit = "1", kind = "fraction" },
  humidity = { name = "humidity", unit = "1", kind = "fraction" },
}
local NOTE = "Share left in each channel by itself: no sum, no share of strength. The fibre is taken "
  .. "to have the temperature and water given."

local function number(x, what, place)
  local value, message = units.value(x, what)
  if not value then
    misuse("%s%s", message, place or "")
  end
  return value
end

-- List of n numbers: a list of numbers or texts, or one value for all.
local function column(x, what, n)
  local values = {}
  if type(x) ~= "table" then
    local value = number(x, what)
    for i = 1, n or 0 do
      values[i] = value
    end
    return values
  end
  for i = 1, #x do
    values[i] = number(x[i], what, (" (element %d)"):format(i))
  end
  if n and #values ~= n then
    misuse("lists of unequal length: time has %d values, %s has %d", n, what.name, #values)
  end
  return values
end

local function from_file(path)
  local wanted = { WHAT.time, WHAT.temperature }
  for i, name in ipairs { "regain", "humidity" } do
    wanted[2 + i] = { name = name, unit = "1", kind = "fraction", optional = true }
  end
  return require("hairfibre.csv").read(path, { columns = wanted })
end

local function from_lists(given)
  if type(given.time) ~= "table" or #given.time < 2 then
    misuse("damage needs history = \"file.csv\", or time = a list of 2 or more times")
  elseif given.temperature == nil then
    misuse("damage: temperature is missing")
  end
  local table_of = { time = column(given.time, WHAT.time) }
  for _, name in ipairs { "temperature", "regain", "humidity" } do
    if given[name] ~= nil then
      table_of[name] = column(given[name], WHAT[name], #table_of.time)
    end
  end
  return table_of
end

local function read_passes(passes)
  local list = type(passes) == "table" and passes or { passes == nil and 1 or passes }
  if #list == 0 then
    misuse("passes is an empty list")
  end
  for i, n in ipairs(list) do
    if math.type(n) == "float" and n % 1 == 0 then
      n = math.tointeger(n)
    end
    if math.type(n) ~= "integer" or n < 1 then
      misuse("passes must be whole numbers from 1, not %s", tostring(list[i]))
    end
  end
  return list
end

-- The name of a channel as the name of a column.
local function column_name(channel)
  return (channel.name:gsub(" ", "_"))
end

local function running_result(source, channels, answer, set)
  local list = { { name = "time", unit = "s", values = source.time },
    { name = "temperature", unit = "K", kind = "temperature", values = source.temperature } }
  for _, part in ipairs { "first", "last" } do
    for i, channel in ipairs(channels) do
      list[#list + 1] = { name = column_name(channel) .. "_" .. part, unit = "1", kind = "fraction",
        values = answer[part][i] }
    end
  end
  return result.new { columns = list, set = set, notes = { "first and last pass; " .. NOTE },
    caution = cautions.heat, files = source.files }
end

local function check_keys(given)
  if type(given) ~= "table" then
    misuse("damage takes one table: hf.damage{ history = \"log.csv\", passes = { 1, 10 } }")
  end
  local allowed = {}
  for _, name in ipairs(OPTIONS) do
    allowed[name] = true
  end
  for _, key in ipairs(suggest.sorted_keys(given)) do
    if not allowed[key] then
      misuse("damage has no argument \"%s\"%s", tostring(key), suggest.hint(key, OPTIONS))
    end
  end
  if given.history ~= nil and (given.time ~= nil or given.temperature ~= nil) then
    misuse("damage takes history, or time and temperature, not both")
  end
end

--- Result with one row for each number of passes and one column for each channel (share left);
--- `extrapolated` names the channels that leave the range of their evidence. r.channels tells more
--- of each; with running = true, r.running follows the first and the last pass along the time.
--- Second value "extrapolated" when any channel is. Failures: nil, sentence, code.
function damage.along(given)
  check_keys(given)
  local set, passes = quantity.parameters(given.set), read_passes(given.passes)
  local source, message, code
  if given.history ~= nil then
    source, message, code = from_file(given.history)
    if not source then
      return nil, message, code
    end
  else
    source = from_lists(given)
  end
  local water = { regain = source.regain, humidity = source.humidity }
  for _, name in ipairs { "regain", "humidity" } do
    if given.history ~= nil and given[name] ~= nil then -- a constant beside a file without water
      water[name] = column(given[name], WHAT[name], #source.time)
    end
  end
  if (water.regain == nil) == (water.humidity == nil) then
    local sentence = water.regain and "give regain or humidity, not both" or "regain or humidity is missing"
    if given.history ~= nil then
      return nil, ("%s: %s"):format(given.history, sentence), "data"
    end
    misuse("damage: %s", sentence)
  end

  local channels, list, words, any = core.channels(), {}, {}, false
  list[1] = { name = "passes", unit = "1", values = {} }
  for i, channel in ipairs(channels) do
    list[1 + i] = { name = column_name(channel), unit = "1", kind = "fraction", text = channel.text, values = {} }
  end
  local running
  for row, n in ipairs(passes) do
    n = math.tointeger(n)
    local answer, problem, class, sample = core.history(set, n, source.time, source.temperature, water.regain,
      water.humidity, given.running == true)
    if not answer then
      return nil, class == "memory" and problem or ("%s (sample %d of the history)"):format(problem, sample), class
    end
    local beyond = {}
    list[1].values[row] = n
    for i, channel in ipairs(channels) do
      list[1 + i].values[row] = answer.remaining[i]
      channel.exposure, channel.exposure_error = answer.exposure[i], answer.exposure_error[i]
      channel.outside, channel.extrapolated = answer.outside[i], answer.extrapolated[i]
      if answer.extrapolated[i] then
        beyond[#beyond + 1], any = column_name(channel), true
      end
    end
    words[row] = #beyond > 0 and table.concat(beyond, " ") or "none"
    running = given.running and running_result(source, channels, answer, set) or nil
  end
  list[#list + 1] = { name = "extrapolated", kind = "text", values = words }
  local r = result.new { columns = list, set = set, notes = { NOTE }, caution = cautions.heat, files = source.files }
  r.channels, r.running = channels, running
  if any then
    return r, "extrapolated", "the channels in column extrapolated leave the range of their evidence"
  end
  return r
end

return damage
