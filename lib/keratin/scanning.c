/*
 * Scanning curves inside the hysteresis loop (rule of rode2001), humidity moving slowly.
 *
 *   wetting  dw/da = [0.1 (w - wa)^2 sd + (w - wd)^2 sa] / (wd - wa)^2
 *   drying   dw/da = [(w - wa)^2 sd + 0.1 (w - wd)^2 sa] / (wd - wa)^2
 *
 *   wa, wd  regain of the absorption and desorption branch at a;  sa, sd  their slopes
 *
 * With the place in the loop s = (w - wa)/(wd - wa), and y = s when wetting, y = 1 - s when drying,
 * both become one equation in the way travelled |da|:
 *   dy/|da| = -y (p - q y),  p = (sa + sd)/(wd - wa)
 *   q = (sa + 0.1 sd)/(wd - wa) when wetting, (0.1 sa + sd)/(wd - wa) when drying
 * which for constant p > q > 0 is a logistic decay with an exact solution inside 0..1. Each step
 * takes p and q at its middle (second order) and so never leaves the loop. Where the loop has no
 * width (dry, and beyond the crossing described in isotherm.c) wetting follows the absorption
 * branch and drying starts on the desorption branch.
 *
 * The rule was made for building materials; nobody has checked it on hair, so it is an assumption
 * here. Range: that of the isotherm.
 */
#include "sorption.h"

#include "../base/range.h"
#include "ranges.h"

#include <math.h>

#define FLAT 0.1 /* share of the far branch's slope, rode2001 */
#define STEP 0.001

static const hfi_range humidity_range = {HFI_HUMIDITY};

typedef struct loop {
    hfi_isotherm absorption, desorption;
} loop;

static hf_status loop_start(loop *self, double temperature, const hf_parameters *set,
                            unsigned flags)
{
    const hf_status status =
        hfi_sorption_start(&self->absorption, temperature, HF_ABSORPTION, set, flags);
    if (hf_failed(status))
        return status;
    return hfi_sorption_start(&self->desorption, temperature, HF_DESORPTION, set, flags);
}

typedef struct section {
    double low, high, slope_low, slope_high; /* wa, wd, sa, sd */
} section;

static section cut(const loop *self, double a)
{
    section at;
    at.low = hfi_isotherm_regain(&self->absorption, a, &at.slope_low);
    at.high = hfi_isotherm_regain(&self->desorption, a, &at.slope_high);
    return at;
}

/* y of the head comment for regain w. */
static double place(const section *at, double w, int wetting)
{
    const double width = at->high - at->low;
    if (!(width > 0))
        return 0;
    return (wetting ? w - at->low : at->high - w) / width;
}

static double regain_of(const section *at, double y, int wetting)
{
    const double width = at->high - at->low;
    const double w = wetting ? at->low + y * width : at->high - y * width;
    /* y stays in 0..1; only the rounding of this line could step over a branch. */
    return w < at->low ? at->low : w > at->high ? at->high : w;
}

/* One step: y after the way `da` around the humidity `middle`. */
static double advance(const loop *self, double middle, double da, double y, int wetting)
{
    const section at = cut(self, middle);
    const double width = at.high - at.low;
    if (!(width > 0) || !(y > 0))
        return 0;
    const double p = (at.slope_low + at.slope_high) / width;
    const double q =
        (wetting ? at.slope_low + FLAT * at.slope_high : FLAT * at.slope_low + at.slope_high) /
        width;
    const double decay = exp(-p * da);
    return y * p * decay / (p - q * y * (1 - decay));
}

static double travel(const loop *self, double from, double to, double w)
{
    const int wetting = to > from;
    const double way = fabs(to - from);
    const size_t steps = (size_t)ceil(way / STEP); /* at most 1 / STEP */
    const section start = cut(self, from);
    double y = place(&start, w, wetting);
    for (size_t i = 0; i < steps; i++) {
        const double middle = from + (to - from) * ((double)i + 0.5) / (double)steps;
        y = advance(self, middle, way / (double)steps, y, wetting);
    }
    const section end = cut(self, to);
    return regain_of(&end, y, wetting);
}

hf_status hf_scanning_slope_e(double regain, double humidity, double temperature,
                              hf_branch direction, const hf_parameters *set, unsigned flags,
                              double *slope)
{
    loop self;
    if (!slope || !isfinite(regain) || (direction != HF_ABSORPTION && direction != HF_DESORPTION))
        return HF_EINVAL;
    hf_status status = hfi_check(humidity, &humidity_range, flags);
    if (hf_failed(status))
        return status;
    status = hfi_worse(status, loop_start(&self, temperature, set, flags));
    if (hf_failed(status))
        return status;
    const section at = cut(&self, humidity);
    if (regain < at.low || regain > at.high)
        return HF_ERANGE;
    const int wetting = direction == HF_ABSORPTION;
    const double y = place(&at, regain, wetting);
    const double near = wetting ? at.slope_low : at.slope_high;
    const double far = wetting ? at.slope_high : at.slope_low;
    *slope = FLAT * y * y * far + (1 - y) * (1 - y) * near;
    return status;
}

double hf_scanning_slope(double regain, double humidity, double temperature, hf_branch direction,
                         const hf_parameters *set)
{
    double slope;
    return hf_scanning_slope_e(regain, humidity, temperature, direction, set, HF_STRICT, &slope) ==
                   HF_OK
               ? slope
               : (double)NAN;
}

hf_status hf_scanning_regain_v(size_t n, const double *humidity, double start_regain,
                               double temperature, const hf_parameters *set, unsigned flags,
                               double *regain, size_t *bad)
{
    loop self;
    hf_status worst = HF_OK;
    double here = 0, w = start_regain;
    if ((n && (!humidity || !regain)) || !isfinite(start_regain))
        return HF_EINVAL;
    for (size_t i = 0; i < n; i++) {
        const double a = humidity[i];
        hf_status status = hfi_check(a, &humidity_range, flags);
        if (i == 0 && !hf_failed(status)) {
            status = hfi_worse(status, loop_start(&self, temperature, set, flags));
            if (!hf_failed(status)) {
                const section at = cut(&self, a);
                if (w < at.low || w > at.high)
                    status = HF_ERANGE;
            }
        } else if (!hf_failed(status)) {
            w = travel(&self, here, a, w);
        }
        if (hf_failed(status)) {
            if (bad)
                *bad = i;
            return status;
        }
        regain[i] = w;
        here = a;
        worst = hfi_worse(worst, status);
    }
    return worst;
}
