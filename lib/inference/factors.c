/* Sensitivity of a quantity: its rows, arguments and equation as inputs. */
#include "analysis.h"
#include "inputs.h"

#include <hairfibre/quantity.h>

#include "../base/catalogue.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static hf_status open_inputs(hfi_inputs **out, const hf_quantity *quantity, const double *arguments,
                             const hf_parameters *set, const hf_spread *spreads,
                             size_t spread_count, hf_message *message)
{
    double y;
    const hf_status middle =
        hf_quantity_evaluate(quantity, arguments, set, HF_EXTRAPOLATE, &y, message);
    if (hf_failed(middle))
        return middle;
    hfi_inputs *in = malloc(sizeof *in);
    if (!in)
        return HF_ENOMEM;
    const hf_status status = hfi_inputs_open(in, quantity, arguments, set, HF_EXTRAPOLATE, 1,
                                             spreads, spread_count, message);
    if (status != HF_OK) {
        free(in);
        return status;
    }
    *out = in;
    return HF_OK;
}

static void close_inputs(hfi_inputs *in)
{
    hfi_inputs_close(in);
    free(in);
}

static hf_factor describe(const hfi_inputs *in, const hfi_input *input)
{
    const hfi_variate *v = &input->variate;
    if (in->heat.holds && input == &in->input[in->heat.input[0]])
        return (hf_factor){"sorption.enthalpy", "J/mol", (double)NAN, (double)NAN, HF_NORMAL};
    if (in->joint.count > 1 && input->fitted)
        return (hf_factor){"fitted together", "1", (double)NAN, (double)NAN, HF_NORMAL};
    hf_factor factor = {"equation", "1", v->value, v->spread, v->distribution};
    if (input->kind == HFI_INPUT_ROW) {
        factor.name = hfi_catalogue[input->index].name;
        factor.unit = hfi_catalogue[input->index].unit;
    } else if (input->kind == HFI_INPUT_ARGUMENT) {
        factor.name = in->quantity->arguments[input->index].name;
        factor.unit = in->quantity->arguments[input->index].unit;
    }
    return factor;
}

void hfi_inputs_describe(const hfi_inputs *in, hf_factor *out)
{
    for (size_t i = in->count; i-- > 0;) /* backwards: the first stays */
        out[in->input[i].factor] = describe(in, &in->input[i]);
}

hf_status hf_quantity_factors(const hf_quantity *quantity, const double *arguments,
                              const hf_parameters *set, const hf_spread *spreads,
                              size_t spread_count, hf_factor *out, size_t *count,
                              hf_message *message)
{
    if (!count)
        return HF_EINVAL;
    hfi_inputs *in = NULL;
    const hf_status status =
        open_inputs(&in, quantity, arguments, set, spreads, spread_count, message);
    if (status != HF_OK)
        return status;
    *count = in->factors;
    if (out)
        hfi_inputs_describe(in, out);
    close_inputs(in);
    return HF_OK;
}

static hf_status answer(const double *x, void *user, double *y)
{
    return hfi_inputs_evaluate(user, x, y);
}

/* The inputs as an analysis of any function takes them. */
typedef struct plain {
    hf_variate variate[HF_INPUTS_MAX];
    size_t factor[HF_INPUTS_MAX];
    hf_effect effect[HF_INPUTS_MAX];
} plain;

static plain *plain_of(const hfi_inputs *in)
{
    plain *p = malloc(sizeof *p);
    for (size_t i = 0; p && i < in->count; i++) {
        const hfi_variate *v = &in->input[i].variate;
        p->variate[i] = (hf_variate){NULL, v->distribution, v->value, v->spread, v->low, v->high};
        p->factor[i] = in->input[i].factor;
    }
    return p;
}

static const char nothing_moves[] = "no input of this quantity has a stated spread";

hf_status hf_quantity_sobol_indices(const hf_quantity *quantity, const double *arguments,
                                    const hf_parameters *set, const hf_spread *spreads,
                                    size_t spread_count, const hf_sensitivity_options *options,
                                    hf_index *out, hf_sensitivity *summary, hf_message *message)
{
    hf_sensitivity_options o = HF_SENSITIVITY_OPTIONS_INIT;
    if (options)
        o = *options;
    hfi_inputs *in = NULL;
    hf_status status = open_inputs(&in, quantity, arguments, set, spreads, spread_count, message);
    if (status != HF_OK)
        return status;
    plain *p = plain_of(in);
    if (!p)
        status = HF_ENOMEM;
    else if (in->count == 0)
        status = hfi_refuse(message, HF_EDATA, nothing_moves);
    if (status == HF_OK) {
        o.factor = p->factor;
        status = hf_sobol_indices(in->count, p->variate, answer, in, &o, out, summary, message);
    }
    free(p);
    close_inputs(in);
    return status;
}

void hfi_largest_effects(size_t inputs, const size_t *factor, const hf_effect *effect,
                         size_t factors, hf_effect *out)
{
    for (size_t j = 0; j < factors; j++)
        out[j].size = -1;
    for (size_t i = 0; i < inputs; i++)
        if (effect[i].size > out[factor[i]].size)
            out[factor[i]] = effect[i];
}

hf_status hf_quantity_morris_effects(const hf_quantity *quantity, const double *arguments,
                                     const hf_parameters *set, const hf_spread *spreads,
                                     size_t spread_count, const hf_screening_options *options,
                                     hf_effect *out, hf_sensitivity *summary, hf_message *message)
{
    hfi_inputs *in = NULL;
    if (!out)
        return HF_EINVAL;
    hf_status status = open_inputs(&in, quantity, arguments, set, spreads, spread_count, message);
    if (status != HF_OK)
        return status;
    plain *p = plain_of(in);
    if (!p)
        status = HF_ENOMEM;
    else if (in->count == 0)
        status = hfi_refuse(message, HF_EDATA, nothing_moves);
    if (status == HF_OK)
        status = hf_morris_effects(in->count, p->variate, answer, in, options, p->effect, summary,
                                   message);
    if (status == HF_OK) {
        hfi_largest_effects(in->count, p->factor, p->effect, in->factors, out);
        if (summary)
            summary->factors = in->factors;
    }
    free(p);
    close_inputs(in);
    return status;
}
