/*
 * Rows of a data file as cells. No Lua in here.
 *
 * A line with quotation marks goes through libcsv, which knows the rules of quoting; one without is split here,
 * which takes about two thirds of the time for a table of plain numbers. libcsv is fed line by line, so that every
 * row has the number of its line, and so that a quotation mark left open costs one row, not the rest of the file:
 * the faulty line is reported and reading goes on after it.
 */
#ifndef HFI_LUA_IMPORT_ROW_H
#define HFI_LUA_IMPORT_ROW_H

#include "import_text.h"

#include <csv.h>

#ifndef HFI_ROW_CELLS
#define HFI_ROW_CELLS 16384 /* most cells of a row */
#endif

typedef struct hfi_cell {
    const char *text; /* not ended by a zero */
    size_t length;
} hfi_cell;

typedef struct hfi_rows {
    hfi_text *text;
    char delimiter;  /* ' ': runs of blanks and tabs */
    int comments;    /* lines that begin with # are comments; set by hfi_rows_open */
    uint64_t line;   /* number of the line that comes next */
    hfi_cell *cells; /* of the last row */
    size_t count;
    uint64_t first;    /* line in which it begins */
    const char *shown; /* that line, without its end */
    size_t shown_length;
    int unended; /* the file ends in the last row, without the end of a line */
    struct csv_parser parser;
    int open, done, many;
    char *scratch; /* cells that libcsv gave */
    size_t used;
} hfi_rows;

typedef enum hfi_row {
    HFI_ROW,
    HFI_ROW_BLANK,   /* blanks and delimiters only */
    HFI_ROW_COMMENT, /* begins with # */
    HFI_ROW_QUOTE, /* a quotation mark is not closed, or stands inside a cell: the line is left behind */
    HFI_ROW_LONG, /* a line above HFI_TEXT_LINE, or too many cells: left behind */
    HFI_ROW_END,
    HFI_ROW_ERROR, /* text->error */
    HFI_ROW_NO_MEMORY,
} hfi_row;

/* 0 when there is no memory. */
int hfi_rows_open(hfi_rows *r, hfi_text *text, char delimiter);
void hfi_rows_close(hfi_rows *r);

/* The next row. Its cells, blanks around them left out, last until the next call. */
hfi_row hfi_rows_next(hfi_rows *r);

#endif
