-- hairfibre report SCRIPT-or-RESULT --save PAGE.html: one page for a browser from what a script makes, or from
-- a saved table.

local collect = require "hairfibre.collect"
local core = require "hairfibre.core"
local exit = require "command.exit"
local pages = require "hairfibre.report"
local script = require "command.script"

local report = {}

local MOST_PRINTED = 200000 -- bytes of what the script prints that go into the page

local function parser()
  local p, page = require("command.options").new("report",
    "Writes one page for a browser that needs no network: figures to hover and zoom, a cross-section that plays, "
      .. "tables, cautions, sources and where it comes from. From a script: all that it saves goes into the page, and no other "
      .. "file is written. From a table saved as .csv or .json: its numbers and a chart.",
    "hairfibre report examples/first_lesson.lua --save first_lesson.html")
  p:argument("input", "A script (.lua), or a result saved as .csv or .json.")
  p:argument("arguments", "Words for the script (arg[1], ...)."):args("*")
  p:option("--save", "The page to write, .html."):argname("FILE")
  p:option("--title", "Heading of the page. Default: from the name of the input."):argname("TEXT")
  p:option("--question", "What the page is to answer. Default: the first comment of the script."):argname("TEXT")
  script.options(p)
  return page
end

local function title_of(path)
  local stem = path:match("([^/]*)%.%w+$") or path:match("[^/]*$")
  stem = stem:gsub("[_%s]+", " "):gsub("^%d+ (%a)", "%1") -- 1_hygrometer: the number is for the order of files
  return stem == "" and "Report" or stem:sub(1, 1):upper() .. stem:sub(2)
end

-- The comment at the top of a script, without command lines; nil when there is none.
local function first_comment(text)
  local lines = {}
  for line in text:gmatch("([^\n]*)\n") do
    local words = line:match("^%-%-+(.*)$")
    if not words then
      break
    elseif not words:find("^%s*hairfibre %l") then
      lines[#lines + 1] = words
    end
  end
  local comment = table.concat(lines, "\n")
  return comment:find("%S") and comment or nil
end

-- Everything the script prints, in place of standard output.
local function recorder()
  local pieces, size = {}, 0
  local out = {}
  function out:write(...)
    for i = 1, select("#", ...) do
      local piece = tostring((select(i, ...)))
      if size < MOST_PRINTED then
        pieces[#pieces + 1] = piece:sub(1, MOST_PRINTED - size)
        if size + #piece > MOST_PRINTED then
          pieces[#pieces + 1] = "\n... (the rest is left out)\n"
        end
      end
      size = size + #piece
    end
    return self
  end
  function out:flush()
    return self
  end
  function out.setvbuf()
    return true
  end
  local function print_line(...)
    local words = table.pack(...)
    for i = 1, words.n do
      words[i] = tostring(words[i])
    end
    out:write(table.concat(words, "\t"), "\n")
  end
  return out, print_line, function()
    return table.concat(pieces)
  end
end

-- The page of a script, as text. It is put together under the limits of the script: what a script hands over may
-- still run code of its own.
local function from_script(page, arguments)
  local text, name = script.read(arguments.input)
  local skipped = {}
  collect.start(function(kind, object, path)
    if kind == "file" then
      skipped[#skipped + 1] = path
    elseif kind == "report" then
      pages.join(page, object)
    else
      pages.add(page, object, title_of(path))
    end
    return true
  end)
  local out, print_line, printed = recorder()
  local html
  local function finish()
    collect.start(nil)
    page.output, page.script = printed(), text
    if #page.parts == 0 and not page.output:find("%S") then
      return
    end
    page.title = arguments.title or page.title
    page.question = arguments.question or page.question or first_comment(text)
    page.files[1] = "Script: " .. name:match("[^/]*$") .. "."
    if #skipped > 0 then
      page.files[2] = "Run by itself, the script also writes: " .. table.concat(skipped, ", ") .. "."
    end
    html = page:html()
  end
  local usual_out, usual_print = io.stdout, print
  io.stdout, print = out, print_line -- luacheck: ignore
  local done, problem = pcall(script.execute, text, name, { script = arguments.input, arguments = arguments.arguments,
    out = ".", trust = arguments.trust, memory = arguments.memory, seconds = arguments.seconds, trace = arguments.trace,
    finish = finish })
  io.stdout, print = usual_out, usual_print -- luacheck: ignore
  collect.start(nil)
  require("hairfibre.files").set_guard(nil)
  if not done then
    error(problem, 0)
  elseif not html then
    exit.fail("data", "%s saves nothing and prints nothing: there is nothing to report", name)
  end
  return html
end

local function from_result(page, arguments)
  if #arguments.arguments > 0 then
    exit.fail("usage", "words after the input are for scripts; %s is a table", arguments.input)
  end
  local r, more = require("command.report_read").read(arguments.input)
  if not r then
    exit.fail("data", "%s", more)
  end
  page.origin = more
  pages.add(page, r, title_of(arguments.input))
  page.draw = true
  page.files[1] = "Table: " .. arguments.input:match("[^/]*$") .. "."
  page.title = arguments.title or page.title
  return page:html()
end

function report.run(words)
  local arguments = require("command.options").parse(parser(), words)
  if not arguments then
    return exit.codes.ok
  end
  local save = arguments.save
  if not save then
    exit.fail("usage", "report needs a page to write: --save page.html")
  elseif not save:lower():find("[^/]%.html?$") then
    exit.fail("usage", '--save needs a name that ends in .html, not "%s"', save)
  elseif save:find("%c") then
    exit.fail("usage", "a file name must not hold control characters")
  end
  local page = pages.new { title = title_of(arguments.input), question = arguments.question }
  local ending = (arguments.input:match("%.(%w+)$") or ""):lower()
  local make = (ending == "csv" or ending == "json") and from_result or from_script
  local done, message = core.write(save, make(page, arguments))
  if not done then
    exit.fail("output", "%s", message)
  end
  io.stdout:write("wrote ", save, "\n")
  return exit.codes.ok
end

return report
