/* Checks that the sorption functions share. */
#ifndef HFI_SORPTION_H
#define HFI_SORPTION_H

#include "isotherm.h"

/* Checks temperature and branch and fills the isotherm. */
hf_status hfi_sorption_start(hfi_isotherm *isotherm, double temperature, hf_branch branch,
                             const hf_parameters *set, unsigned flags);

/* Checks a regain against 0 and the saturation regain of the isotherm. */
hf_status hfi_sorption_check_regain(const hfi_isotherm *isotherm, double regain);

#endif
