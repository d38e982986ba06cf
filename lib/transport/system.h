/*
 * A fibre as a system that moves in time: the balance equations (full or with one temperature), the
 * integrator and the surroundings behind one interface.
 *
 * A state is one array: y, then the boundary counts, as the integrator lays them out.
 */
#ifndef HFI_TRANSPORT_SYSTEM_H
#define HFI_TRANSPORT_SYSTEM_H

#include "radial.h"

typedef struct hfi_system hfi_system;

/* What a state looks like, in arrays of the system that hold until the next call. */
typedef struct hfi_view {
    const double *regain;      /* cells */
    const double *temperature; /* cells, K */
    double film, surface_temperature;
    double surface_regain, surface_pressure; /* of hfi_system_view only */
    int condensing;                          /* the bare surface would be under water; likewise */
    double evaporation;   /* kg per s and kg of dry fibre, of hfi_system_view only */
    double heat;          /* W per kg of dry fibre, of hfi_system_view only */
    double water, energy; /* held in fibre and film, per kg of dry fibre */
} hfi_view;

/* New system; material and mesh are kept by pointer. `lumped`: one temperature for all. `stop` as in
 * the integrator's options. Integrator statuses. */
int hfi_system_create(const hfi_material *material, const hfi_mesh *mesh, int lumped,
                      double tolerance, size_t max_steps, const volatile sig_atomic_t *stop,
                      hfi_system **out);
void hfi_system_free(hfi_system *system);

/* Memory held, bytes (without the mesh). */
size_t hfi_system_bytes(const hfi_system *system);

/* Number of doubles in a state. */
size_t hfi_system_size(const hfi_system *system);

/* Fills a state from regain, temperature, film; counts are zero. */
void hfi_system_fill(hfi_system *system, const double *regain, const double *temperature,
                     double film, double *state);

/* Moves water between cells so that none is below 0 (by errors of the integrator); what all hold
 * together stays. */
void hfi_system_level(const hfi_system *system, double *state);

/* Sets film; what is added comes at the temperature given (K), what goes leaves at that of the surface.
 * Returns the energy that came with the change. */
double hfi_system_set_film(hfi_system *system, double film, double temperature, double *state);

/* Sets the kind of surface; may move numbers within the state. */
void hfi_system_set_mode(hfi_system *system, hfi_surface_mode mode, double *state);

hfi_surface_mode hfi_system_mode(const hfi_system *system);

/* Begins a segment at time 0 of the segment: surroundings, surface area per kg of dry fibre. The counts
 * in `state` are set to zero. */
int hfi_system_begin(hfi_system *system, const hfi_surroundings *around, double area,
                     double duration, double *state);

/* Moves on to t_end; HFI_ODE_EVENT at a change of the surface (read which with hfi_system_hit). `state`
 * is what was reached, also on failure. The observer sees every accepted step. */
int hfi_system_advance(hfi_system *system, double t_end, hfi_ode_observer observer, void *user,
                       double *state);
size_t hfi_system_hit(const hfi_system *system);
hfi_ode *hfi_system_ode(hfi_system *system);

/* Regain, temperature, film, water and energy of a state; cheap. */
void hfi_system_peek(hfi_system *system, const double *state, hfi_view *view);

/* State within the last accepted step; straight between its ends where dense output would leave a cell
 * short of water (it may where a drying shell is far faster than the step). Integrator statuses. */
int hfi_system_at(hfi_system *system, double t, double *state);

/* Regain and temperature of one cell within the last accepted step. HFI_ODE_OK, _BAD_ARGUMENT. */
int hfi_system_cell(hfi_system *system, double t, size_t cell, double *regain, double *temperature);

/* The same of `count` cells. */
int hfi_system_cells(hfi_system *system, double t, const size_t *cell, size_t count, double *regain,
                     double *temperature);

/* Highest temperature of the surroundings in the present segment, K. */
double hfi_system_hottest_outside(const hfi_system *system);

/* The same with what passes the surface at time t of the segment. 0, or non-zero without meaning. */
int hfi_system_view(hfi_system *system, double t, const double *state, hfi_view *view);

/* Boundary counts of a state: water out (kg/kg), energy in (J/kg, heat less what left with water), and
 * heat in alone. */
void hfi_system_counts(const hfi_system *system, const double *state, double *water_out,
                       double *energy_in, double *heat_in);

#endif
