/* The stress-strain curve at one humidity, without range checks; curve.c has the equation. */
#ifndef HFI_CURVE_H
#define HFI_CURVE_H

#include <hairfibre/base.h>

#define HFI_CURVE_PIECES 5

/* Pa and strains. A piece starts at from[i] with the stress and slope given; its slope changes by
 * bend[i] per unit of strain. The last piece ends at break_strain. */
typedef struct hfi_curve {
    double modulus, yield_stress, yield_strain, post_modulus, break_stress, break_strain;
    double from[HFI_CURVE_PIECES], stress[HFI_CURVE_PIECES], slope[HFI_CURVE_PIECES],
        bend[HFI_CURVE_PIECES];
} hfi_curve;

/* Laws against humidity, also outside their ranges. */
double hfi_yield_stress(const double *values, double h);
double hfi_break_stress(const double *values, double h);
double hfi_break_strain(const double *values, double h);

/* HF_ERANGE when the parameters make no rising curve of three regions. */
hf_status hfi_curve_at(hfi_curve *curve, const hf_parameters *set, double h);

/* 0 <= strain <= break_strain. */
double hfi_curve_stress(const hfi_curve *curve, double strain);
double hfi_curve_slope(const hfi_curve *curve, double strain);
double hfi_curve_work(const hfi_curve *curve, double strain);

/* 0 <= stress <= break_stress. */
double hfi_curve_strain(const hfi_curve *curve, double stress);

#endif
