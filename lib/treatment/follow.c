/*
 * Voids and damage along the integrator's steps.
 *
 * Both only listen: nothing in the balances depends on them. They are integrated on the dense output of
 * each accepted step at a few radii: damage by Gauss-Legendre quadrature with three points, voids, whose
 * rate depends on their own size, by the classical Runge-Kutta method in as many pieces as the growth
 * of the step asks for.
 */
#include "simulation_internal.h"

#include "../keratin/isotherm.h"
#include "../vapour/voids.h"
#include "../water/water.h"

#include <math.h>

static const double gauss_at[3] = {0.1127016653792583, 0.5, 0.8872983346207417};
static const double gauss_weight[3] = {5.0 / 18, 8.0 / 18, 5.0 / 18};

void hfi_zones_start(hf_simulation *s)
{
    const size_t count = s->options.zones, n = s->mesh->cells;
    const double medulla = sqrt(s->fibre.medulla);
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

/* State of a zone, its vapour pressure over ambient and its channel rates. */
typedef struct instant {
    double T, w, drive;
} instant;

static instant look(const hf_simulation *s, double w, double T)
{
    instant at = {T, w, 0};
    /* Below the boiling point nothing drives. */
    if (at.T > 360) {
        hfi_isotherm isotherm;
        hfi_isotherm_at(&isotherm, s->values, s->material.branch, at.T);
        const double a = hfi_isotherm_activity(&isotherm, at.w, NULL, NULL);
        at.drive = fmin(a, 1) * hfi_saturation_pressure(at.T) - s->room.pressure;
    }
    return at;
}

/* Below this temperature, K, no channel moves by 1e-4 in 30 days. */
#define COLD 330.0

static void add_damage(const hf_simulation *s, hfi_zone *zone, const instant *at, double seconds)
{
    if (at->T < COLD)
        return;
    for (size_t c = 0; c < HF_CHANNELS; c++) {
        if (at->T < hf_channel_at(c)->counted_from)
            continue;
        if (c == HF_CHANNEL_HELIX) {
            const double weight = hfi_helix_weight(&s->laws.helix, at->w);
            const hfi_arrhenius law = hfi_helix_at_weight(&s->laws.helix, weight);
            zone->exposure[c] += seconds * hfi_arrhenius_rate(&law, at->T);
        } else {
            zone->exposure[c] += seconds * hfi_arrhenius_rate(&s->laws.single[c], at->T);
        }
    }
}

/* Quadratic through the states at the start, middle and end of a step. */
static instant between(const instant at[3], double x)
{
    const double a = (1 - x) * (1 - 2 * x), b = 4 * x * (1 - x), c = x * (2 * x - 1);
    return (instant){a * at[0].T + b * at[1].T + c * at[2].T, a * at[0].w + b * at[1].w + c * at[2].w,
                     a * at[0].drive + b * at[1].drive + c * at[2].drive};
}

static double rate(const hf_simulation *s, const hfi_zone *zone, const instant at[3], double x,
                   double growth)
{
    const instant now = between(at, x);
    return hfi_void_growth_rate(s->values, now.T, now.w, now.drive, zone->first_radius, growth);
}

/* Growth over a step of `seconds`; *onset is the share of the step at which it passed the onset. */
static void grow(const hf_simulation *s, hfi_zone *zone, const instant at[3], double seconds,
                 double *onset)
{
    const double most = fmax(fmax(at[0].drive, at[1].drive), at[2].drive);
    if (most <= s->values[HFI_VOID_THRESHOLD])
        return;
    const double limit = s->values[HFI_VOID_ONSET];
    double fastest = 0;
    for (int i = 0; i < 3; i++)
        fastest = fmax(fastest, rate(s, zone, at, 0.5 * i, 50));
    const double pieces = fmin(ceil(4 * fastest * seconds) + 1, 400);
    const double h = 1 / pieces;
    for (double x = 0; x < 1 - 0.5 * h; x += h) {
        const double y = zone->growth, dt = h * seconds;
        const double k1 = rate(s, zone, at, x, y);
        const double k2 = rate(s, zone, at, x + 0.5 * h, y + 0.5 * dt * k1);
        const double k3 = rate(s, zone, at, x + 0.5 * h, y + 0.5 * dt * k2);
        const double k4 = rate(s, zone, at, x + h, y + dt * k3);
        zone->growth = y + dt / 6 * (k1 + 2 * k2 + 2 * k3 + k4);
        if (y < limit && zone->growth >= limit)
            *onset = fmin(*onset, x + h * (limit - y) / (zone->growth - y));
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
        return HF_OK;
    }
    /* Three states for the quadrature, and three for the voids where the step is hot. */
    instant gauss[3][HFI_ZONES_MAX], three[3][HFI_ZONES_MAX];
    int hot = 0;
    for (int i = 0; i < 6; i++) {
        const double x = i < 3 ? gauss_at[i] : 0.5 * (i - 3);
        if (i >= 3 && !hot)
            break;
        for (size_t z = 0; z < s->options.zones; z++) {
            if (hfi_system_cell(s->system, from + x * seconds, s->zone[z].cell, &w, &T) != HFI_ODE_OK)
                return HF_EINTERNAL;
            instant *at = i < 3 ? &gauss[i][z] : &three[i - 3][z];
            *at = look(s, w, T);
            hot = hot || at->T > 360;
        }
    }
    double onset = 2, highest = -1;
    for (size_t z = 0; z < s->options.zones; z++) {
        for (int i = 0; i < 3; i++)
            add_damage(s, &s->zone[z], &gauss[i][z], gauss_weight[i] * seconds);
        if (hot) {
            const instant at[3] = {three[0][z], three[1][z], three[2][z]};
            grow(s, &s->zone[z], at, seconds, &onset);
            highest = fmax(highest, at[2].drive);
        }
    }
    if (hot && highest > 0 && !s->boiling) {
        /* Where in the step the pressure passes ambient, from the quadratic of the hottest zone. */
        double crossing = 1;
        for (size_t z = 0; z < s->options.zones; z++) {
            const instant at[3] = {three[0][z], three[1][z], three[2][z]};
            if (at[2].drive <= 0)
                continue;
            double low = 0, high = 1;
            if (at[0].drive > 0)
                high = 0;
            for (int i = 0; i < 40 && high > 0; i++) {
                const double middle = 0.5 * (low + high);
                if (between(at, middle).drive > 0)
                    high = middle;
                else
                    low = middle;
            }
            crossing = fmin(crossing, high);
        }
        const hf_status status =
            hfi_record_event(s, HF_EVENT_BOILS, s->time + from + crossing * seconds);
        if (status != HF_OK)
            return status;
    }
    s->boiling = hot && highest > 0;
    if (onset <= 1 && !s->voids) {
        s->voids = 1;
        return hfi_record_event(s, HF_EVENT_VOIDS, s->time + from + onset * seconds);
    }
    return HF_OK;
}
