/*
 * Published levels of treatments: shares of stiffness, strength and work that were left.
 *
 * Perms (tate1993, Table VI, scanned): after 0, 1, 2, 3 perms
 *                       none before                 4 h in 6 % peroxide before
 *   modulus, GN/m2      2.8   2.4   1.5   0.76      2.5   1.5   1.1   0.52
 *   yield (x 1e-2)      6.7   5.5   3.5   2.5       4.9   3.2   2.4   1.4
 *   break (x 1e-1)      3.3   2.3   1.7   1.0       2.8   1.5   1.4   1.0
 *   work to 20 %        4.4   3.0   2.0   2.7
 *   work to break       2.6   1.4   0.91  0.69
 * Exponents are damaged in the scan, so only shares of the untreated value are given. The work to
 * 20 % after three perms is more than after two, against all other columns: read as printed.
 *
 * Five minutes of dry heat, Asian hair, at 60, 115, 130, 160 degC (wickett-ch7, p. 233, quoting
 * Hu): break stress -2.0, -5.4, -7.4, -10.2 %; work to 20 % -0.8, -0.5, +3.1, +5.2 %. The two
 * higher levels differ from untreated hair at the 5 % level, the two lower ones do not.
 *
 * Ironing 80 times 15 s at 180 degC (sayahi, abstract): modulus -12.4 and -35.7 %, break stress
 * -18.2 and -50 %, virgin and bleached hair, the bleached one at 100 % humidity.
 *
 * Spray before the iron (christian2011, Table III): modulus 2.17 GPa, -0.26 after water, +0.01
 * after ethanol; break stress -0.50e-2 of 2.04e-2 gf/um2 after water and 200 to 177 MPa after
 * ethanol.
 *
 * Nothing is interpolated between levels.
 */
#include <hairfibre/strength.h>

#include "choice.h"

#include "../base/strict.h"

#define PERMS 4

typedef double perm_table[2][PERMS];

static const perm_table perm_modulus = {{2.8, 2.4, 1.5, 0.76}, {2.5, 1.5, 1.1, 0.52}};
static const perm_table perm_yield = {{6.7, 5.5, 3.5, 2.5}, {4.9, 3.2, 2.4, 1.4}};
static const perm_table perm_break = {{3.3, 2.3, 1.7, 1.0}, {2.8, 1.5, 1.4, 1.0}};
static const perm_table perm_work = {{4.4, 3.0, 2.0, 2.7}, {2.6, 1.4, 0.91, 0.69}};

static const double dry_heat_break[] = {1 - 0.020, 1 - 0.054, 1 - 0.074, 1 - 0.102};
static const double dry_heat_work[] = {1 - 0.008, 1 - 0.005, 1 + 0.031, 1 + 0.052};
static const double ironing_modulus[] = {1 - 0.124, 1 - 0.357};
static const double ironing_break[] = {1 - 0.182, 1 - 0.50};
static const double spray_modulus[] = {1 - 0.26 / 2.17, 1 + 0.01 / 2.17};
static const double spray_break[] = {1 - 0.50 / 2.04, 177.0 / 200};

/* Over the untreated value: the first of the table, or of the row. */
static hf_status perm_share(const perm_table *table, unsigned perms, int row, int own_start,
                            double *share)
{
    if (!share || !hfi_is_member(row, 2))
        return HF_EINVAL;
    if (perms >= PERMS)
        return HF_ERANGE;
    *share = (*table)[row][perms] / (*table)[own_start ? row : 0][0];
    return HF_OK;
}

static hf_status level(const double *levels, int count, int member, double *share)
{
    if (!share || !hfi_is_member(member, count))
        return HF_EINVAL;
    *share = levels[member];
    return HF_OK;
}

hf_status hf_perm_modulus_left_e(unsigned perms, hf_peroxide peroxide, unsigned flags,
                                 double *share)
{
    (void)flags;
    return perm_share(&perm_modulus, perms, (int)peroxide, 0, share);
}

hf_status hf_perm_yield_stress_left_e(unsigned perms, hf_peroxide peroxide, unsigned flags,
                                      double *share)
{
    (void)flags;
    return perm_share(&perm_yield, perms, (int)peroxide, 0, share);
}

hf_status hf_perm_break_stress_left_e(unsigned perms, hf_peroxide peroxide, unsigned flags,
                                      double *share)
{
    (void)flags;
    return perm_share(&perm_break, perms, (int)peroxide, 0, share);
}

hf_status hf_perm_work_left_e(unsigned perms, hf_stretch stretch, unsigned flags, double *share)
{
    (void)flags;
    return perm_share(&perm_work, perms, (int)stretch, 1, share);
}

hf_status hf_dry_heat_break_stress_left_e(hf_dry_heat heat, unsigned flags, double *share)
{
    (void)flags;
    return level(dry_heat_break, 4, (int)heat, share);
}

hf_status hf_dry_heat_work_left_e(hf_dry_heat heat, unsigned flags, double *share)
{
    (void)flags;
    return level(dry_heat_work, 4, (int)heat, share);
}

hf_status hf_ironing_modulus_left_e(hf_ironed hair, unsigned flags, double *share)
{
    (void)flags;
    return level(ironing_modulus, 2, (int)hair, share);
}

hf_status hf_ironing_break_stress_left_e(hf_ironed hair, unsigned flags, double *share)
{
    (void)flags;
    return level(ironing_break, 2, (int)hair, share);
}

hf_status hf_spray_modulus_left_e(hf_spray spray, unsigned flags, double *share)
{
    (void)flags;
    return level(spray_modulus, 2, (int)spray, share);
}

hf_status hf_spray_break_stress_left_e(hf_spray spray, unsigned flags, double *share)
{
    (void)flags;
    return level(spray_break, 2, (int)spray, share);
}

HFI_STRICT(hf_perm_modulus_left, (unsigned perms, hf_peroxide peroxide), perms, peroxide)
HFI_STRICT(hf_perm_yield_stress_left, (unsigned perms, hf_peroxide peroxide), perms, peroxide)
HFI_STRICT(hf_perm_break_stress_left, (unsigned perms, hf_peroxide peroxide), perms, peroxide)
HFI_STRICT(hf_perm_work_left, (unsigned perms, hf_stretch stretch), perms, stretch)
HFI_STRICT(hf_dry_heat_break_stress_left, (hf_dry_heat heat), heat)
HFI_STRICT(hf_dry_heat_work_left, (hf_dry_heat heat), heat)
HFI_STRICT(hf_ironing_modulus_left, (hf_ironed hair), hair)
HFI_STRICT(hf_ironing_break_stress_left, (hf_ironed hair), hair)
HFI_STRICT(hf_spray_modulus_left, (hf_spray spray), spray)
HFI_STRICT(hf_spray_break_stress_left, (hf_spray spray), spray)
