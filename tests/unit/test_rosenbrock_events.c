/* Events on exact solutions: y = sin t, y' = cos t (one block of two), q = 1 - cos t. The wanted
 * times are closed forms (multiples and fractions of pi), so nothing here was read off our own
 * output. */
#include "check.h"

#include "transport/rosenbrock.h"

#define PI         3.14159265358979323846
#define MOST_FOUND 64

static int circle_rates(double t, const double *y, const double *q, double *dydt, double *dqdt,
                        void *user)
{
    (void)t;
    (void)q;
    (void)user;
    if (dydt != NULL) {
        dydt[0] = y[1];
        dydt[1] = -y[0];
    }
    if (dqdt != NULL)
        dqdt[0] = y[0];
    return 0;
}

static int circle_jacobian(double t, const double *y, const double *q, hfi_bt *jacobian, void *user)
{
    (void)t;
    (void)y;
    (void)q;
    (void)user;
    jacobian->diagonal[1] = 1.0;
    jacobian->diagonal[2] = -1.0;
    return 0;
}

static int circle_gradient(double t, const double *y, const double *q, const double *v, double *out,
                           void *user)
{
    (void)t;
    (void)y;
    (void)q;
    (void)user;
    out[0] = v[0];
    return 0;
}

/* 0: y; 1: y - 1/2; 2: q - 1 (a quadrature); 3: t - 4 (time alone). */
static int circle_events(double t, const double *y, const double *q, double *value, void *user)
{
    size_t *calls = user;
    ++*calls;
    value[0] = y[0];
    value[1] = y[0] - 0.5;
    value[2] = q[0] - 1.0;
    value[3] = t - 4.0;
    return 0;
}

typedef struct found {
    size_t count;
    hfi_ode_hit hit[MOST_FOUND];
    size_t steps;
    size_t stop_at; /* the event that is asked to be terminal, by its place; 0 none */
    double last;    /* time of the last report */
} found;

static int collect(hfi_ode *ode, const hfi_ode_hit *hit, void *user)
{
    found *f = user;
    if (hit == NULL) {
        f->steps++;
        assert_true(hfi_ode_time(ode) >= f->last);
        f->last = hfi_ode_time(ode);
        return 0;
    }
    assert_true(f->count < MOST_FOUND);
    assert_true(hit->t >= f->last); /* in order of time */
    f->last = hit->t;
    /* Dense output answers at the event. */
    double y;
    assert_int_equal(hfi_ode_dense(ode, hit->t, 0, &y), HFI_ODE_OK);
    CHECK_CLOSE(y, sin(hit->t), 0.0, 1e-9, "exact solution");
    f->hit[f->count++] = *hit;
    return f->stop_at != 0 && f->count == f->stop_at;
}

static hfi_ode *circle(int direction, bool terminal, size_t *calls)
{
    hfi_ode_problem problem = {
        .blocks = 1,
        .block_size = 2,
        .quadratures = 1,
        .events = 4,
        .user = calls,
        .rates = circle_rates,
        .jacobian = circle_jacobian,
        .quadrature_gradient = circle_gradient,
        .event_values = circle_events,
    };
    for (size_t e = 0; e < 4; e++) {
        problem.event[e].direction = direction;
        problem.event[e].terminal = terminal;
    }
    hfi_ode *ode = NULL;
    const double y[2] = {0.0, 1.0}, q[1] = {0.0};
    assert_int_equal(hfi_ode_create(&problem, NULL, &ode), HFI_ODE_OK);
    assert_int_equal(hfi_ode_set_tolerance(ode, 0, 1, 3, 1e-13, 1e-13, 1.0), HFI_ODE_OK);
    assert_int_equal(hfi_ode_start(ode, 0.0, y, q), HFI_ODE_OK);
    return ode;
}

/* Every crossing up to t = 10 in order; the zero at the start itself is no event. */
static const struct {
    double t;
    size_t event;
    int direction;
} wanted[] = {
    {PI / 6.0, 1, 1},
    {PI / 2.0, 2, 1},
    {5.0 * PI / 6.0, 1, -1},
    {PI, 0, -1},
    {4.0, 3, 1},
    {3.0 * PI / 2.0, 2, -1},
    {2.0 * PI, 0, 1},
    {13.0 * PI / 6.0, 1, 1},
    {5.0 * PI / 2.0, 2, 1},
    {17.0 * PI / 6.0, 1, -1},
    {3.0 * PI, 0, -1},
};
#define WANTED (sizeof wanted / sizeof *wanted)

static void check_against_wanted(const found *f, int direction)
{
    size_t n = 0;
    for (size_t i = 0; i < WANTED; i++) {
        if (direction != 0 && wanted[i].direction != direction)
            continue;
        assert_true(n < f->count);
        assert_int_equal(f->hit[n].event, wanted[i].event);
        assert_int_equal(f->hit[n].direction, wanted[i].direction);
        CHECK_CLOSE(f->hit[n].t, wanted[i].t, 0.0, 1e-10, "closed form of the crossing");
        n++;
    }
    assert_int_equal(f->count, n);
}

static void test_all_crossings(void **unused)
{
    (void)unused;
    for (int direction = -1; direction <= 1; direction++) {
        found f = {.count = 0};
        size_t calls = 0;
        hfi_ode *ode = circle(direction, false, &calls);
        assert_int_equal(hfi_ode_advance(ode, 10.0, collect, &f), HFI_ODE_OK);
        check_against_wanted(&f, direction);
        hfi_ode_statistics s;
        hfi_ode_get_statistics(ode, &s);
        assert_int_equal(s.events, f.count);
        assert_int_equal(s.steps, f.steps);
        /* One call at the start and one a step; about ten for an event (bisection takes 50). */
        assert_true(calls <= 1 + s.steps + 20 * s.events);
        CHECK_CLOSE(hfi_ode_y(ode)[0], sin(10.0), 0.0, 1e-10, "events do not disturb the run");
        hfi_ode_free(ode);
    }
}

/* Stopped at each one and taken up again: the same list, none twice, state at the event right. */
static void test_terminal_and_resume(void **unused)
{
    (void)unused;
    found f = {.count = 0};
    size_t calls = 0;
    hfi_ode *ode = circle(0, true, &calls);
    int status;
    while ((status = hfi_ode_advance(ode, 10.0, collect, &f)) == HFI_ODE_EVENT) {
        const double t = hfi_ode_time(ode);
        assert_true(f.count > 0);
        assert_true(t == f.hit[f.count - 1].t);
        CHECK_CLOSE(hfi_ode_y(ode)[0], sin(t), 0.0, 1e-10, "state at the event");
        CHECK_CLOSE(hfi_ode_y(ode)[1], cos(t), 0.0, 1e-10, "state at the event");
        CHECK_CLOSE(hfi_ode_q(ode)[0], 1.0 - cos(t), 0.0, 1e-10, "state at the event");
        double after;
        assert_int_equal(hfi_ode_dense(ode, t + 1e-3, 0, &after), HFI_ODE_BAD_ARGUMENT);
    }
    assert_int_equal(status, HFI_ODE_OK);
    check_against_wanted(&f, 0);
    CHECK_CLOSE(hfi_ode_y(ode)[0], sin(10.0), 0.0, 1e-10, "end state");
    hfi_ode_free(ode);
}

/* A fresh start at the event (a change of surroundings) does not meet it again either. */
static void test_restart_at_event(void **unused)
{
    (void)unused;
    found f = {.count = 0};
    size_t calls = 0;
    hfi_ode *ode = circle(0, true, &calls);
    int status;
    while ((status = hfi_ode_advance(ode, 10.0, collect, &f)) == HFI_ODE_EVENT)
        assert_int_equal(hfi_ode_start(ode, hfi_ode_time(ode), NULL, NULL), HFI_ODE_OK);
    assert_int_equal(status, HFI_ODE_OK);
    check_against_wanted(&f, 0);
    hfi_ode_free(ode);
}

static void test_observer_makes_terminal(void **unused)
{
    (void)unused;
    found f = {.count = 0, .stop_at = 4};
    size_t calls = 0;
    hfi_ode *ode = circle(0, false, &calls);
    assert_int_equal(hfi_ode_advance(ode, 10.0, collect, &f), HFI_ODE_EVENT);
    CHECK_CLOSE(hfi_ode_time(ode), PI, 0.0, 1e-10, "fourth crossing of the list");
    assert_int_equal(hfi_ode_advance(ode, 10.0, collect, &f), HFI_ODE_OK);
    check_against_wanted(&f, 0);
    hfi_ode_free(ode);
}

/* Two events in one long step are told apart and come in order of time; with the first terminal the
 * second is not reported until it is reached again. */
static int steep_events(double t, const double *y, const double *q, double *value, void *user)
{
    (void)y;
    (void)q;
    (void)user;
    value[0] = t - 0.75;
    value[1] = 0.25 - t;
    value[2] = (t - 0.5) * (t - 0.5) * (t - 0.5);
    return 0;
}

static int slow_rates(double t, const double *y, const double *q, double *dydt, double *dqdt,
                      void *user)
{
    (void)t;
    (void)q;
    (void)dqdt;
    (void)user;
    dydt[0] = -1e-3 * y[0];
    return 0;
}

static int slow_valid(double t, const double *y, const double *q, void *user)
{
    (void)y;
    (void)q;
    double *last = user;
    *last = t;
    return 0;
}

typedef struct order_log {
    size_t count;
    size_t event[8];
    double t[8];
} order_log;

static int log_order(hfi_ode *ode, const hfi_ode_hit *hit, void *user)
{
    (void)ode;
    order_log *log = user;
    if (hit != NULL && log->count < 8) {
        log->event[log->count] = hit->event;
        log->t[log->count++] = hit->t;
    }
    return 0;
}

static void test_several_in_one_step(void **unused)
{
    (void)unused;
    double last = 0.0;
    hfi_ode_problem problem = {
        .blocks = 1,
        .block_size = 1,
        .events = 3,
        .user = &last,
        .rates = slow_rates,
        .valid = slow_valid,
        .event_values = steep_events,
    };
    const double y[1] = {1.0};
    for (int terminal = 0; terminal <= 1; terminal++) {
        problem.event[1].terminal = terminal != 0;
        order_log log = {.count = 0};
        hfi_ode *ode = NULL;
        const hfi_ode_options options = {.initial_step = 1.0};
        assert_int_equal(hfi_ode_create(&problem, &options, &ode), HFI_ODE_OK);
        assert_int_equal(hfi_ode_start(ode, 0.0, y, NULL), HFI_ODE_OK);
        int status = hfi_ode_advance(ode, 1.0, log_order, &log);
        if (terminal) {
            assert_int_equal(status, HFI_ODE_EVENT);
            assert_int_equal(log.count, 1);
            CHECK_CLOSE(hfi_ode_time(ode), 0.25, 0.0, 1e-10, "0.25 - t");
            status = hfi_ode_advance(ode, 1.0, log_order, &log);
        }
        assert_int_equal(status, HFI_ODE_OK);
        assert_int_equal(log.count, 3);
        assert_int_equal(log.event[0], 1);
        assert_int_equal(log.event[1], 2);
        assert_int_equal(log.event[2], 0);
        CHECK_CLOSE(log.t[0], 0.25, 0.0, 1e-10, "0.25 - t");
        CHECK_CLOSE(log.t[1], 0.5, 0.0, 1e-10, "triple zero at 0.5");
        CHECK_CLOSE(log.t[2], 0.75, 0.0, 1e-10, "t - 0.75");
        hfi_ode_free(ode);
    }
}

/* A coarse event tolerance is kept: the time is late by no more than it, never early. */
static void test_event_tolerance(void **unused)
{
    (void)unused;
    double last = 0.0;
    hfi_ode_problem problem = {
        .blocks = 1,
        .block_size = 1,
        .events = 3,
        .user = &last,
        .rates = slow_rates,
        .event_values = steep_events,
    };
    const hfi_ode_options options = {.initial_step = 1.0, .event_tolerance = 1e-3};
    const double y[1] = {1.0};
    order_log log = {.count = 0};
    hfi_ode *ode = NULL;
    assert_int_equal(hfi_ode_create(&problem, &options, &ode), HFI_ODE_OK);
    assert_int_equal(hfi_ode_start(ode, 0.0, y, NULL), HFI_ODE_OK);
    assert_int_equal(hfi_ode_advance(ode, 1.0, log_order, &log), HFI_ODE_OK);
    assert_int_equal(log.count, 3);
    static const double exact[] = {0.25, 0.5, 0.75};
    for (size_t i = 0; i < 3; i++) {
        assert_true(log.t[i] >= exact[i]);
        assert_true(log.t[i] <= exact[i] + 1e-3);
    }
    hfi_ode_free(ode);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_all_crossings),       cmocka_unit_test(test_terminal_and_resume),
        cmocka_unit_test(test_restart_at_event),    cmocka_unit_test(test_observer_makes_terminal),
        cmocka_unit_test(test_several_in_one_step), cmocka_unit_test(test_event_tolerance),
    };
    return cmocka_run_group_tests_name("rosenbrock: events", tests, NULL, NULL);
}
