/*
 * statistics: what a few counted strands allow one to say.
 *
 * Counts are whole numbers of strands, 0 .. HF_COUNT_MAX; shares are fractions; `level` is the
 * confidence of an interval and `alpha` the risk of a false alarm, both strictly between 0 and 1.
 * Nothing here knows hair: no parameters, no flags. Intervals and tests are exact (from the
 * distribution of the counts or ranks themselves) unless the comment says "approximate".
 * Errors of every _e function: HF_EINVAL for a missing output or a number that is not finite;
 * HF_ERANGE for a count, share, level or risk outside its range, or more events than strands;
 * HF_EDATA where the numbers cannot carry the answer (one strand has no spread), with a sentence in
 * `message` (may be NULL) where there is one; HF_ENOMEM. Equations and sources: the head comments
 * of lib/inference/.
 * What has no value is NaN (the share of no strands), what has no bound is infinite.
 */
#ifndef HAIRFIBRE_STATISTICS_H
#define HAIRFIBRE_STATISTICS_H

#include <stddef.h>

#include <hairfibre/base.h>

#ifdef __cplusplus
extern "C" {
#endif

#define HF_COUNT_MAX 100000

/* ---- a share ----------------------------------------------------------------------------------
 *
 * Two-sided intervals for a share, `events` of `strands`. With no strands the share is NaN and the
 * interval 0 .. 1: nothing is known.
 */

/* name, word, what it promises */
#define HF_SHARE_METHOD_LIST(X)                                                                    \
    X(HF_CLOPPER_PEARSON, "clopper-pearson", "never covers less than its level")                   \
    X(HF_MID_P, "mid-p", "counts half of the observed outcome: covers close to its level")         \
    X(HF_WILSON, "wilson", "from the approximate score test: covers its level on average")         \
    X(HF_JEFFREYS, "jeffreys", "equal-tailed posterior under Beta(1/2, 1/2), closed at 0 and 1")

typedef enum hf_share_method {
#define HF_SHARE_METHOD_ENUM(name, word, text) name,
    HF_SHARE_METHOD_LIST(HF_SHARE_METHOD_ENUM)
#undef HF_SHARE_METHOD_ENUM
} hf_share_method;

/** Word for a method ("clopper-pearson"); never NULL. */
HF_API const char *hf_share_method_word(hf_share_method method);

typedef struct hf_share {
    double share, low, high;
} hf_share;

/** Share with its interval. */
HF_API hf_status hf_binomial_interval_e(long events, long strands, hf_share_method method,
                                        double level, hf_share *out) HF_MUST_CHECK;

typedef struct hf_tails {
    double less, greater, two_sided;
} hf_tails;

/** Exact test of a share `against` a stated one (0..1): P(X <= events), P(X >= events), and the sum
 *  of the outcomes that are no likelier than the one seen. */
HF_API hf_status hf_binomial_test_e(long events, long strands, double against,
                                    hf_tails *out) HF_MUST_CHECK;

typedef struct hf_zero_events {
    double exact, rule;
} hf_zero_events;

/** No event among `strands`: the 95 % upper limit of the share, one-sided; exact 1 - 0.05^(1/n), and
 *  the rule of thumb 3/n (good above 30 strands; infinite for none). */
HF_API hf_status hf_rule_of_three_e(long strands, hf_zero_events *out) HF_MUST_CHECK;

/* Posterior of a share under the prior Beta(a, b). Uniform: 1, 1. Jeffreys: 1/2, 1/2. */
typedef struct hf_posterior {
    double a, b; /* of the posterior */
    double mean, median, low, high;
} hf_posterior;

/** Equal-tailed interval of the posterior; prior_a, prior_b above 0, at most HF_COUNT_MAX. */
HF_API hf_status hf_posterior_share_e(long events, long strands, double prior_a, double prior_b,
                                      double level, hf_posterior *out) HF_MUST_CHECK;

/** Posterior probability that the share lies above `threshold` (0..1). */
HF_API hf_status hf_posterior_above_e(long events, long strands, double prior_a, double prior_b,
                                      double threshold, double *out) HF_MUST_CHECK;

/** Beta-binomial: probability of exactly `hits` events among `next` further strands. */
HF_API hf_status hf_posterior_next_e(long events, long strands, double prior_a, double prior_b,
                                     long hits, long next, double *out) HF_MUST_CHECK;

/* ---- tables ------------------------------------------------------------------------------------
 *
 * A table of two groups: events and non-events of the first, events and non-events of the second.
 */

typedef struct hf_table {
    long a, b, c, d;
} hf_table;

typedef struct hf_fisher {
    double less, greater; /* P that the odds ratio is as small, as large as seen */
    double two_sided;     /* sum of all tables that are no likelier than the one seen */
    double odds_ratio;    /* conditional maximum likelihood; 0 or infinite at the edge, NaN without
                             any event or non-event, or with an empty group */
    double low, high;     /* exact interval of the odds ratio: two one-sided limits */
} hf_fisher;

/** Fisher's exact test of a table. At most HF_COUNT_MAX strands in all. */
HF_API hf_status hf_fisher_exact_e(const hf_table *table, double level,
                                   hf_fisher *out) HF_MUST_CHECK;

typedef struct hf_mcnemar {
    double exact;          /* two-sided, binomial on the pairs that changed; 1 when none did */
    double mid_p;          /* the same less half of the outcome seen, twice */
    double chi_squared, p; /* approximate, 1 degree of freedom; NaN when no pair changed */
    double corrected, p_corrected; /* with the continuity correction */
} hf_mcnemar;

/** McNemar's test on pairs that changed one way (`gained`: no -> yes) and the other (`lost`). */
HF_API hf_status hf_mcnemar_e(long gained, long lost, hf_mcnemar *out) HF_MUST_CHECK;

typedef struct hf_stratified {
    double odds_ratio; /* Mantel-Haenszel; 0, infinite or NaN where its sums vanish */
    double low, high;  /* approximate interval (Robins, Breslow, Greenland); NaN at 0, infinity */
    double chi_squared, p;         /* approximate, 1 degree of freedom; NaN without information */
    double corrected, p_corrected; /* with the continuity correction */
    double less, greater;          /* exact, conditional on all margins */
    double two_sided;
    size_t informative; /* strata with both groups and both outcomes */
} hf_stratified;

/** Cochran-Mantel-Haenszel test of one association over strata (donors). At least one stratum, at most
 *  10000 strands in all. */
HF_API hf_status hf_mantel_haenszel_e(size_t strata, const hf_table *tables, double level,
                                      hf_stratified *out) HF_MUST_CHECK;

/* ---- ranks -------------------------------------------------------------------------------------
 *
 * Equal values share the mean of their ranks; the P values are then exact for the ranks as they are
 * (all signs, or all ways to split the strands, equally likely). Up to HF_RANKS_EXACT values; above,
 * approximate: normal, variance corrected for ties, with continuity correction, and `exact` is 0.
 */

#define HF_RANKS_EXACT 200

typedef struct hf_ranks {
    double statistic; /* signed rank: sum of the ranks of the positive differences, V;
                         rank sum: rank sum of the first group - m(m+1)/2, W */
    double less, greater, two_sided; /* two-sided: twice the smaller, at most 1 */
    size_t used;                     /* values that took part: differences of zero are left out */
    size_t tied;                     /* values that share a rank */
    int exact;
} hf_ranks;

/** Wilcoxon's signed-rank test that differences are symmetric about zero. Zeros are left out
 *  (Wilcoxon's own rule); when nothing is left all P values are 1. */
HF_API hf_status hf_signed_rank_e(size_t n, const double *difference, hf_ranks *out,
                                  hf_message *message) HF_MUST_CHECK;

/** Wilcoxon's rank-sum test (Mann-Whitney) of two groups. HF_EDATA for an empty group. */
HF_API hf_status hf_rank_sum_e(size_t m, const double *first, size_t n, const double *second,
                               hf_ranks *out, hf_message *message) HF_MUST_CHECK;

/** The rank-sum test within strata (donors): values ranked in each stratum by itself, statistics added up.
 *  Stratum k has first[k] and second[k] values; `values` holds those of its first group, then of its second,
 *  stratum after stratum. Strata with an empty group are left out; HF_EDATA when none is left. */
HF_API hf_status hf_strata_rank_sum_e(size_t strata, const size_t *first, const size_t *second,
                                      const double *values, hf_ranks *out,
                                      hf_message *message) HF_MUST_CHECK;

/** Largest T for which the signed-rank test of n pairs without ties rejects (the smaller of the two
 *  rank sums <= T), `sides` 1 or 2; n up to HF_RANKS_EXACT. HF_EDATA when even T = 0 does not. */
HF_API hf_status hf_signed_rank_critical_e(long n, double alpha, int sides,
                                           long *out) HF_MUST_CHECK;

/** Largest U (the smaller of W and mn - W) for which the rank-sum test without ties rejects. m + n up
 *  to HF_RANKS_EXACT. HF_EDATA when even U = 0 does not. */
HF_API hf_status hf_rank_sum_critical_e(long m, long n, double alpha, int sides,
                                        long *out) HF_MUST_CHECK;

/* ---- means ------------------------------------------------------------------------------------- */

typedef struct hf_t_test {
    double difference; /* paired: mean of after - before; two groups: mean first - mean second */
    double low, high;  /* interval of the difference */
    double standard_error;
    double t, freedom; /* degrees of freedom; Welch's are a fraction */
    double less, greater, two_sided;
} hf_t_test;

/** Paired t test; before NULL: `after` holds the differences. HF_EDATA below two pairs or when all
 *  differences are equal. */
HF_API hf_status hf_paired_t_e(size_t n, const double *before, const double *after, double level,
                               hf_t_test *out, hf_message *message) HF_MUST_CHECK;

/** Two-sample t test without equal variances (Welch). HF_EDATA below two strands in a group or
 *  without any spread. */
HF_API hf_status hf_welch_t_e(size_t m, const double *first, size_t n, const double *second,
                              double level, hf_t_test *out, hf_message *message) HF_MUST_CHECK;

/** Quantile of Student's t, p strictly between 0 and 1, degrees of freedom above 0. */
HF_API hf_status hf_t_quantile_e(double p, double freedom, double *out) HF_MUST_CHECK;

/** P(T <= t) of the noncentral t distribution; freedom 1 .. 1e7. */
HF_API hf_status hf_noncentral_t_e(double t, double freedom, double noncentrality,
                                   double *out) HF_MUST_CHECK;

/* ---- grades ------------------------------------------------------------------------------------ */

/* name, word, weight of a disagreement by d of k - 1 steps */
#define HF_KAPPA_LIST(X)                                                                           \
    X(HF_KAPPA_NONE, "none", "every disagreement counts the same")                                 \
    X(HF_KAPPA_LINEAR, "linear", "in proportion to the steps apart")                               \
    X(HF_KAPPA_QUADRATIC, "quadratic", "in proportion to their square")

typedef enum hf_kappa_weights {
#define HF_KAPPA_ENUM(name, word, text) name,
    HF_KAPPA_LIST(HF_KAPPA_ENUM)
#undef HF_KAPPA_ENUM
} hf_kappa_weights;

/** Word for a weighting ("linear"); never NULL. */
HF_API const char *hf_kappa_word(hf_kappa_weights weights);

typedef struct hf_kappa {
    double kappa;
    double standard_error;      /* approximate, for an interval */
    double standard_error_null; /* approximate, for a test of no agreement beyond chance */
    double low, high;           /* approximate: kappa -+ z standard_error */
    double observed, expected;  /* weighted agreement seen, and by chance */
} hf_kappa;

/** Cohen's weighted kappa of two graders: grades 0 .. grades - 1 (2 .. 20 of them), one entry a
 *  strand. HF_EDATA below two strands, or when both used a single grade: chance alone would agree. */
HF_API hf_status hf_weighted_kappa_e(size_t n, const int *first, const int *second, int grades,
                                     hf_kappa_weights weights, double level, hf_kappa *out,
                                     hf_message *message) HF_MUST_CHECK;

/* ---- how many strands --------------------------------------------------------------------------
 *
 * Power: chance that a two-sided test at risk alpha rejects when the truth is as stated. A number of
 * strands is the smallest that reaches the wanted power and keeps it for the next nine (exact tests
 * rise in a saw-tooth). HF_EDATA when the two shares or means are equal, or no number in reach will do.
 */

#define HF_STRANDS_MAX 10000

typedef struct hf_strands {
    double formula; /* textbook formula, not rounded */
    long strands; /* per group; by the exact test (searched up to 1600), or (exact 0: formula above
                       400) that rounded up */
    double power; /* at `strands` */
    int exact;
} hf_strands;

/** Strands that, if all show the effect, put the lower limit (two-sided Clopper-Pearson) of the share
 *  at or above `share` (0 < share < 1). */
HF_API hf_status hf_limit_strands_e(double share, double level, long *out) HF_MUST_CHECK;

/** Strands for a Clopper-Pearson interval no wider than `width` (full width, below 1) around an
 *  expected share. HF_EDATA when HF_STRANDS_MAX do not suffice. */
HF_API hf_status hf_width_strands_e(double share, double width, double level,
                                    long *out) HF_MUST_CHECK;

/** Exact power of the binomial test of a share against a stated one. */
HF_API hf_status hf_share_power_e(double share, double against, long strands, double alpha,
                                  double *out) HF_MUST_CHECK;
HF_API hf_status hf_share_strands_e(double share, double against, double alpha, double power,
                                    hf_strands *out) HF_MUST_CHECK;

/** Two groups: power of Fisher's exact test, m and n up to 2000; and by the approximate formula (pooled
 *  normal test, equal groups of n; n need not be whole). */
HF_API hf_status hf_two_share_power_e(double first, double second, long m, long n, double alpha,
                                      double *out) HF_MUST_CHECK;
HF_API hf_status hf_two_share_formula_e(double first, double second, double n, double alpha,
                                        double *out) HF_MUST_CHECK;
HF_API hf_status hf_two_share_strands_e(double first, double second, double alpha, double power,
                                        hf_strands *out) HF_MUST_CHECK;

/** The same strands before and after: shares of pairs that go no -> yes (gained) and yes -> no (lost).
 *  Exact power of McNemar's exact test; up to 5000 pairs. */
HF_API hf_status hf_paired_share_power_e(double gained, double lost, long pairs, double alpha,
                                         double *out) HF_MUST_CHECK;
HF_API hf_status hf_paired_share_strands_e(double gained, double lost, double alpha, double power,
                                           hf_strands *out) HF_MUST_CHECK;

/** Means: t test for a true difference with a standard deviation (of the strands; paired: of the
 *  differences). groups 2: n in each, equal variances; groups 1: pairs. n, 2 .. 1e6, need not be whole. */
HF_API hf_status hf_mean_power_e(double difference, double deviation, double n, int groups,
                                 double alpha, double *out) HF_MUST_CHECK;
HF_API hf_status hf_mean_strands_e(double difference, double deviation, int groups, double alpha,
                                   double power, hf_strands *out) HF_MUST_CHECK;

/* ---- many tests -------------------------------------------------------------------------------- */

/** Holm's correction: adjusted P values, in the order given; p in 0..1. `adjusted` may be `p`. */
HF_API hf_status hf_holm_e(size_t n, const double *p, double *adjusted) HF_MUST_CHECK;

#ifdef __cplusplus
}
#endif

#endif
