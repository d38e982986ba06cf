/*
 * Transforms that keep a parameter within its bounds while the solver moves u freely:
 *   no bound   b = scale u
 *   one bound  b = edge + scale (sqrt(u^2 + 1) - 1), or edge - ...; nearly linear away from the edge
 *   two        b = edge + width sin^2 u, counted from the bound nearer to the start, so that digits close
 *              to that bound are not lost
 * All reach the bound itself, with db/du = 0 there.
 */
#include "transform.h"

#include <math.h>

hfi_transform hfi_transform_at(double b, double low, double high, double typical, double *u)
{
    hfi_transform t = {HFI_UNBOUNDED, 0, 1};
    const int below = isfinite(low), above = isfinite(high);
    if (!below && !above) {
        t.scale = b != 0 ? fabs(b) : typical > 0 ? typical : 1;
        *u = b / t.scale;
        return t;
    }
    if (below && above) {
        t.kind = b - low <= high - b ? HFI_FROM_LOWER : HFI_FROM_UPPER;
        t.edge = t.kind == HFI_FROM_LOWER ? low : high;
        t.scale = high - low;
        *u = asin(sqrt(fmin(fabs(b - t.edge) / t.scale, 1)));
        if (*u == 0)
            *u = 0.05;
        return t;
    }
    t.kind = below ? HFI_LOWER : HFI_UPPER;
    t.edge = below ? low : high;
    t.scale = fabs(b - t.edge);
    *u = sqrt(3.0);
    if (!(t.scale > 0)) {
        t.scale = typical > 0 ? typical : t.edge != 0 ? fabs(t.edge) : 1;
        *u = 0.3;
    }
    return t;
}

double hfi_transform_back(const hfi_transform *t, double u, double *slope)
{
    const double sign = t->kind == HFI_UPPER || t->kind == HFI_FROM_UPPER ? -1 : 1;
    if (t->kind == HFI_UNBOUNDED) {
        *slope = t->scale;
        return t->scale * u;
    }
    if (t->kind == HFI_LOWER || t->kind == HFI_UPPER) {
        const double root = sqrt(u * u + 1);
        *slope = sign * t->scale * u / root;
        return t->edge + sign * t->scale * (u * u / (root + 1));
    }
    const double s = sin(u);
    *slope = sign * t->scale * 2 * s * cos(u);
    return t->edge + sign * t->scale * s * s;
}
