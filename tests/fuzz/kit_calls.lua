-- Handlers of the fuzzers for whole calls: any function of the module with any options, and scripts in the sandbox.

local core = require "hairfibre.core"
local hf = require "hairfibre"
local gnuplot_check = dofile "tests/fuzz/gnuplot_check.lua"

return function(kit)
  local fault, call = kit.fault, kit.call
  local handlers = {}

  -- Long work is legitimate; a fuzzer has no time for it.
  local function least(t, key, x)
    if type(t) == "table" and type(t[key]) == "number" and not (t[key] <= x) then
      t[key] = x
    end
  end
  local treat, ensemble = core.treat, core.ensemble
  local function lighten(options)
    least(options, "cells", 24)
    least(options, "samples", 20)
    least(options, "max_steps", 300)
    options.max_steps = options.max_steps or 300
    if type(options.tolerance) ~= "number" or options.tolerance < 1e-3 then
      options.tolerance = 1e-3
    end
  end
  for name, place in pairs { treat = 4, simulation = 4 } do
    local real = core[name]
    core[name] = real and function(...)
      local given = table.pack(...)
      for i = 1, given.n do
        if type(given[i]) == "table" and (given[i].cells or given[i].tolerance or i == place) and not given[i][1] then
          pcall(lighten, given[i])
        end
      end
      return real(table.unpack(given, 1, given.n))
    end or nil
  end
  core.ensemble = function(set, fibre, room, options, steps, plan)
    lighten(options)
    least(plan, "strands", 3)
    return ensemble(set, fibre, room, options, steps, plan)
  end
  kit.treat = treat

  -- ---- any options -----------------------------------------------------------------------------------

  -- Objects that a call may be given.
  local fibre = hf.fibre {}
  local steps = { hf.soak { duration = "10 s" }, hf.blot {}, hf.air { duration = 5, temperature = "60 degC" } }
  local record = assert(hf.treat(fibre, steps, { cells = 20, tolerance = 1e-2, samples = 5 }))
  local table_of = assert(hf.tabulate("regain", { humidity = { 0.1, 0.5, 0.9 } }))
  local set = hf.parameters("bleached", { ["sorption.scale"] = 1.05 })
  kit.objects = { fibre, steps, record, table_of, set, steps[1], hf.plates { duration = 1, temperature = "180 degC" },
    function(...)
      return ...
    end, coroutine.create(function() end), setmetatable({}, { __index = function(_, key)
      return key
    end }) }

  local methods = { "text", "csv", "json", "column", "save", "rows", "provenance", "since", "between", "profiles", "zones",
    "plot", "rings", "script", "preview", "worksheet", "save_script", "report", "summary", "share", "percentiles", "copy",
    "get", "row", "changed", "digest", "value", "compare" }

  --- name of a function ("plot.figure"), then its arguments; what comes back is asked one of its methods.
  function handlers.options(name, which, ...)
    local f = hf
    for part in tostring(name):gmatch("[^.]+") do
      if type(f) ~= "table" then
        return
      end
      local done, found = pcall(function()
        return f[part]
      end)
      kit.answer("name", done, done or found)
      f = done and found or nil
    end
    if type(f) ~= "function" then
      return
    end
    local answer = call(name, f, ...)
    if type(answer) == "table" or type(answer) == "userdata" then
      local method = methods[which % #methods + 1]
      local done, g = pcall(function()
        return answer[method]
      end)
      if done and type(g) == "function" then
        call(name .. ":" .. method, g, answer, ...)
        call(name .. ":" .. method, g, answer)
      end
    end
  end

  -- ---- scripts in the sandbox ---------------------------------------------------------------------------

  local real = {}
  for _, name in ipairs { "string", "table", "math", "os", "io", "debug", "coroutine", "utf8", "package" } do
    real[name] = {}
    for key, value in pairs(_G[name]) do
      real[name][key] = value
    end
  end
  local string_meta = getmetatable("")
  local string_index = string_meta.__index
  local globals = {}
  for key, value in pairs(_G) do
    globals[key] = value
  end
  local library = {}
  for key, value in pairs(hf) do
    library[key] = value
  end

  local function check_untouched()
    for name, copy in pairs(real) do
      for key, value in pairs(copy) do
        if rawget(_G[name], key) ~= value then
          fault("the script changed %s.%s", name, tostring(key))
        end
      end
    end
    if getmetatable("") ~= string_meta or string_meta.__index ~= string_index then
      fault("the script changed the methods of texts")
    end
    for key, value in pairs(_G) do
      if globals[key] ~= value then
        fault("the script made a global %s", tostring(key))
      end
    end
    for key, value in pairs(library) do
      if rawget(hf, key) ~= value then
        fault("the script changed hf.%s", tostring(key))
      end
    end
  end

  local sandbox
  function handlers.script(text)
    sandbox = sandbox or require "command.sandbox"
    -- A path is let through as it comes, so that what would be written can be looked at.
    local guard = require "hairfibre.files"
    guard.set_guard(function(_, path)
      if path:sub(1, 1) == "/" or ("/" .. path .. "/"):find("/../", 1, true) then
        return nil, "cannot use " .. path
      end
      return "inside/" .. path
    end)
    kit.written, kit.drawn = {}, nil
    local forbidden = { [io.open] = "io.open", [os.execute] = "os.execute", [debug.getregistry] = "debug", [load] = "load",
      [require] = "require", [string.rep] = "string.rep", [setmetatable] = "setmetatable", [collectgarbage] = "collectgarbage" }
    local environment = sandbox.environment(hf, {})
    environment.print = function() end
    for key, value in pairs(environment) do
      if forbidden[value] then
        fault("the sandbox hands out %s as %s", forbidden[value], tostring(key))
      end
    end
    local undo = sandbox.lock()
    local chunk = load(text, "@script.lua", "t", environment)
    local done, problem = true, nil
    if chunk then
      done, problem = pcall(chunk)
    end
    undo()
    guard.set_guard(nil)
    for path in pairs(kit.written) do
      if path:sub(1, 7) ~= "inside/" or path:find("/../", 1, true) then
        fault("the script writes %s", path)
      end
    end
    local loose = kit.drawn and gnuplot_check(kit.drawn)
    if loose then
      fault("gnuplot would run: %s", loose)
    end
    check_untouched()
    if not done and type(problem) == "string" then
      if problem:find("not enough memory", 1, true) or problem:find("enough of this input", 1, true) then
        error(problem, 0)
      end
      local at = problem:find("^hairfibre%.[%w_]+:%d+:") or problem:find("^command%.[%w_]+:%d+:")
      if at and not problem:find("sandbox:%d+:") then
        fault("a script meets a fault of the library: %s", problem)
      end
    end
  end

  return handlers
end
