/* A request to stop: a word that a signal handler or another thread sets. */
#ifndef HFI_BASE_STOP_H
#define HFI_BASE_STOP_H

#include <signal.h>
#include <stddef.h>

/* Read whole by any thread; volatile alone does not promise that. */
static inline int hfi_asked_to_stop(const volatile sig_atomic_t *stop)
{
#if defined(__GNUC__)
    return stop != NULL && __atomic_load_n(stop, __ATOMIC_RELAXED) != 0;
#else
    return stop != NULL && *stop != 0;
#endif
}

#endif
