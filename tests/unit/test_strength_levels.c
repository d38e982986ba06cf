/* Room strength, published levels: the tables, what they say by sign, and refusals. */
#include "check.h"

#include <hairfibre/strength.h>

#define GPA 1e9
#define MPA 1e6

/* wortmann2022: modulus GPa, break strain %, break stress MPa, each wet and dry. */
static const double groups[8][6] = {
    {1.89, 3.95, 57.5, 46.9, 191, 229}, {1.82, 3.64, 53.2, 44.9, 175, 216},
    {1.76, 3.73, 52.7, 45.1, 161, 205}, {1.58, 3.65, 49.1, 44.6, 125, 190},
    {1.63, 4.15, 58.7, 50.3, 167, 223}, {1.45, 3.53, 60.0, 49.4, 160, 208},
    {1.26, 3.71, 60.5, 51.1, 139, 192}, {1.02, 3.64, 59.0, 51.7, 114, 176},
};

static void test_groups(void **unused)
{
    (void)unused;
    for (int g = 0; g < 8; g++)
        for (int s = 0; s < 2; s++) {
            const hf_hair_group group = (hf_hair_group)g;
            const hf_water_state state = (hf_water_state)s;
            CHECK_CLOSE(hf_group_modulus(group, state, NULL), groups[g][s] * GPA, 1e-14, 0,
                        "wortmann2022");
            CHECK_CLOSE(hf_group_break_strain(group, state, NULL), groups[g][2 + s] / 100, 1e-14, 0,
                        "wortmann2022");
            CHECK_CLOSE(hf_group_break_stress(group, state, NULL), groups[g][4 + s] * MPA, 1e-14, 0,
                        "wortmann2022");
        }
    double y = -1;
    assert_int_equal(hf_group_modulus_e((hf_hair_group)8, HF_WET, NULL, 1, &y), HF_EINVAL);
    assert_int_equal(hf_group_modulus_e(HF_GROUP_N0, (hf_water_state)2, NULL, 1, &y), HF_EINVAL);
    assert_int_equal(hf_group_break_stress_e(HF_GROUP_N0, HF_WET, NULL, 1, NULL), HF_EINVAL);
    CHECK_CLOSE(y, -1, 0, 0, "untouched on failure");
}

/* What heat and bleach do to each number, by sign, as the table has it: stiffness and strength fall
 * everywhere but for dry bleached hair without heat; natural hair breaks at less strain, bleached
 * hair at more. */
static void test_signs(void **unused)
{
    (void)unused;
    for (int g = 1; g < 8; g++)
        for (int s = 0; s < 2; s++) {
            const hf_hair_group group = (hf_hair_group)g;
            const hf_water_state state = (hf_water_state)s;
            const int bleached = g >= 4, softer = !(g == 4 && s == 1);
            const double modulus =
                hf_group_modulus(group, state, NULL) / hf_group_modulus(HF_GROUP_N0, state, NULL);
            assert_true(softer ? modulus < 1 : modulus > 1);
            assert_true(hf_group_break_stress(group, state, NULL) <
                        hf_group_break_stress(HF_GROUP_N0, state, NULL));
            assert_true((hf_group_break_strain(group, state, NULL) >
                         hf_group_break_strain(HF_GROUP_N0, state, NULL)) == bleached);
        }
    /* More heat, less wet stiffness and strength, in either hair. */
    for (int g = 0; g < 8; g++)
        if (g % 4 != 3) {
            const hf_hair_group here = (hf_hair_group)g, hotter = (hf_hair_group)(g + 1);
            assert_true(hf_group_modulus(hotter, HF_WET, NULL) <
                        hf_group_modulus(here, HF_WET, NULL));
            assert_true(hf_group_break_stress(hotter, HF_WET, NULL) <
                        hf_group_break_stress(here, HF_WET, NULL));
        }
}

static void test_treated(void **unused)
{
    (void)unused;
    static const double broken[] = {1, 0.70, 0.52, 0.30}, modulus[] = {1, 0.86, 0.54, 0.27};
    static const double yield_bleached[] = {4.9 / 6.7, 3.2 / 6.7, 2.4 / 6.7, 1.4 / 6.7};
    for (unsigned n = 0; n < 4; n++) {
        CHECK_CLOSE(hf_perm_break_stress_left(n, HF_PEROXIDE_NONE), broken[n], 0, 0.005,
                    "tate1993, Table VI, two digits");
        CHECK_CLOSE(hf_perm_modulus_left(n, HF_PEROXIDE_NONE), modulus[n], 0, 0.005,
                    "tate1993, Table VI, two digits");
        CHECK_CLOSE(hf_perm_yield_stress_left(n, HF_PEROXIDE_4H), yield_bleached[n], 1e-14, 0,
                    "tate1993, Table VI");
        assert_true(hf_perm_modulus_left(n, HF_PEROXIDE_4H) <
                    hf_perm_modulus_left(n, HF_PEROXIDE_NONE));
    }
    CHECK_CLOSE(hf_perm_break_stress_left(1, HF_PEROXIDE_4H), 1.5 / 3.3, 1e-14, 0, "tate1993");
    CHECK_CLOSE(hf_perm_work_left(2, HF_STRETCH_BREAK), 0.91 / 2.6, 1e-14, 0, "tate1993");
    CHECK_CLOSE(hf_perm_work_left(3, HF_STRETCH_20), 2.7 / 4.4, 1e-14, 0, "as printed");
    CHECK_CLOSE(hf_perm_work_left(0, HF_STRETCH_BREAK), 1, 0, 0, "its own untreated value");
    CHECK_CLOSE(hf_dry_heat_break_stress_left(HF_DRY_HEAT_115), 0.946, 1e-14, 0, "wickett-ch7");
    CHECK_CLOSE(hf_dry_heat_work_left(HF_DRY_HEAT_130), 1.031, 1e-14, 0, "wickett-ch7");
    CHECK_CLOSE(hf_ironing_modulus_left(HF_IRONED_VIRGIN), 0.876, 1e-14, 0, "sayahi, abstract");
    CHECK_CLOSE(hf_ironing_break_stress_left(HF_IRONED_BLEACHED), 0.50, 1e-14, 0, "sayahi");
    CHECK_CLOSE(hf_spray_break_stress_left(HF_SPRAY_ETHANOL), 0.88, 0, 0.01,
                "christian2011: -11 to -12 %");
    CHECK_CLOSE(hf_spray_modulus_left(HF_SPRAY_ETHANOL), 1.005, 0, 5e-4, "christian2011: +0.01");
    double y = -1;
    assert_int_equal(hf_perm_modulus_left_e(4, HF_PEROXIDE_NONE, 1, &y), HF_ERANGE);
    assert_int_equal(hf_perm_modulus_left_e(1, (hf_peroxide)2, 1, &y), HF_EINVAL);
    assert_int_equal(hf_dry_heat_work_left_e((hf_dry_heat)4, 1, &y), HF_EINVAL);
    assert_int_equal(hf_ironing_modulus_left_e(HF_IRONED_VIRGIN, 1, NULL), HF_EINVAL);
    CHECK_CLOSE(y, -1, 0, 0, "untouched on failure");
}

/* Diameters of circles of equal area, and the axes of ellipses: arithmetic apart from this code. */
static void test_types(void **unused)
{
    (void)unused;
    static const double round[] = {80.3, 72.1, 73.2}, minor[] = {71, 61, 57},
                        major[] = {91, 86, 94};
    for (int t = 0; t < 3; t++) {
        const double area = hf_type_area((hf_hair_type)t, NULL) * 1e12;
        const double ratio = hf_type_ellipticity((hf_hair_type)t, NULL);
        const double equal = 2 * sqrt(area / acos(-1));
        CHECK_CLOSE(equal, round[t], 0, 0.05, "textbook-ch6, p. 204");
        CHECK_CLOSE(equal / sqrt(ratio), minor[t], 0, 0.5, "textbook-ch6, p. 204");
        CHECK_CLOSE(equal * sqrt(ratio), major[t], 0, 0.5, "textbook-ch6, p. 204");
    }
    double y;
    assert_int_equal(hf_type_area_e((hf_hair_type)3, NULL, 1, &y), HF_EINVAL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_groups),
        cmocka_unit_test(test_signs),
        cmocka_unit_test(test_treated),
        cmocka_unit_test(test_types),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
