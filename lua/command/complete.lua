-- hairfibre complete WORD...: what may stand in the place of the last word, one candidate a line. For the
-- completion files in lua/shell, which ask the program itself, so that they never fall behind it.

local core = require "hairfibre.core"

local complete = {}

local COUNT = "--group --expect --at-least --against --width --effect --deviation --pixel --resolution --diameter --spread "
  .. "--from --humidity --donors --strands --alpha --power --level --grades --seed --set --change --save --json"
local OPTIONS = {
  value = "--at --spread --set --change --range --draws --seed --strict --json --raw",
  curve = "--over --at --save --script --style --points --set --change --range --log --log-over --strict --ascii",
  ensemble = "--strands --population --within-head --pull --seed --set --change --parameters --lumped --part --threads --save "
    .. "--every --resume --json",
  sensitivity = "--at --spread --answer --population --lumped --method --samples --tours --seed --set --change --save --style "
    .. "--most --json --ascii",
  merge = "--save --partial --json",
  fit = "--list --x --y --sigma --group --unit --basis --dry-mass --delimiter --decimal --encoding --preamble --header "
    .. "--units-row --look --start --fixed --free --bounds --shared --sigma-is --survived --reference --robust --starts "
    .. "--seed --level --compare --bootstrap --cases --save --style --title --save-set --as --set-name --base "
    .. "--branch --temperature --json --ascii",
  run = "--out --memory --seconds --trust --trace",
  report = "--save --title --question --memory --seconds --trust --trace",
  parameters = "--set --change --json --csv",
  sources = "--bibtex",
  models = "--set --json",
  selftest = "--json",
  ["count plan"] = COUNT,
  ["count card"] = COUNT,
  ["count read"] = "--key --control --pixel --resolution --level --alpha --method --grades --group --predict --humidity --save "
    .. "--style --set --json",
  claim = "--says --at --than --set --change --json --bibtex --book",
}
local ASKS_QUANTITY = { value = true, curve = true, sensitivity = true, models = true, parameters = true, sources = true, claim = true }

local function quantity_of(words)
  for i = 2, #words - 1 do
    for _, quantity in ipairs(core.quantities()) do
      if quantity.name == words[i] then
        return quantity
      end
    end
  end
end

local function candidates(words)
  local list = {}
  local function add(text)
    list[#list + 1] = text
  end
  local before, command = words[#words - 1], words[1]
  if command == "count" and #words > 2 then
    command = "count " .. words[2]
  end
  if #words <= 1 then
    for _, one in ipairs(require "command.list") do
      add(one[1])
    end
  elseif before == "--at" or before == "--than" or before == "--over" or before == "--spread" and (command == "sensitivity" or command == "value") then
    local quantity = quantity_of(words)
    for _, argument in ipairs(quantity and quantity.arguments or {}) do
      local choices = before ~= "--spread" and before ~= "--over" and argument.choices or {}
      if words[#words]:sub(1, #argument.name + 1) ~= argument.name .. "=" or #choices == 0 then
        add(argument.name .. "=")
      end
      for _, choice in ipairs(words[#words]:find("=", 1, true) and choices or {}) do
        add(argument.name .. "=" .. choice)
      end
    end
  elseif before == "--sigma-is" then
    add("absolute")
    add("relative")
  elseif before == "--compare" or command == "fit" and #words == 2 and words[2]:sub(1, 1) ~= "-" then
    for _, name in ipairs(require("hairfibre.fit.models").names()) do
      add(name)
    end
  elseif before == "--set" or before == "--base" then
    for _, set in ipairs(core.sets()) do
      add(set.name)
    end
  elseif before == "--population" then
    for _, population in ipairs(core.populations()) do
      add(population.name)
    end
  elseif before == "--method" and command == "sensitivity" then
    for _, method in ipairs { "sobol", "random", "morris" } do
      add(method)
    end
  elseif before == "--answer" then
    for i, column in ipairs(core.strand_columns()) do
      if i > 2 then
        add((column.name:gsub(" ", "_")))
      end
    end
  elseif before == "--method" then
    for _, method in ipairs(core.statistics.methods) do
      add(method)
    end
  elseif before == "--range" then
    add("draws")
    add("single")
  elseif before == "--style" then
    for _, style in ipairs(require("hairfibre.styles").names) do
      add(style)
    end
  elseif words[#words]:sub(1, 1) == "-" then
    for option in ((OPTIONS[command] or "") .. " --help"):gmatch "%S+" do
      add(option)
    end
  elseif #words == 2 and command == "count" then
    for _, word in ipairs { "plan", "card", "read" } do
      add(word)
    end
  elseif #words == 3 and (command == "count plan" or command == "count card") then
    for _, purpose in ipairs(require("hairfibre.count.plan").purposes) do
      add(purpose[1])
    end
  elseif #words == 2 and ASKS_QUANTITY[command] then
    for _, quantity in ipairs(core.quantities()) do
      add(quantity.name)
    end
  end
  return list
end

function complete.run(words)
  local last = words[#words] or ""
  for _, text in ipairs(candidates(words)) do
    if text:sub(1, #last) == last then
      io.stdout:write(text, "\n")
    end
  end
  return 0
end

return complete
