/*
 * Wilcoxon's tests, exact for the ranks as they are.
 *
 * Ranks are doubled, so that shared ones are whole. Signed rank: every difference keeps or changes its
 * sign, 2^n equally likely ways. Rank sum: every choice of m of the m + n strands is equally likely.
 * The ways are counted by their sum, one value after the other.
 * Values nearer than 1e-9 of the largest count as equal: decimals do not survive a subtraction exactly.
 * Above HF_RANKS_EXACT values: normal, variance n(n+1)(2n+1)/24 - sum(t^3 - t)/48 (signed) or
 * mn/12 [(N + 1) - sum(t^3 - t)/(N(N - 1))] (sum), t values in a tie, continuity correction 1/2.
 * Critical values: oeis-a226330 (two-sided 0.05); york-wilcoxon misses some of the exact ones.
 */
#include "ranks.h"

#include "guard.h"
#include "numeric.h"

#include <gsl/gsl_cdf.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef hfi_ranked item;

static int by_value(const void *a, const void *b)
{
    const double x = ((const item *)a)->value, y = ((const item *)b)->value;
    return (x > y) - (x < y);
}

double hfi_rank_all(item *items, size_t n, size_t *tied)
{
    double cubes = 0, scale = 0;
    *tied = 0;
    for (size_t i = 0; i < n; i++)
        scale = fmax(scale, fabs(items[i].value));
    qsort(items, n, sizeof *items, by_value);
    for (size_t i = 0, end; i < n; i = end) {
        for (end = i + 1; end < n && items[end].value - items[end - 1].value <= 1e-9 * scale; end++)
            ;
        const double t = (double)(end - i);
        for (size_t k = i; k < end; k++)
            items[k].rank = (long)(i + end + 1);
        if (end - i > 1)
            *tied += end - i;
        cubes += t * t * t - t;
    }
    return cubes;
}

/* Without ties all doubled ranks are even: half of them will do. Returns 1 or 2. */
static long halve(item *items, size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (items[i].rank % 2)
            return 1;
    for (size_t i = 0; i < n; i++)
        items[i].rank /= 2;
    return 2;
}

static void finish(hf_ranks *r, double less, double greater)
{
    r->less = less > 1 ? 1 : less;
    r->greater = greater > 1 ? 1 : greater;
    const double twice = 2 * (r->less < r->greater ? r->less : r->greater);
    r->two_sided = twice > 1 ? 1 : twice;
}

void hfi_finish_ways(hf_ranks *r, const double *ways, long most, long x)
{
    double all = 0, below = 0, above = 0;
    for (long s = 0; s <= most; s++) {
        all += ways[s];
        below += s <= x ? ways[s] : 0;
        above += s >= x ? ways[s] : 0;
    }
    r->exact = 1;
    finish(r, below / all, above / all);
}

void hfi_finish_normal(hf_ranks *r, double mean, double variance)
{
    const double apart = r->statistic - mean, s = sqrt(variance);
    r->exact = 0;
    if (variance > 0)
        finish(r, gsl_cdf_ugaussian_P((apart + 0.5) / s), gsl_cdf_ugaussian_Q((apart - 0.5) / s));
    else
        finish(r, 1, 1);
}

hf_status hfi_check_list(size_t n, const double *x, const char *what, hf_message *message)
{
    for (size_t i = 0; i < n; i++)
        if (!isfinite(x[i])) {
            if (message)
                snprintf(message->text, sizeof message->text, "%s, number %zu is not finite", what,
                         i + 1);
            return HF_EINVAL;
        }
    return HF_OK;
}

/* ---- signed rank ----------------------------------------------------------------------------- */

/* ways[s], s = 0 .. sum of ranks; the caller frees. */
static double *signed_ways(const item *items, size_t n, long *most)
{
    *most = 0;
    for (size_t i = 0; i < n; i++)
        *most += items[i].rank;
    double *ways = calloc((size_t)*most + 1, sizeof *ways);
    if (!ways)
        return NULL;
    long reached = 0;
    ways[0] = 1;
    for (size_t i = 0; i < n; i++) {
        const long r = items[i].rank;
        for (long s = reached; s >= 0; s--)
            ways[s + r] += ways[s];
        reached += r;
    }
    return ways;
}

hf_status hf_signed_rank_e(size_t n, const double *difference, hf_ranks *out, hf_message *message)
{
    if (!out || (n && !difference))
        return HF_EINVAL;
    hf_status status = hfi_check_list(n, difference, "difference", message);
    if (status != HF_OK)
        return status;
    hfi_guard_gsl();
    item *items = malloc((n + 1) * sizeof *items);
    if (!items)
        return HF_ENOMEM;
    size_t used = 0;
    for (size_t i = 0; i < n; i++)
        if (difference[i] < 0 || difference[i] > 0)
            items[used++] = (item){fabs(difference[i]), i, 0};
    hf_ranks r = {.used = used};
    const double cubes = hfi_rank_all(items, used, &r.tied);
    long positive = 0;
    for (size_t i = 0; i < used; i++)
        positive += difference[items[i].from] > 0 ? items[i].rank : 0;
    r.statistic = 0.5 * (double)positive;
    if (used > HF_RANKS_EXACT) {
        const double k = (double)used;
        hfi_finish_normal(&r, k * (k + 1) / 4, k * (k + 1) * (2 * k + 1) / 24 - cubes / 48);
    } else {
        long most;
        positive /= halve(items, used);
        double *ways = signed_ways(items, used, &most);
        if (ways)
            hfi_finish_ways(&r, ways, most, positive);
        else
            status = HF_ENOMEM;
        free(ways);
    }
    free(items);
    if (status == HF_OK)
        *out = r;
    return status;
}

/* ---- rank sum -------------------------------------------------------------------------------- */

double *hfi_sum_ways(const item *items, size_t n, size_t k, long *most, double **row)
{
    *most = 0;
    for (size_t i = n - k; i < n; i++) /* sorted: the largest ranks come last */
        *most += items[i].rank;
    const size_t width = (size_t)*most + 1;
    double *ways = calloc((k + 1) * width, sizeof *ways);
    if (!ways)
        return NULL;
    ways[0] = 1;
    for (size_t i = 0; i < n; i++) {
        const size_t r = (size_t)items[i].rank;
        for (size_t j = i + 1 < k ? i + 1 : k; j > 0; j--) {
            const double *from = ways + (j - 1) * width;
            double *to = ways + j * width;
            for (size_t s = r; s < width; s++)
                to[s] += from[s - r];
        }
    }
    *row = ways + k * width;
    return ways;
}

static hf_status exact_sum(item *items, size_t m, size_t n, long first, hf_ranks *r)
{
    long all = 0, most;
    double *row;
    const long divide = halve(items, m + n);
    for (size_t i = 0; i < m + n; i++)
        all += items[i].rank;
    double *ways = hfi_sum_ways(items, m + n, m < n ? m : n, &most, &row);
    if (!ways)
        return HF_ENOMEM;
    first /= divide;
    hfi_finish_ways(r, row, most, m <= n ? first : all - first);
    if (m >
        n) { /* counted for the second group, whose sum is large when that of the first is small */
        const double less = r->less;
        r->less = r->greater;
        r->greater = less;
    }
    free(ways);
    return HF_OK;
}

hf_status hf_rank_sum_e(size_t m, const double *first, size_t n, const double *second,
                        hf_ranks *out, hf_message *message)
{
    if (!out || (m && !first) || (n && !second))
        return HF_EINVAL;
    hf_status status = hfi_check_list(m, first, "first group", message);
    if (status == HF_OK)
        status = hfi_check_list(n, second, "second group", message);
    if (status == HF_OK && (m == 0 || n == 0)) {
        if (message)
            snprintf(message->text, sizeof message->text, "the %s group is empty",
                     m == 0 ? "first" : "second");
        status = HF_EDATA;
    }
    if (status != HF_OK)
        return status;
    hfi_guard_gsl();
    item *items = malloc((m + n) * sizeof *items);
    if (!items)
        return HF_ENOMEM;
    for (size_t i = 0; i < m + n; i++)
        items[i] = (item){i < m ? first[i] : second[i - m], i, 0};
    hf_ranks r = {.used = m + n};
    const double cubes = hfi_rank_all(items, m + n, &r.tied);
    long sum = 0;
    for (size_t i = 0; i < m + n; i++)
        sum += items[i].from < m ? items[i].rank : 0;
    const double a = (double)m, b = (double)n, all = a + b;
    r.statistic = 0.5 * (double)sum - a * (a + 1) / 2;
    if (m + n > HF_RANKS_EXACT)
        hfi_finish_normal(&r, a * b / 2, a * b / 12 * ((all + 1) - cubes / (all * (all - 1))));
    else
        status = exact_sum(items, m, n, sum, &r);
    free(items);
    if (status == HF_OK)
        *out = r;
    return status;
}

/* ---- critical values ------------------------------------------------------------------------- */

/* Largest s with at most this share of the ways at or below it. */
static hf_status largest(const double *ways, long most, long least, double share, long *out)
{
    double all = 0, below = 0;
    long s = least;
    for (long i = 0; i <= most; i++)
        all += ways[i];
    while (s <= most && below + ways[s] <= share * all * HFI_AT_MOST)
        below += ways[s++];
    if (s == least)
        return HF_EDATA;
    *out = s - 1 - least;
    return HF_OK;
}

static hf_status check_critical(long n, double alpha, int sides, const long *out)
{
    if (!out)
        return HF_EINVAL;
    const hf_status status = hfi_inside(alpha);
    if (status != HF_OK)
        return status;
    return n < 1 || n > HF_RANKS_EXACT || sides < 1 || sides > 2 ? HF_ERANGE : HF_OK;
}

static item *plain_ranks(long n)
{
    item *items = malloc((size_t)n * sizeof *items);
    for (long i = 0; items && i < n; i++)
        items[i] = (item){(double)i, (size_t)i, i + 1};
    return items;
}

hf_status hf_signed_rank_critical_e(long n, double alpha, int sides, long *out)
{
    hf_status status = check_critical(n, alpha, sides, out);
    if (status != HF_OK)
        return status;
    long most;
    item *items = plain_ranks(n);
    double *ways = items ? signed_ways(items, (size_t)n, &most) : NULL;
    status = ways ? largest(ways, most, 0, alpha / sides, out) : HF_ENOMEM;
    free(ways);
    free(items);
    return status;
}

hf_status hf_rank_sum_critical_e(long m, long n, double alpha, int sides, long *out)
{
    if (m < 1 || n < 1 || m > HF_RANKS_EXACT || n > HF_RANKS_EXACT)
        return HF_ERANGE;
    hf_status status = check_critical(m + n, alpha, sides, out);
    if (status != HF_OK)
        return status;
    const long k = m < n ? m : n;
    long most;
    double *row = NULL;
    item *items = plain_ranks(m + n);
    double *ways = items ? hfi_sum_ways(items, (size_t)(m + n), (size_t)k, &most, &row) : NULL;
    status = ways ? largest(row, most, k * (k + 1) / 2, alpha / sides, out) : HF_ENOMEM;
    free(ways);
    free(items);
    return status;
}
