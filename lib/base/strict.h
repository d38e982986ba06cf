/* The strict form of a function: the number, or NaN when the strict call does not answer. */
#ifndef HFI_STRICT_H
#define HFI_STRICT_H

#include <math.h>

#define HFI_STRICT(name, parameters, ...)                                                          \
    double name parameters                                                                         \
    {                                                                                              \
        double answer = (double)NAN;                                                               \
        return name##_e(__VA_ARGS__, HF_STRICT, &answer) == HF_OK ? answer : (double)NAN;          \
    }

#endif
