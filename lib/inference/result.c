/*
 * Statistics of the optimum.
 *
 *   A = W^(1/2) J / column lengths = U S V',   covariance = s^2 V S^-2 V' over the column lengths
 *   leverage_i = |row i of U|^2
 *   Huber      s^2 times (J'WJ)^-1 with s^2 = K^2 sum (w r)^2 / (n - p) / mean(psi')^2,
 *              K = 1 + p var(psi') / (n mean(psi')^2)   (Huber's small-sample correction)
 *
 * Directions with a singular value below the largest over HFI_SINGULAR are not determined: parameters that
 * take part in one get an infinite standard error, the others keep theirs. Formulas of AIC, AICc and BIC:
 * the public header.
 */
#include "fit.h"

#include "linear.h"

#include <float.h>
#include <math.h>
#include <string.h>

#define MAX HF_FIT_PARAMETERS_MAX
#define PI  3.14159265358979323846

/* Share of a direction from which a parameter counts as taking part in it. */
#define PART 0.05

static double weight_of(const hf_fit *fit, size_t i)
{
    return fit->problem.sw ? fit->problem.sw[i] : 1;
}

/* Free parameters with a standard error to compute; flags the others. */
static void sort_out(hf_fit *fit, hfi_work *work, hfi_active *moving, size_t *keep)
{
    const hfi_problem *problem = &fit->problem;
    const size_t count = fit->free.count;
    double size = 0;
    for (size_t i = 0; i < problem->n; i++)
        size = hypot(size, weight_of(fit, i) * problem->y[i]);
    moving->count = 0;
    for (size_t c = 0; c < count; c++) {
        const size_t j = fit->free.index[c];
        double sum = 0;
        for (size_t i = 0; i < problem->n; i++) {
            const double d = weight_of(fit, i) * work->jacobian[i * count + c];
            sum += d * d;
        }
        const double scale = fmax(fabs(fit->values[j]), fit->typical[j]);
        if (fit->values[j] <= fit->low[j])
            fit->flags[j] |= HF_FIT_AT_LOW;
        else if (fit->values[j] >= fit->high[j])
            fit->flags[j] |= HF_FIT_AT_HIGH;
        else if (!(sqrt(sum) * scale > 1e-13 * size) && (scale > 0 || !(sum > 0)))
            fit->flags[j] |= HF_FIT_NO_EFFECT;
        else {
            keep[moving->count] = c;
            moving->index[moving->count++] = j;
        }
    }
}

static double robust_variance(const hf_fit *fit, const double *f)
{
    const size_t n = fit->problem.n;
    const double scale = fit->summary.s;
    double sum = 0, mean = 0, square = 0;
    for (size_t i = 0; i < n; i++) {
        const double r = weight_of(fit, i) * (fit->problem.y[i] - f[i]);
        const double slope = fabs(r) <= fit->huber * scale ? 1 : 0;
        sum += fit->robust[i] * r * fit->robust[i] * r;
        mean += slope / (double)n;
    }
    for (size_t i = 0; i < n; i++) {
        const double r = weight_of(fit, i) * (fit->problem.y[i] - f[i]);
        const double slope = fabs(r) <= fit->huber * scale ? 1 : 0;
        square += (slope - mean) * (slope - mean) / (double)(n - 1);
    }
    const double p = (double)fit->free.count;
    const double k = 1 + p * square / ((double)n * mean * mean);
    return sum / (double)fit->summary.degrees_of_freedom * (k / mean) * (k / mean);
}

/* Variance factor s^2 of the covariance; NaN without degrees of freedom. */
static double variance(hf_fit *fit, const double *f)
{
    hf_fit_summary *s = &fit->summary;
    const double dof = (double)s->degrees_of_freedom;
    if (fit->loss == HF_LOSS_HUBER)
        return s->degrees_of_freedom > 0 ? robust_variance(fit, f) : (double)NAN;
    const double square = s->degrees_of_freedom > 0 ? s->rss / dof : (double)NAN;
    s->s = sqrt(square);
    return fit->weighting == HF_WEIGHT_ABSOLUTE ? 1 : square;
}

static void criteria(hf_fit *fit)
{
    hf_fit_summary *s = &fit->summary;
    s->log_likelihood = s->aic = s->aicc = s->bic = (double)NAN;
    if (fit->loss != HF_LOSS_SQUARES)
        return;
    const double n = (double)fit->problem.n;
    double logs = 0;
    for (size_t i = 0; i < fit->problem.n; i++)
        logs += 2 * log(weight_of(fit, i));
    const int absolute = fit->weighting == HF_WEIGHT_ABSOLUTE;
    const double twice =
        absolute ? s->rss + n * log(2 * PI) - logs : n * (log(2 * PI * s->rss / n) + 1) - logs;
    const double k = (double)fit->free.count + (absolute ? 0 : 1);
    s->log_likelihood = -twice / 2;
    s->aic = twice + 2 * k;
    s->bic = twice + k * log(n);
    if (n - k - 1 > 0)
        s->aicc = s->aic + 2 * k * (k + 1) / (n - k - 1);
}

/* Covariance of the moving parameters, entangled ones flagged. `factor` and the singular values are of the
 * kept columns. */
static void spread(hf_fit *fit, const hfi_active *moving, const hfi_factor *factor,
                   const double *values, const double *v, double square)
{
    const size_t p = fit->problem.p, k = moving->count;
    size_t rank = k;
    while (rank > 0 && !(values[rank - 1] * HFI_SINGULAR > values[0]))
        rank--;
    for (size_t d = rank; d < k; d++) {
        double largest = 0;
        for (size_t c = 0; c < k; c++)
            largest = fmax(largest, fabs(v[c * k + d]));
        for (size_t c = 0; c < k; c++)
            if (fabs(v[c * k + d]) > PART * largest)
                fit->flags[moving->index[c]] |= HF_FIT_ENTANGLED;
    }
    for (size_t a = 0; a < k; a++) {
        const size_t i = moving->index[a];
        for (size_t b = 0; b < k; b++) {
            const size_t j = moving->index[b];
            double sum = 0;
            for (size_t d = 0; d < rank; d++)
                sum += v[a * k + d] / values[d] * (v[b * k + d] / values[d]);
            const int lost = (fit->flags[i] | fit->flags[j]) & HF_FIT_ENTANGLED;
            fit->covariance[i * p + j] =
                lost ? (double)NAN : sum / factor->length[a] / factor->length[b] * square;
        }
        fit->error[i] =
            fit->flags[i] & HF_FIT_ENTANGLED ? HUGE_VAL : sqrt(fit->covariance[i * p + i]);
    }
}

static void leverages(hf_fit *fit, const hfi_work *work, const hfi_factor *factor,
                      const size_t *keep, const double *values, const double *v)
{
    const size_t k = factor->k, count = fit->free.count;
    for (size_t i = 0; i < fit->problem.n; i++) {
        double sum = 0;
        for (size_t d = 0; d < k; d++) {
            if (!(values[d] * HFI_SINGULAR > values[0]))
                continue;
            double u = 0;
            for (size_t c = 0; c < k; c++)
                u += weight_of(fit, i) * work->jacobian[i * count + keep[c]] / factor->length[c] *
                     v[c * k + d];
            sum += u / values[d] * (u / values[d]);
        }
        fit->leverage[i] = fmin(sum, 1);
    }
}

hf_status hfi_result(hf_fit *fit, hfi_work *work, const hfi_outcome *outcome)
{
    const hfi_problem *problem = &fit->problem;
    hf_fit_summary *s = &fit->summary;
    const size_t p = problem->p;
    s->points = problem->n;
    s->parameters = p;
    s->free = fit->free.count;
    s->degrees_of_freedom = problem->n - fit->free.count;
    s->starts = fit->search.starts;
    s->starts_answered = fit->search.answered;
    s->minima = fit->search.found;
    s->winner = fit->search.minima[0].start;
    s->equivalents = fit->search.minima[0].others;
    s->iterations = fit->search.iterations + outcome->iterations;
    s->offset = outcome->offset;
    s->converged = outcome->reached;
    for (size_t i = 0; i < p * p; i++)
        fit->covariance[i] = (double)NAN;
    for (size_t j = 0; j < p; j++)
        fit->error[j] = (double)NAN;
    memset(fit->leverage, 0, problem->n * sizeof *fit->leverage);

    hf_status status = HF_OK;
    if (outcome->current)
        memcpy(fit->fitted, work->f, problem->n * sizeof *work->f);
    else
        status = hfi_fitted(problem, work, fit->values, fit->fitted);
    if (status == HF_OK && fit->free.count > 0 && !outcome->current)
        status = hfi_jacobian(problem, work, fit->values, &fit->free, HFI_FINE, fit->fitted);
    if (status != HF_OK)
        return status == HF_ERANGE ? HF_ECONVERGE : status;
    memcpy(fit->natural, work->natural, sizeof fit->natural);
    s->rss = hfi_rss(problem, fit->fitted);
    hfi_active moving;
    size_t keep[MAX];
    sort_out(fit, work, &moving, keep);
    const double square = variance(fit, fit->fitted);
    s->condition = 1;
    if (moving.count > 0) {
        double values[MAX], v[MAX * MAX];
        hfi_factor factor;
        status =
            hfi_factorise(problem, work, fit->fitted, fit->free.count, keep, moving.count, &factor);
        if (status == HF_OK)
            status = hfi_singular(&factor, values, v);
        if (status != HF_OK)
            return HF_ECONVERGE;
        const double least = values[moving.count - 1];
        s->condition = least > 0 ? values[0] / least : HUGE_VAL;
        spread(fit, &moving, &factor, values, v, square);
        leverages(fit, work, &factor, keep, values, v);
    }
    for (size_t c = 0; c < fit->free.count; c++) {
        const size_t j = fit->free.index[c];
        if (fit->flags[j] & HF_FIT_NO_EFFECT) {
            fit->error[j] = HUGE_VAL;
            s->condition = HUGE_VAL;
        }
        if (isnan(square))
            fit->flags[j] |= HF_FIT_NO_FREEDOM;
        if (outcome->exact)
            fit->flags[j] |= HF_FIT_PERFECT;
        if (isfinite(fit->error[j]) && fit->error[j] > fabs(fit->values[j]))
            fit->flags[j] |= HF_FIT_LOOSE;
    }
    for (size_t j = 0; j < p; j++)
        s->flags |= fit->flags[j];
    criteria(fit);
    return HF_OK;
}
