/*
 * tau(r) = sqrt((RSS(r) - RSS_min)/s^2), a straight line in r for a linear model; infinite where the model has
 * no answer. Open: the target is not passed although r went 10^7 times beyond the guess and beyond the
 * parameter's own size.
 */
#include "ray.h"

#include <math.h>
#include <string.h>

#include <gsl/gsl_cdf.h>

#define FAR         1e7
#define CLOSE       1e-9 /* of the distance to an edge */
#define CLOSE_NOISY 1e-4 /* for a model whose own numbers have errors */

double hfi_threshold(const hf_fit *fit, size_t k, double level)
{
    if (fit->weighting == HF_WEIGHT_ABSOLUTE)
        return gsl_cdf_chisq_Pinv(level, (double)k);
    /* GSL's quantile of F gives up beyond some 10^5 degrees; one degree is t squared, two have a closed form. */
    const double dof = (double)fit->summary.degrees_of_freedom;
    if (k == 2)
        return dof * expm1(-2 / dof * log1p(-level));
    const double t = gsl_cdf_tdist_Pinv(0.5 + 0.5 * level, dof);
    return t * t;
}

hf_status hfi_can_profile(const hf_fit *fit, size_t j, double level)
{
    if (!fit || !(level > 0 && level < 1))
        return HF_EINVAL;
    if (!fit->done)
        return HF_EDATA;
    if (j >= fit->problem.p)
        return HF_ERANGE;
    if (fit->loss != HF_LOSS_SQUARES || fit->flags[j] & HF_FIT_FIXED)
        return HF_ENOMODEL;
    if (fit->summary.degrees_of_freedom == 0 && fit->weighting != HF_WEIGHT_ABSOLUTE)
        return HF_EDATA;
    return HF_OK;
}

typedef struct walk {
    const hf_fit *fit;
    hfi_work *work;
    const hfi_ray *ray;
    hfi_active others;
    double b[HF_FIT_PARAMETERS_MAX]; /* where the last re-fit ended */
    double variance;
    int better;
} walk;

static hf_status tau_at(void *context, double r, double *tau)
{
    walk *w = context;
    const hf_fit *fit = w->fit;
    double b[HF_FIT_PARAMETERS_MAX];
    memcpy(b, w->b, fit->problem.p * sizeof *b);
    for (size_t k = 0; k < w->ray->held; k++) {
        const size_t j = w->ray->index[k];
        b[j] = fmin(fmax(w->ray->from[k] + r * w->ray->step[k], fit->low[j]), fit->high[j]);
    }
    hfi_outcome outcome;
    const hf_status status =
        hfi_refit(&fit->problem, w->work, &w->others, fit->iterations, b, &outcome);
    *tau = HUGE_VAL;
    if (status == HF_ERANGE)
        return HF_OK;
    if (status != HF_OK)
        return status;
    memcpy(w->b, b, fit->problem.p * sizeof *b);
    const double rise = outcome.rss - fit->summary.rss;
    if (rise < -1e-6 * fit->summary.rss)
        w->better = 1;
    *tau = sqrt(fmax(rise, 0) / w->variance);
    return HF_OK;
}

/* r at which a held parameter meets a bound. */
static double bound_on(const hf_fit *fit, const hfi_ray *ray)
{
    double r = HUGE_VAL;
    for (size_t k = 0; k < ray->held; k++) {
        const size_t j = ray->index[k];
        if (ray->step[k] > 0)
            r = fmin(r, (fit->high[j] - ray->from[k]) / ray->step[k]);
        else if (ray->step[k] < 0)
            r = fmin(r, (fit->low[j] - ray->from[k]) / ray->step[k]);
    }
    return r;
}

static double far_enough(const hf_fit *fit, const hfi_ray *ray)
{
    double r = 1;
    for (size_t k = 0; k < ray->held; k++) {
        const double size = fmax(fabs(ray->from[k]), fit->typical[ray->index[k]]);
        if (ray->step[k] != 0)
            r = fmax(r, size / fabs(ray->step[k]));
    }
    return FAR * r;
}

hf_status hfi_ray_edge(const hf_fit *fit, hfi_work *work, const hfi_ray *ray, double threshold,
                       double *r, hfi_edge *edge, int *better)
{
    walk w = {.fit = fit, .work = work, .ray = ray};
    w.variance = fit->weighting == HF_WEIGHT_ABSOLUTE
                     ? 1
                     : fit->summary.rss / (double)fit->summary.degrees_of_freedom;
    for (size_t c = 0; c < fit->free.count; c++) {
        const size_t j = fit->free.index[c];
        if (j != ray->index[0] && (ray->held < 2 || j != ray->index[1]))
            w.others.index[w.others.count++] = j;
    }
    for (size_t j = 0; j < fit->problem.p; j++)
        w.b[j] =
            fmin(fmax(fit->values[j] + (isfinite(ray->other[j]) ? ray->other[j] : 0), fit->low[j]),
                 fit->high[j]);
    hfi_work_forget(work);
    const hf_status status =
        hfi_find_edge(tau_at, &w, sqrt(threshold), fit->problem.noise > 0 ? CLOSE_NOISY : CLOSE,
                      bound_on(fit, ray), far_enough(fit, ray), r, edge);
    *better |= w.better;
    return status;
}
