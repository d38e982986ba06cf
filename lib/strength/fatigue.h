/* Fatigue without range checks; fatigue.c has the equations. */
#ifndef HFI_FATIGUE_H
#define HFI_FATIGUE_H

/* Stresses between which lives were measured, Pa, in a straight line between the humidities. */
double hfi_fatigue_lowest(double humidity);
double hfi_fatigue_highest(double humidity);

#endif
