/*
 * Tools shared by the statistics.
 *
 * Roots: bisection down to neighbouring doubles, since every function here is monotonic and cheap.
 * Hypergeometric probabilities: p(i + 1)/p(i) = (m - i)(k - i)/((i + 1)(n - k + i + 1)) from the peak
 * outwards, m, n the sizes of the groups, k the events in both; then divided by their sum.
 */
#include "numeric.h"

#include <gsl/gsl_cdf.h>

double hfi_rising_root(hfi_function *f, const void *context, double target, double low, double high,
                       double within)
{
    for (;;) {
        const double middle = low + 0.5 * (high - low);
        if (middle <= low || middle >= high || high - low < within)
            return middle;
        const double value = f(middle, context);
        if (isnan(value))
            return (double)NAN;
        if (value < target)
            low = middle;
        else
            high = middle;
    }
}

typedef struct shape {
    double a, b;
} shape;

static double beta_below(double x, const void *context)
{
    const shape *s = context;
    return gsl_cdf_beta_P(x, s->a, s->b);
}

double hfi_beta_quantile(double p, double a, double b)
{
    const shape s = {a, b};
    return hfi_rising_root(beta_below, &s, p, 0, 1, 0);
}

hfi_margins hfi_margins_of(const hf_table *t)
{
    hfi_margins m = {t->a + t->b, t->c + t->d, t->a + t->c, 0, 0};
    m.low = m.events > m.second ? m.events - m.second : 0;
    m.high = m.events < m.first ? m.events : m.first;
    return m;
}

/* p(i + 1)/p(i) */
static double step_up(const hfi_margins *m, long i)
{
    return (double)(m->first - i) * (double)(m->events - i) /
           ((double)(i + 1) * (double)(m->second - m->events + i + 1));
}

void hfi_hypergeometric(const hfi_margins *m, double *p)
{
    const long n = m->high - m->low + 1;
    const double peak = ((double)m->events + 1) * ((double)m->first + 1) /
                        ((double)m->first + (double)m->second + 2);
    long top = (long)peak - m->low;
    top = top < 0 ? 0 : top > n - 1 ? n - 1 : top;
    double sum = p[top] = 1;
    for (long i = top + 1; i < n; i++)
        sum += p[i] = p[i - 1] * step_up(m, m->low + i - 1);
    for (long i = top - 1; i >= 0; i--)
        sum += p[i] = p[i + 1] / step_up(m, m->low + i);
    for (long i = 0; i < n; i++)
        p[i] /= sum;
}

/* rounding of a sum */
static double at_most_one(double p)
{
    return p > 1 ? 1 : p;
}

hf_tails hfi_tails(const double *p, long n, long x)
{
    hf_tails t = {0, 0, 0};
    for (long i = 0; i <= x; i++)
        t.less += p[i];
    for (long i = n - 1; i >= x; i--)
        t.greater += p[i];
    for (long i = 0; i < n; i++)
        if (p[i] <= p[x] * HFI_EQUALLY_LIKELY)
            t.two_sided += p[i];
    t.less = at_most_one(t.less);
    t.greater = at_most_one(t.greater);
    t.two_sided = at_most_one(t.two_sided);
    return t;
}

void hfi_rejected(const double *p, long n, double alpha, long *left, long *right)
{
    long i = 0, j = n - 1;
    double sum = 0;
    while (i <= j) {
        const double limit = (p[i] < p[j] ? p[i] : p[j]) * HFI_EQUALLY_LIKELY;
        long a = i, b = j;
        while (a <= b && p[a] <= limit)
            sum += p[a++];
        while (b >= a && p[b] <= limit)
            sum += p[b--];
        if (sum > alpha * HFI_AT_MOST)
            break;
        i = a;
        j = b;
    }
    *left = i;
    *right = j;
}
