/* What tests of treatments share: fibres, simulations and steps in a line each. */
#ifndef HFI_TESTS_TREATMENT_KIT_H
#define HFI_TESTS_TREATMENT_KIT_H

#include "check.h"

#include <hairfibre/treatment.h>

#include <stdlib.h>
#include <string.h>

#define NOT_GIVEN   ((double)NAN)
#define COUNT_OF(a) (sizeof(a) / sizeof(a)[0])

static inline double K(double celsius)
{
    return celsius + 273.15;
}

static inline hf_simulation *simulate(const hf_fibre_description *fibre_or_usual,
                                      const hf_room *room, const hf_simulation_options *options)
{
    static const hf_fibre_description usual = HF_FIBRE_DESCRIPTION_INIT;
    hf_fibre *fibre;
    hf_simulation *s = NULL;
    hf_message message;
    if (hf_fibre_new(&fibre, fibre_or_usual ? fibre_or_usual : &usual, NULL, &message) != HF_OK)
        fail_msg("%s", message.text);
    if (hf_simulation_new(&s, fibre, room, options, &message) != HF_OK)
        fail_msg("%s", message.text);
    hf_fibre_free(fibre);
    return s;
}

/* A usual fibre that starts at this regain and temperature (degC). */
static inline hf_simulation *simulate_at(double regain, double celsius)
{
    hf_fibre_description d = HF_FIBRE_DESCRIPTION_INIT;
    d.regain = regain;
    d.temperature = K(celsius);
    return simulate(&d, NULL, NULL);
}

static inline void run(hf_simulation *s, const hf_step *steps, size_t n)
{
    if (hf_simulation_run(s, steps, n) != HF_OK)
        fail_msg("%s", hf_simulation_message(s));
}

static inline void run_one(hf_simulation *s, hf_step step)
{
    run(s, &step, 1);
}

static inline double last(const hf_simulation *s, hf_column column)
{
    return hf_simulation_column(s, column)[hf_simulation_samples(s) - 1];
}

/* Time of the first event of a kind; NaN when there was none. */
static inline double time_of_event(const hf_simulation *s, hf_event_kind kind)
{
    hf_event event;
    for (size_t i = 0; hf_simulation_event(s, i, &event) == HF_OK; i++)
        if (event.kind == kind)
            return event.time;
    return NOT_GIVEN;
}

/* ---- steps, seconds and degC ------------------------------------------------------------------------ */

static inline hf_step at(hf_step_kind kind, double seconds, double celsius)
{
    hf_step step = HF_STEP_INIT(kind, seconds);
    step.temperature = K(celsius);
    return step;
}

static inline hf_step soak(double seconds, double celsius)
{
    return at(HF_STEP_SOAK, seconds, celsius);
}

static inline hf_step blot(double film)
{
    hf_step step = HF_STEP_INIT(HF_STEP_BLOT, 0);
    step.film = film;
    return step;
}

static inline hf_step rest(double seconds)
{
    return (hf_step)HF_STEP_INIT(HF_STEP_REST, seconds);
}

static inline hf_step air(double seconds, double celsius, double humidity, double speed)
{
    hf_step step = at(HF_STEP_AIR, seconds, celsius);
    step.humidity = humidity;
    step.speed = speed;
    return step;
}

static inline hf_step plates(double seconds, double celsius, double passes, double interval)
{
    hf_step step = at(HF_STEP_PLATES, seconds, celsius);
    step.passes = passes;
    step.interval = interval;
    return step;
}

/* ---- a fixed sequence of numbers (splitmix64) ------------------------------------------------------- */

static inline double draw(uint64_t *seed, double low, double high)
{
    uint64_t z = *seed += 0x9E3779B97F4A7C15u;
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9u;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBu;
    return low + (high - low) * ((double)((z ^ (z >> 31)) >> 11) * 0x1p-53);
}

#endif
