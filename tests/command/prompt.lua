-- The prompt on a terminal, through script(1): answers, help for every function, completion, history. Completion of shells.
package.path = "tests/command/?.lua;" .. package.path
local h = require "harness"

-- What the prompt shows for typed lines, without the escapes of the terminal.
local function typed(text, home)
  h.write("typed", text)
  local _, out = h.shell(("HOME=%s TERM=dumb timeout 20 script -qec 'stty cols 80; %s' /dev/null <typed"):format(home or ".",
    h.quote(h.program):gsub("'", "'\\''")))
  return (out:gsub("\27%[[%d;?]*%a", ""):gsub("\r", ""))
end

local function says(what, said, ...)
  for _, piece in ipairs { ... } do
    h.check(said:find(piece, 1, true), what .. " says " .. piece, said:sub(1, 1500))
  end
end

says("an answer", typed 'hf.regain{ humidity = "65 %" }\n', "0.15838678")
says("a list", typed "hf.sweep(0, 1, 3)\n", "{ 0, 0.5, 1 }")
says("a statement over two lines", typed "for i = 1, 2 do\nprint(i * 21)\nend\n", "... ", "42")
says("a mistake", typed "hf.regian(0.5)\n", 'did you mean "regain"')
says("a mistake of Lua", typed "1 +* 2\n", "unexpected symbol")
says("help", typed "help()\n", "TAB", "Ctrl-D")
says("help for a quantity", typed 'help("regain")\n', "humidity", "sources")
says("help for a name with hf.", typed 'help("hf.treat")\n', "hf.treat(fibre, steps, options)", "More in docs/lua.md")
says("help for a step", typed 'help("dryer")\n', "Options: duration, temperature; temperature_end")
says("help for a slip", typed 'help("treet")\n', 'did you mean "treat"')
says("help without quotes", typed "help(treat)\n", "help()")
says("completion", typed 'hf.saturation_pressure_s\t("100 degC")\n', "hf.saturation_pressure_slope")
says("completion of a condition", typed 'hf.regain{ humi\t = 0.5 }\n', "hf.regain{ humidity = 0.5 }")

-- Every function of the module: its row of the Lua reference, in lines of 80 letters. A few names at a time: a
-- terminal takes in 4096 letters.
local page = h.read(h.root .. "/docs/lua.md"):match "\n## All functions\n(.*)"
local names, wide = {}, nil
for name in page:gmatch "\n| `hf%.([%w_]+)" do
  names[#names + 1] = name
end
for first = 1, #names, 20 do
  local lines = {}
  for i = first, math.min(first + 19, #names) do
    lines[#lines + 1] = ('help("%s")\n'):format(names[i])
  end
  local said = typed(table.concat(lines))
  for i = first, math.min(first + 19, #names) do
    h.check(said:find(('help("%s")\nhf.%s'):format(names[i], names[i]), 1, true), "help for " .. names[i])
  end
  for line in said:gmatch "[^\n]+" do
    wide = wide or utf8.len(line) > 80 and line
  end
end
h.check(not wide, "help is 80 letters wide at most", wide)
h.check(#names > 80, "the Lua reference has its rows")

-- History is kept from one session to the next: the arrow brings the last line back.
typed "print(6 * 7)\n"
says("history", typed "\27[A\n", "42")

-- Completion of the shells: every option of every help page, the words of a choice, and bash's own splitting at "=".
for _, command in ipairs { "value", "curve", "sensitivity", "claim", "ensemble", "merge", "fit", "run", "report", "parameters",
  "sources", "models", "selftest" } do
  local _, help = h.run { command, "--help" }
  local _, offered = h.run { "complete", command, "--" }
  for option in help:gmatch "\n   [^\n]-(%-%-[%a-]+)" do
    h.check((offered .. "\n"):find(option .. "\n", 1, true), "completion of " .. command .. " knows " .. option)
  end
end
local _, words = h.run { "complete", "value", "regain", "--at", "branch=d" }
h.check(words == "branch=desorption\n", "the words of a choice are offered", words)
for _, case in ipairs { { "hairfibre val", 1, "value" }, { "hairfibre value internal_b", 2, "internal_boiling_temperature" },
  { "hairfibre value regain --at branch = d", 6, "desorption" }, { "hairfibre curve regain --style pro", 4, "projector" } } do
  local code, out, err = h.shell(("PATH=%s:$PATH bash -c 'source %s; COMP_WORDS=(%s); COMP_CWORD=%d; _hairfibre; echo \"${COMPREPLY[*]}\"'")
    :format(h.program:match "^(.*)/", h.root .. "/lua/shell/hairfibre.bash", case[1], case[2]))
  h.check(code == 0 and out == case[3] .. "\n" and err == "", "bash completes " .. case[1], out .. err)
end
h.finish()
