/* One trial step of RODAS4P: derivatives, stages, error norm. Formulas: rosenbrock_tableau.h; block
 * structure with quadratures and rank-one coupling: rosenbrock.h. */
#include "rosenbrock_internal.h"

#include <math.h>
#include <string.h>

#define TABLEAU hfi_rodas4p

/* A balance of rates off by less than this share of their size is rounding. */
#define BALANCE_NOISE 1e-11

/* stage = base + sum_j a[j] k[j] and sum = sum_j c[j] k[j] in one pass. Written out per count: this is an
 * inner loop. */
static void combine(size_t n, const double *restrict base, size_t count, const double *a,
                    const double *c, double *const *k, double *restrict stage, double *restrict sum)
{
    const double *restrict k0 = k[0], *restrict k1 = k[1], *restrict k2 = k[2], *restrict k3 = k[3];
    const double a0 = a[0], a1 = a[1], a2 = a[2], a3 = a[3];
    const double c0 = c[0], c1 = c[1], c2 = c[2], c3 = c[3];
    switch (count) {
    case 1:
        for (size_t i = 0; i < n; i++) {
            stage[i] = base[i] + a0 * k0[i];
            sum[i] = c0 * k0[i];
        }
        break;
    case 2:
        for (size_t i = 0; i < n; i++) {
            stage[i] = base[i] + (a0 * k0[i] + a1 * k1[i]);
            sum[i] = c0 * k0[i] + c1 * k1[i];
        }
        break;
    case 3:
        for (size_t i = 0; i < n; i++) {
            stage[i] = base[i] + (a0 * k0[i] + a1 * k1[i] + a2 * k2[i]);
            sum[i] = c0 * k0[i] + c1 * k1[i] + c2 * k2[i];
        }
        break;
    default:
        for (size_t i = 0; i < n; i++) {
            stage[i] = base[i] + ((a0 * k0[i] + a1 * k1[i]) + (a2 * k2[i] + a3 * k3[i]));
            sum[i] = (c0 * k0[i] + c1 * k1[i]) + (c2 * k2[i] + c3 * k3[i]);
        }
        break;
    }
}

/* The same for the last stage, which goes on from the one before: a_6j = a_5j, a_65 = 1. */
static void combine_last(size_t n, const double *c, double *const *k, double *restrict stage,
                         double *restrict sum)
{
    const double *restrict k0 = k[0], *restrict k1 = k[1], *restrict k2 = k[2], *restrict k3 = k[3],
                           *restrict k4 = k[4];
    const double c0 = c[0], c1 = c[1], c2 = c[2], c3 = c[3], c4 = c[4];
    for (size_t i = 0; i < n; i++) {
        stage[i] += k4[i];
        sum[i] = (c0 * k0[i] + c1 * k1[i]) + (c2 * k2[i] + c3 * k3[i]) + c4 * k4[i];
    }
}

static void add_scaled(size_t n, double c, const double *restrict k, double *restrict out)
{
    for (size_t i = 0; i < n; i++) {
        out[i] += c * k[i];
    }
}

static double dot(size_t n, const double *a, const double *b)
{
    double sum = 0.0;
    for (size_t i = 0; i < n; i++) {
        sum += a[i] * b[i];
    }
    return sum;
}

static int call_rates(hfi_ode *o, double t, const double *state, double *out)
{
    const hfi_ode_problem *p = &o->problem;
    o->statistics.rates++;
    return p->rates(t, state, state + o->ny, out, p->quadratures > 0 ? out + o->ny : NULL, p->user);
}

int hfi_ode_prepare(hfi_ode *o)
{
    const hfi_ode_problem *p = &o->problem;
    const double t = o->t;
    const double *y = o->y, *q = o->y + o->ny;
    o->dense_ready = false; /* the stages of the step before serve as scratch from here on */
    if (call_rates(o, t, o->y, o->rate) != 0) {
        return HFI_ODE_CAUSE_REFUSED;
    }
    hfi_bt_zero(&o->jacobian);
    int refused;
    if (p->jacobian != NULL) {
        refused = p->jacobian(t, y, q, &o->jacobian, p->user);
    } else {
        o->statistics.differences += 3 * p->block_size;
        refused = hfi_ode_difference_jacobian(p, t, y, q, o->rate, o->scale, o->k[0], &o->jacobian);
    }
    o->statistics.jacobians++;
    if (refused == 0 && p->coupling != NULL) {
        refused = p->coupling(t, y, q, o->u, o->v, p->user);
    }
    if (refused == 0 && p->time_derivative != NULL) {
        memset(o->rate_t, 0, o->n * sizeof(double));
        refused = p->time_derivative(t, y, q, o->rate_t, o->rate_t + o->ny, p->user);
        o->moving = false;
        for (size_t i = 0; i < o->n && !o->moving; i++) {
            o->moving = o->rate_t[i] != 0.0;
        }
    }
    if (refused == 0 && p->quadrature_own != NULL) {
        refused = p->quadrature_own(t, y, q, o->own, p->user);
    }
    if (refused != 0) {
        return HFI_ODE_CAUSE_REFUSED;
    }
    o->prepared = true;
    return HFI_ODE_CAUSE_NONE;
}

static double start_norm(const hfi_ode *o, const double *x)
{
    double sum = 0.0, weights = 0.0;
    for (size_t i = 0; i < o->ny; i++) {
        const double e = x[i] / (o->atol[i] + o->rtol[i] * fabs(o->y[i]));
        sum += o->weight[i] * (e * e);
        weights += o->weight[i];
    }
    return weights > 0.0 ? sqrt(sum / weights) : 0.0;
}

/* tau = |f|/|J f + f_t| is the time in which the rates change; |f| tau tolerances are passed in it.
 * The error of a step goes with its fourth power. */
double hfi_ode_first_step(hfi_ode *o)
{
    const double first = start_norm(o, o->rate);
    double *second = o->stage;
    hfi_bt_multiply(&o->jacobian, o->rate, second);
    if (o->problem.coupling != NULL) {
        add_scaled(o->ny, dot(o->ny, o->v, o->rate), o->u, second);
    }
    if (o->problem.time_derivative != NULL) {
        add_scaled(o->ny, 1.0, o->rate_t, second);
    }
    const double change = start_norm(o, second);
    if (change == 0.0) {
        return HUGE_VAL;
    }
    if (first == 0.0) {
        return 1.0 / sqrt(change);
    }
    const double tau = first / change;
    const double tolerances = first * tau;
    return tolerances > 1.0 ? tau * pow(tolerances, -0.25) : tau;
}

static int factor(hfi_ode *o, double diagonal)
{
    o->statistics.factors++;
    if (hfi_bt_factor(&o->jacobian, -1.0, diagonal, &o->factors) != HFI_BT_OK) {
        return HFI_ODE_CAUSE_SINGULAR;
    }
    if (o->problem.coupling != NULL) {
        memcpy(o->w, o->u, o->ny * sizeof(double));
        hfi_bt_solve(&o->factors, o->w);
        o->statistics.solves++;
        const double taken = dot(o->ny, o->v, o->w);
        o->coupling_pivot = 1.0 - taken;
        if (!(fabs(o->coupling_pivot) > 1e-12 * (1.0 + fabs(taken)))) {
            return HFI_ODE_CAUSE_SINGULAR;
        }
    }
    return HFI_ODE_CAUSE_NONE;
}

/* k holds the right-hand side of the stage on entry, the stage on return. */
static int solve_stage(hfi_ode *o, double diagonal, bool first, double *k)
{
    const hfi_ode_problem *p = &o->problem;
    double *before = o->closed, *after = before + p->quadratures, *size = after + p->quadratures;
    /* That the rates balance is looked at where a step begins; the other stages take it from there. */
    if (first && p->balanced > 0) {
        p->quadrature_balance(k, before, size, p->user);
        for (size_t i = 0; i < p->balanced; i++) {
            before[i] += k[o->ny + i];
            if (fabs(before[i]) <= BALANCE_NOISE * size[i]) {
                before[i] = 0.0;
            }
        }
    }
    hfi_bt_solve(&o->factors, k);
    o->statistics.solves++;
    if (p->coupling != NULL) {
        add_scaled(o->ny, dot(o->ny, o->v, k) / o->coupling_pivot, o->w, k);
    }
    if (p->quadratures == 0) {
        return HFI_ODE_CAUSE_NONE;
    }
    int refused;
    if (p->quadrature_gradient != NULL) {
        refused = p->quadrature_gradient(o->t, o->y, o->y + o->ny, k, o->gradient, p->user);
    } else {
        o->statistics.differences++;
        refused = hfi_ode_difference_gradient(p, o->t, o->y, o->y + o->ny, o->rate + o->ny, k,
                                              o->scale, o->to, o->gradient);
    }
    if (refused != 0) {
        return HFI_ODE_CAUSE_REFUSED;
    }
    double *kq = k + o->ny;
    if (p->quadrature_own == NULL) {
        const double inverse = 1.0 / diagonal;
        if (p->balanced > 0) {
            p->quadrature_balance(k, after, NULL, p->user);
        }
        for (size_t i = 0; i < p->balanced; i++) {
            kq[i] = before[i] * inverse - after[i];
        }
        for (size_t i = p->balanced; i < p->quadratures; i++) {
            kq[i] = (kq[i] + o->gradient[i]) * inverse;
        }
    } else {
        for (size_t i = 0; i < p->quadratures; i++) {
            kq[i] = (kq[i] + o->gradient[i]) / (diagonal - o->own[i]);
        }
    }
    return HFI_ODE_CAUSE_NONE;
}

static double larger_size(double a, double b)
{
    a = fabs(a);
    b = fabs(b);
    return a > b ? a : b; /* a NaN in b comes through; one in a shows in the error itself */
}

static double scaled_error(const hfi_ode *o, size_t i)
{
    return o->k[HFI_RODAS_STAGES - 1][i] /
           (o->atol[i] + o->rtol[i] * larger_size(o->y[i], o->to[i]));
}

static double error_norm(hfi_ode *o)
{
    if (o->y_weight == 0.0) {
        for (size_t i = 0; i < o->ny; i++) {
            o->y_weight += o->weight[i];
        }
    }
    /* Two sums, so that one addition need not wait for the other. */
    double even = 0.0, odd = 0.0;
    size_t place = 0;
    for (; place + 1 < o->ny; place += 2) {
        const double e = scaled_error(o, place), f = scaled_error(o, place + 1);
        even += o->weight[place] * (e * e);
        odd += o->weight[place + 1] * (f * f);
    }
    if (place < o->ny) {
        const double e = scaled_error(o, place);
        even += o->weight[place] * (e * e);
    }
    const double sum = even + odd;
    double norm = o->y_weight > 0.0 ? sqrt(sum / o->y_weight) : sum; /* keeps a NaN */
    for (size_t i = o->ny; i < o->n; i++) {
        const double e = o->weight[i] * fabs(scaled_error(o, i));
        if (!(e <= norm)) {
            norm = e;
            if (isnan(e)) {
                break;
            }
        }
    }
    return norm;
}

int hfi_ode_try_step(hfi_ode *o, double h, double *error)
{
    const hfi_rodas_tableau *tab = &TABLEAU;
    const double diagonal = 1.0 / (h * tab->gamma);
    const double inverse_h = 1.0 / h;
    int cause = factor(o, diagonal);
    if (cause != HFI_ODE_CAUSE_NONE) {
        return cause;
    }
    for (size_t s = 0; s < HFI_RODAS_STAGES; s++) {
        double *k = o->k[s];
        if (s == 0) {
            memcpy(k, o->rate, o->n * sizeof(double));
        } else {
            double c[HFI_RODAS_STAGES - 1];
            for (size_t j = 0; j < HFI_RODAS_STAGES - 1; j++) {
                c[j] = tab->c_matrix[s][j] * inverse_h;
            }
            if (s == HFI_RODAS_STAGES - 1) {
                combine_last(o->n, c, o->k, o->stage, o->sum);
            } else {
                combine(o->n, o->y, s, tab->a[s], c, o->k, o->stage, o->sum);
            }
            if (call_rates(o, o->t + tab->c[s] * h, o->stage, k) != 0) {
                return HFI_ODE_CAUSE_REFUSED;
            }
            add_scaled(o->n, 1.0, o->sum, k);
        }
        if (o->moving && tab->d[s] != 0.0) {
            add_scaled(o->n, h * tab->d[s], o->rate_t, k);
        }
        cause = solve_stage(o, diagonal, s == 0, k);
        if (cause != HFI_ODE_CAUSE_NONE) {
            return cause;
        }
    }
    const double *last = o->k[HFI_RODAS_STAGES - 1];
    for (size_t i = 0; i < o->n; i++) {
        o->to[i] = o->stage[i] + last[i];
    }
    *error = error_norm(o);
    return isfinite(*error) ? HFI_ODE_CAUSE_NONE : HFI_ODE_CAUSE_NOT_FINITE;
}

void hfi_ode_locate_error(hfi_ode *o)
{
    o->failure.located = true;
    o->failure.component = 0;
    o->failure.error = 0.0;
    for (size_t i = 0; i < o->n; i++) {
        const double e = o->weight[i] * fabs(scaled_error(o, i));
        if (!(e <= o->failure.error)) {
            o->failure.component = i;
            o->failure.error = e;
            if (!isfinite(e)) {
                return;
            }
        }
    }
}
