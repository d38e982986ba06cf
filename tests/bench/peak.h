/* Most memory that this program has held so far, MB. */
#ifndef HFI_BENCH_PEAK_H
#define HFI_BENCH_PEAK_H

#include <sys/resource.h>

static inline double peak_memory(void)
{
    struct rusage used;
    return getrusage(RUSAGE_SELF, &used) ? 0 : (double)used.ru_maxrss / 1000; /* kB on Linux */
}

#endif
