/*
 * Published levels of whole fibres: eight groups of one study, three types of hair.
 *
 * Groups (wortmann2022): natural N and bleached B hair at the levels of heat 0 to 3, 53 to 60
 * fibres each, wet and at room humidity, mean +- 95 % limits. The temperatures and times of the
 * levels were not read, so nothing is interpolated between them. Modulus Pa, break strain, break
 * stress Pa.
 *
 * Types (textbook-ch6, p. 204): Asian (173 fibres), Caucasian (171), African-American (251).
 * Cross-section m2, ellipticity, break stress Pa. Other studies read much less for the break stress
 * of hair of African type: 155 MPa (breakstress-rh2021) and 87 MPa (wickett-ch7).
 *
 * The rows lie in the catalogue in the order of the two enumerations.
 */
#include <hairfibre/strength.h>

#include "choice.h"

#include "../base/catalogue.h"
#include "../base/strict.h"

#define GROUPS 8
#define TYPES  3

enum { MODULUS, BREAK_STRAIN, BREAK_STRESS, GROUP_COLUMNS };
enum { AREA, ELLIPTICITY, TYPE_BREAK_STRESS, TYPE_COLUMNS };

_Static_assert(HFI_STRENGTH_GROUP_B3_STRESS_DRY - HFI_STRENGTH_GROUP_N0_MODULUS_WET + 1 ==
                   GROUPS * GROUP_COLUMNS * 2,
               "rows of the groups");
_Static_assert(HFI_STRENGTH_TYPE_AFRICAN_AMERICAN_STRESS - HFI_STRENGTH_TYPE_ASIAN_AREA + 1 ==
                   TYPES * TYPE_COLUMNS,
               "rows of the types");

static hf_status of_group(int column, hf_hair_group group, hf_water_state state,
                          const hf_parameters *set, double *out)
{
    if (!out || !hfi_is_member((int)group, GROUPS) || !hfi_is_member((int)state, 2))
        return HF_EINVAL;
    const int row = ((int)group * GROUP_COLUMNS + column) * 2 + (int)state;
    *out = hfi_values(set)[HFI_STRENGTH_GROUP_N0_MODULUS_WET + row];
    return HF_OK;
}

static hf_status of_type(int column, hf_hair_type type, const hf_parameters *set, double *out)
{
    if (!out || !hfi_is_member((int)type, TYPES))
        return HF_EINVAL;
    *out = hfi_values(set)[HFI_STRENGTH_TYPE_ASIAN_AREA + (int)type * TYPE_COLUMNS + column];
    return HF_OK;
}

hf_status hf_group_modulus_e(hf_hair_group group, hf_water_state state, const hf_parameters *set,
                             unsigned flags, double *modulus)
{
    (void)flags;
    return of_group(MODULUS, group, state, set, modulus);
}

hf_status hf_group_break_strain_e(hf_hair_group group, hf_water_state state,
                                  const hf_parameters *set, unsigned flags, double *strain)
{
    (void)flags;
    return of_group(BREAK_STRAIN, group, state, set, strain);
}

hf_status hf_group_break_stress_e(hf_hair_group group, hf_water_state state,
                                  const hf_parameters *set, unsigned flags, double *stress)
{
    (void)flags;
    return of_group(BREAK_STRESS, group, state, set, stress);
}

hf_status hf_type_area_e(hf_hair_type type, const hf_parameters *set, unsigned flags, double *area)
{
    (void)flags;
    return of_type(AREA, type, set, area);
}

hf_status hf_type_ellipticity_e(hf_hair_type type, const hf_parameters *set, unsigned flags,
                                double *ratio)
{
    (void)flags;
    return of_type(ELLIPTICITY, type, set, ratio);
}

hf_status hf_type_break_stress_e(hf_hair_type type, const hf_parameters *set, unsigned flags,
                                 double *stress)
{
    (void)flags;
    return of_type(TYPE_BREAK_STRESS, type, set, stress);
}

HFI_STRICT(hf_group_modulus, (hf_hair_group group, hf_water_state state, const hf_parameters *set),
           group, state, set)
HFI_STRICT(hf_group_break_strain,
           (hf_hair_group group, hf_water_state state, const hf_parameters *set), group, state, set)
HFI_STRICT(hf_group_break_stress,
           (hf_hair_group group, hf_water_state state, const hf_parameters *set), group, state, set)
HFI_STRICT(hf_type_area, (hf_hair_type type, const hf_parameters *set), type, set)
HFI_STRICT(hf_type_ellipticity, (hf_hair_type type, const hf_parameters *set), type, set)
HFI_STRICT(hf_type_break_stress, (hf_hair_type type, const hf_parameters *set), type, set)
