/* Counting how often hydrogen bonds broke and formed again, sample by sample. */
#ifndef HFI_CYCLES_H
#define HFI_CYCLES_H

#include <stddef.h>

typedef struct hfi_bond_cycles {
    int begun, soft;
    double driest, wettest; /* regain since the last cycle ended; while soft */
    size_t softened;        /* index of the sample at which it softened last */
    size_t samples, count;
    double diameter_strain, length_strain; /* of the last full cycle */
} hfi_bond_cycles;

/* Next sample; non-zero when it completes a cycle. `values` from hfi_values(). Start from {0}. */
int hfi_bond_cycles_update(hfi_bond_cycles *cycles, const double *values, double regain,
                           double temperature);

#endif
