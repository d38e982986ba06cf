/*
 * Wilcoxon's rank sum within strata: the values of each stratum are ranked among themselves, and the
 * statistics W_k = rank sum of the first group - m(m + 1)/2 are added up.
 *
 * Under the hypothesis every choice of m_k of the m_k + n_k values of a stratum is equally likely, in each
 * stratum by itself; the distribution of the sum is the strata's distributions folded together, exact for
 * the ranks as they are. Above HF_RANKS_EXACT values: normal, with the sums of the strata's means mn/2 and
 * variances mn/12 [(N + 1) - sum(t^3 - t)/(N(N - 1))], t values in a tie, continuity correction 1/2.
 * The sum is not weighted (weights 1/(N + 1) would gain a little where strata differ much in size).
 */
#include "ranks.h"

#include "guard.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Shares of the ways by the rank sum of the first group, 0 .. *most; the caller frees. */
static double *distribution(const hfi_ranked *items, size_t m, size_t n, long *most)
{
    long all = 0, top;
    double *row, total = 0;
    for (size_t i = 0; i < m + n; i++)
        all += items[i].rank;
    double *ways = hfi_sum_ways(items, m + n, m < n ? m : n, &top, &row);
    if (!ways)
        return NULL;
    *most = m <= n ? top : all;
    double *share = calloc((size_t)*most + 1, sizeof *share);
    for (long s = 0; s <= top; s++)
        total += row[s];
    for (long s = 0; share && s <= top;
         s++) /* counted for the smaller group; the other has the rest */
        share[m <= n ? s : all - s] = row[s] / total;
    free(ways);
    return share;
}

/* One stratum more in `sum` (0 .. *most); 0 without memory. */
static int fold(double **sum, long *most, const double *one, long top)
{
    double *both = calloc((size_t)(*most + top) + 1, sizeof *both);
    if (!both)
        return 0;
    for (long i = 0; i <= *most; i++)
        for (long j = 0; (*sum)[i] > 0 && j <= top; j++)
            both[i + j] += (*sum)[i] * one[j];
    free(*sum);
    *sum = both;
    *most += top;
    return 1;
}

typedef struct gathered {
    hf_ranks r;
    double mean, variance;
    double *sum; /* distribution so far; NULL: not wanted */
    long most, seen;
} gathered;

static hf_status add(gathered *g, size_t m, size_t n, const double *values, hfi_ranked *items)
{
    size_t tied;
    long first = 0;
    for (size_t i = 0; i < m + n; i++)
        items[i] = (hfi_ranked){values[i], i, 0};
    const double cubes = hfi_rank_all(items, m + n, &tied);
    for (size_t i = 0; i < m + n; i++)
        first += items[i].from < m ? items[i].rank : 0;
    const double a = (double)m, b = (double)n, all = a + b;
    g->r.statistic += 0.5 * (double)first - a * (a + 1) / 2;
    g->r.used += m + n;
    g->r.tied += tied;
    g->mean += a * b / 2;
    g->variance += a * b / 12 * ((all + 1) - cubes / (all * (all - 1)));
    g->seen += first;
    if (!g->sum)
        return HF_OK;
    long top;
    double *one = distribution(items, m, n, &top);
    const int done = one && fold(&g->sum, &g->most, one, top);
    free(one);
    return done ? HF_OK : HF_ENOMEM;
}

hf_status hf_strata_rank_sum_e(size_t strata, const size_t *first, const size_t *second,
                               const double *values, hf_ranks *out, hf_message *message)
{
    if (!out || (strata && (!first || !second)))
        return HF_EINVAL;
    size_t all = 0, used = 0, largest = 0;
    for (size_t k = 0; k < strata; k++) {
        if (first[k] > HF_COUNT_MAX || second[k] > HF_COUNT_MAX || all > HF_COUNT_MAX)
            return HF_ERANGE;
        const size_t n = first[k] + second[k];
        all += n;
        used += first[k] && second[k] ? n : 0;
        largest = n > largest ? n : largest;
    }
    if (all && !values)
        return HF_EINVAL;
    hf_status status = hfi_check_list(all, values, "values", message);
    if (status == HF_OK && used == 0) {
        if (message)
            snprintf(message->text, sizeof message->text, "no stratum has values in both groups");
        status = HF_EDATA;
    }
    if (status != HF_OK)
        return status;
    hfi_guard_gsl();
    gathered g = {{0}, 0, 0, NULL, 0, 0};
    hfi_ranked *items = malloc(largest * sizeof *items);
    if (used <= HF_RANKS_EXACT)
        g.sum = calloc(1, sizeof *g.sum);
    if (!items || (used <= HF_RANKS_EXACT && !g.sum))
        status = HF_ENOMEM;
    else if (g.sum)
        g.sum[0] = 1;
    for (size_t k = 0; status == HF_OK && k < strata; k++) {
        if (first[k] && second[k])
            status = add(&g, first[k], second[k], values, items);
        values += first[k] + second[k];
    }
    if (status == HF_OK && g.sum)
        hfi_finish_ways(&g.r, g.sum, g.most, g.seen);
    else if (status == HF_OK)
        hfi_finish_normal(&g.r, g.mean, g.variance);
    free(g.sum);
    free(items);
    if (status == HF_OK)
        *out = g.r;
    return status;
}
