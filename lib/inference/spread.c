/*
 * Where to start again. Each parameter gets its number t in 0..1 and turns it into a start:
 *   two bounds   evenly between them; by logarithm when they are positive and 1000 apart, or when the
 *                given start lies close to one of them
 *   one bound    distance of the given start from the bound times 10^(+-reach)
 *   none         given start times 10^(+-reach), every fifth with the other sign
 * reach runs through 1, 2, 3.5 decades, so that both a near and a far miss are met.
 */
#include "search.h"

#include <math.h>
#include <string.h>

/* t in 0..1 to a factor of at most `reach` decades either way. */
static double factor(double t, double reach)
{
    return pow(10, reach * (2 * t - 1));
}

static double between(double low, double high, double start, double t, double reach)
{
    const double width = high - low;
    if (low > 0 && high / low > 1000)
        return low * pow(high / low, t);
    if (high < 0 && low / high > 1000)
        return high * pow(low / high, t);
    if (start > low && start - low < width / 1000)
        return fmin(low + (start - low) * factor(t, reach), high);
    if (start < high && high - start < width / 1000)
        return fmax(high - (high - start) * factor(t, reach), low);
    return low + width * t;
}

void hfi_spread(const hfi_problem *problem, const hfi_active *active, const double *start,
                const double *unit, size_t k, double *b)
{
    static const double reaches[] = {1, 2, 3.5};
    const double reach = reaches[k % 3];
    memcpy(b, start, problem->p * sizeof *b);
    for (size_t a = 0; a < active->count; a++) {
        const size_t j = active->index[a];
        const double low = problem->low[j], high = problem->high[j], t = unit[a];
        const double size = problem->typical[j] > 0 ? problem->typical[j] : 1;
        if (isfinite(low) && isfinite(high)) {
            b[j] = between(low, high, start[j], t, reach);
        } else if (isfinite(low)) {
            b[j] = low + (start[j] > low ? start[j] - low : size) * factor(t, reach);
        } else if (isfinite(high)) {
            b[j] = high - (start[j] < high ? high - start[j] : size) * factor(t, reach);
        } else {
            const double sign = start[j] < 0 ? -1 : 1;
            b[j] = t < 0.8 ? sign * size * factor(t / 0.8, reach)
                           : -sign * size * factor((t - 0.8) / 0.2, reach);
        }
    }
}
