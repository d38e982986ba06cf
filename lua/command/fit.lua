-- hairfibre fit MODEL DATA.csv: a model fitted to a researcher's data file.

local exit = require "command.exit"
local fit_options = require "command.fit_options"
local import_options = require "command.import_options"

local fit = {}

local function write(...)
  io.stdout:write(...)
end

-- What the library refuses is a mistake of the one who typed it.
local function protected(f, ...)
  local results = table.pack(pcall(f, ...))
  if not results[1] then
    if exit.is_failure(results[2]) or type(results[2]) ~= "string" then
      error(results[2], 0)
    elseif results[2]:find("not enough memory", 1, true) then
      exit.fail("limit", "there is not enough memory for this fit")
    end
    exit.fail("usage", "%s", (results[2]:gsub("^[^:]+:%d+: ", "")))
  end
  return table.unpack(results, 2, results.n)
end

-- A result, or the end of the command in words.
local function must(r, message, code)
  if r == nil then
    if code == "file" then
      exit.fail("output", "%s", message)
    elseif code == "model" and require("command.system").was_stopped() == "interrupt" then
      exit.fail("interrupted", "interrupted")
    elseif code == "model" or code == "tool" then
      exit.fail(message:find("not enough memory", 1, true) and "limit" or "failed", "%s", message)
    end
    exit.fail_with_status(code, message)
  end
  return r, message, code
end

-- ---- models ---------------------------------------------------------------------------------------------

local function list()
  local text = require "command.text"
  for i, model in ipairs(require("hairfibre.fit.models").list()) do
    if i > 1 then
      write("\n")
    end
    write(text.wrap(("%s: %s"):format(model.name, model.text), "", "  "), "\n")
    write(text.wrap(model.equation, "  ", "    "), "\n")
    local x = {}
    for k, one in ipairs(model.x) do
      x[k] = ("%s (%s)"):format(one.name, one.unit)
    end
    write(text.wrap(("x: %s; y: %s (%s)"):format(#x > 0 and table.concat(x, ", ") or "none", model.y.name, model.y.unit),
      "  ", "    "), "\n")
    local names = {}
    for k, p in ipairs(model.parameters) do
      local mark = p.must_be_given and ", must be given" or p.fixed_at and (", fixed at %g unless freed"):format(p.fixed_at)
        or ""
      names[k] = ("%s (%s%s)"):format(p.name, p.unit, mark)
    end
    write(text.wrap("parameters: " .. table.concat(names, ", "), "  ", "    "), "\n")
  end
end

local PLAIN = { ["kg/kg"] = "1" }

local function wanted(what)
  return what and { unit = PLAIN[what.unit] or what.unit, kind = what.kind, basis = what.unit == "kg/kg" or nil } or nil
end

-- What the columns of the file must be for a model.
local function want_of(model)
  return model and { x = wanted(model.x[1]), y = wanted(model.y) } or nil
end

local MODEL_MEMORY = 1 << 30 -- bytes for the file and the data together

local function model_of(word, library)
  if word:find("%.lua$") then
    local plan = require("command.lua_file").read(word, library,
      "return { model = function(x, b) ... end, start = { ... } }")
    if type(plan.model) ~= "function" then
      exit.fail("data", "%s must return a table with model = function(x, b) ... end", word)
    end
    local system = require "command.system"
    system.limit_memory(system.limit_memory(0) + MODEL_MEMORY)
    return nil, plan
  end
  return protected(require("hairfibre.fit.models").find, word)
end

-- ---- answers --------------------------------------------------------------------------------------------

local FIGURES = { residuals = true, order = true, quantiles = true, leverage = true, region = true, survival = true,
  fit = true }
local TABLES = { points = true, curve = true, parameters = true }

local function check_save(word)
  local what, path = word:match("^(%a+)=(.+)$")
  path = path or word
  local ending = (path:match("%.(%a+)$") or ""):lower()
  local picture = ending == "svg" or ending == "png" or ending == "pdf"
  if path:find("%c") then
    exit.fail("usage", "a file name must not hold control characters")
  elseif not picture and ending ~= "json" and ending ~= "csv" and ending ~= "txt" then
    exit.fail("usage", '--save needs a name that ends in .json, .csv, .txt, .svg, .png or .pdf, not "%s"', path)
  elseif what and not (picture and FIGURES[what] or ending == "csv" and TABLES[what]) then
    exit.fail("usage", '--save %s=...: a .%s file cannot hold that', what, ending)
  end
  return { what = what, path = path, picture = picture }
end

local function save_all(f, saves, style)
  for _, one in ipairs(saves) do
    if one.picture then
      local figure = must(protected(f.plot, f, one.what, { style = style }))
      must(protected(figure.save, figure, one.path))
    else
      must(protected(f.save, f, one.path, one.what))
    end
  end
end

local function save_set(f, arguments)
  local path = arguments.save_set
  if not path then
    for _, name in ipairs { "as", "set_name", "base", "branch", "temperature" } do
      local given = arguments[name]
      if given ~= nil and (type(given) ~= "table" or #given > 0) then
        exit.fail("usage", "--%s belongs to --save-set FILE.json", (name:gsub("_", "-")))
      end
    end
    return
  elseif not path:lower():find("%.json$") then
    exit.fail("usage", '--save-set needs a name that ends in .json, not "%s"', path)
  end
  must(protected(f.save_set, f, path, { name = arguments.set_name or path:match("([^/]*)%.%w+$"), base = arguments.base,
    branch = arguments.branch, temperature = arguments.temperature, as = fit_options.pairs(arguments.as, "--as") }))
end

local function comparison(f, call, words, library)
  local fits = { f }
  for i, word in ipairs(words) do
    local model, plan = model_of(word, library)
    local other = { title = word }
    for key, value in pairs(plan or {}) do
      other[key] = value
    end
    other.model, other.data, other.survived = model and model.name or other.model, call.data, nil
    other.absolute, other.starts, other.seed, other.level = call.absolute, call.starts, call.seed, call.level
    fits[i + 1] = must(protected(library.fit, other))
  end
  f.title = f.title or call.word
  return must(protected(library.compare_models, fits))
end

-- ---- the command ----------------------------------------------------------------------------------------

local function check_style(style)
  local styles = require("hairfibre.styles").names
  for _, name in ipairs(styles) do
    if style == nil or name == style then
      return style
    end
  end
  exit.fail("usage", 'there is no style "%s" (the styles are %s)', style, require("hairfibre.suggest").list(styles, "and"))
end

local function check_arguments(arguments)
  if not arguments.model then
    exit.fail("usage", "which model? hairfibre fit --list shows them (see: hairfibre fit --help)")
  elseif not arguments.data then
    exit.fail("usage", "which data file? Write: hairfibre fit %s DATA.csv", arguments.model)
  elseif arguments.cases and not arguments.bootstrap then
    exit.fail("usage", "--cases is a kind of bootstrap; give --bootstrap NUMBER")
  end
  local saves = {}
  for i, word in ipairs(arguments.save) do
    saves[i] = check_save(word)
  end
  check_style(arguments.style)
  return saves
end

local function call_of(arguments, library, gathered)
  local model, plan = model_of(arguments.model, library)
  gathered.want = want_of(model)
  if model then -- a file that uses the model's own names needs no more
    gathered.x = gathered.x or model.x[1] and model.x[1].name
    gathered.y = gathered.y or model.y.name
  end
  if arguments.survived then
    gathered.columns[arguments.survived] = gathered.columns[arguments.survived] or { kind = "text" }
  end
  local call = {}
  for key, value in pairs(plan or {}) do
    call[key] = value
  end
  for key, value in pairs(fit_options.gather(arguments)) do
    call[key] = value
  end
  call.model, call.data, call.word = model and model.name or call.model, import_options.read(gathered), nil
  return call
end

function fit.run(words)
  local arguments = require("command.options").parse(fit_options.declare(), words)
  if not arguments then
    return exit.codes.ok
  elseif arguments.list then
    list()
    return exit.codes.ok
  elseif arguments.look and not arguments.data then
    arguments.data = arguments.model
  end
  if arguments.look then
    import_options.look(import_options.gather(arguments, arguments.data or exit.fail("usage", "which data file?")))
    return exit.codes.ok
  end
  local saves = check_arguments(arguments)
  local library = require "hairfibre"
  local call = call_of(arguments, library, import_options.gather(arguments, arguments.data))
  local f, code, why = must(protected(library.fit, call))
  call.word = arguments.model
  local compared = #arguments.compare > 0 and comparison(f, call, arguments.compare, library)
  local drawn = arguments.bootstrap and must(protected(f.bootstrap, f, { seed = call.seed,
    kind = arguments.cases and "cases" or "parametric", replicates = fit_options.whole(arguments.bootstrap, "--bootstrap") }))
  if arguments.json then
    write(protected(f.json, f, { comparison = compared or nil, bootstrap = drawn or nil }))
  else
    write(call.data:text(), "\n", protected(f.report, f, { ascii = arguments.ascii }))
    for _, more in ipairs { compared or false, drawn or false } do
      if more then
        write("\n", more:text { ascii = arguments.ascii })
      end
    end
  end
  save_all(f, saves, arguments.style)
  save_set(f, arguments)
  if code == "convergence" then
    exit.fail("failed", "no minimum was reached: %s", why)
  end
  return exit.codes.ok
end

return fit
