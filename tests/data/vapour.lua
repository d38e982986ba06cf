-- Vapour pressure in the fibre: where liquid water is present it must be that of plain water. `within`
-- is half a unit of the last printed digit unless `why` says otherwise.

source{ key = "iapws-sr1-86", place = "check values of the release", known = "published" }

row{ "internal_vapour_pressure", temperature = "373.1243 K", regain = "31 %", expect = "101325 Pa",
     within = "0.5 Pa" }
row{ "internal_gauge_pressure", temperature = "373.1243 K", regain = "31 %", expect = "0 Pa",
     within = "0.5 Pa" }
row{ "internal_boiling_temperature", regain = "31 %", expect = "373.1243 K", within = "0.00005 K" }
row{ "internal_boiling_temperature", regain = "33 %", expect = "373.1243 K", within = "0.00005 K" }
row{ "internal_boiling_temperature", regain = "31 %", branch = "desorption", expect = "373.1243 K",
     within = "0.00005 K" }
row{ "internal_boiling_temperature", regain = "31 %", set = "wool", expect = "373.1243 K",
     within = "0.00005 K" }

source{ key = "iapws-r7-97", place = "Table 36", known = "published" }

row{ "internal_boiling_temperature", regain = "31 %", pressure = "0.1 MPa", expect = "372.755919 K",
     within = "0.005 K", why = "two formulations: 0.018 % of pressure is 5 mK" }
row{ "internal_boiling_temperature", regain = "31 %", pressure = "1 MPa", expect = "453.035632 K",
     within = "0.008 K", why = "two formulations: 0.018 % of pressure is 8 mK" }

source{ key = "steam-tables", place = "table of the saturation line by temperature", known = "published" }

row{ "internal_vapour_pressure", temperature = "90 degC", regain = "31 %", expect = "0.07018 MPa",
     within = "0.000005 MPa" }
row{ "internal_vapour_pressure", temperature = "200 degC", regain = "31 %", expect = "1554.9 kPa",
     within = "0.33 kPa", why = "half a unit of the last digit and 0.018 % between formulations" }

-- What the fibre cannot do.
source{ key = "clausius-clapeyron", place = "dry solid, or more water than fits", known = "from memory" }

row{ "internal_vapour_pressure", temperature = "90 degC", regain = "0 %", expect = "0 Pa", within = "0 Pa",
     why = "a dry solid has no vapour" }
row{ "internal_boiling_temperature", regain = "0 %", fails = "range" }
row{ "internal_boiling_temperature", regain = "60 %", fails = "range" }
row{ "internal_vapour_pressure", temperature = "90 degC", regain = "60 %", fails = "range" }
row{ "internal_vapour_pressure", temperature = "300 degC", regain = "5 %", fails = "range" }
