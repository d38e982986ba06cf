-- FNV-1a of the bytes of a text, 16 hexadecimal digits: to tell later which file it was. No protection
-- against somebody who wants to deceive.

return function(text)
  local hash = 0xcbf29ce484222325
  for i = 1, #text do
    hash = (hash ~ text:byte(i)) * 0x100000001b3
  end
  return ("%016x"):format(hash)
end
