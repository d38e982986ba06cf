-- Ionic groups in a bath. `within` is half a unit of the last printed digit unless `why` says otherwise.
-- Role "calibration": the row is where a parameter came from.

---- titration of wool

source{ key = "steinhardt1940", place = "abstract: hydrochloric acid and potassium hydroxide at 0 degC",
        known = "published" }

row{ "acid_bound", ph = 1, ionic_strength = "100 mol/m3", regain = "33 %", set = "wool",
     expect = "0.82 mol/kg", within = "0.02 mol/kg", role = "calibration",
     why = "largest binding of acid; the groups come from it" }
row{ "acid_bound", ph = 1, ionic_strength = "1000 mol/m3", regain = "33 %", set = "wool",
     expect = "0.82 mol/kg", within = "0.02 mol/kg", why = "independent of ionic strength" }
row{ "acid_bound", ph = 5, regain = "33 %", set = "wool", low = "-0.02 mol/kg", high = "0.02 mol/kg",
     why = "no appreciable uptake from pH 5 to 10 without salt; the bound is a judgement" }
row{ "acid_bound", ph = 7, regain = "33 %", set = "wool", low = "-0.02 mol/kg", high = "0.02 mol/kg",
     why = "no appreciable uptake from pH 5 to 10 without salt; the bound is a judgement" }
row{ "acid_bound", ph = 10, regain = "33 %", set = "wool", low = "-0.02 mol/kg", high = "0.02 mol/kg",
     why = "no appreciable uptake from pH 5 to 10 without salt; the bound is a judgement" }
row{ "isoionic_point", set = "wool", expect = 6.4, within = 0.2, role = "calibration",
     why = "zero point near pH 6.4 with salt; the basic groups come from it" }

source{ key = "peters1949", place = "abstract: half of the acid bound at internal pH 4.15 to 4.35",
        known = "published" }

row{ "internal_ph", ph = 2.09, regain = "33 %", set = "wool", low = 4.15, high = 4.35,
     why = "the bath without salt that binds 0.41 mol/kg in this model" }
row{ "internal_ph", ph = 3.16, ionic_strength = "100 mol/m3", regain = "33 %", set = "wool",
     low = 4.15, high = 4.35, why = "the bath with salt that binds 0.41 mol/kg in this model" }

---- hair

source{ key = "isoionic-secondary", place = "isoionic point of hair", known = "second-hand" }

row{ "isoionic_point", expect = 5.6, within = 0.05,
     disagrees = "carboxyl groups by analogy with wool and basic groups by dye leave 0.08 mol/kg more acid than base" }

source{ key = "valkobarnett1952", place = "quoted in evans-textbook, p. 353: swelling constant from pH 2 to 9",
        known = "second-hand" }

row{ "ph_swelling", ph = 3, high = "0.25 %", low = "0 %",
     why = "no number is printed; a quarter of one per cent of volume is below any swelling measurement" }
row{ "ph_swelling", ph = 7, high = "0.25 %", low = "0 %", why = "the same" }
row{ "ph_swelling", ph = 9, high = "0.25 %", low = "0 %", why = "the same" }
row{ "ph_swelling", ph = 2, high = "0.25 %", low = "0 %", why = "the same",
     disagrees = "without salt the titration of the carboxyl groups begins below pH 3, so this law rises early" }

source{ key = "menkart1966", place = "p. 772-774 (scan damaged): volume to pH 1, hair about 3.5 %, wool about 6 %",
        known = "published" }

row{ "ph_swelling", ph = 1, expect = "3.5 %", within = "0.3 %", role = "calibration",
     why = "the stiffness is set by it, to two digits" }
row{ "ph_swelling", ph = 1, regain = "33 %", set = "wool", expect = "6 %", within = "0.5 %",
     role = "calibration", why = "likewise for wool" }

source{ key = "malinauskyte2020", place = "abstract: bleached hair is thicker at pH 10 than at pH 3", known = "published" }

row{ "ph_swelling", ph = 10, regain = "40 %", set = "bleached",
     minus = { ph = 3, regain = "40 %" }, low = "0.5 %", high = "100 %",
     why = "a direction; half a per cent of volume would be seen" }

---- refusals

source{ key = "own-judgement", place = "what has no meaning is refused", known = "assumed" }

row{ "internal_ph", ph = 15, fails = "range" }
row{ "internal_ph", ph = -1, fails = "range" }
row{ "acid_bound", ph = 7, ionic_strength = "-1 mol/m3", fails = "range" }
row{ "acid_bound", ph = 7, ionic_strength = "9000 mol/m3", fails = "range" }

---- hydrogen bonds

source{ key = "wickett-ch5", place = "p. 162: bending set at 40 % humidity", known = "published" }

row{ "water_set", duration = "30 min", expect = "58 %", within = "0.5 %", role = "calibration" }
row{ "water_set", duration = "8 h", expect = "52 %", within = "0.5 %", role = "calibration" }

source{ key = "own-judgement", place = "half of the accessible bonds at the glass transition", known = "assumed" }

row{ "hydrogen_bonds_mobile", regain = "10 %", temperature = "77.7 degC", expect = "3.08 mol/kg",
     within = "0.08 mol/kg", why = "half of 70 % of 8.8 mol/kg, at the glass transition by Fox (78 degC)" }
