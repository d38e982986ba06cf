/*
 * inference: from measurements to parameters.
 *
 * Part "fit": nonlinear least squares with honest intervals, bands, bootstrap, comparison of models, and
 * maximum likelihood for lives and strengths with survivors.
 *
 * Threads: no object is shared; everything `const` is safe from any thread. The first call of this room
 * that may meet a GSL error switches GSL's error handler off for the whole process, once
 * (gsl_set_error_handler_off), and never switches it back: every GSL status is checked here.
 */
#ifndef HAIRFIBRE_INFERENCE_H
#define HAIRFIBRE_INFERENCE_H

#include <stddef.h>

#include <hairfibre/base.h>

#ifdef __cplusplus
extern "C" {
#endif

/* ==== fit ===================================================================================== *
 *
 * Data        n points, each a row of `columns` numbers x and one number y.
 * Model       y = f(x, b), b at most HF_FIT_PARAMETERS_MAX parameters; a parameter is free or fixed,
 *             and may have a lower bound, an upper bound, or both.
 * Weights     RSS = sum w_i (y_i - f_i)^2. Three choices, always stated by the caller:
 *               HF_WEIGHT_EQUAL     w = 1; sigma and weights must be NULL
 *               HF_WEIGHT_RELATIVE  w = 1/sigma^2 (or `weights`) up to one unknown factor, which is
 *                                   estimated: s^2 = RSS/(n - p)
 *               HF_WEIGHT_ABSOLUTE  sigma is the standard deviation itself (weights: 1/sigma^2); nothing
 *                                   is estimated, s = 1 in the covariance, and RSS is chi squared
 * Covariance  s^2 (J'WJ)^-1 over the free parameters that are not at a bound, J the derivative at the
 *             optimum, to near full precision (analytic, or differences extrapolated to step zero).
 * Criteria    n points, k = free parameters + 1 (the variance counts; not with absolute sigma):
 *               equal, relative  -2 ln L = n [ln(2 pi RSS/n) + 1] - sum ln w_i
 *               absolute         -2 ln L = RSS + sum ln(2 pi sigma_i^2),  k = free parameters
 *             AIC = -2 ln L + 2 k;  AICc = AIC + 2 k (k + 1)/(n - k - 1);  BIC = -2 ln L + k ln n.
 *             AICc is NaN while n <= k + 1. All are NaN under a robust loss: it has no likelihood.
 * Condition   largest over smallest singular value of J (weighted, each column at length 1).
 * Offset      relative offset of Bates and Watts: length of the part of the residuals that a small change
 *             of the parameters can still remove, per parameter, over the part that it cannot, per degree
 *             of freedom. Converged: below 1e-6.
 */

#define HF_FIT_PARAMETERS_MAX 20

/* Word and meaning of the weighting. */
#define HF_WEIGHTING_LIST(X)                                                                       \
    X(HF_WEIGHT_EQUAL, "equal", "all points count the same")                                       \
    X(HF_WEIGHT_RELATIVE, "relative", "sigma known up to one factor, which is estimated")          \
    X(HF_WEIGHT_ABSOLUTE, "absolute", "sigma is the standard deviation itself")

typedef enum hf_weighting {
#define HF_WEIGHTING_ENUM(id, word, text) id,
    HF_WEIGHTING_LIST(HF_WEIGHTING_ENUM)
#undef HF_WEIGHTING_ENUM
} hf_weighting;

/* What is minimised. HF_LOSS_HUBER: residuals beyond `huber` robust standard deviations (1.4826 times the
 * median of |residual|) count by their length, no longer by its square (iterated reweighting, sigma
 * re-estimated each time). huber = 1.345 keeps 95 % of the efficiency with normal errors. */
typedef enum hf_loss { HF_LOSS_SQUARES = 0, HF_LOSS_HUBER = 1 } hf_loss;

/* The model's callbacks. x: one row (`columns` numbers) or n rows one after the other; b: the parameters of
 * the model. HF_ERANGE, HF_ECONVERGE, HF_ENOMODEL or a number that is not finite say "no answer for these
 * parameters": the solver steps back. Any other failure ends the fit with that status (HF_ESTOPPED to
 * stop). `value` answers one row, `values` all rows at once (simulations); give one of the two.
 * `gradient` (optional, with `value`) writes df/db. `starter` (optional) guesses b from the data; it may
 * leave b as it finds it. */
typedef hf_status (*hf_fit_value)(const double *x, const double *b, void *user, double *y);
typedef hf_status (*hf_fit_values)(size_t n, const double *x, const double *b, void *user,
                                   double *y);
typedef hf_status (*hf_fit_gradient)(const double *x, const double *b, void *user, double *dy_db);
typedef hf_status (*hf_fit_starter)(size_t n, const double *x, const double *y, void *user,
                                    double *b);

typedef struct hf_fit_parameter {
    const char *name, *unit; /* copied; NULL: "" */
    double start;            /* NaN: asked from `starter` */
    double low, high;        /* NaN or infinite: no bound */
    int fixed;               /* non-zero: stays at `start` */
} hf_fit_parameter;

#define HF_FIT_PARAMETER_INIT                                                                      \
    {                                                                                              \
        "", "1", (0.0 / 0.0), (0.0 / 0.0), (0.0 / 0.0), 0                                          \
    }

/* Everything a fit needs; all zero (HF_FIT_DESCRIPTION_INIT) is the usual choice for what is optional. */
typedef struct hf_fit_description {
    size_t points, columns;
    const double *x, *y; /* points * columns, row by row; points */
    hf_weighting weighting;
    const double *sigma; /* with relative or absolute weighting: one of the two */
    const double *weights;
    size_t parameter_count;
    const hf_fit_parameter *parameters;
    hf_fit_value value;
    hf_fit_values values;
    hf_fit_gradient gradient;
    hf_fit_starter starter;
    void *user;         /* handed to the callbacks; must outlive the fit */
    double model_noise; /* relative error of the model's own numbers (a simulation's tolerance); 0:
                           rounding only. Sets the steps of differences. */
    int parallel;       /* non-zero: the callbacks may run in several threads (bootstrap) */
    /* Groups (branches, fibres) that share some parameters. Point i belongs to group[i] < groups, and the
     * model's parameter k takes, for group g, the parameter map[g * model_parameters + k]. Several
     * entries may name the same parameter: that is how it is shared. groups 0: none. `values` is called
     * once for the rows of each group. */
    size_t groups, model_parameters;
    const size_t *group, *map;
    hf_loss loss;
    double huber; /* 0: 1.345 */
    /* Starts. 0: the given start, and a search only when it fails (up to 64 more, within 20000 evaluations,
     * 2000 with `values`); 1: the given start only; more: so many in all, up to 100000. The others come
     * from a quasi-random sequence (Sobol, shifted by seed) within the bounds, or within factors of the
     * start where there are none. */
    size_t starts;
    unsigned long seed;
    size_t iterations; /* per start; 0: 200 */
} hf_fit_description;

#define HF_FIT_DESCRIPTION_INIT                                                                    \
    {                                                                                              \
        0                                                                                          \
    }

typedef struct hf_fit hf_fit;

/** New fit; copies the data and the description (callbacks and `user` stay the caller's). HF_EINVAL for a
 *  bad description; HF_EDATA for data that cannot be used: a number that is not finite, a sigma not
 *  positive, fewer points or fewer different x than free parameters; the sentence in `message` (may be
 *  NULL) names row and reason. HF_ENOMEM. */
HF_API hf_status hf_fit_new(hf_fit **out, const hf_fit_description *description,
                            hf_message *message) HF_MUST_CHECK;

/** Frees; NULL is fine. */
HF_API void hf_fit_free(hf_fit *fit);

/** Fits. HF_OK: a minimum was reached (its flags may still say that a parameter is not determined).
 *  HF_ECONVERGE: none was; the best point found can be read all the same, with `converged` 0, unless
 *  the model answered nowhere (summary.starts_answered is 0). Otherwise the status of a callback. */
HF_API hf_status hf_fit_run(hf_fit *fit) HF_MUST_CHECK;

/** Sentence about the last failure; "" when there was none. */
HF_API const char *hf_fit_message(const hf_fit *fit);

/* Bits of flags of a parameter. */
#define HF_FIT_FIXED      1u /* was fixed by the caller: no standard error */
#define HF_FIT_AT_LOW     2u /* ended at its lower bound: no standard error, one-sided interval */
#define HF_FIT_AT_HIGH    4u /* ended at its upper bound */
#define HF_FIT_NO_EFFECT  8u /* not identifiable: the model does not respond to it at the optimum */
#define HF_FIT_ENTANGLED  16u  /* not identifiable: only a combination with others is determined */
#define HF_FIT_NO_FREEDOM 32u  /* as many parameters as points: no standard error */
#define HF_FIT_PERFECT    64u  /* residuals are rounding: the standard error means nothing */
#define HF_FIT_LOOSE      128u /* standard error larger than the value itself */

typedef struct hf_fit_estimate {
    const char *name, *unit; /* owned by the fit */
    double value;
    double standard_error; /* NaN when not estimated, infinite when not identifiable */
    double start;          /* the start it was reached from */
    unsigned flags;
} hf_fit_estimate;

typedef struct hf_fit_summary {
    int converged;
    size_t points, parameters, free; /* free: not fixed; those at a bound count */
    size_t degrees_of_freedom;       /* points - free */
    double rss;                      /* weighted sum of squared residuals */
    double s; /* sqrt(RSS/degrees of freedom), NaN without; robust: the robust scale */
    double log_likelihood, aic, aicc, bic;
    double condition;               /* of the scaled Jacobian; infinite when singular */
    double offset;                  /* relative offset */
    size_t iterations, evaluations; /* of all starts; evaluations of the model over all points */
    unsigned flags;                 /* all parameters' flags together */
    size_t starts, starts_answered; /* tried; ended somewhere finite */
    size_t minima;                  /* different minima among them */
    size_t winner;      /* start that led to the result: 0 the given one, else its number in the
                                       order tried */
    size_t equivalents; /* other parameters that give the same curve (exchanged terms) */
} hf_fit_summary;

/** Summary of the last run. HF_EDATA before a run. */
HF_API hf_status hf_fit_get_summary(const hf_fit *fit, hf_fit_summary *out) HF_MUST_CHECK;

/** Parameter j. HF_EDATA before a run, HF_ERANGE past the end. */
HF_API hf_status hf_fit_get_estimate(const hf_fit *fit, size_t j,
                                     hf_fit_estimate *out) HF_MUST_CHECK;

/** Why the solver stopped, one sentence; "" before a run. */
HF_API const char *hf_fit_reason(const hf_fit *fit);

/** What the flags of parameter j mean here, one sentence that names the partners of an entangled
 *  parameter; "" when there is nothing to say. */
HF_API const char *hf_fit_note(const hf_fit *fit, size_t j);

/** Covariance and correlation, parameters * parameters numbers each, either may be NULL; NaN in rows and
 *  columns of parameters without a standard error. HF_EDATA before a run. */
HF_API hf_status hf_fit_get_covariance(const hf_fit *fit, double *covariance,
                                       double *correlation) HF_MUST_CHECK;

/** Per point, any may be NULL: fitted value, residual y - f, standardised residual
 *  sqrt(w) (y - f)/(s sqrt(1 - leverage)) (NaN where that is 0/0), leverage (diagonal of the hat matrix,
 *  its sum is the number of parameters determined), and weight of the robust loss (1: full).
 *  HF_EDATA before a run. */
HF_API hf_status hf_fit_get_points(const hf_fit *fit, double *fitted, double *residual,
                                   double *standardised, double *leverage,
                                   double *robust_weight) HF_MUST_CHECK;

/** Minimum k of the search, best first: RSS, parameters, how many starts ended there; any may be NULL.
 *  HF_ERANGE past the end (at most 8 are kept). */
HF_API hf_status hf_fit_get_minimum(const hf_fit *fit, size_t k, double *rss, double *values,
                                    size_t *hits) HF_MUST_CHECK;

/* ---- intervals ------------------------------------------------------------------------------- */

#define HF_OPEN_LOW   1u  /* no finite lower limit: the data do not exclude ever smaller values */
#define HF_OPEN_HIGH  2u  /* no finite upper limit */
#define HF_BOUND_LOW  4u  /* the limit is the parameter's lower bound: one-sided from above */
#define HF_BOUND_HIGH 8u  /* the limit is the upper bound */
#define HF_BETTER     16u /* a better minimum was met on the way: fit again, from more starts */

typedef struct hf_interval {
    double low, high; /* -infinity, +infinity when open */
    unsigned flags;
} hf_interval;

/** Profile-likelihood interval of parameter j at `level` (0.95): all values at which RSS, minimised over the
 *  other parameters, stays below RSS_min (1 + F/dof), F the quantile of F(1, dof); absolute sigma:
 *  below RSS_min + quantile of chi squared(1). HF_EDATA before a run or without degrees of freedom,
 *  HF_ENOMODEL under a robust loss (use the bootstrap) or for a fixed parameter. */
HF_API hf_status hf_fit_profile(const hf_fit *fit, size_t j, double level,
                                hf_interval *out) HF_MUST_CHECK;

/** The same for all parameters, side by side where the model allows it: out[j] and statuses[j] for each. HF_OK
 *  unless memory ran out or a callback stopped the work. */
HF_API hf_status hf_fit_profiles(const hf_fit *fit, double level, hf_interval *out,
                                 hf_status *statuses) HF_MUST_CHECK;

/** Joint region of parameters i and j at `level`: `count` points around its edge, first[k], second[k] at
 *  equal angles in the scaled plane. Edge: RSS_min (1 + 2 F/dof), F the quantile of F(2, dof), or
 *  RSS_min + chi squared(2), the others re-fitted. Where the region is open in that direction the point
 *  is NaN and counts in *open. Errors as hf_fit_profile. */
HF_API hf_status hf_fit_region(const hf_fit *fit, size_t i, size_t j, double level, size_t count,
                               double *first, double *second, size_t *open) HF_MUST_CHECK;

/** Bands at m new rows x (delta method): value, half width of the confidence band (of the curve) and of
 *  the prediction band (of one more measurement); either may be NULL. sigma: of the new measurements
 *  in the fit's own sense (NULL: 1; required with absolute weighting if `prediction` is asked). group:
 *  of each row (NULL without groups). With `values` models x must be all rows of one call. HF_EDATA
 *  where a band is asked and there is no covariance, HF_ERANGE where the model has no answer. */
HF_API hf_status hf_fit_bands(const hf_fit *fit, size_t m, const double *x, const double *sigma,
                              const size_t *group, double level, double *value, double *confidence,
                              double *prediction) HF_MUST_CHECK;

/* ---- bootstrap ------------------------------------------------------------------------------- */

typedef enum hf_bootstrap_kind {
    HF_BOOTSTRAP_PARAMETRIC = 0, /* new y = curve + normal errors, sigma fitted or absolute */
    HF_BOOTSTRAP_CASES = 1       /* points drawn with replacement */
} hf_bootstrap_kind;

typedef struct hf_bootstrap hf_bootstrap;

/** Re-fits `replicates` (2 .. 1000000) times from the optimum. Replicate r draws from its own stream of
 *  (seed, r): the answer does not depend on the number of threads. HF_EDATA before a run, without s,
 *  or when fewer than half of the replicates could be fitted; HF_EINVAL, HF_ENOMEM, or the status of
 *  a callback that stopped it. */
HF_API hf_status hf_bootstrap_new(hf_bootstrap **out, const hf_fit *fit, hf_bootstrap_kind kind,
                                  size_t replicates, unsigned long seed) HF_MUST_CHECK;

/** Frees; NULL is fine. */
HF_API void hf_bootstrap_free(hf_bootstrap *bootstrap);

/** Replicates that were fitted, and that could not be. */
HF_API size_t hf_bootstrap_count(const hf_bootstrap *bootstrap);
HF_API size_t hf_bootstrap_failures(const hf_bootstrap *bootstrap);

/** Values of the fitted replicates: count rows of all parameters, owned by the object. */
HF_API const double *hf_bootstrap_values(const hf_bootstrap *bootstrap);

/** Percentile interval (between order statistics linearly, first to last) and standard deviation
 *  of parameter j; either may be NULL. HF_ERANGE past the end, HF_EINVAL for a level outside 0..1. */
HF_API hf_status hf_bootstrap_interval(const hf_bootstrap *bootstrap, size_t j, double level,
                                       hf_interval *out, double *standard_error) HF_MUST_CHECK;

/* ---- comparison ------------------------------------------------------------------------------ */

/** Compares fits of different models to the same points: delta[i] = AICc_i - smallest, weight[i] =
 *  exp(-delta_i/2) over the sum. HF_EDATA, with a sentence, unless x, y and weights are the same, number
 *  for number, and every fit has converged with an AICc. */
HF_API hf_status hf_fit_compare(const hf_fit *const *fits, size_t count, double *delta,
                                double *weight, hf_message *message) HF_MUST_CHECK;

/* ---- models ---------------------------------------------------------------------------------- */

typedef struct hf_model_parameter {
    const char *name, *unit, *text;
    double low, high; /* NaN: none */
    double usual;     /* value of a parameter that is fixed unless the caller frees it; NaN: free */
    int given;        /* non-zero: the caller must give it (a radius) */
} hf_model_parameter;

typedef struct hf_model {
    const char *name, *text, *equation;
    const char *sources;         /* keys of docs/sources.bib, separated by a blank */
    hf_known known;              /* how the equation is known */
    size_t columns;              /* of x */
    const char *x_names;         /* separated by a blank */
    const char *x_units;         /* separated by a blank */
    const char *y_name, *y_unit; /* what the model predicts */
    size_t parameter_count;
    const hf_model_parameter *parameters;
    hf_fit_value value;
    hf_fit_values values;
    hf_fit_gradient gradient;
    hf_fit_starter starter;
    double noise; /* relative error of its own numbers (a simulation); 0: rounding */
} hf_model;

/** Number of built-in models. */
HF_API size_t hf_model_count(void);

/** Model by index; NULL past the end. */
HF_API const hf_model *hf_model_at(size_t index);

/** Model by name; NULL when there is none such. */
HF_API const hf_model *hf_model_find(const char *name);

/** Fills columns, parameters and callbacks of a description. `parameters` has room for
 *  HF_FIT_PARAMETERS_MAX and must live as long as the description is used; change starts, bounds and
 *  `fixed` there afterwards. A parameter that must be given is fixed and its start is NaN until set. */
HF_API hf_status hf_model_describe(const hf_model *model, hf_fit_description *description,
                                   hf_fit_parameter *parameters) HF_MUST_CHECK;

/* ---- lives and strengths --------------------------------------------------------------------- *
 *
 * Weibull: F(t) = 1 - exp(-(t/scale)^shape), by maximum likelihood. observed[i] non-zero: broke at t;
 * zero: a survivor, still whole at t (right-censored). With lives t is in cycles (or s), with strengths in
 * Pa. Standard errors from the observed information of (ln scale, ln shape), turned to the parameters by
 * the delta method; intervals from the profile likelihood, 2 (l_max - l) = chi squared(1).
 */

#define HF_LIFE_PARAMETERS_MAX 3

typedef struct hf_life_parameter {
    const char *name;
    double value, standard_error;
    hf_interval interval; /* at the level asked */
} hf_life_parameter;

typedef struct hf_life {
    size_t parameter_count;
    hf_life_parameter parameters[HF_LIFE_PARAMETERS_MAX];
    /* row by row, in the order of the parameters; row length HF_LIFE_PARAMETERS_MAX */
    double covariance[HF_LIFE_PARAMETERS_MAX * HF_LIFE_PARAMETERS_MAX];
    double log_likelihood, aic, aicc, bic; /* k = parameters estimated, n = broken + survivors */
    size_t broken, survivors;
    size_t iterations;
} hf_life;

/** Scale and shape (parameters 0, 1) of n lives or strengths. fixed_shape: NaN to estimate it; 1 gives the
 *  exponential law, whose scale is total time over breaks. HF_EDATA, with a sentence, without a break, with
 *  a life not positive, or when all breaks are equal and nothing survives them (the shape has no finite
 *  estimate). HF_EINVAL, HF_ECONVERGE, HF_ENOMEM. */
HF_API hf_status hf_life_fit(size_t n, const double *life, const int *observed, double fixed_shape,
                             double level, hf_life *out, hf_message *message) HF_MUST_CHECK;

/** Life line with Weibull scatter: ln scale = intercept - slope ln(stress/reference), one shape for all
 *  stresses; parameters 0, 1, 2 = intercept, slope, shape. At least two different stresses with a break.
 *  Errors as hf_life_fit. */
HF_API hf_status hf_life_line_fit(size_t n, const double *stress, const double *life,
                                  const int *observed, double reference, double level, hf_life *out,
                                  hf_message *message) HF_MUST_CHECK;

#ifdef __cplusplus
}
#endif

#endif
