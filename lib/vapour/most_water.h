/* The most water that a sealed fibre is followed with. */
#ifndef HFI_VAPOUR_MOST_WATER_H
#define HFI_VAPOUR_MOST_WATER_H

#include <hairfibre/keratin.h>

/* kg/kg: sorbed at this temperature, kept as liquid after soaking, or sorbed at 10 degC, whichever
 * is most. *most is left alone on failure. */
hf_status hfi_most_water(double temperature, hf_branch branch, const hf_parameters *set,
                         double *most);

#endif
