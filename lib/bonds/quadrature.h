/* Adaptive quadrature of a smooth positive function on (0, 1). */
#ifndef HFI_QUADRATURE_H
#define HFI_QUADRATURE_H

#include <hairfibre/base.h>

typedef double (*hfi_integrand)(double u, const void *context);

/* Integral and an estimate of its error, at most `relative` of the integral. HF_ECONVERGE when that
 * is not reached with the intervals at hand. Allocates nothing. */
hf_status hfi_integrate(hfi_integrand f, const void *context, double relative, double *integral,
                        double *error);

#endif
