/* Room strength: what must hold whatever the numbers are. */
#include "../unit/check.h"

#include "base/catalogue.h"
#include "strength/curve.h"

#include <hairfibre/strength.h>

#include <stdint.h>

#define SETS 3
static hf_parameters *sets[SETS];

static int make_sets(void **unused)
{
    (void)unused;
    static const char *const names[SETS] = {"virgin", "bleached", "wool"};
    for (size_t i = 0; i < SETS; i++)
        if (hf_parameters_new(&sets[i], names[i]) != HF_OK)
            return 1;
    return 0;
}

static int free_sets(void **unused)
{
    (void)unused;
    for (size_t i = 0; i < SETS; i++)
        hf_parameters_free(sets[i]);
    return 0;
}

/* Numbers between 0 and 1, the same on every machine. */
static double draw(uint64_t *state)
{
    *state = *state * 6364136223846793005u + 1442695040888963407u;
    return (double)(*state >> 11) / 9007199254740992.0;
}

typedef hf_status one_argument(double, const hf_parameters *, unsigned, double *);

static double ask(one_argument *law, double x, const hf_parameters *set)
{
    double y = (double)NAN;
    if (hf_failed(law(x, set, HF_EXTRAPOLATE, &y)))
        fail();
    return y;
}

/* ---- laws of one argument -------------------------------------------------------------------- */

static void test_monotonic(void **unused)
{
    (void)unused;
    static const struct {
        one_argument *law;
        int rises;
    } laws[] = {
        {hf_shear_modulus_e, 0}, {hf_shear_modulus_without_cuticle_e, 0},
        {hf_yield_stress_e, 0},  {hf_break_stress_e, 0},
        {hf_break_strain_e, 1},
    };
    for (size_t s = 0; s < SETS; s++)
        for (size_t i = 0; i < sizeof laws / sizeof laws[0]; i++)
            for (int k = 0; k < 500; k++) {
                const double here = ask(laws[i].law, k / 500.0, sets[s]);
                const double damper = ask(laws[i].law, (k + 1) / 500.0, sets[s]);
                assert_true(here > 0 && damper > 0);
                assert_true(laws[i].rises ? damper > here : damper < here);
            }
}

static void test_modulus_against_water(void **unused)
{
    (void)unused;
    for (size_t s = 0; s < SETS; s++) {
        const double wettest = hf_saturation_regain(293.15, HF_ABSORPTION, sets[s]);
        for (int k = 0; k < 400; k++) {
            const double w = k / 400.0 * wettest, next = (k + 1) / 400.0 * wettest;
            assert_true(ask(hf_tensile_modulus_e, next, sets[s]) <
                        ask(hf_tensile_modulus_e, w, sets[s]));
            assert_true(ask(hf_tensile_modulus_rival_e, next, sets[s]) <
                        ask(hf_tensile_modulus_rival_e, w, sets[s]));
        }
        const double wet = ask(hf_tensile_modulus_e, wettest, sets[s]);
        CHECK_CLOSE(ask(hf_tensile_modulus_e, wettest * (1 - 1e-9), sets[s]), wet, 1e-8, 0,
                    "no jump");
        CHECK_CLOSE(ask(hf_tensile_modulus_e, 1, sets[s]), wet, 1e-12, 0, "flat in liquid water");
        for (int b = 0; b < 2; b++) {
            double before = (double)INFINITY;
            for (int k = 0; k <= 400; k++) {
                double now = (double)NAN;
                assert_false(hf_failed(hf_tensile_modulus_in_air_e(k / 400.0, (hf_branch)b, sets[s],
                                                                   HF_EXTRAPOLATE, &now)));
                assert_true(now < before);
                before = now;
            }
        }
    }
}

/* Bleached hair is softer wet and, up to 90 % humidity, not softer than virgin hair. */
static void test_bleached_against_virgin(void **unused)
{
    (void)unused;
    for (double h = 0; h <= 0.9; h += 0.01) {
        double virgin, bleached;
        assert_false(hf_failed(hf_tensile_modulus_in_air_e(h, HF_ABSORPTION, NULL, 1, &virgin)));
        assert_false(
            hf_failed(hf_tensile_modulus_in_air_e(h, HF_ABSORPTION, sets[1], 1, &bleached)));
        assert_true(bleached > virgin);
    }
    assert_true(hf_tensile_modulus_in_air(1, HF_ABSORPTION, sets[1]) <
                hf_tensile_modulus_in_air(1, HF_ABSORPTION, NULL));
}

/* ---- the curve ------------------------------------------------------------------------------- */

static void check_curve(const hfi_curve *c, const hf_parameters *set, double h)
{
    /* No jump of stress or slope at a join. */
    for (int i = 1; i < HFI_CURVE_PIECES; i++) {
        const double x = c->from[i], e = 1e-9 * c->break_strain;
        assert_true(x > c->from[i - 1] && x <= c->break_strain);
        CHECK_CLOSE(hfi_curve_stress(c, x - e), hfi_curve_stress(c, x) - e * c->slope[i], 1e-12, 1,
                    "stress at a join");
        CHECK_CLOSE(hfi_curve_slope(c, x - e), hfi_curve_slope(c, x), 1e-5, 1e-6 * c->modulus,
                    "slope at a join");
    }
    CHECK_CLOSE(hfi_curve_stress(c, c->break_strain), c->break_stress, 1e-11, 0, "the break");
    CHECK_CLOSE(hfi_curve_slope(c, 0), c->modulus, 1e-15, 0, "Hooke");
    double before = -1, area = 0;
    const int n = 3000;
    for (int k = 0; k <= n; k++) {
        const double x = c->break_strain * k / n, step = c->break_strain / n;
        double stress, back, slope, work;
        assert_false(hf_failed(hf_stress_at_strain_e(x, h, set, 1, &stress)));
        assert_false(hf_failed(hf_strain_at_stress_e(stress, h, set, 1, &back)));
        assert_false(hf_failed(hf_tangent_modulus_e(x, h, set, 1, &slope)));
        assert_false(hf_failed(hf_work_to_strain_e(x, h, set, 1, &work)));
        assert_true(stress > before && slope > 0);
        CHECK_CLOSE(back, x, 1e-10, 1e-15, "inverse");
        before = stress;
        if (k % 50 ==
            0) /* the trapezoid is off by the change of slope times step squared over 12 */
            CHECK_CLOSE(work, area, 1e-9, c->modulus * step * step / 6, "area under the curve");
        if (k < n)
            area += step * (stress + hfi_curve_stress(c, fmin(x + step, c->break_strain))) / 2;
        if (k > 0 && k < n)
            CHECK_CLOSE(slope,
                        (hfi_curve_stress(c, x + 1e-7) - hfi_curve_stress(c, x - 1e-7)) / 2e-7,
                        1e-4, 1e-4 * c->modulus, "central difference");
    }
    double whole = (double)NAN;
    assert_false(hf_failed(hf_work_to_break_e(h, set, 1, &whole)));
    CHECK_CLOSE(whole, area, 1e-6, 0, "work to the break");
}

static void test_curve(void **unused)
{
    (void)unused;
    for (size_t s = 0; s < SETS; s++)
        for (double h = 0; h <= 1; h += 0.125) {
            hfi_curve curve;
            assert_int_equal(hfi_curve_at(&curve, sets[s], h), HF_OK);
            check_curve(&curve, sets[s], h);
        }
}

/* Random parameters inside their limits: a sound curve or a refusal, nothing between. */
static void test_curve_of_random_parameters(void **unused)
{
    (void)unused;
    static const hfi_parameter_id moved[] = {
        HFI_STRENGTH_MODULUS_WET,        HFI_STRENGTH_MODULUS_AMBIENT,
        HFI_STRENGTH_YIELD_INTERCEPT,    HFI_STRENGTH_YIELD_SLOPE,
        HFI_STRENGTH_YIELD_REGION_SLOPE, HFI_STRENGTH_YIELD_ROUNDING,
        HFI_STRENGTH_TURN_STRAIN,        HFI_STRENGTH_TURN_ROUNDING,
        HFI_STRENGTH_BREAK_STRESS_WET,   HFI_STRENGTH_BREAK_STRESS_AMBIENT,
        HFI_STRENGTH_BREAK_STRAIN_WET,   HFI_STRENGTH_BREAK_STRAIN_AMBIENT,
    };
    uint64_t seed = 20;
    int sound = 0, refused = 0;
    for (int trial = 0; trial < 150; trial++) {
        hf_parameters *set = NULL;
        assert_int_equal(hf_parameters_new(&set, NULL), HF_OK);
        for (size_t i = 0; i < sizeof moved / sizeof moved[0]; i++) {
            const hf_parameter *row = hf_parameter_at(moved[i]);
            const double x = row->value * exp(1.2 * (draw(&seed) - 0.5));
            assert_int_equal(hf_parameters_set(set, row->name, fmin(fmax(x, row->low), row->high)),
                             HF_OK);
        }
        hfi_curve curve;
        const double h = draw(&seed);
        if (hfi_curve_at(&curve, set, h) == HF_OK) {
            check_curve(&curve, set, h);
            sound++;
        } else {
            double y;
            assert_int_equal(hf_work_to_break_e(h, set, HF_EXTRAPOLATE, &y), HF_ERANGE);
            refused++;
        }
        hf_parameters_free(set);
    }
    assert_true(sound > 20 && refused > 20); /* both kinds were met */
}

/* ---- chance ---------------------------------------------------------------------------------- */

static double survival(double cycles, double stress, double humidity)
{
    double y = (double)NAN;
    if (hf_failed(hf_fatigue_survival_e(cycles, stress, humidity, NULL, HF_EXTRAPOLATE, &y)))
        fail();
    return y;
}

static void test_survival(void **unused)
{
    (void)unused;
    for (int k = 0; k <= 10; k++)
        for (double s = 40e6; s < 200e6; s += 7e6) {
            const double h = k / 10.0;
            double before = 1;
            assert_true(survival(0, s, h) == 1);
            for (double n = 1; n < 1e7; n *= 2) {
                const double now = survival(n, s, h);
                assert_true(now >= 0 && now <= before);
                assert_true(survival(n, s + 5e6, h) <= now);
                before = now;
            }
        }
    for (double s = 60e6; s < 160e6; s += 7e6) /* drier hair lives longer at the same stress */
        for (int k = 1; k < 20; k++) {
            double dry, damp;
            assert_false(hf_failed(hf_fatigue_life_e(s, k / 20.0, NULL, 1, &dry)));
            assert_false(hf_failed(hf_fatigue_life_e(s, (k + 1) / 20.0, NULL, 1, &damp)));
            assert_true(damp < dry);
        }
    for (int k = 0; k < 100; k++) { /* no jump of the shape at 60 % */
        double here, next;
        assert_false(hf_failed(hf_fatigue_shape_e(k / 100.0, NULL, 1, &here)));
        assert_false(hf_failed(hf_fatigue_shape_e((k + 1) / 100.0, NULL, 1, &next)));
        assert_true(next > here && next - here < 0.01);
    }
}

#define BLOCKS 12
static void test_miner_is_blind_to_order(void **unused)
{
    (void)unused;
    uint64_t seed = 7;
    for (int trial = 0; trial < 200; trial++) {
        double cycles[BLOCKS], stress[BLOCKS], humidity[BLOCKS];
        for (int i = 0; i < BLOCKS; i++) {
            cycles[i] = floor(500 * draw(&seed));
            stress[i] = 60e6 + 100e6 * draw(&seed);
            humidity[i] = 0.2 + 0.7 * draw(&seed);
        }
        double used, lives, swapped_used, swapped;
        assert_false(hf_failed(
            hf_fatigue_mixed_e(BLOCKS, cycles, stress, humidity, NULL, 1, &used, &lives, NULL)));
        assert_true(used >= 0 && lives >= 0 && lives <= 1);
        /* Blocks in another order. */
        double c[BLOCKS], s[BLOCKS], h[BLOCKS];
        for (int i = 0; i < BLOCKS; i++) {
            const int j = (i * 5 + trial) % BLOCKS;
            c[i] = cycles[j];
            s[i] = stress[j];
            h[i] = humidity[j];
        }
        assert_false(
            hf_failed(hf_fatigue_mixed_e(BLOCKS, c, s, h, NULL, 1, &swapped_used, &swapped, NULL)));
        CHECK_CLOSE(swapped_used, used, 1e-13, 0, "order");
        CHECK_CLOSE(swapped, lives, 1e-11, 1e-300, "order");
        /* More cycles, no better chance. */
        cycles[trial % BLOCKS] += 50;
        double more_used, more;
        assert_false(hf_failed(hf_fatigue_mixed_e(BLOCKS, cycles, stress, humidity, NULL, 1,
                                                  &more_used, &more, NULL)));
        assert_true(more_used > used);
    }
}

static void test_inverses(void **unused)
{
    (void)unused;
    for (double cv = 0.01; cv < 1.5; cv *= 1.3)
        CHECK_CLOSE(hf_weibull_variation(hf_weibull_modulus(cv)), cv, 1e-9, 0, "inverse");
    for (double shape = 0.3; shape < 20; shape *= 1.5)
        for (double p = 1e-9; p < 1; p = p < 0.1 ? p * 7 : p + 0.13)
            CHECK_CLOSE(hf_weibull_failure(hf_weibull_cycles(p, 5e4, shape), 5e4, shape), p, 1e-12,
                        0, "inverse");
}

/* The expected number is the sum of the chances of reaching 1, 2, ... n. */
static void test_counts(void **unused)
{
    (void)unused;
    for (int n = 1; n < 1200; n = n * 3 + 1)
        for (double p = 0.003; p < 1; p += 0.083) {
            double sum = 0, before = 1;
            for (int k = 1; k <= n; k++) {
                const double at_least = hf_broken_at_least(k, n, p);
                assert_true(at_least >= 0 && at_least <= before);
                /* the strands that do not break, counted instead */
                CHECK_CLOSE(at_least, 1 - hf_broken_at_least(n - k + 1, n, 1 - p), 0, 1e-12,
                            "complement");
                sum += at_least;
                before = at_least;
            }
            CHECK_CLOSE(sum, n * p, 1e-11, 0, "expected number");
        }
    for (double s = 0; s < 4e8; s += 3e6) {
        const double here = hf_break_probability(s, 0.65, NULL);
        assert_true(here >= 0 && here <= 1);
        assert_true(hf_break_probability(s + 3e6, 0.65, NULL) >= here);
        assert_true(hf_break_probability(s, 1, NULL) >= here); /* wet hair is weaker */
    }
    for (double n = 1; n < 1e5; n *= 10)
        assert_true(hf_weakest_break_stress(10 * n, 0.65, NULL) <
                    hf_weakest_break_stress(n, 0.65, NULL));
}

/* ---- cuticle --------------------------------------------------------------------------------- */

static void test_strip(void **unused)
{
    (void)unused;
    uint64_t seed = 3;
    for (int i = 0; i < 1000; i++) {
        const double t1 = 1e-7 * exp(6 * draw(&seed)), t2 = 1e-7 * exp(6 * draw(&seed));
        const double E1 = 1e8 * exp(5 * draw(&seed)), E2 = 1e8 * exp(5 * draw(&seed));
        const double e = 0.02 * draw(&seed);
        const double bend = hf_strip_curvature(e, t1, t2, E1, E2);
        CHECK_CLOSE(hf_strip_curvature(-e, t2, t1, E2, E1), -bend, 1e-12, 0, "turned over");
        CHECK_CLOSE(hf_strip_curvature(e / 2, t1, t2, E1, E2), bend / 2, 1e-12, 0, "linear");
        CHECK_CLOSE(hf_strip_curvature(e, 3 * t1, 3 * t2, E1, E2), bend / 3, 1e-12, 0, "scale");
        CHECK_CLOSE(hf_strip_curvature(e, t1, t2, 5 * E1, 5 * E2), bend, 1e-12, 0, "ratio only");
        /* No pair of layers of this total thickness curls more than the equal pair does when the
         * moduli are equal too. */
        assert_true(hf_strip_curvature(e, t1, t2, E1, E1) <= 1.5 * e / (t1 + t2) * (1 + 1e-12));
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_monotonic),
        cmocka_unit_test(test_modulus_against_water),
        cmocka_unit_test(test_bleached_against_virgin),
        cmocka_unit_test(test_curve),
        cmocka_unit_test(test_curve_of_random_parameters),
        cmocka_unit_test(test_survival),
        cmocka_unit_test(test_miner_is_blind_to_order),
        cmocka_unit_test(test_inverses),
        cmocka_unit_test(test_counts),
        cmocka_unit_test(test_strip),
    };
    return cmocka_run_group_tests(tests, make_sets, free_sets);
}
