/*
 * Isotherm at one temperature, for callers that stay at it or need derivatives. No checks: the
 * caller keeps 0 <= a <= 1 and 0 <= w <= w(1). Equations: isotherm.c.
 */
#ifndef HFI_ISOTHERM_H
#define HFI_ISOTHERM_H

#include <hairfibre/keratin.h>

/* One branch: GAB constants at this temperature and their d ln / dT (1/K). On the desorption branch
 * `under` holds the absorption constants, which take over where they give more water. */
typedef struct hfi_isotherm {
    double monolayer, c, k, dlnmonolayer_dT, dlnc_dT, dlnk_dT;
    struct {
        double monolayer, c, k;
    } under;
    int has_under;
} hfi_isotherm;

/* `values` from hfi_values(). */
void hfi_isotherm_at(hfi_isotherm *isotherm, const double *values, hf_branch branch, double T);

/* The same from the three factors exp(h u) of isotherm.c, where somebody has them already. */
void hfi_isotherm_of(hfi_isotherm *isotherm, const double *values, hf_branch branch, double T,
                     const double factor[3]);

/* Regain at activity a; dw_da may be NULL. */
double hfi_isotherm_regain(const hfi_isotherm *isotherm, double a, double *dw_da);

/* Activity at regain w; da_dw (constant T) and da_dT (constant w) may be NULL. Also has a meaning
 * above the saturation regain, where it exceeds 1: the caller decides what that means. */
double hfi_isotherm_activity(const hfi_isotherm *isotherm, double w, double *da_dw, double *da_dT);

/* Net isosteric heat, J per kg water, at regain w and the temperature T of hfi_isotherm_at. */
double hfi_isotherm_heat(const hfi_isotherm *isotherm, double w, double T);

#endif
