/*
 * Isotherm of one branch with temperature: Guggenheim-Anderson-de Boer with Arrhenius terms.
 *
 *   w = Wm C x / ((1 - x)(1 + (C - 1) x)),  x = K a
 *   Wm = f Wm25 exp(hW u),  C = C25 exp(hC u),  K = K25 exp(hK u),  u = (1/T - 1/298.15 K)/R
 *
 *   w  regain, kg/kg       a  water activity = relative humidity      T  temperature, K
 *   Wm monolayer, kg/kg    C, K  numbers                               hX enthalpies, J/mol
 *   f  scale common to both branches, 1: carries the scatter between sources without moving one
 * branch through the other
 *
 * Inverse (positive root of A x^2 + B x - w = 0 with A = w (C - 1), B = Wm C - w (C - 2)):
 *   x = 2 w / (B + S) for B >= 0,  x = (S - B)/(2 A) otherwise,  S^2 = (C (Wm - w))^2 + 4 Wm w C
 * S^2 is a sum of positive terms and B < 0 needs C > 2, so nothing cancels and nothing is singular
 * where C passes 1 (for the shipped set just above the domain, at 276 degC; inside it for changed
 * constants).
 *
 * Slope: dw/da = Wm C K (1 + (C - 1) x^2) / ((1 - x)(1 + (C - 1) x))^2, positive while x < 1: every
 * isotherm is strictly monotonic.
 *
 * Temperature: with S1 = d ln w / d ln a = (1 + (C - 1) x^2)/((1 - x)(1 + (C - 1) x)),
 *   (d ln w / dT)_a = Wm'/Wm + (C'/C)(1 - x)/(1 + (C - 1) x) + (K'/K) S1,  X'/X = -hX/(R T^2)
 *   (d ln a / dT)_w = -(d ln w / dT)_a / S1
 *   net isosteric heat Q = R T^2 (d ln a / dT)_w / M
 *                        = (hK + (hW + hC (1 - x)/(1 + (C - 1) x))/S1) / M
 *
 * The loop closes: near saturation the two fitted branches cross (at 98.5 % humidity and 25 degC
 * for the shipped set, 92 % at 0 degC, not at all from about 32 degC up). A fibre cannot hold less
 * water when it dries than when it wets, so the desorption branch is max(absorption, desorption)
 * and its inverse the min of both activities: continuous and strictly monotonic, with a kink at the
 * crossing.
 *
 * Range: constants are of 22..25 degC; see ranges.h. Enthalpies are calibrated to a heat curve of
 * wool (watts-clothing-code) and to its heat of wetting (mortonhearle2008).
 */
#include "isotherm.h"

#include "../base/catalogue.h"
#include "constants.h"

#include <math.h>

static double gab(double monolayer, double c, double k, double a, double *dw_da)
{
    const double x = k * a;
    const double below = (1 - x) * (1 + (c - 1) * x);
    if (dw_da)
        *dw_da = monolayer * c * k * (1 + (c - 1) * x * x) / (below * below);
    return monolayer * c * x / below;
}

static double inverse(double monolayer, double c, double k, double w)
{
    const double b = monolayer * c - w * (c - 2);
    const double gap = c * (monolayer - w);
    const double s = sqrt(gap * gap + 4 * monolayer * w * c);
    return b >= 0 ? 2 * w / ((b + s) * k) : (s - b) / (2 * w * (c - 1) * k);
}

void hfi_isotherm_at(hfi_isotherm *isotherm, const double *values, hf_branch branch, double T)
{
    const double u = (1 / T - 1 / HFI_REFERENCE_TEMPERATURE) / HFI_GAS_CONSTANT;
    const double factor[3] = {exp(values[HFI_SORPTION_ENTHALPY_MONOLAYER] * u),
                              exp(values[HFI_SORPTION_ENTHALPY_C] * u),
                              exp(values[HFI_SORPTION_ENTHALPY_K] * u)};
    hfi_isotherm_of(isotherm, values, branch, T, factor);
}

void hfi_isotherm_of(hfi_isotherm *isotherm, const double *values, hf_branch branch, double T,
                     const double factor[3])
{
    const double slope = -1 / (HFI_GAS_CONSTANT * T * T);
    const double fw = values[HFI_SORPTION_SCALE] * factor[0], fc = factor[1], fk = factor[2];
    isotherm->dlnmonolayer_dT = values[HFI_SORPTION_ENTHALPY_MONOLAYER] * slope;
    isotherm->dlnc_dT = values[HFI_SORPTION_ENTHALPY_C] * slope;
    isotherm->dlnk_dT = values[HFI_SORPTION_ENTHALPY_K] * slope;
    isotherm->under.monolayer = values[HFI_SORPTION_ABSORPTION_MONOLAYER] * fw;
    isotherm->under.c = values[HFI_SORPTION_ABSORPTION_C] * fc;
    isotherm->under.k = values[HFI_SORPTION_ABSORPTION_K] * fk;
    isotherm->has_under = branch == HF_DESORPTION;
    if (isotherm->has_under) {
        isotherm->monolayer = values[HFI_SORPTION_DESORPTION_MONOLAYER] * fw;
        isotherm->c = values[HFI_SORPTION_DESORPTION_C] * fc;
        isotherm->k = values[HFI_SORPTION_DESORPTION_K] * fk;
    } else {
        isotherm->monolayer = isotherm->under.monolayer;
        isotherm->c = isotherm->under.c;
        isotherm->k = isotherm->under.k;
    }
}

double hfi_isotherm_regain(const hfi_isotherm *isotherm, double a, double *dw_da)
{
    const double w = gab(isotherm->monolayer, isotherm->c, isotherm->k, a, dw_da);
    if (!isotherm->has_under)
        return w;
    double slope;
    const double under =
        gab(isotherm->under.monolayer, isotherm->under.c, isotherm->under.k, a, &slope);
    if (under <= w)
        return w;
    if (dw_da)
        *dw_da = slope;
    return under;
}

/* The GAB constants that hold at regain w, with the activity. */
static double governing(const hfi_isotherm *isotherm, double w, double *monolayer, double *c,
                        double *k)
{
    *monolayer = isotherm->monolayer;
    *c = isotherm->c;
    *k = isotherm->k;
    const double a = inverse(*monolayer, *c, *k, w);
    if (!isotherm->has_under)
        return a;
    const double under =
        inverse(isotherm->under.monolayer, isotherm->under.c, isotherm->under.k, w);
    if (under >= a)
        return a;
    *monolayer = isotherm->under.monolayer;
    *c = isotherm->under.c;
    *k = isotherm->under.k;
    return under;
}

double hfi_isotherm_activity(const hfi_isotherm *isotherm, double w, double *da_dw, double *da_dT)
{
    double monolayer, c, k;
    const double a = governing(isotherm, w, &monolayer, &c, &k);
    const double x = k * a, g = 1 + (c - 1) * x, q = 1 - x;
    const double numerator = 1 + (c - 1) * x * x;
    if (da_dw)
        *da_dw = q * g * q * g / (monolayer * c * k * numerator);
    if (da_dT) {
        const double s = numerator / (q * g);
        *da_dT =
            -a * ((isotherm->dlnmonolayer_dT + isotherm->dlnc_dT * q / g) / s + isotherm->dlnk_dT);
    }
    return a;
}

double hfi_isotherm_heat(const hfi_isotherm *isotherm, double w, double T)
{
    double monolayer, c, k;
    const double a = governing(isotherm, w, &monolayer, &c, &k);
    const double x = k * a, g = 1 + (c - 1) * x, q = 1 - x;
    const double s = (1 + (c - 1) * x * x) / (q * g);
    return -HFI_GAS_CONSTANT * T * T / HFI_WATER_MOLAR_MASS *
           ((isotherm->dlnmonolayer_dT + isotherm->dlnc_dT * q / g) / s + isotherm->dlnk_dT);
}
