/* Laws of reduction without checks. `values` from hfi_values(). */
#ifndef HFI_REDUCTION_H
#define HFI_REDUCTION_H

/* Rate of uniform reduction, 1/s. */
double hfi_reduction_rate(const double *values, double temperature, double concentration,
                          double ph);

/* Growth of the front integral, 1/s: 4 D c / (S R^2) for a wet fibre of this diameter (m) that
 * holds `cystine` mol half-cystine per kg dry fibre. */
double hfi_front_rate(const double *values, double temperature, double concentration,
                      double diameter, double cystine);

/* Share of the cross-section behind the front when the integral has this value (0 or more). */
double hfi_front_share(double integral);

#endif
