-- Many strands of a population through one treatment.
--
--   local e = hf.ensemble { population = "caucasian", strands = 1000, seed = 7, treatment = {
--     hf.soak { duration = "10 min" }, hf.blot {}, hf.plates { temperature = "200 degC", duration = "1 s" } } }
--   print(e:share("voids")); e:summary():print(); e:save("strands.csv")
--
-- A part: part = "2/8"; hf.merge { "part1.csv", "part2.csv", ... } gives what one run would have given.

local core = require "hairfibre.core"
local kept = require "hairfibre.ensemble.result"
local misuse = require "hairfibre.misuse"
local quantity = require "hairfibre.quantity"
local stamps = require "hairfibre.ensemble.stamp"
local strands = require "hairfibre.ensemble.strands"
local suggest = require "hairfibre.suggest"
local treatment = require "hairfibre.treatment"
local units = require "hairfibre.units"

local ensemble = {}

local EVERY = 30 -- s between two savings of what is done

local NAMES = { "population", "strands", "treatment", "fibre", "room", "seed", "threads", "lumped", "part", "resume",
  "parameters", "within_head", "pull", "set", "cells", "tolerance", "samples", "zones", "max_steps", "save", "every",
  "progress", "input" }

-- ---- reading a plan -----------------------------------------------------------------------------------

local function whole(name, x, low, high)
  local number = math.tointeger(x) or (type(x) == "string" and math.tointeger(core.number(x) or 0.5))
  if not number or number < low or number > high then
    misuse("ensemble: %s must be a whole number from %d to %d", name, low, high)
  end
  return number
end

local function fraction(name, x)
  local number, message = units.value(x, { name = name, unit = "1", kind = "fraction" })
  return number or misuse("ensemble: %s", message)
end

local POPULATION = { area = { unit = "m2" }, area_spread = { unit = "m2" }, ellipticity = { unit = "1" },
  ellipticity_spread = { unit = "1" }, medulla_low = { unit = "1", kind = "fraction" },
  medulla_high = { unit = "1", kind = "fraction" } }

-- The numbers of a population, and its name for the record.
local function population_of(given)
  if given == nil then
    return nil, "none"
  elseif type(given) == "string" then
    local names = {}
    for i, one in ipairs(core.populations()) do
      if one.name == given then
        return one, given
      end
      names[i] = one.name
    end
    misuse("ensemble: there is no population \"%s\"%s", given, suggest.hint(given, names))
  elseif type(given) ~= "table" then
    misuse("ensemble: population must be a name or a table, not a %s", type(given))
  end
  local numbers, names = {}, {}
  for name in pairs(POPULATION) do
    names[#names + 1] = name
  end
  table.sort(names)
  for _, key in ipairs(suggest.sorted_keys(given)) do
    local what = POPULATION[key]
    if not what then
      misuse("population has no \"%s\"%s", tostring(key), suggest.hint(key, names))
    end
    local x, message = units.value(given[key], { name = key, unit = what.unit, kind = what.kind or "number" })
    numbers[key] = x or misuse("population: %s", message)
  end
  if not numbers.area then
    misuse("population: area is missing")
  end
  return numbers, "own"
end

local function part_of(given)
  if given == nil then
    return 1, 1
  end
  local part, parts = tostring(given):match("^%s*(%d+)%s*/%s*(%d+)%s*$")
  part, parts = math.tointeger(tonumber(part)), math.tointeger(tonumber(parts))
  if not part or not parts or part < 1 or part > parts then
    misuse("ensemble: part must look like \"2/8\": the second of eight")
  end
  return part, parts
end

local function set_of(given)
  local set = quantity.parameters(given.set)
  local own = given.fibre and given.fibre.set
  if set and own and set ~= own then
    misuse("ensemble: the fibre brings a set of its own; give set once")
  end
  return set or own
end

-- Same options as of treat; what is not given is coarser than there.
local function options_of(given)
  local named = { lumped = given.lumped, profiles = false }
  for _, key in ipairs { "cells", "tolerance", "samples", "zones", "max_steps" } do
    named[key] = given[key]
  end
  return treatment.options(named)
end

local function check_keys(given, names)
  if type(given) ~= "table" then
    misuse("ensemble takes a table of options, not a %s", type(given))
  end
  local known = {}
  for _, name in ipairs(names) do
    known[name] = true
  end
  for _, key in ipairs(suggest.sorted_keys(given)) do
    if not known[key] then
      misuse("ensemble has no option \"%s\"%s", tostring(key), suggest.hint(key, names))
    end
  end
  if given.fibre ~= nil and getmetatable(given.fibre) ~= "hairfibre.fibre" then
    misuse("ensemble: fibre must be made with hf.fibre{...}")
  elseif given.treatment == nil then
    misuse("ensemble: treatment is missing: a list of steps, as hf.treat takes them")
  elseif given.strands == nil then
    misuse("ensemble: strands is missing: how many fibres")
  end
  if given.input ~= nil and not stamps.is_input(given.input) then
    misuse("ensemble: input must be { name =, sha256 = }")
  end
  for _, key in ipairs { "save", "resume" } do
    if given[key] ~= nil then
      strands.check_path(given[key])
    end
  end
end

local function force(x)
  local number, message = units.value(x, { name = "pull", unit = "N", kind = "number" })
  return number or misuse("ensemble: %s", message)
end

local function seconds(x)
  local number, message = units.value(x == nil and EVERY or x, { name = "every", unit = "s", kind = "number" })
  if not number or number <= 0 then
    misuse("ensemble: %s", message or "every must be a time above 0 s")
  end
  return number
end

-- What decides the numbers, for the record and for the digest of the C half.
local function plan_of(given)
  local plan = { strands = whole("strands", given.strands, 1, 100000000), seed = whole("seed", given.seed or 1, 0, 1 << 53) }
  plan.part, plan.parts = part_of(given.part)
  if plan.parts > plan.strands then
    misuse("ensemble: more parts than strands")
  end
  plan.population, plan.population_name = population_of(given.population)
  plan.within_head = given.within_head ~= nil and fraction("within_head", given.within_head) or nil
  plan.draw_parameters = given.parameters and true or false
  plan.pull = given.pull ~= nil and force(given.pull) or nil
  return plan
end

-- ---- running ------------------------------------------------------------------------------------------

-- Options in use, in a fixed order, as they go into the record.
local function describe(options, plan)
  local list = { { "population", plan.population_name } }
  for _, name in ipairs { "area", "area_spread", "ellipticity", "ellipticity_spread", "medulla_low", "medulla_high",
    "within_head" } do
    local x = name == "within_head" and plan.within_head or plan.population_name == "own" and plan.population[name]
    list[#list + 1] = x and { name, x } or nil
  end
  list[#list + 1] = plan.pull and { "pull", plan.pull } or nil
  list[#list + 1] = { "draw_parameters", plan.draw_parameters }
  for _, name in ipairs { "cells", "tolerance", "lumped", "samples", "zones", "max_steps" } do
    list[#list + 1] = { name, options[name] }
  end
  return list
end

local function put_back(object, record, path)
  local row = {}
  for i = 1, #record.rows do
    for c, column in ipairs(record.columns) do
      row[c] = column[i]
    end
    local done, message, code = object:put(row)
    if not done then
      return nil, ("%s: %s"):format(path, message), code
    end
  end
  return true
end

local function resume(object, given, stamp)
  local record, message, code = strands.read(given.resume)
  if not record then
    if code == "none" then
      return true -- nothing to go on from
    end
    return nil, message, code
  end
  local differs = stamps.difference(record.stamp, stamp)
  if differs then
    return nil, ("%s belongs to another ensemble: %s differ"):format(given.resume, differs), "data"
  end
  return put_back(object, record, given.resume)
end

--- A plan as the C half takes it: { set, fibre, room, options, steps, plan }. `more`: names of options besides those of
--- an ensemble.
function ensemble.read(given, more)
  check_keys(given, more and table.move(NAMES, 1, #NAMES, #more + 1, { table.unpack(more) }) or NAMES)
  treatment.check_steps(given.treatment)
  return { set = set_of(given), fibre = given.fibre and given.fibre.numbers or {}, room = treatment.room(given.room),
    options = options_of(given), steps = given.treatment, plan = plan_of(given) }
end

--- An ensemble of what was read, nothing computed, with { { name, value }, ... } of what it uses; or nil, sentence, code.
function ensemble.object(r)
  local object, message, code = core.ensemble(r.set, r.fibre, r.room, r.options, r.steps, r.plan)
  if not object then
    return nil, message, code
  end
  return object, describe(object:options(), r.plan)
end

--- Runs an ensemble. Options: strands and treatment (needed); population (a name or a table with area, area_spread,
--- ellipticity, ellipticity_spread, medulla_low, medulla_high; without: every strand is the fibre), within_head
--- (coefficient of variation of the diameter), pull (force on every strand afterwards, in the room's air), parameters
--- (true: drawn anew for every strand), fibre, room, set, seed (1), lumped, cells, tolerance, samples, zones, max_steps;
--- part ("2/8"), threads, save (a .csv that is written on the way too), every (time between two savings on the way,
--- 30 s), resume (such a file to go on from), progress (false: no line on the terminal).
--- A result with one row a strand, and summary(), percentiles(), share(), save(); when stopped what is done, with a
--- sentence and a code behind it; or nil, sentence, code.
function ensemble.run(given)
  local read = ensemble.read(given)
  local set, plan = read.set, read.plan
  local object, options, code = ensemble.object(read)
  if not object then
    return nil, options, code
  end
  local stamp = stamps.new(set, plan, object:digest(), options, given.input)
  if given.resume ~= nil then
    local going, why, class = resume(object, given, stamp)
    if not going then
      return nil, why, class
    end
  end
  local every = seconds(given.every)
  local done, message
  repeat
    done, message, code = object:run(given.threads and whole("threads", given.threads, 1, 4096) or 0,
      given.save and every or 0, given.progress ~= false)
    if not done and code ~= "time" and code ~= "stopped" then
      return nil, message, code
    end
    if given.save then
      local saved, why, class = kept.from_object(object, stamp, set):save(given.save)
      if not saved then
        return nil, why, class
      end
    end
  until done or code ~= "time"
  local r = kept.from_object(object, stamp, set)
  if not done then
    return r, message, code
  end
  return r
end


--- Named populations { name, text, source, place, known, area, area_spread, ... }.
ensemble.populations = core.populations

return ensemble
