/* Shared by the analyses of sensitivity. */
#ifndef HFI_ANALYSIS_H
#define HFI_ANALYSIS_H

#include <hairfibre/uncertainty.h>

/* Puts a sentence and hands the status back; message may be NULL. */
hf_status hfi_refuse(hf_message *message, hf_status status, const char *text);

/* Calls f; *bad becomes non-zero where it has no answer. HF_OK, or a status that ends the analysis. */
hf_status hfi_call(hf_function f, void *user, const double *x, double *y, int *bad);

/* The largest effect of the inputs of each factor. */
void hfi_largest_effects(size_t inputs, const size_t *factor, const hf_effect *effect,
                         size_t factors, hf_effect *out);

#endif
