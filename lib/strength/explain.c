#include "explain.h"

#include "curve.h"
#include "fatigue.h"

#include "../base/catalogue.h"

#include <hairfibre/strength.h>

#include <math.h>
#include <stdarg.h>
#include <stdio.h>

#if defined(__GNUC__)
__attribute__((format(printf, 2, 3)))
#endif
static void
say(hf_message *message, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(message->text, sizeof message->text, format, arguments);
    va_end(arguments);
}

void hfi_explain_crossover(const double *x, const hf_parameters *set, hf_message *message)
{
    (void)x;
    say(message, "the shear modulus of the set \"%s\" does not cross that of virgin hair",
        hf_parameters_name(set));
}

/* ---- stretching ------------------------------------------------------------------------------ */

static int no_curve(hfi_curve *curve, double humidity, const hf_parameters *set,
                    hf_message *message)
{
    if (!hf_failed(hfi_curve_at(curve, set, humidity)))
        return 0;
    say(message,
        "at humidity %.6g (%.6g %%) the parameters make no rising curve of three regions: yield "
        "strain, turn and break strain must follow one another, and stress must rise",
        humidity, 100 * humidity);
    return 1;
}

void hfi_explain_humidity(const double *x, const hf_parameters *set, hf_message *message)
{
    hfi_curve curve;
    no_curve(&curve, x[0], set, message);
}

void hfi_explain_strain(const double *x, const hf_parameters *set, hf_message *message)
{
    hfi_curve curve;
    if (!no_curve(&curve, x[1], set, message) && x[0] > curve.break_strain)
        say(message,
            "strain = %.6g (%.6g %%): the strand breaks at %.4g (%.4g %%) at humidity %.6g %%",
            x[0], 100 * x[0], curve.break_strain, 100 * curve.break_strain, 100 * x[1]);
}

void hfi_explain_stress(const double *x, const hf_parameters *set, hf_message *message)
{
    hfi_curve curve;
    if (!no_curve(&curve, x[1], set, message) && x[0] > curve.break_stress)
        say(message, "stress = %.6g Pa: the strand breaks at %.4g Pa at humidity %.6g %%", x[0],
            curve.break_stress, 100 * x[1]);
}

void hfi_explain_lost(const double *x, const hf_parameters *set, hf_message *message)
{
    const double limit = hfi_values(set)[HFI_STRENGTH_DISULFIDE_DRY_LIMIT];
    if (x[1] == 1)
        say(message,
            "disulfide_lost = %.6g (%.6g %%): nothing is known about dry strength beyond %.6g %%",
            x[0], 100 * x[0], 100 * limit);
    else
        say(message, "disulfide_lost = %.6g (%.6g %%): the law would leave less than nothing", x[0],
            100 * x[0]);
}

/* ---- counts ---------------------------------------------------------------------------------- */

void hfi_explain_strands(const double *x, const hf_parameters *set, hf_message *message)
{
    (void)set;
    if (x[0] != floor(x[0]))
        say(message, "strands = %.6g must be a whole number", x[0]);
}

void hfi_explain_broken(const double *x, const hf_parameters *set, hf_message *message)
{
    (void)set;
    if (x[0] != floor(x[0]) || x[1] != floor(x[1]))
        say(message, "%s = %.6g must be a whole number", x[0] != floor(x[0]) ? "broken" : "strands",
            x[0] != floor(x[0]) ? x[0] : x[1]);
    else if (x[0] > x[1])
        say(message, "broken = %.6g is more than the %.6g strands", x[0], x[1]);
}

/* ---- fatigue --------------------------------------------------------------------------------- */

static int no_table(const hf_parameters *set, hf_message *message)
{
    if (hfi_values(set)[HFI_STRENGTH_FATIGUE_READ] > 0.5)
        return 0;
    say(message,
        "no fatigue table was read for the set \"%s\", and lives of virgin hair are no stand-in: "
        "enter constants of your own and set strength.fatigue.read to 1",
        hf_parameters_name(set));
    return 1;
}

static void outside_band(double stress, double humidity, hf_message *message)
{
    say(message,
        "stress = %.6g Pa: at humidity %.6g %% lives were measured from %.4g Pa to %.4g Pa", stress,
        100 * humidity, hfi_fatigue_lowest(humidity), hfi_fatigue_highest(humidity));
}

void hfi_explain_life(const double *x, const hf_parameters *set, hf_message *message)
{
    if (!no_table(set, message))
        outside_band(x[0], x[1], message);
}

void hfi_explain_rival(const double *x, const hf_parameters *set, hf_message *message)
{
    static const double humidity[] = {0.20, 0.60, 0.90};
    if (!no_table(set, message) && x[1] >= 0 && x[1] <= 2)
        outside_band(x[0], humidity[(int)x[1]], message);
}

void hfi_explain_cycles(const double *x, const hf_parameters *set, hf_message *message)
{
    hfi_explain_life(x + 1, set, message);
}

void hfi_explain_shape(const double *x, const hf_parameters *set, hf_message *message)
{
    (void)x;
    if (!no_table(set, message))
        say(message, "strength.fatigue_shape carried to this humidity is not above 0");
}

void hfi_explain_certain(const double *x, const hf_parameters *set, hf_message *message)
{
    (void)set;
    say(message, "probability = %.6g: certain failure takes infinitely many cycles", x[0]);
}

/* ---- cuticle --------------------------------------------------------------------------------- */

void hfi_explain_sheath(const double *x, const hf_parameters *set, hf_message *message)
{
    (void)set;
    if (2 * x[0] > x[1])
        say(message, "thickness = %.6g m is more than the radius of a fibre of %.6g m", x[0], x[1]);
}

void hfi_explain_cuticle(const double *x, const hf_parameters *set, hf_message *message)
{
    hfi_explain_sheath(x + 2, set, message);
    if (!message->text[0])
        say(message,
            "whole = %.6g Pa and without = %.6g Pa leave no positive modulus to a cuticle of %.6g "
            "m",
            x[0], x[1], x[2]);
}
