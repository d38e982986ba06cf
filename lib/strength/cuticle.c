/*
 * The cuticle as geometry: thickness, share of the section, stiffness, mismatch of swelling.
 *
 *   thickness  t = n tc
 *   share      1 - (1 - 2 t/d)^2
 *   torsion    G d^4 = Gc (d^4 - c^4) + Gx c^4,  c = d - 2 t
 *   mismatch   e = (1 + D(wx))/(1 + r D(wc)) - 1,  D growth of the diameter from dryness
 *
 *   n layers   tc thickness of a layer, m   d diameter of a round fibre, m   c that of its cortex
 *   G, Gc, Gx shear modulus of whole fibre, cuticle and cortex, Pa
 *   e strain by which a free cortex outgrows a free cuticle around the fibre
 *   wx, wc regain of cortex and cuticle   r swelling of the cuticle over that of the cortex
 *
 * 5 to 10 layers (sources differ) of about 0.5 um (textbook-ch1), a sheath of 3 to 5 um. Eight of
 * them are a fifth of the section of a strand of 72 um, where a tenth of the mass is read
 * (hair-fractions-pmc). The composite bar is elementary elasticity; with 0.795 and 0.430 GPa
 * (quoted in lunn2018) it makes the cuticle about three times stiffer than the cortex. The mismatch
 * is this project's own construction: r is assumed 1 (hair without scales swells as hair with them,
 * breuer1980), so it is zero while both have the same water and the fibre is free of stress.
 */
#include <hairfibre/strength.h>

#include "ranges.h"

#include "../base/catalogue.h"
#include "../base/range.h"
#include "../base/strict.h"
#include "../keratin/properties.h"

static const hfi_range layers_range = {HFI_LAYERS};
static const hfi_range thickness_range = {HFI_SHEATH_THICKNESS};
static const hfi_range diameter_range = {HFI_ROUND_DIAMETER};
static const hfi_range modulus_range = {HFI_LAYER_MODULUS};
static const hfi_range regain_range = {HFI_CUTICLE_REGAIN};

hf_status hf_cuticle_thickness_e(double layers, const hf_parameters *set, unsigned flags,
                                 double *thickness)
{
    const hf_status status = thickness ? hfi_check(layers, &layers_range, flags) : HF_EINVAL;
    if (!hf_failed(status))
        *thickness = layers * hfi_values(set)[HFI_STRENGTH_CUTICLE_LAYER];
    return status;
}

/* Diameter of the cortex over that of the fibre. */
static hf_status core(double thickness, double diameter, unsigned flags, double *ratio)
{
    const hf_status status = hfi_worse(hfi_check(thickness, &thickness_range, flags),
                                       hfi_check(diameter, &diameter_range, flags));
    if (!hf_failed(status)) {
        *ratio = 1 - 2 * thickness / diameter;
        if (*ratio < 0)
            return HF_ERANGE;
    }
    return status;
}

hf_status hf_cuticle_share_e(double thickness, double diameter, unsigned flags, double *share)
{
    double ratio;
    const hf_status status = share ? core(thickness, diameter, flags, &ratio) : HF_EINVAL;
    if (!hf_failed(status))
        *share = (1 - ratio) * (1 + ratio);
    return status;
}

hf_status hf_cuticle_shear_modulus_e(double whole, double without, double thickness,
                                     double diameter, unsigned flags, double *modulus)
{
    double ratio;
    hf_status status = modulus ? core(thickness, diameter, flags, &ratio) : HF_EINVAL;
    if (hf_failed(status))
        return status;
    status = hfi_worse(status, hfi_worse(hfi_check(whole, &modulus_range, flags),
                                         hfi_check(without, &modulus_range, flags)));
    if (hf_failed(status))
        return status;
    const double cortex = ratio * ratio * ratio * ratio;
    const double cuticle = (whole - without * cortex) / (1 - cortex);
    if (!(cuticle > 0) || !isfinite(cuticle))
        return HF_ERANGE;
    *modulus = cuticle;
    return status;
}

hf_status hf_cuticle_mismatch_e(double cortex_regain, double cuticle_regain,
                                const hf_parameters *set, unsigned flags, double *mismatch)
{
    if (!mismatch)
        return HF_EINVAL;
    const hf_status status = hfi_worse(hfi_check(cortex_regain, &regain_range, flags),
                                       hfi_check(cuticle_regain, &regain_range, flags));
    if (hf_failed(status))
        return status;
    const double *values = hfi_values(set);
    const double cortex = hfi_diameter_ratio(values, cortex_regain, NULL) - 1;
    const double cuticle = values[HFI_STRENGTH_CUTICLE_SWELLING] *
                           (hfi_diameter_ratio(values, cuticle_regain, NULL) - 1);
    *mismatch = (cortex - cuticle) / (1 + cuticle);
    return status;
}

HFI_STRICT(hf_cuticle_thickness, (double layers, const hf_parameters *set), layers, set)
HFI_STRICT(hf_cuticle_share, (double thickness, double diameter), thickness, diameter)
HFI_STRICT(hf_cuticle_shear_modulus,
           (double whole, double without, double thickness, double diameter), whole, without,
           thickness, diameter)
HFI_STRICT(hf_cuticle_mismatch,
           (double cortex_regain, double cuticle_regain, const hf_parameters *set), cortex_regain,
           cuticle_regain, set)
