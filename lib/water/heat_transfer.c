/*
 * Heat and vapour transfer between air and a fibre.
 *
 *   h  = Nu k / d                            heat transfer coefficient, W/(m2 K)
 *   Re = rho u d / mu                        Reynolds number of the stream
 *   Gr = g |Ts - Ta| d^3 rho^2 / (Tm mu^2)   Grashof number, Ra = Gr Pr
 *   hm = h / (rho cp Le^(2/3)),  Le = k / (rho cp D)     mass transfer coefficient, m/s
 *
 * d diameter, m; u speed, m/s; Ts, Ta surface and air temperature, K; Tm = (Ts + Ta)/2, where k,
 * rho, mu, cp, D are taken; g = 9.80665 m/s2. Moving air: the fine-wire law up to Re 70, the
 * cross-flow law from Re 140, and between them a blend by ln Re whose slope is continuous (they
 * differ there by a few percent). Sources: collis1959, churchillbernstein1977, churchillchu1975,
 * lewis-relation; the blend: own-judgement.
 */
#include "heat_transfer.h"
#include "ranges.h"
#include "../base/strict.h"
#include "water.h"

#include <hairfibre/water.h>

#include "../base/range.h"

#define BLEND_LOW  70.0
#define BLEND_HIGH 140.0

hfi_film hfi_film_at(double diameter, double speed, double surface_temperature,
                     double air_temperature, double pressure)
{
    const double mean = 0.5 * (surface_temperature + air_temperature);
    const double per_viscosity = hfi_air_density(mean, pressure) / hfi_air_viscosity(mean);
    const double cube = diameter * diameter * diameter;
    return (hfi_film){
        .reynolds = speed * diameter * per_viscosity,
        .grashof = 9.80665 * fabs(surface_temperature - air_temperature) / mean * cube *
                   per_viscosity * per_viscosity,
        .prandtl = hfi_air_prandtl(mean),
        .conductivity = hfi_air_conductivity(mean),
    };
}

static double nusselt_moving(const hfi_film *film, double temperature_ratio)
{
    if (film->reynolds <= BLEND_LOW)
        return hfi_nusselt_fine_wire(film->reynolds, temperature_ratio);
    const double cross = hfi_nusselt_cross_flow(film->reynolds, film->prandtl);
    if (film->reynolds >= BLEND_HIGH)
        return cross;
    const double x = log(film->reynolds / BLEND_LOW) / log(BLEND_HIGH / BLEND_LOW);
    const double share = x * x * (3 - 2 * x);
    return (1 - share) * hfi_nusselt_fine_wire(film->reynolds, temperature_ratio) + share * cross;
}

static hf_status check_fibre(double diameter, double surface_temperature, double air_temperature,
                             double pressure, unsigned flags)
{
    static const hfi_range diameter_range = {HFI_DIAMETER};
    static const hfi_range temperature_range = {HFI_AIR_TEMPERATURE};
    static const hfi_range pressure_range = {HFI_AMBIENT_PRESSURE};
    return hfi_worse(hfi_worse(hfi_check(diameter, &diameter_range, flags),
                               hfi_check(pressure, &pressure_range, flags)),
                     hfi_worse(hfi_check(surface_temperature, &temperature_range, flags),
                               hfi_check(air_temperature, &temperature_range, flags)));
}

hf_status hf_heat_transfer_moving_air_e(double diameter, double speed, double surface_temperature,
                                        double air_temperature, double pressure, unsigned flags,
                                        double *out)
{
    static const hfi_range speed_range = {HFI_SPEED};
    hf_status status =
        hfi_worse(hfi_check(speed, &speed_range, flags),
                  check_fibre(diameter, surface_temperature, air_temperature, pressure, flags));
    if (!out)
        return HF_EINVAL;
    if (hf_failed(status))
        return status;
    const hfi_film film =
        hfi_film_at(diameter, speed, surface_temperature, air_temperature, pressure);
    const double cube = film.reynolds * film.reynolds * film.reynolds;
    status =
        hfi_supported(status, film.reynolds >= HFI_STREAM_REYNOLDS && cube >= film.grashof, flags);
    if (hf_failed(status))
        return status;
    const double ratio = 0.5 * (surface_temperature + air_temperature) / air_temperature;
    *out = nusselt_moving(&film, ratio) * film.conductivity / diameter;
    return status;
}

HFI_STRICT(hf_heat_transfer_moving_air,
           (double diameter, double speed, double surface_temperature, double air_temperature,
            double pressure),
           diameter, speed, surface_temperature, air_temperature, pressure)

hf_status hf_heat_transfer_still_air_e(double diameter, double surface_temperature,
                                       double air_temperature, double pressure, unsigned flags,
                                       double *out)
{
    hf_status status = check_fibre(diameter, surface_temperature, air_temperature, pressure, flags);
    if (!out)
        return HF_EINVAL;
    if (hf_failed(status))
        return status;
    const hfi_film film = hfi_film_at(diameter, 0, surface_temperature, air_temperature, pressure);
    const double rayleigh = film.grashof * film.prandtl;
    status = hfi_supported(status, rayleigh >= HFI_STILL_RAYLEIGH, flags);
    if (!hf_failed(status))
        *out = hfi_nusselt_free_convection(rayleigh, film.prandtl) * film.conductivity / diameter;
    return status;
}

HFI_STRICT(hf_heat_transfer_still_air,
           (double diameter, double surface_temperature, double air_temperature, double pressure),
           diameter, surface_temperature, air_temperature, pressure)

hf_status hf_mass_transfer_coefficient_e(double heat_transfer, double film_temperature,
                                         double pressure, unsigned flags, double *out)
{
    static const hfi_range heat_range = {HFI_HEAT_TRANSFER};
    static const hfi_range temperature_range = {HFI_DIFFUSIVITY_TEMPERATURE};
    static const hfi_range pressure_range = {HFI_AMBIENT_PRESSURE};
    const hf_status status =
        hfi_worse(hfi_worse(hfi_check(heat_transfer, &heat_range, flags),
                            hfi_check(film_temperature, &temperature_range, flags)),
                  hfi_check(pressure, &pressure_range, flags));
    if (!out)
        return HF_EINVAL;
    if (hf_failed(status))
        return status;
    const double capacity =
        hfi_air_density(film_temperature, pressure) * hfi_air_heat_capacity(film_temperature);
    const double lewis = hfi_air_conductivity(film_temperature) /
                         (capacity * hfi_vapour_diffusivity(film_temperature, pressure));
    const double root = cbrt(lewis);
    *out = heat_transfer / (capacity * root * root);
    return status;
}

HFI_STRICT(hf_mass_transfer_coefficient,
           (double heat_transfer, double film_temperature, double pressure), heat_transfer,
           film_temperature, pressure)
