/* Two numbers side by side; gcc and clang keep them in one register where there are such registers. */
#ifndef HFI_LANES_H
#define HFI_LANES_H

typedef double hfi_lanes __attribute__((vector_size(16)));

static inline void hfi_put_lanes(double *to, hfi_lanes x)
{
    to[0] = x[0];
    to[1] = x[1];
}

#endif
