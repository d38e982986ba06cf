-- Rates of loss by heat. `within` is half a unit of the last printed digit unless `why` says otherwise.
-- Role "calibration": the row is where a parameter came from.

source{ key = "wortmann2012", place = "abstract: 263 kJ/mol wet; the ratio is arithmetic", known = "published" }

row{ "helix_rate_wet", temperature = "200 degC", ratio_to = { temperature = "180 degC" }, expect = 19.12,
     within = 0.005 }

source{ key = "thermochimica2018", place = "abstract: half-life of the enthalpy 20 to 25 min at 200 degC",
        known = "published" }

row{ "helix_rate_ironing", temperature = "200 degC", low = "4.62e-4 1/s", high = "5.78e-4 1/s",
     role = "calibration", why = "ln 2 over 25 and 20 min" }
row{ "helix_rate", temperature = "200 degC", regain = "0 %", low = "4.62e-4 1/s", high = "5.78e-4 1/s",
     role = "calibration", why = "the dry end of the law is this rate" }
row{ "helix_rate_dry", temperature = "200 degC", low = "4.62e-4 1/s", high = "5.78e-4 1/s",
     why = "ln 2 over 25 and 20 min",
     disagrees = "dry calorimetry carried down to 200 degC is 16 times slower than hair in an iron" }

source{ key = "mcmullen1998", place = "synopsis: 0.03 to 0.12 1/min over 130 to 164 degC, 6.6 kcal/mol",
        known = "published" }

row{ "tryptophan_rate", temperature = "164 degC", ratio_to = { temperature = "130 degC" }, expect = 1.898,
     within = 0.002, why = "arithmetic from 6.6 kcal/mol" }
row{ "tryptophan_rate", temperature = "130 degC", low = "5e-4 1/s", high = "2e-3 1/s", role = "calibration",
     why = "the printed range" }
row{ "tryptophan_rate", temperature = "164 degC", low = "5e-4 1/s", high = "2e-3 1/s", role = "calibration",
     why = "the printed range" }
