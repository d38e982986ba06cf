/* Sentences for failures in room keratin that no single argument explains. `x` is the argument
 * array of the descriptor. */
#ifndef HFI_KERATIN_EXPLAIN_H
#define HFI_KERATIN_EXPLAIN_H

#include <hairfibre/keratin.h>

/* Choice argument as an enumeration; a value that is no index of the list gives an invalid one. */
hf_branch hfi_branch_of(double x);

/* regain, temperature, branch: regain above what the fibre holds as sorbed water. */
void hfi_explain_sorbed(const double *x, const hf_parameters *set, hf_message *message);

/* humidity, temperature, ...: the multilayer constant reaches 1. */
void hfi_explain_isotherm(const double *x, const hf_parameters *set, hf_message *message);

/* temperature, ...: likewise. */
void hfi_explain_saturation(const double *x, const hf_parameters *set, hf_message *message);

/* regain, humidity, temperature, direction: outside the hysteresis loop. */
void hfi_explain_loop(const double *x, const hf_parameters *set, hf_message *message);

/* Constants of the rival isotherms: where they have no finite value. */
void hfi_explain_gab(const double *x, const hf_parameters *set, hf_message *message);
void hfi_explain_bet(const double *x, const hf_parameters *set, hf_message *message);
void hfi_explain_hailwood(const double *x, const hf_parameters *set, hf_message *message);
void hfi_explain_darcy(const double *x, const hf_parameters *set, hf_message *message);

#endif
