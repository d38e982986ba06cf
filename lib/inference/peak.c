/*
 * Melting peak of a trace of heat flow at a constant heating rate: a first-order change over a straight base.
 *
 *   q = base + drift (T - Tp) + H b (da/dT),   a = 1 - exp(-I(T)),   da/dT = (A/b) exp(-E/(R T)) exp(-I)
 *   I(T) = (A/b) [T exp(-x) - (E/R) E1(x)],   x = E/(R T)
 *
 * A follows from the peak temperature Tp, where first order with Arrhenius has its maximum: A = b E/(R Tp^2) exp(E/(R Tp))
 * (kissinger). q heat flow W/kg, endothermic up; H enthalpy J/kg; b heating rate K/s; E J/mol; T, Tp K.
 *
 * Sources: kissinger (memory), standard kinetics.
 */
#include "models.h"

#include "../keratin/constants.h"

#include <math.h>

#include <gsl/gsl_sf_expint.h>

/* Parameters in this order. */
enum { ENTHALPY, PEAK, ENERGY, BASE, DRIFT, RATE };

/* (da/dT) Tp at T, E/R = theta: all exponentials relative to the peak, so that nothing overflows. */
static double melting(double T, double peak, double theta)
{
    const double x = theta / T, top = theta / peak;
    const double relative = top - x; /* ln of the rate constant over that at the peak */
    if (relative > 600)
        return 0;
    /* x exp(x) E1(x) near 1 for large x: T e^-x - theta E1(x) = T e^-x (1 - x e^x E1(x)) */
    const double rest = 1 - x * gsl_sf_expint_E1_scaled(x);
    const double log_integral = log(top / peak * T * rest) + relative; /* ln I */
    return log_integral > 6.6 ? 0 : top / peak * exp(relative - exp(log_integral));
}

HFI_VALUE(hfi_peak_value)
{
    (void)user;
    if (!(x[0] > 0 && b[PEAK] > 0 && b[ENERGY] > 0 && b[RATE] > 0))
        return HF_ERANGE;
    const double theta = b[ENERGY] / HFI_GAS_CONSTANT;
    if (!(theta / x[0] < 700))
        return HF_ERANGE;
    *y = b[BASE] + b[DRIFT] * (x[0] - b[PEAK]) +
         b[ENTHALPY] * b[RATE] * melting(x[0], b[PEAK], theta);
    return HF_OK;
}

/* Base through the ends, peak where the trace stands highest above it, width from its area over its height: for first
 * order the height of da/dT is about E/(e R Tp^2). */
HFI_STARTER(hfi_peak_starter)
{
    (void)user;
    size_t low = 0, high = 0, top = 0;
    for (size_t i = 1; i < n; i++) {
        low = x[i] < x[low] ? i : low;
        high = x[i] > x[high] ? i : high;
    }
    const double drift = x[high] > x[low] ? (y[high] - y[low]) / (x[high] - x[low]) : 0;
    double most = 0, area = 0;
    for (size_t i = 0; i < n; i++) {
        const double over = y[i] - y[low] - drift * (x[i] - x[low]);
        if (fabs(over) > fabs(most)) {
            most = over;
            top = i;
        }
        if (i > 0)
            area += 0.5 * fabs(x[i] - x[i - 1]) *
                    (over + y[i - 1] - y[low] - drift * (x[i - 1] - x[low]));
    }
    const double peak = x[top], width = most != 0 ? area / most : 1;
    b[PEAK] = isfinite(b[PEAK]) ? b[PEAK] : peak;
    b[ENERGY] = isfinite(b[ENERGY])
                    ? b[ENERGY]
                    : 2.72 * HFI_GAS_CONSTANT * peak * peak / fmax(fabs(width), 0.1);
    b[ENTHALPY] = isfinite(b[ENTHALPY]) ? b[ENTHALPY] : area / b[RATE];
    b[DRIFT] = isfinite(b[DRIFT]) ? b[DRIFT] : drift;
    b[BASE] = isfinite(b[BASE]) ? b[BASE] : y[low] + drift * (peak - x[low]);
    return HF_OK;
}
