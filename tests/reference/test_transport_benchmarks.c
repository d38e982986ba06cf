/* Constant D in a cylinder: uptake, profiles, film on the surface, long-cylinder table.
 *
 * Sources: crank1975 ch. 5 (series, from memory, summed here with Bessel functions of GSL);
 * cengel-tables Table 4-2 (read). Digits called "printed" without a table were summed from the same
 * series by an independent program and check the summation here. */
#include "cylinder.h"

#include <gsl/gsl_sf_bessel.h>

/* ---- constant D, surface step: crank1975 chapter 5 ----------------------------------------------
 */

/* M_t/M_inf = 1 - sum 4/a_n^2 exp(-a_n^2 tau), J0(a_n) = 0 */
static double series_uptake(double tau)
{
    double sum = 0.0;
    for (unsigned n = 1; n <= 400; n++) {
        const double a = gsl_sf_bessel_zero_J0(n);
        sum += 4.0 / (a * a) * exp(-a * a * tau);
    }
    return 1.0 - sum;
}

/* c/c_surface = 1 - sum 2 J0(a_n r)/(a_n J1(a_n)) exp(-a_n^2 tau) */
static double series_value(double r, double tau)
{
    double sum = 0.0;
    for (unsigned n = 1; n <= 100; n++) {
        const double a = gsl_sf_bessel_zero_J0(n);
        sum += 2.0 * gsl_sf_bessel_J0(a * r) / (a * gsl_sf_bessel_J1(a)) * exp(-a * a * tau);
    }
    return 1.0 - sum;
}

#define TIMES 10
static const double times[TIMES] = {0.001, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.3, 0.5, 1.0};
/* Digits of an independent summation of the same series. */
static const double printed_uptake[TIMES] = {0.07035889, 0.15450707, 0.21547394, 0.29856391,
                                             0.45212100, 0.60582419, 0.78214755, 0.87797153,
                                             0.96162129, 0.99787045};

static void uptakes(size_t cells, double grading, double *out)
{
    cylinder *c = begin(cells, grading, 1.0, CONSTANT, 0.0, HUGE_VAL, 0.0, 1.0);
    for (size_t i = 0; i < TIMES; i++) {
        run_to(c, times[i]);
        out[i] = uptake(c, 0.0);
    }
    end(c);
}

/* Error per second-order mesh: 4 times smaller for twice the cells, gone after extrapolation. */
static void test_uptake(void **unused)
{
    (void)unused;
    double coarse[TIMES], fine[TIMES];
    uptakes(100, 2.0, coarse);
    uptakes(200, 2.0, fine);
    for (size_t i = 0; i < TIMES; i++) {
        const double series = series_uptake(times[i]);
        CHECK_CLOSE(series, printed_uptake[i], 0.0, 5e-9, "eight printed digits");
        const double order = log2(fabs(coarse[i] - series) / fabs(fine[i] - series));
        print_message("  tau %-6g uptake %.8f  errors %9.2e %9.2e  order %.2f\n", times[i], series,
                      coarse[i] - series, fine[i] - series, order);
        CHECK_CLOSE(order, 2.0, 0.0, 0.1, "second order in the cell size");
        CHECK_CLOSE((4.0 * fine[i] - coarse[i]) / 3.0, series, 0.0, 1e-6,
                    "crank1975, extrapolated");
        CHECK_CLOSE(fine[i], series, 2e-4, 0.0, "crank1975, 200 cells as they are");
    }
}

/* Short time: 4 (tau/pi)^1/2 - tau - tau^3/2/(3 pi^1/2), good to 1e-5 at tau = 0.01 (crank1975).
 * And what grading is for: 60 even cells miss tau = 0.001 by more than 1 %, 60 graded by less than
 * 0.2 %. */
static void test_short_time(void **unused)
{
    (void)unused;
    double graded[TIMES], even[TIMES];
    uptakes(60, HFI_MESH_GRADING, graded);
    uptakes(60, 1.0, even);
    CHECK_CLOSE(series_uptake(0.01), 4.0 * sqrt(0.01 / PI) - 0.01 - 0.001 / (3.0 * sqrt(PI)), 0.0,
                1.5e-5, "crank1975, short time");
    const double want = 4.0 * sqrt(0.001 / PI) - 0.001 - pow(0.001, 1.5) / (3.0 * sqrt(PI));
    CHECK_CLOSE(graded[0], want, 2e-3, 0.0, "short time, graded cells");
    assert_true(fabs(even[0] / want - 1.0) > 0.01);
}

static void test_fraction_times(void **unused)
{
    (void)unused;
    static const double fraction[] = {0.1, 0.25, 0.5, 0.63212055882855767, 0.75, 0.9, 0.95, 0.99};
    static const double tau[] = {0.00204536, 0.01368620, 0.06305819, 0.11126588,
                                 0.17638543, 0.33441325, 0.45426076, 0.73255639};
    cylinder *coarse = begin(200, 2.0, 1.0, CONSTANT, 0.0, HUGE_VAL, 0.0, 1.0);
    cylinder *fine = begin(400, 2.0, 1.0, CONSTANT, 0.0, HUGE_VAL, 0.0, 1.0);
    for (size_t i = 0; i < 8; i++) {
        CHECK_CLOSE(series_uptake(tau[i]), fraction[i], 0.0, 2e-7, "inverse of the series");
        const double a = time_of(coarse, fraction[i]), b = time_of(fine, fraction[i]);
        CHECK_CLOSE((4.0 * b - a) / 3.0, tau[i], 0.0, 1e-6, "crank1975, extrapolated");
    }
    end(coarse);
    end(fine);
}

static void test_profiles(void **unused)
{
    (void)unused;
    static const double tau[] = {0.05, 0.1, 0.2, 0.5}, r[] = {0.0, 0.5, 0.9};
    static const double printed[4][3] = {{0.01290078, 0.16445763, 0.79553901},
                                         {0.15164489, 0.38975321, 0.87334371},
                                         {0.49851314, 0.66202567, 0.93390486},
                                         {0.91111028, 0.94044992, 0.98841991}};
    cylinder *coarse = begin(100, 2.0, 1.0, CONSTANT, 0.0, HUGE_VAL, 0.0, 1.0);
    cylinder *fine = begin(200, 2.0, 1.0, CONSTANT, 0.0, HUGE_VAL, 0.0, 1.0);
    for (size_t i = 0; i < 4; i++) {
        run_to(coarse, tau[i]);
        run_to(fine, tau[i]);
        for (size_t k = 0; k < 3; k++) {
            const double series = series_value(r[k], tau[i]);
            CHECK_CLOSE(series, printed[i][k], 0.0, 6e-9, "eight printed digits");
            const double a = value_at(coarse, r[k]), b = value_at(fine, r[k]);
            print_message("  tau %-5g r %.1f  %.8f  errors %9.2e %9.2e\n", tau[i], r[k], series,
                          a - series, b - series);
            CHECK_CLOSE(b, series, 0.0, 5e-5, "crank1975, 200 cells as they are");
            CHECK_CLOSE((4.0 * b - a) / 3.0, series, 0.0, 3e-6, "crank1975, extrapolated");
        }
    }
    end(coarse);
    end(fine);
}

/* ---- a film on the surface: crank1975 chapter 5, cengel-tables Table 4-2
 * -------------------------- */

static double film_equation(double b, double film)
{
    return b * gsl_sf_bessel_J1(b) - film * gsl_sf_bessel_J0(b);
}

/* Root n of b J1(b) = L J0(b): between zero n-1 of J1 and zero n of J0; by bisection. */
static double film_root(unsigned n, double film)
{
    double low = n > 1 ? gsl_sf_bessel_zero_J1(n - 1) : 0.0, high = gsl_sf_bessel_zero_J0(n);
    const bool rising = film_equation(low, film) < 0.0;
    for (size_t i = 0; i < 60; i++) {
        const double b = 0.5 * (low + high);
        if ((film_equation(b, film) < 0.0) == rising)
            low = b;
        else
            high = b;
    }
    return 0.5 * (low + high);
}

/* M_t/M_inf = 1 - sum 4 L^2 exp(-b_n^2 tau)/(b_n^2 (b_n^2 + L^2)) */
static double film_uptake(double film, double tau)
{
    double sum = 0.0;
    for (unsigned n = 1; n <= 60; n++) {
        const double b = film_root(n, film);
        sum += 4.0 * film * film * exp(-b * b * tau) / (b * b * (b * b + film * film));
    }
    return 1.0 - sum;
}

static void test_film_uptake(void **unused)
{
    (void)unused;
    static const struct {
        double film, root[3], uptake[3], half;
    } row[] = {
        /* digits of an independent computation; the first root is checked with the table below */
        {0.01, {0.14124476, 3.83431488, 7.01701192}, {0.001995, 0.009928, 0.019754}, 34.74397},
        {0.1, {0.44168178, 3.85770991, 7.02982523}, {0.019478, 0.093119, 0.177401}, 3.552051},
        {0.5, {0.94077056, 3.95937119, 7.08638085}, {0.088032, 0.360511, 0.589185}, 0.778017},
        {1.0, {1.25578371, 4.07947771, 7.15579917}, {0.156734, 0.552616, 0.796653}, 0.429501},
        {2.0, {1.59944921, 4.29095846, 7.28838891}, {0.255428, 0.734610, 0.926148}, 0.252688},
        {5.0, {1.98981471, 4.71314229, 7.61770771}, {0.402603, 0.879545, 0.983364}, 0.142553},
        {10.0, {2.17949660, 5.03321198, 7.95688342}, {0.490016, 0.925235, 0.993046}, 0.103842},
        {100.0, {2.38090166, 5.46520700, 8.56783165}, {0.593153, 0.958563, 0.997565}, 0.067249},
    };
    static const double tau[3] = {0.1, 0.5, 1.0};
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        const double film = row[i].film;
        for (unsigned n = 1; n <= 3; n++)
            CHECK_CLOSE(film_root(n, film), row[i].root[n - 1], 0.0, 6e-9, "eight printed digits");
        cylinder *coarse = begin(100, 2.0, 1.0, CONSTANT, 0.0, film, 0.0, 1.0);
        cylinder *fine = begin(200, 2.0, 1.0, CONSTANT, 0.0, film, 0.0, 1.0);
        double worst = 0.0;
        for (size_t k = 0; k < 3; k++) {
            run_to(coarse, tau[k]);
            run_to(fine, tau[k]);
            const double a = uptake(coarse, 0.0), b = uptake(fine, 0.0);
            const double series = film_uptake(film, tau[k]);
            worst = fabs(b / series - 1.0) > worst ? fabs(b / series - 1.0) : worst;
            CHECK_CLOSE(series, row[i].uptake[k], 0.0, 6e-7, "six printed digits");
            CHECK_CLOSE(b, series, 1e-5, 0.0, "half cell in series with the film, 200 cells");
            CHECK_CLOSE((4.0 * b - a) / 3.0, series, 0.0, 1e-6, "crank1975, extrapolated");
        }
        end(coarse);
        coarse = begin(100, 2.0, 1.0, CONSTANT, 0.0, film, 0.0, 1.0);
        end(fine);
        fine = begin(200, 2.0, 1.0, CONSTANT, 0.0, film, 0.0, 1.0);
        const double a = time_of(coarse, 0.5), b = time_of(fine, 0.5);
        CHECK_CLOSE((4.0 * b - a) / 3.0, row[i].half, 2e-6, 6e-7, "half time, printed digits");
        print_message("  L %-5g largest error of uptake, 200 cells: %.1e  half time %.6f\n", film,
                      worst, b);
        end(coarse);
        end(fine);
    }
}

/* Late cooling follows A1 exp(-lambda1^2 Fo) at the axis: both constants of the table are found
 * again from two late times. The table has four decimals: half a unit of the last. */
static void test_long_cylinder_table(void **unused)
{
    (void)unused;
    static const struct {
        double film, lambda, amplitude;
    } row[] = {
        {0.01, 0.1412, 1.0025}, {0.1, 0.4417, 1.0246},  {0.2, 0.6170, 1.0483},
        {0.3, 0.7465, 1.0712},  {0.5, 0.9408, 1.1143},  {1.0, 1.2558, 1.2071},
        {2.0, 1.5995, 1.3384},  {3.0, 1.7887, 1.4191},  {4.0, 1.9081, 1.4698},
        {5.0, 1.9898, 1.5029},  {10.0, 2.1795, 1.5677},
    };
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        double lambda[2], amplitude[2];
        for (size_t k = 0; k < 2; k++) {
            cylinder *c = begin((size_t)100 << k, 2.0, 1.0, CONSTANT, 0.0, row[i].film, 1.0, 0.0);
            run_to(c, 1.0);
            const double one = value_at(c, 0.0);
            run_to(c, 2.0);
            const double two = value_at(c, 0.0);
            lambda[k] = sqrt(log(one / two));
            amplitude[k] = one * one / two;
            end(c);
        }
        const double l = (4.0 * lambda[1] - lambda[0]) / 3.0;
        const double a = (4.0 * amplitude[1] - amplitude[0]) / 3.0;
        print_message("  Bi %-5g lambda1 %.6f (200 cells %.6f)  A1 %.6f (%.6f)\n", row[i].film, l,
                      lambda[1], a, amplitude[1]);
        CHECK_CLOSE(l, row[i].lambda, 0.0, 5.1e-5,
                    "cengel-tables, Table 4-2; at Bi 2 the root 1.599449 is printed as 1.5995");
        CHECK_CLOSE(a, row[i].amplitude, 0.0, 5e-5, "cengel-tables, Table 4-2");
        CHECK_CLOSE(l, film_root(1, row[i].film), 1e-6, 0.0, "root of b J1(b) = Bi J0(b)");
    }
}

/* Temperatures of the axis. */
static void test_axis_temperature(void **unused)
{
    (void)unused;
    static const struct {
        double film, fourier, want;
    } row[] = {{0.1, 1.0, 0.84299},
               {1.0, 0.5, 0.54859},
               {HUGE_VAL, 0.2, 0.50149},
               {HUGE_VAL, 0.1, 0.84836}};
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        cylinder *c = begin(200, 2.0, 1.0, CONSTANT, 0.0, row[i].film, 1.0, 0.0);
        run_to(c, row[i].fourier);
        CHECK_CLOSE(value_at(c, 0.0), row[i].want, 0.0, 4e-5,
                    "full series (crank1975), five digits; mesh error 3e-5");
        end(c);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_uptake),           cmocka_unit_test(test_short_time),
        cmocka_unit_test(test_fraction_times),   cmocka_unit_test(test_profiles),
        cmocka_unit_test(test_film_uptake),      cmocka_unit_test(test_long_cylinder_table),
        cmocka_unit_test(test_axis_temperature),
    };
    return cmocka_run_group_tests_name("transport benchmarks: constant D", tests, NULL, NULL);
}
