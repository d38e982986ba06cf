/* Draws of a quantity: every input that has a distribution moves at once. */
#include "inputs.h"

#include <hairfibre/quantity.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#define DRAWS_MIN 16
#define DRAWS_MAX ((size_t)1 << 24)
#define SHIFTS    8 /* random shifts of the sequence: enough to measure the error from */

static hf_status check(const hf_propagation_options *o, hf_message *message)
{
    if ((unsigned)o->method >= HF_DRAW_METHODS || (o->spread_count && !o->spreads)) {
        snprintf(message->text, sizeof message->text, "method must be sobol or random");
        return HF_EINVAL;
    }
    if (o->draws < DRAWS_MIN || o->draws > DRAWS_MAX) {
        snprintf(message->text, sizeof message->text, "draws = %zu must lie between %d and %zu",
                 o->draws, DRAWS_MIN, DRAWS_MAX);
        return HF_ERANGE;
    }
    return HF_OK;
}

static hf_status draw(hfi_inputs *in, const hf_propagation_options *o, double *values,
                      hf_propagation *result)
{
    hfi_design design;
    result->blocks = o->method == HF_DRAW_SOBOL && o->draws >= (size_t)8 * SHIFTS ? SHIFTS : 1;
    hf_status status = hfi_design_open(&design, in->count, o->method, o->seed, result->blocks);
    double *x = malloc((in->count + 1) * sizeof *x);
    if (status != HF_OK || !x) {
        hfi_design_close(&design);
        free(x);
        return HF_ENOMEM;
    }
    result->method = design.method;
    if (design.method == HF_DRAW_RANDOM)
        result->blocks = 1;
    for (size_t i = 0; i < o->draws; i++) {
        double y = (double)NAN;
        hfi_design_next(&design, x);
        hfi_inputs_at(in, x, x);
        status = hfi_inputs_evaluate(in, x, &y);
        if (hf_failed(status) || !isfinite(y)) {
            y = (double)NAN;
            result->failures++;
        } else if (status == HF_EXTRAPOLATED) {
            result->extrapolated++;
        }
        values[i] = y;
        if (status == HF_ENOMEM)
            break;
    }
    hfi_design_close(&design);
    free(x);
    return status == HF_ENOMEM ? status : HF_OK;
}

hf_status hf_propagate(const hf_quantity *quantity, const double *arguments,
                       const hf_parameters *set, unsigned flags,
                       const hf_propagation_options *options, double *values, hf_propagation *out,
                       hf_message *message)
{
    static const hf_propagation_options usual = HF_PROPAGATION_OPTIONS_INIT;
    const hf_propagation_options *o = options ? options : &usual;
    hf_message scratch;
    if (!message)
        message = &scratch;
    hf_propagation result = {0};
    const hf_status middle =
        hf_quantity_evaluate(quantity, arguments, set, flags, &result.value, message);
    if (hf_failed(middle))
        return middle;
    if (!values || !out)
        return HF_EINVAL;
    hf_status status = check(o, message);
    if (status != HF_OK)
        return status;
    hfi_inputs *in = malloc(sizeof *in);
    if (!in)
        return HF_ENOMEM;
    hf_message why = {""};
    status = hfi_inputs_open(in, quantity, arguments, set, flags, o->parameters, o->spreads,
                             o->spread_count, &why);
    if (status != HF_OK) {
        *message = why;
        free(in);
        return status;
    }
    result.inputs = in->count;
    status = draw(in, o, values, &result);
    hfi_inputs_close(in);
    free(in);
    if (status != HF_OK)
        return status;
    *out = result;
    return middle;
}
