/* A function of one number as cubic Hermite pieces on an even grid, for the inner loops. */
#ifndef HFI_TABLE_H
#define HFI_TABLE_H

#define HFI_TABLE_PIECES 512

typedef struct hfi_table {
    double origin, step, inverse_step;
    int pieces; /* <= HFI_TABLE_PIECES */
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

#endif
