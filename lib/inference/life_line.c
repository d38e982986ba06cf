/*
 * Life line with Weibull scatter: ln scale = intercept - slope ln(stress/reference), one shape.
 *
 * Start: straight line through the logarithms of the broken, shape from their scatter (standard deviation of
 * ln t is pi/(sqrt(6) shape)). Then GSL's BFGS with ln stress counted from its mean, Newton for the last
 * digits, and the intercept moved to the reference.
 *
 * Sources: basquin (power of stress), weibull-life, evans-fatigue (hair).
 */
#include "life.h"

#include "guard.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <gsl/gsl_errno.h>
#include <gsl/gsl_multimin.h>

#define PI 3.14159265358979323846

static double height(const gsl_vector *v, void *context)
{
    const double l = hfi_life_likelihood(context, gsl_vector_const_ptr(v, 0), NULL, NULL);
    return isfinite(l) ? -l : 1e300;
}

static void slope_of(const gsl_vector *v, void *context, gsl_vector *out)
{
    double gradient[HFI_LIFE_THETA];
    hfi_life_likelihood(context, gsl_vector_const_ptr(v, 0), gradient, NULL);
    for (size_t j = 0; j < v->size; j++)
        gsl_vector_set(out, j, isfinite(gradient[j]) ? -gradient[j] : 0);
}

static void both(const gsl_vector *v, void *context, double *f, gsl_vector *out)
{
    *f = height(v, context);
    slope_of(v, context, out);
}

static hf_status minimise(hfi_lives *lives, double *theta, size_t *iterations)
{
    const size_t m = lives->k + 1;
    hfi_guard_gsl();
    gsl_multimin_fdfminimizer *s =
        gsl_multimin_fdfminimizer_alloc(gsl_multimin_fdfminimizer_vector_bfgs2, m);
    gsl_vector *at = gsl_vector_alloc(m);
    hf_status status = s && at ? HF_OK : HF_ENOMEM;
    if (status == HF_OK) {
        gsl_multimin_function_fdf f = {height, slope_of, both, m, lives};
        for (size_t j = 0; j < m; j++)
            gsl_vector_set(at, j, theta[j]);
        int failed = gsl_multimin_fdfminimizer_set(s, &f, at, 0.1, 0.1);
        for (int i = 0; i < 200 && !failed; i++) {
            failed = gsl_multimin_fdfminimizer_iterate(s);
            ++*iterations;
            if (gsl_multimin_test_gradient(s->gradient, 1e-4) == GSL_SUCCESS)
                break;
        }
        for (size_t j = 0; j < m; j++)
            theta[j] = gsl_vector_get(s->x, j);
    }
    gsl_multimin_fdfminimizer_free(s);
    gsl_vector_free(at);
    return status;
}

/* Line through ln t of the broken over x[1], which is counted from its mean. HF_EDATA: one stress only. */
static hf_status start(const hfi_lives *lives, double *theta)
{
    double x = 0, y = 0, xx = 0, xy = 0, rr = 0;
    for (size_t i = 0; i < lives->n; i++)
        if (lives->observed[i]) {
            x += lives->x[2 * i + 1] / lives->broken;
            y += lives->log_life[i] / lives->broken;
        }
    for (size_t i = 0; i < lives->n; i++)
        if (lives->observed[i]) {
            const double dx = lives->x[2 * i + 1] - x;
            xx += dx * dx;
            xy += dx * (lives->log_life[i] - y);
        }
    if (!(xx > 1e-20 * lives->broken))
        return HF_EDATA;
    theta[1] = xy / xx;
    theta[0] = y - theta[1] * x;
    for (size_t i = 0; i < lives->n; i++)
        if (lives->observed[i]) {
            const double r = lives->log_life[i] - theta[0] - theta[1] * lives->x[2 * i + 1];
            rr += r * r / lives->broken;
        }
    const double shape = rr > 0 ? PI / sqrt(6 * rr) : 1;
    theta[2] = log(fmin(fmax(shape, 1e-3), 1e3));
    theta[0] += 0.5772 /
                exp(theta[2]); /* ln t of a Weibull lies below ln scale by Euler's constant/shape */
    return HF_OK;
}

static hf_status describe(const hfi_lives *lives, const double *theta, double level, hf_life *out)
{
    static const char *const names[] = {"intercept", "slope", "shape"};
    double covariance[HFI_LIFE_THETA * HFI_LIFE_THETA];
    hf_status status = hfi_life_covariance(lives, 0, theta, covariance);
    const double turn[] = {1, 1, exp(theta[2])}; /* d parameter / d theta */
    out->parameter_count = 3;
    for (size_t j = 0; j < 3 && status == HF_OK; j++) {
        const double error = sqrt(covariance[j * 3 + j]);
        hf_life_parameter *p = &out->parameters[j];
        p->name = names[j];
        p->value = j < 2 ? theta[j] : exp(theta[j]);
        p->standard_error = error * turn[j];
        status = hfi_life_interval(lives, 0, theta, j, error, level, &p->interval);
        if (j == 2) {
            p->interval.low = exp(p->interval.low);
            p->interval.high = exp(p->interval.high);
        }
        for (size_t i = 0; i < 3; i++)
            out->covariance[i * HF_LIFE_PARAMETERS_MAX + j] =
                covariance[i * 3 + j] * turn[i] * turn[j];
    }
    return status;
}

hf_status hf_life_line_fit(size_t n, const double *stress, const double *life, const int *observed,
                           double reference, double level, hf_life *out, hf_message *message)
{
    if (n == 0 || !stress || !life || !observed || !out || !(reference > 0 && isfinite(reference)))
        return HF_EINVAL;
    double *log_life = malloc(3 * n * sizeof *log_life);
    if (!log_life)
        return HF_ENOMEM;
    double *x = log_life + n, mean = 0;
    hfi_lives lives = {n, 2, log_life, observed, x, 0};
    hf_life result;
    memset(&result, 0, sizeof result);
    hf_status status = hfi_life_check(n, life, observed, level, log_life, &lives.broken, message);
    for (size_t i = 0; i < n && status == HF_OK; i++) {
        if (!(stress[i] > 0 && isfinite(stress[i]))) {
            status = HF_EDATA;
            if (message)
                snprintf(message->text, sizeof message->text,
                         "row %zu: stress must be a positive number", i + 1);
            break;
        }
        x[2 * i] = 1;
        x[2 * i + 1] = -log(stress[i] / reference);
        mean += x[2 * i + 1] / (double)n;
    }
    double theta[HFI_LIFE_THETA] = {0};
    if (status == HF_OK) {
        for (size_t i = 0; i < n; i++)
            x[2 * i + 1] -= mean;
        status = start(&lives, theta);
        if (status == HF_EDATA && message)
            snprintf(message->text, sizeof message->text,
                     "all breaks are at one stress: a line needs breaks at two different stresses");
    }
    if (status == HF_OK)
        status = minimise(&lives, theta, &result.iterations);
    if (status == HF_OK)
        status = hfi_life_climb(&lives, 0, theta, &result.iterations);
    if (status == HF_OK) {
        for (size_t i = 0; i < n; i++)
            x[2 * i + 1] += mean;
        theta[0] -= theta[1] * mean;
        status = describe(&lives, theta, level, &result);
    }
    if (status == HF_ECONVERGE && message)
        snprintf(
            message->text, sizeof message->text,
            "the likelihood has no maximum at finite values: the breaks lie on a line exactly, or "
            "they are too few");
    if (status == HF_OK) {
        hfi_life_finish(&lives, theta, 3, &result);
        *out = result;
    }
    free(log_life);
    return status;
}
