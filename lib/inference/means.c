/*
 * Means of small samples.
 *
 *   paired  t = mean d/(s_d/sqrt n), n - 1 degrees of freedom
 *   Welch   t = (mean x - mean y)/sqrt(vx + vy), v = s^2/n,
 *           freedom = (vx + vy)^2/(vx^2/(m - 1) + vy^2/(n - 1))
 *   quantile of t: GSL's, improved by Newton's method
 *   noncentral t with f degrees of freedom and noncentrality d:
 *           P(T <= t) = integral over s of Phi(t s - d) p(s), s^2 f chi squared with f degrees,
 *           ln p(s) = ln 2 + ln(f/2)/2 - ln(2 pi)/2 - ln G(f/2) + f [ln s - (s^2 - 1)/2] - ln s,
 *           G the correction of Stirling's formula
 */
#include "guard.h"
#include "numeric.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_integration.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_sf_gamma.h>

#include <stdio.h>

#define NO_SPREAD 1e-12 /* spread below this share of the values is rounding */

static hf_status say(hf_message *message, hf_status status, const char *text)
{
    if (message)
        snprintf(message->text, sizeof message->text, "%s", text);
    return status;
}

typedef struct sample {
    double mean, variance, largest;
} sample;

/* Mean and variance of x, or of x - minus; `largest` value met. */
static sample describe(size_t n, const double *x, const double *minus)
{
    sample s = {0, 0, 0};
    for (size_t i = 0; i < n; i++) {
        s.mean += (minus ? x[i] - minus[i] : x[i]) / (double)n;
        s.largest = fmax(s.largest, fmax(fabs(x[i]), minus ? fabs(minus[i]) : 0));
    }
    for (size_t i = 0; i < n; i++) {
        const double apart = (minus ? x[i] - minus[i] : x[i]) - s.mean;
        s.variance += apart * apart / (double)(n - 1);
    }
    return s;
}

static int finite_list(size_t n, const double *x)
{
    for (size_t i = 0; i < n; i++)
        if (!isfinite(x[i]))
            return 0;
    return 1;
}

static double t_quantile(double p, double freedom)
{
    double t = gsl_cdf_tdist_Pinv(p, freedom);
    for (int i = 0; i < 3; i++) {
        const double off =
            p < 0.5 ? gsl_cdf_tdist_P(t, freedom) - p : (1 - p) - gsl_cdf_tdist_Q(t, freedom);
        t -= off / gsl_ran_tdist_pdf(t, freedom);
    }
    return t;
}

static hf_status finish(hf_t_test *r, double level)
{
    const double q = t_quantile(0.5 * (1 + level), r->freedom);
    r->t = r->difference / r->standard_error;
    r->low = r->difference - q * r->standard_error;
    r->high = r->difference + q * r->standard_error;
    r->less = gsl_cdf_tdist_P(r->t, r->freedom);
    r->greater = gsl_cdf_tdist_Q(r->t, r->freedom);
    r->two_sided = 2 * (r->less < r->greater ? r->less : r->greater);
    return isfinite(r->low) && isfinite(r->less) ? HF_OK : HF_ECONVERGE;
}

hf_status hf_paired_t_e(size_t n, const double *before, const double *after, double level,
                        hf_t_test *out, hf_message *message)
{
    hf_status status = out && (after || !n) ? hfi_inside(level) : HF_EINVAL;
    if (status != HF_OK)
        return status;
    if (!finite_list(n, after) || (before && !finite_list(n, before)))
        return say(message, HF_EINVAL, "a value is not finite");
    if (n < 2)
        return say(message, HF_EDATA,
                   n ? "one pair has no spread to judge by: two or more are needed"
                     : "there is no pair");
    hfi_guard_gsl();
    const sample s = describe(n, after, before);
    if (sqrt(s.variance) <= NO_SPREAD * s.largest)
        return say(message, HF_EDATA, "all differences are equal: there is no spread to judge by");
    hf_t_test r = {.difference = s.mean,
                   .standard_error = sqrt(s.variance / (double)n),
                   .freedom = (double)(n - 1)};
    status = finish(&r, level);
    if (status == HF_OK)
        *out = r;
    return status;
}

hf_status hf_welch_t_e(size_t m, const double *first, size_t n, const double *second, double level,
                       hf_t_test *out, hf_message *message)
{
    hf_status status = out && (first || !m) && (second || !n) ? hfi_inside(level) : HF_EINVAL;
    if (status != HF_OK)
        return status;
    if (!finite_list(m, first) || !finite_list(n, second))
        return say(message, HF_EINVAL, "a value is not finite");
    if (m < 2 || n < 2)
        return say(message, HF_EDATA, "each group needs two strands or more: one has no spread");
    hfi_guard_gsl();
    const sample x = describe(m, first, NULL), y = describe(n, second, NULL);
    const double vx = x.variance / (double)m, vy = y.variance / (double)n;
    if (sqrt(vx + vy) <= NO_SPREAD * fmax(x.largest, y.largest))
        return say(message, HF_EDATA, "all values of a group are equal: no spread to judge by");
    hf_t_test r = {.difference = x.mean - y.mean, .standard_error = sqrt(vx + vy)};
    r.freedom = (vx + vy) * (vx + vy) / (vx * vx / (double)(m - 1) + vy * vy / (double)(n - 1));
    status = finish(&r, level);
    if (status == HF_OK)
        *out = r;
    return status;
}

hf_status hf_t_quantile_e(double p, double freedom, double *out)
{
    const hf_status status = out && isfinite(freedom) ? hfi_inside(p) : HF_EINVAL;
    if (status != HF_OK)
        return status;
    if (freedom <= 0)
        return HF_ERANGE;
    hfi_guard_gsl();
    const double t = t_quantile(p, freedom);
    if (!isfinite(t))
        return HF_ECONVERGE;
    *out = t;
    return HF_OK;
}

/* ---- noncentral t ---------------------------------------------------------------------------- */

typedef struct noncentral {
    double t, freedom, shift, constant;
} noncentral;

static double integrand(double s, void *context)
{
    const noncentral *c = context;
    if (s <= 0)
        return 0;
    const double u = s - 1;
    const double logarithm = c->constant + c->freedom * (log1p(u) - u - 0.5 * u * u) - log(s);
    return exp(logarithm) * gsl_cdf_ugaussian_P(c->t * s - c->shift);
}

hf_status hf_noncentral_t_e(double t, double freedom, double noncentrality, double *out)
{
    if (!out || !isfinite(t) || !isfinite(freedom) || !isfinite(noncentrality))
        return HF_EINVAL;
    if (freedom < 1 || freedom > 1e7)
        return HF_ERANGE;
    hfi_guard_gsl();
    gsl_sf_result stirling;
    gsl_integration_workspace *work = gsl_integration_workspace_alloc(200);
    if (!work)
        return HF_ENOMEM;
    hf_status status = gsl_sf_gammastar_e(0.5 * freedom, &stirling) ? HF_ECONVERGE : HF_OK;
    noncentral c = {t, freedom, noncentrality, 0};
    c.constant = log(2) + 0.5 * log(0.5 * freedom) - 0.5 * log(8 * atan(1)) - log(stirling.val);
    gsl_function f = {integrand, &c};
    /* p(s) is below e^-50 outside; Phi turns from 0 to 1 near s = d/t. */
    const double wide = 14 / sqrt(2 * freedom);
    const double turn = fabs(t) > 0 ? noncentrality / t : 0;
    double ends[3] = {wide < 1 ? 1 - wide : 0, 1, 1 + wide}, sum = 0;
    if (turn > ends[0] && turn < ends[2])
        ends[1] = turn;
    for (int i = 0; i < 2 && status == HF_OK; i++) {
        double part, error;
        const int code = gsl_integration_qag(&f, ends[i], ends[i + 1], 1e-13, 1e-11, 200,
                                             GSL_INTEG_GAUSS61, work, &part, &error);
        if (code && !(error < 1e-9)) /* rounding reached first is fine */
            status = HF_ECONVERGE;
        sum += part;
    }
    gsl_integration_workspace_free(work);
    if (status == HF_OK)
        *out = sum < 0 ? 0 : sum > 1 ? 1 : sum;
    return status;
}
