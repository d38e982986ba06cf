/* Block LU of tridiagonal systems with 1x1 or 2x2 blocks; see block_tridiagonal.h.
 *
 * From both ends to the block `mid` in the middle: the two sweeps do not wait for one another, which halves
 * the time where every block waits for the one before.
 *
 *   before mid   pivot[i] = D[i] - L[i] M[i-1]        M[i] = pivot[i]^-1 U[i],  N[i] = pivot[i]^-1 L[i]
 *   after mid    pivot[i] = D[i] - U[i] N[i+1]
 *   at mid       pivot[i] = D[i] - L[i] M[i-1] - U[i] N[i+1]
 *   inward       z[i] = pivot[i]^-1 b[i] - N[i] z[i-1]   (before mid; after it - M[i] z[i+1]; at mid both)
 *   outward      x[i] = z[i] - M[i] x[i+1]               (before mid; after it - N[i] x[i-1])
 *
 * M and N are stored in place of U and L, so that one small product per block waits for its neighbour.
 * 1x1 blocks, which are few and cheap, go from one end to the other: mid is the last.
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

typedef hfi_lanes row; /* of a block */

typedef struct block {
    row first, second;
} block;

static const block nothing = {{0.0, 0.0}, {0.0, 0.0}};

static inline block load(const double *from, double scale)
{
    return (block){(row){from[0], from[1]} * scale, (row){from[2], from[3]} * scale};
}

static inline block times(block x, double factor)
{
    return (block){x.first * factor, x.second * factor};
}

static inline void store(double *to, block x)
{
    to[0] = x.first[0];
    to[1] = x.first[1];
    to[2] = x.second[0];
    to[3] = x.second[1];
}

static inline block product(block x, block y)
{
    return (block){x.first[0] * y.first + x.first[1] * y.second,
                   x.second[0] * y.first + x.second[1] * y.second};
}

static inline block sum(block x, block y)
{
    return (block){x.first + y.first, x.second + y.second};
}

/* Factors of block i. taken: what its neighbours that went before take off the diagonal. The order of the
 * products keeps short what the next block waits for. */
static inline bool factor_block(const hfi_bt *a, double scale, double shift, size_t i, block low,
                                block up, block taken, hfi_bt *lu)
{
    const block d = load(a->diagonal + 4 * i, scale);
    const block full = {d.first + (row){shift, 0.0}, d.second + (row){0.0, shift}};
    const row p = full.first - taken.first, q = full.second - taken.second;
    const double det = p[0] * q[1] - p[1] * q[0], r = 1.0 / det;
    const double size = (fabs(full.first[0]) + fabs(taken.first[0])) *
                            (fabs(full.second[1]) + fabs(taken.second[1])) +
                        (fabs(full.first[1]) + fabs(taken.first[1])) *
                            (fabs(full.second[0]) + fabs(taken.second[0]));
    if (!(fabs(det) > PIVOT_NOISE * size) || !usable(r)) {
        return false;
    }
    const block adjoint = {{q[1], -p[1]}, {-q[0], p[0]}};
    store(lu->diagonal + 4 * i, times(adjoint, r));
    store(lu->lower + 4 * i, times(product(adjoint, low), r));
    store(lu->upper + 4 * i, times(product(adjoint, up), r));
    return true;
}

static int factor_2(const hfi_bt *a, double scale, double shift, hfi_bt *lu)
{
    const size_t n = a->blocks, mid = n / 2;
    block m = nothing, below = nothing; /* M of the block before, N of the one after */
    for (size_t k = 0; k < mid; k++) {
        const size_t i = k, j = n - 1 - k;
        const block low = i > 0 ? load(a->lower + 4 * i, scale) : nothing;
        const block up = load(a->upper + 4 * i, scale);
        if (!factor_block(a, scale, shift, i, low, up, product(low, m), lu)) {
            return HFI_BT_SINGULAR;
        }
        m = load(lu->upper + 4 * i, 1.0);
        if (j == mid) {
            break;
        }
        const block up_j = j + 1 < n ? load(a->upper + 4 * j, scale) : nothing;
        const block low_j = load(a->lower + 4 * j, scale);
        if (!factor_block(a, scale, shift, j, low_j, up_j, product(up_j, below), lu)) {
            return HFI_BT_SINGULAR;
        }
        below = load(lu->lower + 4 * j, 1.0);
    }
    const block low = mid > 0 ? load(a->lower + 4 * mid, scale) : nothing;
    const block up = mid + 1 < n ? load(a->upper + 4 * mid, scale) : nothing;
    const block taken = sum(product(low, m), product(up, below));
    return factor_block(a, scale, shift, mid, low, up, taken, lu) ? HFI_BT_OK : HFI_BT_SINGULAR;
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

typedef struct pair {
    double a, b;
} pair;

/* F x - G y */
static inline pair reduced(const double *f, pair x, const double *g, pair y)
{
    return (pair){(f[0] * x.a + f[1] * x.b) - (g[0] * y.a + g[1] * y.b),
                  (f[2] * x.a + f[3] * x.b) - (g[2] * y.a + g[3] * y.b)};
}

/* x - G y */
static inline pair without(pair x, const double *g, pair y)
{
    return (pair){x.a - (g[0] * y.a + g[1] * y.b), x.b - (g[2] * y.a + g[3] * y.b)};
}

static inline pair at(const double *x, size_t i)
{
    return (pair){x[2 * i], x[2 * i + 1]};
}

static inline void put(double *x, size_t i, pair value)
{
    x[2 * i] = value.a;
    x[2 * i + 1] = value.b;
}

static void solve_2(const hfi_bt *lu, double *x)
{
    const size_t n = lu->blocks, mid = n / 2, after = n - 1 - mid;
    const double *d = lu->diagonal, *l = lu->lower, *u = lu->upper;
    pair z = {0.0, 0.0}, y = {0.0, 0.0}; /* before and after the middle */
    for (size_t k = 0; k < after; k++) {
        const size_t i = k, j = n - 1 - k;
        z = reduced(d + 4 * i, at(x, i), l + 4 * i, z);
        y = reduced(d + 4 * j, at(x, j), u + 4 * j, y);
        put(x, i, z);
        put(x, j, y);
    }
    if (after < mid) { /* an even number of blocks: one more before */
        z = reduced(d + 4 * after, at(x, after), l + 4 * after, z);
        put(x, after, z);
    }
    z = without(reduced(d + 4 * mid, at(x, mid), l + 4 * mid, z), u + 4 * mid, y);
    y = z;
    put(x, mid, z);
    for (size_t k = 1; k <= after; k++) {
        const size_t i = mid - k, j = mid + k;
        z = without(at(x, i), u + 4 * i, z);
        y = without(at(x, j), l + 4 * j, y);
        put(x, i, z);
        put(x, j, y);
    }
    if (after < mid) {
        put(x, 0, without(at(x, 0), u, z));
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
