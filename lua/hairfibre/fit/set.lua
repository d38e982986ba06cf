-- From a fit to a parameter set: which row of the catalogue each fitted number is, at the reference the row has, with
-- the covariance of the fit.

local core = require "hairfibre.core"
local misuse = require "hairfibre.misuse"
local parameter_file = require "hairfibre.parameter_file"
local suggest = require "hairfibre.suggest"
local units = require "hairfibre.units"

local fit_set = {}

local OPTIONS = { "name", "base", "as", "branch", "temperature" }
local GAS, REFERENCE, WATER = 8.314462618, 298.15, 0.018015268
local PURE = { ["1"] = true, ["kg/kg"] = true }

-- ---- numbers of the fit ---------------------------------------------------------------------------------

-- The fit's numbers and their covariance; those of hailwood_horrobin as the GAB numbers of the same curve.
local function numbers_of(f)
  local list, covariance = {}, f.covariance
  for j, p in ipairs(f.parameters) do
    list[j] = { name = p.name, unit = p.unit, value = p.value, fixed = p.fixed, error = p.standard_error, note = p.note,
      slope = 1 }
  end
  if f.model == "hailwood_horrobin" then
    for _, one in ipairs(list) do
      local name, rest = one.name:match("^([^%[]*)(.*)$")
      if name == "site_mass" then
        one.slope, one.value, one.name, one.unit = -WATER / one.value ^ 2, WATER / one.value, "monolayer" .. rest, "kg/kg"
      elseif name == "k1" then
        one.value, one.name = one.value + 1, "c" .. rest
      else
        one.name = "k" .. rest
      end
    end
  end
  return list, covariance
end

-- ---- rows -----------------------------------------------------------------------------------------------

local BRANCHES = { absorption = true, desorption = true }

-- Rows of the isotherm's parameters, by the name of the fit.
local function isotherm_rows(list, options, groups)
  local map = {}
  if groups and options.branch then
    misuse("branch: the fit has groups; call them absorption and desorption")
  elseif options.branch ~= nil and not BRANCHES[options.branch] then
    misuse("branch may be absorption or desorption, not \"%s\"", tostring(options.branch))
  end
  for _, one in ipairs(list) do
    local name, group = one.name:match("^([^%[]*)%[?(.-)%]?$")
    local branch = group ~= "" and group or options.branch
    if not branch then
      misuse("which branch? Write branch = \"absorption\" or \"desorption\"%s", groups
        and ("; %s is shared by the groups and belongs to no row"):format(one.name) or "")
    elseif not BRANCHES[branch] then
      misuse("the group \"%s\" is no branch: absorption or desorption", branch)
    end
    map[one.name] = ("sorption.%s.%s"):format(branch, name)
  end
  return map
end

local function rows_of(f, list, options)
  if options.as ~= nil then
    if type(options.as) ~= "table" then
      misuse("as must be a table: as = { diffusivity = \"diffusion.wet\" }")
    end
    local names = {}
    for i, one in ipairs(list) do
      names[i] = one.name
    end
    for _, name in ipairs(suggest.sorted_keys(options.as)) do
      local known = false
      for _, other in ipairs(names) do
        known = known or other == name
      end
      if not known then
        misuse("as: the fit has no parameter \"%s\"%s", tostring(name), suggest.hint(tostring(name), names))
      end
    end
    return options.as
  elseif f.model == "gab" or f.model == "hailwood_horrobin" then
    return isotherm_rows(list, options, f.groups)
  end
  local example = f.parameters[1].name:match("^[^%[]*")
  misuse("say which row of the catalogue each number is: as = { %s = \"NAME\" } (hairfibre parameters lists them)", example)
end

local function catalogue()
  local rows, names = {}, {}
  for i, row in ipairs(core.rows()) do
    rows[row.name], names[i] = row, row.name
  end
  return rows, names
end

-- ---- the reference --------------------------------------------------------------------------------------

-- What turns a number measured at T into one at 25 degC.
local function to_reference(name, temperature, set)
  local kind = name:match("^sorption%.%l+sorption%.(%l+)$")
  if not kind then
    return 1
  end
  local enthalpy = set:get("sorption.enthalpy." .. kind)
  return math.exp(-enthalpy * (1 / temperature - 1 / REFERENCE) / GAS)
end

local function temperature_of(options)
  if options.temperature == nil then
    return REFERENCE
  end
  local T, message = units.value(options.temperature, { name = "temperature", unit = "K", kind = "temperature" })
  if not T then
    misuse("%s", message)
  elseif not (T > 200 and T < 600) then
    misuse("temperature = %s lies outside 200 to 600 K", core.text(T))
  end
  return T
end

-- Number, factor of its error, for the row.
local function fit_to_row(one, row, temperature, set)
  local factor = 1
  if row.name:find("log10_frequency$") and one.name:find("^log_prefactor") then
    factor = 1 / math.log(10)
  elseif row.unit ~= one.unit and not (PURE[row.unit] and PURE[one.unit]) then
    misuse("as: %s is in %s, and %s is in %s", one.name, one.unit, row.name, row.unit)
  end
  return factor * to_reference(row.name, temperature, set)
end

-- ---- the set --------------------------------------------------------------------------------------------

local function label_of(f)
  local data = f:inside().data
  local file = data and data.file and tostring(data.file):match("[^/]*$") or "numbers of a script"
  local sum = f.checksum and ", checksum " .. tostring(f.checksum):sub(1, 16) or ""
  return (("fit of %s to %s, %d points%s"):format(f.model == "function" and "a function" or f.model, file, f.points, sum)
    :gsub("[%c]", " "):sub(1, 159))
end

local function check(options)
  options = options or {}
  if type(options) ~= "table" then
    misuse("parameter_set takes a table of options, not a %s", type(options))
  end
  for _, key in ipairs(suggest.sorted_keys(options)) do
    local known = false
    for _, name in ipairs(OPTIONS) do
      known = known or name == key
    end
    if not known then
      misuse("parameter_set has no option \"%s\"%s", tostring(key), suggest.hint(tostring(key), OPTIONS))
    end
  end
  if options.name ~= nil and (type(options.name) ~= "string" or not options.name:find("^[^%c]+$") or #options.name > 63) then
    misuse("name must be a text of 1 to 63 letters")
  end
  return options
end

--- The fitted numbers as rows of a parameter set. options: name; base (a shipped set); as (parameter of the fit -> row
--- of the catalogue); for isotherms branch, and temperature of the measurement ("25 degC"): monolayer, c and k go to the
--- rows of the branch, turned to 25 degC by the enthalpies of the base, and sorption.scale, the scatter between
--- laboratories, is set to 1 without spread, since these are numbers of one laboratory.
--- The set, and what it was made from (for set:save(path, origin)); or nil, sentence, code.
function fit_set.make(f, options)
  options = check(options)
  local set = require("hairfibre.parameters").new(options.base)
  local temperature, rows, names = temperature_of(options), catalogue()
  local list, covariance = numbers_of(f)
  local map = rows_of(f, list, options)
  local chosen, factor, sorption = {}, {}, false
  for j, one in ipairs(list) do
    local name = map[one.name]
    local row = name ~= nil and (rows[name] or misuse("as: no parameter of the catalogue is called \"%s\"%s", tostring(name),
      suggest.hint(tostring(name), names)))
    if row then
      local scale = fit_to_row(one, row, temperature, set)
      sorption = sorption or row.name:find("^sorption%.%l+sorption%.") ~= nil
      if one.fixed then
        set:set(row.name, one.value * scale)
      elseif not (one.error < math.huge and one.error == one.error) then
        return nil, ("%s has no standard error (%s): fix it, or leave it out with as"):format(one.name,
          one.note ~= "" and one.note or "it is not determined"), "data"
      else
        chosen[#chosen + 1], factor[j] = j, scale
      end
    end
  end
  if #chosen == 0 then
    misuse("none of the fitted numbers is a row of the catalogue")
  end
  local row_names, values, flat = {}, {}, {}
  for a, i in ipairs(chosen) do
    row_names[a], values[a] = map[list[i].name], list[i].value * factor[i]
    for _, j in ipairs(chosen) do
      flat[#flat + 1] = covariance[i][j] * factor[i] * list[i].slope * factor[j] * list[j].slope
    end
  end
  if sorption then
    set:set("sorption.scale", 1)
  end
  local done, message, code = set:set_fitted(row_names, values, flat, label_of(f))
  if not done then
    return nil, message, code
  end
  set:set_name(options.name or "fit of " .. f.model)
  return set, { { "model", f.model }, { "data", f:inside().data and f:inside().data.file
    and f:inside().data.file:match("[^/]*$") or nil }, { "checksum", f.checksum }, { "points", f.points },
    { "temperature_K", temperature } }
end

--- Writes the set of a fit; true, or nil, sentence, code.
function fit_set.save(f, path, options)
  local set, origin, code = fit_set.make(f, options)
  if not set then
    return nil, origin, code
  end
  return parameter_file.save(set, path, origin)
end

return fit_set
