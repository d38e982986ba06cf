-- The report of a fit as text of 80 columns.

local answers = require "hairfibre.fit.answers"
local core = require "hairfibre.core"
local show = require "hairfibre.show"

local report = {}

local WIDTH = 80

local function length(s)
  return utf8.len(s) or #s
end

local function pad(s, width, right)
  local space = (" "):rep(math.max(0, width - length(s)))
  return right and space .. s or s .. space
end

--- One paragraph, wrapped; the lines after the first begin with `indent`.
local function wrap(sentence, first, indent)
  local lines, line, empty = {}, first or "", true
  for word in sentence:gmatch("%S+") do
    if empty then
      line, empty = line .. word, false
    elseif length(line) + 1 + length(word) <= WIDTH then
      line = line .. " " .. word
    else
      lines[#lines + 1] = line
      line = (indent or "") .. word
    end
  end
  lines[#lines + 1] = line
  return table.concat(lines, "\n")
end
report.wrap = wrap

-- Lines of a table: rows of cells; the first column stands left, the others right.
local function aligned(rows)
  local width = {}
  for _, row in ipairs(rows) do
    for i, cell in ipairs(row) do
      width[i] = math.max(width[i] or 0, length(cell))
    end
  end
  local lines = {}
  for k, row in ipairs(rows) do
    local cells = {}
    for i, cell in ipairs(row) do
      cells[i] = pad(cell, width[i], i > 1 and not (rows.left and rows.left[i]))
    end
    lines[k] = ("  " .. table.concat(cells, "  ")):gsub("%s+$", "")
  end
  return table.concat(lines, "\n")
end

-- ---- numbers --------------------------------------------------------------------------------------------

-- A number with so many digits that two belong to its error; five without an error.
local function digits_for(value, standard_error)
  if not (standard_error > 0 and standard_error < math.huge) or value == 0 then
    return 5
  end
  local digits = math.floor(math.log(math.abs(value), 10)) - math.floor(math.log(standard_error, 10)) + 2
  return math.max(2, math.min(digits, 12))
end

local function number(x, digits)
  if x ~= x then
    return "-"
  elseif math.abs(x) == math.huge then
    return "open"
  end
  return show.number(x, digits)
end
report.number = number

--- Cells of a parameter: value, standard error, low, high, unit, in a unit of fitting size.
function report.cells(p, ascii)
  local display = show.display({ unit = p.unit, kind = "number" }, { p.value }, { ascii = ascii })
  local factor = display.divide and 1 / display.divide or display.factor
  local digits = digits_for(p.value, p.standard_error)
  -- One number of decimals for the value and its interval, zeros at the end included.
  local shown = math.abs(p.value * factor)
  local plain = shown == 0 or (shown >= 1e-4 and shown < 1e7)
  local decimals = plain and shown > 0 and math.max(0, digits - 1 - math.floor(math.log(shown, 10)))
  local function cell(x, d)
    local y = x * factor
    if decimals and y == y and math.abs(y) < 1e9 and decimals < 12 and (d == digits or digits < 12) then
      return core.fixed(y, decimals)
    end
    return number(y, d)
  end
  local unit = display.unit == "" and "" or display.unit
  if p.fixed then
    return { number(p.value * factor, 7), "fixed", "", "", unit }
  end
  return { cell(p.value, digits), p.standard_error == math.huge and "-" or cell(p.standard_error, 2), cell(p.low, digits),
    cell(p.high, digits), unit }
end

-- ---- parts ----------------------------------------------------------------------------------------------

local function heading(f, lines)
  local spec = f:inside()
  lines[#lines + 1] = wrap(f.title or ("Fit of %s to %s%s"):format(f.model == "function" and "a function" or f.model,
    spec.y_axis.name, #spec.x_axis > 0 and " against " .. spec.x_axis[1].name or ""))
  if f.equation then
    lines[#lines + 1] = wrap(f.equation, "  ", "    ")
  end
  if spec.model then
    lines[#lines + 1] = wrap(("%s; equation: %s (%s)"):format(spec.model.text, spec.model.known,
      table.concat(spec.model.sources, ", ")), "  ", "    ")
  end
  lines[#lines + 1] = wrap(("%d points, %d parameter%s estimated, %d degree%s of freedom"):format(f.points, f.free,
    f.free == 1 and "" or "s", f.degrees_of_freedom, f.degrees_of_freedom == 1 and "" or "s"), "  ", "    ")
  if f.groups then
    lines[#lines + 1] = wrap("groups: " .. table.concat(f.groups, ", "), "  ", "    ")
  end
end

local function parameters(f, lines, ascii)
  local rows = { { "parameter", "value", "std error", ("%g %% low"):format(100 * f.level), "high", "unit" },
    left = { [6] = true } }
  local kinds, notes = {}, {}
  for _, p in ipairs(f.parameters) do
    rows[#rows + 1] = { p.name, table.unpack(report.cells(p, ascii)) }
    local flag = p.flag
    kinds[p.interval.kind] = true
    if p.note and p.note ~= "" and not p.fixed then
      local also = p.interval.open_low and p.interval.open_high and "; its interval is open on both sides"
        or p.interval.open_low and "; its interval is open below" or p.interval.open_high and "; its interval is open above"
        or ""
      notes[#notes + 1] = ("%s: %s%s"):format(p.name, p.note, also)
      if p.interval.better then
        notes[#notes + 1] = p.name .. ": a better minimum was met on its profile: fit again with more starts"
      end
    elseif flag ~= "" and not p.fixed then
      notes[#notes + 1] = ("%s: %s"):format(p.name, flag)
    end
    if p.interval.problem then
      notes[#notes + 1] = ("%s: no interval: %s"):format(p.name, p.interval.problem)
    end
  end
  lines[#lines + 1] = aligned(rows)
  if kinds.profile then
    lines[#lines + 1] = "  Intervals: profile likelihood, the other parameters re-fitted."
  elseif kinds["standard error"] then
    lines[#lines + 1] = wrap("Intervals: t times the standard error, since a robust loss has no likelihood; the "
      .. "bootstrap checks them.", "  ", "  ")
  end
  for _, note in ipairs(notes) do
    lines[#lines + 1] = wrap(note, "  ! ", "    ")
  end
end

local function following(f, lines, ascii)
  local list = require("hairfibre.fit.derived").of(f)
  if #list == 0 then
    return
  end
  local rows = { { "it follows", "value", "std error", "unit" }, left = { [4] = true } }
  for _, one in ipairs(list) do
    local cells = report.cells({ value = one.value, unit = one.unit, standard_error = one.standard_error, low = 0, high = 0 },
      ascii)
    rows[#rows + 1] = { one.name, cells[1], cells[2], cells[5] }
  end
  lines[#lines + 1] = aligned(rows)
end

local WEIGHT_WORDS = {
  equal = "all points count the same",
  relative = "weights 1/sigma^2; sigma known up to one factor, which is estimated",
  absolute = "weights 1/sigma^2; sigma is the standard deviation itself, RSS is chi squared",
}

--- Formulas of the criteria, as text.
function report.criteria(f)
  local k = f.weighting == "absolute" and "k = free parameters" or "k = free parameters + 1"
  local likelihood = f.weighting == "absolute" and "-2 ln L = RSS + sum ln(2 pi sigma^2)"
    or f.weighting == "relative" and "-2 ln L = n [ln(2 pi RSS/n) + 1] - sum ln w" or "-2 ln L = n [ln(2 pi RSS/n) + 1]"
  return ("AIC = -2 ln L + 2k, AICc = AIC + 2k(k + 1)/(n - k - 1), BIC = -2 ln L + k ln n; %s; %s"):format(likelihood, k)
end

-- The residual standard deviation in the unit of y; a pure number with absolute sigma.
local function scatter(f)
  local axis = f:inside().y_axis
  local pure = f.weighting == "absolute" or axis.unit == "1" or axis.unit == ""
  local display = pure and { factor = 1, unit = "" } or show.display({ unit = axis.unit, kind = "number" }, { f.s })
  local factor = display.divide and 1 / display.divide or display.factor
  return number(f.s * factor, 4) .. (display.unit ~= "" and " " .. display.unit or "")
end

local function goodness(f, lines)
  local axis = f:inside().y_axis
  local squared = f.weighting ~= "absolute" and axis.unit ~= "1" and axis.unit ~= "" and (" (%s)^2"):format(axis.unit) or ""
  lines[#lines + 1] = ("  RSS %s%s   s %s   ln L %s"):format(number(f.rss, 6), squared, scatter(f),
    number(f.log_likelihood, 6))
  lines[#lines + 1] = ("  AIC %s   AICc %s   BIC %s"):format(number(f.aic, 6), number(f.aicc, 6), number(f.bic, 6))
  if f.robust then
    lines[#lines + 1] = wrap(("Huber's loss from %g robust standard deviations: it has no likelihood, so no AIC."):format(
      f.robust), "  ", "  ")
  else
    lines[#lines + 1] = wrap(report.criteria(f), "  ", "    ")
  end
  lines[#lines + 1] = wrap(WEIGHT_WORDS[f.weighting], "  ", "    ")
  lines[#lines + 1] = ("  condition number of the scaled derivatives %s"):format(
    f.condition == math.huge and "infinite" or number(f.condition, 3))
end

-- Lower triangle, as many columns as fit.
local function correlations(f, lines)
  local list, rows = {}, {}
  for j, p in ipairs(f.parameters) do
    if not p.fixed then
      list[#list + 1] = j
    end
  end
  if #list < 2 then
    return
  end
  for k, j in ipairs(list) do
    local row = { f.parameters[j].name }
    for l = 1, k do
      local x = f.correlation[j][list[l]]
      row[l + 1] = l == k and "1" or x ~= x and "-" or core.fixed(x, 3)
    end
    rows[k] = row
  end
  lines[#lines + 1] = "Correlations"
  local text = aligned(rows)
  for line in text:gmatch("[^\n]+") do
    if length(line) > WIDTH then -- many parameters: pairs one by one, the strongest first
      local pairs_list = {}
      for k = 2, #list do
        for l = 1, k - 1 do
          local x = f.correlation[list[k]][list[l]]
          if x == x then
            pairs_list[#pairs_list + 1] = { f.parameters[list[l]].name, f.parameters[list[k]].name, x }
          end
        end
      end
      table.sort(pairs_list, function(a, b)
        return math.abs(a[3]) > math.abs(b[3])
      end)
      for i = 1, math.min(12, #pairs_list) do
        local one = pairs_list[i]
        lines[#lines + 1] = ("  %s  %s and %s"):format(pad(core.fixed(one[3], 3), 6, true), one[1], one[2])
      end
      if #pairs_list > 12 then
        lines[#lines + 1] = ("  ... and %d weaker pairs; the JSON file has all"):format(#pairs_list - 12)
      end
      return
    end
  end
  lines[#lines + 1] = text
end

-- Runs of equal sign, in the order of the points: many fewer than by chance say that the curve bends otherwise.
local function runs(residual)
  local plus, minus, count, last = 0, 0, 0, nil
  for _, r in ipairs(residual) do
    if r ~= 0 then
      local sign = r > 0
      plus, minus = plus + (sign and 1 or 0), minus + (sign and 0 or 1)
      count, last = count + (sign ~= last and 1 or 0), sign
    end
  end
  local n = plus + minus
  if plus < 2 or minus < 2 or n < 8 then
    return nil
  end
  local mean = 2 * plus * minus / n + 1
  local variance = (mean - 1) * (mean - 2) / (n - 1)
  return count, mean, (count - mean) / math.sqrt(variance)
end

local function listed(indices, value)
  local parts = {}
  for i = 1, math.min(8, #indices) do
    parts[i] = ("%d (%s)"):format(indices[i], show.number(value[indices[i]], 3))
  end
  return table.concat(parts, ", ") .. (#indices > 8 and (", and %d more"):format(#indices - 8) or "")
end

local function residuals(f, lines)
  local r = answers.residuals(f)
  if not r then
    return
  end
  lines[#lines + 1] = "Residuals"
  local count, mean, z = runs(r:column("residual").values)
  if count then
    lines[#lines + 1] = wrap(("in the order of the points: %d runs of one sign, %s by chance%s"):format(count,
      core.fixed(mean, 1), z < -2 and "; they hang together: the curve may not be that of the data" or ""), "  ", "    ")
  end
  local far, heavy, standardised, leverage = {}, {}, r:column("standardised").values, r:column("leverage").values
  local most = 0
  for i, x in ipairs(standardised) do
    if math.abs(x) > 3 then
      far[#far + 1] = i
    end
    most = math.max(most, x == x and math.abs(x) or 0)
    if leverage[i] > math.min(0.99, 2 * f.free / f.points) then
      heavy[#heavy + 1] = i
    end
  end
  lines[#lines + 1] = wrap(#far > 0 and "points beyond 3 standard deviations: " .. listed(far, standardised)
    or ("largest standardised residual %s"):format(core.fixed(most, 2)), "  ", "    ")
  if #heavy > 0 then
    lines[#lines + 1] = wrap(("points of leverage above twice the mean (%s): %s"):format(
      show.number(f.free / f.points, 2), listed(heavy, leverage)), "  ", "    ")
  end
end

local function solver(f, lines)
  lines[#lines + 1] = "Solver"
  lines[#lines + 1] = wrap(f.reason, "  ", "    ")
  local starts, given = {}, {}
  for i, p in ipairs(f.parameters) do
    starts[i] = ("%s %s"):format(p.name, number(p.start, 5))
    given[i] = ("%s %s"):format(p.name, number(f:inside().parameters[i].start, 5))
  end
  if f.winner > 0 then
    lines[#lines + 1] = wrap("given start: " .. table.concat(given, ", "), "  ", "    ")
    lines[#lines + 1] = wrap("start found by the search: " .. table.concat(starts, ", "), "  ", "    ")
  else
    lines[#lines + 1] = wrap("start: " .. table.concat(starts, ", "), "  ", "    ")
  end
  lines[#lines + 1] = wrap(("%d iterations, %d evaluations, %d start%s, seed %d"):format(f.iterations, f.evaluations,
    f.starts, f.starts == 1 and "" or "s", f.seed), "  ", "    ")
  if #f.minima > 1 then
    local parts = {}
    for i, m in ipairs(f.minima) do
      parts[i] = ("RSS %s (%d)"):format(number(m.rss, 5), m.hits)
    end
    lines[#lines + 1] = wrap("minima met (starts that ended there): " .. table.concat(parts, ", "), "  ", "    ")
  end
end

local function origin(f, lines)
  local data = f:inside().data
  if data and data.excluded then
    local count = data.rows_excluded or #data.excluded
    lines[#lines + 1] = count == 0 and "No row of the file was left out."
      or ("%d row%s of the file left out:"):format(count, count == 1 and "" or "s")
    for i = 1, math.min(12, #data.excluded) do
      local row = data.excluded[i]
      lines[#lines + 1] = wrap(("line %d%s: %s"):format(row.line, row.column and ", " .. row.column or "", row.why), "  ",
        "    ")
    end
    if count > 12 then
      lines[#lines + 1] = ("  ... and %d more%s"):format(count - 12,
        count <= #data.excluded and "; the JSON file has all" or "")
    end
  end
  for _, note in ipairs(data and data.notes or {}) do
    lines[#lines + 1] = wrap(note)
  end
  lines[#lines + 1] = wrap(require("hairfibre.provenance").sentence(require("hairfibre.fit").origin(f)))
  if f.caution then
    lines[#lines + 1] = wrap(f.caution)
  end
end

--- The whole report. options: ascii.
function report.text(f, options)
  local spec, lines = f:inside(), {}
  local ascii = options and options.ascii
  heading(f, lines)
  lines[#lines + 1] = ""
  if not f.converged then
    lines[#lines + 1] = wrap("NOT CONVERGED: the numbers below are those of the best point met, not of a minimum.")
  end
  parameters(f, lines, ascii)
  following(f, lines, ascii)
  lines[#lines + 1] = ""
  if spec.observed then
    require("hairfibre.fit.life").report(f, lines, wrap, number)
  else
    lines[#lines + 1] = "Goodness of fit"
    goodness(f, lines)
    correlations(f, lines)
    residuals(f, lines)
    solver(f, lines)
  end
  lines[#lines + 1] = ""
  origin(f, lines)
  return table.concat(lines, "\n") .. "\n"
end

return report
