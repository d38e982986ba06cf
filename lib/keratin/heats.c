/*
 * Heats of sorption, all by differentiation of the isotherm (isotherm.c); no law of their own.
 *
 *   net isosteric heat   Q(w, T) = (R T^2 / M) (d ln a / dT)_w                 J per kg water
 *   heat of wetting      W(w, T) = integral of Q dw from w to w(a = 1)         J per kg dry fibre
 *
 * With (da/dT)_w = -(dw/dT)_a / (dw/da)_T the integral runs over a and has a closed form:
 *   W = -(R T^2 / M) [ dPhi/dT (1) - dPhi/dT (a) ]   (d/dT at constant a)
 *   Phi(a, T) = integral of w da'/a' from 0 to a = Wm ln[(1 + (C - 1) x)/(1 - x)],  x = K a
 *   dPhi/dT = Wm' ln[..] + Wm [ ((C - 1) K' a + C' x)/(1 + (C - 1) x) + K' a/(1 - x) ]
 * Where the desorption branch is taken over by the absorption branch the integral is split there;
 * the crossing of two GAB curves is a root of a quadratic in a.
 *
 * On each branch this is the heat that the branch implies. Sorption with hysteresis is not fully
 * reversible, so the two branches give slightly different heats and calorimetry lies between or
 * beside them. A step appears at the crossing.
 * Sources: clausius-clapeyron; calibration watts-clothing-code, mortonhearle2008.
 */
#include "sorption.h"

#include "../base/strict.h"
#include "constants.h"

#include <math.h>

/* GAB constants of one curve; the relative temperature slopes are shared by both branches. */
typedef struct curve {
    double monolayer, c, k;
} curve;

static double dphi_dT(const hfi_isotherm *isotherm, const curve *gab, double a)
{
    const double x = gab->k * a, g = 1 + (gab->c - 1) * x;
    const double dc = gab->c * isotherm->dlnc_dT, dx = x * isotherm->dlnk_dT;
    return gab->monolayer * (isotherm->dlnmonolayer_dT * log(g / (1 - x)) +
                             ((gab->c - 1) * dx + dc * x) / g + dx / (1 - x));
}

/* Activities strictly between low and 1 where the curves cross, ascending; returns their number. */
static int crossings(const curve *p, const curve *q, double low, double at[2])
{
    /* s (1 - K2 a)(1 + (C2 - 1) K2 a) = t (1 - K1 a)(1 + (C1 - 1) K1 a), s and t initial slopes */
    const double s = p->monolayer * p->c * p->k, t = q->monolayer * q->c * q->k;
    const double a2 = t * (p->c - 1) * p->k * p->k - s * (q->c - 1) * q->k * q->k;
    const double a1 = s * (q->c - 2) * q->k - t * (p->c - 2) * p->k;
    const double a0 = s - t;
    const double square = a1 * a1 - 4 * a2 * a0;
    if (!(square > 0))
        return 0;
    const double r = -0.5 * (a1 + copysign(sqrt(square), a1));
    double root[2] = {r / a2, a0 / r};
    if (root[0] > root[1]) {
        const double swap = root[0];
        root[0] = root[1];
        root[1] = swap;
    }
    int n = 0;
    for (int i = 0; i < 2; i++)
        if (root[i] > low && root[i] < 1)
            at[n++] = root[i];
    return n;
}

static double wetting(const hfi_isotherm *isotherm, double a, double T)
{
    const curve own = {isotherm->monolayer, isotherm->c, isotherm->k};
    const curve under = {isotherm->under.monolayer, isotherm->under.c, isotherm->under.k};
    double end[3];
    int pieces = isotherm->has_under ? crossings(&own, &under, a, end) : 0;
    end[pieces++] = 1;
    double sum = 0;
    for (int i = 0; i < pieces; i++) {
        const double middle = 0.5 * (a + end[i]);
        const curve *upper = hf_isotherm_gab(middle, under.monolayer, under.c, under.k) >
                                     hf_isotherm_gab(middle, own.monolayer, own.c, own.k)
                                 ? &under
                                 : &own;
        sum += dphi_dT(isotherm, upper, end[i]) - dphi_dT(isotherm, upper, a);
        a = end[i];
    }
    return -HFI_GAS_CONSTANT * T * T / HFI_WATER_MOLAR_MASS * sum;
}

static hf_status start(double regain, double temperature, hf_branch branch,
                       const hf_parameters *set, unsigned flags, hfi_isotherm *isotherm)
{
    if (!isfinite(regain))
        return HF_EINVAL;
    const hf_status status = hfi_sorption_start(isotherm, temperature, branch, set, flags);
    const hf_status joint =
        hf_failed(status) ? status : hfi_sorption_check_regain(isotherm, regain);
    return joint > status ? joint : status;
}

hf_status hf_isosteric_heat_e(double regain, double temperature, hf_branch branch,
                              const hf_parameters *set, unsigned flags, double *heat)
{
    hfi_isotherm isotherm;
    if (!heat)
        return HF_EINVAL;
    const hf_status status = start(regain, temperature, branch, set, flags, &isotherm);
    if (!hf_failed(status))
        *heat = hfi_isotherm_heat(&isotherm, regain, temperature);
    return status;
}

HFI_STRICT(hf_isosteric_heat,
           (double regain, double temperature, hf_branch branch, const hf_parameters *set), regain,
           temperature, branch, set)

hf_status hf_wetting_heat_e(double regain, double temperature, hf_branch branch,
                            const hf_parameters *set, unsigned flags, double *heat)
{
    hfi_isotherm isotherm;
    if (!heat)
        return HF_EINVAL;
    const hf_status status = start(regain, temperature, branch, set, flags, &isotherm);
    if (!hf_failed(status)) {
        const double a = hfi_isotherm_activity(&isotherm, regain, NULL, NULL);
        *heat = a < 1 ? wetting(&isotherm, a, temperature) : 0;
    }
    return status;
}

HFI_STRICT(hf_wetting_heat,
           (double regain, double temperature, hf_branch branch, const hf_parameters *set), regain,
           temperature, branch, set)
