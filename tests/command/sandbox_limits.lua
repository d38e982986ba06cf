-- Time and memory of a script that is not trusted. Each row ends with a sentence, within MARGIN seconds of its time
-- cap, and never holds more than its memory cap and what sandbox.c grants beside it.
package.path = "tests/command/?.lua;" .. package.path
local h = require "harness"

local SECONDS, LONG, MEGABYTES = 0.2, 60, 60
local MARGIN = 2 -- s: GRACE of sandbox.c
local SLACK = 2 -- s: starting the program on a busy machine
local _, processors = h.shell("getconf _NPROCESSORS_ONLN")
-- MB: the cap, the program itself (8), and the margin of sandbox.c (64, and 12 for each processor)
local MOST = MEGABYTES + 8 + 64 + 12 * tonumber(processors)

-- Seconds and megabytes of a child. Sanitizers hold memory of their own.
local sanitised = (os.getenv("SANITISE") or "") ~= ""
h.write("measured.py", [[
import resource, subprocess, sys, time
began = time.monotonic()
code = subprocess.call(sys.argv[2:])
open(sys.argv[1], "w").write("%.3f %.1f" % (time.monotonic() - began, resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024))
sys.exit(code)
]])

local fit = [[
local hf = require "hairfibre"
local x, y = { 0.1, 0.3, 0.5, 0.6, 0.7, 0.8 }, { 0.04, 0.07, 0.1, 0.12, 0.15, 0.2 }
local function by(model)
  return hf.fit { model = model, parameters = { "b" }, start = { b = 1 }, x = x, y = y }
end
]]
local library = 'local hf = require "hairfibre"\n'

-- name, script, exit code, fragment of stdout, fragment of stderr
local TIME, ENDED, MEMORY = "was stopped after 0.2 s", "did not stop at its time limit and was ended", "needs more than 60MB"
local rows = {
  -- ---- time, in Lua: the script is stopped, and says so
  { "an endless loop", "while true do end", 6, "", TIME },
  { "an endless loop that catches", "while true do pcall(function() while true do end end) end", 6, "", "hairfibre: " },
  { "a loop in an endless row of coroutines", "while true do pcall(coroutine.wrap(function() while true do end end)) end", 6, "",
    "hairfibre: " },
  { "a loop in a __close", "local x <close> = setmetatable({}, { __close = function() while true do end end }) error('x')", 6, "",
    TIME },
  { "a loop in a __lt of a sort", [[
    local m = { __lt = function() while true do end end }
    table.sort { setmetatable({}, m), setmetatable({}, m), setmetatable({}, m) }]], 6, "", TIME },
  { "a loop in the handler of an error", "xpcall(error, function() while true do end end)", 6, "", "hairfibre: " },
  { "a loop in the text of an error", "error(setmetatable({}, { __tostring = function() while true do end end }))", 6, "",
    "hairfibre: " },
  { "a loop in a model", fit .. "print(by(function() while true do end end))", 0, "nil\tthe model failed: the time limit is reached", "" },
  { "fits within a model", fit .. "local function m(x, b) by(m) return b[1] end print(pcall(m, 1, { 1 }))", nil, "", "" },
  { "a report of endless parts", library .. [[
    local r, parts = hf.tabulate("regain", { humidity = { 0.1, 0.2 } }), {}
    for i = 1, 1e5 do parts[i] = r end
    print(hf.report { title = "x", parts = parts }:save("r.html"))]], 6, "", TIME },
  -- ---- time, in one call of C that never looks up
  { "a pattern", "print((('a'):rep(100000)):find(('.-'):rep(30) .. 'b'))", 6, "", ENDED },
  { "moving nothing", "table.move({}, 1, 1e15, 2)", 6, "", ENDED },
  { "a pattern in a model", fit .. "by(function() return (('a'):rep(100000)):find(('.-'):rep(30) .. 'b') end)", 6, "", ENDED },
  { "a treatment", library .. [[hf.treat(hf.fibre {}, { hf.plates { temperature = "200 degC", duration = "1 s", passes = 10000 } },
    { cells = 800 })]], 6, "", ENDED },
  { "an ensemble", library .. [[hf.ensemble { population = "asian", strands = 20000, threads = 4096,
    treatment = { hf.soak { duration = 600 }, hf.plates { temperature = "200 degC", duration = "1 s", passes = 20 } } }]], 6, "", ENDED },
  { "a fit of many starts", fit .. "for i = 1, 5000 do x[i] = i / 6000; y[i] = 0.02 + x[i] ^ 2 / 5 + 0.01 * (i % 7) end\n"
    .. "hf.fit { model = 'gab', x = x, y = y, starts = 1e5 }", 6, "", ENDED },
  { "a bootstrap", fit .. "for i = 1, 500 do x[i] = i / 600; y[i] = 0.02 + x[i] ^ 2 / 5 + 0.01 * (i % 7) end\n"
    .. "hf.fit { model = 'gab', x = x, y = y }:bootstrap { replicates = 1e6 }", 6, "", ENDED },
  { "a sensitivity", library .. "hf.sensitivity('regain', { humidity = 0.5, samples = 2 ^ 20 // 1 })", 6, "", ENDED },
  { "reading what nobody writes", library .. "hf.read('pipe.csv')", 6, "", ENDED },
  "from here on there is time enough",
  -- ---- memory, in Lua
  { "a table", "local t = {} while true do t[#t + 1] = {} end", 6, "", MEMORY },
  { "a text", "local s = 'x' while true do s = s .. s end", 6, "", MEMORY },
  { "a substitution of long texts", "print(#(('a'):rep(1e6)):gsub('a', ('b'):rep(1e6)))", 6, "", MEMORY },
  { "a joined text", "local t = {} for i = 1, 1000 do t[i] = ('x'):rep(1e6) end print(#table.concat(t))", 6, "", MEMORY },
  { "coroutines", "local t = {} for i = 1, 1e7 do t[i] = coroutine.create(print) end", 6, "", MEMORY },
  { "a text of more than can be", "print(#('x'):rep(1e12))", 1, "", "string.rep would make a text of more than 64 MB" },
  { "the same, its number a text", "print(#('x'):rep('1000000000000'))", 1, "", "string.rep would make a text of more than 64 MB" },
  { "a memory error that is caught", "print(pcall(function() local s = 'x' while true do s = s .. s end end))", 0,
    "false\tnot enough memory", "" },
  { "a figure of many points", library .. [[
    local x, y = {}, {}
    for i = 1, 1e6 do x[i], y[i] = i, i % 7 end
    hf.plot.figure { lines = { { x = x, y = y } } }:save("big.svg")]], 6, "", MEMORY },
  -- ---- depth
  { "endless recursion of coroutines", "local function f() return (coroutine.wrap(f)()) end f()", 1, "", "C stack overflow" },
  { "endless recursion through C", "local function f(s) return (s:gsub('x', f)) end f('x')", 1, "", "stack overflow" },
  { "a text of an error that raises", "local function f() error(setmetatable({}, { __tostring = f })) end f()", 1, "", "C stack overflow" },
  { "a chain of __index", "local t = {} for _ = 1, 1e5 do t = setmetatable({}, { __index = t }) end print(t.x)", 1, "",
    "'__index' chain too long" },
  { "brackets", "print(load(('('):rep(1e5)))", 0, "nil\t", "" },
  { "a pattern of many parts", "print(pcall(string.find, ('a'):rep(300000), ('a?'):rep(300000) .. ('a'):rep(300000)))", 0,
    "pattern too complex", "" },
  { "more results than fit", "print(pcall(table.unpack, {}, 1, 1e8))", 0, "too many results to unpack", "" },
  { "a table within itself", library .. [[
    local t = {}
    t.t, t.columns, t[1], t.x = t, t, t, t
    for _, f in ipairs { hf.result, hf.plot.figure, hf.fit, hf.ensemble, hf.report, hf.import, hf.claim, hf.damage } do
      local done, message = pcall(f, t)
      assert(not done and type(message) == "string", message)
    end print "refused"]], 0, "refused", "" },
}

-- Memory in C is bounded by the system, which sanitized builds do without.
if not sanitised then
  for _, row in ipairs {
    { "an ensemble of too many strands", library .. "print(hf.ensemble { population = 'asian', strands = 1e8, "
      .. "treatment = { hf.soak { duration = 1 } } })", 0, "nil\tout of memory\tmemory", "" },
    { "columns of a file", library .. "print(hf.read('long.csv'))", 0, "nil\tlong.csv, there is not enough memory", "" },
    { "parameter sets that are kept", library .. "local t = {} for i = 1, 1e7 do t[i] = hf.parameters('wool') end", 6, "",
      "hairfibre: " },
  } do
    rows[#rows + 1] = row
  end
end

h.shell("mkfifo pipe.csv; mkdir out; seq -s ', 1\n' 8000000 | sed '1i a, b' >long.csv")
local given = SECONDS
for _, row in ipairs(rows) do
  if type(row) == "string" then
    given = LONG
    goto continue
  end
  local name, script, wanted, out_part, err_part = table.unpack(row, 1, 5)
  h.write("script.lua", script)
  local code, out, err = h.run({ "run", "script.lua", "--out", "out", "--seconds", tostring(given), "--memory",
    MEGABYTES .. "MB" }, "python3 measured.py figures ")
  local seconds, megabytes = (h.read(h.work .. "/figures") or ""):match("^([%d.]+) ([%d.]+)$")
  local said = ("exit %s, %s s, %s MB\n%s%s"):format(code, seconds, megabytes, out:sub(1, 300), err:sub(1, 300))
  h.check((not wanted or code == wanted) and out:find(out_part, 1, true) and err:find(err_part, 1, true)
    and (code == 0 and err == "" or err:find("^hairfibre: [^\n]*\n$") ~= nil), "limits: " .. name, said)
  if given == SECONDS then
    h.check(tonumber(seconds) < SECONDS + MARGIN + SLACK, "limits: " .. name .. ": in time", said)
  end
  if not sanitised then
    h.check(tonumber(megabytes) < MOST, "limits: " .. name .. (": at most %g MB"):format(MOST), said)
  end
  ::continue::
end

-- ---- files of Lua that describe a schedule or a model are as little trusted
for _, row in pairs { memory = { "local t = {} while true do t[#t + 1] = {} end", 6, "file.lua needs more than 256 MB of memory" },
  io = { "io.open('x', 'w')", 3, "file.lua" }, finalizer = { "setmetatable({}, { __gc = print })", 3, "__gc" },
  files = { "local hf = require 'hairfibre' return hf.strict.read '../x.csv'", 3, "cannot read ../x.csv" } } do
  h.write("file.lua", row[1])
  for _, words in ipairs { { "ensemble", "file.lua" }, { "fit", "file.lua", "measured.py" } } do
    words.code, words.err = row[2], { row[3] }
    h.row(words)
  end
end

-- ---- a program that is called ends with the script
h.write("gnuplot", "#!/bin/sh\necho $$ >pid\nexec sleep 100\n")
h.write("script.lua", library .. "hf.plot.figure { lines = { { x = { 1, 2 }, y = { 1, 2 } } } }:save('x.png')")
h.shell("chmod +x gnuplot; rm -rf out; mkdir out")
local RUN = "PATH=$PWD:$PATH " .. h.quote(h.program) .. " run script.lua --out out "
local ended = "; sleep 0.2; grep -s '^State:.*[RSD] ' /proc/$(cat pid)/status; ls -A out"
local code, out, err = h.shell(RUN .. "--seconds 2; echo $?" .. ended)
h.check(code == 0 and out == "6\nx.csv\n" and err:find(ENDED, 1, true), "gnuplot ends with a script that is late", out .. err)
code, out, err = h.shell("rm pid; " .. RUN .. "& p=$!; while [ ! -s pid ]; do sleep 0.05; done; kill $p; wait $p; echo $?" .. ended)
h.check(code == 0 and out == "143\nx.csv\n", "gnuplot ends with a script that is asked to", out .. err)

h.finish()
