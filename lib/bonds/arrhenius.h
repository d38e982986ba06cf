/* Arrhenius laws without checks. */
#ifndef HFI_ARRHENIUS_H
#define HFI_ARRHENIUS_H

#include <math.h>

/* k = exp(log_frequency - theta / T): frequency in 1/s as natural logarithm, theta = E/R in K. */
typedef struct hfi_arrhenius {
    double log_frequency, theta;
} hfi_arrhenius;

static inline double hfi_arrhenius_rate(const hfi_arrhenius *law, double T)
{
    return exp(law->log_frequency - law->theta / T);
}

/* Integral of the rate over `duration` while T runs linearly from T0 to T1; exact but for rounding.
 */
double hfi_arrhenius_segment(const hfi_arrhenius *law, double duration, double T0, double T1);

/* exp(x) E2(x), where E2 is the exponential integral of order 2; x >= 0. */
double hfi_scaled_expint2(double x);

#endif
