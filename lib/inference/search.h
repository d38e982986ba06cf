/* Many starts, and the different minima they lead to. */
#ifndef HFI_SEARCH_H
#define HFI_SEARCH_H

#include "solve.h"

#define HFI_MINIMA 8 /* kept, best first */

typedef struct hfi_minimum {
    double values[HF_FIT_PARAMETERS_MAX], from[HF_FIT_PARAMETERS_MAX];
    hfi_outcome outcome;
    size_t hits, start; /* starts that ended here; the first of them */
    size_t others;      /* of them with other parameters and the same curve */
    double far; /* how unlike the given start: decides between parameters of the same curve */
} hfi_minimum;

typedef struct hfi_search {
    hfi_minimum minima[HFI_MINIMA];
    size_t kept;
    size_t found; /* different minima met, also those no longer kept */
    size_t starts, answered, iterations;
    double *curves; /* HFI_MINIMA * n: the model at each kept minimum */
} hfi_search;

/* Searches from `start`: that start alone, then (starts 0, only if that was not good; or starts > 1) the
 * sequence of `seed`. HF_OK, also when the model answered nowhere (kept 0), or a fatal status. */
hf_status hfi_search_run(hfi_search *search, const hfi_problem *problem, hfi_work *work,
                         const hfi_active *active, const double *start, size_t starts,
                         unsigned long seed, size_t iterations);

/* Point k of the quasi-random sequence: `unit` holds a number 0..1 per active parameter. */
void hfi_spread(const hfi_problem *problem, const hfi_active *active, const double *start,
                const double *unit, size_t k, double *b);

#endif
