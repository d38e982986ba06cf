/* The equations of lib/transport as a system for the integrators of GSL. */
#ifndef HFI_TESTS_GSL_SOLVER_H
#define HFI_TESTS_GSL_SOLVER_H

#include "radial_kit.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_odeiv2.h>

#define GSL_MOST 200 /* numbers in a state */

/* GSL_FAILURE, unlike GSL_EBADFUNC, makes the method try a shorter step. */
static inline int gsl_rates(double t, const double *y, double *dydt, void *user)
{
    const equations *e = user;
    return e->problem.rates(t, y, NULL, dydt, NULL, e->problem.user) ? GSL_FAILURE : GSL_SUCCESS;
}

/* Spreads the block tridiagonal matrix, and the rank-one term where there is one, over a dense one. */
static inline int gsl_jacobian(double t, const double *y, double *dfdy, double *dfdt, void *user)
{
    const equations *e = user;
    const size_t size = e->problem.block_size, blocks = e->problem.blocks, n = size * blocks;
    static double storage[3 * 2 * GSL_MOST], rates[GSL_MOST], u[GSL_MOST], v[GSL_MOST];
    double counts[HFI_BOUNDARY_COUNTS];
    hfi_bt j;
    (void)hfi_bt_map(&j, blocks, size, storage);
    hfi_bt_zero(&j);
    memset(dfdy, 0, n * n * sizeof *dfdy);
    memset(dfdt, 0, n * sizeof *dfdt);
    if (e->problem.rates(t, y, NULL, rates, NULL, e->problem.user) ||
        e->problem.jacobian(t, y, NULL, &j, e->problem.user) ||
        e->problem.time_derivative(t, y, NULL, dfdt, counts, e->problem.user))
        return GSL_FAILURE;
    for (size_t b = 0; b < blocks; b++)
        for (size_t r = 0; r < size; r++)
            for (size_t c = 0; c < size; c++) {
                const size_t at = size * size * b + size * r + c, row = n * (size * b + r);
                dfdy[row + size * b + c] += j.diagonal[at];
                if (b > 0)
                    dfdy[row + size * (b - 1) + c] += j.lower[at];
                if (b + 1 < blocks)
                    dfdy[row + size * (b + 1) + c] += j.upper[at];
            }
    if (e->problem.coupling) {
        if (e->problem.coupling(t, y, NULL, u, v, e->problem.user))
            return GSL_FAILURE;
        for (size_t r = 0; r < n; r++)
            for (size_t c = 0; c < n; c++)
                dfdy[n * r + c] += u[r] * v[c];
    }
    return GSL_SUCCESS;
}

#endif
