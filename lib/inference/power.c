/*
 * Power and numbers of strands, shares. z_a the quantile of the normal distribution at 1 - alpha/2, z_b
 * at the power, q = 1 - p.
 *
 *   one share    [z_a sqrt(p0 q0) + z_b sqrt(p1 q1)]^2/(p1 - p0)^2
 *   two shares   [z_a sqrt((p1 + p2)(1 - (p1 + p2)/2)) + z_b sqrt(p1 q1 + p2 q2)]^2/(p1 - p2)^2
 *   pairs        [z_a sqrt(g + l) + z_b sqrt(g + l - (g - l)^2)]^2/(g - l)^2, g gained, l lost
 *
 * Exact power: every outcome an exact two-sided test rejects, with its probability. The number of strands
 * is searched upward from 0.6 of the formula; above FORMULA_MOST the formula alone answers.
 */
#include "guard.h"
#include "numeric.h"
#include "power.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_randist.h>

#include <stdlib.h>

#define FORMULA_MOST 400.0
#define SEARCH_MOST  1600
#define IN_A_ROW     10
#define NEGLIGIBLE   1e-22 /* probability of one count */

/* ---- one share ------------------------------------------------------------------------------- */

hf_status hf_share_power_e(double share, double against, long strands, double alpha, double *out)
{
    hf_status status = out ? hfi_inside(alpha) : HF_EINVAL;
    if (status == HF_OK)
        status = hfi_fraction(share);
    if (status == HF_OK)
        status = hfi_fraction(against);
    if (status == HF_OK)
        status = hfi_counts(0, strands);
    if (status != HF_OK)
        return status;
    hfi_guard_gsl();
    double *p = malloc(((size_t)strands + 1) * sizeof *p);
    if (!p)
        return HF_ENOMEM;
    const unsigned n = (unsigned)strands;
    for (unsigned i = 0; i <= n; i++)
        p[i] = gsl_ran_binomial_pdf(i, against, n);
    long left, right;
    hfi_rejected(p, strands + 1, alpha, &left, &right);
    double sum = 0;
    for (long i = 0; i <= strands; i++)
        if (i < left || i > right)
            sum += gsl_ran_binomial_pdf((unsigned)i, share, n);
    free(p);
    *out = fmin(1, sum);
    return HF_OK;
}

/* ---- two shares ------------------------------------------------------------------------------ */

static double *binomial(double share, long n)
{
    double *p = calloc((size_t)n + 1, sizeof *p);
    if (!p)
        return NULL;
    for (long i = 0; i <= n; i++)
        p[i] = gsl_ran_binomial_pdf((unsigned)i, share, (unsigned)n);
    return p;
}

/* First and last count that can matter: what is left out adds up to less than 1e-17. */
static void support(const double *p, long n, long *low, long *high)
{
    *low = 0;
    *high = n;
    while (*low < n && p[*low] < NEGLIGIBLE)
        ++*low;
    while (*high > *low && p[*high] < NEGLIGIBLE)
        --*high;
}

static double rejected_tables(long m, long n, double alpha, const double *x, const double *y,
                              double *p)
{
    double sum = 0;
    long fewest[2], most[2];
    support(x, m, &fewest[0], &most[0]);
    support(y, n, &fewest[1], &most[1]);
    for (long events = fewest[0] + fewest[1]; events <= most[0] + most[1]; events++) {
        const hfi_margins margins = {m, n, events, events > n ? events - n : 0,
                                     events < m ? events : m};
        const long count = margins.high - margins.low + 1;
        long left, right;
        hfi_hypergeometric(&margins, p);
        hfi_rejected(p, count, alpha, &left, &right);
        for (long i = 0; i < count; i++)
            if (i < left || i > right)
                sum += x[margins.low + i] * y[events - margins.low - i];
    }
    return sum;
}

hf_status hf_two_share_power_e(double first, double second, long m, long n, double alpha,
                               double *out)
{
    hf_status status = out ? hfi_inside(alpha) : HF_EINVAL;
    if (status == HF_OK)
        status = hfi_fraction(first);
    if (status == HF_OK)
        status = hfi_fraction(second);
    if (status != HF_OK)
        return status;
    if (m < 0 || n < 0 || m > HFI_GROUP_MOST || n > HFI_GROUP_MOST)
        return HF_ERANGE;
    hfi_guard_gsl();
    double *x = binomial(first, m), *y = binomial(second, n);
    double *p = calloc((size_t)m + 1, sizeof *p);
    if (x && y && p)
        *out = fmin(1, rejected_tables(m, n, alpha, x, y, p));
    else
        status = HF_ENOMEM;
    free(x);
    free(y);
    free(p);
    return status;
}

hf_status hf_two_share_formula_e(double first, double second, double n, double alpha, double *out)
{
    hf_status status = out && isfinite(n) ? hfi_inside(alpha) : HF_EINVAL;
    if (status == HF_OK)
        status = hfi_fraction(first);
    if (status == HF_OK)
        status = hfi_fraction(second);
    if (status == HF_OK && n <= 0)
        status = HF_ERANGE;
    if (status != HF_OK)
        return status;
    hfi_guard_gsl();
    const double apart = fabs(first - second), both = first + second;
    const double spread = sqrt(first * (1 - first) + second * (1 - second));
    const double line = gsl_cdf_ugaussian_Qinv(alpha / 2) * sqrt(both * (1 - both / 2));
    const double above = sqrt(n) * apart - line;
    *out = spread > 0 ? gsl_cdf_ugaussian_P(above / spread) : above > 0 ? 1 : 0;
    return HF_OK;
}

/* ---- pairs ----------------------------------------------------------------------------------- */

/* Given d pairs that changed, the chance that the exact test rejects; *most is the largest smaller count
 * it rejects, -1 for none, and only grows with d. */
static double rejected_changes(long d, double gains, double alpha, long *most)
{
    const unsigned n = (unsigned)d;
    while (2 * (*most + 1) < d &&
           2 * gsl_cdf_binomial_P((unsigned)(*most + 1), 0.5, n) <= alpha * HFI_AT_MOST)
        ++*most;
    if (*most < 0)
        return 0;
    return gsl_cdf_binomial_P((unsigned)*most, gains, n) +
           gsl_cdf_binomial_Q((unsigned)(d - *most - 1), gains, n);
}

hf_status hf_paired_share_power_e(double gained, double lost, long pairs, double alpha, double *out)
{
    hf_status status = out ? hfi_inside(alpha) : HF_EINVAL;
    if (status == HF_OK)
        status = hfi_fraction(gained);
    if (status == HF_OK)
        status = hfi_fraction(lost);
    if (status == HF_OK && gained + lost > 1 + 1e-12)
        status = HF_ERANGE;
    if (status == HF_OK && (pairs < 0 || pairs > HFI_PAIRS_MOST))
        status = HF_ERANGE;
    if (status != HF_OK)
        return status;
    hfi_guard_gsl();
    const double changes = fmin(1, gained + lost);
    double sum = 0;
    long most = -1;
    for (long d = 1; d <= pairs && changes > 0; d++) {
        const double here = gsl_ran_binomial_pdf((unsigned)d, changes, (unsigned)pairs);
        sum += here * rejected_changes(d, gained / changes, alpha, &most);
    }
    *out = fmin(1, sum);
    return HF_OK;
}

/* ---- numbers of strands ---------------------------------------------------------------------- */

typedef struct wanted {
    double first, second, alpha;
    hf_status (*power)(const struct wanted *w, long n, double *out);
} wanted;

static hf_status share_at(const wanted *w, long n, double *out)
{
    return hf_share_power_e(w->first, w->second, n, w->alpha, out);
}

static hf_status two_shares_at(const wanted *w, long n, double *out)
{
    return hf_two_share_power_e(w->first, w->second, n, n, w->alpha, out);
}

static hf_status pairs_at(const wanted *w, long n, double *out)
{
    return hf_paired_share_power_e(w->first, w->second, n, w->alpha, out);
}

/* Smallest n from which the power holds for IN_A_ROW sizes. HF_EDATA beyond SEARCH_MOST: risks and shares so
 * far from usual that the formula, below FORMULA_MOST, was misled. */
static hf_status search(const wanted *w, double power, long from, hf_strands *out)
{
    double reached = 0;
    long first = from;
    for (long n = from; n - first < IN_A_ROW; n++) {
        double now = 0;
        const hf_status status = n > SEARCH_MOST ? HF_EDATA : w->power(w, n, &now);
        if (status != HF_OK)
            return status;
        if (now < power) {
            first = n + 1;
            continue;
        }
        if (n == first)
            reached = now;
    }
    out->strands = first;
    out->power = reached;
    out->exact = 1;
    return HF_OK;
}

static hf_status answer(const wanted *w, double formula, double power, hf_strands *out)
{
    hf_strands s = {.formula = formula, .exact = 0};
    if (!(formula < HF_STRANDS_MAX))
        return HF_EDATA;
    s.strands = (long)ceil(formula - 1e-9);
    s.strands = s.strands < 1 ? 1 : s.strands;
    s.power = power;
    if (formula <= FORMULA_MOST) {
        const long from = (long)(0.6 * formula);
        const hf_status status = search(w, power, from < 1 ? 1 : from, &s);
        if (status != HF_OK)
            return status;
    }
    *out = s;
    return HF_OK;
}

static hf_status check(double first, double second, double alpha, double power, const void *out)
{
    const double both[] = {first, second};
    const double risks[] = {alpha, power};
    for (int i = 0; i < 2; i++) {
        hf_status status = out ? hfi_fraction(both[i]) : HF_EINVAL;
        if (status == HF_OK)
            status = hfi_inside(risks[i]);
        if (status != HF_OK)
            return status;
    }
    hfi_guard_gsl();
    return fabs(first - second) > 1e-9 ? HF_OK : HF_EDATA; /* no number shows what is not there */
}

static double normal_quantile(double p)
{
    return gsl_cdf_ugaussian_Pinv(p);
}

static double square(double x)
{
    return x * x;
}

hf_status hf_share_strands_e(double share, double against, double alpha, double power,
                             hf_strands *out)
{
    const hf_status status = check(share, against, alpha, power, out);
    if (status != HF_OK)
        return status;
    const wanted w = {share, against, alpha, share_at};
    const double a = normal_quantile(1 - alpha / 2) * sqrt(against * (1 - against));
    const double b = normal_quantile(power) * sqrt(share * (1 - share));
    return answer(&w, square((a + b) / (share - against)), power, out);
}

hf_status hf_two_share_strands_e(double first, double second, double alpha, double power,
                                 hf_strands *out)
{
    const hf_status status = check(first, second, alpha, power, out);
    if (status != HF_OK)
        return status;
    const wanted w = {first, second, alpha, two_shares_at};
    const double both = first + second;
    const double a = normal_quantile(1 - alpha / 2) * sqrt(both * (1 - both / 2));
    const double b = normal_quantile(power) * sqrt(first * (1 - first) + second * (1 - second));
    return answer(&w, square((a + b) / (first - second)), power, out);
}

hf_status hf_paired_share_strands_e(double gained, double lost, double alpha, double power,
                                    hf_strands *out)
{
    const hf_status status = check(gained, lost, alpha, power, out);
    if (status != HF_OK)
        return status;
    const double both = gained + lost, apart = gained - lost;
    if (both > 1 + 1e-12)
        return HF_ERANGE;
    const wanted w = {gained, lost, alpha, pairs_at};
    const double a = normal_quantile(1 - alpha / 2) * sqrt(both);
    const double b = normal_quantile(power) * sqrt(fmax(0, both - apart * apart));
    return answer(&w, square((a + b) / apart), power, out);
}
