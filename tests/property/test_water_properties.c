/* What must hold in room water at every state, not at chosen ones. */
#include "../unit/check.h"

#include "quantity/table.h"

#include <hairfibre/water.h>

#define TRIPLE   273.16
#define CRITICAL 647.096

/* i-th of n evenly spaced points. */
static double between(double low, double high, int i, int n)
{
    return i == n ? high : low + (high - low) * i / n;
}

static void test_region4_inverse(void **unused)
{
    (void)unused;
    for (int i = 0; i <= 3000; i++) {
        const double t = between(273.15, CRITICAL, i, 3000);
        const double p = hf_region4_pressure(t);
        CHECK_CLOSE(hf_region4_temperature(p), t, 1e-12, 0, "closed forms of one equation");
        CHECK_CLOSE(hf_region4_pressure(hf_region4_temperature(p)), p, 2e-11, 0,
                    "dp/p is up to 20 dT/T");
    }
}

/* The published difference of the two formulations; they must not be one and the same either. */
static void test_two_formulations(void **unused)
{
    (void)unused;
    double worst = 0;
    for (int i = 0; i <= 2250; i++) {
        const double t = between(298.15, 523.15, i, 2250);
        const double off = fabs(hf_saturation_pressure(t) / hf_region4_pressure(t) - 1);
        worst = fmax(worst, off);
    }
    CHECK_CLOSE(worst, 0.0001, 0, 0.00008, "iapws-sr1-86 and iapws-r7-97 differ by up to 0.018 %");
}

/* Five-point differences of step 0.1 K; their own error is below 1e-9. */
static void test_slope(void **unused)
{
    (void)unused;
    for (int i = 0; i <= 1000; i++) {
        const double t = between(274, 640, i, 1000), h = 0.1;
        const double difference =
            (8 * (hf_saturation_pressure(t + h) - hf_saturation_pressure(t - h)) -
             (hf_saturation_pressure(t + 2 * h) - hf_saturation_pressure(t - 2 * h))) /
            (12 * h);
        CHECK_CLOSE(hf_saturation_pressure_slope(t), difference, 1e-9, 0, "central differences");
    }
}

static void test_saturation_inverse(void **unused)
{
    (void)unused;
    for (int i = 0; i <= 5000; i++) {
        const double t = between(TRIPLE, CRITICAL, i, 5000);
        const double p = hf_saturation_pressure(t);
        CHECK_CLOSE(hf_saturation_temperature(p), t, 1e-12, 0, "inverse");
        const double q = exp(between(log(611.66), log(22.0639e6), i, 5000));
        CHECK_CLOSE(hf_saturation_pressure(hf_saturation_temperature(q)), q, 2e-11, 0, "inverse");
    }
}

static double rho_liquid(double t)
{
    return -hf_liquid_density(t);
}
static double latent(double t)
{
    return -hf_latent_heat(t);
}
static double tension(double t)
{
    return -hf_surface_tension(t);
}
static double expansion(double t)
{
    return -hf_steam_expansion_ratio(t);
}
static double atmosphere(double z)
{
    return -hf_standard_pressure(z);
}
static double density_air(double t)
{
    return -hf_air_density(t, 101325);
}
static double diffusivity(double t)
{
    return hf_vapour_diffusivity(t, 101325);
}
static double wire(double re)
{
    return hf_nusselt_fine_wire(re, 1);
}
static double cross(double re)
{
    return hf_nusselt_cross_flow(re, 0.7);
}
static double still(double ra)
{
    return hf_nusselt_free_convection(ra, 0.7);
}
static double ratio(double a)
{
    return hf_humidity_ratio(300, a, 101325);
}
static double dew(double a)
{
    return hf_dew_point(300, a);
}
static double bulb(double a)
{
    return hf_wet_bulb(300, a, 101325);
}
static double moving(double u)
{
    return hf_heat_transfer_moving_air(70e-6, u, 350, 300, 101325);
}
static double lewis(double h)
{
    return hf_mass_transfer_coefficient(h, 320, 101325);
}

/* Rising (the falling ones are negated above) over the whole range, with a finite answer at every
 * point. Liquid water is densest near 4 degC. */
static void test_monotonic(void **unused)
{
    (void)unused;
    static const struct {
        double (*f)(double);
        double low, high;
    } curve[] = {
        {hf_saturation_pressure, TRIPLE, CRITICAL},
        {hf_saturation_pressure_slope, TRIPLE, CRITICAL},
        {hf_saturation_temperature, 612, 22.064e6},
        {hf_region4_pressure, 273.15, CRITICAL},
        {rho_liquid, 278, CRITICAL},
        {hf_vapour_density, TRIPLE, CRITICAL},
        {latent, TRIPLE, CRITICAL},
        {tension, TRIPLE, CRITICAL},
        {expansion, TRIPLE, CRITICAL},
        {atmosphere, -5000, 11000},
        {hf_air_conductivity, 250, 550},
        {hf_air_viscosity, 250, 550},
        {density_air, 250, 550},
        {diffusivity, 250, 450},
        {wire, 0.02, 140},
        {cross, 0.3, 1e6},
        {still, 1e-5, 1e9},
        {ratio, 0, 1},
        {dew, 0.2, 1},
        {bulb, 0, 1},
        {moving, 0.1, 40},
        {lewis, 1, 2000},
    };
    for (size_t k = 0; k < sizeof curve / sizeof curve[0]; k++) {
        double before = curve[k].f(curve[k].low);
        for (int i = 1; i <= 2000; i++) {
            const double x = between(curve[k].low, curve[k].high, i, 2000);
            const double y = curve[k].f(x);
            if (!(y > before))
                fail_msg("curve %zu does not rise at %.17g: %.17g after %.17g", k, x, y, before);
            before = y;
        }
    }
}

/* Speed at which the 70 um fibre of `moving` has a Reynolds number. */
static double speed_at(double reynolds)
{
    const double film = 325;
    return reynolds * hf_air_viscosity(film) / (hf_air_density(film, 101325) * 70e-6);
}

/* No jump at a joint, and none in the slope of the blend either. */
static void test_joints(void **unused)
{
    (void)unused;
    for (int i = 0; i <= 2000; i++) {
        const double re = between(43, 46, i, 2000);
        CHECK_CLOSE(wire(re * (1 + 1e-10)), wire(re), 1e-9, 0, "fine wire near the change of law");
    }
    static const double joint[] = {44, 70, 140};
    for (size_t i = 0; i < 3; i++) {
        const double u = speed_at(joint[i]), h = 1e-4 * u;
        CHECK_CLOSE(moving(u * (1 + 1e-10)), moving(u * (1 - 1e-10)), 1e-9, 0, "joint");
        CHECK_CLOSE((moving(u + h) - moving(u)) / h, (moving(u) - moving(u - h)) / h, 2e-3, 0,
                    "slope at a joint");
    }
    /* The blend never leaves the two laws it joins by more than they differ: a few percent. */
    for (int i = 0; i <= 1000; i++) {
        const double re = between(70, 140, i, 1000), u = speed_at(re);
        const double number = moving(u) * 70e-6 / hf_air_conductivity(325);
        const double a = hf_nusselt_fine_wire(re, 325.0 / 300),
                     b = hf_nusselt_cross_flow(re, hf_air_prandtl(325));
        assert_true(number >= fmin(a, b) * (1 - 1e-9) && number <= fmax(a, b) * (1 + 1e-9));
        CHECK_CLOSE(a, b, 0.04, 0, "the two laws agree where they are joined");
    }
}

/* Dew point <= wet bulb <= temperature; the wet bulb meets the balance of the handbook's own
 * constants (2501 - 2.326 Tw, 1.006, 1.86, 4.186 kJ/kg K), which is another way to write it. */
static void test_moist_air(void **unused)
{
    (void)unused;
    int answered = 0, compared = 0;
    for (double t = 275; t <= 470; t += 2.5) {
        for (double a = 0; a <= 1; a += 0.03125) {
            for (double p = 3e4; p <= 1.1e5; p += 2e4) {
                double wet, dry;
                if (hf_wet_bulb_e(t, a, p, HF_STRICT, &wet) != HF_OK)
                    continue;
                answered++;
                assert_true(wet <= t * (1 + 1e-13) && wet <= hf_boiling_temperature(p));
                if (hf_dew_point_e(t, a, HF_STRICT, &dry) == HF_OK)
                    assert_true(dry <= wet * (1 + 1e-13));
                if (t > 325 || wet > 320)
                    continue;
                compared++;
                const double c = wet - 273.15, w = hf_humidity_ratio(wet, 1, p);
                const double handbook = ((2501 - 2.326 * c) * w - 1.006 * (t - wet)) /
                                        (2501 + 1.86 * (t - 273.15) - 4.186 * c);
                CHECK_CLOSE(hf_humidity_ratio(t, a, p), handbook, 2e-3, 2e-5, "ashrae2017");
            }
        }
    }
    assert_true(answered > 3000 && compared > 1000);
}

/* Any numbers in: a finite answer, or a refusal that leaves the output alone. */
static void test_any_numbers(void **unused)
{
    (void)unused;
    static const double odd[] = {0,
                                 -0.0,
                                 1,
                                 -1,
                                 0.5,
                                 1e-320,
                                 2.2250738585072014e-308,
                                 1e-9,
                                 1e9,
                                 1e308,
                                 -1e308,
                                 273.159999999,
                                 273.16,
                                 293.15,
                                 373.15,
                                 647.096,
                                 647.0960000000001,
                                 101325,
                                 1e3,
                                 1e6,
                                 22.064e6,
                                 70e-6,
                                 5,
                                 140};
    const size_t count = sizeof odd / sizeof odd[0];
    uint32_t state = 12345;
    size_t answers = 0;
    for (size_t i = 0; i < hfi_water_quantity_count; i++) {
        const hf_quantity *q = &hfi_water_quantities[i];
        for (int trial = 0; trial < 20000; trial++) {
            double x[HF_ARGUMENTS_MAX], y = -12345;
            for (size_t k = 0; k < q->argument_count; k++) {
                const hf_argument *a = &q->arguments[k];
                state = state * 1664525u + 1013904223u;
                const uint32_t draw = state >> 8;
                if (draw % 8 == 0)
                    x[k] = draw % 5 == 0 ? (double)NAN : (double)INFINITY;
                else if (draw % 8 < 3)
                    x[k] = odd[draw / 8 % count];
                else
                    x[k] =
                        a->domain_low + (a->domain_high - a->domain_low) * (draw / 8 % 1024) / 1023;
            }
            const hf_status status =
                q->evaluate(x, NULL, trial % 2 ? HF_EXTRAPOLATE : HF_STRICT, &y);
            if (hf_failed(status)) {
                assert_true(y == -12345);
                assert_true(status == HF_EINVAL || status == HF_ERANGE);
            } else {
                answers++;
                assert_true(isfinite(y));
            }
        }
    }
    assert_true(answers > 10000);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_region4_inverse), cmocka_unit_test(test_two_formulations),
        cmocka_unit_test(test_slope),           cmocka_unit_test(test_saturation_inverse),
        cmocka_unit_test(test_monotonic),       cmocka_unit_test(test_joints),
        cmocka_unit_test(test_moist_air),       cmocka_unit_test(test_any_numbers),
    };
    return cmocka_run_group_tests_name("water properties", tests, NULL, NULL);
}
