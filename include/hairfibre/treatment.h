/*
 * treatment: what happens inside a fibre, second by second, while it is soaked, blotted, dried in air,
 * steamed, pressed between plates and left to rest.
 *
 * A fibre is given once; a simulation carries its state through schedules of steps, in any order and
 * number, and can be copied to branch. Heat and water are balanced across the radius (room transport);
 * voids and every damage channel follow along, each by itself. Nothing here is advice: cut strands on
 * a stand only, hot tools burn, wet hair under a plate throws out steam.
 *
 * Marks: answers above 150 degC extrapolate the isotherm; viscosity of hot wet keratin is calibrated to
 * two published thresholds, not measured. Void growth is an expected growth, never a promise.
 */
#ifndef HAIRFIBRE_TREATMENT_H
#define HAIRFIBRE_TREATMENT_H

#include <signal.h>
#include <stddef.h>

#include <hairfibre/base.h>
#include <hairfibre/bonds.h>
#include <hairfibre/chemistry.h>
#include <hairfibre/keratin.h>

#ifdef __cplusplus
extern "C" {
#endif

/* ---- fibre ----------------------------------------------------------------------------------- */

typedef struct hf_fibre hf_fibre;

/* What a fibre is. HF_FIBRE_DESCRIPTION_INIT gives the usual values; NaN in humidity or regain means
 * "not given" (give one of the two for the starting state). */
typedef struct hf_fibre_description {
    double diameter;          /* m, of the circle of equal area; 30e-6 .. 240e-6 */
    double measured_humidity; /* at which that diameter holds (20 degC); 0: bone dry */
    double ellipticity;       /* major over minor axis, 1 .. 3; sets the true perimeter */
    double medulla;           /* share of the cross-section, 0 .. 0.5 */
    double temperature;       /* K, at the start */
    double humidity;          /* conditioned at, at the start */
    double regain;            /* or the regain at the start, 0 .. liquid retention */
    double film;              /* free water at the start, kg per kg dry fibre */
    hf_branch branch;         /* isotherm that holds at the surface */
    int diffusion_law;        /* 0 saturating (the catalogue's), 1 exponential, 2 constant */
} hf_fibre_description;

#define HF_FIBRE_DESCRIPTION_INIT                                                                  \
    {                                                                                              \
        70e-6, 0.65, 1.0, 0.03, 293.15, 0.65, (0.0 / 0.0), 0, HF_ABSORPTION, 0                     \
    }

/** New fibre; copies description and set. HF_EINVAL, HF_ERANGE, HF_ENOMEM with a sentence in
 *  `message` (may be NULL). */
HF_API hf_status hf_fibre_new(hf_fibre **out, const hf_fibre_description *description,
                              const hf_parameters *set, hf_message *message) HF_MUST_CHECK;

/** Frees; NULL is fine. */
HF_API void hf_fibre_free(hf_fibre *fibre);

/* ---- schedule -------------------------------------------------------------------------------- */

/* kind, word, meaning */
#define HF_STEP_LIST(X)                                                                            \
    X(HF_STEP_SOAK, "soak", "in liquid water")                                                     \
    X(HF_STEP_BLOT, "blot", "free water taken off the surface, at once")                           \
    X(HF_STEP_AIR, "air", "in still or moving air of a given humidity")                            \
    X(HF_STEP_STEAM, "steam", "in a mixture of steam and air")                                     \
    X(HF_STEP_PLATES, "plates", "between hot plates, in passes")                                   \
    X(HF_STEP_REST, "rest", "in the still air of the room")                                        \
    X(HF_STEP_PULL, "pull", "pulled to a stress again and again, in the still air of the room")    \
    X(HF_STEP_BATH, "bath", "in water of a given pH and salt")                                     \
    X(HF_STEP_BLEACH, "bleach", "in alkaline peroxide")                                            \
    X(HF_STEP_REDUCE, "reduce", "in thioglycolate, which opens disulfide bonds")                   \
    X(HF_STEP_NEUTRALISE, "neutralise", "in an oxidant, which joins them again")                   \
    X(HF_STEP_RINSE, "rinse", "in clean water")

typedef enum hf_step_kind {
#define HF_STEP_ENUM(id, word, text) id,
    HF_STEP_LIST(HF_STEP_ENUM)
#undef HF_STEP_ENUM
        HF_STEP_KINDS
} hf_step_kind;

/** Word for a kind of step ("plates"); NULL past the end. */
HF_API const char *hf_step_word(hf_step_kind kind);

/* One step. HF_STEP_INIT fills everything with "not given" (NaN) or the usual value; each kind reads
 * only what its line names. A second value (…_end) makes a linear ramp over the step. A liquid (soak
 * and the last five kinds) has a temperature of 274.15 .. 372.15 K, a bleach up to 333.15 K. Steps may
 * come in any order: to neutralise what was not reduced changes nothing. */
typedef struct hf_step {
    hf_step_kind kind;
    double duration; /* s; 1e-3 .. 2.6e6 (30 days); blot: 0. plates: of one pass */
    double temperature,
        temperature_end;           /* K: air 275.15 .. 523.15, steam and plates 313.15 .. 523.15 */
    double humidity, humidity_end; /* air: at its own temperature, below 100 degC; NaN: air of
                                            the room, warmed */
    double speed;                  /* air, steam: m/s, 0 .. 40; 0: still */
    double air_share;              /* steam: share of air in the mixture, 0.002 .. 1 */
    double film;                   /* blot: free water left, kg/kg */
    double heat_transfer;          /* W/(m2 K), 1 .. 1e5; NaN: from the correlations (air,
                                            steam, rest) or the catalogue (soak, plates) */
    double sides;                  /* plates: 2 heated from both sides, 1 from one */
    double passes, interval;       /* plates: number of passes, pause between them in s */
    double ph;                     /* pH. bath: 0 .. 14, above 10.5 no model; bleach: 8 .. 12;
                                            reduce: 7 .. 12; neutralise, rinse: NaN is 7 */
    double ionic_strength;         /* the last five: mol/m3 of added 1:1 salt, 0 .. 5000 */
    double concentration;          /* reduce: mol/m3 of thiol, 0 .. 3000 */
    double peroxide;               /* bleach: kg hydrogen peroxide per kg bath, 0 .. 0.35 */
    double law;                    /* reduce: 0 uniform, 1 sharp front; bleach: 0 root of time,
                                            1 steady */
    double cycles, stress;         /* pull: number of pulls, evenly over the step, 1 .. 1e7;
                                            Pa, over the section as measured, 1e6 .. 2.5e8 */
} hf_step;

#define HF_STEP_INIT(kind, duration)                                                               \
    {                                                                                              \
        (kind), (duration), (0.0 / 0.0), (0.0 / 0.0), (0.0 / 0.0), (0.0 / 0.0), 0, 0.01,           \
            (0.0 / 0.0), (0.0 / 0.0), 2, 1, 5, (0.0 / 0.0), 0, (0.0 / 0.0), (0.0 / 0.0), 0,        \
            (0.0 / 0.0), (0.0 / 0.0)                                                               \
    }

/* The room around every step. */
typedef struct hf_room {
    double temperature; /* K, 278.15 .. 323.15 */
    double humidity;    /* 0 .. 0.99 */
    double pressure;    /* Pa, 5e4 .. 1.1e5 */
} hf_room;

#define HF_ROOM_INIT                                                                               \
    {                                                                                              \
        293.15, 0.5, 101325                                                                        \
    }

/** Checks a step by itself: HF_OK, or HF_EINVAL or HF_ERANGE with a sentence that names the field, its
 *  value and what is allowed; HF_ENOMODEL for a bath of strong alkali. */
HF_API hf_status hf_step_check(const hf_step *step, const hf_room *room,
                               hf_message *message) HF_MUST_CHECK;

/* ---- simulation ------------------------------------------------------------------------------ */

typedef struct hf_simulation hf_simulation;

/* Columns of the record: enum, name, unit, kind, meaning. */
#define HF_COLUMN_LIST(X)                                                                          \
    X(HF_COLUMN_TIME, "time", "s", HF_KIND_NUMBER, "time since the start")                         \
    X(HF_COLUMN_STEP, "step", "1", HF_KIND_NUMBER, "number of the step, from 1")                   \
    X(HF_COLUMN_REGAIN, "regain", "1", HF_KIND_FRACTION, "regain, mean over the fibre")            \
    X(HF_COLUMN_REGAIN_AXIS, "regain_axis", "1", HF_KIND_FRACTION, "regain of the innermost cell") \
    X(HF_COLUMN_REGAIN_SURFACE, "regain_surface", "1", HF_KIND_FRACTION, "regain at the surface")  \
    X(HF_COLUMN_TEMPERATURE, "temperature", "K", HF_KIND_TEMPERATURE,                              \
      "temperature, mean over the fibre")                                                          \
    X(HF_COLUMN_TEMPERATURE_AXIS, "temperature_axis", "K", HF_KIND_TEMPERATURE,                    \
      "temperature of the innermost cell")                                                         \
    X(HF_COLUMN_TEMPERATURE_SURFACE, "temperature_surface", "K", HF_KIND_TEMPERATURE,              \
      "temperature at the surface")                                                                \
    X(HF_COLUMN_WATER_LOST, "water_lost", "kg/kg", HF_KIND_NUMBER,                                 \
      "water given off since the start, per kg dry fibre; negative when taken up")                 \
    X(HF_COLUMN_FILM, "film", "kg/kg", HF_KIND_NUMBER, "free water on the surface")                \
    X(HF_COLUMN_PRESSURE_AXIS, "pressure_axis", "Pa", HF_KIND_NUMBER,                              \
      "vapour pressure inside, innermost cell")                                                    \
    X(HF_COLUMN_PRESSURE_PEAK, "pressure_peak", "Pa", HF_KIND_NUMBER,                              \
      "highest vapour pressure inside at this time")                                               \
    X(HF_COLUMN_PRESSURE_SURFACE, "pressure_surface", "Pa", HF_KIND_NUMBER,                        \
      "vapour pressure at the surface, never above ambient")                                       \
    X(HF_COLUMN_DIAMETER, "diameter", "m", HF_KIND_NUMBER, "diameter of the circle of equal area") \
    X(HF_COLUMN_HEAT_FLUX, "heat_flux", "W/m2", HF_KIND_NUMBER, "flux of heat into the fibre")     \
    X(HF_COLUMN_WATER_FLUX, "water_flux", "kg/(m2 s)", HF_KIND_NUMBER,                             \
      "flux of water out of the fibre")                                                            \
    X(HF_COLUMN_GLASS_AXIS, "glass_transition_axis", "K", HF_KIND_TEMPERATURE,                     \
      "glass transition of the innermost cell")                                                    \
    X(HF_COLUMN_GLASS_SURFACE, "glass_transition_surface", "K", HF_KIND_TEMPERATURE,               \
      "glass transition at the surface")                                                           \
    X(HF_COLUMN_DENATURATION_AXIS, "denaturation_axis", "K", HF_KIND_TEMPERATURE,                  \
      "denaturation temperature of the innermost cell at 10 K/min")                                \
    X(HF_COLUMN_VOID_DRIVE, "void_drive", "Pa", HF_KIND_NUMBER,                                    \
      "highest vapour pressure inside over ambient; 0 when below")                                 \
    X(HF_COLUMN_VOID_MODULUS, "void_modulus", "Pa", HF_KIND_NUMBER,                                \
      "an intact solid would have to be softer than this to give way to that pressure")            \
    X(HF_COLUMN_VOID_GROWTH, "void_growth", "1", HF_KIND_NUMBER,                                   \
      "growth ln(radius / first radius) of the void that grew most")                               \
    X(HF_COLUMN_VOID_RADIUS, "void_radius", "m", HF_KIND_NUMBER,                                   \
      "radius of that void if nothing but viscosity held it; never more than the fibre")           \
    X(HF_COLUMN_SWELLING_CYCLES, "swelling_cycles", "1", HF_KIND_NUMBER,                           \
      "times the mean regain rose and fell again by 0.05 or more")                                 \
    X(HF_COLUMN_INTERNAL_PH, "internal_ph", "1", HF_KIND_NUMBER, "pH of the water inside")         \
    X(HF_COLUMN_DISULFIDE, "disulfide", "1", HF_KIND_FRACTION,                                     \
      "disulfide bonds over those at the start; no law counts their loss by heat")                 \
    X(HF_COLUMN_THIOL, "thiol", "mol/kg", HF_KIND_NUMBER, "half-cystine reduced to thiol")         \
    X(HF_COLUMN_CYSTEIC_ACID, "cysteic_acid", "mol/kg", HF_KIND_NUMBER,                            \
      "half-cystine oxidised to cysteic acid")                                                     \
    X(HF_COLUMN_FRONT, "reaction_front", "1", HF_KIND_FRACTION,                                    \
      "depth of the sharp front of this step over the radius; 0 without one")                      \
    X(HF_COLUMN_HYDROGEN_CYCLES, "hydrogen_cycles", "1", HF_KIND_NUMBER,                           \
      "times the fibre softened and set again")                                                    \
    X(HF_COLUMN_HYDROGEN_STRAIN, "hydrogen_cycle_strain", "1", HF_KIND_FRACTION,                   \
      "swelling of the diameter in the last cycle of hydrogen bonds")                              \
    X(HF_COLUMN_FATIGUE_USED, "fatigue_used", "1", HF_KIND_NUMBER,                                 \
      "share of the characteristic life of virgin hair that pulls have used")

typedef enum hf_column {
#define HF_COLUMN_ENUM(id, name, unit, kind, text) id,
    HF_COLUMN_LIST(HF_COLUMN_ENUM)
#undef HF_COLUMN_ENUM
        HF_COLUMN_CHANNELS, /* the damage channels of bonds.h follow, each the mean share left */
    HF_COLUMNS = HF_COLUMN_CHANNELS + HF_CHANNELS
} hf_column;

typedef struct hf_column_info {
    const char *name, *unit;
    hf_kind kind;
    const char *text;
} hf_column_info;

/** Description of a column, damage channels included; NULL past the end. */
HF_API const hf_column_info *hf_column_at(size_t index);

/* Events: enum, word, meaning. */
#define HF_EVENT_LIST(X)                                                                           \
    X(HF_EVENT_STEP, "step begins", "a step of the schedule begins")                               \
    X(HF_EVENT_FILM_GONE, "film gone", "the free water on the surface is used up")                 \
    X(HF_EVENT_FILM_FORMS, "film forms", "water condenses on the surface")                         \
    X(HF_EVENT_BOILS, "internal boiling", "the vapour pressure inside passes ambient")             \
    X(HF_EVENT_VOIDS, "voids set in", "the first void passes the growth that counts as onset")     \
    X(HF_EVENT_IDLE, "nothing to do",                                                              \
      "the step found nothing to react with: no thiol to join, or no disulfide to open")

typedef enum hf_event_kind {
#define HF_EVENT_ENUM(id, word, text) id,
    HF_EVENT_LIST(HF_EVENT_ENUM)
#undef HF_EVENT_ENUM
        HF_EVENT_KINDS
} hf_event_kind;

/** Word for an event ("voids set in"); NULL past the end. */
HF_API const char *hf_event_word(hf_event_kind kind);

typedef struct hf_event {
    hf_event_kind kind;
    double time; /* s since the start */
    size_t step; /* from 1 */
} hf_event;

typedef struct hf_simulation_statistics {
    size_t steps, rejected, rates, jacobians, factors, solves; /* of the integrator */
    size_t samples;
    double water_error;  /* largest imbalance at any sample over the water that moved */
    double energy_error; /* likewise for energy */
    size_t bytes;        /* memory held */
} hf_simulation_statistics;

/* How to compute. HF_SIMULATION_OPTIONS_INIT gives the usual values. */
typedef struct hf_simulation_options {
    size_t cells;      /* 20 .. 800 */
    double tolerance;  /* relative, 1e-12 .. 1e-2 */
    int lumped;        /* non-zero: one temperature for the whole fibre */
    size_t samples;    /* per step, 2 .. 1000 (halved again and again above 4000 in all) */
    size_t zones;      /* radii at which voids and damage are followed, 2 .. 32 */
    int keep_profiles; /* non-zero: keep regain and temperature of every cell at every sample */
    size_t max_steps;  /* of the integrator, per step of the schedule */
    const volatile sig_atomic_t *stop; /* non-zero there stops the run; NULL: none */
} hf_simulation_options;

#define HF_SIMULATION_OPTIONS_INIT                                                                 \
    {                                                                                              \
        60, 1e-5, 0, 60, 12, 1, 200000, NULL                                                       \
    }

/** New simulation at time 0 with the fibre's starting state recorded; copies what it needs. `room` and
 *  `options` NULL: the usual. HF_EINVAL, HF_ERANGE, HF_ENOMEM with a sentence in `message`. */
HF_API hf_status hf_simulation_new(hf_simulation **out, const hf_fibre *fibre, const hf_room *room,
                                   const hf_simulation_options *options,
                                   hf_message *message) HF_MUST_CHECK;

/** Starts over at time 0 with another fibre, in the same room with the same options: the same numbers as a
 *  new simulation, in less time. HF_EINVAL, HF_ERANGE, HF_ENOMEM with a sentence in `message` (may be NULL);
 *  after a failure the object can be freed or started over, nothing else. */
HF_API hf_status hf_simulation_reset(hf_simulation *simulation, const hf_fibre *fibre,
                                     hf_message *message) HF_MUST_CHECK;

/** Independent copy with all it has recorded. HF_EINVAL, HF_ENOMEM. */
HF_API hf_status hf_simulation_copy(hf_simulation **out, const hf_simulation *from) HF_MUST_CHECK;

/** Frees; NULL is fine. */
HF_API void hf_simulation_free(hf_simulation *simulation);

/** Runs n steps on from the present state. All steps are checked before the first runs. On HF_ESTOPPED,
 *  HF_ECONVERGE or HF_ENOMEM what was computed so far is kept and hf_simulation_message says time,
 *  radius and reason; the object may be used further. */
HF_API hf_status hf_simulation_run(hf_simulation *simulation, const hf_step *steps,
                                   size_t n) HF_MUST_CHECK;

/** Number of samples recorded. */
HF_API size_t hf_simulation_samples(const hf_simulation *simulation);

/** A column of the record, hf_simulation_samples numbers owned by the object and valid until it runs on
 *  or is freed; NULL past the end. */
HF_API const double *hf_simulation_column(const hf_simulation *simulation, hf_column column);

/** Number of events, in the order of time. */
HF_API size_t hf_simulation_event_count(const hf_simulation *simulation);

/** Event by index. HF_ERANGE past the end, HF_EINVAL. */
HF_API hf_status hf_simulation_event(const hf_simulation *simulation, size_t index,
                                     hf_event *event) HF_MUST_CHECK;

/** The options in use, owned by the object; NULL without one. */
HF_API const hf_simulation_options *hf_simulation_get_options(const hf_simulation *simulation);

/** Number of cells. */
HF_API size_t hf_simulation_cells(const hf_simulation *simulation);

/** Profile at a sample: cells numbers each for the radius now (m), regain and temperature (K); any may
 *  be NULL. HF_ERANGE past the end, HF_EDATA when profiles were not kept. */
HF_API hf_status hf_simulation_profile(const hf_simulation *simulation, size_t sample,
                                       double *radius, double *regain,
                                       double *temperature) HF_MUST_CHECK;

/** Number of zones, and radius of zone i over the radius of the fibre, 0 at the axis. */
HF_API size_t hf_simulation_zones(const hf_simulation *simulation);
HF_API double hf_simulation_zone_radius(const hf_simulation *simulation, size_t zone);

/** Void growth ln(radius/first radius) of a zone now; NaN past the end. */
HF_API double hf_simulation_zone_growth(const hf_simulation *simulation, size_t zone);

/** Share left of a damage channel in a zone now; NaN past the end. */
HF_API double hf_simulation_zone_channel(const hf_simulation *simulation, size_t zone,
                                         hf_channel channel);

/** State of the sulfur now, mean over the fibre. HF_EINVAL. */
HF_API hf_status hf_simulation_sulfur(const hf_simulation *simulation,
                                      hf_sulfur *out) HF_MUST_CHECK;

/** Counters and balance errors. */
HF_API void hf_simulation_get_statistics(const hf_simulation *simulation,
                                         hf_simulation_statistics *out);

/** Sentence about the last failure; "" when there was none. */
HF_API const char *hf_simulation_message(const hf_simulation *simulation);

/* What may go beyond the evidence: bit, sentence. */
#define HF_BEYOND_LIST(X)                                                                          \
    X(HF_BEYOND_ISOTHERM, 1, "Above 150 °C the isotherm is extrapolated.")                         \
    X(HF_BEYOND_CHEMISTRY, 2,                                                                      \
      "A bath went beyond the temperatures or strengths at which its rate was measured.")          \
    X(HF_BEYOND_LIFE, 4,                                                                           \
      "Pulls went beyond the stresses or humidities at which lives were measured.")                \
    X(HF_BEYOND_VIRGIN, 8,                                                                         \
      "The pulled fibre had lost disulfide bonds; its life is counted as that of virgin hair, "    \
      "for no other "                                                                              \
      "was read.")

typedef enum hf_beyond {
#define HF_BEYOND_ENUM(id, bit, text) id = (bit),
    HF_BEYOND_LIST(HF_BEYOND_ENUM)
#undef HF_BEYOND_ENUM
} hf_beyond;

/** Bits of hf_beyond for what went beyond the evidence so far; 0 when nothing did. */
HF_API int hf_simulation_extrapolated(const hf_simulation *simulation);

/** Sentence for one bit of hf_beyond; NULL for anything else. */
HF_API const char *hf_beyond_text(int bit);

#ifdef __cplusplus
}
#endif

#endif
