/*
 * Hydrogen bonds of the backbone.
 *
 *   accessible = N (1 - p),  protected = N p
 *   open = accessible f min(1, w / w1(T))
 *   mobile = accessible / (1 + exp(-(T - Tg(w)) / d))
 *   water set = s0 exp(-t/t0)
 *
 *   N     backbone amide groups, mol/kg: 8.8 (one per mean residue of 114 g/mol)
 *   p     share that heavy water does not reach in a day: 0.30 (feughelman1982), the helices
 *   f     share of the accessible bonds open at saturation: 1, assumed
 *   w, w1 regain and saturation regain at temperature T (lib/keratin); above w1 liquid water is
 *         present and the bonds stay open
 *   Tg    glass transition at this regain, K (lib/keratin); d width, K: 10, assumed
 *   s0,t0 0.584 and 2.47e5 s (69 h), from 58 % after 0.5 h and 52 % after 8 h of a coil dried at
 *         20 % humidity and released at 40 % (wickett-ch5, p. 162), logarithm linear for 4 h
 *
 * That opening goes with regain is an assumption (own-judgement); it follows the usual form of the
 * modulus, linear in regain between dry and wet.
 */
#include <hairfibre/bonds.h>

#include "ranges.h"

#include "../base/catalogue.h"
#include "../base/range.h"
#include "../base/strict.h"
#include "../keratin/properties.h"

static double accessible(const double *values)
{
    return values[HFI_BOND_HYDROGEN_BACKBONE] * (1 - values[HFI_BOND_HYDROGEN_PROTECTED]);
}

hf_status hf_hydrogen_bonds_accessible_e(const hf_parameters *set, unsigned flags, double *bonds)
{
    (void)flags;
    if (!bonds)
        return HF_EINVAL;
    *bonds = accessible(hfi_values(set));
    return HF_OK;
}

hf_status hf_hydrogen_bonds_protected_e(const hf_parameters *set, unsigned flags, double *bonds)
{
    (void)flags;
    if (!bonds)
        return HF_EINVAL;
    const double *values = hfi_values(set);
    *bonds = values[HFI_BOND_HYDROGEN_BACKBONE] * values[HFI_BOND_HYDROGEN_PROTECTED];
    return HF_OK;
}

hf_status hf_hydrogen_bonds_open_e(double regain, double temperature, hf_branch branch,
                                   const hf_parameters *set, unsigned flags, double *bonds)
{
    static const hfi_range range = {HFI_BOND_REGAIN};
    double saturation;
    hf_status status = bonds ? hfi_check(regain, &range, flags) : HF_EINVAL;
    if (hf_failed(status))
        return status;
    status =
        hfi_worse(status, hf_saturation_regain_e(temperature, branch, set, flags, &saturation));
    if (hf_failed(status))
        return status;
    const double *values = hfi_values(set);
    const double share = regain < saturation ? regain / saturation : 1;
    *bonds = accessible(values) * values[HFI_BOND_HYDROGEN_OPENED] * share;
    return status;
}

hf_status hf_hydrogen_bonds_mobile_e(double regain, double temperature, const hf_parameters *set,
                                     unsigned flags, double *bonds)
{
    static const hfi_range regain_range = {HFI_SOFTENING_REGAIN};
    static const hfi_range temperature_range = {HFI_SOFTENING_TEMPERATURE};
    hf_status status = bonds ? hfi_check(regain, &regain_range, flags) : HF_EINVAL;
    status = hfi_worse(status, hfi_check(temperature, &temperature_range, flags));
    if (hf_failed(status))
        return status;
    const double *values = hfi_values(set);
    const double above = temperature - hfi_glass_transition(values, regain);
    *bonds = accessible(values) / (1 + exp(-above / values[HFI_BOND_HYDROGEN_SOFTENING]));
    return status;
}

hf_status hf_water_set_e(double duration, const hf_parameters *parameters, unsigned flags,
                         double *set)
{
    static const hfi_range range = {HFI_SET_DURATION};
    const hf_status status = set ? hfi_check(duration, &range, flags) : HF_EINVAL;
    const double *values = hfi_values(parameters);
    if (!hf_failed(status))
        *set = values[HFI_BOND_HYDROGEN_SET_START] *
               exp(-duration / values[HFI_BOND_HYDROGEN_SET_TIME]);
    return status;
}

HFI_STRICT(hf_hydrogen_bonds_mobile, (double regain, double temperature, const hf_parameters *set),
           regain, temperature, set)
HFI_STRICT(hf_water_set, (double duration, const hf_parameters *parameters), duration, parameters)
HFI_STRICT(hf_hydrogen_bonds_accessible, (const hf_parameters *set), set)
HFI_STRICT(hf_hydrogen_bonds_protected, (const hf_parameters *set), set)
HFI_STRICT(hf_hydrogen_bonds_open,
           (double regain, double temperature, hf_branch branch, const hf_parameters *set), regain,
           temperature, branch, set)
