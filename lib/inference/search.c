/*
 * Search over starts. Start 0 is the given one; start 1 is the same with the parameters in which the model is
 * linear solved for first, as they are at every later start; the rest comes from a Sobol sequence, shifted
 * by the seed. Without a number asked, the search runs only when start 0 did not end in a good minimum; it
 * then takes its starts in the order of their RSS and stops when the best minimum has been reached three
 * times. Each start of the sequence gets one method and few iterations; only when nothing good came of them
 * are all methods tried on the given start.
 *
 * Starts that end in the same curve with other parameters (exchanged terms) count as one minimum; the
 * parameters most like the given start, in sign and size, stand for it.
 */
#include "search.h"

#include "guard.h"
#include "linear.h"
#include "stream.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <gsl/gsl_qrng.h>

#define RESCUE_STARTS 64
#define RESCUE_LEAST  8
#define RESCUE_HITS   3
#define QUICK         60    /* iterations of a start of the sequence */
#define RESCUE_ROWS   20000 /* evaluations after which a search that nobody asked for ends, */
#define RESCUE_BULK   2000  /* and for a model that answers all rows at once (a simulation) */

static int same_curve(const double *a, const double *b, size_t n)
{
    double difference = 0, size = 0;
    for (size_t i = 0; i < n; i++) {
        difference += (a[i] - b[i]) * (a[i] - b[i]);
        size += a[i] * a[i] + b[i] * b[i];
    }
    return difference <= 1e-10 * size;
}

static int same_values(const double *a, const double *b, size_t p)
{
    for (size_t j = 0; j < p; j++)
        if (fabs(a[j] - b[j]) > 1e-3 * fmax(fabs(a[j]), fabs(b[j])))
            return 0;
    return 1;
}

/* Good minima first where RSS is as good as equal, else by RSS. */
static int before(const hfi_outcome *a, const hfi_outcome *b)
{
    if (fabs(a->rss - b->rss) <= 1e-6 * fmin(a->rss, b->rss) || (a->exact && b->exact))
        return hfi_outcome_good(a) && !hfi_outcome_good(b);
    return a->rss < b->rss;
}

/* Decades between values and the given start, a wrong sign counting as many. */
static double unlike(const double *values, const double *start, size_t p)
{
    double sum = 0;
    for (size_t j = 0; j < p; j++) {
        if (start[j] == 0 || values[j] == start[j])
            continue;
        const double ratio = values[j] / start[j];
        sum += ratio > 0 ? fmin(fabs(log10(ratio)), 10) : 10;
    }
    return sum;
}

static void record(hfi_search *search, const hfi_problem *problem, hfi_work *work,
                   const double *values, const double *from, const double *given,
                   const hfi_outcome *outcome, size_t start)
{
    const size_t n = problem->n, bytes = problem->p * sizeof *values;
    const double far = unlike(values, given, problem->p);
    if (hfi_fitted(problem, work, values, work->f) != HF_OK)
        return;
    for (size_t k = 0; k < search->kept; k++) {
        hfi_minimum *m = &search->minima[k];
        if (fabs(m->outcome.rss - outcome->rss) >
                1e-6 * fmin(m->outcome.rss, outcome->rss) + 1e-300 &&
            !(m->outcome.exact && outcome->exact))
            continue;
        if (!same_curve(search->curves + k * n, work->f, n))
            continue;
        const int good = hfi_outcome_good(outcome), was_good = hfi_outcome_good(&m->outcome);
        const int other = !same_values(m->values, values, problem->p);
        m->hits++;
        m->others += other != 0;
        if ((good && !was_good) || (good && other && far < m->far)) {
            search->found += !was_good;
            m->outcome = *outcome;
            m->start = start;
            m->far = far;
            memcpy(m->values, values, bytes);
            memcpy(m->from, from, bytes);
        }
        return;
    }
    search->found += hfi_outcome_good(outcome) != 0;
    size_t at = search->kept;
    while (at > 0 && before(outcome, &search->minima[at - 1].outcome))
        at--;
    if (at == HFI_MINIMA)
        return;
    if (search->kept < HFI_MINIMA)
        search->kept++;
    for (size_t k = search->kept - 1; k > at; k--) {
        search->minima[k] = search->minima[k - 1];
        memcpy(search->curves + k * n, search->curves + (k - 1) * n, n * sizeof *work->f);
    }
    hfi_minimum *m = &search->minima[at];
    memset(m, 0, sizeof *m);
    memcpy(m->values, values, bytes);
    memcpy(m->from, from, bytes);
    m->outcome = *outcome;
    m->hits = 1;
    m->start = start;
    m->far = far;
    memcpy(search->curves + at * n, work->f, n * sizeof *work->f);
}

/* One start, thoroughly with `methods` methods or, with 0, the quick way. */
static hf_status one(hfi_search *search, const hfi_problem *problem, hfi_work *work,
                     const hfi_active *active, const hfi_active *linear, const double *given,
                     const double *from, int methods, size_t iterations, size_t index)
{
    double b[HF_FIT_PARAMETERS_MAX];
    hfi_outcome outcome;
    memcpy(b, from, problem->p * sizeof *b);
    const hf_status status =
        methods > 0 ? hfi_minimise(problem, work, active, methods, iterations, b, &outcome)
                    : hfi_quick(problem, work, active, linear, iterations, b, &outcome);
    if (status == HF_OK) {
        search->iterations += outcome.iterations;
        search->answered += search->answered < search->starts;
        record(search, problem, work, b, from, given, &outcome, index);
    }
    return status == HF_ERANGE ? HF_OK : status;
}

static int good(const hfi_search *search)
{
    return search->kept > 0 && hfi_outcome_good(&search->minima[0].outcome);
}

static int settled(const hfi_search *search)
{
    return good(search) && search->minima[0].hits >= RESCUE_HITS && search->starts >= RESCUE_LEAST;
}

typedef struct candidate {
    double rss; /* infinite: no answer there */
    size_t index;
    double b[HF_FIT_PARAMETERS_MAX];
} candidate;

static int by_rss(const void *a, const void *b)
{
    const candidate *p = a, *q = b;
    return p->rss != q->rss ? (p->rss > q->rss) - (p->rss < q->rss)
                            : (p->index > q->index) - (p->index < q->index);
}

/* Starts 1 .. count: the given one and the sequence, each with its linear parameters solved. */
static hf_status propose(const hfi_problem *problem, hfi_work *work, const hfi_active *active,
                         const hfi_active *linear, const double *start, unsigned long seed,
                         candidate *list, size_t count)
{
    hf_status status = HF_OK;
    hfi_guard_gsl();
    gsl_qrng *sobol = gsl_qrng_alloc(gsl_qrng_sobol, (unsigned)active->count);
    if (!sobol)
        return HF_ENOMEM;
    double shift[HF_FIT_PARAMETERS_MAX] = {0}, unit[HF_FIT_PARAMETERS_MAX];
    for (size_t j = 0; j < active->count; j++)
        shift[j] = hfi_stream_uniform(seed, HFI_STREAM_SHIFT, j);
    for (size_t k = 0; k < count; k++) {
        candidate *c = &list[k];
        c->index = k + 1;
        memcpy(c->b, start, problem->p * sizeof *start);
        if (k > 0) {
            if (gsl_qrng_get(sobol, unit) != 0) {
                status = HF_EINTERNAL;
                break;
            }
            for (size_t j = 0; j < active->count; j++)
                unit[j] = fmod(unit[j] + shift[j], 1);
            hfi_spread(problem, active, start, unit, k, c->b);
        }
        status = linear->count > 0 ? hfi_solve_linear(problem, work, linear, c->b) : HF_ERANGE;
        if (status == HF_ERANGE)
            status = hfi_fitted(problem, work, c->b, work->trial);
        c->rss = status == HF_OK ? hfi_rss(problem, work->trial) : HUGE_VAL;
        if (!isfinite(c->rss))
            c->rss = HUGE_VAL;
        if (status != HF_OK && status != HF_ERANGE)
            break;
        status = HF_OK;
    }
    gsl_qrng_free(sobol);
    return status;
}

static hf_status sequence(hfi_search *search, const hfi_problem *problem, hfi_work *work,
                          const hfi_active *active, const double *start, size_t starts,
                          unsigned long seed, size_t iterations)
{
    const size_t count = starts > 0 ? starts - 1 : RESCUE_STARTS;
    const size_t quick = iterations < QUICK ? iterations : QUICK;
    candidate *list = malloc(count * sizeof *list);
    if (!list)
        return HF_ENOMEM;
    hfi_active linear;
    hf_status status = hfi_find_linear(problem, work, active, start, &linear);
    if (status == HF_OK)
        status = propose(problem, work, active, &linear, start, seed, list, count);
    if (status == HF_OK)
        qsort(list, count, sizeof *list, by_rss);
    const size_t limit = work->evaluations + (problem->values ? RESCUE_BULK : RESCUE_ROWS);
    for (size_t k = 0; k < count && status == HF_OK; k++) {
        if (starts == 0 && (settled(search) || work->evaluations > limit))
            break;
        search->starts++;
        if (list[k].rss < HUGE_VAL)
            status = one(search, problem, work, active, &linear, start, list[k].b, 0, quick,
                         search->starts - 1);
    }
    free(list);
    return status;
}

hf_status hfi_search_run(hfi_search *search, const hfi_problem *problem, hfi_work *work,
                         const hfi_active *active, const double *start, size_t starts,
                         unsigned long seed, size_t iterations)
{
    const int alone = starts == 1 || active->count == 0;
    search->starts = 1;
    hf_status status = one(search, problem, work, active, NULL, start, start,
                           alone ? HFI_METHODS : 1, iterations, 0);
    if (status != HF_OK || alone || (starts == 0 && good(search)))
        return status;
    status = sequence(search, problem, work, active, start, starts, seed, iterations);
    if (status == HF_OK && !good(search))
        status = one(search, problem, work, active, NULL, start, start, HFI_METHODS, iterations, 0);
    return status;
}
