-- What the shared library exports is what the headers declare, no more and no less; the Lua module exports
-- its entry alone; and the library has no writable data of its own.
-- lua5.4 tests/unit/exports.lua BUILD

local build = arg[1]
local passed, failed = 0, 0

local function check(what, list)
  if #list == 0 then
    passed = passed + 1
  else
    failed = failed + 1
    table.sort(list)
    print(what .. ": " .. table.concat(list, ", "))
  end
end

local function lines(command)
  local list = {}
  local pipe = assert(io.popen(command))
  for line in pipe:lines() do
    list[#list + 1] = line
  end
  pipe:close()
  return list
end

local declared = {}
for _, path in ipairs(lines("ls include/hairfibre/*.h")) do
  local file = assert(io.open(path))
  local text = file:read("a"):gsub("/%*.-%*/", " ")
  file:close()
  for declaration in text:gmatch("HF_API(.-);") do
    local name = declaration:match("(hf_[%w_]+)%s*%(")
    if name then
      declared[name] = true
    end
  end
end

local function exported(path)
  local list = {}
  for _, line in ipairs(lines("nm -D --defined-only " .. path)) do
    local kind, name = line:match("^%x+ (%a) ([%w_]+)")
    -- What the linker itself defines does not count.
    if kind and not name:find("^_") then
      list[name] = kind
    end
  end
  return list
end

local missing, extra = {}, {}
local library = exported(build .. "/libhairfibre.so")
for name in pairs(declared) do
  if not library[name] then
    missing[#missing + 1] = name
  end
end
for name in pairs(library) do
  if not declared[name] then
    extra[#extra + 1] = name
  end
end
check("declared but not exported", missing)
check("exported but not declared", extra)

local others = {}
for name in pairs(exported(build .. "/hairfibre.so")) do
  if name ~= "luaopen_hairfibre" and name ~= "luaopen_hairfibre_core" then
    others[#others + 1] = name
  end
end
check("the Lua module exports more than its entries", others)

-- Data that can be written: letters D, d, B and b of nm. Constants with addresses in them are d too; they lie in
-- .data.rel.ro, which the loader makes read-only (.data.rel without .ro stays writable), so the section is asked for.
-- Variables of a thread (.tdata, .tbss) count as well.
local reasons = {
  guarded = "the once-flag that switches the handler of GSL off (lib/inference/guard.c)",
}
local writable, unused = {}, {}
for name in pairs(reasons) do
  unused[name] = true
end
for _, line in ipairs(lines("objdump -t " .. build .. "/libhairfibre.a 2>/dev/null")) do
  local section, name = line:match("%sO%s+(%.[%w%._]+)%s+%x+%s+(.-)$")
  if not section then
    section, name = line:match("%s(%.t[bd][%w%._]+)%s+%x+%s+([^%.].-)$")
  end
  if section then
    name = name:gsub("^%.hidden%s+", "")
    unused[name] = nil
    if not section:find("^%.rodata") and not section:find("^%.data%.rel%.ro") and not reasons[name] then
      writable[#writable + 1] = name .. " in " .. section
    end
  end
end
local gone = {}
for name in pairs(unused) do
  gone[#gone + 1] = name
end
check("allowed to be writable but not found in the library", gone)
check("writable data in the library", writable)

print(("%d passed, %d failed"):format(passed, failed))
os.exit(failed == 0)
