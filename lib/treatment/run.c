/* Running a schedule: segments of constant conditions, changes of the surface, samples. */
#include "simulation_internal.h"

#include "surroundings.h"

#include "../keratin/properties.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Mean swelling of the diameter, for the surface area of a segment. */
static double mean_swelling(hf_simulation *s, const hfi_view *view)
{
    double area = 0;
    for (size_t i = 0; i < s->mesh->cells; i++) {
        const double lambda = hfi_diameter_ratio(s->values, view->regain[i], NULL);
        area += s->mesh->cell_mass[i] * lambda * lambda;
    }
    return sqrt(area);
}

/* What a segment sees outside, and through how much surface (m2 per kg dry fibre): worked out once, so
 * that nothing jumps where the surface changes within the segment. */
typedef struct outside {
    hfi_surroundings around;
    double area;
} outside;

static hf_status look_outside(hf_simulation *s, const hf_step *step, outside *out)
{
    hfi_view view;
    hfi_system_peek(s->system, s->state, &view);
    const double swelling = mean_swelling(s, &view);
    out->area = 2 * swelling * s->perimeter / (s->material.dry_density * s->dry_radius);
    return hfi_surroundings_of(step, &s->room, s->values, 2 * s->dry_radius * swelling,
                               view.surface_temperature, &out->around);
}

/* Hands over the surroundings from `done` seconds into the segment on. */
static hf_status begin(hf_simulation *s, const outside *out, double done, double duration)
{
    hfi_surroundings now = out->around;
    now.temperature += done * now.temperature_rate;
    now.vapour_pressure += done * now.vapour_rate;
    return hfi_system_begin(s->system, &now, out->area, duration - done, s->state) == HFI_ODE_OK
               ? HF_OK
               : HF_EINTERNAL;
}

hf_status hfi_simulation_begin(hf_simulation *s, const hf_step *step)
{
    outside out;
    const hf_status status = look_outside(s, step, &out);
    return hf_failed(status) ? status : begin(s, &out, 0, step->duration);
}

/* Closes the books of a segment: the boundary counts become totals. */
static void close_books(hf_simulation *s)
{
    double water_out, energy_in, heat_in;
    hfi_system_counts(s->system, s->state, &water_out, &energy_in, &heat_in);
    s->books.water_out += water_out;
    s->books.energy_in += energy_in;
    s->books.water_moved += fabs(water_out);
    s->books.energy_moved += fabs(heat_in) + fabs(energy_in - heat_in);
}

/* Puts on free water of a temperature (K) or takes some off. */
static void set_film(hf_simulation *s, double film, double temperature)
{
    hfi_view view;
    hfi_system_peek(s->system, s->state, &view);
    const double change = film - view.film;
    if (change == 0)
        return;
    const double energy = hfi_system_set_film(s->system, film, temperature, s->state);
    s->books.water_out -= change;
    s->books.energy_in += energy;
    s->books.water_moved += fabs(change);
    s->books.energy_moved += fabs(energy);
}

/* What the observer of the integrator works with. */
typedef struct sampling {
    hf_simulation *s;
    double start, duration; /* of the segment */
    double done;            /* of the segment, before the integrator was started last */
    size_t samples, next;
    hf_status status;
} sampling;

/* Samples lie closer at the start of a segment, where most happens. */
static double sample_time(const sampling *p, size_t k)
{
    const double x = (double)k / (double)p->samples;
    return k == p->samples ? p->duration : p->duration * x * x;
}

/* Voids, damage, chemistry and samples of the last accepted step. */
static hf_status take(sampling *p)
{
    hf_simulation *s = p->s;
    double from, to;
    if (hfi_ode_dense_range(hfi_system_ode(s->system), &from, &to) != HFI_ODE_OK)
        return HF_OK;
    hf_status status = hfi_follow(s, from, to);
    for (; status == HF_OK && p->next <= p->samples; p->next++) {
        /* Rounding must not lose the last sample. */
        double at = sample_time(p, p->next) - p->done;
        if (p->next == p->samples && at <= to * (1 + 1e-12))
            at = fmin(at, to);
        if (at > to)
            break;
        at = fmax(at, from); /* a change of the surface may have fallen on it */
        hfi_follow_at(s, at);
        status = hfi_liquid_follow(s, from, at);
        if (status == HF_OK)
            status = hfi_pulls_follow(s, from, at);
        if (status == HF_OK && hfi_system_at(s->system, at, s->scratch) != HFI_ODE_OK)
            status = HF_EINTERNAL;
        if (status == HF_OK)
            status = hfi_record_sample(s, p->start + sample_time(p, p->next), at, s->scratch);
        from = fmax(from, at);
    }
    hfi_follow_at(s, to);
    if (status == HF_OK)
        status = hfi_liquid_follow(s, from, to);
    return status == HF_OK ? hfi_pulls_follow(s, from, to) : status;
}

static int observe(hfi_ode *ode, const hfi_ode_hit *hit, void *user)
{
    (void)ode;
    sampling *p = user;
    if (hit)
        return 0;
    p->status = take(p);
    return p->status != HF_OK;
}

static void add_statistics(hf_simulation *s, const hfi_ode_statistics *before)
{
    hfi_ode_statistics now;
    hfi_ode_get_statistics(hfi_system_ode(s->system), &now);
    s->statistics.steps += now.steps - before->steps;
    s->statistics.rejected += now.rejected - before->rejected;
    s->statistics.rates += now.rates - before->rates;
    s->statistics.jacobians += now.jacobians - before->jacobians;
    s->statistics.factors += now.factors - before->factors;
    s->statistics.solves += now.solves - before->solves;
}

#define FREEZING 273.15 /* K */

/* Turns a failure of the integrator into a status and a sentence. */
static hf_status explain(hf_simulation *s, int ode_status)
{
    const size_t n = s->mesh->cells;
    if (ode_status == HFI_ODE_STOPPED) {
        snprintf(s->message.text, sizeof s->message.text,
                 "stopped on request at %.6g s in step %zu; what was computed so far is kept",
                 s->time + hfi_ode_time(hfi_system_ode(s->system)), s->step);
        return HF_ESTOPPED;
    }
    hfi_ode_failure failure;
    hfi_ode_get_failure(hfi_system_ode(s->system), &failure);
    static const char *const cause[] = {
        "no reason given",
        "the error could not be brought below the tolerance",
        "a trial state left the range of the equations",
        "a regain would have become negative",
        "a number was not finite",
        "the linear system was singular",
    };
    const char *why = ode_status == HFI_ODE_TOO_MANY_STEPS ? "more integrator steps than allowed"
                      : ode_status == HFI_ODE_EVENT ? "water on the surface came and went too often"
                                                    : cause[failure.cause];
    hfi_view view;
    hfi_system_peek(s->system, s->state, &view);
    size_t cell = failure.component / (s->options.lumped ? 1 : 2);
    int located = failure.located && ode_status != HFI_ODE_TOO_MANY_STEPS;
    if (failure.cause == HFI_ODE_CAUSE_INVALID) {
        located = 1;
        cell = 0;
        for (size_t i = 1; i < n; i++)
            cell = view.regain[i] < view.regain[cell] ? i : cell;
    } else if (failure.cause == HFI_ODE_CAUSE_REFUSED) {
        located = 1;
        cell = n;
        if (view.surface_temperature < FREEZING + 0.5)
            why = "water at the surface would freeze, which the equations leave out";
    }
    char where[64] = "";
    if (located && cell < n)
        snprintf(where, sizeof where, ", cell %zu of %zu from the axis", cell + 1, n);
    else if (located)
        snprintf(where, sizeof where, ", at the surface");
    snprintf(
        s->message.text, sizeof s->message.text,
        "the computation stopped at %.6g s in step %zu%s: %s; what was computed so far is kept",
        s->time + hfi_ode_time(hfi_system_ode(s->system)), s->step, where, why);
    return HF_ECONVERGE;
}

/* The surface may change this often within a segment before something is taken to be wrong. */
#define CHANGES_MOST 200

/* What a film begins with, kg/kg: no water to speak of, but enough that its end can be told. */
#define FIRST_FILM 1e-12

/* The film came or went: note it and go on with the other surface. */
static hf_status change_surface(hf_simulation *s, int gone, double reached)
{
    hfi_view view;
    hfi_system_peek(s->system, s->state, &view);
    hfi_system_set_mode(s->system, gone ? HFI_SURFACE_BARE : HFI_SURFACE_FILM, s->state);
    set_film(s, gone ? 0 : FIRST_FILM, view.surface_temperature);
    return hfi_record_event(s, gone ? HF_EVENT_FILM_GONE : HF_EVENT_FILM_FORMS, s->time + reached);
}

/* Begins, with a film where water condenses from the first moment on. */
static hf_status begin_on_surface(hf_simulation *s, const outside *out, double done,
                                  double duration)
{
    hf_status status = begin(s, out, done, duration);
    hfi_view view;
    if (status != HF_OK || hfi_system_view(s->system, 0, s->state, &view) || !view.condensing)
        return status;
    status = change_surface(s, 0, 0);
    return status == HF_OK ? begin(s, out, done, duration) : status;
}

/* One stretch under the same surroundings; the surface may change within it. */
static hf_status run_segment(hf_simulation *s, const hf_step *step, size_t samples)
{
    const double start = s->time;
    sampling p = {
        .s = s, .start = start, .duration = step->duration, .samples = samples, .next = 1};
    outside out;
    hf_status status = look_outside(s, step, &out);
    if (hf_failed(status))
        return status;
    for (int changes = 0;; changes++) {
        s->time = start + p.done;
        status = begin_on_surface(s, &out, p.done, step->duration);
        if (status != HF_OK)
            return status;
        hfi_ode_statistics before;
        hfi_ode_get_statistics(hfi_system_ode(s->system), &before);
        const int ode_status =
            hfi_system_advance(s->system, step->duration - p.done, observe, &p, s->state);
        add_statistics(s, &before);
        const double reached = hfi_ode_time(hfi_system_ode(s->system));
        close_books(s);
        hfi_system_level(s->system, s->state);
        if (p.status != HF_OK)
            return p.status;
        if (ode_status == HFI_ODE_OK)
            break;
        status = ode_status == HFI_ODE_EVENT && changes < CHANGES_MOST
                     ? change_surface(s, hfi_system_hit(s->system) == HFI_EVENT_FILM_GONE, reached)
                     : explain(s, ode_status);
        p.done += reached;
        if (hf_failed(status)) {
            s->time = start + p.done;
            return status;
        }
        if (p.done >= step->duration)
            break;
    }
    s->time = start + step->duration;
    return HF_OK;
}

/* Samples per segment, so that the record stays bounded however many passes there are. */
static size_t samples_for(const hf_simulation *s, double segments)
{
    const double left = fmax(HFI_SAMPLES_MAX - (double)s->record.samples, 0) / segments;
    return (size_t)fmax(2, fmin((double)s->options.samples, left));
}

static hf_status run_plates(hf_simulation *s, const hf_step *step)
{
    const int pauses = step->interval > 0;
    const size_t samples = samples_for(s, step->passes * (1 + pauses));
    hf_step pause = HF_STEP_INIT(HF_STEP_REST, step->interval);
    for (double pass = 1; pass <= step->passes; pass++) {
        hf_status status = run_segment(s, step, samples);
        if (status == HF_OK && pauses && pass < step->passes)
            status = run_segment(s, &pause, samples);
        if (status != HF_OK)
            return status;
    }
    return HF_OK;
}

static hf_status run_blot(hf_simulation *s, const hf_step *step)
{
    hfi_view view;
    hfi_system_peek(s->system, s->state, &view);
    const double left = isnan(step->film) ? s->values[HFI_TREATMENT_FILM_BLOTTED] : step->film;
    set_film(s, fmin(view.film, left), view.surface_temperature);
    hfi_system_set_mode(s->system, fmin(view.film, left) > 0 ? HFI_SURFACE_FILM : HFI_SURFACE_BARE,
                        s->state);
    const hf_step rest = HF_STEP_INIT(HF_STEP_REST, 1.0);
    const hf_status status = hfi_simulation_begin(s, &rest);
    return hf_failed(status) ? status : hfi_record_sample(s, s->time, 0, s->state);
}

static hf_status run_step(hf_simulation *s, const hf_step *step)
{
    hf_status status;
    double clinging;
    switch (step->kind) {
    case HF_STEP_BLOT:
        return run_blot(s, step);
    case HF_STEP_PLATES:
        return run_plates(s, step);
    case HF_STEP_SOAK:
    case HF_STEP_BATH:
    case HF_STEP_BLEACH:
    case HF_STEP_REDUCE:
    case HF_STEP_NEUTRALISE:
    case HF_STEP_RINSE:
        /* A film is part of the bath from now on. */
        set_film(s, 0, step->temperature);
        hfi_system_set_mode(s->system, HFI_SURFACE_BATH, s->state);
        status = hfi_liquid_begin(s, step);
        if (status == HF_OK)
            status = run_segment(s, step, samples_for(s, 1));
        hfi_liquid_end(s);
        clinging = s->values[HFI_TREATMENT_FILM_CLINGING];
        hfi_system_set_mode(s->system, clinging > 0 ? HFI_SURFACE_FILM : HFI_SURFACE_BARE,
                            s->state);
        set_film(s, clinging,
                 isnan(step->temperature_end) ? step->temperature : step->temperature_end);
        return status;
    case HF_STEP_PULL:
        hfi_pulls_begin(s, step);
        status = run_segment(s, step, samples_for(s, 1));
        hfi_pulls_end(s);
        return status;
    default:
        return run_segment(s, step, samples_for(s, 1));
    }
}

/* Samples of a schedule, or the most that are kept. */
static size_t samples_of(const hf_simulation *s, const hf_step *steps, size_t n)
{
    double sum = 0;
    for (size_t i = 0; i < n; i++)
        sum += steps[i].kind == HF_STEP_BLOT ? 1
               : steps[i].kind == HF_STEP_PLATES
                   ? (2 * steps[i].passes - 1) * (double)s->options.samples
                   : (double)s->options.samples;
    return (size_t)fmin(sum, HFI_SAMPLES_MAX);
}

hf_status hf_simulation_run(hf_simulation *s, const hf_step *steps, size_t n)
{
    if (!s || (!steps && n))
        return HF_EINVAL;
    s->message.text[0] = '\0';
    for (size_t i = 0; i < n; i++) {
        hf_message why;
        hf_status status = hf_step_check(&steps[i], &s->room, &why);
        if (status == HF_OK && steps[i].kind == HF_STEP_PULL &&
            !(s->values[HFI_STRENGTH_FATIGUE_READ] > 0.5)) {
            status = HF_ENOMODEL;
            snprintf(why.text, sizeof why.text,
                     "pull: no validated model: no fatigue lives of such hair were read");
        }
        if (status != HF_OK) {
            snprintf(s->message.text, sizeof s->message.text, "step %zu, %.280s", i + 1, why.text);
            return status;
        }
    }
    if (hfi_record_reserve(&s->record, s->mesh->cells, samples_of(s, steps, n)) != HF_OK) {
        snprintf(s->message.text, sizeof s->message.text, "%s", hf_status_text(HF_ENOMEM));
        return HF_ENOMEM;
    }
    for (size_t i = 0; i < n; i++) {
        s->step++;
        hf_status status = hfi_record_event(s, HF_EVENT_STEP, s->time);
        if (status == HF_OK)
            status = run_step(s, &steps[i]);
        if (status != HF_OK) {
            if (!s->message.text[0])
                snprintf(s->message.text, sizeof s->message.text, "step %zu, %s: %s", i + 1,
                         hf_step_word(steps[i].kind), hf_status_text(status));
            return status;
        }
    }
    return HF_OK;
}
