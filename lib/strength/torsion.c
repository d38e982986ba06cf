/*
 * Shear modulus by torsion against humidity.
 *
 *   G(h) = Gw + (G0 - Gw) (1 - h^n)
 *   without cuticle: r G
 *
 *   G Pa   h relative humidity, fraction   G0 dry, Gw in water   n exponent   r share left
 *
 * Read numbers: 1.7 GPa near 0 % humidity and 0.1 to 0.2 GPa wet, keratin fibres (feughelman1982,
 * p. 393); 0.89 GPa at 60 to 65 % (robbins-moduli-secondary, second-hand) gives n = 1.38. The form
 * is this project's own. Bleached: 40 % less in the wet (harper2007, p. 336), and a dry end put
 * where the two curves cross at 57.5 % humidity (55 to 60 read in harper2007 and lunn2018), which
 * makes bleached hair 3 % stiffer than virgin hair when dry.
 *
 * Read from axes only: harper2007 draws its curves between about 1.5 and 0.7 to 0.8 over 0 to 90 %
 * humidity, the unit not seen; this law passes below that at 90 %. Hysteresis is published there
 * and left out. Cuticle: rubbing it off takes 40 % (harper2007); 0.795 against 0.430 GPa is quoted
 * in lunn2018, humidity not stated.
 */
#include <hairfibre/strength.h>

#include "ranges.h"

#include "../base/catalogue.h"
#include "../base/range.h"
#include "../base/strict.h"

#define HALVINGS 60

static const hfi_range humidity_range = {HFI_TORSION_HUMIDITY};

static double shear_modulus(const double *values, double h)
{
    const double wet = values[HFI_STRENGTH_TORSION_WET], dry = values[HFI_STRENGTH_TORSION_DRY];
    return wet + (dry - wet) * (1 - pow(h, values[HFI_STRENGTH_TORSION_EXPONENT]));
}

hf_status hf_shear_modulus_e(double humidity, const hf_parameters *set, unsigned flags,
                             double *modulus)
{
    const hf_status status = modulus ? hfi_check(humidity, &humidity_range, flags) : HF_EINVAL;
    if (!hf_failed(status))
        *modulus = shear_modulus(hfi_values(set), humidity);
    return status;
}

hf_status hf_shear_modulus_without_cuticle_e(double humidity, const hf_parameters *set,
                                             unsigned flags, double *modulus)
{
    const hf_status status = modulus ? hfi_check(humidity, &humidity_range, flags) : HF_EINVAL;
    if (!hf_failed(status))
        *modulus = shear_modulus(hfi_values(set), humidity) *
                   hfi_values(set)[HFI_STRENGTH_TORSION_WITHOUT_CUTICLE];
    return status;
}

hf_status hf_torsion_crossover_e(const hf_parameters *set, unsigned flags, double *humidity)
{
    (void)flags;
    if (!humidity)
        return HF_EINVAL;
    const double *here = hfi_values(set), *virgin = hfi_values(NULL);
    double low = 0, high = 1;
    const double dry = shear_modulus(here, low) - shear_modulus(virgin, low);
    const double wet = shear_modulus(here, high) - shear_modulus(virgin, high);
    if (!(dry * wet < 0))
        return HF_ERANGE;
    for (int i = 0; i < HALVINGS; i++) {
        const double middle = low + (high - low) / 2;
        if ((shear_modulus(here, middle) - shear_modulus(virgin, middle)) * dry > 0)
            low = middle;
        else
            high = middle;
    }
    *humidity = high;
    return HF_OK;
}

HFI_STRICT(hf_shear_modulus, (double humidity, const hf_parameters *set), humidity, set)
HFI_STRICT(hf_shear_modulus_without_cuticle, (double humidity, const hf_parameters *set), humidity,
           set)
HFI_STRICT(hf_torsion_crossover, (const hf_parameters *set), set)
