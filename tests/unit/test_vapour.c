/* Room vapour: against the saturation line of water, and its refusals. */
#include "check.h"

#include <hairfibre/quantity.h>
#include <hairfibre/vapour.h>
#include <hairfibre/water.h>

#include <string.h>

#define ATMOSPHERE 101325.0

static double pressure_at(double celsius, double regain)
{
    double p = (double)NAN;
    assert_false(hf_failed(hf_internal_vapour_pressure_e(celsius + 273.15, regain, HF_DESORPTION,
                                                         NULL, HF_EXTRAPOLATE, &p)));
    return p;
}

/* Gauge pressure of a fibre with liquid water, MPa: IF97 saturation pressure less 1 atm. */
static void test_liquid_water(void **unused)
{
    (void)unused;
    static const struct {
        double celsius, pressure;
    } line[] = {{100, 0.10142}, {120, 0.19867}, {125, 0.23222}, {150, 0.47610}, {175, 0.89245},
                {180, 1.00263}, {185, 1.12327}, {200, 1.55467}, {220, 2.31929}, {250, 3.97594}};
    for (size_t i = 0; i < sizeof line / sizeof line[0]; i++) {
        CHECK_CLOSE(pressure_at(line[i].celsius, 0.31) * 1e-6, line[i].pressure, 1.8e-4, 5e-6,
                    "IAPWS-IF97; SR1-86 differs from it by up to 0.018 % (iapws-r7-97)");
        double gauge;
        assert_false(
            hf_failed(hf_internal_gauge_pressure_e(line[i].celsius + 273.15, 0.31, HF_ABSORPTION,
                                                   ATMOSPHERE, NULL, HF_EXTRAPOLATE, &gauge)));
        CHECK_CLOSE(gauge * 1e-6, line[i].pressure - 0.101325, 0, 1.8e-4 * line[i].pressure + 5e-6,
                    "less the standard atmosphere");
    }
    /* With liquid water the regain no longer matters. */
    CHECK_CLOSE(pressure_at(180, 0.20), pressure_at(180, 0.30), 1e-15, 0, "activity 1");
}

/* Where a psat(T) is 1 atm at a fixed activity, from the saturation line alone. The regain is the
 * one that has this activity at that temperature, so the answer must be the same temperature. */
static void test_boiling_at_fixed_activity(void **unused)
{
    (void)unused;
    static const struct {
        double activity, celsius;
    } rows[] = {{0.9, 103.0}, {0.8, 106.3}, {0.65, 112.5}, {0.5, 120.6},
                {0.3, 137.6}, {0.2, 152.3}, {0.1, 180.5}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        for (int branch = 0; branch < 2; branch++) {
            double regain, boiling;
            assert_false(hf_failed(hf_regain_e(rows[i].activity, rows[i].celsius + 273.15,
                                               (hf_branch)branch, NULL, HF_EXTRAPOLATE, &regain)));
            const hf_status status = hf_internal_boiling_temperature_e(
                regain, ATMOSPHERE, (hf_branch)branch, NULL, HF_EXTRAPOLATE, &boiling);
            assert_int_equal(status, boiling > 423.15 ? HF_EXTRAPOLATED : HF_OK);
            CHECK_CLOSE(boiling - 273.15, rows[i].celsius, 0, 0.05,
                        "saturation line of IAPWS-IF97, last printed digit");
        }
    }
}

static void test_boiling_of_wet_fibre(void **unused)
{
    (void)unused;
    CHECK_CLOSE(hf_internal_boiling_temperature(0.31, ATMOSPHERE, HF_ABSORPTION, NULL), 373.1243, 0,
                5e-5, "iapws-sr1-86, boiling point at 101325 Pa");
    CHECK_CLOSE(hf_internal_boiling_temperature(0.31, 1e5, HF_DESORPTION, NULL), 372.755919, 0,
                1e-3, "iapws-r7-97, Table 36; two formulations");
    CHECK_CLOSE(hf_internal_boiling_temperature(0.31, 8e4, HF_ABSORPTION, NULL),
                hf_boiling_temperature(8e4), 0, 1e-8, "plain water at the same pressure");
    /* Water taken up in the cold stays in a sealed fibre as liquid: more than the isotherm holds at 100 degC. */
    for (double regain = 0.32; regain < 0.365; regain += 0.01)
        CHECK_CLOSE(hf_internal_boiling_temperature(regain, ATMOSPHERE, HF_ABSORPTION, NULL),
                    373.1243, 0, 5e-5, "iapws-sr1-86, boiling point at 101325 Pa");
    double T;
    assert_int_equal(
        hf_internal_boiling_temperature_e(0.31, 1e6, HF_ABSORPTION, NULL, HF_EXTRAPOLATE, &T),
        HF_EXTRAPOLATED);
    CHECK_CLOSE(T, 453.035632, 0, 0.01, "iapws-r7-97, Table 36; 0.018 % of pressure is 8 mK");
}

/* Clausius-Clapeyron: at constant regain d ln p/d(1/T) = -(L/Z + q) M/R, where Z = p (v'' - v')
 * M/RT corrects for steam that is no ideal gas. L is read in a steam table, to four digits. */
static void test_heat_of_evaporation(void **unused)
{
    (void)unused;
    const double T = 363.15, step = 0.05, L = 2282.5e3, gas = 8.314462618 / 0.018015268;
    const double volume = 1 / hf_vapour_density(T) - 1 / hf_liquid_density(T);
    const double Z = hf_saturation_pressure(T) * volume / (gas * T);
    for (double regain = 0.02; regain < 0.15; regain += 0.04) {
        const double up = hf_internal_vapour_pressure(T + step, regain, HF_ABSORPTION, NULL);
        const double down = hf_internal_vapour_pressure(T - step, regain, HF_ABSORPTION, NULL);
        const double slope = log(up / down) / (1 / (T + step) - 1 / (T - step));
        CHECK_CLOSE(-slope * gas, L / Z + hf_isosteric_heat(regain, T, HF_ABSORPTION, NULL), 1e-3,
                    0, "latent heat at 90 degC (steam-tables) plus net heat of sorption");
    }
}

static void test_refusals(void **unused)
{
    (void)unused;
    double y = -1;
    assert_int_equal(hf_internal_vapour_pressure_e(400, 0.1, HF_ABSORPTION, NULL, 0, NULL),
                     HF_EINVAL);
    assert_int_equal(hf_internal_vapour_pressure_e((double)NAN, 0.1, HF_ABSORPTION, NULL, 0, &y),
                     HF_EINVAL);
    assert_int_equal(
        hf_internal_vapour_pressure_e(400, (double)INFINITY, HF_ABSORPTION, NULL, 0, &y),
        HF_EINVAL);
    assert_int_equal(hf_internal_vapour_pressure_e(400, 0.1, (hf_branch)2, NULL, 0, &y), HF_EINVAL);
    assert_int_equal(hf_internal_vapour_pressure_e(400, -0.01, HF_ABSORPTION, NULL, 0, &y),
                     HF_ERANGE);
    assert_int_equal(hf_internal_vapour_pressure_e(400, 0.5, HF_ABSORPTION, NULL, 1, &y),
                     HF_ERANGE);
    assert_int_equal(hf_internal_vapour_pressure_e(473.15, 0.05, HF_ABSORPTION, NULL, 0, &y),
                     HF_ERANGE);
    assert_int_equal(hf_internal_vapour_pressure_e(523.2, 0.05, HF_ABSORPTION, NULL, 1, &y),
                     HF_ERANGE);
    assert_int_equal(hf_internal_gauge_pressure_e(400, 0.1, HF_ABSORPTION, -1, NULL, 1, &y),
                     HF_ERANGE);
    assert_int_equal(hf_internal_gauge_pressure_e(400, 0.1, HF_ABSORPTION, 1, NULL, 1, NULL),
                     HF_EINVAL);
    assert_int_equal(hf_internal_boiling_temperature_e(0, ATMOSPHERE, HF_ABSORPTION, NULL, 1, &y),
                     HF_ERANGE);
    assert_int_equal(
        hf_internal_boiling_temperature_e(1e-4, ATMOSPHERE, HF_ABSORPTION, NULL, 1, &y), HF_ERANGE);
    assert_int_equal(hf_internal_boiling_temperature_e(0.31, 100, HF_ABSORPTION, NULL, 1, &y),
                     HF_ERANGE);
    assert_int_equal(
        hf_internal_boiling_temperature_e(0.31, (double)NAN, HF_ABSORPTION, NULL, 1, &y),
        HF_EINVAL);
    assert_int_equal(
        hf_internal_boiling_temperature_e(0.1, ATMOSPHERE, HF_ABSORPTION, NULL, 1, NULL),
        HF_EINVAL);
    CHECK_CLOSE(y, -1, 0, 0, "untouched on failure");
    assert_true(isnan(hf_internal_vapour_pressure(473.15, 0.05, HF_ABSORPTION, NULL)));
    CHECK_CLOSE(hf_internal_vapour_pressure(400, 0, HF_ABSORPTION, NULL), 0, 0, 0,
                "a dry fibre has no vapour");
}

static void expect_sentence(const char *name, const double *x, unsigned flags, const char *part)
{
    hf_message message;
    double y;
    const hf_quantity *quantity = hf_quantity_find(name);
    assert_non_null(quantity);
    assert_int_equal(hf_quantity_evaluate(quantity, x, NULL, flags, &y, &message), HF_ERANGE);
    if (!strstr(message.text, part))
        fail_msg("\"%s\" does not say \"%s\"", message.text, part);
}

static void test_sentences(void **unused)
{
    (void)unused;
    expect_sentence("internal_vapour_pressure", (double[]){400, 0.5, 0}, HF_EXTRAPOLATE,
                    "regain = 0.5 (50 %) is more water than the fibre holds at 400 K");
    expect_sentence("internal_vapour_pressure", (double[]){460, 0.05, 0}, HF_STRICT,
                    "temperature = 460 K");
    expect_sentence("internal_boiling_temperature", (double[]){0, ATMOSPHERE, 0}, HF_EXTRAPOLATE,
                    "a dry fibre holds no water");
    expect_sentence("internal_boiling_temperature", (double[]){0.4, ATMOSPHERE, 0}, HF_EXTRAPOLATE,
                    "more water than the fibre holds");
    expect_sentence("internal_boiling_temperature", (double[]){0.001, ATMOSPHERE, 0},
                    HF_EXTRAPOLATE, "stays below 101325 Pa");
    expect_sentence("internal_boiling_temperature", (double[]){0.01, ATMOSPHERE, 0}, HF_STRICT,
                    "outside the range that evidence supports");
    expect_sentence("internal_boiling_temperature", (double[]){0.3, 100, 0}, HF_EXTRAPOLATE,
                    "pressure = 100 Pa");
}

/* By hand: a cavity in a Newtonian liquid without inertia grows as dr/dt = r push/(4 eta). At 150 degC and
 * the regain of the reference state eta is the row of the catalogue, and the surface tension is 48.74 mN/m
 * (iapws-r1-76, worked by hand). */
static void test_growth_rate(void **unused)
{
    (void)unused;
    double eta, threshold, regain, rate;
    hf_parameters *set = NULL;
    assert_int_equal(hf_parameters_new(&set, "virgin"), HF_OK);
    assert_int_equal(hf_parameters_get(set, "void.viscosity.reference", &eta), HF_OK);
    assert_int_equal(hf_parameters_get(set, "void.threshold", &threshold), HF_OK);
    assert_int_equal(hf_parameters_get(set, "void.viscosity.reference_regain", &regain), HF_OK);
    const double gauge = 4e5, radius = 2e-6;
    assert_false(hf_failed(
        hf_void_growth_rate_e(gauge, radius, 423.15, regain, set, HF_EXTRAPOLATE, &rate)));
    CHECK_CLOSE(rate, (gauge - threshold - 2 * 0.04874 / radius) / (4 * eta), 1e-4, 0, "by hand");
    assert_false(hf_failed(hf_void_growth_rate_e(threshold + 2 * 0.0487 / radius, radius, 423.15,
                                                 regain, set, HF_EXTRAPOLATE, &rate)));
    CHECK_CLOSE(rate, 0, 0, 0, "surface tension still closes it");
    hf_parameters_free(set);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_liquid_water),
        cmocka_unit_test(test_boiling_at_fixed_activity),
        cmocka_unit_test(test_boiling_of_wet_fibre),
        cmocka_unit_test(test_heat_of_evaporation),
        cmocka_unit_test(test_refusals),
        cmocka_unit_test(test_growth_rate),
        cmocka_unit_test(test_sentences),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
