/*
 * Numbers as people and instruments write them: decimal point or comma, groups of three digits. No Lua here.
 *
 * "1,234" is 1.234 or 1234, and only the file can tell which. What its numbers have shown so far is kept in an
 * hfi_decimal; a number that has two readings is refused, never guessed.
 */
#ifndef HFI_LUA_IMPORT_NUMBER_H
#define HFI_LUA_IMPORT_NUMBER_H

#include <stddef.h>
#include <stdint.h>

#define HFI_NUMBER_LONGEST 100 /* bytes; longer number text is refused */

typedef enum hfi_decimal_how {
    HFI_DECIMAL_OPEN,   /* no number has shown it yet */
    HFI_DECIMAL_USUAL,  /* "1.234" was read with a decimal point, as is usual */
    HFI_DECIMAL_SHOWN,  /* a number that has one reading showed it */
    HFI_DECIMAL_STATED, /* the caller says so */
} hfi_decimal_how;

typedef struct hfi_decimal {
    char sign; /* '.' or ','; 0 while it is open */
    hfi_decimal_how how;
    uint64_t line; /* of the number that showed it */
    char text[HFI_NUMBER_LONGEST + 1];
} hfi_decimal;

typedef enum hfi_number_form {
    HFI_FORM_NONE,      /* no number */
    HFI_FORM_WHOLE,     /* no decimal sign and no groups: 12, 3e4 */
    HFI_FORM_DECIMAL,   /* one reading: 12,5 or 0.153 or 1.234,5 or 1,234,567; the sign is told */
    HFI_FORM_AMBIGUOUS, /* 1,234 or 1.234; the sign that stands there is told */
} hfi_number_form;

typedef enum hfi_number_fault {
    HFI_NUMBER_GOOD,
    HFI_NUMBER_EMPTY,
    HFI_NUMBER_TEXT,      /* no number */
    HFI_NUMBER_INFINITE,  /* too large for a double */
    HFI_NUMBER_OTHER,     /* the other decimal sign than the one shown or stated */
    HFI_NUMBER_AMBIGUOUS, /* two readings */
    HFI_NUMBER_CONFLICT,  /* shows that numbers before it were read wrongly */
} hfi_number_fault;

/* Form of a text, with its decimal sign in *sign (0 when whole). */
hfi_number_form hfi_number_form_of(const char *s, size_t n, char *sign);

/* Reads all of s. `line` is remembered with the first number that shows the decimal sign. The caller sees to it
 * that the C locale is in force. */
hfi_number_fault hfi_number_read(const char *s, size_t n, uint64_t line, hfi_decimal *decimal,
                                 double *x);

/* A time such as 25:10:00 or 05:30,5 in seconds. `form`: "hms", "hm" or "ms". */
hfi_number_fault hfi_clock_read(const char *s, size_t n, const char *form, double *x);

#endif
