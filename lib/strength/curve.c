/*
 * Stress-strain curve of three regions.
 *
 *   Hookean     s = E e
 *   yield       s = sy + Ey (e - ey)                  ey = sy/E
 *   post-yield  s = s2 + Ep (e - e2)                  Ep = (sb - s2)/(eb - e2)
 *   joins       over e = corner +- d the slope changes linearly from one line's to the next one's:
 *               s is a parabola that touches both lines, so s and ds/de have no jump
 *   yield       sy = a - b h
 *
 *   s Pa   e strain   h humidity, 1 = wet   E tensile modulus in balance with h (modulus.c)
 *   sy, ey yield   e2 turn into the post-yield region, s2 its stress   sb, eb break (break.c)
 *   d = r ey at the yield corner, d2 at the turn
 *
 * Numbers: a 238 and b 191 MPa, a straight line in humidity (yieldlaw1962, wool, abstract) through
 * 114 MPa at 65 % humidity (menkart1966) and 47 MPa wet (between 43 at the yield point, beard1983,
 * and 51 at 20 %). Ey so that the wet stress at 20 % is 51.0 (menkart1966) and 51.8 MPa
 * (beard1983). e2 0.251 (beard1983; 0.27 in menkart1966), taken for every humidity. r, d2: assumed.
 *
 * The last line ends at the break point, so Ep follows: 0.43 GPa wet where 0.49 (beard1983) and
 * 0.52 GPa (menkart1966) were read on other hair. Carried on with 0.49 GPa the curve would end at
 * 211 MPa, 11 % above the 191 MPa of wortmann2022. Room temperature, pulled once, at the speed of a
 * test; relaxation and recovery are left out.
 */
#include <hairfibre/strength.h>

#include "curve.h"
#include "modulus.h"
#include "ranges.h"

#include "../base/catalogue.h"
#include "../base/range.h"

double hfi_yield_stress(const double *values, double h)
{
    return values[HFI_STRENGTH_YIELD_INTERCEPT] - values[HFI_STRENGTH_YIELD_SLOPE] * h;
}

static double line(double stress, double slope, double distance)
{
    return stress + slope * distance;
}

/* Straight pieces 0, 2 and 4, parabolas 1 and 3 between them. */
static void lay_pieces(hfi_curve *c, double yield_slope, double turn, double d1, double d2)
{
    const double corner[] = {c->yield_strain, turn}, half[] = {d1, d2};
    const double slope[] = {c->modulus, yield_slope, c->post_modulus};
    c->from[0] = 0;
    c->stress[0] = 0;
    c->slope[0] = slope[0];
    for (int i = 0; i < 2; i++) {
        const int join = 2 * i + 1, after = join + 1;
        const double step = slope[i + 1] - slope[i];
        c->from[join] = corner[i] - half[i];
        c->from[after] = corner[i] + half[i];
        c->stress[join] = line(c->stress[join - 1], slope[i], c->from[join] - c->from[join - 1]);
        c->stress[after] = c->stress[join] + half[i] * (slope[i] + slope[i + 1]);
        c->slope[join] = slope[i];
        c->slope[after] = slope[i + 1];
        c->bend[join - 1] = 0;
        c->bend[join] = step / (2 * half[i]);
    }
    c->bend[HFI_CURVE_PIECES - 1] = 0;
}

hf_status hfi_curve_at(hfi_curve *c, const hf_parameters *set, double h)
{
    const double *values = hfi_values(set);
    double regain;
    hf_status status =
        hf_regain_e(h, HFI_ROOM_TEMPERATURE, HF_ABSORPTION, set, HF_EXTRAPOLATE, &regain);
    if (!hf_failed(status))
        status = hfi_tensile_modulus(set, regain, &c->modulus);
    if (hf_failed(status))
        return status;
    const double yield_slope = values[HFI_STRENGTH_YIELD_REGION_SLOPE];
    const double turn = values[HFI_STRENGTH_TURN_STRAIN];
    c->yield_stress = hfi_yield_stress(values, h);
    c->break_stress = hfi_break_stress(values, h);
    c->break_strain = hfi_break_strain(values, h);
    c->yield_strain = c->yield_stress / c->modulus;
    const double at_turn = line(c->yield_stress, yield_slope, turn - c->yield_strain);
    c->post_modulus = (c->break_stress - at_turn) / (c->break_strain - turn);
    const double d1 = values[HFI_STRENGTH_YIELD_ROUNDING] * c->yield_strain;
    const double d2 = values[HFI_STRENGTH_TURN_ROUNDING];
    if (!(c->modulus > 0 && c->yield_stress > 0 && c->post_modulus > 0) ||
        c->yield_strain + d1 > turn - d2 || turn + d2 > c->break_strain)
        return HF_ERANGE;
    lay_pieces(c, yield_slope, turn, d1, d2);
    return HF_OK;
}

static int piece_at(const double *start, double x)
{
    int i = HFI_CURVE_PIECES - 1;
    while (i > 0 && x < start[i])
        i--;
    return i;
}

double hfi_curve_stress(const hfi_curve *c, double strain)
{
    const int i = piece_at(c->from, strain);
    const double x = strain - c->from[i];
    return c->stress[i] + x * (c->slope[i] + x * c->bend[i] / 2);
}

double hfi_curve_slope(const hfi_curve *c, double strain)
{
    const int i = piece_at(c->from, strain);
    return c->slope[i] + c->bend[i] * (strain - c->from[i]);
}

/* Area under the pieces, each a polynomial of second degree. */
double hfi_curve_work(const hfi_curve *c, double strain)
{
    double work = 0;
    for (int i = 0; i < HFI_CURVE_PIECES && strain > c->from[i]; i++) {
        const double end =
            i + 1 < HFI_CURVE_PIECES && strain > c->from[i + 1] ? c->from[i + 1] : strain;
        const double x = end - c->from[i];
        work += x * (c->stress[i] + x * (c->slope[i] / 2 + x * c->bend[i] / 6));
    }
    return work;
}

/* The root of the parabola that does not cancel; every slope is positive. */
double hfi_curve_strain(const hfi_curve *c, double stress)
{
    const int i = piece_at(c->stress, stress);
    const double rise = stress - c->stress[i], b = c->slope[i];
    return c->from[i] + 2 * rise / (b + sqrt(b * b + 2 * c->bend[i] * rise));
}
