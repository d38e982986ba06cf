/* Rows of a set that were fitted together: taken over, copied, changed by hand, drawn and turned into ranges. */
#include "check.h"

#include <hairfibre/quantity.h>
#include <hairfibre/uncertainty.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const char *const names[2] = {"thermal.capacity.water", "thermal.capacity.dry"};
static const double values[2] = {4200, 1350};
/* in the order of the names: standard deviations 60 and 40, correlation -0.8 */
static const double covariance[4] = {3600, -1920, -1920, 1600};

static hf_parameters *fitted(void)
{
    hf_parameters *set;
    assert_int_equal(hf_parameters_new(&set, NULL), HF_OK);
    assert_int_equal(
        hf_parameters_set_fitted(set, 2, names, values, covariance, "a calorimeter, invented"),
        HF_OK);
    return set;
}

static void test_takes_over(void **unused)
{
    (void)unused;
    hf_parameters *set = fitted(), *copy;
    char before[17], after[17];
    hf_parameter row;
    size_t index;
    hf_fitted f = hf_parameters_fitted(set);
    assert_int_equal(f.count, 2);
    assert_true(f.row[0] < f.row[1]);
    assert_string_equal(hf_parameter_at(f.row[0])->name, "thermal.capacity.dry");
    assert_true(f.covariance[0] == 1600 && f.covariance[1] == -1920 && f.covariance[3] == 3600);
    assert_int_equal(hf_parameter_find(names[0], &index), HF_OK);
    assert_int_equal(hf_parameters_row(set, index, &row), HF_OK);
    assert_true(row.value == 4200 && row.spread == 60 && row.distribution == HF_NORMAL);
    assert_string_equal(row.place, "a calorimeter, invented");
    assert_int_equal(row.known, HF_CALIBRATED);
    assert_true(hf_parameters_is_changed(set, index));
    assert_int_equal(hf_parameters_copy(&copy, set), HF_OK);
    hf_parameters_digest(set, before);
    hf_parameters_digest(copy, after);
    assert_string_equal(before, after);
    /* Another covariance is another set; a value put by hand is exact. */
    const double wider[4] = {14400, -7680, -7680, 6400};
    assert_int_equal(hf_parameters_set_fitted(copy, 2, names, values, wider, "the same"), HF_OK);
    hf_parameters_digest(copy, after);
    assert_string_not_equal(before, after);
    assert_int_equal(hf_parameters_set(copy, names[0], 4190), HF_OK);
    f = hf_parameters_fitted(copy);
    assert_int_equal(f.count, 1);
    assert_true(f.covariance[0] == 6400);
    assert_int_equal(hf_parameters_row(copy, index, &row), HF_OK);
    assert_int_equal(row.distribution, HF_FIXED);
    assert_int_equal(hf_parameters_fitted(set).count, 2);
    hf_parameters_free(copy);
    assert_string_equal(hf_parameters_name(set), "virgin");
    assert_int_equal(hf_parameters_set_name(set, "workshop wefts"), HF_OK);
    assert_string_equal(hf_parameters_name(set), "workshop wefts");
    assert_string_equal(hf_parameters_base(set), "virgin");
    assert_int_equal(hf_parameters_set_name(set, ""), HF_EINVAL);
    assert_int_equal(hf_parameters_set_name(set, "two\nlines"), HF_EINVAL);
    hf_parameters_free(set);
    assert_int_equal(hf_parameters_fitted(NULL).count, 0);
}

static void test_refuses(void **unused)
{
    (void)unused;
    hf_parameters *set;
    assert_int_equal(hf_parameters_new(&set, NULL), HF_OK);
    const char *const wrong[2] = {"thermal.capacity.water", "thermal.capacity.mud"};
    const char *const twice[2] = {"thermal.capacity.water", "thermal.capacity.water"};
    const double outside[2] = {4200, -1}, nowhere[2] = {4200, (double)NAN};
    const double same[2] = {4200, 4200};
    const double skew[4] = {3600, -1920, 1920, 1600}, beyond[4] = {3600, 3000, 3000, 1600};
    const double negative[4] = {-1, 0, 0, 1};
    assert_int_equal(hf_parameters_set_fitted(set, 2, wrong, values, covariance, ""), HF_ENAME);
    assert_non_null(strstr(hf_parameters_message(set), "thermal.capacity.mud"));
    assert_int_equal(hf_parameters_set_fitted(set, 2, twice, same, covariance, ""), HF_ENAME);
    assert_int_equal(hf_parameters_set_fitted(set, 2, names, outside, covariance, ""), HF_ERANGE);
    assert_int_equal(hf_parameters_set_fitted(set, 2, names, nowhere, covariance, ""), HF_EINVAL);
    assert_int_equal(hf_parameters_set_fitted(set, 2, names, values, skew, ""), HF_EINVAL);
    assert_int_equal(hf_parameters_set_fitted(set, 2, names, values, beyond, ""), HF_EINVAL);
    assert_int_equal(hf_parameters_set_fitted(set, 2, names, values, negative, ""), HF_EINVAL);
    assert_int_equal(hf_parameters_set_fitted(set, 21, names, values, covariance, ""), HF_ERANGE);
    assert_int_equal(hf_parameters_fitted(set).count, 0);
    size_t index;
    assert_int_equal(hf_parameter_find(names[1], &index), HF_OK);
    assert_false(hf_parameters_is_changed(set, index));
    hf_parameters_free(set);
}

/* At 25 degC the heat capacity is (c0 + w cw)/(1 + w): linear in both, so its spread has a closed form. */
static void test_draws_move_together(void **unused)
{
    (void)unused;
    const double w = 0.3, arguments[] = {w, 298.15};
    const double spread = sqrt(1600 + 2 * w * -1920 + w * w * 3600) / (1 + w);
    const double alone = sqrt(1600 + w * w * 3600) / (1 + w);
    const hf_quantity *q = hf_quantity_find("heat_capacity");
    hf_parameters *set = fitted();
    hf_propagation_options options = HF_PROPAGATION_OPTIONS_INIT;
    hf_propagation out;
    hf_percentiles p;
    options.draws = 8192;
    double *draws = malloc(options.draws * sizeof *draws);
    assert_int_equal(hf_propagate(q, arguments, set, 0, &options, draws, &out, NULL), HF_OK);
    assert_int_equal(hf_percentiles_of(options.draws, draws, out.blocks, &p), HF_OK);
    CHECK_CLOSE(p.value[HF_P50], (1350 + w * 4200) / (1 + w), 0, 5 * p.error[HF_P50], "the middle");
    CHECK_CLOSE(p.value[HF_P97_5] - p.value[HF_P2_5], 2 * 1.959963984540054 * spread, 0.01, 0,
                "closed form");
    assert_true(spread < 0.75 * alone); /* or the correlation would not show */
    double value, low, high;
    assert_int_equal(hf_quantity_range(q, arguments, set, 0, &value, &low, &high, NULL), HF_OK);
    CHECK_CLOSE(high - low, 2 * 1.959963984540054 * spread, 1e-6, 0, "closed form");
    free(draws);
    hf_parameters_free(set);
}

/* Rows fitted together are one factor: their index is the whole variance here. */
static void test_one_factor(void **unused)
{
    (void)unused;
    const double arguments[] = {0.3, 298.15};
    const hf_quantity *q = hf_quantity_find("heat_capacity");
    hf_parameters *set = fitted();
    hf_factor factor[HF_INPUTS_MAX];
    size_t count = 0, found = 0;
    assert_int_equal(hf_quantity_factors(q, arguments, set, NULL, 0, factor, &count, NULL), HF_OK);
    for (size_t i = 0; i < count; i++) {
        assert_string_not_equal(factor[i].name, "thermal.capacity.dry");
        found += strcmp(factor[i].name, "fitted together") == 0;
    }
    assert_int_equal(found, 1);
    hf_parameters_free(set);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_takes_over),
        cmocka_unit_test(test_refuses),
        cmocka_unit_test(test_draws_move_together),
        cmocka_unit_test(test_one_factor),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
