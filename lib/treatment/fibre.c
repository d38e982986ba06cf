/*
 * The fibre: a cylinder of equal area with the true perimeter of an ellipse.
 *
 *   perimeter ratio = [3 (a + b) - sqrt((3 a + b)(a + 3 b))] / (2 sqrt(a b))
 *
 * a, b half axes. Ramanujan's first formula, better than 2e-5 up to an axis ratio of 3 (checked against
 * the elliptic integral in the tests). The dry radius follows from the diameter as measured through the
 * swelling law; measured at 20 degC on the absorption branch.
 */
#include "fibre.h"

#include "../base/catalogue.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static double perimeter_ratio(double ellipticity)
{
    const double a = sqrt(ellipticity), b = 1 / a;
    return (3 * (a + b) - sqrt((3 * a + b) * (a + 3 * b))) / 2;
}

static hf_status say(hf_message *message, hf_status status, const char *name, double value,
                     const char *unit, double low, double high)
{
    if (message)
        snprintf(message->text, sizeof message->text, "%s = %g%s%s must lie between %g and %g",
                 name, value, *unit ? " " : "", unit, low, high);
    return status;
}

static hf_status check(const hf_fibre_description *d, const hf_parameters *set, hf_message *message)
{
    const double retention = hfi_values(set)[HFI_SORPTION_RETENTION];
    const struct {
        const char *name, *unit;
        double value, low, high;
    } field[] = {
        {"diameter", "m", d->diameter, 30e-6, 240e-6},
        {"measured_humidity", "", d->measured_humidity, 0, 1},
        {"ellipticity", "", d->ellipticity, 1, 3},
        {"medulla", "", d->medulla, 0, 0.5},
        {"temperature", "K", d->temperature, 273.16, 373.15},
        {"film", "kg/kg", d->film, 0, 5},
    };
    for (size_t i = 0; i < sizeof field / sizeof field[0]; i++)
        if (!(field[i].value >= field[i].low && field[i].value <= field[i].high))
            return say(message, isfinite(field[i].value) ? HF_ERANGE : HF_EINVAL, field[i].name,
                       field[i].value, field[i].unit, field[i].low, field[i].high);
    const int by_regain = !isnan(d->regain);
    if (by_regain && !(d->regain >= 0 && d->regain <= retention))
        return say(message, isfinite(d->regain) ? HF_ERANGE : HF_EINVAL, "regain", d->regain,
                   "kg/kg", 0, retention);
    if (!by_regain && !(d->humidity >= 0 && d->humidity <= 1))
        return say(message, isfinite(d->humidity) ? HF_ERANGE : HF_EINVAL, "humidity", d->humidity,
                   "", 0, 1);
    if ((d->branch != HF_ABSORPTION && d->branch != HF_DESORPTION) || d->diffusion_law < 0 ||
        d->diffusion_law > 2) {
        if (message)
            snprintf(message->text, sizeof message->text,
                     "branch must be absorption or desorption, diffusion_law 0, 1 or 2");
        return HF_EINVAL;
    }
    return HF_OK;
}

hf_status hf_fibre_new(hf_fibre **out, const hf_fibre_description *description,
                       const hf_parameters *set, hf_message *message)
{
    if (message)
        message->text[0] = '\0';
    if (!out || !description)
        return HF_EINVAL;
    hf_status status = check(description, set, message);
    if (status != HF_OK)
        return status;
    double regain = description->regain, at_measuring, swelling = 0;
    if (isnan(regain))
        status = hf_regain_e(description->humidity, description->temperature, description->branch,
                             set, HF_EXTRAPOLATE, &regain);
    if (!hf_failed(status))
        status = hf_regain_e(description->measured_humidity, 293.15, HF_ABSORPTION, set,
                             HF_EXTRAPOLATE, &at_measuring);
    if (!hf_failed(status))
        status = hf_diameter_swelling_e(at_measuring, 0, set, HF_EXTRAPOLATE, &swelling);
    if (hf_failed(status)) {
        if (message)
            snprintf(message->text, sizeof message->text,
                     "the regain at the start cannot be worked out at %g K",
                     description->temperature);
        return status;
    }
    hf_fibre *fibre = calloc(1, sizeof *fibre);
    if (!fibre)
        return HF_ENOMEM;
    status = hf_parameters_copy(&fibre->set, set);
    if (status != HF_OK) {
        free(fibre);
        return status;
    }
    fibre->description = *description;
    fibre->regain = regain;
    fibre->dry_radius = 0.5 * description->diameter / (1 + swelling);
    fibre->perimeter = perimeter_ratio(description->ellipticity);
    *out = fibre;
    return HF_OK;
}

void hf_fibre_free(hf_fibre *fibre)
{
    if (!fibre)
        return;
    hf_parameters_free(fibre->set);
    free(fibre);
}
