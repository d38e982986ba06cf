/*
 * Ranges of the arguments: domain_low, domain_high, valid_low, valid_high (base/range.h).
 *
 * MODULUS_*     Two anchors, room humidity and wet, and readings at 50 to 65 % humidity
 *               (textbook-appb, robbins-moduli-secondary); drier is the straight law carried on.
 * TORSION       Ends read at dryness and in water (feughelman1982), and an axis between.
 * YIELD         The linear law was shown from 5 to 90 % humidity (yieldlaw1962) and is anchored
 * wet. BREAK         Break stress stays within 10 to 20 % from 20 to 90 % humidity (evans-fatigue).
 * CURVE         Break strain is known at room humidity and wet only.
 * AREA          Strands 11 to 200 um thick; a human hair has 15 to 120 um.
 * DISULFIDE     45 % is the largest loss by bleaching that was read (edman1961, in gillece2021).
 * FATIGUE_*     Edges of the cells of the table (evans-fatigue, Table 9); run-out at 3e5 cycles.
 * LAYERS        5 to 10 layers, sources differ (textbook-ch1, wolfram2003).
 * MISMATCH      Beyond 2 % keratin yields and no elastic formula holds.
 */
#ifndef HFI_STRENGTH_RANGES_H
#define HFI_STRENGTH_RANGES_H

#include <math.h>

#define HFI_ROOM_TEMPERATURE 293.15 /* K, of every test in this room */

#define HFI_MODULUS_REGAIN   0, 1, 0.09, 0.40
#define HFI_MODULUS_HUMIDITY 0, 1, 0.50, 1
#define HFI_TORSION_HUMIDITY 0, 1, 0, 1
#define HFI_YIELD_HUMIDITY   0, 1, 0.05, 1
#define HFI_BREAK_HUMIDITY   0, 1, 0.20, 1
#define HFI_CURVE_HUMIDITY   0, 1, 0.60, 1
#define HFI_STRAIN           0, 1.5, 0, 1.5
#define HFI_STRESS           0, 1e9, 0, 1e9
#define HFI_AREA             1e-12, 1e-6, 1e-10, 3e-8
#define HFI_FORCE            0, 1e3, 0, 1e3
#define HFI_DISULFIDE_LOST   0, 1, 0, 0.45

#define HFI_VARIATION       0.005, 2, 0.005, 2
#define HFI_WEIBULL_MODULUS 0.5, 300, 0.5, 300
#define HFI_STRANDS         1, 1e6, 1, 1e6
#define HFI_COUNTED_STRANDS 1, 1e4, 1, 1e4
#define HFI_COUNTED_BROKEN  0, 1e4, 0, 1e4
#define HFI_PROBABILITY     0, 1, 0, 1

#define HFI_FATIGUE_STRESS   1e6, 2.5e8, 5.88e7, 1.668e8
#define HFI_FATIGUE_HUMIDITY 0, 1, 0.20, 0.90
#define HFI_FATIGUE_CYCLES   0, (double)INFINITY, 0, 3e5
#define HFI_FATIGUE_USED     0, (double)INFINITY, 0, (double)INFINITY
#define HFI_ANY_CYCLES       0, (double)INFINITY, 0, (double)INFINITY
#define HFI_ANY_LIFE         1e-6, 1e100, 1e-6, 1e100
#define HFI_ANY_SHAPE        0.05, 100, 0.05, 100

#define HFI_LAYERS           0, 30, 5, 10
#define HFI_LAYER_THICKNESS  1e-10, 1, 1e-10, 1
#define HFI_SHEATH_THICKNESS 0, 1e-4, 0, 1e-5
#define HFI_ROUND_DIAMETER   1e-6, 1e-3, 1.1e-5, 2e-4
#define HFI_LAYER_MODULUS    1, 1e13, 1, 1e13
#define HFI_MISMATCH         -0.5, 0.5, -0.02, 0.02
#define HFI_CUTICLE_REGAIN   0, 1, 0, 0.40

#define HFI_TWO_CHOICES   0, 1, 0, 1
#define HFI_THREE_CHOICES 0, 2, 0, 2
#define HFI_FOUR_CHOICES  0, 3, 0, 3
#define HFI_EIGHT_CHOICES 0, 7, 0, 7

#endif
