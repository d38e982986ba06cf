/*
 * Latent heat of vaporisation by Clapeyron's equation,
 *
 *   L = T (dp/dT) (1/rho'' - 1/rho')
 *
 * L in J/kg; dp/dT, rho' and rho'' from the same release, so the three agree with one another.
 * T temperature, K, 273.16..647.096. Sources: iapws-sr1-86, clausius-clapeyron.
 */
#include "water.h"
#include "ranges.h"
#include "../base/strict.h"

#include <hairfibre/water.h>

#include "../base/range.h"

double hfi_latent_heat(double temperature)
{
    double pressure;
    return temperature * hfi_saturation_pressure_slope(temperature, &pressure) *
           (1 / hfi_vapour_density(temperature) - 1 / hfi_liquid_density(temperature));
}

hf_status hf_latent_heat_e(double temperature, unsigned flags, double *out)
{
    static const hfi_range range = {HFI_SATURATION_TEMPERATURE};
    const hf_status status = hfi_check(temperature, &range, flags);
    if (!out)
        return HF_EINVAL;
    if (!hf_failed(status))
        *out = hfi_latent_heat(temperature);
    return status;
}

HFI_STRICT(hf_latent_heat, (double temperature), temperature)
