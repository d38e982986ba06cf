/*
 * keratin: water in the fibre (isotherm, heats, swelling, diffusion) and the fibre's own thermal
 * properties and transitions.
 *
 * State: `humidity` is relative humidity over liquid water, a fraction, the same thing as water
 * activity. `regain` is kg water per kg dry fibre. `temperature` is in K. Every function takes
 * `set` (NULL: the shipped set "virgin") and `flags` (HF_STRICT or HF_EXTRAPOLATE); the short form
 * without _e is strict and gives NaN on any failure. Errors of every _e function: HF_EINVAL for a
 * missing output, a number that is not finite or an unknown branch; HF_ERANGE and HF_EXTRAPOLATED
 * as base.h says. Equations, symbols and sources: the head comments of lib/keratin/.
 */
#ifndef HAIRFIBRE_KERATIN_H
#define HAIRFIBRE_KERATIN_H

#include <hairfibre/base.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Which side of the hysteresis loop: reached by taking up water, or by giving it off from wet. */
typedef enum hf_branch { HF_ABSORPTION = 0, HF_DESORPTION = 1 } hf_branch;

/* ---- sorption -------------------------------------------------------------------------------- */

/** Equilibrium regain at a humidity. humidity 0..1; temperature 283.15..423.15 K, extrapolated to
 *  273.15..523.15 K. Never smaller on the desorption branch than on the absorption branch. */
HF_API hf_status hf_regain_e(double humidity, double temperature, hf_branch branch,
                             const hf_parameters *set, unsigned flags,
                             double *regain) HF_MUST_CHECK;
HF_API double hf_regain(double humidity, double temperature, hf_branch branch,
                        const hf_parameters *set);

/** The same for n states, each with its temperature; faster while neighbours share a temperature.
 *  Stops at the first failure and stores its index in *bad (may be NULL); returns the worst status.
 *  In place is allowed. */
HF_API hf_status hf_regain_v(size_t n, const double *humidity, const double *temperature,
                             hf_branch branch, const hf_parameters *set, unsigned flags,
                             double *regain, size_t *bad) HF_MUST_CHECK;

/** Water activity of the fibre, 0..1: the inverse of hf_regain_e. HF_ERANGE when the regain is
 * above hf_saturation_regain_e at this temperature: the excess is liquid water, whose activity
 * is 1. */
HF_API hf_status hf_water_activity_e(double regain, double temperature, hf_branch branch,
                                     const hf_parameters *set, unsigned flags,
                                     double *activity) HF_MUST_CHECK;
HF_API double hf_water_activity(double regain, double temperature, hf_branch branch,
                                const hf_parameters *set);

/** The same for n states; see hf_regain_v. */
HF_API hf_status hf_water_activity_v(size_t n, const double *regain, const double *temperature,
                                     hf_branch branch, const hf_parameters *set, unsigned flags,
                                     double *activity, size_t *bad) HF_MUST_CHECK;

/** Regain at humidity 1: the most water the fibre holds as sorbed water at this temperature. */
HF_API hf_status hf_saturation_regain_e(double temperature, hf_branch branch,
                                        const hf_parameters *set, unsigned flags,
                                        double *regain) HF_MUST_CHECK;
HF_API double hf_saturation_regain(double temperature, hf_branch branch, const hf_parameters *set);

/** Slope of the isotherm, d regain / d humidity, at constant temperature. */
HF_API hf_status hf_regain_slope_e(double humidity, double temperature, hf_branch branch,
                                   const hf_parameters *set, unsigned flags,
                                   double *slope) HF_MUST_CHECK;
HF_API double hf_regain_slope(double humidity, double temperature, hf_branch branch,
                              const hf_parameters *set);

/** Net isosteric heat of sorption, J per kg water: what binding adds to the latent heat of liquid
 *  water. HF_ERANGE above the saturation regain. */
HF_API hf_status hf_isosteric_heat_e(double regain, double temperature, hf_branch branch,
                                     const hf_parameters *set, unsigned flags,
                                     double *heat) HF_MUST_CHECK;
HF_API double hf_isosteric_heat(double regain, double temperature, hf_branch branch,
                                const hf_parameters *set);

/** Heat of wetting, J per kg dry fibre: released when a fibre of this regain takes up liquid water
 *  until it is saturated. HF_ERANGE above the saturation regain. */
HF_API hf_status hf_wetting_heat_e(double regain, double temperature, hf_branch branch,
                                   const hf_parameters *set, unsigned flags,
                                   double *heat) HF_MUST_CHECK;
HF_API double hf_wetting_heat(double regain, double temperature, hf_branch branch,
                              const hf_parameters *set);

/** Water that stays in a wet fibre after centrifuging, kg per kg dry fibre. It is a measured number
 *  of its own and not the isotherm's value at humidity 1. */
HF_API hf_status hf_liquid_retention_e(const hf_parameters *set, unsigned flags,
                                       double *retention) HF_MUST_CHECK;
HF_API double hf_liquid_retention(const hf_parameters *set);

/** Slope d regain / d humidity inside the hysteresis loop. `direction` HF_ABSORPTION while humidity
 *  rises, HF_DESORPTION while it falls. HF_ERANGE when the regain lies outside the loop. */
HF_API hf_status hf_scanning_slope_e(double regain, double humidity, double temperature,
                                     hf_branch direction, const hf_parameters *set, unsigned flags,
                                     double *slope) HF_MUST_CHECK;
HF_API double hf_scanning_slope(double regain, double humidity, double temperature,
                                hf_branch direction, const hf_parameters *set);

/** Regain along a slow path of humidities at one temperature, starting inside the loop:
 *  regain[0] = start_regain belongs to humidity[0]. Stays inside the loop. HF_ERANGE with *bad = 0
 *  when the start lies outside the loop. In place is allowed. */
HF_API hf_status hf_scanning_regain_v(size_t n, const double *humidity, double start_regain,
                                      double temperature, const hf_parameters *set, unsigned flags,
                                      double *regain, size_t *bad) HF_MUST_CHECK;

/** Water as a fraction of the wet mass (moisture content), from regain. */
HF_API hf_status hf_moisture_content_e(double regain, double *content) HF_MUST_CHECK;
HF_API double hf_moisture_content(double regain);

/** Regain from water as a fraction of the wet mass; content 0 <= c < 1. */
HF_API hf_status hf_regain_from_content_e(double content, double *regain) HF_MUST_CHECK;
HF_API double hf_regain_from_content(double content);

/* ---- rival isotherms: plain functions of their own constants, NaN outside their meaning --------
 */

/** Guggenheim-Anderson-de Boer: w = wm c k a / ((1 - k a)(1 - k a + c k a)). */
HF_API double hf_isotherm_gab(double humidity, double monolayer, double c, double k);

/** Brunauer-Emmett-Teller: the former with k = 1; humidity below 1. */
HF_API double hf_isotherm_bet(double humidity, double monolayer, double c);

/** Hailwood-Horrobin with one hydrate. `site_mass` is kg dry fibre per mol of sites. Equal to
 *  hf_isotherm_gab with monolayer = 0.018015268 / site_mass, c = k1 + 1, k = k2. */
HF_API double hf_isotherm_hailwood_horrobin(double humidity, double site_mass, double k1,
                                            double k2);

/** D'Arcy-Watt without linear term: w = b1 b a / (1 + b a) + c1 c a / (1 - c a), where b1 and c1
 * are the capacities of the strong sites and of the multilayer. */
HF_API double hf_isotherm_darcy_watt(double humidity, double strong, double b, double multilayer,
                                     double c);

/** Closed form of garment models: one number, the regain at 65 % humidity. Reads low below 20 % and
 *  high above 80 % humidity. */
HF_API double hf_isotherm_garment(double humidity, double regain_65);

/** Differential heat of sorption of wool from liquid water, J per kg water, of the same models. */
HF_API double hf_garment_heat(double humidity);

/* ---- swelling -------------------------------------------------------------------------------- */

/** Relative growth of the diameter from `from_regain` to `regain` (0: bone dry), a fraction. regain
 *  0..0.40, extrapolated to 1. Negative when the fibre shrinks. */
HF_API hf_status hf_diameter_swelling_e(double regain, double from_regain, const hf_parameters *set,
                                        unsigned flags, double *swelling) HF_MUST_CHECK;
HF_API double hf_diameter_swelling(double regain, double from_regain, const hf_parameters *set);

/** Relative growth of the length, likewise. */
HF_API hf_status hf_length_swelling_e(double regain, double from_regain, const hf_parameters *set,
                                      unsigned flags, double *swelling) HF_MUST_CHECK;
HF_API double hf_length_swelling(double regain, double from_regain, const hf_parameters *set);

/** Relative growth of the cross-section: (1 + diameter)^2 - 1. */
HF_API hf_status hf_area_swelling_e(double regain, double from_regain, const hf_parameters *set,
                                    unsigned flags, double *swelling) HF_MUST_CHECK;
HF_API double hf_area_swelling(double regain, double from_regain, const hf_parameters *set);

/** Relative growth of the volume: (1 + diameter)^2 (1 + length) - 1. */
HF_API hf_status hf_volume_swelling_e(double regain, double from_regain, const hf_parameters *set,
                                      unsigned flags, double *swelling) HF_MUST_CHECK;
HF_API double hf_volume_swelling(double regain, double from_regain, const hf_parameters *set);

/** Density of the conditioned fibre, kg/m3: dry density (1 + regain) / (1 + volume swelling). */
HF_API hf_status hf_fibre_density_e(double regain, const hf_parameters *set, unsigned flags,
                                    double *density) HF_MUST_CHECK;
HF_API double hf_fibre_density(double regain, const hf_parameters *set);

/* ---- diffusion and heat ---------------------------------------------------------------------- */

/** Diffusivity of water across the fibre, m2/s: rises and levels off with regain. Evidence supports
 *  273.15..333.15 K, extrapolated to 523.15 K; the value near dryness is an assumption. */
HF_API hf_status hf_diffusivity_e(double regain, double temperature, const hf_parameters *set,
                                  unsigned flags, double *diffusivity) HF_MUST_CHECK;
HF_API double hf_diffusivity(double regain, double temperature, const hf_parameters *set);

/** Rival law, exponential in regain: too slow by about ten for the published response of hair
 *  hygrometers; kept for comparison. */
HF_API hf_status hf_diffusivity_exponential_e(double regain, double temperature,
                                              const hf_parameters *set, unsigned flags,
                                              double *diffusivity) HF_MUST_CHECK;
HF_API double hf_diffusivity_exponential(double regain, double temperature,
                                         const hf_parameters *set);

/** Specific heat capacity, J/(K kg WET fibre). Per kg dry fibre: times (1 + regain). */
HF_API hf_status hf_heat_capacity_e(double regain, double temperature, const hf_parameters *set,
                                    unsigned flags, double *capacity) HF_MUST_CHECK;
HF_API double hf_heat_capacity(double regain, double temperature, const hf_parameters *set);

/** Thermal conductivity across the fibre, W/(m K). Measured up to a regain of 0.107. */
HF_API hf_status hf_conductivity_e(double regain, const hf_parameters *set, unsigned flags,
                                   double *conductivity) HF_MUST_CHECK;
HF_API double hf_conductivity(double regain, const hf_parameters *set);

/* ---- transitions ----------------------------------------------------------------------------- */

/** Glass transition, K (Fox). */
HF_API hf_status hf_glass_transition_e(double regain, const hf_parameters *set, unsigned flags,
                                       double *temperature) HF_MUST_CHECK;
HF_API double hf_glass_transition(double regain, const hf_parameters *set);

/** Temperature at which the helices melt on heating at 10 K/min, K. The law between its dry and its
 *  wet end is a construction of this project: +-15 K between the ends. */
HF_API hf_status hf_denaturation_temperature_e(double regain, const hf_parameters *set,
                                               unsigned flags, double *temperature) HF_MUST_CHECK;
HF_API double hf_denaturation_temperature(double regain, const hf_parameters *set);

/* Wet: enough water that the fibre stays saturated while it is heated. Dry: no water at all. */
typedef enum hf_water_state { HF_WET = 0, HF_DRY = 1 } hf_water_state;

/** Temperature of the fastest melting of the helices on heating at `heating_rate` (K/s), K, from
 * the wet or the dry rate law. Evidence supports 0.5..10 K/min. */
HF_API hf_status hf_denaturation_peak_e(double heating_rate, hf_water_state state,
                                        const hf_parameters *set, unsigned flags,
                                        double *temperature) HF_MUST_CHECK;
HF_API double hf_denaturation_peak(double heating_rate, hf_water_state state,
                                   const hf_parameters *set);

#ifdef __cplusplus
}
#endif

#endif
