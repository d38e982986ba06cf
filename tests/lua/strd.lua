-- NIST statistical reference datasets, non-linear regression (nist-strd), for the Lua tests: the sets of the C tests,
-- read from their header, and four that stand here only (typed from public test code that quotes the same tables).

local strd = {}

local exp, sin, cos, atan, pi = math.exp, math.sin, math.cos, math.atan, math.pi

local function sum3(x, b)
  return b[1] * exp(-b[2] * x) + b[3] * exp(-b[4] * x) + b[5] * exp(-b[6] * x)
end
local function cubic(x, b)
  return (b[1] + x * (b[2] + x * (b[3] + x * b[4]))) / (1 + x * (b[5] + x * (b[6] + x * b[7])))
end

local models = {
  Misra1a = function(x, b) return b[1] * (1 - exp(-b[2] * x)) end,
  Misra1b = function(x, b) return b[1] * (1 - 1 / (1 + b[2] * x / 2) ^ 2) end,
  Misra1c = function(x, b) return b[1] * (1 - (1 + 2 * b[2] * x) ^ -0.5) end,
  Misra1d = function(x, b) return b[1] * b[2] * x / (1 + b[2] * x) end,
  Chwirut2 = function(x, b) return exp(-b[1] * x) / (b[2] + b[3] * x) end,
  DanWood = function(x, b) return b[1] * x ^ b[2] end,
  Lanczos1 = sum3, Lanczos2 = sum3, Lanczos3 = sum3, Thurber = cubic, Hahn1 = cubic,
  Kirby2 = function(x, b) return (b[1] + x * (b[2] + x * b[3])) / (1 + x * (b[4] + x * b[5])) end,
  MGH09 = function(x, b) return b[1] * (x * x + x * b[2]) / (x * x + x * b[3] + b[4]) end,
  MGH10 = function(x, b) return b[1] * exp(b[2] / (x + b[3])) end,
  MGH17 = function(x, b) return b[1] + b[2] * exp(-x * b[4]) + b[3] * exp(-x * b[5]) end,
  BoxBOD = function(x, b) return b[1] * (1 - exp(-b[2] * x)) end,
  Rat42 = function(x, b) return b[1] / (1 + exp(b[2] - b[3] * x)) end,
  Rat43 = function(x, b) return b[1] / (1 + exp(b[2] - b[3] * x)) ^ (1 / b[4]) end,
  Eckerle4 = function(x, b) return b[1] / b[2] * exp(-0.5 * ((x - b[3]) / b[2]) ^ 2) end,
  Roszman1 = function(x, b) return b[1] - b[2] * x - atan(b[3] / (x - b[4])) / pi end,
  Bennett5 = function(x, b) return b[1] * (b[2] + x) ^ (-1 / b[3]) end,
  Nelson = function(x, b) return b[1] - b[2] * x[1] * exp(-b[3] * x[2]) end,
  ENSO = function(x, b)
    return b[1] + b[2] * cos(2 * pi * x / 12) + b[3] * sin(2 * pi * x / 12) + b[5] * cos(2 * pi * x / b[4])
      + b[6] * sin(2 * pi * x / b[4]) + b[8] * cos(2 * pi * x / b[7]) + b[9] * sin(2 * pi * x / b[7])
  end,
}

local function from_header()
  local file = assert(io.open("tests/reference/strd_data.h"))
  local text = file:read("a")
  file:close()
  local environment = {}
  for name, list in text:gmatch("static const double ([%w_]+)%[%] = (%b{})") do
    environment[name] = assert(load("return " .. list, name, "t", {}))()
  end
  setmetatable(environment, { __index = function()
    return false -- names of C functions
  end })
  local rows = assert(load("return " .. text:match("strd_sets%[%] = (%b{})"), "sets", "t", environment))()
  local sets = {}
  for i, row in ipairs(rows) do
    sets[i] = { name = row[1], x = row[4], y = row[5], starts = row[7], b = row[8], sd = row[9], rss = row[10] }
  end
  return sets
end

-- ---- typed here -----------------------------------------------------------------------------------------

local nelson_y = {
  { 15, 17, 15.5, 16.5, 15.5, 15, 16, 14.5, 15, 14.5, 12.5, 11, 14, 13, 14, 11.5 },
  { 14, 16, 13, 13.5, 13, 13.5, 12.5, 12.5, 12.5, 12, 11.5, 12, 13, 11.5, 13, 12.5 },
  { 13.5, 17.5, 17.5, 13.5, 12.5, 12.5, 15, 13, 12, 13, 12, 13.5, 10, 11.5, 11, 9.5 },
  { 15, 15, 15.5, 16, 13, 10.5, 13.5, 14, 12.5, 12, 11.5, 11.5, 6.5, 5.5, 6, 6 },
  { 18.5, 17, 15.3, 16, 13, 14, 12.5, 11, 12, 12, 11.5, 12, 6, 6, 5, 5.5 },
  { 12.5, 13, 16, 12, 11, 9.5, 11, 11, 11, 10, 10.5, 10.5, 2.7, 2.7, 2.5, 2.4 },
  { 13, 13.5, 16.5, 13.6, 11.5, 10.5, 13.5, 12, 7, 6.9, 8.8, 7.9, 1.2, 1.5, 1, 1.5 },
  { 13, 12.5, 16.5, 16, 11, 11.5, 10.5, 10, 7.27, 7.5, 6.7, 7.6, 1.5, 1, 1.2, 1.2 },
}

local function nelson()
  local set = { name = "Nelson", x = {}, y = {}, starts = { { 2, 0.0001, -0.01 }, { 2.5, 5e-9, -0.05 } },
    b = { 2.5906836021E+00, 5.6177717026E-09, -5.7701013174E-02 },
    sd = { 1.9149996413E-02, 6.1124096540E-09, 3.9572366543E-03 }, rss = 3.7976833176E+00 }
  local temperatures = { 180, 225, 250, 275 }
  for i, weeks in ipairs { 1, 2, 4, 8, 16, 32, 48, 64 } do
    for k, y in ipairs(nelson_y[i]) do
      set.x[#set.x + 1], set.y[#set.y + 1] = { weeks, temperatures[(k - 1) // 4 + 1] }, math.log(y)
    end
  end
  return set
end

local enso_y = [[12.9 11.3 10.6 11.2 10.9 7.5 7.7 11.7 12.9 14.3 10.9 13.7 17.1 14.0 15.3 8.5 5.7 5.5 7.6 8.6 7.3 7.6 12.7
  11.0 12.7 12.9 13.0 10.9 10.4 10.2 8.0 10.9 13.6 10.5 9.2 12.4 12.7 13.3 10.1 7.8 4.8 3.0 2.5 6.3 9.7 11.6 8.6 12.4
  10.5 13.3 10.4 8.1 3.7 10.7 5.1 10.4 10.9 11.7 11.4 13.7 14.1 14.0 12.5 6.3 9.6 11.7 5.0 10.8 12.7 10.8 11.8 12.6
  15.7 12.6 14.8 7.8 7.1 11.2 8.1 6.4 5.2 12.0 10.2 12.7 10.2 14.7 12.2 7.1 5.7 6.7 3.9 8.5 8.3 10.8 16.7 12.6 12.5
  12.5 9.8 7.2 4.1 10.6 10.1 10.1 11.9 13.6 16.3 17.6 15.5 16.0 15.2 11.2 14.3 14.5 8.5 12.0 12.7 11.3 14.5 15.1 10.4
  11.5 13.4 7.5 0.6 0.3 5.5 5.0 4.6 8.2 9.9 9.2 12.5 10.9 9.9 8.9 7.6 9.5 8.4 10.7 13.6 13.7 13.7 16.5 16.8 17.1 15.4
  9.5 6.1 10.1 9.3 5.3 11.2 16.6 15.6 12.0 11.5 8.6 13.8 8.7 8.6 8.6 8.7 12.8 13.2 14.0 13.4 14.8]]

local function enso()
  local set = { name = "ENSO", x = {}, y = {},
    starts = { { 11, 3, 0.5, 40, -0.7, -1.3, 25, -0.3, 1.4 }, { 10, 3, 0.5, 44, -1.5, 0.5, 26, -0.1, 1.5 } },
    b = { 1.0510749193E+01, 3.0762128085E+00, 5.3280138227E-01, 4.4311088700E+01, -1.6231428586E+00,
      5.2554493756E-01, 2.6887614440E+01, 2.1232288488E-01, 1.4966870418E+00 },
    sd = { 1.7488832467E-01, 2.4310052139E-01, 2.4354686618E-01, 9.4408025976E-01, 2.8078369611E-01,
      4.8073701119E-01, 4.1612939130E-01, 5.1460022911E-01, 2.5434468893E-01 }, rss = 7.8853978668E+02 }
  for word in enso_y:gmatch("%S+") do
    set.y[#set.y + 1] = tonumber(word)
    set.x[#set.y] = #set.y
  end
  return set
end

local function lanczos1()
  local set = { name = "Lanczos1", x = {}, starts = { { 1.2, 0.3, 5.6, 5.5, 6.5, 7.6 }, { 0.5, 0.7, 3.6, 4.2, 4, 6.3 } },
    y = { 2.5134, 2.044333373291, 1.668404436564, 1.366418021208, 1.123232487372, 0.9268897180037, 0.7679338563728,
      0.6388775523106, 0.5337835317402, 0.4479363617347, 0.3775847884350, 0.3197393199326, 0.2720130773746,
      0.2324965529032, 0.1996589546065, 0.1722704126914, 0.1493405660168, 0.1300700206922, 0.1138119324644,
      0.1000415587559, 0.08833209084540, 0.07833544019350, 0.06976693743449, 0.06239312536719 },
    b = { 9.5100000027E-02, 1.0000000001E+00, 8.6070000013E-01, 3.0000000002E+00, 1.5575999998E+00, 5.0000000001E+00 },
    -- The residuals are at the level of double rounding (RSS 1.4307867721E-25): no standard deviations to compare.
    sd = {}, rss = nil }
  for i = 1, 24 do
    set.x[i] = (i - 1) * 5 / 100
  end
  return set
end

--- List of { name, x, y, model, starts = { start 1, start 2 }, b, sd, rss }; sd is empty and rss nil where the certified
--- ones lie below double precision.
function strd.sets()
  local sets = from_header()
  local misra = sets[1]
  sets[#sets + 1] = { name = "Misra1c", x = misra.x, y = misra.y, starts = { { 500, 0.0001 }, { 600, 0.0002 } },
    b = { 6.3642725809E+02, 2.0813627256E-04 }, sd = { 4.6638326572E+00, 1.7728423155E-06 }, rss = 4.0966836971E-02 }
  sets[#sets + 1] = nelson()
  sets[#sets + 1] = enso()
  sets[#sets + 1] = lanczos1()
  for _, set in ipairs(sets) do
    set.model = assert(models[set.name], set.name)
  end
  return sets
end

--- Digits in which a number agrees with a certified one, 11 at most.
function strd.digits(got, certified)
  local error = math.abs(got - certified) / math.abs(certified)
  return error ~= error and 0 or error == 0 and 11 or math.max(0, math.min(11, -math.log(error, 10)))
end

return strd
