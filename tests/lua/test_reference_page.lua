-- The Lua reference (docs/lua.md): a row for every function, none for a function that is not there.
local hf = require "hairfibre"

return function(t)
  local file = assert(io.open "docs/lua.md")
  local page = file:read "a"
  file:close()
  local rows = {}
  for call, text in page:match("\n## All functions\n(.*)"):gmatch "\n| `(hf%.[^`]+)` | ([^\n]-) |" do
    local name = call:match "^hf%.([%w_]+)"
    assert(not rows[name], "two rows on " .. name)
    rows[name] = text
  end
  t.test("every function has a row of its own in the Lua reference", function()
    local quantities = {}
    for _, descriptor in ipairs(hf.quantities()) do
      quantities[descriptor.name] = true
    end
    local without = {}
    for name in pairs(hf) do
      if name:find "^%a" and not quantities[name] and not (rows[name] and #rows[name] > 10) then
        without[#without + 1] = name
      end
    end
    t.equal(table.concat(without, ", "), "")
  end)
  t.test("every row is of something that is there", function()
    local count = 0
    for name in pairs(rows) do
      assert(hf[name] ~= nil, name)
      count = count + 1
    end
    assert(count > 80, count)
  end)
end
