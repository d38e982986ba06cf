/*
 * Which inputs decide what becomes of a strand: the section (of a population), the strand's own strength, and the rows
 * of the catalogue that a treatment uses, put through one treatment after the other.
 */
#include "ensemble.h"

#include "../inference/analysis.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#define PI 3.14159265358979323846

enum { OWN = 4 }; /* most inputs of the strand itself: area, ellipticity, medulla, strength */

typedef struct own_input {
    hf_factor factor;
    double low, high;
} own_input;

/* Everything of one analysis. Inputs: those of the strand first, then the rows. */
typedef struct subject {
    hf_ensemble *ensemble;
    hfi_strand_worker worker;
    hf_strand_column answer;
    size_t own, count, factors;
    own_input own_input[OWN];
    hf_variate variate[HF_INPUTS_MAX];
    size_t factor[HF_INPUTS_MAX];
    hf_effect effect[HF_INPUTS_MAX];
} subject;

static void add_own(subject *s, const char *name, const char *unit, const hfi_variate *v)
{
    s->own_input[s->own++] =
        (own_input){{name, unit, v->value, v->spread, v->distribution}, v->low, v->high};
}

/* Inputs of the strand that move, and in which order hf_strand_factors names them. */
static void gather(subject *s)
{
    const hf_ensemble *e = s->ensemble;
    const int strength = s->answer == HF_STRAND_BREAK_FORCE || s->answer == HF_STRAND_BREAKS;
    const hfi_variate luck = {HF_UNIFORM, 0.5, 0.5, 0, 1, 0, 1};
    if (e->plan.population) {
        add_own(s, "area", "m2", &e->area);
        add_own(s, "ellipticity", "1", &e->ellipticity);
        add_own(s, "medulla", "1", &e->medulla);
    }
    if (strength)
        add_own(s, "strength of the strand", "1", &luck);
    for (size_t i = 0; i < s->own; i++) {
        const hf_factor *f = &s->own_input[i].factor;
        s->variate[i] = (hf_variate){f->name,   f->distribution,     f->value,
                                     f->spread, s->own_input[i].low, s->own_input[i].high};
        s->factor[i] = i;
    }
    const hfi_inputs *rows = s->worker.inputs;
    s->count = s->own + (rows ? rows->count : 0);
    s->factors = s->own + (rows ? rows->factors : 0);
    for (size_t i = s->own; i < s->count; i++) {
        const hfi_variate *v = &rows->input[i - s->own].variate;
        s->variate[i] = (hf_variate){NULL, v->distribution, v->value, v->spread, v->low, v->high};
        s->factor[i] = s->own + rows->input[i - s->own].factor;
    }
}

static void close_subject(subject *s)
{
    if (!s)
        return;
    hfi_strand_close(&s->worker);
    hf_ensemble_free(s->ensemble);
    free(s);
}

static hf_status open_subject(subject **out, const hf_ensemble_plan *plan, const hf_parameters *set,
                              hf_strand_column answer, const volatile sig_atomic_t *stop,
                              hf_message *message)
{
    if (!plan || (unsigned)answer >= HF_STRAND_COLUMNS || answer <= HF_STRAND_STATUS)
        return HF_EINVAL;
    subject *s = calloc(1, sizeof *s);
    if (!s)
        return HF_ENOMEM;
    hf_ensemble_plan one = *plan;
    one.strands = one.parts = one.part = 1;
    s->answer = answer;
    hf_status status = hf_ensemble_new(&s->ensemble, &one, set, message);
    if (status == HF_OK)
        status = hfi_strand_open(&s->worker, s->ensemble, stop);
    if (status == HF_OK)
        gather(s);
    if (status == HF_OK && s->count > HF_INPUTS_MAX) {
        if (message)
            snprintf(message->text, sizeof message->text, "more than %d inputs", HF_INPUTS_MAX);
        status = HF_ERANGE;
    }
    if (status != HF_OK) {
        close_subject(s);
        return status;
    }
    *out = s;
    return HF_OK;
}

static hf_status treat(const double *x, void *user, double *y)
{
    subject *s = user;
    hfi_strand strand = {s->ensemble->plan.fibre, 0.5, s->ensemble->set};
    double row[HF_STRAND_COLUMNS];
    hf_message why;
    size_t i = 0;
    if (s->ensemble->plan.population) {
        strand.fibre.diameter = sqrt(4 * x[i++] / PI);
        strand.fibre.ellipticity = x[i++];
        strand.fibre.medulla = x[i++];
    }
    if (i < s->own)
        strand.luck = x[i++];
    if (s->worker.inputs) {
        if (!hfi_inputs_put(s->worker.inputs, x + i))
            return HF_ERANGE;
        strand.set = s->worker.inputs->set;
    }
    const hf_status status = hfi_strand_treat(&s->worker, &strand, row, &why);
    *y = row[s->answer];
    return status;
}

hf_status hf_strand_factors(const hf_ensemble_plan *plan, const hf_parameters *set,
                            hf_strand_column answer, hf_factor *out, size_t *count,
                            hf_message *message)
{
    subject *s = NULL;
    if (!count)
        return HF_EINVAL;
    const hf_status status = open_subject(&s, plan, set, answer, NULL, message);
    if (status != HF_OK)
        return status;
    *count = s->factors;
    for (size_t i = 0; out && i < s->own; i++)
        out[i] = s->own_input[i].factor;
    if (out && s->worker.inputs)
        hfi_inputs_describe(s->worker.inputs, out + s->own);
    close_subject(s);
    return HF_OK;
}

static hf_status nothing(hf_message *message)
{
    if (message)
        snprintf(message->text, sizeof message->text, "no input of this treatment has a spread");
    return HF_EDATA;
}

hf_status hf_strand_sobol_indices(const hf_ensemble_plan *plan, const hf_parameters *set,
                                  hf_strand_column answer, const hf_sensitivity_options *options,
                                  const volatile sig_atomic_t *stop, hf_index *out,
                                  hf_sensitivity *summary, hf_message *message)
{
    hf_sensitivity_options o = HF_SENSITIVITY_OPTIONS_INIT;
    subject *s = NULL;
    if (options)
        o = *options;
    hf_status status = out ? open_subject(&s, plan, set, answer, stop, message) : HF_EINVAL;
    if (status != HF_OK)
        return status;
    o.factor = s->factor;
    status = s->count ? hf_sobol_indices(s->count, s->variate, treat, s, &o, out, summary, message)
                      : nothing(message);
    close_subject(s);
    return status;
}

hf_status hf_strand_morris_effects(const hf_ensemble_plan *plan, const hf_parameters *set,
                                   hf_strand_column answer, const hf_screening_options *options,
                                   const volatile sig_atomic_t *stop, hf_effect *out,
                                   hf_sensitivity *summary, hf_message *message)
{
    subject *s = NULL;
    hf_status status = out ? open_subject(&s, plan, set, answer, stop, message) : HF_EINVAL;
    if (status != HF_OK)
        return status;
    status = s->count ? hf_morris_effects(s->count, s->variate, treat, s, options, s->effect,
                                          summary, message)
                      : nothing(message);
    if (status == HF_OK) {
        hfi_largest_effects(s->count, s->factor, s->effect, s->factors, out);
        if (summary)
            summary->factors = s->factors;
    }
    close_subject(s);
    return status;
}
