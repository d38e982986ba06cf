/* Tensile modulus without range checks; modulus.c has the equation. */
#ifndef HFI_MODULUS_H
#define HFI_MODULUS_H

#include <hairfibre/base.h>

/* Modulus at regain w, Pa. HF_ERANGE when the isotherm of this set has no saturation. */
hf_status hfi_tensile_modulus(const hf_parameters *set, double w, double *modulus);

#endif
