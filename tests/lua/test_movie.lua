-- Cross-sections that move: the same bytes, one value for each frame, honest numbers beside them.
local core = require "hairfibre.core"
local hf = require "hairfibre"

local has_gnuplot = os.execute("command -v gnuplot >/dev/null 2>&1")

return function(t)
  local r = assert(hf.treat(hf.fibre { humidity = "50 %" }, { hf.soak { duration = "1 min" }, hf.blot {},
    hf.plates { temperature = "190 degC", duration = "1 s" } }, { cells = 30, samples = 50 }))

  t.test("one value for each frame, and the last stands still", function()
    local svg = assert(r:movie { step = 3, frames = 20, seconds = 4, title = "A < B & 'C'" }):svg()
    t.says(svg, { "A &lt; B &amp; &#39;C&#39;", "Moves from 0 s to 1 s.", 'repeatCount="indefinite"', "never on a head" })
    local count = 0
    for values, times in svg:gmatch('values="([^"]*)" keyTimes="([^"]*)"') do
      local _, a = values:gsub(";", "")
      local _, b = times:gsub(";", "")
      t.equal(a, 20)
      t.equal(b, 20)
      local before = -1
      for time in times:gmatch("[^;]+") do
        assert(tonumber(time) > before, times)
        before = tonumber(time)
      end
      t.equal(before, 1)
      count = count + 1
    end
    assert(count > 30, count)
  end)

  t.test("the same bytes, numbers beside them", function()
    for _, ending in ipairs { "svg", has_gnuplot and "gif" or nil } do
      local bytes
      for _, name in ipairs { "a", "b" } do
        assert(assert(r:movie { step = 3, frames = 8, value = "temperature" }):save(t.folder .. "/" .. name .. "." .. ending))
        local now = core.read(t.folder .. "/" .. name .. "." .. ending)
        assert(#now > 1000 and (not bytes or bytes == now), ending)
        bytes = now
      end
      assert(ending ~= "gif" or bytes:sub(1, 6) == "GIF89a" and bytes:find("NETSCAPE2.0", 1, true), "a gif that repeats")
    end
    local csv = core.read(t.folder .. "/a.csv")
    t.says(csv, { "outer_radius_um", "0_s_temperature_degC", "1_s_temperature_degC" })
  end)

  t.test("what is refused", function()
    t.raises({ "frames", "2 to 200" }, r.movie, r, { frames = 1 })
    t.raises({ "seconds", "0.5 to 120" }, r.movie, r, { seconds = 0 })
    t.raises({ "number of a step" }, r.movie, r, { step = 9 })
    t.raises({ "movie", '"secnds"', "seconds" }, r.movie, r, { secnds = 1 })
    t.raises({ ".svg or .gif" }, function() assert(r:movie {}):save "x.mp4" end)
    local bare = assert(hf.treat(hf.fibre {}, { hf.rest { duration = "1 s" } }, { profiles = false }))
    t.equal((bare:movie {}), nil)
  end)
end
