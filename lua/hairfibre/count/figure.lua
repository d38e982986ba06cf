-- The picture of an analysis: change of diameter, predicted and observed, over the shares with their
-- intervals, one place on the axis for each group.

local misuse = require "hairfibre.misuse"
local provenance = require "hairfibre.provenance"
local suggest = require "hairfibre.suggest"

local figure = {}

local SHIFT = 0.13

-- Points of groups that have something; x at the place of the group plus a shift.
local function points(a, shift, f)
  local line = { x = {}, y = {}, low = {}, high = {}, kind = "points" }
  for i, group in ipairs(a.groups) do
    local y, low, high = f(group)
    if y then
      table.insert(line.x, i + shift)
      table.insert(line.y, y)
      table.insert(line.low, low or y)
      table.insert(line.high, high or y)
    end
  end
  return #line.x > 0 and line or nil
end

local function diameter_panel(a)
  local observed = points(a, a.predicted and SHIFT or 0, function(group)
    local c = group.change
    if c then
      return 1e6 * c.mean, c.low and 1e6 * c.low, c.high and 1e6 * c.high
    end
  end)
  local predicted = points(a, -SHIFT, function(group)
    local p = group.prediction
    if p then
      return 1e6 * p.change, 1e6 * p.low, 1e6 * p.high
    end
  end)
  local lines = {}
  if predicted then
    predicted.name = "predicted, one strand"
    lines[#lines + 1] = predicted
  end
  if observed then
    observed.name = "observed, mean"
    lines[#lines + 1] = observed
  end
  return #lines > 0 and { y = { label = "Change of diameter", unit = "um" }, lines = lines,
    marks = { { y = 0, text = "no change" } } } or nil
end

local function share_panel(a)
  local lines, names = {}, {}
  for _, name in ipairs { "voids", "cuticle_lift", "broken", "worse" } do
    for _, group in ipairs(a.groups) do
      if group.shares[name] and not names[name] then
        names[name], names[#names + 1] = true, name
      end
    end
  end
  for i, name in ipairs(names) do
    local words
    local line = points(a, (i - (#names + 1) / 2) * SHIFT, function(group)
      local share = group.shares[name]
      if share then
        words = share.words
        return 100 * share.share, 100 * share.low, 100 * share.high
      end
    end)
    if line then
      line.name = words
      lines[#lines + 1] = line
    end
  end
  return #lines > 0 and { y = { label = "Share of strands", unit = "%", low = 0, high = 100 }, lines = lines } or nil
end

local function plain(path)
  return (path:gsub("/%./", "/"):gsub("//+", "/"):gsub("^%./", ""))
end

-- A figure saves its numbers as CSV under its own name: that must not be a sheet or a key. Sentence when `path` is one.
local function overwrites(a)
  return function(path)
    for _, list in ipairs { a.keys, a.files } do
      for _, sheet in ipairs(list) do
        if plain(path) == plain(sheet) then
          return ("%s is a sheet that was read, and sheets are never written: choose another name"):format(sheet)
        end
      end
    end
  end
end

--- Figure of an analysis. options: title, style.
function figure.of(a, options)
  options = options or {}
  for _, key in ipairs(suggest.sorted_keys(options)) do
    if key ~= "title" and key ~= "style" then
      misuse("figure has no option \"%s\"%s", tostring(key), suggest.hint(key, { "title", "style" }))
    end
  end
  local changes, shares, names = diameter_panel(a), share_panel(a), {}
  local panels = { changes or shares, changes and shares }
  if #panels == 0 then
    return nil, "the sheets hold nothing that can be drawn", "data"
  end
  for i, group in ipairs(a.groups) do
    names[i] = ("%s (%d)"):format(group.name, #group.strands)
  end
  local level, means = ("%.4g"):format(100 * a.level), changes and "t for means"
  local methods = shares and a.method .. " for shares" .. (means and ", " .. means or "") or means
  local note = ("Bars: %s %% intervals (%s)%s. In brackets: strands."):format(level, methods,
    a.predicted and changes and "; predicted: 95 % for one strand" or "")
  local d = { title = options.title or (a.predicted and "Strands: predicted and observed" or "Strands: what the counts say"),
    x = { categories = names }, note = note, style = options.style,
    caution = a.caution,
    provenance = provenance.sentence(a:provenance()) }
  if #panels == 1 then
    d.y, d.lines, d.marks = panels[1].y, panels[1].lines, panels[1].marks
  else
    d.panels = panels
  end
  return require("hairfibre.plot").figure(d, overwrites(a))
end

return figure
