-- What is left after a time in a constant state. Role "calibration": not independent of a parameter.

source{ key = "thermochimica2018", place = "abstract: 100 to 800 s in all at 200 degC, half-life 20 to 25 min",
        known = "published" }

row{ "helix_remaining", temperature = "200 degC", regain = "0 %", duration = "800 s", low = "63 %",
     high = "69.1 %", role = "calibration", why = "both half-lives" }
row{ "helix_remaining", temperature = "200 degC", regain = "0 %", duration = "5 s", low = "99.71 %",
     high = "99.77 %", role = "calibration", why = "one contact of 5 s, both half-lives" }
row{ "helix_remaining", temperature = "200 degC", regain = "0 %", duration = "250 s", low = "86.5 %",
     high = "89.1 %", role = "calibration", why = "fifty contacts of 5 s, both half-lives" }

source{ key = "dussaud2013", place = "p. 125: 3 cycles at 154 degC cost 40 % of the enthalpy; seconds per "
          .. "cycle are not readable", known = "published" }

row{ "helix_remaining", temperature = "154 degC", regain = "32.5 %", duration = "9 s", expect = "60 %",
     within = "10 %", why = "3 moist seconds per cycle are an inference, and so is the spread" }
row{ "helix_remaining", temperature = "154 degC", regain = "32.5 %", duration = "21 s", expect = "60 %",
     within = "10 %",
     disagrees = "7 moist seconds per cycle fit the rival frequency, not this one" }
row{ "helix_remaining", temperature = "154 degC", regain = "2 %", duration = "21 s", expect = "60 %",
     within = "10 %", disagrees = "the ironing law of dry hair is far too slow: the loss happens while moist" }
row{ "helix_remaining", temperature = "122 degC", regain = "30 %", duration = "70 s", low = "95 %",
     high = "100 %", why = "10 cycles of 7 s left the curl; 5 % is taken as the least that shows" }

source{ key = "mcmullen1998-ii", place = "p. 249: 40 and 65 % lost after 10 min at 132 and 152 degC",
        known = "published" }

row{ "tryptophan_remaining", temperature = "132 degC", duration = "10 min", expect = "60 %", within = "2.5 %",
     why = "both printed numbers are multiples of 5 %",
     disagrees = "the central law loses 36 %; heads of hair differ by a factor of 2 in the rate" }
row{ "tryptophan_remaining", temperature = "152 degC", duration = "10 min", expect = "35 %", within = "2.5 %",
     why = "both printed numbers are multiples of 5 %",
     disagrees = "the central law loses 48 %; this pair alone would ask for 52 kJ/mol, not 27.6" }

source{ key = "mcmullen1998", place = "p. 233: 65 to 90 % left after 3 min at 125 to 165 degC (axis)",
        known = "published" }

row{ "tryptophan_remaining", temperature = "130 degC", duration = "3 min", low = "65 %", high = "90 %",
     why = "span of the axis" }
row{ "tryptophan_remaining", temperature = "164 degC", duration = "3 min", low = "65 %", high = "90 %",
     why = "span of the axis" }
