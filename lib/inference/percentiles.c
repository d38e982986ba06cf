/*
 * Percentiles of a sample and what the finite number of draws leaves open.
 *
 * The p-quantile of n ordered values interpolates linearly at place p (n - 1), from 0. Its error:
 *   one block    the true quantile has a binomial rank with standard deviation sqrt(n p (1 - p)); half the
 *                distance between the values that many ranks below and above
 *   more         standard deviation of the blocks' own quantiles over sqrt(blocks)
 */
#include <hairfibre/uncertainty.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double level[HF_PERCENTILES] = {0.025, 0.25, 0.5, 0.75, 0.975};

static int ascending(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static double at_place(size_t n, const double *sorted, double place)
{
    place = fmin(fmax(place, 0), (double)(n - 1));
    const size_t i = (size_t)place;
    const double x = place - (double)i;
    return i + 1 < n ? sorted[i] + x * (sorted[i + 1] - sorted[i]) : sorted[n - 1];
}

static double mean_of(size_t n, const double *x)
{
    double sum = 0;
    for (size_t i = 0; i < n; i++)
        sum += x[i];
    return sum / (double)n;
}

static double deviation_of(size_t n, const double *x, double mean)
{
    double square = 0;
    for (size_t i = 0; i < n; i++)
        square += (x[i] - mean) * (x[i] - mean);
    return n > 1 ? sqrt(square / (double)(n - 1)) : 0;
}

static void errors_by_rank(size_t n, const double *sorted, hf_percentiles *out)
{
    out->mean_error = out->deviation / sqrt((double)n);
    for (int k = 0; k < HF_PERCENTILES; k++) {
        const double place = level[k] * (double)(n - 1);
        const double step = sqrt((double)n * level[k] * (1 - level[k]));
        out->error[k] =
            0.5 * (at_place(n, sorted, place + step) - at_place(n, sorted, place - step));
    }
}

/* `block` is scratch for n numbers, `own` for HF_PERCENTILES + 1 a block. */
static hf_status errors_by_block(size_t n, const double *values, size_t blocks, double *block,
                                 double *own, hf_percentiles *out)
{
    for (size_t b = 0; b < blocks; b++) {
        size_t m = 0;
        for (size_t i = b; i < n; i += blocks)
            if (!isnan(values[i]))
                block[m++] = values[i];
        if (m < 8)
            return HF_EDATA;
        qsort(block, m, sizeof *block, ascending);
        for (int k = 0; k < HF_PERCENTILES; k++)
            own[(size_t)k * blocks + b] = at_place(m, block, level[k] * (double)(m - 1));
        own[HF_PERCENTILES * blocks + b] = mean_of(m, block);
    }
    const double root = sqrt((double)blocks);
    for (size_t k = 0; k <= HF_PERCENTILES; k++) {
        const double error =
            deviation_of(blocks, own + k * blocks, mean_of(blocks, own + k * blocks)) / root;
        if (k < HF_PERCENTILES)
            out->error[k] = error;
        else
            out->mean_error = error;
    }
    return HF_OK;
}

hf_status hf_percentiles_of(size_t n, const double *values, size_t blocks, hf_percentiles *out)
{
    if (!values || !out || blocks == 0)
        return HF_EINVAL;
    if (n / blocks < 8)
        return HF_EDATA;
    double *sorted = malloc((2 * n + (HF_PERCENTILES + 1) * blocks) * sizeof *sorted);
    if (!sorted)
        return HF_ENOMEM;
    hf_percentiles p = {0};
    for (size_t i = 0; i < n; i++)
        if (!isnan(values[i]))
            sorted[p.n++] = values[i];
    p.missing = n - p.n;
    hf_status status = p.n >= 8 ? HF_OK : HF_EDATA;
    if (status == HF_OK) {
        p.mean = mean_of(p.n, sorted);
        p.deviation = deviation_of(p.n, sorted, p.mean);
        qsort(sorted, p.n, sizeof *sorted, ascending);
        for (int k = 0; k < HF_PERCENTILES; k++)
            p.value[k] = at_place(p.n, sorted, level[k] * (double)(p.n - 1));
        if (blocks == 1)
            errors_by_rank(p.n, sorted, &p);
        else
            status = errors_by_block(n, values, blocks, sorted + n, sorted + 2 * n, &p);
    }
    free(sorted);
    if (status == HF_OK)
        *out = p;
    return status;
}

hf_status hf_share_of_draws_e(size_t events, size_t n, hf_share_interval *out)
{
    if (!out || n == 0 || events > n)
        return HF_EINVAL;
    /* The score interval of Wilson, at the 97.5 % point of the normal distribution. */
    const double z = 1.959963984540054, m = (double)n, p = (double)events / m;
    const double middle = (p + z * z / (2 * m)) / (1 + z * z / m);
    const double half = z / (1 + z * z / m) * sqrt(p * (1 - p) / m + z * z / (4 * m * m));
    *out = (hf_share_interval){p, events ? middle - half : 0, events < n ? middle + half : 1};
    return HF_OK;
}
