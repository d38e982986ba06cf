/* The interface of treatments: what is refused and with which words, copies that branch, starting over, events,
 * profiles, what each step does to a fibre. */
#include "treatment_kit.h"

#include <hairfibre/keratin.h>
#include <hairfibre/vapour.h>
#include <hairfibre/water.h>

/* ---- refusals --------------------------------------------------------------------------------------- */

static void refuse_fibre(hf_fibre_description d, hf_status want, const char *words)
{
    hf_fibre *fibre = NULL;
    hf_message why;
    assert_int_equal(hf_fibre_new(&fibre, &d, NULL, &why), want);
    assert_null(fibre);
    if (!strstr(why.text, words))
        fail_msg("\"%s\" lacks \"%s\"", why.text, words);
}

static void test_fibres_refused(void **unused)
{
    (void)unused;
    const hf_fibre_description usual = HF_FIBRE_DESCRIPTION_INIT;
    hf_fibre_description d = usual;
    d.diameter = 29e-6;
    refuse_fibre(d, HF_ERANGE, "diameter = 2.9e-05 m must lie between 3e-05 and 0.00024");
    d.diameter = NOT_GIVEN;
    refuse_fibre(d, HF_EINVAL, "diameter");
    d = usual;
    d.ellipticity = 3.1;
    refuse_fibre(d, HF_ERANGE, "ellipticity");
    d = usual;
    d.medulla = -0.1;
    refuse_fibre(d, HF_ERANGE, "medulla");
    d = usual;
    d.temperature = 250;
    refuse_fibre(d, HF_ERANGE, "temperature");
    d = usual;
    d.humidity = 1.2;
    refuse_fibre(d, HF_ERANGE, "humidity");
    d = usual;
    d.regain = 0.34;
    refuse_fibre(d, HF_ERANGE, "regain = 0.34 kg/kg must lie between 0 and 0.315");
    d = usual;
    d.film = HUGE_VAL;
    refuse_fibre(d, HF_EINVAL, "film");
    d = usual;
    d.diffusion_law = 3;
    refuse_fibre(d, HF_EINVAL, "diffusion_law");
    assert_int_equal(hf_fibre_new(NULL, &usual, NULL, NULL), HF_EINVAL);
    hf_fibre *fibre;
    assert_int_equal(hf_fibre_new(&fibre, NULL, NULL, NULL), HF_EINVAL);
    hf_fibre_free(NULL);
}

static void refuse_options(hf_simulation_options o, hf_status want, const char *words)
{
    const hf_fibre_description d = HF_FIBRE_DESCRIPTION_INIT;
    hf_fibre *fibre;
    hf_simulation *s = NULL;
    hf_message why;
    assert_int_equal(hf_fibre_new(&fibre, &d, NULL, NULL), HF_OK);
    assert_int_equal(hf_simulation_new(&s, fibre, NULL, &o, &why), want);
    assert_null(s);
    if (!strstr(why.text, words))
        fail_msg("\"%s\" lacks \"%s\"", why.text, words);
    hf_fibre_free(fibre);
}

static void test_simulations_refused(void **unused)
{
    (void)unused;
    const hf_simulation_options usual = HF_SIMULATION_OPTIONS_INIT;
    hf_simulation_options o = usual;
    o.cells = 19;
    refuse_options(o, HF_ERANGE, "cells = 19 must lie between 20 and 800");
    o = usual;
    o.tolerance = NOT_GIVEN;
    refuse_options(o, HF_EINVAL, "tolerance");
    o = usual;
    o.samples = 1001;
    refuse_options(o, HF_ERANGE, "samples");
    o = usual;
    o.zones = 33;
    refuse_options(o, HF_ERANGE, "zones");
    o = usual;
    o.max_steps = 1;
    refuse_options(o, HF_ERANGE, "max_steps");
    hf_fibre_description d = HF_FIBRE_DESCRIPTION_INIT;
    hf_room room = HF_ROOM_INIT;
    hf_fibre *fibre;
    hf_simulation *s = NULL;
    hf_message why;
    room.pressure = 2e5;
    assert_int_equal(hf_fibre_new(&fibre, &d, NULL, NULL), HF_OK);
    assert_int_equal(hf_simulation_new(&s, fibre, &room, NULL, &why), HF_ERANGE);
    assert_non_null(
        strstr(why.text, "room: pressure = 200000 Pa must lie between 50000 and 110000"));
    assert_int_equal(hf_simulation_new(NULL, fibre, NULL, NULL, NULL), HF_EINVAL);
    assert_int_equal(hf_simulation_new(&s, NULL, NULL, NULL, NULL), HF_EINVAL);
    hf_fibre_free(fibre);
    d.film = 0.1;
    d.temperature = K(95);
    room.pressure = 6e4;
    assert_int_equal(hf_fibre_new(&fibre, &d, NULL, NULL), HF_OK);
    assert_int_equal(hf_simulation_new(&s, fibre, &room, NULL, &why), HF_ERANGE);
    assert_non_null(strstr(why.text, "would boil under 60000 Pa"));
    hf_fibre_free(fibre);
    assert_null(s);
}

static void refuse_step(hf_step step, hf_status want, const char *words)
{
    const hf_room room = HF_ROOM_INIT;
    hf_message why;
    assert_int_equal(hf_step_check(&step, &room, &why), want);
    if (!strstr(why.text, words))
        fail_msg("\"%s\" lacks \"%s\"", why.text, words);
}

static void test_steps_refused(void **unused)
{
    (void)unused;
    refuse_step(soak(600, 100), HF_ERANGE, "soak: temperature = 373.15 K must lie between");
    refuse_step(soak(1e-4, 20), HF_ERANGE, "soak: duration = 0.0001 s must lie between 0.001 and");
    refuse_step(soak(3e6, 20), HF_ERANGE, "duration");
    refuse_step((hf_step)HF_STEP_INIT(HF_STEP_SOAK, 60), HF_EINVAL, "soak: temperature is missing");
    refuse_step(blot(-0.1), HF_ERANGE, "blot: film");
    refuse_step(air(60, 120, 0.5, 1), HF_ERANGE, "humidity has no meaning at or above 100 degC");
    refuse_step(air(60, 30, 1.5, 1), HF_ERANGE, "air: humidity");
    refuse_step(air(60, 30, 0.5, 50), HF_ERANGE, "air: speed");
    refuse_step(air(60, NOT_GIVEN, 0.5, 1), HF_EINVAL, "air: temperature is missing");
    refuse_step(plates(1, 251, 1, 0), HF_ERANGE, "plates: temperature");
    refuse_step(plates(1, 200, 1.5, 0), HF_EINVAL, "passes = 1.5 must be a whole number");
    refuse_step(plates(1, 200, 0, 0), HF_ERANGE, "plates: passes");
    refuse_step(plates(1, 200, 2, -1), HF_ERANGE, "plates: interval");
    refuse_step(at(HF_STEP_STEAM, 10, 30), HF_ERANGE, "steam: temperature");
    hf_step step = air(60, 30, NOT_GIVEN, 1);
    step.humidity_end = 0.5;
    refuse_step(step, HF_EINVAL, "humidity_end needs a humidity");
    step = rest(10);
    step.kind = (hf_step_kind)99;
    refuse_step(step, HF_EINVAL, "unknown kind");
    assert_int_equal(hf_step_check(NULL, NULL, NULL), HF_EINVAL);
    assert_null(hf_step_word((hf_step_kind)HF_STEP_KINDS));
    assert_string_equal(hf_step_word(HF_STEP_PLATES), "plates");
    /* Water at 95 degC boils on a mountain. */
    hf_room mountain = HF_ROOM_INIT;
    mountain.pressure = 6e4;
    const hf_step hot = soak(60, 95);
    hf_message why;
    assert_int_equal(hf_step_check(&hot, &mountain, &why), HF_ERANGE);
    assert_non_null(strstr(why.text, "above the pressure of the room"));
}

/* A bad step anywhere in the list: nothing runs. */
static void test_schedule_is_checked_first(void **unused)
{
    (void)unused;
    hf_simulation *s = simulate(NULL, NULL, NULL);
    const hf_step steps[] = {soak(600, 20), plates(1, 300, 1, 0)};
    assert_int_equal(hf_simulation_run(s, steps, 2), HF_ERANGE);
    assert_non_null(strstr(hf_simulation_message(s), "step 2, plates: temperature"));
    assert_int_equal(hf_simulation_samples(s), 1);
    assert_int_equal(hf_simulation_event_count(s), 0);
    assert_int_equal(hf_simulation_run(s, NULL, 0), HF_OK);
    assert_int_equal(hf_simulation_run(s, NULL, 1), HF_EINVAL);
    assert_int_equal(hf_simulation_run(NULL, steps, 1), HF_EINVAL);
    hf_simulation_free(s);
}

static void test_nobody_home(void **unused)
{
    (void)unused;
    hf_event event;
    hf_simulation *s = NULL;
    assert_int_equal(hf_simulation_samples(NULL), 0);
    assert_null(hf_simulation_column(NULL, HF_COLUMN_TIME));
    assert_int_equal(hf_simulation_event_count(NULL), 0);
    assert_int_equal(hf_simulation_event(NULL, 0, &event), HF_EINVAL);
    assert_int_equal(hf_simulation_profile(NULL, 0, NULL, NULL, NULL), HF_EINVAL);
    assert_int_equal(hf_simulation_copy(&s, NULL), HF_EINVAL);
    assert_int_equal(hf_simulation_sulfur(NULL, NULL), HF_EINVAL);
    assert_int_equal(hf_simulation_zones(NULL), 0);
    assert_true(isnan(hf_simulation_zone_growth(NULL, 0)));
    hf_simulation_get_statistics(NULL, NULL);
    hf_simulation_free(NULL);
    s = simulate(NULL, NULL, NULL);
    assert_null(hf_simulation_column(s, (hf_column)HF_COLUMNS));
    assert_null(hf_column_at(HF_COLUMNS));
    assert_null(hf_event_word((hf_event_kind)HF_EVENT_KINDS));
    assert_int_equal(hf_simulation_event(s, 0, &event), HF_ERANGE);
    assert_int_equal(hf_simulation_profile(s, 1, NULL, NULL, NULL), HF_ERANGE);
    assert_true(isnan(hf_simulation_zone_radius(s, 99)));
    assert_true(isnan(hf_simulation_zone_channel(s, 0, (hf_channel)HF_CHANNELS)));
    assert_string_equal(hf_simulation_message(s), "");
    hf_simulation_free(s);
    hf_simulation_options o = HF_SIMULATION_OPTIONS_INIT;
    o.keep_profiles = 0;
    s = simulate(NULL, NULL, &o);
    assert_int_equal(hf_simulation_profile(s, 0, NULL, NULL, NULL), HF_EDATA);
    hf_simulation_free(s);
}

/* ---- copies, starting over -------------------------------------------------------------------------- */

static void check_same(const hf_simulation *a, const hf_simulation *b)
{
    assert_int_equal(hf_simulation_samples(a), hf_simulation_samples(b));
    assert_int_equal(hf_simulation_event_count(a), hf_simulation_event_count(b));
    for (int c = 0; c < HF_COLUMNS; c++)
        assert_memory_equal(hf_simulation_column(a, (hf_column)c),
                            hf_simulation_column(b, (hf_column)c),
                            hf_simulation_samples(a) * sizeof(double));
    for (size_t z = 0; z < hf_simulation_zones(a); z++)
        assert_true(hf_simulation_zone_growth(a, z) == hf_simulation_zone_growth(b, z));
    double w[2][60], T[2][60];
    for (size_t i = 0; i < hf_simulation_samples(a); i++) {
        assert_int_equal(hf_simulation_profile(a, i, NULL, w[0], T[0]), HF_OK);
        assert_int_equal(hf_simulation_profile(b, i, NULL, w[1], T[1]), HF_OK);
        assert_memory_equal(w[0], w[1], sizeof w[0]);
        assert_memory_equal(T[0], T[1], sizeof T[0]);
    }
}

/* One run in pieces, on a copy and on the original, gives the same bits; the copy leaves the original be. */
static void test_branching(void **unused)
{
    (void)unused;
    const hf_step steps[] = {soak(300, 25), blot(0.1), air(60, 60, NOT_GIVEN, 5),
                             plates(1, 190, 2, 3), rest(100)};
    for (int lumped = 0; lumped < 2; lumped++)
        for (size_t split = 0; split <= COUNT_OF(steps); split++) {
            hf_simulation_options o = HF_SIMULATION_OPTIONS_INIT;
            o.lumped = lumped;
            hf_simulation *whole = simulate(NULL, NULL, &o), *parts = simulate(NULL, NULL, &o),
                          *copy;
            run(whole, steps, COUNT_OF(steps));
            run(parts, steps, split);
            assert_int_equal(hf_simulation_copy(&copy, parts), HF_OK);
            check_same(parts, copy);
            run(copy, steps + split, COUNT_OF(steps) - split);
            check_same(whole, copy);
            hf_simulation_free(copy);
            run(parts, steps + split, COUNT_OF(steps) - split); /* undisturbed by the copy */
            check_same(whole, parts);
            hf_simulation_free(parts);
            hf_simulation_free(whole);
        }
}

static void test_starting_over(void **unused)
{
    (void)unused;
    const hf_step steps[] = {soak(60, 25), blot(0.1), plates(1, 190, 2, 3)};
    hf_simulation *s = simulate_at(0.3, 20), *fresh = simulate(NULL, NULL, NULL);
    run(s, steps, COUNT_OF(steps));
    const hf_fibre_description d = HF_FIBRE_DESCRIPTION_INIT;
    hf_fibre *fibre;
    assert_int_equal(hf_fibre_new(&fibre, &d, NULL, NULL), HF_OK);
    assert_int_equal(hf_simulation_reset(s, fibre, NULL), HF_OK);
    run(s, steps, COUNT_OF(steps));
    run(fresh, steps, COUNT_OF(steps));
    check_same(s, fresh);
    assert_int_equal(hf_simulation_reset(NULL, fibre, NULL), HF_EINVAL);
    hf_fibre_free(fibre);
    hf_simulation_free(s);
    hf_simulation_free(fresh);
}

/* ---- what steps do ----------------------------------------------------------------------------------- */

static void test_events(void **unused)
{
    (void)unused;
    hf_simulation *s = simulate(NULL, NULL, NULL);
    const hf_step steps[] = {soak(120, 20), blot(0.05), plates(3, 200, 1, 0), rest(10)};
    run(s, steps, COUNT_OF(steps));
    double before = 0;
    int seen[HF_EVENT_KINDS] = {0};
    hf_event event;
    for (size_t i = 0; i < hf_simulation_event_count(s); i++) {
        assert_int_equal(hf_simulation_event(s, i, &event), HF_OK);
        assert_true(event.time >= before && event.step >= 1 && event.step <= COUNT_OF(steps));
        assert_non_null(hf_event_word(event.kind));
        before = event.time;
        seen[event.kind]++;
    }
    assert_int_equal(seen[HF_EVENT_STEP], 4);
    assert_int_equal(seen[HF_EVENT_FILM_GONE], 1);
    assert_int_equal(seen[HF_EVENT_BOILS], 1);
    assert_int_equal(seen[HF_EVENT_VOIDS], 1);
    /* Film, then boiling inside, then voids; boiling where the record says the pressure passes ambient. */
    const double gone = time_of_event(s, HF_EVENT_FILM_GONE),
                 boils = time_of_event(s, HF_EVENT_BOILS);
    assert_true(gone > 120 && gone < boils && boils < time_of_event(s, HF_EVENT_VOIDS));
    const double *t = hf_simulation_column(s, HF_COLUMN_TIME);
    const double *peak = hf_simulation_column(s, HF_COLUMN_PRESSURE_PEAK);
    const double *film = hf_simulation_column(s, HF_COLUMN_FILM);
    for (size_t i = 0; i < hf_simulation_samples(s); i++) {
        assert_true(!(t[i] > 120 && t[i] < 123) || (t[i] < boils) == (peak[i] < 101325));
        assert_true(!(t[i] > 120) || (t[i] < gone) == (film[i] > 0));
    }
    hf_simulation_free(s);
}

/* Without surroundings to speak of a film takes in its latent heat from the fibre: wet bulb. */
static void test_wet_bulb(void **unused)
{
    (void)unused;
    hf_fibre_description d = HF_FIBRE_DESCRIPTION_INIT;
    d.film = 4;
    d.regain = 0.315;
    hf_simulation *s = simulate(&d, NULL, NULL);
    run_one(s, air(4, 50, 0.2, 5));
    assert_true(last(s, HF_COLUMN_FILM) > 0);
    const double T = last(s, HF_COLUMN_TEMPERATURE);
    /* p_s - p_v = gamma (T_air - T): psychrometer constant of a thin wire by Lewis, 0.0595 to 0.067 kPa/K. */
    const double p = hf_saturation_pressure(T) - 0.2 * hf_saturation_pressure(K(50));
    CHECK_CLOSE(p / (K(50) - T), 63, 0, 4, "psychrometric relation, Le^(2/3) of 0.85 to 0.92");
    print_message("  wet bulb %.2f degC, %.1f Pa/K\n", T - 273.15, p / (K(50) - T));
    hf_simulation_free(s);
}

static void test_soak_and_blot(void **unused)
{
    (void)unused;
    hf_simulation *s = simulate(NULL, NULL, NULL);
    run_one(s, soak(1800, 30));
    CHECK_CLOSE(last(s, HF_COLUMN_REGAIN), 0.315, 1e-4, 0, "liquid retention");
    CHECK_CLOSE(last(s, HF_COLUMN_TEMPERATURE), K(30), 1e-6, 0, "of the water");
    run_one(s, blot(0.2));
    CHECK_CLOSE(last(s, HF_COLUMN_FILM), 0.2, 1e-12, 0, "film left");
    run_one(s, blot(0.4));
    CHECK_CLOSE(last(s, HF_COLUMN_FILM), 0.2, 1e-12, 0, "blotting adds nothing");
    run_one(s, blot(0));
    CHECK_CLOSE(last(s, HF_COLUMN_FILM), 0, 0, 0, "film off");
    hf_simulation_free(s);
}

/* Plates heated from one side, through a worse contact, or with one pass of two in two steps. */
static void test_plates(void **unused)
{
    (void)unused;
    hf_step both = plates(0.05, 180, 1, 0), one = both, worse = both;
    one.sides = 1;
    worse.heat_transfer = 500; /* the usual 1000, halved */
    hf_simulation *a = simulate(NULL, NULL, NULL), *b = simulate(NULL, NULL, NULL),
                  *c = simulate(NULL, NULL, NULL);
    run_one(a, both);
    run_one(b, one);
    run_one(c, worse);
    assert_true(last(a, HF_COLUMN_TEMPERATURE) > last(b, HF_COLUMN_TEMPERATURE) + 10);
    CHECK_CLOSE(last(b, HF_COLUMN_TEMPERATURE), last(c, HF_COLUMN_TEMPERATURE), 1e-12, 0,
                "one side is half the coefficient");
    hf_simulation_free(a);
    hf_simulation_free(b);
    hf_simulation_free(c);
    a = simulate_at(0.3, 20);
    b = simulate_at(0.3, 20);
    run_one(a, plates(1, 180, 2, 5));
    const hf_step apart[] = {plates(1, 180, 1, 0), rest(5), plates(1, 180, 1, 0)};
    run(b, apart, 3);
    CHECK_CLOSE(last(a, HF_COLUMN_REGAIN), last(b, HF_COLUMN_REGAIN), 1e-12, 0, "the same passes");
    CHECK_CLOSE(last(a, HF_COLUMN_VOID_GROWTH), last(b, HF_COLUMN_VOID_GROWTH), 1e-9, 0,
                "the same passes");
    CHECK_CLOSE(last(a, HF_COLUMN_TIME), 7, 1e-12, 0, "1 + 5 + 1 s");
    hf_simulation_free(a);
    hf_simulation_free(b);
}

/* A ramp ends where it says, and half way is half way. */
static void test_ramp(void **unused)
{
    (void)unused;
    hf_step step = air(2000, 20, 0.5, 2);
    step.temperature_end = K(60);
    step.humidity_end = 0.5;
    hf_simulation *s = simulate(NULL, NULL, NULL);
    run_one(s, step);
    CHECK_CLOSE(last(s, HF_COLUMN_TEMPERATURE), K(60), 0, 0.05, "follows the air within 50 mK");
    for (size_t i = 0; i < hf_simulation_samples(s); i++)
        CHECK_CLOSE(hf_simulation_column(s, HF_COLUMN_TEMPERATURE)[i],
                    K(20 + 0.02 * hf_simulation_column(s, HF_COLUMN_TIME)[i]), 0, 0.5,
                    "linear in time");
    hf_simulation_free(s);
}

/* Steam condenses on a cold fibre and warms it to 100 degC. */
static void test_steam(void **unused)
{
    (void)unused;
    hf_simulation *s = simulate_at(0.1, 20);
    run_one(s, at(HF_STEP_STEAM, 20, 100));
    assert_true(time_of_event(s, HF_EVENT_FILM_FORMS) >= 0);
    assert_true(last(s, HF_COLUMN_WATER_LOST) < -0.05);
    CHECK_CLOSE(last(s, HF_COLUMN_TEMPERATURE), K(100), 0, 1,
                "temperature of the steam, 1 % air in it");
    hf_simulation_free(s);
}

/* Columns belong together: diameters and pressures are those of the state beside them. */
static void test_columns(void **unused)
{
    (void)unused;
    hf_simulation *s = simulate_at(0.3, 20);
    run_one(s, plates(2, 140, 1, 0));
    for (size_t i = 1; i < hf_simulation_samples(s); i++) {
        const double w = hf_simulation_column(s, HF_COLUMN_REGAIN_AXIS)[i];
        const double T = hf_simulation_column(s, HF_COLUMN_TEMPERATURE_AXIS)[i];
        double p, Tg, Td;
        assert_false(hf_failed(
            hf_internal_vapour_pressure_e(T, w, HF_ABSORPTION, NULL, HF_EXTRAPOLATE, &p)));
        assert_false(hf_failed(hf_glass_transition_e(w, NULL, HF_EXTRAPOLATE, &Tg)));
        assert_false(hf_failed(hf_denaturation_temperature_e(w, NULL, HF_EXTRAPOLATE, &Td)));
        CHECK_CLOSE(hf_simulation_column(s, HF_COLUMN_PRESSURE_AXIS)[i], p, 1e-12, 0,
                    "room vapour");
        CHECK_CLOSE(hf_simulation_column(s, HF_COLUMN_GLASS_AXIS)[i], Tg, 1e-12, 0, "room keratin");
        CHECK_CLOSE(hf_simulation_column(s, HF_COLUMN_DENATURATION_AXIS)[i], Td, 1e-12, 0,
                    "room keratin");
        double radius[60], regain[60], temperature[60], nearest = HUGE_VAL;
        assert_int_equal(hf_simulation_profile(s, i, radius, regain, temperature), HF_OK);
        /* The peak is the pressure of a cell, and no less than on the axis. */
        const double peak = hf_simulation_column(s, HF_COLUMN_PRESSURE_PEAK)[i];
        for (size_t c = 0; c < 60; c++) {
            double inside;
            assert_false(hf_failed(hf_internal_vapour_pressure_e(
                temperature[c], regain[c], HF_ABSORPTION, NULL, HF_EXTRAPOLATE, &inside)));
            nearest = fmin(nearest, fabs(inside / peak - 1));
        }
        CHECK_CLOSE(nearest, 0, 0, 1e-9, "the series between neighbours");
        assert_true(peak >= p);
        assert_true(2 * radius[59] < hf_simulation_column(s, HF_COLUMN_DIAMETER)[i]);
        for (size_t c = 1; c < 60; c++)
            assert_true(radius[c] > radius[c - 1]);
    }
    assert_int_equal(hf_simulation_extrapolated(s), 0);
    run_one(s, plates(2, 160, 1, 0));
    assert_int_equal(hf_simulation_extrapolated(s), 1);
    hf_simulation_free(s);
}

/* As measured at 65 %: the diameter given is the diameter there. */
static void test_diameter(void **unused)
{
    (void)unused;
    hf_fibre_description d = HF_FIBRE_DESCRIPTION_INIT;
    d.humidity = 0.65;
    hf_simulation *s = simulate(&d, NULL, NULL);
    CHECK_CLOSE(last(s, HF_COLUMN_DIAMETER), 70e-6, 1e-12, 0, "as measured");
    hf_simulation_free(s);
    /* A flat fibre has more surface for its section: it dries faster. */
    double left[2];
    for (int flat = 0; flat < 2; flat++) {
        d.ellipticity = flat ? 2.5 : 1;
        d.regain = 0.315;
        d.film = 1;
        s = simulate(&d, NULL, NULL);
        run_one(s, air(3, 40, 0.3, 2));
        left[flat] = last(s, HF_COLUMN_FILM);
        hf_simulation_free(s);
    }
    CHECK_CLOSE(
        (1 - left[1]) / (1 - left[0]), 1.15823, 0.01, 0,
        "perimeter of an ellipse of 2.5:1 over that of the circle of its area, summed by chords");
}

/* Channels under constant heat are their rate times the time: what is worked out from grids and series on the way
 * is what the laws give. */
static void test_rates_on_the_way(void **unused)
{
    (void)unused;
    static const double celsius[] = {120, 150.3, 185, 219.7, 250};
    for (size_t i = 0; i < COUNT_OF(celsius); i++) {
        hf_simulation *s = simulate_at(0, 20);
        const hf_step hot = plates(200, celsius[i], 1, 0);
        run_one(s, plates(1e5, celsius[i], 1, 0)); /* until nothing moves any more */
        hf_simulation *copy;
        assert_int_equal(hf_simulation_copy(&copy, s), HF_OK);
        run_one(copy, hot);
        const double T = last(s, HF_COLUMN_TEMPERATURE_AXIS), w = last(s, HF_COLUMN_REGAIN_AXIS);
        for (int c = 0; c < HF_CHANNELS; c++) {
            double rate = 0;
            assert_false(
                hf_failed(hf_channel_rate_e((hf_channel)c, T, w, NULL, HF_EXTRAPOLATE, &rate)));
            const double before = hf_simulation_zone_channel(s, 0, (hf_channel)c);
            const double after = hf_simulation_zone_channel(copy, 0, (hf_channel)c);
            if (rate * 1.002e5 < 700) /* still a number */
                CHECK_CLOSE(log(before / after), 200 * rate, 1e-6, 1e-11,
                            "first order, constant rate");
        }
        hf_simulation_free(copy);
        hf_simulation_free(s);
    }
}

/* A cycle is a rise and a fall; drying alone is none. */
static void test_swelling_cycles(void **unused)
{
    (void)unused;
    hf_simulation *s = simulate_at(0.3, 20);
    const hf_step dry = air(600, 60, 0.05, 5), wet = soak(300, 20);
    run_one(s, dry);
    CHECK_CLOSE(last(s, HF_COLUMN_SWELLING_CYCLES), 0, 0, 0, "dried only");
    for (int cycle = 1; cycle <= 3; cycle++) {
        const hf_step both[] = {wet, blot(0), dry};
        run(s, both, 3);
        CHECK_CLOSE(last(s, HF_COLUMN_SWELLING_CYCLES), cycle, 0, 0, "wetted and dried");
    }
    hf_simulation_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_fibres_refused),  cmocka_unit_test(test_simulations_refused),
        cmocka_unit_test(test_steps_refused),   cmocka_unit_test(test_schedule_is_checked_first),
        cmocka_unit_test(test_nobody_home),     cmocka_unit_test(test_branching),
        cmocka_unit_test(test_starting_over),   cmocka_unit_test(test_events),
        cmocka_unit_test(test_wet_bulb),        cmocka_unit_test(test_soak_and_blot),
        cmocka_unit_test(test_plates),          cmocka_unit_test(test_ramp),
        cmocka_unit_test(test_steam),           cmocka_unit_test(test_columns),
        cmocka_unit_test(test_diameter),        cmocka_unit_test(test_rates_on_the_way),
        cmocka_unit_test(test_swelling_cycles),
    };
    return cmocka_run_group_tests_name("treatments", tests, NULL, NULL);
}
