-- Claim book: bleach and perm.

return {
  {
    number = "21a",
    words = "Bleaching breaks 15 to 45 % of the disulfide bonds.",
    quantity = "half_cystine_oxidised", says = "15..45 %", at = { cysteic_acid = "300..650 umol/g" },
    expected = "supported",
    rivals = {
      { key = "edman1961", value = "45 %", known = "second-hand", text = "up to 45 % of cystine lost" },
      { key = "bleach-extent-secondary", low = "15 %", high = "25 %", known = "second-hand", text = "15 to 25 % in ordinary bleaching" },
    },
    note = "From cysteic acid of well bleached (300) to severely bleached hair (650 umol/g); at 200 umol/g it is 12 %. "
      .. "Half-way products are not counted.",
  },
  {
    number = "21b",
    words = "Dry hair keeps its strength until more than 64 % of the disulfide bonds are gone.",
    quantity = "break_stress_left", says = "at least 95 %", at = { disulfide_lost = "60 %", state = "dry" },
    expected = "doubtful",
    sources = {
      { side = "for", key = "robbins-book", known = "from memory", text = "dry strength holds to a loss of about 60 %" },
      { side = "against", key = "edman1961", known = "second-hand", text = "no more than 45 % lost by bleaching" },
    },
    note = "No measurement behind 64 % was found; bleaching was never read to break more than 45 %. Wet strength falls "
      .. "about in step with the loss.",
  },
  {
    number = "22",
    words = "A perm severs all disulfide bonds.",
    about = {
      name = "disulfide_open_after_perm", text = "share of disulfide bonds still open after reduction and 15 min of neutralising",
      basis = "share of a population, no share of strength", unit = "1", kind = "fraction", room = "bonds",
      sources = { "wickett-ch5", "reed1947" }, known = "assumed", parameters = { "rate.thiol", "rate.reoxidation" },
      cautions = { chemical = true },
      leaves_out = "What the lotion opens before neutralising (more, see disulfide_reduced); bonds that form elsewhere.",
      arguments = {
        { name = "concentration", unit = "mol/m3", kind = "number", text = "thiol in the bath", valid_low = 400,
          valid_high = 1200, domain_low = 0, domain_high = 3000 },
        { name = "duration", unit = "s", kind = "number", text = "time in the lotion", valid_low = 60,
          valid_high = 600, domain_low = 0, domain_high = math.huge },
      },
      evaluate = function(given, hf, set)
        local opened = hf.disulfide_reduced { concentration = given.concentration, duration = given.duration, set = set }
        return opened * (1 - hf.disulfide_reoxidised { duration = 900, set = set })
      end,
    },
    says = "100 %", expected = "refuted",
    rivals = {
      { key = "reed1947", place = "p. 119", low = "15 %", high = "34 %", known = "published",
        text = "15.6 % cystine, 10.3 % after 3 min and 13.2 % after 15 min of reoxidation" },
      { key = "wickett-ch5", place = "p. 166", low = "0 %", high = "50 %", known = "published",
        text = "bisulfite opens at most half, even in 72 h" },
    },
    note = "Partial, and mostly taken back by the neutraliser: 70 to 100 % in salons, 85 % in the mean.",
  },
}
