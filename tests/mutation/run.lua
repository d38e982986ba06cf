-- make check-mutation: puts each fault of faults.lua into a copy of the tree, builds, and runs the tests
-- until one fails. A fault that no test sees fails this check. Long: some minutes on two cores.
-- Arguments: folder for the copy; numbers of the faults to try (all when none are given).
local folder = assert(arg[1], "a folder for the copy")
local faults = dofile("tests/mutation/faults.lua")

local function shell(line)
  local ok = os.execute(("{ %s\n} >%s/log 2>&1"):format(line, folder))
  return ok == true
end

local function slurp(path)
  local file = assert(io.open(path, "rb"))
  local text = file:read("a")
  file:close()
  return text
end

local function spew(path, text)
  local file = assert(io.open(path, "wb"))
  file:write(text)
  file:close()
end

local tree = folder .. "/tree"
assert(os.execute("mkdir -p " .. tree .. " && git ls-files -z | xargs -0 cp --parents -p -t " .. tree))
local make = "make --no-print-directory -C " .. tree .. " -j2 "
assert(shell(make .. "all"), "the tree does not build")

-- Names of the compiled tests with their paths below the build folder.
local programs, where = {}, {}
local pipe = assert(io.popen("cd " .. tree .. " && ls tests/unit/test_*.c tests/property/test_*.c tests/reference/test_*.c"))
for path in pipe:lines() do
  local target = path:gsub("%.c$", "")
  local name = target:match("[^/]+$")
  programs[#programs + 1] = name
  where[name] = "build/" .. target
end
pipe:close()

local function literature_fails()
  return not shell("cd " .. tree .. " && build/hairfibre selftest")
end

local function program_fails(name)
  return not shell(make .. where[name]) or not shell("cd " .. tree .. " && " .. where[name])
end

-- Name of a test that fails, the likely one first; nil when all pass.
local function seen_by(first)
  if where[first] and program_fails(first) then
    return first
  end
  assert(shell(make .. "build/hairfibre"), "a fault does not compile: " .. slurp(folder .. "/log"))
  if literature_fails() then
    return "literature"
  end
  for _, name in ipairs(programs) do
    if name ~= first and program_fails(name) then
      return name
    end
  end
end

local function occurrences(text, plain)
  local count, at = 0, 1
  while true do
    local from, to = text:find(plain, at, true)
    if not from then
      return count
    end
    count, at = count + 1, to + 1
  end
end

local chosen = {}
for i = 2, #arg do
  chosen[tonumber(arg[i])] = true
end
local passed, failed = 0, 0
for i, fault in ipairs(faults) do
  if next(chosen) == nil or chosen[i] then
    local path = tree .. "/" .. fault.file
    local sound = slurp(path)
    assert(occurrences(sound, fault.from) == 1, fault.file .. ": this text should stand there once: " .. fault.from)
    local from, to = sound:find(fault.from, 1, true)
    spew(path, sound:sub(1, from - 1) .. fault.to .. sound:sub(to + 1))
    local by = seen_by(fault.first)
    spew(path, sound)
    passed, failed = passed + (by and 1 or 0), failed + (by and 0 or 1)
    print(("%2d  %-6s  %-28s %s"):format(i, fault.kind, fault.file, by and "seen by " .. by or "NOT SEEN: " .. fault.to))
    io.stdout:flush()
  end
end
print(("%d passed, %d failed"):format(passed, failed))
os.exit(failed == 0)
