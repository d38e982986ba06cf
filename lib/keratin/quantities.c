/* Room keratin: every property that can be asked for by name. */
#include "explain.h"
#include "ranges.h"

#include "../base/quantity_table.h"

#include <math.h>

/* ---- adapters from an argument array --------------------------------------------------------- */

#define ADAPTER(name, ...)                                                                         \
    static hf_status name(const double *x, const hf_parameters *set, unsigned flags, double *out)  \
    {                                                                                              \
        return hf_##name##_e(__VA_ARGS__, set, flags, out);                                        \
    }

ADAPTER(regain, x[0], x[1], hfi_branch_of(x[2]))
ADAPTER(water_activity, x[0], x[1], hfi_branch_of(x[2]))
ADAPTER(saturation_regain, x[0], hfi_branch_of(x[1]))
ADAPTER(regain_slope, x[0], x[1], hfi_branch_of(x[2]))
ADAPTER(scanning_slope, x[0], x[1], x[2], hfi_branch_of(x[3]))
ADAPTER(isosteric_heat, x[0], x[1], hfi_branch_of(x[2]))
ADAPTER(wetting_heat, x[0], x[1], hfi_branch_of(x[2]))
ADAPTER(diameter_swelling, x[0], x[1])
ADAPTER(length_swelling, x[0], x[1])
ADAPTER(area_swelling, x[0], x[1])
ADAPTER(volume_swelling, x[0], x[1])
ADAPTER(fibre_density, x[0])
ADAPTER(diffusivity, x[0], x[1])
ADAPTER(diffusivity_exponential, x[0], x[1])
ADAPTER(heat_capacity, x[0], x[1])
ADAPTER(conductivity, x[0])
ADAPTER(glass_transition, x[0])
ADAPTER(denaturation_temperature, x[0])
ADAPTER(denaturation_peak, x[0], x[1] == 0 ? HF_WET : x[1] == 1 ? HF_DRY : (hf_water_state)2)

static hf_status liquid_retention(const double *x, const hf_parameters *set, unsigned flags,
                                  double *out)
{
    (void)x;
    return hf_liquid_retention_e(set, flags, out);
}

/* Functions without catalogue rows. */
#define PLAIN(name)                                                                                \
    static hf_status name(const double *x, const hf_parameters *set, unsigned flags, double *out)  \
    {                                                                                              \
        (void)set;                                                                                 \
        (void)flags;                                                                               \
        return hf_##name##_e(x[0], out);                                                           \
    }

PLAIN(moisture_content)
PLAIN(regain_from_content)

/* Rival forms: no answer outside the meaning of their constants. */
static hf_status written(double y, double *out)
{
    if (!out)
        return HF_EINVAL;
    if (!isfinite(y))
        return HF_ERANGE;
    *out = y;
    return HF_OK;
}

#define RIVAL(name, ...)                                                                           \
    static hf_status name(const double *x, const hf_parameters *set, unsigned flags, double *out)  \
    {                                                                                              \
        (void)set;                                                                                 \
        (void)flags;                                                                               \
        return written(hf_##name(__VA_ARGS__), out);                                               \
    }

RIVAL(isotherm_gab, x[0], x[1], x[2], x[3])
RIVAL(isotherm_bet, x[0], x[1], x[2])
RIVAL(isotherm_hailwood_horrobin, x[0], x[1], x[2], x[3])
RIVAL(isotherm_darcy_watt, x[0], x[1], x[2], x[3], x[4])
RIVAL(isotherm_garment, x[0], x[1])
RIVAL(garment_heat, x[0])

/* ---- arguments ------------------------------------------------------------------------------- */

#define MUST ((double)NAN)
#define ROOM 293.15 /* K */

#define HUMIDITY                                                                                   \
    {                                                                                              \
        "humidity", "1", "relative humidity over liquid water", HF_KIND_FRACTION, MUST,            \
            HFI_HUMIDITY, NULL                                                                     \
    }
#define SORBED                                                                                     \
    {                                                                                              \
        "regain", "kg/kg", "sorbed water, by dry mass", HF_KIND_FRACTION, MUST, HFI_SORBED_REGAIN, \
            NULL                                                                                   \
    }
#define REGAIN                                                                                     \
    {                                                                                              \
        "regain", "kg/kg", "water in the fibre, by dry mass", HF_KIND_FRACTION, MUST, HFI_REGAIN,  \
            NULL                                                                                   \
    }
#define FROM                                                                                       \
    {                                                                                              \
        "from_regain", "kg/kg", "water in the fibre at the start, 0: bone dry", HF_KIND_FRACTION,  \
            0, HFI_REGAIN, NULL                                                                    \
    }
#define BRANCH                                                                                     \
    {                                                                                              \
        "branch", "1", "side of the hysteresis loop", HF_KIND_CHOICE, 0, HFI_BRANCH,               \
            "absorption desorption"                                                                \
    }
#define TEMPERATURE(usual, ...)                                                                    \
    {                                                                                              \
        "temperature", "K", "temperature of the fibre", HF_KIND_TEMPERATURE, usual, __VA_ARGS__,   \
            NULL                                                                                   \
    }
#define CONSTANT(name, text)                                                                       \
    {                                                                                              \
        name, "1", text, HF_KIND_NUMBER, MUST, 1e-6, 1e6, 1e-6, 1e6, NULL                          \
    }
#define CAPACITY(name, text)                                                                       \
    {                                                                                              \
        name, "kg/kg", text, HF_KIND_FRACTION, MUST, 1e-6, 10, 1e-6, 10, NULL                      \
    }

/* Name, unit, kind, what it is; then the named fields; then the arguments. */
#define QUANTITY(id, u, k, t, ...)                                                                 \
    .name = #id, .unit = u, .kind = k, .text = t, .room = "keratin", .evaluate = id, __VA_ARGS__

#define ISOTHERM_PARAMETERS                                                                        \
    "sorption.scale sorption.absorption sorption.desorption sorption.enthalpy"
#define ISOTHERM_SOURCES "chamberlain1931 watts-clothing-code mortonhearle2008"

HFI_QUANTITY_TABLE(keratin)

const hf_quantity hfi_keratin_quantities[] = {
#include "quantities_sorption.def"
#include "quantities_swelling.def"
#include "quantities_thermal.def"
#include "quantities_rivals.def"
};

const size_t hfi_keratin_quantity_count =
    sizeof hfi_keratin_quantities / sizeof hfi_keratin_quantities[0];
