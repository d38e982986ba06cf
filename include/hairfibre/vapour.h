/*
 * vapour: pressure of the water vapour inside a fibre.
 *
 * State: `temperature` in K, `regain` in kg water per kg dry fibre, `branch` of the isotherm.
 * Temperature 283.15..423.15 K, extrapolated to 273.16..523.15 K as the isotherm is. A regain above
 * what the isotherm holds at this temperature, up to hf_liquid_retention_e, means that liquid water
 * is present: its activity is 1. Above that a fibre cannot hold the water: HF_ERANGE.
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

#ifdef __cplusplus
}
#endif

#endif
