/* Dense output of the last step and the location of events on it. */
#include "rosenbrock_internal.h"

#include <float.h>
#include <math.h>

#define MAX_LOCATION_STEPS 200

/* Weights of the start, the end and the stages; formula in rosenbrock_tableau.h. */
typedef struct weights {
    double from, to, k[HFI_RODAS_STAGES - 1];
} weights;

static weights weights_at(double theta)
{
    const double rest = 1.0 - theta;
    weights w = {.from = rest, .to = theta};
    for (size_t j = 0; j < HFI_RODAS_STAGES - 1; j++) {
        w.k[j] = theta * rest * (hfi_rodas4p.dense1[j] + theta * hfi_rodas4p.dense2[j]);
    }
    return w;
}

static inline double weigh(const weights *w, double from, double to, double k0, double k1,
                           double k2, double k3, double k4)
{
    return (w->from * from + w->to * to) +
           ((w->k[0] * k0 + w->k[1] * k1) + (w->k[2] * k2 + w->k[3] * k3) + w->k[4] * k4);
}

static double interpolate_one(const hfi_ode *o, const weights *w, size_t i)
{
    return weigh(w, o->from[i], o->to[i], o->k[0][i], o->k[1][i], o->k[2][i], o->k[3][i],
                 o->k[4][i]);
}

void hfi_ode_interpolate(const hfi_ode *o, double theta, double *restrict out)
{
    const weights w = weights_at(theta);
    const double *from = o->from, *to = o->to, *k0 = o->k[0], *k1 = o->k[1], *k2 = o->k[2],
                 *k3 = o->k[3], *k4 = o->k[4];
    for (size_t i = 0; i < o->n; i++) {
        out[i] = weigh(&w, from[i], to[i], k0[i], k1[i], k2[i], k3[i], k4[i]);
    }
}

static bool inside_step(const hfi_ode *o, double t)
{
    return o != NULL && o->dense_ready && t >= o->start_t && t <= o->t;
}

int hfi_ode_dense_range(const hfi_ode *o, double *start, double *end)
{
    if (o == NULL || !o->dense_ready || start == NULL || end == NULL) {
        return HFI_ODE_BAD_ARGUMENT;
    }
    *start = o->start_t;
    *end = o->t;
    return HFI_ODE_OK;
}

int hfi_ode_dense(const hfi_ode *o, double t, size_t component, double *out)
{
    if (!inside_step(o, t) || component >= o->n || out == NULL) {
        return HFI_ODE_BAD_ARGUMENT;
    }
    const weights w = weights_at((t - o->start_t) / o->start_h);
    *out = interpolate_one(o, &w, component);
    return HFI_ODE_OK;
}

int hfi_ode_dense_some(const hfi_ode *o, double t, const size_t *component, size_t count,
                       double *out)
{
    if (!inside_step(o, t) || component == NULL || out == NULL) {
        return HFI_ODE_BAD_ARGUMENT;
    }
    const double theta = (t - o->start_t) / o->start_h;
    const weights w = weights_at(theta);
    for (size_t i = 0; i < count; i++) {
        if (component[i] >= o->n) {
            return HFI_ODE_BAD_ARGUMENT;
        }
    }
    if (theta == 1.0) {
        for (size_t i = 0; i < count; i++) {
            out[i] = o->to[component[i]];
        }
        return HFI_ODE_OK;
    }
    for (size_t i = 0; i < count; i++) {
        out[i] = interpolate_one(o, &w, component[i]);
    }
    return HFI_ODE_OK;
}

int hfi_ode_dense_all(const hfi_ode *o, double t, double *out)
{
    if (!inside_step(o, t) || out == NULL) {
        return HFI_ODE_BAD_ARGUMENT;
    }
    hfi_ode_interpolate(o, (t - o->start_t) / o->start_h, out);
    return HFI_ODE_OK;
}

int hfi_ode_event_values(hfi_ode *o, double t, const double *state, double *value)
{
    const hfi_ode_problem *p = &o->problem;
    if (p->event_values(t, state, state + o->ny, value, p->user) != 0) {
        return HFI_ODE_CAUSE_REFUSED;
    }
    for (size_t e = 0; e < p->events; e++) {
        if (!isfinite(value[e])) {
            return HFI_ODE_CAUSE_NOT_FINITE;
        }
    }
    return HFI_ODE_CAUSE_NONE;
}

static int sign_of(double x)
{
    return (x > 0.0) - (x < 0.0);
}

/* Regula falsi (Illinois) with a bisection every third time. Keeps the event value's old sign (or
 * zero) at the left end and its new sign at the right, and returns the right end, so that a run
 * taken up again from there does not meet the same crossing a second time. */
static int locate(hfi_ode *o, size_t e, double *t_event)
{
    const int new_sign = sign_of(o->value_to[e]);
    const double start = o->start_t, end = o->start_t + o->start_h;
    const double unit = 2.0 * DBL_EPSILON * (fabs(start) > fabs(end) ? fabs(start) : fabs(end));
    const double tolerance = o->options.event_tolerance > unit ? o->options.event_tolerance : unit;
    double a = start, b = end, fa = o->value_from[e], fb = o->value_to[e];
    int kept = 0; /* +1 the right end stayed last time, -1 the left end */
    for (int n = 1; b - a > tolerance && n < MAX_LOCATION_STEPS; n++) {
        double x = 0.5 * (a + b);
        if (n % 3 != 0 && fb != fa) {
            x = b - fb * ((b - a) / (fb - fa));
            if (!(x > a + 0.5 * tolerance)) {
                x = a + 0.5 * tolerance;
            } else if (!(x < b - 0.5 * tolerance)) {
                x = b - 0.5 * tolerance;
            }
        }
        if (!(x > a && x < b)) {
            break; /* no time between the two left */
        }
        double value[HFI_ODE_MAX_EVENTS];
        hfi_ode_interpolate(o, (x - start) / o->start_h, o->stage);
        if (hfi_ode_event_values(o, x, o->stage, value) != HFI_ODE_CAUSE_NONE) {
            return HFI_ODE_NOT_FINITE;
        }
        if (sign_of(value[e]) == new_sign) {
            b = x;
            fb = value[e];
            fa *= kept == -1 ? 0.5 : 1.0;
            kept = -1;
        } else {
            a = x;
            fa = value[e];
            fb *= kept == 1 ? 0.5 : 1.0;
            kept = 1;
        }
    }
    *t_event = b;
    return HFI_ODE_OK;
}

int hfi_ode_find_events(hfi_ode *o, hfi_ode_hit *hits, size_t *count)
{
    *count = 0;
    for (size_t e = 0; e < o->problem.events; e++) {
        const int sign = sign_of(o->value_to[e]);
        const int wanted = o->problem.event[e].direction;
        if (sign == 0 || o->side[e] == 0 || sign == o->side[e] || (wanted != 0 && sign != wanted)) {
            continue;
        }
        hfi_ode_hit hit = {.event = e, .direction = sign, .terminal = o->problem.event[e].terminal};
        const int status = locate(o, e, &hit.t);
        if (status != HFI_ODE_OK) {
            return status;
        }
        size_t place = (*count)++;
        for (; place > 0 && hits[place - 1].t > hit.t; place--) {
            hits[place] = hits[place - 1];
        }
        hits[place] = hit;
    }
    return HFI_ODE_OK;
}
