-- Claim book: stretching, breaking, what carries the load.

-- Work that a second stretching lacks, as printed for two ways of holding the strand.
local AFTER_HOLDING = {
  ["let go at once"] = { 0.03, 0.025, 0.035 },
  ["held for a day"] = { 0.455, 0.4545, 0.4555 },
}

local LIMITS = { "the start of yielding", "the break" }

-- Strain that a limit allows, by name of the limit.
local stretch = {
  name = "stretch", text = "strain that dry or wet hair can take", basis = "growth over the length before stretching",
  unit = "1", kind = "fraction", sources = { "wortmann2022", "menkart1966" }, known = "assumed", room = "strength",
  leaves_out = "Where damage begins between the start of yielding and the break.",
  parameters = { "strength.break.strain_wet", "strength.break.strain_ambient", "strength.modulus", "strength.yield",
    "strength.turn" },
  sets = { "virgin", "bleached" },
  arguments = {
    { name = "humidity", unit = "1", kind = "fraction", text = "humidity of the air, 100 %: in water",
      valid_low = 0.6, valid_high = 1, domain_low = 0, domain_high = 1 },
    { name = "limit", unit = "1", kind = "choice", choices = LIMITS, phrase = "up to *", text = "which limit is meant" },
  },
  evaluate = function(given, hf, set)
    local ask = given.limit == "the break" and hf.break_strain or hf.yield_strain
    return ask { humidity = given.humidity, set = set }
  end,
}

-- Means and their 95 % limits: cross-section um2, break stress MPa (textbook-ch6, p. 204).
local TYPES = {
  Asian = { 5063, 179, 209.7, 2.5 }, Caucasian = { 4079, 170, 202.3, 2.2 }, ["African-American"] = { 4210, 122, 189.3, 2.0 },
}

-- Force at which all hairs of a head break together.
local head = {
  name = "head_of_hair", text = "force at which all hairs of a head break, every one loaded alike",
  basis = "break stress times cross-section times number of hairs", unit = "N", kind = "number", room = "strength",
  sources = { "textbook-ch6", "headcount1977" }, known = "published",
  leaves_out = "Equal loading is an ideal: hairs differ in length and slack, and the scalp gives way first.",
  arguments = {
    { name = "type", unit = "1", kind = "choice", choices = { "Asian", "Caucasian", "African-American" },
      text = "type of hair" },
    { name = "number_of_hairs", unit = "1", kind = "number", text = "hairs on the head", valid_low = 1e5, valid_high = 1.75e5,
      domain_low = 1, domain_high = 1e6 },
  },
  evaluate = function(given)
    local area, area_limit, stress, stress_limit = table.unpack(TYPES[given.type])
    local force = given.number_of_hairs * area * stress * 1e-6
    local spread = force * math.sqrt((area_limit / area) ^ 2 + (stress_limit / stress) ^ 2)
    return { force, force - spread, force + spread }
  end,
}

return {
  {
    number = "7",
    words = "Wet hair can be stretched by 30 % and recovers without harm.",
    about = {
      name = "work_lost_by_stretching", text = "loss of the work of stretching after 30 % in water and a day of rest",
      basis = "over the work of the first stretching", unit = "1", kind = "fraction", room = "strength",
      sources = { "relaxed-fibres-nature" }, known = "published", hair = "animal fibres",
      leaves_out = "Relaxed animal fibres in water at 22 °C; two ways of holding were read, nothing in between.",
      arguments = { { name = "holding", unit = "1", kind = "choice", choices = { "let go at once", "held for a day" }, phrase = "when *",
        text = "how long the strand is held" } },
      evaluate = function(given)
        return AFTER_HOLDING[given.holding]
      end,
    },
    says = "at most 5 %", expected = "conditional",
    rivals = {
      { key = "relaxed-fibres-nature", value = "3 %", known = "published", text = "3 % lost when let go at once" },
      { key = "relaxed-fibres-nature", value = "45.5 %", known = "published", text = "45.5 % lost when held for a day" },
    },
    note = "Only when the stretch is brief.",
  },
  {
    number = "8a",
    words = "Dry hair stretches by a fifth.",
    about = stretch, says = "at least 20 %", at = { humidity = "65 %" }, expected = "conditional",
    rivals = {
      { key = "wortmann2022", place = "group N0", low = "45.8 %", high = "48 %", known = "published",
        text = "break at 46.9 % in room air" },
      { key = "menkart1966", place = "Table I, p. 772", value = "2.1 %", known = "published",
        text = "yield stress over modulus at 65 % humidity (114 MPa, 5.39 GPa): yielding starts near 2 %" },
    },
    note = "It mixes what a strand survives with what leaves it unchanged: say which limit is meant.",
  },
  {
    number = "8b",
    words = "Wet hair stretches by 40 to 50 %.",
    about = stretch, says = "at least 40 %", at = { humidity = "100 %" }, expected = "conditional",
    rivals = {
      { key = "wortmann2022", place = "group N0", low = "56.5 %", high = "58.5 %", known = "published",
        text = "break at 57.5 % in water" },
      { key = "beard1983", place = "p. 376", value = "2.8 %", known = "published",
        text = "yield stress over modulus in water (43 MPa, 1.55 GPa): yielding starts near 3 %" },
      { key = "christian2011", place = "Table III, p. 25", low = "64 %", high = "67 %", known = "published",
        text = "break at 64 to 67 % at 80 % humidity" },
    },
    note = "As a limit before the break it is modest; as a safe stretch it is far too much.",
  },
  {
    number = "9a",
    words = "Wet hair is up to 30 % weaker.",
    quantity = "break_stress", says = "up to 30 % lower", at = { humidity = "100 %" }, than = { humidity = "65 %" },
    expected = "supported",
    note = "Right in sign, and as a ceiling that bleached hair comes near; laboratories read 7 to 21 % on untreated hair. The "
      .. "effect on endurance is far larger (9b).",
  },
  {
    number = "9b",
    words = "In humid air hair endures 30 % fewer pulls.",
    quantity = "fatigue_life", says = "30 % lower", at = { humidity = "90 %", stress = "103 MPa" },
    than = { humidity = "60 %" }, expected = "refuted",
    sources = {
      { side = "against", key = "evans-fatigue", place = "Table 9, p. 278", known = "published",
        text = "35800 pulls at 60 %, 1100 at 90 % humidity, at 0.010 to 0.011 gf/um2" },
    },
    note = "Endurance falls by a factor of about thirty, not by tens of percent: this is the headline of number 9.",
  },
  {
    number = "10a",
    words = "One hair holds 100 g.",
    quantity = "break_force", says = "at least 100 gf", at = { area = "1800..7500 um2" }, expected = "conditional",
    note = "Thick strands do; 70 to 100 gf is typical. 95 of 100 strands lie between 1800 um2 (Caucasian) and 7500 um2 "
      .. "(Asian hair).",
  },
  {
    number = "10b",
    words = "A head of hair holds 12 tonnes.",
    about = head, says = "at least 12000 kgf", expected = "conditional",
    rivals = {
      { key = "christian2011", place = "Table III", low = "7500 kgf", high = "12600 kgf", known = "published",
        text = "0.0204 gf/um2 on strands of 3669 to 4121 um2 is 75 to 84 gf a hair; times 100000 to 150000 hairs" },
    },
    note = "Only if every hair carries the same load, which none does.",
  },
  {
    number = "10c",
    words = "A head of hair holds 23 tonnes.",
    about = head, says = "at least 23000 kgf", expected = "doubtful",
    rivals = {
      { key = "christian2011", place = "Table III", low = "7500 kgf", high = "12600 kgf", known = "published",
        text = "0.0204 gf/um2 on strands of 3669 to 4121 um2 is 75 to 84 gf a hair; times 100000 to 150000 hairs" },
      { key = "hair-databank", value = "23700 kgf", known = "second-hand",
        text = "strands of 85.9 um in the mean, at 229 MPa (wortmann2022) and 175000 hairs: the largest of everything" },
    },
    note = "It takes the thickest published strands, the highest count and equal loading at once.",
  },
  {
    number = "11",
    words = "Hydrogen, salt and disulfide bonds each give a third of the strength of hair.",
    quantity = "strength_share_per_bond", says = "one third", expected = "no model",
    sources = {
      { side = "against", key = "wortmann2002", place = "p. 227", known = "published",
        text = "perming leaves the dry peak of calorimetry and moves the wet one: what a bond does depends on water" },
    },
    note = "No measurement of such shares was found. Offer what a treatment costs instead: by modulus, by yield, by break.",
  },
}
