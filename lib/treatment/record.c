/* The record of a simulation: columns, profiles, events, balances. */
#include "simulation_internal.h"

#include "../keratin/constants.h"
#include "../keratin/isotherm.h"
#include "../keratin/properties.h"
#include "../vapour/voids.h"
#include "../water/water.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const hf_column_info *hf_column_at(size_t index)
{
    static const hf_column_info info[HF_COLUMNS] = {
#define COLUMN(id, name, unit, kind, text) {name, unit, kind, text},
        HF_COLUMN_LIST(COLUMN)
#undef COLUMN
#define CHANNEL(id, name, unit, low, high, counted_from, energy, text)                             \
    {name, unit, HF_KIND_FRACTION, text},
            HF_CHANNEL_LIST(CHANNEL)
#undef CHANNEL
    };
    return index < HF_COLUMNS ? &info[index] : NULL;
}

const char *hf_event_word(hf_event_kind kind)
{
    static const char *const word[] = {
#define WORD(id, text, meaning) text,
        HF_EVENT_LIST(WORD)
#undef WORD
    };
    return (unsigned)kind < HF_EVENT_KINDS ? word[kind] : NULL;
}

static hf_status grow(hfi_record *r, size_t cells, int keep_profiles, size_t room)
{
    for (size_t c = 0; c < HF_COLUMNS; c++) {
        double *column = realloc(r->column[c], room * sizeof *column);
        if (!column)
            return HF_ENOMEM;
        r->column[c] = column;
    }
    if (keep_profiles) {
        double *profile = realloc(r->profile, room * 2 * cells * sizeof *profile);
        if (!profile)
            return HF_ENOMEM;
        r->profile = profile;
    }
    r->room = room;
    return HF_OK;
}

hf_status hfi_record_reserve(hfi_record *r, size_t cells, size_t samples)
{
    const size_t needed = r->samples + samples;
    if (needed <= r->room)
        return HF_OK;
    return grow(r, cells, r->profile != NULL, needed > 2 * r->room ? needed : 2 * r->room);
}

hf_status hfi_record_start(hfi_record *record, size_t cells, int keep_profiles)
{
    *record = (hfi_record){0};
    return grow(record, cells, keep_profiles, 64);
}

void hfi_record_free(hfi_record *record)
{
    for (size_t c = 0; c < HF_COLUMNS; c++)
        free(record->column[c]);
    free(record->profile);
    free(record->event);
}

hf_status hfi_record_copy(hfi_record *out, const hfi_record *from, size_t cells)
{
    *out = (hfi_record){0};
    hf_status status = grow(out, cells, from->profile != NULL, from->room);
    if (status == HF_OK && from->events) {
        out->event = malloc(from->event_room * sizeof *out->event);
        if (!out->event)
            status = HF_ENOMEM;
    }
    if (status != HF_OK) {
        hfi_record_free(out);
        *out = (hfi_record){0};
        return status;
    }
    for (size_t c = 0; c < HF_COLUMNS; c++)
        memcpy(out->column[c], from->column[c], from->samples * sizeof(double));
    if (from->profile)
        memcpy(out->profile, from->profile, from->samples * 2 * cells * sizeof(double));
    if (from->events)
        memcpy(out->event, from->event, from->events * sizeof *from->event);
    out->samples = from->samples;
    out->events = from->events;
    out->event_room = from->event_room;
    return HF_OK;
}

size_t hfi_record_bytes(const hfi_record *r, size_t cells)
{
    return r->room * sizeof(double) * (HF_COLUMNS + (r->profile ? 2 * cells : 0)) +
           r->event_room * sizeof *r->event;
}

hf_status hfi_record_event(hf_simulation *s, hf_event_kind kind, double time)
{
    hfi_record *r = &s->record;
    if (r->events == r->event_room) {
        const size_t room = r->event_room ? 2 * r->event_room : 16;
        hf_event *event = realloc(r->event, room * sizeof *event);
        if (!event)
            return HF_ENOMEM;
        r->event = event;
        r->event_room = room;
    }
    r->event[r->events++] = (hf_event){kind, time, s->step};
    return HF_OK;
}

/* Balances: what is held, less what was held at the start and came in since, over what moved. */
static void balance(hf_simulation *s, const hfi_view *view, const double *state)
{
    double water_out, energy_in, heat_in;
    hfi_system_counts(s->system, state, &water_out, &energy_in, &heat_in);
    hfi_books *b = &s->books;
    const double water = view->water - b->water_held + b->water_out + water_out;
    const double energy = view->energy - b->energy_held - b->energy_in - energy_in;
    /* Where next to nothing moves, rounding of what is held is all there is: the sizes of a hundredth of
     * a point of regain and of a hundredth of a kelvin stand in. */
    const double moved = fmax(b->water_moved + fabs(water_out), 1e-4);
    const double moved_energy =
        fmax(b->energy_moved + fabs(heat_in) + fabs(energy_in - heat_in), 15.0);
    b->water_error = fmax(b->water_error, fabs(water) / moved);
    b->energy_error = fmax(b->energy_error, fabs(energy) / moved_energy);
}

/* Counts a cycle when the mean regain has risen and fallen by this much. */
#define CYCLE 0.05

static void count_cycle(hf_simulation *s, double regain)
{
    if (s->rising ? regain > s->turning : regain < s->turning) {
        s->turning = regain;
    } else if (s->rising && regain <= s->turning - CYCLE) {
        s->rising = 0;
        s->turning = regain;
        s->cycles++;
    } else if (!s->rising && regain >= s->turning + CYCLE) {
        s->rising = 1;
        s->turning = regain;
    }
}

/* Factors of the isotherm at one temperature, from which those nearby follow. */
typedef struct anchor {
    double inverse, theta[3], factor[3];
} anchor;

static anchor anchor_at(const double *values, double T)
{
    static const int enthalpy[3] = {HFI_SORPTION_ENTHALPY_MONOLAYER, HFI_SORPTION_ENTHALPY_C,
                                    HFI_SORPTION_ENTHALPY_K};
    anchor a = {.inverse = 1 / T};
    for (int i = 0; i < 3; i++) {
        a.theta[i] = values[enthalpy[i]] / HFI_GAS_CONSTANT;
        a.factor[i] = exp(a.theta[i] * (a.inverse - 1 / HFI_REFERENCE_TEMPERATURE));
    }
    return a;
}

/* Places differ by kelvins: the series is good to 1e-10 where it is used. */
static double inside_pressure(const hf_simulation *s, const anchor *near, double w, double T)
{
    const double away = 1 / T - near->inverse;
    double factor[3];
    for (int i = 0; i < 3; i++) {
        const double z = near->theta[i] * away;
        factor[i] = near->factor[i] *
                    (fabs(z) < 0.05
                         ? 1 + z * (1 + z * (1 / 2.0 + z * (1 / 6.0 + z * (1 / 24.0 + z / 120.0))))
                         : exp(z));
    }
    hfi_isotherm isotherm;
    hfi_isotherm_of(&isotherm, s->values, s->material.branch, T, factor);
    const double a = hfi_isotherm_activity(&isotherm, w, NULL, NULL);
    return fmin(a, 1) * hfi_saturation_pressure(T);
}

/* Largest pressure at the zones. It rises with both regain and temperature: what is neither wetter nor hotter than a
 * place seen has less, and 1e-4 K are 1e-5 of it. As a rule the axis or the surface comes before the rest. */
static double peak_pressure(const hf_simulation *s, const hfi_view *view, double *on_axis)
{
    const size_t last = s->options.zones - 1;
    const anchor near = anchor_at(s->values, view->temperature[0]);
    double peak = 0, wet[3] = {-1, -1, -1}, hot[3] = {0, 0, 0};
    for (size_t k = 0; k <= last; k++) {
        const size_t z = k < 2 ? k * last : k - 1;
        const double w = view->regain[s->zone[z].cell], T = view->temperature[s->zone[z].cell];
        int less = 0;
        for (int seen = 0; seen < 3; seen++)
            less |= w <= wet[seen] && T <= hot[seen] + 1e-4;
        if (less)
            continue;
        const double p = inside_pressure(s, &near, w, T);
        if (k == 0)
            *on_axis = p;
        if (p > peak) {
            peak = p;
            wet[2] = w;
            hot[2] = T;
        }
        if (k < 2) {
            wet[k] = w;
            hot[k] = T;
        }
    }
    return peak;
}

/* exp(-x) for what is rarely far from nothing; the series to 2e-15. */
static double share_left(double x)
{
    return x < 0.01 ? 1 - x * (1 - x * (0.5 - x * (1 / 6.0 - x * (1 / 24.0 - x / 120.0))))
                    : exp(-x);
}

/* In the cold nothing moves between samples, and the last of them holds. */
static void fill_voids(hf_simulation *s, double *row)
{
    const hfi_record *r = &s->record;
    if (!s->moved && r->samples) {
        const size_t last = r->samples - 1;
        row[HF_COLUMN_VOID_GROWTH] = r->column[HF_COLUMN_VOID_GROWTH][last];
        row[HF_COLUMN_VOID_RADIUS] = fmin(s->void_radius, 0.5 * row[HF_COLUMN_DIAMETER]);
        for (size_t c = 0; c < HF_CHANNELS; c++)
            row[HF_COLUMN_CHANNELS + c] = r->column[HF_COLUMN_CHANNELS + c][last];
        return;
    }
    s->moved = 0;
    double growth = -1, radius = 0;
    for (size_t z = 0; z < s->options.zones; z++)
        if (s->zone[z].growth > growth) {
            growth = s->zone[z].growth;
            radius = s->zone[z].first_radius * exp(growth);
        }
    row[HF_COLUMN_VOID_GROWTH] = growth;
    s->void_radius = radius;
    /* Beyond the size of the fibre the law has no meaning; the growth itself is still reported. */
    row[HF_COLUMN_VOID_RADIUS] = fmin(radius, 0.5 * row[HF_COLUMN_DIAMETER]);
    for (size_t c = 0; c < HF_CHANNELS; c++) {
        double left = 0;
        for (size_t z = 0; z < s->options.zones; z++)
            left += s->zone[z].weight * share_left(s->zone[z].exposure[c]);
        row[HF_COLUMN_CHANNELS + c] = left;
    }
}

hf_status hfi_record_sample(hf_simulation *s, double time, double offset, const double *state)
{
    hfi_record *r = &s->record;
    const size_t n = s->mesh->cells;
    if (r->samples == r->room) {
        const hf_status status = grow(r, n, r->profile != NULL, 2 * r->room);
        if (status != HF_OK)
            return status;
    }
    hfi_view view;
    double row[HF_COLUMNS] = {0};
    if (state != s->scratch)
        memcpy(s->scratch, state, hfi_system_size(s->system) * sizeof *state);
    hfi_system_level(s->system, s->scratch);
    if (hfi_system_view(s->system, offset, s->scratch, &view)) {
        snprintf(s->message.text, sizeof s->message.text,
                 "at %.6g s in step %zu the surface is at %.5g K, outside the equations (273.16 to "
                 "573 K); what was computed so far is kept",
                 time, s->step, view.surface_temperature);
        return HF_ECONVERGE;
    }
    const double regain = view.water - view.film;
    double temperature = 0, area = 0, hottest_cell = 0;
    for (size_t i = 0; i < n; i++) {
        const double lambda = hfi_diameter_ratio(s->values, view.regain[i], NULL);
        const double m = s->mesh->cell_mass[i], T = view.temperature[i];
        temperature += m * T;
        area += m * lambda * lambda;
        hottest_cell = T > hottest_cell ? T : hottest_cell;
    }
    if (hottest_cell > 423.15)
        s->extrapolated |= HF_BEYOND_ISOTHERM;
    double on_axis = 0;
    const double peak = peak_pressure(s, &view, &on_axis);
    count_cycle(s, regain);
    balance(s, &view, s->scratch);
    double water_out, energy_in, heat_in;
    hfi_system_counts(s->system, s->scratch, &water_out, &energy_in, &heat_in);
    row[HF_COLUMN_TIME] = time;
    row[HF_COLUMN_STEP] = (double)s->step;
    row[HF_COLUMN_REGAIN] = regain;
    row[HF_COLUMN_REGAIN_AXIS] = view.regain[0];
    row[HF_COLUMN_REGAIN_SURFACE] = view.surface_regain;
    row[HF_COLUMN_TEMPERATURE] = temperature;
    row[HF_COLUMN_TEMPERATURE_AXIS] = view.temperature[0];
    row[HF_COLUMN_TEMPERATURE_SURFACE] = view.surface_temperature;
    row[HF_COLUMN_WATER_LOST] = s->books.water_out + water_out;
    row[HF_COLUMN_FILM] = view.film;
    row[HF_COLUMN_PRESSURE_AXIS] = on_axis;
    row[HF_COLUMN_PRESSURE_PEAK] = peak;
    row[HF_COLUMN_PRESSURE_SURFACE] = view.surface_pressure;
    row[HF_COLUMN_DIAMETER] = 2 * s->dry_radius * sqrt(area);
    const double surface =
        2 * sqrt(area) * s->perimeter / (s->material.dry_density * s->dry_radius);
    row[HF_COLUMN_HEAT_FLUX] = view.heat / surface;
    row[HF_COLUMN_WATER_FLUX] = view.evaporation / surface;
    row[HF_COLUMN_GLASS_AXIS] = hfi_glass_transition(s->values, view.regain[0]);
    row[HF_COLUMN_GLASS_SURFACE] = hfi_glass_transition(s->values, view.surface_regain);
    row[HF_COLUMN_DENATURATION_AXIS] = hfi_denaturation_temperature(s->values, view.regain[0]);
    row[HF_COLUMN_VOID_DRIVE] = fmax(peak - s->room.pressure, 0);
    row[HF_COLUMN_VOID_MODULUS] = 1.2 * row[HF_COLUMN_VOID_DRIVE];
    row[HF_COLUMN_SWELLING_CYCLES] = s->cycles;
    row[HF_COLUMN_FATIGUE_USED] = s->fatigue.used;
    fill_voids(s, row);
    hfi_liquid_fill(s, regain, temperature, row);
    for (size_t c = 0; c < HF_COLUMNS; c++)
        r->column[c][r->samples] = row[c];
    if (r->profile)
        for (size_t i = 0; i < n; i++) {
            r->profile[(r->samples * n + i) * 2] = view.regain[i];
            r->profile[(r->samples * n + i) * 2 + 1] = view.temperature[i];
        }
    r->samples++;
    return HF_OK;
}
