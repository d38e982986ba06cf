/* Rate laws of loss by heat, without checks. `values` from hfi_values(). */
#ifndef HFI_RATES_H
#define HFI_RATES_H

#include "arrhenius.h"

hfi_arrhenius hfi_helix_wet(const double *values);
hfi_arrhenius hfi_helix_wet_rival(const double *values);
hfi_arrhenius hfi_helix_dry(const double *values);
hfi_arrhenius hfi_helix_ironing(const double *values);
hfi_arrhenius hfi_tryptophan(const double *values);

/* The law moved by regain; helix.c has the equation. Keeps `values` by pointer. */
typedef struct hfi_helix_law {
    hfi_arrhenius wet, ironing;
    double dry_regain, wet_regain;   /* evidence supports it below the one and above the other */
    double shift;                    /* of ln k from wet to dry */
    double inverse_dry, inverse_wet; /* of the denaturation temperature, 1/K */
    const double *values;
} hfi_helix_law;

hfi_helix_law hfi_helix_law_of(const double *values);

/* Weight of the wet end: 0 dry, 1 at the wet end of the denaturation temperature, a little more above. */
double hfi_helix_weight(const hfi_helix_law *law, double w);

/* Where evidence stands at this regain: 1 wet calorimetry, -1 the iron, 0 between them nothing. */
static inline int hfi_helix_side(const hfi_helix_law *law, double w)
{
    return w >= law->wet_regain ? 1 : w <= law->dry_regain ? -1 : 0;
}

/* The single law that holds at this weight. */
hfi_arrhenius hfi_helix_at_weight(const hfi_helix_law *law, double weight);

#endif
