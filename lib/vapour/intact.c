/*
 * The intact solid: what resists a void where nothing has softened or come apart.
 *
 *   dp = 5 E / 6 + 2 gamma / r        overpressure at which a small cavity opens without limit
 *
 * dp, E Pa; gamma surface tension of water at T, N/m; r radius, m. A cavity in an unbounded soft solid
 * (neo-Hookean), with the surface term added: gentlindley1959 (5 E/6 second-hand). Read the other way
 * round it is the modulus below which steam of that pressure could open the solid: 0.45 MPa at 150 degC
 * and 2.7 MPa at 220 degC for large voids, hundreds of times below wet keratin at room temperature. So
 * intact wet keratin does not give way; voids need weak interfaces (voids.h). Fracture is left out: tests
 * on rubber say that cavitation is fracture in the end (breedlove2023). Modulus of wet keratin above
 * 100 degC: never measured.
 */
#include <hairfibre/vapour.h>

#include <hairfibre/water.h>

#include "../base/range.h"
#include "../base/strict.h"
#include "ranges.h"

static const hfi_range pressure_range = {HFI_VOID_PRESSURE};
static const hfi_range radius_range = {HFI_VOID_RADIUS};
static const hfi_range temperature_range = {HFI_VOID_TEMPERATURE};

hf_status hf_softness_for_voids_e(double gauge_pressure, double void_radius, double temperature,
                                  unsigned flags, double *modulus)
{
    if (!modulus)
        return HF_EINVAL;
    hf_status status = hfi_check(gauge_pressure, &pressure_range, flags);
    status = hfi_worse(status, hfi_check(void_radius, &radius_range, flags));
    status = hfi_worse(status, hfi_check(temperature, &temperature_range, flags));
    if (!hf_failed(status))
        *modulus =
            fmax(1.2 * (gauge_pressure - 2 * hf_surface_tension(temperature) / void_radius), 0);
    return status;
}

HFI_STRICT(hf_softness_for_voids, (double gauge_pressure, double void_radius, double temperature),
           gauge_pressure, void_radius, temperature)

hf_status hf_critical_void_radius_e(double gauge_pressure, double temperature, unsigned flags,
                                    double *radius)
{
    if (!radius)
        return HF_EINVAL;
    hf_status status = hfi_check(gauge_pressure, &pressure_range, flags);
    status = hfi_worse(status, hfi_check(temperature, &temperature_range, flags));
    if (!hf_failed(status) && gauge_pressure < 1)
        return HF_ERANGE;
    if (!hf_failed(status))
        *radius = 2 * hf_surface_tension(temperature) / gauge_pressure;
    return status;
}

HFI_STRICT(hf_critical_void_radius, (double gauge_pressure, double temperature), gauge_pressure,
           temperature)
