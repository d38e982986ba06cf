/*
 * Weibull scale and shape of lives or strengths with survivors.
 *
 * Given the shape the scale is closed, scale^shape = sum t^shape / broken, and the shape solves
 *   1/shape + mean of ln t over the broken - sum t^shape ln t / sum t^shape = 0,
 * which falls from +infinity to mean ln t - max ln t: one root, by Brent's method in ln shape.
 *
 * Sources: weibull-life; iso20501 (maximum likelihood preferred).
 */
#include "life.h"

#include "guard.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <gsl/gsl_errno.h>
#include <gsl/gsl_roots.h>

__attribute__((format(printf, 3, 4))) static hf_status say(hf_message *message, hf_status status,
                                                           const char *format, ...)
{
    if (message) {
        va_list list;
        va_start(list, format);
        vsnprintf(message->text, sizeof message->text, format, list);
        va_end(list);
    }
    return status;
}

hf_status hfi_life_check(size_t n, const double *life, const int *observed, double level,
                         double *log_life, double *broken, hf_message *message)
{
    if (message)
        message->text[0] = '\0';
    if (!(level > 0 && level < 1))
        return say(message, HF_EINVAL, "level must lie between 0 and 1");
    *broken = 0;
    for (size_t i = 0; i < n; i++) {
        if (!(life[i] > 0 && isfinite(life[i])))
            return say(message, HF_EDATA, "row %zu: a life or strength must be a positive number",
                       i + 1);
        log_life[i] = log(life[i]);
        *broken += observed[i] ? 1 : 0;
    }
    if (*broken < 1)
        return say(message, HF_EDATA,
                   "nothing broke among %zu: no estimate, only a lower limit could be given", n);
    return HF_OK;
}

void hfi_life_finish(const hfi_lives *lives, const double *theta, size_t estimated, hf_life *out)
{
    const double n = (double)lives->n, k = (double)estimated;
    out->broken = (size_t)lives->broken;
    out->survivors = lives->n - out->broken;
    out->log_likelihood = hfi_life_likelihood(lives, theta, NULL, NULL);
    out->aic = -2 * out->log_likelihood + 2 * k;
    out->bic = -2 * out->log_likelihood + k * log(n);
    out->aicc = n - k - 1 > 0 ? out->aic + 2 * k * (k + 1) / (n - k - 1) : (double)NAN;
}

typedef struct sums {
    const hfi_lives *lives;
    double mean, top; /* mean ln t of the broken; largest ln t */
} sums;

static double score(double lambda, void *context)
{
    const sums *s = context;
    const double shape = exp(lambda);
    double zero = 0, first = 0;
    for (size_t i = 0; i < s->lives->n; i++) {
        const double u = s->lives->log_life[i] - s->top, w = exp(shape * u);
        zero += w;
        first += w * u;
    }
    return 1 / shape + s->mean - s->top - first / zero;
}

/* ln shape at the root of the score. */
static hf_status find_shape(const hfi_lives *lives, double *lambda, size_t *iterations)
{
    sums s = {lives, 0, -HUGE_VAL};
    double least = HUGE_VAL;
    for (size_t i = 0; i < lives->n; i++) {
        s.top = fmax(s.top, lives->log_life[i]);
        least = fmin(least, lives->log_life[i]);
        s.mean += lives->observed[i] ? lives->log_life[i] / lives->broken : 0;
    }
    if (!(s.top - s.mean > 1e-12 * fmax(1, fabs(s.top))))
        return HF_EDATA;
    double low = -log(s.top - least) - 1, high = low + 2;
    while (score(low, &s) < 0)
        low -= 2;
    while (score(high, &s) > 0 && high < 60)
        high += 2;
    hfi_guard_gsl();
    gsl_root_fsolver *solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
    if (!solver)
        return HF_ENOMEM;
    gsl_function f = {score, &s};
    int failed = gsl_root_fsolver_set(solver, &f, low, high);
    for (int i = 0; i < 100 && !failed; i++) {
        failed = gsl_root_fsolver_iterate(solver);
        ++*iterations;
        if (gsl_root_test_interval(gsl_root_fsolver_x_lower(solver),
                                   gsl_root_fsolver_x_upper(solver), 1e-13, 1e-13) == GSL_SUCCESS)
            break;
    }
    *lambda = gsl_root_fsolver_root(solver);
    gsl_root_fsolver_free(solver);
    return failed ? HF_ECONVERGE : HF_OK;
}

/* ln scale for a shape. */
static double find_scale(const hfi_lives *lives, double lambda)
{
    const double shape = exp(lambda);
    double top = -HUGE_VAL, sum = 0;
    for (size_t i = 0; i < lives->n; i++)
        top = fmax(top, lives->log_life[i]);
    for (size_t i = 0; i < lives->n; i++)
        sum += exp(shape * (lives->log_life[i] - top));
    return top + log(sum / lives->broken) / shape;
}

/* Parameter j from theta[j] = its logarithm. */
static hf_status describe(const hfi_lives *lives, unsigned held, const double *theta,
                          const double *covariance, size_t j, const char *name, double level,
                          hf_life_parameter *out)
{
    *out = (hf_life_parameter){name, exp(theta[j]), (double)NAN, {(double)NAN, (double)NAN, 0}};
    if (held >> j & 1)
        return HF_OK;
    const double error = sqrt(covariance[j * 2 + j]);
    out->standard_error = out->value * error;
    hf_interval interval;
    const hf_status status = hfi_life_interval(lives, held, theta, j, error, level, &interval);
    /* exp(-infinity) = 0 closes the lower side of a positive quantity. */
    if (status == HF_OK)
        out->interval = (hf_interval){exp(interval.low), exp(interval.high), interval.flags};
    return status;
}

hf_status hf_life_fit(size_t n, const double *life, const int *observed, double fixed_shape,
                      double level, hf_life *out, hf_message *message)
{
    if (n == 0 || !life || !observed || !out || fixed_shape <= 0 || isinf(fixed_shape))
        return HF_EINVAL;
    double *log_life = malloc(2 * n * sizeof *log_life);
    if (!log_life)
        return HF_ENOMEM;
    double *ones = log_life + n;
    for (size_t i = 0; i < n; i++)
        ones[i] = 1;
    hfi_lives lives = {n, 1, log_life, observed, ones, 0};
    hf_life result;
    memset(&result, 0, sizeof result);
    const unsigned held = isnan(fixed_shape) ? 0 : 2;
    double theta[HFI_LIFE_THETA] = {0}, covariance[4];
    hf_status status = hfi_life_check(n, life, observed, level, log_life, &lives.broken, message);
    if (status == HF_OK && held)
        theta[1] = log(fixed_shape);
    else if (status == HF_OK) {
        status = find_shape(&lives, &theta[1], &result.iterations);
        if (status == HF_EDATA)
            say(message, status,
                "all breaks are equal and nothing survived them: the shape has no "
                "finite estimate");
    }
    if (status == HF_OK) {
        theta[0] = find_scale(&lives, theta[1]);
        status = hfi_life_covariance(&lives, held, theta, covariance);
    }
    static const char *const names[] = {"scale", "shape"};
    result.parameter_count = 2;
    for (size_t j = 0; j < 2 && status == HF_OK; j++)
        status =
            describe(&lives, held, theta, covariance, j, names[j], level, &result.parameters[j]);
    if (status == HF_OK) {
        for (size_t i = 0; i < 2; i++)
            for (size_t j = 0; j < 2; j++)
                result.covariance[i * HF_LIFE_PARAMETERS_MAX + j] =
                    covariance[i * 2 + j] * result.parameters[i].value * result.parameters[j].value;
        hfi_life_finish(&lives, theta, held ? 1 : 2, &result);
        *out = result;
    }
    free(log_life);
    return status;
}
