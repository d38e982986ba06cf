/*
 * Voids and damage along the integrator's steps.
 *
 * Both only listen: nothing in the balances depends on them. They are integrated on the dense output of
 * each accepted step at a few radii, looked at where it begins, half way and where it ends: damage by
 * Simpson's rule, voids, whose rate depends on their own size, by the classical Runge-Kutta method in as
 * many pieces as the growth of the step asks for. Within the step they follow a rising cubic.
 */
#include "simulation_internal.h"

#include <hairfibre/water.h>

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
        if (T >= hf_channel_at(c)->counted_from)
            at->rate[c] = factor[c];
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

/* What drives the growth of a void in a step: pressure beyond the threshold, pressure of the surface
 * tension at the first radius, 1/(4 viscosity); each at the start, middle and end. */
typedef struct driving {
    double push[3], tension[3], yield[3];
} driving;

static double rate(const driving *d, double x, double growth)
{
    const double push = between(d->push, x) - between(d->tension, x) * exp(-growth);
    return push > 0 ? push * between(d->yield, x) : 0;
}

/* What resists, worked out when asked for first. */
static void resist(const hf_simulation *s, hfi_instant *at)
{
    if (!isnan(at->yield))
        return;
    at->tension = hf_surface_tension(at->T);
    at->yield = 0.25 / hfi_void_viscosity(s->values, at->T, at->w);
}

/* Growth over a step of `seconds`; *onset is the share of the step at which it passed the onset. */
static void grow(const hf_simulation *s, hfi_zone *zone, hfi_instant *const at[3], double seconds,
                 hfi_span *span, double *onset)
{
    const double threshold = s->values[HFI_VOID_THRESHOLD];
    span->from[0] = span->to[0] = zone->growth;
    span->start_rate[0] = span->end_rate[0] = 0;
    if (fmax(fmax(at[0]->drive, at[1]->drive), at[2]->drive) <= threshold)
        return;
    driving d;
    double fastest = 0;
    for (int i = 0; i < 3; i++) {
        resist(s, at[i]);
        d.push[i] = at[i]->drive - threshold;
        d.tension[i] = 2 * at[i]->tension / zone->first_radius;
        d.yield[i] = at[i]->yield;
        fastest = fmax(fastest, d.push[i] * d.yield[i]);
    }
    const double limit = s->values[HFI_VOID_ONSET];
    const double pieces = fmin(ceil(4 * fastest * seconds), 400);
    const double h = 1 / pieces;
    for (double x = 0; x < 1 - 0.5 * h; x += h) {
        const double y = zone->growth, dt = h * seconds;
        const double k1 = rate(&d, x, y);
        const double k2 = rate(&d, x + 0.5 * h, y + 0.5 * dt * k1);
        const double k3 = rate(&d, x + 0.5 * h, y + 0.5 * dt * k2);
        const double k4 = rate(&d, x + h, y + dt * k3);
        zone->growth = y + dt / 6 * (k1 + 2 * k2 + 2 * k3 + k4);
        if (y < limit && zone->growth >= limit)
            *onset = fmin(*onset, x + h * (limit - y) / (zone->growth - y));
    }
    span->to[0] = zone->growth;
    span->start_rate[0] = seconds * rate(&d, 0, span->from[0]);
    span->end_rate[0] = seconds * rate(&d, 1, span->to[0]);
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
        s->peak_temperature = fmax(s->peak_temperature, T[z]);
        s->peak_drive = fmax(s->peak_drive, at[z].drive);
    }
    return HF_OK;
}

/* Cubic between the ends of a step with the rates there, these cut where it would not rise all the way
 * (the usual monotone cubic). */
static double within(const hfi_span *span, size_t i, double x)
{
    const double rise = span->to[i] - span->from[i];
    const double start = fmin(span->start_rate[i], 3 * rise),
                 end = fmin(span->end_rate[i], 3 * rise);
    const double rest = 1 - x;
    return span->from[i] + start * x * rest * rest + rise * x * x * (3 - 2 * x) -
           end * x * x * rest;
}

void hfi_follow_at(hf_simulation *s, double t)
{
    if (isnan(s->followed))
        return;
    const double x = (t - s->span_from) / (s->span_to - s->span_from);
    for (size_t z = 0; z < s->options.zones; z++) {
        const hfi_span *span = &s->span[z];
        s->zone[z].growth = x < 1 ? within(span, 0, x) : span->to[0];
        for (size_t c = 0; c < HF_CHANNELS; c++)
            s->zone[z].exposure[c] = x < 1 ? within(span, 1 + c, x) : span->to[1 + c];
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
    hfi_instant middle[HFI_ZONES_MAX] = {{0}}, end[HFI_ZONES_MAX] = {{0}};
    hf_status status = HF_OK;
    if (!(from == s->followed))
        status = look_around(s, from, s->seen);
    if (status == HF_OK)
        status = look_around(s, fmin(from + 0.5 * seconds, to), middle);
    if (status == HF_OK)
        status = look_around(s, to, end);
    if (status != HF_OK)
        return status;
    double onset = 2, boils = 2;
    for (size_t z = 0; z < s->options.zones; z++) {
        hfi_instant *const at[3] = {&s->seen[z], &middle[z], &end[z]};
        hfi_span *span = &s->span[z];
        for (size_t c = 0; c < HF_CHANNELS; c++) {
            double *exposure = &s->zone[z].exposure[c];
            span->from[1 + c] = *exposure;
            *exposure += seconds / 6 * (at[0]->rate[c] + 4 * at[1]->rate[c] + at[2]->rate[c]);
            span->to[1 + c] = *exposure;
            span->start_rate[1 + c] = seconds * at[0]->rate[c];
            span->end_rate[1 + c] = seconds * at[2]->rate[c];
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
