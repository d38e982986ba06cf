/* Spelling help for messages: the listed name nearest to what was typed. */
#ifndef HFI_NEAREST_H
#define HFI_NEAREST_H

#include <stddef.h>

/* Edit distance (insert, delete, replace, swap of neighbours), at most `limit` + 1. */
size_t hfi_edit_distance(const char *a, const char *b, size_t limit);

/* Running search: offer every name in turn, then read `best` (NULL: none is near enough). */
typedef struct hfi_nearest {
    const char *typed;
    const char *best;
    size_t distance;
} hfi_nearest;

void hfi_nearest_start(hfi_nearest *search, const char *typed);
void hfi_nearest_offer(hfi_nearest *search, const char *name);

#endif
