/* See import_table.h. */
#include "import_table.h"
#include "core.h"

#include <locale.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#if HFI_MOST_WORDS < 100
#define SLOTS ((size_t)256)
#else
#define SLOTS ((size_t)4 * 65536) /* a power of two above twice HFI_MOST_WORDS */
#endif

void hfi_table_clear(hfi_table *t)
{
    if (t->reading)
        hfi_rows_close(&t->rows);
    t->reading = 0;
    for (size_t i = 0; i < t->column_count; i++) {
        free(t->columns[i].values);
        free(t->columns[i].indices);
    }
    for (size_t i = 0; i < t->word_count; i++)
        free(t->words[i]);
    free(t->columns);
    free(t->lines);
    free(t->excluded);
    free(t->words);
    free(t->slots);
    t->columns = NULL;
    t->lines = NULL;
    t->excluded = NULL;
    t->words = NULL;
    t->slots = NULL;
    t->column_count = t->word_count = t->excluded_count = 0;
}

/* ---- rows that cannot be used ------------------------------------------------------------------------ */

static void shown(hfi_excluded *e, const char *s, size_t n)
{
    if (n > HFI_SHOWN) { /* not in the middle of a character */
        n = HFI_SHOWN;
        while (n && ((unsigned char)s[n] & 0xC0) == 0x80)
            n--;
    }
    if (n)
        memcpy(e->text, s, n);
    e->text[n] = '\0';
    for (size_t i = 0; i < n; i++)
        if (!e->text[i])
            e->text[i] = '\x7F';
}

static int exclude(hfi_table *t, hfi_excluded e)
{
    t->all_excluded++;
    if (t->excluded_count == t->most_shown)
        return 1;
    if (t->excluded_count == t->excluded_room) {
        const size_t room = t->excluded_room ? 2 * t->excluded_room : 16;
        hfi_excluded *more = realloc(t->excluded, room * sizeof *more);
        if (!more)
            return 0;
        t->excluded = more;
        t->excluded_room = room;
    }
    t->excluded[t->excluded_count++] = e;
    return 1;
}

static hfi_excluded whole_row(const hfi_table *t, hfi_why why, size_t count)
{
    hfi_excluded e = {.line = t->rows.first, .column = HFI_NO_COLUMN, .why = why, .count = count};
    shown(&e, t->rows.shown ? t->rows.shown : "", t->rows.shown_length);
    return e;
}

/* ---- words -------------------------------------------------------------------------------------------- */

/* Index of a word among the different ones; -1: no memory, -2: too many. */
static int64_t word_index(hfi_table *t, const char *s, size_t n)
{
    uint32_t hash = 2166136261u;
    for (size_t i = 0; i < n; i++)
        hash = (hash ^ (unsigned char)s[i]) * 16777619u;
    if (!t->slots) {
        t->slots = calloc(SLOTS, sizeof *t->slots);
        t->words = calloc(HFI_MOST_WORDS, sizeof *t->words);
        if (!t->slots || !t->words)
            return -1;
    }
    size_t slot = hash & (SLOTS - 1);
    for (; t->slots[slot]; slot = (slot + 1) & (SLOTS - 1)) {
        const char *word = t->words[t->slots[slot] - 1];
        if (strncmp(word, s, n) == 0 && word[n] == '\0')
            return t->slots[slot] - 1;
    }
    if (t->word_count == HFI_MOST_WORDS)
        return -2;
    char *copy = malloc(n + 1);
    if (!copy)
        return -1;
    memcpy(copy, s, n);
    copy[n] = '\0';
    t->words[t->word_count++] = copy;
    t->slots[slot] = (uint32_t)t->word_count;
    return (int64_t)t->word_count - 1;
}

/* Text of people: UTF-8 without control characters. */
static int is_plain_text(const char *s, size_t n)
{
    for (size_t i = 0; i < n; i++)
        if ((unsigned char)s[i] < 32 && s[i] != '\t' && s[i] != '\n' && s[i] != '\r')
            return 0;
    return hfi_utf8(s, n);
}

/* ---- one row ------------------------------------------------------------------------------------------ */

#if defined(__GNUC__) && !defined(__clang__)
/* The analyser forgets in a loop that each column keeps what was made for it. */
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wanalyzer-malloc-leak"
#endif
static hfi_stop grow(hfi_table *t)
{
    const size_t room = t->room ? t->room + t->room / 2 : 1024;
    uint32_t *lines = realloc(t->lines, room * sizeof *lines);
    if (!lines)
        return HFI_STOP_MEMORY;
    t->lines = lines;
    for (size_t i = 0; i < t->column_count; i++) {
        hfi_column *c = &t->columns[i];
        void *more = c->words ? realloc(c->indices, room * sizeof *c->indices)
                              : realloc(c->values, room * sizeof *c->values);
        if (!more)
            return HFI_STOP_MEMORY;
        if (c->words)
            c->indices = more;
        else
            c->values = more;
    }
    t->room = room;
    return HFI_STOP_NONE;
}
#if defined(__GNUC__) && !defined(__clang__)
#pragma GCC diagnostic pop
#endif

/* A cell into its column at row `used`. *e is filled when the row cannot be used (returns 1). */
static int take_number(hfi_table *t, hfi_column *c, const hfi_cell *cell, hfi_excluded *e,
                       hfi_stop *stop)
{
    static const hfi_why whys[] = {[HFI_NUMBER_EMPTY] = HFI_WHY_EMPTY,
                                   [HFI_NUMBER_TEXT] = HFI_WHY_TEXT,
                                   [HFI_NUMBER_INFINITE] = HFI_WHY_INFINITE,
                                   [HFI_NUMBER_OTHER] = HFI_WHY_OTHER};
    double x;
    const hfi_number_fault fault =
        c->clock[0] ? hfi_clock_read(cell->text, cell->length, c->clock, &x)
                    : hfi_number_read(cell->text, cell->length, t->rows.first, &t->decimal, &x);
    if (fault != HFI_NUMBER_GOOD) {
        if (fault == HFI_NUMBER_AMBIGUOUS)
            *stop = HFI_STOP_AMBIGUOUS;
        else if (fault == HFI_NUMBER_CONFLICT)
            *stop = HFI_STOP_CONFLICT;
        else
            e->why = whys[fault];
        return 1;
    }
    x = c->factor * x + c->offset;
    e->value = x;
    if (!isfinite(x) || x < c->low || x > c->high) {
        e->why = !isfinite(x) ? HFI_WHY_INFINITE : x < c->low ? HFI_WHY_LOW : HFI_WHY_HIGH;
        return 1;
    }
    if (fabs(x) > c->largest)
        c->largest = fabs(x);
    c->values[t->used] = c->wet ? x / (1 - x) : x;
    return 0;
}

static int take_word(hfi_table *t, hfi_column *c, const hfi_cell *cell, hfi_excluded *e,
                     hfi_stop *stop)
{
    if (cell->length == 0 && !c->blank) {
        e->why = HFI_WHY_EMPTY;
        return 1;
    }
    if (!is_plain_text(cell->text, cell->length)) {
        e->why = HFI_WHY_BYTES;
        return 1;
    }
    const int64_t index = word_index(t, cell->text, cell->length);
    if (index < 0)
        *stop = index == -1 ? HFI_STOP_MEMORY : HFI_STOP_WORDS;
    else
        c->indices[t->used] = (uint32_t)index;
    return index < 0;
}

static hfi_stop take_row(hfi_table *t)
{
    hfi_stop stop = HFI_STOP_NONE;
    size_t count = t->rows.count;
    while (count > t->cells && t->rows.cells[count - 1].length == 0) /* left by a spreadsheet */
        count--;
    t->unended = t->rows.unended;
    if (count != t->cells)
        return exclude(t, whole_row(t, t->unended && count < t->cells ? HFI_WHY_CUT : HFI_WHY_CELLS,
                                    count))
                   ? HFI_STOP_NONE
                   : HFI_STOP_MEMORY;
    if (t->used == t->room && (stop = grow(t)) != HFI_STOP_NONE)
        return stop;
    for (size_t i = 0; i < t->column_count; i++) {
        hfi_column *c = &t->columns[i];
        const hfi_cell *cell = &t->rows.cells[c->at];
        hfi_excluded e = {.line = t->rows.first, .column = (uint32_t)i};
        if (!(c->words ? take_word : take_number)(t, c, cell, &e, &stop))
            continue;
        shown(&e, cell->text, cell->length);
        if (stop == HFI_STOP_NONE)
            return exclude(t, e) ? HFI_STOP_NONE : HFI_STOP_MEMORY;
        t->trouble = e;
        return stop;
    }
    t->lines[t->used++] = (uint32_t)t->rows.first;
    return t->used > t->most / (t->column_count ? t->column_count : 1) ? HFI_STOP_MANY
                                                                       : HFI_STOP_NONE;
}

/* ---- all rows ------------------------------------------------------------------------------------------ */

static hfi_stop read_rows(hfi_table *t)
{
    hfi_line line;
    for (; t->skip; t->skip--) { /* the preamble need not be proper rows */
        const hfi_found found = hfi_text_line(&t->text, 0, &line);
        if (found == HFI_READ_ERROR)
            return HFI_STOP_READ;
        if (found == HFI_NO_MORE)
            return HFI_STOP_NONE;
        hfi_text_take(&t->text, line.whole);
        t->rows.line += !line.partial;
        t->skip += line.partial != 0;
    }
    for (uint32_t n = 0;; n++) {
        hfi_stop stop = HFI_STOP_NONE;
        if (n % 4096 == 0 && hfi_lua_stop)
            return HFI_STOP_INTERRUPTED;
        switch (hfi_rows_next(&t->rows)) {
        case HFI_ROW:
            stop = take_row(t);
            break;
        case HFI_ROW_BLANK:
            t->blank++;
            break;
        case HFI_ROW_COMMENT:
            t->comments++;
            break;
        case HFI_ROW_QUOTE:
            stop = exclude(t, whole_row(t, t->rows.unended ? HFI_WHY_OPEN : HFI_WHY_QUOTE, 0))
                       ? HFI_STOP_NONE
                       : HFI_STOP_MEMORY;
            break;
        case HFI_ROW_LONG:
            stop = exclude(t, whole_row(t, HFI_WHY_LONG, 0)) ? HFI_STOP_NONE : HFI_STOP_MEMORY;
            break;
        case HFI_ROW_END:
            return HFI_STOP_NONE;
        case HFI_ROW_ERROR:
            return HFI_STOP_READ;
        case HFI_ROW_NO_MEMORY:
            return HFI_STOP_MEMORY;
        }
        if (stop != HFI_STOP_NONE)
            return stop;
    }
}

hfi_stop hfi_table_read(hfi_table *t)
{
    locale_t plain = newlocale(LC_ALL_MASK, "C", (locale_t)0);
    if (plain == (locale_t)0)
        return HFI_STOP_MEMORY;
    const locale_t before = uselocale(plain);
    const hfi_stop stop = read_rows(t);
    uselocale(before);
    freelocale(plain);
    return stop;
}
