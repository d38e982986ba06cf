/*
 * Temperature at which water reaches a pressure: the inverse of the SR1-86 saturation pressure.
 *
 * Newton's method on ln p from the closed form of IF97 region 4, which is off by at most 0.02 % of
 * the pressure (some millikelvin), so three steps reach rounding.
 * 611.657 Pa..22.064 MPa. Sources: iapws-sr1-86, iapws-r7-97.
 */
#include "water.h"
#include "ranges.h"
#include "../base/strict.h"

#include <hairfibre/water.h>

#include "../base/range.h"

static const hfi_range pressure_range = {HFI_SATURATION_PRESSURE};

double hfi_saturation_temperature(double pressure)
{
    double temperature = hfi_region4_temperature(pressure);
    for (int step = 0; step < 3; step++) {
        /* The equation ends at the critical point, where an iterate may land one step beyond, and
         * rounding must not carry the answer out of the range of the pressure equation. */
        temperature = fmin(fmax(temperature, HFI_TRIPLE_TEMPERATURE), HFI_CRITICAL_TEMPERATURE);
        double p;
        const double slope = hfi_saturation_pressure_slope(temperature, &p);
        temperature += log(pressure / p) * p / slope;
    }
    return fmin(fmax(temperature, HFI_TRIPLE_TEMPERATURE), HFI_CRITICAL_TEMPERATURE);
}

hf_status hf_saturation_temperature_e(double pressure, unsigned flags, double *out)
{
    const hf_status status = hfi_check(pressure, &pressure_range, flags);
    if (!out)
        return HF_EINVAL;
    if (!hf_failed(status))
        *out = hfi_saturation_temperature(pressure);
    return status;
}

HFI_STRICT(hf_saturation_temperature, (double pressure), pressure)

hf_status hf_boiling_temperature_e(double pressure, unsigned flags, double *out)
{
    return hf_saturation_temperature_e(pressure, flags, out);
}

HFI_STRICT(hf_boiling_temperature, (double pressure), pressure)

hf_status hf_boiling_temperature_at_activity_e(double humidity, double pressure, unsigned flags,
                                               double *out)
{
    static const hfi_range humidity_range = {HFI_HUMIDITY};
    const hf_status status = hfi_worse(hfi_check(humidity, &humidity_range, flags),
                                       hfi_check(pressure, &pressure_range, flags));
    if (!out)
        return HF_EINVAL;
    if (hf_failed(status))
        return status;
    if (humidity * HFI_CRITICAL_PRESSURE < pressure)
        return HF_ERANGE;
    *out = hfi_saturation_temperature(fmin(pressure / humidity, HFI_CRITICAL_PRESSURE));
    return status;
}

HFI_STRICT(hf_boiling_temperature_at_activity, (double humidity, double pressure), humidity,
           pressure)
