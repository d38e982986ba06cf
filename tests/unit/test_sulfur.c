/* Reduction, bleaching and the balance of sulfur; calorimetry of bleached hair. */
#include "check.h"

#include <hairfibre/bonds.h>
#include <hairfibre/chemistry.h>
#include <hairfibre/quantity.h>

#include "bonds/reduction.h"
#include "bonds/sulfur.h"

#include <string.h>

static double K(double celsius)
{
    return celsius + 273.15;
}

/* ---- reduction ---------------------------------------------------------------------------------
 */

static void test_uniform_reduction(void **unused)
{
    (void)unused;
    CHECK_CLOSE(hf_thiol_reduction_rate(K(23), 1000, 9.4, NULL), log(2) / 123, 0.001, 0,
                "half-life 123 s in 1 mol/l at pH 9.4, 23 degC (wickett-ch5, p. 167)");
    CHECK_CLOSE(hf_thiol_reduction_rate(K(23), 1000, 9.4, NULL),
                hf_disulfide_reduction_rate(K(23), 1000, NULL), 1e-15, 0, "the law without pH");
    /* 0.6 mol/l at pH 8.6: 0.036 1/min with the sodium salt, 0.13 with the ammonium salt
     * (reduction-rate2015, p. 43). By the ionised thiol the first is met, the second is not. */
    const double rate = 60 * hf_thiol_reduction_rate(K(23), 600, 8.6, NULL);
    CHECK_CLOSE(rate, 0.036, 0, 0.0005, "sodium salt, last printed digit");
    assert_true(0.13 / rate > 3 && 0.13 / rate < 4);
    const hf_quantity *quantity = hf_quantity_find("thiol_reduction_rate");
    assert_non_null(quantity);
    assert_non_null(strstr(quantity->leaves_out, "ammonium salt was 3.6 times faster"));
}

/* The shell of a cylinder that a front has passed resists like ln(R/r): dr/dt = -D c/(S r ln(R/r)),
 * integrated step by step with r as the variable. */
static double integral_of(double share)
{
    const double end = sqrt(1 - share);
    const int n = 20000;
    double sum = 0;
    for (int i = 0; i < n; i++) {
        const double r = end + (1 - end) * (i + 0.5) / n;
        sum += -r * log(r) * (1 - end) / n;
    }
    return 4 * sum;
}

static void test_front(void **unused)
{
    (void)unused;
    for (double share = 0.02; share < 1; share += 0.07)
        CHECK_CLOSE(hfi_front_share(integral_of(share)), share, 1e-6, 0,
                    "quasi-steady diffusion through a shell, midpoint rule of 20000 steps");
    CHECK_CLOSE(hfi_front_share(0), 0, 0, 0, "not begun");
    CHECK_CLOSE(hfi_front_share(1), 1, 0, 0, "arrived");
    CHECK_CLOSE(hfi_front_share(1e-12), sqrt(2e-12), 1e-6, 0, "a flat wall at first");
    for (double integral = 1e-18; integral < 1; integral *= 1.7) {
        const double share = hfi_front_share(integral);
        double time, half;
        assert_int_equal(hf_reduced_time_front_e(share, 0, &time), HF_OK);
        assert_int_equal(hf_reduced_time_front_e(0.5, 0, &half), HF_OK);
        CHECK_CLOSE(half, 1, 1e-15, 0, "half-life");
        CHECK_CLOSE(time * (0.5 + 0.5 * log(0.5)), integral, 1e-9, 0, "there and back");
    }
    /* Four times the time, about twice the depth while the front is near the surface. */
    double early, late;
    assert_false(hf_failed(hf_reduction_front_depth_e(K(23), 500, 76e-6, 1, NULL, 1, &early)));
    assert_false(hf_failed(hf_reduction_front_depth_e(K(23), 500, 76e-6, 4, NULL, 1, &late)));
    CHECK_CLOSE(late / early, 2, 0.05, 0, "square root of time at a flat wall; the wall is curved");
    CHECK_CLOSE(hf_reduction_front_depth(K(23), 500, 76e-6, 3600, NULL), 38e-6, 1e-12, 0,
                "the radius once it arrived");
    /* Both laws open half of the bonds at the reference state: the choice of the diffusivity. */
    CHECK_CLOSE(hf_reduction_moving_boundary(K(23), 1000, 76e-6, 123, NULL), 0.5, 0, 0.01,
                "two digits of the diffusivity");
    /* Where they differ: the front has done more before the half-life and ends in finite time. */
    assert_true(hf_reduction_moving_boundary(K(23), 1000, 76e-6, 20, NULL) >
                hf_disulfide_reduced(K(23), 1000, 20, NULL) + 0.08);
    CHECK_CLOSE(hf_reduction_moving_boundary(K(23), 1000, 76e-6, 900, NULL), 1, 0, 0, "all");
}

/* t/t_half = -ln(1 - f)/0.693 (reduction-kinetics2021, p. 117). */
static void test_reduced_time(void **unused)
{
    (void)unused;
    for (double share = 0; share < 0.99; share += 0.1)
        CHECK_CLOSE(hf_reduced_time_uniform(share), -log(1 - share) / 0.693, 3e-4, 1e-15,
                    "0.693 is printed to three digits");
    double y;
    assert_int_equal(hf_reduced_time_uniform_e(1, 1, &y), HF_ERANGE);
    assert_int_equal(hf_reduced_time_front_e(1.1, 1, &y), HF_ERANGE);
    assert_int_equal(hf_reduced_time_front_e(-0.1, 1, &y), HF_ERANGE);
    assert_int_equal(hf_reduced_time_front_e(0.5, 1, NULL), HF_EINVAL);
}

/* ---- bleaching ---------------------------------------------------------------------------------
 */

static double bleached(double minutes, hf_bleach_law law)
{
    double y = (double)NAN;
    assert_false(
        hf_failed(hf_half_cystine_bleached_e(60 * minutes, 305.35, 0.06, law, NULL, 1, &y)));
    return y;
}

static void test_bleach_laws(void **unused)
{
    (void)unused;
    CHECK_CLOSE(bleached(60, HF_BLEACH_ROOT), 0.20, 1e-14, 0, "both laws go through one point");
    CHECK_CLOSE(bleached(60, HF_BLEACH_STEADY), 0.20, 1e-14, 0, "both laws go through one point");
    CHECK_CLOSE(bleached(15, HF_BLEACH_ROOT), 0.10, 1e-14, 0, "root of time (suzuta)");
    const double all = 1 - 0.030 / 1.46; /* the rest was oxidised before */
    CHECK_CLOSE(bleached(120, HF_BLEACH_STEADY), all * (1 - pow(1 - 0.20 / all, 2)), 1e-14, 0,
                "first order in cystine");
    /* They differ by half as much again either side. */
    assert_true(bleached(15, HF_BLEACH_ROOT) > 1.5 * bleached(15, HF_BLEACH_STEADY));
    assert_true(bleached(240, HF_BLEACH_STEADY) > 1.4 * bleached(240, HF_BLEACH_ROOT));
    assert_non_null(strstr(hf_quantity_find("half_cystine_bleached")->leaves_out,
                           "Two time laws are published and differ"));
    CHECK_CLOSE(hf_cysteic_acid(3600, 305.35, 0.06, HF_BLEACH_ROOT, NULL), 0.3, 0, 0.1,
                "bleached hair holds 200 to 400 umol/g (tate1993, p. 358); 20 % is assumed");
    /* The content is what half_cystine_oxidised takes back. */
    CHECK_CLOSE(
        hf_half_cystine_oxidised(hf_cysteic_acid(3600, 305.35, 0.06, HF_BLEACH_ROOT, NULL), NULL),
        0.20, 1e-13, 0, "one definition");
    double y = -1;
    assert_int_equal(hf_half_cystine_bleached_e(4e4, 305.35, 0.06, HF_BLEACH_ROOT, NULL, 0, &y),
                     HF_ERANGE); /* above 0.45 */
    assert_int_equal(hf_half_cystine_bleached_e(1e6, 305.35, 0.06, HF_BLEACH_ROOT, NULL, 1, &y),
                     HF_ERANGE); /* above 1 */
    assert_int_equal(hf_half_cystine_bleached_e(60, 305.35, 0.5, HF_BLEACH_ROOT, NULL, 1, &y),
                     HF_ERANGE);
    assert_int_equal(hf_half_cystine_bleached_e(60, 305.35, -0.1, HF_BLEACH_ROOT, NULL, 1, &y),
                     HF_ERANGE);
    assert_int_equal(hf_half_cystine_bleached_e(60, 305.35, 0.06, (hf_bleach_law)2, NULL, 1, &y),
                     HF_EINVAL);
    assert_int_equal(hf_cysteic_acid_e(60, 305.35, 0.06, HF_BLEACH_ROOT, NULL, 1, NULL), HF_EINVAL);
    CHECK_CLOSE(y, -1, 0, 0, "untouched on failure");
}

/* ---- calorimetry -------------------------------------------------------------------------------
 */

static void test_calorimetry(void **unused)
{
    (void)unused;
    const double fall = hf_bleached_peak(0, HF_BLEACH_STEADY, NULL) -
                        hf_bleached_peak(14400, HF_BLEACH_STEADY, NULL);
    CHECK_CLOSE(fall, 6.7, 0, 0.9, "141.3 to 134.6 degC after 240 min (gillece2021, Table IV)");
    const double root =
        hf_bleached_peak(0, HF_BLEACH_ROOT, NULL) - hf_bleached_peak(14400, HF_BLEACH_ROOT, NULL);
    CHECK_CLOSE(root, 6.7, 0, 0.9, "the same by the root of time");
    /* Least-squares lines worked out apart from this code: misfit to two digits. */
    CHECK_CLOSE(hf_bleached_peak_misfit(HF_BLEACH_STEADY, NULL), 0.383, 0, 0.002, "nine peaks");
    CHECK_CLOSE(hf_bleached_peak_misfit(HF_BLEACH_ROOT, NULL), 0.469, 0, 0.002, "nine peaks");
    CHECK_CLOSE(hf_bleached_enthalpy_misfit(HF_BLEACH_STEADY, NULL), 1001, 0, 2, "nine enthalpies");
    CHECK_CLOSE(hf_bleached_enthalpy_misfit(HF_BLEACH_ROOT, NULL), 1668, 0, 2, "nine enthalpies");
    /* No neighbouring line does better: the parameters are the minimum. */
    static const char *const names[] = {
        "calorimetry.peak.steady.start", "calorimetry.peak.steady.fall",
        "calorimetry.peak.root.start", "calorimetry.peak.root.fall"};
    for (int i = 0; i < 4; i++)
        for (int side = -1; side <= 1; side += 2) {
            hf_parameters *moved;
            double value;
            assert_int_equal(hf_parameters_new(&moved, NULL), HF_OK);
            assert_int_equal(hf_parameters_get(moved, names[i], &value), HF_OK);
            assert_int_equal(hf_parameters_set(moved, names[i], value + 0.05 * side), HF_OK);
            const hf_bleach_law law = i < 2 ? HF_BLEACH_STEADY : HF_BLEACH_ROOT;
            assert_true(hf_bleached_peak_misfit(law, moved) > hf_bleached_peak_misfit(law, NULL));
            hf_parameters_free(moved);
        }
    /* Number of bleachings: the points and the line printed with them disagree, and are told
     * apart. */
    assert_true(hf_bleached_enthalpy_by_number_misfit(HF_NUMBER_PRINTED, NULL) >
                2 * hf_bleached_enthalpy_by_number_misfit(HF_NUMBER_POINTS, NULL));
    assert_non_null(
        strstr(hf_quantity_find("bleached_enthalpy_by_number")->leaves_out, "0.069 per bleaching"));
    CHECK_CLOSE(hf_bleached_enthalpy_by_number(2, HF_NUMBER_PRINTED, NULL),
                1000 * 19.3 * exp(4.55 - 0.138) / 100, 1e-12, 0, "printed line (wortmann2002)");
    /* What is left after n bleachings is the same number in both rooms. */
    CHECK_CLOSE(hf_bleached_enthalpy_by_number(3, HF_NUMBER_POINTS, NULL) /
                    hf_bleached_enthalpy_by_number(0, HF_NUMBER_POINTS, NULL),
                hf_helix_after_bleaching(3, NULL), 1e-14, 0, "one parameter");
    CHECK_CLOSE(hf_enthalpy_from_peak(K(158.3), NULL), 18.64e3, 0, 5, "-33.6 + 0.33 x 158.3");
    double y;
    assert_int_equal(hf_bleached_peak_e(14401, HF_BLEACH_ROOT, NULL, 1, &y), HF_ERANGE);
    assert_int_equal(hf_bleached_peak_e(-1, HF_BLEACH_ROOT, NULL, 1, &y), HF_ERANGE);
    assert_int_equal(hf_bleached_peak_by_number_e(4, NULL, 0, &y), HF_ERANGE);
    assert_int_equal(hf_bleached_enthalpy_by_number_e(1, (hf_number_law)7, NULL, 1, &y), HF_EINVAL);
    assert_int_equal(hf_enthalpy_from_peak_e(K(141.3), NULL, 0, &y), HF_ERANGE);
    assert_int_equal(hf_bleached_peak_misfit_e((hf_bleach_law)3, NULL, 0, &y), HF_EINVAL);
}

/* ---- balance -----------------------------------------------------------------------------------
 */

static hf_sulfur start_of(const hf_parameters *set)
{
    hf_sulfur s;
    assert_int_equal(hf_sulfur_start_e(set, &s), HF_OK);
    return s;
}

static hf_sulfur_step step_of(hf_sulfur_kind kind, double duration)
{
    hf_sulfur_step step = HF_SULFUR_STEP_INIT(kind, duration);
    if (kind == HF_SULFUR_REDUCE) {
        step.concentration = 1000;
        step.ph = 9.4;
    } else if (kind == HF_SULFUR_BLEACH) {
        step.peroxide = 0.06;
        step.ph = 9.5;
        step.temperature = 305.35;
    }
    return step;
}

static void take(hf_sulfur *s, hf_sulfur_step step, const hf_parameters *set)
{
    hf_message message;
    const hf_status status = hf_sulfur_step_e(&step, set, HF_EXTRAPOLATE, s, &message);
    if (hf_failed(status))
        fail_msg("%s", message.text);
}

static void test_single_steps(void **unused)
{
    (void)unused;
    hf_sulfur s = start_of(NULL);
    CHECK_CLOSE(s.cystine, 2 * hf_disulfide_content(NULL), 1e-15, 0, "two halves in each bond");
    CHECK_CLOSE(hf_sulfur_total(&s), 1.46, 1e-15, 0, "robbinskelly1969");
    const double before = s.cystine;
    take(&s, step_of(HF_SULFUR_REDUCE, 300), NULL);
    CHECK_CLOSE(s.thiol / before, 0.8156, 0, 5e-4, "5 min at a half-life of 123 s (wickett-ch5)");
    const double opened = s.thiol;
    take(&s, step_of(HF_SULFUR_NEUTRALISE, 900), NULL);
    CHECK_CLOSE(1 - s.thiol / opened, 0.85, 0, 0.05, "85 % after 15 min (reed1947, p. 119)");
    CHECK_CLOSE(1 - s.thiol / opened, hf_disulfide_reoxidised(900, NULL), 1e-13, 0, "the same law");
    take(&s, step_of(HF_SULFUR_NEUTRALISE, 1e7), NULL);
    CHECK_CLOSE(1 - s.thiol / opened, 0.85, 1e-12, 0, "the rest never joins again");
    s = start_of(NULL);
    take(&s, step_of(HF_SULFUR_BLEACH, 3600), NULL);
    CHECK_CLOSE(s.cysteic, hf_cysteic_acid(3600, 305.35, 0.06, HF_BLEACH_ROOT, NULL), 1e-14, 0,
                "the same law");
    hf_sulfur_step front = step_of(HF_SULFUR_REDUCE, 123);
    front.law = 1;
    s = start_of(NULL);
    take(&s, front, NULL);
    CHECK_CLOSE(s.thiol / before, hf_reduction_moving_boundary(296.15, 1000, 76e-6, 123, NULL),
                1e-14, 0, "the same law");
}

/* Cystine during reoxidation over 15.6 %: 10.3, 12.0, 12.3, 13.2 after 3, 6, 9, 15 min (reed1947,
 * Table 3). The printed cystine holds the bonds that were never opened. With the usual 85 % all
 * four points cannot be met; with 78 %, inside the 70 to 90 % of wickett-ch5, and 60 % opened (not
 * read), they are. */
static void test_reoxidation_series(void **unused)
{
    (void)unused;
    static const double minutes[] = {3, 6, 9, 15}, cystine[] = {10.3, 12.0, 12.3, 13.2};
    for (int kind = 0; kind < 2; kind++) {
        hf_parameters *set;
        assert_int_equal(hf_parameters_new(&set, NULL), HF_OK);
        if (kind)
            assert_int_equal(hf_parameters_set(set, "rate.reoxidation.recovered", 0.78), HF_OK);
        int misses = 0;
        for (int i = 0; i < 4; i++) {
            hf_sulfur s = start_of(set);
            const double control = s.cystine;
            hfi_sulfur_open(&s, 0.60, kind ? 0.78 : 0.85);
            take(&s, step_of(HF_SULFUR_NEUTRALISE, 60 * minutes[i]), set);
            misses += fabs(s.cystine / control - cystine[i] / 15.6) > 0.05;
        }
        assert_true(kind ? misses == 0 : misses > 0);
        hf_parameters_free(set);
    }
    assert_non_null(strstr(hf_quantity_find("disulfide_reoxidised")->leaves_out, "never opened"));
}

/* Whatever the order, what is in stays in: to round-off after a thousand steps, and nothing is
 * negative. */
static void test_balance(void **unused)
{
    (void)unused;
    static const char *const names[] = {"virgin", "bleached", "wool"};
    unsigned seed = 12345;
    for (size_t n = 0; n < 3; n++) {
        hf_parameters *set;
        assert_int_equal(hf_parameters_new(&set, names[n]), HF_OK);
        hf_sulfur s = start_of(set);
        s.lanthionine = 0.01; /* known to a caller */
        s.cystine -= 0.01;
        const double all = hf_sulfur_total(&s);
        for (int i = 0; i < 1000; i++) {
            seed = seed * 1103515245u + 12345u;
            static const hf_sulfur_kind kinds[] = {HF_SULFUR_REDUCE, HF_SULFUR_NEUTRALISE,
                                                   HF_SULFUR_BLEACH, HF_SULFUR_RINSE,
                                                   HF_SULFUR_BATH};
            hf_sulfur_step step = step_of(kinds[(seed >> 16) % 5], (seed >> 8) % 97 / 10.0);
            step.law = (int)(seed >> 28) % 2;
            take(&s, step, set);
            assert_true(s.cystine >= 0 && s.thiol >= -1e-15 && s.cysteic >= 0);
            assert_true(s.reformable >= -1e-15 && s.reformable <= s.thiol + 1e-15);
        }
        CHECK_CLOSE(hf_sulfur_total(&s), all, 1e-14, 0, "1000 roundings of 1.1e-16 at most");
        CHECK_CLOSE(s.lanthionine, 0.01, 0, 0, "left alone");
        assert_true(s.cysteic > start_of(set).cysteic + 0.01); /* the run did bleach */
        hf_parameters_free(set);
    }
}

/* Two steps after one another equal one of both durations. */
static void test_steps_add(void **unused)
{
    (void)unused;
    static const hf_sulfur_kind kinds[] = {HF_SULFUR_REDUCE, HF_SULFUR_NEUTRALISE, HF_SULFUR_BLEACH,
                                           HF_SULFUR_BLEACH};
    for (int i = 0; i < 4; i++) {
        hf_sulfur one = start_of(NULL);
        take(&one, step_of(HF_SULFUR_REDUCE, 100), NULL);
        hf_sulfur many = one;
        hf_sulfur_step whole = step_of(kinds[i], 900), part = step_of(kinds[i], 90);
        whole.law = part.law = i == 3;
        take(&one, whole, NULL);
        for (int k = 0; k < 10; k++)
            take(&many, part, NULL);
        CHECK_CLOSE(many.cystine, one.cystine, 1e-13, 0, "exact updates");
        CHECK_CLOSE(many.thiol, one.thiol, 1e-12, 0, "exact updates");
        CHECK_CLOSE(many.cysteic, one.cysteic, 1e-13, 0, "exact updates");
        CHECK_CLOSE(many.reformable, one.reformable, 1e-12, 1e-15, "exact updates");
    }
}

/* The steady law with thiol joining at the same time, against a fine explicit integration. */
static void test_steady_bleach_of_reduced_hair(void **unused)
{
    (void)unused;
    hf_sulfur s = start_of(NULL);
    take(&s, step_of(HF_SULFUR_REDUCE, 200), NULL);
    double c = s.cystine, u = s.reformable;
    const double k = -log(1 - 0.20 / (1 - 0.030 / 1.46)) / 3600, tau = 240, dt = 0.02;
    for (int i = 0; i < 60000; i++) {
        const double mc = c + 0.5 * dt * (u / tau - k * c), mu = u - 0.5 * dt * u / tau;
        c += dt * (mu / tau - k * mc);
        u -= dt * mu / tau;
    }
    hf_sulfur_step step = step_of(HF_SULFUR_BLEACH, 1200);
    step.law = HF_BLEACH_STEADY;
    take(&s, step, NULL);
    CHECK_CLOSE(s.cystine, c, 1e-7, 0, "midpoint rule with 60000 steps");
    CHECK_CLOSE(s.reformable, u, 1e-6, 0, "midpoint rule with 60000 steps");
}

static void expect(hf_sulfur_step step, unsigned flags, hf_status wanted, const char *part)
{
    hf_sulfur s = start_of(NULL), before = s;
    hf_message message;
    assert_int_equal(hf_sulfur_step_e(&step, NULL, flags, &s, &message), wanted);
    if (part[0] ? !strstr(message.text, part) : message.text[0] != '\0')
        fail_msg("\"%s\" is not \"%s\"", message.text, part);
    if (hf_failed(wanted))
        assert_memory_equal(&s, &before, sizeof s);
    assert_int_equal(hf_sulfur_step_e(&step, NULL, flags, &s, NULL), wanted);
}

static void test_sentences(void **unused)
{
    (void)unused;
    expect(step_of(HF_SULFUR_NEUTRALISE, 300), 0, HF_OK, "nothing to join");
    expect(step_of(HF_SULFUR_RINSE, 60), 0, HF_OK, "");
    expect(step_of(HF_SULFUR_BATH, 60), 0, HF_OK, "");
    expect(step_of(HF_SULFUR_ALKALI, 60), 1, HF_ENOMODEL, "lanthionine");
    hf_sulfur_step step = step_of(HF_SULFUR_BATH, 60);
    step.ph = 13;
    expect(step, 1, HF_ENOMODEL, "no validated model");
    step.ph = 15;
    expect(step, 1, HF_ERANGE, "bath: ph = 15 lies outside the possible range 0 to 14");
    step = step_of(HF_SULFUR_REDUCE, 60);
    step.concentration = -1;
    expect(step, 1, HF_ERANGE,
           "reduce: concentration = -1 mol/m3 lies outside the possible range 0 to 3000");
    step.concentration = 9000;
    expect(step, 1, HF_ERANGE, "possible range 0 to 3000");
    step.concentration = 2000;
    expect(step, 0, HF_ERANGE, "range that evidence supports, 400 to 1200");
    step.concentration = (double)NAN;
    expect(step, 1, HF_EINVAL, "concentration must be a finite number");
    step = step_of(HF_SULFUR_REDUCE, -5);
    expect(step, 1, HF_ERANGE, "duration = -5 s must be 0 or more");
    step = step_of(HF_SULFUR_BLEACH, 60);
    step.ph = 4;
    expect(step, 1, HF_ERANGE, "bleach: ph = 4");
    step = step_of(HF_SULFUR_BLEACH, 1e6);
    expect(step, 1, HF_ERANGE, "largest read is 0.45");
    step = step_of((hf_sulfur_kind)42, 1);
    expect(step, 1, HF_EINVAL, "known kind");
    step = step_of(HF_SULFUR_BLEACH, 60);
    step.law = 2;
    expect(step, 1, HF_EINVAL, "law 0 or 1");
    hf_sulfur s = start_of(NULL);
    assert_int_equal(hf_sulfur_step_e(NULL, NULL, 0, &s, NULL), HF_EINVAL);
    assert_int_equal(hf_sulfur_step_e(&step, NULL, 0, NULL, NULL), HF_EINVAL);
    assert_int_equal(hf_sulfur_start_e(NULL, NULL), HF_EINVAL);
    assert_true(isnan(hf_sulfur_total(NULL)));
    assert_string_equal(hf_sulfur_word(HF_SULFUR_NEUTRALISE), "neutralise");
    assert_null(hf_sulfur_word(HF_SULFUR_KINDS));
    hf_parameters *odd;
    assert_int_equal(hf_parameters_new(&odd, NULL), HF_OK);
    assert_int_equal(hf_parameters_set(odd, "bond.disulfide.half_cystine", 0.3), HF_OK);
    assert_int_equal(hf_parameters_set(odd, "bond.disulfide.cysteic", 0.4), HF_OK);
    assert_int_equal(hf_sulfur_start_e(odd, &s), HF_ERANGE);
    hf_parameters_free(odd);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_uniform_reduction),
        cmocka_unit_test(test_front),
        cmocka_unit_test(test_reduced_time),
        cmocka_unit_test(test_bleach_laws),
        cmocka_unit_test(test_calorimetry),
        cmocka_unit_test(test_single_steps),
        cmocka_unit_test(test_reoxidation_series),
        cmocka_unit_test(test_balance),
        cmocka_unit_test(test_steps_add),
        cmocka_unit_test(test_steady_bleach_of_reduced_hair),
        cmocka_unit_test(test_sentences),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
