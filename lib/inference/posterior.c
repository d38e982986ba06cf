/*
 * Beta-binomial reading of a share: prior Beta(a, b), x events of n strands, posterior
 * Beta(a + x, b + n - x). The next m strands show k events with probability
 *   C(m, k) B(a + x + k, b + n - x + m - k)/B(a + x, b + n - x).
 */
#include "guard.h"
#include "numeric.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_sf_gamma.h>

static hf_status check(long events, long strands, double a, double b)
{
    if (!isfinite(a) || !isfinite(b))
        return HF_EINVAL;
    if (a <= 0 || b <= 0 || a > HF_COUNT_MAX || b > HF_COUNT_MAX)
        return HF_ERANGE;
    hfi_guard_gsl();
    return hfi_counts(events, strands);
}

hf_status hf_posterior_share_e(long events, long strands, double prior_a, double prior_b,
                               double level, hf_posterior *out)
{
    hf_status status = out ? check(events, strands, prior_a, prior_b) : HF_EINVAL;
    if (status == HF_OK)
        status = hfi_inside(level);
    if (status != HF_OK)
        return status;
    hf_posterior p = {prior_a + (double)events, prior_b + (double)(strands - events), 0, 0, 0, 0};
    p.mean = p.a / (p.a + p.b);
    p.median = hfi_beta_quantile(0.5, p.a, p.b);
    p.low = hfi_beta_quantile(0.5 * (1 - level), p.a, p.b);
    p.high = 1 - hfi_beta_quantile(0.5 * (1 - level), p.b, p.a);
    if (isnan(p.median) || isnan(p.low) || isnan(p.high))
        return HF_ECONVERGE;
    *out = p;
    return HF_OK;
}

hf_status hf_posterior_above_e(long events, long strands, double prior_a, double prior_b,
                               double threshold, double *out)
{
    hf_status status = out ? check(events, strands, prior_a, prior_b) : HF_EINVAL;
    if (status == HF_OK)
        status = hfi_fraction(threshold);
    if (status != HF_OK)
        return status;
    const double above =
        gsl_cdf_beta_Q(threshold, prior_a + (double)events, prior_b + (double)(strands - events));
    if (isnan(above))
        return HF_ECONVERGE;
    *out = above;
    return HF_OK;
}

hf_status hf_posterior_next_e(long events, long strands, double prior_a, double prior_b, long hits,
                              long next, double *out)
{
    hf_status status = out ? check(events, strands, prior_a, prior_b) : HF_EINVAL;
    if (status == HF_OK)
        status = hfi_counts(hits, next);
    if (status != HF_OK)
        return status;
    const double a = prior_a + (double)events, b = prior_b + (double)(strands - events);
    gsl_sf_result choose, before, after;
    if (gsl_sf_lnchoose_e((unsigned)next, (unsigned)hits, &choose) ||
        gsl_sf_lnbeta_e(a, b, &before) ||
        gsl_sf_lnbeta_e(a + (double)hits, b + (double)(next - hits), &after))
        return HF_ECONVERGE;
    const double answer = exp(choose.val + after.val - before.val);
    if (!isfinite(answer)) /* the logarithm of the beta function of a tiny prior overflows */
        return HF_ECONVERGE;
    *out = answer;
    return HF_OK;
}
