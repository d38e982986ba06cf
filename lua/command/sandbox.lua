-- The environment of a script that is not trusted: an allow-list, locked views of the library, and
-- nothing that reaches the machine. Memory and time limits are in sandbox.c.

local collect = require "hairfibre.collect"

local sandbox = {}

local longest_text = 64 * 1024 * 1024 -- bytes that string.rep may make

-- The library's own code goes on using the real tables, so a script can neither change them nor
-- hand the library a changed one.
local function copy_of(source, names)
  local copy = {}
  for name in names:gmatch("%S+") do
    copy[name] = source[name]
  end
  return copy
end

local function string_functions()
  local copy = copy_of(string, "byte char find format gmatch gsub len lower match pack packsize "
    .. "rep reverse sub unpack upper")
  local rep = string.rep
  function copy.rep(s, n, separator)
    local size, times = #tostring(s) + (separator and #tostring(separator) or 0), tonumber(n)
    if times and times > 0 and size * times > longest_text then
      error("string.rep would make a text of more than 64 MB", 2)
    end
    return rep(s, n, separator)
  end
  return copy
end

-- What a script gets of an object whose insides end up in a program that is called (gnuplot) or in a page for
-- the browser: figures, rings, cards, reports. It sees their methods only.
local function seal(object)
  local name = getmetatable(object).__name
  return setmetatable({}, {
    __index = function(_, key)
      local method = object[key]
      return type(method) == "function" and function(_, ...)
        return method(object, ...)
      end or nil
    end,
    __newindex = function()
      error("a figure cannot be changed; make another one", 2)
    end,
    __tostring = function()
      return tostring(object)
    end,
    __name = name,
    __metatable = "locked",
  })
end

-- A locked view of a table of the library, made once for each table: what a script reads from it it
-- can neither change nor reach the inside of. Results and parameter sets that a script makes are its
-- own.
local function viewer()
  local views = setmetatable({}, { __mode = "k" })
  local view
  local function shown(value)
    return type(value) == "table" and view(value) or value
  end
  function view(original)
    if views[original] then
      return views[original]
    end
    local seen = {}
    local meta = {
      __index = function(_, key)
        local value = seen[key]
        if value == nil then
          value = shown(original[key])
          seen[key] = value
        end
        return value
      end,
      __newindex = function(_, key)
        error(("the library cannot be changed (field \"%s\")"):format(tostring(key)), 2)
      end,
      __len = function()
        return #original
      end,
      __pairs = function()
        local keys = {}
        for key in next, original do
          keys[#keys + 1] = key
        end
        local i = 0
        return function()
          i = i + 1
          return keys[i], keys[i] ~= nil and shown(original[keys[i]]) or nil
        end
      end,
      __metatable = "locked",
    }
    views[original] = setmetatable({}, meta)
    return views[original]
  end
  return view
end

--- A new environment. `library` is the table that `require "hairfibre"` gives.
function sandbox.environment(library, arguments)
  local env = copy_of(_G, "assert error ipairs next pairs pcall print rawequal rawget rawlen rawset "
    .. "select tonumber tostring type xpcall _VERSION")
  env._G = env
  env.arg = arguments
  env.string = string_functions()
  env.table = copy_of(table, "concat insert move pack remove sort unpack")
  env.math = copy_of(math, "abs acos asin atan ceil cos deg exp floor fmod huge log max maxinteger min "
    .. "mininteger modf pi rad random sin sqrt tan tointeger type ult")
  env.utf8 = copy_of(utf8, "char charpattern codepoint codes len offset")
  env.coroutine = copy_of(coroutine, "close create isyieldable resume running status wrap yield")

  function env.math.randomseed(seed)
    if math.type(seed) == nil then
      error("randomseed needs a number here: the same numbers at every run", 2)
    end
    math.randomseed(seed)
  end

  local own = setmetatable({}, { __mode = "k" }) -- metatables that the script made itself
  function env.setmetatable(value, meta)
    if type(value) ~= "table" then
      error("setmetatable needs a table", 2)
    elseif meta ~= nil and type(meta) == "table" and rawget(meta, "__gc") ~= nil then
      error("__gc has no place in a sandboxed script", 2)
    end
    local now = getmetatable(value)
    if now ~= nil and not own[now] then
      error("this metatable belongs to the library", 2)
    end
    setmetatable(value, meta)
    if meta ~= nil then
      own[meta] = true
    end
    return value
  end
  function env.getmetatable(value)
    local meta = getmetatable(value)
    if type(value) == "table" and own[meta] then
      return meta
    end
    return nil
  end
  function env.collectgarbage(option)
    if option == nil or option == "count" or option == "collect" then
      return collectgarbage(option)
    end
    error("collectgarbage knows 'count' and 'collect' here", 2)
  end
  function env.load(chunk, name, mode, environment)
    if mode ~= nil and mode ~= "t" and mode ~= "bt" then
      error("load takes text only", 2)
    end
    return load(chunk, name, "t", environment or env)
  end

  local view
  function env.require(name)
    if name ~= "hairfibre" then
      error(("require knows \"hairfibre\" only in a sandboxed script, not \"%s\""):format(
        tostring(name)), 2)
    end
    view = view or viewer()(library)
    return view
  end
  return env
end

--- From here on scripts get sealed objects, and methods of texts (("x"):rep) come from a table that no script
--- can reach; returns an undo.
function sandbox.lock()
  collect.shield(seal)
  local meta = getmetatable("")
  local before = meta.__index
  meta.__index = string_functions()
  return function()
    collect.shield(nil)
    meta.__index = before
  end
end

return sandbox
