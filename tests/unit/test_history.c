/* Exposure integrals and damage along a history: closed forms, independent quadrature, refusals. */
#include "check.h"

#include <hairfibre/bonds.h>

#include "bonds/arrhenius.h"
#include "bonds/quadrature.h"

#include <gsl/gsl_integration.h>
#include <gsl/gsl_sf_expint.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define GAS  8.314462618
#define LN10 2.302585092994046

/* Burn law: frequency 3.1e98 1/s with E/R = 75000 K, or with the rounding 6.28e5 J/mol of its
 * energy (henriques1947). */
static const double burn_frequency = 226.78474122490761; /* ln 3.1e98 */
static const double burn_theta = 75000;

static double K(double celsius)
{
    return celsius + 273.15;
}

static void test_scaled_integral(void **unused)
{
    (void)unused;
    for (double x = 1e-6; x < 690; x *= 1.37)
        CHECK_CLOSE(hfi_scaled_expint2(x), exp(x) * gsl_sf_expint_E2(x), 1e-13 + 3e-16 * x, 0,
                    "E2 of another library; its unscaled value costs x roundings");
    CHECK_CLOSE(hfi_scaled_expint2(0), 1, 0, 0, "E2(0) = 1");
    CHECK_CLOSE(hfi_scaled_expint2(1e6), 1e-6 * (1 - 2e-6 + 6e-12), 1e-14, 0, "asymptotic series");
}

static void test_burn_rates(void **unused)
{
    (void)unused;
    static const struct {
        double celsius, original, rounded, tolerance; /* half a unit of the digits of `rounded` */
    } rows[] = {{44, 6.15033379313e-5, 1.15268830459e-5, 5e-12},
                {47, 5.64005266848e-4, 1.0738e-4, 5e-5},
                {51, 1.01566918457e-2, 1.9736e-3, 3e-5},
                {55, .17045674537, .0337911993633, 5e-12},
                {60, 5.2641680871, 1.06922012095, 5e-12}};
    CHECK_CLOSE(burn_frequency, log(3.1) + 98 * LN10, 1e-15, 0, "ln 3.1e98");
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        CHECK_CLOSE(hf_arrhenius(K(rows[i].celsius), burn_frequency, burn_theta), rows[i].original,
                    2e-11, 0, "3.1e98 exp(-75000/T) in 30 digits, printed to 12");
        CHECK_CLOSE(hf_arrhenius(K(rows[i].celsius), burn_frequency, 6.28e5 / GAS), rows[i].rounded,
                    rows[i].tolerance, 0, "the same with 6.28e5 J/mol");
    }
    CHECK_CLOSE(hf_activation_temperature(6.28e5), 6.28e5 / GAS, 1e-9, 0, "E/R (codata2018)");
    /* Times to a second-degree burn, minutes (burn-table): good to a factor of 1.5 at 45 to 51
     * degC. */
    static const struct {
        double celsius, minutes;
    } burns[] = {{45, 120}, {47, 20}, {48, 15}, {49, 8}, {51, 2}};
    for (size_t i = 0; i < sizeof burns / sizeof burns[0]; i++) {
        const double minutes =
            1 / hf_arrhenius(K(burns[i].celsius), burn_frequency, burn_theta) / 60;
        assert_true(minutes < 1.5 * burns[i].minutes && minutes > burns[i].minutes / 1.5);
    }
}

static double exposure(size_t n, const double *time, const double *T, double log_frequency,
                       double theta)
{
    double omega = (double)NAN;
    const hf_status status =
        hf_arrhenius_exposure_e(n, time, T, log_frequency, theta, &omega, NULL);
    assert_int_equal(status, HF_OK);
    return omega;
}

static void test_ramp(void **unused)
{
    (void)unused;
    const double time[] = {0, 60}, T[] = {K(37), K(60)}, back[] = {K(60), K(37)};
    CHECK_CLOSE(exposure(2, time, T, burn_frequency, burn_theta), 20.144058392027, 1e-12, 0,
                "closed form with E1 and quadrature, 30 digits, printed to 14");
    CHECK_CLOSE(exposure(2, time, T, burn_frequency, 6.28e5 / GAS), 4.06299989527792, 1e-12, 0,
                "the same with 6.28e5 J/mol");
    CHECK_CLOSE(exposure(2, time, back, burn_frequency, burn_theta), 20.144058392027, 1e-12, 0,
                "a ramp down is a ramp up");
    /* Cut into pieces, short ones going through the Gauss rule: the same integral. */
    for (size_t pieces = 2; pieces <= 5000; pieces = pieces * 3 + 1) {
        double *t = malloc((pieces + 1) * sizeof *t), *y = malloc((pieces + 1) * sizeof *y);
        assert_true(t && y);
        for (size_t i = 0; i <= pieces; i++) {
            t[i] = 60.0 * (double)i / (double)pieces;
            y[i] = K(37) + 23.0 * (double)i / (double)pieces;
        }
        CHECK_CLOSE(exposure(pieces + 1, t, y, burn_frequency, burn_theta), 20.144058392027, 1e-11,
                    0, "a line cut into pieces is the same line; each T is rounded to 3e-14 K");
        free(t);
        free(y);
    }
}

/* 55 + 5 sin(2 pi t/10) degC over 10 s by chords: the error falls as the square of the step, so two
 * steps give the limit. */
static void test_sinusoid(void **unused)
{
    (void)unused;
    const double pi = 3.14159265358979323846;
    double omega[2];
    for (int k = 0; k < 2; k++) {
        const size_t n = (size_t)4000 << k;
        double *t = malloc((n + 1) * sizeof *t), *T = malloc((n + 1) * sizeof *T);
        assert_true(t && T);
        for (size_t i = 0; i <= n; i++) {
            t[i] = 10.0 * (double)i / (double)n;
            T[i] = K(55) + 5 * sin(2 * pi * (double)i / (double)n);
        }
        omega[k] = exposure(n + 1, t, T, burn_frequency, burn_theta);
        free(t);
        free(T);
    }
    CHECK_CLOSE(omega[1], 11.9112739171387, 1e-6, 0, "chords of 1.25 ms");
    CHECK_CLOSE(omega[1] + (omega[1] - omega[0]) / 3, 11.9112739171387, 1e-11, 0,
                "quadrature in 30 digits; error of second order removed");
}

typedef struct line {
    hfi_arrhenius law;
    double T0, T1;
} line;

static double on_line(double u, void *context)
{
    const line *of = context;
    return hfi_arrhenius_rate(&of->law, of->T0 + u * (of->T1 - of->T0));
}

static double quadrature(double (*f)(double, void *), void *context)
{
    gsl_integration_workspace *space = gsl_integration_workspace_alloc(500);
    const gsl_function function = {f, context};
    double value, error;
    assert_non_null(space);
    assert_int_equal(gsl_integration_qag(&function, 0, 1, 0, 1e-12, 500, GSL_INTEG_GAUSS61, space,
                                         &value, &error),
                     0);
    gsl_integration_workspace_free(space);
    return value;
}

/* Steep and flat laws, wide, narrow and reversed ramps, around every switch of the closed form. */
static void test_segments_against_quadrature(void **unused)
{
    (void)unused;
    static const double thetas[] = {0, 1, 100, 3320, 18000, 31600, 50000, 75000};
    static const double changes[] = {0,   1e-9, -1e-6, 1e-3, 0.1,  -1,  2.3, 2.5,
                                     2.7, 5,    -10,   30,   -100, 150, 190, -199};
    for (size_t i = 0; i < 8; i++)
        for (size_t j = 0; j < 16; j++)
            for (double T0 = 290; T0 < 550; T0 += 60) {
                line of = {{thetas[i] / 400, thetas[i]}, T0, T0 + changes[j]};
                const double got = hfi_arrhenius_segment(&of.law, 7, of.T0, of.T1);
                CHECK_CLOSE(got, 7 * quadrature(on_line, &of), 1e-11, 0, "adaptive quadrature");
            }
}

static void test_exposure_refusals(void **unused)
{
    (void)unused;
    double y = -1;
    size_t bad = 99;
    const double t[] = {0, 1, 2, 2}, T[] = {300, 300, 300, 300};
    const double nan_t[] = {0, (double)NAN, 2}, cold[] = {300, 300, 0};
    const double inf_T[] = {300, 300, (double)INFINITY};
    assert_int_equal(hf_arrhenius_exposure_e(1, t, T, 1, 1, &y, &bad), HF_EINVAL);
    assert_int_equal(hf_arrhenius_exposure_e(2, NULL, T, 1, 1, &y, &bad), HF_EINVAL);
    assert_int_equal(hf_arrhenius_exposure_e(2, t, T, 1, 1, NULL, &bad), HF_EINVAL);
    assert_int_equal(hf_arrhenius_exposure_e(4, t, T, 1, 1, &y, &bad), HF_EDATA);
    assert_int_equal(bad, 3);
    assert_int_equal(hf_arrhenius_exposure_e(3, nan_t, T, 1, 1, &y, &bad), HF_EINVAL);
    assert_int_equal(bad, 1);
    assert_int_equal(hf_arrhenius_exposure_e(3, t, cold, 1, 1, &y, &bad), HF_ERANGE);
    assert_int_equal(bad, 2);
    assert_int_equal(hf_arrhenius_exposure_e(3, t, inf_T, 1, 1, &y, NULL), HF_EINVAL);
    assert_int_equal(hf_arrhenius_exposure_e(3, t, T, 1, -1, &y, &bad), HF_ERANGE);
    assert_int_equal(hf_arrhenius_exposure_e(3, t, T, (double)NAN, 1, &y, &bad), HF_EINVAL);
    assert_int_equal(hf_arrhenius_exposure_e(3, t, T, 1e4, 1, &y, &bad), HF_ERANGE);
    assert_int_equal(hf_arrhenius_e(0, 1, 1, &y), HF_ERANGE);
    assert_int_equal(hf_arrhenius_e(300, 1e4, 1, &y), HF_ERANGE);
    assert_int_equal(hf_arrhenius_e(300, 1, 1, NULL), HF_EINVAL);
    assert_int_equal(hf_arrhenius_from_reference_e(300, -1, 300, 1, &y), HF_ERANGE);
    assert_int_equal(hf_arrhenius_from_reference_e(300, 1, (double)NAN, 1, &y), HF_EINVAL);
    assert_true(isnan(hf_arrhenius(-1, 1, 1)) && isnan(hf_arrhenius_from_reference(-1, 1, 1, 1)));
    CHECK_CLOSE(y, -1, 0, 0, "untouched on failure");
    CHECK_CLOSE(hf_arrhenius_from_reference(K(164), 1, K(130), 27614 / GAS),
                hf_arrhenius(K(164), 27614 / GAS / K(130), 27614 / GAS), 1e-13, 0,
                "two forms, one law");
}

/* ---- damage ------------------------------------------------------------------------------------
 */

static hf_damage damage_of(const hf_history *history, const hf_damage_columns *columns)
{
    hf_damage damage;
    size_t bad;
    hf_message message;
    const hf_status status =
        hf_damage_along_history_e(history, NULL, &damage, columns, &bad, &message);
    if (hf_failed(status))
        fail_msg("%s", message.text);
    assert_int_equal(status, damage.extrapolated ? HF_EXTRAPOLATED : HF_OK);
    return damage;
}

static void test_constant_state(void **unused)
{
    (void)unused;
    const double time[] = {0, 3, 10}, wet[] = {0.325, 0.325, 0.325}, dry[] = {0, 0, 0};
    const double warm[] = {K(154), K(154), K(154)}, hot[] = {K(200), K(200), K(200)};
    const hf_damage moist = damage_of(&(hf_history){3, time, warm, wet, NULL, 1}, NULL);
    CHECK_CLOSE(moist.remaining[HF_CHANNEL_HELIX], hf_helix_remaining(K(154), 0.325, 10, NULL),
                1e-13, 0, "constant state");
    CHECK_CLOSE(moist.exposure[HF_CHANNEL_HELIX_WET], moist.exposure[HF_CHANNEL_HELIX], 1e-14, 0,
                "wet: the wet law");
    CHECK_CLOSE(moist.remaining[HF_CHANNEL_TRYPTOPHAN], hf_tryptophan_remaining(K(154), 10, NULL),
                1e-13, 0, "constant state");
    assert_int_equal(moist.extrapolated,
                     1u << HF_CHANNEL_HELIX_IRONING | 1u << HF_CHANNEL_HELIX_DRY);
    /* 80 passes of 10 s at 200 degC, dry: 0.63 to 0.69 left (thermochimica2018). */
    const hf_damage dried = damage_of(&(hf_history){3, time, hot, dry, NULL, 80}, NULL);
    CHECK_CLOSE(dried.remaining[HF_CHANNEL_HELIX], 0.66, 0, 0.03, "half-life 20 to 25 min");
    CHECK_CLOSE(dried.remaining[HF_CHANNEL_HELIX], dried.remaining[HF_CHANNEL_HELIX_IRONING], 1e-14,
                0, "dry: the ironing law");
    assert_false(dried.extrapolated & 1u << HF_CHANNEL_HELIX);
    assert_true(dried.extrapolated & 1u << HF_CHANNEL_TRYPTOPHAN);
    CHECK_CLOSE(dried.outside[HF_CHANNEL_TRYPTOPHAN], 1, 1e-12, 0, "200 degC is above 164 degC");
    CHECK_CLOSE(dried.outside[HF_CHANNEL_HELIX], 0, 0, 0, "inside");
}

typedef struct blend {
    double T0, T1, w0, w1;
} blend;

/* The law written out again from its equation and the catalogue's numbers: wet 263 kJ/mol and 10^30.93
 * 1/s, 5.13e-4 1/s dry at 200 degC, denaturation 233 degC dry and 150 degC at a regain of 0.325. */
static double blended(double u, void *context)
{
    const blend *b = context;
    const double T = b->T0 + u * (b->T1 - b->T0), w = b->w0 + u * (b->w1 - b->w0);
    const double dry = 1 / K(233), wet_end = 1 / K(150), at = K(200);
    const double volume = w / (w + 1 / 1.304), full = 0.325 / (0.325 + 1 / 1.304);
    const double inverse = dry + volume / full * (wet_end - dry);
    const double s = (inverse - dry) / (wet_end - dry);
    const double shift = log(5.13e-4) - (30.93 * LN10 - 263e3 / GAS / at);
    return exp(30.93 * LN10 - 263e3 / GAS / T + (1 - s) * shift);
}

/* A moist fibre under a plate: it heats up, then dries while hot. */
static void test_drying_history(void **unused)
{
    (void)unused;
    const double time[] = {0, 0.3, 1.0, 2.0, 5.0}, T[] = {K(25), K(100), K(150), K(190), K(200)};
    const double w[] = {0.28, 0.25, 0.16, 0.03, 0.005};
    double first[HF_CHANNELS][5], last[HF_CHANNELS][5];
    hf_damage_columns columns;
    for (size_t c = 0; c < HF_CHANNELS; c++) {
        columns.first[c] = first[c];
        columns.last[c] = last[c];
    }
    const hf_damage once = damage_of(&(hf_history){5, time, T, w, NULL, 1}, NULL);
    const hf_damage seven = damage_of(&(hf_history){5, time, T, w, NULL, 7}, &columns);
    double omega = 0;
    for (int i = 0; i < 4; i++) {
        blend b = {T[i], T[i + 1], w[i], w[i + 1]};
        omega += (time[i + 1] - time[i]) * quadrature(blended, &b);
        CHECK_CLOSE(first[HF_CHANNEL_HELIX][i + 1], exp(-omega), 1e-8, 0,
                    "adaptive quadrature of the equation, R to ten digits");
    }
    CHECK_CLOSE(once.exposure[HF_CHANNEL_HELIX], omega, 1e-7, 0,
                "adaptive quadrature of the equation, R to ten digits");
    assert_true(once.exposure_error[HF_CHANNEL_HELIX] <= 1e-10 * omega);
    assert_true(once.outside[HF_CHANNEL_HELIX] > 0.01); /* between the two ends */
    for (size_t c = 0; c < HF_CHANNELS; c++) {
        CHECK_CLOSE(seven.exposure[c], once.exposure[c], 0, 0, "one pass");
        CHECK_CLOSE(seven.remaining[c], pow(once.remaining[c], 7), 1e-13, 0, "passes multiply");
        CHECK_CLOSE(first[c][0], 1, 0, 0, "nothing lost at the start");
        CHECK_CLOSE(first[c][4], once.remaining[c], 1e-15, 0, "end of the first pass");
        CHECK_CLOSE(last[c][0], pow(once.remaining[c], 6), 1e-13, 0, "before the last pass");
        CHECK_CLOSE(last[c][4], seven.remaining[c], 1e-14, 0, "end of the last pass");
        for (int i = 1; i < 5; i++)
            assert_true(first[c][i] <= first[c][i - 1] && last[c][i] <= last[c][i - 1]);
    }
    /* A single column may be asked for. */
    double only[5];
    const hf_damage_columns one = {.last = {[HF_CHANNEL_TRYPTOPHAN] = only}};
    damage_of(&(hf_history){5, time, T, w, NULL, 7}, &one);
    CHECK_CLOSE(only[2], last[HF_CHANNEL_TRYPTOPHAN][2], 0, 0, "the same number");
}

/* Samples put in between on the lines change nothing, wherever they fall. */
static void test_refinement(void **unused)
{
    (void)unused;
    const double time[] = {0, 2}, T[] = {K(60), K(205)}, w[] = {0.30, 0.0};
    const hf_damage coarse = damage_of(&(hf_history){2, time, T, w, NULL, 3}, NULL);
    enum { N = 38 };
    double t[N], y[N], v[N];
    for (int i = 0; i < N; i++) {
        const double u = (double)i / (N - 1);
        t[i] = 2 * u;
        y[i] = T[0] + u * (T[1] - T[0]);
        v[i] = w[0] * (1 - u);
    }
    const hf_damage fine = damage_of(&(hf_history){N, t, y, v, NULL, 3}, NULL);
    for (size_t c = 0; c < HF_CHANNELS; c++) {
        CHECK_CLOSE(fine.exposure[c], coarse.exposure[c], 2e-10, 0,
                    "stated error of the quadrature");
        CHECK_CLOSE(fine.outside[c], coarse.outside[c], 0, 1e-9, "the same pieces");
    }
    assert_int_equal(fine.extrapolated, coarse.extrapolated);
}

/* outside: the share of the exposure beyond the ends of the range, by the closed form. */
static void test_outside_share(void **unused)
{
    (void)unused;
    const double time[] = {0, 10}, T[] = {K(150), K(178)}, w[] = {0.3, 0.3};
    const hf_damage d = damage_of(&(hf_history){2, time, T, w, NULL, 1}, NULL);
    const hfi_arrhenius trp = {log(1e-3) + 27614 / GAS / 420.15, 27614 / GAS};
    const double all = hfi_arrhenius_segment(&trp, 10, T[0], T[1]);
    const double in = hfi_arrhenius_segment(&trp, 5, T[0], K(164));
    CHECK_CLOSE(d.outside[HF_CHANNEL_TRYPTOPHAN], 1 - in / all, 1e-9, 0, "half of the time");
    assert_true(d.extrapolated & 1u << HF_CHANNEL_TRYPTOPHAN);
    /* A cold start outside the range gathers next to nothing and marks nothing. */
    const double t2[] = {0, 1, 600}, T2[] = {K(20), K(150), K(150)}, w2[] = {0.3, 0.3, 0.3};
    const hf_damage slow = damage_of(&(hf_history){3, t2, T2, w2, NULL, 1}, NULL);
    assert_true(slow.outside[HF_CHANNEL_TRYPTOPHAN] > 0 &&
                slow.outside[HF_CHANNEL_TRYPTOPHAN] < 0.01);
    assert_false(slow.extrapolated & 1u << HF_CHANNEL_TRYPTOPHAN);
    assert_false(slow.extrapolated & 1u << HF_CHANNEL_HELIX_WET);
}

static void test_humidity_column(void **unused)
{
    (void)unused;
    const double time[] = {0, 20, 60}, T[] = {K(60), K(130), K(130)}, a[] = {0.9, 0.95, 0.4};
    double w[3];
    size_t bad;
    assert_int_equal(hf_regain_v(3, a, T, HF_ABSORPTION, NULL, 0, w, &bad), HF_OK);
    const hf_damage by_humidity = damage_of(&(hf_history){3, time, T, NULL, a, 4}, NULL);
    const hf_damage by_regain = damage_of(&(hf_history){3, time, T, w, NULL, 4}, NULL);
    for (size_t c = 0; c < HF_CHANNELS; c++)
        CHECK_CLOSE(by_humidity.exposure[c], by_regain.exposure[c], 1e-14, 0,
                    "absorption isotherm");
    /* Beyond 150 degC the isotherm is extrapolated, so the moist channel is marked even where its
     * own law would hold. */
    const double hot[] = {K(170), K(170), K(170)}, full[] = {1, 1, 1};
    const hf_damage doubtful = damage_of(&(hf_history){3, time, hot, NULL, full, 1}, NULL);
    CHECK_CLOSE(doubtful.outside[HF_CHANNEL_HELIX], 1, 1e-14, 0, "isotherm beyond its evidence");
    assert_false(doubtful.extrapolated & 1u << HF_CHANNEL_HELIX_WET);
}

static void expect_refusal(hf_history history, hf_status wanted, size_t index, const char *part)
{
    hf_message message;
    size_t bad = 99;
    double cell[3] = {-1, -1, -1};
    hf_damage damage = {.extrapolated = 12345};
    const hf_damage_columns columns = {.first = {cell}};
    assert_int_equal(hf_damage_along_history_e(&history, NULL, &damage, &columns, &bad, &message),
                     wanted);
    assert_int_equal(bad, index);
    assert_int_equal(damage.extrapolated, 12345);
    CHECK_CLOSE(cell[0], -1, 0, 0, "untouched on failure");
    if (!strstr(message.text, part))
        fail_msg("\"%s\" does not say \"%s\"", message.text, part);
    assert_int_equal(hf_damage_along_history_e(&history, NULL, &damage, NULL, NULL, NULL), wanted);
}

static void test_refusals(void **unused)
{
    (void)unused;
    const double t[] = {0, 1, 2}, back[] = {0, 1, 1}, T[] = {400, 400, 400}, w[] = {0.1, 0.1, 0.1};
    const double nan_t[] = {0, (double)NAN, 2}, nan_T[] = {400, 400, (double)NAN};
    const double nan_w[] = {(double)NAN, 0.1, 0.1}, wide[] = {0.1, 1.2, 0.1},
                 molten[] = {400, 400, 700};
    const double hot[] = {400, 530, 400}, moist[] = {0.5, 0.5, 1.01};
    expect_refusal((hf_history){1, t, T, w, NULL, 1}, HF_EINVAL, 0, "two samples");
    expect_refusal((hf_history){3, NULL, T, w, NULL, 1}, HF_EINVAL, 0, "columns time");
    expect_refusal((hf_history){3, t, NULL, w, NULL, 1}, HF_EINVAL, 0, "columns time");
    expect_refusal((hf_history){3, t, T, NULL, NULL, 1}, HF_EINVAL, 0, "either regain or humidity");
    expect_refusal((hf_history){3, t, T, w, w, 1}, HF_EINVAL, 0, "either regain or humidity");
    expect_refusal((hf_history){3, t, T, w, NULL, 0}, HF_ERANGE, 0, "passes");
    expect_refusal((hf_history){3, back, T, w, NULL, 1}, HF_EDATA, 2, "does not come after 1 s");
    expect_refusal((hf_history){3, nan_t, T, w, NULL, 1}, HF_EINVAL, 1, "time of sample 1");
    expect_refusal((hf_history){3, t, nan_T, w, NULL, 1}, HF_EINVAL, 2, "temperature of sample 2");
    expect_refusal((hf_history){3, t, T, nan_w, NULL, 1}, HF_EINVAL, 0, "regain of sample 0");
    expect_refusal((hf_history){3, t, T, wide, NULL, 1}, HF_ERANGE, 1, "regain = 1.2 of sample 1");
    expect_refusal((hf_history){3, t, molten, w, NULL, 1}, HF_ERANGE, 2, "temperature = 700 K");
    expect_refusal((hf_history){3, t, hot, NULL, w, 1}, HF_ERANGE, 1, "temperature = 530 K");
    expect_refusal((hf_history){3, t, T, NULL, moist, 1}, HF_ERANGE, 2, "humidity = 1.01");
    hf_message message;
    assert_int_equal(hf_damage_along_history_e(NULL, NULL, NULL, NULL, NULL, &message), HF_EINVAL);
    const hf_history fine = {3, t, T, w, NULL, 1};
    assert_int_equal(hf_damage_along_history_e(&fine, NULL, NULL, NULL, NULL, &message), HF_EINVAL);
}

/* The activation energy is the user's to choose, and each channel answers to its own alone. */
static void test_parameters(void **unused)
{
    (void)unused;
    const double time[] = {0, 60}, T[] = {K(180), K(180)}, w[] = {0.01, 0.01};
    const hf_history history = {2, time, T, w, NULL, 1};
    hf_parameters *set;
    hf_damage a, b;
    assert_int_equal(hf_parameters_new(&set, NULL), HF_OK);
    assert_false(hf_failed(hf_damage_along_history_e(&history, set, &a, NULL, NULL, NULL)));
    assert_int_equal(hf_parameters_set(set, "rate.helix.ironing.energy", 416e3), HF_OK);
    assert_int_equal(hf_parameters_set(set, "rate.helix.ironing.energy", 50e3), HF_ERANGE);
    assert_false(hf_failed(hf_damage_along_history_e(&history, set, &b, NULL, NULL, NULL)));
    const double factor = exp(-(416e3 - 150e3) / GAS * (1 / K(180) - 1 / K(200)));
    CHECK_CLOSE(b.exposure[HF_CHANNEL_HELIX_IRONING] / a.exposure[HF_CHANNEL_HELIX_IRONING], factor,
                1e-8, 0, "Arrhenius through 200 degC");
    CHECK_CLOSE(b.exposure[HF_CHANNEL_HELIX], a.exposure[HF_CHANNEL_HELIX], 1e-12, 0,
                "the moved law takes the rate at 200 degC, not the energy, from the iron");
    CHECK_CLOSE(b.exposure[HF_CHANNEL_TRYPTOPHAN], a.exposure[HF_CHANNEL_TRYPTOPHAN], 0, 0,
                "untouched");
    hf_parameters_free(set);
}

static double jump(double u, const void *context)
{
    (void)context;
    return u < 0.3333 ? 0 : 1;
}

static double ripple(double u, const void *context)
{
    (void)context;
    return 1 + sin(1e5 * u);
}

static double square(double u, const void *context)
{
    (void)context;
    return u * u;
}

static double pole(double u, const void *context)
{
    (void)context;
    return 1 / (u - u);
}

static void test_quadrature(void **unused)
{
    (void)unused;
    double value, error;
    assert_int_equal(hfi_integrate(square, NULL, 1e-12, &value, &error), HF_OK);
    CHECK_CLOSE(value, 1.0 / 3, 1e-15, 0, "exact for a polynomial");
    /* The error of a rule over a jump is about the width of the interval that holds it. */
    assert_int_equal(hfi_integrate(jump, NULL, 1e-6, &value, &error), HF_OK);
    CHECK_CLOSE(value, 0.6667, 1e-6, 0, "stated error");
    assert_true(fabs(value - 0.6667) <= error);
    assert_int_equal(hfi_integrate(ripple, NULL, 1e-12, &value, &error), HF_ECONVERGE);
    assert_int_equal(hfi_integrate(pole, NULL, 1e-6, &value, &error), HF_ECONVERGE);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_scaled_integral),
        cmocka_unit_test(test_burn_rates),
        cmocka_unit_test(test_ramp),
        cmocka_unit_test(test_sinusoid),
        cmocka_unit_test(test_segments_against_quadrature),
        cmocka_unit_test(test_exposure_refusals),
        cmocka_unit_test(test_constant_state),
        cmocka_unit_test(test_drying_history),
        cmocka_unit_test(test_refinement),
        cmocka_unit_test(test_outside_share),
        cmocka_unit_test(test_humidity_column),
        cmocka_unit_test(test_refusals),
        cmocka_unit_test(test_parameters),
        cmocka_unit_test(test_quadrature),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
