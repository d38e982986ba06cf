/*
 * What passes the surface of the fibre: evaporation by Stefan flow, in series with the outermost
 * half cell; a film of free water that has to go first; a bath.
 *
 * Evaporation, kg/(m2 s):  E = beta p / (R_v T_f) ln((p - p_v) / (p - p_s)),
 *   p ambient pressure, p_v vapour pressure far away, p_s = a(w_s, T_s) p_sat(T_s) at the surface,
 *   beta mass transfer coefficient (m/s), T_f film temperature. The logarithm keeps p_s below p
 *   whatever the temperature.
 * Without a film the surface regain w_s follows from E = flow through the half cell, written
 *   p_s(w_s) = p - (p - p_v) exp(-F(w_s) / B),   B = beta p / (R_v T_f) times the area,
 * which has one root and no singularity; it is found by Newton's method inside a bracket.
 * Under liquid water the surface is at the regain that the fibre retains, or at that of the isotherm
 * at an activity of 1 where this is more. Boiling of a bath around a fibre above 100 degC is left out.
 * Source: Stefan flow and the film theory of mass transfer, standard; own form of the equation.
 */
#ifndef HFI_TRANSPORT_SURFACE_H
#define HFI_TRANSPORT_SURFACE_H

#include "material.h"

typedef enum hfi_surface_mode {
    HFI_SURFACE_BARE = 0, /* vapour leaves the fibre itself */
    HFI_SURFACE_FILM,     /* free water lies on the fibre */
    HFI_SURFACE_BATH      /* the fibre lies in liquid water */
} hfi_surface_mode;

/* Surroundings during one step; temperature and vapour pressure may change linearly in time. */
typedef struct hfi_surroundings {
    double heat_transfer;                 /* W/(m2 K) */
    double vapour_conductance;            /* beta p / (R_v T_f), kg/(m2 s) */
    double ambient_pressure;              /* Pa */
    double temperature, temperature_rate; /* K at time 0, K/s */
    double vapour_pressure, vapour_rate;  /* Pa at time 0, Pa/s */
} hfi_surroundings;

/* State next to the surface. `half` is the conductance of the outer half cell, 1/m2 times m2/s
 * of potential: flow in kg per second and kg of dry fibre. */
typedef struct hfi_surface_state {
    double half;
    double potential, diffusivity;              /* of the outermost cell */
    double regain;                              /* of the outermost cell */
    double mobility, mobility_slope;            /* of the outermost cell, slope per K */
    double temperature;                         /* of the surface, K */
    double guess;                               /* of the regain at the surface; NaN: none */
    double area;                                /* m2 per kg of dry fibre */
    double temperature_outside, vapour_outside; /* now */
} hfi_surface_state;

/* Flows per kg of dry fibre, outward positive, with derivatives by the regain and temperature of
 * the outermost cell, by the temperature of the surface, and by time. */
typedef struct hfi_flow {
    double value, by_regain, by_cell, by_surface, by_time;
} hfi_flow;

typedef struct hfi_surface_flows {
    hfi_flow water;       /* from the outermost cell to the surface, kg/(kg s) */
    hfi_flow evaporation; /* from the surface to the surroundings, kg/(kg s) */
    double regain;        /* at the surface */
    double regain_by_regain, regain_by_cell, regain_by_surface; /* its derivatives, bare only */
    double wet_regain;           /* what it would be with liquid water on it */
    double vapour_pressure;      /* Pa at the surface */
    double latent, latent_slope; /* J/kg and per K at the surface temperature */
} hfi_surface_flows;

/* 0, or non-zero where the state has no meaning (temperature outside 273.16..647 K, not finite). */
int hfi_surface_balance(const hfi_material *material, hfi_surface_mode mode,
                        const hfi_surroundings *around, const hfi_surface_state *state,
                        hfi_surface_flows *flows);

#endif
