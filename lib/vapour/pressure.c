/*
 * Vapour pressure of the water in a fibre.
 *
 *   p = a(w, T) psat(T)
 *
 *   p      vapour pressure, Pa
 *   a      water activity of the fibre, 1: the isotherm turned round (lib/keratin/isotherm.c);
 *          exactly 1 while liquid water is present, that is above the saturation regain
 *   w      regain, kg water per kg dry fibre: from 0 to the liquid retention, or to the saturation
 *          regain of the coldest supported isotherm (10 degC) where that is more: a sealed fibre
 *          keeps on heating what it took up in the cold, as liquid
 *   T      temperature, K: 283.15 to 423.15, with the isotherm extrapolated to 273.16 and 523.15
 *   psat   saturation pressure of water, Pa (lib/water/saturation.c)
 *
 * It is the humidity of the fibre itself that counts, never that of the room: in a sealed fibre the
 * activity even rises on heating (isosteric shift). Upper bound: no leak, no growth of voids.
 *
 * Sources: iapws-sr1-86 (psat), clausius-clapeyron (shift), own-fit (isotherm above 60 degC).
 */
#include <hairfibre/vapour.h>
#include <hairfibre/water.h>

#include "../base/range.h"
#include "../base/strict.h"
#include "most_water.h"
#include "ranges.h"

static const hfi_range temperature_range = {HFI_VAPOUR_TEMPERATURE};
static const hfi_range regain_range = {HFI_VAPOUR_REGAIN};
static const hfi_range ambient_range = {HFI_VAPOUR_AMBIENT};

hf_status hfi_most_water(double temperature, hf_branch branch, const hf_parameters *set,
                         double *most)
{
    double here, cold, kept;
    hf_status status = hf_saturation_regain_e(temperature, branch, set, HF_EXTRAPOLATE, &here);
    status = hfi_worse(status, hf_saturation_regain_e(temperature_range.valid_low, branch, set,
                                                      HF_EXTRAPOLATE, &cold));
    status = hfi_worse(status, hf_liquid_retention_e(set, HF_EXTRAPOLATE, &kept));
    if (!hf_failed(status))
        *most = fmax(here, fmax(cold, kept));
    return status;
}

/* Water activity, with liquid water allowed up to what the fibre keeps. */
static hf_status activity(double temperature, double regain, hf_branch branch,
                          const hf_parameters *set, unsigned flags, double *a)
{
    double sorbed, most;
    const hf_status status = hf_saturation_regain_e(temperature, branch, set, flags, &sorbed);
    if (hf_failed(status))
        return status;
    if (regain <= sorbed)
        return hf_water_activity_e(regain, temperature, branch, set, flags, a);
    const hf_status limit = hfi_most_water(temperature, branch, set, &most);
    if (hf_failed(limit))
        return limit;
    if (regain > most)
        return HF_ERANGE;
    *a = 1;
    return status;
}

hf_status hf_internal_vapour_pressure_e(double temperature, double regain, hf_branch branch,
                                        const hf_parameters *set, unsigned flags,
                                        double *vapour_pressure)
{
    hf_status status = vapour_pressure ? HF_OK : HF_EINVAL;
    status = hfi_worse(status, hfi_check(temperature, &temperature_range, flags));
    status = hfi_worse(status, hfi_check(regain, &regain_range, flags));
    if (hf_failed(status))
        return status;
    double a, saturation;
    status = hfi_worse(status, activity(temperature, regain, branch, set, flags, &a));
    if (hf_failed(status))
        return status;
    status = hfi_worse(status, hf_saturation_pressure_e(temperature, flags, &saturation));
    if (hf_failed(status))
        return status;
    *vapour_pressure = a * saturation;
    return status;
}

HFI_STRICT(hf_internal_vapour_pressure,
           (double temperature, double regain, hf_branch branch, const hf_parameters *set),
           temperature, regain, branch, set)

hf_status hf_internal_gauge_pressure_e(double temperature, double regain, hf_branch branch,
                                       double pressure, const hf_parameters *set, unsigned flags,
                                       double *gauge_pressure)
{
    double p;
    hf_status status = gauge_pressure ? hfi_check(pressure, &ambient_range, flags) : HF_EINVAL;
    if (hf_failed(status))
        return status;
    status = hfi_worse(status,
                       hf_internal_vapour_pressure_e(temperature, regain, branch, set, flags, &p));
    if (!hf_failed(status))
        *gauge_pressure = p - pressure;
    return status;
}

HFI_STRICT(hf_internal_gauge_pressure,
           (double temperature, double regain, hf_branch branch, double pressure,
            const hf_parameters *set),
           temperature, regain, branch, pressure, set)
