-- Claim book: water, swelling, rinsing.

local ROOM = "15..35 degC"

return {
  {
    number = "1",
    words = "In water, hair swells by up to 20 % in diameter.",
    quantity = "diameter_swelling", says = "20 %", at = { regain = "31.28 %" }, expected = "conditional",
    rivals = {
      { key = "breuer1980", low = "8 %", high = "9 %", known = "published", text = "8 to 9 % from 0 to 93 % humidity" },
    },
    note = "Say 14 % from bone dry to water (sources: 12 to 16 %), and less from room humidity. Length grows by 2 to "
      .. "2.5 %, volume by a third.",
  },
  {
    number = "2",
    words = "Hair takes up its own weight of water.",
    quantity = "regain", says = "100 %", at = { humidity = "100 %" }, expected = "refuted",
    rivals = {
      { key = "bionumbers-116477", value = "32 %", known = "second-hand", text = "up to 32 % by weight" },
    },
    note = "This is water inside the fibre. Water that clings to strands and between them is another matter and can "
      .. "weigh more than the hair.",
  },
  {
    number = "3a",
    words = "Hair takes up 30 % water.",
    quantity = "regain", says = "30 %", at = { humidity = "100 %", temperature = ROOM }, set = "virgin",
    expected = "conditional",
    rivals = {
      { key = "bionumbers-116477", value = "32 %", known = "second-hand", text = "up to 32 % by weight, basis not told" },
    },
    note = "Nothing can be said before the basis is known: 30 % of the wet mass would be 43 % of the dry mass.",
  },
  {
    number = "3b",
    words = "Hair takes up about 30 % of its dry weight in water.",
    quantity = "regain", says = "30 % of its dry mass", at = { humidity = "100 %", temperature = ROOM }, set = "virgin",
    expected = "supported",
    note = "At equilibrium with saturated air or water.",
  },
  {
    number = "4a",
    words = "Hair contains 3 to 10 % water.",
    quantity = "regain", says = "3..10 %", at = { temperature = ROOM }, expected = "conditional",
    sources = {
      { side = "against", key = "evans-textbook", place = "p. 336", known = "published",
        text = "water content follows the humidity, so there is no single answer" },
    },
    note = "Name the humidity.",
  },
  {
    number = "4b",
    words = "Hair contains 17 % water.",
    quantity = "regain", says = "17 %", at = { temperature = ROOM }, expected = "conditional",
    note = "Name the humidity.",
  },
  {
    number = "4c",
    words = "Fully hydrated hair contains 8 to 15 % water.",
    quantity = "regain", says = "8..15 %", at = { humidity = "100 %", temperature = ROOM }, expected = "refuted",
    note = "8 to 15 % is hair in ordinary room air.",
  },
  {
    number = "5",
    words = "In hot humid weather hair takes up more water than in cool weather of the same humidity.",
    quantity = "regain", says = "rises with temperature", expected = "refuted",
    sources = {
      { side = "against", key = "evans-textbook", place = "p. 338", known = "published",
        text = "slightly less at 40 than at 25 °C (wool, after bull1944)" },
    },
    note = "At equal relative humidity. Hot air of the same relative humidity holds more water, the fibre does not.",
  },
  {
    number = "6",
    words = "From dry to humid, hair lengthens by about 3 %.",
    quantity = "length_swelling", says = "3 %", at = { regain = "31.28 %", from_regain = "0 %" },
    expected = "supported",
    rivals = {
      { key = "evans-textbook", place = "p. 353", value = "2.5 %", known = "published", text = "about 2.5 % to 100 % humidity" },
    },
    note = "Right in order of magnitude, at the upper end: 2 to 2.5 % is what most sources give.",
  },
  {
    number = "23a",
    words = "Hot rinsing opens hair and cold rinsing closes it.",
    quantity = "saturation_regain", says = "rises with temperature", expected = "refuted",
    sources = {
      { side = "against", key = "evans-textbook", place = "p. 338", known = "published",
        text = "slightly less uptake at 40 than at 25 °C (wool, after bull1944)" },
    },
    note = "This is the swelling of the whole fibre, for which no support was found. Nothing is known here about the "
      .. "angle of the scales.",
  },
  {
    number = "23b",
    words = "Acid shrinks and alkali swells hair.",
    quantity = "ph_swelling", says = "rises with pH", expected = "conditional",
    sources = {
      { side = "against", key = "valkobarnett1952", known = "second-hand", text = "swelling constant from pH 2 to 9, intact hair" },
      { side = "for", key = "malinauskyte2020", known = "published",
        text = "bleached hair: less water and a smaller diameter at pH 3, more at pH 10" },
    },
    note = "Flat from pH 2 to 9 on intact hair; damaged hair does respond. pH also acts on charge and friction.",
  },
  {
    number = "23c",
    words = "Acid seals the scales and alkali lifts them.",
    quantity = "cuticle_opening", says = "alkali lifts the scales", expected = "no model",
    note = "The angle of the scales against pH or temperature was not measured in anything read here.",
  },
  {
    number = "26",
    words = "Repeated wetting and drying weakens hair.",
    quantity = "hygral_fatigue", says = "repeated wetting and drying weakens hair", expected = "no model",
    sources = {
      { side = "for", key = "gamezgarcia1998", known = "published",
        text = "lengthwise cracks of the cuticle under cycles of wetting and blow-drying" },
    },
    note = "The program counts swelling cycles and their strain; what they cost was not measured.",
  },
  {
    number = "27",
    words = "Hair that sinks in water within minutes is porous.",
    quantity = "float_test", says = "hair that sinks within 2 to 4 min is porous", expected = "no model",
    note = "Oil on the surface and wetting decide; how long single fibres take to fill with water does not sort hair this way.",
  },
}
