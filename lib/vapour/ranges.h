/* Ranges of the room: domain, then what evidence supports. */
#ifndef HFI_VAPOUR_RANGES_H
#define HFI_VAPOUR_RANGES_H

#include <math.h>

/* From the triple point of water; above 150 degC no isotherm was read (wiegerink1940 ends at 149).
 */
#define HFI_VAPOUR_TEMPERATURE 273.16, 523.15, 283.15, 423.15
/* The upper end depends on the temperature: see pressure.c. */
#define HFI_VAPOUR_REGAIN  0, (double)INFINITY, 0, (double)INFINITY
#define HFI_VAPOUR_AMBIENT 0, 1e8, 0, 1e8
/* From the triple point to the saturation pressure at the upper temperature. */
#define HFI_VAPOUR_BOILING 612, 3.975e6, 612, 3.975e6

/* Voids: overpressure, radius of the void, temperature of the two bounds and of the calibrated law. */
#define HFI_VOID_PRESSURE    -2e5, 1e7, -2e5, 1e7
#define HFI_VOID_RADIUS      1e-8, 1e-4, 1e-8, 1e-4
#define HFI_VOID_TEMPERATURE 273.16, 523.15, 273.16, 523.15
#define HFI_VOID_HOT         373.15, 523.15, 423.15, 493.15
#define HFI_VOID_REGAIN      0, 0.5, 0, 0.5

#endif
