/* GSL's trust-region solvers, with bounds by transform. */
#ifndef HFI_DESCEND_H
#define HFI_DESCEND_H

#include "problem.h"

typedef enum hfi_method {
    HFI_ACCELERATED, /* Levenberg-Marquardt with geodesic acceleration, More's scaling */
    HFI_PLAIN,       /* Levenberg-Marquardt, More's scaling */
    HFI_LEVENBERG,   /* Levenberg-Marquardt, no scaling */
    HFI_DOGLEG,      /* double dogleg, More's scaling */
    HFI_METHODS
} hfi_method;

/* Moves b downhill from where it is, close to a minimum at best. HF_ERANGE: no answer at the start. */
hf_status hfi_descend(const hfi_problem *problem, hfi_work *work, const hfi_active *active,
                      hfi_method method, hfi_quality quality, size_t iterations, double *b,
                      size_t *used);

#endif
