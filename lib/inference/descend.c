/*
 * gsl_multifit_nlinear over the transformed variables. Residuals are divided by the length of the data, so
 * that GSL's own thresholds do not feel the unit of y. Where the model has no answer the residuals are made
 * enormous, so that the trust region shrinks back.
 */
#include "descend.h"

#include "guard.h"
#include "transform.h"

#include <math.h>
#include <string.h>

#include <gsl/gsl_errno.h>
#include <gsl/gsl_multifit_nlinear.h>

#define MAX       HF_FIT_PARAMETERS_MAX
#define NO_ANSWER 1e100
#define STEP_DONE 1e-5 /* relative step at which the last digits are left to the polishing */

typedef struct descent {
    const hfi_problem *problem;
    hfi_work *work;
    const hfi_active *active;
    hfi_quality quality;
    hfi_transform transform[MAX];
    double slope[MAX], b[MAX];
    double last[MAX]; /* where `trial` was computed last */
    int answered;     /* and whether it holds an answer */
    double size;
} descent;

static void place(descent *d, const gsl_vector *u)
{
    for (size_t k = 0; k < d->active->count; k++) {
        const size_t j = d->active->index[k];
        const double b = hfi_transform_back(&d->transform[k], gsl_vector_get(u, k), &d->slope[k]);
        d->b[j] = fmin(fmax(b, d->problem->low[j]), d->problem->high[j]);
    }
}

static int residuals(const gsl_vector *u, void *context, gsl_vector *out)
{
    descent *d = context;
    place(d, u);
    const hf_status status = hfi_fitted(d->problem, d->work, d->b, d->work->trial);
    memcpy(d->last, d->b, d->problem->p * sizeof *d->last);
    d->answered = status == HF_OK;
    if (status != HF_OK && status != HF_ERANGE)
        return GSL_EFAILED;
    for (size_t i = 0; i < d->problem->n; i++) {
        const double w = (d->problem->sw ? d->problem->sw[i] : 1) / d->size;
        const double r = status == HF_OK ? w * (d->work->trial[i] - d->problem->y[i]) : NO_ANSWER;
        gsl_vector_set(out, i, isfinite(r) && fabs(r) < NO_ANSWER ? r : NO_ANSWER);
    }
    return GSL_SUCCESS;
}

static int derivatives(const gsl_vector *u, void *context, gsl_matrix *out)
{
    descent *d = context;
    const size_t n = d->problem->n, count = d->active->count;
    place(d, u);
    hf_status status = HF_OK;
    /* Differences start from the value itself, which as a rule was just computed. */
    if (d->answered && memcmp(d->last, d->b, d->problem->p * sizeof *d->last) == 0)
        memcpy(d->work->f, d->work->trial, n * sizeof *d->work->f);
    else if (!d->problem->gradient)
        status = hfi_fitted(d->problem, d->work, d->b, d->work->f);
    if (status == HF_OK)
        status = hfi_jacobian(d->problem, d->work, d->b, d->active, d->quality, d->work->f);
    if (status != HF_OK)
        return GSL_EFAILED;
    for (size_t i = 0; i < n; i++) {
        const double w = (d->problem->sw ? d->problem->sw[i] : 1) / d->size;
        for (size_t k = 0; k < count; k++) {
            const double value = w * d->work->jacobian[i * count + k] * d->slope[k];
            if (!(fabs(value) < NO_ANSWER))
                return GSL_EFAILED;
            gsl_matrix_set(out, i, k, value);
        }
    }
    return GSL_SUCCESS;
}

static int small_step(const gsl_multifit_nlinear_workspace *w)
{
    for (size_t k = 0; k < w->dx->size; k++)
        if (!(fabs(gsl_vector_get(w->dx, k)) <=
              STEP_DONE * (fabs(gsl_vector_get(w->x, k)) + STEP_DONE)))
            return 0;
    return 1;
}

static gsl_multifit_nlinear_parameters settings(hfi_method method)
{
    gsl_multifit_nlinear_parameters p = gsl_multifit_nlinear_default_parameters();
    p.trs = method == HFI_ACCELERATED ? gsl_multifit_nlinear_trs_lmaccel
            : method == HFI_DOGLEG    ? gsl_multifit_nlinear_trs_ddogleg
                                      : gsl_multifit_nlinear_trs_lm;
    p.scale = method == HFI_LEVENBERG ? gsl_multifit_nlinear_scale_levenberg
                                      : gsl_multifit_nlinear_scale_more;
    p.solver = gsl_multifit_nlinear_solver_qr;
    return p;
}

hf_status hfi_descend(const hfi_problem *problem, hfi_work *work, const hfi_active *active,
                      hfi_method method, hfi_quality quality, size_t iterations, double *b,
                      size_t *used)
{
    const size_t n = problem->n, count = active->count;
    *used = 0;
    if (count == 0 || n < count)
        return HF_OK;
    hfi_guard_gsl();
    descent d = {.problem = problem, .work = work, .active = active, .quality = quality};
    memcpy(d.b, b, problem->p * sizeof *b);
    for (size_t i = 0; i < n; i++)
        d.size = hypot(d.size, problem->y[i] * (problem->sw ? problem->sw[i] : 1));
    if (!(d.size > 0))
        d.size = 1;
    double start[MAX];
    for (size_t k = 0; k < count; k++) {
        const size_t j = active->index[k];
        d.transform[k] = hfi_transform_at(b[j], problem->low[j], problem->high[j],
                                          problem->typical[j], &start[k]);
    }
    const gsl_multifit_nlinear_parameters parameters = settings(method);
    gsl_multifit_nlinear_workspace *w =
        gsl_multifit_nlinear_alloc(gsl_multifit_nlinear_trust, &parameters, n, count);
    if (!w)
        return HF_ENOMEM;
    gsl_multifit_nlinear_fdf system = {residuals, derivatives, NULL, n, count, &d, 0, 0, 0};
    const gsl_vector_const_view u = gsl_vector_const_view_array(start, count);
    int failed = gsl_multifit_nlinear_init(&u.vector, &system, w);
    if (!failed && gsl_vector_get(w->f, 0) >= NO_ANSWER)
        failed = GSL_EFAILED;
    hf_status status = failed ? HF_ERANGE : HF_OK;
    while (!failed && *used < iterations) {
        failed = gsl_multifit_nlinear_iterate(w);
        if (!failed && small_step(w))
            break;
        ++*used;
    }
    if (status == HF_OK) {
        place(&d, w->x);
        memcpy(b, d.b, problem->p * sizeof *b);
    }
    gsl_multifit_nlinear_free(w);
    return work->fatal != HF_OK ? work->fatal : status;
}
