/* Quantities of the room `bonds`: adapters here, rows in the .def files beside. */
#include <hairfibre/bonds.h>
#include <hairfibre/chemistry.h>

#include "bleaching.h"
#include "ranges.h"
#include "rates.h"

#include "../base/catalogue.h"
#include "../base/quantity_table.h"
#include "../base/range.h"
#include "../keratin/ranges.h"

#include <stdio.h>

static hf_branch branch_of(double x)
{
    return x > 0.5 ? HF_DESORPTION : HF_ABSORPTION;
}

static int law_of(double x)
{
    return x > 0.5;
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
ADAPTER(hydrogen_bonds_mobile, x[0], x[1], set)
ADAPTER(water_set, x[0], set)
ADAPTER(carboxylate, x[0], set)
ADAPTER(charged_base, x[0], set)
ADAPTER(salt_bridges, x[0], set)
ADAPTER(disulfide_content, set)
ADAPTER(half_cystine_oxidised, x[0], set)
ADAPTER(disulfide_reduction_rate, x[0], x[1], set)
ADAPTER(disulfide_reduced, x[0], x[1], x[2], set)
ADAPTER(disulfide_reoxidised, x[0], set)
ADAPTER(lanthionine_rate_ratio, x[0], x[1], set)
ADAPTER(internal_ph, x[0], x[1], x[2], set)
ADAPTER(donnan_potential, x[0], x[1], x[2], set)
ADAPTER(donnan_pressure, x[0], x[1], x[2], set)
ADAPTER(acid_bound, x[0], x[1], x[2], set)
ADAPTER(salt_bridges_donnan, x[0], x[1], x[2], set)
ADAPTER(ph_swelling, x[0], x[1], x[2], set)
ADAPTER(isoionic_point, set)
ADAPTER(thiol_reduction_rate, x[0], x[1], x[2], set)
ADAPTER(reduction_front_depth, x[0], x[1], x[2], x[3], set)
ADAPTER(reduction_moving_boundary, x[0], x[1], x[2], x[3], set)
ADAPTER(half_cystine_bleached, x[0], x[1], x[2], (hf_bleach_law)law_of(x[3]), set)
ADAPTER(cysteic_acid, x[0], x[1], x[2], (hf_bleach_law)law_of(x[3]), set)
ADAPTER(bleached_peak, x[0], (hf_bleach_law)law_of(x[1]), set)
ADAPTER(bleached_enthalpy, x[0], (hf_bleach_law)law_of(x[1]), set)
ADAPTER(bleached_peak_by_number, x[0], set)
ADAPTER(bleached_enthalpy_by_number, x[0], (hf_number_law)law_of(x[1]), set)
ADAPTER(enthalpy_from_peak, x[0], set)
ADAPTER(bleached_peak_misfit, (hf_bleach_law)law_of(x[0]), set)
ADAPTER(bleached_enthalpy_misfit, (hf_bleach_law)law_of(x[0]), set)
ADAPTER(bleached_enthalpy_by_number_misfit, (hf_number_law)law_of(x[0]), set)
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

static hf_status reduced_time_uniform(const double *x, const hf_parameters *set, unsigned flags,
                                      double *out)
{
    (void)set;
    return hf_reduced_time_uniform_e(x[0], flags, out);
}

static hf_status reduced_time_front(const double *x, const hf_parameters *set, unsigned flags,
                                    double *out)
{
    (void)set;
    return hf_reduced_time_front_e(x[0], flags, out);
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

static void explain_isoionic(const double *x, const hf_parameters *set, hf_message *message)
{
    (void)x;
    (void)set;
    snprintf(message->text, sizeof message->text,
             "acid and basic groups of this set never balance between pH 0 and 14");
}

static void explain_oxidation(const double *x, const hf_parameters *set, hf_message *message)
{
    const double *values = hfi_values(set);
    const double exposure = x[0] * hfi_bleach_strength(values, x[1], x[2]);
    const double share = hfi_bleach_share(values, exposure, (hf_bleach_law)law_of(x[3]));
    snprintf(message->text, sizeof message->text,
             "the law would oxidise a share of %.3g of half-cystine; the largest loss read is 0.45",
             share);
}

static void explain_front(const double *x, const hf_parameters *set, hf_message *message)
{
    (void)x;
    (void)set;
    snprintf(message->text, sizeof message->text, "no disulfide bonds are left to open");
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
    const int side = hfi_helix_side(&law, x[1]);
    if (side == 0) {
        snprintf(message->text, sizeof message->text,
                 "regain = %.6g (%.6g %%) lies between %.6g and %.6g, where no rate was measured",
                 x[1], 100 * x[1], law.dry_regain, law.wet_regain);
        return;
    }
    const hfi_range *range = side > 0 ? &wet : &ironing;
    snprintf(message->text, sizeof message->text,
             "temperature = %.6g K (%.6g degC): at regain %.6g the %s law holds, which evidence "
             "supports from %.6g K to %.6g K (%.6g to %.6g degC)",
             x[0], x[0] - 273.15, x[1], side > 0 ? "wet" : "ironing", range->valid_low,
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
#define PH                                                                                    \
    {"ph", "1", "pH of the bath", HF_KIND_NUMBER, MUST, HFI_BOND_PH, NULL}
#define CONCENTRATION                                                                              \
    {"concentration", "mol/m3", "thiol in the bath", HF_KIND_NUMBER, MUST,                         \
     HFI_THIOL_CONCENTRATION, NULL}

#define BATH                                                                                       \
    {"ph", "1", "pH of the bath", HF_KIND_NUMBER, MUST, HFI_BATH_PH, NULL},              \
        {"ionic_strength", "mol/m3", "1:1 salt in the bath, without the acid or base of the pH",   \
         HF_KIND_NUMBER, 0, HFI_BATH_SALT, NULL},                                                  \
    {                                                                                              \
        "regain", "kg/kg", "water in the fibre, by dry mass; usual: wet virgin hair",              \
            HF_KIND_FRACTION, 0.315, HFI_BATH_REGAIN, NULL                                         \
    }
#define WET_DIAMETER                                                                               \
    {"diameter", "m", "of the wet fibre", HF_KIND_NUMBER, 76e-6, HFI_WET_DIAMETER, NULL}
#define PEROXIDE                                                                                   \
    {"peroxide", "1", "hydrogen peroxide in the bleach, by mass", HF_KIND_FRACTION, 0.06,          \
     HFI_OXIDATION_PEROXIDE, NULL}
#define TIME_LAW(usual)                                                                            \
    {"law", "1", "how the loss grows with time", HF_KIND_CHOICE, usual, HFI_LAW, "root steady"}
#define NUMBER_LAW                                                                                 \
    {"law", "1", "line through the points, or the line printed with them", HF_KIND_CHOICE, 0,      \
     HFI_LAW, "points printed"}
#define REDUCED_SHARE(range)                                                                       \
    {"share", "1", "share of the bonds opened", HF_KIND_FRACTION, MUST, range, NULL}

#define NO_DONNAN                                                                                  \
    "The pH inside the fibre is taken to be that of the bath; without salt the two differ " \
    "(internal_ph). "
#define DONNAN_PARAMETERS                                                                          \
    "bond.ionic.carboxyl bond.ionic.carboxyl_pk bond.ionic.base bond.ionic.arginine_share "        \
    "bond.ionic.arginine_pk bond.ionic.lysine_pk bond.ionic.sulfonic_pk bond.disulfide.cysteic"
#define DONNAN_LACKS                                                                               \
    "One pK stands for all carboxyl groups; activity coefficients, divalent ions and the slow second " \
    "uptake below pH 2 are left out; 25 degC. "
#define FRONT_CONCENTRATION                                                                        \
    {"concentration", "mol/m3", "thiol in the bath", HF_KIND_NUMBER, MUST,                         \
     HFI_FRONT_CONCENTRATION, NULL}
#define FRONT_LACKS                                                                                \
    "Which law applies: thioglycolate 0.42 mol/l at pH 9 showed a sharp front, cysteamine at pH 6 " \
    "to 9 reduced uniformly (disulfide_reduced) and switched to a front at pH 10; fine hair gave " \
    "sigmoid curves, and neither law fits all data. The diffusivity is assumed so that both laws " \
    "share a half-life; the balance with the disulfide of the thiol is left out."
#define FRONT_PARAMETERS                                                                           \
    "rate.thiol.diffusivity rate.thiol.energy rate.thiol.temperature bond.disulfide.half_cystine " \
    "bond.disulfide.cysteic swelling sorption.retention"
#define OXIDATION_LACKS                                                                            \
    "The scale (20 % after 1 h in 6 % peroxide) is assumed: set rate.oxidation.loss and .duration " \
    "to a measurement of your own. Two time laws are published and differ: before that hour the " \
    "root has lost more, after it the steady law. Persulfate, pH and half-way products are left " \
    "out."
#define TWO_LABORATORIES                                                                           \
    "Untreated wet hair peaks at 141 degC in one laboratory (2 K/min) and at 158 in the other."
#define NO_STRENGTH "A population of bonds is no share of strength. "
#define ENERGY_AND_FREQUENCY                                                                       \
    "Energy and frequency were found together: each spread is the one given the other."
/* clang-format on */

HFI_QUANTITY_TABLE(bonds)

const hf_quantity hfi_bonds_quantities[] = {
#include "populations.def"
#include "donnan.def"
#include "chemistry.def"
#include "reduction.def"
#include "bleaching.def"
#include "rates.def"
#include "unknown.def"
};
const size_t hfi_bonds_quantity_count =
    sizeof hfi_bonds_quantities / sizeof hfi_bonds_quantities[0];
