/*
 * Densities of saturated water and steam, IAPWS SR1-86(1992).
 *
 *   rho'/rc = 1 + b1 t^(1/3) + b2 t^(2/3) + b3 t^(5/3) + b4 t^(16/3) + b5 t^(43/3) + b6 t^(110/3)
 *   ln(rho''/rc) = c1 t^(2/6) + c2 t^(4/6) + c3 t^(8/6) + c4 t^(18/6) + c5 t^(37/6) + c6 t^(71/6)
 *
 * rho' liquid, rho'' steam, rc = 322, kg/m3; t = 1 - T/Tc; T temperature, K, 273.16..647.096.
 * Source: iapws-sr1-86.
 */
#include "water.h"
#include "ranges.h"
#include "../base/strict.h"

#include <hairfibre/water.h>

#include "../base/range.h"

#define CRITICAL_DENSITY 322.0

static const hfi_range temperature_range = {HFI_SATURATION_TEMPERATURE};

double hfi_liquid_density(double temperature)
{
    const double t = 1 - temperature / HFI_CRITICAL_TEMPERATURE;
    const double x = cbrt(t);
    const double x2 = x * x;
    const double t2 = t * t, t4 = t2 * t2, t5 = t4 * t, t9 = t4 * t5, t14 = t9 * t5;
    const double t36 = (t9 * t9) * (t9 * t9);
    return CRITICAL_DENSITY *
           (1 + 1.99274064 * x + 1.09965342 * x2 - 0.510839303 * t * x2 - 1.75493479 * t5 * x -
            45.5170352 * t14 * x - 6.74694450e5 * t36 * x2);
}

double hfi_vapour_density(double temperature)
{
    const double t = 1 - temperature / HFI_CRITICAL_TEMPERATURE;
    const double x = cbrt(t);
    const double sixth = sqrt(x);
    const double t3 = t * t * t, t6 = t3 * t3;
    const double logarithm = -2.03150240 * x - 2.68302940 * x * x - 5.38626492 * t * x -
                             17.2991605 * t3 - 44.7586581 * t6 * sixth -
                             63.9201063 * t6 * t3 * t * t * x * x * sixth;
    return CRITICAL_DENSITY * exp(logarithm);
}

hf_status hf_liquid_density_e(double temperature, unsigned flags, double *out)
{
    const hf_status status = hfi_check(temperature, &temperature_range, flags);
    if (!out)
        return HF_EINVAL;
    if (!hf_failed(status))
        *out = hfi_liquid_density(temperature);
    return status;
}

HFI_STRICT(hf_liquid_density, (double temperature), temperature)

hf_status hf_vapour_density_e(double temperature, unsigned flags, double *out)
{
    const hf_status status = hfi_check(temperature, &temperature_range, flags);
    if (!out)
        return HF_EINVAL;
    if (!hf_failed(status))
        *out = hfi_vapour_density(temperature);
    return status;
}

HFI_STRICT(hf_vapour_density, (double temperature), temperature)
