/*
 * ensemble: many strands of a population through one treatment.
 *
 * Strand k of an ensemble is a function of (plan, set, seed, k) alone: the same numbers to the last bit
 * whatever the number of threads, and whether it was computed in one run, in parts on several machines, or
 * after an interruption. Kept are a few numbers per strand; everything else is let go.
 *
 * A population is a spread of sections: area lognormal, ellipticity normal (cut off at 1 and 3), share of
 * medulla uniform. Strength scatters between strands as strength.scatter says. Parameters of the catalogue can be drawn anew for every strand; then the spread is that of
 * a prediction for one strand: that of the strands and that of what is known, together.
 */
#ifndef HAIRFIBRE_ENSEMBLE_H
#define HAIRFIBRE_ENSEMBLE_H

#include <hairfibre/treatment.h>
#include <hairfibre/uncertainty.h>

#ifdef __cplusplus
extern "C" {
#endif

/* ---- populations ----------------------------------------------------------------------------- */

typedef struct hf_population {
    const char *name, *text, *source, *place;
    hf_known known;                         /* of the means */
    double area, area_spread;               /* m2: mean and standard deviation; 0: none */
    double ellipticity, ellipticity_spread; /* 1 .. 3 */
    double medulla_low, medulla_high;       /* 0 .. 0.5; assumed in every population */
} hf_population;

/** Named population by index; NULL past the end. */
HF_API const hf_population *hf_population_at(size_t index);

/** Named population; NULL when there is none such. */
HF_API const hf_population *hf_population_find(const char *name);

/* ---- what is kept of a strand ------------------------------------------------------------------ */

/* enum, name, unit, kind, meaning. NaN: did not happen, or (status not 0) not computed. */
#define HF_STRAND_LIST(X)                                                                          \
    X(HF_STRAND_NUMBER, "strand", "1", HF_KIND_NUMBER, "its number in the ensemble, from 1")       \
    X(HF_STRAND_STATUS, "status", "1", HF_KIND_NUMBER,                                             \
      "0 done; else the hf_status of its failure")                                                 \
    X(HF_STRAND_DIAMETER, "diameter", "m", HF_KIND_NUMBER, "as measured, circle of equal area")    \
    X(HF_STRAND_ELLIPTICITY, "ellipticity", "1", HF_KIND_NUMBER, "major over minor axis")          \
    X(HF_STRAND_MEDULLA, "medulla", "1", HF_KIND_FRACTION, "share of the cross-section")           \
    X(HF_STRAND_REGAIN_HIGH, "regain_high", "1", HF_KIND_FRACTION, "highest mean at a sample")     \
    X(HF_STRAND_REGAIN_LOW, "regain_low", "1", HF_KIND_FRACTION, "lowest mean at a sample")        \
    X(HF_STRAND_REGAIN_END, "regain_end", "1", HF_KIND_FRACTION, "mean at the end")                \
    X(HF_STRAND_DIAMETER_END, "diameter_end", "m", HF_KIND_NUMBER, "at the end")                   \
    X(HF_STRAND_WATER_LOST, "water_lost", "kg/kg", HF_KIND_NUMBER, "given off in all")             \
    X(HF_STRAND_TEMPERATURE, "temperature_peak", "K", HF_KIND_TEMPERATURE,                         \
      "highest inside at any step of the integrator that is hot, or at a sample")                  \
    X(HF_STRAND_DRIVE, "void_drive_peak", "Pa", HF_KIND_NUMBER,                                    \
      "highest vapour pressure inside over ambient; 0: never above")                               \
    X(HF_STRAND_BOILS, "boils", "1", HF_KIND_NUMBER, "1: the pressure inside passed ambient")      \
    X(HF_STRAND_BOILS_AT, "boils_at", "s", HF_KIND_NUMBER, "when it first did")                    \
    X(HF_STRAND_GROWTH, "void_growth", "1", HF_KIND_NUMBER,                                        \
      "ln(radius / first radius) of the void that grew most")                                      \
    X(HF_STRAND_RADIUS, "void_radius", "m", HF_KIND_NUMBER,                                        \
      "its radius, never more than the fibre")                                                     \
    X(HF_STRAND_VOIDS, "voids", "1", HF_KIND_NUMBER, "1: growth passed the onset")                 \
    X(HF_STRAND_VOIDS_AT, "voids_at", "s", HF_KIND_NUMBER, "when it did")                          \
    X(HF_STRAND_CYCLES, "swelling_cycles", "1", HF_KIND_NUMBER, "swellings by 0.05 or more")       \
    X(HF_STRAND_HYDROGEN_CYCLES, "hydrogen_cycles", "1", HF_KIND_NUMBER, "softened and set again") \
    X(HF_STRAND_DISULFIDE, "disulfide", "1", HF_KIND_FRACTION,                                     \
      "disulfide bonds at the end over those at the start; no loss by heat in it")                 \
    X(HF_STRAND_CYSTEIC_ACID, "cysteic_acid", "mol/kg", HF_KIND_NUMBER, "at the end")              \
    X(HF_STRAND_BREAK_FORCE, "break_force", "N", HF_KIND_NUMBER,                                   \
      "when pulled later in the air of the room; no loss by heat in it")                           \
    X(HF_STRAND_BREAKS, "breaks", "1", HF_KIND_NUMBER,                                             \
      "1: the pull of the plan is more than that")                                                 \
    X(HF_STRAND_BEYOND, "extrapolated", "1", HF_KIND_NUMBER,                                       \
      "1: went beyond what evidence supports")

typedef enum hf_strand_column {
#define HF_STRAND_ENUM(id, name, unit, kind, text) id,
    HF_STRAND_LIST(HF_STRAND_ENUM)
#undef HF_STRAND_ENUM
        HF_STRAND_CHANNELS, /* the damage channels follow, each the mean share left at the end */
    HF_STRAND_COLUMNS = HF_STRAND_CHANNELS + HF_CHANNELS
} hf_strand_column;

/** Description of a kept column, damage channels included; NULL past the end. */
HF_API const hf_column_info *hf_strand_column_at(size_t index);

/* ---- ensemble ------------------------------------------------------------------------------------ */

typedef struct hf_ensemble hf_ensemble;

/* What to compute. HF_ENSEMBLE_PLAN_INIT gives the usual values; steps and strands must be given. */
typedef struct hf_ensemble_plan {
    hf_fibre_description fibre; /* diameter, ellipticity and medulla as the population says */
    hf_room room;
    const hf_step *steps;
    size_t step_count;
    hf_simulation_options simulation; /* stop and keep_profiles are not used */
    const hf_population *population;  /* NULL: every strand is the fibre above */
    /* Coefficient of variation of the diameter on one head, 0 .. 0.5, in place of the spread of the
     * population's areas; NaN: the population's. */
    double within_head;
    int draw_parameters; /* non-zero: rows of the catalogue are drawn anew for every strand */
    size_t strands;      /* of the whole ensemble, 1 .. 1e8 */
    size_t part, parts;  /* this part of so many, from 1 */
    uint64_t seed;
    double pull; /* N, 0 .. 100: on every strand afterwards, in the air of the room; NaN: none */
} hf_ensemble_plan;

/* Coarser than a single simulation: 40 cells and a tolerance of 1e-4 move the growth of voids by 0.1 % and
 * a regain by less than 1e-5, far below the spread between strands. */
#define HF_ENSEMBLE_PLAN_INIT                                                                      \
    {                                                                                              \
        HF_FIBRE_DESCRIPTION_INIT, HF_ROOM_INIT, NULL, 0, {40, 1e-4, 0, 8, 12, 0, 200000, NULL},   \
            NULL, (0.0 / 0.0), 0, 0, 1, 1, 1, (0.0 / 0.0)                                          \
    }

/** New ensemble, nothing computed; copies what it needs. Everything is checked here, a simulation of the
 *  mean strand set up once. HF_EINVAL, HF_ERANGE, HF_ENOMEM with a sentence in `message` (may be NULL). */
HF_API hf_status hf_ensemble_new(hf_ensemble **out, const hf_ensemble_plan *plan,
                                 const hf_parameters *set, hf_message *message) HF_MUST_CHECK;

/** Frees; NULL is fine. */
HF_API void hf_ensemble_free(hf_ensemble *ensemble);

/* How far a run has come. */
typedef struct hf_progress {
    size_t done, count; /* strands of this part */
    double seconds;     /* since this run began */
    double rate;        /* strands per second in this run */
    double remaining;   /* s, at that rate; infinite before the first strand */
} hf_progress;

/* How to run. HF_ENSEMBLE_CONTROL_INIT: all at once on all processors. */
typedef struct hf_ensemble_control {
    int threads;                       /* 0: as many as the machine has */
    double seconds;                    /* return after about so long; 0: no limit */
    const volatile sig_atomic_t *stop; /* non-zero there ends the run; NULL: none */
    /* Called in the calling thread; NULL: none. */
    void (*progress)(const hf_progress *progress, void *user);
    void *user;
    double interval; /* s between two calls of progress, at the end of a strand */
} hf_ensemble_control;

#define HF_ENSEMBLE_CONTROL_INIT                                                                   \
    {                                                                                              \
        0, 0, NULL, NULL, NULL, 0.2                                                                \
    }

/** Computes strands that are not done yet. HF_OK: all of this part are done. HF_ESTOPPED: stopped or out of
 *  time; what is done stays, call again to go on. HF_ENOMEM. A strand that fails is done with its status. */
HF_API hf_status hf_ensemble_run(hf_ensemble *ensemble,
                                 const hf_ensemble_control *control) HF_MUST_CHECK;

/** The plan in use, owned by the object; NULL without one. */
HF_API const hf_ensemble_plan *hf_ensemble_get_plan(const hf_ensemble *ensemble);

/** Number of the first strand of this part from 0, number of strands in it, and of those done. */
HF_API size_t hf_ensemble_first(const hf_ensemble *ensemble);
HF_API size_t hf_ensemble_count(const hf_ensemble *ensemble);
HF_API size_t hf_ensemble_done(const hf_ensemble *ensemble);

/** True when strand i of this part (from 0) is done. */
HF_API int hf_ensemble_is_done(const hf_ensemble *ensemble, size_t i);

/** A kept column: hf_ensemble_count numbers, NaN where a strand is not done, owned by the object; NULL past
 *  the end. */
HF_API const double *hf_ensemble_column(const hf_ensemble *ensemble, hf_strand_column column);

/** Takes over a strand computed before: HF_STRAND_COLUMNS numbers, the first its number. HF_EINVAL,
 *  HF_ERANGE for a strand of another part. */
HF_API hf_status hf_ensemble_put(hf_ensemble *ensemble, const double *row) HF_MUST_CHECK;

/** Takes over the strands that `from` has done and `into` covers. HF_EDATA, with a sentence in hf_ensemble_
 *  message(into), when the two are not parts of the same ensemble (set, seed, strands, schedule). */
HF_API hf_status hf_ensemble_merge(hf_ensemble *into, const hf_ensemble *from) HF_MUST_CHECK;

/** Percentiles of a column over the strands done without failure; missing: NaN among them. Errors as
 *  hf_percentiles_of. */
HF_API hf_status hf_ensemble_percentiles(const hf_ensemble *ensemble, hf_strand_column column,
                                         hf_percentiles *out) HF_MUST_CHECK;

/** Share of the strands done without failure in which a column of 0 and 1 (boils, voids, breaks) is 1. HF_EINVAL,
 *  also when none has a number there. */
HF_API hf_status hf_ensemble_share(const hf_ensemble *ensemble, hf_strand_column column,
                                   hf_share_interval *out) HF_MUST_CHECK;

/** Digest of all that decides a strand but set and seed: fibre, room, steps, options, population. 16
 *  hexadecimal digits and a zero. */
HF_API void hf_ensemble_digest(const hf_ensemble *ensemble, char out[17]);

/** Memory held, bytes. */
HF_API size_t hf_ensemble_bytes(const hf_ensemble *ensemble);

/** Sentence about the last failure, or about the first strand that failed in the last run; "" when there was
 *  none. */
HF_API const char *hf_ensemble_message(const hf_ensemble *ensemble);

/* ---- what decides ---------------------------------------------------------------------------------- */

/** Factors that decide a kept column (not number or status) of a strand of this plan: area, ellipticity and medulla when
 *  it has a population, "strength of the strand" for the columns of breaking, and rows of the catalogue when
 *  plan->draw_parameters is set. At most HF_INPUTS_MAX into `out` (may be NULL). HF_EINVAL, HF_ERANGE, HF_ENOMEM. */
HF_API hf_status hf_strand_factors(const hf_ensemble_plan *plan, const hf_parameters *set,
                                   hf_strand_column answer, hf_factor *out, size_t *count,
                                   hf_message *message) HF_MUST_CHECK;

/** Sobol indices of a kept column, one per factor; samples x (factors + 2) treatments. `stop` (may be NULL) non-zero ends
 *  it with HF_ESTOPPED. A strand without a number there counts as no answer. Errors as hf_sobol_indices and
 *  hf_ensemble_new. */
HF_API hf_status hf_strand_sobol_indices(const hf_ensemble_plan *plan, const hf_parameters *set,
                                         hf_strand_column answer,
                                         const hf_sensitivity_options *options,
                                         const volatile sig_atomic_t *stop, hf_index *out,
                                         hf_sensitivity *summary,
                                         hf_message *message) HF_MUST_CHECK;

/** Morris screening likewise, one effect per factor; tours x (inputs + 1) treatments. Suits the many rows of a
 *  treatment. */
HF_API hf_status hf_strand_morris_effects(const hf_ensemble_plan *plan, const hf_parameters *set,
                                          hf_strand_column answer,
                                          const hf_screening_options *options,
                                          const volatile sig_atomic_t *stop, hf_effect *out,
                                          hf_sensitivity *summary,
                                          hf_message *message) HF_MUST_CHECK;

#ifdef __cplusplus
}
#endif

#endif
