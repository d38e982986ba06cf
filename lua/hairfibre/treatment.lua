-- Treatments: a fibre, steps, and what happens inside.
--
--   local wet = hf.treat(hf.fibre { diameter = "70 um" },
--     { hf.soak { duration = "10 min" }, hf.blot {}, hf.plates { temperature = "200 degC", duration = "1 s" } })
--   wet:print(); wet.events; wet:plot { y = { "pressure_axis" } }
--   local more = hf.treat(wet, { hf.rest { duration = "10 min" } })     goes on from there, wet stays

local cautions = require "hairfibre.cautions"
local core = require "hairfibre.core"
local misuse = require "hairfibre.misuse"
local quantity = require "hairfibre.quantity"
local suggest = require "hairfibre.suggest"
local units = require "hairfibre.units"

local treatment = {}

-- ---- what a table of options may hold ---------------------------------------------------------------

local function number(unit)
  return { unit = unit, kind = "number" }
end
local KELVIN, FRACTION = { unit = "K", kind = "temperature" }, { unit = "1", kind = "fraction" }
local SECONDS, WHOLE = number "s", number "1"
-- Free water: "5 %" and 0.05 both mean kg per kg dry fibre.
local FILM = FRACTION
local BRANCH = { unit = "1", kind = "choice", choices = { "absorption", "desorption" } }
local LAW = { unit = "1", kind = "choice", choices = { "saturating", "exponential", "constant" } }

-- Reads the options `given` by the descriptors in `allowed`; the other keys of `extra` are left alone.
local function read(what, given, allowed, extra)
  if type(given) ~= "table" then
    misuse("%s takes a table of options, not a %s", what, type(given))
  end
  local names, numbers = {}, {}
  for name in pairs(allowed) do
    names[#names + 1] = name
  end
  for name in pairs(extra or {}) do
    names[#names + 1] = name
  end
  table.sort(names)
  for _, key in ipairs(suggest.sorted_keys(given)) do
    local descriptor = allowed[key]
    if descriptor then
      descriptor.name = key
      local x, message = units.value(given[key], descriptor)
      if not x then
        misuse("%s: %s", what, message)
      end
      numbers[key] = x
    elseif not (extra and extra[key]) then
      misuse("%s has no option \"%s\"%s", what, tostring(key), suggest.hint(key, names))
    end
  end
  return numbers
end

-- ---- fibre ------------------------------------------------------------------------------------------

local function field(descriptor)
  return { unit = descriptor.unit, kind = descriptor.kind, choices = descriptor.choices }
end

--- A fibre: diameter (of the circle of equal area, at measured_humidity), ellipticity, medulla (share of
--- the cross-section), temperature and humidity or regain at the start, film, branch, law, set.
function treatment.fibre(given)
  given = given or {}
  local numbers = read("fibre", given, { diameter = number "m", measured_humidity = field(FRACTION),
    ellipticity = field(WHOLE), medulla = field(FRACTION), temperature = field(KELVIN),
    humidity = field(FRACTION), regain = field(FRACTION), film = field(FILM), branch = field(BRANCH),
    law = field(LAW) }, { set = true })
  if numbers.humidity and numbers.regain then
    misuse("fibre: give humidity or regain at the start, not both")
  end
  return setmetatable({ numbers = numbers, set = quantity.parameters(given.set) },
    { __name = "hairfibre.fibre", __metatable = "hairfibre.fibre" })
end

-- ---- steps ------------------------------------------------------------------------------------------

local temperature_ramp = { "temperature", "temperature_end" }
local STEPS = {
  soak = { kind = "soak", needs = { "duration" }, takes = { "heat_transfer", table.unpack(temperature_ramp) },
    usual = { temperature = 293.15 } },
  blot = { kind = "blot", needs = {}, takes = { "film" } },
  air = { kind = "air", needs = { "duration", "temperature" },
    takes = { "temperature_end", "humidity", "humidity_end", "speed", "heat_transfer" } },
  dryer = { kind = "air", needs = { "duration", "temperature" },
    takes = { "temperature_end", "speed", "heat_transfer" }, usual = { speed = 5 } },
  steam = { kind = "steam", needs = { "duration", "temperature" },
    takes = { "temperature_end", "air_share", "speed", "heat_transfer" } },
  plates = { kind = "plates", needs = { "duration", "temperature" },
    takes = { "temperature_end", "contact", "sides", "passes", "interval" } },
  rest = { kind = "rest", needs = { "duration" }, takes = { "heat_transfer" } },
  pull = { kind = "pull", needs = { "duration", "cycles", "stress" }, takes = { "heat_transfer" } },
  bath = { kind = "bath", needs = { "duration", "ph" }, takes = { "ionic_strength", "heat_transfer",
    table.unpack(temperature_ramp) }, usual = { temperature = 293.15 } },
  bleach = { kind = "bleach", needs = { "duration", "ph", "peroxide" }, takes = { "ionic_strength",
    "bleach_law", "heat_transfer", table.unpack(temperature_ramp) }, usual = { temperature = 293.15 } },
  reduce = { kind = "reduce", needs = { "duration", "ph", "concentration" }, takes = { "ionic_strength",
    "reduction_law", "heat_transfer", table.unpack(temperature_ramp) }, usual = { temperature = 293.15 } },
  neutralise = { kind = "neutralise", needs = { "duration" }, takes = { "ph", "ionic_strength",
    "heat_transfer", table.unpack(temperature_ramp) }, usual = { temperature = 293.15 } },
  rinse = { kind = "rinse", needs = { "duration" }, takes = { "ph", "ionic_strength", "heat_transfer",
    table.unpack(temperature_ramp) }, usual = { temperature = 293.15 } },
}

local FIELDS = { duration = SECONDS, temperature = KELVIN, temperature_end = KELVIN, humidity = FRACTION,
  humidity_end = FRACTION, speed = number "m/s", air_share = FRACTION, film = FILM,
  heat_transfer = number "W/(m2 K)", contact = number "W/(m2 K)", sides = WHOLE, passes = WHOLE,
  interval = SECONDS, cycles = WHOLE, stress = number "Pa", ph = WHOLE, ionic_strength = number "mol/m3", concentration = number "mol/m3",
  peroxide = FRACTION, bleach_law = { unit = "1", kind = "choice", choices = { "root", "steady" } },
  reduction_law = { unit = "1", kind = "choice", choices = { "uniform", "front" } } }

local Step = { __name = "hairfibre.step", __metatable = "hairfibre.step" }

local function step(name, shape)
  return function(given)
    local allowed = {}
    for _, list in ipairs { shape.needs, shape.takes } do
      for _, key in ipairs(list) do
        allowed[key] = field(FIELDS[key])
      end
    end
    local numbers = read(name, given or {}, allowed)
    for key, x in pairs(shape.usual or {}) do
      numbers[key] = numbers[key] or x
    end
    for _, key in ipairs(shape.needs) do
      if numbers[key] == nil then
        misuse("%s: %s is missing", name, key)
      end
    end
    numbers.heat_transfer, numbers.contact = numbers.heat_transfer or numbers.contact, nil
    numbers.law = numbers.bleach_law or numbers.reduction_law
    numbers.bleach_law, numbers.reduction_law = nil, nil
    return setmetatable({ kind = shape.kind, name = name, numbers = numbers }, Step)
  end
end

treatment.steps = {}
for name, shape in pairs(STEPS) do
  treatment[name] = step(name, shape)
  treatment.steps[#treatment.steps + 1] = name
end
table.sort(treatment.steps)

-- ---- running ----------------------------------------------------------------------------------------

local OPTIONS = { cells = WHOLE, tolerance = WHOLE, samples = WHOLE, zones = WHOLE, max_steps = WHOLE }

local function options_of(given)
  local allowed = {}
  for key, descriptor in pairs(OPTIONS) do
    allowed[key] = field(descriptor)
  end
  local numbers = read("treat", given, allowed, { room = true, lumped = true, profiles = true })
  numbers.lumped = given.lumped and 1 or 0
  numbers.profiles = given.profiles == false and 0 or 1
  return numbers
end

local function room_of(given)
  if given == nil then
    return {}
  end
  local numbers = read("room", given, { temperature = field(KELVIN), humidity = field(FRACTION),
    pressure = number "Pa", altitude = number "m" })
  if numbers.altitude then
    if numbers.pressure then
      misuse("room: give pressure or altitude, not both")
    end
    local hf = require "hairfibre"
    numbers.pressure = hf.standard_pressure(numbers.altitude) or misuse("room: altitude is out of range")
    numbers.altitude = nil
  end
  return numbers
end

local CHEMICAL = { bath = true, bleach = true, reduce = true, neutralise = true, rinse = true }

-- What a treatment can burn with: heat and reagents, in the words of the steps.
local function add_dangers(list, steps)
  for _, one in ipairs(steps) do
    local t = math.max(one.numbers.temperature or 0, one.numbers.temperature_end or 0)
    list.chemical = list.chemical or CHEMICAL[one.kind]
    list.heat = list.heat or t > 318.15
  end
  return list
end

local function check_steps(steps)
  if type(steps) ~= "table" or getmetatable(steps) == "hairfibre.step" then
    misuse("treat takes a list of steps: { hf.soak{...}, hf.plates{...} }")
  end
  for i = 1, #steps do
    if getmetatable(steps[i]) ~= "hairfibre.step" then
      misuse("step %d is no step: make it with %s", i, "hf." .. suggest.list(treatment.steps):gsub(" or ", " or hf."))
    end
  end
end

local WORDED = setmetatable({ diameter = number "m", measured_humidity = FRACTION, ellipticity = WHOLE,
  medulla = FRACTION, regain = FRACTION, pressure = number "Pa", branch = BRANCH }, { __index = FIELDS })

--- Runs a fibre, or on from an earlier result, through a list of steps. Result with columns, or with what
--- was computed so far and a sentence and code behind it; nil, sentence, code where nothing could start.
function treatment.treat(subject, steps, options)
  check_steps(steps)
  local simulation, message, code
  local history = require "hairfibre.treatment.result"
  local words = require "hairfibre.treatment.words"
  local set, settings, dangers = nil, nil, {}
  if history.is(subject) then
    if options ~= nil then
      misuse("treat: options belong to the first call; a result goes on as it began")
    end
    set, settings = subject.set, table.move(subject.settings, 1, #subject.settings, 1, {})
    dangers = { heat = subject.dangers.heat, chemical = subject.dangers.chemical }
    simulation, message, code = history.simulation(subject):copy()
  elseif getmetatable(subject) == "hairfibre.fibre" then
    options = options or {}
    set = subject.set
    local room = room_of(options.room)
    settings = words.subject(subject.numbers, set, room, WORDED)
    simulation, message, code = core.simulation(set, subject.numbers, room, options_of(options))
  else
    misuse("treat needs a fibre (hf.fibre{...}) or an earlier result first")
  end
  if not simulation then
    return nil, message, code
  end
  local ok
  ok, message, code = simulation:run(steps)
  if not ok and code ~= "stopped" and code ~= "convergence" and code ~= "memory" then
    return nil, message, code
  end
  local r = history.new(simulation, set, not ok and message)
  r.settings = words.add_steps(settings, steps, WORDED)
  r.dangers = add_dangers(dangers, steps)
  r.caution = cautions.line(r.dangers) or cautions.bench
  if not ok then
    return r, message, code
  end
  return r
end

-- The same reading for ensembles.
treatment.options, treatment.room, treatment.check_steps = options_of, room_of, check_steps

return treatment
