-- Water on its saturation line: published values. `within` is half a unit of the last printed digit
-- unless `why` says otherwise.

---- the release behind the equations

source{ key = "iapws-sr1-86", place = "check values of the release", known = "published" }

row{ "saturation_pressure", temperature = "273.16 K", expect = "611.657 Pa", within = "0.0005 Pa" }
row{ "saturation_pressure", temperature = "373.1243 K", expect = "101325 Pa", within = "0.5 Pa" }
row{ "saturation_pressure", temperature = "647.096 K", expect = "22.064 MPa", within = "0.0005 MPa" }
row{ "saturation_pressure_slope", temperature = "273.16 K", expect = "44.436693 Pa/K", within = "5e-7 Pa/K" }
row{ "saturation_pressure_slope", temperature = "373.1243 K", expect = "3616 Pa/K", within = "0.5 Pa/K" }
row{ "saturation_pressure_slope", temperature = "647.096 K", expect = "268000 Pa/K", within = "50 Pa/K" }
row{ "liquid_density", temperature = "273.16 K", expect = "999.789 kg/m3", within = "0.0005 kg/m3" }
row{ "liquid_density", temperature = "373.1243 K", expect = "958.365 kg/m3", within = "0.0005 kg/m3" }
row{ "liquid_density", temperature = "647.096 K", expect = "322 kg/m3", within = "0.5 kg/m3" }
row{ "vapour_density", temperature = "273.16 K", expect = "0.00485426 kg/m3", within = "5e-9 kg/m3" }
row{ "vapour_density", temperature = "373.1243 K", expect = "0.597586 kg/m3", within = "5e-7 kg/m3" }
row{ "vapour_density", temperature = "647.096 K", expect = "322 kg/m3", within = "0.5 kg/m3" }
row{ "saturation_temperature", pressure = "101325 Pa", expect = "373.1243 K", within = "0.00005 K" }
row{ "boiling_temperature", pressure = "1 atm", expect = "373.1243 K", within = "0.00005 K" }
row{ "latent_heat", temperature = "373.1243 K", expect = "2256.65 kJ/kg", within = "0.06 kJ/kg",
     why = "h'' - h' = 2675.7 - 419.05 kJ/kg: half a unit of each printed digit" }
row{ "latent_heat", temperature = "273.16 K", expect = "2500.5 kJ/kg", within = "0.05 kJ/kg" }
row{ "latent_heat", temperature = "647.096 K", expect = "0 kJ/kg", within = "0.05 kJ/kg" }
row{ "steam_expansion_ratio", temperature = "373.1243 K", expect = 1603.728, within = 0.0025,
     why = "958.365 / 0.597586; half a unit of each printed digit" }
row{ "steam_expansion_ratio", temperature = "273.16 K", expect = 205961.1, within = 0.35,
     why = "999.789 / 0.00485426; half a unit of each printed digit" }

---- the second, independent formulation

source{ key = "iapws-r7-97", place = "Table 35", known = "published" }

row{ "region4_pressure", temperature = "300 K", expect = "3536.58941 Pa", within = "5e-6 Pa" }
row{ "region4_pressure", temperature = "500 K", expect = "2.63889776 MPa", within = "5e-9 MPa" }
row{ "region4_pressure", temperature = "600 K", expect = "12.3443146 MPa", within = "5e-8 MPa" }
row{ "saturation_pressure", temperature = "300 K", expect = "3536.58941 Pa", within = "0.177 Pa",
     why = "two formulations: they differ by less than 0.005 % near room temperature" }
row{ "saturation_pressure", temperature = "500 K", expect = "2.63889776 MPa", within = "0.00048 MPa",
     why = "two formulations: they differ by up to 0.018 %" }
row{ "saturation_pressure", temperature = "600 K", expect = "12.3443146 MPa", within = "0.0022 MPa",
     why = "two formulations: they differ by up to 0.018 %" }

source{ key = "iapws-r7-97", place = "Table 36", known = "published" }

row{ "region4_temperature", pressure = "0.1 MPa", expect = "372.755919 K", within = "5e-7 K" }
row{ "region4_temperature", pressure = "1 MPa", expect = "453.035632 K", within = "5e-7 K" }
row{ "region4_temperature", pressure = "10 MPa", expect = "584.149488 K", within = "5e-7 K" }
row{ "saturation_temperature", pressure = "0.1 MPa", expect = "372.755919 K", within = "0.005 K",
     why = "two formulations: 0.018 % of the pressure is 0.005 K here" }
row{ "saturation_temperature", pressure = "1 MPa", expect = "453.035632 K", within = "0.009 K",
     why = "two formulations: 0.018 % of the pressure is 0.009 K here" }
row{ "saturation_temperature", pressure = "10 MPa", expect = "584.149488 K", within = "0.013 K",
     why = "two formulations: 0.018 % of the pressure is 0.013 K here" }

---- printed steam tables

source{ key = "steam-tables", place = "university steam table", known = "published" }

row{ "saturation_pressure", temperature = "90 degC", expect = "0.07018 MPa", within = "5e-6 MPa" }
row{ "saturation_pressure", temperature = "200 degC", expect = "1554.9 kPa", within = "0.05 kPa" }
row{ "latent_heat", temperature = "90 degC", expect = "2282.5 kJ/kg", within = "0.05 kJ/kg",
     disagrees = "0.006 % high: Clapeyron's equation with the densities of SR1-86" }
row{ "latent_heat", temperature = "50 degC", expect = "2382.0 kJ/kg", within = "0.05 kJ/kg" }
row{ "latent_heat", temperature = "25 degC", expect = "2441.7 kJ/kg", within = "0.05 kJ/kg",
     disagrees = "0.008 % high: Clapeyron's equation with the densities of SR1-86" }

source{ key = "steam-tables", place = "older table", known = "published" }

row{ "saturation_pressure", temperature = "120 degC", expect = "0.19853 MPa", within = "5e-6 MPa",
     disagrees = "the table is older than the present formulations and 0.07 % low" }
row{ "saturation_pressure", temperature = "150 degC", expect = "0.4758 MPa", within = "5e-5 MPa",
     disagrees = "the table is older than the present formulations and 0.07 % low" }
row{ "saturation_pressure", temperature = "180 degC", expect = "1.0021 MPa", within = "5e-5 MPa",
     disagrees = "the table is older than the present formulations and 0.06 % low" }

source{ key = "ashrae2017", place = "chapter 1, Table 3", known = "published" }

row{ "saturation_pressure", temperature = "5 degC", expect = "872.6 Pa", within = "0.16 Pa",
     why = "the table rests on another formulation: they differ by up to 0.018 %" }
row{ "saturation_pressure", temperature = "25 degC", expect = "3169.7 Pa", within = "0.57 Pa",
     why = "the table rests on another formulation: they differ by up to 0.018 %" }
row{ "saturation_pressure", temperature = "50 degC", expect = "12351.3 Pa", within = "2.2 Pa",
     why = "the table rests on another formulation: they differ by up to 0.018 %" }
row{ "saturation_pressure", temperature = "100 degC", expect = "101418.0 Pa", within = "18 Pa",
     why = "the table rests on another formulation: they differ by up to 0.018 %" }
row{ "saturation_pressure", temperature = "150 degC", expect = "476101.4 Pa", within = "86 Pa",
     why = "the table rests on another formulation: they differ by up to 0.018 %" }

---- a kernel of popcorn obeys the same law

source{ key = "hoseney1983", place = "abstract", known = "published" }

row{ "saturation_pressure", temperature = "177 degC", expect = "930.8 kPa", within = "14 kPa",
     why = "135 psi: half a degree is 11 kPa, half a psi 3.4 kPa" }

source{ key = "virot2015", place = "abstract and news", known = "second-hand" }

row{ "saturation_pressure", temperature = "180 degC", expect = "10 bar", within = "0.1 bar",
     why = "half a degree is 0.11 bar" }

---- surface tension

source{ key = "iapws-r1-76", place = "table of the release", known = "from memory" }

row{ "surface_tension", temperature = "25 degC", expect = "71.97 mN/m", within = "0.01 mN/m",
     why = "one unit of the last digit: the value is remembered" }
row{ "surface_tension", temperature = "100 degC", expect = "58.91 mN/m", within = "0.01 mN/m",
     why = "one unit of the last digit: the value is remembered" }

---- no answer outside the release

source{ key = "iapws-sr1-86", place = "range of the release", known = "published" }

row{ "saturation_pressure", temperature = "0.01 degC", expect = "611.657 Pa", within = "0.0005 Pa" }
row{ "saturation_pressure", temperature = "100 K", fails = "range" }
row{ "saturation_pressure", temperature = "-5 degC", fails = "range" }
row{ "saturation_pressure", temperature = "273.15 K", fails = "range" }
row{ "saturation_pressure", temperature = "647.1 K", fails = "range" }
row{ "saturation_pressure_slope", temperature = "-10 degC", fails = "range" }
row{ "liquid_density", temperature = "400 degC", fails = "range" }
row{ "vapour_density", temperature = "400 degC", fails = "range" }
row{ "latent_heat", temperature = "-1 degC", fails = "range" }
row{ "surface_tension", temperature = "400 degC", fails = "range" }
row{ "steam_expansion_ratio", temperature = "-1 degC", fails = "range" }
row{ "boiling_temperature", pressure = "500 Pa", fails = "range" }
row{ "boiling_temperature", pressure = "300 bar", fails = "range" }
row{ "saturation_temperature", pressure = "0 Pa", fails = "range" }
row{ "boiling_temperature_at_activity", humidity = "0 %", fails = "range" }
row{ "boiling_temperature_at_activity", humidity = "105 %", fails = "range" }
row{ "boiling_temperature_at_activity", humidity = "0.4 %", fails = "range" }

source{ key = "iapws-r7-97", place = "range of region 4", known = "published" }

row{ "region4_pressure", temperature = "273 K", fails = "range" }
row{ "region4_temperature", pressure = "600 Pa", fails = "range" }
