-- Glass transition and melting of the helices.

---- glass transition

source{ key = "wortmann2006", place = "abstract", known = "published" }

row{ "glass_transition", regain = 0, expect = "144 degC", within = "0.1 K", role = "calibration" }

source{ key = "wortmann1984", place = "as quoted in wortmann2006", known = "published" }

row{ "glass_transition", regain = 0, set = "wool", expect = "174 degC", within = "0.1 K", role = "calibration" }

source{ key = "wool-xray1977", place = "abstract, wool in vacuum", known = "published" }

row{ "glass_transition", regain = 0, set = "wool", low = "160 degC", high = "175 degC" }
row{ "denaturation_temperature", regain = 0, set = "wool", low = "215 degC", high = "235 degC",
     why = "two steps" }

source{ key = "harper2011", place = "p. 145: below 0 degC when wet", known = "published" }

row{ "glass_transition", regain = "32 %", expect = "0 degC", within = "10 K",
     why = "spread of the glass transition, about 10 K" }

---- melting, wet

source{ key = "gillece2021", place = "Table IV, p. 538: 141.3 +- 0.6 degC at 2 K/min", known = "published" }

row{ "denaturation_peak", heating_rate = "2 K/min", state = "wet", expect = "141.3 degC", within = "0.6 K",
     why = "standard deviation", role = "calibration" }

source{ key = "wortmann2002", place = "p. 222: 158.3 (bleach series) and 155 degC (perm series); 10 K/min from memory",
        known = "published" }

row{ "denaturation_peak", heating_rate = "10 K/min", state = "wet", low = "155 degC", high = "158.3 degC",
     disagrees = "the other laboratory's peak at 2 K/min and the energy give 150 degC at 10 K/min" }

source{ key = "textbook-ch11", place = "p. 385", known = "published" }

row{ "denaturation_peak", heating_rate = "10 K/min", state = "wet", low = "150 degC", high = "160 degC",
     why = "wet hair in general" }

source{ key = "wortmann1998", place = "abstract: 138 (ortho) and 144 degC (para)", known = "published" }

row{ "denaturation_temperature", regain = "33 %", set = "wool", low = "138 degC", high = "144 degC",
     role = "calibration" }

---- melting, dry

source{ key = "milczarek1992", place = "abstract", known = "published" }

row{ "denaturation_temperature", regain = 0, expect = "233 degC", within = "0.5 K", role = "calibration" }
row{ "denaturation_peak", heating_rate = "10 K/min", state = "dry", expect = "233 degC", within = "0.5 K",
     role = "calibration" }

source{ key = "lima2019", place = "abstract", known = "published" }

row{ "denaturation_temperature", regain = 0, expect = "237 degC", within = "5 K", why = "spread of the dry end" }

source{ key = "pighair2017", place = "abstract, pig hair, double peak", known = "published" }

row{ "denaturation_temperature", regain = 0, low = "229 degC", high = "239 degC" }

source{ key = "gillece2021", place = "p. 542: largest heat capacity on heating in an open pan", known = "published" }

row{ "denaturation_temperature", regain = 0, set = "bleached", expect = "234 degC", within = "6 K",
     why = "after 240 min of bleaching; spread of the dry end" }
row{ "denaturation_temperature", regain = 0, expect = "223 degC", within = "5 K",
     why = "untreated; spread of the dry end",
     disagrees = "the same hair 10 K below other laboratories; only the shift of 11 K on bleaching is used" }

---- melting, in between

source{ key = "dussaud2013", place = "p. 130: above 150 degC at about 10 % moisture", known = "published" }

row{ "denaturation_temperature", regain = "11 %", low = "150 degC", high = "233 degC",
     why = "a lower bound; the upper one is dry hair" }
