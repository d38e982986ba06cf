/* The library's own radial heat and water with textbook parameters, for tests that compare it with
 * solutions in closed form.
 *
 * Textbook parameters make each law as simple as the solutions take it: diffusivity without temperature,
 * isotherm a straight line w = LINE a without heat of sorption, heat capacity and conductivity without
 * slopes. With an ambient pressure of 1e12 Pa the logarithm of the Stefan flow is straight to 1e-8.
 * Everything else is what a treatment runs with. */
#ifndef HFI_TESTS_RADIAL_KIT_H
#define HFI_TESTS_RADIAL_KIT_H

#include "../unit/check.h"

#include <hairfibre/water.h>

#include "base/catalogue.h"
#include "transport/lumped.h"
#include "transport/system.h"

#include <stdlib.h>
#include <string.h>

#define KIT_RADIUS      35e-6
#define KIT_LINE        0.3    /* regain at an activity of 1 */
#define KIT_RETENTION   0.3001 /* of the bath: just above, so that it holds and not the isotherm */
#define KIT_TEMPERATURE 298.15 /* zero of enthalpy: water carries no heat there */
#define KIT_PRESSURE    1e12

typedef struct kit {
    double values[HFI_PARAMETERS];
    hfi_material material;
    hfi_mesh *mesh;
    hfi_system *system;
    double *state;
    size_t cells;
    double area; /* m2 per kg of dry fibre */
} kit;

static inline void kit_textbook(double *values)
{
    values[HFI_DIFFUSION_ENERGY] = 0;
    values[HFI_SORPTION_SCALE] = 1;
    values[HFI_SORPTION_ENTHALPY_MONOLAYER] = 0;
    values[HFI_SORPTION_ENTHALPY_C] = 0;
    values[HFI_SORPTION_ENTHALPY_K] = 0;
    values[HFI_SORPTION_ABSORPTION_MONOLAYER] = 1e6;
    values[HFI_SORPTION_ABSORPTION_C] = 1;
    values[HFI_SORPTION_ABSORPTION_K] = KIT_LINE * 1e-6;
    values[HFI_SORPTION_RETENTION] = KIT_RETENTION;
    values[HFI_THERMAL_CAPACITY_SLOPE] = 0;
    values[HFI_THERMAL_CONDUCTIVITY_SLOPE] = 0;
}

/* A fibre with the parameters in `k->values`. */
static inline void kit_open(kit *k, size_t cells, hfi_diffusion_law law, int lumped,
                            double tolerance)
{
    hfi_material_prepare(&k->material, k->values, HF_ABSORPTION, law);
    assert_int_equal(hfi_mesh_create(cells, HFI_MESH_GRADING, KIT_RADIUS, &k->mesh), HFI_MESH_OK);
    assert_int_equal(
        hfi_system_create(&k->material, k->mesh, lumped, tolerance, 1000000, NULL, &k->system),
        HFI_ODE_OK);
    k->state = calloc(hfi_system_size(k->system), sizeof(double));
    assert_non_null(k->state);
    k->cells = cells;
    k->area = 2 / (k->material.dry_density * KIT_RADIUS);
}

static inline void kit_close(kit *k)
{
    hfi_system_free(k->system);
    hfi_mesh_free(k->mesh);
    free(k->state);
}

/* Uniform regain and temperature. */
static inline void kit_fill(kit *k, hfi_surface_mode mode, double regain, double temperature,
                            double film)
{
    double *uniform = malloc(2 * k->cells * sizeof(double));
    assert_non_null(uniform);
    for (size_t i = 0; i < k->cells; i++) {
        uniform[i] = regain;
        uniform[k->cells + i] = temperature;
    }
    hfi_system_set_mode(k->system, mode, k->state);
    hfi_system_fill(k->system, uniform, uniform + k->cells, film, k->state);
    free(uniform);
}

static inline void kit_begin(kit *k, const hfi_surroundings *around)
{
    assert_int_equal(hfi_system_begin(k->system, around, k->area, 1, k->state), HFI_ODE_OK);
}

static inline void kit_run_to(kit *k, double t)
{
    assert_int_equal(hfi_system_advance(k->system, t, NULL, NULL, k->state), HFI_ODE_OK);
}

/* Water taken up since kit_begin, kg/kg; it must be what the cells hold more. */
static inline double kit_uptake(kit *k, double start)
{
    double out, energy, heat;
    hfi_view view;
    hfi_system_counts(k->system, k->state, &out, &energy, &heat);
    hfi_system_peek(k->system, k->state, &view);
    CHECK_CLOSE(view.water - start, -out, 0, 1e-12, "balance of water");
    return -out;
}

/* One value per cell at radius r of the whole: cubic through the four nearest cells in r^2. */
static inline double kit_value(const kit *k, const double *value, double r)
{
    const double *a = k->mesh->centre_square, x = r * r * KIT_RADIUS * KIT_RADIUS;
    size_t first = 0;
    while (first + 4 < k->cells && a[first + 2] < x)
        first++;
    double sum = 0;
    for (size_t i = first; i < first + 4; i++) {
        double weight = 1;
        for (size_t j = first; j < first + 4; j++)
            if (j != i)
                weight *= (x - a[j]) / (a[i] - a[j]);
        sum += weight * value[i];
    }
    return sum;
}

/* Same temperature everywhere; a film coefficient L = h a/D of the textbooks for water, in the air with
 * this activity. */
static inline hfi_surroundings kit_air(const kit *k, double film, double activity)
{
    const double saturation = hf_saturation_pressure(KIT_TEMPERATURE);
    const double rate = k->values[HFI_DIFFUSION_WET] / (KIT_RADIUS * KIT_RADIUS);
    return (hfi_surroundings){
        .heat_transfer = 1e9, /* holds the temperature in spite of latent heat */
        .vapour_conductance = 2 * film * rate * KIT_PRESSURE * KIT_LINE / (saturation * k->area),
        .ambient_pressure = KIT_PRESSURE,
        .temperature = KIT_TEMPERATURE,
        .vapour_pressure = activity * saturation,
    };
}

/* The equations themselves, outside of hfi_system. */
typedef struct equations {
    hfi_radial radial;
    hfi_lumped one;
    hfi_ode_problem problem;
    double *cells;
} equations;

static inline void equations_open(equations *e, const kit *k, int lumped, hfi_surface_mode mode,
                                  const hfi_surroundings *around)
{
    const double radius = k->mesh->dry_radius, circle = 3.14159265358979323846 * radius * radius;
    *e = (equations){.radial = {.material = &k->material,
                                .mesh = k->mesh,
                                .mode = mode,
                                .around = *around,
                                .area = k->area,
                                .water_scale = 1 / circle,
                                .heat_scale = 1 / (circle * k->material.dry_density),
                                .least_regain = -1e-9,
                                .surface_guess = (double)NAN}};
    e->cells = calloc(hfi_cells_doubles(k->cells), sizeof(double));
    e->one.shared = &e->radial;
    e->one.temperature_by = calloc(k->cells + 2, sizeof(double));
    assert_non_null(e->cells);
    assert_non_null(e->one.temperature_by);
    hfi_cells_lay_out(&e->radial.cell, k->mesh, e->radial.water_scale, e->radial.heat_scale,
                      e->cells);
    if (lumped)
        hfi_lumped_problem(&e->one, &e->problem);
    else
        hfi_radial_problem(&e->radial, &e->problem);
}

static inline void equations_close(equations *e)
{
    free(e->cells);
    free(e->one.temperature_by);
}

#endif
