/*
 * Diffusivity of water vapour in air.
 *
 *   D = D0 (p0/p) (T/T0)^1.81,  D0 = 2.178e-5 m2/s at T0 = 273.15 K and p0 = 101325 Pa
 *
 * T temperature, K; p pressure, Pa. Source: massman1998, a review of data near room conditions;
 * a rival law (marreromason1972, 282..450 K) differs by +3.4 % at 282 K to -8.5 % at 450 K.
 */
#include "water.h"
#include "ranges.h"
#include "../base/strict.h"

#include <hairfibre/water.h>

#include "../base/range.h"

double hfi_vapour_diffusivity(double temperature, double pressure)
{
    return 2.178e-5 * (101325 / pressure) * pow(temperature / 273.15, 1.81);
}

hf_status hf_vapour_diffusivity_e(double temperature, double pressure, unsigned flags, double *out)
{
    static const hfi_range temperature_range = {HFI_DIFFUSIVITY_TEMPERATURE};
    static const hfi_range pressure_range = {HFI_AMBIENT_PRESSURE};
    const hf_status status = hfi_worse(hfi_check(temperature, &temperature_range, flags),
                                       hfi_check(pressure, &pressure_range, flags));
    if (!out)
        return HF_EINVAL;
    if (!hf_failed(status))
        *out = hfi_vapour_diffusivity(temperature, pressure);
    return status;
}

HFI_STRICT(hf_vapour_diffusivity, (double temperature, double pressure), temperature, pressure)
