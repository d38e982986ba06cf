/* NIST statistical reference datasets, non-linear regression (nist-strd): models, starts, certified values and
 * data of the handbook tables. The last six were typed from public test code that quotes the same tables. */
#ifndef HFI_TESTS_STRD_H
#define HFI_TESTS_STRD_H

#include <hairfibre/inference.h>

#include <math.h>

typedef struct strd_set {
    const char *name;
    size_t n, p;
    const double *x, *y;
    hf_fit_value value;
    double start[2][7];
    double b[7], sd[7], rss; /* certified, 11 digits */
} strd_set;

#define STRD_MODEL(name, formula)                                                                  \
    static hf_status name##_value(const double *row, const double *b, void *user, double *y)       \
    {                                                                                              \
        const double x = *row;                                                                     \
        (void)user;                                                                                \
        *y = (formula);                                                                            \
        return HF_OK;                                                                              \
    }

#define SUM3 (b[0] * exp(-b[1] * x) + b[2] * exp(-b[3] * x) + b[4] * exp(-b[5] * x))
#define CUBIC                                                                                      \
    ((b[0] + x * (b[1] + x * (b[2] + x * b[3]))) / (1 + x * (b[4] + x * (b[5] + x * b[6]))))

STRD_MODEL(misra1a, b[0] * (1 - exp(-b[1] * x)))
STRD_MODEL(misra1b, b[0] * (1 - 1 / ((1 + b[1] * x / 2) * (1 + b[1] * x / 2))))
STRD_MODEL(chwirut2, exp(-b[0] * x) / (b[1] + b[2] * x))
STRD_MODEL(danwood, b[0] * pow(x, b[1]))
STRD_MODEL(lanczos3, SUM3)
STRD_MODEL(kirby2, (b[0] + x * (b[1] + x * b[2])) / (1 + x * (b[3] + x * b[4])))
STRD_MODEL(mgh09, b[0] * (x * x + x * b[1]) / (x * x + x * b[2] + b[3]))
STRD_MODEL(mgh10, b[0] * exp(b[1] / (x + b[2])))
STRD_MODEL(thurber, CUBIC)
STRD_MODEL(boxbod, b[0] * (1 - exp(-b[1] * x)))
STRD_MODEL(rat42, b[0] / (1 + exp(b[1] - b[2] * x)))
STRD_MODEL(rat43, b[0] / pow(1 + exp(b[1] - b[2] * x), 1 / b[3]))
STRD_MODEL(eckerle4, b[0] / b[1] * exp(-0.5 * ((x - b[2]) / b[1]) * ((x - b[2]) / b[1])))
STRD_MODEL(misra1d, b[0] * b[1] * x / (1 + b[1] * x))
STRD_MODEL(roszman1, b[0] - b[1] * x - atan(b[2] / (x - b[3])) / 3.141592653589793238)
STRD_MODEL(lanczos2, SUM3)
STRD_MODEL(hahn1, CUBIC)
STRD_MODEL(mgh17, b[0] + b[1] * exp(-x * b[3]) + b[2] * exp(-x * b[4]))
STRD_MODEL(bennett5, b[0] * pow(b[1] + x, -1 / b[2]))

#include "strd_data.h"

#endif
