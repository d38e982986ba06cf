/* The cells of a fibre: what the balance equations need to know of each, worked out from (w, H). */
#ifndef HFI_CELLS_H
#define HFI_CELLS_H

#include "material.h"
#include "mesh.h"

/* What the rates and their derivatives need of the cells, one array each: the loops over them are what a
 * treatment spends its time in. */
typedef struct hfi_cells {
    double *T, *capacity;        /* K, J/(K kg dry) */
    double *potential, *carried; /* carried: h */
    double *mobility, *conductivity;
    double *diffusivity, *carried_slope, *mobility_slope; /* carried_slope: dh/dw at constant T */
    double *T_by_regain, *T_by_enthalpy;
    double *water, *energy;         /* flows through the outer face of a cell */
    double *water_face, *heat_face; /* constants of these flows, half of them */
    double *inverse_mass;
} hfi_cells;

/* Doubles that the arrays take. */
size_t hfi_cells_doubles(size_t cells);

/* Lays them out over storage and fills the constants; scales as in radial.h. */
void hfi_cells_lay_out(hfi_cells *cells, const hfi_mesh *mesh, double water_scale,
                       double heat_scale, double *storage);

/* What the rates need, of all n cells of a state (w, H), (w, H), ..., or of one. Beyond the tables of the
 * material, where trial states stray, they go on straight. */
void hfi_cells_look(const hfi_material *material, const double *y, size_t n,
                    const hfi_cells *cells);
void hfi_cells_look_at(const hfi_material *material, double w, double H, size_t i,
                       const hfi_cells *cells);

/* What only the derivatives need, of cells already looked at. */
void hfi_cells_slopes(const hfi_material *material, const double *y, size_t n,
                      const hfi_cells *cells);
void hfi_cells_slope(const hfi_material *material, double w, size_t i, const hfi_cells *cells);

#endif
