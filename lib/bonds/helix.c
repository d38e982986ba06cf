/*
 * Rate of loss of alpha-helix, first order: dH/dt = -k H.
 *
 *   wet      k = A exp(-E/RT)     E 263 kJ/mol (wortmann2012), log10 A 30.93 (from the peak of
 *                                 gillece2021) or 30.54 (from that of wortmann2002); 122-175 degC
 *   dry      k = A exp(-E/RT)     E 416 kJ/mol (wortmann2012), log10 A 41.44; 210-240 degC
 *   ironing  k = k200 exp(-E/R (1/T - 1/473.15))    k200 5.13e-4 1/s (thermochimica2018); E free
 *                                 between 56 and 416 kJ/mol, 150 assumed; 190-210 degC
 *   by regain  ln k(T, w) = ln k_wet(T) + (1 - s(w)) ln [k_ironing/k_wet at 200 degC],
 *              s(w) = (1/T_D(w) - 1/T_D(0)) / (1/T_D(w_wet) - 1/T_D(0))
 *
 * k 1/s, T K, w regain, kg/kg; T_D(w) denaturation temperature (lib/keratin/transition.c), w_wet its wet
 * end. A fibre under an iron is wet for the first second or so and dry afterwards, and calorimetry says
 * that water moves the melting of the helices along the temperature axis: so one law, of the wet
 * activation energy, moves with T_D from the wet law at one end to the rate read in an iron at the other.
 * The form is this project's own (own-judgement). Not fitted, and met: with the dry peak of calorimetry
 * (233 degC, milczarek1992) alone the moved wet law gives 3.7e-4 1/s at 200 degC, against 4.6e-4 to
 * 5.8e-4 read (thermochimica2018); and the middle melts where the curve of T_D says. Supported below a
 * regain of 0.05 by the iron and above 0.15 by wet calorimetry, in between by nothing but T_D.
 *
 * Bleaching: H = exp(-b n), b 0.117 per treatment from the four points of wortmann2002, n 0 to 3.
 */
#include <hairfibre/bonds.h>

#include "ranges.h"
#include "rates.h"

#include "../base/catalogue.h"
#include "../base/range.h"
#include "../base/strict.h"
#include "../keratin/constants.h"
#include "../keratin/properties.h"

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
    hfi_helix_law law = {.wet = hfi_helix_wet(values),
                         .ironing = hfi_helix_ironing(values),
                         .dry_regain = values[HFI_RATE_HELIX_BLEND_DRY_REGAIN],
                         .wet_regain = values[HFI_RATE_HELIX_BLEND_WET_REGAIN],
                         .values = values};
    const double anchor = values[HFI_RATE_HELIX_IRONING_TEMPERATURE];
    law.shift = law.ironing.log_frequency - law.ironing.theta / anchor - law.wet.log_frequency +
                law.wet.theta / anchor;
    law.inverse_dry = 1 / hfi_denaturation_temperature(values, 0);
    law.inverse_wet = 1 / hfi_denaturation_temperature(values, values[HFI_DENATURATION_WET_REGAIN]);
    return law;
}

double hfi_helix_weight(const hfi_helix_law *law, double w)
{
    const double inverse = 1 / hfi_denaturation_temperature(law->values, w);
    return (inverse - law->inverse_dry) / (law->inverse_wet - law->inverse_dry);
}

hfi_arrhenius hfi_helix_at_weight(const hfi_helix_law *law, double weight)
{
    return (hfi_arrhenius){law->wet.log_frequency + (1 - weight) * law->shift, law->wet.theta};
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

/* Between the two ends no rate was measured, so there every answer is beyond the evidence. */
static hf_status check_side(int side, double temperature, unsigned flags)
{
    const hf_status status = hfi_check(temperature, side > 0 ? &wet_range : &ironing_range, flags);
    if (side != 0 || status == HF_EINVAL)
        return status;
    if (temperature < wet_range.domain_low || temperature > wet_range.domain_high)
        return HF_ERANGE;
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
    status = hfi_worse(status, check_side(hfi_helix_side(&law, regain), temperature, flags));
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
