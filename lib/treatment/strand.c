/*
 * One strand of an ensemble: its section and parameters drawn, its treatment computed, a few numbers kept.
 *
 * Random numbers of strand k are those of stream k: places 0 to 3 for area, ellipticity, medulla and strength, from 8
 * on one for each row of the catalogue that is drawn.
 *
 * Lognormal area of mean m and standard deviation d: the logarithm has spread s, s^2 = ln(1 + d^2/m^2), and
 * the median is m exp(-s^2/2). A coefficient of variation of the diameter c gives ln area the spread
 * 2 sqrt(ln(1 + c^2)).
 */
#include "ensemble.h"

#include "../inference/stream.h"
#include "simulation_internal.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define PI            3.14159265358979323846
#define DIAMETER_LOW  30e-6 /* m, limits of a fibre */
#define DIAMETER_HIGH 240e-6
#define FIRST_ROW     8 /* place of the first parameter in the stream of a strand */

/* Rows that a treatment uses. */
static const hf_quantity strand_quantity = {
    .name = "strand",
    .parameters = "sorption swelling diffusion thermal transition denaturation rate bond void "
                  "treatment strength.break.stress_wet strength.break.stress_ambient "
                  "strength.disulfide strength.scatter",
};

const hf_column_info *hf_strand_column_at(size_t index)
{
    static const hf_column_info info[HF_STRAND_COLUMNS] = {
#define COLUMN(id, name, unit, kind, text) {name, unit, kind, text},
        HF_STRAND_LIST(COLUMN)
#undef COLUMN
    };
    if (index >= HF_STRAND_CHANNELS && index < HF_STRAND_COLUMNS)
        return hf_column_at(HF_COLUMN_CHANNELS + index - HF_STRAND_CHANNELS);
    return index < HF_STRAND_CHANNELS ? &info[index] : NULL;
}

hf_status hfi_strand_prepare(hf_ensemble *e, hf_message *message)
{
    const hf_population *p = &e->population;
    const double c = e->plan.within_head, ratio = p->area_spread / p->area;
    const double spread = isnan(c) ? sqrt(log1p(ratio * ratio)) : 2 * sqrt(log1p(c * c));
    const hf_variate area = {"area",
                             HF_LOGNORMAL,
                             p->area * exp(-0.5 * spread * spread),
                             spread,
                             0.25 * PI * DIAMETER_LOW * DIAMETER_LOW,
                             0.25 * PI * DIAMETER_HIGH * DIAMETER_HIGH};
    const hf_variate ellipticity = {"ellipticity",         HF_NORMAL, p->ellipticity,
                                    p->ellipticity_spread, 1,         3};
    const double middle = 0.5 * (p->medulla_low + p->medulla_high);
    const hf_variate medulla = {
        "medulla", HF_UNIFORM, middle, 0.5 * (p->medulla_high - p->medulla_low), 0, 0.5};
    hf_status status = hfi_variate_prepare(&e->area, &area, message);
    if (status == HF_OK)
        status = hfi_variate_prepare(&e->ellipticity, &ellipticity, message);
    if (status == HF_OK)
        status = hfi_variate_prepare(&e->medulla, &medulla, message);
    return status;
}

hf_status hfi_strand_open(hfi_strand_worker *w, const hf_ensemble *ensemble,
                          const volatile sig_atomic_t *stop)
{
    *w = (hfi_strand_worker){.ensemble = ensemble, .options = ensemble->plan.simulation};
    w->options.stop = stop;
    w->options.keep_profiles = 0;
    if (!ensemble->plan.draw_parameters)
        return HF_OK;
    w->inputs = malloc(sizeof *w->inputs);
    if (!w->inputs)
        return HF_ENOMEM;
    const hf_status status =
        hfi_inputs_open(w->inputs, &strand_quantity, NULL, ensemble->set, 0, 1, NULL, 0, NULL);
    if (status != HF_OK) {
        free(w->inputs);
        w->inputs = NULL;
    }
    return status;
}

void hfi_strand_close(hfi_strand_worker *w)
{
    hf_simulation_free(w->simulation);
    if (w->inputs)
        hfi_inputs_close(w->inputs);
    free(w->inputs);
}

/* Section, strength and parameters. HF_ERANGE when a tied parameter leaves its limits. */
static hf_status draw(hfi_strand_worker *w, size_t number, hfi_strand *strand)
{
    const hf_ensemble *e = w->ensemble;
    const uint64_t seed = e->plan.seed;
    *strand = (hfi_strand){e->plan.fibre, hfi_stream_uniform(seed, number, 3), e->set};
    if (e->plan.population) {
        const double area = hfi_variate_at(&e->area, hfi_stream_uniform(seed, number, 0));
        strand->fibre.diameter = sqrt(4 * area / PI);
        strand->fibre.ellipticity =
            hfi_variate_at(&e->ellipticity, hfi_stream_uniform(seed, number, 1));
        strand->fibre.medulla = hfi_variate_at(&e->medulla, hfi_stream_uniform(seed, number, 2));
    }
    if (!w->inputs)
        return HF_OK;
    double x[HF_INPUTS_MAX];
    for (size_t i = 0; i < w->inputs->count; i++)
        x[i] = hfi_stream_uniform(seed, number, FIRST_ROW + i);
    hfi_inputs_at(w->inputs, x, x);
    strand->set = w->inputs->set;
    return hfi_inputs_put(w->inputs, x) ? HF_OK : HF_ERANGE;
}

static hf_status simulate(hfi_strand_worker *w, const hf_fibre_description *d,
                          const hf_parameters *set, hf_message *why)
{
    hf_fibre *fibre = NULL;
    hf_status status = hf_fibre_new(&fibre, d, set, why);
    if (status == HF_OK)
        status = w->simulation ? hf_simulation_reset(w->simulation, fibre, why)
                               : hf_simulation_new(&w->simulation, fibre, &w->ensemble->plan.room,
                                                   &w->options, why);
    hf_fibre_free(fibre);
    if (status != HF_OK)
        return status;
    status = hf_simulation_run(w->simulation, w->ensemble->steps, w->ensemble->plan.step_count);
    if (status != HF_OK)
        strcpy(why->text, hf_simulation_message(w->simulation));
    return status;
}

static void extremes(const double *x, size_t n, double *low, double *high)
{
    *low = *high = x[0];
    for (size_t i = 1; i < n; i++) {
        *low = fmin(*low, x[i]);
        *high = fmax(*high, x[i]);
    }
}

/* First time of an event; NaN when it never came. */
static double time_of(const hf_simulation *s, hf_event_kind kind)
{
    for (size_t i = 0; i < s->record.events; i++)
        if (s->record.event[i].kind == kind)
            return s->record.event[i].time;
    return (double)NAN;
}

static void summarise(const hf_simulation *s, double *row)
{
    const size_t n = s->record.samples, last = n - 1;
    double low, axis, surface;
    extremes(s->record.column[HF_COLUMN_REGAIN], n, &row[HF_STRAND_REGAIN_LOW],
             &row[HF_STRAND_REGAIN_HIGH]);
    extremes(s->record.column[HF_COLUMN_TEMPERATURE_AXIS], n, &low, &axis);
    extremes(s->record.column[HF_COLUMN_TEMPERATURE_SURFACE], n, &low, &surface);
    row[HF_STRAND_REGAIN_END] = s->record.column[HF_COLUMN_REGAIN][last];
    row[HF_STRAND_DIAMETER_END] = s->record.column[HF_COLUMN_DIAMETER][last];
    row[HF_STRAND_WATER_LOST] = s->record.column[HF_COLUMN_WATER_LOST][last];
    row[HF_STRAND_TEMPERATURE] = fmax(s->peak_temperature, fmax(axis, surface));
    row[HF_STRAND_DRIVE] = s->peak_drive;
    row[HF_STRAND_BOILS_AT] = time_of(s, HF_EVENT_BOILS);
    row[HF_STRAND_BOILS] = !isnan(row[HF_STRAND_BOILS_AT]);
    row[HF_STRAND_GROWTH] = s->record.column[HF_COLUMN_VOID_GROWTH][last];
    row[HF_STRAND_RADIUS] = s->record.column[HF_COLUMN_VOID_RADIUS][last];
    row[HF_STRAND_VOIDS_AT] = time_of(s, HF_EVENT_VOIDS);
    row[HF_STRAND_VOIDS] = !isnan(row[HF_STRAND_VOIDS_AT]);
    row[HF_STRAND_CYCLES] = s->record.column[HF_COLUMN_SWELLING_CYCLES][last];
    row[HF_STRAND_HYDROGEN_CYCLES] = s->record.column[HF_COLUMN_HYDROGEN_CYCLES][last];
    row[HF_STRAND_DISULFIDE] = s->record.column[HF_COLUMN_DISULFIDE][last];
    row[HF_STRAND_CYSTEIC_ACID] = s->record.column[HF_COLUMN_CYSTEIC_ACID][last];
    row[HF_STRAND_BEYOND] = s->extrapolated != 0;
    for (size_t c = 0; c < HF_CHANNELS; c++)
        row[HF_STRAND_CHANNELS + c] = s->record.column[HF_COLUMN_CHANNELS + c][last];
}

/* What a pull would do. Strands that no law covers keep NaN. */
static void pull(const hf_ensemble *e, const hfi_strand *strand, double *row)
{
    const double d = strand->fibre.diameter, asked = e->plan.pull;
    double force;
    const hf_status status = hfi_pull(strand->luck, 0.25 * PI * d * d, row[HF_STRAND_DISULFIDE],
                                      e->plan.room.humidity, strand->set, &force);
    if (hf_failed(status))
        return;
    row[HF_STRAND_BREAK_FORCE] = force;
    if (isnan(asked))
        return;
    row[HF_STRAND_BREAKS] = asked > force;
    if (status == HF_EXTRAPOLATED)
        row[HF_STRAND_BEYOND] = 1;
}

static void clear(const hfi_strand *strand, double *row)
{
    for (size_t c = 0; c < HF_STRAND_COLUMNS; c++)
        row[c] = (double)NAN;
    row[HF_STRAND_DIAMETER] = strand->fibre.diameter;
    row[HF_STRAND_ELLIPTICITY] = strand->fibre.ellipticity;
    row[HF_STRAND_MEDULLA] = strand->fibre.medulla;
}

hf_status hfi_strand_treat(hfi_strand_worker *w, const hfi_strand *strand, double *row,
                           hf_message *why)
{
    clear(strand, row);
    const hf_status status = simulate(w, &strand->fibre, strand->set, why);
    if (status == HF_OK) {
        summarise(w->simulation, row);
        pull(w->ensemble, strand, row);
    }
    return status;
}

hf_status hfi_strand_compute(hfi_strand_worker *w, size_t number, double *row, hf_message *why)
{
    hfi_strand strand;
    why->text[0] = '\0';
    hf_status status = draw(w, number, &strand);
    if (status == HF_OK)
        status = hfi_strand_treat(w, &strand, row, why);
    else
        clear(&strand, row);
    if (status == HF_ESTOPPED || status == HF_ENOMEM)
        return status;
    row[HF_STRAND_NUMBER] = (double)number + 1;
    row[HF_STRAND_STATUS] = (double)status;
    if (status != HF_OK && !why->text[0])
        strcpy(why->text, hf_status_text(status));
    return HF_OK;
}
