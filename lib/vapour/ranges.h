/* Ranges of the room: domain, then what evidence supports. */
#ifndef HFI_VAPOUR_RANGES_H
#define HFI_VAPOUR_RANGES_H

#include <math.h>

/* From the triple point of water; above 150 degC no isotherm was read (wiegerink1940 ends at 149).
 */
#define HFI_VAPOUR_TEMPERATURE 273.16, 523.15, 273.16, 423.15
/* The upper end depends on the temperature: see pressure.c. */
#define HFI_VAPOUR_REGAIN  0, (double)INFINITY, 0, (double)INFINITY
#define HFI_VAPOUR_AMBIENT 0, 1e8, 0, 1e8
/* From the triple point to the saturation pressure at the upper temperature. */
#define HFI_VAPOUR_BOILING 612, 3.975e6, 612, 3.975e6

#endif
