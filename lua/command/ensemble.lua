-- hairfibre ensemble SCHEDULE.lua --strands N: many strands of a population through one treatment. The schedule is a
-- Lua file that returns a table of options as hf.ensemble takes them; it runs in the sandbox.

local exit = require "command.exit"
local schedule = require "command.schedule"

local ensemble = {}

local function parser()
  local p, page = require("command.options").new("ensemble",
    "Runs many strands through the treatment that a Lua file returns, prints what became of them, and saves one row "
      .. "a strand. A part of a large ensemble can run by itself, be stopped and go on; hairfibre merge joins parts.",
    "hairfibre ensemble examples/schedule.lua --strands 200 --save strands.csv")
  p:argument("schedule", "Lua file that returns a table: treatment = { steps }, and options.")
  p:option("--strands", "How many strands; needed unless the file says so."):argname("NUMBER")
  p:option("--population", "Named population: asian, caucasian, african-american."):argname("NAME")
  p:option("--within-head", "Spread of the diameter on one head instead, such as 15%."):argname("SHARE")
  p:option("--pull", "Force on every strand afterwards, such as 0.5N: how many break?"):argname("FORCE")
  p:option("--seed", "Seed of the random numbers. Default: 1."):argname("NUMBER")
  p:option("--set", "Named set of parameters, or a file of one. Default: virgin."):argname("NAME")
  p:option("--change", "Another value for one parameter; as often as needed."):argname("NAME=VALUE"):count("*")
  p:flag("--parameters", "Draw the parameters anew for every strand.")
  p:flag("--lumped", "One temperature for the whole fibre: faster.")
  p:option("--part", "Only this part, such as 2/8, for several machines."):argname("PART/PARTS")
  p:option("--threads", "Threads; as many as there are processors by default."):argname("NUMBER")
  p:option("--save", "Write the strands to this .csv file, with a .json file beside it."):argname("FILE.csv")
  p:option("--every", "Time between two savings on the way. Default: 30s."):argname("TIME")
  p:flag("--resume", "Go on from the file of --save when it is there.")
  p:flag("--json", "The summary as one JSON object, in SI units.")
  return page
end

-- ---- reading ------------------------------------------------------------------------------------------

-- Options of the command line over those of the file.
local function plan_of(arguments, library)
  local plan, input = schedule.read(arguments.schedule, library)
  plan.strands = schedule.number(arguments.strands, "strands") or plan.strands
  plan.seed = schedule.number(arguments.seed, "seed") or plan.seed
  plan.threads = schedule.number(arguments.threads, "threads") or plan.threads
  plan.population = arguments.population or plan.population
  plan.pull = arguments.pull or plan.pull
  plan.within_head = arguments.within_head or plan.within_head
  plan.parameters = arguments.parameters or plan.parameters
  plan.lumped = arguments.lumped or plan.lumped
  plan.part = arguments.part or plan.part
  plan.every = arguments.every or plan.every
  plan.input, plan.save, plan.resume = input, arguments.save, nil
  if arguments.resume then
    if not arguments.save then
      exit.fail("usage", "--resume goes on from the file of --save; give both")
    end
    plan.resume = arguments.save
  end
  if arguments.set or #arguments.change > 0 then
    plan.set = require("command.catalogue").parameters(arguments.set, arguments.change)
  end
  if plan.strands == nil then
    exit.fail("usage", "how many strands? give --strands, such as --strands 1000")
  end
  return plan
end

-- ---- the page -----------------------------------------------------------------------------------------

local SHARES = { "boils", "voids", "breaks", "extrapolated" }
local LEFT_OUT = { strand = true, status = true, boils = true, voids = true, breaks = true, extrapolated = true }

local function as_json(e)
  local json = require "command.json"
  local s, shares, numbers = e.stamp, {}, {}
  for i, name in ipairs(SHARES) do
    local share, low, high = e:share(name)
    shares[i] = { name, share and json.object { { "share", share }, { "low", low }, { "high", high } } }
  end
  for _, column in ipairs(e.columns) do
    local p = not LEFT_OUT[column.name] and e:percentiles(column.name)
    if p then
      numbers[#numbers + 1] = { column.name, json.object { { "unit", column.unit }, { "n", p.n }, { "mean", p.mean },
        { "deviation", p.deviation }, { "median", p.value[3] }, { "median_error", p.error[3] },
        { "half_low", p.value[2] }, { "half_high", p.value[4] }, { "low", p.value[1] }, { "high", p.value[5] } } }
    end
  end
  local fields = { { "strands", s.strands }, { "part", ("%d/%d"):format(s.part, s.parts) }, { "done", e.done },
    { "complete", e.complete }, { "shares", json.object(shares) }, { "numbers", json.object(numbers) } }
  for _, pair in ipairs(require("hairfibre.provenance").fields(e:provenance(), json)) do
    fields[#fields + 1] = pair
  end
  fields[#fields + 1] = { "caution", e.caution }
  json.write(json.object(fields))
end

--- What became of the strands, for people or for programs.
function ensemble.show(e, is_json)
  if is_json then
    as_json(e)
  else
    e:summary():print { ascii = true }
  end
end

--- Saves; true, or nil and a sentence.
function ensemble.save(e, path)
  return schedule.protected(e.save, e, path)
end

function ensemble.run(words)
  local arguments = require("command.options").parse(parser(), words)
  if not arguments then
    return exit.codes.ok
  end
  local library = require "hairfibre"
  local plan = plan_of(arguments, library)
  local e, message, code = schedule.call("output", library.ensemble, plan)
  if e.done > 0 then
    ensemble.show(e, arguments.json)
  end
  if code == "stopped" then
    local kept = plan.save and ("; %d of them are in %s, and --resume goes on"):format(e.done, plan.save) or ""
    exit.fail("interrupted", "interrupted%s", kept)
  end
  return message and exit.codes.failed or exit.codes.ok
end

return ensemble
