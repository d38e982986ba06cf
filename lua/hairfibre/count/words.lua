-- What belongs into every record of a strand experiment, and what to take care of.

local words = {}

--- Lines of the record: what, and what to write down.
words.record = {
  { "Strands", "donor or lot, natural colour and curl, distance from the root, treatments before" },
  { "Wash", "how washed, rinsed and dried" },
  { "Atmosphere", "20.0 +- 2.0 degC and 65.0 +- 4.0 % humidity (iso139); measured before and DURING the "
    .. "test; how long conditioned; reached from the dry or the wet side" },
  { "Diameter", "both axes, before and after at the same marked place; dry or wet; at which humidity" },
  { "Water", "conditioned, damp or soaked; how long; how blotted; mass if weighed" },
  { "Tool", "temperature set AND measured at the surface, with the unit; contact time, passes, speed, "
    .. "tension, pause between passes" },
  { "Bath", "reagent, concentration, pH, ratio of bath to hair, time, temperature" },
  { "Microscope", "magnification, size of a pixel, photograph of the stage scale, mark of the place" },
  { "Grading", "scale, who graded, whether the grader knew the group, number of fields" },
  { "Losses", "every strand that broke, was lost or left out, and why" },
  { "Consent", "of the persons whose hair it is" },
}

-- Below these numbers the smallest P of an exact two-sided test is above 0.05: 2/2^5, and 2 of the 20 ways to
-- split 3 and 3.
local FEW = { pairs = { 6, "" }, change = { 6, "" }, groups = { 4, " in each group" }, means = { 4, " in each group" } }

--- Sentences of care.
function words.care(plan)
  local list = {
    "Measure every strand before AND after: differences between strands are far larger than most effects.",
    "Who grades must not see the key. Grade in the order of the sheet, all strands on one day if possible.",
    "Decide before the first strand what leads to exclusion; write every excluded strand down.",
    "Keep a group that goes through everything except the treatment.",
  }
  local few = FEW[plan.purpose]
  if few and plan.strands < few[1] then
    list[#list + 1] = ("With fewer than %d strands%s no test by signs or ranks can fall below P = 0.05."):format(few[1], few[2])
  end
  if plan.assumed_deviation then
    list[#list + 1] = "How much the change differs between strands is not known beforehand, so the power above is the best "
      .. "case: take some strands more, or measure a few first and give --deviation."
  end
  if plan.donors == 1 then
    list[#list + 1] = "One donor: whatever comes out holds for that head of hair, not for others."
  else
    list[#list + 1] = "Strands of one donor are alike: for other heads the donors count, not the strands."
  end
  if plan.hot then
    list[#list + 1] = "The set temperature is not that of the fibre: measure the surface, and keep the contact "
      .. "time the same."
  end
  list[#list + 1] = plan.caution
  return list
end

return words
