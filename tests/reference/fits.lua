-- Fits the cases of fits.R and writes what the library makes of them: case,name,value.
--   hairfibre run --trust tests/reference/fits.lua CASES.lua OUT.csv
local hf = require "hairfibre"

local cases, out = dofile(arg[1]), assert(io.open(arg[2], "w"))
out:write("case,name,value\n")

local own = {
  michaelis = function(x, b) return b.top * x / (b.half + x) end,
  logistic = function(x, b) return b.top / (1 + math.exp((b.middle - math.log(x)) / b.width)) end,
}

local function put(case, name, value)
  out:write(case.name, ",", name, ",", ("%.17g"):format(value), "\n")
end

local function parameters(case, f, with_limits)
  for _, p in ipairs(f.parameters) do
    put(case, p.name, p.value)
    put(case, "se_" .. p.name, p.standard_error)
    if with_limits then
      put(case, "low_" .. p.name, p.low)
      put(case, "high_" .. p.name, p.high)
    end
  end
end

local kinds = {}

function kinds.nls(case)
  local f = assert(hf.fit { model = own[case.model] or case.model, x = case.x, y = case.y, parameters = own[case.model]
    and case.names, start = own[case.model] and case.start })
  parameters(case, f, true)
  for _, name in ipairs { "rss", "log_likelihood", "aic", "bic" } do
    put(case, name, f[name])
  end
  for j = 2, #f.parameters do
    for i = 1, j - 1 do
      put(case, ("r_%d_%d"):format(i, j), f.correlation[i][j])
    end
  end
end

function kinds.weighted(case)
  local f = assert(hf.fit { model = "gab", x = case.x, y = case.y, sigma = case.sigma, absolute = case.name == "absolute" })
  parameters(case, f)
  put(case, "log_likelihood", f.log_likelihood)
  put(case, "aic", f.aic)
end

function kinds.life(case)
  local f = assert(hf.fit { model = "weibull", y = case.y, survived = case.survived })
  parameters(case, f)
  put(case, "log_likelihood", f.log_likelihood)
end

function kinds.line(case)
  local f = assert(hf.fit { model = "weibull_line", x = case.x, y = case.y, survived = case.survived,
    reference = "100 MPa" })
  parameters(case, f)
  put(case, "log_likelihood", f.log_likelihood)
end

function kinds.robust(case)
  parameters(case, assert(hf.fit { model = function(x, b) return b[1] + b[2] * x end, x = case.x, y = case.y,
    start = { 1, 1 }, robust = true }))
end

for _, case in ipairs(cases) do
  kinds[case.kind](case)
end
out:close()
