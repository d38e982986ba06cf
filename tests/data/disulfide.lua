-- Reduction, bleaching, calorimetry of bleached hair. `within` is half a unit of the last printed digit
-- unless `why` says otherwise. Role "calibration": the row is where a parameter came from.

---- reduction

source{ key = "wickett-ch5", place = "p. 167, half-life 123 s in 1 mol/l at pH 9.4, 23 degC", known = "published" }

row{ "thiol_reduction_rate", concentration = "1000 mol/m3", expect = "5.635e-3 1/s", within = "0.03e-3 1/s",
     role = "calibration", why = "ln 2 over 123 s, good to half a second" }
row{ "reduction_moving_boundary", concentration = "1000 mol/m3", duration = "123 s", expect = "50 %",
     within = "0.5 %", role = "calibration", why = "the diffusivity is set by it, to two digits" }

source{ key = "reduction-rate2015", place = "p. 43, 0.6 mol/l at pH 8.6: sodium salt 0.036 1/min, ammonium salt 0.13 1/min",
        known = "published" }

row{ "thiol_reduction_rate", concentration = "600 mol/m3", ph = 8.6, expect = "6.0e-4 1/s",
     within = "0.09e-4 1/s", why = "half a unit of 0.036 1/min; temperature not noted" }
row{ "thiol_reduction_rate", concentration = "600 mol/m3", ph = 8.6, expect = "2.17e-3 1/s",
     within = "0.09e-3 1/s", why = "half a unit of 0.13 1/min",
     disagrees = "the ammonium salt was 3.6 times faster than the sodium salt; one law cannot meet both" }

source{ key = "reduction-kinetics2021", place = "p. 117: t/t_half = -ln(1 - f)/0.693", known = "published" }

row{ "reduced_time_uniform", share = "50 %", expect = 1, within = 0.001, why = "0.693 has three digits" }
row{ "reduced_time_uniform", share = "90 %", expect = 3.3226, within = 0.002, why = "2.302585/0.693" }

source{ key = "own-judgement", place = "front in a cylinder: (f + (1 - f) ln(1 - f)) over its value at one half, arithmetic",
        known = "assumed" }

row{ "reduced_time_front", share = "50 %", expect = 1, within = "1e-9" }
row{ "reduced_time_front", share = "100 %", expect = 6.518, within = 0.0005, why = "1/0.15343" }

---- bleaching

source{ key = "tate1993", place = "p. 358, cysteic acid of bleached hair 200 to 400 umol/g", known = "published" }

row{ "cysteic_acid", duration = "1 h", low = "0.2 mol/kg", high = "0.4 mol/kg",
     why = "the reference bleach, whose 20 % come from elsewhere" }
row{ "cysteic_acid", duration = "1 h", law = "steady", low = "0.2 mol/kg", high = "0.4 mol/kg",
     why = "the same by the other law" }

source{ key = "bleach-extent-secondary", place = "15 to 25 % of disulfide in ordinary bleaching", known = "second-hand" }

row{ "half_cystine_bleached", duration = "1 h", low = "15 %", high = "25 %", role = "calibration",
     why = "its middle is the reference loss" }

source{ key = "suzuta", place = "abstract: cysteic acid linear in the square root of time", known = "published" }

row{ "half_cystine_bleached", duration = "60 min", ratio_to = { duration = "15 min" }, expect = 2, within = "1e-9",
     why = "the form itself" }
row{ "half_cystine_bleached", duration = "60 min", law = "steady", ratio_to = { duration = "15 min", law = "steady" },
     expect = 2, within = 0.1, why = "a bent line would be seen",
     disagrees = "the other law of time: nearly four times as much; the two series do not agree" }

source{ key = "edman1961", place = "quoted in gillece2021, p. 540: up to 45 % of cystine", known = "second-hand" }

row{ "half_cystine_bleached", duration = "4 h", low = "15 %", high = "45 %",
     why = "four hours at 6 % count as aggressive" }
row{ "half_cystine_bleached", duration = "4 h", law = "steady", low = "15 %", high = "45 %",
     why = "the same",
     disagrees = "by the other law of time it would be 59 %, more than was ever read" }
row{ "half_cystine_bleached", duration = "48 h", fails = "range" }

---- calorimetry: against time

source{ key = "gillece2021", place = "Table IV, p. 538: peak after 0 to 240 min, 2 K/min; each good to 0.3 to 0.7 K",
        known = "published" }

row{ "bleached_peak", duration = "240 min", minus = { duration = "0 s" }, expect = "-6.7 K", within = "0.9 K",
     role = "calibration", why = "spread of both peaks" }
row{ "bleached_peak", duration = "240 min", law = "root", minus = { duration = "0 s", law = "root" },
     expect = "-6.7 K", within = "0.9 K", role = "calibration", why = "spread of both peaks" }
row{ "bleached_peak", duration = "0 s", expect = "141.3 degC", within = "0.7 K",
     disagrees = "the straight line through nine points starts 0.8 K low" }
row{ "bleached_peak", duration = "0 s", law = "root", expect = "141.3 degC", within = "0.7 K", role = "calibration",
     why = "spread of a peak" }
row{ "bleached_peak", duration = "60 min", expect = "139.4 degC", within = "0.7 K", role = "calibration",
     why = "spread of a peak" }
row{ "bleached_peak", duration = "60 min", law = "root", expect = "139.4 degC", within = "0.7 K",
     disagrees = "the root law through nine points is 0.9 K low here" }
row{ "bleached_peak", duration = "120 min", expect = "137.1 degC", within = "0.7 K", role = "calibration",
     why = "spread of a peak" }
row{ "bleached_peak", duration = "180 min", expect = "136.3 degC", within = "0.7 K", role = "calibration",
     why = "spread of a peak" }
row{ "bleached_peak", duration = "15 min", expect = "139.7 degC", within = "0.7 K", role = "calibration",
     why = "spread of a peak" }
row{ "bleached_peak", duration = "30 min", expect = "139.5 degC", within = "0.7 K", role = "calibration",
     why = "spread of a peak" }
row{ "bleached_peak", duration = "45 min", expect = "139.2 degC", within = "0.7 K", role = "calibration",
     why = "spread of a peak" }
row{ "bleached_peak", duration = "90 min", expect = "138.3 degC", within = "0.7 K", role = "calibration",
     why = "spread of a peak" }
row{ "bleached_enthalpy", duration = "0 min", expect = "19.8 J/g", within = "0.7 J/g",
     disagrees = "the straight line through nine points starts 1.2 J/g high" }
row{ "bleached_enthalpy", duration = "15 min", expect = "19.8 J/g", within = "0.7 J/g", role = "calibration",
     why = "an enthalpy is good to about 0.5 J/g" }
row{ "bleached_enthalpy", duration = "30 min", expect = "19.7 J/g", within = "0.7 J/g", role = "calibration",
     why = "an enthalpy is good to about 0.5 J/g" }
row{ "bleached_enthalpy", duration = "45 min", expect = "19.8 J/g", within = "0.7 J/g", role = "calibration",
     why = "an enthalpy is good to about 0.5 J/g" }
row{ "bleached_enthalpy", duration = "90 min", expect = "18.9 J/g", within = "0.7 J/g",
     disagrees = "the enthalpies hardly fall for an hour and a half, which no law here does" }
row{ "bleached_enthalpy", duration = "120 min", expect = "17.6 J/g", within = "0.7 J/g",
     disagrees = "neither law bends down as the enthalpies do after two hours" }
row{ "bleached_enthalpy", duration = "180 min", expect = "15.8 J/g", within = "0.7 J/g",
     disagrees = "neither law bends down as the enthalpies do after two hours" }
row{ "bleached_enthalpy", duration = "60 min", expect = "19.5 J/g", within = "0.7 J/g", role = "calibration",
     why = "an enthalpy is good to about 0.5 J/g" }
row{ "bleached_enthalpy", duration = "240 min", expect = "10.7 J/g", within = "0.7 J/g",
     disagrees = "neither law bends down as the enthalpies do after two hours" }
row{ "bleached_enthalpy", duration = "240 min", law = "root", expect = "10.7 J/g", within = "0.7 J/g",
     disagrees = "neither law bends down as the enthalpies do after two hours" }

source{ key = "own-fit", place = "least squares through the nine printed points, worked out apart from this code",
        known = "calibrated" }

row{ "bleached_peak_misfit", expect = "0.383 K", within = "0.002 K", role = "calibration", why = "rounding of the parameters" }
row{ "bleached_peak_misfit", law = "root", expect = "0.469 K", within = "0.002 K", role = "calibration",
     why = "rounding of the parameters" }
row{ "bleached_enthalpy_misfit", expect = "1.001 J/g", within = "0.002 J/g", role = "calibration",
     why = "rounding of the parameters" }
row{ "bleached_enthalpy_misfit", law = "root", expect = "1.668 J/g", within = "0.002 J/g", role = "calibration",
     why = "rounding of the parameters" }

---- calorimetry: against number

source{ key = "wortmann2002", place = "Table I, p. 222: 158.3, 157.8, 152.6, 145.3 degC and 19.3, 18.0, 15.6, 13.7 J/g after 0 to 3 bleachings",
        known = "published" }

row{ "bleached_peak_by_number", treatments = 0, expect = "158.3 degC", within = "2.1 K", role = "calibration",
     why = "the line misses by up to 2.1 K" }
row{ "bleached_peak_by_number", treatments = 1, expect = "157.8 degC", within = "0.5 K",
     disagrees = "a straight line cannot meet the slow first step" }
row{ "bleached_peak_by_number", treatments = 3, expect = "145.3 degC", within = "2.1 K", role = "calibration",
     why = "the line misses by up to 2.1 K" }
row{ "bleached_enthalpy_by_number", treatments = 2, expect = "15.6 J/g", within = "0.41 J/g", role = "calibration",
     why = "spread of the first point" }
row{ "bleached_enthalpy_by_number", treatments = 3, expect = "13.7 J/g", within = "0.41 J/g", role = "calibration",
     why = "spread of the first point" }
row{ "bleached_enthalpy_by_number", treatments = 3, law = "printed", expect = "13.7 J/g", within = "0.41 J/g",
     disagrees = "the line printed with the points loses half as much per bleaching" }
row{ "enthalpy_from_peak", temperature = "145.3 degC", expect = "13.7 J/g", within = "0.7 J/g",
     why = "the misfit of a line through those four points is 0.6 J/g" }
row{ "enthalpy_from_peak", temperature = "152.6 degC", expect = "15.6 J/g", within = "0.7 J/g",
     disagrees = "the printed line lies 1.2 J/g above this point" }
row{ "enthalpy_from_peak", temperature = "100 degC", fails = "range" }
