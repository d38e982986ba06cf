/*
 * chemistry: what a bath does to a fibre. Ionic groups by Donnan equilibrium; disulfide bonds
 * through reduction, bleaching and neutralising with a balance of sulfur; calorimetry of bleached
 * hair.
 *
 * State as in bonds.h: `ph` is pH of the bath, `ionic_strength` mol/m3 of a 1:1 salt in it
 * (the acid or base that makes the pH comes on top), `regain` the water in the fibre, `temperature`
 * K, `duration` s, `concentration` mol/m3 of thiol, `peroxide` kg hydrogen peroxide per kg bath.
 * Contents are mol per kg dry fibre. A content is never a share of strength. Everything holds for
 * 25 degC unless temperature is an argument. Errors as in bonds.h. Chemicals hurt eyes, skin and
 * lungs: nothing here is advice. Equations, symbols and sources: lib/bonds/donnan.c, reduction.c,
 * bleaching.c, sulfur.c.
 */
#ifndef HAIRFIBRE_CHEMISTRY_H
#define HAIRFIBRE_CHEMISTRY_H

#include <hairfibre/base.h>

#ifdef __cplusplus
extern "C" {
#endif

/* ---- ionic groups in a bath ------------------------------------------------------------------ */
/* ph 1..12, extrapolated to 0..14; ionic_strength 0..1000, extrapolated to 5000 mol/m3; regain
 * 0.2..0.6, extrapolated to 0.01..1. */

/** pH of the water inside the fibre in balance with the bath. */
HF_API hf_status hf_internal_ph_e(double ph, double ionic_strength, double regain,
                                  const hf_parameters *set, unsigned flags,
                                  double *inside) HF_MUST_CHECK;
HF_API double hf_internal_ph(double ph, double ionic_strength, double regain,
                             const hf_parameters *set);

/** Electric potential of the fibre against the bath, V; positive while the fibre holds acid. */
HF_API hf_status hf_donnan_potential_e(double ph, double ionic_strength, double regain,
                                       const hf_parameters *set, unsigned flags,
                                       double *potential) HF_MUST_CHECK;
HF_API double hf_donnan_potential(double ph, double ionic_strength, double regain,
                                  const hf_parameters *set);

/** Osmotic pressure of the mobile ions inside over those of the bath, Pa. */
HF_API hf_status hf_donnan_pressure_e(double ph, double ionic_strength, double regain,
                                      const hf_parameters *set, unsigned flags,
                                      double *pressure) HF_MUST_CHECK;
HF_API double hf_donnan_pressure(double ph, double ionic_strength, double regain,
                                 const hf_parameters *set);

/** Acid bound since the fibre was without charge, mol/kg; negative: base bound. */
HF_API hf_status hf_acid_bound_e(double ph, double ionic_strength, double regain,
                                 const hf_parameters *set, unsigned flags,
                                 double *bound) HF_MUST_CHECK;
HF_API double hf_acid_bound(double ph, double ionic_strength, double regain,
                            const hf_parameters *set);

/** Titration curve: acid bound at n acidities of the bath. Stops at the first failure, *bad (may be
 *  NULL) is its index; else the worst status. HF_EINVAL for a missing array. */
HF_API hf_status hf_acid_bound_v(size_t n, const double *ph, double ionic_strength, double regain,
                                 const hf_parameters *set, unsigned flags, double *bound,
                                 size_t *bad) HF_MUST_CHECK;

/** Pairs of a charged acid group (carboxyl or cysteic) and a charged basic group, at most, mol/kg,
 *  at the pH inside the fibre. */
HF_API hf_status hf_salt_bridges_donnan_e(double ph, double ionic_strength, double regain,
                                          const hf_parameters *set, unsigned flags,
                                          double *bridges) HF_MUST_CHECK;
HF_API double hf_salt_bridges_donnan(double ph, double ionic_strength, double regain,
                                     const hf_parameters *set);

/** Growth of the volume of the wet fibre by that pressure, over its volume without charge. */
HF_API hf_status hf_ph_swelling_e(double ph, double ionic_strength, double regain,
                                  const hf_parameters *set, unsigned flags,
                                  double *growth) HF_MUST_CHECK;
HF_API double hf_ph_swelling(double ph, double ionic_strength, double regain,
                             const hf_parameters *set);

/** pH at which the fibre carries no net charge, inside and outside alike, whatever the salt.
 *  HF_ERANGE when the groups never balance. */
HF_API hf_status hf_isoionic_point_e(const hf_parameters *set, unsigned flags,
                                     double *ph) HF_MUST_CHECK;
HF_API double hf_isoionic_point(const hf_parameters *set);

/* ---- reduction by thioglycolate -------------------------------------------------------------- */
/* Two laws. Uniform, first order: the thiol gets in faster than it reacts (cysteamine at pH 6 to 9;
 * ammonium thioglycolate 1 mol/l at pH 9.4 is reported so). Sharp front: it reacts faster than it
 * gets in (thioglycolate 0.42 mol/l at pH 9; cysteamine at pH 10). Neither fits all reduced-time
 * data; the usual law is the first. */

/** Rate of uniform reduction at a pH, 1/s: in proportion to the ionised thiol. ph 8.5..9.5,
 *  extrapolated to 7..12; the rest as for hf_disulfide_reduction_rate_e, which holds at pH 9.4. */
HF_API hf_status hf_thiol_reduction_rate_e(double temperature, double concentration, double ph,
                                           const hf_parameters *set, unsigned flags,
                                           double *rate) HF_MUST_CHECK;
HF_API double hf_thiol_reduction_rate(double temperature, double concentration, double ph,
                                      const hf_parameters *set);

/** Depth of the sharp front below the surface, m; the radius once it reached the axis. `diameter`
 *  is that of the wet fibre, 2e-5..2.5e-4 m. */
HF_API hf_status hf_reduction_front_depth_e(double temperature, double concentration,
                                            double diameter, double duration,
                                            const hf_parameters *set, unsigned flags,
                                            double *depth) HF_MUST_CHECK;
HF_API double hf_reduction_front_depth(double temperature, double concentration, double diameter,
                                       double duration, const hf_parameters *set);

/** Share of disulfide bonds opened behind that front. */
HF_API hf_status hf_reduction_moving_boundary_e(double temperature, double concentration,
                                                double diameter, double duration,
                                                const hf_parameters *set, unsigned flags,
                                                double *share) HF_MUST_CHECK;
HF_API double hf_reduction_moving_boundary(double temperature, double concentration,
                                           double diameter, double duration,
                                           const hf_parameters *set);

/** Time over half-life at which a share (0..0.999) is opened, uniform law: to test data by form. */
HF_API hf_status hf_reduced_time_uniform_e(double share, unsigned flags,
                                           double *time) HF_MUST_CHECK;
HF_API double hf_reduced_time_uniform(double share);

/** The same for the sharp front in a cylinder (0..1). */
HF_API hf_status hf_reduced_time_front_e(double share, unsigned flags, double *time) HF_MUST_CHECK;
HF_API double hf_reduced_time_front(double share);

/* ---- bleaching ------------------------------------------------------------------------------- */

/* How a loss grows with time. Published series disagree, so both are offered. */
typedef enum hf_bleach_law {
    HF_BLEACH_ROOT = 0,  /* with the square root of time */
    HF_BLEACH_STEADY = 1 /* at a steady rate: first order in what is left, or a straight line */
} hf_bleach_law;

/** Share of half-cystine turned into cysteic acid by alkaline peroxide (pH 9 to 11). Both laws go
 *  through one loss at one time (parameters rate.oxidation), which is assumed. temperature
 *  293.15..313.15 K, extrapolated to 273.15..333.15; peroxide 0.03..0.12, extrapolated to 0..0.35.
 *  A share above 0.45, the largest read, is extrapolated; HF_ERANGE above 1. */
HF_API hf_status hf_half_cystine_bleached_e(double duration, double temperature, double peroxide,
                                            hf_bleach_law law, const hf_parameters *set,
                                            unsigned flags, double *share) HF_MUST_CHECK;
HF_API double hf_half_cystine_bleached(double duration, double temperature, double peroxide,
                                       hf_bleach_law law, const hf_parameters *set);

/** Cysteic acid of hair that was untreated before such a bleach, mol/kg. */
HF_API hf_status hf_cysteic_acid_e(double duration, double temperature, double peroxide,
                                   hf_bleach_law law, const hf_parameters *set, unsigned flags,
                                   double *content) HF_MUST_CHECK;
HF_API double hf_cysteic_acid(double duration, double temperature, double peroxide,
                              hf_bleach_law law, const hf_parameters *set);

/** Wet denaturation peak (2 K/min) after a time of bleaching, K; 0..14400 s. */
HF_API hf_status hf_bleached_peak_e(double duration, hf_bleach_law law, const hf_parameters *set,
                                    unsigned flags, double *temperature) HF_MUST_CHECK;
HF_API double hf_bleached_peak(double duration, hf_bleach_law law, const hf_parameters *set);

/** Its enthalpy, J per kg of hair. */
HF_API hf_status hf_bleached_enthalpy_e(double duration, hf_bleach_law law,
                                        const hf_parameters *set, unsigned flags,
                                        double *enthalpy) HF_MUST_CHECK;
HF_API double hf_bleached_enthalpy(double duration, hf_bleach_law law, const hf_parameters *set);

/** Wet denaturation peak (another laboratory) after a number of bleachings 0..3, K. */
HF_API hf_status hf_bleached_peak_by_number_e(double treatments, const hf_parameters *set,
                                              unsigned flags, double *temperature) HF_MUST_CHECK;
HF_API double hf_bleached_peak_by_number(double treatments, const hf_parameters *set);

/* Two lines for the same enthalpies: through the printed points, and the line printed with them. */
typedef enum hf_number_law { HF_NUMBER_POINTS = 0, HF_NUMBER_PRINTED = 1 } hf_number_law;

/** Its enthalpy, J per kg of hair. */
HF_API hf_status hf_bleached_enthalpy_by_number_e(double treatments, hf_number_law law,
                                                  const hf_parameters *set, unsigned flags,
                                                  double *enthalpy) HF_MUST_CHECK;
HF_API double hf_bleached_enthalpy_by_number(double treatments, hf_number_law law,
                                             const hf_parameters *set);

/** Enthalpy from the peak temperature of bleached hair by the printed line, J/kg; 418.15..431.65 K,
 *  extrapolated to 383.15..443.15 K. */
HF_API hf_status hf_enthalpy_from_peak_e(double temperature, const hf_parameters *set,
                                         unsigned flags, double *enthalpy) HF_MUST_CHECK;
HF_API double hf_enthalpy_from_peak(double temperature, const hf_parameters *set);

/** How far each law misses the printed series it describes, root mean square: of nine peaks (K),
 *  of nine enthalpies (J/kg), of four enthalpies by number (J/kg). */
HF_API hf_status hf_bleached_peak_misfit_e(hf_bleach_law law, const hf_parameters *set,
                                           unsigned flags, double *misfit) HF_MUST_CHECK;
HF_API double hf_bleached_peak_misfit(hf_bleach_law law, const hf_parameters *set);
HF_API hf_status hf_bleached_enthalpy_misfit_e(hf_bleach_law law, const hf_parameters *set,
                                               unsigned flags, double *misfit) HF_MUST_CHECK;
HF_API double hf_bleached_enthalpy_misfit(hf_bleach_law law, const hf_parameters *set);
HF_API hf_status hf_bleached_enthalpy_by_number_misfit_e(hf_number_law law,
                                                         const hf_parameters *set, unsigned flags,
                                                         double *misfit) HF_MUST_CHECK;
HF_API double hf_bleached_enthalpy_by_number_misfit(hf_number_law law, const hf_parameters *set);

/* ---- balance of sulfur through a schedule ---------------------------------------------------- */

/* Half-cystine by what became of it, mol per kg dry fibre: the first four always add up to the
 * same. The last two are memory of the laws. */
typedef struct hf_sulfur {
    double cystine;     /* in disulfide bonds, two half-cystine each */
    double thiol;       /* reduced */
    double cysteic;     /* oxidised to cysteic acid */
    double lanthionine; /* joined through one sulfur; no step here makes any */
    double reformable;  /* part of `thiol` that a neutraliser can still join */
    double oxidised;    /* share of half-cystine oxidised since untreated, squared */
} hf_sulfur;

/* kind, word, meaning */
#define HF_SULFUR_LIST(X)                                                                          \
    X(HF_SULFUR_BATH, "bath", "water, acid or weak alkali up to pH 10.5: nothing happens")         \
    X(HF_SULFUR_REDUCE, "reduce", "thioglycolate opens disulfide bonds")                           \
    X(HF_SULFUR_NEUTRALISE, "neutralise", "an oxidant joins thiol groups again")                   \
    X(HF_SULFUR_BLEACH, "bleach", "alkaline peroxide makes cysteic acid")                          \
    X(HF_SULFUR_ALKALI, "alkali", "strong alkali makes lanthionine: no rate is known")             \
    X(HF_SULFUR_RINSE, "rinse", "water: nothing happens")

typedef enum hf_sulfur_kind {
#define HF_SULFUR_ENUM(id, word, text) id,
    HF_SULFUR_LIST(HF_SULFUR_ENUM)
#undef HF_SULFUR_ENUM
        HF_SULFUR_KINDS
} hf_sulfur_kind;

/** Word for a kind ("reduce"); NULL past the end. */
HF_API const char *hf_sulfur_word(hf_sulfur_kind kind);

/* One step; each kind reads only what its line names. */
typedef struct hf_sulfur_step {
    hf_sulfur_kind kind;
    double duration;      /* s, 0 or more */
    double temperature;   /* K; reduce, bleach */
    double ph;            /* pH; reduce, bleach, bath */
    double concentration; /* mol/m3 of thiol; reduce */
    double peroxide;      /* kg/kg; bleach */
    double diameter;      /* m, wet; reduce with law 1 */
    int law;              /* reduce: 0 uniform, 1 sharp front; bleach: an hf_bleach_law */
} hf_sulfur_step;

#define HF_SULFUR_STEP_INIT(kind, duration)                                                        \
    {                                                                                              \
        (kind), (duration), 296.15, 7, 0, 0, 76e-6, 0                                              \
    }

/** State of this hair before any step: half-cystine less cysteic acid is cystine, no thiol.
 *  HF_ERANGE when the set holds more cysteic acid than half-cystine. */
HF_API hf_status hf_sulfur_start_e(const hf_parameters *set, hf_sulfur *state) HF_MUST_CHECK;

/** Half-cystine in all, mol/kg: cystine + thiol + cysteic + lanthionine. */
HF_API double hf_sulfur_total(const hf_sulfur *state);

/** Takes the state through one step, in any order of steps. HF_OK or HF_EXTRAPOLATED also when
 * there was nothing to do; `message` (may be NULL) then says why, else it is "". HF_ENOMODEL for
 * strong alkali and for a bath above pH 10.5; HF_EINVAL and HF_ERANGE with a sentence that names
 * the field. On failure the state is unchanged. */
HF_API hf_status hf_sulfur_step_e(const hf_sulfur_step *step, const hf_parameters *set,
                                  unsigned flags, hf_sulfur *state,
                                  hf_message *message) HF_MUST_CHECK;

#ifdef __cplusplus
}
#endif

#endif
