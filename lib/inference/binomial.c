/*
 * Interval of a share, x events of n strands, at confidence 1 - alpha; z the quantile of the normal
 * distribution at 1 - alpha/2, I_p(a, b) the regularised incomplete beta function.
 *
 *   Clopper-Pearson  I_low(x, n - x + 1) = alpha/2
 *   mid-P            [I_low(x, n - x + 1) + I_low(x + 1, n - x)]/2 = alpha/2
 *   Wilson           (p - x/n)^2 = z^2 p (1 - p)/n, both roots
 *   Jeffreys         I_low(x + 1/2, n - x + 1/2) = alpha/2, low = 0 for x = 0
 *
 * The upper limit is 1 - the lower limit of n - x. Comparison of the methods: newcombe1998. Limits of a
 * published table that are mid-P: gavazzonidias2014. Rule of three: 3/n against 1 - 0.05^(1/n).
 */
#include "guard.h"
#include "numeric.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_randist.h>

#include <stdlib.h>

typedef struct counts {
    double events, strands;
} counts;

/* P(X > x) + P(X = x)/2 */
static double half_above(double p, const void *context)
{
    const counts *c = context;
    const double from =
        c->events > 0 ? gsl_cdf_beta_P(p, c->events, c->strands - c->events + 1) : 1;
    const double above =
        c->events < c->strands ? gsl_cdf_beta_P(p, c->events + 1, c->strands - c->events) : 0;
    return 0.5 * (from + above);
}

static double wilson(double x, double n, double tail)
{
    const double z = gsl_cdf_ugaussian_Qinv(tail), square = z * z;
    /* The upper root first: the product of both is x^2/(n (n + z^2)), without cancellation. */
    const double upper =
        (2 * x + square + z * sqrt(square + 4 * x * (n - x) / n)) / (2 * (n + square));
    return x * x / (n * (n + square)) / upper;
}

static double lower_limit(double x, double n, hf_share_method method, double tail)
{
    if (x <= 0)
        return 0;
    const counts c = {x, n};
    switch (method) {
    case HF_CLOPPER_PEARSON:
        return x >= n ? pow(tail, 1 / n) : hfi_beta_quantile(tail, x, n - x + 1);
    case HF_MID_P:
        return x >= n ? pow(2 * tail, 1 / n) : hfi_rising_root(half_above, &c, tail, 0, 1, 0);
    case HF_WILSON:
        return wilson(x, n, tail);
    case HF_JEFFREYS:
        return hfi_beta_quantile(tail, x + 0.5, n - x + 0.5);
    }
    return (double)NAN;
}

const char *hf_share_method_word(hf_share_method method)
{
    switch (method) {
#define WORD(name, word, text)                                                                     \
    case name:                                                                                     \
        return word;
        HF_SHARE_METHOD_LIST(WORD)
#undef WORD
    }
    return "unknown";
}

static int is_method(hf_share_method method)
{
    switch (method) {
#define CASE(name, word, text) case name:
        HF_SHARE_METHOD_LIST(CASE)
#undef CASE
        return 1;
    }
    return 0;
}

hf_status hf_binomial_interval_e(long events, long strands, hf_share_method method, double level,
                                 hf_share *out)
{
    hf_status status = hfi_inside(level);
    if (!out || !is_method(method))
        return HF_EINVAL;
    if (status == HF_OK)
        status = hfi_counts(events, strands);
    if (status != HF_OK)
        return status;
    hfi_guard_gsl();
    hf_share answer = {(double)NAN, 0, 1};
    if (strands > 0) {
        const double x = (double)events, n = (double)strands, tail = 0.5 * (1 - level);
        answer.share = x / n;
        answer.low = lower_limit(x, n, method, tail);
        answer.high = 1 - lower_limit(n - x, n, method, tail);
    }
    if (isnan(answer.low) || isnan(answer.high))
        return HF_ECONVERGE;
    *out = answer;
    return HF_OK;
}

int hfi_clopper_pearson(long events, long strands, double level, double *low, double *high)
{
    hf_share s;
    if (hf_binomial_interval_e(events, strands, HF_CLOPPER_PEARSON, level, &s) != HF_OK)
        return 0;
    *low = s.low;
    *high = s.high;
    return 1;
}

hf_status hf_binomial_test_e(long events, long strands, double against, hf_tails *out)
{
    hf_status status = out ? hfi_fraction(against) : HF_EINVAL;
    if (status == HF_OK)
        status = hfi_counts(events, strands);
    if (status != HF_OK)
        return status;
    hfi_guard_gsl();
    double *p = malloc(((size_t)strands + 1) * sizeof *p);
    if (!p)
        return HF_ENOMEM;
    for (long i = 0; i <= strands; i++)
        p[i] = gsl_ran_binomial_pdf((unsigned)i, against, (unsigned)strands);
    *out = hfi_tails(p, strands + 1, events);
    free(p);
    return HF_OK;
}

hf_status hf_rule_of_three_e(long strands, hf_zero_events *out)
{
    if (!out)
        return HF_EINVAL;
    if (strands < 0 || strands > HF_COUNT_MAX)
        return HF_ERANGE;
    out->exact = strands > 0 ? -expm1(log(0.05) / (double)strands) : 1;
    out->rule = strands > 0 ? 3 / (double)strands : (double)INFINITY;
    return HF_OK;
}
