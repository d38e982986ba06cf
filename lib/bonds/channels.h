/* Exposure of one channel over one piece of a history. */
#ifndef HFI_CHANNELS_H
#define HFI_CHANNELS_H

#include <hairfibre/bonds.h>

#include "rates.h"

/* Laws in use, taken once from a parameter set. */
typedef struct hfi_channel_laws {
    hfi_helix_law helix;
    hfi_arrhenius single[HF_CHANNELS]; /* the entry of HF_CHANNEL_HELIX is not used */
} hfi_channel_laws;

/* Temperature and regain run linearly over `duration`. */
typedef struct hfi_segment {
    double duration, T0, T1, w0, w1;
    int regain_doubtful; /* the regain itself is extrapolated */
} hfi_segment;

typedef struct hfi_exposure {
    double total, error, outside; /* outside: what was gathered beyond the channel's range */
} hfi_exposure;

hfi_channel_laws hfi_channel_laws_of(const double *values);

/* Adds the exposure of a segment. HF_OK or HF_ECONVERGE. */
hf_status hfi_channel_add(const hfi_channel_laws *laws, hf_channel channel,
                          const hfi_segment *segment, hfi_exposure *sum);

#endif
