/* The same equations in other hands: GSL's multistep method instead of our integrator, differences
 * instead of our derivatives. */
#include "gsl_solver.h"

#define CELLS 20
#define MOST  (2 * CELLS + 2)

static const char *const mode_name[] = {"bare", "film", "bath"};

static hfi_surroundings usual_around(hfi_surface_mode mode)
{
    return (hfi_surroundings){
        .heat_transfer = mode == HFI_SURFACE_BATH ? 4000 : 600,
        .vapour_conductance = 0.4,
        .ambient_pressure = 101325,
        .temperature = mode == HFI_SURFACE_BATH ? 310 : 440,
        .temperature_rate = mode == HFI_SURFACE_BATH ? 1 : -20,
        .vapour_pressure = 1500,
        .vapour_rate = 300,
    };
}

static void open_usual(kit *k, int lumped)
{
    memcpy(k->values, hfi_values(NULL), sizeof k->values);
    kit_open(k, CELLS, HFI_LAW_SATURATING, lumped, 1e-10);
}

/* ---- GSL ------------------------------------------------------------------------------------------- */

/* Two seconds of a mode through both solvers; the largest difference, regain over 0.3 and temperature
 * over 200 K. */
static double compare(hfi_surface_mode mode, int lumped)
{
    kit k;
    open_usual(&k, lumped);
    kit_fill(&k, mode, 0.15, 300, mode == HFI_SURFACE_FILM ? 6 : 0);
    const hfi_surroundings around = usual_around(mode);
    equations e;
    equations_open(&e, &k, lumped, mode, &around);
    const size_t n = e.problem.blocks * e.problem.block_size;
    double y[MOST], scale[MOST], t = 0;
    memcpy(y, k.state, n * sizeof *y);
    for (size_t i = 0; i < n; i++)
        scale[i] = lumped ? (i < CELLS || i == hfi_lumped_film_at(&e.one) ? 0.1 : 1e5)
                          : (i % 2 ? 1e5 : 0.1);
    if (!lumped)
        scale[n - 1] = mode == HFI_SURFACE_FILM ? 1e4 : 1;
    gsl_odeiv2_system system = {gsl_rates, gsl_jacobian, n, &e};
    gsl_odeiv2_driver *d = gsl_odeiv2_driver_alloc_scaled_new(&system, gsl_odeiv2_step_msbdf, 1e-7,
                                                              1e-9, 0, 1, 0, scale);
    assert_non_null(d);
    kit_begin(&k, &around);
    double worst = 0;
    for (int i = 1; i <= 8; i++) {
        const double at = 0.25 * i;
        assert_int_equal(gsl_odeiv2_driver_apply(d, &t, at, y), GSL_SUCCESS);
        kit_run_to(&k, at);
        hfi_view ours;
        hfi_system_peek(k.system, k.state, &ours);
        for (size_t c = 0; c < CELLS; c++) {
            const double w = lumped ? y[c] : y[2 * c];
            const double T = lumped
                                 ? hfi_lumped_temperature(&e.one, y, NULL)
                                 : hfi_radial_temperature(&k.material, w, y[2 * c + 1], NULL, NULL);
            worst = fmax(worst, fabs(ours.regain[c] - w) / 0.3);
            worst = fmax(worst, fabs(ours.temperature[c] - T) / 200);
        }
    }
    gsl_odeiv2_driver_free(d);
    equations_close(&e);
    kit_close(&k);
    return worst;
}

static void test_gsl(void **unused)
{
    (void)unused;
    for (int lumped = 0; lumped < 2; lumped++)
        for (int mode = HFI_SURFACE_BARE; mode <= HFI_SURFACE_BATH; mode++) {
            const double off = compare((hfi_surface_mode)mode, lumped);
            print_message("  %s, %s: largest difference %.1e\n", lumped ? "lumped" : "full",
                          mode_name[mode], off);
            assert_true(off < 1e-5);
        }
}

/* ---- derivatives ----------------------------------------------------------------------------------- */

/* A fixed sequence of numbers in 0..1 (splitmix64). */
static double next(uint64_t *seed)
{
    uint64_t z = *seed += 0x9E3779B97F4A7C15u;
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9u;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBu;
    return (double)((z ^ (z >> 31)) >> 11) * 0x1p-53;
}

/* A state that a run might meet: a smooth profile with a little unrest. */
static void random_state(kit *k, hfi_surface_mode mode, uint64_t *seed)
{
    double regain[CELLS], temperature[CELLS];
    const double axis = 0.02 + 0.25 * next(seed), rim = 0.02 + 0.25 * next(seed);
    const double cool = 280 + 90 * next(seed), rise = 60 * next(seed);
    for (size_t i = 0; i < CELLS; i++) {
        const double x = (double)i / CELLS;
        regain[i] = axis + (rim - axis) * x * x + 0.002 * next(seed);
        temperature[i] = cool + rise * x * x + 0.2 * next(seed);
    }
    hfi_system_set_mode(k->system, mode, k->state);
    hfi_system_fill(k->system, regain, temperature,
                    mode == HFI_SURFACE_FILM ? 0.001 + 0.5 * next(seed) : 0, k->state);
}

/* Rates, then counts, at a state. */
static void rates_at(const equations *e, double t, const double *y, double *out)
{
    const size_t n = e->problem.blocks * e->problem.block_size;
    assert_int_equal(e->problem.rates(t, y, NULL, out, out + n, e->problem.user), 0);
}

static double step_of(const double *y, size_t i, int is_regain)
{
    return is_regain ? 1e-6 * fmax(y[i], 0.01) : 1e-6 * fmax(fabs(y[i]), 100);
}

/* Each column of the Jacobian, of the gradient of the counts, and the derivative by time, against central
 * differences. Rows are compared with the largest entry of their row: rounding of the difference. */
static void check_derivatives(equations *e, const double *y0)
{
    const size_t n = e->problem.blocks * e->problem.block_size, all = n + HFI_BOUNDARY_COUNTS;
    static double full[MOST * MOST], by_difference[(MOST + HFI_BOUNDARY_COUNTS) * MOST];
    double y[MOST], up[MOST + HFI_BOUNDARY_COUNTS], down[MOST + HFI_BOUNDARY_COUNTS], unit[MOST];
    double by_time[MOST], largest[MOST + HFI_BOUNDARY_COUNTS] = {0};
    memcpy(y, y0, n * sizeof *y);
    for (size_t c = 0; c < n; c++) {
        const int film = e->problem.block_size == 1 && c == hfi_lumped_film_at(&e->one);
        const int is_regain = film || (e->problem.block_size == 1 ? c < CELLS : c % 2 == 0);
        double h = step_of(y, c, is_regain);
        if (e->problem.block_size == 2 && c == n - 1 && e->radial.mode != HFI_SURFACE_FILM)
            h = 1e-5; /* the skin holds a tenth of a joule per kelvin */
        const double keep = y[c];
        y[c] = keep + h;
        rates_at(e, 0, y, up);
        y[c] = keep - h;
        rates_at(e, 0, y, down);
        y[c] = keep;
        for (size_t r = 0; r < all; r++) {
            by_difference[r * n + c] = (up[r] - down[r]) / (2 * h);
            largest[r] = fmax(largest[r], fabs(by_difference[r * n + c]) * fmax(fabs(keep), h));
        }
    }
    assert_int_equal(gsl_jacobian(0, y, full, by_time, e), GSL_SUCCESS);
    for (size_t c = 0; c < n; c++) {
        double gradient[HFI_BOUNDARY_COUNTS];
        memset(unit, 0, sizeof unit);
        unit[c] = 1;
        assert_int_equal(
            e->problem.quadrature_gradient(0, y, NULL, unit, gradient, e->problem.user), 0);
        for (size_t r = 0; r < all; r++) {
            const double ours = r < n ? full[r * n + c] : gradient[r - n];
            const double size = largest[r] / fmax(fabs(y[c]), 1e-3);
            CHECK_CLOSE(ours, by_difference[r * n + c], 2e-5, 2e-6 * size, "central difference");
        }
    }
    rates_at(e, 1e-4, y, up);
    rates_at(e, -1e-4, y, down);
    double counts[HFI_BOUNDARY_COUNTS];
    memset(by_time, 0, sizeof by_time);
    assert_int_equal(e->problem.rates(0, y, NULL, unit, counts, e->problem.user), 0);
    assert_int_equal(e->problem.time_derivative(0, y, NULL, by_time, counts, e->problem.user), 0);
    for (size_t r = 0; r < all; r++) {
        const double ours = r < n ? by_time[r] : counts[r - n];
        CHECK_CLOSE(ours, (up[r] - down[r]) / 2e-4, 1e-6, 1e-7 * largest[r] + 1e-8,
                    "central difference");
    }
}

static void test_derivatives(void **unused)
{
    (void)unused;
    uint64_t seed = 20;
    for (int lumped = 0; lumped < 2; lumped++) {
        kit k;
        open_usual(&k, lumped);
        for (int mode = HFI_SURFACE_BARE; mode <= HFI_SURFACE_BATH; mode++)
            for (int i = 0; i < 25; i++) {
                random_state(&k, (hfi_surface_mode)mode, &seed);
                const hfi_surroundings around = usual_around((hfi_surface_mode)mode);
                equations e;
                equations_open(&e, &k, lumped, (hfi_surface_mode)mode, &around);
                check_derivatives(&e, k.state);
                equations_close(&e);
            }
        kit_close(&k);
    }
}

/* What the integrator is told about the counts: together with what is held they do not change. */
static void test_rates_balance(void **unused)
{
    (void)unused;
    uint64_t seed = 21;
    for (int lumped = 0; lumped < 2; lumped++) {
        kit k;
        open_usual(&k, lumped);
        for (int mode = HFI_SURFACE_BARE; mode <= HFI_SURFACE_BATH; mode++)
            for (int i = 0; i < 25; i++) {
                random_state(&k, (hfi_surface_mode)mode, &seed);
                const hfi_surroundings around = usual_around((hfi_surface_mode)mode);
                equations e;
                equations_open(&e, &k, lumped, (hfi_surface_mode)mode, &around);
                const size_t n = e.problem.blocks * e.problem.block_size;
                double out[MOST + HFI_BOUNDARY_COUNTS], sum[HFI_BALANCED], size[HFI_BALANCED];
                rates_at(&e, 0, k.state, out);
                e.problem.quadrature_balance(out, sum, size, e.problem.user);
                for (size_t b = 0; b < HFI_BALANCED; b++)
                    CHECK_CLOSE(sum[b], -out[n + b], 0, 1e-13 * size[b], "conservation");
                equations_close(&e);
            }
        kit_close(&k);
    }
}

int main(void)
{
    gsl_set_error_handler_off();
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_gsl),
        cmocka_unit_test(test_derivatives),
        cmocka_unit_test(test_rates_balance),
    };
    return cmocka_run_group_tests_name("the same equations in other hands", tests, NULL, NULL);
}
