/* Statistics against counting: every outcome, every table, every sign, every split, written out. */
#include "check.h"

#include <hairfibre/statistics.h>

#include <stdint.h>

#define N 30

static double choose(int n, int k) /* exact below 2^53 */
{
    double c = 1;
    for (int i = 1; i <= k; i++)
        c = c * (n - k + i) / i;
    return c;
}

static double binomial(int x, int n, double p)
{
    return choose(n, x) * pow(p, x) * pow(1 - p, n - x);
}

static hf_share limits[4][N + 1][N + 1]; /* method, strands, events */

static int fill_limits(void **unused)
{
    (void)unused;
    for (int m = 0; m < 4; m++)
        for (int n = 0; n <= N; n++)
            for (int x = 0; x <= n; x++)
                if (hf_binomial_interval_e(x, n, (hf_share_method)m, 0.95, &limits[m][n][x]))
                    return -1;
    return 0;
}

static double coverage(int method, int n, double p)
{
    double sum = 0;
    for (int x = 0; x <= n; x++)
        if (limits[method][n][x].low <= p && p <= limits[method][n][x].high)
            sum += binomial(x, n, p);
    return sum;
}

static void test_coverage(void **unused)
{
    (void)unused;
    for (int n = 1; n <= N; n++) {
        double mean[4] = {0, 0, 0, 0};
        for (int i = 0; i < 2000; i++)
            for (int m = 0; m < 4; m++)
                mean[m] += coverage(m, n, (i + 0.5) / 2000) / 2000;
        /* Clopper-Pearson: at least its level everywhere; it can only dip just beside a limit. */
        for (int i = 0; i <= 2000; i++)
            assert_true(coverage(HF_CLOPPER_PEARSON, n, i / 2000.0) >= 0.95 - 1e-12);
        for (int x = 0; x <= n; x++)
            for (int side = -1; side <= 1; side += 2) {
                const double low = limits[0][n][x].low * (1 + side * 1e-12);
                const double high = limits[0][n][x].high * (1 + side * 1e-12);
                assert_true(coverage(HF_CLOPPER_PEARSON, n, low) >= 0.95 - 1e-9);
                assert_true(high > 1 || coverage(HF_CLOPPER_PEARSON, n, high) >= 0.95 - 1e-9);
            }
        /* The others only on average; Clopper-Pearson is the most careful of the four. */
        assert_true(mean[HF_MID_P] >= 0.95 && mean[HF_MID_P] < mean[HF_CLOPPER_PEARSON]);
        assert_true(mean[HF_WILSON] < mean[HF_CLOPPER_PEARSON]);
        if (n >= 5)
            CHECK_CLOSE(mean[HF_WILSON], 0.95, 0, 0.01, "close to its level (newcombe1998)");
        /* Jeffreys: averaged over its own prior the posterior covers 0.95, and 0.975 where it is closed
         * at an end: an identity. p = sin^2 t has that prior for t uniform. */
        double prior = 0, ends = 0;
        const int steps = 20000;
        for (int i = 0; i < steps; i++) {
            const double s = sin(asin(1) * (i + 0.5) / steps), p = s * s;
            prior += coverage(HF_JEFFREYS, n, p) / steps;
            ends += (binomial(0, n, p) + binomial(n, n, p)) / steps;
        }
        CHECK_CLOSE(prior, 0.95 + 0.025 * ends, 0, 2e-4, "identity; steps at the limits");
    }
}

static void test_shape(void **unused)
{
    (void)unused;
    for (int m = 0; m < 4; m++)
        for (int n = 1; n <= N; n++)
            for (int x = 0; x <= n; x++) {
                const hf_share *s = &limits[m][n][x], *mirror = &limits[m][n][n - x];
                CHECK_CLOSE(s->low, 1 - mirror->high, 0, 1e-15, "events and non-events exchanged");
                assert_true(s->low <= s->share && s->share <= s->high);
                assert_true(s->low >= 0 && s->high <= 1 && s->low < s->high);
                assert_true((x == 0) == (s->low <= 0) && (x == n) == (s->high >= 1));
                if (x > 0) {
                    assert_true(s->low > limits[m][n][x - 1].low);
                    assert_true(s->high >= limits[m][n][x - 1].high);
                }
                if (2 * n <= N) { /* twice the strands at the same share say more */
                    const hf_share *twice = &limits[m][2 * n][2 * x];
                    assert_true(twice->high - twice->low < s->high - s->low);
                }
                hf_share wide, narrow;
                assert_int_equal(hf_binomial_interval_e(x, n, (hf_share_method)m, 0.99, &wide),
                                 HF_OK);
                assert_int_equal(hf_binomial_interval_e(x, n, (hf_share_method)m, 0.80, &narrow),
                                 HF_OK);
                assert_true(wide.low <= s->low && s->low <= narrow.low);
                assert_true(wide.high >= s->high && s->high >= narrow.high);
                assert_true(limits[HF_MID_P][n][x].low >= limits[0][n][x].low);
                assert_true(limits[HF_MID_P][n][x].high <= limits[0][n][x].high);
            }
    for (int m = 0; m < 4; m++) { /* no strands: nothing is known */
        assert_true(isnan(limits[m][0][0].share));
        assert_true(limits[m][0][0].low <= 0 && limits[m][0][0].high >= 1);
    }
}

static void test_definitions(void **unused)
{
    (void)unused;
    /* The limits put the tail where the definition says. */
    for (int n = 1; n <= N; n++)
        for (int x = 1; x <= n; x++) {
            double above = 0;
            for (int i = x; i <= n; i++)
                above += binomial(i, n, limits[HF_CLOPPER_PEARSON][n][x].low);
            CHECK_CLOSE(above, 0.025, 1e-9, 0, "P(X >= x) at the lower limit");
            const double p = limits[HF_MID_P][n][x].low;
            above = -0.5 * binomial(x, n, p);
            for (int i = x; i <= n; i++)
                above += binomial(i, n, p);
            CHECK_CLOSE(above, 0.025, 1e-9, 0, "P(X > x) + P(X = x)/2 at the lower limit");
        }
}

static void test_binomial_test(void **unused)
{
    (void)unused;
    hf_tails t;
    for (int n = 0; n <= N; n++)
        for (int x = 0; x <= n; x++) {
            double less = 0, both = 0;
            for (int i = 0; i <= n; i++) {
                less += i <= x ? binomial(i, n, 0.3) : 0;
                both += binomial(i, n, 0.3) <= binomial(x, n, 0.3) * (1 + 1e-7)
                            ? binomial(i, n, 0.3)
                            : 0;
            }
            assert_int_equal(hf_binomial_test_e(x, n, 0.3, &t), HF_OK);
            CHECK_CLOSE(t.less, less, 1e-11, 0, "summed");
            CHECK_CLOSE(t.greater, 1 - less + binomial(x, n, 0.3), 0, 1e-11, "summed");
            CHECK_CLOSE(t.two_sided, both, 1e-11, 0, "summed");
        }
}

static void test_fisher(void **unused)
{
    (void)unused;
    for (int m = 0; m <= 7; m++)
        for (int n = 0; n <= 7; n++)
            for (int a = 0; a <= m; a++)
                for (int c = 0; c <= n; c++) {
                    const int k = a + c;
                    double less = 0, greater = 0, both = 0;
                    const double here = choose(m, a) * choose(n, c);
                    for (int i = 0; i <= m; i++) {
                        const double ways =
                            k - i < 0 || k - i > n ? 0 : choose(m, i) * choose(n, k - i);
                        less += i <= a ? ways : 0;
                        greater += i >= a ? ways : 0;
                        both += ways <= here ? ways : 0;
                    }
                    const double all = choose(m + n, k);
                    const hf_table t = {a, m - a, c, n - c}, flip = {c, n - c, a, m - a};
                    hf_fisher f, g;
                    assert_int_equal(hf_fisher_exact_e(&t, 0.95, &f), HF_OK);
                    assert_int_equal(hf_fisher_exact_e(&flip, 0.95, &g), HF_OK);
                    CHECK_CLOSE(f.less, less / all, 1e-12, 0, "counted");
                    CHECK_CLOSE(f.greater, greater / all, 1e-12, 0, "counted");
                    CHECK_CLOSE(f.two_sided, both / all, 1e-12, 0, "counted");
                    CHECK_CLOSE(g.two_sided, f.two_sided, 1e-12, 0, "groups exchanged");
                    CHECK_CLOSE(g.less, f.greater, 1e-12, 0, "groups exchanged");
                    if (m == 0 || n == 0 || k == 0 || k == m + n) {
                        assert_true(isnan(f.odds_ratio) && f.low <= 0 && isinf(f.high));
                        continue;
                    }
                    assert_true(f.low <= f.odds_ratio && f.odds_ratio <= f.high);
                    if (f.odds_ratio > 0 && isfinite(f.odds_ratio))
                        CHECK_CLOSE(g.odds_ratio, 1 / f.odds_ratio, 1e-9, 0, "groups exchanged");
                    /* The interval leaves out 1 exactly when a one-sided test falls below 0.025. */
                    assert_true((f.low > 1) == (f.greater < 0.025));
                    assert_true((f.high < 1) == (f.less < 0.025));
                    /* One stratum: the stratified exact test is Fisher's. */
                    hf_stratified s;
                    assert_int_equal(hf_mantel_haenszel_e(1, &t, 0.95, &s), HF_OK);
                    CHECK_CLOSE(s.two_sided, f.two_sided, 1e-12, 0, "one stratum");
                    CHECK_CLOSE(s.less, f.less, 1e-12, 0, "one stratum");
                }
}

/* A small generator of its own: the same values everywhere. */
static uint64_t next_random(uint64_t *state)
{
    *state = *state * 6364136223846793005u + 1442695040888963407u;
    return *state >> 33;
}

static void test_signed_rank(void **unused)
{
    (void)unused;
    uint64_t state = 7;
    for (int trial = 0; trial < 300; trial++) {
        const int n = (int)(next_random(&state) % 11);
        double d[10], rank[10];
        int used = 0;
        for (int i = 0; i < n; i++) /* few values: many ties, some zeros */
            d[i] = ((double)(next_random(&state) % 9) - 4) * 0.1;
        for (int i = 0; i < n; i++)
            if (fabs(d[i]) > 0) {
                int below = 0, same = 0;
                for (int j = 0; j < n; j++) {
                    below += fabs(d[j]) > 0 && fabs(d[j]) < fabs(d[i]) - 1e-6;
                    same += fabs(fabs(d[j]) - fabs(d[i])) < 1e-6;
                }
                rank[used++] = below + (same + 1) / 2.0;
            }
        double seen = 0;
        for (int i = 0, k = 0; i < n; i++)
            if (fabs(d[i]) > 0) {
                seen += d[i] > 0 ? rank[k] : 0;
                k++;
            }
        double less = 0, greater = 0;
        for (unsigned signs = 0; signs < 1u << used; signs++) {
            double sum = 0;
            for (int i = 0; i < used; i++)
                sum += signs >> i & 1u ? rank[i] : 0;
            less += sum <= seen + 1e-9;
            greater += sum >= seen - 1e-9;
        }
        hf_ranks r;
        assert_int_equal(hf_signed_rank_e((size_t)n, d, &r, NULL), HF_OK);
        CHECK_CLOSE(r.statistic, seen, 0, 1e-12, "counted");
        CHECK_CLOSE(r.less, less / pow(2, used), 1e-13, 0, "counted");
        CHECK_CLOSE(r.greater, greater / pow(2, used), 1e-13, 0, "counted");
        CHECK_CLOSE(r.two_sided, fmin(1, 2 * fmin(less, greater) / pow(2, used)), 1e-13, 0,
                    "counted");
        assert_int_equal(r.used, used);
    }
}

static void test_rank_sum(void **unused)
{
    (void)unused;
    uint64_t state = 11;
    for (int trial = 0; trial < 200; trial++) {
        const int m = 1 + (int)(next_random(&state) % 6), n = 1 + (int)(next_random(&state) % 6);
        double x[12], rank[12], seen = 0, ways = 0, less = 0, greater = 0;
        for (int i = 0; i < m + n; i++)
            x[i] = (double)(next_random(&state) % 7) * 0.1;
        for (int i = 0; i < m + n; i++) {
            int below = 0, same = 0;
            for (int j = 0; j < m + n; j++) {
                below += x[j] < x[i] - 1e-6;
                same += fabs(x[j] - x[i]) < 1e-6;
            }
            rank[i] = below + (same + 1) / 2.0;
            seen += i < m ? rank[i] : 0;
        }
        for (unsigned set = 0; set < 1u << (m + n); set++) {
            int size = 0;
            double sum = 0;
            for (int i = 0; i < m + n; i++)
                if (set >> i & 1u) {
                    size++;
                    sum += rank[i];
                }
            if (size == m) {
                ways++;
                less += sum <= seen + 1e-9;
                greater += sum >= seen - 1e-9;
            }
        }
        hf_ranks r;
        assert_int_equal(hf_rank_sum_e((size_t)m, x, (size_t)n, x + m, &r, NULL), HF_OK);
        CHECK_CLOSE(r.statistic, seen - m * (m + 1) / 2.0, 0, 1e-12, "counted");
        CHECK_CLOSE(r.less, less / ways, 1e-13, 0, "counted");
        CHECK_CLOSE(r.greater, greater / ways, 1e-13, 0, "counted");
    }
}

/* Two strata: every split of the one with every split of the other. */
static void test_strata_ranks(void **unused)
{
    (void)unused;
    uint64_t state = 23;
    for (int trial = 0; trial < 200; trial++) {
        size_t first[3], second[3];
        double values[30], rank[30], least = 0;
        int n = 0, size[2], start[2];
        for (int k = 0; k < 2; k++) {
            first[k] = 1 + (size_t)(next_random(&state) % 4);
            second[k] = 1 + (size_t)(next_random(&state) % 4);
            start[k] = n;
            size[k] = (int)(first[k] + second[k]);
            for (int i = 0; i < size[k]; i++)
                values[n++] = (double)(next_random(&state) % 6) * 0.1;
            least += (double)(first[k] * (first[k] + 1)) / 2;
        }
        double seen = 0, ways = 0, less = 0, greater = 0;
        for (int k = 0; k < 2; k++)
            for (int i = start[k]; i < start[k] + size[k]; i++) {
                int below = 0, same = 0;
                for (int j = start[k]; j < start[k] + size[k]; j++) {
                    below += values[j] < values[i] - 1e-6;
                    same += fabs(values[j] - values[i]) < 1e-6;
                }
                rank[i] = below + (same + 1) / 2.0;
                seen += i < start[k] + (int)first[k] ? rank[i] : 0;
            }
        for (unsigned set = 0; set < 1u << n; set++) {
            size_t taken[2] = {0, 0};
            double sum = 0;
            for (int i = 0; i < n; i++)
                if (set >> i & 1u) {
                    taken[i >= start[1]]++;
                    sum += rank[i];
                }
            if (taken[0] == first[0] && taken[1] == first[1]) {
                ways++;
                less += sum <= seen + 1e-9;
                greater += sum >= seen - 1e-9;
            }
        }
        first[2] = 0; /* a stratum without a first group says nothing */
        second[2] = 3;
        values[n] = values[n + 1] = values[n + 2] = 7;
        hf_ranks r;
        assert_int_equal(hf_strata_rank_sum_e(3, first, second, values, &r, NULL), HF_OK);
        CHECK_CLOSE(r.statistic, seen - least, 0, 1e-12, "counted");
        CHECK_CLOSE(r.less, less / ways, 1e-12, 0, "counted");
        CHECK_CLOSE(r.greater, greater / ways, 1e-12, 0, "counted");
        assert_int_equal(r.used, (size_t)n);
        /* One stratum is the plain test. */
        hf_ranks one, plain;
        assert_int_equal(hf_strata_rank_sum_e(1, first, second, values, &one, NULL), HF_OK);
        assert_int_equal(
            hf_rank_sum_e(first[0], values, second[0], values + first[0], &plain, NULL), HF_OK);
        CHECK_CLOSE(one.two_sided, plain.two_sided, 1e-12, 0, "one stratum");
    }
    double many[240];
    for (int i = 0; i < 240; i++)
        many[i] = (i % 7) * 1.3 + i * 0.01;
    const size_t m[2] = {60, 60}, n[2] = {60, 60}, none[2] = {0, 0};
    hf_ranks r = {.used = 77}, half;
    hf_message message = {""};
    assert_int_equal(hf_strata_rank_sum_e(2, m, n, many, &r, NULL), HF_OK);
    assert_true(!r.exact && r.used == 240);
    assert_int_equal(hf_strata_rank_sum_e(1, m, n, many, &half, NULL), HF_OK);
    assert_true(half.exact && half.used == 120);
    r.used = 77;
    assert_int_equal(hf_strata_rank_sum_e(2, m, none, many, &r, &message), HF_EDATA);
    assert_true(message.text[0] != '\0' && r.used == 77);
    assert_int_equal(hf_strata_rank_sum_e(0, NULL, NULL, NULL, &r, NULL), HF_EDATA);
    assert_int_equal(hf_strata_rank_sum_e(1, m, n, NULL, &r, NULL), HF_EINVAL);
    assert_int_equal(hf_strata_rank_sum_e(1, NULL, n, many, &r, NULL), HF_EINVAL);
    assert_int_equal(hf_strata_rank_sum_e(1, m, n, many, NULL, NULL), HF_EINVAL);
    many[3] = (double)NAN;
    assert_int_equal(hf_strata_rank_sum_e(1, m, n, many, &r, NULL), HF_EINVAL);
    const size_t huge[1] = {(size_t)-1};
    assert_int_equal(hf_strata_rank_sum_e(1, huge, n, many, &r, NULL), HF_ERANGE);
}

static void test_large_ranks(void **unused)
{
    (void)unused;
    /* On both sides of HF_RANKS_EXACT, one pattern: R wilcox.test, exact and not. */
    double d[240];
    for (int i = 0; i < 240; i++)
        d[i] = (i % 5 < 3 ? 1 : -1) * (1 + i * 0.37);
    hf_ranks r;
    assert_int_equal(hf_signed_rank_e(HF_RANKS_EXACT, d, &r, NULL), HF_OK);
    assert_true(r.exact);
    CHECK_CLOSE(r.two_sided, 2.09121397329449e-02, 1e-10, 0, "R wilcox.test");
    assert_int_equal(hf_signed_rank_e(HF_RANKS_EXACT + 5, d, &r, NULL), HF_OK);
    assert_true(!r.exact);
    CHECK_CLOSE(r.two_sided, 1.94023209197957e-02, 1e-10, 0, "R wilcox.test");
    assert_int_equal(hf_rank_sum_e(100, d, 100, d + 100, &r, NULL), HF_OK);
    assert_true(r.exact);
    CHECK_CLOSE(r.two_sided, 1.43770885211578e-02, 1e-10, 0, "R wilcox.test");
    assert_int_equal(hf_rank_sum_e(100, d, 101, d + 100, &r, NULL), HF_OK);
    assert_true(!r.exact);
    CHECK_CLOSE(r.two_sided, 1.09188074201239e-02, 1e-10, 0, "R wilcox.test");
    for (int i = 0; i < 240; i++) /* whole tens: many ties */
        d[i] = nearbyint(d[i] / 10);
    assert_int_equal(hf_rank_sum_e(120, d, 120, d + 120, &r, NULL), HF_OK);
    CHECK_CLOSE(r.two_sided, 7.13087741551825e-03, 1e-10, 0, "R wilcox.test");
}

static void test_power(void **unused)
{
    (void)unused;
    double power;
    /* Each power from its own test, outcome by outcome. */
    for (int n = 1; n <= 25; n++) {
        double sum = 0;
        for (int x = 0; x <= n; x++) {
            hf_tails t;
            assert_int_equal(hf_binomial_test_e(x, n, 0.4, &t), HF_OK);
            sum += t.two_sided <= 0.05 ? binomial(x, n, 0.75) : 0;
        }
        assert_int_equal(hf_share_power_e(0.75, 0.4, n, 0.05, &power), HF_OK);
        CHECK_CLOSE(power, sum, 1e-10, 1e-14, "summed over the outcomes");
    }
    for (int m = 0; m <= 9; m++)
        for (int n = 0; n <= 9; n++) {
            double sum = 0;
            for (int x = 0; x <= m; x++)
                for (int y = 0; y <= n; y++) {
                    const hf_table t = {x, m - x, y, n - y};
                    hf_fisher f;
                    assert_int_equal(hf_fisher_exact_e(&t, 0.95, &f), HF_OK);
                    sum += f.two_sided <= 0.05 ? binomial(x, m, 0.9) * binomial(y, n, 0.2) : 0;
                }
            assert_int_equal(hf_two_share_power_e(0.9, 0.2, m, n, 0.05, &power), HF_OK);
            CHECK_CLOSE(power, sum, 1e-10, 1e-14, "summed over the tables");
        }
    for (int n = 0; n <= 20; n++) {
        double sum = 0;
        for (int g = 0; g <= n; g++)
            for (int l = 0; g + l <= n; l++) {
                hf_mcnemar t;
                assert_int_equal(hf_mcnemar_e(g, l, &t), HF_OK);
                if (t.exact <= 0.05)
                    sum += choose(n, g) * choose(n - g, l) * pow(0.5, g) * pow(0.1, l) *
                           pow(0.4, n - g - l);
            }
        assert_int_equal(hf_paired_share_power_e(0.5, 0.1, n, 0.05, &power), HF_OK);
        CHECK_CLOSE(power, sum, 1e-10, 1e-14, "summed over the pairs");
    }
}

static void test_strands(void **unused)
{
    (void)unused;
    hf_strands s;
    double power;
    /* The answer reaches the power, keeps it for nine more, and one strand less does not. */
    assert_int_equal(hf_two_share_strands_e(0.9, 0.2, 0.05, 0.8, &s), HF_OK);
    for (long n = s.strands - 1; n < s.strands + 10; n++) {
        assert_int_equal(hf_two_share_power_e(0.9, 0.2, n, n, 0.05, &power), HF_OK);
        assert_true((power >= 0.8) == (n >= s.strands));
    }
    assert_int_equal(hf_paired_share_strands_e(0.5, 0.05, 0.05, 0.8, &s), HF_OK);
    for (long n = s.strands - 1; n < s.strands + 10; n++) {
        assert_int_equal(hf_paired_share_power_e(0.5, 0.05, n, 0.05, &power), HF_OK);
        assert_true((power >= 0.8) == (n >= s.strands));
    }
    assert_int_equal(hf_share_strands_e(0.9, 0.5, 0.05, 0.8, &s), HF_OK);
    for (long n = s.strands - 1; n < s.strands + 10; n++) {
        assert_int_equal(hf_share_power_e(0.9, 0.5, n, 0.05, &power), HF_OK);
        assert_true((power >= 0.8) == (n >= s.strands));
    }
    assert_int_equal(hf_two_share_strands_e(0.50, 0.52, 0.05, 0.9, &s),
                     HF_EDATA); /* beyond reach */
    assert_int_equal(hf_two_share_strands_e(0.50, 0.55, 0.05, 0.9, &s), HF_OK);
    assert_true(!s.exact && s.strands == (long)ceil(s.formula));
    assert_int_equal(hf_two_share_strands_e(0.5, 0.5, 0.05, 0.9, &s), HF_EDATA);
    assert_int_equal(hf_mean_strands_e(0, 1, 2, 0.05, 0.9, &s), HF_EDATA);
    assert_int_equal(hf_mean_strands_e(50, 1, 1, 0.05, 0.9, &s), HF_OK);
    assert_int_equal(s.strands, 2);
    long n;
    hf_share at, before;
    assert_int_equal(hf_width_strands_e(0.5, 0.2, 0.95, &n), HF_OK);
    assert_int_equal(hf_binomial_interval_e((n + 1) / 2, n, HF_CLOPPER_PEARSON, 0.95, &at), HF_OK);
    assert_int_equal(hf_binomial_interval_e(n / 2, n - 1, HF_CLOPPER_PEARSON, 0.95, &before),
                     HF_OK);
    assert_true(at.high - at.low <= 0.2 && before.high - before.low > 0.2);
}

/* Variance of kappa by the delta method with derivatives by differences: another way to the same. */
static void test_kappa_error(void **unused)
{
    (void)unused;
    static const int count[3][3] = {{9, 3, 1}, {2, 7, 4}, {0, 3, 11}};
    int first[40], second[40];
    size_t n = 0;
    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++)
            for (int k = 0; k < count[i][j]; k++) {
                first[n] = i;
                second[n++] = j;
            }
    for (int power = 1; power <= 2; power++) {
        double slope[3][3], mean = 0, square = 0, kappa[2];
        for (int i = 0; i < 3; i++)
            for (int j = 0; j < 3; j++) {
                for (int side = 0; side < 2; side++) {
                    double row[3] = {0}, column[3] = {0}, seen = 0, chance = 0;
                    for (int a = 0; a < 3; a++)
                        for (int b = 0; b < 3; b++) {
                            const double step = a == i && b == j ? (side ? 1e-5 : -1e-5) : 0;
                            const double p = count[a][b] / (double)n + step;
                            row[a] += p;
                            column[b] += p;
                            seen += p * (1 - pow(fabs((double)(a - b)) / 2, power));
                        }
                    double all = row[0] + row[1] + row[2];
                    for (int a = 0; a < 3; a++)
                        for (int b = 0; b < 3; b++)
                            chance +=
                                row[a] * column[b] * (1 - pow(fabs((double)(a - b)) / 2, power));
                    seen /= all;
                    chance /= all * all;
                    kappa[side] = (seen - chance) / (1 - chance);
                }
                slope[i][j] = (kappa[1] - kappa[0]) / 2e-5;
                mean += slope[i][j] * count[i][j] / (double)n;
                square += slope[i][j] * slope[i][j] * count[i][j] / (double)n;
            }
        hf_kappa k;
        assert_int_equal(
            hf_weighted_kappa_e(n, first, second, 3, (hf_kappa_weights)power, 0.95, &k, NULL),
            HF_OK);
        CHECK_CLOSE(k.standard_error, sqrt((square - mean * mean) / (double)n), 1e-7, 0,
                    "delta method by differences");
    }
}

static void test_few(void **unused)
{
    (void)unused;
    hf_share s;
    hf_t_test t;
    hf_ranks r;
    hf_kappa k;
    hf_mcnemar mc;
    hf_message message = {""};
    const double one[] = {1.5}, same[] = {1, 1, 1}, two[] = {1, 2};
    const int grade[] = {0, 0, 0};
    /* One strand: 0 .. 0.975 or 0.025 .. 1. */
    assert_int_equal(hf_binomial_interval_e(1, 1, HF_CLOPPER_PEARSON, 0.95, &s), HF_OK);
    CHECK_CLOSE(s.low, 0.025, 1e-14, 0, "P(X = 1) = p");
    assert_int_equal(hf_signed_rank_e(0, NULL, &r, NULL), HF_OK);
    assert_true(r.two_sided >= 1 && r.used == 0);
    assert_int_equal(hf_signed_rank_e(1, one, &r, NULL), HF_OK);
    CHECK_CLOSE(r.two_sided, 1, 0, 0, "two ways, both as far out");
    assert_int_equal(hf_rank_sum_e(0, NULL, 1, one, &r, &message), HF_EDATA);
    assert_int_equal(hf_paired_t_e(0, NULL, NULL, 0.95, &t, &message), HF_EDATA);
    assert_int_equal(hf_paired_t_e(1, NULL, one, 0.95, &t, &message), HF_EDATA);
    assert_int_equal(hf_paired_t_e(3, NULL, same, 0.95, &t, &message), HF_EDATA);
    assert_int_equal(hf_welch_t_e(1, one, 2, two, 0.95, &t, &message), HF_EDATA);
    assert_int_equal(hf_welch_t_e(3, same, 3, same, 0.95, &t, &message), HF_EDATA);
    assert_int_equal(hf_weighted_kappa_e(3, grade, grade, 3, HF_KAPPA_LINEAR, 0.95, &k, &message),
                     HF_EDATA);
    assert_int_equal(hf_weighted_kappa_e(1, grade, grade, 3, HF_KAPPA_LINEAR, 0.95, &k, &message),
                     HF_EDATA);
    assert_int_equal(hf_mcnemar_e(0, 0, &mc), HF_OK);
    assert_true(mc.exact >= 1 && isnan(mc.chi_squared));
}

static void test_refusals(void **unused)
{
    (void)unused;
    hf_share s = {7, 7, 7};
    assert_int_equal(hf_binomial_interval_e(-1, 5, HF_WILSON, 0.95, &s), HF_ERANGE);
    assert_int_equal(hf_binomial_interval_e(6, 5, HF_WILSON, 0.95, &s), HF_ERANGE);
    assert_int_equal(hf_binomial_interval_e(0, HF_COUNT_MAX + 1, HF_WILSON, 0.95, &s), HF_ERANGE);
    assert_int_equal(hf_binomial_interval_e(1, 5, HF_WILSON, 1, &s), HF_ERANGE);
    assert_int_equal(hf_binomial_interval_e(1, 5, HF_WILSON, 0, &s), HF_ERANGE);
    assert_int_equal(hf_binomial_interval_e(1, 5, HF_WILSON, (double)NAN, &s), HF_EINVAL);
    assert_int_equal(hf_binomial_interval_e(1, 5, (hf_share_method)9, 0.95, &s), HF_EINVAL);
    assert_int_equal(hf_binomial_interval_e(1, 5, HF_WILSON, 0.95, NULL), HF_EINVAL);
    assert_true(s.low >= 7 && s.high >= 7 && s.share >= 7); /* untouched */
    hf_fisher f;
    const hf_table negative = {1, -1, 2, 3}, large = {HF_COUNT_MAX, 1, 0, 0};
    assert_int_equal(hf_fisher_exact_e(&negative, 0.95, &f), HF_ERANGE);
    assert_int_equal(hf_fisher_exact_e(&large, 0.95, &f), HF_ERANGE);
    assert_int_equal(hf_fisher_exact_e(NULL, 0.95, &f), HF_EINVAL);
    hf_mcnemar mc;
    assert_int_equal(hf_mcnemar_e(-1, 2, &mc), HF_ERANGE);
    assert_int_equal(hf_mcnemar_e(1, 2, NULL), HF_EINVAL);
    hf_stratified st;
    assert_int_equal(hf_mantel_haenszel_e(0, &negative, 0.95, &st), HF_EINVAL);
    assert_int_equal(hf_mantel_haenszel_e(1, &negative, 0.95, &st), HF_ERANGE);
    assert_int_equal(hf_mantel_haenszel_e(1, &large, 0.95, &st), HF_ERANGE);
    const double bad[] = {1, (double)NAN};
    hf_ranks r;
    hf_message message = {""};
    assert_int_equal(hf_signed_rank_e(2, bad, &r, &message), HF_EINVAL);
    assert_true(message.text[0] != '\0');
    assert_int_equal(hf_rank_sum_e(1, bad, 2, bad, &r, NULL), HF_EINVAL);
    hf_t_test t;
    assert_int_equal(hf_paired_t_e(2, NULL, bad, 0.95, &t, NULL), HF_EINVAL);
    assert_int_equal(hf_welch_t_e(2, bad, 2, bad, 0.95, &t, NULL), HF_EINVAL);
    const int grade[] = {0, 5};
    hf_kappa k;
    assert_int_equal(hf_weighted_kappa_e(2, grade, grade, 5, HF_KAPPA_NONE, 0.95, &k, &message),
                     HF_ERANGE);
    assert_int_equal(hf_weighted_kappa_e(2, grade, grade, 1, HF_KAPPA_NONE, 0.95, &k, NULL),
                     HF_ERANGE);
    assert_int_equal(hf_weighted_kappa_e(2, grade, grade, 6, (hf_kappa_weights)9, 0.95, &k, NULL),
                     HF_EINVAL);
    double x;
    long n;
    hf_strands w;
    assert_int_equal(hf_share_power_e(1.1, 0.5, 9, 0.05, &x), HF_ERANGE);
    assert_int_equal(hf_two_share_power_e(0.1, 0.5, 2001, 9, 0.05, &x), HF_ERANGE);
    assert_int_equal(hf_two_share_formula_e(0.1, 0.5, 0, 0.05, &x), HF_ERANGE);
    assert_int_equal(hf_paired_share_power_e(0.6, 0.5, 9, 0.05, &x), HF_ERANGE);
    assert_int_equal(hf_paired_share_strands_e(0.6, 0.5, 0.05, 0.8, &w), HF_ERANGE);
    assert_int_equal(hf_mean_power_e(1, 0, 9, 2, 0.05, &x), HF_ERANGE);
    assert_int_equal(hf_mean_power_e(1, 1, 1, 2, 0.05, &x), HF_ERANGE);
    assert_int_equal(hf_mean_power_e(1, 1, 9, 3, 0.05, &x), HF_ERANGE);
    assert_int_equal(hf_mean_strands_e(1, 1, 2, 0.05, 1, &w), HF_ERANGE);
    assert_int_equal(hf_limit_strands_e(1, 0.95, &n), HF_ERANGE);
    assert_int_equal(hf_width_strands_e(0.5, 0, 0.95, &n), HF_ERANGE);
    assert_int_equal(hf_width_strands_e(0.5, 1e-4, 0.95, &n), HF_EDATA);
    assert_int_equal(hf_t_quantile_e(0.5, -1, &x), HF_ERANGE);
    assert_int_equal(hf_noncentral_t_e(1, 0.5, 0, &x), HF_ERANGE);
    assert_int_equal(hf_rule_of_three_e(-1, &(hf_zero_events){0, 0}), HF_ERANGE);
    assert_int_equal(hf_signed_rank_critical_e(0, 0.05, 2, &n), HF_ERANGE);
    assert_int_equal(hf_signed_rank_critical_e(9, 0.05, 3, &n), HF_ERANGE);
    assert_int_equal(hf_rank_sum_critical_e(150, 150, 0.05, 2, &n), HF_ERANGE);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup(test_coverage, fill_limits),
        cmocka_unit_test_setup(test_shape, fill_limits),
        cmocka_unit_test_setup(test_definitions, fill_limits),
        cmocka_unit_test(test_binomial_test),
        cmocka_unit_test(test_fisher),
        cmocka_unit_test(test_signed_rank),
        cmocka_unit_test(test_rank_sum),
        cmocka_unit_test(test_strata_ranks),
        cmocka_unit_test(test_large_ranks),
        cmocka_unit_test(test_power),
        cmocka_unit_test(test_strands),
        cmocka_unit_test(test_kappa_error),
        cmocka_unit_test(test_few),
        cmocka_unit_test(test_refusals),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
