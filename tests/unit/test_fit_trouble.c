/* Least squares where something is missing, wrong or not determined: a clear sentence, the right flag, and no
 * number that pretends to be one. Bounds, fixed and shared parameters, and callbacks that refuse. */
#include "fit_tools.h"

#include <string.h>

static void refuses(const hf_fit_description *d, hf_status status, const char *sentence)
{
    hf_fit *fit = NULL;
    hf_message message;
    const hf_status got = hf_fit_new(&fit, d, &message);
    if (got != status || !strstr(message.text, sentence))
        print_error("got %d \"%s\", wanted %d with \"%s\"\n", (int)got, message.text, (int)status,
                    sentence);
    assert_int_equal(got, status);
    assert_non_null(strstr(message.text, sentence));
    assert_null(fit);
}

static void test_refusals(void **unused)
{
    (void)unused;
    hf_fit_parameter p[HF_FIT_PARAMETERS_MAX];
    hf_fit_description d = model_on("gab", 2, wood_a, wood_up, p);
    refuses(&d, HF_EDATA, "2 points are fewer than the 3 free parameters");
    double x[8], y[8], sigma[8];
    memcpy(x, wood_a, sizeof x);
    memcpy(y, wood_up, sizeof y);
    for (size_t i = 0; i < 8; i++)
        sigma[i] = 0.001;
    d = model_on("gab", 8, x, y, p);
    y[4] = (double)NAN;
    refuses(&d, HF_EDATA, "row 5: y");
    y[4] = 0.0887;
    x[7] = HUGE_VAL;
    refuses(&d, HF_EDATA, "row 8: x");
    for (size_t i = 0; i < 8; i++)
        x[i] = 0.5;
    refuses(&d, HF_EDATA, "all 8 points have the same x");
    x[0] = 0.1;
    refuses(&d, HF_EDATA, "only 2 different x for 3 free parameters");
    memcpy(x, wood_a, sizeof x);
    d.sigma = sigma;
    refuses(&d, HF_EINVAL, "relative or absolute");
    d.weighting = HF_WEIGHT_ABSOLUTE;
    sigma[2] = 0;
    refuses(&d, HF_EDATA, "row 3: sigma");
    d.sigma = NULL;
    refuses(&d, HF_EINVAL, "absolute weighting needs sigma");
    d.weighting = HF_WEIGHT_EQUAL;
    p[1].low = 5;
    p[1].high = 5;
    refuses(&d, HF_EINVAL, "c: the lower bound 5 is not below the upper bound 5");
    p[1].high = 50;
    p[1].start = 60;
    refuses(&d, HF_EINVAL, "c: the start 60 lies outside");
    p[1].start = (double)NAN;
    p[1].fixed = 1;
    refuses(&d, HF_EINVAL, "c is fixed and needs a value");
    p[1].fixed = 0;
    d.starter = NULL;
    refuses(&d, HF_EINVAL, "monolayer needs a start value");
    assert_int_equal(hf_fit_new(NULL, &d, NULL), HF_EINVAL);
    assert_int_equal(hf_fit_run(NULL), HF_EINVAL);
    hf_fit_free(NULL);
}

static void test_before_run(void **unused)
{
    (void)unused;
    hf_fit_parameter p[2];
    const hf_fit_description d = line_on(10, line_x, line_y, p);
    hf_fit *fit;
    hf_fit_summary s;
    hf_interval interval;
    assert_int_equal(hf_fit_new(&fit, &d, NULL), HF_OK);
    assert_int_equal(hf_fit_get_summary(fit, &s), HF_EDATA);
    assert_int_equal(hf_fit_profile(fit, 0, 0.95, &interval), HF_EDATA);
    assert_string_equal(hf_fit_reason(fit), "");
    hf_fit_free(fit);
}

static void test_as_many_as_points(void **unused)
{
    (void)unused;
    hf_fit_parameter p[2];
    const hf_fit_description d = line_on(2, line_x, line_y, p);
    hf_fit *fit = run_fit(&d);
    CHECK_CLOSE(estimate(fit, 1).value, 1.9 - 1.1, 1e-12, 0, "line through two points");
    assert_true(isnan(estimate(fit, 1).standard_error));
    assert_true(estimate(fit, 1).flags & HF_FIT_NO_FREEDOM);
    assert_true(isnan(summary(fit).s) && isnan(summary(fit).aicc));
    hf_interval interval;
    assert_int_equal(hf_fit_profile(fit, 0, 0.95, &interval), HF_EDATA);
    hf_fit_free(fit);
}

static void test_perfect(void **unused)
{
    (void)unused;
    double y[8];
    for (size_t i = 0; i < 8; i++)
        y[i] = 0.05 * 8 * 0.8 * wood_a[i] / ((1 - 0.8 * wood_a[i]) * (1 + 7 * 0.8 * wood_a[i]));
    hf_fit_parameter p[HF_FIT_PARAMETERS_MAX];
    const hf_fit_description d = model_on("gab", 8, wood_a, y, p);
    hf_fit *fit = run_fit(&d);
    CHECK_CLOSE(estimate(fit, 1).value, 8, 1e-10, 0, "the value that made the data");
    assert_true(estimate(fit, 1).flags & HF_FIT_PERFECT);
    assert_non_null(strstr(hf_fit_reason(fit), "perfect fit"));
    hf_fit_free(fit);
}

static void test_bounds_and_fixed(void **unused)
{
    (void)unused;
    hf_fit_parameter p[HF_FIT_PARAMETERS_MAX];
    hf_fit_description d = model_on("gab", 8, wood_a, wood_up, p);
    p[1].high = 6; /* the optimum is at 7.35 */
    hf_fit *fit = run_fit(&d);
    CHECK_CLOSE(estimate(fit, 1).value, 6, 0, 0, "ends on the bound itself");
    assert_true(estimate(fit, 1).flags & HF_FIT_AT_HIGH);
    assert_true(isnan(estimate(fit, 1).standard_error));
    assert_non_null(strstr(hf_fit_note(fit, 1), "upper bound 6"));
    const double bounded = summary(fit).rss;
    const double other = estimate(fit, 0).value;
    hf_interval interval;
    assert_int_equal(hf_fit_profile(fit, 1, 0.95, &interval), HF_OK);
    assert_true(interval.flags == HF_BOUND_HIGH && interval.low < 6);
    CHECK_CLOSE(interval.high, 6, 0, 0, "one-sided: the bound is the limit");
    hf_fit_free(fit);

    /* Fixing it there must give the same rest. */
    p[1] = free_parameter("c", 6);
    p[1].fixed = 1;
    fit = run_fit(&d);
    CHECK_CLOSE(summary(fit).rss, bounded, 1e-10, 0, "fixed on the bound = ended on the bound");
    CHECK_CLOSE(estimate(fit, 0).value, other, 1e-8, 0, "fixed on the bound = ended on the bound");
    assert_true(estimate(fit, 1).flags == HF_FIT_FIXED);
    assert_int_equal(summary(fit).degrees_of_freedom, 6);
    assert_int_equal(hf_fit_profile(fit, 1, 0.95, &interval), HF_ENOMODEL);
    hf_fit_free(fit);

    /* Bounds that hold nothing back change nothing, whichever kind. */
    const double low[] = {1, 1, (double)NAN}, high[] = {1e6, (double)NAN, 20};
    for (size_t k = 0; k < 3; k++) {
        p[1] = free_parameter("c", 15);
        p[1].low = low[k];
        p[1].high = high[k];
        fit = run_fit(&d);
        CHECK_CLOSE(estimate(fit, 1).value, 7.3524433214544374, 1e-8, 0, "R 4.2.2, nls");
        CHECK_CLOSE(estimate(fit, 1).standard_error, 0.96407875907295415, 1e-6, 0, "R 4.2.2, nls");
        hf_fit_free(fit);
    }
    /* A start on the bound gets away from it. */
    p[1] = free_parameter("c", 1);
    p[1].low = 1;
    fit = run_fit(&d);
    CHECK_CLOSE(estimate(fit, 1).value, 7.3524433214544374, 1e-8, 0, "R 4.2.2, nls");
    hf_fit_free(fit);
}

static hf_status product(const double *x, const double *b, void *user, double *y)
{
    (void)user;
    *y = b[0] * b[1] * x[0] + 0 * b[2];
    return HF_OK;
}

static void test_not_identifiable(void **unused)
{
    (void)unused;
    hf_fit_parameter p[] = {free_parameter("force", 2), free_parameter("area", 3),
                            free_parameter("idle", 1)};
    hf_fit_description d = line_on(10, line_x, line_y, (hf_fit_parameter[2]){0});
    d.parameters = p;
    d.parameter_count = 3;
    d.value = product;
    hf_fit *fit = NULL;
    assert_int_equal(hf_fit_new(&fit, &d, NULL), HF_OK);
    (void)!hf_fit_run(fit);
    CHECK_CLOSE(estimate(fit, 0).value * estimate(fit, 1).value, 483.6 / 385, 1e-8, 0,
                "slope through the origin, sum xy/sum xx");
    assert_true(estimate(fit, 0).flags & HF_FIT_ENTANGLED);
    assert_true(isinf(estimate(fit, 1).standard_error));
    assert_non_null(strstr(hf_fit_note(fit, 0), "area"));
    assert_true(estimate(fit, 2).flags & HF_FIT_NO_EFFECT);
    assert_true(summary(fit).condition > 1e11);
    double y, width;
    assert_int_equal(hf_fit_bands(fit, 1, line_x, NULL, NULL, 0.95, &y, &width, NULL), HF_EDATA);
    hf_interval interval;
    assert_int_equal(hf_fit_profile(fit, 2, 0.95, &interval), HF_OK);
    assert_true(interval.flags == (HF_OPEN_LOW | HF_OPEN_HIGH));
    assert_true(isinf(interval.low) && isinf(interval.high));
    hf_fit_free(fit);
}

/* Two branches at once: separate parameters give the separate fits, a shared k lies between the two. */
static void test_groups(void **unused)
{
    (void)unused;
    double a[16], w[16];
    size_t group[16];
    for (size_t i = 0; i < 16; i++) {
        a[i] = wood_a[i % 8];
        w[i] = i < 8 ? wood_up[i] : wood_down[i - 8];
        group[i] = i / 8;
    }
    hf_fit_parameter p[HF_FIT_PARAMETERS_MAX], all[6];
    hf_fit_description d = model_on("gab", 16, a, w, p);
    for (size_t j = 0; j < 6; j++)
        all[j] = p[j % 3];
    d.parameters = all;
    d.parameter_count = 6;
    d.model_parameters = 3;
    d.groups = 2;
    d.group = group;
    d.map = (const size_t[]){0, 1, 2, 3, 4, 5};
    hf_fit *fit = run_fit(&d);
    CHECK_CLOSE(estimate(fit, 1).value, 7.3524433214544374, 1e-8, 0, "R 4.2.2, nls, first branch");
    CHECK_CLOSE(estimate(fit, 5).value, 0.67565, 0, 5e-6, "pupmsi-data, second branch");
    const double separate = summary(fit).rss;
    CHECK_CLOSE(separate, 1.9557e-5 + 3.1615e-5, 0, 1e-9, "sum of the two");
    hf_fit_free(fit);
    for (int differences = 0; differences < 2; differences++) {
        d.map = (const size_t[]){0, 1, 2, 3, 4, 2};
        d.parameter_count = 5;
        if (differences)
            d.gradient = NULL;
        fit = run_fit(&d);
        assert_true(estimate(fit, 2).value > 0.67565 && estimate(fit, 2).value < 0.77790);
        assert_true(summary(fit).rss > separate);
        assert_int_equal(summary(fit).degrees_of_freedom, 11);
        double y, width;
        const size_t second = 1;
        assert_int_equal(hf_fit_bands(fit, 1, a, NULL, &second, 0.95, &y, &width, NULL), HF_OK);
        double fitted[16];
        assert_int_equal(hf_fit_get_points(fit, fitted, NULL, NULL, NULL, NULL), HF_OK);
        CHECK_CLOSE(y, fitted[8], 1e-14, 0, "the band's curve is the fitted curve of that group");
        assert_int_equal(hf_fit_bands(fit, 1, a, NULL, NULL, 0.95, &y, &width, NULL), HF_EINVAL);
        hf_fit_free(fit);
    }
}

/* A model that answers all rows at once takes the rows of each group by themselves: as two fits apart. */
static void test_groups_at_once(void **unused)
{
    (void)unused;
    enum { EACH = 15 };
    const hf_model *model = hf_model_find("radial_uptake_film");
    const double truth[2][5] = {{1e-12, 8, 0.05, 0.2, 35e-6}, {2e-12, 5, 0.1, 0.15, 35e-6}};
    double x[2 * EACH], y[2 * EACH], part[EACH], answer[EACH];
    size_t group[2 * EACH];
    for (size_t g = 0; g < 2; g++) {
        for (size_t i = 0; i < EACH; i++)
            part[i] = 20 * (double)(i + 1);
        assert_int_equal(model->values(EACH, part, truth[g], NULL, answer), HF_OK);
        for (size_t i = 0; i < EACH; i++) { /* rows of both taken in turn */
            x[2 * i + g] = part[i];
            y[2 * i + g] = answer[i] + 1e-4 * ((double)(i * 7 % 5) - 2);
            group[2 * i + g] = g;
        }
    }
    hf_fit_parameter p[HF_FIT_PARAMETERS_MAX], all[10];
    hf_fit_description d = model_on("radial_uptake_film", 2 * EACH, x, y, p);
    for (size_t j = 0; j < 10; j++) {
        all[j] = p[j % 5];
        if (j % 5 == 4)
            all[j].start = 35e-6;
    }
    d.parameters = all;
    d.parameter_count = 10;
    d.model_parameters = 5;
    d.groups = 2;
    d.group = group;
    d.map = (const size_t[]){0, 1, 2, 3, 4, 5, 6, 7, 8, 9};
    hf_fit *both = run_fit(&d);
    double rss = 0;
    hf_interval all_at_once[10], one;
    hf_status status[10];
    assert_int_equal(hf_fit_profiles(both, 0.9, all_at_once, status), HF_OK);
    for (size_t g = 0; g < 2; g++) {
        double own_x[EACH], own_y[EACH];
        for (size_t i = 0; i < EACH; i++) {
            own_x[i] = x[2 * i + g];
            own_y[i] = y[2 * i + g];
        }
        hf_fit_description apart = model_on("radial_uptake_film", EACH, own_x, own_y, p);
        p[4].start = 35e-6;
        hf_fit *fit = run_fit(&apart);
        for (size_t j = 0; j < 4; j++) {
            CHECK_CLOSE(estimate(both, 5 * g + j).value, estimate(fit, j).value, 1e-6, 0,
                        "as by itself");
            assert_int_equal(status[5 * g + j], HF_OK);
            assert_int_equal(hf_fit_profile(both, 5 * g + j, 0.9, &one), HF_OK);
            assert_true(one.low == all_at_once[5 * g + j].low &&
                        one.high == all_at_once[5 * g + j].high);
        }
        assert_int_equal(status[5 * g + 4], HF_ENOMODEL); /* the radius is fixed */
        rss += summary(fit).rss;
        hf_fit_free(fit);
    }
    CHECK_CLOSE(summary(both).rss, rss, 1e-8, 0, "sum of the two");
    const size_t second[2] = {1, 1};
    const double where[2] = {60, 30};
    double value[2], fitted[2 * EACH];
    assert_int_equal(hf_fit_bands(both, 2, where, NULL, second, 0.95, value, NULL, NULL), HF_OK);
    assert_int_equal(hf_fit_get_points(both, fitted, NULL, NULL, NULL, NULL), HF_OK);
    CHECK_CLOSE(value[0], fitted[5], 1e-9, 0, "the curve of that group");
    hf_fit_free(both);
}

static hf_status stops(const double *x, const double *b, void *user, double *y)
{
    int *left = user;
    *y = b[0] + b[1] * x[0];
    return --*left > 0 ? HF_OK : HF_ESTOPPED;
}

static hf_status nowhere(const double *x, const double *b, void *user, double *y)
{
    (void)user;
    *y = x[0] > 5 ? (double)NAN : b[0] + b[1];
    return HF_OK;
}

/* Answers only where b0 > 0, as a logarithm would; the optimum is inside. */
static hf_status half_plane(const double *x, const double *b, void *user, double *y)
{
    (void)user;
    if (!(b[0] > 0))
        return HF_ERANGE;
    *y = log(b[0]) + b[1] * x[0];
    return HF_OK;
}

static void test_callbacks(void **unused)
{
    (void)unused;
    hf_fit_parameter p[2];
    hf_fit_description d = line_on(10, line_x, line_y, p);
    hf_fit *fit;
    int left = 95;
    d.value = stops;
    d.user = &left;
    assert_int_equal(hf_fit_new(&fit, &d, NULL), HF_OK);
    assert_int_equal(hf_fit_run(fit), HF_ESTOPPED);
    hf_fit_free(fit);
    d.value = nowhere;
    assert_int_equal(hf_fit_new(&fit, &d, NULL), HF_OK);
    assert_int_equal(hf_fit_run(fit), HF_ECONVERGE);
    assert_non_null(strstr(hf_fit_message(fit), "no answer"));
    hf_fit_free(fit);
    d.value = half_plane;
    p[0].start = 200;
    fit = run_fit(&d);
    CHECK_CLOSE(log(estimate(fit, 0).value), -0.786666666667, 1e-9, 0, "R 4.2.2, lm");
    hf_fit_free(fit);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_refusals),
        cmocka_unit_test(test_before_run),
        cmocka_unit_test(test_as_many_as_points),
        cmocka_unit_test(test_perfect),
        cmocka_unit_test(test_bounds_and_fixed),
        cmocka_unit_test(test_not_identifiable),
        cmocka_unit_test(test_groups),
        cmocka_unit_test(test_groups_at_once),
        cmocka_unit_test(test_callbacks),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
