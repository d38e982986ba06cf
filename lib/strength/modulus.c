/*
 * Tensile modulus against regain.
 *
 *   E(w) = Ew + (E0 - Ew) (1 - w/w100)    w below w100,  E(w) = Ew above
 *   E0 from the second anchor: E(wa) = Ea,  wa = w(a),  both regains from the isotherm at 20 degC
 *
 *   E Pa   w regain, kg/kg   w100 saturation regain   a humidity of the dry test
 *   Ew modulus in water, Ea modulus at a (room humidity), E0 of the bone-dry fibre
 *
 * Two phases: water softens the matrix and leaves the helices alone (feughelman1959, abstract);
 * that the sum is straight in regain is this project's own (own-judgement). Anchors: 1.89 and 3.95
 * GPa natural, 1.63 and 4.15 GPa bleached (wortmann2022, groups N0 and B0): bleached hair is softer
 * wet and not softer dry. a was not read and is taken as 0.65. Rival anchors, virgin hair at 65 %
 * humidity and in water: 5.39 and 2.06 GPa (menkart1966, Table I); laboratories are not averaged.
 * Room temperature; sorbed water only; any water beyond saturation softens no further.
 */
#include <hairfibre/strength.h>

#include "modulus.h"
#include "ranges.h"

#include "../base/catalogue.h"
#include "../base/range.h"
#include "../base/strict.h"

static const hfi_range regain_range = {HFI_MODULUS_REGAIN};
static const hfi_range humidity_range = {HFI_MODULUS_HUMIDITY};

typedef struct anchors {
    double wet, ambient, humidity;
} anchors;

static hf_status between(const anchors *ends, double w, const hf_parameters *set, double *modulus)
{
    double saturated, ambient;
    hf_status status = hf_saturation_regain_e(HFI_ROOM_TEMPERATURE, HF_ABSORPTION, set,
                                              HF_EXTRAPOLATE, &saturated);
    if (!hf_failed(status))
        status = hf_regain_e(ends->humidity, HFI_ROOM_TEMPERATURE, HF_ABSORPTION, set,
                             HF_EXTRAPOLATE, &ambient);
    if (hf_failed(status))
        return status;
    const double dryness = w < saturated ? (saturated - w) / (saturated - ambient) : 0;
    *modulus = ends->wet + (ends->ambient - ends->wet) * dryness;
    return HF_OK;
}

hf_status hfi_tensile_modulus(const hf_parameters *set, double w, double *modulus)
{
    const double *values = hfi_values(set);
    const anchors ends = {values[HFI_STRENGTH_MODULUS_WET], values[HFI_STRENGTH_MODULUS_AMBIENT],
                          values[HFI_STRENGTH_MODULUS_AMBIENT_HUMIDITY]};
    return between(&ends, w, set, modulus);
}

hf_status hf_tensile_modulus_e(double regain, const hf_parameters *set, unsigned flags,
                               double *modulus)
{
    const hf_status status = modulus ? hfi_check(regain, &regain_range, flags) : HF_EINVAL;
    return hf_failed(status) ? status
                             : hfi_worse(status, hfi_tensile_modulus(set, regain, modulus));
}

hf_status hf_tensile_modulus_rival_e(double regain, const hf_parameters *set, unsigned flags,
                                     double *modulus)
{
    const hf_status status = modulus ? hfi_check(regain, &regain_range, flags) : HF_EINVAL;
    if (hf_failed(status))
        return status;
    const double *values = hfi_values(set);
    const anchors ends = {values[HFI_STRENGTH_MODULUS_RIVAL_WET],
                          values[HFI_STRENGTH_MODULUS_RIVAL_AMBIENT],
                          values[HFI_STRENGTH_MODULUS_RIVAL_HUMIDITY]};
    return hfi_worse(status, between(&ends, regain, set, modulus));
}

hf_status hf_tensile_modulus_in_air_e(double humidity, hf_branch branch, const hf_parameters *set,
                                      unsigned flags, double *modulus)
{
    double regain;
    hf_status status = modulus ? hfi_check(humidity, &humidity_range, flags) : HF_EINVAL;
    if (hf_failed(status))
        return status;
    status =
        hfi_worse(status, hf_regain_e(humidity, HFI_ROOM_TEMPERATURE, branch, set, flags, &regain));
    return hf_failed(status) ? status
                             : hfi_worse(status, hfi_tensile_modulus(set, regain, modulus));
}

hf_status hf_tensile_modulus_over_wet_e(double regain, const hf_parameters *set, unsigned flags,
                                        double *ratio)
{
    double modulus;
    const hf_status status = ratio ? hf_tensile_modulus_e(regain, set, flags, &modulus) : HF_EINVAL;
    if (!hf_failed(status))
        *ratio = modulus / hfi_values(set)[HFI_STRENGTH_MODULUS_WET];
    return status;
}

HFI_STRICT(hf_tensile_modulus, (double regain, const hf_parameters *set), regain, set)
HFI_STRICT(hf_tensile_modulus_rival, (double regain, const hf_parameters *set), regain, set)
HFI_STRICT(hf_tensile_modulus_in_air, (double humidity, hf_branch branch, const hf_parameters *set),
           humidity, branch, set)
HFI_STRICT(hf_tensile_modulus_over_wet, (double regain, const hf_parameters *set), regain, set)
