/*
 * Straight-line algebra for start values: normal equations with at most three unknowns, columns scaled to the
 * same size. Good to a few digits, which is all a start needs.
 */
#include "models.h"

#include <math.h>
#include <string.h>

#define MAX 3

static int eliminate(size_t k, double a[MAX][MAX + 1], double *out)
{
    for (size_t c = 0; c < k; c++) {
        size_t pivot = c;
        for (size_t r = c + 1; r < k; r++)
            if (fabs(a[r][c]) > fabs(a[pivot][c]))
                pivot = r;
        if (!(fabs(a[pivot][c]) > 1e-13))
            return 0;
        double swap[MAX + 1];
        memcpy(swap, a[c], sizeof swap);
        memcpy(a[c], a[pivot], sizeof swap);
        memcpy(a[pivot], swap, sizeof swap);
        for (size_t r = c + 1; r < k; r++) {
            const double share = a[r][c] / a[c][c];
            for (size_t d = c; d <= k; d++)
                a[r][d] -= share * a[c][d];
        }
    }
    for (size_t c = k; c-- > 0;) {
        out[c] = a[c][k];
        for (size_t d = c + 1; d < k; d++)
            out[c] -= a[c][d] * out[d];
        out[c] /= a[c][c];
    }
    return 1;
}

int hfi_guess_linear(size_t n, size_t k, const double *columns, const double *y, double *out,
                     double *rss)
{
    double a[MAX][MAX + 1] = {{0}}, size[MAX] = {0};
    for (size_t i = 0; i < n; i++)
        for (size_t c = 0; c < k; c++)
            size[c] += columns[i * k + c] * columns[i * k + c];
    for (size_t c = 0; c < k; c++) {
        size[c] = sqrt(size[c]);
        if (!(size[c] > 0 && isfinite(size[c])))
            return 0;
    }
    for (size_t i = 0; i < n; i++)
        for (size_t c = 0; c < k; c++) {
            const double left = columns[i * k + c] / size[c];
            for (size_t d = 0; d < k; d++)
                a[c][d] += left * columns[i * k + d] / size[d];
            a[c][k] += left * y[i];
        }
    if (!eliminate(k, a, out))
        return 0;
    for (size_t c = 0; c < k; c++) {
        out[c] /= size[c];
        if (!isfinite(out[c]))
            return 0;
    }
    double sum = 0;
    for (size_t i = 0; i < n; i++) {
        double r = y[i];
        for (size_t c = 0; c < k; c++)
            r -= columns[i * k + c] * out[c];
        sum += r * r;
    }
    if (rss)
        *rss = sum;
    return 1;
}
