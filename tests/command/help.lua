-- Every help page ends with one example, and the example runs as it stands.
package.path = "tests/command/?.lua;" .. package.path
local h = require "harness"

assert(h.shell("ln -s " .. h.quote(h.root .. "/examples") .. " examples && mkdir bin && ln -s "
  .. h.quote(h.program) .. " bin/hairfibre") == 0)

local pages = { "" }
for _, row in ipairs(dofile("lua/command/list.lua")) do
  pages[#pages + 1] = row[1]
end
for _, word in ipairs(pages) do
  local code, out, err = h.run(word == "" and { "--help" } or { word, "--help" })
  local name = "hairfibre " .. word .. " --help"
  h.check(code == 0 and err == "" and out:find("Usage: hairfibre", 1, true), name, out .. err)
  local example, after = out:match("\nExample:\n  (hairfibre [^\n]*)\n(.*)$")
  h.check(example and (word == "" or example:find("hairfibre " .. word, 1, true)), name .. " has an example", out)
  h.check(not (after or ""):find("\n  hairfibre ", 1, true), name .. " has one example", out)
  if example then
    code, out, err = h.shell("PATH=\"$PWD/bin:$PATH\"; " .. example)
    h.check(code == 0 and err == "" and #out > 0, example, ("exit %d\n%s%s"):format(code, out:sub(1, 500), err))
  end
  local short_code, short = h.run(word == "" and { "-h" } or { word, "-h" })
  h.check(short_code == 0 and short:find("Usage: hairfibre", 1, true), "hairfibre " .. word .. " -h")
end

h.finish()
