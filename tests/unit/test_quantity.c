/* Room quantity: the table of descriptors, evaluation by name, the range. */
#include <hairfibre/quantity.h>

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "check.h"

#define MUST(q, condition)                                                                         \
    do {                                                                                           \
        if (!(condition))                                                                          \
            fail_msg("%s: %s", (q)->name, #condition);                                             \
    } while (0)

/* Calls `check` for every blank-separated word. */
static void each_word(const hf_quantity *q, const char *words,
                      void (*check)(const hf_quantity *, const char *))
{
    char word[96];
    while (words && *words) {
        const size_t n = strcspn(words, " ");
        MUST(q, n > 0 && n < sizeof word);
        memcpy(word, words, n);
        word[n] = '\0';
        check(q, word);
        words += n + (words[n] == ' ');
    }
}

static void is_source(const hf_quantity *q, const char *key)
{
    if (!hf_source_find(key))
        fail_msg("%s: no source %s", q->name, key);
}

static void is_prefix(const hf_quantity *q, const char *prefix)
{
    const size_t n = strlen(prefix);
    for (size_t i = 0; i < hf_parameter_count(); i++) {
        const char *name = hf_parameter_at(i)->name;
        if (strncmp(name, prefix, n) == 0 && (name[n] == '.' || name[n] == '\0'))
            return;
    }
    fail_msg("%s: no parameter begins with %s", q->name, prefix);
}

static void check_argument(const hf_quantity *q, const hf_argument *a)
{
    MUST(q, *a->name && *a->unit && *a->text);
    MUST(q, a->domain_low <= a->valid_low && a->valid_low <= a->valid_high &&
                a->valid_high <= a->domain_high);
    MUST(q, isnan(a->usual) || (a->domain_low <= a->usual && a->usual <= a->domain_high));
    MUST(q, (a->kind == HF_KIND_CHOICE) == (a->choices != NULL));
}

static void test_table(void **unused)
{
    (void)unused;
    assert_true(hf_quantity_count() > 60);
    for (size_t i = 0; i < hf_quantity_count(); i++) {
        const hf_quantity *q = hf_quantity_at(i);
        assert_ptr_equal(hf_quantity_find(q->name), q);
        MUST(q, *q->unit && *q->text && *q->room && *q->leaves_out);
        MUST(q, q->argument_count <= HF_ARGUMENTS_MAX);
        MUST(q, !q->evaluate || (*q->equation && *q->sources));
        each_word(q, q->sources, is_source);
        each_word(q, q->parameters, is_prefix);
        for (size_t k = 0; k < q->argument_count; k++)
            check_argument(q, &q->arguments[k]);
    }
    assert_null(hf_quantity_find("no_such_thing"));
    assert_null(hf_quantity_at(hf_quantity_count()));
    assert_string_equal(hf_quantity_nearest("saturation_presure"), "saturation_pressure");
}

/* What lies at the middle of every argument's supported range answers, or says why not; what is not a
 * number never does; and the sentence is never empty on failure. */
static void test_every_quantity(void **unused)
{
    (void)unused;
    for (size_t i = 0; i < hf_quantity_count(); i++) {
        const hf_quantity *q = hf_quantity_at(i);
        double x[HF_ARGUMENTS_MAX], y = 7;
        hf_message message;
        for (size_t k = 0; k < q->argument_count; k++) {
            const hf_argument *a = &q->arguments[k];
            const double high = isinf(a->valid_high) ? a->valid_low + 1 : a->valid_high;
            const double low = isinf(a->valid_low) ? high - 1 : a->valid_low;
            x[k] = a->kind == HF_KIND_CHOICE ? a->valid_low : 0.5 * (low + high);
        }
        hf_status status = hf_quantity_evaluate(q, x, NULL, HF_EXTRAPOLATE, &y, &message);
        if (hf_failed(status)) {
            MUST(q, *message.text);
            CHECK_CLOSE(y, 7, 0, 0, "untouched on error");
        } else {
            MUST(q, isfinite(y));
        }
        if (!q->evaluate)
            MUST(q, status == HF_ENOMODEL);
        for (size_t k = 0; q->evaluate && k < q->argument_count; k++) {
            const double keep = x[k];
            x[k] = INFINITY;
            y = 7;
            status = hf_quantity_evaluate(q, x, NULL, HF_EXTRAPOLATE, &y, &message);
            if (!hf_failed(status))
                fail_msg("%s answers for an infinite %s", q->name, q->arguments[k].name);
            CHECK_CLOSE(y, 7, 0, 0, "untouched on error");
            if (!strstr(message.text, q->arguments[k].name))
                fail_msg("%s: \"%s\" does not name %s", q->name, message.text,
                         q->arguments[k].name);
            x[k] = keep;
        }
    }
}

static void test_messages(void **unused)
{
    (void)unused;
    const hf_quantity *q = hf_quantity_find("regain");
    hf_message message;
    double y;
    assert_int_equal(hf_quantity_evaluate(q, (double[]){NAN, NAN, NAN}, NULL, 0, &y, &message),
                     HF_EINVAL);
    assert_non_null(strstr(message.text, "humidity is missing"));
    assert_int_equal(hf_quantity_evaluate(q, (double[]){1.2, NAN, NAN}, NULL, 1, &y, &message),
                     HF_ERANGE);
    assert_non_null(strstr(message.text, "1.2 (120 %)"));
    assert_int_equal(hf_quantity_evaluate(q, (double[]){0.5, 473.15, NAN}, NULL, 0, &y, &message),
                     HF_ERANGE);
    assert_non_null(strstr(message.text, "200 degC"));
    assert_int_equal(hf_quantity_evaluate(q, (double[]){0.5, 473.15, NAN}, NULL, 1, &y, &message),
                     HF_EXTRAPOLATED);
    assert_non_null(strstr(message.text, "evidence"));
    assert_int_equal(hf_quantity_evaluate(NULL, NULL, NULL, 0, &y, NULL), HF_EINVAL);
}

/* With one lognormal parameter that multiplies the answer, the range is its own 95 % range. */
static void test_range(void **unused)
{
    (void)unused;
    double value, low, high;
    assert_int_equal(hf_quantity_range(hf_quantity_find("helix_rate_ironing"), (double[]){473.15},
                                       NULL, 0, &value, &low, &high, NULL),
                     HF_OK);
    size_t i;
    assert_int_equal(hf_parameter_find("rate.helix.ironing.rate", &i), HF_OK);
    const double spread = 1.959963984540054 * hf_parameter_at(i)->spread;
    CHECK_CLOSE(low, value * exp(-spread), 1e-9, 0, "closed form");
    CHECK_CLOSE(high, value * exp(spread), 1e-9, 0, "closed form");
    /* No spread, no range. */
    assert_int_equal(hf_quantity_range(hf_quantity_find("steam_expansion_ratio"),
                                       (double[]){373.15}, NULL, 0, &value, &low, &high, NULL),
                     HF_OK);
    assert_true(low <= value && value <= high);
}

/* Each end is an answer of the model: no probability passes 1 or falls below 0, however wide the spreads are. */
static void test_range_of_shares(void **unused)
{
    (void)unused;
    static const struct {
        const char *name;
        double x[4], from, to; /* the first argument runs */
    } share[] = {
        {"break_probability", {0, 1}, 1e8, 3e8},
        {"fatigue_survival", {0, 1.03e8, 0.6}, 0, 3e5},
        {"disulfide_reduced", {0, 800, 300}, 285, 310},
        {"tryptophan_remaining", {0, 600}, 380, 440},
    };
    for (size_t q = 0; q < sizeof share / sizeof share[0]; q++) {
        double x[4], y, low, high, widest = 0;
        memcpy(x, share[q].x, sizeof x);
        const hf_quantity *quantity = hf_quantity_find(share[q].name);
        for (int i = 0; i <= 20; i++) {
            x[0] = share[q].from + (share[q].to - share[q].from) * i / 20;
            const hf_status status =
                hf_quantity_range(quantity, x, NULL, HF_EXTRAPOLATE, &y, &low, &high, NULL);
            assert_false(hf_failed(status));
            assert_true(0 <= low && low <= y && y <= high && high <= 1);
            widest = fmax(widest, high - low);
        }
        assert_true(widest > 0.05);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_table),           cmocka_unit_test(test_every_quantity),
        cmocka_unit_test(test_messages),        cmocka_unit_test(test_range),
        cmocka_unit_test(test_range_of_shares),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
