-- Strings, file names and numbers as gnuplot may safely read them.
--
-- gnuplot runs what stands between backticks in double quotes, and a line break ends a string. So
-- every text goes through quote(); scripts have no double quotes and no user text in comments, and
-- their data blocks hold numbers only.

local text = require "hairfibre.plot.text"

local words = {}

-- Doubling an apostrophe is the documented way, but gnuplot 5.4 misreads it at the start of a string
-- and beside another one. The typographic apostrophe has no meaning there.
function words.quote(s)
  return "'" .. text.clean(s):gsub("'", "\u{2019}") .. "'"
end

-- A file name is refused rather than changed. "./" keeps a leading "|" from being a command.
function words.path(path)
  if path:find("[%c]") then
    return nil, "a file name must not hold control characters"
  elseif path:find("''", 1, true) then
    return nil, "gnuplot cannot write a file name with two quotes in a row"
  end
  if not path:find("^/") then
    path = "./" .. path
  end
  return "'" .. path:gsub("'", "''") .. "'"
end

function words.number(value)
  if value ~= value then
    return "NaN"
  end
  return (string.format("%.17g", value):gsub(",", "."))
end

function words.short(value)
  return (string.format("%.5f", value):gsub(",", "."))
end

return words
