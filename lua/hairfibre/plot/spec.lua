-- What a figure may be asked for. Checks a description and gives it back in one plain form.
-- Misuse raises an error that names the place and, for a wrong word, the nearest right one.

local core = require "hairfibre.core"
local styles = require "hairfibre.styles"
local text = require "hairfibre.plot.text"
local series = require "hairfibre.plot.series"
local suggest = require "hairfibre.suggest"
local fail = require "hairfibre.misuse"

local spec = {}

local MARK_TEXT = 80 -- words beside a reference line must fit into the plot

local function one_of(value, list, what)
  for _, candidate in ipairs(list) do
    if value == candidate then
      return value
    end
  end
  fail("%s is \"%s\"; it may be %s%s", what, text.clean(value), suggest.list(list),
    suggest.nearest(tostring(value), list) and suggest.hint(value, list) or "")
end
spec.one_of = one_of

-- allowed: "name:type name:type"; `any` as type takes everything.
function spec.keys(t, allowed, what)
  if type(t) ~= "table" then
    fail("%s must be a table, not a %s", what, type(t))
  end
  local types, names = {}, {}
  for name, kind in allowed:gmatch("(%S+):(%S+)") do
    types[name], names[#names + 1] = kind, name
  end
  for _, key in ipairs(suggest.sorted_keys(t)) do
    if not types[key] then
      fail("%s has no \"%s\"%s", what, text.clean(key), suggest.hint(key, names))
    end
    local kind = types[key]
    if kind ~= "any" and type(t[key]) ~= kind then
      fail("%s: \"%s\" must be a %s, not a %s", what, key, kind, type(t[key]))
    end
    if kind == "number" and not series.finite(t[key]) then
      fail("%s: \"%s\" is not a finite number", what, key)
    end
  end
end

-- A copy, so that a script may go on with its own list.
local function numbers(list, what)
  if type(list) ~= "table" or #list == 0 then
    fail("%s must be a list of numbers", what)
  end
  local copy = {}
  for i = 1, #list do
    copy[i] = list[i]
    if type(copy[i]) ~= "number" then
      fail("%s: entry %d is a %s, not a number", what, i, type(copy[i]))
    end
  end
  return copy
end
spec.numbers = numbers

local function clean(value)
  if value == nil then
    return nil
  end
  local s = text.clean(value)
  return s:match("%S") and s or nil
end

local function axis(t, what, may_have_categories)
  t = t or {}
  spec.keys(t, "label:string unit:string scale:string low:number high:number ticks:table"
    .. (may_have_categories and " categories:table" or ""), what)
  local scale = t.scale and one_of(t.scale, { "linear", "log" }, what .. ": scale") or "linear"
  local log = scale == "log"
  if log and ((t.low or 1) <= 0 or (t.high or 1) <= 0) then
    fail("%s: a logarithmic axis needs limits above zero", what)
  end
  if t.low and t.high and t.low >= t.high then
    fail("%s: low (%g) must be below high (%g)", what, t.low, t.high)
  end
  local categories
  if t.categories then
    categories = {}
    for i = 1, #t.categories do
      categories[i] = clean(t.categories[i]) or ""
    end
    if #categories == 0 then
      fail("%s: \"categories\" is an empty list", what)
    end
  end
  return { label = clean(t.label), unit = clean(t.unit), log = log, low = t.low, high = t.high,
    ticks = t.ticks and numbers(t.ticks, what .. ": \"ticks\""), categories = categories }
end

local function flags(list, count)
  local copy = {}
  for i = 1, count do
    copy[i] = list[i] and true or false
  end
  return copy
end

local line_keys = "name:string x:table y:table kind:string dashed_from:number dashed_below:number "
  .. "extrapolated:table low:table high:table like:string"

local function line(t, where, x_axis)
  spec.keys(t, line_keys, where)
  local what = t.name and string.format("line \"%s\"", text.clean(t.name)) or where
  local kind = t.kind and one_of(t.kind, { "line", "points", "band", "bars" }, what .. ": kind") or "line"
  local x = t.x
  if not x and x_axis.categories then
    x = {}
    for i = 1, #x_axis.categories do
      x[i] = i
    end
  end
  local result = { name = clean(t.name), kind = kind, x = numbers(x, what .. ": \"x\""),
    dashed_from = t.dashed_from, dashed_below = t.dashed_below,
    extrapolated = t.extrapolated and flags(t.extrapolated, #x),
    like = t.like and clean(t.like) }
  for _, key in ipairs { "y", "low", "high" } do
    if t[key] or key == "y" and kind ~= "band" or kind == "band" and key ~= "y" then
      result[key] = numbers(t[key], what .. ": \"" .. key .. "\"")
      if #result[key] ~= #x then
        fail("%s: \"x\" has %d values and \"%s\" has %d", what, #x, key, #result[key])
      end
    end
  end
  if (result.low == nil) ~= (result.high == nil) then
    fail("%s: \"low\" and \"high\" come together", what)
  end
  return result
end

local function lines(list, where, x_axis, y_axis)
  if type(list) ~= "table" or #list == 0 then
    fail("%s: \"lines\" must be a list with at least one line", where)
  end
  local result, bars, others = {}, 0, 0
  for i = 1, #list do
    result[i] = line(list[i], string.format("%s, line %d", where, i), x_axis)
    if result[i].kind == "bars" then
      bars = bars + 1
    elseif result[i].kind == "line" then
      others = others + 1
    end
  end
  if bars > 0 and others > 0 then
    fail("%s: bars and lines do not go together in one panel; use points", where)
  end
  if bars > 0 and (y_axis.log or x_axis.log) then
    fail("%s: bars need linear axes, since they start at zero", where)
  end
  return result
end

local function marks(list, where, allow_y)
  local result = {}
  for i, t in ipairs(list or {}) do
    local what = string.format("%s, mark %d", where, i)
    spec.keys(t, "x:number y:number text:string", what)
    if (t.x == nil) == (t.y == nil) then
      fail("%s needs either \"x\" or \"y\"", what)
    end
    if t.y and not allow_y then
      fail("%s: with panels, put a mark with \"y\" into its panel", what)
    end
    if t.text and #t.text > MARK_TEXT then
      fail("%s: its text has more than %d letters; the note under the figure has room for it", what, MARK_TEXT)
    end
    result[i] = { x = t.x, y = t.y, text = clean(t.text) }
  end
  return result
end

-- One identity (colour, marker, dashes) per name, through the whole figure.
local function identities(figure)
  local known, count = {}, 0
  for _, panel in ipairs(figure.panels) do
    for _, l in ipairs(panel.lines) do
      local name = l.like or l.name
      if l.like and not known[l.like] then
        fail("line \"%s\": like = \"%s\", but no earlier line has that name", l.name or "?", l.like)
      end
      if not name or not known[name] then
        count = count + 1
        if name then
          known[name] = count
        end
        l.identity = count
      else
        l.identity = known[name]
      end
    end
  end
  if count > styles.most then
    fail("%d different lines in one figure cannot be told apart; %d are the most", count, styles.most)
  end
end

local function size_of(size, style)
  if size == nil then
    return nil
  end
  if type(size) == "string" then
    return styles.sizes[one_of(size, { "column", "page", "slide" }, "size")]
  end
  spec.keys(size, "width:number height:number", "size")
  local usual = styles.get(style)
  local width, height = size.width, size.height
  if not width then
    fail("size: \"width\" (mm) is missing")
  end
  height = height or width * usual.height / usual.width
  if width < 50 or width > 1000 or height < 40 or height > 1000 then
    fail("size: width may be 50 to 1000 mm and height 40 to 1000 mm")
  end
  return { width, height }
end

function spec.check(t)
  spec.keys(t, "title:string x:table y:table panels:table lines:table marks:table source:string "
    .. "note:string caution:string provenance:string style:string size:any sideways:boolean", "a figure")
  local style = t.style and one_of(t.style, styles.names, "style") or "projector"
  local figure = { title = clean(t.title), source = clean(t.source), note = clean(t.note),
    caution = clean(t.caution), provenance = clean(t.provenance or "hairfibre " .. core.version), style = style, size = size_of(t.size, style), x = axis(t.x, "x", true),
    panels = {} }
  if t.panels then
    if t.lines or t.y then
      fail("a figure has either \"panels\" or \"y\" and \"lines\"")
    end
    if #t.panels < 1 or #t.panels > 2 then
      fail("\"panels\" must hold one or two panels, not %d", #t.panels)
    end
    for i, p in ipairs(t.panels) do
      local where = "panel " .. i
      spec.keys(p, "y:table lines:table marks:table share:number", where)
      local y = axis(p.y, where .. ": y")
      local share = p.share or 1
      if not (share > 0.2 and share <= 1) then
        fail("%s: share, its part of the height over that of the highest panel, must lie between 0.2 and 1", where)
      end
      figure.panels[i] = { y = y, lines = lines(p.lines, where, figure.x, y),
        marks = marks(p.marks, where, true), share = share }
    end
    figure.marks = marks(t.marks, "the figure", false)
  else
    local y = axis(t.y, "y")
    figure.panels[1] = { y = y, lines = lines(t.lines, "the figure", figure.x, y),
      marks = marks(t.marks, "the figure", true), share = 1 }
    figure.marks = {}
  end
  if t.sideways then
    for _, panel in ipairs(figure.panels) do
      for _, one in ipairs(panel.lines) do
        if one.kind ~= "bars" or not figure.x.categories then
          fail("sideways is for bars over categories")
        end
      end
    end
    figure.sideways = true
  end
  identities(figure)
  return figure
end

return spec
