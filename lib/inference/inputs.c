/*
 * The inputs of an answer and how they move together (ties.def).
 *
 * Kept heat: the heat of wetting from dryness at 25 degC is linear in the three enthalpies of sorption, with
 * gains g. Independent normal draws h about h0 with spreads s become, given that the heat stays,
 *
 *   h_i' = h_i - s_i^2 g_i D / sum(s_k^2 g_k^2),   D = sum g_k (h_k - h0_k)
 *
 * which is the conditional normal distribution.
 *
 * Rows fitted together: independent normal draws x about b with spreads s become b' = b + L z, z = (x - b)/s, L the
 * Cholesky factor of the covariance of those that the quantity uses. The other ties do not touch them.
 */
#include "inputs.h"

#include <hairfibre/keratin.h>
#include <hairfibre/quantity.h>

#include "../base/catalogue.h"
#include "../base/set.h"
#include "../keratin/constants.h"
#include "../quantity/table.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define WETTING_TEMPERATURE 298.15 /* K */

static const size_t enthalpy[3] = {HFI_SORPTION_ENTHALPY_MONOLAYER, HFI_SORPTION_ENTHALPY_C,
                                   HFI_SORPTION_ENTHALPY_K};

static hf_status add(hfi_inputs *in, hfi_input_kind kind, size_t index, const hf_variate *variate,
                     hf_message *message)
{
    if (in->count == HF_INPUTS_MAX) {
        snprintf(message->text, sizeof message->text, "more than %d inputs", HF_INPUTS_MAX);
        return HF_ERANGE;
    }
    hfi_input *input = &in->input[in->count];
    const hf_status status = hfi_variate_prepare(&input->variate, variate, message);
    if (status != HF_OK || input->variate.distribution == HF_FIXED)
        return status;
    input->kind = kind;
    input->index = index;
    input->factor = in->factors++;
    in->count++;
    return HF_OK;
}

static int is_fitted(const hf_parameters *set, size_t row)
{
    const hf_fitted fitted = hf_parameters_fitted(set);
    for (size_t k = 0; k < fitted.count; k++)
        if (fitted.row[k] == row)
            return 1;
    return 0;
}

/* Makes input i part of the factor of another; factors stay without gaps. */
static void join(hfi_inputs *in, size_t i, size_t with)
{
    const size_t gone = in->input[i].factor;
    in->input[i].factor = in->input[with].factor;
    for (size_t k = 0; k < in->count; k++)
        in->input[k].factor -= in->input[k].factor > gone;
    in->factors--;
}

static hf_status tie_fitted(hfi_inputs *in)
{
    const hf_fitted fitted = hf_parameters_fitted(in->set);
    hfi_joint *joint = &in->joint;
    double part[HF_FITTED_MAX * HF_FITTED_MAX];
    size_t place[HF_FITTED_MAX];
    for (size_t a = 0; a < joint->count; a++) {
        place[a] = 0;
        while (fitted.row[place[a]] != in->input[joint->input[a]].index)
            place[a]++;
    }
    for (size_t a = 0; a < joint->count; a++)
        for (size_t b = 0; b < joint->count; b++)
            part[a * joint->count + b] = fitted.covariance[place[a] * fitted.count + place[b]];
    if (!hfi_fitted_factor(joint->count, part, joint->factor))
        return HF_EINTERNAL;
    for (size_t a = 1; a < joint->count; a++)
        join(in, joint->input[a], joint->input[0]);
    return HF_OK;
}

static hf_status add_rows(hfi_inputs *in, hf_message *message)
{
    for (size_t i = 0; i < HFI_PARAMETERS; i++) {
        if (!hfi_quantity_uses(in->quantity, hfi_catalogue[i].name))
            continue;
        hf_parameter row;
        hf_status status = hf_parameters_row(in->set, i, &row);
        const size_t before = in->count;
        const int fitted = is_fitted(in->set, i);
        if (status == HF_OK && row.distribution != HF_FIXED) {
            /* Limits are those of the value itself, which a fitted row only gets from all of them. */
            const hf_variate variate = {row.name,
                                        row.distribution,
                                        row.value,
                                        row.spread,
                                        fitted ? -(double)INFINITY : row.low,
                                        fitted ? (double)INFINITY : row.high};
            status = add(in, HFI_INPUT_ROW, i, &variate, message);
        }
        if (status == HF_OK && in->count > before && fitted) {
            in->input[before].fitted = 1;
            in->joint.input[in->joint.count++] = before;
        }
        if (status != HF_OK)
            return status;
    }
    return HF_OK;
}

static hf_status add_arguments(hfi_inputs *in, const hf_spread *spreads, size_t count,
                               hf_message *message)
{
    for (size_t i = 0; i < count; i++) {
        const hf_spread *s = &spreads[i];
        if (s->argument >= in->quantity->argument_count) {
            snprintf(message->text, sizeof message->text, "%s has no argument number %zu",
                     in->quantity->name, s->argument + 1);
            return HF_EINVAL;
        }
        const hf_argument *a = &in->quantity->arguments[s->argument];
        const hf_variate variate = {a->name,
                                    s->distribution,
                                    in->argument[s->argument],
                                    s->spread,
                                    isnan(s->low) ? a->domain_low : s->low,
                                    isnan(s->high) ? a->domain_high : s->high};
        if (a->kind == HF_KIND_CHOICE) {
            snprintf(message->text, sizeof message->text, "%s is a choice and has no spread",
                     a->name);
            return HF_EINVAL;
        }
        for (size_t k = 0; k < i; k++)
            if (spreads[k].argument == s->argument) {
                snprintf(message->text, sizeof message->text, "%s has two spreads", a->name);
                return HF_EINVAL;
            }
        const hf_status status = add(in, HFI_INPUT_ARGUMENT, s->argument, &variate, message);
        if (status != HF_OK)
            return status;
    }
    return HF_OK;
}

/* Place of a row among the inputs; count when it does not move. */
static size_t place_of(const hfi_inputs *in, size_t row)
{
    size_t i = 0;
    while (i < in->count && !(in->input[i].kind == HFI_INPUT_ROW && in->input[i].index == row))
        i++;
    return i;
}

/* Finds the gains by moving one enthalpy at a time (the heat is linear in them). */
static void tie_heat(hfi_inputs *in)
{
    hfi_kept_heat *heat = &in->heat;
    double before, after;
    for (int k = 0; k < 3; k++) {
        heat->input[k] = place_of(in, enthalpy[k]);
        if (heat->input[k] == in->count || in->input[heat->input[k]].fitted ||
            in->input[heat->input[k]].variate.distribution != HF_NORMAL)
            return;
    }
    if (hf_failed(hf_wetting_heat_e(0, WETTING_TEMPERATURE, HF_ABSORPTION, in->set, HF_EXTRAPOLATE,
                                    &before)))
        return;
    for (int k = 0; k < 3; k++) {
        const hfi_variate *v = &in->input[heat->input[k]].variate;
        const int moved = hfi_parameters_put(in->set, enthalpy[k], v->value + v->spread);
        const hf_status status = hf_wetting_heat_e(0, WETTING_TEMPERATURE, HF_ABSORPTION, in->set,
                                                   HF_EXTRAPOLATE, &after);
        (void)hfi_parameters_put(in->set, enthalpy[k], v->value);
        if (!moved || hf_failed(status))
            return;
        heat->gain[k] = (after - before) / v->spread;
    }
    heat->holds = 1;
    /* One factor: the first of the three stands for all. */
    for (int k = 1; k < 3; k++)
        join(in, heat->input[k], heat->input[0]);
}

hf_status hfi_inputs_open(hfi_inputs *in, const hf_quantity *quantity, const double *arguments,
                          const hf_parameters *set, unsigned flags, int rows,
                          const hf_spread *spreads, size_t spread_count, hf_message *message)
{
    hf_message scratch;
    if (!message)
        message = &scratch;
    message->text[0] = '\0';
    memset(in, 0, sizeof *in);
    in->quantity = quantity;
    in->flags = flags | HF_EXTRAPOLATE;
    if (!quantity || (spread_count && !spreads))
        return HF_EINVAL;
    for (size_t i = 0; i < quantity->argument_count; i++)
        in->argument[i] = isnan(arguments[i]) ? quantity->arguments[i].usual : arguments[i];
    hf_status status = hf_parameters_copy(&in->set, set);
    if (status != HF_OK)
        return status;
    if (rows)
        status = add_rows(in, message);
    if (status == HF_OK)
        status = add_arguments(in, spreads, spread_count, message);
    if (status == HF_OK && rows && quantity->equation_spread > 0) {
        const hf_variate variate = {
            "equation",        HF_NORMAL,       1, quantity->equation_spread,
            -(double)INFINITY, (double)INFINITY};
        status = add(in, HFI_INPUT_EQUATION, 0, &variate, message);
    }
    if (status == HF_OK)
        status = tie_fitted(in);
    if (status != HF_OK) {
        hfi_inputs_close(in);
        return status;
    }
    tie_heat(in);
    return HF_OK;
}

void hfi_inputs_close(hfi_inputs *in)
{
    hf_parameters_free(in->set);
    in->set = NULL;
}

void hfi_inputs_at(const hfi_inputs *in, const double *u, double *x)
{
    for (size_t i = 0; i < in->count; i++)
        x[i] = hfi_variate_at(&in->input[i].variate, u[i]);
}

/* Moves a frequency after its energy. */
static int follow_energy(hfi_inputs *in, size_t energy, size_t frequency, double anchor)
{
    const size_t e = place_of(in, energy), f = place_of(in, frequency);
    if (e == in->count)
        return 1;
    /* A frequency that the quantity does not use, or that the user fixed, stays; one that was fitted knows its
     * energy already. */
    if (f == in->count || in->input[f].fitted)
        return 1;
    const double *values = hfi_values(in->set);
    const double change = (values[energy] - in->input[e].variate.value) /
                          (HFI_GAS_CONSTANT * anchor * 2.302585092994046);
    return hfi_parameters_put(in->set, frequency, values[frequency] + change);
}

static int keep_heat(hfi_inputs *in, const double *x)
{
    const hfi_kept_heat *heat = &in->heat;
    double change = 0, weight = 0;
    for (int k = 0; k < 3; k++) {
        const hfi_variate *v = &in->input[heat->input[k]].variate;
        change += heat->gain[k] * (x[heat->input[k]] - v->value);
        weight += heat->gain[k] * heat->gain[k] * v->spread * v->spread;
    }
    for (int k = 0; k < 3; k++) {
        const hfi_variate *v = &in->input[heat->input[k]].variate;
        const double back = v->spread * v->spread * heat->gain[k] * change / weight;
        if (!hfi_parameters_put(in->set, enthalpy[k], x[heat->input[k]] - back))
            return 0;
    }
    return 1;
}

static int put_fitted(hfi_inputs *in, const double *x)
{
    const hfi_joint *joint = &in->joint;
    for (size_t a = 0; a < joint->count; a++) {
        double value = in->input[joint->input[a]].variate.value;
        for (size_t b = 0; b <= a; b++) {
            const hfi_variate *v = &in->input[joint->input[b]].variate;
            value +=
                joint->factor[a * joint->count + b] * (x[joint->input[b]] - v->value) / v->spread;
        }
        if (!hfi_parameters_put(in->set, in->input[joint->input[a]].index, value))
            return 0;
    }
    return 1;
}

int hfi_inputs_put(hfi_inputs *in, const double *x)
{
    for (size_t i = 0; i < in->count; i++)
        if (in->input[i].kind == HFI_INPUT_ROW && !in->input[i].fitted &&
            !hfi_parameters_put(in->set, in->input[i].index, x[i]))
            return 0;
    if (!put_fitted(in, x))
        return 0;
    if (in->heat.holds && !keep_heat(in, x))
        return 0;
#define TIED_RATE(energy, frequency, anchor)                                                       \
    if (!follow_energy(in, HFI_##energy, HFI_##frequency, anchor))                                 \
        return 0;
#include "ties.def"
#undef TIED_RATE
    return 1;
}

hf_status hfi_inputs_evaluate(hfi_inputs *in, const double *x, double *y)
{
    double argument[HF_ARGUMENTS_MAX], scale = 1;
    memcpy(argument, in->argument, sizeof argument);
    for (size_t i = 0; i < in->count; i++) {
        if (in->input[i].kind == HFI_INPUT_ARGUMENT)
            argument[in->input[i].index] = x[i];
        else if (in->input[i].kind == HFI_INPUT_EQUATION)
            scale = x[i];
    }
    if (!hfi_inputs_put(in, x))
        return HF_ERANGE;
    const hf_status status = in->quantity->evaluate(argument, in->set, in->flags, y);
    if (!hf_failed(status))
        *y *= scale;
    return status;
}
