/*
 * Bands at new points by the delta method: g = df/db there, C the covariance, t the quantile of Student's t
 * (of the normal law with absolute sigma):
 *   confidence  t sqrt(g'C g)             prediction  t sqrt(g'C g + s^2 sigma^2), s = 1 with absolute sigma
 */
#include "fit.h"

#include <math.h>
#include <string.h>

#include <gsl/gsl_cdf.h>

/* Free parameters that carry the uncertainty; HF_EDATA when one of them is not determined. */
static hf_status uncertain(const hf_fit *fit, hfi_active *list)
{
    list->count = 0;
    for (size_t c = 0; c < fit->free.count; c++) {
        const size_t j = fit->free.index[c];
        if (fit->flags[j] & (HF_FIT_AT_LOW | HF_FIT_AT_HIGH))
            continue;
        if (!isfinite(fit->error[j]))
            return HF_EDATA;
        list->index[list->count++] = j;
    }
    return HF_OK;
}

static double variance_of(const hf_fit *fit, const hfi_active *list, const double *g)
{
    double sum = 0;
    for (size_t a = 0; a < list->count; a++)
        for (size_t b = 0; b < list->count; b++)
            sum += g[a] * g[b] * fit->covariance[list->index[a] * fit->problem.p + list->index[b]];
    return fmax(sum, 0);
}

hf_status hf_fit_bands(const hf_fit *fit, size_t m, const double *x, const double *sigma,
                       const size_t *group, double level, double *value, double *confidence,
                       double *prediction)
{
    if (!fit || m == 0 || !x || !value || !(level > 0 && level < 1))
        return HF_EINVAL;
    if (!fit->done)
        return HF_EDATA;
    const int absolute = fit->weighting == HF_WEIGHT_ABSOLUTE;
    if ((fit->problem.map && !group) || (absolute && prediction && !sigma))
        return HF_EINVAL;
    for (size_t i = 0; fit->problem.map && i < m; i++)
        if (group[i] >= fit->groups)
            return HF_ERANGE;
    hfi_active list = {0};
    hf_status status = confidence || prediction ? uncertain(fit, &list) : HF_OK;
    if (status != HF_OK)
        return status;
    hfi_work work;
    status = hfi_work_new(&work, &fit->problem, m);
    if (status != HF_OK)
        return status;
    hfi_problem problem = fit->problem;
    problem.n = m;
    problem.x = x;
    problem.y = problem.sw = NULL;
    problem.group = group;
    memcpy(work.natural, fit->natural, sizeof work.natural);
    status = hfi_fitted(&problem, &work, fit->values, work.f);
    if (status == HF_OK && list.count > 0)
        status = hfi_jacobian(&problem, &work, fit->values, &list, HFI_FINE, work.f);
    const double tail = 0.5 + 0.5 * level, s = absolute ? 1 : fit->summary.s;
    const double dof = (double)fit->summary.degrees_of_freedom;
    const double t = absolute  ? gsl_cdf_ugaussian_Pinv(tail)
                     : dof > 0 ? gsl_cdf_tdist_Pinv(tail, dof)
                               : 0;
    for (size_t i = 0; i < m && status == HF_OK; i++) {
        const double v = variance_of(fit, &list, work.jacobian + i * list.count);
        const double scatter = s * (sigma ? sigma[i] : 1);
        value[i] = work.f[i];
        if (confidence)
            confidence[i] = t * sqrt(v);
        if (prediction)
            prediction[i] = t * sqrt(v + scatter * scatter);
    }
    hfi_work_free(&work);
    return status;
}
