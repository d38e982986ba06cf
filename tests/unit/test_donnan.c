/* Ionic groups in a bath: titration of wool, Donnan equilibrium against an independent solution,
 * swelling against pH, refusals, time of a solve. */
#include "check.h"

#include <hairfibre/bonds.h>
#include <hairfibre/chemistry.h>
#include <hairfibre/quantity.h>

#include "base/catalogue.h"
#include "bonds/donnan.h"

#include <string.h>
#include <time.h>

#define WET 0.315 /* regain of wet virgin hair */

static hf_parameters *set_named(const char *name)
{
    hf_parameters *set;
    assert_int_equal(hf_parameters_new(&set, name), HF_OK);
    return set;
}

typedef hf_status (*bath_function)(double, double, double, const hf_parameters *, unsigned,
                                   double *);

static double ask(bath_function f, double ph, double salt, double regain, const hf_parameters *set)
{
    double y = (double)NAN;
    assert_false(hf_failed(f(ph, salt, regain, set, HF_EXTRAPOLATE, &y)));
    return y;
}

/* The same balance written without logarithms and solved by bisection on the proton concentration
 * inside: cations - anions + charge/V = 0 with ions from h_in/h_out. */
static double plain_internal_ph(const hf_parameters *set, double ph, double salt, double regain)
{
    double na, nb, s, c, cysteic;
    assert_int_equal(hf_parameters_get(set, "bond.ionic.carboxyl", &na), HF_OK);
    assert_int_equal(hf_parameters_get(set, "bond.ionic.base", &nb), HF_OK);
    assert_int_equal(hf_parameters_get(set, "bond.ionic.arginine_share", &s), HF_OK);
    assert_int_equal(hf_parameters_get(set, "bond.disulfide.cysteic", &cysteic), HF_OK);
    c = salt + fmax(pow(10, 3 - ph), pow(10, ph - 11));
    double low = -2, high = 16;
    for (int i = 0; i < 200; i++) {
        const double within = 0.5 * (low + high), ratio = pow(10, ph - within);
        const double q =
            nb * (s / (1 + pow(10, within - 12.1)) + (1 - s) / (1 + pow(10, within - 10.0))) -
            na / (1 + pow(10, 4.25 - within)) - cysteic / (1 + pow(10, 1 - within));
        if (q / (regain / 997.05) + c * ratio - c / ratio > 0)
            low = within;
        else
            high = within;
    }
    return 0.5 * (low + high);
}

static void test_balance(void **unused)
{
    (void)unused;
    static const char *const names[] = {"virgin", "bleached", "wool"};
    static const double salts[] = {0, 1e-3, 1, 100, 1000, 5000};
    for (size_t i = 0; i < 3; i++) {
        hf_parameters *set = set_named(names[i]);
        for (size_t k = 0; k < 6; k++)
            for (double ph = 0; ph <= 14; ph += 0.25)
                for (double regain = 0.02; regain < 1; regain *= 3)
                    CHECK_CLOSE(ask(hf_internal_ph_e, ph, salts[k], regain, set),
                                plain_internal_ph(set, ph, salts[k], regain), 0, 1e-9,
                                "the same balance solved another way");
        hf_parameters_free(set);
    }
}

/* Pressure and charge from the ions themselves: osmotic pressure R T (cations + anions inside less
 * those outside), and what the ions must carry. */
static void test_ions(void **unused)
{
    (void)unused;
    for (double ph = 1; ph <= 12; ph += 0.5) {
        const double salt = 50;
        const double c = salt + fmax(pow(10, 3 - ph), pow(10, ph - 11));
        const double ratio = pow(10, ph - ask(hf_internal_ph_e, ph, salt, WET, NULL));
        const double inside = c * ratio + c / ratio;
        CHECK_CLOSE(ask(hf_donnan_pressure_e, ph, salt, WET, NULL),
                    8.31446261815324 * 298.15 * (inside - 2 * c), 1e-8, 1e-3,
                    "van 't Hoff; what is left of the difference of equal numbers");
        CHECK_CLOSE(ask(hf_acid_bound_e, ph, salt, WET, NULL),
                    (c / ratio - c * ratio) * WET / 997.05, 1e-8, 1e-12,
                    "no net charge with its ions");
        CHECK_CLOSE(ask(hf_donnan_potential_e, ph, salt, WET, NULL),
                    -8.31446261815324 * 298.15 / 96485.33212 * log(ratio), 1e-8, 1e-12,
                    "Nernst potential of protons");
    }
}

/* Wool in hydrochloric acid and potassium hydroxide at 0 degC (steinhardt1940, abstract of the
 * report). */
static void test_titration_of_wool(void **unused)
{
    (void)unused;
    hf_parameters *wool = set_named("wool");
    const double w = 0.33;
    double most[3], salts[] = {10, 100, 1000};
    for (int i = 0; i < 3; i++)
        most[i] = ask(hf_acid_bound_e, 0.5, salts[i], w, wool);
    CHECK_CLOSE(most[0], 0.82, 0, 0.02, "largest binding of acid");
    CHECK_CLOSE(most[1], most[0], 0, 0.02, "independent of ionic strength");
    CHECK_CLOSE(most[2], most[0], 0, 0.02, "independent of ionic strength");
    assert_true(ask(hf_acid_bound_e, 14, 1000, w, wool) < -0.78); /* base: above 0.78 */
    for (double ph = 5; ph <= 10; ph += 0.25)
        assert_true(fabs(ask(hf_acid_bound_e, ph, 0, w, wool)) < 0.02); /* no salt */
    /* With salt the curve passes zero near pH 6.4, sharply: within half a unit of pH the sign is
     * clear while without salt nothing is to be seen there. */
    CHECK_CLOSE(hf_isoionic_point(wool), 6.4, 0, 0.2, "zero point with salt (sets the bases)");
    for (int i = 0; i < 3; i++) {
        assert_true(ask(hf_acid_bound_e, 5.9, salts[i], w, wool) > 1e-3);
        assert_true(ask(hf_acid_bound_e, 6.9, salts[i], w, wool) < -1e-3);
        CHECK_CLOSE(ask(hf_internal_ph_e, hf_isoionic_point(wool), salts[i], w, wool),
                    hf_isoionic_point(wool), 0, 1e-9, "no charge, no difference");
    }
    /* An n-fold rise of chloride moves the uptake nearly as much as an n-fold rise of protons, in
     * dilute solution. */
    const double base = ask(hf_acid_bound_e, 3, 10, w, wool);
    const double more_salt = ask(hf_acid_bound_e, 3, 21, w, wool) - base; /* chloride 11 -> 22 */
    const double more_acid =
        ask(hf_acid_bound_e, 3 - log10(2), 9, w, wool) - base; /* protons 1 -> 2, chloride 11 */
    assert_true(more_salt > 0.02);
    CHECK_CLOSE(more_salt, more_acid, 0.1, 0, "nearly as much (steinhardt1940)");
    hf_parameters_free(wool);
}

/* Half of the acid is bound at internal pH 4.15 to 4.35, with or without potassium chloride
 * (peters1949, abstract). */
static void test_internal_midpoint(void **unused)
{
    (void)unused;
    hf_parameters *wool = set_named("wool");
    static const double salts[] = {0, 10, 100, 1000};
    double outside[4];
    for (int i = 0; i < 4; i++) {
        double low = 0.5, high = 6;
        while (high - low > 1e-9) {
            const double middle = 0.5 * (low + high);
            if (ask(hf_acid_bound_e, middle, salts[i], 0.33, wool) > 0.41)
                low = middle;
            else
                high = middle;
        }
        outside[i] = low;
        CHECK_CLOSE(ask(hf_internal_ph_e, low, salts[i], 0.33, wool), 4.25, 0, 0.10,
                    "midpoint on the internal pH");
    }
    assert_true(outside[3] - outside[0] > 1.5); /* on the pH of the bath the curves lie far apart */
    hf_parameters_free(wool);
}

static void test_salt_bridges(void **unused)
{
    (void)unused;
    for (double ph = 0; ph <= 14; ph += 0.5) {
        const double pairs = ask(hf_salt_bridges_donnan_e, ph, 100, WET, NULL);
        assert_true(pairs >= 0 && pairs <= 0.72);
    }
    /* Much salt makes the inside the bath, so the simple function at the same pH is met but for the
     * pairs of cysteic acid. */
    const double inside = ask(hf_internal_ph_e, 7, 5000, WET, NULL);
    double simple;
    assert_false(hf_failed(hf_salt_bridges_e(inside, NULL, HF_EXTRAPOLATE, &simple)));
    CHECK_CLOSE(ask(hf_salt_bridges_donnan_e, 7, 5000, WET, NULL), simple, 0.01, 0,
                "0.03 of 0.83 mol/kg of the acids are always charged");
    /* Without salt the water of a bath of pH 3 leaves the bridges alone; with salt it opens some.
     */
    assert_true(ask(hf_salt_bridges_donnan_e, 3, 0, WET, NULL) >
                ask(hf_salt_bridges_donnan_e, 3, 1000, WET, NULL) + 0.2);
}

static void test_swelling(void **unused)
{
    (void)unused;
    hf_parameters *bleached = set_named("bleached"), *wool = set_named("wool");
    CHECK_CLOSE(
        ask(hf_ph_swelling_e, 1, 0, WET, NULL), 0.035, 0, 0.005,
        "3.5 % of volume at pH 1 (menkart1966, scan damaged): what the stiffness is set by");
    CHECK_CLOSE(ask(hf_ph_swelling_e, 1, 0, 0.33, wool), 0.06, 0, 0.005, "6 % for wool, likewise");
    /* Intact hair: constant from pH 2 to 9, rising outside (valkobarnett1952). No number is printed
     * for constant. From pH 3 to 9 the change is below a fifth of one per cent of volume; at pH 2,
     * where this law has begun to rise, it is within one standard deviation of a wet diameter,
     * 2.5 % (yamamoto2002). */
    double most = 0;
    for (double ph = 3; ph <= 9; ph += 0.1)
        most = fmax(most, ask(hf_ph_swelling_e, ph, 0, WET, NULL));
    assert_true(most < 0.002);
    const double at2 = ask(hf_ph_swelling_e, 2, 0, WET, NULL);
    assert_true(at2 < 0.025);
    assert_true(ask(hf_ph_swelling_e, 1, 0, WET, NULL) > at2 + 0.01);
    assert_true(ask(hf_ph_swelling_e, 10, 0, WET, NULL) > 2 * most);
    assert_true(ask(hf_ph_swelling_e, 12, 0, WET, NULL) > 5 * most);
    /* Bleached hair takes more water and is thicker at pH 10 than at pH 3 (malinauskyte2020); only
     * the direction is read. */
    const double low = ask(hf_ph_swelling_e, 3, 0, 0.40, bleached);
    const double high = ask(hf_ph_swelling_e, 10, 0, 0.40, bleached);
    assert_true(high > low + 0.01);
    assert_true(high - low > 3 * (ask(hf_ph_swelling_e, 10, 0, WET, NULL) -
                                  ask(hf_ph_swelling_e, 3, 0, WET, NULL)));
    hf_parameters_free(bleached);
    hf_parameters_free(wool);
}

/* Reduced hair swells at pH 10, and acid or salt holds the swelling down (reduced-swelling1990:
 * directions). Met: against pH 3 without salt, and by salt beyond the 0.5 mol/l of a waving bath.
 * Not met, so not tested: with salt this law has reduced hair swell at pH 3 as intact hair does. */
static void test_thiol_groups(void **unused)
{
    (void)unused;
    const double water = hfi_donnan_water(WET);
    const hfi_ionic intact = hfi_ionic_of(hfi_shipped_values, 0.03, 0);
    const hfi_ionic reduced = hfi_ionic_of(hfi_shipped_values, 0.03, 1);
    const hfi_donnan alkaline = hfi_donnan_at(&reduced, 10, 0, water, 0);
    const hfi_donnan acid = hfi_donnan_at(&reduced, 3, 0, water, 0);
    const hfi_donnan bath = hfi_donnan_at(&reduced, 10, 500, water, 0);
    const hfi_donnan salted = hfi_donnan_at(&reduced, 10, 5000, water, 0);
    const hfi_donnan unopened = hfi_donnan_at(&intact, 10, 500, water, 0);
    assert_true(hfi_donnan_pressure(&alkaline) > 3 * hfi_donnan_pressure(&acid));
    assert_true(hfi_donnan_pressure(&bath) > 2 * hfi_donnan_pressure(&salted));
    assert_true(hfi_donnan_pressure(&bath) > 3 * hfi_donnan_pressure(&unopened));
}

static void expect_sentence(const char *name, const double *x, unsigned flags, hf_status wanted,
                            const char *part)
{
    hf_message message;
    double y;
    const hf_quantity *quantity = hf_quantity_find(name);
    if (!quantity)
        fail_msg("no quantity %s", name);
    assert_int_equal(hf_quantity_evaluate(quantity, x, NULL, flags, &y, &message), wanted);
    if (!strstr(message.text, part))
        fail_msg("%s: \"%s\" does not say \"%s\"", name, message.text, part);
}

static void test_refusals(void **unused)
{
    (void)unused;
    static const bath_function all[] = {hf_internal_ph_e,         hf_donnan_potential_e,
                                        hf_donnan_pressure_e,     hf_acid_bound_e,
                                        hf_salt_bridges_donnan_e, hf_ph_swelling_e};
    const double nan = (double)NAN;
    for (size_t i = 0; i < 6; i++) {
        double y = -1;
        assert_int_equal(all[i](-0.1, 0, WET, NULL, 1, &y), HF_ERANGE);
        assert_int_equal(all[i](14.1, 0, WET, NULL, 1, &y), HF_ERANGE);
        assert_int_equal(all[i](7, -1, WET, NULL, 1, &y), HF_ERANGE);
        assert_int_equal(all[i](7, 5001, WET, NULL, 1, &y), HF_ERANGE);
        assert_int_equal(all[i](7, 0, 0, NULL, 1, &y), HF_ERANGE);
        assert_int_equal(all[i](7, 0, 0.1, NULL, 0, &y), HF_ERANGE);
        assert_int_equal(all[i](nan, 0, WET, NULL, 1, &y), HF_EINVAL);
        assert_int_equal(all[i](7, nan, WET, NULL, 1, &y), HF_EINVAL);
        assert_int_equal(all[i](7, 0, nan, NULL, 1, &y), HF_EINVAL);
        assert_int_equal(all[i](7, 0, WET, NULL, 0, NULL), HF_EINVAL);
        CHECK_CLOSE(y, -1, 0, 0, "untouched on failure");
        assert_int_equal(all[i](7, 0, WET, NULL, 0, &y), HF_OK);
        assert_int_equal(all[i](0.5, 0, WET, NULL, 0, &y), HF_ERANGE);
        assert_int_equal(all[i](0.5, 0, WET, NULL, 1, &y), HF_EXTRAPOLATED);
    }
    assert_true(isnan(hf_acid_bound(0.5, 0, WET, NULL)));
    expect_sentence("internal_ph", (double[]){15, nan, nan}, 1, HF_ERANGE,
                    "ph = 15 lies outside the possible range 0 to 14");
    expect_sentence("acid_bound", (double[]){7, -5, nan}, 1, HF_ERANGE,
                    "ionic_strength = -5 mol/m3 lies outside the possible range 0 mol/m3 to 5000");
    expect_sentence("acid_bound", (double[]){7, 2000, nan}, 0, HF_ERANGE, "evidence supports");
    hf_parameters *odd = set_named("bleached");
    double y;
    assert_int_equal(hf_parameters_set(odd, "bond.disulfide.cysteic", 1.2), HF_OK);
    assert_int_equal(hf_parameters_set(odd, "bond.ionic.sulfonic_pk", -3), HF_OK);
    assert_int_equal(hf_isoionic_point_e(odd, 0, &y), HF_ERANGE);
    assert_int_equal(hf_isoionic_point_e(NULL, 0, NULL), HF_EINVAL);
    hf_parameters_free(odd);
}

static double seconds_now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

/* The curve equals its single values, stops where it must, and costs little: 200 points in a
 * millisecond, a single balance in 2 us. Sanitised builds get ten times as long. */
static void test_curve_and_time(void **unused)
{
    (void)unused;
    enum { N = 200 };
    double ph[N], bound[N], best = 1;
    for (int i = 0; i < N; i++)
        ph[i] = 14.0 * i / (N - 1);
    for (int repeat = 0; repeat < 50; repeat++) {
        const double start = seconds_now();
        assert_int_equal(hf_acid_bound_v(N, ph, repeat, WET, NULL, 1, bound, NULL),
                         HF_EXTRAPOLATED);
        best = fmin(best, seconds_now() - start);
    }
#if defined(__SANITIZE_ADDRESS__)
    const double slack = 10;
#else
    const double slack = 1;
#endif
    print_message("titration curve of 200 points: %.3f ms\n", 1e3 * best);
    assert_true(best < slack * 4e-4); /* 2 us a point, so 0.4 ms */
    for (int i = 0; i < N; i++) {
        CHECK_CLOSE(bound[i], ask(hf_acid_bound_e, ph[i], 49, WET, NULL), 0, 0, "one by one");
        assert_true(i == 0 || bound[i] <= bound[i - 1]);
    }
    size_t bad = 99;
    ph[7] = 15;
    assert_int_equal(hf_acid_bound_v(N, ph, 0, WET, NULL, 1, bound, &bad), HF_ERANGE);
    assert_int_equal(bad, 7);
    assert_int_equal(hf_acid_bound_v(0, NULL, 0, WET, NULL, 0, NULL, NULL), HF_OK);
    assert_int_equal(hf_acid_bound_v(1, NULL, 0, WET, NULL, 0, bound, NULL), HF_EINVAL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_balance),           cmocka_unit_test(test_ions),
        cmocka_unit_test(test_titration_of_wool), cmocka_unit_test(test_internal_midpoint),
        cmocka_unit_test(test_salt_bridges),      cmocka_unit_test(test_swelling),
        cmocka_unit_test(test_thiol_groups),      cmocka_unit_test(test_refusals),
        cmocka_unit_test(test_curve_and_time),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
