/* Draws, percentiles, propagation and rivals: against closed forms and published answers. */
#include "check.h"

#include "base/catalogue.h"
#include "inference/sampling.h"
#include "inference/stream.h"

#include <hairfibre/quantity.h>
#include <hairfibre/uncertainty.h>

#include <stdlib.h>
#include <string.h>

#define Z975 1.959963984540054 /* normal 97.5 % point */
#define LN10 2.302585092994046

/* ---- generator and distributions -------------------------------------------------------------- */

/* Known answers of Philox 4x32-10 from the files of its authors (random123, kat_vectors). */
static void test_stream(void **unused)
{
    (void)unused;
    static const struct {
        uint32_t counter[4], key[2], answer[4];
    } known[] = {
        {{0, 0, 0, 0}, {0, 0}, {0x6627e8d5, 0xe169c58d, 0xbc57ac4c, 0x9b00dbd8}},
        {{0xffffffff, 0xffffffff, 0xffffffff, 0xffffffff},
         {0xffffffff, 0xffffffff},
         {0x408f276d, 0x41c83b0e, 0xa20bc7c6, 0x6d5451fd}},
        {{0x243f6a88, 0x85a308d3, 0x13198a2e, 0x03707344},
         {0xa4093822, 0x299f31d0},
         {0xd16cfe09, 0x94fdcceb, 0x5001e420, 0x24126ea1}},
    };
    for (size_t i = 0; i < 3; i++) {
        uint32_t c[4];
        memcpy(c, known[i].counter, sizeof c);
        hfi_philox(c, known[i].key[0], known[i].key[1]);
        assert_memory_equal(c, known[i].answer, sizeof c);
    }
    /* Numbers of a stream are those of the counter, two to a block. */
    assert_true(hfi_stream_bits(0, 0, 0) == UINT64_C(0xe169c58d6627e8d5));
    assert_true(hfi_stream_bits(0, 0, 1) == UINT64_C(0x9b00dbd8bc57ac4c));
    double sum = 0, square = 0;
    for (uint64_t i = 0; i < 100000; i++) {
        const double u = hfi_stream_uniform(7, i / 10, i % 10);
        assert_true(u > 0 && u < 1);
        sum += u;
        square += u * u;
    }
    CHECK_CLOSE(sum / 1e5, 0.5, 0, 5 * 0.2887 / sqrt(1e5), "uniform: five standard errors");
    CHECK_CLOSE(square / 1e5, 1.0 / 3, 0, 5 * 0.298 / sqrt(1e5), "uniform: five standard errors");
}

static double quantile(hf_distribution distribution, double value, double spread, double low,
                       double high, double u)
{
    double x = (double)NAN;
    const hf_variate v = {"x", distribution, value, spread, low, high};
    assert_int_equal(hf_variate_quantile_e(&v, u, &x), HF_OK);
    return x;
}

static void test_distributions(void **unused)
{
    (void)unused;
    const double none = (double)INFINITY;
    CHECK_CLOSE(quantile(HF_NORMAL, 3, 2, -none, none, 0.975), 3 + 2 * Z975, 1e-14, 0,
                "normal table");
    CHECK_CLOSE(quantile(HF_LOGNORMAL, 3, 0.5, -none, none, 0.025), 3 * exp(-0.5 * Z975), 1e-14, 0,
                "the spread is that of the logarithm");
    CHECK_CLOSE(quantile(HF_UNIFORM, 3, 2, -none, none, 0.25), 2, 1e-15, 0, "half width 2");
    CHECK_CLOSE(quantile(HF_TRIANGULAR, 3, 2, -none, none, 0.125), 2, 1e-15, 0,
                "an eighth of the triangle lies below half way");
    CHECK_CLOSE(quantile(HF_TRIANGULAR, 3, 2, -none, none, 0.875), 4, 1e-15, 0, "likewise above");
    CHECK_CLOSE(quantile(HF_FIXED, 3, 2, -none, none, 0.9), 3, 0, 0, "fixed");
    CHECK_CLOSE(quantile(HF_NORMAL, 3, 0, -none, none, 0.9), 3, 0, 0, "no spread");
    /* Cut at the mean, the upper half remains: its median is the 75 % point of the whole. */
    CHECK_CLOSE(quantile(HF_NORMAL, 0, 1, 0, none, 0.5), 0.6744897501960817, 1e-13, 0,
                "normal table");
    CHECK_CLOSE(quantile(HF_UNIFORM, 3, 2, 2, 3, 0.5), 2.5, 1e-15, 0, "cut to 2 .. 3");
    CHECK_CLOSE(quantile(HF_TRIANGULAR, 3, 2, 3, 9, 0.75), 4, 1e-15, 0,
                "upper half of the triangle");
    for (double u = 0.001; u < 1; u += 0.037)
        assert_true(quantile(HF_LOGNORMAL, 3, 2, 1, 4, u) >= 1 &&
                    quantile(HF_LOGNORMAL, 3, 2, 1, 4, u) <= 4);
    double x = 77;
    const hf_variate bad[] = {
        {"x", HF_NORMAL, 1, -1, 0, 2},          {"x", HF_NORMAL, 1, 1, 2, 3},
        {"x", HF_LOGNORMAL, -1, 1, -2, 3},      {"x", HF_NORMAL, (double)NAN, 1, 0, 2},
        {"x", HF_NORMAL, 1, 1, 0, (double)NAN}, {"x", HF_UNIFORM, 1, 1, 1, 1},
    };
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++)
        assert_true(hf_failed(hf_variate_quantile_e(&bad[i], 0.5, &x)));
    assert_int_equal(hf_variate_quantile_e(&bad[0], 1, &x), HF_EINVAL);
    assert_true(x == 77);
}

/* A Sobol sequence of 2^k points puts one point into every interval of length 2^-k, shifted or not: the
 * counts in the 16 intervals of each axis are equal. */
static void test_design(void **unused)
{
    (void)unused;
    hfi_design design;
    double u[40];
    int count[40][16] = {{0}};
    assert_int_equal(hfi_design_open(&design, 40, HF_DRAW_SOBOL, 5, 8), HF_OK);
    for (int i = 0; i < 8 * 64; i++) {
        hfi_design_next(&design, u);
        for (int j = 0; j < 40; j++) {
            assert_true(u[j] > 0 && u[j] < 1);
            count[j][(int)(16 * u[j])]++;
        }
    }
    hfi_design_close(&design);
    for (int j = 0; j < 40; j++)
        for (int k = 0; k < 16; k++)
            CHECK_CLOSE(count[j][k], 32, 0, 8, "8 shifted sequences, each off by at most one");
    assert_int_equal(hfi_design_open(&design, 41, HF_DRAW_SOBOL, 5, 8), HF_OK);
    assert_int_equal(design.method, HF_DRAW_RANDOM);
    hfi_design_close(&design);
}

/* ---- percentiles --------------------------------------------------------------------------------- */

static void test_percentiles(void **unused)
{
    (void)unused;
    double x[1001];
    hf_percentiles p;
    for (int i = 0; i < 1001; i++)
        x[(i * 577) % 1001] = i;
    assert_int_equal(hf_percentiles_of(1001, x, 1, &p), HF_OK);
    CHECK_CLOSE(p.value[HF_P2_5], 25, 0, 1e-12, "linear interpolation");
    CHECK_CLOSE(p.value[HF_P25], 250, 0, 1e-12, "linear interpolation");
    CHECK_CLOSE(p.value[HF_P50], 500, 0, 1e-12, "linear interpolation");
    CHECK_CLOSE(p.value[HF_P97_5], 975, 0, 1e-12, "linear interpolation");
    CHECK_CLOSE(p.mean, 500, 1e-14, 0, "mean");
    CHECK_CLOSE(p.deviation, sqrt(1001.0 * 1002 / 12), 1e-13, 0, "of 0 .. 1000: n (n + 1)/12");
    x[0] = x[5] = (double)NAN;
    assert_int_equal(hf_percentiles_of(1001, x, 1, &p), HF_OK);
    assert_int_equal(p.missing, 2);
    assert_int_equal(p.n, 999);
    assert_int_equal(hf_percentiles_of(7, x, 1, &p), HF_EDATA);
    assert_int_equal(hf_percentiles_of(40, x, 8, &p), HF_EDATA);
    assert_int_equal(hf_percentiles_of(40, NULL, 1, &p), HF_EINVAL);
    /* Standard error of the median and of a quantile of a normal sample: sqrt(p (1 - p)/n)/density. */
    double normal[4000];
    for (uint64_t i = 0; i < 4000; i++)
        normal[i] = quantile(HF_NORMAL, 0, 1, -(double)INFINITY, (double)INFINITY,
                             hfi_stream_uniform(3, i, 0));
    for (size_t blocks = 1; blocks <= 20; blocks += 19) {
        assert_int_equal(hf_percentiles_of(4000, normal, blocks, &p), HF_OK);
        /* 19 degrees of freedom know a deviation to 1/sqrt(38); three of those. */
        const double known = 3 / sqrt(38);
        CHECK_CLOSE(p.error[HF_P50], sqrt(0.25 / 4000) / 0.39894, known, 0, "asymptotic theory");
        CHECK_CLOSE(p.error[HF_P97_5], sqrt(0.025 * 0.975 / 4000) / 0.05845, known, 0,
                    "asymptotic theory");
        CHECK_CLOSE(p.mean_error, 1 / sqrt(4000), known, 0, "asymptotic theory");
    }
    hf_share_interval share;
    /* Wilson's interval for 81 of 263, 15 of 148, 0 of 20 and 1 of 29 (newcombe1998, Table I). */
    static const struct {
        size_t events, n;
        double low, high;
    } table[] = {{81, 263, 0.255289, 0.366210},
                 {15, 148, 0.062386, 0.160487},
                 {0, 20, 0, 0.161125},
                 {1, 29, 0.006113, 0.171755}};
    for (size_t i = 0; i < 4; i++) {
        assert_int_equal(hf_share_of_draws_e(table[i].events, table[i].n, &share), HF_OK);
        CHECK_CLOSE(share.low, table[i].low, 0, 6e-7, "newcombe1998, Table I");
        CHECK_CLOSE(share.high, table[i].high, 0, 6e-7, "newcombe1998, Table I");
    }
    assert_int_equal(hf_share_of_draws_e(0, 0, &share), HF_EINVAL);
}

/* ---- propagation: closed forms --------------------------------------------------------------------- */

static hf_status linear(const double *x, const hf_parameters *set, unsigned flags, double *y)
{
    (void)set;
    (void)flags;
    *y = x[0] + 2 * x[1] - 3 * x[2];
    return HF_OK;
}

static hf_status product(const double *x, const hf_parameters *set, unsigned flags, double *y)
{
    (void)set;
    (void)flags;
    *y = x[0] * x[1] / (x[2] * x[2]);
    return HF_OK;
}

static hf_status positive(const double *x, const hf_parameters *set, unsigned flags, double *y)
{
    (void)set;
    (void)flags;
    if (x[0] < 0)
        return HF_ERANGE;
    *y = x[0];
    return x[0] > 3 ? HF_EXTRAPOLATED : HF_OK;
}

#define ARGUMENT(name)                                                                             \
    {                                                                                              \
        name, "1", "a number", HF_KIND_NUMBER, 1, -1e9, 1e9, -1e9, 1e9, NULL                       \
    }

static hf_quantity made(hf_status (*evaluate)(const double *, const hf_parameters *, unsigned,
                                              double *))
{
    return (hf_quantity){.name = "made",
                         .unit = "1",
                         .leaves_out = "",
                         .parameters = "",
                         .evaluate = evaluate,
                         .argument_count = 3,
                         .arguments = {ARGUMENT("a"), ARGUMENT("b"), ARGUMENT("c")}};
}

static const double no_limit = (double)NAN;

static const hf_spread normal_spreads[] = {{0, HF_NORMAL, 0.3, no_limit, no_limit},
                                           {1, HF_NORMAL, 0.2, no_limit, no_limit},
                                           {2, HF_NORMAL, 0.1, no_limit, no_limit}};
static const hf_spread log_spreads[] = {{0, HF_LOGNORMAL, 0.3, no_limit, no_limit},
                                        {1, HF_LOGNORMAL, 0.2, no_limit, no_limit},
                                        {2, HF_LOGNORMAL, 0.1, no_limit, no_limit}};

static hf_percentiles run(const hf_quantity *q, const double *arguments, const hf_parameters *set,
                          const hf_propagation_options *o, hf_propagation *report)
{
    hf_propagation own;
    hf_percentiles p;
    double *values = malloc(o->draws * sizeof *values);
    assert_non_null(values);
    assert_false(hf_failed(
        hf_propagate(q, arguments, set, HF_EXTRAPOLATE, o, values, report ? report : &own, NULL)));
    assert_int_equal(hf_percentiles_of(o->draws, values, report ? report->blocks : own.blocks, &p),
                     HF_OK);
    free(values);
    return p;
}

/* The closed form lies within five standard errors, and those are what 16384 random draws or fewer give at the
 * 97.5 % point of a normal distribution, 0.021 of its deviation, with half as much again to spare. */
static void check_percentiles(const hf_percentiles *p, const double want[HF_PERCENTILES],
                              double spread)
{
    for (int k = 0; k < HF_PERCENTILES; k++) {
        CHECK_CLOSE(p->value[k], want[k], 0, 5 * p->error[k], "closed form, five standard errors");
        assert_true(p->error[k] < 0.03 * spread);
    }
}

static void test_closed_forms(void **unused)
{
    (void)unused;
    static const double z[HF_PERCENTILES] = {-Z975, -0.6744897501960817, 0, 0.6744897501960817,
                                             Z975};
    const hf_quantity sum = made(linear), ratio = made(product);
    for (int method = 0; method < HF_DRAW_METHODS; method++) {
        hf_propagation_options o = {1 << 14, 11, (hf_draw_method)method, 1, normal_spreads, 3};
        double want[HF_PERCENTILES];
        hf_percentiles p = run(&sum, (double[]){1, 2, 3}, NULL, &o, NULL);
        const double deviation = sqrt(0.09 + 4 * 0.04 + 9 * 0.01);
        for (int k = 0; k < HF_PERCENTILES; k++)
            want[k] = 1 + 4 - 9 + z[k] * deviation;
        check_percentiles(&p, want, deviation);
        o.spreads = log_spreads;
        p = run(&ratio, (double[]){1, 2, 3}, NULL, &o, NULL);
        const double spread = sqrt(0.09 + 0.04 + 4 * 0.01);
        for (int k = 0; k < HF_PERCENTILES; k++)
            want[k] = 2.0 / 9 * exp(z[k] * spread);
        check_percentiles(&p, want, 2.0 / 9 * spread * 3);
        /* Mean and deviation of a lognormal. */
        CHECK_CLOSE(p.mean, 2.0 / 9 * exp(0.5 * spread * spread), 0, 5 * p.mean_error,
                    "closed form");
    }
}

/* The same on rows of the catalogue: a rate with a lognormal factor and a normal energy. */
static void test_rate(void **unused)
{
    (void)unused;
    const hf_quantity *q = hf_quantity_find("tryptophan_rate");
    const double temperature = 400, reference = hfi_shipped_values[HFI_RATE_TRYPTOPHAN_TEMPERATURE];
    const double by_energy = hfi_catalogue[HFI_RATE_TRYPTOPHAN_ENERGY].spread / 8.31446261815324 *
                             (1 / temperature - 1 / reference);
    const double by_rate = hfi_catalogue[HFI_RATE_TRYPTOPHAN_RATE].spread;
    const double spread = sqrt(by_energy * by_energy + by_rate * by_rate);
    const hf_propagation_options o = {1 << 13, 3, HF_DRAW_SOBOL, 1, NULL, 0};
    hf_propagation report;
    const hf_percentiles p = run(q, &temperature, NULL, &o, &report);
    const double want[HF_PERCENTILES] = {
        report.value * exp(-Z975 * spread), report.value * exp(-0.6744897501960817 * spread),
        report.value, report.value * exp(0.6744897501960817 * spread),
        report.value * exp(Z975 * spread)};
    check_percentiles(&p, want, report.value * spread * 3);
    assert_int_equal(report.inputs, 2);
    assert_int_equal(report.failures, 0);
    assert_int_equal(report.extrapolated, o.draws); /* 127 degC lies below the evidence */
}

/* A new observation falls into the 95 % interval 95 times in 100. */
static void test_coverage(void **unused)
{
    (void)unused;
    const hf_quantity q = made(product);
    const hf_propagation_options o = {4096, 21, HF_DRAW_SOBOL, 1, log_spreads, 3};
    const hf_propagation_options fresh = {20000, 99, HF_DRAW_RANDOM, 1, log_spreads, 3};
    const double at[] = {1, 2, 3};
    const hf_percentiles p = run(&q, at, NULL, &o, NULL);
    hf_propagation report;
    double *values = malloc(fresh.draws * sizeof *values);
    assert_non_null(values);
    assert_int_equal(hf_propagate(&q, at, NULL, 0, &fresh, values, &report, NULL), HF_OK);
    int wide = 0, middle = 0;
    for (size_t i = 0; i < fresh.draws; i++) {
        wide += values[i] >= p.value[HF_P2_5] && values[i] <= p.value[HF_P97_5];
        middle += values[i] >= p.value[HF_P25] && values[i] <= p.value[HF_P75];
    }
    free(values);
    CHECK_CLOSE(wide / 20000.0, 0.95, 0, 4 * sqrt(0.95 * 0.05 / 20000),
                "binomial, four deviations");
    CHECK_CLOSE(middle / 20000.0, 0.5, 0, 4 * sqrt(0.25 / 20000), "binomial, four deviations");
}

/* The stated sampling errors hold: over many seeds the true percentile lies within them as often as it
 * should (t with 7 degrees of freedom for 8 blocks, normal for one). */
static void test_sampling_error(void **unused)
{
    (void)unused;
    const hf_quantity q = made(linear);
    const double deviation = sqrt(0.09 + 0.16 + 0.09);
    for (int method = 0; method < HF_DRAW_METHODS; method++) {
        const double reach = method == HF_DRAW_SOBOL ? 2.3646242515927844 : Z975;
        int median = 0, high = 0;
        for (uint64_t seed = 1; seed <= 400; seed++) {
            const hf_propagation_options o = {2048, seed,           (hf_draw_method)method,
                                              1,    normal_spreads, 3};
            const hf_percentiles p = run(&q, (double[]){1, 2, 3}, NULL, &o, NULL);
            median += fabs(p.value[HF_P50] + 4) <= reach * p.error[HF_P50];
            high += fabs(p.value[HF_P97_5] + 4 - Z975 * deviation) <= reach * p.error[HF_P97_5];
        }
        const double four = 4 * sqrt(0.95 * 0.05 / 400);
        CHECK_CLOSE(median / 400.0, 0.95, 0, four, "binomial, four deviations");
        CHECK_CLOSE(high / 400.0, 0.95, 0, four, "binomial, four deviations");
    }
}

/* Slope of log error against log draws of the mean of a smooth answer, exact mean known. */
static double convergence(hf_draw_method method)
{
    const hf_quantity q = made(product);
    const hf_spread spreads[] = {{0, HF_UNIFORM, 0.5, no_limit, no_limit},
                                 {1, HF_UNIFORM, 0.5, no_limit, no_limit},
                                 {2, HF_UNIFORM, 0.5, no_limit, no_limit}};
    /* Mean of 1/c^2 over 1.5 .. 2.5 is 1/1.5 - 1/2.5. */
    const double exact = 1 / 1.5 - 1 / 2.5;
    double error[2] = {0, 0};
    for (int big = 0; big < 2; big++)
        for (uint64_t seed = 1; seed <= 24; seed++) {
            const hf_propagation_options o = {big ? 16384 : 256, seed, method, 1, spreads, 3};
            const hf_percentiles p = run(&q, (double[]){1, 1, 2}, NULL, &o, NULL);
            error[big] += (p.mean - exact) * (p.mean - exact);
        }
    return 0.5 * log(error[1] / error[0]) / log(64);
}

static void test_convergence(void **unused)
{
    (void)unused;
    /* 24 errors know their root mean square to 1/sqrt(48) = 0.14: the slope over a factor of 64 to 0.05. */
    CHECK_CLOSE(convergence(HF_DRAW_SOBOL), -1, 0, 0.15, "error of a shifted net near 1/N");
    CHECK_CLOSE(convergence(HF_DRAW_RANDOM), -0.5, 0, 0.15, "error of random draws 1/sqrt(N)");
}

static void test_failures_are_counted(void **unused)
{
    (void)unused;
    const hf_quantity q = made(positive);
    const hf_spread spread = {0, HF_NORMAL, 1, no_limit, no_limit};
    const hf_propagation_options o = {8192, 5, HF_DRAW_SOBOL, 1, &spread, 1};
    hf_propagation report;
    double *values = malloc(o.draws * sizeof *values);
    assert_non_null(values);
    assert_int_equal(hf_propagate(&q, (double[]){1, 0, 0}, NULL, 0, &o, values, &report, NULL),
                     HF_OK);
    /* Normal tails beyond one and two deviations. */
    CHECK_CLOSE((double)report.failures / 8192, 0.158655, 0, 0.003,
                "normal table; net of 8192 points");
    CHECK_CLOSE((double)report.extrapolated / 8192, 0.022750, 0, 0.002, "normal table");
    size_t nan = 0;
    for (size_t i = 0; i < o.draws; i++)
        nan += isnan(values[i]) != 0;
    assert_int_equal(nan, report.failures);
    free(values);
}

/* ---- rows that are tied ------------------------------------------------------------------------------ */

static void test_wetting_heat_stays(void **unused)
{
    (void)unused;
    const hf_quantity *q = hf_quantity_find("wetting_heat");
    hf_parameters *set;
    assert_int_equal(hf_parameters_new(&set, NULL), HF_OK);
    /* Rows set by the user are exact: only the enthalpies move. */
    const char *fixed[] = {"sorption.scale", "sorption.absorption.monolayer",
                           "sorption.absorption.c", "sorption.absorption.k"};
    for (size_t i = 0; i < 4; i++) {
        double value;
        assert_int_equal(hf_parameters_get(set, fixed[i], &value), HF_OK);
        assert_int_equal(hf_parameters_set(set, fixed[i], value), HF_OK);
    }
    const hf_propagation_options o = {512, 5, HF_DRAW_SOBOL, 1, NULL, 0};
    hf_percentiles p = run(q, (double[]){0, 298.15, 0}, set, &o, NULL);
    CHECK_CLOSE(p.value[HF_P50], 113e3, 0, 0.5e3, "mortonhearle2008, Table 8.1: 113 J/g");
    CHECK_CLOSE(p.value[HF_P97_5], p.value[HF_P2_5], 1e-12, 0, "kept by the tie");
    /* Part of the way, where the heat is not tied, it moves. */
    p = run(q, (double[]){0.1, 298.15, 0}, set, &o, NULL);
    assert_true(p.value[HF_P97_5] - p.value[HF_P2_5] > 0.01 * p.value[HF_P50]);
    hf_parameters_free(set);
}

static void test_rate_at_the_anchor(void **unused)
{
    (void)unused;
    const hf_quantity *q = hf_quantity_find("helix_rate_wet");
    const double by_frequency = LN10 * hfi_catalogue[HFI_RATE_HELIX_WET_LOG10_FREQUENCY].spread;
    const double energy = hfi_catalogue[HFI_RATE_HELIX_WET_ENERGY].spread / 8.31446261815324;
    const hf_propagation_options o = {1 << 13, 3, HF_DRAW_SOBOL, 1, NULL, 0};
    for (double T = 414.45; T < 440; T += 12) {
        hf_propagation report;
        const hf_percentiles p = run(q, &T, NULL, &o, &report);
        const double by_energy = energy * (1 / T - 1 / 414.45);
        const double spread = sqrt(by_frequency * by_frequency + by_energy * by_energy);
        CHECK_CLOSE(p.value[HF_P97_5], report.value * exp(Z975 * spread), 0, 5 * p.error[HF_P97_5],
                    "the energy turns the rate about the temperature of its peak");
        CHECK_CLOSE(p.value[HF_P2_5], report.value * exp(-Z975 * spread), 0, 5 * p.error[HF_P2_5],
                    "the energy turns the rate about the temperature of its peak");
    }
}

/* ---- rivals ---------------------------------------------------------------------------------------------- */

static void test_rivals_table(void **unused)
{
    (void)unused;
    size_t count = 0;
    const hf_quantity *q;
    for (size_t i = 0; (q = hf_quantity_at(i)) != NULL; i++) {
        const hf_rival *r;
        for (size_t k = 0; (r = hf_rival_at(q, k)) != NULL; k++, count++) {
            assert_string_equal(r->of, q->name);
            assert_non_null(hf_quantity_find(r->quantity));
            assert_non_null(hf_source_find(r->source));
            assert_true(r->text[0] != '\0' && r->change_count <= HF_RIVAL_CHANGES_MAX);
            for (size_t c = 0; c < r->change_count; c++) {
                size_t row;
                assert_int_equal(hf_parameter_find(r->change[c].parameter, &row), HF_OK);
                assert_true(r->change[c].value >= hf_parameter_at(row)->low &&
                            r->change[c].value <= hf_parameter_at(row)->high);
            }
        }
    }
    assert_true(count > 20);
    assert_null(hf_rival_at(NULL, 0));
    assert_null(hf_rival_at(hf_quantity_find("moisture_content"), 0));
}

static void test_rivals_answer(void **unused)
{
    (void)unused;
    const hf_quantity *q = hf_quantity_find("helix_rate");
    const double at[] = {473.15, 0.02};
    double y, wet, dry;
    size_t n = 0;
    for (const hf_rival *r; (r = hf_rival_at(q, n)) != NULL; n++) {
        assert_false(hf_failed(hf_rival_evaluate(r, q, at, NULL, HF_EXTRAPOLATE, &y, NULL)));
        if (strcmp(r->quantity, "helix_rate_ironing") == 0)
            CHECK_CLOSE(y, 5.13e-4, 1e-12, 0, "thermochimica2018: its own number at 200 degC");
    }
    assert_int_equal(n, 4);
    q = hf_quantity_find("regain");
    const double damp[] = {0.65, 298.15, 0};
    assert_int_equal(hf_quantity_evaluate(q, damp, NULL, 0, &dry, NULL), HF_OK);
    hf_message why;
    assert_int_equal(hf_rival_evaluate(hf_rival_at(q, 0), q, damp, NULL, 0, &wet, &why), HF_EDATA);
    assert_non_null(strstr(why.text, "the same here"));
    assert_int_equal(hf_rival_evaluate(hf_rival_at(q, 1), q, damp, NULL, 0, &wet, NULL), HF_OK);
    assert_true(wet > dry + 0.01); /* hysteresis, 1.8 points (crawford1981) */
    /* Readings on virgin hair say nothing of another set. */
    hf_parameters *wool;
    assert_int_equal(hf_parameters_new(&wool, "wool"), HF_OK);
    assert_int_equal(hf_rival_evaluate(hf_rival_at(q, 2), q, damp, wool, 0, &wet, &why), HF_EDATA);
    assert_non_null(strstr(why.text, "virgin"));
    hf_parameters_free(wool);
    assert_int_equal(hf_rival_evaluate(NULL, q, damp, NULL, 0, &wet, NULL), HF_EINVAL);
}

/* ---- refusals -------------------------------------------------------------------------------------------- */

static void test_refusals(void **unused)
{
    (void)unused;
    const hf_quantity q = made(linear);
    const double at[] = {1, 2, 3};
    double values[64];
    hf_propagation report;
    hf_message why;
    hf_propagation_options o = {64, 1, HF_DRAW_SOBOL, 1, normal_spreads, 3};
    assert_int_equal(hf_propagate(&q, at, NULL, 0, &o, NULL, &report, NULL), HF_EINVAL);
    assert_int_equal(hf_propagate(NULL, at, NULL, 0, &o, values, &report, &why), HF_EINVAL);
    o.draws = 4;
    assert_int_equal(hf_propagate(&q, at, NULL, 0, &o, values, &report, &why), HF_ERANGE);
    assert_non_null(strstr(why.text, "draws = 4"));
    o.draws = 64;
    const hf_spread twice[] = {{1, HF_NORMAL, 1, no_limit, no_limit},
                               {1, HF_NORMAL, 1, no_limit, no_limit}};
    o.spreads = twice;
    o.spread_count = 2;
    assert_int_equal(hf_propagate(&q, at, NULL, 0, &o, values, &report, &why), HF_EINVAL);
    assert_non_null(strstr(why.text, "b has two spreads"));
    const hf_spread none = {7, HF_NORMAL, 1, no_limit, no_limit};
    o.spreads = &none;
    o.spread_count = 1;
    assert_int_equal(hf_propagate(&q, at, NULL, 0, &o, values, &report, &why), HF_EINVAL);
    const hf_spread negative = {0, HF_NORMAL, -1, no_limit, no_limit};
    o.spreads = &negative;
    assert_int_equal(hf_propagate(&q, at, NULL, 0, &o, values, &report, &why), HF_ERANGE);
    assert_non_null(strstr(why.text, "the spread of a must not be negative"));
    const hf_quantity *unknown = hf_quantity_find("hygral_fatigue");
    assert_int_equal(hf_propagate(unknown, NULL, NULL, 0, NULL, values, &report, &why),
                     HF_ENOMODEL);
    const hf_quantity *regain = hf_quantity_find("regain");
    const hf_spread branch = {2, HF_NORMAL, 1, no_limit, no_limit};
    o.spreads = &branch;
    assert_int_equal(
        hf_propagate(regain, (double[]){0.5, 293.15, 0}, NULL, 0, &o, values, &report, &why),
        HF_EINVAL);
    assert_non_null(strstr(why.text, "choice"));
}

static void test_same_seed(void **unused)
{
    (void)unused;
    const hf_quantity *q = hf_quantity_find("regain");
    const double at[] = {0.65, 293.15, 0};
    double a[1024], b[1024];
    hf_propagation report;
    hf_propagation_options o = HF_PROPAGATION_OPTIONS_INIT;
    assert_int_equal(hf_propagate(q, at, NULL, 0, &o, a, &report, NULL), HF_OK);
    assert_int_equal(hf_propagate(q, at, NULL, 0, NULL, b, &report, NULL), HF_OK);
    assert_memory_equal(a, b, sizeof a);
    o.seed = 2;
    assert_int_equal(hf_propagate(q, at, NULL, 0, &o, b, &report, NULL), HF_OK);
    assert_memory_not_equal(a, b, sizeof a);
    /* 8 % of scatter between the sources carry nearly all of it: 13.9 % +- 8 %. */
    hf_percentiles p;
    assert_int_equal(hf_percentiles_of(1024, a, report.blocks, &p), HF_OK);
    CHECK_CLOSE(0.5 * (p.value[HF_P97_5] - p.value[HF_P2_5]) / p.value[HF_P50], Z975 * 0.08, 0.1, 0,
                "spread of sorption.scale; the other rows add less than a tenth");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_stream),
        cmocka_unit_test(test_distributions),
        cmocka_unit_test(test_design),
        cmocka_unit_test(test_percentiles),
        cmocka_unit_test(test_closed_forms),
        cmocka_unit_test(test_rate),
        cmocka_unit_test(test_coverage),
        cmocka_unit_test(test_sampling_error),
        cmocka_unit_test(test_convergence),
        cmocka_unit_test(test_failures_are_counted),
        cmocka_unit_test(test_wetting_heat_stays),
        cmocka_unit_test(test_rate_at_the_anchor),
        cmocka_unit_test(test_rivals_table),
        cmocka_unit_test(test_rivals_answer),
        cmocka_unit_test(test_refusals),
        cmocka_unit_test(test_same_seed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
