/* A function of one number as cubic Hermite pieces on an even grid, for the inner loops. */
#ifndef HFI_TABLE_H
#define HFI_TABLE_H

#include "lanes.h"

#define HFI_TABLE_PIECES 512

typedef struct hfi_table {
    double origin, step, inverse_step;
    int pieces;                              /* <= HFI_TABLE_PIECES */
    double coefficient[HFI_TABLE_PIECES][4]; /* of x^0 .. x^3, x = 0..1 within a piece */
} hfi_table;

/* Sets the pieces from values and slopes at pieces + 1 knots. */
void hfi_table_fill(hfi_table *table, double origin, double step, int pieces, const double *value,
                    const double *slope);

/* Piece that holds a number, the first or last one for a number beyond; *x its place there, 0..1. Tables
 * on the same grid share it. */
static inline int hfi_table_piece(const hfi_table *t, double at, double *x)
{
    const double u = (at - t->origin) * t->inverse_step;
    const int i = u > 0 ? u < t->pieces ? (int)u : t->pieces - 1 : 0;
    *x = u - i;
    return i;
}

/* Value and slope (may be NULL) at a place found with hfi_table_piece; straight beyond both ends. */
static inline double hfi_table_value(const hfi_table *t, int piece, double x, double *slope)
{
    const double *c = t->coefficient[piece];
    if (x >= 0 && x <= 1) {
        if (slope)
            *slope = (c[1] + x * (2 * c[2] + 3 * x * c[3])) * t->inverse_step;
        return c[0] + x * (c[1] + x * (c[2] + x * c[3]));
    }
    const double end = x < 0 ? 0 : 1;
    const double rise = c[1] + end * (2 * c[2] + 3 * c[3]);
    if (slope)
        *slope = rise * t->inverse_step;
    return c[0] + end * (c[1] + c[2] + c[3]) + rise * (x - end);
}

/* Second derivative there. */
static inline double hfi_table_bend(const hfi_table *t, int piece, double x)
{
    const double *c = t->coefficient[piece];
    return x >= 0 && x <= 1 ? (2 * c[2] + 6 * x * c[3]) * t->inverse_step * t->inverse_step : 0;
}

/* All three at a number; the derivatives may be NULL. */
static inline double hfi_table_look(const hfi_table *t, double at, double *slope, double *slope2)
{
    double x;
    const int piece = hfi_table_piece(t, at, &x);
    if (slope2)
        *slope2 = hfi_table_bend(t, piece, x);
    return hfi_table_value(t, piece, x, slope);
}

/* ---- two numbers at once, for the loops over cells ---- */

/* Coefficient k of a table in two pieces. */
#define HFI_TABLE_BOTH(table, piece, k)                                                            \
    ((hfi_lanes){(table)->coefficient[(piece)[0]][k], (table)->coefficient[(piece)[1]][k]})

/* Pieces and places in them, u counted in pieces from the start; 0 when one lies beyond `most`. */
static inline int hfi_table_places(hfi_lanes u, double most, int piece[2], hfi_lanes *x)
{
    if (!(u[0] >= 0 && u[0] < most && u[1] >= 0 && u[1] < most))
        return 0;
    piece[0] = (int)u[0];
    piece[1] = (int)u[1];
    *x = u - (hfi_lanes){piece[0], piece[1]};
    return 1;
}

/* Values, and slopes per piece, there. */
static inline hfi_lanes hfi_table_values(const hfi_table *t, const int piece[2], hfi_lanes x)
{
    return HFI_TABLE_BOTH(t, piece, 0) +
           x * (HFI_TABLE_BOTH(t, piece, 1) +
                x * (HFI_TABLE_BOTH(t, piece, 2) + x * HFI_TABLE_BOTH(t, piece, 3)));
}

static inline hfi_lanes hfi_table_slopes(const hfi_table *t, const int piece[2], hfi_lanes x)
{
    return HFI_TABLE_BOTH(t, piece, 1) +
           x * (2 * HFI_TABLE_BOTH(t, piece, 2) + 3 * x * HFI_TABLE_BOTH(t, piece, 3));
}

#endif
