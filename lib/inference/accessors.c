/*
 * Reading a fit.
 */
#include "fit.h"

#include <math.h>
#include <string.h>

const char *hf_fit_message(const hf_fit *fit)
{
    return fit ? fit->message.text : "";
}

const char *hf_fit_reason(const hf_fit *fit)
{
    return fit && fit->done ? fit->reason : "";
}

const char *hf_fit_note(const hf_fit *fit, size_t j)
{
    return fit && fit->done && j < fit->problem.p ? fit->notes[j] : "";
}

hf_status hf_fit_get_summary(const hf_fit *fit, hf_fit_summary *out)
{
    if (!fit || !out)
        return HF_EINVAL;
    if (!fit->done)
        return HF_EDATA;
    *out = fit->summary;
    return HF_OK;
}

hf_status hf_fit_get_estimate(const hf_fit *fit, size_t j, hf_fit_estimate *out)
{
    if (!fit || !out)
        return HF_EINVAL;
    if (!fit->done)
        return HF_EDATA;
    if (j >= fit->problem.p)
        return HF_ERANGE;
    *out = (hf_fit_estimate){fit->names[j], fit->units[j], fit->values[j],
                             fit->error[j], fit->from[j],  fit->flags[j]};
    return HF_OK;
}

hf_status hf_fit_get_covariance(const hf_fit *fit, double *covariance, double *correlation)
{
    if (!fit)
        return HF_EINVAL;
    if (!fit->done)
        return HF_EDATA;
    const size_t p = fit->problem.p;
    if (covariance)
        memcpy(covariance, fit->covariance, p * p * sizeof *covariance);
    for (size_t i = 0; correlation && i < p; i++)
        for (size_t j = 0; j < p; j++)
            correlation[i * p + j] =
                i == j && isfinite(fit->error[i])
                    ? 1
                    : fit->covariance[i * p + j] / fit->error[i] / fit->error[j];
    return HF_OK;
}

hf_status hf_fit_get_points(const hf_fit *fit, double *fitted, double *residual,
                            double *standardised, double *leverage, double *robust_weight)
{
    if (!fit)
        return HF_EINVAL;
    if (!fit->done)
        return HF_EDATA;
    const int absolute = fit->weighting == HF_WEIGHT_ABSOLUTE && fit->loss == HF_LOSS_SQUARES;
    for (size_t i = 0; i < fit->problem.n; i++) {
        const double r = fit->y[i] - fit->fitted[i];
        const double w = fit->problem.sw ? fit->problem.sw[i] : 1;
        if (fitted)
            fitted[i] = fit->fitted[i];
        if (residual)
            residual[i] = r;
        if (standardised) {
            const double room = 1 - fit->leverage[i];
            standardised[i] =
                room > 1e-12 ? w * r / ((absolute ? 1 : fit->summary.s) * sqrt(room)) : (double)NAN;
        }
        if (leverage)
            leverage[i] = fit->leverage[i];
        if (robust_weight)
            robust_weight[i] = fit->robust[i];
    }
    return HF_OK;
}

hf_status hf_fit_get_minimum(const hf_fit *fit, size_t k, double *rss, double *values, size_t *hits)
{
    if (!fit)
        return HF_EINVAL;
    if (!fit->done)
        return HF_EDATA;
    if (k >= fit->search.kept)
        return HF_ERANGE;
    const hfi_minimum *m = &fit->search.minima[k];
    if (rss)
        *rss = m->outcome.rss;
    if (values)
        memcpy(values, m->values, fit->problem.p * sizeof *values);
    if (hits)
        *hits = m->hits;
    return HF_OK;
}
