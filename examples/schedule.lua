-- A schedule for `hairfibre ensemble`: the apprentice evening of an invented theatre wig workshop. Damp wefts go
-- between the plates of the flat tool once, for one second. How many strands would form voids?
--
--   hairfibre ensemble examples/schedule.lua --strands 1000 --save strands.csv
local hf = require "hairfibre"

return {
  population = "caucasian",
  lumped = true, -- one temperature for the whole fibre: faster, and close (see docs/cluster.md)
  fibre = hf.fibre { humidity = "55 %" },
  room = { temperature = "21 degC", humidity = "55 %" },
  treatment = {
    hf.soak { duration = "10 min" },
    hf.blot {},
    hf.plates { temperature = "147 degC", duration = "1 s" },
    hf.rest { duration = "10 min" },
  },
}
