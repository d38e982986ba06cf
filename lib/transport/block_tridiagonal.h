/* Block tridiagonal systems with 1x1 or 2x2 blocks: factor once, solve often, O(number of blocks).
 *
 *   lower[i] x[i-1] + diagonal[i] x[i] + upper[i] x[i+1] = b[i],   i = 0 .. blocks-1
 *
 * Entry (r, c) of block i lies at [size*size*i + size*r + c]; unknown r of block i at [size*i + r].
 * lower[0] and upper[blocks-1] are never read. All three parts lie in one piece of memory which the
 * caller owns, so an object can hold a matrix inside its own single allocation.
 *
 * Method: block LU without exchanging block rows; every 2x2 pivot is inverted in closed form, which
 * does not depend on how the two fields are scaled. This is sound for matrices dominated by their
 * diagonal blocks, such as I/(h gamma) - J of a diffusion problem. A pivot that is zero, lost in
 * rounding, or not finite is reported as HFI_BT_SINGULAR.
 */
#ifndef HFI_TRANSPORT_BLOCK_TRIDIAGONAL_H
#define HFI_TRANSPORT_BLOCK_TRIDIAGONAL_H

#include "lanes.h"

#include <stddef.h>

enum hfi_bt_status { HFI_BT_OK = 0, HFI_BT_SINGULAR, HFI_BT_BAD_ARGUMENT };

#define HFI_BT_MAX_BLOCKS ((size_t)1000000)

typedef struct hfi_bt {
    size_t blocks;
    size_t size; /* 1 or 2 */
    double *lower;
    double *diagonal;
    double *upper;
} hfi_bt;

/* Number of doubles a matrix (or its factors) needs. */
size_t hfi_bt_doubles(size_t blocks, size_t size);

/* Lays a matrix over storage of hfi_bt_doubles() doubles. HFI_BT_OK or HFI_BT_BAD_ARGUMENT. */
int hfi_bt_map(hfi_bt *a, size_t blocks, size_t size, double *storage);

/* Sets every entry to zero. */
void hfi_bt_zero(hfi_bt *a);

/* out = A x; out must not overlap x. */
void hfi_bt_multiply(const hfi_bt *a, const double *x, double *out);

/* Factors shift I + scale A into lu (same shape; lu may be a itself). The factors are kept as
 * diagonal = inverse pivots, lower = pivot^-1 lower, upper = pivot^-1 upper.
 * HFI_BT_OK, HFI_BT_SINGULAR (lu unusable) or HFI_BT_BAD_ARGUMENT. */
int hfi_bt_factor(const hfi_bt *a, double scale, double shift, hfi_bt *lu);

/* Solves in place: x holds the right-hand side on entry, the solution on return. */
void hfi_bt_solve(const hfi_bt *lu, double *x);

#endif
