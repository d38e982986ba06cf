-- Heat capacity and conductivity of the fibre.

source{ key = "baxter1946", place = "abstract: 4.62e-4 and 5.32e-4 in cgs", known = "published" }

row{ "conductivity", regain = "0.7 %", expect = "0.193 W/(m K)", within = "0.0005 W/(m K)", role = "calibration" }
row{ "conductivity", regain = "10.7 %", expect = "0.223 W/(m K)", within = "0.0005 W/(m K)", role = "calibration" }

source{ key = "watts-clothing-code", place = "functions.py, constants of wool", known = "published" }

row{ "conductivity", regain = 0, expect = "0.20 W/(m K)", within = "0.01 W/(m K)",
     why = "a rounded constant of a model, one unit of the digit" }
row{ "heat_capacity", regain = 0, temperature = "25 degC", expect = "1360 J/(kg K)", within = "15 J/(kg K)",
     why = "three digits; temperature not stated, 4 J/(kg K) for each kelvin" }

source{ key = "haly1965", place = "as tabulated in shin-triboelectric, Table II", known = "second-hand" }

row{ "heat_capacity", regain = 0, temperature = "25 degC", expect = "1.37 kJ/(kg K)", within = "0.005 kJ/(kg K)",
     role = "calibration" }

source{ key = "hair-cp-dsc", place = "dry hair, 25 to 150 degC", known = "from memory" }

row{ "heat_capacity", regain = 0, temperature = "25 degC", expect = "1.3 kJ/(kg K)", within = "0.2 kJ/(kg K)",
     why = "15 %: scatter of the sources" }
row{ "heat_capacity", regain = 0, temperature = "150 degC", expect = "1.7 kJ/(kg K)", within = "0.26 kJ/(kg K)",
     why = "15 %: scatter of the sources" }
