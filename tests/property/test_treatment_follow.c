/* Voids and damage are followed on few points of each step of the integrator, with rates out of a table. Here they are
 * integrated again from 1000 samples a step of the record, with the rates as the library computes them one by one. */
#include "../unit/treatment_kit.h"

#include <hairfibre/bonds.h>
#include <hairfibre/vapour.h>
#include <hairfibre/water.h>

#define CELLS 60

/* State of a cell at a sample. */
static void state_at(const hf_simulation *s, size_t sample, size_t cell, double *w, double *T)
{
    double radius[CELLS], regain[CELLS], temperature[CELLS];
    assert_int_equal(hf_simulation_profile(s, sample, radius, regain, temperature), HF_OK);
    *w = regain[cell];
    *T = temperature[cell];
}

static double channel_rate(hf_channel channel, double w, double T)
{
    double rate;
    assert_false(hf_failed(hf_channel_rate_e(channel, T, w, NULL, HF_EXTRAPOLATE, &rate)));
    return rate;
}

/* d ln r/dt = (drive - threshold - 2 tension/r)/(4 viscosity), never below 0 */
static double growth_rate(double first_radius, double growth, double w, double T)
{
    double inside, threshold, viscosity;
    assert_int_equal(hf_parameters_get(NULL, "void.threshold", &threshold), HF_OK);
    assert_false(hf_failed(
        hf_internal_vapour_pressure_e(T, w, HF_ABSORPTION, NULL, HF_EXTRAPOLATE, &inside)));
    const double push =
        inside - 101325 - threshold - 2 * hf_surface_tension(T) / (first_radius * exp(growth));
    if (!(push > 0))
        return 0;
    assert_false(hf_failed(hf_void_viscosity_e(T, w, NULL, HF_EXTRAPOLATE, &viscosity)));
    return push / (4 * viscosity);
}

/* Of the relative difference. Tryptophan counts from a temperature on, in the middle of a step of the integrator. */
static double bound(int channel)
{
    return channel == HF_CHANNEL_TRYPTOPHAN ? 1e-3 : 1e-4;
}

/* Largest difference of the record's exposures (over what is allowed) and growth (of ln r) at axis and surface. */
static void compare(const hf_step *steps, size_t count, double *exposure_error,
                    double *growth_error)
{
    hf_fibre_description d = HF_FIBRE_DESCRIPTION_INIT;
    hf_simulation_options o = HF_SIMULATION_OPTIONS_INIT;
    o.samples = 1000;
    hf_simulation *s = simulate(&d, NULL, &o);
    run(s, steps, count);
    const double *t = hf_simulation_column(s, HF_COLUMN_TIME);
    const size_t zone[2] = {0, hf_simulation_zones(s) - 1}, cell[2] = {0, CELLS - 1};
    const char *nucleus[2] = {"void.nucleus.medulla", "void.nucleus.cortex"};
    *exposure_error = *growth_error = 0;
    for (int side = 0; side < 2; side++) {
        double exposure[HF_CHANNELS] = {0}, growth = 0, w0, T0, w1, T1, first;
        assert_int_equal(hf_parameters_get(NULL, nucleus[d.medulla > 0 ? side : 1], &first), HF_OK);
        state_at(s, 0, cell[side], &w0, &T0);
        for (size_t i = 1; i < hf_simulation_samples(s); i++, w0 = w1, T0 = T1) {
            const double dt = t[i] - t[i - 1];
            state_at(s, i, cell[side], &w1, &T1);
            for (int c = 0; c < HF_CHANNELS; c++)
                exposure[c] +=
                    0.5 * dt *
                    (channel_rate((hf_channel)c, w0, T0) + channel_rate((hf_channel)c, w1, T1));
            const double before = growth_rate(first, growth, w0, T0);
            const double after = growth_rate(first, growth + dt * before, w1, T1);
            growth += 0.5 * dt * (before + after);
        }
        for (int c = 0; c < HF_CHANNELS; c++) {
            const double left = hf_simulation_zone_channel(s, zone[side], (hf_channel)c);
            if (exposure[c] > 1e-6)
                *exposure_error =
                    fmax(*exposure_error, fabs(-log(left) / exposure[c] - 1) / bound(c));
        }
        *growth_error =
            fmax(*growth_error, fabs(hf_simulation_zone_growth(s, zone[side]) - growth));
    }
    hf_simulation_free(s);
}

static void test_pressed_wet(void **unused)
{
    (void)unused;
    const hf_step steps[] = {soak(600, 25), at(HF_STEP_PLATES, 5, 180), at(HF_STEP_REST, 60, 20)};
    double exposure, growth;
    compare(steps, COUNT_OF(steps), &exposure, &growth);
    CHECK_CLOSE(exposure, 0, 0, 1, "trapezoids between the samples");
    CHECK_CLOSE(growth, 0, 0, 1e-3, "Heun's method between the samples, ln(r/r0) of 8");
}

/* Slow and short: fewer, longer steps of the integrator, and hardly any. */
static void test_dried_and_pressed(void **unused)
{
    (void)unused;
    hf_step hot_air = at(HF_STEP_AIR, 300, 80);
    hot_air.humidity = 0.05;
    const hf_step steps[] = {hot_air, at(HF_STEP_PLATES, 0.5, 210), at(HF_STEP_PLATES, 0.5, 210),
                             at(HF_STEP_REST, 5, 20)};
    double exposure, growth;
    compare(steps, COUNT_OF(steps), &exposure, &growth);
    CHECK_CLOSE(exposure, 0, 0, 1, "trapezoids between the samples");
    CHECK_CLOSE(growth, 0, 0, 1e-3, "Heun's method between the samples");
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_pressed_wet),
                                       cmocka_unit_test(test_dried_and_pressed)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
