/* Built-in models: derivatives against differences, values against published or separately computed ones,
 * parameters back from made-up data without a start given, Kissinger on the peaks of hair. */
#include "fit_tools.h"

#include "inference/models.h"

#include <string.h>

typedef struct made {
    const char *name;
    double low, high; /* of x */
    double truth[7];
} made;

/* Magnitudes of hair where there is one. */
static const made cases[] = {
    {"gab", 0.05, 0.95, {0.09, 11, 0.72}},
    {"bet", 0.02, 0.45, {0.07, 11}},
    {"hailwood_horrobin", 0.05, 0.95, {0.2, 10, 0.72}},
    {"darcy_watt", 0.05, 0.95, {0.0793, 8.89, 0.1021, 0.702}},
    {"flory_huggins", 0.05, 0.95, {0.8, 1.31}},
    {"swelling", 0.01, 0.35, {0.5, 0}},
    {"swelling_power", 0.01, 0.35, {0.5, 1.2}},
    {"first_order", 0, 150, {1.2, 0, 0.02}},
    {"order_n", 0, 400, {1.2, 0, 0.02, 1.7}},
    {"arrhenius", 300, 450, {60e3, 20}},
    {"arrhenius_log", 300, 450, {60e3, 20}},
    {"kissinger", 0.01, 0.5, {263e3, 71.2}},
    {"radial_uptake", 1, 1500, {1e-12, 0.05, 0.2, 35e-6}},
    {"radial_uptake_film", 1, 1500, {1e-12, 8, 0.05, 0.2, 35e-6}},
    {"radial_uptake_exponential", 1, 1500, {4e-13, 20, 150, 0.05, 0.15, 35e-6, 298.15}},
    {"denaturation_trace", 395, 430, {19e3, 414.45, 263e3, 10, 0.05, 2 / 60.0}},
    {"stress_strain", 0.005, 0.5, {2e9, 0.03, 1e8, 0.28, 6e8, 0.005}},
    {"fatigue_line", 60e6, 160e6, {10, 11}},
};

#define POINTS 40

static void make(const made *c, const hf_model *model, double *x, double *y)
{
    for (size_t i = 0; i < POINTS; i++)
        x[i] = c->low + (c->high - c->low) * (double)i / (POINTS - 1);
    if (model->values)
        assert_int_equal(model->values(POINTS, x, c->truth, NULL, y), HF_OK);
    for (size_t i = 0; i < POINTS && model->value; i++)
        assert_int_equal(model->value(&x[i], c->truth, NULL, &y[i]), HF_OK);
}

static void test_gradients(void **unused)
{
    (void)unused;
    for (size_t k = 0; k < COUNT(cases); k++) {
        const hf_model *model = hf_model_find(cases[k].name);
        assert_non_null(model);
        double x[POINTS], y[POINTS], g[7], b[7];
        make(&cases[k], model, x, y);
        for (size_t i = 0; i < POINTS && model->gradient; i++) {
            assert_int_equal(model->gradient(&x[i], cases[k].truth, NULL, g), HF_OK);
            for (size_t j = 0; j < model->parameter_count; j++) {
                const double size = fabs(cases[k].truth[j]) > 0 ? fabs(cases[k].truth[j]) : 1;
                const double step = 1e-5 * size;
                double up, down;
                memcpy(b, cases[k].truth, sizeof b);
                b[j] += step;
                assert_int_equal(model->value(&x[i], b, NULL, &up), HF_OK);
                b[j] -= 2 * step;
                assert_int_equal(model->value(&x[i], b, NULL, &down), HF_OK);
                CHECK_CLOSE((up - down) / (2 * step), g[j], 1e-6, 1e-9 * (fabs(y[i]) + 1e-3) / size,
                            cases[k].name);
            }
        }
    }
    assert_int_equal(hf_model_count(), COUNT(cases));
}

/* Errors of one part in a thousand move no parameter by more than six of its standard errors, whatever the model;
 * nothing is given but what must be. */
static void test_recovery(void **unused)
{
    (void)unused;
    for (size_t k = 0; k < COUNT(cases); k++) {
        const hf_model *model = hf_model_find(cases[k].name);
        double x[POINTS], y[POINTS];
        make(&cases[k], model, x, y);
        for (size_t i = 0; i < POINTS; i++)
            y[i] *= 1 + 1e-3 * (double)((int)(i * 7 % 11) - 5) / 5;
        hf_fit_parameter p[HF_FIT_PARAMETERS_MAX];
        const hf_fit_description d = model_on(cases[k].name, POINTS, x, y, p);
        for (size_t j = 0; j < d.parameter_count; j++)
            if (model->parameters[j].given)
                p[j].start = cases[k].truth[j];
        hf_fit *fit = run_fit(&d);
        assert_int_equal(summary(fit).starts, 1);
        for (size_t j = 0; j < d.parameter_count; j++) {
            const hf_fit_estimate e = estimate(fit, j);
            if (p[j].fixed)
                continue;
            CHECK_CLOSE(e.value, cases[k].truth[j], 0, 6 * e.standard_error, cases[k].name);
            CHECK_CLOSE(e.value, cases[k].truth[j], 0.1, 0, cases[k].name);
        }
        hf_fit_free(fit);
    }
}

/* crank1975, values from the series computed apart, to all digits given; half a unit of the last. */
static void test_uptake(void **unused)
{
    (void)unused;
    const double tau[] = {0.001, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.3, 0.5, 1};
    const double share[] = {0.07035889, 0.15450707, 0.21547394, 0.29856391, 0.45212100,
                            0.60582419, 0.78214755, 0.87797153, 0.96162129, 0.99787045};
    for (size_t i = 0; i < COUNT(tau); i++)
        CHECK_CLOSE(hfi_uptake_share(tau[i], NULL), share[i], 0, 5.1e-9, "crank1975, cylinder");
    /* The two forms meet without a step, and so do their slopes. */
    double below, above;
    const double left = hfi_uptake_share(0.01 * (1 - 1e-12), &below);
    CHECK_CLOSE(hfi_uptake_share(0.01, &above), left, 1e-11, 0, "the same function");
    CHECK_CLOSE(above, below, 1e-8, 0, "the same function");

    const struct {
        double film, at[3], half;
    } rows[] = {
        {0.01, {0.001995, 0.009928, 0.019754}, 34.74397},
        {0.1, {0.019478, 0.093119, 0.177401}, 3.552051},
        {0.5, {0.088032, 0.360511, 0.589185}, 0.778017},
        {1, {0.156734, 0.552616, 0.796653}, 0.429501},
        {2, {0.255428, 0.734610, 0.926148}, 0.252688},
        {5, {0.402603, 0.879545, 0.983364}, 0.142553},
        {10, {0.490016, 0.925235, 0.993046}, 0.103842},
        {100, {0.593153, 0.958563, 0.997565}, 0.067249},
    };
    const hf_model *film = hf_model_find("radial_uptake_film");
    for (size_t i = 0; i < COUNT(rows); i++) {
        const double b[] = {1, rows[i].film, 0, 1, 1}, x[] = {0.1, 0.5, 1, rows[i].half, 0};
        double y[5];
        assert_int_equal(film->values(5, x, b, NULL, y), HF_OK);
        for (size_t k = 0; k < 3; k++)
            CHECK_CLOSE(y[k], rows[i].at[k], 0, 5.1e-7, "crank1975, surface resistance");
        CHECK_CLOSE(y[3], 0.5, 0, 2e-6, "crank1975, surface resistance, half time to seven digits");
        CHECK_CLOSE(y[4], 0, 0, 0, "nothing at time 0");
    }
}

/* Peaks of wet and dry hair. wortmann2012: 263 and 416 kJ/mol; prefactors and the further peaks by the Kissinger
 * relation computed apart from 141.3 degC at 2 K/min (wet), 233 and 237 degC at 10 K/min (dry). */
static void test_kissinger(void **unused)
{
    (void)unused;
    const hf_model *model = hf_model_find("kissinger");
    const double ln10 = 2.302585092994046, rate[] = {2 / 60.0, 5 / 60.0, 10 / 60.0};
    const double wet[] = {263e3, 30.93 * ln10}, dry[] = {416e3, 41.44 * ln10},
                 late[] = {416e3, 41.10 * ln10};
    const double peak[] = {141.3, 146.2, 150.0};
    double y;
    /* A prefactor of two decimals in log10 is good to 0.005 ln 10 T/(u + 2), here 0.06 K; the printed peak to
     * 0.05 K. */
    for (size_t i = 0; i < 3; i++) {
        assert_int_equal(model->value(&rate[i], wet, NULL, &y), HF_OK);
        CHECK_CLOSE(y, peak[i] + 273.15, 0, 0.11, "wortmann2012 with kissinger");
    }
    assert_int_equal(model->value(&rate[2], dry, NULL, &y), HF_OK);
    CHECK_CLOSE(y, 233 + 273.15, 0, 0.11, "milczarek1992 with kissinger");
    assert_int_equal(model->value(&rate[2], late, NULL, &y), HF_OK);
    CHECK_CLOSE(y, 237 + 273.15, 0, 0.11, "lima2019 with kissinger");

    /* Back again: 0.05 K at either end of 8.7 K is 1.2 % of the energy. */
    const double x[] = {rate[0], rate[1], rate[2]};
    double t[3];
    for (size_t i = 0; i < 3; i++)
        t[i] = peak[i] + 273.15;
    hf_fit_parameter p[HF_FIT_PARAMETERS_MAX];
    const hf_fit_description d = model_on("kissinger", 3, x, t, p);
    hf_fit *fit = run_fit(&d);
    CHECK_CLOSE(estimate(fit, 0).value, 263e3, 0.012, 0, "wortmann2012, wet");
    CHECK_CLOSE(estimate(fit, 1).value, 30.93 * ln10, 0.012, 0, "computed with it");
    double r[4];
    assert_int_equal(hf_fit_get_covariance(fit, NULL, r), HF_OK);
    assert_true(r[1] > 0.999); /* the two go together: hence the joint region */
    hf_fit_free(fit);

    /* The joint region of five rates lies along that line and inside the separate limits of its own level. */
    const double rates[] = {1 / 60.0, 2 / 60.0, 5 / 60.0, 10 / 60.0, 20 / 60.0};
    double five[5], energy[24], prefactor[24];
    const double noise[] = {0.2, -0.3, 0.1, 0.2, -0.15};
    for (size_t i = 0; i < 5; i++) {
        assert_int_equal(model->value(&rates[i], wet, NULL, &five[i]), HF_OK);
        five[i] += noise[i];
    }
    const hf_fit_description joint = model_on("kissinger", 5, rates, five, p);
    fit = run_fit(&joint);
    size_t open;
    assert_int_equal(hf_fit_region(fit, 0, 1, 0.95, 24, energy, prefactor, &open), HF_OK);
    assert_int_equal(open, 0);
    const hf_fit_summary s = summary(fit);
    for (size_t k = 0; k < 24; k++) {
        double rss = 0;
        const double b[] = {energy[k], prefactor[k]};
        for (size_t i = 0; i < 5; i++) {
            assert_int_equal(model->value(&rates[i], b, NULL, &y), HF_OK);
            rss += (y - five[i]) * (y - five[i]);
        }
        /* F(2, 3) at 0.95: 9.552094 (tables) */
        CHECK_CLOSE(rss, s.rss * (1 + 2 * 9.552094 / 3), 1e-6, 0, "edge of the joint region");
    }
    hf_fit_free(fit);
}

/* The trace: area over the base, place of the maximum, the rate law itself in pieces. */
static void test_trace(void **unused)
{
    (void)unused;
    const hf_model *model = hf_model_find("denaturation_trace");
    const double b[] = {19e3, 414.45, 263e3, 0, 0, 2 / 60.0}, step = 0.01;
    const double theta = 263e3 / 8.314462618,
                 a = theta / (414.45 * 414.45) * exp(theta / 414.45); /* A/rate */
    double area = 0, most = 0, at = 0, done = 0;
    for (double T = 300; T < 460; T += step) {
        double y, before = exp(-theta / T), after = exp(-theta / (T + step));
        assert_int_equal(model->value(&T, b, NULL, &y), HF_OK);
        const double share = 1 - exp(-done);
        CHECK_CLOSE(y, 19e3 * b[5] * a * before * (1 - share), 1e-6, 1e-9 * 19e3,
                    "the rate law, integrated by steps");
        /* one step of the integral of a exp(-theta/T), by Simpson's rule */
        done += a * step / 6 * (before + 4 * exp(-theta / (T + 0.5 * step)) + after);
        area += y * step;
        if (y > most) {
            most = y;
            at = T;
        }
    }
    CHECK_CLOSE(area / b[5], 19e3, 1e-6, 0, "all of it melts");
    CHECK_CLOSE(at, 414.45, 0, 1.5 * step, "the peak is where it is said to be");
}

static void test_table(void **unused)
{
    (void)unused;
    for (size_t k = 0; k < hf_model_count(); k++) {
        const hf_model *m = hf_model_at(k);
        assert_ptr_equal(hf_model_find(m->name), m);
        assert_true(strlen(m->text) > 0 && strlen(m->equation) > 0 && m->parameter_count > 0);
        assert_true(!m->value != !m->values && m->starter);
        char keys[200];
        assert_true(strlen(m->sources) < sizeof keys);
        strcpy(keys, m->sources);
        char *rest = NULL;
        for (char *key = strtok_r(keys, " ", &rest); key; key = strtok_r(NULL, " ", &rest))
            assert_non_null(hf_source_find(key));
        for (size_t j = 0; j < m->parameter_count; j++)
            assert_true(strlen(m->parameters[j].name) > 0 && strlen(m->parameters[j].unit) > 0 &&
                        strlen(m->parameters[j].text) > 0);
    }
    assert_null(hf_model_at(hf_model_count()));
    assert_null(hf_model_find("no such model"));
    assert_null(hf_model_find(NULL));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_gradients), cmocka_unit_test(test_recovery),
        cmocka_unit_test(test_uptake),    cmocka_unit_test(test_kissinger),
        cmocka_unit_test(test_trace),     cmocka_unit_test(test_table),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
