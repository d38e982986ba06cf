/* Small dense least squares: n rows, k columns scaled to length 1, by Householder QR. */
#ifndef HFI_LINEAR_H
#define HFI_LINEAR_H

#include "problem.h"

typedef struct hfi_factor {
    size_t k;
    double length[HF_FIT_PARAMETERS_MAX];                    /* of the columns, weighted */
    double r[HF_FIT_PARAMETERS_MAX * HF_FIT_PARAMETERS_MAX]; /* upper triangle, row by row */
    double q[HF_FIT_PARAMETERS_MAX];                         /* first k entries of Q' residuals */
    double rest;                                             /* squared length of the others */
} hfi_factor;

/* Factors the weighted Jacobian of work->jacobian (its columns `keep` of `count`) against the weighted
 * residuals y - f. A column of length 0 makes it fail with HF_EDATA. */
hf_status hfi_factorise(const hfi_problem *problem, hfi_work *work, const double *f, size_t count,
                        const size_t *keep, size_t k, hfi_factor *factor);

/* Step that solves the damped system (damping 0: plain), in the parameters' own scale. HF_EDATA: singular. */
hf_status hfi_step(const hfi_factor *factor, double damping, double *step);

/* Solves for the parameters `linear`, in which the model is linear, by one least-squares step from zero; the
 * others stay. b and work->trial end there. HF_ERANGE: no answer, or not solvable (b is then untouched). */
hf_status hfi_solve_linear(const hfi_problem *problem, hfi_work *work, const hfi_active *linear,
                           double *b);

/* Singular values of R, largest first, and right vectors by columns (v[i * k + j]: entry i of vector j). */
hf_status hfi_singular(const hfi_factor *factor, double *values, double *v);

#endif
