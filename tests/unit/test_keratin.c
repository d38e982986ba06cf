/* Room keratin: contracts of the functions (errors, ranges, bulk calls, messages) and digits of
 * other programs. Published rows are data: tests/data/. */
#include "check.h"

#include <hairfibre/keratin.h>
#include <hairfibre/quantity.h>

#include <string.h>

#define ROOM 298.15

static void test_gab_of_another_program(void **unused)
{
    (void)unused;
    static const double a[] = {0.113, 0.216, 0.382, 0.520, 0.575, 0.750, 0.843};
    static const double w[] = {2.321, 3.251, 4.466, 5.624, 6.186, 8.728, 10.965};
    for (size_t i = 0; i < sizeof a / sizeof a[0]; i++)
        CHECK_CLOSE(
            100 * hf_isotherm_gab(a[i], 0.0355, 14.42, 0.814), w[i], 0, 5e-4,
            "sun2008-mcc: constants 3.55, 14.42, 0.814; points of a public fitting program");
}

static void test_isotherm_digits(void **unused)
{
    (void)unused;
    static const double celsius[] = {25, 40, 100, 150, 200, 250};
    static const double a[] = {0.1, 0.3, 0.5, 0.65, 0.8, 0.9, 1};
    static const double w[6][7] = {{.0447, .0865, .1213, .1538, .1998, .2450, .3128},
                                   {.0372, .0774, .1110, .1410, .1815, .2195, .2737},
                                   {.0182, .0479, .0761, .0996, .1283, .1524, .1829},
                                   {.0109, .0321, .0547, .0741, .0973, .1161, .1388},
                                   {.0071, .0223, .0399, .0555, .0743, .0894, .1074},
                                   {.0049, .0161, .0298, .0423, .0576, .0699, .0844}};
    for (size_t i = 0; i < 6; i++)
        for (size_t j = 0; j < 7; j++) {
            double y = 0;
            const hf_status status =
                hf_regain_e(a[j], 273.15 + celsius[i], HF_ABSORPTION, NULL, HF_EXTRAPOLATE, &y);
            assert_int_equal(status, celsius[i] > 150 ? HF_EXTRAPOLATED : HF_OK);
            CHECK_CLOSE(y, w[i][j], 0, 7e-5,
                        "the same equation in an independent program, enthalpies before rounding");
        }
}

static void test_status_of_regain(void **unused)
{
    (void)unused;
    double w = -7;
    assert_int_equal(hf_regain_e(0.5, ROOM, HF_ABSORPTION, NULL, HF_STRICT, NULL), HF_EINVAL);
    assert_int_equal(hf_regain_e((double)NAN, ROOM, HF_ABSORPTION, NULL, HF_STRICT, &w), HF_EINVAL);
    assert_int_equal(hf_regain_e(0.5, (double)INFINITY, HF_ABSORPTION, NULL, HF_EXTRAPOLATE, &w),
                     HF_EINVAL);
    assert_int_equal(hf_regain_e(0.5, ROOM, (hf_branch)2, NULL, HF_STRICT, &w), HF_EINVAL);
    assert_int_equal(hf_regain_e(1.01, ROOM, HF_ABSORPTION, NULL, HF_EXTRAPOLATE, &w), HF_ERANGE);
    assert_int_equal(hf_regain_e(-0.01, ROOM, HF_ABSORPTION, NULL, HF_EXTRAPOLATE, &w), HF_ERANGE);
    assert_int_equal(hf_regain_e(0.5, 440, HF_ABSORPTION, NULL, HF_STRICT, &w), HF_ERANGE);
    assert_int_equal(hf_regain_e(0.5, 275, HF_ABSORPTION, NULL, HF_STRICT, &w), HF_ERANGE);
    assert_int_equal(hf_regain_e(0.5, 530, HF_ABSORPTION, NULL, HF_EXTRAPOLATE, &w), HF_ERANGE);
    assert_int_equal(hf_regain_e(0.5, 270, HF_ABSORPTION, NULL, HF_EXTRAPOLATE, &w), HF_ERANGE);
    assert_true(w == -7);
    assert_int_equal(hf_regain_e(0.5, 440, HF_ABSORPTION, NULL, HF_EXTRAPOLATE, &w),
                     HF_EXTRAPOLATED);
    assert_true(w > 0 && w < 0.1);
    assert_true(isnan(hf_regain(0.5, 440, HF_ABSORPTION, NULL)));
    assert_true(hf_regain(0, ROOM, HF_ABSORPTION, NULL) == 0);
}

static void test_status_of_activity(void **unused)
{
    (void)unused;
    double a = -7;
    const double most = hf_saturation_regain(ROOM, HF_ABSORPTION, NULL);
    assert_int_equal(
        hf_water_activity_e(most * 1.001, ROOM, HF_ABSORPTION, NULL, HF_EXTRAPOLATE, &a),
        HF_ERANGE);
    assert_int_equal(hf_water_activity_e(-1e-9, ROOM, HF_ABSORPTION, NULL, HF_STRICT, &a),
                     HF_ERANGE);
    assert_int_equal(hf_water_activity_e((double)NAN, ROOM, HF_ABSORPTION, NULL, HF_STRICT, &a),
                     HF_EINVAL);
    assert_int_equal(hf_water_activity_e(0.1, ROOM, HF_ABSORPTION, NULL, HF_STRICT, NULL),
                     HF_EINVAL);
    assert_true(a == -7);
    CHECK_CLOSE(hf_water_activity(most, ROOM, HF_ABSORPTION, NULL), 1, 0, 1e-14, "by definition");
    assert_true(hf_water_activity(0, ROOM, HF_ABSORPTION, NULL) == 0);
    assert_int_equal(hf_isosteric_heat_e(0.5, ROOM, HF_ABSORPTION, NULL, HF_STRICT, &a), HF_ERANGE);
    assert_int_equal(hf_wetting_heat_e(0.5, ROOM, HF_ABSORPTION, NULL, HF_STRICT, &a), HF_ERANGE);
    assert_true(a == -7);
    CHECK_CLOSE(hf_wetting_heat(most, ROOM, HF_ABSORPTION, NULL), 0, 0, 1e-6,
                "nothing left to bind");
}

static void test_bulk(void **unused)
{
    (void)unused;
    const double a[] = {0, 0.2, 0.5, 0.5, 0.9, 1};
    const double T[] = {ROOM, ROOM, ROOM, 440, 440, 300};
    double w[6], back[6];
    size_t bad = 99;
    for (int b = 0; b < 2; b++) {
        const hf_branch branch = b ? HF_DESORPTION : HF_ABSORPTION;
        assert_int_equal(hf_regain_v(6, a, T, branch, NULL, HF_EXTRAPOLATE, w, &bad),
                         HF_EXTRAPOLATED);
        assert_int_equal(bad, 99);
        for (size_t i = 0; i < 6; i++) {
            double one = 0;
            assert_false(hf_failed(hf_regain_e(a[i], T[i], branch, NULL, HF_EXTRAPOLATE, &one)));
            assert_true(w[i] == one);
        }
        assert_int_equal(hf_water_activity_v(6, w, T, branch, NULL, HF_EXTRAPOLATE, back, NULL),
                         HF_EXTRAPOLATED);
        for (size_t i = 0; i < 6; i++)
            CHECK_CLOSE(back[i], a[i], 1e-12, 1e-300, "inverse");
    }
    w[3] = -7;
    assert_int_equal(hf_regain_v(6, a, T, HF_ABSORPTION, NULL, HF_STRICT, w, &bad), HF_ERANGE);
    assert_int_equal(bad, 3);
    assert_true(w[3] == -7);
    assert_int_equal(hf_regain_v(6, a, T, HF_ABSORPTION, NULL, HF_STRICT, w, NULL), HF_ERANGE);
    assert_int_equal(hf_regain_v(0, NULL, NULL, HF_ABSORPTION, NULL, HF_STRICT, NULL, NULL), HF_OK);
    assert_int_equal(hf_regain_v(1, NULL, T, HF_ABSORPTION, NULL, HF_STRICT, w, NULL), HF_EINVAL);
    const double hole[] = {ROOM, (double)NAN, ROOM};
    assert_int_equal(hf_regain_v(3, a, hole, HF_ABSORPTION, NULL, HF_EXTRAPOLATE, w, &bad),
                     HF_EINVAL);
    assert_int_equal(bad, 1);
    const double wet[] = {0.1, 0.9};
    assert_int_equal(hf_water_activity_v(2, wet, T, HF_ABSORPTION, NULL, HF_STRICT, back, &bad),
                     HF_ERANGE);
    assert_int_equal(bad, 1);
    double place[] = {0.3, 0.6};
    assert_int_equal(hf_regain_v(2, place, T, HF_ABSORPTION, NULL, HF_STRICT, place, NULL), HF_OK);
    assert_true(place[1] == hf_regain(0.6, ROOM, HF_ABSORPTION, NULL));
}

static void test_scanning_contract(void **unused)
{
    (void)unused;
    const double path[] = {0.3, 0.8, 0.4};
    double w[3];
    size_t bad = 99;
    const double low = hf_regain(0.3, ROOM, HF_ABSORPTION, NULL);
    const double high = hf_regain(0.3, ROOM, HF_DESORPTION, NULL);
    assert_int_equal(hf_scanning_regain_v(3, path, low, ROOM, NULL, HF_STRICT, w, &bad), HF_OK);
    assert_true(w[0] == low);
    assert_int_equal(hf_scanning_regain_v(3, path, high, ROOM, NULL, HF_STRICT, w, &bad), HF_OK);
    assert_true(w[0] == high);
    assert_int_equal(hf_scanning_regain_v(3, path, high * 1.01, ROOM, NULL, HF_STRICT, w, &bad),
                     HF_ERANGE);
    assert_int_equal(bad, 0);
    const double broken[] = {0.3, 0.8, 1.4};
    assert_int_equal(hf_scanning_regain_v(3, broken, low, ROOM, NULL, HF_STRICT, w, &bad),
                     HF_ERANGE);
    assert_int_equal(bad, 2);
    assert_int_equal(hf_scanning_regain_v(3, path, (double)NAN, ROOM, NULL, HF_STRICT, w, &bad),
                     HF_EINVAL);
    assert_int_equal(hf_scanning_regain_v(3, path, 0.05, 460, NULL, HF_STRICT, w, &bad), HF_ERANGE);
    assert_int_equal(hf_scanning_regain_v(0, NULL, 0.1, ROOM, NULL, HF_STRICT, NULL, NULL), HF_OK);
    double slope = -7;
    assert_int_equal(
        hf_scanning_slope_e(low * 0.9, 0.3, ROOM, HF_ABSORPTION, NULL, HF_STRICT, &slope),
        HF_ERANGE);
    assert_int_equal(hf_scanning_slope_e(low, 0.3, ROOM, (hf_branch)5, NULL, HF_STRICT, &slope),
                     HF_EINVAL);
    assert_true(slope == -7);
}

static void test_swelling_contract(void **unused)
{
    (void)unused;
    double y = -7;
    assert_int_equal(hf_diameter_swelling_e(0.45, 0, NULL, HF_STRICT, &y), HF_ERANGE);
    assert_int_equal(hf_diameter_swelling_e(0.1, 0.45, NULL, HF_STRICT, &y), HF_ERANGE);
    assert_int_equal(hf_diameter_swelling_e(0.1, -0.1, NULL, HF_EXTRAPOLATE, &y), HF_ERANGE);
    assert_int_equal(hf_diameter_swelling_e(0.1, (double)NAN, NULL, HF_STRICT, &y), HF_EINVAL);
    assert_int_equal(hf_diameter_swelling_e(0.1, 0, NULL, HF_STRICT, NULL), HF_EINVAL);
    assert_int_equal(hf_fibre_density_e(1.1, NULL, HF_EXTRAPOLATE, &y), HF_ERANGE);
    assert_true(y == -7);
    assert_int_equal(hf_diameter_swelling_e(0.45, 0, NULL, HF_EXTRAPOLATE, &y), HF_EXTRAPOLATED);
    assert_true(hf_diameter_swelling(0.2, 0.2, NULL) == 0);
    assert_true(hf_length_swelling(0, 0, NULL) == 0);
    assert_true(hf_volume_swelling(0.1, 0.2, NULL) < 0);
}

static void test_other_contracts(void **unused)
{
    (void)unused;
    double y = -7;
    assert_int_equal(hf_diffusivity_e(0.1, 400, NULL, HF_STRICT, &y), HF_ERANGE);
    assert_int_equal(hf_conductivity_e(0.2, NULL, HF_STRICT, &y), HF_ERANGE);
    assert_int_equal(hf_heat_capacity_e(0.1, 600, NULL, HF_EXTRAPOLATE, &y), HF_ERANGE);
    assert_int_equal(hf_glass_transition_e(-0.1, NULL, HF_EXTRAPOLATE, &y), HF_ERANGE);
    assert_int_equal(hf_denaturation_temperature_e((double)NAN, NULL, HF_STRICT, &y), HF_EINVAL);
    assert_int_equal(hf_denaturation_peak_e(0, HF_WET, NULL, HF_EXTRAPOLATE, &y), HF_ERANGE);
    assert_int_equal(hf_denaturation_peak_e(1, HF_WET, NULL, HF_STRICT, &y), HF_ERANGE);
    assert_int_equal(hf_denaturation_peak_e(0.1, (hf_water_state)2, NULL, HF_STRICT, &y),
                     HF_EINVAL);
    assert_int_equal(hf_moisture_content_e(-0.1, &y), HF_ERANGE);
    assert_int_equal(hf_regain_from_content_e(1, &y), HF_ERANGE);
    assert_int_equal(hf_liquid_retention_e(NULL, HF_STRICT, NULL), HF_EINVAL);
    assert_true(y == -7);
    assert_int_equal(hf_conductivity_e(0.2, NULL, HF_EXTRAPOLATE, &y), HF_EXTRAPOLATED);
    assert_int_equal(hf_denaturation_peak_e(1, HF_WET, NULL, HF_EXTRAPOLATE, &y), HF_EXTRAPOLATED);
    assert_true(isnan(hf_conductivity(0.2, NULL)));
}

static void test_peak_digits(void **unused)
{
    (void)unused;
    const char *why = "Kissinger's equation in an independent program, one decimal printed";
    CHECK_CLOSE(hf_denaturation_peak(10.0 / 60, HF_WET, NULL), 273.15 + 150.0, 0, 0.06, why);
    CHECK_CLOSE(hf_denaturation_peak(5.0 / 60, HF_WET, NULL), 273.15 + 146.2, 0, 0.06, why);
    CHECK_CLOSE(hf_denaturation_peak(2.0 / 60, HF_WET, NULL), 273.15 + 141.3, 0, 0.06, why);
    CHECK_CLOSE(hf_denaturation_peak(10.0 / 60, HF_DRY, NULL), 273.15 + 233, 0, 0.06, why);
}

static void test_rivals_refuse(void **unused)
{
    (void)unused;
    assert_true(isnan(hf_isotherm_bet(1, 0.08, 10)));
    assert_true(isnan(hf_isotherm_gab(0.9, 0.08, 10, 1.2)));
    assert_true(isnan(hf_isotherm_gab(1.1, 0.08, 10, 0.7)));
    assert_true(isnan(hf_isotherm_gab((double)NAN, 0.08, 10, 0.7)));
    assert_true(isnan(hf_isotherm_hailwood_horrobin(0.5, -1, 10, 0.7)));
    assert_true(isnan(hf_isotherm_darcy_watt(1, 0.08, 9, 0.1, 1)));
    assert_true(isnan(hf_isotherm_garment(-0.1, 0.15)));
    assert_true(isnan(hf_garment_heat(1.5)));
    CHECK_CLOSE(hf_isotherm_garment(0.65, 0.15), 0.149, 0, 5e-4,
                "watts-clothing-code: 14.9 % at 65 % humidity for w65 = 15 %");
    CHECK_CLOSE(hf_garment_heat(0.3), 455e3, 0, 0.5e3, "watts-clothing-code, summed by hand");
}

static void test_changed_constants_refuse(void **unused)
{
    (void)unused;
    hf_parameters *set = NULL;
    double y = -7;
    assert_int_equal(hf_parameters_new(&set, "virgin"), HF_OK);
    assert_int_equal(hf_parameters_set(set, "sorption.absorption.k", 0.9), HF_OK);
    assert_int_equal(hf_parameters_set(set, "sorption.enthalpy.k", 6000), HF_OK);
    assert_int_equal(hf_regain_e(0.9, 285, HF_ABSORPTION, set, HF_EXTRAPOLATE, &y), HF_ERANGE);
    assert_int_equal(hf_regain_e(0.9, 285, HF_DESORPTION, set, HF_EXTRAPOLATE, &y), HF_ERANGE);
    assert_true(y == -7);
    hf_message message;
    const double x[] = {0.9, 285, 0};
    assert_int_equal(
        hf_quantity_evaluate(hf_quantity_find("regain"), x, set, HF_EXTRAPOLATE, &y, &message),
        HF_ERANGE);
    assert_non_null(strstr(message.text, "must be below 1"));
    hf_parameters_free(set);
}

static void says(const char *name, const double *x, const char *words)
{
    hf_message message;
    double y;
    assert_true(
        hf_failed(hf_quantity_evaluate(hf_quantity_find(name), x, NULL, HF_STRICT, &y, &message)));
    if (!strstr(message.text, words)) {
        print_error("%s\n", message.text);
        fail();
    }
}

static void test_messages(void **unused)
{
    (void)unused;
    says("water_activity", (const double[]){0.5, ROOM, 0}, "more than the 0.3128 (31.28 %)");
    says("isosteric_heat", (const double[]){0.5, ROOM, 0}, "sorbed water at 298.15 K (25 degC)");
    says("scanning_slope", (const double[]){0.05, 0.5, ROOM, 0}, "outside the hysteresis loop");
    says("regain", (const double[]){0.5, 460, 0}, "temperature");
    says("regain", (const double[]){0.5, ROOM, 0.5}, "regain");
    says("isotherm_bet", (const double[]){1, 0.08, 10}, "grows without limit");
    says("isotherm_gab", (const double[]){0.6, 0.08, 10, 2}, "k = 2 times humidity = 0.6");
    says("isotherm_hailwood_horrobin", (const double[]){0.6, 0.3, 10, 2}, "k2 = 2 times");
    says("isotherm_darcy_watt", (const double[]){0.6, 0.05, 10, 0.1, 2}, "c = 2 times");
}

static void test_descriptor_calls_the_function(void **unused)
{
    (void)unused;
    double y = 0;
    const double usual = (double)NAN;
    const double x[] = {0.65, usual, 1};
    assert_int_equal(hf_quantity_evaluate(hf_quantity_find("regain"), x, NULL, HF_STRICT, &y, NULL),
                     HF_OK);
    assert_true(y == hf_regain(0.65, 293.15, HF_DESORPTION, NULL));
    const double d[] = {0.3, usual};
    assert_int_equal(
        hf_quantity_evaluate(hf_quantity_find("diameter_swelling"), d, NULL, HF_STRICT, &y, NULL),
        HF_OK);
    assert_true(y == hf_diameter_swelling(0.3, 0, NULL));
    const double p[] = {usual, 1};
    assert_int_equal(
        hf_quantity_evaluate(hf_quantity_find("denaturation_peak"), p, NULL, HF_STRICT, &y, NULL),
        HF_OK);
    assert_true(y == hf_denaturation_peak(10.0 / 60, HF_DRY, NULL));
}

/* The spread that the catalogue carries is the one the sources have. */
static void spread(const char *name, const double *x, double low, double high)
{
    double y = 0, from = 0, to = 0;
    assert_int_equal(
        hf_quantity_range(hf_quantity_find(name), x, NULL, HF_STRICT, &y, &from, &to, NULL), HF_OK);
    const double deviation = (to - from) / (2 * 1.96);
    if (!(deviation >= low && deviation <= high)) {
        print_error("%s: %g not in %g to %g\n", name, deviation, low, high);
        fail();
    }
}

static void test_spreads(void **unused)
{
    (void)unused;
    spread("regain", (const double[]){0.65, ROOM, 0}, 0.07 * 0.154, 0.09 * 0.154);
    spread("regain", (const double[]){1, ROOM, 0}, 0.02, 0.03);
    spread("diameter_swelling", (const double[]){0.3128, 0}, 0.02, 0.03);
    spread("length_swelling", (const double[]){0.3128, 0}, 0.0025, 0.0035);
    spread("denaturation_temperature", (const double[]){0.1}, 13, 17);
    spread("denaturation_temperature", (const double[]){0}, 4.5, 5.5);
    spread("glass_transition", (const double[]){0}, 9, 11);
}

/* What the row "bend" says: the departure half way between the ends, upwards when positive. Half way is the
 * regain at which water takes half the share of the volume that it takes at the wet end. */
static void test_bend_of_the_melting_law(void **unused)
{
    (void)unused;
    double density, wet, straight, bent;
    hf_parameters *set = NULL;
    assert_int_equal(hf_parameters_new(&set, "virgin"), HF_OK);
    assert_int_equal(hf_parameters_get(set, "swelling.density.dry", &density), HF_OK);
    assert_int_equal(hf_parameters_get(set, "denaturation.wet_regain", &wet), HF_OK);
    const double volume = wet / 1000, share = 0.5 * volume / (volume + 1 / density);
    const double half = share / (1 - share) * 1000 / density;
    assert_false(hf_failed(hf_denaturation_temperature_e(half, set, HF_EXTRAPOLATE, &straight)));
    assert_int_equal(hf_parameters_set(set, "denaturation.bend", 10), HF_OK);
    assert_false(hf_failed(hf_denaturation_temperature_e(half, set, HF_EXTRAPOLATE, &bent)));
    CHECK_CLOSE(bent - straight, 10, 0, 0.01, "the row says so; water taken as 1000 kg/m3");
    hf_parameters_free(set);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_gab_of_another_program),
        cmocka_unit_test(test_isotherm_digits),
        cmocka_unit_test(test_status_of_regain),
        cmocka_unit_test(test_status_of_activity),
        cmocka_unit_test(test_bulk),
        cmocka_unit_test(test_scanning_contract),
        cmocka_unit_test(test_swelling_contract),
        cmocka_unit_test(test_other_contracts),
        cmocka_unit_test(test_peak_digits),
        cmocka_unit_test(test_rivals_refuse),
        cmocka_unit_test(test_changed_constants_refuse),
        cmocka_unit_test(test_messages),
        cmocka_unit_test(test_descriptor_calls_the_function),
        cmocka_unit_test(test_spreads),
        cmocka_unit_test(test_bend_of_the_melting_law),
    };
    return cmocka_run_group_tests_name("keratin", tests, NULL, NULL);
}
