/* Fatigue without range checks; fatigue.c has the equations. */
#ifndef HFI_FATIGUE_H
#define HFI_FATIGUE_H

/* Stresses between which lives were measured, Pa, in a straight line between the humidities. */
double hfi_fatigue_lowest(double humidity);
double hfi_fatigue_highest(double humidity);

/* True where lives were measured: the humidity, and the stress (Pa) at that humidity. */
int hfi_fatigue_measured(double stress, double humidity);

/* Characteristic life, cycles. */
double hfi_fatigue_life(const double *values, double stress, double humidity);

#endif
