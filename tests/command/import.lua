-- Data files on the command line: what is refused, with which exit code, and that a file is only read.
package.path = "tests/command/?.lua;" .. package.path
local h = require "harness"

-- name, bytes, options, exit code, parts of the sentence
local M = { "--x", "RH", "--y", "moisture" }
local U = { "--x", "RH", "--y", "moisture", "--unit", "RH=%", "--unit", "moisture=%", "--basis", "moisture=dry" }
local GOOD = "RH;moisture\n10;4,5\n20;6,8\n40;10,4\n60;14,3\n80;20,1\n90;24,4\n"

local function row(name, bytes, options, code, parts)
  h.write(name, bytes)
  local words = { "fit", "gab", name }
  for _, word in ipairs(options) do
    words[#words + 1] = word
  end
  words.code, words.err, words.out = code, code ~= 0 and parts or nil, code == 0 and parts or nil
  h.row(words)
end

row("good.csv", GOOD, U, 0, { "6 rows used, 0 left out", "decimal sign   comma", "6 points" })
row("ambiguous.csv", "RH;moisture\n10;1,234\n20;2,345\n", U, 3, { 'line 2, column "moisture": "1,234" is 1.234 or 1234', "--decimal" })
row("unit.csv", GOOD, M, 3, { 'column "RH" has no unit', '--unit "RH=%"' })
row("basis.csv", "RH;moisture\n%;%\n10;4,5\n", M, 3, { "per dry mass or per wet mass", '--basis "moisture=dry"' })
row("twice.csv", "RH;RH;moisture\n10;11;4,5\n", U, 3, { '2 columns are called "RH" (columns 1 and 2)', "--x 1" })
row("nan.csv", "RH;moisture\n10;NaN\n20;NaN\n", U, 3, { 'column "moisture" has no number that can be used in 2 rows' })
row("empty.csv", "", U, 3, { "the file is empty" })
row("header.csv", "RH;moisture\n", U, 3, { "no rows of numbers after the header" })
row("binary.csv", "\0\1\2\3", U, 3, { "no table of text" })
row("book.csv", "PK\3\4\0\0", U, 3, { "a workbook" })
row("cut.csv", GOOD .. "95;", U, 0, { "6 rows used, 1 left out", "line 8", "the cell is empty" })
row("cut_quote.csv", GOOD .. '95;"28', U, 0, { "1 left out", "the file ends inside the quotation marks" })
row("good.csv", GOOD, { "--delimiter", "xx" }, 2, { 'delimiter is "comma"' })
row("good.csv", GOOD, { "--unit", "RH" }, 2, { "--unit needs COLUMN=UNIT" })
row("good.csv", GOOD, { "--header", "one" }, 2, { "--header needs a whole number" })
h.row { "fit", "gab", "nowhere.csv", code = 3, err = { "nowhere.csv", "no such file" } }
h.row { "fit", "gab", ".", code = 3, err = { "it is a folder" } }

local out = h.row { "fit", "--look", "good.csv", out = { "semicolon", 'shown by "4,5" in line 2', "no unit" } }
h.narrow(out, "fit --look")

-- The file is read, not touched.
h.write("kept.csv", GOOD)
local before = select(2, h.shell("chmod 444 kept.csv; stat -c '%Y %s %a' kept.csv; sha256sum kept.csv"))
h.row { "fit", "gab", "kept.csv", table.unpack(U) }
h.check(select(2, h.shell("stat -c '%Y %s %a' kept.csv; sha256sum kept.csv")) == before, "the data file is left as it was")

-- A file that comes through a pipe, and one for which there is no memory.
local program, options = h.quote(h.program), "--x 1 --y 2 --unit 1=% --unit 2=% --basis 2=dry"
local code, said = h.shell(("cat good.csv | %s fit gab /dev/stdin %s"):format(program, options))
h.check(code == 0 and said:find("6 rows used"), "a pipe is read", said)
local err
if not os.getenv("PRELOAD") then -- the address sanitizer reserves more than any limit
  code, said, err = h.shell(('yes "10;4,5" | head -n 9000000 | (ulimit -v 250000; exec %s fit gab /dev/stdin --header none %s)'):format(
    program, options))
  h.check(code == 6 and err:find("^hairfibre: [^\n]*memory"), "without memory", ("exit %d\n%s%s"):format(code, said, err))
end

h.finish()
