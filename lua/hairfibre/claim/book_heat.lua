-- Claim book: hot tools, steam, drying.

local MOIST = { name = "moist_time", unit = "s", kind = "number", text = "time for which the hot fibre keeps its water",
  valid_low = 1, valid_high = 5, domain_low = 0, domain_high = 60 }

local function regain_from(low, high)
  return { name = "regain", unit = "1", kind = "fraction", text = "water in the fibre, by dry mass", valid_low = low,
    valid_high = high, domain_low = 0, domain_high = 1 }
end

-- Temperature at which a void at a weak interface grows to what a microscope shows while the fibre keeps
-- its water: growth rate times that time meets the onset.
local voids = {
  name = "void_onset", text = "temperature at which voids at weak interfaces set in",
  basis = "fibre temperature, growth as seen under a microscope", unit = "K", kind = "temperature", room = "vapour",
  sources = { "gamezgarcia2011", "navon1998" }, known = "assumed", cautions = { heat = true },
  parameters = { "void.viscosity", "void.threshold", "void.onset", "sorption.scale" }, points = 4,
  leaves_out = "No viscosity of hot wet keratin was ever measured; a fibre under a tool dries in a second or two. The "
    .. "temperature of a tool or of dryer air is not that of the fibre.",
  arguments = { regain_from(0.03, 0.31), MOIST },
  evaluate = function(given, hf, set)
    local onset = (set or hf.parameters()):get("void.onset")
    local low, high = 373.2, 523.1
    local function growth(temperature)
      local pressure = hf.internal_gauge_pressure { temperature = temperature, regain = given.regain, set = set }
      return given.moist_time * hf.void_growth_rate { gauge_pressure = pressure, temperature = temperature,
        regain = given.regain, set = set }
    end
    if growth(high) < onset then
      return nil, "no voids set in up to 250 degC", "range"
    end
    for _ = 1, 18 do
      local middle = (low + high) / 2
      if growth(middle) < onset then
        low = middle
      else
        high = middle
      end
    end
    return (low + high) / 2
  end,
}

-- Share of the steam of the first second under plates that was inside the fibre.
local steam = {
  name = "steam_from_inside", text = "share of the first second's steam that comes from inside the fibre",
  basis = "share of the water lost under plates of 180 °C", unit = "1", kind = "fraction", room = "treatment",
  sources = { "own-judgement", "contact-conductance" }, known = "assumed", cautions = { heat = true },
  parameters = { "treatment.plates" }, points = 5,
  leaves_out = "Sound. Where the water sits between strands.",
  arguments = { { name = "free_water", unit = "1", kind = "fraction", text = "free water on the fibre, by dry mass",
    valid_low = 0.05, valid_high = 0.5, domain_low = 0, domain_high = 5 } },
  evaluate = function(given, hf, set)
    local r = hf.treat(hf.fibre { regain = 0.31, film = given.free_water, set = set },
      { hf.plates { temperature = "180 degC", duration = "1 s" } }, { lumped = true })
    local last = #r.time
    return 1 - given.free_water / r.water_lost[last], r.extrapolated and "extrapolated" or nil,
      "the isotherm above 150 degC is extrapolated"
  end,
}

-- Share that one channel loses in fifty passes of 5 s at 185 degC.
local fifty_passes = {
  name = "lost_in_fifty_passes", text = "share lost in fifty passes of 5 s at 185 °C",
  basis = "one damage channel by itself, no share of strength", unit = "1", kind = "fraction", room = "bonds",
  sources = { "mcmullen1998", "gandhi2018" }, known = "assumed", parameters = { "rate.tryptophan" },
  cautions = { heat = true },
  leaves_out = "Tensile: no change was found, by authors employed by an appliance maker. Tryptophan: taken at 164 °C, the "
    .. "end of its evidence, so at least this is lost. Fibre at plate temperature.",
  arguments = { { name = "channel", unit = "1", kind = "choice", choices = { "tensile values", "tryptophan" },
    phrase = "for *", text = "what is looked at" } },
  evaluate = function(given, hf, set)
    if given.channel == "tensile values" then
      return { 0, 0, 0.05 }
    end
    return 1 - hf.tryptophan_remaining { temperature = "164 degC", duration = "250 s", set = set }
  end,
}

-- Share of a loss that a coat avoids, as published for three channels.
local protectant = {
  name = "loss_avoided", text = "share of the loss by heat that a protective coat avoids",
  basis = "each channel by itself, no share of strength", unit = "1", kind = "fraction", room = "bonds",
  sources = { "mcmullen1998-ii", "gamezgarcia2011", "christian2011" }, known = "published", cautions = { heat = true },
  leaves_out = "Tryptophan: 1 % polymer, 132 and 152 °C, 4 to 12 min. Voids: one polymer, onset moved above 220 °C. Break "
    .. "stress: a spray with water against one with ethanol.",
  arguments = { { name = "channel", unit = "1", kind = "choice", choices = { "tryptophan", "voids below 220 °C",
    "break stress after a spray with water" }, phrase = "for *", text = "what is looked at" } },
  evaluate = function(given, hf, set)
    if given.channel == "tryptophan" then
      return { 0.15, 0.10, 0.20 }
    elseif given.channel == "voids below 220 °C" then
      return { 1, 1, 1 }
    end
    local y = 1 - (1 - hf.spray_break_stress_left { spray = "water", set = set })
      / (1 - hf.spray_break_stress_left { spray = "ethanol", set = set })
    return { y, y, y }
  end,
}

-- One wet strand left in room air, against the same under a dryer of 60 degC.
local air_drying = {
  name = "air_over_dryer", text = "air-drying over a dryer of 60 °C, for one strand",
  basis = "ratio for one strand out of water", unit = "1", kind = "number", room = "treatment",
  sources = { "own-judgement", "churchillbernstein1977" }, known = "assumed", cautions = { heat = true },
  leaves_out = "Tresses dry far slower. Membranes of the fibre: one study found them changed only in an air-dried tress.",
  arguments = { { name = "measure", unit = "1", kind = "choice", choices = { "time above 25 % regain",
    "warming above room temperature" }, phrase = "by *", text = "what is compared" } },
  evaluate = function(given, hf, set)
    local function run(step)
      local r = hf.treat(hf.fibre { regain = 0.31, film = 0.3, set = set }, { step }, { lumped = true })
      local wet, hottest = 0, 0
      for i, time in ipairs(r.time) do
        wet = r.regain[i] > 0.25 and time or wet
        hottest = math.max(hottest, r.temperature[i] - 293.15)
      end
      return { ["time above 25 % regain"] = wet, ["warming above room temperature"] = hottest }
    end
    local air = run(hf.air { temperature = "20 degC", humidity = "65 %", duration = "10 min" })
    local dryer = run(hf.dryer { temperature = "60 degC", duration = "10 min" })
    local y = air[given.measure] / dryer[given.measure]
    return { y, y, y }
  end,
}

return {
  {
    number = "12",
    words = "Bubbles form in hair from 100 °C on, because water boils there.",
    about = voids, says = "100 degC", expected = "doubtful",
    rivals = {
      { key = "iapws-sr1-86", value = "100 degC", known = "published",
        text = "water boils under one atmosphere: where a pressure inside a soaked fibre begins" },
      { key = "gamezgarcia2011", place = "p. 115", value = "150 degC", known = "published", text = "pores seen from about 150 °C" },
      { key = "detwiler-news1993", low = "175 degC", high = "215 degC", known = "second-hand",
        text = "all hair bubbled above 175 to 215 °C" },
    },
    note = "100 °C is a lower bound, not a threshold: the overpressure is nil there, and at regain 15 % water starts to "
      .. "push only from 103 °C.",
  },
  {
    number = "13a",
    words = "Tongs at 125 °C make bubbles in damp hair within a minute.",
    about = voids, says = "125 degC", at = { regain = "15..31 %" }, expected = "conditional",
    rivals = {
      { key = "gummer1994", value = "125 degC", known = "second-hand", text = "125 °C for 1 min, credited in two ways" },
      { key = "gamezgarcia2011", place = "p. 115", value = "150 degC", known = "published", text = "pores seen from about 150 °C" },
    },
    note = "Only for soaked hair that keeps its water for seconds. Give every threshold with wet or dry and with its time.",
  },
  {
    number = "13b",
    words = "A dryer needs 175 °C to make bubbles in hair.",
    about = voids, says = "175 degC", expected = "conditional",
    rivals = {
      { key = "detwiler-news1993", low = "175 degC", high = "215 degC", known = "second-hand",
        text = "all hair bubbled above 175 to 215 °C" },
      { key = "gamezgarcia2011", place = "p. 115", value = "150 degC", known = "published", text = "pores seen from about 150 °C" },
    },
    note = "Right for hair of room humidity; wet hair needs less.",
  },
  {
    number = "13c",
    words = "Bubbles need 215 °C.",
    about = voids, says = "215 degC", expected = "conditional",
    rivals = {
      { key = "detwiler-news1993", low = "175 degC", high = "215 degC", known = "second-hand",
        text = "all hair bubbled above 175 to 215 °C" },
    },
    note = "Right for nearly dry hair only. Values near 300 °C are of dryer outlets, not of hair.",
  },
  {
    number = "15",
    words = "A sizzle or visible steam shows that the inside of the hair is boiling.",
    about = steam, says = "at least 90 %", expected = "doubtful",
    sources = {
      { side = "for", key = "christian2011", known = "published", text = "a spray with water added damage to medulla and cortex" },
    },
    note = "The first steam is the film on the surface; a sound does not tell where the water was.",
  },
  {
    number = "16",
    words = "Heat on wet hair costs up to 30 % of its strength.",
    quantity = "spray_break_stress_left", says = "at least 70 %", at = { spray = "water" }, expected = "supported",
    sources = {
      { side = "for", key = "christian2011", place = "Table III", known = "published",
        text = "break stress 25 % lower with a spray of water, 11 % lower with one of ethanol, at 80 % humidity" },
    },
    note = "In magnitude, for that protocol: water-based spray, then an iron. After a spray of ethanol it "
      .. "was 11 to 12 %.",
  },
  {
    number = "17",
    words = "Above 300 °F (149 °C) the helices of keratin turn into sheets.",
    quantity = "denaturation_temperature", says = "300 degF", expected = "conditional",
    sources = {
      { side = "for", key = "gillece2021", place = "Table IV", known = "published",
        text = "wet hair melts at 141 °C at 2 K/min; another laboratory read 158 °C (wortmann2002)" },
      { side = "against", key = "thermochimica2018", known = "published",
        text = "at 200 °C under an iron half of the helices are gone after 20 to 25 min: a rate, not a switch" },
    },
    note = "A rate, not a switch; near a threshold only when wet, dry hair melts at 233 °C. That sheets form was not read.",
  },
  {
    number = "18a",
    words = "The structure of hair changes from 60 °C on.",
    quantity = "helix_remaining", says = "at most 99 %", at = { temperature = "60 degC", regain = "30 %", duration = "10 min" },
    expected = "doubtful",
    sources = {
      { side = "against", key = "wortmann2021", known = "published", text = "no transition at 60 °C in set hair" },
      { side = "for", key = "lee2011", known = "published",
        text = "dryer air of 47, 61 and 95 °C: more damage to the surface, none to the cortex" },
    },
    note = "Doubtful for protein; effects on the surface are real.",
  },
  {
    number = "18b",
    words = "By 150 °C the change is irreversible.",
    quantity = "denaturation_temperature", says = "at most 150 degC", expected = "conditional",
    note = "For wet hair; dry helices hold to 233 °C, though slower channels run at 150 °C as well.",
  },
  {
    number = "19a",
    words = "The drier the hair, the higher its melting temperature.",
    quantity = "denaturation_temperature", says = "falls with regain", at = { regain = "0..25 %" }, expected = "supported",
    note = "As a curve against water, which levels off in wet hair. Name the species, the method and the heating rate.",
  },
  {
    number = "19b",
    words = "At 23 % moisture keratin melts at 155 °C.",
    quantity = "denaturation_temperature", says = "155 degC", at = { regain = "29.87 %" }, expected = "supported",
    rivals = {
      { key = "caoleroy2005", value = "155 degC", known = "from memory", text = "155 °C at 23 % moisture" },
    },
    note = "23 % of the wet mass is a regain of 30 %.",
  },
  {
    number = "19c",
    words = "Dry keratin melts at 205 °C.",
    quantity = "denaturation_temperature", says = "205 degC", at = { regain = "0 %" }, expected = "doubtful",
    rivals = {
      { key = "caoleroy2005", value = "205 degC", known = "from memory", text = "205 °C dry, from a curve against water" },
    },
    note = "Peaks read for dry hair are 223 to 237 °C.",
  },
  {
    number = "19d",
    words = "Dry keratin melts at 215 to 235 °C.",
    quantity = "denaturation_temperature", says = "215..235 degC", at = { regain = "0 %" }, expected = "supported",
    rivals = {
      { key = "wool-xray1977", low = "215 degC", high = "235 degC", known = "published", text = "wool in vacuum, by X-rays" },
    },
    note = "The pair of values is of wool in vacuum.",
  },
  {
    number = "20",
    words = "185 °C (365 °F) is a safe setting.",
    about = fifty_passes, says = "at most 5 %", expected = "conditional",
    rivals = {
      { key = "gandhi2018", low = "0 %", high = "5 %", known = "published",
        text = "50 passes at 185 °C: no tensile or calorimetric change; damage at 220 °C" },
      { key = "mcmullen1998-ii", place = "p. 249", value = "65 %", known = "published",
        text = "65 % of the tryptophan lost in 10 min at 152 °C" },
    },
    note = "No tensile change found is not the same as no damage: tryptophan goes from 130 °C on, and pores are seen from "
      .. "150 °C. Dry hair softens at 144 °C.",
  },
  {
    number = "24",
    words = "A heat protectant prevents the damage, or halves it.",
    about = protectant, says = "at least 50 %", expected = "conditional",
    sources = {
      { side = "for", key = "gamezgarcia2011", place = "p. 119", known = "published", text = "a polymer moved the onset of voids above 220 °C" },
      { side = "against", key = "mcmullen1998-ii", known = "published", text = "polymers cut the loss of tryptophan by 10 to 20 %" },
    },
    note = "Tens of percent in one channel, not immunity; a spray with water added structural damage.",
  },
  {
    number = "25",
    words = "Air-drying harms hair more than a dryer kept moving at 15 cm.",
    about = air_drying, says = "at least 1.0", expected = "conditional",
    sources = {
      { side = "for", key = "lee2011", known = "published",
        text = "membranes changed in the air-dried tress only; 30 cycles, a single study" },
      { side = "against", key = "lee2011", known = "published", text = "more damage to the surface the hotter the air" },
    },
    note = "The program gives time wet and temperature, not damage to membranes: longer wet in air, hotter under a dryer.",
  },
  {
    number = "28",
    words = "One or two passes of an iron at 200 °C leave the helices of keratin alone.",
    quantity = "helix_remaining", says = "at least 99 %", at = { temperature = "200 degC", regain = "0 %", duration = "5..10 s" },
    expected = "supported",
    note = "For this one channel, with the fibre at plate temperature and dry: 0.3 % per contact of 5 s, 11 to 13 % in fifty.",
  },
}
