/* Radial finite-volume mesh of a cylindrical fibre in dry-mass coordinates.
 *
 * The N cells hold fixed shares of the dry mass, so dry matter is conserved however the fibre
 * swells. Faces of the dry fibre lie at r/R = 1 - (1 - i/N)^grading, i = 0 .. N, finer toward the
 * surface for grading > 1; the cumulative dry mass at a face is m = (r/R)^2, uniform dry density
 * taken for granted. With cross-section swelling s_i (swollen area / dry area, 1 when dry) of cell
 * i
 *
 *   square[i+1] = square[i] + R^2 dm_i s_i          squares of the face radii, m2
 *   centre_square[i] = (square[i] + square[i+1])/2  a cell average belongs to this radius:
 *                                                   exact for any profile a + b r^2
 *   du/dr at face f  <->  2 r_f du/d(r^2), so per metre of fibre with a property k (flux = -k
 * du/dr) flow through face f = k G_f (u[f-1] - u[f]),  G_f = 4 pi square[f]/(centre_square[f] -
 *                                                       centre_square[f-1])
 *
 * Where k differs from cell to cell use the two half resistances of a face in series:
 *   1/G_f = outer_half[f-1] + inner_half[f];  flow = (u[f-1] - u[f])/(outer_half[f-1]/k[f-1] +
 *                                                                     inner_half[f]/k[f])
 * At the surface put the half cell and the film in series, with the surface value eliminated:
 *   flow = (u[N-1] - u_outside)/(outer_half[N-1]/k[N-1] + 1/(2 pi R_now h))
 * (Taking the last cell value for the surface value is only first order.)
 *
 * All factors G and halves are pure numbers: they do not change when all cells swell alike.
 * Units: radii m, squares m2, masses 1. One object, one thread at a time; const functions are safe.
 */
#ifndef HFI_TRANSPORT_MESH_H
#define HFI_TRANSPORT_MESH_H

#include <stddef.h>

#define HFI_MESH_MIN_CELLS 20
#define HFI_MESH_MAX_CELLS 800
#define HFI_MESH_GRADING   2.0 /* the default grading */

enum hfi_mesh_status { HFI_MESH_OK = 0, HFI_MESH_BAD_ARGUMENT, HFI_MESH_NO_MEMORY };

typedef struct hfi_mesh {
    size_t cells;
    double dry_radius;           /* m */
    double grading;              /* exponent p */
    const double *face_mass;     /* cells+1: cumulative share of dry mass inside face i, 0 .. 1 */
    const double *cell_mass;     /* cells: share of the dry mass, sum 1 */
    const double *square;        /* cells+1: squared face radii now, m2 */
    const double *centre_square; /* cells: squared centre radii now, m2 */
    const double *conductance; /* cells: G_f of inner face f = 1 .. cells-1; [0] is 0 (the axis) */
    const double *outer_half;  /* cells: resistance from the centre of cell i to its outer face */
    const double *inner_half;  /* cells: from its inner face to its centre; [0] is 0 (unused) */
} hfi_mesh;

/* Makes a mesh with the geometry of the dry fibre. cells 20 .. 800, grading 1 .. 4, radius > 0.
 * HFI_MESH_OK, HFI_MESH_BAD_ARGUMENT or HFI_MESH_NO_MEMORY; *out is untouched on error. */
int hfi_mesh_create(size_t cells, double grading, double dry_radius, hfi_mesh **out);

void hfi_mesh_free(hfi_mesh *mesh);

/* Works the geometry out anew for swelling[cells] (each > 0); NULL stands for the dry fibre.
 * HFI_MESH_BAD_ARGUMENT (a ratio not finite or not positive) leaves the geometry as it was. */
int hfi_mesh_swell(hfi_mesh *mesh, const double *swelling);

/* Face i (0 .. cells), cell centre i (0 .. cells-1) and surface: radii now, m. */
double hfi_mesh_face_radius(const hfi_mesh *mesh, size_t i);
double hfi_mesh_centre_radius(const hfi_mesh *mesh, size_t i);
double hfi_mesh_surface_radius(const hfi_mesh *mesh);

/* Dry-mass average of one value per cell, values[stride*i]. */
double hfi_mesh_mean(const hfi_mesh *mesh, const double *values, size_t stride);

#endif
