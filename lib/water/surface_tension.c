/*
 * Surface tension of water against its vapour, IAPWS R1-76(2014).
 *
 *   sigma = B t^1.256 (1 + b t),  B = 0.2358 N/m, b = -0.625, t = 1 - T/Tc
 *
 * sigma in N/m; T temperature, K, 273.16..647.096. Source: iapws-r1-76.
 */
#include "ranges.h"
#include "../base/strict.h"

#include <hairfibre/water.h>

#include "../base/range.h"

hf_status hf_surface_tension_e(double temperature, unsigned flags, double *out)
{
    static const hfi_range range = {HFI_SATURATION_TEMPERATURE};
    const hf_status status = hfi_check(temperature, &range, flags);
    if (!out)
        return HF_EINVAL;
    if (hf_failed(status))
        return status;
    const double t = 1 - temperature / HFI_CRITICAL_TEMPERATURE;
    *out = 0.2358 * pow(t, 1.256) * (1 - 0.625 * t);
    return status;
}

HFI_STRICT(hf_surface_tension, (double temperature), temperature)
