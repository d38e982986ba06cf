/*
 * Rate of loss of alpha-helix, first order: dH/dt = -k H.
 *
 *   wet      k = A exp(-E/RT)     E 263 kJ/mol (wortmann2012), log10 A 30.93 (from the peak of
 *                                 gillece2021) or 30.54 (from that of wortmann2002); 122-175 degC
 *   dry      k = A exp(-E/RT)     E 416 kJ/mol (wortmann2012), log10 A 41.44; 210-240 degC
 *   ironing  k = k200 exp(-E/R (1/T - 1/473.15))    k200 5.13e-4 1/s (thermochimica2018); E free
 *                                 between 56 and 416 kJ/mol, 150 assumed; 190-210 degC
 *   blended  ln k = s ln k_wet + (1 - s) ln k_ironing,  s = u^2 (3 - 2 u),
 *            u = (w - w_dry)/(w_wet - w_dry), s = 0 below w_dry and 1 above w_wet
 *
 * k 1/s, T K, w regain, kg/kg. A fibre under an iron is wet for the first second or so and dry
 * afterwards; no single law gives both regimes (dussaud2013 against thermochimica2018). The blend
 * is this project's own (own-judgement): w_dry 0.05, w_wet 0.15 around the 10 % of moisture below
 * which denaturation moves up (dussaud2013). It is taken in the logarithm because the two laws are
 * five powers of ten apart at 200 degC: a linear blend would let a trace of water decide. At its
 * middle it gives about the melting temperature of the denaturation law of
 * lib/keratin/transitions.c.
 *
 * Bleaching: H = exp(-b n), b 0.117 per treatment from the four points of wortmann2002, n 0 to 3.
 */
#include <hairfibre/bonds.h>

#include "ranges.h"
#include "rates.h"

#include "../base/catalogue.h"
#include "../base/range.h"
#include "../keratin/constants.h"
#include "../base/strict.h"

static const double ln10 = 2.302585092994046;

static const hfi_range wet_range = {HFI_HELIX_WET_TEMPERATURE};
static const hfi_range dry_range = {HFI_HELIX_DRY_TEMPERATURE};
static const hfi_range ironing_range = {HFI_HELIX_IRONING_TEMPERATURE};
static const hfi_range regain_range = {HFI_BOND_REGAIN};
static const hfi_range duration_range = {HFI_BOND_DURATION};

static hfi_arrhenius from_log10(double log10_frequency, double energy)
{
    return (hfi_arrhenius){ln10 * log10_frequency, energy / HFI_GAS_CONSTANT};
}

hfi_arrhenius hfi_helix_wet(const double *values)
{
    return from_log10(values[HFI_RATE_HELIX_WET_LOG10_FREQUENCY],
                      values[HFI_RATE_HELIX_WET_ENERGY]);
}

hfi_arrhenius hfi_helix_wet_rival(const double *values)
{
    return from_log10(values[HFI_RATE_HELIX_WET_RIVAL_LOG10_FREQUENCY],
                      values[HFI_RATE_HELIX_WET_ENERGY]);
}

hfi_arrhenius hfi_helix_dry(const double *values)
{
    return from_log10(values[HFI_RATE_HELIX_DRY_LOG10_FREQUENCY],
                      values[HFI_RATE_HELIX_DRY_ENERGY]);
}

hfi_arrhenius hfi_helix_ironing(const double *values)
{
    const double theta = values[HFI_RATE_HELIX_IRONING_ENERGY] / HFI_GAS_CONSTANT;
    return (hfi_arrhenius){log(values[HFI_RATE_HELIX_IRONING_RATE]) +
                               theta / values[HFI_RATE_HELIX_IRONING_TEMPERATURE],
                           theta};
}

hfi_helix_law hfi_helix_law_of(const double *values)
{
    return (hfi_helix_law){hfi_helix_wet(values), hfi_helix_ironing(values),
                           values[HFI_RATE_HELIX_BLEND_DRY_REGAIN],
                           values[HFI_RATE_HELIX_BLEND_WET_REGAIN]};
}

double hfi_helix_weight(const hfi_helix_law *law, double w)
{
    if (w <= law->dry_regain)
        return 0;
    if (w >= law->wet_regain)
        return 1;
    const double u = (w - law->dry_regain) / (law->wet_regain - law->dry_regain);
    return u * u * (3 - 2 * u);
}

hfi_arrhenius hfi_helix_at_weight(const hfi_helix_law *law, double weight)
{
    const double rest = 1 - weight;
    return (hfi_arrhenius){weight * law->wet.log_frequency + rest * law->ironing.log_frequency,
                           weight * law->wet.theta + rest * law->ironing.theta};
}

static hf_status rate_of(const hfi_arrhenius *law, const hfi_range *range, double temperature,
                         unsigned flags, double *rate)
{
    const hf_status status = rate ? hfi_check(temperature, range, flags) : HF_EINVAL;
    if (!hf_failed(status))
        *rate = hfi_arrhenius_rate(law, temperature);
    return status;
}

hf_status hf_helix_rate_wet_e(double temperature, const hf_parameters *set, unsigned flags,
                              double *rate)
{
    const hfi_arrhenius law = hfi_helix_wet(hfi_values(set));
    return rate_of(&law, &wet_range, temperature, flags, rate);
}

hf_status hf_helix_rate_wet_rival_e(double temperature, const hf_parameters *set, unsigned flags,
                                    double *rate)
{
    const hfi_arrhenius law = hfi_helix_wet_rival(hfi_values(set));
    return rate_of(&law, &wet_range, temperature, flags, rate);
}

hf_status hf_helix_rate_dry_e(double temperature, const hf_parameters *set, unsigned flags,
                              double *rate)
{
    const hfi_arrhenius law = hfi_helix_dry(hfi_values(set));
    return rate_of(&law, &dry_range, temperature, flags, rate);
}

hf_status hf_helix_rate_ironing_e(double temperature, const hf_parameters *set, unsigned flags,
                                  double *rate)
{
    const hfi_arrhenius law = hfi_helix_ironing(hfi_values(set));
    return rate_of(&law, &ironing_range, temperature, flags, rate);
}

/* No rate was measured inside the blend, so there every answer is beyond the evidence. */
static hf_status check_blend(double weight, double temperature, unsigned flags)
{
    if (weight >= 1)
        return hfi_check(temperature, &wet_range, flags);
    const hf_status status = hfi_check(temperature, &ironing_range, flags);
    if (weight <= 0 || status != HF_OK)
        return status;
    return flags & HF_EXTRAPOLATE ? HF_EXTRAPOLATED : HF_ERANGE;
}

hf_status hf_helix_rate_e(double temperature, double regain, const hf_parameters *set,
                          unsigned flags, double *rate)
{
    hf_status status = rate ? hfi_check(regain, &regain_range, flags) : HF_EINVAL;
    if (hf_failed(status))
        return status;
    const hfi_helix_law law = hfi_helix_law_of(hfi_values(set));
    const double weight = hfi_helix_weight(&law, regain);
    const hfi_arrhenius single = hfi_helix_at_weight(&law, weight);
    status = hfi_worse(status, check_blend(weight, temperature, flags));
    if (!hf_failed(status))
        *rate = hfi_arrhenius_rate(&single, temperature);
    return status;
}

hf_status hf_helix_remaining_e(double temperature, double regain, double duration,
                               const hf_parameters *set, unsigned flags, double *share)
{
    double rate;
    hf_status status = share ? hfi_check(duration, &duration_range, flags) : HF_EINVAL;
    if (hf_failed(status))
        return status;
    status = hfi_worse(status, hf_helix_rate_e(temperature, regain, set, flags, &rate));
    if (!hf_failed(status))
        *share = exp(-rate * duration);
    return status;
}

hf_status hf_helix_after_bleaching_e(double treatments, const hf_parameters *set, unsigned flags,
                                     double *share)
{
    static const hfi_range range = {HFI_BLEACH_TREATMENTS};
    const hf_status status = share ? hfi_check(treatments, &range, flags) : HF_EINVAL;
    if (!hf_failed(status))
        *share = exp(-hfi_values(set)[HFI_RATE_BLEACH_HELIX] * treatments);
    return status;
}

HFI_STRICT(hf_helix_rate_wet, (double temperature, const hf_parameters *set), temperature, set)
HFI_STRICT(hf_helix_rate_wet_rival, (double temperature, const hf_parameters *set), temperature,
           set)
HFI_STRICT(hf_helix_rate_dry, (double temperature, const hf_parameters *set), temperature, set)
HFI_STRICT(hf_helix_rate_ironing, (double temperature, const hf_parameters *set), temperature, set)
HFI_STRICT(hf_helix_rate, (double temperature, double regain, const hf_parameters *set),
           temperature, regain, set)
HFI_STRICT(hf_helix_remaining,
           (double temperature, double regain, double duration, const hf_parameters *set),
           temperature, regain, duration, set)
HFI_STRICT(hf_helix_after_bleaching, (double treatments, const hf_parameters *set), treatments, set)
