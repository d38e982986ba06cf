/*
 * Outward by the secant of the last two points, half as far again at least and three times at most, until the
 * target is passed; then secants kept inside the bracket (Illinois), with a halving now and then so that
 * they cannot crawl. Where tau is infinite the bracket is halved.
 */
#include "edge.h"

#include <math.h>

#define OUTWARD    60
#define ROOT_STEPS 80

/* Root of tau - target between low (below) and high (above, perhaps infinite). */
static hf_status close_in(hfi_profile *profile, void *context, double target, double close,
                          double low, double tau_low, double high, double tau_high, double *r)
{
    double f_low = tau_low - target, f_high = tau_high - target;
    int last = 0; /* side of the point before: staying on one side halves the other's weight */
    for (int i = 0; i < ROOT_STEPS && high - low > close * high; i++) {
        double next = 0.5 * (low + high);
        if (isfinite(f_high) && i % 4 != 3) {
            next = low + (high - low) * f_low / (f_low - f_high);
            const double margin = 1e-3 * close * high;
            next = fmin(fmax(next, low + margin), high - margin);
        }
        double tau;
        const hf_status status = profile(context, next, &tau);
        if (status != HF_OK)
            return status;
        const double f = tau - target;
        if (fabs(f) <= close * target) {
            *r = next;
            return HF_OK;
        }
        if (f < 0) {
            low = next;
            f_low = f;
            if (last < 0 && isfinite(f_high))
                f_high *= 0.5;
            last = -1;
        } else {
            high = next;
            f_high = f;
            if (last > 0)
                f_low *= 0.5;
            last = 1;
        }
    }
    *r = 0.5 * (low + high);
    return HF_OK;
}

hf_status hfi_find_edge(hfi_profile *profile, void *context, double target, double close,
                        double wall, double far, double *r, hfi_edge *edge)
{
    double low = 0, tau_low = 0, at = 1;
    *edge = HFI_EDGE_OPEN;
    for (int i = 0; i < OUTWARD; i++) {
        const int walled = at >= wall;
        if (walled)
            at = wall;
        double tau;
        const hf_status status = profile(context, at, &tau);
        if (status != HF_OK)
            return status;
        if (fabs(tau - target) <= close * target) {
            *r = at;
            *edge = HFI_EDGE_FOUND;
            return HF_OK;
        }
        if (tau > target) {
            *edge = HFI_EDGE_FOUND;
            return close_in(profile, context, target, close, low, tau_low, at, tau, r);
        }
        if (walled) {
            *r = wall;
            *edge = HFI_EDGE_BOUND;
            return HF_OK;
        }
        if (at > far)
            return HF_OK;
        const double slope = (tau - tau_low) / (at - low);
        const double ahead = slope > 0 ? (target - tau) / slope * 1.05 : HUGE_VAL;
        low = at;
        tau_low = tau;
        at += fmin(fmax(ahead, 0.5 * at), 3 * at);
    }
    return HF_OK;
}
