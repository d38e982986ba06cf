/* hf_simulation: making, copying, looking. */
#include "simulation_internal.h"

#include "fibre.h"

#include "../keratin/properties.h"

#include <hairfibre/water.h>

#include <math.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void hf_simulation_free(hf_simulation *s)
{
    if (!s)
        return;
    hfi_record_free(&s->record);
    hfi_system_free(s->system);
    hfi_mesh_free(s->mesh);
    free(s->state);
    free(s->scratch);
    free(s);
}

static hf_status check_options(const hf_simulation_options *o, hf_message *message)
{
    const struct {
        const char *name;
        double value, low, high;
    } field[] = {
        {"cells", (double)o->cells, HFI_MESH_MIN_CELLS, HFI_MESH_MAX_CELLS},
        {"tolerance", o->tolerance, 1e-12, 1e-2},
        {"samples", (double)o->samples, 2, 1000},
        {"zones", (double)o->zones, 2, HFI_ZONES_MAX},
        {"max_steps", (double)o->max_steps, 10, 1e9},
    };
    for (size_t i = 0; i < sizeof field / sizeof field[0]; i++)
        if (!(field[i].value >= field[i].low && field[i].value <= field[i].high)) {
            if (message)
                snprintf(message->text, sizeof message->text, "%s = %g must lie between %g and %g",
                         field[i].name, field[i].value, field[i].low, field[i].high);
            return isfinite(field[i].value) ? HF_ERANGE : HF_EINVAL;
        }
    return HF_OK;
}

/* Mesh, system and state arrays. */
static hf_status build(hf_simulation *s)
{
    if (hfi_mesh_create(s->options.cells, HFI_MESH_GRADING, s->dry_radius, &s->mesh) != HFI_MESH_OK)
        return HF_ENOMEM;
    if (hfi_system_create(&s->material, s->mesh, s->options.lumped, s->options.tolerance,
                          s->options.max_steps, s->options.stop, &s->system) != HFI_ODE_OK)
        return HF_ENOMEM;
    const size_t size = hfi_system_size(s->system);
    s->state = calloc(size, sizeof *s->state);
    s->scratch = malloc(size * sizeof *s->scratch);
    return s->state && s->scratch ? HF_OK : HF_ENOMEM;
}

static hf_status start(hf_simulation *s, double regain)
{
    const size_t n = s->mesh->cells;
    double *uniform = malloc(2 * n * sizeof *uniform);
    if (!uniform)
        return HF_ENOMEM;
    for (size_t i = 0; i < n; i++) {
        uniform[i] = regain;
        uniform[n + i] = s->fibre.temperature;
    }
    if (s->fibre.film > 0)
        hfi_system_set_mode(s->system, HFI_SURFACE_FILM, s->state);
    hfi_system_fill(s->system, uniform, uniform + n, s->fibre.film, s->state);
    free(uniform);
    hfi_view view;
    hfi_system_peek(s->system, s->state, &view);
    s->books = (hfi_books){.water_held = view.water, .energy_held = view.energy};
    s->turning = regain;
    s->rising = 0; /* what fell before the start is not known: a cycle needs its rise */
    hfi_zones_start(s);
    return HF_OK;
}

/* The surroundings before the first step: the room, so that fluxes of the first sample have a meaning. */
static hf_status first_sample(hf_simulation *s)
{
    const hf_step rest = HF_STEP_INIT(HF_STEP_REST, 1.0);
    const hf_status status = hfi_simulation_begin(s, &rest);
    return hf_failed(status) ? status : hfi_record_sample(s, s->time, 0, s->state);
}

/* A film of water that would boil at once is no starting state. */
static hf_status check_film(const hf_fibre *fibre, const hf_room *room, hf_message *message)
{
    const hf_fibre_description *d = &fibre->description;
    if (!(d->film > 0 && hf_saturation_pressure(d->temperature) >= room->pressure))
        return HF_OK;
    if (message)
        snprintf(message->text, sizeof message->text,
                 "film = %g kg/kg of water at %g K would boil under %g Pa", d->film, d->temperature,
                 room->pressure);
    return HF_ERANGE;
}

/* Takes a fibre in at time 0. `same`: the tables of the material hold for it as they are. */
static hf_status load(hf_simulation *s, const hf_fibre *fibre, int same)
{
    memcpy(s->values, hfi_values(fibre->set), sizeof s->values);
    s->fibre = fibre->description;
    s->dry_radius = fibre->dry_radius;
    s->perimeter = fibre->perimeter;
    if (!same) {
        s->hot.ready = 0;
        hfi_material_prepare(&s->material, s->values, s->fibre.branch,
                             (hfi_diffusion_law)s->fibre.diffusion_law);
    }
    s->laws = hfi_channel_laws_of(s->values);
    hf_status status = build(s);
    if (status == HF_OK)
        status = hfi_liquid_start(s, &s->message);
    if (status == HF_OK)
        status = start(s, fibre->regain);
    if (status == HF_OK)
        status = first_sample(s);
    return status;
}

hf_status hf_simulation_reset(hf_simulation *s, const hf_fibre *fibre, hf_message *message)
{
    if (message)
        message->text[0] = '\0';
    if (!s || !fibre)
        return HF_EINVAL;
    hf_status status = check_film(fibre, &s->room, message);
    if (status != HF_OK)
        return status;
    hfi_system_free(s->system);
    hfi_mesh_free(s->mesh);
    free(s->state);
    free(s->scratch);
    s->system = NULL;
    s->mesh = NULL;
    /* Byte by byte, so that no digit depends on which fibre came before. */
    const double *values = hfi_values(fibre->set);
    /* NOLINTNEXTLINE(bugprone-suspicious-memory-comparison) */
    const int same = memcmp(s->values, values, sizeof s->values) == 0 &&
                     s->fibre.branch == fibre->description.branch &&
                     s->fibre.diffusion_law == fibre->description.diffusion_law;
    /* Everything from `time` on belongs to a run; the record keeps its memory. */
    hfi_record record = s->record;
    record.samples = record.events = 0;
    const size_t run = offsetof(hf_simulation, time);
    memset((char *)s + run, 0, sizeof *s - run);
    s->record = record;
    status = load(s, fibre, same);
    if (status != HF_OK && message)
        *message = s->message;
    return status;
}

hf_status hf_simulation_new(hf_simulation **out, const hf_fibre *fibre, const hf_room *room,
                            const hf_simulation_options *options, hf_message *message)
{
    static const hf_room usual_room = HF_ROOM_INIT;
    static const hf_simulation_options usual_options = HF_SIMULATION_OPTIONS_INIT;
    if (message)
        message->text[0] = '\0';
    if (!out || !fibre)
        return HF_EINVAL;
    const hf_step rest = HF_STEP_INIT(HF_STEP_REST, 1.0);
    hf_status status = check_options(options ? options : &usual_options, message);
    if (status == HF_OK)
        status = hf_step_check(&rest, room ? room : &usual_room, message);
    if (status != HF_OK)
        return status;
    const hf_room *around = room ? room : &usual_room;
    status = check_film(fibre, around, message);
    if (status != HF_OK)
        return status;
    hf_simulation *s = calloc(1, sizeof *s);
    if (!s)
        return HF_ENOMEM;
    s->room = *around;
    s->options = options ? *options : usual_options;
    status = hfi_record_start(&s->record, s->options.cells, s->options.keep_profiles);
    if (status == HF_OK)
        status = load(s, fibre, 0);
    if (status != HF_OK) {
        if (message)
            *message = s->message;
        hf_simulation_free(s);
        return status;
    }
    *out = s;
    return HF_OK;
}

hf_status hf_simulation_copy(hf_simulation **out, const hf_simulation *from)
{
    if (!out || !from)
        return HF_EINVAL;
    hf_simulation *s = malloc(sizeof *s);
    if (!s)
        return HF_ENOMEM;
    *s = *from;
    s->mesh = NULL;
    s->system = NULL;
    s->state = s->scratch = NULL;
    s->material.values = s->values;
    s->laws = hfi_channel_laws_of(s->values); /* keeps the values by pointer */
    hf_status status = hfi_record_copy(&s->record, &from->record, from->options.cells);
    if (status == HF_OK)
        status = build(s);
    if (status != HF_OK) {
        hf_simulation_free(s);
        return status;
    }
    hfi_system_set_mode(s->system, hfi_system_mode(from->system), s->state);
    memcpy(s->state, from->state, hfi_system_size(s->system) * sizeof *s->state);
    *out = s;
    return HF_OK;
}

size_t hf_simulation_samples(const hf_simulation *s)
{
    return s ? s->record.samples : 0;
}

const double *hf_simulation_column(const hf_simulation *s, hf_column column)
{
    return s && (unsigned)column < HF_COLUMNS ? s->record.column[column] : NULL;
}

size_t hf_simulation_event_count(const hf_simulation *s)
{
    return s ? s->record.events : 0;
}

hf_status hf_simulation_event(const hf_simulation *s, size_t index, hf_event *event)
{
    if (!s || !event)
        return HF_EINVAL;
    if (index >= s->record.events)
        return HF_ERANGE;
    *event = s->record.event[index];
    return HF_OK;
}

size_t hf_simulation_cells(const hf_simulation *s)
{
    return s ? s->mesh->cells : 0;
}

hf_status hf_simulation_profile(const hf_simulation *s, size_t sample, double *radius,
                                double *regain, double *temperature)
{
    if (!s)
        return HF_EINVAL;
    if (!s->record.profile)
        return HF_EDATA;
    if (sample >= s->record.samples)
        return HF_ERANGE;
    const size_t n = s->mesh->cells;
    const double *profile = s->record.profile + sample * 2 * n;
    double square = 0;
    for (size_t i = 0; i < n; i++) {
        const double lambda = hfi_diameter_ratio(s->values, profile[2 * i], NULL);
        const double ring = s->mesh->cell_mass[i] * lambda * lambda;
        if (radius)
            radius[i] = s->dry_radius * sqrt(square + 0.5 * ring);
        square += ring;
        if (regain)
            regain[i] = profile[2 * i];
        if (temperature)
            temperature[i] = profile[2 * i + 1];
    }
    return HF_OK;
}

const hf_simulation_options *hf_simulation_get_options(const hf_simulation *s)
{
    return s ? &s->options : NULL;
}

size_t hf_simulation_zones(const hf_simulation *s)
{
    return s ? s->options.zones : 0;
}

double hf_simulation_zone_radius(const hf_simulation *s, size_t zone)
{
    return s && zone < s->options.zones ? s->zone[zone].radius : (double)NAN;
}

double hf_simulation_zone_growth(const hf_simulation *s, size_t zone)
{
    return s && zone < s->options.zones ? s->zone[zone].growth : (double)NAN;
}

double hf_simulation_zone_channel(const hf_simulation *s, size_t zone, hf_channel channel)
{
    return s && zone < s->options.zones && (unsigned)channel < HF_CHANNELS
               ? exp(-s->zone[zone].exposure[channel])
               : (double)NAN;
}

void hf_simulation_get_statistics(const hf_simulation *s, hf_simulation_statistics *out)
{
    if (!s || !out)
        return;
    *out = s->statistics;
    out->samples = s->record.samples;
    out->water_error = s->books.water_error;
    out->energy_error = s->books.energy_error;
    out->bytes = sizeof *s + hfi_record_bytes(&s->record, s->mesh->cells) +
                 2 * hfi_system_size(s->system) * sizeof(double) + hfi_system_bytes(s->system);
}

const char *hf_simulation_message(const hf_simulation *s)
{
    return s ? s->message.text : "";
}

int hf_simulation_extrapolated(const hf_simulation *s)
{
    return s ? s->extrapolated : 0;
}

const char *hf_beyond_text(int bit)
{
    switch (bit) {
#define SENTENCE(id, number, text)                                                                 \
    case id:                                                                                       \
        return text;
        HF_BEYOND_LIST(SENTENCE)
#undef SENTENCE
    default:
        return NULL;
    }
}
