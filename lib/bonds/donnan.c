/*
 * Donnan equilibrium of a wet fibre with a bath of a 1:1 electrolyte.
 *
 *   outside    cations = anions = c,  c = I + max(h, kw/h)
 *   inside     cations c e^x, anions c e^-x, protons h e^x
 *   balance    q(h e^x) / V + 2 c sinh x = 0
 *   charge     q(h) = Nb (s h/(h+Karg) + (1-s) h/(h+Klys)) - Na Kc/(h+Kc) - Ns Ks/(h+Ks)
 *   pressure   4 R T c sinh^2(x/2) = R T (c e^x + c e^-x - 2 c)
 *   potential  -(R T/F) x of the fibre against the bath
 *   swelling   pressure / K
 *
 *   h          protons of the bath, mol/m3: 1000 10^-pH; kw 1e-8 (mol/m3)^2 at 25 degC
 *   I          added 1:1 salt, mol/m3
 *   V          water in the fibre, m3 per kg dry fibre: regain over 997.05 kg/m3
 *   Na, Nb, s  groups of ionic.c and their constants K..
 *   Ns         cysteic acid, mol/kg, with pK 1 (gillece2021: about 2 or below)
 *   K          effective bulk stiffness of the wet fibre, Pa: assumed; set so that the volume
 *              grows by 3.5 % at pH 1 without salt (menkart1966, scan damaged)
 *
 * q rises with h and sinh x with x, so x + asinh(q / (2 c V)) = 0 has one root between the values
 * that all groups charged one way give; Newton's method inside that bracket, else bisection. The
 * net charge is the acid bound since the fibre was without charge. Source of the form: Donnan
 * equilibrium, as peters1949 applied it to wool.
 *
 * Left out: activity coefficients, ion exchange with divalent ions, water that does not dissolve
 * ions, the change of regain by the swelling itself, histidine and tyrosine by their own constants.
 * Below pH 2 hair takes up more acid after two hours (breuer1967), which is not in this law.
 */
#include <hairfibre/chemistry.h>

#include "donnan.h"
#include "ranges.h"

#include "../base/catalogue.h"
#include "../base/range.h"
#include "../base/strict.h"
#include "../keratin/constants.h"

#define FARADAY       96485.33212 /* C/mol, codata2018 */
#define TEMPERATURE   298.15      /* K: pK values and kw are those of 25 degC */
#define WATER_DENSITY 997.05      /* kg/m3 at 25 degC, iapws-sr1-86 */
#define WATER_PRODUCT 1e-8        /* (mol/m3)^2 at 25 degC */

double hfi_protons_of(double ph)
{
    return 1000 * pow(10, -ph);
}

double hfi_ph_of(double protons)
{
    return 3 - log10(protons);
}

double hfi_donnan_water(double regain)
{
    return regain / WATER_DENSITY;
}

hfi_ionic hfi_ionic_of(const double *values, double cysteic, double thiol)
{
    const double base = values[HFI_BOND_IONIC_BASE], share = values[HFI_BOND_IONIC_ARGININE_SHARE];
    return (hfi_ionic){
        .carboxyl = values[HFI_BOND_IONIC_CARBOXYL],
        .carboxyl_k = hfi_protons_of(values[HFI_BOND_IONIC_CARBOXYL_PK]),
        .arginine = base * share,
        .arginine_k = hfi_protons_of(values[HFI_BOND_IONIC_ARGININE_PK]),
        .lysine = base * (1 - share),
        .lysine_k = hfi_protons_of(values[HFI_BOND_IONIC_LYSINE_PK]),
        .sulfonic = cysteic,
        .sulfonic_k = hfi_protons_of(values[HFI_BOND_IONIC_SULFONIC_PK]),
        .thiol = thiol,
        .thiol_k = hfi_protons_of(values[HFI_BOND_IONIC_THIOL_PK]),
    };
}

/* Charge of an acid or, with a sign, of a basic group; adds its slope. */
static double acid(double amount, double k, double h, double *slope)
{
    const double share = k / (h + k);
    *slope += amount * share * (1 - share);
    return -amount * share;
}

static double base(double amount, double k, double h, double *slope)
{
    const double share = h / (h + k);
    *slope += amount * share * (1 - share);
    return amount * share;
}

double hfi_ionic_charge(const hfi_ionic *g, double h, double *slope)
{
    double sum = 0;
    double charge = base(g->arginine, g->arginine_k, h, &sum);
    charge += base(g->lysine, g->lysine_k, h, &sum);
    charge += acid(g->carboxyl, g->carboxyl_k, h, &sum);
    charge += acid(g->sulfonic, g->sulfonic_k, h, &sum);
    charge += acid(g->thiol, g->thiol_k, h, &sum);
    if (slope)
        *slope = sum;
    return charge;
}

hfi_donnan hfi_donnan_at(const hfi_ionic *g, double ph, double ionic_strength, double water,
                         double guess)
{
    const double h = hfi_protons_of(ph);
    const double ions = ionic_strength + fmax(h, WATER_PRODUCT / h);
    const double scale = 1 / (2 * ions * water);
    double low = -asinh((g->arginine + g->lysine) * scale);
    double high = asinh((g->carboxyl + g->sulfonic + g->thiol) * scale);
    double x = guess > low && guess < high ? guess : 0, inside = h, charge = 0, step = high - low,
           before = step;
    for (int i = 0; i < 100; i++) {
        double slope;
        inside = h * exp(x);
        charge = hfi_ionic_charge(g, inside, &slope);
        const double y = charge * scale;
        const double miss = x + asinh(y);
        if (miss > 0)
            high = x;
        else
            low = x;
        /* Newton's step where it stays inside and keeps shrinking, else the middle. */
        double next = x - miss / (1 + slope * scale / sqrt(1 + y * y));
        if (!(next > low && next < high) || fabs(next - x) > 0.5 * before)
            next = 0.5 * (low + high);
        before = step;
        step = fabs(next - x);
        x = next;
        if (step <= 1e-13 * (1 + fabs(x)))
            break;
    }
    return (hfi_donnan){x, inside, charge, ions};
}

double hfi_donnan_pressure(const hfi_donnan *balance)
{
    const double s = sinh(0.5 * balance->logarithm);
    return 4 * HFI_GAS_CONSTANT * TEMPERATURE * balance->ions * s * s;
}

/* Balance of the hair of a set. */
static hf_status solve(double ph, double ionic_strength, double regain, const hf_parameters *set,
                       unsigned flags, hfi_ionic *groups, hfi_donnan *balance)
{
    static const hfi_range ph_range = {HFI_BATH_PH};
    static const hfi_range salt_range = {HFI_BATH_SALT};
    static const hfi_range regain_range = {HFI_BATH_REGAIN};
    hf_status status = hfi_check(ph, &ph_range, flags);
    status = hfi_worse(status, hfi_check(ionic_strength, &salt_range, flags));
    status = hfi_worse(status, hfi_check(regain, &regain_range, flags));
    if (hf_failed(status))
        return status;
    const double *values = hfi_values(set);
    *groups = hfi_ionic_of(values, values[HFI_BOND_DISULFIDE_CYSTEIC], 0);
    *balance = hfi_donnan_at(groups, ph, ionic_strength, hfi_donnan_water(regain), 0);
    return status;
}

#define SOLVED(output)                                                                             \
    hfi_ionic groups;                                                                              \
    hfi_donnan balance;                                                                            \
    if (!(output))                                                                                 \
        return HF_EINVAL;                                                                          \
    const hf_status status = solve(ph, ionic_strength, regain, set, flags, &groups, &balance);     \
    if (hf_failed(status))                                                                         \
    return status

hf_status hf_internal_ph_e(double ph, double ionic_strength, double regain,
                           const hf_parameters *set, unsigned flags, double *inside)
{
    SOLVED(inside);
    *inside = ph - balance.logarithm / log(10);
    return status;
}

hf_status hf_donnan_potential_e(double ph, double ionic_strength, double regain,
                                const hf_parameters *set, unsigned flags, double *potential)
{
    SOLVED(potential);
    *potential = -HFI_GAS_CONSTANT * TEMPERATURE / FARADAY * balance.logarithm;
    return status;
}

hf_status hf_donnan_pressure_e(double ph, double ionic_strength, double regain,
                               const hf_parameters *set, unsigned flags, double *pressure)
{
    SOLVED(pressure);
    *pressure = hfi_donnan_pressure(&balance);
    return status;
}

hf_status hf_acid_bound_e(double ph, double ionic_strength, double regain, const hf_parameters *set,
                          unsigned flags, double *bound)
{
    SOLVED(bound);
    *bound = balance.charge;
    return status;
}

hf_status hf_acid_bound_v(size_t n, const double *ph, double ionic_strength, double regain,
                          const hf_parameters *set, unsigned flags, double *bound, size_t *bad)
{
    hf_status worst = !n || (ph && bound) ? HF_OK : HF_EINVAL;
    for (size_t i = 0; i < n && !hf_failed(worst); i++) {
        const hf_status status =
            hf_acid_bound_e(ph[i], ionic_strength, regain, set, flags, &bound[i]);
        worst = hfi_worse(worst, status);
        if (hf_failed(status) && bad)
            *bad = i;
    }
    return worst;
}

hf_status hf_salt_bridges_donnan_e(double ph, double ionic_strength, double regain,
                                   const hf_parameters *set, unsigned flags, double *bridges)
{
    SOLVED(bridges);
    double unused = 0;
    const double h = balance.protons;
    const double acids = groups.carboxyl + groups.sulfonic;
    const double bases = groups.arginine + groups.lysine;
    const double charged_acids = -acid(groups.carboxyl, groups.carboxyl_k, h, &unused) -
                                 acid(groups.sulfonic, groups.sulfonic_k, h, &unused);
    const double charged_bases = base(groups.arginine, groups.arginine_k, h, &unused) +
                                 base(groups.lysine, groups.lysine_k, h, &unused);
    *bridges = fmin(acids, bases) * (charged_acids / acids) * (charged_bases / bases);
    return status;
}

hf_status hf_ph_swelling_e(double ph, double ionic_strength, double regain,
                           const hf_parameters *set, unsigned flags, double *growth)
{
    SOLVED(growth);
    *growth = hfi_donnan_pressure(&balance) / hfi_values(set)[HFI_BOND_IONIC_STIFFNESS];
    return status;
}

hf_status hf_isoionic_point_e(const hf_parameters *set, unsigned flags, double *ph)
{
    (void)flags;
    if (!ph)
        return HF_EINVAL;
    const double *values = hfi_values(set);
    const hfi_ionic groups = hfi_ionic_of(values, values[HFI_BOND_DISULFIDE_CYSTEIC], 0);
    double low = 0, high = 14;
    if (hfi_ionic_charge(&groups, hfi_protons_of(low), NULL) < 0 ||
        hfi_ionic_charge(&groups, hfi_protons_of(high), NULL) > 0)
        return HF_ERANGE;
    while (high - low > 1e-13) {
        const double middle = 0.5 * (low + high);
        if (!(middle > low && middle < high))
            break;
        if (hfi_ionic_charge(&groups, hfi_protons_of(middle), NULL) > 0)
            low = middle;
        else
            high = middle;
    }
    *ph = 0.5 * (low + high);
    return HF_OK;
}

#define BATH_STRICT(name)                                                                          \
    HFI_STRICT(name, (double ph, double ionic_strength, double regain, const hf_parameters *set),  \
               ph, ionic_strength, regain, set)
BATH_STRICT(hf_internal_ph)
BATH_STRICT(hf_donnan_potential)
BATH_STRICT(hf_donnan_pressure)
BATH_STRICT(hf_acid_bound)
BATH_STRICT(hf_salt_bridges_donnan)
BATH_STRICT(hf_ph_swelling)
HFI_STRICT(hf_isoionic_point, (const hf_parameters *set), set)
