/*
 * Moist air as a mixture of two ideal gases over liquid water.
 *
 *   e = a psat(T)                         vapour pressure, Pa
 *   W = 0.621945 e / (p - e)              humidity ratio, kg/kg dry air
 *   psat(Td) = e                          dew point Td, K
 *   (Ws(Tw) - W) L(Tw) = (cp + W cpv) (T - Tw)     wet bulb Tw, K
 *
 * T air temperature, K; a relative humidity; p pressure, Pa; Ws humidity ratio of saturated air; L
 * latent heat, J/kg; cp of dry air at the mean of T and Tw, cpv = 1860 J/(kg K) of water vapour.
 * The last line is the enthalpy balance of adiabatic saturation,
 *   h(T, W) + (Ws - W) hl(Tw) = h(Tw, Ws),   h = cp T + W hv(T),  L = hv - hl.
 * Sources: ashrae2017 (definitions, 0.621945, 1860 J/(kg K)), iapws-sr1-86.
 */
#include "water.h"
#include "ranges.h"
#include "../base/strict.h"

#include <hairfibre/water.h>

#include "../base/range.h"

#define MASS_RATIO           0.621945
#define VAPOUR_HEAT_CAPACITY 1860.0

static const hfi_range temperature_range = {HFI_MOIST_TEMPERATURE};
static const hfi_range humidity_range = {HFI_HUMIDITY};
static const hfi_range pressure_range = {HFI_AMBIENT_PRESSURE};

/* Status of a state of moist air, and its vapour pressure. */
static hf_status check(double temperature, double humidity, double pressure, unsigned flags,
                       double *vapour)
{
    const hf_status status = hfi_worse(hfi_worse(hfi_check(temperature, &temperature_range, flags),
                                                 hfi_check(humidity, &humidity_range, flags)),
                                       hfi_check(pressure, &pressure_range, flags));
    if (hf_failed(status))
        return status;
    *vapour = humidity * hfi_saturation_pressure(temperature);
    return *vapour < pressure ? status : HF_ERANGE;
}

hf_status hf_humidity_ratio_e(double temperature, double humidity, double pressure, unsigned flags,
                              double *out)
{
    double vapour;
    const hf_status status = check(temperature, humidity, pressure, flags, &vapour);
    if (!out)
        return HF_EINVAL;
    if (!hf_failed(status))
        *out = MASS_RATIO * vapour / (pressure - vapour);
    return status;
}

HFI_STRICT(hf_humidity_ratio, (double temperature, double humidity, double pressure), temperature,
           humidity, pressure)

hf_status hf_dew_point_e(double temperature, double humidity, unsigned flags, double *out)
{
    static const hfi_range saturation_range = {HFI_SATURATION_TEMPERATURE};
    const hf_status status = hfi_worse(hfi_check(temperature, &saturation_range, flags),
                                       hfi_check(humidity, &humidity_range, flags));
    if (!out)
        return HF_EINVAL;
    if (hf_failed(status))
        return status;
    const double vapour = humidity * hfi_saturation_pressure(temperature);
    if (vapour < HFI_SATURATION_PRESSURE_LOW)
        return HF_ERANGE;
    *out = hfi_saturation_temperature(vapour);
    return status;
}

HFI_STRICT(hf_dew_point, (double temperature, double humidity), temperature, humidity)

typedef struct wet_bulb {
    double temperature, pressure, vapour, ratio;
} wet_bulb;

/* The balance at a trial wet bulb, times (p - psat) so that it stays finite up to boiling; rises
 * with the trial. *slope leaves out dL/dT and dcp/dT, which are small. */
static double balance(const wet_bulb *air, double trial, double *slope)
{
    double saturation;
    const double dp = hfi_saturation_pressure_slope(trial, &saturation);
    const double gain =
        MASS_RATIO * air->pressure / (air->pressure - air->vapour) * hfi_latent_heat(trial);
    const double heat =
        hfi_air_heat_capacity(0.5 * (air->temperature + trial)) + air->ratio * VAPOUR_HEAT_CAPACITY;
    const double cooling = air->temperature - trial;
    *slope = gain * dp + heat * (air->pressure - saturation + cooling * dp);
    return gain * (saturation - air->vapour) - heat * cooling * (air->pressure - saturation);
}

hf_status hf_wet_bulb_e(double temperature, double humidity, double pressure, unsigned flags,
                        double *out)
{
    wet_bulb air = {.temperature = temperature, .pressure = pressure};
    const hf_status status = check(temperature, humidity, pressure, flags, &air.vapour);
    if (!out)
        return HF_EINVAL;
    if (hf_failed(status))
        return status;
    air.ratio = MASS_RATIO * air.vapour / (pressure - air.vapour);
    double slope, low = HFI_TRIPLE_TEMPERATURE;
    double high = fmin(temperature, hfi_saturation_temperature(pressure));
    if (balance(&air, low, &slope) > 0)
        return HF_ERANGE; /* it would freeze */
    double trial = high;
    for (int step = 0; step < 100; step++) {
        const double value = balance(&air, trial, &slope);
        if (value > 0)
            high = trial;
        else
            low = trial;
        double next = trial - value / slope;
        if (next < low || next > high)
            next = 0.5 * (low + high);
        if (fabs(next - trial) <= 1e-13 * trial) {
            *out = next;
            return status;
        }
        trial = next;
    }
    return HF_ECONVERGE;
}

HFI_STRICT(hf_wet_bulb, (double temperature, double humidity, double pressure), temperature,
           humidity, pressure)
