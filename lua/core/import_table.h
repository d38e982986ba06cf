/* Columns of numbers and words from the rows of a data file. No Lua in here. */
#ifndef HFI_LUA_IMPORT_TABLE_H
#define HFI_LUA_IMPORT_TABLE_H

#include "import_number.h"
#include "import_row.h"

#define HFI_SHOWN 160 /* bytes kept of what stands in a row that cannot be used */

/* Why a row cannot be used; the words are those Lua sees. */
#define HFI_WHY_LIST(X)                                                                            \
    X(CELLS, "cells")       /* another number of cells than the header; count */                   \
    X(CUT, "cut")           /* the same, in a last line without an end */                          \
    X(EMPTY, "empty")       /* the cell is empty */                                                \
    X(TEXT, "text")         /* no number */                                                        \
    X(INFINITE, "infinite") /* beyond a double */                                                  \
    X(OTHER, "other")       /* the other decimal sign */                                           \
    X(LOW, "low")           /* below the column's low; value */                                    \
    X(HIGH, "high")         /* above its high; value */                                            \
    X(BYTES, "bytes")       /* bytes that are no UTF-8, in a column of words */                    \
    X(QUOTE, "quote")       /* quotation marks */                                                  \
    X(OPEN, "open")         /* the file ends inside the quotation marks of its last line */        \
    X(LONG, "long")         /* line too long, or too many cells */
typedef enum hfi_why {
#define X(name, word) HFI_WHY_##name,
    HFI_WHY_LIST(X)
#undef X
} hfi_why;

typedef struct hfi_column {
    size_t at;             /* cell, counted from 0 */
    int words;             /* cells are words, else numbers */
    int blank;             /* words may be empty */
    char clock[4];         /* form of times, see hfi_clock_read; empty: plain numbers */
    double factor, offset; /* SI = factor * number + offset, before anything else */
    double low, high;      /* SI values outside cannot be */
    int wet;               /* share of the wet mass: becomes m / (1 - m) */
    double largest;        /* magnitude so far */
    double *values;
    uint32_t *indices; /* of words */
} hfi_column;

typedef struct hfi_excluded {
    uint64_t line;
    double value;
    size_t count;
    uint32_t column; /* index of the column; HFI_NO_COLUMN: the row as a whole */
    uint32_t why;
    char text[HFI_SHOWN + 1];
} hfi_excluded;
#define HFI_NO_COLUMN UINT32_MAX

typedef enum hfi_stop {
    HFI_STOP_NONE,
    HFI_STOP_MEMORY,
    HFI_STOP_READ,        /* text.error */
    HFI_STOP_MANY,        /* above most_numbers */
    HFI_STOP_WORDS,       /* above HFI_MOST_WORDS different words */
    HFI_STOP_AMBIGUOUS,   /* at `trouble` */
    HFI_STOP_CONFLICT,    /* at `trouble`, against `decimal` */
    HFI_STOP_INTERRUPTED, /* hfi_lua_stop */
} hfi_stop;
#ifndef HFI_MOST_WORDS
#define HFI_MOST_WORDS 100000u
#endif

typedef struct hfi_table {
    hfi_text text;
    hfi_rows rows;
    int reading;       /* rows are open */
    uint64_t skip;     /* lines before the first row */
    size_t cells;      /* of a row */
    size_t most;       /* numbers and words in all columns together */
    size_t most_shown; /* rows that are kept in `excluded` */
    hfi_decimal decimal;
    hfi_column *columns;
    size_t column_count;

    size_t used, room; /* rows in the columns */
    uint32_t *lines;   /* of each used row */
    hfi_excluded *excluded;
    size_t excluded_count, excluded_room;
    uint64_t all_excluded, blank, comments;
    int unended; /* the last row has no line end */
    hfi_excluded trouble;
    char **words; /* different words, in the order of their first row */
    size_t word_count;
    uint32_t *slots; /* hash of words: index + 1, 0 free */
} hfi_table;

/* Reads all rows. The file must be decoded, the fields above the blank line set. */
hfi_stop hfi_table_read(hfi_table *t);

/* Frees everything but the text. */
void hfi_table_clear(hfi_table *t);

#endif
