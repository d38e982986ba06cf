/* Quantities of the room `vapour`. */
#include <hairfibre/vapour.h>

#include "../base/range.h"
#include "ranges.h"

#include <stdio.h>

/* clang-format off */
#define LEAVES_OUT                                                                                 \
    "An upper bound for a sealed fibre: no leak, no expansion, fibre and vapour in equilibrium. "  \
    "How far a real fibre stays below it was never measured, nor was any pressure inside a "       \
    "fibre. The isotherm above 60 degC is a fit, above 150 degC an extrapolation."
/* clang-format on */

#define TEMPERATURE                                                                                \
    {                                                                                              \
        "temperature", "K", "temperature of the fibre", HF_KIND_TEMPERATURE, (double)NAN,          \
            HFI_VAPOUR_TEMPERATURE, NULL                                                           \
    }
#define REGAIN                                                                                     \
    {                                                                                              \
        "regain", "kg/kg", "water in the fibre, by dry mass", HF_KIND_FRACTION, (double)NAN,       \
            HFI_VAPOUR_REGAIN, NULL                                                                \
    }
#define BRANCH                                                                                     \
    {                                                                                              \
        "branch", "1", "side of the hysteresis loop", HF_KIND_CHOICE, 0, 0, 1, 0, 1,               \
            "absorption desorption"                                                                \
    }
#define PRESSURE(range)                                                                            \
    {                                                                                              \
        "pressure", "Pa", "ambient pressure", HF_KIND_NUMBER, 101325, range, NULL                  \
    }

static hf_branch branch_of(double x)
{
    return x > 0.5 ? HF_DESORPTION : HF_ABSORPTION;
}

static hf_status vapour_pressure(const double *x, const hf_parameters *set, unsigned flags,
                                 double *out)
{
    return hf_internal_vapour_pressure_e(x[0], x[1], branch_of(x[2]), set, flags, out);
}

static hf_status gauge_pressure(const double *x, const hf_parameters *set, unsigned flags,
                                double *out)
{
    return hf_internal_gauge_pressure_e(x[0], x[1], branch_of(x[2]), x[3], set, flags, out);
}

static hf_status boiling_temperature(const double *x, const hf_parameters *set, unsigned flags,
                                     double *out)
{
    return hf_internal_boiling_temperature_e(x[0], x[1], branch_of(x[2]), set, flags, out);
}

/* Most water that a fibre holds at a temperature, sorbed or kept as liquid; 0 when unknown. */
static double most(double temperature, hf_branch branch, const hf_parameters *set)
{
    double sorbed = 0, kept = 0;
    if (hf_failed(hf_saturation_regain_e(temperature, branch, set, HF_EXTRAPOLATE, &sorbed)) ||
        hf_failed(hf_liquid_retention_e(set, HF_EXTRAPOLATE, &kept)))
        return 0;
    return fmax(sorbed, kept);
}

static int too_wet(double regain, double temperature, hf_branch branch, const hf_parameters *set,
                   hf_message *message)
{
    const double limit = most(temperature, branch, set);
    if (!(limit > 0 && regain > limit))
        return 0;
    snprintf(message->text, sizeof message->text,
             "regain = %.6g (%.6g %%) is more water than the fibre holds at %.6g K (%.6g degC): at "
             "most %.6g (%.6g %%), sorbed or kept as liquid",
             regain, 100 * regain, temperature, temperature - 273.15, limit, 100 * limit);
    return 1;
}

static void explain_pressure(const double *x, const hf_parameters *set, hf_message *message)
{
    too_wet(x[1], x[0], branch_of(x[2]), set, message);
}

static void explain_boiling(const double *x, const hf_parameters *set, hf_message *message)
{
    static const hfi_range range = {HFI_VAPOUR_TEMPERATURE};
    const hf_branch branch = branch_of(x[2]);
    double answer, p;
    if (x[0] == 0)
        snprintf(message->text, sizeof message->text,
                 "regain = 0: a dry fibre holds no water that could boil");
    else if (too_wet(x[0], range.domain_high, branch, set, message))
        return;
    else if (!hf_failed(boiling_temperature(x, set, HF_EXTRAPOLATE, &answer)))
        snprintf(message->text, sizeof message->text,
                 "the answer, %.6g K (%.6g degC), lies outside the range that evidence supports, "
                 "%.6g K to %.6g K (%.6g to %.6g degC)",
                 answer, answer - 273.15, range.valid_low, range.valid_high,
                 range.valid_low - 273.15, range.valid_high - 273.15);
    else if (!hf_failed(hf_internal_vapour_pressure_e(range.domain_high, x[0], branch, set,
                                                      HF_EXTRAPOLATE, &p)) &&
             p < x[1])
        snprintf(message->text, sizeof message->text,
                 "regain = %.6g (%.6g %%): its vapour pressure stays below %.6g Pa up to %.6g degC",
                 x[0], 100 * x[0], x[1], range.domain_high - 273.15);
}

#define SOURCES "iapws-sr1-86 clausius-clapeyron own-fit"

const hf_quantity hfi_vapour_quantities[] = {
    {.name = "internal_vapour_pressure",
     .unit = "Pa",
     .text = "vapour pressure of the water in a fibre",
     .kind = HF_KIND_NUMBER,
     .room = "vapour",
     .equation = "p = a(w,T) psat(T); a = 1 while liquid water is present",
     .leaves_out = LEAVES_OUT,
     .sources = SOURCES,
     .known = HF_CALIBRATED,
     .parameters = "sorption",
     .cautions = HF_CAUTION_HEAT,
     .evaluate = vapour_pressure,
     .explain = explain_pressure,
     .argument_count = 3,
     .arguments = {TEMPERATURE, REGAIN, BRANCH}},
    {.name = "internal_gauge_pressure",
     .unit = "Pa",
     .text = "vapour pressure of the water in a fibre above the ambient pressure",
     .kind = HF_KIND_NUMBER,
     .room = "vapour",
     .equation = "p = a(w,T) psat(T) - P; a = 1 while liquid water is present",
     .leaves_out = LEAVES_OUT,
     .sources = SOURCES,
     .known = HF_CALIBRATED,
     .parameters = "sorption",
     .cautions = HF_CAUTION_HEAT,
     .evaluate = gauge_pressure,
     .explain = explain_pressure,
     .argument_count = 4,
     .arguments = {TEMPERATURE, REGAIN, BRANCH, PRESSURE(HFI_VAPOUR_AMBIENT)}},
    {.name = "internal_boiling_temperature",
     .unit = "K",
     .text = "temperature at which the vapour pressure in a fibre meets the ambient pressure",
     .kind = HF_KIND_TEMPERATURE,
     .room = "vapour",
     .equation = "a(w,T) psat(T) = P, solved for T",
     .leaves_out = LEAVES_OUT " Meeting the ambient pressure is needed for voids, not enough: the "
                              "solid resists.",
     .sources = SOURCES,
     .known = HF_CALIBRATED,
     .parameters = "sorption",
     .cautions = HF_CAUTION_HEAT,
     .evaluate = boiling_temperature,
     .explain = explain_boiling,
     .argument_count = 3,
     .arguments = {REGAIN, PRESSURE(HFI_VAPOUR_BOILING), BRANCH}},
};
const size_t hfi_vapour_quantity_count =
    sizeof hfi_vapour_quantities / sizeof hfi_vapour_quantities[0];
