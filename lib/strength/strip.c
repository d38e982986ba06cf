/*
 * Curvature of a free strip of two bonded layers of different free length (bimetal strip).
 *
 *   kappa = 6 e (1 + m)^2 / (h [3 (1 + m)^2 + (1 + m n)(m^2 + 1/(m n))])
 *   m = t1/t2,  n = E1/E2,  h = t1 + t2
 *
 *   kappa 1/m   e strain by which layer 2 (inner) would outgrow layer 1 (outer)
 *   t thickness, m   E tensile modulus, Pa
 *
 * timoshenko1925, from memory; equal layers give 24 e/(16 h). Thin layers, small strains, elastic,
 * plane sections, one direction, free ends. A cuticle is bonded to a round fibre and not free: the
 * number says how strongly a loose flap would curl, not whether it comes loose.
 */
#include <hairfibre/strength.h>

#include "ranges.h"

#include "../base/range.h"
#include "../base/strict.h"

static const hfi_range mismatch_range = {HFI_MISMATCH};
static const hfi_range thickness_range = {HFI_LAYER_THICKNESS};
static const hfi_range modulus_range = {HFI_LAYER_MODULUS};

hf_status hf_strip_curvature_e(double mismatch, double outer_thickness, double inner_thickness,
                               double outer_modulus, double inner_modulus, unsigned flags,
                               double *curvature)
{
    if (!curvature)
        return HF_EINVAL;
    const hf_status layers = hfi_worse(hfi_check(outer_thickness, &thickness_range, flags),
                                       hfi_check(inner_thickness, &thickness_range, flags));
    const hf_status moduli = hfi_worse(hfi_check(outer_modulus, &modulus_range, flags),
                                       hfi_check(inner_modulus, &modulus_range, flags));
    const hf_status status =
        hfi_worse(hfi_check(mismatch, &mismatch_range, flags), hfi_worse(layers, moduli));
    if (hf_failed(status))
        return status;
    const double m = outer_thickness / inner_thickness, n = outer_modulus / inner_modulus;
    const double both = (1 + m) * (1 + m);
    *curvature =
        6 * mismatch * both /
        ((outer_thickness + inner_thickness) * (3 * both + (1 + m * n) * (m * m + 1 / (m * n))));
    return status;
}

HFI_STRICT(hf_strip_curvature,
           (double mismatch, double outer_thickness, double inner_thickness, double outer_modulus,
            double inner_modulus),
           mismatch, outer_thickness, inner_thickness, outer_modulus, inner_modulus)
