/* Room strength, fatigue: the published table, its fits, and the laws of life and damage. */
#include "check.h"

#include <hairfibre/strength.h>

#define MPA   1e6
#define CELLS 18

/* evans-fatigue, Table 9, p. 278: humidity, middle of the stress cell (g/um2), life, shape. */
static const struct cell {
    double humidity, stress, life, shape;
} cells[CELLS] = {
    {0.20, 0.0125, 116000, 0.61}, {0.20, 0.0135, 36700, 0.69}, {0.20, 0.0145, 10300, 0.63},
    {0.20, 0.0155, 4820, 0.80},   {0.20, 0.0165, 2820, 0.59},  {0.60, 0.0095, 158000, 0.83},
    {0.60, 0.0105, 35800, 0.86},  {0.60, 0.0115, 18100, 0.79}, {0.60, 0.0125, 6030, 0.89},
    {0.60, 0.0135, 1970, 1.06},   {0.60, 0.0145, 1260, 1.07},  {0.90, 0.0065, 186000, 0.97},
    {0.90, 0.0075, 48000, 0.69},  {0.90, 0.0085, 8350, 1.08},  {0.90, 0.0095, 2550, 1.09},
    {0.90, 0.0105, 1100, 1.57},   {0.90, 0.0115, 815, 1.19},   {0.90, 0.0125, 548, 1.09},
};
static const double level_humidity[] = {0.20, 0.60, 0.90};

static double pascal(double g_per_um2)
{
    return g_per_um2 * 9806.65e6;
}

static double parameter(const char *name)
{
    double value = (double)NAN;
    assert_int_equal(hf_parameters_get(NULL, name, &value), HF_OK);
    return value;
}

/* Least squares of `rows` rows of `n` columns by the normal equations, in place; n <= 4. */
static void least_squares(int rows, int n, double (*x)[4], const double *y, double *b)
{
    double a[4][5];
    for (int i = 0; i < n; i++)
        for (int j = 0; j <= n; j++) {
            a[i][j] = 0;
            for (int r = 0; r < rows; r++)
                a[i][j] += x[r][i] * (j < n ? x[r][j] : y[r]);
        }
    for (int i = 0; i < n; i++)
        for (int k = 0; k < n; k++) {
            const double f = k == i ? 0 : a[k][i] / a[i][i];
            for (int j = i; k != i && j <= n; j++)
                a[k][j] -= f * a[i][j];
        }
    for (int i = 0; i < n; i++)
        b[i] = a[i][n] / a[i][i];
}

/* The joint law is the least-squares fit of ln life to the printed table. */
static void test_joint_fit(void **unused)
{
    (void)unused;
    double x[CELLS][4], y[CELLS], b[4];
    for (int i = 0; i < CELLS; i++) {
        const double h = cells[i].humidity;
        x[i][0] = 1;
        x[i][1] = -log(pascal(cells[i].stress) / MPA);
        x[i][2] = h;
        x[i][3] = h * h;
        y[i] = log(cells[i].life);
    }
    least_squares(CELLS, 4, x, y, b);
    CHECK_CLOSE(parameter("strength.fatigue.intercept"), b[0], 0, 5e-4, "three decimals");
    CHECK_CLOSE(parameter("strength.fatigue.exponent"), b[1], 0, 5e-4, "three decimals");
    CHECK_CLOSE(parameter("strength.fatigue.humidity"), b[2], 0, 5e-4, "three decimals");
    CHECK_CLOSE(parameter("strength.fatigue.humidity_squared"), b[3], 0, 5e-4, "three decimals");
    double squares = 0;
    int far = 0;
    for (int i = 0; i < CELLS; i++) {
        const double miss =
            log(hf_fatigue_life(pascal(cells[i].stress), cells[i].humidity, NULL) / cells[i].life);
        squares += miss * miss;
        far += fabs(miss) > log(1.5);
    }
    CHECK_CLOSE(sqrt(squares / CELLS), 0.36, 0, 0.005, "scatter stated beside the fit");
    assert_int_equal(far, 4); /* as the head comment of fatigue.c states */
}

static void test_level_fits(void **unused)
{
    (void)unused;
    static const char *const intercept[] = {"strength.fatigue_level.intercept_20",
                                            "strength.fatigue_level.intercept_60",
                                            "strength.fatigue_level.intercept_90"};
    static const char *const exponent[] = {"strength.fatigue_level.exponent_20",
                                           "strength.fatigue_level.exponent_60",
                                           "strength.fatigue_level.exponent_90"};
    for (int level = 0; level < 3; level++) {
        double x[CELLS][4], y[CELLS], b[4], shape = 0;
        int n = 0;
        for (int i = 0; i < CELLS; i++)
            if (cells[i].humidity == level_humidity[level]) {
                x[n][0] = 1;
                x[n][1] = -log(pascal(cells[i].stress) / MPA);
                y[n++] = log(cells[i].life);
                shape += cells[i].shape;
            }
        least_squares(n, 2, x, y, b);
        CHECK_CLOSE(parameter(intercept[level]), b[0], 0, 5e-5, "four decimals");
        CHECK_CLOSE(parameter(exponent[level]), b[1], 0, 5e-4, "three decimals");
        CHECK_CLOSE(hf_fatigue_shape(level_humidity[level], NULL), shape / n, 0, 0.005,
                    "mean of the cells, two decimals");
        /* Both laws pass through the same table: they agree in its middle within its scatter. */
        const double stress = pascal(cells[level == 0 ? 2 : level == 1 ? 8 : 14].stress);
        CHECK_CLOSE(log(hf_fatigue_life(stress, level_humidity[level], NULL)),
                    log(hf_fatigue_life_rival(stress, (hf_fatigue_level)level, NULL)), 0, 0.36,
                    "scatter of the joint fit");
    }
    CHECK_CLOSE(parameter(exponent[1]), 11.53, 0, 0.6, "exponent at 60 %");
}

static void test_humidity_ratio(void **unused)
{
    (void)unused;
    const double stress = pascal(0.0125);
    const double dry = hf_fatigue_life(stress, 0.20, NULL),
                 damp = hf_fatigue_life(stress, 0.90, NULL);
    /* 116000 over 548 is 212, each cell good to a factor 1.5. */
    assert_true(dry / damp > 212 / 1.5 && dry / damp < 212 * 1.5);
}

static void test_weibull_life(void **unused)
{
    (void)unused;
    CHECK_CLOSE(hf_weibull_failure(100, 35800, 0.86), 0.006342779678, 0, 1e-12, "worked out apart");
    CHECK_CLOSE(hf_weibull_failure(1000, 158000, 0.83), 0.014854867384, 0, 1e-12,
                "worked out apart");
    CHECK_CLOSE(hf_weibull_failure(3e5, 186000, 0.97), 0.79606165, 0, 5e-9, "worked out apart");
    CHECK_CLOSE(hf_weibull_cycles(0.5, 158000, 0.83), 101596.918, 0, 5e-4, "worked out apart");
    CHECK_CLOSE(hf_weibull_failure(158000, 158000, 0.83), 1 - exp(-1), 1e-15, 0,
                "63 % at the life");
    CHECK_CLOSE(hf_weibull_cycles(0, 158000, 0.83), 0, 0, 0, "none at the start");
    double y = -1;
    assert_int_equal(hf_weibull_cycles_e(1, 158000, 0.83, 1, &y), HF_ERANGE);
    assert_int_equal(hf_weibull_failure_e(-1, 158000, 0.83, 1, &y), HF_ERANGE);
    assert_int_equal(hf_weibull_failure_e(1, 0, 0.83, 1, &y), HF_ERANGE);
    assert_int_equal(hf_weibull_failure_e(1, 1, 0, 1, &y), HF_ERANGE);
    assert_int_equal(hf_weibull_failure_e(1, 1, 1, 1, NULL), HF_EINVAL);
    CHECK_CLOSE(y, -1, 0, 0, "untouched on failure");
}

static void test_miner(void **unused)
{
    (void)unused;
    static const double cycles[] = {5000, 1000, 300}, life[] = {35800, 6030, 1260};
    double sum = -1;
    size_t bad = 99;
    assert_int_equal(hf_miner_sum_e(3, cycles, life, &sum, &bad), HF_OK);
    CHECK_CLOSE(sum, 0.5435975218, 0, 1e-10,
                "lives of the table at 60 % humidity, worked out apart");
    assert_int_equal(hf_miner_sum_e(0, NULL, NULL, &sum, NULL), HF_OK);
    CHECK_CLOSE(sum, 0, 0, 0, "nothing done");
    assert_int_equal(hf_miner_sum_e(3, cycles, (double[]){1, 0, 1}, &sum, &bad), HF_ERANGE);
    assert_int_equal(bad, 1);
    assert_int_equal(hf_miner_sum_e(2, (double[]){1, (double)NAN}, life, &sum, &bad), HF_EINVAL);
    assert_int_equal(hf_miner_sum_e(2, (double[]){-1, 1}, life, &sum, &bad), HF_ERANGE);
    assert_int_equal(bad, 0);
    assert_int_equal(hf_miner_sum_e(2, NULL, life, &sum, &bad), HF_EINVAL);
    assert_int_equal(hf_miner_sum_e(2, cycles, life, NULL, &bad), HF_EINVAL);
    CHECK_CLOSE(sum, 0, 0, 0, "untouched on failure");
}

static void test_mixed(void **unused)
{
    (void)unused;
    const double cycles[] = {500, 300}, stress[] = {110 * MPA, 120 * MPA}, humidity[] = {0.6, 0.6};
    double used, survival;
    size_t bad = 99;
    assert_int_equal(
        hf_fatigue_mixed_e(1, cycles, stress, humidity, NULL, 0, &used, &survival, &bad), HF_OK);
    CHECK_CLOSE(used, hf_fatigue_used(500, 110 * MPA, 0.6, NULL), 1e-15, 0, "one block");
    CHECK_CLOSE(survival, hf_fatigue_survival(500, 110 * MPA, 0.6, NULL), 1e-14, 0, "one block");
    assert_int_equal(
        hf_fatigue_mixed_e(2, cycles, stress, humidity, NULL, 0, &used, &survival, &bad), HF_OK);
    CHECK_CLOSE(survival, hf_survival_of_used(used, 0.6, NULL), 1e-14, 0, "one humidity");
    CHECK_CLOSE(survival, 1 - hf_weibull_failure(used, 1, hf_fatigue_shape(0.6, NULL)), 1e-13, 0,
                "Weibull law of the damage sum");
    assert_int_equal(hf_fatigue_mixed_e(0, NULL, NULL, NULL, NULL, 0, &used, &survival, NULL),
                     HF_OK);
    assert_true(used == 0 && survival == 1);
    const double odd[] = {110 * MPA, 20 * MPA};
    used = survival = -1;
    assert_int_equal(hf_fatigue_mixed_e(2, cycles, odd, humidity, NULL, 0, &used, &survival, &bad),
                     HF_ERANGE);
    assert_int_equal(bad, 1);
    assert_true(used == -1 && survival == -1);
    assert_int_equal(hf_fatigue_mixed_e(2, cycles, odd, humidity, NULL, 1, &used, NULL, &bad),
                     HF_EXTRAPOLATED);
    assert_int_equal(hf_fatigue_mixed_e(2, cycles, stress, humidity, NULL, 1, NULL, NULL, &bad),
                     HF_EINVAL);
    assert_int_equal(hf_fatigue_mixed_e(2, NULL, stress, humidity, NULL, 1, &used, NULL, &bad),
                     HF_EINVAL);
}

static void test_refusals(void **unused)
{
    (void)unused;
    hf_parameters *bleached;
    assert_int_equal(hf_parameters_new(&bleached, "bleached"), HF_OK);
    double y = -1;
    const double s = 120 * MPA;
    assert_int_equal(hf_fatigue_life_e(s, 0.6, bleached, 1, &y), HF_ENOMODEL);
    assert_int_equal(hf_fatigue_life_rival_e(s, HF_FATIGUE_60, bleached, 1, &y), HF_ENOMODEL);
    assert_int_equal(hf_fatigue_shape_e(0.6, bleached, 1, &y), HF_ENOMODEL);
    assert_int_equal(hf_fatigue_survival_e(10, s, 0.6, bleached, 1, &y), HF_ENOMODEL);
    assert_int_equal(hf_fatigue_used_e(10, s, 0.6, bleached, 1, &y), HF_ENOMODEL);
    assert_int_equal(hf_survival_of_used_e(0.1, 0.6, bleached, 1, &y), HF_ENOMODEL);
    assert_int_equal(hf_fatigue_life_e(s, 1.1, NULL, 1, &y), HF_ERANGE);
    assert_int_equal(hf_fatigue_life_e(0, 0.6, NULL, 1, &y), HF_ERANGE);
    assert_int_equal(hf_fatigue_life_e(65 * MPA, 0.25, NULL, 0, &y), HF_ERANGE);
    assert_int_equal(hf_fatigue_life_rival_e(s, (hf_fatigue_level)3, NULL, 1, &y), HF_EINVAL);
    assert_int_equal(hf_fatigue_survival_e(-1, s, 0.6, NULL, 1, &y), HF_ERANGE);
    assert_int_equal(hf_fatigue_survival_e(4e5, s, 0.6, NULL, 0, &y), HF_ERANGE);
    assert_int_equal(hf_survival_of_used_e(-1, 0.6, NULL, 1, &y), HF_ERANGE);
    assert_int_equal(hf_fatigue_life_e(s, 0.6, NULL, 1, NULL), HF_EINVAL);
    CHECK_CLOSE(y, -1, 0, 0, "untouched on failure");
    /* Edges of the cells at each humidity; straight between them. */
    static const double edges[][3] = {
        {0.20, 0.012, 0.017}, {0.60, 0.009, 0.015}, {0.90, 0.006, 0.013}, {0.40, 0.0105, 0.016}};
    for (int i = 0; i < 4; i++) {
        const double h = edges[i][0], low = pascal(edges[i][1]), high = pascal(edges[i][2]);
        double life;
        assert_int_equal(hf_fatigue_life_e(low, h, NULL, 0, &life), HF_OK);
        assert_int_equal(hf_fatigue_life_e(high, h, NULL, 0, &life), HF_OK);
        assert_int_equal(hf_fatigue_life_e(0.999 * low, h, NULL, 0, &life), HF_ERANGE);
        assert_int_equal(hf_fatigue_life_e(1.001 * high, h, NULL, 0, &life), HF_ERANGE);
        assert_int_equal(hf_fatigue_life_e(1.001 * high, h, NULL, 1, &life), HF_EXTRAPOLATED);
    }
    assert_int_equal(hf_fatigue_life_rival_e(pascal(0.009), HF_FATIGUE_60, NULL, 0, &y), HF_OK);
    assert_int_equal(hf_fatigue_life_rival_e(pascal(0.0089), HF_FATIGUE_60, NULL, 0, &y),
                     HF_ERANGE);
    /* With constants of one's own the model is there again. */
    assert_int_equal(hf_parameters_set(bleached, "strength.fatigue.read", 1), HF_OK);
    assert_int_equal(hf_fatigue_life_e(s, 0.6, bleached, 0, &y), HF_OK);
    /* A shape that a user's slope carries below 0 is refused. */
    assert_int_equal(hf_parameters_set(bleached, "strength.fatigue_shape.at_20", 0.1), HF_OK);
    assert_int_equal(hf_fatigue_shape_e(0, bleached, 1, &y), HF_ERANGE);
    hf_parameters_free(bleached);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_joint_fit),      cmocka_unit_test(test_level_fits),
        cmocka_unit_test(test_humidity_ratio), cmocka_unit_test(test_weibull_life),
        cmocka_unit_test(test_miner),          cmocka_unit_test(test_mixed),
        cmocka_unit_test(test_refusals),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
