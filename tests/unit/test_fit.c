/* Least squares: optimum, standard errors and criteria against published data, closed formulas and R 4.2.2;
 * then what must not go wrong. The certified sets are in tests/reference/test_nist_strd.c. */
#include "fit_tools.h"

#include <string.h>

#define R_NLS "R 4.2.2, nls with analytic gradient, or lm"

/* Microcrystalline cellulose, points computed from a published GAB and printed to three decimals of w in
 * percent (sun2008-mcc): parameters come back to their printed digits. */
static void test_recovery(void **unused)
{
    (void)unused;
    const double a[] = {0.113, 0.216, 0.382, 0.520, 0.575, 0.750, 0.843};
    const double w[] = {2.321, 3.251, 4.466, 5.624, 6.186, 8.728, 10.965};
    hf_fit_parameter p[HF_FIT_PARAMETERS_MAX];
    const hf_fit_description d = model_on("gab", COUNT(a), a, w, p);
    hf_fit *fit = run_fit(&d);
    CHECK_CLOSE(estimate(fit, 0).value, 3.55, 0, 0.005, "sun2008-mcc, printed digits");
    CHECK_CLOSE(estimate(fit, 1).value, 14.42, 0, 0.05, "sun2008-mcc; 0.0005 in w moves c by 0.05");
    CHECK_CLOSE(estimate(fit, 2).value, 0.814, 0, 0.0005, "sun2008-mcc, printed digits");
    const hf_fit_summary s = summary(fit);
    CHECK_CLOSE(s.rss, 0, 0, 7 * 5e-4 * 5e-4, "rounding of w to three decimals at most");
    hf_fit_free(fit);
}

static void check_branch(const double *w, const double *printed, double printed_rss)
{
    hf_fit_parameter p[HF_FIT_PARAMETERS_MAX];
    hf_fit_description d = model_on("gab", COUNT(wood_a), wood_a, w, p);
    hf_fit *fit = run_fit(&d);
    const double half[] = {5e-7, printed[1] < 10 ? 5e-5 : 5e-4, 5e-6};
    for (size_t j = 0; j < 3; j++)
        CHECK_CLOSE(estimate(fit, j).value, printed[j], 0, half[j],
                    "pupmsi-data, optimum computed apart");
    const double rss = summary(fit).rss;
    CHECK_CLOSE(rss, printed_rss, 0, 5e-10, "pupmsi-data, optimum computed apart");
    hf_fit_free(fit);
    /* Hailwood-Horrobin is the same curve: site mass M/wm, k1 = c - 1, k2 = k (identity). */
    d = model_on("hailwood_horrobin", COUNT(wood_a), wood_a, w, p);
    fit = run_fit(&d);
    CHECK_CLOSE(summary(fit).rss, rss, 1e-10, 0, "same curve, same residual sum");
    CHECK_CLOSE(0.018015268 / estimate(fit, 0).value, printed[0], 0, half[0], "wm = M/site mass");
    CHECK_CLOSE(estimate(fit, 1).value + 1, printed[1], 0, half[1], "c = k1 + 1");
    CHECK_CLOSE(estimate(fit, 2).value, printed[2], 0, half[2], "k = k2");
    hf_fit_free(fit);
}

static void test_branches(void **unused)
{
    (void)unused;
    check_branch(wood_up, (const double[]){0.051684, 7.3524, 0.77790}, 1.9557e-5);
    check_branch(wood_down, (const double[]){0.069749, 19.913, 0.67565}, 3.1615e-5);
}

static void test_errors_and_criteria(void **unused)
{
    (void)unused;
    hf_fit_parameter p[HF_FIT_PARAMETERS_MAX];
    hf_fit_description d = model_on("gab", COUNT(wood_a), wood_a, wood_up, p);
    hf_fit *fit = run_fit(&d);
    CHECK_CLOSE(estimate(fit, 0).standard_error, 0.00191409430121114, 1e-7, 0, R_NLS);
    CHECK_CLOSE(estimate(fit, 1).standard_error, 0.96407875907295415, 1e-7, 0, R_NLS);
    CHECK_CLOSE(estimate(fit, 2).standard_error, 0.00940429440206152, 1e-7, 0, R_NLS);
    hf_fit_summary s = summary(fit);
    CHECK_CLOSE(s.log_likelihood, 40.3349593411682, 1e-10, 0, R_NLS);
    CHECK_CLOSE(s.aic, -72.6699186823365, 1e-10, 0, R_NLS);
    CHECK_CLOSE(s.bic, -72.3521525156171, 1e-10, 0, R_NLS);
    CHECK_CLOSE(s.aicc, s.aic + 2 * 4 * 5 / 3.0, 1e-14, 0,
                "AICc = AIC + 2k(k+1)/(n-k-1), k = 4, n = 8");
    double c[9], r[9];
    assert_int_equal(hf_fit_get_covariance(fit, c, r), HF_OK);
    CHECK_CLOSE(c[1], -1.57705006344540e-03, 1e-7, 0, R_NLS);
    CHECK_CLOSE(c[5], 6.74986969593736e-03, 1e-7, 0, R_NLS);
    CHECK_CLOSE(r[1], c[1] / sqrt(c[0] * c[4]), 1e-12, 0, "definition of correlation");
    CHECK_CLOSE(r[8], 1, 0, 0, "definition of correlation");
    hf_fit_free(fit);

    double sigma[8];
    for (size_t i = 0; i < 8; i++)
        sigma[i] = 0.02 * wood_up[i];
    d.weighting = HF_WEIGHT_RELATIVE;
    d.sigma = sigma;
    fit = run_fit(&d);
    CHECK_CLOSE(estimate(fit, 0).value, 0.0532827194571, 1e-8, 0, R_NLS ", weights");
    CHECK_CLOSE(estimate(fit, 0).standard_error, 0.00270897227678, 1e-7, 0, R_NLS ", weights");
    CHECK_CLOSE(estimate(fit, 1).standard_error, 0.63846396784445, 1e-7, 0, R_NLS ", weights");
    s = summary(fit);
    CHECK_CLOSE(s.rss, 13.4642871222, 1e-10, 0, R_NLS ", weights");
    CHECK_CLOSE(s.log_likelihood, 38.9472402823, 1e-10, 0, R_NLS ", weights");
    CHECK_CLOSE(s.bic, -69.5767143979, 1e-10, 0, R_NLS ", weights");
    const double relative = estimate(fit, 1).standard_error, factor = s.s;
    hf_fit_free(fit);

    /* Absolute: the same optimum; standard errors not multiplied by s; the weights of the caller instead
     * of sigma say the same. */
    double weights[8];
    for (size_t i = 0; i < 8; i++)
        weights[i] = 1 / (sigma[i] * sigma[i]);
    d.weighting = HF_WEIGHT_ABSOLUTE;
    d.sigma = NULL;
    d.weights = weights;
    fit = run_fit(&d);
    CHECK_CLOSE(estimate(fit, 1).standard_error * factor, relative, 1e-9, 0, "s = 1 by definition");
    s = summary(fit);
    double twice = s.rss;
    for (size_t i = 0; i < 8; i++)
        twice += log(2 * 3.14159265358979323846 * sigma[i] * sigma[i]);
    CHECK_CLOSE(-2 * s.log_likelihood, twice, 1e-12, 0, "normal density with known sigma");
    CHECK_CLOSE(s.aic, twice + 2 * 3, 1e-12, 0, "k = 3: the variance is not estimated");
    hf_fit_free(fit);
}

static void test_straight_line(void **unused)
{
    (void)unused;
    hf_fit_parameter p[2];
    const hf_fit_description d = line_on(10, line_x, line_y, p);
    hf_fit *fit = run_fit(&d);
    CHECK_CLOSE(estimate(fit, 0).value, -0.786666666667, 1e-10, 0, R_NLS);
    CHECK_CLOSE(estimate(fit, 0).standard_error, 2.620073828862, 1e-10, 0, R_NLS);
    CHECK_CLOSE(estimate(fit, 1).standard_error, 0.422263131748, 1e-10, 0, R_NLS);
    double fitted[10], residual[10], standard[10], leverage[10], weight[10], sum = 0;
    assert_int_equal(hf_fit_get_points(fit, fitted, residual, standard, leverage, weight), HF_OK);
    for (size_t i = 0; i < 10; i++) {
        CHECK_CLOSE(leverage[i], 0.1 + (line_x[i] - 5.5) * (line_x[i] - 5.5) / 82.5, 1e-9, 0,
                    "hat diagonal of a straight line, 1/n + (x - mean)^2/Sxx");
        CHECK_CLOSE(fitted[i] + residual[i], line_y[i], 1e-14, 0, "definition");
        CHECK_CLOSE(weight[i], 1, 0, 0, "no robust loss");
        sum += leverage[i];
    }
    CHECK_CLOSE(sum, 2, 1e-9, 0, "trace of the hat matrix is the number of parameters");
    CHECK_CLOSE(standard[7], 2.825556375127, 1e-9, 0, "R 4.2.2, rstandard");
    CHECK_CLOSE(standard[0], 0.166994484021, 1e-9, 0, "R 4.2.2, rstandard");
    const double x[] = {2.5, 12};
    double y[2], confidence[2], prediction[2];
    assert_int_equal(hf_fit_bands(fit, 2, x, NULL, NULL, 0.95, y, confidence, prediction), HF_OK);
    CHECK_CLOSE(y[0], 2.63454545455, 1e-10, 0, "R 4.2.2, predict");
    CHECK_CLOSE(confidence[0], 6.67879360744 - 2.63454545455, 1e-9, 0,
                "R 4.2.2, predict confidence");
    CHECK_CLOSE(confidence[1], 22.55487810635 - 15.63515151515, 1e-9, 0,
                "R 4.2.2, predict confidence");
    CHECK_CLOSE(prediction[0], 12.3597713606 - 2.63454545455, 1e-9, 0,
                "R 4.2.2, predict prediction");
    CHECK_CLOSE(prediction[1], 26.8648751048 - 15.63515151515, 1e-9, 0,
                "R 4.2.2, predict prediction");
    const hf_fit_summary s = summary(fit);
    CHECK_CLOSE(s.aic, 59.032785598, 1e-10, 0, R_NLS);
    CHECK_CLOSE(s.bic, 59.940540877, 1e-10, 0, R_NLS);
    const double r = 55 / sqrt(3850); /* of the columns 1 and x at length 1 */
    CHECK_CLOSE(s.condition, sqrt((1 + r) / (1 - r)), 1e-9, 0,
                "singular values of two unit columns");
    hf_fit_free(fit);
}

static void test_robust(void **unused)
{
    (void)unused;
    hf_fit_parameter p[2];
    hf_fit_description d = line_on(10, line_x, line_y, p);
    d.loss = HF_LOSS_HUBER;
    hf_fit *fit = run_fit(&d);
    const char *why = "R 4.2.2, MASS rlm, Huber 1.345, acc 1e-13";
    CHECK_CLOSE(estimate(fit, 0).value, -0.0165619359621, 1e-7, 0, why);
    CHECK_CLOSE(estimate(fit, 1).value, 1.0184372436191, 1e-9, 0, why);
    CHECK_CLOSE(estimate(fit, 0).standard_error, 0.1652339449436, 1e-7, 0, why);
    CHECK_CLOSE(estimate(fit, 1).standard_error, 0.0266298614544, 1e-7, 0, why);
    const hf_fit_summary s = summary(fit);
    CHECK_CLOSE(s.s, 0.236054294751, 1e-8, 0, why);
    assert_true(isnan(s.aic) && isnan(s.log_likelihood));
    double weight[10];
    assert_int_equal(hf_fit_get_points(fit, NULL, NULL, NULL, NULL, weight), HF_OK);
    CHECK_CLOSE(weight[7], 0.0267496263216, 1e-7, 0, why);
    CHECK_CLOSE(weight[0], 1, 0, 0, why);
    hf_interval interval;
    assert_int_equal(hf_fit_profile(fit, 0, 0.95, &interval), HF_ENOMODEL);
    hf_fit_free(fit);
}

/* Units must not matter: y and x in other units give the same answer in those units. */
static void test_scale(void **unused)
{
    (void)unused;
    const double factors[] = {1e-12, 1e-3, 1e9};
    for (size_t k = 0; k < COUNT(factors); k++) {
        double w[8];
        for (size_t i = 0; i < 8; i++)
            w[i] = wood_up[i] * factors[k];
        hf_fit_parameter p[HF_FIT_PARAMETERS_MAX];
        hf_fit_description d = model_on("gab", 8, wood_a, w, p);
        for (int differences = 0; differences < 2; differences++) {
            if (differences)
                d.gradient = NULL;
            hf_fit *fit = run_fit(&d);
            CHECK_CLOSE(estimate(fit, 0).value, 0.0516844510549574 * factors[k], 1e-8, 0, R_NLS);
            CHECK_CLOSE(estimate(fit, 1).value, 7.3524433214544374, 1e-8, 0, R_NLS);
            CHECK_CLOSE(estimate(fit, 0).standard_error, 0.00191409430121114 * factors[k], 1e-6, 0,
                        R_NLS);
            CHECK_CLOSE(estimate(fit, 1).standard_error, 0.96407875907295415, 1e-6, 0, R_NLS);
            hf_fit_free(fit);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_recovery),
        cmocka_unit_test(test_branches),
        cmocka_unit_test(test_errors_and_criteria),
        cmocka_unit_test(test_straight_line),
        cmocka_unit_test(test_robust),
        cmocka_unit_test(test_scale),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
