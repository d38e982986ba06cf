/*
 * Voids and damage along the integrator's steps.
 *
 * Both only listen: nothing in the balances depends on them. They are integrated on the dense output of
 * each accepted step at a few radii, looked at where it begins, half way and where it ends: damage by
 * Simpson's rule, voids, whose rate depends on their own size, by the classical Runge-Kutta method in as
 * many pieces as the growth of the step asks for. Within the step they follow a rising cubic.
 */
#include "simulation_internal.h"

#include "../keratin/isotherm.h"
#include "../vapour/voids.h"
#include "../water/water.h"

#include <math.h>
#include <string.h>

void hfi_zones_start(hf_simulation *s)
{
    const size_t count = s->options.zones, n = s->mesh->cells;
    const double medulla = sqrt(s->fibre.medulla);
    s->followed = (double)NAN;
    for (size_t z = 0; z < count; z++) {
        hfi_zone *zone = &s->zone[z];
        const double target = (double)z / (double)(count - 1);
        size_t cell = 0;
        while (cell + 1 < n &&
               hfi_mesh_face_radius(s->mesh, cell + 1) < target * s->mesh->dry_radius)
            cell++;
        *zone = (hfi_zone){.cell = cell, .radius = target};
        zone->first_radius =
            s->values[target < medulla ? HFI_VOID_NUCLEUS_MEDULLA : HFI_VOID_NUCLEUS_CORTEX];
        /* It stands for the ring half way to its neighbours. */
        const double step = 0.5 / (double)(count - 1);
        const double inner = fmax(target - step, 0), outer = fmin(target + step, 1);
        zone->weight = outer * outer - inner * inner;
    }
}

/* Water boils above this temperature, K, at every pressure that a room may have. */
#define HOT 350.0

/* Below this temperature, K, no channel moves by 1e-4 in 30 days. */
#define COLD 330.0

static const double counted_from[HF_CHANNELS] = {
#define FROM(id, name, unit, low, high, from, energy, text) [id] = (from),
    HF_CHANNEL_LIST(FROM)
#undef FROM
};

/* State of a zone, its vapour pressure over ambient and its channel rates. */
static void look(const hf_simulation *s, double w, double T, hfi_instant *at)
{
    *at = (hfi_instant){.T = T, .w = w, .yield = (double)NAN};
    if (T < COLD)
        return;
    double factor[HFI_HOT_FACTORS];
    hfi_hot_factors(&s->hot, T, factor);
    if (T > HOT) {
        hfi_isotherm isotherm;
        hfi_isotherm_of(&isotherm, s->values, s->material.branch, T, &factor[HFI_HOT_MONOLAYER]);
        const double a = hfi_isotherm_activity(&isotherm, w, NULL, NULL);
        at->drive = fmin(a, 1) * hfi_saturation_pressure(T) - s->room.pressure;
    }
    for (size_t c = 0; c < HF_CHANNELS; c++)
        at->rate[c] = T >= counted_from[c] ? factor[c] : 0;
    /* The law moved by regain has the energy of the wet one. */
    const double weight = hfi_helix_weight(&s->laws.helix, w);
    at->rate[HF_CHANNEL_HELIX] *= exp(hfi_helix_at_weight(&s->laws.helix, weight).log_frequency -
                                      s->laws.helix.wet.log_frequency);
}

/* Quadratic through the values at the start, middle and end of a step. */
static double between(const double at[3], double x)
{
    return (1 - x) * (1 - 2 * x) * at[0] + 4 * x * (1 - x) * at[1] + x * (2 * x - 1) * at[2];
}

/* What drives the growth of a void: pressure beyond the threshold, pressure of the surface tension at the
 * first radius, 1/(4 viscosity). */
typedef struct driving {
    double push, tension, yield;
} driving;

static double rate(const driving *d, double growth)
{
    const double push = d->push > 0 ? d->push - d->tension * exp(-growth) : 0;
    return push > 0 ? push * d->yield : 0;
}

/* What resists, worked out when asked for first. */
static void resist(hf_simulation *s, hfi_instant *at)
{
    if (!isnan(at->yield))
        return;
    at->tension = hfi_surface_tension_near(&s->tension, at->T);
    at->yield = 0.25 / hfi_void_viscosity(s->values, at->T, at->w);
}

/* What was gathered in a step and how fast at its ends: a cubic between them, the rates cut where it would
 * not rise all the way (the usual monotone cubic). */
static void note(hfi_span *span, size_t i, double from, double to, double start, double end)
{
    const double most = 3 * (to - from);
    span->from[i] = from;
    span->to[i] = to;
    span->start_rate[i] = start < most ? start : most;
    span->end_rate[i] = end < most ? end : most;
}

/* Growth over a step of `seconds`; *onset is the share of the step at which it passed the onset. */
static void grow(hf_simulation *s, hfi_zone *zone, hfi_instant *const at[3], double seconds,
                 hfi_span *span, double *onset)
{
    const double threshold = s->values[HFI_VOID_THRESHOLD];
    const double was = zone->growth;
    note(span, 0, was, was, 0, 0);
    if (at[0]->drive <= threshold && at[1]->drive <= threshold && at[2]->drive <= threshold)
        return;
    const double twice = 2 / zone->first_radius;
    double push[3], tension[3], yield[3], fastest = 0;
    for (int i = 0; i < 3; i++) {
        resist(s, at[i]);
        push[i] = at[i]->drive - threshold;
        tension[i] = twice * at[i]->tension;
        yield[i] = at[i]->yield;
        fastest = fmax(fastest, push[i] * yield[i]);
    }
    const double limit = s->values[HFI_VOID_ONSET];
    const int pieces = (int)fmin(ceil(4 * fastest * seconds), 400);
    const double h = 1.0 / pieces, dt = h * seconds;
    driving start = {push[0], tension[0], yield[0]};
    double k1 = rate(&start, zone->growth);
    const double first = seconds * k1;
    for (int i = 0; i < pieces; i++) {
        const double y = zone->growth, half = (i + 0.5) * h, full = (i + 1) * h;
        const driving middle = {between(push, half), between(tension, half), between(yield, half)};
        const driving end = {between(push, full), between(tension, full), between(yield, full)};
        const double k2 = rate(&middle, y + 0.5 * dt * k1);
        const double k3 = rate(&middle, y + 0.5 * dt * k2);
        const double k4 = rate(&end, y + dt * k3);
        zone->growth = y + dt / 6 * (k1 + 2 * k2 + 2 * k3 + k4);
        if (y < limit && zone->growth >= limit)
            *onset = fmin(*onset, (i + (limit - y) / (zone->growth - y)) * h);
        k1 = rate(&end, zone->growth);
    }
    note(span, 0, was, zone->growth, first, seconds * k1);
}

/* Share of a step after which the pressure in a zone has passed ambient. */
static double crossing(hfi_instant *const at[3])
{
    const double drive[3] = {at[0]->drive, at[1]->drive, at[2]->drive};
    double low = 0, high = 1;
    if (drive[0] > 0)
        return 0;
    for (int i = 0; i < 40; i++) {
        const double middle = 0.5 * (low + high);
        if (between(drive, middle) > 0)
            high = middle;
        else
            low = middle;
    }
    return high;
}

/* Looks at every zone at a time within the step. */
static hf_status look_around(hf_simulation *s, double t, hfi_instant *at)
{
    const size_t n = s->options.zones;
    size_t cell[HFI_ZONES_MAX] = {0};
    double w[HFI_ZONES_MAX], T[HFI_ZONES_MAX];
    for (size_t z = 0; z < n; z++)
        cell[z] = s->zone[z].cell;
    if (hfi_system_cells(s->system, t, cell, n, w, T) != HFI_ODE_OK)
        return HF_EINTERNAL;
    for (size_t z = 0; z < n; z++) {
        look(s, w[z], T[z], &at[z]);
        if (T[z] > s->peak_temperature)
            s->peak_temperature = T[z];
        if (at[z].drive > s->peak_drive)
            s->peak_drive = at[z].drive;
    }
    return HF_OK;
}

/* With a margin for what lies within the step. */
static int are_cold(const hf_simulation *s, const hfi_instant *at)
{
    for (size_t z = 0; z < s->options.zones; z++)
        if (!(at[z].T < COLD - 5))
            return 0;
    return 1;
}

void hfi_follow_at(hf_simulation *s, double t)
{
    if (isnan(s->followed) || s->still)
        return;
    s->moved = 1;
    const double x = fmin((t - s->span_from) / (s->span_to - s->span_from), 1), rest = 1 - x;
    const double to = x * x * (3 - 2 * x), from = rest * rest * (1 + 2 * x);
    const double start = x * rest * rest, end = -x * x * rest;
    for (size_t z = 0; z < s->options.zones; z++) {
        const hfi_span *span = &s->span[z];
        hfi_zone *zone = &s->zone[z];
        zone->growth = from * span->from[0] + to * span->to[0] + start * span->start_rate[0] +
                       end * span->end_rate[0];
        for (size_t c = 0, i = 1; c < HF_CHANNELS; c++, i++)
            zone->exposure[c] = from * span->from[i] + to * span->to[i] +
                                start * span->start_rate[i] + end * span->end_rate[i];
    }
}

hf_status hfi_follow(hf_simulation *s, double from, double to)
{
    const double seconds = to - from;
    if (!(seconds > 0))
        return HF_OK;
    /* The axis is the last to cool: with it and the surroundings cold, nothing is to be added. */
    double w, T;
    if (hfi_system_cell(s->system, from, s->zone[0].cell, &w, &T) != HFI_ODE_OK)
        return HF_EINTERNAL;
    if (fmax(T, hfi_system_hottest_outside(s->system)) < COLD - 5) {
        s->boiling = 0;
        s->followed = (double)NAN;
        return HF_OK;
    }
    if (!s->hot.ready)
        hfi_hot_prepare(&s->hot, s->values, &s->laws);
    /* Where this stretch begins, the one before may have ended. */
    hfi_instant *middle = s->middle, *end = s->end;
    hf_status status = HF_OK;
    if (!(from == s->followed))
        status = look_around(s, from, s->seen);
    if (status == HF_OK)
        status = look_around(s, to, end);
    if (status == HF_OK && are_cold(s, s->seen) && are_cold(s, end)) {
        memcpy(s->seen, end, s->options.zones * sizeof *end);
        s->boiling = 0;
        s->followed = to;
        s->still = 1;
        return HF_OK;
    }
    if (status == HF_OK)
        status = look_around(s, fmin(from + 0.5 * seconds, to), middle);
    if (status != HF_OK)
        return status;
    s->still = 0;
    double onset = 2, boils = 2;
    for (size_t z = 0; z < s->options.zones; z++) {
        hfi_instant *const at[3] = {&s->seen[z], &middle[z], &end[z]};
        hfi_span *span = &s->span[z];
        for (size_t c = 0; c < HF_CHANNELS; c++) {
            const double was = s->zone[z].exposure[c];
            const double first = at[0]->rate[c], last = at[2]->rate[c];
            const double now = was + seconds / 6 * (first + 4 * at[1]->rate[c] + last);
            s->zone[z].exposure[c] = now;
            note(span, 1 + c, was, now, seconds * first, seconds * last);
        }
        grow(s, &s->zone[z], at, seconds, span, &onset);
        if (at[2]->drive > 0)
            boils = fmin(boils, s->boiling ? 0 : crossing(at));
    }
    memcpy(s->seen, end, s->options.zones * sizeof *end);
    s->followed = s->span_to = to;
    s->span_from = from;
    if (boils <= 1 && !s->boiling)
        status = hfi_record_event(s, HF_EVENT_BOILS, s->time + from + boils * seconds);
    s->boiling = boils <= 1;
    if (status == HF_OK && onset <= 1 && !s->voids) {
        s->voids = 1;
        status = hfi_record_event(s, HF_EVENT_VOIDS, s->time + from + onset * seconds);
    }
    return status;
}
