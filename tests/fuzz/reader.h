/*
 * Bytes of a fuzzer as numbers, lists and parameter sets. Reading past the end gives zeros, so every
 * input means something and a regression input keeps its meaning.
 */
#ifndef HF_FUZZ_READER_H
#define HF_FUZZ_READER_H

#include <hairfibre.h>

#include <stdint.h>

#define FZ_LIST_MAX 48

typedef struct fz_reader {
    const uint8_t *at, *end;
} fz_reader;

fz_reader fz_open(const uint8_t *bytes, size_t count);
int fz_more(const fz_reader *r);
unsigned fz_byte(fz_reader *r);
unsigned fz_pick(fz_reader *r, unsigned count); /* 0 .. count - 1 */

/* Index of a name out of `count`: the one whose hash follows the two bytes read, so that most inputs keep
 * their meaning when names are added. */
size_t fz_choose(fz_reader *r, size_t count, const char *(*name)(size_t index));

/* A double: a special value (NaN, infinities, limits of the models and their neighbours), any 64 bits, or
 * a plausible one. */
double fz_double(fz_reader *r);

/* Between low and high, at them, just beyond them, or any double. */
double fz_within(fz_reader *r, double low, double high);

/* Mostly small, sometimes any. */
long fz_long(fz_reader *r);

/* n <= FZ_LIST_MAX numbers; a list may be all equal, rising, or wild. */
size_t fz_length(fz_reader *r);
void fz_list(fz_reader *r, size_t n, double *out);

/* NULL, a shipped set, or one with a few changed rows. Owned here, valid until the next call. */
const hf_parameters *fz_set(fz_reader *r);

/* Fills with a pattern that no answer has, and tells whether it is still there. */
void fz_poison(void *memory, size_t size);
int fz_poisoned(const void *memory, size_t size);

/* Prints the sentence and stops, so that the fuzzer keeps the input. */
void fz_fail(const char *format, ...) __attribute__((format(printf, 1, 2), noreturn));

/* A status that no caller can make happen. */
void fz_check_status(const char *what, hf_status status);

/* A double that came with a status of success: written, a number, and finite unless `open`. */
void fz_check_number(const char *what, double x, int open);

/* Entry of every harness. */
int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t count);

#endif
