-- Every command and every Lua snippet of the pages runs as it stands; what a snippet says it prints
-- (--> text) is printed, in that order.
--   Commands: indented lines of a page, and lines of an .nf block of a man page, that begin with
--   "hairfibre "; a backslash continues them. Snippets: ```lua blocks, after `local hf = require ...`.
package.path = "tests/command/?.lua;" .. package.path
local h = require "harness"

assert(h.shell("ln -s " .. h.quote(h.root .. "/examples") .. " examples && cp -R "
  .. h.quote(h.root .. "/examples/data") .. " data && mkdir bin && ln -s " .. h.quote(h.program) .. " bin/hairfibre") == 0)

local function commands_of(text)
  local list = {}
  text = text:gsub("\\\n%s*", "")
  for line in text:gmatch("[^\n]+") do
    local command = line:match("^    %$?%s*(hairfibre .*)$") or line:match("^%s*(hairfibre [^\n]*)$")
    command = command and command:gsub("%s%s%s+.*$", "") -- a remark stands apart
    if command and not command:find("[A-Z]+%.lua") and not command:find("NAME") and not command:find("FILE") then
      list[#list + 1] = command
    end
  end
  return list
end

local function run_command(page, command)
  local code, out, err = h.shell("PATH=\"$PWD/bin:$PATH\"; " .. command)
  h.check(code == 0 and not err:find("^hairfibre: "), page .. ": " .. command,
    ("exit %d\n%s%s"):format(code, out:sub(1, 300), err:sub(1, 600)))
end

-- Fenced blocks of one language, with the line they begin at.
local function blocks(text, language)
  local list, inside, start = {}, nil, 0
  local number = 0
  for line in (text .. "\n"):gmatch("(.-)\n") do
    number = number + 1
    if inside and line:find("^```") then
      list[#list + 1] = { text = table.concat(inside, "\n") .. "\n", line = start }
      inside = nil
    elseif inside then
      inside[#inside + 1] = line
    elseif line == "```" .. language then
      inside, start = {}, number
    end
  end
  return list
end

local function squeeze(text)
  return (text:gsub("%s+", " "):gsub("^ ", ""):gsub(" $", ""))
end

local function run_snippet(page, block)
  local name = ("%s, line %d"):format(page, block.line)
  h.write("snippet.lua", "local hf = require \"hairfibre\"\n" .. block.text)
  local code, out, err = h.shell("bin/hairfibre run snippet.lua --out .")
  h.check(code == 0, name, ("exit %d\n%s"):format(code, err:sub(1, 600)))
  local at = 1
  local said = squeeze(out)
  for wanted in block.text:gmatch("%-%->%s*([^\n]*)") do
    for piece in (wanted .. " ... "):gmatch("(.-)%s*%.%.%.%s*") do
      piece = squeeze(piece)
      local _, stop = said:find(piece, at, true)
      h.check(stop, name .. " prints " .. piece, said:sub(at, at + 300))
      at = stop and stop + 1 or at
    end
  end
end

-- docs/cluster.md is run by ensemble.lua, its blocks belong together.
for _, page in ipairs { "README.md", "DEVELOPERS.md", "docs/tutorial.md", "docs/lua.md",
  "docs/claims.md", "docs/uncertainty.md", "docs/counts.md", "docs/import.md", "docs/fitting.md", "docs/lessons.md" } do
  local text = h.read(h.root .. "/" .. page)
  for _, command in ipairs(text and commands_of((text:gsub("```lua\n.-\n```", ""))) or {}) do
    run_command(page, command)
  end
  for _, block in ipairs(text and blocks(text, "lua") or {}) do
    run_snippet(page, block)
  end
end

-- The examples of the man page, with the escapes of roff taken out.
local text = assert(h.read(h.root .. "/docs/hairfibre.1"))
local examples = 0
for example in text:match("\n%.SH EXAMPLES\n(.*)"):gmatch("\n%.nf\n(.-)\n%.fi") do
  example = example:gsub("\\%(dq", '"'):gsub("\\%-", "-"):gsub("\\ ", " "):gsub("\\e", "\\")
  for _, command in ipairs(commands_of(example)) do
    run_command("hairfibre.1", command)
    examples = examples + 1
  end
end

h.check(examples >= 4, "the man page has examples that were found", tostring(examples))

-- The C program of the library's page.
text = assert(h.read(h.root .. "/docs/libhairfibre.3"))
local program = assert(text:match("\n%.SH EXAMPLE\n%.nf\n(.-)\n%.fi")):gsub("\\e", "\\")
h.write("example.c", program)
local build = h.program:match("^(.*)/")
local code, out, err = h.shell(("${CC:-cc} -std=c11 -Wall -Wextra -Werror -I%s/include -o example example.c "
  .. "%s/libhairfibre.a $SANITISE -lgsl -lgslcblas -lm -fopenmp && ./example"):format(h.quote(h.root), h.quote(build)))
h.check(code == 0 and out:find("kPa %(extrapolated%)"), "libhairfibre.3: example", out .. err)

h.finish()
