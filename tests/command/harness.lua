-- Runs the program and compares: exit code, fragments of what it says, files it leaves. Every test
-- file of this folder ends with harness.finish(), which prints `N passed, N failed`.

local harness = { passed = 0, failed = 0 }

local here = assert(io.popen("pwd")):read("l")
local build = os.getenv("BUILD") or "build"
harness.root = here
harness.program = (build:sub(1, 1) == "/" and build or here .. "/" .. build) .. "/hairfibre"

local function read(path)
  local file = io.open(path, "rb")
  if not file then
    return nil
  end
  local bytes = file:read("a")
  file:close()
  return bytes
end
harness.read = read

function harness.quote(word)
  return "'" .. word:gsub("'", "'\\''") .. "'"
end
local quote = harness.quote

-- A folder of our own; everything runs inside it.
harness.folder = os.tmpname()
os.remove(harness.folder)
assert(os.execute("mkdir " .. quote(harness.folder)))
harness.work = harness.folder .. "/work"
assert(os.execute("mkdir " .. quote(harness.work)))

function harness.write(name, bytes)
  local file = assert(io.open(harness.work .. "/" .. name, "wb"))
  file:write(bytes)
  file:close()
end

-- Names of all files below the work folder, for "nothing is written".
function harness.listing()
  local pipe = assert(io.popen("cd " .. quote(harness.work) .. " && find . | LC_ALL=C sort"))
  local names = pipe:read("a")
  pipe:close()
  return names
end

--- Runs a shell command line in the work folder: exit code, stdout, stderr.
function harness.shell(line)
  local out, err = harness.folder .. "/stdout", harness.folder .. "/stderr"
  local _, kind, code = os.execute(("cd %s && { %s\n} >%s 2>%s </dev/null"):format(quote(harness.work),
    line, quote(out), quote(err)))
  return kind == "exit" and code or 128 + code, read(out), read(err)
end

--- Runs the program with a list of words.
function harness.run(words, before)
  local line = { before or "", quote(harness.program) }
  for _, word in ipairs(words) do
    line[#line + 1] = quote(word)
  end
  return harness.shell(table.concat(line, " "))
end

function harness.check(good, what, more)
  if good then
    harness.passed = harness.passed + 1
  else
    harness.failed = harness.failed + 1
    print("failed: " .. what .. (more and "\n  " .. more:gsub("\n", "\n  ") or ""))
  end
end

local function lacks(said, fragments)
  for _, fragment in ipairs(fragments or {}) do
    if not said:find(fragment, 1, true) then
      return fragment
    end
  end
end

--- One row: { words..., code =, out = fragments, err = fragments, writes = true }.
--- Without `writes` the folder must be left as it was; a failure must be one line on stderr that
--- starts with "hairfibre: ", and a success must say nothing there.
function harness.row(row)
  local name = "hairfibre " .. table.concat(row, " ")
  local before = harness.listing()
  local code, out, err = harness.run(row)
  local said = ("exit %d\nstdout: %s\nstderr: %s"):format(code, out:sub(1, 2000), err:sub(1, 2000))
  local wanted = row.code or 0
  local missing = lacks(out, row.out) or lacks(err, row.err)
  local good = code == wanted and not missing
  if wanted == 0 then
    good = good and err == ""
  else
    good = good and err:find("^hairfibre: [^\n]+\n$") ~= nil and not err:find("stack traceback")
  end
  if not row.writes then
    good = good and harness.listing() == before
  end
  harness.check(good, name, missing and ("lacks: " .. missing .. "\n" .. said) or said)
  return out
end

--- No line of a text for people is wider than 80 characters.
function harness.narrow(out, name)
  for line in out:gmatch("[^\n]+") do
    if (utf8.len(line) or #line) > 80 then
      harness.check(false, name .. ": a line is wider than 80 characters", line)
      return
    end
  end
  harness.check(true, name)
end

function harness.finish()
  os.execute("rm -rf " .. quote(harness.folder))
  print(("%d passed, %d failed"):format(harness.passed, harness.failed))
  os.exit(harness.failed == 0)
end

return harness
