/* What must hold in every treatment, whatever the numbers: water and energy are kept, a fibre in balance
 * with its room stays there, no cell holds less than no water, vapour at the surface never passes the
 * ambient pressure. */
#include "../unit/treatment_kit.h"

#include <hairfibre/water.h>

#include <stdio.h>

/* A step of each kind that moves water or heat in a usual fibre. */
static hf_step step_of(hf_step_kind kind, uint64_t *seed)
{
    switch (kind) {
    case HF_STEP_BLOT:
        return blot(draw(seed, 0, 0.6));
    case HF_STEP_AIR: {
        hf_step step =
            air(draw(seed, 5, 300), draw(seed, 10, 95), draw(seed, 0, 0.9), draw(seed, 0, 12));
        if (draw(seed, 0, 1) < 0.5) {
            step.temperature_end = K(draw(seed, 10, 95));
            step.humidity_end = draw(seed, 0, 0.9);
        }
        if (draw(seed, 0, 1) < 0.3) /* room air, warmed, above boiling */
            step = air(draw(seed, 5, 60), draw(seed, 100, 180), NOT_GIVEN, draw(seed, 1, 12));
        return step;
    }
    case HF_STEP_STEAM: {
        hf_step step = at(kind, draw(seed, 5, 120), draw(seed, 60, 160));
        step.air_share = draw(seed, 0.002, 0.6);
        step.speed = draw(seed, 0, 3);
        return step;
    }
    case HF_STEP_PLATES: {
        hf_step step =
            plates(draw(seed, 0.2, 4), draw(seed, 60, 250), draw(seed, 0, 1) < 0.5 ? 1 : 3,
                   draw(seed, 0, 1) < 0.5 ? 0 : draw(seed, 1, 10));
        step.sides = draw(seed, 0, 1) < 0.5 ? 1 : 2;
        return step;
    }
    case HF_STEP_REST:
        return rest(draw(seed, 1, 3000));
    case HF_STEP_PULL: {
        hf_step step = rest(draw(seed, 1, 3000));
        step.kind = HF_STEP_PULL;
        step.cycles = 100;
        step.stress = 1e8;
        return step;
    }
    case HF_STEP_SOAK:
    case HF_STEP_BATH:
    case HF_STEP_BLEACH:
    case HF_STEP_REDUCE:
    case HF_STEP_NEUTRALISE:
    case HF_STEP_RINSE: {
        hf_step step = at(kind, draw(seed, 1, 600), draw(seed, 5, 58));
        step.ph = kind == HF_STEP_BLEACH || kind == HF_STEP_REDUCE ? 9.5 : draw(seed, 2, 10);
        step.peroxide = 0.06;
        step.concentration = 800;
        return step;
    }
    case HF_STEP_KINDS:
        break;
    }
    fail_msg("step kind %d has no test", (int)kind);
    return rest(1);
}

/* Water in the cells, in the film and given off, at every sample; then what the library says itself. */
static void check_kept(const hf_simulation *s, double ambient, const char *what)
{
    const double *regain = hf_simulation_column(s, HF_COLUMN_REGAIN);
    const double *film = hf_simulation_column(s, HF_COLUMN_FILM);
    const double *lost = hf_simulation_column(s, HF_COLUMN_WATER_LOST);
    const double *pressure = hf_simulation_column(s, HF_COLUMN_PRESSURE_SURFACE);
    const double start = regain[0] + film[0];
    double moved =
        1e-4; /* below a hundredth of a point of regain, rounding of what is held is all */
    const size_t n = hf_simulation_cells(s);
    double *w = malloc(2 * n * sizeof *w);
    assert_non_null(w);
    for (size_t i = 0; i < hf_simulation_samples(s); i++) {
        moved += i > 0 ? fabs(lost[i] - lost[i - 1]) : 0;
        CHECK_CLOSE(regain[i] + film[i] + lost[i], start, 0, 1e-10 * moved, what);
        if (!(pressure[i] > 0 && pressure[i] < ambient))
            fail_msg("%s: vapour at the surface %.9g Pa at sample %zu", what, pressure[i], i);
        assert_int_equal(hf_simulation_profile(s, i, NULL, w, w + n), HF_OK);
        for (size_t c = 0; c < n; c++)
            if (!(w[c] >= 0 && w[n + c] > 273 && w[n + c] < 524))
                fail_msg("%s: regain %.9g, %.9g K in cell %zu at sample %zu", what, w[c], w[n + c],
                         c, i);
    }
    free(w);
    hf_simulation_statistics q;
    hf_simulation_get_statistics(s, &q);
    if (!(q.water_error < 1e-10 && q.energy_error < 1e-8))
        fail_msg("%s: water off by %.2e, energy by %.2e", what, q.water_error, q.energy_error);
}

/* Every kind of step from dry, conditioned and wet, with both forms of the heat balance, all laws. */
static void test_every_step_alone(void **unused)
{
    (void)unused;
    static const double regain[] = {0, 0.15, 0.31};
    uint64_t seed = 1;
    double worst_water = 0, worst_energy = 0;
    for (int kind = 0; kind < HF_STEP_KINDS; kind++)
        for (int form = 0; form < 12; form++) {
            hf_simulation_options options = HF_SIMULATION_OPTIONS_INIT;
            hf_fibre_description d = HF_FIBRE_DESCRIPTION_INIT;
            options.cells = 30;
            options.lumped = form % 2;
            d.regain = regain[form % 3];
            d.film = form % 3 == 2 ? 0.3 : 0;
            d.diffusion_law = form / 4;
            d.branch = form % 4 < 2 ? HF_ABSORPTION : HF_DESORPTION;
            hf_simulation *s = simulate(&d, NULL, &options);
            run_one(s, step_of((hf_step_kind)kind, &seed));
            run_one(s, rest(20));
            check_kept(s, 101325, hf_step_word((hf_step_kind)kind));
            hf_simulation_statistics q;
            hf_simulation_get_statistics(s, &q);
            worst_water = fmax(worst_water, q.water_error);
            worst_energy = fmax(worst_energy, q.energy_error);
            hf_simulation_free(s);
        }
    print_message("  worst: water %.1e, energy %.1e of what moved\n", worst_water, worst_energy);
}

/* Schedules drawn at random, at sea level and on a mountain. */
static void test_random_schedules(void **unused)
{
    (void)unused;
    for (uint64_t n = 0; n < 40; n++) {
        uint64_t seed = 1000 + n;
        hf_room room = HF_ROOM_INIT;
        hf_simulation_options options = HF_SIMULATION_OPTIONS_INIT;
        hf_fibre_description d = HF_FIBRE_DESCRIPTION_INIT;
        room.temperature = K(draw(&seed, 8, 40));
        room.humidity = draw(&seed, 0, 0.95);
        room.pressure = n % 4 ? 101325 : 6e4;
        options.cells = (size_t)draw(&seed, 20, 90);
        options.lumped = n % 3 == 2;
        options.tolerance = n % 5 ? 1e-5 : 1e-3;
        d.diameter = draw(&seed, 35e-6, 200e-6);
        d.ellipticity = draw(&seed, 1, 2.5);
        d.humidity = draw(&seed, 0, 0.95);
        hf_simulation *s = simulate(&d, &room, &options);
        for (int i = 0; i < 5; i++) {
            hf_step step = step_of((hf_step_kind)draw(&seed, 0, HF_STEP_KINDS), &seed);
            const hf_status status = hf_simulation_run(s, &step, 1);
            if (status == HF_ERANGE) /* hotter than water boils on that mountain */
                continue;
            if (status != HF_OK)
                fail_msg("schedule %d: %s", (int)n, hf_simulation_message(s));
        }
        char what[32];
        snprintf(what, sizeof what, "schedule %d", (int)n);
        check_kept(s, room.pressure, what);
        hf_simulation_free(s);
    }
}

/* In the air it is in balance with nothing moves, for a minute or for 30 days. */
static void test_equilibrium(void **unused)
{
    (void)unused;
    for (int law = 0; law < 3; law++)
        for (int lumped = 0; lumped < 2; lumped++)
            for (int i = 0; i < 4; i++) {
                const double humidity[] = {0, 0.2, 0.5, 0.95};
                hf_room room = HF_ROOM_INIT;
                hf_simulation_options options = HF_SIMULATION_OPTIONS_INIT;
                hf_fibre_description d = HF_FIBRE_DESCRIPTION_INIT;
                room.humidity = d.humidity = humidity[i];
                options.lumped = lumped;
                options.cells = 40;
                d.diffusion_law = law;
                hf_simulation *s = simulate(&d, &room, &options);
                const hf_step steps[] = {rest(60), air(600, 20, humidity[i], 3), rest(2.5e6)};
                run(s, steps, COUNT_OF(steps));
                double w[40], T[40];
                const double want = hf_regain(humidity[i], K(20), HF_ABSORPTION, NULL);
                for (size_t k = 0; k < hf_simulation_samples(s); k++) {
                    assert_int_equal(hf_simulation_profile(s, k, NULL, w, T), HF_OK);
                    for (size_t c = 0; c < 40; c++) {
                        CHECK_CLOSE(w[c], want, 2e-14, 0, "regain stays, but for rounding");
                        CHECK_CLOSE(T[c], K(20), 1e-13, 0, "temperature stays, but for rounding");
                    }
                }
                hf_simulation_free(s);
            }
}

static double dry_capacity(double T)
{
    double c = NOT_GIVEN;
    assert_false(hf_failed(hf_heat_capacity_e(0, T, NULL, HF_EXTRAPOLATE, &c)));
    return c;
}

/* The balance once more, from the record alone: heat that came in through the surface warmed fibre and
 * water and evaporated what left. Heat capacity, heat of sorption and latent heat are asked of the
 * properties; the flows are integrated over the samples, to some 0.2 %. */
static void test_energy_by_hand(void **unused)
{
    (void)unused;
    hf_simulation_options options = HF_SIMULATION_OPTIONS_INIT;
    options.samples = 1000;
    hf_fibre_description d = HF_FIBRE_DESCRIPTION_INIT;
    d.regain = 0.25;
    hf_simulation *s = simulate(&d, NULL, &options);
    run_one(s, plates(6, 180, 1, 0));
    const size_t end = hf_simulation_samples(s) - 1;
    const double *t = hf_simulation_column(s, HF_COLUMN_TIME);
    const double *heat = hf_simulation_column(s, HF_COLUMN_HEAT_FLUX);
    const double *vapour = hf_simulation_column(s, HF_COLUMN_WATER_FLUX);
    const double *surface = hf_simulation_column(s, HF_COLUMN_TEMPERATURE_SURFACE);
    const double *size = hf_simulation_column(s, HF_COLUMN_DIAMETER);
    const double dry = size[end] / (1 + hf_diameter_swelling(last(s, HF_COLUMN_REGAIN), 0, NULL));
    const double mass = hf_fibre_density(0, NULL) * 3.14159265358979 / 4 * dry * dry; /* kg/m */
    double in = 0, out = 0, water = 0;
    for (size_t i = 1; i <= end; i++) { /* sample 0 still sees the room */
        const size_t a = i > 1 ? i - 1 : 1;
        const double dt = t[i] - t[i - 1],
                     girth = 3.14159265358979 * 0.5 * (size[a] + size[i]) / mass;
        in += dt * girth * 0.5 * (heat[a] + heat[i]);
        water += dt * girth * 0.5 * (vapour[a] + vapour[i]);
        out += dt * girth * 0.5 *
               (vapour[a] * (hf_latent_heat(surface[a]) + 4200 * (surface[a] - 298.15)) +
                vapour[i] * (hf_latent_heat(surface[i]) + 4200 * (surface[i] - 298.15)));
    }
    /* c dry = c0 + c1 (T - 25 degC) and that of water, as the properties have them. */
    const double lost = last(s, HF_COLUMN_WATER_LOST), x = last(s, HF_COLUMN_TEMPERATURE) - 298.15;
    const double left = last(s, HF_COLUMN_REGAIN);
    const double warm =
        dry_capacity(298.15 + x / 2) * x + dry_capacity(295.65) * 5 + 4200 * (left * x + 0.25 * 5);
    const double bound = hf_wetting_heat(left, 298.15, HF_ABSORPTION, NULL) -
                         hf_wetting_heat(0.25, 298.15, HF_ABSORPTION, NULL);
    print_message("  in %.1f kJ/kg, with the vapour %.1f, warming %.1f, sorption %.1f\n", 1e-3 * in,
                  1e-3 * out, 1e-3 * warm, 1e-3 * bound);
    CHECK_CLOSE(water, lost, 4e-3, 0, "the flow of water adds up to what is lost");
    CHECK_CLOSE(in - out, warm + bound, 0, 2e-3 * in, "the flows of heat add up to what is held");
    hf_simulation_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_every_step_alone),
        cmocka_unit_test(test_random_schedules),
        cmocka_unit_test(test_equilibrium),
        cmocka_unit_test(test_energy_by_hand),
    };
    return cmocka_run_group_tests_name("balances of a treatment", tests, NULL, NULL);
}
