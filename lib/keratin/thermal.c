/*
 * Heat capacity and conductivity of the fibre.
 *
 *   c(w, T) = [c0 + c1 (T - 298.15 K) + w cw] / (1 + w)     J/(K kg WET fibre), mixing by mass
 *   k(w) = k0 + k1 w                                        W/(m K), across the fibre
 *
 *   w regain, kg water per kg dry fibre; w/(1 + w) is the water fraction of the wet mass
 *
 * c times (1 + w) is the heat capacity per kg dry fibre. The sum counts sorbed water as liquid
 * water and leaves out the heat of sorption, which belongs to the water that moves. Range: c0 is
 * wool at room temperature (haly1965, second-hand), c1 from memory (halysnaith1968, hair-cp-dsc),
 * no melting of the helices. k: two points on horn and wool (baxter1946), 0.193 at 0.7 % and 0.223
 * at 10.7 % regain; along the fibre it is about two to three times more (kawabata, from memory).
 * One source finds a thermal diffusivity ten times larger than k/(rho c), on metal-coated hair
 * along the fibre (ohets-hair).
 */
#include "properties.h"

#include "../base/catalogue.h"
#include "../base/range.h"
#include "../base/strict.h"
#include "constants.h"
#include "ranges.h"

#include <hairfibre/keratin.h>

#include <math.h>

static const hfi_range regain_range = {HFI_REGAIN};
static const hfi_range temperature_range = {HFI_CAPACITY_TEMPERATURE};
static const hfi_range conductivity_regain_range = {HFI_CONDUCTIVITY_REGAIN};

double hfi_heat_capacity(const double *values, double w, double T)
{
    const double dry = values[HFI_THERMAL_CAPACITY_DRY] +
                       values[HFI_THERMAL_CAPACITY_SLOPE] * (T - HFI_REFERENCE_TEMPERATURE);
    return (dry + w * values[HFI_THERMAL_CAPACITY_WATER]) / (1 + w);
}

double hfi_conductivity(const double *values, double w)
{
    return values[HFI_THERMAL_CONDUCTIVITY_DRY] + values[HFI_THERMAL_CONDUCTIVITY_SLOPE] * w;
}

hf_status hf_heat_capacity_e(double regain, double temperature, const hf_parameters *set,
                             unsigned flags, double *capacity)
{
    if (!capacity)
        return HF_EINVAL;
    const hf_status status = hfi_worse(hfi_check(regain, &regain_range, flags),
                                       hfi_check(temperature, &temperature_range, flags));
    if (!hf_failed(status))
        *capacity = hfi_heat_capacity(hfi_values(set), regain, temperature);
    return status;
}

HFI_STRICT(hf_heat_capacity, (double regain, double temperature, const hf_parameters *set), regain,
           temperature, set)

hf_status hf_conductivity_e(double regain, const hf_parameters *set, unsigned flags,
                            double *conductivity)
{
    if (!conductivity)
        return HF_EINVAL;
    const hf_status status = hfi_check(regain, &conductivity_regain_range, flags);
    if (!hf_failed(status))
        *conductivity = hfi_conductivity(hfi_values(set), regain);
    return status;
}

HFI_STRICT(hf_conductivity, (double regain, const hf_parameters *set), regain, set)
