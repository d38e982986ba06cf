/*
 * The least-squares problem as the solvers see it: minimise sum [sw_i (y_i - f(x_i, b))]^2 over the free b.
 * A problem is const while it is solved; scratch memory lives in hfi_work, one per thread.
 */
#ifndef HFI_PROBLEM_H
#define HFI_PROBLEM_H

#include <hairfibre/inference.h>

typedef struct hfi_problem {
    size_t n, columns;
    size_t p; /* parameters in all */
    size_t m; /* parameters of the model: m < p with groups */
    const double *x, *y;
    const double *sw; /* square roots of the weights; NULL: 1 */
    const size_t *group, *map;
    hf_fit_value value;
    hf_fit_values values;
    hf_fit_gradient gradient;
    void *user;
    const double *low, *high; /* infinite: none */
    const double *typical;    /* |start|: the size a parameter is expected to have; 0: not known */
    double noise;             /* relative error of the model's numbers, 0: rounding */
} hfi_problem;

/* Which parameters move: indices in ascending order. */
typedef struct hfi_active {
    size_t count;
    size_t index[HF_FIT_PARAMETERS_MAX];
} hfi_active;

/* How derivatives are taken, when the model brings none. */
typedef enum hfi_quality {
    HFI_FORWARD, /* error about 1e-8 */
    HFI_CENTRAL, /* about 1e-10 */
    HFI_FINE     /* central differences extrapolated to step zero, about 1e-13 */
} hfi_quality;

#define HFI_LEVELS 6 /* step sizes of the extrapolation */

typedef struct hfi_work {
    double *f;                            /* n: model at the present b */
    double *jacobian;                     /* n * count, row by row: df/db, not weighted */
    double *trial;                        /* n */
    double *plus, *minus, *best, *spread; /* n each, for differences */
    double *rows;                         /* 2 * HFI_LEVELS * n, only for differences */
    double *matrix;                       /* n * p: weighted, scaled copy that QR destroys */
    double *rhs, *tail;                   /* n each */
    /* change of b that changes f by all of its size; 0: not known */
    double natural[HF_FIT_PARAMETERS_MAX];
    size_t evaluations, n, p;
    hf_status fatal; /* status of a callback that ended the fit, HF_OK: none */
    double *block;
} hfi_work;

/* For `n` points of the problem (its own, or new ones). */
hf_status hfi_work_new(hfi_work *work, const hfi_problem *problem, size_t n);
void hfi_work_free(hfi_work *work);

/* Forgets the natural sizes: they belong to the neighbourhood they were found in. */
void hfi_work_forget(hfi_work *work);

/* Model over all points. HF_OK; HF_ERANGE: no answer at this b; else a fatal status, also kept in `work`. */
hf_status hfi_fitted(const hfi_problem *problem, hfi_work *work, const double *b, double *f);

/* The same at n rows that need not be those of the data. */
hf_status hfi_fitted_at(const hfi_problem *problem, size_t n, const double *x, const size_t *group,
                        const double *b, double *f);

/* sum [sw (y - f)]^2 */
double hfi_rss(const hfi_problem *problem, const double *f);

/* df/db of the active parameters at b into work->jacobian; f: the model there. Updates work->natural. */
hf_status hfi_jacobian(const hfi_problem *problem, hfi_work *work, const double *b,
                       const hfi_active *active, hfi_quality quality, const double *f);

/* One parameter, by differences into work->best; `span` its natural size. HF_ERANGE when no step has an
 * answer. */
hf_status hfi_difference(const hfi_problem *problem, hfi_work *work, const double *b, size_t j,
                         hfi_quality quality, const double *f, double span);

#endif
