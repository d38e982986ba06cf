-- Files when things go wrong: no room, no permission, two at the same name, kills. Nothing half written ever stands
-- under the final name, nothing that was saved is lost, and going on gives the bytes of a run that was left alone.
package.path = "tests/command/?.lua;" .. package.path
local h = require "harness"
local program = h.quote(h.program)
local passed_over = {}

local function pair(name)
  return h.read(h.work .. "/" .. name .. ".csv"), h.read(h.work .. "/" .. name .. ".json")
end

local function leftovers()
  local _, out = h.shell("find . -name '*.tmp'")
  return out
end

-- Exit code, one sentence, the old bytes, no remains.
local function refused(what, code, err, sentence, before, after)
  h.check(code == 7 and err:find("^hairfibre: [^\n]*\n$") ~= nil and err:find(sentence, 1, true) ~= nil
    and before == after and leftovers() == "", what, ("exit %d\n%s%s"):format(code, err, leftovers()))
end

h.write("short.lua", [[
local hf = require "hairfibre"
return { population = "asian", lumped = true, cells = 20, treatment = {
  hf.soak { duration = "1 min" }, hf.blot {}, hf.plates { temperature = "150 degC", duration = "0.5 s" } } }
]])
h.write("save.lua", [[
local hf = require "hairfibre"
local list = {}
for i = 1, 20000 do list[i] = i / 7 end
local done, message = hf.result { columns = { { name = "x", values = list } } }:save(arg[1])
if not done then error(message, 0) end
]])
local SHORT = program .. " ensemble short.lua --strands 60 --threads 1 "

-- ---- no room: a limit on the size of files, and a small disk of its own
h.write("old.csv", "old")
local code, _, err = h.shell("(ulimit -f 16; " .. program .. " run save.lua old.csv)")
h.check(code == 1 and err:find("cannot write ./old.csv: the file would be larger", 1, true) and leftovers() == ""
  and h.read(h.work .. "/old.csv") == "old", "a script at the limit of file sizes", ("exit %d\n%s"):format(code, err))
code, _, err = h.shell("(ulimit -f 16; " .. SHORT .. "--save old.csv)")
refused("an ensemble at the limit of file sizes", code, err, "the file would be larger", "old", h.read(h.work .. "/old.csv"))

-- A disk in a namespace of mounts: it goes with the shell that made it.
local function on_disk(options, line)
  return h.shell(("mkdir -p disk && unshare -m sh -c %s"):format(h.quote(
    ("mount -t tmpfs -o %s none disk || exit 99; %s"):format(options, line))))
end
if on_disk("size=64k", "true") == 0 then
  local out
  code, out, err = on_disk("size=16k", ("echo old >disk/one.csv; %s --save disk/one.csv >/dev/null; echo $? $(cat disk/one.csv); "
    .. "find disk -name '*.tmp'"):format(SHORT))
  h.check(code == 0 and out == "7 old\n" and err:find("cannot write disk/one.csv: the disk is full", 1, true) ~= nil,
    "the disk is full", out .. err)
  -- What was saved before the disk filled up stays, and is gone on from.
  code, out, err = on_disk("size=120k", ([[
    %s ensemble short.lua --strands 60 --part 1/2 --save disk/half.csv >/dev/null && cp disk/half.* . &&
    dd if=/dev/zero of=disk/filler bs=1k 2>/dev/null
    %s ensemble short.lua --strands 60 --part 1/2 --save disk/half.csv >/dev/null; echo $?
    cmp disk/half.csv half.csv && cmp disk/half.json half.json && ls -A disk]]):format(program, program))
  h.check(out == "7\nfiller\nhalf.csv\nhalf.json\n", "a disk that fills up later", ("exit %d\n%s%s"):format(code, out, err))
  code, out, err = on_disk("size=64k,ro", ("%s --save disk/one.csv; echo $?"):format(SHORT))
  h.check(out:find("7\n$") ~= nil and err:find("cannot write disk/one.csv: the disk is read-only", 1, true) ~= nil,
    "the disk is read-only", out .. err)
else
  passed_over[#passed_over + 1] = "disks (needs the right to mount)"
end

-- ---- a folder that may be read only, as somebody who is not root
local _, user = h.shell("id -u")
local as = user == "0\n" and "setpriv --reuid=65534 --regid=65534 --clear-groups " or ""
h.shell("chmod 755 .. . && mkdir closed && echo old >closed/one.csv && chmod 555 closed")
if h.shell(as .. program .. " --version") == 0 then
  code, _, err = h.shell(as .. SHORT .. "--save closed/two.csv")
  refused("a read-only folder", code, err, "cannot write closed/two.csv: permission is denied", nil, (pair("closed/two")))
  code, _, err = h.shell("chmod 444 closed/one.csv; " .. as .. SHORT .. "--save closed/one.csv")
  refused("a read-only file", code, err, "cannot write closed/one.csv: permission is denied", "old\n", (pair("closed/one")))
  -- One that is there and may not be read is not taken for one that is not there.
  h.shell("mkdir mine && " .. SHORT .. "--save mine/one.csv && chmod 777 mine && chmod 666 mine/one.csv && chmod 200 mine/one.json")
  local rows_before = h.read(h.work .. "/mine/one.csv")
  code, _, err = h.shell(as .. SHORT .. "--seed 2 --save mine/one.csv --resume")
  h.check(code == 7 and err:find("cannot read mine/one.json: permission is denied", 1, true) ~= nil
    and h.read(h.work .. "/mine/one.csv") == rows_before, "a stamp that may not be read", err)
else
  passed_over[#passed_over + 1] = "read-only folder (the program is out of reach for another user)"
end

-- ---- two processes at the same name: one of the two, whole
h.shell(SHORT .. "--save a.csv; " .. SHORT .. "--seed 2 --save b.csv")
local a_rows, a_stamp = pair("a")
local b_rows, b_stamp = pair("b")
h.check(a_rows ~= b_rows and a_stamp ~= b_stamp, "two ensembles that differ")
for _ = 1, 3 do
  h.shell(SHORT .. "--save both.csv --every 0.01s & " .. SHORT .. "--seed 2 --save both.csv --every 0.01s & wait")
  local rows, stamp = pair("both")
  h.check(rows == a_rows or rows == b_rows, "two writers: the rows are of one of them")
  h.check(stamp == a_stamp or stamp == b_stamp, "two writers: the stamp is of one of them")
end
h.check(leftovers() == "", "two writers leave nothing else", leftovers())
-- Rows of one and stamp of the other are not taken for an ensemble.
h.shell("cp a.csv mixed.csv; cp b.json mixed.json")
for _, words in ipairs { { "merge", "mixed.csv" },
  { "ensemble", "short.lua", "--strands", "60", "--seed", "2", "--save", "mixed.csv", "--resume" } } do
  words.code, words.err = 3, { "mixed.csv and mixed.json come from different ensembles" }
  h.row(words)
end
-- The same ensemble twice at once.
h.shell(SHORT .. "--save both.csv --every 0.01s & " .. SHORT .. "--save both.csv --every 0.01s & wait")
local rows, stamp = pair("both")
h.check(rows == a_rows and stamp == a_stamp, "the same ensemble by two writers")

-- ---- killed at random moments, again and again, until it is done
math.randomseed(20, 26)
local MANY = program .. " ensemble short.lua --strands 400 --threads 1 "
local _, _, took = h.shell("date +%s%N >&2; " .. MANY .. "--save whole.csv; date +%s%N >&2")
local began, ended = took:match("(%d+)\n(%d+)")
local seconds = (ended - began) / 1e9
local kept, kills, problems = 0, 0, {}
for round = 1, 60 do
  -- Soon enough that several are needed, later each time so that an end is reached on a busy machine too.
  local pause = seconds * (0.1 + 0.3 * math.random()) * (1 + round / 10)
  code = h.shell(("timeout -s KILL %.3f %s --save killed.csv --every 0.02s --resume"):format(pause, MANY))
  if code == 0 then
    break
  end
  kills = kills + 1
  rows, stamp = pair("killed")
  local n, last = 0, kept
  for line in (rows or ""):gmatch("([^\n]*)\n") do
    n = n + (line:find("^%d+,ok,") and 1 or 0)
  end
  kept = n
  if code ~= 137 or n < last then
    problems[#problems + 1] = ("kill %d: exit %d, %d rows after %d"):format(kills, code, n, last)
  end
  if rows and (rows:sub(-1) ~= "\n" or rows:find("\n[^\n]*\n?$") and not rows:match("([^\n]*)\n$"):find("^%d+,ok,.*%d$")) then
    problems[#problems + 1] = ("kill %d: half a file of rows: %s"):format(kills, rows:sub(-80))
  end
  if stamp and stamp:sub(-2) ~= "}\n" then
    problems[#problems + 1] = ("kill %d: half a stamp: %s"):format(kills, stamp:sub(-80))
  end
end
h.check(code == 0 and kills >= 3, "kills at random moments, then an end", ("exit %d after %d kills"):format(code, kills))
if h.shell("python3 -c 'import os; os.open(\".\", os.O_TMPFILE | os.O_RDWR)'") == 0 then
  -- One kill may fall between the two last steps, when the file is complete.
  h.check(select(2, leftovers():gsub("\n", "")) <= 1, "kills leave nothing behind", leftovers())
else
  passed_over[#passed_over + 1] = "nothing behind after a kill (files need names on this disk)"
end
h.check(#problems == 0, "whole files after every kill, and never fewer rows", table.concat(problems, "\n"))
local whole_rows, whole_stamp = pair("whole")
rows, stamp = pair("killed")
h.check(rows == whole_rows and stamp == whole_stamp, ("the bytes of one run after %d kills"):format(kills))

if #passed_over > 0 then
  print("passed over: " .. table.concat(passed_over, ", "))
end
h.finish()
