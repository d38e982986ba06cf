/*
 * bonds: populations of bonds in the fibre, rates of their loss, and damage along a history.
 *
 * Populations are in mol per kg dry fibre. A population is never a share of strength, and damage is
 * never one number: each channel (helix, tryptophan, ...) has its own law and its own range.
 * State as in keratin.h: `temperature` K, `regain` kg water per kg dry fibre; `ph` is the pH of a bath,
 * `duration` s, `concentration` mol/m3. Every function takes `set` (NULL: "virgin") and `flags`;
 * the short form without _e is strict and gives NaN on any failure. Errors of every _e function:
 * HF_EINVAL for a missing output or a number that is not finite; HF_ERANGE and HF_EXTRAPOLATED as
 * base.h says. Nothing here is advice about heat, chemicals or people.
 * Equations, symbols and sources: the head comments of lib/bonds/.
 */
#ifndef HAIRFIBRE_BONDS_H
#define HAIRFIBRE_BONDS_H

#include <hairfibre/base.h>
#include <hairfibre/keratin.h>

#ifdef __cplusplus
extern "C" {
#endif

/* ---- populations ----------------------------------------------------------------------------- */

/** Backbone hydrogen bonds that water can reach, mol/kg. */
HF_API hf_status hf_hydrogen_bonds_accessible_e(const hf_parameters *set, unsigned flags,
                                                double *bonds) HF_MUST_CHECK;
HF_API double hf_hydrogen_bonds_accessible(const hf_parameters *set);

/** Backbone hydrogen bonds that water does not reach (helices), mol/kg. */
HF_API hf_status hf_hydrogen_bonds_protected_e(const hf_parameters *set, unsigned flags,
                                               double *bonds) HF_MUST_CHECK;
HF_API double hf_hydrogen_bonds_protected(const hf_parameters *set);

/** Accessible hydrogen bonds opened by water, mol/kg: in proportion to regain over the saturation
 *  regain at this temperature, and all that can open once liquid water is present. */
HF_API hf_status hf_hydrogen_bonds_open_e(double regain, double temperature, hf_branch branch,
                                          const hf_parameters *set, unsigned flags,
                                          double *bonds) HF_MUST_CHECK;
HF_API double hf_hydrogen_bonds_open(double regain, double temperature, hf_branch branch,
                                     const hf_parameters *set);

/** Accessible hydrogen bonds that open and close freely because the fibre is soft, mol/kg: half of
 *  them at the glass transition of this regain. regain 0..0.40, extrapolated to 1; temperature
 *  273.15..423.15 K, extrapolated to 250..523.15 K. Assumed. */
HF_API hf_status hf_hydrogen_bonds_mobile_e(double regain, double temperature,
                                            const hf_parameters *set, unsigned flags,
                                            double *bonds) HF_MUST_CHECK;
HF_API double hf_hydrogen_bonds_mobile(double regain, double temperature, const hf_parameters *set);

/** Share of a shape set by drying that is left after a time at 40 % humidity (released there,
 *  dried at 20 %). 1800..28800 s, extrapolated beyond. Wetting or heating above the glass
 *  transition takes it all. */
HF_API hf_status hf_water_set_e(double duration, const hf_parameters *parameters, unsigned flags,
                                double *set) HF_MUST_CHECK;
HF_API double hf_water_set(double duration, const hf_parameters *parameters);

/* One cycle: softened at a sample, set again at another; swelling from the driest state since the
 * cycle before to the wettest while soft. */
typedef struct hf_bond_cycle {
    size_t softened, set;
    double diameter_strain, length_strain;
} hf_bond_cycle;

/** Cycles of breaking and re-forming of hydrogen bonds along n samples of regain and temperature (K):
 *  each time the fibre softens (passes its glass transition) and sets again. The first `room` go to
 *  `cycles` (may be NULL with room 0), *count is their number. Ranges as hf_hydrogen_bonds_mobile_e;
 *  *bad (may be NULL) is the sample at fault; nothing else is written on failure. A number of cycles
 *  is no damage. */
HF_API hf_status hf_bond_cycles_e(size_t n, const double *regain, const double *temperature,
                                  const hf_parameters *set, unsigned flags, hf_bond_cycle *cycles,
                                  size_t room, size_t *count, size_t *bad) HF_MUST_CHECK;

/** Charged carboxyl groups, mol/kg. ph 2..10, extrapolated to 0..14; the water in the fibre is
 *  taken to have the pH of the bath. */
HF_API hf_status hf_carboxylate_e(double ph, const hf_parameters *set, unsigned flags,
                                  double *groups) HF_MUST_CHECK;
HF_API double hf_carboxylate(double ph, const hf_parameters *set);

/** Charged basic groups, mol/kg; likewise. */
HF_API hf_status hf_charged_base_e(double ph, const hf_parameters *set, unsigned flags,
                                   double *groups) HF_MUST_CHECK;
HF_API double hf_charged_base(double ph, const hf_parameters *set);

/** Pairs of a charged carboxyl and a charged basic group, at most, mol/kg; likewise. */
HF_API hf_status hf_salt_bridges_e(double ph, const hf_parameters *set, unsigned flags,
                                   double *bridges) HF_MUST_CHECK;
HF_API double hf_salt_bridges(double ph, const hf_parameters *set);

/** Intact disulfide bonds of this hair, mol/kg. */
HF_API hf_status hf_disulfide_content_e(const hf_parameters *set, unsigned flags,
                                        double *bonds) HF_MUST_CHECK;
HF_API double hf_disulfide_content(const hf_parameters *set);

/** Share of half-cystine oxidised, from the content of cysteic acid (mol/kg). HF_ERANGE below the
 *  content of untreated hair. */
HF_API hf_status hf_half_cystine_oxidised_e(double cysteic_acid, const hf_parameters *set,
                                            unsigned flags, double *share) HF_MUST_CHECK;
HF_API double hf_half_cystine_oxidised(double cysteic_acid, const hf_parameters *set);

/* ---- disulfide chemistry --------------------------------------------------------------------- */

/** Rate of disulfide reduction by a thiol at pH 9.4, 1/s. concentration 400..1200 mol/m3,
 *  temperature 291.15..303.15 K; extrapolated to 0..3000 mol/m3 and 273.15..373.15 K. */
HF_API hf_status hf_disulfide_reduction_rate_e(double temperature, double concentration,
                                               const hf_parameters *set, unsigned flags,
                                               double *rate) HF_MUST_CHECK;
HF_API double hf_disulfide_reduction_rate(double temperature, double concentration,
                                          const hf_parameters *set);

/** Share of disulfide bonds opened after a duration (0..600 s, extrapolated beyond). */
HF_API hf_status hf_disulfide_reduced_e(double temperature, double concentration, double duration,
                                        const hf_parameters *set, unsigned flags,
                                        double *share) HF_MUST_CHECK;
HF_API double hf_disulfide_reduced(double temperature, double concentration, double duration,
                                   const hf_parameters *set);

/** Share of the opened bonds that formed again after a duration in a neutraliser (0..900 s,
 *  extrapolated beyond). */
HF_API hf_status hf_disulfide_reoxidised_e(double duration, const hf_parameters *set,
                                           unsigned flags, double *share) HF_MUST_CHECK;
HF_API double hf_disulfide_reoxidised(double duration, const hf_parameters *set);

/** Share of disulfide lost by bleaching, carried over from one's own measurement with the square
 * root of time: `reference_loss` was found after `reference_duration`. HF_ERANGE when the answer is
 * above 0.45, the largest loss read. */
HF_API hf_status hf_disulfide_bleached_e(double duration, double reference_duration,
                                         double reference_loss, unsigned flags,
                                         double *share) HF_MUST_CHECK;
HF_API double hf_disulfide_bleached(double duration, double reference_duration,
                                    double reference_loss);

/** Rate of the reaction of cystine with alkali over its rate at another temperature: only the ratio
 * is known. 293.15..373.15 K, extrapolated to 273.15..423.15 K. */
HF_API hf_status hf_lanthionine_rate_ratio_e(double temperature, double reference_temperature,
                                             const hf_parameters *set, unsigned flags,
                                             double *ratio) HF_MUST_CHECK;
HF_API double hf_lanthionine_rate_ratio(double temperature, double reference_temperature,
                                        const hf_parameters *set);

/* ---- rates of loss by heat ------------------------------------------------------------------- */

/** Rate of helix loss, 1/s: moves with the denaturation temperature from the wet law to the rate read
 * in an iron as the fibre dries, a construction of this project. Supported at a regain of 0.15 or more
 * and of 0.05 or less; between them always extrapolated. */
HF_API hf_status hf_helix_rate_e(double temperature, double regain, const hf_parameters *set,
                                 unsigned flags, double *rate) HF_MUST_CHECK;
HF_API double hf_helix_rate(double temperature, double regain, const hf_parameters *set);

/** Rate of helix loss in wet hair, 1/s. 395.15..448.15 K. All rates of this group are extrapolated
 * to 173.15..623.15 K. */
HF_API hf_status hf_helix_rate_wet_e(double temperature, const hf_parameters *set, unsigned flags,
                                     double *rate) HF_MUST_CHECK;
HF_API double hf_helix_rate_wet(double temperature, const hf_parameters *set);

/** The same with the frequency from another laboratory's peak. */
HF_API hf_status hf_helix_rate_wet_rival_e(double temperature, const hf_parameters *set,
                                           unsigned flags, double *rate) HF_MUST_CHECK;
HF_API double hf_helix_rate_wet_rival(double temperature, const hf_parameters *set);

/** Rate of helix loss in dry hair by calorimetry, 1/s. 483.15..513.15 K. */
HF_API hf_status hf_helix_rate_dry_e(double temperature, const hf_parameters *set, unsigned flags,
                                     double *rate) HF_MUST_CHECK;
HF_API double hf_helix_rate_dry(double temperature, const hf_parameters *set);

/** Rate of helix loss in an iron, 1/s: measured at 200 degC only. 463.15..483.15 K. */
HF_API hf_status hf_helix_rate_ironing_e(double temperature, const hf_parameters *set,
                                         unsigned flags, double *rate) HF_MUST_CHECK;
HF_API double hf_helix_rate_ironing(double temperature, const hf_parameters *set);

/** Rate of tryptophan loss, 1/s. 403.15..437.15 K. */
HF_API hf_status hf_tryptophan_rate_e(double temperature, const hf_parameters *set, unsigned flags,
                                      double *rate) HF_MUST_CHECK;
HF_API double hf_tryptophan_rate(double temperature, const hf_parameters *set);

/** Share of the helices left after a duration at constant temperature and regain. */
HF_API hf_status hf_helix_remaining_e(double temperature, double regain, double duration,
                                      const hf_parameters *set, unsigned flags,
                                      double *share) HF_MUST_CHECK;
HF_API double hf_helix_remaining(double temperature, double regain, double duration,
                                 const hf_parameters *set);

/** Share of the tryptophan left after a duration at constant temperature. */
HF_API hf_status hf_tryptophan_remaining_e(double temperature, double duration,
                                           const hf_parameters *set, unsigned flags,
                                           double *share) HF_MUST_CHECK;
HF_API double hf_tryptophan_remaining(double temperature, double duration,
                                      const hf_parameters *set);

/** Share of the helices left after a number of bleachings (0..3, extrapolated to 20). */
HF_API hf_status hf_helix_after_bleaching_e(double treatments, const hf_parameters *set,
                                            unsigned flags, double *share) HF_MUST_CHECK;
HF_API double hf_helix_after_bleaching(double treatments, const hf_parameters *set);

/* ---- Arrhenius laws of one's own ---------------------------------------------------------------
 */

/** Activation temperature E/R, K, of an activation energy in J/mol. */
HF_API double hf_activation_temperature(double energy);

/** Rate exp(log_frequency - activation_temperature / temperature), in the unit of the frequency
 * whose natural logarithm is given. temperature > 0, activation_temperature >= 0. HF_EINVAL,
 * HF_ERANGE. */
HF_API hf_status hf_arrhenius_e(double temperature, double log_frequency,
                                double activation_temperature, double *rate) HF_MUST_CHECK;
HF_API double hf_arrhenius(double temperature, double log_frequency, double activation_temperature);

/** The same law through a known rate at a reference temperature. HF_EINVAL, HF_ERANGE. */
HF_API hf_status hf_arrhenius_from_reference_e(double temperature, double reference_rate,
                                               double reference_temperature,
                                               double activation_temperature,
                                               double *rate) HF_MUST_CHECK;
HF_API double hf_arrhenius_from_reference(double temperature, double reference_rate,
                                          double reference_temperature,
                                          double activation_temperature);

/** Exposure: the time integral of that rate over n samples of time (s) and temperature (K), linear
 *  between samples; exact for such a history. HF_EINVAL: n < 2, NULL or a number that is not
 * finite; HF_EDATA: time does not increase; HF_ERANGE: temperature not above 0 or negative
 * activation temperature. *bad (may be NULL) is the index of the sample at fault. */
HF_API hf_status hf_arrhenius_exposure_e(size_t n, const double *time, const double *temperature,
                                         double log_frequency, double activation_temperature,
                                         double *exposure, size_t *bad) HF_MUST_CHECK;

/* ---- damage along a history -------------------------------------------------------------------
 */

/* Channels: enum, name, unit, range of temperature that evidence supports (K), temperature from
 * which the law counts at all (K), names of the parameters of its activation energy, meaning.
 * Between regains of 0.05 and 0.15 the channel "helix" counts as outside its range at every
 * temperature; above them the range of "helix wet" holds, below them that of "helix ironing".
 * Below `counted_from` a law says nothing and nothing is counted: the energy of tryptophan loss,
 * 27.6 kJ/mol, was found under irons at 130 to 164 degC and would empty a fibre at room temperature
 * within days. The functions hf_..._rate_e still answer there, as extrapolated. */
#define HF_CHANNEL_LIST(X)                                                                         \
    X(HF_CHANNEL_HELIX, "helix", "1", 395.15, 483.15, 0, "rate.helix.wet.energy",                  \
      "helices left: the wet law, moved with drying")                                              \
    X(HF_CHANNEL_HELIX_IRONING, "helix ironing", "1", 463.15, 483.15, 0,                           \
      "rate.helix.ironing.energy", "rival: helices left by the ironing law alone")                 \
    X(HF_CHANNEL_HELIX_WET, "helix wet", "1", 395.15, 448.15, 0, "rate.helix.wet.energy",          \
      "rival: helices left by the wet law, as if never dried")                                     \
    X(HF_CHANNEL_HELIX_DRY, "helix dry", "1", 483.15, 513.15, 0, "rate.helix.dry.energy",          \
      "rival: helices left by dry calorimetry alone")                                              \
    X(HF_CHANNEL_TRYPTOPHAN, "tryptophan", "1", 403.15, 437.15, 383.15, "rate.tryptophan.energy",  \
      "tryptophan left")

typedef enum hf_channel {
#define HF_CHANNEL_ENUM(id, name, unit, low, high, counted_from, energy, text) id,
    HF_CHANNEL_LIST(HF_CHANNEL_ENUM)
#undef HF_CHANNEL_ENUM
        HF_CHANNELS
} hf_channel;

typedef struct hf_channel_info {
    const char *name, *unit;
    double temperature_low, temperature_high;
    double counted_from; /* K; below it nothing is counted */
    const char *energy;  /* parameter names separated by a blank */
    const char *text;
} hf_channel_info;

/** Description of a channel; NULL past the end. */
HF_API const hf_channel_info *hf_channel_at(size_t index);

/** Rate of a channel, 1/s, at a temperature (173.15..623.15 K) and regain (read by "helix" alone):
 *  the lines of an Arrhenius plot, ln rate against 1/temperature. 0 below `counted_from`, with
 *  HF_EXTRAPOLATED. Errors as for the rates above; HF_EINVAL for no such channel. */
HF_API hf_status hf_channel_rate_e(hf_channel channel, double temperature, double regain,
                                   const hf_parameters *set, unsigned flags,
                                   double *rate) HF_MUST_CHECK;
HF_API double hf_channel_rate(hf_channel channel, double temperature, double regain,
                              const hf_parameters *set);

/* One pass over n samples, repeated. Temperature and regain are linear between samples. Give
 * `regain` or `humidity`, the other one NULL: humidity is turned into the absorption regain at the
 * temperature of its sample, as if the fibre were in balance with the air all the time. */
typedef struct hf_history {
    size_t n;
    const double *time;        /* s, strictly increasing */
    const double *temperature; /* K, 173.15..623.15; with humidity 273.15..523.15 */
    const double *regain;      /* kg/kg, 0..1 */
    const double *humidity;    /* 0..1 */
    size_t passes;             /* at least 1 */
} hf_history;

typedef struct hf_damage {
    double exposure[HF_CHANNELS];       /* time integral of the rate over one pass */
    double exposure_error[HF_CHANNELS]; /* estimate of its numerical error; 0: closed form */
    double remaining[HF_CHANNELS];      /* exp(-passes exposure) */
    double outside[HF_CHANNELS];        /* share of the exposure gathered outside the range */
    unsigned extrapolated;              /* bit 1u << channel: that share is above 1 % */
} hf_damage;

/* Running values, n numbers per channel in arrays of the caller; any pointer may be NULL. */
typedef struct hf_damage_columns {
    double *first[HF_CHANNELS]; /* remaining at each sample of the first pass */
    double *last[HF_CHANNELS];  /* and of the last pass */
} hf_damage_columns;

/** What is left in every channel after the passes of a history. Rates are always taken beyond their
 *  ranges and marked in `extrapolated`; then the status is HF_EXTRAPOLATED. HF_EINVAL: n < 2, a
 *  missing column, both or none of regain and humidity, a number that is not finite; HF_EDATA: time
 *  does not increase; HF_ERANGE: a sample out of the ranges above, or no pass; HF_ECONVERGE. On
 *  failure nothing is written but *bad (index of the sample at fault) and `message`. `columns`,
 * `bad` and `message` may be NULL. */
HF_API hf_status hf_damage_along_history_e(const hf_history *history, const hf_parameters *set,
                                           hf_damage *damage, const hf_damage_columns *columns,
                                           size_t *bad, hf_message *message) HF_MUST_CHECK;

#ifdef __cplusplus
}
#endif

#endif
