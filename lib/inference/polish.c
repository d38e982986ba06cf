/*
 * Gauss-Newton with damping only where a full step does not help, in the parameters themselves. It carries a
 * fit that is nearly there to the last digits, re-fits from good starts (profiles, bootstrap), and puts a
 * parameter exactly on its bound: one that is pushed outward is held there, and let go when it is not.
 *
 * Stop: relative offset (Bates and Watts) below `tolerance`, or no step that still shrinks it. Near the
 * optimum RSS no longer tells steps apart (it changes by the square of the offset), so there full steps are
 * judged by the offset.
 */
#include "polish.h"

#include "linear.h"
#include "models.h"

#include <float.h>
#include <math.h>
#include <string.h>

#define MAX      HF_FIT_PARAMETERS_MAX
#define NEAR     1e-4 /* relative offset from which steps are judged by it */
#define PATIENCE 20   /* iterations in which RSS must halve, far away */

int hfi_outcome_good(const hfi_outcome *outcome)
{
    return outcome->reached && !outcome->deaf && outcome->condition < HFI_SINGULAR;
}

typedef struct state {
    const hfi_problem *problem;
    hfi_work *work;
    const hfi_active *active, *linear;
    size_t keep[MAX]; /* columns of the Jacobian that may move now */
    size_t k;
    hfi_factor factor;
    double size; /* length of the weighted data */
} state;

/* Columns that may move: not deaf, not pushed out of a bound. */
static void choose(state *s, const double *b, hfi_outcome *outcome)
{
    const hfi_problem *problem = s->problem;
    const size_t n = problem->n, count = s->active->count;
    s->k = 0;
    outcome->deaf = 0;
    for (size_t c = 0; c < count; c++) {
        const size_t j = s->active->index[c];
        double pull = 0, sum = 0;
        for (size_t i = 0; i < n; i++) {
            const double w = problem->sw ? problem->sw[i] : 1;
            const double d = w * s->work->jacobian[i * count + c];
            pull += d * w * (problem->y[i] - s->work->f[i]);
            sum += d * d;
        }
        if ((b[j] <= problem->low[j] && pull <= 0) || (b[j] >= problem->high[j] && pull >= 0))
            continue;
        const double scale = fmax(fabs(b[j]), problem->typical[j]);
        if (!(sqrt(sum) * scale > 1e-13 * s->size) && (scale > 0 || !(sum > 0))) {
            outcome->deaf = 1;
            continue;
        }
        s->keep[s->k++] = c;
    }
}

/* How far from the minimum: offset, reached, exact. */
static void judge(const state *s, hfi_outcome *outcome)
{
    double removable = 0;
    for (size_t c = 0; c < s->k; c++)
        removable += s->factor.q[c] * s->factor.q[c];
    const size_t n = s->problem->n;
    const double rounding = fmax(DBL_EPSILON, s->problem->noise) * s->size;
    outcome->exact = sqrt(removable + s->factor.rest) <= 64 * rounding;
    if (s->k == 0)
        outcome->offset = 0;
    else if (n <= s->k || !(s->factor.rest > 0))
        outcome->offset = s->size > 0 ? sqrt(removable) / s->size : 0;
    else
        outcome->offset =
            sqrt(removable / (double)s->k) / sqrt(s->factor.rest / (double)(n - s->k));
    outcome->reached =
        outcome->exact || sqrt(removable) <= 2 * rounding || outcome->offset < outcome->enough;
}

static double condition_of(const state *s)
{
    double values[MAX], v[MAX * MAX];
    if (s->k == 0)
        return 1;
    if (hfi_singular(&s->factor, values, v) != HF_OK || !(values[s->k - 1] > 0))
        return HUGE_VAL;
    return values[0] / values[s->k - 1];
}

/* Derivatives, choice and factors at b. */
static hf_status look(state *s, const double *b, hfi_quality quality, hfi_outcome *outcome)
{
    hf_status status = hfi_jacobian(s->problem, s->work, b, s->active, quality, s->work->f);
    if (status != HF_OK)
        return status;
    choose(s, b, outcome);
    status =
        hfi_factorise(s->problem, s->work, s->work->f, s->active->count, s->keep, s->k, &s->factor);
    if (status != HF_OK)
        return HF_ERANGE;
    judge(s, outcome);
    outcome->current = 1;
    return HF_OK;
}

/* Trial b = b + step, within the bounds; RSS there, infinite where the model has no answer. */
static hf_status try_step(state *s, const double *step, const double *b, double *to, double *rss,
                          int *moved)
{
    memcpy(to, b, s->problem->p * sizeof *b);
    *moved = 0;
    for (size_t c = 0; c < s->k; c++) {
        const size_t j = s->active->index[s->keep[c]];
        to[j] = fmin(fmax(b[j] + step[c], s->problem->low[j]), s->problem->high[j]);
        *moved |= to[j] != b[j];
    }
    hf_status answer = HF_ERANGE;
    if (s->linear)
        answer = hfi_solve_linear(s->problem, s->work, s->linear, to);
    if (answer == HF_ERANGE)
        answer = hfi_fitted(s->problem, s->work, to, s->work->trial);
    if (answer != HF_OK && answer != HF_ERANGE)
        return answer;
    *rss = answer == HF_OK ? hfi_rss(s->problem, s->work->trial) : HUGE_VAL;
    if (!isfinite(*rss))
        *rss = HUGE_VAL;
    return HF_OK;
}

static void accept(state *s, double *b, const double *to, double rss, hfi_outcome *outcome)
{
    memcpy(b, to, s->problem->p * sizeof *b);
    double *swap = s->work->f;
    s->work->f = s->work->trial;
    s->work->trial = swap;
    outcome->rss = rss;
    outcome->current = 0;
}

#define MEMORY 3

/* The last points and steps of a settling, newest first, to extrapolate from. */
typedef struct trail {
    size_t count, k;
    size_t keep[MAX];
    double b[MEMORY + 1][MAX], step[MEMORY + 1][MAX];
} trail;

/* Gauss-Newton steps shrink by a constant factor when the residuals are large. Anderson's mixing turns the
 * last few into the point where they would end: step less what the history says it will not bring. */
static void mix(trail *t, const state *s, const double *b, double *step)
{
    const size_t k = s->k;
    if (t->count > 0 && (t->k != k || memcmp(t->keep, s->keep, k * sizeof *s->keep) != 0))
        t->count = 0; /* another set of parameters moves now */
    t->k = k;
    memcpy(t->keep, s->keep, sizeof t->keep);
    memmove(t->b[1], t->b[0], sizeof t->b - sizeof t->b[0]);
    memmove(t->step[1], t->step[0], sizeof t->step - sizeof t->step[0]);
    for (size_t c = 0; c < k; c++) {
        t->b[0][c] = b[s->active->index[s->keep[c]]];
        t->step[0][c] = step[c];
    }
    if (t->count < MEMORY + 1)
        t->count++;
    const size_t past = t->count - 1 < k ? t->count - 1 : k;
    double change[MAX * MEMORY], want[MAX], share[MEMORY];
    for (size_t c = 0; c < k; c++) {
        want[c] = step[c] * s->factor.length[c];
        for (size_t m = 0; m < past; m++)
            change[c * past + m] = (t->step[m][c] - t->step[m + 1][c]) * s->factor.length[c];
    }
    if (past == 0 || !hfi_guess_linear(k, past, change, want, share, NULL))
        return;
    for (size_t c = 0; c < k; c++)
        for (size_t m = 0; m < past; m++)
            step[c] -= share[m] * (t->b[m][c] - t->b[m + 1][c] + t->step[m][c] - t->step[m + 1][c]);
}

/* Full steps judged by the offset: ends at the best point seen. */
static hf_status settle(state *s, hfi_quality quality, double tolerance, size_t limit, double *b,
                        hfi_outcome *outcome)
{
    double best[MAX], to[MAX], step[MAX];
    const size_t bytes = s->problem->p * sizeof *b;
    hfi_outcome kept = *outcome;
    trail past = {0};
    s->linear = NULL;
    memcpy(best, b, bytes);
    for (size_t wait = 0; outcome->offset > tolerance && wait < 3 && limit-- > 0;) {
        double rss;
        int moved;
        if (hfi_step(&s->factor, 0, step) != HF_OK)
            break;
        mix(&past, s, b, step);
        if (try_step(s, step, b, to, &rss, &moved) != HF_OK || !moved ||
            !(rss <= kept.rss * (1 + 1e-9)))
            break;
        accept(s, b, to, rss, outcome);
        if (look(s, b, quality, outcome) != HF_OK)
            break;
        outcome->iterations++;
        wait = outcome->offset < 0.9 * kept.offset ? 0 : wait + 1;
        if (outcome->offset < kept.offset) {
            kept = *outcome;
            memcpy(best, b, bytes);
        }
    }
    kept.iterations = outcome->iterations;
    if (s->work->fatal == HF_OK && memcmp(best, b, bytes) != 0) {
        memcpy(b, best, bytes);
        const hf_status status = hfi_fitted(s->problem, s->work, b, s->work->f);
        if (status != HF_OK || look(s, b, quality, outcome) != HF_OK)
            return s->work->fatal != HF_OK ? s->work->fatal : HF_EINTERNAL;
    }
    *outcome = kept;
    return s->work->fatal;
}

hf_status hfi_polish(const hfi_problem *problem, hfi_work *work, const hfi_active *active,
                     const hfi_active *linear, hfi_quality quality, double tolerance,
                     size_t iterations, double *b, hfi_outcome *outcome)
{
    state s = {problem, work, active, linear && linear->count > 0 ? linear : NULL, {0}, 0, {0}, 0};
    memset(outcome, 0, sizeof *outcome);
    for (size_t i = 0; i < problem->n; i++)
        s.size = hypot(s.size, problem->y[i] * (problem->sw ? problem->sw[i] : 1));
    hf_status status = hfi_fitted(problem, work, b, work->f);
    if (status != HF_OK)
        return status;
    outcome->rss = hfi_rss(problem, work->f);
    outcome->offset = HUGE_VAL;
    outcome->condition = HUGE_VAL;
    outcome->enough = fmax(HFI_CONVERGED, 10 * cbrt(problem->noise) * cbrt(problem->noise));
    if (problem->noise > 0)
        tolerance = fmax(tolerance, outcome->enough / 1e3);
    if (!isfinite(outcome->rss))
        return HF_ERANGE;
    double damping = 0, mark = outcome->rss;
    /* Far away the cheap differences show the direction as well. */
    hfi_quality now = quality;
    while (outcome->iterations < iterations) {
        status = look(&s, b, now, outcome);
        if (status == HF_OK && now != quality && (outcome->offset <= NEAR || outcome->reached)) {
            now = quality;
            status = look(&s, b, now, outcome);
        }
        if (status != HF_OK)
            return status == HF_ERANGE ? HF_OK : status;
        if (outcome->iterations % PATIENCE == PATIENCE - 1) {
            if (outcome->offset > 0.1 && outcome->rss > 0.5 * mark)
                break;
            mark = outcome->rss;
        }
        if (outcome->offset <= NEAR || outcome->reached) {
            status = settle(&s, quality, tolerance, iterations, b, outcome);
            if (status != HF_OK)
                return status;
            if (outcome->reached)
                break;
        }
        int stepped = 0;
        for (int attempt = 0; attempt < 25 && !stepped; attempt++) {
            double step[MAX], to[MAX], rss = HUGE_VAL;
            int moved = 1;
            const int solved = hfi_step(&s.factor, damping, step) == HF_OK;
            if (solved)
                status = try_step(&s, step, b, to, &rss, &moved);
            if (status != HF_OK)
                return status;
            if (solved && rss < outcome->rss) {
                accept(&s, b, to, rss, outcome);
                damping = damping < 1e-7 ? 0 : damping / 10;
                stepped = 1;
            } else {
                if (!moved)
                    break;
                damping = damping > 0 ? damping * 8 : 1e-6;
            }
        }
        outcome->iterations++;
        if (!stepped)
            break;
    }
    outcome->condition = condition_of(&s);
    if (quality == HFI_FINE && outcome->current && outcome->reached && s.k > 0) {
        /* One step more on the same derivatives: what the last offset still showed. */
        double step[MAX], to[MAX], rss;
        int moved;
        if (hfi_step(&s.factor, 0, step) == HF_OK &&
            try_step(&s, step, b, to, &rss, &moved) == HF_OK && moved &&
            rss <= outcome->rss * (1 + 1e-12)) {
            accept(&s, b, to, rss, outcome);
            outcome->current = 1;
        }
    }
    return work->fatal;
}
