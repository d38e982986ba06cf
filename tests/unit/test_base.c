/* Room base: the catalogue row by row, sources, parameter sets, statuses. */
#include <hairfibre/base.h>

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "check.h"

#define MUST(row, condition)                                                                       \
    do {                                                                                           \
        if (!(condition))                                                                          \
            fail_msg("%s: %s", (row)->name, #condition);                                           \
    } while (0)

static void check_row(const hf_parameter *row)
{
    MUST(row, *row->name && *row->unit && *row->text);
    MUST(row, *row->place && *row->conditions);
    MUST(row, hf_source_find(row->source) != NULL);
    MUST(row, isfinite(row->value) && isfinite(row->spread) && isfinite(row->low) &&
                  isfinite(row->high));
    MUST(row, row->low <= row->value && row->value <= row->high);
    MUST(row, (row->distribution == HF_FIXED) == (row->spread <= 0));
    MUST(row, row->distribution != HF_LOGNORMAL || row->value > 0);
    MUST(row, (unsigned)row->known <= HF_ASSUMED);
    /* What was fitted or judged here says so by its source, and the other way round. */
    MUST(row, strcmp(row->source, "own-judgement") != 0 || row->known >= HF_FROM_MEMORY);
    MUST(row, strcmp(row->source, "own-fit") != 0 || row->known == HF_CALIBRATED);
    for (const char *c = row->name; *c; c++)
        MUST(row, (*c >= 'a' && *c <= 'z') || (*c >= '0' && *c <= '9') || *c == '.' || *c == '_');
}

static void test_catalogue(void **unused)
{
    (void)unused;
    assert_true(hf_parameter_count() > 50);
    for (size_t i = 0; i < hf_parameter_count(); i++) {
        const hf_parameter *row = hf_parameter_at(i);
        check_row(row);
        size_t found = SIZE_MAX;
        assert_int_equal(hf_parameter_find(row->name, &found), HF_OK);
        MUST(row, found == i); /* no name twice */
    }
    assert_null(hf_parameter_at(hf_parameter_count()));
}

/* Every row that a named set replaces obeys the same rules; the others are the catalogue's. */
static void test_sets(void **unused)
{
    (void)unused;
    assert_string_equal(hf_set_at(0)->name, "virgin");
    for (size_t k = 0; k < hf_set_count(); k++) {
        hf_parameters *set;
        size_t replaced = 0;
        assert_int_equal(hf_parameters_new(&set, hf_set_at(k)->name), HF_OK);
        assert_string_equal(hf_parameters_name(set), hf_set_at(k)->name);
        for (size_t i = 0; i < hf_parameter_count(); i++) {
            hf_parameter row;
            double value;
            assert_int_equal(hf_parameters_row(set, i, &row), HF_OK);
            check_row(&row);
            assert_int_equal(hf_parameters_get(set, row.name, &value), HF_OK);
            CHECK_CLOSE(value, row.value, 0, 0, "the value in use");
            assert_false(hf_parameters_is_changed(set, i));
            replaced += row.place != hf_parameter_at(i)->place;
        }
        assert_true((k == 0) == (replaced == 0));
        hf_parameters_free(set);
    }
}

static void test_changes(void **unused)
{
    (void)unused;
    hf_parameters *set, *copy;
    char before[17], after[17], of_copy[17];
    double value;
    assert_int_equal(hf_parameters_new(&set, NULL), HF_OK);
    hf_parameters_digest(set, before);
    hf_parameters_digest(NULL, after);
    assert_string_equal(before, after); /* NULL is the shipped set */
    assert_int_equal(strlen(before), 16);
    assert_int_equal(hf_parameters_set(set, "diffusion.wet", 3e-12), HF_OK);
    hf_parameters_digest(set, after);
    assert_string_not_equal(before, after);
    assert_int_equal(hf_parameters_copy(&copy, set), HF_OK);
    hf_parameters_digest(copy, of_copy);
    assert_string_equal(after, of_copy);
    size_t i;
    hf_parameter row;
    assert_int_equal(hf_parameter_find("diffusion.wet", &i), HF_OK);
    assert_true(hf_parameters_is_changed(copy, i));
    assert_int_equal(hf_parameters_row(copy, i, &row), HF_OK);
    assert_string_equal(row.source, "");
    CHECK_CLOSE(row.value, 3e-12, 0, 0, "as set");
    /* A copy is independent, and the shipped set is never touched. */
    assert_int_equal(hf_parameters_set(copy, "diffusion.wet", 5e-12), HF_OK);
    assert_int_equal(hf_parameters_get(set, "diffusion.wet", &value), HF_OK);
    CHECK_CLOSE(value, 3e-12, 0, 0, "the original keeps its own");
    assert_int_equal(hf_parameters_get(NULL, "diffusion.wet", &value), HF_OK);
    CHECK_CLOSE(value, 4e-12, 0, 0, "shipped");
    hf_parameters_free(set);
    hf_parameters_free(copy);
    hf_parameters_free(NULL);
}

static void test_refusals(void **unused)
{
    (void)unused;
    hf_parameters *set = NULL;
    double value = 7;
    assert_int_equal(hf_parameters_new(&set, "brown"), HF_ENAME);
    assert_null(set);
    assert_int_equal(hf_parameters_new(NULL, NULL), HF_EINVAL);
    assert_int_equal(hf_parameters_new(&set, "bleached"), HF_OK);
    assert_int_equal(hf_parameters_set(set, "diffusion.wit", 1), HF_ENAME);
    assert_non_null(strstr(hf_parameters_message(set), "did you mean \"diffusion.wet\""));
    assert_int_equal(hf_parameters_set(set, "diffusion.wet", (double)NAN), HF_EINVAL);
    assert_int_equal(hf_parameters_set(set, "diffusion.wet", 1), HF_ERANGE);
    assert_non_null(strstr(hf_parameters_message(set), "allowed range"));
    assert_int_equal(hf_parameters_get(set, "nothing", &value), HF_ENAME);
    CHECK_CLOSE(value, 7, 0, 0, "untouched on error");
    assert_null(hf_parameter_nearest("zzzzzzzzzzzzzzzz"));
    assert_string_equal(hf_parameter_nearest("difusion.wet"), "diffusion.wet");
    assert_string_equal(hf_parameter_nearest("diffusion.wet_hair"), "diffusion.wet");
    hf_parameters_free(set);
}

static void test_sources(void **unused)
{
    (void)unused;
    assert_true(hf_source_count() > 200);
    for (size_t i = 0; i < hf_source_count(); i++) {
        const hf_source *source = hf_source_at(i);
        assert_ptr_equal(hf_source_find(source->key), source);
        if (!*source->access || !*source->title)
            fail_msg("%s: title and access are needed", source->key);
        if (i && strcmp(hf_source_at(i - 1)->key, source->key) >= 0)
            fail_msg("%s is out of order", source->key);
    }
    assert_null(hf_source_at(hf_source_count()));
    assert_null(hf_source_find("nobody1900"));
    assert_null(hf_source_find(NULL));
}

static void test_statuses(void **unused)
{
    (void)unused;
    for (hf_status s = HF_OK; s <= HF_EINTERNAL; s = (hf_status)(s + 1)) {
        hf_status back;
        assert_int_equal(hf_status_from_code(hf_status_code(s), &back), HF_OK);
        assert_int_equal(back, s);
        assert_true(*hf_status_text(s));
        assert_int_equal(hf_failed(s), s > HF_EXTRAPOLATED);
    }
    hf_status back = HF_OK;
    assert_int_equal(hf_status_from_code("fine", &back), HF_ENAME);
    assert_string_equal(hf_version(), HF_VERSION_TEXT);
    assert_true(HF_VERSION_AT_LEAST(0, 1, 0));
    assert_false(HF_VERSION_AT_LEAST(99, 0, 0));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_catalogue), cmocka_unit_test(test_sets),
        cmocka_unit_test(test_changes),   cmocka_unit_test(test_refusals),
        cmocka_unit_test(test_sources),   cmocka_unit_test(test_statuses),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
