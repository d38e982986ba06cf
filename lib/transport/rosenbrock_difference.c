/* One-sided difference forms of the derivatives, for problems that do not give them and for
 * checking those that do. With an increment of sqrt(rounding unit) relative the error is about 1e-8
 * relative, which costs no order at tolerances down to about 1e-8. */
#include "rosenbrock.h"

#include <float.h>
#include <math.h>
#include <string.h>

static double increment(double y, double scale)
{
    return sqrt(DBL_EPSILON) * (fabs(y) > scale ? fabs(y) : scale);
}

/* Block rows touch their neighbours only, so every third block can be moved at once. */
int hfi_ode_difference_jacobian(const hfi_ode_problem *p, double t, const double *y,
                                const double *q, const double *f0, const double *scale,
                                double *work, hfi_bt *jacobian)
{
    const size_t m = p->block_size, mm = m * m, blocks = p->blocks, n = m * blocks;
    double *moved = work, *f = work + n;
    for (size_t colour = 0; colour < 3 && colour < blocks; colour++) {
        for (size_t c = 0; c < m; c++) {
            /* Near the edge of validity one direction may be refused: then try the other. */
            int refused = 1;
            for (double sign = 1.0; refused != 0 && sign >= -1.0; sign -= 2.0) {
                memcpy(moved, y, n * sizeof(double));
                for (size_t b = colour; b < blocks; b += 3) {
                    moved[m * b + c] += sign * increment(y[m * b + c], scale[m * b + c]);
                }
                refused = p->rates(t, moved, q, f, NULL, p->user);
            }
            if (refused != 0) {
                return refused;
            }
            for (size_t b = colour; b < blocks; b += 3) {
                const double inverse = 1.0 / (moved[m * b + c] - y[m * b + c]);
                for (size_t r = 0; r < m; r++) {
                    const size_t e = m * r + c, i = m * b + r;
                    jacobian->diagonal[mm * b + e] = (f[i] - f0[i]) * inverse;
                    if (b > 0) {
                        jacobian->upper[mm * (b - 1) + e] = (f[i - m] - f0[i - m]) * inverse;
                    }
                    if (b + 1 < blocks) {
                        jacobian->lower[mm * (b + 1) + e] = (f[i + m] - f0[i + m]) * inverse;
                    }
                }
            }
        }
    }
    return 0;
}

int hfi_ode_difference_gradient(const hfi_ode_problem *p, double t, const double *y,
                                const double *q, const double *g0, const double *v,
                                const double *scale, double *work, double *out)
{
    const size_t n = p->block_size * p->blocks;
    double steepest = 0.0;
    for (size_t i = 0; i < n; i++) {
        const double size = fabs(y[i]) > scale[i] ? fabs(y[i]) : scale[i];
        const double slope = fabs(v[i]) / size;
        if (!(slope <= steepest)) {
            steepest = slope;
        }
    }
    if (steepest == 0.0) {
        memset(out, 0, p->quadratures * sizeof(double));
        return 0;
    }
    int refused = 1;
    for (double sign = 1.0; refused != 0 && sign >= -1.0; sign -= 2.0) {
        const double epsilon = sign * sqrt(DBL_EPSILON) / steepest;
        for (size_t i = 0; i < n; i++) {
            work[i] = y[i] + epsilon * v[i];
        }
        refused = p->rates(t, work, q, NULL, out, p->user);
        if (refused == 0) {
            for (size_t j = 0; j < p->quadratures; j++) {
                out[j] = (out[j] - g0[j]) / epsilon;
            }
        }
    }
    return refused;
}
