#include "nearest.h"

#include <string.h>

#define LONGEST 96 /* names are shorter; longer input is never near */

size_t hfi_edit_distance(const char *a, const char *b, size_t limit)
{
    size_t row[3][LONGEST + 1];
    const size_t na = strlen(a), nb = strlen(b);
    if (na > LONGEST || nb > LONGEST)
        return limit + 1;
    for (size_t j = 0; j <= nb; j++)
        row[0][j] = j;
    for (size_t i = 1; i <= na; i++) {
        size_t *now = row[i % 3], *last = row[(i + 2) % 3], *before = row[(i + 1) % 3];
        now[0] = i;
        for (size_t j = 1; j <= nb; j++) {
            const size_t replace = last[j - 1] + (a[i - 1] != b[j - 1]);
            size_t best = last[j] + 1;
            if (now[j - 1] + 1 < best)
                best = now[j - 1] + 1;
            if (replace < best)
                best = replace;
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1] &&
                before[j - 2] + 1 < best)
                best = before[j - 2] + 1;
            now[j] = best;
        }
    }
    return row[na % 3][nb] > limit ? limit + 1 : row[na % 3][nb];
}

void hfi_nearest_start(hfi_nearest *search, const char *typed)
{
    search->typed = typed;
    search->best = NULL;
    /* Allow about one slip in three letters. */
    search->distance = typed ? strlen(typed) / 3 + 2 : 0;
}

void hfi_nearest_offer(hfi_nearest *search, const char *name)
{
    if (!search->typed || !*search->typed)
        return;
    size_t d = hfi_edit_distance(search->typed, name, search->distance);
    /* A name that begins with what was typed, or ends with it, is near whatever its length. */
    const char *inside = strstr(name, search->typed);
    if (inside && strlen(search->typed) >= 4 && d > 1)
        d = 1;
    /* So is one that begins what was typed: a word too many. */
    const size_t length = strlen(name);
    if (length >= 4 && strncmp(search->typed, name, length) == 0 && d > 1)
        d = 1;
    if (d < search->distance) {
        search->distance = d;
        search->best = name;
    }
}
