/*
 * Surface tension of water against its vapour, IAPWS R1-76(2014).
 *
 *   sigma = B t^1.256 (1 + b t),  B = 0.2358 N/m, b = -0.625, t = 1 - T/Tc
 *
 * sigma in N/m; T temperature, K, 273.16..647.096. Source: iapws-r1-76.
 */
#include "ranges.h"
#include "water.h"
#include "../base/strict.h"

#include <hairfibre/water.h>

#include "../base/range.h"

#define POWER 1.256

static double tension(double t, double power)
{
    return 0.2358 * power * (1 - 0.625 * t);
}

double hfi_surface_tension_near(hfi_tension *last, double temperature)
{
    const double t = 1 - temperature / HFI_CRITICAL_TEMPERATURE;
    if (!(fabs(temperature - last->temperature) < 5)) {
        last->temperature = temperature;
        last->power = pow(t, POWER);
    }
    const double r =
        (last->temperature - temperature) / (HFI_CRITICAL_TEMPERATURE - last->temperature);
    const double c2 = POWER * (POWER - 1) / 2, c3 = c2 * (POWER - 2) / 3;
    const double c4 = c3 * (POWER - 3) / 4, c5 = c4 * (POWER - 4) / 5;
    return tension(t, last->power * (1 + r * (POWER + r * (c2 + r * (c3 + r * (c4 + r * c5))))));
}

hf_status hf_surface_tension_e(double temperature, unsigned flags, double *out)
{
    static const hfi_range range = {HFI_SATURATION_TEMPERATURE};
    const hf_status status = hfi_check(temperature, &range, flags);
    if (!out)
        return HF_EINVAL;
    if (hf_failed(status))
        return status;
    const double t = 1 - temperature / HFI_CRITICAL_TEMPERATURE;
    *out = tension(t, pow(t, POWER));
    return status;
}

HFI_STRICT(hf_surface_tension, (double temperature), temperature)
