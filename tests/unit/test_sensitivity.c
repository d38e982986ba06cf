/* Sobol indices and Morris screening: against exact indices of reference functions (sobol-functions). */
#include "check.h"

#include <hairfibre/quantity.h>
#include <hairfibre/uncertainty.h>

#include <stdlib.h>
#include <string.h>

#define PI 3.14159265358979323846

/* ---- reference functions ---------------------------------------------------------------------------- */

static hf_status ishigami(const double *x, void *user, double *y)
{
    const double *b = user;
    const double s = sin(x[1]);
    *y = sin(x[0]) + 7 * s * s + *b * x[2] * x[2] * x[2] * x[2] * sin(x[0]);
    return HF_OK;
}

typedef struct g_function {
    size_t n;
    const double *a;
} g_function;

static hf_status sobol_g(const double *x, void *user, double *y)
{
    const g_function *g = user;
    *y = 1;
    for (size_t i = 0; i < g->n; i++)
        *y *= (fabs(4 * x[i] - 2) + g->a[i]) / (1 + g->a[i]);
    return HF_OK;
}

static hf_status polynomial(const double *x, void *user, double *y)
{
    (void)user;
    *y = 1;
    for (int i = 0; i < 3; i++)
        *y *= 0.5 * (3 * x[i] * x[i] + 1);
    return HF_OK;
}

static void uniform(size_t n, double low, double high, hf_variate *out)
{
    for (size_t i = 0; i < n; i++)
        out[i] = (hf_variate){"x", HF_UNIFORM, 0.5 * (low + high), 0.5 * (high - low), low, high};
}

/* Exact indices inside the stated interval, and within 0.01 of the estimate. */
static void check_indices(size_t n, const hf_index *got, const double *first, const double *total)
{
    for (size_t i = 0; i < n; i++) {
        assert_true(got[i].first_low <= first[i] && first[i] <= got[i].first_high);
        assert_true(got[i].total_low <= total[i] && total[i] <= got[i].total_high);
        CHECK_CLOSE(got[i].first, first[i], 0, 0.01, "exact index (sobol-functions)");
        CHECK_CLOSE(got[i].total, total[i], 0, 0.01, "exact index (sobol-functions)");
    }
}

static const hf_sensitivity_options large = {1 << 14, 1, HF_DRAW_SOBOL, 200, 0.95, NULL};

static void test_ishigami(void **unused)
{
    (void)unused;
    static const struct {
        double b, variance, first[3], total[3];
    } known[] = {
        {0.1,
         13.844587940719,
         {0.313905191148, 0.442411144790, 0},
         {0.557588855210, 0.442411144790, 0.243683664062}},
        {0.05,
         8.9169424403,
         {0.2185185644, 0.6868946436, 0},
         {0.3131053564, 0.6868946436, 0.0945867919}},
    };
    hf_variate x[3];
    uniform(3, -PI, PI, x);
    for (size_t i = 0; i < 2; i++) {
        hf_index index[3];
        hf_sensitivity summary;
        double b = known[i].b;
        assert_int_equal(hf_sobol_indices(3, x, ishigami, &b, &large, index, &summary, NULL),
                         HF_OK);
        check_indices(3, index, known[i].first, known[i].total);
        CHECK_CLOSE(summary.mean, 3.5, 0, 0.02, "exact mean");
        CHECK_CLOSE(summary.deviation, sqrt(known[i].variance), 0.005, 0, "exact variance");
        assert_int_equal(summary.evaluations, 5 << 14);
        assert_int_equal(summary.method, HF_DRAW_SOBOL);
        assert_int_equal(summary.failures, 0);
    }
}

static void test_g_function(void **unused)
{
    (void)unused;
    static const double a8[] = {0, 1, 4.5, 9, 99, 99, 99, 99}, a6[] = {0, 0.5, 3, 9, 99, 99};
    static const double first8[] = {0.7161921689, 0.1790480422, 0.0236757742, 0.0071619217,
                                    0.0000716192, 0.0000716192, 0.0000716192, 0.0000716192};
    static const double total8[] = {0.7871441267, 0.2421981928, 0.0343169102, 0.0104603871,
                                    0.0001049491, 0.0001049491, 0.0001049491, 0.0001049491};
    static const double first6[] = {0.5867811898, 0.2607916399, 0.0366738244,
                                    0.0058678119, 0.0000586781, 0.0000586781};
    static const double total6[] = {0.6900858923, 0.3561733638, 0.0563335422,
                                    0.0091705766, 0.0000920084, 0.0000920084};
    hf_variate x[8];
    hf_index index[8];
    hf_sensitivity summary;
    uniform(8, 0, 1, x);
    g_function g = {8, a8};
    assert_int_equal(hf_sobol_indices(8, x, sobol_g, &g, &large, index, &summary, NULL), HF_OK);
    check_indices(8, index, first8, total8);
    CHECK_CLOSE(summary.deviation, sqrt(0.465424431902), 0.01, 0, "exact variance");
    g = (g_function){6, a6};
    assert_int_equal(hf_sobol_indices(6, x, sobol_g, &g, &large, index, &summary, NULL), HF_OK);
    check_indices(6, index, first6, total6);
    CHECK_CLOSE(summary.deviation, sqrt(0.568070925153), 0.01, 0, "exact variance");
}

/* Inputs 2 and 3 as one factor: its first-order share is 2 x 25/91 + 5/91, its total adds all of 1 with 2, with
 * 3 and with both. */
static void test_factors(void **unused)
{
    (void)unused;
    hf_variate x[3];
    hf_index index[3];
    hf_sensitivity summary;
    uniform(3, 0, 1, x);
    assert_int_equal(hf_sobol_indices(3, x, polynomial, NULL, &large, index, &summary, NULL),
                     HF_OK);
    check_indices(3, index, (double[]){25.0 / 91, 25.0 / 91, 25.0 / 91},
                  (double[]){36.0 / 91, 36.0 / 91, 36.0 / 91});
    const size_t factor[] = {0, 1, 1};
    hf_sensitivity_options o = large;
    o.factor = factor;
    assert_int_equal(hf_sobol_indices(3, x, polynomial, NULL, &o, index, &summary, NULL), HF_OK);
    check_indices(2, index, (double[]){25.0 / 91, 55.0 / 91}, (double[]){36.0 / 91, 66.0 / 91});
    assert_int_equal(summary.factors, 2);
    const size_t gap[] = {0, 2, 2};
    o.factor = gap;
    assert_int_equal(hf_sobol_indices(3, x, polynomial, NULL, &o, index, &summary, NULL),
                     HF_EINVAL);
}

/* With random points the intervals cover as often as they say. */
static void test_interval_coverage(void **unused)
{
    (void)unused;
    static const double first[] = {0.313905191148, 0.442411144790, 0};
    static const double total[] = {0.557588855210, 0.442411144790, 0.243683664062};
    hf_variate x[3];
    uniform(3, -PI, PI, x);
    double b = 0.1;
    int covered[6] = {0};
    const int seeds = 200;
    for (int seed = 1; seed <= seeds; seed++) {
        const hf_sensitivity_options o = {1024, (uint64_t)seed, HF_DRAW_RANDOM, 200, 0.95, NULL};
        hf_index index[3];
        assert_int_equal(hf_sobol_indices(3, x, ishigami, &b, &o, index, NULL, NULL), HF_OK);
        for (int i = 0; i < 3; i++) {
            covered[i] += index[i].first_low <= first[i] && first[i] <= index[i].first_high;
            covered[3 + i] += index[i].total_low <= total[i] && total[i] <= index[i].total_high;
        }
    }
    for (int i = 0; i < 6; i++)
        CHECK_CLOSE((double)covered[i] / seeds, 0.95, 0, 4 * sqrt(0.95 * 0.05 / seeds),
                    "binomial, four deviations");
}

static hf_status large_mean(const double *x, void *user, double *y)
{
    const hf_status status = polynomial(x, user, y);
    *y += 1e6;
    return status;
}

static void test_shift_changes_nothing(void **unused)
{
    (void)unused;
    hf_variate x[3];
    hf_index plain[3], shifted[3];
    uniform(3, 0, 1, x);
    const hf_sensitivity_options o = {256, 4, HF_DRAW_SOBOL, 100, 0.9, NULL};
    assert_int_equal(hf_sobol_indices(3, x, polynomial, NULL, &o, plain, NULL, NULL), HF_OK);
    assert_int_equal(hf_sobol_indices(3, x, large_mean, NULL, &o, shifted, NULL, NULL), HF_OK);
    for (int i = 0; i < 3; i++) {
        CHECK_CLOSE(shifted[i].first, plain[i].first, 0, 1e-8, "rounding of 1e6");
        CHECK_CLOSE(shifted[i].total_high, plain[i].total_high, 0, 1e-8, "rounding of 1e6");
    }
}

/* ---- Morris ------------------------------------------------------------------------------------------------ */

static hf_status weighted(const double *x, void *user, double *y)
{
    (void)user;
    *y = 4 * x[0] - 2 * x[1] + 0 * x[2] + x[3] * x[4];
    return HF_OK;
}

static void test_morris(void **unused)
{
    (void)unused;
    hf_variate x[5];
    hf_effect effect[5];
    hf_sensitivity summary;
    uniform(5, 0, 1, x);
    const hf_screening_options o = {2000, 4, 9};
    assert_int_equal(hf_morris_effects(5, x, weighted, NULL, &o, effect, &summary, NULL), HF_OK);
    CHECK_CLOSE(effect[0].mean, 4, 1e-12, 0, "linear: the slope");
    CHECK_CLOSE(effect[0].size, 4, 1e-12, 0, "linear: the slope");
    CHECK_CLOSE(effect[0].deviation, 0, 0, 1e-7, "linear: no spread");
    CHECK_CLOSE(effect[1].mean, -2, 1e-12, 0, "linear: the slope, with its sign");
    CHECK_CLOSE(effect[1].size, 2, 1e-12, 0, "linear: the slope");
    CHECK_CLOSE(effect[2].size, 0, 0, 1e-12, "no influence");
    /* The effect of x3 is x4, uniform on 1/8, 3/8, 5/8, 7/8: mean 1/2, deviation sqrt(5)/8. */
    CHECK_CLOSE(effect[3].mean, 0.5, 0, 4 * sqrt(5) / 8 / sqrt(2000), "four standard errors");
    CHECK_CLOSE(effect[3].deviation, sqrt(5) / 8, 0.05, 0, "2000 tours know it to 1.6 %");
    CHECK_CLOSE(effect[3].size_error, sqrt(5) / 8 / sqrt(2000), 0.05, 0, "of the mean of 2000");
    assert_int_equal(summary.evaluations, 12000);
}

/* Screening and indices agree on the order of the inputs of the G function. */
static void test_morris_order(void **unused)
{
    (void)unused;
    static const double a[] = {0, 1, 4.5, 9, 99, 99, 99, 99};
    g_function g = {8, a};
    hf_variate x[8];
    hf_effect effect[8];
    uniform(8, 0, 1, x);
    const hf_screening_options o = {200, 8, 2};
    assert_int_equal(hf_morris_effects(8, x, sobol_g, &g, &o, effect, NULL, NULL), HF_OK);
    for (int i = 0; i < 4; i++)
        assert_true(effect[i].size > 1.5 * effect[i + 1].size);
}

/* ---- quantities ---------------------------------------------------------------------------------------------- */

static size_t place_of(const hf_factor *factor, size_t n, const char *name)
{
    size_t i = 0;
    while (i < n && strcmp(factor[i].name, name) != 0)
        i++;
    assert_true(i < n);
    return i;
}

/* ln-normal rate: the shares of the variance of y = exp(a + b) have closed forms, with s the spread of a factor and
 * S that of all: first (exp(s^2) - 1)/(exp(S^2) - 1), total exp(S^2 - s^2) times as much. */
static void test_quantity_indices(void **unused)
{
    (void)unused;
    const hf_quantity *q = hf_quantity_find("tryptophan_rate");
    const double T = 400;
    hf_factor factor[HF_INPUTS_MAX];
    hf_index index[HF_INPUTS_MAX];
    hf_effect effect[HF_INPUTS_MAX];
    hf_sensitivity summary;
    size_t n;
    assert_int_equal(hf_quantity_factors(q, &T, NULL, NULL, 0, factor, &n, NULL), HF_OK);
    assert_int_equal(n, 2);
    const size_t rate = place_of(factor, n, "rate.tryptophan.rate");
    const size_t energy = place_of(factor, n, "rate.tryptophan.energy");
    assert_string_equal(factor[energy].unit, "J/mol");
    const double by_rate = factor[rate].spread * factor[rate].spread;
    const double k = factor[energy].spread / 8.31446261815324 * (1 / T - 1 / 420.15);
    const double by_energy = k * k, all = by_rate + by_energy;
    double first[2], total[2];
    first[rate] = expm1(by_rate) / expm1(all);
    first[energy] = expm1(by_energy) / expm1(all);
    total[rate] = first[rate] * exp(by_energy);
    total[energy] = first[energy] * exp(by_rate);
    assert_int_equal(hf_quantity_sobol_indices(q, &T, NULL, NULL, 0, &large, index, &summary, NULL),
                     HF_OK);
    assert_int_equal(summary.factors, 2);
    check_indices(2, index, first, total);
    assert_int_equal(hf_quantity_morris_effects(q, &T, NULL, NULL, 0, NULL, effect, &summary, NULL),
                     HF_OK);
    CHECK_CLOSE(effect[rate].size / effect[energy].size, sqrt(by_rate / by_energy), 0.1, 0,
                "effects of two normal inputs are as their spreads, but for the bend of exp");
}

static void test_quantity_factors(void **unused)
{
    (void)unused;
    const hf_quantity *q = hf_quantity_find("regain");
    const double at[] = {0.65, 353.15, 0};
    const hf_spread spread = {1, HF_NORMAL, 5, (double)NAN, (double)NAN};
    hf_factor factor[HF_INPUTS_MAX];
    hf_index index[HF_INPUTS_MAX];
    hf_effect effect[HF_INPUTS_MAX];
    hf_sensitivity summary;
    hf_message why;
    size_t n;
    assert_int_equal(hf_quantity_factors(q, at, NULL, &spread, 1, factor, &n, NULL), HF_OK);
    const size_t scale = place_of(factor, n, "sorption.scale"),
                 T = place_of(factor, n, "temperature");
    const size_t tied = place_of(factor, n, "sorption.enthalpy");
    CHECK_CLOSE(factor[T].value, 353.15, 0, 0, "the state asked for");
    CHECK_CLOSE(factor[T].spread, 5, 0, 0, "as given");
    assert_true(isnan(factor[tied].spread));
    for (size_t i = 0; i < n; i++)
        assert_true(strcmp(factor[i].name, "sorption.enthalpy.k") != 0);
    assert_int_equal(
        hf_quantity_sobol_indices(q, at, NULL, &spread, 1, NULL, index, &summary, &why), HF_OK);
    double sum = 0;
    for (size_t i = 0; i < n; i++) {
        sum += index[i].first;
        assert_true(index[i].total >= 0 && index[i].first <= index[scale].first);
    }
    CHECK_CLOSE(sum, 1, 0, 0.05, "nearly additive: the shares add up to one");
    assert_int_equal(
        hf_quantity_morris_effects(q, at, NULL, &spread, 1, NULL, effect, &summary, &why), HF_OK);
    assert_true(effect[T].mean < 0); /* warm hair holds less water */
    assert_int_equal(summary.factors, n);
    q = hf_quantity_find("moisture_content");
    assert_int_equal(
        hf_quantity_sobol_indices(q, (double[]){0.1}, NULL, NULL, 0, NULL, index, NULL, &why),
        HF_EDATA);
    assert_non_null(strstr(why.text, "no input"));
}

/* ---- failures ------------------------------------------------------------------------------------------------ */

typedef struct counter {
    int calls, stop_at;
    double refuse_above;
} counter;

static hf_status moody(const double *x, void *user, double *y)
{
    counter *c = user;
    if (++c->calls == c->stop_at)
        return HF_ESTOPPED;
    if (x[0] > c->refuse_above)
        return HF_ERANGE;
    *y = x[0] + x[1];
    return HF_OK;
}

static void test_failures(void **unused)
{
    (void)unused;
    hf_variate x[2];
    hf_index index[2];
    hf_effect effect[2];
    hf_sensitivity summary;
    hf_message why;
    uniform(2, 0, 1, x);
    const hf_sensitivity_options o = {512, 4, HF_DRAW_SOBOL, 100, 0.9, NULL};
    counter c = {0, 0, 0.9};
    assert_int_equal(hf_sobol_indices(2, x, moody, &c, &o, index, &summary, NULL), HF_OK);
    /* A row needs x0 of A and of B below 0.9: 0.81 of them remain. */
    CHECK_CLOSE((double)summary.failures / 512, 0.19, 0, 0.02, "net of 512 points");
    c = (counter){0, 0, 0.1};
    assert_int_equal(hf_sobol_indices(2, x, moody, &c, &o, index, &summary, &why), HF_EDATA);
    assert_non_null(strstr(why.text, "more than half"));
    c = (counter){0, 100, 2};
    assert_int_equal(hf_sobol_indices(2, x, moody, &c, &o, index, &summary, &why), HF_ESTOPPED);
    c = (counter){0, 100, 2};
    assert_int_equal(hf_morris_effects(2, x, moody, &c, NULL, effect, &summary, &why), HF_ESTOPPED);
    c = (counter){0, 0, 0.2};
    assert_int_equal(hf_morris_effects(2, x, moody, &c, NULL, effect, &summary, &why), HF_EDATA);
    c = (counter){0, 0, 2};
    x[0].spread = x[1].spread = 0;
    assert_int_equal(hf_sobol_indices(2, x, moody, &c, &o, index, &summary, &why), HF_EDATA);
    assert_non_null(strstr(why.text, "does not vary"));
    hf_sensitivity_options bad = o;
    bad.samples = 8;
    assert_int_equal(hf_sobol_indices(2, x, moody, &c, &bad, index, &summary, &why), HF_ERANGE);
    assert_non_null(strstr(why.text, "samples"));
    assert_int_equal(hf_sobol_indices(0, x, moody, &c, &o, index, &summary, &why), HF_ERANGE);
    assert_int_equal(hf_sobol_indices(2, NULL, moody, &c, &o, index, &summary, &why), HF_EINVAL);
    const hf_screening_options odd = {10, 5, 1};
    assert_int_equal(hf_morris_effects(2, x, moody, &c, &odd, effect, &summary, &why), HF_ERANGE);
}

/* More than 20 inputs need more dimensions than the sequence has. */
static void test_many_inputs(void **unused)
{
    (void)unused;
    static const double a[25] = {0,  1,  4.5, 9,  99, 99, 99, 99, 99, 99, 99, 99, 99,
                                 99, 99, 99,  99, 99, 99, 99, 99, 99, 99, 99, 99};
    g_function g = {25, a};
    hf_variate x[25];
    hf_index index[25];
    hf_sensitivity summary;
    uniform(25, 0, 1, x);
    const hf_sensitivity_options o = {4096, 4, HF_DRAW_SOBOL, 100, 0.99, NULL};
    assert_int_equal(hf_sobol_indices(25, x, sobol_g, &g, &o, index, &summary, NULL), HF_OK);
    assert_int_equal(summary.method, HF_DRAW_RANDOM);
    assert_true(index[0].total_low < 0.7871441267 && 0.7871441267 < index[0].total_high);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_ishigami),
        cmocka_unit_test(test_g_function),
        cmocka_unit_test(test_factors),
        cmocka_unit_test(test_interval_coverage),
        cmocka_unit_test(test_shift_changes_nothing),
        cmocka_unit_test(test_morris),
        cmocka_unit_test(test_morris_order),
        cmocka_unit_test(test_quantity_indices),
        cmocka_unit_test(test_quantity_factors),
        cmocka_unit_test(test_failures),
        cmocka_unit_test(test_many_inputs),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
