-- From a file to columns: a million rows of three numbers, two of them read. Rows: name,value,unit,target.
-- LUA_CPATH="build/?.so;;" lua5.4 tests/bench/bench_import.lua
local hf = require "hairfibre"

local ROWS = 1000000
local path = os.tmpname()

-- The same rows in another dialect.
local function write(delimiter, decimal, quote)
  local file, state, lines = assert(io.open(path, "wb")), 1, {}
  local row = ("\"%.1f\";\"%.4f\";\"%.5f\"\n"):gsub('"', quote):gsub(";", delimiter)
  file:write((('"time";"RH";"moisture"\n"s";"%";"%"\n'):gsub('"', quote):gsub(";", delimiter)))
  for i = 1, ROWS do
    state = state * 48271 % 2147483647 -- a fixed sequence
    lines[#lines + 1] = row:format(1.5 * i, 95 * state / 2147483647, 30 * (1 - state / 2147483647))
    if #lines == 1000 then
      local text = table.concat(lines)
      file:write(decimal == "." and text or (text:gsub("%.", decimal)))
      lines = {}
    end
  end
  file:close()
end

-- Processor time of the best of three, and the size of the file in bytes.
local function measure()
  local best, data = math.huge, nil
  for _ = 1, 3 do
    data = nil -- luacheck: ignore
    collectgarbage()
    local start = os.clock()
    data = assert(hf.import { file = path, x = "RH", y = "moisture", columns = { moisture = { basis = "dry" } } })
    best = math.min(best, os.clock() - start)
    assert(data.rows_used == ROWS)
  end
  return best, data.bytes
end

-- Most memory this process has held, in MB; nil where the system does not tell.
local function peak()
  local status = io.open("/proc/self/status")
  return status and tonumber(status:read("a"):match("VmHWM:%s*(%d+)")) / 1024
end

write(",", ".", "")
local time, bytes = measure()
print(("import: a CSV file,%.0f,MB/s,>= 50"):format(bytes / 1e6 / time))
print(("import: a million rows,%.0f,ms,"):format(1e3 * time))
if peak() then
  print(("import: peak memory of a million rows,%.0f,MB,<= 150"):format(peak()))
end
write(";", ",", "")
time, bytes = measure()
print(("import: decimal commas,%.0f,MB/s,>= 50"):format(bytes / 1e6 / time))
write(",", ".", '"')
time, bytes = measure()
print(("import: quoted cells,%.0f,MB/s,>= 50"):format(bytes / 1e6 / time))
os.remove(path)
