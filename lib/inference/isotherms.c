/*
 * Isotherms for fitting: regain w against water activity a. M molar mass of water.
 *
 *   GAB                w = wm c x / ((1 - x)(1 + (c - 1) x)),  x = k a < 1
 *   BET                GAB with k = 1
 *   Hailwood-Horrobin  w = (M/m) [x/(1 - x) + k1 x/(1 + k1 x)],  x = k2 a; the same curve as GAB with
 *                      wm = M/m, c = k1 + 1, k = k2
 *   D'Arcy-Watt        w = w1 b a/(1 + b a) + w2 c a/(1 - c a)
 *   Flory-Huggins      ln a = ln v + (1 - v) + chi (1 - v)^2,  w = v/(1 - v)/r; v volume fraction of water,
 *                      r density of the dry fibre over that of water; the smaller root, where a rises with v
 *
 * Starts: a/w is a parabola in a for GAB, a/(w (1 - a)) a line for BET; D'Arcy-Watt is two GAB terms taken
 * apart; chi is solved for at each point.
 *
 * Sources: nail-sorption2007 (GAB, D'Arcy-Watt as printed), hailwoodhorrobin1946 (from memory), breuer1980
 * (Flory-Huggins judged wrong for hair; kept for comparison).
 */
#include "models.h"

#include "../keratin/constants.h"

#include <math.h>
#include <string.h>
#include <stdlib.h>

HFI_VALUE(hfi_gab_value)
{
    (void)user;
    const double k = x[0] * b[2], d = 1 + (b[1] - 1) * k;
    if (!(k < 1 && d > 0))
        return HF_ERANGE;
    *y = b[0] * b[1] * k / ((1 - k) * d);
    return HF_OK;
}

HFI_GRADIENT(hfi_gab_gradient)
{
    (void)user;
    const double k = x[0] * b[2], d = 1 + (b[1] - 1) * k, open = 1 - k;
    if (!(k < 1 && d > 0))
        return HF_ERANGE;
    g[0] = b[1] * k / (open * d);
    g[1] = b[0] * k / (d * d);
    g[2] = x[0] * b[0] * b[1] * (1 + (b[1] - 1) * k * k) / (open * open * d * d);
    return HF_OK;
}

/* wm, c, k from the parabola a/w = p a^2 + q a + r; the usual magnitudes where it has no such roots. */
static void gab_from_parabola(size_t n, const double *x, const double *y, double out[3])
{
    double top = 0, c[3], k = 0;
    for (size_t i = 0; i < n; i++)
        top = fmax(top, y[i]);
    out[0] = 0.35 * top;
    out[1] = 10;
    out[2] = 0.7;
    double *rows = malloc(4 * n * sizeof *rows);
    if (!rows)
        return;
    double *ratio = rows + 3 * n;
    size_t used = 0;
    for (size_t i = 0; i < n; i++) {
        if (!(x[i] > 0 && y[i] > 0))
            continue;
        /* times w^2/a: errors of a/w grow as a/w^2 times those of w */
        const double weight = y[i] * y[i] / x[i];
        rows[3 * used] = weight * x[i] * x[i];
        rows[3 * used + 1] = weight * x[i];
        rows[3 * used + 2] = weight;
        ratio[used++] = weight * x[i] / y[i];
    }
    if (used >= 3 && hfi_guess_linear(used, 3, rows, ratio, c, NULL) && c[2] > 0) {
        /* r k^2 + q k + p = 0 with the positive root below 1 */
        const double root = c[1] * c[1] - 4 * c[2] * c[0];
        k = root >= 0 ? (sqrt(root) - c[1]) / (2 * c[2]) : 0;
        const double strength = c[1] / (c[2] * k) + 2;
        if (k > 0.05 && k < 1.2 && strength > 0.05) {
            out[1] = strength;
            out[2] = fmin(k, 0.98);
            out[0] = 1 / (c[2] * out[1] * k);
        }
    }
    free(rows);
}

HFI_STARTER(hfi_gab_starter)
{
    (void)user;
    gab_from_parabola(n, x, y, b);
    return HF_OK;
}

HFI_VALUE(hfi_bet_value)
{
    const double full[] = {b[0], b[1], 1};
    return hfi_gab_value(x, full, user, y);
}

HFI_GRADIENT(hfi_bet_gradient)
{
    const double full[] = {b[0], b[1], 1};
    double all[3];
    const hf_status status = hfi_gab_gradient(x, full, user, all);
    if (status == HF_OK)
        memcpy(g, all, 2 * sizeof *g);
    return status;
}

HFI_STARTER(hfi_bet_starter)
{
    (void)user;
    double full[3];
    gab_from_parabola(n, x, y, full);
    b[0] = 0.7 * full[0];
    b[1] = full[1];
    return HF_OK;
}

HFI_VALUE(hfi_hailwood_value)
{
    (void)user;
    const double k = x[0] * b[2];
    if (!(k < 1 && 1 + b[1] * k > 0 && b[0] > 0))
        return HF_ERANGE;
    *y = HFI_WATER_MOLAR_MASS / b[0] * (k / (1 - k) + b[1] * k / (1 + b[1] * k));
    return HF_OK;
}

HFI_GRADIENT(hfi_hailwood_gradient)
{
    (void)user;
    const double k = x[0] * b[2], d = 1 + b[1] * k, open = 1 - k;
    if (!(k < 1 && d > 0 && b[0] > 0))
        return HF_ERANGE;
    const double capacity = HFI_WATER_MOLAR_MASS / b[0];
    g[0] = -capacity / b[0] * (k / open + b[1] * k / d);
    g[1] = capacity * k / (d * d);
    g[2] = capacity * x[0] * (1 / (open * open) + b[1] / (d * d));
    return HF_OK;
}

HFI_STARTER(hfi_hailwood_starter)
{
    (void)user;
    double full[3];
    gab_from_parabola(n, x, y, full);
    b[0] = HFI_WATER_MOLAR_MASS / full[0];
    b[1] = fmax(full[1] - 1, 0.1);
    b[2] = full[2];
    return HF_OK;
}

HFI_VALUE(hfi_darcy_value)
{
    (void)user;
    const double a = x[0];
    if (!(b[3] * a < 1 && 1 + b[1] * a > 0))
        return HF_ERANGE;
    *y = b[0] * b[1] * a / (1 + b[1] * a) + b[2] * b[3] * a / (1 - b[3] * a);
    return HF_OK;
}

HFI_GRADIENT(hfi_darcy_gradient)
{
    (void)user;
    const double a = x[0], d = 1 + b[1] * a, open = 1 - b[3] * a;
    if (!(open > 0 && d > 0))
        return HF_ERANGE;
    g[0] = b[1] * a / d;
    g[1] = b[0] * a / (d * d);
    g[2] = b[3] * a / open;
    g[3] = b[2] * a / (open * open);
    return HF_OK;
}

HFI_STARTER(hfi_darcy_starter)
{
    (void)user;
    double full[3];
    gab_from_parabola(n, x, y, full);
    b[0] = b[2] = full[0];
    b[1] = fmax((full[1] - 1) * full[2], 0.5);
    b[3] = full[2];
    return HF_OK;
}

/* v at activity a: ln a - ln v - (1 - v) - chi (1 - v)^2 falls to the smaller root. Newton in ln v, kept inside
 * a bracket. */
static hf_status flory_fraction(double a, double chi, double *v)
{
    const double top = chi > 0.5 ? 1 / (2 * chi) : 1;
    double low = 0, high = top, at = fmin(a * exp(-1 - chi), 0.5 * top);
    if (!(log(a) <= log(top) + (1 - top) + chi * (1 - top) * (1 - top)))
        return HF_ERANGE;
    for (int i = 0; i < 200; i++) {
        const double f = log(at) + (1 - at) + chi * (1 - at) * (1 - at) - log(a);
        if (f < 0)
            low = at;
        else
            high = at;
        const double slope = (1 - at) * (1 / at - 2 * chi);
        double next = slope > 0 ? at * exp(-f / (slope * at)) : 0;
        if (!(next > low && next < high))
            next = 0.5 * (low + high);
        if (fabs(next - at) <= 1e-15 * at)
            break;
        at = next;
    }
    *v = at;
    return at < 1 - 1e-9 ? HF_OK : HF_ERANGE;
}

HFI_VALUE(hfi_flory_value)
{
    (void)user;
    double v = 0;
    if (!(b[1] > 0 && x[0] >= 0))
        return HF_ERANGE;
    if (x[0] > 0) {
        const hf_status status = flory_fraction(x[0], b[0], &v);
        if (status != HF_OK)
            return status;
    }
    *y = v / (1 - v) / b[1];
    return HF_OK;
}

HFI_GRADIENT(hfi_flory_gradient)
{
    (void)user;
    double v = 0;
    g[0] = g[1] = 0;
    if (!(b[1] > 0 && x[0] >= 0))
        return HF_ERANGE;
    if (x[0] == 0)
        return HF_OK;
    const hf_status status = flory_fraction(x[0], b[0], &v);
    if (status != HF_OK)
        return status;
    const double rest = 1 - v;
    const double dv_dchi = -rest * rest / (rest * (1 / v - 2 * b[0]));
    g[0] = dv_dchi / (rest * rest) / b[1];
    g[1] = -v / rest / (b[1] * b[1]);
    return HF_OK;
}

HFI_STARTER(hfi_flory_starter)
{
    (void)user;
    const double ratio = isfinite(b[1]) ? b[1] : 1.31;
    double sum = 0, count = 0;
    for (size_t i = 0; i < n; i++) {
        const double v = ratio * y[i] / (1 + ratio * y[i]), rest = 1 - v;
        const double chi = (log(x[i]) - log(v) - rest) / (rest * rest);
        if (x[i] > 0 && isfinite(chi)) {
            sum += chi;
            count++;
        }
    }
    b[0] = count > 0 ? sum / count : 0.5;
    b[1] = ratio;
    return HF_OK;
}
