/* Properties of the vapour pressure that hold for every state, over a spread of states. */
#include "../unit/check.h"

#include <hairfibre/vapour.h>
#include <hairfibre/water.h>

enum { STATES = 4000 };

/* Numbers in (0, 1) that are the same on every machine. */
static double next_number(uint64_t *state)
{
    *state = *state * 6364136223846793005u + 1442695040888963407u;
    return ((double)(*state >> 11) + 0.5) / 9007199254740992.0;
}

typedef struct state {
    double T, w;
    hf_branch branch;
} state;

static state draw(uint64_t *seed)
{
    state s;
    s.T = 273.2 + 249.9 * next_number(seed);
    s.w = 0.314 * next_number(seed);
    s.branch = next_number(seed) < 0.5 ? HF_ABSORPTION : HF_DESORPTION;
    return s;
}

static double pressure(const state *s, const hf_parameters *set)
{
    double p = (double)NAN;
    const hf_status status =
        hf_internal_vapour_pressure_e(s->T, s->w, s->branch, set, HF_EXTRAPOLATE, &p);
    assert_false(hf_failed(status));
    return p;
}

static void test_bounds_and_order(void **unused)
{
    (void)unused;
    static const char *const sets[] = {"virgin", "bleached", "wool"};
    uint64_t seed = 1;
    for (int k = 0; k < 3; k++) {
        hf_parameters *set;
        assert_int_equal(hf_parameters_new(&set, sets[k]), HF_OK);
        for (int i = 0; i < STATES; i++) {
            const state s = draw(&seed);
            const double p = pressure(&s, set);
            assert_true(p > 0 && p <= hf_saturation_pressure(s.T));
            const state hotter = {fmin(s.T + 1, 523.15), s.w, s.branch};
            assert_true(pressure(&hotter, set) > p);
            const state wetter = {s.T, fmin(s.w + 0.01, 0.3149), s.branch};
            assert_true(pressure(&wetter, set) >= p);
            double held;
            assert_false(hf_failed(hf_saturation_regain_e(s.T, s.branch, set, 1, &held)));
            /* Strictly lower than the saturation line only while all water is sorbed. */
            if (s.w < held * (1 - 1e-9))
                assert_true(p < hf_saturation_pressure(s.T));
            else
                CHECK_CLOSE(p, hf_saturation_pressure(s.T), 1e-9, 0, "liquid water");
        }
        hf_parameters_free(set);
    }
}

/* The boiling temperature at the pressure of a state is the temperature of that state. */
static void test_boiling_is_the_inverse(void **unused)
{
    (void)unused;
    uint64_t seed = 2;
    for (int i = 0; i < STATES; i++) {
        const state s = draw(&seed);
        const double p = pressure(&s, NULL);
        double T;
        if (p < 612 || p > 3.975e6)
            continue;
        assert_false(hf_failed(
            hf_internal_boiling_temperature_e(s.w, p, s.branch, NULL, HF_EXTRAPOLATE, &T)));
        /* 1e-12 of pressure, which changes by 2 to 7 % per kelvin, and rounding of ln p */
        CHECK_CLOSE(T, s.T, 0, 1e-9, "inverse of the pressure");
    }
}

/* Less water or more pressure: boils later, never below plain water. */
static void test_boiling_order(void **unused)
{
    (void)unused;
    for (double pressure = 5e4; pressure < 5e5; pressure *= 1.3) {
        double before = 0;
        for (double w = 0.31; w > 0.02; w -= 0.01) {
            double T;
            assert_false(hf_failed(hf_internal_boiling_temperature_e(w, pressure, HF_ABSORPTION,
                                                                     NULL, HF_EXTRAPOLATE, &T)));
            assert_true(T >= before - 1e-9 && T >= hf_saturation_temperature(pressure) - 1e-8);
            before = T;
        }
    }
}

/* Desorption holds more water at the same activity, so the same regain presses less. */
static void test_branches(void **unused)
{
    (void)unused;
    uint64_t seed = 3;
    for (int i = 0; i < STATES; i++) {
        state s = draw(&seed);
        s.branch = HF_ABSORPTION;
        const double up = pressure(&s, NULL);
        s.branch = HF_DESORPTION;
        assert_true(pressure(&s, NULL) <= up * (1 + 1e-12));
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_bounds_and_order),
        cmocka_unit_test(test_boiling_is_the_inverse),
        cmocka_unit_test(test_boiling_order),
        cmocka_unit_test(test_branches),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
