-- Spelling help: the nearest of a list of names, and lists of names in a sentence.

local suggest = {}

--- Edits between two words: insert, delete, replace, swap of neighbours.
function suggest.distance(a, b)
  local last, row = nil, {}
  for j = 0, #b do
    row[j] = j
  end
  for i = 1, #a do
    local now = { [0] = i }
    for j = 1, #b do
      local best = row[j - 1] + (a:byte(i) == b:byte(j) and 0 or 1)
      best = math.min(best, row[j] + 1, now[j - 1] + 1)
      if last and j > 1 and a:byte(i) == b:byte(j - 1) and a:byte(i - 1) == b:byte(j) then
        best = math.min(best, last[j - 2] + 1)
      end
      now[j] = best
    end
    last, row = row, now
  end
  return row[#b]
end

--- Nearest of `names` to what was typed; nil when none is near: about one slip in three letters, a
--- name that contains what was typed, or one that begins it (a word too many).
function suggest.nearest(typed, names)
  if #typed == 0 or #typed > 64 then
    return nil
  end
  typed = typed:lower()
  local best, least = nil, #typed // 3 + 2
  for _, name in ipairs(names) do
    local lower = name:lower()
    local d = suggest.distance(typed, lower)
    local inside = #typed >= 4 and lower:find(typed, 1, true)
    if d > 1 and (inside or #lower >= 4 and typed:sub(1, #lower) == lower) then
      d = 1
    end
    if d < least then
      best, least = name, d
    end
  end
  return best
end

--- "; did you mean "x"?" or the list of what there is.
function suggest.hint(typed, names)
  local near = suggest.nearest(tostring(typed), names)
  if near then
    return ("; did you mean \"%s\"?"):format(near)
  end
  return #names > 0 and "; known here: " .. table.concat(names, ", ") or ""
end

--- "a", "a or b", "a, b or c".
function suggest.list(words, conjunction)
  if #words < 2 then
    return words[1] or ""
  end
  return table.concat(words, ", ", 1, #words - 1) .. " " .. (conjunction or "or") .. " " .. words[#words]
end

--- Keys of a table in a fixed order.
function suggest.sorted_keys(t)
  local keys = {}
  for key in pairs(t) do
    keys[#keys + 1] = key
  end
  table.sort(keys, function(a, b)
    local ta, tb = type(a), type(b)
    if ta ~= tb then
      return ta < tb
    elseif ta == "number" or ta == "string" then
      return a < b
    end
    return tostring(a) < tostring(b)
  end)
  return keys
end

return suggest
