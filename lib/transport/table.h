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

/* Value, slope and second derivative (may be NULL); straight beyond both ends. */
static inline double hfi_table_look(const hfi_table *t, double at, double *slope, double *slope2)
{
    const double u = (at - t->origin) * t->inverse_step;
    int i = 0;
    double x = u;
    if (u > 0) {
        i = u < t->pieces ? (int)u : t->pieces - 1;
        x = u - i;
    }
    const double *c = t->coefficient[i];
    if (u >= 0 && u <= t->pieces) {
        *slope = (c[1] + x * (2 * c[2] + 3 * x * c[3])) * t->inverse_step;
        if (slope2)
            *slope2 = (2 * c[2] + 6 * x * c[3]) * t->inverse_step * t->inverse_step;
        return c[0] + x * (c[1] + x * (c[2] + x * c[3]));
    }
    /* Straight on from the end point. */
    const double end = u < 0 ? 0 : 1;
    const double rise = c[1] + end * (2 * c[2] + 3 * c[3]);
    *slope = rise * t->inverse_step;
    if (slope2)
        *slope2 = 0;
    return c[0] + end * (c[1] + c[2] + c[3]) + rise * (x - end);
}

#endif
