/*
 * Ionic groups against pH, one pK for each kind.
 *
 *   carboxylate   = Na / (1 + 10^(pKa - pH))
 *   charged base  = Nb (s / (1 + 10^(pH - pKarg)) + (1 - s) / (1 + 10^(pH - pKlys)))
 *   salt bridges  = min(Na, Nb) (carboxylate / Na) (charged base / Nb)
 *
 *   Na, Nb  carboxyl and basic groups, mol/kg: 0.80 and 0.72 for hair (basicsites1968;
 * steinhardt1940 for wool) pKa     4.25 (peters1949, against the pH inside the fibre) s       share
 * of arginine among the bases; pKarg 12.1, pKlys 10.0 (cohnedsall, from memory) pH      of the
 * bath: 2 to 10. The water in the fibre is taken to have the same pH. Without salt it has not
 * (Donnan equilibrium): the titration then moves outward by pH units.
 *
 * A pair is counted when both of its groups are charged, independently of one another.
 */
#include <hairfibre/bonds.h>

#include "ranges.h"

#include "../base/catalogue.h"
#include "../base/range.h"
#include "../base/strict.h"

static const hfi_range ph_range = {HFI_BOND_PH};

/* Share of groups that hold their proton. */
static double protonated(double ph, double pk)
{
    return 1 / (1 + pow(10, ph - pk));
}

static double carboxylate_share(const double *values, double ph)
{
    return 1 - protonated(ph, values[HFI_BOND_IONIC_CARBOXYL_PK]);
}

static double base_share(const double *values, double ph)
{
    const double arginine = values[HFI_BOND_IONIC_ARGININE_SHARE];
    return arginine * protonated(ph, values[HFI_BOND_IONIC_ARGININE_PK]) +
           (1 - arginine) * protonated(ph, values[HFI_BOND_IONIC_LYSINE_PK]);
}

hf_status hf_carboxylate_e(double ph, const hf_parameters *set, unsigned flags, double *groups)
{
    const hf_status status = groups ? hfi_check(ph, &ph_range, flags) : HF_EINVAL;
    const double *values = hfi_values(set);
    if (!hf_failed(status))
        *groups = values[HFI_BOND_IONIC_CARBOXYL] * carboxylate_share(values, ph);
    return status;
}

hf_status hf_charged_base_e(double ph, const hf_parameters *set, unsigned flags, double *groups)
{
    const hf_status status = groups ? hfi_check(ph, &ph_range, flags) : HF_EINVAL;
    const double *values = hfi_values(set);
    if (!hf_failed(status))
        *groups = values[HFI_BOND_IONIC_BASE] * base_share(values, ph);
    return status;
}

hf_status hf_salt_bridges_e(double ph, const hf_parameters *set, unsigned flags, double *bridges)
{
    const hf_status status = bridges ? hfi_check(ph, &ph_range, flags) : HF_EINVAL;
    const double *values = hfi_values(set);
    if (!hf_failed(status))
        *bridges = fmin(values[HFI_BOND_IONIC_CARBOXYL], values[HFI_BOND_IONIC_BASE]) *
                   carboxylate_share(values, ph) * base_share(values, ph);
    return status;
}

HFI_STRICT(hf_carboxylate, (double ph, const hf_parameters *set), ph, set)
HFI_STRICT(hf_charged_base, (double ph, const hf_parameters *set), ph, set)
HFI_STRICT(hf_salt_bridges, (double ph, const hf_parameters *set), ph, set)
