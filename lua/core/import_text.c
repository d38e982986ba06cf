/* See import_text.h. */
#include "import_text.h"

#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* Windows-1252 where it differs from Latin-1; 0: no character, read as U+FFFD. */
static const uint16_t upper_control[32] = {
    0x20AC, 0,      0x201A, 0x0192, 0x201E, 0x2026, 0x2020, 0x2021, 0x02C6, 0x2030, 0x0160,
    0x2039, 0x0152, 0,      0x017D, 0,      0,      0x2018, 0x2019, 0x201C, 0x201D, 0x2022,
    0x2013, 0x2014, 0x02DC, 0x2122, 0x0161, 0x203A, 0x0153, 0,      0x017E, 0x0178,
};

/* ---- bytes ------------------------------------------------------------------------------------- */

/* Appends to `into` (room for `room` bytes); *count grows. At the end of the file raw_end is set. */
static void read_some(hfi_text *t, unsigned char *into, size_t room, size_t *count)
{
    ssize_t got;
    do
        got = read(t->fd, into, room);
    while (got < 0 && errno == EINTR);
    if (got < 0)
        t->error = errno;
    if (got <= 0) {
        t->raw_end = 1;
        return;
    }
    sha256_update(&t->sum, (size_t)got, into);
    t->bytes += (uint64_t)got;
    *count += (size_t)got;
}

int hfi_text_open(hfi_text *t, const char *path)
{
    const int fd = open(path, O_RDONLY | O_CLOEXEC | O_NOCTTY);
    const int error = fd < 0 ? errno : 0;
    const int opened = hfi_text_open_fd(t, fd);
    return error ? error : opened;
}

int hfi_text_open_fd(hfi_text *t, int fd)
{
    struct stat found;
    memset(t, 0, sizeof *t);
    sha256_init(&t->sum);
    t->fd = fd;
    if (fd < 0)
        return EBADF;
    if (fstat(t->fd, &found) == 0 && S_ISDIR(found.st_mode))
        return EISDIR;
    t->raw = malloc(HFI_TEXT_HEAD);
    t->text = malloc(HFI_TEXT_ROOM);
    if (!t->raw || !t->text)
        return ENOMEM;
    while (!t->raw_end && t->raw_count < HFI_TEXT_HEAD)
        read_some(t, t->raw + t->raw_count, HFI_TEXT_HEAD - t->raw_count, &t->raw_count);
    return t->error;
}

void hfi_text_close(hfi_text *t)
{
    if (t->fd >= 0)
        close(t->fd);
    free(t->raw);
    free(t->text);
    t->fd = -1;
    t->raw = NULL;
    t->text = NULL;
}

int hfi_text_sum(hfi_text *t, char digits[2 * SHA256_DIGEST_SIZE + 1])
{
    unsigned char sum[SHA256_DIGEST_SIZE];
    while (!t->raw_end) {
        size_t count = 0;
        read_some(t, t->raw, HFI_TEXT_HEAD, &count);
    }
    struct sha256_ctx copy = t->sum; /* the digest ends a sum */
    sha256_digest(&copy, sizeof sum, sum);
    for (size_t i = 0; i < sizeof sum; i++) {
        digits[2 * i] = "0123456789abcdef"[sum[i] >> 4];
        digits[2 * i + 1] = "0123456789abcdef"[sum[i] & 15];
    }
    digits[2 * sizeof sum] = '\0';
    return t->error;
}

/* ---- what encoding ------------------------------------------------------------------------------- */

/* Length of the UTF-8 character at s, 0 when it is none, -1 when the text ends inside it. */
static int utf8_length(const unsigned char *s, size_t left)
{
    const int n = s[0] < 0x80   ? 1
                  : s[0] < 0xC2 ? 0
                  : s[0] < 0xE0 ? 2
                  : s[0] < 0xF0 ? 3
                  : s[0] < 0xF5 ? 4
                                : 0;
    for (int i = 1; i < n; i++) {
        if ((size_t)i == left)
            return -1;
        if ((s[i] & 0xC0) != 0x80)
            return 0;
    }
    return n;
}

int hfi_utf8(const char *s, size_t n)
{
    for (size_t i = 0; i < n;) {
        const int length = utf8_length((const unsigned char *)s + i, n - i);
        if (length <= 0)
            return 0;
        i += (size_t)length;
    }
    return 1;
}

/* Files that are taken for tables, by their first bytes; NULL: another one. */
static const char *kind_of_file(const unsigned char *s, size_t n)
{
    static const struct {
        const char *bytes, *kind;
    } list[] = {{"PK\3\4", "a workbook, or another packed file"},
                {"\xD0\xCF\x11\xE0", "an old workbook"},
                {"%PDF", "a PDF file"},
                {"\x1F\x8B", "a file packed by gzip"},
                {"\x89PNG", "a picture"}};
    for (size_t i = 0; i < sizeof list / sizeof *list; i++)
        if (n >= strlen(list[i].bytes) && memcmp(s, list[i].bytes, strlen(list[i].bytes)) == 0)
            return list[i].kind;
    return NULL;
}

hfi_encoding hfi_text_guess(const hfi_text *t, const char **why)
{
    const unsigned char *s = t->raw;
    const size_t n = t->raw_count;
    size_t zeros[2] = {0, 0}, controls = 0, high = 0;
    *why = kind_of_file(s, n);
    if (*why)
        return HFI_BINARY;
    if (n >= 3 && memcmp(s, "\xEF\xBB\xBF", 3) == 0) {
        *why = "its byte-order mark";
        return memchr(s, 0, n) ? HFI_BINARY : HFI_UTF8;
    }
    if (n >= 4 && (memcmp(s, "\xFF\xFE\0\0", 4) == 0 || memcmp(s, "\0\0\xFE\xFF", 4) == 0)) {
        *why = "UTF-32, which is not read";
        return HFI_BINARY;
    }
    if (n >= 2 && ((s[0] == 0xFF && s[1] == 0xFE) || (s[0] == 0xFE && s[1] == 0xFF))) {
        *why = "its byte-order mark";
        return s[0] == 0xFF ? HFI_UTF16LE : HFI_UTF16BE;
    }
    for (size_t i = 0; i < n; i++) {
        zeros[i & 1] += s[i] == 0;
        controls += s[i] < 32 && s[i] && !(s[i] >= 9 && s[i] <= 13) && s[i] != 26;
    }
    if (zeros[0] + zeros[1]) {
        /* Numbers and names of columns are mostly ASCII: every other byte is zero, the others never. */
        *why = "every other byte is zero";
        if (!controls && !zeros[0] && zeros[1] > n / 4)
            return HFI_UTF16LE;
        if (!controls && !zeros[1] && zeros[0] > n / 4)
            return HFI_UTF16BE;
        *why = "bytes that no text has";
        return HFI_BINARY;
    }
    if (controls > n / 100) {
        *why = "bytes that no text has";
        return HFI_BINARY;
    }
    for (size_t i = 0; i < n;) {
        const int length = utf8_length(s + i, n - i);
        if (length < 0 && !t->raw_end)
            break;
        if (length <= 0) {
            *why = "it is no valid UTF-8";
            return HFI_LATIN1;
        }
        high += length > 1;
        i += (size_t)length;
    }
    *why = high ? "it is valid UTF-8" : "plain ASCII";
    return HFI_UTF8;
}

/* ---- decoding -------------------------------------------------------------------------------------- */

static size_t put(char *out, uint32_t c)
{
    if (c < 0x80) {
        out[0] = (char)c;
        return 1;
    }
    if (c < 0x800) {
        out[0] = (char)(0xC0 | c >> 6);
        out[1] = (char)(0x80 | (c & 63));
        return 2;
    }
    if (c < 0x10000) {
        out[0] = (char)(0xE0 | c >> 12);
        out[1] = (char)(0x80 | (c >> 6 & 63));
        out[2] = (char)(0x80 | (c & 63));
        return 3;
    }
    out[0] = (char)(0xF0 | c >> 18);
    out[1] = (char)(0x80 | (c >> 12 & 63));
    out[2] = (char)(0x80 | (c >> 6 & 63));
    out[3] = (char)(0x80 | (c & 63));
    return 4;
}

static void decode_latin1(hfi_text *t)
{
    char *out = t->text + t->end;
    for (; t->raw_at < t->raw_count; t->raw_at++) {
        const unsigned char c = t->raw[t->raw_at];
        const uint32_t wide = c >= 0x80 && c < 0xA0 ? upper_control[c - 0x80] : c;
        out += put(out, wide || !c ? wide : 0xFFFD);
    }
    t->end = (size_t)(out - t->text);
}

static void decode_utf16(hfi_text *t)
{
    const size_t low = t->encoding == HFI_UTF16LE ? 0 : 1;
    const unsigned char *s = t->raw;
    char *out = t->text + t->end;
    size_t at = t->raw_at;
    while (t->raw_count - at >= 2) {
        uint32_t c = (uint32_t)s[at + low] | (uint32_t)s[at + 1 - low] << 8;
        size_t used = 2;
        if (c >= 0xD800 && c < 0xDC00) {
            if (t->raw_count - at < 4 && !t->raw_end)
                break;
            uint32_t next = 0;
            if (t->raw_count - at >= 4)
                next = (uint32_t)s[at + 2 + low] | (uint32_t)s[at + 3 - low] << 8;
            if (next >= 0xDC00 && next < 0xE000) {
                c = 0x10000 + ((c - 0xD800) << 10) + (next - 0xDC00);
                used = 4;
            }
        }
        if (c >= 0xD800 && c < 0xE000) {
            t->broken++;
            c = 0xFFFD;
        }
        out += put(out, c);
        at += used;
    }
    if (t->raw_end && at < t->raw_count) { /* half a character at the end */
        t->broken++;
        at = t->raw_count;
        out += put(out, 0xFFFD);
    }
    t->raw_at = at;
    t->end = (size_t)(out - t->text);
}

static void decode_some(hfi_text *t)
{
    if (t->encoding == HFI_LATIN1) {
        decode_latin1(t);
    } else if (t->encoding == HFI_UTF16LE || t->encoding == HFI_UTF16BE) {
        decode_utf16(t);
    } else {
        memcpy(t->text + t->end, t->raw + t->raw_at, t->raw_count - t->raw_at);
        t->end += t->raw_count - t->raw_at;
        t->raw_at = t->raw_count;
    }
}

void hfi_text_decode(hfi_text *t, hfi_encoding encoding)
{
    const unsigned char *s = t->raw;
    t->encoding = encoding;
    if (encoding == HFI_UTF8 && t->raw_count >= 3 && memcmp(s, "\xEF\xBB\xBF", 3) == 0)
        t->raw_at = 3;
    if (t->raw_count >= 2 && ((encoding == HFI_UTF16LE && s[0] == 0xFF && s[1] == 0xFE) ||
                              (encoding == HFI_UTF16BE && s[0] == 0xFE && s[1] == 0xFF)))
        t->raw_at = 2;
    decode_some(t); /* three bytes from one at most: the head fits */
}

/* More decoded text; 0 when there is no more of it, or no room. */
static int more(hfi_text *t)
{
    if (t->raw_end)
        return 0;
    if (t->start) {
        memmove(t->text, t->text + t->start, t->end - t->start);
        t->end -= t->start;
        t->start = 0;
    }
    if (t->end > HFI_TEXT_ROOM - 3 * HFI_TEXT_PIECE - 16)
        return 0;
    const size_t before = t->end;
    if (t->encoding == HFI_UTF8) {
        read_some(t, (unsigned char *)t->text + t->end, HFI_TEXT_PIECE, &t->end);
        return t->end > before;
    }
    do {
        const size_t left = t->raw_count - t->raw_at;
        memmove(t->raw, t->raw + t->raw_at, left);
        t->raw_at = 0;
        t->raw_count = left;
        read_some(t, t->raw + left, HFI_TEXT_PIECE - left, &t->raw_count);
        decode_some(t);
    } while (t->end == before && !t->raw_end);
    return t->end > before;
}

hfi_found hfi_text_line(hfi_text *t, size_t from, hfi_line *line)
{
    size_t at = from;
    line->unended = line->partial = 0;
    for (;;) {
        const char *s = t->text + t->start;
        const size_t n = t->end - t->start;
        while (at < n && s[at] != '\n' && s[at] != '\r')
            at++;
        /* After a carriage return the next byte must be known. */
        if (at < n && (s[at] == '\n' || at + 1 < n || t->raw_end)) {
            line->length = at - from;
            line->whole = at - from + (s[at] == '\r' && at + 1 < n && s[at + 1] == '\n' ? 2 : 1);
            return line->length > HFI_TEXT_LINE ? HFI_TOO_LONG : HFI_LINE;
        }
        if (!more(t)) {
            if (t->error)
                return HFI_READ_ERROR;
            if (!t->raw_end)
                break; /* no room */
            if (at == t->end - t->start) {
                line->length = line->whole = at - from;
                line->unended = 1;
                return at == from                  ? HFI_NO_MORE
                       : at - from > HFI_TEXT_LINE ? HFI_TOO_LONG
                                                   : HFI_LINE;
            }
        }
    }
    line->length = line->whole = at - from;
    line->partial = 1;
    return HFI_TOO_LONG;
}

void hfi_text_take(hfi_text *t, size_t count)
{
    t->start += count;
}
