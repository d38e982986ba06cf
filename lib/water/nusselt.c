/*
 * Nusselt numbers of a cylinder, Nu = h d / k.
 *
 *   cross flow   Nu = 0.3 + 0.62 Re^(1/2) Pr^(1/3) / [1 + (0.4/Pr)^(2/3)]^(1/4)
 *                     * [1 + (Re/282000)^(5/8)]^(4/5),  Re Pr > 0.2     (Churchill, Bernstein)
 *   fine wire    Nu (Tm/Ta)^-0.17 = 0.24 + 0.56 Re^0.45,  0.02 < Re < 44
 *                                 = 0.48 Re^0.51,           44 < Re < 140   (Collis, Williams)
 *   still air    Nu = {0.6 + 0.387 Ra^(1/6) / [1 + (0.559/Pr)^(9/16)]^(8/27)}^2   (Churchill, Chu)
 *
 * Re, Pr, Ra at film temperature Tm; Ta air temperature, K. Sources: churchillbernstein1977 (limit
 * 0.2 from memory), collis1959 (constants from memory, its measured points checked),
 * churchillchu1975.
 */
#include "heat_transfer.h"
#include "ranges.h"
#include "../base/strict.h"

#include <hairfibre/water.h>

#include "../base/range.h"

static const hfi_range prandtl_range = {HFI_PRANDTL};

hf_status hfi_supported(hf_status status, int supported, unsigned flags)
{
    if (hf_failed(status) || supported)
        return status;
    return flags & HF_EXTRAPOLATE ? HF_EXTRAPOLATED : HF_ERANGE;
}

double hfi_nusselt_cross_flow(double reynolds, double prandtl)
{
    const double flow = 1 + pow(reynolds / 282000, 0.625);
    return 0.3 + 0.62 * sqrt(reynolds) * cbrt(prandtl) /
                     pow(1 + pow(0.4 / prandtl, 2.0 / 3), 0.25) * pow(flow, 0.8);
}

/* The two laws leave a step of 0.2 % at Re 44. They cross at Re 45, and each is the larger one on
 * its own side, so the larger of the two is continuous. */
double hfi_nusselt_fine_wire(double reynolds, double temperature_ratio)
{
    const double law = fmax(0.24 + 0.56 * pow(reynolds, 0.45), 0.48 * pow(reynolds, 0.51));
    return law * pow(temperature_ratio, 0.17);
}

double hfi_nusselt_free_convection(double rayleigh, double prandtl)
{
    const double root =
        0.6 + 0.387 * pow(rayleigh, 1.0 / 6) / pow(1 + pow(0.559 / prandtl, 0.5625), 8.0 / 27);
    return root * root;
}

hf_status hf_nusselt_cross_flow_e(double reynolds, double prandtl, unsigned flags, double *out)
{
    static const hfi_range reynolds_range = {HFI_CROSS_FLOW_REYNOLDS};
    const hf_status status = hfi_supported(hfi_worse(hfi_check(reynolds, &reynolds_range, flags),
                                                     hfi_check(prandtl, &prandtl_range, flags)),
                                           reynolds * prandtl >= HFI_CROSS_FLOW_PECLET, flags);
    if (!out)
        return HF_EINVAL;
    if (!hf_failed(status))
        *out = hfi_nusselt_cross_flow(reynolds, prandtl);
    return status;
}

HFI_STRICT(hf_nusselt_cross_flow, (double reynolds, double prandtl), reynolds, prandtl)

hf_status hf_nusselt_fine_wire_e(double reynolds, double temperature_ratio, unsigned flags,
                                 double *out)
{
    static const hfi_range reynolds_range = {HFI_FINE_WIRE_REYNOLDS};
    static const hfi_range ratio_range = {HFI_TEMPERATURE_RATIO};
    const hf_status status = hfi_worse(hfi_check(reynolds, &reynolds_range, flags),
                                       hfi_check(temperature_ratio, &ratio_range, flags));
    if (!out)
        return HF_EINVAL;
    if (!hf_failed(status))
        *out = hfi_nusselt_fine_wire(reynolds, temperature_ratio);
    return status;
}

HFI_STRICT(hf_nusselt_fine_wire, (double reynolds, double temperature_ratio), reynolds,
           temperature_ratio)

hf_status hf_nusselt_free_convection_e(double rayleigh, double prandtl, unsigned flags, double *out)
{
    static const hfi_range rayleigh_range = {HFI_RAYLEIGH};
    const hf_status status = hfi_worse(hfi_check(rayleigh, &rayleigh_range, flags),
                                       hfi_check(prandtl, &prandtl_range, flags));
    if (!out)
        return HF_EINVAL;
    if (!hf_failed(status))
        *out = hfi_nusselt_free_convection(rayleigh, prandtl);
    return status;
}

HFI_STRICT(hf_nusselt_free_convection, (double rayleigh, double prandtl), rayleigh, prandtl)
