#include "catalogue.h"
#include "nearest.h"

#include <string.h>

const hf_parameter hfi_catalogue[HFI_PARAMETERS] = {
#define P(id, name, unit, value, distribution, spread, low, high, source, place, cond, known,      \
          text)                                                                                    \
    {name, unit, value, distribution, spread, low, high, source, place, cond, known, text},
#include "catalogue/all.def"
#undef P
};

const double hfi_shipped_values[HFI_PARAMETERS] = {
#define P(id, name, unit, value, distribution, spread, low, high, source, place, cond, known,      \
          text)                                                                                    \
    value,
#include "catalogue/all.def"
#undef P
};

size_t hf_parameter_count(void)
{
    return HFI_PARAMETERS;
}

const hf_parameter *hf_parameter_at(size_t index)
{
    return index < HFI_PARAMETERS ? &hfi_catalogue[index] : NULL;
}

hf_status hf_parameter_find(const char *name, size_t *index)
{
    if (!name || !index)
        return HF_EINVAL;
    for (size_t i = 0; i < HFI_PARAMETERS; i++)
        if (strcmp(hfi_catalogue[i].name, name) == 0) {
            *index = i;
            return HF_OK;
        }
    return HF_ENAME;
}

const char *hf_parameter_nearest(const char *name)
{
    hfi_nearest search;
    hfi_nearest_start(&search, name);
    for (size_t i = 0; i < HFI_PARAMETERS; i++)
        hfi_nearest_offer(&search, hfi_catalogue[i].name);
    return search.best;
}
