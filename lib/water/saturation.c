/*
 * Saturation pressure of water, IAPWS SR1-86(1992).
 *
 *   ln(p/pc) = (Tc/T) (a1 t + a2 t^1.5 + a3 t^3 + a4 t^3.5 + a5 t^4 + a6 t^7.5),  t = 1 - T/Tc
 *   dp/dT = -(p/T) (ln(p/pc) + a1 + 1.5 a2 t^0.5 + 3 a3 t^2 + 3.5 a4 t^2.5 + 4 a5 t^3 + 7.5 a6
 * t^6.5)
 *
 * p pressure, Pa; T temperature, K, 273.16..647.096. Sources: iapws-sr1-86, wagnerpruss1993.
 */
#include "water.h"
#include "ranges.h"
#include "../base/strict.h"

#include <hairfibre/water.h>

#include "../base/range.h"

static const double a1 = -7.85951783, a2 = 1.84408259, a3 = -11.7866497, a4 = 22.6807411,
                    a5 = -15.9618719, a6 = 1.80122502;

static const hfi_range temperature_range = {HFI_SATURATION_TEMPERATURE};

/* Whole and half powers come from one square root: no pow, this is the most called function. */
double hfi_saturation_pressure(double temperature)
{
    const double t = 1 - temperature / HFI_CRITICAL_TEMPERATURE;
    const double root = sqrt(t);
    const double square = t * t;
    const double sum =
        t * (a1 + a2 * root + square * (a3 + a4 * root + t * (a5 + a6 * t * square * root)));
    return HFI_CRITICAL_PRESSURE * exp(HFI_CRITICAL_TEMPERATURE / temperature * sum);
}

double hfi_saturation_pressure_slope(double temperature, double *pressure)
{
    const double t = 1 - temperature / HFI_CRITICAL_TEMPERATURE;
    const double root = sqrt(t);
    const double square = t * t;
    const double high = a6 * t * square * root;
    const double sum = t * (a1 + a2 * root + square * (a3 + a4 * root + t * (a5 + high)));
    const double slope =
        a1 + 1.5 * a2 * root + square * (3 * a3 + 3.5 * a4 * root + t * (4 * a5 + 7.5 * high));
    const double logarithm = HFI_CRITICAL_TEMPERATURE / temperature * sum;
    *pressure = HFI_CRITICAL_PRESSURE * exp(logarithm);
    return -*pressure / temperature * (logarithm + slope);
}

hf_status hf_saturation_pressure_e(double temperature, unsigned flags, double *out)
{
    const hf_status status = hfi_check(temperature, &temperature_range, flags);
    if (!out)
        return HF_EINVAL;
    if (!hf_failed(status))
        *out = hfi_saturation_pressure(temperature);
    return status;
}

HFI_STRICT(hf_saturation_pressure, (double temperature), temperature)

hf_status hf_saturation_pressure_v(size_t n, const double *temperature, unsigned flags, double *out,
                                   size_t *bad)
{
    if (n && (!temperature || !out))
        return HF_EINVAL;
    hf_status worst = HF_OK;
    size_t i = 0;
    for (; i < n; i++) {
        worst = hfi_worse(worst, hfi_check(temperature[i], &temperature_range, flags));
        if (hf_failed(worst))
            break;
        out[i] = hfi_saturation_pressure(temperature[i]);
    }
    if (bad)
        *bad = i;
    return worst;
}

hf_status hf_saturation_pressure_slope_e(double temperature, unsigned flags, double *out)
{
    const hf_status status = hfi_check(temperature, &temperature_range, flags);
    double pressure;
    if (!out)
        return HF_EINVAL;
    if (!hf_failed(status))
        *out = hfi_saturation_pressure_slope(temperature, &pressure);
    return status;
}

HFI_STRICT(hf_saturation_pressure_slope, (double temperature), temperature)
