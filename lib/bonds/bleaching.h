/* Laws of bleaching without checks. `values` from hfi_values(). */
#ifndef HFI_BLEACHING_H
#define HFI_BLEACHING_H

#include <hairfibre/chemistry.h>

/* Strength of a bleach over that of the reference: in proportion to peroxide, with temperature. */
double hfi_bleach_strength(const double *values, double temperature, double peroxide);

/* Growth of the squared share by the root law, 1/s, and rate of the steady law, 1/s, at strength 1.
 */
double hfi_bleach_root(const double *values);
double hfi_bleach_steady(const double *values);

/* Share of half-cystine that untreated hair can lose, and what it has lost after strength times
 * time `exposure`, s. */
double hfi_bleach_oxidisable(const double *values);
double hfi_bleach_share(const double *values, double exposure, hf_bleach_law law);

#endif
