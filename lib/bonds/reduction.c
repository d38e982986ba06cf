/*
 * Reduction of disulfide bonds by thioglycolate: two laws.
 *
 *   uniform  opened = 1 - exp(-k t),  k = k_ref (c/c_ref) (i(pH)/i(pH_ref)) A(T),
 *            i = 1/(1 + 10^(pK - pH)),  A = exp(-E/R (1/T - 1/T_ref))
 *   front    f + (1 - f) ln(1 - f) = 4 D A(T) c t / (S R^2),  depth = R (1 - sqrt(1 - f))
 *
 *   k_ref, c_ref, T_ref, pH_ref, E   as in chemistry.c: half-life 123 s in 1000 mol/m3 at pH 9.4,
 *            23 degC (wickett-ch5)
 *   pK       of the thiol of thioglycolic acid, 10.3 (from memory)
 *   f        share of the cross-section that the front has passed, all bonds behind it open
 *   D        diffusivity of thiol in reduced, swollen hair, m2/s: 6.4e-13 is assumed, so that both
 *            laws open half of a fibre 76 um wide (wet) in 123 s at the reference state
 *   S        thiol that reacts, mol per m3 of wet fibre: one for each half-cystine
 *   R        radius of the wet fibre, m; c mol/m3 of thiol, t s
 *
 * The front law is the quasi-steady diffusion through a reacted shell to a sharp boundary in a
 * cylinder (standard). Which applies: thioglycolate of 420 mol/m3 at pH 9 showed a sharp front;
 * cysteamine at pH 6 to 9 reduced uniformly and switched to a front at pH 10 (reduction-front1994,
 * reduction-kinetics2021); fine hair gave sigmoid curves; neither law fits the reduced-time data
 * (reduction-kinetics2021, p. 118). So the uniform law is the usual one and the front the
 * alternative.
 *
 * Reduced time: -ln(1 - f)/ln 2 for the uniform law; (f + (1 - f) ln(1 - f))/0.1534 for the front.
 * Left out: the balance with the disulfide of the thiol (constant near 1), sulfite (0.001).
 */
#include <hairfibre/bonds.h>
#include <hairfibre/chemistry.h>

#include "ranges.h"
#include "reduction.h"

#include "../base/catalogue.h"
#include "../base/range.h"
#include "../base/strict.h"
#include "../keratin/constants.h"
#include "../keratin/properties.h"

#define LN2 0.6931471805599453

static double ionised(double ph, double pk)
{
    return 1 / (1 + pow(10, pk - ph));
}

static double arrhenius_factor(const double *values, double temperature)
{
    const double reference = values[HFI_RATE_THIOL_TEMPERATURE];
    return exp(values[HFI_RATE_THIOL_ENERGY] / HFI_GAS_CONSTANT * (temperature - reference) /
               (temperature * reference));
}

double hfi_reduction_rate(const double *values, double temperature, double concentration, double ph)
{
    const double pk = values[HFI_RATE_THIOL_PK];
    return values[HFI_RATE_THIOL_RATE] * concentration / values[HFI_RATE_THIOL_CONCENTRATION] *
           ionised(ph, pk) / ionised(values[HFI_RATE_THIOL_PH], pk) *
           arrhenius_factor(values, temperature);
}

double hfi_front_rate(const double *values, double temperature, double concentration,
                      double diameter, double cystine)
{
    const double wet = hfi_volume_ratio(values, values[HFI_SORPTION_RETENTION], NULL);
    const double demand = cystine * values[HFI_SWELLING_DENSITY_DRY] / wet;
    const double radius = 0.5 * diameter;
    return 4 * values[HFI_RATE_THIOL_DIFFUSIVITY] * arrhenius_factor(values, temperature) *
           concentration / (demand * radius * radius);
}

/* f + (1 - f) ln(1 - f), as a series where the two terms cancel. */
static double front_integral(double share)
{
    const double left = 1 - share;
    if (!(left > 0))
        return 1;
    if (share < 1e-3)
        return share * share * (1.0 / 2 + share * (1.0 / 6 + share * (1.0 / 12 + share / 20)));
    return share + left * log(left);
}

double hfi_front_share(double integral)
{
    if (!(integral > 0))
        return 0;
    if (integral >= 1)
        return 1;
    /* The integral rises and bends upward: from the right Newton's method stays on the right. */
    double low = 0, high = 1, share = fmin(sqrt(2 * integral), 1 - 1e-9);
    for (int i = 0; i < 100; i++) {
        const double miss = front_integral(share) - integral;
        if (miss > 0)
            high = share;
        else
            low = share;
        double next = share + miss / log1p(-share);
        if (!(next > low && next < high))
            next = 0.5 * (low + high);
        const double change = fabs(next - share);
        share = next;
        if (change <= 1e-14 * share)
            break;
    }
    return share;
}

hf_status hf_thiol_reduction_rate_e(double temperature, double concentration, double ph,
                                    const hf_parameters *set, unsigned flags, double *rate)
{
    static const hfi_range temperature_range = {HFI_THIOL_TEMPERATURE};
    static const hfi_range concentration_range = {HFI_THIOL_CONCENTRATION};
    static const hfi_range ph_range = {HFI_THIOL_PH};
    hf_status status = rate ? hfi_check(temperature, &temperature_range, flags) : HF_EINVAL;
    status = hfi_worse(status, hfi_check(concentration, &concentration_range, flags));
    status = hfi_worse(status, hfi_check(ph, &ph_range, flags));
    if (!hf_failed(status))
        *rate = hfi_reduction_rate(hfi_values(set), temperature, concentration, ph);
    return status;
}

hf_status hf_reduction_moving_boundary_e(double temperature, double concentration, double diameter,
                                         double duration, const hf_parameters *set, unsigned flags,
                                         double *share)
{
    static const hfi_range temperature_range = {HFI_THIOL_TEMPERATURE};
    static const hfi_range concentration_range = {HFI_FRONT_CONCENTRATION};
    static const hfi_range diameter_range = {HFI_WET_DIAMETER};
    static const hfi_range duration_range = {HFI_FRONT_DURATION};
    double bonds;
    hf_status status = share ? hfi_check(temperature, &temperature_range, flags) : HF_EINVAL;
    status = hfi_worse(status, hfi_check(concentration, &concentration_range, flags));
    status = hfi_worse(status, hfi_check(diameter, &diameter_range, flags));
    status = hfi_worse(status, hfi_check(duration, &duration_range, flags));
    if (!hf_failed(status))
        status = hfi_worse(status, hf_disulfide_content_e(set, flags, &bonds));
    if (hf_failed(status))
        return status;
    if (!(bonds > 0))
        return HF_ERANGE;
    *share = hfi_front_share(duration * hfi_front_rate(hfi_values(set), temperature, concentration,
                                                       diameter, 2 * bonds));
    return status;
}

hf_status hf_reduction_front_depth_e(double temperature, double concentration, double diameter,
                                     double duration, const hf_parameters *set, unsigned flags,
                                     double *depth)
{
    double share;
    if (!depth)
        return HF_EINVAL;
    const hf_status status = hf_reduction_moving_boundary_e(temperature, concentration, diameter,
                                                            duration, set, flags, &share);
    if (!hf_failed(status))
        *depth = 0.5 * diameter * (share / (1 + sqrt(1 - share)));
    return status;
}

hf_status hf_reduced_time_uniform_e(double share, unsigned flags, double *time)
{
    static const hfi_range range = {HFI_REDUCED_UNIFORM};
    const hf_status status = time ? hfi_check(share, &range, flags) : HF_EINVAL;
    if (!hf_failed(status))
        *time = -log1p(-share) / LN2;
    return status;
}

hf_status hf_reduced_time_front_e(double share, unsigned flags, double *time)
{
    static const hfi_range range = {HFI_REDUCED_FRONT};
    const hf_status status = time ? hfi_check(share, &range, flags) : HF_EINVAL;
    if (!hf_failed(status))
        *time = front_integral(share) / front_integral(0.5);
    return status;
}

HFI_STRICT(hf_thiol_reduction_rate,
           (double temperature, double concentration, double ph, const hf_parameters *set),
           temperature, concentration, ph, set)
HFI_STRICT(hf_reduction_moving_boundary,
           (double temperature, double concentration, double diameter, double duration,
            const hf_parameters *set),
           temperature, concentration, diameter, duration, set)
HFI_STRICT(hf_reduction_front_depth,
           (double temperature, double concentration, double diameter, double duration,
            const hf_parameters *set),
           temperature, concentration, diameter, duration, set)
HFI_STRICT(hf_reduced_time_uniform, (double share), share)
HFI_STRICT(hf_reduced_time_front, (double share), share)
