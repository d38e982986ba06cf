/* A treatment out of bytes: fibre, room, options and steps, mostly near what the library accepts. */
#ifndef HF_FUZZ_TREAT_KIT_H
#define HF_FUZZ_TREAT_KIT_H

#include "reader.h"

#include <math.h>

#define FZ_STEPS_MAX 6

static inline hf_fibre_description fz_fibre(fz_reader *r)
{
    hf_fibre_description d = HF_FIBRE_DESCRIPTION_INIT;
    const unsigned given = fz_byte(r);
    if (given & 1)
        d.diameter = fz_within(r, 30e-6, 240e-6);
    if (given & 2)
        d.measured_humidity = fz_within(r, 0, 1);
    if (given & 4)
        d.ellipticity = fz_within(r, 1, 3);
    if (given & 8)
        d.medulla = fz_within(r, 0, 0.5);
    if (given & 16)
        d.temperature = fz_within(r, 273.16, 423.15);
    if (given & 32) {
        d.humidity = (double)NAN;
        d.regain = fz_within(r, 0, 0.4);
    } else if (given & 64) {
        d.humidity = fz_within(r, 0, 1);
    }
    if (given & 128) {
        d.film = fz_within(r, 0, 1);
        d.branch = (hf_branch)(fz_byte(r) % 3);
        d.diffusion_law = (int)fz_byte(r) % 5 - 1;
    }
    return d;
}

static inline hf_room fz_room(fz_reader *r)
{
    hf_room room = HF_ROOM_INIT;
    if (fz_byte(r) & 1) {
        room.temperature = fz_within(r, 278.15, 323.15);
        room.humidity = fz_within(r, 0, 0.99);
        room.pressure = fz_within(r, 5e4, 1.1e5);
    }
    return room;
}

/* Small enough that a run takes milliseconds; max_steps bounds the rest. */
static inline hf_simulation_options fz_options(fz_reader *r)
{
    hf_simulation_options o = HF_SIMULATION_OPTIONS_INIT;
    o.cells = 20 + fz_byte(r) % 12;
    o.tolerance = fz_byte(r) & 1 ? 1e-3 : fz_within(r, 1e-4, 1e-2);
    if (!(o.tolerance > 1e-4))
        o.tolerance = 1e-4;
    o.lumped = fz_byte(r) % 4 == 0;
    o.samples = 2 + fz_byte(r) % 8;
    o.zones = 2 + fz_byte(r) % 6;
    o.keep_profiles = fz_byte(r) % 2;
    o.max_steps = 400;
    return o;
}

static inline hf_step fz_step(fz_reader *r)
{
    hf_step s = HF_STEP_INIT((hf_step_kind)(fz_byte(r) % (HF_STEP_KINDS + 1)), 1.0);
    const unsigned given = fz_byte(r) << 8 | fz_byte(r);
    const int liquid = s.kind == HF_STEP_SOAK || s.kind >= HF_STEP_BATH;
    if (s.kind == HF_STEP_BLOT)
        s.duration = 0;
    else
        s.duration = pow(10, fz_within(r, -3, 5));
    if (s.kind != HF_STEP_REST && s.kind != HF_STEP_BLOT)
        s.temperature = liquid ? fz_within(r, 274.15, 372.15) : fz_within(r, 275.15, 523.15);
    if (given & 1)
        s.temperature_end = liquid ? fz_within(r, 274.15, 372.15) : fz_within(r, 275.15, 523.15);
    if (given & 2)
        s.humidity = fz_within(r, 0, 1);
    if (given & 4)
        s.humidity_end = fz_within(r, 0, 1);
    if (given & 8)
        s.speed = fz_within(r, 0, 40);
    if (given & 16)
        s.air_share = fz_within(r, 0.002, 1);
    if (given & 32)
        s.heat_transfer = fz_within(r, 1, 1e5);
    if (given & 64)
        s.sides = fz_within(r, 1, 2);
    if (given & 128)
        s.passes = fz_within(r, 1, 4);
    if (given & 256)
        s.interval = fz_within(r, 0, 10);
    if (s.kind == HF_STEP_BLOT || (given & 512))
        s.film = fz_within(r, 0, 0.5);
    if (s.kind >= HF_STEP_BATH || (given & 1024))
        s.ph = fz_within(r, 2, 12);
    if (given & 2048)
        s.ionic_strength = fz_within(r, 0, 5000);
    if (s.kind == HF_STEP_REDUCE || (given & 4096))
        s.concentration = fz_within(r, 0, 3000);
    if (s.kind == HF_STEP_PULL) {
        s.cycles = pow(10, fz_within(r, 0, 7));
        s.stress = fz_within(r, 1e6, 2.5e8);
    }
    if (s.kind == HF_STEP_BLEACH || (given & 8192))
        s.peroxide = fz_within(r, 0, 0.35);
    if (given & 16384)
        s.law = fz_within(r, 0, 1);
    return s;
}

#endif
