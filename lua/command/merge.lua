-- hairfibre merge FILES: joins the parts of an ensemble to what one run would have given.

local exit = require "command.exit"

local merge = {}

local function parser()
  local p, page = require("command.options").new("merge",
    "Joins the parts that hairfibre ensemble --part has saved and prints what became of all strands. Nothing may be "
      .. "missing unless --partial; with every part there the files are those of one run.",
    "hairfibre merge strands.csv --save joined.csv")
  p:argument("files", "The .csv files of the parts, their .json files beside them."):args("+")
  p:option("--save", "Write all strands to this .csv file, with a .json file beside it."):argname("FILE.csv")
  p:flag("--partial", "Join what is there although strands are missing.")
  p:flag("--json", "The summary as one JSON object, in SI units.")
  return page
end

function merge.run(words)
  local arguments = require("command.options").parse(parser(), words)
  if not arguments then
    return exit.codes.ok
  end
  local ensemble = require "command.ensemble"
  local e = require("command.schedule").call("data", require("hairfibre").merge, arguments.files)
  if not e.complete and not arguments.partial then
    exit.fail("data", "%d of %d strands are missing; --partial joins what is there", e.stamp.strands - e.done,
      e.stamp.strands)
  end
  if arguments.save then
    local done, message = ensemble.save(e, arguments.save)
    if not done then
      exit.fail("output", "%s", message)
    end
  end
  ensemble.show(e, arguments.json)
  return exit.codes.ok
end

return merge
