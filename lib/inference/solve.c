/*
 * Strategy of one start: GSL's accelerated solver on cheap differences brings the fit near, polishing makes
 * the digits. When that does not end in a good minimum, other trust-region methods on better differences
 * try from the same start; the lowest point counts.
 */
#include "solve.h"

#include <math.h>
#include <string.h>

/* A good minimum wins over a lower point only when they are as good as equal. */
static int better(const hfi_outcome *a, const hfi_outcome *b)
{
    if (fabs(a->rss - b->rss) <= 1e-8 * fmin(a->rss, b->rss))
        return hfi_outcome_good(a) && !hfi_outcome_good(b);
    return a->rss < b->rss;
}

hf_status hfi_minimise(const hfi_problem *problem, hfi_work *work, const hfi_active *active,
                       int methods, size_t iterations, double *b, hfi_outcome *outcome)
{
    const size_t bytes = problem->p * sizeof *b;
    double start[HF_FIT_PARAMETERS_MAX], at[HF_FIT_PARAMETERS_MAX];
    size_t all = 0;
    int answered = 0;
    hf_status status = HF_OK;
    memcpy(start, b, bytes);
    for (int method = 0; method < methods; method++) {
        hfi_outcome here;
        size_t used = 0;
        memcpy(at, start, bytes);
        hfi_work_forget(work);
        status = hfi_descend(problem, work, active, (hfi_method)method,
                             method == 0 ? HFI_FORWARD : HFI_CENTRAL, iterations, at, &used);
        all += used;
        if (status == HF_OK || status == HF_ERANGE)
            status =
                hfi_polish(problem, work, active, NULL, HFI_CENTRAL, 1e-10, iterations, at, &here);
        if (status != HF_OK)
            break;
        all += here.iterations;
        if (!answered || better(&here, outcome)) {
            *outcome = here;
            memcpy(b, at, bytes);
            answered = 1;
        }
        if (hfi_outcome_good(outcome))
            break;
    }
    if (status == HF_ERANGE && answered)
        status = HF_OK;
    if (status == HF_OK)
        outcome->iterations = all;
    return status;
}

hf_status hfi_quick(const hfi_problem *problem, hfi_work *work, const hfi_active *active,
                    const hfi_active *linear, size_t iterations, double *b, hfi_outcome *outcome)
{
    if (!linear || linear->count == 0)
        return hfi_minimise(problem, work, active, 1, iterations, b, outcome);
    hfi_work_forget(work);
    return hfi_polish(problem, work, active, linear, HFI_FORWARD, 1e-7, iterations, b, outcome);
}

hf_status hfi_refit(const hfi_problem *problem, hfi_work *work, const hfi_active *active,
                    size_t iterations, double *b, hfi_outcome *outcome)
{
    const size_t bytes = problem->p * sizeof *b;
    double at[HF_FIT_PARAMETERS_MAX];
    memcpy(at, b, bytes);
    /* RSS at an offset d lies d^2 above its minimum: where the model's own numbers have errors, this is below them. */
    const double enough = problem->noise > 0 ? 1e-4 : 1e-7;
    hf_status status =
        hfi_polish(problem, work, active, NULL, HFI_CENTRAL, enough, 50, at, outcome);
    if (status == HF_OK && (outcome->reached || outcome->offset < 1e-4)) {
        memcpy(b, at, bytes);
        return HF_OK;
    }
    if (status != HF_OK && status != HF_ERANGE)
        return status;
    const hfi_outcome first = *outcome;
    const int answered = status == HF_OK;
    double again[HF_FIT_PARAMETERS_MAX];
    memcpy(again, b, bytes);
    status = hfi_minimise(problem, work, active, 2, iterations, again, outcome);
    if (answered && (status == HF_ERANGE || (status == HF_OK && first.rss < outcome->rss))) {
        memcpy(b, at, bytes);
        *outcome = first;
        return HF_OK;
    }
    if (status == HF_OK)
        memcpy(b, again, bytes);
    return status;
}

/* Columns of `set` at b into out (n * count), and their lengths. */
static hf_status columns(const hfi_problem *problem, hfi_work *work, const hfi_active *set,
                         const double *b, double *out, double *length)
{
    hf_status status = hfi_fitted(problem, work, b, work->f);
    if (status == HF_OK)
        status = hfi_jacobian(problem, work, b, set, HFI_FORWARD, work->f);
    if (status != HF_OK)
        return status;
    memcpy(out, work->jacobian, problem->n * set->count * sizeof *out);
    for (size_t k = 0; k < set->count; k++) {
        length[k] = 0;
        for (size_t i = 0; i < problem->n; i++)
            length[k] += out[i * set->count + k] * out[i * set->count + k];
        length[k] = sqrt(length[k]);
    }
    return HF_OK;
}

/* True when no column of the set changes as all of the set move a good way. */
static int jointly_linear(const hfi_problem *problem, hfi_work *work, const hfi_active *set,
                          const double *b)
{
    double moved[HF_FIT_PARAMETERS_MAX], after[HF_FIT_PARAMETERS_MAX];
    double before[HF_FIT_PARAMETERS_MAX] = {0};
    double *first = work->matrix;
    memcpy(moved, b, problem->p * sizeof *b);
    if (columns(problem, work, set, b, first, before) != HF_OK)
        return 0;
    for (size_t k = 0; k < set->count; k++) {
        const size_t j = set->index[k];
        double by = 0.7 * fmax(fabs(b[j]), problem->typical[j]);
        if (!(by > 0))
            by = work->natural[j] > 0 ? work->natural[j] : 1;
        if (b[j] + by > problem->high[j])
            by = -by;
        if (b[j] + by < problem->low[j])
            return 0;
        moved[j] = b[j] + by * (k % 2 ? 0.8 : 1);
    }
    if (hfi_fitted(problem, work, moved, work->f) != HF_OK ||
        hfi_jacobian(problem, work, moved, set, HFI_FORWARD, work->f) != HF_OK)
        return 0;
    for (size_t k = 0; k < set->count; k++) {
        after[k] = 0;
        for (size_t i = 0; i < problem->n; i++) {
            const double change = work->jacobian[i * set->count + k] - first[i * set->count + k];
            after[k] += change * change;
        }
        if (!(before[k] > 0 && sqrt(after[k]) <= 1e-6 * before[k]))
            return 0;
    }
    return 1;
}

hf_status hfi_find_linear(const hfi_problem *problem, hfi_work *work, const hfi_active *active,
                          const double *b, hfi_active *linear)
{
    linear->count = 0;
    hfi_work_forget(work);
    for (size_t k = 0; k < active->count && work->fatal == HF_OK; k++) {
        hfi_active set = *linear;
        set.index[set.count++] = active->index[k];
        if (jointly_linear(problem, work, &set, b))
            *linear = set;
    }
    return work->fatal;
}
