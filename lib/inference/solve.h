/* From one start, or from many, to a minimum. */
#ifndef HFI_SOLVE_H
#define HFI_SOLVE_H

#include "descend.h"
#include "polish.h"

/* Descends from b with up to `methods` methods (HFI_METHODS: all), one after another, until a good minimum is
 * reached; keeps the lowest point. HF_ERANGE: the model has no answer at the start; else HF_OK or a fatal
 * status. */
hf_status hfi_minimise(const hfi_problem *problem, hfi_work *work, const hfi_active *active,
                       int methods, size_t iterations, double *b, hfi_outcome *outcome);

/* The quick way of a search: with parameters in which the model is linear, steps in the others alone; without,
 * the first method. */
hf_status hfi_quick(const hfi_problem *problem, hfi_work *work, const hfi_active *active,
                    const hfi_active *linear, size_t iterations, double *b, hfi_outcome *outcome);

/* The active parameters in which the model is linear, all together, near b. */
hf_status hfi_find_linear(const hfi_problem *problem, hfi_work *work, const hfi_active *active,
                          const double *b, hfi_active *linear);

/* Re-fit from a point that is already close (profile, bootstrap): polishing first, all of it when that is
 * not enough. */
hf_status hfi_refit(const hfi_problem *problem, hfi_work *work, const hfi_active *active,
                    size_t iterations, double *b, hfi_outcome *outcome);

#endif
