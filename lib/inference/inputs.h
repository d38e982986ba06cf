/*
 * What moves an answer: rows of the catalogue, arguments, the equation itself; and the rules by which rows
 * move together.
 */
#ifndef HFI_INPUTS_H
#define HFI_INPUTS_H

#include "sampling.h"

#include <hairfibre/base.h>

typedef enum hfi_input_kind {
    HFI_INPUT_ROW,
    HFI_INPUT_ARGUMENT,
    HFI_INPUT_EQUATION
} hfi_input_kind;

typedef struct hfi_input {
    hfi_input_kind kind;
    size_t index;  /* of the row or the argument */
    size_t factor; /* that it belongs to */
    int fitted;    /* a row fitted together with others */
    hfi_variate variate;
} hfi_input;

/* Rows fitted together among the inputs: their places, and the factor of their covariance. */
typedef struct hfi_joint {
    size_t count;
    size_t input[HF_FITTED_MAX];
    double factor[HF_FITTED_MAX * HF_FITTED_MAX]; /* lower triangle, count * count */
} hfi_joint;

/* The three enthalpies of sorption, when all of them move: places among the inputs, and what a change of
 * each does to the heat of wetting. */
typedef struct hfi_kept_heat {
    int holds;
    size_t input[3];
    double gain[3];
} hfi_kept_heat;

typedef struct hfi_inputs {
    const hf_quantity *quantity;
    hf_parameters *set; /* moved copy */
    double argument[HF_ARGUMENTS_MAX];
    unsigned flags;
    size_t count, factors;
    hfi_kept_heat heat;
    hfi_joint joint;
    hfi_input input[HF_INPUTS_MAX];
} hfi_inputs;

/* Rows that the quantity uses unless `rows` is 0, arguments with a
 * spread, and the equation. HF_EINVAL, HF_ERANGE, HF_ENOMEM with a sentence. Close it after success. */
hf_status hfi_inputs_open(hfi_inputs *in, const hf_quantity *quantity, const double *arguments,
                          const hf_parameters *set, unsigned flags, int rows,
                          const hf_spread *spreads, size_t spread_count, hf_message *message);
void hfi_inputs_close(hfi_inputs *in);

/* Puts the rows of x (a number per input) into in->set, ties obeyed. 0 when one leaves its limits. */
int hfi_inputs_put(hfi_inputs *in, const double *x);

/* The quantity at x. */
hf_status hfi_inputs_evaluate(hfi_inputs *in, const double *x, double *y);

/* Numbers from probabilities; x may be u. */
void hfi_inputs_at(const hfi_inputs *in, const double *u, double *x);

/* Describes in->factors factors; the first input of a factor stands for it. */
void hfi_inputs_describe(const hfi_inputs *in, hf_factor *out);

#endif
