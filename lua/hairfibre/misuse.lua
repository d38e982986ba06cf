-- misuse(format, ...) raises a caller's mistake at the line of the caller's own script: frames of
-- the library and of the command are passed over.

local getinfo = debug.getinfo

return function(message, ...)
  if select("#", ...) > 0 then
    message = message:format(...)
  end
  local level = 2
  while true do
    local info = getinfo(level, "S")
    if not info then
      error(message, 0)
    end
    local own = info.source:find("^=hairfibre%.") or info.source:find("^=command%.")
    if info.what ~= "C" and not own then
      error(message, level)
    end
    level = level + 1
  end
end
