/* The profile of RSS along a ray: one or two parameters held, the others re-fitted. */
#ifndef HFI_RAY_H
#define HFI_RAY_H

#include "edge.h"
#include "fit.h"

typedef struct hfi_ray {
    size_t held;
    size_t index[2];
    double from[2], step[2]; /* parameter = from + r step; r = 1 is the first guess of the edge */
    double
        other[HF_FIT_PARAMETERS_MAX]; /* change of the others per unit of r, for the first guess */
} hfi_ray;

/* Smallest r > 0 at which (RSS - RSS_min)/s^2 reaches threshold; at a bound of a held parameter that is
 * met first, r of the bound. *better is set when RSS fell below the minimum. */
hf_status hfi_ray_edge(const struct hf_fit *fit, hfi_work *work, const hfi_ray *ray,
                       double threshold, double *r, hfi_edge *edge, int *better);

/* HF_OK when the fit has a likelihood to profile, for a parameter that is not fixed. */
hf_status hfi_can_profile(const struct hf_fit *fit, size_t j, double level);

#endif
