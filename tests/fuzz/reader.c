#include "reader.h"

#include <float.h>
#include <limits.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define COUNT(list) (sizeof(list) / sizeof *(list))
#define PATTERN     0xA7 /* as a double: about -1e-117 */

fz_reader fz_open(const uint8_t *bytes, size_t count)
{
    return (fz_reader){bytes, bytes + count};
}

int fz_more(const fz_reader *r)
{
    return r->at < r->end;
}

unsigned fz_byte(fz_reader *r)
{
    return r->at < r->end ? *r->at++ : 0u;
}

unsigned fz_pick(fz_reader *r, unsigned count)
{
    unsigned x = fz_byte(r);
    if (count > 256)
        x = x << 8 | fz_byte(r);
    return count ? x % count : 0;
}

size_t fz_choose(fz_reader *r, size_t count, const char *(*name)(size_t index))
{
    const unsigned first = fz_byte(r), key = first << 8 | fz_byte(r);
    unsigned least = UINT_MAX;
    size_t best = 0;
    for (size_t i = 0; i < count; i++) {
        unsigned hash = 2166136261u; /* FNV-1a */
        for (const char *c = name(i); *c; c++)
            hash = (hash ^ (unsigned char)*c) * 16777619u;
        const unsigned distance = ((hash >> 16 ^ hash) - key) & 0xFFFFu;
        if (distance < least) {
            least = distance;
            best = i;
        }
    }
    return best;
}

static double fraction(fz_reader *r)
{
    const unsigned high = fz_byte(r);
    return (double)(high << 8 | fz_byte(r)) / 65535.0;
}

static double raw(fz_reader *r)
{
    uint64_t bits = 0;
    double x;
    for (int i = 0; i < 8; i++)
        bits = bits << 8 | fz_byte(r);
    memcpy(&x, &bits, sizeof x);
    return x;
}

double fz_double(fz_reader *r)
{
    static const double special[] = {
        0,
        -0.0,
        1,
        -1,
        (double)NAN,
        (double)INFINITY,
        -(double)INFINITY,
        0.5,
        DBL_MIN,
        DBL_MAX,
        5e-324,
        -DBL_MAX,
        DBL_EPSILON,
        1 + DBL_EPSILON,
        1 - DBL_EPSILON,
        2,
        273.15,
        273.16,
        647.096,
        373.15,
        423.15,
        523.15,
        293.15,
        298.15,
        101325,
        0.65,
        0.99,
        70e-6,
        1e-3,
        1e3,
        1e300,
        1e-300,
        7,
        14,
        0.3,
        0.05,
        0.15,
        1e-12,
        1e12,
        3,
        10,
        100,
        INT_MAX,
        INT_MIN,
        4294967296.,
        9007199254740992.,
        1e19,
        -1e19,
    };
    static const double top[] = {1,   0.4, 1e-4, 14, 600, 1e5,  1e7, 1e-8,
                                 1e4, 100, 1e9,  30, 3,   0.05, 1e6, 1e-3};
    const unsigned how = fz_byte(r);
    if (how < 64)
        return special[fz_byte(r) % COUNT(special)];
    if (how < 96)
        return raw(r);
    if (how < 128)
        return (how & 1 ? -1 : 1) * pow(10, -20 + 40 * fraction(r));
    if (how < 160)
        return 250 + 400 * fraction(r);
    return (how & 16 ? 1 : -1) * top[how & 15] * fraction(r);
}

double fz_within(fz_reader *r, double low, double high)
{
    const unsigned how = fz_byte(r);
    if (!(isfinite(low) && isfinite(high)) || how >= 224)
        return fz_double(r);
    switch (how & 31) {
    case 0:
        return low;
    case 1:
        return high;
    case 2:
        return nextafter(low, high);
    case 3:
        return nextafter(high, low);
    case 4:
        return nextafter(low, -(double)INFINITY);
    case 5:
        return nextafter(high, (double)INFINITY);
    case 6:
        return low + (high - low) * pow(10, -16 * fraction(r));
    case 7:
        return high - (high - low) * pow(10, -16 * fraction(r));
    default:
        return low + (high - low) * fraction(r);
    }
}

long fz_long(fz_reader *r)
{
    static const long special[] = {
        0, 1, 2, -1, 200, 2000, HF_COUNT_MAX, HF_COUNT_MAX + 1, LONG_MAX, LONG_MIN, INT_MAX};
    const unsigned how = fz_byte(r);
    if (how < 32)
        return special[fz_byte(r) % COUNT(special)];
    return how < 240 ? (long)fz_byte(r) % 64 : (long)(fz_byte(r) << 8 | fz_byte(r));
}

size_t fz_length(fz_reader *r)
{
    return fz_byte(r) % (FZ_LIST_MAX + 1);
}

void fz_list(fz_reader *r, size_t n, double *out)
{
    const unsigned how = fz_byte(r) % 4;
    double x = fz_double(r);
    for (size_t i = 0; i < n; i++) {
        if (how == 0)
            x = fz_double(r);
        else if (how == 1)
            x += fabs(fz_within(r, 0, 10));
        else if (how == 2)
            x = fz_within(r, 0, 1);
        out[i] = x;
    }
}

static const char *parameter_name(size_t i)
{
    return hf_parameter_at(i)->name;
}

#define FITTED 4

/* Rows fitted together: a proper covariance, or any matrix. */
static void fit_rows(fz_reader *r, hf_parameters *set)
{
    const char *names[FITTED];
    double values[FITTED], root[FITTED * FITTED], covariance[FITTED * FITTED];
    const size_t n = fz_byte(r) % (FITTED + 1);
    const int proper = (int)(fz_byte(r) % 4);
    for (size_t i = 0; i < n; i++) {
        const hf_parameter *row =
            hf_parameter_at(fz_choose(r, hf_parameter_count(), parameter_name));
        names[i] = row->name;
        values[i] = fz_within(r, row->low, row->high);
        for (size_t k = 0; k < n; k++)
            root[i * n + k] =
                proper ? 0.1 * (row->high - row->low) * fz_within(r, -1, 1) : fz_double(r);
    }
    for (size_t i = 0; i < n; i++)
        for (size_t k = 0; k < n; k++) {
            double sum = 0;
            for (size_t m = 0; m < n; m++)
                sum += root[i * n + m] * root[k * n + m];
            covariance[i * n + k] = proper ? sum : root[i * n + k];
        }
    const hf_status s = hf_parameters_set_fitted(set, n, names, values, covariance, "fuzz");
    fz_check_status("fitted", s);
    if (hf_failed(s) && !hf_parameters_message(set)[0])
        fz_fail("fitted rows refused (%s) without a sentence", hf_status_text(s));
    const hf_fitted fitted = hf_parameters_fitted(set);
    if (s == HF_OK && fitted.count != n)
        fz_fail("%zu fitted rows of %zu", fitted.count, n);
}

const hf_parameters *fz_set(fz_reader *r)
{
    static hf_parameters *held;
    const unsigned how = fz_byte(r);
    hf_parameters_free(held);
    held = NULL;
    if (how < 128)
        return NULL;
    const hf_set *set = hf_set_at(how % hf_set_count());
    if (hf_parameters_new(&held, set->name) != HF_OK)
        fz_fail("the shipped set %s cannot be had", set->name);
    for (unsigned n = how >= 192 ? 1 + fz_byte(r) % 4 : 0; n > 0; n--) {
        const hf_parameter *row =
            hf_parameter_at(fz_choose(r, hf_parameter_count(), parameter_name));
        const double x = fz_within(r, row->low, row->high);
        const hf_status status = hf_parameters_set(held, row->name, x);
        if ((status == HF_OK) != (x >= row->low && x <= row->high && isfinite(x)))
            fz_fail("%s = %.17g gives \"%s\"", row->name, x, hf_status_text(status));
    }
    if (how >= 240)
        fit_rows(r, held);
    return held;
}

void fz_poison(void *memory, size_t size)
{
    memset(memory, PATTERN, size);
}

int fz_poisoned(const void *memory, size_t size)
{
    const unsigned char *p = memory;
    for (size_t i = 0; i < size; i++)
        if (p[i] != PATTERN)
            return 0;
    return 1;
}

void fz_fail(const char *format, ...)
{
    va_list list;
    va_start(list, format);
    fputs("FAULT: ", stderr);
    vfprintf(stderr, format, list);
    fputc('\n', stderr);
    va_end(list);
    abort();
}

void fz_check_status(const char *what, hf_status status)
{
    if ((int)status < 0 || status > HF_EINTERNAL)
        fz_fail("%s: there is no status %d", what, (int)status);
    if (status == HF_EINTERNAL || status == HF_ENOMEM)
        fz_fail("%s: \"%s\"", what, hf_status_text(status));
}

void fz_check_number(const char *what, double x, int open)
{
    if (fz_poisoned(&x, sizeof x))
        fz_fail("%s: success, but nothing was written", what);
    if (isnan(x) || (!open && !isfinite(x)))
        fz_fail("%s: success with %g", what, x);
}
