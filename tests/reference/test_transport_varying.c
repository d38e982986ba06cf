/* D that depends on the content: half times for D = exp(k u), the moving front of D = u.
 *
 * Sources: see cylinder_tables.h. */
#include "cylinder.h"
#include "cylinder_tables.h"

static void test_exponential(void **unused)
{
    (void)unused;
    for (size_t i = 0; i < EXPONENTIAL_ROWS; i++) {
        const double k = log(exponential_row[i].ratio), start = exponential_row[i].start;
        cylinder *coarse = begin(100, 2.0, 1.0, EXPONENTIAL, k, HUGE_VAL, start, 1.0 - start);
        cylinder *fine = begin(200, 2.0, 1.0, EXPONENTIAL, k, HUGE_VAL, start, 1.0 - start);
        for (size_t n = 0; n < 4; n++) {
            const double a = time_of(coarse, exponential_fraction[n]), b = time_of(fine, exponential_fraction[n]);
            CHECK_CLOSE((4.0 * b - a) / 3.0, exponential_row[i].tau[n], 0.0, 1e-6,
                        "reference numbers: change below 1e-6 when the grid was refined");
        }
        uptake(fine, start); /* balance */
        end(coarse);
        end(fine);
    }
}

/* Started at t = 1 with exact cell averages in a sealed cylinder of radius 4. */
static double barenblatt_error(size_t cells, double *front, double *values)
{
    cylinder *c = begin(cells, 1.0, 4.0, LINEAR, 0.0, 0.0, 0.0, 0.0);
    double *y = malloc(cells * sizeof(double));
    assert_non_null(y);
    const double *square = c->mesh->square;
    for (size_t i = 0; i < cells; i++)
        y[i] = barenblatt_average(square[i], square[i + 1], 1.0);
    CHECK_CLOSE(16.0 * PI * hfi_mesh_mean(c->mesh, y, 1), 4.0 * PI, 1e-12, 0.0,
                "total, closed form");
    assert_int_equal(hfi_ode_start(c->ode, 1.0, y, NULL), HFI_ODE_OK);
    assert_int_equal(hfi_ode_advance(c->ode, 2.0, NULL, NULL), HFI_ODE_OK);
    const double *u = hfi_ode_y(c->ode);
    CHECK_CLOSE(16.0 * PI * hfi_mesh_mean(c->mesh, u, 1), 4.0 * PI, 1e-12, 0.0, "total is kept");
    double sum = 0.0;
    *front = 0.0;
    for (size_t i = 0; i < cells; i++) {
        sum +=
            c->mesh->cell_mass[i] * fabs(u[i] - barenblatt_average(square[i], square[i + 1], 2.0));
        if (u[i] > 1e-3)
            *front = sqrt(square[i + 1]);
    }
    for (size_t i = 0; i < 3; i++)
        values[i] = value_at(c, (double)i);
    free(y);
    end(c);
    return sum;
}

static void test_barenblatt(void **unused)
{
    (void)unused;
    double front, values[3], before = 0.0;
    for (size_t cells = 100; cells <= 400; cells *= 2) {
        const double error = barenblatt_error(cells, &front, values);
        const double order = before > 0.0 ? log2(before / error) : 0.0;
        print_message("  %3zu cells: mean error %.2e order %.2f, u(0) u(1) u(2) off by %.1e %.1e "
                      "%.1e, front %.4f\n",
                      cells, error, order, values[0] - barenblatt_want[0], values[1] - barenblatt_want[1],
                      values[2] - barenblatt_want[2], front);
        /* The front is a corner of the profile, so the mean error falls a little below order 2. */
        assert_true(before == 0.0 || (order > 1.7 && order < 2.3));
        for (size_t i = 0; i < 3; i++)
            CHECK_CLOSE(values[i], barenblatt_want[i], 0.0, 2.5e-5 * pow(100.0 / (double)cells, 2),
                        "barenblatt, exact; second order");
        CHECK_CLOSE(front, barenblatt_front, 0.0, 4.0 / (double)cells, "front 8^1/2 2^1/4, to one cell");
        before = error;
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_exponential),
        cmocka_unit_test(test_barenblatt),
    };
    return cmocka_run_group_tests_name("transport benchmarks: D of the content", tests, NULL, NULL);
}
