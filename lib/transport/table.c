#include "table.h"

void hfi_table_fill(hfi_table *t, double origin, double step, int pieces, const double *value,
                    const double *slope)
{
    t->origin = origin;
    t->step = step;
    t->inverse_step = 1 / step;
    t->pieces = pieces;
    for (int i = 0; i < pieces; i++) {
        const double rise = value[i + 1] - value[i];
        const double d0 = slope[i] * step, d1 = slope[i + 1] * step;
        t->coefficient[i][0] = value[i];
        t->coefficient[i][1] = d0;
        t->coefficient[i][2] = 3 * rise - 2 * d0 - d1;
        t->coefficient[i][3] = d0 + d1 - 2 * rise;
    }
}
