/*
 * Cohen's weighted kappa of two graders, with large-sample standard errors.
 *
 *   v_ij = 1 - |i - j|/(k - 1) (linear), 1 - (i - j)^2/(k - 1)^2 (quadratic), 1 or 0 (none)
 *   kappa = (po - pe)/(1 - pe), po = sum v_ij p_ij, pe = sum v_ij p_i. p_.j
 *   variance = {sum p_ij [v_ij - (a_i + b_j)(1 - kappa)]^2 - [kappa - pe (1 - kappa)]^2}/(n (1 - pe)^2)
 *   under no agreement beyond chance: {sum p_i. p_.j [v_ij - (a_i + b_j)]^2 - pe^2}/(n (1 - pe)^2)
 *   a_i = sum_j p_.j v_ij, b_j = sum_i p_i. v_ij
 * The standard errors are poor below some 30 strands.
 */
#include "guard.h"
#include "numeric.h"

#include <gsl/gsl_cdf.h>

#include <stdio.h>

#define MOST_GRADES 20

typedef struct agreement {
    int k;
    double p[MOST_GRADES][MOST_GRADES], v[MOST_GRADES][MOST_GRADES];
    double row[MOST_GRADES], column[MOST_GRADES];
    double a[MOST_GRADES], b[MOST_GRADES];
} agreement;

const char *hf_kappa_word(hf_kappa_weights weights)
{
    switch (weights) {
#define WORD(name, word, text)                                                                     \
    case name:                                                                                     \
        return word;
        HF_KAPPA_LIST(WORD)
#undef WORD
    }
    return "unknown";
}

static double weight(int i, int j, int k, hf_kappa_weights weights)
{
    const double apart = fabs((double)(i - j)) / (double)(k - 1);
    switch (weights) {
    case HF_KAPPA_NONE:
        return i == j ? 1 : 0;
    case HF_KAPPA_LINEAR:
        return 1 - apart;
    case HF_KAPPA_QUADRATIC:
        return 1 - apart * apart;
    }
    return (double)NAN;
}

static void count(agreement *g, size_t n, const int *first, const int *second)
{
    for (size_t i = 0; i < n; i++) {
        const double share = 1 / (double)n;
        g->p[first[i]][second[i]] += share;
        g->row[first[i]] += share;
        g->column[second[i]] += share;
    }
}

static hf_status compute(agreement *g, double n, hf_kappa *r)
{
    for (int i = 0; i < g->k; i++)
        for (int j = 0; j < g->k; j++) {
            g->a[i] += g->column[j] * g->v[i][j];
            g->b[j] += g->row[i] * g->v[i][j];
            r->observed += g->v[i][j] * g->p[i][j];
            r->expected += g->v[i][j] * g->row[i] * g->column[j];
        }
    const double left = 1 - r->expected;
    if (!(left > 1e-12))
        return HF_EDATA;
    r->kappa = (r->observed - r->expected) / left;
    double sum = 0, null = 0;
    for (int i = 0; i < g->k; i++)
        for (int j = 0; j < g->k; j++) {
            const double apart = g->v[i][j] - (g->a[i] + g->b[j]) * (1 - r->kappa);
            const double chance = g->v[i][j] - (g->a[i] + g->b[j]);
            sum += g->p[i][j] * apart * apart;
            null += g->row[i] * g->column[j] * chance * chance;
        }
    const double shift = r->kappa - r->expected * (1 - r->kappa);
    /* Rounding may leave a tiny negative number where the spread is zero. */
    r->standard_error = sqrt(fmax(0, sum - shift * shift) / n) / left;
    r->standard_error_null = sqrt(fmax(0, null - r->expected * r->expected) / n) / left;
    return HF_OK;
}

hf_status hf_weighted_kappa_e(size_t n, const int *first, const int *second, int grades,
                              hf_kappa_weights weights, double level, hf_kappa *out,
                              hf_message *message)
{
    if (!out || (n && (!first || !second)) || isnan(weight(0, 1, 3, weights)))
        return HF_EINVAL;
    hf_status status = hfi_inside(level);
    if (status != HF_OK)
        return status;
    if (grades < 2 || grades > MOST_GRADES)
        return HF_ERANGE;
    for (size_t i = 0; i < n; i++)
        if (first[i] < 0 || second[i] < 0 || first[i] >= grades || second[i] >= grades) {
            if (message)
                snprintf(message->text, sizeof message->text,
                         "strand %zu has a grade outside the %d of the scale", i + 1, grades);
            return HF_ERANGE;
        }
    hfi_guard_gsl();
    agreement g = {.k = grades};
    hf_kappa r = {0};
    for (int i = 0; i < grades; i++)
        for (int j = 0; j < grades; j++)
            g.v[i][j] = weight(i, j, grades, weights);
    count(&g, n, first, second);
    status = n < 2 ? HF_EDATA : compute(&g, (double)n, &r);
    if (status == HF_EDATA && message)
        snprintf(
            message->text, sizeof message->text, "%s",
            n < 2
                ? "two strands or more must be graded by both"
                : "both graders gave one and the same grade throughout: chance alone would agree");
    if (status != HF_OK)
        return status;
    const double reach = gsl_cdf_ugaussian_Qinv(0.5 * (1 - level)) * r.standard_error;
    r.low = r.kappa - reach;
    r.high = r.kappa + reach;
    *out = r;
    return HF_OK;
}
