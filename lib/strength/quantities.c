/* Quantities of the room `strength`: adapters and arguments here, rows in the .def files beside. */
#include <hairfibre/strength.h>

#include "choice.h"
#include "explain.h"
#include "ranges.h"

#include "../base/quantity_table.h"

/* ---- adapters from an argument array --------------------------------------------------------- */

#define ADAPTER(name, ...)                                                                         \
    static hf_status name(const double *x, const hf_parameters *set, unsigned flags, double *out)  \
    {                                                                                              \
        (void)x;                                                                                   \
        (void)set;                                                                                 \
        return hf_##name##_e(__VA_ARGS__, flags, out);                                             \
    }

#define STATE(x) ((hf_water_state)hfi_choice(x))

ADAPTER(tensile_modulus, x[0], set)
ADAPTER(tensile_modulus_rival, x[0], set)
ADAPTER(tensile_modulus_in_air, x[0], (hf_branch)hfi_choice(x[1]), set)
ADAPTER(tensile_modulus_over_wet, x[0], set)
ADAPTER(shear_modulus, x[0], set)
ADAPTER(shear_modulus_without_cuticle, x[0], set)
ADAPTER(torsion_crossover, set)
ADAPTER(yield_stress, x[0], set)
ADAPTER(yield_strain, x[0], set)
ADAPTER(post_yield_modulus, x[0], set)
ADAPTER(stress_at_strain, x[0], x[1], set)
ADAPTER(tangent_modulus, x[0], x[1], set)
ADAPTER(strain_at_stress, x[0], x[1], set)
ADAPTER(work_to_strain, x[0], x[1], set)
ADAPTER(work_to_break, x[0], set)
ADAPTER(break_stress, x[0], set)
ADAPTER(break_strain, x[0], set)
ADAPTER(break_force, x[0], x[1], set)
ADAPTER(axial_stress, x[0], x[1])
ADAPTER(break_stress_left, x[0], STATE(x[1]), set)
ADAPTER(group_modulus, (hf_hair_group)hfi_choice(x[0]), STATE(x[1]), set)
ADAPTER(group_break_strain, (hf_hair_group)hfi_choice(x[0]), STATE(x[1]), set)
ADAPTER(group_break_stress, (hf_hair_group)hfi_choice(x[0]), STATE(x[1]), set)
ADAPTER(type_area, (hf_hair_type)hfi_choice(x[0]), set)
ADAPTER(type_ellipticity, (hf_hair_type)hfi_choice(x[0]), set)
ADAPTER(type_break_stress, (hf_hair_type)hfi_choice(x[0]), set)
ADAPTER(perm_modulus_left, (unsigned)hfi_choice(x[0]), (hf_peroxide)hfi_choice(x[1]))
ADAPTER(perm_yield_stress_left, (unsigned)hfi_choice(x[0]), (hf_peroxide)hfi_choice(x[1]))
ADAPTER(perm_break_stress_left, (unsigned)hfi_choice(x[0]), (hf_peroxide)hfi_choice(x[1]))
ADAPTER(perm_work_left, (unsigned)hfi_choice(x[0]), (hf_stretch)hfi_choice(x[1]))
ADAPTER(dry_heat_break_stress_left, (hf_dry_heat)hfi_choice(x[0]))
ADAPTER(dry_heat_work_left, (hf_dry_heat)hfi_choice(x[0]))
ADAPTER(ironing_modulus_left, (hf_ironed)hfi_choice(x[0]))
ADAPTER(ironing_break_stress_left, (hf_ironed)hfi_choice(x[0]))
ADAPTER(spray_modulus_left, (hf_spray)hfi_choice(x[0]))
ADAPTER(spray_break_stress_left, (hf_spray)hfi_choice(x[0]))
ADAPTER(weibull_modulus, x[0])
ADAPTER(weibull_variation, x[0])
ADAPTER(break_probability, x[0], x[1], set)
ADAPTER(weakest_break_stress, x[0], x[1], set)
ADAPTER(broken_expected, x[0], x[1], x[2], set)
ADAPTER(broken_at_least, x[0], x[1], x[2])
ADAPTER(fatigue_life, x[0], x[1], set)
ADAPTER(fatigue_life_rival, x[0], (hf_fatigue_level)hfi_choice(x[1]), set)
ADAPTER(fatigue_shape, x[0], set)
ADAPTER(fatigue_survival, x[0], x[1], x[2], set)
ADAPTER(fatigue_used, x[0], x[1], x[2], set)
ADAPTER(survival_of_used, x[0], x[1], set)
ADAPTER(weibull_failure, x[0], x[1], x[2])
ADAPTER(weibull_cycles, x[0], x[1], x[2])
ADAPTER(cuticle_thickness, x[0], set)
ADAPTER(cuticle_share, x[0], x[1])
ADAPTER(cuticle_shear_modulus, x[0], x[1], x[2], x[3])
ADAPTER(cuticle_mismatch, x[0], x[1], set)
ADAPTER(strip_curvature, x[0], x[1], x[2], x[3], x[4])

/* ---- arguments ------------------------------------------------------------------------------- */

#define MUST ((double)NAN)

/* clang-format off */
#define ARGUMENT(name, unit, text, kind, usual, ...)                                               \
    {name, unit, text, kind, usual, __VA_ARGS__, NULL}
#define CHOICE(name, text, usual, words, ...)                                                      \
    {name, "1", text, HF_KIND_CHOICE, usual, __VA_ARGS__, words}
#define FRACTION(name, text, ...) ARGUMENT(name, "1", text, HF_KIND_FRACTION, MUST, __VA_ARGS__)
#define NUMBER(name, unit, text, ...) ARGUMENT(name, unit, text, HF_KIND_NUMBER, MUST, __VA_ARGS__)

#define REGAIN_NAMED(name, text, ...)                                                              \
    ARGUMENT(name, "kg/kg", text, HF_KIND_FRACTION, MUST, __VA_ARGS__)
#define REGAIN                                                                                     \
    REGAIN_NAMED("regain", "water in the fibre, by dry mass", HFI_MODULUS_REGAIN)
#define HUMIDITY(...)                                                                              \
    FRACTION("humidity", "relative humidity of the air, 100 %: in water", __VA_ARGS__)
#define STRAIN FRACTION("strain", "relative elongation", HFI_STRAIN)
#define STRESS(...) NUMBER("stress", "Pa", "force over cross-section", __VA_ARGS__)
#define WET_OR_DRY                                                                                 \
    CHOICE("state", "in water, or at room humidity", MUST, "wet dry", HFI_TWO_CHOICES)
#define AREA NUMBER("area", "m2", "cross-section of the strand", HFI_AREA)
#define GROUP_ARGUMENT                                                                             \
    CHOICE("group", "natural N or bleached B hair, with the level of heat", MUST,                  \
           "N0 N1 N2 N3 B0 B1 B2 B3", HFI_EIGHT_CHOICES)
#define TYPE_ARGUMENT                                                                              \
    CHOICE("type", "type of hair, as the source names it", MUST,                                   \
           "asian caucasian african-american", HFI_THREE_CHOICES)
#define PERMS CHOICE("perms", "number of perms", MUST, "0 1 2 3", HFI_FOUR_CHOICES)
#define PEROXIDE                                                                                   \
    CHOICE("peroxide", "time in 6 % peroxide before the perms", 0, "none 4h", HFI_TWO_CHOICES)
#define DRY_HEAT                                                                                   \
    CHOICE("heat", "temperature of the five minutes", MUST, "60degC 115degC 130degC 160degC",      \
           HFI_FOUR_CHOICES)
#define IRONED CHOICE("hair", "hair before the iron", MUST, "virgin bleached", HFI_TWO_CHOICES)
#define SPRAY CHOICE("spray", "spray before the iron", MUST, "water ethanol", HFI_TWO_CHOICES)
#define STRANDS(...) NUMBER("strands", "1", "number of strands", __VA_ARGS__)
#define CYCLES(...) NUMBER("cycles", "1", "how often the strand is pulled", __VA_ARGS__)
#define LIFE NUMBER("life", "1", "characteristic life, in cycles", HFI_ANY_LIFE)
#define SHAPE NUMBER("shape", "1", "Weibull shape", HFI_ANY_SHAPE)
#define LAYER_THICKNESS(name, text) NUMBER(name, "m", text, HFI_LAYER_THICKNESS)
#define LAYER_MODULUS(name, text) NUMBER(name, "Pa", text, HFI_LAYER_MODULUS)
#define SHEATH NUMBER("thickness", "m", "thickness of the cuticle", HFI_SHEATH_THICKNESS)
#define DIAMETER NUMBER("diameter", "m", "diameter of a round fibre", HFI_ROUND_DIAMETER)
/* clang-format on */

/* Name, unit, kind, what it is; then the named fields; then the arguments. */
#define QUANTITY(id, u, k, t, ...)                                                                 \
    .name = #id, .unit = u, .kind = k, .text = t, .room = "strength", .evaluate = id, __VA_ARGS__
#define NO_MODEL(id, u, k, t, ...)                                                                 \
    .name = #id, .unit = u, .kind = k, .text = t, .room = "strength", .equation = "none",          \
    .parameters = "", __VA_ARGS__

HFI_QUANTITY_TABLE(strength)

const hf_quantity hfi_strength_quantities[] = {
#include "quantities_modulus.def"
#include "quantities_curve.def"
#include "quantities_break.def"
#include "quantities_levels.def"
#include "quantities_scatter.def"
#include "quantities_fatigue.def"
#include "quantities_cuticle.def"
};

const size_t hfi_strength_quantity_count =
    sizeof hfi_strength_quantities / sizeof hfi_strength_quantities[0];
