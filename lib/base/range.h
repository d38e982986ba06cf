/* The two questions every model asks of its arguments. */
#ifndef HFI_RANGE_H
#define HFI_RANGE_H

#include <hairfibre/base.h>

#include <math.h>

/* A domain (meaning) with the narrower range that evidence supports. */
typedef struct hfi_range {
    double domain_low, domain_high, valid_low, valid_high;
} hfi_range;

/* HF_EINVAL, HF_ERANGE, HF_OK, or HF_EXTRAPOLATED when the flag allows what evidence does not. */
static inline hf_status hfi_check(double x, const hfi_range *range, unsigned flags)
{
    if (!isfinite(x))
        return HF_EINVAL;
    if (x < range->domain_low || x > range->domain_high)
        return HF_ERANGE;
    if (x < range->valid_low || x > range->valid_high)
        return flags & HF_EXTRAPOLATE ? HF_EXTRAPOLATED : HF_ERANGE;
    return HF_OK;
}

/* The worse of two statuses. */
static inline hf_status hfi_worse(hf_status a, hf_status b)
{
    return a > b ? a : b;
}

#endif
