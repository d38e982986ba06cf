#include <hairfibre/quantity.h>

#include "../base/nearest.h"
#include "table.h"

#include <string.h>

size_t hf_quantity_count(void)
{
    size_t count = 0;
#define ADD(room) count += hfi_##room##_quantity_count;
    HFI_QUANTITY_ROOMS(ADD)
#undef ADD
    return count;
}

const hf_quantity *hf_quantity_at(size_t index)
{
#define LOOK(room)                                                                                 \
    if (index < hfi_##room##_quantity_count)                                                       \
        return &hfi_##room##_quantities[index];                                                    \
    index -= hfi_##room##_quantity_count;
    HFI_QUANTITY_ROOMS(LOOK)
#undef LOOK
    return NULL;
}

const hf_quantity *hf_quantity_find(const char *name)
{
    const hf_quantity *quantity;
    for (size_t i = 0; name && (quantity = hf_quantity_at(i)) != NULL; i++)
        if (strcmp(quantity->name, name) == 0)
            return quantity;
    return NULL;
}

const char *hf_quantity_nearest(const char *name)
{
    hfi_nearest search;
    hfi_nearest_start(&search, name);
    const hf_quantity *quantity;
    for (size_t i = 0; (quantity = hf_quantity_at(i)) != NULL; i++)
        hfi_nearest_offer(&search, quantity->name);
    return search.best;
}
