-- What is left of a gnuplot script without its quoted texts, its data and its comments must be plain commands.
-- Returns the first line that is more than that; nil for a script that is fine.

local first_words = { set = true, unset = true, plot = true, replot = true }

return function(script)
  local data
  for line in script:gmatch("[^\n]*") do
    if data then
      if line == "EOD" then
        data = false
      elseif line:find("[^%deE+%-. \tNaN\"]") then
        return line
      end
    elseif line:find("^%$[%w_]+ << EOD$") then
      data = true
    elseif not line:find("^#") and line ~= "" then
      local bare = line:gsub("'[^']*'", " ")
      if bare:find("[`\"'!@|]") or not (first_words[bare:match("^%s*(%a+)")] or bare:find("^%s") or bare:find("^%$")) then
        return line
      end
    end
  end
end
