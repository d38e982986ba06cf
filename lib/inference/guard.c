/*
 * GSL ends the process on an error unless its handler is off. The handler is one global without a lock:
 * it is switched off once, never restored, and every GSL status is checked by the caller.
 */
#include "guard.h"

#include <gsl/gsl_errno.h>

#include <threads.h>

static once_flag guarded = ONCE_FLAG_INIT;

static void switch_off(void)
{
    (void)gsl_set_error_handler_off();
}

void hfi_guard_gsl(void)
{
    call_once(&guarded, switch_off);
}
