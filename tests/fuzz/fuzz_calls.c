/*
 * Every public function of numbers, called as its declaration says (calls.lua writes the calls): no crash, no
 * hang, nothing written on failure, a number exactly when the status says so, and the short form agrees.
 */
#include "calls.h"

static const char *name_at(size_t i)
{
    return fz_calls[i].name;
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t count)
{
    fz_reader r = fz_open(bytes, count);
    for (int i = 0; i < 8 && fz_more(&r); i++)
        fz_calls[fz_choose(&r, fz_call_count, name_at)].make(&r);
    return 0;
}
