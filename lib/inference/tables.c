/*
 * Tables of two groups and of pairs.
 *
 * Fisher: with all margins fixed the events of the first group follow the hypergeometric distribution
 * p(i), weighted by w^i for an odds ratio w. The estimate solves E[i] = a; the limits solve
 * P(i >= a) = alpha/2 and P(i <= a) = alpha/2 in ln w. Check: tea tasting, r-docs-fisher.
 *
 * McNemar: of b + c pairs that changed, the smaller count is binomial with 1/2; approximate
 * (b - c)^2/(b + c), corrected (|b - c| - 1)^2/(b + c), chi squared with 1 degree of freedom.
 */
#include "guard.h"
#include "numeric.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_randist.h>

#include <stdlib.h>

#define LOG_ODDS_MOST 300.0 /* |ln w| looked at */

typedef struct weighted {
    const double *p;
    long n, x;
} weighted;

/* Sums over the distribution weighted by exp(i t): total, mean, at least x, at most x. */
typedef struct sums {
    double all, mean, from, upto;
} sums;

static sums weigh(double t, const weighted *w)
{
    sums s = {0, 0, 0, 0};
    double largest = -HUGE_VAL;
    for (long i = 0; i < w->n; i++)
        if (w->p[i] > 0 && log(w->p[i]) + (double)i * t > largest)
            largest = log(w->p[i]) + (double)i * t;
    for (long i = 0; i < w->n; i++) {
        if (!(w->p[i] > 0))
            continue;
        const double q = exp(log(w->p[i]) + (double)i * t - largest);
        s.all += q;
        s.mean += q * (double)i;
        if (i >= w->x)
            s.from += q;
        if (i <= w->x)
            s.upto += q;
    }
    return s;
}

static double mean_events(double t, const void *context)
{
    const sums s = weigh(t, context);
    return s.mean / s.all;
}

static double share_from(double t, const void *context)
{
    const sums s = weigh(t, context);
    return s.from / s.all;
}

static double minus_share_upto(double t, const void *context)
{
    const sums s = weigh(t, context);
    return -s.upto / s.all;
}

static void odds(const weighted *w, double tail, hf_fisher *f)
{
    f->low = 0;
    f->high = f->odds_ratio = (double)INFINITY;
    if (w->n == 1) {
        f->odds_ratio = (double)NAN;
        return;
    }
    const double most = LOG_ODDS_MOST;
    if (w->x > 0)
        f->low = exp(hfi_rising_root(share_from, w, tail, -most, most, 1e-15));
    if (w->x < w->n - 1)
        f->high = exp(hfi_rising_root(minus_share_upto, w, -tail, -most, most, 1e-15));
    if (w->x == 0)
        f->odds_ratio = 0;
    else if (w->x < w->n - 1)
        f->odds_ratio = exp(hfi_rising_root(mean_events, w, (double)w->x, -most, most, 1e-15));
}

hf_status hf_fisher_exact_e(const hf_table *t, double level, hf_fisher *out)
{
    const hf_status status = t && out ? hfi_inside(level) : HF_EINVAL;
    if (status != HF_OK)
        return status;
    if (hfi_counts(t->a, HF_COUNT_MAX) != HF_OK || hfi_counts(t->b, HF_COUNT_MAX) != HF_OK ||
        hfi_counts(t->c, HF_COUNT_MAX) != HF_OK || hfi_counts(t->d, HF_COUNT_MAX) != HF_OK ||
        t->a + t->b + t->c + t->d > HF_COUNT_MAX)
        return HF_ERANGE;
    const hfi_margins margins = hfi_margins_of(t);
    const long n = margins.high - margins.low + 1;
    double *p = malloc((size_t)n * sizeof *p);
    if (!p)
        return HF_ENOMEM;
    const weighted w = {p, n, t->a - margins.low};
    hfi_hypergeometric(&margins, p);
    const hf_tails tails = hfi_tails(p, w.n, w.x);
    hf_fisher f = {.less = tails.less, .greater = tails.greater, .two_sided = tails.two_sided};
    odds(&w, 0.5 * (1 - level), &f);
    free(p);
    *out = f;
    return HF_OK;
}

hf_status hf_mcnemar_e(long gained, long lost, hf_mcnemar *out)
{
    if (!out)
        return HF_EINVAL;
    if (hfi_counts(gained, HF_COUNT_MAX) != HF_OK || hfi_counts(lost, HF_COUNT_MAX) != HF_OK ||
        gained + lost > HF_COUNT_MAX)
        return HF_ERANGE;
    hfi_guard_gsl();
    const long changed = gained + lost, fewer = gained < lost ? gained : lost;
    const double apart = fabs((double)(gained - lost)), n = (double)changed;
    const double nan = (double)NAN;
    hf_mcnemar m = {1, 1, nan, nan, nan, nan};
    if (changed > 0) {
        const double below = gsl_cdf_binomial_P((unsigned)fewer, 0.5, (unsigned)changed);
        const double here = gsl_ran_binomial_pdf((unsigned)fewer, 0.5, (unsigned)changed);
        m.exact = gained == lost || below > 0.5 ? 1 : 2 * below;
        m.mid_p = gained == lost ? 1 : 2 * below - here;
        m.chi_squared = apart * apart / n;
        m.corrected = apart > 0 ? (apart - 1) * (apart - 1) / n : 0;
        m.p = gsl_cdf_chisq_Q(m.chi_squared, 1);
        m.p_corrected = gsl_cdf_chisq_Q(m.corrected, 1);
    }
    *out = m;
    return HF_OK;
}
