/*
 * A data file of any bytes into columns, in any encoding and dialect. Built with short buffers (see the Makefile), so
 * that lines, characters and rows meet their seams.
 */
#define _GNU_SOURCE /* memfd_create */
#include "../../lua/core/import_table.h"
#include "reader.h"

#include <float.h>
#include <math.h>
#include <string.h>
#include <sys/mman.h>
#include <unistd.h>

#define COLUMNS 3

static void check(const hfi_table *t, hfi_stop stop, int ended)
{
    uint64_t rows = t->used + t->all_excluded + t->blank + t->comments;
    if (stop > HFI_STOP_INTERRUPTED || stop == HFI_STOP_READ)
        fz_fail("stopped with %d", (int)stop);
    if (stop == HFI_STOP_NONE && !ended)
        fz_fail("the file was not read to its end");
    if (rows > t->rows.line)
        fz_fail("%llu rows in %llu lines", (unsigned long long)rows,
                (unsigned long long)t->rows.line);
    for (size_t i = 0; i < t->used; i++) {
        if (i && t->lines[i] <= t->lines[i - 1])
            fz_fail("line %u after %u", (unsigned)t->lines[i], (unsigned)t->lines[i - 1]);
        for (size_t k = 0; k < t->column_count; k++) {
            const hfi_column *c = &t->columns[k];
            if (c->words ? c->indices[i] >= t->word_count : !isfinite(c->values[i]))
                fz_fail("row %zu, column %zu is no value", i, k);
            if (!c->words && !c->wet && !(c->values[i] >= c->low && c->values[i] <= c->high))
                fz_fail("%g lies outside %g to %g", c->values[i], c->low, c->high);
        }
    }
    for (size_t i = 0; i < t->excluded_count; i++) {
        const hfi_excluded *e = &t->excluded[i];
        if ((i && e->line < t->excluded[i - 1].line) || !memchr(e->text, '\0', sizeof e->text) ||
            (e->column != HFI_NO_COLUMN && e->column >= t->column_count))
            fz_fail("row left out %zu: line %llu", i, (unsigned long long)e->line);
    }
    for (size_t i = 0; i < t->word_count; i++)
        if (!hfi_utf8(t->words[i], strlen(t->words[i])))
            fz_fail("a word is no UTF-8");
}

static int read_table(fz_reader *r, hfi_table *t, hfi_encoding encoding)
{
    static const char delimiters[] = ",;\t |";
    static const char *const clocks[] = {"", "", "", "hms", "hm", "ms"};
    static const char signs[] = ".,";
    t->skip = fz_pick(r, 4);
    t->cells = 1 + fz_pick(r, COLUMNS);
    t->most = fz_byte(r) & 1 ? 5 : 1000000;
    t->most_shown = fz_pick(r, 20);
    t->decimal.how = (hfi_decimal_how)fz_pick(r, 4);
    if (t->decimal.how != HFI_DECIMAL_OPEN)
        t->decimal.sign = t->decimal.how == HFI_DECIMAL_USUAL ? '.' : signs[fz_pick(r, 2)];
    t->column_count = 1 + fz_pick(r, (unsigned)t->cells);
    t->columns = calloc(t->column_count, sizeof *t->columns);
    if (!t->columns)
        return 0;
    for (size_t i = 0; i < t->column_count; i++) {
        hfi_column *c = &t->columns[i];
        const unsigned how = fz_byte(r);
        c->at = fz_pick(r, (unsigned)t->cells);
        c->words = (how & 7) == 7;
        strcpy(c->clock, clocks[fz_pick(r, 6)]);
        c->factor = how & 8 ? 0.01 : 1;
        c->wet = (how & 48) == 48;
        c->low = how & 64 || c->wet ? -1 : -DBL_MAX;
        c->high = c->wet ? 1 - 1e-9 : how & 64 ? 1000 : DBL_MAX;
    }
    const char delimiter = delimiters[fz_pick(r, 5)];
    t->reading = 1;
    if (!hfi_rows_open(&t->rows, &t->text, delimiter))
        return 0;
    hfi_text_decode(&t->text, encoding);
    const hfi_stop stop = hfi_table_read(t);
    hfi_line line;
    check(t, stop, hfi_text_line(&t->text, 0, &line) == HFI_NO_MORE);
    return 1;
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t count)
{
    const size_t options = count < 24 ? count : 24;
    fz_reader r = fz_open(bytes, options);
    const int fd = memfd_create("fuzz", MFD_CLOEXEC);
    if (fd < 0 || write(fd, bytes + options, count - options) != (ssize_t)(count - options) ||
        lseek(fd, 0, SEEK_SET) != 0)
        return 0;
    hfi_table t;
    const char *why = NULL;
    char digits[2 * SHA256_DIGEST_SIZE + 1];
    memset(&t, 0, sizeof t);
    if (hfi_text_open_fd(&t.text, fd) != 0)
        fz_fail("the file does not open");
    hfi_encoding encoding = hfi_text_guess(&t.text, &why);
    if (!why || !*why)
        fz_fail("an encoding without a reason");
    if (encoding == HFI_BINARY || (fz_byte(&r) & 3) == 0)
        encoding = (hfi_encoding)fz_pick(&r, HFI_BINARY);
    if (read_table(&r, &t, encoding) && (hfi_text_sum(&t.text, digits) != 0 ||
                                         strlen(digits) != 64 || t.text.bytes != count - options))
        fz_fail("%llu bytes of %zu", (unsigned long long)t.text.bytes, count - options);
    hfi_table_clear(&t);
    hfi_text_close(&t.text);
    return 0;
}
