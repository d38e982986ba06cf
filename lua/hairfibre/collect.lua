-- Between a script and the objects of the library: while a report page is made, what it saves goes into the
-- page instead of into files; in a sandbox it holds views of figures that it cannot change.

local collect = {}

local taker, shield
local real = setmetatable({}, { __mode = "k" }) -- what a sandboxed script holds -> the object itself

--- f(kind, object, path) is asked at every save; true means: taken, write no file. nil ends it.
--- kinds: "figure", "rings", "card", "result", "report", and "file" for all that a page cannot show.
function collect.start(f)
  taker = f
end

--- True while a page is made.
function collect.active()
  return taker ~= nil
end

--- Offers an object that is about to be saved.
function collect.take(kind, object, path)
  return taker ~= nil and taker(kind, object, path)
end

--- Sets what scripts get in place of figures, rings, cards and reports (a view that shows methods only);
--- nil ends it.
function collect.shield(f)
  shield = f
end

--- What a caller gets of an object just made.
function collect.hand_out(object)
  if not shield then
    return object
  end
  local view = shield(object)
  real[view] = object
  return view
end

--- The object behind a script's view of it.
function collect.real(x)
  return type(x) == "table" and real[x] or x
end

return collect
