-- What a script that is not trusted may not do. Each row is a script; it must end with the exit code and
-- the words given, and nothing may appear or change outside its folder.
package.path = "tests/command/?.lua;" .. package.path
local h = require "harness"

-- Around the work folder: a secret to read and a place that must stay empty.
local function write(path, text)
  local file = assert(io.open(h.folder .. "/" .. path, "w"))
  file:write(text)
  file:close()
end
write("secret.csv", "time_s\n12345\n")
write("stays.csv", "untouched")
assert(h.shell("mkdir out ../outside && ln -s ../../outside out/way_out && ln -s ../../stays.csv out/stays.csv "
  .. "&& ln -s ../../nothing.csv out/dangling.csv && ln -s ../secret.csv linked.csv && mkdir out/inner && ln -s .. linked_folder && ln -s /dev/zero zero.csv") == 0)

local save = [[
local hf = require "hairfibre"
local r = hf.result{ columns = { { name = "x", values = { 1, 2 } } } }
print(r:save(%q))
]]
local figure = [[
local hf = require "hairfibre"
local f = hf.plot.figure{ title = %q, source = %q, x = { label = %q, unit = %q }, y = { label = "y" },
  lines = { { name = %q, x = { 1, 2 }, y = { 1, 2 } } }, marks = { { x = 1.5, text = %q } } }
print(f:save("drawn.svg"))
]]

local function drawn(word)
  return figure:format(word, word, word, word, word, word)
end

-- On a busy machine a script may take long to come to its other end. Only what is to run into the time cap gets a
-- short one.
local SHORT, LONG = "1", "60"

-- name, script, exit code, fragments on stdout, fragments on stderr, seconds (LONG when none are given)
local rows = {
  -- ---- what is not there
  { "io", "io.open('x', 'w')", 1, {}, { 'no "io" here', "--trust" } },
  { "os", "os.execute('touch ../outside/x')", 1, {}, { 'no "os" here' } },
  { "debug", "debug.getregistry()", 1, {}, { 'no "debug" here' } },
  { "package", "print(package.loaded)", 1, {}, { 'no "package" here' } },
  { "dofile", "dofile('../secret.csv')", 1, {}, { 'no "dofile" here' } },
  { "every global", [[
    local allowed = {}
    for name in ("_G _VERSION arg assert collectgarbage coroutine error getmetatable ipairs load math next pairs "
      .. "pcall print rawequal rawget rawlen rawset require select setmetatable string table tonumber tostring "
      .. "type utf8 xpcall"):gmatch("%S+") do allowed[name] = true end
    for name in pairs(_G) do assert(allowed[name], name) end
    print(string.dump, math.os, table.io, coroutine.debug) ]], 0, { "nil\tnil\tnil\tnil" }, {} },
  { "require", "require 'os'", 1, {}, { 'require knows "hairfibre" only' } },
  { "require the C half", "require 'hairfibre.core'", 1, {}, { 'require knows "hairfibre" only' } },
  { "require command modules", "require 'command.system'", 1, {}, { 'require knows "hairfibre" only' } },

  { "debug through a message", "print(xpcall(error, function(m) return debug end, 'x'))", 0, { "false\tnil" }, {} },
  { "upvalues of the library", "print(string.dump, load('return debug')(), require('hairfibre').regain == nil)", 0,
    { "nil\tnil\tfalse" }, {} },
  { "paths of modules", "print(package, require)", 0, { "nil\tfunction" }, {} },

  -- ---- code from text
  { "byte code", "print(load('\\27Lua\\x54\\0'))", 0, { "nil\tattempt to load a binary chunk" }, {} },
  { "byte code, by its mode", "load('x = 1', 'x', 'b')", 1, {}, { "text only" } },
  { "byte code in parts", "local n = 0 print(load(function() n = n + 1 return ({ '\\27Lua', 'x' })[n] end))", 0,
    { "nil" }, {} },
  { "loaded text stays inside", "print(load('return io, os, debug, string.dump')())", 0, { "nil\tnil\tnil\tnil" }, {} },
  { "the environment of loaded text", "print(load('return _G')() == _G)", 0, { "true" }, {} },

  { "byte code in an environment of its own", "print(load('\\27Lua', 'x', 'bt', {}))", 0, { "nil\tattempt to load a binary chunk" }, {} },
  { "an environment of its own", "print(load('return io, print', 'x', 't', {})())", 0, { "nil\tnil" }, {} },

  { "rows of literature", [[
    local load = require("hairfibre").reference.load
    print(pcall(load, "\27Lua", "x"))
    print(pcall(load, "print(io, os, require, load, _G)", "x")) ]], 0,
    { "false\tattempt to load a binary chunk", "false\tx:1: attempt to call a nil value (global 'print')" }, {} },

  -- ---- coroutines
  { "globals of a coroutine", "print(coroutine.wrap(function() return io, os, debug end)())", 0, { "nil\tnil\tnil" }, {} },
  { "metatable of a coroutine", "print(getmetatable(coroutine.create(print)), getmetatable(print))", 0, { "nil\tnil" }, {} },
  { "leaving a model half-way", [[
    local hf = require "hairfibre"
    local away = coroutine.wrap(function()
      return hf.fit { model = function() coroutine.yield(1) return 1 end, parameters = { "b" }, start = { b = 1 },
        x = { 1, 2, 3 }, y = { 1, 2, 3 } }
    end)
    print(away()) ]], 0, { "nil\tthe model failed: attempt to yield across a C-call boundary\tmodel" }, {} },
  { "closing a coroutine that loops at its end", [[
    local c = coroutine.create(function()
      local x <close> = setmetatable({}, { __close = function() while true do end end })
      coroutine.yield()
    end)
    coroutine.resume(c)
    print(coroutine.close(c))
    while true do end ]], 6, {}, {}, SHORT },

  -- ---- shared tables
  { "metatable of texts", "print(getmetatable('').__index)", 1, {}, { "nil value" } },
  { "metatable of the library", "print(getmetatable(require 'hairfibre'))", 0, { "nil" }, {} },
  { "library is locked", "local hf = require 'hairfibre' hf.regain = 1", 1, {}, { "cannot be changed" } },
  { "library is locked, raw", [[
    local hf = require 'hairfibre'
    rawset(hf, 'regain', 7)
    print(require 'hairfibre'.strict.regain ~= 7, hf.tabulate("regain", { humidity = { 0.5 } }).regain[1] < 1) ]], 0,
    { "true\ttrue" }, {} },
  { "parts of the library are locked", "local hf = require 'hairfibre' hf.plot.figure = print", 1, {},
    { "cannot be changed" } },
  { "texts keep their methods", [[
    string.find = function() return nil end
    string.sub = function() return "out" end
    print(("x"):sub(1), ("abc"):find("b"))
    print((require "hairfibre").result{ columns = { { name = "x", values = { 1 } } } }:save("../../bad.csv")) ]], 0,
    { "x\t2\t2", "nil\tcannot write ../../bad.csv" }, {} },
  { "tables keep their functions", [[
    table.concat = function() return "/etc" end
    math.floor = nil
    print((require "hairfibre").tabulate("regain", { humidity = { 0.5 } }):csv():sub(1, 8)) ]], 0, { "humidity" }, {} },
  { "figures show no insides", [[
    local f = require('hairfibre').plot.figure{ lines = { { x = { 1, 2 }, y = { 1, 2 } } } }
    print(f.checked, f.layout, f.__index, getmetatable(f))
    f.layout = { texts = {} } ]], 1, { "nil\tnil\tnil\tnil" }, { "cannot be changed" } },
  { "finalizers", "setmetatable({}, { __gc = function() while true do end end })", 1, {}, { "__gc" } },
  { "finalizers added later", "local m = {} setmetatable({}, m) m.__gc = print setmetatable({}, m)", 1, {}, { "__gc" } },
  { "finalizers that come too late", [[
    local m = {}
    do local t = setmetatable({}, m) end
    m.__gc = function() print("ran") end
    collectgarbage() ]], 0, {}, {} },
  { "finalizers of userdata", "print(getmetatable(require('hairfibre').parameters('wool')))", 0, { "nil" }, {} },
  { "a metatable that says it is another", [[
    local r = require('hairfibre').result { columns = {} }
    print(getmetatable(setmetatable({}, { __metatable = "locked" })), pcall(setmetatable, r, { __gc = print })) ]], 0,
    { "false\t" }, {} },
  { "methods of texts", "local t = ('x').rep print(pcall(t, 'x', 1e12)) print(pcall(function() (''):dump() end))", 0,
    { "string.rep would make", "method 'dump'" }, {} },
  { "metatables of the library", [[
    local r = require('hairfibre').result{ columns = {} }
    print(getmetatable(r))
    setmetatable(r, {}) ]], 1, { "nil" }, { "belongs to the library" } },
  { "garbage collector", "collectgarbage('stop')", 1, {}, { "collectgarbage" } },
  { "seeds", "math.randomseed()", 1, {}, { "randomseed" } },
  { "random numbers", "local a = math.random(1000000) print(a)", 0, {}, {} },

  -- ---- files
  { "saving", save:format("inside.csv"), 0, { "true" }, {} },
  { "saving in a folder of it", save:format("inner/x.csv"), 0, { "true" }, {} },
  { "absolute path", save:format("/var/hairfibre-escape.csv"), 0, { "nil\tcannot write /var", "--trust" }, {} },
  { "parent", save:format("../x.csv"), 0, { "nil\tcannot write" }, {} },
  { "parent in the middle", save:format("inner/../../x.csv"), 0, { "nil\tcannot write" }, {} },
  { "link to a folder", save:format("way_out/x.csv"), 0, { "nil\tcannot write", "link" }, {} },
  { "link to a file", save:format("stays.csv"), 0, { "nil\tcannot write", "link" }, {} },
  { "link to nothing", save:format("dangling.csv"), 0, { "nil\tcannot write", "link" }, {} },
  { "control characters", save:format("a\nb.csv"), 0, { "nil\t", "control" }, {} },
  { "two slashes", save:format("//var/hairfibre-escape.csv"), 0, { "nil\tcannot write" }, {} },
  { "parent after a dot", save:format("./../x.csv"), 0, { "nil\tcannot write" }, {} },
  { "a home folder", save:format("~/x.csv"), 0, { "nil\tcannot write", "no such folder" }, {} },
  { "a name that is a command", save:format("$(touch ..) | `id`.csv"), 0, { "true" }, {} },
  { "a name of other slashes", save:format("..\\x.csv"), 0, { "true" }, {} },
  { "a name that is too long", save:format(("x"):rep(300) .. ".csv"), 0, { "nil\tcannot write", "too long" }, {} },
  { "a name of another kind", save:format("x.lua"), 1, {}, { "save needs a name that ends in .csv or .json" } },
  { "a path that is a table", [[
    local hf = require "hairfibre"
    local n, path = 0, nil
    path = setmetatable({}, { __tostring = function() n = n + 1 return n > 1 and "../x.csv" or "x.csv" end, __index = {
      find = function() end, sub = function() return "x" end, match = function() return "csv" end, lower = function() return "csv" end },
      __concat = function() return "../x.csv" end, __eq = function() return true end })
    local r = hf.result { columns = { { name = "x", values = { 1 } } } }
    print(pcall(r.save, r, path), pcall(hf.read, path)) ]], 0, { "false\t", "false" }, {} },
  { "sets", "print(require('hairfibre').parameters('wool'):save('../x.json'))", 0, { "nil\tcannot write" }, {} },
  { "fits", [[
    local f = require('hairfibre').fit { model = 'gab', x = { 0.1, 0.3, 0.5, 0.6, 0.7, 0.8 }, y = { 0.04, 0.07, 0.1, 0.12, 0.15, 0.2 } }
    print(f:save('../x.json'), f:save('way_out/x.csv'), f:plot():save('../x.svg'))
    print(f:save_set('../x.json', { branch = "absorption" })) ]], 0, { "nil\tnil\tnil\tcannot write", "nil\t" }, {} },
  { "reports", "print(require('hairfibre').report { title = 'x', parts = { 'x' } }:save('../x.html'))", 0, { "nil\tcannot write" }, {} },
  { "rings", "print(require('hairfibre').plot.rings { radii = { 1, 2 }, values = { 1, 2 } }:save('way_out/x.svg'))", 0,
    { "nil\tcannot write", "link" }, {} },
  { "plans and cards", [[
    local plan = require('hairfibre').count_plan { purpose = "groups", expect = { "10 %", "60 %" }, donors = 3, pixel = "0.5 um",
      groups = { { "control", "soak 10 min; blot; rest 2 h" }, { "hot", "soak 10 min; blot; plates 200 degC 1 s; rest 2 h" } } }
    print(plan:save('../x'))
    for _, suffix in ipairs { "svg", "txt", "png" } do print(plan:card():save('../x.' .. suffix)) end ]], 0,
    { "nil\tcannot write ../x" }, {} },
  { "ensembles", [[print(require('hairfibre').ensemble { population = "asian", strands = 2, lumped = true, cells = 20,
    treatment = { require('hairfibre').soak { duration = 1 } }, save = "../x.csv" })]], 0, { "nil\tcannot write" }, {} },
  { "reading sets, ensembles, sheets, data", [[
    local hf = require "hairfibre"
    for _, answer in ipairs { { hf.parameters "../secret.json" }, { hf.merge { "../secret.csv" } }, { hf.look "../secret.csv" },
      { hf.count_read { "../secret.csv" } }, { hf.import { file = "linked.csv", x = 1, y = 2 } } } do
      assert(answer[1] == nil and answer[2]:find("^cannot read"), answer[2])
    end
    print "refused" ]], 0, { "refused" }, {} },
  { "a folder that is a link", "print(require('hairfibre').read('linked_folder/secret.csv'))", 0, { "nil\tcannot read", "link" }, {} },
  { "devices", "print(require('hairfibre').read('/dev/zero')) print(require('hairfibre').read('zero.csv'))", 0,
    { "nil\tcannot read /dev/zero", "nil\tcannot read zero.csv" }, {} },
  { "zero byte", save:format("../x.csv\0.csv"), 0, { "nil\t" }, {} },
  { "reading a parent", "print(require('hairfibre').read('../secret.csv'))", 0, { "nil\tcannot read" }, {} },
  { "reading an absolute path", "print(require('hairfibre').read('/etc/passwd'))", 0, { "nil\tcannot read" }, {} },
  { "reading through a link", "print(require('hairfibre').read('linked.csv'))", 0, { "nil\tcannot read" }, {} },
  { "history of damage", "print(require('hairfibre').damage{ history = '../secret.csv', regain = 0.1 })", 0,
    { "nil\tcannot read" }, {} },
  { "figure", "print(require('hairfibre').plot.figure{ lines = { { x = { 1, 2 }, y = { 1, 2 } } } }:save('../x.svg'))", 0,
    { "nil\tcannot write" }, {} },
  { "script of a figure", "print(require('hairfibre').plot.figure{ lines = { { x = { 1, 2 }, y = { 1, 2 } } } }"
    .. ":save_script('../x.gp'))", 0, { "nil\tcannot write" }, {} },

  -- ---- gnuplot
  { "backticks", drawn("`touch ../outside/a`"), 0, { "true" }, {} },
  { "quotes", drawn("'; system('touch ../outside/b'); '"), 0, { "true" }, {} },
  { "double quotes", drawn('"; system("touch ../outside/c"); "'), 0, { "true" }, {} },
  { "line break", drawn("x\nsystem 'touch ../outside/d'\n"), 0, { "true" }, {} },
  { "end of data", drawn("EOD\nsystem 'touch ../outside/e'"), 0, { "true" }, {} },
  { "numbers that are none", [[
    local hf = require "hairfibre"
    local n = 0
    local shifty = setmetatable({}, { __len = function() return 2 end, __index = function(_, i)
      n = n + 1
      return n > 6 and "1\nsystem 'touch ../outside/f'" or i
    end })
    print(pcall(function()
      return hf.plot.figure{ lines = { { x = shifty, y = { 1, 2 } } } }:save("shifty.svg")
    end)) ]], 0, {}, {} },

  -- ---- time and memory
  { "endless coroutines", [[
    while true do pcall(coroutine.wrap(function() while true do pcall(function() while true do end end) end end)) end ]],
    6, {}, {}, SHORT },
  { "endless sort", "local t = {} for i = 1, 1e5 do t[i] = i end while true do table.sort(t) end", 6, {}, {}, SHORT },
  { "too long a repetition of nothing", "print(#(''):rep(1e7))", 0, { "0" }, {} },
  { "endless recursion", "local function f() return 1 + f() end f()", 1, {}, { "stack overflow" } },
  { "wide format", "print(string.format('%99999d', 1))", 1, {}, { "invalid conversion" } },
  { "error in the handler of an error", "print(xpcall(error, function() error('x') end))", 0, { "false" }, {} },
}

local function outside()
  local pipe = assert(io.popen("cd " .. h.quote(h.folder) .. " && ls outside && cat stays.csv && ls . "
    .. "&& ls /var/hairfibre-escape.csv 2>/dev/null"))
  local text = pipe:read("a")
  pipe:close()
  return text
end

h.write("script.lua", "")
h.shell("true")
local before = outside()
for _, row in ipairs(rows) do
  local name, script, wanted, out_parts, err_parts = table.unpack(row, 1, 5)
  h.write("script.lua", script)
  local code, out, err = h.run { "run", "script.lua", "--out", "out", "--seconds", row[6] or LONG, "--memory", "100MB" }
  local missing
  for _, part in ipairs(out_parts) do
    missing = missing or not out:find(part, 1, true) and part
  end
  for _, part in ipairs(err_parts) do
    missing = missing or not err:find(part, 1, true) and part
  end
  local good = code == wanted and not missing and outside() == before and not err:find("traceback", 1, true)
    and (code == 0 and err == "" or code ~= 0 and err:find("^hairfibre: [^\n]*\n$") ~= nil)
  h.check(good, "sandbox: " .. name, ("exit %d%s\n%s%s"):format(code, missing and ", lacks " .. missing or "",
    out:sub(1, 500), err:sub(1, 500)))
end

-- --trust lifts it.
h.write("script.lua", "local f = assert(io.open('trusted.txt', 'w')) f:write('x') f:close() print(os.getenv('HOME') ~= 1)")
local code, out = h.run { "run", "--trust", "script.lua" }
h.check(code == 0 and out:find("true", 1, true) and h.read(h.work .. "/trusted.txt") == "x", "--trust lifts the sandbox")


-- Mistakes of a beginner: what was meant.
for _, case in ipairs { { "print(hf.regain { humidity = 65 % })", 'quotation marks: "65 %"' },
  { 'print(hf.regain { humidity = "65 %", temperature = 20 degC })', 'quotation marks: "20 degC"' },
  { "print(hf.regain(0.5)", "expected" }, { 'local r = hf.treat(hf.fibre {}, { hf.rest { duration = "1 s", heat_transfer = -5 } })\nr:print()',
    "assert(hf" } } do
  h.write("slip.lua", 'local hf = require "hairfibre"\n' .. case[1] .. "\n")
  h.row { "run", "slip.lua", code = 1, err = { "slip.lua, line ", case[2] } }
end
h.write("slip.lua", 'local hf = require "hairfibre"\nprint(hf.regain { humidity = 65 })\n')
h.row { "run", "slip.lua", out = { '65 % is 0.65 or "65 %"' } }
h.write("numbers.csv", "a,b\n1,2\n")
h.row { "run", "numbers.csv", code = 3, err = { "is no Lua script", "fit --look" } }
h.row { "value", "regain", "--at", "humidity=65%", "temperature=20degC", code = 2, err = { "did you mean --at temperature=20degC" } }
h.row { "value", "isotherm_darcy_watt", "--at", "humidity=65%", "--at", "strong=3%", "--at", "b=4", "--at", "multilayer=16%", "--at", "c=4",
  code = 4, err = { "c = 4 times humidity" } }
h.finish()
