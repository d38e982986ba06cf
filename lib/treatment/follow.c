/*
 * Voids and damage along the integrator's steps.
 *
 * Both only listen: nothing in the balances depends on them. They are integrated on the dense output of
 * each accepted step at a few radii, looked at where it begins, half way and where it ends: damage by
 * Simpson's rule, voids, whose rate depends on their own size, by the classical Runge-Kutta method in as
 * many pieces as the growth of the step asks for.
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
        zone->first_radius = s->values[target < medulla ? HFI_VOID_NUCLEUS_MEDULLA
                                                        : HFI_VOID_NUCLEUS_CORTEX];
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
    *at = (hfi_instant){.T = T, .w = w};
    if (T > HOT) {
        hfi_isotherm isotherm;
        hfi_isotherm_at(&isotherm, s->values, s->material.branch, T);
        const double a = hfi_isotherm_activity(&isotherm, w, NULL, NULL);
        at->drive = fmin(a, 1) * hfi_saturation_pressure(T) - s->room.pressure;
    }
    if (T < COLD)
        return;
    for (size_t c = 0; c < HF_CHANNELS; c++) {
        if (T < hf_channel_at(c)->counted_from)
            continue;
        if (c == HF_CHANNEL_HELIX) {
            const double weight = hfi_helix_weight(&s->laws.helix, w);
            const hfi_arrhenius law = hfi_helix_at_weight(&s->laws.helix, weight);
            at->rate[c] = hfi_arrhenius_rate(&law, T);
        } else {
            at->rate[c] = hfi_arrhenius_rate(&s->laws.single[c], T);
        }
    }
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

/* Growth over a step of `seconds`; *onset is the share of the step at which it passed the onset. */
static void grow(const hf_simulation *s, hfi_zone *zone, const hfi_instant *const at[3], double seconds,
                 double *onset)
{
    const double threshold = s->values[HFI_VOID_THRESHOLD];
    if (fmax(fmax(at[0]->drive, at[1]->drive), at[2]->drive) <= threshold)
        return;
    driving d;
    double fastest = 0;
    for (int i = 0; i < 3; i++) {
        d.push[i] = at[i]->drive - threshold;
        d.tension[i] = 2 * hf_surface_tension(at[i]->T) / zone->first_radius;
        d.yield[i] = 0.25 / hfi_void_viscosity(s->values, at[i]->T, at[i]->w);
        fastest = fmax(fastest, d.push[i] * d.yield[i]);
    }
    const double limit = s->values[HFI_VOID_ONSET];
    const double pieces = fmin(ceil(4 * fastest * seconds) + 1, 400);
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
}

/* Share of a step after which the pressure in a zone has passed ambient. */
static double crossing(const hfi_instant *const at[3])
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
    for (size_t z = 0; z < s->options.zones; z++) {
        double w, T;
        if (hfi_system_cell(s->system, t, s->zone[z].cell, &w, &T) != HFI_ODE_OK)
            return HF_EINTERNAL;
        look(s, w, T, &at[z]);
        s->peak_temperature = fmax(s->peak_temperature, T);
        s->peak_drive = fmax(s->peak_drive, at[z].drive);
    }
    return HF_OK;
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
    /* Where this stretch begins, the one before may have ended. */
    hfi_instant middle[HFI_ZONES_MAX], end[HFI_ZONES_MAX];
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
        const hfi_instant *const at[3] = {&s->seen[z], &middle[z], &end[z]};
        for (size_t c = 0; c < HF_CHANNELS; c++)
            s->zone[z].exposure[c] +=
                seconds / 6 * (at[0]->rate[c] + 4 * at[1]->rate[c] + at[2]->rate[c]);
        grow(s, &s->zone[z], at, seconds, &onset);
        if (at[2]->drive > 0)
            boils = fmin(boils, s->boiling ? 0 : crossing(at));
    }
    memcpy(s->seen, end, s->options.zones * sizeof *end);
    s->followed = to;
    if (boils <= 1 && !s->boiling)
        status = hfi_record_event(s, HF_EVENT_BOILS, s->time + from + boils * seconds);
    s->boiling = boils <= 1;
    if (status == HF_OK && onset <= 1 && !s->voids) {
        s->voids = 1;
        status = hfi_record_event(s, HF_EVENT_VOIDS, s->time + from + onset * seconds);
    }
    return status;
}
