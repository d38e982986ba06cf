/* Block LU of tridiagonal systems with 1x1 or 2x2 blocks; see block_tridiagonal.h.
 *
 *   pivot[i] = D[i] - L[i] M[i-1],  M[i] = pivot[i]^-1 U[i],  P[i] = pivot[i]^-1 L[i]
 *   forward  z[i] = pivot[i]^-1 b[i] - P[i] z[i-1]
 *   back     x[i] = z[i] - M[i] x[i+1]
 *
 * P is stored (instead of L) so that only one small product per block waits for its neighbour.
 */
#include "block_tridiagonal.h"

#include <float.h>
#include <math.h>
#include <stdbool.h>
#include <string.h>

/* A pivot smaller than this share of the terms it was subtracted from is rounding noise. */
#define PIVOT_NOISE (4.0 * DBL_EPSILON)

size_t hfi_bt_doubles(size_t blocks, size_t size)
{
    return 3 * blocks * size * size;
}

int hfi_bt_map(hfi_bt *a, size_t blocks, size_t size, double *storage)
{
    if (a == NULL || storage == NULL || blocks == 0 || blocks > HFI_BT_MAX_BLOCKS ||
        (size != 1 && size != 2)) {
        return HFI_BT_BAD_ARGUMENT;
    }
    a->blocks = blocks;
    a->size = size;
    a->lower = storage;
    a->diagonal = storage + blocks * size * size;
    a->upper = storage + 2 * blocks * size * size;
    return HFI_BT_OK;
}

void hfi_bt_zero(hfi_bt *a)
{
    size_t bytes = a->blocks * a->size * a->size * sizeof(double);
    memset(a->lower, 0, bytes);
    memset(a->diagonal, 0, bytes);
    memset(a->upper, 0, bytes);
}

void hfi_bt_multiply(const hfi_bt *a, const double *x, double *out)
{
    const size_t m = a->size;
    const size_t mm = m * m;
    for (size_t i = 0; i < a->blocks; i++) {
        for (size_t r = 0; r < m; r++) {
            double sum = 0.0;
            for (size_t c = 0; c < m; c++) {
                const size_t e = mm * i + m * r + c;
                sum += a->diagonal[e] * x[m * i + c];
                if (i > 0) {
                    sum += a->lower[e] * x[m * (i - 1) + c];
                }
                if (i + 1 < a->blocks) {
                    sum += a->upper[e] * x[m * (i + 1) + c];
                }
            }
            out[m * i + r] = sum;
        }
    }
}

/* False for the reciprocal of zero, of an infinity and of a NaN. */
static bool usable(double reciprocal)
{
    return isfinite(reciprocal) && reciprocal != 0.0;
}

static int factor_1(const hfi_bt *a, double scale, double shift, hfi_bt *lu)
{
    const size_t n = a->blocks;
    double m = 0.0; /* M of the block before */
    for (size_t i = 0; i < n; i++) {
        const double low = i > 0 ? scale * a->lower[i] : 0.0;
        const double full = shift + scale * a->diagonal[i];
        const double taken = low * m;
        const double pivot = full - taken;
        const double inverse = 1.0 / pivot;
        if (!(fabs(pivot) > PIVOT_NOISE * (fabs(full) + fabs(taken))) || !usable(inverse)) {
            return HFI_BT_SINGULAR;
        }
        m = i + 1 < n ? inverse * (scale * a->upper[i]) : 0.0;
        lu->diagonal[i] = inverse;
        lu->lower[i] = inverse * low;
        lu->upper[i] = m;
    }
    return HFI_BT_OK;
}

static int factor_2(const hfi_bt *a, double scale, double shift, hfi_bt *lu)
{
    const size_t n = a->blocks;
    double m0 = 0.0, m1 = 0.0, m2 = 0.0, m3 = 0.0; /* M of the block before */
    for (size_t i = 0; i < n; i++) {
        const double *d = a->diagonal + 4 * i;
        const double *l = a->lower + 4 * i;
        const double *u = a->upper + 4 * i;
        double l0 = 0.0, l1 = 0.0, l2 = 0.0, l3 = 0.0;
        double u0 = 0.0, u1 = 0.0, u2 = 0.0, u3 = 0.0;
        if (i > 0) {
            l0 = scale * l[0];
            l1 = scale * l[1];
            l2 = scale * l[2];
            l3 = scale * l[3];
        }
        if (i + 1 < n) {
            u0 = scale * u[0];
            u1 = scale * u[1];
            u2 = scale * u[2];
            u3 = scale * u[3];
        }
        const double f0 = shift + scale * d[0], t0 = l0 * m0 + l1 * m2;
        const double f1 = scale * d[1], t1 = l0 * m1 + l1 * m3;
        const double f2 = scale * d[2], t2 = l2 * m0 + l3 * m2;
        const double f3 = shift + scale * d[3], t3 = l2 * m1 + l3 * m3;
        const double p0 = f0 - t0, p1 = f1 - t1, p2 = f2 - t2, p3 = f3 - t3;
        const double det = p0 * p3 - p1 * p2;
        const double size = (fabs(f0) + fabs(t0)) * (fabs(f3) + fabs(t3)) +
                            (fabs(f1) + fabs(t1)) * (fabs(f2) + fabs(t2));
        const double r = 1.0 / det;
        if (!(fabs(det) > PIVOT_NOISE * size) || !usable(r)) {
            return HFI_BT_SINGULAR;
        }
        const double i0 = p3 * r, i1 = -p1 * r, i2 = -p2 * r, i3 = p0 * r;
        m0 = i0 * u0 + i1 * u2;
        m1 = i0 * u1 + i1 * u3;
        m2 = i2 * u0 + i3 * u2;
        m3 = i2 * u1 + i3 * u3;
        double *out = lu->diagonal + 4 * i;
        out[0] = i0;
        out[1] = i1;
        out[2] = i2;
        out[3] = i3;
        out = lu->lower + 4 * i;
        out[0] = i0 * l0 + i1 * l2;
        out[1] = i0 * l1 + i1 * l3;
        out[2] = i2 * l0 + i3 * l2;
        out[3] = i2 * l1 + i3 * l3;
        out = lu->upper + 4 * i;
        out[0] = m0;
        out[1] = m1;
        out[2] = m2;
        out[3] = m3;
    }
    return HFI_BT_OK;
}

int hfi_bt_factor(const hfi_bt *a, double scale, double shift, hfi_bt *lu)
{
    if (a == NULL || lu == NULL || a->blocks == 0 || a->blocks != lu->blocks ||
        a->size != lu->size) {
        return HFI_BT_BAD_ARGUMENT;
    }
    if (a->size == 1) {
        return factor_1(a, scale, shift, lu);
    }
    return a->size == 2 ? factor_2(a, scale, shift, lu) : HFI_BT_BAD_ARGUMENT;
}

static void solve_1(const hfi_bt *lu, double *x)
{
    const size_t n = lu->blocks;
    double z = 0.0;
    for (size_t i = 0; i < n; i++) {
        z = lu->diagonal[i] * x[i] - lu->lower[i] * z;
        x[i] = z;
    }
    for (size_t i = n - 1; i-- > 0;) {
        z = x[i] - lu->upper[i] * z;
        x[i] = z;
    }
}

static void solve_2(const hfi_bt *lu, double *x)
{
    const size_t n = lu->blocks;
    double z0 = 0.0, z1 = 0.0;
    for (size_t i = 0; i < n; i++) {
        const double *d = lu->diagonal + 4 * i;
        const double *p = lu->lower + 4 * i;
        const double b0 = x[2 * i], b1 = x[2 * i + 1];
        const double w0 = (d[0] * b0 + d[1] * b1) - (p[0] * z0 + p[1] * z1);
        const double w1 = (d[2] * b0 + d[3] * b1) - (p[2] * z0 + p[3] * z1);
        x[2 * i] = z0 = w0;
        x[2 * i + 1] = z1 = w1;
    }
    for (size_t i = n - 1; i-- > 0;) {
        const double *m = lu->upper + 4 * i;
        const double w0 = x[2 * i] - (m[0] * z0 + m[1] * z1);
        const double w1 = x[2 * i + 1] - (m[2] * z0 + m[3] * z1);
        x[2 * i] = z0 = w0;
        x[2 * i + 1] = z1 = w1;
    }
}

void hfi_bt_solve(const hfi_bt *lu, double *x)
{
    if (lu->size == 1) {
        solve_1(lu, x);
    } else {
        solve_2(lu, x);
    }
}
