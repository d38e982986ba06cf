/* From a step to what the balance equations see at the surface. */
#ifndef HFI_SURROUNDINGS_H
#define HFI_SURROUNDINGS_H

#include <hairfibre/treatment.h>

#include "../transport/surface.h"

/* `values` from hfi_values(); `diameter` and `surface` (K) are those of the fibre when the step begins:
 * coefficients are worked out there and kept for the step. The step must have passed hf_step_check. */
hf_status hfi_surroundings_of(const hf_step *step, const hf_room *room, const double *values,
                              double diameter, double surface, hfi_surroundings *out);

#endif
