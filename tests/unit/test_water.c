/* Room water against published values (source beside each), its errors and its descriptors. */
#include "check.h"

#include "quantity/table.h"
#include "water/water.h"

#include <hairfibre/quantity.h>
#include <hairfibre/water.h>

#include <string.h>

#define CELSIUS(t) ((t) + 273.15)

#define COUNT(array) (sizeof(array) / sizeof(array)[0])

/* IAPWS SR1-86, check values of the release; half a unit of the last printed digit. */
static void test_release(void **unused)
{
    (void)unused;
    static const char *why = "iapws-sr1-86, check values";
    CHECK_CLOSE(hf_saturation_pressure(273.16), 611.657, 0, 0.0005, why);
    CHECK_CLOSE(hf_saturation_pressure(373.1243), 101325, 0, 0.5, why);
    CHECK_CLOSE(hf_saturation_pressure(647.096), 22.064e6, 0, 500, why);
    CHECK_CLOSE(hf_saturation_pressure_slope(273.16), 44.436693, 0, 5e-7, why);
    CHECK_CLOSE(hf_saturation_pressure_slope(373.1243), 3616, 0, 0.5, why);
    CHECK_CLOSE(hf_saturation_pressure_slope(647.096), 268.0e3, 0, 50, why);
    CHECK_CLOSE(hf_liquid_density(273.16), 999.789, 0, 0.0005, why);
    CHECK_CLOSE(hf_liquid_density(373.1243), 958.365, 0, 0.0005, why);
    CHECK_CLOSE(hf_liquid_density(647.096), 322, 0, 0.5, why);
    CHECK_CLOSE(hf_vapour_density(273.16), 0.00485426, 0, 5e-9, why);
    CHECK_CLOSE(hf_vapour_density(373.1243), 0.597586, 0, 5e-7, why);
    CHECK_CLOSE(hf_vapour_density(647.096), 322, 0, 0.5, why);
    CHECK_CLOSE(hf_saturation_temperature(101325), 373.1243, 0, 5e-5, why);
    CHECK_CLOSE(hf_boiling_temperature(101325), 373.1243, 0, 5e-5, why);
    CHECK_CLOSE(hf_latent_heat(373.1243), 2675.7e3 - 419.05e3, 0, 60, "h'' - h', printed digits");
    CHECK_CLOSE(hf_latent_heat(273.16), 2500.5e3, 0, 50, why);
    CHECK_CLOSE(hf_latent_heat(647.096), 0, 0, 50, "h'' = h' = 2086.6 kJ/kg");
    CHECK_CLOSE(hf_steam_expansion_ratio(373.1243), 958.365 / 0.597586, 1.6e-6, 0, why);
}

/* IAPWS-IF97, Tables 35 and 36; half a unit of the last printed digit. */
static void test_region4(void **unused)
{
    (void)unused;
    CHECK_CLOSE(hf_region4_pressure(300), 0.353658941e4, 0, 5e-6, "iapws-r7-97, Table 35");
    CHECK_CLOSE(hf_region4_pressure(500), 0.263889776e7, 0, 5e-3, "iapws-r7-97, Table 35");
    CHECK_CLOSE(hf_region4_pressure(600), 0.123443146e8, 0, 5e-2, "iapws-r7-97, Table 35");
    CHECK_CLOSE(hf_region4_temperature(0.1e6), 372.755919, 0, 5e-7, "iapws-r7-97, Table 36");
    CHECK_CLOSE(hf_region4_temperature(1e6), 453.035632, 0, 5e-7, "iapws-r7-97, Table 36");
    CHECK_CLOSE(hf_region4_temperature(10e6), 584.149488, 0, 5e-7, "iapws-r7-97, Table 36");
    CHECK_CLOSE(hf_region4_temperature(hf_region4_pressure(273.15)), 273.15, 0, 1e-9,
                "both ends of the range answer");
    CHECK_CLOSE(hf_region4_pressure(647.096), 22.064e6, 1e-5, 0, "critical point");
}

static void test_steam_tables(void **unused)
{
    (void)unused;
    static const char *why = "steam-tables, university table";
    CHECK_CLOSE(hf_saturation_pressure(CELSIUS(90)), 0.07018e6, 0, 5, why);
    CHECK_CLOSE(hf_saturation_pressure(CELSIUS(200)), 1554.9e3, 0, 50, why);
    CHECK_CLOSE(hf_latent_heat(CELSIUS(90)), 2282.5e3, 1e-4, 0, "0.01 %: formulations differ");
    CHECK_CLOSE(hf_latent_heat(CELSIUS(50)), 2382.0e3, 1e-4, 0, "0.01 %: formulations differ");
    CHECK_CLOSE(hf_latent_heat(CELSIUS(25)), 2441.7e3, 1e-4, 0, "0.01 %: formulations differ");
    CHECK_CLOSE(hf_saturation_pressure(CELSIUS(177)), 930.8e3, 0, 14e3,
                "hoseney1983: 135 psi at 177 degC, both rounded");
    CHECK_CLOSE(hf_saturation_pressure(CELSIUS(180)), 1e6, 1e-2, 0, "virot2015: 10 bar");
    CHECK_CLOSE(hf_surface_tension(CELSIUS(25)), 71.97e-3, 0, 1e-5, "iapws-r1-76, from memory");
}

/* The quick form in any order of temperatures is the equation itself. */
static void test_surface_tension_near(void **state)
{
    (void)state;
    hfi_tension last = {0};
    for (int i = 0; i < 2000; i++) {
        const double T = 280 + 280.0 * ((i * 7) % 2000) / 2000 + 3 * sin(i);
        CHECK_CLOSE(hfi_surface_tension_near(&last, T), hf_surface_tension(T), 1e-9, 0,
                    "iapws-r1-76");
    }
    for (double T = 558; T > 280; T -= 0.1)
        CHECK_CLOSE(hfi_surface_tension_near(&last, T), hf_surface_tension(T), 1e-9, 0,
                    "iapws-r1-76");
}

/* Water of a fixed activity boils where pure water reaches pressure / activity; the reference is
 * the second formulation, 0.018 % of the pressure or less away (below 0.01 K). */
static void test_boiling_at_activity(void **unused)
{
    (void)unused;
    for (int i = 1; i <= 10; i++) {
        const double activity = 0.1 * i;
        CHECK_CLOSE(hf_boiling_temperature_at_activity(activity, 101325),
                    hf_region4_temperature(101325 / activity), 0, 0.01, "iapws-r7-97");
    }
    CHECK_CLOSE(hf_boiling_temperature_at_activity(1, 101325), hf_boiling_temperature(101325), 0, 0,
                "activity 1 is pure water");
    CHECK_CLOSE(hf_boiling_temperature_at_activity(0.5, 11.032e6), 647.096, 1e-12, 0,
                "pressure / activity at the critical point");
}

/* Printed to the pascal. */
static void test_standard_atmosphere(void **unused)
{
    (void)unused;
    static const double table[][2] = {{-500, 107478}, {0, 101325},   {500, 95461},
                                      {1000, 89875},  {4000, 61640}, {10000, 26436}};
    for (size_t i = 0; i < COUNT(table); i++)
        CHECK_CLOSE(hf_standard_pressure(table[i][0]), table[i][1], 0, 0.5,
                    "ashrae2017, chapter 1, Table 1");
}

/* The two printed tables differ by up to 3 % in k and 1 % in mu; the equations lie between or
 * near. Columns: degC, k W/(m K), mu 1e-5 Pa s, rho kg/m3, cp J/(kg K), Pr. */
static void test_air_tables(void **unused)
{
    (void)unused;
    static const double a15[][6] = {
        {-20, 0.02211, 1.630, 1.394, 1005, 0.7408},  {0, 0.02364, 1.729, 1.292, 1006, 0.7362},
        {20, 0.02514, 1.825, 1.204, 1007, 0.7309},   {50, 0.02735, 1.963, 1.092, 1007, 0.7228},
        {80, 0.02953, 2.096, 0.9994, 1008, 0.7154},  {100, 0.03095, 2.181, 0.9458, 1009, 0.7111},
        {120, 0.03235, 2.264, 0.8977, 1011, 0.7073}, {160, 0.03511, 2.420, 0.8148, 1016, 0.7014},
        {200, 0.03779, 2.577, 0.7459, 1023, 0.6974}, {250, 0.04104, 2.760, 0.6746, 1033, 0.6946}};
    for (size_t i = 0; i < COUNT(a15); i++) {
        const double t = CELSIUS(a15[i][0]);
        const char *why = "cengel-tables A-15";
        CHECK_CLOSE(hf_air_conductivity(t), 1.0225 * a15[i][1], 0.004, 0,
                    "cengel-tables A-15, which lies 1.9 to 2.6 % below the equation");
        CHECK_CLOSE(hf_air_viscosity(t), a15[i][2] * 1e-5, 0.01, 0, why);
        CHECK_CLOSE(hf_air_density(t, 101325), a15[i][3], 3e-4, 0, why);
        CHECK_CLOSE(hf_air_heat_capacity(t), a15[i][4], 0, 1.7, why);
        CHECK_CLOSE(hf_air_prandtl(t), a15[i][5], 0.03, 0, why);
    }
    static const double a4[][4] = {{250, 22.3, 159.6, 0.720}, {300, 26.3, 184.6, 0.707},
                                   {350, 30.0, 208.2, 0.700}, {400, 33.8, 230.1, 0.690},
                                   {450, 37.3, 250.7, 0.686}, {500, 40.7, 270.1, 0.684},
                                   {550, 43.9, 288.4, 0.683}};
    for (size_t i = 0; i < COUNT(a4); i++) {
        CHECK_CLOSE(hf_air_conductivity(a4[i][0]), a4[i][1] * 1e-3, 0.008, 0, "incropera6 A.4");
        CHECK_CLOSE(hf_air_viscosity(a4[i][0]), a4[i][2] * 1e-7, 0.013, 0, "incropera6 A.4");
        CHECK_CLOSE(hf_air_prandtl(a4[i][0]), a4[i][3], 0.007, 0, "incropera6 A.4");
    }
}

static void test_vapour_in_air(void **unused)
{
    (void)unused;
    CHECK_CLOSE(hf_vapour_diffusivity(273.15, 101325), 2.178e-5, 1e-12, 0, "massman1998");
    CHECK_CLOSE(hf_vapour_diffusivity(298.15, 101325), 2.190e-5 * pow(298.15 / 273.15, 1.81), 0.006,
                0, "vapour-diffusivity-code: a constant 0.55 % higher");
    for (double t = 282; t <= 375; t += 10)
        CHECK_CLOSE(hf_vapour_diffusivity(t, 101325), 1.87e-10 * pow(t, 2.072), 0.05, 0,
                    "marreromason1972, other data");
    CHECK_CLOSE(hf_vapour_diffusivity(300, 5e4), 2 * hf_vapour_diffusivity(300, 1e5), 1e-12, 0,
                "inverse to the pressure");
}

static void test_moist_air(void **unused)
{
    (void)unused;
    static const char *example = "ashrae2017, chapter 1, example 1 (printed digits)";
    CHECK_CLOSE(hf_wet_bulb(CELSIUS(40), 0.14, 101325), CELSIUS(20), 0, 0.1, example);
    CHECK_CLOSE(hf_dew_point(CELSIUS(40), 0.14), CELSIUS(7), 0, 0.5, example);
    CHECK_CLOSE(hf_humidity_ratio(CELSIUS(40), 0.14, 101325), 0.0065, 0, 2e-4, example);
    CHECK_CLOSE(hf_humidity_ratio(CELSIUS(25), 1, 101325), 0.020173, 0.0045, 0,
                "ashrae2017 Table 2; ideal gases read 0.4 % low");
    CHECK_CLOSE(hf_humidity_ratio(CELSIUS(85), 1, 101325), 0.838105, 0.0125, 0,
                "ashrae2017 Table 2; ideal gases read 1.2 % low");
    CHECK_CLOSE(hf_humidity_ratio(CELSIUS(25), 0, 101325), 0, 0, 0, "dry air");
    CHECK_CLOSE(hf_dew_point(300, 1), 300, 1e-14, 0, "saturated air");
    CHECK_CLOSE(hf_wet_bulb(300, 1, 101325), 300, 1e-14, 0, "saturated air");
    CHECK_CLOSE(hf_wet_bulb(273.16, 1, 101325), 273.16, 1e-14, 0, "saturated air, lowest");
    /* An air stream hotter than boiling still has a wet bulb, below boiling. */
    double hot;
    assert_int_equal(hf_wet_bulb_e(CELSIUS(133), 0.01, 101325, HF_STRICT, &hot), HF_OK);
    assert_true(hot < hf_boiling_temperature(101325) && hot > CELSIUS(20));
}

static void test_nusselt(void **unused)
{
    (void)unused;
    CHECK_CLOSE(hf_nusselt_cross_flow(6071, 0.70), 40.637, 0, 5e-4, "incropera6, example 7.3");
    CHECK_CLOSE(hf_nusselt_free_convection(2.63e9 * 0.69, 0.69), 139.135, 0, 5e-4,
                "incropera6, example 9.2");
    CHECK_CLOSE(hf_nusselt_fine_wire(64.529, 1), 4.0536, 0.05, 0, "collis1959, measured point");
    CHECK_CLOSE(hf_nusselt_fine_wire(0.046069, 1), 0.3788, 0.05, 0, "collis1959, measured point");
    CHECK_CLOSE(hf_nusselt_fine_wire(10, 1.3) / hf_nusselt_fine_wire(10, 1), 1.0456, 0, 5e-5,
                "collis1959: 1.3^0.17");
}

/* A fibre of 70 um worked by hand with Table A-15 at a film of 80 degC (k 0.02953 W/(m K), nu
 * 2.097e-5 m2/s, Pr 0.7154), whose k lies 2.5 % below the library's. */
static void test_heat_transfer(void **unused)
{
    (void)unused;
    static const char *why = "hand calculation with cengel-tables A-15, k 2.5 % lower";
    const double d = 70e-6, k = 0.02953, nu = 2.097e-5, t = CELSIUS(80);
    static const double speed[] = {1, 5, 10, 15};
    for (size_t i = 0; i < COUNT(speed); i++) {
        const double reynolds = speed[i] * d / nu;
        const double number =
            reynolds < 44 ? 0.24 + 0.56 * pow(reynolds, 0.45) : 0.48 * pow(reynolds, 0.51);
        CHECK_CLOSE(hf_heat_transfer_moving_air(d, speed[i], t, t, 101325), number * k / d, 0.03, 0,
                    why);
    }
    const double rayleigh = 9.81 * 40 / t * d * d * d / (nu * nu) * 0.7154;
    const double root =
        0.6 + 0.387 * pow(rayleigh, 1.0 / 6) / pow(1 + pow(0.559 / 0.7154, 9.0 / 16), 8.0 / 27);
    CHECK_CLOSE(hf_heat_transfer_still_air(d, t + 20, t - 20, 101325), root * root * k / d, 0.03, 0,
                why);
    CHECK_CLOSE(hf_heat_transfer_still_air(d, t - 20, t + 20, 101325),
                hf_heat_transfer_still_air(d, t + 20, t - 20, 101325), 1e-14, 0,
                "heating and cooling alike");
    /* Lewis number about 0.85 (lewis-relation, from memory), A-15 at 20 degC. */
    CHECK_CLOSE(hf_mass_transfer_coefficient(1000, CELSIUS(20), 101325),
                1000 / (1.204 * 1007 * pow(0.85, 2.0 / 3)), 0.02, 0, "lewis-relation");
}

static void test_bulk(void **unused)
{
    (void)unused;
    double t[] = {280, 300, 373.1243, 500}, p[4];
    size_t bad = 99;
    assert_int_equal(hf_saturation_pressure_v(4, t, HF_STRICT, p, &bad), HF_OK);
    assert_int_equal(bad, 4);
    for (size_t i = 0; i < 4; i++)
        CHECK_CLOSE(p[i], hf_saturation_pressure(t[i]), 0, 0, "same equation");
    t[2] = 200;
    p[2] = p[3] = -1;
    assert_int_equal(hf_saturation_pressure_v(4, t, HF_EXTRAPOLATE, p, &bad), HF_ERANGE);
    assert_int_equal(bad, 2);
    CHECK_CLOSE(p[2] + p[3], -2, 0, 0, "nothing written from the failure on");
    t[2] = (double)NAN;
    assert_int_equal(hf_saturation_pressure_v(4, t, HF_STRICT, p, NULL), HF_EINVAL);
    t[2] = 373.1243;
    assert_int_equal(hf_saturation_pressure_v(4, t, HF_STRICT, t, NULL), HF_OK);
    CHECK_CLOSE(t[2], 101325, 0, 0.5, "in place");
    assert_int_equal(hf_saturation_pressure_v(0, NULL, HF_STRICT, NULL, NULL), HF_OK);
    assert_int_equal(hf_saturation_pressure_v(1, NULL, HF_STRICT, p, NULL), HF_EINVAL);
    assert_int_equal(hf_saturation_pressure_v(1, t, HF_STRICT, NULL, NULL), HF_EINVAL);
}

/* Out of the supported range: refused in strict calls, answered and marked on request. */
static void test_status(void **unused)
{
    (void)unused;
    double y = -7;
    assert_int_equal(hf_saturation_pressure_e(273.1, HF_EXTRAPOLATE, &y), HF_ERANGE);
    assert_int_equal(hf_saturation_pressure_e((double)INFINITY, HF_STRICT, &y), HF_EINVAL);
    assert_int_equal(hf_air_conductivity_e(700, HF_STRICT, &y), HF_ERANGE);
    assert_int_equal(hf_vapour_diffusivity_e(470, 101325, HF_STRICT, &y), HF_ERANGE);
    assert_int_equal(hf_nusselt_cross_flow_e(0.1, 0.7, HF_STRICT, &y), HF_ERANGE);
    assert_int_equal(hf_nusselt_fine_wire_e(0.01, 1, HF_STRICT, &y), HF_ERANGE);
    assert_int_equal(hf_nusselt_free_convection_e(1e-6, 0.7, HF_STRICT, &y), HF_ERANGE);
    assert_int_equal(hf_heat_transfer_moving_air_e(70e-6, 0.03, 373, 293, 101325, HF_STRICT, &y),
                     HF_ERANGE);
    assert_int_equal(hf_heat_transfer_still_air_e(70e-6, 293, 293, 101325, HF_STRICT, &y),
                     HF_ERANGE);
    CHECK_CLOSE(y, -7, 0, 0, "untouched by every refusal");
    assert_int_equal(hf_air_conductivity_e(700, HF_EXTRAPOLATE, &y), HF_EXTRAPOLATED);
    CHECK_CLOSE(y, 52.4e-3, 0.02, 0, "incropera6 A.4 at 700 K");
    assert_int_equal(hf_vapour_diffusivity_e(470, 101325, HF_EXTRAPOLATE, &y), HF_EXTRAPOLATED);
    assert_int_equal(hf_nusselt_cross_flow_e(0.1, 0.7, HF_EXTRAPOLATE, &y), HF_EXTRAPOLATED);
    assert_int_equal(hf_nusselt_cross_flow_e(0, 0.7, HF_EXTRAPOLATE, &y), HF_EXTRAPOLATED);
    CHECK_CLOSE(y, 0.3, 0, 1e-15, "no flow");
    assert_int_equal(
        hf_heat_transfer_moving_air_e(70e-6, 0.03, 373, 293, 101325, HF_EXTRAPOLATE, &y),
        HF_EXTRAPOLATED);
    assert_int_equal(hf_heat_transfer_still_air_e(70e-6, 293, 293, 101325, HF_EXTRAPOLATE, &y),
                     HF_EXTRAPOLATED);
    assert_true(isnan(hf_saturation_pressure(100)));
    assert_true(isnan(hf_dew_point(293.15, 0.01)));
    assert_true(isnan(hf_air_conductivity(700)));
}

static void check_sentence(const char *name, const double *x, const char *part)
{
    for (size_t i = 0; i < hfi_water_quantity_count; i++) {
        const hf_quantity *q = &hfi_water_quantities[i];
        double y;
        hf_message message;
        if (strcmp(q->name, name) != 0)
            continue;
        assert_int_equal(hf_quantity_evaluate(q, x, NULL, HF_STRICT, &y, &message), HF_ERANGE);
        if (!strstr(message.text, part))
            fail_msg("%s says: %s", name, message.text);
        return;
    }
    fail_msg("no quantity %s", name);
}

/* A joint limit is named with its value: what the caller must change is in the sentence. */
static void test_sentences(void **unused)
{
    (void)unused;
    const double usual = (double)NAN;
    check_sentence("saturation_pressure", (double[]){268.15}, "268.15 K (-5 degC)");
    check_sentence("humidity_ratio", (double[]){423.15, 0.6, usual}, "21.28 %");
    check_sentence("wet_bulb", (double[]){423.15, 0.6, usual}, "21.28 %");
    check_sentence("wet_bulb", (double[]){275.15, 0.1, usual}, "freeze");
    check_sentence("dew_point", (double[]){293.15, 0.05}, "117 Pa");
    check_sentence("boiling_temperature_at_activity", (double[]){0.004, usual}, "2.53312e+07 Pa");
    check_sentence("nusselt_cross_flow", (double[]){0.1, 0.7}, "0.07");
    check_sentence("heat_transfer_moving_air", (double[]){70e-6, 0.01, 373.15, usual, usual},
                   "speed = 0.01 m/s");
    check_sentence("heat_transfer_still_air", (double[]){70e-6, 293.15, usual, usual}, "Rayleigh");
}

static void test_descriptors(void **unused)
{
    (void)unused;
    assert_int_equal(hfi_water_quantity_count, 28);
    for (size_t i = 0; i < hfi_water_quantity_count; i++) {
        const hf_quantity *q = &hfi_water_quantities[i];
        assert_string_equal(q->room, "water");
        assert_true(q->text[0] && q->unit[0] && q->equation[0] && q->leaves_out[0]);
        assert_true(q->sources[0] && q->evaluate && q->parameters);
        assert_in_range(q->argument_count, 1, HF_ARGUMENTS_MAX);
        for (size_t k = 0; k < q->argument_count; k++) {
            const hf_argument *a = &q->arguments[k];
            assert_true(a->name[0] && a->unit[0] && a->text[0]);
            assert_true(a->domain_low <= a->valid_low && a->valid_low < a->valid_high &&
                        a->valid_high <= a->domain_high);
            assert_true(isnan(a->usual) || (a->usual >= a->valid_low && a->usual <= a->valid_high));
        }
        for (size_t k = 0; k < i; k++)
            assert_string_not_equal(q->name, hfi_water_quantities[k].name);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_release),
        cmocka_unit_test(test_surface_tension_near),
        cmocka_unit_test(test_region4),
        cmocka_unit_test(test_steam_tables),
        cmocka_unit_test(test_boiling_at_activity),
        cmocka_unit_test(test_standard_atmosphere),
        cmocka_unit_test(test_air_tables),
        cmocka_unit_test(test_vapour_in_air),
        cmocka_unit_test(test_moist_air),
        cmocka_unit_test(test_nusselt),
        cmocka_unit_test(test_heat_transfer),
        cmocka_unit_test(test_bulk),
        cmocka_unit_test(test_status),
        cmocka_unit_test(test_sentences),
        cmocka_unit_test(test_descriptors),
    };
    return cmocka_run_group_tests_name("water", tests, NULL, NULL);
}
