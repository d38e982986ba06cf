/*
 * Disulfide bonds: reduction by a thiol, reoxidation, bleaching, alkali.
 *
 *   reduction     k = k_ref (c/c_ref) exp(-E/R (1/T - 1/T_ref)),  opened = 1 - exp(-k t)
 *   reoxidation   formed again = r (1 - exp(-t/tau))
 *   bleaching     lost = lost_ref sqrt(t/t_ref), up to 0.45
 *   alkali        k(T)/k(T_ref) = exp(-E/R (1/T - 1/T_ref))
 *
 *   k_ref  5.64e-3 1/s at c_ref 1000 mol/m3 of ammonium thioglycolate, pH 9.4, T_ref 296.15 K:
 * half-life 123 s (wickett-ch5); first order in c and E 50 kJ/mol are assumed r, tau 0.85 and 240 s
 * (reed1947; tau judged from its four points) bleaching: cysteic acid grows with the square root of
 * time (suzuta); no rate holds for every bleach, so the user's own measurement sets the scale; 0.45
 * is the largest loss read (edman1961, quoted in gillece2021) alkali: E 102.1 kJ/mol for wool
 * (jones1960); no absolute rate was found
 *
 * t s, T K. Shares are fractions of bonds, not of strength.
 */
#include <hairfibre/bonds.h>

#include "arrhenius.h"
#include "ranges.h"

#include "../base/catalogue.h"
#include "../base/range.h"
#include "../keratin/constants.h"
#include "../base/strict.h"

/* exp(-E/R (1/T - 1/T_ref)) */
static double relative_rate(double energy, double temperature, double reference)
{
    return exp(energy / HFI_GAS_CONSTANT * (temperature - reference) / (temperature * reference));
}

hf_status hf_disulfide_reduction_rate_e(double temperature, double concentration,
                                        const hf_parameters *set, unsigned flags, double *rate)
{
    static const hfi_range temperature_range = {HFI_THIOL_TEMPERATURE};
    static const hfi_range concentration_range = {HFI_THIOL_CONCENTRATION};
    hf_status status = rate ? hfi_check(temperature, &temperature_range, flags) : HF_EINVAL;
    status = hfi_worse(status, hfi_check(concentration, &concentration_range, flags));
    if (hf_failed(status))
        return status;
    const double *values = hfi_values(set);
    *rate = values[HFI_RATE_THIOL_RATE] * concentration / values[HFI_RATE_THIOL_CONCENTRATION] *
            relative_rate(values[HFI_RATE_THIOL_ENERGY], temperature,
                          values[HFI_RATE_THIOL_TEMPERATURE]);
    return status;
}

hf_status hf_disulfide_reduced_e(double temperature, double concentration, double duration,
                                 const hf_parameters *set, unsigned flags, double *share)
{
    static const hfi_range range = {HFI_THIOL_DURATION};
    double rate;
    hf_status status = share ? hfi_check(duration, &range, flags) : HF_EINVAL;
    if (hf_failed(status))
        return status;
    status = hfi_worse(
        status, hf_disulfide_reduction_rate_e(temperature, concentration, set, flags, &rate));
    if (!hf_failed(status))
        *share = -expm1(-rate * duration);
    return status;
}

hf_status hf_disulfide_reoxidised_e(double duration, const hf_parameters *set, unsigned flags,
                                    double *share)
{
    static const hfi_range range = {HFI_REOXIDATION_DURATION};
    const hf_status status = share ? hfi_check(duration, &range, flags) : HF_EINVAL;
    const double *values = hfi_values(set);
    if (!hf_failed(status))
        *share = -values[HFI_RATE_REOXIDATION_RECOVERED] *
                 expm1(-duration / values[HFI_RATE_REOXIDATION_TIME]);
    return status;
}

hf_status hf_disulfide_bleached_e(double duration, double reference_duration, double reference_loss,
                                  unsigned flags, double *share)
{
    static const hfi_range duration_range = {HFI_BOND_DURATION};
    static const hfi_range loss_range = {HFI_BLEACH_LOSS};
    hf_status status = share ? hfi_check(duration, &duration_range, flags) : HF_EINVAL;
    status = hfi_worse(status, hfi_check(reference_duration, &duration_range, flags));
    status = hfi_worse(status, hfi_check(reference_loss, &loss_range, flags));
    if (hf_failed(status))
        return status;
    if (!(reference_duration > 0))
        return HF_ERANGE;
    const double lost = reference_loss * sqrt(duration / reference_duration);
    if (!(lost <= loss_range.domain_high)) /* not a number when the ratio of times overflows */
        return HF_ERANGE;
    *share = lost;
    return status;
}

hf_status hf_lanthionine_rate_ratio_e(double temperature, double reference_temperature,
                                      const hf_parameters *set, unsigned flags, double *ratio)
{
    static const hfi_range range = {HFI_LANTHIONINE_TEMPERATURE};
    hf_status status = ratio ? hfi_check(temperature, &range, flags) : HF_EINVAL;
    status = hfi_worse(status, hfi_check(reference_temperature, &range, flags));
    if (!hf_failed(status))
        *ratio = relative_rate(hfi_values(set)[HFI_RATE_LANTHIONINE_ENERGY], temperature,
                               reference_temperature);
    return status;
}

HFI_STRICT(hf_disulfide_reduction_rate,
           (double temperature, double concentration, const hf_parameters *set), temperature,
           concentration, set)
HFI_STRICT(hf_disulfide_reduced,
           (double temperature, double concentration, double duration, const hf_parameters *set),
           temperature, concentration, duration, set)
HFI_STRICT(hf_disulfide_reoxidised, (double duration, const hf_parameters *set), duration, set)
HFI_STRICT(hf_disulfide_bleached,
           (double duration, double reference_duration, double reference_loss), duration,
           reference_duration, reference_loss)
HFI_STRICT(hf_lanthionine_rate_ratio,
           (double temperature, double reference_temperature, const hf_parameters *set),
           temperature, reference_temperature, set)
