/* Arrhenius factors exp(A - theta/T) of a hot fibre, quickly: from a grid of temperatures and the series of
 * the exponential around its nearest point, to 1e-9 of the factor for energies up to 800 kJ/mol. */
#ifndef HFI_HOT_H
#define HFI_HOT_H

#include "../bonds/channels.h"

#define HFI_HOT_COLDEST 325.0 /* K */
#define HFI_HOT_HOTTEST 560.0
#define HFI_HOT_STEP    0.6
#define HFI_HOT_ROWS    393

/* The damage channels, then monolayer, C and K of the isotherm over their values at its reference. */
enum { HFI_HOT_MONOLAYER = HF_CHANNELS, HFI_HOT_C, HFI_HOT_K, HFI_HOT_FACTORS };

typedef struct hfi_hot {
    int ready;
    double theta[HFI_HOT_FACTORS], widest; /* the largest of their sizes */
    double inverse[HFI_HOT_ROWS];          /* 1/K */
    double at[HFI_HOT_ROWS][HFI_HOT_FACTORS];
} hfi_hot;

/* `values` from hfi_values(). The entry of HF_CHANNEL_HELIX is that of the wet law. */
void hfi_hot_prepare(hfi_hot *hot, const double *values, const hfi_channel_laws *laws);

/* Factors at a temperature; the exponential itself beyond the grid. */
void hfi_hot_factors(const hfi_hot *restrict hot, double T,
                     double factor[restrict HFI_HOT_FACTORS]);

#endif
