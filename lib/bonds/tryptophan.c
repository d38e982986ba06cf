/*
 * Loss of tryptophan under curling irons, first order.
 *
 *   k = k_ref exp(-E/R (1/T - 1/T_ref)),   left = exp(-k t)
 *
 * k 1/s; k_ref 1e-3 1/s (0.06 1/min) at T_ref 420.15 K (147 degC); E 27.6 kJ/mol (6.6 kcal/mol);
 * T K, 403.15 to 437.15; t s, up to 900. The printed rates, 0.03 to 0.12 1/min, span hair types
 * more than temperatures: a factor of 2 either way belongs to the head of hair. Source:
 * mcmullen1998.
 */
#include <hairfibre/bonds.h>

#include "ranges.h"
#include "rates.h"

#include "../base/catalogue.h"
#include "../base/range.h"
#include "../keratin/constants.h"
#include "../base/strict.h"

hfi_arrhenius hfi_tryptophan(const double *values)
{
    const double theta = values[HFI_RATE_TRYPTOPHAN_ENERGY] / HFI_GAS_CONSTANT;
    return (hfi_arrhenius){log(values[HFI_RATE_TRYPTOPHAN_RATE]) +
                               theta / values[HFI_RATE_TRYPTOPHAN_TEMPERATURE],
                           theta};
}

hf_status hf_tryptophan_rate_e(double temperature, const hf_parameters *set, unsigned flags,
                               double *rate)
{
    static const hfi_range range = {HFI_TRYPTOPHAN_TEMPERATURE};
    const hf_status status = rate ? hfi_check(temperature, &range, flags) : HF_EINVAL;
    if (hf_failed(status))
        return status;
    const hfi_arrhenius law = hfi_tryptophan(hfi_values(set));
    *rate = hfi_arrhenius_rate(&law, temperature);
    return status;
}

hf_status hf_tryptophan_remaining_e(double temperature, double duration, const hf_parameters *set,
                                    unsigned flags, double *share)
{
    static const hfi_range range = {HFI_TRYPTOPHAN_DURATION};
    double rate;
    hf_status status = share ? hfi_check(duration, &range, flags) : HF_EINVAL;
    if (hf_failed(status))
        return status;
    status = hfi_worse(status, hf_tryptophan_rate_e(temperature, set, flags, &rate));
    if (!hf_failed(status))
        *share = exp(-rate * duration);
    return status;
}

HFI_STRICT(hf_tryptophan_rate, (double temperature, const hf_parameters *set), temperature, set)
HFI_STRICT(hf_tryptophan_remaining, (double temperature, double duration, const hf_parameters *set),
           temperature, duration, set)
