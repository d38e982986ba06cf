/* Ionic groups and Donnan equilibrium without checks. Amounts in mol per kg dry fibre. */
#ifndef HFI_DONNAN_H
#define HFI_DONNAN_H

/* Groups with their dissociation constants in mol/m3. */
typedef struct hfi_ionic {
    double carboxyl, carboxyl_k;
    double arginine, arginine_k;
    double lysine, lysine_k;
    double sulfonic, sulfonic_k; /* cysteic acid */
    double thiol, thiol_k;
} hfi_ionic;

/* Groups of a set with these contents of cysteic acid and thiol. `values` from hfi_values(). */
hfi_ionic hfi_ionic_of(const double *values, double cysteic, double thiol);

/* Net charge of the groups at a proton concentration (mol/m3), and its derivative by the logarithm
 * of that concentration (may be NULL). */
double hfi_ionic_charge(const hfi_ionic *groups, double protons, double *slope);

typedef struct hfi_donnan {
    double logarithm; /* of protons inside over outside */
    double protons;   /* inside, mol/m3 */
    double charge;    /* of the groups, mol/kg */
    double ions;      /* cations (= anions) of the bath, mol/m3 */
} hfi_donnan;

/* Balance with a bath; `water` m3 per kg dry fibre, above 0. The search starts at `guess`, a
 * logarithm as above; 0 when there is none. */
hfi_donnan hfi_donnan_at(const hfi_ionic *groups, double ph, double ionic_strength, double water,
                         double guess);

double hfi_donnan_pressure(const hfi_donnan *balance); /* Pa */

/* Water that a regain stands for, m3 per kg dry fibre. */
double hfi_donnan_water(double regain);

/* Proton concentration (mol/m3) of a pH, and back. */
double hfi_protons_of(double ph);
double hfi_ph_of(double protons);

#endif
