/*
 * The Weibull likelihood with survivors, its derivatives, and the way up.
 *
 *   z_i = shape (ln t_i - x_i . gamma),  e_i = exp(z_i),  lambda = ln shape,  d_i = 1 broken, 0 survivor
 *   l          = sum d_i (lambda + z_i - ln t_i) - sum e_i
 *   l_gamma    = shape sum (e_i - d_i) x_i                l_lambda = sum (d_i + (d_i - e_i) z_i)
 *   l_gg       = -shape^2 sum e_i x_i x_i'                l_ll     = sum ((d_i - e_i) z_i - e_i z_i^2)
 *   l_gl       = shape sum (e_i - d_i + e_i z_i) x_i
 *
 * Sources: weibull-life (law); derivatives by hand, checked by differences in the tests.
 */
#include "life.h"

#include "edge.h"

#include <math.h>
#include <string.h>

#include <gsl/gsl_cdf.h>

#define THETA HFI_LIFE_THETA

double hfi_life_likelihood(const hfi_lives *lives, const double *theta, double *gradient,
                           double *hessian)
{
    const size_t k = lives->k, m = k + 1;
    const double lambda = theta[k], shape = exp(lambda);
    double sum = 0;
    if (gradient)
        memset(gradient, 0, m * sizeof *gradient);
    if (hessian)
        memset(hessian, 0, m * m * sizeof *hessian);
    for (size_t i = 0; i < lives->n; i++) {
        const double *x = lives->x + i * k;
        double centre = 0;
        for (size_t a = 0; a < k; a++)
            centre += x[a] * theta[a];
        const double d = lives->observed[i] ? 1 : 0;
        const double z = shape * (lives->log_life[i] - centre), e = exp(z);
        sum += (d > 0 ? lambda + z - lives->log_life[i] : 0) - e;
        if (gradient) {
            for (size_t a = 0; a < k; a++)
                gradient[a] += shape * (e - d) * x[a];
            gradient[k] += d + (d - e) * z;
        }
        if (hessian) {
            for (size_t a = 0; a < k; a++) {
                for (size_t b = 0; b < k; b++)
                    hessian[a * m + b] -= shape * shape * e * x[a] * x[b];
                hessian[a * m + k] += shape * (e - d + e * z) * x[a];
                hessian[k * m + a] = hessian[a * m + k];
            }
            hessian[k * m + k] += (d - e) * z - e * z * z;
        }
    }
    return sum;
}

/* Lower triangle l l' = a of m free rows; 0 when a is not positive definite. */
static int cholesky(size_t m, const double a[THETA][THETA], double l[THETA][THETA])
{
    for (size_t i = 0; i < m; i++)
        for (size_t j = 0; j <= i; j++) {
            double sum = a[i][j];
            for (size_t c = 0; c < j; c++)
                sum -= l[i][c] * l[j][c];
            if (i == j) {
                if (!(sum > 1e-14 * fabs(a[i][i])))
                    return 0;
                l[i][i] = sqrt(sum);
            } else {
                l[i][j] = sum / l[j][j];
            }
        }
    return 1;
}

static void solve(size_t m, double l[THETA][THETA], const double *rhs, double *out)
{
    for (size_t i = 0; i < m; i++) {
        out[i] = rhs[i];
        for (size_t c = 0; c < i; c++)
            out[i] -= l[i][c] * out[c];
        out[i] /= l[i][i];
    }
    for (size_t i = m; i-- > 0;) {
        for (size_t c = i + 1; c < m; c++)
            out[i] -= l[c][i] * out[c];
        out[i] /= l[i][i];
    }
}

/* Minus the Hessian of the rows that move, with `damping` times its diagonal added. */
static size_t information(const hfi_lives *lives, unsigned held, const double *hessian,
                          double damping, double a[THETA][THETA], size_t *index)
{
    const size_t m = lives->k + 1;
    size_t count = 0;
    for (size_t j = 0; j < m; j++)
        if (!(held >> j & 1))
            index[count++] = j;
    for (size_t i = 0; i < count; i++)
        for (size_t j = 0; j < count; j++) {
            const double entry = -hessian[index[i] * m + index[j]];
            a[i][j] = i == j ? entry + damping * (fabs(entry) + 1e-300) : entry;
        }
    return count;
}

hf_status hfi_life_climb(const hfi_lives *lives, unsigned held, double *theta, size_t *iterations)
{
    double gradient[THETA], hessian[THETA * THETA];
    double now = hfi_life_likelihood(lives, theta, gradient, hessian);
    double damping = 0;
    for (int i = 0; i < 200 && isfinite(now); i++) {
        double a[THETA][THETA], l[THETA][THETA], rhs[THETA], step[THETA], to[THETA];
        size_t index[THETA];
        const size_t count = information(lives, held, hessian, damping, a, index);
        if (count == 0)
            return HF_OK;
        if (!cholesky(count, (const double(*)[THETA])a, l)) {
            damping = damping > 0 ? 10 * damping : 1e-3;
            if (damping > 1e12)
                return HF_ECONVERGE;
            continue;
        }
        double decrement = 0;
        for (size_t j = 0; j < count; j++)
            rhs[j] = gradient[index[j]];
        solve(count, l, rhs, step);
        memcpy(to, theta, (lives->k + 1) * sizeof *to);
        for (size_t j = 0; j < count; j++) {
            decrement += rhs[j] * step[j];
            to[index[j]] += step[j];
        }
        const double then = hfi_life_likelihood(lives, to, NULL, NULL);
        ++*iterations;
        const int tiny = decrement < 1e-13 * (1 + fabs(now));
        if (isfinite(then) && (then > now || tiny)) {
            /* Below what the likelihood can tell apart the last full step is still a good one. */
            memcpy(theta, to, (lives->k + 1) * sizeof *to);
            now = hfi_life_likelihood(lives, theta, gradient, hessian);
            damping = damping < 1e-6 ? 0 : damping / 10;
            if (tiny && damping == 0)
                return HF_OK;
        } else {
            if (tiny)
                return HF_OK;
            damping = damping > 0 ? 10 * damping : 1e-3;
            if (damping > 1e12)
                return HF_ECONVERGE;
        }
    }
    return HF_ECONVERGE;
}

hf_status hfi_life_covariance(const hfi_lives *lives, unsigned held, const double *theta,
                              double *covariance)
{
    const size_t m = lives->k + 1;
    double gradient[THETA], hessian[THETA * THETA], a[THETA][THETA], l[THETA][THETA];
    size_t index[THETA];
    hfi_life_likelihood(lives, theta, gradient, hessian);
    const size_t count = information(lives, held, hessian, 0, a, index);
    if (!cholesky(count, (const double(*)[THETA])a, l))
        return HF_ECONVERGE;
    for (size_t i = 0; i < m * m; i++)
        covariance[i] = (double)NAN;
    for (size_t j = 0; j < count; j++) {
        double unit[THETA] = {0}, column[THETA];
        unit[j] = 1;
        solve(count, l, unit, column);
        for (size_t i = 0; i < count; i++)
            covariance[index[i] * m + index[j]] = column[i];
    }
    return HF_OK;
}

typedef struct life_walk {
    const hfi_lives *lives;
    unsigned held;
    size_t j;
    double centre, step, top;
    double theta[THETA];
} life_walk;

static hf_status tau_at(void *context, double r, double *tau)
{
    life_walk *w = context;
    double theta[THETA];
    size_t iterations = 0;
    memcpy(theta, w->theta, sizeof theta);
    theta[w->j] = w->centre + r * w->step;
    *tau = HUGE_VAL;
    if (hfi_life_climb(w->lives, w->held | 1u << w->j, theta, &iterations) != HF_OK)
        return HF_OK;
    memcpy(w->theta, theta, sizeof theta);
    *tau = sqrt(fmax(2 * (w->top - hfi_life_likelihood(w->lives, theta, NULL, NULL)), 0));
    return HF_OK;
}

hf_status hfi_life_interval(const hfi_lives *lives, unsigned held, const double *theta, size_t j,
                            double error, double level, hf_interval *out)
{
    const double target = sqrt(gsl_cdf_chisq_Pinv(level, 1));
    const double top = hfi_life_likelihood(lives, theta, NULL, NULL);
    double limit[2];
    out->flags = 0;
    for (int side = 0; side < 2; side++) {
        life_walk w = {lives, held, j, theta[j], (side ? 1 : -1) * error * target, top, {0}};
        memcpy(w.theta, theta, (lives->k + 1) * sizeof *theta);
        double r = 0;
        hfi_edge edge;
        const hf_status status = hfi_find_edge(tau_at, &w, target, 1e-9, HUGE_VAL, 1e4, &r, &edge);
        if (status != HF_OK)
            return status;
        limit[side] = theta[j] + r * w.step;
        if (edge == HFI_EDGE_OPEN) {
            limit[side] = side ? HUGE_VAL : -HUGE_VAL;
            out->flags |= side ? HF_OPEN_HIGH : HF_OPEN_LOW;
        }
    }
    out->low = limit[0];
    out->high = limit[1];
    return HF_OK;
}
