-- Diffusivity of water. Times of response are checked with the transport model, not here.

source{ key = "ams-hygrometer", place = "entry hair hygrometer: 90 % of a change in about 3 min", known = "published" }

row{ "diffusivity", regain = "12 %", temperature = "20 degC", low = "1.15e-8 cm2/s", high = "9.2e-8 cm2/s",
     why = "radius 35 to 50 um, cylinder with constant diffusivity: 2.3e-8 to 4.6e-8, and a factor of two for about",
     note = "the law was chosen to meet this", role = "calibration" }
row{ "diffusivity_exponential", regain = "12 %", temperature = "20 degC", low = "1.15e-8 cm2/s", high = "9.2e-8 cm2/s",
     why = "as above", disagrees = "the exponential law is too slow at middle humidity; kept as a rival" }

source{ key = "yamamoto2002", place = "abstract: largest diameter after about 2 min in water", known = "published" }

row{ "diffusivity", regain = "31 %", temperature = "25 degC", low = "3.4e-8 cm2/s", high = "7.4e-8 cm2/s",
     why = "radius 35 um, 90 to 99 % of the change in 120 s; temperature not stated",
     note = "the wet end was chosen to meet this", role = "calibration" }

source{ key = "nail-permeation2000", place = "pp. 372-374, labelled water through wet fingernail", known = "published" }

row{ "diffusivity", regain = "31 %", temperature = "25 degC", low = "0 cm2/s", high = "5.1e-7 cm2/s",
     why = "flow over content; an upper bound, nail swells more and a label moves faster" }
row{ "diffusivity", regain = "31 %", temperature = "25 degC", set = "bleached", low = "0 cm2/s", high = "5.1e-7 cm2/s",
     why = "flow over content; an upper bound, nail swells more and a label moves faster" }

source{ key = "own-judgement", place = "ranges of the model", known = "assumed" }

row{ "diffusivity", regain = "12 %", temperature = "260 degC", fails = "range" }
row{ "diffusivity", regain = "-1 %", temperature = "20 degC", fails = "range" }
