/*
 * strength: stiffness, stretching, breaking and fatigue of a fibre, and its cuticle as geometry.
 *
 * Stress is force over the cross-section, Pa; strain is relative elongation; `humidity` is a
 * fraction, and 1 stands for a fibre in water; `regain` is kg water per kg dry fibre; `area` m2,
 * `force` N, `cycles` a number. All of it is at room temperature, and all of it is means: strands
 * of one head differ by 6 to 9 %, and laboratories by more. Every function takes `flags`, and `set`
 * (NULL: "virgin") where it has parameters; the set "wool" has the numbers of hair. The short form
 * without _e is strict and gives NaN on any failure. Errors of every _e function: HF_EINVAL for a
 * missing output, a number that is not finite or a value that is no member of its enumeration;
 * HF_ERANGE and HF_EXTRAPOLATED as base.h says. Nothing here is advice about heat, chemicals or
 * people. Equations, symbols and sources: the head comments of lib/strength/.
 */
#ifndef HAIRFIBRE_STRENGTH_H
#define HAIRFIBRE_STRENGTH_H

#include <hairfibre/base.h>
#include <hairfibre/keratin.h>

#ifdef __cplusplus
extern "C" {
#endif

/* ---- stiffness ------------------------------------------------------------------------------- */

/** Tensile modulus at a regain, Pa. 0.09..0.40, extrapolated to 0..1; above the saturation regain
 *  it is that of the wet fibre. */
HF_API hf_status hf_tensile_modulus_e(double regain, const hf_parameters *set, unsigned flags,
                                      double *modulus) HF_MUST_CHECK;
HF_API double hf_tensile_modulus(double regain, const hf_parameters *set);

/** The same law between the moduli of another laboratory, on virgin hair only. */
HF_API hf_status hf_tensile_modulus_rival_e(double regain, const hf_parameters *set, unsigned flags,
                                            double *modulus) HF_MUST_CHECK;
HF_API double hf_tensile_modulus_rival(double regain, const hf_parameters *set);

/** Tensile modulus of a fibre in balance with air of a humidity, Pa. 0.50..1, extrapolated to 0. */
HF_API hf_status hf_tensile_modulus_in_air_e(double humidity, hf_branch branch,
                                             const hf_parameters *set, unsigned flags,
                                             double *modulus) HF_MUST_CHECK;
HF_API double hf_tensile_modulus_in_air(double humidity, hf_branch branch,
                                        const hf_parameters *set);

/** Tensile modulus at a regain over that of the wet fibre; ranges as hf_tensile_modulus_e. */
HF_API hf_status hf_tensile_modulus_over_wet_e(double regain, const hf_parameters *set,
                                               unsigned flags, double *ratio) HF_MUST_CHECK;
HF_API double hf_tensile_modulus_over_wet(double regain, const hf_parameters *set);

/** Shear modulus found by twisting the fibre, Pa, against humidity. */
HF_API hf_status hf_shear_modulus_e(double humidity, const hf_parameters *set, unsigned flags,
                                    double *modulus) HF_MUST_CHECK;
HF_API double hf_shear_modulus(double humidity, const hf_parameters *set);

/** The same after the cuticle was rubbed off. */
HF_API hf_status hf_shear_modulus_without_cuticle_e(double humidity, const hf_parameters *set,
                                                    unsigned flags, double *modulus) HF_MUST_CHECK;
HF_API double hf_shear_modulus_without_cuticle(double humidity, const hf_parameters *set);

/** Humidity at which the hair of `set` is as stiff in torsion as virgin hair. HF_ERANGE when the
 *  two curves do not cross. */
HF_API hf_status hf_torsion_crossover_e(const hf_parameters *set, unsigned flags,
                                        double *humidity) HF_MUST_CHECK;
HF_API double hf_torsion_crossover(const hf_parameters *set);

/* ---- stretching: Hookean, yield and post-yield region ---------------------------------------- */

/** Stress at which the yield region starts, Pa. humidity 0.05..1, extrapolated to 0. */
HF_API hf_status hf_yield_stress_e(double humidity, const hf_parameters *set, unsigned flags,
                                   double *stress) HF_MUST_CHECK;
HF_API double hf_yield_stress(double humidity, const hf_parameters *set);

/** Strain at which the yield region starts. humidity 0.60..1, extrapolated to 0; the same holds for
 *  every function of this group below, and HF_ERANGE stands also for parameters that make no rising
 *  curve of three regions. */
HF_API hf_status hf_yield_strain_e(double humidity, const hf_parameters *set, unsigned flags,
                                   double *strain) HF_MUST_CHECK;
HF_API double hf_yield_strain(double humidity, const hf_parameters *set);

/** Slope of the post-yield region, Pa. */
HF_API hf_status hf_post_yield_modulus_e(double humidity, const hf_parameters *set, unsigned flags,
                                         double *modulus) HF_MUST_CHECK;
HF_API double hf_post_yield_modulus(double humidity, const hf_parameters *set);

/** Stress at a strain, Pa. HF_ERANGE beyond the break strain. */
HF_API hf_status hf_stress_at_strain_e(double strain, double humidity, const hf_parameters *set,
                                       unsigned flags, double *stress) HF_MUST_CHECK;
HF_API double hf_stress_at_strain(double strain, double humidity, const hf_parameters *set);

/** Slope of the curve at a strain, Pa; likewise. */
HF_API hf_status hf_tangent_modulus_e(double strain, double humidity, const hf_parameters *set,
                                      unsigned flags, double *modulus) HF_MUST_CHECK;
HF_API double hf_tangent_modulus(double strain, double humidity, const hf_parameters *set);

/** Strain at a stress: the inverse. HF_ERANGE beyond the break stress. */
HF_API hf_status hf_strain_at_stress_e(double stress, double humidity, const hf_parameters *set,
                                       unsigned flags, double *strain) HF_MUST_CHECK;
HF_API double hf_strain_at_stress(double stress, double humidity, const hf_parameters *set);

/** Work of stretching to a strain, J per m3 of fibre. HF_ERANGE beyond the break strain. */
HF_API hf_status hf_work_to_strain_e(double strain, double humidity, const hf_parameters *set,
                                     unsigned flags, double *work) HF_MUST_CHECK;
HF_API double hf_work_to_strain(double strain, double humidity, const hf_parameters *set);

/** Work of stretching to the break, J/m3. */
HF_API hf_status hf_work_to_break_e(double humidity, const hf_parameters *set, unsigned flags,
                                    double *work) HF_MUST_CHECK;
HF_API double hf_work_to_break(double humidity, const hf_parameters *set);

/* ---- breaking -------------------------------------------------------------------------------- */

/** Break stress, Pa. humidity 0.20..1, extrapolated to 0. */
HF_API hf_status hf_break_stress_e(double humidity, const hf_parameters *set, unsigned flags,
                                   double *stress) HF_MUST_CHECK;
HF_API double hf_break_stress(double humidity, const hf_parameters *set);

/** Break strain. humidity 0.60..1, extrapolated to 0. */
HF_API hf_status hf_break_strain_e(double humidity, const hf_parameters *set, unsigned flags,
                                   double *strain) HF_MUST_CHECK;
HF_API double hf_break_strain(double humidity, const hf_parameters *set);

/** Force at the break, N: break stress times cross-section. area 1e-10..3e-8 m2, extrapolated to
 *  1e-12..1e-6. */
HF_API hf_status hf_break_force_e(double area, double humidity, const hf_parameters *set,
                                  unsigned flags, double *force) HF_MUST_CHECK;
HF_API double hf_break_force(double area, double humidity, const hf_parameters *set);

/** Stress of a force on a cross-section, Pa. */
HF_API hf_status hf_axial_stress_e(double force, double area, unsigned flags,
                                   double *stress) HF_MUST_CHECK;
HF_API double hf_axial_stress(double force, double area);

/** Share of the break stress left after a share of the disulfide bonds was lost, an empirical law
 *  and no statement about which bonds carry load. disulfide_lost 0..0.45, extrapolated to 0.6 (dry)
 *  or 1 (wet); HF_ERANGE beyond. */
HF_API hf_status hf_break_stress_left_e(double disulfide_lost, hf_water_state state,
                                        const hf_parameters *set, unsigned flags,
                                        double *share) HF_MUST_CHECK;
HF_API double hf_break_stress_left(double disulfide_lost, hf_water_state state,
                                   const hf_parameters *set);

/* ---- published levels: nothing is interpolated between them ------------------------------------
 */

/* Natural (N) and bleached (B) hair at four levels of heat; the times of the levels were not read.
 * HF_DRY is room humidity. */
typedef enum hf_hair_group {
    HF_GROUP_N0 = 0,
    HF_GROUP_N1 = 1,
    HF_GROUP_N2 = 2,
    HF_GROUP_N3 = 3,
    HF_GROUP_B0 = 4,
    HF_GROUP_B1 = 5,
    HF_GROUP_B2 = 6,
    HF_GROUP_B3 = 7
} hf_hair_group;

/** Tensile modulus of a group, Pa. */
HF_API hf_status hf_group_modulus_e(hf_hair_group group, hf_water_state state,
                                    const hf_parameters *set, unsigned flags,
                                    double *modulus) HF_MUST_CHECK;
HF_API double hf_group_modulus(hf_hair_group group, hf_water_state state, const hf_parameters *set);

/** Break strain of a group. */
HF_API hf_status hf_group_break_strain_e(hf_hair_group group, hf_water_state state,
                                         const hf_parameters *set, unsigned flags,
                                         double *strain) HF_MUST_CHECK;
HF_API double hf_group_break_strain(hf_hair_group group, hf_water_state state,
                                    const hf_parameters *set);

/** Break stress of a group, Pa. */
HF_API hf_status hf_group_break_stress_e(hf_hair_group group, hf_water_state state,
                                         const hf_parameters *set, unsigned flags,
                                         double *stress) HF_MUST_CHECK;
HF_API double hf_group_break_stress(hf_hair_group group, hf_water_state state,
                                    const hf_parameters *set);

/* Hair of three populations, as the source names them. */
typedef enum hf_hair_type {
    HF_HAIR_ASIAN = 0,
    HF_HAIR_CAUCASIAN = 1,
    HF_HAIR_AFRICAN_AMERICAN = 2
} hf_hair_type;

/** Cross-section of a strand of a type, m2. */
HF_API hf_status hf_type_area_e(hf_hair_type type, const hf_parameters *set, unsigned flags,
                                double *area) HF_MUST_CHECK;
HF_API double hf_type_area(hf_hair_type type, const hf_parameters *set);

/** Major over minor diameter of a strand of a type. */
HF_API hf_status hf_type_ellipticity_e(hf_hair_type type, const hf_parameters *set, unsigned flags,
                                       double *ratio) HF_MUST_CHECK;
HF_API double hf_type_ellipticity(hf_hair_type type, const hf_parameters *set);

/** Break stress of a strand of a type, Pa. */
HF_API hf_status hf_type_break_stress_e(hf_hair_type type, const hf_parameters *set, unsigned flags,
                                        double *stress) HF_MUST_CHECK;
HF_API double hf_type_break_stress(hf_hair_type type, const hf_parameters *set);

/* Bleaching before the perms: none, or 4 h in 6 % peroxide. */
typedef enum hf_peroxide { HF_PEROXIDE_NONE = 0, HF_PEROXIDE_4H = 1 } hf_peroxide;

/** Share of the modulus left after 0 to 3 perms, 1 for hair without perm and peroxide. */
HF_API hf_status hf_perm_modulus_left_e(unsigned perms, hf_peroxide peroxide, unsigned flags,
                                        double *share) HF_MUST_CHECK;
HF_API double hf_perm_modulus_left(unsigned perms, hf_peroxide peroxide);

/** Share of the yield stress left; likewise. */
HF_API hf_status hf_perm_yield_stress_left_e(unsigned perms, hf_peroxide peroxide, unsigned flags,
                                             double *share) HF_MUST_CHECK;
HF_API double hf_perm_yield_stress_left(unsigned perms, hf_peroxide peroxide);

/** Share of the break stress left; likewise. */
HF_API hf_status hf_perm_break_stress_left_e(unsigned perms, hf_peroxide peroxide, unsigned flags,
                                             double *share) HF_MUST_CHECK;
HF_API double hf_perm_break_stress_left(unsigned perms, hf_peroxide peroxide);

/* How far a fibre is stretched. */
typedef enum hf_stretch { HF_STRETCH_20 = 0, HF_STRETCH_BREAK = 1 } hf_stretch;

/** Share of the work of stretching left after 0 to 3 perms. */
HF_API hf_status hf_perm_work_left_e(unsigned perms, hf_stretch stretch, unsigned flags,
                                     double *share) HF_MUST_CHECK;
HF_API double hf_perm_work_left(unsigned perms, hf_stretch stretch);

/* Five minutes of dry heat. */
typedef enum hf_dry_heat {
    HF_DRY_HEAT_60 = 0,
    HF_DRY_HEAT_115 = 1,
    HF_DRY_HEAT_130 = 2,
    HF_DRY_HEAT_160 = 3
} hf_dry_heat;

/** Share of the break stress left after five minutes of dry heat. */
HF_API hf_status hf_dry_heat_break_stress_left_e(hf_dry_heat heat, unsigned flags,
                                                 double *share) HF_MUST_CHECK;
HF_API double hf_dry_heat_break_stress_left(hf_dry_heat heat);

/** Share of the work to 20 % strain left; likewise. */
HF_API hf_status hf_dry_heat_work_left_e(hf_dry_heat heat, unsigned flags,
                                         double *share) HF_MUST_CHECK;
HF_API double hf_dry_heat_work_left(hf_dry_heat heat);

/* Hair under an iron, 80 times 15 s at 180 degC. */
typedef enum hf_ironed { HF_IRONED_VIRGIN = 0, HF_IRONED_BLEACHED = 1 } hf_ironed;

/** Share of the modulus left after that ironing. */
HF_API hf_status hf_ironing_modulus_left_e(hf_ironed hair, unsigned flags,
                                           double *share) HF_MUST_CHECK;
HF_API double hf_ironing_modulus_left(hf_ironed hair);

/** Share of the break stress left after that ironing. */
HF_API hf_status hf_ironing_break_stress_left_e(hf_ironed hair, unsigned flags,
                                                double *share) HF_MUST_CHECK;
HF_API double hf_ironing_break_stress_left(hf_ironed hair);

/* Spray on the hair before the iron. */
typedef enum hf_spray { HF_SPRAY_WATER = 0, HF_SPRAY_ETHANOL = 1 } hf_spray;

/** Share of the modulus left after spraying and ironing. */
HF_API hf_status hf_spray_modulus_left_e(hf_spray spray, unsigned flags,
                                         double *share) HF_MUST_CHECK;
HF_API double hf_spray_modulus_left(hf_spray spray);

/** Share of the break stress left after spraying and ironing. */
HF_API hf_status hf_spray_break_stress_left_e(hf_spray spray, unsigned flags,
                                              double *share) HF_MUST_CHECK;
HF_API double hf_spray_break_stress_left(hf_spray spray);

/* ---- scatter and counts ---------------------------------------------------------------------- */

/** Weibull modulus of a strength whose standard deviation over mean is `variation` (0.005..2). */
HF_API hf_status hf_weibull_modulus_e(double variation, unsigned flags,
                                      double *modulus) HF_MUST_CHECK;
HF_API double hf_weibull_modulus(double variation);

/** Standard deviation over mean of a strength with that Weibull modulus (0.5..300). */
HF_API hf_status hf_weibull_variation_e(double modulus, unsigned flags,
                                        double *variation) HF_MUST_CHECK;
HF_API double hf_weibull_variation(double modulus);

/** Probability that a strand breaks when it is stretched to a stress (0..1e9 Pa). */
HF_API hf_status hf_break_probability_e(double stress, double humidity, const hf_parameters *set,
                                        unsigned flags, double *probability) HF_MUST_CHECK;
HF_API double hf_break_probability(double stress, double humidity, const hf_parameters *set);

/** Expected break stress of the weakest of a number of strands (1..1e6, a whole number), Pa. */
HF_API hf_status hf_weakest_break_stress_e(double strands, double humidity,
                                           const hf_parameters *set, unsigned flags,
                                           double *stress) HF_MUST_CHECK;
HF_API double hf_weakest_break_stress(double strands, double humidity, const hf_parameters *set);

/** Expected number of strands that break when each of them is stretched to a stress. */
HF_API hf_status hf_broken_expected_e(double strands, double stress, double humidity,
                                      const hf_parameters *set, unsigned flags,
                                      double *broken) HF_MUST_CHECK;
HF_API double hf_broken_expected(double strands, double stress, double humidity,
                                 const hf_parameters *set);

/** Probability that at least `broken` of `strands` (whole numbers, up to 10000) break when each
 *  breaks with `probability`. HF_EINVAL for parts of strands, HF_ERANGE for more broken than there
 *  are. */
HF_API hf_status hf_broken_at_least_e(double broken, double strands, double probability,
                                      unsigned flags, double *answer) HF_MUST_CHECK;
HF_API double hf_broken_at_least(double broken, double strands, double probability);

/* ---- fatigue --------------------------------------------------------------------------------- */

/** Characteristic life (cycles that 63 % of the strands do not survive) of pulling to a stress
 * again and again. Supported between the stresses that were measured at that humidity (0.20..0.90);
 *  extrapolated to 1e6..2.5e8 Pa and 0..1. HF_ENOMODEL when the set has no fatigue table
 *  ("bleached", "wool"). */
HF_API hf_status hf_fatigue_life_e(double stress, double humidity, const hf_parameters *set,
                                   unsigned flags, double *cycles) HF_MUST_CHECK;
HF_API double hf_fatigue_life(double stress, double humidity, const hf_parameters *set);

/* Humidities at which fatigue was measured. */
typedef enum hf_fatigue_level {
    HF_FATIGUE_20 = 0,
    HF_FATIGUE_60 = 1,
    HF_FATIGUE_90 = 2
} hf_fatigue_level;

/** The same by a power law of its own for each measured humidity. */
HF_API hf_status hf_fatigue_life_rival_e(double stress, hf_fatigue_level level,
                                         const hf_parameters *set, unsigned flags,
                                         double *cycles) HF_MUST_CHECK;
HF_API double hf_fatigue_life_rival(double stress, hf_fatigue_level level,
                                    const hf_parameters *set);

/** Weibull shape of the life. humidity 0.20..0.90, extrapolated to 0..1. */
HF_API hf_status hf_fatigue_shape_e(double humidity, const hf_parameters *set, unsigned flags,
                                    double *shape) HF_MUST_CHECK;
HF_API double hf_fatigue_shape(double humidity, const hf_parameters *set);

/** Probability that a strand survives a number of cycles (0..3e5, extrapolated beyond). */
HF_API hf_status hf_fatigue_survival_e(double cycles, double stress, double humidity,
                                       const hf_parameters *set, unsigned flags,
                                       double *probability) HF_MUST_CHECK;
HF_API double hf_fatigue_survival(double cycles, double stress, double humidity,
                                  const hf_parameters *set);

/** Share of the characteristic life used by a number of cycles; may pass 1. */
HF_API hf_status hf_fatigue_used_e(double cycles, double stress, double humidity,
                                   const hf_parameters *set, unsigned flags,
                                   double *used) HF_MUST_CHECK;
HF_API double hf_fatigue_used(double cycles, double stress, double humidity,
                              const hf_parameters *set);

/** Probability of surviving a history that used that share of the characteristic life, with the
 *  Weibull shape of one humidity. */
HF_API hf_status hf_survival_of_used_e(double used, double humidity, const hf_parameters *set,
                                       unsigned flags, double *probability) HF_MUST_CHECK;
HF_API double hf_survival_of_used(double used, double humidity, const hf_parameters *set);

/** Weibull law with constants of one's own: probability of failure up to a number of cycles. */
HF_API hf_status hf_weibull_failure_e(double cycles, double life, double shape, unsigned flags,
                                      double *probability) HF_MUST_CHECK;
HF_API double hf_weibull_failure(double cycles, double life, double shape);

/** Cycles at which that probability of failure (0..1, below 1) is reached: the inverse. */
HF_API hf_status hf_weibull_cycles_e(double probability, double life, double shape, unsigned flags,
                                     double *cycles) HF_MUST_CHECK;
HF_API double hf_weibull_cycles(double probability, double life, double shape);

/** Linear damage sum of n blocks: cycles[i] of a life of life[i] cycles. Blind to their order.
 *  HF_EINVAL: NULL or a number that is not finite; HF_ERANGE: negative cycles, life not above 0, a
 *  sum beyond what a double holds.
 *  *bad (may be NULL) is the index of the block at fault. n 0 gives 0. */
HF_API hf_status hf_miner_sum_e(size_t n, const double *cycles, const double *life, double *sum,
                                size_t *bad) HF_MUST_CHECK;

/** Share of the characteristic life used by n blocks of a mixed history, and the probability of
 *  surviving it: the linear damage sum of the characteristic lives, with the mean Weibull shape of
 *  the blocks weighted by their shares. Errors and ranges as hf_fatigue_used_e, the worst of the
 *  blocks; nothing is written on failure but *bad. Any output may be NULL, not all. */
HF_API hf_status hf_fatigue_mixed_e(size_t n, const double *cycles, const double *stress,
                                    const double *humidity, const hf_parameters *set,
                                    unsigned flags, double *used, double *survival,
                                    size_t *bad) HF_MUST_CHECK;

/* ---- cuticle, as geometry -------------------------------------------------------------------- */

/** Thickness of a cuticle of a number of layers, m. layers 5..10, extrapolated to 0..30. */
HF_API hf_status hf_cuticle_thickness_e(double layers, const hf_parameters *set, unsigned flags,
                                        double *thickness) HF_MUST_CHECK;
HF_API double hf_cuticle_thickness(double layers, const hf_parameters *set);

/** Share of the cross-section of a round fibre that is cuticle. HF_ERANGE when the cuticle is
 *  thicker than the radius. */
HF_API hf_status hf_cuticle_share_e(double thickness, double diameter, unsigned flags,
                                    double *share) HF_MUST_CHECK;
HF_API double hf_cuticle_share(double thickness, double diameter);

/** Shear modulus of the cuticle of a round composite fibre, Pa, from the modulus of the whole fibre
 *  and that of the fibre without cuticle. */
HF_API hf_status hf_cuticle_shear_modulus_e(double whole, double without, double thickness,
                                            double diameter, unsigned flags,
                                            double *modulus) HF_MUST_CHECK;
HF_API double hf_cuticle_shear_modulus(double whole, double without, double thickness,
                                       double diameter);

/** Strain by which a cortex at one regain would outgrow a cuticle at another, around the fibre, if
 *  each were free. Positive: the cuticle is under tension. regains 0..0.40, extrapolated to 1. */
HF_API hf_status hf_cuticle_mismatch_e(double cortex_regain, double cuticle_regain,
                                       const hf_parameters *set, unsigned flags,
                                       double *mismatch) HF_MUST_CHECK;
HF_API double hf_cuticle_mismatch(double cortex_regain, double cuticle_regain,
                                  const hf_parameters *set);

/** Curvature of a free flat strip of two bonded elastic layers whose free lengths differ, 1/m.
 *  mismatch: strain by which the inner layer outgrows the outer one, -0.02..0.02, extrapolated to
 *  -0.5..0.5. Positive: the strip curls toward the outer layer. */
HF_API hf_status hf_strip_curvature_e(double mismatch, double outer_thickness,
                                      double inner_thickness, double outer_modulus,
                                      double inner_modulus, unsigned flags,
                                      double *curvature) HF_MUST_CHECK;
HF_API double hf_strip_curvature(double mismatch, double outer_thickness, double inner_thickness,
                                 double outer_modulus, double inner_modulus);

#ifdef __cplusplus
}
#endif

#endif
