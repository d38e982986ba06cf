/* Rate laws of loss by heat, without checks. `values` from hfi_values(). */
#ifndef HFI_RATES_H
#define HFI_RATES_H

#include "arrhenius.h"

hfi_arrhenius hfi_helix_wet(const double *values);
hfi_arrhenius hfi_helix_wet_rival(const double *values);
hfi_arrhenius hfi_helix_dry(const double *values);
hfi_arrhenius hfi_helix_ironing(const double *values);
hfi_arrhenius hfi_tryptophan(const double *values);

/* The law blended by regain; helix.c has the equation. */
typedef struct hfi_helix_law {
    hfi_arrhenius wet, ironing;
    double dry_regain, wet_regain; /* the blend runs between them */
} hfi_helix_law;

hfi_helix_law hfi_helix_law_of(const double *values);

/* Weight of the wet law in the logarithm of the rate: 0 up to dry_regain, 1 from wet_regain on. */
double hfi_helix_weight(const hfi_helix_law *law, double w);

/* The single law that holds at this weight. */
hfi_arrhenius hfi_helix_at_weight(const hfi_helix_law *law, double weight);

#endif
