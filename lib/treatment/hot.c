/* See hot.h. */
#include "hot.h"

#include "../base/catalogue.h"
#include "../keratin/constants.h"

#include <math.h>

void hfi_hot_prepare(hfi_hot *hot, const double *values, const hfi_channel_laws *laws)
{
    static const int enthalpy[] = {HFI_SORPTION_ENTHALPY_MONOLAYER, HFI_SORPTION_ENTHALPY_C,
                                   HFI_SORPTION_ENTHALPY_K};
    double start[HFI_HOT_FACTORS];
    for (int c = 0; c < HF_CHANNELS; c++) {
        const hfi_arrhenius *law = c == HF_CHANNEL_HELIX ? &laws->helix.wet : &laws->single[c];
        start[c] = law->log_frequency;
        hot->theta[c] = law->theta;
    }
    for (int i = 0; i < 3; i++) {
        const double theta = -values[enthalpy[i]] / HFI_GAS_CONSTANT;
        start[HF_CHANNELS + i] = theta / HFI_REFERENCE_TEMPERATURE;
        hot->theta[HF_CHANNELS + i] = theta;
    }
    for (int row = 0; row < HFI_HOT_ROWS; row++) {
        hot->inverse[row] = 1 / (HFI_HOT_COLDEST + row * HFI_HOT_STEP);
        for (int f = 0; f < HFI_HOT_FACTORS; f++)
            hot->at[row][f] = exp(start[f] - hot->theta[f] * hot->inverse[row]);
    }
    hot->widest = 0;
    for (int f = 0; f < HFI_HOT_FACTORS; f++)
        hot->widest = fmax(hot->widest, fabs(hot->theta[f]));
    hot->ready = 1;
}

void hfi_hot_factors(const hfi_hot *restrict hot, double T, double factor[restrict HFI_HOT_FACTORS])
{
    const double place = (T - HFI_HOT_COLDEST) / HFI_HOT_STEP;
    const int row = place < 0                  ? 0
                    : place < HFI_HOT_ROWS - 1 ? (int)(place + 0.5)
                                               : HFI_HOT_ROWS - 1;
    const double away = hot->inverse[row] - 1 / T;
    const double *at = hot->at[row];
    if (hot->widest * fabs(away) < 0.3) {
        for (int f = 0; f < HFI_HOT_FACTORS; f++) {
            const double z = hot->theta[f] * away;
            factor[f] =
                at[f] *
                (1 + z * (1 + z * (1 / 2.0 +
                                   z * (1 / 6.0 + z * (1 / 24.0 + z * (1 / 120.0 + z / 720.0))))));
        }
        return;
    }
    for (int f = 0; f < HFI_HOT_FACTORS; f++)
        factor[f] = at[f] * exp(hot->theta[f] * away);
}
