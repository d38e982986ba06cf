/*
 * Text of a data file, whatever its encoding, line by line in UTF-8. No Lua in here.
 *
 * The file is read once, in pieces; memory stays below HFI_TEXT_ROOM whatever the size of the file. Its
 * checksum (SHA-256 of the bytes as they lie on the disk) is taken on the way.
 */
#ifndef HFI_LUA_IMPORT_TEXT_H
#define HFI_LUA_IMPORT_TEXT_H

#include <nettle/sha2.h>
#include <stddef.h>
#include <stdint.h>

/* The fuzzer is built with smaller ones, so that its short inputs have many seams. */
#ifndef HFI_TEXT_HEAD
#define HFI_TEXT_HEAD  262144  /* bytes from which the profile of a file is guessed */
#define HFI_TEXT_PIECE 131072  /* bytes that are read at once; at most half of the head */
#define HFI_TEXT_LINE  1048576 /* longest line, and longest row over several lines */
#endif
#define HFI_TEXT_ROOM (HFI_TEXT_LINE + 4 * HFI_TEXT_HEAD)

typedef enum hfi_encoding {
    HFI_UTF8,
    HFI_UTF16LE,
    HFI_UTF16BE,
    HFI_LATIN1,
    HFI_BINARY
} hfi_encoding;

typedef struct hfi_text {
    int fd;
    int error;   /* errno of the last read; 0: none */
    int raw_end; /* the file has been read to its end */
    hfi_encoding encoding;
    unsigned char *raw; /* HFI_TEXT_HEAD bytes, not decoded yet from raw_at to raw_count */
    size_t raw_at, raw_count;
    char *text; /* HFI_TEXT_ROOM bytes, decoded from start to end */
    size_t start, end;
    uint64_t bytes;  /* read so far */
    uint64_t broken; /* characters that UTF-16 does not have */
    struct sha256_ctx sum;
} hfi_text;

typedef enum hfi_found { HFI_LINE, HFI_NO_MORE, HFI_TOO_LONG, HFI_READ_ERROR } hfi_found;

/* A line: `length` bytes at `text + start + from`, with its end `whole` bytes. */
typedef struct hfi_line {
    size_t length, whole;
    int unended; /* the file ends in it */
    int partial; /* HFI_TOO_LONG: it goes on after these bytes */
} hfi_line;

/* Opens, and reads the head. 0, or an errno value; EISDIR for a folder. hfi_text_close in any case. */
int hfi_text_open(hfi_text *t, const char *path);

/* The same for a file that is open; it is closed with the text. */
int hfi_text_open_fd(hfi_text *t, int fd);
void hfi_text_close(hfi_text *t);

/* What the head looks like; *why is a short reason for people. */
hfi_encoding hfi_text_guess(const hfi_text *t, const char **why);

/* True for valid UTF-8. */
int hfi_utf8(const char *s, size_t n);

/* Decodes from here on, a byte-order mark left out. Once. */
void hfi_text_decode(hfi_text *t, hfi_encoding encoding);

/* The line that begins `from` bytes after the start. */
hfi_found hfi_text_line(hfi_text *t, size_t from, hfi_line *line);

/* Leaves the next `count` bytes behind. */
void hfi_text_take(hfi_text *t, size_t count);

/* Reads to the end of the file for the sum; 64 hexadecimal digits and a zero. 0, or an errno value. */
int hfi_text_sum(hfi_text *t, char digits[2 * SHA256_DIGEST_SIZE + 1]);

#endif
