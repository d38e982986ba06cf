-- While a report page is made, what a script saves goes into the page instead of into files.

local collect = {}

local taker
local sealed = setmetatable({}, { __mode = "k" }) -- what a sandboxed script holds -> the object itself

--- f(kind, object, path) is asked at every save; true means: taken, write no file. nil ends it.
function collect.start(f)
  taker = f
end

--- Offers an object that is about to be saved. kinds: "figure", "worksheet", "rings", "result", "report".
function collect.take(kind, object, path)
  return taker ~= nil and taker(kind, object, path)
end

--- Remembers what a sandboxed script's view of an object stands for.
function collect.seal(view, object)
  sealed[view] = object
end

--- The object behind a script's view of it.
function collect.real(x)
  return type(x) == "table" and sealed[x] or x
end

return collect
