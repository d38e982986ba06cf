/*
 * Scatter of strength between strands: two-parameter Weibull law.
 *
 *   breaks up to a stress s    F = 1 - exp(-(s/s0)^m),  s0 = mean/Gamma(1 + 1/m)
 *   variation                  cv^2 = Gamma(1 + 2/m)/Gamma(1 + 1/m)^2 - 1
 *   weakest of n strands       mean n^(-1/m)
 *
 *   s Pa   m Weibull modulus   cv standard deviation over mean   mean break stress (break.c)
 *
 * The law is from memory (weibull-life); m 18 from the variation 6.7 % of Caucasian hair, and 6.5
 * would go with the 18 % of hair of African type (breakstress-rh2021). Longer strands hold more
 * flaws; the gauge length is left out. cv falls steadily with m, so the inverse is a bisection.
 */
#include <hairfibre/strength.h>

#include "ranges.h"

#include "../base/catalogue.h"
#include "../base/range.h"
#include "../base/strict.h"

#define HALVINGS 80

static const hfi_range variation_range = {HFI_VARIATION};
static const hfi_range modulus_range = {HFI_WEIBULL_MODULUS};
static const hfi_range stress_range = {HFI_STRESS};
static const hfi_range strands_range = {HFI_STRANDS};

static double variation_of(double m)
{
    const double first = tgamma(1 + 1 / m);
    return sqrt(tgamma(1 + 2 / m) / (first * first) - 1);
}

hf_status hf_weibull_variation_e(double modulus, unsigned flags, double *variation)
{
    const hf_status status = variation ? hfi_check(modulus, &modulus_range, flags) : HF_EINVAL;
    if (!hf_failed(status))
        *variation = variation_of(modulus);
    return status;
}

hf_status hf_weibull_modulus_e(double variation, unsigned flags, double *modulus)
{
    const hf_status status = modulus ? hfi_check(variation, &variation_range, flags) : HF_EINVAL;
    if (hf_failed(status))
        return status;
    double low = modulus_range.domain_low, high = modulus_range.domain_high;
    for (int i = 0; i < HALVINGS; i++) {
        const double middle = sqrt(low * high);
        if (variation_of(middle) > variation)
            low = middle;
        else
            high = middle;
    }
    *modulus = high;
    return status;
}

hf_status hf_break_probability_e(double stress, double humidity, const hf_parameters *set,
                                 unsigned flags, double *probability)
{
    double mean;
    hf_status status = probability ? hfi_check(stress, &stress_range, flags) : HF_EINVAL;
    if (hf_failed(status))
        return status;
    status = hfi_worse(status, hf_break_stress_e(humidity, set, flags, &mean));
    if (hf_failed(status))
        return status;
    const double m = hfi_values(set)[HFI_STRENGTH_SCATTER_MODULUS];
    *probability = -expm1(-pow(stress / mean * tgamma(1 + 1 / m), m));
    return status;
}

hf_status hf_weakest_break_stress_e(double strands, double humidity, const hf_parameters *set,
                                    unsigned flags, double *stress)
{
    double mean;
    hf_status status = stress ? hfi_check(strands, &strands_range, flags) : HF_EINVAL;
    if (hf_failed(status))
        return status;
    if (strands != floor(strands))
        return HF_EINVAL;
    status = hfi_worse(status, hf_break_stress_e(humidity, set, flags, &mean));
    if (!hf_failed(status))
        *stress = mean * pow(strands, -1 / hfi_values(set)[HFI_STRENGTH_SCATTER_MODULUS]);
    return status;
}

HFI_STRICT(hf_weibull_variation, (double modulus), modulus)
HFI_STRICT(hf_weibull_modulus, (double variation), variation)
HFI_STRICT(hf_break_probability, (double stress, double humidity, const hf_parameters *set), stress,
           humidity, set)
HFI_STRICT(hf_weakest_break_stress, (double strands, double humidity, const hf_parameters *set),
           strands, humidity, set)
