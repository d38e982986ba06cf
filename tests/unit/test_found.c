/* What the fuzzers of tests/fuzz found, one test each: the answer must be refused, or come soon. */
#include "check.h"

#include <hairfibre.h>

#include <math.h>
#include <time.h>

static void test_miner_sum_overflows(void **state)
{
    (void)state;
    const double cycles[] = {1e300, 1}, life[] = {1e-300, 1};
    double sum = -1;
    size_t bad = 9;
    assert_int_equal(hf_miner_sum_e(2, cycles, life, &sum, &bad), HF_ERANGE);
    assert_int_equal(bad, 0);
    assert_true(sum == -1);
}

/* sqrt(infinite) times a loss of 0 */
static void test_bleached_after_a_ratio_of_times_that_overflows(void **state)
{
    (void)state;
    double share = -1;
    assert_int_equal(hf_disulfide_bleached_e(1e308, 1e-16, 0, HF_EXTRAPOLATE, &share), HF_ERANGE);
    assert_true(share == -1);
}

static void test_next_strand_under_a_prior_near_zero(void **state)
{
    (void)state;
    double p = -1;
    assert_int_equal(hf_posterior_next_e(65535, 65535, 1e-4, 5e-324, 0, 0, &p), HF_ECONVERGE);
    assert_true(p == -1);
}

/* The formula says a fraction of a strand, the exact test wants hundreds: 17 s, once. */
static void test_strands_for_rare_events_come_soon(void **state)
{
    (void)state;
    hf_strands s;
    const clock_t start = clock();
    const hf_status status = hf_two_share_strands_e(0, 0.001, 0.001, 0.001, &s);
    assert_true(status == HF_OK || status == HF_EDATA);
    assert_true((double)(clock() - start) / CLOCKS_PER_SEC < 10);
    assert_int_equal(hf_share_strands_e(0.001, 1e-6, 1e-14, 0.5, &s), HF_EDATA);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_miner_sum_overflows),
        cmocka_unit_test(test_bleached_after_a_ratio_of_times_that_overflows),
        cmocka_unit_test(test_next_strand_under_a_prior_near_zero),
        cmocka_unit_test(test_strands_for_rare_events_come_soon),
    };
    return cmocka_run_group_tests_name("found", tests, NULL, NULL);
}
