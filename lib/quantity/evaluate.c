/* Evaluation by name, with a sentence for every failure. */
#include <hairfibre/quantity.h>

#include "../base/range.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* A number as a reader expects it: kelvin beside degrees Celsius, fractions beside percent. */
static void show(char *text, size_t size, const hf_argument *argument, double x)
{
    if (argument->kind == HF_KIND_TEMPERATURE)
        snprintf(text, size, "%.6g K (%.6g degC)", x, x - 273.15);
    else if (argument->kind == HF_KIND_FRACTION)
        snprintf(text, size, "%.6g (%.6g %%)", x, 100 * x);
    else if (strcmp(argument->unit, "1") == 0)
        snprintf(text, size, "%.6g", x);
    else
        snprintf(text, size, "%.6g %s", x, argument->unit);
}

static void say_range(hf_message *message, const hf_argument *argument, double x, double low,
                      double high, const char *what)
{
    char at[64], from[64], to[64];
    show(at, sizeof at, argument, x);
    show(from, sizeof from, argument, low);
    show(to, sizeof to, argument, high);
    if (isinf(high))
        snprintf(message->text, sizeof message->text, "%s = %s must be %s or more", argument->name,
                 at, from);
    else
        snprintf(message->text, sizeof message->text, "%s = %s lies outside the %s %s to %s",
                 argument->name, at, what, from, to);
}

/* Names the argument at fault; returns 0 when none is by itself. `supported`: outside the range that
 * evidence supports counts as a fault too. */
static int explain(const hf_quantity *quantity, const double *x, int supported, hf_message *message)
{
    for (size_t i = 0; i < quantity->argument_count; i++) {
        const hf_argument *a = &quantity->arguments[i];
        if (isnan(x[i]) && isnan(a->usual))
            snprintf(message->text, sizeof message->text, "%s is missing or not a number", a->name);
        else if (!isfinite(x[i]))
            snprintf(message->text, sizeof message->text, "%s must be a finite number", a->name);
        else if (x[i] < a->domain_low || x[i] > a->domain_high)
            say_range(message, a, x[i], a->domain_low, a->domain_high, "possible range");
        else
            continue;
        return 1;
    }
    for (size_t i = 0; supported && i < quantity->argument_count; i++) {
        const hf_argument *a = &quantity->arguments[i];
        if (x[i] < a->valid_low || x[i] > a->valid_high) {
            say_range(message, a, x[i], a->valid_low, a->valid_high,
                      "range that evidence supports,");
            return 1;
        }
    }
    return 0;
}

hf_status hf_quantity_evaluate(const hf_quantity *quantity, const double *arguments,
                               const hf_parameters *set, unsigned flags, double *out,
                               hf_message *message)
{
    hf_message scratch;
    if (!message)
        message = &scratch;
    message->text[0] = '\0';
    if (!quantity || (!arguments && quantity->argument_count) || !out) {
        snprintf(message->text, sizeof message->text, "quantity, arguments and out are needed");
        return HF_EINVAL;
    }
    if (!quantity->evaluate) {
        snprintf(message->text, sizeof message->text, "%s", quantity->leaves_out);
        return HF_ENOMODEL;
    }
    double x[HF_ARGUMENTS_MAX];
    for (size_t i = 0; i < quantity->argument_count; i++)
        x[i] = isnan(arguments[i]) ? quantity->arguments[i].usual : arguments[i];
    hf_status status = HF_OK;
    for (size_t i = 0; i < quantity->argument_count; i++)
        if (!isfinite(x[i]))
            status = HF_EINVAL;
        else if (quantity->arguments[i].kind == HF_KIND_CHOICE &&
                 (x[i] != floor(x[i]) || x[i] < quantity->arguments[i].domain_low ||
                  x[i] > quantity->arguments[i].domain_high))
            status = hfi_worse(status, HF_ERANGE);
    if (status == HF_OK)
        status = quantity->evaluate(x, set, flags, out);
    if (status == HF_OK)
        return status;
    /* An extrapolated answer comes with the argument that made it so. */
    const int supported = status == HF_EXTRAPOLATED || !(flags & HF_EXTRAPOLATE);
    if (explain(quantity, x, supported, message))
        return status;
    if (quantity->explain)
        quantity->explain(x, set, message);
    if (!message->text[0])
        snprintf(message->text, sizeof message->text, "%s: %s", quantity->name,
                 hf_status_text(status));
    return status;
}
