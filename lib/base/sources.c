#include "sources.h"

#include <string.h>

size_t hf_source_count(void)
{
    return hfi_sources_count;
}

const hf_source *hf_source_at(size_t index)
{
    return index < hfi_sources_count ? &hfi_sources[index] : NULL;
}

const hf_source *hf_source_find(const char *key)
{
    for (size_t i = 0; key && i < hfi_sources_count; i++)
        if (strcmp(hfi_sources[i].key, key) == 0)
            return &hfi_sources[i];
    return NULL;
}
