/* The integrator object: creation, tolerances, state. The driver is in rosenbrock_advance.c. */
#include "rosenbrock_internal.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define DEFAULT_RTOL 1e-5
#define DEFAULT_ATOL 1e-8

static bool problem_is_sound(const hfi_ode_problem *p)
{
    if (p == NULL || p->blocks == 0 || p->blocks > HFI_BT_MAX_BLOCKS || p->rates == NULL ||
        (p->block_size != 1 && p->block_size != 2) || p->quadratures > HFI_ODE_MAX_QUADRATURES ||
        p->events > HFI_ODE_MAX_EVENTS || (p->events > 0 && p->event_values == NULL) ||
        (p->coupling != NULL && p->jacobian == NULL) || p->balanced > p->quadratures ||
        (p->balanced > 0 && (p->quadrature_balance == NULL || p->quadrature_own != NULL))) {
        return false;
    }
    for (size_t e = 0; e < p->events; e++) {
        if (p->event[e].direction < -1 || p->event[e].direction > 1) {
            return false;
        }
    }
    return true;
}

static bool not_negative(double x)
{
    return x >= 0.0 && isfinite(x);
}

static double *take(double **next, size_t count)
{
    double *p = *next;
    *next += count;
    return p;
}

int hfi_ode_create(const hfi_ode_problem *problem, const hfi_ode_options *options, hfi_ode **out)
{
    if (out == NULL || !problem_is_sound(problem) ||
        (options != NULL &&
         !(not_negative(options->initial_step) && not_negative(options->max_step) &&
           not_negative(options->min_step) && not_negative(options->event_tolerance)))) {
        return HFI_ODE_BAD_ARGUMENT;
    }
    const size_t ny = problem->blocks * problem->block_size, nq = problem->quadratures;
    const size_t n = ny + nq;
    const size_t matrix = hfi_bt_doubles(problem->blocks, problem->block_size);
    const size_t doubles = (11 + HFI_RODAS_STAGES) * n + 3 * ny + 5 * nq + 2 * matrix;
    hfi_ode *o = calloc(1, sizeof *o + doubles * sizeof(double));
    if (o == NULL) {
        return HFI_ODE_NO_MEMORY;
    }
    o->problem = *problem;
    if (options != NULL) {
        o->options = *options;
    }
    o->ny = ny;
    o->n = n;
    double *next = o->data;
    double **whole[] = {&o->y,    &o->from, &o->to,     &o->stage, &o->rate, &o->rate_t,
                        &o->rtol, &o->atol, &o->weight, &o->scale, &o->sum};
    for (size_t i = 0; i < sizeof whole / sizeof *whole; i++) {
        *whole[i] = take(&next, n);
    }
    for (size_t s = 0; s < HFI_RODAS_STAGES; s++) {
        o->k[s] = take(&next, n);
    }
    o->u = take(&next, ny);
    o->v = take(&next, ny);
    o->w = take(&next, ny);
    o->own = take(&next, nq);
    o->gradient = take(&next, nq);
    o->closed = take(&next, 3 * nq);
    (void)hfi_bt_map(&o->jacobian, problem->blocks, problem->block_size, take(&next, matrix));
    (void)hfi_bt_map(&o->factors, problem->blocks, problem->block_size, take(&next, matrix));
    (void)hfi_ode_set_tolerance(o, 0, 1, n, DEFAULT_RTOL, DEFAULT_ATOL, 1.0);
    *out = o;
    return HFI_ODE_OK;
}

void hfi_ode_free(hfi_ode *o)
{
    free(o);
}

int hfi_ode_set_tolerance(hfi_ode *o, size_t first, size_t stride, size_t count, double rtol,
                          double atol, double weight)
{
    if (o == NULL || stride == 0 || count == 0 || first >= o->n ||
        (count - 1) > (o->n - 1 - first) / stride || !not_negative(rtol) || !not_negative(weight) ||
        !(atol > 0.0) || !isfinite(atol)) {
        return HFI_ODE_BAD_ARGUMENT;
    }
    for (size_t j = 0; j < count; j++) {
        const size_t i = first + j * stride;
        o->rtol[i] = rtol;
        o->atol[i] = atol;
        o->weight[i] = weight;
        /* Below atol/rtol a value is small; its difference increment need not shrink further. */
        o->scale[i] = atol / (rtol > 1e-8 ? rtol : 1e-8);
    }
    o->y_weight = 0.0;
    return HFI_ODE_OK;
}

int hfi_ode_set_least_first_step(hfi_ode *o, double step)
{
    if (o == NULL || !not_negative(step)) {
        return HFI_ODE_BAD_ARGUMENT;
    }
    o->least_first_step = step;
    return HFI_ODE_OK;
}

int hfi_ode_start(hfi_ode *o, double t, const double *y, const double *q)
{
    if (o == NULL || !isfinite(t)) {
        return HFI_ODE_BAD_ARGUMENT;
    }
    for (size_t i = 0; i < o->n; i++) {
        const double *part = i < o->ny ? y : q;
        if (part != NULL && !isfinite(part[i < o->ny ? i : i - o->ny])) {
            return HFI_ODE_BAD_ARGUMENT;
        }
    }
    if (y != NULL) {
        memmove(o->y, y, o->ny * sizeof(double));
    }
    if (q != NULL) {
        memmove(o->y + o->ny, q, (o->n - o->ny) * sizeof(double));
    }
    o->t = t;
    o->step = 0.0;
    o->prepared = false;
    o->have_previous = false;
    o->dense_ready = false;
    memset(o->side, 0, sizeof o->side);
    o->failure = (hfi_ode_failure){.status = HFI_ODE_OK, .t = t};
    return HFI_ODE_OK;
}

double hfi_ode_time(const hfi_ode *o)
{
    return o->t;
}

const double *hfi_ode_y(const hfi_ode *o)
{
    return o->y;
}

const double *hfi_ode_q(const hfi_ode *o)
{
    return o->y + o->ny;
}

double hfi_ode_next_step(const hfi_ode *o)
{
    return o->step;
}

void hfi_ode_get_statistics(const hfi_ode *o, hfi_ode_statistics *out)
{
    *out = o->statistics;
}

void hfi_ode_get_failure(const hfi_ode *o, hfi_ode_failure *out)
{
    *out = o->failure;
}
