/*
 * Profile-likelihood interval of one parameter, and the joint region of two. The first guess of an edge is the
 * one that a linear model would have, with the other parameters moved along.
 */
#include "ray.h"

#include <math.h>

#define PI 3.14159265358979323846

/* A step to start with when the fit gives no standard error. */
static double fallback(const hf_fit *fit, size_t j)
{
    const double size = fmax(fabs(fit->values[j]), fit->typical[j]);
    return size > 0 ? 0.1 * size : 0.1;
}

/* A perfect fit excludes every other value: the interval is as wide as rounding. */
static int perfect(const hf_fit *fit)
{
    return fit->weighting != HF_WEIGHT_ABSOLUTE && !(fit->summary.rss > 0);
}

static hf_status side(const hf_fit *fit, hfi_work *work, size_t j, double sign, double threshold,
                      double *limit, hfi_edge *edge, int *better)
{
    const size_t p = fit->problem.p;
    const double error = fit->error[j];
    const int known = isfinite(error) && error > 0;
    hfi_ray ray = {.held = 1, .index = {j}, .from = {fit->values[j]}};
    ray.step[0] = sign * (known ? error * sqrt(threshold) : fallback(fit, j));
    for (size_t k = 0; k < p; k++)
        ray.other[k] =
            known && k != j ? fit->covariance[k * p + j] / (error * error) * ray.step[0] : 0;
    double r = 0;
    const hf_status status = hfi_ray_edge(fit, work, &ray, threshold, &r, edge, better);
    *limit = *edge == HFI_EDGE_OPEN ? sign * HUGE_VAL : fit->values[j] + r * ray.step[0];
    if (*edge == HFI_EDGE_BOUND)
        *limit = sign > 0 ? fit->high[j] : fit->low[j];
    return status;
}

hf_status hf_fit_profile(const hf_fit *fit, size_t j, double level, hf_interval *out)
{
    if (!out)
        return HF_EINVAL;
    hf_status status = hfi_can_profile(fit, j, level);
    if (status != HF_OK)
        return status;
    hf_interval result = {fit->values[j], fit->values[j], 0};
    if (!perfect(fit)) {
        hfi_work work;
        status = hfi_work_new(&work, &fit->problem, fit->problem.n);
        if (status != HF_OK)
            return status;
        const double threshold = hfi_threshold(fit, 1, level);
        int better = 0;
        hfi_edge edge;
        if (fit->values[j] <= fit->low[j])
            result.flags |= HF_BOUND_LOW;
        else {
            status = side(fit, &work, j, -1, threshold, &result.low, &edge, &better);
            result.flags |= edge == HFI_EDGE_OPEN    ? HF_OPEN_LOW
                            : edge == HFI_EDGE_BOUND ? HF_BOUND_LOW
                                                     : 0;
        }
        if (fit->values[j] >= fit->high[j])
            result.flags |= HF_BOUND_HIGH;
        else if (status == HF_OK) {
            status = side(fit, &work, j, 1, threshold, &result.high, &edge, &better);
            result.flags |= edge == HFI_EDGE_OPEN    ? HF_OPEN_HIGH
                            : edge == HFI_EDGE_BOUND ? HF_BOUND_HIGH
                                                     : 0;
        }
        result.flags |= better ? HF_BETTER : 0;
        hfi_work_free(&work);
    }
    if (status == HF_OK)
        *out = result;
    return status;
}

hf_status hf_fit_profiles(const hf_fit *fit, double level, hf_interval *out, hf_status *statuses)
{
    if (!fit || !out || !statuses)
        return HF_EINVAL;
    if (!fit->done)
        return HF_EDATA;
    const long count = (long)fit->problem.p;
#pragma omp parallel for schedule(dynamic) if (fit->parallel)
    for (long j = 0; j < count; j++)
        statuses[j] = hf_fit_profile(fit, (size_t)j, level, &out[j]);
    for (long j = 0; j < count; j++)
        if (statuses[j] == HF_ENOMEM || statuses[j] == HF_ESTOPPED)
            return statuses[j];
    return HF_OK;
}

/* Rows of the triangle that turns a unit circle into the linear model's ellipse. */
static void ellipse(const hf_fit *fit, size_t i, size_t j, double c[3])
{
    const size_t p = fit->problem.p;
    const double *v = fit->covariance;
    c[0] = sqrt(v[i * p + i]);
    c[1] = v[i * p + j] / c[0];
    c[2] = sqrt(v[j * p + j] - c[1] * c[1]);
    if (!(c[0] > 0 && c[2] > 0 && isfinite(c[0] + c[1] + c[2]))) {
        c[0] = fallback(fit, i);
        c[1] = 0;
        c[2] = fallback(fit, j);
    }
}

hf_status hf_fit_region(const hf_fit *fit, size_t i, size_t j, double level, size_t count,
                        double *first, double *second, size_t *open)
{
    if (!first || !second || !open || i == j)
        return HF_EINVAL;
    hf_status status = hfi_can_profile(fit, i, level);
    if (status == HF_OK)
        status = hfi_can_profile(fit, j, level);
    if (status != HF_OK)
        return status;
    hfi_work work;
    status = hfi_work_new(&work, &fit->problem, fit->problem.n);
    if (status != HF_OK)
        return status;
    const double threshold = hfi_threshold(fit, 2, level);
    double c[3];
    ellipse(fit, i, j, c);
    *open = 0;
    for (size_t k = 0; k < count && status == HF_OK; k++) {
        const double angle = 2 * PI * (double)k / (double)count, size = sqrt(threshold);
        hfi_ray ray = {.held = 2, .index = {i, j}, .from = {fit->values[i], fit->values[j]}};
        ray.step[0] = size * c[0] * cos(angle);
        ray.step[1] = size * (c[1] * cos(angle) + c[2] * sin(angle));
        double r = 0;
        int better = 0;
        hfi_edge edge = HFI_EDGE_FOUND;
        if (!perfect(fit))
            status = hfi_ray_edge(fit, &work, &ray, threshold, &r, &edge, &better);
        const int found = edge != HFI_EDGE_OPEN;
        *open += !found;
        first[k] = found ? fit->values[i] + r * ray.step[0] : (double)NAN;
        second[k] = found ? fit->values[j] + r * ray.step[1] : (double)NAN;
    }
    hfi_work_free(&work);
    return status;
}
