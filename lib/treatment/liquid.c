/*
 * Chemistry of a fibre in a liquid, alongside its water and temperature.
 *
 *   reactions  the laws of lib/bonds/sulfur.c with their rates at the mean temperature of the
 *              fibre, times m = min(1, w / w_ret): a reagent comes in with the water, and a fibre
 *              that is still dry does not react (assumed)
 *   front      where a step asks for a sharp front: its integral grows by 4 D c / (S R^2), R the
 *              radius now, and starts anew with every step
 *   pH inside  d(pH)/dt = m (pH_b - pH) / t_x, pH_b in balance with the bath by
 *              lib/bonds/donnan.c with the cysteic acid and thiol of the moment, t_x the exchange
 *              time (assumed). Out of a liquid the groups keep their charge: the pH inside stays
 *
 * w mean regain, w_ret retained water. One state stands for the whole fibre; only the front tells
 * its rim from its core. Reagents are taken to leave with the liquid, and neither swelling, water
 * uptake nor damage channels change with the chemistry: for those, give the set "bleached" to a
 * new fibre.
 */
#include "liquid.h"

#include "simulation_internal.h"

#include "../base/range.h"
#include "../bonds/bleaching.h"
#include "../bonds/ranges.h"
#include "../bonds/reduction.h"
#include "../bonds/sulfur.h"
#include "../keratin/properties.h"

#include <math.h>
#include <stdio.h>

#define WATER_PH 7.0

int hfi_is_liquid(hf_step_kind kind)
{
    switch (kind) {
    case HF_STEP_SOAK:
    case HF_STEP_BATH:
    case HF_STEP_BLEACH:
    case HF_STEP_REDUCE:
    case HF_STEP_NEUTRALISE:
    case HF_STEP_RINSE:
        return 1;
    default:
        return 0;
    }
}

/* pH without charge, by bisection; non-zero when there is none. */
static int isoionic(const hfi_ionic *groups, double *ph)
{
    double low = 0, high = 14;
    if (hfi_ionic_charge(groups, hfi_protons_of(low), NULL) < 0 ||
        hfi_ionic_charge(groups, hfi_protons_of(high), NULL) > 0)
        return 1;
    for (int i = 0; i < 50; i++) {
        const double middle = 0.5 * (low + high);
        if (hfi_ionic_charge(groups, hfi_protons_of(middle), NULL) > 0)
            low = middle;
        else
            high = middle;
    }
    *ph = 0.5 * (low + high);
    return 0;
}

hf_status hfi_liquid_start(hf_simulation *s, hf_message *message)
{
    hfi_liquid *l = &s->liquid;
    *l = (hfi_liquid){0};
    if (hfi_sulfur_start(s->values, &l->sulfur)) {
        snprintf(message->text, sizeof message->text,
                 "bond.disulfide.cysteic is more than bond.disulfide.half_cystine");
        return HF_ERANGE;
    }
    l->groups = hfi_ionic_of(s->values, l->sulfur.cysteic, 0);
    if (isoionic(&l->groups, &l->internal_ph)) {
        snprintf(message->text, sizeof message->text,
                 "acid and basic groups of this set never balance between pH 0 and 14");
        return HF_ERANGE;
    }
    l->cystine_start = l->sulfur.cystine;
    return HF_OK;
}

static double or_else(double x, double usual)
{
    return isnan(x) ? usual : x;
}

/* A number and the range that evidence supports. */
typedef struct item {
    double value;
    hfi_range range;
} item;

static int beyond(const item *items, size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (hfi_check(items[i].value, &items[i].range, HF_EXTRAPOLATE) != HF_OK)
            return 1;
    return 0;
}

#define COUNT(array) (sizeof(array) / sizeof(array)[0])

/* True when the evidence does not reach to this step. */
static int doubtful(const hf_step *step)
{
    static const hfi_range uniform = {HFI_THIOL_CONCENTRATION}, front = {HFI_FRONT_CONCENTRATION};
    const double end = or_else(step->temperature_end, step->temperature);
    const item bath[] = {{or_else(step->ph, WATER_PH), {HFI_BATH_PH}},
                         {step->ionic_strength, {HFI_BATH_SALT}}};
    const item thiol[] = {{step->temperature, {HFI_THIOL_TEMPERATURE}},
                          {end, {HFI_THIOL_TEMPERATURE}},
                          {step->ph, {HFI_THIOL_PH}},
                          {step->concentration, step->law > 0 ? front : uniform}};
    const item peroxide[] = {{step->temperature, {HFI_OXIDATION_TEMPERATURE}},
                             {end, {HFI_OXIDATION_TEMPERATURE}},
                             {step->ph, {HFI_OXIDATION_PH}},
                             {step->peroxide, {HFI_OXIDATION_PEROXIDE}}};
    return beyond(bath, COUNT(bath)) ||
           (step->kind == HF_STEP_REDUCE && beyond(thiol, COUNT(thiol))) ||
           (step->kind == HF_STEP_BLEACH && beyond(peroxide, COUNT(peroxide)));
}

hf_status hfi_liquid_begin(hf_simulation *s, const hf_step *step)
{
    hfi_liquid *l = &s->liquid;
    l->present = 1;
    l->step = *step;
    l->exchanging = 0;
    l->front = 0;
    l->front_cystine = l->sulfur.cystine;
    if (step->kind != HF_STEP_SOAK && doubtful(step))
        s->extrapolated |= HF_BEYOND_CHEMISTRY;
    const int idle = (step->kind == HF_STEP_NEUTRALISE && !(l->sulfur.thiol > 0)) ||
                     (step->kind == HF_STEP_REDUCE && !(l->sulfur.cystine > 0));
    return idle ? hfi_record_event(s, HF_EVENT_IDLE, s->time) : HF_OK;
}

void hfi_liquid_end(hf_simulation *s)
{
    s->liquid.present = 0;
    s->liquid.front = 0;
}

static void reduce(hf_simulation *s, double w, double T, double wet_seconds)
{
    hfi_liquid *l = &s->liquid;
    const hf_step *step = &l->step;
    double share =
        -expm1(-wet_seconds * hfi_reduction_rate(s->values, T, step->concentration, step->ph));
    if (step->law > 0) {
        if (!(l->front_cystine > 0))
            return;
        const double before = hfi_front_share(l->front);
        const double diameter = 2 * s->dry_radius * hfi_diameter_ratio(s->values, w, NULL);
        l->front += wet_seconds *
                    hfi_front_rate(s->values, T, step->concentration, diameter, l->front_cystine);
        share = before < 1 ? (hfi_front_share(l->front) - before) / (1 - before) : 0;
    }
    hfi_sulfur_open(&l->sulfur, share, s->values[HFI_RATE_REOXIDATION_RECOVERED]);
}

static void bleach(hf_simulation *s, double T, double wet_seconds)
{
    static const hfi_range range = {HFI_OXIDATION_SHARE};
    hfi_liquid *l = &s->liquid;
    const double exposure = wet_seconds * hfi_bleach_strength(s->values, T, l->step.peroxide);
    const double ratio = wet_seconds / s->values[HFI_RATE_REOXIDATION_TIME];
    const double share =
        l->step.law > 0
            ? hfi_sulfur_bleach_steady(&l->sulfur, exposure * hfi_bleach_steady(s->values), ratio)
            : hfi_sulfur_bleach_root(&l->sulfur, exposure * hfi_bleach_root(s->values), ratio);
    if (hfi_check(share, &range, HF_EXTRAPOLATE) != HF_OK)
        s->extrapolated |= HF_BEYOND_CHEMISTRY;
}

/* Regain from which there is water enough for a balance of ions to mean something. */
#define MOIST 0.01

/* The pH inside follows the bath for the time since it was brought forward last. */
static void exchange(hf_simulation *s, double w)
{
    hfi_liquid *l = &s->liquid;
    const hf_step *step = &l->step;
    if (!(l->exchanging > 0) || w < MOIST)
        return;
    l->groups.sulfonic = l->sulfur.cysteic;
    l->groups.thiol = l->sulfur.thiol;
    /* The thiol comes as the salt of a strong base. */
    const double salt =
        step->ionic_strength + (step->kind == HF_STEP_REDUCE ? step->concentration : 0);
    const double ph = step->kind == HF_STEP_SOAK ? WATER_PH : or_else(step->ph, WATER_PH);
    const hfi_donnan balance =
        hfi_donnan_at(&l->groups, ph, salt, hfi_donnan_water(w), l->logarithm);
    l->logarithm = balance.logarithm;
    l->internal_ph -= (hfi_ph_of(balance.protons) - l->internal_ph) *
                      expm1(-l->exchanging / s->values[HFI_BOND_IONIC_EXCHANGE]);
    l->exchanging = 0;
}

hf_status hfi_liquid_follow(hf_simulation *s, double from, double to)
{
    hfi_liquid *l = &s->liquid;
    const double seconds = to - from;
    if (!l->present || !(seconds > 0))
        return HF_OK;
    const size_t n = s->options.zones;
    size_t cell[HFI_ZONES_MAX] = {0};
    double regain[HFI_ZONES_MAX], temperature[HFI_ZONES_MAX] = {0}, w = 0, T = 0;
    for (size_t z = 0; z < n; z++)
        cell[z] = s->zone[z].cell;
    const hf_step_kind kind = l->step.kind;
    const int warm = kind == HF_STEP_REDUCE || kind == HF_STEP_BLEACH;
    if (hfi_system_cells(s->system, from + 0.5 * seconds, cell, n, regain,
                         warm ? temperature : NULL) != HFI_ODE_OK)
        return HF_EINTERNAL;
    for (size_t z = 0; z < n; z++) {
        w += s->zone[z].weight * regain[z];
        T += warm ? s->zone[z].weight * temperature[z] : 0;
    }
    const double wet_seconds = seconds * fmin(1, w / s->values[HFI_SORPTION_RETENTION]);
    if (kind == HF_STEP_REDUCE)
        reduce(s, w, T, wet_seconds);
    else if (kind == HF_STEP_BLEACH)
        bleach(s, T, wet_seconds);
    else if (kind == HF_STEP_NEUTRALISE)
        hfi_sulfur_join(&l->sulfur, wet_seconds / s->values[HFI_RATE_REOXIDATION_TIME]);
    l->exchanging += wet_seconds;
    return HF_OK;
}

void hfi_liquid_fill(hf_simulation *s, double regain, double temperature, double *row)
{
    hfi_liquid *l = &s->liquid;
    exchange(s, regain);
    hfi_bond_cycles_update(&l->cycles, s->values, regain, temperature);
    row[HF_COLUMN_INTERNAL_PH] = l->internal_ph;
    /* Without cystine at the start nothing can be lost. */
    row[HF_COLUMN_DISULFIDE] = l->cystine_start > 0 ? l->sulfur.cystine / l->cystine_start : 1;
    row[HF_COLUMN_THIOL] = l->sulfur.thiol;
    row[HF_COLUMN_CYSTEIC_ACID] = l->sulfur.cysteic;
    row[HF_COLUMN_FRONT] = 1 - sqrt(1 - hfi_front_share(l->front));
    row[HF_COLUMN_HYDROGEN_CYCLES] = (double)l->cycles.count;
    row[HF_COLUMN_HYDROGEN_STRAIN] = l->cycles.diameter_strain;
}

hf_status hf_simulation_sulfur(const hf_simulation *s, hf_sulfur *out)
{
    if (!s || !out)
        return HF_EINVAL;
    *out = s->liquid.sulfur;
    return HF_OK;
}
