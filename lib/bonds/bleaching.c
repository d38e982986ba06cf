/*
 * Bleaching with alkaline peroxide: half-cystine turned into cysteic acid, by two laws of time.
 *
 *   root      x = x1 sqrt(m t/t1)   (suzuta: cysteic acid linear in the root of time)
 *   steady    x = s (1 - (1 - x1/s)^(m t/t1)), s = 1 - c0/N   (first order in cystine)
 *   strength  m = (p/p1) exp(-E/R (1/T - 1/T1))
 *   content   c0 + x N
 *
 *   x         share of half-cystine oxidised; t s, T K, p hydrogen peroxide, kg/kg
 *   x1, t1, p1, T1   reference bleach: 0.20 lost after 1 h in 6 % peroxide at 32.2 degC, pH 9.4.
 *             The bath is that of edman1961; 15 to 25 % is said of ordinary bleaching
 *             (bleach-extent-secondary); that the two belong together is assumed
 *   E         50 kJ/mol, assumed
 *   N, c0     half-cystine and cysteic acid of untreated hair, mol/kg (disulfide.c)
 *
 * Both laws meet at t1. Before it the root law has lost more, after it the steady one: 0.082
 * against 0.037 at t1/6, 0.40 against 0.59 at 4 t1, which is above the largest loss read, 0.45
 * (edman1961). The calorimetric peaks of gillece2021 follow a straight line of time slightly better
 * than the root (calorimetry.c), so neither is settled. Persulfate makes a bleach faster; no rate
 * was read, so its user sets rate.oxidation.loss. No dependence on pH was read: none is in the law,
 * for pH 9 to 11 (robbins1971). Decay of the peroxide (6.1 to 5.6 % in 1 h, edman1961) and the
 * products between cystine and cysteic acid are left out.
 */
#include <hairfibre/chemistry.h>

#include "bleaching.h"
#include "ranges.h"

#include "../base/catalogue.h"
#include "../base/range.h"
#include "../base/strict.h"
#include "../keratin/constants.h"

double hfi_bleach_strength(const double *values, double temperature, double peroxide)
{
    const double reference = values[HFI_RATE_OXIDATION_TEMPERATURE];
    return peroxide / values[HFI_RATE_OXIDATION_PEROXIDE] *
           exp(values[HFI_RATE_OXIDATION_ENERGY] / HFI_GAS_CONSTANT * (temperature - reference) /
               (temperature * reference));
}

double hfi_bleach_root(const double *values)
{
    const double loss = values[HFI_RATE_OXIDATION_LOSS];
    return loss * loss / values[HFI_RATE_OXIDATION_DURATION];
}

double hfi_bleach_oxidisable(const double *values)
{
    return 1 -
           values[HFI_BOND_DISULFIDE_CYSTEIC_UNTREATED] / values[HFI_BOND_DISULFIDE_HALF_CYSTINE];
}

double hfi_bleach_steady(const double *values)
{
    return -log1p(-values[HFI_RATE_OXIDATION_LOSS] / hfi_bleach_oxidisable(values)) /
           values[HFI_RATE_OXIDATION_DURATION];
}

double hfi_bleach_share(const double *values, double exposure, hf_bleach_law law)
{
    return law == HF_BLEACH_ROOT
               ? sqrt(exposure * hfi_bleach_root(values))
               : -hfi_bleach_oxidisable(values) * expm1(-exposure * hfi_bleach_steady(values));
}

hf_status hf_half_cystine_bleached_e(double duration, double temperature, double peroxide,
                                     hf_bleach_law law, const hf_parameters *set, unsigned flags,
                                     double *share)
{
    static const hfi_range duration_range = {HFI_BOND_DURATION};
    static const hfi_range temperature_range = {HFI_OXIDATION_TEMPERATURE};
    static const hfi_range peroxide_range = {HFI_OXIDATION_PEROXIDE};
    static const hfi_range share_range = {HFI_OXIDATION_SHARE};
    if (!share || (law != HF_BLEACH_ROOT && law != HF_BLEACH_STEADY))
        return HF_EINVAL;
    hf_status status = hfi_check(duration, &duration_range, flags);
    status = hfi_worse(status, hfi_check(temperature, &temperature_range, flags));
    status = hfi_worse(status, hfi_check(peroxide, &peroxide_range, flags));
    if (hf_failed(status))
        return status;
    const double *values = hfi_values(set);
    const double answer = hfi_bleach_share(
        values, duration * hfi_bleach_strength(values, temperature, peroxide), law);
    status = hfi_worse(status, hfi_check(answer, &share_range, flags));
    if (!hf_failed(status))
        *share = answer;
    return status;
}

hf_status hf_cysteic_acid_e(double duration, double temperature, double peroxide, hf_bleach_law law,
                            const hf_parameters *set, unsigned flags, double *content)
{
    double share;
    if (!content)
        return HF_EINVAL;
    const hf_status status =
        hf_half_cystine_bleached_e(duration, temperature, peroxide, law, set, flags, &share);
    const double *values = hfi_values(set);
    if (!hf_failed(status))
        *content = values[HFI_BOND_DISULFIDE_CYSTEIC_UNTREATED] +
                   share * values[HFI_BOND_DISULFIDE_HALF_CYSTINE];
    return status;
}

HFI_STRICT(hf_half_cystine_bleached,
           (double duration, double temperature, double peroxide, hf_bleach_law law,
            const hf_parameters *set),
           duration, temperature, peroxide, law, set)
HFI_STRICT(hf_cysteic_acid,
           (double duration, double temperature, double peroxide, hf_bleach_law law,
            const hf_parameters *set),
           duration, temperature, peroxide, law, set)
