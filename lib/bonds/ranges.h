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
/* hf_hydrogen_bonds_open_e: the isotherm's. */
#define HFI_HYDROGEN_TEMPERATURE 273.15, 523.15, 273.15, 423.15
/* Titrations of wool and hair; below pH 2 a second uptake starts. */
#define HFI_BOND_ACIDITY    0, 14, 2, 10
#define HFI_CYSTEIC_CONTENT 0, 1.5, 0, 0.65
/* Measured at 23 degC and 1 mol/l; neighbours by judgement. */
#define HFI_THIOL_TEMPERATURE       273.15, 373.15, 291.15, 303.15
#define HFI_THIOL_CONCENTRATION     0, 3000, 400, 1200
#define HFI_THIOL_DURATION          0, (double)INFINITY, 0, 600
#define HFI_REOXIDATION_DURATION    0, (double)INFINITY, 0, 900
#define HFI_LANTHIONINE_TEMPERATURE 273.15, 423.15, 293.15, 373.15
#define HFI_BLEACH_TREATMENTS       0, 20, 0, 3
#define HFI_BLEACH_LOSS             0, 0.45, 0, 0.45

#endif
