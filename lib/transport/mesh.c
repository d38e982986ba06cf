/* Radial finite-volume mesh in dry-mass coordinates; the equations are in mesh.h. */
#include "mesh.h"

#include <math.h>
#include <stdlib.h>

#define PI 3.14159265358979323846

/* The public view hands out const pointers; the same memory is written through these. */
typedef struct mesh_object {
    hfi_mesh view; /* first, so that a pointer to the view is a pointer to the object */
    double *square;
    double *centre_square;
    double *conductance;
    double *outer_half;
    double *inner_half;
    double data[];
} mesh_object;

static void fill_geometry(mesh_object *o, const double *swelling)
{
    const size_t n = o->view.cells;
    const double dry_square = o->view.dry_radius * o->view.dry_radius;
    double inner = 0.0;         /* squared radius of the inner face */
    double centre_before = 0.0; /* squared radius of the centre of the cell before */
    for (size_t i = 0; i < n; i++) {
        const double s = swelling != NULL ? swelling[i] : 1.0;
        const double half = 0.5 * dry_square * o->view.cell_mass[i] * s;
        const double centre = inner + half;
        const double outer = centre + half;
        o->square[i + 1] = outer;
        o->centre_square[i] = centre;
        o->outer_half[i] = half / (4.0 * PI * outer);
        if (i > 0) {
            o->inner_half[i] = half / (4.0 * PI * inner);
            o->conductance[i] = 4.0 * PI * inner / (centre - centre_before);
        }
        inner = outer;
        centre_before = centre;
    }
}

int hfi_mesh_create(size_t cells, double grading, double dry_radius, hfi_mesh **out)
{
    if (out == NULL || cells < HFI_MESH_MIN_CELLS || cells > HFI_MESH_MAX_CELLS ||
        !(grading >= 1.0 && grading <= 4.0) || !(dry_radius > 0.0) || !isfinite(dry_radius) ||
        !isnormal(dry_radius * dry_radius)) {
        return HFI_MESH_BAD_ARGUMENT;
    }
    mesh_object *o = malloc(sizeof *o + (7 * cells + 2) * sizeof(double));
    if (o == NULL) {
        return HFI_MESH_NO_MEMORY;
    }
    double *face_mass = o->data;
    double *cell_mass = face_mass + cells + 1;
    o->square = cell_mass + cells;
    o->centre_square = o->square + cells + 1;
    o->conductance = o->centre_square + cells;
    o->outer_half = o->conductance + cells;
    o->inner_half = o->outer_half + cells;
    o->view = (hfi_mesh){
        .cells = cells,
        .dry_radius = dry_radius,
        .grading = grading,
        .face_mass = face_mass,
        .cell_mass = cell_mass,
        .square = o->square,
        .centre_square = o->centre_square,
        .conductance = o->conductance,
        .outer_half = o->outer_half,
        .inner_half = o->inner_half,
    };
    double before = 0.0;
    face_mass[0] = 0.0;
    for (size_t i = 0; i < cells; i++) {
        /* r2^2 - r1^2 as a product: no digits are lost in the thin outer cells. */
        const double rest = pow((double)(cells - i - 1) / (double)cells, grading);
        const double radius = 1.0 - rest;
        const double thickness = pow((double)(cells - i) / (double)cells, grading) - rest;
        cell_mass[i] = thickness * (radius + before);
        face_mass[i + 1] = radius * radius;
        before = radius;
    }
    o->square[0] = 0.0;
    o->conductance[0] = 0.0;
    o->inner_half[0] = 0.0;
    fill_geometry(o, NULL);
    *out = (hfi_mesh *)o;
    return HFI_MESH_OK;
}

void hfi_mesh_free(hfi_mesh *mesh)
{
    free(mesh);
}

int hfi_mesh_swell(hfi_mesh *mesh, const double *swelling)
{
    if (mesh == NULL) {
        return HFI_MESH_BAD_ARGUMENT;
    }
    if (swelling != NULL) {
        for (size_t i = 0; i < mesh->cells; i++) {
            if (!(swelling[i] > 0.0) || !isfinite(swelling[i])) {
                return HFI_MESH_BAD_ARGUMENT;
            }
        }
    }
    fill_geometry((mesh_object *)mesh, swelling);
    return HFI_MESH_OK;
}

double hfi_mesh_face_radius(const hfi_mesh *mesh, size_t i)
{
    return sqrt(mesh->square[i]);
}

double hfi_mesh_centre_radius(const hfi_mesh *mesh, size_t i)
{
    return sqrt(mesh->centre_square[i]);
}

double hfi_mesh_surface_radius(const hfi_mesh *mesh)
{
    return sqrt(mesh->square[mesh->cells]);
}

double hfi_mesh_mean(const hfi_mesh *mesh, const double *values, size_t stride)
{
    double sum = 0.0;
    for (size_t i = 0; i < mesh->cells; i++) {
        sum += mesh->cell_mass[i] * values[i * stride];
    }
    return sum;
}
