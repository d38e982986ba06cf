-- Terminals, pipes, locales, signals and time: the program as a neighbour of others.
package.path = "tests/command/?.lua;" .. package.path
local h = require "harness"
local program = h.quote(h.program)
local code, out, err, _

-- ---- pipes and full disks
code, out, err = h.shell(program .. " selftest | head -n 1; true")
h.check(code == 0 and err == "" and out ~= "", "a reader that goes away is no fault", err)
_, out, err = h.shell("{ " .. program .. " selftest; echo $? >code; } | true; cat code")
h.check(out == "0\n" and err == "", "exit code without a reader", out .. err)
if h.shell("test -w /dev/full") == 0 then
  code, _, err = h.shell(program .. " models >/dev/full")
  h.check(code == 7 and err:find("^hairfibre: cannot write the output"), "a full disk", ("exit %d %s"):format(code, err))
  h.write("print.lua", "for i = 1, 1e5 do print(i) end")
  code, _, err = h.shell(program .. " run print.lua >/dev/full")
  h.check(code == 7 and err:find("cannot write the output", 1, true), "a full disk under a script",
    ("exit %d %s"):format(code, err))
end
code, out = h.shell("echo 'print(1 + 1)' | " .. program .. " run -")
h.check(code == 0 and out == "2\n", "a script from standard input", out)

-- ---- signals
-- Waits until what runs in the background has said something, then a little longer.
local ON = " >said & pid=$!; while [ ! -s said ]; do sleep 0.02; done; sleep %g; kill -INT $pid; "
h.write("loop.lua", "print 'on' while true do end")
h.write("nested.lua", "print 'on' while true do pcall(coroutine.wrap(function() while true do end end)) end")
for _, words in ipairs { "loop.lua", "--trust loop.lua", "nested.lua" } do
  code, _, err = h.shell("rm -f said; " .. program .. " run " .. words .. ON:format(0.1) .. "wait $pid")
  h.check(code == 130 and err:find("hairfibre: interrupted\n", 1, true), "interrupt: run " .. words,
    ("exit %d %s"):format(code, err))
end

-- A treatment under way ends with what it has; the script goes on.
h.write("treat.lua", [[local hf = require "hairfibre"
print "on"
local r, message, code = hf.treat(hf.fibre { humidity = "50 %" },
  { hf.plates { temperature = "200 degC", duration = "1 s", passes = 3000 } }, { cells = 200, profiles = false })
print(code, #r > 10, r.time[#r] > 0, r.statistics.water_error < 1e-10, (message:find("stopped on request at", 1, true)))]])
code, out, err = h.shell("rm -f said; " .. program .. " run treat.lua" .. ON:format(0.5) .. "wait $pid; echo $?; cat said")
h.check(code == 0 and out == "0\non\nstopped\ttrue\ttrue\ttrue\t1\n", "interrupt: a treatment", ("exit %d %s%s"):format(code, out, err))

-- In plain Lua as well: the library takes the signal over while it computes, and gives it back.
h.write("more.lua", "io.stdout:setvbuf 'line' " .. h.read(h.work .. "/treat.lua") .. "\nwhile true do end")
local preload = os.getenv "PRELOAD" -- of the address sanitizer
code, out, err = h.shell(("rm -f said; %s LUA_CPATH='%s/?.so;;' lua5.4 more.lua %s while ! grep -q stopped said; do sleep 0.02; done; kill -INT $pid; "
  .. "wait $pid; echo $?; cat said"):format(preload and "ASAN_OPTIONS=detect_leaks=0 LD_PRELOAD=" .. preload or "",
  h.program:match("^(.*)/"), ON:format(0.5)))
h.check(code == 0 and out == "1\non\nstopped\ttrue\ttrue\ttrue\t1\n" and err:find("interrupted!"), "interrupt: a treatment in plain Lua",
  ("exit %d %s%s"):format(code, out, err))

-- ---- the same bytes in every locale
local locales = { "C", "C.UTF-8" }
local found = h.shell("locale -a | grep -qi '^de_DE.utf-\\?8$'") == 0
local setting = ""
if not found and h.shell("localedef -i de_DE -f UTF-8 ./de_DE.UTF-8 2>/dev/null") == 0 then
  found, setting = true, "LOCPATH=$PWD "
end
if found then
  locales[#locales + 1] = "de_DE.UTF-8"
else
  print("the locale de_DE.UTF-8 is not here and cannot be made: left out")
end
for _, line in ipairs {
  "value internal_vapour_pressure --at temperature=120degC --at regain=10%",
  "value regain --at humidity=65% --json",
  "value saturation_pressure --at temperature=99.5degC --raw",
  "curve regain --over humidity=0..100% --range --save a.svg; cat a.svg a.csv",
  "curve saturation_pressure --over temperature=20..230degC --ascii",
  "parameters --csv",
  "selftest",
  "models --json",
} do
  local reference
  for _, locale in ipairs(locales) do
    local _, text, problem = h.shell(("%sLC_ALL=%s %s %s"):format(setting, locale, program, line))
    reference = reference or text
    h.check(#text > 0 and problem == "" and text == reference, ("LC_ALL=%s hairfibre %s"):format(locale, line), problem)
  end
end

-- ---- terminal: sketch by the locale, colour only on a terminal and without NO_COLOR
local curve = program .. " curve regain --over humidity=0..100%"
local _, braille = h.shell("LC_ALL=C.UTF-8 " .. curve)
local _, ascii = h.shell("LC_ALL=C " .. curve)
h.check(braille:find("[\xE2]") and not braille:find("\27", 1, true), "Braille in a UTF-8 locale, no colour in a pipe")
h.check(not ascii:find("[\x80-\xFF]") and #ascii > 500, "ASCII in another locale")
if h.shell("script -qec true /dev/null >/dev/null 2>&1") == 0 then -- there is a pseudo-terminal
  local function in_terminal(before)
    local _, text = h.shell(("TERM=xterm LC_ALL=C.UTF-8 %s script -qec %s /dev/null"):format(before, h.quote(curve)))
    return text
  end
  h.check(in_terminal(""):find("\27[", 1, true), "colour on a terminal")
  h.check(not in_terminal("NO_COLOR=1"):find("\27[", 1, true), "no colour with NO_COLOR")
end

-- ---- the environment changes nothing that is loaded
h.write("hairfibre.lua", "error('a foreign module was loaded')")
code, out, err = h.shell("LUA_PATH='./?.lua' LUA_INIT='error(1)' LUA_CPATH='./?.so' " .. program
  .. " value saturation_pressure --at temperature=100degC --raw")
h.check(code == 0 and tonumber(out), "LUA_PATH and LUA_INIT are not heeded", err)

-- ---- a read-only folder, and one with blanks and accents
assert(h.shell("mkdir 'a b \u{E9}' && printf 'local hf = require \"hairfibre\"\\nassert(hf.tabulate(\"regain\", "
  .. "{ humidity = { 0.1, 0.9 } }):save(\"\u{E9} 1.csv\"))\\n' >'a b \u{E9}/l\u{E4}ufer.lua'") == 0)
code, _, err = h.shell(program .. " run 'a b \u{E9}/l\u{E4}ufer.lua' --out 'a b \u{E9}/o u t'")
h.check(code == 0 and h.read(h.work .. "/a b \u{E9}/o u t/\u{E9} 1.csv"), "blanks and accents in paths", err)

h.finish()
