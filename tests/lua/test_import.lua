-- Data files as instruments and spreadsheets write them: dialects, traps, refusals.
local hf = require "hairfibre"
local core = require "hairfibre.core"

return function(t)
  local made = 0
  local function file(bytes)
    made = made + 1
    local path = ("%s/import_%d.csv"):format(t.folder, made)
    assert(core.write(path, bytes))
    return path
  end
  local DRY = { moisture = { basis = "dry" } }

  t.test("a table with preamble, units row and decimal comma", function()
    local d = assert(hf.import { file = file("Balance\nTemperature;25\n\nRH;moisture\n%;%\n10;4,5\n20;6,25\n30;n/a\n40;9,1;\n50\n"),
      x = "RH", y = "moisture", columns = { moisture = { basis = "wet" } } })
    t.equal(d.rows_used, 3)
    t.close(d:get "RH"[2], 0.2, 1e-15)
    t.close(d:get "moisture"[1], 0.045 / 0.955, 1e-15)
    t.equal(#d.excluded, 2)
    t.equal(d.excluded[1].line, 8)
    t.equal(d.excluded[1].column, "moisture")
    t.equal(d.excluded[2].line, 10)
    t.says(d:text(), { "semicolon", "comma", "line 5", "n/a", "left out" })
  end)
  t.test("a number with two readings is refused", function()
    local path = file("RH;moisture\n%;%\n10;1,234\n20;2,345\n")
    local d, message, code = hf.import { file = path, x = "RH", y = "moisture", columns = DRY }
    t.equal(d, nil)
    t.equal(code, "data")
    t.says(message, { "line 3", "moisture", "1.234 or 1234" })
    d = assert(hf.import { file = path, x = "RH", y = "moisture", columns = DRY, decimal = "comma" })
    t.close(d.y.values[1], 0.01234, 1e-15)
    d = assert(hf.import { file = path, x = "RH", y = "moisture", columns = DRY, decimal = "point" })
    t.close(d.y.values[1], 12.34, 1e-12)
  end)
  t.test("a missing unit is refused", function()
    local d, message, code = hf.import { file = file("RH,moisture [%]\n10,5\n"), x = "RH", y = "moisture", columns = DRY }
    t.equal(d, nil)
    t.equal(code, "data")
    t.says(message, { '"RH" has no unit', "unit =" })
  end)
end
