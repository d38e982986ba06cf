/*
 * The balance equations with one temperature for the whole fibre: water still moves cell by cell, heat
 * is one number. Good while the Biot number h R / (2 k) is small; the fast path, and a check on the
 * other.
 *
 * State: regain w_i of every cell, then two numbers: enthalpy H of fibre and film together and free
 * water m_f, whichever the surface links to the outermost cell first (film: m_f, H; bare and bath:
 * H, m_f), so that the matrix stays tridiagonal. The temperature depends on the whole state and acts on
 * all of it: that is the rank-one term of the integrator.
 */
#ifndef HFI_TRANSPORT_LUMPED_H
#define HFI_TRANSPORT_LUMPED_H

#include "radial.h"

typedef struct hfi_lumped {
    hfi_radial *shared; /* material, mesh, mode, surroundings, cells and surface as scratch */
    double T, capacity, rise;
    double *temperature_by; /* dT/dy of the last Jacobian, cells + 2 */
    double surface_by_T,
        water_by_T; /* of the last Jacobian: evaporation and flow from the last cell */
} hfi_lumped;

/* Places of H and m_f in a state. */
size_t hfi_lumped_enthalpy_at(const hfi_lumped *lumped);
size_t hfi_lumped_film_at(const hfi_lumped *lumped);

/* Temperature of a state, K. */
double hfi_lumped_temperature(const hfi_lumped *lumped, const double *y, double *capacity);

void hfi_lumped_problem(hfi_lumped *lumped, hfi_ode_problem *problem);

/* As hfi_radial_look. */
int hfi_lumped_look(hfi_lumped *lumped, double t, const double *y);

#endif
