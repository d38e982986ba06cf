-- The first 16 digits of the SHA-256 of a text: to tell later which file it was.

local core = require "hairfibre.core"

return function(text)
  return core.sha256(text):sub(1, 16)
end
