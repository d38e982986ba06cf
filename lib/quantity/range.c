/* Approximate 95 % range of a quantity: one parameter at a time, rows fitted together along the columns of the
 * Cholesky factor of their covariance. */
#include <hairfibre/quantity.h>

#include "table.h"

#include "../base/set.h"

#include <math.h>
#include <string.h>

/* 97.5 % point of the standard normal, and of the symmetric triangle of half width 1. */
#define NORMAL_POINT   1.959963984540054
#define TRIANGLE_POINT 0.7763932022500210 /* 1 - sqrt(2 * 0.025) */

static void points(const hf_parameter *row, double *low, double *high)
{
    double step = 0;
    switch (row->distribution) {
    case HF_FIXED:
        break;
    case HF_NORMAL:
        step = NORMAL_POINT * row->spread;
        break;
    case HF_LOGNORMAL:
        *low = row->value * exp(-NORMAL_POINT * row->spread);
        *high = row->value * exp(NORMAL_POINT * row->spread);
        break;
    case HF_UNIFORM:
        step = 0.95 * row->spread;
        break;
    case HF_TRIANGULAR:
        step = TRIANGLE_POINT * row->spread;
        break;
    }
    if (row->distribution != HF_LOGNORMAL) {
        *low = row->value - step;
        *high = row->value + step;
    }
    /* The table test keeps value and limits in order, so this only trims a wide spread. */
    *low = fmax(*low, row->low);
    *high = fmin(*high, row->high);
}

int hfi_quantity_uses(const hf_quantity *quantity, const char *name)
{
    const char *prefixes = quantity->parameters;
    while (prefixes && *prefixes) {
        const size_t n = strcspn(prefixes, " ");
        if (n && strncmp(prefixes, name, n) == 0 && (name[n] == '.' || name[n] == '\0'))
            return 1;
        prefixes += n + (prefixes[n] == ' ');
    }
    return 0;
}

static void add(double change, double *up, double *down)
{
    if (change > 0)
        *up += change * change;
    else
        *down += change * change;
}

/* What the fitted rows add. */
static hf_status add_fitted(const hf_quantity *quantity, const double *arguments,
                            const hf_parameters *set, unsigned flags, double centre, double *up,
                            double *down)
{
    const hf_fitted fitted = hf_parameters_fitted(set);
    const size_t n = fitted.count;
    double factor[HF_FITTED_MAX * HF_FITTED_MAX];
    int used = 0;
    for (size_t k = 0; k < n; k++)
        used |= hfi_quantity_uses(quantity, hfi_catalogue[fitted.row[k]].name);
    if (!used)
        return HF_OK;
    if (!hfi_fitted_factor(n, fitted.covariance, factor))
        return HF_EINTERNAL;
    for (size_t k = 0; k < n; k++)
        for (int side = -1; side <= 1; side += 2) {
            hf_parameters *moved;
            const hf_status copied = hf_parameters_copy(&moved, set);
            if (copied != HF_OK)
                return copied;
            int inside = 1;
            for (size_t i = k; i < n && inside; i++)
                inside = hfi_parameters_put(moved, fitted.row[i],
                                            hfi_values(set)[fitted.row[i]] +
                                                side * NORMAL_POINT * factor[i * n + k]);
            double y;
            if (inside && !hf_failed(hf_quantity_evaluate(quantity, arguments, moved,
                                                          flags | HF_EXTRAPOLATE, &y, NULL)))
                add(y - centre, up, down);
            hf_parameters_free(moved);
        }
    return HF_OK;
}

hf_status hf_quantity_range(const hf_quantity *quantity, const double *arguments,
                            const hf_parameters *set, unsigned flags, double *value, double *low,
                            double *high, hf_message *message)
{
    double centre;
    const hf_status status =
        hf_quantity_evaluate(quantity, arguments, set, flags, &centre, message);
    if (hf_failed(status))
        return status;
    if (!value || !low || !high)
        return HF_EINVAL;
    double up = 0, down = 0;
    for (size_t i = 0; i < hf_parameter_count(); i++) {
        hf_parameter row;
        if (!hfi_quantity_uses(quantity, hf_parameter_at(i)->name))
            continue;
        if (hf_parameters_row(set, i, &row) != HF_OK || row.distribution == HF_FIXED ||
            (set && set->fitted && hfi_fitted_place(set, i) < set->fitted->count))
            continue;
        double at[2];
        points(&row, &at[0], &at[1]);
        for (int side = 0; side < 2; side++) {
            hf_parameters *moved;
            const hf_status copied = hf_parameters_copy(&moved, set);
            if (copied != HF_OK)
                return copied;
            double y;
            /* A moved parameter may push the state out of the domain: that side adds nothing. */
            if (hf_parameters_set(moved, row.name, at[side]) == HF_OK &&
                !hf_failed(hf_quantity_evaluate(quantity, arguments, moved, flags | HF_EXTRAPOLATE,
                                                &y, NULL)))
                add(y - centre, &up, &down);
            hf_parameters_free(moved);
        }
    }
    const hf_status added = add_fitted(quantity, arguments, set, flags, centre, &up, &down);
    if (added != HF_OK)
        return added;
    const double own = NORMAL_POINT * quantity->equation_spread * fabs(centre);
    *value = centre;
    *low = centre - sqrt(down + own * own);
    *high = centre + sqrt(up + own * own);
    return status;
}
