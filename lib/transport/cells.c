/* See cells.h. The loops go over two neighbours at once. */
#include "cells.h"

#include <math.h>

#define CELL_ARRAYS 16

size_t hfi_cells_doubles(size_t cells)
{
    return CELL_ARRAYS * cells;
}

void hfi_cells_lay_out(hfi_cells *c, const hfi_mesh *mesh, double water_scale, double heat_scale,
                       double *storage)
{
    const size_t n = mesh->cells;
    double **array[CELL_ARRAYS] = {
        &c->T,        &c->capacity,       &c->potential,   &c->carried,
        &c->mobility, &c->conductivity,   &c->diffusivity, &c->carried_slope,
        &c->water,    &c->mobility_slope, &c->T_by_regain, &c->T_by_enthalpy,
        &c->energy,   &c->water_face,     &c->heat_face,   &c->inverse_mass,
    };
    for (size_t i = 0; i < CELL_ARRAYS; i++)
        *array[i] = storage + i * n;
    for (size_t i = 0; i < n; i++) {
        const double g = i + 1 < n ? 0.5 * mesh->conductance[i + 1] : 0;
        c->water_face[i] = water_scale * g;
        c->heat_face[i] = heat_scale * g;
        c->inverse_mass[i] = 1 / mesh->cell_mass[i];
    }
}

void hfi_cells_look_at(const hfi_material *m, double w, double H, size_t i, const hfi_cells *c)
{
    double heat;
    const double e = H + hfi_table_look(&m->sorbed, w, &heat, NULL), b = m->c0 + w * m->cw;
    const double root = sqrt(b * b + 2 * m->c1 * e);
    const double rise = 2 * e / (b + root);
    c->capacity[i] = root;
    c->T[i] = HFI_ENTHALPY_ZERO + rise;
    c->carried[i] = m->cw * rise - heat;
    c->conductivity[i] = m->k0 + m->k1 * w;
    c->potential[i] = hfi_table_look(&m->potential, w, NULL, NULL);
    c->mobility[i] = hfi_table_look(&m->mobility, c->T[i], NULL, NULL);
}

/* Two neighbours at once, in three sweeps over the cells: what one pair waits for is short in each, and so
 * many pairs are under way at a time. This is what a treatment spends most of its time in. */

static void look_by_regain(const hfi_material *m, const double *y, size_t n, const hfi_cells *c)
{
    for (size_t i = 0; i + 1 < n; i += 2) {
        const hfi_lanes w = {y[2 * i], y[2 * i + 2]};
        int piece[2];
        hfi_lanes x;
        if (!hfi_table_places(w * m->sorbed.inverse_step, m->sorbed.pieces, piece, &x)) {
            for (size_t j = i; j < i + 2; j++) {
                c->capacity[j] = hfi_table_look(&m->sorbed, y[2 * j], &c->carried[j], NULL);
                c->potential[j] = hfi_table_look(&m->potential, y[2 * j], NULL, NULL);
            }
            continue;
        }
        hfi_put_lanes(c->capacity + i,
                      hfi_table_values(&m->sorbed, piece, x)); /* heat of sorption, for now */
        hfi_put_lanes(c->carried + i,
                      hfi_table_slopes(&m->sorbed, piece, x) * m->sorbed.inverse_step);
        hfi_put_lanes(c->potential + i, hfi_table_values(&m->potential, piece, x));
    }
}

static void look_at_temperature(const hfi_material *m, const double *y, size_t n,
                                const hfi_cells *c)
{
    for (size_t i = 0; i + 1 < n; i += 2) {
        const hfi_lanes w = {y[2 * i], y[2 * i + 2]}, H = {y[2 * i + 1], y[2 * i + 3]};
        const hfi_lanes sorbed = {c->capacity[i], c->capacity[i + 1]};
        const hfi_lanes heat = {c->carried[i], c->carried[i + 1]};
        const hfi_lanes e = H + sorbed, b = m->c0 + w * m->cw;
        const hfi_lanes square = b * b + 2 * m->c1 * e, root = {sqrt(square[0]), sqrt(square[1])};
        const hfi_lanes rise = 2 * e / (b + root);
        hfi_put_lanes(c->capacity + i, root);
        hfi_put_lanes(c->T + i, HFI_ENTHALPY_ZERO + rise);
        hfi_put_lanes(c->carried + i, m->cw * rise - heat);
        hfi_put_lanes(c->conductivity + i, m->k0 + m->k1 * w);
    }
}

static void look_by_kelvin(const hfi_material *m, size_t n, const hfi_cells *c)
{
    const hfi_table *const mobility = &m->mobility;
    for (size_t i = 0; i + 1 < n; i += 2) {
        const hfi_lanes T = {c->T[i], c->T[i + 1]};
        int piece[2];
        hfi_lanes x;
        if (hfi_table_places((T - mobility->origin) * mobility->inverse_step, mobility->pieces,
                             piece, &x)) {
            hfi_put_lanes(c->mobility + i, hfi_table_values(mobility, piece, x));
        } else {
            c->mobility[i] = hfi_table_look(mobility, T[0], NULL, NULL);
            c->mobility[i + 1] = hfi_table_look(mobility, T[1], NULL, NULL);
        }
    }
}

void hfi_cells_look(const hfi_material *m, const double *y, size_t n, const hfi_cells *c)
{
    look_by_regain(m, y, n, c);
    look_at_temperature(m, y, n, c);
    look_by_kelvin(m, n, c);
    if (n % 2)
        hfi_cells_look_at(m, y[2 * n - 2], y[2 * n - 1], n - 1, c);
}

void hfi_cells_slope(const hfi_material *m, double w, size_t i, const hfi_cells *c)
{
    double unused;
    (void)hfi_table_look(&m->potential, w, &c->diffusivity[i], NULL);
    (void)hfi_table_look(&m->sorbed, w, &unused, &c->carried_slope[i]);
    c->carried_slope[i] = -c->carried_slope[i];
    (void)hfi_table_look(&m->mobility, c->T[i], &c->mobility_slope[i], NULL);
    c->T_by_enthalpy[i] = 1 / c->capacity[i];
    c->T_by_regain[i] = -c->carried[i] * c->T_by_enthalpy[i];
}

void hfi_cells_slopes(const hfi_material *m, const double *y, size_t n, const hfi_cells *c)
{
    const hfi_table *const sorbed = &m->sorbed, *const mobility = &m->mobility;
    const double per_regain = sorbed->inverse_step, per_kelvin = mobility->inverse_step;
    size_t i = 0;
    for (; i + 1 < n; i += 2) {
        const hfi_lanes w = {y[2 * i], y[2 * i + 2]}, T = {c->T[i], c->T[i + 1]};
        int by_regain[2], by_kelvin[2];
        hfi_lanes x, v;
        if (!hfi_table_places(w * per_regain, sorbed->pieces, by_regain, &x) ||
            !hfi_table_places((T - mobility->origin) * per_kelvin, mobility->pieces, by_kelvin,
                              &v)) {
            hfi_cells_slope(m, w[0], i, c);
            hfi_cells_slope(m, w[1], i + 1, c);
            continue;
        }
        hfi_put_lanes(c->diffusivity + i,
                      hfi_table_slopes(&m->potential, by_regain, x) * per_regain);
        hfi_put_lanes(c->carried_slope + i, -(2 * HFI_TABLE_BOTH(sorbed, by_regain, 2) +
                                              6 * x * HFI_TABLE_BOTH(sorbed, by_regain, 3)) *
                                                (per_regain * per_regain));
        hfi_put_lanes(c->mobility_slope + i, hfi_table_slopes(mobility, by_kelvin, v) * per_kelvin);
        const hfi_lanes by_enthalpy = 1 / (hfi_lanes){c->capacity[i], c->capacity[i + 1]};
        hfi_put_lanes(c->T_by_enthalpy + i, by_enthalpy);
        hfi_put_lanes(c->T_by_regain + i,
                      -(hfi_lanes){c->carried[i], c->carried[i + 1]} * by_enthalpy);
    }
    if (i < n)
        hfi_cells_slope(m, y[2 * i], i, c);
}
