/*
 * Statistics against printed tables. Sources: newcombe1998 (Table I, values from memory, recomputed),
 * gavazzonidias2014 (limits in print), r-docs-fisher, oeis-a226330, york-wilcoxon, statsmodels-kappa
 * (a printout of another program, read in its tests); "R" is R 4.2.2, key r-4.2.2: an independent
 * program, computed for this purpose.
 */
#include "check.h"

#include <hairfibre/statistics.h>

#define HALF(decimals) (0.5 * pow(10, -(decimals)) * 1.0000001)

static hf_share share_of(long events, long strands, hf_share_method method)
{
    hf_share s;
    assert_int_equal(hf_binomial_interval_e(events, strands, method, 0.95, &s), HF_OK);
    return s;
}

static void test_interval_tables(void **unused)
{
    (void)unused;
    /* events, strands, Clopper-Pearson, Wilson. R binom.test and the score formula; the first four are
     * Table I of newcombe1998 (4 decimals there). */
    static const struct {
        long x, n;
        double low, high, score_low, score_high;
    } rows[] = {
        {81, 263, .252737, .367622, .255289, .366210},
        {15, 148, .057844, .161650, .062386, .160487},
        {0, 20, 0, .168433, 0, .161125},
        {1, 29, .000873, .177644, .006113, .171755},
        {0, 10, 0, .308497, 0, .277533},
        {1, 10, .002529, .445016, .017876, .404150},
        {5, 10, .187086, .812914, .236593, .763407},
        {3, 8, .085233, .755137, .136844, .694258},
        {7, 30, .099338, .422837, .117924, .409283},
        {23, 60, .260707, .517885, .270883, .509824},
        {0, 30, 0, .115703, 0, .113513},
        {2, 20, .012349, .316983, .027866, .301034},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const hf_share exact = share_of(rows[i].x, rows[i].n, HF_CLOPPER_PEARSON);
        const hf_share score = share_of(rows[i].x, rows[i].n, HF_WILSON);
        CHECK_CLOSE(exact.low, rows[i].low, 0, HALF(6), "R binom.test, 6 decimals");
        CHECK_CLOSE(exact.high, rows[i].high, 0, HALF(6), "R binom.test, 6 decimals");
        CHECK_CLOSE(score.low, rows[i].score_low, 0, HALF(6), "score formula in R, 6 decimals");
        CHECK_CLOSE(score.high, rows[i].score_high, 0, HALF(6), "score formula in R, 6 decimals");
        CHECK_CLOSE(exact.share, (double)rows[i].x / (double)rows[i].n, 1e-15, 0, "a quotient");
    }
}

static void test_published_mid_p(void **unused)
{
    (void)unused;
    /* gavazzonidias2014 prints these limits, in percent, for its counts of shampoos; they are mid-P. */
    static const struct {
        long x, n;
        double low, high;
    } rows[] = {
        {47, 123, 29.9, 47.0}, {5, 26, 7.4, 37.6}, {8, 19, 21.8, 64.6}, {33, 96, 25.4, 44.3}};
    static const double digits[][2] = {
        {.2994, .4703}, {.0741, .3760}, {.2183, .6463}, {.2540, .4428}}; /* R, mid-P solved for */
    int off = 0;
    for (size_t i = 0; i < 4; i++) {
        const hf_share half = share_of(rows[i].x, rows[i].n, HF_MID_P);
        const hf_share exact = share_of(rows[i].x, rows[i].n, HF_CLOPPER_PEARSON);
        CHECK_CLOSE(100 * half.low, rows[i].low, 0, HALF(1), "gavazzonidias2014, 1 decimal");
        CHECK_CLOSE(100 * half.high, rows[i].high, 0, HALF(1), "gavazzonidias2014, 1 decimal");
        CHECK_CLOSE(half.low, digits[i][0], 0, HALF(4), "mid-P in R, 4 decimals");
        CHECK_CLOSE(half.high, digits[i][1], 0, HALF(4), "mid-P in R, 4 decimals");
        off += fabs(100 * exact.low - rows[i].low) > 0.05;
    }
    assert_true(off > 0); /* and they are not Clopper-Pearson */
    const hf_share exact = share_of(47, 123, HF_CLOPPER_PEARSON);
    CHECK_CLOSE(exact.low, .2960, 0, HALF(4), "R binom.test, 4 decimals");
    CHECK_CLOSE(exact.high, .4741, 0, HALF(4), "R binom.test, 4 decimals");
}

static void test_all_of_few(void **unused)
{
    (void)unused;
    /* Lower limits when all n show it, in whole percent: (0.025)^(1/n). */
    static const long n[] = {3, 5, 10, 20, 30, 60};
    static const double percent[] = {29, 48, 69, 83, 88, 94};
    for (int i = 0; i < 6; i++) {
        const hf_share s = share_of(n[i], n[i], HF_CLOPPER_PEARSON);
        CHECK_CLOSE(100 * s.low, percent[i], 0, 0.5, "closed form, whole percent");
        assert_true(s.high >= 1);
        long needed;
        assert_int_equal(hf_limit_strands_e(s.low, 0.95, &needed), HF_OK);
        assert_int_equal(needed, n[i]);
        assert_int_equal(hf_limit_strands_e(s.low + 1e-6, 0.95, &needed), HF_OK);
        assert_int_equal(needed, n[i] + 1);
    }
    /* Rule of three: 1 - 0.05^(1/n), 6 decimals, beside 3/n. */
    static const struct {
        long n;
        double exact, rule;
    } rows[] = {{5, .450720, .6},  {10, .258866, .3},   {20, .139108, .15},
                {30, .095034, .1}, {100, .029513, .03}, {300, .009936, .01}};
    for (int i = 0; i < 6; i++) {
        hf_zero_events z;
        assert_int_equal(hf_rule_of_three_e(rows[i].n, &z), HF_OK);
        CHECK_CLOSE(z.exact, rows[i].exact, 0, HALF(6), "1 - 0.05^(1/n), 6 decimals");
        CHECK_CLOSE(z.rule, rows[i].rule, 1e-15, 0, "3/n");
    }
}

static void check_fisher(hf_table t, double two_sided, double odds)
{
    hf_fisher f;
    assert_int_equal(hf_fisher_exact_e(&t, 0.95, &f), HF_OK);
    CHECK_CLOSE(f.two_sided, two_sided, 1e-6, 0, "R fisher.test, 7 digits");
    if (odds > 0) /* R stops its search for the odds ratio at 1e-4 */
        CHECK_CLOSE(f.odds_ratio, odds, 1e-4, 0, "R fisher.test, its own tolerance");
}

static void test_fisher_tables(void **unused)
{
    (void)unused;
    hf_fisher f;
    const hf_table tea = {3, 1, 1, 3};
    assert_int_equal(hf_fisher_exact_e(&tea, 0.95, &f), HF_OK);
    CHECK_CLOSE(f.greater, 0.2429, 0, HALF(4), "r-docs-fisher prints 0.2429");
    CHECK_CLOSE(f.greater, 17.0 / 70, 1e-14, 0, "16 + 1 of the 70 ways to pick four cups");
    CHECK_CLOSE(f.two_sided, 34.0 / 70, 1e-14, 0, "both ends of the same");
    /* The mean 3 under weights 1, 16, 36, 16, 1 times w^i: w^4 - 36 w^2 - 32 w - 3 = 0. */
    const double w = f.odds_ratio;
    CHECK_CLOSE(w * w * w * w - 36 * w * w - 32 * w, 3, 0, 1e-9, "polynomial of the estimate");
    CHECK_CLOSE(w, 6.408309, 1e-4, 0, "R fisher.test, its own tolerance");
    check_fisher((hf_table){4, 0, 0, 4}, 2.0 / 70, 0);
    check_fisher((hf_table){2, 10, 15, 3}, .0005367241, .04693661); /* twins */
    check_fisher((hf_table){8, 2, 1, 5}, .03496503, 0);
    check_fisher((hf_table){1, 9, 11, 3}, .002759456, 0);
}

static void test_mcnemar_tables(void **unused)
{
    (void)unused;
    static const struct {
        long b, c;
        double chi, corrected;
    } large[] = {{86, 150, 17.355932, 16.817797}, {59, 121, 21.355556, 20.672222}};
    hf_mcnemar m;
    for (int i = 0; i < 2; i++) {
        assert_int_equal(hf_mcnemar_e(large[i].b, large[i].c, &m), HF_OK);
        CHECK_CLOSE(m.chi_squared, large[i].chi, 0, HALF(6), "R mcnemar.test, 6 decimals");
        CHECK_CLOSE(m.corrected, large[i].corrected, 0, HALF(6), "R mcnemar.test, 6 decimals");
    }
    assert_int_equal(hf_mcnemar_e(86, 150, &m), HF_OK);
    CHECK_CLOSE(m.p, 3.0993e-5, 0, 0.5e-9, "R mcnemar.test, 5 digits");
    CHECK_CLOSE(m.p_corrected, 4.1146e-5, 0, 0.5e-9, "R mcnemar.test, 5 digits");
    CHECK_CLOSE(m.exact, 3.7159e-5, 0, 0.5e-9, "R binom.test, 5 digits");
    static const struct {
        long b, c;
        double exact;
    } small[] = {{0, 5, .0625}, {0, 6, .03125}, {1, 7, .0703125}, {1, 9, .021484375}};
    for (int i = 0; i < 4; i++) {
        assert_int_equal(hf_mcnemar_e(small[i].b, small[i].c, &m), HF_OK);
        CHECK_CLOSE(m.exact, small[i].exact, 1e-14, 0, "a count over a power of two");
    }
    assert_int_equal(hf_mcnemar_e(2, 10, &m), HF_OK);
    CHECK_CLOSE(m.exact, 158.0 / 4096, 1e-14, 0, "2 (1 + 12 + 66)/2^12 = 0.03857422");
}

static void test_strata_tables(void **unused)
{
    (void)unused;
    /* Admissions of six departments (R data UCBAdmissions): men admitted, rejected, women the same. */
    static const hf_table admissions[] = {{512, 313, 89, 19},   {353, 207, 17, 8},
                                          {120, 205, 202, 391}, {138, 279, 131, 244},
                                          {53, 138, 94, 299},   {22, 351, 24, 317}};
    hf_stratified s;
    assert_int_equal(hf_mantel_haenszel_e(6, admissions, 0.95, &s), HF_OK);
    CHECK_CLOSE(s.chi_squared, 1.524606660443436, 1e-12, 0, "R mantelhaen.test");
    CHECK_CLOSE(s.p, 0.216923697055518, 1e-10, 0, "R mantelhaen.test");
    CHECK_CLOSE(s.corrected, 1.426946228586688, 1e-12, 0, "R mantelhaen.test");
    CHECK_CLOSE(s.p_corrected, 0.232263462817048, 1e-10, 0, "R mantelhaen.test");
    CHECK_CLOSE(s.odds_ratio, 0.904696828258623, 1e-12, 0, "R mantelhaen.test");
    CHECK_CLOSE(s.low, 0.771907361759350, 1e-10, 0, "R mantelhaen.test");
    CHECK_CLOSE(s.high, 1.060329764436656, 1e-10, 0, "R mantelhaen.test");
    /* Penicillin and rabbits at five doses: two doses carry no information. */
    static const hf_table rabbits[] = {
        {0, 6, 0, 5}, {3, 3, 0, 6}, {6, 0, 2, 4}, {5, 1, 6, 0}, {2, 0, 5, 0}};
    assert_int_equal(hf_mantel_haenszel_e(5, rabbits, 0.95, &s), HF_OK);
    CHECK_CLOSE(s.corrected, 3.9285714285714288, 1e-12, 0, "R mantelhaen.test");
    CHECK_CLOSE(s.odds_ratio, 7, 1e-12, 0, "R mantelhaen.test");
    CHECK_CLOSE(s.low, 1.0267126884616680, 1e-10, 0, "R mantelhaen.test");
    CHECK_CLOSE(s.high, 47.7251333802225659, 1e-10, 0, "R mantelhaen.test");
    CHECK_CLOSE(s.two_sided, 0.0399449035812672, 1e-10, 0, "R mantelhaen.test, exact");
    CHECK_CLOSE(s.greater, 0.0199724517906336, 1e-10, 0, "R mantelhaen.test, exact");
    assert_int_equal(s.informative, 3);
}

static void test_signed_rank_tables(void **unused)
{
    (void)unused;
    /* Two-sided 0.05, n = 6 .. 25: oeis-a226330; york-wilcoxon agrees. */
    static const long two[] = {0,  2,  3,  5,  8,  10, 13, 17, 21, 25,
                               29, 34, 40, 46, 52, 58, 65, 73, 81, 89};
    /* One-sided 0.05, n = 5 .. 20: R qsignrank; york-wilcoxon misses n = 5, 11, 14 and 16. */
    static const long one[] = {0, 2, 3, 5, 8, 10, 13, 17, 21, 25, 30, 35, 41, 47, 53, 60};
    long c = -7;
    for (long n = 6; n <= 25; n++) {
        assert_int_equal(hf_signed_rank_critical_e(n, 0.05, 2, &c), HF_OK);
        assert_int_equal(c, two[n - 6]);
    }
    for (long n = 5; n <= 20; n++) {
        assert_int_equal(hf_signed_rank_critical_e(n, 0.05, 1, &c), HF_OK);
        assert_int_equal(c, one[n - 5]);
    }
    c = -7;
    for (long n = 1; n <= 5; n++) /* five pairs never reach two-sided 0.05: 2/32 */
        assert_int_equal(hf_signed_rank_critical_e(n, 0.05, 2, &c), HF_EDATA);
    assert_int_equal(c, -7);
    /* Depression scale factors of nine patients (example in R's wilcox.test). */
    static const double x[] = {1.83, 0.50, 1.62, 2.48, 1.68, 1.88, 1.55, 3.06, 1.30};
    static const double y[] = {0.878, 0.647, 0.598, 2.05, 1.06, 1.29, 1.06, 3.14, 1.29};
    double d[9];
    for (int i = 0; i < 9; i++)
        d[i] = x[i] - y[i];
    hf_ranks r;
    assert_int_equal(hf_signed_rank_e(9, d, &r, NULL), HF_OK);
    CHECK_CLOSE(r.statistic, 40, 0, 0, "R: V = 40");
    CHECK_CLOSE(r.greater, .01953125, 1e-14, 0, "R wilcox.test: 10/2^9");
    CHECK_CLOSE(r.two_sided, .0390625, 1e-14, 0, "R wilcox.test: 20/2^9");
    assert_true(r.exact && r.used == 9 && r.tied == 0);
}

static void test_rank_sum_tables(void **unused)
{
    (void)unused;
    /* Permeability of membranes (example in R's wilcox.test): W = 35, one-sided p = 0.1272. */
    static const double at_term[] = {0.80, 0.83, 1.89, 1.04, 1.45, 1.38, 1.91, 1.64, 0.73, 1.46};
    static const double earlier[] = {1.15, 0.88, 0.90, 0.74, 1.21};
    hf_ranks r, back;
    assert_int_equal(hf_rank_sum_e(10, at_term, 5, earlier, &r, NULL), HF_OK);
    CHECK_CLOSE(r.statistic, 35, 0, 0, "R wilcox.test");
    CHECK_CLOSE(r.greater, 0.127206127206127, 1e-12, 0, "R wilcox.test");
    assert_int_equal(hf_rank_sum_e(5, earlier, 10, at_term, &back, NULL), HF_OK);
    CHECK_CLOSE(back.statistic, 15, 0, 0, "50 - 35");
    CHECK_CLOSE(back.less, r.greater, 1e-14, 0, "the groups exchanged");
    long c;
    assert_int_equal(hf_rank_sum_critical_e(5, 5, 0.05, 2, &c), HF_OK);
    assert_int_equal(c, 2); /* R: qwilcox(0.025, 5, 5) = 3 is the first above 0.025 */
    assert_int_equal(hf_rank_sum_critical_e(3, 3, 0.05, 2, &c), HF_EDATA); /* 2/20 */
    assert_int_equal(hf_rank_sum_critical_e(3, 3, 0.05, 1, &c), HF_OK);    /* 1/20 */
    assert_int_equal(c, 0);
}

static const double asleep_1[] = {0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0};
static const double asleep_2[] = {1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4};

static void test_t_tables(void **unused)
{
    (void)unused;
    static const struct {
        double freedom, t;
    } rows[] = {{1, 12.7062047}, {2, 4.3026527},  {3, 3.1824463},  {4, 2.7764451}, {5, 2.5705818},
                {9, 2.2621572},  {10, 2.2281389}, {20, 2.0859634}, {30, 2.0422725}};
    double t;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        assert_int_equal(hf_t_quantile_e(0.975, rows[i].freedom, &t), HF_OK);
        CHECK_CLOSE(t, rows[i].t, 0, HALF(7), "R qt, 7 decimals");
        assert_int_equal(hf_t_quantile_e(0.025, rows[i].freedom, &t), HF_OK);
        CHECK_CLOSE(t, -rows[i].t, 0, HALF(7), "symmetry");
    }
    assert_int_equal(hf_t_quantile_e(0.975, 1e12, &t), HF_OK);
    CHECK_CLOSE(t, 1.9599640, 0, HALF(7), "normal limit");
    /* Two drugs on ten sleepers (R data sleep). */
    hf_t_test r;
    assert_int_equal(hf_paired_t_e(10, asleep_2, asleep_1, 0.95, &r, NULL), HF_OK);
    CHECK_CLOSE(r.t, -4.0621277, 0, HALF(7), "R t.test, 7 decimals");
    CHECK_CLOSE(r.two_sided, .00283289, 0, HALF(8), "R t.test, 8 decimals");
    CHECK_CLOSE(r.low, -2.4598858, 0, HALF(7), "R t.test, 7 decimals");
    CHECK_CLOSE(r.high, -.7001142, 0, HALF(7), "R t.test, 7 decimals");
    CHECK_CLOSE(r.freedom, 9, 0, 0, "n - 1");
    assert_int_equal(hf_welch_t_e(10, asleep_1, 10, asleep_2, 0.95, &r, NULL), HF_OK);
    CHECK_CLOSE(r.t, -1.8608134674868531, 1e-12, 0, "R t.test");
    CHECK_CLOSE(r.freedom, 17.7764735161784984, 1e-12, 0, "R t.test");
    CHECK_CLOSE(r.two_sided, 0.0793941401873582, 1e-10, 0, "R t.test");
    CHECK_CLOSE(r.low, -3.3654832307117104, 1e-10, 0, "R t.test");
    CHECK_CLOSE(r.high, 0.2054832307117102, 1e-10, 0, "R t.test");
}

static void test_noncentral_t(void **unused)
{
    (void)unused;
    static const struct {
        double t, freedom, shift, p;
    } rows[] = {{2, 10, 1, 0.807611562530311},
                {2.5, 9, 3, 0.31011710882458},
                {-1, 5, 2, 0.00231637565416343},
                {12.7062047, 1, 1, 0.932236985953638},
                {1.98, 198, 3.5, 0.0648841253078183},
                {0, 7, -1.5, 0.933192798731142}}; /* Phi(1.5), whatever the freedom */
    double p;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        assert_int_equal(hf_noncentral_t_e(rows[i].t, rows[i].freedom, rows[i].shift, &p), HF_OK);
        CHECK_CLOSE(p, rows[i].p, 0, 1e-10, "R pt");
    }
}

static void test_strand_tables(void **unused)
{
    (void)unused;
    /* Strands per group at risk 0.05: R power.prop.test and power.t.test, 1 and 2 decimals. */
    hf_strands s;
    assert_int_equal(hf_two_share_strands_e(0.10, 0.30, 0.05, 0.8, &s), HF_OK);
    CHECK_CLOSE(s.formula, 61.6, 0, HALF(1), "R power.prop.test");
    assert_int_equal(hf_two_share_strands_e(0.15, 0.30, 0.05, 0.8, &s), HF_OK);
    CHECK_CLOSE(s.formula, 120.5, 0, HALF(1), "R power.prop.test");
    assert_int_equal(hf_two_share_strands_e(0.50, 0.75, 0.05, 0.9, &s), HF_OK);
    CHECK_CLOSE(s.formula, 76.7, 0, HALF(1), "R power.prop.test");
    assert_int_equal(hf_mean_strands_e(1, 1, 2, 0.05, 0.9, &s), HF_OK);
    CHECK_CLOSE(s.formula, 22.02, 0, HALF(2), "R power.t.test");
    assert_int_equal(s.strands, 23);
    double power;
    assert_int_equal(hf_mean_power_e(1, 1, 20, 2, 0.05, &power), HF_OK);
    CHECK_CLOSE(power, .86895, 0, HALF(5), "R power.t.test");
    assert_int_equal(hf_mean_power_e(2, 3, 8, 1, 0.05, &power), HF_OK);
    CHECK_CLOSE(power, 0.370667594022792, 0, 1e-9, "R power.t.test, paired, strict");
    assert_int_equal(hf_mean_strands_e(2, 3, 1, 0.05, 0.8, &s), HF_OK);
    CHECK_CLOSE(s.formula, 19.66694897, 0, 1e-7, "R power.t.test, strict");
    /* A difference of 10 % of the mean, power 0.8, at a variation of 10, 15, 20 %. */
    static const double formula[] = {16.71472245, 36.30568708, 63.76561019};
    for (int i = 0; i < 3; i++) {
        assert_int_equal(hf_mean_strands_e(0.10, 0.10 + 0.05 * i, 2, 0.05, 0.8, &s), HF_OK);
        CHECK_CLOSE(s.formula, formula[i], 0, 1e-7, "R power.t.test, strict");
    }
}

static void test_kappa_tables(void **unused)
{
    (void)unused;
    /* statsmodels-kappa: table 0 4 1/0 8 0/0 1 5, weights none and linear, 4 decimals. */
    static const int table[3][3] = {{0, 4, 1}, {0, 8, 0}, {0, 1, 5}};
    int first[19], second[19];
    size_t n = 0;
    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++)
            for (int k = 0; k < table[i][j]; k++) {
                first[n] = i;
                second[n++] = j;
            }
    hf_kappa k;
    assert_int_equal(hf_weighted_kappa_e(n, first, second, 3, HF_KAPPA_NONE, 0.95, &k, NULL),
                     HF_OK);
    CHECK_CLOSE(k.kappa, 0.4842, 0, HALF(4), "statsmodels-kappa");
    CHECK_CLOSE(k.standard_error, 0.1380, 0, HALF(4), "statsmodels-kappa");
    CHECK_CLOSE(k.low, 0.2137, 0, HALF(4), "statsmodels-kappa");
    CHECK_CLOSE(k.high, 0.7547, 0, HALF(4), "statsmodels-kappa");
    CHECK_CLOSE(k.standard_error_null, 0.1484, 0, HALF(4), "statsmodels-kappa");
    assert_int_equal(hf_weighted_kappa_e(n, first, second, 3, HF_KAPPA_LINEAR, 0.95, &k, NULL),
                     HF_OK);
    CHECK_CLOSE(k.kappa, 0.4701, 0, HALF(4), "statsmodels-kappa");
    CHECK_CLOSE(k.standard_error, 0.1457, 0, HALF(4), "statsmodels-kappa");
    CHECK_CLOSE(k.low, 0.1845, 0, HALF(4), "statsmodels-kappa");
    CHECK_CLOSE(k.high, 0.7558, 0, HALF(4), "statsmodels-kappa");
    CHECK_CLOSE(k.standard_error_null, 0.1426, 0, HALF(4), "statsmodels-kappa");
    CHECK_CLOSE(k.observed, 1 - 0.5 * 5 / 19 - 1.0 / 19, 1e-14, 0, "5 one step apart, 1 two");
    /* statsmodels-kappa: anxiety of 20 persons, raters 2 and 3; nobody has grade 5, so 6 is the fifth.
     * Its z is kappa over the standard error without agreement. */
    static const int two[] = {3, 6, 4, 6, 2, 4, 2, 4, 3, 3, 2, 3, 3, 3, 2, 2, 1, 3, 3, 4};
    static const int three[] = {2, 1, 4, 4, 3, 2, 1, 6, 1, 1, 1, 2, 3, 3, 1, 1, 3, 3, 2, 2};
    static const double kappa[] = {-0.006289308, 0.1459075, 0.2520325};
    static const double z[] = {-0.0604067, 1.282472, 1.437451};
    int a[20], b[20];
    for (int i = 0; i < 20; i++) {
        a[i] = two[i] == 6 ? 4 : two[i] - 1;
        b[i] = three[i] == 6 ? 4 : three[i] - 1;
    }
    for (int w = 0; w < 3; w++) {
        assert_int_equal(hf_weighted_kappa_e(20, a, b, 5, (hf_kappa_weights)w, 0.95, &k, NULL),
                         HF_OK);
        CHECK_CLOSE(k.kappa, kappa[w], 0, HALF(7), "statsmodels-kappa, 7 decimals");
        CHECK_CLOSE(k.kappa / k.standard_error_null, z[w], 0, HALF(6), "statsmodels-kappa");
    }
}

static void test_holm(void **unused)
{
    (void)unused;
    static const double p[] = {.01, .04, .03, .005}, want[] = {.03, .06, .06, .02};
    double q[4];
    assert_int_equal(hf_holm_e(4, p, q), HF_OK);
    for (int i = 0; i < 4; i++)
        CHECK_CLOSE(q[i], want[i], 1e-14, 0, "R p.adjust");
    assert_int_equal(hf_holm_e(0, NULL, NULL), HF_OK);
    static const double bad[] = {0.5, 1.5};
    assert_int_equal(hf_holm_e(2, bad, q), HF_ERANGE);
    assert_int_equal(hf_holm_e(2, NULL, q), HF_EINVAL);
}

static void test_posterior(void **unused)
{
    (void)unused;
    hf_posterior p;
    double x;
    /* Laplace's rule of succession: 5 of 5 under the uniform prior, 6/7 for the next one. */
    assert_int_equal(hf_posterior_share_e(5, 5, 1, 1, 0.95, &p), HF_OK);
    CHECK_CLOSE(p.mean, 6.0 / 7, 1e-15, 0, "rule of succession");
    CHECK_CLOSE(p.low, pow(0.025, 1.0 / 6), 1e-12, 0, "Beta(6, 1) has the distribution p^6");
    CHECK_CLOSE(p.median, pow(0.5, 1.0 / 6), 1e-12, 0, "the same");
    assert_int_equal(hf_posterior_above_e(5, 5, 1, 1, 0.5, &x), HF_OK);
    CHECK_CLOSE(x, 63.0 / 64, 1e-13, 0, "1 - 0.5^6");
    assert_int_equal(hf_posterior_next_e(5, 5, 1, 1, 1, 1, &x), HF_OK);
    CHECK_CLOSE(x, 6.0 / 7, 1e-12, 0, "rule of succession");
    assert_int_equal(hf_posterior_next_e(0, 0, 1, 1, 2, 4, &x), HF_OK);
    CHECK_CLOSE(x, 0.2, 1e-12, 0, "the uniform prior makes 0 .. 4 equally likely");
    /* Between 0 and n the Jeffreys interval is the posterior interval. */
    assert_int_equal(hf_posterior_share_e(3, 8, 0.5, 0.5, 0.95, &p), HF_OK);
    const hf_share s = share_of(3, 8, HF_JEFFREYS);
    CHECK_CLOSE(p.low, s.low, 1e-14, 0, "definition");
    CHECK_CLOSE(p.high, s.high, 1e-14, 0, "definition");
    assert_int_equal(hf_posterior_share_e(3, 8, 0, 1, 0.95, &p), HF_ERANGE);
    assert_int_equal(hf_posterior_share_e(3, 8, (double)NAN, 1, 0.95, &p), HF_EINVAL);
    assert_int_equal(hf_posterior_above_e(3, 8, 1, 1, 1.1, &x), HF_ERANGE);
    assert_int_equal(hf_posterior_next_e(3, 8, 1, 1, 5, 4, &x), HF_ERANGE);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_interval_tables),
        cmocka_unit_test(test_published_mid_p),
        cmocka_unit_test(test_all_of_few),
        cmocka_unit_test(test_fisher_tables),
        cmocka_unit_test(test_mcnemar_tables),
        cmocka_unit_test(test_strata_tables),
        cmocka_unit_test(test_signed_rank_tables),
        cmocka_unit_test(test_rank_sum_tables),
        cmocka_unit_test(test_t_tables),
        cmocka_unit_test(test_noncentral_t),
        cmocka_unit_test(test_strand_tables),
        cmocka_unit_test(test_kappa_tables),
        cmocka_unit_test(test_holm),
        cmocka_unit_test(test_posterior),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
