/* Profile intervals, joint regions, bootstrap and comparison: against R 4.2.2, closed formulas, and coverage by
 * simulation. */
#include "fit_tools.h"

#include <stdlib.h>

#include <string.h>
#include <time.h>

#include <gsl/gsl_cdf.h>

#define R_PROFILE                                                                                  \
    "R 4.2.2: deviance profile by Gauss-Newton and uniroot, to 1e-12; confint agrees to 1e-4"

static const double misra_x[] = {77.6,  114.9, 141.1, 190.8, 239.9, 289.0, 332.8,
                                 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0};
static const double misra_y[] = {10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02,
                                 44.82, 50.76, 55.05, 61.01, 66.40, 75.47, 81.78};

static hf_status saturating(const double *x, const double *b, void *user, double *y)
{
    (void)user;
    *y = b[0] * (1 - exp(-b[1] * x[0]));
    return HF_OK;
}

static hf_fit_description saturating_on(size_t n, const double *x, const double *y, double top,
                                        double rate, hf_fit_parameter *p)
{
    hf_fit_description d = line_on(n, x, y, p);
    p[0] = free_parameter("top", top);
    p[1] = free_parameter("rate", rate);
    d.value = saturating;
    return d;
}

static void check_interval(const hf_fit *fit, size_t j, double level, double low, double high)
{
    hf_interval got;
    assert_int_equal(hf_fit_profile(fit, j, level, &got), HF_OK);
    assert_int_equal(got.flags, 0);
    CHECK_CLOSE(got.low, low, 1e-7, 0, R_PROFILE);
    CHECK_CLOSE(got.high, high, 1e-7, 0, R_PROFILE);
}

static void test_profile(void **unused)
{
    (void)unused;
    hf_fit_parameter p[HF_FIT_PARAMETERS_MAX];
    hf_fit_description d = model_on("gab", 8, wood_a, wood_up, p);
    hf_fit *fit = run_fit(&d);
    check_interval(fit, 0, 0.95, 0.0473523956760, 0.0573193807824);
    check_interval(fit, 1, 0.95, 5.33252289994, 10.41136687630);
    check_interval(fit, 2, 0.95, 0.751270145342, 0.799939643445);
    check_interval(fit, 1, 0.80, 6.10140454750, 8.93712332334);
    hf_fit_free(fit);
    d = model_on("gab", 8, wood_a, wood_down, p);
    fit = run_fit(&d);
    check_interval(fit, 1, 0.80, 15.7784153793, 25.9681177656);
    hf_fit_free(fit);
    d = saturating_on(14, misra_x, misra_y, 250, 0.0005, p);
    fit = run_fit(&d);
    check_interval(fit, 0, 0.95, 233.195307962, 245.017369243);
    check_interval(fit, 1, 0.95, 0.000534318267948, 0.000566029897276);
    hf_fit_free(fit);
}

/* On a straight line the profile interval is the t interval, the joint region the F ellipse. */
static void test_linear(void **unused)
{
    (void)unused;
    hf_fit_parameter p[2];
    const hf_fit_description d = line_on(10, line_x, line_y, p);
    hf_fit *fit = run_fit(&d);
    hf_interval interval;
    assert_int_equal(hf_fit_profile(fit, 0, 0.95, &interval), HF_OK);
    CHECK_CLOSE(interval.low, -6.82856775056, 1e-8, 0, "R 4.2.2, confint of lm");
    CHECK_CLOSE(interval.high, 5.25523441723, 1e-8, 0, "R 4.2.2, confint of lm");
    assert_int_equal(hf_fit_profile(fit, 1, 0.95, &interval), HF_OK);
    CHECK_CLOSE(interval.low, 0.39474432053, 1e-8, 0, "R 4.2.2, confint of lm");
    CHECK_CLOSE(interval.high, 2.34222537644, 1e-8, 0, "R 4.2.2, confint of lm");
    double first[16], second[16], c[4];
    size_t open;
    assert_int_equal(hf_fit_region(fit, 0, 1, 0.9, 16, first, second, &open), HF_OK);
    assert_int_equal(open, 0);
    assert_int_equal(hf_fit_get_covariance(fit, c, NULL), HF_OK);
    const double determinant = c[0] * c[3] - c[1] * c[2];
    for (size_t k = 0; k < 16; k++) {
        const double u = first[k] - estimate(fit, 0).value, v = second[k] - estimate(fit, 1).value;
        const double form = (c[3] * u * u - 2 * c[1] * u * v + c[0] * v * v) / determinant;
        CHECK_CLOSE(form, 2 * gsl_cdf_fdist_Pinv(0.9, 2, 8), 1e-7, 0, "ellipse of a linear model");
    }
    hf_fit_free(fit);
}

/* Rate that the data only bound from below: the two points are both on the plateau. */
static void test_open(void **unused)
{
    (void)unused;
    const double x[] = {1, 2, 3, 4}, y[] = {9.9, 10.1, 9.95, 10.05};
    hf_fit_parameter p[2];
    hf_fit_description d = saturating_on(4, x, y, 10, 4, p);
    p[1].low = 0;
    hf_fit *fit = NULL;
    assert_int_equal(hf_fit_new(&fit, &d, NULL), HF_OK);
    (void)!hf_fit_run(fit);
    hf_interval interval;
    assert_int_equal(hf_fit_profile(fit, 1, 0.95, &interval), HF_OK);
    assert_true(interval.flags & HF_OPEN_HIGH);
    assert_true(isinf(interval.high) && interval.low > 1 && interval.low < 4);
    assert_int_equal(hf_fit_profile(fit, 0, 0.95, &interval), HF_OK);
    assert_true(interval.flags == 0 && interval.low < 10 && interval.high > 10);
    hf_fit_free(fit);
}

static double uniform(unsigned long long *state)
{
    *state = *state * 6364136223846793005ULL + 1442695040888963407ULL; /* Knuth's MMIX */
    return ((double)(*state >> 11) + 0.5) / 9007199254740992.0;
}

/* The 95 % profile interval of a curved model holds the truth in 95 % of simulated experiments: of 1000, between
 * the 0.0005 and 0.9995 quantiles of the binomial law, 926 and 971. */
static void test_coverage(void **unused)
{
    (void)unused;
    unsigned long long state = 20240607;
    int held[2] = {0, 0};
    const double truth[] = {10, 0.4}, x[] = {0.5, 1, 1.5, 2, 3, 4, 6, 8};
    for (int run = 0; run < 1000; run++) {
        double y[8];
        for (size_t i = 0; i < 8; i++) {
            assert_int_equal(saturating(&x[i], truth, NULL, &y[i]), HF_OK);
            y[i] += 0.8 * gsl_cdf_ugaussian_Pinv(uniform(&state));
        }
        hf_fit_parameter p[2];
        const hf_fit_description d = saturating_on(8, x, y, 8, 0.5, p);
        hf_fit *fit = run_fit(&d);
        for (size_t j = 0; j < 2; j++) {
            hf_interval interval;
            assert_int_equal(hf_fit_profile(fit, j, 0.95, &interval), HF_OK);
            held[j] += interval.low <= truth[j] && truth[j] <= interval.high;
        }
        hf_fit_free(fit);
    }
    assert_in_range(held[0], 926, 971);
    assert_in_range(held[1], 926, 971);
}

static void test_bootstrap(void **unused)
{
    (void)unused;
    double a[20], w[20];
    unsigned long long state = 7;
    for (size_t i = 0; i < 20; i++) {
        a[i] = 0.04 + 0.045 * (double)i;
        w[i] = 0.09 * 11 * 0.72 * a[i] / ((1 - 0.72 * a[i]) * (1 + 7.2 * a[i])) +
               0.002 * gsl_cdf_ugaussian_Pinv(uniform(&state));
    }
    hf_fit_parameter p[HF_FIT_PARAMETERS_MAX];
    const hf_fit_description d = model_on("gab", 20, a, w, p);
    hf_fit *fit = run_fit(&d);
    hf_bootstrap *one, *again, *cases;
    assert_int_equal(hf_bootstrap_new(&one, fit, HF_BOOTSTRAP_PARAMETRIC, 1000, 42), HF_OK);
    assert_int_equal(hf_bootstrap_new(&again, fit, HF_BOOTSTRAP_PARAMETRIC, 1000, 42), HF_OK);
    assert_int_equal(hf_bootstrap_new(&cases, fit, HF_BOOTSTRAP_CASES, 1000, 42), HF_OK);
    assert_int_equal(hf_bootstrap_count(one) + hf_bootstrap_failures(one), 1000);
    assert_true(hf_bootstrap_failures(one) < 20 && hf_bootstrap_failures(cases) < 50);
    assert_memory_equal(hf_bootstrap_values(one), hf_bootstrap_values(again),
                        hf_bootstrap_count(one) * 3 * sizeof(double));
    hf_interval profile, percent;
    double error;
    for (size_t j = 0; j < 3; j++) {
        /* The model is nearly linear here: both agree within the scatter of 1000 replicates (2.2 %) and the
         * bend that remains; four times the scatter is allowed. */
        assert_int_equal(hf_bootstrap_interval(one, j, 0.95, &percent, &error), HF_OK);
        CHECK_CLOSE(error, estimate(fit, j).standard_error, 0.15, 0, "nearly linear model");
        assert_int_equal(hf_fit_profile(fit, j, 0.95, &profile), HF_OK);
        const double width = profile.high - profile.low;
        CHECK_CLOSE(percent.low, profile.low, 0, 0.15 * width, "nearly linear model");
        CHECK_CLOSE(percent.high, profile.high, 0, 0.15 * width, "nearly linear model");
        assert_true(percent.low < estimate(fit, j).value && percent.high > estimate(fit, j).value);
    }
    assert_int_equal(hf_bootstrap_interval(one, 3, 0.95, &percent, NULL), HF_ERANGE);
    hf_bootstrap_free(one);
    hf_bootstrap_free(again);
    hf_bootstrap_free(cases);
    hf_bootstrap_free(NULL);
    hf_fit_free(fit);
}

/* A straight line has closed bootstrap moments: parametric replicates scatter by sigma (X'X)^-1/2. */
static void test_bootstrap_line(void **unused)
{
    (void)unused;
    hf_fit_parameter p[2];
    double sigma[10];
    for (size_t i = 0; i < 10; i++)
        sigma[i] = 0.5;
    hf_fit_description d = line_on(10, line_x, line_y, p);
    d.weighting = HF_WEIGHT_ABSOLUTE;
    d.sigma = sigma;
    hf_fit *fit = run_fit(&d);
    CHECK_CLOSE(estimate(fit, 1).standard_error, 0.5 / sqrt(82.5), 1e-9, 0, "sigma/sqrt(Sxx)");
    hf_bootstrap *b;
    double error;
    assert_int_equal(hf_bootstrap_new(&b, fit, HF_BOOTSTRAP_PARAMETRIC, 4000, 1), HF_OK);
    assert_int_equal(hf_bootstrap_interval(b, 1, 0.9, NULL, &error), HF_OK);
    CHECK_CLOSE(error, 0.5 / sqrt(82.5), 4 / sqrt(2 * 4000.0), 0,
                "four times the scatter of 4000 replicates");
    hf_bootstrap_free(b);
    hf_fit_free(fit);
}

static void test_compare(void **unused)
{
    (void)unused;
    hf_fit_parameter p[HF_FIT_PARAMETERS_MAX];
    hf_fit_description d = model_on("gab", 8, wood_a, wood_up, p);
    hf_fit *gab = run_fit(&d);
    d = model_on("hailwood_horrobin", 8, wood_a, wood_up, p);
    hf_fit *same = run_fit(&d);
    d = model_on("flory_huggins", 8, wood_a, wood_up, p);
    hf_fit *flory = run_fit(&d);
    d = model_on("gab", 8, wood_a, wood_down, p);
    hf_fit *down = run_fit(&d);
    d = model_on("gab", 7, wood_a, wood_up, p);
    hf_fit *fewer = run_fit(&d);
    double delta[3], weight[3];
    hf_message message;
    const hf_fit *three[] = {gab, same, flory};
    assert_int_equal(hf_fit_compare(three, 3, delta, weight, &message), HF_OK);
    CHECK_CLOSE(delta[0], delta[1], 0, 1e-8, "the same curve");
    CHECK_CLOSE(weight[0] + weight[1] + weight[2], 1, 1e-14, 0, "weights sum to 1");
    CHECK_CLOSE(delta[2], summary(flory).aicc - summary(gab).aicc, 1e-10, 0, "definition");
    CHECK_CLOSE(weight[2] / weight[0], exp(-delta[2] / 2 + delta[0] / 2), 1e-12, 0, "definition");
    const hf_fit *other[] = {gab, down}, *short_one[] = {gab, fewer};
    assert_int_equal(hf_fit_compare(other, 2, delta, weight, &message), HF_EDATA);
    assert_non_null(strstr(message.text, "different y"));
    assert_int_equal(hf_fit_compare(short_one, 2, delta, weight, &message), HF_EDATA);
    assert_non_null(strstr(message.text, "8 and 7 points"));
    hf_fit_free(gab);
    hf_fit_free(same);
    hf_fit_free(flory);
    hf_fit_free(down);
    hf_fit_free(fewer);
}

/* Very many points: the limits are those of the normal law, one and two parameters at a time. */
static void test_many_points(void **unused)
{
    (void)unused;
    const size_t n = 300000;
    double *x = malloc(2 * n * sizeof *x), *y = x + n;
    assert_non_null(x);
    for (size_t i = 0; i < n; i++) {
        x[i] = (double)i / (double)n;
        y[i] = 1 + 2 * x[i] + 0.1 * ((double)(i * 7919 % 1000) / 999 - 0.5);
    }
    hf_fit_parameter p[2];
    const hf_fit_description d = line_on(n, x, y, p);
    hf_fit *fit = run_fit(&d);
    hf_interval limits;
    assert_int_equal(hf_fit_profile(fit, 1, 0.95, &limits), HF_OK);
    assert_int_equal(limits.flags, 0);
    CHECK_CLOSE(limits.high - limits.low, 2 * 1.959963984540054 * estimate(fit, 1).standard_error,
                1e-4, 0, "normal quantile");
    double first[8], second[8];
    size_t open;
    assert_int_equal(hf_fit_region(fit, 0, 1, 0.95, 8, first, second, &open), HF_OK);
    assert_int_equal(open, 0);
    hf_fit_free(fit);
    free(x);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_profile),        cmocka_unit_test(test_linear),
        cmocka_unit_test(test_open),           cmocka_unit_test(test_coverage),
        cmocka_unit_test(test_many_points),    cmocka_unit_test(test_bootstrap),
        cmocka_unit_test(test_bootstrap_line), cmocka_unit_test(test_compare),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
