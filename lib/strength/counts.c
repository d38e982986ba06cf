/*
 * How many of n strands break, each with probability p and apart from the others (binomial law).
 *
 *   expected   n p
 *   at least k of n   P = sum over i = k..n of n!/(i! (n-i)!) p^i (1-p)^(n-i)
 *
 * Textbook probability (own-judgement: that strands break independently). The smaller tail is
 * summed, from its largest term outward, so that small answers keep their digits.
 */
#include <hairfibre/strength.h>

#include "ranges.h"

#include "../base/range.h"
#include "../base/strict.h"

static const hfi_range strands_range = {HFI_COUNTED_STRANDS};
static const hfi_range broken_range = {HFI_COUNTED_BROKEN};
static const hfi_range probability_range = {HFI_PROBABILITY};

hf_status hf_broken_expected_e(double strands, double stress, double humidity,
                               const hf_parameters *set, unsigned flags, double *broken)
{
    static const hfi_range any_strands = {HFI_STRANDS};
    double probability;
    hf_status status = broken ? hfi_check(strands, &any_strands, flags) : HF_EINVAL;
    if (hf_failed(status))
        return status;
    if (strands != floor(strands))
        return HF_EINVAL;
    status = hfi_worse(status, hf_break_probability_e(stress, humidity, set, flags, &probability));
    if (!hf_failed(status))
        *broken = strands * probability;
    return status;
}

/* ln of the term i of n, 0 < p < 1. */
static double log_term(int i, int n, double p)
{
    const int few = i < n - i ? i : n - i;
    double sum = i * log(p) + (n - i) * log1p(-p);
    for (int j = 1; j <= few; j++)
        sum += log((double)(n - few + j) / j);
    return sum;
}

/* Terms from `first` away from the mean; each is smaller than the one before. */
static double tail(int first, int step, int n, double p)
{
    double term = exp(log_term(first, n, p)), sum = term;
    for (int i = first; term > 0 && i + step >= 0 && i + step <= n; i += step) {
        const int up = step > 0 ? i : i - 1; /* the ratio of terms up + 1 and up */
        const double ratio = (double)(n - up) / (up + 1) * (p / (1 - p));
        term *= step > 0 ? ratio : 1 / ratio;
        sum += term;
    }
    return sum;
}

hf_status hf_broken_at_least_e(double broken, double strands, double probability, unsigned flags,
                               double *answer)
{
    if (!answer)
        return HF_EINVAL;
    const hf_status status = hfi_worse(hfi_check(probability, &probability_range, flags),
                                       hfi_worse(hfi_check(strands, &strands_range, flags),
                                                 hfi_check(broken, &broken_range, flags)));
    if (hf_failed(status))
        return status;
    if (strands != floor(strands) || broken != floor(broken))
        return HF_EINVAL;
    if (broken > strands)
        return HF_ERANGE;
    const int k = (int)broken, n = (int)strands;
    if (k == 0 || probability >= 1)
        *answer = 1;
    else if (probability <= 0)
        *answer = 0;
    else if (k > n * probability)
        *answer = tail(k, 1, n, probability);
    else
        *answer = 1 - tail(k - 1, -1, n, probability);
    return status;
}

HFI_STRICT(hf_broken_expected,
           (double strands, double stress, double humidity, const hf_parameters *set), strands,
           stress, humidity, set)
HFI_STRICT(hf_broken_at_least, (double broken, double strands, double probability), broken, strands,
           probability)
