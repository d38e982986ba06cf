/* GSL's error handler, switched off once for the process. */
#ifndef HFI_GUARD_H
#define HFI_GUARD_H

/* Call before the first GSL function that can fail in ordinary operation. */
void hfi_guard_gsl(void);

#endif
