/* Ranges of the room: domain, then what evidence supports. */
#ifndef HFI_BONDS_RANGES_H
#define HFI_BONDS_RANGES_H

#include <math.h>

/* Wet helix law: calorimetric peaks at 135-158 degC; widened to 122-175 degC, between which counts
 * of ironing cycles (dussaud2013) agree with it. */
#define HFI_HELIX_WET_TEMPERATURE 173.15, 623.15, 395.15, 448.15
/* One temperature was measured, 200 degC. */
#define HFI_HELIX_IRONING_TEMPERATURE 173.15, 623.15, 463.15, 483.15
/* Around the dry calorimetric peaks, 215-237 degC. */
#define HFI_HELIX_DRY_TEMPERATURE 173.15, 623.15, 483.15, 513.15
/* From the wet law's low end to the ironing law's high end; helix.c checks each law's own. */
#define HFI_HELIX_TEMPERATURE 173.15, 623.15, 395.15, 483.15
/* Irons at 130-164 degC. */
#define HFI_TRYPTOPHAN_TEMPERATURE 173.15, 623.15, 403.15, 437.15
#define HFI_BOND_REGAIN            0, 1, 0, 1
#define HFI_BOND_DURATION          0, (double)INFINITY, 0, (double)INFINITY
/* The longest times of the measurements: 800 s in an iron, 15 min in curling irons. */
#define HFI_TRYPTOPHAN_DURATION 0, (double)INFINITY, 0, 900
/* Titrations of wool and hair; below pH 2 a second uptake starts. */
#define HFI_BOND_PH         0, 14, 2, 10
#define HFI_CYSTEIC_CONTENT 0, 1.5, 0, 0.65
/* Measured at 23 degC and 1 mol/l; neighbours by judgement. */
#define HFI_THIOL_TEMPERATURE       273.15, 373.15, 291.15, 303.15
#define HFI_THIOL_CONCENTRATION     0, 3000, 400, 1200
#define HFI_THIOL_DURATION          0, (double)INFINITY, 0, 600
#define HFI_REOXIDATION_DURATION    0, (double)INFINITY, 0, 900
#define HFI_LANTHIONINE_TEMPERATURE 273.15, 423.15, 293.15, 373.15
#define HFI_BLEACH_TREATMENTS       0, 20, 0, 3
#define HFI_BLEACH_LOSS             0, 0.45, 0, 0.45

/* Donnan equilibrium: titrations of wool and hair reach about this far; salt beyond 1 mol/l wants
 * activity coefficients, 5 mol/l is near the solubility of common salt. Regain of wet fibres. */
#define HFI_BATH_PH     0, 14, 1, 12
#define HFI_BATH_SALT   0, 5000, 0, 1000
#define HFI_BATH_REGAIN 0.01, 1, 0.2, 0.6
/* Above this pH cystine turns into lanthionine fast enough to matter; no rate is known. */
#define HFI_ALKALI_FROM 10.5

/* Reduction at pH 8.6 and 9.4 was read; 420 mol/m3 is where a front was seen. */
#define HFI_THIOL_PH            7, 12, 8.5, 9.5
#define HFI_FRONT_CONCENTRATION 0, 3000, 300, 1000
#define HFI_FRONT_DURATION      0, (double)INFINITY, 0, 3600
#define HFI_WET_DIAMETER        2e-5, 2.5e-4, 4e-5, 1.5e-4
#define HFI_REDUCED_UNIFORM     0, 0.999, 0, 0.999
#define HFI_REDUCED_FRONT       0, 1, 0, 1

/* Bleach: a bath at 32 degC was read, and 12 % is the most in hair products (eu2019-831); pH 9 to 11
 * (robbins1971); 0.45 is the largest loss read. */
#define HFI_OXIDATION_TEMPERATURE 273.15, 333.15, 293.15, 313.15
#define HFI_OXIDATION_PEROXIDE    0, 0.35, 0.03, 0.12
#define HFI_OXIDATION_PH          8, 12, 9, 11
#define HFI_OXIDATION_SHARE       0, 1, 0, 0.45

/* Calorimetry of bleached hair: the longest time, the highest number and the peaks in print. */
#define HFI_CALORIMETRY_DURATION 0, 14400, 0, 14400
#define HFI_CALORIMETRY_NUMBER   0, 20, 0, 3
#define HFI_CALORIMETRY_PEAK     383.15, 443.15, 418.15, 431.65

/* Water set was read from half an hour to eight hours. */
#define HFI_SET_DURATION 0, (double)INFINITY, 1800, 28800
/* Where the glass transition law has a meaning for softening. */
#define HFI_SOFTENING_TEMPERATURE 250, 523.15, 273.15, 423.15
#define HFI_SOFTENING_REGAIN      0, 1, 0, 0.40
/* A choice between two laws. */
#define HFI_LAW 0, 1, 0, 1

#endif
