/*
 * Holm's correction of n P values, sorted from the smallest: the k-th becomes
 * max over j <= k of min(1, (n - j + 1) p_j).
 */
#include "numeric.h"

#include <stdlib.h>

typedef struct place {
    double p;
    size_t from;
} place;

static int by_p(const void *a, const void *b)
{
    const double x = ((const place *)a)->p, y = ((const place *)b)->p;
    return (x > y) - (x < y);
}

hf_status hf_holm_e(size_t n, const double *p, double *adjusted)
{
    if (n == 0)
        return HF_OK;
    if (!p || !adjusted)
        return HF_EINVAL;
    for (size_t i = 0; i < n; i++) {
        const hf_status status = hfi_fraction(p[i]);
        if (status != HF_OK)
            return status;
    }
    place *sorted = malloc(n * sizeof *sorted);
    if (!sorted)
        return HF_ENOMEM;
    for (size_t i = 0; i < n; i++)
        sorted[i] = (place){p[i], i};
    qsort(sorted, n, sizeof *sorted, by_p);
    double largest = 0;
    for (size_t i = 0; i < n; i++) {
        largest = fmax(largest, fmin(1, (double)(n - i) * sorted[i].p));
        adjusted[sorted[i].from] = largest;
    }
    free(sorted);
    return HF_OK;
}
