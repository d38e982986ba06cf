/*
 * What a description must satisfy before anything is computed, each with a sentence that names the place.
 */
#include "fit.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

__attribute__((format(printf, 3, 4))) static hf_status say(hf_message *message, hf_status status,
                                                           const char *format, ...)
{
    if (message) {
        va_list list;
        va_start(list, format);
        vsnprintf(message->text, sizeof message->text, format, list);
        va_end(list);
    }
    return status;
}

static const char *name_of(const hf_fit_parameter *p)
{
    return p->name ? p->name : "";
}

static hf_status check_parameters(const hf_fit_description *d, hf_message *message)
{
    for (size_t j = 0; j < d->parameter_count; j++) {
        const hf_fit_parameter *p = &d->parameters[j];
        const double low = isnan(p->low) ? -HUGE_VAL : p->low;
        const double high = isnan(p->high) ? HUGE_VAL : p->high;
        if (!(low < high))
            return say(message, HF_EINVAL,
                       "%s: the lower bound %g is not below the upper bound %g; to hold it, fix it",
                       name_of(p), low, high);
        if (isinf(p->start) || (p->fixed && isnan(p->start)))
            return say(message, HF_EINVAL, "%s is fixed and needs a value", name_of(p));
        if (isnan(p->start) && !d->starter)
            return say(message, HF_EINVAL, "%s needs a start value: this model cannot guess one",
                       name_of(p));
        if (!p->fixed && (p->start < low || p->start > high))
            return say(message, HF_EINVAL, "%s: the start %g lies outside the bounds %g to %g",
                       name_of(p), p->start, low, high);
    }
    return HF_OK;
}

static hf_status check_shape(const hf_fit_description *d, hf_message *message)
{
    if (!d->x || !d->y || !d->parameters || d->points == 0 || d->columns == 0)
        return say(message, HF_EINVAL, "a fit needs points x and y and parameters");
    if (d->parameter_count == 0 || d->parameter_count > HF_FIT_PARAMETERS_MAX)
        return say(message, HF_EINVAL, "a fit takes 1 to %d parameters, not %zu",
                   HF_FIT_PARAMETERS_MAX, d->parameter_count);
    if (!d->value == !d->values || (d->gradient && !d->value))
        return say(message, HF_EINVAL,
                   "a model is either `value` (with or without `gradient`) or "
                   "`values`");
    if (d->starts > 100000 || d->points > (size_t)1 << 40 || d->columns > 1000)
        return say(message, HF_EINVAL, "at most 100000 starts and 1000 columns of x");
    if (!(d->model_noise >= 0 && d->model_noise < 0.1) || !(d->huber >= 0 && isfinite(d->huber)) ||
        (d->loss != HF_LOSS_SQUARES && d->loss != HF_LOSS_HUBER))
        return say(message, HF_EINVAL,
                   "model_noise lies in 0 .. 0.1, huber is positive, and the "
                   "loss is squares or Huber's");
    if (d->groups > 0) {
        if (!d->group || !d->map || d->model_parameters == 0 ||
            d->model_parameters > HF_FIT_PARAMETERS_MAX)
            return say(message, HF_EINVAL, "groups need `group`, `map` and model_parameters");
        for (size_t i = 0; i < d->points; i++)
            if (d->group[i] >= d->groups)
                return say(message, HF_EINVAL, "row %zu: group %zu, but there are %zu groups",
                           i + 1, d->group[i], d->groups);
        for (size_t k = 0; k < d->groups * d->model_parameters; k++)
            if (d->map[k] >= d->parameter_count)
                return say(message, HF_EINVAL, "map entry %zu names parameter %zu of %zu", k,
                           d->map[k], d->parameter_count);
    }
    return HF_OK;
}

static hf_status check_weighting(const hf_fit_description *d, hf_message *message)
{
    const double *given = d->sigma ? d->sigma : d->weights;
    if (d->sigma && d->weights)
        return say(message, HF_EINVAL, "give sigma or weights, not both");
    if (d->weighting == HF_WEIGHT_EQUAL) {
        if (given)
            return say(message, HF_EINVAL, "%s given: say whether it is relative or absolute",
                       d->sigma ? "sigma" : "weights");
        return HF_OK;
    }
    if (d->weighting != HF_WEIGHT_RELATIVE && d->weighting != HF_WEIGHT_ABSOLUTE)
        return say(message, HF_EINVAL, "weighting must be equal, relative or absolute");
    if (!given)
        return say(message, HF_EINVAL, "%s weighting needs sigma",
                   d->weighting == HF_WEIGHT_ABSOLUTE ? "absolute" : "relative");
    for (size_t i = 0; i < d->points; i++)
        if (!(given[i] > 0 && isfinite(given[i])))
            return say(message, HF_EDATA, "row %zu: %s must be a positive number", i + 1,
                       d->sigma ? "sigma" : "the weight");
    return HF_OK;
}

/* A row of x with its group, for counting different ones. */
typedef struct row {
    const double *x;
    size_t columns, group;
} row;

static int order(const void *a, const void *b)
{
    const row *p = a, *q = b;
    if (p->group != q->group)
        return p->group < q->group ? -1 : 1;
    for (size_t c = 0; c < p->columns; c++)
        if (p->x[c] != q->x[c])
            return p->x[c] < q->x[c] ? -1 : 1;
    return 0;
}

static hf_status check_spread(const hf_fit_description *d, size_t free_count, hf_message *message)
{
    row *rows = malloc(d->points * sizeof *rows);
    if (!rows)
        return HF_ENOMEM;
    for (size_t i = 0; i < d->points; i++)
        rows[i] = (row){d->x + i * d->columns, d->columns, d->groups > 0 ? d->group[i] : 0};
    qsort(rows, d->points, sizeof *rows, order);
    size_t different = 1;
    for (size_t i = 1; i < d->points; i++)
        different += order(&rows[i - 1], &rows[i]) != 0;
    free(rows);
    if (different == 1 && free_count > 1)
        return say(message, HF_EDATA,
                   "all %zu points have the same x: %zu parameters cannot be told "
                   "apart",
                   d->points, free_count);
    if (different < free_count)
        return say(message, HF_EDATA,
                   "only %zu different x for %zu free parameters: fix some, or "
                   "measure at more",
                   different, free_count);
    return HF_OK;
}

hf_status hfi_check_description(const hf_fit_description *d, hf_message *message)
{
    hf_status status = check_shape(d, message);
    if (status == HF_OK)
        status = check_parameters(d, message);
    if (status != HF_OK)
        return status;
    for (size_t i = 0; i < d->points; i++) {
        if (!isfinite(d->y[i]))
            return say(message, HF_EDATA, "row %zu: y is not a finite number", i + 1);
        for (size_t c = 0; c < d->columns; c++)
            if (!isfinite(d->x[i * d->columns + c]))
                return say(message, HF_EDATA, "row %zu: x%s is not a finite number", i + 1,
                           d->columns > 1 ? " (one of its columns)" : "");
    }
    status = check_weighting(d, message);
    if (status != HF_OK)
        return status;
    size_t free_count = 0;
    for (size_t j = 0; j < d->parameter_count; j++)
        free_count += !d->parameters[j].fixed;
    if (d->points < free_count)
        return say(message, HF_EDATA, "%zu points are fewer than the %zu free parameters",
                   d->points, free_count);
    return d->value ? check_spread(d, free_count, message) : HF_OK;
}
