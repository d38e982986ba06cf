/*
 * Internal boiling temperature: where the vapour pressure in the fibre meets the ambient pressure.
 *
 *   a(w, T) psat(T) = P
 *
 *   P      ambient pressure, Pa: 612 to 3.975e6
 *   w, T, a, psat: see pressure.c
 *
 * At constant regain both factors rise with temperature, so there is at most one solution. It is
 * bracketed by the ends of the temperature range and found by false position (Illinois rule) on
 * ln p against 1/T, which is nearly a straight line; the kink where liquid water comes up does not
 * disturb a bracketing rule. The status is that of the temperature found.
 *
 * Sources: iapws-sr1-86, clausius-clapeyron; see pressure.c.
 */
#include <hairfibre/vapour.h>

#include "../base/range.h"
#include "../base/strict.h"
#include "ranges.h"

static const hfi_range temperature_range = {HFI_VAPOUR_TEMPERATURE};
static const hfi_range regain_range = {HFI_VAPOUR_REGAIN};
static const hfi_range ambient_range = {HFI_VAPOUR_BOILING};

enum { STEPS_MAX = 200 };

typedef struct problem {
    double regain, log_pressure;
    hf_branch branch;
    const hf_parameters *set;
} problem;

/* ln(p / P) at 1/T. */
static hf_status excess(const problem *of, double inverse_temperature, double *y)
{
    double p;
    const hf_status status = hf_internal_vapour_pressure_e(1 / inverse_temperature, of->regain,
                                                           of->branch, of->set, HF_EXTRAPOLATE, &p);
    if (!hf_failed(status))
        *y = log(p) - of->log_pressure;
    return status;
}

static hf_status solve(const problem *of, double *inverse_temperature)
{
    /* The reciprocal of a range's end may fall outside by one rounding. */
    double x0 = 1 / temperature_range.domain_low, x1 = 1 / temperature_range.domain_high;
    double y0 = 0, y1 = 0;
    x0 = 1 / x0 < temperature_range.domain_low ? nextafter(x0, 0) : x0;
    x1 = 1 / x1 > temperature_range.domain_high ? nextafter(x1, 1) : x1;
    hf_status status = hfi_worse(excess(of, x0, &y0), excess(of, x1, &y1));
    if (hf_failed(status))
        return status;
    if (!(y0 <= 0 && y1 >= 0))
        return HF_ERANGE;
    for (int step = 0, side = 0; step < STEPS_MAX; step++) {
        const double x =
            fabs(y0) < fabs(y1) ? x0 + y0 / (y0 - y1) * (x1 - x0) : x1 + y1 / (y1 - y0) * (x0 - x1);
        double y;
        status = excess(of, x, &y);
        if (hf_failed(status))
            return status;
        if (fabs(y) < 1e-13 || fabs(x1 - x0) < 1e-14 * x) { /* some 1e-11 K */
            *inverse_temperature = x;
            return HF_OK;
        }
        if (y < 0) {
            x0 = x, y0 = y;
            y1 *= side == -1 ? 0.5 : 1;
            side = -1;
        } else {
            x1 = x, y1 = y;
            y0 *= side == 1 ? 0.5 : 1;
            side = 1;
        }
    }
    return HF_ECONVERGE;
}

hf_status hf_internal_boiling_temperature_e(double regain, double pressure, hf_branch branch,
                                            const hf_parameters *set, unsigned flags,
                                            double *temperature)
{
    hf_status status = temperature ? HF_OK : HF_EINVAL;
    status = hfi_worse(status, hfi_check(regain, &regain_range, flags));
    status = hfi_worse(status, hfi_check(pressure, &ambient_range, flags));
    if (hf_failed(status))
        return status;
    if (!(regain > 0))
        return HF_ERANGE;
    const problem of = {regain, log(pressure), branch, set};
    double x = 0;
    const hf_status solved = solve(&of, &x);
    if (hf_failed(solved))
        return solved;
    status = hfi_worse(status, hfi_check(1 / x, &temperature_range, flags));
    if (!hf_failed(status))
        *temperature = 1 / x;
    return status;
}

HFI_STRICT(hf_internal_boiling_temperature,
           (double regain, double pressure, hf_branch branch, const hf_parameters *set), regain,
           pressure, branch, set)
