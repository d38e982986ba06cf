/*
 * Bootstrap. Parametric: y* = curve + s sigma z, z normal. Cases: point i counts as often as it was drawn.
 * Replicate r draws from the numbers of stream r (stream.h), so threads and order do not matter. A
 * replicate is kept when its re-fit, from the optimum, ends in a good minimum.
 */
#include "fit.h"
#include "stream.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <gsl/gsl_cdf.h>

struct hf_bootstrap {
    size_t p, count, failures;
    double *values;
};

/* Scratch of one thread. */
typedef struct bench {
    hfi_work work;
    double *y, *sw, *weight;
} bench;

static hf_status bench_new(bench *b, const hfi_problem *problem)
{
    const size_t n = problem->n;
    memset(b, 0, sizeof *b);
    b->y = malloc(3 * n * sizeof *b->y);
    if (!b->y)
        return HF_ENOMEM;
    b->sw = b->y + n;
    b->weight = b->sw + n;
    return hfi_work_new(&b->work, problem, n);
}

static void bench_free(bench *b)
{
    free(b->y);
    hfi_work_free(&b->work);
}

static void draw(const hf_fit *fit, hf_bootstrap_kind kind, unsigned long seed, size_t replicate,
                 bench *b)
{
    const size_t n = fit->problem.n;
    const uint64_t stream = HFI_STREAM_BOOTSTRAP | replicate;
    const double s = fit->weighting == HF_WEIGHT_ABSOLUTE ? 1 : fit->summary.s;
    for (size_t i = 0; i < n; i++) {
        b->y[i] = fit->y[i];
        b->sw[i] = 0;
    }
    for (size_t i = 0; i < n; i++) {
        const double u = hfi_stream_uniform(seed, stream, i);
        if (kind == HF_BOOTSTRAP_CASES) {
            b->sw[(size_t)(u * (double)n)] += 1;
        } else {
            b->y[i] = fit->fitted[i] + s / fit->sw[i] * gsl_cdf_ugaussian_Pinv(u);
            b->sw[i] = 1;
        }
    }
    for (size_t i = 0; i < n; i++)
        b->sw[i] = sqrt(b->sw[i]) * fit->sw[i];
}

/* One replicate into `values`; *kept tells whether it counts. */
static hf_status replicate(const hf_fit *fit, hf_bootstrap_kind kind, unsigned long seed, size_t r,
                           bench *b, double *values, int *kept)
{
    hfi_problem problem = fit->problem;
    hfi_outcome outcome;
    draw(fit, kind, seed, r, b);
    problem.y = b->y;
    problem.sw = b->sw;
    memcpy(values, fit->values, fit->problem.p * sizeof *values);
    memcpy(b->work.natural, fit->natural, sizeof fit->natural);
    hf_status status = hfi_refit(&problem, &b->work, &fit->free, fit->iterations, values, &outcome);
    if (status == HF_OK && fit->loss == HF_LOSS_HUBER) {
        double scale;
        status =
            hfi_robust(fit, &problem, &b->work, &fit->free, values, b->weight, &scale, &outcome);
    }
    *kept = status == HF_OK && (outcome.reached || outcome.offset < 1e-4) && !outcome.deaf &&
            outcome.condition < HFI_SINGULAR;
    return status == HF_ERANGE ? HF_OK : status;
}

static hf_status run(const hf_fit *fit, hf_bootstrap_kind kind, size_t replicates,
                     unsigned long seed, double *values, char *kept)
{
    const size_t p = fit->problem.p;
    hf_status worst = HF_OK;
#ifdef _OPENMP
#pragma omp parallel if (fit->parallel)
#endif
    {
        bench b;
        hf_status status = bench_new(&b, &fit->problem);
#ifdef _OPENMP
#pragma omp for schedule(dynamic, 16)
#endif
        for (size_t r = 0; r < replicates; r++) {
            int good = 0;
            if (status == HF_OK)
                status = replicate(fit, kind, seed, r, &b, values + r * p, &good);
            kept[r] = (char)good;
        }
        bench_free(&b);
#ifdef _OPENMP
#pragma omp critical
#endif
        worst = status > worst ? status : worst;
    }
    return worst;
}

hf_status hf_bootstrap_new(hf_bootstrap **out, const hf_fit *fit, hf_bootstrap_kind kind,
                           size_t replicates, unsigned long seed)
{
    if (!out || !fit || replicates < 2 || replicates > 1000000 ||
        (kind != HF_BOOTSTRAP_PARAMETRIC && kind != HF_BOOTSTRAP_CASES))
        return HF_EINVAL;
    if (!fit->done || fit->free.count == 0 ||
        (kind == HF_BOOTSTRAP_PARAMETRIC && fit->weighting != HF_WEIGHT_ABSOLUTE &&
         !isfinite(fit->summary.s)))
        return HF_EDATA;
    const size_t p = fit->problem.p;
    hf_bootstrap *b = calloc(1, sizeof *b);
    char *kept = calloc(replicates, 1);
    if (b)
        b->values = malloc(replicates * p * sizeof *b->values);
    hf_status status = b && kept && b->values ? HF_OK : HF_ENOMEM;
    if (status == HF_OK)
        status = run(fit, kind, replicates, seed, b->values, kept);
    if (status == HF_OK) {
        b->p = p;
        for (size_t r = 0; r < replicates; r++)
            if (kept[r])
                memmove(b->values + b->count++ * p, b->values + r * p, p * sizeof *b->values);
        b->failures = replicates - b->count;
        if (2 * b->count < replicates)
            status = HF_EDATA;
    }
    free(kept);
    if (status != HF_OK) {
        hf_bootstrap_free(b);
        return status;
    }
    *out = b;
    return HF_OK;
}

void hf_bootstrap_free(hf_bootstrap *bootstrap)
{
    if (bootstrap)
        free(bootstrap->values);
    free(bootstrap);
}

size_t hf_bootstrap_count(const hf_bootstrap *bootstrap)
{
    return bootstrap ? bootstrap->count : 0;
}

size_t hf_bootstrap_failures(const hf_bootstrap *bootstrap)
{
    return bootstrap ? bootstrap->failures : 0;
}

const double *hf_bootstrap_values(const hf_bootstrap *bootstrap)
{
    return bootstrap ? bootstrap->values : NULL;
}

static int ascending(const void *a, const void *b)
{
    const double p = *(const double *)a, q = *(const double *)b;
    return (p > q) - (p < q);
}

/* Quantile of sorted numbers, linear between order statistics: the first at 0, the last at 1. */
static double quantile(const double *sorted, size_t n, double share)
{
    const double place = share * (double)(n - 1);
    const size_t below = (size_t)place;
    if (below + 1 >= n)
        return sorted[n - 1];
    return sorted[below] + (place - (double)below) * (sorted[below + 1] - sorted[below]);
}

hf_status hf_bootstrap_interval(const hf_bootstrap *bootstrap, size_t j, double level,
                                hf_interval *out, double *standard_error)
{
    if (!bootstrap || !(level > 0 && level < 1))
        return HF_EINVAL;
    if (j >= bootstrap->p)
        return HF_ERANGE;
    const size_t n = bootstrap->count;
    double *sorted = malloc(n * sizeof *sorted);
    if (!sorted)
        return HF_ENOMEM;
    double mean = 0, square = 0;
    for (size_t r = 0; r < n; r++) {
        sorted[r] = bootstrap->values[r * bootstrap->p + j];
        mean += (sorted[r] - mean) / (double)(r + 1);
    }
    for (size_t r = 0; r < n; r++)
        square += (sorted[r] - mean) * (sorted[r] - mean);
    qsort(sorted, n, sizeof *sorted, ascending);
    if (out)
        *out = (hf_interval){quantile(sorted, n, 0.5 - 0.5 * level),
                             quantile(sorted, n, 0.5 + 0.5 * level), 0};
    if (standard_error)
        *standard_error = sqrt(square / (double)(n - 1));
    free(sorted);
    return HF_OK;
}
