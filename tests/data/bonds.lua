-- Populations of bonds and chemistry of disulfide. `within` is half a unit of the last printed digit
-- unless `why` says otherwise. Role "calibration": the row is where a parameter came from.

---- populations

source{ key = "tate1993", place = "p. 358, cysteic acid of bleached hair; shares worked out over 1500 umol/g",
        known = "published" }

row{ "half_cystine_oxidised", cysteic_acid = "0.650 mol/kg", expect = "41 %", within = "3 %",
     why = "half-cystine is 1407 or 1512 umol/g, untreated hair has 25 to 40 umol/g" }
row{ "half_cystine_oxidised", cysteic_acid = "0.400 mol/kg", expect = "25 %", within = "1.5 %",
     why = "the same spread" }
row{ "half_cystine_oxidised", cysteic_acid = "0.200 mol/kg", expect = "11 %", within = "1 %",
     why = "the same spread" }

source{ key = "robbinskelly1969", place = "p. 562, half-cystine 1407 and 1512 umol/g", known = "published" }

row{ "disulfide_content", low = "0.685 mol/kg", high = "0.745 mol/kg", role = "calibration",
     why = "half of either value, less up to 40 umol/g of cysteic acid" }

source{ key = "reed1947", place = "p. 119, cystine 15.6 % (15.1 to 16.1) by weight", known = "published" }

row{ "disulfide_content", expect = "0.649 mol/kg", within = "0.021 mol/kg",
     disagrees = "an assay of the 1940s, 10 % lower; the two values of 1969 are taken" }

source{ key = "relaxer2013", place = "p. 293, cystine 9.1 (6.7 to 11.9) g per 100 g", known = "published" }

row{ "disulfide_content", expect = "0.379 mol/kg", within = "0.11 mol/kg",
     why = "half of the lowest and of the highest of a few heads",
     disagrees = "a few heads of African-type hair; the two values of 1969 are taken" }

source{ key = "feughelman1982", place = "p. 392, 30 % of amide hydrogen not exchanged", known = "published" }

row{ "hydrogen_bonds_protected", expect = "2.64 mol/kg", within = "0.005 mol/kg", role = "calibration",
     why = "30 % of 8.8 mol/kg, the latter from memory" }
row{ "hydrogen_bonds_accessible", expect = "6.16 mol/kg", within = "0.005 mol/kg", role = "calibration",
     why = "70 % of 8.8 mol/kg" }

source{ key = "steinhardt1940", place = "abstract: acid and base binding of wool at 0 degC", known = "published" }

row{ "carboxylate", ph = 7, set = "wool", expect = "0.82 mol/kg", within = "0.02 mol/kg",
     role = "calibration", why = "largest binding of acid: the groups charged in neutral water" }
row{ "charged_base", ph = 7, set = "wool", low = "0.78 mol/kg", high = "0.85 mol/kg",
     why = "largest binding of base is above 0.78; not far above, as the curve ends there" }

source{ key = "peters1949", place = "abstract: midpoint at internal pH 4.15 to 4.35", known = "published" }

row{ "carboxylate", ph = 4.15, set = "wool", low = "0.33 mol/kg", high = "0.41 mol/kg",
     role = "calibration", why = "not yet half of 0.82 at the lower midpoint, a third at the least" }
row{ "carboxylate", ph = 4.35, set = "wool", low = "0.41 mol/kg", high = "0.49 mol/kg",
     role = "calibration", why = "more than half at the upper midpoint" }

source{ key = "basicsites1968", place = "abstract: free basic sites by acid dye", known = "published" }

row{ "charged_base", ph = 4, low = "0.67 mol/kg", high = "0.77 mol/kg", role = "calibration",
     why = "20 heads" }
row{ "charged_base", ph = 4, set = "bleached", low = "0.30 mol/kg", high = "0.63 mol/kg",
     role = "calibration", why = "bleached hair" }

---- chemistry

source{ key = "wickett-ch5", place = "p. 167, half-life 123 s in 1 mol/l at pH 9.4, 23 degC", known = "published" }

row{ "disulfide_reduced", concentration = "1000 mol/m3", duration = "123 s", expect = "50 %",
     within = "0.3 %", role = "calibration", why = "half a second of 123 s" }
row{ "disulfide_reduced", concentration = "1000 mol/m3", duration = "5 min", expect = "81.56 %",
     within = "0.3 %", role = "calibration", why = "first order from the half-life" }

source{ key = "reed1947", place = "p. 119, Table 3: cystine of reduced hair over 15.6 %, during reoxidation",
        known = "published" }

row{ "disulfide_reoxidised", duration = "15 min", expect = "85 %", within = "5 %", role = "calibration",
     why = "salon average 85 %, single values 70 to 100 %" }
row{ "disulfide_reoxidised", duration = "9 min", expect = "79 %", within = "5 %",
     why = "the same scatter" }
row{ "disulfide_reoxidised", duration = "6 min", expect = "77 %", within = "5 %",
     disagrees = "the printed share is of all cystine and holds the bonds that were never opened" }
row{ "disulfide_reoxidised", duration = "3 min", expect = "66 %", within = "5 %",
     disagrees = "the printed share is of all cystine and holds the bonds that were never opened" }

source{ key = "jones1960", place = "abstract: 24.4 kcal/mol; the ratio is arithmetic", known = "published" }

row{ "lanthionine_rate_ratio", temperature = "100 degC", reference_temperature = "50 degC", expect = 163,
     within = 2.5, why = "half a unit of 24.4 kcal/mol is 1 % of the ratio" }

source{ key = "suzuta", place = "abstract: cysteic acid linear in the square root of time", known = "published" }

row{ "disulfide_bleached", duration = "40 min", reference_duration = "10 min", reference_loss = "10 %",
     expect = "20 %", within = "1e-9 %", why = "the form itself" }

source{ key = "edman1961", place = "quoted in gillece2021, p. 540: up to 45 % of cystine", known = "second-hand" }

row{ "disulfide_bleached", duration = "10 h", reference_duration = "10 min", reference_loss = "10 %",
     fails = "range" }

source{ key = "wortmann2002", place = "Table I, p. 222: 19.3, 18.0, 15.6, 13.7 J/g after 0 to 3 bleachings",
        known = "published" }

row{ "helix_after_bleaching", treatments = 1, expect = "93.3 %", within = "3 %",
     disagrees = "a first-order line through the four points cannot meet the slow first step" }
row{ "helix_after_bleaching", treatments = 2, expect = "80.8 %", within = "3 %", role = "calibration",
     why = "each enthalpy is good to 0.41 J/g" }
row{ "helix_after_bleaching", treatments = 3, expect = "71.0 %", within = "3 %", role = "calibration",
     why = "each enthalpy is good to 0.41 J/g" }

source{ key = "wortmann2002", place = "p. 225: ln(100 helix) = 4.55 - 0.069 n, at n = 5", known = "published" }

row{ "helix_after_bleaching", treatments = 5, expect = "67 %", within = "4 %",
     disagrees = "the printed line loses 0.069 per treatment, the printed points 0.117; the points are used" }

---- without a model

source{ key = "own-judgement", place = "questions that no measurement answers", known = "assumed" }

row{ "disulfide_lost_by_heat", fails = "no-model" }
row{ "strength_share_per_bond", fails = "no-model" }
row{ "hygral_fatigue", fails = "no-model" }
row{ "float_test", fails = "no-model" }
row{ "cuticle_opening", fails = "no-model" }
