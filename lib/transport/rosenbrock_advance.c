/* The driver of the integrator: step size control, events, stops. See rosenbrock.h.
 *
 * Step size: h_new = h clamp(0.9 err^-1/4, 0.2, 6), after an accepted step also limited by the
 * predictive controller of Gustafsson (hairerwanner1996, IV.8), 0.9 h (h/h_old)
 * (err_old/err^2)^1/4.
 */
#include "rosenbrock_internal.h"

#include "../base/stop.h"

#include <float.h>
#include <math.h>
#include <string.h>

#define SAFETY            0.9
#define SHRINK_MOST       0.2
#define GROW_MOST         6.0
#define SHRINK_REFUSED    0.25
#define DEFAULT_MAX_STEPS ((size_t)100000)

static int fail(hfi_ode *o, int status, int cause, double h)
{
    o->failure.status = status;
    o->failure.cause = cause;
    o->failure.t = o->t;
    o->failure.step = h;
    o->failure.located = false;
    if (h > 0.0 && (cause == HFI_ODE_CAUSE_ERROR || cause == HFI_ODE_CAUSE_NOT_FINITE)) {
        hfi_ode_locate_error(o);
        /* Not finite with finite errors all over: it was an event value, no component. */
        o->failure.located = cause == HFI_ODE_CAUSE_ERROR || !isfinite(o->failure.error);
    }
    return status;
}

static int status_of(int cause)
{
    switch (cause) {
    case HFI_ODE_CAUSE_NOT_FINITE:
        return HFI_ODE_NOT_FINITE;
    case HFI_ODE_CAUSE_SINGULAR:
        return HFI_ODE_SINGULAR;
    default:
        return HFI_ODE_STEP_TOO_SMALL;
    }
}

/* Gets rates, derivatives, a first step and the event values at the present state ready. */
static int get_ready(hfi_ode *o, double span)
{
    if (!o->prepared) {
        const int cause = hfi_ode_prepare(o);
        if (cause != HFI_ODE_CAUSE_NONE) {
            return cause;
        }
    }
    if (o->step == 0.0) {
        o->step = o->options.initial_step > 0.0 ? o->options.initial_step : hfi_ode_first_step(o);
        if (isnan(o->step)) {
            o->step = 0.0;
            return HFI_ODE_CAUSE_NOT_FINITE;
        }
        if (o->step < o->least_first_step) {
            o->step = o->least_first_step;
        }
        o->step = o->step < span ? o->step : span;
        if (o->problem.events > 0) {
            const int cause = hfi_ode_event_values(o, o->t, o->y, o->value_from);
            if (cause != HFI_ODE_CAUSE_NONE) {
                o->step = 0.0;
                return cause;
            }
            for (size_t e = 0; e < o->problem.events; e++) {
                o->side[e] = (o->value_from[e] > 0.0) - (o->value_from[e] < 0.0);
            }
        }
    }
    return HFI_ODE_CAUSE_NONE;
}

/* The step to try: the proposed one, cut so that no sliver is left before t_end. */
static double choose_step(const hfi_ode *o, double t_end, bool *last)
{
    const double left = t_end - o->t;
    double h = o->step;
    if (o->options.max_step > 0.0 && h > o->options.max_step) {
        h = o->options.max_step;
    }
    *last = h >= left * (1.0 - 1e-10);
    if (*last) {
        return left;
    }
    return h > 0.5 * left ? 0.5 * left : h;
}

static double bounded(double factor, double most)
{
    if (!(factor >= SHRINK_MOST)) {
        return SHRINK_MOST;
    }
    return factor < most ? factor : most;
}

static void propose_step(hfi_ode *o, double h, double error, bool after_rejection)
{
    const double floor_error = error > 1e-10 ? error : 1e-10;
    double factor = SAFETY / sqrt(sqrt(floor_error));
    if (o->have_previous) {
        const double ratio = o->error_previous / (floor_error * floor_error);
        const double predicted = SAFETY * (h / o->step_previous) * sqrt(sqrt(ratio));
        factor = predicted < factor ? predicted : factor;
    }
    factor = bounded(factor, after_rejection ? 1.0 : GROW_MOST);
    o->have_previous = true;
    o->error_previous = floor_error > 1e-2 ? floor_error : 1e-2;
    o->step_previous = h;
    /* A step cut to meet t_end says nothing against the longer one proposed before it. */
    const double next = h * factor;
    o->step = !after_rejection && next < o->step && h < o->step ? o->step : next;
}

/* Makes the tried step the present state. */
static void accept(hfi_ode *o, double h, double t_new)
{
    memcpy(o->from, o->y, o->n * sizeof(double));
    memcpy(o->y, o->to, o->n * sizeof(double));
    o->start_t = o->t;
    o->start_h = h;
    o->t = t_new;
    o->prepared = false;
    o->dense_ready = true;
    o->statistics.steps++;
}

/* Back to the start of the accepted step. */
static void undo(hfi_ode *o)
{
    memcpy(o->y, o->from, o->n * sizeof(double));
    o->t = o->start_t;
    o->dense_ready = false;
    o->statistics.steps--;
}

/* Reports the events of the accepted step; cuts the step at a terminal one. */
static int handle_events(hfi_ode *o, hfi_ode_observer observer, void *user)
{
    hfi_ode_hit hits[HFI_ODE_MAX_EVENTS];
    size_t count = 0;
    if (o->problem.events == 0) {
        return HFI_ODE_OK;
    }
    const int status = hfi_ode_find_events(o, hits, &count);
    if (status != HFI_ODE_OK) {
        return status;
    }
    for (size_t i = 0; i < count; i++) {
        o->statistics.events++;
        o->side[hits[i].event] = hits[i].direction;
        const int asked = observer != NULL ? observer(o, &hits[i], user) : 0;
        if (hits[i].terminal || asked != 0) {
            hfi_ode_interpolate(o, (hits[i].t - o->start_t) / o->start_h, o->y);
            o->t = hits[i].t;
            /* The rest of the step is undone; its end values now belong to the event. */
            return hfi_ode_event_values(o, o->t, o->y, o->value_from) == HFI_ODE_CAUSE_NONE
                       ? HFI_ODE_EVENT
                       : HFI_ODE_NOT_FINITE;
        }
    }
    for (size_t e = 0; e < o->problem.events; e++) {
        const double value = o->value_to[e];
        o->value_from[e] = value;
        if (value != 0.0) {
            o->side[e] = value > 0.0 ? 1 : -1;
        }
    }
    return HFI_ODE_OK;
}

/* Checks on a state that passed the error test. */
static int check_new_state(hfi_ode *o, double t_new)
{
    const hfi_ode_problem *p = &o->problem;
    if (p->valid != NULL && p->valid(t_new, o->to, o->to + o->ny, p->user) != 0) {
        return HFI_ODE_CAUSE_INVALID;
    }
    return p->events > 0 ? hfi_ode_event_values(o, t_new, o->to, o->value_to) : HFI_ODE_CAUSE_NONE;
}

/* Below this a step no longer moves the time by a useful number of digits; from t = 0 on, where the
 * rounding unit of the time says nothing, a share of the span that no process needs. */
static double smallest_step(const hfi_ode *o, double span)
{
    const double unit = 16.0 * DBL_EPSILON * fabs(o->t);
    const double least = unit > 1e-20 * span ? unit : 1e-20 * span;
    return o->options.min_step > least ? o->options.min_step : least;
}

int hfi_ode_advance(hfi_ode *o, double t_end, hfi_ode_observer observer, void *user)
{
    if (o == NULL || !isfinite(t_end) || t_end < o->t) {
        return HFI_ODE_BAD_ARGUMENT;
    }
    const size_t most = o->options.max_steps > 0 ? o->options.max_steps : DEFAULT_MAX_STEPS;
    const double span = t_end - o->t;
    bool after_rejection = false;
    o->failure = (hfi_ode_failure){.status = HFI_ODE_OK, .t = o->t};
    for (size_t tries = 0; o->t < t_end; tries++) {
        if (hfi_asked_to_stop(o->options.stop)) {
            return HFI_ODE_STOPPED;
        }
        if (tries >= most) {
            return fail(o, HFI_ODE_TOO_MANY_STEPS, HFI_ODE_CAUSE_NONE, o->step);
        }
        int cause = get_ready(o, t_end - o->t);
        if (cause != HFI_ODE_CAUSE_NONE) {
            return fail(o, status_of(cause), cause, 0.0);
        }
        const double smallest = smallest_step(o, span);
        if (o->step < smallest) { /* only a first step, which is a guess, gets here */
            o->step = smallest;
        }
        bool last;
        const double h = choose_step(o, t_end, &last);
        const double t_new = last ? t_end : o->t + h;
        double error = 0.0;
        cause = hfi_ode_try_step(o, h, &error);
        if (cause == HFI_ODE_CAUSE_NONE) {
            cause = error > 1.0 ? HFI_ODE_CAUSE_ERROR : check_new_state(o, t_new);
        }
        if (cause != HFI_ODE_CAUSE_NONE) {
            o->statistics.rejected++;
            after_rejection = true;
            o->step =
                h * (cause == HFI_ODE_CAUSE_ERROR ? bounded(SAFETY / sqrt(sqrt(error)), SAFETY)
                                                  : SHRINK_REFUSED);
            if (!(o->step >= smallest)) {
                return fail(o, status_of(cause), cause, h);
            }
            continue;
        }
        propose_step(o, h, error, after_rejection);
        after_rejection = false;
        accept(o, h, t_new);
        const int status = handle_events(o, observer, user);
        if (status == HFI_ODE_NOT_FINITE) {
            undo(o);
            return fail(o, status, HFI_ODE_CAUSE_NOT_FINITE, 0.0);
        }
        if (observer != NULL && observer(o, NULL, user) != 0 && status == HFI_ODE_OK) {
            return HFI_ODE_STOPPED;
        }
        if (status != HFI_ODE_OK) {
            return status;
        }
        if (o->step < smallest_step(o, span) && o->t < t_end) {
            return fail(o, HFI_ODE_STEP_TOO_SMALL, HFI_ODE_CAUSE_ERROR, o->step);
        }
    }
    return HFI_ODE_OK;
}
