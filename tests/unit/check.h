/* Checks for doubles: cmocka 1.1.5 casts to float in its own.
 *
 * CHECK_CLOSE(got, want, rel_tol, abs_tol, why) fails unless |got - want| <= abs_tol + rel_tol
 * |want|; a NaN on either side fails. `why` names the source of the wanted value or the reason of
 * the tolerance, and is printed with both numbers in full. Include this header in place of
 * cmocka.h.
 */
#ifndef HFI_TESTS_CHECK_H
#define HFI_TESTS_CHECK_H

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

static inline void hfi_check_close(double got, double want, double rel_tol, double abs_tol,
                                   const char *why, const char *text, const char *file, int line)
{
    if (got == want) /* also equal infinities */
        return;
    const double difference = fabs(got - want);
    const double allowed = abs_tol + rel_tol * fabs(want);
    if (!(difference <= allowed)) {
        print_error("%s\n  got  %.17g\n  want %.17g\n  off by %.3g, allowed %.3g\n  %s\n", text,
                    got, want, difference, allowed, why);
        _fail(file, line);
    }
}

#define CHECK_CLOSE(got, want, rel_tol, abs_tol, why)                                              \
    hfi_check_close((got), (want), (rel_tol), (abs_tol), (why), #got, __FILE__, __LINE__)

#endif
