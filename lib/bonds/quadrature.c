/*
 * Gauss-Kronrod pair of 7 and 15 points; the interval with the largest error is halved until the
 * sum of the errors is small enough. The difference of the two rules overstates the error of the
 * finer one, so the estimate is safe. Nodes and weights: the standard pair, recomputed to 18
 * digits.
 */
#include "quadrature.h"

#include <math.h>

enum { INTERVALS_MAX = 128 };

/* Half of the symmetric rule on (-1, 1); odd entries belong to the 7-point rule too. */
static const double node[8] = {
    0.99145537112081264, 0.94910791234275852, 0.86486442335976907, 0.74153118559939444,
    0.58608723546769113, 0.40584515137739717, 0.20778495500789847, 0};
static const double fine[8] = {0.022935322010529225, 0.063092092629978553, 0.10479001032225018,
                               0.14065325971552592,  0.16900472663926790,  0.19035057806478541,
                               0.20443294007529889,  0.20948214108472783};
static const double coarse[4] = {0.12948496616886969, 0.27970539148927667, 0.38183005050511894,
                                 0.41795918367346939};

typedef struct interval {
    double left, right, integral, error;
} interval;

static interval apply(hfi_integrand f, const void *context, double left, double right)
{
    const double centre = 0.5 * (left + right), half = 0.5 * (right - left);
    const double middle = f(centre, context);
    double sum15 = fine[7] * middle, sum7 = coarse[3] * middle;
    for (int i = 0; i < 7; i++) {
        const double pair =
            f(centre - half * node[i], context) + f(centre + half * node[i], context);
        sum15 += fine[i] * pair;
        if (i % 2)
            sum7 += coarse[i / 2] * pair;
    }
    return (interval){left, right, half * sum15, half * fabs(sum15 - sum7)};
}

hf_status hfi_integrate(hfi_integrand f, const void *context, double relative, double *integral,
                        double *error)
{
    interval part[INTERVALS_MAX];
    part[0] = apply(f, context, 0, 1);
    for (int count = 1;; count++) {
        double sum = 0, doubt = 0;
        int worst = 0;
        for (int i = 0; i < count; i++) {
            sum += part[i].integral;
            doubt += part[i].error;
            worst = part[i].error > part[worst].error ? i : worst;
        }
        if (!isfinite(sum))
            return HF_ECONVERGE;
        if (doubt <= relative * fabs(sum)) {
            *integral = sum;
            *error = doubt;
            return HF_OK;
        }
        if (count == INTERVALS_MAX)
            return HF_ECONVERGE;
        const interval old = part[worst];
        const double centre = 0.5 * (old.left + old.right);
        part[worst] = apply(f, context, old.left, centre);
        part[count] = apply(f, context, centre, old.right);
    }
}
