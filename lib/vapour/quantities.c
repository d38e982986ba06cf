/* Quantities of the room `vapour`. */
#include <hairfibre/vapour.h>

#include "../base/quantity_table.h"
#include "../base/range.h"
#include "most_water.h"
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

#define OVERPRESSURE                                                                               \
    {                                                                                              \
        "gauge_pressure", "Pa", "vapour pressure inside over ambient", HF_KIND_NUMBER,             \
            (double)NAN, HFI_VOID_PRESSURE, NULL                                                   \
    }
#define VOID_RADIUS(usual)                                                                         \
    {                                                                                              \
        "void_radius", "m", "radius of the void", HF_KIND_NUMBER, usual, HFI_VOID_RADIUS, NULL     \
    }
#define HOT(range)                                                                                 \
    {                                                                                              \
        "temperature", "K", "temperature of the fibre", HF_KIND_TEMPERATURE, (double)NAN, range,   \
            NULL                                                                                   \
    }
#define NO_VISCOSITY                                                                               \
    "No viscosity of hot wet keratin was ever measured: two published thresholds of void "         \
    "formation calibrate it, and neighbours, rupture and closing are left out."

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

static hf_status softness(const double *x, const hf_parameters *set, unsigned flags, double *out)
{
    (void)set;
    return hf_softness_for_voids_e(x[0], x[1], x[2], flags, out);
}

static hf_status critical_radius(const double *x, const hf_parameters *set, unsigned flags,
                                 double *out)
{
    (void)set;
    return hf_critical_void_radius_e(x[0], x[1], flags, out);
}

static hf_status viscosity(const double *x, const hf_parameters *set, unsigned flags, double *out)
{
    return hf_void_viscosity_e(x[0], x[1], set, flags, out);
}

static hf_status growth_rate(const double *x, const hf_parameters *set, unsigned flags, double *out)
{
    return hf_void_growth_rate_e(x[0], x[1], x[2], x[3], set, flags, out);
}

/* Says so and is true when the fibre is too wet at a temperature; `where` is that temperature in words. */
static int too_wet(double regain, double temperature, const char *where, hf_branch branch,
                   const hf_parameters *set, hf_message *message)
{
    double limit;
    if (hf_failed(hfi_most_water(temperature, branch, set, &limit)) || regain <= limit)
        return 0;
    snprintf(
        message->text, sizeof message->text,
        "regain = %.6g (%.6g %%) is more water than the fibre holds%s: at most %.4g (%.4g %%), "
        "sorbed or kept as liquid",
        regain, 100 * regain, where, limit, 100 * limit);
    return 1;
}

static void explain_pressure(const double *x, const hf_parameters *set, hf_message *message)
{
    char where[64];
    snprintf(where, sizeof where, " at %.6g K (%.6g degC)", x[0], x[0] - 273.15);
    too_wet(x[1], x[0], where, branch_of(x[2]), set, message);
}

static void explain_boiling(const double *x, const hf_parameters *set, hf_message *message)
{
    static const hfi_range range = {HFI_VAPOUR_TEMPERATURE};
    const hf_branch branch = branch_of(x[2]);
    double answer, p;
    if (x[0] == 0)
        snprintf(message->text, sizeof message->text,
                 "regain = 0: a dry fibre holds no water that could boil");
    else if (too_wet(x[0], range.domain_high, "", branch, set, message))
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

HFI_QUANTITY_TABLE(vapour)

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
     .equation_spread = 1e-4, /* of psat */
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
    {.name = "softness_for_voids",
     .unit = "Pa",
     .text = "Young's modulus below which steam of this overpressure opens an intact solid",
     .kind = HF_KIND_NUMBER,
     .room = "vapour",
     .equation = "E = 6/5 (dp - 2 gamma/r)",
     .leaves_out = "A cavity in an unbounded rubber-like solid, without fracture. Keratin has no "
                   "measured modulus above 100 degC; intact wet keratin at room temperature is "
                   "hundreds of times stiffer than this, so voids need weak interfaces.",
     .sources = "gentlindley1959 iapws-r1-76",
     .known = HF_SECOND_HAND,
     .cautions = HF_CAUTION_HEAT,
     .evaluate = softness,
     .argument_count = 3,
     .arguments = {OVERPRESSURE, VOID_RADIUS(1e-6), HOT(HFI_VOID_TEMPERATURE)}},
    {.name = "critical_void_radius",
     .unit = "m",
     .text = "radius above which surface tension no longer closes a void",
     .kind = HF_KIND_NUMBER,
     .room = "vapour",
     .equation = "r = 2 gamma/dp",
     .leaves_out =
         "Surface tension of pure water against its vapour; a void in keratin may differ.",
     .sources = "iapws-r1-76",
     .known = HF_PUBLISHED,
     .cautions = HF_CAUTION_HEAT,
     .evaluate = critical_radius,
     .argument_count = 2,
     .arguments = {OVERPRESSURE, HOT(HFI_VOID_TEMPERATURE)}},
    {.name = "void_viscosity",
     .unit = "Pa s",
     .text = "viscosity that holds a void at a weak interface closed",
     .kind = HF_KIND_NUMBER,
     .room = "vapour",
     .equation = "eta = eta_ref exp(Ea/R (1/T - 1/T_ref) - b (w - w_ref))",
     .leaves_out = NO_VISCOSITY,
     .sources = "own-fit",
     .known = HF_CALIBRATED,
     .parameters = "void.viscosity",
     .cautions = HF_CAUTION_HEAT,
     .evaluate = viscosity,
     .argument_count = 2,
     .arguments = {HOT(HFI_VOID_HOT),
                   {"regain", "kg/kg", "water in the fibre, by dry mass", HF_KIND_FRACTION,
                    (double)NAN, HFI_VOID_REGAIN, NULL}}},
    {.name = "void_growth_rate",
     .unit = "1/s",
     .text = "rate at which ln(radius) of a void at a weak interface grows",
     .kind = HF_KIND_NUMBER,
     .room = "vapour",
     .equation = "d ln r/dt = (dp - p0 - 2 gamma/r) / (4 eta), zero while negative",
     .leaves_out = NO_VISCOSITY " An expected growth, never a promise.",
     .sources = "barlow1962 navon1998 own-fit",
     .known = HF_CALIBRATED,
     .parameters = "void.viscosity void.threshold",
     .cautions = HF_CAUTION_HEAT,
     .evaluate = growth_rate,
     .argument_count = 4,
     .arguments = {OVERPRESSURE,
                   VOID_RADIUS(2e-6),
                   HOT(HFI_VOID_HOT),
                   {"regain", "kg/kg", "water in the fibre, by dry mass", HF_KIND_FRACTION,
                    (double)NAN, HFI_VOID_REGAIN, NULL}}},
};
const size_t hfi_vapour_quantity_count =
    sizeof hfi_vapour_quantities / sizeof hfi_vapour_quantities[0];
