/*
 * The model over all points, with the parameters of each point's group picked out.
 */
#include "problem.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

hf_status hfi_work_new(hfi_work *work, const hfi_problem *problem, size_t n)
{
    memset(work, 0, sizeof *work);
    const size_t p = problem->p, rows = problem->gradient ? 0 : 2 * HFI_LEVELS;
    double *next = work->block = calloc(n, (8 + rows + 2 * p) * sizeof *next);
    if (!next)
        return HF_ENOMEM;
    double **const field[] = {&work->f,    &work->trial,  &work->plus, &work->minus,
                              &work->best, &work->spread, &work->rhs,  &work->tail};
    for (size_t i = 0; i < sizeof field / sizeof field[0]; i++, next += n)
        *field[i] = next;
    work->rows = next;
    next += rows * n;
    work->jacobian = next;
    next += n * p;
    work->matrix = next;
    work->n = n;
    work->p = p;
    return HF_OK;
}

void hfi_work_free(hfi_work *work)
{
    free(work->block);
    work->block = NULL;
}

void hfi_work_forget(hfi_work *work)
{
    memset(work->natural, 0, sizeof work->natural);
}

/* Sorts a callback's status: answered, no answer here, or fatal. */
static hf_status sort_status(hf_status status)
{
    if (!hf_failed(status))
        return HF_OK;
    if (status == HF_ECONVERGE || status == HF_ENOMODEL)
        return HF_ERANGE;
    return status;
}

static void pick(const hfi_problem *problem, size_t group, const double *b, double *own)
{
    for (size_t k = 0; k < problem->m; k++)
        own[k] = b[problem->map[group * problem->m + k]];
}

/* Group by group: the rows of one, its own parameters, one call. */
static hf_status values_of_groups(const hfi_problem *problem, size_t n, const double *x,
                                  const size_t *group, const double *b, double *f)
{
    const size_t columns = problem->columns;
    double *rows = malloc(n * (columns + 1) * sizeof *rows);
    char *done = calloc(n, 1);
    hf_status status = rows && done ? HF_OK : HF_ENOMEM;
    for (size_t first = 0; first < n && status == HF_OK; first++) {
        if (done[first])
            continue;
        double own[HF_FIT_PARAMETERS_MAX], *answer = rows + n * columns;
        size_t count = 0;
        for (size_t i = first; i < n; i++)
            if (group[i] == group[first])
                memcpy(rows + count++ * columns, x + i * columns, columns * sizeof *rows);
        pick(problem, group[first], b, own);
        status = sort_status(problem->values(count, rows, own, problem->user, answer));
        for (size_t i = first; i < n && status == HF_OK; i++)
            if (group[i] == group[first]) {
                f[i] = *answer++;
                done[i] = 1;
            }
    }
    free(rows);
    free(done);
    return status;
}

hf_status hfi_fitted_at(const hfi_problem *problem, size_t n, const double *x, const size_t *group,
                        const double *b, double *f)
{
    if (problem->values) {
        const hf_status status = problem->map
                                     ? values_of_groups(problem, n, x, group, b, f)
                                     : sort_status(problem->values(n, x, b, problem->user, f));
        if (status != HF_OK)
            return status;
    } else {
        double own[HF_FIT_PARAMETERS_MAX];
        for (size_t i = 0; i < n; i++) {
            if (problem->map)
                pick(problem, group[i], b, own);
            const hf_status status = sort_status(problem->value(
                x + i * problem->columns, problem->map ? own : b, problem->user, &f[i]));
            if (status != HF_OK)
                return status;
        }
    }
    for (size_t i = 0; i < n; i++)
        if (!isfinite(f[i]))
            return HF_ERANGE;
    return HF_OK;
}

hf_status hfi_fitted(const hfi_problem *problem, hfi_work *work, const double *b, double *f)
{
    if (work->fatal != HF_OK)
        return work->fatal;
    work->evaluations++;
    const hf_status status = hfi_fitted_at(problem, problem->n, problem->x, problem->group, b, f);
    if (status != HF_OK && status != HF_ERANGE)
        work->fatal = status;
    return status;
}

double hfi_rss(const hfi_problem *problem, const double *f)
{
    double sum = 0;
    for (size_t i = 0; i < problem->n; i++) {
        const double r = (problem->y[i] - f[i]) * (problem->sw ? problem->sw[i] : 1);
        sum += r * r;
    }
    return sum;
}
