/* Sentences for failures in room water that no single argument explains: joint limits of two or
 * more arguments, each with its value and limit. `x` is the argument array of the descriptor. */
#ifndef HFI_WATER_EXPLAIN_H
#define HFI_WATER_EXPLAIN_H

#include <hairfibre/base.h>

void hfi_explain_boiling_at_activity(const double *x, const hf_parameters *set,
                                     hf_message *message);
void hfi_explain_humidity_ratio(const double *x, const hf_parameters *set, hf_message *message);
void hfi_explain_dew_point(const double *x, const hf_parameters *set, hf_message *message);
void hfi_explain_wet_bulb(const double *x, const hf_parameters *set, hf_message *message);
void hfi_explain_cross_flow(const double *x, const hf_parameters *set, hf_message *message);
void hfi_explain_moving_air(const double *x, const hf_parameters *set, hf_message *message);
void hfi_explain_still_air(const double *x, const hf_parameters *set, hf_message *message);

#endif
