/* See import_number.h. */
#include "import_number.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define GROUP '\'' /* stands for the blanks and the apostrophe between groups of digits */

static int is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/* ---- the plain way, for nearly all numbers ---------------------------------------------------------- */

/* Digits with at most one `sign`, an exponent, and nothing else. A significand below 2^53 times or over an exact
 * power of ten is correctly rounded. 0: it takes the long way. */
static int read_plain(const char *s, size_t n, char sign, double *x, int *signs)
{
    static const double ten[] = {1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                 1e8,  1e9,  1e10, 1e11, 1e12, 1e13, 1e14, 1e15,
                                 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};
    const char *const end = s + n;
    const int minus = n && *s == '-';
    uint64_t digits = 0;
    int count = 0, power = 0;
    if (n && (*s == '-' || *s == '+'))
        s++;
    for (; s < end && is_digit(*s); s++, count++)
        digits = 10 * digits + (uint64_t)(*s - '0');
    *signs = s < end && *s == sign && sign;
    if (*signs)
        for (s++; s < end && is_digit(*s); s++, count++, power--)
            digits = 10 * digits + (uint64_t)(*s - '0');
    if (count == 0 || count > 18)
        return 0;
    if (s < end && (*s == 'e' || *s == 'E')) {
        int exponent = 0;
        s++;
        const int down = s < end && *s == '-';
        if (s < end && (*s == '-' || *s == '+'))
            s++;
        const char *const first = s;
        for (; s < end && is_digit(*s) && s - first < 4; s++)
            exponent = 10 * exponent + (*s - '0');
        if (s == first)
            return 0;
        power += down ? -exponent : exponent;
    }
    if (s != end || digits >= (uint64_t)1 << 53 || power < -22 || power > 22)
        return 0;
    const double value = power < 0 ? (double)digits / ten[-power] : (double)digits * ten[power];
    *x = minus ? -value : value;
    return 1;
}

/* ---- the long way ------------------------------------------------------------------------------------- */

/* Blanks and the minus sign of typesetting: bytes taken, and what they stand for (0: a blank at the edge). */
static size_t special(const char *s, size_t n, char *means)
{
    static const struct {
        const char *text;
        char means;
    } list[] = {{"\xC2\xA0", GROUP},     {"\xE2\x80\xAF", GROUP}, {"\xE2\x80\x89", GROUP},
                {"\xE2\x80\x87", GROUP}, {"\xE2\x80\x99", GROUP}, {"\xE2\x88\x92", '-'}};
    for (size_t i = 0; i < sizeof list / sizeof *list; i++) {
        const size_t length = strlen(list[i].text);
        if (n >= length && memcmp(s, list[i].text, length) == 0) {
            *means = list[i].means;
            return length;
        }
    }
    *means = *s;
    return 1;
}

/* A number split at its signs. */
typedef struct parts {
    char text[HFI_NUMBER_LONGEST + 1];   /* in plain characters */
    size_t start, body;                  /* the digits and signs before an exponent */
    size_t points, commas, groups, last; /* signs, and the place of the last point or comma */
    int exponent;
} parts;

static int take_apart(const char *s, size_t n, parts *p)
{
    char means;
    memset(p, 0, sizeof *p);
    while (n) {
        const size_t used = special(s, n, &means);
        if (used == 1 && means != ' ' && means != '\t')
            break;
        if (means == '-')
            break;
        s += used;
        n -= used;
    }
    size_t length = 0;
    while (n) {
        const size_t used = special(s, n, &means);
        if (length == HFI_NUMBER_LONGEST)
            return 0;
        p->text[length++] = means;
        s += used;
        n -= used;
    }
    while (length && (p->text[length - 1] == GROUP || p->text[length - 1] == ' ' ||
                      p->text[length - 1] == '\t'))
        length--;
    p->text[length] = '\0';
    p->start = p->text[0] == '-' || p->text[0] == '+';
    size_t at = p->start, digits = 0;
    for (; is_digit(p->text[at]) || (p->text[at] && strchr(".,'", p->text[at])); at++) {
        digits += is_digit(p->text[at]) != 0;
        p->points += p->text[at] == '.';
        p->commas += p->text[at] == ',';
        p->groups += p->text[at] == GROUP;
        if (p->text[at] == '.' || p->text[at] == ',')
            p->last = at;
    }
    p->body = at;
    if (!digits)
        return 0;
    if (p->text[at] == 'e' || p->text[at] == 'E') {
        p->exponent = 1;
        at++;
        at += p->text[at] == '-' || p->text[at] == '+';
        const size_t first = at;
        while (is_digit(p->text[at]))
            at++;
        if (at == first)
            return 0;
    }
    return at == length;
}

/* One to three digits, then groups of exactly three parted by `sign`, up to `end`. */
static int grouped(const parts *p, char sign, size_t end)
{
    size_t run = 0, runs = 0;
    for (size_t at = p->start; at <= end; at++) {
        if (at < end && is_digit(p->text[at])) {
            run++;
            continue;
        }
        if (at < end && p->text[at] != sign)
            return 0;
        if (runs ? run != 3 : run < 1 || run > 3)
            return 0;
        runs++;
        run = 0;
    }
    return 1;
}

static hfi_number_form form_of(const parts *p, char *sign)
{
    *sign = 0;
    const size_t signs = p->points + p->commas;
    if (signs == 0)
        return !p->groups || grouped(p, GROUP, p->body) ? HFI_FORM_WHOLE : HFI_FORM_NONE;
    const char here = p->text[p->last], other = here == '.' ? ',' : '.';
    if (p->groups) { /* 1 234,5 */
        *sign = here;
        return signs == 1 && grouped(p, GROUP, p->last) ? HFI_FORM_DECIMAL : HFI_FORM_NONE;
    }
    if (p->points && p->commas) { /* 1.234,5 */
        *sign = here;
        return (here == '.' ? p->points : p->commas) == 1 && grouped(p, other, p->last)
                   ? HFI_FORM_DECIMAL
                   : HFI_FORM_NONE;
    }
    if (signs > 1) { /* 1.234.567 */
        *sign = other;
        return grouped(p, here, p->body) && !p->exponent ? HFI_FORM_DECIMAL : HFI_FORM_NONE;
    }
    *sign = here;
    if (!p->exponent && p->text[p->start] != '0' && grouped(p, here, p->body))
        return HFI_FORM_AMBIGUOUS;
    return HFI_FORM_DECIMAL;
}

hfi_number_form hfi_number_form_of(const char *s, size_t n, char *sign)
{
    parts p;
    *sign = 0;
    return take_apart(s, n, &p) ? form_of(&p, sign) : HFI_FORM_NONE;
}

/* Value with `sign` as the decimal sign; every other sign parts groups. */
static double value_of(const parts *p, char sign)
{
    char plain[HFI_NUMBER_LONGEST + 1];
    size_t length = 0;
    for (size_t at = 0; p->text[at]; at++) {
        const char c = p->text[at];
        if (at >= p->start && at < p->body && !is_digit(c) && c != sign)
            continue;
        plain[length++] = c == sign && at < p->body ? '.' : c;
    }
    plain[length] = '\0';
    return strtod(plain, NULL);
}

static void show(hfi_decimal *d, char sign, hfi_decimal_how how, uint64_t line, const char *text)
{
    d->sign = sign;
    d->how = how;
    d->line = line;
    strcpy(d->text, text);
}

hfi_number_fault hfi_number_read(const char *s, size_t n, uint64_t line, hfi_decimal *d, double *x)
{
    int signs;
    if (read_plain(s, n, d->sign, x, &signs) && (!signs || d->how >= HFI_DECIMAL_SHOWN))
        return HFI_NUMBER_GOOD;
    parts p;
    char sign;
    if (n == 0)
        return HFI_NUMBER_EMPTY;
    const hfi_number_form form = take_apart(s, n, &p) ? form_of(&p, &sign) : HFI_FORM_NONE;
    if (form == HFI_FORM_NONE)
        return p.text[0] ? HFI_NUMBER_TEXT : HFI_NUMBER_EMPTY;
    if (form == HFI_FORM_DECIMAL && d->how < HFI_DECIMAL_SHOWN) {
        if (d->how == HFI_DECIMAL_USUAL && sign != d->sign)
            return HFI_NUMBER_CONFLICT;
        show(d, sign, HFI_DECIMAL_SHOWN, line, p.text);
    } else if (form == HFI_FORM_DECIMAL && sign != d->sign) {
        return HFI_NUMBER_OTHER;
    } else if (form == HFI_FORM_AMBIGUOUS) {
        if (d->how == HFI_DECIMAL_OPEN && sign == '.')
            show(d, sign, HFI_DECIMAL_USUAL, line, p.text);
        else if (d->how != HFI_DECIMAL_STATED && sign != d->sign)
            return HFI_NUMBER_AMBIGUOUS;
    }
    *x = value_of(&p, d->sign);
    return isfinite(*x) ? HFI_NUMBER_GOOD : HFI_NUMBER_INFINITE;
}

hfi_number_fault hfi_clock_read(const char *s, size_t n, const char *form, double *x)
{
    const char *const end = s + n;
    double sum = 0;
    if (n == 0)
        return HFI_NUMBER_EMPTY;
    for (size_t part = 0; form[part]; part++) {
        const double scale = form[part] == 'h' ? 3600 : form[part] == 'm' ? 60 : 1;
        unsigned value = 0, digits = 0;
        if (part && (s == end || *s++ != ':'))
            return HFI_NUMBER_TEXT;
        for (; s < end && is_digit(*s); s++, digits++)
            value = digits < 8 ? 10 * value + (unsigned)(*s - '0') : value;
        if (digits == 0 || digits > 8 || (part && (digits != 2 || value > 59)))
            return HFI_NUMBER_TEXT;
        sum += scale * value;
    }
    if (s < end && (*s == '.' || *s == ',') && form[strlen(form) - 1] == 's') {
        double place = 1;
        for (s++; s < end && is_digit(*s); s++)
            sum += (place /= 10) * (*s - '0');
    }
    if (s != end)
        return HFI_NUMBER_TEXT;
    *x = sum;
    return HFI_NUMBER_GOOD;
}
