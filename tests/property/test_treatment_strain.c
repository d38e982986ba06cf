/* Treatments at the edges of what they accept: a run finishes, or stops with a sentence that says when, where
 * and why; every number on record is finite; nothing runs on for ever. */
#include "../unit/treatment_kit.h"

#include <hairfibre/keratin.h>

#include <signal.h>
#include <stdio.h>
#include <sys/time.h>

/* Trial steps of the integrator that any one step here may take. The option's own limit is 200 000. */
#define PATIENCE 10000

static void check_record(const hf_simulation *s, const char *what)
{
    for (int c = 0; c < HF_COLUMNS; c++) {
        const double *column = hf_simulation_column(s, (hf_column)c);
        for (size_t i = 0; i < hf_simulation_samples(s); i++)
            if (!isfinite(column[i]))
                fail_msg("%s: %s is %g at sample %zu", what, hf_column_at((size_t)c)->name,
                         column[i], i);
    }
    const double *t = hf_simulation_column(s, HF_COLUMN_TIME);
    for (size_t i = 1; i < hf_simulation_samples(s); i++)
        if (!(t[i] >= t[i - 1]))
            fail_msg("%s: time goes back to %g s at sample %zu", what, t[i], i);
    const size_t n = hf_simulation_cells(s);
    double *w = malloc(3 * n * sizeof *w);
    assert_non_null(w);
    for (size_t i = 0; i < hf_simulation_samples(s); i++) {
        assert_int_equal(hf_simulation_profile(s, i, w, w + n, w + 2 * n), HF_OK);
        for (size_t c = 0; c < n; c++)
            if (!(w[c] > 0 && w[n + c] >= 0 && w[n + c] < 0.6 && w[2 * n + c] > 270 &&
                  w[2 * n + c] < 530))
                fail_msg("%s: radius %g, regain %g, %g K in cell %zu", what, w[c], w[n + c],
                         w[2 * n + c], c);
    }
    free(w);
    hf_simulation_statistics q;
    hf_simulation_get_statistics(s, &q);
    if (!(q.water_error < 1e-10 && q.energy_error < 1e-8))
        fail_msg("%s: water off by %g, energy by %g", what, q.water_error, q.energy_error);
}

/* Runs a step; where it stops, the sentence must say the time, the step and a reason. Returns 1 when it
 * finished. */
static int finishes(hf_simulation *s, const hf_step *step, const char *what)
{
    hf_simulation_statistics before, after;
    hf_simulation_get_statistics(s, &before);
    const hf_status status = hf_simulation_run(s, step, 1);
    hf_simulation_get_statistics(s, &after);
    const size_t tries = after.steps + after.rejected - before.steps - before.rejected;
    if ((double)tries > PATIENCE * step->passes)
        fail_msg("%s: %zu trial steps", what, tries);
    check_record(s, what);
    if (status == HF_OK)
        return 1;
    const char *why = hf_simulation_message(s);
    if (status != HF_ECONVERGE || !strstr(why, " s in step ") || !strstr(why, ": "))
        fail_msg("%s: status %d, \"%s\"", what, (int)status, why);
    return 0;
}

/* One of the ends of a range, or a number within. */
static double edge(uint64_t *seed, double low, double high)
{
    const double x = draw(seed, 0, 3);
    return x < 1 ? low : x < 2 ? high : draw(seed, low, high);
}

static double edge_log(uint64_t *seed, double low, double high)
{
    return exp(edge(seed, log(low), log(high)));
}

static hf_step any_step(uint64_t *seed)
{
    const double seconds = edge_log(seed, 1e-3, 2.592e6);
    switch ((int)draw(seed, 0, 6)) {
    case 0:
        return soak(seconds, edge(seed, 1, 99));
    case 1: {
        hf_step step = air(seconds, edge(seed, 2, 99), edge(seed, 0, 1), edge(seed, 0, 40));
        step.temperature_end = K(edge(seed, 2, 99));
        return step;
    }
    case 2:
        return air(seconds, edge(seed, 2, 250), NOT_GIVEN, edge(seed, 0, 40));
    case 3: {
        hf_step step = at(HF_STEP_STEAM, seconds, edge(seed, 40, 250));
        step.air_share = edge(seed, 0.002, 1);
        step.speed = edge(seed, 0, 40);
        return step;
    }
    case 4: {
        hf_step step = plates(seconds, edge(seed, 60, 250), 1, 0);
        step.heat_transfer = edge_log(seed, 1, 1e5);
        step.sides = edge(seed, 1, 2) > 1.5 ? 2 : 1;
        return step;
    }
    default:
        return rest(seconds);
    }
}

/* Diameters 30 to 240 um, plates 60 to 250 degC, regain 0 to 0.34, humidity 0 to 100 %, 1 ms to 30 days, 20 to
 * 800 cells, air on a mountain: corners and between. */
static void test_corners(void **unused)
{
    (void)unused;
    int finished = 0, stopped = 0;
    for (int n = 0; n < 300; n++) {
        uint64_t seed = 77 + (uint64_t)n;
        hf_fibre_description d = HF_FIBRE_DESCRIPTION_INIT;
        hf_room room = HF_ROOM_INIT;
        hf_simulation_options options = HF_SIMULATION_OPTIONS_INIT;
        d.diameter = edge(&seed, 30e-6, 240e-6);
        d.ellipticity = edge(&seed, 1, 3);
        d.temperature = K(edge(&seed, 5, 60));
        if (n % 2)
            d.regain = edge(&seed, 0, 0.315);
        else
            d.humidity = edge(&seed, 0, 1);
        d.film = n % 5 == 0 ? edge_log(&seed, 1e-6, 5) : 0;
        d.diffusion_law = n % 3;
        d.branch = n % 7 < 4 ? HF_ABSORPTION : HF_DESORPTION;
        room.temperature = K(edge(&seed, 5, 50));
        room.humidity = edge(&seed, 0, 0.99);
        room.pressure = edge(&seed, 5e4, 1.1e5);
        options.cells = n % 40 == 0 ? 800 : (size_t)edge(&seed, 20, 120);
        options.lumped = n % 4 == 3;
        options.tolerance = n % 10 ? 1e-5 : 1e-3;
        options.samples = 8;
        hf_simulation *s = simulate(&d, &room, &options);
        for (int i = 0; i < 3; i++) {
            const hf_step step = any_step(&seed);
            char what[80];
            snprintf(what, sizeof what, "draw %d, step %d (%s, %g s)", n, i + 1,
                     hf_step_word(step.kind), step.duration);
            if (hf_step_check(&step, &room, NULL) !=
                HF_OK) /* water boils, or air holds more than it can */
                continue;
            if (!finishes(s, &step, what)) {
                /* Nothing else stops one here, and frost only in cold air. */
                const double air = step.kind == HF_STEP_REST ? room.temperature : step.temperature;
                stopped++;
                if (!strstr(hf_simulation_message(s), "would freeze") ||
                    fmin(air, isnan(step.temperature_end) ? air : step.temperature_end) > K(12))
                    fail_msg("%s: %s", what, hf_simulation_message(s));
                break;
            }
            finished++;
        }
        hf_simulation_free(s);
    }
    print_message("  %d steps finished, %d stopped with a reason\n", finished, stopped);
    assert_true(stopped * 20 < finished);
}

/* Regain 0.34 is more than a fibre keeps out of water, but damp air in the cold gives it. */
static void test_wettest(void **unused)
{
    (void)unused;
    hf_fibre_description d = HF_FIBRE_DESCRIPTION_INIT;
    d.temperature = K(8);
    d.humidity = 1;
    hf_simulation *s = simulate(&d, NULL, NULL);
    assert_true(last(s, HF_COLUMN_REGAIN) > 0.34);
    const hf_step hot = plates(2, 250, 1, 0);
    assert_int_equal(finishes(s, &hot, "regain 0.34 at 250 degC"), 1);
    hf_simulation_free(s);
}

/* A thousand passes on a fibre soaked before; the record stays bounded. */
static void test_thousand_passes(void **unused)
{
    (void)unused;
    hf_simulation_options options = HF_SIMULATION_OPTIONS_INIT;
    options.keep_profiles = 0;
    hf_simulation *s = simulate(NULL, NULL, &options);
    const hf_step steps[] = {soak(300, 20), plates(1, 250, 1000, 5)};
    run(s, steps, COUNT_OF(steps));
    assert_true(hf_simulation_samples(s) < 8000);
    CHECK_CLOSE(last(s, HF_COLUMN_TIME), 300 + 1000 + 999 * 5, 1e-12, 0, "all passes and pauses");
    for (int c = 0; c < HF_COLUMNS; c++)
        assert_true(isfinite(last(s, (hf_column)c)));
    hf_simulation_statistics q;
    hf_simulation_get_statistics(s, &q);
    assert_true(q.water_error < 1e-10 && q.energy_error < 1e-8);
    assert_true(q.bytes < 8000000);
    hf_simulation_free(s);
}

/* Shortest and longest, and the same 30 days in one step or in many. */
static void test_short_and_long(void **unused)
{
    (void)unused;
    hf_simulation *s = simulate_at(0.315, 20);
    const hf_step spark = plates(1e-3, 250, 1, 0), month = air(2.592e6, 20, 0.3, 1);
    assert_int_equal(finishes(s, &spark, "1 ms at 250 degC"), 1);
    assert_true(last(s, HF_COLUMN_TEMPERATURE_AXIS) < K(60));
    assert_int_equal(finishes(s, &month, "30 days"), 1);
    CHECK_CLOSE(last(s, HF_COLUMN_REGAIN), hf_regain(0.3, K(20), HF_ABSORPTION, NULL), 1e-9, 0,
                "in balance with the air by then");
    hf_simulation_free(s);
}

/* ---- stopping --------------------------------------------------------------------------------------- */

/* A limit on the steps stops with a sentence; what was computed is kept, and the object can go on. */
static void test_step_cap(void **unused)
{
    (void)unused;
    hf_simulation_options options = HF_SIMULATION_OPTIONS_INIT;
    options.max_steps = 60;
    hf_simulation *s = simulate(NULL, NULL, &options);
    const hf_step steps[] = {soak(600, 20), plates(5, 200, 1, 0)};
    assert_int_equal(hf_simulation_run(s, steps, 2), HF_ECONVERGE);
    assert_non_null(strstr(hf_simulation_message(s), "more integrator steps than allowed"));
    assert_non_null(strstr(hf_simulation_message(s), " s in step 1"));
    assert_true(hf_simulation_samples(s) > 2 && last(s, HF_COLUMN_REGAIN) > 0.155);
    check_record(s, "stopped at 60 steps");
    const double reached = last(s, HF_COLUMN_TIME);
    const hf_step on = rest(1);
    assert_int_equal(hf_simulation_run(s, &on, 1), HF_OK);
    assert_true(last(s, HF_COLUMN_TIME) >= reached + 1);
    check_record(s, "and on");
    hf_simulation_free(s);
}

/* Water that would freeze: named as such, with time and place. */
static void test_frost(void **unused)
{
    (void)unused;
    hf_room room = HF_ROOM_INIT;
    hf_fibre_description d = HF_FIBRE_DESCRIPTION_INIT;
    room.temperature = d.temperature = K(5);
    room.humidity = 0;
    d.film = 1;
    hf_simulation *s = simulate(&d, &room, NULL);
    const hf_step dry = air(60, 2, 0, 20);
    assert_int_equal(hf_simulation_run(s, &dry, 1), HF_ECONVERGE);
    assert_non_null(
        strstr(hf_simulation_message(s), "at the surface: water at the surface would freeze"));
    check_record(s, "frost");
    hf_simulation_free(s);
}

static volatile sig_atomic_t stop;

/* Raised by the alarm in the middle of the run. */
static void raise_stop(int signal_number)
{
    (void)signal_number;
    stop = 1;
}

static void test_stop(void **unused)
{
    (void)unused;
    hf_simulation_options options = HF_SIMULATION_OPTIONS_INIT;
    options.stop = &stop;
    options.samples = 1000;
    options.cells = 100;
    const hf_step first = soak(600, 20), passes = plates(1, 230, 10000, 5);
    hf_simulation *s = simulate(NULL, NULL, &options);
    stop = 1;
    assert_int_equal(hf_simulation_run(s, &first, 1), HF_ESTOPPED);
    assert_non_null(strstr(hf_simulation_message(s), "stopped on request at 0 s in step 1"));
    hf_simulation_free(s);
    /* On a slow machine nothing has happened yet when the alarm goes off: then a later one. */
    double reached = 0;
    for (long wait = 50000; reached == 0 && wait < 900000; wait *= 2) {
        s = simulate(NULL, NULL, &options);
        stop = 0;
        (void)signal(SIGALRM, raise_stop);
        const struct itimerval soon = {{0, 0}, {0, wait}};
        assert_int_equal(setitimer(ITIMER_REAL, &soon, NULL), 0);
        assert_int_equal(hf_simulation_run(s, &passes, 1), HF_ESTOPPED);
        (void)signal(SIGALRM, SIG_DFL);
        assert_non_null(strstr(hf_simulation_message(s), "what was computed so far is kept"));
        reached = last(s, HF_COLUMN_TIME);
        check_record(s, "stopped by a signal");
        hf_simulation_free(s);
    }
    assert_true(reached > 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_corners),
        cmocka_unit_test(test_wettest),
        cmocka_unit_test(test_thousand_passes),
        cmocka_unit_test(test_short_and_long),
        cmocka_unit_test(test_step_cap),
        cmocka_unit_test(test_frost),
        cmocka_unit_test(test_stop),
    };
    return cmocka_run_group_tests_name("treatments under strain", tests, NULL, NULL);
}
