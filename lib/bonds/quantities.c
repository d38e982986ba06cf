/* Quantities of the room `bonds`: adapters here, rows in the .def files beside. */
#include <hairfibre/bonds.h>

#include "ranges.h"
#include "rates.h"

#include "../base/catalogue.h"
#include "../base/range.h"
#include "../keratin/ranges.h"

#include <stdio.h>

static hf_branch branch_of(double x)
{
    return x > 0.5 ? HF_DESORPTION : HF_ABSORPTION;
}

#define ADAPTER(name, ...)                                                                         \
    static hf_status name(const double *x, const hf_parameters *set, unsigned flags, double *out)  \
    {                                                                                              \
        (void)x;                                                                                   \
        return hf_##name##_e(__VA_ARGS__, flags, out);                                             \
    }

ADAPTER(hydrogen_bonds_accessible, set)
ADAPTER(hydrogen_bonds_protected, set)
ADAPTER(hydrogen_bonds_open, x[0], x[1], branch_of(x[2]), set)
ADAPTER(carboxylate, x[0], set)
ADAPTER(charged_base, x[0], set)
ADAPTER(salt_bridges, x[0], set)
ADAPTER(disulfide_content, set)
ADAPTER(half_cystine_oxidised, x[0], set)
ADAPTER(disulfide_reduction_rate, x[0], x[1], set)
ADAPTER(disulfide_reduced, x[0], x[1], x[2], set)
ADAPTER(disulfide_reoxidised, x[0], set)
ADAPTER(lanthionine_rate_ratio, x[0], x[1], set)
ADAPTER(helix_rate, x[0], x[1], set)
ADAPTER(helix_rate_wet, x[0], set)
ADAPTER(helix_rate_wet_rival, x[0], set)
ADAPTER(helix_rate_dry, x[0], set)
ADAPTER(helix_rate_ironing, x[0], set)
ADAPTER(tryptophan_rate, x[0], set)
ADAPTER(helix_remaining, x[0], x[1], x[2], set)
ADAPTER(tryptophan_remaining, x[0], x[1], set)
ADAPTER(helix_after_bleaching, x[0], set)

static hf_status disulfide_bleached(const double *x, const hf_parameters *set, unsigned flags,
                                    double *out)
{
    (void)set; /* the user's own measurement takes the place of parameters */
    return hf_disulfide_bleached_e(x[0], x[1], x[2], flags, out);
}

/* ---- sentences about joint limits --------------------------------------------------------------
 */

static void explain_oxidised(const double *x, const hf_parameters *set, hf_message *message)
{
    const double untreated = hfi_values(set)[HFI_BOND_DISULFIDE_CYSTEIC_UNTREATED];
    if (x[0] < untreated)
        snprintf(message->text, sizeof message->text,
                 "cysteic_acid = %.6g mol/kg is less than the %.6g mol/kg of untreated hair", x[0],
                 untreated);
    else
        snprintf(message->text, sizeof message->text,
                 "cysteic_acid = %.6g mol/kg is more than half-cystine allows", x[0]);
}

static void explain_bleached(const double *x, const hf_parameters *set, hf_message *message)
{
    static const hfi_range range = {HFI_BLEACH_LOSS};
    (void)set;
    if (!(x[1] > 0))
        snprintf(message->text, sizeof message->text, "reference_duration must be above 0");
    else
        snprintf(message->text, sizeof message->text,
                 "the law would give a loss of %.6g, above %.6g, the largest that was read",
                 x[2] * sqrt(x[0] / x[1]), range.domain_high);
}

static void explain_content(const double *x, const hf_parameters *set, hf_message *message)
{
    (void)x;
    (void)set;
    snprintf(message->text, sizeof message->text,
             "bond.disulfide.cysteic is more than bond.disulfide.half_cystine");
}

static void explain_helix(const double *x, const hf_parameters *set, hf_message *message)
{
    static const hfi_range wet = {HFI_HELIX_WET_TEMPERATURE};
    static const hfi_range ironing = {HFI_HELIX_IRONING_TEMPERATURE};
    const hfi_helix_law law = hfi_helix_law_of(hfi_values(set));
    const double weight = hfi_helix_weight(&law, x[1]);
    if (weight > 0 && weight < 1) {
        snprintf(
            message->text, sizeof message->text,
            "regain = %.6g (%.6g %%) lies in the blend between %.6g and %.6g, where no rate was "
            "measured",
            x[1], 100 * x[1], law.dry_regain, law.wet_regain);
        return;
    }
    const hfi_range *range = weight > 0 ? &wet : &ironing;
    snprintf(message->text, sizeof message->text,
             "temperature = %.6g K (%.6g degC): at regain %.6g the %s law holds, which evidence "
             "supports from %.6g K to %.6g K (%.6g to %.6g degC)",
             x[0], x[0] - 273.15, x[1], weight > 0 ? "wet" : "ironing", range->valid_low,
             range->valid_high, range->valid_low - 273.15, range->valid_high - 273.15);
}

/* ---- arguments ---------------------------------------------------------------------------------
 */

#define MUST (double)NAN

/* clang-format off */
#define TEMPERATURE(usual, range)                                                                  \
    {"temperature", "K", "temperature of the fibre", HF_KIND_TEMPERATURE, usual, range, NULL}
#define REGAIN                                                                                     \
    {"regain", "kg/kg", "water in the fibre, by dry mass", HF_KIND_FRACTION, MUST,                 \
     HFI_BOND_REGAIN, NULL}
#define BRANCH                                                                                     \
    {"branch", "1", "side of the hysteresis loop", HF_KIND_CHOICE, 0, HFI_BRANCH,                  \
     "absorption desorption"}
#define DURATION(range) {"duration", "s", "how long", HF_KIND_NUMBER, MUST, range, NULL}
#define ACIDITY                                                                                    \
    {"acidity", "1", "pH of the bath", HF_KIND_NUMBER, MUST, HFI_BOND_ACIDITY, NULL}
#define CONCENTRATION                                                                              \
    {"concentration", "mol/m3", "thiol in the bath", HF_KIND_NUMBER, MUST,                         \
     HFI_THIOL_CONCENTRATION, NULL}

#define NO_DONNAN                                                                                  \
    "The pH inside the fibre is taken to be that of the bath; without salt the two differ (Donnan " \
    "equilibrium). "
#define NO_STRENGTH "A population of bonds is no share of strength. "
#define ENERGY_AND_FREQUENCY                                                                       \
    "Energy and frequency were found together: each spread is the one given the other."
/* clang-format on */

const hf_quantity hfi_bonds_quantities[] = {
#include "populations.def"
#include "chemistry.def"
#include "rates.def"
#include "unknown.def"
};
const size_t hfi_bonds_quantity_count =
    sizeof hfi_bonds_quantities / sizeof hfi_bonds_quantities[0];
