-- Drawing through gnuplot: files appear whole, errors come back as sentences.
local core = require "hairfibre.core"

local has_gnuplot = os.execute("command -v gnuplot >/dev/null 2>&1")

local function exists(path)
  local file = io.open(path)
  if file then
    file:close()
  end
  return file ~= nil
end

return function(t)
  local svg = t.folder .. "/a b.svg"
  t.test("a picture is drawn", function()
    if not has_gnuplot then
      return
    end
    t.says(core.spawn_gnuplot("set terminal svg\nplot x\n", svg), { "<svg" })
  end)
  t.test("a broken script leaves the old picture", function()
    if not has_gnuplot then
      return
    end
    core.write(svg, "old")
    local none, message, code = core.spawn_gnuplot("set terminal svg\nplot nonsense(x)\n", svg)
    t.equal(none, nil)
    t.equal(code, "tool")
    t.says(message, { "could not be drawn", "nonsense" })
    t.equal(core.read(svg), "old")
    t.says(select(2, core.spawn_gnuplot("set terminal svg\n", svg)), { "could not be drawn" })
  end)
  t.test("time is limited", function()
    if not has_gnuplot then
      return
    end
    local start = os.time()
    local none, message = core.spawn_gnuplot("pause 20\n", svg, 0.2)
    t.equal(none, nil)
    t.says(message, { "stopped after" })
    assert(os.time() - start < 5)
  end)
  t.test("a folder that is not there", function()
    local none, message, code = core.spawn_gnuplot("plot x\n", t.folder .. "/none/a.svg")
    t.equal(none, nil)
    t.equal(code, "file")
    t.says(message, { "no such file or folder" })
    assert(not exists(t.folder .. "/none/a.svg"))
  end)
  t.test("nothing is left behind", function()
    for file in io.popen("ls -A '" .. t.folder .. "'"):lines() do
      assert(not file:find("tmp$"), file)
    end
  end)
end
