/* Lives and strengths by maximum likelihood, with survivors: against R 4.2.2 survreg, closed forms and the
 * published fatigue table of hair (evans-fatigue, Table 9). */
#include "check.h"

#include "inference/life.h"

#include <string.h>

#include <gsl/gsl_cdf.h>

#define COUNT(a)  (sizeof(a) / sizeof(a)[0])
#define R_SURVREG "R 4.2.2, survreg, rel.tol 1e-14"

/* Twelve lives at the plotting positions of the table's cell 63.7 MPa, 90 % RH (186000, 0.97), rounded to 100;
 * run-out at 300000 cycles. */
static const double lives[] = {7200,   23300,  41500,  62100,  85400,  112300,
                               144000, 182300, 230700, 295900, 300000, 300000};
static const int broke[] = {1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 0, 0};

static void test_weibull(void **unused)
{
    (void)unused;
    hf_life life;
    hf_message message;
    assert_int_equal(hf_life_fit(12, lives, broke, (double)NAN, 0.95, &life, &message), HF_OK);
    const hf_life_parameter *scale = &life.parameters[0], *shape = &life.parameters[1];
    CHECK_CLOSE(scale->value, 179318.11805074383, 1e-9, 0, R_SURVREG);
    CHECK_CLOSE(shape->value, 1.04512219814, 1e-9, 0, R_SURVREG);
    CHECK_CLOSE(scale->standard_error, 5.45317736261e+04, 1e-8, 0, R_SURVREG);
    CHECK_CLOSE(shape->standard_error, 2.82225426534e-01, 1e-8, 0, R_SURVREG);
    CHECK_CLOSE(life.log_likelihood, -130.90863829956, 1e-11, 0, R_SURVREG);
    CHECK_CLOSE(life.covariance[1] / (scale->value * shape->value), 0.00823102846998, 1e-7, 0,
                R_SURVREG ": covariance with ln scale, minus that with ln(1/shape)");
    CHECK_CLOSE(scale->interval.low, 94113.532579, 1e-8, 0,
                "R 4.2.2, profile by optimize and uniroot");
    CHECK_CLOSE(scale->interval.high, 372284.736749, 1e-8, 0,
                "R 4.2.2, profile by optimize and uniroot");
    CHECK_CLOSE(shape->interval.low, 0.576417834409, 1e-8, 0,
                "R 4.2.2, profile by optimize and uniroot");
    CHECK_CLOSE(shape->interval.high, 1.688521511283, 1e-8, 0,
                "R 4.2.2, profile by optimize and uniroot");
    assert_int_equal(life.broken, 10);
    assert_int_equal(life.survivors, 2);
    CHECK_CLOSE(life.aic, -2 * -130.90863829956 + 4, 1e-11, 0, "AIC = -2 ln L + 2 k, k = 2");

    /* Survivors left out: another answer (the same R), and a shorter life. */
    hf_life without;
    assert_int_equal(hf_life_fit(10, lives, broke, (double)NAN, 0.95, &without, NULL), HF_OK);
    CHECK_CLOSE(without.parameters[0].value, 1.26316478922e+05, 1e-8, 0, R_SURVREG);
    CHECK_CLOSE(without.parameters[1].value, 1.22949868472e+00, 1e-8, 0, R_SURVREG);
}

/* Shape 1: scale is the total time over the breaks, its standard error scale/sqrt(breaks). */
static void test_exponential(void **unused)
{
    (void)unused;
    hf_life life;
    assert_int_equal(hf_life_fit(12, lives, broke, 1, 0.9, &life, NULL), HF_OK);
    double total = 0;
    for (size_t i = 0; i < 12; i++)
        total += lives[i];
    CHECK_CLOSE(life.parameters[0].value, total / 10, 1e-12, 0, "closed form");
    CHECK_CLOSE(life.parameters[0].standard_error, total / 10 / sqrt(10), 1e-12, 0, "closed form");
    CHECK_CLOSE(life.log_likelihood, -130.921757989, 1e-10, 0, R_SURVREG ", exponential");
    assert_true(isnan(life.parameters[1].standard_error));
    /* 2 (10 ln(scale ratio) + ...) at the limits is the quantile of chi squared */
    const double low = life.parameters[0].interval.low, top = total / 10;
    const double deviance = 2 * (-10 * log(top) - 10 - (-10 * log(low) - total / low));
    CHECK_CLOSE(deviance, gsl_cdf_chisq_Pinv(0.9, 1), 1e-7, 0,
                "closed likelihood at the lower limit");
}

/* The law itself: a sample at the exact quantiles of each cell of the table, cut at the run-out, gives back the
 * cell. Quantiles at (i - 1/2)/n of a large sample; what is left is the bias of those positions. */
static void test_table(void **unused)
{
    (void)unused;
    const double cells[][2] = {
        {186000, 0.97}, {48000, 0.69},  {8350, 1.08},  {2550, 1.09},  {1100, 1.57}, {815, 1.19},
        {548, 1.09},    {158000, 0.83}, {35800, 0.86}, {18100, 0.79}, {6030, 0.89}, {1970, 1.06},
        {1260, 1.07},   {116000, 0.61}, {36700, 0.69}, {10300, 0.63}, {4820, 0.80}, {2820, 0.59}};
    enum { N = 2000 };
    static double t[N];
    static int d[N];
    for (size_t c = 0; c < COUNT(cells); c++) {
        size_t survivors = 0;
        for (int i = 0; i < N; i++) {
            t[i] = cells[c][0] * pow(-log1p(-(i + 0.5) / N), 1 / cells[c][1]);
            d[i] = t[i] < 3e5;
            survivors += !d[i];
            t[i] = fmin(t[i], 3e5);
        }
        hf_life life;
        assert_int_equal(hf_life_fit(N, t, d, (double)NAN, 0.95, &life, NULL), HF_OK);
        CHECK_CLOSE(life.parameters[0].value, cells[c][0], 2e-3, 0, "evans-fatigue, Table 9");
        CHECK_CLOSE(life.parameters[1].value, cells[c][1], 3e-3, 0, "evans-fatigue, Table 9");
        if (c == 0) /* weibull-life: F(3e5; 186000, 0.97) = 0.79606165 */
            assert_int_equal(survivors, (size_t)(N * (1 - 0.79606165) + 0.5));
    }
}

/* Six fibres at the plotting positions of each of three cells (90 % RH), rounded to 10; run-out 300000. */
static const double stresses[] = {63.7e6, 63.7e6, 63.7e6, 63.7e6, 63.7e6, 63.7e6,
                                  73.5e6, 73.5e6, 73.5e6, 73.5e6, 73.5e6, 73.5e6,
                                  83.4e6, 83.4e6, 83.4e6, 83.4e6, 83.4e6, 83.4e6};
static const double line_lives[] = {15010, 51490, 98360, 162170, 260470, 300000,
                                    1390,  7890,  19600, 39590,  77060,  179540,
                                    870,   2630,  4710,  7380,   11300,  19400};
static const int line_broke[] = {1, 1, 1, 1, 1, 0, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1};

static void test_line(void **unused)
{
    (void)unused;
    hf_life life;
    hf_message message;
    assert_int_equal(
        hf_life_line_fit(18, stresses, line_lives, line_broke, 1e6, 0.95, &life, &message), HF_OK);
    CHECK_CLOSE(life.parameters[0].value, 61.0722012441, 1e-9, 0, R_SURVREG);
    CHECK_CLOSE(life.parameters[1].value, 11.7485956327, 1e-9, 0, R_SURVREG);
    CHECK_CLOSE(life.parameters[2].value, 0.922395860959, 1e-9, 0, R_SURVREG);
    CHECK_CLOSE(life.parameters[0].standard_error, 11.403864121613, 1e-7, 0, R_SURVREG);
    CHECK_CLOSE(life.parameters[1].standard_error, 2.652431012858, 1e-7, 0, R_SURVREG);
    CHECK_CLOSE(life.parameters[2].standard_error, 0.173919230448, 1e-7, 0, R_SURVREG);
    CHECK_CLOSE(life.log_likelihood, -196.90547205787, 1e-11, 0, R_SURVREG);
    CHECK_CLOSE(life.aic, 399.810944116, 1e-10, 0, R_SURVREG);
    for (size_t j = 0; j < 3; j++) {
        const hf_life_parameter *p = &life.parameters[j];
        assert_true(p->interval.low < p->value && p->value < p->interval.high &&
                    p->interval.flags == 0);
    }
    /* Another reference moves the intercept along the line and nothing else. */
    hf_life moved;
    assert_int_equal(
        hf_life_line_fit(18, stresses, line_lives, line_broke, 7e7, 0.95, &moved, &message), HF_OK);
    CHECK_CLOSE(moved.parameters[0].value, 61.0722012441 - 11.7485956327 * log(70), 1e-8, 0,
                "the line");
    CHECK_CLOSE(moved.parameters[1].value, 11.7485956327, 1e-9, 0, R_SURVREG);
    CHECK_CLOSE(moved.parameters[1].interval.low, life.parameters[1].interval.low, 1e-7, 0,
                "same slope");
    CHECK_CLOSE(moved.log_likelihood, life.log_likelihood, 1e-12, 0, "same likelihood");
}

/* Gradient and Hessian against central differences, away from the maximum. */
static void test_derivatives(void **unused)
{
    (void)unused;
    double logs[18], x[36], theta[] = {10, 9, -0.2}, g[3], h[9], up[3], down[3];
    for (size_t i = 0; i < 18; i++) {
        logs[i] = log(line_lives[i]);
        x[2 * i] = 1;
        x[2 * i + 1] = -log(stresses[i] / 7e7);
    }
    const hfi_lives all = {18, 2, logs, line_broke, x, 17};
    hfi_life_likelihood(&all, theta, g, h);
    for (size_t j = 0; j < 3; j++) {
        const double step = 1e-5, kept = theta[j];
        theta[j] = kept + step;
        const double above = hfi_life_likelihood(&all, theta, up, NULL);
        theta[j] = kept - step;
        const double below = hfi_life_likelihood(&all, theta, down, NULL);
        theta[j] = kept;
        CHECK_CLOSE((above - below) / (2 * step), g[j], 1e-6, 1e-6,
                    "central difference, error of order step^2");
        for (size_t k = 0; k < 3; k++)
            CHECK_CLOSE((up[k] - down[k]) / (2 * step), h[j * 3 + k], 1e-6, 1e-6,
                        "central difference, error of order step^2");
    }
}

static void refuses(size_t n, const double *t, const int *d, const char *sentence)
{
    hf_life life;
    hf_message message;
    assert_int_equal(hf_life_fit(n, t, d, (double)NAN, 0.95, &life, &message), HF_EDATA);
    if (!strstr(message.text, sentence))
        print_error("%s\n", message.text);
    assert_non_null(strstr(message.text, sentence));
}

static void test_refusals(void **unused)
{
    (void)unused;
    const int none[] = {0, 0, 0}, all[] = {1, 1, 1}, first[] = {1, 0, 0};
    refuses(3, (const double[]){1, 2, 3}, none, "nothing broke among 3");
    refuses(3, (const double[]){1, -2, 3}, all, "row 2");
    refuses(3, (const double[]){1, (double)NAN, 3}, all, "row 2");
    refuses(3, (const double[]){5, 5, 5}, all, "all breaks are equal");
    hf_life life;
    hf_message message;
    /* One break before longer survivors is an estimate, if a poor one. */
    assert_int_equal(
        hf_life_fit(3, (const double[]){5, 8, 9}, first, (double)NAN, 0.95, &life, NULL), HF_OK);
    assert_true(life.parameters[0].value > 9 && life.parameters[1].interval.low >= 0);
    assert_int_equal(hf_life_line_fit(3, (const double[]){5e7, 5e7, 5e7}, (const double[]){1, 2, 3},
                                      all, 1e6, 0.95, &life, &message),
                     HF_EDATA);
    assert_non_null(strstr(message.text, "one stress"));
    assert_int_equal(hf_life_fit(3, lives, broke, -1, 0.95, &life, NULL), HF_EINVAL);
    assert_int_equal(hf_life_fit(3, lives, broke, (double)NAN, 1, &life, NULL), HF_EINVAL);
    /* Breaks on an exact line have no finite shape. */
    assert_int_equal(hf_life_line_fit(3, (const double[]){5e7, 6e7, 7e7}, (const double[]){4, 2, 1},
                                      all, 1e6, 0.95, &life, &message),
                     HF_OK);
    const double exact[] = {1 / (5e7 * 5e7), 1 / (6e7 * 6e7), 1 / (7e7 * 7e7)};
    assert_int_equal(hf_life_line_fit(3, (const double[]){5e7, 6e7, 7e7}, exact, all, 1e6, 0.95,
                                      &life, &message),
                     HF_ECONVERGE);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_weibull),     cmocka_unit_test(test_exponential),
        cmocka_unit_test(test_table),       cmocka_unit_test(test_line),
        cmocka_unit_test(test_derivatives), cmocka_unit_test(test_refusals),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
