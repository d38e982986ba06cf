/* Room keratin: what must hold whatever the numbers are. Derivatives are compared with differences,
 * integrals with quadrature, rules of mixing with their definition. */
#include "../unit/check.h"

#include "base/catalogue.h"
#include "keratin/isotherm.h"
#include "keratin/properties.h"

#include <hairfibre/keratin.h>

#define GAS         8.31446261815324
#define WATER_MOLAR 0.018015268

static const char *const set_names[] = {"virgin", "bleached", "wool"};
#define SETS 3

static hf_parameters *sets[SETS];

static int make_sets(void **unused)
{
    (void)unused;
    for (size_t i = 0; i < SETS; i++)
        if (hf_parameters_new(&sets[i], set_names[i]) != HF_OK)
            return 1;
    return 0;
}

static int free_sets(void **unused)
{
    (void)unused;
    for (size_t i = 0; i < SETS; i++)
        hf_parameters_free(sets[i]);
    return 0;
}

/* Every set, both branches, 0..250 degC. */
#define FOR_EACH_STATE(set, branch, T)                                                             \
    for (size_t set = 0; set < SETS; set++)                                                        \
        for (int branch = 0; branch < 2; branch++)                                                 \
            for (double T = 273.15; T < 523.2; T += 12.5)

static double regain(double a, double T, int branch, const hf_parameters *set)
{
    double w = (double)NAN;
    if (hf_failed(hf_regain_e(a, T, (hf_branch)branch, set, HF_EXTRAPOLATE, &w)))
        fail();
    return w;
}

static double activity(double w, double T, int branch, const hf_parameters *set)
{
    double a = (double)NAN;
    if (hf_failed(hf_water_activity_e(w, T, (hf_branch)branch, set, HF_EXTRAPOLATE, &a)))
        fail();
    return a;
}

static double isosteric(double w, double T, int branch, const hf_parameters *set)
{
    double q = (double)NAN;
    if (hf_failed(hf_isosteric_heat_e(w, T, (hf_branch)branch, set, HF_EXTRAPOLATE, &q)))
        fail();
    return q;
}

static void test_strictly_monotonic(void **unused)
{
    (void)unused;
    FOR_EACH_STATE(s, b, T)
    {
        double before = -1;
        for (int i = 0; i <= 2000; i++) {
            const double w = regain(i / 2000.0, T, b, sets[s]);
            assert_true(w > before);
            before = w;
        }
        assert_true(regain(0, T, b, sets[s]) == 0);
    }
}

static void test_falls_with_temperature(void **unused)
{
    (void)unused;
    for (size_t s = 0; s < SETS; s++)
        for (int b = 0; b < 2; b++)
            for (double a = 0.05; a <= 1; a += 0.05)
                for (double T = 273.15; T < 520; T += 5)
                    assert_true(regain(a, T + 5 - 2e-13 * T, b, sets[s]) <
                                regain(a, T, b, sets[s]));
}

static void test_inverse(void **unused)
{
    (void)unused;
    FOR_EACH_STATE(s, b, T)
    for (int i = 0; i <= 400; i++) {
        const double a = i / 400.0;
        const double back = activity(regain(a, T, b, sets[s]), T, b, sets[s]);
        CHECK_CLOSE(back, a, 1e-12, 1e-300, "inverse of the isotherm");
        assert_true(back <= 1);
    }
    for (double a = 1e-9; a < 1e-2; a *= 10)
        CHECK_CLOSE(activity(regain(a, 300, 0, NULL), 300, 0, NULL), a, 1e-12, 0, "nearly dry");
}

/* The quadratic inverse where its plain form divides by zero, and where its root cancels. */
static void test_inverse_of_changed_constants(void **unused)
{
    (void)unused;
    static const double c[] = {1, 1.0000000001, 1.5, 2, 2.5, 100};
    for (size_t i = 0; i < sizeof c / sizeof c[0]; i++) {
        hf_parameters *set = NULL;
        assert_int_equal(hf_parameters_copy(&set, NULL), HF_OK);
        assert_int_equal(hf_parameters_set(set, "sorption.absorption.c", c[i]), HF_OK);
        assert_int_equal(hf_parameters_set(set, "sorption.enthalpy.c", 0), HF_OK);
        for (double a = 0; a <= 1; a += 1.0 / 256)
            CHECK_CLOSE(activity(regain(a, 350, 0, set), 350, 0, set), a, 1e-12, 1e-300,
                        "inverse near C = 1");
        hf_parameters_free(set);
    }
}

static void test_desorption_above_absorption(void **unused)
{
    (void)unused;
    for (size_t s = 0; s < SETS; s++)
        for (double T = 273.15; T < 523.2; T += 12.5)
            for (int i = 0; i <= 500; i++) {
                const double a = i / 500.0;
                assert_true(regain(a, T, 1, sets[s]) >= regain(a, T, 0, sets[s]));
            }
    assert_true(regain(0.5, 298.15, 1, NULL) > regain(0.5, 298.15, 0, NULL) + 0.01);
    /* The loop closes before saturation in the cold and stays open in the heat. */
    assert_true(regain(0.99, 298.15, 1, NULL) == regain(0.99, 298.15, 0, NULL));
    assert_true(regain(1, 373.15, 1, NULL) > regain(1, 373.15, 0, NULL));
}

static void test_slope_of_isotherm(void **unused)
{
    (void)unused;
    FOR_EACH_STATE(s, b, T)
    for (int i = 1; i < 40; i++) {
        const double a = i / 40.0, h = 1e-5;
        double slope = 0;
        assert_false(
            hf_failed(hf_regain_slope_e(a, T, (hf_branch)b, sets[s], HF_EXTRAPOLATE, &slope)));
        const double difference =
            (regain(a + h, T, b, sets[s]) - regain(a - h, T, b, sets[s])) / (2 * h);
        /* leave out the kink where the loop closes */
        if (b && (regain(a + h, T, 1, sets[s]) == regain(a + h, T, 0, sets[s])) !=
                     (regain(a - h, T, 1, sets[s]) == regain(a - h, T, 0, sets[s])))
            continue;
        CHECK_CLOSE(slope, difference, 1e-6, 0, "central difference of the isotherm");
    }
}

static void test_internal_derivatives(void **unused)
{
    (void)unused;
    FOR_EACH_STATE(s, b, T)
    {
        hfi_isotherm here, up, down;
        const double *values = hfi_values(sets[s]);
        const double dT = 1e-3, dw = 1e-7;
        hfi_isotherm_at(&here, values, (hf_branch)b, T);
        hfi_isotherm_at(&up, values, (hf_branch)b, T + dT);
        hfi_isotherm_at(&down, values, (hf_branch)b, T - dT);
        for (double w = 0.002; w < hfi_isotherm_regain(&here, 0.9, NULL); w += 0.013) {
            double da_dw, da_dT;
            const double a = hfi_isotherm_activity(&here, w, &da_dw, &da_dT);
            CHECK_CLOSE(da_dw,
                        (hfi_isotherm_activity(&here, w + dw, NULL, NULL) -
                         hfi_isotherm_activity(&here, w - dw, NULL, NULL)) /
                            (2 * dw),
                        1e-6, 0, "central difference in regain");
            CHECK_CLOSE(da_dT,
                        (hfi_isotherm_activity(&up, w, NULL, NULL) -
                         hfi_isotherm_activity(&down, w, NULL, NULL)) /
                            (2 * dT),
                        1e-6, 0, "central difference in temperature");
            CHECK_CLOSE(hfi_isotherm_heat(&here, w, T), GAS * T * T / WATER_MOLAR * da_dT / a,
                        1e-12, 0, "Q = R T^2 (d ln a / dT)_w / M");
        }
    }
}

static void test_isosteric_heat_by_differences(void **unused)
{
    (void)unused;
    FOR_EACH_STATE(s, b, T)
    {
        if (T < 274 || T > 523)
            continue; /* room for the difference */
        const double h = 0.01;
        const double most = regain(1, T + h, b, sets[s]);
        for (double f = 0.01; f < 0.9; f += 0.045) {
            const double w = f * most;
            const double difference =
                (log(activity(w, T + h, b, sets[s])) - log(activity(w, T - h, b, sets[s]))) /
                (2 * h);
            CHECK_CLOSE(isosteric(w, T, b, sets[s]), GAS * T * T / WATER_MOLAR * difference, 2e-7,
                        0, "Clausius-Clapeyron on the isotherms themselves");
        }
    }
}

/* Activity where both branches meet, 1 when they do not. */
static double closing(double T, const hf_parameters *set)
{
    double low = 0.5, high = 1;
    if (regain(1, T, 1, set) > regain(1, T, 0, set))
        return 1;
    for (int i = 0; i < 60; i++) {
        const double middle = 0.5 * (low + high);
        if (regain(middle, T, 1, set) > regain(middle, T, 0, set))
            low = middle;
        else
            high = middle;
    }
    return high;
}

/* Integral of Q dw = Q (dw/da) da by Gauss-Legendre with three points on many pieces. */
static double heat_between(double from, double to, double T, int b, const hf_parameters *set)
{
    static const double at[] = {0.1127016653792583, 0.5, 0.8872983346207417};
    static const double weight[] = {5.0 / 18, 8.0 / 18, 5.0 / 18};
    double sum = 0;
    for (int i = 0; i < 400; i++)
        for (int j = 0; j < 3; j++) {
            const double a = from + (to - from) * (i + at[j]) / 400;
            double slope;
            if (hf_failed(hf_regain_slope_e(a, T, (hf_branch)b, set, HF_EXTRAPOLATE, &slope)))
                fail();
            sum += weight[j] * isosteric(regain(a, T, b, set), T, b, set) * slope;
        }
    return sum * (to - from) / 400;
}

static void test_heat_of_wetting_is_the_integral(void **unused)
{
    (void)unused;
    FOR_EACH_STATE(s, b, T)
    for (double a = 0; a < 0.8; a += 0.3) {
        const double close = b ? closing(T, sets[s]) : 1;
        double sum = heat_between(a, close, T, b, sets[s]);
        if (close < 1)
            sum += heat_between(close, 1, T, b, sets[s]);
        double closed = 0;
        assert_false(hf_failed(hf_wetting_heat_e(regain(a, T, b, sets[s]), T, (hf_branch)b, sets[s],
                                                 HF_EXTRAPOLATE, &closed)));
        CHECK_CLOSE(closed, sum, 1e-9, 0, "quadrature of the isosteric heat");
    }
}

static void test_hailwood_horrobin_is_gab(void **unused)
{
    (void)unused;
    for (double k1 = 0.5; k1 < 40; k1 *= 1.7)
        for (double k2 = 0.3; k2 < 0.95; k2 += 0.1)
            for (double a = 0; a <= 1; a += 0.03125) {
                const double site = 0.21;
                CHECK_CLOSE(hf_isotherm_hailwood_horrobin(a, site, k1, k2),
                            hf_isotherm_gab(a, WATER_MOLAR / site, k1 + 1, k2), 1e-12, 0,
                            "algebraic identity");
            }
    for (double a = 0; a < 0.99; a += 0.03125)
        CHECK_CLOSE(hf_isotherm_bet(a, 0.07, 9), 0.07 * 9 * a / ((1 - a) * (1 - a + 9 * a)), 1e-13,
                    0, "definition of BET");
}

static void test_shipped_isotherm_is_gab(void **unused)
{
    (void)unused;
    double wm, c, k;
    for (size_t s = 0; s < SETS; s++) {
        assert_int_equal(hf_parameters_get(sets[s], "sorption.absorption.monolayer", &wm), HF_OK);
        assert_int_equal(hf_parameters_get(sets[s], "sorption.absorption.c", &c), HF_OK);
        assert_int_equal(hf_parameters_get(sets[s], "sorption.absorption.k", &k), HF_OK);
        for (double a = 0; a <= 1; a += 0.0625)
            CHECK_CLOSE(regain(a, 298.15, 0, sets[s]), hf_isotherm_gab(a, wm, c, k), 1e-13, 0,
                        "at 25 degC the Arrhenius terms are 1");
    }
}

/* ---- scanning -------------------------------------------------------------------------------- */

static unsigned random_state = 12345;

static double random_number(void) /* 0..1, the same on every machine */
{
    random_state = random_state * 1664525u + 1013904223u;
    return (double)(random_state >> 8) / 16777216.0;
}

static void test_scanning_stays_in_the_loop(void **unused)
{
    (void)unused;
    for (size_t s = 0; s < SETS; s++)
        for (double T = 283.15; T < 420; T += 27) {
            double path[200], w[200];
            for (size_t i = 0; i < 200; i++) {
                const double r = random_number();
                path[i] = i % 17 == 3 ? 0 : i % 23 == 5 ? 1 : r;
            }
            const double low = regain(path[0], T, 0, sets[s]),
                         high = regain(path[0], T, 1, sets[s]);
            assert_int_equal(hf_scanning_regain_v(200, path, low + 0.5 * (high - low), T, sets[s],
                                                  HF_STRICT, w, NULL),
                             HF_OK);
            for (size_t i = 0; i < 200; i++) {
                assert_true(w[i] >= regain(path[i], T, 0, sets[s]));
                assert_true(w[i] <= regain(path[i], T, 1, sets[s]));
                if (i)
                    assert_true((w[i] - w[i - 1]) * (path[i] - path[i - 1]) >= 0);
            }
        }
}

static void test_scanning_on_the_branches(void **unused)
{
    (void)unused;
    double path[101], w[101];
    for (size_t i = 0; i <= 100; i++)
        path[i] = (double)i / 100;
    assert_int_equal(hf_scanning_regain_v(101, path, 0, 298.15, NULL, HF_STRICT, w, NULL), HF_OK);
    for (size_t i = 0; i <= 100; i++)
        CHECK_CLOSE(w[i], regain(path[i], 298.15, 0, NULL), 1e-12, 1e-15,
                    "wetting from dry is the absorption branch");
    for (size_t i = 0; i <= 100; i++)
        path[i] = 1 - (double)i / 100;
    assert_int_equal(hf_scanning_regain_v(101, path, regain(1, 298.15, 1, NULL), 298.15, NULL,
                                          HF_STRICT, w, NULL),
                     HF_OK);
    for (size_t i = 0; i <= 100; i++)
        CHECK_CLOSE(w[i], regain(path[i], 298.15, 1, NULL), 1e-12, 1e-15,
                    "drying from wet is the desorption branch");
}

static void test_scanning_follows_the_rule(void **unused)
{
    (void)unused;
    const double T = 298.15;
    for (double a = 0.1; a < 0.95; a += 0.07)
        for (double y = 0; y <= 1; y += 0.25)
            for (int b = 0; b < 2; b++) {
                const double ua = regain(a, T, 0, NULL), ud = regain(a, T, 1, NULL);
                const double u = y == 1 ? ud : ua + y * (ud - ua);
                double sa, sd;
                assert_int_equal(hf_regain_slope_e(a, T, HF_ABSORPTION, NULL, HF_STRICT, &sa),
                                 HF_OK);
                assert_int_equal(hf_regain_slope_e(a, T, HF_DESORPTION, NULL, HF_STRICT, &sd),
                                 HF_OK);
                const double near = b ? sd : sa, far = b ? sa : sd;
                const double to_near = b ? ud - u : u - ua, to_far = b ? u - ua : ud - u;
                const double rule = (0.1 * to_near * to_near * far + to_far * to_far * near) /
                                    ((ud - ua) * (ud - ua));
                double slope = 0;
                assert_int_equal(
                    hf_scanning_slope_e(u, a, T, (hf_branch)b, NULL, HF_STRICT, &slope), HF_OK);
                CHECK_CLOSE(slope, rule, 1e-10, 0, "rode2001, both formulae");
                /* the path has this slope */
                const double step = b ? -1e-5 : 1e-5;
                const double path[] = {a, a + step};
                double w[2];
                assert_int_equal(hf_scanning_regain_v(2, path, u, T, NULL, HF_STRICT, w, NULL),
                                 HF_OK);
                CHECK_CLOSE((w[1] - w[0]) / step, rule, 2e-3, 0, "slope of the path");
            }
}

static void test_scanning_does_not_depend_on_stops(void **unused)
{
    (void)unused;
    const double coarse[] = {0.9, 0.35, 0.8, 0.2};
    double w[4], fine_path[1651], fine[1651];
    size_t n = 0;
    fine_path[n++] = coarse[0];
    for (size_t leg = 0; leg < 3; leg++)
        for (size_t i = 1; i <= 550; i++)
            fine_path[n++] = coarse[leg] + (coarse[leg + 1] - coarse[leg]) * (double)i / 550;
    const double start = regain(0.9, 298.15, 1, NULL);
    assert_int_equal(hf_scanning_regain_v(4, coarse, start, 298.15, NULL, HF_STRICT, w, NULL),
                     HF_OK);
    assert_int_equal(hf_scanning_regain_v(n, fine_path, start, 298.15, NULL, HF_STRICT, fine, NULL),
                     HF_OK);
    for (size_t leg = 1; leg < 4; leg++)
        CHECK_CLOSE(fine[550 * leg], w[leg], 0, 1e-6, "a second-order step of 0.001 in humidity");
}

/* ---- swelling -------------------------------------------------------------------------------- */

static void test_swelling_identities(void **unused)
{
    (void)unused;
    for (size_t s = 0; s < SETS; s++) {
        double dry = 0;
        assert_int_equal(hf_parameters_get(sets[s], "swelling.density.dry", &dry), HF_OK);
        for (double from = 0; from < 0.35; from += 0.05)
            for (double w = 0; w < 0.35; w += 0.01) {
                const double d = 1 + hf_diameter_swelling(w, from, sets[s]);
                const double l = 1 + hf_length_swelling(w, from, sets[s]);
                const double area = 1 + hf_area_swelling(w, from, sets[s]);
                const double volume = 1 + hf_volume_swelling(w, from, sets[s]);
                CHECK_CLOSE(area, d * d, 1e-14, 0, "round section");
                CHECK_CLOSE(volume, d * d * l, 1e-14, 0, "cylinder");
                CHECK_CLOSE(d * (1 + hf_diameter_swelling(from, 0, sets[s])),
                            1 + hf_diameter_swelling(w, 0, sets[s]), 1e-14, 0,
                            "change of baseline");
                CHECK_CLOSE(l * (1 + hf_length_swelling(from, 0, sets[s])),
                            1 + hf_length_swelling(w, 0, sets[s]), 1e-14, 0, "change of baseline");
                CHECK_CLOSE(hf_fibre_density(w, sets[s]) * volume / (1 + w),
                            hf_fibre_density(from, sets[s]) / (1 + from), 1e-13, 0,
                            "dry mass is kept");
            }
        CHECK_CLOSE(hf_fibre_density(0, sets[s]), dry, 1e-15, 0, "dry");
    }
}

static void test_swelling_slopes(void **unused)
{
    (void)unused;
    const double h = 1e-6;
    for (size_t s = 0; s < SETS; s++) {
        const double *values = hfi_values(sets[s]);
        double slope;
        for (double w = 0.001; w < 0.9; w += 0.0173) {
            hfi_diameter_ratio(values, w, &slope);
            assert_true(slope > 0);
            CHECK_CLOSE(slope,
                        (hfi_diameter_ratio(values, w + h, NULL) -
                         hfi_diameter_ratio(values, w - h, NULL)) /
                            (2 * h),
                        1e-7, 0, "central difference");
            hfi_length_ratio(values, w, &slope);
            assert_true(slope > 0);
            CHECK_CLOSE(
                slope,
                (hfi_length_ratio(values, w + h, NULL) - hfi_length_ratio(values, w - h, NULL)) /
                    (2 * h),
                1e-5, 1e-8, "central difference");
            hfi_volume_ratio(values, w, &slope);
            CHECK_CLOSE(
                slope,
                (hfi_volume_ratio(values, w + h, NULL) - hfi_volume_ratio(values, w - h, NULL)) /
                    (2 * h),
                1e-7, 0, "central difference");
        }
        hfi_length_ratio(values, 0, &slope);
        assert_true(slope == 0);
    }
}

/* ---- heat, diffusion, transitions ------------------------------------------------------------ */

static void test_capacity_mixes_by_mass(void **unused)
{
    (void)unused;
    double water = 0;
    assert_int_equal(hf_parameters_get(NULL, "thermal.capacity.water", &water), HF_OK);
    for (double T = 280; T < 420; T += 20)
        for (double w = 0; w < 0.35; w += 0.05) {
            /* 1 kg dry fibre and w kg water, warmed by 1 K */
            const double parts = hf_heat_capacity(0, T, NULL) + w * water;
            CHECK_CLOSE((1 + w) * hf_heat_capacity(w, T, NULL), parts, 1e-13, 0,
                        "heat of the parts");
        }
}

static void test_diffusivity_shape(void **unused)
{
    (void)unused;
    for (size_t s = 0; s < SETS; s++) {
        double wet = 0, before = 0;
        assert_int_equal(hf_parameters_get(sets[s], "diffusion.wet", &wet), HF_OK);
        for (double w = 0; w < 0.35; w += 0.01) {
            const double d = hf_diffusivity(w, 298.15, sets[s]);
            assert_true(d > before && d < wet * (1 + 1e-12));
            before = d;
        }
        CHECK_CLOSE(hf_diffusivity(0.085, 298.15, sets[s]), wet / 2, 1e-12, 0, "midpoint");
        CHECK_CLOSE(log(hf_diffusivity(0.2, 320, sets[s]) / hf_diffusivity(0.2, 290, sets[s])),
                    25e3 / GAS * (1 / 290.0 - 1 / 320.0), 1e-10, 0, "Arrhenius");
        CHECK_CLOSE(hf_diffusivity_exponential(0.3, 298.15, sets[s]) /
                        hf_diffusivity_exponential(0.03, 298.15, sets[s]),
                    exp(13.7 * 0.27), 1e-10, 0, "exponential law");
    }
}

static void test_fox_is_a_weighted_mean(void **unused)
{
    (void)unused;
    for (double w = 0; w < 0.35; w += 0.02) {
        const double f = hf_moisture_content(w);
        CHECK_CLOSE(1 / hf_glass_transition(w, NULL), f / 136 + (1 - f) / 417.15, 1e-13, 0,
                    "Fox, by fraction of the wet mass");
    }
}

/* First-order melting while heating: the rate is largest at the temperature of Kissinger's
 * equation. */
static double fastest(double rate, double energy, double log10_frequency, double centre)
{
    const double step = 0.002;
    double left = 1, best = 0, at = 0;
    for (double T = centre - 60; T < centre + 30; T += step) {
        const double k = pow(10, log10_frequency) * exp(-energy / (GAS * (T + step / 2)));
        const double after = left * exp(-k * step / rate);
        if (left - after > best) {
            best = left - after;
            at = T + step / 2;
        }
        left = after;
    }
    return at;
}

static void test_peak_is_where_melting_is_fastest(void **unused)
{
    (void)unused;
    static const char *const energies[] = {"rate.helix.wet.energy", "rate.helix.dry.energy"};
    static const char *const frequencies[] = {"rate.helix.wet.log10_frequency",
                                              "rate.helix.dry.log10_frequency"};
    for (int state = 0; state < 2; state++)
        for (double rate = 0.01; rate < 0.17; rate *= 2) {
            double energy, frequency;
            assert_int_equal(hf_parameters_get(NULL, energies[state], &energy), HF_OK);
            assert_int_equal(hf_parameters_get(NULL, frequencies[state], &frequency), HF_OK);
            const double peak = hf_denaturation_peak(rate, (hf_water_state)state, NULL);
            CHECK_CLOSE(peak, fastest(rate, energy, frequency, peak), 0, 0.02,
                        "stepwise melting on a heating ramp");
        }
}

static void test_melting_between_its_ends(void **unused)
{
    (void)unused;
    for (size_t s = 0; s < SETS; s++) {
        double dry, wet, at;
        assert_int_equal(hf_parameters_get(sets[s], "denaturation.dry", &dry), HF_OK);
        assert_int_equal(hf_parameters_get(sets[s], "denaturation.wet", &wet), HF_OK);
        assert_int_equal(hf_parameters_get(sets[s], "denaturation.wet_regain", &at), HF_OK);
        CHECK_CLOSE(hf_denaturation_temperature(0, sets[s]), dry, 1e-14, 0, "dry end");
        CHECK_CLOSE(hf_denaturation_temperature(at, sets[s]), wet, 1e-14, 0, "wet end");
        for (double w = 0.01; w < 0.34; w += 0.01)
            assert_true(hf_denaturation_temperature(w, sets[s]) <
                        hf_denaturation_temperature(w - 0.01, sets[s]));
    }
}

/* ---- named sets ------------------------------------------------------------------------------ */

static void test_bleached_against_virgin(void **unused)
{
    (void)unused;
    const hf_parameters *virgin = sets[0], *bleached = sets[1];
    for (double a = 0.4; a < 0.81; a += 0.05)
        assert_true(regain(a, 298.15, 0, bleached) < regain(a, 298.15, 0, virgin));
    assert_true(regain(1, 298.15, 0, bleached) > regain(1, 298.15, 0, virgin) + 0.02);
    assert_true(hf_liquid_retention(bleached) > hf_liquid_retention(virgin));
    /* sign rule of the melting temperature: dry up, wet down */
    assert_true(hf_denaturation_temperature(0, bleached) > hf_denaturation_temperature(0, virgin));
    assert_true(hf_denaturation_temperature(0.32, bleached) <
                hf_denaturation_temperature(0.32, virgin));
    CHECK_CLOSE(hf_diffusivity(0.3, 298.15, bleached), 2 * hf_diffusivity(0.3, 298.15, virgin),
                1e-12, 0, "assumption of the set");
    /* same diameter up to 93 % humidity within the spread of one measurement, 1 point */
    const double of = hf_diameter_swelling(regain(0.93, 298.15, 0, bleached), 0, bleached);
    CHECK_CLOSE(of, hf_diameter_swelling(regain(0.93, 298.15, 0, virgin), 0, virgin), 0, 0.01,
                "breuer1980: no difference, printed as 8-9 %");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_strictly_monotonic),
        cmocka_unit_test(test_falls_with_temperature),
        cmocka_unit_test(test_inverse),
        cmocka_unit_test(test_inverse_of_changed_constants),
        cmocka_unit_test(test_desorption_above_absorption),
        cmocka_unit_test(test_slope_of_isotherm),
        cmocka_unit_test(test_internal_derivatives),
        cmocka_unit_test(test_isosteric_heat_by_differences),
        cmocka_unit_test(test_heat_of_wetting_is_the_integral),
        cmocka_unit_test(test_hailwood_horrobin_is_gab),
        cmocka_unit_test(test_shipped_isotherm_is_gab),
        cmocka_unit_test(test_scanning_stays_in_the_loop),
        cmocka_unit_test(test_scanning_on_the_branches),
        cmocka_unit_test(test_scanning_follows_the_rule),
        cmocka_unit_test(test_scanning_does_not_depend_on_stops),
        cmocka_unit_test(test_swelling_identities),
        cmocka_unit_test(test_swelling_slopes),
        cmocka_unit_test(test_capacity_mixes_by_mass),
        cmocka_unit_test(test_diffusivity_shape),
        cmocka_unit_test(test_fox_is_a_weighted_mean),
        cmocka_unit_test(test_peak_is_where_melting_is_fastest),
        cmocka_unit_test(test_melting_between_its_ends),
        cmocka_unit_test(test_bleached_against_virgin),
    };
    return cmocka_run_group_tests_name("keratin properties", tests, make_sets, free_sets);
}
