/* Small tools of the statistics: ranges of arguments, roots, beta quantiles. */
#ifndef HFI_NUMERIC_H
#define HFI_NUMERIC_H

#include <hairfibre/statistics.h>

#include <math.h>

/* Two outcomes whose probabilities differ by less than this factor count as equally likely. */
#define HFI_EQUALLY_LIKELY (1 + 1e-7)

/* Rounding allowed when a P value is compared with a risk. */
#define HFI_AT_MOST (1 + 1e-9)

/* HF_OK, HF_EINVAL, or HF_ERANGE unless 0 < x < 1 (a level, a risk). */
static inline hf_status hfi_inside(double x)
{
    return !isfinite(x) ? HF_EINVAL : x > 0 && x < 1 ? HF_OK : HF_ERANGE;
}

/* The same with both ends allowed (a share). */
static inline hf_status hfi_fraction(double x)
{
    return !isfinite(x) ? HF_EINVAL : x >= 0 && x <= 1 ? HF_OK : HF_ERANGE;
}

/* HF_ERANGE unless 0 <= events <= strands <= HF_COUNT_MAX. */
static inline hf_status hfi_counts(long events, long strands)
{
    return events < 0 || strands < events || strands > HF_COUNT_MAX ? HF_ERANGE : HF_OK;
}

typedef double hfi_function(double x, const void *context);

/* Where the rising function passes `target` between low and high, to the last digit or to `within`; NaN
 * when a value on the way is NaN. Ends at low or high when it never passes. */
double hfi_rising_root(hfi_function *f, const void *context, double target, double low, double high,
                       double within);

/* Quantile of Beta(a, b), a and b above 0. */
double hfi_beta_quantile(double p, double a, double b);

/* Clopper-Pearson interval of checked arguments; 0 when it failed. */
int hfi_clopper_pearson(long events, long strands, double level, double *low, double *high);

/* Hypergeometric probabilities of i events in the first group, low <= i <= high, for the margins of a
 * table; `p` has room for high - low + 1. */
typedef struct hfi_margins {
    long first, second, events; /* sizes of the groups, events in both */
    long low, high;
} hfi_margins;
hfi_margins hfi_margins_of(const hf_table *table);
void hfi_hypergeometric(const hfi_margins *margins, double *p);

/* Tails of a discrete distribution p[0..n-1] at index x: at most, at least, and all that is no likelier. */
hf_tails hfi_tails(const double *p, long n, long x);

/* Walks a distribution p[0..n-1] with one peak from both ends, the unlikeliest first. The outcomes an
 * exact two-sided test rejects at risk alpha are 0 .. *left - 1 and *right + 1 .. n - 1. */
void hfi_rejected(const double *p, long n, double alpha, long *left, long *right);

#endif
