/* Damped Gauss-Newton steps in the parameters themselves, to the last digits. */
#ifndef HFI_POLISH_H
#define HFI_POLISH_H

#include "problem.h"

typedef struct hfi_outcome {
    double rss;
    double offset;    /* relative offset */
    double condition; /* of the scaled Jacobian of the parameters that can move */
    int exact;        /* residuals are rounding */
    int reached;      /* what can still be removed is rounding, or the offset is below `enough` */
    int deaf;         /* some parameter has no effect */
    double enough;    /* offset that counts as reached: HFI_CONVERGED, more with a noisy model */
    int current;      /* work->f and work->jacobian are those of b */
    size_t iterations;
} hfi_outcome;

/* Moves b to a minimum within the bounds. `linear` (NULL: none): parameters in which the model is linear,
 * solved for anew at every step, which leads along narrow valleys. HF_OK when b has an answer, however far it came (see offset);
 * HF_ERANGE when it has none. */
hf_status hfi_polish(const hfi_problem *problem, hfi_work *work, const hfi_active *active,
                     const hfi_active *linear, hfi_quality quality, double tolerance,
                     size_t iterations, double *b, hfi_outcome *outcome);

/* A minimum worth the name: reached, and every free parameter determined. */
int hfi_outcome_good(const hfi_outcome *outcome);

#define HFI_CONVERGED 1e-6 /* relative offset */
#define HFI_SINGULAR  1e11 /* condition number */

#endif
