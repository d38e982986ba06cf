/* Shared by the analyses of sensitivity. */
#ifndef HFI_ANALYSIS_H
#define HFI_ANALYSIS_H

#include <hairfibre/uncertainty.h>

/* Puts a sentence and hands the status back; message may be NULL. */
hf_status hfi_refuse(hf_message *message, hf_status status, const char *text);

/* Calls f; *bad becomes non-zero where it has no answer. HF_OK, or a status that ends the analysis. */
hf_status hfi_call(hf_function f, void *user, const double *x, double *y, int *bad);

#endif
