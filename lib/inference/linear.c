/*
 * QR of the weighted Jacobian with its columns scaled to length 1, and steps from the triangle:
 *   plain   R d = Q'r        damped   minimise |R d - Q'r|^2 + damping |d|^2
 */
#include "linear.h"

#include <math.h>
#include <string.h>

#include <gsl/gsl_linalg.h>

#define MAX HF_FIT_PARAMETERS_MAX

/* Householder triangle of the n x k matrix a (row by row), applied to rhs as well. */
static void triangle(double *a, size_t n, size_t k, double *rhs)
{
    for (size_t c = 0; c < k && c < n; c++) {
        double sum = 0;
        for (size_t i = c + 1; i < n; i++)
            sum += a[i * k + c] * a[i * k + c];
        const double pivot = a[c * k + c];
        if (sum == 0)
            continue;
        const double length = sqrt(pivot * pivot + sum);
        const double head = pivot > 0 ? pivot + length : pivot - length;
        const double scale = 2 / (head * head + sum);
        for (size_t d = c + 1; d <= k; d++) {
            double dot = head * (d < k ? a[c * k + d] : rhs[c]);
            for (size_t i = c + 1; i < n; i++)
                dot += a[i * k + c] * (d < k ? a[i * k + d] : rhs[i]);
            dot *= scale;
            if (d < k)
                a[c * k + d] -= dot * head;
            else
                rhs[c] -= dot * head;
            for (size_t i = c + 1; i < n; i++) {
                if (d < k)
                    a[i * k + d] -= dot * a[i * k + c];
                else
                    rhs[i] -= dot * a[i * k + c];
            }
        }
        a[c * k + c] = pivot > 0 ? -length : length;
    }
}

hf_status hfi_factorise(const hfi_problem *problem, hfi_work *work, const double *f, size_t count,
                        const size_t *keep, size_t k, hfi_factor *factor)
{
    const size_t n = problem->n;
    double *a = work->matrix, *rhs = work->rhs;
    memset(factor, 0, sizeof *factor);
    factor->k = k;
    for (size_t i = 0; i < n; i++) {
        const double w = problem->sw ? problem->sw[i] : 1;
        rhs[i] = w * (problem->y[i] - f[i]);
        for (size_t c = 0; c < k; c++)
            a[i * k + c] = w * work->jacobian[i * count + keep[c]];
    }
    for (size_t c = 0; c < k; c++) {
        double largest = 0, sum = 0;
        for (size_t i = 0; i < n; i++)
            largest = fmax(largest, fabs(a[i * k + c]));
        if (!(largest > 0 && isfinite(largest)))
            return HF_EDATA;
        for (size_t i = 0; i < n; i++)
            sum += (a[i * k + c] / largest) * (a[i * k + c] / largest);
        factor->length[c] = largest * sqrt(sum);
        for (size_t i = 0; i < n; i++)
            a[i * k + c] /= factor->length[c];
    }
    triangle(a, n, k, rhs);
    for (size_t c = 0; c < k; c++) {
        for (size_t d = c; d < k; d++)
            factor->r[c * k + d] = c < n ? a[c * k + d] : 0;
        factor->q[c] = c < n ? rhs[c] : 0;
    }
    for (size_t i = k; i < n; i++)
        factor->rest += rhs[i] * rhs[i];
    return HF_OK;
}

hf_status hfi_step(const hfi_factor *factor, double damping, double *step)
{
    const size_t k = factor->k;
    double a[2 * MAX * MAX], rhs[2 * MAX];
    memset(a, 0, sizeof a);
    memset(rhs, 0, sizeof rhs);
    memcpy(a, factor->r, k * k * sizeof *a);
    memcpy(rhs, factor->q, k * sizeof *rhs);
    if (damping > 0) {
        for (size_t c = 0; c < k; c++)
            a[(k + c) * k + c] = sqrt(damping);
        triangle(a, 2 * k, k, rhs);
    }
    for (size_t c = k; c-- > 0;) {
        double sum = rhs[c];
        for (size_t d = c + 1; d < k; d++)
            sum -= a[c * k + d] * step[d];
        if (!(fabs(a[c * k + c]) > 1e-15))
            return HF_EDATA;
        step[c] = sum / a[c * k + c];
    }
    for (size_t c = 0; c < k; c++) {
        step[c] /= factor->length[c];
        if (!isfinite(step[c]))
            return HF_EDATA;
    }
    return HF_OK;
}

hf_status hfi_solve_linear(const hfi_problem *problem, hfi_work *work, const hfi_active *linear,
                           double *b)
{
    const size_t n = problem->n, k = linear->count;
    double at[MAX], size[MAX] = {0}, length[MAX] = {0};
    double *zero = work->minus, *a = work->matrix, *rhs = work->rhs;
    memcpy(at, b, problem->p * sizeof *b);
    for (size_t c = 0; c < k; c++) {
        const size_t j = linear->index[c];
        at[j] = fmin(fmax(0, problem->low[j]), problem->high[j]);
        size[c] = problem->typical[j] > 0 ? problem->typical[j] : 1;
        if (at[j] + size[c] > problem->high[j])
            size[c] = -size[c];
    }
    hf_status status = hfi_fitted(problem, work, at, zero);
    for (size_t c = 0; c < k && status == HF_OK; c++) {
        const size_t j = linear->index[c];
        const double kept = at[j];
        at[j] = kept + size[c];
        status = hfi_fitted(problem, work, at, work->plus);
        at[j] = kept;
        length[c] = 0;
        for (size_t i = 0; i < n && status == HF_OK; i++) {
            const double w = problem->sw ? problem->sw[i] : 1;
            a[i * k + c] = w * (work->plus[i] - zero[i]);
            length[c] += a[i * k + c] * a[i * k + c];
            rhs[i] = w * (problem->y[i] - zero[i]);
        }
        length[c] = sqrt(length[c]);
        if (status == HF_OK && !(length[c] > 0 && isfinite(length[c])))
            status = HF_ERANGE;
        for (size_t i = 0; i < n && status == HF_OK; i++)
            a[i * k + c] /= length[c];
    }
    if (status != HF_OK)
        return status;
    triangle(a, n, k, rhs);
    double step[MAX];
    for (size_t c = k; c-- > 0;) {
        const size_t j = linear->index[c];
        double sum = c < n ? rhs[c] : 0;
        for (size_t d = c + 1; d < k; d++)
            sum -= a[c * k + d] * step[d];
        if (c >= n || !(fabs(a[c * k + c]) > 1e-12))
            return HF_ERANGE;
        step[c] = sum / a[c * k + c];
        at[j] =
            fmin(fmax(at[j] + step[c] / length[c] * size[c], problem->low[j]), problem->high[j]);
        if (!isfinite(at[j]))
            return HF_ERANGE;
    }
    status = hfi_fitted(problem, work, at, work->trial);
    if (status == HF_OK)
        memcpy(b, at, problem->p * sizeof *b);
    return status;
}

hf_status hfi_singular(const hfi_factor *factor, double *values, double *v)
{
    const size_t k = factor->k;
    double a[MAX * MAX];
    memcpy(a, factor->r, k * k * sizeof *a);
    gsl_matrix_view left = gsl_matrix_view_array(a, k, k), right = gsl_matrix_view_array(v, k, k);
    gsl_vector_view s = gsl_vector_view_array(values, k);
    return gsl_linalg_SV_decomp_jacobi(&left.matrix, &right.matrix, &s.vector) == 0 ? HF_OK
                                                                                    : HF_ECONVERGE;
}
