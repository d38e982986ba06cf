/*
 * Huber's estimate by iterated reweighting: weight 1 up to k sigma, k sigma/|r| beyond, with sigma = median
 * |r|/0.6745 renewed each time. Starts at the least-squares optimum; stops when no parameter moves by 1e-10
 * of its size, or when half of the residuals are zero (sigma 0: the rest cannot be judged).
 */
#include "fit.h"

#include <float.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define ROUNDS 200

static int ascending(const void *a, const void *b)
{
    const double p = *(const double *)a, q = *(const double *)b;
    return (p > q) - (p < q);
}

static double median_size(const double *r, size_t n, double *sorted)
{
    for (size_t i = 0; i < n; i++)
        sorted[i] = fabs(r[i]);
    qsort(sorted, n, sizeof *sorted, ascending);
    return n % 2 ? sorted[n / 2] : (sorted[n / 2 - 1] + sorted[n / 2]) / 2;
}

hf_status hfi_robust(const hf_fit *fit, const hfi_problem *problem, hfi_work *work,
                     const hfi_active *active, double *b, double *weight, double *scale,
                     hfi_outcome *outcome)
{
    const size_t n = problem->n, p = problem->p;
    double *block = malloc(3 * n * sizeof *block);
    if (!block)
        return HF_ENOMEM;
    double *sw = block, *r = sw + n, *sorted = r + n;
    hfi_problem weighted = *problem;
    weighted.sw = sw;
    hf_status status = hfi_fitted(problem, work, b, work->f);
    size_t iterations = outcome->iterations;
    double last[HF_FIT_PARAMETERS_MAX];
    for (int round = 0; round < ROUNDS && status == HF_OK; round++) {
        double size = 0;
        for (size_t i = 0; i < n; i++) {
            const double w = problem->sw ? problem->sw[i] : 1;
            r[i] = w * (problem->y[i] - work->f[i]);
            size = fmax(size, fabs(w * problem->y[i]));
        }
        *scale = median_size(r, n, sorted) / 0.6745;
        if (!(*scale > 64 * DBL_EPSILON * size))
            break;
        for (size_t i = 0; i < n; i++) {
            const double limit = fit->huber * *scale;
            weight[i] = fabs(r[i]) <= limit ? 1 : limit / fabs(r[i]);
            sw[i] = (problem->sw ? problem->sw[i] : 1) * sqrt(weight[i]);
        }
        memcpy(last, b, p * sizeof *b);
        status = hfi_polish(&weighted, work, active, NULL, HFI_CENTRAL, 1e-9, 50, b, outcome);
        iterations += outcome->iterations;
        if (status == HF_OK)
            status = hfi_fitted(problem, work, b, work->f);
        double moved = 0;
        for (size_t j = 0; j < p; j++)
            if (b[j] != last[j])
                moved = fmax(moved, fabs(b[j] - last[j]) / fmax(fabs(b[j]), fabs(last[j])));
        if (moved < 1e-10)
            break;
    }
    outcome->iterations = iterations;
    outcome->current = 0; /* coarser derivatives, and of other weights */
    free(block);
    return status;
}
