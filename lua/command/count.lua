-- hairfibre count plan | card | read: strand experiments from the first idea to what may be said.

local exit = require "command.exit"

local count = {}

local words = {
  { "plan", "how many strands, in which groups, who gets what, what the models expect" },
  { "card", "one page for the bench: settings, predictions, blanks, scale" },
  { "read", "filled strand sheets: intervals, tests, sentences that hold" },
}

local function help()
  local text = require "command.text"
  return table.concat({
    "Usage: hairfibre count plan|card|read ...   (count plan --help, and so on)",
    "",
    "Strand experiments: plan them, take a card to the bench, read the counts back.",
    "",
    text.columns(words),
    "",
    "Example:",
    "  hairfibre count read examples/data/strands_evening_invented.csv --pixel 0.5um",
    "",
    "",
  }, "\n")
end

function count.run(given)
  local word = given[1]
  if word == "--help" or word == "-h" then
    io.stdout:write(help())
    return exit.codes.ok
  end
  local names = {}
  for i, one in ipairs(words) do
    names[i] = one[1]
    if one[1] == word then
      local rest = table.move(given, 2, #given, 1, {})
      return require(word == "read" and "command.count_read" or "command.count_plan").run(word, rest)
    end
  end
  local suggest = require "hairfibre.suggest"
  if not word then
    exit.fail("usage", "count needs a word: %s (see: hairfibre count --help)", suggest.list(names))
  end
  exit.fail("usage", 'count has no word "%s"%s', word, suggest.hint(word, names))
end

return count
