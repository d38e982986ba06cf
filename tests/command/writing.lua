-- Every kind of file that the program writes: kills at any moment, two writers at one name, no room, a folder that may
-- not be written to. Under the final name stands the old file or the new one, whole.
package.path = "tests/command/?.lua;" .. package.path
local h = require "harness"
local program = h.quote(h.program)

-- A script that writes one file, made of what arg[1] says ("a" or "b"), and what the last bytes of a whole one are.
local head = [[
local hf = require "hairfibre"
local which, path = arg[1], arg[2]
local long = {}
for i = 1, 3000 do long[i] = i / (which == "a" and 7 or 11) end
local function said(done, message)
  if not done then error(message, 0) end
end
]]
local figure = [[
local f = hf.plot.figure { title = which, lines = { { name = which, x = { 1, 2, 3 }, y = { 1, 2, which == "a" and 3 or 4 } } } }
]]
local kinds = {
  { "csv", head .. [[said(hf.result { columns = { { name = "x", values = long } } }:save(path))]], "%d\n$" },
  { "json", head .. [[said(hf.result { columns = { { name = "x", values = long } } }:save(path))]], "}\n$" },
  { "svg", head .. figure .. [[said(f:save(path))]], "</svg>%s*$" },
  { "png", head .. figure .. [[said(f:save(path))]], "IEND\xAE\x42\x60\x82$" },
  { "pdf", head .. figure .. [[said(f:save(path))]], "%%%%EOF%s*$" },
  { "gp", head .. figure .. [[said(f:save_script(path))]], "\n$" },
  { "html", head .. figure .. [[said(hf.report { title = which, parts = { f } }:save(path))]], "</html>%s*$" },
  { "set.json", head .. [[said(hf.parameters("wool", { ["sorption.scale"] = which == "a" and 1.1 or 1.2 }):save(path))]], "}\n$" },
}
h.shell("mkdir closed full out; for s in csv json svg png pdf gp html set.json; do ln -s /dev/full full/x.$s; done")
local as = select(2, h.shell("id -u")) == "0\n" and "setpriv --reuid=65534 --regid=65534 --clear-groups " or ""
h.shell("chmod 755 .. .; chmod 777 out; chmod 555 closed")
local another = h.shell(as .. program .. " --version") == 0

local function remains(folder)
  return (select(2, h.shell("find " .. folder .. " -name '*.tmp'")))
end

for _, kind in ipairs(kinds) do
  local suffix, script, ending = table.unpack(kind)
  local path = "out/x." .. suffix
  h.write("script.lua", script)
  local RUN = program .. " run --trust script.lua "
  local wanted = {}
  for _, which in ipairs { "a", "b" } do
    local code, _, err = h.shell(RUN .. which .. " " .. path)
    wanted[which] = h.read(h.work .. "/" .. path)
    h.check(code == 0 and err == "" and wanted[which] and wanted[which]:find(ending) ~= nil, suffix .. ": written", err)
  end
  h.check(wanted.a ~= wanted.b, suffix .. ": the two differ")
  local function whole(bytes)
    return bytes == wanted.a or bytes == wanted.b
  end

  -- ---- no room
  local code, _, err = h.shell("(ulimit -f 1; " .. RUN .. "a " .. path .. ")")
  -- a set is smaller than the least limit
  h.check(#wanted.b < 1024 or code == 1 and err:find("^hairfibre: [^\n]*\n$") and h.read(h.work .. "/" .. path) == wanted.b
    and remains "out" == "", suffix .. ": no room, the old file stays", ("exit %d\n%s%s"):format(code, err, remains "out"))
  if suffix ~= "svg" and suffix ~= "png" and suffix ~= "pdf" then -- gnuplot's own words differ
    code, _, err = h.shell(RUN .. "a full/x." .. suffix)
    h.check(code == 1 and err:find("^hairfibre: [^\n]*cannot write [^\n]*: the disk is full\n$"), suffix .. ": a full device",
      ("exit %d\n%s"):format(code, err))
  end
  -- ---- a folder that may only be read
  if another then
    code, _, err = h.shell(as .. RUN .. "a closed/x." .. suffix)
    h.check(code == 1 and err:find("cannot write %./closed/x[^\n]*: permission is denied", 1) and remains "closed" == "",
      suffix .. ": a read-only folder", ("exit %d\n%s"):format(code, err))
  end
  -- ---- two writers
  h.shell(("%sa %s & %sb %s & wait"):format(RUN, path, RUN, path))
  local bytes = h.read(h.work .. "/" .. path)
  h.check((bytes == wanted.a or bytes == wanted.b) and remains "out" == "", suffix .. ": two writers, one whole file",
    remains "out" .. #(bytes or ""))
  -- ---- killed at any moment, the old file there
  math.randomseed(20, 27)
  local bad = {}
  for i = 1, 12 do
    h.shell(("timeout -s KILL %.3f %s%s %s"):format(0.02 + 0.3 * math.random(), RUN, i % 2 == 0 and "a" or "b", path))
    if not whole(h.read(h.work .. "/" .. path)) then
      bad[#bad + 1] = i
    end
    -- a name between the two renames is of a whole file
    for left in remains "out":gmatch("[^\n]+") do
      if not whole(h.read(h.work .. "/" .. left)) then
        bad[#bad + 1] = left
      end
      h.shell("rm " .. left)
    end
  end
  h.check(#bad == 0, suffix .. ": whole after every kill", table.concat(bad, " "))
end

-- ---- where files need a name from the start (no /proc, or a disk that knows no others): a stop takes it away
h.write("gnuplot", "#!/bin/sh\necho started >&2\necho $$ >pid\nexec sleep 100\n")
h.write("script.lua", head .. figure .. "said(f:save(path))")
local LATE = ("chmod +x gnuplot; rm -f pid; PATH=$PWD:$PATH %s run script.lua --seconds 2 --out out b drawn.png"):format(program)
local hidden = "mount -t tmpfs none /proc && "
local code, out, err = h.shell("rm -f out/*; unshare -m sh -c " .. h.quote(hidden .. "touch /proc/mark; " .. LATE
  .. " & p=$!; while [ ! -s pid ]; do sleep 0.05; done; find out -name '*.tmp' | wc -l; wait $p; echo $?; find out -name '*.tmp' | wc -l"))
if (os.getenv("SANITISE") or "") ~= "" then
  print("passed over: temporary files with names (the sanitizers need /proc)")
elseif code == 0 and not err:find("unshare", 1, true) then
  h.check(out == "0\n6\n0\n", "a picture has no file before it is complete", out .. err)
  h.write("script.lua", head .. [[said(hf.result { columns = { { name = "x", values = long } } }:save(path))]])
  code, out, err = h.shell("unshare -m sh -c " .. h.quote(hidden .. program .. " run --trust script.lua a out/x.csv; echo $?; tail -c 2 out/x.csv; "
    .. "(ulimit -f 1; " .. program .. " run --trust script.lua b out/x.csv); echo $?; ls -A out"))
  h.check(out:find("^0\n%d\n1\n") and not out:find("tmp", 1, true), "named temporary files", out .. err)
else
  print("passed over: temporary files with names (needs the right to mount)")
end

h.finish()
