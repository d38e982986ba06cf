-- hf.count_card(plan or options of a plan): one page for the bench with settings, predictions, blanks for
-- what is observed, and the reminder of the scale.
--
--   hf.count_card(plan):save("card.svg")     .svg, .png, .pdf (both by gnuplot) or .txt

local columns = require "hairfibre.count.columns"
local collect = require "hairfibre.collect"
local core = require "hairfibre.core"
local files = require "hairfibre.files"
local misuse = require "hairfibre.misuse"
local Page = require "hairfibre.count.page"
local plans = require "hairfibre.count.plan"
local predict = require "hairfibre.count.predict"
local sentences = require "hairfibre.count.sentences"
local show = require "hairfibre.show"
local steps = require "hairfibre.count.steps"
local plot_text = require "hairfibre.plot.text"

local count_card = {}

local Card = { __name = "hairfibre.card" }
Card.__index = Card

local MOST_GROUPS, SECONDS, BOTTOM = 4, 30, 293
local LEFT, RIGHT, SIZE, SMALL = 14, 196, 3.1, 2.6
local QUIET = { ink = "#4A4A4A" }
local um, change = sentences.um, sentences.change

local function head(page, s, y)
  page:box(LEFT, y, RIGHT - LEFT, 5, { fill = "#EEF2F4", line = 0 })
  page:text(s, LEFT + 1.5, y + 2.5, SIZE, { bold = true })
  return y + 6.6
end

local function change_of(p)
  if p.no_change then
    return "none"
  end
  return ("%s%s \u{B5}m (%s to %s)"):format(p.change > 0 and "+" or "", change(p.change), change(p.low), change(p.high))
end

local function pixels_of(p, plan)
  local step = math.max(plan.pixel or 0, plan.resolution or 0)
  local _, verdict = predict.verdict(p, plan.pixel, plan.resolution, plan.strands)
  return (step == 0 or p.no_change) and verdict or ("%s pixels: %s"):format(show.number(math.abs(p.change) / step, 2), verdict)
end

local function grade_of(p)
  local beyond = p.extrapolated and "; above 150 \u{B0}C extrapolated" or ""
  return (p.grade_low == p.grade_high and p.grade or ("%s (from: %s; to: %s)"):format(p.grade, p.grade_low, p.grade_high))
    .. beyond
end

-- The blanks beside a group: own guess, counted, measured.
local function blanks(page, y, group)
  local x = 128
  for i, words in ipairs { "my guess", "mean change, \u{B5}m", ("voids, of %d"):format(group.strands),
    "worse / same / better" } do
    local line = y + 4.6 + (i - 1) * 6
    page:text(words, x, line - 1, SMALL, QUIET)
    page:blank(x + 33, line + 0.5, RIGHT - x - 33)
  end
end

local function groups(page, plan, y)
  for i, group in ipairs(plan.groups) do
    local top = y
    page:text(("%s: %d strands"):format(group.name, group.strands), LEFT, y + 2, SIZE, { bold = true })
    y = y + 4.4
    local what = group.steps and steps.words(group.steps) or group.treatment or ""
    if what == "" then
      page:blank(LEFT, y + 4, 106)
      y = y + 6
    else
      y = page:paragraph(what, LEFT, y, SIZE, 108)
    end
    local p = group.prediction
    if p then
      y = page:paragraph("expected change of diameter: " .. change_of(p), LEFT, y + 0.6, SMALL, 108, QUIET)
      y = page:paragraph(pixels_of(p, plan), LEFT, y, SMALL, 108, QUIET)
      y = page:paragraph("voids: " .. grade_of(p), LEFT, y, SMALL, 108, QUIET)
    else
      y = page:paragraph("no prediction: " .. (group.no_prediction or ""), LEFT, y, SMALL, 108, QUIET)
    end
    blanks(page, top, group)
    y = math.max(y, top + 26) + 1.5
    if i < #plan.groups then
      page:line(LEFT, y, RIGHT, y, { width = 0.15, ink = "#B0B0B0" })
      y = y + 1.5
    end
  end
  return y + 1
end

-- Two columns of words with a line to write on.
local function form(page, y, list)
  for i, one in ipairs(list) do
    local left = i % 2 == 1
    local x = left and LEFT or 108
    page:text(one, x, y + 2, SIZE)
    local start = x + plot_text.width(one, SIZE) + 2
    page:blank(start, y + 3.6, (left and 104 or RIGHT) - start)
    if not left or i == #list then
      y = y + 6.2
    end
  end
  return y + 1
end

local SETTINGS = { "date", "sheet and card no.", "room temperature, \u{B0}C", "room humidity, %", "conditioned for, h",
  "reached from (dry or wet side)", "tool set to, \u{B0}C or \u{B0}F", "measured surface, \u{B0}C or \u{B0}F", "contact time, s", "passes and pause, s",
  "water (conditioned, damp, soaked)", "blotted how", "bath and pH", "bath time and \u{B0}C", "distance from the root, mm",
  "wash and rinse", "magnification", "graded by, without the key" }

-- A fibre of the planned diameter before, at 1 mm for 1 um, with the ticks of the pixels at its edge.
local function scale(page, plan, y)
  y = page:paragraph("Photograph the stage scale with the same objective and camera, in the same session:", LEFT, y, SIZE,
    RIGHT - LEFT)
  page:text("\u{B5}m  =", 40, y + 3.2, SIZE)
  page:blank(LEFT, y + 4.8, 24)
  page:text("pixels, so 1 pixel  =", 78, y + 3.2, SIZE)
  page:blank(52, y + 4.8, 24)
  page:text(("\u{B5}m%s"):format(plan.pixel and (" (planned: %s)"):format(um(plan.pixel)) or ""), 138, y + 3.2, SIZE)
  page:blank(111, y + 4.8, 25)
  y = y + 8.5
  local d = 1e6 * plan.diameter
  if d <= 150 then
    page:box(LEFT, y, d, 5, { fill = "#DCE7EE" })
    page:text(("a strand of %s \u{B5}m: on this page 1 mm stands for 1 \u{B5}m"):format(um(plan.diameter)), LEFT, y + 7.6,
      SMALL, QUIET)
    local step = math.max(plan.pixel or 0, plan.resolution or 0)
    if step > 0 then
      local pixel = 1e6 * step
      if pixel >= 0.3 then
        for i = 0, math.min(12, math.floor((RIGHT - LEFT - d - 2) / pixel)) do
          page:line(LEFT + d + i * pixel, y, LEFT + d + i * pixel, y + 3, { width = 0.15 })
        end
      end
      local one = predict.smallest(plan.pixel, plan.resolution, 1)
      page:text(("pixels at its edge; least change seen on one strand: %s \u{B5}m"):format(um(one, 2)), RIGHT, y + 7.6, SMALL,
        { align = "right", ink = QUIET.ink })
    end
    y = y + 11
  end
  return y
end

local function tick_list(page, y, list)
  local x, width = LEFT, RIGHT - LEFT
  for _, s in ipairs(list) do
    page:box(x, y + 0.5, 2.4, 2.4)
    y = page:paragraph(s, x + 4.5, y, SMALL, width - 4.5) + 0.5
  end
  return y
end

local CHECKS = {
  "each strand marked at one place; both axes measured before and after at that mark",
  "sheet open, key closed until the last grade; order of the sheet kept",
  "losses and exclusions written down with the reason",
  "own guess written above before the first strand",
}

local function page_of(plan)
  local page = Page.new()
  page:text("Bench card", LEFT, 15, 6, { bold = true })
  page:text(plan.question, LEFT, 21.5, SIZE)
  page:text(("%s, %d in all; %s; seed %d"):format(#plan.groups == 1 and "one group"
    or plan.strands .. " in each group", plan.total,
    plan.donors > 1 and plan.donors .. " donors" or "one donor", plan.seed), RIGHT, 15, SIZE, { align = "right" })
  page:text(("plan %s, hairfibre %s, set %s, digest %s"):format(plan:id(), core.version, plan.set:name(),
    plan.set:digest()), RIGHT, 21.5, SMALL,
    { align = "right", ink = QUIET.ink })
  page:line(LEFT, 25, RIGHT, 25, { width = 0.5, ink = "#1A1A1A" })
  local y = groups(page, plan, head(page, "Groups: expected (95 % for one strand) and observed", 27))
  y = form(page, head(page, "Settings as they were", y), SETTINGS)
  y = scale(page, plan, head(page, "Scale", y))
  y = head(page, "Grades", y + 1)
  local grades = {}
  for i, grade in ipairs(plan.grades) do
    grades[i] = columns.scale_text[grade] and ("%s = %s"):format(grade, columns.scale_text[grade]) or grade
  end
  y = page:paragraph(table.concat(grades, "; ") .. ".", LEFT, y, SIZE, RIGHT - LEFT)
  y = tick_list(page, head(page, "Before you start", y + 1.5), CHECKS)
  if plan.caution then
    y = page:paragraph("Caution: " .. plan.caution, LEFT, y + 1, SMALL, RIGHT - LEFT, { bold = true })
  end
  if y < 275 then
    y = head(page, "Notes: which strand, what happened", y + 2)
    while y + 7 < 288 do
      y = y + 7
      page:blank(LEFT, y, RIGHT - LEFT)
    end
  end
  return page, y
end

--- New card; or nil, sentence, code.
function count_card.new(given)
  local plan, message, code, faults = given, nil, nil, nil
  if not plans.is(given) then
    plan, message, code, faults = plans.new(given)
  end
  if not plan then
    return nil, message, code, faults
  end
  if #plan.groups > MOST_GROUPS then
    return nil, ("one page holds %d groups, not %d"):format(MOST_GROUPS, #plan.groups), "range"
  end
  local _, bottom = page_of(plan)
  if bottom > BOTTOM then
    return nil, "the groups and their steps need more room than one page has", "range"
  end
  return collect.hand_out(setmetatable({ plan = plan }, Card))
end

--- The card as SVG text.
function Card:svg()
  return page_of(self.plan):svg("Bench card: " .. self.plan.question)
end

--- The card as plain text, 80 columns.
function Card:text()
  return require("hairfibre.count.text").card(self.plan, SETTINGS, CHECKS)
end

--- Writes .svg, .png, .pdf or .txt. true; or nil, sentence, code.
function Card:save(path)
  local suffix = type(path) == "string" and path:match("[^/]%.(%a+)$")
  suffix = suffix and suffix:lower()
  if collect.take("card", self, path) then
    return true
  elseif suffix == "svg" then
    return files.write(path, self:svg())
  elseif suffix == "txt" then
    return files.write(path, self:text())
  elseif suffix ~= "png" and suffix ~= "pdf" then
    misuse("save needs a name that ends in .svg, .png, .pdf or .txt, not \"%s\"", tostring(path))
  end
  local place, message, code = files.path("write", path)
  if not place then
    return nil, message, code
  end
  local bytes
  bytes, message, code = core.spawn_gnuplot(page_of(self.plan):script(suffix), place, SECONDS)
  if not bytes then
    return nil, message, code
  end
  local same = suffix == "pdf" and bytes:gsub("/CreationDate %(D:[^)]*%)", function(date)
    return (" "):rep(#date) -- the same card gives the same bytes
  end)
  return core.write(place, same or bytes)
end

count_card.page_of = page_of

return count_card
