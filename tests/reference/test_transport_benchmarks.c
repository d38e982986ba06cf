/* Constant D in a cylinder: uptake, profiles, film on the surface, long-cylinder table.
 *
 * Sources: see cylinder_tables.h. */
#include "cylinder.h"
#include "cylinder_tables.h"

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
    cylinder *coarse = begin(200, 2.0, 1.0, CONSTANT, 0.0, HUGE_VAL, 0.0, 1.0);
    cylinder *fine = begin(400, 2.0, 1.0, CONSTANT, 0.0, HUGE_VAL, 0.0, 1.0);
    for (size_t i = 0; i < FRACTIONS; i++) {
        CHECK_CLOSE(series_uptake(fraction_tau[i]), fraction[i], 0.0, 2e-7, "inverse of the series");
        const double a = time_of(coarse, fraction[i]), b = time_of(fine, fraction[i]);
        CHECK_CLOSE((4.0 * b - a) / 3.0, fraction_tau[i], 0.0, 1e-6, "crank1975, extrapolated");
    }
    end(coarse);
    end(fine);
}

static void test_profiles(void **unused)
{
    (void)unused;
    cylinder *coarse = begin(100, 2.0, 1.0, CONSTANT, 0.0, HUGE_VAL, 0.0, 1.0);
    cylinder *fine = begin(200, 2.0, 1.0, CONSTANT, 0.0, HUGE_VAL, 0.0, 1.0);
    for (size_t i = 0; i < 4; i++) {
        run_to(coarse, profile_tau[i]);
        run_to(fine, profile_tau[i]);
        for (size_t k = 0; k < 3; k++) {
            const double series = series_value(profile_r[k], profile_tau[i]);
            CHECK_CLOSE(series, printed_profile[i][k], 0.0, 6e-9, "eight printed digits");
            const double a = value_at(coarse, profile_r[k]), b = value_at(fine, profile_r[k]);
            print_message("  tau %-5g r %.1f  %.8f  errors %9.2e %9.2e\n", profile_tau[i], profile_r[k], series,
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

static void test_film_uptake(void **unused)
{
    (void)unused;
    for (size_t i = 0; i < FILM_ROWS; i++) {
        const double film = film_row[i].film;
        for (unsigned n = 1; n <= 3; n++)
            CHECK_CLOSE(film_root(n, film), film_row[i].root[n - 1], 0.0, 6e-9, "eight printed digits");
        cylinder *coarse = begin(100, 2.0, 1.0, CONSTANT, 0.0, film, 0.0, 1.0);
        cylinder *fine = begin(200, 2.0, 1.0, CONSTANT, 0.0, film, 0.0, 1.0);
        double worst = 0.0;
        for (size_t k = 0; k < 3; k++) {
            run_to(coarse, film_tau[k]);
            run_to(fine, film_tau[k]);
            const double a = uptake(coarse, 0.0), b = uptake(fine, 0.0);
            const double series = film_uptake(film, film_tau[k]);
            worst = fabs(b / series - 1.0) > worst ? fabs(b / series - 1.0) : worst;
            CHECK_CLOSE(series, film_row[i].uptake[k], 0.0, 6e-7, "six printed digits");
            CHECK_CLOSE(b, series, 1e-5, 0.0, "half cell in series with the film, 200 cells");
            CHECK_CLOSE((4.0 * b - a) / 3.0, series, 0.0, 1e-6, "crank1975, extrapolated");
        }
        end(coarse);
        coarse = begin(100, 2.0, 1.0, CONSTANT, 0.0, film, 0.0, 1.0);
        end(fine);
        fine = begin(200, 2.0, 1.0, CONSTANT, 0.0, film, 0.0, 1.0);
        const double a = time_of(coarse, 0.5), b = time_of(fine, 0.5);
        CHECK_CLOSE((4.0 * b - a) / 3.0, film_row[i].half, 2e-6, 6e-7, "half time, printed digits");
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
    for (size_t i = 0; i < LONG_ROWS; i++) {
        double lambda[2], amplitude[2];
        for (size_t k = 0; k < 2; k++) {
            cylinder *c = begin((size_t)100 << k, 2.0, 1.0, CONSTANT, 0.0, long_row[i].film, 1.0, 0.0);
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
        print_message("  Bi %-5g lambda1 %.6f (200 cells %.6f)  A1 %.6f (%.6f)\n", long_row[i].film, l,
                      lambda[1], a, amplitude[1]);
        CHECK_CLOSE(l, long_row[i].lambda, 0.0, 5.1e-5,
                    "cengel-tables, Table 4-2; at Bi 2 the root 1.599449 is printed as 1.5995");
        CHECK_CLOSE(a, long_row[i].amplitude, 0.0, 5e-5, "cengel-tables, Table 4-2");
        CHECK_CLOSE(l, film_root(1, long_row[i].film), 1e-6, 0.0, "root of b J1(b) = Bi J0(b)");
    }
}

/* Temperatures of the axis. */
static void test_axis_temperature(void **unused)
{
    (void)unused;
    for (size_t i = 0; i < AXIS_ROWS; i++) {
        cylinder *c = begin(200, 2.0, 1.0, CONSTANT, 0.0, axis_row[i].film, 1.0, 0.0);
        run_to(c, axis_row[i].fourier);
        CHECK_CLOSE(value_at(c, 0.0), axis_row[i].want, 0.0, 4e-5,
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
