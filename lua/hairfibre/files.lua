-- The one place where the Lua half reads and writes files. A guard, set by the command for scripts
-- that are not trusted, may refuse a path or lead it into a folder.

local collect = require "hairfibre.collect"
local core = require "hairfibre.core"

local files = {}

local guard

--- guard(mode, path) with mode "read" or "write" gives the path to use, or nil and a sentence.
--- nil lifts it.
function files.set_guard(f)
  guard = f
end

--- Path to use for reading or writing; or nil, sentence, "file".
function files.path(mode, path)
  if path == "" or path:find("[%c]") then
    return nil, "a file needs a name without control characters", "file"
  elseif not guard then
    return path
  end
  local allowed, message = guard(mode, path)
  if not allowed then
    return nil, message, "file"
  end
  return allowed
end

--- All bytes of a file; or nil, sentence, "file".
function files.read(path)
  local allowed, message, code = files.path("read", path)
  if not allowed then
    return nil, message, code
  end
  return core.read(allowed)
end

--- Writes a text, or what a function gives piece by piece until nil, under a temporary name and renames; true, or nil,
--- sentence, "file".
function files.write(path, text)
  if collect.take("file", nil, path) then
    return true
  end
  local allowed, message, code = files.path("write", path)
  if not allowed then
    return nil, message, code
  end
  return core.write(allowed, text)
end

return files
