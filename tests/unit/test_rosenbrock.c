/* Orders of the integrator observed on exact solutions by halving the step: 4 for states,
 * quadratures and dense output, kept on a parabolic problem with changing boundary values
 * (steinebach1995). */
#include "check.h"

#include "transport/rosenbrock.h"

#include <string.h>

/* ---- smooth, with everything ---------------------------------------------------------------
 * Six values in three blocks of two, with the exact solution
 *   e_i(t) = 1 + sin(t + i)/2,   f_i = e_i' + sum over neighbours of w (y_j^2 - e_j^2)
 * and quadratures with q_0' = cos(t) y_0^2 (known integral below), q_1' = f_5 and
 * q_2' = e_2' + (y_3^2 - e_3^2) - 3 (q_2 - e_2). The coupled variant adds (sum y)^2 - (sum e)^2. */
#define NY 6

typedef struct smooth {
    double coupled;
} smooth;

static double exact(size_t i, double t)
{
    return 1.0 + 0.5 * sin(t + (double)i);
}

static double weight_of(size_t i, size_t j)
{
    if (i / 2 > j / 2 + 1 || j / 2 > i / 2 + 1)
        return 0.0;
    return i == j ? -0.8 : 0.1 + 0.05 * (double)((i * 3 + j) % 4);
}

static double integrand_0(double t)
{
    return cos(t) * exact(0, t) * exact(0, t);
}

/* Integral of cos t (1 + sin(t)/2)^2 from 0: with s = sin t, s + s^2/2 + s^3/12. */
static double integral_0(double t)
{
    const double s = sin(t);
    return s + 0.5 * s * s + s * s * s / 12.0;
}

static int smooth_rates(double t, const double *y, const double *q, double *dydt, double *dqdt,
                        void *user)
{
    const smooth *p = user;
    double f[NY], sum = 0.0, exact_sum = 0.0;
    for (size_t i = 0; i < NY; i++) {
        sum += y[i];
        exact_sum += exact(i, t);
    }
    for (size_t i = 0; i < NY; i++) {
        f[i] = 0.5 * cos(t + (double)i);
        for (size_t j = 0; j < NY; j++)
            f[i] += weight_of(i, j) * (y[j] * y[j] - exact(j, t) * exact(j, t));
        f[i] -= p->coupled * (double)(i + 1) * (sum * sum - exact_sum * exact_sum);
    }
    if (dydt != NULL)
        memcpy(dydt, f, sizeof f);
    if (dqdt != NULL) {
        dqdt[0] = cos(t) * y[0] * y[0];
        dqdt[1] = f[5];
        dqdt[2] = 0.5 * cos(t + 2.0) + (y[3] * y[3] - exact(3, t) * exact(3, t)) -
                  3.0 * (q[2] - exact(2, t));
    }
    return 0;
}

static int smooth_jacobian(double t, const double *y, const double *q, hfi_bt *jacobian, void *user)
{
    (void)t;
    (void)q;
    (void)user;
    for (size_t i = 0; i < NY; i++) {
        for (size_t j = 0; j < NY; j++) {
            const size_t block = i / 2, e = 4 * block + 2 * (i % 2) + j % 2;
            const double d = 2.0 * weight_of(i, j) * y[j];
            if (j / 2 == block)
                jacobian->diagonal[e] = d;
            else if (j / 2 + 1 == block)
                jacobian->lower[e] = d;
            else if (j / 2 == block + 1)
                jacobian->upper[e] = d;
        }
    }
    return 0;
}

static int smooth_coupling(double t, const double *y, const double *q, double *u, double *v,
                           void *user)
{
    const smooth *p = user;
    (void)t;
    (void)q;
    double sum = 0.0;
    for (size_t i = 0; i < NY; i++)
        sum += y[i];
    for (size_t i = 0; i < NY; i++) {
        u[i] = -p->coupled * (double)(i + 1) * 2.0 * sum;
        v[i] = 1.0;
    }
    return 0;
}

static double exact_slope(size_t i, double t)
{
    return 0.5 * cos(t + (double)i);
}

static int smooth_time_derivative(double t, const double *y, const double *q, double *dydt_t,
                                  double *dqdt_t, void *user)
{
    const smooth *p = user;
    (void)q;
    double exact_sum = 0.0, slope_sum = 0.0;
    for (size_t i = 0; i < NY; i++) {
        exact_sum += exact(i, t);
        slope_sum += exact_slope(i, t);
    }
    for (size_t i = 0; i < NY; i++) {
        double d = -0.5 * sin(t + (double)i);
        for (size_t j = 0; j < NY; j++)
            d -= weight_of(i, j) * 2.0 * exact(j, t) * exact_slope(j, t);
        dydt_t[i] = d + p->coupled * (double)(i + 1) * 2.0 * exact_sum * slope_sum;
    }
    dqdt_t[0] = -sin(t) * y[0] * y[0];
    dqdt_t[1] = dydt_t[5];
    dqdt_t[2] =
        -0.5 * sin(t + 2.0) - 2.0 * exact(3, t) * exact_slope(3, t) + 3.0 * exact_slope(2, t);
    return 0;
}

static int smooth_gradient(double t, const double *y, const double *q, const double *v, double *out,
                           void *user)
{
    const smooth *p = user;
    (void)q;
    double sum = 0.0, v_sum = 0.0;
    for (size_t j = 0; j < NY; j++) {
        sum += y[j];
        v_sum += v[j];
    }
    out[0] = 2.0 * cos(t) * y[0] * v[0];
    out[1] = -p->coupled * 6.0 * 2.0 * sum * v_sum;
    for (size_t j = 0; j < NY; j++)
        out[1] += 2.0 * weight_of(5, j) * y[j] * v[j];
    out[2] = 2.0 * y[3] * v[3];
    return 0;
}

static int smooth_own(double t, const double *y, const double *q, double *out, void *user)
{
    (void)t;
    (void)y;
    (void)q;
    (void)user;
    out[0] = 0.0;
    out[1] = 0.0;
    out[2] = -3.0;
    return 0;
}

static hfi_ode_problem smooth_problem(smooth *user)
{
    return (hfi_ode_problem){
        .blocks = NY / 2,
        .block_size = 2,
        .quadratures = 3,
        .user = user,
        .rates = smooth_rates,
        .jacobian = smooth_jacobian,
        .coupling = user->coupled != 0.0 ? smooth_coupling : NULL,
        .time_derivative = smooth_time_derivative,
        .quadrature_gradient = smooth_gradient,
        .quadrature_own = smooth_own,
    };
}

typedef struct errors {
    double y, q0, q2, dense_y, dense_q;
    double tie; /* |q_1 - (y_5 - y_5(0))|: must agree to rounding */
} errors;

static void raise_to(double *most, double x)
{
    if (!(fabs(x) <= *most))
        *most = fabs(x);
}

static int watch_dense(hfi_ode *ode, const hfi_ode_hit *hit, void *user)
{
    errors *e = user;
    double start, end, all[NY + 3];
    assert_null(hit);
    assert_int_equal(hfi_ode_dense_range(ode, &start, &end), HFI_ODE_OK);
    const double t = start + 0.3 * (end - start);
    assert_int_equal(hfi_ode_dense_all(ode, t, all), HFI_ODE_OK);
    for (size_t i = 0; i < NY; i++)
        raise_to(&e->dense_y, all[i] - exact(i, t));
    raise_to(&e->dense_q, all[NY] - integral_0(t));
    double one;
    assert_int_equal(hfi_ode_dense(ode, t, NY + 1, &one), HFI_ODE_OK);
    assert_true(one == all[NY + 1]);
    return 0;
}

/* Fixed steps: a tolerance that always passes and a largest step. */
static errors run_smooth(const hfi_ode_problem *problem, size_t steps)
{
    const double h = 2.0 / (double)steps;
    const hfi_ode_options options = {.initial_step = h, .max_step = h};
    hfi_ode *ode = NULL;
    errors e = {0.0, 0.0, 0.0, 0.0, 0.0, 0.0};
    double y[NY], q[3] = {0.0, 0.0, exact(2, 0.0)};
    assert_int_equal(hfi_ode_create(problem, &options, &ode), HFI_ODE_OK);
    assert_int_equal(hfi_ode_set_tolerance(ode, 0, 1, NY + 3, 1e6, 1e6, 1.0), HFI_ODE_OK);
    for (size_t i = 0; i < NY; i++)
        y[i] = exact(i, 0.0);
    assert_int_equal(hfi_ode_start(ode, 0.0, y, q), HFI_ODE_OK);
    assert_int_equal(hfi_ode_advance(ode, 2.0, watch_dense, &e), HFI_ODE_OK);
    hfi_ode_statistics s;
    hfi_ode_get_statistics(ode, &s);
    assert_int_equal(s.steps, steps);
    assert_int_equal(s.rejected, 0);
    for (size_t i = 0; i < NY; i++)
        raise_to(&e.y, hfi_ode_y(ode)[i] - exact(i, 2.0));
    e.q0 = fabs(hfi_ode_q(ode)[0] - integral_0(2.0));
    e.tie = fabs(hfi_ode_q(ode)[1] - (hfi_ode_y(ode)[5] - y[5]));
    e.q2 = fabs(hfi_ode_q(ode)[2] - exact(2, 2.0));
    hfi_ode_free(ode);
    return e;
}

static double order_of(double coarse, double fine)
{
    return log2(coarse / fine);
}

static void check_order(const char *what, double coarse, double fine, double least)
{
    const double order = order_of(coarse, fine);
    print_message("  %-44s errors %.2e %.2e  order %.2f\n", what, coarse, fine, order);
    assert_true(order >= least);
    assert_true(order < 6.0); /* more would mean rounding, not an order */
}

static void check_smooth(const char *name, const hfi_ode_problem *problem, double tie)
{
    const errors a = run_smooth(problem, 20), b = run_smooth(problem, 40);
    print_message("  %s\n", name);
    check_order("state", a.y, b.y, 3.7);
    check_order("quadrature cos(t) y^2", a.q0, b.q0, 3.7);
    check_order("quadrature with its own rate", a.q2, b.q2, 3.7);
    check_order("dense output of the state at 0.3", a.dense_y, b.dense_y, 3.7);
    check_order("dense output of a quadrature at 0.3", a.dense_q, b.dense_q, 3.7);
    /* q' = f_5 goes through the same stages as y_5: the same number up to rounding. */
    assert_true(a.tie <= tie);
    assert_true(b.tie <= tie);
}

static void test_integrand_is_what_it_says(void **unused)
{
    (void)unused;
    const double d = 1e-4;
    CHECK_CLOSE((integral_0(1.0 + d) - integral_0(1.0 - d)) / (2.0 * d), integrand_0(1.0), 0.0,
                1e-7, "derivative of the closed form, central difference");
}

static void test_orders_smooth(void **unused)
{
    (void)unused;
    smooth plain = {0.0};
    hfi_ode_problem p = smooth_problem(&plain);
    check_smooth("analytic derivatives", &p, 2e-14);
    p.quadrature_gradient = NULL;
    check_smooth("quadrature gradient by differences", &p, 1e-8);
    p.jacobian = NULL;
    check_smooth("Jacobian by differences too", &p, 1e-8);
    smooth coupled = {0.02};
    p = smooth_problem(&coupled);
    check_smooth("with a rank-one coupling", &p, 2e-14);
}

/* ---- u_t = u_xx + s, boundary values that change with time --------------------------------------
 * u = g(t) (1 + x + x^2/2), 0 <= x <= 1, g = exp(-t) + sin(3 t): second differences of a parabola
 * are exact, so all error is the integrator's. 200 cells; stiffness 4*200^2. */
#define CELLS 200

static double g_of(double t)
{
    return exp(-t) + sin(3.0 * t);
}

static double g1_of(double t)
{
    return -exp(-t) + 3.0 * cos(3.0 * t);
}

static double g2_of(double t)
{
    return exp(-t) - 9.0 * sin(3.0 * t);
}

static double shape(double x)
{
    return 1.0 + x + 0.5 * x * x;
}

static int heat_rates(double t, const double *y, const double *q, double *dydt, double *dqdt,
                      void *user)
{
    (void)q;
    (void)dqdt;
    (void)user;
    const double dx = 1.0 / CELLS;
    for (size_t i = 0; i < CELLS - 1; i++) {
        const double x = (double)(i + 1) * dx;
        const double left = i > 0 ? y[i - 1] : g_of(t) * shape(0.0);
        const double right = i + 2 < CELLS ? y[i + 1] : g_of(t) * shape(1.0);
        dydt[i] = (left - 2.0 * y[i] + right) / (dx * dx) + g1_of(t) * shape(x) - g_of(t);
    }
    return 0;
}

static int heat_jacobian(double t, const double *y, const double *q, hfi_bt *jacobian, void *user)
{
    (void)t;
    (void)y;
    (void)q;
    (void)user;
    for (size_t i = 0; i < CELLS - 1; i++) {
        jacobian->diagonal[i] = -2.0 * CELLS * CELLS;
        jacobian->lower[i] = (double)CELLS * CELLS;
        jacobian->upper[i] = (double)CELLS * CELLS;
    }
    return 0;
}

static int heat_time_derivative(double t, const double *y, const double *q, double *dydt_t,
                                double *dqdt_t, void *user)
{
    (void)y;
    (void)q;
    (void)dqdt_t;
    (void)user;
    const double dx = 1.0 / CELLS;
    for (size_t i = 0; i < CELLS - 1; i++)
        dydt_t[i] = g2_of(t) * shape((double)(i + 1) * dx) - g1_of(t);
    dydt_t[0] += g1_of(t) * shape(0.0) / (dx * dx);
    dydt_t[CELLS - 2] += g1_of(t) * shape(1.0) / (dx * dx);
    return 0;
}

static double heat_error(size_t steps)
{
    const double h = 1.0 / (double)steps;
    const hfi_ode_options options = {.initial_step = h, .max_step = h};
    const hfi_ode_problem problem = {
        .blocks = CELLS - 1,
        .block_size = 1,
        .rates = heat_rates,
        .jacobian = heat_jacobian,
        .time_derivative = heat_time_derivative,
    };
    hfi_ode *ode = NULL;
    double y[CELLS - 1], most = 0.0;
    assert_int_equal(hfi_ode_create(&problem, &options, &ode), HFI_ODE_OK);
    assert_int_equal(hfi_ode_set_tolerance(ode, 0, 1, CELLS - 1, 0.0, 1e6, 1.0), HFI_ODE_OK);
    for (size_t i = 0; i < CELLS - 1; i++)
        y[i] = g_of(0.0) * shape((double)(i + 1) / CELLS);
    assert_int_equal(hfi_ode_start(ode, 0.0, y, NULL), HFI_ODE_OK);
    assert_int_equal(hfi_ode_advance(ode, 1.0, NULL, NULL), HFI_ODE_OK);
    for (size_t i = 0; i < CELLS - 1; i++)
        raise_to(&most, hfi_ode_y(ode)[i] - g_of(1.0) * shape((double)(i + 1) / CELLS));
    hfi_ode_free(ode);
    return most;
}

static void test_order_parabolic(void **unused)
{
    (void)unused;
    const double a = heat_error(10), b = heat_error(20), c = heat_error(40);
    check_order("u_t = u_xx + s, 200 cells, 10 -> 20 steps", a, b, 3.5);
    check_order("u_t = u_xx + s, 200 cells, 20 -> 40 steps", b, c, 3.5);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_integrand_is_what_it_says),
        cmocka_unit_test(test_orders_smooth),
        cmocka_unit_test(test_order_parabolic),
    };
    return cmocka_run_group_tests_name("rosenbrock: orders", tests, NULL, NULL);
}
