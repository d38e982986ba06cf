-- hf.report{...}: one self-contained page for a browser, without any network: question, settings, figures
-- to hover and zoom, a cross-section that plays through time, tables, cautions, sources, provenance.
--
--   hf.report { title = "Wet or dry?", question = "Which fibre ...", settings = { { "plates", "200 degC" } },
--     parts = { figure, treatment, result, "a paragraph" }, sources = { "iapws-sr1-86" } }:save "page.html"
--
-- Texts reach the page as escaped text or as JSON without "<"; the page's script sets textContent only.
-- The same input gives the same bytes.

local collect = require "hairfibre.collect"
local core = require "hairfibre.core"
local files = require "hairfibre.files"
local misuse = require "hairfibre.misuse"
local parts = require "hairfibre.report_parts"
local spec = require "hairfibre.plot_spec"
local text = require "hairfibre.plot_text"
local xml = require("hairfibre.rings").escape

local report = {}

local Report = { __name = "hairfibre.report" }
Report.__index = Report

local function lines_of(list, what)
  for i, one in ipairs(list or {}) do
    if type(one) ~= "string" then
      misuse("report: %s, entry %d must be a text, not a %s", what, i, type(one))
    end
  end
  return list or {}
end

local function settings_of(list)
  for i, pair in ipairs(list or {}) do
    if type(pair) ~= "table" or type(pair[1]) ~= "string" or pair[2] == nil then
      misuse("report: settings, entry %d must be { \"name\", \"value\" }", i)
    end
  end
  return list or {}
end

--- A page from its description. parts: figures, rings, results, treatments, texts; in that order.
function report.new(given)
  spec.keys(given, "title:string question:string settings:table parts:table notes:table cautions:table "
    .. "sources:table", "report")
  local self = { title = given.title or "Report", question = given.question, settings = settings_of(given.settings),
    notes = lines_of(given.notes, "notes"), cautions = lines_of(given.cautions, "cautions"),
    sources = lines_of(given.sources, "sources"), parts = {}, files = {} }
  for i, key in ipairs(self.sources) do
    if not core.source(key) then
      misuse("report: sources, entry %d: there is no source \"%s\"", i, text.clean(key))
    end
  end
  for i, part in ipairs(given.parts or {}) do
    self.parts[i] = parts.check(collect.real(part), ("report: parts, entry %d"):format(i))
  end
  return setmetatable(self, Report)
end

-- ---- sections ---------------------------------------------------------------------------------------

local function paragraphs(s)
  local out = {}
  for block in (s .. "\n\n"):gmatch("(.-)\n%s*\n") do
    if block:find("%S") then
      out[#out + 1] = "<p>" .. xml(block:gsub("%s+", " ")) .. "</p>"
    end
  end
  return table.concat(out, "\n")
end

local function section(id, heading, body)
  return body ~= "" and ('<section aria-labelledby="%s">\n<h2 id="%s">%s</h2>\n%s\n</section>\n'):format(id, id,
    xml(heading), body) or ""
end

local function list_of(items)
  local out = {}
  for i, one in ipairs(items) do
    out[i] = "<li>" .. one .. "</li>"
  end
  return #out > 0 and "<ul>\n" .. table.concat(out, "\n") .. "\n</ul>" or ""
end

local function escaped_list(items)
  local out, seen = {}, {}
  for _, one in ipairs(items) do
    if not seen[one] then
      out[#out + 1], seen[one] = xml(one), true
    end
  end
  return list_of(out)
end

local function settings_table(settings)
  local rows = {}
  for i, pair in ipairs(settings) do
    rows[i] = ('<tr><th scope="row">%s</th><td>%s</td></tr>'):format(xml(pair[1]), xml(tostring(pair[2])))
  end
  return #rows > 0 and '<div class="wide"><table>\n<caption>What was set</caption>\n<tbody>\n' .. table.concat(rows, "\n")
    .. "\n</tbody>\n</table></div>" or ""
end

local function reference(key)
  local s = core.source(key)
  local words = {}
  for _, field in ipairs { "author", "title", "journal", "year" } do
    if s[field] and s[field] ~= "" then
      words[#words + 1] = xml(s[field])
    end
  end
  local place = s.doi and s.doi ~= "" and "; doi " .. xml(s.doi) or ""
  local access = s.access and s.access ~= "" and " <small>(" .. xml(s.access) .. ")</small>" or ""
  return ("<strong>%s</strong> %s%s%s"):format(xml(key), table.concat(words, ", "), place, access)
end

local function provenance_of(self)
  local sets, rows = {}, {}
  for _, part in ipairs(self.parts) do
    local p = part.provenance and part:provenance()
    if p and not sets[p.digest] then
      sets[p.digest] = true
      rows[#rows + 1] = ("Parameters: set %s, digest %s."):format(p.set, p.digest)
      for _, one in ipairs(p.changed) do
        rows[#rows + 1] = ("Changed: %s = %s %s."):format(one.name, core.text(one.value), one.unit)
      end
    end
  end
  if #rows == 0 then
    local set = core.parameters()
    rows[1] = ("Parameters: set %s, digest %s."):format(set:name(), set:digest())
  end
  table.insert(rows, 1, "hairfibre " .. core.version .. ".")
  for _, one in ipairs(self.files) do
    rows[#rows + 1] = one
  end
  rows[#rows + 1] = "The same script and version give the same page; no clock time is kept."
  return rows
end

--- The page as text.
function Report:html()
  local made, data, cautions, notes = {}, {}, {}, {}
  table.move(self.cautions, 1, #self.cautions, 1, cautions)
  table.move(self.notes, 1, #self.notes, 1, notes)
  local headings = { picture = "Figures", play = "Cross-section in time", table = "Tables", words = "In words" }
  local bodies = { picture = {}, play = {}, table = {}, words = {} }
  for i, part in ipairs(self.parts) do
    local piece = parts.html(part, i)
    for _, kind in ipairs { "picture", "play", "table", "words" } do
      bodies[kind][#bodies[kind] + 1] = piece[kind]
    end
    for _, chart in ipairs(piece.data or {}) do
      data[#data + 1] = chart
    end
    cautions[#cautions + 1] = piece.caution
    table.move(piece.notes or {}, 1, #(piece.notes or {}), #notes + 1, notes)
  end
  if self.output and self.output:find("%S") then
    table.insert(bodies.words, "<pre>" .. parts.verbatim(self.output) .. "</pre>")
  end
  made[1] = section("question", "Question", self.question and paragraphs(self.question) or "")
  made[2] = section("cautions", "Cautions", escaped_list(cautions))
  made[3] = section("settings", "Settings", settings_table(self.settings))
  for i, kind in ipairs { "picture", "play", "table", "words" } do
    made[3 + i] = section("part-" .. kind, headings[kind], table.concat(bodies[kind], "\n"))
  end
  made[8] = section("notes", "Notes", escaped_list(notes))
  local references, seen = {}, {}
  for _, key in ipairs(self.sources) do
    if not seen[key] then
      references[#references + 1], seen[key] = reference(key), true
    end
  end
  made[9] = section("sources", "Sources", list_of(references))
  local script = self.script and "<details><summary>The script</summary>\n<pre>" .. parts.verbatim(self.script)
    .. "</pre></details>" or ""
  made[10] = section("provenance", "Where this comes from", escaped_list(provenance_of(self)) .. script)
  return table.concat({ "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n",
    "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n",
    "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'; "
      .. "script-src 'unsafe-inline'; img-src data:\">\n",
    "<link rel=\"icon\" href=\"data:,\">\n",
    "<title>", xml(self.title), "</title>\n<style>\n", core.embedded "page.report_css", "</style>\n</head>\n<body>\n",
    "<a class=\"skip\" href=\"#main\">Skip to the content</a>\n<header><h1>", xml(self.title), "</h1></header>\n",
    "<main id=\"main\">\n<noscript><p class=\"note\">This browser runs no scripts: the figures are shown as tables "
      .. "only (open \"Numbers\").</p></noscript>\n",
    table.concat(made), "</main>\n<footer><p>Made by hairfibre ", xml(core.version),
    ". Model figures about bench samples; not advice.</p></footer>\n",
    "<script type=\"application/json\" id=\"data\">", parts.json(data), "</script>\n<script>\n",
    core.embedded "page.report_js", "</script>\n</body>\n</html>\n" })
end

--- Writes the page; true, or nil, sentence, "file".
function Report:save(path)
  if type(path) ~= "string" or not path:lower():find("[^/]%.html?$") then
    misuse("save needs a name that ends in .html, not \"%s\"", text.clean(path))
  elseif collect.take("report", self, path) then
    return true
  end
  return files.write(path, self:html())
end

--- Adds what another page holds.
function Report:join(other)
  self.title, self.question = other.title, other.question or self.question
  for _, key in ipairs { "settings", "parts", "notes", "cautions", "sources" } do
    table.move(other[key], 1, #other[key], #self[key] + 1, self[key])
  end
end

function Report:__tostring()
  return "report: " .. self.title
end

return report
