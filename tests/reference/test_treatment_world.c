/* Treatments against what was seen in the world. Every row says what it is for the model:
 *
 *   calibrates   the model was set by it; the check only tells that it still is
 *   tests        it was not used; the check says how well the model does
 *   missed       a test that the model does not pass: by how much is asserted, so that a change in either
 *                direction is seen and docs/models.md put right
 *
 * Sources (docs/sources.bib): ams-hygrometer, yamamoto2002, oconnor1995, lee2011, gamezgarcia2011,
 * gummer1994, detwiler1994. The marks of how each is known stand beside the checks. */
#include "../unit/treatment_kit.h"

#include <hairfibre/ensemble.h>
#include <hairfibre/keratin.h>

#define ONSET    0.5   /* void.onset */
#define SOAKED   0.315 /* regain of a fibre out of water (void.viscosity calibration) */
#define ONE_PASS 1.0   /* s: a plate of 25 mm at 25 mm/s (gamezgarcia2011: 1 inch per second) */

static double fill(const hf_simulation *s, hf_column column, size_t i)
{
    return hf_simulation_column(s, column)[i];
}

/* Time at which a column has gone a share of the way from its first to a last value. */
static double time_of_share(const hf_simulation *s, hf_column column, double end, double share)
{
    const double start = fill(s, column, 0), want = start + share * (end - start);
    for (size_t i = 1; i < hf_simulation_samples(s); i++) {
        const double a = fill(s, column, i - 1), b = fill(s, column, i);
        if ((a - want) * (b - want) <= 0 && a != b) {
            const double t = fill(s, HF_COLUMN_TIME, i - 1);
            return t + (want - a) / (b - a) * (fill(s, HF_COLUMN_TIME, i) - t);
        }
    }
    return HUGE_VAL;
}

/* Void growth after one step from this regain. */
static double growth_after(double regain, hf_step step)
{
    hf_simulation_options options = HF_SIMULATION_OPTIONS_INIT;
    hf_fibre_description d = HF_FIBRE_DESCRIPTION_INIT;
    options.keep_profiles = 0;
    options.samples = 2;
    d.regain = regain;
    hf_simulation *s = simulate(&d, NULL, &options);
    run_one(s, step);
    const double growth = last(s, HF_COLUMN_VOID_GROWTH);
    hf_simulation_free(s);
    return growth;
}

static double pressed(double regain, double celsius, double seconds)
{
    return growth_after(regain, plates(seconds, celsius, 1, 0));
}

/* Temperature of plates, or of air at 10 m/s, at which voids set in. */
static double onset_of(double regain, double seconds, int in_air)
{
    double low = 95, high = 250;
    while (high - low > 0.05) {
        const double middle = 0.5 * (low + high);
        const hf_step step =
            in_air ? air(seconds, middle, NOT_GIVEN, 10) : plates(seconds, middle, 1, 0);
        if (growth_after(regain, step) >= ONSET)
            high = middle;
        else
            low = middle;
    }
    return 0.5 * (low + high);
}

/* ---- water at room temperature ---------------------------------------------------------------------- */

static double hygrometer(double from, double to, double celsius, int law)
{
    hf_fibre_description d = HF_FIBRE_DESCRIPTION_INIT;
    hf_simulation_options options = HF_SIMULATION_OPTIONS_INIT;
    hf_room room = HF_ROOM_INIT;
    options.samples = 400;
    options.keep_profiles = 0;
    d.humidity = from;
    d.temperature = room.temperature = K(celsius);
    d.diffusion_law = law;
    hf_simulation *s = simulate(&d, &room, &options);
    run_one(s, air(law ? 4e4 : 4000, celsius, to, 1));
    const double t = time_of_share(s, HF_COLUMN_REGAIN, last(s, HF_COLUMN_REGAIN), 0.9);
    hf_simulation_free(s);
    return t;
}

/* calibrates: 90 % of a sudden change in about 3 min, 0 to 30 degC, 20 to 80 % (ams-hygrometer, read). The
 * midpoint and width of the diffusivity were chosen by it. "About": a factor of 2 either way.
 * tests: slower when cold (same entry); follows from the sign of the activation energy.
 * missed by the rival law, which is why it is the rival. */
static void test_hygrometer(void **unused)
{
    (void)unused;
    static const double from[] = {0.2, 0.8, 0.45, 0.55}, to[] = {0.8, 0.2, 0.55, 0.45};
    for (size_t i = 0; i < COUNT_OF(from); i++) {
        const double t = hygrometer(from[i], to[i], 20, 0),
                     rival = hygrometer(from[i], to[i], 20, 1);
        print_message(
            "  calibrates: %2.0f to %2.0f %%, 90 %% after %.0f s (about 180 s); rival law %.0f s\n",
            100 * from[i], 100 * to[i], t, rival);
        assert_true(t > 90 && t < 360);
        assert_true(rival > 720);
    }
    const double cold = hygrometer(0.45, 0.55, 5, 0), warm = hygrometer(0.45, 0.55, 30, 0);
    print_message("  tests: 5 degC %.0f s, 30 degC %.0f s\n", cold, warm);
    assert_true(cold > 1.2 * warm && cold < 540 && warm > 60);
}

/* calibrates: a hair laid in water is thickest after about 2 min (yamamoto2002, abstract): the wet end of the
 * diffusivity, set with a cylinder of constant size, where 93 % is reached by then.
 * missed, a little, by the whole model: 90 % of the growth of the diameter takes 127 s.
 * tests: swelling in water is over within the first few minutes (oconnor1995, abstract): 5 min taken.
 * tests or missed, as one reads it: 112 +- 2.5 % of the diameter before (yamamoto2002; whether "before" was dry
 * or room air could not be read). From dry the model meets it, from room air it stays 4 points short. */
static void test_wetting(void **unused)
{
    (void)unused;
    hf_simulation_options options = HF_SIMULATION_OPTIONS_INIT;
    options.samples = 1000;
    options.keep_profiles = 0;
    hf_fibre_description d = HF_FIBRE_DESCRIPTION_INIT;
    d.humidity = 0.5;
    hf_simulation *s = simulate(&d, NULL, &options);
    run_one(s, soak(1500, 20));
    const double end = last(s, HF_COLUMN_DIAMETER), start = fill(s, HF_COLUMN_DIAMETER, 0);
    const double t90 = time_of_share(s, HF_COLUMN_DIAMETER, end, 0.9);
    const double t99 = time_of_share(s, HF_COLUMN_DIAMETER, end, 0.99);
    print_message(
        "  missed: 90 %% of the swelling after %.0f s (over by about 120 s), 99 %% after %.0f s\n",
        t90, t99);
    CHECK_CLOSE(t90, 127, 0, 4, "docs/models.md says so");
    assert_true(t99 < 300);
    const double dry = start / (1 + hf_diameter_swelling(fill(s, HF_COLUMN_REGAIN, 0), 0, NULL));
    print_message(
        "  tests: %.1f %% thicker than dry; missed: %.1f %% thicker than in room air (12 +- 2.5)\n",
        100 * (end / dry - 1), 100 * (end / start - 1));
    CHECK_CLOSE(end / dry, 1.12, 0, 0.025, "yamamoto2002, one standard deviation between hairs");
    CHECK_CLOSE(end / start, 1.079, 0, 0.004, "docs/models.md says so");
    hf_simulation_free(s);
}

/* ---- dryers ------------------------------------------------------------------------------------------ */

/* tests: air of 47 degC for 60 s, 61 for 30 s, 95 for 15 s, thirty times on washed hair, leaves the cortex
 * whole (lee2011, abstract). Speed not read: still air and 15 m/s bound it. */
static void test_warm_air_makes_no_voids(void **unused)
{
    (void)unused;
    static const double celsius[] = {47, 61, 95}, seconds[] = {60, 30, 15}, speed[] = {0, 15};
    hf_simulation_options options = HF_SIMULATION_OPTIONS_INIT;
    options.keep_profiles = 0;
    options.samples = 4;
    for (size_t i = 0; i < 6; i++) {
        hf_simulation *s = simulate(NULL, NULL, &options);
        for (int cycle = 0; cycle < 30; cycle++) {
            const hf_step steps[] = {soak(120, 30), blot(0.3),
                                     air(seconds[i % 3], celsius[i % 3], NOT_GIVEN, speed[i / 3])};
            run(s, steps, COUNT_OF(steps));
        }
        CHECK_CLOSE(last(s, HF_COLUMN_VOID_GROWTH), 0, 0, 0, "lee2011: no damage of the cortex");
        assert_true(isnan(time_of_event(s, HF_EVENT_BOILS)));
        assert_true(last(s, (hf_column)(HF_COLUMN_CHANNELS + HF_CHANNEL_HELIX)) > 0.999);
        hf_simulation_free(s);
    }
}

/* tests: bubbles in hair under a dryer from 175 to 215 degC on (detwiler1994, thresholds second-hand; time and
 * moisture not read). Damp hair in air of 175 degC and more makes them here too.
 * missed as a threshold: voids set in far below, 127 degC for soaked hair in a minute, 136 for conditioned
 * hair, unless the hot air lasts only a second on conditioned hair (173). */
static void test_hot_air(void **unused)
{
    (void)unused;
    static const double regain[] = {0.15, 0.25, SOAKED};
    for (size_t i = 0; i < COUNT_OF(regain); i++) {
        for (double celsius = 175; celsius <= 215; celsius += 20)
            assert_true(growth_after(regain[i], air(5, celsius, NOT_GIVEN, 10)) > ONSET);
        const double second = onset_of(regain[i], 1, 1), minute = onset_of(regain[i], 60, 1);
        print_message("  missed: regain %.2f, voids set in at %.0f degC in 1 s, at %.0f in 60 s "
                      "(175 to 215)\n",
                      regain[i], second, minute);
        assert_true(minute > 125 && minute < second && second < 175);
    }
}

/* ---- plates ------------------------------------------------------------------------------------------ */

/* calibrates void.viscosity.reference: pores set in near 150 degC at 25 mm/s (gamezgarcia2011, read).
 * calibrates void.viscosity.energy: their steep rise from 190 to 220 degC (same). */
static void test_thresholds_of_the_calibration(void **unused)
{
    (void)unused;
    const double onset = onset_of(SOAKED, ONE_PASS, 0);
    print_message("  calibrates: soaked hair, one pass, voids set in at %.1f degC (150)\n", onset);
    CHECK_CLOSE(onset, 150, 0, 1, "gamezgarcia2011: near 150");
    const double low = pressed(SOAKED, 150, 1), start = pressed(SOAKED, 190, 1),
                 end = pressed(SOAKED, 220, 1);
    print_message("  calibrates: growth %.1f, %.1f, %.1f at 150, 190, 220 degC\n", low, start, end);
    assert_true(start > 3 * ONSET && end > 2.5 * start && end - start > 2 * (start - low));
}

/* tests: no pores without water (gamezgarcia2011); no blisters at low moisture, 150 to 220 degC
 * (gamezgarcia2021). Nearly dry, 0.03, stays below the onset up to 215 degC; at 220 it is just above. */
static void test_voids_need_water(void **unused)
{
    (void)unused;
    for (double celsius = 150; celsius <= 215; celsius += 5)
        assert_true(pressed(0.03, celsius, ONE_PASS) < ONSET);
    const double dry = onset_of(0.03, ONE_PASS, 0), conditioned = onset_of(0.15, ONE_PASS, 0);
    print_message("  tests: voids set in at %.0f degC (regain 0.03), %.0f (0.15), growth at 220 "
                  "degC 1/%.0f of "
                  "soaked\n",
                  dry, conditioned, pressed(SOAKED, 220, 1) / pressed(0.03, 220, 1));
    assert_true(conditioned > 160 && dry > conditioned + 20);
    assert_true(pressed(0.03, 220, 1) < 0.1 * pressed(SOAKED, 220, 1));
    CHECK_CLOSE(pressed(0, 220, 1), 0, 0, 0, "bone dry");
}

/* missed, by 1 to 6 K: tongs at 125 degC for a minute on damp hair make bubbles (gummer1994; the value is
 * second-hand and credited in two ways). Here growth stays below the onset; it would take 126.6 degC on hair
 * straight from water, 131 at a regain of 0.25. */
static void test_tongs_for_a_minute(void **unused)
{
    (void)unused;
    hf_simulation *s = simulate(NULL, NULL, NULL);
    const hf_step wet[] = {soak(600, 20), blot(0.02), plates(60, 125, 1, 0)};
    run(s, wet, COUNT_OF(wet));
    const double straight = last(s, HF_COLUMN_VOID_GROWTH);
    hf_simulation_free(s);
    const double no_film = pressed(SOAKED, 125, 60), damp = pressed(0.25, 125, 60);
    const double onset = onset_of(SOAKED, 60, 0), damp_onset = onset_of(0.25, 60, 0);
    print_message("  missed: 125 degC for 60 s grows voids by %.2f from water, %.2f without film, "
                  "%.2f at regain "
                  "0.25; onset %.1f\n    comes at %.1f and %.1f degC (claim: 125)\n",
                  straight, no_film, damp, ONSET, onset, damp_onset);
    assert_true(straight < ONSET && no_film < straight && damp < no_film);
    assert_true(onset > 125 && onset < 128 && damp_onset < 132);
    assert_true(pressed(SOAKED, 100, 60) == 0);
}

/* tests: pores grow in number with the passes; slow passes at 180 to 210 degC go deeper and, above 220,
 * make large voids (gamezgarcia2011, read).
 * missed: at 25 mm/s the pores lie in the rim, some 7 um below the surface (same source). Here the axis, which
 * stays wet longest, always grows most; the rim at that depth follows. */
static void test_passes_and_speed(void **unused)
{
    (void)unused;
    double before = 0;
    for (double passes = 1; passes <= 5; passes++) {
        const double growth = growth_after(SOAKED, plates(ONE_PASS, 160, passes, 5));
        assert_true(growth > before);
        before = growth;
    }
    assert_true(pressed(SOAKED, 180, 5) > 2 * pressed(SOAKED, 180, 1));
    assert_true(pressed(SOAKED, 222, 5) > 6 * ONSET);
    hf_simulation *s = simulate_at(SOAKED, 20);
    run_one(s, plates(ONE_PASS, 165, 1, 0));
    double deepest = 1, rim = 0, axis = hf_simulation_zone_growth(s, 0);
    for (size_t z = hf_simulation_zones(s); z-- > 0;) {
        const double r = hf_simulation_zone_radius(s, z), growth = hf_simulation_zone_growth(s, z);
        deepest = growth > ONSET ? fmin(deepest, r) : deepest;
        rim = r <= 0.8 ? fmax(rim, r > 0.7 ? growth : 0) : rim;
    }
    hf_simulation_free(s);
    print_message("  missed: one pass at 165 degC, growth %.2f on the axis, %.2f 7 to 10 um below "
                  "the surface\n",
                  axis, rim);
    assert_true(rim < axis);
}

/* Common practice without a source: soaked strands pressed at about 215 to 232 degC form bubbles in nearly every
 * strand within one or two bouts of ten passes (tests), and repetition makes it worse (tests); conditioned ones
 * far less: met by the growth, a third, missed by the share of strands, which is as large. 100 strands of a published spread of sections, every parameter of the catalogue drawn anew for
 * each, so that the share answers for what is not known as well. */
static double share_with_voids(double celsius, int soaked, double bouts, double *middle)
{
    hf_step steps[8];
    size_t n = 0;
    for (int bout = 0; bout < bouts; bout++) {
        if (soaked) {
            steps[n++] = soak(600, 20);
            steps[n++] = blot(0.02);
        }
        steps[n++] = plates(ONE_PASS, celsius, 10, 5);
    }
    hf_ensemble_plan plan = HF_ENSEMBLE_PLAN_INIT;
    plan.steps = steps;
    plan.step_count = n;
    plan.strands = 100;
    plan.population = hf_population_find("caucasian");
    plan.draw_parameters = 1;
    plan.simulation.cells = 20;
    plan.simulation.lumped = 1;
    plan.fibre.humidity = 0.5;
    plan.seed = 11;
    hf_ensemble *e;
    hf_message why;
    if (hf_ensemble_new(&e, &plan, NULL, &why) != HF_OK)
        fail_msg("%s", why.text);
    const hf_ensemble_control control = HF_ENSEMBLE_CONTROL_INIT;
    assert_int_equal(hf_ensemble_run(e, &control), HF_OK);
    const double *voids = hf_ensemble_column(e, HF_STRAND_VOIDS);
    const double *growth = hf_ensemble_column(e, HF_STRAND_GROWTH);
    double sum = 0;
    *middle = 0;
    for (size_t i = 0; i < plan.strands; i++) {
        sum += voids[i];
        *middle += growth[i] / (double)plan.strands;
    }
    hf_ensemble_free(e);
    return sum / (double)plan.strands;
}

static void test_common_practice(void **unused)
{
    (void)unused;
    for (double celsius = 215; celsius <= 232; celsius += 17) {
        double once, twice, dry;
        const double soaked = share_with_voids(celsius, 1, 1, &once);
        const double again = share_with_voids(celsius, 1, 2, &twice);
        const double conditioned = share_with_voids(celsius, 0, 1, &dry);
        print_message("  tests: %.0f degC, ten passes: %.0f %% of soaked strands (mean growth "
                      "%.0f), %.0f %% after two "
                      "bouts (%.0f)\n",
                      celsius, 100 * soaked, once, 100 * again, twice);
        print_message("  missed: of conditioned strands %.0f %% (mean growth %.0f)\n",
                      100 * conditioned, dry);
        assert_true(again >= 0.95 && again >= soaked && twice > 1.5 * once);
        assert_true(dry < 0.5 * once);
        assert_true(conditioned > 0.9); /* the miss */
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_hygrometer),
        cmocka_unit_test(test_wetting),
        cmocka_unit_test(test_warm_air_makes_no_voids),
        cmocka_unit_test(test_hot_air),
        cmocka_unit_test(test_thresholds_of_the_calibration),
        cmocka_unit_test(test_voids_need_water),
        cmocka_unit_test(test_tongs_for_a_minute),
        cmocka_unit_test(test_passes_and_speed),
        cmocka_unit_test(test_common_practice),
    };
    return cmocka_run_group_tests_name("treatments and the world", tests, NULL, NULL);
}
