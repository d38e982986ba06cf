/*
 * water: the water substance on its saturation line, moist air, and heat and vapour transfer
 * between air and a thin fibre.
 *
 * All functions depend on their arguments only. Every NAME_e returns a status and writes *out only
 * when it answers (HF_OK or HF_EXTRAPOLATED); HF_EINVAL for a NULL or non-finite argument,
 * HF_ERANGE outside the range given with each function. Where two ranges are given the inner one is
 * what evidence supports and HF_EXTRAPOLATE opens the outer one. Every NAME is the strict form: the
 * number, or NaN on failure. Source keys are those of docs/sources.bib.
 *
 * Nothing here answers below the triple point of water (273.16 K): no ice, no supercooled water.
 */
#ifndef HAIRFIBRE_WATER_H
#define HAIRFIBRE_WATER_H

#include <hairfibre/base.h>

#ifdef __cplusplus
extern "C" {
#endif

/* ---- saturation line ------------------------------------------------------------------------- */

/** Saturation pressure over plane liquid water, Pa.
 *  temperature 273.16..647.096 K.
 *  Source: iapws-sr1-86, pressure equation; reproduces its three check points. Measured: within
 *  0.018 % of IF97 region 4 over 25..250 degC, within 0.008 % of IAPWS-95 up to 370 degC. */
HF_API hf_status hf_saturation_pressure_e(double temperature, unsigned flags,
                                          double *out) HF_MUST_CHECK;
HF_API double hf_saturation_pressure(double temperature);

/** Saturation pressure of n temperatures; temperature and out may be the same array. Stops at the
 *  first failure, whose index goes to *bad (may be NULL; n when all were answered), and returns the
 *  worst status. */
HF_API hf_status hf_saturation_pressure_v(size_t n, const double *temperature, unsigned flags,
                                          double *out, size_t *bad) HF_MUST_CHECK;

/** Slope dp/dT of the saturation pressure, Pa/K: analytic derivative of the equation above.
 *  temperature 273.16..647.096 K. Source: iapws-sr1-86. */
HF_API hf_status hf_saturation_pressure_slope_e(double temperature, unsigned flags,
                                                double *out) HF_MUST_CHECK;
HF_API double hf_saturation_pressure_slope(double temperature);

/** Saturation temperature of a pressure, K: inverse of hf_saturation_pressure to rounding.
 *  pressure 611.657 Pa..22.064 MPa. Source: iapws-sr1-86. */
HF_API hf_status hf_saturation_temperature_e(double pressure, unsigned flags,
                                             double *out) HF_MUST_CHECK;
HF_API double hf_saturation_temperature(double pressure);

/** Boiling temperature of pure water at an ambient pressure, K: the saturation temperature.
 *  pressure 611.657 Pa..22.064 MPa. Source: iapws-sr1-86. */
HF_API hf_status hf_boiling_temperature_e(double pressure, unsigned flags,
                                          double *out) HF_MUST_CHECK;
HF_API double hf_boiling_temperature(double pressure);

/** Temperature at which water of a fixed activity reaches an ambient pressure, K: the solution of
 *  humidity * psat(T) = pressure. Water in a fibre does not keep its activity while it is heated:
 *  hf_internal_boiling_temperature follows the isotherm instead.
 *  humidity above 0 to 1 (water activity), pressure 611.657 Pa..22.064 MPa; HF_ERANGE when
 *  pressure / humidity passes the critical pressure. Source: iapws-sr1-86. */
HF_API hf_status hf_boiling_temperature_at_activity_e(double humidity, double pressure,
                                                      unsigned flags, double *out) HF_MUST_CHECK;
HF_API double hf_boiling_temperature_at_activity(double humidity, double pressure);

/** Saturation pressure by IF97 region 4, Pa: an independent check of hf_saturation_pressure.
 *  temperature 273.15..647.096 K. Source: iapws-r7-97, equation 30; reproduces Table 35. */
HF_API hf_status hf_region4_pressure_e(double temperature, unsigned flags,
                                       double *out) HF_MUST_CHECK;
HF_API double hf_region4_pressure(double temperature);

/** Saturation temperature by IF97 region 4, K: closed form, exact inverse of hf_region4_pressure.
 *  pressure 611.213 Pa..22.064 MPa. Source: iapws-r7-97, equation 31; reproduces Table 36. */
HF_API hf_status hf_region4_temperature_e(double pressure, unsigned flags,
                                          double *out) HF_MUST_CHECK;
HF_API double hf_region4_temperature(double pressure);

/** Density of saturated liquid water, kg/m3.
 *  temperature 273.16..647.096 K. Source: iapws-sr1-86. Measured: within 0.012 % of IAPWS-95 up to
 *  250 degC, 0.05 % up to 350 degC. */
HF_API hf_status hf_liquid_density_e(double temperature, unsigned flags, double *out) HF_MUST_CHECK;
HF_API double hf_liquid_density(double temperature);

/** Density of saturated steam, kg/m3.
 *  temperature 273.16..647.096 K. Source: iapws-sr1-86. Measured: within 0.015 % of IAPWS-95 up to
 *  250 degC, 0.06 % up to 350 degC. */
HF_API hf_status hf_vapour_density_e(double temperature, unsigned flags, double *out) HF_MUST_CHECK;
HF_API double hf_vapour_density(double temperature);

/** Latent heat of vaporisation, J/kg, by Clapeyron's equation L = T dp/dT (1/rho'' - 1/rho').
 *  temperature 273.16..647.096 K; 0 at the critical point. Sources: iapws-sr1-86,
 *  clausius-clapeyron. Measured: within 0.015 % of the enthalpy difference of IAPWS-95 and IF97 up
 *  to 250 degC, 0.035 % up to 350 degC, 0.5 % at 370 degC. */
HF_API hf_status hf_latent_heat_e(double temperature, unsigned flags, double *out) HF_MUST_CHECK;
HF_API double hf_latent_heat(double temperature);

/** Surface tension of water against its vapour, N/m.
 *  temperature 273.16..647.096 K; 0 at the critical point. Source: iapws-r1-76. Pure water: salts
 *  raise it, surfactants lower it. */
HF_API hf_status hf_surface_tension_e(double temperature, unsigned flags,
                                      double *out) HF_MUST_CHECK;
HF_API double hf_surface_tension(double temperature);

/** How many times its volume liquid water takes up as saturated steam at the same temperature:
 *  rho'/rho''. About 1600 holds at 1 atm only; 172 at 180 degC.
 *  temperature 273.16..647.096 K. Source: iapws-sr1-86. */
HF_API hf_status hf_steam_expansion_ratio_e(double temperature, unsigned flags,
                                            double *out) HF_MUST_CHECK;
HF_API double hf_steam_expansion_ratio(double temperature);

/* ---- air ------------------------------------------------------------------------------------- */

/** Pressure of the standard atmosphere, Pa.
 *  altitude -5000..11000 m, geopotential (the height above sea level of a real place will do: up to
 *  3 km the difference is below 0.02 % of the pressure). Source: stdatm1976. Weather moves the real
 *  pressure by some percent. */
HF_API hf_status hf_standard_pressure_e(double altitude, unsigned flags, double *out) HF_MUST_CHECK;
HF_API double hf_standard_pressure(double altitude);

/** Thermal conductivity of dry air, W/(m K).
 *  temperature 250..550 K (outer 150..1000 K). Source: stdatm1976, equation 53. Measured
 *  against printed tables: within 0.8 % of incropera6 Table A.4 (250..550 K), 1.9 to 2.6 % above
 *  cengel-tables A-15 (-20..250 degC). */
HF_API hf_status hf_air_conductivity_e(double temperature, unsigned flags,
                                       double *out) HF_MUST_CHECK;
HF_API double hf_air_conductivity(double temperature);

/** Dynamic viscosity of dry air, Pa s.
 *  temperature 250..550 K (outer 150..1000 K). Source: stdatm1976, Sutherland's form.
 *  Measured: 0.1 to 0.9 % below cengel-tables A-15 (-20..250 degC), within 1.3 % of incropera6
 *  Table A.4 (250..550 K). */
HF_API hf_status hf_air_viscosity_e(double temperature, unsigned flags, double *out) HF_MUST_CHECK;
HF_API double hf_air_viscosity(double temperature);

/** Density of dry air as an ideal gas, kg/m3; moist room air is up to about 1 % lighter.
 *  temperature 250..550 K (outer 150..1000 K), pressure 20..110 kPa (outer 1 kPa..1 MPa).
 *  Source: stdatm1976. Measured: within 0.03 % of cengel-tables A-15. */
HF_API hf_status hf_air_density_e(double temperature, double pressure, unsigned flags,
                                  double *out) HF_MUST_CHECK;
HF_API double hf_air_density(double temperature, double pressure);

/** Specific heat of dry air at constant pressure, J/(kg K).
 *  temperature 250..550 K (outer 150..1000 K). Own quadratic through cengel-tables A-15 and
 *  incropera6 A.4, which it meets within 0.16 % (1.6 J/(kg K)). */
HF_API hf_status hf_air_heat_capacity_e(double temperature, unsigned flags,
                                        double *out) HF_MUST_CHECK;
HF_API double hf_air_heat_capacity(double temperature);

/** Prandtl number of dry air from the three functions above.
 *  temperature 250..550 K (outer 150..1000 K). Measured: within 0.7 % of incropera6 A.4; 2.2
 *  to 3.0 % below cengel-tables A-15, whose conductivities are lower. */
HF_API hf_status hf_air_prandtl_e(double temperature, unsigned flags, double *out) HF_MUST_CHECK;
HF_API double hf_air_prandtl(double temperature);

/** Diffusivity of water vapour in air, m2/s: 2.178e-5 (101325 Pa / p) (T / 273.15 K)^1.81.
 *  temperature 250..450 K (outer 150..1000 K), pressure 20..110 kPa (outer 1 kPa..1 MPa).
 *  Source: massman1998. Measured against marreromason1972 (282..450 K): +3.4 % at 282 K, 0 at
 *  321 K, -4 % at 373 K, -8.5 % at 450 K. */
HF_API hf_status hf_vapour_diffusivity_e(double temperature, double pressure, unsigned flags,
                                         double *out) HF_MUST_CHECK;
HF_API double hf_vapour_diffusivity(double temperature, double pressure);

/* ---- moist air ------------------------------------------------------------------------------- */

/** Humidity ratio, kg water vapour per kg dry air: 0.621945 e / (p - e), e = humidity psat(T).
 *  temperature 273.16..473.15 K (outer to 647.096 K), humidity 0..1, pressure 20..110 kPa (outer
 *  1 kPa..1 MPa); HF_ERANGE when e reaches the pressure: such air does not exist. Ideal gases:
 * reads 0.4 % low of ashrae2017 Table 2 at 25 degC saturated, 1.2 % at 85 degC saturated. */
HF_API hf_status hf_humidity_ratio_e(double temperature, double humidity, double pressure,
                                     unsigned flags, double *out) HF_MUST_CHECK;
HF_API double hf_humidity_ratio(double temperature, double humidity, double pressure);

/** Dew point over liquid water, K: psat(dew point) = humidity psat(T).
 *  temperature 273.16..647.096 K, humidity 0..1; HF_ERANGE below the triple point, where frost
 *  forms instead. Source: iapws-sr1-86. */
HF_API hf_status hf_dew_point_e(double temperature, double humidity, unsigned flags,
                                double *out) HF_MUST_CHECK;
HF_API double hf_dew_point(double temperature, double humidity);

/** Thermodynamic wet-bulb temperature, K: water evaporating into the air at that temperature would
 *  saturate it without heat from outside. Solves (Ws - W) L(Tw) = (cp + W cpv) (T - Tw).
 *  temperature 273.16..473.15 K (outer to 647.096 K), humidity 0..1, pressure 20..110 kPa (outer
 *  1 kPa..1 MPa); HF_ERANGE when the vapour pressure reaches the pressure or the wet bulb would
 *  freeze. Definition: ashrae2017 chapter 1; meets its example 1 within 0.1 K. */
HF_API hf_status hf_wet_bulb_e(double temperature, double humidity, double pressure, unsigned flags,
                               double *out) HF_MUST_CHECK;
HF_API double hf_wet_bulb(double temperature, double humidity, double pressure);

/* ---- heat and vapour transfer to a fibre ----------------------------------------------------- */

/** Nusselt number of a cylinder in cross flow (Churchill and Bernstein).
 *  reynolds 0..1e7, prandtl 1e-3..1e4, both at film temperature; reynolds * prandtl of 0.2 or more
 *  is supported (HF_EXTRAPOLATE opens less). Source: churchillbernstein1977. */
HF_API hf_status hf_nusselt_cross_flow_e(double reynolds, double prandtl, unsigned flags,
                                         double *out) HF_MUST_CHECK;
HF_API double hf_nusselt_cross_flow(double reynolds, double prandtl);

/** Nusselt number of a fine wire in an air stream (Collis and Williams).
 *  reynolds 0.02..140 at film temperature (outer 0..1000), temperature_ratio film over air
 *  temperature 0.7..2 (outer 0.3..4). The larger of the two published laws, which cross at Re 45
 *  (the paper changes at 44): no jump. Source: collis1959 (constants from memory). Measured: within
 *  7 % of 37 points of the paper, 2.1 % on average. */
HF_API hf_status hf_nusselt_fine_wire_e(double reynolds, double temperature_ratio, unsigned flags,
                                        double *out) HF_MUST_CHECK;
HF_API double hf_nusselt_fine_wire(double reynolds, double temperature_ratio);

/** Nusselt number of a horizontal cylinder in still air (Churchill and Chu).
 *  rayleigh 1e-5..1e12 (outer from 0), prandtl 1e-3..1e4. Source: churchillchu1975. */
HF_API hf_status hf_nusselt_free_convection_e(double rayleigh, double prandtl, unsigned flags,
                                              double *out) HF_MUST_CHECK;
HF_API double hf_nusselt_free_convection(double rayleigh, double prandtl);

/** Heat transfer coefficient of a fibre across an air stream, W/(m2 K).
 *  diameter 10 um..0.1 m (outer from 1 um), speed 0..100 m/s, surface_temperature and
 *  air_temperature 250..550 K (outer 150..1000 K), pressure 20..110 kPa (outer 1 kPa..1 MPa).
 *  Fine-wire law up to Re 70, Churchill-Bernstein from Re 140, a smooth blend between (the blend is
 *  a judgement of this project). Not supported: Re below 0.02 or below the cube root of the Grashof
 *  number, where free convection joins in. Radiation is not part of it. About +-10 %. */
HF_API hf_status hf_heat_transfer_moving_air_e(double diameter, double speed,
                                               double surface_temperature, double air_temperature,
                                               double pressure, unsigned flags,
                                               double *out) HF_MUST_CHECK;
HF_API double hf_heat_transfer_moving_air(double diameter, double speed, double surface_temperature,
                                          double air_temperature, double pressure);

/** Heat transfer coefficient of a horizontal fibre in still air, W/(m2 K).
 *  Ranges as hf_heat_transfer_moving_air; Rayleigh number 1e-5 or more is supported (a 70 um fibre
 *  0.3 K off a room at 20 degC), the outer range goes on to 0, where the law ends at Nu 0.36.
 *  Radiation is not part of it. Source: churchillchu1975. */
HF_API hf_status hf_heat_transfer_still_air_e(double diameter, double surface_temperature,
                                              double air_temperature, double pressure,
                                              unsigned flags, double *out) HF_MUST_CHECK;
HF_API double hf_heat_transfer_still_air(double diameter, double surface_temperature,
                                         double air_temperature, double pressure);

/** Mass transfer coefficient of water vapour in air, m/s, by the Lewis relation
 *  h / (rho cp Le^(2/3)), Le = conductivity / (rho cp diffusivity) from the functions above (0.86).
 *  heat_transfer 1e-3..1e5 W/(m2 K), film_temperature 250..450 K (outer 150..1000 K),
 *  pressure 20..110 kPa (outer 1 kPa..1 MPa). Small vapour fractions: the flow of the vapour itself
 *  (Stefan flow) is left to the caller. Source: lewis-relation. */
HF_API hf_status hf_mass_transfer_coefficient_e(double heat_transfer, double film_temperature,
                                                double pressure, unsigned flags,
                                                double *out) HF_MUST_CHECK;
HF_API double hf_mass_transfer_coefficient(double heat_transfer, double film_temperature,
                                           double pressure);

#ifdef __cplusplus
}
#endif

#endif
