/*
 * uncertainty: how far an answer may be trusted, and which of its inputs decide that.
 *
 * Spread of parameters   every row of the catalogue that a quantity uses has a distribution; draws of all
 *                        of them at once are pushed through the quantity (hf_propagate).
 * Spread of models       rival laws, readings of other laboratories and the other branch are listed with
 *                        their own answers (hf_rival_at). They are never averaged, nor mixed with the
 *                        spread of parameters.
 * Sensitivity            Sobol indices with bootstrap intervals, and Morris screening, over any function
 *                        of independent inputs or over a quantity.
 *
 * Rows that the evidence ties together do not move freely:
 *   - an activation energy and its frequency were found from one peak: the frequency follows the energy so
 *     that the rate at the temperature of that peak stays, and moves about that by its own spread;
 *   - the three enthalpies of sorption were found together: they move so that the heat of wetting from
 *     dryness at 25 degC stays (113 J/g was read; its own doubt is in the scale of the isotherm).
 * A row that the user changed is taken as exact.
 *
 * Everything is a function of the seed: the same seed gives the same numbers on every machine with the same
 * arithmetic, whatever the number of threads. No object is shared; everything const is safe from any thread.
 */
#ifndef HAIRFIBRE_UNCERTAINTY_H
#define HAIRFIBRE_UNCERTAINTY_H

#include <hairfibre/base.h>

#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

/* ---- draws ----------------------------------------------------------------------------------- */

/* name, word, meaning */
#define HF_DRAW_METHOD_LIST(X)                                                                     \
    X(HF_DRAW_SOBOL, "sobol", "Sobol sequence under random shifts; random beyond 40 inputs")       \
    X(HF_DRAW_RANDOM, "random", "pseudo-random")

typedef enum hf_draw_method {
#define HF_DRAW_METHOD_ENUM(name, word, text) name,
    HF_DRAW_METHOD_LIST(HF_DRAW_METHOD_ENUM)
#undef HF_DRAW_METHOD_ENUM
        HF_DRAW_METHODS
} hf_draw_method;

/** Word for a method ("sobol"); NULL past the end. */
HF_API const char *hf_draw_method_word(hf_draw_method method);

/* An input with a distribution, cut off at low and high (infinite: not). `value` is the middle, for
 * HF_LOGNORMAL the median; `spread` reads as hf_distribution says. A spread of 0 is a fixed input. */
typedef struct hf_variate {
    const char *name; /* for messages; may be NULL */
    hf_distribution distribution;
    double value, spread, low, high;
} hf_variate;

/** Number at probability u, 0 < u < 1. HF_EINVAL, HF_ERANGE (negative spread, value outside the limits,
 *  nothing between them). */
HF_API hf_status hf_variate_quantile_e(const hf_variate *variate, double u,
                                       double *out) HF_MUST_CHECK;

/* ---- percentiles ------------------------------------------------------------------------------- */

enum { HF_P2_5 = 0, HF_P25, HF_P50, HF_P75, HF_P97_5, HF_PERCENTILES };

/* Median, the 50 % and the 95 % interval of a sample, each with its sampling error (standard error). */
typedef struct hf_percentiles {
    size_t n, missing; /* numbers used; NaN left out */
    double mean, deviation, mean_error;
    double value[HF_PERCENTILES], error[HF_PERCENTILES];
} hf_percentiles;

/** Percentiles by linear interpolation between the ordered values. NaN stand for missing values. blocks 1:
 *  independent draws, errors from the binomial law of the ranks. blocks > 1: value i belongs to block
 *  i mod blocks, errors from the scatter between the blocks (as hf_propagate arranges shifted sequences).
 *  HF_EINVAL, HF_EDATA (fewer than 8 numbers per block), HF_ENOMEM. */
HF_API hf_status hf_percentiles_of(size_t n, const double *values, size_t blocks,
                                   hf_percentiles *out) HF_MUST_CHECK;

typedef struct hf_share_interval {
    double share, low, high;
} hf_share_interval;

/** Share of `events` among `n` draws with its 95 % interval (Wilson), for any n above 0. */
HF_API hf_status hf_share_of_draws_e(size_t events, size_t n, hf_share_interval *out) HF_MUST_CHECK;

/* ---- propagation --------------------------------------------------------------------------------- */

/* A distribution put on an argument of a quantity, about the value that is asked for. low, high NaN: the
 * domain of the argument. */
typedef struct hf_spread {
    size_t argument;
    hf_distribution distribution;
    double spread, low, high;
} hf_spread;

typedef struct hf_propagation_options {
    size_t draws; /* 16 .. 2^24; Sobol: best 8 times a power of two */
    uint64_t seed;
    hf_draw_method method;
    int parameters; /* non-zero: rows of the catalogue and the stated spread of the equation move */
    const hf_spread *spreads;
    size_t spread_count;
} hf_propagation_options;

#define HF_PROPAGATION_OPTIONS_INIT                                                                \
    {                                                                                              \
        1024, 1, HF_DRAW_SOBOL, 1, NULL, 0                                                         \
    }

typedef struct hf_propagation {
    double value;          /* with every input at its middle */
    size_t inputs;         /* that move */
    size_t failures;       /* draws without an answer: NaN among the values */
    size_t extrapolated;   /* draws answered beyond what evidence supports */
    size_t blocks;         /* for hf_percentiles_of */
    hf_draw_method method; /* used */
} hf_propagation;

/** Draws of a quantity: options->draws numbers into `values`. Draws may go beyond what evidence supports
 *  (counted), whatever the flags; the middle obeys them. `options` NULL: the usual. Statuses as
 *  hf_quantity_evaluate for the middle, HF_EXTRAPOLATED when the middle is; HF_EINVAL, HF_ERANGE for
 *  options and spreads, HF_ENOMEM. */
HF_API hf_status hf_propagate(const hf_quantity *quantity, const double *arguments,
                              const hf_parameters *set, unsigned flags,
                              const hf_propagation_options *options, double *values,
                              hf_propagation *out, hf_message *message) HF_MUST_CHECK;

/* ---- rival models ---------------------------------------------------------------------------------- */

#define HF_RIVAL_CHANGES_MAX 3

/* Another answer to the same question: another quantity with the same arguments, or the same with other
 * numbers in the catalogue or another value of one argument. */
typedef struct hf_rival {
    const char *of, *quantity;
    const char *text;     /* how it differs, one clause */
    const char *source;   /* key of docs/sources.bib */
    const char *argument; /* set to `value`; NULL: none */
    double value;
    size_t change_count;
    struct {
        const char *parameter;
        double value;
    } change[HF_RIVAL_CHANGES_MAX];
} hf_rival;

/** Rival of a quantity by index; NULL past the end. */
HF_API const hf_rival *hf_rival_at(const hf_quantity *quantity, size_t index);

/** Answer of a rival at the arguments of `quantity`, of which those of the same name are handed on.
 *  HF_EDATA when it gives what was asked already or is not known for this set; otherwise statuses as hf_quantity_evaluate. */
HF_API hf_status hf_rival_evaluate(const hf_rival *rival, const hf_quantity *quantity,
                                   const double *arguments, const hf_parameters *set,
                                   unsigned flags, double *out, hf_message *message) HF_MUST_CHECK;

/* ---- sensitivity ------------------------------------------------------------------------------------- */

/* Most inputs, and most factors, of an analysis. */
#define HF_INPUTS_MAX 160

/* A function of the inputs. HF_ESTOPPED and HF_ENOMEM end the analysis; any other failure, or a number that
 * is not finite, leaves the row of points out. */
typedef hf_status (*hf_function)(const double *x, void *user, double *y);

/* Share of the variance of the answer that an input decides: alone (first) and with all its joint effects
 * (total), each with a bootstrap interval. */
typedef struct hf_index {
    double first, first_low, first_high;
    double total, total_low, total_high;
} hf_index;

typedef struct hf_sensitivity_options {
    /* rows of points, 32 .. 2^20, best a power of two; rows x (factors + 2) calls */
    size_t samples;
    uint64_t seed;
    hf_draw_method method;
    size_t bootstrap; /* 50 .. 10000 */
    double level;     /* of the intervals, 0.5 .. 0.999 */
    /* Factor of each input, from 0 without gaps: the inputs of a factor move together. NULL: each input is
     * a factor of its own. */
    const size_t *factor;
} hf_sensitivity_options;

#define HF_SENSITIVITY_OPTIONS_INIT                                                                \
    {                                                                                              \
        1024, 1, HF_DRAW_SOBOL, 400, 0.95, NULL                                                    \
    }

typedef struct hf_sensitivity {
    double mean, deviation; /* of the answer */
    size_t factors, evaluations;
    size_t failures;       /* rows left out */
    hf_draw_method method; /* used */
} hf_sensitivity;

/** Sobol indices, one hf_index per factor, by the estimators of Saltelli (first) and Jansen (total).
 *  A constant answer has no variance: HF_EDATA, as when more than half of the rows fail. HF_EINVAL,
 *  HF_ERANGE, HF_ENOMEM, HF_ESTOPPED. */
HF_API hf_status hf_sobol_indices(size_t inputs, const hf_variate *variates, hf_function function,
                                  void *user, const hf_sensitivity_options *options, hf_index *out,
                                  hf_sensitivity *summary, hf_message *message) HF_MUST_CHECK;

/* Elementary effects of an input: change of the answer when its probability moves by one half, over one
 * half. */
typedef struct hf_effect {
    double mean;       /* with sign */
    double size;       /* mean of the absolute values: the measure of influence */
    double deviation;  /* large against `size`: joint effects or curvature */
    double size_error; /* standard error of `size` */
} hf_effect;

typedef struct hf_screening_options {
    size_t tours;  /* 2 .. 100000; tours x (inputs + 1) calls */
    size_t levels; /* even, 2 .. 64: grid of probabilities (k + 1/2)/levels */
    uint64_t seed;
} hf_screening_options;

#define HF_SCREENING_OPTIONS_INIT                                                                  \
    {                                                                                              \
        40, 4, 1                                                                                   \
    }

/** Morris screening, one hf_effect per input. Fields of `summary` as for the indices; a tour that meets a
 *  failure is left out. HF_EINVAL, HF_ERANGE, HF_EDATA (fewer than two tours left), HF_ENOMEM,
 *  HF_ESTOPPED. */
HF_API hf_status hf_morris_effects(size_t inputs, const hf_variate *variates, hf_function function,
                                   void *user, const hf_screening_options *options, hf_effect *out,
                                   hf_sensitivity *summary, hf_message *message) HF_MUST_CHECK;

/* A factor of a quantity: a row of the catalogue, rows tied together (name: their common prefix), an
 * argument, or "equation" for its stated spread. */
typedef struct hf_factor {
    const char *name, *unit;
    double value, spread; /* of a single input; NaN for rows tied together */
    hf_distribution distribution;
} hf_factor;

/** Factors that move a quantity: at most HF_INPUTS_MAX into `out` (may be NULL), their number into *count.
 *  HF_EINVAL, HF_ERANGE, HF_ENOMEM as hf_propagate. */
HF_API hf_status hf_quantity_factors(const hf_quantity *quantity, const double *arguments,
                                     const hf_parameters *set, const hf_spread *spreads,
                                     size_t spread_count, hf_factor *out, size_t *count,
                                     hf_message *message) HF_MUST_CHECK;

/** Sobol indices of a quantity, one per factor of hf_quantity_factors. options->factor is not used. */
HF_API hf_status hf_quantity_sobol_indices(const hf_quantity *quantity, const double *arguments,
                                           const hf_parameters *set, const hf_spread *spreads,
                                           size_t spread_count,
                                           const hf_sensitivity_options *options, hf_index *out,
                                           hf_sensitivity *summary,
                                           hf_message *message) HF_MUST_CHECK;

/** Morris screening of a quantity, one effect per factor; rows tied together move one after the other and
 *  the largest of their effects stands for them. */
HF_API hf_status hf_quantity_morris_effects(const hf_quantity *quantity, const double *arguments,
                                            const hf_parameters *set, const hf_spread *spreads,
                                            size_t spread_count,
                                            const hf_screening_options *options, hf_effect *out,
                                            hf_sensitivity *summary,
                                            hf_message *message) HF_MUST_CHECK;

#ifdef __cplusplus
}
#endif

#endif
