/*
 * Approximate 95 % range of a quantity.
 *
 *   d_i   change of the answer when parameter i alone goes to its 2.5 % or 97.5 % point
 *   D     root of the sum of d_i^2, over the changes that go up, and over those that go down
 *   end   the answer with every parameter moved at once, each the share d_i/D of its way
 *
 * Exact where the answer is linear in normal parameters, or in the logarithm of one lognormal; and since each end is an
 * answer of the model, no share passes 1 and no pressure falls below 0. Rows fitted together move along the columns of
 * the Cholesky factor of their covariance.
 */
#include <hairfibre/quantity.h>

#include "table.h"

#include "../base/set.h"

#include <math.h>
#include <string.h>

/* 97.5 % point of the standard normal, and of the symmetric triangle of half width 1. */
#define NORMAL_POINT   1.959963984540054
#define TRIANGLE_POINT 0.7763932022500210 /* 1 - sqrt(2 * 0.025) */

/* Value of a row that goes the share z of its way to the 2.5 % (z < 0) or the 97.5 % point. */
static double moved(const hf_parameter *row, double z)
{
    double x = row->value;
    switch (row->distribution) {
    case HF_FIXED:
        break;
    case HF_NORMAL:
        x += z * NORMAL_POINT * row->spread;
        break;
    case HF_LOGNORMAL:
        x *= exp(z * NORMAL_POINT * row->spread);
        break;
    case HF_UNIFORM:
        x += z * 0.95 * row->spread;
        break;
    case HF_TRIANGULAR:
        x += z * TRIANGLE_POINT * row->spread;
        break;
    }
    /* The table test keeps value and limits in order, so this only trims a wide spread. */
    return fmin(fmax(x, row->low), row->high);
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

/* What moves: a row by itself, or a column of the factor of the rows fitted together. */
typedef struct mover {
    size_t row, column;
    int fitted;
    double change
        [2]; /* of the answer, when it goes down and up all its way; 0 where there is no answer */
} mover;

typedef struct problem {
    const hf_quantity *quantity;
    const double *arguments;
    const hf_parameters *set;
    unsigned flags;
    double centre;
    hf_fitted together;
    double factor[HF_FITTED_MAX * HF_FITTED_MAX];
    mover mover[HFI_PARAMETERS + HF_FITTED_MAX];
    size_t movers;
} problem;

/* Moves one in `set` the share z of its way. 0 where a row would leave its limits. */
static int move(const problem *p, const mover *m, double z, hf_parameters *set)
{
    if (!m->fitted) {
        hf_parameter row;
        return hf_parameters_row(p->set, m->row, &row) == HF_OK &&
               hf_parameters_set(set, row.name, moved(&row, z)) == HF_OK;
    }
    int inside = 1;
    for (size_t i = m->column; i < p->together.count && inside; i++) {
        const size_t row = p->together.row[i];
        inside = hfi_parameters_put(
            set, row,
            hfi_values(set)[row] + z * NORMAL_POINT * p->factor[i * p->together.count + m->column]);
    }
    return inside;
}

static int answer(const problem *p, const hf_parameters *set, double *y)
{
    return !hf_failed(
        hf_quantity_evaluate(p->quantity, p->arguments, set, p->flags | HF_EXTRAPOLATE, y, NULL));
}

/* Moves each alone, all its way. A move that pushes the state out of the domain counts for nothing. */
static hf_status move_each(problem *p)
{
    for (size_t i = 0; i < p->movers; i++)
        for (int side = 0; side < 2; side++) {
            mover *m = &p->mover[i];
            hf_parameters *set;
            const hf_status copied = hf_parameters_copy(&set, p->set);
            if (copied != HF_OK)
                return copied;
            double y;
            m->change[side] = 0;
            if (move(p, m, side ? 1 : -1, set) && answer(p, set, &y))
                m->change[side] = y - p->centre;
            hf_parameters_free(set);
        }
    return HF_OK;
}

/* The larger change of a mover in a direction (1 up, -1 down), 0 where it has none; *side is where it lies. */
static double change_towards(const mover *m, int direction, int *side)
{
    const double low = direction * m->change[0], high = direction * m->change[1];
    *side = high >= low ? 1 : -1;
    return fmax(fmax(low, high), 0);
}

/* The end of the range in a direction. */
static hf_status end_of(const problem *p, int direction, double *end)
{
    const double own = NORMAL_POINT * p->quantity->equation_spread;
    double sum = own * own * p->centre * p->centre;
    int side;
    for (size_t i = 0; i < p->movers; i++) {
        const double change = change_towards(&p->mover[i], direction, &side);
        sum += change * change;
    }
    *end = p->centre;
    if (!(sum > 0))
        return HF_OK;
    const double length = sqrt(sum);
    hf_parameters *set;
    const hf_status copied = hf_parameters_copy(&set, p->set);
    if (copied != HF_OK)
        return copied;
    int inside = 1;
    for (size_t i = 0; i < p->movers && inside; i++) {
        const double change = change_towards(&p->mover[i], direction, &side);
        inside = !(change > 0) || move(p, &p->mover[i], side * change / length, set);
    }
    double y;
    if (inside && answer(p, set, &y)) {
        const double rise = p->centre < 0 ? -direction : direction;
        *end = y * (1 + rise * own * own * fabs(p->centre) / length);
    } else {
        *end = p->centre + direction * length;
    }
    hf_parameters_free(set);
    *end = direction > 0 ? fmax(*end, p->centre) : fmin(*end, p->centre);
    return HF_OK;
}

/* Lists what the quantity uses and what has a spread. */
static hf_status list_movers(problem *p)
{
    p->together = hf_parameters_fitted(p->set);
    int used = 0;
    for (size_t i = 0; i < hf_parameter_count(); i++) {
        hf_parameter row;
        if (!hfi_quantity_uses(p->quantity, hf_parameter_at(i)->name))
            continue;
        if (p->set && p->set->fitted && hfi_fitted_place(p->set, i) < p->set->fitted->count) {
            used = 1;
            continue;
        }
        if (hf_parameters_row(p->set, i, &row) == HF_OK && row.distribution != HF_FIXED)
            p->mover[p->movers++] = (mover){.row = i};
    }
    if (!used)
        return HF_OK;
    if (!hfi_fitted_factor(p->together.count, p->together.covariance, p->factor))
        return HF_EINTERNAL;
    for (size_t k = 0; k < p->together.count; k++)
        p->mover[p->movers++] = (mover){.column = k, .fitted = 1};
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
    problem p = {
        .quantity = quantity, .arguments = arguments, .set = set, .flags = flags, .centre = centre};
    double from = centre, to = centre;
    hf_status found = list_movers(&p);
    if (found == HF_OK)
        found = move_each(&p);
    if (found == HF_OK)
        found = end_of(&p, -1, &from);
    if (found == HF_OK)
        found = end_of(&p, 1, &to);
    if (found != HF_OK)
        return found;
    *value = centre;
    *low = from;
    *high = to;
    return status;
}
