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
local html = require "hairfibre.report.html"
local misuse = require "hairfibre.misuse"
local parts = require "hairfibre.report.parts"
local provenance = require "hairfibre.provenance"
local spec = require "hairfibre.plot.spec"
local text = require "hairfibre.plot.text"

local report = {}

local xml = html.xml
local Report = { __name = "hairfibre.report" }
Report.__index = Report

local function lines_of(list, what)
  for i, one in ipairs(list or {}) do
    if type(one) ~= "string" then
      misuse("report: %s, entry %d must be a text, not a %s", what, i, type(one))
    end
  end
  return table.move(list or {}, 1, #(list or {}), 1, {})
end

local function settings_of(list)
  local copy = {}
  for i, pair in ipairs(list or {}) do
    local kind = type(pair) == "table" and type(pair[2])
    if type(pair) ~= "table" or type(pair[1]) ~= "string" or kind ~= "string" and kind ~= "number" then
      misuse("report: settings, entry %d must be { \"name\", \"value\" }", i)
    end
    copy[i] = { pair[1], kind == "number" and core.text(pair[2]) or pair[2] }
  end
  return copy
end

--- A page from its description. parts: figures, rings, cards, results, treatments, texts; in that order.
function report.new(given)
  spec.keys(given, "title:string question:string settings:table parts:table notes:table cautions:table "
    .. "sources:table", "report")
  local self = { title = given.title or "Report", question = given.question, settings = settings_of(given.settings),
    notes = lines_of(given.notes, "notes"), cautions = lines_of(given.cautions, "cautions"),
    sources = lines_of(given.sources, "sources"), parts = {}, names = {}, files = {} }
  for i, key in ipairs(self.sources) do
    if not core.source(key) then
      misuse("report: sources, entry %d: there is no source \"%s\"", i, text.clean(key))
    end
  end
  for i, part in ipairs(given.parts or {}) do
    self.parts[i] = parts.check(collect.real(part), ("report: parts, entry %d"):format(i))
  end
  return collect.hand_out(setmetatable(self, Report))
end

-- ---- sections ---------------------------------------------------------------------------------------

local function section(id, heading, body)
  return body ~= "" and ('<section aria-labelledby="%s">\n<h2 id="%s">%s</h2>\n%s\n</section>\n'):format(id, id,
    xml(heading), body) or ""
end

local function settings_html(self)
  local out, seen = {}, {}
  local function add(caption, rows)
    local made = rows and #rows > 0 and html.pairs(caption, rows) or ""
    local key = made:gsub("^.-<tbody>", "")
    if made ~= "" and not seen[key] then
      out[#out + 1], seen[key] = made, true
    end
  end
  add("What was set", self.settings)
  for i, part in ipairs(self.parts) do
    if type(part) == "table" then
      add(part.title or self.names[i] or "Part " .. i, rawget(part, "settings"))
    end
  end
  return table.concat(out, "\n")
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

-- origin: sentences of the figures
local function provenance_html(self, origin)
  local rows, alone = {}, "hairfibre " .. core.version
  for _, part in ipairs(self.origin and {} or self.parts) do
    if type(part) == "table" and part.provenance then
      rows[#rows + 1] = provenance.sentence(part:provenance()) .. "."
    end
  end
  for _, one in ipairs(self.origin or origin) do
    rows[#rows + 1] = one ~= alone and (one:gsub("[^.]$", "%0.")) or nil
  end
  if #rows == 0 then
    rows[1] = provenance.sentence(provenance.of()) .. "."
  end
  table.insert(rows, 1, "This page: " .. alone .. ".")
  table.move(self.files, 1, #self.files, #rows + 1, rows)
  rows[#rows + 1] = "The same input and version give the same page; no clock time is kept."
  local script = self.script and "<details><summary>The script</summary>\n<pre tabindex=\"0\">" .. html.verbatim(self.script)
    .. "</pre></details>" or ""
  return html.texts(rows) .. script
end

local function sources_html(keys)
  local list, seen = {}, {}
  for _, key in ipairs(keys) do
    if not seen[key] then
      list[#list + 1], seen[key] = reference(key), true
    end
  end
  return html.list(list)
end

-- ---- the page -----------------------------------------------------------------------------------------

local HEADINGS = { picture = "Figures", play = "Cross-section in time", table = "Tables", words = "In words" }
local KINDS = { "picture", "play", "table", "words" }
local HEAD = [[
<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'; img-src data:">
<link rel="icon" href="data:,">
<title>%s</title>
<style>
%s</style>
</head>
<body>
<a class="skip" href="#main">Skip to the content</a>
<header><h1>%s</h1></header>
<main id="main">
<noscript><p class="note">This browser runs no scripts: the figures are shown as tables only (open "Numbers").</p></noscript>
]]
local TAIL = [[
</main>
<footer><p>Made by hairfibre %s. Model figures about bench samples; not advice.</p></footer>
<script type="application/json" id="data">%s</script>
<script>
%s</script>
</body>
</html>
]]

--- The page as text.
function Report:html()
  local data, bodies = {}, { picture = {}, play = {}, table = {}, words = {} }
  local lists = { cautions = table.move(self.cautions, 1, #self.cautions, 1, {}),
    notes = table.move(self.notes, 1, #self.notes, 1, {}), sources = table.move(self.sources, 1, #self.sources, 1, {}), origin = {} }
  for i, part in ipairs(self.parts) do
    local piece = parts.html(part, i, self.names[i], self.draw)
    for kind, into in pairs(bodies) do
      table.move(piece[kind], 1, #piece[kind], #into + 1, into)
    end
    for key, into in pairs(lists) do
      table.move(piece[key], 1, #piece[key], #into + 1, into)
    end
    table.move(piece.data, 1, #piece.data, #data + 1, data)
  end
  if self.output and self.output:find("%S") then
    table.insert(bodies.words, '<h3>What the script printed</h3>\n<pre tabindex="0">' .. html.verbatim(self.output) .. "</pre>")
  end
  local question = self.question and html.paragraphs(self.question) or ""
  local made = { section("question", question:find("?", 1, true) and "The question" or "What this is about", question),
    section("cautions", "Cautions", html.texts(lists.cautions)), section("settings", "Settings", settings_html(self)) }
  for _, kind in ipairs(KINDS) do
    made[#made + 1] = section("part-" .. kind, HEADINGS[kind], table.concat(bodies[kind], "\n"))
  end
  made[#made + 1] = section("notes", "Notes", html.texts(lists.notes))
  made[#made + 1] = section("sources", "Sources", sources_html(lists.sources))
  made[#made + 1] = section("provenance", "Where this comes from", provenance_html(self, lists.origin))
  local title = xml(self.title)
  return HEAD:format(title, core.embedded "page.report_css", title) .. table.concat(made)
    .. TAIL:format(xml(core.version), html.json(data), core.embedded "page.report_js")
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

--- Adds a part under a name: a figure, rings, card, result, treatment or text.
function report.add(self, part, name)
  for _, known in ipairs(self.parts) do
    if known == part then
      return
    end
  end
  self.parts[#self.parts + 1] = part
  self.names[#self.parts] = name
end

--- Adds what another page holds.
function report.join(self, other)
  self.title, self.question = other.title, other.question or self.question
  for i, part in ipairs(other.parts) do
    report.add(self, part, other.names[i])
  end
  for _, key in ipairs { "settings", "notes", "cautions", "sources" } do
    table.move(other[key], 1, #other[key], #self[key] + 1, self[key])
  end
end

function Report:__tostring()
  return "report: " .. self.title
end

return report
