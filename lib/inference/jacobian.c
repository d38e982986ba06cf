/*
 * Derivatives of the model by its parameters.
 *
 * Differences step by a share of the parameter's natural size: the change that would alter the model by all
 * of its own size, taken from the last derivative, or |b| where that is smaller. So steps follow the data's
 * scale, not a fixed number. HFI_FINE halves a central step up to HFI_LEVELS - 1 times, extrapolates to step
 * zero (Romberg) and keeps, point by point, the entry whose neighbours agree best.
 */
#include "problem.h"

#include <float.h>
#include <math.h>
#include <string.h>

#define FINE_STEP     0.04  /* first step over the natural size */
#define FINE_ROUNDING 1e-10 /* from which on one that no longer falls is rounding */
#define FINE_ENOUGH   1e-12 /* relative disagreement at which the extrapolation stops */

/* Step base of parameter j. */
static double natural_size(double b, double natural)
{
    const double size = fabs(b);
    if (!(natural > 0 && isfinite(natural)))
        return size > 0 ? size : 1;
    if (size > natural)
        return natural;
    return size < 1e-3 * natural ? 1e-3 * natural : size;
}

static hf_status at_offset(const hfi_problem *problem, hfi_work *work, const double *b, size_t j,
                           double step, double *f, double *moved)
{
    double shifted[HF_FIT_PARAMETERS_MAX];
    memcpy(shifted, b, problem->p * sizeof *b);
    volatile double target = b[j] + step; /* the step that the number format really takes */
    shifted[j] = target;
    *moved = target - b[j];
    return hfi_fitted(problem, work, shifted, f);
}

/* Central difference, one-sided of second order where a bound or a missing answer forbids one side. */
static hf_status central(const hfi_problem *problem, hfi_work *work, const double *b, size_t j,
                         double step, const double *f, double *out, int *sides)
{
    const size_t n = problem->n;
    double up = 0, down = 0;
    hf_status right = HF_ERANGE, left = HF_ERANGE;
    if (b[j] + step <= problem->high[j])
        right = at_offset(problem, work, b, j, step, work->plus, &up);
    if (b[j] - step >= problem->low[j])
        left = at_offset(problem, work, b, j, -step, work->minus, &down);
    if (work->fatal != HF_OK)
        return work->fatal;
    if (right == HF_OK && left == HF_OK) {
        for (size_t i = 0; i < n; i++)
            out[i] = (work->plus[i] - work->minus[i]) / (up - down);
        *sides = 2;
        return HF_OK;
    }
    if (right != HF_OK && left != HF_OK)
        return HF_ERANGE;
    const double sign = right == HF_OK ? 1 : -1;
    double *near = right == HF_OK ? work->plus : work->minus;
    double *far = right == HF_OK ? work->minus : work->plus;
    const double h1 = right == HF_OK ? up : down;
    const double reach = b[j] + 2 * sign * step;
    if (reach > problem->high[j] || reach < problem->low[j])
        return HF_ERANGE;
    *sides = 1;
    double h2;
    hf_status status = at_offset(problem, work, b, j, 2 * sign * step, far, &h2);
    if (status != HF_OK)
        return status;
    for (size_t i = 0; i < n; i++)
        out[i] = ((near[i] - f[i]) * h2 / h1 - (far[i] - f[i]) * h1 / h2) / (h2 - h1);
    return HF_OK;
}

/* Shrinks the step until the model answers on the way. */
static hf_status reachable(const hfi_problem *problem, hfi_work *work, const double *b, size_t j,
                           double *step, const double *f, double *out, int *sides)
{
    for (int attempt = 0; attempt < 12; attempt++, *step /= 8) {
        const hf_status status = central(problem, work, b, j, *step, f, out, sides);
        if (status != HF_ERANGE)
            return status;
    }
    return HF_ERANGE;
}

/* Room to the nearer bound: a central step must stay inside while there is room worth the name. */
static double inside(const hfi_problem *problem, const double *b, size_t j, double step)
{
    const double room = fmin(b[j] - problem->low[j], problem->high[j] - b[j]);
    return room > 0.02 * step && room < step ? room : step;
}

static hf_status fine(const hfi_problem *problem, hfi_work *work, const double *b, size_t j,
                      double step, const double *f)
{
    const size_t n = problem->n;
    double *previous = work->rows, *row = work->rows + HFI_LEVELS * n;
    int sides, now;
    hf_status status = reachable(problem, work, b, j, &step, f, previous, &sides);
    if (status != HF_OK)
        return status;
    memcpy(work->best, previous, n * sizeof *previous);
    for (size_t i = 0; i < n; i++)
        work->spread[i] = HUGE_VAL;
    double before = HUGE_VAL;
    for (int level = 1; level < HFI_LEVELS; level++) {
        step /= 2;
        status = central(problem, work, b, j, step, f, row, &now);
        if (status != HF_OK)
            return status == HF_ERANGE ? HF_OK : status;
        if (now != sides)
            return HF_OK;
        /* Errors go with h^2, h^4, ... on both sides, with h^2, h^3, ... on one. */
        double factor = 4;
        for (int k = 1; k <= level; k++, factor *= sides == 2 ? 4 : 2)
            for (size_t i = 0; i < n; i++) {
                const double lower = row[(size_t)(k - 1) * n + i];
                const double older = previous[(size_t)(k - 1) * n + i];
                const double value = lower + (lower - older) / (factor - 1);
                const double spread = fmax(fabs(value - lower), fabs(value - older));
                row[(size_t)k * n + i] = value;
                if (spread < work->spread[i]) {
                    work->spread[i] = spread;
                    work->best[i] = value;
                }
            }
        double *swap = previous;
        previous = row;
        row = swap;
        double open = 0, size = 0;
        for (size_t i = 0; i < n; i++) {
            open += work->spread[i] * work->spread[i];
            size += work->best[i] * work->best[i];
        }
        /* Enough, or rounding grows faster than the error falls. */
        if (open <= FINE_ENOUGH * FINE_ENOUGH * size ||
            (open <= FINE_ROUNDING * FINE_ROUNDING * size && open > 0.25 * before))
            break;
        before = open;
    }
    return HF_OK;
}

hf_status hfi_difference(const hfi_problem *problem, hfi_work *work, const double *b, size_t j,
                         hfi_quality quality, const double *f, double span)
{
    const double noise = fmax(problem->noise, DBL_EPSILON);
    hf_status status;
    double step;
    if (quality == HFI_FORWARD) {
        step = sqrt(noise) * span;
        if (b[j] + step > problem->high[j])
            step = -step;
        double moved;
        status = at_offset(problem, work, b, j, step, work->plus, &moved);
        if (status == HF_ERANGE)
            status = at_offset(problem, work, b, j, -step, work->plus, &moved);
        if (status == HF_OK)
            for (size_t i = 0; i < problem->n; i++)
                work->best[i] = (work->plus[i] - f[i]) / moved;
        return status;
    }
    if (quality == HFI_CENTRAL) {
        step = inside(problem, b, j, cbrt(noise) * span);
        int sides;
        return reachable(problem, work, b, j, &step, f, work->best, &sides);
    }
    return fine(problem, work, b, j, inside(problem, b, j, fmax(FINE_STEP, 2 * cbrt(noise)) * span),
                f);
}

static hf_status analytic(const hfi_problem *problem, hfi_work *work, const double *b,
                          const hfi_active *active)
{
    double own[HF_FIT_PARAMETERS_MAX], part[HF_FIT_PARAMETERS_MAX], all[HF_FIT_PARAMETERS_MAX];
    for (size_t i = 0; i < problem->n; i++) {
        const size_t *map = problem->map ? problem->map + problem->group[i] * problem->m : NULL;
        for (size_t k = 0; map && k < problem->m; k++)
            own[k] = b[map[k]];
        hf_status status = problem->gradient(problem->x + i * problem->columns, map ? own : b,
                                             problem->user, part);
        if (status == HF_ECONVERGE || status == HF_ENOMODEL)
            status = HF_ERANGE;
        if (hf_failed(status)) {
            if (status != HF_ERANGE)
                work->fatal = status;
            return status;
        }
        if (map) {
            memset(all, 0, sizeof all);
            for (size_t k = 0; k < problem->m; k++)
                all[map[k]] += part[k];
        }
        for (size_t k = 0; k < active->count; k++) {
            const double d = (map ? all : part)[active->index[k]];
            if (!isfinite(d))
                return HF_ERANGE;
            work->jacobian[i * active->count + k] = d;
        }
    }
    return HF_OK;
}

hf_status hfi_jacobian(const hfi_problem *problem, hfi_work *work, const double *b,
                       const hfi_active *active, hfi_quality quality, const double *f)
{
    const size_t n = problem->n, count = active->count;
    double size = 0;
    for (size_t i = 0; i < n; i++)
        size += f[i] * f[i];
    size = sqrt(size);
    if (problem->gradient) {
        const hf_status status = analytic(problem, work, b, active);
        if (status != HF_OK)
            return status;
    }
    for (size_t k = 0; k < count; k++) {
        const size_t j = active->index[k];
        /* An unknown natural size is found by trial: a step as long as it gives a better one. */
        const int known = work->natural[j] > 0;
        for (int attempt = 0; attempt < 8; attempt++) {
            const double span = natural_size(b[j], work->natural[j]);
            if (!problem->gradient) {
                const hf_status status = hfi_difference(problem, work, b, j, quality, f, span);
                if (status != HF_OK)
                    return status;
                for (size_t i = 0; i < n; i++)
                    work->jacobian[i * count + k] = work->best[i];
            }
            double sum = 0;
            for (size_t i = 0; i < n; i++)
                sum += work->jacobian[i * count + k] * work->jacobian[i * count + k];
            work->natural[j] = sum > 0 && size > 0 ? size / sqrt(sum) : 0;
            const double better = natural_size(b[j], work->natural[j]);
            if (problem->gradient || known || (better < 30 * span && span < 30 * better))
                break;
        }
    }
    return HF_OK;
}
