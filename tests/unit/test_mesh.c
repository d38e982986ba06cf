/* The radial mesh: geometry against closed forms, mass conservation, exact flows. */
#include "check.h"

#include "transport/mesh.h"

#define PI 3.14159265358979323846

static hfi_mesh *mesh_of(size_t cells, double grading, double radius)
{
    hfi_mesh *m = NULL;
    assert_int_equal(hfi_mesh_create(cells, grading, radius, &m), HFI_MESH_OK);
    assert_non_null(m);
    return m;
}

static void test_dry_geometry(void **unused)
{
    (void)unused;
    static const size_t cells[] = {20, 60, 800};
    static const double gradings[] = {1.0, 2.0, 3.0};
    const double radius = 35e-6;
    for (size_t a = 0; a < 3; a++) {
        for (size_t b = 0; b < 3; b++) {
            const size_t n = cells[a];
            hfi_mesh *m = mesh_of(n, gradings[b], radius);
            double sum = 0.0;
            for (size_t i = 0; i <= n; i++) {
                const double x = 1.0 - pow(1.0 - (double)i / (double)n, gradings[b]);
                CHECK_CLOSE(hfi_mesh_face_radius(m, i), radius * x, 1e-12, 0.0,
                            "r/R = 1 - (1 - i/N)^p");
                CHECK_CLOSE(m->face_mass[i], x * x, 1e-12, 0.0, "m = (r/R)^2");
            }
            for (size_t i = 0; i < n; i++) {
                sum += m->cell_mass[i];
                assert_true(m->cell_mass[i] > 0.0);
                assert_true(hfi_mesh_centre_radius(m, i) > hfi_mesh_face_radius(m, i));
                assert_true(hfi_mesh_centre_radius(m, i) < hfi_mesh_face_radius(m, i + 1));
            }
            CHECK_CLOSE(sum, 1.0, 1e-14, 0.0, "shares of the whole");
            CHECK_CLOSE(hfi_mesh_surface_radius(m), radius, 1e-14, 0.0, "dry radius");
            hfi_mesh_free(m);
        }
    }
}

static void test_swelling_keeps_dry_mass(void **unused)
{
    (void)unused;
    hfi_mesh *m = mesh_of(60, 2.0, 35e-6);
    double s[60];
    for (size_t i = 0; i < 60; i++)
        s[i] = 1.0 + 0.005 * (double)i; /* wet outside */
    assert_int_equal(hfi_mesh_swell(m, s), HFI_MESH_OK);
    const double dry_area = PI * 35e-6 * 35e-6;
    double area = 0.0;
    for (size_t i = 0; i < 60; i++) {
        const double cell = PI * (m->square[i + 1] - m->square[i]);
        CHECK_CLOSE(cell / s[i], dry_area * m->cell_mass[i], 1e-11, 0.0, "area = dry area * s");
        area += cell;
    }
    const double radius = hfi_mesh_surface_radius(m);
    CHECK_CLOSE(PI * radius * radius, area, 1e-13, 0.0, "faces cumulate the areas");
    CHECK_CLOSE(radius * radius, 35e-6 * 35e-6 * hfi_mesh_mean(m, s, 1), 1e-13, 0.0,
                "area ratio = dry-mass mean of s");
    hfi_mesh_free(m);
}

static void test_even_swelling_leaves_factors(void **unused)
{
    (void)unused;
    hfi_mesh *dry = mesh_of(40, 2.0, 1.0), *wet = mesh_of(40, 2.0, 1.0);
    double s[40];
    for (size_t i = 0; i < 40; i++)
        s[i] = 1.32;
    assert_int_equal(hfi_mesh_swell(wet, s), HFI_MESH_OK);
    for (size_t i = 0; i < 40; i++) {
        CHECK_CLOSE(wet->conductance[i], dry->conductance[i], 1e-13, 0.0, "pure numbers");
        CHECK_CLOSE(wet->outer_half[i], dry->outer_half[i], 1e-13, 0.0, "pure numbers");
        CHECK_CLOSE(wet->inner_half[i], dry->inner_half[i], 1e-13, 0.0, "pure numbers");
    }
    CHECK_CLOSE(hfi_mesh_surface_radius(wet), sqrt(1.32), 1e-14, 0.0, "all cells alike");
    assert_int_equal(hfi_mesh_swell(wet, NULL), HFI_MESH_OK);
    for (size_t i = 0; i <= 40; i++)
        assert_true(wet->square[i] == dry->square[i]);
    hfi_mesh_free(dry);
    hfi_mesh_free(wet);
}

/* u = a + b r^2 (uniform source, steady) has cell averages a + b r_c^2 and the flow -4 pi k b r^2.
 */
static void test_flow_of_a_parabola_is_exact(void **unused)
{
    (void)unused;
    hfi_mesh *m = mesh_of(30, 2.0, 2.0);
    double s[30];
    for (size_t i = 0; i < 30; i++)
        s[i] = 1.4 - 0.01 * (double)i;
    assert_int_equal(hfi_mesh_swell(m, s), HFI_MESH_OK);
    for (size_t f = 1; f < 30; f++) {
        const double inner = 3.0 - 0.7 * m->centre_square[f - 1];
        const double outer = 3.0 - 0.7 * m->centre_square[f];
        const double want = 4.0 * PI * 0.7 * m->square[f];
        CHECK_CLOSE(m->conductance[f] * (inner - outer), want, 1e-10, 0.0, "-2 pi r du/dr");
        CHECK_CLOSE(m->outer_half[f - 1] + m->inner_half[f], 1.0 / m->conductance[f], 1e-12, 0.0,
                    "two halves in series");
    }
    const double surface = 3.0 - 0.7 * m->square[30], last = 3.0 - 0.7 * m->centre_square[29];
    CHECK_CLOSE((last - surface) / m->outer_half[29], 4.0 * PI * 0.7 * m->square[30], 1e-10, 0.0,
                "half cell at the surface");
    hfi_mesh_free(m);
}

static void test_mean(void **unused)
{
    (void)unused;
    hfi_mesh *m = mesh_of(25, 1.5, 1.0);
    double pairs[50];
    for (size_t i = 0; i < 25; i++) {
        pairs[2 * i] = m->centre_square[i];
        pairs[2 * i + 1] = 4.0;
    }
    CHECK_CLOSE(hfi_mesh_mean(m, pairs, 2), 0.5, 1e-13, 0.0, "mean of r^2 over a unit disc");
    CHECK_CLOSE(hfi_mesh_mean(m, pairs + 1, 2), 4.0, 1e-14, 0.0, "mean of a constant");
    hfi_mesh_free(m);
}

static void test_arguments(void **unused)
{
    (void)unused;
    hfi_mesh *m = NULL;
    assert_int_equal(hfi_mesh_create(19, 2.0, 1.0, &m), HFI_MESH_BAD_ARGUMENT);
    assert_int_equal(hfi_mesh_create(801, 2.0, 1.0, &m), HFI_MESH_BAD_ARGUMENT);
    assert_int_equal(hfi_mesh_create(60, 0.9, 1.0, &m), HFI_MESH_BAD_ARGUMENT);
    assert_int_equal(hfi_mesh_create(60, (double)NAN, 1.0, &m), HFI_MESH_BAD_ARGUMENT);
    assert_int_equal(hfi_mesh_create(60, 2.0, 0.0, &m), HFI_MESH_BAD_ARGUMENT);
    assert_int_equal(hfi_mesh_create(60, 2.0, (double)NAN, &m), HFI_MESH_BAD_ARGUMENT);
    assert_int_equal(hfi_mesh_create(60, 2.0, (double)INFINITY, &m), HFI_MESH_BAD_ARGUMENT);
    assert_int_equal(hfi_mesh_create(60, 2.0, 1e-200, &m), HFI_MESH_BAD_ARGUMENT);
    assert_int_equal(hfi_mesh_create(60, 2.0, 1.0, NULL), HFI_MESH_BAD_ARGUMENT);
    assert_null(m);
    hfi_mesh_free(NULL);
    m = mesh_of(20, HFI_MESH_GRADING, 1.0);
    double s[20];
    for (size_t i = 0; i < 20; i++)
        s[i] = 1.2;
    assert_int_equal(hfi_mesh_swell(m, s), HFI_MESH_OK);
    s[7] = 0.0;
    assert_int_equal(hfi_mesh_swell(m, s), HFI_MESH_BAD_ARGUMENT);
    s[7] = (double)NAN;
    assert_int_equal(hfi_mesh_swell(m, s), HFI_MESH_BAD_ARGUMENT);
    assert_int_equal(hfi_mesh_swell(NULL, NULL), HFI_MESH_BAD_ARGUMENT);
    CHECK_CLOSE(hfi_mesh_surface_radius(m), sqrt(1.2), 1e-14, 0.0, "left as it was");
    hfi_mesh_free(m);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_dry_geometry),
        cmocka_unit_test(test_swelling_keeps_dry_mass),
        cmocka_unit_test(test_even_swelling_leaves_factors),
        cmocka_unit_test(test_flow_of_a_parabola_is_exact),
        cmocka_unit_test(test_mean),
        cmocka_unit_test(test_arguments),
    };
    return cmocka_run_group_tests_name("mesh", tests, NULL, NULL);
}
