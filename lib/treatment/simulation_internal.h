/* Insides of hf_simulation, shared by the files of this room. */
#ifndef HFI_SIMULATION_INTERNAL_H
#define HFI_SIMULATION_INTERNAL_H

#include <hairfibre/treatment.h>

#include "../base/catalogue.h"
#include "../bonds/channels.h"
#include "../transport/system.h"
#include "../water/water.h"

#include "fatigue.h"
#include "hot.h"
#include "liquid.h"

#define HFI_ZONES_MAX   32
#define HFI_SAMPLES_MAX 4000

/* A zone at one time: temperature, regain, vapour pressure over ambient (Pa), surface tension (N/m) and
 * 1/(4 viscosity) where they are needed (NaN before), rates of the channels. */
typedef struct hfi_instant {
    double T, w, drive, tension, yield, rate[HF_CHANNELS];
} hfi_instant;

/* A radius at which voids and damage are followed. */
typedef struct hfi_zone {
    size_t cell;
    double radius;       /* over that of the fibre */
    double weight;       /* share of the dry mass it stands for */
    double first_radius; /* of a void there, m */
    double growth;       /* ln(r/r0) */
    double exposure[HF_CHANNELS];
} hfi_zone;

/* What grew during the last step of the integrator, growth first, then the exposures: at its start and end, and
 * how fast (per step). */
typedef struct hfi_span {
    double from[1 + HF_CHANNELS], to[1 + HF_CHANNELS];
    double start_rate[1 + HF_CHANNELS], end_rate[1 + HF_CHANNELS];
} hfi_span;

/* Columns and profiles of all samples; grows by doubling. */
typedef struct hfi_record {
    size_t samples, room;
    double *column[HF_COLUMNS];
    double *profile; /* room x 2 cells: regain, temperature; NULL when not kept */
    hf_event *event;
    size_t events, event_room;
} hfi_record;

/* What entered and left since the start, and the balances that follow. */
typedef struct hfi_books {
    double water_held, energy_held; /* at the start, per kg dry fibre */
    double water_out, energy_in;    /* since then, closed segments */
    double water_moved, energy_moved;
    double water_error, energy_error; /* largest so far */
} hfi_books;

struct hf_simulation {
    double values[HFI_PARAMETERS];
    hf_fibre_description fibre;
    hf_room room;
    hf_simulation_options options;
    double dry_radius, perimeter;

    hfi_material material;
    hfi_hot hot; /* prepared when first needed */
    hfi_mesh *mesh;
    hfi_system *system;

    double time;     /* s, start of the present segment */
    size_t step;     /* number of the present step, from 1 */
    double *state;   /* regains, temperatures are in the system; see system.h */
    double *scratch; /* one state */

    hfi_channel_laws laws;
    hfi_zone zone[HFI_ZONES_MAX];
    hfi_instant seen[HFI_ZONES_MAX]; /* the zones where follow.c stopped, at the time `followed` */
    hfi_instant middle[HFI_ZONES_MAX], end[HFI_ZONES_MAX]; /* of the step under way */
    hfi_tension tension;
    double followed; /* s into the segment; NaN: too cold to look */
    hfi_span span[HFI_ZONES_MAX];
    double span_from, span_to;           /* s into the segment */
    double peak_temperature, peak_drive; /* at any zone of a hot step: K, and Pa over ambient */
    int still;                           /* nothing grew during the last step */
    int moved;                           /* voids or damage, since the last sample */
    double void_radius;                  /* of the largest at the last sample, m */
    int boiling, voids; /* whether those events have been reported and still hold */
    int extrapolated;   /* bits of hf_beyond */

    /* Counting of swelling cycles: last turning value of the mean regain and its direction. */
    double turning;
    int rising, cycles;

    hfi_liquid liquid;
    hfi_pulls fatigue;

    hfi_books books;
    hfi_record record;
    hf_simulation_statistics statistics;
    hf_message message;
};

/* run.c: hands the surroundings of a step to the system, from the present state. */
hf_status hfi_simulation_begin(hf_simulation *s, const hf_step *step);

/* record.c */
hf_status hfi_record_start(hfi_record *record, size_t cells, int keep_profiles);
hf_status hfi_record_copy(hfi_record *out, const hfi_record *from, size_t cells);
void hfi_record_free(hfi_record *record);
/* Makes room for more samples at once. */
hf_status hfi_record_reserve(hfi_record *record, size_t cells, size_t samples);
hf_status hfi_record_event(hf_simulation *s, hf_event_kind kind, double time);
/* Adds a sample of the state at `time`, `offset` s after the integrator was started. */
hf_status hfi_record_sample(hf_simulation *s, double time, double offset, const double *state);
size_t hfi_record_bytes(const hfi_record *record, size_t cells);

/* follow.c: voids and damage along the last accepted step of the integrator. */
void hfi_zones_start(hf_simulation *s);
hf_status hfi_follow(hf_simulation *s, double from, double to);
/* Sets the zones to a time within the step followed last. */
void hfi_follow_at(hf_simulation *s, double t);

#endif
