/*
 * What the balance equations need to know of the keratin, prepared once for a run.
 *
 * Four functions are kept as tables of cubic Hermite pieces: two because their exact forms are
 * integrals, two for speed (the temperature factor of the diffusivity and the latent heat, within
 * 1e-8 of their laws):
 *   potential(w) = integral from 0 to w of D(w', T_ref) / lambda(w')^2 dw'      m2/s
 *   sorbed(w)    = integral from 0 to w of q(w', T_0) dw'                       J per kg dry fibre
 * D is the diffusivity, lambda the swollen over the dry diameter, q the net isosteric heat. With
 * the potential, the flow between two cells with a steep front between them is exact for a steady
 * profile. Each shell is taken to swell alike in radius and girth at its own regain: the mismatch
 * between neighbouring shells (a stress) is left out.
 *
 * Enthalpy, J per kg dry fibre, zero for dry fibre and liquid water at T_0 = 298.15 K:
 *   H(w, T) = c0 x + c1 x^2 / 2 + w cw x - sorbed(w),   x = T - T_0
 * The heat of sorption is taken at T_0: its change with temperature is left out.
 */
#ifndef HFI_TRANSPORT_MATERIAL_H
#define HFI_TRANSPORT_MATERIAL_H

#include <hairfibre/keratin.h>

#include "table.h"

#define HFI_ENTHALPY_ZERO 298.15 /* K */

typedef enum hfi_diffusion_law {
    HFI_LAW_SATURATING = 0, /* the catalogue's law */
    HFI_LAW_EXPONENTIAL,    /* its rival */
    HFI_LAW_CONSTANT        /* diffusivity of the wet fibre at every regain */
} hfi_diffusion_law;

typedef struct hfi_material {
    const double *values; /* parameters; the caller keeps them */
    hf_branch branch;
    double dry_density;              /* kg/m3 */
    double c0, c1;                   /* of dry fibre, J/(kg K) and J/(kg K2) */
    double cw;                       /* of water, sorbed or free, J/(kg K) */
    double k0, k1;                   /* W/(m K) and per unit regain */
    double arrhenius, inverse_t_ref; /* Ea/R in K, 1/T_ref */
    double liquid_retention;         /* kg/kg */
    hfi_table potential, sorbed;     /* over regain 0 .. 0.64 */
    hfi_table mobility, latent;      /* over temperature 250 .. 550 K, 273.16 .. 573.16 K */
} hfi_material;

/* Fills the tables; `values` as from hfi_values(), kept by pointer. */
void hfi_material_prepare(hfi_material *material, const double *values, hf_branch branch,
                          hfi_diffusion_law law);

/* Enthalpy of fibre at (w, T). */
double hfi_material_enthalpy(const hfi_material *material, double w, double T);

#endif
