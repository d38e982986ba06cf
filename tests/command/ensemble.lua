-- hairfibre ensemble and merge: options, parts, interrupts, kills; and docs/cluster.md as it stands.
package.path = "tests/command/?.lua;" .. package.path
local h = require "harness"
local dkjson = require "dkjson"
local program = h.quote(h.program)

local function same(a, b, what)
  for _, ending in ipairs { ".csv", ".json" } do
    local one, two = h.read(h.work .. "/" .. a .. ending), h.read(h.work .. "/" .. b .. ending)
    h.check(one ~= nil and one == two, ("%s: %s%s is %s%s"):format(what, a, ending, b, ending))
  end
end

local function stamp(name)
  return dkjson.decode(h.read(h.work .. "/" .. name .. ".json") or "") or {}
end

h.write("short.lua", [[
local hf = require "hairfibre"
return { population = "asian", lumped = true, cells = 20, treatment = {
  hf.soak { duration = "1 min" }, hf.blot {}, hf.plates { temperature = "150 degC", duration = "0.5 s" } } }
]])

-- ---- what is printed
h.row { "ensemble", "short.lua", "--strands", "60", "--save", "one.csv", "--threads", "1", writes = true, out = {
  "what", "median", "97.5%", "error", "60 strands", ", set virgin, digest ", "Bench samples" } }
local _, text = h.run { "ensemble", "short.lua", "--strands", "60" }
h.narrow(text, "hairfibre ensemble")
local out = h.row { "ensemble", "short.lua", "--strands", "60", "--json" }
local object = dkjson.decode(out) or {}
for _, key in ipairs { "strands", "part", "done", "complete", "shares", "numbers", "inputs", "set", "digest",
  "changed", "version", "options", "caution" } do
  h.check(object[key] ~= nil, "ensemble --json has the key " .. key, out)
end
h.check(object.shares.voids.low <= object.shares.voids.share and object.shares.voids.share <= object.shares.voids.high,
  "a share lies in its interval")
h.check(object.numbers.diameter.low < object.numbers.diameter.median and object.numbers.diameter.median_error > 0,
  "a median has its sampling error")
local _, sum = h.shell("sha256sum short.lua")
h.check(object.inputs[1].sha256 == sum:match("%x+") and object.inputs[1].name == "short.lua", "checksum of the schedule", out)

-- ---- the same bytes from any number of threads, from parts side by side, after an interrupt, after a kill
h.row { "ensemble", "short.lua", "--strands", "60", "--save", "two.csv", "--threads", "2", writes = true }
same("one", "two", "two threads")
local code, _, err = h.shell("parallel --jobs 2 " .. program .. " ensemble short.lua --strands 60 --part {}/7 --threads 1 "
  .. "--save part{}.csv '>' /dev/null ::: 1 2 3 4 5 6 7 && " .. program .. " merge part?.csv --save joined.csv >/dev/null")
h.check(code == 0, "seven parts by GNU parallel", err)
same("one", "joined", "seven parts")

-- Long enough to be stopped on the way: some seconds.
h.write("long.lua", (h.read(h.work .. "/short.lua"):gsub("lumped = true, cells = 20", "cells = 60")))
local LONG = "ensemble long.lua --strands 1000 --threads 1 "
h.shell(program .. " " .. LONG .. "--save whole.csv")
-- Waits for a first saving, then sends a signal.
local function stopped(signal, name)
  return h.shell(("rm -f %s.*; %s %s--every 0.05s --save %s.csv >/dev/null & pid=$!; until test -s %s.json; do sleep 0.01; "
    .. "done; kill -%s $pid; wait $pid"):format(name, program, LONG, name, name, signal))
end
for _, signal in ipairs { "INT", "TERM" } do
  code, _, err = stopped(signal, "halted")
  local done = stamp("halted").done or 0
  h.check(code == 130 or code == 143 and signal == "TERM", signal .. ": exit code", ("exit %d %s"):format(code, err))
  h.check(done > 0 and done < 1000, signal .. ": what was done is kept", tostring(done))
  h.row { "ensemble", "long.lua", "--strands", "1000", "--save", "halted.csv", "--resume", writes = true }
  same("whole", "halted", signal .. ", resumed")
end
code = stopped("KILL", "killed")
h.check(code == 137, "killed", "exit " .. code)
local done = stamp("killed").done or 0
h.check(done > 0 and done < 1000, "killed: what was saved is whole", tostring(done))
h.row { "ensemble", "long.lua", "--strands", "1000", "--save", "killed.csv", "--resume", writes = true }
same("whole", "killed", "killed, resumed")
h.shell("rm -f .hairfibre-*.tmp .*.hairfibre-*.tmp") -- what a kill may leave

-- ---- options on the command line over those of the file
out = h.row { "ensemble", "short.lua", "--strands", "20", "--population", "caucasian", "--seed", "9", "--set", "bleached", "--change",
  "sorption.scale=1.1", "--within-head", "15%", "--parameters", "--part", "1/2", "--json" }
object = dkjson.decode(out) or {}
h.check(object.done == 10 and object.part == "1/2" and object.options.seed == 9 and object.set == "bleached"
  and object.changed[1].name == "sorption.scale" and object.options.population == "caucasian"
  and object.options.within_head == 0.15 and object.options.draw_parameters == true, "options take effect", out)

-- ---- what is refused
local rows = {
  { "ensemble", code = 2, err = { "schedule" } },
  { "ensemble", "short.lua", code = 2, err = { "--strands 1000" } },
  { "ensemble", "short.lua", "--strands", "many", code = 2, err = { "whole number", "many" } },
  { "ensemble", "short.lua", "--strands", "20", "--population", "asin", code = 2, err = { 'did you mean "asian"?' } },
  { "ensemble", "short.lua", "--strands", "20", "--part", "3/2", code = 2, err = { "2/8" } },
  { "ensemble", "short.lua", "--strands", "20", "--save", "x.txt", code = 2, err = { ".csv" } },
  { "ensemble", "short.lua", "--strands", "20", "--resume", code = 2, err = { "--save" } },
  { "ensemble", "short.lua", "--strands", "20", "--every", "5", "--save", "x.csv", code = 2, err = { "every", "unit" } },
  { "ensemble", "short.lua", "--strands", "20", "--within-head", "90%", code = 4, err = { "within_head" } },
  { "ensemble", "nowhere.lua", "--strands", "20", code = 3, err = { "nowhere.lua" } },
  { "ensemble", "short.lua", "--strands", "60", "--seed", "2", "--save", "one.csv", "--resume", code = 3,
    err = { "another ensemble", "seeds differ" } },
  { "merge", code = 2, err = { "files" } },
  { "merge", "nowhere.csv", code = 3, err = { "nowhere.csv" } },
  { "merge", "part1.csv", "part3.csv", code = 3, err = { "42 of 60 strands are missing", "--partial" } },
  { "merge", "part1.csv", "part3.csv", "--partial", out = { "18 of 60 strands are done" } },
  { "merge", "part1.csv", "whole.csv", code = 3, err = { "does not belong to" } },
}
h.write("broken.lua", "return {\n treatment = }\n")
rows[#rows + 1] = { "ensemble", "broken.lua", "--strands", "20", code = 3, err = { "broken.lua, line 2" } }
h.write("number.lua", "return 5\n")
rows[#rows + 1] = { "ensemble", "number.lua", "--strands", "20", code = 3, err = { "must return a table" } }
h.write("shell.lua", "os.execute('touch gone')\nreturn {}\n")
rows[#rows + 1] = { "ensemble", "shell.lua", "--strands", "20", code = 3, err = { "shell.lua, line 1" } }
for _, row in ipairs(rows) do
  h.row(row)
end

-- ---- docs/cluster.md: every command, with a stand-in for the cluster and one part that is killed the first time
local page = h.read(h.root .. "/docs/cluster.md")
assert(h.shell("mkdir cluster && cd cluster && ln -s " .. h.quote(h.root .. "/examples") .. " examples && mkdir bin") == 0)
local function tool(name, lines)
  h.write("cluster/bin/" .. name, "#!/bin/sh\n" .. lines)
  assert(h.shell("chmod +x cluster/bin/" .. name) == 0)
end
tool("hairfibre", ([[
case "$*" in
*" 5/8 "*)
    if mkdir killed 2>/dev/null; then
        %s "$@" --every 0.02s &
        until test -s part-5.json; do sleep 0.01; done
        kill -KILL $!
        wait $!
        exit 137
    fi ;;
esac
exec %s "$@"
]]):format(program, program))
tool("srun", 'exec "$@"\n')
tool("sbatch", [[
case $1 in
--parsable)
    n=$(sed -n 's/^#SBATCH --array=1-//p' "$2")
    for i in $(seq "$n"); do
        SLURM_ARRAY_TASK_ID=$i SLURM_ARRAY_TASK_COUNT=$n SLURM_CPUS_PER_TASK=2 sh "$2" >"part-$i.txt" || exit 1
    done
    echo 77 ;;
--dependency=afterok:77) sh -c "$3" ;;
*) exit 1 ;;
esac
]])
local function in_cluster(line)
  return h.shell("cd cluster && PATH=\"$PWD/bin:$PATH\" && " .. line)
end
local whole = page:match("\n    (hairfibre ensemble [^\n]*)\n")
h.check(in_cluster(whole) == 0, whole)
local blocks = {}
for head, body in page:gmatch("\n```sh([^\n]*)\n(.-)```\n") do
  blocks[#blocks + 1] = { file = head:match("%S+"), body = body }
end
h.check(#blocks == 5, "docs/cluster.md has five blocks of commands")
for i, block in ipairs(blocks) do
  if block.file then
    h.write("cluster/" .. block.file, block.body)
    assert(h.shell("cd cluster && rm -f part-* strands.*") == 0) -- from here on another way to the same
  else
    local status, said, problem = in_cluster(block.body)
    -- The first block is the one in which a part is killed.
    h.check((status == 0) == (i > 1), "docs/cluster.md: " .. block.body, ("exit %d\n%s%s"):format(status, said, problem))
    if i == 1 then
      local kept = stamp("cluster/part-5").done or 0
      h.check(kept > 0 and kept < 250, "part 5 was killed on its way", tostring(kept))
    elseif block.body:find("merge", 1, true) then
      same("cluster/whole", "cluster/strands", "docs/cluster.md")
    end
  end
end

h.finish()
