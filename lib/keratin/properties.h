/*
 * Fibre properties without checks, for solvers and for other rooms. `values` from hfi_values(), w
 * is regain, T in K. The head comments of swelling.c, diffusion.c and thermal.c hold the equations.
 */
#ifndef HFI_PROPERTIES_H
#define HFI_PROPERTIES_H

/* Length of a dimension over its dry value (1 = dry). Derivatives may be NULL. */
double hfi_diameter_ratio(const double *values, double w, double *dratio_dw);
double hfi_length_ratio(const double *values, double w, double *dratio_dw);
double hfi_volume_ratio(const double *values, double w, double *dratio_dw);

double hfi_diffusivity(const double *values, double w, double T);    /* m2/s */
double hfi_heat_capacity(const double *values, double w, double T);  /* J/(K kg wet fibre) */
double hfi_conductivity(const double *values, double w);             /* W/(m K) */
double hfi_glass_transition(const double *values, double w);         /* K */
double hfi_denaturation_temperature(const double *values, double w); /* K */

#endif
