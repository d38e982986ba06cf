/*
 * vapour: pressure of the water vapour inside a fibre.
 *
 * State: `temperature` in K, `regain` in kg water per kg dry fibre, `branch` of the isotherm.
 * Temperature 283.15..423.15 K, extrapolated to 273.16..523.15 K as the isotherm is. A regain above
 * what the isotherm holds at this temperature means that liquid water is present: its activity is 1.
 * That goes up to hf_liquid_retention_e, or to the saturation regain at 10 degC where that is more (a
 * sealed fibre keeps on heating what it took up in the cold). Beyond both: HF_ERANGE.
 *
 * All three are bounds for a sealed fibre: nothing leaks, nothing expands, and fibre and vapour are
 * in equilibrium. A real fibre stays below them, by how much is not known. Nothing here is advice
 * about tools or people. Equations and sources: head comments of lib/vapour/.
 */
#ifndef HAIRFIBRE_VAPOUR_H
#define HAIRFIBRE_VAPOUR_H

#include <hairfibre/base.h>
#include <hairfibre/keratin.h>

#ifdef __cplusplus
extern "C" {
#endif

/** Vapour pressure of the water in the fibre, Pa: water activity times saturation pressure. Zero
 * for a dry fibre. HF_EINVAL, HF_ERANGE. */
HF_API hf_status hf_internal_vapour_pressure_e(double temperature, double regain, hf_branch branch,
                                               const hf_parameters *set, unsigned flags,
                                               double *vapour_pressure) HF_MUST_CHECK;
HF_API double hf_internal_vapour_pressure(double temperature, double regain, hf_branch branch,
                                          const hf_parameters *set);

/** The same above the ambient `pressure` (Pa), negative while it is below. HF_EINVAL, HF_ERANGE. */
HF_API hf_status hf_internal_gauge_pressure_e(double temperature, double regain, hf_branch branch,
                                              double pressure, const hf_parameters *set,
                                              unsigned flags, double *gauge_pressure) HF_MUST_CHECK;
HF_API double hf_internal_gauge_pressure(double temperature, double regain, hf_branch branch,
                                         double pressure, const hf_parameters *set);

/** Temperature (K) at which the vapour pressure of the water in the fibre equals the ambient
 *  `pressure` (Pa, 612..4e6): the boiling temperature of water while liquid water is present, above
 * it for a drier fibre. HF_ERANGE when there is no such temperature between 273.16 and 523.15 K;
 *  HF_EINVAL, HF_ECONVERGE. */
HF_API hf_status hf_internal_boiling_temperature_e(double regain, double pressure, hf_branch branch,
                                                   const hf_parameters *set, unsigned flags,
                                                   double *temperature) HF_MUST_CHECK;
HF_API double hf_internal_boiling_temperature(double regain, double pressure, hf_branch branch,
                                              const hf_parameters *set);

/* ---- voids ----------------------------------------------------------------------------------- */

/** Intact solid: Young's modulus (Pa) below which a cavity of radius `void_radius` (m) would open without
 *  limit at the overpressure `gauge_pressure` (Pa): 6/5 (dp - 2 gamma/r), zero when the surface tension
 *  alone holds it. Soft rubber-like solid without fracture (gentlindley1959). temperature 273.16 ..
 *  523.15 K; void_radius 1e-8 .. 1e-4 m; gauge_pressure -2e5 .. 1e7. HF_EINVAL, HF_ERANGE. */
HF_API hf_status hf_softness_for_voids_e(double gauge_pressure, double void_radius,
                                         double temperature, unsigned flags,
                                         double *modulus) HF_MUST_CHECK;
HF_API double hf_softness_for_voids(double gauge_pressure, double void_radius, double temperature);

/** Smallest radius (m) at which the surface tension of water no longer closes a void: 2 gamma/dp.
 *  gauge_pressure 1 .. 1e7 Pa, temperature 273.16 .. 523.15 K. HF_EINVAL, HF_ERANGE. */
HF_API hf_status hf_critical_void_radius_e(double gauge_pressure, double temperature,
                                           unsigned flags, double *radius) HF_MUST_CHECK;
HF_API double hf_critical_void_radius(double gauge_pressure, double temperature);

/** Viscosity (Pa s) that holds a void at a weak interface closed, calibrated to two published thresholds
 *  and never measured. temperature 373.15 .. 523.15 K, regain 0 .. 0.5; always extrapolated outside
 *  423.15 .. 493.15 K. HF_EINVAL, HF_ERANGE. */
HF_API hf_status hf_void_viscosity_e(double temperature, double regain, const hf_parameters *set,
                                     unsigned flags, double *viscosity) HF_MUST_CHECK;
HF_API double hf_void_viscosity(double temperature, double regain, const hf_parameters *set);

/** Rate (1/s) at which ln(radius) of such a void grows at constant state: (dp - p0 - 2 gamma/r)/(4 eta),
 *  zero while that is negative. Arguments and errors as the two former. */
HF_API hf_status hf_void_growth_rate_e(double gauge_pressure, double void_radius,
                                       double temperature, double regain, const hf_parameters *set,
                                       unsigned flags, double *rate) HF_MUST_CHECK;
HF_API double hf_void_growth_rate(double gauge_pressure, double void_radius, double temperature,
                                  double regain, const hf_parameters *set);

/** Plain words for a growth ln(r/r0): from "no void growth expected" to "many and large voids expected".
 *  Never NULL. An expectation from the calibrated model, never a promise. */
HF_API const char *hf_void_grade(double growth, const hf_parameters *set);

#ifdef __cplusplus
}
#endif

#endif
