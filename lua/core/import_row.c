/* See import_row.h. */
#include "import_row.h"

#include <stdlib.h>
#include <string.h>

static int no_space(unsigned char c)
{
    (void)c;
    return 0;
}

static int ready(hfi_rows *r)
{
    if (r->open)
        csv_free(&r->parser);
    r->open = csv_init(&r->parser, CSV_STRICT | CSV_STRICT_FINI) == 0;
    if (!r->open)
        return 0;
    csv_set_delim(&r->parser, (unsigned char)r->delimiter);
    if (r->delimiter == ' ')
        csv_set_space_func(&r->parser, no_space);
    return 1;
}

int hfi_rows_open(hfi_rows *r, hfi_text *text, char delimiter)
{
    memset(r, 0, sizeof *r);
    r->text = text;
    r->delimiter = delimiter;
    r->line = 1;
    r->comments = 1;
    r->cells = malloc(HFI_ROW_CELLS * sizeof *r->cells);
    return r->cells && ready(r);
}

void hfi_rows_close(hfi_rows *r)
{
    if (r->open)
        csv_free(&r->parser);
    free(r->cells);
    free(r->scratch);
    r->open = 0;
    r->cells = NULL;
    r->scratch = NULL;
}

/* ---- rows without quotation marks ------------------------------------------------------------------- */

static int is_blank(char c)
{
    return c == ' ' || c == '\t';
}

static hfi_row split_blanks(hfi_rows *r, const char *s, const char *end)
{
    for (;;) {
        while (s < end && is_blank(*s))
            s++;
        if (s == end)
            return r->count ? HFI_ROW : HFI_ROW_BLANK;
        if (r->count == HFI_ROW_CELLS)
            return HFI_ROW_LONG;
        const char *const first = s;
        while (s < end && !is_blank(*s))
            s++;
        r->cells[r->count++] = (hfi_cell){first, (size_t)(s - first)};
    }
}

static hfi_row split_at(hfi_rows *r, const char *s, const char *end)
{
    const char delimiter = r->delimiter;
    size_t filled = 0;
    for (;;) {
        if (r->count == HFI_ROW_CELLS)
            return HFI_ROW_LONG;
        const char *first = s;
        while (s < end && *s != delimiter)
            s++;
        const char *last = s;
        while (first < last && is_blank(*first))
            first++;
        while (first < last && is_blank(last[-1]))
            last--;
        filled += last > first;
        r->cells[r->count++] = (hfi_cell){first, (size_t)(last - first)};
        if (s == end)
            return filled ? HFI_ROW : HFI_ROW_BLANK;
        s++;
    }
}

/* ---- rows with quotation marks, by libcsv ---------------------------------------------------------------------- */

static void on_cell(void *bytes, size_t length, void *data)
{
    hfi_rows *r = data;
    if (r->delimiter == ' ' && length == 0)
        return;
    if (r->count == HFI_ROW_CELLS) {
        r->many = 1;
        return;
    }
    if (length)
        memcpy(r->scratch + r->used, bytes, length);
    r->cells[r->count++] = (hfi_cell){r->scratch + r->used, length};
    r->used += length;
}

static void on_row(int terminator, void *data)
{
    hfi_rows *r = data;
    (void)terminator;
    r->done = 1;
}

/* Feeds bytes; 0: a fault of quoting. */
static int feed(hfi_rows *r, const char *s, size_t n)
{
    if (r->delimiter != ' ')
        return csv_parse(&r->parser, s, n, on_cell, on_row, r) == n;
    for (size_t i = 0; i < n; i++) {
        const char c = s[i] == '\t' ? ' ' : s[i];
        if (csv_parse(&r->parser, &c, 1, on_cell, on_row, r) != 1)
            return 0;
    }
    return 1;
}

static hfi_row parsed(hfi_rows *r, hfi_line line)
{
    size_t length = line.whole;
    uint64_t lines = 1;
    int last = 0; /* the file ends inside the quotation marks of this line */
    if (!r->scratch)
        r->scratch = malloc(HFI_TEXT_ROOM);
    if (!r->scratch)
        return HFI_ROW_NO_MEMORY;
    const size_t shown = line.length, first = line.whole;
    hfi_row found = HFI_ROW_QUOTE;
    r->used = 0;
    r->done = r->many = 0;
    for (size_t from = 0;;) {
        if (!feed(r, r->text->text + r->text->start + from, line.whole))
            break;
        if (line.unended && !r->done && csv_fini(&r->parser, on_cell, on_row, r) != 0) {
            last = lines == 1;
            break;
        }
        if (r->done || line.unended) {
            found = HFI_ROW;
            break;
        }
        from = length;
        const hfi_found next = hfi_text_line(r->text, from, &line);
        if (next == HFI_READ_ERROR)
            return HFI_ROW_ERROR;
        last = next == HFI_NO_MORE && lines == 1;
        if (next != HFI_LINE || from + line.whole > HFI_TEXT_LINE)
            break;
        length += line.whole;
        lines++;
    }
    const int no_memory = csv_error(&r->parser) == CSV_ENOMEM;
    if (found != HFI_ROW || no_memory) { /* the line alone is left behind */
        r->count = 0;
        length = first;
        lines = 1;
        line.unended = last;
        if (no_memory || !ready(r))
            return HFI_ROW_NO_MEMORY;
    }
    r->shown = r->text->text + r->text->start;
    r->shown_length = shown;
    r->unended = line.unended;
    hfi_text_take(r->text, length);
    r->line += lines;
    if (found != HFI_ROW)
        return found;
    if (r->many)
        return HFI_ROW_LONG;
    for (size_t i = 0; i < r->count; i++)
        if (r->cells[i].length)
            return HFI_ROW;
    return HFI_ROW_BLANK;
}

/* ---- a row ------------------------------------------------------------------------------------------ */

/* Leaves a line behind that is longer than the room. */
static hfi_row skip_long(hfi_rows *r, hfi_line line)
{
    r->shown = NULL; /* what stood there is gone */
    r->shown_length = 0;
    hfi_text_take(r->text, line.whole);
    while (line.partial) {
        if (hfi_text_line(r->text, 0, &line) == HFI_READ_ERROR)
            return HFI_ROW_ERROR;
        hfi_text_take(r->text, line.whole);
    }
    r->line++;
    return HFI_ROW_LONG;
}

static int is_comment(const char *s, const char *end)
{
    return s < end && (*s == '#' || (*s == '"' && s + 1 < end && s[1] == '#'));
}

hfi_row hfi_rows_next(hfi_rows *r)
{
    hfi_line line;
    const hfi_found found = hfi_text_line(r->text, 0, &line);
    r->count = 0;
    r->first = r->line;
    r->unended = 0;
    switch (found) {
    case HFI_NO_MORE:
        return HFI_ROW_END;
    case HFI_READ_ERROR:
        return HFI_ROW_ERROR;
    case HFI_TOO_LONG:
        return skip_long(r, line);
    case HFI_LINE:
        break;
    }
    const char *const s = r->text->text + r->text->start, *const end = s + line.length;
    const char *first = s;
    while (first < end && is_blank(*first))
        first++;
    const int comment = r->comments && is_comment(first, end);
    if (!comment && memchr(s, '"', line.length))
        return parsed(r, line);
    r->shown = s;
    r->shown_length = line.length;
    r->unended = line.unended;
    r->line++;
    hfi_text_take(r->text, line.whole); /* stays where it is until the next line is asked for */
    if (comment)
        return HFI_ROW_COMMENT;
    return r->delimiter == ' ' ? split_blanks(r, s, end) : split_at(r, s, end);
}
