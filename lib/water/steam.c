/*
 * Volume of saturated steam over the volume of the liquid it comes from, rho'/rho'' (a number).
 * T temperature, K, 273.16..647.096. Source: iapws-sr1-86.
 */
#include "water.h"
#include "ranges.h"
#include "../base/strict.h"

#include <hairfibre/water.h>

#include "../base/range.h"

hf_status hf_steam_expansion_ratio_e(double temperature, unsigned flags, double *out)
{
    static const hfi_range range = {HFI_SATURATION_TEMPERATURE};
    const hf_status status = hfi_check(temperature, &range, flags);
    if (!out)
        return HF_EINVAL;
    if (!hf_failed(status))
        *out = hfi_liquid_density(temperature) / hfi_vapour_density(temperature);
    return status;
}

HFI_STRICT(hf_steam_expansion_ratio, (double temperature), temperature)
