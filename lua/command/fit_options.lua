-- The options of hairfibre fit, and what they say to hf.fit.

local core = require "hairfibre.core"
local exit = require "command.exit"
local import_options = require "command.import_options"

local options = {}

local function many(p, name, text, word)
  return p:option(name, text):argname(word):count("*")
end

--- Declares them; returns the page.
function options.declare()
  local p, page = require("command.options").new("fit",
    "Fits a model to the columns of a data file and prints the report: values, intervals, what is not determined, "
      .. "residuals. MODEL is a name (--list shows them) or a Lua file that returns { model = function(x, b) ... end, "
      .. "start = { ... } }.",
    "hairfibre fit gab examples/data/sorption_invented.csv --group branch")
  p:argument("model", "Name of a model, or a Lua file."):args("?")
  p:argument("data", "Data file: plain text with a line of names."):args("?")
  p:flag("--list", "The models, with equation and parameters; then stop.")
  import_options.declare(p)
  many(p, "--start", "Start value of a parameter.", "NAME=VALUE")
  many(p, "--fixed", "Value of a parameter that is not fitted.", "NAME=VALUE")
  many(p, "--free", "Fit a parameter that is fixed otherwise.", "NAME")
  many(p, "--bounds", "Limits of a parameter; either may be missing.", "NAME=LOW..HIGH")
  many(p, "--shared", "Parameter that all groups share, or all.", "NAME")
  p:option("--sigma-is", "absolute: sigma is the standard deviation itself; relative: up to one factor.")
    :argname("KIND")
  p:option("--survived", "Column that says which lives ended without a break."):argname("COLUMN")
  p:option("--reference", "Stress at which a life line is anchored."):argname("STRESS")
  p:flag("--robust", "Residuals far out count less (Huber).")
  p:option("--starts", "Starts of the search. Default: more only when the first fails."):argname("NUMBER")
  p:option("--seed", "Seed of search and bootstrap. Default: 1."):argname("NUMBER")
  p:option("--level", "Level of the intervals. Default: 95%."):argname("SHARE")
  many(p, "--compare", "Another model for the same points.", "MODEL")
  p:option("--bootstrap", "Check the intervals by this many re-fits."):argname("NUMBER")
  p:flag("--cases", "Bootstrap by drawing points instead of errors.")
  many(p, "--save", "File: .json, .csv, .txt, .svg, .png, .pdf; WHAT=FILE for points, curve, or the figures "
    .. "residuals, order, quantiles, leverage, region.", "FILE")
  p:option("--style", "projector, print or paper. Default: projector."):argname("STYLE")
  p:option("--title", "Title of report and figures."):argname("WORDS")
  p:option("--save-set", "Parameter set to write (.json), for --set of every command."):argname("FILE")
  many(p, "--as", "Which row of the catalogue a parameter is.", "NAME=ROW")
  p:option("--set-name", "Name of the set. Default: the name of the file."):argname("NAME")
  p:option("--base", "Named set that the set starts from. Default: virgin."):argname("NAME")
  p:option("--branch", "Branch of a single isotherm: absorption or desorption."):argname("NAME")
  p:option("--temperature", "Temperature of the measurement, where the rows need it."):argname("VALUE")
  p:flag("--json", "Everything as one JSON object.")
  p:flag("--ascii", "No signs beyond ASCII.")
  return page
end

-- ---- reading --------------------------------------------------------------------------------------------

local function whole(word, name)
  if word == nil then
    return nil
  end
  return math.tointeger(core.number(word)) or exit.fail("usage", '%s needs a whole number, not "%s"', name, word)
end

-- A bare number is SI; anything else keeps its unit.
local function value(word)
  return core.number(word) or word
end

local function pairs_of(list, option)
  local out
  for _, word in ipairs(list or {}) do
    local name, text = word:match("^%s*(.-)%s*=%s*(.-)%s*$")
    if not name or name == "" or text == "" then
      exit.fail("usage", '%s needs NAME=VALUE, not "%s"', option, word)
    end
    out = out or {}
    if out[name] then
      exit.fail("usage", '%s: "%s" is said twice', option, name)
    end
    out[name] = text
  end
  return out
end
options.pairs = pairs_of

local function values_of(list, option)
  local out = pairs_of(list, option)
  for name, text in pairs(out or {}) do
    out[name] = value(text)
  end
  return out
end

local function bounds_of(list)
  local out = pairs_of(list, "--bounds")
  for name, text in pairs(out or {}) do
    local low, high = text:match("^(.-)%.%.([^.].*)$")
    if not low then
      low, high = text:match("^(.-)%.%.()$"), nil
    end
    if not low or (low == "" and not high) then
      exit.fail("usage", '--bounds needs NAME=LOW..HIGH, not "%s=%s"', name, text)
    end
    local unit = high and high:match("^[%d.eE+-]+%s*(.*)$") or ""
    out[name] = { low ~= "" and value(core.number(low) and unit ~= "" and low .. unit or low) or nil, high and value(high) }
  end
  return out
end

local function absolute_of(arguments)
  local kind = arguments.sigma_is
  if kind ~= nil and kind ~= "absolute" and kind ~= "relative" then
    exit.fail("usage", '--sigma-is may be absolute or relative, not "%s"', kind)
  elseif arguments.sigma and not kind then
    exit.fail("usage", "--sigma needs --sigma-is absolute (it is the standard deviation of each y) or --sigma-is relative "
      .. "(known up to one factor, which the fit estimates)")
  elseif kind and not arguments.sigma then
    exit.fail("usage", "--sigma-is says how the column of --sigma is meant; give both")
  end
  return kind and kind == "absolute" or nil
end

--- The table for hf.fit, without model and data.
function options.gather(arguments)
  local shared = arguments.shared and #arguments.shared > 0 and arguments.shared or nil
  if shared and #shared == 1 and shared[1] == "all" then
    shared = "all"
  end
  return { start = values_of(arguments.start, "--start"), fixed = values_of(arguments.fixed, "--fixed"),
    free = #arguments.free > 0 and arguments.free or nil, bounds = bounds_of(arguments.bounds), shared = shared,
    absolute = absolute_of(arguments), survived = arguments.survived, reference = arguments.reference,
    robust = arguments.robust or nil, starts = whole(arguments.starts, "--starts"), seed = whole(arguments.seed, "--seed"),
    level = arguments.level, title = arguments.title }
end

options.whole = whole

return options
