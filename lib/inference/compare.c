/*
 * Comparison of models by AICc, on identical points only: x, y and weights number for number.
 */
#include "fit.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

__attribute__((format(printf, 2, 3))) static hf_status refuse(hf_message *message,
                                                              const char *format, ...)
{
    if (message) {
        va_list list;
        va_start(list, format);
        vsnprintf(message->text, sizeof message->text, format, list);
        va_end(list);
    }
    return HF_EDATA;
}

static hf_status same_points(const hf_fit *a, const hf_fit *b, size_t number, hf_message *message)
{
    const size_t n = a->problem.n, columns = a->problem.columns;
    if (n != b->problem.n)
        return refuse(message,
                      "fits 1 and %zu have %zu and %zu points: compare on identical points only",
                      number, n, b->problem.n);
    if (columns != b->problem.columns || memcmp(a->x, b->x, n * columns * sizeof *a->x) != 0)
        return refuse(message, "fits 1 and %zu were made at different x", number);
    if (memcmp(a->y, b->y, n * sizeof *a->y) != 0)
        return refuse(message, "fits 1 and %zu were made to different y", number);
    if ((a->weighting == HF_WEIGHT_ABSOLUTE) != (b->weighting == HF_WEIGHT_ABSOLUTE) ||
        memcmp(a->sw, b->sw, n * sizeof *a->sw) != 0)
        return refuse(message, "fits 1 and %zu were made with different weights", number);
    return HF_OK;
}

hf_status hf_fit_compare(const hf_fit *const *fits, size_t count, double *delta, double *weight,
                         hf_message *message)
{
    if (message)
        message->text[0] = '\0';
    if (!fits || count == 0 || !delta || !weight)
        return HF_EINVAL;
    double least = HUGE_VAL, sum = 0;
    for (size_t i = 0; i < count; i++) {
        if (!fits[i])
            return HF_EINVAL;
        if (!fits[i]->done || !fits[i]->summary.converged)
            return refuse(message, "fit %zu has not converged", i + 1);
        if (isnan(fits[i]->summary.aicc))
            return refuse(message, "fit %zu has no AICc: %s", i + 1,
                          fits[i]->loss == HF_LOSS_SQUARES ? "too few points for its parameters"
                                                           : "a robust loss has no likelihood");
        const hf_status status = same_points(fits[0], fits[i], i + 1, message);
        if (status != HF_OK)
            return status;
        least = fmin(least, fits[i]->summary.aicc);
    }
    if (!isfinite(least))
        return refuse(message,
                      "a fit is perfect: its residuals are rounding, and AICc says nothing");
    for (size_t i = 0; i < count; i++) {
        delta[i] = fits[i]->summary.aicc - least;
        weight[i] = exp(-0.5 * delta[i]);
        sum += weight[i];
    }
    for (size_t i = 0; i < count; i++)
        weight[i] /= sum;
    return HF_OK;
}
