-- Runs every test file of this folder: LUA_CPATH="build/?.so;;" lua5.4 tests/lua/run.lua [name...]
-- A file returns a function that gets `t`; each t.test counts once. Ends with `N passed, N failed`.
require "hairfibre" -- brings its parts with it
local folder = arg[0]:match("^(.*)/") or "."
local t, passed, failed = {}, 0, 0

function t.test(name, f)
  local done, message = xpcall(f, function(problem)
    return debug.traceback(tostring(problem), 2)
  end)
  passed, failed = passed + (done and 1 or 0), failed + (done and 0 or 1)
  if not done then
    print(("not ok: %s\n  %s"):format(name, message))
  end
end

function t.equal(got, want, what)
  if got ~= want then
    error(("%s: got %s, expected %s"):format(what or "value", tostring(got), tostring(want)), 2)
  end
end

-- Within `within`, and never true for NaN.
function t.close(got, want, within, what)
  if not (type(got) == "number" and math.abs(got - want) <= within) then
    error(("%s: got %s, expected %.17g within %g"):format(what or "value", tostring(got), want, within), 2)
  end
end

-- f(...) raises an error whose text holds every one of the plain `parts`.
function t.raises(parts, f, ...)
  local done, message = pcall(f, ...)
  if done then
    error("no error was raised; expected: " .. table.concat(parts, " ... "), 2)
  end
  t.says(message, parts)
  return message
end

function t.says(message, parts)
  for _, part in ipairs(parts) do
    if type(message) ~= "string" or not message:find(part, 1, true) then
      error(("the text %q lacks %q"):format(tostring(message), part), 2)
    end
  end
end

t.folder = os.tmpname() -- a folder for files of the tests
os.remove(t.folder)
assert(os.execute("mkdir '" .. t.folder .. "'"))
for file in io.popen("ls '" .. folder .. "'"):lines() do
  local name = file:match("^test_(.*)%.lua$")
  if name and (#arg == 0 or table.concat(arg, " "):find(name, 1, true)) then
    local done, problem = pcall(function()
      assert(loadfile(folder .. "/" .. file))()(t)
    end)
    if not done then
      t.test(file, function() error(problem, 0) end)
    end
  end
end
os.execute("rm -rf '" .. t.folder .. "'")
print(("%d passed, %d failed"):format(passed, failed))
os.exit(failed == 0, true)
