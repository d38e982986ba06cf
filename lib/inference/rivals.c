/* Rival models and readings, listed and never averaged. */
#include <hairfibre/keratin.h>
#include <hairfibre/quantity.h>
#include <hairfibre/uncertainty.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

#define CHANGE(parameter, value)                                                                   \
    {                                                                                              \
        parameter, value                                                                           \
    }
#define RIVAL(of, quantity, text, source, argument, value, count, ...)                             \
    {of, quantity, text, source, argument, value, count, {__VA_ARGS__}},
static const hf_rival rivals[] = {
#include "rivals.def"
};
#undef RIVAL
#undef CHANGE

const hf_rival *hf_rival_at(const hf_quantity *quantity, size_t index)
{
    for (size_t i = 0; quantity && i < sizeof rivals / sizeof rivals[0]; i++)
        if (strcmp(rivals[i].of, quantity->name) == 0 && index-- == 0)
            return &rivals[i];
    return NULL;
}

/* Answers that agree to this part are the same to anybody who reads them. */
#define SAME 1e-6

/* Hands on the arguments of the same name. 1 when an argument was changed to something else. */
static int hand_on(const hf_rival *rival, const hf_quantity *from, const double *arguments,
                   const hf_quantity *to, double *x)
{
    int differs = strcmp(rival->of, rival->quantity) != 0;
    for (size_t i = 0; i < to->argument_count; i++) {
        x[i] = (double)NAN;
        for (size_t k = 0; k < from->argument_count; k++)
            if (strcmp(to->arguments[i].name, from->arguments[k].name) == 0)
                x[i] = isnan(arguments[k]) ? from->arguments[k].usual : arguments[k];
        if (rival->argument && strcmp(to->arguments[i].name, rival->argument) == 0) {
            differs = differs || !(x[i] == rival->value); /* a choice */
            x[i] = rival->value;
        }
    }
    return differs;
}

hf_status hf_rival_evaluate(const hf_rival *rival, const hf_quantity *quantity,
                            const double *arguments, const hf_parameters *set, unsigned flags,
                            double *out, hf_message *message)
{
    hf_message scratch;
    if (!message)
        message = &scratch;
    message->text[0] = '\0';
    if (!rival || !quantity || (!arguments && quantity->argument_count) || !out)
        return HF_EINVAL;
    const hf_quantity *other = hf_quantity_find(rival->quantity);
    if (!other)
        return HF_EINTERNAL;
    double x[HF_ARGUMENTS_MAX];
    int differs = hand_on(rival, quantity, arguments, other, x);
    hf_parameters *changed;
    hf_status status = hf_parameters_copy(&changed, set);
    if (status != HF_OK)
        return status;
    for (size_t i = 0; i < rival->change_count && status == HF_OK; i++) {
        double now = (double)NAN;
        status = hf_parameters_get(changed, rival->change[i].parameter, &now);
        differs = differs || now != rival->change[i].value; /* the same number or not */
        if (status == HF_OK)
            status = hf_parameters_set(changed, rival->change[i].parameter, rival->change[i].value);
    }
    /* Other readings were made on the fibres of the shipped set. */
    if (status == HF_OK && rival->change_count && strcmp(hf_parameters_name(set), "virgin") != 0) {
        snprintf(message->text, sizeof message->text, "%s: known for virgin hair only",
                 rival->text);
        status = HF_EDATA;
    }
    double y = (double)NAN, plain;
    if (status == HF_OK && differs)
        status = hf_quantity_evaluate(other, x, changed, flags, &y, message);
    hf_parameters_free(changed);
    if (hf_failed(status))
        return status;
    if (!differs ||
        (other == quantity &&
         !hf_failed(hf_quantity_evaluate(quantity, arguments, set, flags, &plain, NULL)) &&
         fabs(y - plain) <= SAME * fabs(plain))) {
        snprintf(message->text, sizeof message->text, "%s: the same here", rival->text);
        return HF_EDATA;
    }
    *out = y;
    return status;
}
