/*
 * Heat and water across a fibre: the balance equations of a swelling cylinder, cell by cell in
 * dry-mass coordinates, as a problem for the integrator.
 *
 * State, per kg of dry fibre: regain w_i and enthalpy H_i of every cell, then one surface node with
 * the free water of the film m_f (kg/kg) and its enthalpy H_s (J/kg). The node carries a skin of
 * HFI_SKIN of the dry heat capacity, so that its temperature has a meaning without a film.
 *
 *   m_i dw_i/dt = F_(i-1/2) - F_(i+1/2)         F = kappa f (potential_i - potential_(i+1))
 *   m_i dH_i/dt = E_(i-1/2) - E_(i+1/2)         E = g k (T_i - T_(i+1)) + F h
 *   dm_f/dt     = F_s - evaporation
 *   dH_s/dt     = E_s + h_c A (T_out - T_s) - evaporation (cw x_s + L)
 *
 * f is the temperature factor of the diffusivity, h = cw x - q(w) the enthalpy that water carries,
 * each the mean of the two cells. T follows from (w, H) in closed form (material.h). Water and
 * energy are linear in the state, so the integrator keeps both balances to rounding; the three
 * quadratures count what passed the boundary.
 */
#ifndef HFI_TRANSPORT_RADIAL_H
#define HFI_TRANSPORT_RADIAL_H

#include "cells.h"
#include "material.h"
#include "mesh.h"
#include "rosenbrock.h"
#include "surface.h"

#define HFI_SKIN 1e-4 /* heat capacity of the surface node, share of the dry fibre's */

/* What passed the boundary, per kg of dry fibre: water out (kg), energy in (J: heat less what left with
 * water), heat in alone (J). */
enum {
    HFI_WATER_OUT = 0,
    HFI_ENERGY_IN,
    HFI_BALANCED,
    HFI_HEAT_IN = HFI_BALANCED,
    HFI_BOUNDARY_COUNTS
};

/* Events of the problem. */
enum { HFI_EVENT_FILM_GONE = 0, HFI_EVENT_FILM_FORMS, HFI_RADIAL_EVENTS };

typedef struct hfi_radial {
    const hfi_material *material;
    const hfi_mesh *mesh;
    hfi_surface_mode mode;
    hfi_surroundings around;
    double area;         /* m2 of surface per kg of dry fibre */
    double water_scale;  /* 1/(pi R^2), makes kappa of a mesh conductance */
    double heat_scale;   /* 1/(rho pi R^2) */
    double least_regain; /* a cell may fall below 0 by as much as errors of the integrator */
    hfi_cells cell;
    hfi_surface_flows surface; /* of the last state looked at, scratch */
    double surface_guess;      /* regain there when last looked at in this segment; NaN: not yet */
    double seen_regain, seen_cell, seen_surface; /* of outermost cell and surface then */
    double surface_temperature, surface_capacity;
    /* Of the state of the last Jacobian, for the derivatives of the boundary counts. */
    struct {
        hfi_surface_flows surface;
        double cell_capacity, cell_carried, surface_rise, surface_capacity, leaving;
    } frozen;
} hfi_radial;

/* Temperature of (w, H), K; capacity and carried enthalpy may be NULL. */
double hfi_radial_temperature(const hfi_material *material, double w, double H, double *capacity,
                              double *carried);

/* Temperature of the surface node from film and enthalpy; NaN without heat capacity. */
double hfi_radial_surface_temperature(const hfi_material *material, double film, double H);

/* Fills the callbacks; `radial` is kept by pointer and must be complete before integrating. */
void hfi_radial_problem(hfi_radial *radial, hfi_ode_problem *problem);

/* Regain that is rounding. */
#define HFI_NO_WATER 1e-17

/* Non-zero unless every regain[stride i] is at least least_regain and their mean at least 0 but for
 * rounding. */
int hfi_radial_dry_out(const hfi_radial *radial, const double *regain, size_t stride);

/* Works out cells and surface flows at a state (for output). 0, or non-zero as the callbacks. */
int hfi_radial_look(hfi_radial *radial, double t, const double *y);

#endif
