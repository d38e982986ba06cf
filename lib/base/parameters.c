/* hf_parameters: a named set and the user's changes to it. */
#include "set.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const double *hfi_values(const hf_parameters *set)
{
    return set ? set->value : hfi_shipped_values;
}

int hfi_parameters_put(hf_parameters *set, size_t index, double value)
{
    const hf_parameter *row = &hfi_catalogue[index];
    if (!(value >= row->low && value <= row->high))
        return 0;
    set->value[index] = value;
    return 1;
}

size_t hf_set_count(void)
{
    return hfi_named_set_count;
}

const hf_set *hf_set_at(size_t index)
{
    return index < hfi_named_set_count ? &hfi_named_sets[index].head : NULL;
}

hf_status hf_parameters_new(hf_parameters **out, const char *set_name)
{
    if (!out)
        return HF_EINVAL;
    const hfi_named_set *base = NULL;
    for (size_t i = 0; i < hfi_named_set_count && !base; i++)
        if (!set_name || strcmp(hfi_named_sets[i].head.name, set_name) == 0)
            base = &hfi_named_sets[i];
    if (!base)
        return HF_ENAME;
    hf_parameters *set = calloc(1, sizeof *set);
    if (!set)
        return HF_ENOMEM;
    set->base = base;
    memcpy(set->value, hfi_shipped_values, sizeof set->value);
    for (size_t i = 0; i < base->count; i++) {
        set->value[base->deltas[i].id] = base->deltas[i].value;
        set->delta[base->deltas[i].id] = &base->deltas[i];
    }
    *out = set;
    return HF_OK;
}

hf_status hf_parameters_copy(hf_parameters **out, const hf_parameters *from)
{
    if (!out)
        return HF_EINVAL;
    if (!from)
        return hf_parameters_new(out, NULL);
    hf_parameters *set = malloc(sizeof *set);
    if (!set)
        return HF_ENOMEM;
    *set = *from;
    if (from->fitted) {
        set->fitted = malloc(sizeof *set->fitted);
        if (!set->fitted) {
            free(set);
            return HF_ENOMEM;
        }
        *set->fitted = *from->fitted;
    }
    *out = set;
    return HF_OK;
}

void hf_parameters_free(hf_parameters *set)
{
    if (set)
        free(set->fitted);
    free(set);
}

hf_status hf_parameters_set(hf_parameters *set, const char *name, double value)
{
    if (!set || !name)
        return HF_EINVAL;
    size_t i;
    if (hf_parameter_find(name, &i) != HF_OK) {
        const char *near = hf_parameter_nearest(name);
        snprintf(set->message.text, sizeof set->message.text,
                 "no parameter is called \"%.80s\"%s%s%s", name, near ? "; did you mean \"" : "",
                 near ? near : "", near ? "\"?" : "");
        return HF_ENAME;
    }
    const hf_parameter *row = &hfi_catalogue[i];
    if (!isfinite(value)) {
        snprintf(set->message.text, sizeof set->message.text, "%s must be a finite number", name);
        return HF_EINVAL;
    }
    if (value < row->low || value > row->high) {
        const int bare = strcmp(row->unit, "1") == 0;
        snprintf(set->message.text, sizeof set->message.text,
                 "%s = %g%s%s lies outside the allowed range %g to %g", name, value,
                 bare ? "" : " ", bare ? "" : row->unit, row->low, row->high);
        return HF_ERANGE;
    }
    set->value[i] = value;
    set->changed[i] = 1;
    hfi_fitted_leave(set, i);
    set->message.text[0] = '\0';
    return HF_OK;
}

hf_status hf_parameters_get(const hf_parameters *set, const char *name, double *value)
{
    size_t i;
    if (!value)
        return HF_EINVAL;
    const hf_status status = hf_parameter_find(name, &i);
    if (status == HF_OK)
        *value = hfi_values(set)[i];
    return status;
}

hf_status hf_parameters_row(const hf_parameters *set, size_t index, hf_parameter *row)
{
    if (!row)
        return HF_EINVAL;
    if (index >= HFI_PARAMETERS)
        return HF_ERANGE;
    *row = hfi_catalogue[index];
    if (!set)
        return HF_OK;
    row->value = set->value[index];
    const hfi_fitted *fitted = set->fitted;
    const size_t place = hfi_fitted_place(set, index);
    if (fitted && place < fitted->count) {
        row->spread = sqrt(fitted->covariance[place * fitted->count + place]);
        row->distribution = row->spread > 0 ? HF_NORMAL : HF_FIXED;
        row->source = "";
        row->place = fitted->label;
        row->conditions = "as the user measured";
        row->known = HF_CALIBRATED;
    } else if (set->changed[index]) {
        row->distribution = HF_FIXED;
        row->spread = 0;
        row->source = "";
        row->place = "set by the user";
        row->conditions = "as the user states";
        row->known = HF_ASSUMED;
    } else if (set->delta[index]) {
        const hfi_delta *delta = set->delta[index];
        row->distribution = delta->distribution;
        row->spread = delta->spread;
        row->source = delta->source;
        row->place = delta->place;
        row->conditions = delta->conditions;
        row->known = delta->known;
    }
    return HF_OK;
}

int hf_parameters_is_changed(const hf_parameters *set, size_t index)
{
    return set && index < HFI_PARAMETERS && set->changed[index];
}

const char *hf_parameters_name(const hf_parameters *set)
{
    return set && set->name[0] ? set->name : hf_parameters_base(set);
}

const char *hf_parameters_base(const hf_parameters *set)
{
    return set ? set->base->head.name : hfi_named_sets[0].head.name;
}

static uint64_t add_bits(uint64_t hash, double value)
{
    uint64_t bits;
    memcpy(&bits, &value, sizeof bits);
    for (int shift = 0; shift < 64; shift += 8)
        hash = (hash ^ (bits >> shift & 255u)) * 1099511628211u;
    return hash;
}

/* FNV-1a over "name=value;" with the value's bits, so that equal sets have equal digests
 * wherever doubles are IEEE 754; then the covariance of fitted rows. */
void hf_parameters_digest(const hf_parameters *set, char out[17])
{
    const double *value = hfi_values(set);
    uint64_t hash = 14695981039346656037u;
    for (size_t i = 0; i < HFI_PARAMETERS; i++) {
        for (const char *c = hfi_catalogue[i].name; *c; c++)
            hash = (hash ^ (unsigned char)*c) * 1099511628211u;
        hash = add_bits(hash, value[i]);
    }
    const hf_fitted fitted = hf_parameters_fitted(set);
    for (size_t i = 0; i < fitted.count; i++) {
        hash = add_bits(hash, (double)fitted.row[i]);
        for (size_t j = 0; j < fitted.count; j++)
            hash = add_bits(hash, fitted.covariance[i * fitted.count + j]);
    }
    for (int i = 15; i >= 0; i--, hash >>= 4)
        out[i] = "0123456789abcdef"[hash & 15u];
    out[16] = '\0';
}

const char *hf_parameters_message(const hf_parameters *set)
{
    return set ? set->message.text : "";
}
