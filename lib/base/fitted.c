/* Rows of a set that were fitted together. */
#include "set.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

int hfi_fitted_factor(size_t n, const double *matrix, double *out)
{
    for (size_t i = 0; i < n; i++)
        if (!(matrix[i * n + i] >= 0) || !isfinite(matrix[i * n + i]))
            return 0;
    memset(out, 0, n * n * sizeof *out);
    for (size_t j = 0; j < n; j++) {
        double own = matrix[j * n + j];
        for (size_t k = 0; k < j; k++)
            own -= out[j * n + k] * out[j * n + k];
        const double rounding = 1e-10 * matrix[j * n + j];
        if (own < -rounding)
            return 0;
        const int flat = own <= rounding; /* a combination of those before it */
        out[j * n + j] = flat ? 0 : sqrt(own);
        for (size_t i = j + 1; i < n; i++) {
            const double size = sqrt(matrix[i * n + i] * matrix[j * n + j]);
            double rest = matrix[i * n + j];
            if (!(fabs(rest - matrix[j * n + i]) <= 1e-9 * size)) /* NaN too */
                return 0;
            for (size_t k = 0; k < j; k++)
                rest -= out[i * n + k] * out[j * n + k];
            if (flat && fabs(rest) > 1e-4 * size)
                return 0;
            out[i * n + j] = flat ? 0 : rest / out[j * n + j];
        }
    }
    return 1;
}

size_t hfi_fitted_place(const hf_parameters *set, size_t row)
{
    size_t k = 0;
    while (set->fitted && k < set->fitted->count && set->fitted->row[k] != row)
        k++;
    return k;
}

void hfi_fitted_leave(hf_parameters *set, size_t row)
{
    hfi_fitted *f = set->fitted;
    if (!f)
        return;
    const size_t gone = hfi_fitted_place(set, row), n = f->count;
    if (gone == n)
        return;
    size_t to = 0;
    for (size_t i = 0; i < n; i++)
        for (size_t j = 0; j < n; j++)
            if (i != gone && j != gone)
                f->covariance[to++] = f->covariance[i * n + j];
    memmove(f->row + gone, f->row + gone + 1, (n - gone - 1) * sizeof *f->row);
    f->count--;
}

static hf_status refuse(hf_parameters *set, hf_status status, const char *before, const char *name,
                        const char *after)
{
    snprintf(set->message.text, sizeof set->message.text, "%s%.80s%s", before, name, after);
    return status;
}

/* Indices of the names, and the order in which they rise. */
static hf_status find(hf_parameters *set, size_t count, const char *const *names,
                      const double *values, size_t *row, size_t *order)
{
    for (size_t i = 0; i < count; i++) {
        if (!names[i] || hf_parameter_find(names[i], &row[i]) != HF_OK)
            return refuse(set, HF_ENAME, "no parameter is called \"", names[i] ? names[i] : "",
                          "\"");
        const hf_parameter *p = &hfi_catalogue[row[i]];
        if (!(values[i] >= p->low && values[i] <= p->high)) {
            snprintf(set->message.text, sizeof set->message.text,
                     "%s = %g %s lies outside the allowed range %g to %g", p->name, values[i],
                     p->unit, p->low, p->high);
            return isfinite(values[i]) ? HF_ERANGE : HF_EINVAL;
        }
        size_t at = i;
        while (at > 0 && row[order[at - 1]] > row[i]) {
            order[at] = order[at - 1];
            at--;
        }
        if (at > 0 && row[order[at - 1]] == row[i])
            return refuse(set, HF_ENAME, "", p->name, " is named twice");
        order[at] = i;
    }
    return HF_OK;
}

hf_status hf_parameters_set_fitted(hf_parameters *set, size_t count, const char *const *names,
                                   const double *values, const double *covariance,
                                   const char *label)
{
    if (!set || (count > 0 && (!names || !values || !covariance)))
        return HF_EINVAL;
    if (count > HF_FITTED_MAX)
        return refuse(set, HF_ERANGE, "", "more than 20 rows fitted together", "");
    if (!label || strlen(label) >= HF_LABEL_SIZE)
        return refuse(set, HF_EINVAL, "", "the label takes up to 159 letters", "");
    size_t row[HF_FITTED_MAX], order[HF_FITTED_MAX];
    const hf_status status = find(set, count, names, values, row, order);
    if (status != HF_OK)
        return status;
    double factor[HF_FITTED_MAX * HF_FITTED_MAX];
    if (!hfi_fitted_factor(count, covariance, factor))
        return refuse(set, HF_EINVAL, "", "the matrix is no covariance", "");
    hfi_fitted *f = malloc(sizeof *f);
    if (!f)
        return HF_ENOMEM;
    f->count = count;
    snprintf(f->label, sizeof f->label, "%s", label);
    for (size_t i = 0; i < count; i++) {
        f->row[i] = row[order[i]];
        set->value[f->row[i]] = values[order[i]];
        set->changed[f->row[i]] = 1;
        for (size_t j = 0; j < count; j++)
            f->covariance[i * count + j] = covariance[order[i] * count + order[j]];
    }
    free(set->fitted);
    set->fitted = f;
    set->message.text[0] = '\0';
    return HF_OK;
}

hf_fitted hf_parameters_fitted(const hf_parameters *set)
{
    const hfi_fitted *f = set ? set->fitted : NULL;
    return f ? (hf_fitted){f->count, f->row, f->covariance, f->label}
             : (hf_fitted){0, NULL, NULL, ""};
}

hf_status hf_parameters_set_name(hf_parameters *set, const char *name)
{
    if (!set || !name || !*name || strlen(name) >= sizeof set->name)
        return HF_EINVAL;
    for (const char *c = name; *c; c++)
        if ((unsigned char)*c < 32 || *c == 127)
            return HF_EINVAL;
    strcpy(set->name, name);
    return HF_OK;
}
