/*
 * quantity: every property by name. One table joins the rooms' own tables; the Lua module, the
 * command, the literature checks and the propagation of uncertainty all go through it.
 */
#ifndef HAIRFIBRE_QUANTITY_H
#define HAIRFIBRE_QUANTITY_H

#include <hairfibre/base.h>

#ifdef __cplusplus
extern "C" {
#endif

/** Number of quantities. */
HF_API size_t hf_quantity_count(void);

/** Quantity by index, in the order of the rooms; NULL past the end. */
HF_API const hf_quantity *hf_quantity_at(size_t index);

/** Quantity by name; NULL when there is none such. */
HF_API const hf_quantity *hf_quantity_find(const char *name);

/** Name of the quantity nearest in spelling, for messages; NULL when none is near. */
HF_API const char *hf_quantity_nearest(const char *name);

/** Value of a quantity. `arguments` holds argument_count numbers in the order of the descriptor;
 *  NaN stands for the usual value. On failure `message` (may be NULL) names the argument, its value
 *  and the allowed range. HF_ENOMODEL when no validated model exists. */
HF_API hf_status hf_quantity_evaluate(const hf_quantity *quantity, const double *arguments,
                                      const hf_parameters *set, unsigned flags, double *out,
                                      hf_message *message) HF_MUST_CHECK;

/** Value and an approximate 95 % range. Every parameter that the quantity uses is moved alone to its
 *  2.5 % and 97.5 % points; then all that move the answer up are moved at once, each a share of its way
 *  that makes the changes add as squares, and all that move it down. So each end is itself an answer of
 *  the model (with the stated spread of the equation on top). Correlations are left out but for rows
 *  fitted together. `low` and `high` equal the value when no spread is stated. Errors as
 *  hf_quantity_evaluate; HF_ENOMEM. */
HF_API hf_status hf_quantity_range(const hf_quantity *quantity, const double *arguments,
                                   const hf_parameters *set, unsigned flags, double *value,
                                   double *low, double *high, hf_message *message) HF_MUST_CHECK;

#ifdef __cplusplus
}
#endif

#endif
