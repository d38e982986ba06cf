/* Step size control, refusals, stops, failures and arguments of the integrator. */
#include "check.h"

#include "transport/rosenbrock.h"

#include <string.h>

/* y' = -a (y - cos t) - sin t, solution cos t, one cell; the user block counts and misbehaves. */
typedef struct model {
    double a;
    size_t calls;
    double refuse_after, nan_after; /* times; 0 never */
    double lowest;                  /* valid() turns y below it down */
    bool bad_jacobian;
    volatile sig_atomic_t stop;
    double stop_after;
} model;

static int rates(double t, const double *y, const double *q, double *dydt, double *dqdt, void *user)
{
    model *m = user;
    (void)q;
    (void)dqdt;
    m->calls++;
    if (m->refuse_after > 0.0 && t > m->refuse_after)
        return 1;
    dydt[0] = -m->a * (y[0] - cos(t)) - sin(t);
    if (m->nan_after > 0.0 && t > m->nan_after)
        dydt[0] = (double)NAN;
    return 0;
}

static int jacobian(double t, const double *y, const double *q, hfi_bt *out, void *user)
{
    const model *m = user;
    (void)t;
    (void)y;
    (void)q;
    out->diagonal[0] = m->bad_jacobian ? (double)NAN : -m->a;
    return 0;
}

static int time_derivative(double t, const double *y, const double *q, double *dydt_t,
                           double *dqdt_t, void *user)
{
    const model *m = user;
    (void)y;
    (void)q;
    (void)dqdt_t;
    dydt_t[0] = -m->a * sin(t) - cos(t);
    return 0;
}

static int valid(double t, const double *y, const double *q, void *user)
{
    const model *m = user;
    (void)t;
    (void)q;
    return y[0] < m->lowest;
}

static hfi_ode *make(model *m, const hfi_ode_options *options)
{
    const hfi_ode_problem problem = {
        .blocks = 1,
        .block_size = 1,
        .user = m,
        .rates = rates,
        .jacobian = jacobian,
        .time_derivative = time_derivative,
        .valid = valid,
    };
    hfi_ode *ode = NULL;
    const double y[1] = {1.0};
    assert_int_equal(hfi_ode_create(&problem, options, &ode), HFI_ODE_OK);
    assert_int_equal(hfi_ode_start(ode, 0.0, y, NULL), HFI_ODE_OK);
    return ode;
}

/* The global error follows the tolerance, and the work grows slowly with it (order 4: about
 * 10^(1/4) more steps for one digit). Also stiff: a = 1e6. */
static void test_tolerance(void **unused)
{
    (void)unused;
    static const double stiffness[] = {1.0, 1e6};
    for (size_t k = 0; k < 2; k++) {
        size_t steps_before = 0;
        for (double tolerance = 1e-4; tolerance > 1e-11; tolerance *= 1e-2) {
            model m = {.a = stiffness[k], .lowest = -2.0};
            hfi_ode *ode = make(&m, NULL);
            assert_int_equal(hfi_ode_set_tolerance(ode, 0, 1, 1, tolerance, tolerance, 1.0),
                             HFI_ODE_OK);
            assert_int_equal(hfi_ode_advance(ode, 6.0, NULL, NULL), HFI_ODE_OK);
            CHECK_CLOSE(hfi_ode_y(ode)[0], cos(6.0), 0.0, 10.0 * tolerance, "exact solution");
            assert_true(hfi_ode_time(ode) == 6.0);
            hfi_ode_statistics s;
            hfi_ode_get_statistics(ode, &s);
            assert_true(s.steps > steps_before);
            assert_true(steps_before == 0 || s.steps < 6 * steps_before);
            /* 6 rates a step, 5 a rejection; one Jacobian a step; one factor and 6 solves a try. */
            assert_int_equal(s.rates, 6 * s.steps + 5 * s.rejected);
            assert_int_equal(s.rates, m.calls);
            assert_int_equal(s.jacobians, s.steps);
            assert_int_equal(s.factors, s.steps + s.rejected);
            assert_int_equal(s.solves, 6 * s.factors);
            assert_true(s.rejected * 3 <= s.steps + 3);
            steps_before = s.steps;
            hfi_ode_free(ode);
        }
    }
}

/* A short stop for output in between must not make the steps after it short. */
static void test_outputs_cost_little(void **unused)
{
    (void)unused;
    model m = {.a = 1.0, .lowest = -2.0};
    hfi_ode *whole = make(&m, NULL), *parts = make(&m, NULL);
    assert_int_equal(hfi_ode_advance(whole, 6.0, NULL, NULL), HFI_ODE_OK);
    for (size_t i = 1; i <= 3; i++) {
        assert_int_equal(hfi_ode_advance(parts, 2.0 * (double)i - 1e-7, NULL, NULL), HFI_ODE_OK);
        assert_int_equal(hfi_ode_advance(parts, 2.0 * (double)i, NULL, NULL), HFI_ODE_OK);
    }
    hfi_ode_statistics a, b;
    hfi_ode_get_statistics(whole, &a);
    hfi_ode_get_statistics(parts, &b);
    assert_true(b.steps <= a.steps + 9);
    CHECK_CLOSE(hfi_ode_y(parts)[0], cos(6.0), 0.0, 1e-4, "exact solution");
    assert_int_equal(hfi_ode_advance(parts, 6.0, NULL, NULL), HFI_ODE_OK); /* nothing to do */
    hfi_ode_free(whole);
    hfi_ode_free(parts);
}

/* A flame: y' = y^2 (1 - y) creeps, then ignites; 1/y + ln(1/y - 1) falls by the time passed. */
static int flame(double t, const double *y, const double *q, double *dydt, double *dqdt, void *user)
{
    (void)t;
    (void)q;
    (void)dqdt;
    (void)user;
    dydt[0] = y[0] * y[0] * (1.0 - y[0]);
    return 0;
}

static int half_burnt(double t, const double *y, const double *q, double *value, void *user)
{
    (void)t;
    (void)q;
    (void)user;
    value[0] = y[0] - 0.5;
    return 0;
}

/* The time of ignition is right, and the predictive control meets it with few rejections (the plain
 * one has two for three steps here). */
static void test_ignition(void **unused)
{
    (void)unused;
    hfi_ode_problem problem = {
        .blocks = 1,
        .block_size = 1,
        .events = 1,
        .rates = flame,
        .event_values = half_burnt,
    };
    problem.event[0].terminal = true;
    const double start = 1e-4;
    const double want = 1.0 / start + log(1.0 / start - 1.0) - 2.0;
    for (double tolerance = 1e-4; tolerance > 1e-9; tolerance *= 1e-2) {
        hfi_ode *ode = NULL;
        hfi_ode_statistics s;
        assert_int_equal(hfi_ode_create(&problem, NULL, &ode), HFI_ODE_OK);
        assert_int_equal(hfi_ode_set_tolerance(ode, 0, 1, 1, tolerance, 1e-4 * tolerance, 1.0),
                         HFI_ODE_OK);
        assert_int_equal(hfi_ode_start(ode, 0.0, &start, NULL), HFI_ODE_OK);
        assert_int_equal(hfi_ode_advance(ode, 2e4, NULL, NULL), HFI_ODE_EVENT);
        CHECK_CLOSE(hfi_ode_time(ode), want, 10.0 * tolerance, 0.0, "closed form of y = 1/2");
        assert_int_equal(hfi_ode_advance(ode, 2e4, NULL, NULL), HFI_ODE_OK);
        hfi_ode_get_statistics(ode, &s);
        assert_true(s.rejected * 5 < s.steps);
        hfi_ode_free(ode);
    }
}

static int note_time(hfi_ode *ode, const hfi_ode_hit *hit, void *user)
{
    double *next = user;
    (void)hit;
    while (*next >= 0.0)
        next++;
    *next = hfi_ode_time(ode);
    return 0;
}

/* Steps of at most 0.4 up to 1: what is left is shared, 0.4 0.3 0.3, not 0.4 0.4 0.2. */
static void test_no_sliver_is_left(void **unused)
{
    (void)unused;
    model m = {.a = 1.0, .lowest = -2.0};
    const hfi_ode_options options = {.initial_step = 0.4, .max_step = 0.4};
    double time[5] = {-1.0, -1.0, -1.0, -1.0, -1.0};
    hfi_ode *ode = make(&m, &options);
    assert_int_equal(hfi_ode_set_tolerance(ode, 0, 1, 1, 1.0, 1.0, 1.0), HFI_ODE_OK);
    assert_int_equal(hfi_ode_advance(ode, 1.0, note_time, time), HFI_ODE_OK);
    CHECK_CLOSE(time[0], 0.4, 1e-14, 0.0, "largest step");
    CHECK_CLOSE(time[1], 0.7, 1e-14, 0.0, "half of what is left");
    assert_true(time[2] == 1.0);
    assert_true(time[3] < 0.0);
    hfi_ode_free(ode);
}

/* With the rates refused (or not finite) after t = 3 the run ends there, with the last good state.
 */
static void test_refused_and_not_finite(void **unused)
{
    (void)unused;
    for (int finite = 0; finite <= 1; finite++) {
        model m = {.a = 1.0, .lowest = -2.0};
        *(finite ? &m.refuse_after : &m.nan_after) = 3.0;
        hfi_ode *ode = make(&m, NULL);
        const int status = hfi_ode_advance(ode, 6.0, NULL, NULL);
        hfi_ode_failure f;
        hfi_ode_get_failure(ode, &f);
        assert_int_equal(status, finite ? HFI_ODE_STEP_TOO_SMALL : HFI_ODE_NOT_FINITE);
        assert_int_equal(f.status, status);
        assert_int_equal(f.cause, finite ? HFI_ODE_CAUSE_REFUSED : HFI_ODE_CAUSE_NOT_FINITE);
        assert_true(f.t == hfi_ode_time(ode));
        CHECK_CLOSE(f.t, 3.0, 0.0, 1e-9, "the edge");
        CHECK_CLOSE(hfi_ode_y(ode)[0], cos(3.0), 0.0, 1e-4, "last good state");
        double start, end;
        assert_int_equal(hfi_ode_dense_range(ode, &start, &end), HFI_ODE_BAD_ARGUMENT);
        /* The obstacle gone, the same object goes on. */
        m.refuse_after = 0.0;
        m.nan_after = 0.0;
        assert_int_equal(hfi_ode_advance(ode, 6.0, NULL, NULL), HFI_ODE_OK);
        hfi_ode_get_failure(ode, &f);
        assert_int_equal(f.status, HFI_ODE_OK);
        CHECK_CLOSE(hfi_ode_y(ode)[0], cos(6.0), 0.0, 1e-4, "exact solution");
        hfi_ode_free(ode);
    }
}

static void test_validity(void **unused)
{
    (void)unused;
    model m = {.a = 1.0, .lowest = -0.5}; /* cos t = -1/2 at 2 pi/3 */
    hfi_ode *ode = make(&m, NULL);
    hfi_ode_failure f;
    assert_int_equal(hfi_ode_advance(ode, 6.0, NULL, NULL), HFI_ODE_STEP_TOO_SMALL);
    hfi_ode_get_failure(ode, &f);
    assert_int_equal(f.cause, HFI_ODE_CAUSE_INVALID);
    CHECK_CLOSE(hfi_ode_time(ode), 2.0943951023931953, 0.0, 1e-4, "2 pi/3");
    assert_true(hfi_ode_y(ode)[0] >= -0.5);
    hfi_ode_free(ode);
}

static void test_singular(void **unused)
{
    (void)unused;
    model m = {.a = 1.0, .lowest = -2.0, .bad_jacobian = true};
    const hfi_ode_options options = {.initial_step = 0.1};
    hfi_ode *ode = make(&m, &options);
    assert_int_equal(hfi_ode_advance(ode, 1.0, NULL, NULL), HFI_ODE_SINGULAR);
    hfi_ode_failure f;
    hfi_ode_get_failure(ode, &f);
    assert_int_equal(f.cause, HFI_ODE_CAUSE_SINGULAR);
    assert_false(f.located);
    assert_true(hfi_ode_time(ode) == 0.0);
    hfi_ode_free(ode);
    ode = make(&m, NULL); /* the first step cannot be worked out either */
    assert_int_equal(hfi_ode_advance(ode, 1.0, NULL, NULL), HFI_ODE_NOT_FINITE);
    hfi_ode_free(ode);
    /* I/(h gamma) = J at just this h: one rejection, then on. */
    m = (model){.a = -4.0 / 0.1, .lowest = -2.0};
    ode = make(&m, &options);
    assert_int_equal(hfi_ode_advance(ode, 0.4, NULL, NULL), HFI_ODE_OK);
    hfi_ode_statistics s;
    hfi_ode_get_statistics(ode, &s);
    assert_true(s.rejected >= 1);
    hfi_ode_free(ode);
}

/* y' = y^2 reaches infinity at t = 1 - here in the second of three cells, which the report names.
 */
static int blow_up(double t, const double *y, const double *q, double *dydt, double *dqdt,
                   void *user)
{
    (void)t;
    (void)q;
    (void)dqdt;
    (void)user;
    dydt[0] = -y[0];
    dydt[1] = y[1] * y[1];
    dydt[2] = -y[2];
    return 0;
}

static void test_blow_up_is_located(void **unused)
{
    (void)unused;
    const hfi_ode_problem problem = {.blocks = 3, .block_size = 1, .rates = blow_up};
    const double y[3] = {1.0, 1.0, 1.0};
    const hfi_ode_options options = {.min_step = 1e-7};
    hfi_ode *ode = NULL;
    assert_int_equal(hfi_ode_create(&problem, &options, &ode), HFI_ODE_OK);
    assert_int_equal(hfi_ode_start(ode, 0.0, y, NULL), HFI_ODE_OK);
    assert_int_equal(hfi_ode_advance(ode, 2.0, NULL, NULL), HFI_ODE_STEP_TOO_SMALL);
    hfi_ode_failure f;
    hfi_ode_get_failure(ode, &f);
    CHECK_CLOSE(f.t, 1.0, 0.0, 1e-4, "1/(1 - t)");
    assert_int_equal(f.cause, HFI_ODE_CAUSE_ERROR);
    assert_true(f.located);
    assert_int_equal(f.component, 1);
    assert_true(f.error > 0.0);
    assert_true(f.step > 0.0 && f.step < 1e-7);
    hfi_ode_free(ode);
}

static int raise_stop(hfi_ode *ode, const hfi_ode_hit *hit, void *user)
{
    model *m = user;
    (void)hit;
    m->stop = hfi_ode_time(ode) > m->stop_after;
    return 0;
}

static int stop_now(hfi_ode *ode, const hfi_ode_hit *hit, void *user)
{
    (void)ode;
    (void)hit;
    (void)user;
    return 1;
}

static void test_stop_and_limits(void **unused)
{
    (void)unused;
    model m = {.a = 1.0, .lowest = -2.0, .stop_after = 2.0};
    hfi_ode_options options = {.stop = &m.stop};
    hfi_ode *ode = make(&m, &options);
    assert_int_equal(hfi_ode_advance(ode, 6.0, raise_stop, &m), HFI_ODE_STOPPED);
    assert_true(hfi_ode_time(ode) > 2.0 && hfi_ode_time(ode) < 6.0);
    assert_int_equal(hfi_ode_advance(ode, 6.0, NULL, NULL), HFI_ODE_STOPPED);
    m.stop = 0;
    assert_int_equal(hfi_ode_advance(ode, 6.0, NULL, NULL), HFI_ODE_OK);
    CHECK_CLOSE(hfi_ode_y(ode)[0], cos(6.0), 0.0, 1e-4, "exact solution");
    hfi_ode_free(ode);

    ode = make(&m, NULL);
    assert_int_equal(hfi_ode_advance(ode, 6.0, stop_now, NULL), HFI_ODE_STOPPED);
    hfi_ode_statistics s;
    hfi_ode_get_statistics(ode, &s);
    assert_int_equal(s.steps, 1);
    hfi_ode_free(ode);

    options = (hfi_ode_options){.max_steps = 3, .max_step = 0.5, .initial_step = 0.5};
    ode = make(&m, &options);
    assert_int_equal(hfi_ode_set_tolerance(ode, 0, 1, 1, 1.0, 1.0, 1.0), HFI_ODE_OK);
    assert_int_equal(hfi_ode_advance(ode, 6.0, NULL, NULL), HFI_ODE_TOO_MANY_STEPS);
    CHECK_CLOSE(hfi_ode_time(ode), 1.5, 1e-14, 0.0, "three steps of 0.5");
    assert_int_equal(hfi_ode_advance(ode, 3.0, NULL, NULL), HFI_ODE_OK);
    hfi_ode_free(ode);

    options = (hfi_ode_options){.min_step = 0.4, .initial_step = 3.0};
    ode = make(&m, &options);
    assert_int_equal(hfi_ode_set_tolerance(ode, 0, 1, 1, 1e-9, 1e-9, 1.0), HFI_ODE_OK);
    assert_int_equal(hfi_ode_advance(ode, 6.0, NULL, NULL), HFI_ODE_STEP_TOO_SMALL);
    hfi_ode_free(ode);
}

static void test_weight_zero_is_not_looked_at(void **unused)
{
    (void)unused;
    const hfi_ode_problem problem = {.blocks = 3, .block_size = 1, .rates = blow_up};
    const double y[3] = {1.0, 1.0, 1.0};
    size_t steps[2];
    for (size_t k = 0; k < 2; k++) {
        hfi_ode *ode = NULL;
        hfi_ode_statistics s;
        assert_int_equal(hfi_ode_create(&problem, NULL, &ode), HFI_ODE_OK);
        assert_int_equal(hfi_ode_set_tolerance(ode, 1, 1, 1, 1e-5, 1e-8, k == 0 ? 1.0 : 0.0),
                         HFI_ODE_OK);
        assert_int_equal(hfi_ode_start(ode, 0.0, y, NULL), HFI_ODE_OK);
        assert_int_equal(hfi_ode_advance(ode, 0.9, NULL, NULL), HFI_ODE_OK);
        CHECK_CLOSE(hfi_ode_y(ode)[0], exp(-0.9), 1e-4, 0.0, "exact solution");
        hfi_ode_get_statistics(ode, &s);
        steps[k] = s.steps;
        hfi_ode_free(ode);
    }
    assert_true(steps[1] < steps[0]);
}

static void test_arguments(void **unused)
{
    (void)unused;
    hfi_ode *ode = NULL;
    const hfi_ode_problem good = {.blocks = 3, .block_size = 1, .rates = blow_up};
    hfi_ode_problem bad[8];
    for (size_t i = 0; i < 8; i++)
        bad[i] = good;
    bad[0].blocks = 0;
    bad[1].block_size = 3;
    bad[2].rates = NULL;
    bad[3].events = 1; /* no event_values */
    bad[4].events = HFI_ODE_MAX_EVENTS + 1;
    bad[5].event[0].direction = 2;
    bad[5].events = 1;
    bad[6].blocks = HFI_BT_MAX_BLOCKS + 1;
    bad[7].quadratures = HFI_ODE_MAX_QUADRATURES + 1;
    for (size_t i = 0; i < 8; i++)
        assert_int_equal(hfi_ode_create(&bad[i], NULL, &ode), HFI_ODE_BAD_ARGUMENT);
    const hfi_ode_options nan_step = {.initial_step = (double)NAN}, negative = {.min_step = -1.0};
    assert_int_equal(hfi_ode_create(&good, &nan_step, &ode), HFI_ODE_BAD_ARGUMENT);
    assert_int_equal(hfi_ode_create(&good, &negative, &ode), HFI_ODE_BAD_ARGUMENT);
    assert_int_equal(hfi_ode_create(NULL, NULL, &ode), HFI_ODE_BAD_ARGUMENT);
    assert_int_equal(hfi_ode_create(&good, NULL, NULL), HFI_ODE_BAD_ARGUMENT);
    assert_null(ode);
    hfi_ode_free(NULL);
    assert_int_equal(hfi_ode_create(&good, NULL, &ode), HFI_ODE_OK);
    assert_int_equal(hfi_ode_set_tolerance(ode, 0, 1, 4, 0.0, 1.0, 1.0), HFI_ODE_BAD_ARGUMENT);
    assert_int_equal(hfi_ode_set_tolerance(ode, 1, 2, 2, 0.0, 1.0, 1.0), HFI_ODE_BAD_ARGUMENT);
    assert_int_equal(hfi_ode_set_tolerance(ode, 0, 2, 2, 0.0, 1.0, 1.0), HFI_ODE_OK);
    assert_int_equal(hfi_ode_set_tolerance(ode, 0, 1, 3, 1.0, 0.0, 1.0), HFI_ODE_BAD_ARGUMENT);
    assert_int_equal(hfi_ode_set_tolerance(ode, 0, 1, 3, (double)NAN, 1.0, 1.0),
                     HFI_ODE_BAD_ARGUMENT);
    const double nan_state[3] = {0.0, (double)NAN, 0.0};
    assert_int_equal(hfi_ode_start(ode, 0.0, nan_state, NULL), HFI_ODE_BAD_ARGUMENT);
    assert_int_equal(hfi_ode_start(ode, (double)NAN, NULL, NULL), HFI_ODE_BAD_ARGUMENT);
    assert_int_equal(hfi_ode_start(ode, 5.0, NULL, NULL), HFI_ODE_OK);
    assert_int_equal(hfi_ode_advance(ode, 4.0, NULL, NULL), HFI_ODE_BAD_ARGUMENT);
    assert_int_equal(hfi_ode_advance(ode, (double)NAN, NULL, NULL), HFI_ODE_BAD_ARGUMENT);
    assert_int_equal(hfi_ode_advance(NULL, 4.0, NULL, NULL), HFI_ODE_BAD_ARGUMENT);
    double out;
    assert_int_equal(hfi_ode_dense(ode, 5.0, 0, &out), HFI_ODE_BAD_ARGUMENT); /* no step yet */
    assert_int_equal(hfi_ode_advance(ode, 6.0, NULL, NULL), HFI_ODE_OK);
    assert_int_equal(hfi_ode_dense(ode, 6.0, 3, &out), HFI_ODE_BAD_ARGUMENT);
    assert_int_equal(hfi_ode_dense(ode, 6.1, 0, &out), HFI_ODE_BAD_ARGUMENT);
    assert_int_equal(hfi_ode_dense(ode, 6.0, 0, &out), HFI_ODE_OK);
    CHECK_CLOSE(out, hfi_ode_y(ode)[0], 1e-15, 1e-300, "end of the step");
    hfi_ode_free(ode);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_tolerance),
        cmocka_unit_test(test_outputs_cost_little),
        cmocka_unit_test(test_ignition),
        cmocka_unit_test(test_no_sliver_is_left),
        cmocka_unit_test(test_refused_and_not_finite),
        cmocka_unit_test(test_validity),
        cmocka_unit_test(test_singular),
        cmocka_unit_test(test_blow_up_is_located),
        cmocka_unit_test(test_stop_and_limits),
        cmocka_unit_test(test_weight_zero_is_not_looked_at),
        cmocka_unit_test(test_arguments),
    };
    return cmocka_run_group_tests_name("rosenbrock: control", tests, NULL, NULL);
}
