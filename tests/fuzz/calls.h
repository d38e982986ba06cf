/* The calls that calls.lua writes from the headers. */
#ifndef HF_FUZZ_CALLS_H
#define HF_FUZZ_CALLS_H

#include "reader.h"

typedef struct fz_call {
    const char *name;
    void (*make)(fz_reader *r);
} fz_call;

extern const fz_call fz_calls[];
extern const size_t fz_call_count;

static inline void text_of(fz_reader *r, char text[24])
{
    size_t n = fz_byte(r) % 24;
    for (size_t i = 0; i < n; i++)
        text[i] = (char)fz_byte(r);
    text[n] = '\0';
}

static inline void ints_of(fz_reader *r, size_t n, int *out)
{
    for (size_t i = 0; i < n; i++)
        out[i] = (int)fz_byte(r) % 8 - 1;
}

static inline void tables_of(fz_reader *r, size_t n, hf_table *out)
{
    for (size_t i = 0; i < n; i++)
        out[i] = (hf_table){fz_long(r), fz_long(r), fz_long(r), fz_long(r)};
}

#endif
