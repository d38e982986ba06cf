/*
 * Dry air near atmospheric pressure.
 *
 *   k   = 2.64638e-3 T^1.5 / (T + 245.4 * 10^(-12/T))      conductivity, W/(m K)
 *   mu  = 1.458e-6 T^1.5 / (T + 110.4)                     dynamic viscosity, Pa s
 *   rho = p M / (R T)                                      density, kg/m3, ideal gas
 *   cp  = 1006.05 + 0.01941 (T - 300) + 4.655e-4 (T - 300)^2   specific heat, J/(kg K)
 *   Pr  = mu cp / k
 *
 * T temperature, K; p pressure, Pa; M = 0.0289644 kg/mol, R = 8.31432 J/(mol K) (the standard's own
 * values). k, mu, rho: stdatm1976. cp: own least squares through two printed tables (cengel-tables
 * A-15, incropera6 A.4), largest misfit 1.6 J/(kg K). The misfits against the tables, 250..550 K,
 * stand in hairfibre/water.h.
 */
#include "water.h"
#include "ranges.h"
#include "../base/strict.h"

#include <hairfibre/water.h>

#include "../base/range.h"

static const hfi_range temperature_range = {HFI_AIR_TEMPERATURE};

double hfi_air_conductivity(double temperature)
{
    return 2.64638e-3 * temperature * sqrt(temperature) /
           (temperature + 245.4 * pow(10, -12 / temperature));
}

double hfi_air_viscosity(double temperature)
{
    return 1.458e-6 * temperature * sqrt(temperature) / (temperature + 110.4);
}

double hfi_air_density(double temperature, double pressure)
{
    return pressure * (0.0289644 / 8.31432) / temperature;
}

double hfi_air_heat_capacity(double temperature)
{
    const double x = temperature - 300;
    return 1006.05 + x * (0.01941 + 4.655e-4 * x);
}

double hfi_air_prandtl(double temperature)
{
    return hfi_air_viscosity(temperature) * hfi_air_heat_capacity(temperature) /
           hfi_air_conductivity(temperature);
}

static hf_status answer(double (*property)(double), double temperature, unsigned flags, double *out)
{
    const hf_status status = hfi_check(temperature, &temperature_range, flags);
    if (!out)
        return HF_EINVAL;
    if (!hf_failed(status))
        *out = property(temperature);
    return status;
}

hf_status hf_air_conductivity_e(double temperature, unsigned flags, double *out)
{
    return answer(hfi_air_conductivity, temperature, flags, out);
}

HFI_STRICT(hf_air_conductivity, (double temperature), temperature)

hf_status hf_air_viscosity_e(double temperature, unsigned flags, double *out)
{
    return answer(hfi_air_viscosity, temperature, flags, out);
}

HFI_STRICT(hf_air_viscosity, (double temperature), temperature)

hf_status hf_air_heat_capacity_e(double temperature, unsigned flags, double *out)
{
    return answer(hfi_air_heat_capacity, temperature, flags, out);
}

HFI_STRICT(hf_air_heat_capacity, (double temperature), temperature)

hf_status hf_air_prandtl_e(double temperature, unsigned flags, double *out)
{
    return answer(hfi_air_prandtl, temperature, flags, out);
}

HFI_STRICT(hf_air_prandtl, (double temperature), temperature)

hf_status hf_air_density_e(double temperature, double pressure, unsigned flags, double *out)
{
    static const hfi_range pressure_range = {HFI_AMBIENT_PRESSURE};
    const hf_status status = hfi_worse(hfi_check(temperature, &temperature_range, flags),
                                       hfi_check(pressure, &pressure_range, flags));
    if (!out)
        return HF_EINVAL;
    if (!hf_failed(status))
        *out = hfi_air_density(temperature, pressure);
    return status;
}

HFI_STRICT(hf_air_density, (double temperature, double pressure), temperature, pressure)
