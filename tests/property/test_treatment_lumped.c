/* One temperature for the whole fibre against heat balanced across it: they come together as the Biot number
 * h R/k goes to zero, in proportion to it, and conserve the same water. */
#include "../unit/treatment_kit.h"

/* Largest difference at any sample: regain of the cells, mean temperature (K). */
static void compare(double heat_transfer, double *regain, double *temperature)
{
    hf_simulation *s[2];
    for (int lumped = 0; lumped < 2; lumped++) {
        hf_simulation_options options = HF_SIMULATION_OPTIONS_INIT;
        hf_fibre_description d = HF_FIBRE_DESCRIPTION_INIT;
        options.lumped = lumped;
        options.tolerance = 1e-7;
        d.regain = 0.25;
        s[lumped] = simulate(&d, NULL, &options);
        hf_step press = plates(1000 / heat_transfer, 160, 1, 0); /* the same heat in each */
        press.heat_transfer = heat_transfer;
        run_one(s[lumped], press);
    }
    const size_t n = hf_simulation_cells(s[0]);
    double a[60], b[60];
    assert_int_equal(n, 60);
    *regain = *temperature = 0;
    for (size_t i = 0; i < hf_simulation_samples(s[0]); i++) {
        assert_int_equal(hf_simulation_profile(s[0], i, NULL, a, NULL), HF_OK);
        assert_int_equal(hf_simulation_profile(s[1], i, NULL, b, NULL), HF_OK);
        for (size_t c = 0; c < n; c++)
            *regain = fmax(*regain, fabs(a[c] - b[c]));
        *temperature =
            fmax(*temperature, fabs(hf_simulation_column(s[0], HF_COLUMN_TEMPERATURE)[i] -
                                    hf_simulation_column(s[1], HF_COLUMN_TEMPERATURE)[i]));
    }
    hf_simulation_free(s[0]);
    hf_simulation_free(s[1]);
}

static void test_small_biot_numbers(void **unused)
{
    (void)unused;
    double before[2] = {0, 0};
    for (int i = 0; i < 3; i++) {
        const double h = 1000 / pow(10, i), biot = h * 35e-6 / 0.22;
        double w, T;
        compare(h, &w, &T);
        print_message("  Biot number %.4f: regain differs by %.1e, temperature by %.3f K\n", biot,
                      w, T);
        if (i > 0) {
            assert_true(w < 0.2 * before[0] && T < 0.2 * before[1]); /* 0.1 in the limit */
            assert_true(w < 2e-3 * pow(10, 1 - i) && T < 0.7 * pow(10, 1 - i));
        }
        before[0] = w;
        before[1] = T;
    }
}

/* In still air at room temperature the two are one: drying of a wet fibre. */
static void test_still_air(void **unused)
{
    (void)unused;
    hf_simulation *s[2];
    for (int lumped = 0; lumped < 2; lumped++) {
        hf_simulation_options options = HF_SIMULATION_OPTIONS_INIT;
        hf_fibre_description d = HF_FIBRE_DESCRIPTION_INIT;
        options.lumped = lumped;
        d.regain = 0.3;
        d.film = 0.2;
        s[lumped] = simulate(&d, NULL, &options);
        run_one(s[lumped], rest(600));
    }
    for (size_t i = 0; i < hf_simulation_samples(s[0]); i++) {
        CHECK_CLOSE(hf_simulation_column(s[0], HF_COLUMN_REGAIN)[i],
                    hf_simulation_column(s[1], HF_COLUMN_REGAIN)[i], 0, 1e-4, "Biot number 0.03");
        CHECK_CLOSE(hf_simulation_column(s[0], HF_COLUMN_TEMPERATURE)[i],
                    hf_simulation_column(s[1], HF_COLUMN_TEMPERATURE)[i], 0, 0.1,
                    "Biot number 0.03");
    }
    CHECK_CLOSE(time_of_event(s[0], HF_EVENT_FILM_GONE), time_of_event(s[1], HF_EVENT_FILM_GONE),
                1e-2, 0, "the film goes at the same time");
    hf_simulation_free(s[0]);
    hf_simulation_free(s[1]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_small_biot_numbers),
        cmocka_unit_test(test_still_air),
    };
    return cmocka_run_group_tests_name("one temperature or many", tests, NULL, NULL);
}
