/* hf_ensemble: making, looking, merging. The strands are computed in strand.c, side by side in parallel.c. */
#include "ensemble.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define STRANDS_MOST 100000000u

void hf_ensemble_free(hf_ensemble *e)
{
    if (!e)
        return;
    hf_parameters_free(e->set);
    free(e->steps);
    free(e->column[0]);
    free(e->is_done);
    free(e);
}

/* ---- checks -------------------------------------------------------------------------------------- */

static hf_status refuse(hf_message *message, const char *name, double value, double low,
                        double high)
{
    if (message)
        snprintf(message->text, sizeof message->text, "%s = %.9g must lie between %.9g and %.9g",
                 name, value, low, high);
    return isfinite(value) ? HF_ERANGE : HF_EINVAL;
}

static hf_status check(const hf_ensemble_plan *p, hf_message *message)
{
    const hf_population none = {.area = 1e-9, .ellipticity = 1};
    const hf_population *q = p->population ? p->population : &none;
    const struct {
        const char *name;
        double value, low, high;
    } field[] = {
        {"strands", (double)p->strands, 1, STRANDS_MOST},
        {"parts", (double)p->parts, 1, (double)p->strands},
        {"part", (double)p->part, 1, (double)p->parts},
        {"within_head", isnan(p->within_head) ? 0 : p->within_head, 0, 0.5},
        {"area", q->area, 0.8e-9, 40e-9},
        {"area_spread", q->area_spread, 0, q->area},
        {"ellipticity", q->ellipticity, 1, 3},
        {"ellipticity_spread", q->ellipticity_spread, 0, 1},
        {"medulla_low", q->medulla_low, 0, 0.5},
        {"medulla_high", q->medulla_high, q->medulla_low, 0.5},
        {"pull", isnan(p->pull) ? 0 : p->pull, 0, 100},
    };
    for (size_t i = 0; i < sizeof field / sizeof field[0]; i++)
        if (!(field[i].value >= field[i].low && field[i].value <= field[i].high))
            return refuse(message, field[i].name, field[i].value, field[i].low, field[i].high);
    if (!p->population && !isnan(p->within_head)) {
        if (message)
            snprintf(message->text, sizeof message->text, "within_head needs a population");
        return HF_EINVAL;
    }
    for (size_t i = 0; i < p->step_count; i++) {
        hf_message why;
        const hf_status status = hf_step_check(&p->steps[i], &p->room, &why);
        if (status != HF_OK) {
            if (message)
                snprintf(message->text, sizeof message->text, "step %zu, %.280s", i + 1, why.text);
            return status;
        }
    }
    return HF_OK;
}

/* Sets the mean strand up once, so that what is wrong with fibre, room and options is said at the start. */
static hf_status try_once(const hf_ensemble *e, hf_message *message)
{
    hf_fibre_description d = e->plan.fibre;
    if (e->plan.population) {
        d.diameter = sqrt(4 * e->population.area / 3.14159265358979323846);
        d.ellipticity = e->population.ellipticity;
        d.medulla = e->population.medulla_high;
    }
    hf_fibre *fibre = NULL;
    hf_simulation *simulation = NULL;
    hf_status status = hf_fibre_new(&fibre, &d, e->set, message);
    if (status == HF_OK)
        status = hf_simulation_new(&simulation, fibre, &e->plan.room, &e->plan.simulation, message);
    hf_simulation_free(simulation);
    hf_fibre_free(fibre);
    return status;
}

/* First strand of a part. */
static size_t start_of(size_t strands, size_t part, size_t parts)
{
    const size_t whole = strands / parts, left = strands % parts;
    return (part - 1) * whole + (part - 1 < left ? part - 1 : left);
}

static hf_status fill(hf_ensemble *e, const hf_ensemble_plan *plan, const hf_parameters *set,
                      hf_message *message)
{
    e->plan = *plan;
    e->plan.simulation.stop = NULL;
    e->plan.simulation.keep_profiles = 0;
    if (plan->population) {
        e->population = *plan->population;
        e->plan.population = &e->population;
    }
    e->first = start_of(plan->strands, plan->part, plan->parts);
    e->count = start_of(plan->strands, plan->part + 1, plan->parts) - e->first;
    hf_status status = hf_parameters_copy(&e->set, set);
    if (status != HF_OK)
        return status;
    e->steps = malloc((plan->step_count + 1) * sizeof *e->steps);
    e->is_done = calloc(e->count, 1);
    e->column[0] = malloc(HF_STRAND_COLUMNS * e->count * sizeof(double));
    if (!e->steps || !e->is_done || !e->column[0])
        return HF_ENOMEM;
    if (plan->step_count)
        memcpy(e->steps, plan->steps, plan->step_count * sizeof *e->steps);
    e->plan.steps = e->steps;
    for (size_t i = 0; i < HF_STRAND_COLUMNS * e->count; i++)
        e->column[0][i] = (double)NAN;
    for (size_t c = 1; c < HF_STRAND_COLUMNS; c++)
        e->column[c] = e->column[0] + c * e->count;
    status = plan->population ? hfi_strand_prepare(e, message) : HF_OK;
    return status == HF_OK ? try_once(e, message) : status;
}

hf_status hf_ensemble_new(hf_ensemble **out, const hf_ensemble_plan *plan, const hf_parameters *set,
                          hf_message *message)
{
    if (message)
        message->text[0] = '\0';
    if (!out || !plan || (!plan->steps && plan->step_count))
        return HF_EINVAL;
    hf_status status = check(plan, message);
    if (status != HF_OK)
        return status;
    hf_ensemble *e = calloc(1, sizeof *e);
    if (!e)
        return HF_ENOMEM;
    status = fill(e, plan, set, message);
    if (status != HF_OK) {
        hf_ensemble_free(e);
        return status;
    }
    *out = e;
    return HF_OK;
}

/* ---- looking ------------------------------------------------------------------------------------- */

const hf_ensemble_plan *hf_ensemble_get_plan(const hf_ensemble *e)
{
    return e ? &e->plan : NULL;
}

size_t hf_ensemble_first(const hf_ensemble *e)
{
    return e ? e->first : 0;
}

size_t hf_ensemble_count(const hf_ensemble *e)
{
    return e ? e->count : 0;
}

size_t hf_ensemble_done(const hf_ensemble *e)
{
    return e ? e->done : 0;
}

int hf_ensemble_is_done(const hf_ensemble *e, size_t i)
{
    return e && i < e->count && e->is_done[i];
}

const double *hf_ensemble_column(const hf_ensemble *e, hf_strand_column column)
{
    return e && (unsigned)column < HF_STRAND_COLUMNS ? e->column[column] : NULL;
}

const char *hf_ensemble_message(const hf_ensemble *e)
{
    return e ? e->message.text : "";
}

size_t hf_ensemble_bytes(const hf_ensemble *e)
{
    return e ? sizeof *e + e->plan.step_count * sizeof *e->steps +
                   e->count * (HF_STRAND_COLUMNS * sizeof(double) + 1)
             : 0;
}

/* ---- taking over ----------------------------------------------------------------------------------- */

void hfi_ensemble_keep(hf_ensemble *e, const double *row)
{
    const size_t i = (size_t)row[HF_STRAND_NUMBER] - 1 - e->first;
    for (size_t c = 0; c < HF_STRAND_COLUMNS; c++)
        e->column[c][i] = row[c];
    e->done += !e->is_done[i];
    e->is_done[i] = 1;
}

hf_status hf_ensemble_put(hf_ensemble *e, const double *row)
{
    if (!e || !row)
        return HF_EINVAL;
    const double number = row[HF_STRAND_NUMBER];
    if (!(number >= 1 && number <= (double)e->plan.strands && floor(number) == number))
        return HF_EINVAL;
    if (!(number > (double)e->first && number <= (double)(e->first + e->count)))
        return HF_ERANGE;
    hfi_ensemble_keep(e, row);
    return HF_OK;
}

hf_status hf_ensemble_merge(hf_ensemble *into, const hf_ensemble *from)
{
    if (!into || !from)
        return HF_EINVAL;
    char a[17], b[17];
    const char *what = NULL;
    hf_ensemble_digest(into, a);
    hf_ensemble_digest(from, b);
    if (strcmp(a, b) != 0)
        what = "treatments, fibres or populations";
    hf_parameters_digest(into->set, a);
    hf_parameters_digest(from->set, b);
    if (strcmp(a, b) != 0)
        what = "parameters";
    if (into->plan.seed != from->plan.seed)
        what = "seeds";
    if (into->plan.strands != from->plan.strands)
        what = "numbers of strands";
    if (what) {
        snprintf(into->message.text, sizeof into->message.text,
                 "the parts do not belong together: their %s differ", what);
        return HF_EDATA;
    }
    for (size_t i = 0; i < from->count; i++) {
        const size_t number = from->first + i;
        if (!from->is_done[i] || number < into->first || number >= into->first + into->count)
            continue;
        double row[HF_STRAND_COLUMNS];
        for (size_t c = 0; c < HF_STRAND_COLUMNS; c++)
            row[c] = from->column[c][i];
        hfi_ensemble_keep(into, row);
    }
    return HF_OK;
}

/* ---- summaries ------------------------------------------------------------------------------------- */

static int counts(const hf_ensemble *e, size_t i)
{
    return e->is_done[i] && !(e->column[HF_STRAND_STATUS][i] > 0);
}

hf_status hf_ensemble_percentiles(const hf_ensemble *e, hf_strand_column column,
                                  hf_percentiles *out)
{
    if (!e || (unsigned)column >= HF_STRAND_COLUMNS || !out)
        return HF_EINVAL;
    double *values = malloc((e->count + 1) * sizeof *values);
    if (!values)
        return HF_ENOMEM;
    size_t n = 0;
    for (size_t i = 0; i < e->count; i++)
        if (counts(e, i))
            values[n++] = e->column[column][i];
    const hf_status status = hf_percentiles_of(n, values, 1, out);
    free(values);
    return status;
}

hf_status hf_ensemble_share(const hf_ensemble *e, hf_strand_column column, hf_share_interval *out)
{
    if (!e || (unsigned)column >= HF_STRAND_COLUMNS || !out)
        return HF_EINVAL;
    size_t events = 0, n = 0;
    for (size_t i = 0; i < e->count; i++)
        if (counts(e, i) && !isnan(e->column[column][i])) {
            n++;
            events += e->column[column][i] > 0.5;
        }
    return hf_share_of_draws_e(events, n, out);
}

/* ---- digest ---------------------------------------------------------------------------------------- */

/* FNV-1a over the bits of a number; every NaN is the same. */
static uint64_t mix(uint64_t hash, double x)
{
    uint64_t bits = UINT64_C(0x7ff8000000000000);
    if (!isnan(x))
        memcpy(&bits, &x, sizeof bits);
    for (int shift = 0; shift < 64; shift += 8)
        hash = (hash ^ (bits >> shift & 255u)) * UINT64_C(1099511628211);
    return hash;
}

void hf_ensemble_digest(const hf_ensemble *e, char out[17])
{
    const hf_ensemble_plan *p = &e->plan;
    const hf_fibre_description *f = &p->fibre;
    const hf_simulation_options *o = &p->simulation;
    const hf_population *q = &e->population;
    const int many = p->population != NULL;
    const double numbers[] = {
        many ? 0 : f->diameter,
        many ? 0 : f->ellipticity,
        many ? 0 : f->medulla,
        f->measured_humidity,
        f->temperature,
        f->humidity,
        f->regain,
        f->film,
        f->branch,
        f->diffusion_law,
        p->room.temperature,
        p->room.humidity,
        p->room.pressure,
        (double)o->cells,
        o->tolerance,
        o->lumped != 0,
        (double)o->samples,
        (double)o->zones,
        (double)o->max_steps,
        many,
        q->area,
        q->area_spread,
        q->ellipticity,
        q->ellipticity_spread,
        q->medulla_low,
        q->medulla_high,
        p->within_head,
        p->draw_parameters != 0,
        p->pull,
    };
    _Static_assert(sizeof *f == 9 * sizeof(double),
                   "a field of a fibre is missing from the digest");
    uint64_t hash = UINT64_C(14695981039346656037);
    for (size_t i = 0; i < sizeof numbers / sizeof numbers[0]; i++)
        hash = mix(hash, numbers[i]);
    for (size_t i = 0; i < p->step_count; i++) {
        const hf_step *s = &e->steps[i];
        const double step[] = {s->kind,           s->duration,
                               s->temperature,    s->temperature_end,
                               s->humidity,       s->humidity_end,
                               s->speed,          s->air_share,
                               s->film,           s->heat_transfer,
                               s->sides,          s->passes,
                               s->interval,       s->ph,
                               s->ionic_strength, s->concentration,
                               s->peroxide,       s->law,
                               s->cycles,         s->stress};
        _Static_assert(sizeof step == sizeof *s, "a field of a step is missing from the digest");
        for (size_t k = 0; k < sizeof step / sizeof step[0]; k++)
            hash = mix(hash, step[k]);
    }
    for (int i = 15; i >= 0; i--, hash >>= 4)
        out[i] = "0123456789abcdef"[hash & 15u];
    out[16] = '\0';
}
