/*
 * Weibull life with constants of one's own, and the linear damage sum over a mixed history.
 *
 *   F = 1 - exp(-(n/a)^k)                     n = a (-ln(1 - F))^(1/k)
 *   D = sum n_i/a_i                           (palmgren-miner)
 *   mixed history   S = exp(-D^k),  k = sum D_i k_i / D,  D_i = n_i/a_i
 *
 *   n cycles   a characteristic life   k Weibull shape   D share of the life used
 *
 * D is blind to the order of the blocks. Setting it to the characteristic life, and taking one
 * weighted shape, is an assumption of this project (own-judgement): at one stress and humidity it
 * gives back the Weibull law itself; for a mixture it was never tested on hair.
 */
#include <hairfibre/strength.h>

#include "ranges.h"

#include "../base/range.h"
#include "../base/strict.h"

static const hfi_range cycles_range = {HFI_ANY_CYCLES};
static const hfi_range life_range = {HFI_ANY_LIFE};
static const hfi_range shape_range = {HFI_ANY_SHAPE};
static const hfi_range probability_range = {HFI_PROBABILITY};

static hf_status check_law(double life, double shape, unsigned flags)
{
    return hfi_worse(hfi_check(life, &life_range, flags), hfi_check(shape, &shape_range, flags));
}

hf_status hf_weibull_failure_e(double cycles, double life, double shape, unsigned flags,
                               double *probability)
{
    const hf_status status = probability ? hfi_worse(hfi_check(cycles, &cycles_range, flags),
                                                     check_law(life, shape, flags))
                                         : HF_EINVAL;
    if (!hf_failed(status))
        *probability = -expm1(-pow(cycles / life, shape));
    return status;
}

hf_status hf_weibull_cycles_e(double probability, double life, double shape, unsigned flags,
                              double *cycles)
{
    const hf_status status = cycles ? hfi_worse(hfi_check(probability, &probability_range, flags),
                                                check_law(life, shape, flags))
                                    : HF_EINVAL;
    if (hf_failed(status))
        return status;
    const double answer = life * pow(-log1p(-probability), 1 / shape);
    if (!isfinite(answer))
        return HF_ERANGE; /* certain failure takes forever */
    *cycles = answer;
    return status;
}

static hf_status blame(hf_status status, size_t i, size_t *bad)
{
    if (bad)
        *bad = i;
    return status;
}

hf_status hf_miner_sum_e(size_t n, const double *cycles, const double *life, double *sum,
                         size_t *bad)
{
    if (!sum || (n > 0 && (!cycles || !life)))
        return HF_EINVAL;
    double total = 0;
    for (size_t i = 0; i < n; i++) {
        if (!isfinite(cycles[i]) || !isfinite(life[i]))
            return blame(HF_EINVAL, i, bad);
        if (cycles[i] < 0 || !(life[i] > 0))
            return blame(HF_ERANGE, i, bad);
        total += cycles[i] / life[i];
        if (!isfinite(total))
            return blame(HF_ERANGE, i, bad);
    }
    *sum = total;
    return HF_OK;
}

hf_status hf_fatigue_mixed_e(size_t n, const double *cycles, const double *stress,
                             const double *humidity, const hf_parameters *set, unsigned flags,
                             double *used, double *survival, size_t *bad)
{
    if ((!used && !survival) || (n > 0 && (!cycles || !stress || !humidity)))
        return HF_EINVAL;
    hf_status worst = HF_OK;
    double total = 0, weighted = 0;
    for (size_t i = 0; i < n; i++) {
        double share, shape;
        hf_status status = hf_fatigue_used_e(cycles[i], stress[i], humidity[i], set, flags, &share);
        if (!hf_failed(status))
            status = hfi_worse(status, hf_fatigue_shape_e(humidity[i], set, flags, &shape));
        if (hf_failed(status))
            return blame(status, i, bad);
        worst = hfi_worse(worst, status);
        total += share;
        weighted += share * shape;
    }
    if (used)
        *used = total;
    if (survival)
        *survival = total > 0 ? exp(-pow(total, weighted / total)) : 1;
    return worst;
}

HFI_STRICT(hf_weibull_failure, (double cycles, double life, double shape), cycles, life, shape)
HFI_STRICT(hf_weibull_cycles, (double probability, double life, double shape), probability, life,
           shape)
