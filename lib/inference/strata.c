/*
 * Cochran-Mantel-Haenszel over strata k: a_k events of the first group, expected
 * E_k = n1 m1/N, variance V_k = n1 n2 m1 m2/(N^2 (N - 1)), n the groups, m the outcomes.
 *
 *   chi squared  (|sum a - sum E| - c)^2/sum V, c = 0 or min(1/2, |sum a - sum E|), 1 degree of freedom
 *   odds ratio   R/S, R = sum a d/N, S = sum b c/N
 *   interval     variance of its logarithm: sum P R_k/(2 R^2) + sum (P S_k + Q R_k)/(2 R S)
 *                + sum Q S_k/(2 S^2), P = (a + d)/N, Q = (b + c)/N
 *   exact        sum a given all margins: the hypergeometric distributions folded together
 */
#include "guard.h"
#include "numeric.h"

#include <gsl/gsl_cdf.h>

#include <stdlib.h>
#include <string.h>

#define MOST_STRANDS 10000 /* in all strata: the exact distribution costs their square */

typedef struct totals {
    double apart, variance; /* sum a - sum E, sum V */
    double r, s, pr, mixed, qs;
    size_t informative;
} totals;

static void add(totals *t, const hf_table *k)
{
    const double a = (double)k->a, b = (double)k->b, c = (double)k->c, d = (double)k->d;
    const double n = a + b + c + d;
    if (n < 2)
        return;
    const double product = (a + b) * (c + d) * (a + c) * (b + d);
    t->informative += product > 0;
    t->apart += a - (a + b) * (a + c) / n;
    t->variance += product / (n * n * (n - 1));
    const double p = (a + d) / n, q = (b + c) / n, r = a * d / n, s = b * c / n;
    t->r += r;
    t->s += s;
    t->pr += p * r;
    t->mixed += p * s + q * r;
    t->qs += q * s;
}

static void odds(const totals *t, double level, hf_stratified *out)
{
    out->odds_ratio = t->r / t->s; /* 0/0 is NaN, r/0 infinite: as the comment in the header says */
    out->low = out->high = (double)NAN;
    if (t->r > 0 && t->s > 0) {
        const double variance =
            t->pr / (2 * t->r * t->r) + t->mixed / (2 * t->r * t->s) + t->qs / (2 * t->s * t->s);
        const double factor = exp(gsl_cdf_ugaussian_Qinv(0.5 * (1 - level)) * sqrt(variance));
        out->low = out->odds_ratio / factor;
        out->high = out->odds_ratio * factor;
    }
}

static void test(const totals *t, hf_stratified *out)
{
    const double apart = fabs(t->apart), correction = apart < 0.5 ? apart : 0.5;
    out->chi_squared = out->p = out->corrected = out->p_corrected = (double)NAN;
    if (t->variance > 0) {
        out->chi_squared = apart * apart / t->variance;
        out->corrected = (apart - correction) * (apart - correction) / t->variance;
        out->p = gsl_cdf_chisq_Q(out->chi_squared, 1);
        out->p_corrected = gsl_cdf_chisq_Q(out->corrected, 1);
    }
}

/* Folds the strata together: all[] ends as the distribution of the events of the first groups above the
 * least possible. `work` holds two arrays of `room`. */
static long fold(size_t strata, const hf_table *tables, double *all, double *work, size_t room)
{
    long n = 1;
    all[0] = 1;
    for (size_t k = 0; k < strata; k++) {
        const hfi_margins m = hfi_margins_of(&tables[k]);
        const long more = m.high - m.low;
        double *one = work, *sum = work + room;
        hfi_hypergeometric(&m, one);
        memset(sum, 0, (size_t)(n + more) * sizeof *sum);
        for (long i = 0; i < n; i++)
            for (long j = 0; j <= more; j++)
                sum[i + j] += all[i] * one[j];
        n += more;
        memcpy(all, sum, (size_t)n * sizeof *all);
    }
    return n;
}

hf_status hf_mantel_haenszel_e(size_t strata, const hf_table *tables, double level,
                               hf_stratified *out)
{
    hf_status status = tables && out && strata > 0 ? hfi_inside(level) : HF_EINVAL;
    if (status != HF_OK)
        return status;
    hfi_guard_gsl();
    totals t = {0};
    long strands = 0, x = 0;
    size_t room = 1;
    for (size_t k = 0; k < strata; k++) {
        const hf_table *one = &tables[k];
        const long counts[] = {one->a, one->b, one->c, one->d};
        for (int i = 0; i < 4; i++) {
            if (counts[i] < 0 || counts[i] > MOST_STRANDS)
                return HF_ERANGE;
            strands += counts[i];
        }
        if (strands > MOST_STRANDS)
            return HF_ERANGE;
        add(&t, one);
        const hfi_margins m = hfi_margins_of(one);
        room += (size_t)(m.high - m.low);
        x += one->a - m.low;
    }
    double *block = malloc(3 * room * sizeof *block);
    if (!block)
        return HF_ENOMEM;
    const long n = fold(strata, tables, block, block + room, room);
    const hf_tails tails = hfi_tails(block, n, x);
    free(block);
    hf_stratified answer = {.less = tails.less,
                            .greater = tails.greater,
                            .two_sided = tails.two_sided,
                            .informative = t.informative};
    odds(&t, level, &answer);
    test(&t, &answer);
    *out = answer;
    return HF_OK;
}
