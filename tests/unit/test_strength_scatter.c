/* Room strength, scatter, counts and cuticle: laws against sums, integrals and balances of forces.
 */
#include "check.h"

#include <hairfibre/strength.h>

#define MPA 1e6

/* ---- scatter and counts ---------------------------------------------------------------------- */

/* Mean and deviation of the law by the midpoint rule on 1 - F. */
static void test_scatter(void **unused)
{
    (void)unused;
    double mean = 0, square = 0;
    const double step = 0.01 * MPA;
    for (double s = step / 2; s < 400 * MPA; s += step) {
        const double survive = 1 - hf_break_probability(s, 0.65, NULL);
        mean += survive * step;
        square += 2 * s * survive * step;
    }
    CHECK_CLOSE(mean, 229 * MPA, 1e-7, 0, "mean of the distribution");
    CHECK_CLOSE(sqrt(square - mean * mean) / mean, hf_weibull_variation(18), 1e-5, 0,
                "variation of the distribution");
    CHECK_CLOSE(hf_weibull_modulus(0.067), 18, 0, 0.5, "Caucasian hair (breakstress-rh2021)");
    CHECK_CLOSE(hf_weibull_modulus(0.18), 6.5, 0, 0.05, "African hair (breakstress-rh2021)");
    /* m = 1 is the exponential law, m = 2 Rayleigh's. */
    CHECK_CLOSE(hf_weibull_variation(1), 1, 1e-14, 0, "exponential law");
    CHECK_CLOSE(hf_weibull_variation(2), sqrt(4 / acos(-1) - 1), 1e-13, 0, "Rayleigh law");
    CHECK_CLOSE(hf_weakest_break_stress(1, 0.65, NULL), 229 * MPA, 1e-14, 0, "one strand");
    /* The weakest of n follows the same law of n times the hazard. */
    double weakest = 0;
    for (double s = step / 2; s < 400 * MPA; s += step)
        weakest += pow(1 - hf_break_probability(s, 0.65, NULL), 20) * step;
    CHECK_CLOSE(hf_weakest_break_stress(20, 0.65, NULL), weakest, 1e-7, 0, "mean of the weakest");
    CHECK_CLOSE(hf_broken_expected(50, 200 * MPA, 1, NULL),
                50 * hf_break_probability(200 * MPA, 1, NULL), 1e-15, 0, "n p");
    double y = -1;
    assert_int_equal(hf_weakest_break_stress_e(2.5, 0.65, NULL, 1, &y), HF_EINVAL);
    assert_int_equal(hf_weakest_break_stress_e(0, 0.65, NULL, 1, &y), HF_ERANGE);
    assert_int_equal(hf_broken_expected_e(2.5, 1e8, 0.65, NULL, 1, &y), HF_EINVAL);
    assert_int_equal(hf_break_probability_e(-1, 0.65, NULL, 1, &y), HF_ERANGE);
    assert_int_equal(hf_weibull_modulus_e(0, 1, &y), HF_ERANGE);
    assert_int_equal(hf_weibull_variation_e(1000, 1, &y), HF_ERANGE);
    CHECK_CLOSE(y, -1, 0, 0, "untouched on failure");
}

static void test_counts(void **unused)
{
    (void)unused;
    CHECK_CLOSE(hf_broken_at_least(5, 10, 0.5), 638.0 / 1024, 1e-14, 0, "arithmetic");
    CHECK_CLOSE(hf_broken_at_least(1, 20, 0.05), 1 - pow(0.95, 20), 1e-14, 0, "1 - 0.95^20");
    CHECK_CLOSE(hf_broken_at_least(20, 20, 0.9), pow(0.9, 20), 1e-14, 0, "0.9^20");
    CHECK_CLOSE(hf_broken_at_least(10, 10, 1e-9), 1e-90, 1e-12, 0,
                "small answers keep their digits");
    CHECK_CLOSE(hf_broken_at_least(0, 3, 0), 1, 0, 0, "none is always reached");
    CHECK_CLOSE(hf_broken_at_least(1, 3, 0), 0, 0, 0, "never");
    CHECK_CLOSE(hf_broken_at_least(3, 3, 1), 1, 0, 0, "always");
    double y = -1;
    assert_int_equal(hf_broken_at_least_e(4, 3, 0.5, 1, &y), HF_ERANGE);
    assert_int_equal(hf_broken_at_least_e(0.5, 3, 0.5, 1, &y), HF_EINVAL);
    assert_int_equal(hf_broken_at_least_e(1, 3.5, 0.5, 1, &y), HF_EINVAL);
    assert_int_equal(hf_broken_at_least_e(1, 3, 1.5, 1, &y), HF_ERANGE);
    assert_int_equal(hf_broken_at_least_e(1, 3, 0.5, 1, NULL), HF_EINVAL);
    CHECK_CLOSE(y, -1, 0, 0, "untouched on failure");
}

/* ---- cuticle --------------------------------------------------------------------------------- */

/* Layers held together: axial force and bending moment of the free strip vanish. Unknowns: strain
 * at the interface and curvature; z from the interface, outer layer above it. */
static double balanced(double e, double t1, double t2, double E1, double E2)
{
    const double force_strain = E1 * t1 + E2 * t2;
    const double force_curvature = (E1 * t1 * t1 - E2 * t2 * t2) / 2;
    const double moment_curvature = (E1 * t1 * t1 * t1 + E2 * t2 * t2 * t2) / 3;
    const double force = E2 * t2 * e, moment = -E2 * t2 * t2 / 2 * e;
    const double determinant = force_strain * moment_curvature - force_curvature * force_curvature;
    return -(force_strain * moment - force_curvature * force) / determinant;
}

static void test_cuticle(void **unused)
{
    (void)unused;
    CHECK_CLOSE(hf_strip_curvature(0.01, 1e-6, 1e-6, 3e9, 3e9), 1.5 * 0.01 / 2e-6, 1e-14, 0,
                "equal layers: 24 e/(16 h) (timoshenko1925)");
    for (double m = 0.01; m < 101; m *= 10)
        for (double n = 0.03; n < 40; n *= 5)
            CHECK_CLOSE(hf_strip_curvature(0.01, m * 1e-6, 1e-6, n * 2e9, 2e9),
                        balanced(0.01, m * 1e-6, 1e-6, n * 2e9, 2e9), 1e-11, 0,
                        "force and moment balance");
    CHECK_CLOSE(hf_strip_curvature(0.01, 1e-10, 1e-6, 3e9, 2e9),
                6 * 0.01 * 3e9 * 1e-10 / (2e9 * 1e-12), 1e-3, 0, "thin film");
    CHECK_CLOSE(hf_cuticle_thickness(8, NULL), 4e-6, 1e-14, 0, "8 layers of 0.5 um (textbook-ch1)");
    CHECK_CLOSE(hf_cuticle_share(4e-6, 72e-6), 1 - (64.0 / 72) * (64.0 / 72), 1e-14, 0, "areas");
    /* The whole fibre of the composite bar has the modulus it was made from. */
    const double G = hf_cuticle_shear_modulus(0.795e9, 0.430e9, 4e-6, 72e-6);
    const double core = pow(64.0 / 72, 4);
    CHECK_CLOSE(G * (1 - core) + 0.430e9 * core, 0.795e9, 1e-13, 0, "composite bar");
    assert_true(G > 0.795e9); /* the cuticle is the stiffer part (lunn2018, harper2007) */
    CHECK_CLOSE(hf_cuticle_mismatch(0.3, 0.1, NULL), hf_diameter_swelling(0.3, 0.1, NULL), 1e-12, 0,
                "a cuticle that swells as the fibre does");
    assert_true(hf_cuticle_mismatch(0.1, 0.3, NULL) < 0);
    double y = -1;
    assert_int_equal(hf_strip_curvature_e(0.03, 1e-6, 1e-6, 1e9, 1e9, 0, &y), HF_ERANGE);
    assert_int_equal(hf_strip_curvature_e(0.01, 0, 1e-6, 1e9, 1e9, 1, &y), HF_ERANGE);
    assert_int_equal(hf_strip_curvature_e(0.01, 1e-6, 1e-6, 1e9, 0, 1, &y), HF_ERANGE);
    assert_int_equal(hf_strip_curvature_e(0.01, 1e-6, 1e-6, 1e9, 1e9, 1, NULL), HF_EINVAL);
    assert_int_equal(hf_cuticle_share_e(40e-6, 72e-6, 1, &y), HF_ERANGE);
    assert_int_equal(hf_cuticle_shear_modulus_e(0.1e9, 0.9e9, 4e-6, 72e-6, 1, &y), HF_ERANGE);
    assert_int_equal(hf_cuticle_shear_modulus_e(1e9, 0.9e9, 0, 72e-6, 1, &y), HF_ERANGE);
    assert_int_equal(hf_cuticle_thickness_e(11, NULL, 0, &y), HF_ERANGE);
    assert_int_equal(hf_cuticle_mismatch_e(0.5, 0.1, NULL, 0, &y), HF_ERANGE);
    CHECK_CLOSE(y, -1, 0, 0, "untouched on failure");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_scatter),
        cmocka_unit_test(test_counts),
        cmocka_unit_test(test_cuticle),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
