-- The columns of a strand sheet: one line a strand. Lengths carry their unit in the name
-- (diameter_before_um); one unit for all.

local columns = {}

-- name, kind, what it holds
columns.list = {
  { "id", "text", "name of the strand, each once" },
  { "donor", "text", "whose hair" },
  { "group", "text", "group of the experiment" },
  { "treatment", "text", "what was done with it, or its history" },
  { "diameter_before", "length", "diameter before" },
  { "diameter_after", "length", "diameter after, at the same place" },
  { "major_before", "length", "long axis of the cross-section before" },
  { "minor_before", "length", "short axis before" },
  { "major_after", "length", "long axis after, at the same place" },
  { "minor_after", "length", "short axis after" },
  { "grade_before", "grade", "grade before" },
  { "grade_after", "grade", "grade after" },
  { "grade_before_2", "grade", "grade before by a second grader" },
  { "grade_after_2", "grade", "grade after by a second grader" },
  { "voids_before", "count", "voids before" },
  { "voids", "count", "voids after" },
  { "cuticle_lift_before", "truth", "lifted cuticle before" },
  { "cuticle_lift", "truth", "lifted cuticle after" },
  { "broken", "truth", "broken during the experiment" },
  { "excluded", "text", "why the strand is left out; empty when it counts" },
  { "notes", "text", "anything else" },
}

columns.by_name, columns.names = {}, {}
for i, row in ipairs(columns.list) do
  local column = { name = row[1], kind = row[2], text = row[3] }
  columns.list[i], columns.by_name[column.name], columns.names[i] = column, column, column.name
end

columns.units = { nm = 1e-9, um = 1e-6, ["\u{B5}m"] = 1e-6, ["\u{3BC}m"] = 1e-6, mm = 1e-3, m = 1 }
columns.unit_names = { "nm", "um", "mm", "m" }

-- What a cell of each kind must hold, for messages.
columns.expected = {
  truth = "yes or no",
  count = "yes, no or a whole number",
}

-- Diameters of hair that make sense, m; outside one suspects the unit.
columns.least, columns.most = 10e-6, 400e-6

--- Grades from no change to the worst, with what they mean (a scale of this project; any other list may
--- be given).
columns.scale = { "0", "1", "2", "3" }
columns.scale_text = {
  ["0"] = "no change seen",
  ["1"] = "slight: at single places",
  ["2"] = "clear: at several places of the field",
  ["3"] = "severe: over most of the field",
}

return columns
