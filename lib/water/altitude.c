/*
 * Pressure of the standard atmosphere, lowest layer.
 *
 *   p = p0 (1 - G H / T0)^(g M / (R G))
 *
 * p pressure, Pa; H geopotential altitude, m, -5000..11000; p0 = 101325 Pa; T0 = 288.15 K;
 * G = 0.0065 K/m; g = 9.80665 m/s2; M = 0.0289644 kg/mol; R = 8.31432 J/(mol K), the value that the
 * standard itself uses. Source: stdatm1976.
 */
#include "ranges.h"
#include "../base/strict.h"

#include <hairfibre/water.h>

#include "../base/range.h"

hf_status hf_standard_pressure_e(double altitude, unsigned flags, double *out)
{
    static const hfi_range range = {HFI_ALTITUDE};
    const double gradient = 0.0065, exponent = 9.80665 * 0.0289644 / (8.31432 * gradient);
    const hf_status status = hfi_check(altitude, &range, flags);
    if (!out)
        return HF_EINVAL;
    if (!hf_failed(status))
        *out = 101325 * pow(1 - gradient * altitude / 288.15, exponent);
    return status;
}

HFI_STRICT(hf_standard_pressure, (double altitude), altitude)
