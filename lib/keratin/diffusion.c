/*
 * Diffusivity of water across the fibre.
 *
 *   D(w, T) = Dwet / (1 + exp(-(w - wm)/s)) F(T)                saturating law (the default)
 *   D(w, T) = Dlow exp(k (w - 0.03)) F(T)                       rival, exponential
 *   F(T) = exp(-(E/R)(1/T - 1/298.15 K))
 *
 *   D, Dwet, Dlow m2/s   w, wm, s regain, kg/kg   k number   E J/mol   T K
 *
 * Range: room temperature, from nearly dry to wet. No diffusivity of hair against regain could be
 * read in any source. Dwet follows from the 2 min in which a wetted hair stops swelling
 * (yamamoto2002); wm and s are judgement, chosen so that a hair hygrometer answers in about 3 min
 * between 20 and 80 % humidity (ams-hygrometer) and D is very small when dry (king1944). At middle
 * humidity take any time that follows from it with a factor of ten. E is from memory; the only read
 * value, 54-58 kJ/mol, is of skin (pigskin-diffusion). The exponential law misses the hygrometer by
 * 7 to 18 times. One source reports a diffusivity of modified wools that falls with water
 * (modified-wool1966).
 */
#include "properties.h"

#include "../base/catalogue.h"
#include "../base/range.h"
#include "../base/strict.h"
#include "constants.h"
#include "ranges.h"

#include <hairfibre/keratin.h>

#include <math.h>

#define LOW_REGAIN 0.03 /* where the exponential law is anchored */

static const hfi_range regain_range = {HFI_REGAIN};
static const hfi_range temperature_range = {HFI_DIFFUSION_TEMPERATURE};

static double arrhenius(const double *values, double T)
{
    return exp(-values[HFI_DIFFUSION_ENERGY] / HFI_GAS_CONSTANT *
               (1 / T - 1 / HFI_REFERENCE_TEMPERATURE));
}

double hfi_diffusivity(const double *values, double w, double T)
{
    const double gate = 1 + exp((values[HFI_DIFFUSION_MIDPOINT] - w) / values[HFI_DIFFUSION_WIDTH]);
    return values[HFI_DIFFUSION_WET] / gate * arrhenius(values, T);
}

static hf_status check(double regain, double temperature, unsigned flags)
{
    return hfi_worse(hfi_check(regain, &regain_range, flags),
                     hfi_check(temperature, &temperature_range, flags));
}

hf_status hf_diffusivity_e(double regain, double temperature, const hf_parameters *set,
                           unsigned flags, double *diffusivity)
{
    if (!diffusivity)
        return HF_EINVAL;
    const hf_status status = check(regain, temperature, flags);
    if (!hf_failed(status))
        *diffusivity = hfi_diffusivity(hfi_values(set), regain, temperature);
    return status;
}

HFI_STRICT(hf_diffusivity, (double regain, double temperature, const hf_parameters *set), regain,
           temperature, set)

hf_status hf_diffusivity_exponential_e(double regain, double temperature, const hf_parameters *set,
                                       unsigned flags, double *diffusivity)
{
    if (!diffusivity)
        return HF_EINVAL;
    const hf_status status = check(regain, temperature, flags);
    if (!hf_failed(status)) {
        const double *values = hfi_values(set);
        *diffusivity = values[HFI_DIFFUSION_EXPONENTIAL_LOW] *
                       exp(values[HFI_DIFFUSION_EXPONENTIAL_SLOPE] * (regain - LOW_REGAIN)) *
                       arrhenius(values, temperature);
    }
    return status;
}

HFI_STRICT(hf_diffusivity_exponential,
           (double regain, double temperature, const hf_parameters *set), regain, temperature, set)
